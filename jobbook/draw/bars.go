package draw

import (
	"fmt"
	"strings"

	"balustrade/jobbook/sequence"
)

// Of time bars, px.
const (
	timeRow  = 30.0 // a line of words, and the bar under it
	timeBar  = 8.0
	timeHead = 16.0
)

// Bars draws the steps of a schedule over its days: a bar where one is worked on, solid where it has no slack, a thin line while something dries or is on the way. A tick stands at the start of every week.
func Bars(s *sequence.Schedule, width int) string {
	if !s.Known || len(s.Table.Order) == 0 {
		return ""
	}
	from, to := 0, 0
	first := true
	for _, i := range s.Table.Order {
		if s.Tasks[i].Done {
			continue
		}
		p := s.Table.Placed[i]
		if first || p.Start < from {
			from = p.Start
		}
		to, first = max(to, p.Ready, p.End), false
	}
	if first {
		return ""
	}
	from -= ((from % sequence.Day) + sequence.Day) % sequence.Day
	px := float64(min(max(width, narrowest), widest))
	d := &sheet{id: fmt.Sprintf("d-time-%d", width), title: "The work over its days", width: px}
	at := func(m int) float64 { return 1 + float64((px-2)*float64(m-from)/float64(max(to-from, 1))) }
	y := timeHead
	d.text(1, timeHead-4, start, s.Label(sequence.DayOf(from)))
	d.text(px-1, timeHead-4, end, s.Label(sequence.DayOf(to-1)))
	top := y
	var words []string
	for _, i := range s.Table.Order {
		t, p := s.Tasks[i], s.Table.Placed[i]
		if t.Done {
			continue
		}
		y += timeRow
		bar := y - timeBar - 2
		d.text(1, bar-4, start, fit(t.Name, px-2))
		spans := p.Spans
		if len(spans) == 0 {
			spans = []sequence.Span{{From: p.Start, To: p.Start}}
		}
		for _, x := range spans {
			a, b := at(x.From), at(x.To)
			b = max(b, a+3) // seen from a metre
			corners := []point{{a, bar}, {b, bar}, {b, bar + timeBar}, {a, bar + timeBar}}
			if p.Critical {
				d.path(solid, true, corners...)
			} else {
				d.body(corners...)
			}
		}
		if p.Ready > p.End {
			d.line(seen, at(p.End), bar+timeBar/2, at(p.Ready), bar+timeBar/2)
		}
		words = append(words, t.Name+", "+s.Label(sequence.DayOf(p.Start)))
	}
	const week = 7 * sequence.Day
	for m := from; m < to; m += sequence.Day {
		if s.Dated && s.Date(m).Weekday() == 1 || !s.Dated && m%week == 0 {
			d.line(hatch, at(m), top, at(m), y)
		}
	}
	d.height = y + 2
	d.desc = strings.Join(words, ". ") + "."
	return d.svg()
}
