package book

import (
	"balustrade/jobbook/finish"
	"balustrade/jobbook/length"
)

// finishingPage is what each group of parts is coated with, in order.
func (b *book) finishingPage(w *writer) {
	w.put(b.coatingAir())
	for _, g := range b.plan.Finishing.Groups {
		title := capital(g.What())
		if g.Finish == nil {
			w.say("<section><h2>%s</h2>\n<p>%s</p></section>\n", title, toBeMeasured)
			continue
		}
		name := partTitle(g.Finish.Title, g.Finish.Origin)
		w.say("<section><h2>%s: %s</h2>\n", title, name)
		w.say("<p>%s</p>\n", joined(", ", b.words(g.Finish.Type), b.words(g.Finish.Base), b.recordedFile(g.Finish.File, esc(layerWords(g.Finish.Layer)))))
		w.put(b.coats(g), b.areas(g), b.still(g))
		w.put("</section>\n")
	}
	if w.Len() > 0 {
		w.put(readTheCan, b.coatBatches(), b.supplies())
	}
	seen := map[string]bool{}
	for _, g := range b.plan.Finishing.Groups {
		if g.Finish == nil || seen[g.Finish.Name] {
			continue
		}
		seen[g.Finish.Name] = true
		if p := b.afterLast(g.Finish) + b.putOnWith(g.Finish) + b.prose(g.Finish.Prose.Document); p != "" {
			w.say(`<section id="finish-%s"><h2>About %s</h2>`+"\n%s</section>\n", anchor(g.Finish.Name), partTitle(g.Finish.Title, g.Finish.Origin), p)
		} else {
			w.say(`<p id="finish-%s">The coats of %s are in its %s.</p>`+"\n", anchor(g.Finish.Name), partTitle(g.Finish.Title, g.Finish.Origin), b.recordedFile(g.Finish.File, "file"))
		}
	}
	if len(b.plan.Finishing.Missing) > 0 {
		w.put(`<section id="finish-missing"><h2>Waiting for a reading</h2>`, "\n", b.missingList(b.plan.Finishing.Missing), "</section>\n")
	}
}

// readTheCan stands once beside values that the can may know better.
const readTheCan markup = "<p>Volumes are rounded up, with the loss counted. The can’s own label goes before these values. All sides count, also those that are hidden once it stands, for they are coated before: all but the backs of fillets and half newels. Ends of pieces are left out; glue faces, which stay bare, are not taken off.</p>\n"

// coats is the coats of one group.
func (b *book) coats(g finish.Group) markup {
	t := table{label: "Coats on " + g.What() + ", in order", heads: []head{num("Coat", ""), column("What"), num("Volume", volumeUnit(g)), column("Dries"), column("Then")}}
	for _, c := range g.Coats {
		if c.Coat == nil {
			continue
		}
		what := esc(capital(c.Coat.Name.Text))
		if c.Coat.Times.Given && c.Coat.Times.N > 1 {
			what += say(", %d coats alike", c.Coat.Times.N)
		}
		covers := toBeMeasured
		if c.Coat.Coverage.Given {
			covers = b.recorded(c.Coat.Coverage.At, esc(ratio(c.Coat.Coverage)))
		}
		what += say(`<span class="fit">%s</span>`, joined(", ", covers, esc(c.Coat.Status.String())))
		volume := b.amount(c.Volume, volumePlaces(c), length.Up)
		if c.OnAll {
			volume = "on all already"
		}
		t.row(say("%d", c.N), what, volume, b.dries(c), b.then(c))
	}
	return t.markup()
}

// volumePlaces is how finely a volume is printed: tenths of a fluid ounce, hundredths of a litre.
func volumePlaces(c finish.Coat) int {
	if c.Volume != nil && c.Volume.Unit == "L" {
		return 2
	}
	return 1
}

func volumeUnit(g finish.Group) string {
	for _, c := range g.Coats {
		if c.Volume != nil {
			return c.Volume.Unit
		}
	}
	return ""
}

// areas is the surface of one group, line by line.
func (b *book) areas(g finish.Group) markup {
	unit := ""
	if g.Area != nil {
		unit = g.Area.Unit
	}
	t := table{label: "Surface of " + g.What(), heads: []head{column("What"), num("How many", ""), num("Surface", unit)}}
	for _, l := range g.Lines {
		t.row(esc(capital(l.What)), say("%d", l.Count), b.amount(l.Figure, 1, length.Nearest))
	}
	if len(t.rows) > 0 && g.Area != nil {
		t.row("Together", "", b.amount(g.Area, 1, length.Nearest))
	}
	return t.markup()
}

// still is what each coat still goes on, where pieces that are made already have some.
func (b *book) still(g finish.Group) markup {
	if g.Still == nil || g.Area == nil {
		return ""
	}
	all := 0
	for _, l := range g.Lines {
		all += l.Count
	}
	t := table{label: "Still to be coated, " + g.What(), heads: []head{num("Coat", ""), column("What"), num("Pieces still", ""), num("of", ""), num("Surface", g.Area.Unit)}}
	n := 0
	for _, c := range g.Coats {
		for range coatsAlike(c) {
			n++
			s := g.StillOf(n)
			if s == nil || c.Coat == nil {
				continue
			}
			area := markup("0")
			if s.Area != nil {
				area = b.amount(s.Area, 1, length.Nearest)
			}
			t.row(say("%d", n), esc(capital(c.Coat.Name.Text)), say("<b>%d</b>", s.Count), say("%d", all), area)
		}
	}
	t.foot = "Coats alike are counted each. The rest has it already, by what was recorded of the pieces that are made; what is cut off them or into them later is sealed when it is cut."
	return t.markup()
}

// coatsTables is the coats of all groups.
func (b *book) coatsTables() markup {
	var w writer
	for _, g := range b.plan.Finishing.Groups {
		w.put(b.coats(g))
	}
	if w.Len() > 0 {
		w.put(readTheCan)
	}
	return w.markup()
}

// coatsVolumes is the volumes of all groups, for the buying list.
func (b *book) coatsVolumes() markup {
	t := table{label: "Finish to order", heads: []head{column("For"), column("Coat"), num("Volume", "")}}
	for _, g := range b.plan.Finishing.Groups {
		for _, c := range g.Coats {
			if c.Coat == nil {
				continue
			}
			if c.OnAll {
				continue
			}
			volume := b.amount(c.Volume, volumePlaces(c), length.Up)
			if c.Volume != nil && c.Volume.Value.Known() {
				volume += say(" %s", c.Volume.Unit)
			}
			t.row(esc(capital(g.What())), esc(capital(c.Coat.Name.Text)), volume)
		}
	}
	return t.markup()
}
