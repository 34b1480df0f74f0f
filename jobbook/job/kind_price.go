package job

import (
	"math/big"

	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Rates are what the shop reckons its prices with. Key by key, nearest wins.
type Rates struct {
	Hour     Amount // of working time
	Overhead Ratio  // per cent of materials and labour
	MarkUp   Ratio  // per cent of the cost, overhead counted
	Tax      Ratio  // per cent
	TaxOn    Text   // everything (the default) or materials
	Round    Amount // the price before tax is rounded up to a multiple of this
}

// Pricing is what a job says about its price.
type Pricing struct {
	Show     Text // what the client sees: total, lines or none (the default)
	Lines    []PriceLine
	Extras   []Extra
	Discount Amount
	Valid    Text // day until which the price holds
}

// PriceLine is one line of the price as the client sees it: a share of it. A last line without one takes the rest.
type PriceLine struct {
	What  Text
	Share Ratio
	At    source.Pos
}

// Extra is an agreed sum for something that is not worked out.
type Extra struct {
	What  Text
	Price Amount
	At    source.Pos
}

var rateFields = []field[Rates]{
	amountField("hour", "of an hour of working time", func(r *Rates) *Amount { return &r.Hour }),
	ratioField("overhead", "of materials and labour: rent, van, insurance, tools", []string{"%"}, func(r *Rates) *Ratio { return &r.Overhead }),
	ratioField("mark-up", "of the cost, overhead counted: what the shop earns", []string{"%"}, func(r *Rates) *Ratio { return &r.MarkUp }),
	ratioField("tax", "sales or value added tax", []string{"%"}, func(r *Rates) *Ratio { return &r.Tax }),
	wordField("tax-on", "what the tax is on; everything where absent", []string{"everything", "materials"}, func(r *Rates) *Text { return &r.TaxOn }),
	amountField("round", "the price before tax is rounded up to a multiple of this; not at all where absent", func(r *Rates) *Amount { return &r.Round }),
}

var priceLineFields = []field[PriceLine]{
	textField("what", "what the line is for, in the client's words", func(l *PriceLine) *Text { return &l.What }),
	ratioField("share", "its share of the price; the last line takes the rest where it has none", []string{"%"}, func(l *PriceLine) *Ratio { return &l.Share }),
}

var extraFields = []field[Extra]{
	textField("what", "what it is for, in the client's words", func(e *Extra) *Text { return &e.What }),
	amountField("price", "the sum agreed, before tax", func(e *Extra) *Amount { return &e.Price }),
}

var pricingFields = []field[Pricing]{
	wordField("show", "what the client sees of the price; none where absent", []string{"none", "total", "lines"}, func(p *Pricing) *Text { return &p.Show }),
	placedList("lines", "the lines that the client sees, which together are the price", priceLineFields, func(p *Pricing) *[]PriceLine { return &p.Lines }, func(l *PriceLine) *source.Pos { return &l.At }),
	placedList("extras", "agreed sums for what is not worked out here", extraFields, func(p *Pricing) *[]Extra { return &p.Extras }, func(e *Extra) *source.Pos { return &e.At }),
	amountField("discount", "taken off the price before tax", func(p *Pricing) *Amount { return &p.Discount }),
	dateField("valid", "day until which the price holds", func(p *Pricing) *Text { return &p.Valid }),
}

// Or is the rates themselves, filled up key by key from others.
func (r Rates) Or(other Rates) Rates {
	amount := func(a, b Amount) Amount {
		if a.Given {
			return a
		}
		return b
	}
	ratio := func(a, b Ratio) Ratio {
		if a.Given {
			return a
		}
		return b
	}
	return Rates{amount(r.Hour, other.Hour), ratio(r.Overhead, other.Overhead), ratio(r.MarkUp, other.MarkUp), ratio(r.Tax, other.Tax), r.TaxOn.Or(other.TaxOn), amount(r.Round, other.Round)}
}

// pricing checks that the lines a client sees can be the whole price.
func (d *decoder) pricing(p Pricing) {
	const whole = 100_000 // thousandths of a per cent
	sum, open := int64(0), 0
	for i, l := range p.Lines {
		if !l.What.Given {
			d.at(l.At, 1, "add what: , in the client's words", "a line of the price without words")
		}
		sum += l.Share.Thousandths
		if !l.Share.Given {
			open++
			if i < len(p.Lines)-1 {
				d.at(l.At, 1, "add share: , per cent of the price", "only the last line of the price can be without a share")
			}
		}
	}
	for _, e := range p.Extras {
		if !e.What.Given {
			d.at(e.At, 1, "add what: , in the client's words", "an extra without words")
		}
	}
	switch {
	case len(p.Lines) == 0:
	case sum > whole || sum < whole && open == 0:
		d.at(p.Lines[0].At, 1, "make the shares 100 % together, or leave the last one out", "the lines of the price are %s %% together", working.Decimal(big.NewRat(sum, 1000)))
	}
}
