package finish

import (
	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Batches is how a group goes through the shop: so many pieces at a time.
type Batches struct {
	On          string // strips, or horses
	Pieces      int
	AtATime     int
	Batches     int
	Turns       int             // goes that each coat takes
	Each        *working.Figure // pieces at a time
	Count       *working.Figure // batches
	Along, Deep length.Length   // bench or floor that they take; Deep is 0 where nobody says how far apart strips stand
	Cycles      []Cycle         // as the coats of the finish; empty while none is chosen
	Timed       bool            // working time is counted in the cycles
}

// Cycle is one coat over all batches.
type Cycle struct {
	Work    int             // minutes of work: all pieces, all goes; 0 where the shop does not say
	Minutes int             // until the last batch is dry, on one set of strips or horses, day and night; 0 while it is not known
	Figure  *working.Figure // of Minutes, in hours; nil while it is not known
}

// batches reckons how a group is coated in the shop. nil where its pieces are not counted yet, or the shop does not say what they stand or lie on.
func (g *group) batches() *Batches {
	pieces, wide := 0, length.Length(0)
	for _, l := range g.Lines {
		if l.main(g.Name) {
			pieces += l.Count
			wide = max(wide, l.Wide.Length)
		}
	}
	if !g.whole || pieces == 0 {
		return nil
	}
	b := &Batches{Pieces: pieces}
	id := "finish/" + g.Name + "/"
	var minute job.Ratio
	sys, one := g.job.System, working.Constant(1)
	figure := func(name, title, symbol string, e working.Expr) *working.Figure {
		f := working.Work(id+name, title, symbol, "", e, working.Geometry)
		g.out.Figures = append(g.out.Figures, f)
		return f
	}
	if g.Name == "balusters" {
		s := g.job.Shop.Strips
		if !s.Long.Given || !s.Pitch.Given || !s.Count.Given {
			return nil
		}
		if s.Pitch.Length <= wide || s.Long.Length < s.Pitch.Length {
			g.askFor(s.Pitch.At.File, "a pitch that is wider than the balusters and shorter than a strip", "strips: {pitch: }", "how many are coated at a time", s.Pitch.At)
			return nil
		}
		on := working.RoundTo(working.Quotient(working.Length("L", "length of a strip", s.Long.Length, sys, s.Long.At), working.Length("p", "from one baluster to the next", s.Pitch.Length, sys, s.Pitch.At)), one, length.Down)
		b.Each = figure("at-a-time", "balusters coated at a time", "m", working.Product(on, working.Count("s", "strips on hand", int64(s.Count.N), s.Count.At)))
		b.On, b.Turns, minute = "strips", max(s.Turns.N, 1), s.Minute
		b.Along, b.Deep = s.Long.Length, s.Apart.Length*length.Length(s.Count.N)
	} else {
		h := g.job.Shop.Horses
		if !h.Pairs.Given || !h.Wide.Given || wide <= 0 {
			return nil
		}
		if h.Wide.Length < wide {
			g.askFor(h.Wide.At.File, "horses that are as wide as one piece", "horses: {wide: }", "how many are coated at a time", h.Wide.At)
			return nil
		}
		gap := working.Length("a", "between one piece and the next", h.Apart.Length, sys, h.Apart.At)
		on := working.RoundTo(working.Quotient(working.Sum(working.Length("W", "what can be laid on", h.Wide.Length, sys, h.Wide.At), gap), working.Sum(working.Length("w", "widest piece", wide, sys, source.Pos{}).Because("its part"), gap)), one, length.Down)
		b.Each = figure("at-a-time", "pieces coated at a time", "m", working.Product(on, working.Count("s", "pairs of horses", int64(h.Pairs.N), h.Pairs.At)))
		b.On, b.Turns, minute = "horses", max(h.Turns.N, 1), h.Minute
		b.Along = h.Wide.Length * length.Length(h.Pairs.N)
	}
	const most = 1_000_000 // pieces; beyond, a length was written wrong
	each, whole := b.Each.Value.Int64()
	if !whole || each <= 0 || each > most {
		return nil
	}
	b.AtATime = int(each)
	b.Count = figure("batches", "batches", "N", working.RoundTo(working.Quotient(working.Count("n", "pieces", int64(pieces), source.Pos{}).Because("cut list"), b.Each.In()), one, length.Up))
	count, _ := b.Count.Value.Int64()
	b.Batches = int(count)
	b.Timed = minute.Given
	g.cycles(b, minute)
	return b
}

// cycles works out each coat over all batches, and those that go on fewer pieces.
func (g *group) cycles(b *Batches, minute job.Ratio) {
	for i := range g.Coats {
		b.Cycles = append(b.Cycles, g.cycle(b, minute, i, b.Pieces, ""))
	}
	if g.Still != nil {
		g.stillCycles(b, minute)
	}
}

// up is a number of minutes rounded up to whole ones.
func up(r exact.Number) int {
	return int(length.Rounded(r, length.Nanometre, length.Up)) // a count, not a length
}

// main reports a line of pieces that take a place of their own: fillets and rosettes lie between them.
func (l AreaLine) main(group string) bool {
	switch group {
	case "balusters":
		return l.Kind == "baluster"
	case "newels":
		return l.Kind == "newel"
	case "handrail":
		return l.Kind == "handrail"
	}
	return l.Kind == "shoe"
}
