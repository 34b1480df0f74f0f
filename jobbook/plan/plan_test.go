package plan_test

import (
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/working"
)

// made plans a job given by its files' front matter.
func made(t *testing.T, files map[string]string) *plan.Plan {
	t.Helper()
	j := jobtest.Job(t, files)
	p, problems := plan.Make(j, nil)
	for _, problem := range problems {
		t.Errorf("%s: %s", problem.At, problem.Summary)
	}
	return p
}

const rules = "kind: rules\nlimits:\n  guard-opening: {under: 4, clause: A, status: published}\n  guard-height-level: {at-least: 36, clause: B, status: published}\n  guard-drop: {over: 30, clause: C, status: published}"

// TestRunMeasuresAreJudged has one run whose height is one sixteenth under the limit, and whose drop calls for a guard.
func TestRunMeasuresAreJudged(t *testing.T) {
	p := made(t, map[string]string{
		"job.md":      "kind: job\nrules: rules\nheight: 35 15/16\ndrop: 30 1/16\nbaluster: b\nhandrail: h\nshoe: none\nposts: {a: {newel: n}, z: {newel: n}}",
		"rules.md":    rules,
		"parts/b.md":  "kind: baluster\nwide: 1 1/4\nlong: 40",
		"parts/h.md":  "kind: handrail\nwide: 2\nhigh: 2",
		"parts/n.md":  "kind: newel\nwide: 3\nlong: 48",
		"runs/r.md":   "kind: run\nfrom: a\nto: z\nclear: {floor: 60, rail: 60}",
		"survey/s.md": "kind: survey\nheight: 30\nopenings: [{where: here, read: 5}]\ncoated: bare",
	})
	verdicts := map[string]finding.Verdict{}
	for _, f := range p.Findings {
		verdicts[f.ID] = f.Verdict
	}
	for id, want := range map[string]finding.Verdict{
		"check/run/r/guard-height-level":    finding.Fail,
		"check/run/r/guard-drop":            finding.Pass,
		"check/survey/s/guard-height-level": finding.Fail,
		"check/survey/s/guard-opening":      finding.Fail,
		"check/survey/s/old-surface":        finding.NotRequired,
	} {
		if verdicts[id] != want {
			t.Errorf("%s: %v, want %v; there are %v", id, verdicts[id], want, verdicts)
		}
	}
	if first := p.Findings[0]; first.Group != "run/r" || first.Verdict != finding.Fail {
		t.Errorf("the first finding is %+v", first)
	}
	old := 0
	for _, f := range p.Findings {
		if p.OfOld(f) {
			old++
		}
	}
	if old == 0 || old == len(p.Findings) {
		t.Errorf("%d of %d findings are of the old guard", old, len(p.Findings))
	}
}

// TestAsks: a job that says nothing asks for the day, the year, the children and the pay, and for a run; each once.
func TestAsks(t *testing.T) {
	p := made(t, map[string]string{"job.md": "kind: job\nbuilt:"})
	var keys []string
	for _, m := range p.Missing {
		_, key, _ := strings.Cut(m.Where, ", ")
		keys = append(keys, strings.TrimSpace(key))
	}
	want := []string{"measured:", "built:", "surfacing:", "children:", "for-pay:", ""}
	if !slices.Equal(keys, want) {
		t.Errorf("asks for %q, want %q", keys, want)
	}
	if p.Missing[1].At.Line != 3 {
		t.Errorf("the blank key stands at %v", p.Missing[1].At)
	}
}

// TestAskedOnce: two runs that wait for one answer of the job ask for it once.
func TestAskedOnce(t *testing.T) {
	p := made(t, map[string]string{"job.md": "kind: job\nbaluster:", "runs/a.md": "kind: run", "runs/b.md": "kind: run"})
	n := 0
	for _, m := range p.Missing {
		if m.What == "which baluster" {
			n++
		}
	}
	if n != 1 {
		t.Errorf("asked %d times which baluster", n)
	}
}

