package rules

import (
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
)

// surveys is the stem of the groups that old guards belong to.
const surveys = "survey/"

// Survey gives what was read on the old guards, for Judge: of each its drop, its height and every opening, in that order. What is
// left blank is a measure that is not known, with what to read.
func Survey(j *job.Job) []finding.Measure {
	var list []finding.Measure
	for _, s := range j.Surveys {
		add := func(limit, subject, missing string, m job.Measure) {
			if m.At.IsZero() {
				m.At = source.Pos{File: s.File}
			}
			list = append(list, finding.Measure{Limit: limit, Subject: subject, Group: surveys + s.Name, Value: m.Length, Known: m.Given, Missing: missing, At: m.At})
		}
		fall := s.Drop
		if !fall.Given && (j.Drop.Given || fall.At.IsZero()) {
			fall = j.Drop
		}
		add(drop, "drop beside the old guard", "how far down it is from the walking surface", fall)
		add("guard-height-level", "height of the old guard above the floor", "top of the old handrail above the floor", s.Height)
		for i, o := range s.Openings {
			where := o.Where.Text
			if where == "" {
				where = "place " + strconv.Itoa(i+1)
			}
			add("guard-opening", "opening of the old guard, "+where, "the widest that a ball passes, "+where, o.Read)
		}
		if len(s.Openings) == 0 {
			add("guard-opening", "openings of the old guard", "the widest opening of the old guard", job.Measure{})
		}
	}
	return list
}
