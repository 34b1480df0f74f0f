package takeoff

import (
	"cmp"
	"slices"
	"strconv"
	"time"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff/stock"
	"balustrade/jobbook/working"
)

// Buying is everything that is bought, by supplier.
type Buying struct {
	Orders   []Order // in the order of the suppliers' files; what nobody sells yet comes last
	Known    money.Money
	Complete bool   // every line has its price, and every part is counted
	Figure   string // id of the working of Known
	OnHand   []Hand // what is not bought, because it is there
	Figures  []*working.Figure
	Asks     []finding.Reading // sizes, prices and times still to be asked
	Unknown  []string          // names in the shop's price lists that no part here has
}

// WithoutWorking is the same without the ids of its figures, for a plan that does not have them.
func (b Buying) WithoutWorking() Buying {
	b.Orders = slices.Clone(b.Orders)
	for i := range b.Orders {
		b.Orders[i].Figure = ""
	}
	b.Figure, b.Figures = "", nil
	return b
}

// Order is what is bought from one supplier.
type Order struct {
	Supplier Source // without a name where nobody sells it yet
	Lines    []Line
	Known    money.Money // sum of the lines that have a price
	Complete bool
	Lead     job.Whole // days, of the line that takes longest
	By       string    // day to order by, as 2026-11-20; empty while the day of need or a lead time is not known
	Figure   string    // id of the working of Known; empty where no line has a price
}

// Line is so many packs, sticks or cans of one size.
type Line struct {
	ID     string
	Kind   string // as of Need, or finish, or supply
	Part   string
	Title  string
	Coat   string // of a finish
	Origin job.Origin

	Count  int // packs, sticks or cans
	Pack   int // pieces in one; 0 for sticks and cans
	Long   length.Length
	Can    job.Ratio
	Needed int          // pieces that the job needs, of parts bought by the piece
	Spare  int          // more, by the shop's rule
	Held   int          // of both, those on hand
	Volume exact.Number // needed, of a finish that nobody sells yet, in the job's unit

	Each     job.Amount
	Amount   money.Money // Count times Each
	Lead     job.Whole
	Complete bool   // every run that uses the part is counted
	Figure   string // id of the working of Amount; empty without a price
}

// Hand is what is on hand of one part, and used.
type Hand struct {
	Kind, Part, Title string
	Pieces            int           // used, of those there are
	Of                int           // there are
	Long              length.Length // of an offcut or stick
	Volume            job.Ratio     // of a can
	Poured            int64         // of what is in the can, in the unit of job.Ratio.Volume
	From              Source
}

type buying struct {
	*taking
	out      Buying
	finishes finish.Finishing
	orders   map[string]*Order
	names    []string
}

// Buy lists what to buy for a job that was taken off: sticks as the cutting plan has them, packs and cans at least cost, by supplier. Amounts are
// in hundredths of the shop's currency; each is count times price, and each sum that of its lines.
func Buy(j *job.Job, t Takeoff, f finish.Finishing) Buying {
	b := &buying{taking: &taking{job: j, asks: slices.Clone(t.Asks), made: t.Made}, finishes: f, orders: map[string]*Order{}}
	for _, s := range j.Suppliers {
		b.order(Source{s.Name, s.Title.Or(job.Text{Text: s.Name}).Text, source.Pos{File: s.File}})
	}
	for _, n := range t.Needs {
		if i := slices.IndexFunc(t.Cuttings, func(c Cutting) bool { return c.Kind == n.Kind && c.Part == n.Part }); i >= 0 {
			b.sticks(n, &t.Cuttings[i])
		} else if !slices.Contains(stockable, n.Kind) {
			b.pieces(n)
		}
	}
	for _, x := range t.Bent {
		if t.Made.At(x.Piece, 1) != nil || j.BentCame(x.Kind, x.Part, t.Pieces[x.Piece].Run) {
			continue
		}
		b.ask("who bends "+x.Title+", and at which price", "a maker of bent rails", "what it costs, when to order", source.Pos{File: x.Origin.File})
		b.add(Source{}, Line{Kind: x.Kind, Part: x.Part, Title: x.Title, Origin: x.Origin, Count: 1, Pack: 1, Needed: 1, Complete: true})
	}
	b.coats()
	b.supplies()
	b.close()
	return b.out
}

