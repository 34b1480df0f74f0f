package draw_test

import (
	"math"
	"strings"
	"testing"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// near are two coordinates that print two decimals apart at most.
func near(a, b float64) bool { return math.Abs(a-b) <= 0.02 }

// foot finds the dimension line of the clear at the foot: the lowest level one in the drawing.
func foot(t *testing.T, d drawn) segment {
	t.Helper()
	var lowest segment
	for _, l := range d.lines {
		if l.class == "d-dim" && l.y1 == l.y2 && l.y1 > lowest.y1 && l.x2-l.x1 > 1 {
			lowest = l
		}
	}
	if lowest.x2 == lowest.x1 {
		t.Fatal("no dimension at the foot")
	}
	return lowest
}

// four is 20 in between plain walls with three plain 2 in squares, centres at 4, 10 and 16: by hand, gaps of 3, 4, 4 and 3.
func four() *layout.Run {
	r := run(inches, in(20, 0), 3, profile.Square(in(2, 0), in(36, 0)))
	r.From.Face, r.To = wall(), layout.End{Name: "chimney", Wall: true, Known: true, Face: wall()}
	for i, at := range []length.Length{4, 10, 16} {
		r.Marks[i].At = in(at, 0)
	}
	r.Openings = nil
	return r
}

// TestBall: the ball stands where the plan found it. X is from the datum face, from the axis of the left baluster, or from the other end's face.
func TestBall(t *testing.T) {
	found := func(x, z length.Length) profile.Found {
		return profile.Found{X: in(x, 0).Float(), Z: in(z, 0).Float()}
	}
	for _, c := range []struct {
		name    string
		part    string
		found   profile.Found
		worst   length.Length
		x, z, r float64 // in, by hand
	}{
		{"at the datum", "from", found(2, 20), in(3, 0), 2, 20, 1.5},
		{"between the first two, the first of equals", "between", found(3, 12), in(4, 0), 4 + 3, 12, 2},
		{"at the other end", "to", found(1, 30), in(2, 0), 20 - 1, 30, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := four()
			r.Openings = []layout.Opening{
				{Part: "unknown", Worst: in(9, 0), Found: found(5, 5)}, // not known, so not the worst
				{Part: "from", Worst: in(1, 0), Found: found(1, 1), Known: true},
				{Part: c.part, Where: "there", Worst: c.worst, Found: c.found, Known: true},
			}
			d := ofSVG(t, elevation(r, inches))
			if len(d.circles) != 1 {
				t.Fatalf("%d balls", len(d.circles))
			}
			line := foot(t, d)
			scale := (line.x2 - line.x1) / 20
			ball, floor := d.circles[0], floorOf(t, d)
			if got := (ball.x - line.x1) / scale; math.Abs(got-c.x) > 0.01 {
				t.Errorf("%.3f in from the datum, want %g", got, c.x)
			}
			if got := (floor - ball.y) / scale; math.Abs(got-c.z) > 0.01 {
				t.Errorf("%.3f in up, want %g", got, c.z)
			}
			if got := ball.r / scale; math.Abs(got-c.r) > 0.01 {
				t.Errorf("radius %.3f in, want %g", got, c.r)
			}
			if !strings.Contains(d.desc, "there") {
				t.Errorf("words do not say where: %s", d.desc)
			}
		})
	}
}

// floorOf is the height of a level floor on the sheet: of the lowest cut edge.
func floorOf(t *testing.T, d drawn) float64 {
	t.Helper()
	y := 0.0
	for _, l := range d.lines {
		if l.class == "d-cut" && l.y1 == l.y2 {
			y = max(y, l.y1)
		}
	}
	if y == 0 {
		t.Fatal("no floor")
	}
	return y
}

