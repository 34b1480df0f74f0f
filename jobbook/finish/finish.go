// Package finish works out coated surfaces from the real profiles, the coats that go on in order, and how much of each.
package finish

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/working"
)

// Finishing is the finishing of a whole job.
type Finishing struct {
	Groups  []Group
	Old     []OldSurface // one for each survey of a guard that goes
	Figures []*working.Figure
	Missing []finding.Reading
}

// Group is a group of parts that get one finish.
type Group struct {
	Name   string // balusters, newels, handrail, shoe
	Finish *job.Finish
	Lines  []AreaLine
	Area   *working.Figure // in sq ft or m2; nil until sizes are known
	Coats  []Coat
}

// AreaLine is the surface of the parts of one kind.
type AreaLine struct {
	What   string
	Count  int
	Figure *working.Figure // surface of all of them, in sq ft or m2
}

// Coat is one coat in order, with what it takes.
type Coat struct {
	N      int // from 1
	Coat   *job.Coat
	Volume *working.Figure // in fl oz or L, loss counted; nil until the area and the coverage are known
}

// OldSurface is the coated surface of an old guard, which decides whether taking it out is lead renovation work.
type OldSurface struct {
	Survey *job.Survey
	Area   *working.Figure // in sq ft; nil while members are still to be counted
	Over   bool            // over 6 sq ft
}
