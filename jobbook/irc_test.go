package jobbook_test

import (
	"os"
	"path/filepath"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/working"
)

// TestIRC2021 holds the library's rule set to the published code, limit by limit (International Residential Code 2021; clauses as
// named), and judges each one step under, on and over. "Must not pass a sphere" is under, so that the limit itself fails; heights and
// depths are "at least" or "not more than", so that it passes. Values in inches; a status of memory is one whose clause or condition was not confirmed,
// and which must never be judged as a pass.
func TestIRC2021(t *testing.T) {
	const in = length.Inch
	set := rulesOf(t, "irc-2021")
	pass, fail, ask := finding.Pass, finding.Fail, finding.AskAuthority
	cases := []struct {
		name            string
		value           length.Length
		op              string
		clause          string
		status          working.Status
		under, on, over finding.Verdict
	}{
		{"guard-height-level", 36 * in, "at-least", "R312.1.2", working.Published, fail, pass, pass},
		{"guard-height-stair", 34 * in, "at-least", "R312.1.2 exception", working.Published, fail, pass, pass},
		{"guard-opening", 4 * in, "under", "R312.1.3", working.Published, pass, fail, fail},
		{"guard-opening-stair", 4*in + 3*in/8, "under", "R312.1.3 exception 2", working.Published, pass, fail, fail},
		{"guard-triangle", 6 * in, "under", "R312.1.3 exception 1", working.Published, pass, fail, fail},
		{"handrail-height-least", 34 * in, "at-least", "R311.7.8.1", working.Published, fail, pass, pass},
		{"handrail-height-most", 38 * in, "at-most", "R311.7.8.1", working.Published, pass, pass, fail},
		{"handrail-wall-clearance", in + in/2, "at-least", "R311.7.8", working.Memory, ask, ask, ask},
		{"handrail-projection", 4*in + in/2, "at-most", "R311.7.8, R311.7.1", working.Published, pass, pass, fail},
		{"riser-most", 7*in + 3*in/4, "at-most", "R311.7.5.1", working.Published, pass, pass, fail},
		{"riser-spread", 3 * in / 8, "at-most", "R311.7.5.1", working.Published, pass, pass, fail},
		{"tread-least", 10 * in, "at-least", "R311.7.5.2", working.Published, fail, pass, pass},
		{"tread-spread", 3 * in / 8, "at-most", "R311.7.5.2", working.Published, pass, pass, fail},
		{"nosing-least", 3 * in / 4, "at-least", "R311.7.5.3", working.Memory, ask, ask, ask},
		{"nosing-most", in + in/4, "at-most", "R311.7.5.3", working.Memory, ask, ask, ask},
		{"open-riser", 4 * in, "under", "R311.7.5.1", working.Published, pass, fail, fail},
		{"grip-round-least", in + in/4, "at-least", "R311.7.8.5", working.Published, fail, pass, pass},
		{"grip-round-most", 2 * in, "at-most", "R311.7.8.5", working.Published, pass, pass, fail},
		{"grip-girth-least", 4 * in, "at-least", "R311.7.8.5", working.Published, fail, pass, pass},
		{"grip-girth-most", 6*in + in/4, "at-most", "R311.7.8.5", working.Published, pass, pass, fail},
		{"grip-across-most", 2*in + in/4, "at-most", "R311.7.8.5", working.Published, pass, pass, fail},
		{"recess-starts-most", 3 * in / 4, "at-most", "R311.7.8.5", working.Published, pass, pass, fail},
		{"recess-deep-least", 5 * in / 16, "at-least", "R311.7.8.5", working.Published, fail, pass, pass},
		{"recess-within-most", 7 * in / 8, "at-most", "R311.7.8.5", working.Published, pass, pass, fail},
		{"recess-kept-least", 3 * in / 8, "at-least", "R311.7.8.5", working.Published, fail, pass, pass},
		{"recess-to-least", in + 3*in/4, "at-least", "R311.7.8.5", working.Published, fail, pass, pass},
		{"recess-wide-least", in + in/4, "at-least", "R311.7.8.5", working.Published, fail, pass, pass},
		{"recess-wide-most", 2*in + 3*in/4, "at-most", "R311.7.8.5", working.Published, pass, pass, fail},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			l := set.Limit(c.name)
			if l == nil {
				t.Fatal("the rule set has no such limit")
			}
			if l.Value.Length != c.value || l.Op != c.op || l.Clause.Text != c.clause || l.Status != c.status {
				t.Errorf("%v %s %q %v", l.Value.Length, l.Op, l.Clause.Text, l.Status)
			}
			for _, step := range []length.Length{length.Nanometre, in / 64} {
				for _, at := range []struct {
					value length.Length
					want  finding.Verdict
				}{{c.value - step, c.under}, {c.value, c.on}, {c.value + step, c.over}} {
					found := rules.Judge(set, []finding.Measure{{Limit: c.name, Subject: "x", Group: "run/x", Value: at.value, Known: true}})
					if len(found) != 1 || found[0].Verdict != at.want {
						t.Errorf("%v is %+v, want %v", at.value, found, at.want)
					}
				}
			}
		})
	}
	if len(set.Limits) != len(cases)+1 { // and the drop, below
		t.Errorf("%d limits, %d are known to this test", len(set.Limits), len(cases)+1)
	}
	// R312.1.1 (published): more than 30 in above the floor below calls for a guard; exactly 30 does not.
	for _, c := range []struct {
		drop length.Length
		want finding.Verdict
	}{{30*in - 1, finding.NotRequired}, {30 * in, finding.NotRequired}, {30*in + 1, finding.Pass}} {
		found := rules.Judge(set, []finding.Measure{{Limit: "guard-drop", Group: "run/x", Value: c.drop, Known: true}})
		if len(found) != 1 || found[0].Verdict != c.want {
			t.Errorf("a drop of %v: %+v", c.drop, found)
		}
	}
}

func rulesOf(t *testing.T, name string) *job.RuleSet {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "job.md"), []byte("---\nkind: job\nrules: "+name+"\n---\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	r, err := jobbook.Check(dir)
	if err != nil || r.Plan == nil {
		t.Fatal(err, r.Problems)
	}
	return r.Job.Rules
}
