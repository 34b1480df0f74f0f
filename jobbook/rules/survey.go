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
		add := func(limit, subject, missing, key string, m job.Measure) {
			if m.At.IsZero() {
				m.At = source.Pos{File: s.File}
			}
			list = append(list, finding.Measure{Limit: limit, Subject: subject, Group: surveys + s.Name, Value: m.Length, Known: m.Given, Missing: missing, Key: key, At: m.At})
		}
		fall := s.Drop
		if !fall.Given && (j.Drop.Given || fall.At.IsZero()) {
			fall = j.Drop
		}
		add(drop, "drop beside the old guard", "how far down it is from the walking surface", "drop: ", fall)
		add("guard-height-level", "height of the old guard above the floor", "top of the old handrail above the floor", "height: ", s.Height)
		for i, o := range s.Openings {
			where := o.Where.Text
			if where == "" {
				where = "place " + strconv.Itoa(i+1)
			}
			add("guard-opening", "opening of the old guard, "+where, "the widest that a ball passes, "+where, "openings: {read: }", o.Read)
		}
		for i, c := range s.Climb {
			what := c.What.Text
			if what == "" {
				what = "foothold " + strconv.Itoa(i+1)
			}
			if limit := foothold(j.Rules, c.At); limit != "" {
				add(limit, "something to stand on for a climb: "+what, "height of the top of it above the floor, "+what, "climb: {at: }", c.At)
			}
		}
		if len(s.Openings) == 0 {
			add("guard-opening", "openings of the old guard", "the widest opening of the old guard", "openings: {where: , read: }", job.Measure{})
		}
	}
	return list
}

// foothold is the limit that judges something to stand on at a height: low enough to be no help, or else high enough. Empty where the rule set has neither.
func foothold(set *job.RuleSet, at job.Measure) string {
	low, high := set.Limit("foothold-low"), set.Limit("foothold-high")
	switch {
	case low != nil && (high == nil || at.Given && at.Length <= low.Value.Length):
		return low.Name
	case high != nil:
		return high.Name
	}
	return ""
}
