package profile_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"balustrade/jobbook/length"
	. "balustrade/jobbook/profile"
)

// in is a length in sixteenths of an inch, for tables: in(1, 4) is 1 4/16.
func in(whole, sixteenths int) length.Length {
	return length.Inch*length.Length(whole) + length.Inch/16*length.Length(sixteenths)
}

func square(at, width length.Length) Station { return Station{At: at, Width: width} }
func round(at, width length.Length) Station  { return Station{At: at, Width: width, Round: true} }

// turned is a baluster with a 7 in block, a turning from 1 1/8 to 3/4, a step to a 1 in pin; 36 in as bought.
var turned = Profile{[]Station{
	square(0, in(1, 4)), square(in(7, 0), in(1, 4)),
	round(in(7, 0), in(1, 2)), round(in(12, 0), in(0, 12)), round(in(30, 0), in(0, 12)),
	square(in(30, 0), in(1, 0)), square(in(36, 0), in(1, 0)),
}}

func TestCheck(t *testing.T) {
	mm := length.Millimetre
	for _, c := range []struct {
		name  string
		p     Profile
		index int
	}{
		{"a turned baluster", turned, -1},
		{"a plain square", Square(in(1, 4), in(36, 0)), -1},
		{"nothing", Profile{}, 0},
		{"one station", Profile{[]Station{square(0, mm)}}, 0},
		{"not from the bottom", Profile{[]Station{square(mm, mm), square(2*mm, mm)}}, 0},
		{"no width", Profile{[]Station{square(0, mm), square(mm, 0), square(2*mm, mm)}}, 1},
		{"negative width", Profile{[]Station{square(0, -mm), square(mm, mm)}}, 0},
		{"going down", Profile{[]Station{square(0, mm), square(3*mm, mm), square(2*mm, mm)}}, 2},
		{"three at one height", Profile{[]Station{square(0, mm), square(mm, mm), square(mm, 2*mm), square(mm, mm), square(2*mm, mm)}}, 3},
		{"three at the bottom", Profile{[]Station{square(0, mm), square(0, 2*mm), square(0, mm), square(mm, mm)}}, 2},
		{"no length", Profile{[]Station{square(0, mm), square(0, 2*mm)}}, 1},
		{"square into round without a step", Profile{[]Station{square(0, mm), round(mm, mm)}}, -1},
	} {
		t.Run(c.name, func(t *testing.T) {
			index, why := c.p.Check()
			if index != c.index || (why == "") != (index == -1) {
				t.Errorf("got %d %q, want index %d", index, why, c.index)
			}
		})
	}
}

func TestWidthAt(t *testing.T) {
	for _, c := range []struct {
		name         string
		z            length.Length
		below, above length.Length
	}{
		{"below the bottom", -1, 0, 0},
		{"bottom", 0, in(1, 4), in(1, 4)},
		{"in the block", in(3, 0), in(1, 4), in(1, 4)},
		{"at the shoulder", in(7, 0), in(1, 4), in(1, 2)},
		// 2 of 5 in up, from 18/16 by −6/16: 18/16 − 2.4/16 = 0.975 in = 24.765 mm
		{"in the taper", in(9, 0), 24_765_000, 24_765_000},
		{"at the pin's step", in(30, 0), in(0, 12), in(1, 0)},
		{"top", in(36, 0), in(1, 0), in(1, 0)},
		{"over the top", in(36, 0) + 1, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			below, above := turned.WidthAt(c.z)
			if below != c.below || above != c.above {
				t.Errorf("got %v %v, want %v %v", below, above, c.below, c.above)
			}
		})
	}
	t.Run("rounded to the nearest nanometre", func(t *testing.T) {
		// a third and two thirds of the way from 10 to 11 nm
		p := Profile{[]Station{square(0, 10), square(3, 11)}}
		one, _ := p.WidthAt(1)
		two, _ := p.WidthAt(2)
		if one != 10 || two != 11 {
			t.Errorf("got %d %d nm, want 10 11", one, two)
		}
	})
}

func TestWidestAndNarrowest(t *testing.T) {
	for _, c := range []struct {
		name            string
		from, to        length.Length
		widest, narrows length.Length
	}{
		{"whole", 0, in(36, 0), in(1, 4), in(0, 12)},
		{"either way round", in(36, 0), 0, in(1, 4), in(0, 12)},
		{"turning between its shoulders", in(7, 0), in(30, 0), in(1, 2), in(0, 12)},
		{"exactly at a step", in(7, 0), in(7, 0), in(1, 4), in(1, 2)},
		{"within the taper", in(9, 0), in(12, 0), 24_765_000, in(0, 12)}, // 24.765: worked in TestWidthAt
		{"past the top", in(31, 0), in(99, 0), in(1, 0), in(1, 0)},
		{"nothing there", in(40, 0), in(41, 0), 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := turned.Widest(c.from, c.to); got != c.widest {
				t.Errorf("widest: got %v, want %v", got, c.widest)
			}
			if got := turned.Narrowest(c.from, c.to); got != c.narrows {
				t.Errorf("narrowest: got %v, want %v", got, c.narrows)
			}
		})
	}
}

