package book

import (
	"fmt"
	"strconv"
	"strings"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/takeoff"
)

// cuttingPage is how every piece is cut from sticks.
func (b *book) cuttingPage(w *writer) {
	bent := b.plan.Takeoff.Bent
	if len(b.plan.Takeoff.Cuttings)+len(bent) == 0 {
		return
	}
	w.put(b.failing(""))
	w.say(`<p class="lead">%s</p>`+"\n", "One setting of the stop for each length, the longest first: cut that piece from every stick that gives one, write its mark on it, then move the stop.")
	for i := range b.plan.Takeoff.Cuttings {
		b.cutting(w, &b.plan.Takeoff.Cuttings[i])
	}
	if len(bent) > 0 {
		w.put(`<section id="bent"><h2>Made to a radius</h2>`, "\n<ul>\n")
		for _, x := range bent {
			w.say("<li>%s</li>\n", x.Title)
		}
		w.put("</ul>\n<p>They are not cut from straight sticks: give the maker the radius, the section and a template of the edge.</p>\n</section>\n")
	}
	w.put(b.offcuts(), b.recordLines())
}

func (b *book) cutting(w *writer, c *takeoff.Cutting) {
	w.say(`<section id="sticks-%s"><h2>%s</h2>`+"\n", anchor(c.Kind+"-"+c.Part), c.Title)
	if len(c.Sticks) == 0 {
		w.line("No stick is long enough: see the checks.")
		w.put("</section>\n")
		return
	}
	w.say("<p>%s</p>\n", b.cuttingWords(c))
	label := func(p takeoff.StickPiece) string { return b.pieceMark(p) }
	phone := draw.Sticks(c, label, b.style(), phoneWidth)
	wide := *c
	wide.ID += "-sheet"
	sheet := draw.Sticks(&wide, label, b.style(), sheetWidth)
	w.put(`<div class="wide">`, panel, markup(sheet), "</div></div>\n", `<div class="phone">`, panel, markup(phone), "</div></div>\n")
	t := table{label: "Stop by stop, " + c.Title, heads: []head{num("Stop", b.unit()), num("Pieces", ""), column("From stick"), column("Marks")}, class: "cuts", long: len(c.Stops) > 20}
	for _, stop := range c.Stops {
		var from []string
		var names []string
		n := 0
		for _, cut := range stop.Cuts {
			n += len(cut.Pieces)
			words := fmt.Sprint(cut.Stick)
			if len(cut.Pieces) > 1 {
				words += fmt.Sprintf(" (%d)", len(cut.Pieces))
			}
			from = append(from, words)
			for _, p := range cut.Pieces {
				names = append(names, b.pieceMark(p))
			}
		}
		t.row(b.mark(stop.Long), say("%d", n), esc(strings.Join(from, ", ")), esc(marks(names)))
	}
	t.foot = fmt.Sprintf("A number in brackets is how many pieces that stick gives. Reckoned with a saw cut of %s", b.plain(c.Kerf))
	if c.Trim > 0 {
		t.foot += " and " + b.plain(c.Trim) + " off each end of a bought stick"
	}
	t.foot += "."
	if c.Rough > 0 {
		t.foot += " Pieces come off the stick " + b.plain(c.Rough) + " longer than the cut list says, to be fitted."
	}
	t.put(w)
	b.stickBevels(w, c)
	w.put("</section>\n")
}

// stickBevels says what cuts at an angle take of a stick, and how it is cut so that they take no more.
func (b *book) stickBevels(w *writer, c *takeoff.Cutting) {
	if len(c.Bevels) == 0 {
		return
	}
	for _, x := range c.Bevels {
		lost := markup("how far the first on a stick runs out is " + toBeMeasured)
		if x.RunOut > 0 {
			lost = "the first on a stick runs out " + b.figured(x.Figure, esc(b.plain(x.RunOut)))
		}
		angle := b.figured(x.Angle.ID, esc(decimal(x.Angle.Value, 1, length.Nearest)+"°"))
		w.say("<p>A cut at %s takes %s along the stick, and %s: both are reckoned with.</p>\n", angle, b.figured(x.Kerf, esc(b.plain(x.Saw))), lost)
	}
	words := "Flip no stick between its beveled pieces: each begins at the bevel that the last one left."
	if len(c.Bevels) > 1 {
		words += " Cut all of one angle one after another."
	}
	if b.squareToo(c) {
		words += " Cut the square pieces from one end of a stick and the beveled ones from the other."
	}
	w.say("<p>%s</p>\n", words)
}

// squareToo reports a cutting with pieces that are cut square.
func (b *book) squareToo(c *takeoff.Cutting) bool {
	for _, s := range c.Sticks {
		for _, p := range s.Pieces {
			if p.Bevel == 0 {
				return true
			}
		}
	}
	return false
}

// plain is a length in words, with its unit, as a tape shows it.
func (b *book) plain(l length.Length) string { return b.job.System.With(l) }

