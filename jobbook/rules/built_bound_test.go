package rules

import (
	"strings"
	"testing"
)

// TestBuiltBound: the girth of a rectangle that was not read lies between bounds that the plan judges by (4.257 and 6.000 for 1 3/8 by 1 5/8, by hand). They are no size: the sheet has none as
// planned, and what is read is not said to be another one.
func TestBuiltBound(t *testing.T) {
	in := inspect(stands(t, map[string]string{
		"parts/h.md":          "kind: handrail\nsection: rectangular\nwide: 1 3/8\nhigh: 1 5/8",
		"as-built/1-first.md": "kind: as-built\ndate: 2027-02-12\nreadings:\n  - {of: stair, what: girth, read: 5 1/2}",
	}))
	got := strings.Join(told(in, "as-built/stair"), "; ")
	if !strings.Contains(got, "grip-girth-least pass") || !strings.Contains(got, "grip-girth-most pass") || strings.Contains(got, "otherwise") {
		t.Errorf("got %s", got)
	}
	rows := 0
	for _, s := range in.Sheets {
		for _, c := range s.Checks {
			if strings.Contains(c.ID, "grip-girth") {
				rows++
				if c.Known {
					t.Errorf("planned %v", c.Planned)
				}
			}
		}
	}
	if rows == 0 {
		t.Error("the girth is not on the sheet")
	}
}
