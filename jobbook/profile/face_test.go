package profile_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/length"
	. "balustrade/jobbook/profile"
)

func TestFace(t *testing.T) {
	mm := length.Millimetre
	p := Profile{[]Station{square(0, 40*mm), square(100*mm, 40*mm), round(100*mm, 25*mm), round(300*mm, 30*mm)}}
	board := Wall(Point{Out: 15, Z: 0}, Point{Out: 15, Z: 120}, Point{Out: 0, Z: 120}, Point{Out: 0, Z: 920})
	for _, c := range []struct {
		name string
		got  Face
		want []Point
	}{
		{"half widths from the axis", p.Face(0), []Point{{20, 0}, {20, 100}, {12.5, 100}, {15, 300}}},
		{"from the foot's face", p.Face(-20 * mm), []Point{{0, 0}, {0, 100}, {-7.5, 100}, {-5, 300}}},
		{"lifted", p.Face(0).Lift(7), []Point{{20, 7}, {20, 107}, {12.5, 107}, {15, 307}}},
		{"moved by one reading", board.Lean(Point{Out: 2, Z: 0}), []Point{{17, 0}, {17, 120}, {2, 120}, {2, 920}}},
		{"no reading", board.Lean(), board.Points},
		// 8 over 800 from 120 up: nothing below, all of it at the top
		{"out of plumb above the board", board.Lean(Point{Out: 0, Z: 120}, Point{Out: 8, Z: 920}), []Point{{15, 0}, {15, 120}, {0, 120}, {8, 920}}},
		// readings at 20 and 520: 0 and 5 in towards the opening; a point comes in at each, and the rest stays as at the nearest
		{"bellied", board.Lean(Point{Out: 0, Z: 20}, Point{Out: 5, Z: 520}), []Point{{15, 0}, {15, 20}, {16, 120}, {1, 120}, {5, 520}, {5, 920}}},
		{"nothing leans to nothing", Face{}.Lean(Point{Out: 1, Z: 1}), nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, c.got.Points); diff != "" {
				t.Error(diff)
			}
		})
	}
	t.Run("the face given is left alone", func(t *testing.T) {
		before := append([]Point(nil), board.Points...)
		board.Lift(1)
		board.Lean(Point{Out: 3, Z: 0}, Point{Out: 4, Z: 100})
		if diff := cmp.Diff(before, board.Points); diff != "" {
			t.Error(diff)
		}
	})
}
