package takeoff

import (
	"strings"
	"testing"

	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// raked gives a run a rake of 3 in 4: the tangent is 3/4 and the secant 5/4, without a remainder.
func raked(r *layout.Run) {
	work := func(id, unit string, e working.Expr) *working.Figure {
		f := working.Work(r.ID+"/"+id, id, "x", unit, e)
		r.Figures = append(r.Figures, f)
		return f
	}
	rise := work("rise", "in", working.Length("r", "riser", inches(6), length.Inches, source.Pos{}))
	going := work("going", "in", working.Length("a", "going", inches(8), length.Inches, source.Pos{}))
	slope := working.Quotient(rise.In(), going.In())
	r.Rake = &layout.Rake{
		Angle:  work("angle", "degrees", working.Quotient(working.Product(working.Arctangent(slope), working.Constant(180)), working.Pi())),
		Secant: work("secant", "", working.Root(working.Sum(working.Constant(1), working.Product(slope, slope)))),
	}
}

// The saw cut of 1/8 takes 5/4 · 1/8 = 5/32 at the angle, and the first one runs out 3/4 · 5/16 = 15/64. By hand: nine fillets of 4 cut square are 36 and eight cuts, 37. Cut at the angle they are 36, eight cuts of 5/32
// and the run-out, 37 31/64; the cut behind the last is reckoned 1/32 wider than the kerf that may fall off the end, so that 37 33/64 holds them.
//
// The plan that was found to lose a piece: 22 raked fillets are 4 13/16 + 19 · 4 3/4 + 2 · 4 11/16 = 104 7/16, the square ones 34 5/16, and the 33 cuts between, 22 of them at the angle, are 3 7/16 + 1 3/8; with the run-out
// that is 143 51/64, and of 12 ft with 1/2 off each end 143 can be used.
func TestBeveledSticks(t *testing.T) {
	part := func(n int, sixteenths int64, bevel bool) layout.Cut {
		c := cut("shoe fillet", "strip", "long", n, length.Length(sixteenths)*length.Inch/16, "")
		c.Beveled = [2]bool{bevel, bevel}
		return c
	}
	long := []layout.Cut{part(1, 77, true), part(19, 76, true), part(2, 75, true), part(11, 48, false), part(1, 21, false)}
	square := append([]layout.Cut(nil), long...)
	for i := range square {
		square[i].Beveled = [2]bool{}
	}
	for _, c := range []struct {
		name, trim, stick string
		fillets           []layout.Cut
		sticks            int
		left              string // of the first
	}{
		{"square, to the end", "0", "37", []layout.Cut{part(9, 64, false)}, 1, "0"},
		{"at the angle they do not go in", "0", "37", []layout.Cut{part(9, 64, true)}, 2, "32 39/64"}, // 37 less 15/64, 4 and 5/32
		{"a hair too short", "0", "37 1/2", []layout.Cut{part(9, 64, true)}, 2, "33 7/64"},
		{"long enough", "0", "37 33/64", []layout.Cut{part(9, 64, true)}, 1, "0"},
		{"one end at the angle", "0", "40", []layout.Cut{{What: "shoe fillet", Part: "strip", Run: "long", Count: 1, Length: inches(4), Beveled: [2]bool{true, false}}}, 1, "35 3/8"}, // it loses its own run-out besides: 40 less 2 · 15/64, 4 and 5/32
		{"33 cuts, square", "1/2", "12'", square, 1, "0"},
		{"33 cuts, 22 at the angle", "1/2", "12'", long, 2, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := jobtest.Job(t, parts, map[string]string{
				"job.md": plainJob, "settings.md": strings.Replace(plainShop, "end-trim: 0", "end-trim: "+c.trim, 1), "yard.md": "kind: supplier\nsells: {strip: {long: " + c.stick + ", price: 10}}",
			})
			l := laid(j)
			raked(l.Runs[0])
			l.Runs[0].Fillets = c.fillets
			l.Runs[0].Chosen = chosen(6)
			got := Take(j, l)
			strip := cuttingOf(t, got, "strip")
			if len(strip.Sticks) != c.sticks || !strip.Proven || strip.Cost != money.Money(1000*c.sticks) {
				t.Fatalf("%s, cost %s, proven %v", words(strip), strip.Cost, strip.Proven)
			}
			if left := inch(strip.Sticks[0].Left); c.left != "" && left != c.left {
				t.Errorf("%s: left %s, want %s", words(strip), left, c.left)
			}
			if len(strip.Bevels) == 0 {
				return
			}
			if b := strip.Bevels[0]; len(strip.Bevels) != 1 || b.Saw != length.Inch*5/32 || b.RunOut != length.Inch*15/64 {
				t.Errorf("%+v", strip.Bevels)
			}
			if f := figure(t, got.Figures, strip.Figure); !strings.Contains(f.Note, "at an angle") {
				t.Error(f.Note)
			}
			for _, s := range strip.Sticks { // what is cut from each does lie on it
				used := strip.Lost(s)
				for i, p := range s.Pieces {
					used += p.Long
					if i > 0 {
						used += strip.Kerf
					}
					if p.Bevel > 0 && i > 0 {
						used += length.Inch / 32
					}
				}
				if used+s.Left > s.Long {
					t.Errorf("stick %d: %s of %s", s.N, used+s.Left, s.Long)
				}
			}
		})
	}
}

// Blanks come off the stick square, with the run-out in them: 94 and 40 with a cut between are 134 1/8, raked or not.
func TestRakedBlanksComeOffSquare(t *testing.T) {
	j := jobtest.Job(t, parts, map[string]string{"job.md": plainJob, "settings.md": plainShop, "yard.md": "kind: supplier\nsells: {rail: {long: 134 1/8, price: 10}}"})
	l := laid(j)
	for i, at := range []int64{94, 40} {
		c := cut("handrail", "rail", l.Runs[i].Name, 1, inches(at-2), "")
		c.Blank, c.Beveled = inches(at), [2]bool{true, true}
		l.Runs[i].Handrail, l.Runs[i].Chosen = &c, chosen(6)
		raked(l.Runs[i])
	}
	if c := cuttingOf(t, Take(j, l), "rail"); words(c) != "1: 134 1/8 bought 94 40 left 0" || len(c.Bevels) != 0 {
		t.Errorf("%s, %+v", words(c), c.Bevels)
	}
}

// A fillet whose thickness nobody wrote: how far its bevel runs out is asked for.
func TestBevelOfAnUnknownThickness(t *testing.T) {
	j := jobtest.Job(t, parts, map[string]string{"job.md": plainJob, "settings.md": plainShop, "parts/strip.md": "kind: fillet\nwide: 1 1/4\nthick:"})
	l := laid(j)
	raked(l.Runs[0])
	c := cut("shoe fillet", "strip", "long", 9, inches(4), "")
	c.Beveled = [2]bool{true, true}
	l.Runs[0].Fillets, l.Runs[0].Chosen = []layout.Cut{c}, chosen(6)
	got := Take(j, l)
	n := 0
	for _, m := range got.Missing {
		if m.What == "how thick strip is" && strings.HasPrefix(m.Where, "parts/strip.md, thick") {
			n++
		}
	}
	if n != 1 {
		t.Errorf("%+v", got.Missing)
	}
}