func TestCut(t *testing.T) {
	for _, c := range []struct {
		name        string
		bottom, top length.Length
		want        []Station
	}{
		{"nothing off", 0, 0, turned.Stations},
		{"a negative cut is none", -5, -5, turned.Stations},
		{"through the taper and the pin", in(9, 0), in(2, 0), []Station{
			round(0, 24_765_000), round(in(3, 0), in(0, 12)), round(in(21, 0), in(0, 12)),
			square(in(21, 0), in(1, 0)), square(in(25, 0), in(1, 0)),
		}},
		{"at the steps", in(7, 0), in(6, 0), []Station{
			round(0, in(1, 2)), round(in(5, 0), in(0, 12)), round(in(23, 0), in(0, 12)),
		}},
		{"everything off", in(20, 0), in(16, 0), nil},
		{"more than there is", in(99, 0), in(99, 0), nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, turned.Cut(c.bottom, c.top).Stations); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestEndBlocks(t *testing.T) {
	for _, c := range []struct {
		name        string
		p           Profile
		bottom, top length.Length
	}{
		{"turned", turned, in(7, 0), in(6, 0)},
		{"plain square is one block", Square(in(1, 4), in(36, 0)), in(36, 0), in(36, 0)},
		{"a round stick is one block", Profile{[]Station{round(0, in(1, 0)), round(in(36, 0), in(1, 0))}}, in(36, 0), in(36, 0)},
		{"a pin at the foot", Profile{[]Station{round(0, in(1, 0)), round(in(1, 0), in(1, 0)), square(in(1, 0), in(2, 0)), square(in(9, 0), in(2, 0))}}, in(1, 0), in(8, 0)},
		{"tapering from the ends", Profile{[]Station{square(0, in(2, 0)), square(in(5, 0), in(1, 0)), square(in(9, 0), in(2, 0))}}, 0, 0},
		{"a station within the block", Profile{[]Station{square(0, in(2, 0)), square(in(2, 0), in(2, 0)), square(in(5, 0), in(2, 0)), square(in(9, 0), in(1, 0))}}, in(5, 0), 0},
		{"nothing", Profile{}, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			bottom, top := c.p.EndBlocks()
			if bottom != c.bottom || top != c.top {
				t.Errorf("got %v %v, want %v %v", bottom, top, c.bottom, c.top)
			}
		})
	}
}

// TestCutKeepsWidths: a height of what is left has the width it had on the whole.
func TestCutKeepsWidths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawProfile(t, "profile")
		if i, why := p.Check(); i != -1 {
			t.Fatalf("drew a profile that does not check: %d %s", i, why)
		}
		long := int64(p.Long())
		bottom := length.Length(rapid.Int64Range(0, long-1).Draw(t, "bottom"))
		top := length.Length(rapid.Int64Range(0, long-1-int64(bottom)).Draw(t, "top"))
		q := p.Cut(bottom, top)
		if q.Long() != p.Long()-bottom-top {
			t.Fatalf("%v long, want %v", q.Long(), p.Long()-bottom-top)
		}
		if i, why := q.Check(); i != -1 {
			t.Fatalf("what is left does not check: %d %s", i, why)
		}
		z := length.Length(rapid.Int64Range(0, int64(q.Long())).Draw(t, "z"))
		_, got := q.WidthAt(z)
		below, above := p.WidthAt(z + bottom)
		if z == q.Long() {
			got, _ = q.WidthAt(z)
			above = below
		}
		// each cut rounds a width once, by half a nanometre, and the width between again
		if d := got - above; d < -2 || d > 2 {
			t.Fatalf("%v wide at %v, was %v", got, z, above)
		}
	})
}

// drawProfile makes a small profile that checks: 2 to 7 parts, each 1 to 20 mm long and 4 to 40 mm wide, some round.
func drawProfile(t *rapid.T, label string) Profile {
	var p Profile
	var at length.Length
	width := rapid.Custom(func(t *rapid.T) length.Length {
		return length.Length(rapid.IntRange(8, 80).Draw(t, "half mm")) * length.Millimetre / 2
	})
	isRound := rapid.Bool().Draw(t, label+" round")
	p.Stations = append(p.Stations, Station{At: 0, Width: width.Draw(t, label+" foot"), Round: isRound})
	for range rapid.IntRange(2, 7).Draw(t, label+" parts") {
		at += length.Length(rapid.IntRange(2, 40).Draw(t, label+" half mm")) * length.Millimetre / 2
		last := p.Stations[len(p.Stations)-1].Width
		if !rapid.Bool().Draw(t, label+" straight") {
			last = width.Draw(t, label+" width")
		}
		p.Stations = append(p.Stations, Station{At: at, Width: last, Round: isRound})
		if rapid.Bool().Draw(t, label+" step") {
			isRound = rapid.Bool().Draw(t, label+" round")
			p.Stations = append(p.Stations, Station{At: at, Width: width.Draw(t, label+" step width"), Round: isRound})
		}
	}
	at += length.Millimetre
	p.Stations = append(p.Stations, Station{At: at, Width: p.Stations[len(p.Stations)-1].Width, Round: isRound})
	return p
}
