package book

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/draw"
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

// row is a line to come: its label, and what each way comes to.
type row[T any] struct {
	label string
	of    func(w *way, t T) cellOf
}

// runRows are the lines of a run, in order. A new one is a label and a function.
func runRows(r *layout.Run) []row[*layout.Run] {
	return []row[*layout.Run]{
		{"balusters", func(_ *way, r *layout.Run) cellOf {
			words := say("%d", r.Chosen.Count)
			if r.Kept != nil {
				words = say("%d new between %d old ones", r.Chosen.Count, len(r.Kept.Old))
			}
			if n := r.Chosen.PerTread; n > 0 {
				words += say(", %s on a tread", perTread(r, n))
			}
			return cellOf{words: words}
		}},
		{"baluster", func(_ *way, r *layout.Run) cellOf { return cellOf{words: esc(balusterOf(r))} }},
		{gapLabel(r), func(w *way, r *layout.Run) cellOf {
			return cellOf{words: say("%s %s", w.book.near(r.Chosen.Gap), w.book.unit()), fig: idOf(r.Gap)}
		}},
		{"spacing", func(w *way, r *layout.Run) cellOf {
			if r.Chosen.Count < 2 || r.Kept != nil {
				return cellOf{words: "none"}
			}
			return cellOf{words: say("%s %s", w.book.near(r.Chosen.Spacing), w.book.unit()), fig: idOf(r.Spacing)}
		}},
		{"worst opening", func(w *way, r *layout.Run) cellOf {
			verdict, limit := r.Chosen.Verdict(), markup("")
			if r.Limit.Known {
				limit = w.book.comparison(r.Limit.Op, w.book.limit(r.Limit.Value)) + " wanted"
			}
			return cellOf{say("%s %s, %s", w.book.worst(r, r.Chosen.Worst), w.book.unit(), verdictMark(verdict, verdict.String())), worstFigure(r), limit}
		}},
		{"top of the rail", func(w *way, r *layout.Run) cellOf {
			switch {
			case r.Rake != nil && r.Rake.Top > 0:
				return cellOf{words: say("%s %s over the nosings", w.book.near(r.Rake.Top), w.book.unit())}
			case r.Rake == nil && r.Levels.RailTop > 0:
				return cellOf{words: say("%s %s", w.book.near(r.Levels.RailTop), w.book.unit())}
			}
			return cellOf{words: toBeMeasured}
		}},
		{"handrail", func(w *way, r *layout.Run) cellOf {
			if r.Kept != nil {
				return cellOf{words: "the old one stays"}
			}
			if r.Handrail == nil {
				return cellOf{words: toBeMeasured}
			}
			return cellOf{words: say("%s %s", w.book.near(r.Handrail.Length), w.book.unit()), fig: r.Handrail.Figure}
		}},
		{"shoe", func(w *way, r *layout.Run) cellOf {
			switch cuts := r.ShoeCuts(); {
			case r.Job != nil && r.Job.NoShoe:
				return cellOf{words: "none"}
			case r.Kept != nil:
				return cellOf{words: "the old one stays"}
			case len(cuts) == 0:
				return cellOf{words: toBeMeasured}
			case len(cuts) == 1:
				return cellOf{words: say("%s %s", w.book.near(cuts[0].Length), w.book.unit()), fig: cuts[0].Figure}
			default:
				var list []markup
				for _, c := range cuts {
					list = append(list, w.book.near(c.Length))
				}
				return cellOf{words: say("%s %s", joined(" and ", list...), w.book.unit())}
			}
		}},
	}
}

