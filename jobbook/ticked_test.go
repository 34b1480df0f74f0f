package jobbook_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/sequence"
)

// coatedWith is the landing with painted balusters, three coats of which each dries four hours by its can, and people enough that nothing waits for hands. 1 March 2027 is a Monday.
const coatedWith = landingWith + "finishes: {balusters: water-enamel}\ncalendar: {start: 2027-03-01, crew: 6, hours: \"8:00 to 16:00\"}\n"

func stepOf(t *testing.T, p *plan.Plan, name string) sequence.Step {
	t.Helper()
	for _, s := range p.Sequence.Steps {
		if s.Step.Name == name {
			return s
		}
	}
	t.Fatalf("no step %s", name)
	return sequence.Step{}
}

// TestTickedCoats: a coat that is ticked off is done on its day and not placed any more, the next follows once it is dry; a step is done with its last piece, whatever the order in which they are written.
func TestTickedCoats(t *testing.T) {
	const before = "test-the-finish: 2027-03-04, plan-again: 2027-03-04"
	p := planOf(t, oneRun(t, coatedWith+"done: {"+before+", finish-parts: {balusters 1: 2027-03-08}}"))
	first, second := placed(t, p.Schedule, "finish-parts/balusters/water primer/1"), placed(t, p.Schedule, "finish-parts/balusters/water enamel/2")
	if first.Start/sequence.Day != 7 || second.Start < 8*sequence.Day {
		t.Errorf("the first coat on day %d, the second on day %d", first.Start/sequence.Day+1, second.Start/sequence.Day+1)
	}
	if s := stepOf(t, p, "finish-parts"); s.Done != "" || !s.Begun() || len(s.Pieces) != 3 || s.Pieces[0].Done != "2027-03-08" || s.Pieces[1].Done != "" {
		t.Errorf("%+v", s.Pieces)
	}
	whole := planOf(t, oneRun(t, coatedWith+"done: {"+before+"}")).Sequence.Left
	minutes := stepOf(t, p, "finish-parts").Minutes
	if got := whole - p.Sequence.Left; got != minutes/3 { // one of three coats
		t.Errorf("a coat takes %d min off what is left, want %d of %d", got, minutes/3, minutes)
	}
	// From 9:00 on that day: primed by then at the latest, dry at 13:00.
	later := p.Schedule.From(7*sequence.Day + 9*60)
	if at := placed(t, later, "finish-parts/balusters/water enamel/2").Start; at != 7*sequence.Day+13*60 {
		t.Errorf("the second coat from day %d, %s", at/sequence.Day+1, sequence.Clock(at))
	}
	// From that day on, without an hour: nobody knows when it was primed, at the latest when work ended at 16:00. Dry at 20:00, so the next morning.
	later = p.Schedule.From(7 * sequence.Day)
	if at := placed(t, later, "finish-parts/balusters/water enamel/2").Start; at != 8*sequence.Day+8*60 {
		t.Errorf("without an hour the second coat from day %d, %s", at/sequence.Day+1, sequence.Clock(at))
	}
	for _, done := range []string{
		"{balusters 1: 2027-03-08, balusters 2: 2027-03-09, balusters 3: 2027-03-10}",
		"{balusters 3: 2027-03-10, balusters  1: 2027-03-08, balusters 2: 2027-03-09}",
		"{balusters: 2027-03-10}", "{balusters: 2027-03-10, balusters 1: 2027-03-08}", "2027-03-10",
	} {
		p := planOf(t, oneRun(t, coatedWith+"done: {finish-parts: "+done+"}"))
		if s := stepOf(t, p, "finish-parts"); s.Done != "2027-03-10" || len(p.Sequence.Findings) > 0 {
			t.Errorf("%s: done %q, %+v", done, s.Done, p.Sequence.Findings)
		}
		for i, task := range p.Schedule.Tasks {
			if strings.HasPrefix(p.Schedule.Of[i].ID, "finish-parts") && !task.Done {
				t.Errorf("%s: %s is placed", done, task.Name)
			}
		}
	}
}

