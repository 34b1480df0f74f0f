package layout

import (
	"fmt"
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

// cuts works out every piece of the run: rail, shoe, rosettes, balusters, fillets. What goes between two faces is rounded up and
// fitted; what goes between two grooves or neighbours is rounded down.
func (b *builder) cuts() {
	b.cutHandrail()
	b.railPieces()
	b.cutShoe()
	b.cutRosettes()
	b.cutBalusters()
	b.cutFillets()
}

const leaveLong = "leave it long, then fit it to the marks"

// railReading is the clear that was read where the rail goes.
func (b *builder) railReading() job.Measure {
	if m := b.r.Clear("rail"); m.Given {
		return m
	}
	if b.r.Handrail != nil && b.Levels.RailUnder > 0 {
		for _, c := range b.r.Clears {
			if c.Name == "" && c.Read.Given && c.At.Given && c.At.Length >= b.Levels.RailUnder && c.At.Length <= b.Levels.RailTop {
				return c.Read
			}
		}
	}
	return b.r.Clear("rail")
}

func (b *builder) cutHandrail() {
	rail := b.railReading()
	if !rail.Given {
		b.need("clear length at the height of the handrail", "clear: {rail: }", "length of the handrail, which way an end leans", rail.At)
		return
	}
	if !b.r.From.Where.Given || !b.r.To.Where.Given {
		return
	}
	e := working.Expr(b.in("L_rail", "clear length at the handrail, as read", rail))
	for i, end := range []job.End{b.r.From, b.r.To} {
		over, known := b.overPost(end, strconv.Itoa(i+1), []string{"from", "to"}[i])
		if !known {
			return
		}
		if over != nil {
			e = working.Sum(e, over)
		}
	}
	for i, end := range []struct {
		side string
		e    job.End
	}{{"from", b.r.From}, {"to", b.r.To}} {
		if plateOpen(end.e) {
			return
		}
		if end.e.Plate == nil {
			continue
		}
		if !end.e.Plate.Thick.Given {
			return
		}
		e = working.Difference(e, b.in("r_"+strconv.Itoa(i+1), "thickness of the rosette ("+end.side+")", end.e.Plate.Thick))
	}
	fig := b.work("handrail", "length of the handrail", "l_r", e)
	c := b.cut("handrail", fig, length.Up)
	c.Count, c.Which, c.Fit = 1, "from "+b.endName(b.From, "from")+" to "+b.endName(b.To, "to"), leaveLong
	if h := b.r.Handrail; h != nil {
		c.Part, c.Title = h.Name, h.Title.Text
		switch {
		case b.Curve == nil:
		case h.Wide.Given:
			b.curveSides("handrail", b.in("w_h", "width of the handrail", h.Wide), &c, fig)
		default:
			b.needIn(h.File, "width of the handrail", "wide: ", "its length along the edges of a curve", h.Wide.At)
		}
	}
	b.Handrail = &c
}

func (b *builder) cut(what string, fig *working.Figure, how length.Rounding) Cut {
	return Cut{What: what, Run: b.Name, Exact: fig.Exact(b.sys), Length: fig.Length(b.sys, b.div.Length, how), Rounding: how, Figure: fig.ID}
}

func (b *builder) cutShoe() {
	if b.Clear == nil || b.r.Shoe == nil {
		return
	}
	trim := [2]working.Expr{}
	for i, end := range []struct {
		symbol string
		e      End
		job    job.End
	}{{"t_1", b.From, b.r.From}, {"t_2", b.To, b.r.To}} {
		if end.e.Proud > 0 {
			trim[i] = b.in(end.symbol, "thickness of trim that stays at "+end.e.Name, end.job.Thick)
		}
	}
	b.shoePieces(trim[0], trim[1])
}

func (b *builder) cutRosettes() {
	for _, e := range []job.End{b.r.From, b.r.To} {
		if e.Plate != nil {
			b.Rosettes = append(b.Rosettes, Cut{What: "rosette", Part: e.Plate.Name, Title: e.Plate.Title.Text, Run: b.Name, Count: 1, Exact: e.Plate.Wide.Length, Length: e.Plate.Wide.Length, Rounding: length.Nearest, Which: "between handrail and wall"})
		}
	}
}

func (b *builder) cutBalusters() {
	if b.Chosen == nil || b.Chosen.Count == 0 || !b.Levels.Known || b.fallback {
		return
	}
	part := b.r.Baluster
	add := func(exact length.Length, fig string, k int) {
		b.cutUnder(exact, exact.Round(b.div.Length, length.Down))
		c := Cut{What: "baluster", Part: part.Name, Title: part.Title.Text, Run: b.Name, Exact: exact, Length: exact.Round(b.div.Length, length.Down), Rounding: length.Down, Figure: fig, Fit: trimWords(part, "cut the "+or(part.Trim.Text, "top")+" end")}
		for i := range b.Balusters {
			if b.Balusters[i].Length == c.Length {
				b.Balusters[i].Count++
				b.Balusters[i].Numbers = append(b.Balusters[i].Numbers, k)
				b.Balusters[i].Exact = min(b.Balusters[i].Exact, exact)
				return
			}
		}
		c.Count, c.Numbers = 1, []int{k}
		b.Balusters = append(b.Balusters, c)
	}
	if b.Floor.How != "lengths" {
		for _, f := range b.Figures {
			if f.ID == b.ID+"/baluster" {
				c := b.cut("baluster", f, length.Down)
				b.cutUnder(c.Exact, c.Length)
				c.Part, c.Title, c.Count, c.Which, c.Fit = part.Name, part.Title.Text, b.Chosen.Count, "all", trimWords(part, "cut the "+or(part.Trim.Text, "top")+" end")
				for k := range c.Count {
					c.Numbers = append(c.Numbers, k+1)
				}
				b.Balusters = []Cut{c}
			}
		}
		return
	}
	rows := make([][]exact.Number, len(b.Marks))
	for i, m := range b.Marks {
		rows[i] = []exact.Number{exact.Of(int64(m.K)), b.Floor.at(m.At).In(b.sys)}
	}
	fig := b.series("balusters", "length of each baluster, on the floor where it stands", "l_k", b.lengthExpr(working.Variable("f_k")),
		[]string{"k", "f_k"}, []string{"baluster", "floor there above the floor at the datum end"}, rows)
	for i, row := range fig.Series.Rows {
		add(length.Of(row.Value, b.sys, length.Nanometre, length.Nearest), fig.ID, i+1)
	}
	for i := range b.Balusters {
		b.Balusters[i].Which = ranges(b.Balusters[i].Numbers)
	}
}

// trimWords adds to how a baluster is cut that a pin on the cut end is turned there, where the stick is thicker.
func trimWords(part *job.Baluster, words string) string {
	end, trim := part.Top.Text, or(part.Trim.Text, "top")
	if trim == "bottom" {
		end = part.Bottom.Text
	}
	if end != "pin" {
		return words
	}
	return words + "; its pin is turned on the cut end, where the stick is thicker there"
}

// ranges writes 1, 2, 3, 7 as 1 to 3, 7.
func ranges(list []int) string {
	var out []string
	first, last := 0, -1
	flush := func() {
		switch {
		case last < first:
		case last == first:
			out = append(out, strconv.Itoa(first))
		case last == first+1:
			out = append(out, strconv.Itoa(first), strconv.Itoa(last))
		default:
			out = append(out, fmt.Sprintf("%d to %d", first, last))
		}
	}
	for i, n := range list {
		if i > 0 && n == last+1 {
			last = n
			continue
		}
		flush()
		first, last = n, n
	}
	flush()
	return strings.Join(out, ", ")
}

// cutFillets works out the fillets of both grooves from the rounded marks: between two balusters, spacing less the baluster's
// width at that groove; at the ends from the face, the trim or the rosette. Fillets are counted along their
// groove: where no step parts it, fillet k stands before baluster k.
func (b *builder) cutFillets() {
	none := b.Chosen != nil && b.Chosen.Count == 0 // from end to end then
	if len(b.Marks) == 0 && !none || b.Clear == nil {
		return
	}
	if b.r.ShoeFillet != nil && b.r.ShoePlowed() {
		b.fillets("shoe fillet", "fillets-shoe", "fillets of the shoe", b.foot, b.From.Proud, b.clearLen-b.To.Proud, true)
	}
	if b.r.RailFillet == nil || !b.r.RailPlowed() || b.fallback || b.Rake == nil && !b.Levels.Known {
		return
	}
	at, far := b.railMiddle(), b.railMiddle()
	if k := b.Rake; k != nil {
		at, far = k.RailTop(k.From)-k.Thick/2, k.RailTop(k.To)-k.Thick/2
	}
	first, last := -b.From.recess(at)+b.From.Rosette, b.clearLen+b.To.recess(far)-b.To.Rosette
	settled := b.Lean == nil || b.Lean.Settled || !b.Lean.Out
	if b.Lean != nil && b.Lean.Settled {
		first -= b.Lean.FromRail
		last += b.Lean.ToRail
	}
	b.fillets("rail fillet", "fillets-rail", "fillets of the handrail", b.head, first, last, settled && b.From.Known && b.To.Known && !plateOpen(b.r.From) && !plateOpen(b.r.To))
}

const eachToGap = "cut each to the gap as it stands"

// filletRow is what a fillet lies between: centres of balusters, or the faces of ends and steps.
type filletRow struct {
	k                int
	from, to         length.Length
	fromFace, toFace bool
}

// filletPiece is one fillet worked out, along its middle.
type filletPiece struct {
	k        int
	exact    length.Length
	fig, fit string
}

// filletRows go from where the first one starts to where the last one ends, both from the datum face. A step in the floor parts the
// groove of the shoe.
func (b *builder) filletRows(from, to length.Length, steps []FloorStep, endsKnown bool) []filletRow {
	rows := make([]filletRow, 0, len(b.Marks)+len(steps)+1)
	last, k := filletRow{to: from, toFace: true}, 0
	reach := func(x length.Length, isFace, known bool) {
		k++
		last = filletRow{k, last.to, x, last.toFace, isFace}
		if known {
			rows = append(rows, last)
		}
	}
	for i, m := range b.Marks {
		for len(steps) > 0 && steps[0].At < m.At {
			reach(steps[0].At, true, true)
			steps = steps[1:]
		}
		reach(m.At, false, i > 0 || endsKnown)
	}
	for _, s := range steps {
		reach(s.At, true, true)
	}
	reach(to, true, endsKnown)
	return rows
}

// fillets is one groove's.
func (b *builder) fillets(what, id, title string, width, from, to length.Length, endsKnown bool) {
	var steps []FloorStep
	if what == "shoe fillet" {
		steps = b.stepsInside()
	}
	list := b.filletRows(from, to, steps, endsKnown)
	b.filletPieces(what, id, title, width, list)
	if endsKnown {
		return
	}
	c := Cut{What: what, Part: b.r.FilletOf(what).Name, Title: b.r.FilletOf(what).Title.Text, Run: b.Name, Count: 2, ToFit: true, Which: "the first and the last", Fit: "cut to the opening as it stands: where the face there stands is not settled"}
	switch {
	case len(b.Marks) == 0: // it is the first and the last
		c.Count, c.Which = 1, "the only one"
		b.Fillets = append(b.Fillets, c)
	case len(list) > 0:
		b.Fillets = append(b.Fillets, c)
	}
}

// filletPieces cuts the fillets of one groove, each between two centres or faces.
func (b *builder) filletPieces(what, id, title string, width length.Length, list []filletRow) {
	if len(list) == 0 {
		return
	}
	var pieces []filletPiece
	switch {
	case b.Curve == nil:
		pieces = b.straightFillets(id, title, width, list)
	case what == "shoe fillet":
		pieces = b.curvedFillets(id, title, width, b.footRound(), b.r.Shoe.Plow.Wide, b.r.ShoeFillet, list)
	default:
		pieces = b.curvedFillets(id, title, width, b.headRound(), b.r.Handrail.Plow.Wide, b.r.RailFillet, list)
	}
	var cuts []Cut
	for _, p := range pieces {
		if p.exact <= 0 {
			cure := "read the clears again, or take fewer balusters"
			if len(b.Marks) == 0 {
				cure = "read the clears again; the ends leave nothing between them"
			}
			b.check(id+"-"+strconv.Itoa(p.k), "room for fillet "+strconv.Itoa(p.k)+" ("+what+")", p.exact, finding.Over, 0, b.clearAt(), source.Pos{}, p.fig, cure)
			continue
		}
		long := p.exact.Round(b.div.Length, length.Down)
		if j := slices.IndexFunc(cuts, func(c Cut) bool { return c.Length == long && c.Fit == p.fit }); j >= 0 {
			cuts[j].Count++
			cuts[j].Numbers = append(cuts[j].Numbers, p.k)
			cuts[j].Exact = min(cuts[j].Exact, p.exact)
			continue
		}
		cuts = append(cuts, Cut{What: what, Part: b.r.FilletOf(what).Name, Title: b.r.FilletOf(what).Title.Text, Run: b.Name, Count: 1, Exact: p.exact, Length: long, Rounding: length.Down, Figure: p.fig, Numbers: []int{p.k}, Fit: p.fit, Beveled: [2]bool{b.Rake != nil, b.Rake != nil}})
	}
	for i := range cuts {
		cuts[i].Which = ranges(cuts[i].Numbers)
	}
	b.Fillets = append(b.Fillets, cuts...)
}

// straightFillets are their lengths on a straight run. Between balusters both ends are centres; elsewhere the face stands half a width
// beyond where a centre would.
func (b *builder) straightFillets(id, title string, width length.Length, list []filletRow) []filletPiece {
	left, right := working.Variable("a"), working.Variable("z")
	w := b.found("b", "width of a baluster at that groove", "profile", width)
	gap := working.Difference(right, left, w)
	fit := eachToGap
	if b.Rake != nil {
		gap = working.Product(gap, b.sec())
		fit = "both ends cut at " + b.degrees() + ", parallel; " + fit
	}
	rows, cells := make([][]exact.Number, len(list)), make([]exact.Number, 0, 3*len(list))
	for i, r := range list {
		a, z := r.from, r.to
		if r.fromFace {
			a -= width / 2
		}
		if r.toFace {
			z += width / 2
		}
		cells = append(cells, exact.Of(int64(r.k)), a.In(b.sys), z.In(b.sys))
		rows[i] = cells[3*i : 3*i+3 : 3*i+3]
	}
	fig := b.series(id, title, "f_k", gap, []string{"k", "a", "z"},
		[]string{"fillet", "centre before it (or half a width inside the face)", "centre after it (or half a width beyond the face)"}, rows)
	pieces := make([]filletPiece, 0, len(list))
	for i, r := range fig.Series.Rows {
		pieces = append(pieces, filletPiece{k: list[i].k, exact: length.Of(r.Value, b.sys, length.Nanometre, length.Nearest), fig: fig.ID, fit: fit})
	}
	return pieces
}

// checks are sizes that must go together whatever rules apply.
func (b *builder) checks() {
	b.edges()
	b.joints()
	b.holes()
	b.bores()
	b.turnings()
	part := b.r.Baluster
	if part == nil || !part.Wide.Given {
		return
	}
	switch {
	case b.Rake != nil:
		b.rakeChecks(part)
	case b.Levels.Known && !b.fallback && part.Sized:
		b.checkTrim(part)
	}
	b.plows(part)
	b.hold(part)
	b.checkSteps()
	if b.Floor.How == "scribe" && b.r.Shoe != nil && b.r.Shoe.High.Given {
		b.check("scribe", "shoe left over its plow where the floor is highest", b.r.Shoe.High.Length-b.Floor.Out-b.r.Shoe.Plow.Deep.Length, finding.Over, 0, b.r.FloorOut.At, b.r.Shoe.High.At, "", "take a higher shoe, or give each baluster its own length (floor-out: lengths)")
	}
	if b.r.Most.Given && b.Limit.Op == finding.AtMost && b.Chosen != nil {
		b.check("most", "worst opening of the run against the job's own limit", b.Chosen.Worst, finding.AtMost, b.r.Most.Length, b.r.Most.At, b.r.Most.At, b.WorstFigure(), "more balusters")
	}
}

// checkTrim compares the baluster as bought with what the run needs: long enough, and not trimmed into its turning.
func (b *builder) checkTrim(part *job.Baluster) {
	longest, shortest := length.Length(0), length.Length(0)
	fig := b.ID + "/baluster"
	if b.Floor.How == "lengths" {
		fig = b.ID + "/balusters"
	}
	for _, c := range b.Balusters {
		longest = max(longest, c.Length)
		if shortest == 0 || c.Length < shortest {
			shortest = c.Length
		}
	}
	if longest == 0 {
		return
	}
	b.check("baluster-long", "baluster as bought against the longest that is needed", part.Long.Length, finding.AtLeast, longest, part.Long.At, b.r.Height.Top.At, fig, "order a longer baluster")
	bottom, top := part.Profile.EndBlocks()
	block := top
	if part.Trim.Text == "bottom" {
		block = bottom
	}
	if part.Turned() && part.Long.Length > shortest {
		b.check("trim", "taken off the "+or(part.Trim.Text, "top")+" end against the square block there", part.Long.Length-shortest, finding.AtMost, block, part.Long.At, part.Wide.At, fig, "order a shorter baluster, or trim the other end; the cut would run into the turning")
	}
}

// openMeasures hands the openings to the rules; before there are any, one that says what it waits for.
func (b *builder) openMeasures(openings []Opening) {
	if len(openings) == 0 {
		for _, f := range b.Findings {
			if f.Verdict == finding.Fail { // nothing is missing: a check says why there is no layout
				return
			}
		}
		b.Measures = append(b.Measures, finding.Measure{Limit: b.openLimit(), Subject: "worst opening of the run", Group: b.ID, Missing: "the readings that the layout waits for"})
		return
	}
	cure := b.openingCure()
	for i, o := range openings {
		if b.Rake != nil && !b.Rake.Measured { // nothing that rests on even treads is more than a plan
			o.Known, openings[i].Known = false, false
		}
		if b.waistless() {
			o.Known, openings[i].Known = false, false
		}
		m := finding.Measure{Limit: or(o.limit, b.openLimit()), Subject: "worst opening " + o.Where, Group: b.ID, Value: o.Worst, Known: o.Known, Figure: o.Figure, Cure: cure, At: b.clearAt(), Missing: "the shape of the end, and the heights of rail and baluster beside it"}
		switch {
		case b.Rake != nil && !b.Rake.Measured:
			m.Missing = "each riser and going by itself"
		case b.Rake != nil && b.openRisers() && !b.r.Stair.OpenRisers.Given:
			m.Missing = "whether there are risers between the treads"
		case b.Rake != nil && b.openRisers():
			m.Missing = "how far a ball dips under the nosings, where there are no risers; gauge it on the stair"
		case b.waistless():
			m.Missing = "the waist of the balusters that came in another width than the part's file has"
		}
		if b.fallback {
			m.Note = "for the whole baluster as bought, until its place between rail and shoe is known"
		}
		if o.Part != "between" && b.Lean == nil && !b.shapeOpen() {
			m.Note = joinNotes(m.Note, "the clear was read at one height only: an end that leans away widens this")
		}
		if !b.tolerance().Season.Given {
			m.Note = joinNotes(m.Note, "season not counted")
		}
		b.Measures = append(b.Measures, m)
	}
}

func (b *builder) clearAt() source.Pos {
	if s := b.r.Stair; s != nil {
		return s.Level.Or(b.r.To.Past).Or(b.r.To.Before).Or(b.r.From.Past).Or(b.r.From.Before).At
	}
	return b.floorReading().At
}
