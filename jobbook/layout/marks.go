package layout

import (
	"slices"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// countInput is the number of balusters as an input.
func (b *builder) countInput() *working.Input {
	in := working.Count("n", "number of balusters", int64(b.Chosen.Count), source.Pos{}).Because(b.Why)
	if b.r.Count.Given {
		in.At, in.From = b.r.Count.At, ""
	}
	return in
}

// marks works out gap, spacing and the rounded marks: mark k is one exact quotient, rounded once, never k times a rounded gap.
func (b *builder) marks() {
	if b.Chosen == nil {
		return
	}
	n := b.Chosen.Count
	clear := b.Clear.In()
	foot := working.Length("b", "width of a baluster at the foot", b.foot, b.sys, b.footAt)
	count := b.countInput()
	division := b.in("d", "division that marks are rounded to", b.div)
	if b.div.At.IsZero() {
		division.From = "tape"
	}
	one, two := working.Constant(1), working.Constant(2)
	k := working.Variable("k")
	if b.Drilled != nil {
		b.drilledMarks()
		b.markRows()
		return
	}
	along := ""
	if b.Curve != nil {
		along = ", along the curve"
	}
	var centre working.Expr
	if b.centred() {
		s := b.in("s", "spacing of the centred pattern", b.r.Spacing)
		b.Spacing = b.work("spacing", "spacing from centre to centre"+along, "s_c", s)
		centre = working.Sum(working.Quotient(clear, two), working.Product(working.Difference(k, working.Quotient(working.Sum(count, one), two)), s))
		if n >= 2 {
			b.Gap = b.work("gap", "gap between two balusters at the foot"+along, "g", working.Difference(s, foot))
		}
		if n >= 1 {
			b.work("end-gap", "gap at each end at the foot"+along, "g_e", working.Quotient(
				working.Difference(working.Difference(clear, working.Product(working.Difference(count, one), s)), foot), two))
		}
	} else {
		b.Gap = b.work("gap", "gap between two balusters at the foot, and at each end"+along, "g",
			working.Quotient(working.Difference(clear, working.Product(count, foot)), working.Sum(count, one)))
		if n >= 1 {
			b.Spacing = b.work("spacing", "spacing from centre to centre"+along, "s",
				working.Quotient(working.Sum(clear, foot), working.Sum(count, one)))
		}
		centre = working.Difference(working.Quotient(working.Product(k, working.Sum(clear, foot)), working.Sum(count, one)), working.Quotient(foot, two))
	}
	if n == 0 {
		return
	}
	b.MarkFig = b.series("marks", "centre of each baluster from the datum face, rounded once", "m_k",
		working.RoundTo(centre, division, length.Nearest), []string{"k"}, []string{"baluster"}, countRows(n))
	b.MarkFig.Note = "The datum is the face at " + b.endName(b.From, "from") + ". Every mark is measured from it, never stepped from the one before, so that errors do not add up."
	if b.Curve != nil {
		b.MarkFig.Note += " The tape follows the curve, along the line of the balusters."
	}
	b.markRows()
}

// countRows are the rows of a series that goes by 1, 2, 3 alone.
func countRows(n int) [][]exact.Number {
	rows, cells := make([][]exact.Number, n), make([]exact.Number, n)
	for i := range rows {
		cells[i] = exact.Of(int64(i + 1))
		rows[i] = cells[i : i+1 : i+1]
	}
	return rows
}

// markRows puts the rounded marks on shoe and rail.
func (b *builder) markRows() {
	over, railKnown := railOver(b.r.From)
	railKnown = railKnown && !b.shapeOpen() && !plateOpen(b.r.From) && (b.Lean == nil || b.Lean.Settled || !b.Lean.Out)
	railFace := b.From.recess(b.railMiddle())
	if b.Lean != nil && b.Lean.Settled {
		railFace += b.Lean.FromRail
	}
	b.Marks = slices.Grow(b.Marks, len(b.MarkFig.Series.Rows))
	for i, row := range b.MarkFig.Series.Rows {
		at := length.Of(row.Value, b.sys, length.Nanometre, length.Nearest)
		piece, begins := b.pieceMark(at)
		m := Mark{K: i + 1, At: at, Shoe: (at - begins).Round(b.div.Length, length.Nearest), Piece: piece}
		if b.Drilled != nil { // a hole is where it is
			m.Shoe = at - begins
		}
		if railKnown && b.Levels.Known && b.From.Known {
			m.Rail = (at + railFace + over - b.From.Rosette).Round(b.div.Length, length.Nearest)
		} else {
			m.Plumbed = true
		}
		b.Marks = append(b.Marks, m)
	}
}

// openings finds the largest ball at each kind of place, as it will be cut and at its worst, and hands them to the rules.
func (b *builder) openings() {
	if b.Chosen == nil {
		b.openMeasures(nil)
		return
	}
	ends, between := b.passages(b.Chosen.Count)
	add := func(p passage, id, part string, foot length.Length, known bool, apart *working.Input) {
		worst := b.ball(p, true)
		where := b.where(p)
		o := Opening{Where: where, Part: part, Foot: foot, Nominal: b.ball(p, false).Opening, Worst: worst.Opening, Found: worst, Known: known, Left: p.after}
		title := "worst opening " + where
		if p.place == endToEnd {
			title = "opening " + where
		}
		o.Figure = b.ballFigure("opening-"+id, title, worst, apart)
		if b.Curve != nil && p.place == amidst {
			f := b.Figures[len(b.Figures)-1]
			f.Note += curveNote
			f.Cites = []working.Citation{{Text: "largest ball between the two profiles, in the upright planes along the chord", Status: working.Derived}}
		}
		b.Openings = append(b.Openings, o)
	}
	if b.Chosen.Count == 0 {
		add(ends[0], "between", "between", b.clearLen, b.From.Known && b.To.Known, b.Clear.In())
		b.openMeasures(b.Openings)
		return
	}
	from, to := ends[0], ends[1]
	add(from, "from", "from", b.straight(from.apart())-b.foot/2-b.From.Proud, b.From.Known && !b.fallback, b.apartEnd("from", b.where(from), from.apart()).As("D"))
	var plain *passage // the worst between two balusters, where no step lies between them
	for i, p := range between {
		if p.step == 0 && (plain == nil || b.ball(p, true).Opening > b.ball(*plain, true).Opening) {
			plain = &between[i]
		}
	}
	if plain != nil {
		add(*plain, "between", "between", b.footGap("between", plain.apart()), true, b.apartBetween(plain.apart()).As("D"))
	}
	for _, p := range between {
		if p.step > 0 {
			id := "step-" + strconv.Itoa(p.step)
			name := "spacing of the rounded marks of balusters " + strconv.Itoa(p.after) + " and " + strconv.Itoa(p.after+1)
			add(p, id, "between", b.footGap(id, p.apart()), true, b.apartPair(id, name, p.apart()).As("D"))
		}
	}
	add(to, "to", "to", b.straight(to.apart())-b.foot/2-b.To.Proud, b.To.Known && !b.fallback, b.apartEnd("to", b.where(to), to.apart()).As("D"))
	b.openMeasures(b.Openings)
}

// railOver is how far beyond the face of a post a rail that goes over it begins: at the post's middle, less its fitting; false while that is
// still to be measured.
func railOver(e job.End) (l length.Length, known bool) {
	switch {
	case !e.Over.Yes || e.Post == nil:
		return 0, true
	case e.Post.Part == nil || !e.Post.Part.Wide.Given || !e.Fitting.Given && !e.Fitting.At.IsZero():
		return 0, false
	}
	return e.Post.Part.Wide.Length/2 - e.Fitting.Length, true
}

// tolerance is what may go wrong at each baluster: how far one may be under its width is what was gauged, once they are delivered.
func (b *builder) tolerance() job.Tolerance {
	t := b.job.Tolerance
	if p := b.r.Baluster; p != nil && p.Under.Given {
		t.Width = p.Under
	}
	t.Season = b.seasonOf()
	return t
}

// tolerance inputs, as the formulas below use them.
func (b *builder) errors() (mark, drill, width, season *working.Input) {
	t := b.tolerance()
	season = b.in("e_s", "shrinkage of a baluster's width over the year", t.Season)
	if b.season != nil {
		season = b.season.In()
	}
	if !t.Season.Given {
		season.From = "season not counted"
	}
	return b.in("e_m", "marking error of one centre", t.Mark), b.in("e_d", "drilling error of one centre", t.Drill),
		b.in("e_w", "how far a baluster may be under its width", t.Width), season
}

func (b *builder) apartBetween(widest length.Length) *working.Figure {
	name := "widest spacing of the rounded marks"
	if b.Drilled != nil && b.Rake != nil {
		name = "spacing of the holes between which the worst opening is"
	}
	return b.apartPair("between", name, widest)
}

func (b *builder) apartPair(id, name string, apart length.Length) *working.Figure {
	m, d, w, s := b.errors()
	spacing := b.found("s_w", name, "marks", apart)
	spacing.Figure = b.ID + "/marks"
	if b.Curve != nil {
		return b.chordBetween(id, spacing, m, d)
	}
	return b.work("apart-"+id, "two balusters apart at the worst: every error the bad way", "D",
		working.Sum(spacing, working.Product(working.Constant(2), working.Sum(m, d)), w, s), allOneWay)
}

// allOneWay stands behind what tolerances add up to.
var allOneWay = working.Citation{Text: "errors all one way, common practice", Status: working.CommonPractice}

func (b *builder) apartEnd(part, where string, reach length.Length) *working.Figure {
	m, d, w, s := b.errors()
	at := b.found("m_e", "from the face "+where+" to the centre of the nearest baluster, by the rounded marks", "marks", reach)
	at.Figure = b.ID + "/marks"
	under := working.Quotient(working.Sum(w, s), working.Constant(2))
	if b.Curve != nil {
		return b.chordEnd(part, where, at, m, d, under)
	}
	return b.work("apart-"+part, "face "+where+" and the nearest baluster apart at the worst", "D_e", working.Sum(at, m, d, under), allOneWay)
}

// straight is how far apart two places of the run are in a straight line: on a curve the chord.
func (b *builder) straight(along length.Length) length.Length {
	if b.Curve == nil {
		return along
	}
	return b.across(along).chord
}

// ballFigure prints the searched opening at the point found: twice the least distance from the ball's centre to the two faces.
func (b *builder) ballFigure(id, title string, f profile.Found, apart *working.Input) string {
	mm := func(symbol, name string, v float64) working.Expr {
		l := length.Length(v * float64(length.Millimetre))
		return b.found(symbol, name, "found by search over the profiles", l)
	}
	x, z := mm("x", "centre of the ball, across", f.X), mm("z", "centre of the ball, up", f.Z)
	square := func(a, c working.Expr) working.Expr {
		d := working.Difference(a, c)
		return working.Product(d, d)
	}
	distance := func(px, pz working.Expr) working.Expr {
		return working.Root(working.Sum(square(px, x), square(pz, z)))
	}
	left := distance(mm("x_l", "nearest point of the left face, across", f.Left.Out), mm("z_l", "nearest point of the left face, up", f.Left.Z))
	right := distance(mm("x_r", "nearest point of the right face, across", f.Right.Out), mm("z_r", "nearest point of the right face, up", f.Right.Z))
	fig := b.work(id, title, "o", working.Product(working.Constant(2), working.Least(left, right)),
		working.Citation{Text: "largest ball between the two profiles, in the plane through their axes", Status: working.Derived})
	fig.Note = "Found by searching the whole height with the two faces " + b.tape(length.Of(apart.Value, b.sys, length.Nanometre, length.Nearest)) +
		" apart (" + apart.Name + "); no larger ball passes. The opening that is judged, " + b.decimal(f.Opening) + ", is rounded up."
	if b.Rake != nil && !b.Rake.OnTreads {
		fig.Note += " A baluster off its mark stands higher or lower on the rake as well: nearer together was tried too, and the largest ball is the one shown."
	}
	return fig.ID
}

func (b *builder) decimal(l length.Length) string {
	places := 3
	if b.sys == length.Millimetres {
		places = 1
	}
	return length.Style{System: b.sys, Division: length.Nanometre, Rounding: length.Up}.Decimal(l, places) + " " + b.sys.String()
}

// spacer gives the block for stepping gaps, and how far off the last one lands if nobody goes back to the datum.
func (b *builder) spacer() {
	if b.Chosen == nil || b.Chosen.Count == 0 || b.Gap == nil || b.centred() || b.Drilled != nil || b.Curve != nil { // on a curve a block touches at the inner edges only
		return
	}
	division := b.in("d", "division that marks are rounded to", b.div)
	block := b.work("spacer", "spacer block", "g_b", working.RoundTo(b.Gap.In(), division, length.Nearest))
	foot := working.Length("b", "width of a baluster at the foot", b.foot, b.sys, b.footAt)
	last := b.work("last-gap", "gap left at the far end when every gap is stepped with the block", "g_l",
		working.Difference(b.Clear.In(), working.Product(b.countInput(), working.Sum(foot, block.In()))))
	drift := b.work("drift", "how far off that last gap is", "e_g", working.Difference(last.In(), b.Gap.In()))
	b.Spacer = &Spacer{Block: block.Exact(b.sys), LastGap: last.Exact(b.sys), Drift: drift.Exact(b.sys), Figure: drift.ID}
}
