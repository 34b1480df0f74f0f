package book

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/working"
)

// way is one way to build the job: as it is drawn, or an alternative.
type way struct {
	name  string // empty for the job as drawn
	title string
	plan  *plan.Plan
	book  *book // to write its lengths and money with
}

// compared is one line of the comparison: a cell for each way, and the working behind it.
type compared struct {
	label string
	cells []markup
	plain []string // the same for comparing
	figs  []*working.Figure
}

// ways are the job as drawn, and every alternative that can be planned.
func (b *book) ways() []way {
	list := []way{{title: "As drawn", plan: b.plan, book: b}}
	for _, a := range b.plan.Alternatives {
		if a.Plan == nil {
			continue
		}
		other := newBook(a.Plan, b.frames)
		list = append(list, way{a.Of.Name, a.Of.Title.Or(job.Text{Text: a.Of.Name}).Text, a.Plan, other})
	}
	return list
}

// row is one line: words for each way, and the figure that they rest on, if one.
func row(label string, ways []way, of func(way) (string, *working.Figure)) compared {
	c := compared{label: label}
	for _, w := range ways {
		words, f := of(w)
		c.plain, c.figs = append(c.plain, words), append(c.figs, f)
	}
	return c
}

// differs reports that a way is not as drawn.
func (c compared) differs(i int) bool { return c.plain[i] != c.plain[0] }

func (c compared) alike() bool {
	for i := range c.plain {
		if c.differs(i) {
			return false
		}
	}
	return true
}

// sideways is every line, run by run and then for the whole job.
func (b *book) sideways(ways []way) (list []compared) {
	for _, r := range b.plan.Layout.Runs {
		of := func(w way, words func(*layout.Run) (string, *working.Figure)) (string, *working.Figure) {
			if other := w.book.run(r.Name); other != nil && other.Chosen != nil {
				return words(other)
			}
			return "to be measured", nil
		}
		add := func(label string, words func(w way, r *layout.Run) (string, *working.Figure)) {
			list = append(list, row(r.Title+": "+label, ways, func(w way) (string, *working.Figure) {
				return of(w, func(other *layout.Run) (string, *working.Figure) { return words(w, other) })
			}))
		}
		add("balusters", func(_ way, r *layout.Run) (string, *working.Figure) {
			return joinedText(fmt.Sprint(r.Chosen.Count), balusterOf(r)), nil
		})
		add("gap", func(w way, r *layout.Run) (string, *working.Figure) {
			return w.book.plain(r.Chosen.Gap.Round(w.book.division, length.Nearest)), r.Gap
		})
		add("worst opening", func(w way, r *layout.Run) (string, *working.Figure) {
			return string(w.book.worst(r, r.Chosen.Worst)) + " " + b.unit() + ", " + r.Chosen.Verdict().String(), w.plan.Figure(worstFigure(r))
		})
		add("top of the rail", func(w way, r *layout.Run) (string, *working.Figure) {
			if r.Rake != nil {
				return w.book.plain(r.Rake.Top) + " over the nosings", nil
			}
			return w.book.plain(r.Levels.RailTop), nil
		})
	}
	count := func(v finding.Verdict) func(way) (string, *working.Figure) {
		return func(w way) (string, *working.Figure) {
			n := 0
			for _, f := range w.plan.Findings {
				if f.Verdict == v && !w.plan.OfOld(f) {
					n++
				}
			}
			return fmt.Sprint(n), nil
		}
	}
	list = append(list,
		row("Balusters in all", ways, func(w way) (string, *working.Figure) {
			n := 0
			for _, r := range w.plan.Layout.Runs {
				if r.Chosen != nil {
					n += r.Chosen.Count
				}
			}
			return fmt.Sprint(n), nil
		}),
		row("Rules", ways, func(w way) (string, *working.Figure) { return w.plan.Job.RulesName.Text, nil }),
		row("Finish", ways, func(w way) (string, *working.Figure) {
			var list []string
			for _, f := range w.plan.Job.Finishes {
				if f.Part != nil {
					list = append(list, f.Group+" "+strings.ToLower(f.Part.Title.Or(job.Text{Text: f.Part.Name}).Text))
				}
			}
			return strings.Join(list, ", "), nil
		}),
		row("Checks that fail", ways, count(finding.Fail)),
		row("To be measured or decided", ways, func(w way) (string, *working.Figure) { return fmt.Sprint(len(w.plan.Missing)), nil }),
		row("To ask the authority", ways, count(finding.AskAuthority)),
		row("Working time", ways, func(w way) (string, *working.Figure) { return duration(w.plan.Sequence.Minutes), nil }),
		row("To buy", ways, func(w way) (string, *working.Figure) {
			words := w.plan.Job.Shop.Currency.Text + w.plan.Buying.Known.String()
			if !w.plan.Buying.Complete {
				words += ", as far as prices and counts are known"
			}
			return words, w.plan.Figure(w.plan.Buying.Figure)
		}),
		row("Price", ways, func(w way) (string, *working.Figure) {
			p := w.plan.Price
			if !p.Complete || !p.Known {
				return "not known yet", nil
			}
			return w.plan.Job.Shop.Currency.Text + p.Total.String(), w.plan.Figure(p.Figure)
		}),
	)
	return list
}

