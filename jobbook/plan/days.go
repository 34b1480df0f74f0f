package plan

import (
	"time"

	"balustrade/jobbook/job"
	"balustrade/jobbook/sequence"
)

// Moved is a step as the last issue planned it, and as it is now. Days are those on which it is over.
type Moved struct {
	Step *job.Step // nil for the whole of the work
	Was  string    // year-month-day
	Is   string    // the day it was done, else that of the calendar; empty where the job has no such step any more
	Done bool
	Days int // working days later; below 0 sooner
}

// Moved sets the days of the steps against those of the last issue, in its order, and the end of the work last. An issue without days has none, nor has a job without dates.
func (p *Plan) Moved() (list []Moved) {
	s := &p.Schedule
	if p.Changes == nil || !s.Known || !s.Dated {
		return nil
	}
	day := func(text string) (int, bool) {
		t, err := time.Parse(time.DateOnly, text)
		if err != nil {
			return 0, false
		}
		at, ok := s.Time(t, 0)
		return sequence.DayOf(at), ok
	}
	later := func(m Moved) Moved {
		was, okWas := day(m.Was)
		is, okIs := day(m.Is)
		if okWas && okIs {
			m.Days = s.WorkDays(was, is)
		}
		return m
	}
	over := map[string]int{}
	last := -1
	for _, i := range s.Table.Order {
		end := s.Table.Placed[i].End
		if !s.Tasks[i].Done {
			last = max(last, end)
			for _, of := range append([]*sequence.Step{s.Of[i].Step}, s.Of[i].With...) {
				if of != nil && of.Step != nil {
					over[of.Step.Name] = max(over[of.Step.Name], end)
				}
			}
		}
	}
	date := func(end int) string { return s.Date(max(end-1, 0)).Format(time.DateOnly) }
	lastDone := ""
	for _, x := range p.Sequence.Steps {
		lastDone = max(lastDone, x.Done) // days in this form sort as text
	}
	for _, was := range p.Changes.Planned {
		if _, ok := day(was.Over); !ok {
			continue
		}
		m := Moved{Was: was.Over}
		for i := range p.Sequence.Steps {
			if x := &p.Sequence.Steps[i]; x.Step != nil && x.Step.Name == was.Step {
				m.Step, m.Is, m.Done = x.Step, x.Done, x.Done != ""
				if end, ok := over[was.Step]; ok && !m.Done {
					m.Is = date(end)
				}
			}
		}
		if m.Step != nil && m.Is != "" {
			list = append(list, later(m))
		}
	}
	if _, ok := day(p.Changes.End); ok && len(list) > 0 {
		m := Moved{Was: p.Changes.End, Is: lastDone, Done: last < 0}
		if last >= 0 {
			m.Is = date(last)
		}
		list = append(list, later(m))
	}
	return list
}
