package layout_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// This file lays random flights out a second time, from the readings alone, in floating point and mm, and compares. It shares no code with
// the layout or with package profile: the largest ball is found by a plain search over heights, between the outlines that the stations of
// the parts draw where the parts really stand.

// section is a part up its length: height above its bottom as bought and half width there, mm; two at one height are a step.
type section [][2]float64

// half is the half width just above a height; the nearest end's beyond the part.
func (p section) half(z float64) float64 {
	for i := 1; i < len(p); i++ {
		if a, b := p[i-1], p[i]; z >= a[0] && z < b[0] {
			return a[1] + (b[1]-a[1])*(z-a[0])/(b[0]-a[0])
		}
	}
	if z < p[0][0] {
		return p[0][1]
	}
	return p[len(p)-1][1]
}

func (p section) long() float64 { return p[len(p)-1][0] }

// side is what stands beside an opening: how far it reaches towards the other side, at heights ascending.
type side [][2]float64 // height, reach

const far = 20_000 // mm, beyond any flight

// outline is what is seen of a part whose bottom as bought stands at a height, from one height to another. Beyond these it is in wood, and
// is carried straight on.
func (p section) outline(bottom, from, to float64) side {
	const off = 1e-6 // mm: of two stations at one height the inner one is seen
	foot, top := p.half(from-bottom+off), p.half(to-bottom-off)
	s := side{{-far, foot}, {from, foot}}
	for _, q := range p {
		if z := q[0] + bottom; z > from+off && z < to-off {
			s = append(s, [2]float64{z, q[1]})
		}
	}
	return append(s, [2]float64{to, top}, [2]float64{far, top})
}

// above is the part of a side over a height.
func (s side) above(z float64) side {
	var out side
	for i, q := range s {
		switch {
		case q[0] >= z:
			out = append(out, q)
		case i+1 < len(s) && s[i+1][0] > z:
			a, b := q, s[i+1]
			out = append(out, [2]float64{z, a[1] + (b[1]-a[1])*(z-a[0])/(b[0]-a[0])})
		}
	}
	return out
}

// distance is from a point to a side, which fills all that lies behind its outline. x is measured from where its reach is.
func (s side) distance(x, z float64) float64 {
	best := math.Inf(1) // squared
	for i := 1; i < len(s); i++ {
		z0, x0, z1, x1 := s[i-1][0], s[i-1][1], s[i][0], s[i][1]
		if off := max(z0-z, z-z1); off > 0 && off*off >= best {
			continue
		}
		dz, dx := z1-z0, x1-x0
		if z >= z0 && z <= z1 && dz > 0 && x <= x0+dx*(z-z0)/dz {
			return 0
		}
		t := 0.0
		if d := dz*dz + dx*dx; d > 0 {
			t = max(0, min(1, ((z-z0)*dz+(x-x0)*dx)/d))
		}
		offZ, offX := z-z0-t*dz, x-x0-t*dx
		best = min(best, offZ*offZ+offX*offX)
	}
	return math.Sqrt(best)
}

// ballAt is the radius of the largest ball whose centre is at a height: as far from the one side as from the other.
func ballAt(left, right side, apart, z float64) float64 {
	lo, hi := -apart, 2*apart // posts and turnings stand back from their faces and axes by less
	for range 24 {
		if x := (lo + hi) / 2; left.distance(x, z) < right.distance(apart-x, z) {
			lo = x
		} else {
			hi = x
		}
	}
	return math.Min(left.distance(lo, z), right.distance(apart-lo, z))
}

// ball is the diameter of the largest ball with its centre between two heights, to a tenth of a millimetre: a ball's radius changes no faster than its
// height, so that between two heights tried none is larger than half of both and what lies between; where that is more, the middle is tried. Where
// both sides run straight for as far as a ball reaches, it grows one way only.
func ball(left, right side, apart, low, high float64) float64 {
	if high <= low {
		return 0
	}
	const near = 0.04
	best := 0.0
	at := func(z float64) float64 {
		r := ballAt(left, right, apart, z)
		best = max(best, r)
		return r
	}
	straight := func(from, to float64) bool {
		for _, s := range []side{left, right} {
			for _, q := range s {
				if q[0] > from && q[0] < to {
					return false
				}
			}
		}
		return true
	}
	var between func(a, ra, b, rb float64)
	between = func(a, ra, b, rb float64) {
		if (ra+rb+b-a)/2 <= best+near || straight(a-ra-(b-a), b+rb+(b-a)) {
			return
		}
		m := (a + b) / 2
		rm := at(m)
		between(a, ra, m, rm)
		between(m, rm, b, rb)
	}
	n := int((high-low)/4) + 1
	z, r := make([]float64, n+1), make([]float64, n+1)
	for i := range z {
		z[i] = low + (high-low)*float64(i)/float64(n)
		r[i] = at(z[i])
	}
	for i := 1; i <= n; i++ {
		between(z[i-1], r[i-1], z[i], r[i])
	}
	return 2 * best
}

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

