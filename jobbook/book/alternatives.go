package book

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
)

// alternativesPage sets the ways to build the job side by side; what differs is marked.
func (b *book) alternativesPage(w *writer) {
	c := b.compare()
	if c == nil {
		return
	}
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
	w.put(c.sideBySide(b))
	c.drawings(w, b)
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
			w.say("<div class=\"phone\"><h3>%s</h3>\n%s</div>\n", g.title, &p)
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
		t.put(&w)
		if len(same) > 0 {
			alike = append(alike, say("<li>%s: %s</li>\n", g.title, joined("; ", same...)))
		}
	}
	out := say(`<section id="side-by-side"><h2>Side by side</h2>`+"\n<div class=\"wide\">\n%s</div>\n", &w)
	if len(alike) > 0 {
		out += say("<p>Alike in all:</p>\n<ul>\n%s</ul>\n", joined("", alike...))
	}
	return out + "</section>\n"
}

// drawings are the elevations of the run that changes most, one below the other at one scale where they fit.
func (c *comparison) drawings(w *writer, b *book) {
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
		return
	}
	draws := func(width int, tag string) (list []string) {
		for i, x := range c.ways {
			if r := x.book.run(name); r != nil && r.Chosen != nil {
				one := *r
				one.ID += fmt.Sprintf("-way-%d-%s", i, tag) // ids in the drawing are the run's
				list = append(list, draw.Panel(&one, x.book.style(), width))
			} else {
				list = append(list, "")
			}
		}
		return list
	}
	wide, phone := draws(sheetWidth, "sheet"), draws(phoneWidth, "phone")
	w.say(`<section id="alternative-drawings"><h2>%s, drawn each way</h2>`+"\n", b.runTitle(name))
	for i, x := range c.ways {
		if wide[i] == "" {
			w.say("<h3>%s</h3>\n<p>%s cannot be laid out yet.</p>\n", x.title, b.runTitle(name))
			continue
		}
		w.say("<h3>%s</h3>\n", x.title)
		w.put(sized(x.book.sheets(wide[i:i+1]), panels(phone[i:i+1]))...)
	}
	w.put("</section>\n")
}

// alternativeWorkings are the workings of alternatives that are not those of the job as drawn.
func (b *book) alternativeWorkings(w *writer) {
	c := b.compare()
	if c == nil {
		return
	}
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
			x.book.working(w, x.book.figures[f.ID], f)
		}
		if before != "" {
			w.put("</section>\n")
		}
	}
}
