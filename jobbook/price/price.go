// Package price makes an estimate of what a job costs and what is asked for it: materials, labour, overhead, mark-up, tax. Amounts are in hundredths and exact; every sum is
// that of the lines it is made of, and what is not known yet is named, never guessed.
package price

import (
	"strconv"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
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
	Minutes           int         // working time that is reckoned with
	Sums              []Line      // from materials to the total, in order, each with its working
	Guard             money.Money // the price of the guard, rounded up, before extras, discount, allowances and tax on everything
	Net               money.Money // before tax on everything
	Tax               money.Money // on everything, or on materials: then it is in Guard
	Total             money.Money
	Figure            string          // id of the working of Total
	Known             bool            // there is a total: an hour has its price, and no amount is too large
	Complete          bool            // nothing is missing; else a total is what it comes to at the least
	PerLength         *working.Figure // Guard for a foot or a metre of handrail; nil while not known
	PerBaluster       *working.Figure // Guard for each baluster; nil while not known
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
	Sum    bool   // it is the sum of all lines above it that are no sums
	Figure string // id of its working; empty where it is written in a file
	At     source.Pos
	key    string // which line of the sums it is
}

// Input is what a price is reckoned from: the parts of a plan that come before it.
type Input struct {
	Job      *job.Job
	Layout   layout.Layout
	Buying   takeoff.Buying
	Sequence sequence.Sequence
	Open     []finding.Reading // readings that parts to buy, or their finish, still wait for
}

const hourMinutes = 60

// most bounds an estimate: over it, amounts could not be added up.
const most = money.Most * 1000

type estimating struct {
	Input
	out       Estimate
	sign      string
	hundredth *working.Input // that amounts are rounded to
	tooMuch   string         // the amount that is too large to reckon with; nothing after it is
	total     Line           // of the sums so far
	guard     Line           // the sum that is the price of the guard
	shown     int            // how many of the sums come before what a client may see
	since     []Line         // lines after it
}

// Reckon makes the estimate of a job that is taken off and put in order. A problem is an amount that is too large.
func Reckon(in Input) (Estimate, []source.Problem) {
	e := &estimating{Input: in, sign: in.Job.Shop.Currency.Text}
	e.hundredth = (&working.Input{Symbol: "c", Name: "a hundredth", Value: exact.New(1, 100), Unit: e.sign}).Because("amounts are in hundredths")
	e.out.Complete = true
	e.open()
	materials := e.materials()
	labour := e.labour()
	e.out.Sums = []Line{materials, labour}
	if e.rates(); e.Job.Shop.Rates.Hour.Given && e.tooMuch == "" {
		e.sums(materials, labour)
	}
	e.out.Known = e.Job.Shop.Rates.Hour.Given && e.tooMuch == ""
	if e.out.Known {
		e.each()
		e.offer()
	}
	if e.tooMuch == "" {
		if n := len(e.out.Sums); e.out.Known && !e.out.Complete {
			e.out.Sums[n-1].Title += ", at the least"
		}
		return e.out, nil
	}
	e.out.Guard, e.out.Net, e.out.Tax, e.out.Total, e.out.Figure, e.out.Sums = 0, 0, 0, 0, "", nil
	return e.out, []source.Problem{{
		Severity: source.Warning, At: source.Pos{File: e.Job.File}, Width: 1,
		Summary: "there is no price: " + e.tooMuch + " comes to more than " + most.String(), Hint: "look at the prices, the counts and the rates",
	}}
}

func (e *estimating) ask(what, where, why string, at source.Pos) {
	e.out.Complete = false
	e.name(what, where, why, at)
}

// uncounted names what a contingency can stand for: materials or working time that are not counted or priced yet.
func (e *estimating) uncounted(what, where, why string, at source.Pos) {
	e.out.Complete = e.out.Complete && e.Job.Price.Contingency.Money > 0
	e.name(what, where, why, at)
}

func (e *estimating) name(what, where, why string, at source.Pos) {
	if at.IsZero() {
		at = source.Pos{File: e.Job.File}
	}
	e.out.Asks = append(e.out.Asks, finding.Reading{What: what, Where: where, Why: why, Group: "price", At: at})
}

