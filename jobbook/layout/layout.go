// Package layout works out where every baluster stands, every opening, and every cut length of a guard.
//
// It goes by what will be cut: marks are rounded to the tape first, and the openings judged are those of the rounded marks
// with the shop's tolerances all on the bad side. Judging against rules comes after, in package rules; the limit to lay out
// to is taken from the job's rule set as plain data.
package layout

import (
	"slices"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/working"
)

// Layout is all runs of a job laid out.
type Layout struct {
	Runs  []*Run // as in the job
	Posts []Post // as in the job
	Plan  Plan
	Air   Air

	Leaves        []Leaving // what old guards leave on floor and walls, survey by survey
	LeavesFigures []*working.Figure
	LeavesMissing []finding.Reading
}

// Run is one level run or flight laid out, as far as its readings go. A figure that can't be worked out yet is nil, and the reading that
// it waits for is in Missing.
type Run struct {
	ID    string // run/gallery, the stem of its figures' ids
	Name  string
	Title string
	Job   *job.Run

	Rake  *Rake  // nil for a level run; set for every flight, as far as it is known
	Curve *Curve // nil for a straight run

	Clear    *working.Figure // at the foot, from the datum face to the other end's face: what the marks are laid out in
	From, To End
	Lean     *Lean // nil where only one clear was read

	Candidates []Candidate // side by side: from one below the chosen count to two above
	Chosen     *Candidate  // nil until the run can be laid out
	Least      int         // smallest count that passes; -1 where none does or no limit is set
	Why        string      // why this count: smallest that passes, written in the job, matched
	Limit      Limit       // what it was laid out to

	Drilled *Drilled  // the shoe whose holes are there already and are kept; nil where marks are laid out anew
	Refused []Refused // drilled shoes whose holes do not go

	Kept *Kept // the old guard that stays; nil where all is new

	Gap      *working.Figure
	Spacing  *working.Figure
	Marks    []Mark
	MarkFig  *working.Figure // the series of rounded marks
	Openings []Opening       // at the datum end, between balusters, at the other end
	Spacer   *Spacer

	Floor  Floor
	Levels Levels

	Balusters  []Cut // grouped by length
	Handrail   *Cut  // whole, also where it is cut in pieces
	Shoe       *Cut
	ShoeMore   []Cut // the pieces after the first, where the floor steps between the ends
	Fillets    []Cut // of shoe and rail, grouped by length
	Rosettes   []Cut
	RailPieces []Cut       // of a handrail with joints, from the datum end on
	WallRail   *Cut        // the handrail on the wall beside a flight
	Holes      []Hole      // for the balusters' ends
	RailBores  [2]RailBore // for the bolts, at either end

	TurningsWords string // which end is trimmed, and how the turnings line up

	Measures []finding.Measure // for the rules to judge
	Findings []finding.Finding // faults that layout itself found, and checks it made
	Missing  []finding.Reading
	Figures  []*working.Figure
}

// RailCuts are the pieces of the handrail, from the datum end on: one, or one more than there are joints in it; none while not known.
func (r *Run) RailCuts() []Cut {
	if len(r.RailPieces) > 0 {
		return slices.Clone(r.RailPieces)
	}
	if r.Handrail == nil {
		return nil
	}
	return []Cut{*r.Handrail}
}

// ShoeCuts are the pieces of the shoe, from the datum end on: one, or one more than there are steps in the floor; none while not known.
func (r *Run) ShoeCuts() []Cut {
	if r.Shoe == nil {
		return nil
	}
	return append([]Cut{*r.Shoe}, r.ShoeMore...)
}

// End is one end of a run as it will stand.
type End struct {
	Name    string        // wall, or the post's name
	Wall    bool          //
	Taken   string        // in words: the face that the clear was taken to
	Recess  length.Length // how far the face above the trim lies behind the datum face at the foot (0 without trim)
	Proud   length.Length // how far trim that stays stands out from the face the clear was taken to (0 mostly): the shoe stops there
	High    length.Length // height of that trim
	Face    profile.Face  // as it will stand, plumb, reference line at the face that the marks are measured from
	Known   bool          // false while its shape is still to be measured
	Open    bool          // a turned newel of which nobody says yet how far down it goes: Face is as wide all the way up as its foot, and nothing may rest on where it is turned
	Rosette length.Length // how far a rosette stands off
	Newel   *job.Newel    // nil at a wall, and while not chosen
	Wide    length.Length // of the newel where the clear was read to it, at the floor of this run; 0 while not known
}

