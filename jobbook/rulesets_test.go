package jobbook_test

import (
	"slices"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/working"
)

// TestEveryLimit: every limit of every rule set of the library, a nanometre under, on, and over it. What is right is written out here by the comparison's own words; a value from memory
// is never a pass.
func TestEveryLimit(t *testing.T) {
	result, err := jobbook.Check(folder(t, map[string]string{"job.md": "kind: job"}))
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]bool{}
	for _, set := range result.Job.RuleSets {
		names[set.Name] = true
		for _, l := range set.Limits {
			for i, value := range []length.Length{l.Value.Length - 1, l.Value.Length, l.Value.Length + 1} {
				holds := map[string][3]bool{"under": {true, false, false}, "at-most": {true, true, false}, "at-least": {false, true, true}, "over": {false, false, true}}[l.Op][i]
				want := finding.Fail
				switch {
				case l.Status == working.Memory:
					want = finding.AskAuthority
				case l.Name == "guard-drop" && !holds:
					want = finding.NotRequired
				case holds:
					want = finding.Pass
				}
				got := rules.Judge(set, []finding.Measure{{Limit: l.Name, Subject: "it", Group: "run/r", Value: value, Known: true}})
				if len(got) != 1 || got[0].Verdict != want {
					t.Errorf("%s, %s, %s %s: %s is %v, want %v", set.Name, l.Name, l.Op, l.Value.Length, value, got[0].Verdict, want)
				}
			}
		}
	}
	for _, name := range []string{"irc-2021", "ibc-2021", "england-adk-2013", "canada-nbc", "australia-ncc-2022", "new-zealand-f4"} {
		if !names[name] {
			t.Errorf("there is no rule set %s", name)
		}
	}
}

// TestRuleSetValues: the published values as they were read (columns of the codes named in each file), here once more.
func TestRuleSetValues(t *testing.T) {
	result, err := jobbook.Check(folder(t, map[string]string{"job.md": "kind: job"}))
	if err != nil {
		t.Fatal(err)
	}
	mm := func(n int64) length.Length { return length.Length(n) * length.Millimetre }
	in := func(n int64) length.Length { return length.Length(n) * length.Inch }
	for set, want := range map[string]map[string]length.Length{
		"ibc-2021":           {"guard-drop": in(30), "guard-height-level": in(42), "guard-opening": in(4)},
		"england-adk-2013":   {"guard-drop": mm(600), "guard-height-level": mm(900), "guard-height-stair": mm(900), "guard-opening": mm(100), "guard-opening-stair": mm(100)},
		"canada-nbc":         {"guard-drop": mm(600), "guard-height-level": mm(900), "guard-height-stair": mm(900), "guard-opening": mm(100), "guard-opening-stair": mm(100)},
		"australia-ncc-2022": {"guard-drop": mm(1000), "guard-height-level": mm(1000), "guard-height-stair": mm(865), "guard-opening": mm(125), "guard-opening-stair": mm(125)},
		"new-zealand-f4":     {"guard-drop": mm(1000), "guard-opening": mm(100), "guard-triangle": mm(150)},
	} {
		i := slices.IndexFunc(result.Job.RuleSets, func(r *job.RuleSet) bool { return r.Name == set })
		for name, value := range want {
			if l := result.Job.RuleSets[i].Limit(name); l == nil || l.Value.Length != value {
				t.Errorf("%s, %s: %+v, want %s", set, name, l, value)
			}
		}
	}
	// No value is given where none was read.
	for set, name := range map[string]string{"ibc-2021": "guard-height-stair", "new-zealand-f4": "guard-height-level"} {
		i := slices.IndexFunc(result.Job.RuleSets, func(r *job.RuleSet) bool { return r.Name == set })
		if l := result.Job.RuleSets[i].Limit(name); l != nil {
			t.Errorf("%s has a limit %s", set, name)
		}
	}
}

// TestBothDrops: a drop of exactly 1000 calls for a barrier where the code says 1000 or more.
func TestBothDrops(t *testing.T) {
	for drop, want := range map[string]finding.Verdict{"999 mm": finding.NotRequired, "1000 mm": finding.Pass} {
		files := map[string]string{"job.md": "kind: job\nunits: mm\nrules: australia-ncc-2022\nheight: 1000\ndrop: " + drop + "\nbaluster: square-1-1-4-long\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\nfillet: fillet-1-1-4\nrosette: none\nposts: {a: {newel: square-3-1-2, foot: plate}}", "runs/r.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 2000, rail: 2000}"}
		result, err := jobbook.Check(folder(t, files))
		if err != nil || result.Plan == nil {
			t.Fatalf("%v %+v", err, result.Problems)
		}
		if f := findingOf(result.Plan, "check/run/r/guard-drop"); f.Verdict != want {
			t.Errorf("%s: %v, want %v", drop, f.Verdict, want)
		}
	}
}