// open names what is not counted yet, so that no total pretends to be whole.
func (e *estimating) open() {
	named := map[string]bool{}
	for _, r := range e.Open {
		named[r.Group] = true
		e.out.Complete = e.out.Complete && e.Job.Price.Contingency.Money > 0
		e.out.Asks = append(e.out.Asks, r)
	}
	const why = "its parts are not all counted"
	for _, r := range e.Layout.Runs {
		at := source.Pos{File: r.Job.File}
		switch {
		case named[r.ID]:
		case r.Chosen == nil || r.Handrail == nil && !r.Job.Stays():
			e.uncounted("what "+r.Title+" still waits for", r.Job.File, why, at)
		case r.Job.Shoe == nil && !r.Job.NoShoe:
			e.uncounted("which shoe "+r.Title+" has", r.Job.File+", shoe: ; none where there is none", why, at)
		case r.Job.RailFillet == nil && !r.Job.NoRailFillet && r.Job.ShoeFillet == nil && !r.Job.NoShoeFillet:
			e.uncounted("which fillet "+r.Title+" has", r.Job.File+", fillet: ; none where there is none", why, at)
		case r.Job.RailFillet == nil && !r.Job.NoRailFillet:
			e.uncounted("which fillet the handrail of "+r.Title+" has", r.Job.File+", fillet: {rail: }; none where there is none", why, at)
		case r.Job.ShoeFillet == nil && !r.Job.NoShoeFillet:
			e.uncounted("which fillet the shoe of "+r.Title+" has", r.Job.File+", fillet: {shoe: }; none where there is none", why, at)
		}
	}
	if len(e.Layout.Runs) == 0 {
		e.ask("the runs of the guard", "runs/1-NAME.md", "there is nothing to price yet", source.Pos{})
	}
}

// rates names the shop's rates that are still to be given. None has a default: 0 % is written where there is none.
func (e *estimating) rates() {
	r := e.Job.Shop.Rates
	for _, q := range []struct {
		given          bool
		key, what, why string
		at             source.Pos
	}{
		{r.Hour.Given, "hour: ", "the price of an hour of working time", "there is no price without it", r.Hour.At},
		{r.Overhead.Given, "overhead: ; 0 % for none", "the overhead", "the total", r.Overhead.At},
		{r.MarkUp.Given, "mark-up: ; 0 % for none", "the mark-up on cost", "the total", r.MarkUp.At},
		{r.Tax.Given, "tax: ; 0 % for none", "the tax", "the total", r.Tax.At},
		{!r.Tax.Given || r.Tax.Thousandths == 0 || r.TaxOn.Given, "tax-on: everything or materials", "what the tax is on; ask the tax office", "the total", r.TaxOn.At},
	} {
		if !q.given {
			e.ask(q.what, "settings.md of the shop, rates: {"+q.key+"}", q.why, q.at)
		}
	}
}

// work keeps a formula as a figure. An amount that is too large ends the estimate.
func (e *estimating) work(id, title, symbol string, x working.Expr, cites ...working.Citation) (money.Money, *working.Figure) {
	f := working.Work("price/"+id, title, symbol, e.sign, x, cites...)
	if !f.Value.Known() || f.Value.Cmp(most.Number()) > 0 || f.Value.Cmp((-most).Number()) < 0 {
		if e.tooMuch == "" {
			e.tooMuch = title
			e.ask(title+": it comes to more than "+most.String(), "the prices, the counts and the rates", "there is no price", source.Pos{})
		}
		return 0, nil
	}
	e.out.Figures = append(e.out.Figures, f)
	return money.Of(f.Value), f
}

var (
	added  = working.Citation{Text: "sum of its lines", Status: working.Derived}
	byRate = working.Citation{Text: "the shop's rates", Status: working.Local}
	byJob  = working.Citation{Text: "the job's price", Status: working.Local}
)

// round rounds to the hundredth, a half up.
func (e *estimating) round(x working.Expr, how length.Rounding) working.Expr {
	return working.RoundTo(x, e.hundredth, how)
}

// amount is a line that goes into a formula.
func (e *estimating) amount(symbol string, l Line) *working.Input {
	in := &working.Input{Symbol: symbol, Name: l.Title, Value: l.Amount.Number(), Unit: e.sign, Figure: l.Figure}
	if l.Figure == "" {
		if in.At = l.At; l.At.IsZero() {
			in.From = "nothing is listed"
		}
	}
	return in
}

func percent(symbol, name string, r job.Ratio) *working.Input {
	return &working.Input{Symbol: symbol, Name: name, Value: exact.New(r.Thousandths, 1000), Unit: "%", At: r.At}
}

// share is so many per cent of an amount.
func share(of working.Expr, p *working.Input) working.Expr {
	return working.Quotient(working.Product(of, p), working.Constant(100))
}