// Lean is what clears read at several heights say about the two ends together.
type Lean struct {
	Readings []LeanReading
	Out      bool   // more than the tape's division
	Settled  bool   // a plumb reading says which end leans
	Words    string // which way, in words
	FromRail length.Length
	ToRail   length.Length // away from the opening at the rail, each end, where settled (positive away)
	Sum      length.Length // both together at the rail
}

// LeanReading is how much wider than at the floor the opening is at a height, trim and turnings taken off.
type LeanReading struct {
	At, Wider length.Length
}

// Limit is what a run is laid out to.
type Limit struct {
	Value length.Length
	Op    finding.Op
	From  string // in words: irc-2021 R312.1.3; most: of the run
	Known bool

	Unconfirmed bool // the limit is from memory
}

// Candidate is one count of balusters, worked out and judged by the run's limit.
type Candidate struct {
	Count  int
	Gap    length.Length // between two balusters at the foot, exact to the nanometre; the whole clear for none
	EndGap length.Length // at the datum end
	Worst  length.Length // worst opening, tolerances counted
	Where  string        // of the worst opening: between balusters, at the wall
	Passes bool
	Judged bool // false where there is no limit

	Unmeasured  bool // the shape of an end is still to be measured: inside the limit is not yet a pass
	Unconfirmed bool // the limit itself is from memory: inside it is never a pass

	Chosen  bool
	Spacing length.Length // centre to centre, exact to the nanometre

	PerTread   int  // of balusters on treads, where gap and spacing are the widest of the rounded marks; 0 elsewhere
	treadsPass bool // all but the openings at the ends
	onStep     bool // a baluster would stand half over a step in the floor
}

// Verdict is what may be said of a count: outside the limit is a fail, inside it a pass only where all of it was worked out.
func (c Candidate) Verdict() finding.Verdict {
	switch {
	case !c.Judged:
		return finding.ToBeMeasured
	case !c.Passes:
		return finding.Fail
	case c.Unmeasured:
		return finding.ToBeMeasured
	case c.Unconfirmed:
		return finding.AskAuthority
	}
	return finding.Pass
}

// Mark is the centre of one baluster from the datum face.
type Mark struct {
	K       int
	At      length.Length // rounded: what is marked
	Shoe    length.Length // the same from the end of the shoe, where trim that stays shortens it; beyond a step, from that step
	Piece   int           // of the shoe, or of the floor, that it is on, counted from the datum end; 0 where the floor has no step
	Rail    length.Length // the same from the end of the rail
	Gap     int           // between old balusters that stay: the old gap that it stands in, counted from the datum end; 0 elsewhere
	Plumbed bool          // the mark on the rail can't be said yet: it is plumbed up from the shoe on site

	// On a flight, where At is level.
	Tread  int           // that it stands on, counted from below; 0 is the floor
	Riser  length.Length // from the face of that tread's riser, rounded: what is marked on a tread
	Along  length.Length // along the rake from the datum face, rounded: what is marked on a raked shoe
	Stands length.Length // height that its foot is seen at: of the tread, or of the shoe's top; from the floor below, likewise below
	Lift   length.Length // height of the bottom of its profile as bought: below Stands where it goes in, or is trimmed there
	Head   length.Length // height that its axis meets the underside of the rail
	Axis   length.Length // along the raked rail's underside, from its plumb cut at the datum end to the baluster's axis, rounded
	Bored  bool          // Axis is known
}

// RailHole is where along the rail, from its end at the datum, a baluster's hole is; false while it can't be said yet.
func (m Mark) RailHole() (at length.Length, known bool) {
	if m.Plumbed {
		return m.Axis, m.Bored
	}
	return m.Rail, true
}

