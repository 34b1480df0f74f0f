package finish

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// Sanding is the surface that is sanded with one grit.
type Sanding struct {
	Grit   int
	Area   *working.Figure // each time counted
	Sheets *working.Figure // of all groups; only in Finishing.Sandings, nil where the shop does not say how far a sheet goes
}

// sandings adds up what is sanded with which grit: bare wood by its species, and between coats. Nothing is sanded after the last.
func (g *group) sandings() {
	f := g.Finish
	if f == nil || g.Area == nil {
		return
	}
	terms := map[int][]working.Expr{}
	add := func(grit int, e working.Expr) { terms[grit] = append(terms[grit], e) }
	bare := g.Lines
	if g.Still != nil { // what has a coat already is bare no more
		bare = g.Still[0].Lines
	}
	for _, l := range bare {
		if len(f.Bare) == 0 {
			break
		}
		s := f.Sanded(l.Species.Text)
		if s == nil && l.Species.Given { // the part says it, and no line is for it
			wood := strings.ToLower(strings.TrimSpace(l.Species.Text))
			g.askFor(f.File, "how bare "+wood+" is sanded under "+finishTitle(f)+": no line of its bare: is for that wood", "bare: - {woods: ["+wood+"], grit: [ ]}", "the sandpaper, and how bare wood is sanded", f.Bare[0].At)
			continue
		}
		if s == nil || !l.Species.Given && hasWoods(f) {
			g.askFor(l.File, "which wood "+l.What+" is of, and its grits in the finish", "species: ", "how bare wood is sanded", l.Species.At)
			continue
		}
		for _, grit := range s.Grits {
			add(grit.N, l.Figure.In())
		}
	}
	for i := range f.Coats {
		c := &f.Coats[i]
		times := max(c.Times.N, 1)
		if i == len(f.Coats)-1 {
			times--
		}
		if !c.Grit.Given || times < 1 {
			continue
		}
		var e working.Expr = g.Area.In()
		if g.Still != nil {
			if e = g.sandedStill(i, times); e == nil {
				continue
			}
		} else if times > 1 {
			e = working.Product(working.Count("n_"+strconv.Itoa(i+1), "times, after the "+name(c), int64(times), c.Grit.At), e)
		}
		add(c.Grit.N, e)
	}
	for _, grit := range ascending(terms) {
		a := working.Work("finish/"+g.Name+"/sand/"+strconv.Itoa(grit), "sanded with "+strconv.Itoa(grit)+", "+g.Name, "S", g.Area.Unit, working.Total(terms[grit]), working.Citation{Text: "grits as written for the finish", Status: working.CommonPractice})
		g.out.Figures = append(g.out.Figures, a)
		g.Sandings = append(g.Sandings, Sanding{Grit: grit, Area: a})
	}
}

func hasWoods(f *job.Finish) bool {
	return slices.ContainsFunc(f.Bare, func(s job.Sanding) bool { return len(s.Woods) > 0 })
}

