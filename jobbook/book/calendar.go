package book

import (
	"fmt"
	"slices"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/sequence"
)

// calendarPage is the work over its days: bars, and each step with its beginning, its end, and how much it may wait.
func (b *book) calendarPage() markup {
	s := &b.plan.Schedule
	if !s.Known || len(s.Days) == 0 {
		return ""
	}
	var w writer
	last := s.Days[len(s.Days)-1]
	w.say("<p>%s to %s, %s working. Steps begin as soon as what they wait for is over; nothing here is a promise.", capital(s.Label(s.Days[0].Day)), s.Label(last.Day), counted(s.Crew, "person", "people"))
	if s.Dated {
		w.put(` <a href="schedule.ics">For a phone’s calendar</a>.`)
	} else {
		w.put(" The job names no first day: day 1 is taken for a Monday.")
	}
	w.put(` <a href="days.html">A sheet for each day</a>.</p>`, "\n")
	for _, u := range s.Uncounted {
		w.say("<p><b>Not counted, for nothing is known of it:</b> %s.</p>\n", u)
	}
	w.say("<div class=\"wide\">\n%s</div>\n<div class=\"phone\">\n%s</div>\n", joined("", panels([]string{draw.Bars(s, sheetWidth)})...), joined("", panels([]string{draw.Bars(s, phoneWidth)})...))
	w.put("<p>Black: no slack, the end of the job moves with it. A thin line: it dries, or is on the way.</p>\n")
	t := table{label: "Steps on their days", wide: true, long: true, heads: []head{column("Step"), column("Begins"), column("Is over"), column("Dry or here"), num("Slack", ""), column("Who")}}
	for _, i := range s.Table.Order {
		p, task := s.Table.Placed[i], s.Tasks[i]
		name := say(`<a href="sequence.html#%s">%s</a>`, stepAnchor(s.Of[i].Step.Step), task.Name)
		if task.Done {
			t.row(name, say("done, %s", s.Label(sequence.DayOf(p.Start))), "", "", "", "")
			continue
		}
		slack, ready, people := markup("none"), markup(""), make([]string, 0, len(p.People))
		if !p.Critical {
			slack = esc(duration(p.Slack))
		}
		if p.Ready > p.End {
			ready = b.moment(p.Ready)
		}
		for _, k := range p.People {
			people = append(people, fmt.Sprint(k+1))
		}
		t.row(name, b.moment(p.Start), b.moment(p.End), ready, slack, esc(listed(people)))
	}
	t.foot = "Slack is working time that a step may wait without moving the end. People are counted from 1."
	w.put(t.markup())
	return w.markup()
}

// moment is a time of the calendar in few words: Mon 7 Dec, 8:00.
func (b *book) moment(m int) markup {
	s := &b.plan.Schedule
	day := s.Label(sequence.DayOf(m))
	if s.Dated {
		day = s.Date(m).Format("Mon 2 Jan")
	}
	return say("%s, %s", day, sequence.Clock(m))
}