// span is an opening between the least and the most that it can be called: with the ball's centre where it is under the rail and above
// the walking surface or the shoe for certain, and anywhere that it may be.
type span [2]float64

func (o *span) widen(least, most float64) { o[0], o[1] = max(o[0], least), max(o[1], most) }

// worst are the openings at their worst.
type worst struct {
	from, between, landing, to span
	toLanding                  bool
}

// fails reports a limit that is not kept by more than some slack.
func (w worst) fails(slack float64) (string, bool) {
	to := stairLimit
	if w.toLanding {
		to = levelLimit
	}
	for _, o := range []struct {
		name  string
		o     span
		limit float64
	}{{"from", w.from, stairLimit}, {"between", w.between, stairLimit}, {"landing", w.landing, levelLimit}, {"to", w.to, to}} {
		if o.o[0] >= o.limit+slack {
			return fmt.Sprintf("%s %.3f", o.name, o.o[0]), true
		}
	}
	return "", false
}

// keeps reports that every limit is kept by more than some slack, wherever the ball is.
func (w worst) keeps(slack float64) bool {
	to := stairLimit
	if w.toLanding {
		to = levelLimit
	}
	return w.from[1] < stairLimit-slack && w.between[1] < stairLimit-slack && w.landing[1] < levelLimit-slack && w.to[1] < to-slack
}

type searches map[string]span

// search is the opening between two sides; the heights are least and most for the ball's centre, for certain and at all.
func (c searches) search(left, right side, apart float64, certain, any [2]float64) span {
	zero := any[0]
	shift := func(s side) side {
		t := slices.Clone(s)
		for i := range t {
			if math.Abs(t[i][0]) < far {
				t[i][0] -= zero
			}
		}
		return t
	}
	l, r := shift(left), shift(right)
	key := fmt.Sprintf("%.4f %.4f %.4f %.4f %.4f", apart, l, r, certain[0]-zero, []float64{certain[1] - zero, any[1] - zero})
	o, ok := c[key]
	if !ok {
		o[0] = ball(l, r, apart, certain[0]-zero, certain[1]-zero)
		o[1] = max(o[0], ball(l, r, apart, 0, any[1]-zero))
		c[key] = o
	}
	return o
}

// openings works out all openings of balusters where they stand.
func (f *stairway) openings(list []stand, c searches) (w worst) {
	e := f.mark + f.drill
	last := len(list) - 1
	for i := 1; i <= last; i++ {
		a, b := list[i-1], list[i]
		if f.onTreads() {
			low := f.foot(a.x, a.tread)
			right := f.stairUnder(f.stood(b.x, b.tread), b.x, f.foot(b.x, b.tread), a.x, false)
			o := c.search(f.stood(a.x, a.tread), right, b.x-a.x+2*e+f.under, [2]float64{low, f.railUnder(a.x)}, [2]float64{low, f.railUnder(b.x)})
			w.between.widen(o[0], o[1])
			if a.tread == len(f.risers) {
				w.landing.widen(o[0], o[1])
			}
			continue
		}
		// On a shoe a baluster that stands off its mark also stands higher; one that is under its width does not.
		for _, off := range [][2]float64{{f.under - 2*e, -2 * e}, {f.under, 0}, {2*e + f.under, 2 * e}} {
			x := b.x + off[1]
			o := c.search(f.stood(a.x, 0), f.stood(x, 0), b.x-a.x+off[0], [2]float64{f.shoeTop(x), f.railUnder(a.x)}, [2]float64{f.shoeTop(a.x), f.railUnder(x)})
			w.between.widen(o[0], o[1])
		}
	}
	first, end := list[0], list[last]
	from, _ := f.end(0)
	to, foot := f.end(1)
	if f.onTreads() {
		low := min(f.foot(first.x, first.tread), f.surface(f.from))
		right := f.stairUnder(f.stood(first.x, first.tread), first.x, f.foot(first.x, first.tread), f.from, false)
		w.from = c.search(from, right, first.x-f.from+e+f.under/2, [2]float64{low, f.railUnder(f.from)}, [2]float64{low, f.railUnder(first.x)})
		low = f.foot(end.x, end.tread)
		w.to = c.search(f.stood(end.x, end.tread), f.stairUnder(to, f.to, foot, end.x, f.posts[1] != nil), f.to-end.x+e+f.under/2, [2]float64{low, f.railUnder(end.x)}, [2]float64{low, f.railUnder(f.to)})
		w.toLanding = end.tread == len(f.risers)
		return w
	}
	for _, off := range [][2]float64{{f.under/2 - e, -e}, {f.under / 2, 0}, {e + f.under/2, e}} {
		x := first.x + off[1]
		o := c.search(from, f.stood(x, 0), first.x-f.from+off[0], [2]float64{f.shoeTop(x), f.railUnder(f.from)}, [2]float64{f.shoeTop(f.from), f.railUnder(x)})
		w.from.widen(o[0], o[1])
		x = end.x - off[1]
		o = c.search(f.stood(x, 0), to, f.to-end.x+off[0], [2]float64{f.shoeTop(f.to), f.railUnder(x)}, [2]float64{f.shoeTop(x), f.railUnder(f.to)})
		w.to.widen(o[0], o[1])
	}
	return w
}

