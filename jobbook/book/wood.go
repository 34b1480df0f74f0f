package book

import (
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// woodPage is what the room's air does to the wood: what it comes to, how much it moves, and whether what was delivered is fit to cut.
func (b *book) woodPage(w *writer) {
	air := b.plan.Layout.Air
	if air.Now == nil && air.Dry == nil && air.Damp == nil {
		return
	}
	w.line("Wood takes on and gives off moisture until it suits the air around it, and changes its width with it; its length hardly at all.")
	t := table{label: "What wood comes to in this room", heads: []head{column("When"), num("Temperature", ""), num("Humidity", ""), num("Moisture of the wood", "%")}}
	for _, x := range []struct {
		when string
		f    *working.Figure
		air  job.Air
	}{{"as it was read", air.Now, b.job.Climate.Now}, {"at the driest of the year", air.Dry, b.job.Climate.Dry}, {"at the dampest of the year", air.Damp, b.job.Climate.Damp}} {
		if x.f == nil {
			t.row(esc(x.when), "", "", toBeMeasured)
			continue
		}
		t.row(esc(x.when), b.recorded(x.air.Temperature.At, esc(ratio(x.air.Temperature))), b.recorded(x.air.Humidity.At, esc(ratio(x.air.Humidity))), say("<b>%s</b>", b.figure(x.f, esc(working.Decimal(x.f.Value)))))
	}
	t.foot = "Wood Handbook, Eq. 4-5 (published). Usual indoors over most of the United States is 8 %."
	w.say(`<section id="air"><h2>The air</h2>`+"\n%s</section>\n", &t)
	if air.FitLow != nil {
		w.say(`<section id="fit"><h2>When it is fit to cut</h2>`+"\n<p>Let what is delivered lie in the room, stickered, until a meter reads between <b>%s</b> and <b>%s</b> %% in the middle of several pieces; cut, turn and bore only then. Readings belong in the delivery's file, and what is outside fails a check.</p>\n</section>\n",
			b.figure(air.FitLow, esc(working.Decimal(air.FitLow.Value))), b.figure(air.FitHigh, esc(working.Decimal(air.FitHigh.Value))))
	} else {
		w.line("The air of the room as it is now was not read, so nothing says yet when delivered wood is fit to cut.")
	}
	m := table{label: "How much parts move over the year", heads: []head{column("Part"), num("Width", b.unit()), num("Quarter-sawn", b.unit()), num("Flat-sawn", b.unit())}}
	for _, x := range air.Moves {
		radial, tangential := toBeMeasured, toBeMeasured
		if x.Radial != nil {
			radial, tangential = b.amount(x.Radial, 3, length.Nearest), b.amount(x.Tangential, 3, length.Nearest)
		}
		about := x.Kind
		if x.Species != "" {
			about += ", " + x.Species
		}
		m.row(esc(x.Title)+say(`<span class="fit">%s</span>`, about), b.exact(x.Width), radial, tangential)
	}
	m.foot = "From the driest to the dampest (Wood Handbook, Eq. 13-2). How a stick was sawn shows on its end: rings across the width are quarter-sawn, rings along it flat-sawn. What a baluster shrinks is counted in every opening."
	if len(m.rows) > 0 {
		w.say(`<section id="movement"><h2>Movement</h2>`+"\n%s</section>\n", &m)
	}
}
