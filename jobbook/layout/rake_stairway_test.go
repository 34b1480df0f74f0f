package layout_test

import (
	"math"
)

// stair is a flight by its readings, mm.
type stairway struct {
	division               float64
	risers, goings         []float64
	nosing, bracket        float64
	from, to               float64 // places of the two faces, from the face of the lowest riser
	height, thick, plow    float64 // of the rail; its section and its groove square to it
	shoeOver, shoe, groove float64 // of a raked shoe, likewise; shoe is 0 on treads
	mark, drill, under     float64 // tolerances
	fit, alike             float64
	baluster               section
	wide                   float64
	trimBottom, pinTop     bool
	in, pinLong            float64 // how deep pin or foot goes in below; pin above
	pinned                 bool    // a pin below: else its foot is cut to the rake on a shoe
	posts                  [2]section
	rosette                [2]float64
	lean                   float64 // the clear at the rail less the clear at the foot
}

const (
	stairLimit = 4.375 * 25.4
	levelLimit = 4 * 25.4
)

func (f *stairway) onTreads() bool { return f.shoe == 0 }

// across reports a post whose foot lies across a riser.
func (f *stairway) across(end int) bool {
	if len(f.posts[end]) == 0 {
		return false
	}
	wide := 2 * f.posts[end].half(0)
	low, high := f.from-wide, f.from
	if end == 1 {
		low, high = f.to, f.to+wide
	}
	at := 0.0
	for i := 0; ; i++ {
		if low < at && at < high {
			return true
		}
		if i == len(f.goings) {
			return false
		}
		at += f.goings[i]
	}
}

// tan is the slope of the line from the lowest nosing to the landing's.
func (f *stairway) tan() float64 {
	rise, going := 0.0, 0.0
	for i, a := range f.goings {
		going += a
		rise += f.risers[i+1]
	}
	return rise / going
}

func (f *stairway) sec() float64 { return math.Hypot(1, f.tan()) }

// tread gives the place of the face of riser n, from 1, and the height of tread n; tread 0 is the floor, the last one the landing.
func (f *stairway) tread(n int) (x, h float64) {
	for i := range n {
		h += f.risers[i]
		if i > 0 {
			x += f.goings[i-1]
		}
	}
	return x, h
}

func (f *stairway) surface(x float64) float64 {
	n := 0
	for n < len(f.risers) {
		if at, _ := f.tread(n + 1); x < at-1e-6 {
			break
		}
		n++
	}
	_, h := f.tread(n)
	return h
}

func (f *stairway) line(x float64) float64 { return f.risers[0] + (x+f.nosing)*f.tan() }

func (f *stairway) railUnder(x float64) float64 { return f.line(x) + f.height - f.thick*f.sec() }

func (f *stairway) shoeTop(x float64) float64 { return f.line(x) + f.shoeOver + f.shoe*f.sec() }

// foot is the height that a baluster's foot is seen at, at a place and on a tread.
func (f *stairway) foot(x float64, tread int) float64 {
	if f.onTreads() {
		_, h := f.tread(tread)
		return h
	}
	return f.shoeTop(x)
}

// sockets are how far a baluster goes in, along its axis: a hole's depth lies along it, a groove's is square to the rake.
func (f *stairway) sockets() (below, above float64) {
	below, above = f.in, f.plow*f.sec()
	if !f.onTreads() {
		below += f.groove * f.sec()
	}
	if f.pinTop {
		above = f.pinLong
	}
	return below, above
}

// cut is the length of a baluster at its axis.
func (f *stairway) cut(x float64, tread int) float64 {
	below, above := f.sockets()
	return f.railUnder(x) - f.foot(x, tread) + below + above - f.fit
}

// bevels are how far the points of its ends lie beyond the axis.
func (f *stairway) bevels() (foot, head float64) {
	half := f.wide / 2 * f.tan()
	if !f.pinTop {
		head = half
	}
	if !f.onTreads() && !f.pinned {
		foot = half
	}
	return foot, head
}

