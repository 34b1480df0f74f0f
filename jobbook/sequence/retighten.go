package sequence

import (
	"fmt"
	"time"

	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Retightening is when the bolts of a guard are tightened for the first time: after the first heating season that it has stood through, for wood that dries shrinks away from them.
type Retightening struct {
	From    string // the day from which it stands: 2027-01-22; empty while nobody knows
	Stands  bool   // every step is done; else From is the last day of the calendar
	Day     string // empty where the rule or From is not known
	Figure  *working.Figure
	Missing string // what the day still waits for, in words
}

// AfterHeating is the citation of the rule.
var AfterHeating = working.Citation{Text: "bolts are tightened after the first heating season: common practice, no source", Status: working.CommonPractice}

// Retighten works the day out by the shop's rule. There is no default: when heating ends hangs on where one works.
func Retighten(j *job.Job, seq Sequence, s Schedule) Retightening {
	var r Retightening
	var from time.Time
	at := source.Pos{}
	r.Stands = len(seq.Steps) > 0 && seq.Next() == len(seq.Steps)
	switch {
	case r.Stands:
		for _, t := range j.Done {
			if day, ok := t.Day.Date(); ok && day.After(from) {
				from, at = day, t.Day.At
			}
		}
	case s.Dated && len(s.Days) > 0:
		from = s.Date(s.Days[len(s.Days)-1].Day * Day)
	}
	rule := j.Shop.Retighten
	if !from.IsZero() {
		r.From = from.Format(time.DateOnly)
	}
	switch {
	case !rule.Ends.Given || !rule.Standing.Given:
		r.Missing = "the shop's settings do not say when heating ends (retighten: {ends: , standing: })"
		return r
	case from.IsZero():
		r.Missing = "the day of the hand-over is not known: the job names no first day (calendar: {start: })"
		return r
	}
	days := (rule.Standing.Most + Day - 1) / Day
	h := working.Count("h", "day of the year of the hand-over", int64(from.YearDay()), at)
	if at.IsZero() {
		h.Because("the last day of the calendar, " + r.From)
	} else {
		h.Because(r.From)
	}
	w := working.Count("w", "days that the guard has to have stood in the heated house", int64(days), rule.Standing.At)
	ready := from.AddDate(0, 0, days)
	due := rule.Ends.In(ready.Year())
	if due.Before(ready) {
		due = rule.Ends.In(ready.Year() + 1)
	}
	r.Day = due.Format(time.DateOnly)
	r.Figure = working.Work("hand-over/retighten", "earliest day of the year on which heating may be over", "e", "days", working.Sum(h, w), AfterHeating).
		Noted(fmt.Sprintf("Counted from 1 January %d that is %s. Heating ends on %s (month and day); the first such day from then on is %s.", from.Year(), ready.Format(time.DateOnly), rule.Ends, r.Day))
	return r
}
