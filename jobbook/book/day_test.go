package book

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/changes"
)

// TestDay compares the sheets of some moments with those that a person has read: before the first day, in the middle of one, on the weekend, in the night, late, and after all is done. The calendar is that of the pages.
func TestDay(t *testing.T) {
	var text strings.Builder
	for _, c := range []struct {
		words, day string
		minutes    int
	}{
		{"before the first day", "2027-03-09", 0},
		{"the first day, all of it", "2027-03-11", 0},
		{"the first day, after the noon hour", "2027-03-11", 13 * 60},
		{"in the evening of the first day", "2027-03-11", 17 * 60},
		{"a Saturday", "2027-03-13", 10 * 60},
		{"a day off", "2027-03-16", 10 * 60},
		{"after the last day of the book", "2027-04-05", 10 * 60},
	} {
		day, err := time.Parse(time.DateOnly, c.day)
		if err != nil {
			t.Fatal(err)
		}
		p := calendarPlan(t, smallCalendar)
		p.Changes = &changes.Comparison{Issue: "first", Planned: []changes.Planned{{Step: "agree", Over: "2027-03-10"}, {Step: "receive", Over: "2027-03-12"}}}
		fmt.Fprintf(&text, "## %s\n%s\n\n", c.words, strings.Join(Day(p, day, c.minutes), "\n"))
	}
	golden(t, filepath.Join("testdata", "day.txt"), text.String())
}

// TestDayLeavesTheBook: asking for a day changes nothing of the plan that the book is made of.
func TestDayLeavesTheBook(t *testing.T) {
	p := calendarPlan(t, smallCalendar)
	before, _, err := Render(p, templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	Day(p, time.Date(2027, time.March, 18, 0, 0, 0, 0, time.UTC), 600)
	after, _, err := Render(p, templatesFolder())
	if err != nil || !cmp.Equal(before, after) {
		t.Errorf("the book changed: %v", err)
	}
}

// TestDayUnknown: a job without a first day or without hours says what to write, and what comes next in order.
func TestDayUnknown(t *testing.T) {
	for calendar, want := range map[string][2]string{
		`{hours: "8:00 to 16:00"}`: {"the first day of work: job.md, calendar: {start: ", "the working hours"},
		`{start: 2027-03-11}`:      {"the working hours: job.md, calendar: {hours: ", "the first day"},
	} {
		text := strings.Join(Day(calendarPlan(t, calendar), time.Date(2027, time.March, 11, 0, 0, 0, 0, time.UTC), 0), "\n")
		if !strings.Contains(text, want[0]) || strings.Contains(text, want[1]) || !strings.Contains(text, "Next in order") {
			t.Errorf("%s: %s", calendar, text)
		}
	}
}

// TestPlainText: tags go, entities come back, a line for each paragraph, entry and fact.
func TestPlainText(t *testing.T) {
	got := plainText("<section id=\"a\"><h2>Day</h2>\n<ul>\n<li>8:00: <a href=\"x\">Cut &amp; fit</a>. <b>Hold: a &lt; b</b></li>\n</ul>\n<dl class=\"facts\">\n<div><dt>bring</dt><dd>a tape</dd></div>\n</dl>\n<p><b>In the evening:</b> swept.</p>\n</section>\n")
	if d := cmp.Diff([]string{"Day", "- 8:00: Cut & fit. Hold: a < b", "bring: a tape", "In the evening: swept."}, got); d != "" {
		t.Error(d)
	}
}