// lift is the height of the bottom of a baluster as bought.
func (f *stairway) lift(x float64, tread int) float64 {
	below, _ := f.sockets()
	foot, head := f.bevels()
	bottom := f.foot(x, tread) - below
	if f.trimBottom { // its top as bought is the high point of its head
		return bottom + f.cut(x, tread) + head - f.baluster.long()
	}
	return bottom - foot
}

// stood is a baluster's outline where it stands. On treads the stair is solid under its foot, from the riser between it and the place before.
func (f *stairway) stood(x float64, tread int) side {
	return f.baluster.outline(f.lift(x, tread), f.foot(x, tread), f.railUnder(x))
}

// stairUnder puts the stair under a side that stands at a height: whatever is lower is the riser of the tread there.
func (f *stairway) stairUnder(s side, x, foot, left float64, post bool) side {
	var out side
	z := -float64(far)
	for n := 1; n <= len(f.risers); n++ {
		at, h := f.tread(n)
		if at <= left+1e-6 || at > x+1e-6 && !post {
			continue
		}
		top := math.Min(h, foot)
		if top <= z {
			continue
		}
		out = append(out, [2]float64{z, x - at}, [2]float64{top, x - at})
		z = top
	}
	if len(out) == 0 {
		return s
	}
	return append(out, s.above(z)...)
}

// stand is a baluster: its place, how far that is from the riser of its tread, and the tread.
type stand struct {
	x, riser float64
	tread    int
}

// pattern is where m to the tread stand between the two faces: the first of each tread with its face in line with the riser's or the bracket's; on
// the floor and on the landing the spacing beside them goes on, two treads far.
func (f *stairway) pattern(m int) []stand {
	var list []stand
	add := func(tread int, going float64, j int) {
		riser := f.round(f.wide/2 - f.bracket + float64(j)*going/float64(m))
		x, _ := f.tread(max(tread, 1))
		x += riser
		if x-f.wide/2 < f.from-1e-6 || x+f.wide/2 > f.to+1e-6 || len(list) > 0 && x-list[len(list)-1].x < f.wide-1e-6 {
			return
		}
		list = append(list, stand{x, riser, tread})
	}
	n := len(f.risers)
	for j := -2 * m; j < 0; j++ {
		add(0, f.goings[0], j)
	}
	for t := 1; t < n; t++ {
		for j := range m {
			add(t, f.goings[t-1], j)
		}
	}
	for j := range 2 * m {
		add(n, f.goings[n-2], j)
	}
	return list
}

// round puts a length on the tape, halves away from nothing.
func (f *stairway) round(v float64) float64 {
	return math.Copysign(math.Floor(math.Abs(v)/f.division+0.5+1e-9), v) * f.division
}

// onShoe is where n stand on a shoe: marked along the rake, each once. The secant lies on a grid of 1e-9, as everything of trigonometry here, which decides a
// mark halfway between two divisions where the true one is a fraction, such as 17/15.
func (f *stairway) onShoe(n int) []stand {
	c := math.Round(f.sec()*1e9) / 1e9
	var list []stand
	for k := 1; k <= n; k++ {
		level := float64(k)*(f.to-f.from+f.wide)/float64(n+1) - f.wide/2
		list = append(list, stand{x: f.from + f.round(level*c)/c})
	}
	return list
}

// end is the outline of what stands at an end, its reach from the face that was measured to.
func (f *stairway) end(i int) (s side, foot float64) {
	face, out := f.from, -1.0
	if i == 1 {
		face, out = f.to, 1
	}
	post := f.posts[i]
	if post == nil {
		return side{{-far, 0}, {far, 0}}, f.surface(face)
	}
	foot = f.surface(face + out*post.half(0))
	s = post.outline(foot, foot, foot+post.long())
	for k := range s {
		s[k][1] -= post.half(0)
	}
	return s, foot
}
