package book

import (
	"balustrade/jobbook/layout"
)

// footRows is where a post's foot is bored for its bolts or lag screws: on site down from the floor, on the bench up from the newel's bottom end.
func (b *book) footRows(p *layout.Post) markup {
	if len(p.Rows) == 0 {
		return ""
	}
	t := table{label: "Fixings at the foot of " + p.Name, class: "treads", heads: []head{column("Row"), num("Below the floor", b.unit()), num("Up from its bottom end", b.unit())}}
	for i, r := range p.Rows {
		below, up := b.rowCells(r)
		t.row(say("%d", i+1), below, up)
	}
	t.foot = "Below the floor as it is now at the post, or what else it stands on; up from the newel's end as it is set."
	return t.markup()
}

func (b *book) rowCells(r layout.FootRow) (below, up markup) {
	below, up = toBeMeasured, toBeMeasured
	if r.Figure != "" {
		below = b.figured(r.Figure, b.mark(r.Below))
	}
	switch {
	case r.Bench != "" && r.Up > 0:
		up = b.figured(r.Bench, b.mark(r.Up))
	case r.Bench != "":
		up = b.figured(r.Bench, "beyond its end")
	}
	return below, up
}

// footWords are the same on a line: 60 and 180 below the floor, 170 and 50 up from the newel's bottom end.
func (b *book) footWords(rows []layout.FootRow) markup {
	if len(rows) == 0 {
		return ""
	}
	var below, up []markup
	for _, r := range rows {
		x, y := b.rowCells(r)
		below, up = append(below, x), append(up, y)
	}
	return say("rows %s below the floor, %s up from the newel's bottom end", joined(" and ", below...), joined(" and ", up...))
}
