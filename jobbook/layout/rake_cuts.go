package layout

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// rakeCuts works out every piece of a flight.
func (b *builder) rakeCuts() {
	if b.bareFlight() {
		b.cutWallRail() // whose length is read
		return
	}
	b.rakeHandrail()
	b.railPieces()
	b.rakeShoe()
	b.cutRosettes()
	b.cutWallRail()
	b.rakeBalusters()
	b.cutFillets()
}

// plumbCuts says how the ends of a raked piece are cut.
func (b *builder) plumbCuts() string {
	square := "12"
	if b.sys == length.Millimetres {
		square = "100"
	}
	return "both ends plumb cuts at " + b.degrees() + " (" + b.tape(b.Rake.Square.Length(b.sys, b.div.Length, length.Nearest)) + " in " + square + " on the square)"
}

// degrees is the angle of the rake, to a tenth.
func (b *builder) degrees() string {
	return b.Rake.Angle.Value.Fixed(1) + "°"
}

func (b *builder) rakeHandrail() {
	rake := b.r.Stair.Along
	if !rake.Given {
		b.need("clear length along the rake at the handrail, from face to face", "clear: {rake: }", "length of the handrail, which way an end leans", rake.At)
		return
	}
	if !b.r.From.Where.Given || !b.r.To.Where.Given || !b.sloped() || b.Rake.Top == 0 {
		return
	}
	e := working.Expr(b.in("L_rake", "clear along the rake at the handrail, as read", rake))
	for i, end := range []struct {
		side string
		e    job.End
	}{{"from", b.r.From}, {"to", b.r.To}} {
		n := strconv.Itoa(i + 1)
		if plateOpen(end.e) {
			return
		}
		if end.e.Plate != nil {
			if !end.e.Plate.Thick.Given {
				return
			}
			e = working.Difference(e, working.Product(b.in("t_"+n, "rosette at the "+end.side+" end, level", end.e.Plate.Thick), b.sec()))
		}
		over, known := b.overPost(end.e, n, end.side)
		if !known {
			return
		}
		if over != nil {
			e = working.Sum(e, working.Product(over, b.sec()))
		}
	}
	fig := b.work("handrail", "length of the handrail along an edge, from plumb cut to plumb cut", "l_r", e)
	b.Handrail = b.rakeStick("handrail", fig, b.r.Handrail.High, b.r.Handrail.Name, b.r.Handrail.Title.Text)
}

// overPost is what a rail that goes on over a post is longer by, level: to the middle of the post, less what a fitting takes up.
// nil where it ends at the post's face; false while it is still to be measured.
func (b *builder) overPost(e job.End, n, side string) (longer working.Expr, known bool) {
	if _, known = railOver(e); !known || !e.Over.Yes || e.Post == nil {
		return nil, known
	}
	half := working.Expr(working.Quotient(b.in("w_"+n, "width of the newel at the "+side+" end, that the rail goes over", e.Post.Part.Wide), working.Constant(2)))
	if e.Fitting.Given {
		half = working.Difference(half, b.in("f_"+n, "from its middle to the joint with the fitting", e.Fitting))
	}
	return half, true
}

// rakeStick is a rail or a shoe with plumb cuts: its length along an edge, and the blank that both points come out of.
func (b *builder) rakeStick(what string, fig *working.Figure, high job.Measure, part, title string) *Cut {
	c := b.cut(what, fig, length.Up)
	blank := b.work(what+"-blank", "blank of the "+what+": longer by what a plumb cut runs out", "l_b", working.Sum(fig.In(), working.Product(b.in("t", "height of its section", high), b.tan())))
	c.Blank = blank.Length(b.sys, b.div.Length, length.Up)
	c.Beveled = [2]bool{true, true}
	c.Count, c.Which, c.Part, c.Title = 1, "from "+b.endName(b.From, "from")+" to "+b.endName(b.To, "to"), part, title
	c.Fit = "cut the blank to " + b.tape(c.Blank) + " and what the saw trims at each end; " + b.plumbCuts() + "; leave it long, then fit it to the marks"
	return &c
}

