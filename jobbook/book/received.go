package book

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/takeoff"
)

// receivedPage is what was delivered against what was ordered, the real sizes, and what they change.
func (b *book) receivedPage(w *writer) {
	if len(b.job.Deliveries) == 0 {
		return
	}
	w.put(b.failing(""))
	w.line("The whole book goes by the sizes below, where they were read.")
	w.put(b.narrow(), b.stillToCome(), b.notGauged(), b.against())
	for _, x := range b.job.Deliveries {
		w.put(b.delivery(x))
	}
	w.put(b.batches(), b.writtenAndReal(), b.realSizes())
}

// shaping are the kinds of part whose real sizes the layout rests on.
var shaping = []string{"baluster", "newel", "handrail", "shoe", "fillet", "rosette", "bolt"}

// stillToCome lists the parts of which nothing was delivered, or not enough.
func (b *book) stillToCome() markup {
	var parts, rest []string
	for _, o := range b.plan.Buying.Orders {
		for _, l := range o.Lines {
			list := &rest
			if slices.Contains(shaping, l.Kind) {
				list = &parts
			}
			if !slices.Contains(*list, l.Title) {
				*list = append(*list, l.Title)
			}
		}
	}
	var w writer
	if len(parts) > 0 {
		w.say("<p><b>Cut nothing</b> before these are there too, and gauged: %s. They are on the buying list.</p>\n", strings.Join(parts, "; "))
	}
	if len(rest) > 0 {
		w.say("<p>Still to come, too: %s.</p>\n", strings.Join(rest, "; "))
	}
	if w.Len() == 0 {
		w.put("<p>Everything that is bought is there.</p>\n")
	}
	return w.markup()
}

// notGauged lists what came and was not measured: the plan goes by the written size there, which may not be the real one.
func (b *book) notGauged() markup {
	var parts []string
	open := map[string][]string{}
	ask := func(name, what string, read bool) {
		if read {
			return
		}
		if open[name] == nil {
			parts = append(parts, name)
		}
		if !slices.Contains(open[name], what) {
			open[name] = append(open[name], what)
		}
	}
	for _, x := range b.job.Deliveries {
		for _, r := range x.Items {
			part, name := r.Part.Text, r.Part.Text
			kinds := b.job.Wares(part)
			if r.Batch.Given {
				name += " of batch " + r.Batch.Text
			}
			if r.Kind.Given {
				kinds = []string{r.Kind.Text}
			}
			if len(kinds) != 1 || r.Gone() {
				continue
			}
			switch kinds[0] {
			case "baluster":
				ask(name, "width as most of them are", r.Wide.Given)
				ask(name, "the narrowest", r.Narrowest.Given)
				ask(name, "the widest", r.Widest.Given)
				if i := slices.IndexFunc(b.plan.Job.Balusters, func(x *job.Baluster) bool { return x.Name == part }); i >= 0 && !b.plan.Job.Balusters[i].WaistOpen.IsZero() {
					ask(name, "the waist", r.Waist.Given)
				}
			case "newel":
				ask(name, "width", r.Wide.Given)
			case "handrail", "shoe":
				ask(name, "height", r.High.Given)
				if i := slices.IndexFunc(b.plowed(), func(p plowed) bool { return p.kind == kinds[0] && p.name == part }); i >= 0 {
					ask(name, "width of the plow", r.Plow.Wide.Given)
					ask(name, "depth of the plow", r.Plow.Deep.Given)
				}
			case "fillet":
				ask(name, "width", r.Wide.Given || r.Widest.Given)
				ask(name, "thickness", r.Thick.Given)
			case "rosette":
				ask(name, "thickness", r.Thick.Given)
			}
		}
	}
	if len(parts) == 0 {
		return ""
	}
	var list []string
	for _, name := range parts {
		list = append(list, name+": "+strings.Join(open[name], ", "))
	}
	return say("<p>Came, and still to be gauged, so that the written size stands for it: %s.</p>\n", strings.Join(list, "; "))
}

// plowed is a rail or a shoe with its groove.
type plowed struct {
	kind, name string
	plow       job.Plow
}

func (b *book) plowed() (list []plowed) {
	for _, h := range b.job.Handrails {
		if h.Plow.Wide.Given || h.Plow.Deep.Given {
			list = append(list, plowed{"handrail", h.Name, h.Plow})
		}
	}
	for _, s := range b.job.Shoes {
		if s.Plow.Wide.Given || s.Plow.Deep.Given {
			list = append(list, plowed{"shoe", s.Name, s.Plow})
		}
	}
	return list
}

