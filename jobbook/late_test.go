package jobbook_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"balustrade/jobbook"
	"balustrade/jobbook/plan"
)

// weekdaysBetween counts Mondays to Fridays after one day and up to another, but for one day off, by itself.
func weekdaysBetween(t *testing.T, from, to, off string) int {
	t.Helper()
	a, errA := time.Parse(time.DateOnly, from)
	b, errB := time.Parse(time.DateOnly, to)
	if errA != nil || errB != nil {
		t.Fatal(errA, errB)
	}
	sign := 1
	if b.Before(a) {
		a, b, sign = b, a, -1
	}
	n := 0
	for day := a.AddDate(0, 0, 1); !day.After(b); day = day.AddDate(0, 0, 1) {
		if day.Weekday() != time.Saturday && day.Weekday() != time.Sunday && day.Format(time.DateOnly) != off {
			n++
		}
	}
	return sign * n
}

// ends are the days on which each step that is not done is over, read off the tasks of a plan.
func ends(p *plan.Plan) map[string]string {
	list := map[string]string{}
	for i, task := range p.Schedule.Tasks {
		at := p.Schedule.Table.Placed[i]
		if of := p.Schedule.Of[i]; !task.Done {
			day := p.Schedule.Start.Add(time.Duration(max(at.End-1, 0)) * time.Minute).Format(time.DateOnly)
			list[of.Step.Step.Name] = max(list[of.Step.Step.Name], day)
			for _, x := range of.With { // hand in hand with it
				list[x.Step.Name] = max(list[x.Step.Name], day)
			}
		}
	}
	return list
}

// TestMoved: a week's delay against the issue. Every step's day then is read off the plan of then, its day now off the plan of now or its tick, and the working days between are counted here; the first page and the calendar tell it.
func TestMoved(t *testing.T) {
	const off = "2027-03-17"
	dir := oneRun(t, strings.Replace(coatedWith, "crew: 6", "crew: 6, off: "+off, 1))
	was := ends(planOf(t, dir))
	issued(t, dir, "first")
	if moved := planOf(t, dir).Moved(); len(moved) == 0 || moved[0].Days != 0 || moved[0].Was != moved[0].Is {
		t.Fatalf("%+v", moved)
	}
	rewrite(t, dir, "job.md", "calendar: ", "done: {survey: 2027-03-08}\ncalendar: ")
	p := planOf(t, dir)
	now := ends(p)
	moved := p.Moved()
	if len(moved) != len(was)+1 {
		t.Errorf("%d steps of %d, and the whole", len(moved), len(was))
	}
	for _, m := range moved {
		name, is := "", ""
		if m.Step != nil {
			name, is = m.Step.Name, now[m.Step.Name]
			if m.Was != was[name] {
				t.Errorf("%s was to be over on %s, is told as %s", name, was[name], m.Was)
			}
		} else {
			for _, day := range now {
				is = max(is, day)
			}
		}
		if name == "survey" {
			is = "2027-03-08"
		}
		if m.Is != is || m.Done != (name == "survey") || m.Days != weekdaysBetween(t, m.Was, m.Is, off) {
			t.Errorf("%s: %+v, want it on %s", name, m, is)
		}
	}
	if moved[0].Days != 5 { // Monday 1 to Monday 8 March, by hand
		t.Errorf("the survey is %d days late", moved[0].Days)
	}
	pages := pagesOf(t, dir)
	for page, want := range map[string]string{
		"index.html":    "Survey what is there: done on Monday 8 March 2027, by the issue first on Monday 1 March 2027; 5 working days later.",
		"calendar.html": "Survey what is there Mon 1 Mar 2027 done, Mon 8 Mar 2027 5 working days later",
	} {
		if text := strings.Join(strings.Fields(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(strings.ReplaceAll(pages[page], "</td>", " "), "")), " "); !strings.Contains(text, want) {
			t.Errorf("%s does not say %q", page, want)
		}
	}
	// An issue of before that has no ends of steps is compared as before.
	file := filepath.Join(dir, "issues", "1-first.md")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	kept := regexp.MustCompile(`(?m)^date \| step/\S+ \| is over .*\n`).ReplaceAll(text, nil)
	if len(kept) == len(text) {
		t.Fatal("the issue has no ends of steps")
	}
	if err := os.WriteFile(file, kept, 0o644); err != nil {
		t.Fatal(err)
	}
	old := planOf(t, dir)
	if len(old.Moved()) != 0 || len(old.Changes.Changes) != len(p.Changes.Changes) {
		t.Errorf("%d moved, %d changes of %d", len(old.Moved()), len(old.Changes.Changes), len(p.Changes.Changes))
	}
}

func pagesOf(t *testing.T, dir string) map[string]string {
	t.Helper()
	result, files, err := jobbook.Make(dir)
	if err != nil || result.Plan == nil {
		t.Fatalf("%v %+v", err, result.Problems)
	}
	pages := map[string]string{}
	for _, f := range files {
		pages[f.Path] = strings.Join(f.Pieces, "")
	}
	return pages
}

// TestMissed: a step that is done after its by:, and an inspection that was not held on its day, are told on the first page; on the day itself nothing is late. They fail no check: what is past cannot be cured.
func TestMissed(t *testing.T) {
	for _, c := range []struct{ done, want string }{
		{"survey: 2027-03-04", "done on Thursday 4 March 2027, it was to be over by Wednesday 3 March 2027; 1 working day later."},
		{"survey: 2027-03-03", ""},
		{"survey: 2027-03-06", "2 working days later"}, // a Saturday: Thursday and Friday lie between
		{"hold-before-barrier-down: 2027-04-06", "the inspection was on Monday 5 April 2027; 1 working day later."},
		{"hold-before-barrier-down: 2027-04-05", ""},
		{"receive: 2027-03-23", "the goods were wanted by Friday 19 March 2027; 2 working days later."},
		{"receive: 2027-03-19", ""},
	} {
		dir := oneRun(t, strings.Replace(coatedWith, "crew: 6", "crew: 6, inspection: 2027-04-05, by: {survey: 2027-03-03}", 1)+"wanted: 2027-03-19\ndone: {"+c.done+"}")
		index := pagesOf(t, dir)["index.html"]
		if has := strings.Contains(index, "Later than planned"); has != (c.want != "") || c.want != "" && !strings.Contains(index, c.want) {
			t.Errorf("%s: late is %v, want %q", c.done, has, c.want)
		}
		if p := planOf(t, dir); strings.HasPrefix(c.done, "survey") && len(p.Schedule.Findings) > 0 {
			t.Errorf("%s: %+v", c.done, p.Schedule.Findings)
		}
	}
}
