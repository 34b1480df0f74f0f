package profile

import (
	"math"
	"math/rand/v2"
	"testing"

	"balustrade/jobbook/length"
)

// slowOpening finds the largest sphere with distances alone: at a height the place that is as far from either face, and between two
// heights a bound from the distances at both, for the distance to a convex cell along a straight line is greatest at an end. The span
// with the largest bound is halved until none exceeds the largest sphere found.
func slowOpening(left, right Face, apart length.Length, low, high length.Length) (best centre, bound float64) {
	s := search{left: solidOf(left, nil), right: solidOf(right, nil), apart: apart.Float()}
	bottom, top := min(low, high).Float(), max(low, high).Float()
	middle := bottom + (top-bottom)/2
	best = s.at(middle) // first, so that among equals the sphere half way up is shown
	keep := func(c centre) {
		if c.radius() > best.radius()+certain/2 { // more than uneven centres differ by, less than would keep the search going
			best = c
		}
	}
	var spans []slowSpan
	var below centre
	for i, z := range s.heights(bottom, middle, top, nil) {
		c := s.at(z)
		keep(c)
		if i > 0 {
			spans = append(spans, slowly(&s, below, c))
		}
		below = c
	}
	bound = best.bound()
	for len(spans) > 0 {
		k := widestOf(spans)
		wide := spans[k]
		z := wide.from.z + (wide.to.z-wide.from.z)/2
		if wide.bound <= best.radius()+certain || z <= wide.from.z || z >= wide.to.z {
			bound = max(bound, wide.bound)
			break
		}
		c := s.at(z)
		keep(c)
		spans[k] = slowly(&s, wide.from, c)
		spans = append(spans, slowly(&s, c, wide.to))
	}
	return best, bound
}

// slowSpan is the heights between two centres, and a radius that no sphere between them exceeds.
type slowSpan struct {
	from, to centre
	bound    float64
}

// widestOf is the span with the largest bound, the first of equals.
func widestOf(spans []slowSpan) int {
	k := 0
	for i := range spans {
		if spans[i].bound > spans[k].bound {
			k = i
		}
	}
	return k
}

// slowly bounds the spheres between two centres in two ways and takes the smaller. By the cells: along the straight line
// between the centres, the distance to one cell is greatest at an end; of each side's two nearest cells the better.
// By the heights: a radius changes no faster than its height.
func slowly(s *search, from, to centre) slowSpan {
	l, r := s.left.cells, s.right.cells
	left := min(
		max(from.left, l[from.leftNearest].distance(to.x, to.z)),
		max(to.left, l[to.leftNearest].distance(from.x, from.z)))
	right := min(
		max(from.right, r[from.rightNearest].distance(s.apart-to.x, to.z)),
		max(to.right, r[to.rightNearest].distance(s.apart-from.x, from.z)))
	slope := (from.bound() + to.bound() + to.z - from.z) / 2
	return slowSpan{from, to, min(max(left, right), max(slope, from.bound(), to.bound()))}
}

// TestOpeningAgainstDistances holds the search by what two cells leave free against the one by distances, for balusters, posts and walls as a shop
// has them: the opening is the same to the nanometre that it is rounded up to, and the sphere that is shown is as large.
func TestOpeningAgainstDistances(t *testing.T) {
	chance := rand.New(rand.NewPCG(8, 8))
	for range 4000 {
		left, right, apart, low, high := shopOpening(chance)
		got := Opening(left, right, apart, low, high)
		best, bound := slowOpening(left, right, apart, low, high)
		want := length.Length(max(0, math.Ceil((2*bound-noise)*float64(length.Millimetre))))
		if got.Steps >= MostSteps {
			t.Fatal("cut short")
		}
		if d := got.Opening - want; d < -1 || d > 1 {
			t.Fatalf("%v and %v, %v apart, from %v to %v: got %d, want %d nm", left, right, apart, low, high, got.Opening, want)
		}
		s := search{left: solidOf(left, nil), right: solidOf(right, nil), apart: apart.Float()}
		if d := s.at(got.Z).radius() - best.radius(); got.Opening > 0 && math.Abs(d) > certain {
			t.Fatalf("%v and %v, %v apart, from %v to %v: shown at %v, where the largest is %v mm larger than at %v", left, right, apart, low, high, got.Z, 2*d, best.z)
		}
	}
}

// shopOpening is a place of a job: turnings, squares or walls, plumb or leaning, level or one above the other, on whole sixteenths or not.
func shopOpening(chance *rand.Rand) (left, right Face, apart, low, high length.Length) {
	sixteenth := length.Inch / 16
	between := func(low, high int64) length.Length {
		if chance.IntN(3) == 0 {
			return length.Length(low*int64(sixteenth) + chance.Int64N((high-low)*int64(sixteenth)))
		}
		return length.Length(low+chance.Int64N(high-low+1)) * sixteenth
	}
	face := func() Face {
		var f Face
		switch long := length.Length(42*16) * sixteenth; chance.IntN(5) {
		case 0:
			f = Square(between(10, 60), long).Face(0)
		case 1:
			thick, tall := between(4, 24).Float(), between(30, 100).Float()
			f = Wall(Point{thick, 0}, Point{thick, tall}, Point{0, tall}, Point{0, long.Float()})
		default:
			var p Profile
			for at := length.Length(0); at <= long; at += between(0, 120) {
				if n := len(p.Stations); n > 1 && p.Stations[n-2].At == at {
					continue
				}
				p.Stations = append(p.Stations, Station{At: at, Width: between(8, 40)})
			}
			f = p.Face(0)
		}
		if chance.IntN(3) == 0 {
			f = f.Lift(between(-160, 160).Float())
		}
		if chance.IntN(3) == 0 {
			f = f.Lean(Point{between(-16, 16).Float(), 0}, Point{between(-16, 16).Float(), between(200, 600).Float()})
		}
		return f
	}
	low = between(0, 160)
	return face(), face(), between(30, 130), low, low + between(0, 560)
}
