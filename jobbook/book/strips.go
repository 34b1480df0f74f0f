package book

import (
	"html/template"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
)

// stripPage is a page of strips at full size, for one paper.
type stripPage struct {
	framed
	file               string
	Paper              string
	Warning            string  // where checks fail: not to be cut by
	Wide, High, Margin float64 // mm
	Drawings           []stripSheet
	sheets             [][]body // of the drawings
	Without            []string // runs without strips, and why
}

type stripSheet struct {
	Number int
	Body   template.HTML // a mark
}

// papers are what strips are made for.
var papers = []struct {
	draw.Paper
	name string
}{{draw.Letter, "Letter"}, {draw.A4, "A4"}}

// strips are the pages of marks at full size, and of the disc to try in the openings; none where nothing is laid out.
func (b *book) strips() []stripPage {
	var pages []stripPage
	for _, paper := range papers {
		p := stripPage{
			file: "strips-" + paper.Name + ".html", Paper: paper.name,
			Wide: paper.Wide, High: paper.High, Margin: draw.StripMargin,
		}
		if n := b.fails(); n > 0 {
			p.Warning = "Not to be cut or bored by yet: " + counted(n, "check fails", "checks fail")
		}
		add := func(svg string) {
			if svg != "" {
				p.Drawings, p.sheets = append(p.Drawings, stripSheet{len(p.Drawings) + 1, bodyMark}), append(p.sheets, []body{{pieces{markup(svg)}, nil}})
			}
		}
		for _, r := range b.plan.Layout.Runs {
			for _, svg := range draw.Strips(r, b.style(), paper.Paper) {
				add(svg)
			}
			if why := draw.NoStrip(r, b.style()); why != "" {
				p.Without = append(p.Without, "No strip of "+r.Title+": "+why)
			}
		}
		if len(p.Drawings) == 0 {
			continue
		}
		for _, r := range b.plan.Layout.Runs {
			add(draw.BevelCard(r, b.style(), paper.Paper))
		}
		var limits []length.Length // in the order of the runs; each once, with the runs that it holds for
		runs := map[length.Length][]string{}
		for _, r := range b.plan.Layout.Runs {
			if !r.Limit.Known {
				continue
			}
			if runs[r.Limit.Value] == nil {
				limits = append(limits, r.Limit.Value)
			}
			runs[r.Limit.Value] = append(runs[r.Limit.Value], r.Title)
		}
		for _, l := range limits {
			add(draw.BallCard(l, runs[l], b.style(), paper.Paper))
		}
		pages = append(pages, p)
	}
	return pages
}

// fails counts the failing checks that bear on what is cut and bored by the strips.
func (b *book) fails() int {
	n := 0
	for _, f := range b.plan.Findings {
		if f.Verdict == finding.Fail && b.bearsOnCuts(f) {
			n++
		}
	}
	return n
}