// daysPage is a sheet for each day: what to do, what to bring, what bites, and how the place is left in the evening.
func (b *book) daysPage() markup {
	s := &b.plan.Schedule
	if !s.Known || len(s.Days) == 0 {
		return ""
	}
	var w writer
	for _, d := range s.Days {
		w.say(`<section class="step" id="day-%d"><h2>%s</h2>`+"\n", d.Day+1, capital(s.Label(d.Day)))
		w.put("<ul>\n")
		var bring, bites []string
		var cautions []markup
		for _, p := range d.Parts {
			of := s.Of[p.Task]
			when := sequence.Clock(p.Spans[0].From)
			if last := p.Spans[len(p.Spans)-1]; last.To > last.From {
				when += " to " + sequence.Clock(last.To)
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
			w.say(`<li>%s: <a href="sequence.html#%s">%s</a>%s.`, when, stepAnchor(of.Step.Step), s.Tasks[p.Task].Name, note)
			if h := of.Step.Step.Hold.Text; h != "" {
				w.say(" <b>Hold point: %s</b>", sentence(h))
			} else if r := of.Step.Step.Right.Text; r != "" && p.Last && (of.Coat == nil || of.Coat.N == of.Coat.Of) {
				w.say(" Right when: %s", sentence(r))
			}
			w.put("</li>\n")
			for _, t := range of.Step.Step.Tools {
				if !slices.Contains(bring, t.Text) {
					bring = append(bring, t.Text)
				}
			}
			for _, c := range of.Step.Cautions {
				if name := cautionAnchor(c); !slices.Contains(bites, name) {
					bites = append(bites, name)
					cautions = append(cautions, say(`<a href="cautions.html#%s">%s</a>`, name, cautionTitle(c)))
				}
			}
		}
		w.put("</ul>\n")
		facts := pairs{class: "facts"}
		facts.add("bring", esc(listed(bring)))
		facts.add("cautions", joined("; ", cautions...))
		var night []string
		for _, i := range d.Night {
			night = append(night, s.Tasks[i].Name)
		}
		facts.add("goes on over night", esc(listed(night)))
		w.put(facts.markup(), "<p><b>In the evening:</b> ")
		switch {
		case d.Open && d.Bar:
			w.put("the edge is without its guard: the temporary barrier is closed all along and was pushed by hand. ")
		case d.Open:
			w.put("<b>the edge is without its guard and without a barrier: nobody leaves before one stands.</b> ")
		case d.Bar:
			w.put("the temporary barrier stands and is closed. ")
		}
		w.put("Tools, finishes and dust are out of a child’s reach, oily rags in their container, the stair swept.</p>\n</section>\n")
	}
	return w.markup()
}

// iCalendar writes the days of the work for a phone (RFC 5545): a time of the day as it is on the spot, whatever the zone, an event for each stretch of a step. A job without a first day has none.
func (b *book) iCalendar() (File, bool) {
	s := &b.plan.Schedule
	if !s.Known || !s.Dated || len(s.Days) == 0 {
		return File{}, false
	}
	title := b.job.Title.Text
	if title == "" {
		title = "job"
	}
	cal := ics.NewCalendar()
	cal.SetMethod(ics.MethodPublish)
	cal.SetProductId("-//jobbook//calendar of the work//EN")
	cal.SetName(oneLine(title))
	const local = "20060102T150405"
	stamp := s.Start
	if day, ok := b.job.Measured.Date(); ok {
		stamp = day
	}
	at := func(m int) string { return s.Start.Add(time.Duration(m) * time.Minute).Format(local) }
	seen := map[string]int{}
	for _, d := range s.Days {
		for _, p := range d.Parts {
			of := s.Of[p.Task]
			id := of.Step.Step.Name
			if c := of.Coat; c != nil {
				id += "-" + c.Group + "-" + fmt.Sprint(c.N)
			}
			for _, span := range p.Spans {
				seen[id]++
				e := cal.AddEvent(fmt.Sprintf("%s-%d@%s.jobbook.invalid", anchor(id), seen[id], strings.ToLower(anchor(strings.ReplaceAll(title, " ", "-")))))
				e.SetProperty(ics.ComponentPropertyDtstamp, stamp.Format("20060102T150405Z"))
				e.SetProperty(ics.ComponentPropertyDtStart, at(span.From))
				end := span.To
				if end == span.From { // a hold point takes no time; an event has to
					end += 15
				}
				e.SetProperty(ics.ComponentPropertyDtEnd, at(end))
				e.SetSummary(oneLine(s.Tasks[p.Task].Name))
				if b.job.Place.Given {
					e.SetLocation(oneLine(b.job.Place.Text))
				}
				if words := calendarWords(of.Step.Step); words != "" {
					e.SetDescription(words)
				}
			}
		}
	}
	return File{"schedule.ics", []byte(cal.Serialize(ics.WithNewLineWindows))}, true
}

func calendarWords(s *job.Step) string {
	switch {
	case s.Hold.Given:
		return "Hold point: " + oneLine(s.Hold.Text)
	case s.Right.Given:
		return "Right when: " + oneLine(s.Right.Text)
	}
	return ""
}

// oneLine takes line breaks and control characters out of a text.
func oneLine(text string) string {
	return strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if r < ' ' || r == '\x7f' {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, "\ufffd"))), " ")
}
