package job

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Rates are what the shop reckons its prices with. Key by key, nearest wins.
type Rates struct {
	Hour     Amount // of working time
	Overhead Ratio  // per cent of materials and labour
	MarkUp   Ratio  // mark-up on cost: per cent of the cost, overhead counted
	Tax      Ratio  // per cent
	TaxOn    Text   // everything: the whole price; materials: what is bought, and nothing else
	Round    Amount // the price of the guard is rounded up to a multiple of this, before extras, discount and tax on everything
}

// Pricing is what a job says about its price.
type Pricing struct {
	Show        Text   // what the client sees: total, lines or none (the default)
	Hours       Ratio  // of the whole job, in place of the steps' times
	Contingency Amount // for what is not counted or priced yet; with one, the price counts as whole
	Lines       []PriceLine
	Extras      []Extra
	Allowances  []Extra // set aside for what is not chosen yet, and settled at what it costs
	Discount    Discount
	Date        Text // day of the offer
	Valid       Valid
	Words       Text   // for the client, in the shop's words
	Choices     []Text // alternatives that the client is offered
}

// PriceLine is one line of the price as the client sees it. All lines of a job say their part in one way.
type PriceLine struct {
	What  Text
	Share Ratio  // per cent of the price of the guard; a last line without one takes the rest
	Runs  []Text // by the length of their handrails
	Of    []Text // materials or labour: by what each costs
	At    source.Pos
}

// Extra is an agreed sum for something that is not worked out.
type Extra struct {
	What  Text
	Price Amount
	At    source.Pos
}

// Discount is an amount, or per cent of the guard and its extras.
type Discount struct {
	Sum     Amount
	Percent Ratio
}

// Valid is how long an offer holds: up to a day, or days from its date.
type Valid struct {
	Until Text
	Days  Whole
}

var rateFields = []field[Rates]{
	amountField("hour", "of an hour of working time", func(r *Rates) *Amount { return &r.Hour }),
	percentField("overhead", "of materials and labour: rent, van, insurance, tools", 1000, func(r *Rates) *Ratio { return &r.Overhead }),
	percentField("mark-up", "mark-up on cost, overhead counted: what the shop earns", 1000, func(r *Rates) *Ratio { return &r.MarkUp }),
	percentField("tax", "sales or value added tax", 100, func(r *Rates) *Ratio { return &r.Tax }),
	wordField("tax-on", "what the tax is on: the whole price, or what is bought and nothing else", []string{"everything", "materials"}, func(r *Rates) *Text { return &r.TaxOn }),
	amountField("round", "the price of the guard is rounded up to a multiple of this, before extras, discount and tax on everything; not at all where absent", func(r *Rates) *Amount { return &r.Round }),
}

var priceLineFields = []field[PriceLine]{
	textField("what", "what the line is for, in the client's words", func(l *PriceLine) *Text { return &l.What }),
	ratioField("share", "its share of the price of the guard; the last line takes the rest where it has none", []string{"%"}, func(l *PriceLine) *Ratio { return &l.Share }),
	wordsField("runs", "a list of runs", "in place of a share: the runs it is for; the price is shared by the length of their handrails", func(l *PriceLine) *[]Text { return &l.Runs }),
	{"of", "materials or labour; or a list of both", "in place of a share: what it is for; the price is shared by what each costs, so that neither cost shows", nil, func(d *decoder, n *source.Node, l *PriceLine) {
		for _, item := range d.items(n) {
			if t := d.oneOf(item, PriceParts); t.Given {
				l.Of = append(l.Of, t)
			}
		}
	}},
}

// PriceParts are what a line of the price can be of.
var PriceParts = []string{"materials", "labour"}

var extraFields = []field[Extra]{
	textField("what", "what it is for, in the client's words", func(e *Extra) *Text { return &e.What }),
	amountField("price", "the sum agreed, before tax", func(e *Extra) *Amount { return &e.Price }),
}

var pricingFields = []field[Pricing]{
	wordField("show", "what the client sees of the price; none where absent", []string{"none", "total", "lines"}, func(p *Pricing) *Text { return &p.Show }),
	ratioField("hours", "working time of the whole job, as in 62 h, in place of the times of its steps", []string{"h"}, func(p *Pricing) *Ratio { return &p.Hours }),
	amountField("contingency", "set aside by the shop, within the cost, for materials and working time that are not counted or priced yet: with it the price counts as whole", func(p *Pricing) *Amount { return &p.Contingency }),
	placedList("lines", "the lines that the client sees, which together are the price of the guard; each says its part in the same way", priceLineFields, func(p *Pricing) *[]PriceLine { return &p.Lines }, func(l *PriceLine) *source.Pos { return &l.At }),
	placedList("extras", "agreed sums for what is not worked out here", extraFields, func(p *Pricing) *[]Extra { return &p.Extras }, func(e *Extra) *source.Pos { return &e.At }),
	placedList("allowances", "sums set aside for what is not chosen yet, settled later at what it costs", extraFields, func(p *Pricing) *[]Extra { return &p.Allowances }, func(e *Extra) *source.Pos { return &e.At }),
	{"discount", "an amount of money; or a number in %", "taken off the guard and its extras, before tax on everything; a number in % is of them", nil, func(d *decoder, n *source.Node, p *Pricing) {
		p.Discount = d.discount(n)
	}},
	dateField("date", "day of the offer", func(p *Pricing) *Text { return &p.Date }),
	{"valid", "a date, year-month-day; or days, as in 30 days", "day until which the price holds; days are from the date of the offer", nil, func(d *decoder, n *source.Node, p *Pricing) {
		p.Valid = d.valid(n)
	}},
	textField("words", "what else the client is to read, in the shop's words", func(p *Pricing) *Text { return &p.Words }),
	wordsField("choices", "a list of alternatives", "alternatives that the client is offered", func(p *Pricing) *[]Text { return &p.Choices }),
}

