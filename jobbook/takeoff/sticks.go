package takeoff

import (
	"cmp"
	"fmt"
	"slices"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/memo"
	"balustrade/jobbook/money"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff/stock"
	"balustrade/jobbook/working"
)

// Cutting is how all pieces of one part are cut from sticks.
type Cutting struct {
	ID     string // cutting/handrail/cherry-rail
	Kind   string
	Part   string
	Title  string
	Origin job.Origin
	Sticks []Stick // in the order they are numbered: those with the longest pieces first
	Stops  []Stop  // the same pieces by the stop they are cut at, the longest first: the fence is moved once for each

	Kerf, Trim length.Length // of a saw cut; off each end of a bought stick
	Rough      length.Length // what its pieces are cut longer than the cut list says
	Bevels     []StickBevel  // that its pieces are cut at as they come off the stick
	Priced     bool          // the least is of money; else, while a price is to be asked for, of the length bought
	Assumed    bool          // no supplier says in which lengths it is sold: the shop's usual ones are taken
	Cost       money.Money   // of what is bought
	Bound      money.Money   // no plan costs less than this
	Bought     length.Length // all bought sticks end to end
	LeastLong  length.Length // no plan buys less than this, where Priced is false
	Proven     bool          // cost and bound meet
	Steps      int           // of work that the search took
	Figure     string        // id of the working of what is bought; empty where nothing is
}

// Stick is one stick or offcut, with what is cut from it.
type Stick struct {
	N      int // from 1
	Long   length.Length
	Source StickSource
	From   Source // who sells it, or the file of the rack
	Price  job.Amount
	Pieces []StickPiece // the longest first
	Left   length.Length
	Made   int  // 1 and the index in MadeTake.Pieces of what it is, or was trimmed off; 0 for none
	Keep   bool // what is left is worth keeping
}

// StickSource is where a stick comes from. The zero value is invalid.
type StickSource int

// A stick is bought, came with a delivery, lies on the rack, or was made into a piece that goes nowhere any more.
const (
	FromSupplier StickSource = iota + 1
	FromDelivery
	FromRack
	FromMade // a piece that is made already, or what is trimmed off one
)

// Source names where something comes from, and the place where that is written.
type Source struct {
	Name  string // the supplier's or the rack's file name; empty where nobody sells it
	Title string
	At    source.Pos
}

// StickPiece is one piece cut from a stick.
type StickPiece struct {
	Piece int           // index in Takeoff.Pieces
	N     int           // which one of them, from 1
	Long  length.Length // as it comes off the stick, with what is left to be fitted
	Saw   length.Length // what its cut takes along the stick: the kerf, more where it is cut at an angle
	Bevel int           // 1 and the index in Cutting.Bevels of the angle that it is cut at; 0 for a square one
}

// Stop is one setting of the fence, and what is cut at it.
type Stop struct {
	Long length.Length
	Cuts []StopCut
}

// StopCut is what one stick gives at one stop.
type StopCut struct {
	Stick  int // its number
	Pieces []StickPiece
}

// stockable are the kinds of part that come as sticks.
var stockable = []string{"handrail", "shoe", "fillet"}

// offer is one size in which a part can be had.
type offer struct {
	*job.Offer
	supplier *job.Supplier
}

// offers are all ways in which a part is sold, in the order of the suppliers' files.
func offers(j *job.Job, kind, name string) (list []offer) {
	for _, s := range j.Suppliers {
		for i := range s.Offers {
			if o := &s.Offers[i]; o.Part.Text == name && (!o.Kind.Given || o.Kind.Text == kind) {
				list = append(list, offer{o, s})
			}
		}
	}
	return list
}

func (o offer) from() Source {
	return Source{o.supplier.Name, o.supplier.Title.Or(job.Text{Text: o.supplier.Name}).Text, o.At}
}

// unit is a piece, or all pieces of a run that are to come from one stick.
type unit struct {
	pieces []StickPiece
	long   length.Length // with the cuts between them, and what bevels take beyond a kerf
}

// cutting is the cutting plan of one part under way.
type cutting struct {
	*Cutting
	job    *job.Job
	pieces []layout.Cut
	sorts  []Stick // the sorts of stick there are
	counts []int   // how many of each; 0 for as many as wanted
	asked  int     // pieces
}

