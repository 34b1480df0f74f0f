package jobbook_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
)

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

// TestAlternativesInOrder: the order of the files is the order of the columns, whatever finishes first.
func TestAlternativesInOrder(t *testing.T) {
	files := map[string]string{}
	for name, text := range simple {
		files[name] = text
	}
	for i, name := range []string{"10-last", "2-second", "1-first", "sub/3-third"} {
		files["alternatives/"+name+".md"] = fmt.Sprintf("kind: alternative\njob: {height: %d}", 38+i)
	}
	for range 3 {
		result, err := jobbook.Check(folder(t, files))
		if err != nil || result.Plan == nil {
			t.Fatal(err, result.Problems)
		}
		var names []string
		for _, a := range result.Plan.Alternatives {
			names = append(names, a.Of.Name)
		}
		if want := []string{"first", "second", "last", "third"}; !slices.Equal(names, want) {
			t.Fatalf("%q, want %q", names, want)
		}
	}
}

// TestAlternativeProblems: what is wrong is said at its place, once; where it stands in a file of the job, with the alternative that brings it about. A problem of the job
// itself is not said again.
func TestAlternativeProblems(t *testing.T) {
	files := map[string]string{}
	for name, text := range simple {
		files[name] = text
	}
	files["runs/1-hall.md"] += "\npattern: centred\ncentre: gap\nspacing: 5"
	files["alternatives/1-a.md"] = "kind: alternative\nruns: {hall: {pattern: even, spacing: }}"
	files["alternatives/2-b.md"] = "kind: alternative\njob: {baluster: nothing}"
	files["alternatives/3-c.md"] = "kind: alternative\njob: {height: 40}"
	result, err := jobbook.Check(folder(t, files))
	if err != nil {
		t.Fatal(err)
	}
	if result.Plan != nil {
		t.Error("there is a plan")
	}
	var got []string
	for _, p := range result.Problems {
		text := p.At.String() + ": " + p.Summary
		for _, n := range p.Notes {
			text += "; " + n.At.String() + ": " + n.Text
		}
		got = append(got, text)
	}
	want := []string{
		`alternatives/2-b.md:3:17: no baluster is named "nothing"`,
		`runs/1-hall.md:7:9: centre is for a centred pattern; alternatives/1-a.md:1:1: only with this alternative laid over the job; a key left blank there counts as left out`,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

// TestAlternativeFails: a check that only an alternative fails is shown, and is no failing check of the job.
func TestAlternativeFails(t *testing.T) {
	files := map[string]string{}
	for name, text := range simple {
		files[name] = text
	}
	files["alternatives/low.md"] = "kind: alternative\njob: {height: 30}"
	result, err := jobbook.Check(folder(t, files))
	if err != nil || result.Plan == nil || len(result.Problems) > 0 {
		t.Fatal(err, result.Problems)
	}
	low := func(p *plan.Plan) bool {
		return slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
			return f.ID == "check/run/hall/guard-height-level" && f.Verdict == finding.Fail
		})
	}
	if low(result.Plan) || !low(result.Plan.Alternatives[0].Plan) {
		t.Errorf("job %v, alternative %v", low(result.Plan), low(result.Plan.Alternatives[0].Plan))
	}
}

// TestLeanIsNotSettledByAnotherHeight: the newel is 3 square up to 38 and 2 3/4 round above. The clear at the rail was read at 36 3/4, on the square: 1/8 more than at the floor,
// which is lean. Taken for a reading at 40 3/4, where the newel stands back 1/8, it would agree with the one at the floor, and nobody would ask.
func TestLeanIsNotSettledByAnotherHeight(t *testing.T) {
	files := map[string]string{
		"job.md":            "kind: job\nrules: irc-2021\ndrop: 100\nheight: 38\nbaluster: square-1-1-4\nhandrail: h\nshoe: none\nposts: {a: {newel: n, foot: plate}}",
		"parts/h.md":        "kind: handrail\nwide: 2 1/2\nhigh: 2 1/2",
		"parts/n.md":        "kind: newel\nprofile: [{at: 0, square: 3}, {at: 38, square: 3}, {at: 38, round: 2 3/4}, {at: 48, round: 2 3/4}]",
		"runs/1-r.md":       "kind: run\nfrom: wall\nto: a\nclear: {floor: 60, rail: 60 1/8}",
		"alternatives/x.md": "kind: alternative\njob: {height: 42}",
	}
	result, err := jobbook.Check(folder(t, files))
	if err != nil || result.Plan == nil || len(result.Problems) > 0 {
		t.Fatal(err, result.Problems)
	}
	for name, p := range map[string]*plan.Plan{"as drawn": result.Plan, "at 42": result.Plan.Alternatives[0].Plan} {
		l := p.Layout.Runs[0].Lean
		if l == nil || !l.Out || len(l.Readings) == 0 || l.Readings[0].At != 36*length.Inch+length.Inch*3/4 || l.Readings[0].Wider != length.Inch/8 {
			t.Errorf("%s: %+v", name, l)
		}
		if !slices.ContainsFunc(p.Missing, func(m finding.Reading) bool { return strings.HasPrefix(m.What, "which end is out of plumb") }) {
			t.Errorf("%s: nobody asks which end leans", name)
		}
	}
	if result.Plan.Layout.Runs[0].Handrail == nil || result.Plan.Alternatives[0].Plan.Layout.Runs[0].Handrail != nil {
		t.Error("the rail at 42 is cut by a clear that was read lower down")
	}
}

