package book

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/sequence"
)

// phoneLink leads to the file for a phone. The print edition keeps its words, and says the file's name.
const (
	phoneTag          = `<a href="schedule.ics">`
	phoneLink  markup = phoneTag + "For a phone’s calendar</a>"
	phoneWords        = " there is schedule.ics"
)

// calendarPage is the work over its days: bars, and each step with its beginning, its end, and how much it may wait.
func (b *book) calendarPage(w *writer) {
	s := &b.plan.Schedule
	if !s.Known || len(s.Days) == 0 {
		return
	}
	last := s.Days[len(s.Days)-1]
	w.say("<p>%s to %s, %s working. Steps begin as soon as what they wait for is over; nothing here is a promise.", capital(s.Label(s.Days[0].Day)), s.Label(last.Day), counted(s.Crew, "person", "people"))
	if s.Dated {
		w.put(" ", phoneLink, ".")
	} else {
		w.put(" The job names no first day: day 1 is taken for a Monday.")
	}
	w.put(` <a href="days.html">A sheet for each day</a>.</p>`, "\n")
	if z := b.job.Calendar.TheZone(); z != nil {
		w.say("<p>Times are those of %s; what dries while clocks are put on gets its hour more.</p>\n", z.Name)
	}
	for _, u := range s.Uncounted {
		w.say("<p><b>Not counted, for nothing is known of it:</b> %s.</p>\n", u)
	}
	w.put(b.failingDays(), b.longest(), b.waits())
	w.put("<p>In the drawings: black has no slack, the end of the job moves with it; a thin line dries, or is on the way; a stop sign is a hold point. Nights and days without work are narrow.</p>\n")
	w.put(sized(panels(draw.Bars(s, sheetWidth)), panels(draw.Bars(s, phoneWidth)))...)
	t := table{label: "Steps on their days", wide: true, long: true, heads: []head{column("Step"), column("Begins"), column("Is over"), column("Dry or here"), num("Slack", ""), column("Who")}}
	for _, i := range s.Table.Order {
		p, task := s.Table.Placed[i], s.Tasks[i]
		name := say(`<a href="sequence.html#%s">%s</a>`, stepAnchor(s.Of[i].Step.Step), task.Name)
		if task.Done {
			t.row(name, say("done, %s", s.Label(p.Start/sequence.Day)), "", "", "", "")
			continue
		}
		slack, ready, people := markup("none"), markup(""), make([]string, 0, len(p.People))
		if !p.Critical {
			slack = esc(duration(p.Slack))
		}
		if p.Ready > p.End {
			ready = b.ready(i)
		}
		for _, k := range p.People {
			people = append(people, fmt.Sprint(k+1))
		}
		t.row(name, b.moment(p.Start), b.moment(p.End), ready, slack, esc(listed(people)))
	}
	t.foot = "Times are about, to five minutes. Slack is working time that a step may wait without moving the end. People are counted from 1."
	t.put(w)
	w.put(b.moved())
}

// longest is the chain of what moves the end: every step without slack, in order.
func (b *book) longest() markup {
	s := &b.plan.Schedule
	var names []markup
	for _, i := range s.Table.Order {
		if s.Table.Placed[i].Critical && !s.Tasks[i].Done {
			names = append(names, say(`<a href="sequence.html#%s">%s</a>`, stepAnchor(s.Of[i].Step.Step), s.Tasks[i].Name))
		}
	}
	if len(names) == 0 {
		return ""
	}
	return say("<p>Critical, a day lost there is a day lost at the end: %s.</p>\n", joined(", then ", names...))
}

// clock is a time of day as it is printed.
func clock(minutes int) string { return sequence.Clock(sequence.Printed(minutes)) }

// moment is a time of the calendar in few words: Mon 7 Dec, 8:00.
func (b *book) moment(m int) markup {
	m = sequence.Printed(m)
	s := &b.plan.Schedule
	day := s.Label(sequence.DayOf(m))
	if s.Dated {
		day = s.Date(m).Format("Mon 2 Jan")
	}
	return say("%s, %s", day, sequence.Clock(m))
}

// ready is when what comes after a task may begin; a day where it goes by days.
func (b *book) ready(task int) markup {
	s := &b.plan.Schedule
	at := s.Table.Placed[task].Ready
	if s.Tasks[task].Days == 0 || at%sequence.Day != 0 {
		return b.moment(at)
	}
	if s.Dated {
		return esc(s.Date(at).Format("Mon 2 Jan"))
	}
	return esc(s.Label(sequence.DayOf(at)))
}

// readyAbout is the same in a sentence, which says that an hour is none to the minute.
func (b *book) readyAbout(task int) markup {
	if b.plan.Schedule.Tasks[task].Days > 0 && b.plan.Schedule.Table.Placed[task].Ready%sequence.Day == 0 {
		return b.ready(task)
	}
	return "about " + b.ready(task)
}