func (b *buying) order(s Source) *Order {
	if o := b.orders[s.Name]; o != nil {
		return o
	}
	b.names = append(b.names, s.Name)
	b.orders[s.Name] = &Order{Supplier: s, Complete: true}
	return b.orders[s.Name]
}

// add puts a line on its supplier's order, with its amount worked out.
func (b *buying) add(s Source, l Line) {
	o := b.order(s)
	l.ID = "buy/" + l.Kind + "/" + l.Part + "/" + strconv.Itoa(1+b.lines(l.Kind, l.Part))
	if l.Each.Given && l.Count > 0 {
		f := working.Work(l.ID, "what "+l.Title+" comes to", "K", b.job.Shop.Currency.Text,
			working.Product(working.Count("n", "how many are bought", int64(l.Count), source.Pos{}).Because("buying list"), b.money("p", "price of one", l.Each)),
			working.Citation{Text: "price list", Status: working.Local})
		l.Amount, l.Figure = money.Of(f.Value), l.ID
		b.out.Figures = append(b.out.Figures, f)
	}
	o.Lines = append(o.Lines, l)
}

func (b *buying) lines(kind, part string) (n int) {
	for _, o := range b.orders {
		for i := range o.Lines {
			if l := &o.Lines[i]; l.Kind == kind && l.Part == part {
				n++
			}
		}
	}
	return n
}

// lead is how long an offer takes to come.
func (o offer) lead() job.Whole {
	if o.Lead.Given {
		return o.Lead
	}
	return o.supplier.Lead
}

// sticks buys what the cutting plan of a part says.
func (b *buying) sticks(n Need, c *Cutting) {
	type sort struct {
		name string
		at   source.Pos
		long length.Length
	}
	var sorts []sort
	of := map[sort][]Stick{}
	for _, s := range c.Sticks {
		if s.Source == FromMade {
			continue // it is told with the pieces that are made
		}
		if s.Source != FromSupplier {
			b.out.OnHand = append(b.out.OnHand, Hand{Kind: c.Kind, Part: c.Part, Title: c.Title, Pieces: 1, Of: 1, Long: s.Long, From: s.From})
			continue
		}
		k := sort{s.From.Name, s.From.At, s.Long}
		if of[k] == nil {
			sorts = append(sorts, k)
		}
		of[k] = append(of[k], s)
	}
	slices.SortStableFunc(sorts, func(x, y sort) int { return cmp.Compare(y.long, x.long) })
	all := offers(b.job, c.Kind, c.Part)
	for _, k := range sorts {
		s := of[k][0]
		l := Line{Kind: c.Kind, Part: c.Part, Title: c.Title, Origin: c.Origin, Count: len(of[k]), Long: k.long, Each: s.Price, Complete: n.Complete}
		for _, o := range all {
			if o.supplier.Name == k.name {
				l.Lead = o.lead()
			}
		}
		b.add(s.From, l)
	}
}

