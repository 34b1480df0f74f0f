package layout

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// Rake is the stair under a flight's guard, and the straight line that its rail follows. Places are level distances from the face of
// the lowest riser, uphill positive; heights are from the floor below that riser. All of it is exact to the nanometre.
type Rake struct {
	Treads   []Tread       // lowest first; the last is the landing
	Nosing   length.Length // how far a nosing stands out from the face of the riser below it
	Measured bool          // each riser and going was read by itself
	From, To length.Length // places of the faces of the two ends; To is at most From while they are not known

	// The line of the nosings, from the lowest nosing to that of the landing. The rail is parallel to it.
	Rise, Going length.Length // of that line: their quotient is the slope
	Top         length.Length // of the rail above the line, plumb; 0 while not known
	Thick       length.Length // of the rail's section, plumb: its height over the cosine; 0 while not known
	ShoeUnder   length.Length // of a raked shoe above the line, plumb
	ShoeThick   length.Length // of the shoe's section, plumb; 0 where there is none

	OnTreads bool // balusters stand on the treads, not on a raked shoe
	PerTread int  // how many on a whole tread, one more where the job says so; 0 on a shoe

	Angle  *working.Figure // of the rake, degrees off level: the bevel of every plumb cut
	Square *working.Figure // rise in 12 of run, as a steel square is set; in 100 where the job is in millimetres
	Secant *working.Figure // length along the rake for each unit of level distance
}

// Tread is one step of a flight.
type Tread struct {
	N      int           // counted from below; the landing is the last
	At     length.Length // place of the face of the riser below it
	Height length.Length // of its surface
	Riser  length.Length // the riser below it
	Going  length.Length // to the face of the next riser; 0 for the landing
}

// Line is the height of the line of the nosings at a place.
func (r *Rake) Line(x length.Length) length.Length {
	if len(r.Treads) == 0 || r.Going <= 0 {
		return 0
	}
	first := r.Treads[0]
	return first.Height + length.Length(length.MulDiv(int64(r.Rise), int64(x-first.At+r.Nosing), int64(r.Going)))
}

// RailTop is the height of the top of the rail at a place.
func (r *Rake) RailTop(x length.Length) length.Length { return r.Line(x) + r.Top }

// RailUnder is the height of the underside of the rail at a place.
func (r *Rake) RailUnder(x length.Length) length.Length { return r.RailTop(x) - r.Thick }

// ShoeTop is the height of the top of a raked shoe at a place.
func (r *Rake) ShoeTop(x length.Length) length.Length {
	return r.Line(x) + r.ShoeUnder + r.ShoeThick
}

// Surface is the height of the floor, tread or landing that lies at a place: before the lowest riser it is the floor.
func (r *Rake) Surface(x length.Length) length.Length {
	_, h := r.on(x)
	return h
}

// on is the tread at a place, counted from below, and its height; 0 is the floor.
func (r *Rake) on(x length.Length) (n int, height length.Length) {
	for _, t := range r.Treads {
		if x < t.At {
			break
		}
		n, height = t.N, t.Height
	}
	return n, height
}

// Post is a newel as it will stand, with the rails that meet it. Heights are above the floor at the post as it is now.
type Post struct {
	ID       string // post/corner, the stem of its figures' ids
	Name     string
	Stays    bool          // it stands there already and is not replaced
	Known    bool          // the newel is chosen and its sizes are known
	Wide     length.Length // of the newel where the rails meet it
	Down     length.Length // how far its foot, as cut, goes below the floor
	Arrivals []Arrival     // in the order of the runs

	// The square block that the rails meet, as the newel stands, and what they need: from the lowest underside to the highest top with
	// the reveal over it. Zero where nothing meets the post, or heights are not known.
	BlockFrom, BlockTo length.Length
	NeedFrom, NeedTo   length.Length
	Reveal             length.Length
	Cut                *Cut          // the newel, to its length; nil while not known
	Top                length.Length // of the newel as cut, above the floor; 0 while not known, and where a rail goes over it
	Rows               []FootRow     // of the bolts or lag screws at its foot, the upper first
	Moves              []BoltMove    // of bolts that would meet inside it: where the first cure is written

	Findings []finding.Finding
	Missing  []finding.Reading
	Figures  []*working.Figure
}

// BoltMove is where a bolt's move is written that cures a check.
type BoltMove struct {
	Check     string // id of the finding
	Run, Side string // the run, and which end of it: from or to
	Key       string // bolt-up or bolt-down
}

// FootRow is a row of bolts or lag screws at a post's foot.
type FootRow struct {
	Below         length.Length // of their axis below the floor there as it is now, or what else the post stands on
	Up            length.Length // over the newel's bottom end as cut; 0 while it is not known how far that goes down, or where it does not reach them
	Figure, Bench string        // ids of the two workings; empty while they are not known
}

// Arrival is a rail that comes to a post.
type Arrival struct {
	Run, Title string
	End        string // from or to: which end of its run this is
	Raked      bool
	Up         bool          // a raked rail climbs away from the post
	Over       bool          // the rail goes over the post
	Old        bool          // the rail stands there already and stays
	Known      bool          // heights are known
	Top, Under length.Length // of the rail at the post's face, plumb; where it goes over, at the post's middle
	Thick      length.Length // of the rail's section, square to it
	Wide       length.Length // of the rail

	Heading float64 // the way it leaves the post in plan, degrees clockwise from the first arrival's
	Turned  bool    // that was measured; else it is taken for a square corner, or for straight on
	Skew    float64 // how far off square its end is cut in plan, degrees; 0 for a rail square to a face of the post

	Bolt     length.Length // height of the bolt's axis where it enters the post; 0 while not known
	BoltDeep length.Length // how deep it goes into the post, along its axis
	BoltWide length.Length // its diameter
}

// Plan is the whole guard seen from above, in mm: x to the right, y away from the reader, the first run of each group heading to the right.
type Plan struct {
	Stretches []Stretch
	Posts     []Spot
	Assumed   []string // turns that were not measured, in words
}

// Stretch is one run in plan.
type Stretch struct {
	Run      string
	Group    int // runs that hang together by their posts share a number, counted from 0
	From, To Spot
	Heading  float64 // at its datum end, degrees counterclockwise from the x axis
	Turn     float64 // of a curved run: how far its heading turns along it, degrees, to the left positive; 0 for a straight one
	Radius   float64 // mm, of a curved run, at the line of the balusters
	Raked    bool    // uphill from From to To
}

// Spot is a place in plan: of a post its middle, of a run's end the face it was measured to.
type Spot struct {
	Name string  // of a post; wall, or empty
	X, Y float64 // mm
	Wide float64 // mm, of a post
}

// Curve is a run along an arc.
type Curve struct {
	Radius length.Length   // at the line of the balusters
	Angle  *working.Figure // of the whole arc, degrees
	Sides  []CurveSide     // developed lengths of rail and shoe
}

// CurveSide is the developed length of a piece along one of its edges.
type CurveSide struct {
	What   string // handrail, inner edge
	Figure *working.Figure
}
