package book

import (
	"slices"
	"strings"

	"balustrade/jobbook/changes"
)

// changesPage is what is not as it was in the last issue: what was read otherwise first, then what follows from it.
func (b *book) changesPage() markup {
	c := b.plan.Changes
	if c == nil || c.Same() {
		return ""
	}
	var w writer
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
		{changes.Reading, "Read otherwise", "What"}, {changes.Choice, "Chosen otherwise", "What"}, {changes.Count, "Counts", "What"}, {changes.Mark, "Marks", "Mark"}, {changes.Piece, "Pieces", "Piece"},
		{changes.Order, "What is needed", "Part"}, {changes.Check, "Checks", "Check"}, {changes.Price, "Price", "What"}, {changes.Date, "Days", "What"},
	} {
		w.put(b.changesOf(s.sort, s.title, s.one, c.Of(s.sort)))
	}
	return w.markup()
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
	t := table{label: title, wide: true, long: true, heads: heads}
	for _, x := range list {
		if b.edition != Whole && ofMoney(x.Line) {
			continue
		}
		is, was, because := esc(x.Value), esc(x.Was), markup("")
		if sort == changes.Reading || sort == changes.Mark { // a fraction stays beside its inches
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
			var causes []markup
			for _, l := range x.Causes {
				if b.edition != Whole && ofMoney(l) {
					continue
				}
				causes = append(causes, b.cause(l, x.Line.Of))
			}
			because = joined("; ", causes...)
			switch {
			case len(causes) == 0 && sort != changes.Date:
				because = "not traced"
			case x.Likely && len(causes) > mostCauses:
				because = "likely several of those above"
			case x.Likely && len(causes) > 0:
				because = "likely " + because
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
	return say(`<section id="changed-%s"><h2>%s</h2>`+"\n%s%s</section>\n", string(sort), title, note, t.markup())
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
