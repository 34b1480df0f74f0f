package sequence

import (
	"fmt"
	"slices"
	"time"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/working"
)

// From places what is left anew: nothing that is not done begins before now, a time of the calendar. The schedule itself, which the book shows, stays as it is. What was ticked off on the day of now is over by then, so that the
// rest of that day is there for what comes next; nobody has to wait for the next day, as they have to where no time is known: in the book, and from a midnight on, which is a day without an hour.
func (s *Schedule) From(now int) Schedule {
	if !s.Known {
		return *s
	}
	later := *s
	later.Tasks = slices.Clone(s.Tasks)
	for i := range later.Tasks {
		later.Tasks[i].From = s.from[i]
	}
	w := s.work
	w.Tasks, w.Now, w.HasNow = later.Tasks, now, true
	later.work = w
	later.Table = Arrange(w)
	later.Days = later.Table.Days(later.Tasks)
	later.Findings = nil
	later.judge(later.job)
	later.goods(later.job)                                 // those that are still to come
	later.Findings = append(later.Findings, s.Recoated...) // what was ticked off stays as it is
	return later
}

// Late are the tasks that the schedule has over before a time, and that are not done, in its order.
func (s *Schedule) Late(now int) (list []int) {
	for _, i := range s.Table.Order {
		if p := s.Table.Placed[i]; !s.Tasks[i].Done && (p.End < now || p.End == now && p.Start < now) {
			list = append(list, i)
		}
	}
	return list
}

// Time is a day and an hour, in minutes from its midnight, as a time of the calendar; false where the calendar has no dates.
func (s *Schedule) Time(day time.Time, minutes int) (int, bool) {
	if !s.Known || !s.Dated {
		return 0, false
	}
	return int(day.Sub(s.Start).Hours())/24*Day + minutes, true // both are midnights of UTC
}

// Works reports whether anybody works on a day at all, family or not.
func (s *Schedule) Works(day int) bool { return len(s.work.hours(day)) > 0 }

// Off reports a day on which work is done in other weeks.
func (s *Schedule) Off(day int) bool {
	return !s.Works(day) && len(s.work.Hours[s.work.weekday(day)]) > 0
}

// Closes is when work ends on a day; false where nobody works.
func (s *Schedule) Closes(day int) (int, bool) {
	hours := s.work.hours(day)
	if len(hours) == 0 {
		return 0, false
	}
	return hours[len(hours)-1].To, true
}

// WorkDays counts the days on which somebody works after one day and up to another; below 0 where the other is the earlier one.
func (s *Schedule) WorkDays(from, to int) int {
	if to < from {
		return -s.WorkDays(to, from)
	}
	n := 0
	for day := from + 1; day <= to && day-from < mostDays; day++ {
		if s.Works(day) {
			n++
		}
	}
	return n
}

// Evening is how a day is left on which nothing is done.
func (s *Schedule) Evening(day int) DayWork {
	d := DayWork{Day: day}
	s.Table.evening(s.Tasks, &d)
	return d
}

// Missed is a day that was not kept, by a step that is done.
type Missed struct {
	Step *job.Step
	What string // what the day is: it was to be over by
	By   string // the day
	Done string
	Days int // working days in between
}

// missed finds steps that were done after the day that the job wants them over by. Those that are not done yet are judged where they stand.
func (s *Schedule) missed(j *job.Job, seq Sequence) {
	if !s.Dated {
		return
	}
	day := func(text string) int {
		t, _ := time.Parse(time.DateOnly, text)
		at, _ := s.Time(t, 0)
		return floorDiv(at, Day)
	}
	for _, x := range seq.Steps {
		late := func(by, what string) {
			if x.Done > by { // days in this form sort as text
				s.Missed = append(s.Missed, Missed{x.Step, what, by, x.Done, s.WorkDays(day(by), day(x.Done))})
			}
		}
		if x.Done == "" || x.Step == nil {
			continue
		}
		for _, t := range j.Calendar.By {
			if t.Step.Text == x.Step.Name {
				late(t.Day.Text, "it was to be over by")
			}
		}
		if x.Step.Time.Inspection.Yes && j.Calendar.Inspection.Given {
			late(j.Calendar.Inspection.Text, "the inspection was on")
		}
		if x.Step.Time.Goods.Yes && j.Wanted.Given {
			late(j.Wanted.Text, "the goods were wanted by")
		}
	}
}

// recoated finds coats that were ticked off so soon after the one under them that it cannot have been dry: of two days, the time from the beginning of work on the first until the end of work on the second is the longest there can have been.
func (s *Schedule) recoated(seq Sequence) {
	if !s.Dated {
		return
	}
	tasks := map[string]int{}
	for i := range s.Tasks {
		if c := s.Of[i].Coat; c != nil {
			tasks[coatName(*c)] = i
		}
	}
	under := map[string]Piece{}
	for _, x := range seq.byCoat() {
		before, has := under[x.Group]
		under[x.Group] = x
		i, placed := tasks[before.Name]
		k, same := tasks[x.Name]
		if !has || !placed || !same || !before.Own || before.Done == "" || x.Done < before.Done || !s.Tasks[i].Done || !s.Tasks[k].Done {
			continue
		}
		from, to := s.Tasks[i].From, s.Tasks[k].From+Day
		if hours := s.work.hours(floorDiv(from, Day)); len(hours) > 0 {
			from = hours[0].From
		}
		if closes, ok := s.Closes(floorDiv(to, Day) - 1); ok {
			to = closes
		}
		dry := s.Of[i].Coat.Dry // each piece by itself: the first of a batch has the longest
		if work := max(s.Tasks[i].clock(), s.Tasks[k].clock()); before.Done == x.Done && s.work.after(from, dry) <= to && s.work.after(from+work, dry) > to {
			s.Recoated = append(s.Recoated, finding.Finding{
				ID: fmt.Sprintf("check/calendar/recoated/%d", len(s.Findings)+len(s.Recoated)+1), Group: "calendar", Title: before.Name + " and " + x.Name + " are ticked off on one day, which they do not fit into", Verdict: finding.Fail, Status: working.Derived, Rules: "the calendar of the work", At: x.At,
				Note: fmt.Sprintf("on %s work goes on for %s from first to last; to coat them takes %s, and the coat under it is reckoned to dry %s", x.Done, span(to-from), span(work), span(dry)),
				Cure: "look whether it holds: scratch it across the edges; and put the days right, or the can's own time into the finish",
			})
			continue
		}
		if s.work.after(from, dry) > to {
			at := x.At
			s.Recoated = append(s.Recoated, finding.Finding{
				ID: fmt.Sprintf("check/calendar/recoated/%d", len(s.Findings)+len(s.Recoated)+1), Group: "calendar", Title: x.Name + " went on before " + before.Name + " can have been dry", Verdict: finding.Fail, Status: working.Derived, Rules: "the calendar of the work", At: at,
				Note: fmt.Sprintf("%s on %s, %s on %s, and it is reckoned to dry %s", before.Name, before.Done, x.Name, x.Done, span(dry)),
				Cure: "look whether it holds: scratch it across the edges; and put the days right, or the can's own time into the finish",
			})
		}
	}
	s.Findings = append(s.Findings, s.Recoated...)
}

// clock is how long a task takes by the clock, with as many people as it is placed with.
func (t *Task) clock() int { return t.Minutes / max(1, t.People) }

// span is a time in hours, to the minute.
func span(minutes int) string {
	if minutes%Hour == 0 {
		return fmt.Sprintf("%d h", minutes/Hour)
	}
	return fmt.Sprintf("%d h %d min", minutes/Hour, minutes%Hour)
}
