package layout_test

import (
	"regexp"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
)

// TestOpeningCure: what the cure says is written into the file, and every opening passes. Two to a going of 12 1/2 are 6 1/4 from middle to middle and leave 5, more than the 4 3/8 of
// the model code (IRC 2021, R312.1.3 exception 2); three leave 2 11/12. Two to a going of 10 1/2 leave 4; one leaves 9 1/4 (by hand).
func TestOpeningCure(t *testing.T) {
	oneMore := regexp.MustCompile(`\(one-more: (\[[0-9, ]+\])\)`)
	fails := func(list []finding.Finding) (cure string, n int) {
		for _, f := range list {
			if f.Verdict == finding.Fail && strings.HasPrefix(f.Title, "worst opening") {
				cure = f.Cure
				n++
			}
		}
		return cure, n
	}
	named := map[int]int{}
	for name, keys := range map[string]map[string]string{
		"two wide treads":          {"per-tread": "2", "goings": "[12 1/2, 10 1/2, 12 1/2, 10 1/2]", "clear": "{level: 46}"},
		"one wide tread":           {"per-tread": "2", "goings": "[10 1/2, 12 1/2, 10 1/2, 10 1/2]", "clear": "{level: 44}"},
		"one wide tread, one told": {"per-tread": "2", "one-more": "[4]", "goings": "[10 1/2, 12 1/2, 10 1/2, 10 1/2]", "clear": "{level: 44}"},
		"one to the tread":         {"per-tread": "1"},
	} {
		t.Run(name, func(t *testing.T) {
			r, list := flight(t, keys, nil)
			cure, n := fails(list)
			if n == 0 || cure == "" {
				t.Fatalf("%d fail, the cure is %q: %+v", n, cure, r.Chosen)
			}
			changed := map[string]string{}
			for k, v := range keys {
				changed[k] = v
			}
			if m := oneMore.FindStringSubmatch(cure); m != nil {
				changed["one-more"] = m[1]
				named[strings.Count(m[1], ",")+1]++
			} else if name == "one to the tread" && strings.HasPrefix(cure, "write per-tread: 2;") {
				changed["per-tread"] = "2"
			} else {
				t.Fatalf("the cure names nothing to write: %q", cure)
			}
			if r, list := flight(t, changed, nil); r.Chosen == nil || !r.Chosen.Passes {
				t.Errorf("cured by %q, it still fails: %+v", cure, list)
			}
		})
	}
	if named[1] != 1 || named[2] != 2 { // one that the job has already is named along with the other
		t.Errorf("treads named: %v", named)
	}
}