// drawn is a random flight: its readings, and the files they are written in.
type drawn struct {
	stairway
	files           map[string]string
	perTread, count int // as written; 0 and -1 where they are not
}

// drawFlight draws a stair and its guard. Everything is whole sixteenths of an inch, or whole millimetres.
func drawFlight(rt *rapid.T) *drawn {
	d := &drawn{count: -1}
	unit, inch, units := 25.4/16, 16, "in"
	if rapid.IntRange(0, 3).Draw(rt, "units") == 0 {
		unit, inch, units = 1, 25, "mm"
	}
	d.division = unit
	text := func(n int) string {
		sign := ""
		if n < 0 {
			sign, n = "-", -n
		}
		if units == "mm" {
			return sign + fmt.Sprint(n)
		}
		return sign + fmt.Sprintf("%d %d/16", n/16, n%16)
	}
	// size draws between two sizes in inches, to the tape.
	size := func(name string, low, high float64, to *float64) string {
		n := rapid.IntRange(int(math.Ceil(low*float64(inch))), int(high*float64(inch))).Draw(rt, name)
		*to = float64(n) * unit
		return text(n)
	}
	yes := func(name string, of int) bool { return rapid.IntRange(1, of).Draw(rt, name) == 1 }

	// The stair.
	list := func(name string, n int, low, high float64, to *[]float64) string {
		var base float64
		size(name, low, high, &base)
		var words []string
		for range n {
			off := 0
			if yes("uneven "+name, 3) {
				off = rapid.IntRange(-inch/4, inch/4).Draw(rt, name+" off")
			}
			v := int(math.Round(base/unit)) + off
			*to = append(*to, float64(v)*unit)
			words = append(words, text(v))
		}
		return "[" + strings.Join(words, ", ") + "]"
	}
	n := rapid.IntRange(2, 18).Draw(rt, "risers")
	var run strings.Builder
	write := func(key, value string) { fmt.Fprintf(&run, "%s: %s\n", key, value) }
	write("kind", "flight")
	write("risers", list("riser", n, 5, 9, &d.risers))
	write("goings", list("going", n-1, 8, 13, &d.goings))
	write("nosing", size("nosing", 0, 1.5, &d.nosing))
	write("height", size("height", 34, 38, &d.height))

	// The parts.
	var more float64
	parts := map[string]string{}
	rail := "kind: handrail\nwide: " + text(3*inch) + "\nhigh: " + size("rail", 1.5, 3, &d.thick)
	d.pinTop = yes("pin above", 4)
	if !d.pinTop && !yes("no plow", 3) {
		rail += "\nplow: {wide: " + text(2*inch) + ", deep: " + size("plow", 0.2, 0.6, &d.plow) + "}"
	}
	parts["rail"] = rail
	raked := yes("raked shoe", 3)
	bottom := ""
	if raked {
		shoe := "kind: shoe\nwide: " + text(3*inch) + "\nhigh: " + size("shoe", 0.7, 1.5, &d.shoe)
		if yes("plowed shoe", 2) {
			shoe += "\nplow: {wide: " + text(2*inch) + ", deep: " + size("groove", 0.2, 0.5, &d.groove) + "}"
		}
		parts["shoe"] = shoe
		write("shoe-over", size("shoe-over", 0, 3, &d.shoeOver))
		write("under-shoe", rapid.SampledFrom([]string{"open", "closed"}).Draw(rt, "under"))
	}
	d.trimBottom = yes("trim below", 3)
	if !d.trimBottom {
		switch rapid.IntRange(0, 3).Draw(rt, "below") {
		case 0:
			bottom, d.pinned = "\nbottom: pin", true
			size("pin", 0.5, 1, &d.in)
			d.pinLong = d.in
		case 1:
			bottom = "\nbottom: let in\nlet-in: " + size("let in", 0.2, 0.8, &d.in)
		}
	}
	if d.pinTop {
		if d.pinLong == 0 {
			size("pin", 0.5, 1, &d.pinLong)
		}
		bottom += "\ntop: pin"
	}
	if d.pinLong > 0 {
		bottom += "\npin: {wide: " + text(inch/2) + ", long: " + text(int(math.Round(d.pinLong/unit))) + "}"
	}
	wide := size("baluster", 0.9, 1.75, &d.wide)
	w := int(math.Round(d.wide / unit))
	long := 70 * inch
	baluster := "kind: baluster" + bottom
	if d.trimBottom {
		baluster += "\ntrim: bottom"
	}
	if yes("plain", 2) {
		baluster += "\nlong: " + text(long) + "\nwide: " + wide
		d.baluster = section{{0, d.wide / 2}, {float64(long) * unit, d.wide / 2}}
		if yes("round", 3) {
			baluster += "\nsection: round"
		}
	} else {
		baluster += "\nwide: " + wide + "\nprofile:"
		station := func(at int, shape string, w int) {
			baluster += "\n  - {at: " + text(at) + ", " + shape + ": " + text(w) + "}"
			d.baluster = append(d.baluster, [2]float64{float64(at) * unit, float64(w) * unit / 2})
		}
		at := 0
		if strings.Contains(bottom, "bottom: pin") {
			at = int(math.Round(d.in / unit))
			station(0, "round", inch/2)
			station(at, "round", inch/2)
		}
		station(at, "square", w)
		at += rapid.IntRange(2*inch, 6*inch).Draw(rt, "block")
		if d.trimBottom {
			at = 50 * inch
		}
		station(at, "square", w)
		for i := range rapid.IntRange(2, 7).Draw(rt, "turnings") {
			turned := rapid.IntRange(w/2, w).Draw(rt, "turned")
			if i > 0 {
				at += rapid.IntRange(inch/4, 4*inch).Draw(rt, "up")
			}
			station(at, "round", turned)
		}
		station(at, "square", w)
		if d.trimBottom {
			at += rapid.IntRange(2*inch, 6*inch).Draw(rt, "head block")
		} else {
			at = long
		}
		station(at, "square", w)
	}
	parts["own"] = baluster

	// The ends.
	ends := [2]string{}
	for i, side := range []string{"from", "to"} {
		var place float64
		off := size(side+" off", 0, []float64{5, 15}[i], &place)
		key := "past"
		if yes(side+" before", 2) {
			key, place = "before", -place
		}
		*[]*float64{&d.from, &d.to}[i] = place
		at := "{at: wall, rosette: none, "
		switch rapid.IntRange(0, 4).Draw(rt, side+" is") {
		case 0:
			if yes("rosette", 2) {
				parts["plate-"+side] = "kind: rosette\nwide: " + text(4*inch) + "\nthick: " + size("plate", 0.5, 1, &d.rosette[i])
				at = "{at: wall, rosette: plate-" + side + ", "
			}
		case 1:
			half := 1.75 * float64(inch) * unit
			post := "kind: newel\nprofile:"
			for _, q := range [][2]int{{0, 0}, {6 * inch, 0}, {6 * inch, 2}, {8 * inch, rapid.IntRange(0, inch).Draw(rt, "vase")}, {30 * inch, rapid.IntRange(0, inch).Draw(rt, "neck")}, {30 * inch, 0}, {60 * inch, 0}} {
				w := 2*int(math.Round(half/unit)) - 2*q[1]
				shape := "square"
				if q[1] > 0 {
					shape = "round"
				}
				post += "\n  - {at: " + text(q[0]) + ", " + shape + ": " + text(w) + "}"
				d.posts[i] = append(d.posts[i], [2]float64{float64(q[0]) * unit, float64(w) * unit / 2})
			}
			parts[side+"-newel"] = post
			at = "{at: " + side + "-post, "
		default:
			parts[side+"-newel"] = "kind: newel\nwide: " + text(3*inch+inch/2) + "\nlong: " + text(60*inch)
			half := float64(3*inch+inch/2) * unit / 2
			d.posts[i] = section{{0, half}, {float64(60*inch) * unit, half}}
			at = "{at: " + side + "-post, "
		}
		ends[i] = at + key + ": " + off + "}"
	}
	write("from", ends[0])
	write("to", ends[1])
	for _, a := range d.goings {
		d.to += a
	}
	if d.to-d.from < 4*25.4 {
		rt.Skip("no room between the ends")
	}

	// The clears: along the rake to the tape, so that a little lean is read that is none.
	level := int(math.Round((d.to - d.from) / unit))
	along := int(math.Round((d.to - d.from) * d.sec() / unit))
	clear := "{rake: " + text(along) + "}"
	if yes("level read", 2) {
		clear = "{level: " + text(level) + ", rake: " + text(along) + "}"
	}
	write("clear", clear)
	d.lean = float64(along)*unit/d.sec() - (d.to - d.from)

	if d.onTreads() && yes("bracket", 4) {
		write("bracket", size("bracket", 0, 0.4, &d.bracket))
	}
	if d.onTreads() && yes("per tread", 4) {
		d.perTread = rapid.IntRange(1, 4).Draw(rt, "per tread")
		write("per-tread", fmt.Sprint(d.perTread))
	}
	if raked && yes("count", 4) {
		most := int((d.to - d.from) / d.wide / 2) // the gaps as wide as the balusters, and five times as wide
		d.count = rapid.IntRange(max(1, most/3), max(1, most)).Draw(rt, "count")
		write("count", fmt.Sprint(d.count))
	}

	head := "kind: job\nunits: " + units + "\nrules: stairs\nbaluster: own\nhandrail: rail\nfillet: strip\ndrop: " + text(100*inch)
	if raked {
		head += "\nshoe: shoe"
	} else {
		head += "\nshoe: none"
	}
	head += "\nposts:"
	for _, side := range []string{"from", "to"} {
		if parts[side+"-newel"] != "" {
			head += "\n  " + side + "-post: {newel: " + side + "-newel, foot: plate}"
		} else {
			head += "\n  " + side + "-post: {foot: plate}"
		}
	}
	parts["strip"] = "kind: fillet\nwide: " + text(inch) + "\nthick: " + text(inch/4)
	d.files = map[string]string{
		"job.md":       head,
		"runs/1-f.md":  strings.TrimSpace(run.String()),
		"rules/s.md":   "",
		"settings.md":  "kind: settings\nunits: " + units + "\ndivision: " + text(1) + "\ndivision-mm: " + text(1) + "\nfit: " + size("fit", 0, 0.13, &d.fit) + "\nalike: " + size("alike", 0, 0.3, &d.alike) + "\ntolerance: {mark: " + size("mark", 0, 0.07, &d.mark) + ", drill: " + size("drill", 0, 0.07, &d.drill) + ", width: " + size("under", 0, 0.07, &d.under) + ", season: 0}",
		"rules/sub.md": "",
	}
	delete(d.files, "rules/s.md")
	delete(d.files, "rules/sub.md")
	d.files["rules/stairs.md"] = "kind: rules\nunits: in\nlimits:\n  guard-opening: {under: 4, clause: x, status: published}\n  guard-opening-stair: {under: 4 3/8, clause: x, status: published}\n  guard-triangle: {under: 6, clause: x, status: published}\n  guard-height-stair: {at-least: 34, clause: x, status: published}\n  guard-drop: {over: 30, clause: x, status: published}"
	for name, p := range parts {
		d.files["parts/"+name+".md"] = strings.Replace(p, "\n", "\nunits: "+units+"\n", 1)
	}
	_ = more
	return d
}

