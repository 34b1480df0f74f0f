package layout

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// rakeLean compares the clear along the rake at the handrail with the level one at the foot: what is left between them is lean.
func (b *builder) rakeLean() {
	b.sides = [2][]variant{{b.From.Face}, {b.To.Face}}
	k, along := b.Rake, b.r.Stair.Along
	if b.Clear == nil || k.Top == 0 || trimUnknown(b.r.From) || trimUnknown(b.r.To) {
		return
	}
	plumbs, settled := b.plumbs()
	if !along.Given && !settled {
		return
	}
	if along.Given && along.Length < b.clearLen {
		b.check("clear-rake", "clear along the rake, against the level one", along.Length, finding.AtLeast, b.clearLen, along.At, b.clearAt(), b.ID+"/clear", "a rake is longer than its level: see whether the two were written the wrong way round")
		return
	}
	open := b.shapeOpen()
	l := &Lean{Settled: settled}
	if !open {
		b.Lean = l
	}
	half := k.Thick / 2
	if along.Given && !open {
		level := b.work("clear-rail-level", "clear at the handrail, level", "L_r", working.Quotient(b.in("L_rake", "clear along the rake at the handrail, as read", along), b.sec()))
		l.Sum = level.Exact(b.sys) - b.clearLen - b.From.recess(k.RailTop(k.From)-half) - b.To.recess(k.RailTop(k.To)-half)
		l.Readings = []LeanReading{{At: k.Top, Wider: l.Sum}}
	}
	tolerance := max(b.job.Shop.Plumb.Or(b.div).Length, 2*b.div.Length) // two readings on two lines; common practice, no source
	l.Out = abs(l.Sum) > tolerance
	lean := [2]length.Length{}
	for i, at := range []length.Length{k.From, k.To} {
		face := []profile.Face{b.From.Face, b.To.Face}[i]
		foot := k.Surface(at)
		rail := k.RailTop(at) - half - foot
		leaning := func(away length.Length) profile.Face { // by so much at the rail, and on in the same line
			const over = 2
			return face.Lean(profile.Point{Z: foot.Float()}, profile.Point{Out: -float64(over * away.Float()), Z: (foot + over*rail).Float()})
		}
		mine, others := plumbs[i], plumbs[1-i]
		switch {
		case open && !mine.whole():
		case mine.whole():
			lean[i] = mine.at(rail)
			b.sides[i] = []variant{leaning(lean[i])}
		case settled && along.Given:
			other := []length.Length{k.To, k.From}[i]
			rest := l.Sum - others.at(k.RailTop(other)-half-k.Surface(other))
			b.sides[i] = []variant{face, leaning(rest)}
			if abs(rest) > tolerance {
				lean[i] = rest
				b.sides[i] = []variant{leaning(rest)}
				side := []string{"from", "to"}[i]
				b.need("a level on the face at the other end ("+side+"): the clears leave "+b.about(abs(rest))+" of lean to it", side+": {plumb: {at: , away: or in: }}", "whether that end really leans so; until then the book goes by the clears", source.Pos{})
			}
		case along.Given:
			b.sides[i] = []variant{face, leaning(l.Sum)}
		}
	}
	if open {
		return
	}
	if settled {
		l.FromRail, l.ToRail = lean[0], lean[1]
		l.Out = l.Out || abs(lean[0]) > tolerance || abs(lean[1]) > tolerance
		if plumbs[0].whole() && plumbs[1].whole() && along.Given {
			b.check("plumb-readings", "plumb readings at both ends against the two clears", abs(lean[0]+lean[1]-l.Sum), finding.AtMost, 2*tolerance, b.r.From.Plumb.At.At, along.At, "", "read the clears and both plumb readings again; one of them is off")
		}
	}
	l.Words = b.leanWords()
	b.likely(l)
}

// rakeShape works out how a baluster is cut and where its profile stands on its tread or on the shoe.
func (b *builder) rakeShape() {
	part, k := b.r.Baluster, b.Rake
	p, ok := b.bought("everything but the stair itself")
	if !ok {
		return
	}
	b.stick, b.foot, b.head = p, part.Wide.Length, part.Wide.Length
	if k.Top == 0 || k.To <= k.From {
		b.fallback = true
		b.shapes = []shape{asBought(p, 0)}
		return
	}
	b.sockLow, b.sockHigh = b.rakeSockets()
	b.shapes = []shape{asBought(p, 0)}
	// The width of its head, which the bevel runs across; then the widths where it is seen last, below and above, at the middle of the flight.
	x := k.From + (k.To-k.From)/2
	stands := b.standsAt(x, k.Surface(x))
	b.tip = part.Wide.Length
	_, long := b.lifted(x, stands)
	fit := trimmed(b.stick, part.Trim.Text, long)
	b.tip, _ = fit.WidthAt(fit.Long())
	low, long := b.lifted(x, stands)
	fit = trimmed(b.stick, part.Trim.Text, long)
	if z := stands - low; z >= 0 && z <= fit.Long() && (!k.OnTreads || part.Trim.Text != "bottom") { // feet that are cut differ from tread to tread
		_, b.foot = fit.WidthAt(z)
	}
	if z := k.RailUnder(x) - low; z > 0 && z <= fit.Long() {
		b.head, _ = fit.WidthAt(z)
	}
	foot, head := b.bevels()
	if under, over := b.sockLow+foot, max(b.sockHigh+head-b.job.Shop.Fit.Length, 0); under < p.Long()-over {
		b.thin = p.Narrowest(under, p.Long()-over)
	}
}