// pieces buys a part by the piece, in packs at least cost.
func (b *buying) pieces(n Need) {
	held := 0
	for _, r := range b.job.Racks {
		for _, h := range r.Pieces {
			if h.Part.Text == n.Part && (!h.Kind.Given || h.Kind.Text == n.Kind) && h.Count.N > 0 {
				use := min(h.Count.N, n.Order-held)
				held += use
				if use > 0 {
					b.out.OnHand = append(b.out.OnHand, Hand{Kind: n.Kind, Part: n.Part, Title: n.Title, Pieces: use, Of: h.Count.N, From: Source{r.Name, r.Name, h.At}})
				}
			}
		}
	}
	used := b.made.Used(n.Kind, n.Part)
	cut := b.made.Of(n.Kind, n.Part) // of what came
	if used > 0 {
		i := slices.IndexFunc(b.made.Pieces, func(x Made) bool { return x.Of.Ware() == n.Kind && x.Of.Part.Text == n.Part })
		at := b.made.Pieces[i].Of.At
		b.out.OnHand = append(b.out.OnHand, Hand{Kind: n.Kind, Part: n.Part, Title: n.Title + ", made already", Pieces: used, Of: cut, From: Source{"made", "already made", at}})
	}
	came, delivered := 0, false
	for _, x := range b.job.Deliveries {
		for _, r := range x.Items {
			if r.Part.Text == n.Part && (!r.Kind.Given || r.Kind.Text == n.Kind) && r.Count.Given {
				left := r.Usable() - min(cut, r.Usable())
				cut -= r.Usable() - left
				came, delivered = came+left, delivered || r.Usable() > 0
				b.out.OnHand = append(b.out.OnHand, Hand{Kind: n.Kind, Part: n.Part, Title: n.Title, Pieces: left, Of: r.Count.N, From: Source{x.Name, x.Name, r.At}})
			}
		}
	}
	line := Line{Kind: n.Kind, Part: n.Part, Title: n.Title, Origin: n.Origin, Needed: n.Count, Spare: n.Spare, Held: held + used, Complete: n.Complete}
	want := n.Order - held - used
	if delivered { // spares are for what breaks on the way and in the shop: once it is here, what the job needs has to be there
		line.Spare, line.Held = 0, held+came+used
		want = n.Count - held - came - used
	}
	if want <= 0 {
		return
	}
	var fit []offer
	for _, o := range offers(b.job, n.Kind, n.Part) {
		if o.Long.Given && n.Bought > 0 && o.Long.Length != n.Bought {
			b.ask("whether "+n.Title+" that "+o.supplier.Name+" sells, "+b.tape(o.Long.Length)+" long, is this part: it is "+b.tape(n.Bought)+" here", o.supplier.File+", sells: {"+n.Part+": {long: }}", "what to order", o.Long.At)
			continue
		}
		fit = append(fit, o)
	}
	b.cover(line, int64(want), fit, func(o offer) int64 { return int64(o.Count()) }, func(l *Line, o offer) { l.Pack = o.Count() })
}

// cover buys at least so much of something in the sizes that it is sold in: at least cost where the prices are known, else with least left over.
func (b *buying) cover(line Line, need int64, list []offer, size func(offer) int64, shape func(*Line, offer)) {
	var priced []offer
	for _, o := range list {
		if o.Price.Given {
			priced = append(priced, o)
			continue
		}
		at := o.Price.At
		if at.IsZero() {
			at = o.At
		}
		b.ask("the price of "+line.Title+" from "+o.supplier.Name, o.supplier.File+", sells: {"+line.Part+": {price: }}", "what it costs", at)
	}
	if len(priced) > 0 {
		list = priced
	}
	open := func() { // on the list, by whoever it will be
		line.Count, line.Pack = int(need), 1
		if line.Kind == "finish" {
			line.Count, line.Pack = 0, 0
		}
		b.add(Source{}, line)
	}
	if len(list) == 0 {
		b.ask("who sells "+line.Title+", and at which price", "a file of kind: supplier, sells: {"+line.Part+": {price: }}", "what it costs, when to order", source.Pos{File: line.Origin.File})
		open()
		return
	}
	packs := make([]stock.Pack, 0, len(list))
	for _, o := range list {
		p := stock.Pack{Size: size(o), Cost: int64(o.Price.Money)}
		if len(priced) == 0 {
			p.Cost = p.Size
		}
		packs = append(packs, p)
	}
	times, _, ok := stock.Cover(need, packs)
	if !ok {
		b.ask("how many of "+line.Title+" to buy, and in which sizes: what is needed, or a size that "+list[0].supplier.Name+" sells, is more than can be reckoned with", list[0].supplier.File+", sells: {"+line.Part+": }", "what to order, what it costs", list[0].At)
		open()
		return
	}
	for i, o := range list {
		if times[i] == 0 {
			continue
		}
		l := line
		l.Count, l.Each, l.Lead = times[i], o.Price, o.lead()
		shape(&l, o)
		b.add(o.from(), l)
	}
}

