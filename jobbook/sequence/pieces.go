package sequence

import (
	"fmt"
	"slices"
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Piece is what of a step is ticked off by itself, and placed by itself on the calendar: a coat of a group, an old guard.
type Piece struct {
	Name  string // balusters 2; the old guard's
	Group string // of a coat
	N     int    // which coat of the group's, from 1
	Done  string // the day it was done, year-month-day; empty while it is not
	Made  bool   // of a coat: it is on all pieces already, by what was recorded of them
	Own   bool   // Done was written for this piece, and not for all of a group or of the step, of which it is the last day
	At    source.Pos
}

// Begun reports that some of a step is done.
func (s *Step) Begun() bool {
	return s.Done != "" || slices.ContainsFunc(s.Pieces, func(p Piece) bool { return p.Done != "" })
}

// piece is a coat of a step; an empty one where the step has none of that name.
func (s *Step) piece(name string) Piece {
	for _, p := range s.Pieces {
		if p.Name == name {
			return p
		}
	}
	return Piece{}
}

// coats are those that go on in a step.
func coats(step *job.Step, stages []finish.Stage) []finish.Stage {
	of := step.Time.Coats.Text
	if of != "parts" && of != "fitted" {
		return nil
	}
	list := make([]finish.Stage, 0, len(stages))
	for _, c := range stages {
		if c.Fitted == (of == "fitted") {
			list = append(list, c)
		}
	}
	return list
}

func coatName(c finish.Stage) string { return c.Group + " " + strconv.Itoa(c.N) }

// goes are the old guards that are taken out one by one; none where there are fewer than two.
func goes(j *job.Job) (list []*job.Survey) {
	for _, x := range j.Surveys {
		if x.Goes() {
			list = append(list, x)
		}
	}
	return list
}

// pieces are what a step can be ticked off by.
func pieces(j *job.Job, step *job.Step, stages []finish.Stage) (list []Piece) {
	coats := coats(step, stages)
	list = slices.Grow(list, len(coats))
	for _, c := range coats {
		p := Piece{Name: coatName(c), Group: c.Group, N: c.N}
		if c.OnAll {
			p.Done, p.Made = c.Day, true
		}
		list = append(list, p)
	}
	if step.Time.Guard.Text == "opens" && len(list) == 0 {
		for _, x := range goes(j) {
			list = append(list, Piece{Name: x.Name})
		}
	}
	return list
}

// Tick ticks off what is done of single steps: coats and old guards. A step of which every piece is done is done itself.
func (s *Sequence) Tick(j *job.Job, stages []finish.Stage) {
	for i := range s.Steps {
		x := &s.Steps[i]
		x.Pieces = pieces(j, x.Step, stages)
		if x.Saved > 0 && slices.ContainsFunc(x.Pieces, func(p Piece) bool { return p.Group != "" && !p.Made }) {
			x.Saved = x.Step.Minutes.Each.N * x.Made // other groups are coated still, and that is set up for
		}
		whole := x.Done
		for _, t := range j.Done {
			if t.Step.Text != x.Step.Name || !t.Piece.Given {
				continue
			}
			group, n := job.CoatOf(t.Piece.Text)
			found := false
			for k := range x.Pieces {
				p := &x.Pieces[k]
				own := p.Name == t.Piece.Text || p.Group != "" && p.Group == group && p.N == n // "balusters  2" too
				if !own && (p.Group == "" || p.Group != group || n > 0) {
					continue
				}
				found = true
				if own || !p.Own {
					p.Done, p.Own, p.At = t.Day.Text, own, t.Piece.At
				}
			}
			if !found {
				s.wrong(t.Piece.At, t.Step.Text+", "+t.Piece.Text+": ticked off, and not there", "there is no such coat or old guard in this job: "+among(x.Pieces), "take the tick away, or write what was done under its own name")
			}
		}
		last, all := "", len(x.Pieces) > 0
		for k := range x.Pieces {
			p := &x.Pieces[k]
			if p.Done == "" && whole != "" {
				p.Done = whole
			}
			all = all && p.Done != ""
			last = max(last, p.Done) // days in this form sort as text
		}
		if all && whole == "" {
			x.Done = last
		}
	}
	s.settle()
	s.coatOrder()
	s.stepOrder()
}

// stepOrder finds steps that are ticked off before one that they wait for: of those before it, the one that was done last.
func (s *Sequence) stepOrder() {
	last := make([]int, len(s.Steps)) // of a step: the one that was done last of itself and all before it; -1 where none is
	for i := range s.Steps {
		x := &s.Steps[i]
		last[i] = -1
		for _, k := range x.Before {
			if l := last[k]; l >= 0 && (last[i] < 0 || s.Steps[l].Done > s.Steps[last[i]].Done) {
				last[i] = l
			}
		}
		if x.Done == "" {
			continue
		}
		if l := last[i]; l < 0 || x.Done >= s.Steps[l].Done { // days in this form sort as text
			last[i] = i
			continue
		}
		before, at := s.Steps[last[i]], x.DoneAt
		for _, p := range x.Pieces {
			if at.IsZero() && p.Done == x.Done {
				at = p.At
			}
		}
		if at.IsZero() { // it was recorded of what is made
			continue
		}
		s.wrong(at, x.Step.Name+" is ticked off before "+before.Step.Name+", which it waits for", x.Step.Name+" on "+x.Done+", "+before.Step.Name+" on "+before.Done, "put the days right")
	}
}

// among are the names of pieces, for a hint.
func among(list []Piece) string {
	if len(list) == 0 {
		return "the step has no pieces"
	}
	words := "it has "
	for i, p := range list {
		if i > 0 {
			words += ", "
		}
		words += p.Name
	}
	return words
}

func (s *Sequence) wrong(at source.Pos, title, note, cure string) {
	s.Findings = append(s.Findings, finding.Finding{ID: fmt.Sprintf("check/calendar/ticked/%d", len(s.Findings)+1), Group: "calendar", Title: title, Verdict: finding.Fail, Status: working.Derived, Rules: "the calendar of the work", At: at, Note: note, Cure: cure})
}

// coatOrder finds coats that are ticked off before the one that lies under them.
func (s *Sequence) coatOrder() {
	under := map[string]Piece{}
	var open = map[string]string{} // the first coat of a group that is not done
	for _, x := range s.byCoat() {
		before, has := under[x.Group]
		switch {
		case x.Done != "" && open[x.Group] != "":
			s.wrong(x.At, x.Name+" is ticked off, and "+open[x.Group]+" under it is not", "one coat lies on the other", "tick off "+open[x.Group]+" with its day, or take the tick of "+x.Name+" away")
		case x.Done != "" && has && before.Own && x.Done < before.Done:
			s.wrong(x.At, x.Name+" is ticked off before "+before.Name+", which lies under it", x.Name+" on "+x.Done+", "+before.Name+" on "+before.Done, "put the days right")
		}
		if x.Done == "" && open[x.Group] == "" {
			open[x.Group] = x.Name
		}
		under[x.Group] = x
	}
}

// byCoat are the coats of all steps, group by group in the order in which they lie on each other.
func (s *Sequence) byCoat() (list []Piece) {
	for i := range s.Steps {
		for _, p := range s.Steps[i].Pieces {
			if p.Group != "" {
				if p.At.IsZero() {
					p.At = s.Steps[i].DoneAt
				}
				list = append(list, p)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Piece) int {
		if a.Group != b.Group {
			return slices.Index(job.FinishGroups, a.Group) - slices.Index(job.FinishGroups, b.Group)
		}
		return a.N - b.N
	})
	return list
}

// settle works out what is left, and which step was done past a hold point that is not settled.
func (s *Sequence) settle() {
	open := "" // the first hold point that is not settled
	s.Left = 0
	for i := range s.Steps {
		step := &s.Steps[i]
		step.Past = ""
		if step.Begun() {
			step.Past = open
		}
		if step.Done != "" {
			continue
		}
		left, n := 0, 0
		for _, p := range step.Pieces {
			if p.Made && step.Saved > 0 { // what went for it is taken off already
				continue
			}
			n++
			if p.Done == "" {
				left++
			}
		}
		if n > 0 { // pieces count alike; the calendar knows better how long each takes
			s.Left += ((step.Minutes-step.Saved)*left + n - 1) / n
		} else {
			s.Left += step.Minutes - step.Saved
		}
		if open == "" && step.Step.Hold.Given {
			open = step.Step.Name
		}
	}
}
