// Package price makes an estimate of what a job costs and what is asked for it: materials, labour, overhead, mark-up, tax. Amounts are in hundredths and exact; every sum is
// that of the lines it is made of, and what is not known yet is named, never guessed.
package price

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// Estimate is the price of a job and how it comes about. It is the shop's own: a client sees Offer alone.
type Estimate struct {
	Materials, Labour []Line      // what is bought, by supplier; the steps with working time
	Sums              []Line      // from materials to the total, in order, each with its working
	Net               money.Money // before tax
	Tax               money.Money
	Total             money.Money
	Complete          bool // nothing is missing: else the amounts are what is known so far
	Asks              []finding.Reading
	Figures           []*working.Figure
	Offer             Offer
}

// Line is one amount.
type Line struct {
	Title  string
	About  string // hours, or a share
	Amount money.Money
	Known  bool
	Sum    bool   // it is a sum of what stands before it
	Figure string // id of its working; empty where it is written in a file
	At     source.Pos
}

// Offer is what a client sees of the price.
type Offer struct {
	Show  bool
	Lines []Line // with the tax and the extras; their sum is Total
	Total money.Money
	Valid string
}

// most bounds an estimate: over it, amounts could not be added up.
const most = money.Most * 1000

type estimating struct {
	job  *job.Job
	out  Estimate
	sign string
}

// Reckon makes the estimate of a job that is taken off and put in order.
func Reckon(j *job.Job, b takeoff.Buying, s sequence.Sequence) Estimate {
	e := &estimating{job: j, sign: j.Shop.Currency.Text}
	e.out.Complete = true
	materials := e.materials(b)
	labour := e.labour(s)
	e.sums(materials, labour)
	e.offer()
	return e.out
}

func (e *estimating) ask(what, where, why string, at source.Pos) {
	e.out.Complete = false
	if at.IsZero() {
		at = source.Pos{File: e.job.File}
	}
	e.out.Asks = append(e.out.Asks, finding.Reading{What: what, Where: where, Why: why, Group: "price", At: at})
}

// work rounds a formula to the hundredth and keeps it as a figure.
func (e *estimating) work(id, title, symbol string, x working.Expr, round bool, cites ...working.Citation) (money.Money, *working.Figure) {
	if round {
		hundredth := &working.Input{Symbol: "c", Name: "a hundredth", Value: big.NewRat(1, 100), Unit: e.sign}
		x = working.RoundTo(x, hundredth, length.Nearest)
	}
	if len(cites) == 0 {
		cites = []working.Citation{{Text: "the shop's rates", Status: working.Local}}
	}
	f := working.Work("price/"+id, title, symbol, e.sign, x, cites...)
	e.out.Figures = append(e.out.Figures, f)
	if f.Value == nil || new(big.Rat).Abs(f.Value).Cmp(most.Rat()) > 0 {
		e.ask(title+" is too large to reckon with", "the prices and rates", "the price", source.Pos{})
		return 0, f
	}
	return money.Of(f.Value), f
}

func (e *estimating) amount(symbol, name string, m money.Money, figure string) *working.Input {
	return &working.Input{Symbol: symbol, Name: name, Value: m.Rat(), Unit: e.sign, Figure: figure}
}

func percent(symbol, name string, r job.Ratio) *working.Input {
	return &working.Input{Symbol: symbol, Name: name, Value: big.NewRat(r.Thousandths, 1000), Unit: "%", At: r.At}
}

// share is so many per cent of an amount.
func share(of working.Expr, p *working.Input) working.Expr {
	return working.Quotient(working.Product(of, p), working.Constant(100))
}

var added = working.Citation{Text: "sum of its lines", Status: working.Derived}

// total adds lines up under a figure.
func (e *estimating) total(id, title, symbol string, lines []Line) (money.Money, string) {
	var terms []working.Expr
	for _, l := range lines {
		if l.Known {
			terms = append(terms, e.amount(symbol+"_"+strconv.Itoa(len(terms)+1), l.Title, l.Amount, l.Figure))
		}
	}
	switch len(terms) {
	case 0:
		return 0, ""
	case 1:
		terms = append(terms, working.Constant(0))
	}
	sum, f := e.work(id, title, symbol, working.Sum(terms[0], terms[1], terms[2:]...), false, added)
	return sum, f.ID
}

// materials are what is bought, a line for each supplier.
func (e *estimating) materials(b takeoff.Buying) Line {
	for _, o := range b.Orders {
		l := Line{Title: o.Supplier.Title, Amount: o.Known, Known: o.Complete || o.Known > 0, Figure: o.Figure, At: o.Supplier.At}
		if o.Supplier.Name == "" {
			l.Title = "what nobody sells yet"
		}
		if !o.Complete {
			l.About = "as far as prices and counts are known"
			e.out.Complete = false
		}
		e.out.Materials = append(e.out.Materials, l)
	}
	if !b.Complete {
		e.ask("the prices that the buying list asks for", "a file of kind: supplier", "materials", source.Pos{File: e.job.File})
	}
	sum, fig := e.total("materials", "materials", "M", e.out.Materials)
	return Line{Title: "Materials", Amount: sum, Known: true, Sum: true, Figure: fig}
}

