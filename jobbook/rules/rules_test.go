package rules

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// The limits of the US model code that guards on a level floor are judged by (R312.1), one in each comparison, and one recalled.
const code = `kind: rules
title: A code
limits:
  guard-drop: {over: 30, clause: R312.1.1, status: published}
  guard-height-level: {at-least: 36, clause: R312.1.2, status: published}
  guard-opening: {under: 4, clause: R312.1.3, status: published}
  riser-most: {at-most: 7 3/4, clause: R311.7.5.1, status: published}
  handrail-wall-clearance: {at-least: 1 1/2, clause: R311.7.8, status: memory, note: the clause number is recalled}`

func set(t testing.TB, more ...string) *job.RuleSet {
	t.Helper()
	files := map[string]string{"job.md": "kind: job\nrules: code", "rules/code.md": code}
	for _, m := range more {
		files["job.md"], files["rules/local.md"] = "kind: job\nrules: local", m
	}
	return jobtest.Job(t, files).Rules
}

const sixtyFourth = length.Inch / 64

func known(limit, group string, v length.Length) finding.Measure {
	return finding.Measure{Limit: limit, Subject: limit, Group: group, Value: v, Known: true, Missing: "nothing"}
}

func unknown(limit, group string) finding.Measure {
	return finding.Measure{Limit: limit, Subject: limit, Group: group, Missing: "the " + limit}
}

func TestEachSideOfALimit(t *testing.T) {
	for _, c := range []struct {
		limit           string
		at              length.Length
		op              finding.Op
		under, on, over finding.Verdict
		aSmaller        bool // a smaller value is the better one
	}{
		// "Must not pass a 4 in sphere": exactly 4 fails. "At least 36": exactly 36 passes. A guard is required over 30.
		{"guard-opening", 4 * length.Inch, finding.Under, finding.Pass, finding.Fail, finding.Fail, true},
		{"riser-most", 7*length.Inch + 48*sixtyFourth, finding.AtMost, finding.Pass, finding.Pass, finding.Fail, true},
		{"guard-height-level", 36 * length.Inch, finding.AtLeast, finding.Fail, finding.Pass, finding.Pass, false},
		{"guard-drop", 30 * length.Inch, finding.Over, finding.NotRequired, finding.NotRequired, finding.Pass, false},
		{"handrail-wall-clearance", 96 * sixtyFourth, finding.AtLeast, finding.AskAuthority, finding.AskAuthority, finding.AskAuthority, false},
	} {
		for _, step := range []length.Length{sixtyFourth, length.Nanometre} {
			for _, row := range []struct {
				name string
				off  length.Length
				want finding.Verdict
			}{{"under", -step, c.under}, {"on", 0, c.on}, {"over", step, c.over}} {
				t.Run(fmt.Sprintf("%s, %s by %d nm", c.limit, row.name, step), func(t *testing.T) {
					f := Judge(set(t), []finding.Measure{known(c.limit, "run/a", c.at+row.off)})[0]
					margin := row.off
					if c.aSmaller {
						margin = -row.off
					}
					if f.Verdict != row.want || f.Margin != margin || f.Op != c.op || f.Limit != c.at || !f.HasLimit || !f.HasValue || f.Measured != c.at+row.off {
						t.Errorf("got %s by %s, %+v", f.Verdict, f.Margin, f)
					}
					if f.Rules != "code" || f.Clause == "" || f.Set.File != "rules/code.md" || f.Set.Line == 0 || f.Amends != "" || f.Status == 0 {
						t.Errorf("where the limit comes from is lost: %+v", f)
					}
				})
			}
		}
	}
}

