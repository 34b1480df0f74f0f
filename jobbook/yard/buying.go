package yard

import (
	"cmp"
	"fmt"
	"slices"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff/stock"
	"balustrade/jobbook/working"
)

// Buying is what one order for several jobs would be. Each job's own buying list stays as it is: one orders by the one or by the other.
//
// Pieces and finishes of all jobs are added up and bought in packs and cans at least cost once, so that what is rounded up is rounded up once. Sticks are those of each job's own cutting plan:
// a stick that serves two jobs would have to lie in the shop until both are cut, and no page of either would say so.
type Buying struct {
	Orders  []Order
	Left    []Left // jobs whose buying is not in it, and why
	Sole    []Sole // lines of jobs that are bought for that job alone
	Alone   money.Money
	Known   money.Money // of Orders
	Figure  string      // id of the working of Known; empty where no line has a price
	Whole   bool        // every line has its price, and every part is counted
	Cheaper bool        // one order comes to less than each job by itself
	Sign    string      // of the money
}

// Left is a job that is not in the order.
type Left struct{ Folder, Why string }

// Sole is a line that is bought for its job alone.
type Sole struct {
	Folder, Why string
	Line        Line
}

// Order is what is bought from one supplier for all jobs.
type Order struct {
	Supplier, From string // empty where nobody sells it yet
	Lines          []Together
	By             string   // the earliest day to order by, of the jobs in it
	ByJob          []string // whose it is
	Known          money.Money
	Figure         string
	Whole          bool
}

// Together is one line of an order.
type Together struct {
	Line
	ID     string
	For    []Part // what each job needs of it, with all lines of this part
	Of     int    // how many lines of the order the part is bought in
	Alone  money.Money
	Figure string // id of the working of Amount; empty without a price
	NeedBy string // id of the working of what all jobs need; empty for sticks
}

// Part is what one job needs of a part.
type Part struct {
	Folder string
	Count  int   // sticks, or pieces
	Volume int64 // of a finish, in the unit of job.Ratio.Volume
	Whole  bool
}

// ware is what is bought in the same sizes for several jobs.
type ware struct {
	kind, part, title, coat string
	bought                  length.Length
}

func wareOf(l Line) ware { return ware{l.Kind, l.Part, l.Title, l.Coat, l.Bought} }

// buy puts the buying lists of the jobs together that are to be ordered.
func (y *Yard) buy() {
	b := &y.Buying
	b.Whole = true
	type group struct {
		lines []Line // of the first job that has it, in its order
		parts []Part
		cost  money.Money
		all   bool // every line has a price
		by    string
		byJob []string
	}
	type stick struct {
		ware
		supplier string
		long     length.Length
	}
	type wanted struct {
		w     ware
		g     *group
		stick *stick
	}
	var order []wanted
	groups, sticks := map[ware]*group{}, map[stick]*group{}
	note := func(g *group, s *Summary, l Line) {
		if l.Priced {
			g.cost += l.Amount
		}
		g.all = g.all && l.Priced
		switch {
		case l.By == "":
		case g.by == "" || l.By < g.by:
			g.by, g.byJob = l.By, []string{s.Folder}
		case l.By == g.by && !slices.Contains(g.byJob, s.Folder):
			g.byJob = append(g.byJob, s.Folder)
		}
	}
	var offers []Offer
	for _, s := range y.Jobs {
		if s.Shared && s.Currency != "" {
			b.Sign = s.Currency
			break
		}
	}
	jobs := slices.Clone(y.Jobs)
	slices.SortFunc(jobs, func(a, b Summary) int { return cmp.Compare(a.Folder, b.Folder) })
	for i := range jobs {
		s := &jobs[i]
		if why := s.waits(); why != "" {
			if len(s.Lines) > 0 || s.State == Unreadable {
				b.Left = append(b.Left, Left{s.Folder, why})
			}
			continue
		}
		alone := "" // why nothing of this job is bought together with others
		switch {
		case !s.Shared:
			alone = "the job has a shop of its own"
		case s.Currency != b.Sign:
			alone = "the job reckons in " + s.Currency
		}
		seen := map[ware]bool{}
		for _, l := range s.Lines {
			w := wareOf(l)
			if alone != "" {
				b.Sole = append(b.Sole, Sole{s.Folder, alone, l})
				continue
			}
			if slices.ContainsFunc(s.Lines, func(o Line) bool { return wareOf(o) == w && !o.Shared }) {
				b.Sole = append(b.Sole, Sole{s.Folder, "sold by somebody in the job's own lists", l})
				continue
			}
			if l.Long > 0 {
				k := stick{w, l.Supplier, l.Long}
				g := sticks[k]
				if g == nil {
					g = &group{all: true}
					sticks[k] = g
					order = append(order, wanted{w, g, &k})
				}
				g.lines = append(g.lines, l)
				g.parts = append(g.parts, Part{Folder: s.Folder, Count: l.Count, Whole: l.Complete})
				note(g, s, l)
				continue
			}
			g := groups[w]
			if g == nil {
				g = &group{all: true}
				groups[w] = g
				order = append(order, wanted{w, g, nil})
			}
			g.lines = append(g.lines, l)
			if !seen[w] {
				seen[w] = true
				g.parts = append(g.parts, Part{Folder: s.Folder, Count: l.Want, Volume: l.Volume, Whole: l.Complete})
			}
			note(g, s, l)
		}
		for _, o := range s.Offers {
			if !slices.Contains(offers, o) {
				offers = append(offers, o)
			}
		}
	}
	slices.SortStableFunc(order, func(x, y wanted) int {
		var a, c length.Length
		if x.stick != nil {
			a = x.stick.long
		}
		if y.stick != nil {
			c = y.stick.long
		}
		return cmp.Or(cmp.Compare(slices.Index(job.WareKinds, x.w.kind), slices.Index(job.WareKinds, y.w.kind)), cmp.Compare(x.w.part, y.w.part), cmp.Compare(x.w.coat, y.w.coat), cmp.Compare(c, a))
	})
	for n, x := range order {
		line := Together{Line: x.g.lines[0], For: x.g.parts, Alone: x.g.cost, ID: fmt.Sprintf("ordering/%d/%s/%s", n+1, x.w.kind, x.w.part)}
		line.Complete = !slices.ContainsFunc(x.g.parts, func(p Part) bool { return !p.Whole })
		if x.g.all {
			b.Alone += x.g.cost
		}
		if x.stick != nil {
			line.Count, line.Of = 0, 1
			for _, p := range x.g.parts {
				line.Count += p.Count
			}
			y.put(line, x.g.by, x.g.byJob)
			continue
		}
		line.NeedBy = y.need(line)
		for _, l := range y.cover(line, offers) {
			y.put(l, x.g.by, x.g.byJob)
		}
	}
	y.close()
}

