package book

import (
	"slices"
	"strings"

	"balustrade/jobbook/layout"
)

// cutPage is every piece to cut, and the sections of the parts they are cut from.
func (b *book) cutPage(w *writer) {
	kinds, of := cutKinds(b.plan.Takeoff.Pieces)
	if len(kinds) > 0 {
		w.put(b.failing(""))
		if len(b.plan.Takeoff.Setups.Saws) > 0 {
			w.put(`<p class="screen-only">Angle by angle and stop by stop: <a href="setups.html">set-ups</a>.</p>`, "\n")
		}
	}
	for _, k := range kinds {
		w.say(`<section id="cut-%s"><h2>%s</h2>`+"\n", anchor(k), capital(k))
		w.put(b.cutTable(of[k], ""), "</section>\n")
	}
	if len(b.plan.Takeoff.Missing) > 0 {
		w.put(`<section id="cut-missing"><h2>Waiting for a reading</h2>`, "\n", b.missingList(b.plan.Takeoff.Missing), "</section>\n")
	}
	b.partSections(w)
}

// cutKinds groups pieces by what they are, in the order they come.
func cutKinds(pieces []layout.Cut) (kinds []string, of map[string][]layout.Cut) {
	of = map[string][]layout.Cut{}
	for _, c := range pieces {
		if of[c.What] == nil {
			kinds = append(kinds, c.What)
		}
		of[c.What] = append(of[c.What], c)
	}
	return kinds, of
}

// cutTable is pieces with their lengths as they are cut. What is the same of all of them is said once.
func (b *book) cutTable(pieces []layout.Cut, label string) markup {
	if len(pieces) == 0 {
		return ""
	}
	same := func(of func(layout.Cut) string) bool {
		first := ""
		for _, c := range pieces {
			if waiting(c) {
				continue
			}
			if first == "" {
				first = of(c)
			}
			if of(c) != first {
				return false
			}
		}
		return true
	}
	oneWhat := same(func(c layout.Cut) string { return c.What })
	onePart := oneWhat && same(func(c layout.Cut) string { return c.Title })
	oneFit := same(func(c layout.Cut) string { return c.Fit })
	beveled := false
	for _, c := range pieces {
		beveled = beveled || c.Long > 0
	}
	oneRounding := same(func(c layout.Cut) string { return c.Rounding.String() })
	t := table{label: label, heads: []head{num("Cut to", b.unit()), num("How many", ""), column("Which")}, class: "cuts"}
	if pieces[0].What == "rosette" && oneWhat {
		t.heads[0].text = "Size"
	}
	if beveled {
		t.heads[0] = num("At the axis", b.unit())
		t.heads = append([]head{num("Long point", b.unit()), num("Short point", b.unit())}, t.heads...)
	}
	if !oneRounding {
		t.heads = append(t.heads, column("Rounded"))
	}
	made := slices.ContainsFunc(pieces, func(c layout.Cut) bool { return b.madeCount(c) != "" })
	if made {
		t.heads = append(t.heads, column("Made"))
	}
	var fit string
	for _, c := range pieces {
		var what, part, rounding markup
		if !oneWhat {
			what = esc(capital(c.What))
		}
		if !onePart {
			part = esc(c.Title)
		}
		which := joined(", ", what, esc(b.runTitleOf(c.Run)), esc(c.Which), esc(c.Treads), part)
		if oneFit && !waiting(c) {
			fit = sentence(c.Fit)
		} else if c.Fit != "" {
			which += say(`<span class="fit">%s</span>`, sentence(c.Fit))
		}
		size := toBeMeasured
		if !waiting(c) {
			size = b.figured(c.Figure, b.mark(c.Length))
		}
		if c.Rounding != 0 {
			rounding = esc(c.Rounding.String())
			t.foot = sentence("lengths are rounded to " + b.divisionWords())
			if oneRounding {
				t.foot = sentence("lengths are " + b.rounded(c.Rounding))
			}
		}
		cells := []markup{size, say("%d", c.Count), which}
		if beveled {
			long, short := markup(""), markup("")
			if c.Long > 0 && !waiting(c) {
				long, short = b.mark(c.Long), b.near(c.Short)
				cells[0] = b.figured(c.Figure, b.near(c.Length))
			}
			cells = append([]markup{long, short}, cells...)
		}
		if !oneRounding {
			cells = append(cells, rounding)
		}
		if made {
			cells = append(cells, b.madeCount(c))
		}
		t.row(cells...)
	}
	if onePart && pieces[0].Title != "" {
		t.label = joinedText(t.label, pieces[0].Title)
	} else if t.label == "" {
		t.label = capital(pieces[0].What)
	}
	t.foot = strings.TrimSpace(t.foot + " " + fit)
	return t.markup()
}