// TestAlternativesOfAnything: whatever is laid over a job, it is planned or there is a problem in a file, and the job itself stays as it is.
func TestAlternativesOfAnything(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 4))
	values := []string{"", "3", "-3", "0", "38", "none", "wall", "a", "yes", "no", "square-1-1-4", "irc-2021", "baluster-of-another", "[1, 2, 3]", "[]", "{}", "{at: 3}", "{floor: 90, rail: 91}", "[{at: 0, read: 90}, {at: 30, read: 91}]", "90 mm", "100000000000", "'x'", "left 90", "1/8", "20 %"}
	fitting := map[string][]string{
		"a length": {"", "1/8", "3", "36", "40", "90 mm", "-1"}, "a whole number": {"", "0", "1", "3", "20"}, "yes or no": {"", "yes", "no"}, "words": {"", "x"},
		"the name of a baluster": {"", "square-1-1-4", "square-1-1-4-long"}, "the name of a newel": {"", "square-3-1-2"}, "the name of a rule set": {"", "irc-2021"},
	}
	var value func(k job.Key, deep int) string
	value = func(k job.Key, deep int) string {
		if len(k.Sub) == 0 || deep == 0 || random.IntN(4) == 0 {
			if from := fitting[k.Form]; from != nil && random.IntN(8) > 0 {
				return from[random.IntN(len(from))]
			}
			return values[random.IntN(len(values))]
		}
		var list []string
		for _, s := range k.Sub {
			if random.IntN(len(k.Sub)) < 2 {
				list = append(list, s.Key+": "+value(s, deep-1))
			}
		}
		if len(list) == 0 {
			return ""
		}
		if k.Key == "posts" {
			return "{a: {" + strings.Join(list, ", ") + "}}"
		}
		return "{" + strings.Join(list, ", ") + "}"
	}
	kinds := map[string]job.Key{}
	for _, k := range job.Kinds {
		kinds[k.Key] = k
	}
	files := map[string]string{}
	for name, text := range simple {
		files[name] = text
	}
	files["runs/3-stair.md"] = "kind: flight\nfrom: a\nto: wall\nrisers: [7, 7, 7, 7]\ngoings: [10, 10, 10]\nheight: 36\nclear: {level: 30, rake: 36}"
	base, err := jobbook.Check(folder(t, files))
	if err != nil || base.Plan == nil {
		t.Fatal(err, base.Problems)
	}
	want, planned := outcome(base.Plan), 0
	for range 60 {
		part := []string{"job: " + value(kinds["job"], 3), "runs: {hall: " + value(kinds["run"], 3) + "}", "runs: {stair: " + value(kinds["flight"], 3) + "}", "all-runs: " + value(kinds["run"], 2), "settings: " + value(kinds["settings"], 2)}
		files["alternatives/x.md"] = "kind: alternative\n" + part[random.IntN(len(part))]
		result, _, err := jobbook.Make(folder(t, files)) // with its pages
		if err != nil {
			t.Fatal(err)
		}
		if result.Plan == nil {
			if !source.AnyError(result.Problems) {
				t.Errorf("neither a plan nor a problem:\n%s", files["alternatives/x.md"])
			}
			continue
		}
		planned++
		if diff := cmp.Diff(want, outcome(result.Plan)); diff != "" {
			t.Errorf("the job has changed with\n%s\n%s", files["alternatives/x.md"], diff)
		}
	}
	if planned == 0 {
		t.Error("none was planned")
	}
	t.Logf("%d planned", planned)
}

// BenchmarkAlternatives checks the sample with none, one and ten more alternatives: the time goes with their number.
func BenchmarkAlternatives(b *testing.B) {
	for _, n := range []int{0, 1, 10} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			files := map[string]string{}
			for name, text := range simple {
				files[name] = text
			}
			for i := range n {
				files[fmt.Sprintf("alternatives/%d-a%d.md", i, i)] = "kind: alternative\nall-runs: {most: 3 1/2}"
			}
			dir := folder(b, files)
			for b.Loop() {
				if r, err := jobbook.Check(dir); err != nil || r.Plan == nil {
					b.Fatal(err, r.Problems)
				}
			}
		})
	}
}
