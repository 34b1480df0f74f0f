package book

import (
	"slices"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// setupsPage is a card for each setting of saw and drill, in the order in which they change least.
func (b *book) setupsPage(w *writer) {
	s := b.plan.Takeoff.Setups
	if len(s.Saws)+len(s.Drills) == 0 {
		return
	}
	w.put(b.failing(""))
	n := 0
	if len(s.Saws) > 0 {
		w.put(`<section id="saw"><h2>Saw</h2>`, "\n<p>The square cuts first, then each angle; at an angle the stop goes from long to short. Set the blade or the mitre once, with a square or the bevel card, then move the stop only.</p>\n")
		for _, saw := range s.Saws {
			for _, stops := range sawCards(saw) {
				n++
				b.sawCard(w, n, saw.Angle, stops)
			}
		}
		if len(s.Loose) > 0 {
			w.say("<p>%s</p>\n", "Without a stop, cut to the opening as it stands: "+labelMarks(s.Loose)+".")
		}
		w.put("</section>\n")
	}
	w.put(b.spacerCards())
	if len(s.Drills) > 0 {
		w.put(`<section id="drill"><h2>Drill</h2>`, "\n<p>Bit by bit, the smallest first. Bore a test hole in an offcut at every setting, and try in it what is to go in.</p>\n")
		w.put("<div class=\"small-cards\">\n")
		b.drillCards(w, &n, s.Drills)
		w.put("</div>\n</section>\n")
	}
}

// spacerCards are the blocks that gaps are stepped with, run by run.
func (b *book) spacerCards() markup {
	t := table{label: "Spacer blocks", heads: []head{column("Run"), num("Block", b.unit()), num("Last gap, if stepped only", b.unit())}, class: "cuts"}
	for _, r := range b.plan.Layout.Runs {
		if s := r.Spacer; s != nil {
			t.row(esc(b.runTitle(r.Name)), b.figured(s.Figure, b.mark(s.Block)), b.near(s.LastGap))
		}
	}
	if len(t.rows) == 0 {
		return ""
	}
	t.foot = "To hold balusters apart while they are fixed. The marks are what counts: each is measured from the datum, for errors of a block add up to the last gap."
	return `<section class="card" id="spacers"><h2>Spacer blocks</h2>` + "\n" + t.markup() + "</section>\n"
}

// angleWords is an angle off square: to the half degree, as a saw is set, and in hundredths, as it is.
func (b *book) angleWords(f *working.Figure) markup {
	if f == nil {
		return "square"
	}
	if !f.Value.Known() {
		return say("off square by %s", toBeMeasured)
	}
	half := f.Value.Mul(exact.Of(2))
	n := length.Rounded(half, length.Nanometre, length.Nearest) // a plain whole number, not a length
	return say("<b>%s°</b> off square (%s°)", decimal(exact.New(int64(n), 2), 1, length.Nearest), b.figure(f, esc(decimal(f.Value, 2, length.Nearest))))
}

// square is the same on the steel square, by the run whose rake it is.
func (b *book) square(angle *working.Figure) markup {
	for _, r := range b.plan.Layout.Runs {
		if r.Rake != nil && r.Rake.Angle == angle && r.Rake.Square != nil {
			per := "12"
			if b.unit() == "mm" {
				per = "100"
			}
			return say("%s in %s on the square; the bevel card among the sheets at full size is cut to it", b.figure(r.Rake.Square, b.near(r.Rake.Square.Exact(b.job.System))), per)
		}
	}
	return ""
}

// Of a card: what goes on one sheet.
const (
	cardLines = 34 // of a table on a card
	lineMarks = 8  // marks on a line of it
	rowMarks  = 90 // in a row; where a stop has more, the next row goes on
)

// sawCards parts the stops of an angle into cards: rails and shoes, balusters, fillets, and no more on one than a sheet holds.
func sawCards(s takeoff.SawSetup) (cards [][]takeoff.SawStop) {
	lines, last := 0, ""
	for _, stop := range s.Stops {
		sort := stop.What
		if isRail(sort) {
			sort = "rail"
		}
		if stop.Both {
			sort += ", both ends"
		}
		for pieces := range slices.Chunk(stop.Pieces, rowMarks) {
			part := takeoff.SawStop{Setting: stop.Setting, Pieces: pieces}
			high := 1 + (len(pieces)+lineMarks-1)/lineMarks
			if stop.Short > 0 || stop.After > 0 {
				high++
			}
			if stop.Fit != s.Stops[0].Fit {
				high++
			}
			if len(cards) == 0 || sort != last || lines+high > cardLines {
				cards, lines, last = append(cards, nil), 0, sort
			}
			cards[len(cards)-1] = append(cards[len(cards)-1], part)
			lines += high
		}
	}
	return cards
}

func labelMarks(list []takeoff.Label) string {
	var names []string
	for _, l := range list {
		names = append(names, l.Mark)
	}
	return marks(names)
}

func (b *book) sawCard(w *writer, n int, angle *working.Figure, stops []takeoff.SawStop) {
	first := stops[0]
	same := func(of func(takeoff.SawStop) string) bool {
		return !slices.ContainsFunc(stops, func(s takeoff.SawStop) bool { return of(s) != of(first) })
	}
	oneFit := same(func(s takeoff.SawStop) string { return s.Fit })
	oneTitle := same(func(s takeoff.SawStop) string { return s.Title })
	w.say(`<section class="card" id="setup-%d"><h3>%s</h3>`+"\n", n, say("Set-up %d: saw, %s", n, b.angleWords(angle)))
	if angle != nil {
		if m := b.square(angle); m != "" {
			w.say("<p>%s.</p>\n", m)
		}
		measured := "stop"
		if first.Point == "blank" {
			measured = "along an edge"
		}
		w.say(`<div class="panel">%s</div>`+"\n", markup(draw.SawSetup(angle, n, first.Both, measured)))
	}
	t := table{label: "Stops", heads: []head{num("Stop", b.unit()), num("Pieces", ""), column("What"), column("Marks")}, class: "cuts"}
	if isRail(first.What) {
		t.label, t.heads[0].text = "Lengths", "Length"
	}
	if oneTitle {
		t.label = first.Title
	}
	for _, stop := range stops {
		what := joined(", ", esc(capital(stop.What)), esc(stop.Point))
		if !oneTitle {
			what = joined(", ", what, esc(stop.Title))
		}
		about := func(m markup) {
			if m != "" {
				what += say(`<span class="fit">%s</span>`, m)
			}
		}
		if stop.Short > 0 {
			about(say("short point %s", b.near(stop.Short)))
		}
		if stop.After > 0 {
			about(say("then %s along an edge, point to point", b.near(stop.After)))
		}
		if !oneFit {
			about(esc(sentence(stop.Fit)))
		}
		t.row(b.mark(stop.Long), say("%d", len(stop.Pieces)), what, esc(labelMarks(stop.Pieces)))
	}
	t.put(w)
	if oneFit {
		w.line(sentence(first.Fit))
	}
	w.say("<p>%s</p>\n", b.testPiece(angle, first))
	w.put("</section>\n")
}

// testPiece is what is cut first, what it must measure, and what it is cut from.
func (b *book) testPiece(angle *working.Figure, s takeoff.SawStop) markup {
	if isRail(s.What) {
		if angle == nil {
			return "No stop: rails and shoes are left long and marked from the work. The length is what they come to. Try the saw for square on an offcut first."
		}
		return "No stop: rails and shoes are left long and marked from the work. Test piece first: cut an offcut at the angle and try it where the rail meets its post or its wall."
	}
	measure := say("%s %s", b.near(s.Long), b.unit())
	switch {
	case s.Short > 0:
		measure += say(" to the long point and %s to the short one", b.near(s.Short))
	case angle == nil:
		measure += " along both edges"
	case s.Both:
		measure += " along both edges, from point to point"
	default:
		measure += say(" %s", s.Point)
	}
	from := "No spare is ordered: cut it from an offcut."
	for _, n := range b.plan.Takeoff.Needs {
		switch {
		case n.Part != s.Part || n.Kind != s.What || n.Part == "":
		case n.Came && n.Over > 0: // what was ordered and did not come is not there to be cut from
			from = "Cut it from an offcut, or from a spare: " + counted(n.Over, "is there beyond those needed.", "are there beyond those needed.")
		case n.Came:
			from = "Cut it from an offcut: none is there beyond those needed."
		case n.Spare > 0:
			from = "Cut it from an offcut, or from a spare: " + counted(n.Spare, "is ordered.", "are ordered.")
		}
	}
	return say("Test piece first, at the first stop: it must measure %s. %s", measure, from)
}

// drillCards are the cards of a list of settings, numbered on from n.
func (b *book) drillCards(w *writer, n *int, list []takeoff.DrillSetup) {
	for _, d := range list {
		rows := d.Holes
		const onCard = cardLines / 2 // a place and its note
		for len(rows) > 0 {
			*n++
			d.Holes, rows = rows[:min(onCard, len(rows))], rows[min(onCard, len(rows)):]
			b.drillCard(w, *n, d)
		}
	}
}

func (b *book) drillCard(w *writer, n int, d takeoff.DrillSetup) {
	bit := b.bitWords(d.Wide)
	if !d.Round {
		bit = say("<b>%s</b> %s square, cut to the foot", b.exact(d.Wide), b.unit())
	}
	w.say(`<section class="card" id="setup-%d"><h3>%s</h3>`+"\n", n, say("Set-up %d: drill, %s", n, bit))
	p := pairs{class: "facts"}
	p.add("For", esc(d.For))
	switch {
	case d.Deep > 0:
		p.add("Stop collar at", say("<b>%s</b> %s deep, along the bit", b.near(d.Deep), b.unit()))
	case d.Through:
		p.add("Depth", "right through: no collar, a scrap block behind")
	default:
		p.add("Depth", "still to be worked out: see what is to be measured")
	}
	guide := markup("square to the face, a square block beside the bit")
	if d.Angle != nil {
		guide = say("%s to the face, a block cut to it beside the bit: the hole is %s", b.angleWords(d.Angle), d.Lies)
	}
	p.add("Guide", guide)
	p.put(w)
	t := table{label: "Holes", heads: []head{num("Holes", ""), column("Where")}}
	total := 0
	for _, h := range d.Holes {
		total += h.Count
		run := esc(b.runTitleOf(h.Run))
		if r := b.run(h.Run); r != nil {
			run = say(`<a href="layout.html#%s">%s</a>`, runAnchor(r.Name), run)
		}
		where := joined(", ", run, esc(h.Where))
		if h.Note != "" {
			where += say(`<span class="fit">%s</span>`, h.Note)
		}
		if at := b.footWords(h.Rows); at != "" {
			where += say(`<span class="fit">%s</span>`, at)
		}
		t.row(b.figured(h.Figure, say("%d", h.Count)), where)
	}
	t.foot = counted(total, "hole", "holes") + ". Test hole first: in an offcut of the same wood, with what goes in."
	t.put(w)
	w.put("</section>\n")
}
