package jobbook_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/load"
)

// TestFootHeld: a square foot on the floor, without a shoe, is held by glue on its end alone, which is nothing: it is asked for by name, there is no row of a glued pin, and the push on the baluster is not screened. A shoe, a pin or a fastening of the shop settles it.
func TestFootHeld(t *testing.T) {
	screw := "kind: fastening\ntitle: Own screw\njoins: baluster to floor\nwith: wood-screw-8-2\nthrough: baluster\ninto: floor"
	for _, c := range []struct {
		name, run, own string
		held           bool
	}{
		{"a shoe", "", "", true},
		{"on the floor", "\nshoe: none", "", false},
		{"on the floor, with a fastening", "\nshoe: none", screw, true},
		{"on the floor, with glue of its own", "\nshoe: none", "kind: fastening\ntitle: Own glue\njoins: baluster to floor\nwith: wood-glue", false},
		{"on the floor, with a pin", "\nshoe: none\nbaluster: pinned", "", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := maps.Clone(simple)
			files["job.md"] = strings.Replace(files["job.md"], "posts: {a: {newel: square-3-1-2, foot: plate}}", "posts: {a: {newel: square-3-1-2, foot: plate}, b: {newel: square-3-1-2, foot: plate}}", 1)
			files["runs/1-hall.md"] = "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}" + c.run
			files["parts/pinned.md"] = "kind: baluster\nspecies: poplar\nwide: 1 1/4\nlong: 42\nbottom: pin\npin: {wide: 3/4, long: 3/4}"
			if c.own != "" {
				files["fastenings/own.md"] = c.own
			}
			p := planOf(t, folder(t, files))
			asked := 0
			for _, m := range p.Missing {
				if strings.Contains(m.What, "holds the foot of") {
					asked++
				}
			}
			rows := 0
			for _, x := range p.Takeoff.Fixings {
				if x.Run == "hall" && strings.HasPrefix(x.Fastening.Joins.Text, "baluster to ") && x.Fastening.Joins.Text != "baluster to rail" {
					rows++
				}
			}
			i := slices.IndexFunc(p.Loads.Members, func(m load.Member) bool { return m.Name == "baluster" && strings.HasSuffix(m.Group, "hall") })
			if i < 0 {
				t.Fatal("no baluster among the loads")
			}
			if v := p.Loads.Members[i].Verdict; (asked == 0) != c.held || (rows > 0) != c.held || !c.held && v != finding.ToBeMeasured || c.held && v == finding.ToBeMeasured {
				t.Errorf("asked %d, %d rows, %v", asked, rows, v)
			}
		})
	}
}
