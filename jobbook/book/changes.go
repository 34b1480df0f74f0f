package book

import (
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
	w.say("<p>Compared with the issue <b>%s</b>", c.Issue)
	if c.Day != "" {
		w.say(" of %s", dayWords(c.Day))
	}
	w.put(`. What was cut, drilled or ordered by that issue goes by the old numbers: look through this page before the next cut.</p>`, "\n")
	for _, r := range c.Renamed {
		w.say("<p>%s is called %s now; what it says is compared under its new name.</p>\n", changed(r.Was), b.changed(r.Is))
	}
	for _, x := range c.Gone {
		w.say("<p>%s is gone, with all that belonged to it.</p>\n", capital(b.changed(x)))
	}
	for _, x := range c.Added {
		w.say("<p>%s is new, with all that belongs to it.</p>\n", capital(b.changed(x)))
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
	last := column("Because of")
	if written {
		last = column("Difference")
	}
	t := table{label: title, wide: true, long: true, heads: []head{column("Of"), column(what), column("Was"), column("Is"), last}}
	for _, x := range list {
		is, was, because := esc(x.Value), esc(x.Was), markup("")
		switch {
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
				causes = append(causes, say("%s, %s", b.changed(l.Of), l.What))
			}
			because = joined("; ", causes...)
		}
		t.row(esc(b.changed(x.Line.Of)), esc(x.What), was, say("<b>%s</b>", is), because)
	}
	if len(t.rows) == 0 {
		return ""
	}
	return say(`<section id="changed-%s"><h2>%s</h2>`+"\n%s</section>\n", string(sort), title, t.markup())
}

// changed is what a change belongs to, in words: a run by its title.
func (b *book) changed(of string) string {
	if name, ok := strings.CutPrefix(of, "run/"); ok && b.run(name) != nil {
		return b.runTitle(name)
	}
	return changed(of)
}

// changed is the same by name alone, for what is no more: run gallery.
func changed(of string) string { return strings.ReplaceAll(of, "/", " ") }
