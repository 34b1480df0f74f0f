package layout

import (
	"cmp"
	"slices"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/working"
)

// keptPlaces are the centres of n new balusters in an old gap, each one exact quotient, rounded once where it is marked: on a flight along the rake.
func (b *builder) keptPlaces(g *OldGap, n int) []length.Length {
	list := make([]length.Length, n)
	for j := range list { // From + j·(G + b)/(n + 1) - b/2
		share := exact.New(int64(j+1), int64(n+1)).Mul(exact.Of(int64(g.To - g.From + b.foot)))
		at := share.Add(exact.Of(int64(g.From))).Sub(exact.New(int64(b.foot), 2))
		if b.Rake == nil {
			list[j] = length.Rounded(at, b.div.Length, length.Nearest)
			continue
		}
		list[j] = b.levelOf(length.Rounded(at.Mul(b.Rake.Secant.Value), b.div.Length, length.Nearest))
	}
	return list
}

// sidesOf are what stands in an old gap with new balusters in it, from the datum on.
func (g *OldGap) sidesOf(places []length.Length) []keptSide {
	list := []keptSide{g.leftSide}
	for _, x := range places {
		list = append(list, keptSide{kind: newSide, x: x})
	}
	return append(list, g.rightSide)
}

// keptRoomLeft is the least room beside a new baluster, at the foot or under the rail.
func (b *builder) keptRoomLeft(sides []keptSide) (room length.Length) {
	for i := 1; i < len(sides); i++ {
		foot, head := b.faceAt(sides[i-1], 1)
		footTo, headTo := b.faceAt(sides[i], -1)
		if least := min(footTo-foot, headTo-head); i == 1 || least < room {
			room = least
		}
	}
	return room
}

// keptWorst is the worst opening of an old gap with what stands in it.
func (b *builder) keptWorst(g *OldGap, sides []keptSide) (worst length.Length) {
	for i := 1; i < len(sides); i++ {
		worst = max(worst, b.keptBall(g, sides[i-1], sides[i], true).Opening)
	}
	return worst
}

// fewest finds the fewest new balusters for an old gap; -1 where no number passes with room to fix them.
func (b *builder) fewest(g *OldGap) {
	g.Least, g.TooTight = -1, false
	if b.Limit.Op.Holds(g.Found, b.Limit.Value) {
		g.Least = 0
		return
	}
	for n := 1; n <= mostCounts; n++ {
		sides := g.sidesOf(b.keptPlaces(g, n))
		room := b.keptRoomLeft(sides)
		if room <= 0 {
			return
		}
		if b.Limit.Op.Holds(b.keptWorst(g, sides), b.Limit.Value) {
			if g.TooTight = room < b.job.Shop.Room.Length; g.TooTight {
				g.Room = room
			} else {
				g.Least = n
			}
			return
		}
	}
}

// alikeGap is how near the widths of two old gaps are for the eye to take them for alike; common practice, no source.
const alikeGap = length.Inch / 2

// fill takes a number for every old gap: the fewest that pass, and in gaps between two old balusters that look alike the same.
func (b *builder) fill() {
	k := b.Kept
	var open []*OldGap // between two old ones, and needing something
	for i := range k.Gaps {
		g := &k.Gaps[i]
		b.fewest(g)
		g.New = max(g.Least, 0)
		if g.Least > 0 && g.leftSide.kind == oldSide && g.rightSide.kind == oldSide {
			open = append(open, g)
		}
	}
	slices.SortStableFunc(open, func(x, y *OldGap) int { return cmp.Compare(y.Foot, x.Foot) })
	for len(open) > 0 {
		n := 1
		for n < len(open) && open[0].Foot-open[n].Foot <= alikeGap {
			n++
		}
		most := 0
		for _, g := range open[:n] {
			most = max(most, g.Least)
		}
		for _, g := range open[:n] {
			sides := g.sidesOf(b.keptPlaces(g, most))
			if most > g.Least && b.keptRoomLeft(sides) >= b.job.Shop.Room.Length && b.Limit.Op.Holds(b.keptWorst(g, sides), b.Limit.Value) {
				g.New, g.Alike = most, true
			}
		}
		open = open[n:]
	}
	for i := range k.Gaps {
		g := &k.Gaps[i]
		g.places = b.keptPlaces(g, g.New)
		sides := g.sidesOf(g.places)
		g.Worst = b.keptWorst(g, sides)
		if g.New > 0 {
			g.Room = b.keptRoomLeft(sides)
		}
		k.Added += g.New
		if i == 0 || g.Worst < k.Least {
			k.Least = g.Worst
		}
		k.Most = max(k.Most, g.Worst)
		if g.Least < 0 {
			b.noneFits(g)
		}
	}
}

