package book

import (
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// measuredPage shows every reading as it was taken, and what the book made of them: which parts, rules and settings.
func (b *book) measuredPage(w *writer) {
	w.put(b.whoMeasured(), b.jobReadings())
	for i, r := range b.job.Runs {
		var laid *layout.Run
		if i < len(b.plan.Layout.Runs) && b.plan.Layout.Runs[i].Name == r.Name {
			laid = b.plan.Layout.Runs[i]
		} else {
			laid = b.run(r.Name)
		}
		w.put(b.runReadings(r, laid))
	}
	for _, s := range b.job.Surveys {
		if b.edition == Inspector && s.Goes() { // of what is taken out, only what it was fixed to is built on
			if m := b.inside(s); m != "" {
				w.say(`<section id="survey-%s"><h2>%s</h2>`+"\n%s</section>\n", anchor(s.Name), b.groupTitle("survey/"+s.Name), m)
			}
			continue
		}
		w.put(b.survey(s))
	}
	w.put(b.used())
}

func (b *book) whoMeasured() markup {
	words := joined(" by ", b.words(b.job.Measured), b.words(b.job.MeasuredBy))
	if words == "" {
		return ""
	}
	if b.edition != Whole {
		return say("<p>Measured %s. Lengths are in %s.</p>\n", words, b.unitWords())
	}
	return say("<p>Measured %s. Each value leads to the line where it was written. Lengths are in %s.</p>\n", words, b.unitWords())
}

func (b *book) jobReadings() markup {
	j := b.job
	facts := pairs{class: "facts"}
	length := func(name string, m job.Measure) {
		if m.Given {
			facts.add(name, say("%s %s", b.read(m), b.unit()))
		}
	}
	length("drop to the floor or grade below", j.Drop)
	if j.Height.Top.Given {
		facts.add("rail top, where a run says nothing else", b.height(j.Height))
	}
	if j.Built.Given {
		facts.add("house built", b.recorded(j.Built.At, say("%d", j.Built.N)))
	}
	if j.Surfacing.Given {
		facts.add("flooring and wall surfacing from", b.recorded(j.Surfacing.At, say("%d", j.Surfacing.N)))
	}
	facts.add("small children live or visit there", b.flag(j.Children))
	facts.add("work for pay", b.flag(j.ForPay))
	facts.add("floor still to come", b.toCome(j.ToCome))
	posts := table{label: "Posts", heads: []head{column("Post"), column("Newel"), column("Foot"), column("Note")}}
	for _, p := range j.Posts {
		newel := toBeMeasured
		if p.Part != nil {
			newel = b.recorded(p.Newel.At, esc(partTitle(p.Part.Title, p.Part.Origin)))
		}
		posts.row(b.recorded(p.At, esc(p.Name)), newel, b.words(p.Foot), b.words(p.Note))
	}
	body := facts.markup() + posts.markup()
	if body == "" {
		return ""
	}
	return say(`<section id="job"><h2>The whole job</h2>`+"\n%s</section>\n", body)
}

func (b *book) flag(f job.Flag) markup {
	switch {
	case !f.Given:
		return ""
	case f.Yes:
		return b.recorded(f.At, "yes")
	}
	return b.recorded(f.At, "no")
}

// height puts a rail's height in words: 38 in above the finished floor.
func (b *book) height(h job.Height) markup {
	if !h.Top.Given {
		return b.read(h.Top)
	}
	above := "finished"
	if h.Above.Given {
		above = h.Above.Text
	}
	m := say("%s %s above the %s floor", b.read(h.Top), b.unit(), above)
	if h.At.Text == "highest" {
		m += ", at its highest point"
	}
	return m
}

func (b *book) toCome(t job.ToCome) markup {
	if !t.Thick.Given && !t.What.Given {
		return ""
	}
	return joined(", ", b.words(t.What), say("%s %s thick", b.read(t.Thick), b.unit()))
}

func (b *book) runReadings(r *job.Run, laid *layout.Run) markup {
	var w writer
	w.say(`<section id="read-%s"><h2>%s</h2>`+"\n", anchor(r.Name), b.runTitle(r.Name))
	facts := pairs{class: "facts"}
	facts.add("measured from", b.end(r.From, laid != nil, func() string { return laid.From.Taken }))
	facts.add("to", b.end(r.To, laid != nil, func() string { return laid.To.Taken }))
	if r.Stair == nil {
		facts.add("rail top", b.height(r.Height))
	}
	if r.Drop.Given {
		facts.add("drop", say("%s %s", b.read(r.Drop), b.unit()))
	}
	facts.add("floor still to come", b.toCome(r.ToCome))
	facts.add("fixed to the floor", b.words(r.StandsOn))
	if r.Most.Given {
		facts.add("openings no more than", say("%s %s", b.read(r.Most), b.unit()))
	}
	if r.Count.Given {
		facts.add("balusters, exactly", b.recorded(r.Count.At, say("%d", r.Count.N)))
	}
	facts.put(&w)
	w.put(b.stairReadings(r), b.standingReadings(r), b.edgeFacts(r))
	clears := table{label: "Clear between the ends", heads: []head{column("Height"), num("Clear", b.unit())}}
	for _, c := range r.Clears {
		at := esc(clearWords(c.Name))
		if c.Name == "" || c.At.Given {
			at = say("%s %s above the floor", b.read(c.At), b.unit())
		}
		clears.row(at, b.read(c.Read))
	}
	clears.put(&w)
	if laid != nil && laid.Lean != nil {
		w.line(sentence(laid.Lean.Words))
	}
	levels := table{label: "Floor, down from a level line", heads: []head{num("From the datum end", b.unit()), num("Down", b.unit()), num("Floor, from the datum end", b.unit())}}
	var datum job.Level // the reading nearest to the datum end, that the others are compared with
	for _, l := range r.Level {
		if l.At.Given && l.Down.Given && (!datum.At.Given || l.At.Length < datum.At.Length) {
			datum = l
		}
	}
	for _, l := range r.Level {
		var height markup
		if l.At.Given && l.Down.Given {
			height = b.exact(datum.Down.Length - l.Down.Length)
		}
		at := b.read(l.At)
		if l.Step.Yes {
			at += ", a step"
		}
		levels.row(at, b.read(l.Down), height)
	}
	levels.put(&w)
	if laid != nil {
		w.line(sentence(laid.Floor.Words))
	}
	w.put("</section>\n")
	return w.markup()
}

// clearWords are the heights that a clear is named by, in words.
func clearWords(name string) string {
	switch name {
	case "floor":
		return "at the floor"
	case "middle":
		return "halfway up"
	case "rail":
		return "at the middle of the rail"
	}
	return name
}

func (b *book) end(e job.End, laid bool, taken func() string) markup {
	if !e.Where.Given {
		return toBeMeasured
	}
	where := "the wall"
	if e.Post != nil {
		where = "post " + e.Post.Name
	}
	m := b.recorded(e.Where.At, esc(where))
	if laid {
		if t := taken(); t != "" {
			m += say(", taken to %s", t)
		}
	}
	if e.Before.Given {
		m += say(", %s %s before the riser", b.read(e.Before), b.unit())
	}
	if e.Past.Given {
		m += say(", %s %s past the riser", b.read(e.Past), b.unit())
	}
	if e.Held.Given {
		m += say(", held by %s", b.words(e.Held))
	}
	if e.Over.Yes {
		m += b.recorded(e.Over.At, ", the rail goes over it")
	}
	if e.Thick.Given {
		m += say(", %s %s thick", b.read(e.Thick), b.unit())
	}
	if e.High.Given {
		m += say(", %s %s high", b.read(e.High), b.unit())
	}
	if e.Stays.Given && !e.Stays.Yes {
		m += b.recorded(e.Stays.At, ", comes off")
	}
	if e.Plumb.Away.Given {
		m += say("; leans away by %s %s at %s", b.read(e.Plumb.Away), b.unit(), b.read(e.Plumb.At))
	}
	if e.Plumb.In.Given {
		m += say("; leans in by %s %s at %s", b.read(e.Plumb.In), b.unit(), b.read(e.Plumb.At))
	}
	return m
}

// survey is an old guard as found.
func (b *book) survey(s *job.Survey) markup {
	title := s.Title.Text
	if title == "" {
		title = capital(s.Name)
	}
	var w writer
	w.say(`<section id="survey-%s"><h2>%s</h2>`+"\n", anchor(s.Name), title)
	facts := pairs{class: "facts"}
	facts.add("looked at", b.words(s.Of))
	if s.Height.Given || !s.Height.At.IsZero() {
		facts.add("rail top above the floor", say("%s %s", b.read(s.Height), b.unit()))
	}
	if s.Drop.Given {
		facts.add("drop", say("%s %s", b.read(s.Drop), b.unit()))
	}
	facts.add("gives when pushed", b.flag(s.Loose))
	if s.Moves.Given {
		facts.add("its rail moves", say("%s %s", b.read(s.Moves), b.unit()))
	}
	facts.add("fixed", b.words(s.Held))
	facts.add("covered with", b.words(s.Coated))
	if s.CoatedIn.Given {
		facts.add("last coated", b.recorded(s.CoatedIn.At, say("%d", s.CoatedIn.N)))
	}
	facts.add("taken out", b.flag(s.Removes))
	facts.put(&w)
	openings := table{label: "Openings as found", heads: []head{column("Where"), num("Opening", b.unit())}}
	for _, o := range s.Openings {
		openings.row(b.words(o.Where), b.read(o.Read))
	}
	openings.put(&w)
	members := table{label: "Old parts, for their coated surface", heads: []head{column("What"), num("Count", ""), num("Wide", b.unit()), num("Long", b.unit())}}
	for _, m := range s.Members {
		count := toBeMeasured
		if m.Count.Given {
			count = b.recorded(m.Count.At, say("%d", m.Count.N))
		}
		wide := b.read(m.Wide)
		if m.Deep.Given {
			wide = say("%s by %s", wide, b.read(m.Deep))
		}
		members.row(b.words(m.What), count, wide, b.read(m.Long))
	}
	members.put(&w)
	w.put(b.oldSurface(s), b.found(s), b.surveyPhotos(s), b.prose(s.Prose.Document), b.family(s), "</section>\n")
	return w.markup()
}

// oldSurface says which side of 6 sq ft an old guard's coated surface lies.
func (b *book) oldSurface(s *job.Survey) markup {
	for _, o := range b.plan.Finishing.Old {
		if o.Survey != s {
			continue
		}
		if o.Area == nil || !o.Area.Value.Known() {
			return "<p>Coated surface: " + toBeMeasured + ".</p>\n"
		}
		if !b.job.IsLaw(job.US) {
			return say("<p>Coated surface: %s. Old coats may hold lead until a test says otherwise. %s about taking them out. In the US, as an example, more than %s of them in one room is lead renovation work in a house from before 1978, done for pay (40 CFR 745.83, %s).</p>\n",
				b.figured(o.Area.ID, b.surface(o.Area.Value)), askLaw, b.lengthsIn("{6 sq ft}"), working.Published.String())
		}
		side := "not over"
		if o.Over {
			side = "over"
		}
		return say("<p>Coated surface: %s %s, %s the 6 sq ft that make it lead renovation work in a house from before 1978, done for pay (40 CFR 745.83, %s).</p>\n",
			b.amount(o.Area, 1, length.Nearest), o.Area.Unit, side, working.Published.String())
	}
	return ""
}
