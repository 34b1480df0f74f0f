package rules

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/job"
)

// taken is a reading with the file that it stands in.
type taken struct {
	job.BuiltReading
	file   *job.AsBuilt
	counts bool
	found  []judged
}

// gather collects the readings of the run, newest first. Of those of one measure at one place the newest count; those without a day
// count beside them, for nobody can say which is newer.
func (s *inspector) gather() {
	for _, x := range s.job.AsBuilt {
		for _, r := range x.Readings {
			if r.Run == s.run.Job && r.What.Given && r.Read.Given {
				s.taken = append(s.taken, &taken{BuiltReading: r, file: x})
			}
		}
	}
	slices.SortStableFunc(s.taken, func(a, b *taken) int { return strings.Compare(b.date(), a.date()) })
	newest := map[string]string{}
	for _, t := range s.taken {
		newest[t.key()] = max(newest[t.key()], t.date())
	}
	for _, t := range s.taken {
		t.counts = t.date() == "" || t.date() == newest[t.key()]
	}
}

func (t *taken) date() string {
	if !t.file.Date.Given {
		return ""
	}
	return t.file.Date.Text
}

// key tells measures and places apart.
func (t *taken) key() string {
	place := job.Place(t.Where.Text)
	switch {
	case t.What.Text == "end opening":
		place = strconv.Itoa(t.End())
	case t.Number() > 0:
		place = strconv.Itoa(t.Number())
	case t.Nosing() > 0:
		place = "nosing " + strconv.Itoa(t.Nosing())
	case t.Gap() > 0:
		place = strconv.Itoa(t.Gap()) + "-" + strconv.Itoa(t.Gap()+1) // a number alone may be a baluster or a gap
	}
	return t.What.Text + "\x00" + place
}

// title is a reading in words.
func (t *taken) title() string {
	switch {
	case t.What.Text == "end opening":
		return "opening at " + t.endName()
	case t.Number() > 0:
		return t.What.Text + " " + strconv.Itoa(t.Number())
	case t.Gap() > 0 && strings.HasSuffix(t.What.Text, "opening"):
		return t.What.Text + " between " + strconv.Itoa(t.Gap()) + " and " + strconv.Itoa(t.Gap()+1)
	case t.Nosing() > 0:
		return t.What.Text + ", nosing " + strconv.Itoa(t.Nosing())
	case t.Where.Given:
		return t.What.Text + ", " + t.Where.Text
	}
	return t.What.Text
}

func (t *taken) endName() string {
	e := []job.End{t.Run.From, t.Run.To}[max(0, t.End())]
	if e.Where.Text == "" {
		return []string{"the datum end", "the other end"}[max(0, t.End())]
	}
	if e.IsWall() {
		return "the wall, " + []string{"from", "to"}[max(0, t.End())]
	}
	return e.Where.Text
}

// wallRail reports that a reading of a handrail's section is of the one on the wall.
func (t *taken) wallRail() bool {
	return t.Run.Stair != nil && t.Run.Stair.WallRail.Given() && (strings.Contains(job.Place(t.Where.Text), "wall") || !isHandrail(t.Run))
}

func isHandrail(r *job.Run) bool {
	return r.Stair != nil && (!r.Stair.IsHandrail.Given || r.Stair.IsHandrail.Yes)
}