// TestTickedEdges: one of two old guards is out; the other is placed by itself, and both are when both are ticked off.
func TestTickedEdges(t *testing.T) {
	files := map[string]string{
		"job.md":         landingWith + `calendar: {start: 2027-03-01, crew: 6, hours: "8:00 to 16:00"}` + "\ndone: {barrier-up: 2027-03-07, take-out-old-guard: {hall: 2027-03-08}}",
		"runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}",
		"survey/hall.md": "kind: survey\nheight: 33\nloose: no\ncoated: bare", "survey/stair.md": "kind: survey\nheight: 33\nloose: no\ncoated: bare",
	}
	p := planOf(t, folder(t, files))
	if at := placed(t, p.Schedule, "take-out-old-guard/hall"); at.Start != 7*sequence.Day {
		t.Errorf("%+v", at)
	}
	if at := placed(t, p.Schedule, "take-out-old-guard/stair"); at.Start < 8*sequence.Day || len(at.Spans) == 0 {
		t.Errorf("%+v", at)
	}
	for _, d := range p.Schedule.Days { // between the two an edge is open, and barred
		if d.Day == 8 && (!d.Open || !d.Bar) {
			t.Errorf("%+v", d)
		}
	}
	files["job.md"] = strings.Replace(files["job.md"], "{hall: 2027-03-08}", "{hall: 2027-03-08, stair: 2027-03-09}", 1)
	if s := stepOf(t, planOf(t, folder(t, files)), "take-out-old-guard"); s.Done != "2027-03-09" {
		t.Errorf("done %q", s.Done)
	}
}

// TestTickedWrong: a name that is none is a problem with its place and what was meant; what cannot have been is a failing check.
func TestTickedWrong(t *testing.T) {
	for _, c := range []struct {
		done, summary, hint string
		col                 int
	}{
		{"{finish-parts: {baluster 2: 2027-03-08}}", "no coat is named", "balusters 2", 23},
		{"{finish-parts: {balusters two: 2027-03-08}}", "no coat is named", "balusters", 23},
		{"{finish-parts: {balusters 0: 2027-03-08}}", "no coat is named", "balusters 1", 23},
		{"{finish-prts: {balusters 1: 2027-03-08}}", "no step is named", "finish-parts", 8},
		{"{drill: {hall: 2027-03-08}}", "ticked off whole", "drill: 2027-03-08", 16},
		{"{take-out-old-guard: {hal: 2027-03-08}}", "no survey is named", "hall", 29},
		{"{finish-parts: {balusters 1: soon}}", "want a date", "2026-11-20", 36},
		{"{finish-parts: [2027-03-08]}", "want", "", 22},
	} {
		dir := oneRun(t, coatedWith+"done: "+c.done)
		if err := os.MkdirAll(filepath.Join(dir, "survey"), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "survey", "hall.md"), []byte("---\nkind: survey\nheight: 33\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		result, err := jobbook.Check(dir)
		if err != nil || result.Plan != nil || len(result.Problems) != 1 {
			t.Errorf("%s: %v %+v", c.done, err, result.Problems)
			continue
		}
		if x := result.Problems[0]; !strings.Contains(x.Summary, c.summary) || !strings.Contains(x.Hint, c.hint) || x.At.Line != 15 || x.At.Col != c.col {
			t.Errorf("%s: %d:%d %s, %s", c.done, x.At.Line, x.At.Col, x.Summary, x.Hint)
		}
	}
	for done, want := range map[string]string{
		"{finish-parts: {balusters 2: 2027-03-08}}":                                     "balusters 2 is ticked off, and balusters 1 under it is not",
		"{finish-parts: {balusters 1: 2027-03-09, balusters 2: 2027-03-08}}":            "balusters 2 is ticked off before balusters 1",
		"{finish-parts: {balusters 4: 2027-03-08}}":                                     "finish-parts, balusters 4: ticked off, and not there",
		"{finish-parts: {handrail 1: 2027-03-08}}":                                      "finish-parts, handrail 1: ticked off, and not there",
		"{finish-parts: {balusters 1: 2027-03-08, balusters 2: 2027-03-08}}":            "", // 8:00, dry at 12:00: that can have been
		"{finish-parts: {balusters: 2027-03-08}}":                                       "",
		"{finish-parts: {balusters 1: 2027-03-08}}":                                     "",
		"{last-coat: {balusters 1: 2027-03-08}, finish-parts: {balusters: 2027-03-08}}": "last-coat, balusters 1: ticked off, and not there",
	} {
		p := planOf(t, oneRun(t, coatedWith+"done: "+done))
		told := ""
		for _, f := range p.Findings {
			if f.Group == "calendar" {
				told += f.Title + ". "
				if f.Verdict != finding.Fail || f.Cure == "" || f.At.Line != 15 {
					t.Errorf("%s: %+v", done, f)
				}
			}
		}
		if want == "" && told != "" || !strings.Contains(told, want) {
			t.Errorf("%s: told %q, want %q", done, told, want)
		}
	}
}

// TestRecoatedTooSoon: an oil coat dries 24 h by its can. On the day after, 8:00 to 16:00, it can have been dry at 8:00; on the same day not. Neither can one that takes 36 h by the day after: from 8:00 to 16:00 of the next day are 32 h.
func TestRecoatedTooSoon(t *testing.T) {
	finish := func(dry string) map[string]string {
		return map[string]string{
			"job.md":           strings.Replace(coatedWith, "water-enamel", "slow", 1),
			"runs/1-hall.md":   "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}",
			"finishes/slow.md": "kind: finish\ntitle: Slow\nbase: oil\ncoats: [{coat: oil, type: sealer, times: 1, coverage: 400 sq ft/gal, dry: " + dry + "}, {coat: varnish, type: clear, coverage: 400 sq ft/gal, dry: " + dry + "}]",
		}
	}
	for _, c := range []struct {
		dry, second string
		soon        bool
	}{
		{"24 h", "2027-03-08", true}, {"24 h", "2027-03-09", false}, {"36 h", "2027-03-09", true}, {"36 h", "2027-03-10", false}, {"32 h", "2027-03-09", false}, {"33 h", "2027-03-09", true},
	} {
		files := finish(c.dry)
		files["job.md"] += "done: {finish-parts: {balusters 1: 2027-03-08, balusters 2: " + c.second + "}}"
		p := planOf(t, folder(t, files))
		soon := slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
			return f.Verdict == finding.Fail && strings.Contains(f.Title, "balusters 2 went on before balusters 1 can have been dry") && f.At.Line == 15
		})
		if soon != c.soon {
			t.Errorf("%s, then on %s: too soon is %v", c.dry, c.second, soon)
		}
	}
}

