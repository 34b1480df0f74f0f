package book

import (
	"balustrade/jobbook/price"
)

// pricePage is how the price comes about. It is the shop's own: what a client sees is a document by itself.
func (b *book) pricePage() markup {
	p := b.plan.Price
	if !b.job.Shop.Rates.Hour.Given && b.plan.Buying.Known == 0 {
		return "" // nobody reckons a price here
	}
	var w writer
	w.put("<p><b>For the shop alone.</b> What the client gets is a document of its own, client.html, without any of this.</p>\n")
	if !p.Complete {
		w.put("<p>", b.openMark("Not whole yet: the amounts are what is known so far"), "</p>\n", b.missingList(p.Asks))
	}
	w.put(`<section id="price-sums"><h2>From cost to price</h2>`, "\n", b.priceTable("From cost to price", p.Sums), "</section>\n")
	w.put(`<section id="price-materials"><h2>Materials</h2>`, "\n", b.priceTable("Materials, by supplier", append(p.Materials, sumOf(p, "Materials")...)), "</section>\n")
	w.put(`<section id="price-labour"><h2>Labour</h2>`, "\n", b.priceTable("Labour, step by step", append(p.Labour, sumOf(p, "Labour")...)), "</section>\n")
	if o := p.Offer; o.Show {
		w.put(`<section id="price-offer"><h2>What the client sees</h2>`, "\n", b.offerTable(), "</section>\n")
	}
	return w.markup()
}

// openMark says that something is still to be known.
func (b *book) openMark(words string) markup { return say(`<span class="open">%s</span>`, words) }

// sumOf is the sum of one part of the estimate, as it stands among its sums.
func sumOf(p price.Estimate, title string) []price.Line {
	for _, l := range p.Sums {
		if l.Title == title {
			return []price.Line{l}
		}
	}
	return nil
}

func (b *book) priceTable(label string, lines []price.Line) markup {
	t := table{label: label, heads: []head{column("What"), num("Amount", b.job.Shop.Currency.Text)}, class: "money", long: len(lines) > 30}
	for _, l := range lines {
		amount := toBeAsked
		if l.Known {
			amount = esc(l.Amount.String())
			if l.Figure != "" {
				amount = b.figured(l.Figure, amount)
			} else {
				amount = b.recorded(l.At, amount)
			}
		}
		title := esc(l.Title)
		if l.Sum {
			title, amount = say("<b>%s</b>", title), say("<b>%s</b>", amount)
		}
		if l.About != "" {
			title += say(`<span class="fit">%s</span>`, l.About)
		}
		t.row(title, amount)
	}
	return t.markup()
}

// offerTable is the price as the client sees it.
func (b *book) offerTable() markup {
	o := b.plan.Price.Offer
	t := table{label: "Price", heads: []head{column("What"), num("Amount", b.job.Shop.Currency.Text)}, class: "money"}
	for _, l := range o.Lines {
		t.row(esc(l.Title), esc(l.Amount.String()))
	}
	total := "Price"
	if b.plan.Price.Tax > 0 {
		total = "Price, tax included"
	}
	t.row(say("<b>%s</b>", total), say("<b>%s</b>", o.Total.String()))
	if o.Valid != "" {
		t.foot = "It holds until " + dayWords(o.Valid) + "."
	}
	return t.markup()
}