// noneFits says what to do about an old gap that no number of new balusters cures.
func (b *builder) noneFits(g *OldGap) {
	f := finding.Finding{
		ID: "check/" + b.ID + "/old-gap-" + strconv.Itoa(g.N), Group: b.ID, Verdict: finding.Fail, At: b.r.Standing.FootAt, Status: working.Derived, Rules: b.Limit.From,
		Title: "old gap " + strconv.Itoa(g.N) + ", " + g.Where + ": no number of these new balusters keeps every opening " + b.Limit.Op.String() + " " + b.tape(b.Limit.Value),
		Cure:  "take out an old baluster beside it and lay both gaps out again, or replace this guard",
	}
	if g.TooTight {
		f.Title += " and leaves room to fix them: " + b.tape(g.Room) + " beside them, and " + b.tape(b.job.Shop.Room.Length) + " is wanted"
		f.Cure = "take a narrower new baluster; " + f.Cure
	}
	b.Findings = append(b.Findings, f)
}

// takeKept sets what is built, as a count of new balusters.
func (b *builder) takeKept() {
	k := b.Kept
	k.Wide = b.foot
	c := Candidate{Count: k.Added, Judged: true, Unconfirmed: b.Limit.Unconfirmed, Chosen: true}
	pass := true
	for i := range k.Gaps {
		g := &k.Gaps[i]
		c.Unmeasured = c.Unmeasured || !g.Known || b.waistless()
		pass = pass && g.Least >= 0
		if g.Worst > c.Worst {
			c.Worst, c.Where = g.Worst, g.Where
		}
		sides := g.sidesOf(g.places)
		for j := 1; j < len(sides); j++ {
			from, _ := b.faceAt(sides[j-1], 1)
			to, _ := b.faceAt(sides[j], -1)
			if c.Gap = max(c.Gap, to-from); g.N == 1 && j == 1 {
				c.EndGap = to - from
			}
		}
	}
	c.Spacing = c.Gap + b.foot
	c.Passes = pass && b.Limit.Op.Holds(c.Worst, b.Limit.Value)
	b.Candidates = []Candidate{c}
	b.Chosen = &b.Candidates[0]
	if c.Passes {
		b.Least = c.Count
	}
	b.Why = "between " + strconv.Itoa(len(k.Old)) + " old balusters that stay: in each gap the fewest whose worst opening is " + b.Limit.Op.String() + " " + b.tape(b.Limit.Value) + " (" + b.Limit.From + "), the same number in gaps that look alike"
	b.kept.ready = true
}

