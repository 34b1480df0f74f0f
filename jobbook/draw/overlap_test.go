package draw_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// overlaps are the texts that lie on another text, on a line, on the ball, or over the edge of the sheet.
func overlaps(d drawn) []string {
	var found []string
	for i, a := range d.texts {
		say := func(format string, v ...any) {
			found = append(found, fmt.Sprintf("%q at %.1f %.1f to %.1f %.1f: ", a.text, a.x1, a.y1, a.x2, a.y2)+fmt.Sprintf(format, v...))
		}
		if a.x1 < 0 || a.y1 < 0 || a.x2 > d.width || a.y2 > d.height {
			say("over the edge of %.0f by %.0f", d.width, d.height)
		}
		for _, b := range d.texts[i+1:] {
			if a.x1 < b.x2 && b.x1 < a.x2 && a.y1 < b.y2 && b.y1 < a.y2 {
				say("on %q", b.text)
			}
		}
		for _, l := range d.lines {
			if crosses(a, l) {
				say("on a line of %s, %.1f %.1f to %.1f %.1f", l.class, l.x1, l.y1, l.x2, l.y2)
			}
		}
		for _, c := range d.circles {
			near := math.Hypot(c.x-min(max(c.x, a.x1), a.x2), c.y-min(max(c.y, a.y1), a.y2))
			if near < c.r+1 {
				say("on the ball")
			}
		}
	}
	return found
}

// crosses reports whether a segment enters a box: clipped to it by Liang and Barsky's way, something is left.
func crosses(a words, l segment) bool {
	t0, t1 := 0.0, 1.0
	dx, dy := l.x2-l.x1, l.y2-l.y1
	for _, e := range [][2]float64{{-dx, l.x1 - a.x1}, {dx, a.x2 - l.x1}, {-dy, l.y1 - a.y1}, {dy, a.y2 - l.y1}} {
		p, q := e[0], e[1]
		switch {
		case p == 0 && q < 0:
			return false
		case p < 0:
			t0 = max(t0, q/p)
		case p > 0:
			t1 = min(t1, q/p)
		}
	}
	return t0 < t1 || t0 == t1 && dx == 0 && dy == 0
}

// TestOverlapIsSeen: the test below would see a text on a line, on a text and over the edge.
func TestOverlapIsSeen(t *testing.T) {
	box := words{"12", 10, 10, 30, 20}
	for _, c := range []struct {
		name string
		d    drawn
		want int
	}{
		{"alone", drawn{width: 100, height: 100, texts: []words{box}}, 0},
		{"line through", drawn{width: 100, height: 100, texts: []words{box}, lines: []segment{{"d-dim", 0, 0, 40, 30}}}, 1},
		{"line past a corner", drawn{width: 100, height: 100, texts: []words{box}, lines: []segment{{"d-dim", 0, 12, 12, 0}}}, 0},
		{"line within", drawn{width: 100, height: 100, texts: []words{box}, lines: []segment{{"d-dim", 15, 15, 20, 15}}}, 1},
		{"two texts", drawn{width: 100, height: 100, texts: []words{box, {"3", 29, 19, 35, 25}}}, 1},
		{"over the edge", drawn{width: 29, height: 100, texts: []words{box}}, 1},
		{"ball", drawn{width: 100, height: 100, texts: []words{box}, circles: []circle{{20, 26, 7}}}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := overlaps(c.d); len(got) != c.want {
				t.Errorf("got %d, want %d: %q", len(got), c.want, got)
			}
		})
	}
}

func checkSheet(t *testing.T, what, svg string) {
	t.Helper()
	for i, o := range overlaps(ofSVG(t, svg)) {
		if i < 3 { // the first few tell
			t.Errorf("%s: %s", what, o)
		}
	}
}

func checkAll(t *testing.T, what string, r *layout.Run, style length.Style, widths ...int) {
	t.Helper()
	for _, w := range widths {
		for i, svg := range draw.Panels(r, style, w) {
			checkSheet(t, fmt.Sprintf("%s panel %d at %d", what, i, w), svg)
		}
	}
}

