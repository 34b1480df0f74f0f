package book

import (
	"fmt"
	"slices"

	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/price"
	"balustrade/jobbook/working"
)

// clientLink leads to the client's document. The print edition keeps its words alone.
const (
	clientTag         = `<a href="client.html">`
	clientLink markup = clientTag + "For the client</a>"
)

// pricePage is how the price comes about. It is the shop's own: what a client sees is a document by itself.
func (b *book) pricePage(w *writer) {
	p := b.plan.Price
	if len(p.Sums) == 0 && len(p.Asks) == 0 {
		return
	}
	w.put("<p><b>Internal: for the shop alone.</b> The client gets a document of its own (", clientLink, "), and none of this is in it.</p>\n")
	w.put(b.priceAnswer(p))
	if len(p.Asks) > 0 {
		covered := markup("")
		if p.Complete {
			covered = "<p>The contingency stands for these until they are known.</p>\n"
		}
		w.put(`<section id="price-asks"><h2>Still to be given</h2>`, "\n", covered, b.missingList(p.Asks), "</section>\n")
	}
	add := func(id, title, label string, lines []price.Line) {
		if len(lines) > 0 {
			w.say(`<section id="price-%s"><h2>%s</h2>`+"\n%s</section>\n", id, title, b.priceTable(label, lines, true))
		}
	}
	if p.Known {
		add("sums", "From cost to price", "From cost to price", p.Sums)
	}
	add("materials", "Materials", "Materials, by supplier", withSum(p.Materials, p, 0))
	if slices.ContainsFunc(p.Labour, func(l price.Line) bool { return l.Known }) { // else only the price of an hour is missing, and is asked for above
		add("labour", "Labour", "Labour, step by step", withSum(p.Labour, p, 1))
	}
	if p.Offer.Show {
		w.put(`<section id="price-offer"><h2>What the client sees</h2>`, "\n", b.offer(true), "</section>\n")
	}
}

// priceAnswer is the numbers to carry, or that there are none yet.
func (b *book) priceAnswer(p price.Estimate) markup {
	if !p.Known {
		return say("<p class=\"answer\">%s</p>\n", b.openMark("There is no price yet."))
	}
	facts := pairs{class: "carry"}
	least := ""
	if !p.Complete {
		least = ", at the least"
	}
	facts.add("total"+least, b.figured(p.Figure, b.cash(p.Total)))
	facts.add("the guard"+least, b.cash(p.Guard))
	name := "foot"
	if b.job.System == length.Millimetres {
		name = "metre"
	}
	each := func(f *working.Figure) markup {
		if f == nil {
			return ""
		}
		return esc(b.job.Shop.Currency.Text) + b.amount(f, 2, length.Nearest)
	}
	facts.add("the guard, a "+name+" of handrail", each(p.PerLength))
	facts.add("the guard, a baluster", each(p.PerBaluster))
	facts.add("working time", esc(duration(p.Minutes)))
	return facts.markup()
}

// openMark says that something is still to be known.
func (b *book) openMark(words string) markup { return say(`<span class="open">%s</span>`, words) }

// withSum puts the sum of one part of the estimate under its lines: the first of the sums is the materials', the second labour's.
func withSum(lines []price.Line, p price.Estimate, part int) []price.Line {
	if len(lines) == 0 || len(p.Sums) <= part || !p.Sums[part].Known {
		return lines
	}
	sum := p.Sums[part]
	sum.Sum = true
	return append(append([]price.Line{}, lines...), sum)
}

// priceTable is lines of a price; a bold one is the sum of all those above it that are not.
func (b *book) priceTable(label string, lines []price.Line, linked bool) markup {
	const sheet = 30 // rows that fit one
	t := table{label: label, heads: []head{column("What"), num("Amount", b.job.Shop.Currency.Text)}, class: "money", long: len(lines) > sheet}
	for _, l := range lines {
		amount := toBeAsked
		if l.Known {
			amount = esc(l.Amount.Grouped())
			switch {
			case !linked:
			case l.Figure != "":
				amount = b.figured(l.Figure, amount)
			default:
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

// offer is the price as the client sees it; on the shop's own page its lines lead to their working.
func (b *book) offer(linked bool) markup {
	o := b.plan.Price.Offer
	var w writer
	if len(o.Lines) > 0 {
		w.put(b.priceTable("Price", o.Lines, linked))
	} else {
		w.say("<p class=\"answer\">%s in all.</p>\n", b.cash(o.Total))
		w.put(b.included("agreed at", b.job.Price.Extras), b.included("an allowance of", b.job.Price.Allowances))
	}
	if o.Taxed {
		w.line("Tax is included.")
	}
	if len(b.job.Price.Allowances) > 0 {
		w.line("An allowance, a sum set aside, is for something not chosen yet; it is settled at what it costs.")
	}
	if valid := b.valid(); valid != "" {
		w.line(valid)
	}
	return w.markup()
}

// included names sums that are in the total.
func (b *book) included(how string, list []job.Extra) markup {
	var w writer
	for _, x := range list {
		w.say("<p>Included: %s, %s %s.</p>\n", x.What.Text, how, b.cash(x.Price.Money))
	}
	return w.markup()
}

// valid says how long the price holds; empty where the job does not.
func (b *book) valid() string {
	p := b.job.Price
	switch {
	case p.Valid.Until.Given:
		return "The price holds until " + dayWords(p.Valid.Until.Text) + "."
	case p.Valid.Days.Given && p.Date.Given:
		return "The price holds until " + dayWords(daysAfter(p.Date.Text, p.Valid.Days.N)) + "."
	case p.Valid.Days.Given:
		return fmt.Sprintf("The price holds for %s from the day it is handed over.", counted(p.Valid.Days.N, "day", "days"))
	}
	return ""
}
