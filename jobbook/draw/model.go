package draw

import (
	"math"
	"slices"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/working"
)

// model is a run in millimetres: x from the datum face, z from the floor that the guard stands on at the datum end.
type model struct {
	r      *layout.Run
	style  length.Style
	clear  float64
	known  bool // the clear is
	floor  []place
	come   float64 // how thick the floor to come is
	on     float64 // height of the bare floor: below 0 where the guard stands on the finished one
	levels bool    // heights of rail and shoe are known
	top    float64 // of the rail; 0 while not known
	below  float64 // underside of the rail
	shoe   float64 // top of the shoe; 0 where there is none
	low    float64 // the lowest and the highest thing drawn
	high   float64
	ends   [2]side
	marks  []mark
	left   int // marks that lie outside the run, or go backwards
	ball   *sphere
	huge   bool // the worst opening is too large to be drawn as a ball
	last   cutStick
}

// cutStick is the baluster that was cut last: the next one is cut alike as a rule.
type cutStick struct {
	bottom, top length.Length // what of it is not seen; for a level run the room that it stands in, and nothing
	shape       profile.Profile
}

// alike gives the shape of the last one where the next is cut alike; else none.
func (c *cutStick) alike(bottom, top length.Length) (profile.Profile, bool) {
	return c.shape, len(c.shape.Stations) > 1 && c.bottom == bottom && c.top == top
}

// place is a height of the floor.
type place struct{ x, z float64 }

// mark is a baluster's centre.
type mark struct {
	k    int
	x    float64
	text string
}

// sphere is the ball in the worst opening.
type sphere struct {
	x, z, r float64
	text    string
}

// side is what stands at an end. Out is towards the opening, from the face that the marks are measured from.
type side struct {
	name  string
	wall  bool
	known bool
	half  bool            // a half newel: the wall stands at the axis
	face  []profile.Point // from the floor up to its top
	axis  float64         // of a post, out
	plane float64         // of the wall or post behind its trim, out
	trim  float64         // how high the trim is; 0 where there is none
	plate float64         // how far the rosette stands off
	wide  float64         // of the rosette, up and down
}

const (
	inch = 25.4 // mm, by definition

	// What is drawn while it is not known, mm: a run and a guard of a usual look, and a post of a usual width. The words say so.
	someClear = 80 * inch
	someTop   = 36 * inch
	somePost  = 3.5 * inch

	// over the rail a wall is drawn this high, and a post no higher than the second, mm: enough to see that it goes on.
	wallOver = 4 * inch
	postOver = 12 * inch
)

// sane keeps a length that no tape reads out of the drawing.
func sane(l length.Length) bool { return -length.Most <= l && l <= length.Most }

// mm is a length for drawing; 0 where it can't be one.
func mm(l length.Length) float64 {
	if !sane(l) {
		return 0
	}
	return l.Float()
}

func newModel(r *layout.Run, style length.Style) *model {
	m := &model{r: r, style: style}
	if clear := m.clearLength(); clear > 0 && sane(clear) {
		m.clear, m.known = clear.Float(), true
	} else {
		m.clear = someClear
	}
	m.heights()
	for i, e := range []layout.End{r.From, r.To} {
		face := e.Face
		if l := r.Lean; l != nil && l.Settled && m.top > 0 {
			away := []length.Length{l.FromRail, l.ToRail}[i]
			face = face.Lean(profile.Point{}, profile.Point{Out: -mm(away), Z: m.top})
		}
		m.ends[i] = m.side(i, e, face, m.floorAt([]float64{0, m.clear}[i]), m.reach())
	}
	for _, s := range m.ends {
		if n := len(s.face); n > 0 {
			m.high = max(m.high, s.face[n-1].Z)
		}
	}
	m.places()
	m.worst()
	return m
}

// clearLength is the clear at the foot; 0 while it is not known.
func (m *model) clearLength() length.Length { return exactOf(m.r.Clear, m.style.System) }