// labour is the working time of every step at the shop's rate.
func (e *estimating) labour(s sequence.Sequence) Line {
	hour := e.job.Shop.Rates.Hour
	if !hour.Given {
		e.ask("what an hour of working time costs", "settings.md of the shop, rates: {hour: }", "labour", hour.At)
	}
	for i, step := range s.Steps {
		if step.Step == nil || step.Minutes == 0 && step.Waits == "" {
			continue
		}
		l := Line{Title: step.Step.Title.Or(job.Text{Text: step.Step.Name}).Text, About: clock(step.Minutes), Known: hour.Given, At: source.Pos{File: step.Step.File}}
		if step.Waits != "" {
			l.About += ", and more when the " + step.Waits + " are known"
			e.ask("how many "+step.Waits+" there are", "the readings that are still to be taken", "the time of "+step.Step.Name, source.Pos{File: step.Step.File})
		}
		if hour.Given {
			minutes := working.Count("t", "minutes of working time", int64(step.Minutes), source.Pos{}).Because("order of work, step " + strconv.Itoa(step.N))
			rate := &working.Input{Symbol: "r", Name: "price of an hour", Value: hour.Rat(), Unit: e.sign, At: hour.At}
			m, f := e.work("labour/"+strconv.Itoa(i+1), "labour: "+l.Title, "l", working.Quotient(working.Product(minutes, rate), working.Constant(60)), true)
			l.Amount, l.Figure = m, f.ID
		}
		e.out.Labour = append(e.out.Labour, l)
	}
	sum, fig := e.total("labour", "labour", "L", e.out.Labour)
	return Line{Title: "Labour", About: clock(s.Minutes), Amount: sum, Known: hour.Given, Sum: true, Figure: fig}
}

// clock writes minutes as hours and minutes.
func clock(minutes int) string {
	if minutes%60 == 0 {
		return fmt.Sprintf("%d h", minutes/60)
	}
	return fmt.Sprintf("%d h %d min", minutes/60, minutes%60)
}

