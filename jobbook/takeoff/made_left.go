package takeoff

import (
	"cmp"
	"fmt"
	"slices"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// freeSticks are made pieces, and what is trimmed off others, that pieces of a part can be cut from: straight ones that are not coated, less what bevels and bores spoil.
func (t *taking) freeSticks(kind, part string) (list []Stick) {
	for i := range t.made.Pieces {
		x := &t.made.Pieces[i]
		m := x.Of
		if m.Ware() != kind || m.Part.Text != part {
			continue
		}
		s := Stick{Source: FromMade, From: Source{m.Mark.Text, m.Mark.Text, m.At}, Made: i + 1}
		switch {
		case x.Fate == Trimmed:
			s.Long = x.way.spare
		case x.Fate == 0 || x.Fate == Left:
			s.Long = t.cleanLength(m)
		}
		if s.Long > 0 {
			list = append(list, s)
		}
	}
	return list
}

// cleanLength is how much of a piece can be cut into others.
func (t *taking) cleanLength(m *job.Made) length.Length {
	if !m.Long.Given || m.Radius.Given || len(m.Holes) > 0 || m.Finish.Given || m.Lost.Yes || m.Skew.From.Given || m.Skew.To.Given {
		return 0
	}
	long := m.Long.Length
	wide, high := t.sectionOf(m)
	within := t.job.Shop.Within.Length
	if m.Wide.Given && wide.Given && differs(m.Wide.Length, wide.Length, within) || m.High.Given && high.Given && differs(m.High.Length, high.Length, within) {
		return 0 // it is not what the part is now
	}
	if bevels := [2]int64{m.Lower.Thousandths, m.Upper.Thousandths}; bevels != [2]int64{} {
		if high = m.High.Or(high); !high.Given {
			return 0
		}
		long -= runOut(high.Length, bevels[0]) + runOut(high.Length, bevels[1])
	}
	for _, e := range []job.Measure{m.Bored.From, m.Bored.To} {
		if e.At.IsZero() {
			continue
		}
		off, ok := clean(m.Bolted)
		if !ok {
			return 0
		}
		long -= off
	}
	return max(long, 0)
}

// sectionOf is the section of the part that a rail, a shoe or a fillet was made of, as the part is now.
func (t *taking) sectionOf(m *job.Made) (wide, high job.Measure) {
	switch m.Ware() {
	case "handrail":
		for _, h := range t.job.Handrails {
			if h.Name == m.Part.Text {
				return h.Wide, h.High
			}
		}
	case "shoe":
		for _, s := range t.job.Shoes {
			if s.Name == m.Part.Text {
				return s.Wide, s.High
			}
		}
	case "fillet":
		for _, f := range t.job.Fillets {
			if f.Name == m.Part.Text {
				return f.Wide, f.Thick
			}
		}
	}
	return wide, high
}

// closeMade says what becomes of the rest once everything is cut.
func (t *taking) closeMade(cuttings []Cutting) {
	used := map[int]*Stick{}
	for i := range cuttings {
		for k := range cuttings[i].Sticks {
			if s := &cuttings[i].Sticks[k]; s.Made > 0 {
				used[s.Made-1] = s
			}
		}
	}
	var terms []working.Expr
	for i := range t.made.Pieces {
		x := &t.made.Pieces[i]
		keep := t.job.Shop.Keep.Length
		if s := used[i]; s != nil {
			if s.Keep {
				x.Rest = s.Left
			}
			if x.Fate != Trimmed {
				x.Fate = Recut
			}
			x.Cuts = s.Pieces
			continue
		}
		if x.Fate == Trimmed && x.way.spare >= keep && x.way.spare > 0 {
			x.Rest = x.way.spare
		}
		if x.Fate == 0 && x.Why == "" { // taken out of its place with the others that are cut up, and cut up itself after all not
			x.Why = "it costs less to cut others than to trim it"
		}
		if x.Fate == 0 && slices.Contains(stockable, x.Of.Ware()) {
			if long := t.cleanLength(x.Of); long >= keep && long > 0 {
				x.Fate, x.Rest = ToRack, long
			}
		}
		if x.Fate == 0 {
			x.Fate = Lost
		}
		if x.Fate != Lost {
			continue
		}
		t.made.Lost++
		t.cost(x)
		if !x.Cost.Given {
			t.made.Unpriced++
			continue
		}
		t.made.Cost += x.Cost.Money
		terms = append(terms, t.fromFigure(fmt.Sprintf("k_%d", len(terms)+1), x))
	}
	if len(terms) > 0 {
		f := working.Work("made/lost", "material in the pieces that are lost", "K", t.job.Shop.Currency.Text, working.Total(terms), working.Citation{Text: "price list", Status: working.Local})
		if t.made.Unpriced > 0 {
			f.Note = "As far as prices are known."
		}
		t.figures = append(t.figures, f)
		t.made.Figure = f.ID
	}
}

func (t *taking) fromFigure(symbol string, x *Made) *working.Input {
	in := t.money(symbol, x.Of.Mark.Text, x.Cost)
	in.At, in.Figure = source.Pos{}, x.Figure
	return in
}

// cost is what the material in a lost piece costs, at the lowest price by length, or by the piece, of those that are known.
func (t *taking) cost(x *Made) {
	m := x.Of
	sticks := slices.Contains(stockable, m.Ware())
	var best *offer
	list := offers(t.job, m.Ware(), m.Part.Text)
	less := func(a, b offer) bool { // per length or per piece, multiplied out
		if sticks {
			x := a.Price.Number().Mul(b.Long.Length.In(length.Millimetres))
			return x.Cmp(b.Price.Number().Mul(a.Long.Length.In(length.Millimetres))) < 0
		}
		return int64(a.Price.Money)*int64(b.Count()) < int64(b.Price.Money)*int64(a.Count())
	}
	for i := range list {
		o := list[i]
		if !o.Price.Given || sticks && (!o.Long.Given || !m.Long.Given) {
			continue
		}
		if best == nil || less(o, *best) {
			best = &list[i]
		}
	}
	if best == nil {
		return
	}
	price := t.money("p", "price of one", best.Price)
	var e working.Expr
	if sticks {
		e = working.Quotient(working.Product(price, working.Length("l", "its length", m.Long.Length, t.job.System, m.Long.At)), working.Length("s", "length of that stick", best.Long.Length, t.job.System, best.Long.At))
	} else {
		e = working.Quotient(price, working.Count("n", "pieces for it", int64(best.Count()), best.At))
	}
	f := working.Work("made/"+m.Mark.Text+"/"+fmt.Sprint(t.lines(m)), "material in "+m.Mark.Text+", which is lost", "K", t.job.Shop.Currency.Text, e, working.Citation{Text: "price list", Status: working.Local})
	t.figures = append(t.figures, f)
	x.Cost, x.Figure = job.Amount{Money: money.Of(f.Value), Given: true, At: best.Price.At}, f.ID
}

// lines tells apart the pieces that had one mark, one after the other.
func (t *taking) lines(m *job.Made) (n int) {
	for _, o := range t.job.Made {
		if o.Mark.Text == m.Mark.Text {
			n++
		}
		if o == m {
			break
		}
	}
	return n
}

// whole are the delivered sticks of a part that nothing was cut from yet. Where pieces were made of it and nobody says out of which, none of them counts, and that is asked.
func (t *taking) whole(kind, part string, came []job.Measure) (list []job.Measure) {
	var cut []length.Length
	said := false
	for _, f := range t.job.MadeFiles {
		for _, s := range f.Sticks {
			if s.Part.Text == part && (!s.Kind.Given || s.Kind.Text == kind) {
				said = true
				for _, m := range s.Cut {
					cut = append(cut, m.Length)
				}
			}
		}
	}
	if !said && len(came) > 0 && t.made.Of(kind, part) > 0 {
		i := slices.IndexFunc(t.job.Made, func(m *job.Made) bool { return m.Ware() == kind && m.Part.Text == part })
		at := t.job.Made[i].At
		t.missing = append(t.missing, finding.Reading{What: "which of the delivered sticks of " + part + " were cut into; an empty list where none was", Where: at.File + ", sticks: [{part: " + part + ", cut: [] }]", Why: "which of them are whole; until then none is counted", At: at, Group: "made"})
		return nil
	}
	for _, m := range came {
		if k := slices.Index(cut, m.Length); k >= 0 {
			cut = slices.Delete(cut, k, k+1)
			continue
		}
		list = append(list, m)
	}
	return list
}

// better cuts a part twice where made pieces would be trimmed: with those trimmed, and with their lengths as sticks that any piece may be cut from; it keeps what costs less, the trimming where both cost the same.
func (t *taking) better(of *account, cut func() *cutting) *cutting {
	var trims []int // those that can be cut into anything
	for i, x := range t.made.Pieces {
		if x.Fate == Trimmed && x.Of.Ware() == of.Kind && x.Of.Part.Text == of.Part && x.Of.Lower.Thousandths == 0 && x.Of.Upper.Thousandths == 0 && t.cleanLength(x.Of) > 0 {
			trims = append(trims, i)
		}
	}
	before := [4]int{len(t.findings), len(t.figures), len(t.asks), len(t.missing)}
	back := func() {
		t.findings, t.figures, t.asks, t.missing = t.findings[:before[0]:before[0]], t.figures[:before[1]:before[1]], t.asks[:before[2]:before[2]], t.missing[:before[3]:before[3]]
	}
	a := cut()
	if len(trims) == 0 || a == nil || a.bought() == 0 {
		return a
	}
	findings, figures, asks, missing := t.findings, t.figures, t.asks, t.missing
	made := slices.Clone(t.made.Pieces)
	back()
	for _, i := range trims {
		x := &t.made.Pieces[i]
		*x = Made{Of: x.Of, Title: x.Title, Piece: -1}
	}
	if b := cut(); b != nil && cheaper(b, a) {
		return b
	}
	t.findings, t.figures, t.asks, t.missing, t.made.Pieces = findings, figures, asks, missing, made
	return a
}

// bought is how many sticks a plan buys, and pieces that it has no stick for.
func (c *cutting) bought() (n int) {
	for _, s := range c.Sticks {
		if s.Source == FromSupplier {
			n++
		}
	}
	return n + c.unmet()
}

func (c *cutting) unmet() int {
	n := c.asked
	for _, s := range c.Sticks {
		n -= len(s.Pieces)
	}
	return n
}

func cheaper(a, b *cutting) bool {
	if x := cmp.Compare(a.unmet(), b.unmet()); x != 0 { // pieces that no stick is long enough for are the dearest
		return x < 0
	}
	if a.Priced {
		return a.Cost < b.Cost
	}
	return a.Bought < b.Bought
}
