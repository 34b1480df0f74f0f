package book

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
)

// keptFacts are how alike an old guard that stays looks with the new balusters in.
func (b *book) keptFacts(r *layout.Run) markup {
	k := r.Kept
	if r.Chosen == nil {
		return ""
	}
	facts := pairs{class: "carry"}
	facts.add("worst opening as found", say("%s %s", b.worst(r, k.Before), b.unit()))
	facts.add("worst openings now, gap by gap", say("from %s to %s %s", b.worst(r, k.Least), b.worst(r, k.Most), b.unit()))
	return b.rakeFacts(r) + facts.markup()
}

// oldGaps is the old guard gap by gap: as found, and with what goes in.
func (b *book) oldGaps(r *layout.Run) markup {
	k := r.Kept
	t := table{label: "Old gaps of " + b.runTitle(r.Name) + ", from the datum end", heads: []head{num("Gap", ""), column("Where"), num("At the foot", b.unit()), num("Worst as found", b.unit()), num("New ones", ""), num("Worst with them", b.unit()), num("Room beside them", b.unit())}}
	for _, g := range k.Gaps {
		fresh, worst, room := say("%d", g.New), b.worst(r, g.Worst), markup("")
		switch {
		case r.Chosen == nil:
			fresh, worst = "", ""
		case g.Least < 0:
			fresh = verdictMark(finding.Fail, "none fits")
		case g.New == 0:
			fresh = "stays as it is"
		default:
			room = b.near(g.Room)
		}
		if g.Alike {
			fresh += say(`<span class="fit">%d would do; as many as in gaps like it</span>`, g.Least)
		}
		found := b.worst(r, g.Found)
		if !g.Known {
			found = toBeMeasured
			if worst != "" {
				worst = toBeMeasured
			}
		}
		t.row(say("%d", g.N), esc(g.Where), b.figured(k.Figure, b.near(g.Foot)), found, fresh, worst, room)
	}
	if len(t.rows) > 0 {
		t.foot = "Room is what is left beside a new one for drill and driver, at the foot or under the rail."
	}
	return t.markup()
}

// oldOnes are the balusters that stand there, as they were read.
func (b *book) oldOnes(r *layout.Run) markup {
	t := table{label: "Old balusters of " + b.runTitle(r.Name) + " that stay", heads: []head{num("Old baluster", ""), num("Near face from the datum, level", b.unit()), num("Middle", b.unit()), column("Head leans")}}
	for _, o := range r.Kept.Old {
		lean := markup("not read")
		switch {
		case o.Leans && o.Lean == 0:
			lean = "plumb"
		case o.Leans && o.Lean > 0:
			lean = say("%s %s away from the datum", b.near(o.Lean), b.unit())
		case o.Leans:
			lean = say("%s %s towards the datum", b.near(-o.Lean), b.unit())
		}
		t.row(say("%d", o.N), b.near(o.Near), b.near(o.At), lean)
	}
	return t.markup()
}

// standingReadings are those of an old guard that stays, as they were taken.
func (b *book) standingReadings(r *job.Run) markup {
	s := r.Standing
	if s == nil {
		return ""
	}
	facts := pairs{class: "facts"}
	stays := markup("yes")
	if !r.Stays() {
		stays = "no"
	}
	facts.add("old guard stays", stays)
	if s.Baluster.Given || !s.Baluster.At.IsZero() {
		facts.add("old baluster", b.words(s.Baluster))
	}
	list := func(name string, readings []job.Measure) {
		if len(readings) == 0 {
			return
		}
		var words []markup
		for _, m := range readings {
			words = append(words, b.read(m))
		}
		facts.add(name, say("%s %s", joined(", ", words...), b.unit()))
	}
	list("near faces of the old balusters, at the shoe", s.Foot)
	list("near faces of the old balusters, under the rail", s.Head)
	list("between the old shoe and the old rail, plumb", s.Between)
	return facts.markup()
}
