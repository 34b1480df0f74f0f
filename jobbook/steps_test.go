package jobbook_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
)

// Every step of the library says what to do, with what, how to know that it is right, and what goes wrong; and how long it takes, but for a hold point.
func TestStepsAreWhole(t *testing.T) {
	files, err := filepath.Glob("../templates/library/steps/*.md")
	if err != nil || len(files) < 50 {
		t.Fatalf("%d steps, %v", len(files), err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		_, rest, _ := strings.Cut(string(text), "---\n")
		front, body, ok := strings.Cut(rest, "\n---\n")
		if !ok {
			t.Errorf("%s has no front matter", file)
		}
		for _, key := range []string{"title: ", "tools: [", "right: "} {
			if !strings.Contains("\n"+front, "\n"+key) {
				t.Errorf("%s has no %s", file, key)
			}
		}
		if !strings.Contains(front, "\nhold: ") && !strings.Contains(front, "\nminutes: ") {
			t.Errorf("%s has no minutes", file)
		}
		if what, wrong, ok := strings.Cut(body, "*What goes wrong:* "); !ok || len(strings.TrimSpace(what)) < 40 || len(strings.TrimSpace(wrong)) < 10 {
			t.Errorf("%s does not say what to do and what goes wrong", file)
		}
	}
}

// The order of a whole job (common practice): what may not be swapped on any stair.
func TestStepsInOrder(t *testing.T) {
	for _, c := range []struct{ dir, rows string }{
		{"../sample-job", `survey barrier-at-once agree look-inside hold-before-ordering measure order receive plan-again acclimatise test-the-finish finish-parts make-ready barrier-up lead-work-area take-out-old-guard patch-and-blocking remeasure hold-before-cutting posts-dry flight-first wall-ends cut-raked-rail cut-rails shoe-down lay-out-marks gauge-before-drilling hold-before-drilling drill rail-centres bore-posts rails-on fix-posts push-test balusters fillets gauge-openings plugs-and-touch-up last-coat hold-before-barrier-down barrier-down as-built hand-over`},
		{"../sample-job", `hold-before-cutting plate-feet posts-dry`},
		{"../sample-job", `hold-before-cutting bolted-feet posts-dry`},
		{"../sample-job", `hold-before-cutting let-in-feet posts-dry`},
		{"../sample-job", `cut-raked-rail mark-treads gauge-before-drilling`},
		{"../testdata/metric-job", `look-inside barrier-up open-walls patch-and-blocking remeasure hold-before-cutting posts-dry cut-raked-rail cut-rails rails-on fix-posts push-test balusters hand-over`},
	} {
		result, err := jobbook.Check(c.dir)
		if err != nil || result.Plan == nil {
			t.Fatalf("%v %v", err, result.Problems)
		}
		var got []string
		for _, step := range result.Plan.Sequence.Steps {
			got = append(got, step.Step.Name)
		}
		last := -1
		for _, name := range strings.Fields(c.rows) {
			switch i := slices.Index(got, name); {
			case i < 0:
				t.Errorf("%s: no step %s", c.dir, name)
			case i < last:
				t.Errorf("%s: %s comes before %s", c.dir, name, got[last])
			default:
				last = i
			}
		}
	}
}

// What steps count in the sample, by hand from its files: two posts on plates, one bolted, one let in; three level runs and a flight with 14 treads and two balusters to each.
func TestStepQuantities(t *testing.T) {
	result, err := jobbook.Check("../sample-job")
	if err != nil || result.Plan == nil {
		t.Fatalf("%v %v", err, result.Problems)
	}
	want := map[string]int{"plate-posts": 2, "bolted-posts": 1, "let-in-posts": 1, "level-rails": 3, "flight-balusters": 28}
	for _, step := range result.Plan.Sequence.Steps {
		for _, q := range step.Quantities {
			if n, ok := want[q.Name]; ok {
				if !q.Known || q.N != n {
					t.Errorf("%s of %s: %+v, want %d", q.Name, step.Step.Name, q, n)
				}
				delete(want, q.Name)
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("no step counts %v", want)
	}
}