// TestSolvents: what smells of oil or shellac is told apart from water base. A family that wants no fumes on any day has none of either; one that minds solvents alone has its balusters enamelled.
func TestSolvents(t *testing.T) {
	for _, c := range []struct {
		finish, no string
		stops      bool
	}{
		{"water-enamel", "fumes", true}, {"water-enamel", "solvents", false}, {"oil-polyurethane", "fumes", true}, {"oil-polyurethane", "solvents", true}, {"shellac-primer-and-water-enamel", "solvents", true}, {"water-enamel", "dust, solvents", false},
	} {
		front := strings.Replace(strings.Replace(coatedWith, "water-enamel", c.finish, 1), "hours: ", "family: [{no: ["+c.no+"], hours: 17:00 to 18:00}], hours: ", 1)
		p := planOf(t, oneRun(t, front))
		stops := slices.ContainsFunc(p.Schedule.Findings, func(f finding.Finding) bool {
			return strings.Contains(f.Title, "there is no time at which the family allows it") && (strings.HasPrefix(f.Title, "coat ") || strings.HasPrefix(f.Title, "run the finish"))
		})
		// What waits a day, as all coats of oil do and the trial on scrap, meets the hour from 17:00 on whenever it begins.
		if stops != c.stops {
			t.Errorf("%s, no %s: stops is %v, %+v", c.finish, c.no, stops, p.Schedule.Findings)
		}
	}
}

// TestWaitsSayWhereFrom: every step of the library that has something pass after it says what that rests on, and how sure it is; the pages say it, and what the job writes instead.
func TestWaitsSayWhereFrom(t *testing.T) {
	p := planOf(t, oneRun(t, coatedWith))
	waits := 0
	for _, s := range p.Job.Steps {
		if w := s.Time; w.Wait.Given {
			waits++
			if !w.Source.Given || w.Status == 0 {
				t.Errorf("%s waits %d minutes, and does not say why", s.Name, w.Wait.Least)
			}
		}
	}
	if waits < 2 {
		t.Errorf("%d steps wait", waits)
	}
	_, files, err := jobbook.Make(oneRun(t, strings.Replace(coatedWith, "crew: 6", "crew: 6, wait: {test-the-finish: 2 days}", 1)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		text := strings.Join(f.Pieces, "")
		switch f.Path {
		case "sequence.html", "calendar.html":
			for _, want := range []string{"12 h pass before what comes next (common practice, no source; read the glue&#39;s label)", "2 days pass, written in"} {
				if !strings.Contains(text, want) {
					t.Errorf("%s does not say %q", f.Path, want)
				}
			}
		}
	}
}