// standsAt is the height that a baluster's foot is seen at: the tread's, or that of the shoe's top where it stands.
func (b *builder) standsAt(x, tread length.Length) length.Length {
	if b.Rake.OnTreads {
		return tread
	}
	return b.Rake.ShoeTop(x)
}

// rakeSockets are how far a baluster goes in below and above, plumb, along its axis. A hole's depth lies along the axis; a plow's
// is square to the rake.
func (b *builder) rakeSockets() (bottom, top length.Length) {
	part := b.r.Baluster
	switch part.Bottom.Text {
	case "pin":
		bottom = part.Pin.Long.Length
	case "let in":
		bottom = part.LetIn.Length
	}
	if !b.Rake.OnTreads && b.r.Shoe != nil {
		bottom += b.along(b.r.Shoe.Plow.Deep.Length)
	}
	if part.Top.Text == "pin" {
		return bottom, part.Pin.Long.Length
	}
	return bottom, b.along(b.r.Handrail.Plow.Deep.Length)
}

// cutLong is the length of a baluster at its axis, before it is rounded.
func (b *builder) cutLong(x, stands length.Length) length.Length {
	return b.Rake.RailUnder(x) - stands + b.sockLow + b.sockHigh - b.job.Shop.Fit.Length
}

// bevels are what the two ends reach beyond the axis: the head is cut to the rake unless it is a pin, the foot only on a shoe.
func (b *builder) bevels() (foot, head length.Length) {
	part := b.r.Baluster
	if part.Top.Text != "pin" {
		head = b.up(b.tip) / 2
	}
	if !b.Rake.OnTreads && part.Bottom.Text != "pin" {
		foot = b.up(part.Wide.Length) / 2
	}
	return foot, head
}

// lifted is the height of the bottom of a baluster's profile as it is cut, and its length there, from point to point.
func (b *builder) lifted(x, stands length.Length) (bottom, long length.Length) {
	foot, head := b.bevels()
	return stands - b.sockLow - foot, b.cutLong(x, stands) + foot + head
}

// stood is a baluster's face where it really stands, carried on straight down and up so far: rail, shoe and treads are solid there, and its
// pins are in them.
func (b *builder) stood(x, stands, low, high length.Length) profile.Face {
	return reach(b.seen(x, stands), low, high)
}

// seen is a baluster's face between its foot and the rail.
func (b *builder) seen(x, stands length.Length) profile.Face {
	bottom, long := b.lifted(x, stands)
	if b.fallback || long <= 0 {
		return b.stick.Face(0)
	}
	fit := trimmed(b.stick, b.r.Baluster.Trim.Text, long)
	under, over := max(stands-bottom, 0), max(bottom+fit.Long()-b.Rake.RailUnder(x), 0)
	if under+over >= fit.Long() {
		return fit.Face(0).Lift(bottom.Float())
	}
	return fit.Cut(under, over).Face(0).Lift((bottom + under).Float())
}

// reach carries a face on, straight down and straight up, so that it spans the heights.
func reach(f profile.Face, low, high length.Length) profile.Face {
	if len(f.Points) == 0 {
		return f
	}
	first, last := f.Points[0], f.Points[len(f.Points)-1]
	if first.Z <= low.Float() && last.Z >= high.Float() {
		return f
	}
	points := make([]profile.Point, 0, len(f.Points)+2)
	if first.Z > low.Float() {
		points = append(points, profile.Point{Out: first.Out, Z: low.Float()})
	}
	points = append(points, f.Points...)
	if last.Z < high.Float() {
		points = append(points, profile.Point{Out: last.Out, Z: high.Float()})
	}
	return profile.Face{Points: points}
}

// onto puts the risers before a face that lie between it and a place downhill of it: solid up to the tread that each one carries.
// at is the place of the face's reference line.
func (b *builder) onto(f profile.Face, at, from, low length.Length) profile.Face {
	var steps []profile.Point
	z := low
	for _, t := range b.Rake.Treads {
		if t.At <= from || t.At > at || t.Height <= low {
			continue
		}
		out := (at - t.At).Float()
		steps = append(steps, profile.Point{Out: out, Z: z.Float()}, profile.Point{Out: out, Z: t.Height.Float()})
		z = t.Height
	}
	if len(steps) == 0 {
		return f
	}
	top := steps[len(steps)-1].Z
	points := append(steps, profile.Point{Out: outAt(f, top), Z: top})
	for _, p := range f.Points {
		if p.Z > top {
			points = append(points, p)
		}
	}
	return profile.Face{Points: points}
}