// against sets what came against what was ordered, part by part.
func (b *book) against() markup {
	if b.plan.Written == nil {
		return ""
	}
	type row struct {
		kind, part, coat, title string
		bent                    bool // made to a radius
		ordered                 []markup
	}
	var rows []*row
	isBent := func(l takeoff.Line) bool {
		return slices.ContainsFunc(b.plan.Takeoff.Bent, func(x takeoff.Bent) bool { return x.Title == l.Title })
	}
	same := func(r *row, l takeoff.Line) bool {
		return r.kind == l.Kind && r.part == l.Part && r.coat == l.Coat && r.bent == isBent(l) && (!r.bent || r.title == l.Title)
	}
	of := func(l takeoff.Line) *row {
		for _, r := range rows {
			if same(r, l) {
				return r
			}
		}
		rows = append(rows, &row{kind: l.Kind, part: l.Part, coat: l.Coat, title: l.Title, bent: isBent(l)})
		return rows[len(rows)-1]
	}
	for _, o := range b.plan.Written.Buying.Orders {
		for _, l := range o.Lines {
			r := of(l)
			switch {
			case l.Long > 0:
				r.ordered = append(r.ordered, say("%d of %s", l.Count, b.feet(l.Long)))
			case l.Can.Given:
				r.ordered = append(r.ordered, say("%d of %s", l.Count, ratio(l.Can)))
			case l.Pack > 0:
				r.ordered = append(r.ordered, say("%d", l.Count*l.Pack))
			}
		}
	}
	t := table{label: "What came against what was ordered", wide: true, heads: []head{column("Part"), column("Ordered"), column("Came"), column("Usable"), column("Now")}}
	for _, r := range rows {
		came, usable, counted := 0, 0, false
		for _, x := range b.job.Came(r.kind, r.part) {
			switch {
			case r.bent:
			case x.Can.Given && (!x.Coat.Given || x.Coat.Text == r.coat):
				came, usable, counted = came+x.Count.N, usable+x.Usable(), true
			case len(x.Sticks) > 0:
				came, usable, counted = came+len(x.Sticks), usable+len(x.Sticks), true
			case x.Count.Given && !x.Can.Given && r.kind != "finish":
				came, usable, counted = came+x.Count.N, usable+x.Usable(), true
			}
		}
		for _, x := range b.plan.Takeoff.Bent {
			if r.bent && x.Title == r.title && b.job.BentCame(x.Kind, x.Part, b.plan.Takeoff.Pieces[x.Piece].Run) {
				came, usable, counted = came+1, usable+1, true
			}
		}
		var again []markup
		for _, o := range b.plan.Buying.Orders {
			for _, l := range o.Lines {
				if !same(r, l) {
					continue
				}
				switch {
				case l.Long > 0:
					again = append(again, say("%d of %s to order", l.Count, b.feet(l.Long)))
				case l.Can.Given:
					again = append(again, say("%d of %s to order", l.Count, ratio(l.Can)))
				case l.Pack > 0:
					again = append(again, say("%d to order", l.Count*l.Pack))
				default:
					again = append(again, "to order")
				}
			}
		}
		now := joined(", ", again...)
		switch {
		case len(again) == 0 && counted:
			now = "enough"
			for _, n := range b.plan.Takeoff.Needs {
				if more := usable - n.Count; n.Kind == r.kind && n.Part == r.part && n.Running == 0 && n.Complete && more > 0 {
					now = say("enough, %d more than needed", more)
				}
			}
		case len(again) == 0:
			now = "not needed on the real sizes"
		}
		cameWords, usableWords := say("%d", came), say("%d", usable)
		if !counted {
			cameWords, usableWords = "nothing yet", ""
		}
		ordered := joined(", ", r.ordered...)
		if ordered == "" {
			ordered = "size not known"
		}
		t.row(esc(r.title), ordered, cameWords, usableWords, now)
	}
	if len(t.rows) == 0 {
		return ""
	}
	return `<section id="against"><h2>What came against what was ordered</h2>` + "\n" + t.markup() + "</section>\n"
}

// writtenAndReal is every size that was read, beside the one in the part's file.
func (b *book) writtenAndReal() markup {
	if b.plan.Written == nil {
		return ""
	}
	t := table{label: "Written and real sizes", heads: []head{column("Part"), column("Size"), num("Written", b.unit()), num("Real", b.unit())}}
	for _, s := range b.job.RealSizes(b.plan.Written.Job) {
		written := markup("")
		if s.Written.Given {
			written = b.read(s.Written)
		}
		real := b.read(s.Real)
		if !s.Written.Given || s.Written.Length != s.Real.Length {
			real = "<b>" + real + "</b>"
		}
		t.row(esc(s.Title.Or(job.Text{Text: s.Part}).Text), esc(s.What), written, real)
	}
	if len(t.rows) == 0 {
		return ""
	}
	var w writer
	w.say(`<section id="written-and-real"><h2>Written and real sizes</h2>`+"\n%s", &t)
	w.line("Turned places stay as the part's file has them: only the foot and square blocks as wide as it take the width that was read.")
	w.put(b.unlikePlows(), "</section>\n")
	return w.markup()
}

