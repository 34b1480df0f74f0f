package draw_test

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/sequence"
)

// fortnight is a schedule over three weeks: bars with and without slack, something that is on the way for nine days, something that dries over a weekend, a hold point, a task that goes on the next day.
func fortnight(dated bool) *sequence.Schedule {
	const day, hour = sequence.Day, sequence.Hour
	work := sequence.Work{Tasks: []sequence.Task{
		{Name: "Survey", Minutes: 60, Done: true, From: -3 * day},
		{Name: "Order", Minutes: 120, Wait: 9 * day},
		{Name: "Sweep & tidy", Minutes: 5, After: []int{1}},
		{Name: "A step whose name is so long that no phone shows the whole of it on one line, and it goes on", Minutes: 300, Wait: 60 * hour, After: []int{1}},
		{Name: "Hold", After: []int{3}},
		{Name: "Set the balusters", Minutes: 900, After: []int{4}},
	}}
	for i := range 5 {
		work.Hours[i] = []sequence.Span{{From: 8 * hour, To: 12 * hour}, {From: 13 * hour, To: 17 * hour}}
	}
	s := &sequence.Schedule{Known: true, Tasks: work.Tasks, Crew: 1, Dated: dated}
	if dated {
		s.Start = time.Date(2026, time.December, 9, 0, 0, 0, 0, time.UTC) // a Wednesday
		work.Weekday = 2
	}
	s.Table = sequence.Arrange(work)
	s.Days = s.Table.Days(s.Tasks)
	return s
}

func barDrawings(all map[string]string) {
	for _, width := range []int{draw.Phone, 680} {
		for i, svg := range draw.Bars(fortnight(true), width) {
			all["time-"+strconv.Itoa(width)+"-"+strconv.Itoa(i)+".svg"] = svg
		}
	}
	all["time-undated.svg"] = draw.Bars(fortnight(false), 681)[0]
}

// TestBars: a drawing for each week in which something is done, none for nothing; its words name every line of it and no other. By hand: Order on Wednesday, 9 December, 8:00 to 10:00, here nine days later, on Friday the 18th at 10:00;
// five minutes and five hours of work on that day, over at 16:05; dry 60 hours later, in the night to Monday the 21st, so that the hold point is at 8:00 there.
func TestBars(t *testing.T) {
	svgs := draw.Bars(fortnight(true), draw.Phone)
	want := [][]string{{"Order, Wednesday 9 December 08:00"}, {"Sweep &amp; tidy", "Friday 18 December 16:05, then until Monday 21 December 04:05"}, {"Hold, Monday 21 December 08:00", "Set the balusters"}}
	if len(svgs) != len(want) {
		t.Fatalf("%d drawings, want %d", len(svgs), len(want))
	}
	for i, svg := range svgs {
		_, words, _ := strings.Cut(svg, "<desc")
		words, _, _ = strings.Cut(words, "</desc>")
		for k, names := range want {
			for _, name := range names {
				if strings.Contains(words, name) != (i == k) {
					t.Errorf("drawing %d, %q of drawing %d: %s", i, name, k, words)
				}
			}
		}
	}
	if draw.Bars(&sequence.Schedule{}, draw.Phone) != nil {
		t.Error("nothing is drawn")
	}
}