// keptMarks marks the new balusters: each from the datum face, one exact quotient of its old gap, rounded once.
func (b *builder) keptMarks() {
	if !b.kept.ready || b.Kept.Added == 0 {
		return
	}
	foot := working.Length("b", "width of a new baluster at the foot", b.foot, b.sys, b.footAt)
	division := b.in("d", "division that marks are rounded to", b.div)
	if b.div.At.IsZero() {
		division.From = "tape"
	}
	one, two := working.Constant(1), working.Constant(2)
	v := working.Variable
	centre := working.Difference(
		working.Sum(v("a_i"), working.Quotient(working.Product(v("j"), working.Sum(working.Difference(v("z_i"), v("a_i")), foot)), working.Sum(v("n_i"), one))),
		working.Quotient(foot, two))
	title := "centre of each new baluster from the datum face, rounded once"
	if b.Rake != nil {
		centre = working.Product(centre, b.sec())
		title = "centre of each new baluster along the rake from the datum face, rounded once"
	}
	var rows [][]exact.Number
	for _, g := range b.Kept.Gaps {
		for j := range g.places {
			rows = append(rows, []exact.Number{exact.Of(int64(len(rows) + 1)), exact.Of(int64(g.N)), g.From.In(b.sys), g.To.In(b.sys), exact.Of(int64(j + 1)), exact.Of(int64(g.New))})
		}
	}
	b.MarkFig = b.series("marks", title, "m_k", working.RoundTo(centre, division, length.Nearest),
		[]string{"k", "i", "a_i", "z_i", "j", "n_i"}, []string{"new baluster", "old gap, counted from the datum end", "face before the gap, level", "face after it, level", "which one in the gap", "new ones in the gap"}, rows)
	b.MarkFig.Note = "The datum is the face at " + b.endName(b.From, "from") + ". An old gap is divided between the faces where they stand farthest apart, at the foot or under the rail."
	k := 0
	for _, g := range b.Kept.Gaps {
		for _, at := range g.places {
			along := length.Of(b.MarkFig.Series.Rows[k].Value, b.sys, length.Nanometre, length.Nearest)
			k++
			if b.Rake == nil {
				b.Marks = append(b.Marks, Mark{K: k, Gap: g.N, At: at, Shoe: (at - b.From.Proud).Round(b.div.Length, length.Nearest), Plumbed: true})
				continue
			}
			x := b.Rake.From + at
			stands := b.Rake.ShoeTop(x)
			bottom, long := b.keptLong(g.Between)
			lift := stands + bottom
			if b.r.Baluster.Trim.Text == "bottom" {
				lift -= b.stick.Long() - long
			}
			b.Marks = append(b.Marks, Mark{K: k, Gap: g.N, At: at, Along: along, Shoe: (along - b.along(b.From.Proud)).Round(b.div.Length, length.Nearest), Plumbed: true, Stands: stands, Lift: lift, Head: stands + g.Between})
		}
	}
}

// keptOpenings are the worst opening of each sort: beside the ends, in old gaps left as they are, between an old baluster and a new one, between
// two new ones; and every old gap that no number cures.
func (b *builder) keptOpenings() {
	if !b.kept.ready {
		b.openMeasures(nil)
		return
	}
	type sort struct {
		id, part, where string
		g               *OldGap
		l, r            keptSide
		worst           profile.Found
		found           bool
	}
	sorts := []sort{
		{id: "from", part: "from"}, {id: "left", part: "between"}, {id: "old", part: "between"}, {id: "new", part: "between"}, {id: "to", part: "to"},
	}
	for i := range b.Kept.Gaps {
		g := &b.Kept.Gaps[i]
		sides := g.sidesOf(g.places)
		for j := 1; j < len(sides); j++ {
			l, r := sides[j-1], sides[j]
			n, where := 1, g.Where+", left as it is"
			switch {
			case l.kind == endSide:
				n, where = 0, "at "+b.endName(b.From, "from")
			case r.kind == endSide:
				n, where = 4, "at "+b.endName(b.To, "to")
			case l.kind == newSide && r.kind == newSide:
				n, where = 3, "between two new balusters, gap "+strconv.Itoa(g.N)
			case l.kind == newSide || r.kind == newSide:
				n, where = 2, "between an old baluster and a new one, gap "+strconv.Itoa(g.N)
			}
			if g.Least < 0 {
				where += ", where no new one cures it"
			}
			f := b.keptBall(g, l, r, true)
			if s := &sorts[n]; !s.found || f.Opening > s.worst.Opening {
				*s = sort{s.id, s.part, where, g, l, r, f, true}
			}
			if g.Least < 0 && n == 1 {
				sorts = append(sorts, sort{"gap-" + strconv.Itoa(g.N), "between", where, g, l, r, f, true})
			}
		}
	}
	for i, s := range sorts {
		if !s.found || i == 1 && s.g.Least < 0 { // listed by itself
			continue
		}
		from, _ := b.faceAt(s.l, 1)
		to, _ := b.faceAt(s.r, -1)
		title := "worst opening " + s.where
		fig := b.ballFigure("opening-"+s.id, title, s.worst, b.keptApart(s.id, s.where, s.l, s.r).As("D"))
		b.Openings = append(b.Openings, Opening{Where: s.where, Part: s.part, Foot: to - from, Nominal: b.keptBall(s.g, s.l, s.r, false).Opening, Worst: s.worst.Opening, Found: s.worst, Known: s.g.Known, Figure: fig, At: s.l.x})
	}
	b.openMeasures(b.Openings)
	for i := range b.Measures {
		m := &b.Measures[i]
		if m.Limit != b.openLimit() {
			continue
		}
		m.At = b.r.Standing.FootAt
		if !slices.ContainsFunc(b.Kept.Old, func(o OldBaluster) bool { return o.Leans }) {
			m.Note = joinNotes(m.Note, "the old balusters were read at the shoe only and are taken as plumb: one that leans widens a gap")
		}
	}
}

