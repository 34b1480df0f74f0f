package jobbook

import (
	"fmt"
	"testing"
)

// TestOpeningSaysWhere: an opening between balusters on treads names the one on its left in words and as a number, for the drawing.
func TestOpeningSaysWhere(t *testing.T) {
	result, err := Check("../sample-job")
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	seen := 0
	for _, r := range result.Plan.Layout.Runs {
		if r.Rake == nil || !r.Rake.OnTreads {
			continue
		}
		for _, o := range r.Openings {
			if o.Part == "between" && len(r.Marks) > 1 {
				seen++
				if want := fmt.Sprintf("between balusters %d and %d", o.Left, o.Left+1); o.Where != want {
					t.Errorf("%s: %q, want %q", r.Name, o.Where, want)
				}
			}
		}
	}
	if seen == 0 {
		t.Error("the sample has no opening on treads")
	}
}
