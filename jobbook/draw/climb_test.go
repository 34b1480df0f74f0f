package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// TestFlightsDoNotOverlap goes through every number of risers from 2 to 30 and every count from 1 to 200, on treads and on a shoe, in inches and
// millimetres, on a phone and a desk.
func TestFlightsDoNotOverlap(t *testing.T) {
	mm := length.Millimetre
	square := profile.Square(32*mm, 1100*mm)
	t.Run("risers", func(t *testing.T) {
		for n := 2; n <= 30; n++ {
			for per := 1; per <= 3; per++ {
				if per != 2 && n%4 != per {
					continue // two on a tread go through every number, one and three through a part
				}
				c := stair()
				c.risers, c.per = n, per
				checkAll(t, fmt.Sprintf("%d risers, %d on a tread", n, per), c.run(), c.style, draw.Phone, 680)
			}
			c := climb{style: metric, risers: n, riser: 178 * mm, going: 265 * mm, nosing: 25 * mm, per: 2, shape: square, height: 950 * mm, rail: 60 * mm, before: 90 * mm}
			checkAll(t, fmt.Sprintf("%d risers, metric", n), c.run(), metric, draw.Phone, 680)
		}
	})
	t.Run("counts", func(t *testing.T) {
		for n := 1; n <= 200; n++ {
			c := onShoe(n)
			c.shape = profile.Square(in(0, 2), in(40, 0)) // so thin that 200 of them stand side by side
			c.risers = 2 + n*28/200
			widths := []int{draw.Phone}
			if n%5 == 0 {
				widths = append(widths, 240, 680, 1400)
			}
			checkAll(t, fmt.Sprintf("%d on a shoe", n), c.run(), c.style, widths...)
		}
	})
	t.Run("crowded treads", func(t *testing.T) {
		for per := 1; per <= 100; per += 7 {
			c := stair()
			c.risers, c.per, c.shape = 3, per, profile.Square(in(0, 1), in(40, 0))
			checkAll(t, fmt.Sprintf("%d on a tread", per), c.run(), c.style, 240, draw.Phone, 1400)
		}
	})
	for name, r := range map[string]*layout.Run{"loft": loft(), "bare": bare(), "unread": unread(), "ghost": ghost(), "no job": {Rake: &layout.Rake{}}} {
		t.Run(name, func(t *testing.T) {
			style := inches
			if name == "loft" {
				style = metric
			}
			checkAll(t, name, r, style, 240, draw.Phone, 600, 1000, 2000)
		})
	}
}

// TestAnyFlightDoesNotOverlap: the same for flights of any size, names, ends and gaps in what is known, at any width.
func TestAnyFlightDoesNotOverlap(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		sixteenths := func(name string, low, high int64) length.Length {
			return in(0, length.Length(rapid.Int64Range(low, high).Draw(r, name)))
		}
		c := stair()
		if rapid.Bool().Draw(r, "shoe") {
			c = onShoe(rapid.IntRange(0, 60).Draw(r, "count"))
		} else {
			c.per = rapid.IntRange(1, 5).Draw(r, "per")
		}
		if rapid.Bool().Draw(r, "metric") {
			c.style = metric
		}
		c.risers = rapid.IntRange(2, 30).Draw(r, "risers")
		c.riser, c.going, c.nosing = sixteenths("riser", 48, 160), sixteenths("going", 96, 256), sixteenths("nosing", 0, 28)
		c.before, c.past = sixteenths("before", -80, 400), sixteenths("past", -80, 300)
		c.height = sixteenths("height", 300, 800)
		c.shape = profile.Square(sixteenths("wide", 4, 28), in(50, 0))
		x := c.run()
		if x.Rake.To <= x.Rake.From {
			r.Skip("no clear")
		}
		x.From.Name = rapid.StringMatching(`[a-z 0-9]{0,40}`).Draw(r, "from")
		x.To.Name = rapid.StringMatching(`[A-Za-z]{0,40}`).Draw(r, "to")
		x.Title = rapid.StringMatching(`[A-Za-z ]{0,90}`).Draw(r, "title")
		x.To.Known = rapid.Bool().Draw(r, "known")
		if rapid.Bool().Draw(r, "wall") {
			x.From = layout.End{Name: x.From.Name, Wall: true, Known: true, Face: wall()}
		}
		if rapid.Bool().Draw(r, "wall above") {
			x.To = layout.End{Name: x.To.Name, Wall: true, Known: true, Face: wall()}
		}
		switch rapid.IntRange(0, 8).Draw(r, "unknown") {
		case 0:
			x.Rake.Top, x.Rake.Thick = 0, 0
		case 1:
			x.Rake.Thick = 0
		case 2:
			x.Rake.To = x.Rake.From
		case 3:
			x.Rake.Treads = nil
		case 4:
			x.Job.Baluster.Sized = false
		}
		if n := len(x.Rake.Treads); n > 3 && rapid.Bool().Draw(r, "uneven") {
			x.Rake.Treads[1].Height += in(0, 5)
			x.Rake.Treads[2].At -= in(0, 7)
		}
		width := rapid.IntRange(240, 1400).Draw(r, "width")
		for i, svg := range draw.Panels(x, c.style, width) {
			for _, o := range overlaps(ofSVG(t, svg)) {
				r.Fatalf("drawing %d: %s", i, o)
			}
		}
	})
}

