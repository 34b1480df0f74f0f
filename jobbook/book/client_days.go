package book

import (
	"slices"
	"strings"

	"balustrade/jobbook/sequence"
)

// when is the work's days as the household meets them: what is noisy, dusty or smells, when the stair is closed, from when to when the edge stands behind a barrier.
func (b *book) when() markup {
	s := &b.plan.Schedule
	if !s.Dated || len(s.Days) == 0 {
		if !b.job.Wanted.Given {
			return ""
		}
		return say("<p>The parts are asked to be there by %s. The day the work starts is agreed between us.</p>\n", dayWords(b.job.Wanted.Text))
	}
	var w writer
	first, last := s.Days[0].Day, s.Days[len(s.Days)-1].Day
	w.put(`<div class="together">`, "\n") // on paper, with what they are about
	w.say("<p>Planned from %s to %s. Wood, paint and weather can move these days: ask again before you plan around one.</p>\n", s.Label(first), s.Label(last))
	if s.Fails() {
		w.put("<p>These days do not keep yet to all that was asked for or agreed. What gives way is settled with you first.</p>\n")
	}
	if len(s.Uncounted) > 0 {
		w.put("<p>Something that nobody can know yet is not counted in: the end may come later.</p>\n")
	}
	w.put(b.milestones(), "</div>\n", b.noticed())
	if kept := b.kept(); kept != "" {
		w.put(kept)
	}
	return w.markup()
}

// milestones are the days that a household remembers.
func (b *book) milestones() markup {
	s := &b.plan.Schedule
	var opens, closes, up, down []int // days
	standing := false                 // a barrier is up already
	for i, t := range s.Tasks {
		p := s.Table.Placed[i]
		day := sequence.DayOf(p.Start)
		switch {
		case t.Barrier != 0 && t.Done:
			standing = t.Barrier > 0
		case t.Done:
		case t.Opens:
			opens = append(opens, day)
		case t.Barrier > 0:
			up = append(up, day)
		case t.Barrier < 0:
			down = append(down, day)
		case t.Closes:
			closes = append(closes, sequence.DayOf(max(p.End-1, p.Start)))
		}
	}
	facts := pairs{class: "facts"}
	add := func(what string, days []int, pick func([]int) int) {
		if len(days) > 0 {
			facts.add(what, esc(s.Label(pick(days))))
		}
	}
	if b.job.Wanted.Given && len(s.Goods) > 0 {
		facts.add("the parts are asked to be there by", esc(dayWords(b.job.Wanted.Text)))
	}
	until := markup("")
	if len(down) > 0 {
		until = say(", until %s", s.Label(slices.Max(down)))
	}
	switch {
	case standing:
		facts.add("a closed barrier at the edge", "it stands"+until)
	case len(up) > 0:
		facts.add("a closed barrier at the edge", say("from %s", s.Label(slices.Min(up)))+until)
	}
	add("the old guard comes out", opens, slices.Min[[]int])
	add("the new guard stands", closes, slices.Max[[]int])
	if b.job.Calendar.Inspection.Given {
		facts.add("the inspector comes", esc(dayWords(b.job.Calendar.Inspection.Text)))
	}
	facts.add("all is done", esc(s.Label(s.Days[len(s.Days)-1].Day)))
	return facts.markup()
}

// disturbed is from when to when the household notices the work, which may be planned, made and dried elsewhere for weeks before.
func (b *book) disturbed() markup {
	s := &b.plan.Schedule
	if !s.Dated {
		return ""
	}
	first, last := 0, -1
	for i, t := range s.Tasks {
		if p := s.Table.Placed[i]; !t.Done && (t.Makes.Dust || t.Makes.Stair || t.Makes.Fumes) && p.Ready > p.Start {
			until := p.End
			if t.Makes.Fumes {
				until = p.Ready
			}
			if last < 0 {
				first = sequence.DayOf(p.Start)
			}
			first, last = min(first, sequence.DayOf(p.Start)), max(last, sequence.DayOf(max(until-1, p.Start)))
		}
	}
	if last < 0 {
		return ""
	}
	if first == last {
		return say(`<a href="work.html">%s</a>`, s.Label(first))
	}
	return say(`<a href="work.html">%s to %s</a>`, s.Label(first), s.Label(last))
}

