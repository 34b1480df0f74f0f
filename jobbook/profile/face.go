package profile

import "balustrade/jobbook/length"

// Point is a place on a face, in mm: how far it stands out from the face's reference line towards the opening
// (negative when it lies behind the line), and its height.
type Point struct{ Out, Z float64 }

// Face is one side of an opening, seen square to the guard: solid from the outline back without end, over the heights
// of its points and nowhere else. Two points at one height are a horizontal shoulder.
type Face struct {
	Points []Point // heights ascending
}

// Face is the outline of a baluster or post towards either side: half its width, and out, at each station. With out 0
// the reference line is the axis; with out the negative of half the foot's width it is the foot's face.
func (p Profile) Face(out length.Length) Face {
	f := Face{make([]Point, len(p.Stations))}
	for i, s := range p.Stations {
		f.Points[i] = Point{Out: s.Width.Float()/2 + out.Float(), Z: s.At.Float()}
	}
	return f
}

// Wall is a face from its points upwards. A wall with a baseboard 15 thick and 120 high, in a room of 2400, measured
// from the wall itself, is {15 0} {15 120} {0 120} {0 2400}.
func Wall(points ...Point) Face {
	return Face{append([]Point(nil), points...)}
}

// Lift is the face raised by dz mm.
func (f Face) Lift(dz float64) Face {
	g := Face{make([]Point, len(f.Points))}
	for i, p := range f.Points {
		g.Points[i] = Point{p.Out, p.Z + dz}
	}
	return g
}

// Lean is the face moved towards the opening by the amount read at its height (away from it where negative): straight
// between the readings, and as at the nearest one above and below them. Readings are in order of height, each height
// once. Two readings are a wall out of plumb, one moves the whole face, none leaves it.
func (f Face) Lean(readings ...Point) Face {
	var g Face
	add := func(p Point) { g.Points = append(g.Points, Point{p.Out + lean(readings, p.Z), p.Z}) }
	for i, p := range f.Points {
		if i > 0 {
			for _, r := range readings {
				if before := f.Points[i-1]; before.Z < r.Z && r.Z < p.Z {
					add(Point{straight(before, p, r.Z), r.Z})
				}
			}
		}
		add(p)
	}
	return g
}

// lean is the amount read at height z.
func lean(readings []Point, z float64) float64 {
	for i, r := range readings {
		if z > r.Z {
			continue
		}
		if i == 0 {
			return r.Out
		}
		return straight(readings[i-1], r, z)
	}
	if n := len(readings); n > 0 {
		return readings[n-1].Out
	}
	return 0
}

// straight is how far the line from a to b stands out at height z.
func straight(a, b Point, z float64) float64 {
	if z <= a.Z || a.Z >= b.Z {
		return a.Out
	}
	if z >= b.Z {
		return b.Out
	}
	return a.Out + float64((b.Out-a.Out)*((z-a.Z)/(b.Z-a.Z)))
}