// exactOf is a figure's length, by its own unit; 0 where there is none.
func exactOf(f *working.Figure, otherwise length.System) length.Length {
	if f == nil || !f.Value.Known() {
		return 0
	}
	system := otherwise
	switch f.Unit {
	case length.Millimetres.String():
		system = length.Millimetres
	case length.Inches.String():
		system = length.Inches
	}
	return f.Exact(system)
}

// heights takes floor, rail and shoe from the plan.
func (m *model) heights() {
	points := slices.Clone(m.r.Floor.Points)
	slices.SortStableFunc(points, func(a, b layout.FloorPoint) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
	for _, p := range points {
		n := len(m.floor)
		if !sane(p.At) || !sane(p.Height) || n > 0 && p.At.Float() < m.floor[n-1].x || n > 1 && p.At.Float() == m.floor[n-2].x {
			continue
		}
		m.floor = append(m.floor, place{p.At.Float(), p.Height.Float()})
		m.low = min(m.low, p.Height.Float())
	}
	if j := m.r.Job; j != nil && j.ToCome.Thick.Given && j.ToCome.Thick.Length > 0 {
		m.come = mm(j.ToCome.Thick.Length)
		if j.StandsOn.Text == "finished" {
			m.on = -m.come
			m.low -= m.come
		}
	}
	l := m.r.Levels
	m.top = mm(l.RailTop)
	if m.top < 0 {
		m.top = 0
	}
	m.levels = l.Known && m.top > 0 && sane(l.RailUnder) && sane(l.ShoeTop) && l.ShoeTop < l.RailUnder && l.RailUnder < l.RailTop
	if m.levels {
		m.below, m.shoe = l.RailUnder.Float(), l.ShoeTop.Float()
	}
	m.high = m.reach() + wallOver
}

// reach is how high the guard is, or is taken to be while that is not known.
func (m *model) reach() float64 {
	if m.top > 0 {
		return m.top
	}
	return someTop
}

// floorAt is the floor's height: straight between readings, as at the nearest one beyond them.
func (m *model) floorAt(x float64) float64 {
	n := len(m.floor)
	if n == 0 {
		return 0
	}
	if x <= m.floor[0].x {
		return m.floor[0].z
	}
	for i := 1; i < n; i++ {
		a, b := m.floor[i-1], m.floor[i]
		if x <= b.x {
			return a.z + float64((b.z-a.z)*((x-a.x)/(b.x-a.x)))
		}
	}
	return m.floor[n-1].z
}

// shoeAt is the height that balusters stand on.
func (m *model) shoeAt(x float64) float64 {
	if m.r.Floor.How == "lengths" {
		return m.shoe + m.floorAt(x)
	}
	return m.shoe
}

// hasShoe reports whether there is a shoe to draw.
func (m *model) hasShoe() bool { return m.levels && m.r.Job != nil && m.r.Job.Shoe != nil }

// side takes an end from the plan, its face leaning as it does where that is settled. foot is the floor there, reach the top of the rail.
func (m *model) side(i int, e layout.End, face profile.Face, foot, reach float64) side {
	s := side{name: plain(e.Name), wall: e.Wall, known: e.Known, plate: mm(e.Rosette), plane: -mm(e.Recess)}
	if j := m.r.Job; j != nil {
		if plate := []*job.Rosette{j.From.Plate, j.To.Plate}[i]; plate != nil {
			s.wide = mm(plate.Wide.Length)
		}
	}
	if e.High > 0 && (e.Recess > 0 || e.Proud > 0) {
		s.trim = mm(e.High)
	}
	if !s.wall {
		foot = min(foot, foot+m.on)
	}
	high := reach + wallOver
	if !s.wall {
		high = reach + postOver
		switch {
		case e.Newel == nil:
			s.known = false
			high = reach + wallOver
		default:
			wide := e.Wide // at the floor, which a foot that is let in goes below
			if wide == 0 {
				_, wide = e.Newel.Profile.WidthAt(0)
			}
			if wide == 0 {
				wide = e.Newel.Wide.Length
			}
			s.axis = s.plane - mm(wide)/2
			s.half = e.Newel.Half.Yes
			if mm(wide) <= 0 {
				s.known = false
			}
		}
		if !s.known {
			s.axis = s.plane - somePost/2
		}
	}
	s.face = outline(face, foot, high, s.wall || !s.known)
	return s
}

// outline is the part of a face from the floor up to a height. The face runs down to the floor as it is at its lowest point, and
// on up as it is at its highest where it goes on.
func outline(f profile.Face, foot, high float64, on bool) []profile.Point {
	far := mm(length.Most)
	var points []profile.Point
	for _, p := range f.Points {
		if !(math.Abs(p.Out) <= far && math.Abs(p.Z) <= far) || len(points) > 0 && p.Z < points[len(points)-1].Z {
			continue
		}
		points = append(points, p)
	}
	if len(points) == 0 {
		return []profile.Point{{Out: 0, Z: foot}, {Out: 0, Z: high}}
	}
	at := func(z float64) profile.Point {
		for i := 1; i < len(points); i++ {
			a, b := points[i-1], points[i]
			if a.Z < z && z < b.Z {
				return profile.Point{Out: a.Out + float64((b.Out-a.Out)*((z-a.Z)/(b.Z-a.Z))), Z: z}
			}
		}
		if z <= points[0].Z {
			return profile.Point{Out: points[0].Out, Z: z}
		}
		return profile.Point{Out: points[len(points)-1].Out, Z: z}
	}
	if last := points[len(points)-1].Z; !on && last < high && last > foot {
		high = last
	}
	out := []profile.Point{at(foot)}
	for _, p := range points {
		if foot < p.Z && p.Z < high {
			out = append(out, p)
		}
	}
	if last := points[len(points)-1]; last.Z == high {
		return append(out, last)
	}
	return append(out, at(high))
}

// outAt is how far a side stands out at a height, at the most where it steps.
func (s side) outAt(z float64) float64 {
	if len(s.face) == 0 {
		return 0
	}
	out, found := math.Inf(-1), false
	for i := 1; i < len(s.face); i++ {
		a, b := s.face[i-1], s.face[i]
		if a.Z <= z && z <= b.Z {
			found = true
			if a.Z == b.Z {
				out = max(out, a.Out, b.Out)
			} else {
				out = max(out, a.Out+float64((b.Out-a.Out)*((z-a.Z)/(b.Z-a.Z))))
			}
		}
	}
	if found {
		return out
	}
	if z < s.face[0].Z {
		return s.face[0].Out
	}
	return s.face[len(s.face)-1].Out
}

// behind is how far a side reaches behind the face that the marks are measured from.
func (s side) behind() float64 {
	if s.wall || s.half {
		return max(0, -s.plane, -s.axis)
	}
	far := 0.0
	for _, p := range s.face {
		far = max(far, p.Out-2*s.axis)
	}
	return far
}

// places takes the marks that lie within the run, in order.
func (m *model) places() {
	if !m.known {
		return
	}
	previous := 0.0
	for _, k := range m.r.Marks {
		x := mm(k.At)
		if !sane(k.At) || x <= previous || x >= m.clear {
			m.left++
			continue
		}
		previous = x
		m.marks = append(m.marks, mark{k: k.K, x: x, text: m.style.Print(k.At)})
	}
}

// worst places the ball of the worst opening. Its height is from the floor; across, it is found from the datum face, from the
// axis of the baluster on its left, or, beside the other end, from that end's face.
func (m *model) worst() {
	o := m.worstOpening()
	if o == nil || !m.known {
		return
	}
	x, n := o.Found.X, len(m.marks)
	switch {
	case m.r.Kept != nil:
		x += mm(o.At)
	case o.Left > 0 && o.Left < n: // beside a step
		x += m.marks[o.Left-1].x
	case n == 0 || o.Part == "from":
	case o.Part == "to":
		x = m.clear - x
	default:
		at, widest := 0, 0.0
		for i := 1; i < n; i++ {
			if apart := m.marks[i].x - m.marks[i-1].x; apart > widest+1e-6 && !m.stepBetween(m.marks[i-1].x, m.marks[i].x) { // mm, so that the first of equals is taken
				at, widest = i-1, apart
			}
		}
		x += m.marks[at].x
	}
	r := o.Worst.Float() / 2
	fits := o.Worst < length.Most && x-r > -inch && x+r < m.clear+inch && // what tolerances may add to a ball stays under an inch
		o.Found.Z-r > m.low-2*inch && o.Found.Z+r < m.high
	if !fits {
		m.huge = true
		return
	}
	m.ball = &sphere{x: x, z: o.Found.Z, r: r, text: "worst opening " + m.decimal(o.Worst)}
}

// stepBetween reports whether the floor steps between two places.
func (m *model) stepBetween(x1, x2 float64) bool {
	for _, s := range m.r.Floor.Steps {
		if x1 < mm(s.At) && mm(s.At) < x2 {
			return true
		}
	}
	return false
}

// worstOpening is the largest of the openings that are known; nil while none is.
func (m *model) worstOpening() *layout.Opening {
	var worst *layout.Opening
	for i := range m.r.Openings {
		o := &m.r.Openings[i]
		if o.Known && o.Worst > 0 && (worst == nil || o.Worst > worst.Worst) {
			worst = o
		}
	}
	return worst
}

// decimal prints an opening the way a limit is quoted, in three decimals of an inch or one of a millimetre, rounded up, so that it
// never looks smaller than it is.
func (m *model) decimal(l length.Length) string {
	places := 3
	if m.style.System == length.Millimetres {
		places = 1
	}
	return length.Style{System: m.style.System, Rounding: length.Up}.Decimal(l, places)
}

// stick is the part of a baluster that is seen between shoe and rail: its profile from the bottom, and the height of that. False while
// its shape is not known.
func (m *model) stick(x float64) (p profile.Profile, z float64, ok bool) {
	j := m.r.Job
	if j == nil || j.Baluster == nil || !j.Baluster.Sized || !m.levels {
		return p, 0, false
	}
	part := j.Baluster
	p = part.Profile
	if i, _ := p.Check(); i >= 0 || !sane(p.Long()) {
		return p, 0, false
	}
	var bottom, top length.Length // how far it goes into the shoe and the rail
	if j.Shoe != nil {
		bottom = j.Shoe.Plow.Deep.Length
	}
	if j.Handrail != nil {
		top = j.Handrail.Plow.Deep.Length
	}
	if part.Bottom.Text == "pin" {
		bottom += part.Pin.Long.Length
	}
	if part.Top.Text == "pin" {
		top = part.Pin.Long.Length
	}
	if !sane(bottom) || !sane(top) || bottom < 0 || top < 0 {
		return p, 0, false
	}
	stands := length.Length(math.Round(m.shoeAt(x) * float64(length.Millimetre)))
	room := m.r.Levels.RailUnder - stands
	if room <= 0 {
		return p, 0, false
	}
	if shape, ok := m.last.alike(room, 0); ok {
		return shape, stands.Float(), true
	}
	// The fit taken off the length is less than a line's weight, and is not drawn.
	if off := p.Long() - (room + bottom + top); off > 0 {
		if part.Trim.Text == "bottom" {
			p = p.Cut(off, 0)
		} else {
			p = p.Cut(0, off)
		}
	}
	// The top end in the rail is not seen; a baluster that is too short ends below it, and is drawn so.
	p = p.Cut(bottom, max(0, p.Long()-bottom-room))
	m.last = cutStick{room, 0, p}
	return p, stands.Float(), len(p.Stations) > 1
}
