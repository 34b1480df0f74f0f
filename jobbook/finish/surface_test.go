package finish

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// TestTurnedByIntegration holds the surface of a turned baluster to a sum over two thousand thin slices of each stretch, girth at the middle times slant, and rings where the width steps: nothing is taken over from package profile, which
// knows frustums.
func TestTurnedByIntegration(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		type stretch struct {
			long, from, to float64 // inches
			round          bool
		}
		sixteenths := func(name string, least, most int) float64 {
			return float64(rapid.IntRange(least, most).Draw(r, name)) / 16
		}
		var parts []stretch
		stations, at := []string{}, 0.0
		for range rapid.IntRange(1, 5).Draw(r, "stretches") {
			s := stretch{long: sixteenths("long", 4, 160), round: rapid.Bool().Draw(r, "round")}
			if s.round { // a round one fits into every square beside it, so that a shoulder is a plain ring
				s.from, s.to = sixteenths("from", 6, 20), sixteenths("to", 6, 20)
			} else {
				s.from = sixteenths("width", 20, 32)
				s.to = s.from
			}
			parts = append(parts, s)
			shape := map[bool]string{true: "round", false: "square"}[s.round]
			stations = append(stations, fmt.Sprintf("{at: %g, %s: %g}", at, shape, s.from), fmt.Sprintf("{at: %g, %s: %g}", at+s.long, shape, s.to))
			at += s.long
		}
		want := 0.0
		section := func(w float64, round bool) float64 {
			if round {
				return math.Pi * w * w / 4
			}
			return w * w
		}
		for i, s := range parts {
			const slices = 2000
			dz, dr := s.long/slices, (s.to-s.from)/2/slices
			for k := range slices {
				w := s.from + (s.to-s.from)*(float64(k)+0.5)/slices
				girth := 4 * w
				if s.round {
					girth = math.Pi * w
				}
				want += girth * math.Hypot(dz, dr)
			}
			if i > 0 {
				before := parts[i-1]
				want += math.Abs(section(s.from, s.round) - section(before.to, before.round))
			}
		}
		j := jobtest.Job(t, files{"job.md": "kind: job\nfinishes: {balusters: paint}", "runs/1-gallery.md": run, "parts/stick.md": "kind: baluster\nprofile: [" + strings.Join(stations, ", ") + "]"}, paint)
		l := laid(j)
		l.Runs[0].Balusters = []layout.Cut{cut("baluster", 1, length.Length(math.Round(at*float64(length.Inch))))}
		l.Runs[0].Chosen = &layout.Candidate{Count: 1}
		f := Work(j, l)
		for _, g := range f.Groups {
			if g.Area == nil {
				r.Fatalf("no surface of %v: %+v", stations, f.Missing)
			}
			if got := g.Area.Value.Float64(); math.Abs(got*144-want) > 0.002 {
				r.Fatalf("%v: %.4f sq in, by slices %.4f", stations, got*144, want)
			}
		}
	})
}

// TestGirthByPolyline holds the girth of a traced rail to walking round it, corner by corner, plow and all.
func TestGirthByPolyline(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		type point struct{ x, y float64 }
		var right []point
		var outline []string
		depth := 0.0
		for i := range rapid.IntRange(2, 7).Draw(r, "depths") {
			if i > 0 {
				least := 1
				if i == 1 { // the plow leaves something of the height
					least = 6
				}
				depth += float64(rapid.IntRange(least, 12).Draw(r, "down")) / 16
			}
			w := float64(rapid.IntRange(24, 48).Draw(r, "wide")) / 16
			right = append(right, point{w / 2, depth})
			outline = append(outline, fmt.Sprintf("{at: %g, wide: %g}", depth, w))
		}
		const plowWide, plowDeep = 1.25, 0.3125
		high := depth
		loop := append([]point{}, right...)
		loop = append(loop, point{plowWide / 2, high}, point{plowWide / 2, high - plowDeep}, point{-plowWide / 2, high - plowDeep}, point{-plowWide / 2, high})
		for i := len(right) - 1; i >= 0; i-- {
			loop = append(loop, point{-right[i].x, right[i].y})
		}
		want := 0.0
		for i, p := range loop {
			q := loop[(i+1)%len(loop)]
			want += math.Hypot(p.x-q.x, p.y-q.y)
		}
		j := jobtest.Job(t, files{"job.md": "kind: job\nfinishes: {handrail: paint}\nhandrail: rail\nshoe: none\nfillet: none", "runs/1-gallery.md": run, "parts/stick.md": "kind: baluster\nwide: 1\nlong: 42",
			"parts/rail.md": fmt.Sprintf("kind: handrail\nwide: 3\nhigh: %g\nplow: {wide: 1 1/4, deep: 5/16}\noutline: [%s]", high, strings.Join(outline, ", "))}, paint)
		l := laid(j)
		h := cut("handrail", 1, 100*length.Inch)
		l.Runs[0].Handrail = &h
		for _, g := range Work(j, l).Groups {
			if g.Name != "handrail" || g.Area == nil {
				continue
			}
			if got := g.Area.Value.Float64(); math.Abs(got*144/100-want) > 1e-6 {
				r.Fatalf("%v: girth %.6f, walked %.6f", outline, got*144/100, want)
			}
			return
		}
		r.Fatal("no handrail")
	})
}
