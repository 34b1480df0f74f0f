package jobbook_test

import (
	"encoding/json"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/sequence"
)

// withSteps is the painted landing with steps of the job's own, each a name and its front matter.
func withSteps(t *testing.T, calendar string, own ...string) sequence.Schedule {
	t.Helper()
	files := map[string]string{"job.md": strings.Replace(coatedWith, "crew: 6", "crew: 6"+calendar, 1), "runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}"}
	for _, s := range own {
		name, text, _ := strings.Cut(s, "|")
		files["steps/"+name+".md"] = "kind: step\ntitle: " + name + "\nminutes: {once: 60}\n" + text
	}
	return planOf(t, folder(t, files)).Schedule
}

// of finds the task that a step is done in, by itself or hand in hand.
func of(t *testing.T, s sequence.Schedule, step string) (sequence.Task, sequence.Placed) {
	t.Helper()
	for i := range s.Tasks {
		if s.Of[i].Step.Step.Name == step {
			return s.Tasks[i], s.Table.Placed[i]
		}
		for _, x := range s.Of[i].With {
			if x.Step.Name == step {
				return s.Tasks[i], s.Table.Placed[i]
			}
		}
	}
	t.Fatalf("no %s on the calendar", step)
	return sequence.Task{}, sequence.Placed{}
}

// A step that goes hand in hand with one that goes hand in hand itself still waits for what stands between: third with second, second with first, and third after what comes after first.
func TestHandInHandWaits(t *testing.T) {
	s := withSteps(t, "",
		"glue-up|after: [push-test]", "it-sets|after: [glue-up]\ncalendar: {wait: 24 h}", "pare|after: [glue-up]\ncalendar: {with: [glue-up]}", "scrape|after: [it-sets, pare]\ncalendar: {with: [pare]}")
	_, sets := of(t, s, "it-sets")
	_, scrape := of(t, s, "scrape")
	if scrape.Start < sets.Ready {
		t.Errorf("scraped from minute %d on, and what it waits for has set at %d", scrape.Start, sets.Ready)
	}
}

// What a step says of the guard, the barrier, the inspector and the evening is not lost where it goes hand in hand with another one.
func TestHandInHandKeepsSafe(t *testing.T) {
	for _, c := range []struct {
		name, says string
		kept       func(sequence.Task) bool
	}{
		{"the barrier comes down", "barrier: down", func(x sequence.Task) bool { return x.Barrier < 0 }},
		{"the barrier goes up", "barrier: up", func(x sequence.Task) bool { return x.Barrier > 0 }},
		{"the new guard stands", "guard: closes", func(x sequence.Task) bool { return x.Closes }},
		{"the old guard comes off", "guard: opens", func(x sequence.Task) bool { return x.Opens }},
		{"not left half done", "whole: yes", func(x sequence.Task) bool { return x.Whole }},
		{"the same day", "same-day: yes", func(x sequence.Task) bool { return x.SameDay }},
		{"the inspector", "inspection: yes", func(x sequence.Task) bool { return x.HasBy }},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := withSteps(t, ", inspection: 2027-06-01", "fit|after: [balusters]", "also|after: [fit]\ncalendar: {with: [fit], "+c.says+"}")
			if x, _ := of(t, s, "also"); !c.kept(x) {
				t.Errorf("%s: lost in %s", c.says, x.Name)
			}
		})
	}
}

// A step that was ticked off as a whole is over when its coats are: what comes after it waits until the last of them is dry, as where each coat is ticked off by itself.
func TestWholeStepIsDry(t *testing.T) {
	files := map[string]string{
		"job.md": strings.Replace(coatedWith, "{balusters: water-enamel}", "{balusters: slow}", 1), "runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}",
		"finishes/slow.md":   "kind: finish\ntitle: Slow\nbase: oil\nhands: 6 days\ncoats: [{coat: oil, type: sealer, times: 1, coverage: 400 sq ft/gal, dry: 24 h}, {coat: varnish, type: clear, coverage: 400 sq ft/gal, dry: 24 h}]",
		"steps/look-over.md": "kind: step\ntitle: Look them over\nafter: [finish-parts]\nminutes: {once: 15}",
	}
	start := func(done string) int {
		files := files
		files["job.md"] = strings.Replace(coatedWith, "{balusters: water-enamel}", "{balusters: slow}", 1) + "done: {finish-parts: " + done + "}"
		s := planOf(t, folder(t, files)).Schedule
		_, p := of(t, s, "look-over")
		return p.Start
	}
	const dry = 7*sequence.Day + 16*60 + 6*sequence.Day // Monday 8 March at 16:00, when work ends, and six days
	for _, done := range []string{"{balusters 1: 2027-03-05, balusters 2: 2027-03-08}", "{balusters: 2027-03-08}", "2027-03-08"} {
		if at := start(done); at < dry {
			t.Errorf("%s: handled on day %d at %s", done, sequence.DayOf(at)+1, sequence.Clock(at))
		}
	}
}