func mm(l length.Length) float64 { return l.Float() }

const slack = 2.54e-5 // a millionth of an inch, mm

// TestRandomFlights compares random flights with the second layout above, number by number.
func TestRandomFlights(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawFlight(rt)
		_, l := lay(t, d.files)
		r := l.Runs[0]
		say := func(format string, a ...any) {
			for _, name := range slices.Sorted(maps.Keys(d.files)) {
				rt.Logf("=== %s\n%s", name, d.files[name])
			}
			rt.Fatalf(format, a...)
		}
		same := func(what string, got, want float64) {
			if math.Abs(got-want) > slack {
				say("%s: %.6f mm, worked out anew %.6f", what, got, want)
			}
		}
		if r.Clear == nil || r.Rake.Top == 0 {
			say("not laid out: %+v %+v", r.Missing, r.Findings)
		}
		same("level clear", mm(r.Rake.To-r.Rake.From), d.to-d.from)
		checkStair(d, r, same, say)
		if r.Chosen == nil {
			return
		}
		checkPlaces(d, r, same, say)
		checkBalusters(d, r, same, say)
		checkFillets(d, r, same, say)
		checkOpenings(d, r, say)
	})
}

type (
	sameFunc func(what string, got, want float64)
	sayFunc  func(format string, a ...any)
)

