// Package finish works out coated surfaces from the real profiles, the coats that go on in order, how much of each, what the air is to be
// like for them, how long they dry, and in which batches pieces are coated; and the coated surface of an old guard.
package finish

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/working"
)

// Finishing is the finishing of a whole job.
type Finishing struct {
	Groups   []Group
	Systems  []System // the finishes that are used, each once
	Air      Air
	Sandings []Sanding       // of all groups, from the coarsest grit on
	Tape     *working.Figure // masking tape for the last coat, in ft or m; nil while it is not known
	Rolls    *working.Figure // of it; nil where the shop does not say how long one is
	Supplies []Supply        // sandpaper, tape, brushes and rags, as far as they are counted
	Old      []OldSurface    // one for each survey of a guard that goes
	Findings []finding.Finding
	Figures  []*working.Figure
	Missing  []finding.Reading
}

// coatingGroup is the group of findings, and of readings that hold up no surface and no can.
const coatingGroup = "coating"

// Group is a group of parts that get one finish.
type Group struct {
	Name   string          // balusters, newels, handrail, shoe
	Finish *job.Finish     // nil while none is chosen
	Lines  []AreaLine      // of the parts whose surface is known
	Area   *working.Figure // in sq ft or m2; nil until all sizes are known
	Coats  []Coat
	Still  []Still // for each coat, coats alike each, what it still goes on; empty where none is on any piece yet

	Batches  *Batches  // nil where the shop does not say what pieces stand or lie on
	Sandings []Sanding // from the coarsest grit on; empty while the surface is not known
}

// AreaLine is the surface of the parts of one kind.
type AreaLine struct {
	What    string
	Kind    string // baluster, newel, handrail, rosette, fillet, shoe
	File    string // of the part
	Species job.Text
	Wide    job.Measure // of the part
	Count   int
	Turned  bool            // turned work, which the finish's extra loss is added to
	Figure  *working.Figure // surface of all of them, in sq ft or m2
}

// Coat is one coat in order, with what it takes.
type Coat struct {
	N      int // from 1
	Coat   *job.Coat
	Volume *working.Figure // in fl oz or L, loss counted; nil until the area and the coverage are known, and where OnAll
	OnAll  bool            // it is on all pieces already
	Drying Drying          // of each of coats alike, before the next
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
// ounces or litres; and the old surfaces in sq ft, the unit of the rule that judges them. What is said to be coated already is not coated again.
func Work(j *job.Job, l layout.Layout, coated ...Coated) Finishing {
	w := &worker{job: j, layout: l, coated: coated}
	w.air()
	for _, g := range []struct {
		name  string
		lines func(*group)
	}{{"balusters", w.balusters}, {"newels", w.newels}, {"handrail", w.handrails}, {"shoe", w.shoes}} {
		b := &group{worker: w, Group: Group{Name: g.name}, whole: true}
		g.lines(b)
		if b.has {
			b.area()
			b.choose()
			b.still(g.lines)
			b.coats()
			b.sandings()
			b.Batches = b.batches()
			w.out.Groups = append(w.out.Groups, b.Group)
		}
	}
	for _, s := range w.out.Systems {
		w.out.Findings = append(w.out.Findings, w.orderFindings(s.Finish)...)
		w.out.Findings = append(w.out.Findings, w.airFinding(s.Finish))
		w.out.Findings = append(w.out.Findings, w.panels(s.Finish)...)
	}
	w.films()
	w.sheets()
	w.masking()
	w.supplies()
	w.waiting()
	w.old()
	return w.out
}
