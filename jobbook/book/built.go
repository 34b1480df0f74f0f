package book

import (
	"slices"
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/rules"
)

// sheetTitle is the title of a sheet's run or post.
func (b *book) sheetTitle(s rules.Sheet) string {
	if s.Run != nil {
		return b.runTitle(s.Run.Name)
	}
	return "Post " + s.Post
}

// gives reports a push that counts, and where something moved.
func gives(p rules.Push) bool { return p.Counts && p.Moves.Yes }

// giving counts the runs and posts that give when pushed.
func (b *book) giving() (n int) {
	for _, s := range b.plan.Inspection.Sheets {
		if slices.ContainsFunc(s.Pushes, gives) {
			n++
		}
	}
	return n
}

// pushTable is what pushes by hand showed, as far as they count. Its words are the shop's and the inspector's; the client reads what was pushed and when.
func (b *book) pushTable() markup {
	t := table{label: "Pushed by hand", heads: []head{column("What"), column("When"), column("What it showed")}}
	for _, s := range b.plan.Inspection.Sheets {
		for _, p := range s.Pushes {
			if !p.Counts {
				continue
			}
			what, showed := esc(b.sheetTitle(s)), markup("nothing moves")
			if p.Moves.Yes {
				showed = verdictMark(finding.Fail, "it moves")
			}
			if b.edition != Client {
				if words := joined(", ", esc(p.Where), esc(p.Load), esc(p.Note)); words != "" {
					what += say(`<span class="fit">%s</span>`, words)
				}
				showed = b.recorded(p.At, showed)
			}
			t.row(what, b.dayOf(p.Date), showed)
		}
	}
	if len(t.rows) == 0 {
		return ""
	}
	t.long = len(t.rows) > sheetRows
	t.foot = "A push by hand proves no load. What gives is not finished."
	return t.markup()
}

// unread is how many boxes of a check that is read at several places are still empty, where some are filled.
func unread(c rules.Check) int {
	if c.Verdict != finding.ToBeMeasured || len(c.Boxes) < 2 {
		return 0
	}
	seen := map[int]bool{}
	for _, r := range c.Read {
		if r.Counts && r.Number > 0 {
			seen[r.Number] = true
		}
	}
	if len(seen) == 0 {
		return 0
	}
	return len(c.Boxes) - len(seen)
}

// verdictsOf are the verdict on the reading of a check that its limit is held against, and how many of its places are still to be read: one read place settles none of the others.
func verdictsOf(c rules.Check, of rules.Built, words string) markup {
	m := verdictMark(of.Verdict, words)
	if n := unread(c); n > 0 {
		m += say(`<span class="fit">%s</span>`, strconv.Itoa(n)+" of "+strconv.Itoa(len(c.Boxes))+" still to be measured")
	}
	return m
}
