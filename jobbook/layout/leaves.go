package layout

import (
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Leaving is a mark of an old guard on floor or wall, and whether the new guard covers it.
type Leaving struct {
	*job.Leaving
	Survey string
	By     string          // what comes over it, in words; empty where nothing does
	Shows  *working.Figure // how much of it shows on the worse side: nothing or less is covered; nil where nothing covers it or a reading is missing
	Open   string          // the reading that it waits for, in words
}

// Covered reports a mark that the new guard hides.
func (l Leaving) Covered() bool {
	return l.Shows != nil && l.Shows.Value.Known() && l.Shows.Value.Sign() <= 0
}

// leaves works out what shows of each mark that an old guard leaves: half of it and its shift, less half of the shoe or newel that comes over it.
func leaves(j *job.Job) (list []Leaving, figures []*working.Figure, missing []finding.Reading) {
	for _, s := range j.Surveys {
		for i := range s.Leaves {
			l := Leaving{Leaving: &s.Leaves[i], Survey: s.Name}
			var cover job.Measure
			for _, r := range j.Runs {
				if l.Run.Given && r.Name == l.Run.Text && r.Shoe != nil {
					l.By, cover = "the new shoe", r.Shoe.Wide
				}
			}
			if p := j.Post(l.Post.Text); l.Post.Given && p != nil && p.Part != nil {
				l.By, cover = "the new newel", p.Part.Wide
			}
			need := func(what, key string, at source.Pos) {
				if at.IsZero() {
					at = l.At
				}
				l.Open = what
				missing = append(missing, finding.Reading{What: what, Where: s.File + ", leaves: {" + key + ": }", Why: "whether the new guard covers what the old one leaves", Group: "survey/" + s.Name, At: at})
			}
			what := l.What.Text
			if what == "" {
				what = "a mark"
			}
			switch {
			case l.By == "" || !cover.Given:
			case !l.Wide.Given:
				need("how wide it is, "+what, "wide", l.Wide.At)
			case !l.Shift.Given:
				need("how far its middle lies from the middle of the new guard, "+what, "shift", l.Shift.At)
			default:
				two := working.Constant(2)
				wide, shift, over := working.Length("m", "width of what the old guard leaves", l.Wide.Length, j.System, l.Wide.At), working.Length("s", "how far it lies off the middle of the new guard", max(l.Shift.Length, -l.Shift.Length), j.System, l.Shift.At), working.Length("b", "width of "+l.By, cover.Length, j.System, cover.At)
				l.Shows = working.Work("survey/"+s.Name+"/leaves-"+strconv.Itoa(i+1), "how much shows beside "+l.By+": "+what, "x", j.System.String(),
					working.Difference(working.Sum(working.Quotient(wide, two), shift), working.Quotient(over, two)), working.Geometry)
				figures = append(figures, l.Shows)
			}
			list = append(list, l)
		}
	}
	return list, figures, missing
}

// footholds gives the tops of bottom rail and handrail to a rule set that has limits for what helps a climb; of a level run, where they are one height all along.
func (b *builder) footholds() {
	set := b.job.Rules
	if set.Limit("foothold-low") == nil && set.Limit("foothold-high") == nil {
		return
	}
	add := func(limit, subject string, h length.Length, known bool, at source.Pos) {
		if set.Limit(limit) != nil {
			b.Measures = append(b.Measures, finding.Measure{Limit: limit, Subject: subject, Group: b.ID, Value: h, Known: known, At: at, Missing: "the height of the guard", Note: "rings and beads of a turning, and what stands beside the guard, are looked at on site"})
		}
	}
	if b.r.Shoe != nil {
		add("foothold-low", "top of the shoe above the floor, for a climb", b.r.Shoe.High.Length, b.r.Shoe.High.Given, b.r.Shoe.High.At)
	}
	add("foothold-high", "top of the handrail above the floor, for a climb", b.Levels.Finished, b.Levels.Finished > 0, b.r.Height.Top.At)
}