// keptApart is how far apart two sides are at the worst: every error the bad way. An old one was read and not drilled for.
func (b *builder) keptApart(id, where string, l, r keptSide) *working.Figure {
	m, d, w, s := b.errors()
	at := b.found("s_w", "the two sides apart, by the rounded marks and the readings, "+where, "marks and readings", r.x-l.x)
	terms := []working.Expr{at}
	old := b.in("e_s", "shrinkage of an old baluster's width over the year", b.job.Tolerance.Season)
	if b.kept.season != nil {
		old = b.kept.season.In()
	}
	width := b.in("e_o", "how much narrower an old baluster may be than the one that was gauged", b.job.Tolerance.Width)
	half := func(x, y working.Expr) working.Expr { return working.Quotient(working.Sum(x, y), working.Constant(2)) }
	for _, side := range []keptSide{l, r} {
		switch side.kind {
		case newSide:
			terms = append(terms, m, d, half(w, s))
		case oldSide:
			terms = append(terms, m, half(width, old))
		}
	}
	return b.work("apart-"+id, "the two sides apart at the worst", "D", working.Total(terms), allOneWay)
}

// keptCuts are the pieces of a guard that stays: the new balusters, and the fillets of the gaps that they go into. Nothing else is cut.
func (b *builder) keptCuts() {
	if !b.kept.ready || len(b.Marks) == 0 {
		return
	}
	part := b.r.Baluster
	rows := make([][]exact.Number, len(b.Marks))
	for i, m := range b.Marks {
		rows[i] = []exact.Number{exact.Of(int64(m.K)), b.Kept.Gaps[m.Gap-1].Between.In(b.sys)}
	}
	title := "length of each new baluster, by what was read between shoe and rail"
	if b.Rake != nil {
		title += ", at its axis"
	}
	fig := b.series("baluster", title, "l_k", b.keptLength(working.Variable("B_k")), []string{"k", "B_k"}, []string{"new baluster", "between shoe and rail, plumb, in its gap"}, rows)
	for i, row := range fig.Series.Rows {
		exact := length.Of(row.Value, b.sys, length.Nanometre, length.Nearest)
		c := Cut{What: "baluster", Part: part.Name, Title: part.Title.Text, Run: b.Name, Count: 1, Exact: exact, Length: exact.Round(b.div.Length, length.Down), Rounding: length.Down, Figure: fig.ID, Numbers: []int{i + 1},
			Fit: trimWords(part, "cut the "+or(part.Trim.Text, "top")+" end")}
		b.cutUnder(exact, c.Length)
		j := slices.IndexFunc(b.Balusters, func(o Cut) bool { return o.Length == c.Length })
		if j < 0 {
			b.Balusters = append(b.Balusters, c)
			continue
		}
		b.Balusters[j].Count++
		b.Balusters[j].Numbers = append(b.Balusters[j].Numbers, i+1)
		b.Balusters[j].Exact = min(b.Balusters[j].Exact, exact)
	}
	for i := range b.Balusters {
		c := &b.Balusters[i]
		c.Which = ranges(c.Numbers)
		if b.Rake != nil {
			b.points(c)
		}
		c.Fit += "; cut one, try it in its gap, then the rest"
	}
	if b.Rake != nil {
		b.pointFigure()
	}
	b.keptFillets()
}

