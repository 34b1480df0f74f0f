package draw

import (
	"fmt"
	"strings"
	"time"

	"balustrade/jobbook/sequence"
)

// Of time bars, px.
const (
	timeRow    = 30.0 // a line of words, and the bar under it
	timeBar    = 8.0
	timeHead   = 20.0
	timeNarrow = 9.0 // a day without work
	leastBar   = 3.0 // so that it is seen at arm's length
)

// week is the days of one drawing: where each begins and ends on the sheet, and the hours that it shows.
type week struct {
	s        *sequence.Schedule
	first    int // its Monday, counted from 0 for day 1
	from, to int // the hours of a day that are shown, in minutes
	left     [8]float64
	work     [7]bool
}

// Bars draws the steps of a schedule week by week, as many drawings as there are weeks in which something is done: a bar where a step is worked on, solid where it has no slack, a thin line while something dries or is on the way, a stop sign for a hold point.
// Of a day the hours are shown that anything is worked at; nights take no room.
func Bars(s *sequence.Schedule, width int) []string {
	if !s.Known || len(s.Days) == 0 {
		return nil
	}
	from, to := sequence.Day, 0
	for _, d := range s.Days {
		for _, p := range d.Parts {
			for _, x := range p.Spans {
				from, to = min(from, x.From-d.Day*sequence.Day), max(to, x.To-d.Day*sequence.Day)
			}
		}
	}
	px := float64(min(max(width, narrowest), widest))
	var list []string
	for k, d := range s.Days {
		first := d.Day - s.Weekday(d.Day)
		if k > 0 && s.Days[k-1].Day >= first {
			continue // drawn already
		}
		w := &week{s: s, first: first, from: from, to: max(to, from+1)}
		list = append(list, w.draw(px, fmt.Sprintf("d-time-%d-%d", width, len(list)), s.Days[k:]))
	}
	return list
}

// draw draws a week; days are those on which something is done, from its first one on.
func (w *week) draw(px float64, id string, days []sequence.DayWork) string {
	var tasks []int
	seen := map[int]bool{}
	for _, d := range days {
		if d.Day >= w.first+7 {
			break
		}
		w.work[d.Day-w.first] = true
		for _, p := range d.Parts {
			if !seen[p.Task] {
				seen[p.Task] = true
				tasks = append(tasks, p.Task)
			}
		}
	}
	each := w.columns(px)
	d := &sheet{id: id, title: "Week of " + w.s.Label(w.first), width: px}
	for i := range w.work {
		if w.work[i] {
			d.text((w.left[i]+w.left[i+1])/2, timeHead-6, middle, fit(w.day(i), each-2))
		}
	}
	y := timeHead
	var words []string
	for _, i := range tasks {
		y += timeRow
		d.days(w, y)
		d.task(w, i, y)
		words = append(words, w.words(i))
	}
	d.height = y + 6
	d.desc = strings.Join(words, ". ") + "."
	return d.svg()
}

// columns shares a sheet out among the days of a week, and is how wide one with work is.
func (w *week) columns(px float64) (each float64) {
	broad := 0
	for _, work := range w.work {
		if work {
			broad++
		}
	}
	each = float64((px - 2 - float64(timeNarrow*float64(7-broad))) / float64(max(broad, 1)))
	w.left[0] = 1
	for i := range w.work {
		wide := timeNarrow
		if w.work[i] {
			wide = each
		}
		w.left[i+1] = w.left[i] + wide
	}
	return each
}

// days draws where the days of a line end, below its words, and hatches those on which nothing is done.
func (d *sheet) days(w *week, y float64) {
	const apart = 3.0 // px between two lines of the hatching
	top, foot := y-timeBar-3, y
	for i, x := range w.left {
		d.line(dim, x, top, x, foot)
		if i < 7 && !w.work[i] {
			for h := foot; h > top+apart; h -= apart {
				d.line(hatch, x, h, w.left[i+1], h-apart)
			}
		}
	}
}

// task draws one line of a week.
func (d *sheet) task(w *week, i int, y float64) {
	p := w.s.Table.Placed[i]
	bar := y - timeBar - 2
	d.text(5, bar-4, start, fit(w.s.Tasks[i].Name, d.width-12))
	if len(p.Spans) == 0 { // a hold point
		half := timeBar / 2
		x := min(max(w.at(p.Start), 1+half), d.width-1-half) // whole, also at the edge of the sheet
		d.path(solid, true, point{x - half/2, bar}, point{x + half/2, bar}, point{x + half, bar + half/2}, point{x + half, bar + half + half/2}, point{x + half/2, bar + timeBar}, point{x - half/2, bar + timeBar}, point{x - half, bar + half + half/2}, point{x - half, bar + half/2})
	}
	for _, x := range p.Spans {
		if x.To <= w.first*sequence.Day || x.From >= (w.first+7)*sequence.Day {
			continue
		}
		a, b := w.at(x.From), w.at(x.To)
		if b < a+leastBar {
			a, b = min(a, d.width-1-leastBar), min(a, d.width-1-leastBar)+leastBar
		}
		corners := []point{{a, bar}, {b, bar}, {b, bar + timeBar}, {a, bar + timeBar}}
		if p.Critical {
			d.path(solid, true, corners...)
		} else {
			d.body(corners...)
		}
	}
	if a, b := w.at(p.End), w.at(p.Ready); p.Ready > p.End && b > a {
		d.line(seen, a, bar+timeBar/2, b, bar+timeBar/2)
	}
}

// at is where a time stands on the sheet; what lies before or after the week, or in a night, at its edge.
func (w *week) at(m int) float64 {
	m -= w.first * sequence.Day
	if m <= 0 {
		return w.left[0]
	}
	day := m / sequence.Day
	if day >= 7 {
		return w.left[7]
	}
	part := float64(min(max(m%sequence.Day, w.from), w.to)-w.from) / float64(w.to-w.from)
	return w.left[day] + float64((w.left[day+1]-w.left[day])*part)
}

// day is a day's short name.
func (w *week) day(i int) string {
	if !w.s.Dated {
		return fmt.Sprintf("day %d", w.first+i+1)
	}
	day := w.s.Start.AddDate(0, 0, w.first+i)
	if w.left[i+1]-w.left[i] < advance("Mon 22 Dec")+4 {
		return day.Format("2 Jan")
	}
	return day.Format("Mon 2 Jan")
}

// words say what a line shows.
func (w *week) words(i int) string {
	p := w.s.Table.Placed[i]
	at := func(m int) string {
		m = sequence.Printed(m)
		if w.s.Dated {
			return w.s.Start.Add(time.Duration(m) * time.Minute).Format("Monday 2 January 15:04")
		}
		return w.s.Label(sequence.DayOf(m)) + " " + sequence.Clock(m)
	}
	words := w.s.Tasks[i].Name + ", " + at(p.Start)
	if p.End > p.Start {
		words += " to " + at(p.End)
	}
	if p.Ready > p.End {
		words += ", then until " + at(p.Ready)
	}
	if p.Critical {
		words += ", no slack"
	}
	return words
}

// clock is a time of day as it is printed.
func clock(minutes int) string { return sequence.Clock(sequence.Printed(minutes)) }
