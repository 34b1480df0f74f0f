package job

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// mostSteps bounds a flight: a story of 4 m on risers of 40 mm, more than any code allows in one flight.
const mostSteps = 100

var stepsFields = []field[Steps]{
	wholeField("count", "how many", 1, mostSteps, func(s *Steps) *Whole { return &s.Count }),
	lengthField("total", "all of them together", func(s *Steps) *Measure { return &s.Total }),
}

// stepsField takes risers or goings: each as measured, or how many and all together.
func stepsField(key, doc string, at func(*Run) *Steps) field[Run] {
	return field[Run]{key, "a list of lengths; or count and total", doc, keysOf(stepsFields), func(d *decoder, n *source.Node, r *Run) {
		s := at(r)
		s.At = n.At
		switch {
		case n.Blank():
		case n.Kind == source.Map:
			decode(d, n, key, stepsFields, s)
		case n.Kind == source.List:
			if len(n.Items) > mostSteps {
				d.problem(n, "one flight ends at a landing; write the next in a file of its own", "want at most %d %s, found %d", mostSteps, key, len(n.Items))
				return
			}
			for _, item := range n.Items {
				s.Each = append(s.Each, d.measure(item))
			}
		default:
			d.problem(n, "write each as measured, as in [7 5/8, 7 11/16]; or {count: 2, total: 15 5/16}", "want a list of lengths for %s, found %s", key, shape(n))
		}
	}}
}

var flightClearFields = []field[Run]{
	lengthField("level", "level, from face to face at the foot of the guard", func(r *Run) *Measure { return &r.Stair.Level }),
	lengthField("rake", "along the rake at the handrail, from face to face", func(r *Run) *Measure { return &r.Stair.Along }),
}

var edgeFields = []field[Edge]{
	lengthField("back", "from the open edge, the outermost wood, back to the middle of the guard", func(e *Edge) *Measure { return &e.Back }),
	lengthField("overhang", "how much of the edge has nothing under it: nosing, tread return, lip of a cap", func(e *Edge) *Measure { return &e.Overhang }),
	lengthField("solid", "how wide the solid wood is behind the overhang: rim joist, header, string, knee wall", func(e *Edge) *Measure { return &e.Solid }),
	wordField("joists", "which way the joists run under the edge; of a flight, under its landing", []string{"along", "across"}, func(e *Edge) *Text { return &e.Joists }),
	flagField("blocking", "whether there is blocking where posts stand: between the joists, and under a tread of a flight", func(e *Edge) *Flag { return &e.Blocking }),
	lengthField("cap", "width of the cap, where the guard stands on a knee wall", func(e *Edge) *Measure { return &e.Cap }),
}

func edgeField() field[Run] {
	return mapField("edge", "the edge that the guard stands on", edgeFields, func(r *Run) *Edge { return &r.Edge })
}

func jointsField() field[Run] {
	return field[Run]{"joints", "a list of lengths", "joints in the handrail, each from the end the run is measured from; along the rake on a flight", nil, func(d *decoder, n *source.Node, r *Run) {
		if n.Blank() {
			r.JointsAt = n.At
		}
		for _, item := range d.items(n) {
			r.Joints = append(r.Joints, d.measure(item))
		}
	}}
}

var wallRailFields = []field[WallRail]{
	nameField("handrail", "handrail", "the rail on the wall; the flight's where absent", func(w *WallRail) *Ref { return &w.Handrail }),
	lengthField("clear", "between the rail and the wall", func(w *WallRail) *Measure { return &w.Clear }),
	lengthField("stands-out", "how far the rail's far side stands out from the wall", func(w *WallRail) *Measure { return &w.Out }),
	lengthField("height", "its top above the nosing line", func(w *WallRail) *Measure { return &w.Height }),
	lengthField("long", "its length along the rake, without the returns", func(w *WallRail) *Measure { return &w.Long }),
	wordField("ends", "how it ends", []string{"returned", "newel", "open"}, func(w *WallRail) *Text { return &w.Ends }),
	wordField("reaches", "whether it goes from over the lowest riser to over the highest", []string{"all", "part"}, func(w *WallRail) *Text { return &w.Reaches }),
	lengthField("studs", "from stud to stud, along the wall, level", func(w *WallRail) *Measure { return &w.Studs }),
}

