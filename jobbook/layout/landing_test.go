package layout_test

import (
	"math"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
)

// TestHeightOverTheLanding: four goings of 10 and risers of 7 1/2, 3 in 4, nosings of 1. Over the face of the highest riser the rail is 3/4 higher
// above the landing than above the nosings: at 35 1/4 just the 36 of a level guard, a sixteenth lower under it (by hand). The line of the
// nosings alone would pass either, over 34. A guard that ends at the riser is a stair's alone.
func TestHeightOverTheLanding(t *testing.T) {
	for _, c := range []struct {
		height, past string
		over         bool
		want         finding.Verdict
		high         string
	}{
		{"35 1/4", "6", true, finding.Pass, "36"},
		{"35 3/16", "6", true, finding.Fail, "35 15/16"},
		{"35 5/16", "6", true, finding.Pass, "36 1/16"},
		{"35 3/16", "0", false, 0, ""},
		{"", "6", true, finding.ToBeMeasured, ""},
	} {
		r, f := flight(t, map[string]string{"goings": alike(4, "10"), "to": "{at: high, past: " + c.past + "}", "clear": "{rake: 57 1/2}", "height": c.height}, nil)
		judged := false
		for i, m := range r.Measures {
			if m.Limit != "guard-height-level" {
				continue
			}
			judged = true
			if f[i].Verdict != c.want || c.high != "" && tape(m.Value) != c.high {
				t.Errorf("%s, past %s: %s %v, want %s %v", c.height, c.past, tape(m.Value), f[i].Verdict, c.high, c.want)
			}
			if c.high == "" {
				continue
			}
			if got := value(t, r, "height-landing"); math.Abs(got-m.Value.Float()/25.4) > 1e-9 {
				t.Errorf("the figure says %v, the measure %v", got, m.Value.Float()/25.4)
			}
		}
		if judged != c.over {
			t.Errorf("past %s: judged over the landing: %v", c.past, judged)
		}
		if c.height != "" && verdict(t, r, f, "guard-height-stair", "height of the guard above the nosings") != finding.Pass {
			t.Errorf("%s above the nosings does not pass", c.height)
		}
	}
	r, f := flight(t, map[string]string{"goings": "{count: 4, total: 40}", "to": "{at: high, past: 6}", "clear": "{rake: 57 1/2}"}, nil)
	for i, m := range r.Measures {
		if strings.Contains(m.Subject, "landing") && m.Limit == "guard-height-level" && f[i].Verdict != finding.ToBeMeasured {
			t.Errorf("goings divided evenly: %v", f[i].Verdict)
		}
	}
}