// sticks plans how the pieces of every part that comes as sticks are cut.
func (t *taking) sticks(l layout.Layout, all []layout.Cut) (list []Cutting) {
	for _, a := range t.accounts {
		if !slices.Contains(stockable, a.Kind) {
			continue
		}
		rough := t.job.Shop.Rough.Length // a fillet is cut to length at once
		if a.Kind == "fillet" {
			rough = 0
		}
		cut := func() *cutting { return t.cutting(l, all, a, rough) }
		c := t.better(a, cut)
		if c != nil {
			list = append(list, *c.Cutting)
		}
	}
	return list
}

// cutting plans how the pieces of one part are cut that are not made yet; nil where there are none.
func (t *taking) cutting(l layout.Layout, all []layout.Cut, a *account, rough length.Length) *cutting {
	taken := t.made.taken()
	var mine []StickPiece
	for i, c := range all {
		if kind(c) != a.Kind || c.Part != a.Part || c.Stick() <= 0 || bent(l, c) {
			continue
		}
		mine = slices.Grow(mine, c.Count)
		for n := range c.Count {
			if !taken[[2]int{i, n + 1}] {
				mine = append(mine, StickPiece{Piece: i, N: n + 1, Long: c.Stick() + rough})
			}
		}
	}
	if len(mine) == 0 {
		return nil
	}
	c := &cutting{Cutting: &Cutting{ID: "cutting/" + a.Kind + "/" + a.Part, Kind: a.Kind, Part: a.Part, Title: a.Title, Origin: a.Origin}, job: t.job, pieces: all, asked: len(mine)}
	c.Kerf, c.Trim, c.Rough = t.job.Shop.Kerf.Length, t.job.Shop.EndTrim.Length, rough
	c.bevels(t, l, mine)
	c.offer(t)
	units := c.units(t, l, mine)
	c.solve(t, units)
	t.sticksCame(c)
	return c
}

// bent reports a piece that follows a curve: it is made to its radius, not cut from a straight stick.
func bent(l layout.Layout, c layout.Cut) bool {
	r := run(l, c.Run)
	return r != nil && r.Curve != nil && (c.What == "handrail" || c.What == "shoe")
}

// bent lists the pieces that are made to a radius.
func (t *taking) bent(l layout.Layout, all []layout.Cut) (list []Bent) {
	for i, c := range all {
		if !bent(l, c) || c.Stick() <= 0 {
			continue
		}
		r := run(l, c.Run)
		b := Bent{Piece: i, Kind: c.What, Part: c.Part, Title: c.Title, Radius: r.Job.Radius, Long: c.Stick() + t.job.Shop.Rough.Length}
		for _, a := range t.accounts {
			if a.Kind == c.What && a.Part == c.Part {
				b.Origin = a.Origin
				b.Title = a.Title
			}
		}
		b.Title += ", bent for " + r.Title + " to a radius of " + t.tape(b.Radius.Length) + " at the balusters, " + t.tape(b.Long) + " along its middle"
		list = append(list, b)
	}
	return list
}

// offer collects the sorts of stick that the pieces can be cut from: what came, what lies on the rack, what is sold.
func (c *cutting) offer(t *taking) {
	j := t.job
	add := func(s Stick, count int) { c.sorts, c.counts = append(c.sorts, s), append(c.counts, count) }
	for _, r := range j.Racks {
		for _, o := range r.Offcuts {
			if o.Part.Text == c.Part && (!o.Kind.Given || o.Kind.Text == c.Kind) && o.Long.Given && o.N() > 0 {
				add(Stick{Long: o.Long.Length, Source: FromRack, From: Source{r.Name, r.Name, o.At}}, o.N())
			}
		}
	}
	for _, s := range t.freeSticks(c.Kind, c.Part) {
		add(s, 1)
	}
	var came []job.Measure
	for _, r := range j.Came(c.Kind, c.Part) {
		came = append(came, r.Sticks...)
	}
	whole := t.whole(c.Kind, c.Part, came)
	for _, x := range j.Deliveries {
		for _, r := range x.Items {
			if r.Part.Text != c.Part || r.Kind.Given && r.Kind.Text != c.Kind {
				continue
			}
			for _, m := range r.Sticks {
				if !slices.Contains(whole, m) { // by the place where it was written
					continue
				}
				add(Stick{Long: m.Length, Source: FromDelivery, From: Source{x.Name, x.Title.Or(job.Text{Text: x.Name}).Text, m.At}}, 1)
			}
		}
	}
	c.Priced = true
	sold := 0
	for _, o := range offers(j, c.Kind, c.Part) {
		if !o.Long.Given {
			if !o.Long.At.IsZero() {
				t.ask("the length of stick that "+o.supplier.Name+" sells "+c.Title+" in", o.supplier.File+", sells: {"+c.Part+": {long: }}", "how it is cut, and what to order", o.Long.At)
			}
			continue
		}
		sold++
		if !o.Price.Given {
			c.Priced = false
			at := o.Price.At
			if at.IsZero() {
				at = o.At
			}
			t.ask("the price of a "+t.tape(o.Long.Length)+" stick of "+c.Title+" from "+o.supplier.Name, o.supplier.File+", sells: {"+c.Part+": {price: }}", "which sticks are cheapest; until then the least length is bought", at)
		}
		add(Stick{Long: o.Long.Length, Source: FromSupplier, From: o.from(), Price: o.Price}, 0)
	}
	if sold > 0 {
		return
	}
	c.Priced, c.Assumed = false, true
	usual := j.Shop.Sticks
	if j.System == length.Millimetres {
		usual = j.Shop.SticksM
	}
	for _, m := range usual {
		add(Stick{Long: m.Length, Source: FromSupplier, From: Source{At: m.At}}, 0)
	}
	t.ask("who sells "+c.Title+", in which lengths and at which price", "a file of kind: supplier, sells: {"+c.Part+": {lengths: , per-foot: }}", "which sticks are cheapest; until then the usual lengths are taken", source.Pos{File: c.Origin.File})
}