// porch is 5 risers of 7 1/2 on 4 goings of 10, 3 in 4, the nosings 1 in: plain 1 1/4 squares, two on a tread, under a rail 2 3/8 thick and 36
// over the line of the nosings.
func porch() climb {
	c := stair()
	c.risers, c.nosing, c.shape = 5, in(1, 0), profile.Square(in(1, 4), in(42, 0))
	return c
}

// measured finds where places and heights of a flight stand on a sheet, from the dimension of its level clear and the lowest cut edge.
func measured(t *testing.T, d drawn, from, to float64) (x, z func(inches float64) float64) {
	t.Helper()
	line, floor := foot(t, d), floorOf(t, d)
	scale := (line.x2 - line.x1) / (to - from)
	return func(at float64) float64 { return line.x1 + float64((at-from)*scale) }, func(at float64) float64 { return floor - float64(at*scale) }
}

func has(t *testing.T, d drawn, name, class string, x1, y1, x2, y2 float64) {
	t.Helper()
	const close = 0.03 // px: two decimals, twice rounded, and the scale read off a line of two decimals
	near := func(a, b float64) bool { return math.Abs(a-b) <= close }
	for _, o := range d.lines {
		if o.class == class && (near(o.x1, x1) && near(o.y1, y1) && near(o.x2, x2) && near(o.y2, y2) || near(o.x1, x2) && near(o.y1, y2) && near(o.x2, x1) && near(o.y2, y1)) {
			return
		}
	}
	t.Errorf("%s: no %s from %.2f %.2f to %.2f %.2f", name, class, x1, y1, x2, y2)
}

