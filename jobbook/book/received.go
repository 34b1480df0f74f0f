package book

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/job"
)

// receivedPage is what was delivered against what is needed, the real sizes, and what they change.
func (b *book) receivedPage() markup {
	if len(b.job.Deliveries) == 0 {
		return ""
	}
	var w writer
	w.put(b.failing(""))
	w.line("The whole book goes by the sizes below, where they were read. Nothing is cut before every part of the job is there and gauged.")
	w.put(b.stillToCome())
	for _, x := range b.job.Deliveries {
		w.put(b.delivery(x))
	}
	w.put(b.batches(), b.realSizes())
	return w.markup()
}

// stillToCome lists the parts of which nothing was delivered, or not enough.
func (b *book) stillToCome() markup {
	var list []string
	for _, o := range b.plan.Buying.Orders {
		for _, l := range o.Lines {
			if !slices.Contains(list, l.Title) {
				list = append(list, l.Title)
			}
		}
	}
	if len(list) == 0 {
		return "<p>Everything that is bought is there.</p>\n"
	}
	return say("<p>Still to come, or to be ordered again: %s. See the buying list.</p>\n", strings.Join(list, "; "))
}

func (b *book) delivery(x *job.Delivery) markup {
	var w writer
	w.say(`<section id="%s"><h2>%s</h2>`+"\n", deliveryAnchor(x), x.Title.Or(job.Text{Text: x.Name}).Text)
	var p pairs
	if x.Received.Given {
		p.add("Came", b.recorded(x.Received.At, esc(dayWords(x.Received.Text))))
	}
	p.add("From", b.words(x.From))
	w.put(p.markup())
	t := table{label: "What came", heads: []head{column("Part"), num("Came", ""), num("Usable", ""), column("Measured")}}
	for _, r := range x.Items {
		came, usable := toBeMeasured, markup("")
		switch {
		case len(r.Sticks) > 0:
			came, usable = say("%d", len(r.Sticks)), "sticks"
		case r.Count.Given:
			came, usable = b.recorded(r.Count.At, say("%d", r.Count.N)), say("%d", r.Usable())
		}
		t.row(esc(r.Part.Text), came, usable, b.measuredOf(r))
	}
	w.put(t.markup(), b.prose(x.Prose.Document), "</section>\n")
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
	add("high", r.High)
	add("thick", r.Thick)
	add("long", r.Long)
	add("plow wide", r.Plow.Wide)
	add("plow deep", r.Plow.Deep)
	add("bow", r.Bow)
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
	var parts []string
	of := map[string][]string{}
	for _, x := range b.job.Deliveries {
		for _, r := range x.Items {
			if !r.Batch.Given || slices.Contains(of[r.Part.Text], r.Batch.Text) {
				continue
			}
			if of[r.Part.Text] == nil {
				parts = append(parts, r.Part.Text)
			}
			of[r.Part.Text] = append(of[r.Part.Text], r.Batch.Text)
		}
	}
	var w writer
	for _, part := range parts {
		if len(of[part]) > 1 {
			w.say("<p>%s came in %d colours (%s): sort them before anything is cut, one colour to a run, and what is seen together alike.</p>\n", part, len(of[part]), strings.Join(of[part], ", "))
		}
	}
	return w.markup()
}

// realSizes sets the plan on the written sizes beside the one on the real ones.
func (b *book) realSizes() markup {
	if b.plan.Written == nil {
		return ""
	}
	ways := []*way{{title: "As written", plan: b.plan.Written, book: newBook(b.plan.Written, b.frames)}, {title: "As delivered", plan: b.plan, book: b}}
	t := table{label: "What the real sizes change", heads: []head{column("Compared"), column(ways[0].title), column(ways[1].title)}}
	for _, g := range b.comparedIn(ways) {
		for _, c := range g.rows {
			if c.differs(1) {
				t.row(joined(": ", g.title, esc(c.label)), joined(", ", c.cells[0].words, c.cells[0].note), joined(", ", say("<b>%s</b>", b.figured(c.cells[1].fig, c.cells[1].words)), c.cells[1].note))
			}
		}
	}
	if len(t.rows) == 0 {
		return `<section id="real-sizes"><h2>What the real sizes change</h2>` + "\n<p>No count, gap, opening or cost.</p>\n</section>\n"
	}
	return `<section id="real-sizes"><h2>What the real sizes change</h2>` + "\n" + t.markup() + "</section>\n"
}
