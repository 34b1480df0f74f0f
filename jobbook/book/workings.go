package book

import (
	"strings"
	"sync"

	"balustrade/jobbook/working"
)

// workingPage is how every number came about.
func (b *book) workingPage(w *writer) {
	if len(b.plan.Figures) == 0 {
		return
	}
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
		b.working(w, i+1, f)
	}
	w.put("</section>\n")
	if b.edition == Whole {
		b.alternativeWorkings(w)
	}
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

// working writes how a figure came about.
func (b *book) working(w *writer, n int, f *working.Figure) {
	w.put(`<section class="working" id="`)
	b.putAnchor(w, f.ID)
	w.put(`"><h3>w`)
	w.number(int64(n))
	w.put(". ")
	w.text(capital(f.Title))
	w.put("</h3>\n")
	formula := func(is string) {
		w.put(`<p class="formula">`)
		w.text(f.Symbol)
		w.put(" = ")
		w.text(is)
		w.put("</p>\n")
	}
	if f.Expr != nil {
		p := b.print(f)
		formula(p.symbols)
		formula(p.numbers)
	}
	switch {
	case f.Series != nil:
	case !f.Value.Known():
		w.put("<p>It has no value as the readings stand.</p>\n")
	default:
		formula(strings.TrimSpace(f.Result() + " " + f.Unit))
	}
	if f.Expr != nil {
		b.inputs(w, f)
	}
	putSeries(w, f)
	for i, c := range f.Cites {
		if i == 0 {
			w.put("<p>Rests on: ")
		} else {
			w.put("; ")
		}
		w.text(c.Text)
		w.put(" (")
		w.text(c.Status.String())
		w.put(")")
	}
	if len(f.Cites) > 0 {
		w.put(".</p>\n")
	}
	w.line(sentence(f.Note))
	w.put("</section>\n")
}

// printed is a formula in symbols and in numbers, and what goes into it.
type printed struct {
	symbols, numbers string
	inputs           []*working.Input
	values           []string // of the inputs; empty where one is to be measured
}

// formulas are those that were printed so far. Each is printed once: for the page of workings, for each alternative that may have the same, and for the plan as data.
type formulas struct{ known sync.Map } // *working.Figure to *printed

func (x *formulas) print(f *working.Figure) *printed {
	if p, ok := x.known.Load(f); ok {
		return p.(*printed)
	}
	p := &printed{symbols: f.Symbols(), numbers: f.Numbers(), inputs: f.Inputs()}
	p.values = make([]string, len(p.inputs))
	for i, in := range p.inputs {
		if in.Value.Known() {
			p.values[i] = working.Decimal(in.Value)
		}
	}
	x.known.Store(f, p)
	return p
}

func (b *book) print(f *working.Figure) *printed { return b.formulas.print(f) }

var inputHeads = []head{column("Symbol"), num("Value", ""), column("What, and where it is from")}

// inputs is what goes into a formula, and where each comes from. A book has thousands of such lines: they are written where they stand.
func (b *book) inputs(w *writer, f *working.Figure) {
	p := b.print(f)
	if len(p.inputs) == 0 {
		return
	}
	t := table{label: "Put in", heads: inputHeads, class: "inputs"}
	t.open(w)
	for i, in := range p.inputs {
		w.put("<tr><td>")
		w.text(in.Symbol)
		w.put(`</td><td class="num">`)
		if p.values[i] != "" {
			w.text(p.values[i])
		} else {
			w.put("to be measured")
		}
		if unit := strings.TrimSpace(in.Unit); unit != "" {
			w.put(" ")
			w.text(unit)
		}
		w.put("</td><td>")
		b.input(w, in)
		w.put("</td></tr>\n")
	}
	t.close(w)
}

// input is what goes in, and where it comes from.
func (b *book) input(w *writer, in *working.Input) {
	w.text(in.Name)
	w.put(`<span class="fit">`)
	from := w.Len()
	switch {
	case in.Figure != "":
		if n, ok := b.figures[in.Figure]; ok {
			w.put(`<a href="#`)
			b.putAnchor(w, in.Figure)
			w.put(`">w`)
			w.number(int64(n))
			w.put("</a>")
		} else {
			w.put("worked out")
		}
	case !in.At.IsZero() && b.edition != Inspector:
		b.putWhere(w, in.At)
	}
	if in.From != "" && w.Len() > from {
		w.put(", ")
	}
	w.text(in.From)
	w.put("</span>")
}

// series is the rows of a formula that stands for many numbers.
func series(f *working.Figure) markup {
	var w writer
	putSeries(&w, f)
	return w.markup()
}

// putSeries writes them where they stand.
func putSeries(w *writer, f *working.Figure) {
	if f.Series == nil || len(f.Series.Rows) == 0 {
		return
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
	t.open(w)
	for _, r := range f.Series.Rows {
		w.put("<tr>")
		for _, v := range r.Vars {
			w.put(`<td class="num">`)
			w.text(working.Decimal(v))
			w.put("</td>")
		}
		w.put(`<td class="num">`)
		if r.Value.Known() {
			w.text(working.Decimal(r.Value))
		} else {
			w.put("no value")
		}
		w.put("</td></tr>\n")
	}
	t.close(w)
}