// usable is what of a stick can be cut: a bought one loses its ends, and any the run-out of its first bevel, where the part has pieces cut at an angle.
func (c *cutting) usable(s Stick) length.Length {
	long := s.Long - c.RunOut()
	if s.Source == FromRack || s.Source == FromMade {
		return long
	}
	return long - 2*c.Trim
}

// units puts together the pieces of a run that are to come from one stick. Where they are longer than any, they are cut apart after all, and that is said.
func (c *cutting) units(t *taking, l layout.Layout, mine []StickPiece) (list []unit) {
	longest := length.Length(0)
	for _, s := range c.sorts {
		longest = max(longest, c.usable(s))
	}
	for _, r := range l.Runs {
		at := slices.IndexFunc(r.Job.OneStick, func(w job.Text) bool { return w.Text == c.Kind })
		if at < 0 {
			continue
		}
		var together unit
		rest := mine[:0:0]
		for _, p := range mine {
			if c.pieces[p.Piece].Run != r.Name {
				rest = append(rest, p)
				continue
			}
			if len(together.pieces) > 0 {
				together.long += c.Kerf
			}
			together.pieces, together.long = append(together.pieces, p), together.long+p.Long+p.Saw-c.Kerf
		}
		switch said := r.Job.OneStick[at]; {
		case len(together.pieces) == 0:
		case together.long > longest:
			t.findings = append(t.findings, finding.Finding{
				ID: "check/" + c.ID + "/one-stick/" + r.Name, Group: r.ID, Title: "the " + c.Kind + " of " + r.Title + " from one stick", Verdict: finding.Fail,
				Measured: together.long, HasValue: true, Op: finding.AtMost, Limit: longest, HasLimit: true, Margin: longest - together.long,
				Rules: "as asked for", At: said.At, Note: "its pieces are cut from several sticks in the plan",
				Cure: "ask for a longer stick, or take " + c.Kind + " out of one-stick: and match the sticks by eye",
			})
		default:
			mine, list = rest, append(list, together)
		}
	}
	list = slices.Grow(list, len(mine))
	for i, p := range mine {
		list = append(list, unit{mine[i : i+1 : i+1], p.Long + p.Saw - c.Kerf})
	}
	return list
}

