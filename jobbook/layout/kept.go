package layout

import (
	"cmp"
	"slices"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Kept is an old guard that stays, and what goes between its balusters.
type Kept struct {
	Part   *job.Baluster // what stands there; nil while not said
	Old    []OldBaluster
	Gaps   []OldGap      // from the datum end on: one more than there are old balusters
	Added  int           // new ones of the whole run
	Wide   length.Length // of a new one, at the foot
	Least  length.Length // of the gaps' worst openings with the new ones in, and
	Most   length.Length // the greatest: how alike they look
	Before length.Length // the greatest as found
	Figure string        // of the gaps at the foot
	Words  []string      // what this does not say
}

// OldBaluster is one that stands there. Places are level, from the datum face.
type OldBaluster struct {
	N     int
	Near  length.Length // its near face at the foot
	At    length.Length // its middle there
	Wide  length.Length // at the foot
	Lean  length.Length // of its head from its foot, away from the datum end where positive
	Leans bool          // it was read at the rail as well
}

// OldGap is the room between two neighbours that stand there.
type OldGap struct {
	N          int
	Where      string        // between old balusters 2 and 3; between the wall and old baluster 1
	Foot       length.Length // between the two faces at the foot
	From, To   length.Length // the faces that it is divided by: at the foot or under the rail, whichever stands farther back
	Between    length.Length // from shoe to rail
	Found      length.Length // worst opening as found
	Known      bool          // all of it was measured
	Least      int           // the fewest new ones that pass; -1 where no number does
	New        int           // taken: 0 where it passes as it is, or where nothing does
	Alike      bool          // one more than it needs, so that it looks like the gaps beside it
	Worst      length.Length // worst opening with the new ones in
	Room       length.Length // least room beside a new one, at the foot or under the rail
	TooTight   bool          // a number would do, but leaves less room than it takes to fix them
	leftSide   keptSide
	rightSide  keptSide
	places     []length.Length // of the new ones, from the datum face, level, as marked
	standsOver length.Length   // of the shoe's top there, on a level run
}

// What may be on a side of a gap.
const (
	endSide = iota
	oldSide
	newSide
)

// keptSide is a face beside a gap: an end, an old baluster, or a new one.
type keptSide struct {
	kind  int
	place int           // of an end: atDatum or atFar
	old   int           // of an old baluster, from 1
	x     length.Length // axis at the foot, or the end's face, level, from the datum face
}

// keeping is what is known of a guard that stays while it is laid out.
type keeping struct {
	ready     bool
	season    *working.Figure   // of the old balusters
	leans     [][]length.Length // of each old one, for each way the datum end may lean
	foot      length.Length     // widths of an old one at the foot and under the rail
	head      length.Length
	low, high length.Length // how far a new one goes in below and above
	fit       working.Expr
	fitLong   length.Length
}

// keptFloor says what an old guard does on a floor out of level: nothing is scribed, and what was read between shoe and rail counts.
func (b *builder) keptFloor() {
	if !b.r.Stays() || b.Floor.How == "level" {
		return
	}
	b.Floor.How, b.Floor.Scribe = "level", nil
	b.Floor.Words = "The floor is out of level by " + b.tape(b.Floor.Out) + ": shoe and rail stay as they stand, and each new baluster is cut by what was read between them."
}

// keep lays new balusters out between the old ones that stay: in each old gap the fewest whose worst opening passes.
func (b *builder) keep() {
	s := b.r.Standing
	k := &Kept{Part: s.Part, Words: []string{
		"How strong the old guard is does not follow from its sizes: push it before anything is ordered. More balusters cure no loose guard.",
	}}
	b.Kept = k
	b.strength()
	b.askOldFillets()
	if !b.covered() || !b.standingKnown() {
		return
	}
	b.newSize()
	b.oldOnes()
	b.betweenFits()
	b.gaps()
	if !b.Limit.Known {
		return
	}
	b.fill()
	b.takeKept()
}

// strength says what more balusters do not cure.
func (b *builder) strength() {
	f := finding.Finding{
		ID: "check/" + b.ID + "/strength", Group: b.ID, Verdict: finding.AskAuthority, At: b.r.Standing.At, Status: working.CommonPractice, Rules: "what carries a guard's load",
		Title: "strength of the old guard that stays: it does not follow from its sizes, and more balusters cure no loose guard",
		Cure:  "push it hard at every post and in the middle; what gives is made fast or replaced, and where it is in doubt an engineer looks at it",
	}
	for _, s := range b.job.Surveys {
		if s.Loose.Yes && !s.Goes() {
			f.Verdict, f.At = finding.Fail, s.Loose.At
			f.Title = "the old guard that stays gives when pushed, and more balusters cure no loose guard"
			f.Cure = "make it fast before anything else, or replace it"
		}
	}
	b.Findings = append(b.Findings, f)
}

// covered reports that the run is of a sort that is laid out between old balusters; what is not is named.
func (b *builder) covered() bool {
	left := func(what, key string, at source.Pos) {
		b.need("every opening, gauged on the stair, and where new balusters go: "+what, key, "new balusters between old ones are not laid out here", at)
		b.Kept.Words = append(b.Kept.Words, sentenceOf("Not laid out here: "+what))
	}
	switch {
	case b.Rake != nil && b.Rake.OnTreads:
		left("the old ones stand on the treads", "standing: ", b.r.Standing.At)
	case b.r.Radius.Given || !b.r.Radius.At.IsZero():
		left("the run is curved", "radius: ", b.r.Radius.At)
	case len(b.Floor.Steps) > 0:
		left("the floor steps under the run", "level: ", b.Floor.Steps[0].read.At)
	default:
		return true
	}
	return false
}

func sentenceOf(words string) string { return words + "." }

// standingKnown asks for what the layout rests on; false while any of it is missing.
func (b *builder) standingKnown() bool {
	s, ready := b.r.Standing, true
	ask := func(given bool, what, key, why string, at source.Pos) {
		if !given {
			if at.IsZero() {
				at = s.At
			}
			b.need(what, "standing: {"+key+": }", why, at)
			ready = false
		}
	}
	const all = "everything about this run"
	ask(s.Part != nil, "which baluster stands there: a part file with its profile as seen", "baluster", "the openings beside it", s.Baluster.At)
	if p := s.Part; p != nil && (!p.Sized || !p.Wide.Given) {
		at := p.Wide.At
		if !p.Blank.IsZero() {
			at = p.Blank
		}
		b.needIn(p.File, "the old baluster's sizes: its profile, or width and length, as seen between shoe and rail", "profile: ", "the openings beside it", at)
		ready = false
	}
	ask(len(s.Foot) > 0, "where the old balusters stand at the shoe: running readings from the datum face to the near face of each", "foot", all, s.FootAt)
	for i, m := range s.Foot {
		if !m.Given {
			b.need("where old baluster "+strconv.Itoa(i+1)+" stands at the shoe", "standing: {foot: }", all, m.At)
			ready = false
		}
	}
	if !s.HeadAt.IsZero() || len(s.Head) > 0 {
		if len(s.Head) == 0 {
			b.need("where the old balusters stand under the rail", "standing: {head: }", "which of them lean; until then they are taken as plumb", s.HeadAt)
		}
		for i, m := range s.Head {
			if !m.Given {
				b.need("where old baluster "+strconv.Itoa(i+1)+" stands under the rail", "standing: {head: }", "whether it leans; until then it is taken as plumb", m.At)
			}
		}
	}
	ask(len(s.Between) > 0, "from the top of the old shoe to the underside of the old rail, plumb", "between", "lengths of the new balusters, the openings", s.BetweenAt)
	for i, m := range s.Between {
		if !m.Given {
			b.need("from shoe to rail in gap "+strconv.Itoa(i+1), "standing: {between: }", "lengths of the new balusters there, the openings", m.At)
			ready = false
		}
	}
	p, ok := b.bought("everything but the old guard itself")
	if !ok || b.Clear == nil || b.Rake == nil && !b.Levels.Known || b.Rake != nil && (b.Rake.Top == 0 || b.Rake.To <= b.Rake.From) || len(b.sides[0]) == 0 || len(b.sides[1]) == 0 {
		return false // it is asked for where it is needed first
	}
	b.stick = p
	return ready
}

// betweenIn is what was read between shoe and rail in a gap, counted from 1.
func (b *builder) betweenIn(gap int) job.Measure {
	list := b.r.Standing.Between
	return list[min(gap, len(list))-1]
}

// newSize works out how a new baluster is cut, and its widths at shoe and rail.
func (b *builder) newSize() {
	part, k := b.r.Baluster, &b.kept
	least := slices.MinFunc(b.r.Standing.Between, func(x, y job.Measure) int { return cmp.Compare(x.Length, y.Length) })
	if b.Rake == nil {
		k.low, k.high = b.sockets()
		space := working.Work(b.ID+"/space", "room for a baluster between the bottoms of its two sockets, the least", "l_0", b.sys.String(), b.keptRoom(b.in("B", "between shoe and rail, the least that was read", least)), working.Geometry)
		k.fit = b.fit(space)
	} else {
		k.low, k.high = b.sockLow, b.sockHigh
		k.fit = b.in("fit", "taken off so that a baluster goes in", b.job.Shop.Fit)
	}
	k.fitLong = working.Work(b.ID+"/fit-taken", "", "", b.sys.String(), k.fit, working.Geometry).Exact(b.sys)
	bottom, long := b.keptLong(least.Length)
	fit := trimmed(b.stick, part.Trim.Text, long)
	_, b.foot = fit.WidthAt(max(-bottom, 0))
	b.head, _ = fit.WidthAt(min(least.Length-bottom, fit.Long()))
	if b.foot <= 0 {
		b.foot = part.Wide.Length
	}
	if b.head <= 0 {
		b.head = part.Wide.Length
	}
}

// keptLong is the height of the bottom of a new baluster's profile above the shoe's top, and its length from point to point.
func (b *builder) keptLong(between length.Length) (bottom, long length.Length) {
	foot, head := length.Length(0), length.Length(0)
	if b.Rake != nil {
		foot, head = b.bevels()
	}
	k := b.kept
	return -k.low - foot, between + k.low + k.high - k.fitLong + foot + head
}

// keptRoom is the length between the bottoms of a baluster's two sockets, pins apart: what was read between shoe and rail, and the plows.
func (b *builder) keptRoom(between working.Expr) working.Expr {
	e, part := between, b.r.Baluster
	deep := func(symbol, name string, m job.Measure) {
		if !m.Given {
			return
		}
		var d working.Expr = b.in(symbol, name, m)
		if b.Rake != nil {
			d = working.Product(d, b.sec())
		}
		e = working.Sum(e, d)
	}
	if part.Top.Text != "pin" && b.r.Handrail != nil {
		deep("p_r", "depth of the plow in the old handrail", b.r.Handrail.Plow.Deep)
	}
	if b.r.Shoe != nil {
		deep("p_s", "depth of the plow in the old shoe", b.r.Shoe.Plow.Deep)
	}
	return e
}

// keptLength is the cut length of a new baluster, at its axis.
func (b *builder) keptLength(between working.Expr) working.Expr {
	part := b.r.Baluster
	e := b.keptRoom(between)
	pin := b.in("p_pin", "length of the pin", part.Pin.Long)
	if part.Top.Text == "pin" {
		e = working.Sum(e, pin)
	}
	switch part.Bottom.Text {
	case "pin":
		e = working.Sum(e, pin)
	case "let in":
		e = working.Sum(e, b.in("p_let", "how deep its foot is let in", part.LetIn))
	}
	return working.Difference(e, b.kept.fit)
}

// level is the level place of a reading that was taken along the run: on a flight along the rake.
func (b *builder) levelOf(reading length.Length) length.Length {
	if b.Rake == nil {
		return reading
	}
	return length.Rounded(exact.Of(int64(reading)).Quo(b.Rake.Secant.Value), length.Nanometre, length.Nearest)
}

// oldOnes puts the old balusters where they were read: their middles at the foot, and how far their heads stand from there.
func (b *builder) oldOnes() {
	s, k := b.r.Standing, &b.kept
	k.season = b.shrinks("season-old", s.Part)
	p := s.Part.Profile
	_, k.foot = p.WidthAt(0)
	k.head, _ = p.WidthAt(p.Long())
	worst := 0 // the one that leans most
	for i, m := range s.Foot {
		o := OldBaluster{N: i + 1, Near: b.levelOf(m.Length), Wide: k.foot}
		o.At = o.Near + k.foot/2
		leans := make([]length.Length, len(b.sides[atDatum]))
		if i < len(s.Head) && s.Head[i].Given {
			o.Leans = true
			head := b.levelOf(s.Head[i].Length) + k.head/2
			for v, face := range b.sides[atDatum] { // the tape was held to the face of the end there, which may lean or be turned
				leans[v] = head + length.Length(outAt(face, b.headHeight(o.At, i+1))*float64(length.Millimetre)) - o.At
			}
			o.Lean = leans[0]
			if worst == 0 || abs(o.Lean) > abs(b.Kept.Old[worst-1].Lean) {
				worst = o.N
			}
		}
		k.leans = append(k.leans, leans)
		b.Kept.Old = append(b.Kept.Old, o)
	}
	if worst > 0 {
		const most = 2 * length.Inch // over the height of a guard; common practice, no source
		o := b.Kept.Old[worst-1]
		b.check("old-lean", "old baluster "+strconv.Itoa(o.N)+", which leans most: its readings at the shoe and under the rail apart, turnings taken off", abs(o.Lean), finding.AtMost, most, s.Head[worst-1].At, s.Foot[worst-1].At, "", "read both again; or set it plumb first")
	}
	if n := len(b.Kept.Old); n > 0 && b.Kept.Old[n-1].At+k.foot/2 > b.clearLen {
		b.check("standing", "far face of the last old baluster, from the datum face", b.Kept.Old[n-1].At+k.foot/2, finding.AtMost, b.clearLen, s.Foot[n-1].At, b.clearAt(), b.ID+"/clear", "read it again, or the clear")
	}
}

// shoeTop is the height that balusters are seen from, at a place from the datum face.
func (b *builder) shoeTop(x length.Length) length.Length {
	if b.Rake != nil {
		return b.Rake.ShoeTop(b.Rake.From + x)
	}
	return b.Levels.ShoeTop + b.Floor.at(x)
}

// headHeight is how high the readings under the rail were taken, mm: at the datum end, where the tape was held.
func (b *builder) headHeight(x length.Length, gap int) float64 {
	if b.Rake != nil {
		x = 0
	}
	return (b.shoeTop(x) + b.betweenIn(gap).Length).Float()
}

// betweenFits compares what was read between shoe and rail with the heights and the sections, and with the old baluster as drawn.
func (b *builder) betweenFits() {
	const most = length.Inch / 2 // what old floors and rails do between two readings; common practice, no source
	s := b.r.Standing
	worst, at := length.Length(-1), s.Between[0]
	for i, m := range s.Between {
		x := length.Length(0)
		if i > 0 && i <= len(b.Kept.Old) {
			x = b.Kept.Old[i-1].At
		}
		off := length.Length(0)
		if b.Rake != nil {
			off = abs(b.Rake.RailUnder(b.Rake.From+x) - b.shoeTop(x) - m.Length)
		} else { // a shoe that follows the floor, or one that was scribed to it
			off = min(abs(b.Levels.RailUnder-b.shoeTop(x)-m.Length), abs(b.Levels.RailUnder-b.Levels.ShoeTop-m.Length))
		}
		if off > worst {
			worst, at = off, m
		}
	}
	b.check("between", "between shoe and rail as read, against the height of the rail and the sections", worst, finding.AtMost, most, at.At, b.r.Height.Top.At, "", "read it again, or the height of the rail and the sections of shoe and rail")
	least := slices.MinFunc(s.Between, func(x, y job.Measure) int { return cmp.Compare(x.Length, y.Length) })
	b.check("standing-long", "old baluster's profile as written, against what was read between shoe and rail", abs(s.Part.Profile.Long()-least.Length), finding.AtMost, most, s.Part.Long.At, least.At, "", "write its profile as seen, from the shoe's top to the rail's underside")
}

// gaps lists the old gaps, each with the faces that it is divided by and the worst opening as found.
func (b *builder) gaps() {
	k := b.Kept
	sides := []keptSide{{kind: endSide, place: atDatum}}
	for _, o := range k.Old {
		sides = append(sides, keptSide{kind: oldSide, old: o.N, x: o.At})
	}
	sides = append(sides, keptSide{kind: endSide, place: atFar, x: b.clearLen})
	var rows [][]exact.Number
	for i := 1; i < len(sides); i++ {
		l, r := sides[i-1], sides[i]
		g := OldGap{N: i, leftSide: l, rightSide: r, Between: b.betweenIn(i).Length, Known: true}
		from, fromHead := b.faceAt(l, 1)
		to, toHead := b.faceAt(r, -1)
		g.Foot = to - from
		g.From, g.To = min(from, fromHead), max(to, toHead)
		switch {
		case l.kind == endSide && r.kind == endSide:
			g.Where = "from end to end"
		case l.kind == endSide:
			g.Where = "between " + b.endName(b.From, "from") + " and old baluster 1"
		case r.kind == endSide:
			g.Where = "between old baluster " + strconv.Itoa(l.old) + " and " + b.endName(b.To, "to")
		default:
			g.Where = "between old balusters " + strconv.Itoa(l.old) + " and " + strconv.Itoa(r.old)
		}
		if l.kind == endSide {
			g.Known = g.Known && b.From.Known
		}
		if r.kind == endSide {
			g.Known = g.Known && b.To.Known
		}
		if b.Rake != nil {
			g.Known = g.Known && b.Rake.Measured
		} else if r.kind == endSide {
			g.standsOver = b.shoeTop(r.x)
		} else {
			g.standsOver = b.shoeTop(l.x)
		}
		if g.Foot < 0 { // the check on the readings, or a problem, says so
			g.Foot = 0
		}
		g.Found = b.keptBall(&g, l, r, true).Opening
		g.Worst, g.Least = g.Found, -1
		k.Before = max(k.Before, g.Found)
		rows = append(rows, []exact.Number{exact.Of(int64(i)), from.In(b.sys), to.In(b.sys)})
		k.Gaps = append(k.Gaps, g)
	}
	f := b.series("old-gaps", "old gap at the foot, level", "G_i", working.Difference(working.Variable("z_i"), working.Variable("a_i")),
		[]string{"i", "a_i", "z_i"}, []string{"gap, counted from the datum end", "face before it, from the datum face", "face after it, from the datum face"}, rows)
	f.Note = "An old baluster's far face is its near face, as read, and its width."
	k.Figure = f.ID
}

// faceAt are the places of a side's face at the foot and under the rail, from the datum face; way is 1 for what lies before a gap, -1 for what lies
// after it. An end is where its clear was taken to: what trim and lean do there the openings count.
func (b *builder) faceAt(s keptSide, way length.Length) (foot, head length.Length) {
	if s.kind == endSide {
		return s.x, s.x
	}
	if s.kind == newSide {
		return s.x + way*(b.foot/2), s.x + way*(b.head/2)
	}
	k := b.kept
	foot = s.x + way*(k.foot/2)
	if o := b.Kept.Old[s.old-1]; !o.Leans {
		return foot, foot
	}
	lean := k.leans[s.old-1][0]
	for _, l := range k.leans[s.old-1] { // the one that leaves more
		if way*l < way*lean {
			lean = l
		}
	}
	return foot, s.x + lean + way*(k.head/2)
}

// keptSlack is what may go wrong at a side: how far it may be off its place, and how much wood may be missing. An old baluster was read once,
// and nothing is drilled for it.
func (b *builder) keptSlack(s keptSide) (place, wood length.Length) {
	t := b.tolerance()
	switch s.kind {
	case newSide:
		return t.Mark.Length + t.Drill.Length, (t.Width.Length + t.Season.Length + 1) / 2
	case oldSide:
		season := b.job.Tolerance.Season.Length
		if b.kept.season != nil {
			season = b.kept.season.Exact(b.sys)
		}
		return t.Mark.Length, (b.job.Tolerance.Width.Length + season + 1) / 2
	}
	return 0, 0
}

// keptBall is the largest ball between two sides, by the marks and the readings or at the worst.
func (b *builder) keptBall(g *OldGap, l, r keptSide, worst bool) (found profile.Found) {
	off, wood := length.Length(0), length.Length(0)
	if worst {
		for _, s := range []keptSide{l, r} {
			o, w := b.keptSlack(s)
			off += o
			wood += w
		}
	}
	tries := []length.Length{off}
	if b.Rake != nil && off > 0 { // off its mark it stands higher or lower as well
		tries = []length.Length{off, 0, -off}
	}
	apart := r.x - l.x
	first := true
	for _, o := range tries {
		left, right := l.x, l.x+apart+o
		if r.kind == endSide {
			left, right = r.x-apart-o, r.x
		}
		low, high, stands := g.standsOver, g.standsOver+g.Between, g.standsOver
		over := stands
		if b.Rake != nil {
			stands, over = b.shoeTop(left), b.shoeTop(right)
			low, high = stands, over+g.Between
			if l.kind == endSide {
				low = b.shoeTop(0)
			}
		}
		for v := range b.sides[atDatum] { // an old one's lean goes by the datum end's, which its reading under the rail was taken from
			ways := []int{v}
			if r.kind == endSide {
				ways = []int{}
				for w := range b.sides[atFar] {
					ways = append(ways, w)
				}
			}
			for _, w := range ways {
				f := opening(b.keptFace(l, g, stands, low, high, 1, v), b.keptFace(r, g, over, low, high, -1, w), apart+o+wood, low, high)
				if first || f.Opening > found.Opening {
					found, first = f, false
				}
			}
		}
	}
	return found
}

// keptFace is a side's face as it stands: way is 1 where it looks on from the datum, -1 where it looks back; v is which way the end may lean.
func (b *builder) keptFace(s keptSide, g *OldGap, stands, low, high length.Length, way float64, v int) profile.Face {
	switch s.kind {
	case endSide:
		face := b.sides[s.place][v]
		if b.Rake != nil {
			return reach(face, low, high)
		}
		return face
	case oldSide:
		face := reach(b.Kept.Part.Profile.Face(0).Lift(stands.Float()), low, high)
		if lean := b.kept.leans[s.old-1][v]; lean != 0 {
			face = face.Lean(profile.Point{Z: stands.Float()}, profile.Point{Out: float64(way * lean.Float()), Z: (stands + g.Between).Float()})
		}
		return face
	}
	bottom, long := b.keptLong(g.Between)
	fit := trimmed(b.stick, b.r.Baluster.Trim.Text, long)
	under, over := max(-bottom, 0), max(bottom+fit.Long()-g.Between, 0)
	if under+over >= fit.Long() {
		return reach(fit.Face(0).Lift((stands + bottom).Float()), low, high)
	}
	return reach(fit.Cut(under, over).Face(0).Lift((stands + bottom + under).Float()), low, high)
}