func (d *decoder) discount(n *source.Node) Discount {
	if !strings.HasSuffix(n.Text, "%") {
		return Discount{Sum: d.amount(n)}
	}
	r := d.ratio(n, []string{"%"})
	if r.Thousandths > wholePrice {
		d.problem(n, "write no more than 100 %", "a discount of more than the price, %s %%", working.Decimal(exact.New(r.Thousandths, 1000)))
		r.Given = false
	}
	return Discount{Percent: r}
}

// valid reads a day, or a number of days.
func (d *decoder) valid(n *source.Node) Valid {
	v := Valid{Until: d.text(n, "a date or days")}
	if !v.Until.Given {
		return v
	}
	const most = 3650 // ten years
	number, isDays := strings.CutSuffix(strings.TrimSuffix(v.Until.Text, "s"), "day")
	if isDays {
		days, err := strconv.Atoi(strings.TrimSpace(number))
		if err == nil && days > 0 && days <= most {
			return Valid{Days: Whole{N: days, At: n.At, Given: true}}
		}
	} else if _, err := time.Parse(time.DateOnly, v.Until.Text); err == nil {
		return v
	}
	d.problem(n, "write a date as 2026-11-20, or 30 days", "want a date or a number of days up to %d, found %q", most, clip(v.Until.Text))
	return Valid{Until: Text{At: n.At}}
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

// wholePrice is all of a price, in thousandths of a per cent.
const wholePrice = 100_000

// pricing checks that the lines a client sees can be the whole price, and that every name in it is one of the job's.
func (d *decoder) pricing(j *Job) {
	p := j.Price
	for _, l := range p.Lines {
		if !l.What.Given {
			d.at(l.At, 1, "add what: , in the client's words", "a line of the price without words")
		}
	}
	for _, list := range [][]Extra{p.Extras, p.Allowances} {
		for _, e := range list {
			if !e.What.Given {
				d.at(e.At, 1, "add what: , in the client's words", "a sum without words")
			}
		}
	}
	var names []string
	for _, a := range j.Alternatives {
		names = append(names, a.Name)
	}
	for _, c := range p.Choices {
		if !slices.Contains(names, c.Text) {
			d.missing(c, "alternative", slices.Clone(names))
		}
	}
	d.priceLines(j)
}

// priceLines checks that all lines say their part in one way, and that the parts are the whole.
func (d *decoder) priceLines(j *Job) {
	lines := j.Price.Lines
	runs, of := false, false
	for _, l := range lines {
		runs, of = runs || len(l.Runs) > 0, of || len(l.Of) > 0
	}
	sum := int64(0)
	before := len(d.problems)
	taken := map[string]bool{}
	take := func(t Text) {
		if taken[t.Text] {
			d.at(t.At, len([]rune(t.Text)), "name it in one line only", "%q is in two places of the price", clip(t.Text))
		}
		taken[t.Text] = true
	}
	for i, l := range lines {
		ways := 0
		for _, way := range []bool{l.Share.Given, len(l.Runs) > 0, len(l.Of) > 0} {
			if way {
				ways++
			}
		}
		switch {
		case ways > 1 || runs && of || (runs || of) && l.Share.Given:
			d.at(l.At, 1, "write share: in every line, or runs: in every line, or of: in every line", "the lines of the price say their parts in different ways")
			return
		case ways == 0 && (runs || of):
			d.at(l.At, 1, "write what it is for, as the other lines do", "a line of the price without its part")
			return
		case ways == 0 && i < len(lines)-1:
			d.at(l.At, 1, "add share: , per cent of the price", "only the last line of the price can be without a share")
			return
		}
		sum += l.Share.Thousandths
		for _, t := range append(slices.Clone(l.Runs), l.Of...) {
			take(t)
		}
		for _, t := range l.Runs {
			if !slices.ContainsFunc(j.Runs, func(r *Run) bool { return r.Name == t.Text }) {
				var known []string
				for _, r := range j.Runs {
					known = append(known, r.Name)
				}
				d.missing(t, "run", known)
			}
		}
	}
	var left []string
	switch {
	case len(lines) == 0:
	case runs:
		for _, r := range j.Runs {
			if !taken[r.Name] {
				left = append(left, r.Name)
			}
		}
	case of:
		for _, p := range PriceParts {
			if !taken[p] {
				left = append(left, p)
			}
		}
	case sum > wholePrice || sum < wholePrice && lines[len(lines)-1].Share.Given:
		d.at(lines[0].At, 1, "make the shares 100 % together, or leave the last one out", "the lines of the price are %s %% together", working.Decimal(exact.New(sum, 1000)))
	}
	if len(left) > 0 && len(d.problems) == before { // a name that is wrong in a line may be the one that is left over
		d.at(lines[0].At, 1, "add it to a line", "no line of the price is for %s", clip(strings.Join(left, ", ")))
	}
}
