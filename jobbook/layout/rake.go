package layout

import (
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// beginFlight works out the stair under a flight, its ends and the line of its rail.
func (b *builder) beginFlight() {
	b.Rake = &Rake{OnTreads: b.r.NoShoe}
	b.Floor.How = "level"
	b.stair()
	b.span()
	b.rakeEnds()
	b.rakeHeights()
}

// flight works out everything else about a flight that its neighbours do not decide, and the count.
func (b *builder) flight() {
	b.stairMeasures()
	b.rakeLean()
	b.rakeShape()
	b.limit()
	if b.r.Stays() {
		b.keep()
	} else if b.Rake.OnTreads {
		b.perTread()
	} else {
		b.count()
	}
}

// steps are the numbered inputs of risers or goings.
func (b *builder) steps(symbol, name string, s job.Steps) []working.Expr {
	var list []working.Expr
	for i, m := range s.Each {
		n := strconv.Itoa(i + 1)
		list = append(list, b.in(symbol+"_"+n, name+" "+n, m))
	}
	return list
}

// all is the sum of some steps, or the same share of a total.
func (b *builder) all(symbol, name string, s job.Steps, from int) working.Expr {
	if len(s.Each) > 0 {
		return working.Total(b.steps(symbol, name, s)[from:])
	}
	total := b.in(symbol+"_all", "all "+name+"s together", s.Total)
	if from == 0 {
		return total
	}
	count := working.Count("n_"+symbol, "how many", int64(s.Count.N), s.Count.At)
	return working.Quotient(working.Product(total, working.Difference(count, working.Constant(int64(from)))), count)
}

// stair takes the treads from the readings, and works out the slope of the line of the nosings.
func (b *builder) stair() {
	s := b.r.Stair
	ready := true
	ask := func(what, key string, steps job.Steps) {
		if steps.Known() {
			return
		}
		ready = false
		at := steps.At
		for i, m := range steps.Each {
			if !m.Given {
				b.need(what+" "+strconv.Itoa(i+1), key+": ", "the rake, and everything after it", m.At)
			}
		}
		if len(steps.Each) == 0 {
			b.need("each "+what+" of the flight", key+": ", "the rake, and everything after it", at)
		}
	}
	ask("riser", "risers", s.Risers)
	ask("going", "goings", s.Goings)
	if !s.Nosing.Given {
		b.need("how far the nosings stand out; 0 where there is none", "nosing: ", "where the rail stands over each nosing, the triangle under it", s.Nosing.At)
	}
	if !ready {
		return
	}
	risers, goings := s.Risers.Sums(), s.Goings.Sums()
	if len(risers) < 2 || len(goings) != len(risers)-1 {
		b.check("risers", "risers of the flight", length.Length(len(risers)), finding.AtLeast, 2, s.Risers.At, s.Goings.At, "", "a flight has two risers or more, and one going fewer; a single step is no flight")
		return
	}
	k := b.Rake
	k.Nosing, k.Measured = s.Nosing.Length, s.Risers.Measured() && s.Goings.Measured()
	at, below := length.Length(0), length.Length(0)
	for i, h := range risers {
		t := Tread{N: i + 1, At: at, Height: h, Riser: h - below}
		if i < len(goings) {
			t.Going = goings[i] - at
			at = goings[i]
		}
		below = h
		k.Treads = append(k.Treads, t)
	}
	if !s.Rise.Given && !s.Rise.At.IsZero() {
		b.need("from the floor below to the landing, read by itself; leave rise out where it is not", "rise: ", "whether the risers were read right", s.Rise.At)
	}
	if s.Rise.Given {
		b.check("floor-to-floor", "floor to landing as read by itself, against all risers together", abs(s.Rise.Length-risers[len(risers)-1]), finding.AtMost, 2*b.div.Length, s.Rise.At, s.Risers.At, "", "read the risers again; one of them is off by about that much")
	}
	rise := b.work("rise", "rise from the lowest nosing to the landing's", "R", b.all("r", "riser", s.Risers, 1))
	going := b.work("going", "going from the lowest nosing to the landing's", "A", b.all("a", "going", s.Goings, 0))
	k.Rise, k.Going = rise.Exact(b.sys), going.Exact(b.sys)
	slope := working.Quotient(rise.In(), going.In())
	k.Angle = b.plainWork("angle", "angle of the rake off level, the bevel of every plumb cut", "theta", "degrees",
		working.Quotient(working.Product(working.Arctangent(slope), working.Constant(180)), working.Pi()))
	units := int64(12)
	if b.sys == length.Millimetres {
		units = 100
	}
	k.Square = b.work("square", "rise in "+strconv.Itoa(int(units))+" of run, as the steel square is set", "q", working.Product(working.Constant(units), slope))
	k.Secant = b.plainWork("secant", "length along the rake for each unit of level distance", "c", "",
		working.Root(working.Sum(working.Constant(1), working.Product(slope, slope))))
}

// plainWork is work with a unit of its own.
func (b *builder) plainWork(id, title, symbol, unit string, e working.Expr, cites ...working.Citation) *working.Figure {
	f := b.work(id, title, symbol, e, cites...)
	f.Unit = unit
	return f
}

// tan is the slope as an expression: R / A.
func (b *builder) tan() working.Expr {
	return working.Quotient(b.figure("rise").In(), b.figure("going").In())
}

// sec is what a level distance is multiplied by to lie along the rake.
func (b *builder) sec() working.Expr { return b.Rake.Secant.In() }

// figure finds one of the run's figures; nil when there is none.
func (b *builder) figure(id string) *working.Figure {
	for _, f := range b.Figures {
		if f.ID == b.ID+"/"+id {
			return f
		}
	}
	return nil
}

// sloped reports that the line of the nosings is known.
func (b *builder) sloped() bool { return b.Rake.Going > 0 && b.Rake.Secant.Value.Known() }

// along is a level length along the rake, to the nanometre.
func (b *builder) along(l length.Length) length.Length {
	return length.Rounded(b.Rake.Secant.Value.Mul(exact.Of(int64(l))), length.Nanometre, length.Nearest)
}

// up is how much higher the rake is a level distance farther uphill.
func (b *builder) up(l length.Length) length.Length {
	return length.Length(length.MulDiv(int64(l), int64(b.Rake.Rise), int64(b.Rake.Going)))
}

// span finds the places of the two faces, and the clear between them.
func (b *builder) span() {
	s, k := b.r.Stair, b.Rake
	given := func(e job.End) bool { return e.Past.Given || e.Before.Given }
	fromOK, toOK := given(b.r.From), given(b.r.To)
	level := s.Level
	ask := func(side, which string, e job.End) {
		why := "where the balusters stand on the treads, the opening at that end"
		if level.Given && (fromOK || toOK) {
			why = "whether the goings and the level clear were read right; until then it is worked out of them, and " + why + " with it"
		}
		b.need("how far the face at the "+which+" end stands before or past the face of the "+map[string]string{"from": "lowest", "to": "highest"}[side]+" riser", side+": {before: or past: }", why, e.Past.Or(e.Before).At)
	}
	if !fromOK && (!toOK || !level.Given) {
		ask("from", "lower", b.r.From)
	}
	if !toOK && (!fromOK || !level.Given) {
		ask("to", "upper", b.r.To)
	}
	b.spare(ask, fromOK, toOK)
	if !b.sloped() {
		return
	}
	last := k.Treads[len(k.Treads)-1]
	from, to := b.r.From.Past.Length-b.r.From.Before.Length, last.At+b.r.To.Past.Length-b.r.To.Before.Length
	b.faces = [2]job.Measure{{Length: from, Given: fromOK}, {Length: to, Given: toOK}}
	if !fromOK && !toOK || (!fromOK || !toOK) && !level.Given {
		return
	}
	switch {
	case !fromOK:
		from = to - level.Length
	case !toOK:
		to = from + level.Length
	}
	var read, placed working.Expr
	if level.Given {
		read = b.in("L_level", "level clear between the two faces, as read", level)
	}
	if fromOK && toOK {
		placed = b.placed()
	}
	e := placed
	switch {
	case read != nil && placed != nil:
		b.check("span", "level clear as read, against the goings and where the faces stand", abs(to-from-level.Length), finding.AtMost, 2*b.div.Length, level.At, s.Goings.At, "", "measure the clear, the goings and the faces again; one of them is off")
		// While the two differ by what a tape may, the wider of them is judged.
		e, to = working.Greatest(read, placed), max(to, from+level.Length)
	case read != nil:
		e = read
	}
	// Trim that the faces were read to and that comes off.
	for i, end := range []job.End{b.r.From, b.r.To} {
		if !end.Trimmed() || end.TrimStays() || !end.Thick.Given {
			continue
		}
		e = working.Sum(e, b.in([]string{"t_from", "t_to"}[i], "thickness of the "+end.Face.Text+" that comes off", end.Thick))
		if i == 0 {
			from -= end.Thick.Length
		} else {
			to += end.Thick.Length
		}
	}
	if to <= from {
		b.check("clear", "level clear between the two faces", to-from, finding.Over, 0, b.clearAt(), source.Pos{}, "", "read where the faces stand again")
		return
	}
	k.From, k.To = from, to
	b.Clear = b.work("clear", "level clear between the two faces, that the marks are laid out in", "L", e)
	b.clearLen = b.Clear.Exact(b.sys)
	k.To = k.From + b.clearLen
	b.faces = [2]job.Measure{{Length: k.From, Given: true}, {Length: k.To, Given: true}}
}

// spare asks for the one of level clear, lower and upper face that is left blank while the other two give it: read by itself it shows a slip in the goings or in one of the other two, which would move every baluster. One whose
// key is not written was not going to be read.
func (b *builder) spare(ask func(side, which string, e job.End), fromOK, toOK bool) {
	level := b.r.Stair.Level
	blank := func(e job.End) bool { return !e.Past.At.IsZero() || !e.Before.At.IsZero() }
	switch {
	case fromOK && toOK && !level.Given && !level.At.IsZero():
		b.need("level clear between the two faces, at the foot; leave level out where it is not read", "clear: {level: }", "whether the goings, and where the two faces stand, were read right; until then it is worked out of them", level.At)
	case !fromOK && toOK && level.Given && blank(b.r.From):
		ask("from", "lower", b.r.From)
	case fromOK && !toOK && level.Given && blank(b.r.To):
		ask("to", "upper", b.r.To)
	}
}

// placed is the clear between the two faces by the goings and where each of them stands: A + x_to - x_from.
func (b *builder) placed() working.Expr {
	e := working.Expr(b.figure("going").In())
	if m := b.r.To.Before; m.Given {
		e = working.Difference(e, b.in("x_to", "how far the face at the upper end stands before the riser", m))
	} else {
		e = working.Sum(e, b.in("x_to", "how far the face at the upper end stands past the riser", b.r.To.Past))
	}
	if m := b.r.From.Before; m.Given {
		return working.Sum(e, b.in("x_from", "how far the face at the lower end stands before the riser", m))
	}
	return working.Difference(e, b.in("x_from", "how far the face at the lower end stands past the riser", b.r.From.Past))
}

// rakeEnds works out what stands at each end.
func (b *builder) rakeEnds() {
	from, _ := b.footing(false)
	to, _ := b.footing(true)
	b.From = b.end(b.r.From, "from", from.stands)
	b.To = b.end(b.r.To, "to", to.stands)
	b.From.Known = b.From.Known && (alike(b.From.Newel) || !b.unsaid(false))
	b.To.Known = b.To.Known && (alike(b.To.Newel) || !b.unsaid(true))
}

// rakeHeights works out the line of the rail, and how high it stands over every nosing.
func (b *builder) rakeHeights() {
	k, s := b.Rake, b.r.Stair
	b.stairDrop()
	if !b.r.Height.Top.Given {
		b.need("top of the handrail above the line of the nosings, plumb", "height: ", "lengths of balusters, the height checks", b.r.Height.Top.At)
	}
	ready := b.parts()
	b.heightMeasures()
	if !k.OnTreads && b.r.Shoe != nil {
		if !s.ShoeOver.Given {
			b.need("underside of the shoe above the line of the nosings, plumb", "shoe-over: ", "lengths of balusters, the triangle under it", s.ShoeOver.At)
			ready = false
		}
		if !s.Under.Given {
			b.need("what is under the shoe: closed, or open triangles", "under-shoe: ", "whether a ball passes under the shoe", s.Under.At)
		}
	}
	if !ready || !b.sloped() || !s.Nosing.Given || !b.r.Height.Top.Given {
		return
	}
	k.Top = b.r.Height.Top.Length
	k.Thick = b.work("rail-plumb", "height of the handrail's section, plumb", "t_c", working.Product(b.in("t", "height of the handrail's section", b.r.Handrail.High), b.sec())).Exact(b.sys)
	room := k.Top - k.Thick
	if b.r.Shoe != nil {
		k.ShoeUnder = s.ShoeOver.Length
		k.ShoeThick = b.work("shoe-plumb", "height of the shoe, plumb", "s_c", working.Product(b.in("s", "height of the shoe", b.r.Shoe.High), b.sec())).Exact(b.sys)
		room -= k.ShoeUnder + k.ShoeThick
	}
	b.overTrim()
	if room <= 0 {
		b.check("room", "room under the handrail", room, finding.Over, 0, b.r.Height.Top.At, b.r.Handrail.High.At, "", "check the height of the rail and the sizes of handrail and shoe")
		k.Top, k.Thick = 0, 0
	}
}

// overTrim says where a raked shoe ends beside trim that stays: it may pass over it and go on to the face behind.
func (b *builder) overTrim() {
	k := b.Rake
	if b.r.Shoe == nil || k.To <= k.From {
		return
	}
	for i, x := range []length.Length{k.From, k.To} {
		if end := []*End{&b.From, &b.To}[i]; end.High > 0 {
			end.Proud = -end.recess(k.ShoeTop(x) - k.ShoeThick/2)
		}
	}
}

// heightMeasures hands the height over every nosing between the two ends to the rules, the least of them and the greatest.
func (b *builder) heightMeasures() {
	k := b.Rake
	least := finding.Measure{Limit: "guard-height-stair", Subject: "height of the guard above the nosings, the least", Group: b.ID, At: b.r.Height.Top.At, Missing: "top of the handrail above the line of the nosings"}
	least.Cure = "set the rail higher by as much; where risers and goings are uneven, one nosing is nearer to it than the others"
	handLow := finding.Measure{Limit: "handrail-height-least", Cure: least.Cure, Subject: "height of the handrail above the nosings, the least", Group: b.ID, At: b.r.Height.Top.At, Missing: least.Missing}
	handHigh := finding.Measure{Limit: "handrail-height-most", Subject: "height of the handrail above the nosings, the greatest", Group: b.ID, At: b.r.Height.Top.At, Missing: least.Missing}
	if b.r.Height.Top.Given {
		least.Missing = "risers, goings and nosing, and where the ends stand"
		handLow.Missing, handHigh.Missing = least.Missing, least.Missing
	}
	if b.r.Height.Top.Given && b.sloped() && b.r.Stair.Nosing.Given && b.Clear != nil {
		top := b.in("H", "top of the handrail above the line of the nosings", b.r.Height.Top)
		var rows [][]exact.Number
		for _, t := range k.Treads {
			if at := t.At - k.Nosing; at < k.From-k.Nosing || at > k.To { // the rail does not stand over that one
				continue
			}
			rows = append(rows, []exact.Number{exact.Of(int64(t.N)), t.At.In(b.sys), (t.Height - k.Treads[0].Height).In(b.sys)})
		}
		fig := b.series("heights", "top of the handrail above each nosing", "H_k",
			working.Difference(working.Sum(top, working.Product(working.Variable("x_k"), b.tan())), working.Variable("h_k")),
			[]string{"k", "x_k", "h_k"}, []string{"nosing", "nosing behind the lowest one", "nosing above the lowest one"}, rows)
		for i, row := range fig.Series.Rows {
			h := length.Of(row.Value, b.sys, length.Nanometre, length.Nearest)
			if i == 0 || h < least.Value {
				least.Value = h
			}
			if i == 0 || h > handHigh.Value {
				handHigh.Value = h
			}
		}
		least.Known = len(rows) > 0
		least.Figure = fig.ID
		switch {
		case !k.Measured:
			least.Known = false
			least.Missing = "each riser and going by itself: uneven ones bring a nosing nearer to the rail"
		case b.floorToCome():
			least.Known, least.Missing = false, unfinished
		}
		handLow.Value, handLow.Known, handHigh.Known = least.Value, least.Known, least.Known
		handLow.Figure, handHigh.Figure, handLow.Missing, handHigh.Missing = fig.ID, fig.ID, least.Missing, least.Missing
	}
	b.Measures = append(b.Measures, least)
	b.landingHeight()
	if b.isHandrail() {
		b.Measures = append(b.Measures, handLow, handHigh)
	}
}

// isHandrail reports that the guard's rail is the handrail of the stair as well.
func (b *builder) isHandrail() bool {
	f := b.r.Stair.IsHandrail
	return !f.Given || f.Yes
}

// stairDrop is how deep it falls beside the highest tread with an open side.
func (b *builder) stairDrop() {
	k := b.Rake
	m := finding.Measure{Limit: "guard-drop", Subject: "drop beside the highest tread", Group: b.ID, Value: b.r.Drop.Length, Known: b.r.Drop.Given, At: b.r.Drop.At, Missing: "how far down it is beside the highest tread"}
	if n := len(k.Treads); n >= 2 {
		high := k.Treads[n-2].Height
		if k.To > k.Treads[n-1].At { // it goes on over the landing
			high = k.Treads[n-1].Height
		}
		l := b.job.Rules.Limit("guard-drop")
		if l != nil && l.Value.Given && (high > l.Value.Length || l.Op == "at-least" && high == l.Value.Length) && high > b.r.Drop.Length { // a floor that lies deeper beside the stair only adds to it
			m.Value, m.Known, m.At = high, true, b.r.Stair.Risers.At
			m.Note = "reckoned from the risers; where the floor beside the stair lies deeper it is more"
		}
	}
	if !m.Known {
		b.need("drop from the highest tread to the floor or grade beside the stair", "drop: ", "whether a guard is required here", b.r.Drop.At)
	}
	b.Measures = append(b.Measures, m)
}