// unlikePlows names runs whose rail and shoe came with grooves of two widths: the fillets of one do not fill the other.
func (b *book) unlikePlows() markup {
	var w writer
	seen := map[[2]string]bool{}
	for _, r := range b.job.Runs {
		if r.Shoe == nil || r.Handrail == nil || r.Baluster == nil || r.Baluster.Top.Text == "pin" {
			continue
		}
		rail, shoe := r.Handrail.Plow.Wide, r.Shoe.Plow.Wide
		key := [2]string{r.Handrail.Name, r.Shoe.Name}
		if !rail.Given || !shoe.Given || rail.Length == shoe.Length || seen[key] || r.RailFillet != r.ShoeFillet || r.RailFillet == nil { // where each has its own, the checks judge it
			continue
		}
		seen[key] = true
		w.say("<p>The plow of %s is %s wide, that of %s %s: rip the fillets to each, one width does not fill both; or name one for each, fillet: {rail: , shoe: }.</p>\n",
			r.Handrail.Title.Or(job.Text{Text: r.Handrail.Name}).Text, b.read(rail), r.Shoe.Title.Or(job.Text{Text: r.Shoe.Name}).Text, b.read(shoe))
	}
	return w.markup()
}

func (b *book) delivery(x *job.Delivery) markup {
	var w writer
	w.say(`<section id="%s"><h2>%s</h2>`+"\n", deliveryAnchor(x), x.Title.Or(job.Text{Text: x.Name}).Text)
	var p pairs
	if x.Received.Given {
		p.add("Came", b.recorded(x.Received.At, esc(dayWords(x.Received.Text))))
	}
	p.add("From", b.words(x.From))
	p.put(&w)
	t := table{label: "What came", heads: []head{column("Part"), num("Came", ""), num("Usable", ""), column("Measured")}}
	for _, r := range x.Items {
		came, usable := toBeMeasured, markup("")
		switch {
		case len(r.Sticks) > 0:
			came, usable = say("%d", len(r.Sticks)), say("%d", len(r.Sticks))
		case len(r.Bent) > 0:
			came, usable = "bent", "bent"
		case r.Count.Given:
			came, usable = b.recorded(r.Count.At, say("%d", r.Count.N)), say("%d", r.Usable())
		}
		t.row(esc(r.Part.Text), came, usable, b.measuredOf(r))
	}
	t.put(&w)
	w.put(b.prose(x.Prose.Document), "</section>\n")
	return w.markup()
}

func deliveryAnchor(x *job.Delivery) string { return "delivery-" + anchor(x.Name) }

// measuredOf is every size that was read of an item.
func (b *book) measuredOf(r job.Received) markup {
	var list []markup
	add := func(what string, m job.Measure) {
		if m.Given {
			list = append(list, say("%s %s", what, b.read(m)))
		}
	}
	add("wide", r.Wide)
	add("narrowest", r.Narrowest)
	add("widest", r.Widest)
	add("waist", r.Waist)
	add("high", r.High)
	add("thick", r.Thick)
	add("long", r.Long)
	add("plow wide", r.Plow.Wide)
	add("plow deep", r.Plow.Deep)
	add("pin wide", r.Pin.Wide)
	add("pin long", r.Pin.Long)
	add("bow", r.Bow)
	for _, run := range r.Bent {
		list = append(list, say("bent for %s", b.runTitle(run.Text)))
	}
	for i, m := range r.Sticks {
		add(fmt.Sprintf("stick %d", i+1), m)
	}
	if r.Can.Given {
		list = append(list, say("can of %s", ratio(r.Can)))
	}
	if r.Broken.N > 0 {
		list = append(list, say("%d broken", r.Broken.N))
	}
	if r.Back.N > 0 {
		list = append(list, say("%d sent back", r.Back.N))
	}
	for _, m := range r.Moisture {
		list = append(list, say("moisture %s", ratio(m)))
	}
	if r.Batch.Given {
		list = append(list, say("batch %s", r.Batch.Text))
	}
	if r.Note.Given {
		list = append(list, esc(r.Note.Text))
	}
	return joined(", ", list...)
}

// batches names the parts that came in more than one colour, and how they are sorted.
func (b *book) batches() markup {
	var w writer
	var done []string
	for _, x := range b.job.Deliveries {
		for _, r := range x.Items {
			if !r.Batch.Given || slices.Contains(done, r.Part.Text) {
				continue
			}
			done = append(done, r.Part.Text)
			lots := b.lots(r.Part.Text)
			if len(lots) < 2 {
				continue
			}
			var names []string
			for _, l := range lots {
				names = append(names, l.name)
			}
			w.say("<p>%s came in %d colours (%s): sort them before anything is cut, one colour to a run, and what is seen together alike.", r.Part.Text, len(lots), strings.Join(names, ", "))
			w.put(b.sorted(r.Part.Text, lots), "</p>\n")
		}
	}
	return w.markup()
}