// small makes a title fit into a sentence.
func small(title string) string { return strings.ToLower(title[:1]) + title[1:] }

func percentWords(r job.Ratio) string { return working.Decimal(exact.New(r.Thousandths, 1000)) + " %" }

// sumOf adds lines up under a figure, as far as they are known.
func (e *estimating) sumOf(id, title, symbol string, lines []Line) (money.Money, string) {
	terms := make([]working.Expr, 0, len(lines))
	for _, l := range lines {
		if l.Known {
			terms = append(terms, e.amount(symbol+"_"+strconv.Itoa(len(terms)+1), l))
		}
	}
	var x working.Expr
	switch len(terms) {
	case 0:
		return 0, ""
	case 1:
		x = terms[0]
	default:
		x = working.Sum(terms[0], terms[1], terms[2:]...)
	}
	sum, f := e.work(id, title, symbol, x, added)
	if f == nil {
		return 0, ""
	}
	return sum, f.ID
}

// materials are what is bought, a line for each supplier.
func (e *estimating) materials() Line {
	for _, o := range e.Buying.Orders {
		l := Line{Title: o.Supplier.Title, Amount: o.Known, Known: o.Complete || o.Known > 0, Figure: o.Figure, At: o.Supplier.At}
		if o.Supplier.Name == "" {
			l.Title = "what nobody sells yet"
		}
		if !o.Complete {
			l.About = "as far as prices and counts are known"
		}
		e.out.Materials = append(e.out.Materials, l)
	}
	if !e.Buying.Complete {
		e.uncounted("the prices and counts that the buying list asks for", "a file of kind: supplier, and the readings still to be taken", "materials", source.Pos{})
	}
	sum, fig := e.sumOf("materials", "materials", "M", e.out.Materials)
	return Line{Title: "Materials", Amount: sum, Known: true, Figure: fig, key: "materials"}
}

// labour is the working time of every step at the price of an hour, each rounded to the hundredth; or the job's own hours.
func (e *estimating) labour() Line {
	hour := e.Job.Shop.Rates.Hour
	rate := &working.Input{Symbol: "r", Name: "price of an hour", Value: hour.Number(), Unit: e.sign, At: hour.At}
	add := func(id string, l Line, time *working.Input, unit int64) {
		l.Known = hour.Given
		if hour.Given {
			x := working.Expr(working.Product(time, rate))
			if unit != 1 {
				x = working.Quotient(x, working.Constant(unit))
			}
			m, f := e.work(id, "labour: "+l.Title, "l", e.round(x, length.Nearest), byRate)
			if f == nil {
				l.Known = false
			} else {
				l.Amount, l.Figure = m, f.ID
			}
		}
		e.out.Labour = append(e.out.Labour, l)
	}
	if h := e.Job.Price.Hours; h.Given {
		hours := &working.Input{Symbol: "t", Name: "hours of working time", Value: exact.New(h.Thousandths, 1000), Unit: "h", At: h.At}
		e.out.Minutes = int(h.Thousandths * hourMinutes / 1000)
		add("labour/hours", Line{Title: "Working time, as the job says", About: working.Decimal(hours.Value) + " h", At: h.At}, hours, 1)
	} else {
		e.out.Minutes = e.Sequence.Minutes
		e.out.Labour = make([]Line, 0, len(e.Sequence.Steps))
		for _, step := range e.Sequence.Steps {
			if step.Step != nil && e.timed(step) {
				title := step.Step.Title.Or(job.Text{Text: step.Step.Name}).Text
				l := Line{Title: strconv.Itoa(step.N) + ". " + title, About: clock(step.Minutes), At: source.Pos{File: step.Step.File}}
				if step.Waits != "" {
					l.About += ", and more when the " + step.Waits + " are known"
				}
				minutes := working.Count("t", "minutes of working time", int64(step.Minutes), source.Pos{}).Because("order of work, step " + strconv.Itoa(step.N))
				add("labour/"+step.Step.Name, l, minutes, hourMinutes)
			}
		}
	}
	sum, fig := e.sumOf("labour", "labour", "L", e.out.Labour)
	return Line{Title: "Labour", About: clock(e.out.Minutes), Amount: sum, Known: hour.Given, Figure: fig, key: "labour"}
}

