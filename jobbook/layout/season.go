package layout

import (
	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/wood"
	"balustrade/jobbook/working"
)

// Air is what the wood in the room comes to over the year.
type Air struct {
	Now, Dry, Damp  *working.Figure // moisture, per cent; nil while the air is not read, or lies where no formula holds
	FitLow, FitHigh *working.Figure // between which delivered wood is fit to cut, per cent; nil where the shop names no distance from Now
	Moves           []Move
	Figures         []*working.Figure
	Missing         []finding.Reading
}

// Move is how much the width of one part changes between the driest and the dampest of the year.
type Move struct {
	Kind, Title        string
	Species            string
	Width              length.Length
	Radial, Tangential *working.Figure // quarter-sawn and flat-sawn; nil while the wood is not known
}

// airOf works out the moisture that wood comes to in the air of the job's room.
func airOf(j *job.Job) (a Air) {
	fahrenheit := func(r job.Ratio) exact.Number {
		t := exact.New(r.Thousandths, 1000)
		if r.Unit == "°C" || r.Unit == "C" {
			t = t.Mul(exact.New(9, 5)).Add(exact.Of(32))
		}
		return t
	}
	for _, x := range []struct {
		to         **working.Figure
		air        job.Air
		name, when string
	}{{&a.Now, j.Climate.Now, "now", "as the air was read"}, {&a.Dry, j.Climate.Dry, "dry", "at the driest of the year"}, {&a.Damp, j.Climate.Damp, "damp", "at the dampest of the year"}} {
		if !x.air.Given() {
			if x.air.Temperature.Given || x.air.Humidity.Given {
				at := x.air.Temperature.At
				if x.air.Temperature.Given {
					at = x.air.Humidity.At
				}
				if at.IsZero() {
					at = source.Pos{File: j.File}
				}
				a.Missing = append(a.Missing, finding.Reading{What: "temperature and humidity of the room, " + x.when, Where: j.File + ", air: {" + x.name + ": {temperature: , humidity: }}", Why: "how much the wood moves over the year", Group: "job", At: at})
			}
			continue
		}
		t := &working.Input{Symbol: "t", Name: "temperature of the room", Value: fahrenheit(x.air.Temperature), Unit: "°F", At: x.air.Temperature.At}
		h := &working.Input{Symbol: "H", Name: "relative humidity of the room", Value: exact.New(x.air.Humidity.Thousandths, 1000), Unit: "%", At: x.air.Humidity.At}
		figures, ok := wood.Equilibrium("air/"+x.name, x.when, t, h)
		if !ok {
			a.Missing = append(a.Missing, finding.Reading{What: "the air of the room " + x.when + ", between 30 and 130 °F and 5 and 95 %", Where: j.File + ", air: {" + x.name + ": {temperature: , humidity: }}", Why: "no published formula holds beyond", Group: "job", At: x.air.Temperature.At})
			continue
		}
		a.Figures = append(a.Figures, figures...)
		*x.to = figures[len(figures)-1]
	}
	if near := j.Shop.Settled; a.Now != nil && near.Given {
		points := &working.Input{Symbol: "s", Name: "how near it must have come, the shop's setting", Value: exact.New(near.Thousandths, 1000), Unit: "%", At: near.At}
		practice := working.Citation{Text: "wood is cut when it has come near to what the room brings it to", Status: working.CommonPractice}
		a.FitLow = working.Work("air/fit-low", "least moisture at which delivered wood is fit to cut", "F_1", "%", working.Difference(a.Now.As("M"), points), practice)
		a.FitHigh = working.Work("air/fit-high", "greatest moisture at which delivered wood is fit to cut", "F_2", "%", working.Sum(a.Now.As("M"), points), practice)
		a.Figures = append(a.Figures, a.FitLow, a.FitHigh)
	}
	a.moves(j)
	return a
}

