package finish

import (
	"slices"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Coated is what is on one piece that is made already and goes in.
type Coated struct {
	Cut   layout.Cut // the place it takes, as the cut list has it
	Coats int        // of its group's finish, from the first on, coats alike counted each
	Day   string     // by which they were on, year-month-day; empty where nobody says
}

// Still is what one coat still goes on, where it is on some pieces already.
type Still struct {
	Lines  []AreaLine
	Area   *working.Figure // nil where it is on all of them
	Pieces int             // that take a place of their own on strips or horses
	Count  int             // pieces of all lines
	Day    string          // of a coat that is on all: the last on which it was put on one, as far as somebody says for each; empty else
	Cycle  *Cycle          // over those pieces; nil where the group has no batches, or where it is the cycle of all pieces
}

// same reports whether a cut is the place that a piece takes.
func (x Coated) same(c layout.Cut) bool {
	return x.Cut.What == c.What && x.Cut.Part == c.Part && x.Cut.Run == c.Run && x.Cut.Which == c.Which && x.Cut.Length == c.Length && x.Cut.Fit == c.Fit
}

// GroupOf is the group of parts that a piece is coated with: fillets go with the groove they fill, rosettes with the rail.
func GroupOf(what string) string {
	switch what {
	case "baluster":
		return "balusters"
	case "newel":
		return "newels"
	case "shoe", "shoe fillet":
		return "shoe"
	}
	return "handrail"
}

// left is a cut without those pieces that have the coat already.
func (g *group) left(c layout.Cut) layout.Cut {
	if g.coat == 0 {
		return c
	}
	for _, x := range g.coated {
		if x.Coats >= g.coat && x.same(c) && c.Count > 0 {
			c.Count--
		}
	}
	return c
}

// isOn reports a piece that there is one of, by its sort and its name, and that has the coat already.
func (g *group) isOn(what, which string) bool {
	return g.coat > 0 && slices.ContainsFunc(g.coated, func(x Coated) bool { return x.Coats >= g.coat && x.Cut.What == what && x.Cut.Which == which })
}

// rosettesOn counts rosettes of a part that have the coat already.
func (g *group) rosettesOn(part string) (n int) {
	for _, x := range g.coated {
		if g.coat > 0 && x.Coats >= g.coat && x.Cut.What == "rosette" && x.Cut.Part == part {
			n++
		}
	}
	return n
}

// pass is the end of a figure's id while only what has not a coat yet is added up.
func (g *group) pass() string {
	if g.coat == 0 {
		return ""
	}
	return "/still-" + strconv.Itoa(g.coat)
}

func (g *group) passWords() string {
	if g.coat == 0 {
		return ""
	}
	return ", without what has coat " + strconv.Itoa(g.coat) + " already"
}

// still adds up for each coat what it still goes on: the surface once more, without the pieces that have it. Nothing is noted where no piece of the group has any coat.
func (g *group) still(lines func(*group)) {
	if g.Finish == nil || g.Area == nil || len(g.coated) == 0 {
		return
	}
	all, _ := counts(g.Lines, g.Name)
	var list []Still
	for k := 1; k <= g.Finish.AllCoats(); k++ {
		before := len(g.out.Figures)
		b := &group{worker: g.worker, Group: Group{Name: g.Name}, whole: true, coat: k}
		lines(b)
		n, pieces := counts(b.Lines, g.Name)
		switch {
		case n == all: // no piece has it, nor any that lies on it
			g.out.Figures = g.out.Figures[:before]
			list = append(list, Still{Lines: g.Lines, Area: g.Area, Pieces: pieces, Count: n})
			continue
		case k > 1 && n == list[k-2].Count: // the same pieces as the coat before: its surface is known
			g.out.Figures = g.out.Figures[:before]
			list = append(list, list[k-2])
			continue
		}
		b.area()
		list = append(list, Still{Lines: b.Lines, Area: b.Area, Pieces: pieces, Count: n})
	}
	if len(list) == 0 || list[0].Count == all { // one coat lies on the other: what has not the first has none
		return
	}
	for k := range list {
		if list[k].Area == nil {
			list[k].Day = g.dayOf(k + 1)
		}
	}
	g.Still = list
}

// dayOf is the last day on which a coat was on a piece of the group; empty where nobody says for one of them.
func (g *group) dayOf(coat int) (day string) {
	for _, x := range g.coated {
		if GroupOf(x.Cut.What) != g.Name || x.Coats < coat {
			continue
		}
		if x.Day == "" {
			return ""
		}
		day = max(day, x.Day)
	}
	return day
}

// counts are the pieces of all lines, and of those that take a place of their own.
func counts(lines []AreaLine, group string) (all, main int) {
	for _, l := range lines {
		all += l.Count
		if l.main(group) {
			main += l.Count
		}
	}
	return all, main
}

// numbers are the coats, counted from 1, that a coat of the finish is, with all that are alike.
func (g *Group) numbers(i int) (list []int) {
	n := 0
	for k := range g.Finish.Coats {
		for range max(g.Finish.Coats[k].Times.N, 1) {
			if n++; k == i {
				list = append(list, n)
			}
		}
	}
	return list
}

// onAll reports a coat of the finish that is on all pieces already, with all that are alike.
func (g *group) onAll(i int) bool {
	return g.Still != nil && !slices.ContainsFunc(g.numbers(i), func(k int) bool { return g.Still[k-1].Area != nil })
}

// stillArea is the surface that a coat of the finish still goes on, each of those alike counted, with what is lost besides on turned work; more is nil where nothing is.
func (g *group) stillArea(i int, more working.Expr) working.Expr {
	var terms []working.Expr
	for _, k := range g.numbers(i) {
		s := g.Still[k-1]
		if s.Area == nil {
			continue
		}
		if more == nil {
			terms = append(terms, s.Area.As("A_"+strconv.Itoa(k)))
			continue
		}
		const letters = 26
		for n, l := range s.Lines {
			var term working.Expr = l.Figure.As("A_" + string(rune('a'+n%letters)) + strconv.Itoa(n/letters*100+k))
			if l.Turned {
				term = working.Product(term, more)
			}
			terms = append(terms, term)
		}
	}
	return working.Total(terms)
}

// sandedStill is the surface that is sanded so many times after a coat of the finish: what the next one still goes on. nil where nothing is.
func (g *group) sandedStill(i, times int) working.Expr {
	var terms []working.Expr
	for _, k := range g.numbers(i)[:times] {
		if s := g.Still[k]; s.Area != nil { // of the coat after it
			terms = append(terms, s.Area.As("A_"+strconv.Itoa(k+1)))
		}
	}
	if len(terms) == 0 {
		return nil
	}
	return working.Total(terms)
}

// stillCycles works out the coats that go on fewer pieces than the group has.
func (g *group) stillCycles(b *Batches, minute job.Ratio) {
	for i := range g.Coats {
		for _, k := range g.numbers(i) {
			if s := &g.Still[k-1]; s.Area != nil && s.Pieces != b.Pieces {
				c := g.cycle(b, minute, i, s.Pieces, "/still-"+strconv.Itoa(k))
				s.Cycle = &c
			}
		}
	}
}

// batchesOf is how many batches so many pieces make. Where none of them takes a place of its own, what lies between the others is one.
func (b *Batches) batchesOf(pieces int) int {
	return max((pieces+b.AtATime-1)/b.AtATime, 1)
}

// cycle works out one coat over so many pieces: every batch stands where it is until it is dry, then the next takes its place.
func (g *group) cycle(b *Batches, minute job.Ratio, i, pieces int, pass string) (c Cycle) {
	var count working.Expr = b.Count.In()
	if pass != "" {
		count = working.Count("N", "batches of what still has to be coated", int64(b.batchesOf(pieces)), source.Pos{}).Because(strconv.Itoa(pieces) + " pieces, " + strconv.Itoa(b.AtATime) + " at a time")
	}
	var e working.Expr
	if d := g.Coats[i].Drying; d.Figure != nil {
		e = working.Product(count, working.Count("u", "goes for a coat", int64(b.Turns), source.Pos{}).Because("shop's settings"), d.Figure.As("t"))
	}
	if minute.Given {
		work := thousandths(minute).Mul(exact.Of(int64(pieces)))
		c.Work = up(work)
		in := &working.Input{Symbol: "w", Name: "to coat one once", Value: thousandths(minute), Unit: "min", At: minute.At}
		all := working.Quotient(working.Product(in, working.Count("n", "pieces", int64(pieces), source.Pos{}).Because("cut list")), working.Constant(hour))
		if e != nil {
			e = working.Sum(e, all)
		}
	}
	if e == nil {
		return c
	}
	f := working.Work("finish/"+g.Name+"/cycle/"+coatNumber(g.Coats[i])+pass, "one coat of "+name(g.Coats[i].Coat)+" over all batches", "T", "h", e, working.Citation{Text: "each batch stays until it is dry", Status: working.Derived})
	const most = 100_000_000 // minutes; beyond, something was written wrong
	if f.Value.Known() && f.Value.Cmp(exact.Of(most/hour)) < 0 {
		g.out.Figures = append(g.out.Figures, f)
		c.Figure, c.Minutes = f, up(f.Value.Mul(exact.Of(hour)))
	}
	return c
}

// StillOf is what a coat, counted from 1, still goes on; nil where no piece of the group has any.
func (g *Group) StillOf(n int) *Still {
	if n < 1 || n > len(g.Still) {
		return nil
	}
	return &g.Still[n-1]
}
