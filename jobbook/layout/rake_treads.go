package layout

import (
	"slices"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/working"
)

// stand is a baluster on a tread: where it is marked.
type stand struct {
	tread  int
	riser  length.Length // from the face of the tread's riser, rounded; before it where negative
	x      length.Length // its place along the flight
	height length.Length // of the tread
}

// mostPerTread bounds the search: with a dozen on a tread of a foot they stand shoulder to shoulder.
const mostPerTread = 12

// pattern is where m balusters to the tread stand: the first with its face in line with the riser's, or the bracket's; each tread
// is divided by itself, one that gets one more by that many; on the landing and on the floor before the lowest riser the spacing of the tread beside it goes on.
func (b *builder) pattern(m int) []stand {
	k := b.Rake
	first := b.foot/2 - b.r.Stair.Bracket.Length
	var list []stand
	add := func(tread int, riser, height, going length.Length, j, m int) { // at first + j·going/m from the riser
		at := exact.New(int64(going)*int64(j), int64(m)).Add(exact.Of(int64(first)))
		marked := length.Rounded(at, b.div.Length, length.Nearest)
		x := riser + marked
		if x-b.foot/2 < k.From || x+b.foot/2 > k.To {
			return
		}
		if n := len(list); n > 0 && x-list[n-1].x < b.foot {
			return
		}
		list = append(list, stand{tread, marked, x, height})
	}
	low, n := k.Treads[0], len(k.Treads)
	for j := m * 2; j >= 1; j-- { // as far as two treads' width before the stair; a newel farther off is a matter of its own
		add(0, low.At, 0, low.Going, -j, m)
	}
	for _, t := range k.Treads[:n-1] {
		on := m + b.more(t.N)
		for j := range on {
			add(t.N, t.At, t.Height, t.Going, j, on)
		}
	}
	landing, going := k.Treads[n-1], k.Treads[n-2].Going
	for j := range m * 2 {
		add(landing.N, landing.At, landing.Height, going, j, m)
	}
	return list
}

// spares drops the balusters beside a post that the opening there does not need; of a tread that is to have one more, none.
func (b *builder) spares(list []stand) []stand {
	_, end := b.tolerances()
	more := func(s stand) bool { return b.more(s.tread) > 0 }
	for len(list) > 1 && b.Limit.Known && !more(list[0]) && b.Limit.Op.Holds(b.postBall(atDatum, list[1], end).Opening, b.Limit.Value) {
		list = list[1:]
	}
	for n := len(list); n > 1 && b.Limit.Known; n = len(list) {
		f := b.postBall(atFar, list[n-2], end)
		if more(list[n-1]) || !b.Limit.Op.Holds(f.Opening, b.Limit.Value) || !b.keepsLevel(list[n-2], f) {
			break
		}
		list = list[:n-1]
	}
	return list
}

type postKey struct {
	place int
	stand stand
	more  length.Length
}

// onTread is a baluster's face where it stands, carried on so far. Each is cut once: the counts side by side ask for the same ones again.
func (b *builder) onTread(s stand, low, high length.Length) profile.Face {
	face, ok := b.treadFaces[s]
	if !ok {
		face = b.seen(s.x, s.height)
		b.treadFaces[s] = face
	}
	return reach(face, low, high)
}

// treadBall is the largest ball between two neighbours on treads, that much farther apart than they are marked.
func (b *builder) treadBall(left, right stand, more length.Length) profile.Found {
	k := b.Rake
	low, high := left.height, k.RailUnder(right.x)
	switch {
	case b.fallback:
		s := b.shapes[0]
		return opening(s.face, s.face, right.x-left.x+more, s.low, s.high)
	case high > low:
		face := b.onto(b.onTread(right, low, high), right.x, left.x, low)
		return opening(b.onTread(left, low, high), face, right.x-left.x+more, low, high)
	}
	return profile.Found{}
}

