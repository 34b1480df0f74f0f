package book

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"balustrade/jobbook/job"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/yard"
)

const icalTime = "20060102T150405" // a time of RFC 5545, 3.3.5

// iCalendar writes the days of the work for a phone (RFC 5545), an event for each stretch of a step: times are as a clock on the spot shows them, or of the zone that the job names.
func (b *book) iCalendar() (File, error) {
	s := &b.plan.Schedule
	title := b.job.Title.Text
	if title == "" {
		title = "job"
	}
	cal := ics.NewCalendar()
	cal.SetMethod(ics.MethodPublish)
	cal.SetProductId("-//jobbook//calendar of the work//EN")
	cal.SetName(oneLine(title))
	var in []ics.PropertyParameter
	if z := b.job.Calendar.TheZone(); z != nil {
		addZone(cal, z, s.Start.Year()-1)
		in = append(in, ics.WithTZID(z.Name))
	}
	for _, x := range b.events() {
		addEvent(cal, x, x.Title, b.job.Place.Text, in)
	}
	var w writer
	err := cal.SerializeTo(w.buffer(), ics.WithNewLineWindows)
	return File{"schedule.ics", w.pieces().texts()}, err
}

// onDays reports whether there is such a file: a job without a first day has none.
func (b *book) onDays() bool {
	s := &b.plan.Schedule
	return s.Known && s.Dated && len(s.Days) > 0 && b.has("calendar")
}

// events are the stretches of the work that is not done, for a phone.
func (b *book) events() (list []yard.Event) {
	s := &b.plan.Schedule
	if !s.Known || !s.Dated {
		return nil
	}
	stamp := s.Start
	if day, ok := b.job.Measured.Date(); ok {
		stamp = day
	}
	at := func(m int) string { return s.Start.Add(time.Duration(m) * time.Minute).Format(icalTime) }
	house := b.houseID()
	seen := map[string]int{}
	for _, d := range s.Days {
		for _, p := range d.Parts {
			of := s.Of[p.Task]
			id := anchor(strings.ReplaceAll(of.ID, " ", "-"))
			for _, span := range p.Spans {
				seen[id]++
				end := span.To
				if end == span.From { // a hold point takes no time; an event has to
					end += 15
				}
				list = append(list, yard.Event{
					ID: fmt.Sprintf("%s.%d@%s.jobbook.invalid", id, seen[id], house), Stamp: stamp.Format(icalTime) + "Z", Start: at(span.From), End: at(end),
					Title: strings.Clone(s.Tasks[p.Task].Name), Description: strings.Clone(calendarWords(of.Step.Step)),
				})
			}
		}
	}
	return list
}

// Events are the events of a plan's calendar, as its book has them for a phone. They hold no part of the plan.
func Events(p *plan.Plan) []yard.Event { return newBook(p, nil).events() }

func addEvent(cal *ics.Calendar, x yard.Event, title, place string, in []ics.PropertyParameter) {
	e := cal.AddEvent(x.ID)
	e.SetProperty(ics.ComponentPropertyDtstamp, x.Stamp)
	e.SetProperty(ics.ComponentPropertyDtStart, x.Start, in...)
	e.SetProperty(ics.ComponentPropertyDtEnd, x.End, in...)
	e.SetSummary(oneLine(title))
	if place != "" {
		e.SetLocation(oneLine(place))
	}
	if x.Description != "" {
		e.SetDescription(x.Description)
	}
}

// houseID tells the events of two jobs apart in one phone: it goes by what stays the same when a job is planned again.
func (b *book) houseID() string {
	sum := sha256.Sum256([]byte(strings.Join([]string{b.job.Title.Text, b.job.Client.Text, b.job.Place.Text}, "\n")))
	const bytes = 6
	return hex.EncodeToString(sum[:bytes])
}

// addZone states what the clocks of a zone show, from a year on (RFC 5545, 3.6.5).
func addZone(cal *ics.Calendar, z *job.Zone, year int) {
	zone := cal.AddTimezone(z.Name)
	if z.Summer == nil {
		standard := zone.AddStandard()
		observance(&standard.ComponentBase, z.Standard, z.Standard.Offset, fmt.Sprintf("%04d0101T000000", year), "")
		return
	}
	rule := func(c job.ClockChange) (from, rule string) {
		return c.Day(year).Add(time.Duration(c.At) * time.Minute).Format(icalTime), fmt.Sprintf("FREQ=YEARLY;BYMONTH=%d;BYDAY=%dSU", c.Month, c.Week)
	}
	standard := zone.AddStandard()
	from, every := rule(z.Standard.From)
	observance(&standard.ComponentBase, z.Standard, z.Summer.Offset, from, every)
	summer := &ics.Daylight{}
	zone.Components = append(zone.Components, summer)
	from, every = rule(z.Summer.From)
	observance(&summer.ComponentBase, *z.Summer, z.Standard.Offset, from, every)
}

func observance(c *ics.ComponentBase, clock job.Clock, before int, from, rule string) {
	c.AddProperty(ics.ComponentPropertyDtStart, from)
	c.AddProperty(ics.ComponentProperty(ics.PropertyTzoffsetfrom), utcOffset(before))
	c.AddProperty(ics.ComponentProperty(ics.PropertyTzoffsetto), utcOffset(clock.Offset))
	c.AddProperty(ics.ComponentProperty(ics.PropertyTzname), clock.Name)
	if rule != "" {
		c.AddProperty(ics.ComponentPropertyRrule, rule)
	}
}

// utcOffset is minutes as +hhmm.
func utcOffset(minutes int) string {
	sign := "+"
	if minutes < 0 {
		sign, minutes = "-", -minutes
	}
	return fmt.Sprintf("%s%02d%02d", sign, minutes/60, minutes%60)
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