// Opening is the largest ball that passes at one place of a run.
type Opening struct {
	Where   string        // between balusters, at the wall, at corner
	Part    string        // from, between or to
	Foot    length.Length // gap at the foot by the rounded marks, without tolerances
	Nominal length.Length // opening by the rounded marks and true profiles, without tolerances
	Worst   length.Length // with tolerances: what is judged
	Found   profile.Found // where the worst ball sticks
	Left    int           // between two balusters on treads, or with a step in the floor between them: the one on its left, whose axis it was found from
	Known   bool          // false while the shape of the end is to be measured
	Figure  string

	At length.Length // of a guard that stays: the left side of it, from the datum face, level; Found is from there

	limit string // that judges it, where it is not the run's
}

// Spacer is the block for stepping gaps, and what it does without the datum.
type Spacer struct {
	Block   length.Length // rounded to the division
	LastGap length.Length // what is left at the far end when stepped with it
	Drift   length.Length // last gap less the gap that was meant
	Figure  string
}

// Floor is the floor under a run, from its level readings.
type Floor struct {
	Points []FloorPoint
	Out    length.Length // highest less lowest; of a stepped floor, on the stretch where that is most
	Steps  []FloorStep   // between the ends, from the datum on
	Partly bool          // the readings do not reach from end to end
	How    string        // level, scribe or lengths
	Words  string
	Scribe []FloorPoint // of a scribed shoe: what is taken off its underside along the run
}

// FloorPoint is a height along the run, from the floor at the datum end.
type FloorPoint struct {
	At, Height length.Length
}

// FloorStep is a step in the floor along the run. Points has it as two points at one place.
type FloorStep struct {
	At   length.Length // from the datum end
	Rise length.Length // going away from the datum end; negative where it steps down
	read job.Measure   // its place, as written
}

// Levels are the heights above the floor that the guard stands on, at the datum end.
type Levels struct {
	Known     bool
	RailTop   length.Length
	RailUnder length.Length
	ShoeTop   length.Length // of a level shoe, or at the datum end
	Finished  length.Length // rail top above the highest point of the finished floor
	Bare      length.Length // rail top above the highest point of the bare floor
}

// Cut is a piece to cut, or several alike.
type Cut struct {
	What     string // handrail, shoe, baluster, shoe fillet, rail fillet, rosette
	Part     string // the part's name, and
	Title    string // its name on the page
	Run      string
	Count    int
	Exact    length.Length
	Length   length.Length // rounded to the division: what is cut
	Rounding length.Rounding
	Which    string // balusters 3 to 7; the first and the last
	Numbers  []int  // of balusters and fillets, counted from the datum end
	ToFit    bool   // no length can be given: cut to the opening as it stands
	Fit      string // what to know when cutting: leave long and fit
	Figure   string

	// On a rake, where Length is at the axis of a baluster, or along an edge of rail and shoe.
	Beveled     [2]bool       // the datum or lower end, and the other: cut at the angle of the rake, not square
	Short, Long length.Length // points of a beveled end; 0 where it is cut square
	Blank       length.Length // of rail and shoe: what to cut off the stick first
	Treads      string        // that the balusters go to: treads 1 to 4, 7
}

// Stick is what comes off the stick for the piece: its blank where plumb cuts run out, else its length.
func (c Cut) Stick() length.Length { return max(c.Blank, c.Length) }

// WorstFigure is the id of the working of the worst opening; empty where there is none.
func (r *Run) WorstFigure() string {
	for _, o := range r.Openings {
		if o.Worst == r.Chosen.Worst {
			return o.Figure
		}
	}
	return ""
}

// Cuts are a run's pieces: rails, shoe, balusters, fillets, rosettes.
func (r *Run) Cuts() []Cut {
	var wall []Cut
	if r.WallRail != nil {
		wall = []Cut{*r.WallRail}
	}
	return slices.Concat(r.RailCuts(), wall, r.ShoeCuts(), r.Balusters, r.Fillets, r.Rosettes)
}
