package load

import (
	"fmt"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// section is what a rail's cross section has against being bent sideways.
type section struct {
	second *working.Figure // second moment of area about the upright axis, in^4
	half   *working.Input  // from that axis to the outermost fibre, in
	area   *working.Figure // in^2
}

func inches(symbol, name string, m job.Measure) *working.Input {
	return working.Length(symbol, name, m.Length, length.Inches, m.At)
}

// number is a number of the formula itself.
func number(symbol, name, decimals, from string) *working.Input {
	r, _ := exact.Parse(decimals)
	return (&working.Input{Symbol: symbol, Name: name, Value: r}).Because(from)
}

func cube(x working.Expr) working.Expr { return working.Product(x, x, x) }

// section works out a rail's cross section, by its shape: round, rectangular, or as it was traced. The plow is taken off. The reading is what is still to be measured of it.
func (s *screen) section(h *job.Handrail) (section, *finding.Reading) {
	if done, ok := s.sections[h]; ok {
		return done.section, done.missing
	}
	sec, missing := s.sectionOf(h)
	s.sections[h] = sectionDone{sec, missing}
	return sec, missing
}

type sectionDone struct {
	section section
	missing *finding.Reading
}

func (s *screen) sectionOf(h *job.Handrail) (sec section, missing *finding.Reading) {
	ask := func(what, key string, at source.Pos) *finding.Reading {
		if at.IsZero() {
			at = source.Pos{File: h.File}
		}
		return &finding.Reading{What: what, Where: h.File + ", " + key + ": ", Why: "what the rail carries between its posts", Group: "loads", At: at}
	}
	title := titled(h.Title, h.Name)
	came := h.Narrowest.Or(h.Wide)
	switch {
	case !h.Wide.Given:
		return sec, ask("width of "+title, "wide", h.Wide.At)
	case !h.High.Given:
		return sec, ask("height of "+title, "high", h.High.At)
	case h.Plow.Wide.Given != h.Plow.Deep.Given || !h.Plow.Wide.Given && !h.Plow.Wide.At.IsZero():
		return sec, ask("width and depth of the plow of "+title, "plow", h.Plow.Wide.At)
	}
	if h.Recess != (job.Recess{}) && (h.Section.Text == "round" || h.Section.Text == "rectangular") {
		return sec, ask("the outline of "+title+" with its finger recess, traced from a cut end: what the recess takes away is not known else (section: other)", "outline", source.Pos{})
	}
	if list := h.Outline; h.Section.Text != "round" && h.Section.Text != "rectangular" {
		for _, x := range list { // sizes read on delivery are laid over those of the part's file, and the outline is not
			if x.Wide.Given && x.Wide.Length > came.Length || x.At.Given && x.At.Length > h.High.Length {
				return sec, ask("the outline of "+title+" as it came, traced from a cut end: it came smaller than its outline", "outline", x.At.At)
			}
		}
	}
	b, high := inches("b", "width of the section", came), inches("h", "height of the section", h.High)
	var second, area working.Expr
	switch {
	case h.Section.Text == "round":
		d := working.Expr(b)
		if h.High.Length < came.Length { // flattened, or an oval: an ellipse is no larger
			d = high
		}
		second = working.Quotient(working.Product(working.Pi(), d, cube(b)), working.Constant(64))
		area = working.Quotient(working.Product(working.Pi(), d, b), working.Constant(4))
	case h.Section.Text == "rectangular":
		second = working.Quotient(working.Product(high, cube(b)), working.Constant(12))
		area = working.Product(high, b)
	case len(h.Outline) < 2:
		return sec, ask("the outline of "+title+": how wide it is at depths below its top, traced from a cut end; or that it is rectangular or round", "outline", source.Pos{})
	default:
		for i, at := range h.Outline {
			if !at.At.Given || !at.Wide.Given {
				return sec, ask("the outline of "+title+": a depth or a width", "outline", at.At.At)
			}
			if i == 0 || at.At.Length == h.Outline[i-1].At.Length {
				continue
			}
			before := h.Outline[i-1]
			t := working.Difference(inches(fmt.Sprintf("y_%d", i+1), fmt.Sprintf("depth %d of the outline", i+1), at.At), inches(fmt.Sprintf("y_%d", i), fmt.Sprintf("depth %d of the outline", i), before.At))
			w0, w1 := inches(fmt.Sprintf("w_%d", i), fmt.Sprintf("width at depth %d", i), before.Wide), inches(fmt.Sprintf("w_%d", i+1), fmt.Sprintf("width at depth %d", i+1), at.Wide)
			// A strip of straight sides: the integral of w³/12 over its height, and of w.
			slice := working.Quotient(working.Product(t, working.Sum(w0, w1), working.Sum(working.Product(w0, w0), working.Product(w1, w1))), working.Constant(48))
			strip := working.Quotient(working.Product(t, working.Sum(w0, w1)), working.Constant(2))
			if second == nil {
				second, area = slice, strip
			} else {
				second, area = working.Sum(second, slice), working.Sum(area, strip)
			}
		}
		if second == nil {
			return sec, ask("the outline of "+title, "outline", h.Outline[0].At.At)
		}
	}
	if h.Plow.Wide.Given {
		p, d := inches("p", "width of the plow", h.Plow.Wide), inches("d_p", "depth of the plow", h.Plow.Deep)
		second = working.Difference(second, working.Quotient(working.Product(d, cube(p)), working.Constant(12)))
		area = working.Difference(area, working.Product(d, p))
	}
	sec.second = s.work("section/"+h.Name+"/second", "second moment of area of "+title+" about its upright axis, its plow taken off", "I", "in^4", second)
	sec.area = s.work("section/"+h.Name+"/area", "area of the section of "+title, "A", "in^2", area)
	sec.half = inches("b", "greatest width of the section", came)
	if !sec.second.Value.Known() || sec.second.Value.Sign() <= 0 || sec.area.Value.Sign() <= 0 {
		return section{}, ask("the section of "+title+" again: its plow leaves nothing of it", "outline", h.Plow.Wide.At)
	}
	return sec, nil
}

// modulus is a square's or a round's section modulus in terms of its width.
func modulus(b working.Expr, round bool) working.Expr {
	if round {
		return working.Quotient(working.Product(working.Pi(), cube(b)), working.Constant(32))
	}
	return working.Quotient(cube(b), working.Constant(6))
}

// place is one height of a turned or square part, with its width there.
type place struct {
	at    length.Length // above the support
	width length.Length
	round bool
}

// weakest finds where a part that is bent comes nearest to breaking: where the bending moment over the section modulus is greatest, looked for at every station and each sixteenth of an
// inch between. moment is the moment at a height above the part's lower end, in mm, in any unit. A part between a square and a round counts as round, the weaker of the two.
func weakest(p profile.Profile, moment func(at float64) float64) (worst place, ok bool) {
	const step = length.Inch / 16
	best := 0.0
	try := func(z, w length.Length, round bool) {
		b := w.Float()
		m := float64(b*b) * b / 6
		if round {
			m *= 0.589048622548086 // 3π/16: π/32 over 1/6
		}
		if v := moment(z.Float()) / m; w > 0 && v > best {
			best, worst, ok = v, place{z, w, round}, true
		}
	}
	for i := 1; i < len(p.Stations); i++ {
		a, b := p.Stations[i-1], p.Stations[i]
		if a.At == b.At {
			continue
		}
		round := a.Round || b.Round
		try(a.At, a.Width, round)
		for z := a.At + step; z < b.At; z += step {
			try(z, profile.Between(a, b, z).Width, round)
		}
		try(b.At, b.Width, round)
	}
	return worst, ok
}
