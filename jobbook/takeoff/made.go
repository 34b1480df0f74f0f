package takeoff

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Fate is what becomes of a piece that is made already. The zero value is invalid.
type Fate int

// What becomes of a piece.
const (
	AsItIs  Fate = iota + 1 // it goes in a place as it is
	Trimmed                 // it goes in a place once it is trimmed
	Recut                   // the cutting plan cuts other pieces from it
	ToRack                  // nothing takes it; it is long enough to keep
	Left                    // as good as others of its part, but no place is left for it
	Lost                    // nothing takes it
	Unknown                 // waits for a reading
)

var fateWords = [...]string{AsItIs: "fits as it is", Trimmed: "fits if trimmed", Recut: "is cut into other pieces", ToRack: "goes to the rack", Left: "is left over", Lost: "is lost", Unknown: "to be measured"}

func (f Fate) String() string {
	if f < AsItIs || f > Unknown {
		return "invalid"
	}
	return fateWords[f]
}

// Made is one piece that is made already, and what becomes of it.
type Made struct {
	Of    *job.Made
	Title string // of its part
	Fate  Fate
	Mark  string        // of the place it takes, AsItIs or Trimmed
	Piece int           // index in Takeoff.Pieces of that place; -1 for none
	N     int           // and which of them, from 1
	Own   bool          // it is the place that it was made for
	To    length.Length // that it is trimmed to
	Off   length.Length // that comes off it
	Cuts  []StickPiece  // of one that is cut into other pieces
	Rest  length.Length // of it, or of what was trimmed off, that goes to the rack; 0 for none
	Why   string        // in words, why it goes nowhere, or what it waits for
	Cost  job.Amount    // of the material in one that is lost; not given where no price is known

	Figure string // id of the working of Cost
	slot   *slot
	way    way
}

// Turned reports a rail that goes in the other way round than it was made.
func (m Made) Turned() bool { return m.Piece >= 0 && m.way.turned }

// MadeTake is all of them.
type MadeTake struct {
	Pieces   []Made
	Lost     int         // how many are
	Cost     money.Money // of all that are lost, as far as prices are known
	Unpriced int         // lost ones whose price is not known
	Figure   string      // id of the working of Cost
}

// Used is how many places of a part are taken by pieces that are made.
func (m MadeTake) Used(kind, part string) (n int) {
	for _, x := range m.Pieces {
		if x.Piece >= 0 && x.Of.Ware() == kind && x.Of.Part.Text == part {
			n++
		}
	}
	return n
}

// Of is how many pieces of a part were made, whatever became of them.
func (m MadeTake) Of(kind, part string) (n int) {
	for _, x := range m.Pieces {
		if x.Of.Ware() == kind && x.Of.Part.Text == part {
			n++
		}
	}
	return n
}

// At is the piece that takes a place: index in Takeoff.Pieces, and which of them; nil for none.
func (m MadeTake) At(piece, n int) *Made {
	for i := range m.Pieces {
		if m.Pieces[i].Piece == piece && m.Pieces[i].N == n {
			return &m.Pieces[i]
		}
	}
	return nil
}

// taken are the places that made pieces take.
func (m MadeTake) taken() map[[2]int]bool {
	list := map[[2]int]bool{}
	for _, x := range m.Pieces {
		if x.Piece >= 0 {
			list[[2]int{x.Piece, x.N}] = true
		}
	}
	return list
}

// uncut are labels of pieces that are still to be cut: all but those that go in as they are.
func (m MadeTake) uncut(marks []Label) []Label {
	done := map[[2]int]bool{}
	for _, x := range m.Pieces {
		if x.Fate == AsItIs {
			done[[2]int{x.Piece, x.N}] = true
		}
	}
	if len(done) == 0 {
		return marks
	}
	return slices.DeleteFunc(slices.Clone(marks), func(l Label) bool { return done[[2]int{l.Piece, l.N}] })
}

// drilled is what is drilled already in pieces that go in, by run and place: holes for balusters, bores in rails' ends, bores in newels.
func (m MadeTake) drilled() map[[2]string]bool {
	done := map[[2]string]bool{}
	for _, x := range m.Pieces {
		if x.slot == nil || x.Piece < 0 {
			continue
		}
		s := x.slot
		if s.run != nil && len(x.Of.Holes) > 0 && !x.way.deepen {
			done[[2]string{s.run.Name, s.hole.Where}] = true
		}
		if s.run != nil && s.cut.What == "handrail" {
			ends := [2]bool{!x.Of.Bored.From.At.IsZero(), !x.Of.Bored.To.At.IsZero()}
			if x.way.turned {
				ends[0], ends[1] = ends[1], ends[0]
			}
			switch {
			case x.Fate != Trimmed: // one end is cut off: with holes the other one than the datum, else one that is not bored
			case len(x.Of.Holes) > 0:
				ends[1] = false
			case ends[0] && ends[1]:
				ends = [2]bool{}
			}
			for i, e := range []job.End{s.run.Job.From, s.run.Job.To} {
				if ends[i] && e.Post != nil {
					done[[2]string{s.run.Name, "rail's end at " + e.Post.Name}] = true
				}
			}
		}
		for _, b := range x.Of.Bolts {
			done[[2]string{b.Of.Text, "post " + s.cut.Which}] = true
		}
	}
	return done
}

