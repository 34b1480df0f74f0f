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
	most            float64 // of both ends of the edge
	slope           float64 // of the edge, out per height
	across          float64 // cosine of the edge's lean: from a horizontal distance to a square one
	square          float64 // the edge's length, squared
	sine            float64 // of its lean: how far under the centre of a sphere of radius 1 it is touched, upwards being more than 0
}

// solidOf makes the cells of a face. Parts that are not finite numbers are left out.
func solidOf(f Face, cells []cell) solid {
	s := solid{cells: cells, least: math.Inf(1), most: math.Inf(-1)}
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
			long := Hypot(b.Out-a.Out, rise)
			c.slope, c.across, c.square, c.sine = (b.Out-a.Out)/rise, rise/long, float64(long*long), (b.Out-a.Out)/long
		} else {
			c.lowOut = max(a.Out, b.Out)
			c.highOut = c.lowOut
		}
		c.most = max(c.lowOut, c.highOut)
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
		return Hypot(x-c.lowOut, z-c.low)
	case along >= c.square:
		return Hypot(x-c.highOut, z-c.high)
	}
	return float64((x - c.edge(z)) * c.across)
}

// along is where the foot of the perpendicular on the edge lies: 0 at its low end, c.square at its high end.
func (c *cell) along(x, z float64) float64 {
	return float64((x-c.lowOut)*(c.highOut-c.lowOut)) + float64((z-c.low)*(c.high-c.low))
}

// keeps is how far out the centre of a sphere of radius r has to be at a height to clear the cell, minus infinity where it clears it
// anywhere: a concave function of the height.
func (c *cell) keeps(z, r float64) float64 {
	if z <= c.low-r || z >= c.high+r {
		return math.Inf(-1)
	}
	switch touched := z + float64(r*c.sine); { // where the edge is touched, were it longer
	case touched <= c.low:
		return c.lowOut + leg(r, z-c.low)
	case touched >= c.high:
		return c.highOut + leg(r, z-c.high)
	}
	return c.edge(z) + r/c.across
}

// rate is how fast keeps grows with the radius: 1 or more.
func (c *cell) rate(z, r float64) float64 {
	switch touched := z + float64(r*c.sine); {
	case touched <= c.low:
		return r / leg(r, z-c.low)
	case touched >= c.high:
		return r / leg(r, z-c.high)
	}
	return 1 / c.across
}

// leg is the other leg of a right triangle, 0 where the long side is no longer than the one leg.
func leg(long, leg float64) float64 { return math.Sqrt(max(0, float64(long*long)-float64(leg*leg))) }

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

// keeps is the furthest that a cell keeps the centre of a sphere off, and which one: the first of equals.
func (s *solid) keeps(z, r float64) (out float64, furthest int) {
	out = math.Inf(-1)
	for i := range s.cells {
		c := &s.cells[i]
		if z <= c.low-r || z >= c.high+r || c.most+r <= out {
			continue
		}
		if o := c.keeps(z, r); o > out {
			out, furthest = o, i
		}
	}
	return out, furthest
}

// off is how far a height is from any that the solid has material at.
func (s *solid) off(z float64) float64 {
	off := math.Inf(1)
	for i := range s.cells {
		c := &s.cells[i]
		off = min(off, max(0, c.low-z, z-c.high))
	}
	return off
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