// waiting reports a piece whose length can't be said yet.
func waiting(c layout.Cut) bool { return c.ToFit || c.Length == 0 && c.Rounding == 0 }

// joinedText puts two words together with a comma, leaving an empty one out.
func joinedText(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + ", " + b
}

// runTitleOf is the title of the run that a piece is for; empty for none.
func (b *book) runTitleOf(name string) string {
	if name == "" {
		return ""
	}
	return b.runTitle(name)
}

// runCuts is all pieces of one run.
func (b *book) runCuts(r *layout.Run) markup {
	var list []layout.Cut
	for _, c := range b.plan.Takeoff.Pieces {
		if c.Run == r.Name {
			list = append(list, c)
		}
	}
	return b.cutTable(list, "Pieces of "+b.runTitle(r.Name))
}

func (b *book) runFillets(r *layout.Run) markup {
	return b.cutTable(r.Fillets, "Fillets of "+b.runTitle(r.Name))
}

func (b *book) allFillets() markup {
	var list []layout.Cut
	for _, r := range b.plan.Layout.Runs {
		list = append(list, r.Fillets...)
	}
	return b.cutTable(list, "Fillets")
}

// partSections shows what each part looks like.
func (b *book) partSections(w *writer) {
	list := b.parts()
	if len(list) == 0 {
		return
	}
	w.put(`<section id="parts"><h2>The parts</h2>`, "\n")
	for _, p := range list {
		w.say(`<section id="%s"><h3>%s</h3>`+"\n", p.anchor(), p.title)
		w.say("<p>%s</p>\n", joined(", ", esc(capital(p.kind)), b.words(p.species), say("for %s", listed(p.users))))
		p.sizes.put(w)
		if p.profile != nil {
			w.put(b.profileFigure(*p.profile, p.title)...)
		}
		w.put(b.prose(p.origin.Prose.Document), "</section>\n")
	}
	w.put("</section>\n")
}

// buyingTable is the parts bought by the piece, and those bought by length.
func (b *book) buyingTable() markup {
	pieces := table{label: "Parts bought by the piece", heads: []head{column("Part"), num("Order", ""), num("Needed", ""), num("Spare", ""), num("Long", b.unit())}}
	lengths := table{label: "Parts bought by length", heads: []head{column("Part"), num("Pieces", ""), num("All together", b.unit()), num("Longest", b.unit())}}
	for _, n := range b.plan.Takeoff.Needs {
		title := n.Title
		if title == "" {
			title = capital(n.Part)
		}
		about := joined(", ", esc(n.Kind), esc(n.Species), esc(layerWords(n.Origin.Layer)))
		if !n.Complete {
			about = joined(", ", about, "more of it still to be measured")
		}
		name := b.recordedFile(n.Origin.File, esc(title)) + say(`<span class="fit">%s</span>`, about)
		if n.Running > 0 {
			lengths.row(name, say("%d", n.Count), b.figured(n.Figure, b.near(n.Running)), b.near(n.Longest))
			continue
		}
		bought := markup("")
		if n.Bought > 0 {
			bought = b.exact(n.Bought)
		}
		pieces.row(name, b.figured(n.Figure, say("%d", n.Order)), say("%d", n.Count), say("%d", n.Spare), bought)
	}
	if len(lengths.rows) > 0 {
		lengths.foot = "All pieces end to end, without kerf, trim or waste; the longest piece says how long a stick must be at least."
	}
	return pieces.markup() + lengths.markup()
}

// volumes says how much of each coat to buy.
func (b *book) volumes() markup {
	tables := b.coatsVolumes()
	if tables == "" {
		return ""
	}
	return `<section id="coats"><h2>Finish</h2>` + "\n" + tables + b.usedUp() + "</section>\n"
}