// timed reports a step with working time. One without is named, but for a hold point, which is a decision and takes none of its own.
func (e *estimating) timed(s sequence.Step) bool {
	m := s.Step.Minutes
	title := s.Step.Title.Or(job.Text{Text: s.Step.Name}).Text
	at := source.Pos{File: s.Step.File}
	switch {
	case s.Waits != "":
		e.uncounted("how many "+s.Waits+" there are", "the readings that are still to be taken", "the working time of: "+title, at)
	case m.Each.Given && !m.Of.Given:
		e.uncounted("what the minutes are for each of, in: "+title, s.Step.File+", minutes: {of: }", "its working time is not counted", at)
	case !m.Once.Given && !m.Each.Given && !s.Step.Hold.Given:
		e.uncounted("how long it takes: "+title, s.Step.File+", minutes: {once: }", "its working time is not counted", at)
	}
	return m.Once.Given || m.Each.Given && m.Of.Given
}

// clock writes minutes as hours and minutes.
func clock(minutes int) string {
	switch h, m := minutes/hourMinutes, minutes%hourMinutes; {
	case h == 0:
		return strconv.Itoa(m) + " min"
	case m == 0:
		return strconv.Itoa(h) + " h"
	default:
		return strconv.Itoa(h) + " h " + strconv.Itoa(m) + " min"
	}
}

// add puts a line under the sums.
func (e *estimating) add(l Line) {
	l.Known = true
	e.since = append(e.since, l)
	e.out.Sums = append(e.out.Sums, l)
}

// sum closes the lines since the sum before with another one; where there are none, the sum before gets the title.
func (e *estimating) sum(id, title string) {
	terms := []working.Expr{e.amount("S", e.total)}
	for i, l := range e.since {
		terms = append(terms, e.amount("x_"+strconv.Itoa(i+1), l))
	}
	if len(terms) == 1 {
		if id == "net" && title != "Total" { // the tax is on what stands above
			return
		}
		last := &e.out.Sums[len(e.out.Sums)-1]
		last.Title, e.total.Title = title, title
		last.key, e.total.key = id, id
		return
	}
	m, f := e.work(id, title, "T", working.Sum(terms[0], terms[1], terms[2:]...), added)
	if f == nil {
		return
	}
	e.total = Line{Title: title, Amount: m, Known: true, Sum: true, Figure: f.ID, key: id}
	e.since = nil
	e.out.Sums = append(e.out.Sums, e.total)
}

// part puts a line under the sums that is worked out of others.
func (e *estimating) part(id, title, about string, x working.Expr, at source.Pos, cite working.Citation) money.Money {
	m, f := e.work(id, title, "s", x, cite)
	if f != nil {
		e.add(Line{Title: title, About: about, Amount: m, Figure: f.ID, At: at, key: id})
	}
	return m
}

// sums goes from materials and labour to the total.
func (e *estimating) sums(materials, labour Line) {
	r, p := e.Job.Shop.Rates, e.Job.Price
	terms := []working.Expr{e.amount("M", materials), e.amount("L", labour)}
	if p.Contingency.Money > 0 {
		l := Line{Title: "Contingency", About: "for what is not counted or priced yet", Amount: p.Contingency.Money, Known: true, At: p.Contingency.At}
		terms = append(terms, e.amount("k", l))
		e.out.Sums = append(e.out.Sums, l)
	}
	cost, f := e.work("cost", "Cost", "C", working.Sum(terms[0], terms[1], terms[2:]...), added)
	if f == nil {
		return
	}
	e.total = Line{Title: "Cost", Amount: cost, Known: true, Sum: true, Figure: f.ID}
	e.out.Sums = append(e.out.Sums, e.total)
	rated := func(id, title string, of Line, p job.Ratio) money.Money {
		return e.part(id, title, percentWords(p)+" of "+small(of.Title), e.round(share(e.amount("S", of), percent("p", title, p)), length.Nearest), p.At, byRate)
	}
	if r.Overhead.Thousandths > 0 {
		rated("overhead", "Overhead", e.total, r.Overhead)
		e.sum("with-overhead", "Cost with overhead")
	}
	if r.MarkUp.Thousandths > 0 {
		rated("mark-up", "Mark-up on cost", e.total, r.MarkUp)
	}
	if r.Tax.Thousandths > 0 && r.TaxOn.Text == "materials" {
		e.out.Tax = rated("tax", "Tax on materials", materials, r.Tax)
	}
	if e.sum("guard", "The guard"); r.Round.Given && r.Round.Money > 0 && e.tooMuch == "" {
		g := e.amount("S", e.total)
		multiple := &working.Input{Symbol: "u", Name: "rounded up to a multiple of", Value: r.Round.Number(), Unit: e.sign, At: r.Round.At}
		e.part("rounding", "Rounding up", "to a multiple of "+r.Round.Money.String(), working.Difference(working.RoundTo(g, multiple, length.Up), g), r.Round.At, byRate)
		e.sum("guard-rounded", "The guard, rounded up")
	}
	e.guard, e.shown = e.total, len(e.out.Sums)
	e.out.Guard = e.total.Amount
	e.agreed("an extra", "extras", "agreed", p.Extras)
	if e.sum("with-extras", e.titled("The guard and its extras")); p.Discount.Percent.Given || p.Discount.Sum.Given {
		e.discount(p.Discount)
	}
	e.agreed("an allowance", "allowances", "set aside", p.Allowances)
	title := beforeTax
	if r.Tax.Thousandths == 0 || r.TaxOn.Text != "everything" {
		title = "Total"
	}
	e.sum("net", title)
	e.out.Net = e.total.Amount
	if title == beforeTax {
		e.out.Tax = rated("tax", "Tax", e.total, r.Tax)
		e.sum("total", "Total")
	}
	e.out.Total, e.out.Figure = e.total.Amount, e.total.Figure
}

