// Package profile holds a turned or square section up its length: its widths, its coated surface, its outline as a face
// beside an opening, and the largest sphere that passes between two faces.
//
// Widths and heights are exact lengths. Millimetres as floats appear where a slant or a sphere needs a square root, and
// the opening is brought back to a whole number of nanometres at the end.
package profile

import (
	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
)

// Station is the width at one height. Two stations at one height are a step; between two heights the section runs
// straight from one to the other.
type Station struct {
	At    length.Length // height above the bottom as bought
	Width length.Length // diameter of a turning, or width across the flats of a square
	Round bool          // a turning; otherwise a square
}

// Profile is a section up its length, from the bottom as bought to the top. The zero value has no length.
type Profile struct {
	Stations []Station // heights ascending, the first at 0, the last at the length as bought
}

// Square is a plain square of one width.
func Square(width, long length.Length) Profile {
	return Profile{[]Station{{At: 0, Width: width}, {At: long, Width: width}}}
}

// Check finds the first station that can't stand as written and says what is allowed, lower case and without a full
// stop. The index is -1 when the profile is in order, and 0 when there are fewer than two stations, so that it may
// point past an empty list.
func (p Profile) Check() (index int, why string) {
	s := p.Stations
	if len(s) < 2 {
		return 0, "a profile needs two stations or more: the first at 0, the last at the length as bought"
	}
	for i, at := range s {
		switch {
		case at.Width <= 0:
			return i, "the width of a station must be more than 0"
		case i == 0 && at.At != 0:
			return i, "the first station must be at 0, the bottom as bought"
		case i > 0 && at.At < s[i-1].At:
			return i, "stations must go upwards from the bottom, none lower than the one before it"
		case i > 1 && at.At == s[i-2].At:
			return i, "at most two stations may share one height, which makes a step"
		}
	}
	if p.Long() <= 0 {
		return len(s) - 1, "the last station must be above 0, at the length as bought"
	}
	return -1, ""
}

// Long is the length as bought: the height of the last station, 0 when there is none.
func (p Profile) Long() length.Length {
	if len(p.Stations) == 0 {
		return 0
	}
	return p.Stations[len(p.Stations)-1].At
}

// Between is the section at height z on the straight part from a up to b, rounded to the nearest nanometre.
// a stands below b, and z is not outside them.
func Between(a, b Station, z length.Length) Station {
	switch z {
	case a.At:
		return a
	case b.At:
		return b
	}
	s := Station{At: z, Round: a.Round && b.Round}
	if more, up, long := int64(b.Width-a.Width), int64(z-a.At), int64(b.At-a.At); -small < more && more < small && long < small {
		s.Width = a.Width + length.Length(floorDiv(2*more*up+long, 2*long)) // no width is under 0, so that halves go up
		return s
	}
	width := exact.New(int64(z-a.At), int64(b.At-a.At)).Mul(exact.Of(int64(b.Width - a.Width))).Add(exact.Of(int64(a.Width)))
	s.Width = length.Rounded(width, length.Nanometre, length.Nearest)
	return s
}

// small in nm, a metre: twice a product of two such lengths, and another, is a 64-bit number.
const small = 1_000_000_000

// floorDiv is a quotient rounded down; b is over 0.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// WidthAt gives the width just below and just above a height; they differ only at a step. At either end both are the
// width of that end, and outside the profile both are 0.
func (p Profile) WidthAt(z length.Length) (below, above length.Length) {
	for i := 1; i < len(p.Stations); i++ {
		a, b := &p.Stations[i-1], &p.Stations[i]
		if z < a.At || b.At < z {
			continue
		}
		width := Between(*a, *b, z).Width
		if a.At < z {
			below = width
		}
		if z < b.At {
			above = width
		}
	}
	if below == 0 {
		below = above
	}
	if above == 0 {
		above = below
	}
	return below, above
}

// Widest is the greatest width of the part from one height to another. At a step exactly on either bound only the
// side within the part counts; when both heights are the same, both sides do. 0 when no part of the profile is there.
func (p Profile) Widest(from, to length.Length) length.Length {
	_, most := p.extremes(from, to)
	return most
}

// Narrowest is the least width of the part from one height to another, with the bounds as for Widest.
func (p Profile) Narrowest(from, to length.Length) length.Length {
	least, _ := p.extremes(from, to)
	return least
}

func (p Profile) extremes(from, to length.Length) (least, most length.Length) {
	if from == to {
		below, above := p.WidthAt(from)
		return min(below, above), max(below, above)
	}
	for i, s := range p.part(from, to).Stations {
		if i == 0 {
			least, most = s.Width, s.Width
		}
		least, most = min(least, s.Width), max(most, s.Width)
	}
	return least, most
}

// Cut is what is left when the piece is shortened at the bottom and at the top, with heights from 0 again. A negative
// cut is none. When nothing is left the profile has no stations.
func (p Profile) Cut(fromBottom, fromTop length.Length) Profile {
	from, to := max(fromBottom, 0), p.Long()-max(fromTop, 0)
	if from >= to {
		return Profile{}
	}
	return p.part(from, to)
}

// part is the profile from one height to another, either way round, with heights from 0 again.
func (p Profile) part(from, to length.Length) Profile {
	if from > to {
		from, to = to, from
	}
	from, to = max(from, 0), min(to, p.Long())
	list := make([]Station, 0, len(p.Stations)+1)
	for i := 1; i < len(p.Stations); i++ {
		a, b := &p.Stations[i-1], &p.Stations[i]
		low, high := max(a.At, from), min(b.At, to)
		if low >= high {
			continue
		}
		s := Between(*a, *b, low)
		s.At -= from
		if n := len(list); n == 0 || list[n-1] != s {
			list = append(list, s)
		}
		s = Between(*a, *b, high)
		s.At -= from
		list = append(list, s)
	}
	return Profile{list}
}

// Plain reports that the section at a height is of one width, square or round, for some way below and above it: a cut there meets no turning.
func (p Profile) Plain(z length.Length) bool {
	for i, s := range p.Stations[:max(len(p.Stations)-1, 0)] {
		next := p.Stations[i+1]
		if s.At < z && z < next.At {
			return s.Round == next.Round && s.Width == next.Width
		}
	}
	return false
}

// EndBlocks gives the length of one section at each end, square or round, 0 where the end tapers: what may be trimmed before
// a cut runs into the turning. A plain stick is one block, and both are its whole length.
func (p Profile) EndBlocks() (bottom, top length.Length) {
	s, n := p.Stations, len(p.Stations)
	if n == 0 {
		return 0, 0
	}
	for i := 0; i < n && s[i].Round == s[0].Round && s[i].Width == s[0].Width; i++ {
		bottom = s[i].At - s[0].At
	}
	for i := n - 1; i >= 0 && s[i].Round == s[n-1].Round && s[i].Width == s[n-1].Width; i-- {
		top = s[n-1].At - s[i].At
	}
	return bottom, top
}