// lot is what can be used of one colour.
type lot struct {
	name string
	left int
}

func (b *book) lots(part string) (list []lot) {
	for _, x := range b.job.Deliveries {
		for _, r := range x.Items {
			if r.Part.Text != part || !r.Batch.Given || r.Gone() {
				continue
			}
			i := slices.IndexFunc(list, func(l lot) bool { return l.name == r.Batch.Text })
			if i < 0 {
				i, list = len(list), append(list, lot{name: r.Batch.Text})
			}
			list[i].left += r.Usable()
		}
	}
	return list
}

// sorted gives every run that takes the balusters one colour: the longest runs first, each from the smallest lot that is enough for all of it.
func (b *book) sorted(part string, lots []lot) markup {
	type share struct {
		title string
		n     int
		from  string
	}
	var shares []*share
	for _, r := range b.plan.Layout.Runs {
		if r.Job.Baluster == nil || r.Job.Baluster.Name != part {
			continue
		}
		if r.Chosen == nil {
			return "" // what a run takes is not known yet
		}
		if r.Chosen.Count > 0 {
			shares = append(shares, &share{title: r.Title, n: r.Chosen.Count})
		}
	}
	if len(shares) == 0 {
		return ""
	}
	order := slices.Clone(shares)
	slices.SortStableFunc(order, func(x, y *share) int { return y.n - x.n })
	for _, s := range order {
		best := -1
		for i, l := range lots {
			if l.left >= s.n && (best < 0 || l.left < lots[best].left) {
				best = i
			}
		}
		if best >= 0 {
			s.from = lots[best].name
			lots[best].left -= s.n
		}
	}
	var list, split []string
	for _, s := range shares {
		if s.from != "" {
			list = append(list, fmt.Sprintf("%s takes %d of %s", s.title, s.n, s.from))
		} else {
			split = append(split, fmt.Sprintf("%s (%d)", s.title, s.n))
		}
	}
	words := markup("")
	if len(list) > 0 {
		words += say(" By count: %s.", strings.Join(list, "; "))
	}
	if len(split) > 0 {
		words += say(" No one colour is left that is enough for %s: change over where it is seen least, or ask for more of one.", strings.Join(split, ", "))
	}
	return words
}

// realSizes sets the plan on the written sizes beside the one on the real ones.
func (b *book) realSizes() markup {
	if b.plan.Written == nil {
		return ""
	}
	ways := []*way{{title: "As written", plan: b.plan.Written, book: newBook(b.plan.Written, b.frames)}, {title: "As delivered", plan: b.plan, book: b}}
	t := table{label: "What the real sizes change", heads: []head{column("Compared"), column(ways[0].title), column(ways[1].title)}}
	for _, g := range b.comparedIn(ways) {
		if g.run != "" {
			for _, x := range lengths {
				g.rows = append(g.rows, lineOf(ways, x.label, func(w *way) cellOf {
					if other := w.book.run(g.run); other != nil {
						return x.of(w, other)
					}
					return cellOf{words: toBeMeasured}
				}))
			}
		}
		for _, c := range g.rows {
			if c.differs(1) {
				t.row(joined(": ", g.title, esc(c.label)), joined(", ", c.cells[0].words, c.cells[0].note), joined(", ", say("<b>%s</b>", b.figured(c.cells[1].fig, c.cells[1].words)), c.cells[1].note))
			}
		}
	}
	if len(t.rows) == 0 {
		return `<section id="real-sizes"><h2>What the real sizes change</h2>` + "\n<p>No count, gap, opening, length or cost.</p>\n</section>\n"
	}
	return `<section id="real-sizes"><h2>What the real sizes change</h2>` + "\n" + t.markup() + "</section>\n"
}

// lengths are the lines of a run's cut lengths; that of the handrail is compared with the rest.
var lengths = []row[*layout.Run]{
	{"balusters, cut length", func(w *way, r *layout.Run) cellOf { return w.cutLengths(r.Balusters) }},
	{"shoe, cut length", func(w *way, r *layout.Run) cellOf { return w.cutLengths(r.ShoeCuts()) }},
}

func (w *way) cutLengths(cuts []layout.Cut) (cell cellOf) {
	var list []markup
	for _, c := range cuts {
		if text := w.book.near(c.Length); c.Length > 0 && !slices.Contains(list, text) {
			list, cell.fig = append(list, text), c.Figure
		}
	}
	if len(list) == 0 {
		return cellOf{words: toBeMeasured}
	}
	cell.words = say("%s %s", joined(", ", list...), w.book.unit())
	return cell
}