const beforeTax = "The price before tax"

// titled is the title of a sum where there is something to add, else that of the sum before.
func (e *estimating) titled(title string) string {
	if len(e.since) == 0 {
		return e.total.Title
	}
	return title
}

// agreed puts sums under the others that are written in the job.
func (e *estimating) agreed(what, key, about string, list []job.Extra) {
	for _, x := range list {
		if !x.Price.Given {
			at := x.Price.At
			if at.IsZero() {
				at = x.At
			}
			e.ask("the sum of "+what+": "+x.What.Text, e.Job.File+", price: {"+key+": {price: }}", "the total", at)
			continue
		}
		e.add(Line{Title: x.What.Text, About: about, Amount: x.Price.Money, At: x.Price.At})
	}
}

// discount takes something off the guard and its extras, and never more than they come to.
func (e *estimating) discount(d job.Discount) {
	of := e.amount("S", e.total)
	if d.Percent.Given {
		off := e.round(share(of, percent("p", "discount", d.Percent)), length.Nearest)
		e.part("discount", "Discount", percentWords(d.Percent)+" of "+small(e.total.Title), working.Difference(working.Constant(0), off), d.Percent.At, byJob)
		return
	}
	if d.Sum.Money > e.total.Amount {
		e.ask("a discount of no more than "+e.total.Amount.String(), e.Job.File+", price: {discount: }", "the total", d.Sum.At)
	}
	sum := &working.Input{Symbol: "d", Name: "discount", Value: d.Sum.Number(), Unit: e.sign, At: d.Sum.At}
	e.part("discount", "Discount", "", working.Difference(working.Constant(0), working.Least(sum, of)), d.Sum.At, byJob)
}

// each is what the guard comes to for a foot or a metre of rail, and for a baluster: figures to hold against other jobs.
func (e *estimating) each() {
	name, units := "foot", int64(12)
	if e.Job.System == length.Millimetres {
		name, units = "metre", 1000
	}
	guard := e.amount("G", e.guard)
	n := int64(0)
	var rails []working.Expr
	for i, r := range e.Layout.Runs {
		if r.Chosen == nil || r.Handrail == nil {
			return
		}
		n += int64(r.Chosen.Count)
		l := working.Length("l_"+strconv.Itoa(i+1), "handrail of "+r.Title, r.Handrail.Length, e.Job.System, source.Pos{})
		l.Figure = r.Handrail.Figure
		rails = append(rails, l)
	}
	if len(rails) == 0 {
		return
	}
	all := rails[0]
	for _, l := range rails[1:] {
		all = working.Sum(all, l)
	}
	keep := func(id, title string, x working.Expr) *working.Figure {
		f := working.Work("price/"+id, title, "g", e.sign, e.round(x, length.Nearest), working.Citation{Text: "division of the price of the guard", Status: working.Derived})
		if f.Value.Known() {
			e.out.Figures = append(e.out.Figures, f)
			return f
		}
		return nil
	}
	e.out.PerLength = keep("per-"+name, "the guard for each "+name+" of handrail", working.Quotient(working.Product(guard, working.Constant(units)), all))
	e.out.PerBaluster = keep("per-baluster", "the guard for each baluster", working.Quotient(guard, working.Count("n", "balusters of the whole job", n, source.Pos{}).Because("layout")))
}
