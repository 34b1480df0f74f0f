package book

import (
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
)

// punchLines is how many empty lines the punch list has: as many as a landing's worth of small faults takes on one sheet.
const punchLines = 8

// handOverPage is what is read, signed off and kept at the end. It is made once something has been laid out.
func (b *book) handOverPage() markup {
	if !slices.ContainsFunc(b.plan.Layout.Runs, func(r *layout.Run) bool { return r.Chosen != nil }) {
		return ""
	}
	var w writer
	w.put(`<section id="as-built"><h2>Readings as built</h2>`, "\n")
	for _, r := range b.plan.Layout.Runs {
		w.put(b.toRead(r))
	}
	w.put("</section>\n")
	t := table{label: "Punch list, to fill in by hand", heads: []head{column("What is to be put right"), column("Done")}, class: "fill"}
	for range punchLines {
		t.row("", "")
	}
	w.put(`<section id="punch"><h2>Punch list</h2>`, "\n", t.markup(), "</section>\n")
	w.put(`<section id="care"><h2>Care</h2>`, "\n")
	seen := map[string]bool{}
	for _, u := range b.job.Finishes {
		if u.Part == nil || seen[u.Part.Name] {
			continue
		}
		seen[u.Part.Name] = true
		title := partTitle(u.Part.Title, u.Part.Origin)
		if m := b.afterLast(u.Part); m != "" {
			w.say("<p>%s:</p>\n", title)
			w.put(m)
		}
		if u.Part.Care.Given {
			w.line(title + ": " + sentence(u.Part.Care.Text))
		}
	}
	w.put(b.fixed("care", struct{ Children bool }{slices.Contains(b.plan.Traits, "children")}), "</section>\n")
	return w.markup()
}

// toRead is the openings and heights of a run with an empty box beside each limit.
func (b *book) toRead(r *layout.Run) markup {
	t := table{label: b.runTitle(r.Name) + ", to read when it stands", heads: []head{column("What"), num("Planned", b.unit()), column("Limit (" + b.unit() + ")"), num("As built", b.unit())}, class: "fill"}
	limit := markup("none set")
	if r.Limit.Known {
		limit = say("%s %s", r.Limit.Op.String(), b.limit(r.Limit.Value))
	}
	for _, o := range r.Openings {
		planned := toBeMeasured
		if o.Known {
			planned = b.figured(o.Figure, b.worst(r, o.Worst))
		}
		t.row(esc("Widest opening "+o.Where), planned, limit, "")
	}
	for _, f := range b.plan.Findings {
		if f.Group != r.ID || !f.HasValue || !f.HasLimit || f.Op != finding.AtLeast || !strings.Contains(f.ID, "height") {
			continue
		}
		v, l := b.judged(f.Measured, f.Limit, f.Op)
		t.row(esc(capital(f.Title)), b.figured(f.Figure, v), say("%s %s", f.Op.String(), l), "")
	}
	return t.markup()
}

// notesPage is the pages of notes.
func (b *book) notesPage() markup {
	var w writer
	for _, n := range b.job.Notes {
		title := capital(n.Name)
		if t := n.Front.Get("title"); t != nil && t.Text != "" {
			title = t.Text
		}
		w.say(`<section id="note-%s"><h2>%s</h2>`+"\n", anchor(n.File), title)
		if d := n.Front.Get("date"); d != nil && d.Text != "" {
			w.line(d.Text)
		}
		w.put(b.prose(n), "</section>\n")
	}
	return w.markup()
}
