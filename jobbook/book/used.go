package book

import (
	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
)

// used says which parts, rules and settings the book went by, where each was found, and what it replaced.
func (b *book) used() markup {
	t := table{label: "Parts, finishes and rules used", heads: []head{column("What"), column("Which"), column("Whose"), column("In place of")}}
	row := func(what, title string, o job.Origin) {
		t.row(esc(capital(what)), b.recorded(source.Pos{File: o.File}, esc(title)), esc(layerWords(o.Layer)), esc(replaced(o)))
	}
	for _, p := range b.parts() {
		row(p.kind, p.title, p.origin)
	}
	seen := map[*job.Finish]bool{}
	for _, u := range b.job.Finishes {
		if u.Part != nil && !seen[u.Part] {
			seen[u.Part] = true
			row("finish", partTitle(u.Part.Title, u.Part.Origin), u.Part.Origin)
		}
	}
	if r := b.job.Rules; r != nil {
		row("rule set", partTitle(r.Title, r.Origin), r.Origin)
	}
	settings := b.settings()
	if len(t.rows) == 0 && settings == "" {
		return ""
	}
	return say(`<section id="used"><h2>What the book went by</h2>`+"\n%s%s</section>\n", t.markup(), settings)
}

// settings are the shop's ways that numbers rest on.
func (b *book) settings() markup {
	j := b.job
	t := table{label: "Settings", heads: []head{column("What"), num("Value", ""), column("Written in")}}
	row := func(what string, m job.Measure) {
		if m.Given {
			t.row(esc(what), say("%s %s", b.read(m), b.unit()), b.where(m.At))
		}
	}
	row("Marks and cuts are rounded to", j.Division)
	row("Marking error of a centre", j.Tolerance.Mark)
	row("Drilling error of a centre", j.Tolerance.Drill)
	row("A baluster may be under its width by", j.Tolerance.Width)
	if j.Tolerance.Season.Given {
		row("A baluster shrinks over the year by", j.Tolerance.Season)
	} else if b.plan.Layout.Air.Dry != nil {
		t.row("The year's shrinkage of a baluster", "worked out from the air of the room", "")
	} else {
		t.row("The year's shrinkage of a baluster", "not counted", "")
	}
	row("Taken off a baluster so that it goes in", j.Shop.Fit)
	row("The most that a shoe is scribed", j.Shop.Scribe)
	row("Balusters cut alike where they differ by no more than", j.Shop.Alike)
	row("A hole is wider than its pin by", j.Shop.Hole)
	row("A hole is deeper than its pin by", j.Shop.HoleDeep)
	row("A newel's block stands over the highest rail by", j.Shop.Reveal)
	row("Clears that differ by more are out of plumb", j.Shop.Plumb)
	if j.Shop.Spare.Given {
		t.row("Balusters ordered beyond those needed", esc(ratio(j.Shop.Spare)), b.where(j.Shop.Spare.At))
	}
	if len(t.rows) < 2 {
		return ""
	}
	return t.markup()
}