func TestVerdicts(t *testing.T) {
	m := known("guard-opening", "run/a", 3*length.Inch)
	m.At, m.Figure, m.Note = source.Pos{File: "runs/a.md", Line: 4, Col: 8}, "run/a/opening-between", "season not counted"
	for _, c := range []struct {
		name    string
		set     *job.RuleSet
		measure finding.Measure
		want    finding.Verdict
		note    string
		limited bool
	}{
		{"pass", set(t), m, finding.Pass, "season not counted", true},
		{"no rule set", nil, m, finding.ToBeMeasured, "no rule set is chosen", false},
		{"no rule set, not measured", nil, unknown("guard-opening", "run/a"), finding.ToBeMeasured, "the guard-opening", false},
		{"not measured", set(t), unknown("guard-opening", "run/a"), finding.ToBeMeasured, "still to be measured: the guard-opening", true},
		{"not measured, the limit recalled", set(t), unknown("handrail-wall-clearance", "run/a"), finding.ToBeMeasured, "still to be measured", true},
		{"no such limit", set(t), known("guard-triangle", "run/a", length.Inch), finding.AskAuthority, "code has no limit for this", false},
		{"recalled", set(t), known("handrail-wall-clearance", "run/a", length.Foot), finding.AskAuthority, "not confirmed; the clause number is recalled", true},
		{"the drop not measured", set(t), unknown("guard-drop", "run/a"), finding.ToBeMeasured, "a guard is taken to be required", true},
		{"the drop required", set(t), known("guard-drop", "run/a", 31*length.Inch), finding.Pass, "a guard is required here; the rules below apply", true},
		{"the drop not required", set(t), known("guard-drop", "run/a", 30*length.Inch), finding.NotRequired, "a guard is not required here", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := Judge(c.set, []finding.Measure{c.measure})[0]
			if f.Verdict != c.want || !strings.Contains(f.Note, c.note) || f.HasLimit != c.limited || f.HasValue != c.measure.Known {
				t.Errorf("got %s, %+v", f.Verdict, f)
			}
			if c.measure.Limit == "guard-drop" && f.Title != "guard required" {
				t.Errorf("title %s", f.Title)
			}
			if f.At != c.measure.At || f.Figure != c.measure.Figure || f.Group != c.measure.Group {
				t.Errorf("where the value comes from is lost: %+v", f)
			}
		})
	}
	t.Run("a limit without a status", func(t *testing.T) {
		s := &job.RuleSet{Limits: []job.Limit{{Name: "guard-opening", Op: "under", Value: job.Measure{Length: 4 * length.Inch, Given: true}}}}
		if f := Judge(s, []finding.Measure{m})[0]; f.Verdict != finding.AskAuthority {
			t.Errorf("got %s", f.Verdict)
		}
	})
	t.Run("a limit without a comparison", func(t *testing.T) {
		s := &job.RuleSet{Limits: []job.Limit{{Name: "guard-opening", Op: "about", Status: working.Local, Value: job.Measure{Length: 4 * length.Inch, Given: true}}}}
		if f := Judge(s, []finding.Measure{m})[0]; f.Verdict != finding.AskAuthority || f.HasLimit {
			t.Errorf("got %+v", f)
		}
	})
}

