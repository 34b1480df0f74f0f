package book

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/sequence"
)

// calendarPlan is the small job with steps of its own on a calendar: two people from Thursday 11 March 2027, the clocks of New York put on in the night to Sunday the 14th.
func calendarPlan(t testing.TB, calendar string) *plan.Plan {
	t.Helper()
	front, err := os.ReadFile("testdata/job/job.md")
	if err != nil {
		t.Fatal(err)
	}
	step := func(front string) string { return "---\nkind: step\n" + front + "\n---\n" }
	p, _ := samplePlan(t, map[string]string{
		"job.md":              strings.Replace(string(front), "kind: job\n", "kind: job\nwanted: 2027-03-12\ndone: {look: 2027-03-10}\ncalendar: "+calendar+"\n", 1),
		"steps/30-receive.md": step("title: Receive & check\nafter: [agree]\ntools: [tape]\nquantities: [balusters, runs]\nminutes: {once: 60}\nright: all counted\ncalendar: {goods: yes}"),
		"steps/40-coat.md":    step("title: Coat\nafter: [receive]\ntools: [brushes]\ncautions: [dust]\nminutes: {once: 120}\ncalendar: {coats: parts, makes: [fumes]}"),
		"steps/50-bar.md":     step("title: Barrier up\nafter: [agree]\nminutes: {once: 60}\ncalendar: {barrier: up, people: 2}"),
		"steps/60-out.md":     step("title: Old guard out\nafter: [bar]\nminutes: {once: 90}\nright: barred by evening\ncalendar: {guard: opens, makes: [dust]}"),
		"steps/70-hold.md":    step("title: Hold\nafter: [out, coat]\nhold: all is measured again"),
		"steps/80-set.md":     step("title: Set the new one\nafter: [hold]\nminutes: {once: 700}\ncalendar: {guard: closes, wait: }"),
		"steps/90-down.md":    step("title: Barrier down\nafter: [set]\nminutes: {once: 30}\ncalendar: {barrier: down, inspection: yes}"),
	})
	p.Sequence, _ = sequence.Order(p.Job, p.Traits, map[string]sequence.Quantity{"balusters": {N: 7, Known: true}, "runs": {N: 1, Known: true}})
	p.Schedule = sequence.Plan(p.Job, p.Sequence, []finish.Stage{
		{Group: "balusters", Coat: "primer", N: 1, Of: 2, Work: 90, Dry: 16 * 60},
		{Group: "balusters", Coat: "enamel", N: 2, Of: 2, Dry: 40 * 60},
		{Group: "newels", Coat: "oil", N: 1, Of: 1, Work: 20},
	}, 1)
	return p
}

const smallCalendar = `{start: 2027-03-11, crew: 2, hours: "8:00 to 12:00, 12:30 to 16:30", off: 2027-03-16, zone: America/New_York, inspection: 2027-03-19, family: [{no: [fumes], days: weekend, why: "guests & cake"}, {no: [dust, stair], hours: 12:30 to 14:00, on: 2027-03-11 to 2027-03-12}]}`

// TestCalendarPages compares the pages of the calendar and the file for a phone with those that a person has read.
func TestCalendarPages(t *testing.T) {
	files, problems, err := Render(calendarPlan(t, smallCalendar), templatesFolder())
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	pages := byPath(files)
	checkPages(t, pages)
	for _, name := range []string{"calendar.html", "days.html", "schedule.ics"} {
		golden(t, filepath.Join("testdata", name), pages[name])
	}
}

// TestCalendarWithoutDates: without a first day there are no dates, no file for a phone, and wishes for a date are not counted.
func TestCalendarWithoutDates(t *testing.T) {
	files, problems, err := Render(calendarPlan(t, `{crew: 2, hours: "8:00 to 16:30", family: [{no: [fumes], days: weekend}, {no: [dust], on: 2027-03-11}]}`), templatesFolder())
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	pages := byPath(files)
	checkPages(t, pages)
	if _, ok := pages["schedule.ics"]; ok {
		t.Error("a file for a phone without dates")
	}
	if !strings.Contains(pages["days.html"], "<h2>Day 1</h2>") || strings.Contains(pages["days.html"], "2027") || strings.Contains(pages["days.html"], "no dust") {
		t.Error(pages["days.html"])
	}
}

// TestWishes: what the family does not want on a day. 13 March 2027 is a Saturday, by a calendar.
func TestWishes(t *testing.T) {
	b := newBook(calendarPlan(t, smallCalendar), nil)
	start, _ := (job.Text{Text: "2027-03-11", Given: true}).Date()
	for date, want := range map[string]string{
		"2027-03-11": "no dust and the stair is free, 12:30 to 14:00", "2027-03-12": "no dust and the stair is free, 12:30 to 14:00", "2027-03-13": "no fumes: guests &amp; cake", "2027-03-15": "",
	} {
		day, _ := time.Parse(time.DateOnly, date)
		if got := joined("; ", b.wishes(int(day.Sub(start).Hours())/24)...); string(got) != want {
			t.Errorf("%s: %q, want %q", date, got, want)
		}
	}
}
