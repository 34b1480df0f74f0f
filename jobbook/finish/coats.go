package finish

import (
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

const ounces = 128 // US fluid ounces to the US gallon, by definition

// choose finds the group's finish.
func (g *group) choose() {
	for _, u := range g.job.Finishes {
		if u.Group == g.Name {
			g.Finish = u.Part
		}
	}
}

// coats puts the coats of the group's finish in order and works out what each takes.
func (g *group) coats() {
	if g.Finish == nil {
		g.ask(g.job.File, "which finish for the "+g.Name, "finishes: {"+g.Name+": }", "coats, what to buy, when it is dry", source.Pos{})
		return
	}
	system := g.system(g.Finish)
	for i := range g.Finish.Coats {
		c := &g.Finish.Coats[i]
		coat := Coat{N: i + 1, Coat: c, Drying: system.Coats[i], OnAll: g.onAll(i)}
		switch {
		case coat.OnAll:
		case !c.Coverage.Given || c.Coverage.Thousandths <= 0:
			g.ask(g.Finish.File, "how far the "+name(c)+" goes; read the can", "coats: {coverage: }", "how much of it to buy", c.Coverage.At)
		case g.Area != nil:
			coat.Volume = g.volume(i, c)
			g.out.Figures = append(g.out.Figures, coat.Volume)
		}
		g.Coats = append(g.Coats, coat)
	}
}

func coatNumber(c Coat) string { return strconv.Itoa(c.N) }

func name(c *job.Coat) string {
	if c.Name.Given {
		return c.Name.Text
	}
	return "coat"
}

// volume is surface by coats over coverage, with what is lost on turned work and in brush and can.
func (g *group) volume(i int, c *job.Coat) *working.Figure {
	f := g.Finish
	var more working.Expr // on turned work
	if extra := f.Turned; extra.Given && extra.Thousandths > 0 {
		more = perCent("t", "lost besides on turned work", extra)
	}
	var e working.Expr
	switch {
	case g.Still != nil:
		e = g.stillArea(i, more)
	case more != nil:
		e = g.withTurned(more)
	default:
		e = g.Area.In()
	}
	if c.Times.Given && c.Times.N != 1 && g.Still == nil {
		e = working.Product(e, working.Count("n", "coats alike", int64(c.Times.N), c.Times.At))
	}
	e = g.convert(e, &working.Input{Symbol: "q", Name: "coverage of the " + name(c), Value: thousandths(c.Coverage), Unit: c.Coverage.Unit, At: c.Coverage.At}, c.Coverage.Unit)
	if f.Loss.Given && f.Loss.Thousandths > 0 {
		e = working.Product(e, perCent("k", "lost in brush and can", f.Loss))
	}
	unit, _ := job.VolumeUnit(g.job.System)
	status := c.Status
	if status == 0 {
		status = working.CommonPractice
	}
	return working.Work("finish/"+g.Name+"/coat/"+strconv.Itoa(i+1), name(c)+" for the "+g.Name, "V", unit, e,
		working.Citation{Text: "coverage as written for the finish; read the can", Status: status})
}

// withTurned is the group's surface with more counted on the lines that are turned.
func (g *group) withTurned(more working.Expr) working.Expr {
	var terms []working.Expr
	some := false
	for _, l := range g.Lines {
		var term working.Expr = l.Figure.In()
		if l.Turned {
			term, some = working.Product(term, more), true
		}
		terms = append(terms, term)
	}
	if !some {
		return g.Area.In()
	}
	return working.Total(terms)
}

// convert divides a surface by a coverage, in whichever units they are, and gives fluid ounces or litres.
func (g *group) convert(area working.Expr, coverage *working.Input, unit string) working.Expr {
	metricJob, metricCan := g.job.System == length.Millimetres, unit == "m2/L"
	foot := (&working.Input{Symbol: "k_a", Name: "square metres in a square foot", Value: exact.New(9_290_304, 100_000_000)}).Because("exact: 0.3048 m squared")
	gallon := (&working.Input{Symbol: "k_v", Name: "litres in a US gallon", Value: exact.New(3_785_411_784, 1_000_000_000)}).Because("exact: 231 cu in")
	switch {
	case metricJob && metricCan:
		return working.Quotient(area, coverage)
	case metricJob:
		return working.Product(working.Quotient(area, working.Product(coverage, foot)), gallon)
	case metricCan:
		return working.Product(working.Quotient(working.Product(area, foot), working.Product(coverage, gallon)), working.Constant(ounces))
	}
	return working.Product(working.Quotient(area, coverage), working.Constant(ounces))
}

// perCent is the factor that adds a share: 1 + p / 100.
func perCent(symbol, name string, r job.Ratio) working.Expr {
	const hundred = 100
	return working.Sum(working.Constant(1), working.Quotient(&working.Input{Symbol: symbol, Name: name, Value: thousandths(r), Unit: "%", At: r.At}, working.Constant(hundred)))
}

func thousandths(r job.Ratio) exact.Number { return exact.New(r.Thousandths, 1000) }
