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
	Steps       int // heights tried; MostSteps or more when the search was cut short, and Opening then errs on the large side
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
// At one height the distance to the left never falls as x grows and the distance to the right never rises, so the
// largest sphere there is where they are equal. For every other centre at that height the smaller of its two distances
// is no more than the larger of the two here; that holds for any point taken for the equal one, which makes it a bound
// needing no luck. Between two heights the point goes straight from one equal place to the other, and the distance to a
// convex cell along a straight line is greatest at one of its ends. So the two ends bound the whole span, exactly as
// long as the same two cells stay nearest. The span with the largest bound is halved until no bound exceeds the largest
// sphere found by more than float noise.
//
// The opening is rounded up to the nanometre once 1e-9 mm of float noise is taken off, so that two plain squares give
// exactly the clear between them.
func Opening(left, right Face, apart length.Length, low, high length.Length) Found {
	s := search{left: solidOf(left), right: solidOf(right), apart: apart.Float()}
	bottom, top := min(low, high).Float(), max(low, high).Float()
	middle := bottom + (top-bottom)/2
	if len(s.left.cells) == 0 || len(s.right.cells) == 0 {
		return Found{Opening: length.Most, X: s.apart / 2, Z: middle}
	}

	best := s.at(middle) // first, so that among equals the sphere half way up is shown
	keep := func(c centre) {
		if c.radius() > best.radius()+certain/2 { // more than uneven centres differ by, less than would keep the search going
			best = c
		}
	}
	var few [48]span // most searches need no more: memory that is not asked for
	spans := few[:0]
	var below centre
	for i, z := range s.heights(bottom, middle, top) {
		c := s.at(z)
		keep(c)
		if i > 0 {
			spans = append(spans, s.span(below, c))
		}
		below = c
	}
	bound := best.bound()
	for len(spans) > 0 {
		k := widest(spans)
		wide := spans[k]
		z := wide.from.z + (wide.to.z-wide.from.z)/2
		if wide.bound <= best.radius()+certain || s.steps >= MostSteps || z <= wide.from.z || z >= wide.to.z {
			bound = max(bound, wide.bound)
			break
		}
		c := s.at(z)
		keep(c)
		spans[k] = s.span(wide.from, c)
		spans = append(spans, s.span(c, wide.to))
	}
	return s.found(best, bound)
}

// search is two solids apart, and how many heights have been tried.
type search struct {
	left, right solid
	apart       float64
	steps       int
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

// span is the heights between two centres, and a radius that no sphere between them exceeds.
type span struct {
	from, to centre
	bound    float64
}

// widest is the span with the largest bound, the first of equals.
func widest(spans []span) int {
	k := 0
	for i := range spans {
		if spans[i].bound > spans[k].bound {
			k = i
		}
	}
	return k
}

// heights are where the search begins: both limits, the middle, and every point of either face between.
func (s *search) heights(bottom, middle, top float64) []float64 {
	z := []float64{bottom, middle, top}
	for _, side := range []*solid{&s.left, &s.right} {
		for _, c := range side.cells {
			for _, at := range []float64{c.low, c.high} {
				if bottom < at && at < top {
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
	s.steps++
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

// span bounds the spheres between two centres in two ways and takes the smaller. By the cells: along the straight line
// between the centres, the distance to one cell is greatest at an end; of each side's two nearest cells the better.
// By the heights: a radius changes no faster than its height.
func (s *search) span(from, to centre) span {
	l, r := s.left.cells, s.right.cells
	left := min(
		max(from.left, l[from.leftNearest].distance(to.x, to.z)),
		max(to.left, l[to.leftNearest].distance(from.x, from.z)))
	right := min(
		max(from.right, r[from.rightNearest].distance(s.apart-to.x, to.z)),
		max(to.right, r[to.rightNearest].distance(s.apart-from.x, from.z)))
	slope := (from.bound() + to.bound() + to.z - from.z) / 2
	return span{from, to, min(max(left, right), max(slope, from.bound(), to.bound()))}
}

// found brings the largest sphere, and the bound on all others, to the nanometre.
func (s *search) found(best centre, bound float64) Found {
	if bound <= certain { // nothing but noise
		return Found{Steps: s.steps}
	}
	f := Found{Opening: length.Most, X: best.x, Z: best.z, Steps: s.steps}
	if nm := math.Ceil((2*bound - noise) * float64(length.Millimetre)); nm < float64(length.Most) {
		f.Opening = length.Length(nm)
	}
	f.Left = s.left.cells[best.leftNearest].nearest(best.x, best.z)
	f.Right = s.right.cells[best.rightNearest].nearest(s.apart-best.x, best.z)
	f.Right.Out = s.apart - f.Right.Out
	return f
}
