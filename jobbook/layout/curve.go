package layout

import (
	"math"
	"slices"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// curve takes the radius of a curved run, and works out the angle that it turns through. It reports false where there can be no layout:
// the radius is still to be read, or no run can have it.
func (b *builder) curve() bool {
	m := b.r.Radius
	if !m.Given {
		if m.At.IsZero() {
			return true
		}
		b.need("radius of the curve, at the line of the balusters", "radius: ", "openings, lengths of rail and shoe along their edges", m.At)
		return false
	}
	what, wide := "what stands on it", length.Length(0)
	var set source.Pos
	widest := func(name string, l length.Length, at source.Pos) {
		if l > wide {
			what, wide, set = name, l, at
		}
	}
	if h := b.r.Handrail; h != nil {
		widest("the handrail", h.Wide.Length, h.Wide.At)
	}
	if s := b.r.Shoe; s != nil {
		widest("the shoe", s.Wide.Length, s.Wide.At)
	}
	if p := b.r.Baluster; p != nil {
		widest("a baluster", p.Wide.Length, p.Wide.At)
	}
	b.check("radius", "radius at the line of the balusters, against half the width of "+what, m.Length, finding.Over, wide/2, m.At, set, "", "read the radius again, at the line of the balusters")
	if m.Length <= wide/2 {
		return false
	}
	b.Curve = &Curve{Radius: m.Length}
	if b.Clear == nil {
		return true
	}
	circle := b.work("circle", "the whole circle at the line of the balusters", "C", working.Product(working.Constant(2), working.Pi(), b.radius()))
	b.check("circle", "clear along the curve, against the whole circle", b.clearLen, finding.AtMost, circle.Exact(b.sys), b.clearAt(), m.At, circle.ID, "read the radius and the clear again, both at the line of the balusters")
	if b.clearLen > circle.Exact(b.sys) {
		b.Curve = nil
		return false
	}
	b.Curve.Angle = b.plainWork("turns", "angle that the run turns through", "w", "degrees",
		working.Quotient(working.Product(working.Quotient(b.Clear.In(), b.radius()), working.Constant(180)), working.Pi()))
	return true
}

func (b *builder) radius() *working.Input {
	return b.in("R", "radius at the line of the balusters", b.r.Radius)
}

// half is half the angle, in radians, that two places see each other under from the middle of the curve: s / 2R. Beyond half a turn
// no chord is longer than the one across.
func (b *builder) half(along working.Expr) working.Expr {
	h := working.Quotient(along, working.Product(working.Constant(2), b.radius()))
	right := working.Quotient(working.Pi(), working.Constant(2))
	if x, y := working.Work("", "", "", "", h), working.Work("", "", "", "", right); x.Value.Known() && x.Value.Cmp(y.Value) > 0 {
		return working.Least(h, right)
	}
	return h
}

// chordOf is 2R·sin(s / 2R).
func (b *builder) chordOf(along working.Expr) working.Expr {
	return working.Product(working.Constant(2), b.radius(), working.Sine(b.half(along)))
}

// across is two places on the curve as they see each other: in a straight line, and the sine and the cosine of half the angle between them.
type across struct {
	chord    length.Length // rounded up
	sin, cos float64
}

func (b *builder) across(along length.Length) across {
	s := b.found("s", "", "", along)
	value := func(e working.Expr) float64 {
		f := working.Work("", "", "", "", e)
		if !f.Value.Known() {
			return 0
		}
		v := f.Value.Float64()
		return v
	}
	chord := working.Work("", "", "", "", b.chordOf(s))
	return across{chord.Length(b.sys, length.Nanometre, length.Up), value(working.Sine(b.half(s))), value(working.Cosine(b.half(s)))}
}

// inside is what is left between two balusters of a width, at the least: squares set radially come nearest at their inner corners, round
// ones are further apart.
func (b *builder) inside(along, wide length.Length) length.Length {
	at := b.across(along)
	return at.chord - length.Length(math.Ceil(wide.Float()*(at.sin+at.cos)*float64(length.Millimetre)))
}

// throughCurve is the largest sphere that passes between two sides on a curve. Balusters are set radially, and are thinner by what they may
// be under their width. A sphere on its way crosses every upright plane that lies along the chord: the one through both axes, and those
// through the inner corners of the squares, where these are nearest to each other. What does not pass one of them does not pass.
func (b *builder) throughCurve(left, right shape, low, high length.Length, p passage, worst bool) (least profile.Found) {
	centre, width := length.Length(0), length.Length(0)
	if worst {
		centre, width = b.slack()
	}
	slant := func(at across) float64 { return 1 / max(at.cos, 0.01) }
	if p.place != amidst { // the near half of the baluster as it is: an end's face may stand at any angle to the chord
		at := b.across(p.apart() + centre)
		apart := at.chord
		if worst {
			apart += (width + 1) / 2
		}
		l, r := left.face, right.face
		if p.step > 0 {
			l, r = b.stepped(left, right, p, worst, apart, slant(at), 0)
		}
		return opening(l, r, apart, low, high)
	}
	at := b.across(p.apart() + 2*centre)
	for i, t := range append([]float64{0}, corners(at, width, low, high, left, right)...) {
		left.face, right.face = left.section(at, t, width), right.section(at, t, width)
		l, r := left.face, right.face
		if p.step > 0 {
			l, r = b.stepped(left, right, p, worst, at.chord, slant(at), float64(t*at.sin*slant(at)))
		}
		if f := opening(l, r, at.chord, low, high); i == 0 || f.Opening < least.Opening {
			least = f
		}
	}
	return least
}

// corners are how far inside the plane through the axes, in mm, the inner corners of the squares lie that are seen between two heights.
func corners(at across, under, low, high length.Length, sides ...shape) (list []float64) {
	if at.sin >= at.cos { // they stand at half a right angle or more, and hide behind each other's sides
		return nil
	}
	for _, s := range sides {
		for i := 1; i < len(s.of.Stations); i++ {
			a, b := s.of.Stations[i-1], s.of.Stations[i]
			if a.Round || b.Round || b.At+s.up < low || a.At+s.up > high {
				continue
			}
			for _, w := range []length.Length{a.Width, b.Width} {
				if t := (w - under).Float() / 2 * (at.cos - at.sin); t > 0 {
					list = append(list, t)
				}
			}
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// section is a baluster's face towards its neighbour, in the upright plane along the chord that lies t mm inside the axes. A round part
// shows a chord of itself there; a square one is cut slantwise. Where a part does not reach that plane nothing of it is counted, and of one
// that turns from square into round no more than a round one has.
func (s shape) section(at across, t float64, under length.Length) profile.Face {
	var f profile.Face
	const near = 1e-9 // mm: float noise on a corner that lies just in the plane
	out := func(w length.Length, round bool) (float64, bool) {
		half := (w - under).Float() / 2
		switch {
		case round && t == 0:
			return half, true
		case round:
			return math.Sqrt(max(0, float64(half*half)-float64(t*t))), half >= t
		case at.sin >= at.cos:
			return half / at.sin, true
		}
		return half/at.cos + float64(t*(at.sin/at.cos)), float64(half*(at.cos-at.sin)) >= t-near
	}
	for i := 1; i < len(s.of.Stations); i++ {
		a, b := s.of.Stations[i-1], s.of.Stations[i]
		if a.At == b.At {
			continue
		}
		round := a.Round || b.Round
		x, okA := out(a.Width, round)
		y, okB := out(b.Width, round)
		if !okA || !okB {
			x, y = -at.chord.Float(), -at.chord.Float()
		}
		f.Points = append(f.Points, profile.Point{Out: x, Z: (a.At + s.up).Float()}, profile.Point{Out: y, Z: (b.At + s.up).Float()})
	}
	return f
}

// roundAt reports whether a baluster is round just above a height of its own.
func roundAt(p profile.Profile, z length.Length) bool {
	for i := 1; i < len(p.Stations); i++ {
		if a, b := p.Stations[i-1], p.Stations[i]; a.At <= z && z < b.At {
			return a.Round && b.Round
		}
	}
	return false
}

// footRound and headRound are whether balusters are round where they are seen last, below and above.
func (b *builder) footRound() bool {
	s := b.shapes[0]
	return roundAt(s.of, s.low-s.up)
}

func (b *builder) headRound() bool {
	s := b.shapes[0]
	return roundAt(s.of, s.high-s.up)
}

// inner is the gap between two balusters on a curve: what a square of width w leaves at its inner corners, and what a round one leaves.
func (b *builder) inner(along, w working.Expr, round bool) working.Expr {
	if round {
		return working.Difference(b.chordOf(along), w)
	}
	two := working.Constant(2)
	return working.Difference(
		working.Product(two, working.Difference(b.radius(), working.Quotient(w, two)), working.Sine(b.half(along))),
		working.Product(w, working.Cosine(b.half(along))))
}

// footGap is the gap between two balusters at the foot, by the rounded marks; on a curve where they are nearest.
func (b *builder) footGap(id string, spacing length.Length) length.Length {
	if b.Curve == nil {
		return spacing - b.foot
	}
	s := b.found("s_w", "widest spacing of the rounded marks, along the curve", "marks", spacing)
	s.Figure = b.ID + "/marks"
	foot := working.Length("b", "width of a baluster at the foot", b.foot, b.sys, b.footAt)
	title := "gap between two balusters at the foot, at their inner corners, by the rounded marks"
	if b.footRound() {
		title = "gap between two balusters at the foot, by the rounded marks"
	}
	return b.work("foot-"+id, title, "g_i", b.inner(s, foot, b.footRound())).Exact(b.sys)
}

// chordBetween works out how far apart two neighbours' axes are at the worst, and what their halves take of it.
func (b *builder) chordBetween(id string, spacing, mark, drill *working.Input) *working.Figure {
	two := working.Constant(2)
	arc := b.work("arc-"+id, "two balusters apart at the worst, along the curve: every error the bad way", "s_a", working.Sum(spacing, working.Product(two, working.Sum(mark, drill))), allOneWay)
	b.plainWork("half-angle-"+id, "half the angle between them", "h", "radians", b.half(arc.In()))
	chord := b.work("apart-"+id, "their axes apart at the worst, in a straight line: the chord", "D", b.chordOf(arc.In()))
	_, _, width, season := b.errors()
	s := b.shapes[0]
	part := func(round bool) (widest length.Length) {
		for i := 1; i < len(s.of.Stations); i++ {
			if a, z := s.of.Stations[i-1], s.of.Stations[i]; (a.Round && z.Round) == round && z.At+s.up > s.low && a.At+s.up < s.high {
				widest = max(widest, a.Width, z.Width)
			}
		}
		return widest
	}
	if w := part(false); w > 0 {
		thin := working.Quotient(working.Difference(b.found("w_q", "widest square of a baluster", "profile", w), width, season), two)
		b.work("half-square-"+id, "half width of a square baluster set radially, as its neighbour meets it", "w_s",
			working.Product(thin, working.Sum(working.Sine(b.half(arc.In())), working.Cosine(b.half(arc.In())))))
	}
	if w := part(true); w > 0 {
		b.work("half-round-"+id, "half width of a round baluster", "w_r", working.Quotient(working.Difference(b.found("w_t", "widest turning of a baluster", "profile", w), width, season), two))
	}
	return chord
}

// chordEnd works out how far an end's face and the nearest axis are apart at the worst.
func (b *builder) chordEnd(part, where string, reach, mark, drill *working.Input, under working.Expr) *working.Figure {
	arc := b.work("arc-"+part, "face "+where+" and the nearest baluster apart at the worst, along the curve", "s_e", working.Sum(reach, mark, drill), allOneWay)
	fig := b.work("apart-"+part, "face "+where+" and the nearest baluster apart at the worst, in a straight line", "D_e", working.Sum(b.chordOf(arc.In()), under), allOneWay)
	fig.Note = "Taken from the end's face to the axis, with the near half of the baluster as it is: whichever way that face stands to the chord, no more is open."
	return fig
}

// filletOf is a fillet between two squares set radially, from corner to corner along a line that lies q from the middle of the curve:
// 2·√(q² - b²/4)·sin h - b·cos h, for the sides of a square stand square across its own radius. Of round ones it is the chord less b.
func (b *builder) filletOf(q, along, w working.Expr, round bool) working.Expr {
	if round {
		return working.Difference(b.chordOf(along), w)
	}
	two := working.Constant(2)
	side := working.Quotient(w, two)
	reach := working.Root(working.Difference(working.Product(q, q), working.Product(side, side)))
	return working.Difference(working.Product(two, reach, working.Sine(b.half(along))), working.Product(w, working.Cosine(b.half(along))))
}

// curvedFillets are the lengths of fillets on a curve: between two balusters along the middle of the groove and along both its edges, and
// beside an end or a step along the middle alone.
func (b *builder) curvedFillets(id, title string, width length.Length, round bool, groove job.Measure, fillet *job.Fillet, rows []filletRow) []filletPiece {
	var between, beside [][]exact.Number
	var pieces []filletPiece
	left, right := working.Variable("a"), working.Variable("z")
	along := working.Difference(right, left)
	w := b.found("b", "width of a baluster at that groove", "profile", width)
	for _, r := range rows {
		row := []exact.Number{exact.Of(int64(r.k)), r.from.In(b.sys), r.to.In(b.sys)}
		switch {
		case !r.fromFace && !r.toFace:
			between = append(between, row)
		case r.fromFace && r.toFace:
			beside = append(beside, append(row, exact.Of(0)))
		default:
			beside = append(beside, append(row, exact.Of(1)))
		}
	}
	vars, names := []string{"k", "a", "z"}, []string{"fillet", "centre before it", "centre after it"}
	exact := func(r working.Row) length.Length { return length.Of(r.Value, b.sys, length.Nanometre, length.Nearest) }
	if len(between) > 0 {
		middle := b.series(id, title+", along the middle", "f_k", b.filletOf(b.radius(), along, w, round), vars, names, between)
		for _, r := range middle.Series.Rows {
			k, _ := r.Vars[0].Int64()
			pieces = append(pieces, filletPiece{k: int(k), exact: exact(r), fig: middle.ID, fit: "the ends are coped to the turnings; " + eachToGap})
		}
		wide := groove
		name := "width of the groove"
		if !wide.Given {
			wide, name = fillet.Wide, "width of the fillet"
		}
		if !round {
			for i := range pieces {
				pieces[i].fit = "it tapers to the inside of the curve; " + eachToGap
			}
		}
		if !round && wide.Given && wide.Length < 2*b.Curve.Radius {
			half := working.Quotient(b.in("w_g", name, wide), working.Constant(2))
			inner := b.series(id+"-inner", title+", along the inner edge", "f_i", b.filletOf(working.Difference(b.radius(), half), along, w, round), vars, names, between)
			outer := b.series(id+"-outer", title+", along the outer edge", "f_o", b.filletOf(working.Sum(b.radius(), half), along, w, round), vars, names, between)
			down := func(r working.Row) string { return b.tape(exact(r).Round(b.div.Length, length.Down)) }
			for i := range pieces {
				pieces[i].fit = "it tapers: " + down(inner.Series.Rows[i]) + " along its inner edge, " + down(outer.Series.Rows[i]) + " along its outer; " + eachToGap
			}
		}
	}
	if len(beside) > 0 {
		fig := b.series(id+"-ends", title+", beside an end or a step, along the middle", "f_e",
			working.Difference(b.chordOf(along), working.Quotient(working.Product(working.Variable("j"), w), working.Constant(2))),
			[]string{"k", "a", "z", "j"}, []string{"fillet", "centre or face before it", "centre or face after it", "balusters that it lies against"}, beside)
		for _, r := range fig.Series.Rows {
			k, _ := r.Vars[0].Int64()
			pieces = append(pieces, filletPiece{k: int(k), exact: exact(r), fig: fig.ID, fit: "the face that it meets decides the angle of that end; " + eachToGap})
		}
	}
	slices.SortFunc(pieces, func(x, y filletPiece) int { return x.k - y.k })
	return pieces
}

// curveNote is added to what an opening on a curve says of itself.
const curveNote = " Balusters are set radially, and thinner by what they may be under their width. The ball is searched in the upright planes along the chord, through both axes and through the inner corners of the squares: it has to pass every one of them, so the narrowest counts."

// curveSides works out the developed lengths of a piece along its two edges, and says them with the piece.
func (b *builder) curveSides(what string, wide working.Expr, c *Cut, fig *working.Figure) {
	half := working.Quotient(wide, working.Constant(2))
	edge := func(id, name, symbol string, r working.Expr) *working.Figure {
		f := b.work(id, what+" along its "+name+" edge", symbol, working.Quotient(working.Product(fig.In(), r), b.radius()))
		b.Curve.Sides = append(b.Curve.Sides, CurveSide{what + ", " + name + " edge", f})
		return f
	}
	id := fig.ID[len(b.ID)+1:]
	inner := edge(id+"-inner", "inner", fig.Symbol+"_i", working.Difference(b.radius(), half))
	b.Curve.Sides = append(b.Curve.Sides, CurveSide{what + ", middle", fig})
	outer := edge(id+"-outer", "outer", fig.Symbol+"_o", working.Sum(b.radius(), half))
	at := func(f *working.Figure) string { return b.tape(f.Length(b.sys, b.div.Length, length.Up)) }
	c.Fit = "bent, laminated or sawn to the curve: the length is along the middle, " + at(inner) + " along the inner edge and " + at(outer) + " along the outer; " + c.Fit
}