// waits says why a job's buying is in no order for several; empty where it is.
func (s *Summary) waits() string {
	switch {
	case s.State == Unreadable:
		return "it cannot be read"
	case s.State == UnderWay && s.Delivered: // what is short
		return ""
	case s.bought() != "":
		return s.bought()
	case s.State == UnderWay && len(s.Stops) > 0: // pieces of it were made all the same
		return "it is " + ToSettle.String()
	case s.State == UnderWay && slices.ContainsFunc(s.Lines, func(l Line) bool { return !l.Complete }):
		return "it is " + ToMeasure.String()
	case s.State < ToOrder:
		return "it is " + s.State.String()
	}
	return ""
}

// need works out what all jobs want of a part together.
func (y *Yard) need(l Together) string {
	unit, of := "", func(p Part) exact.Number { return exact.Of(int64(p.Count)) }
	if l.Kind == "finish" {
		var one int64
		unit, one = job.VolumeUnit(l.System)
		of = func(p Part) exact.Number { return exact.New(p.Volume, one) }
	}
	var terms []working.Expr
	for i, p := range l.For {
		terms = append(terms, &working.Input{Symbol: fmt.Sprintf("n_%d", i+1), Name: "needed for " + y.Job(p.Folder).Name(), Value: of(p), Unit: unit, From: p.Folder + ", buying list: what it needs, its spares, less what is on hand"})
	}
	f := working.Work(l.ID+"/need", "what the jobs need together of "+l.Title, "N", unit, working.Total(terms), eachList)
	y.Figures = append(y.Figures, f)
	return f.ID
}

var eachList = working.Citation{Text: "each job's own buying list", Status: working.Derived}

