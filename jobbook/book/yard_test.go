package book

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"balustrade/jobbook/job"
	"balustrade/jobbook/yard"
	"balustrade/templates"
)

func yardPages(t *testing.T, jobs ...yard.Summary) map[string]string {
	t.Helper()
	files, err := RenderYard(yard.Of(jobs, []string{"plans & <notes>"}), templates.Pages)
	if err != nil {
		t.Fatal(err)
	}
	pages := map[string]string{}
	for _, f := range files {
		if _, twice := pages[f.Path]; twice {
			t.Errorf("%s twice", f.Path)
		}
		pages[f.Path] = strings.Join(f.Pieces, "")
	}
	return pages
}

// TestYardIndex: a job's section says what the job says, and leads to where its book says it.
func TestYardIndex(t *testing.T) {
	pages := yardPages(t,
		yard.Summary{Folder: "elm lane", Title: "Elm", Client: "The Hales", Place: "Elm Lane 4", State: yard.ToSettle, Stops: []yard.Stop{
			{ID: "check/run/hall/guard-opening", Title: "worst opening", Of: "Hall"}, {ID: "check/b", Title: "b"}, {ID: "check/c", Title: "c"}, {ID: "check/d", Title: "d"},
		}, Asks: 1, Missing: 3, Next: "Measure", NextHold: "the drawing is signed", Wanted: "2027-01-18", OrderBy: "2027-01-04", NextDay: "2027-01-04"},
		yard.Summary{Folder: "oak", State: yard.Unreadable, Problem: `job.md:3:4: no rule set is named "x"`},
		yard.Summary{Folder: "bare", State: yard.ToSurvey},
	)
	index := pages["index.html"]
	for _, want := range []string{
		"3 jobs: 1 cannot be read, 1 to be surveyed, 1 to be settled.",
		`<a href="elm%20lane/index.html">Elm</a>`, "The Hales, Elm Lane 4", "to be settled", "4 checks fail",
		`<a href="elm%20lane/checks.html#check-run.hall.guard-opening">worst opening, Hall</a>`, "1 more",
		"1 point for the authority or an engineer", `<a href="elm%20lane/index.html#missing">3</a>`, "Measure</a>. Hold point: the drawing is signed",
		"Monday 4 January 2027", "Monday 18 January 2027",
		"no rule set is named &#34;x&#34;", "takes nothing off the rack", "<h2>oak</h2>", `<a href="bare/index.html">bare</a>`,
		"plans &amp; &lt;notes&gt;",
	} {
		if !strings.Contains(index, want) {
			t.Errorf("the index does not have %q", want)
		}
	}
	if strings.Contains(index, "Its last book") {
		t.Error("a link to a book that is not there")
	}
	for _, absent := range []string{"calendar.html", "rack.html", "schedule.ics"} { // what has nothing to say is not made
		if pages[absent] != "" || strings.Contains(index, absent) {
			t.Errorf("there is a %s", absent)
		}
	}
	var data struct {
		Jobs []struct {
			Folder, State string
			Stops         int `json:"failing-checks"`
		}
	}
	if err := json.Unmarshal([]byte(pages[YardData]), &data); err != nil || len(data.Jobs) != 3 || data.Jobs[0].Folder != "oak" || data.Jobs[1].Stops != 4 {
		t.Errorf("%v, %+v", err, data)
	}
}

// TestYardEscapes: what somebody wrote is text wherever it stands, in links and in the drawing too.
func TestYardEscapes(t *testing.T) {
	const evil = `<script>alert("x")</script>&#`
	s := yard.Summary{
		Folder: `a?b#c"d`, Title: evil, Client: evil, Place: evil, State: yard.ToOrder, Shared: true, Shop: evil, Currency: "$", Next: evil, NextDay: "2027-03-01", First: "2027-03-01", Last: "2027-03-01",
		Crew: job.Whole{N: 1, Given: true}, Left: []string{evil},
		Stops: []yard.Stop{{ID: evil, Title: evil, Of: evil}},
		Days:  []yard.Day{{Date: "2027-03-01", Work: []yard.Busy{{From: 480, To: 600, People: 2, What: evil}}}},
		Lines: []yard.Line{{Shared: true, Kind: "baluster", Part: evil, Title: evil, Count: 1, Pack: 1, Want: 1}},
		Takes: []yard.Take{{Title: evil}},
	}
	other := s
	other.Folder = "other"
	for name, page := range yardPages(t, s, other) {
		if strings.HasSuffix(name, ".html") && strings.Contains(page, "<script>") {
			t.Errorf("%s has a script in it", name)
		}
		if strings.HasSuffix(name, ".html") && strings.Contains(page, `href="a?b`) {
			t.Errorf("%s has a broken link", name)
		}
	}
}

// TestYardCalendarFile: ids stay apart where two jobs share title, client and place; each job's times are of its own zone, which is stated once.
func TestYardCalendarFile(t *testing.T) {
	event := yard.Event{ID: "x.1@house.jobbook.invalid", Stamp: "20270101T000000Z", Start: "20270301T080000", End: "20270301T090000", Title: "Measure"}
	one := yard.Summary{Folder: "one", Title: "Same", Place: "Here; there", State: yard.ToOrder, First: "2027-03-01", NextDay: "2027-03-01", Zone: "Europe/London", Days: []yard.Day{{Date: "2027-03-01", Work: []yard.Busy{{From: 480, To: 540, People: 1, What: "Measure"}}}}, Events: []yard.Event{event}}
	two, three := one, one
	two.Folder, three.Folder, three.Zone = "two", "three", ""
	file := yardPages(t, one, two, three)["schedule.ics"]
	for want, n := range map[string]int{
		"BEGIN:VEVENT\r\n": 3, "BEGIN:VTIMEZONE\r\n": 1, "DTSTART;TZID=Europe/London:20270301T080000\r\n": 2, "DTSTART:20270301T080000\r\n": 1, "SUMMARY:Same: Measure\r\n": 3,
		"UID:x.1@house.jobbook.invalid\r\n": 1, "UID:three.x.1@house.jobbook.invalid\r\n": 1, "UID:two.x.1@house.jobbook.invalid\r\n": 1, `LOCATION:Here\; there` + "\r\n": 3,
	} {
		if got := strings.Count(file, want); got != n {
			t.Errorf("%q is %d times in the file, want %d", want, got, n)
		}
	}
}

// BenchmarkYardIndex makes the pages over a hundred jobs and over a thousand, each with twenty parts to buy.
func BenchmarkYardIndex(b *testing.B) {
	for _, n := range []int{100, 1000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				jobs := make([]yard.Summary, n)
				for i := range jobs {
					s := yard.Summary{Folder: fmt.Sprintf("job-%04d", i), State: yard.ToOrder, Shared: true, Currency: "$", NextDay: "2027-03-01"}
					for k := range 20 {
						part := fmt.Sprint("part-", k)
						s.Lines = append(s.Lines, yard.Line{Supplier: "x", From: "X", Shared: true, Kind: "baluster", Part: part, Title: part, Count: 7, Pack: 1, Want: 7, Each: 1120, Priced: true, Amount: 7840, Complete: true, By: "2027-02-01"})
						s.Offers = append(s.Offers, yard.Offer{Supplier: "x", From: "X", Kind: "baluster", Part: part, Pack: 1, Each: 1120, Priced: true}, yard.Offer{Supplier: "x", From: "X", Kind: "baluster", Part: part, Pack: 10, Each: 10400, Priced: true})
					}
					jobs[i] = s
				}
				if _, err := RenderYard(yard.Of(jobs, nil), templates.Pages); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
