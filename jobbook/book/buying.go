package book

import (
	"fmt"
	"strings"
	"time"

	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/takeoff"
)

// buyingPage is what to order, from whom, by when; then what the job needs of each part, and what is there already.
func (b *book) buyingPage(w *writer) {
	needs := b.buyingTable()
	if needs == "" && len(b.plan.Buying.Orders) == 0 {
		return
	}
	w.put(b.failingOrder(), b.orders())
	w.put(b.onHand(), b.offRack())
	if len(b.plan.Buying.Asks) > 0 && b.edition == Whole {
		w.put(`<section id="asks"><h2>To be asked</h2>`, "\n", b.missingList(b.plan.Buying.Asks), "</section>\n")
	}
	if names := b.plan.Buying.Unknown; len(names) > 0 && b.edition == Whole {
		w.say("<p>Not parts of this job, but in a price list: %s.</p>\n", esc(strings.Join(names, ", ")))
	}
	w.say(`<section id="needs"><h2>What the job needs</h2>`+"\n%s<p>%s</p>\n</section>\n", needs, "Real sizes differ from the ones written down: measure what arrives, and make the book again before cutting.")
	w.put(b.volumes())
}

// orders is one list for each supplier.
func (b *book) orders() markup {
	var w writer
	for _, o := range b.plan.Buying.Orders {
		title := o.Supplier.Title
		if o.Supplier.Name == "" {
			title = "Nobody sells these yet"
		}
		w.say(`<section id="%s"><h2>%s</h2>`+"\n", orderAnchor(o), title)
		switch {
		case o.By != "":
			w.say("<p>Order by <b>%s</b>: %s before %s.</p>\n", dayWords(o.By), counted(o.Lead.N, "day", "days"), b.words(b.job.Wanted))
		case o.Supplier.Name != "" && o.Lead.Given:
			w.say("<p>%s from order to door. %s</p>\n", counted(o.Lead.N, "day", "days"), "The day to order by follows once the job says when the goods are wanted.")
		}
		t := table{label: "To order, " + title, heads: []head{num("Order", ""), column("What"), num("Each", b.job.Shop.Currency.Text), num("Together", b.job.Shop.Currency.Text)}}
		if b.edition != Whole {
			t.heads = t.heads[:2]
		}
		priced := false
		for _, l := range o.Lines {
			each, sum := toBeAsked, markup("")
			if l.Each.Given {
				priced = true
				each, sum = b.recorded(l.Each.At, esc(l.Each.Money.Grouped())), b.figured(l.Figure, esc(l.Amount.Grouped()))
			}
			count := say("%d", l.Count)
			if l.Count == 0 {
				count = ""
			}
			t.row([]markup{count, b.lineWords(l), each, sum}[:len(t.heads)]...)
		}
		if priced && b.edition == Whole {
			words := markup("together")
			if !o.Complete {
				words = "together, as far as it is known"
			}
			t.row("", words, "", b.figured(o.Figure, say("<b>%s</b>", o.Known.Grouped())))
		}
		t.put(&w)
		for _, s := range b.job.Suppliers {
			if s.Name == o.Supplier.Name {
				w.put(b.prose(s.Prose.Document))
			}
		}
		w.put("</section>\n")
	}
	if n := len(b.plan.Buying.Orders); n > 1 && b.plan.Buying.Figure != "" && b.edition == Whole {
		words := "All orders together"
		if !b.plan.Buying.Complete {
			words = "All orders together, as far as prices are known"
		}
		w.say("<p>%s: %s.</p>\n", words, b.figured(b.plan.Buying.Figure, b.cash(b.plan.Buying.Known)))
	}
	return w.markup()
}

const toBeAsked markup = `<span class="open">to be asked</span>`

// lineWords says what a line of an order is.
func (b *book) lineWords(l takeoff.Line) markup {
	title := b.recordedFile(l.Origin.File, esc(l.Title))
	var what, fit []markup
	switch {
	case l.Long > 0:
		what = append(what, say("stick of %s", b.feet(l.Long)))
	case l.Can.Given:
		what = append(what, say("can of %s", ratio(l.Can)))
	case l.Volume.Known():
		unit, _ := job.VolumeUnit(b.job.System)
		what = append(what, say("%s %s in cans", decimal(l.Volume, 2, length.Up), unit))
	case l.Pack > 1:
		what = append(what, say("pack of %d", l.Pack))
	}
	if l.Pack > 0 {
		words := fmt.Sprintf("%d needed", l.Needed)
		if l.Spare > 0 {
			words += fmt.Sprintf(", %d spare", l.Spare)
		}
		if l.Held > 0 {
			words += fmt.Sprintf(", %d on hand", l.Held)
		}
		fit = append(fit, esc(words))
	}
	if !l.Complete {
		fit = append(fit, "more of it still to be measured")
	}
	text := joined(", ", append([]markup{title}, what...)...)
	if len(fit) > 0 {
		text += say(`<span class="fit">%s</span>`, joined(", ", fit...))
	}
	return text
}

// feet is a bought length as it is called at the yard: 12 ft, or 3600 mm.
func (b *book) feet(l length.Length) markup {
	const foot = 12 * length.Inch
	if b.job.System != length.Millimetres && l%foot == 0 {
		return say("%d ft", int(l/foot))
	}
	return esc(b.plain(l))
}

// onHand is what need not be bought.
func (b *book) onHand() markup {
	t := table{label: "On hand", heads: []head{column("Part"), column("Used")}}
	for _, h := range b.plan.Buying.OnHand {
		used := say("%d of %d", h.Pieces, h.Of)
		switch {
		case h.Long > 0:
			used = esc(b.plain(h.Long))
		case h.Volume.Given:
			used = esc(ratio(h.Volume))
		}
		t.row(esc(h.Title), b.recorded(h.From.At, used))
	}
	if len(t.rows) == 0 {
		return ""
	}
	return `<section id="on-hand"><h2>On hand</h2>` + "\n" + t.markup() + "</section>\n"
}

// dayWords writes a day as people do: Friday 20 November 2026.
func dayWords(day string) string {
	at, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return day
	}
	return at.Format("Monday 2 January 2006")
}

// daysAfter is the day so many days after another one.
func daysAfter(day string, days int) string {
	at, err := time.Parse(time.DateOnly, day)
	if err != nil {
		return day
	}
	return at.AddDate(0, 0, days).Format(time.DateOnly)
}
