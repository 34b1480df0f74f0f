package rules

import (
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
)

// TestBuiltOverTheLanding: a flight of 7 1/2 on 10 with nosings of 1 goes 6 on over its landing; 35 1/4 over the line of the nosings is 36 over the landing at
// the highest riser, 3/4 of 1 higher. The sheet has a row for it, a reading there is judged by the 36 of a level guard and not by the stair's 34, and held to the plan.
func TestBuiltOverTheLanding(t *testing.T) {
	const stair = "kind: flight\nfrom: {at: wall, before: 1}\nto: {at: a, past: 6}\nrisers: [7 1/2, 7 1/2, 7 1/2]\ngoings: [10, 10]\nnosing: 1\nclear: {level: 27}\nheight: 35 1/4"
	for _, c := range []struct {
		read      string
		want      finding.Verdict
		otherwise bool
	}{{"35 63/64", finding.Fail, false}, {"36", finding.Pass, false}, {"36 1/8", finding.Pass, false}, {"36 9/64", finding.Pass, true}} {
		in := inspect(stands(t, map[string]string{"runs/2-stair.md": stair, "b.md": "kind: as-built\ndate: 2027-02-12\nreadings: [{of: stair, what: landing height, read: " + c.read + "}]"}))
		judged, otherwise := false, false
		for _, f := range in.Findings {
			if strings.HasPrefix(f.ID, "check/as-built/stair/guard-height-level") {
				judged = true
				if f.Verdict != c.want {
					t.Errorf("%s: %s, want %s", c.read, f.Verdict, c.want)
				}
			}
			otherwise = otherwise || strings.Contains(f.ID, "/otherwise/")
		}
		if !judged || otherwise != c.otherwise {
			t.Errorf("%s: judged %v, otherwise than planned %v", c.read, judged, otherwise)
		}
		row := false
		for _, s := range in.Sheets {
			for _, k := range s.Checks {
				if k.ID == "as-built/stair/landing-height" {
					row = k.Known && k.Planned == 36*length.Inch && k.Verdict == c.want
				}
			}
		}
		if !row {
			t.Errorf("%s: no row of the sheet for it", c.read)
		}
	}
}