var flightFields = append([]field[Run]{
	textField("title", "name on the page", func(r *Run) *Text { return &r.Title }),
	endField("from", "the lower end: its face is the datum of the marks on a shoe", flightEndFields, func(r *Run) *End { return &r.From }),
	endField("to", "the upper end", flightEndFields, func(r *Run) *End { return &r.To }),
	wordField("stair", "on which side of the guard the stair lies, going up, seen from above; for the plan", []string{"left", "right"}, func(r *Run) *Text { return &r.Stair.Side }),
	stepsField("risers", "the risers from the floor below to the landing, each as measured, lowest first; or how many and all together, where they were not measured one by one", func(r *Run) *Steps { return &r.Stair.Risers }),
	stepsField("goings", "the goings, riser face to riser face, lowest first, one fewer than the risers", func(r *Run) *Steps { return &r.Stair.Goings }),
	lengthField("rise", "from the floor below to the landing, read by itself; the risers are compared with it", func(r *Run) *Measure { return &r.Stair.Rise }),
	lengthField("nosing", "how far the nosings stand out from the faces of the risers below them; 0 where there is none", func(r *Run) *Measure { return &r.Stair.Nosing }),
	{"clear", "level and rake", "clear length between the faces of the two ends; a length alone is the level one", keysOf(flightClearFields), func(d *decoder, n *source.Node, r *Run) {
		if n.Kind == source.Map {
			decode(d, n, "clear", flightClearFields, r)
			return
		}
		r.Stair.Level = d.measure(n)
	}},
	lengthField("height", "top of the handrail above the line of the nosings, plumb", func(r *Run) *Measure { return &r.Height.Top }),
	lengthField("drop", "from the highest tread with an open side down to the floor or grade beside the stair; from the risers where absent", func(r *Run) *Measure { return &r.Drop }),
	mapField("floor", "what the guard is fixed to here, for its screws; the job's for what it does not say", floorWoodFields, func(r *Run) *FloorWood { return &r.Floor }),
	flagField("finished", "yes where risers, nosing and height are those of the finished floors and treads, with what is still to be laid; to be said where the job has floor to come", func(r *Run) *Flag { return &r.Stair.Finished }),
	wholeField("per-tread", "exactly this many balusters on a tread; the fewest that pass where absent", 1, 12, func(r *Run) *Whole { return &r.Stair.PerTread }),
	{"one-more", "a list of whole numbers", "treads, counted from below, that get one baluster more than the others", nil, func(d *decoder, n *source.Node, r *Run) {
		r.Stair.OneMoreAt = n.At
		for _, item := range d.items(n) {
			if w := d.whole(item, 1, mostSteps); w.Given {
				r.Stair.OneMore = append(r.Stair.OneMore, w)
			}
		}
	}},
	lengthField("bracket", "how far the face that the first baluster of a tread stands in line with lies before the riser: the thickness of a bracket; the riser's own face where absent", func(r *Run) *Measure { return &r.Stair.Bracket }),
	lengthField("shoe-over", "underside of a raked shoe above the line of the nosings, plumb", func(r *Run) *Measure { return &r.Stair.ShoeOver }),
	wordField("under-shoe", "what is under a raked shoe: a closed string or wall, or the open triangles over the treads", []string{"closed", "open"}, func(r *Run) *Text { return &r.Stair.Under }),
	flagField("open-risers", "yes where there are no risers between the treads", func(r *Run) *Flag { return &r.Stair.OpenRisers }),
	lengthField("riser-opening", "between treads, the widest, where there are no risers", func(r *Run) *Measure { return &r.Stair.RiserOpening }),
	lengthField("most", "the worst opening is to be no more than this; only ever tighter than the rules", func(r *Run) *Measure { return &r.Most }),
	wholeField("count", "exactly this many balusters, on a raked shoe", 0, mostBalusters, func(r *Run) *Whole { return &r.Count }),
	mapField("wall-rail", "a handrail on the wall beside the flight", wallRailFields, func(r *Run) *WallRail { return &r.Stair.WallRail }),
	flagField("is-handrail", "whether the guard's rail is also the handrail of the stair; yes where absent", func(r *Run) *Flag { return &r.Stair.IsHandrail }),
	edgeField(),
	jointsField(),
	oneStickField,
	standingField(),
}, partFields("; the job's where absent", func(r *Run) *Parts { return &r.Parts })...)