// cover buys what all jobs want of a part in the packs or cans that it is sold in: at least cost where prices are known, else with least left over, as each job does by itself.
func (y *Yard) cover(l Together, offers []Offer) []Together {
	need := int64(0)
	for _, p := range l.For {
		need += int64(p.Count)
	}
	finish := l.Kind == "finish"
	if finish {
		need = 0
		for _, p := range l.For {
			need += p.Volume
		}
	}
	l.Want, l.Volume = int(need), need
	var fit, priced []Offer
	for _, o := range offers {
		if o.Kind == l.Kind && o.Part == l.Part && (o.Coat == "" || o.Coat == l.Coat) {
			fit = append(fit, o)
			if o.Priced {
				priced = append(priced, o)
			}
		}
	}
	if len(priced) > 0 {
		fit = priced
	}
	open := func() []Together { // on the list, by whoever it will be
		l.Of, l.Count, l.Pack = 1, int(need), 1
		if finish {
			l.Count, l.Pack = 0, 0
		}
		return []Together{l}
	}
	if l.Supplier == "" || len(fit) == 0 { // nobody sells it yet
		return open()
	}
	var packs []stock.Pack
	for _, o := range fit {
		p := stock.Pack{Size: int64(o.Pack), Cost: int64(o.Each)}
		if finish {
			p.Size = o.Can.Volume()
		}
		if len(priced) == 0 {
			p.Cost = p.Size
		}
		packs = append(packs, p)
	}
	times, _, ok := stock.Cover(need, packs)
	if !ok { // more than can be reckoned with: each job says so
		l.Supplier, l.From, l.Priced = "", "", false
		return open()
	}
	var list []Together
	for i, o := range fit {
		if times[i] == 0 {
			continue
		}
		x := l
		x.Supplier, x.From, x.Count, x.Each, x.Priced, x.Can, x.Pack = o.Supplier, o.From, times[i], o.Each, o.Priced, o.Can, o.Pack
		if finish {
			x.Pack = 0
		}
		list = append(list, x)
	}
	for i := range list {
		list[i].Of = len(list)
		list[i].ID = fmt.Sprintf("%s/%d", l.ID, i+1)
	}
	return list
}

// put adds a line to its supplier's order, with its amount worked out.
func (y *Yard) put(l Together, by string, byJob []string) {
	b := &y.Buying
	i := slices.IndexFunc(b.Orders, func(o Order) bool { return o.Supplier == l.Supplier })
	if i < 0 {
		i = len(b.Orders)
		b.Orders = append(b.Orders, Order{Supplier: l.Supplier, From: l.From, Whole: true})
	}
	o := &b.Orders[i]
	l.Amount = 0
	if l.Priced && l.Count > 0 {
		f := working.Work(l.ID, "what "+l.Title+" comes to in one order", "K", b.Sign,
			working.Product(working.Count("n", "how many are bought", int64(l.Count), source.Pos{}).Because("one order"), &working.Input{Symbol: "p", Name: "price of one", Value: l.Each.Number(), Unit: b.Sign, From: "price list of " + l.From}),
			working.Citation{Text: "price list", Status: working.Local})
		l.Amount, l.Figure = money.Of(f.Value), f.ID
		y.Figures = append(y.Figures, f)
	}
	o.Lines = append(o.Lines, l)
	switch {
	case by == "":
	case o.By == "" || by < o.By:
		o.By, o.ByJob = by, slices.Clone(byJob)
	case by == o.By:
		for _, name := range byJob {
			if !slices.Contains(o.ByJob, name) {
				o.ByJob = append(o.ByJob, name)
			}
		}
	}
}

// close adds up every order, and all of them. What nobody sells yet comes last.
func (y *Yard) close() {
	b := &y.Buying
	slices.SortStableFunc(b.Orders, func(x, y Order) int {
		last := func(o Order) int {
			if o.Supplier == "" {
				return 1
			}
			return 0
		}
		return cmp.Or(cmp.Compare(last(x), last(y)), cmp.Compare(x.Supplier, y.Supplier))
	})
	total := func(id, title, symbol string, terms []working.Expr) string {
		if len(terms) == 0 {
			return ""
		}
		y.Figures = append(y.Figures, working.Work(id, title, symbol, b.Sign, working.Total(terms), working.Citation{Text: "sum of its lines", Status: working.Derived}))
		return id
	}
	term := func(symbol string, n int, name string, m money.Money, id string) working.Expr {
		return &working.Input{Symbol: fmt.Sprintf("%s_%d", symbol, n+1), Name: name, Value: m.Number(), Unit: b.Sign, Figure: id}
	}
	var all []working.Expr
	for i := range b.Orders {
		o := &b.Orders[i]
		var terms []working.Expr
		for _, l := range o.Lines {
			o.Whole = o.Whole && l.Priced && l.Complete
			if l.Figure != "" {
				terms = append(terms, term("a", len(terms), l.Title, l.Amount, l.Figure))
				o.Known += l.Amount
			}
		}
		if o.Figure = total("ordering/sum/"+o.Supplier, "what one order from "+o.From+" comes to", "S", terms); o.Figure != "" {
			all = append(all, term("s", len(all), o.From, o.Known, o.Figure))
		}
		b.Known += o.Known
		b.Whole = b.Whole && o.Whole
	}
	b.Figure = total("ordering/sum", "what one order for all of them comes to", "T", all)
	b.Cheaper = b.Whole && b.Known < b.Alone
}