// checkStair compares what does not wait for balusters: rail, shoe, heights over the nosings, the triangle.
func checkStair(d *drawn, r *layout.Run, same sameFunc, say sayFunc) {
	c, tan := d.sec(), d.tan()
	angle, _ := r.Rake.Angle.Value.Float64()
	if math.Abs(angle-math.Atan(tan)*180/math.Pi) > 1e-6 {
		say("angle %v", angle)
	}
	along := (d.to - d.from + d.lean) * c
	stick := func(what string, cut *layout.Cut, long, high float64) {
		if cut == nil {
			say("no %s: %+v", what, r.Missing)
			return
		}
		same(what, mm(cut.Exact), long)
		if up := mm(cut.Length) - long; up < -slack || up >= d.division+slack {
			say("%s of %v is cut to %v", what, long, mm(cut.Length))
		}
		if up := mm(cut.Blank) - (long + high*tan); up < -slack || up >= d.division+slack {
			say("blank of %s, %v and %v for the plumb cut, is %v", what, long, high*tan, mm(cut.Blank))
		}
	}
	stick("handrail", r.Handrail, along-(d.rosette[0]+d.rosette[1])*c, d.thick)
	if !d.onTreads() {
		stick("shoe", r.Shoe, (d.to-d.from)*c, d.shoe)
	}

	// Over each nosing that the rail goes over, the nosing of a riser at the lower post's face included.
	least, most := math.Inf(1), math.Inf(-1)
	for n := 1; n <= len(d.risers); n++ {
		x, h := d.tread(n)
		if x < d.from-1e-6 || x-d.nosing > d.to+1e-6 {
			continue
		}
		over := d.line(x-d.nosing) + d.height - h
		least, most = min(least, over), max(most, over)
	}
	triangle := 0.0
	for n := 1; n < len(d.risers); n++ {
		// The corner of tread and riser, the shoe's underside over it; the ball touches all three.
		_, h := d.tread(n)
		x, _ := d.tread(n + 1)
		up := d.line(x) + d.shoeOver - h
		triangle = max(triangle, up+up/tan-math.Hypot(up, up/tan))
	}
	for _, m := range r.Measures {
		switch m.Limit {
		case "guard-height-stair", "handrail-height-least":
			if m.Known {
				same(m.Limit, mm(m.Value), least)
			}
			if m.Known != (least < math.Inf(1)) {
				say("%s known: %v", m.Limit, m.Known)
			}
		case "handrail-height-most":
			if m.Known {
				same(m.Limit, mm(m.Value), most)
			}
		case "guard-triangle":
			if m.Known && mm(m.Value) < triangle-slack {
				say("triangle %v, a ball of %v goes in", mm(m.Value), triangle)
			}
			even := slices.Min(d.risers[1:]) == slices.Max(d.risers[1:]) && slices.Min(d.goings) == slices.Max(d.goings)
			if m.Known && even {
				same("triangle", mm(m.Value), triangle)
			}
			// Uneven steps are taken with their own slope and the higher of their two nosings: on the safe side, and not far.
			if m.Known && mm(m.Value) > triangle+0.35*25.4 {
				say("triangle %v, the largest ball is %v", mm(m.Value), triangle)
			}
		}
	}
}

