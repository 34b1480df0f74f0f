package sequence

import (
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
)

// undated asks for the first day of a calendar without dates, where the job names days of the year: it keeps to none of them until then.
func (s *Schedule) undated(j *job.Job) {
	if s.Dated {
		return
	}
	c := j.Calendar
	var of []string
	at := c.Start.At
	named := func(what string, first source.Pos) {
		of = append(of, what)
		if at.IsZero() {
			at = first
		}
	}
	for _, f := range c.Family {
		if len(f.On) > 0 {
			named("what the family asked for on certain days", f.On[0].At)
			break
		}
	}
	if len(c.Off) > 0 {
		named("days off", c.Off[0].At)
	}
	if c.Inspection.Given {
		named("the inspection", c.Inspection.At)
	}
	if len(c.NotBefore) > 0 {
		named("steps that are not to begin before a day", c.NotBefore[0].Step.At)
	}
	if len(c.By) > 0 {
		named("steps that are to be over by a day", c.By[0].Step.At)
	}
	if len(of) == 0 {
		return
	}
	s.Missing = append(s.Missing, finding.Reading{
		What: "the first day of work: without it the calendar keeps to no day of the year; not kept so far: " + strings.Join(of, "; "), Where: j.File + ", calendar: {start: }", Why: "the calendar", Group: "calendar", At: at,
	})
}