// TestFlightInTrueProportion: risers, rail, balusters and marks stand at one scale, at places worked out by hand.
func TestFlightInTrueProportion(t *testing.T) {
	const slope, secant = 0.75, 1.25 // 3-4-5
	t.Run("on treads", func(t *testing.T) {
		panels := draw.Panels(porch().run(), inches, 1000)
		if len(panels) != 1 {
			t.Fatalf("%d drawings", len(panels))
		}
		d := ofSVG(t, panels[0])
		x, z := measured(t, d, -1.25, 40)
		for n := range 5 {
			at, low := 10*float64(n), 7.5*float64(n)
			has(t, d, fmt.Sprintf("riser %d", n+1), "d-cut", x(at), z(low), x(at), z(low+7.5))
			has(t, d, fmt.Sprintf("nosing %d", n+1), "d-cut", x(at), z(low+7.5), x(at-1), z(low+7.5))
		}
		has(t, d, "line of the nosings", "d-nosings", x(-1), z(7.5), x(39), z(37.5))
		rail := func(at float64) float64 { return 7.5 + (at+1)*slope + 36 }
		under := func(at float64) float64 { return rail(at) - 2.375*secant }
		has(t, d, "top of the rail", "d-seen", x(-1.25), z(rail(-1.25)), x(40), z(rail(40)))
		has(t, d, "underside of the rail", "d-seen", x(-1.25), z(under(-1.25)), x(40), z(under(40)))
		has(t, d, "plumb cut at the foot", "d-seen", x(-1.25), z(rail(-1.25)), x(-1.25), z(under(-1.25)))
		for n := range 4 {
			for _, at := range []float64{0.625, 5.625} { // half a baluster, and half a going more
				c, stands := 10*float64(n)+at, 7.5*float64(n+1)
				has(t, d, "right edge", "d-seen", x(c+0.625), z(stands), x(c+0.625), z(under(c+0.625)))
				has(t, d, "left edge", "d-seen", x(c-0.625), z(stands), x(c-0.625), z(under(c-0.625)))
				has(t, d, "head, cut to the rake", "d-seen", x(c-0.625), z(under(c-0.625)), x(c+0.625), z(under(c+0.625)))
			}
		}
		marks := 0
		for _, w := range d.texts {
			if w.text != "5 5/8" {
				continue
			}
			for n := range 4 {
				if at := x(10*float64(n) + 5.625); math.Abs((w.x1+w.x2)/2-at) < 0.5 && w.y1 > z(7.5*float64(n+1)) && w.y1 < z(7.5*float64(n+1))+16 { // px, the next row
					marks++
				}
			}
		}
		if marks != 4 {
			t.Errorf("%d of 4 second marks stand under their treads", marks)
		}
	})
	t.Run("on a shoe", func(t *testing.T) {
		c := porch()
		c.per, c.count, c.shoe, c.v = 0, 7, in(1, 0), in(0, 8)
		d := ofSVG(t, draw.Panels(c.run(), inches, 1000)[0])
		x, z := measured(t, d, -1.25, 40)
		line := func(at float64) float64 { return 7.5 + (at+1)*slope }
		shoe := func(at float64) float64 { return line(at) + 0.5 + 1*secant }
		under := func(at float64) float64 { return line(at) + 36 - 2.375*secant }
		has(t, d, "top of the shoe", "d-seen", x(-1.25), z(shoe(-1.25)), x(40), z(shoe(40)))
		has(t, d, "underside of the shoe", "d-seen", x(-1.25), z(line(-1.25)+0.5), x(40), z(line(40)+0.5))
		for k := 1; k <= 7; k++ { // (41 1/4 + 1 1/4) / 8 is 5.3125 from centre to centre
			c := -1.25 + 5.3125*float64(k) - 0.625
			has(t, d, "right edge", "d-seen", x(c+0.625), z(shoe(c+0.625)), x(c+0.625), z(under(c+0.625)))
			has(t, d, "foot, cut to the rake", "d-seen", x(c-0.625), z(shoe(c-0.625)), x(c+0.625), z(shoe(c+0.625)))
		}
		// Along the rake 4.6875 × 1.25 is 5.859, to the sixteenth 5 7/8; 36.5625 × 1.25 is 45.703, 45 11/16.
		for _, want := range []string{"5 7/8", "45 11/16", "36"} {
			if !writes(d, want) {
				t.Errorf("%s is not written", want)
			}
		}
		for _, want := range []string{"Rake 36.87° off level, 9 in 12", "Top of the rail 36 in above the line"} {
			if !strings.Contains(d.desc, want) {
				t.Errorf("no %q in: %s", want, d.desc)
			}
		}
	})
}

