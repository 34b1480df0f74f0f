package profile

import (
	"math"
	"slices"

	"balustrade/jobbook/length"
)

// Found is the largest sphere that passes between two faces.
type Found struct {
	// Opening is the diameter, certified: no larger sphere passes, and one smaller by a nanometre does, unless Steps
	// says that the search was cut short. It is 0 where the faces close the whole way, and length.Most where
	// they leave more than that or one of them has no material.
	Opening length.Length
	X, Z    float64 // the centre in mm: from the left reference line, and its height
	// Left and Right are the points of the two faces nearest to the centre; Out is measured from the left reference line
	// for both.
	Left, Right Point
	Steps       int // heights and radii tried; MostSteps or more when the search was cut short, and Opening then errs on the large side; only tests ask
}

// MostSteps bounds the search. Ten-station turnings take some tens of steps.
const MostSteps = 4096

const (
	// noise in mm is what float arithmetic may add to a diameter: metres in float64 carry 1e-12 mm, times a generous number of operations.
	noise = 1e-9
	// certain in mm is how much larger than the sphere found any other may be in radius: as a diameter, no more than noise.
	certain = noise / 2
	// even in mm is how near the two distances of a centre are brought to each other: a tenth of noise.
	even = 1e-10
	// tooFar in mm, a thousand kilometres: no face lies there, and its square is still exact enough.
	tooFar = 1e9
)

// Opening finds the largest sphere that passes between two faces whose reference lines stand apart, its centre at a
// height from low to high (shoe top and rail underside, either way round): in the plane through both axes, a sphere at
// (x, z) has for its radius the least distance to either face, and the opening is twice the greatest of these.
//
// A sphere of a given radius passes at a height where the furthest that a cell of the left keeps its centre off, and
// the furthest that one of the right does, leave room between them. How far a convex cell keeps a centre off is a
// concave function of the height. So two cells that leave no room at two heights leave none anywhere between: what is
// certified is a whole span by two cells at its two ends. The search goes up the heights with the radius of the largest
// sphere found so far, and a little; where such a one passes it takes the largest at that height instead. Spans that no
// two cells close are halved until they do.
//
// The opening is rounded up to the nanometre once 1e-9 mm of float noise is taken off, so that two plain squares give
// exactly the clear between them.
func Opening(left, right Face, apart length.Length, low, high length.Length) Found {
	var few struct { // memory that is not asked for: most searches need no more
		left, right [32]cell
		heights     [80]float64
		spans       [48]span
	}
	s := search{left: solidOf(left, few.left[:0]), right: solidOf(right, few.right[:0]), apart: apart.Float()}
	bottom, top := min(low, high).Float(), max(low, high).Float()
	middle := bottom + (top-bottom)/2
	if len(s.left.cells) == 0 || len(s.right.cells) == 0 {
		return Found{Opening: length.Most, X: s.apart / 2, Z: middle}
	}

	p, room := s.pair(middle, 0)
	s.raise(middle, 0, p, room) // first, so that among equals the sphere half way up is shown
	spans := few.spans[:0]
	var below float64
	var closed pair
	for i, z := range s.heights(bottom, middle, top, few.heights[:0]) {
		if i == 0 || !s.closes(closed, z) {
			p := s.look(z)
			if i > 0 && !s.closes(p, below) {
				spans = append(spans, span{below, z, closed, p})
			}
			closed = p
		}
		below = z
	}
	wide := 0.0 // the widest span left open
	for len(spans) > 0 {
		open := spans[len(spans)-1]
		spans = spans[:len(spans)-1]
		z := open.from + (open.to-open.from)/2
		if s.steps >= MostSteps || z <= open.from || z >= open.to {
			wide = max(wide, open.to-open.from)
			continue
		}
		p := s.look(z)
		if !s.closes(open.below, z) && !s.closes(p, open.from) {
			spans = append(spans, span{open.from, z, open.below, p})
		}
		if !s.closes(open.above, z) && !s.closes(p, open.to) {
			spans = append(spans, span{z, open.to, p, open.above})
		}
	}
	return s.found(s.over + wide/2) // a radius changes no faster than its height
}

// search is two solids apart, and the largest sphere found so far.
type search struct {
	left, right solid
	apart       float64
	z           float64 // the height of its centre
	over        float64 // a radius that none exceeds at any height looked at: its own, and half of certain
	steps       int     // heights and radii tried
}

// pair is one cell of each side.
type pair struct{ left, right int }

// span is the heights between two, each with a pair that closes it to a sphere as large as search.over.
type span struct {
	from, to     float64
	below, above pair
}

// pair finds the cells that keep a centre off furthest at a height, and the room they leave: over 0 where a sphere of
// that radius passes.
func (s *search) pair(z, r float64) (p pair, room float64) {
	s.steps++
	left, i := s.left.keeps(z, r)
	right, j := s.right.keeps(z, r)
	return pair{i, j}, s.apart - left - right
}

// closes reports that two cells leave no room at a height to a sphere larger than the largest found.
func (s *search) closes(p pair, z float64) bool {
	return s.apart-s.left.cells[p.left].keeps(z, s.over)-s.right.cells[p.right].keeps(z, s.over) <= 0
}

// rate is how fast the room shrinks as the sphere grows.
func (s *search) rate(p pair, z, r float64) float64 {
	return s.left.cells[p.left].rate(z, r) + s.right.cells[p.right].rate(z, r)
}

// look gives the pair that closes a height, after raising the sphere where a larger one passes.
func (s *search) look(z float64) pair {
	p, room := s.pair(z, s.over)
	if room > 0 {
		return s.raise(z, s.over, p, room)
	}
	return p
}

