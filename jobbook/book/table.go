package book

// table is a table of a page. Cells are markup; a column of numbers carries its unit once, in its head.
type table struct {
	label string // what it holds, for a reader who cannot see it
	heads []head
	rows  [][]markup
	foot  string // a sentence under it
	wide  bool   // too wide for a phone: it scrolls inside its own frame
	long  bool   // may be split between rows on paper
	stack bool   // on a phone its cells stand below each other, each with its head: nothing is to be scrolled for
	class string
}

type head struct {
	text string
	unit string
	num  bool
}

// column and num are the two sorts of column.
func column(title string) head { return head{text: title} }

func num(title, unit string) head { return head{text: title, unit: unit, num: true} }

func (t *table) row(cells ...markup) { t.rows = append(t.rows, cells) }

// markup writes the table, and nothing where it has no rows.
func (t *table) markup() markup {
	var w writer
	t.put(&w)
	return w.markup()
}

// put writes the table where it stands.
func (t *table) put(w *writer) {
	if len(t.rows) == 0 {
		return
	}
	t.open(w)
	for _, row := range t.rows {
		w.put("<tr>")
		for i, cell := range row {
			w.put("<td")
			if i < len(t.heads) && t.heads[i].num {
				w.put(` class="num"`)
			}
			if t.stack && i < len(t.heads) {
				w.put(` data-head="`)
				w.text(t.heads[i].text)
				w.put(`"`)
			}
			w.put(">", cell, "</td>")
		}
		w.put("</tr>\n")
	}
	t.close(w)
}

// open writes what stands above the rows.
func (t *table) open(w *writer) {
	switch {
	case t.wide:
		w.say(`<div class="scroll" role="group" tabindex="0" aria-label="%s">`, t.label+", scrolls sideways")
	default:
		w.put(`<div class="scroll">`)
	}
	class := t.class
	if t.long {
		class += " long"
	}
	if t.stack {
		class += " stack"
	}
	w.put(`<table class="`)
	w.text(class)
	w.put("\">\n<caption>")
	w.text(t.label)
	w.put("</caption>\n<thead><tr>")
	for _, h := range t.heads {
		w.put(`<th scope="col"`)
		if h.num {
			w.put(` class="num"`)
		}
		w.put(">")
		w.text(h.text)
		if h.unit != "" {
			w.put(` <span class="unit">(`)
			w.text(h.unit)
			w.put(")</span>")
		}
		w.put("</th>")
	}
	w.put("</tr></thead>\n<tbody>\n")
}

// close writes what stands below them.
func (t *table) close(w *writer) {
	w.put("</tbody></table></div>\n")
	w.line(t.foot)
}

// pairs is a list of names and values.
type pairs struct {
	class string
	list  [][2]markup
}

// add takes a pair; one without a value is left out, and a second value of a name stands below the first.
func (p *pairs) add(name string, value markup) {
	if value == "" {
		return
	}
	title := esc(name)
	for i, e := range p.list {
		if e[0] == title {
			p.list[i][1] += "</dd><dd>" + value
			return
		}
	}
	p.list = append(p.list, [2]markup{title, value})
}

func (p *pairs) markup() markup {
	var w writer
	p.put(&w)
	return w.markup()
}

// put writes the list where it stands, and nothing where it has no names.
func (p *pairs) put(w *writer) {
	if len(p.list) == 0 {
		return
	}
	w.say(`<dl class="%s">`+"\n", p.class)
	for _, e := range p.list {
		w.put("<div><dt>", e[0], "</dt><dd>", e[1], "</dd></div>\n")
	}
	w.put("</dl>\n")
}
