package draw

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"balustrade/jobbook/sequence"
	"balustrade/jobbook/yard"
)

// Weeks draws the work of all jobs of a yard week by week, as many drawings as there are weeks in which something is done: a line for each job that is worked on, solid where jobs want more people at once than there are.
// Of a day the hours are shown that anything is worked at; nights take no room.
func Weeks(y *yard.Yard, width int) []string {
	dates := y.Dates()
	from, to := sequence.Day, 0
	for _, d := range dates {
		for _, j := range d.Jobs {
			for _, x := range j.Work {
				from, to = min(from, x.From), max(to, x.To)
			}
		}
	}
	px := float64(min(max(width, narrowest), widest))
	var list []string
	for len(dates) > 0 {
		day, err := time.Parse(time.DateOnly, dates[0].Date)
		if err != nil {
			return list
		}
		monday := day.AddDate(0, 0, -((int(day.Weekday()) + 6) % 7))
		next := monday.AddDate(0, 0, 7).Format(time.DateOnly)
		n := slices.IndexFunc(dates, func(d yard.Worked) bool { return d.Date >= next })
		if n < 0 {
			n = len(dates)
		}
		w := &week{s: &sequence.Schedule{Dated: true, Start: monday}, from: from, to: max(to, from+1)}
		list = append(list, w.jobs(y, px, fmt.Sprintf("d-weeks-%d-%d", width, len(list)), dates[:n]))
		dates = dates[n:]
	}
	return list
}

// jobs draws a week, a line for each job.
func (w *week) jobs(y *yard.Yard, px float64, id string, dates []yard.Worked) string {
	type row struct {
		folder string
		words  []string
		work   []sequence.Span // from Monday, midnight
	}
	var rows []*row
	at := map[string]*row{}
	clash := map[string]yard.Clash{} // by date
	for _, c := range y.Clashes {
		if c.Known {
			clash[c.Date] = c
		}
	}
	var marked []yard.Clash // with their times from Monday
	for _, d := range dates {
		day, err := time.Parse(time.DateOnly, d.Date)
		if err != nil {
			continue
		}
		k := int(day.Sub(w.s.Start).Hours()) / 24
		w.work[k] = true
		if c, ok := clash[d.Date]; ok {
			c.From, c.To = c.From+k*sequence.Day, c.To+k*sequence.Day
			marked = append(marked, c)
		}
		for _, j := range d.Jobs {
			r := at[j.Folder]
			if r == nil {
				r = &row{folder: j.Folder}
				at[j.Folder] = r
				rows = append(rows, r)
			}
			first, last := sequence.Day, 0
			for _, x := range j.Work {
				first, last = min(first, x.From), max(last, x.To)
				if x.To > x.From {
					r.work = append(r.work, sequence.Span{From: x.From + k*sequence.Day, To: x.To + k*sequence.Day})
				}
			}
			r.words = append(r.words, fmt.Sprintf("%s %s to %s", day.Format("Monday 2 January"), clock(first), clock(last)))
		}
	}
	each := w.columns(px)
	d := &sheet{id: id, title: "Week of " + w.s.Label(0) + ", job by job", width: px}
	for i := range w.work {
		if w.work[i] {
			d.text((w.left[i]+w.left[i+1])/2, timeHead-6, middle, fit(w.day(i), each-2))
		}
	}
	foot := timeHead
	var words []string
	for _, r := range rows {
		foot += timeRow
		d.days(w, foot)
		bar := foot - timeBar - 2
		name := y.Job(r.folder).Name()
		d.text(5, bar-4, start, fit(name, px-12))
		for _, x := range r.work {
			d.busy(w, x, bar, slices.ContainsFunc(marked, func(c yard.Clash) bool { return slices.Contains(c.Jobs, r.folder) && x.From < c.To && c.From < x.To }))
		}
		words = append(words, name+": "+strings.Join(r.words, ", "))
	}
	for _, c := range marked {
		words = append(words, fmt.Sprintf("%s %s to %s: %d people wanted, there are %d", w.s.Start.AddDate(0, 0, c.From/sequence.Day).Format("Monday 2 January"), clock(c.From), clock(c.To), c.People, y.Crew.N))
	}
	d.height = foot + 6
	d.desc = strings.Join(words, ". ") + "."
	return d.svg()
}

// busy draws a stretch of work.
func (d *sheet) busy(w *week, x sequence.Span, bar float64, black bool) {
	a, b := w.at(x.From), w.at(x.To)
	if b < a+leastBar {
		a, b = min(a, d.width-1-leastBar), min(a, d.width-1-leastBar)+leastBar
	}
	corners := []point{{a, bar}, {b, bar}, {b, bar + timeBar}, {a, bar + timeBar}}
	if black {
		d.path(solid, true, corners...)
	} else {
		d.body(corners...)
	}
}