// TestNoOverlap goes through every count from 1 to 200, at usual and unusual spacings, on a phone and a desk.
func TestNoOverlap(t *testing.T) {
	mm := length.Millimetre
	for _, c := range []struct {
		name  string
		style length.Style
		pitch length.Length
		shape profile.Profile
	}{
		{"inches", inches, in(4, 13), turned()},
		{"inches, wide apart", inches, in(11, 5), turned()},
		{"inches, close", inches, in(1, 15), turned()},
		{"feet", length.Style{System: length.Inches, Division: length.Inch / 32, Rounding: length.Nearest, Feet: true}, in(4, 13), turned()},
		{"millimetres", metric, 121 * mm, profile.Square(32*mm, 1000*mm)},
	} {
		t.Run(c.name, func(t *testing.T) {
			for n := 1; n <= 200; n++ {
				if n > 20 && n%7 != 3 && c.name != "inches" {
					continue // the first style goes through every count, the others through a part
				}
				r := run(c.style, c.pitch*length.Length(n+1)+in(0, 3), n, c.shape)
				widths := []int{draw.Phone}
				if n <= 20 || n%7 == 3 {
					widths = append(widths, 960)
				}
				checkAll(t, fmt.Sprintf("%d balusters", n), r, c.style, widths...)
			}
		})
	}
	for _, r := range []struct {
		name  string
		run   *layout.Run
		style length.Style
	}{
		{"landing", landing(), inches}, {"bay", bay(), metric}, {"begun", begun(), inches}, {"opening", opening(), inches}, {"pale", pale(), inches},
		{"nothing", &layout.Run{}, inches},
	} {
		t.Run(r.name, func(t *testing.T) { checkAll(t, r.name, r.run, r.style, 240, draw.Phone, 600, 1000, 2000) })
	}
	for _, inchesLong := range []length.Length{1, 2, 5, 9, 20, 40, 400, 3900} {
		t.Run(fmt.Sprintf("one baluster in %d", inchesLong), func(t *testing.T) {
			checkAll(t, "", run(inches, in(inchesLong, 1), 1, profile.Square(in(0, 8), in(36, 0))), inches, draw.Phone, 960)
		})
	}
}

func TestPartsDoNotOverlap(t *testing.T) {
	many := func(n int, apart length.Length) profile.Profile {
		var p profile.Profile
		for i := range n {
			p.Stations = append(p.Stations, station(length.Length(i)*apart, in(1, length.Length(i%7)), true))
		}
		return p
	}
	for name, p := range map[string]profile.Profile{
		"baluster": turned(), "newel": newel(), "square": profile.Square(in(1, 4), in(36, 0)), "stub": profile.Square(in(3, 8), in(0, 1)),
		"30 close": many(30, in(0, 2)), "60": many(60, in(0, 10)), "300": many(300, in(0, 3)), "none": {},
	} {
		t.Run(name, func(t *testing.T) {
			checkSheet(t, name, draw.ProfileFigure(p, "A part with a long name that has to be broken into lines to stand under it", inches))
			checkSheet(t, name, draw.ProfileFigure(p, "", metric))
		})
	}
}

// TestAnyRunDoesNotOverlap: the same for runs of any length, spacing, name and ends, at any width.
func TestAnyRunDoesNotOverlap(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(0, 60).Draw(r, "n")
		clear := in(length.Length(rapid.Int64Range(int64(2*n)+2, 700).Draw(r, "clear")), length.Length(rapid.Int64Range(0, 15).Draw(r, "sixteenths")))
		x := run(inches, clear, n, profile.Square(in(1, length.Length(rapid.Int64Range(0, 12).Draw(r, "wide"))), in(36, 0)))
		x.From.Name = rapid.StringMatching(`[a-z 0-9]{0,40}`).Draw(r, "from")
		x.To.Name = rapid.StringMatching(`[A-Za-z]{0,40}`).Draw(r, "to")
		x.Title = rapid.StringMatching(`[A-Za-z ]{0,90}`).Draw(r, "title")
		if rapid.Bool().Draw(r, "swap") {
			x.From.Wall, x.From.Newel, x.From.Face = false, x.To.Newel, x.To.Face
		}
		x.To.Known = rapid.Bool().Draw(r, "known")
		if rapid.Bool().Draw(r, "finished") {
			x.Levels.Finished = in(36, 13)
		}
		if rapid.IntRange(0, 4).Draw(r, "levels") == 0 {
			x.Levels = layout.Levels{}
		}
		if n > 3 && rapid.Bool().Draw(r, "uneven") { // marks that stand off their places
			x.Marks[1].At += in(0, 9)
			x.Marks[2].At -= in(0, 5)
		}
		width := rapid.IntRange(240, 1400).Draw(r, "width")
		for i, svg := range draw.Panels(x, inches, width) {
			for _, o := range overlaps(ofSVG(t, svg)) {
				r.Fatalf("drawing %d: %s", i, o)
			}
		}
	})
}
