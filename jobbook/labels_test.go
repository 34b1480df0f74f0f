package jobbook_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/plan"
)

// failer is what a check of a plan reports to: a test, or a drawn job.
type failer interface {
	Errorf(format string, args ...any)
}

// checkLabels: every single piece has one label, no two marks are alike, and what is said to be cut stands at one stop, and at one only.
func checkLabels(t failer, p *plan.Plan) {
	take := p.Takeoff
	marks := map[string]bool{}
	seen := make([][]bool, len(take.Pieces))
	for i, c := range take.Pieces {
		seen[i] = make([]bool, c.Count)
	}
	for _, l := range take.Labels {
		if marks[l.Mark] {
			t.Errorf("two pieces are marked %s", l.Mark)
		}
		marks[l.Mark] = true
		if l.Piece < 0 || l.Piece >= len(seen) || l.N < 1 || l.N > len(seen[l.Piece]) {
			t.Errorf("%s is of no piece: %+v", l.Mark, l)
			continue
		}
		if seen[l.Piece][l.N-1] {
			t.Errorf("%s: that piece has a label already", l.Mark)
		}
		seen[l.Piece][l.N-1] = true
		if l.Number < 1 || l.Number > l.Of {
			t.Errorf("%s is %d of %d", l.Mark, l.Number, l.Of)
		}
	}
	for i, list := range seen {
		if slices.Contains(list, false) {
			t.Errorf("a piece has no label: %+v", take.Pieces[i])
		}
	}
	for _, l := range take.Blanks {
		if marks[l.Mark] {
			t.Errorf("the blank label %s is marked like a piece", l.Mark)
		}
		marks[l.Mark] = true
	}

	// Angles by a way of their own: a beveled piece is cut at the angle of its run, from the rise and the going of its line of nosings.
	angle := func(c layout.Cut) float64 {
		for _, post := range p.Layout.Posts { // a newel's top is cut to the rail over it
			for _, a := range post.Arrivals {
				if c.What == "newel" && c.Long > 0 && post.Name == c.Which && a.Over && c.Run == "" {
					c.Run, c.Beveled[1] = a.Run, true
				}
			}
		}
		for _, r := range p.Layout.Runs {
			if r.Name == c.Run && r.Rake != nil && (c.Beveled[0] || c.Beveled[1]) {
				return math.Atan(r.Rake.Rise.Float()/r.Rake.Going.Float()) * 180 / math.Pi
			}
		}
		return 0
	}
	cut := map[string]int{}
	var angles []float64
	for _, s := range take.Setups.Saws {
		at := 0.0
		if s.Angle != nil {
			at = s.Angle.Value.Float64()
		}
		angles = append(angles, at)
		for i, stop := range s.Stops {
			for _, l := range stop.Pieces {
				cut[l.Mark]++
				c := take.Pieces[l.Piece]
				if a := angle(c); math.Abs(a-at) > 1e-6 {
					t.Errorf("%s is cut at %v, and its run rises at %v", l.Mark, at, a)
				}
				if c.Long > 0 && stop.Long != c.Long || c.Long == 0 && c.Blank == 0 && stop.Long != c.Length {
					t.Errorf("%s is cut at a stop of %v: %+v", l.Mark, stop.Long, c)
				}
			}
			if i > 0 {
				if b := s.Stops[i-1]; b.What == stop.What && b.Both == stop.Both && b.Foot == stop.Foot && b.Long < stop.Long {
					t.Errorf("the stop goes back from %v to %v for %s", b.Long, stop.Long, stop.What)
				}
			}
		}
	}
	// As many settings as there are angles: none is come back to.
	if !slices.IsSorted(angles) || len(slices.Compact(slices.Clone(angles))) != len(angles) {
		t.Errorf("the saw is set to %v", angles)
	}
	for _, l := range take.Setups.Loose {
		cut[l.Mark]++
	}
	for _, l := range take.Labels {
		c := take.Pieces[l.Piece]
		want := 1
		if c.What == "rosette" || c.What == "newel" && c.Fit == "as bought" || c.Length <= 0 && !c.ToFit {
			want = 0
		}
		if cut[l.Mark] != want {
			t.Errorf("%s is cut at %d stops, want %d: %+v", l.Mark, cut[l.Mark], want, c)
		}
	}

	var holes, drilled int
	for _, r := range p.Layout.Runs {
		for _, h := range r.Holes {
			holes += h.Count
		}
	}
	for _, d := range take.Setups.Drills {
		if d.For == "balusters" {
			for _, h := range d.Holes {
				drilled += h.Count
			}
		}
		if (d.Angle == nil) != (d.Lies == "") {
			t.Errorf("a hole for %s is at an angle and lies no way, or the other way round: %+v", d.For, d)
		}
		if d.Through && d.Deep > 0 {
			t.Errorf("a hole for %s goes through and has a depth", d.For)
		}
	}
	if holes != drilled {
		t.Errorf("%d holes for balusters are laid out, and %d drilled", holes, drilled)
	}
}

func TestLabelsOfJobs(t *testing.T) {
	for _, dir := range jobs {
		t.Run(dir, func(t *testing.T) {
			result, files, err := jobbook.Make(dir)
			if err != nil || result.Plan == nil {
				t.Fatal(err, result.Problems)
			}
			checkLabels(t, result.Plan)
			for _, f := range files {
				if f.Path != "labels.html" {
					continue
				}
				page := strings.Join(f.Pieces, "")
				if got, want := strings.Count(page, `class="label"`), len(result.Plan.Takeoff.Labels)+len(result.Plan.Takeoff.Blanks); got != want {
					t.Errorf("%d labels are printed, want %d", got, want)
				}
				for _, l := range result.Plan.Takeoff.Labels {
					if strings.Count(page, `<b class="label-mark">`+l.Mark+`</b>`) != 1 {
						t.Errorf("%s does not stand on one label", l.Mark)
					}
				}
			}
		})
	}
}