// checkPlaces compares where the balusters stand.
func checkPlaces(d *drawn, r *layout.Run, same sameFunc, say sayFunc) {
	var want []stand
	if d.onTreads() {
		want = d.pattern(r.Chosen.PerTread)
		first := 0
		for first < len(want) && len(r.Marks) > 0 && math.Abs(want[first].x-d.from-mm(r.Marks[0].At)) > slack {
			first++
		}
		if first+len(r.Marks) > len(want) {
			say("%d balusters, %d to the tread have places %+v", len(r.Marks), r.Chosen.PerTread, want)
		}
		want = want[first : first+len(r.Marks)] // those left out beside the posts are looked at with the openings
	} else {
		want = d.onShoe(r.Chosen.Count)
	}
	if len(want) != len(r.Marks) || len(want) != r.Chosen.Count {
		say("%d marks for %d", len(r.Marks), r.Chosen.Count)
	}
	before := math.Inf(-1)
	for i, m := range r.Marks {
		s := want[i]
		name := fmt.Sprintf("baluster %d ", m.K)
		same(name+"place", mm(m.At), s.x-d.from)
		if mm(m.At) <= before {
			say("mark %d does not rise", m.K)
		}
		before = mm(m.At)
		if d.onTreads() {
			same(name+"from its riser", mm(m.Riser), s.riser)
			if m.Tread != s.tread {
				say("baluster %d stands on tread %d, not %d", m.K, s.tread, m.Tread)
			}
		} else {
			same(name+"along", mm(m.Along), d.round((s.x-d.from)*d.sec()))
		}
		same(name+"foot", mm(m.Stands), d.foot(s.x, s.tread))
		same(name+"bottom as bought", mm(m.Lift), d.lift(s.x, s.tread))
		same(name+"head", mm(m.Head), d.railUnder(s.x))
	}
}