// TestOldGuardIsAskedFor: what a survey leaves blank stands among the readings to take.
func TestOldGuardIsAskedFor(t *testing.T) {
	p := made(t, map[string]string{"job.md": "kind: job\nposts: {a: {newel: }}", "survey/s.md": "kind: survey\nheight:\nopenings: [{where: here, read: }]"})
	for _, want := range []string{"top of the old handrail", "the widest that a ball passes, here", "whether the old guard gives", "what the old guard is covered with", "how a is fixed"} {
		if !slices.ContainsFunc(p.Missing, func(m finding.Reading) bool { return strings.Contains(m.What, want) }) {
			t.Errorf("nobody asks for %q: %+v", want, p.Missing)
		}
	}
	for _, where := range []string{"survey/s.md, height: ", "survey/s.md, openings: {read: }"} {
		if !slices.ContainsFunc(p.Missing, func(m finding.Reading) bool { return m.Where == where }) {
			t.Errorf("nothing is to be written at %q: %+v", where, p.Missing)
		}
	}
}

// TestLooserAmendment: an opening of 4 3/16 is inside an amendment to 5 only. What lies inside the published 4 as well is a pass.
func TestLooserAmendment(t *testing.T) {
	for most, want := range map[string]finding.Verdict{"": finding.AskAuthority, "\nmost: 3 1/2": finding.Pass} {
		p := made(t, map[string]string{
			"job.md":     "kind: job\nrules: town\nheight: 38\ndrop: 100\nbaluster: b\nhandrail: h\nshoe: none",
			"rules.md":   rules,
			"town.md":    "kind: rules\namends: rules\nlimits:\n  guard-opening: {under: 5, clause: T}",
			"parts/b.md": "kind: baluster\nwide: 1 1/4\nlong: 40",
			"parts/h.md": "kind: handrail\nwide: 2\nhigh: 2",
			"runs/r.md":  "kind: run\nfrom: wall\nto: wall\nclear: {floor: 60, rail: 60}" + most,
		})
		for _, f := range p.Findings {
			if strings.HasPrefix(f.ID, "check/run/r/guard-opening") && f.Verdict != want {
				t.Errorf("most %q: %s is %v, %s", most, f.Title, f.Verdict, f.Note)
			}
		}
	}
}

// TestPostsAreGathered: what the layout of a post says stands after the runs and before the old guard.
func TestPostsAreGathered(t *testing.T) {
	p := made(t, map[string]string{
		"job.md":      "kind: job\nrules: rules\nheight: 38\ndrop: 100\nbaluster: b\nhandrail: h\nshoe: none\nposts: {a: {newel: n}, z: {newel: n}}",
		"rules.md":    rules,
		"parts/b.md":  "kind: baluster\nwide: 1 1/4\nlong: 40",
		"parts/h.md":  "kind: handrail\nwide: 2\nhigh: 2",
		"parts/n.md":  "kind: newel\nwide: 3\nlong: 37",
		"runs/1-r.md": "kind: run\nfrom: a\nto: z\nclear: {floor: 60, rail: 60}",
		"runs/2-s.md": "kind: run\nfrom: z\nto: wall\nclear: {floor: 60, rail: 60}",
		"survey/s.md": "kind: survey\nheight: 30\nopenings: [{where: here, read: 5}]\ncoated: bare",
	})
	var groups []string
	for _, f := range p.Findings {
		groups = append(groups, f.Group)
		if f.Group == "post/a" && f.Title[:3] == "top" && f.Verdict != finding.Fail { // a newel of 37 under a rail of 38
			t.Errorf("%+v", f)
		}
	}
	if got, want := slices.Compact(groups), []string{"run/r", "run/s", "post/a", "post/z", "loads", "survey/s"}; !slices.Equal(got, want) {
		t.Errorf("findings of %q, want %q", got, want)
	}
	if !slices.ContainsFunc(p.Missing, func(m finding.Reading) bool { return m.Group == "post/z" && strings.Contains(m.Where, "turn") }) {
		t.Errorf("nobody asks for the turn at z: %+v", p.Missing)
	}
	if !slices.ContainsFunc(p.Figures, func(f *working.Figure) bool { return f.ID == "post/a/cut" }) || len(p.Takeoff.Pieces) == 0 || p.Takeoff.Pieces[0].Figure != "post/a/cut" {
		t.Errorf("the newels are not cut: %+v", p.Takeoff.Pieces)
	}
}