// daysPage is a sheet for each day: what to do and who does it, what to bring, what bites, and how the place is left in the evening.
func (b *book) daysPage(w *writer) {
	s := &b.plan.Schedule
	if !s.Known || len(s.Days) == 0 {
		return
	}
	w.put("<p>")
	if s.Crew > 1 {
		w.put("People are counted from 1. ")
	}
	w.put("Times go from the first hand to the last, breaks and what the family asked for in between. What each step wants is on the page ", `<a href="sequence.html">Order of work</a>`)
	if len(b.plan.Takeoff.Fixings) > 0 {
		w.put(", the screws for it on ", `<a href="fixings.html">Fixings</a>`)
	}
	w.put(".</p>\n", b.failingDays())
	for _, u := range s.Uncounted {
		w.say("<p><b>Not counted, for nothing is known of it:</b> %s.</p>\n", u)
	}
	if n := len(b.plan.Missing); n > 0 {
		w.say(`<p><b>Still to be measured or decided:</b> <a href="index.html">%s</a>, before what waits for it.</p>`+"\n", counted(n, "thing", "things"))
	}
	for _, d := range s.Days {
		b.daySheet(w, d)
	}
}

func (b *book) daySheet(w *writer, d sequence.DayWork) {
	s := &b.plan.Schedule
	w.say(`<section class="step" id="day-%d"><h2>%s</h2>`+"\n<ul>\n", d.Day+1, capital(s.Label(d.Day)))
	facts := pairs{class: "facts"}
	var bring, bites, evening []string
	var cautions []markup
	coating, oil, inspected, house, down := false, false, false, false, false
	add := func(list *[]string, words string) {
		if words != "" && !slices.Contains(*list, words) {
			*list = append(*list, words)
		}
	}
	for _, p := range d.Parts {
		of := s.Of[p.Task]
		step := of.Step.Step
		b.part(w, p)
		coating = coating || of.Coat != nil || slices.ContainsFunc(step.Time.Makes, func(t job.Text) bool { return t.Text == "fumes" })
		inspected = inspected || step.Time.Inspection.Yes
		house = house || !of.Shop
		down = down || s.Tasks[p.Task].Barrier < 0
		if of.Coat != nil {
			oil = oil || of.Coat.Oil()
			for _, words := range b.coatWith(of.Coat) {
				add(&bring, words)
			}
		}
		for _, x := range append([]*sequence.Step{of.Step}, of.With...) {
			for _, t := range x.Step.Tools {
				add(&bring, t.Text)
			}
			add(&evening, x.Step.Evening.Text)
			for _, c := range x.Cautions {
				if name := cautionAnchor(c); !slices.Contains(bites, name) {
					bites = append(bites, name)
					cautions = append(cautions, say(`<a href="cautions.html#%s">%s</a>`, name, cautionTitle(c)))
				}
				oil = oil || of.Coat == nil && c.Name == oilyRags
			}
		}
	}
	w.put("</ul>\n")
	facts.add("bring", esc(strings.Join(bring, "; ")))
	facts.add("cautions", joined("; ", cautions...))
	if house {
		facts.add("the family", joined("; ", b.wishes(d.Day)...))
	}
	if inspected && b.job.Calendar.Inspection.Given {
		facts.add("today", "the inspector comes: somebody is there, with the papers; ask at what hour")
	}
	var night []markup
	for _, i := range d.Night {
		name := s.Tasks[i].Name
		if s.Of[i].Step.Step.Time.Lead.Yes {
			name = "What was ordered is on its way"
		}
		night = append(night, say("%s, until %s", name, b.readyAbout(i)))
	}
	facts.add("goes on by itself", joined("; ", night...))
	facts.put(w)
	w.put("<p><b>In the evening:</b> ")
	switch {
	case d.Open && d.Bar:
		w.put("the edge is without its guard: the temporary barrier is closed all along and was pushed by hand. ")
	case d.Open:
		w.put("<b>the edge is without its guard and without a barrier: nobody leaves before one stands.</b> ")
	case d.Bar:
		w.put("the temporary barrier stands and is closed. ")
	case !b.barredBefore(d.Day) && len(b.job.Surveys) == 0 && !slices.Contains(b.plan.Traits, "retrofit"):
		w.put("no old guard is on record: where the edge is open, a barrier stands. ")
	case down:
		w.put("the new guard is the guard from now on. ")
	}
	if house {
		w.put("Tools, finishes and dust are out of a child’s reach, the stair is swept and free.")
	} else {
		w.put("All of this day’s work is in the shop; nothing was touched in the house.")
	}
	for _, words := range evening {
		w.say(" %s", sentence(capital(words)))
	}
	if coating && oil {
		w.put(" Oily rags lie in their closed metal container.")
	}
	if coating {
		w.put(" What dries stands where nobody comes by.")
	}
	w.put("</p>\n</section>\n")
}

