package book

import (
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/working"
)

// comparison is all ways to build the job, side by side.
type comparison struct {
	ways   []*way
	groups []comparedGroup // run by run, then the whole job
}

// way is one way to build the job: as it is drawn, or an alternative.
type way struct {
	of    *job.Alternative // nil for the job as drawn
	title string
	plan  *plan.Plan
	book  *book // to write its lengths and money with, and to link its figures

	fails, waits []finding.Finding // checks that come out worse than as drawn
	asks         []finding.Reading // readings and decisions that the job as drawn does not wait for
	printed      []*working.Figure // workings that are not those of the job as drawn
}

// comparedGroup is the lines of one run, or of the whole job.
type comparedGroup struct {
	title markup
	run   string // empty for the whole job
	rows  []compared
}

// compared is one line: a cell for each way.
type compared struct {
	label string
	cells []cellOf
}

// cellOf is what one way comes to.
type cellOf struct {
	words markup
	fig   string // the figure that it rests on; empty for none
	note  markup // what must be known with it
}

// differs reports that a way is not as drawn.
func (c compared) differs(i int) bool {
	return c.cells[i].words != c.cells[0].words || c.cells[i].note != c.cells[0].note
}

func (c compared) alike() bool {
	for i := range c.cells {
		if c.differs(i) {
			return false
		}
	}
	return true
}

// compareWays sets the ways side by side; nil where there is only the job as drawn.
func (b *book) compareWays() *comparison {
	if len(b.plan.Alternatives) == 0 {
		return nil
	}
	c := &comparison{ways: []*way{{title: "As drawn", plan: b.plan, book: b}}}
	for _, a := range b.plan.Alternatives {
		if a.Plan == nil {
			continue
		}
		w := &way{of: a.Of, title: wayTitle(a.Of), plan: a.Plan, book: newBook(a.Plan, b.frames)}
		w.book.documents, w.book.lines = b.documents, b.lines // a place is shown as it stands in this book
		w.against(b.plan)
		c.ways = append(c.ways, w)
	}
	c.groups = b.comparedIn(c.ways)
	n := len(b.plan.Figures)
	for i, w := range c.ways[1:] {
		n = w.work(b, c, i+1, n)
	}
	return c
}

// comparedIn is the lines of all runs and of the whole job, a cell for each way.
func (b *book) comparedIn(ways []*way) (groups []comparedGroup) {
	for _, r := range b.plan.Layout.Runs {
		g := comparedGroup{title: say(`<a href="layout.html#%s">%s</a>`, runAnchor(r.Name), b.runTitle(r.Name)), run: r.Name}
		rows := runRows(r)
		if !slices.ContainsFunc(ways, func(w *way) bool { other := w.book.run(r.Name); return other != nil && other.Chosen != nil }) {
			rows = []row[*layout.Run]{{label: "layout"}}
		}
		for _, x := range rows {
			g.rows = append(g.rows, lineOf(ways, x.label, func(w *way) cellOf {
				if other := w.book.run(r.Name); other != nil && other.Chosen != nil {
					return x.of(w, other)
				}
				return cellOf{words: toBeMeasured}
			}))
		}
		groups = append(groups, g)
	}
	whole := comparedGroup{title: "The whole job"}
	for _, x := range wholeRows {
		if b.edition != Whole && slices.Contains(moneyRows, x.label) {
			continue
		}
		whole.rows = append(whole.rows, lineOf(ways, x.label, func(w *way) cellOf { return x.of(w, w.plan) }))
	}
	return append(groups, whole)
}

func wayTitle(a *job.Alternative) string {
	return a.Title.Or(job.Text{Text: capital(strings.ReplaceAll(a.Name, "-", " "))}).Text
}

func lineOf(ways []*way, label string, of func(*way) cellOf) compared {
	c := compared{label: label}
	for _, w := range ways {
		c.cells = append(c.cells, of(w))
	}
	return c
}

// against finds the checks that come out worse than as drawn, and the readings that only this way waits for.
func (w *way) against(base *plan.Plan) {
	was := map[string]finding.Verdict{}
	for _, f := range base.Findings {
		was[f.ID] = f.Verdict
	}
	for _, f := range w.plan.Findings {
		before, known := was[f.ID]
		if w.plan.OfOld(f) || known && before <= f.Verdict {
			continue
		}
		switch f.Verdict {
		case finding.Fail:
			w.fails = append(w.fails, f)
		case finding.ToBeMeasured, finding.AskAuthority:
			w.waits = append(w.waits, f)
		}
	}
	for _, m := range w.plan.Missing {
		if !slices.ContainsFunc(base.Missing, func(x finding.Reading) bool { return x.What == m.What && x.Group == m.Group }) {
			w.asks = append(w.asks, m)
		}
	}
}

// work finds which workings of a way are its own: those behind what the page shows of it, and behind those again, as far as they are not the same
// as for the job as drawn, whose working then serves. They are numbered on from n.
func (w *way) work(b *book, c *comparison, i, n int) int {
	numbers, anchors := map[string]int{}, map[string]string{}
	same := sameness{base: b, other: w.book, known: map[string]bool{}}
	var walk func(id string)
	walk = func(id string) {
		f := w.book.figureOf(id)
		if f == nil || numbers[id] > 0 || anchors[id] != "" {
			return
		}
		if same.working(f) {
			numbers[id] = b.figures[id]
			return
		}
		if anchors[id] = figureAnchor("alt/" + w.of.Name + "/" + id); f.Expr == nil {
			return
		}
		for _, in := range w.book.print(f).inputs {
			if in.Figure != "" {
				walk(in.Figure)
			}
		}
	}
	for _, g := range c.groups {
		for _, r := range g.rows {
			if !r.alike() {
				walk(r.cells[i].fig)
			}
		}
	}
	for _, f := range slices.Concat(w.fails, w.waits) {
		walk(f.Figure)
	}
	for _, f := range w.plan.Figures { // in the order of the book
		if anchors[f.ID] != "" {
			n++
			numbers[f.ID] = n
			w.printed = append(w.printed, f)
		}
	}
	w.book.figures, w.book.anchors = numbers, anchors
	return n
}

// sameness is which figures of an alternative are worked out as in the job as drawn.
type sameness struct {
	base, other *book
	known       map[string]bool
}

// working reports that a figure is: the same formula from the same numbers, from the same places.
func (s sameness) working(f *working.Figure) bool {
	if is, ok := s.known[f.ID]; ok {
		return is
	}
	s.known[f.ID] = true // until it is known better: no figure rests on itself
	g := s.base.figureOf(f.ID)
	is := g != nil && f.Title == g.Title && f.Unit == g.Unit && f.Note == g.Note && f.Result() == g.Result() && (f.Expr == nil) == (g.Expr == nil) && slices.Equal(f.Cites, g.Cites) && series(f) == series(g)
	if is && f.Expr != nil {
		var from []string
		input := func(a, b *working.Input) bool {
			from = append(from, a.Figure)
			return a.Name == b.Name && a.From == b.From && a.At == b.At && a.Figure == b.Figure
		}
		if !working.Alike(f.Expr, g.Expr, input) { // it may print alike all the same
			from = nil
			mine, its := s.other.print(f), s.base.print(g)
			is = mine.symbols == its.symbols && mine.numbers == its.numbers && slices.EqualFunc(mine.inputs, its.inputs, input)
		}
		for i := 0; is && i < len(from); i++ {
			if in := s.other.figureOf(from[i]); in != nil {
				is = s.working(in)
			}
		}
	}
	s.known[f.ID] = is
	return is
}