// moves works out how much each part that the job uses moves over the year.
func (a *Air) moves(j *job.Job) {
	if a.Dry == nil || a.Damp == nil {
		return
	}
	seen := map[string]bool{}
	add := func(kind string, o job.Origin, title, species job.Text, wide job.Measure) {
		if key := kind + "/" + o.Name; seen[key] || !wide.Given {
			return
		}
		seen[kind+"/"+o.Name] = true
		m := Move{Kind: kind, Title: title.Or(job.Text{Text: o.Name}).Text, Species: species.Text, Width: wide.Length}
		if found := j.Wood(species); len(found) == 1 && found[0].Tangential.Given {
			s := found[0]
			m.Species = s.Title.Text
			for _, x := range []struct {
				to        **working.Figure
				way, name string
				r         job.Ratio
			}{{&m.Radial, "quarter-sawn", "radial", s.Radial}, {&m.Tangential, "flat-sawn", "tangential", s.Tangential}} {
				c := &working.Input{Symbol: "C", Name: "change of a " + x.way + " width for each per cent of moisture, " + s.Title.Text, Value: exact.New(x.r.Thousandths, 1000), Unit: "%", At: x.r.At}
				e := wood.Movement(working.Length("D", "width", wide.Length, j.System, wide.At), c, a.Dry.As("M_1"), a.Damp.As("M_2"))
				*x.to = working.Work("air/move/"+kind+"/"+o.Name+"/"+x.name, "how much "+m.Title+", "+x.way+", moves over the year", "d", j.System.String(), e, working.Citation{Text: wood.MovementRule, Status: s.Coefficients})
				a.Figures = append(a.Figures, *x.to)
			}
		}
		a.Moves = append(a.Moves, m)
	}
	for _, r := range j.Runs {
		if b := r.Baluster; b != nil {
			add("baluster", b.Origin, b.Title, b.Species, b.Wide)
		}
		if h := r.Handrail; h != nil {
			add("handrail", h.Origin, h.Title, h.Species, h.Wide)
		}
		if s := r.Shoe; s != nil {
			add("shoe", s.Origin, s.Title, s.Species, s.Wide)
		}
	}
	for _, p := range j.Posts {
		if n := p.Part; n != nil {
			add("newel", n.Origin, n.Title, n.Species, n.Wide)
		}
	}
}

// installed is the moisture that parts have when they go in: as the air was when it was read, or the dampest of the year.
func (a Air) installed() *working.Figure {
	if a.Now != nil {
		return a.Now
	}
	return a.Damp
}

// seasonal works out how much a baluster shrinks in width from when it goes in to the driest of the year, where the job does not say: the gaps open by that. It is reckoned along the rings, where wood moves
// most, for nobody says how each was sawn.
func (b *builder) seasonal() {
	b.season = b.shrinks("season", b.r.Baluster)
}

// shrinks is how much one baluster shrinks; nil where the job says it, or it is not known.
func (b *builder) shrinks(id string, part *job.Baluster) *working.Figure {
	if b.job.Tolerance.Season.Given || part == nil || !part.Wide.Given || b.air.Dry == nil || b.air.installed() == nil {
		return nil
	}
	found := b.job.Wood(part.Species)
	if len(found) != 1 || !found[0].Tangential.Given {
		if part.Species.Given && len(found) != 1 {
			which := "which wood " + part.Species.Text + " is: a species of the library"
			if len(found) == 0 {
				says, _ := b.job.NoWood(part.Species)
				which = "which wood \"" + part.Species.Text + "\" is: " + says
			}
			b.needIn(part.File, which, "species: ", "how much it shrinks over the year", part.Species.At)
		}
		return nil
	}
	s := found[0]
	c := &working.Input{Symbol: "C", Name: "change of its width along the rings for each per cent of moisture, " + s.Title.Text, Value: exact.New(s.Tangential.Thousandths, 1000), Unit: "%", At: s.Tangential.At}
	e := working.Greatest(working.Constant(0), wood.Movement(b.in("b", "width of a baluster", part.Wide), c, b.air.Dry.As("M_2"), b.air.installed().As("M_1")))
	grid := length.Inch / 1000
	if b.sys == length.Millimetres {
		grid = length.Millimetre / 100
	}
	e = working.RoundTo(e, working.Length("u", "rounded up to a multiple of", grid, b.sys, source.Pos{}), length.Up)
	f := b.work(id, "how much a baluster shrinks in width to the driest of the year", "e_s", e, working.Citation{Text: wood.MovementRule, Status: s.Coefficients})
	low, high := exact.Of(wood.LeastMoisture), exact.Of(wood.MostMoisture)
	for _, m := range []*working.Figure{b.air.installed(), b.air.Dry} {
		if m.Value.Cmp(low) < 0 || m.Value.Cmp(high) > 0 {
			f.Note = "The coefficient is published for 6 to 14 %; beyond, it is carried on in a straight line."
		}
	}
	return f
}

// seasonOf is the season as a tolerance.
func (b *builder) seasonOf() job.Measure {
	if b.season == nil {
		return b.job.Tolerance.Season
	}
	return job.Measure{Length: b.season.Exact(b.sys), At: b.r.Baluster.Wide.At, Given: true}
}
