// Package sequence puts the steps that a job needs in order, with this job's quantities, times, and the cautions where they bite.
package sequence

import "balustrade/jobbook/job"

// Sequence is the order of work.
type Sequence struct {
	Steps    []Step
	Cautions []*job.Caution // all that apply, in library order
	Minutes  int            // of all steps together
}

// Step is one step with this job's numbers.
type Step struct {
	N          int // from 1
	Step       *job.Step
	Quantities []Quantity
	Minutes    int  // working time; 0 where the step gives none
	Counted    bool // the time counts something that is known
	Cautions   []*job.Caution
}

// Quantity is something a step counts.
type Quantity struct {
	Name  string // balusters
	N     int
	Known bool // false while readings are missing
}
