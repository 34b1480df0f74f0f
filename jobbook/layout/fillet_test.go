package layout_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
)

// filletsOf writes a run's fillets: what, how many, how long.
func filletsOf(r *layout.Run) string {
	var list []string
	for _, c := range r.Fillets {
		long := tape(c.Length)
		if c.ToFit {
			long = "to fit"
		}
		list = append(list, c.What+" "+strings.Repeat("1", c.Count)+" "+long)
	}
	return strings.Join(list, ", ")
}

// TestFilletWithoutBalusters: 3 1/2 between two posts needs no baluster under 4, and each plow is filled from end to end. At a wall the rail's begins at
// the rosette, 3/4 off it. Lean that nobody settled leaves the rail's to be fitted. On 9 in 12, a secant of 5/4, the shoe's is 4 3/8 (by hand).
func TestFilletWithoutBalusters(t *testing.T) {
	for run, want := range map[string]string{
		"from: a\nto: b\nclear: {floor: 3 1/2, rail: 3 1/2}":                                         "shoe fillet 1 3 1/2, rail fillet 1 3 1/2",
		"from: a\nto: {at: wall, held: stud, rosette: plate}\nclear: {floor: 3 1/2, rail: 3 1/2}":    "shoe fillet 1 3 1/2, rail fillet 1 2 3/4",
		"from: a\nto: b\nclear: {floor: 3 1/2, rail: 3 3/4}\ncount: 0":                               "shoe fillet 1 3 1/2, rail fillet 1 to fit",
		"from: a\nto: b\nclear: {floor: 3 1/2, rail: 3 1/2}\nbaluster:\nfillet: none":                "",
		"from: {at: a, face: base trim, thick: 1/2, high: 4}\nto: b\nclear: {floor: 3, rail: 3 1/2}": "shoe fillet 1 3, rail fillet 1 3 1/2",
	} {
		r := one(t, jobHead, run)
		if r.Chosen == nil || r.Chosen.Count != 0 {
			t.Fatalf("%s: %+v", run, r.Chosen)
		}
		if got := filletsOf(r); got != want {
			t.Errorf("%s: %s, want %s", run, got, want)
		}
	}
	r, _ := flight(t, map[string]string{"risers": alike(5, "9"), "goings": alike(4, "12"), "to": "high", "clear": "{level: 3 1/2, rake: 4 3/8}", "shoe": "shoe", "shoe-over": "1", "under-shoe": "closed", "fillet": "fillet"},
		map[string]string{"parts/shoe.md": parts["parts/shoe.md"]})
	if got := filletsOf(r); got != "shoe fillet 1 4 3/8" { // the handrail there has no plow
		t.Errorf("on a rake: %s", got)
	}
}

// TestNoRoomForFillets: a place without room for a fillet is a finding of its own. Half an inch of rosette at each end is more than the 7/32 in that one baluster of 1 1/4 in leaves of 1 11/16 in on either side.
func TestNoRoomForFillets(t *testing.T) {
	files := map[string]string{
		"job.md":          jobHead + "\nrosette: thick",
		"parts/thick.md":  "kind: rosette\nwide: 4 1/2\nthick: 1/2",
		"runs/1-short.md": "kind: run\nfrom: wall\nto: wall\nclear: {floor: 1 11/16, rail: 1 11/16}\nlevel: [{at: 0, down: 40}, {at: 1 11/16, down: 40}]\ncount: 1",
	}
	_, l := lay(t, files)
	seen, closed := map[string]bool{}, 0
	for _, f := range l.Runs[0].Findings {
		if seen[f.ID] {
			t.Errorf("%s stands twice", f.ID)
		}
		seen[f.ID] = true
		if strings.HasPrefix(f.Title, "room for fillet") && f.Verdict == finding.Fail {
			closed++
		}
	}
	if closed != 2 {
		t.Errorf("%d places without room, want two: %v", closed, slices.Sorted(maps.Keys(seen)))
	}
}
