// Package finish works out coated surfaces from the real profiles, the coats that go on in order, and how much of each.
package finish

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
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
	Name   string          // balusters, newels, handrail, shoe
	Finish *job.Finish     // nil while none is chosen
	Lines  []AreaLine      // of the parts whose surface is known
	Area   *working.Figure // in sq ft or m2; nil until all sizes are known
	Coats  []Coat
}

// AreaLine is the surface of the parts of one kind.
type AreaLine struct {
	What   string
	Count  int
	Turned bool            // turned work, which the finish's extra loss is added to
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
	Survey   *job.Survey
	Area     *working.Figure // in sq ft; nil while members are still to be counted, and for bare wood
	Over     bool            // over 6 sq ft
	AtLeast  bool            // members are still to be counted, and those of Area are over 6 sq ft without them
	Together *working.Figure // in sq ft, of all old guards that go; nil where there is only one, or one is not known
	Built    job.Whole       // year the house was built
	ForPay   job.Flag        // whether the work is done for pay
}

// Work works out the finishing of a job that has been laid out: each group of parts that the job has, in the order of
// job.FinishGroups, with surfaces in sq ft for a job in inches and m2 for one in millimetres, and volumes in US fluid
// ounces or litres; and the old surfaces in sq ft, the unit of the rule that judges them.
func Work(j *job.Job, l layout.Layout) Finishing {
	w := &worker{job: j, layout: l}
	for _, g := range []struct {
		name  string
		lines func(*group)
	}{{"balusters", w.balusters}, {"newels", w.newels}, {"handrail", w.handrails}, {"shoe", w.shoes}} {
		b := &group{worker: w, Group: Group{Name: g.name}, whole: true}
		g.lines(b)
		if b.has {
			b.area()
			b.coats()
			w.out.Groups = append(w.out.Groups, b.Group)
		}
	}
	w.waiting()
	w.old()
	return w.out
}
