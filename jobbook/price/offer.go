package price

import (
	"slices"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Offer is what a client sees of the price. Its amounts are the price of the guard in one line or in the job's own, agreed sums, discount and tax on everything; what the guard
// comes about from is not in it. A tax on materials is in the price of the guard: by itself it would show what they cost.
type Offer struct {
	Show  bool
	Lines []Line // the last is the total, each sum that of the lines above it; empty where the client sees the total alone
	Total money.Money
	Taxed bool // there is a tax in it
}

// offer is what the client sees: nothing, the total, or lines. Nothing is shown before everything is known.
func (e *estimating) offer() {
	p, o := e.Job.Price, &e.out.Offer
	if p.Show.Text != "total" && p.Show.Text != "lines" {
		return
	}
	lines := e.divided(p.Lines)
	if !e.out.Complete {
		return
	}
	o.Show, o.Total, o.Taxed = true, e.out.Total, e.out.Tax > 0
	if p.Show.Text == "total" {
		return
	}
	o.Lines = lines
	for _, l := range e.out.Sums[e.shown:] {
		if l.Sum && l.key != "net" || l.key == "total" {
			continue
		}
		l.Figure, l.At = "", source.Pos{}
		if l.key == "tax" {
			l.About = percentWords(e.Job.Shop.Rates.Tax)
		}
		if l.key == "discount" {
			l.About = ""
			if p.Discount.Percent.Given {
				l.About = percentWords(p.Discount.Percent)
			}
		}
		o.Lines = append(o.Lines, l)
	}
	if n := len(o.Lines); o.Lines[n-1].Sum { // without a tax behind it, it is the total
		o.Lines = o.Lines[:n-1]
	}
	o.Lines = append(o.Lines, Line{Title: "Total", Amount: o.Total, Known: true, Sum: true})
}

// divided is the price of the guard in the job's own lines, or in one.
func (e *estimating) divided(lines []job.PriceLine) []Line {
	if len(lines) == 0 {
		return []Line{{Title: "The guard, as described", Amount: e.out.Guard, Known: true, Figure: e.guard.Figure}}
	}
	weights := e.weights(lines)
	if weights == nil {
		return nil
	}
	whole := exact.Of(0)
	var rats []exact.Number
	for _, w := range weights {
		whole = whole.Add(w.Value)
		rats = append(rats, w.Value)
	}
	if whole.Sign() == 0 {
		e.ask("lines of the price that have something in them", e.Job.File+", price: {lines: }", "what the client sees", lines[0].At)
		return nil
	}
	all := &working.Input{Symbol: "W", Name: "all parts together", Value: whole, Unit: weights[0].Unit}
	guard := e.amount("G", e.guard)
	var list []Line
	for i, part := range Parts(e.out.Guard, rats) {
		more := working.Count("k", "a hundredth more, for the largest remainders", int64(part.More), source.Pos{}).Because("so that the lines add up to the guard")
		x := working.Sum(e.round(working.Quotient(working.Product(guard, weights[i]), all), length.Down), working.Product(more, e.hundredth))
		m, f := e.work("line/"+strconv.Itoa(i+1), "line of the offer: "+lines[i].What.Text, "a", x, byJob)
		if f == nil {
			return nil
		}
		list = append(list, Line{Title: lines[i].What.Text, Amount: m, Known: true, Figure: f.ID, At: lines[i].At})
	}
	return list
}

// weights are what the lines divide the price of the guard by: shares, lengths of handrail, or costs.
func (e *estimating) weights(lines []job.PriceLine) []*working.Input {
	var list []*working.Input
	left := int64(100_000) // thousandths of a per cent
	for _, l := range lines {
		in := &working.Input{Symbol: "w", Name: "its share", Unit: "%", At: l.Share.At}
		sum := exact.Of(0)
		switch {
		case len(l.Runs) > 0:
			for _, name := range l.Runs {
				for _, r := range e.Layout.Runs {
					switch {
					case r.Name != name.Text:
					case r.Job.Stays() && r.Clear != nil: // no rail is cut there: as long as the run
						sum = sum.Add(r.Clear.Exact(e.Job.System).In(e.Job.System))
					case r.Handrail == nil:
						e.ask("how long the handrail of "+r.Title+" is", r.Job.File, "its line of the price", name.At)
					default:
						sum = sum.Add(r.Handrail.Length.In(e.Job.System))
					}
				}
			}
			in.Name, in.Unit, in.From, in.At = "handrails of its runs", e.Job.System.String(), "cut list", source.Pos{}
		case len(l.Of) > 0:
			for _, of := range l.Of {
				for _, s := range e.out.Sums {
					if s.key == of.Text {
						sum = sum.Add(s.Amount.Number())
					}
				}
			}
			in.Name, in.Unit, in.From, in.At = "what it costs", e.sign, "sums", source.Pos{}
		case l.Share.Given:
			sum = exact.New(l.Share.Thousandths, 1000)
			left -= l.Share.Thousandths
		default:
			sum = exact.New(left, 1000)
			in.Name, in.At, in.From = "what is left of 100 %", source.Pos{}, "the other lines"
		}
		in.Value = sum
		list = append(list, in)
	}
	return list
}

// Part is one part of a divided amount. More is 1 where it got a hundredth more than its share rounded down.
type Part struct {
	Amount money.Money
	More   int
}

// Parts divides an amount of 0 or more by weights, so that the parts add up to it: each its share rounded down to the hundredth, then a hundredth more for those with the largest
// remainders, the first of equal ones first. The weights are 0 or more, and not all of them 0.
func Parts(of money.Money, weights []exact.Number) []Part {
	whole := exact.Of(0)
	for _, w := range weights {
		whole = whole.Add(w)
	}
	list, rests, order := make([]Part, len(weights)), make([]exact.Number, len(weights)), make([]int, len(weights))
	left := of
	for i, w := range weights {
		share := exact.Of(int64(of)).Mul(w.Quo(whole))
		down := int64(length.Rounded(share, length.Nanometre, length.Down)) // a count of hundredths, not a length
		list[i].Amount, order[i] = money.Money(down), i
		rests[i] = share.Sub(exact.Of(down))
		left -= list[i].Amount
	}
	slices.SortStableFunc(order, func(a, b int) int { return rests[b].Cmp(rests[a]) })
	for _, i := range order[:left] {
		list[i].Amount++
		list[i].More = 1
	}
	return list
}