// rakeBall is the largest ball at a place of a raked shoe, by the marks or at the worst. A baluster that stands off its mark stands higher or
// lower too, so that of two turnings the widest place need not leave the most: every error is tried each way, and none of them. What a
// baluster is under its width lifts nothing.
func (b *builder) rakeBall(p passage, worst bool) (found profile.Found) {
	centre, wood := length.Length(0), length.Length(0)
	if worst && p.place != endToEnd {
		centre, wood = b.slack()
		if p.place == amidst {
			centre *= 2
		} else {
			wood = (wood + 1) / 2
		}
	}
	for i, off := range []length.Length{centre, 0, -centre} {
		if f := b.rakeBallAt(p.place, p.apart()+off, wood); i == 0 || f.Opening > found.Opening {
			found = f
		}
		if centre == 0 {
			break
		}
	}
	return found
}

// rakeBallAt is the largest ball between neighbours on a raked shoe, as far above each other as the rake climbs between them.
func (b *builder) rakeBallAt(place int, apart, wood length.Length) (found profile.Found) {
	k := b.Rake
	worse := func(left, right profile.Face, low, high length.Length) {
		if high <= low {
			return
		}
		if f := opening(left, right, apart+wood, low, high); f.Opening >= found.Opening {
			found = f
		}
	}
	if b.fallback { // heights are not known: the whole balusters as bought, side by side
		s := b.shapes[0]
		switch place {
		case amidst:
			worse(s.face, s.face, s.low, s.high)
		case endToEnd:
			worse(flat(), flat(), s.low, s.high)
		default:
			worse(flat(), s.face, s.low, s.high)
		}
		return found
	}
	switch place {
	case amidst:
		x := k.From + (k.To-k.From)/2 // the same everywhere along the rake
		low, high := k.ShoeTop(x), k.RailUnder(x+apart)
		worse(b.stood(x, low, low, high), b.stood(x+apart, k.ShoeTop(x+apart), low, high), low, high)
	case atDatum:
		x := k.From + apart
		low, high := k.ShoeTop(k.From), k.RailUnder(x)
		for _, face := range b.sides[atDatum] {
			worse(reach(face, low, high), b.stood(x, k.ShoeTop(x), low, high), low, high)
		}
	case atFar:
		x := k.To - apart
		low, high := k.ShoeTop(x), k.RailUnder(k.To)
		for _, face := range b.sides[atFar] {
			worse(b.stood(x, low, low, high), reach(face, low, high), low, high)
		}
	default:
		low, high := k.ShoeTop(k.From), k.RailUnder(k.To)
		for _, from := range b.sides[atDatum] {
			for _, to := range b.sides[atFar] {
				worse(reach(from, low, high), reach(to, low, high), low, high)
			}
		}
	}
	return found
}

// rakeLength is a baluster's length at its axis: H + x_k·T - h_k - t·c + p·c - fit, with pins and what is let in; on a shoe the same
// for all of them: H - v - s·c - t·c + (p_r + p_s)·c - fit.
func (b *builder) rakeLength() working.Expr {
	part, c := b.r.Baluster, b.sec()
	e := working.Expr(b.in("H", "top of the handrail above the line of the nosings", b.r.Height.Top))
	if b.Rake.OnTreads {
		e = working.Difference(working.Sum(e, working.Product(working.Variable("x_k"), b.tan())), working.Variable("h_k"))
	} else {
		e = working.Difference(e, b.in("v", "underside of the shoe above the line of the nosings", b.r.Stair.ShoeOver), working.Product(b.in("s", "height of the shoe", b.r.Shoe.High), c))
	}
	e = working.Difference(e, working.Product(b.in("t", "height of the handrail's section", b.r.Handrail.High), c))
	pin := func(symbol, name string, m job.Measure) { e = working.Sum(e, b.in(symbol, name, m)) }
	if part.Top.Text == "pin" {
		pin("p_pin", "length of the pin", part.Pin.Long)
	} else if b.r.Handrail.Plow.Deep.Given {
		e = working.Sum(e, working.Product(b.in("p_r", "depth of the plow in the handrail, square to it", b.r.Handrail.Plow.Deep), c))
	}
	if !b.Rake.OnTreads && b.r.Shoe.Plow.Deep.Given {
		e = working.Sum(e, working.Product(b.in("p_s", "depth of the plow in the shoe, square to it", b.r.Shoe.Plow.Deep), c))
	}
	switch part.Bottom.Text {
	case "pin":
		pin("p_pin", "length of the pin", part.Pin.Long)
	case "let in":
		pin("p_let", "how deep its foot is let in", part.LetIn)
	}
	return working.Difference(e, b.in("fit", "taken off so that a baluster goes in", b.job.Shop.Fit))
}