// TestTrueProportion: marks, widths and heights stand at one scale.
func TestTrueProportion(t *testing.T) {
	d := ofSVG(t, elevation(four(), inches))
	line := foot(t, d)
	scale := (line.x2 - line.x1) / 20
	floor := floorOf(t, d)
	has := func(name string, l segment) {
		t.Helper()
		for _, o := range d.lines {
			if o.class == l.class && near(o.x1, l.x1) && near(o.y1, l.y1) && near(o.x2, l.x2) && near(o.y2, l.y2) {
				return
			}
		}
		t.Errorf("%s: no line %+v", name, l)
	}
	x := func(inches float64) float64 { return line.x1 + float64(inches*scale) }
	z := func(inches float64) float64 { return floor - float64(inches*scale) }
	// the right edges of the balusters, 1 in from their centres, from the shoe's top at 1 to the rail's underside at 38 - 2 3/8
	has("first baluster", segment{"d-seen", x(5), z(1), x(5), z(35.625)})
	has("second baluster", segment{"d-seen", x(11), z(1), x(11), z(35.625)})
	has("third baluster", segment{"d-seen", x(17), z(1), x(17), z(35.625)})
	has("top of the rail", segment{"d-seen", x(0), z(38), x(20), z(38)})
	has("underside of the rail", segment{"d-seen", x(0), z(35.625), x(20), z(35.625)})
	has("top of the shoe", segment{"d-seen", x(0), z(1), x(20), z(1)})
	marks := map[string]float64{"0": 0, "4": 4, "10": 10, "16": 16}
	for _, w := range d.texts {
		if at, ok := marks[w.text]; ok {
			delete(marks, w.text)
			if mid := (w.x1 + w.x2) / 2; math.Abs(mid-x(at)) > 0.05 {
				t.Errorf("the words %s stand at %.2f, want %.2f", w.text, mid, x(at))
			}
		}
	}
	if len(marks) > 0 {
		t.Errorf("marks not written: %v", marks)
	}
}

// TestPieces: every mark stands in one piece, in the order of the tape, at one scale, and the words say the same.
func TestPieces(t *testing.T) {
	for _, n := range []int{2, 17, 60, 130} {
		r := run(inches, in(5, 5)*length.Length(n+1), n, turned())
		panels := draw.Panels(r, inches, draw.Phone)
		if n > 2 && len(panels) < 3 {
			t.Fatalf("%d balusters in %d panels", n, len(panels))
		}
		var said []string
		for i, svg := range panels {
			d := ofSVG(t, svg)
			if _, list, ok := strings.Cut(d.desc, "in in: "); ok {
				said = append(said, strings.Split(strings.TrimSuffix(list, "."), "; ")...)
				for _, mark := range strings.Split(strings.TrimSuffix(list, "."), "; ") {
					if !writes(d, mark) {
						t.Errorf("%d balusters, panel %d: %s is said but not written", n, i, mark)
					}
				}
			}
		}
		var want []string
		for _, m := range r.Marks {
			want = append(want, inches.Print(m.At))
		}
		if got := strings.Join(said, "; "); got != strings.Join(want, "; ") {
			t.Errorf("%d balusters: marks %s\nwant %s", n, got, strings.Join(want, "; "))
		}
	}
}

func writes(d drawn, text string) bool {
	for _, w := range d.texts {
		if w.text == text {
			return true
		}
	}
	return false
}

// TestSays: what is known is said, and what is not known is named.
func TestSays(t *testing.T) {
	for _, c := range []struct {
		name string
		run  *layout.Run
		want []string
	}{
		{"laid out", gallery(), []string{"17 balusters", "Clear at the foot 94 7/16 in.", "Clear at the rail 94 1/2 in.", "Top of the rail 38 in", "from wall on the left to corner on the right", "Worst opening", "Handrail 94 1/2 in."}},
		{"begun", begun(), []string{"Not laid out yet", "The clear at the rail is to be measured", "height is to be measured", "corner (to be measured)"}},
		{"nothing", &layout.Run{}, []string{"Not laid out yet", "The clear at the foot is to be measured", "an end to be named"}},
		{"floor", landing(), []string{"floor to come, 3/4", "out of level by 7/8", "37 1/4 in above the finished floor"}},
		{"without shapes", pale(), []string{"11 balusters", "centre lines"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := ofSVG(t, elevation(c.run, inches))
			for _, want := range c.want {
				if !strings.Contains(d.desc, want) {
					t.Errorf("no %q in: %s", want, d.desc)
				}
			}
			if d.title == "" {
				t.Error("no title")
			}
		})
	}
}