// sums goes from materials and labour to the total.
func (e *estimating) sums(materials, labour Line) {
	rates, p := e.job.Shop.Rates, e.job.Price
	add := func(l Line) Line {
		e.out.Sums = append(e.out.Sums, l)
		return l
	}
	in := func(symbol string, l Line) working.Expr { return e.amount(symbol, l.Title, l.Amount, l.Figure) }
	add(materials)
	add(labour)
	cost, f := e.work("cost", "cost: materials and labour", "C", working.Sum(in("M", materials), in("L", labour)), false, added)
	total := add(Line{Title: "Cost", Amount: cost, Known: labour.Known, Sum: true, Figure: f.ID})
	for _, step := range []struct {
		id, title, sum string
		r              job.Ratio
	}{{"overhead", "Overhead", "Cost with overhead", rates.Overhead}, {"mark-up", "Mark-up on cost", "Price of the work", rates.MarkUp}} {
		if !step.r.Given {
			e.ask("the shop's "+step.id, "settings.md of the shop, rates: {"+step.id+": }; 0 % for none", "the price", step.r.At)
			continue
		}
		m, f := e.work(step.id, step.title, "s", share(in("C", total), percent("p", step.title, step.r)), true)
		line := add(Line{Title: step.title, About: working.Decimal(big.NewRat(step.r.Thousandths, 1000)) + " %", Amount: m, Known: true, Figure: f.ID, At: step.r.At})
		sum, f := e.work(step.id+"-sum", step.sum, "S", working.Sum(in("C", total), in("s", line)), false, added)
		total = add(Line{Title: step.sum, Amount: sum, Known: true, Sum: true, Figure: f.ID})
	}
	for i, x := range p.Extras {
		if !x.Price.Given {
			e.ask("the sum agreed for "+x.What.Text, e.job.File+", price: {extras: {price: }}", "the price", x.Price.At)
			continue
		}
		line := add(Line{Title: x.What.Text, About: "agreed", Amount: x.Price.Money, Known: true, At: x.Price.At})
		sum, f := e.work("extra-"+strconv.Itoa(i+1), "with "+x.What.Text, "S", working.Sum(in("P", total), &working.Input{Symbol: "x", Name: x.What.Text, Value: line.Amount.Rat(), Unit: e.sign, At: line.At}), false, added)
		total = add(Line{Title: "With " + x.What.Text, Amount: sum, Known: true, Sum: true, Figure: f.ID})
	}
	if p.Discount.Given && p.Discount.Money > 0 {
		line := add(Line{Title: "Discount", Amount: -p.Discount.Money, Known: true, At: p.Discount.At})
		sum, f := e.work("discount", "with the discount", "S", working.Difference(in("P", total), &working.Input{Symbol: "d", Name: "discount", Value: p.Discount.Rat(), Unit: e.sign, At: p.Discount.At}), false, added)
		total = add(Line{Title: "With the discount", Amount: sum, Known: true, Sum: true, Figure: f.ID})
		if sum < 0 {
			e.ask("a discount of no more than the price", e.job.File+", price: {discount: }", "the price", line.At)
		}
	}
	if rates.Round.Given && rates.Round.Money > 0 {
		up, f := e.work("round", "rounded up", "R", working.RoundTo(in("P", total), &working.Input{Symbol: "u", Name: "rounded up to a multiple of", Value: rates.Round.Rat(), Unit: e.sign, At: rates.Round.At}, length.Up), false)
		add(Line{Title: "Rounding up", Amount: up - total.Amount, Known: true, At: rates.Round.At})
		total = add(Line{Title: "Price, rounded", Amount: up, Known: true, Sum: true, Figure: f.ID})
	}
	e.out.Net = total.Amount
	if !rates.Tax.Given {
		e.ask("the tax", "settings.md of the shop, rates: {tax: }; 0 % for none", "the price", rates.Tax.At)
	} else if rates.Tax.Thousandths > 0 {
		of, about := total, "of the price"
		if rates.TaxOn.Text == "materials" {
			of, about = materials, "of materials"
		}
		m, f := e.work("tax", "tax", "t", share(in("P", of), percent("p", "tax", rates.Tax)), true)
		e.out.Tax = m
		line := add(Line{Title: "Tax", About: working.Decimal(big.NewRat(rates.Tax.Thousandths, 1000)) + " % " + about, Amount: m, Known: true, Figure: f.ID, At: rates.Tax.At})
		sum, f := e.work("total", "total", "T", working.Sum(in("P", total), in("t", line)), false, added)
		total = Line{Amount: sum, Figure: f.ID}
	}
	e.out.Total = total.Amount
	add(Line{Title: "Total", Amount: e.out.Total, Known: true, Sum: true, Figure: total.Figure})
}

// offer is what the client sees: nothing, the total, or the job's own lines, which take their shares of the price before extras by largest remainders, so that they add up to it.
func (e *estimating) offer() {
	p := e.job.Price
	o := &e.out.Offer
	o.Show = (p.Show.Text == "total" || p.Show.Text == "lines") && e.out.Complete
	if p.Valid.Given {
		o.Valid = p.Valid.Text
	}
	if !o.Show {
		return
	}
	o.Total = e.out.Total
	if p.Show.Text == "total" || len(p.Lines) == 0 {
		return
	}
	rest := e.out.Net
	for _, x := range p.Extras {
		rest -= x.Price.Money
	}
	for i, m := range parts(rest, p.Lines) {
		o.Lines = append(o.Lines, Line{Title: p.Lines[i].What.Text, Amount: m, Known: true})
	}
	for _, x := range p.Extras {
		o.Lines = append(o.Lines, Line{Title: x.What.Text, Amount: x.Price.Money, Known: true})
	}
	if e.out.Tax > 0 {
		o.Lines = append(o.Lines, Line{Title: "Tax", Amount: e.out.Tax, Known: true})
	}
}

// parts divides an amount by shares so that the parts add up to it: rounded down to the hundredth, and a hundredth more for those whose rest was greatest, the first of
// equals. A last line without a share takes what is left of a hundred per cent.
func parts(of money.Money, lines []job.PriceLine) []money.Money {
	const whole = 100_000 // thousandths of a per cent
	shares := make([]int64, len(lines))
	sum := int64(0)
	for i, l := range lines {
		shares[i] = l.Share.Thousandths
		if !l.Share.Given {
			shares[i] = whole - sum
		}
		sum += shares[i]
	}
	list, rests := make([]money.Money, len(lines)), make([]int64, len(lines))
	left := of
	order := make([]int, len(lines))
	for i, s := range shares {
		product := new(big.Int).Mul(big.NewInt(int64(of)), big.NewInt(s))
		q, r := new(big.Int).DivMod(product, big.NewInt(whole), new(big.Int))
		list[i], rests[i], order[i] = money.Money(q.Int64()), r.Int64(), i
		left -= list[i]
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(rests[b] - rests[a]) })
	for i := 0; left > 0 && i < len(order); i++ {
		list[order[i]]++
		left--
	}
	return list
}