// TestFlightBall: the ball stands where the plan found it: from the datum face, or from the axis of the baluster on its left.
func TestFlightBall(t *testing.T) {
	found := func(x, z length.Length) profile.Found {
		return profile.Found{X: in(x, 0).Float(), Z: in(z, 0).Float()}
	}
	for _, c := range []struct {
		name    string
		o       layout.Opening
		x, z, r float64 // in, by hand
	}{
		{"at the datum", layout.Opening{Part: "from", Found: found(1, 20), Worst: in(2, 0)}, -1.25 + 1, 20, 1},
		{"between the second and the third", layout.Opening{Part: "between", Left: 2, Found: found(3, 30), Worst: in(4, 0)}, 5.625 + 3, 30, 2},
		{"at the upper end", layout.Opening{Part: "to", Found: found(2, 60), Worst: in(3, 0)}, 35.625 + 2, 60, 1.5},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := porch().run()
			c.o.Known, c.o.Where = true, "there"
			r.Openings = []layout.Opening{{Part: "to", Worst: in(9, 0), Found: found(5, 5)}, {Part: "from", Worst: in(1, 0), Found: found(1, 20), Known: true}, c.o}
			d := ofSVG(t, draw.Panels(r, inches, 1000)[0])
			x, z := measured(t, d, -1.25, 40)
			if len(d.circles) != 1 {
				t.Fatalf("%d balls", len(d.circles))
			}
			ball := d.circles[0]
			if math.Abs(ball.x-x(c.x)) > 0.05 || math.Abs(ball.y-z(c.z)) > 0.05 || math.Abs(ball.r-(x(c.r)-x(0))) > 0.05 {
				t.Errorf("at %.2f %.2f, %.2f; want %.2f %.2f, %.2f", ball.x, ball.y, ball.r, x(c.x), z(c.z), x(c.r)-x(0))
			}
			if !strings.Contains(d.desc, "there") {
				t.Errorf("words do not say where: %s", d.desc)
			}
		})
	}
	t.Run("on a shoe beside the middle", func(t *testing.T) {
		c := porch()
		c.per, c.count, c.shoe, c.v = 0, 7, in(1, 0), in(0, 8)
		r := c.run()
		// The plan looks for it with the left axis amid the flight, 19 3/8; the fourth of seven stands just there.
		r.Openings = []layout.Opening{{Part: "between", Where: "between balusters", Found: found(2, 40), Worst: in(4, 0), Known: true}}
		d := ofSVG(t, draw.Panels(r, inches, 1000)[0])
		x, z := measured(t, d, -1.25, 40)
		if ball := d.circles[0]; math.Abs(ball.x-x(21.375)) > 0.05 || math.Abs(ball.y-z(40)) > 0.05 {
			t.Errorf("at %.2f %.2f, want %.2f %.2f", ball.x, ball.y, x(21.375), z(40))
		}
	})
}

// TestFlightPieces: every mark is written in one piece, in the order of the climb, and the words say the same.
func TestFlightPieces(t *testing.T) {
	for name, c := range map[string]climb{"treads": stair(), "shoe": onShoe(32)} {
		t.Run(name, func(t *testing.T) {
			r := c.run()
			panels := draw.Panels(r, inches, draw.Phone)
			if len(panels) < 3 {
				t.Fatalf("%d panels", len(panels))
			}
			var said []string
			for i, svg := range panels[1:] {
				d := ofSVG(t, svg)
				if !strings.Contains(d.desc, "in in") {
					t.Fatalf("panel %d does not say its marks: %s", i+1, d.desc)
				}
				_, list, _ := strings.Cut(d.desc, "Marks ")
				_, list, _ = strings.Cut(list, "in in")
				for _, part := range strings.Split(strings.Trim(list, ";: ."), "; ") {
					_, marks, tread := strings.Cut(part, ": ")
					if !tread {
						marks = part
					}
					for _, mark := range strings.Split(marks, ", ") {
						said = append(said, mark)
						if !writes(d, mark) {
							t.Errorf("panel %d: %s is said but not written", i+1, mark)
						}
					}
				}
				if i+2 < len(panels) && !saysOf(d, "is drawn again in the next piece") {
					t.Errorf("panel %d does not say what is drawn twice", i+1)
				}
			}
			var want []string
			for _, m := range r.Marks {
				if c.per > 0 {
					want = append(want, inches.Print(m.Riser))
				} else {
					want = append(want, inches.Print(m.Along))
				}
			}
			if got := strings.Join(said, "; "); got != strings.Join(want, "; ") {
				t.Errorf("marks %s\nwant %s", got, strings.Join(want, "; "))
			}
		})
	}
}

// saysOf reports whether the words under a drawing hold a sentence, over the ends of their lines.
func saysOf(d drawn, words string) bool {
	all := ""
	for _, w := range d.texts {
		all += w.text + " "
	}
	return strings.Contains(all, words)
}

