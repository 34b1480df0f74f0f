package book

import (
	"fmt"
	"html"
	"slices"
	"strings"
	"time"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/sequence"
)

// Day is the sheet of a day from a time of it on, as lines of plain text: the calendar is placed anew with nothing begun before that time that is not ticked off, so the sheet says what the day really holds. day is a midnight of UTC, minutes are counted from
// it. Nothing of it reaches the book.
func Day(p *plan.Plan, day time.Time, minutes int) []string {
	var out dayLines
	if p.Job.Title.Given {
		out.line("", p.Job.Title.Text)
	}
	out.line("", day.Format("Monday 2 January 2006")+map[bool]string{true: ", from " + sequence.Clock(minutes)}[minutes > 0])
	now, ok := p.Schedule.Time(day, minutes)
	if !ok {
		out.unknown(p)
		return out.lines
	}
	later := p.Schedule.From(now)
	with := *p
	with.Schedule = later
	b := newBook(&with, nil)
	out.sheet(b, &p.Schedule, now)
	return out.lines
}

// dayLines collects lines of text, folded for a terminal.
type dayLines struct{ lines []string }

// folded is how wide a line gets, as most terminals are.
const folded = 80

// line adds a paragraph, folded between words; what goes over stands under the beginning of the words.
func (o *dayLines) line(indent, text string) {
	under := indent
	if indent != "" {
		under += "  "
	}
	line, width := indent, len(indent)
	for i, word := range strings.Fields(text) {
		n := len([]rune(word))
		if i > 0 && width+1+n > folded {
			o.lines = append(o.lines, line)
			line, width = under, len(under)
		} else if i > 0 {
			line += " "
			width++
		}
		line += word
		width += n
	}
	o.lines = append(o.lines, line)
}

// part adds a heading and what stands below it, nothing where there is nothing.
func (o *dayLines) part(heading string, below []string) {
	if len(below) == 0 {
		return
	}
	o.lines = append(o.lines, "")
	o.line("", heading)
	for _, text := range below {
		o.line("  ", text)
	}
}

// unknown says what a job without days wants filled in, and what comes next in order.
func (o *dayLines) unknown(p *plan.Plan) {
	c := p.Job.Calendar
	var want []string
	if !c.Start.Given {
		want = append(want, "- the first day of work: "+p.Job.File+", calendar: {start: "+"2026-11-23}")
	}
	if !c.HasHours {
		want = append(want, "- the working hours: "+p.Job.File+", calendar: {hours: \"8:00 to 16:30\"}")
	}
	if len(p.Sequence.Steps) == 0 {
		want = append(want, "- steps of the work: there are none")
	}
	o.part("The days of this job are not known. Write:", want)
	if at := p.Sequence.Next(); at < len(p.Sequence.Steps) {
		o.part("Next in order, whatever the day:", []string{"- " + stepTitle(p.Sequence.Steps[at].Step)})
	}
}

// sheet is what a day holds from now on. b is the book of the calendar as it is from now on, planned the book's own.
func (o *dayLines) sheet(b *book, planned *sequence.Schedule, now int) {
	s := &b.plan.Schedule
	today := sequence.DayOf(now)
	o.state(b, planned, now)
	var late, issue, done, ahead []string
	var past []string
	for _, hasty := range b.pastHolds() {
		past = append(past, "- "+hasty)
	}
	o.part("Done past a hold point that is not settled; settle that before anything else:", past)
	open := false // an edge that may be without its guard
	said := map[string]bool{}
	day := func(i int) string {
		p := planned.Table.Placed[i]
		return planned.Label(sequence.DayOf(max(p.End-1, p.Start)))
	}
	const many = 3 // pieces of one step from which on they are told together
	of := map[*sequence.Step][]int{}
	for _, i := range planned.Late(now) {
		of[planned.Of[i].Step] = append(of[planned.Of[i].Step], i)
	}
	for _, i := range planned.Late(now) {
		open = open || planned.Tasks[i].Opens
		step := planned.Of[i].Step
		switch pieces := of[step]; {
		case len(pieces) < many:
			words := "- " + planned.Tasks[i].Name + ": was to be over on " + day(i)
			late, said[words] = append(late, words+", about "+clock(planned.Table.Placed[i].End)), true
		case i == pieces[0]:
			last := slices.MaxFunc(pieces, func(a, b int) int { return planned.Table.Placed[a].End - planned.Table.Placed[b].End })
			words := "- " + stepTitle(step.Step)
			late = append(late, fmt.Sprintf("%s, %d pieces of it: the last was to be over on %s, about %s", words, len(pieces), day(last), clock(planned.Table.Placed[last].End)))
			said[words+": was to be over on "+day(last)] = true
		}
	}
	if len(late) > 0 {
		late = append(late, "What of this is done, tick off in "+b.job.File+", done: ; the rest is placed from now on.")
	}
	if open {
		late = append(late, "If the old guard is off already: first of all the temporary barrier is closed, all along.")
	}
	o.part("Late, by the book’s calendar to be over by now and not ticked off:", late)
	date := s.Date(now).Format(time.DateOnly)
	for _, m := range b.plan.Moved() {
		if !m.Done && m.Step != nil && m.Was < date {
			if words := "- " + stepTitle(m.Step) + ": was to be over on " + dayWords(m.Was); !said[words] { // by the book's calendar on the same day
				issue = append(issue, words)
			}
		}
	}
	if c := b.plan.Changes; c != nil {
		o.part("Late, by "+c.With()+":", issue)
	}
	for i, t := range s.Tasks {
		switch day := sequence.DayOf(s.Table.Placed[i].Start); {
		case !t.Done:
		case day == today:
			done = append(done, "- "+t.Name)
		case day > today:
			ahead = append(ahead, "- "+t.Name+": "+s.Label(day))
		}
	}
	o.part("Ticked off for a day that is still to come; put the day right:", ahead)
	o.part("Ticked off on this day:", done)
	var drying []string
	for i, t := range s.Tasks {
		if p := s.Table.Placed[i]; t.Wait+t.Days > 0 && (p.End <= now || t.Done && sequence.DayOf(p.Start) == today) && p.Ready > now {
			drying = append(drying, "- "+t.Name+": until "+plainText(b.readyAbout(i))[0])
		}
	}
	o.part("Drying, or on the way:", drying)
	work, found := sequence.DayWork{}, false
	for _, d := range s.Days {
		if d.Day == today {
			work, found = d, true
		}
	}
	if !found {
		work = s.Evening(today)
	}
	if found || work.Bar || work.Open || len(work.Night) > 0 {
		heading := map[bool]string{true: "To do:", false: "How it stands:"}[found]
		var w writer
		b.daySheet(&w, work)
		o.part(heading, plainText(w.markup())[1:]) // the first line is the day
	}
	for _, d := range s.Days {
		if d.Day > today {
			var first []string
			for k, p := range d.Parts {
				const most = 3 // of what the next day begins with
				if k < most {
					first = append(first, "- about "+clock(p.Spans[0].From)+": "+s.Tasks[p.Task].Name)
				}
			}
			if n := len(d.Parts) - len(first); n > 0 {
				first = append(first, fmt.Sprintf("- and %d more", n))
			}
			o.part("Next day of work: "+s.Label(d.Day), first)
			break
		}
	}
	told := func(f finding.Finding) string {
		return "- " + capital(f.Title) + map[bool]string{true: ", " + f.Note}[f.Note != ""] + ". What would cure it: " + sentence(f.Cure)
	}
	var stops, ticked []string
	for _, f := range s.Findings {
		if !slices.ContainsFunc(s.Recoated, func(x finding.Finding) bool { return x.ID == f.ID }) {
			stops = append(stops, told(f))
		}
	}
	for _, f := range slices.Concat(b.plan.Sequence.Findings, s.Recoated) {
		ticked = append(ticked, told(f))
	}
	o.part("Ticked off, and cannot have been so:", ticked)
	o.part("From now on this does not work out:", stops)
	var uncounted []string
	for _, u := range s.Uncounted {
		uncounted = append(uncounted, "- "+u)
	}
	o.part("Not counted, for nothing is known of it:", uncounted)
}

