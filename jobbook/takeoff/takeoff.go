// Package takeoff turns a layout into what is cut, bored and ordered: every piece with its mark, the stick it comes from and the set-ups of
// saw and drill for it, how joints are fixed, what becomes of pieces that are made already, and what is bought from whom.
package takeoff

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// Takeoff is the pieces and parts of a whole job.
type Takeoff struct {
	Pieces   []layout.Cut // of all runs, in the order they are cut
	Labels   []Label      // one for every single piece, in that order
	Blanks   []Blank      // and for those whose length is not worked out yet
	Setups   Setups
	Fixings  []Fixing
	Needs    []Need
	Made     MadeTake  // pieces that are made already
	Bent     []Bent    // pieces that follow a curve, made to order
	Cuttings []Cutting // of the parts that come as sticks, in the order of Needs
	Figures  []*working.Figure
	Missing  []finding.Reading
	Findings []finding.Finding
	Asks     []finding.Reading // about sizes and prices, to be asked of suppliers
}

// Bent is a piece made to a radius.
type Bent struct {
	Piece  int // index in Pieces
	Kind   string
	Part   string
	Title  string
	Origin job.Origin
	Radius job.Measure // at the line of the balusters
	Long   length.Length
}

// Need is one part to order.
type Need struct {
	Kind     string // baluster, newel, handrail, shoe, fillet, rosette
	Part     string // the part's name
	Title    string
	Species  string
	Origin   job.Origin
	Count    int           // pieces that the job needs
	Spare    int           // more, by the shop's rule
	Order    int           // both
	Came     bool          // some of what is bought by the piece came that can be used: the shop's rule is over then
	Over     int           // of those, what is there beyond those needed
	Running  length.Length // of parts bought by length: all pieces end to end, without kerf or waste
	Longest  length.Length // the longest piece
	Bought   length.Length // length as bought, of parts bought by the piece
	Complete bool          // every run that uses the part is counted; otherwise the numbers are what is known so far
	Figure   string        // id of the working of Order, or of Running; empty while nothing is known
}

// Take lists every piece to cut and every part to order of a job that has been laid out. Where a run still waits for a
// reading, its parts are listed with what is known, and the run is named in Missing.
func Take(j *job.Job, l layout.Layout) Takeoff { return take(j, l, true) }

// Bare is Take without what is only worked by: labels, blanks and set-ups.
func Bare(j *job.Job, l layout.Layout) Takeoff { return take(j, l, false) }

func take(j *job.Job, l layout.Layout, worked bool) Takeoff {
	t := &taking{job: j, at: map[string]*account{}}
	t.balusters(l)
	t.newels()
	t.handrails(l)
	t.shoes(l)
	t.fillets(l)
	t.rosettes(l)
	t.bolts(l)
	held := t.fixings(l)
	t.close()
	t.waiting(l)
	all := pieces(l)
	out := Takeoff{Pieces: all, Fixings: held}
	var marks []Label // made pieces go by them
	if worked || len(j.Made) > 0 {
		names := shortNames(j, l)
		marks = labels(l, names, all)
		if worked {
			out.Labels, out.Blanks = marks, blanks(j, l, names)
		}
	}
	t.takeMade(l, all, marks)
	t.received(l)
	cuttings := t.sticks(l, all)
	t.closeMade(cuttings)
	if worked {
		out.Setups = setups(j, l, all, t.made.uncut(marks), held)
		out.Setups.Drills = t.made.undrilled(out.Setups.Drills)
	}
	out.Made, out.Needs, out.Bent, out.Cuttings = t.made, t.needs, t.bent(l, all), cuttings
	out.Figures, out.Missing, out.Findings, out.Asks = t.figures, t.missing, t.findings, t.asks
	return out
}
