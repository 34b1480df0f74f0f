package book

import (
	"fmt"

	"balustrade/jobbook/layout"
	"balustrade/jobbook/takeoff"
)

// labelsPage is a label for every piece, to print, cut apart and pin or tape on; in the order in which the pieces are cut, the fillets last, on sheets of their own.
func (b *book) labelsPage() markup {
	if len(b.plan.Takeoff.Labels) == 0 {
		return ""
	}
	var first, fillets writer
	n := 0
	for _, l := range b.plan.Takeoff.Labels {
		c := b.plan.Takeoff.Pieces[l.Piece]
		if isFillet(c) {
			fillets.put(b.label(l, c))
			n++
			continue
		}
		first.put(b.label(l, c))
	}
	var w writer
	w.say(`<p class="screen-only">%s</p>`+"\n", "Print at 100 %, cut apart along the lines, and tape each to its piece as it comes off the saw. The mark is also what is pencilled where it will not be seen.")
	if first.Len() > 0 {
		w.put(`<div class="labels">`, "\n", first.markup(), "</div>\n")
	}
	if n > 0 {
		w.say(`<section class="label-sheet" id="fillet-labels"><h2>Fillets</h2>`+"\n"+`<p class="screen-only">%s</p>`+"\n", "On sheets of their own: leave them out where fillets are cut as they are fitted.")
		w.put(`<div class="labels small">`, "\n", fillets.markup(), "</div></section>\n")
	}
	return w.markup()
}

func isFillet(c layout.Cut) bool { return c.What == "shoe fillet" || c.What == "rail fillet" }

// label is one label.
func (b *book) label(l takeoff.Label, c layout.Cut) markup {
	whose := b.runTitleOf(c.Run)
	if c.Run == "" {
		whose = "post " + c.Which
	}
	what := capital(c.What)
	if l.Of > 1 {
		what += fmt.Sprintf(" %d of %d", l.Number, l.Of)
	}
	size := markup(`<span class="blank-line"></span>`)
	if !waiting(c) && c.Length > 0 {
		size = say("%s %s", b.near(c.Length), b.unit())
		switch {
		case c.Long > 0:
			size = say("%s %s long point", b.near(c.Long), b.unit())
		case c.Blank > 0:
			size += say(", blank %s", b.near(c.Blank))
		}
	} else {
		what += ", still to be measured"
	}
	arrow := ""
	switch c.What {
	case "baluster", "newel":
		arrow = "↑ "
	case "handrail", "wall rail", "shoe":
		arrow = "→ "
	}
	if l.Ends == "" {
		arrow = ""
	}
	if isFillet(c) {
		return say(`<div class="label"><b class="label-mark">%s</b> <span>%s</span></div>`+"\n", l.Mark, size)
	}
	return say(`<div class="label"><p><b class="label-mark">%s</b> <span class="label-size">%s</span></p><p>%s</p><p>%s</p><p>%s</p><p class="label-job">%s</p></div>`+"\n",
		l.Mark, size, joined(", ", esc(what), esc(whose)), esc(arrow+l.Ends), joined(", ", esc(l.Bevel), esc(c.Treads)), joined(", ", esc(b.title()), esc(b.measuredWords())))
}

func (b *book) measuredWords() string {
	if b.job.Measured.Given {
		return "measured " + b.job.Measured.Text
	}
	return ""
}