// undrilled leaves out of the set-ups what is drilled already.
func (m MadeTake) undrilled(list []DrillSetup) (out []DrillSetup) {
	done := m.drilled()
	if len(done) == 0 {
		return list
	}
	for _, d := range list {
		d.Holes = slices.DeleteFunc(slices.Clone(d.Holes), func(h DrillHoles) bool { return done[[2]string{h.Run, h.Where}] })
		if len(d.Holes) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// takeMade takes up every piece that is made, and puts as many as go in the places of the job: those of one part at once, so that what they save is most.
func (t *taking) takeMade(l layout.Layout, all []layout.Cut, marks []Label) {
	if len(t.job.Made) == 0 {
		return
	}
	for _, m := range t.job.Made {
		x := Made{Of: m, Title: t.partTitle(m), Piece: -1}
		if m.Lost.Yes {
			x.Fate, x.Why = Lost, "recorded as lost"
		}
		t.made.Pieces = append(t.made.Pieces, x)
	}
	slots := t.slots(l, all, marks)
	type part struct{ kind, name string }
	var parts []part
	for i := range t.made.Pieces {
		m := t.made.Pieces[i].Of
		if p := (part{m.Ware(), m.Part.Text}); !slices.Contains(parts, p) {
			parts = append(parts, p)
		}
	}
	for _, p := range parts {
		var pieces []*Made
		for i := range t.made.Pieces {
			if x := &t.made.Pieces[i]; x.Of.Ware() == p.kind && x.Of.Part.Text == p.name && x.Fate == 0 {
				pieces = append(pieces, x)
			}
		}
		var places []*slot
		for _, s := range slots {
			if kind(s.cut) == p.kind && s.cut.Part == p.name {
				places = append(places, s)
			}
		}
		t.place(pieces, places)
	}
}

func (t *taking) partTitle(m *job.Made) string {
	for _, a := range t.accounts {
		if a.Kind == m.Ware() && a.Part == m.Part.Text {
			return a.Title
		}
	}
	return m.Part.Text
}

// own reports that a slot is that of a piece's own run or post, and sort.
func own(m *job.Made, s *slot) bool {
	if s.cut.What != m.Mark.What {
		return false
	}
	if s.cut.What == "newel" {
		return m.Post != nil && s.cut.Which == m.Post.Name
	}
	return m.Run != nil && s.run != nil && s.run.Job == m.Run
}

// is reports that a slot is the very place that a piece was made for.
func (s *slot) is(m *job.Made) bool {
	return s.label.Mark == m.Mark.Text && !m.Of.Given || m.Of.Given && own(m, s) && (s.label.Number == m.Mark.Number || s.label.Of == 1)
}

// sorted is pieces or places alike.
type sorted struct {
	key  string
	list []int
}

func alike[T any](list []T, key func(T) string) (out []sorted) {
	at := map[string]int{}
	for i, x := range list {
		k := key(x)
		n, ok := at[k]
		if !ok {
			n = len(out)
			at[k], out = n, append(out, sorted{key: k})
		}
		out[n].list = append(out[n].list, i)
	}
	return out
}

// place puts the pieces of one part in places.
func (t *taking) place(pieces []*Made, places []*slot) {
	have := alike(pieces, func(x *Made) string {
		m := *x.Of
		whose := ""
		if m.Run != nil {
			whose = m.Run.Name
		}
		if m.Post != nil {
			whose = "post " + m.Post.Name
		}
		one := ""
		if len(m.Holes) > 0 || len(m.Bolts) > 0 {
			one = m.Mark.Text
		}
		return fmt.Sprint(whose, "|", m.Mark.What, "|", one, "|", m.Coats.Given, m.Coats.N, m.Long.Given, m.Long.Length, m.Lower.Thousandths, m.Upper.Thousandths, m.Wide.Given, m.Wide.Length, m.High.Given, m.High.Length, m.Radius.Given, m.Radius.Length,
			m.Off.Given, m.Off.Length, bore(m.Bored.From), bore(m.Bored.To), m.Skew.From.Given, m.Skew.From.Milli, m.Skew.To.Given, m.Skew.To.Milli, "|", m.Bolt.Text, "|", m.Finish.Text)
	})
	want := alike(places, func(s *slot) string { return fmt.Sprint(s.piece) })
	var sample []*slot // one of each sort
	for _, w := range want {
		sample = append(sample, places[w.list[0]])
	}
	ways := make([][]way, len(have))
	for i, h := range have {
		for _, s := range sample {
			ways[i] = append(ways[i], t.fit(pieces[h.list[0]].Of, s))
		}
	}
	counts := func(list []sorted) (n []int) {
		for _, s := range list {
			n = append(n, len(s.list))
		}
		return n
	}
	x := assign(counts(have), counts(want), func(i, j int) (worth, bool) {
		m, s, w := pieces[have[i].list[0]].Of, sample[j], ways[i][j]
		if !w.fits {
			return worth{}, false
		}
		// What it saves comes first: of what is cut from sticks the length, of the rest the piece.
		v := worth{1, 1, 0, -int64(w.off)}
		if slices.Contains(stockable, kind(s.cut)) {
			v[0] = int64(s.cut.Stick())
		}
		if w.trim {
			v[1] = 0
		}
		if own(m, s) {
			v[2] = 1
		}
		return v, true
	})
	for i := range have {
		left := slices.Clone(have[i].list)
		for j := range want {
			n := x[i][j]
			if n == 0 {
				continue
			}
			// Those that are on their own place first, then in order.
			put := func(k, s int) {
				p := pieces[left[k]]
				at := places[want[j].list[s]]
				p.Piece, p.N, p.Mark, p.Own, p.slot, p.way = at.piece, at.n, at.label.Mark, own(p.Of, at), at, ways[i][j]
				p.Fate, p.Off = AsItIs, 0
				if ways[i][j].trim {
					p.Fate, p.To, p.Off = Trimmed, ways[i][j].to, ways[i][j].off
				}
				if ways[i][j].deepen {
					p.Why = "once its holes are drilled on, from " + t.tape(p.Of.Hole.Deep.Length) + " to " + t.tape(at.hole.Deep) + " deep"
				}
				left = slices.Delete(left, k, k+1)
				want[j].list = slices.Delete(want[j].list, s, s+1)
				n--
			}
			for k := 0; k < len(left) && n > 0; {
				s := slices.IndexFunc(want[j].list, func(s int) bool { return places[s].is(pieces[left[k]].Of) })
				if s < 0 {
					k++
					continue
				}
				put(k, s)
			}
			for n > 0 {
				put(0, 0)
			}
		}
		for _, k := range left {
			t.unplaced(pieces[k], ways[i], sample)
		}
	}
}

func bore(m job.Measure) string {
	if m.At.IsZero() {
		return "-"
	}
	return fmt.Sprint(m.Given, int64(m.Length))
}

// unplaced says why a piece is in no place: by its own place first, then by any.
func (t *taking) unplaced(x *Made, ways []way, sample []*slot) {
	pick := -1
	reads := -1
	goes := false
	for j, w := range ways {
		switch {
		case w.fits:
			goes = true
		case w.ask != "" && reads < 0:
			reads = j
		}
		if !w.fits && (pick < 0 || own(x.Of, sample[j]) && !own(x.Of, sample[pick])) {
			pick = j
		}
	}
	switch {
	case reads >= 0:
		x.Fate, x.Why = Unknown, ways[reads].ask+" is still to be read"
		at := x.Of.Long.At
		if at.IsZero() {
			at = x.Of.At
		}
		t.missing = append(t.missing, finding.Reading{What: x.Of.Mark.Text + ": " + ways[reads].ask, Where: at.File + ", pieces: " + x.Of.Mark.Text, Why: "whether it can still be used", At: at, Group: "made"})
	case goes:
		x.Fate, x.Why = Left, "no place is left for it"
	case pick >= 0:
		x.Why = ways[pick].why
	case !x.Of.Long.Given && x.Of.Mark.What != "rosette":
		x.Fate, x.Why = Unknown, "its length as it is now is still to be read"
	default:
		x.Why = "the job needs none of this part any more"
	}
	if x.Fate == 0 && strings.Contains(x.Why, "to be measured") {
		x.Fate = Unknown
	}
}

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
		f := working.Work("made/lost", "material in the pieces that are lost", "K", t.job.Shop.Currency.Text, sum(terms), working.Citation{Text: "price list", Status: working.Local})
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
			x := new(big.Rat).Mul(a.Price.Rat(), b.Long.Length.Rat(length.Millimetres))
			return x.Cmp(new(big.Rat).Mul(b.Price.Rat(), a.Long.Length.Rat(length.Millimetres))) < 0
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
