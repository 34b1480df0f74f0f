package jobbook_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook"
	"balustrade/jobbook/plan"
)

func folder(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte("---\n"+text+"\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

var simple = map[string]string{
	"job.md":           "kind: job\nrules: irc-2021\ndrop: 100\nheight: 38\nbaluster: square-1-1-4\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\nfillet: fillet-1-1-4\nrosette: rosette-round\nposts: {a: {newel: square-3-1-2, foot: plate}}",
	"runs/1-hall.md":   "kind: run\nfrom: wall\nto: a\nclear: {floor: 96, rail: 96}",
	"runs/2-return.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 60, rail: 60}",
	"yard.md":          "kind: supplier\nlead: 3\nsells: {square-1-1-4: {price: 4}, rail-plow-1-1-4: {lengths: [8', 12'], per-foot: 9}}",
}

// outcome is what two plans are compared by: counts, marks, cuts, verdicts, what is bought, hours.
func outcome(p *plan.Plan) any {
	type run struct {
		Count int
		Marks []int64
	}
	out := struct {
		Runs     []run
		Cuts     []string
		Verdicts []string
		Bought   string
		Minutes  int
		Missing  []string
	}{Bought: p.Buying.Known.String(), Minutes: p.Sequence.Minutes}
	for _, r := range p.Layout.Runs {
		one := run{}
		if r.Chosen != nil {
			one.Count = r.Chosen.Count
		}
		for _, m := range r.Marks {
			one.Marks = append(one.Marks, int64(m.At))
		}
		out.Runs = append(out.Runs, one)
	}
	for _, c := range p.Takeoff.Pieces {
		out.Cuts = append(out.Cuts, c.What+" "+c.Part+" "+c.Length.String())
	}
	for _, f := range p.Findings {
		out.Verdicts = append(out.Verdicts, f.ID+" "+f.Verdict.String())
	}
	for _, m := range p.Missing {
		out.Missing = append(out.Missing, m.What)
	}
	return out
}

// TestAlternativePlans: an alternative's plan is that of a folder in which the same keys were edited by hand; one without keys is the job as drawn; the job stays as it is.
func TestAlternativePlans(t *testing.T) {
	with := func(more map[string]string) *plan.Plan {
		files := map[string]string{}
		for _, set := range []map[string]string{simple, more} {
			for name, text := range set {
				files[name] = text
			}
		}
		result, err := jobbook.Check(folder(t, files))
		if err != nil || result.Plan == nil || len(result.Problems) > 0 {
			t.Fatalf("%v %+v", err, result.Problems)
		}
		return result.Plan
	}
	base := with(map[string]string{
		"alternatives/1-none.md":  "kind: alternative",
		"alternatives/2-tight.md": "kind: alternative\njob: {height: 40}\nruns: {hall: {most: 3}}\nall-runs: {fillet: none}\nsettings: {spare: 20 %}",
	})
	if len(base.Alternatives) != 2 {
		t.Fatalf("%d alternatives", len(base.Alternatives))
	}
	if diff := cmp.Diff(outcome(with(nil)), outcome(base)); diff != "" {
		t.Error("the job is not as without alternatives:", diff)
	}
	if diff := cmp.Diff(outcome(base), outcome(base.Alternatives[0].Plan)); diff != "" {
		t.Error("an alternative without keys is not the job:", diff)
	}
	edited := with(map[string]string{
		"job.md": simple["job.md"][:len("kind: job\nrules: irc-2021\ndrop: 100\nheight: ")] + "40" + simple["job.md"][len("kind: job\nrules: irc-2021\ndrop: 100\nheight: 38"):],
		// The rail stood at 38 and is 2 3/8 high: its clear was read at 38 - 1 3/16 = 36 13/16, by hand. It stays a reading at that height.
		"runs/1-hall.md":   "kind: run\nfrom: wall\nto: a\nclear: [{at: 0, read: 96}, {at: 36 13/16, read: 96}]\nmost: 3\nfillet: none",
		"runs/2-return.md": "kind: run\nfrom: a\nto: wall\nclear: [{at: 0, read: 60}, {at: 36 13/16, read: 60}]\nfillet: none",
		"settings.md":      "kind: settings\nspare: 20 %",
	})
	if diff := cmp.Diff(outcome(edited), outcome(base.Alternatives[1].Plan)); diff != "" {
		t.Error(diff)
	}
	if cmp.Equal(outcome(base), outcome(edited)) {
		t.Error("the alternative changes nothing")
	}
}
