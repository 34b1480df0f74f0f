// Package sequence puts the steps that a job needs in order, with this job's quantities, times, and the cautions where they bite, and on
// the days of a calendar.
//
// The calendar is made in two halves: calendar*.go places tasks, which are plain numbers, in working hours; schedule*.go makes tasks of
// the steps, and findings and dates of where they were placed.
package sequence

import (
	"slices"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
)

// Sequence is the order of work.
type Sequence struct {
	Steps    []Step
	Cautions []*job.Caution // all that apply, in library order
	Minutes  int            // of all steps together, as far as they are known
	Left     int            // of those that are not done yet
	Findings []finding.Finding
}

// Next is the first step that is not done, as an index; the number of steps where all are.
func (s Sequence) Next() int {
	if i := slices.IndexFunc(s.Steps, func(x Step) bool { return x.Done == "" }); i >= 0 {
		return i
	}
	return len(s.Steps)
}

// Step is one step with this job's numbers.
type Step struct {
	N          int // from 1
	Step       *job.Step
	Quantities []Quantity
	Minutes    int    // working time; 0 where the step gives none
	Counted    bool   // the time counts something that is known
	Saved      int    // of the working time, what goes for pieces that are made so far already
	Made       int    // how many of those that its time counts these are
	Waits      string // the quantity that the time still waits for; empty where the time is whole
	Cautions   []*job.Caution
	Done       string // the day it was done, year-month-day; empty while it is not
	DoneAt     source.Pos
	Pieces     []Piece // what of it is ticked off by itself, in order; empty for most steps
	Before     []int   // the steps that it waits for, by their places in Sequence.Steps
	Past       string  // of a step that is done: the name of a hold point before it that is not settled
}

// Quantity is something a step counts.
type Quantity struct {
	Name  string // balusters
	N     int
	Known bool           // false while readings are missing
	Made  map[string]int // of N, those that are made already, by how far: job.MadeStates
}

// Order picks the steps and cautions whose every trait the job has, and puts the steps in an order in which each comes after
// the steps it names, also where only a step that was not picked stands between the two. Where nothing else decides, the
// library's order does; a step of the shop's or the job's own, which the library does not know, follows closely on the
// steps it names. Quantities are by name; one that is absent is not known.
//
// Steps that wait for each other in a circle are a problem, and so is a time for each of nothing.
func Order(j *job.Job, traits []string, quantities map[string]Quantity) (Sequence, []source.Problem) {
	has := make(map[string]bool, len(traits))
	for _, t := range traits {
		has[t] = true
	}
	g, problems := graphOf(j.Steps)
	var s Sequence
	applies := map[string]*job.Caution{}
	for _, c := range j.Cautions {
		if holds(c.When, has) {
			s.Cautions = append(s.Cautions, c)
			applies[c.Name] = c
		}
	}
	picked := make([]bool, len(j.Steps))
	for i, step := range j.Steps {
		picked[i] = !step.Omit.Yes && holds(step.When, has)
		if m := step.Minutes; m.Each.Given && !m.Of.Given {
			problems = append(problems, source.Problem{
				Severity: source.Warning, At: m.Each.At, Width: 1,
				Summary: "the step " + step.Name + " has minutes for each, but not of what", Hint: "add of: , the quantity that is counted",
			})
		}
	}
	at := map[int]int{} // where a step of the library stands in the sequence
	order := g.order(picked)
	s.Steps = slices.Grow(s.Steps, len(order))
	for _, i := range order {
		step := describe(j.Steps[i], quantities, applies)
		step.Before = g.waitsFor(i, picked)
		for n, k := range step.Before {
			step.Before[n] = at[k]
		}
		at[i] = len(s.Steps)
		for _, t := range j.Done {
			if t.Step.Text == step.Step.Name && !t.Piece.Given {
				step.Done, step.DoneAt = t.Day.Text, t.Step.At
			}
		}
		step.N = len(s.Steps) + 1
		s.Minutes += step.Minutes
		s.Steps = append(s.Steps, step)
	}
	s.settle()
	return s, problems
}

func holds(when []job.Text, has map[string]bool) bool {
	return !slices.ContainsFunc(when, func(t job.Text) bool { return !has[t.Text] })
}

// describe gives a step its numbers, its time and the cautions that apply, each once.
func describe(step *job.Step, quantities map[string]Quantity, applies map[string]*job.Caution) Step {
	s := Step{Step: step, Quantities: slices.Grow([]Quantity(nil), len(step.Quantities))}
	for _, name := range step.Quantities {
		q := quantities[name.Text]
		q.Name = name.Text
		s.Quantities = append(s.Quantities, q)
	}
	m := step.Minutes
	s.Minutes = m.Once.N
	if m.Each.Given && m.Of.Given {
		if q := quantities[m.Of.Text]; q.Known {
			s.Minutes += m.Each.N * q.N
			s.Counted = true
			if n := min(q.Made[m.Made.Text], q.N); n > 0 { // what is not of one of those states is in none
				s.Made, s.Saved = n, m.Each.N*n
				if n == q.N {
					s.Saved = s.Minutes // and nothing has to be set up for it
				}
			}
		} else {
			s.Waits = m.Of.Text
		}
	}
	for _, name := range step.Cautions {
		if c := applies[name.Text]; c != nil && !slices.Contains(s.Cautions, c) {
			s.Cautions = append(s.Cautions, c)
		}
	}
	return s
}