// noticed is the days on which the household notices something, with the hours; what smells is told from its beginning to its end, over nights.
func (b *book) noticed() markup {
	s := &b.plan.Schedule
	type row struct {
		from      int
		day, what markup
	}
	var rows []row
	dust, stair := map[int][]sequence.Span{}, map[int][]sequence.Span{} // by day
	var days []int
	var smells []sequence.Span
	for i, t := range s.Tasks {
		if t.Done {
			continue
		}
		p := s.Table.Placed[i]
		for _, x := range p.Spans {
			d := sequence.DayOf(x.From)
			if !t.Makes.Dust && !t.Makes.Stair {
				break
			}
			if len(dust[d])+len(stair[d]) == 0 {
				days = append(days, d)
			}
			if t.Makes.Dust {
				dust[d] = append(dust[d], x)
			}
			if t.Makes.Stair {
				stair[d] = append(stair[d], x)
			}
		}
		if t.Makes.Fumes && p.Ready > p.Start {
			smells = append(smells, sequence.Span{From: p.Start, To: p.Ready})
		}
	}
	for _, d := range days {
		var list []markup
		if x := hourWords(dust[d]); x != "" {
			list = append(list, say(`<span class="filled">Noise and dust, %s</span>`, x))
		}
		if x := hourWords(stair[d]); x != "" {
			list = append(list, say(`<span class="filled">The stair is closed, %s</span>`, x))
		}
		rows = append(rows, row{d * sequence.Day, esc(b.familyDay(d)), joined("", list...)})
	}
	for _, x := range together(smells) {
		day := say("%s, %s", b.familyDay(sequence.DayOf(x.From)), sequence.Clock(x.From))
		if to := say("%s, %s", b.familyDay(sequence.DayOf(x.To)), sequence.Clock(x.To)); sequence.DayOf(x.To) > sequence.DayOf(x.From) {
			day += ", to " + to
		} else {
			day += say(" to %s", sequence.Clock(x.To))
		}
		rows = append(rows, row{x.From, day, "It smells of finish, day and night"})
	}
	slices.SortStableFunc(rows, func(x, y row) int { return x.from - y.from })
	t := table{label: "Days to plan around", long: len(rows) > sheetRows, heads: []head{column("When"), column("What you will notice")}}
	for _, x := range rows {
		t.row(x.day, x.what)
	}
	if len(t.rows) == 0 {
		return ""
	}
	t.foot = "Noise is reckoned with where dust is; carrying, fitting and a drill now and then are heard on other days too."
	return t.markup()
}

// familyDay is a day without its year, which stands above the table.
func (b *book) familyDay(day int) string {
	return b.plan.Schedule.Date(day * sequence.Day).Format("Monday 2 January")
}

// halfHour is how fine a household is told of hours, in minutes; a plan is no finer.
const halfHour = 30

// hourWords are the hours of one day: 8:00 to 12:00 and 12:30 to 16:30.
func hourWords(spans []sequence.Span) string {
	var list []string
	for _, x := range together(spans) {
		to := sequence.Clock(x.To)
		if sequence.DayOf(x.To) > sequence.DayOf(x.From) {
			to = "midnight"
		}
		list = append(list, sequence.Clock(x.From)+" to "+to)
	}
	return listed(list)
}

// together are stretches of time in order, rounded outwards to the half hour, those that meet or overlap as one.
func together(spans []sequence.Span) (list []sequence.Span) {
	spans = slices.Clone(spans)
	for i, x := range spans {
		day := sequence.DayOf(x.From) * sequence.Day
		spans[i] = sequence.Span{From: day + (x.From-day)/halfHour*halfHour, To: day + (x.To-day+halfHour-1)/halfHour*halfHour}
	}
	slices.SortFunc(spans, func(a, b sequence.Span) int { return a.From - b.From })
	for _, x := range spans {
		if n := len(list); n > 0 && x.From <= list[n-1].To {
			list[n-1].To = max(list[n-1].To, x.To)
		} else {
			list = append(list, x)
		}
	}
	return list
}

// kept is what the household asked for, where the plan keeps to it. Why it asked is nobody else's.
func (b *book) kept() markup {
	if b.plan.Schedule.Fails() {
		return ""
	}
	var w writer
	for _, f := range b.job.Calendar.Family {
		var no []string
		for _, t := range f.No {
			no = append(no, map[string]string{"dust": "no noise and dust", "fumes": "no smell of finish", "solvents": "no smell of oil or shellac", "stair": "the stair open"}[t.Text])
		}
		if len(no) == 0 {
			continue
		}
		words := []string{listed(no), weekdayWords(f.Weekdays())}
		for _, h := range f.Hours {
			words = append(words, h.String())
		}
		for _, on := range f.On {
			if on.From == on.To {
				words = append(words, dayWords(on.From))
			} else {
				words = append(words, dayWords(on.From)+" to "+dayWords(on.To))
			}
		}
		w.say("<li>%s.</li>\n", capital(strings.Join(slices.DeleteFunc(words, func(s string) bool { return s == "" }), ", ")))
	}
	if w.Len() == 0 {
		return ""
	}
	return "<p>As you asked, and as these days are planned:</p>\n<ul>\n" + w.markup() + "</ul>\n"
}

// weekdayWords are days of the week: every day; Saturday and Sunday.
func weekdayWords(on [7]bool) string {
	names := []string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"}
	switch on {
	case [7]bool{true, true, true, true, true, true, true}:
		return "every day"
	case [7]bool{true, true, true, true, true}:
		return "Monday to Friday"
	}
	var list []string
	for i, name := range names {
		if on[i] {
			list = append(list, name)
		}
	}
	return listed(list)
}

// clientHandOver is what the client keeps of the end of the work: what is still to be put right, what was read, what was put on.
func (b *book) clientHandOver() markup {
	var w writer
	if t := b.punchTable(); t != "" {
		w.put(t)
		for _, x := range b.punches() {
			w.put(b.prose(x.Prose.Document))
		}
	}
	if t := b.pushTable() + b.builtTable(); t != "" {
		w.put(t, "<p>A reading is a record, not an approval: the building department has the last word.</p>\n")
	}
	if t := b.usedTable(); t != "" {
		w.put(t, "<p>Keep this with the cans: whoever touches it up wants colour and batch.</p>\n")
	}
	return w.markup()
}

// clientRetighten says when the bolts are tightened once more.
func (b *book) clientRetighten() markup {
	day := "after the first winter that it has stood in the heated house"
	if r := b.plan.Retighten; r.Day != "" {
		day += ", about " + dayWords(r.Day)
	}
	return say("<p>Wood shrinks away from its bolts once: have them tightened %s.</p>\n", day)
}