// A coat lies on the one before it also where that goes on in another step, and what stands between the two is ticked off already: the last coat waits until those before fitting are on and dry.
func TestLastCoatLiesOnTheOthers(t *testing.T) {
	for _, done := range []string{"", "done: {plugs-and-touch-up: 2027-03-08}\n", "done: {plugs-and-touch-up: 2027-03-08, finish-parts: {handrail 1: 2027-03-05}}\n"} {
		files := map[string]string{"job.md": strings.Replace(coatedWith, "{balusters: water-enamel}", "{handrail: water-enamel}", 1) + done, "runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}"}
		s := planOf(t, folder(t, files)).Schedule
		ready := 0
		last := -1
		for i := range s.Tasks {
			switch c := s.Of[i].Coat; {
			case c == nil:
			case c.Fitted:
				last = i
			default:
				ready = max(ready, s.Table.Placed[i].Ready)
			}
		}
		if last < 0 || ready == 0 {
			t.Fatalf("%s: %d coats", done, len(s.Tasks))
		}
		if at := s.Table.Placed[last].Start; at < ready {
			t.Errorf("%q: the last coat on day %d at %s, and the one under it is dry on day %d at %s", done, sequence.DayOf(at)+1, sequence.Clock(at), sequence.DayOf(ready)+1, sequence.Clock(ready))
		}
	}
}

// Fumes of a step that says itself that they are of solvents, such as a stripper's, are so also where every coat is of water base.
func TestSolventsThatAStepNames(t *testing.T) {
	for makes, meets := range map[string]bool{"fumes": false, "solvents": true, "dust": false} {
		s := withSteps(t, ", family: [{no: [solvents], hours: 10:00 to 16:00}]", "strip|after: [balusters]\ncalendar: {makes: ["+makes+"]}")
		x, p := of(t, s, "strip")
		if x.Makes.Solvents != meets {
			t.Errorf("makes: [%s]: %+v", makes, x.Makes)
		}
		if end := p.End % sequence.Day; meets && end > 10*60 {
			t.Errorf("stripped until %s, where the family wants no solvents from 10:00 on", sequence.Clock(end))
		}
	}
}

// What passes after a step in which coats go on, as the step or the job says, passes after the last coat of each group, also where that dries sooner: one that ends on a day is dry 3 days later at the earliest.
func TestWaitAfterCoats(t *testing.T) {
	for calendar, days := range map[string]int{"": 0, ", wait: {finish-parts: 3 days}": 3} {
		s := withSteps(t, calendar, "look-over|after: [finish-parts]")
		coated := 0
		for i := range s.Tasks {
			if s.Of[i].Step.Step.Name == "finish-parts" {
				coated = max(coated, s.Table.Placed[i].End)
			}
		}
		_, look := of(t, s, "look-over")
		if coated == 0 || look.Start < coated+days*sequence.Day || days == 0 && look.Start > coated+sequence.Day+16*60 {
			t.Errorf("%q: coated at minute %d, looked over at %d", calendar, coated, look.Start)
		}
	}
}

// The client's page says that the barrier stands while it does, and no longer once it was taken down.
func TestClientIsToldOfTheBarrier(t *testing.T) {
	for done, stands := range map[string]bool{"barrier-up: 2027-03-08": true, "barrier-up: 2027-03-08, hold-before-barrier-down: 2027-03-20, barrier-down: 2027-03-20": false} {
		_, files, err := jobbook.Make(oneRun(t, coatedWith+"done: {"+done+"}"))
		if err != nil {
			t.Fatal(err)
		}
		told, client := false, false
		for _, f := range files {
			if f.Path == "client.html" {
				client, told = true, strings.Contains(strings.Join(f.Pieces, ""), "<dt>a closed barrier at the edge</dt><dd>it stands")
			}
		}
		if !client || told != stands {
			t.Errorf("%s: client's page %v, the barrier stands %v", done, client, told)
		}
	}
}

// The plan as data says of a step's wait what the calendar was reckoned with: the job's own, where it writes one.
func TestWaitAsData(t *testing.T) {
	dir := oneRun(t, strings.Replace(coatedWith, "crew: 6", "crew: 6, wait: {acclimatise: 3 days}", 1))
	_, files, err := jobbook.Make(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if f.Path != "data/plan.json" {
			continue
		}
		var data struct {
			Sequence struct {
				Steps []struct {
					Name string
					Wait *struct {
						Minutes int
						Source  string
					}
				}
			}
		}
		if err := json.Unmarshal([]byte(strings.Join(f.Pieces, "")), &data); err != nil {
			t.Fatal(err)
		}
		for _, s := range data.Sequence.Steps {
			if s.Name != "acclimatise" {
				continue
			}
			if s.Wait == nil || s.Wait.Minutes != 3*24*60 || s.Wait.Source != "written in job.md" {
				t.Errorf("%+v", s.Wait)
			}
			return
		}
	}
	t.Fatal("no such step")
}