// cuttingWords says what is cut from what, what that costs, and whether it could cost less.
func (b *book) cuttingWords(c *takeoff.Cutting) markup {
	pieces, bought := 0, 0
	for _, s := range c.Sticks {
		pieces += len(s.Pieces)
		if s.Source == takeoff.FromSupplier {
			bought++
		}
	}
	words := []markup{say("%s from %s", counted(pieces, "piece", "pieces"), counted(len(c.Sticks), "stick", "sticks"))}
	if there := len(c.Sticks) - bought; there > 0 {
		words = append(words, say("%d of them on hand", there))
	}
	switch {
	case bought == 0:
		words = append(words, "nothing to buy")
	case c.Priced && b.edition != Whole:
		words = append(words, say("%s bought", counted(bought, "stick", "sticks")))
	case c.Priced:
		words = append(words, b.figured(c.Figure, b.cash(c.Cost)))
	default:
		words = append(words, say("%s bought", b.figured(c.Figure, say("%s", b.plain(c.Bought)))))
	}
	text := joined(", ", words...) + ". "
	bound := b.plain(c.LeastLong)
	if c.Priced {
		bound = string(b.cash(c.Bound))
	}
	switch {
	case bought == 0:
	case c.Proven && c.Priced && b.edition != Whole:
		text += "Proven least: no way of cutting costs less."
	case c.Priced && b.edition != Whole:
		text += say("The best found; the search stopped after %d steps of work.", c.Steps)
	case c.Proven && c.Priced:
		text += say("Proven least: no way of cutting costs less than %s.", markup(bound))
	case c.Proven:
		text += say("Proven least: no way of cutting buys less than %s.", bound)
	default:
		text += say("The best found; no way of cutting comes to less than %s. The search stopped after %d steps of work.", markup(bound), c.Steps)
	}
	if !c.Priced && bought > 0 {
		text += " Reckoned by length: prices are still to be asked."
	}
	if c.Assumed {
		text += " Nobody says yet in which lengths it is sold: the shop's usual ones are taken."
	}
	return text
}

// cash is an amount with the shop's sign.
func (b *book) cash(m money.Money) markup {
	if b.edition == Crew || b.edition == Inspector { // a page that forgot to leave it out gives nothing away
		return "a sum not shown here"
	}
	return esc(b.job.Shop.Currency.Text + m.Grouped())
}

// pieceMark is what is written on a piece.
func (b *book) pieceMark(p takeoff.StickPiece) string { return b.marks()[[2]int{p.Piece, p.N}] }

func (b *book) marksOfPieces() map[[2]int]string {
	of := make(map[[2]int]string, len(b.plan.Takeoff.Labels))
	for _, l := range b.plan.Takeoff.Labels {
		of[[2]int{l.Piece, l.N}] = l.Mark
	}
	return of
}

// marks writes marks of one sort together: G-F1 to G-F24, G-F30.
func marks(list []string) string {
	split := func(mark string) (stem string, n int) {
		stem = strings.TrimRight(mark, "0123456789")
		n, _ = strconv.Atoi(mark[len(stem):])
		return stem, n
	}
	var out []string
	for i := 0; i < len(list); {
		stem, n := split(list[i])
		k := 1
		for i+k < len(list) {
			if s, m := split(list[i+k]); s != stem || m != n+k || n == 0 {
				break
			}
			k++
		}
		switch {
		case k > 2:
			out = append(out, list[i]+" to "+list[i+k-1])
		default:
			out = append(out, list[i:i+k]...)
		}
		i += k
	}
	return strings.Join(out, ", ")
}

// offcuts is what goes back to the rack, and what comes off it, as text for its file.
func (b *book) offcuts() markup {
	var keep, gone strings.Builder
	for _, c := range b.plan.Takeoff.Cuttings {
		for _, s := range c.Sticks {
			if s.Keep {
				long := length.Style{System: b.job.System, Division: b.division, Rounding: length.Down}.Print(s.Left)
				fmt.Fprintf(&keep, "  - {part: %s, long: %s}\n", c.Part, unitless(b.job, long))
			}
			if s.Source == takeoff.FromRack {
				fmt.Fprintf(&gone, "%s: %s, %s\n", s.From.At, c.Title, b.plain(s.Long))
			}
		}
	}
	var w writer
	if keep.Len() > 0 {
		w.say(`<section id="offcuts"><h2>Back to the rack</h2>`+"\n<p>%s</p>\n<pre class=\"paste\">offcuts:\n%s</pre>\n</section>\n", "What is left and long enough to keep, once all is cut. Measure each, and paste its line into a file of kind: rack.", keep.String())
	}
	if gone.Len() > 0 {
		w.say(`<section id="off-rack"><h2>Off the rack</h2>`+"\n<p>%s</p>\n<pre>%s</pre>\n</section>\n", "Offcuts that are used up. Take their lines out of the file once they are cut.", gone.String())
	}
	return w.markup()
}

// unitless is a length for a file of the shop, which is in inches unless it says otherwise: one in millimetres carries its unit.
func unitless(j *job.Job, text string) string {
	if j.System == length.Millimetres {
		return text + " mm"
	}
	return text
}