// postBall is the largest ball between an end and the baluster nearest to it.
func (b *builder) postBall(place int, s stand, more length.Length) (found profile.Found) {
	key := postKey{place, s, more}
	if f, ok := b.postBalls[key]; ok {
		return f
	}
	k := b.Rake
	worse := func(left, right profile.Face, apart, low, high length.Length) {
		if high <= low {
			return
		}
		if f := opening(left, right, apart, low, high); f.Opening >= found.Opening {
			found = f
		}
	}
	for _, face := range b.sides[place] {
		switch {
		case b.fallback:
			shape := b.shapes[0]
			apart := s.x - k.From
			if place == atFar {
				apart = k.To - s.x
			}
			worse(face, shape.face, apart+more, shape.low, shape.high)
		case place == atDatum:
			low, high := min(k.Surface(k.From), s.height), k.RailUnder(s.x)
			worse(reach(face, low, high), b.onto(b.onTread(s, low, high), s.x, k.From, low), s.x-k.From+more, low, high)
		default:
			low, high := s.height, k.RailUnder(k.To)
			worse(b.onTread(s, low, high), b.onto(reach(b.overRiser(face, low), low, high), k.To, s.x, low), k.To-s.x+more, low, high)
		}
	}
	b.postBalls[key] = found
	return found
}

// overRiser is the upper end's face where its post begins above the tread before it: below its foot there is only the riser behind it.
func (b *builder) overRiser(f profile.Face, low length.Length) profile.Face {
	if len(f.Points) == 0 || f.Points[0].Z <= low.Float() {
		return f
	}
	for _, t := range b.Rake.Treads {
		if t.At >= b.Rake.To {
			out, foot := (b.Rake.To - t.At).Float(), f.Points[0].Z
			return profile.Face{Points: append([]profile.Point{{Out: out, Z: low.Float()}, {Out: out, Z: foot}}, f.Points...)}
		}
	}
	return f
}

// most is what no ball between two neighbours on treads exceeds, that much farther apart than they are marked: both as thin as a baluster is anywhere, and below the foot of the right one there may be only the riser of its tread.
// One that is longer than its stick, or has no room under the rail, is not as the others are.
func (b *builder) most(left, right stand, more length.Length) length.Length {
	for _, s := range []stand{left, right} {
		if _, long := b.lifted(s.x, s.height); b.fallback || long > b.stick.Long() || b.Rake.RailUnder(s.x) <= s.height {
			return length.Most
		}
	}
	half := b.thin / 2
	least := half
	if left.tread != right.tread {
		least = min(half, right.riser)
	}
	return right.x - left.x + more - half - least
}

// judged is one count to the tread: where its balusters stand, and the largest ball between each and the next, at the worst; none where one before it is known to be as large.
type judged struct {
	Candidate
	stands []stand
	balls  []profile.Found
}

// judgeTreads works out one count to the tread.
func (b *builder) judgeTreads(m int) judged {
	list := b.spares(b.pattern(m))
	balls := make([]profile.Found, max(len(list)-1, 0))
	c := Candidate{Count: len(list), PerTread: m, Judged: b.Limit.Known, Unmeasured: !b.From.Known || !b.To.Known || b.unsaid(true) || b.fallback || b.waistless() || !b.Rake.Measured || b.openRisers(), Unconfirmed: b.Limit.Unconfirmed}
	between, end := b.tolerances()
	worse := func(f profile.Found, where string) {
		if f.Opening > c.Worst {
			c.Worst, c.Where = f.Opening, where
		}
	}
	if len(list) == 0 {
		c.Gap, c.EndGap = b.clearLen, b.clearLen
		worse(b.rakeBall(passage{place: endToEnd, to: b.clearLen}, false), "from end to end")
		c.Passes = c.Judged && b.Limit.Op.Holds(c.Worst, b.Limit.Value)
		return judged{c, list, balls}
	}
	level := true // every opening on the landing keeps the limit of a level guard
	for i := 1; i < len(list); i++ {
		s := list[i].x - list[i-1].x
		c.Gap, c.Spacing = max(c.Gap, s-b.foot), max(c.Spacing, s)
		if !b.onLanding(list[i-1]) && b.most(list[i-1], list[i], between) <= c.Worst {
			continue // the worst so far is not less
		}
		ball := b.treadBall(list[i-1], list[i], between)
		balls[i-1] = ball
		level = level && b.keepsLevel(list[i-1], ball)
		if ball.Opening > c.Worst {
			c.Worst, c.Where = ball.Opening, "between balusters "+strconv.Itoa(i)+" and "+strconv.Itoa(i+1)
		}
	}
	c.EndGap = list[0].x - b.Rake.From - b.foot/2
	inside := c.Worst
	if !b.From.Open { // what is beside one whose turning has no place yet is to be measured, and decides nothing
		worse(b.postBall(atDatum, list[0], end), "at "+b.endName(b.From, "from"))
	}
	last := list[len(list)-1]
	if !b.To.Open {
		worse(b.postBall(atFar, last, end), "at "+b.endName(b.To, "to"))
	}
	c.treadsPass = c.Judged && b.Limit.Op.Holds(inside, b.Limit.Value) && level
	level = level && (b.To.Open || b.keepsLevel(last, b.postBall(atFar, last, end)))
	c.Passes = c.Judged && b.Limit.Op.Holds(c.Worst, b.Limit.Value) && level
	return judged{c, list, balls}
}