// TestEscape: what somebody wrote never becomes markup, an attribute's end or a character that may not stand in a document.
func TestEscape(t *testing.T) {
	const evil = "</title><script>alert('x')</script> \"quoted\" & \x00\x08\xff ]]> <!--"
	r := gallery()
	r.ID, r.Title, r.From.Name, r.To.Name = `run/"><script>`, evil, evil, evil
	r.Openings[0].Where = evil
	all := append(draw.Panels(r, inches, draw.Phone), draw.ProfileFigure(turned(), evil, inches))
	for _, f := range []*layout.Run{stair().run(), unread()} {
		f.ID, f.Title, f.From.Name, f.To.Name = r.ID, evil, evil, evil
		all = append(all, draw.Panels(f, inches, draw.Phone)...)
	}
	for _, svg := range all {
		d := ofSVG(t, svg)
		if strings.Contains(svg, "<script") || strings.Contains(svg, "<!--") {
			t.Error("markup got through")
		}
		if !strings.ContainsRune(d.title, '<') {
			t.Errorf("the title lost what was written: %q", d.title)
		}
		for _, id := range d.ids {
			if strings.ContainsAny(id, "\"<> ") {
				t.Errorf("id %q", id)
			}
		}
	}
}

// TestAnything: whatever a run holds, there is a drawing that can be read, of a size that a page can hold.
func TestAnything(t *testing.T) {
	most := 9_223_372_036_854_775_807 * length.Nanometre
	ten := run(inches, in(30_000, 0)/8, 10_000, profile.Square(in(0, 2), in(36, 0)))
	if len(ten.Marks) != 10_000 {
		t.Fatal(len(ten.Marks))
	}
	long := run(inches, 100*length.Metre, 800, turned())
	odd := gallery()
	odd.From.Face = profile.Face{Points: []profile.Point{{Out: math.NaN(), Z: math.Inf(1)}, {Out: 1, Z: 900}, {Out: 2, Z: 1}}}
	odd.To.Newel = &job.Newel{}
	odd.To.Face = profile.Face{}
	odd.Openings[0].Found = profile.Found{X: math.NaN(), Z: math.Inf(-1)}
	odd.Openings[0].Worst = length.Most
	odd.Marks = append(odd.Marks, layout.Mark{K: 99, At: -5}, layout.Mark{K: 100, At: most})
	huge := landing()
	huge.Levels = layout.Levels{Known: true, RailTop: most, RailUnder: -most, ShoeTop: most, Finished: -most}
	huge.Floor.Points = []layout.FloorPoint{{At: most, Height: most}, {At: 5, Height: -most}, {At: 5, Height: 7}}
	huge.Lean = &layout.Lean{Settled: true, FromRail: most, ToRail: -most}
	tall := gallery()
	tall.Levels = layout.Levels{Known: true, RailTop: 90 * length.Metre, RailUnder: 89 * length.Metre, ShoeTop: in(1, 0), Finished: 80 * length.Metre}
	tiny := gallery()
	tiny.Clear = figure("clear", 1, length.Inches)
	bare := gallery()
	bare.Job = nil
	for name, r := range map[string]*layout.Run{
		"nothing": {}, "ten thousand": ten, "a hundred metres": long, "odd": odd, "huge": huge, "tall": tall, "tiny": tiny, "no job": bare,
	} {
		t.Run(name, func(t *testing.T) {
			for _, style := range []length.Style{inches, metric, {}} {
				var all []string
				for _, width := range []int{-1, 0, draw.Phone, 1_000_000} {
					all = append(all, draw.Panels(r, style, width)...)
				}
				for _, svg := range all {
					d := ofSVG(t, svg)
					if len(svg) > 200_000 { // bytes: five drawings of the sort a phone loads at once
						t.Errorf("%d bytes", len(svg))
					}
					if d.width < 1 || d.height < 1 || d.height > 4000 {
						t.Errorf("%g by %g", d.width, d.height)
					}
				}
			}
		})
	}
	t.Run("ten thousand says what is left out", func(t *testing.T) {
		panels := draw.Panels(ten, inches, draw.Phone)
		last := ofSVG(t, panels[len(panels)-1])
		said := ""
		for _, w := range last.texts {
			said += w.text + " "
		}
		if !strings.Contains(said, "of 10000 balusters are not drawn") {
			t.Errorf("the last panel says %q", said)
		}
	})
	t.Run("no run", func(t *testing.T) {
		if draw.Panels(nil, inches, 300) != nil {
			t.Error("something was drawn")
		}
	})
}
