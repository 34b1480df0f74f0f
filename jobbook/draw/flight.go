package draw

import (
	"math"
	"strconv"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// flight is a flight in millimetres: x from the face of the lowest riser, uphill to the right, z from the floor below it.
type flight struct {
	m      *model // what any run has: its words, its style, what stands at its ends
	k      layout.Rake
	steps  []step // lowest first; the last is the landing
	stair  bool   // risers and goings are known
	nosing float64
	slope  float64    // of the line of the nosings
	faces  [2]float64 // places of the two ends' faces
	placed bool       // they are known
	stands [2]length.Length
	rail   bool // how high the rail is above the line is known, and
	sized  bool // so is its section
	top    float64
	thick  float64
	shoe   [2]float64 // underside and top of a raked shoe above the line, plumb; 0 where there is none
	left   float64    // where the drawing of the whole begins, and
	right  float64    // where it ends
	lowest int        // the first riser in it, an index into the steps, and
	upmost int        // the last; before the first where there is none
	marks  []stood
	lost   int // marks that lie outside the flight, or go backwards
	ball   *sphere
	huge   bool // the worst opening is too large to be drawn as a ball
}

// step is a tread with the riser below it.
type step struct {
	n             int
	at, height    float64 // of the riser's face, of the tread's surface
	riser, going  string  // in words
	below, behind float64 // the same in mm; behind is 0 at the landing
}

// stood is a baluster where it really stands.
type stood struct {
	k    int
	x    float64 // its axis
	on   int     // the tread that it stands on: an index into the steps, -1 for the floor
	text string
	mark layout.Mark
}

// What a stair looks like while it is not known, mm. The words say so.
const (
	someSteps = 4
	someRiser = 7.5 * inch
	someGoing = 10 * inch
	// somewhere before the lowest riser a post is taken to stand, and so much of a landing is seen.
	somewhere   = 4 * inch
	someLanding = 3 * inch
)

func newFlight(r *layout.Run, style length.Style) *flight {
	f := &flight{m: &model{r: r, style: style}}
	if r.Rake != nil {
		f.k = *r.Rake
	}
	f.stairs()
	f.rails()
	f.places()
	f.stand()
	f.worst()
	return f
}

// stairs takes the treads from the plan, or a stair of a usual look while they are not known.
func (f *flight) stairs() {
	k, style := f.k, f.m.style
	ok := len(k.Treads) > 1 && k.Going > 0 && k.Rise > 0 && sane(k.Going) && sane(k.Rise) && sane(k.Nosing)
	at, height := math.Inf(-1), 0.0
	for _, t := range k.Treads {
		ok = ok && sane(t.At) && sane(t.Height) && t.At.Float() > at && t.Height.Float() > height
		at, height = mm(t.At), mm(t.Height)
	}
	if f.stair = ok; !ok {
		f.slope = someRiser / someGoing
		for i := range someSteps {
			n := float64(i + 1)
			f.steps = append(f.steps, step{n: i + 1, at: float64(n*someGoing) - someGoing, height: float64(n * someRiser), below: someRiser, behind: someGoing})
		}
		f.steps[someSteps-1].behind = 0
		return
	}
	f.slope, f.nosing = k.Rise.Float()/k.Going.Float(), max(0, k.Nosing.Float())
	below := 0.0
	for i, t := range k.Treads {
		s := step{n: t.N, at: t.At.Float(), height: t.Height.Float(), riser: style.Print(t.Riser)}
		s.below = s.height - below
		below = s.height
		if i+1 < len(k.Treads) {
			s.behind, s.going = (k.Treads[i+1].At - t.At).Float(), style.Print(t.Going)
		}
		f.steps = append(f.steps, s)
	}
}

// rails takes the line of rail and shoe.
func (f *flight) rails() {
	k := f.k
	f.top, f.thick = mm(k.Top), mm(k.Thick)
	f.rail = f.top > 0
	f.sized = f.rail && f.stair && f.thick > 0 && f.thick < f.top
	if !f.rail {
		f.top = someTop
	}
	if under, thick := mm(k.ShoeUnder), mm(k.ShoeThick); f.sized && !k.OnTreads && thick > 0 && under+thick < f.top-f.thick && under > -f.top {
		f.shoe = [2]float64{under, under + thick}
	}
}

func (f *flight) last() step { return f.steps[len(f.steps)-1] }

// line is the height of the line of the nosings.
func (f *flight) line(x float64) float64 {
	first := f.steps[0]
	return first.height + float64((x-first.at+f.nosing)*f.slope)
}

func (f *flight) railTop(x float64) float64 { return f.line(x) + f.top }

// under is the underside of the rail, or its top while its section is not known.
func (f *flight) under(x float64) float64 {
	if f.sized {
		return f.railTop(x) - f.thick
	}
	return f.railTop(x)
}

// on is the tread that lies at a place, an index into the steps; -1 for the floor.
func (f *flight) on(x float64) int {
	n := -1
	for i, s := range f.steps {
		if x < s.at {
			break
		}
		n = i
	}
	return n
}

// height is that of a tread's surface, by its index.
func (f *flight) height(i int) float64 {
	if i < 0 {
		return 0
	}
	return f.steps[min(i, len(f.steps)-1)].height
}

// places sets the two ends.
func (f *flight) places() {
	r, k := f.m.r, f.k
	f.faces = [2]float64{f.steps[0].at - somewhere, f.last().at}
	if f.placed = f.stair && k.To > k.From && sane(k.From) && sane(k.To); f.placed {
		f.faces = [2]float64{k.From.Float(), k.To.Float()}
	}
	for i, e := range []layout.End{r.From, r.To} {
		stands := f.height(f.on(f.faces[i])) // while it is not known
		if told := f.told(i); f.stair && (f.placed || told.Stands.Given) {
			stands = r.Stands(i == 1).Float()
		}
		f.stands[i] = length.Length(math.Round(stands * float64(length.Millimetre)))
		reach := f.railTop(f.faces[i])
		face := e.Face
		if l := r.Lean; l != nil && l.Settled && f.sized {
			away := []length.Length{l.FromRail, l.ToRail}[i]
			face = face.Lean(profile.Point{Z: stands}, profile.Point{Out: -mm(away), Z: reach - f.thick/2})
		}
		f.m.ends[i] = f.m.side(i, e, face, stands, reach)
		if !f.placed {
			f.m.ends[i].known = false
		}
	}
	f.left = f.faces[0] - f.m.ends[0].behind()
	f.right = f.faces[1] + f.m.ends[1].behind()
	if e := f.m.ends[0]; !e.wall && !e.half {
		f.left = min(f.left, f.steps[0].at-someLanding)
	}
	if e := f.m.ends[1]; !e.wall && !e.half {
		f.right = max(f.right, f.last().at+someLanding)
	}
	f.upmost = -1
	for i, s := range f.steps {
		if s.at <= f.left {
			f.lowest = i + 1
		}
		if s.at <= f.right {
			f.upmost = i
		}
	}
}

// told is an end as its file has it.
func (f *flight) told(i int) job.End {
	if f.m.r.Job == nil {
		return job.End{}
	}
	return []job.End{f.m.r.Job.From, f.m.r.Job.To}[i]
}

// stand takes the balusters, each from the riser of its own tread or along the shoe.
func (f *flight) stand() {
	if !f.stair {
		return
	}
	previous := math.Inf(-1)
	for _, m := range f.m.r.Marks {
		s := stood{k: m.K, mark: m}
		ok := sane(m.At) && sane(m.Riser) && sane(m.Along)
		if f.k.OnTreads {
			s.on = m.Tread - 1
			ok = ok && s.on >= -1 && s.on < len(f.steps)
			if ok {
				s.x = f.steps[max(s.on, 0)].at + m.Riser.Float()
			}
			if s.text = f.m.style.Print(m.Riser); m.Riser < 0 {
				s.text = f.m.style.Print(-m.Riser) + " before"
			}
		} else {
			ok = ok && f.placed
			s.x = f.faces[0] + mm(m.At)
			s.on, s.text = f.on(s.x), f.m.style.Print(m.Along)
		}
		if !ok || s.x <= previous || s.x <= f.left || s.x >= f.right || f.placed && (s.x <= f.faces[0] || s.x >= f.faces[1]) {
			f.lost++
			continue
		}
		previous = s.x
		f.marks = append(f.marks, s)
	}
}

// worstOpening is the largest of the openings beside balusters that are known; nil while none is.
func (f *flight) worstOpening() *layout.Opening { return f.m.worstOpening() }

// worst places the ball of the worst opening. Across, it was found from the datum face, or from the axis of the baluster on its left.
func (f *flight) worst() {
	o := f.worstOpening()
	if o == nil || !f.placed {
		return
	}
	x, z, n := o.Found.X, o.Found.Z, len(f.marks)
	switch {
	case f.m.r.Kept != nil:
		x += f.faces[0] + mm(o.At)
	case n == 0 || o.Part == "from":
		x += f.faces[0]
	case o.Part == "to":
		x += f.marks[n-1].x
	case f.k.OnTreads:
		i := f.pair(o)
		if i < 0 {
			return
		}
		x += f.marks[i].x
	default: // on a shoe the same everywhere; the plan looked for it amid the flight, so the pair next to there is shown
		amid := (f.faces[0] + f.faces[1]) / 2
		near := f.marks[0].x
		for _, s := range f.marks[:n-1] {
			if math.Abs(s.x-amid) < math.Abs(near-amid) {
				near = s.x
			}
		}
		x += near
		z += float64((near - amid) * f.slope)
	}
	r := o.Worst.Float() / 2
	fits := o.Worst < length.Most && x-r > f.faces[0]-inch && x+r < f.faces[1]+inch && z-r > f.height(f.on(f.left)) && z+r < f.railTop(f.faces[1])+postOver
	if !fits {
		f.huge = true
		return
	}
	f.ball = &sphere{x: x, z: z, r: r, text: "worst opening " + f.m.decimal(o.Worst)}
}

// pair is the baluster on the left of the worst opening between two; -1 where it is not said.
func (f *flight) pair(o *layout.Opening) int {
	for i, s := range f.marks {
		if s.k == o.Left && i+1 < len(f.marks) {
			return i
		}
	}
	return -1
}

// post is how high the rail's top is above what an end stands on, at the end's face.
func (f *flight) post(i int) length.Length {
	at := []length.Length{f.k.From, f.k.To}[i]
	return f.k.RailTop(at) - f.stands[i]
}

// posts reports that those heights can be said.
func (f *flight) posts() bool { return f.rail && f.placed }

// square is how the steel square is set for the rake: 8 5/8 and 12.
func (f *flight) square() (rise, run string, ok bool) {
	q := f.k.Square
	if q == nil || !q.Value.Known() {
		return "", "", false
	}
	if q.Unit == length.Millimetres.String() {
		tenth := length.Millimetre / 10 // a square in millimetres is read to a tenth at best
		l := length.Of(q.Value, length.Millimetres, tenth, length.Nearest)
		return length.Style{System: length.Millimetres, Division: tenth, Rounding: length.Nearest}.Print(l), "100", sane(l)
	}
	l := length.Of(q.Value, length.Inches, length.Nanometre, length.Nearest)
	style := f.m.style
	if style.System != length.Inches || style.Division <= 0 {
		style = length.Style{System: length.Inches, Division: length.Inch / 16, Rounding: length.Nearest} // as steel squares are divided
	}
	style.Feet = false
	return style.Print(l), "12", sane(l)
}

// angle is the rake in degrees.
func (f *flight) angle() (string, bool) {
	a := f.k.Angle
	if a == nil || !a.Value.Known() {
		return "", false
	}
	v := a.Value.Float64()
	if v < 0 || v > 90 { // degrees
		return "", false
	}
	return strconv.FormatFloat(v, 'f', 2, 64) + "°", true
}