// onLanding reports a baluster that stands on the landing: what is uphill of it is no open side of a stair any more.
func (b *builder) onLanding(s stand) bool { return s.tread == len(b.Rake.Treads) }

// keepsLevel reports whether an opening uphill of a baluster keeps the limit of a level guard, where it has to.
func (b *builder) keepsLevel(left stand, f profile.Found) bool {
	l := b.job.Rules.Limit("guard-opening")
	return !b.onLanding(left) || l == nil || !l.Value.Given || f.Opening < l.Value.Length
}

// perTread finds the fewest balusters to the tread whose every opening passes; where only an end stands in the way, the fewest that do on
// the treads, so that the end can be seen to fail and be moved.
func (b *builder) perTread() {
	if b.Clear == nil || len(b.shapes) == 0 || b.foot <= 0 || b.Rake.To <= b.Rake.From {
		return
	}
	if e := b.r.Stair.Bracket; !e.Given && !e.At.IsZero() { // asked for with the edges
		return
	}
	if s := b.r.Stair; len(s.OneMore) == 0 && !s.OneMoreAt.IsZero() {
		b.need("which treads get one baluster more; leave one-more out where none does", "one-more: ", "how many balusters it takes, and where they stand", s.OneMoreAt)
	}
	b.postBalls, b.treadFaces = map[postKey]profile.Found{}, map[stand]profile.Face{}
	given := b.r.Stair.PerTread
	room := b.roomOnTreads()
	known := map[int]judged{}
	judge := func(m int) judged {
		x, ok := known[m]
		if !ok {
			x = b.judgeTreads(m)
			known[m] = x
		}
		return x
	}
	chosen := 0
	if b.Limit.Known {
		ends, at := 0, Candidate{}
		for m := 1; m <= room; m++ {
			c := judge(m).Candidate
			if c.Passes {
				b.Least, chosen = c.Count, m
				break
			}
			if c.treadsPass && ends == 0 {
				ends, at = m, c
			}
		}
		if chosen == 0 && ends > 0 {
			chosen, b.Why = ends, "the fewest to the tread that keep every opening on the treads; an opening beside an end does not pass with any number"
		} else if chosen > 0 {
			b.Why = "the fewest to the tread whose worst opening is " + b.Limit.Op.String() + " " + b.tape(b.Limit.Value) + " (" + b.Limit.From + ")"
			if ends > 0 {
				b.Why += "; with " + strconv.Itoa(ends) + " to the tread only the opening " + at.Where + " is too wide, " + b.decimal(at.Worst) + ": a newel that stands nearer would do with them"
			}
		}
	}
	if given.Given {
		chosen, b.Why = given.N, "written in the job: per-tread: "+strconv.Itoa(given.N)
		if chosen > room {
			b.check("count", "room for the balusters side by side on a tread", length.Length(chosen)*b.foot, finding.AtMost, b.narrowest(), given.At, b.footAt, "", "fewer balusters to the tread, or narrower ones")
			return
		}
	}
	switch {
	case chosen == 0 && b.Limit.Known:
		b.noCount()
		return
	case chosen == 0:
		return
	}
	for m := max(1, chosen-1); m <= min(room, chosen+1); m++ {
		c := judge(m)
		c.Chosen = m == chosen
		b.Candidates = append(b.Candidates, c.Candidate)
		if c.Chosen {
			b.stands, b.treadBalls = c.stands, c.balls
		}
	}
	for i := range b.Candidates {
		if b.Candidates[i].Chosen {
			b.Chosen = &b.Candidates[i]
		}
	}
	b.Rake.PerTread = chosen
}

