package book

import (
	"strconv"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// waitWords is a time to wait: minutes under an hour, hours under two days, then days; from three days on whole ones, rounded up.
func waitWords(minutes int) string {
	const hour, day = 60, 24 * 60
	switch {
	case minutes < hour:
		return counted(minutes, "minute", "minutes")
	case minutes >= 2*day && minutes%day == 0, minutes >= 3*day:
		return strconv.Itoa((minutes+day-1)/day) + " days"
	case minutes >= 2*day:
		return strconv.Itoa(minutes/day) + " days " + hours(minutes%day)
	}
	return hours(minutes)
}

// hours prints minutes in hours, to a quarter of one, rounded up.
func hours(minutes int) string {
	const quarter = 15
	q := (minutes + quarter - 1) / quarter
	return strings.TrimSuffix(strconv.Itoa(q/4)+[]string{"", ".25", ".5", ".75"}[q%4], ".") + " h"
}

// coatingAir is the air that coats go on in, and how warm the wood has to be.
func (b *book) coatingAir() markup {
	a := b.plan.Finishing.Air
	if len(b.plan.Finishing.Systems) == 0 {
		return ""
	}
	var w writer
	w.put(`<section id="coating-air"><h2>The air, and the wood</h2>`, "\n")
	if a.Temperature == nil {
		w.say("<p>%s: temperature and humidity where coats go on. Drying times below are the cans’ own.</p>\n", toBeMeasured)
	} else {
		t := table{label: "The air where coats go on", heads: []head{num("Air", a.Unit), num("Humidity", "%"), num("Dew point", a.Unit), num("Wood", a.Unit)}}
		dew, wood := toBeMeasured, toBeMeasured
		if a.Dew != nil {
			dew = b.amount(a.Dew, 1, length.Up)
		}
		if a.Surface != nil {
			wood = b.recorded(a.Surface.At, esc(tenth(a.Surface)))
		}
		t.row(b.recorded(a.Temperature.At, esc(tenth(a.Temperature))), b.recorded(a.Humidity.At, esc(tenth(a.Humidity))), dew, wood)
		t.foot = "Read it again on the day, before the can is opened, and once more in the evening: a room that cools at night comes to its dew point by itself."
		if !a.ForCoating {
			t.foot = "This is the air of the room as it was when the guard was measured, not of the day and the place where coats go on. " + t.foot
		}
		t.put(&w)
	}
	for _, f := range b.plan.Findings {
		if f.Group != "coating" {
			continue
		}
		w.say(`<p>%s: <a href="checks.html#%s">%s</a>. %s</p>`+"\n", verdictMark(f.Verdict, f.Verdict.String()), findingAnchor(f), f.Title, sentence(f.Note))
		if f.Cure != "" && f.Verdict != finding.Pass {
			w.line("What would cure it: " + sentence(f.Cure))
		}
	}
	w.put(b.slower())
	w.put("</section>\n")
	return w.markup()
}

// tenth prints an input to a tenth.
func tenth(in *working.Input) string { return strings.TrimSuffix(in.Value.Fixed(1), ".0") }

// slower says by which rule coats are reckoned to dry longer, and how sure it is: once for each rule that some coat goes by.
func (b *book) slower() markup {
	var w writer
	seen := map[string]bool{}
	for _, s := range b.plan.Finishing.Systems {
		for _, c := range s.Coats {
			if c.Figure == nil {
				continue
			}
			for _, cite := range c.Figure.Cites[1:] {
				words := cite.Text + " (" + cite.Status.String() + ")"
				if !seen[words] {
					seen[words] = true
					w.say("<li>%s</li>\n", words)
				}
			}
		}
	}
	if w.Len() == 0 {
		return ""
	}
	return "<p>How much longer coats are reckoned to dry than their cans say, never shorter:</p>\n<ul>\n" + w.markup() + "</ul>\n"
}

// dries is how long a coat dries: as written, and in the air here where that is longer.
func (b *book) dries(c finish.Coat) markup {
	var m markup
	switch d := c.Drying; {
	case d.Figure == nil && c.Coat.Dry.Given:
		return b.words(c.Coat.Dry)
	case d.Figure == nil:
		return toBeMeasured
	default:
		m = say("<b>%s</b>", b.figure(d.Figure, esc(waitWords(d.Minutes))))
		if d.Longer {
			m += say(`<span class="fit">can: %s</span>`, b.words(c.Coat.Dry))
		} else if c.Coat.Dry.Text != waitWords(d.Minutes) {
			m += say(`<span class="fit">%s</span>`, b.words(c.Coat.Dry))
		}
	}
	return m
}

// notSanded is what is written of a coat that nothing is sanded after.
const notSanded = "not sanded"

// then is what is done between one coat and the next.
func (b *book) then(c finish.Coat) markup {
	var sand, within markup
	if c.Coat.Sand.Given {
		sand = say("sand %s", b.words(c.Coat.Sand))
		if c.Coat.Sand.Text == notSanded {
			sand = b.words(c.Coat.Sand)
		}
	}
	switch d := c.Drying; {
	case d.Within > 0 && d.Closed:
		within = say("its can lets it be coated without sanding within %s: over before it is dry here, so it is sanded", waitWords(d.Within))
	case d.Within > 0:
		within = say("within %s the next coat holds without sanding; after that it is sanded", waitWords(d.Within))
	}
	return joined("; ", sand, within)
}

// afterLast is when a finish bears hands and tape.
func (b *book) afterLast(f *job.Finish) markup {
	s := b.plan.Finishing.System(f)
	if s == nil {
		s = &finish.System{}
	}
	var parts []markup
	if h := s.Hands; h.Figure != nil {
		words := say("dry to the hand %s after the last coat", b.figure(h.Figure, esc(waitWords(h.Minutes))))
		if s.AsLast {
			words = say("reckoned dry to the hand %s after the last coat, when it could be coated again; the can may want longer", b.figure(h.Figure, esc(waitWords(h.Minutes))))
		}
		parts = append(parts, words)
	}
	if s.Tape.Figure != nil {
		parts = append(parts, say("takes tape and hard cleaning after %s", b.figure(s.Tape.Figure, esc(waitWords(s.Tape.Minutes)))))
	}
	if f.Cure.Given {
		parts = append(parts, esc("until hands, tape and cleaning: "+f.Cure.Text))
	}
	if len(parts) == 0 {
		return ""
	}
	return "<p>" + capitalMarkup(joined("; ", parts...)) + ".</p>\n"
}

// capitalMarkup is markup that begins with a word, with that word's first letter a capital.
func capitalMarkup(m markup) markup {
	if m == "" || m[0] == '<' {
		return m
	}
	return markup(capital(string(m[:1]))) + m[1:]
}

// putOnWith is brushes, rags and what they are cleaned with.
func (b *book) putOnWith(f *job.Finish) markup {
	var w writer
	if len(f.Tools) > 0 {
		var list []string
		for _, t := range f.Tools {
			list = append(list, t.Text)
		}
		w.line(sentence("put on with: " + strings.Join(list, "; ")))
	}
	if f.Clean.Given {
		w.line(sentence("brushes are cleaned with " + f.Clean.Text))
	}
	return w.markup()
}

// coatBatches is how each group goes through the shop.
func (b *book) coatBatches() markup {
	t := table{label: "How many at a time", heads: []head{column("What"), num("Pieces", ""), num("At a time", ""), num("Batches", ""), num("Sides, each by itself", ""), column("Room")}}
	c := table{label: "One coat over all batches", heads: []head{column("What"), column("Coat"), num("Work", "min"), column("Until the last batch is dry")}}
	without, timed := []string{}, true
	for _, g := range b.plan.Finishing.Groups {
		x := g.Batches
		if x == nil {
			if g.Finish != nil && len(g.Lines) > 0 {
				without = append(without, g.Name)
			}
			continue
		}
		room := say("horses with %s to lie on, all together", b.plain(x.Along))
		if x.On == "strips" {
			room = say("strips of %s", b.plain(x.Along))
			if x.Deep > 0 {
				room = say("strips of %s, %s deep all together", b.plain(x.Along), b.plain(x.Deep))
			}
		}
		t.row(say("%s, on %s", capital(g.Name), x.On), say("%d", x.Pieces), b.figure(x.Each, say("%d", x.AtATime)), b.figure(x.Count, say("<b>%d</b>", x.Batches)), say("%d", x.Turns), room)
		timed = timed && x.Timed
		for i, cycle := range x.Cycles {
			if cycle.Figure == nil || i >= len(g.Coats) {
				continue
			}
			work := esc("")
			if cycle.Work > 0 {
				work = say("%d", cycle.Work)
			}
			c.row(esc(capital(g.Name)), esc(capital(g.Coats[i].Coat.Name.Text)), work, b.figure(cycle.Figure, esc(waitWords(cycle.Minutes))))
		}
		for k, s := range g.Still {
			if s.Cycle == nil || s.Cycle.Figure == nil {
				continue
			}
			work := esc("")
			if s.Cycle.Work > 0 {
				work = say("%d", s.Cycle.Work)
			}
			c.row(esc(capital(g.Name)), say("Coat %d, on the %d that still want it", k+1, s.Pieces), work, b.figure(s.Cycle.Figure, esc(waitWords(s.Cycle.Minutes))))
		}
	}
	if len(t.rows) == 0 && len(without) == 0 {
		return ""
	}
	var w writer
	w.say(`<section id="batches"><h2>Batches</h2>`+"\n%s", &t)
	if len(c.rows) > 0 {
		c.foot = "Day and night, for each of coats alike, on the strips or horses that are there: a batch stands until it is dry, then the next takes its place. Each group is reckoned as though it had them to itself. Groups that share the horses lie on them beside each other where there is room for all at once, else one group comes after the other; on the calendar each side of each batch is a piece of work. A batch that can be hung up while it still dries makes it shorter."
		if !timed {
			c.foot += " Work that the shop has not timed is not in it."
		}
		c.put(&w)
	}
	if len(without) > 0 {
		w.say("<p>How many at a time is not reckoned for the %s: the shop’s settings say nothing of what they stand or lie on (<code>strips:</code> for balusters, <code>horses:</code> for the rest), or their pieces are not counted yet.</p>\n", listed(without))
	}
	w.put("</section>\n")
	return w.markup()
}

// supplies is sandpaper by grit, masking tape, brushes and rags.
func (b *book) supplies() markup {
	f := b.plan.Finishing
	unit := ""
	if len(f.Sandings) > 0 {
		unit = f.Sandings[0].Area.Unit
	}
	t := table{label: "Sanded, by grit", heads: []head{num("Grit", ""), num("Surface, each time counted", unit), num("Sheets", ""), column("Where")}}
	for _, s := range f.Sandings {
		sheets := esc("")
		if s.Sheets != nil {
			sheets = b.amount(s.Sheets, 0, length.Up)
		}
		var where []string
		for _, g := range f.Groups {
			for _, x := range g.Sandings {
				if x.Grit == s.Grit {
					where = append(where, g.Name)
				}
			}
		}
		t.row(say("<b>%d</b>", s.Grit), b.amount(s.Area, 0, length.Up), sheets, esc(listed(where)))
	}
	if len(t.rows) == 0 && f.Tape == nil && len(f.Supplies) == 0 {
		return ""
	}
	if len(t.rows) > 0 {
		t.foot = "Every part of one finish to the same grit; end grain one grade finer, or it comes out darker."
		if f.Sandings[0].Sheets == nil {
			t.foot += " How far a sheet goes is the shop’s own figure: it has none in its settings."
		}
	}
	var w writer
	w.say(`<section id="sandpaper"><h2>Sandpaper, tape, brushes and rags</h2>`+"\n%s", &t)
	if f.Tape != nil {
		m := say("Masking tape for the last coat: %s %s, %s", b.amount(f.Tape, 0, length.Up), f.Tape.Unit, listed(maskedBy(f)))
		if f.Rolls != nil {
			rolls, _ := f.Rolls.Value.Int64()
			m += say(", %s", b.figure(f.Rolls, esc(counted(int(rolls), "roll", "rolls"))))
		}
		w.put("<p>", m, ". It comes off while the coat is still soft.</p>\n")
	}
	for _, s := range f.Supplies {
		if s.Name == job.Brush || s.Name == job.Rag {
			per := map[string]string{job.Brush: "for each finish", job.Rag: "for each coat of each finish"}[s.Name]
			w.say("<p>%s, so many %s (%s).</p>\n", b.figure(s.Figure, say("<b>%s</b>", counted(s.Count, lower(s.Title), plural(s.Title)))), per, s.Figure.Cites[0].Status)
		}
	}
	w.put("</section>\n")
	return w.markup()
}

// plural is more than one of a supply.
func plural(title string) string {
	if strings.HasSuffix(title, "sh") {
		return lower(title) + "es"
	}
	return lower(title) + "s"
}

// lower is a title within a sentence.
func lower(title string) string {
	if title == "" {
		return ""
	}
	return strings.ToLower(title[:1]) + title[1:]
}

// usedUp is what coating uses up, for the buying list, and who sells it.
func (b *book) usedUp() markup {
	t := table{label: "Used up in coating", heads: []head{column("What"), num("How many", ""), column("From")}}
	for _, s := range b.plan.Finishing.Supplies {
		from := "the shelf: nobody’s price list has it"
		for _, o := range b.plan.Buying.Orders {
			for _, l := range o.Lines {
				if l.Kind == "supply" && l.Part == s.Name {
					from = o.Supplier.Title
				}
			}
		}
		for _, h := range b.plan.Buying.OnHand {
			if h.Kind == "supply" && h.Part == s.Name {
				from = "on hand"
			}
		}
		t.row(b.recordedFile(s.At.File, esc(s.Title)), b.figure(s.Figure, say("%d", s.Count)), esc(from))
	}
	return t.markup()
}

// maskedBy says what masking tape keeps the last coat off, as far as the job has it.
func maskedBy(f finish.Finishing) (list []string) {
	has := map[string]bool{}
	finishes := map[string]*job.Finish{}
	for _, g := range f.Groups {
		finishes[g.Name] = g.Finish
		for _, l := range g.Lines {
			has[l.Kind] = true
		}
	}
	if has["shoe"] {
		list = append(list, "along both sides of the shoes")
	}
	if has["newel"] {
		list = append(list, "round posts")
	}
	if has["rosette"] {
		list = append(list, "round rosettes")
	}
	for _, name := range []string{"handrail", "shoe"} {
		if x, ok := finishes[name]; ok && x != finishes["balusters"] {
			return append(list, "round the balusters, which get another finish")
		}
	}
	return list
}
