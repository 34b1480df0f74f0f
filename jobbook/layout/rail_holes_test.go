package layout_test

import (
	"math"
	"testing"
)

// TestHolesInARakedRail: 7 1/2 on 10 is 1.25 along the rake for each level inch. The rail's plumb cut at the datum end lies at the newel's face; behind a rosette of 3/4 it begins 3/4 farther along; where the newel leans away by
// 1/2 at the middle of the rail's section it begins 1/2 before the face at the floor. That middle is 35 17/64 over tread 1: the line of the nosings is at 7 1/2 + 3/4 there, the rail's top 36 over it, half its plumb section
// 2 3/8 x 1.25 / 2 below. Twice as high up the level says twice as much: 1 at 70 17/32. By hand.
func TestHolesInARakedRail(t *testing.T) {
	stair := map[string]string{"risers": alike(5, "7 1/2"), "goings": alike(4, "10")}
	for _, c := range []struct {
		name, from, clear string
		begins            float64
		known             bool
	}{
		{"at a newel", "{at: low, past: 0}", "{rake: 50}", 0, true},
		{"a rosette", "{at: wall, past: 0, rosette: disc}", "{rake: 50}", -0.75, true},
		{"leaning away, by the level", "{at: low, past: 0, plumb: {at: 70 17/32, away: 1}}", "{rake: 50 5/8}", 0.5, true},
		{"leaning in, by the level", "{at: low, past: 0, plumb: {at: 70 17/32, in: 1}}", "{rake: 49 3/8}", -0.5, true},
		{"out of plumb, and nobody knows where", "{at: low, past: 0}", "{rake: 50 5/8}", 0, false},
		{"no clear at the rail", "{at: low, past: 0}", "{level: 40}", 0, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			keys := map[string]string{"from": c.from, "clear": c.clear, "to": "{at: high, past: 0}"}
			for k, v := range stair {
				keys[k] = v
			}
			r, _ := flight(t, keys, map[string]string{"parts/disc.md": "kind: rosette\nwide: 4 1/2\nthick: 3/4"})
			if len(r.Marks) == 0 {
				t.Fatalf("no marks: %+v", r.Missing)
			}
			for _, m := range r.Marks {
				at, known := m.RailHole()
				if known != c.known {
					t.Fatalf("known is %v: %+v, %+v", known, r.Lean, r.Missing)
				}
				want := (m.At.Float()/25.4 + c.begins) * 1.25
				if got := at.Float() / 25.4; known && math.Abs(got-want) > 1.0/32+1e-6 { // rounded to a sixteenth
					t.Errorf("baluster %d at %v, want %v", m.K, got, want)
				}
			}
		})
	}
}
