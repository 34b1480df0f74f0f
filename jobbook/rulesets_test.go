package jobbook_test

import (
	"maps"
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

// TestLoadValues: the loads as they were read (IRC Table R301.5; IBC; BS 6180 Table 2; NBC 9.8.8; NCC 2022), here once more, and none where none was read.
func TestLoadValues(t *testing.T) {
	result, err := jobbook.Check(folder(t, map[string]string{"job.md": "kind: job"}))
	if err != nil {
		t.Fatal(err)
	}
	type value struct {
		thousandths int64
		unit        string
	}
	for set, want := range map[string]map[string]value{
		"irc-2021":           {"rail-point": {200_000, "lb"}, "infill-square": {50_000, "lb"}},
		"ibc-2021":           {"rail-point": {200_000, "lb"}, "rail-line": {50_000, "lb/ft"}, "infill-square": {50_000, "lb"}},
		"england-adk-2013":   {"rail-line": {360, "kN/m"}, "infill-pressure": {500, "kN/m2"}, "infill-point": {250, "kN"}},
		"canada-nbc":         {"rail-point": {1000, "kN"}, "rail-line": {500, "kN/m"}, "infill-square": {500, "kN"}},
		"australia-ncc-2022": {"rail-point": {600, "kN"}, "rail-line": {350, "kN/m"}},
		"new-zealand-f4":     {},
	} {
		i := slices.IndexFunc(result.Job.RuleSets, func(r *job.RuleSet) bool { return r.Name == set })
		got := map[string]value{}
		for _, l := range result.Job.RuleSets[i].Loads {
			got[l.Name] = value{l.Value.Thousandths, l.Value.Unit}
			if l.Status == 0 || !l.Clause.Given {
				t.Errorf("%s, %s has no status or clause", set, l.Name)
			}
		}
		if !maps.Equal(got, want) {
			t.Errorf("%s: %v, want %v", set, got, want)
		}
	}
	for set, side := range map[string]length.Length{"irc-2021": 12 * length.Inch, "ibc-2021": 12 * length.Inch, "canada-nbc": 300 * length.Millimetre} {
		i := slices.IndexFunc(result.Job.RuleSets, func(r *job.RuleSet) bool { return r.Name == set })
		if l := result.Job.RuleSets[i].Load("infill-square"); l.Side.Length != side {
			t.Errorf("%s: on a square of %s, want %s", set, l.Side.Length, side)
		}
	}
}