// pour takes what is needed from what a line of a rack or of a delivery says is there, and is how much that is.
func (b *buying) pour(at source.Pos, there, need int64, used map[source.Pos]int64, hand Hand) int64 {
	take := min(there-used[at], need)
	if take <= 0 {
		return 0
	}
	used[at] += take
	hand.Poured = take
	b.out.OnHand = append(b.out.OnHand, hand)
	return take
}

// coats buys every coat of every finish in cans, all groups of parts together.
func (b *buying) coats() {
	type can struct {
		finish *job.Finish
		coat   string
		need   exact.Number // in the job's unit
		known  bool
	}
	var cans []*can
	for _, g := range b.finishes.Groups {
		for _, c := range g.Coats {
			name := c.Coat.Name.Or(job.Text{Text: "coat"}).Text
			i := slices.IndexFunc(cans, func(x *can) bool { return x.finish == g.Finish && x.coat == name })
			if i < 0 {
				i = len(cans)
				cans = append(cans, &can{g.Finish, name, exact.Of(0), true})
			}
			if c.OnAll {
				continue
			}
			if c.Volume == nil || !c.Volume.Value.Known() {
				cans[i].known = false
				continue
			}
			cans[i].need = cans[i].need.Add(c.Volume.Value)
		}
	}
	_, size := job.VolumeUnit(b.job.System)
	one := exact.Of(size)
	used := map[source.Pos]int64{} // of what is on hand, by the line that says so: a can without a coat serves one coat after the other, but only once
	for _, c := range cans {
		need := roundUp(c.need.Mul(one))
		title := c.coat + ", " + c.finish.Title.Or(job.Text{Text: c.finish.Name}).Text
		for _, r := range b.job.Racks {
			for _, h := range r.Cans {
				if h.Finish.Text == c.finish.Name && (!h.Coat.Given || h.Coat.Text == c.coat) && h.Left.Given && need > 0 {
					hand := Hand{Kind: "finish", Part: c.finish.Name, Title: title, Volume: h.Left, From: Source{r.Name, r.Name, h.At}}
					need -= b.pour(h.At, h.Left.Volume()-h.Gone, need, used, hand)
				}
			}
		}
		for _, x := range b.job.Deliveries {
			for _, r := range x.Items {
				if r.Part.Text == c.finish.Name && r.Can.Given && (!r.Coat.Given || r.Coat.Text == c.coat) && need > 0 {
					hand := Hand{Kind: "finish", Part: c.finish.Name, Title: title, Pieces: r.Usable(), Of: r.Count.N, Volume: r.Can, From: Source{x.Name, x.Name, r.At}}
					can := r.Can.Volume()
					cans := min(int64(r.Usable()), (need+used[r.At])/can+1) // more are not needed, and would not go into a whole number
					need -= b.pour(r.At, cans*can, need, used, hand)
				}
			}
		}
		if need <= 0 {
			continue
		}
		var fit []offer
		for _, o := range offers(b.job, "finish", c.finish.Name) {
			switch {
			case o.Coat.Given && o.Coat.Text != c.coat:
			case !o.Can.Given:
				b.ask("the size of can that "+o.supplier.Name+" sells "+title+" in", o.supplier.File+", sells: {"+c.finish.Name+": {can: }}", "how many to buy", o.At)
			default:
				fit = append(fit, o)
			}
		}
		line := Line{Kind: "finish", Part: c.finish.Name, Title: title, Coat: c.coat, Origin: c.finish.Origin, Complete: c.known, Volume: exact.Of(need).Quo(one)}
		b.cover(line, need, fit, func(o offer) int64 { return o.Can.Volume() }, func(l *Line, o offer) { l.Can = o.Can })
	}
}