// TestFlightSays: what is known is said, and what is not known is named.
func TestFlightSays(t *testing.T) {
	for _, c := range []struct {
		name  string
		run   *layout.Run
		style length.Style
		want  []string
	}{
		// The rail's top over the floor before the lowest riser: 7 1/2 + 3/4 of (1 1/8 - 1 1/4) + 36 is 43 13/32, to the nearest sixteenth
		// upwards 43 7/16; over the landing 3/4 of 1 1/8 more than 36: 36 27/32, 36 7/8.
		{"laid out", stair().run(), inches, []string{"13 risers", "24 balusters", "from foot newel on the left to stair head on the right", "Level clear between the ends 121 1/4 in.",
			"Top of the rail 36 in above the line of the nosings", "Rake 36.87° off level, 9 in 12", "43 7/16 in above the floor at foot newel", "36 7/8 in above the landing at stair head", "Worst opening"}},
		{"metric", loft(), metric, []string{"76 in 100", "above tread 7 at stair head", "above tread 1 at wall"}},
		{"bare", bare(), inches, []string{"Not laid out yet", "Where the ends stand is to be measured", "Height to be measured", "an end to be named", "stair head (to be measured)"}},
		{"unread", unread(), inches, []string{"Not laid out yet", "Risers and goings to be measured", "level clear between the ends is to be measured", "landing post (to be measured)"}},
		{"ghost", ghost(), inches, []string{"24 balusters", "centre lines", "Height to be measured"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := ofSVG(t, elevation(c.run, c.style))
			for _, want := range c.want {
				if !strings.Contains(d.desc, want) {
					t.Errorf("no %q in: %s", want, d.desc)
				}
			}
			if d.title == "" {
				t.Error("no title")
			}
			if strings.Contains(d.desc, "to be measured") && d.classes["d-come"] == 0 {
				t.Error("nothing is dashed")
			}
		})
	}
}

// TestAnyFlightIsDrawn: whatever a flight holds, there is a drawing that can be read, of a size that a page can hold.
func TestAnyFlightIsDrawn(t *testing.T) {
	most := 9_223_372_036_854_775_807 * length.Nanometre
	huge := stair().run()
	huge.Rake.Top, huge.Rake.Thick, huge.Rake.From, huge.Rake.To = most, most, -most, most
	odd := stair().run()
	odd.From.Face = profile.Face{Points: []profile.Point{{Out: math.NaN(), Z: math.Inf(1)}, {Out: 1, Z: 900}}}
	odd.To.Face, odd.To.Newel = profile.Face{}, &job.Newel{}
	odd.Openings[0].Found = profile.Found{X: math.NaN(), Z: math.Inf(-1)}
	odd.Marks = append(odd.Marks, layout.Mark{K: 99, Tread: 77}, layout.Mark{K: 100, Tread: -3, Riser: most}, layout.Mark{Tread: 13, Riser: in(1, 0), Lift: most, Stands: -most})
	down := stair().run()
	down.Rake.Treads[4].Height, down.Rake.Treads[6].At = 0, -most
	flat := stair().run()
	flat.Rake.Rise, flat.Rake.Going = 0, 0
	one := stair().run()
	one.Rake.Treads = one.Rake.Treads[:1]
	tall := stair()
	tall.risers = 100
	far := stair()
	far.before, far.past = 50*length.Metre, 50*length.Metre
	short := stair().run() // a guard that stands on one tread
	short.Rake.From, short.Rake.To = in(21, 0), in(29, 0)
	short.From = layout.End{Name: "wall", Wall: true, Known: true, Face: wall()}
	short.To = short.From
	for name, r := range map[string]*layout.Run{
		"nothing": {Rake: &layout.Rake{}}, "on treads": {Rake: &layout.Rake{OnTreads: true, PerTread: -1}}, "huge": huge, "odd": odd, "down": down, "flat": flat, "one": one,
		"a hundred": tall.run(), "far": far.run(), "on one tread": short,
	} {
		t.Run(name, func(t *testing.T) {
			for _, style := range []length.Style{inches, metric, {}} {
				var all []string
				for _, width := range []int{-1, 0, draw.Phone, 1_000_000} {
					all = append(all, draw.Panels(r, style, width)...)
				}
				for _, svg := range all {
					d := ofSVG(t, svg)
					if len(svg) > 200_000 { // bytes, as for level runs
						t.Errorf("%d bytes", len(svg))
					}
					if d.width < 1 || d.height < 1 || d.height > 4000 {
						t.Errorf("%g by %g", d.width, d.height)
					}
					for i, o := range overlaps(d) {
						if i < 2 && style.Division > 0 {
							t.Error(o)
						}
					}
				}
			}
		})
	}
}
