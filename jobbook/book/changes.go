package book

import (
	"regexp"
	"slices"
	"strings"

	"balustrade/jobbook/changes"
)

// changesPage is what is not as it was in the last issue: what was read otherwise first, then what follows from it.
func (b *book) changesPage(w *writer) {
	c := b.plan.Changes
	if c == nil || c.Same() {
		return
	}
	by := "issue"
	if c.Revision != "" {
		by = "revision"
		w.say("<p>Compared with the job's folder as it was in the revision <b>%s</b> (commit %s), planned with this program", c.Revision, c.Hash)
	} else {
		w.say("<p>Compared with the issue <b>%s</b>", c.Issue)
	}
	if c.Day != "" {
		w.say(" of %s", dayWords(c.Day))
	}
	w.say(". What was cut, drilled or ordered by that %s goes by the old numbers: look through this page before the next cut.</p>\n", by)
	if len(b.plan.Takeoff.Made.Pieces) > 0 {
		w.put(`<p>What was made already, and whether it still fits: <a href="made.html">already made</a>.</p>`, "\n")
	}
	for _, n := range c.Notes {
		w.say("<p>%s.</p>\n", capital(n))
	}
	for _, r := range c.Renamed {
		w.say("<p>%s is called %s now; what it says is compared under its new name.</p>\n", capital(changed(r.Was)), changed(r.Is))
	}
	for _, x := range c.Gone {
		w.say("<p>%s is gone, with all that belonged to it.</p>\n", capital(b.changed(x)))
	}
	for _, x := range c.Added {
		w.say("<p>%s is new, with all that belongs to it.</p>\n", capital(b.changed(x)))
	}
	if len(c.Roots()) == 0 && len(c.Changes) > 0 {
		w.put("<p>No reading and no choice differs. What follows comes from what is not recorded: price lists, what is on hand, steps of the work, days on which one was done, or this program itself.</p>\n")
	}
	for _, s := range []struct {
		sort       changes.Sort
		title, one string
	}{
		{changes.Reading, "Read otherwise", "What"}, {changes.Choice, "Chosen otherwise", "What"}, {changes.Count, "Counts", "What"}, {changes.Mark, "", ""}, {changes.Piece, "Pieces", "Piece"},
		{changes.Order, "What is needed", "Part"}, {changes.Check, "Checks", "Check"}, {changes.Price, "Price", "What"}, {changes.Date, "Days", "What"},
	} {
		if s.sort == changes.Mark {
			w.put(b.marksChanged(c.Of(s.sort)))
			continue
		}
		w.put(b.changesOf(s.sort, s.title, s.one, c.Of(s.sort)))
	}
}

// changesOf is the changes of one sort. A reading says how much it is off, and whether a tape could tell; all others from which of the changed readings they follow.
func (b *book) changesOf(sort changes.Sort, title, what string, list []changes.Change) markup {
	written := sort == changes.Reading || sort == changes.Choice
	heads := []head{column("Of"), column(what), column("Was"), column("Is")}
	switch {
	case written:
		heads = append(heads, column("Difference"))
	case sort != changes.Date:
		heads = append(heads, column("Because of"))
	}
	t := table{label: title, stack: true, long: true, heads: heads}
	for _, x := range list {
		if b.edition != Whole && ofMoney(x.Line) {
			continue
		}
		is, was, because := esc(x.Value), esc(x.Was), markup("")
		if sort == changes.Reading { // a fraction stays beside its inches
			is, was = esc(strings.ReplaceAll(x.Value, " ", "\u00a0")), esc(strings.ReplaceAll(x.Was, " ", "\u00a0"))
		}
		if sort == changes.Date {
			is, was = esc(dayWords(x.Value)), esc(dayWords(x.Was))
		}
		switch {
		case x.Gone && written:
			is = "left out"
		case x.Gone:
			is = "gone"
		case x.New:
			was = "new"
		}
		if written && !x.Gone {
			is = b.recorded(x.At, is)
		} else if !x.Gone {
			is = b.figured(x.Figure, is)
		}
		switch {
		case x.Sized:
			sign := "+"
			if x.By < 0 {
				sign = "−"
			}
			because = say("%s%s %s", sign, b.exact(max(x.By, -x.By)), b.unit())
			if x.Within {
				because += ", no more than a tape tells"
			}
		case !written:
			causes := b.causes(x)
			switch because = joined("; ", causes...); {
			case sort == changes.Date:
			case len(causes) == 0 && x.Line.Of == "calendar":
				because = "the days, or what was done meanwhile"
			default:
				because = becauseOf(because, len(causes), x.Likely)
			}
		}
		t.row([]markup{esc(b.changed(x.Line.Of)), esc(x.Line.Words()), was, say("<b>%s</b>", is), because}[:len(heads)]...)
	}
	if len(t.rows) == 0 {
		return ""
	}
	note := markup("")
	if sort == changes.Date {
		note = "<p>Days follow from all of the above, and from what was done meanwhile.</p>\n"
	}
	return say(`<section id="changed-%s"><h2>%s</h2>`+"\n%s%s</section>\n", string(sort), title, note, &t)
}