// wholeRows are the lines of the whole job, in order.
var wholeRows = []row[*plan.Plan]{
	{"can it be built", func(w *way, _ *plan.Plan) cellOf {
		a := w.book.answer()
		return cellOf{words: verdictMark(a.verdict, a.words)}
	}},
	{"balusters in all", func(_ *way, p *plan.Plan) cellOf {
		n, note := 0, markup("")
		for _, r := range p.Layout.Runs {
			if r.Chosen == nil {
				note = "as far as runs are laid out"
				continue
			}
			n += r.Chosen.Count
		}
		return cellOf{words: say("%d", n), note: note}
	}},
	{"newels", func(w *way, _ *plan.Plan) cellOf { return cellOf{words: esc(newelsOf(w.book.job))} }},
	{"rules", func(w *way, _ *plan.Plan) cellOf {
		if r := w.book.job.Rules; r != nil {
			return cellOf{words: esc(r.Title.Or(job.Text{Text: r.Name}).Text)}
		}
		return cellOf{words: toBeMeasured}
	}},
	{"finish", func(w *way, _ *plan.Plan) cellOf {
		var list []string
		for _, f := range w.book.job.Finishes {
			if f.Part != nil {
				list = append(list, f.Group+": "+f.Part.Title.Or(job.Text{Text: f.Part.Name}).Text)
			}
		}
		return cellOf{words: esc(strings.Join(list, "; "))}
	}},
	{"checks that fail", counting(finding.Fail)},
	{"checks that wait for a reading", counting(finding.ToBeMeasured)},
	{"to ask the authority", counting(finding.AskAuthority)},
	{"to be measured or decided", func(_ *way, p *plan.Plan) cellOf { return cellOf{words: say("%d", len(p.Missing))} }},
	{"working time", func(_ *way, p *plan.Plan) cellOf {
		c := cellOf{words: esc(duration(p.Sequence.Minutes))}
		for _, s := range p.Sequence.Steps {
			if s.Waits != "" {
				c.note = "as far as counts are known"
			}
		}
		return c
	}},
	{"to buy", func(w *way, p *plan.Plan) cellOf {
		if len(p.Buying.Orders) == 0 {
			return cellOf{words: "nothing yet"}
		}
		note := ""
		if !p.Buying.Complete {
			note = "as far as prices and counts are known"
			if open := notPriced(p); len(open) > 0 {
				note += "; not yet whole: " + listed(open)
			}
		}
		return cellOf{w.book.cash(p.Buying.Known), p.Buying.Figure, esc(note)}
	}},
	{"price", func(w *way, p *plan.Plan) cellOf {
		c := cellOf{words: w.book.cash(p.Price.Total), fig: p.Price.Figure}
		switch {
		case !p.Price.Known:
			c = cellOf{words: "not known yet"}
		case !p.Price.Complete:
			c.note = "at the least"
		}
		return c
	}},
}

// moneyRows are the lines of sums of money, which no edition has.
var moneyRows = []string{"to buy", "price"}

// notPriced names what a sum of orders does not hold yet, or not all of.
func notPriced(p *plan.Plan) (titles []string) {
	add := func(title, name string) {
		if title == "" {
			title = name
		}
		if !slices.Contains(titles, title) {
			titles = append(titles, title)
		}
	}
	for _, n := range p.Takeoff.Needs {
		if !n.Complete {
			add(n.Title, n.Part)
		}
	}
	for _, o := range p.Buying.Orders {
		for _, l := range o.Lines {
			if !l.Complete || !l.Each.Given {
				add(l.Title, l.Part)
			}
		}
	}
	return titles
}

// counting counts the checks of what is to be built that come to a verdict.
func counting(v finding.Verdict) func(*way, *plan.Plan) cellOf {
	return func(_ *way, p *plan.Plan) cellOf {
		return cellOf{words: say("%d", verdicts(p, v))}
	}
}

// balusterOf names a run's baluster; empty while none is chosen.
func balusterOf(r *layout.Run) string {
	if r.Job == nil || r.Job.Baluster == nil {
		return ""
	}
	return r.Job.Baluster.Title.Or(job.Text{Text: r.Job.Baluster.Name}).Text
}

// newelsOf counts the newels of a job, each sort once, in the order of its posts.
func newelsOf(j *job.Job) string {
	var names []string
	count := map[string]int{}
	for _, p := range j.Posts {
		name := "not chosen yet"
		if p.Part != nil {
			name = p.Part.Title.Or(job.Text{Text: p.Part.Name}).Text
		}
		if j.Stays(&p) {
			name += " that stays"
		}
		if count[name]++; count[name] == 1 {
			names = append(names, name)
		}
	}
	for i, name := range names {
		names[i] = fmt.Sprintf("%d × %s", count[name], name)
	}
	return strings.Join(names, "; ")
}

func idOf(f *working.Figure) string {
	if f == nil {
		return ""
	}
	return f.ID
}

// worstFigure is the id of the working of a run's worst opening.
func worstFigure(r *layout.Run) string {
	for _, o := range r.Openings {
		if o.Worst == r.Chosen.Worst {
			return o.Figure
		}
	}
	return ""
}

