package sequence

import (
	"cmp"
	"slices"
)

// DayWork is what is done on one day.
type DayWork struct {
	Day   int // counted from 0 for day 1
	Parts []Part
	Night []int // tasks that are over, and after which something still passes when the day is over: drying, on the way
	Open  bool  // in the evening an edge is without its guard: the old one is off and the new one does not stand yet
	Bar   bool  // in the evening the temporary barrier stands
}

// Part is what is done of a task on one day.
type Part struct {
	Task        int
	Spans       []Span
	First, Last bool // the task begins on this day, is over on it
}

// Days lists the days on which something is done, in order. What takes no time stands on the day that it falls on.
func (t Timetable) Days(tasks []Task) []DayWork {
	var list []DayWork
	at := map[int]int{}
	day := func(d int) *DayWork {
		i, ok := at[d]
		if !ok {
			i = len(list)
			at[d] = i
			list = append(list, DayWork{Day: d})
		}
		return &list[i]
	}
	for _, i := range t.Order {
		p := t.Placed[i]
		if tasks[i].Done {
			continue
		}
		if len(p.Spans) == 0 {
			d := day(floorDiv(p.Start, Day))
			d.Parts = append(d.Parts, Part{Task: i, Spans: []Span{{p.Start, p.Start}}, First: true, Last: true})
			continue
		}
		for k := 0; k < len(p.Spans); {
			n := floorDiv(p.Spans[k].From, Day)
			part := Part{Task: i, First: k == 0}
			for ; k < len(p.Spans) && floorDiv(p.Spans[k].From, Day) == n; k++ {
				part.Spans = append(part.Spans, p.Spans[k])
			}
			part.Last = k == len(p.Spans)
			d := day(n)
			d.Parts = append(d.Parts, part)
		}
	}
	slices.SortFunc(list, func(a, b DayWork) int { return cmp.Compare(a.Day, b.Day) })
	for n := range list {
		d := &list[n]
		slices.SortStableFunc(d.Parts, func(a, b Part) int { return cmp.Compare(a.Spans[0].From, b.Spans[0].From) })
		t.evening(tasks, d)
	}
	return list
}

// evening works out how a day is left.
func (t Timetable) evening(tasks []Task, d *DayWork) {
	midnight := (d.Day + 1) * Day
	opened, closed := false, false
	for i := range tasks {
		p := t.Placed[i]
		if p.End > midnight || p.Start == p.End && p.Start >= midnight {
			continue
		}
		if (tasks[i].Wait > 0 || tasks[i].Days > 0) && p.Ready > midnight {
			d.Night = append(d.Night, i)
		}
		opened = opened || tasks[i].Opens
		closed = closed || tasks[i].Closes
		d.Bar = d.Bar || tasks[i].Barrier > 0
	}
	for i := range tasks {
		if tasks[i].Barrier < 0 && t.Placed[i].Start < midnight {
			d.Bar = false
		}
	}
	d.Open = opened && !closed
}

// DayOf is the day that a time of the calendar falls on, counted from 0 for day 1.
func DayOf(minutes int) int { return floorDiv(minutes, Day) }

// floorDiv is a division that rounds down, also below nothing.
func floorDiv(a, b int) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

func length(spans []Span) int {
	sum := 0
	for _, s := range spans {
		sum += s.To - s.From
	}
	return sum
}