// Steps are the risers or the goings of a flight.
type Steps struct {
	Each  []Measure // lowest first; empty where only count and total are known
	Count Whole
	Total Measure
	At    source.Pos
}

// N is how many there are; 0 while that is not known.
func (s Steps) N() int {
	if len(s.Each) > 0 {
		return len(s.Each)
	}
	return s.Count.N
}

// Measured reports that each one was read by itself.
func (s Steps) Measured() bool {
	for _, m := range s.Each {
		if !m.Given {
			return false
		}
	}
	return len(s.Each) > 0
}

// Known reports that their places can be worked out.
func (s Steps) Known() bool {
	return s.Measured() || len(s.Each) == 0 && s.Count.Given && s.Total.Given
}

// Sums are the distances from the start to the end of each: one after another as measured, or the total divided, each rounded once.
func (s Steps) Sums() []length.Length {
	var list []length.Length
	if len(s.Each) > 0 {
		sum := length.Length(0)
		for _, m := range s.Each {
			sum += m.Length
			list = append(list, sum)
		}
		return list
	}
	for k := 1; k <= s.Count.N; k++ {
		list = append(list, s.Total.Length.Part(k, s.Count.N))
	}
	return list
}

// Stair is what a flight says beyond a level run.
type Stair struct {
	Risers, Goings Steps
	Side           Text    // of the guard that the stair lies on, going up: left or right
	Rise           Measure // floor to landing, read by itself
	Nosing         Measure
	Level          Measure // clear from face to face at the foot, level
	Along          Measure // clear from face to face at the handrail, along the rake
	PerTread       Whole
	OneMore        []Whole    // treads that get one baluster more
	OneMoreAt      source.Pos // of that key
	Bracket        Measure
	ShoeOver       Measure
	Under          Text // closed or open
	OpenRisers     Flag
	RiserOpening   Measure
	WallRail       WallRail
	IsHandrail     Flag
	Finished       Flag // its readings are those of the finished floors and treads
}

// More is how many balusters more than the others a tread gets: one or none.
func (s *Stair) More(tread int) int {
	for _, w := range s.OneMore {
		if w.N == tread {
			return 1
		}
	}
	return 0
}

// WallRail is a handrail on the wall beside a flight.
type WallRail struct {
	Handrail Ref
	Part     *Handrail // nil while not chosen
	Clear    Measure
	Out      Measure
	Height   Measure
	Long     Measure
	Ends     Text
	Reaches  Text
	Studs    Measure
}

// Given reports that a flight has a handrail on its wall.
func (w WallRail) Given() bool {
	return w.Handrail.Given || w.Clear.Given || w.Out.Given || w.Height.Given || w.Long.Given || w.Ends.Given || w.Reaches.Given || w.Studs.Given
}

// Blank is where a rail on the wall is named of which nothing is said; zero where none is named, or something is said.
func (w WallRail) Blank() source.Pos {
	if w.Given() {
		return source.Pos{}
	}
	for _, at := range []source.Pos{w.Handrail.At, w.Clear.At, w.Out.At, w.Height.At, w.Long.At, w.Ends.At, w.Reaches.At, w.Studs.At} {
		if !at.IsZero() {
			return at
		}
	}
	return source.Pos{}
}

// Edge is what the guard stands on, across it.
type Edge struct {
	Back, Overhang, Solid, Cap Measure
	Joists                     Text
	Blocking                   Flag
}
