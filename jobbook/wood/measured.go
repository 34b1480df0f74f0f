package wood

import "balustrade/jobbook/length"

// Measured is a wood screw that has no number in the table, such as a metric one, by its own diameters. Root is 0 while it is not known.
type Measured struct {
	Wide length.Length // over its thread, as it is sold
	Root length.Length // at the root of its thread
	Step length.Length // that drill bits are sold in: sixty-fourths of an inch, half millimetres (common practice)
}

// Light reports whether no lead hole is called for in a wood of specific gravity g: known, and up to 0.5 (NDS 12.1.5; memory).
func Light(g G) bool { return g > 0 && g <= middle }

// Pilot is the lead hole for such a screw where it is drawn out: about 90 % of its root over 0.6, about 70 % over 0.5 and up to 0.6 (NDS 12.1.5; memory); the bit is the nearest one under
// it. False where g or its root is not known, where none is called for, and where no bit is as narrow. Workshop charts go by numbers and say nothing of it.
func (s Measured) Pilot(g G) (Hole, bool) {
	percent := int64(70)
	if g > dense {
		percent = 90
	}
	if g <= middle || s.Root <= 0 || s.Step <= 0 {
		return Hole{}, false
	}
	h := Hole{To: share(s.Root, percent), Cite: screwRule}
	h.Bit = h.To.Round(s.Step, length.Down)
	if h.Bit == h.To { // under it, not on it
		h.Bit -= s.Step
	}
	return h, h.Bit > 0
}

// Clearance is the bore through what it passes: the nearest bit that is no narrower.
func (s Measured) Clearance() Hole {
	return Hole{Bit: s.Wide.Round(s.Step, length.Up), To: s.Wide, Cite: clearance}
}