// part writes a step on one day.
func (b *book) part(w *writer, p sequence.Part) {
	s := &b.plan.Schedule
	of := s.Of[p.Task]
	step := of.Step.Step
	when := "about " + clock(p.Spans[0].From)
	if last := p.Spans[len(p.Spans)-1]; last.To > last.From {
		when += " to " + clock(last.To)
	}
	if people := s.Table.Placed[p.Task].People; s.Crew > 1 && len(people) > 0 {
		var list []string
		for _, k := range people {
			list = append(list, fmt.Sprint(k+1))
		}
		when += ", " + map[bool]string{true: "person ", false: "people "}[len(list) == 1] + listed(list)
	}
	note := ""
	switch {
	case !p.First && p.Last:
		note = ", the rest of it"
	case !p.First:
		note = ", going on"
	case !p.Last:
		note = ", begun"
	}
	w.say(`<li>%s: <a href="sequence.html#%s">%s</a>%s`, when, stepAnchor(step), s.Tasks[p.Task].Name, note)
	if of.Shop {
		w.put(", in the shop")
	}
	quantities := of.Step.Quantities
	for _, x := range of.With {
		quantities = append(slices.Clone(quantities), x.Quantities...)
	}
	if numbers := quantitiesWords(quantities); len(numbers) > 0 && of.Coat == nil { // of a coat the group is named
		w.say(" (%s)", listed(numbers))
	}
	w.put(".")
	if c := of.Coat; c != nil && c.Sand != "" && s.FirstGo(p.Task) {
		w.say(" Before it: %s.", sanding(c))
	}
	if h := step.Hold.Text; h != "" {
		w.say(" <b>Hold point: %s</b>", sentence(h))
	} else if p.Last && s.LastOfStep(p.Task) {
		for _, x := range append([]*sequence.Step{of.Step}, of.With...) {
			if r := x.Step.Right.Text; r != "" {
				w.say(" Right when: %s", sentence(r))
			}
		}
	}
	w.put("</li>\n")
}

// wishes are what the family does not want on a day.
func (b *book) wishes(day int) (list []markup) {
	s := &b.plan.Schedule
	weekday := ((day % 7) + 7) % 7 // day 1 is a Monday
	date := ""
	if s.Dated {
		at := s.Date(day * sequence.Day)
		weekday, date = (int(at.Weekday())+6)%7, at.Format(time.DateOnly)
	}
	for _, f := range b.job.Calendar.Family {
		on := f.Weekdays()[weekday]
		if len(f.On) > 0 {
			on = on && slices.ContainsFunc(f.On, func(d job.Days) bool { return d.From <= date && date <= d.To })
		}
		if !on || len(f.No) == 0 {
			continue
		}
		var no []string
		for _, t := range f.No {
			no = append(no, map[string]string{"dust": "no dust", "fumes": "no fumes", "solvents": "no fumes of oil or shellac", "stair": "the stair is free"}[t.Text])
		}
		words := listed(no)
		for i, h := range f.Hours {
			words += []string{", ", " and "}[min(i, 1)] + h.String()
		}
		if f.Why.Given {
			words += ": " + f.Why.Text
		}
		list = append(list, esc(words))
	}
	return list
}

// oilyRags is the caution of whatever leaves rags that burn by themselves.
const oilyRags = "oily-rags"

// coatWith is what a coat is put on with, and what the pieces stand or lie on.
func (b *book) coatWith(c *finish.Stage) (list []string) {
	list = append(list, c.Coat)
	for _, g := range b.plan.Finishing.Groups {
		if g.Name == c.Group && g.Finish != nil {
			for _, t := range g.Finish.Tools {
				list = append(list, t.Text)
			}
			if len(g.Finish.Tools) == 0 {
				list = append(list, "brushes", "cloths")
			}
		}
	}
	switch {
	case c.Fitted:
	case c.On != "":
		list = append(list, c.On)
	case c.Group == "balusters":
		list = append(list, "strips of lumber with a screw for each")
	default:
		list = append(list, "horses")
	}
	return list
}

// sanding says how the wood, or the coat under it, is sanded before a coat.
func sanding(c *finish.Stage) string {
	switch {
	case c.N == 1:
		return "bare wood sanded with " + c.Sand
	case c.Sand == notSanded:
		return c.Sand
	}
	return "sand " + c.Sand
}

// barredBefore reports whether a temporary barrier is put up on a day or before it.
func (b *book) barredBefore(day int) bool {
	s := &b.plan.Schedule
	for i := range s.Tasks {
		if s.Tasks[i].Barrier > 0 && s.Table.Placed[i].End <= (day+1)*sequence.Day {
			return true
		}
	}
	return false
}