func TestGuardRequired(t *testing.T) {
	verdicts := func(s *job.RuleSet, measures ...finding.Measure) string {
		var list []string
		for _, f := range Judge(s, measures) {
			list = append(list, f.Verdict.String())
		}
		return strings.Join(list, ", ")
	}
	low, wide := known("guard-height-level", "run/a", 20*length.Inch), known("guard-opening", "run/a", 9*length.Inch)
	steep := known("riser-most", "run/a", 9*length.Inch)
	recalled := set(t, "kind: rules\namends: code\nlimits:\n  guard-drop: {over: 30, clause: x, status: memory}")
	for _, c := range []struct {
		name string
		set  *job.RuleSet
		drop finding.Measure
		want string // of the drop, a guard too low, an opening too wide, a riser too high
	}{
		{"required", set(t), known("guard-drop", "run/a", 31*length.Inch), "pass, fail, fail, fail"},
		{"not required, at the limit", set(t), known("guard-drop", "run/a", 30*length.Inch), "not required, not required, not required, fail"},
		{"not known: as if required", set(t), unknown("guard-drop", "run/a"), "to be measured, fail, fail, fail"},
		{"another group's drop", set(t), known("guard-drop", "run/b", 10*length.Inch), "not required, fail, fail, fail"},
		{"the drop's limit recalled", recalled, known("guard-drop", "run/a", 10*length.Inch), "check with the authority, fail, fail, fail"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := verdicts(c.set, c.drop, low, wide, steep); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
	t.Run("said of a layout, and of an old guard", func(t *testing.T) {
		got := Judge(set(t), []finding.Measure{known("guard-drop", "run/a", 0), low, known("guard-drop", "survey/b", 0), known("guard-height-level", "survey/b", 0)})
		if got[1].Note != "a guard is not required here, so the rule does not apply; the layout holds to it anyway" || got[3].Note != "a guard is not required here, so the rule does not apply" {
			t.Errorf("got %q and %q", got[1].Note, got[3].Note)
		}
		if !got[1].HasLimit || got[1].Margin != -16*length.Inch {
			t.Errorf("the limit is lost: %+v", got[1])
		}
	})
	t.Run("several drops: one over is enough", func(t *testing.T) {
		one, other := known("guard-drop", "run/a", 10*length.Inch), known("guard-drop", "run/a", 31*length.Inch)
		if got := verdicts(set(t), one, other, low); got != "not required, pass, fail" {
			t.Errorf("got %s", got)
		}
		if got := verdicts(set(t), other, one, low); got != "pass, not required, fail" {
			t.Errorf("got %s", got)
		}
	})
	t.Run("nothing judged without a set", func(t *testing.T) {
		if got := verdicts(nil, known("guard-drop", "run/a", 0), low); got != "to be measured, to be measured" {
			t.Errorf("got %s", got)
		}
	})
}

func TestAmendments(t *testing.T) {
	s := set(t, "kind: rules\namends: code\nwhy: the county\nlimits:\n  guard-opening: {under: 3 1/2, clause: Ordinance 12}")
	got := Judge(s, []finding.Measure{known("guard-opening", "run/a", 3*length.Inch+48*sixtyFourth), known("guard-height-level", "run/a", 36*length.Inch)})
	f := got[0] // 3 3/4 is under the code's 4 and over the county's 3 1/2
	if f.Verdict != finding.Fail || f.Margin != -length.Inch/4 || f.Rules != "local" || f.Amends != "code" || f.Status != working.Local || f.Clause != "Ordinance 12" || f.Set.File != "rules/local.md" {
		t.Errorf("got %+v", f)
	}
	f = got[1]
	if f.Verdict != finding.Pass || f.Rules != "code" || f.Amends != "" || f.Set.File != "rules/code.md" {
		t.Errorf("got %+v", f)
	}
}

func TestIDs(t *testing.T) {
	figure := func(m finding.Measure, id string) finding.Measure { m.Figure = id; return m }
	open := func(group string) finding.Measure { return known("guard-opening", group, length.Inch) }
	measures := []finding.Measure{
		known("guard-drop", "run/a", length.Metre), open("run/b"),
		figure(open("run/a"), "run/a/opening-from"), figure(open("run/a"), "run/a/opening-between"),
		open("survey/c"), open("survey/c"), figure(open("survey/c"), "x-1"), figure(open("survey/c"), "x-1"),
	}
	var got []string
	for _, f := range Judge(set(t), measures) {
		got = append(got, f.ID)
	}
	want := []string{
		"check/run/a/guard-drop", "check/run/b/guard-opening", "check/run/a/guard-opening/from", "check/run/a/guard-opening/between",
		"check/survey/c/guard-opening/1", "check/survey/c/guard-opening/2", "check/survey/c/guard-opening/3", "check/survey/c/guard-opening/4",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestSurvey(t *testing.T) {
	j := jobtest.Job(t, map[string]string{
		"job.md": "kind: job\nrules: code\ndrop: 105", "rules/code.md": code,
		"survey/1-gallery.md": "kind: survey\nheight: 35 3/4\nopenings:\n  - {where: between balusters, read: 5 1/2}\n  - {read: 3 1/2}\n  - {where: at the wall, read: }",
		"survey/2-porch.md":   "kind: survey\ndrop: 14\nheight: ",
	})
	var got []string
	for _, f := range Judge(j.Rules, Survey(j)) {
		got = append(got, fmt.Sprintf("%s %s %s", f.ID, f.At.String(), f.Verdict))
	}
	want := []string{ // by hand from the files above and the limits: over 30, at least 36, under 4
		"check/survey/gallery/guard-drop job.md:4:7 pass",
		"check/survey/gallery/guard-height-level survey/1-gallery.md:3:9 fail",
		"check/survey/gallery/guard-opening/1 survey/1-gallery.md:5:38 fail",
		"check/survey/gallery/guard-opening/2 survey/1-gallery.md:6:12 pass",
		"check/survey/gallery/guard-opening/3 survey/1-gallery.md:7:32 to be measured",
		"check/survey/porch/guard-drop survey/2-porch.md:3:7 not required",
		"check/survey/porch/guard-height-level survey/2-porch.md:4:8 not required",
		"check/survey/porch/guard-opening survey/2-porch.md not required",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	for _, m := range Survey(j) {
		if m.Subject == "" || m.Missing == "" || m.At.IsZero() {
			t.Errorf("got %+v", m)
		}
	}
	t.Run("nothing read", func(t *testing.T) {
		j := jobtest.Job(t, map[string]string{"job.md": "kind: job", "survey/old.md": "kind: survey"})
		list := Survey(j)
		if len(list) != 3 {
			t.Fatalf("got %+v", list)
		}
		for _, m := range list {
			if m.Known || m.At.File != "survey/old.md" && m.At.File != "job.md" {
				t.Errorf("got %+v", m)
			}
		}
	})
}

func TestOldSurface(t *testing.T) {
	old := func(t *testing.T, head string, surveys ...string) finding.Finding {
		t.Helper()
		files := map[string]string{"job.md": "kind: job\n" + head}
		for i, s := range surveys {
			files[fmt.Sprintf("survey/%d-old-%d.md", i+1, i+1)] = "kind: survey\n" + s
		}
		return Lead(finish.Work(jobtest.Job(t, files), layout.Layout{}).Old[0])
	}
	// 1 1/4 by 36 square is 180 sq in: five are 6.25 sq ft, four are 5. A square 1 by 216 is 6 sq ft exactly.
	five, four := "members: [{count: 5, wide: 1 1/4, long: 36}]", "members: [{count: 4, wide: 1 1/4, long: 36}]"
	for _, c := range []struct {
		name    string
		head    string
		surveys []string
		want    finding.Verdict
		note    string
	}{
		{"over", "built: 1931", []string{"coated: paint\n" + five}, finding.AskAuthority, "6.25 sq ft of coated surface, over 6 sq ft: renovation work when done for pay in a house from before 1978"},
		{"over, the year not known", "", []string{five}, finding.AskAuthority, "the year of the house is not known"},
		{"over, not for pay", "built: 1931\nfor-pay: no", []string{five}, finding.AskAuthority, "not done for pay"},
		{"over by those counted", "built: 1977", []string{"members: [{count: 5, wide: 1 1/4, long: 36}, {what: rail}]"}, finding.AskAuthority, "at least 6.25 sq ft"},
		{"exactly 6", "built: 1931", []string{"members: [{count: 1, wide: 1, long: 216}]"}, finding.NotRequired, "6 sq ft of coated surface, no more than 6 sq ft"},
		{"a sixty-fourth over", "built: 1931", []string{"members: [{count: 1, wide: 1, long: 216 1/64}]"}, finding.AskAuthority, "6.01 sq ft of coated surface, over 6 sq ft"},
		{"under", "built: 1931", []string{four}, finding.NotRequired, "5 sq ft of coated surface, no more than 6 sq ft"},
		{"under alone, over with the other", "built: 1931", []string{four, four}, finding.AskAuthority, "10 sq ft with the other old guards"},
		{"under, with the other too", "built: 1931", []string{four, "members: [{count: 1, wide: 1, long: 36}]"}, finding.NotRequired, "no more than 6 sq ft"},
		{"not counted", "built: 1931", []string{"coated: unknown"}, finding.ToBeMeasured, "still to be measured"},
		{"bare wood", "built: 1931", []string{"coated: bare\n" + five}, finding.NotRequired, "bare wood"},
		{"a house from 1978", "built: 1978", []string{five}, finding.NotRequired, "from 1978, not from before"},
		{"a house from 1977", "built: 1977", []string{five}, finding.AskAuthority, "over 6"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := old(t, c.head, c.surveys...)
			if f.Verdict != c.want || !strings.Contains(f.Note, c.note) {
				t.Errorf("got %s: %s", f.Verdict, f.Note)
			}
			if f.ID != "check/survey/old-1/old-surface" || f.Group != "survey/old-1" || f.Clause != "40 CFR 745.83" || f.Status != working.Published || f.At.IsZero() || f.Title == "" || f.Rules == "" {
				t.Errorf("got %+v", f)
			}
		})
	}
}

// Whatever is measured, and by whichever set: there is a verdict, and a pass rests on a limit with a clause that was confirmed.
func TestNeverAPassWithoutALimit(t *testing.T) {
	for _, s := range []*job.RuleSet{nil, {}, set(t)} {
		for _, k := range job.LimitNames {
			for _, v := range []length.Length{0, length.Inch, 5 * length.Inch, length.Metre} {
				f := Judge(s, []finding.Measure{known(k.Key, "run/a", v)})[0]
				if f.Verdict < finding.Fail || f.Verdict > finding.Pass {
					t.Errorf("%s has no verdict", k.Key)
				}
				if f.Verdict == finding.Pass && (!f.HasLimit || f.Clause == "" || f.Status == working.Memory) {
					t.Errorf("%s passes by nothing: %+v", k.Key, f)
				}
			}
		}
	}
}