// checkBalusters compares their lengths, how they are grouped, and their points.
func checkBalusters(d *drawn, r *layout.Run, same sameFunc, say sayFunc) {
	foot, head := d.bevels()
	lengths := make([]float64, len(r.Marks))
	for i, m := range r.Marks {
		lengths[i] = d.cut(d.from+mm(m.At), m.Tread)
	}
	in := make([]int, len(r.Marks))
	for _, c := range r.Balusters {
		group := counted(c.Which)
		if len(group) != c.Count {
			say("%d balusters in the group %q", c.Count, c.Which)
		}
		least, most := math.Inf(1), math.Inf(-1)
		for _, k := range group {
			in[k-1]++
			least, most = min(least, lengths[k-1]), max(most, lengths[k-1])
		}
		same("shortest of "+c.Which, mm(c.Exact), least)
		if !d.cutAlike(least, most) {
			say("balusters %s differ by %v and are cut alike", c.Which, most-least)
		}
		if down := least - mm(c.Length); down < -slack || down >= d.division+slack {
			say("%v is cut to %v", least, mm(c.Length))
		}
		if up := mm(c.Blank) - (least + foot + head); up < -slack || up >= d.division+slack {
			say("a stick for %v, with points of %v and %v, is %v", least, foot, head, mm(c.Blank))
		}
		switch {
		case head == 0:
		case foot > 0: // both ends alike: its edges are as long as its axis
			same("edge", mm(c.Long), mm(c.Length))
			same("edge", mm(c.Short), mm(c.Length))
		default:
			if math.Abs(mm(c.Long)-mm(c.Length)-head) > d.division/2+slack || math.Abs(mm(c.Length)-mm(c.Short)-head) > d.division/2+slack {
				say("points of %v at %v and %v, want %v either way", mm(c.Length), mm(c.Short), mm(c.Long), head)
			}
		}
	}
	for i, n := range in {
		if n != 1 {
			say("baluster %d is in %d groups", i+1, n)
		}
	}
	if n := d.fewest(lengths); len(r.Balusters) != n {
		say("%d cuts, %d would do: %v", len(r.Balusters), n, lengths)
	}
}

// counted reads "1 to 3, 7".
func counted(which string) (list []int) {
	for _, word := range strings.Split(which, ", ") {
		var a, b int
		if n, _ := fmt.Sscanf(word, "%d to %d", &a, &b); n == 1 {
			b = a
		}
		for k := a; k <= b; k++ {
			list = append(list, k)
		}
	}
	return list
}

// cutAlike reports lengths that the shop does not tell apart, or that come to one mark on the tape.
func (d *drawn) cutAlike(short, long float64) bool {
	down := func(v float64) float64 { return math.Floor(v/d.division + 1e-6) }
	return long-short <= d.alike+slack || down(short) == down(long)
}