// solve cuts the units from the sticks at least cost.
func (c *cutting) solve(t *taking, units []unit) {
	// Units of one length are alike.
	slices.SortStableFunc(units, func(a, b unit) int { return cmp.Compare(b.long, a.long) })
	p := stock.Problem{Kerf: int64(c.Kerf)}
	var waiting [][]unit // of each item, those not placed yet: a part of the list
	for i, u := range units {
		if n := len(p.Items); n > 0 && p.Items[n-1].Length == int64(u.long) {
			p.Items[n-1].Count++
			waiting[n-1] = waiting[n-1][:p.Items[n-1].Count]
			continue
		}
		p.Items, waiting = append(p.Items, stock.Item{Length: int64(u.long), Count: 1}), append(waiting, units[i:i+1])
	}
	for i, s := range c.sorts {
		cost := int64(0)
		switch {
		case s.Source != FromSupplier:
		case c.Priced:
			cost = int64(s.Price.Money)
		default:
			cost = int64(s.Long)
		}
		p.Sticks = append(p.Sticks, stock.Stick{Length: max(int64(c.usable(s)), 0), Cost: cost, Count: c.counts[i]})
	}
	plan, err := cutPlan(p)
	if err != nil {
		t.findings = append(t.findings, finding.Finding{ID: "check/" + c.ID, Group: "cutting", Title: "how " + c.Title + " is cut from sticks", Verdict: finding.ToBeMeasured, Note: err.Error(), At: source.Pos{File: c.Origin.File}})
		return
	}
	c.Proven, c.Steps = plan.Proven, plan.Steps
	for _, cut := range plan.Cuts {
		for range cut.Times {
			s := c.sorts[cut.Stick]
			s.Left = length.Length(cut.Left)
			s.Keep = s.Left >= c.job.Shop.Keep.Length && s.Left > 0
			s.Pieces = make([]StickPiece, 0, len(cut.Items))
			for _, item := range cut.Items {
				u := waiting[item][0]
				waiting[item] = waiting[item][1:]
				s.Pieces = append(s.Pieces, u.pieces...)
			}
			if c.RunOut() > 0 && c.Lost(s) == 0 { // nothing runs out on a stick of square pieces
				s.Left = c.usable(s) + c.RunOut()
				for _, p := range s.Pieces {
					s.Left -= p.Long + p.Saw
				}
				s.Left = max(s.Left, 0)
				s.Keep = s.Left >= c.job.Shop.Keep.Length && s.Left > 0
			}
			slices.SortStableFunc(s.Pieces, func(a, b StickPiece) int {
				return cmp.Or(cmp.Compare(b.Long, a.Long), cmp.Compare(a.Piece, b.Piece), cmp.Compare(a.N, b.N))
			})
			c.Sticks = append(c.Sticks, s)
		}
	}
	c.number()
	c.tooLong(t, plan, waiting)
	c.total(t, plan)
}

// cutPlans are those found so far, in whatever job: an alternative, or a save later, mostly cuts the same pieces from the same sticks.
var cutPlans = memo.New[foundPlan](256)

type foundPlan struct {
	plan stock.Plan
	err  error
}

// cutPlan is stock.Solve, worked out once. Nobody writes to the plan.
func cutPlan(p stock.Problem) (stock.Plan, error) {
	k := memo.KeyOf(3 + 2*len(p.Items) + 3*len(p.Sticks))
	k.Int(p.Kerf)
	k.Int(int64(p.Steps))
	k.Int(int64(len(p.Items)))
	for _, item := range p.Items {
		k.Int(item.Length)
		k.Int(int64(item.Count))
	}
	for _, s := range p.Sticks {
		k.Int(s.Length)
		k.Int(s.Cost)
		k.Int(int64(s.Count))
	}
	found := cutPlans.Get(k, func() foundPlan { plan, err := stock.Solve(p); return foundPlan{plan, err} })
	return found.plan, found.err
}

// number puts the sticks in order, those with the longest pieces first, and lists their pieces by the stop of the saw.
func (c *cutting) number() {
	slices.SortStableFunc(c.Sticks, func(a, b Stick) int {
		return cmp.Or(
			slices.CompareFunc(a.Pieces, b.Pieces, func(x, y StickPiece) int { return cmp.Compare(y.Long, x.Long) }),
			cmp.Compare(b.Long, a.Long), cmp.Compare(a.Source, b.Source),
			slices.CompareFunc(a.Pieces, b.Pieces, func(x, y StickPiece) int { return cmp.Or(cmp.Compare(x.Piece, y.Piece), cmp.Compare(x.N, y.N)) }),
		)
	})
	at := map[length.Length]int{}
	for i := range c.Sticks {
		s := &c.Sticks[i]
		s.N = i + 1
		used := s.Left
		for _, p := range s.Pieces {
			used += p.Long
			k, ok := at[p.Long]
			if !ok {
				k = len(c.Stops)
				at[p.Long] = k
				c.Stops = append(c.Stops, Stop{Long: p.Long})
			}
			stop := &c.Stops[k]
			if n := len(stop.Cuts); n == 0 || stop.Cuts[n-1].Stick != s.N {
				stop.Cuts = append(stop.Cuts, StopCut{Stick: s.N})
			}
			last := &stop.Cuts[len(stop.Cuts)-1]
			last.Pieces = append(last.Pieces, p)
		}
	}
	slices.SortStableFunc(c.Stops, func(a, b Stop) int { return cmp.Compare(b.Long, a.Long) })
}

