package jobbook_test

import (
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/finding"
)

// TestStartNamesAFlight: the lines that the questionnaire gives for a flight are read as they are, ask for what is blank, and lay the flight out once they are filled in.
func TestStartNamesAFlight(t *testing.T) {
	block := exampleOf(t, "## A stair beside it")
	block = strings.TrimPrefix(strings.ReplaceAll("\n"+block, "\n    ", "\n"), "\n")
	job := "kind: job\nrules: irc-2021\ndrop: 100\nheight: 38\nbaluster: square-1-1-4-long\nhandrail: rail-plow-1-1-4\nshoe: none\nposts: {foot: {newel: square-3-1-2}, head: {newel: square-3-1-2}}"
	blank, err := jobbook.Check(folder(t, map[string]string{"job.md": job, "runs/1-flight.md": block}))
	if err != nil || len(blank.Problems) > 0 {
		t.Fatalf("%v %+v", err, blank.Problems)
	}
	for _, key := range []string{"risers", "goings", "from", "to", "nosing", "clear: {rake"} {
		if !slices.ContainsFunc(blank.Plan.Missing, func(r finding.Reading) bool { return strings.HasPrefix(r.Where, "runs/1-flight.md, "+key) }) {
			t.Errorf("nobody asks for %s: %+v", key, blank.Plan.Missing)
		}
	}
	// By hand: three risers of 7 1/2 climb 22 1/2; two goings of 10 and a face 1 before the lowest riser make 21 level. The rake is 36.87 degrees: 7 1/2 to 10 is 3 to 4, so 21 level is 26 1/4 along it.
	filled := strings.NewReplacer("from: {at: , before: }", "from: {at: foot, before: 1}", "to: {at: , past: }", "to: {at: head, past: 0}",
		"  -\n  -\ngoings:\n  -\n", "  - 7 1/2\n  - 7 1/2\n  - 7 1/2\ngoings:\n  - 10\n  - 10\n", "rise: ", "rise: 22 1/2 ", "nosing:", "nosing: 1", "{level: , rake: }", "{level: 21, rake: 26 1/4}", "height: ", "height: 36 ").Replace(block)
	result, err := jobbook.Check(folder(t, map[string]string{"job.md": job, "runs/1-flight.md": filled}))
	if err != nil || len(result.Problems) > 0 {
		t.Fatalf("%v %+v\n%s", err, result.Problems, filled)
	}
	if r := result.Plan.Layout.Runs[0]; r.Chosen == nil {
		t.Errorf("it is not laid out: %+v", r.Missing)
	}
}
