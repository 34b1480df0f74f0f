package profile

import (
	"math"

	"balustrade/jobbook/length"
)

// Area is the surface to be coated between two heights, in mm², without the two end faces: the sides of squares
// (4·b·len when straight, along the slant when tapering), the sides of turnings (2πr·√(1 + r′²) over the height, which on a
// straight part is a frustum of a cone), and the shoulders at steps strictly between the heights.
//
// A shoulder is the difference of the two sections, which is exact when the smaller lies within the larger, as it does
// in anything turned from the square itself.
func (p Profile) Area(from, to length.Length) float64 {
	s := p.part(from, to).Stations
	sum := 0.0
	for i := 1; i < len(s); i++ {
		if s[i].At == s[i-1].At {
			sum += math.Abs(section(s[i]) - section(s[i-1]))
		} else {
			sum += side(s[i-1], s[i])
		}
	}
	return sum
}

// section is the area of a cross-section in mm².
func section(s Station) float64 {
	w := s.Width.Float()
	if s.Round {
		return float64(math.Pi*w) * w / 4 // πd²/4
	}
	return float64(w * w)
}

// side is the surface between two heights in mm²: girth half way up times the slant. A part that goes over from square to round has
// half of each girth.
func side(a, b Station) float64 {
	slant := Hypot((b.Width-a.Width).Float()/2, (b.At - a.At).Float())
	return float64((girth(a) + girth(b)) / 2 * slant)
}

// girth is the length round a section in mm.
func girth(s Station) float64 {
	if s.Round {
		return float64(math.Pi * s.Width.Float())
	}
	return float64(4 * s.Width.Float()) // a square has 4 sides
}

// Hypot is √(a² + b²) from operations that every machine rounds alike; math.Hypot has no such promise.
func Hypot(a, b float64) float64 { return math.Sqrt(float64(a*a) + float64(b*b)) }