// compare sets the ways side by side; nil where there is only the job as drawn.
func (b *book) compare() *comparison {
	if b.compared != nil || len(b.plan.Alternatives) == 0 {
		return b.compared
	}
	c := &comparison{ways: []*way{{title: "As drawn", plan: b.plan, book: b}}}
	b.compared = c
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
	same := map[string]bool{}
	var walk func(id string)
	walk = func(id string) {
		f := w.plan.Figure(id)
		if f == nil || numbers[id] > 0 || anchors[id] != "" {
			return
		}
		if sameWorking(f, b.plan, w.plan, same) {
			numbers[id] = b.figures[id]
			return
		}
		if anchors[id] = figureAnchor("alt/" + w.of.Name + "/" + id); f.Expr == nil {
			return
		}
		for _, in := range f.Inputs() {
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

// sameWorking reports that a figure of an alternative is worked out as in the job as drawn: the same formula from the same numbers, from the same places.
func sameWorking(f *working.Figure, base, other *plan.Plan, known map[string]bool) bool {
	if is, ok := known[f.ID]; ok {
		return is
	}
	known[f.ID] = true // until it is known better: no figure rests on itself
	g := base.Figure(f.ID)
	is := g != nil && f.Title == g.Title && f.Unit == g.Unit && f.Note == g.Note && f.Result() == g.Result() && (f.Expr == nil) == (g.Expr == nil) && slices.Equal(f.Cites, g.Cites) && series(f) == series(g)
	if is && f.Expr != nil {
		mine, its := f.Inputs(), g.Inputs()
		is = f.Symbols() == g.Symbols() && f.Numbers() == g.Numbers() && len(mine) == len(its)
		for i := 0; is && i < len(mine); i++ {
			is = mine[i].Name == its[i].Name && mine[i].From == its[i].From && mine[i].At == its[i].At && mine[i].Figure == its[i].Figure
			if in := other.Figure(mine[i].Figure); is && in != nil {
				is = sameWorking(in, base, other, known)
			}
		}
	}
	known[f.ID] = is
	return is
}

// alternativesPage sets the ways to build the job side by side; what differs is marked.
func (b *book) alternativesPage() markup {
	c := b.compare()
	if c == nil {
		return ""
	}
	var w writer
	w.line("The same readings, laid out, judged, cut, bought, timed and priced once more for each way. ≠ marks what is not as drawn. The rest of the book is of the job as drawn.")
	for _, a := range b.plan.Alternatives {
		w.say(`<section id="alternative-%s"><h2>%s</h2>`+"\n", anchor(a.Of.Name), wayTitle(a.Of))
		if i := slices.IndexFunc(c.ways, func(x *way) bool { return x.of == a.Of }); i > 0 {
			answer := c.ways[i].book.answer()
			w.put("<p>", verdictMark(answer.verdict, answer.words), "</p>\n", b.prose(a.Of.Prose.Document), b.changes(a.Of), c.outcome(i))
		} else {
			w.put(b.prose(a.Of.Prose.Document), b.changes(a.Of))
			w.line("It cannot be planned: see the problems.")
		}
		w.put("</section>\n")
	}
	w.put(c.sideBySide(b), c.drawings(b))
	return w.markup()
}

// changes are the keys that an alternative lays over the job.
func (b *book) changes(a *job.Alternative) markup {
	if len(a.Changes) == 0 {
		return "<p>It changes nothing.</p>\n"
	}
	var w writer
	w.put("<p>Changes:</p>\n<ul>\n")
	for _, c := range a.Changes {
		value := esc(c.Value)
		if c.Value == "" {
			value = "left blank"
		}
		w.say("<li>%s, %s: %s, %s</li>\n", c.Of, c.Key, b.recorded(c.At, value), b.where(c.At))
	}
	w.put("</ul>\n")
	return w.markup()
}

// outcome is what comes of an alternative that does not come of the job as drawn: in words, and for a phone line by line.
func (c *comparison) outcome(i int) markup {
	x := c.ways[i]
	var w writer
	w.put(x.findings("Fails, and does not as drawn:", x.fails), x.findings("Not settled, and settled as drawn:", x.waits))
	if len(x.asks) > 0 {
		w.put("<p>To be measured or decided, and not as drawn:</p>\n", x.book.missingList(x.asks))
	}
	differs := false
	for _, g := range c.groups {
		p := pairs{class: "facts"}
		for _, r := range g.rows {
			if r.differs(i) {
				p.add(r.label, c.linked(r, i)+say(`<span class="fit">as drawn %s</span>`, c.linked(r, 0)))
			}
		}
		if len(p.list) > 0 {
			differs = true
			w.say("<div class=\"phone\"><h3>%s</h3>\n%s</div>\n", g.title, p.markup())
		}
	}
	if !differs {
		w.line("Nothing comes out otherwise than as drawn.")
	}
	return w.markup()
}

func (x *way) findings(title string, list []finding.Finding) markup {
	if len(list) == 0 {
		return ""
	}
	var w writer
	w.say("<p>%s</p>\n<ul>\n", title)
	for _, f := range list {
		w.put("<li>", verdictMark(f.Verdict, f.Verdict.String()), ": ", joined(". ", joined(", ", esc(f.Title), esc(x.book.groupTitle(f.Group))), x.book.comparedWith(f), esc(strings.TrimSuffix(sentence(f.Note), "."))), ".")
		if f.Cure != "" {
			w.say(" What would cure it: %s", sentence(f.Cure))
		}
		w.put("</li>\n")
	}
	w.put("</ul>\n")
	return w.markup()
}

// linked is a cell with its working behind it, marked where it is not as drawn.
func (c *comparison) linked(r compared, i int) markup {
	cell := r.cells[i]
	m := c.ways[i].book.figured(cell.fig, cell.words)
	if m == "" {
		m = "none"
	}
	if r.differs(i) {
		m = say("<b>≠ %s</b>", m)
	}
	if cell.note != "" {
		m += say(`<span class="fit">%s</span>`, cell.note)
	}
	return m
}

// sideBySide is a table for each run and one for the whole job, for a desk or paper. Lines that are alike in all are one sentence below.
func (c *comparison) sideBySide(b *book) markup {
	var w writer
	var alike []markup
	for _, g := range c.groups {
		t := table{label: "Side by side", heads: []head{column("")}, class: "alternatives"}
		if g.run != "" {
			t.label = b.runTitle(g.run)
		} else {
			t.label = "The whole job"
		}
		for _, x := range c.ways {
			t.heads = append(t.heads, column(x.title))
		}
		var same []markup
		for _, r := range g.rows {
			if r.alike() {
				if words := r.cells[0].words; words != "" {
					same = append(same, joined(", ", say("%s %s", r.label, b.figured(r.cells[0].fig, words)), r.cells[0].note))
				}
				continue
			}
			cells := []markup{esc(r.label)}
			for i := range c.ways {
				cells = append(cells, c.linked(r, i))
			}
			t.row(cells...)
		}
		w.put(t.markup())
		if len(same) > 0 {
			alike = append(alike, say("<li>%s: %s</li>\n", g.title, joined("; ", same...)))
		}
	}
	out := say(`<section id="side-by-side"><h2>Side by side</h2>`+"\n<div class=\"wide\">\n%s</div>\n", w.markup())
	if len(alike) > 0 {
		out += say("<p>Alike in all:</p>\n<ul>\n%s</ul>\n", joined("", alike...))
	}
	return out + "</section>\n"
}

// drawings are the elevations of the run that changes most, one below the other at one scale where they fit.
func (c *comparison) drawings(b *book) markup {
	name, most := "", 0
	for _, g := range c.groups {
		changes := 0
		for _, r := range g.rows {
			for i := range c.ways {
				if g.run != "" && r.differs(i) {
					changes++
				}
			}
		}
		if changes > most {
			name, most = g.run, changes
		}
	}
	if name == "" {
		return ""
	}
	draws := func(width int, tag string) (list []string) {
		for i, x := range c.ways {
			if r := x.book.run(name); r != nil && r.Chosen != nil {
				one := *r
				one.ID += fmt.Sprintf("-way-%d-%s", i, tag) // ids in the drawing are the run's
				list = append(list, draw.Panels(&one, x.book.style(), width)[:1]...)
			} else {
				list = append(list, "")
			}
		}
		return list
	}
	wide, phone := draws(sheetWidth, "sheet"), draws(phoneWidth, "phone")
	var w writer
	for i, x := range c.ways {
		if wide[i] == "" {
			w.say("<h3>%s</h3>\n<p>%s cannot be laid out yet.</p>\n", x.title, b.runTitle(name))
			continue
		}
		w.say("<h3>%s</h3>\n<div class=\"wide\">\n%s</div>\n<div class=\"phone\">\n%s</div>\n", x.title, joined("", x.book.sheets(wide[i:i+1])...), joined("", panels(phone[i:i+1])...))
	}
	return say(`<section id="alternative-drawings"><h2>%s, drawn each way</h2>`+"\n%s</section>\n", b.runTitle(name), w.markup())
}

// alternativeWorkings are the workings of alternatives that are not those of the job as drawn.
func (b *book) alternativeWorkings() markup {
	c := b.compare()
	if c == nil {
		return ""
	}
	var w writer
	for _, x := range c.ways[1:] {
		before := ""
		for _, f := range x.printed {
			if group := figureGroup(f.ID); group != before {
				if before != "" {
					w.put("</section>\n")
				}
				before = group
				w.say("<section><h2>%s: %s</h2>\n", x.title, x.book.groupTitle(group))
			}
			w.put(x.book.working(x.book.figures[f.ID], f))
		}
		if before != "" {
			w.put("</section>\n")
		}
	}
	return w.markup()
}