// fewest is how many groups lengths can be put in that are cut alike: the least over every way of parting the sorted lengths.
func (d *drawn) fewest(lengths []float64) int {
	sorted := slices.Sorted(slices.Values(lengths))
	best := make([]int, len(sorted)+1)
	for n := 1; n <= len(sorted); n++ {
		best[n] = n
		for k := range n {
			if d.cutAlike(sorted[k], sorted[n-1]) {
				best[n] = min(best[n], best[k]+1)
			}
		}
	}
	return best[len(sorted)]
}

// checkFillets compares the fillets of both grooves with the gaps between the marks.
func checkFillets(d *drawn, r *layout.Run, same sameFunc, say sayFunc) {
	for _, groove := range []struct {
		what  string
		there bool
		ends  [2]float64
	}{{"rail fillet", d.plow > 0 && !d.pinTop, d.rosette}, {"shoe fillet", d.groove > 0, [2]float64{}}} {
		var got, want []float64
		for _, c := range r.Fillets {
			if c.What != groove.what {
				continue
			}
			if c.ToFit {
				say("%s is to be fitted, though nothing leans", c.What)
			}
			for range c.Count {
				got = append(got, mm(c.Length))
			}
		}
		if !groove.there || len(r.Marks) == 0 {
			if len(got) > 0 {
				say("%d of %s, and no groove", len(got), groove.what)
			}
			continue
		}
		face, short := d.from+groove.ends[0]-d.wide/2, false
		add := func(gap float64) {
			if gap > slack {
				want = append(want, math.Floor(gap*d.sec()/d.division+1e-6)*d.division)
			} else {
				short = true // nothing to fill
			}
		}
		for _, m := range r.Marks {
			add(d.from + mm(m.At) - face - d.wide)
			face = d.from + mm(m.At)
		}
		add(d.to - groove.ends[1] + d.wide/2 - face - d.wide)
		if short {
			continue
		}
		slices.Sort(got)
		slices.Sort(want)
		if len(got) != len(want) {
			say("%s: %v, want %v", groove.what, got, want)
		}
		for i := range got {
			same(groove.what, got[i], want[i])
		}
	}
}

// checkOpenings compares the worst openings, and looks whether fewer balusters would do, or those that were left out are needed.
func checkOpenings(d *drawn, r *layout.Run, say sayFunc) {
	const near = 0.1 // mm
	found := searches{}
	var list []stand
	for _, m := range r.Marks {
		list = append(list, stand{d.from + mm(m.At), mm(m.Riser), m.Tread})
	}
	if len(list) == 0 {
		return
	}
	lean := near + 1.5*math.Abs(d.lean) // the end openings may take it in
	w := d.openings(list, found)
	for _, o := range r.Openings {
		var want span
		more := near
		switch {
		case o.Part == "from":
			want, more = w.from, lean
		case o.Part == "to":
			want, more = w.to, lean
		case strings.Contains(o.Where, "landing"):
			want = w.landing
		default:
			want = w.between
		}
		if mm(o.Worst) < want[0]-near {
			say("opening %s is called %.3f, and a ball of %.3f goes through", o.Where, mm(o.Worst), want[0])
		}
		if o.Part == "from" && d.across(0) || o.Part == "to" && d.across(1) { // which surface such a post stands on is asked; until then the wider opening may be taken
			continue
		}
		if mm(o.Worst) > want[1]+more {
			say("opening %s is called %.3f, no ball over %.3f was found", o.Where, mm(o.Worst), want[1])
		}
		if o.Nominal > o.Worst {
			say("opening %s: %.3f by the marks, and %.3f at the worst", o.Where, mm(o.Nominal), mm(o.Worst))
		}
	}
	if name, bad := w.fails(near); bad && r.Chosen.Passes {
		say("passes, and %s", name)
	}
	if d.onTreads() {
		for m := 1; m < r.Chosen.PerTread && d.perTread == 0; m++ {
			if list := d.pattern(m); len(list) > 0 && d.openings(list, found).keeps(lean) {
				say("%d to the tread were taken, and %d pass: %+v", r.Chosen.PerTread, m, r.Candidates)
			}
		}
		return
	}
	for n := r.Least - 1; n >= 1 && (d.to-d.from+d.wide)/float64(n+1)-d.wide < 2*stairLimit; n-- {
		if d.openings(d.onShoe(n), found).keeps(lean) {
			say("%d is called the least, and %d pass", r.Least, n)
		}
	}
}