func (b *builder) rakeShoe() {
	if b.Clear == nil || b.r.Shoe == nil || !b.r.Shoe.High.Given {
		return
	}
	if b.Rake.ShoeThick == 0 && (b.r.From.Thick.Given || b.r.To.Thick.Given) { // whether it passes over the trim is not known yet
		return
	}
	e := working.Expr(b.Clear.In())
	for _, end := range []struct {
		symbol string
		e      End
		job    job.End
	}{{"t_1", b.From, b.r.From}, {"t_2", b.To, b.r.To}} {
		switch {
		case end.e.Proud > 0:
			e = working.Difference(e, b.in(end.symbol, "thickness of trim that stays at "+end.e.Name+", level", end.job.Thick))
		case end.e.Proud < 0:
			e = working.Sum(e, b.found(end.symbol, "how far the shoe goes on over the trim at "+end.e.Name+", level", "the face at the shoe's height", -end.e.Proud))
		}
	}
	fig := b.work("shoe", "length of the shoe along an edge, from plumb cut to plumb cut", "l_s", working.Product(e, b.sec()))
	b.Shoe = b.rakeStick("shoe", fig, b.r.Shoe.High, b.r.Shoe.Name, b.r.Shoe.Title.Text)
}

// cutWallRail is the rail on the wall: its length is read, its ends are the shop's way of returning them.
func (b *builder) cutWallRail() {
	w := b.r.Stair.WallRail
	if w.Part == nil || !w.Long.Given {
		return
	}
	fig := b.work("wall-rail", "length of the wall rail along the rake, without its returns", "l_w", b.in("l_w", "length of the wall rail, as read", w.Long))
	c := b.cut("wall rail", fig, length.Up)
	c.Count, c.Which, c.Part, c.Title, c.Fit = 1, "on the wall", w.Part.Name, w.Part.Title.Text, "its returns are extra; leave it long and fit them"
	b.WallRail = &c
}

// piece is one baluster of a flight while they are grouped.
type piece struct {
	k     int
	tread int
	exact length.Length
}

// rakeBalusters works out each baluster's length, and groups them into the fewest cuts: those that come to one mark on the tape, or
// differ by no more than the shop allows, are cut alike, to the shortest. The shortest that is left takes with it all it can, so that no fewer groups will do.
func (b *builder) rakeBalusters() {
	if b.Chosen == nil || len(b.Marks) == 0 || b.fallback {
		return
	}
	k := b.Rake
	var list []piece
	id := "baluster"
	if k.OnTreads {
		id = "balusters"
		var rows [][]exact.Number
		for _, m := range b.Marks {
			x := k.From + m.At - k.Treads[0].At + k.Nosing
			rows = append(rows, []exact.Number{exact.Of(int64(m.K)), exact.Of(int64(m.Tread)), x.In(b.sys), (m.Stands - k.Treads[0].Height).In(b.sys)})
		}
		fig := b.series(id, "length of each baluster at its axis", "l_k", b.rakeLength(),
			[]string{"k", "i", "x_k", "h_k"}, []string{"baluster", "tread, 0 for the floor", "axis behind the lowest nosing, level", "its tread above the lowest one"}, rows)
		for i, row := range fig.Series.Rows {
			list = append(list, piece{b.Marks[i].K, b.Marks[i].Tread, length.Of(row.Value, b.sys, length.Nanometre, length.Nearest)})
		}
	} else {
		exact := b.work(id, "length of a baluster at its axis", "l", b.rakeLength()).Exact(b.sys)
		for _, m := range b.Marks {
			list = append(list, piece{m.K, m.Tread, exact})
		}
	}
	part := b.r.Baluster
	slices.SortStableFunc(list, func(x, y piece) int { return cmp.Compare(x.exact, y.exact) })
	alike := b.job.Shop.Alike.Length
	down := func(l length.Length) length.Length { return l.Round(b.div.Length, length.Down) }
	for len(list) > 0 {
		n := 1
		for n < len(list) && (list[n].exact-list[0].exact <= alike || down(list[n].exact) == down(list[0].exact)) {
			n++
		}
		group := slices.Clone(list[:n])
		list = list[n:]
		slices.SortFunc(group, func(x, y piece) int { return x.k - y.k })
		c := Cut{What: "baluster", Part: part.Name, Title: part.Title.Text, Run: b.Name, Count: n, Rounding: length.Down, Figure: b.ID + "/" + id}
		c.Exact = slices.MinFunc(group, func(x, y piece) int { return cmp.Compare(x.exact, y.exact) }).exact
		c.Length = down(c.Exact)
		var treads []int
		for _, p := range group {
			b.cutUnder(p.exact, c.Length)
			c.Numbers = append(c.Numbers, p.k)
			if k.OnTreads && !slices.Contains(treads, p.tread) {
				treads = append(treads, p.tread)
			}
		}
		c.Which = ranges(c.Numbers)
		if k.OnTreads {
			c.Treads = b.treadWords(treads)
		}
		b.points(&c)
		b.Balusters = append(b.Balusters, c)
	}
	b.pointFigure()
}