// raise makes the largest sphere at a height the largest found, and gives the pair that closes the height to one larger.
// One of radius r passes there, and the pair leaves it room.
//
// Newton's method finds a radius that lacks no more than twice certain of room, and aims at half of that: as the room
// shrinks by 2 or more for each 1 of radius, it is too large by certain at the most. Where another cell takes over, the
// room has a corner or a jump; a step out of what is known becomes a halving.
func (s *search) raise(z, r float64, p pair, room float64) pair {
	s.z = z
	passes, fails := r, math.Inf(1)
	for s.steps < MostSteps && fails-passes > even {
		if room > 0 {
			passes = max(passes, r)
		} else {
			fails = min(fails, r)
		}
		rate := s.rate(p, z, r)
		if room <= 0 && room > -2*certain {
			s.over = max(r, r+room/rate+certain/2)
			return p
		}
		r += (room + certain) / rate
		if !(passes < r && r < fails) {
			low, high := s.between(z)
			passes, fails = max(passes, low), min(fails, high)
			r = passes + (fails-passes)/2
		}
		p, room = s.pair(z, r)
	}
	_, high := s.between(z)
	s.over = min(fails, high) + certain/2
	p, _ = s.pair(z, s.over)
	return p
}

// between gives a radius that passes at a height, for it stays beyond one of the solids, and one that does not.
func (s *search) between(z float64) (passes, fails float64) {
	passes = max(s.left.off(z), s.right.off(z))
	return passes, passes + max(0, s.apart-s.left.least-s.right.least)/2 + certain
}

// centre is the place at height z where both faces are equally far, with the nearest cell of each.
type centre struct {
	x, z                      float64
	left, right               float64 // distances
	leftNearest, rightNearest int
}

// radius is of a sphere that certainly fits there.
func (c centre) radius() float64 { return min(c.left, c.right) }

// bound is what no sphere at that height exceeds.
func (c centre) bound() float64 { return max(c.left, c.right) }

// uneven is how far the two distances are from equal.
func (c centre) uneven() float64 { return c.bound() - c.radius() }

// heights are where the search begins: both limits, the middle, and every point of either face between.
func (s *search) heights(bottom, middle, top float64, z []float64) []float64 {
	z = append(z, bottom, middle, top)
	for _, side := range []*solid{&s.left, &s.right} {
		for _, c := range side.cells {
			for _, at := range []float64{c.low, c.high} {
				if bottom < at && at < top && at != z[len(z)-1] {
					z = append(z, at)
				}
			}
		}
	}
	slices.Sort(z)
	return slices.Compact(z)
}

// measure gives both distances at a point.
func (s *search) measure(x, z float64) centre {
	c := centre{x: x, z: z}
	c.left, c.leftNearest = s.left.distance(x, z)
	c.right, c.rightNearest = s.right.distance(s.apart-x, z)
	return c
}

// at finds the centre at a height: false position on the difference of the two distances, which never falls as x
// grows, halving the weight of an end that stays (the Illinois rule), and every fourth step a plain halving.
func (s *search) at(z float64) centre {
	least, most := s.brackets(z)
	if least >= most { // the faces meet here
		return s.measure(least+(most-least)/2, z)
	}
	a, b := s.measure(least, z), s.measure(most, z)
	below, above := a.left-a.right, b.left-b.right
	best := a
	if -below > above {
		best = b
	}
	side := 0.0          // which end moved last: negative the lower, positive the upper
	for i := range 200 { // 50 plain halvings among them, enough to bring 1 km below 1e-9 mm; false position takes a handful
		if best.uneven() <= even {
			break
		}
		x := a.x + (b.x-a.x)/2
		if share := below / (below - above); i%4 != 3 && share > 0 && share < 1 { // 3: the fourth, counted from 0
			x = a.x + float64((b.x-a.x)*share)
		}
		if x <= a.x || x >= b.x {
			break
		}
		c := s.measure(x, z)
		if c.uneven() < best.uneven() {
			best = c
		}
		if f := c.left - c.right; f < 0 {
			if side < 0 {
				above /= 2
			}
			a, below, side = c, f, -1
		} else {
			if side > 0 {
				below /= 2
			}
			b, above, side = c, f, 1
		}
	}
	return best
}

// brackets gives an x where the left is surely no farther than the right, and one where the right is no farther than
// the left. Where a face has material at the height that is the face itself. Elsewhere it is far enough behind both
// faces that only the height difference to the one is left, and the other is at least as far.
func (s *search) brackets(z float64) (least, most float64) {
	least, ok := s.left.reach(z)
	if !ok {
		over, _ := s.left.distance(s.left.least, z)
		least = min(s.left.least, s.apart-s.right.most) - over
	}
	reach, ok := s.right.reach(z)
	if !ok {
		over, _ := s.right.distance(s.right.least, z)
		reach = min(s.right.least, s.apart-s.left.most) - over
	}
	return least, s.apart - reach
}

// found brings the largest sphere, and the bound on all others, to the nanometre.
func (s *search) found(bound float64) Found {
	if bound <= certain { // nothing but noise
		return Found{Steps: s.steps}
	}
	best := s.at(s.z)
	f := Found{Opening: length.Most, X: best.x, Z: best.z, Steps: s.steps}
	if nm := math.Ceil((2*bound - noise) * float64(length.Millimetre)); nm < float64(length.Most) {
		f.Opening = length.Length(nm)
	}
	f.Left = s.left.cells[best.leftNearest].nearest(best.x, best.z)
	f.Right = s.right.cells[best.rightNearest].nearest(s.apart-best.x, best.z)
	f.Right.Out = s.apart - f.Right.Out
	return f
}