// keptGroove is where a fillet meets a face: at an end the trim that stays, or what the rail meets.
func (b *builder) keptGroove(s keptSide, way length.Length, head bool) length.Length {
	foot, top := b.faceAt(s, way)
	if s.kind == endSide {
		e, lean := b.From, length.Length(0)
		if s.place == atFar {
			e = b.To
		}
		if l := b.Lean; l != nil && l.Settled {
			lean = []length.Length{l.FromRail, l.ToRail}[s.place]
		}
		foot = s.x + way*e.Proud
		top = s.x + way*(e.Rosette-e.recess(b.keptRail(s.x))-lean)
	}
	if head {
		return top
	}
	return foot
}

// keptRail is the height of the old rail's middle, at a place from the datum face.
func (b *builder) keptRail(x length.Length) length.Length {
	if k := b.Rake; k != nil {
		return k.RailTop(k.From+x) - k.Thick/2
	}
	return b.railMiddle()
}

// keptFillets are the fillets of the gaps that new balusters go into: the old ones there come out.
func (b *builder) keptFillets() {
	rows := func(head bool) (list []filletRow) {
		k := 0
		for i := range b.Kept.Gaps {
			g := &b.Kept.Gaps[i]
			if g.New == 0 {
				continue
			}
			sides := g.sidesOf(g.places)
			for j := 1; j < len(sides); j++ {
				k++
				l, r := sides[j-1], sides[j]
				if head && (b.plateUnread(l) || b.plateUnread(r)) {
					continue
				}
				row := filletRow{k: k, from: l.x, to: r.x, fromFace: l.kind != newSide, toFace: r.kind != newSide}
				if row.fromFace {
					row.from = b.keptGroove(l, 1, head)
				}
				if row.toFace {
					row.to = b.keptGroove(r, -1, head)
				}
				list = append(list, row)
			}
		}
		return list
	}
	if b.r.ShoeFillet != nil && b.r.ShoePlowed() {
		b.filletPieces("shoe fillet", "fillets-shoe", "fillets of the old shoe", b.foot, rows(false))
	}
	if b.r.RailFillet != nil && b.oldRailFilled() {
		b.filletPieces("rail fillet", "fillets-rail", "fillets of the old handrail", b.head, rows(true))
	}
}

// plateUnread reports a wall end of which nobody says yet whether a rosette stands between it and the old rail.
func (b *builder) plateUnread(s keptSide) bool {
	e := b.r.From
	if s.place == atFar {
		e = b.r.To
	}
	return s.kind == endSide && plateOpen(e)
}

// oldRailFilled reports an old handrail with a plow that new balusters go into.
func (b *builder) oldRailFilled() bool {
	p := b.r.Baluster
	return b.r.Handrail != nil && b.r.Handrail.Plow.Deep.Given && p != nil && p.Top.Text != "pin"
}

// askOldFillets asks what fills the plows of an old guard that stays, where nobody says: it need not be what fills the new ones.
func (b *builder) askOldFillets() {
	rail := b.oldRailFilled() && b.r.RailFillet == nil && !b.r.NoRailFillet
	shoe := b.r.Shoe != nil && b.r.Shoe.Plow.Deep.Given && b.r.ShoeFillet == nil && !b.r.NoShoeFillet
	what, key, at := "plows of the old handrail and shoe", "fillet: ", b.r.Parts.RailFillet.At
	switch {
	case !rail && !shoe:
		return
	case !shoe:
		what, key = "plow of the old handrail", "fillet: {rail: }"
	case !rail:
		what, key, at = "plow of the old shoe", "fillet: {shoe: }", b.r.Parts.ShoeFillet.At
	}
	b.need("which fillet fills the "+what+", or none", key, "fillets of the gaps that are opened", at)
}
