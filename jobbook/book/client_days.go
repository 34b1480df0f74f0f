package book

import (
	"slices"
	"strings"

	"balustrade/jobbook/finding"
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
	w.say("<p>Planned from %s to %s. Wood, paint and weather can move these days: ask again before you plan around one.</p>\n", s.Label(first), s.Label(last))
	if len(s.Uncounted) > 0 {
		w.put("<p>Something that nobody can know yet is not counted in: the end may come later.</p>\n")
	}
	w.put(b.milestones(), b.noticed())
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
		case t.Barrier > 0 && t.Done:
			standing = true
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

// noticed is the days on which the household notices something, with the hours.
func (b *book) noticed() markup {
	s := &b.plan.Schedule
	type day struct{ dust, stair, fumes []sequence.Span }
	days := map[int]*day{}
	at := func(m int) *day {
		d := sequence.DayOf(m)
		if days[d] == nil {
			days[d] = &day{}
		}
		return days[d]
	}
	for i, t := range s.Tasks {
		if t.Done {
			continue
		}
		p := s.Table.Placed[i]
		for _, x := range p.Spans {
			if t.Makes.Dust {
				at(x.From).dust = append(at(x.From).dust, x)
			}
			if t.Makes.Stair {
				at(x.From).stair = append(at(x.From).stair, x)
			}
		}
		if t.Makes.Fumes { // for as long as it dries
			for m := p.Start; m < p.Ready; {
				next := min((sequence.DayOf(m)+1)*sequence.Day, p.Ready)
				at(m).fumes = append(at(m).fumes, sequence.Span{From: m, To: next})
				m = next
			}
		}
	}
	var order []int
	for d := range days {
		order = append(order, d)
	}
	slices.Sort(order)
	t := table{label: "Days to plan around", long: true, heads: []head{column("Day"), column("What you will notice")}}
	for k := 0; k < len(order); k++ {
		from := order[k]
		words := func(d int) markup {
			x := days[d]
			var list []markup
			for _, y := range []struct {
				what  string
				spans []sequence.Span
			}{{"noise and dust", x.dust}, {"the stair is closed", x.stair}, {"it smells of finish", x.fumes}} {
				if hours := hourWords(y.spans); hours != "" {
					list = append(list, say(`<span class="filled">%s</span>`, capital(y.what)+", "+hours))
				}
			}
			return joined("", list...)
		}
		for k+1 < len(order) && order[k+1] == order[k]+1 && words(order[k+1]) == words(from) {
			k++
		}
		name := esc(s.Label(from))
		if order[k] > from {
			name = say("%s to %s", s.Label(from), s.Label(order[k]))
		}
		t.row(name, words(from))
	}
	if len(t.rows) == 0 {
		return ""
	}
	t.foot = "Noise is reckoned with where dust is; carrying, fitting and a drill now and then are heard on other days too."
	return t.markup()
}

// halfHour is how fine a household is told of hours, in minutes; a plan is no finer.
const halfHour = 30

// hourWords are the hours of one day, to the half hour outwards: 8:00 to 12:00 and 12:30 to 16:30; day and night; until 10:00.
func hourWords(spans []sequence.Span) string {
	if len(spans) == 0 {
		return ""
	}
	spans = slices.Clone(spans)
	for i, x := range spans {
		day := sequence.DayOf(x.From) * sequence.Day
		spans[i].From = day + (x.From-day)/halfHour*halfHour
		spans[i].To = day + (x.To-day+halfHour-1)/halfHour*halfHour
	}
	slices.SortFunc(spans, func(a, b sequence.Span) int { return a.From - b.From })
	joined := []sequence.Span{spans[0]}
	for _, x := range spans[1:] {
		if last := &joined[len(joined)-1]; x.From <= last.To {
			last.To = max(last.To, x.To)
		} else {
			joined = append(joined, x)
		}
	}
	var list []string
	for _, x := range joined {
		midnight := sequence.DayOf(x.From) * sequence.Day
		switch {
		case x.From == midnight && x.To == midnight+sequence.Day:
			list = append(list, "day and night")
		case x.From == midnight:
			list = append(list, "until "+sequence.Clock(x.To))
		case x.To == midnight+sequence.Day:
			list = append(list, "from "+sequence.Clock(x.From)+" on")
		default:
			list = append(list, sequence.Clock(x.From)+" to "+sequence.Clock(x.To))
		}
	}
	return listed(list)
}

// kept is what the household asked for, where the plan keeps to it. Why it asked is nobody else's.
func (b *book) kept() markup {
	if slices.ContainsFunc(b.plan.Schedule.Findings, func(f finding.Finding) bool { return f.Verdict == finding.Fail }) {
		return ""
	}
	var w writer
	for _, f := range b.job.Calendar.Family {
		var no []string
		for _, t := range f.No {
			no = append(no, map[string]string{"dust": "no noise and dust", "fumes": "no smell of finish", "stair": "the stair open"}[t.Text])
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
	if t := b.builtTable(); t != "" {
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
