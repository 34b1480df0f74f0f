package book

import (
	"strings"

	"balustrade/jobbook/working"
)

// workingPage is how every number came about.
func (b *book) workingPage() markup {
	if len(b.plan.Figures) == 0 {
		return ""
	}
	var w writer
	w.put("<p>Each number with its formula, the numbers put in, and where they were written. On paper a small w and a number beside a figure lead here.</p>\n")
	before := "\x00"
	for i, f := range b.plan.Figures {
		if b.cited != nil && !b.cited[f.ID] {
			continue
		}
		if group := figureGroup(f.ID); group != before {
			if before != "\x00" {
				w.put("</section>\n")
			}
			before = group
			w.say("<section><h2>%s</h2>\n", b.groupTitle(group))
		}
		w.put(b.working(i+1, f))
	}
	w.put("</section>\n")
	if b.edition == Whole {
		w.put(b.alternativeWorkings())
	}
	return w.markup()
}

// figureGroup is what a figure belongs to: run/gallery for run/gallery/gap, takeoff for takeoff/balusters.
func figureGroup(id string) string {
	kind, rest, _ := strings.Cut(id, "/")
	if kind == "run" || kind == "post" || kind == "survey" || kind == "as-built" {
		name, _, _ := strings.Cut(rest, "/")
		return kind + "/" + name
	}
	return kind
}

func (b *book) working(n int, f *working.Figure) markup {
	var w writer
	w.say(`<section class="working" id="%s"><h3>w%d. %s</h3>`+"\n", b.workingAnchor(f.ID), n, capital(f.Title))
	if f.Expr != nil {
		w.say(`<p class="formula">%s = %s</p>`+"\n", f.Symbol, f.Symbols())
		w.say(`<p class="formula">%s = %s</p>`+"\n", f.Symbol, f.Numbers())
	}
	switch {
	case f.Series != nil:
	case !f.Value.Known():
		w.put("<p>It has no value as the readings stand.</p>\n")
	default:
		w.say(`<p class="formula">%s = %s</p>`+"\n", f.Symbol, strings.TrimSpace(f.Result()+" "+f.Unit))
	}
	if f.Expr != nil {
		w.put(b.inputs(f))
	}
	w.put(series(f))
	var cites []markup
	for _, c := range f.Cites {
		cites = append(cites, say("%s (%s)", c.Text, c.Status.String()))
	}
	if len(cites) > 0 {
		w.put("<p>Rests on: ", joined("; ", cites...), ".</p>\n")
	}
	w.line(sentence(f.Note))
	w.put("</section>\n")
	return w.markup()
}

// inputs is what goes into a formula, and where each comes from.
func (b *book) inputs(f *working.Figure) markup {
	t := table{label: "Put in", heads: []head{column("Symbol"), num("Value", ""), column("What, and where it is from")}, class: "inputs"}
	for _, in := range f.Inputs() {
		var from markup
		switch {
		case in.Figure != "":
			from = esc("worked out")
			if n, ok := b.figures[in.Figure]; ok {
				from = say(`<a href="#%s">w%d</a>`, b.workingAnchor(in.Figure), n)
			}
			from = joined(", ", from, esc(in.From))
		case !in.At.IsZero():
			from = joined(", ", b.where(in.At), esc(in.From))
		default:
			from = esc(in.From)
		}
		value := working.Decimal(in.Value)
		if !in.Value.Known() {
			value = "to be measured"
		}
		t.row(esc(in.Symbol), esc(strings.TrimSpace(value+" "+in.Unit)), say(`%s<span class="fit">%s</span>`, in.Name, from))
	}
	return t.markup()
}

// series is the rows of a formula that stands for many numbers.
func series(f *working.Figure) markup {
	if f.Series == nil {
		return ""
	}
	const fits = 3 // columns of figures, with their result, on a phone
	t := table{label: "Row by row", long: true, wide: len(f.Series.Vars) > fits}
	for i, v := range f.Series.Vars {
		name := v
		if i < len(f.Series.Names) && f.Series.Names[i] != "" {
			name = v + ", " + f.Series.Names[i]
		}
		t.heads = append(t.heads, num(name, ""))
	}
	t.heads = append(t.heads, num(f.Symbol, f.Unit))
	for _, r := range f.Series.Rows {
		var cells []markup
		for _, v := range r.Vars {
			cells = append(cells, esc(working.Decimal(v)))
		}
		value := esc(working.Decimal(r.Value))
		if !r.Value.Known() {
			value = "no value"
		}
		t.row(append(cells, value)...)
	}
	return t.markup()
}
