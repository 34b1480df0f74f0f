// Package wood is what handbooks and standards say of wood: the moisture that it comes to in the air of a room, how much its width moves
// with that, what a screw holds in it, the lead holes that lag screws and wood screws want, and the bits and drivers that are made for
// them. What is published and what is common practice is said of every value; a wood without a published value gets none.
package wood

import (
	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// bit is the step that drill bits are sold in, in inches: sixty-fourths (common practice).
const bit = length.Inch / 64

// G is a specific gravity as assigned for fastenings, in thousandths: 0.68 is 680. 0 where there is none.
type G int64

// The limits between which the published rules change.
const (
	dense  G = 600 // over it
	middle G = 500 // over it, up to dense
)

// Hole is a bore, with what stands behind it.
type Hole struct {
	Bit  length.Length // a real bit
	From length.Length // the band, or the figure, that the bit was chosen by; From is 0 where there is only a figure
	To   length.Length
	Cite working.Citation
	Note string
}

// NDS are the rules for lead holes.
var (
	lagRule   = working.Citation{Text: "NDS 12.1.4.2, lead holes of lag screws", Status: working.Memory}
	screwRule = working.Citation{Text: "NDS 12.1.5, lead holes of wood screws in withdrawal", Status: working.Memory}
	chart     = working.Citation{Text: "workshop charts for pilot holes", Status: working.CommonPractice}
	shankRule = working.Citation{Text: "NDS 12.1.4.2, the hole for a lag screw's shank", Status: working.Memory}
	clearance = working.Citation{Text: "the shank turns freely in what it passes", Status: working.CommonPractice}
)

// LagLead is the lead hole for the threaded part of a lag screw of a diameter, in a wood of specific gravity g: 65 to 85 % of it over 0.6, 60 to 75 % over 0.5 and up to 0.6,
// 40 to 70 % up to 0.5 (NDS 12.1.4.2; memory, high). The bit is the one nearest the middle of the band. False where g is not known, or no bit lies in the band.
func LagLead(diameter length.Length, g G) (Hole, bool) {
	if g <= 0 || diameter <= 0 {
		return Hole{}, false
	}
	low, high := int64(40), int64(70)
	switch {
	case g > dense:
		low, high = 65, 85
	case g > middle:
		low, high = 60, 75
	}
	h := Hole{From: share(diameter, low), To: share(diameter, high), Cite: lagRule}
	h.Bit = ((h.From + h.To) / 2).Round(bit, length.Nearest)
	if h.Bit < h.From {
		h.Bit += bit
	}
	if h.Bit > h.To {
		h.Bit -= bit
	}
	return h, h.Bit >= h.From && h.Bit <= h.To
}

// share is so many per cent of a length.
func share(l length.Length, percent int64) length.Length {
	return length.Rounded(exact.New(int64(l)*percent, 100), length.Nanometre, length.Nearest)
}

// Gauge is a wood screw's number and its sizes.
type Gauge struct {
	N          int
	Shank      length.Length // 0.060 + 0.013 N in (published)
	Root       length.Length // 0 where it is not known
	RootStatus working.Status
	Cross      int           // point of a cross-recess driver; common practice
	Square     int           // of a square-recess one; common practice
	Soft, Hard length.Length // pilot by workshop charts; common practice
}

const thousandth = length.Inch / 1000

// gauges are wood screws: root diameters by NDS 2018, Appendix L3, of which those of 8 and 10 were read and the others are from memory; drivers and pilots are common
// practice.
var gauges = []Gauge{
	{4, 112 * thousandth, 0, 0, 1, 0, 4 * bit, 5 * bit},
	{6, 138 * thousandth, 113 * thousandth, working.Memory, 2, 1, 5 * bit, 6 * bit},
	{7, 151 * thousandth, 122 * thousandth, working.Memory, 2, 1, 6 * bit, 7 * bit},
	{8, 164 * thousandth, 131 * thousandth, working.Published, 2, 2, 6 * bit, 7 * bit},
	{9, 177 * thousandth, 142 * thousandth, working.Memory, 2, 2, 7 * bit, 8 * bit},
	{10, 190 * thousandth, 152 * thousandth, working.Published, 3, 2, 7 * bit, 8 * bit},
	{12, 216 * thousandth, 171 * thousandth, working.Memory, 3, 3, 9 * bit, 10 * bit},
	{14, 242 * thousandth, 196 * thousandth, working.Memory, 3, 3, 10 * bit, 12 * bit},
}

// Screw finds a wood screw by its number.
func Screw(n int) (Gauge, bool) {
	for _, g := range gauges {
		if g.N == n {
			return g, true
		}
	}
	return Gauge{}, false
}

// Pilot is the lead hole for a wood screw that is drawn out: about 90 % of the root over 0.6, about 70 % over 0.5 and up to 0.6 (NDS 12.1.5; memory); the bit is the nearest
// one under it. Up to 0.5 none is called for, and near an end one is drilled all the same; for a wood that has no published value the charts alone are there.
func (s Gauge) Pilot(g G, hard bool) Hole {
	byChart := Hole{Bit: s.Soft, To: s.Soft, Cite: chart}
	if hard {
		byChart.Bit, byChart.To = s.Hard, s.Hard
	}
	percent := int64(0)
	switch {
	case g > dense:
		percent = 90
	case g > middle:
		percent = 70
	case g > 0:
		byChart.Note = "none is called for in a wood as light as this; near an end it keeps the wood from splitting"
		return byChart
	default:
		byChart.Note = "there is no published value for this wood: try it in an offcut"
		return byChart
	}
	if s.Root == 0 {
		byChart.Note = "the root of this screw is not known: try it in an offcut"
		return byChart
	}
	h := Hole{To: share(s.Root, percent), Cite: screwRule}
	h.Bit = h.To.Round(bit, length.Down)
	if h.Bit == h.To { // under it, not on it
		h.Bit -= bit
	}
	h.Note = "workshop charts say " + length.Style{System: length.Inches, Division: bit, Rounding: length.Nearest}.With(byChart.Bit)
	if s.RootStatus == working.Memory {
		h.Note += "; the root of this screw is from memory"
	}
	return h
}

// Charts says what workshop charts have for a wood that nobody has named yet.
func (s Gauge) Charts() string {
	style := length.Style{System: length.Inches, Division: bit, Rounding: length.Nearest}
	return "workshop charts say " + style.With(s.Soft) + " for softwood, " + style.With(s.Hard) + " for hardwood: try it in an offcut"
}

// Shank is the hole for the part of a lag screw that has no thread, where it goes on into what the thread holds in: as wide as the shank, and as deep as that part goes (NDS 12.1.4.2;
// memory).
func Shank(diameter length.Length) Hole {
	return Hole{Bit: diameter.Round(bit, length.Up), To: diameter, Cite: shankRule}
}

// Clearance is the bore through what a shank of a diameter passes: the nearest bit that is no narrower.
func Clearance(shank length.Length) Hole {
	return Hole{Bit: shank.Round(bit, length.Up), To: shank, Cite: clearance}
}