func ascending[T any](m map[int]T) (keys []int) {
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// sheets adds the groups up, grit by grit.
func (w *worker) sheets() {
	terms := map[int][]working.Expr{}
	unit, _, _ := w.unit()
	for _, g := range w.out.Groups {
		for _, s := range g.Sandings {
			terms[s.Grit] = append(terms[s.Grit], s.Area.As("S_"+g.Name))
		}
	}
	per := w.job.Shop.Supplies.Sheet
	for _, grit := range ascending(terms) {
		id := "coating/sand/" + strconv.Itoa(grit)
		s := Sanding{Grit: grit, Area: working.Work(id, "sanded with "+strconv.Itoa(grit)+", all groups", "S", unit, working.Total(terms[grit]), working.Geometry)}
		w.out.Figures = append(w.out.Figures, s.Area)
		if per.Given && per.Thousandths > 0 {
			s.Sheets = working.Work(id+"/sheets", "sheets of "+strconv.Itoa(grit), "n", "", working.RoundTo(working.Quotient(s.Area.In(), w.sheet(per, unit)), working.Constant(1), length.Up), working.Citation{Text: "how far a sheet goes, as the shop has it", Status: working.Local})
			w.out.Figures = append(w.out.Figures, s.Sheets)
		}
		w.out.Sandings = append(w.out.Sandings, s)
	}
}

// sheet is how far a sheet goes, in the job's unit of surface.
func (w *worker) sheet(per job.Ratio, unit string) *working.Input {
	v := thousandths(per)
	foot := exact.New(9_290_304, 100_000_000) // m² in a sq ft, exact
	switch {
	case per.Unit == unit:
	case unit == "m2":
		v = v.Mul(foot)
	default:
		v = v.Quo(foot)
	}
	return &working.Input{Symbol: "q", Name: "sanded once with one sheet", Value: v, Unit: unit, At: per.At}
}

// masking is how much tape keeps the last coat off what stays as it is: along both sides of every shoe, round the head and the foot of every baluster where it gets another finish than what it stands in, and
// round every post and rosette. Squares are taken for rounds, which need a little less.
func (w *worker) masking() {
	of := func(name string) *Group {
		for i := range w.out.Groups {
			if w.out.Groups[i].Name == name {
				return &w.out.Groups[i]
			}
		}
		return nil
	}
	var terms []working.Expr
	sys := w.job.System
	const sides = 4
	round := func(n int, l AreaLine, symbol, what string) {
		e := working.Product(working.Count("n_"+symbol, what, int64(n), l.Wide.At), working.Constant(sides), working.Length("w_"+symbol, "width of "+l.What, l.Wide.Length, sys, l.Wide.At))
		terms = append(terms, e)
	}
	balusters, rails, shoes, posts := of("balusters"), of("handrail"), of("shoe"), of("newels")
	if rails == nil && shoes == nil || balusters == nil {
		return
	}
	for _, g := range []*Group{balusters, rails, shoes, posts} {
		if g != nil && (g.Area == nil || g.Finish == nil) {
			return
		}
	}
	if shoes != nil {
		var p pieces
		for _, r := range w.layout.Runs {
			for _, c := range r.ShoeCuts() {
				p.add(c, c.Length, sys, "cut list")
			}
		}
		if len(p.terms) > 0 {
			terms = append(terms, working.Product(working.Constant(2), working.Total(p.terms)))
		}
	}
	ends := 0
	for _, g := range []*Group{rails, shoes} {
		if g != nil && g.Finish != balusters.Finish {
			ends++
		}
	}
	for i, l := range balusters.Lines {
		if ends > 0 && l.main(balusters.Name) && l.Wide.Given {
			round(l.Count*ends, l, "b"+strconv.Itoa(i+1), "ends of balusters to tape round")
		}
	}
	for _, g := range []*Group{rails, posts} {
		for i, l := range linesOf(g) {
			if (l.Kind == "rosette" || l.Kind == "newel") && l.Wide.Given {
				round(l.Count, l, l.Kind[:1]+strconv.Itoa(i+1), "pieces to tape round")
			}
		}
	}
	if len(terms) == 0 {
		return
	}
	unit, per := "ft", int64(12)
	if sys == length.Millimetres {
		unit, per = "m", 1000
	}
	w.out.Tape = working.Work("coating/tape", "masking tape for the last coat", "M", unit, working.Quotient(working.Total(terms), working.Constant(per)), working.Citation{Text: "edges of what stays as it is", Status: working.CommonPractice})
	w.out.Figures = append(w.out.Figures, w.out.Tape)
	if roll := w.job.Shop.Supplies.Roll; roll.Given && roll.Length > 0 {
		long := working.Quotient(working.Length("R", "length of a roll", roll.Length, sys, roll.At), working.Constant(per))
		w.out.Rolls = working.Work("coating/tape/rolls", "rolls of masking tape", "n", "", working.RoundTo(working.Quotient(w.out.Tape.In(), long), working.Constant(1), length.Up), working.Geometry)
		w.out.Figures = append(w.out.Figures, w.out.Rolls)
	}
}

func linesOf(g *Group) []AreaLine {
	if g == nil {
		return nil
	}
	return g.Lines
}
