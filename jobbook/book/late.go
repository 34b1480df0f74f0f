package book

import (
	"fmt"
	"slices"
	"time"

	"balustrade/jobbook/job"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/sequence"
)

// workDays is a difference of days in words: 3 working days later.
func workDays(n int) string {
	switch {
	case n > 0:
		return counted(n, "working day", "working days") + " later"
	case n < 0:
		return counted(-n, "working day", "working days") + " sooner"
	}
	return "the same working day"
}

// shortDay is a day in a column: Mon 7 Dec 2026.
func shortDay(day string) string {
	at, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return day
	}
	return at.Format("Mon 2 Jan 2006")
}

// moved sets the days on which steps are over against those of the last issue: what was planned then, and what is now.
func (b *book) moved() markup {
	list := b.plan.Moved()
	if len(list) == 0 {
		return ""
	}
	t := table{label: "Days then, and now", stack: true, long: true, heads: []head{column("Step"), column("Planned over"), column("Now"), column("Difference")}}
	kept := 0
	for _, m := range list {
		if m.Was == m.Is {
			kept++
			continue
		}
		name, now := markup("The whole of the work"), esc(shortDay(m.Is))
		if m.Step != nil {
			name = say(`<a href="sequence.html#%s">%s</a>`, stepAnchor(m.Step), stepTitle(m.Step))
		}
		if m.Done {
			now = say("done, %s", shortDay(m.Is))
		}
		t.row(name, esc(shortDay(m.Was)), say("<b>%s</b>", now), esc(workDays(m.Days)))
	}
	c := b.plan.Changes
	words := c.With()
	if c.Day != "" {
		words += " of " + dayWords(c.Day)
	}
	if len(t.rows) == 0 {
		return say("<p>Every step is over on the day that it has in <b>%s</b>.</p>\n", words)
	}
	t.foot = "Days on which somebody works are counted."
	if kept > 0 {
		t.foot += fmt.Sprintf(" %s over on the same day as then.", capital(counted(kept, "other step is", "other steps are")))
	}
	return say(`<section id="moved"><h2>Planned then, and now</h2>`+"\n<p>Planned then: by <b>%s</b>.</p>\n%s</section>\n", words, &t)
}

// late tells on the first page what was done later than it was to be: than the last issue said, than the job's own days. What is not done yet and comes too late is a failing check of the calendar.
func (b *book) late() markup {
	var w writer
	for _, m := range b.plan.Schedule.Missed {
		w.say(`<li><a href="sequence.html#%s">%s</a>: done on %s, %s %s; %s.</li>`+"\n", stepAnchor(m.Step), stepTitle(m.Step), dayWords(m.Done), m.What, dayWords(m.By), workDays(m.Days))
	}
	var end *plan.Moved
	var late []plan.Moved
	for _, m := range b.plan.Moved() {
		switch {
		case m.Step == nil:
			end = &m
		case m.Done && m.Is > m.Was:
			late = append(late, m)
		}
	}
	slices.SortStableFunc(late, func(x, y plan.Moved) int { return y.Days - x.Days })
	for i, m := range late {
		const most = 3 // the latest ones: the calendar has them all
		if i == most {
			w.say("<li>%s done later than planned as well%s.</li>\n", capital(counted(len(late)-most, "other step was", "other steps were")), b.seeCalendar())
			break
		}
		w.say(`<li><a href="sequence.html#%s">%s</a>: done on %s, by %s on %s; %s.</li>`+"\n", stepAnchor(m.Step), stepTitle(m.Step), dayWords(m.Is), b.plan.Changes.With(), dayWords(m.Was), workDays(m.Days))
	}
	if end != nil && end.Is > end.Was {
		now := "is over"
		if end.Done {
			now = "was over"
		}
		w.say("<li>The work %s on %s, by %s on %s; %s%s.</li>\n", now, dayWords(end.Is), b.plan.Changes.With(), dayWords(end.Was), workDays(end.Days), b.seeCalendar())
	}
	if w.Len() == 0 {
		return ""
	}
	return say(`<h3 id="late">Later than planned</h3>`+"\n<ul>\n%s</ul>\n", &w)
}

// seeCalendar leads to the page, which is not made once all is done.
func (b *book) seeCalendar() markup {
	if len(b.plan.Schedule.Days) == 0 {
		return ""
	}
	return `: <a href="calendar.html#moved">see the calendar</a>`
}

// waitOf is what passes after a step, and what that rests on.
func (b *book) waitOf(s *job.Step) markup {
	for _, x := range b.job.Calendar.Waits {
		if x.Step.Text == s.Name && x.Wait.Given {
			return say("%s pass, written in %s", waitWords(x.Wait.Most), b.recorded(x.Wait.At, esc("job.md")))
		}
	}
	if !s.Time.Wait.Given {
		return ""
	}
	rests := "nobody wrote on what that rests"
	switch {
	case s.Time.Source.Given && s.Time.Status != 0:
		rests = s.Time.Status.String() + ", " + s.Time.Source.Text
	case s.Time.Source.Given:
		rests = s.Time.Source.Text
	case s.Time.Status != 0:
		rests = s.Time.Status.String() + ", no source"
	}
	return say("%s pass before what comes next (%s)", waitWords(s.Time.Wait.Most), rests)
}

// waits are what passes after the steps of this job, each with what it rests on.
func (b *book) waits() markup {
	var w writer
	for _, x := range b.plan.Sequence.Steps {
		if x.Step == nil || x.Done != "" {
			continue
		}
		if words := b.waitOf(x.Step); words != "" {
			w.say(`<li><a href="sequence.html#%s">%s</a>: %s</li>`+"\n", stepAnchor(x.Step), stepTitle(x.Step), words)
		}
	}
	if w.Len() == 0 {
		return ""
	}
	return say("<p>What passes between steps, day and night; coats dry as the page Finishing says, and goods come as their suppliers say:</p>\n<ul>\n%s</ul>\n", &w)
}

// tickedOff are the pieces of a step that is done in part.
func (b *book) tickedOff(s sequence.Step) markup {
	if s.Done != "" || !s.Begun() {
		return ""
	}
	var done, open []string
	for _, p := range s.Pieces {
		if p.Done != "" {
			done = append(done, p.Name+" on "+dayWords(p.Done))
		} else {
			open = append(open, p.Name)
		}
	}
	return say("%s; still to do: %s", listed(done), listed(open))
}