func (b *builder) narrowest() (going length.Length) {
	for i, t := range b.Rake.Treads[:len(b.Rake.Treads)-1] {
		if i == 0 || t.Going < going {
			going = t.Going
		}
	}
	return going
}

// treadMarks puts the chosen balusters on their treads: each from the face of its own riser, rounded once.
func (b *builder) treadMarks() {
	if b.Chosen == nil || len(b.stands) == 0 {
		return
	}
	k := b.Rake
	count := working.Count("m", "balusters on a tread", int64(k.PerTread), b.r.Stair.PerTread.At)
	if !b.r.Stair.PerTread.Given {
		count = count.Because(b.Why)
	}
	m := working.Expr(count)
	uneven := len(b.r.Stair.OneMore) > 0
	if uneven {
		m = working.Sum(count, working.Variable("o_i"))
	}
	foot := working.Length("b", "width of a baluster at the foot", b.foot, b.sys, b.footAt)
	centre := working.Expr(working.Quotient(foot, working.Constant(2)))
	if b.r.Stair.Bracket.Given {
		centre = working.Difference(centre, b.in("e", "thickness of the bracket before the riser", b.r.Stair.Bracket))
	}
	centre = working.Sum(centre, working.Quotient(working.Product(working.Variable("j"), working.Variable("a_i")), m))
	division := b.in("d", "division that marks are rounded to", b.div)
	if b.div.At.IsZero() {
		division.From = "tape"
	}
	rows := make([][]exact.Number, 0, len(b.stands))
	for i, s := range b.stands {
		going := k.Treads[min(max(s.tread, 1), len(k.Treads)-1)-1].Going
		row := []exact.Number{exact.Of(int64(i + 1)), exact.Of(int64(s.tread)), exact.Of(int64(b.nth(s, going))), going.In(b.sys)}
		if uneven {
			row = append(row, exact.Of(int64(b.r.Stair.More(s.tread))))
		}
		rows = append(rows, row)
	}
	vars, names := []string{"k", "i", "j", "a_i"}, []string{"baluster", "tread, 0 for the floor", "which one on the tread, from 0; before the riser where negative", "going that is divided"}
	if uneven {
		vars, names = append(vars, "o_i"), append(names, "one more on that tread")
	}
	b.MarkFig = b.series("marks", "centre of each baluster from the face of its tread's riser, rounded once", "m_k",
		working.RoundTo(centre, division, length.Nearest), vars, names, rows)
	b.MarkFig.Note = "The datum of each tread is the face of its own riser: uneven goings do not add up."
	b.Marks = slices.Grow(b.Marks, len(b.stands))
	for i, s := range b.stands {
		bottom, _ := b.lifted(s.x, s.height)
		b.Marks = append(b.Marks, b.rakeMark(Mark{K: i + 1, At: s.x - k.From, Tread: s.tread, Riser: s.riser, Stands: s.height}, s.x, bottom))
	}
}

// nth is which of its tread's balusters one is: they were rounded, so the nearest.
func (b *builder) nth(s stand, going length.Length) int {
	first := b.foot/2 - b.r.Stair.Bracket.Length
	return int(length.Rounded(exact.New(int64(s.riser-first)*int64(b.Rake.PerTread+b.r.Stair.More(s.tread)), int64(max(going, 1))), 1, length.Nearest))
}

