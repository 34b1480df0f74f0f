package book

import (
	"fmt"
	"slices"

	"balustrade/jobbook/layout"
	"balustrade/jobbook/takeoff"
)

// How many labels stand beside each other: 58 mm wide, or 34 mm for fillets, on the narrower of the two papers.
const (
	labelsAcross  = 3
	filletsAcross = 5
)

// labelsPage is a label for every piece, to print, cut apart and pin or tape on; in the order in which the pieces are cut, the fillets last, on sheets of their own.
func (b *book) labelsPage(w *writer) {
	var list, fillets []markup
	for _, l := range b.plan.Takeoff.Labels {
		c := b.plan.Takeoff.Pieces[l.Piece]
		if isFillet(c) {
			fillets = append(fillets, b.filletLabel(l, c))
			continue
		}
		list = append(list, b.label(l, c))
	}
	for _, l := range b.plan.Takeoff.Blanks {
		list = append(list, b.blankLabel(l))
	}
	if len(list)+len(fillets) == 0 {
		return
	}
	w.put(b.failing(""))
	w.say(`<p class="screen-only">%s</p>`+"\n", "For Letter or A4, on plain paper. Print at 100 %, cut apart along the lines, and tape each to its piece as it comes off the saw. The mark is also what is pencilled where it will not be seen.")
	if n := len(b.plan.Takeoff.Blanks); n > 0 {
		w.say(`<p class="screen-only">%s</p>`+"\n", counted(n, "label has", "labels have")+" a line in place of the length, which is still to be measured; they come last.")
	}
	labelRows(w, list, labelsAcross, "")
	if len(fillets) > 0 {
		w.say(`<section class="label-sheet" id="fillet-labels"><h2>Fillets</h2>`+"\n"+`<p class="screen-only">%s</p>`+"\n", "On sheets of their own: leave them out where fillets are cut as they are fitted.")
		labelRows(w, fillets, filletsAcross, " small")
		w.put("</section>\n")
	}
}

// labelRows puts labels into rows: a row is kept whole on paper, which the rows of a grid are not everywhere.
func labelRows(w *writer, list []markup, across int, class string) {
	if len(list) == 0 {
		return
	}
	w.say(`<div class="labels%s">`+"\n", class)
	for row := range slices.Chunk(list, across) {
		w.put(`<div class="label-row">`, "\n")
		for _, l := range row {
			w.put(l)
		}
		w.put("</div>\n")
	}
	w.put("</div>\n")
}

func isFillet(c layout.Cut) bool { return c.What == "shoe fillet" || c.What == "rail fillet" }

const blankLine markup = `<span class="blank-line"></span>`

// label is one label.
func (b *book) label(l takeoff.Label, c layout.Cut) markup {
	whose := b.runTitleOf(c.Run)
	if c.Run == "" {
		whose = "post " + c.Which
	}
	size := blankLine
	note := ""
	switch {
	case waiting(c):
		note = "still to be measured"
	case c.Long > 0:
		size = say("%s %s", b.near(c.Long), b.unit())
		note = "from point to point"
		if c.Short < c.Long {
			note = "to the long point"
		}
	case c.Blank > 0:
		size = say("%s %s", b.near(c.Length), b.unit())
		note = "leave long, fit"
	default:
		size = say("%s %s", b.near(c.Length), b.unit())
		if isRail(c.What) {
			note = "leave long, fit"
		}
	}
	return b.labelBox(l.Mark, size, numbered(c.What, l.Number, l.Of), whose, arrow(c.What, l.Ends), []string{note, l.Bevel, l.Tread}, c.Title)
}

// blankLabel is the label of a piece whose length is written in by hand.
func (b *book) blankLabel(l takeoff.Blank) markup {
	whose := b.runTitleOf(l.Run)
	if l.Run == "" {
		whose = "post " + l.Post
	}
	return b.labelBox(l.Mark, blankLine, numbered(l.What, l.Number, l.Of), whose, arrow(l.What, l.Ends), []string{"still to be measured"}, l.Title)
}

// filletLabel is a small one: the mark and the length.
func (b *book) filletLabel(l takeoff.Label, c layout.Cut) markup {
	size := blankLine
	if !waiting(c) {
		size = b.near(c.Length)
	}
	return say(`<div class="label"><b class="label-mark">%s</b> <span>%s</span></div>`+"\n", l.Mark, size)
}

func (b *book) labelBox(mark string, size markup, what, whose, ends string, notes []string, part string) markup {
	var w writer
	w.say(`<div class="label"><p class="label-head"><b class="label-mark">%s</b> <span class="label-size">%s</span></p>`, mark, size)
	line := func(separator markup, words ...string) {
		begun := false
		for _, text := range words {
			switch {
			case text == "":
				continue
			case begun:
				w.put(separator)
			default:
				w.put("<p>")
			}
			w.text(text)
			begun = true
		}
		if begun {
			w.put("</p>")
		}
	}
	line(", ", what, whose)
	line("", ends)
	line("; ", notes...)
	line("", part)
	w.put(`<p class="label-job">`)
	w.text(b.title())
	if words := b.measuredWords(); words != "" {
		w.put(", ")
		w.text(words)
	}
	w.put("</p></div>\n")
	return w.markup()
}

func isRail(what string) bool { return what == "handrail" || what == "wall rail" || what == "shoe" }

// numbered is what a piece is, and which of how many.
func numbered(what string, n, of int) string {
	if of > 1 {
		return fmt.Sprintf("%s %d of %d", capital(what), n, of)
	}
	return capital(what)
}

// arrow puts an arrow before which end goes where.
func arrow(what, ends string) string {
	switch {
	case ends == "":
		return ""
	case isRail(what):
		return "→ " + ends
	case what == "baluster" || what == "newel":
		return "↑ " + ends
	}
	return ends
}

func (b *book) measuredWords() string {
	if b.job.Measured.Given {
		return "measured " + b.job.Measured.Text
	}
	return ""
}