// marksChanged is the changed marks, a table to each run, so that all of it fits a phone.
func (b *book) marksChanged(list []changes.Change) markup {
	var w writer
	for len(list) > 0 {
		of, n := list[0].Line.Of, 0
		t := table{label: "Marks of " + b.changed(of), long: true, heads: []head{column("Mark"), num("Was", b.unit()), num("Is", b.unit()), column("Because of")}}
		for ; n < len(list) && list[n].Line.Of == of; n++ {
			x := list[n]
			was, is := b.recordedTape(x.Was), say("<b>%s</b>", b.figured(x.Figure, b.recordedTape(x.Value)))
			switch {
			case x.Gone:
				is = "<b>gone</b>"
			case x.New:
				was = "new"
			}
			causes := b.causes(x)
			t.row(esc(strings.TrimPrefix(x.Line.Words(), "mark ")), was, is, becauseOf(joined("; ", causes...), len(causes), x.Likely))
		}
		list = list[n:]
		t.put(&w)
	}
	if w.Len() == 0 {
		return ""
	}
	return say(`<section id="changed-%s"><h2>Marks</h2>`+"\n%s</section>\n", string(changes.Mark), &w)
}

// A number of inches as an issue records it.
var inchesAndFraction = regexp.MustCompile(`^(?:(\d+) )?(\d+/\d+)$`)

// recordedTape is a length as an issue records it, set like every other: without the unit that the head of the column carries, and with a real fraction.
func (b *book) recordedTape(text string) markup {
	number, ok := strings.CutSuffix(text, " "+b.unit())
	if !ok {
		return esc(strings.ReplaceAll(text, " ", "\u00a0"))
	}
	m := inchesAndFraction.FindStringSubmatch(number)
	switch {
	case m == nil:
		return esc(number)
	case m[1] == "":
		return say(`<span class="frac">%s</span>`, m[2])
	}
	return say(`%s <span class="frac">%s</span>`, m[1], m[2])
}

// causes are what a change follows from, in words; in an edition, what is of money is not told.
func (b *book) causes(x changes.Change) (list []markup) {
	for _, l := range x.Causes {
		if b.edition == Whole || !ofMoney(l) {
			list = append(list, b.cause(l, x.Line.Of))
		}
	}
	return list
}

// becauseOf puts so many causes in words, which may be likely only.
func becauseOf(words markup, causes int, likely bool) markup {
	switch {
	case causes == 0:
		return "not traced"
	case likely && causes > mostCauses:
		return "likely several of those above"
	case likely:
		return "likely " + words
	}
	return words
}

// mostCauses is how many likely causes are named: more of them tell nobody where to look (our own choice).
const mostCauses = 4

// cause is what a change follows from: clear: floor, of another run with its title; a file that is new or gone.
func (b *book) cause(l changes.Line, of string) markup {
	switch {
	case l.What == "" && slices.Contains(b.plan.Changes.Gone, l.Of):
		return say("%s, gone", b.changed(l.Of))
	case l.What == "":
		return say("%s, new", b.changed(l.Of))
	case l.Of == of:
		return esc(l.What)
	}
	return say("%s — %s", b.changed(l.Of), l.What)
}

// changed is what a change belongs to, in words: a run or a step by its title.
func (b *book) changed(of string) string {
	if name, ok := strings.CutPrefix(of, "run/"); ok && b.run(name) != nil {
		return b.runTitle(name)
	}
	if name, ok := strings.CutPrefix(of, "step/"); ok {
		for _, s := range b.plan.Sequence.Steps {
			if s.Step != nil && s.Step.Name == name && s.Step.Title.Text != "" {
				return s.Step.Title.Text
			}
		}
	}
	return changed(of)
}

// changed is the same by name alone, for what is no more: run gallery.
func changed(of string) string { return strings.Replace(of, "/", " ", 1) }
