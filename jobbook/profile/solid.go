package profile

import "math"

// solid is the material behind one face: a stack of cells.
type solid struct {
	cells       []cell
	least, most float64 // of all points, how far they stand out
}

// cell is the material behind one straight part of a face: everything from low to high that is no further out than the
// edge between (lowOut, low) and (highOut, high). It is convex, and its distance therefore is too; the search rests on that.
type cell struct {
	low, high       float64
	lowOut, highOut float64
	slope           float64 // of the edge, out per height
	across          float64 // cosine of the edge's lean: from a horizontal distance to a square one
	square          float64 // the edge's length, squared
}

// solidOf makes the cells of a face. Parts that are not finite numbers are left out.
func solidOf(f Face) solid {
	s := solid{cells: make([]cell, 0, len(f.Points)), least: math.Inf(1), most: math.Inf(-1)}
	for i, b := range f.Points {
		a := b // a face of one point is a single edge
		if i > 0 {
			a = f.Points[i-1]
		} else if len(f.Points) > 1 {
			continue
		}
		if a.Z > b.Z {
			a, b = b, a
		}
		if size := math.Abs(a.Z) + math.Abs(b.Z) + math.Abs(a.Out) + math.Abs(b.Out); !(size < tooFar) {
			continue
		}
		c := cell{low: a.Z, high: b.Z, lowOut: a.Out, highOut: b.Out}
		if rise := b.Z - a.Z; rise > 0 {
			long := hypot(b.Out-a.Out, rise)
			c.slope, c.across, c.square = (b.Out-a.Out)/rise, rise/long, float64(long*long)
		} else {
			c.lowOut = max(a.Out, b.Out)
			c.highOut = c.lowOut
		}
		s.cells = append(s.cells, c)
		s.least = min(s.least, a.Out, b.Out)
		s.most = max(s.most, a.Out, b.Out)
	}
	return s
}

// edge is how far out the cell's edge stands at a height within the cell.
func (c *cell) edge(z float64) float64 {
	return c.lowOut + float64((z-c.low)*c.slope)
}

// distance is from a point to the cell, 0 inside it.
func (c *cell) distance(x, z float64) float64 {
	switch {
	case z < c.low && x <= c.lowOut:
		return c.low - z
	case z > c.high && x <= c.highOut:
		return z - c.high
	case c.low <= z && z <= c.high && x <= c.edge(z):
		return 0
	}
	switch along := c.along(x, z); {
	case !(along > 0):
		return hypot(x-c.lowOut, z-c.low)
	case along >= c.square:
		return hypot(x-c.highOut, z-c.high)
	}
	return float64((x - c.edge(z)) * c.across)
}

// along is where the foot of the perpendicular on the edge lies: 0 at its low end, c.square at its high end.
func (c *cell) along(x, z float64) float64 {
	return float64((x-c.lowOut)*(c.highOut-c.lowOut)) + float64((z-c.low)*(c.high-c.low))
}

// nearest is the point of the cell nearest to one outside it.
func (c *cell) nearest(x, z float64) Point {
	switch {
	case z < c.low && x <= c.lowOut:
		return Point{x, c.low}
	case z > c.high && x <= c.highOut:
		return Point{x, c.high}
	case c.low <= z && z <= c.high && x <= c.edge(z):
		return Point{x, z}
	}
	switch along := c.along(x, z); {
	case !(along > 0):
		return Point{c.lowOut, c.low}
	case along >= c.square:
		return Point{c.highOut, c.high}
	default:
		t := along / c.square
		return Point{c.lowOut + float64(t*(c.highOut-c.lowOut)), c.low + float64(t*(c.high-c.low))}
	}
}

// distance is from a point to the solid, and which cell is nearest: the first of those equally near.
func (s *solid) distance(x, z float64) (d float64, nearest int) {
	d = math.Inf(1)
	for i := range s.cells {
		c := &s.cells[i]
		if c.low-z >= d || z-c.high >= d {
			continue
		}
		if e := c.distance(x, z); e < d {
			d, nearest = e, i
		}
	}
	return d, nearest
}

// reach is how far out the solid stands at a height, if it has material there.
func (s *solid) reach(z float64) (out float64, ok bool) {
	out = math.Inf(-1)
	for i := range s.cells {
		if c := &s.cells[i]; c.low <= z && z <= c.high {
			out, ok = max(out, c.edge(z)), true
		}
	}
	return out, ok
}