// rakeMark completes a mark with what a rake says of it.
func (b *builder) rakeMark(m Mark, x, bottom length.Length) Mark {
	m.Along = b.along(m.At).Round(b.div.Length, length.Nearest)
	m.Head = b.Rake.RailUnder(x)
	m.Plumbed = true // on a flight the rail is marked from the balusters, plumb
	if begins, ok := b.rakeBegins(); ok {
		m.Bored, m.Axis = true, b.along(m.At+begins).Round(b.div.Length, length.Nearest)
	}
	m.Lift = bottom
	if b.r.Baluster.Trim.Text == "bottom" && !b.fallback {
		_, long := b.lifted(x, m.Stands)
		m.Lift -= b.stick.Long() - long
	}
	return m
}

// rakeBegins is how far before the datum face, level, the rail's plumb cut at the datum end lies, at the middle of its section: by what the face leans there, by how far the rail goes over its post, less a rosette. False while that
// is not known: no clear along the rake and no plumb reading, a lean that no plumb reading settles, an end still to be measured.
func (b *builder) rakeBegins() (length.Length, bool) {
	k := b.Rake
	over, known := railOver(b.r.From)
	if !known || plateOpen(b.r.From) || !b.From.Known || b.fallback || k.Top == 0 || b.Lean == nil || !b.Lean.Settled && b.Lean.Out {
		return 0, false
	}
	begins := b.From.recess(k.RailTop(k.From)-k.Thick/2) + over - b.From.Rosette
	if b.Lean.Settled {
		begins += b.Lean.FromRail
	}
	return begins, true
}

// shoeMarks lays the marks out along the rake: the level place of mark k times the secant, rounded there, for that is where it is marked.
func (b *builder) shoeMarks() {
	if b.Chosen == nil {
		return
	}
	if b.Drilled != nil {
		b.drilledMarks()
		b.shoeMarkRows()
		return
	}
	n := b.Chosen.Count
	clear := b.Clear.In()
	foot := working.Length("b", "width of a baluster at the foot", b.foot, b.sys, b.footAt)
	count := b.countInput()
	one, two := working.Constant(1), working.Constant(2)
	b.Gap = b.work("gap", "level gap between two balusters, and at each end", "g", working.Quotient(working.Difference(clear, working.Product(count, foot)), working.Sum(count, one)))
	if n == 0 {
		return
	}
	b.Spacing = b.work("spacing", "level spacing from centre to centre", "s_l", working.Quotient(working.Sum(clear, foot), working.Sum(count, one)))
	b.work("spacing-rake", "spacing along the rake, centre to centre", "s_r", working.Product(b.Spacing.In(), b.sec()))
	centre := working.Difference(working.Quotient(working.Product(working.Variable("k"), working.Sum(clear, foot)), working.Sum(count, one)), working.Quotient(foot, two))
	division := b.in("d", "division that marks are rounded to", b.div)
	if b.div.At.IsZero() {
		division.From = "tape"
	}
	b.MarkFig = b.series("marks", "centre of each baluster along the rake from the datum face, rounded once", "m_k",
		working.RoundTo(working.Product(centre, b.sec()), division, length.Nearest), []string{"k"}, []string{"baluster"}, countRows(n))
	b.MarkFig.Note = "The datum is the face at " + b.endName(b.From, "from") + ". Every mark is measured from it along the shoe, never stepped from the one before."
	b.shoeMarkRows()
}

// shoeMarkRows puts the marks along the rake on shoe and rail.
func (b *builder) shoeMarkRows() {
	n, k := b.Chosen.Count, b.Rake
	proud := b.along(b.From.Proud)
	for i, row := range b.MarkFig.Series.Rows {
		along := length.Of(row.Value, b.sys, length.Nanometre, length.Nearest)
		at := b.round(i+1, n)
		x := k.From + at
		bottom, _ := b.lifted(x, k.ShoeTop(x))
		m := b.rakeMark(Mark{K: i + 1, At: at, Shoe: (along - proud).Round(b.div.Length, length.Nearest), Stands: k.ShoeTop(x)}, x, bottom)
		m.Along = along
		if b.Drilled != nil {
			m.Shoe = along - proud
		}
		b.Marks = append(b.Marks, m)
	}
}