// tooLong says of every piece that no stick is long enough for what would cure it.
func (c *cutting) tooLong(t *taking, plan stock.Plan, waiting [][]unit) {
	longest := length.Length(0)
	for _, s := range c.sorts {
		longest = max(longest, c.usable(s))
	}
	said := map[int]bool{}
	for _, i := range plan.TooLong {
		for _, u := range waiting[i] {
			piece := c.pieces[u.pieces[0].Piece]
			if said[u.pieces[0].Piece] {
				continue
			}
			said[u.pieces[0].Piece] = true
			group, whose := "job", ""
			for _, r := range c.job.Runs {
				if r.Name == piece.Run {
					group = "run/" + r.Name
					whose = " of " + r.Title.Or(job.Text{Text: r.Name}).Text
				}
			}
			f := finding.Finding{
				ID: fmt.Sprintf("check/%s/too-long/%d", c.ID, u.pieces[0].Piece+1), Group: group, Title: piece.What + whose + ", longest stick to be had", Verdict: finding.Fail,
				Measured: u.long, HasValue: true, Op: finding.AtMost, Limit: longest, HasLimit: len(c.sorts) > 0, Margin: longest - u.long,
				Rules: "what is sold", At: source.Pos{File: c.Origin.File}, Figure: piece.Figure,
				Cure: "have a longer stick made, or plan a joint in it",
			}
			if c.Assumed {
				f.Verdict, f.Note = finding.ToBeMeasured, "nobody says yet in which lengths it is sold; these are the shop's usual ones"
			}
			if piece.What == "handrail" {
				f.Cure = "have a longer stick made, or plan a joint: joints: in the run"
			}
			if len(c.sorts) > 0 && longest < shortStick {
				f.Cure = "write the lengths in which it is sold with their unit: 16' is sixteen feet, a bare 16 is not"
			}
			t.findings = append(t.findings, f)
		}
	}
}

// shortStick is a stick so short that its length was probably meant in feet or metres: nobody sells rail by the two feet (common practice, no source).
const shortStick = 2 * length.Foot

// total works out what is bought, and prints the bound beside it.
func (c *cutting) total(t *taking, plan stock.Plan) {
	type sort struct {
		long length.Length
		at   source.Pos
	}
	var sorts []sort
	count := map[sort]int{}
	price := map[sort]Stick{}
	for _, s := range c.Sticks {
		if s.Source != FromSupplier {
			continue
		}
		k := sort{s.Long, s.From.At}
		if count[k] == 0 {
			sorts = append(sorts, k)
		}
		count[k]++
		price[k] = s
		c.Bought += s.Long
	}
	if c.Priced {
		c.Cost, c.Bound = money.Money(plan.Cost), money.Money(plan.Bound)
	} else {
		c.LeastLong = length.Length(plan.Bound)
	}
	if len(sorts) == 0 {
		return
	}
	slices.SortStableFunc(sorts, func(a, b sort) int { return cmp.Compare(b.long, a.long) })
	var terms []working.Expr
	for i, k := range sorts {
		n := working.Count(fmt.Sprintf("n_%d", i+1), "sticks of "+t.tape(k.long), int64(count[k]), source.Pos{}).Because("cutting plan")
		var each working.Expr
		if c.Priced {
			each = t.money(fmt.Sprintf("p_%d", i+1), "price of one", price[k].Price)
		} else {
			each = working.Length(fmt.Sprintf("l_%d", i+1), "length of one", k.long, t.job.System, k.at)
		}
		terms = append(terms, working.Product(n, each))
	}
	title, unit, symbol := "what the sticks of "+c.Title+" cost", t.job.Shop.Currency.Text, "K"
	if !c.Priced {
		title, unit, symbol = "sticks of "+c.Title+" end to end, as bought", t.job.System.String(), "S"
	}
	f := working.Work(c.ID, title, symbol, unit, working.Total(terms), working.Citation{Text: "cutting plan", Status: working.Derived})
	switch {
	case plan.Proven:
		f.Note = "Proven least: no way of cutting them costs less."
	default:
		f.Note = "The best that was found. No way of cutting them comes to less than " + c.boundWords(t) + "."
	}
	if len(c.Bevels) > 0 {
		f.Note += " Cuts at an angle are reckoned as they lie along the stick, and a stick with such pieces loses " + t.tape(c.RunOut()) + ", where the first one runs out; none is filled nearer than that."
	}
	if !c.Priced {
		f.Note += " Reckoned by length, until the prices are known."
	}
	t.figures = append(t.figures, f)
	c.Figure = f.ID
}

func (c *cutting) boundWords(t *taking) string {
	if c.Priced {
		return t.job.Shop.Currency.Text + c.Bound.String()
	}
	return t.tape(c.LeastLong)
}