// balusterOf names a run's baluster; empty while none is chosen.
func balusterOf(r *layout.Run) string {
	if r.Job == nil || r.Job.Baluster == nil {
		return ""
	}
	return r.Job.Baluster.Title.Or(job.Text{Text: r.Job.Baluster.Name}).Text
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

// alternativesPage sets the ways to build the job side by side; what differs is marked.
func (b *book) alternativesPage() markup {
	ways := b.ways()
	if len(b.plan.Alternatives) == 0 {
		return ""
	}
	list := b.sideways(ways)
	var w writer
	w.line("The same readings, laid out, cut, bought and timed once more for each way. ≠ marks what is not as drawn. An alternative is only a comparison: the rest of the book is of the job as drawn.")
	for _, a := range b.plan.Alternatives {
		w.say(`<section id="alternative-%s"><h2>%s</h2>`+"\n", anchor(a.Of.Name), a.Of.Title.Or(job.Text{Text: a.Of.Name}).Text)
		w.put(b.prose(a.Of.Prose.Document))
		w.put("<p>Changes:</p>\n<ul>\n")
		for _, c := range a.Of.Changes {
			value := c.Value
			if value == "" {
				value = "left blank"
			}
			w.say("<li>%s, %s: %s</li>\n", c.Of, c.Key, b.recorded(c.At, esc(value)))
		}
		w.put("</ul>\n")
		if a.Plan == nil {
			w.put("<p>It cannot be planned: see the problems.</p>\n")
		} else if i := slices.IndexFunc(ways, func(x way) bool { return x.name == a.Of.Name }); i > 0 {
			p := pairs{class: "phone"}
			for _, c := range list {
				if c.differs(i) {
					p.add(c.label, say("≠ %s, as drawn %s", c.plain[i], c.plain[0]))
				}
			}
			if len(p.list) == 0 {
				w.line("Nothing comes out otherwise than as drawn.")
			}
			w.put(p.markup())
		}
		w.put("</section>\n")
	}
	w.put(b.sideBySide(ways, list))
	return w.markup()
}

// sideBySide is the table of all ways, and a drawing of each.
func (b *book) sideBySide(ways []way, list []compared) markup {
	var w writer
	w.put(`<section id="side-by-side"><h2>Side by side</h2>`, "\n")
	t := table{label: "Side by side", heads: []head{column("Compared")}, wide: true, class: "alternatives"}
	for _, x := range ways {
		t.heads = append(t.heads, column(x.title))
	}
	var same []string
	for _, c := range list {
		if c.alike() {
			same = append(same, c.label+" "+c.plain[0])
			continue
		}
		cells := []markup{esc(c.label)}
		for i := range ways {
			cells = append(cells, b.wayCell(ways[i], c, i))
		}
		t.row(cells...)
	}
	w.put(t.markup())
	if len(same) > 0 {
		w.say("<p>Alike in all: %s.</p>\n", strings.Join(same, "; "))
	}
	w.put(b.wayDrawings(ways), "</section>\n", b.wayWorkings(ways, list))
	return w.markup()
}

func (b *book) wayCell(x way, c compared, i int) markup {
	m := esc(c.plain[i])
	if f := c.figs[i]; f != nil {
		switch {
		case i == 0:
			m = b.figured(f.ID, m)
		case c.differs(i):
			m = say(`<a class="w" href="#%s">%s</a>`, wayAnchor(x, f), m)
		}
	}
	if c.differs(i) {
		return say("<b>≠ %s</b>", m)
	}
	return m
}

func wayAnchor(x way, f *working.Figure) string {
	return "alt-" + anchor(x.name) + "-" + figureAnchor(f.ID)
}

// wayDrawings are the elevations of the first run that comes out differently, all to one width.
func (b *book) wayDrawings(ways []way) markup {
	for _, r := range b.plan.Layout.Runs {
		differs := false
		for _, x := range ways[1:] {
			other := x.book.run(r.Name)
			differs = differs || other != nil && other.Chosen != nil && r.Chosen != nil && (other.Chosen.Count != r.Chosen.Count || balusterOf(other) != balusterOf(r) || other.Levels.RailTop != r.Levels.RailTop)
		}
		if !differs {
			continue
		}
		var w writer
		w.say("<h3>%s</h3>\n<div class=\"drawings\">\n", r.Title)
		for _, x := range ways {
			other := x.book.run(r.Name)
			if other == nil {
				continue
			}
			one := *other
			one.ID += "-way-" + x.name
			w.say(`<div class="panel"><p>%s</p>%s</div>`+"\n", x.title, markup(draw.Elevation(&one, x.book.style())))
		}
		w.put("</div>\n")
		return w.markup()
	}
	return ""
}

// wayWorkings are the workings of what differs, for each alternative: those of the job as drawn stand on the page of workings.
func (b *book) wayWorkings(ways []way, list []compared) markup {
	var w writer
	for i, x := range ways {
		done := map[string]bool{}
		for _, c := range list {
			f := c.figs[i]
			if i == 0 || f == nil || !c.differs(i) || done[f.ID] {
				continue
			}
			done[f.ID] = true
			w.say(`<section class="working" id="%s"><h3>%s</h3>`+"\n", wayAnchor(x, f), say("%s: %s", x.title, f.Title))
			if f.Expr != nil {
				w.say(`<p class="formula">%s = %s</p>`+"\n", f.Symbol, f.Symbols())
				w.say(`<p class="formula">%s = %s</p>`+"\n", f.Symbol, f.Numbers())
			}
			if f.Value != nil {
				w.say(`<p class="formula">%s = %s</p>`+"\n", f.Symbol, strings.TrimSpace(f.Result()+" "+f.Unit))
			}
			if f.Expr != nil {
				w.put(x.book.inputs(f))
			}
			w.line(sentence(f.Note))
			w.put("</section>\n")
		}
	}
	if w.Len() == 0 {
		return ""
	}
	return say(`<section id="alternative-workings"><h2>Working</h2>`+"\n%s</section>\n", w.markup())
}