// landingOpening is the worst opening between two balusters on the landing, judged as a level guard's.
func (b *builder) landingOpening(list []stand, between length.Length, known bool) {
	worst := 0
	for i := 1; i < len(list); i++ {
		if b.onLanding(list[i-1]) && (worst == 0 || b.treadBalls[i-1].Opening > b.treadBalls[worst-1].Opening) {
			worst = i
		}
	}
	if worst == 0 {
		return
	}
	left, right := list[worst-1], list[worst]
	pair := strconv.Itoa(worst) + " and " + strconv.Itoa(worst+1)
	where := "between balusters " + pair + " on the landing"
	o := Opening{Where: where, Part: "between", Foot: right.x - left.x - b.foot, Nominal: b.treadBall(left, right, 0).Opening, Found: b.treadBalls[worst-1], Known: known, Left: worst, limit: "guard-opening"}
	o.Worst = o.Found.Opening
	o.Figure = b.ballFigure("opening-landing", "worst opening "+where, o.Found, b.found("D", "balusters "+pair+" apart at the worst", "marks and tolerances", right.x-left.x+between))
	b.Openings = append(b.Openings, o)
}

// treadOpenings finds the openings at the two ends and the worst between balusters, and hands them to the rules.
func (b *builder) treadOpenings() {
	if b.Chosen == nil {
		b.openMeasures(nil)
		return
	}
	between, end := b.tolerances()
	list := b.stands
	known := !b.fallback && !b.openRisers() // without a riser a ball may dip under the nosing; how deep nobody measured
	if len(list) == 0 {
		f := b.rakeBall(passage{place: endToEnd, to: b.clearLen}, false)
		o := Opening{Where: "from end to end", Part: "between", Foot: b.clearLen, Nominal: f.Opening, Worst: f.Opening, Found: f, Known: known && b.From.Known && b.To.Known && !b.unsaid(true)}
		o.Figure = b.ballFigure("opening-between", "opening from end to end", f, b.Clear.In())
		b.Openings = []Opening{o}
		b.openMeasures(b.Openings)
		return
	}
	add := func(part, where string, foot length.Length, nominal, worst profile.Found, known bool, apart *working.Figure) {
		o := Opening{Where: where, Part: part, Foot: foot, Nominal: nominal.Opening, Worst: worst.Opening, Found: worst, Known: known}
		o.Figure = b.ballFigure("opening-"+part, "worst opening "+where, worst, apart.As("D"))
		b.Openings = append(b.Openings, o)
	}
	first, last := list[0], list[len(list)-1]
	from, to := "at "+b.endName(b.From, "from"), "at "+b.endName(b.To, "to")
	add("from", from, first.x-b.Rake.From-b.foot/2-b.From.Proud, b.postBall(atDatum, first, 0), b.postBall(atDatum, first, end), b.From.Known && known, b.apartEnd("from", from, first.x-b.Rake.From))
	if len(list) > 1 {
		worst := 1
		for i := 2; i < len(list); i++ {
			if b.treadBalls[i-1].Opening > b.treadBalls[worst-1].Opening {
				worst = i
			}
		}
		left, right := list[worst-1], list[worst]
		where := "between balusters " + strconv.Itoa(worst) + " and " + strconv.Itoa(worst+1)
		add("between", where, right.x-left.x-b.foot, b.treadBall(left, right, 0), b.treadBalls[worst-1], known, b.apartBetween(right.x-left.x))
		b.Openings[len(b.Openings)-1].Left = worst
		b.landingOpening(list, between, known)
	}
	add("to", to, b.Rake.To-last.x-b.foot/2-b.To.Proud, b.postBall(atFar, last, 0), b.postBall(atFar, last, end), b.To.Known && known && !b.unsaid(true), b.apartEnd("to", to, b.Rake.To-last.x))
	if b.onLanding(last) {
		b.Openings[len(b.Openings)-1].limit = "guard-opening"
	}
	b.openMeasures(b.Openings)
}