// state says in a line why a day is no day of work, where it is none.
func (o *dayLines) state(b *book, planned *sequence.Schedule, now int) {
	s := &b.plan.Schedule
	today := sequence.DayOf(now)
	left, last := 0, 0
	for i, t := range s.Tasks {
		if !t.Done {
			left++
		}
		last = max(last, planned.Table.Placed[i].End)
	}
	closes, works := s.Closes(today)
	first := 0
	if len(planned.Days) > 0 {
		first = planned.Days[0].Day
	}
	var words []string
	switch {
	case len(s.Tasks) > 0 && left == 0:
		words = append(words, "Every step is ticked off, the last on "+s.Label(sequence.DayOf(max(last-1, 0)))+": the work is over.")
	case left > 0 && len(s.Days) == 0:
		words = append(words, "Nobody works on any day: nothing can be placed.")
	case today < 0:
		words = append(words, fmt.Sprintf("This is before the first day of the calendar, %s, %s from here.", planned.Label(first), counted(first-today, "day", "days")))
	case now > last:
		words = append(words, fmt.Sprintf("By the book’s calendar the work was over on %s; %s not ticked off.", planned.Label(sequence.DayOf(max(last-1, 0))), counted(left, "piece of it is", "pieces of it are")))
	}
	switch {
	case left == 0 || today < 0:
	case !works && s.Off(today):
		words = append(words, "Nobody works on this day: it is a day off.")
	case !works:
		words = append(words, "Nobody works on this day of the week.")
	case now >= closes:
		words = append(words, "Work is over for this day at "+sequence.Clock(closes)+".")
	case !sheetOn(s, today):
		words = append(words, "There is nothing to do on this day: what is left waits.")
	}
	if len(words) > 0 {
		o.lines = append(o.lines, "")
		o.line("", strings.Join(words, " "))
	}
}

func sheetOn(s *sequence.Schedule, day int) bool {
	for _, d := range s.Days {
		if d.Day == day {
			return true
		}
	}
	return false
}

// plainText is markup of ours as lines: a paragraph, an entry of a list or a fact on each.
func plainText(m markup) (lines []string) {
	var line strings.Builder
	end := func(next string) {
		if text := strings.Join(strings.Fields(line.String()), " "); text != "" && text != "-" {
			lines = append(lines, text)
		}
		line.Reset()
		line.WriteString(next)
	}
	rest := string(m)
	for rest != "" {
		text, tag, found := strings.Cut(rest, "<")
		line.WriteString(html.UnescapeString(text))
		if !found {
			break
		}
		tag, rest, _ = strings.Cut(tag, ">")
		switch name, _, _ := strings.Cut(tag, " "); name {
		case "li":
			end("- ")
		case "/dt":
			line.WriteString(": ")
		case "p", "h2", "h3", "ul", "/ul", "dl", "div", "/div", "section", "/section", "/p", "/h2", "/li":
			end("")
		}
	}
	end("")
	return lines
}