// treadWords names the treads that balusters go to.
func (b *builder) treadWords(treads []int) string {
	var words []string
	var numbers []int
	for _, t := range treads {
		switch t {
		case 0:
			words = append(words, "the floor")
		case len(b.Rake.Treads):
			words = append(words, "the landing")
		default:
			numbers = append(numbers, t)
		}
	}
	if len(numbers) > 0 {
		name := "treads "
		if len(numbers) == 1 {
			name = "tread "
		}
		words = append([]string{name + ranges(numbers)}, words...)
	}
	return strings.Join(words, ", ")
}

// points gives a cut its short and long point: the axis lies halfway between them.
func (b *builder) points(c *Cut) {
	foot, head := b.bevels()
	c.Beveled = [2]bool{foot > 0, head > 0}
	c.Blank = (c.Exact + foot + head).Round(b.div.Length, length.Up)
	trim := trimWords(b.r.Baluster, "cut the "+or(b.r.Baluster.Trim.Text, "top")+" end to length")
	if head == 0 {
		c.Fit = trim + "; the head is a pin and is cut square"
		if foot > 0 {
			c.Fit = "foot cut at " + b.degrees() + " off square, long point downhill; " + c.Fit
		}
		return
	}
	// Long and short of the head: an end cut square is measured from, an end on a shoe is cut alike, so that both edges are as long as the axis.
	c.Short, c.Long = (c.Length-head).Round(b.div.Length, length.Nearest), (c.Length+head).Round(b.div.Length, length.Nearest)
	c.Fit = "head cut at " + b.degrees() + " off square, long point uphill; " + trim
	if !b.Rake.OnTreads && b.r.Baluster.Bottom.Text != "pin" {
		c.Short, c.Long = c.Length, c.Length
		c.Fit = "both ends cut at " + b.degrees() + " off square and parallel; an edge is as long as the axis; " + trim
	}
}

// pointFigure says how the points came about.
func (b *builder) pointFigure() {
	if _, head := b.bevels(); head == 0 {
		return
	}
	b.work("point", "long point of a baluster's head above its axis, and short point below", "e_b",
		working.Quotient(working.Product(b.found("b", "width of a baluster's head", "profile", b.tip), b.tan()), working.Constant(2)))
}

// rakeChecks are sizes that must go together on a flight.
func (b *builder) rakeChecks(part *job.Baluster) {
	if b.fallback || len(b.Balusters) == 0 || !part.Sized {
		return
	}
	foot, head := b.bevels()
	longest, shortest := length.Length(0), length.Length(0)
	for _, c := range b.Balusters {
		longest = max(longest, c.Length)
		if shortest == 0 || c.Length < shortest {
			shortest = c.Length
		}
	}
	fig := b.Balusters[0].Figure
	b.check("baluster-long", "baluster as bought against the longest that is needed, from point to point", part.Long.Length, finding.AtLeast, longest+foot+head, part.Long.At, b.r.Height.Top.At, fig, "order a longer baluster")
	if shortest <= 0 {
		b.check("baluster-short", "length of the shortest baluster", shortest, finding.Over, 0, b.r.Height.Top.At, part.Long.At, fig, "read the risers, the nosing and the height of the rail again")
		return
	}
	bottom, top := part.Profile.EndBlocks()
	block := top
	if part.Trim.Text == "bottom" {
		block = bottom
	}
	if off := part.Long.Length - (shortest - foot - head); part.Turned() && off > 0 {
		b.check("trim", "taken off the "+or(part.Trim.Text, "top")+" end, to the short point, against the square block there", off, finding.AtMost, block, part.Long.At, part.Wide.At, fig, "order a shorter baluster, or trim the other end; the cut would run into the turning")
	}
	if n := len(b.Rake.Treads); b.Rake.OnTreads && n >= 2 && b.r.Stair.Bracket.Given {
		b.check("bracket", "bracket against half a baluster, so that its axis stands over the tread", b.r.Stair.Bracket.Length, finding.AtMost, b.foot/2, b.r.Stair.Bracket.At, source.Pos{}, "", "read the bracket's thickness again")
	}
}
