package sequence

import (
	"strings"
	"testing"
	"time"

	"balustrade/jobbook/job"
)

// TestRetighten: the first day on which heating ends that comes so many days after the hand-over. Days counted on a calendar by hand: 22 January is day 22, and 56 days on is day 78, 19 March; 1 March 2027 is day 60, and day 116 is
// 26 April, too late for the 15th; 18 February is day 49, and day 105 is 15 April itself.
func TestRetighten(t *testing.T) {
	rule := func(month, day, weeks int) job.Retighten {
		minutes := weeks * 7 * Day
		return job.Retighten{Ends: job.YearDay{Month: month, Day: day, Given: true}, Standing: job.Span{Least: minutes, Most: minutes, Given: true}}
	}
	for _, c := range []struct {
		name, day string
		rule      job.Retighten
		want      string
		numbers   string
		missing   string
	}{
		{"this winter", "2027-01-22", rule(4, 15, 8), "2027-04-15", "22 + 56", ""},
		{"on the day itself", "2027-02-18", rule(4, 15, 8), "2027-04-15", "49 + 56", ""},
		{"a day later", "2027-02-19", rule(4, 15, 8), "2028-04-15", "50 + 56", ""},
		{"not long enough", "2027-03-01", rule(4, 15, 8), "2028-04-15", "60 + 56", ""},
		{"over the turn of the year", "2026-12-10", rule(4, 15, 8), "2027-04-15", "344 + 56", ""},
		{"south of the equator", "2027-05-03", rule(10, 1, 8), "2027-10-01", "123 + 56", ""},
		{"29 February", "2026-11-02", rule(2, 29, 8), "2027-03-01", "306 + 56", ""}, // 2027 has none
		{"no rule", "2027-01-22", job.Retighten{}, "", "", "retighten"},
		{"half a rule", "2027-01-22", job.Retighten{Ends: job.YearDay{Month: 4, Day: 15, Given: true}}, "", "", "retighten"},
		{"no day", "", rule(4, 15, 8), "", "", "hand-over"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := &job.Job{Shop: job.Settings{Retighten: c.rule}}
			seq := Sequence{Steps: []Step{{Done: "2026-10-01"}, {Done: c.day}}}
			if c.day != "" {
				j.Done = []job.Ticked{{Day: job.Text{Text: "2026-10-01", Given: true}}, {Day: job.Text{Text: c.day, Given: true}}}
			}
			r := Retighten(j, seq, Schedule{})
			if r.Day != c.want || !strings.Contains(r.Missing, c.missing) || (c.missing == "") != (r.Missing == "") {
				t.Fatalf("day %q, missing %q", r.Day, r.Missing)
			}
			if c.want != "" && (r.Figure.Numbers() != c.numbers || !r.Stands || r.From != c.day) {
				t.Errorf("%s, stands %v, from %s", r.Figure.Numbers(), r.Stands, r.From)
			}
		})
	}
	t.Run("by the calendar", func(t *testing.T) { // day 3 of a calendar from 20 January is 22 January
		j := &job.Job{Shop: job.Settings{Retighten: rule(4, 15, 8)}}
		s := Schedule{Dated: true, Start: time.Date(2027, 1, 20, 0, 0, 0, 0, time.UTC), Days: []DayWork{{Day: 0}, {Day: 2}}}
		if r := Retighten(j, Sequence{Steps: []Step{{}}}, s); r.Day != "2027-04-15" || r.Stands || r.From != "2027-01-22" {
			t.Errorf("%+v", r)
		}
	})
}
