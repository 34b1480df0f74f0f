package book

import (
	"balustrade/jobbook/draw"
	"balustrade/jobbook/length"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// setupsPage is a card for each setting of saw and drill, in the order in which they change least.
func (b *book) setupsPage() markup {
	s := b.plan.Takeoff.Setups
	if len(s.Saws)+len(s.Drills) == 0 {
		return ""
	}
	var w writer
	w.put(b.failing(""))
	n := 0
	if len(s.Saws) > 0 {
		w.put(`<section id="saw"><h2>Saw</h2>`, "\n<p>The square cuts first, then each angle; at an angle the stop goes from long to short. Cut a test piece at every setting and measure it before the first good one.</p>\n")
		for _, saw := range s.Saws {
			n++
			w.put(b.sawCard(n, saw))
		}
		w.put("</section>\n")
	}
	w.put(b.spacerCards())
	if len(s.Drills) > 0 {
		w.put(`<section id="drill"><h2>Drill</h2>`, "\n<p>Bit by bit, the smallest first. Bore a test hole in an offcut at every setting, and try in it what is to go in.</p>\n")
		for _, d := range s.Drills {
			n++
			w.put(b.drillCard(n, d))
		}
		w.put("</section>\n")
	}
	return w.markup()
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

// angleWords is an angle off square: as it is set, to the half degree, and as it is.
func (b *book) angleWords(f *working.Figure) markup {
	if f == nil || f.Value == nil {
		return "square"
	}
	half := decimal(f.Value, 1, length.Nearest)
	return say("<b>%s°</b> off square", b.figure(f, esc(half)))
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

func (b *book) sawCard(n int, s takeoff.SawSetup) markup {
	var w writer
	w.say(`<section class="card" id="setup-%d"><h3>%s</h3>`+"\n", n, say("Set-up %d: saw, %s", n, b.angleWords(s.Angle)))
	if s.Angle != nil {
		w.say("<p>%s.</p>\n", b.square(s.Angle))
		w.say(`<div class="panel">%s</div>`+"\n", markup(draw.SawSetup(s.Angle, n)))
	}
	t := table{label: "Stops", heads: []head{num("Stop", b.unit()), num("Pieces", ""), column("What"), column("Marks")}, class: "cuts", long: len(s.Stops) > 20}
	long := false
	for _, stop := range s.Stops {
		var names []string
		for _, l := range stop.Pieces {
			names = append(names, l.Mark)
		}
		what := joined(", ", esc(capital(stop.What)), esc(stop.Point))
		var about markup
		switch {
		case s.Angle == nil:
		case stop.Both:
			about = "both ends at the angle, alike"
		case stop.Foot:
			about = "foot or lower end at the angle, the other end square"
		default:
			about = "head or upper end at the angle, the other end square first"
		}
		if stop.What == "handrail" || stop.What == "shoe" || stop.What == "wall rail" {
			long = true
			about = joined("; ", about, "leave long, fit")
		}
		if about != "" {
			what += say(`<span class="fit">%s</span>`, about)
		}
		t.row(b.mark(stop.Long), say("%d", len(stop.Pieces)), what, esc(marks(names)))
	}
	t.foot = "Test piece: cut one from an offcut at the stop, and measure it from point to point before the first good one."
	if long {
		t.foot += " Rails and shoes are marked from the work, not from the stop: the length is what to come to."
	}
	w.put(t.markup(), "</section>\n")
	return w.markup()
}

func (b *book) drillCard(n int, d takeoff.DrillSetup) markup {
	var w writer
	bit := b.bitWords(d.Wide)
	if !d.Round {
		bit = say("<b>%s</b> %s square, cut to the foot", b.exact(d.Wide), b.unit())
	}
	w.say(`<section class="card" id="setup-%d"><h3>%s</h3>`+"\n", n, say("Set-up %d: drill, %s", n, bit))
	var p pairs
	p.add("For", esc(d.For))
	if d.Deep > 0 {
		p.add("Stop collar at", say("<b>%s</b> %s deep, along the bit", b.near(d.Deep), b.unit()))
	} else if d.Out {
		p.add("Depth", "right through, with a scrap behind it so that the far side does not splinter")
	} else {
		p.add("Depth", "still to be worked out: see what is to be measured")
	}
	guide := markup("square to the face, a square block beside the bit")
	if d.Angle != nil {
		guide = say("%s to the face, a block cut to it beside the bit: the hole is plumb, or level into a post", b.angleWords(d.Angle))
	}
	p.add("Guide", guide)
	w.put(p.markup())
	t := table{label: "Holes", heads: []head{num("Holes", ""), column("Where")}}
	total := 0
	for _, h := range d.Holes {
		total += h.Count
		where := joined(", ", esc(b.runTitleOf(h.Run)), esc(h.Where))
		if h.Note != "" {
			where += say(`<span class="fit">%s</span>`, h.Note)
		}
		t.row(b.figured(h.Figure, say("%d", h.Count)), where)
	}
	t.foot = counted(total, "hole", "holes") + ". Test hole first: in an offcut of the same wood, with what goes in."
	w.put(t.markup(), "</section>\n")
	return w.markup()
}