// supplies buys what coating uses up from whoever sells it. What nobody sells comes off the shelf, and is part of what the shop counts as overhead: it is no open price.
func (b *buying) supplies() {
	for _, s := range b.finishes.Supplies {
		if len(offers(b.job, "supply", s.Name)) == 0 {
			continue
		}
		b.pieces(Need{Kind: "supply", Part: s.Name, Title: s.Title, Count: s.Count, Order: s.Count, Complete: true, Origin: job.Origin{Name: s.Name, File: s.At.File}})
	}
}

// roundUp is the smallest whole number that is no less, or the largest that there is.
func roundUp(r exact.Number) int64 {
	return int64(length.Rounded(r, length.Nanometre, length.Up)) // a plain whole number, not a length
}

// close adds up every order, and all of them.
func (b *buying) close() {
	b.out.Complete = true
	var all []working.Expr
	for _, name := range b.names {
		o := b.orders[name]
		if len(o.Lines) == 0 {
			continue
		}
		var terms []working.Expr
		known := true // every lead time is
		for _, l := range o.Lines {
			if l.Figure != "" {
				terms = append(terms, b.amount("a_"+strconv.Itoa(len(terms)+1), l.Title, l.Amount, l.Figure))
				o.Known += l.Amount
			}
			o.Complete = o.Complete && l.Each.Given && l.Complete
			known = known && l.Lead.Given
			if l.Lead.Given && (!o.Lead.Given || l.Lead.N > o.Lead.N) {
				o.Lead = l.Lead
			}
		}
		if known {
			o.By = before(b.job.Wanted, o.Lead.N)
		} else if name != "" {
			b.ask("how many days "+o.Supplier.Title+" takes to deliver", o.Supplier.At.File+", lead: ", "the day to order by", source.Pos{File: o.Supplier.At.File})
		}
		if len(terms) > 0 {
			o.Figure = "buy/" + o.Supplier.Name
			b.out.Figures = append(b.out.Figures, working.Work(o.Figure, "what is bought from "+o.Supplier.Title, "S", b.job.Shop.Currency.Text, working.Total(terms), summedLines))
			all = append(all, b.amount("s_"+strconv.Itoa(len(all)+1), o.Supplier.Title, o.Known, o.Figure))
		}
		b.out.Known += o.Known
		b.out.Complete = b.out.Complete && o.Complete
		b.out.Orders = append(b.out.Orders, *o)
	}
	if len(all) > 0 {
		b.out.Figure = "buy"
		b.out.Figures = append(b.out.Figures, working.Work("buy", "what is bought, all together", "T", b.job.Shop.Currency.Text, working.Total(all), summedLines))
	}
	if len(b.out.Orders) > 0 && !b.job.Wanted.Given {
		b.ask("the day by which the goods are to be there", b.job.File+", wanted: ", "the day to order by", cmpPos(b.job.Wanted.At, b.job.File))
	}
	for _, s := range b.job.Suppliers {
		for _, o := range s.Offers {
			if len(b.job.Wares(o.Part.Text)) == 0 && !slices.Contains(b.out.Unknown, o.Part.Text) {
				b.out.Unknown = append(b.out.Unknown, o.Part.Text)
			}
		}
	}
	b.out.Asks = b.asks
}

var summedLines = working.Citation{Text: "sum of its lines", Status: working.Derived}

func (b *buying) amount(symbol, name string, m money.Money, figure string) *working.Input {
	return &working.Input{Symbol: symbol, Name: name, Value: m.Number(), Unit: b.job.Shop.Currency.Text, Figure: figure}
}

func cmpPos(at source.Pos, file string) source.Pos {
	if at.IsZero() {
		return source.Pos{File: file}
	}
	return at
}

// before is the day so many days before another; empty while that is not known.
func before(day job.Text, days int) string {
	at, err := time.Parse(time.DateOnly, day.Text)
	if err != nil || !day.Given {
		return ""
	}
	return at.AddDate(0, 0, -days).Format(time.DateOnly)
}
