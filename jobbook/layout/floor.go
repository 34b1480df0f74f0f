package layout

import (
	"slices"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// floor takes the level readings for the height of the floor along the run, from the floor at the datum end.
func (b *builder) floor() {
	var read []job.Level
	blank := source.Pos{}
	for _, l := range b.r.Level {
		if l.At.Given && l.Down.Given {
			read = append(read, l)
		} else if blank.IsZero() {
			blank = l.At.Or(l.Down).At
		}
	}
	b.Floor.How = "level"
	if len(read) > 0 && !blank.IsZero() {
		b.need("a level reading of the floor that is left blank", "level: ", "heights, lengths of balusters or scribe of the shoe", blank)
	}
	if len(read) == 0 {
		b.Floor.Words = "The floor was not read from a level line; it is taken as level until it is."
		b.need("the floor from a level line: both ends and the middle at least", "level: ", "heights are judged from the highest point of the floor", blank)
		return
	}
	slices.SortStableFunc(read, func(x, y job.Level) int { return int(sign(x.At.Length - y.At.Length)) })
	b.sureOfLevel(read)
	datum := read[0].Down.Length
	for _, l := range read {
		b.Floor.Points = append(b.Floor.Points, FloorPoint{At: l.At.Length, Height: datum - l.Down.Length})
	}
	b.Floor.Steps = stepsOf(read)
	stances := b.Floor.stances()
	for i := 1; i < len(stances); i++ {
		if stances[i].part == stances[i-1].part {
			b.Floor.Out = max(b.Floor.Out, stances[i].floor-stances[i-1].floor)
		}
	}
	low := b.Floor.low()
	switch {
	case len(b.Floor.Steps) > 0:
		b.Floor.How = "lengths"
		b.Floor.Words = b.stepWords()
	case b.Floor.Out == 0:
		b.Floor.Words = "The floor is level by the readings."
		if b.Floor.Partly {
			b.Floor.Words = "The floor is level where it was read; the readings do not reach from end to end."
		}
	case b.r.NoShoe || b.r.FloorOut.Text == "lengths" || b.r.FloorOut.Text != "scribe" && b.Floor.Out > b.job.Shop.Scribe.Length:
		b.Floor.How = "lengths"
		b.Floor.Words = "The floor is out of level by " + b.tape(b.Floor.Out) + ": the shoe follows it and each baluster gets its own length."
		if b.r.NoShoe {
			b.Floor.Words = "The floor is out of level by " + b.tape(b.Floor.Out) + ": each baluster gets its own length."
		}
	default:
		b.Floor.How = "scribe"
		b.Floor.Words = "The floor is out of level by " + b.tape(b.Floor.Out) + ": the shoe is scribed to it, its top stays level, and every baluster is alike."
		for _, p := range b.Floor.Points {
			b.Floor.Scribe = append(b.Floor.Scribe, FloorPoint{p.At, p.Height - low})
		}
	}
}

// sureOfLevel checks level readings against each other and against the run: each place once, or twice at a step, inside the run, from
// end to end.
func (b *builder) sureOfLevel(read []job.Level) {
	const hand = 6 * length.Inch // as near to an end as a rod is set; common practice, no source
	b.sureOfSteps(read)
	reference := 0 // a step is no slip: each stretch is compared with its own first reading
	for i, l := range read {
		if isStep(read, i) {
			reference = i
		}
		const most = 2 * length.Inch // floors of houses that stand; common practice, no source
		if off := abs(read[reference].Down.Length - l.Down.Length); off > most {
			b.check("level-slip", "a level reading apart from the one at the datum end", off, finding.AtMost, most, l.Down.At, read[reference].Down.At, "", "read that place again; where the floor steps, read it before and after the step, and say step: yes with the second")
			break
		}
	}
	if b.clearLen == 0 {
		return
	}
	first, last := read[0], read[len(read)-1]
	if last.At.Length > b.clearLen+hand {
		b.check("level-inside", "a level reading from the datum end", last.At.Length, finding.AtMost, b.clearLen, last.At.At, b.clearAt(), "", "measure from the datum end; it lies beyond the run")
	}
	if len(read) < 2 || first.At.Length > hand || last.At.Length < b.clearLen-hand {
		b.Floor.Partly = true
		b.need("the floor from a level line at both ends: the readings do not reach from one to the other", "level: ", "heights are judged from the highest point of the floor", last.At.At)
	}
}

func sign(l length.Length) length.Length {
	switch {
	case l < 0:
		return -1
	case l > 0:
		return 1
	}
	return 0
}

// high and low are the floor's highest and lowest point along the run, from the floor at the datum end.
func (f Floor) high() (h length.Length) {
	for _, p := range f.Points {
		h = max(h, p.Height)
	}
	return h
}

func (f Floor) low() (l length.Length) {
	for _, p := range f.Points {
		l = min(l, p.Height)
	}
	return l
}

// at is the floor's height at a place: straight between readings, as at the nearest one beyond them.
func (f Floor) at(x length.Length) length.Length {
	if len(f.Points) == 0 {
		return 0
	}
	for i := 1; i < len(f.Points); i++ {
		lo, hi := f.Points[i-1], f.Points[i]
		if x <= lo.At {
			return lo.Height
		}
		if x < hi.At {
			run := int64(hi.At - lo.At)
			return lo.Height + length.Length(length.MulDiv(int64(hi.Height-lo.Height), int64(x-lo.At), run))
		}
	}
	return f.Points[len(f.Points)-1].Height
}

// levels works out the heights of rail and shoe, and the two heights that are printed: above the bare and the finished floor.
func (b *builder) levels() {
	h := b.r.Height
	fall := b.r.Drop.Length
	if b.r.Drop.Given && b.r.ToCome.Thick.Given { // read from the floor as it is now; what is laid on it makes the fall longer
		fall += b.r.ToCome.Thick.Length
	}
	higher := b.Floor.high() // it is read at the datum end, and falls as much deeper as the floor rises along the run
	fall += higher
	drop := finding.Measure{Limit: "guard-drop", Subject: "drop beside the walking surface", Group: b.ID, Value: fall, Known: b.r.Drop.Given, At: b.r.Drop.At, Missing: "how far down it is from the walking surface"}
	if fall-higher != b.r.Drop.Length {
		drop.Note = "with the floor to come on top: read from the floor as it is now, it is " + b.tape(b.r.Drop.Length)
	}
	if higher > 0 && b.r.Drop.Given {
		drop.Note = joinNotes(drop.Note, "the floor rises "+b.tape(higher)+" along the run from the end where it was read")
	}
	if !drop.Known {
		b.need("drop from the walking surface to the floor or grade below", "drop: ", "whether a guard is required here", b.r.Drop.At)
	}
	b.Measures = append(b.Measures, drop)
	height := finding.Measure{Limit: "guard-height-level", Subject: "height of the guard above the highest point of the finished floor", Group: b.ID, Missing: "top of the handrail above the finished floor", At: h.Top.At}
	defer func() { b.Measures = append(b.Measures, height) }()
	if !h.Top.Given {
		b.need("top of the handrail above the finished floor", "height: ", "lengths of balusters, the height check", h.Top.At)
		b.parts()
		return
	}
	come := b.r.ToCome.Thick
	if (b.r.ToCome.What.Given || !come.At.IsZero()) && !come.Given {
		b.need("how thick the floor to come is; without any, leave floor-to-come out", "floor-to-come: {thick: }", "the height above the finished floor", come.At)
		return
	}
	top := b.in("H", "top of the handrail above the "+or(h.Above.Text, "finished")+" floor, at the "+or(h.At.Text, "datum")+place(h.At.Text), h.Top)
	thick := b.in("c", "floor to come: "+or(b.r.ToCome.What.Text, "none"), come)
	if !come.Given {
		thick.From = "no floor to come"
	}
	rise := b.found("f_high", "highest point of the floor above the floor at the datum end", "level readings", b.Floor.high())

	// Rail top above the finished and the bare floor, at the place where the height was set.
	finished, bare := working.Expr(top), working.Expr(top)
	if come.Given {
		if h.Above.Text == "bare" {
			finished = working.Difference(top, thick)
		} else {
			bare = working.Sum(top, thick)
		}
	}
	atHighest := h.At.Text == "highest"
	fromHigh := func(e working.Expr) working.Expr {
		if atHighest || len(b.Floor.Points) == 0 {
			return e
		}
		return working.Difference(e, rise)
	}
	fin := b.work("height-finished", "top of the handrail above the highest point of the finished floor", "H_f", fromHigh(finished))
	bar := b.work("height-bare", "top of the handrail above the highest point of the bare floor", "H_b", fromHigh(bare))
	b.Levels.Finished, b.Levels.Bare = fin.Exact(b.sys), bar.Exact(b.sys)

	// Rail top above the floor that the guard stands on, at the datum end.
	stand := bare
	if b.r.StandsOn.Text == "finished" {
		stand = finished
	}
	if atHighest && len(b.Floor.Points) > 0 {
		stand = working.Sum(stand, rise)
	}
	b.Levels.RailTop = b.work("rail-top", "top of the handrail above the floor the guard stands on, at the datum end", "T", stand).Exact(b.sys)

	height.Known, height.Value, height.Figure = true, b.Levels.Finished, fin.ID
	if rise := b.Floor.high(); rise > 0 && !atHighest {
		height.Note = "by the level readings the floor rises " + b.tape(rise) + " from where the height was set"
		height.Cure = "set the rail higher by as much, or from the highest point of the floor: height: {top: , at: highest}"
	}
	if b.Floor.Partly {
		height.Note = joinNotes(height.Note, "the level readings do not reach from end to end: a rise beyond them would take from this height")
	}
	if len(b.Floor.Points) == 0 {
		height.Note = "the floor was not read from a level line: a rise along the run would take from this height"
	}
	if b.Levels.Bare != b.Levels.Finished {
		height.Note = joinNotes(height.Note, "above the bare floor it is "+b.tape(b.Levels.Bare)+" until the floor is laid")
	}
	b.railAndShoe()
}

// railAndShoe finds the underside of the rail and the top of the shoe.
func (b *builder) railAndShoe() {
	if !b.parts() {
		return
	}
	b.Levels.RailUnder = b.Levels.RailTop - b.r.Handrail.High.Length
	if b.r.Shoe != nil {
		b.Levels.ShoeTop = b.r.Shoe.High.Length
		if b.Floor.How == "scribe" {
			b.Levels.ShoeTop += b.Floor.low()
		}
	}
	b.Levels.Known = b.Levels.RailUnder > b.Levels.ShoeTop
	if !b.Levels.Known {
		b.check("room", "room between shoe and handrail", b.Levels.RailUnder-b.Levels.ShoeTop, finding.Over, 0, b.r.Height.Top.At, b.r.Handrail.High.At, b.ID+"/rail-top", "check the height of the rail and the sizes of handrail and shoe")
	}
}

// parts reports whether handrail and shoe are chosen and have their heights, and names what is missing.
func (b *builder) parts() bool {
	ready := true
	switch {
	case b.r.Handrail == nil:
		what, why := "which handrail", "lengths of balusters"
		if b.r.Stays() {
			what, why = "which handrail stands there: its section as measured, in a part file", "everything about this run"
		}
		b.need(what, "handrail: ", why, b.r.Parts.Handrail.At)
		ready = false
	case !b.r.Handrail.High.Given:
		b.needIn(b.r.Handrail.File, "height of the handrail's section", "high: ", "lengths of balusters", b.r.Handrail.High.At)
		ready = false
	}
	switch {
	case b.r.NoShoe:
	case b.r.Shoe == nil:
		what, why := "which shoe, or none", "lengths of balusters"
		if b.r.Stays() {
			what, why = "which shoe stands there, its section as measured, in a part file; or none", "everything about this run"
		}
		b.need(what, "shoe: ", why, b.r.Parts.Shoe.At)
		ready = false
	case !b.r.Shoe.High.Given:
		b.needIn(b.r.Shoe.File, "height of the shoe", "high: ", "lengths of balusters", b.r.Shoe.High.At)
		ready = false
	}
	blank := func(file string, p job.Plow, where string) {
		if !p.Deep.Given && (p.Wide.Given || !p.Deep.At.IsZero() || !p.Wide.At.IsZero()) {
			b.needIn(file, "depth of the plow in the "+where, "plow: {deep: }", "lengths of balusters", p.Deep.At)
			ready = false
		}
	}
	if b.r.Handrail != nil {
		blank(b.r.Handrail.File, b.r.Handrail.Plow, "handrail")
	}
	if b.r.Shoe != nil {
		blank(b.r.Shoe.File, b.r.Shoe.Plow, "shoe")
	}
	if p := b.r.Baluster; p != nil && (p.Top.Text == "pin" || p.Bottom.Text == "pin") && !p.Pin.Long.Given {
		b.needIn(p.File, "length of the baluster's pin", "pin: {long: }", "lengths of balusters", p.Pin.Long.At)
		ready = false
	}
	if p := b.r.Baluster; p != nil && p.Bottom.Text == "let in" && !p.LetIn.Given {
		b.needIn(p.File, "how deep the baluster's foot is let in", "let-in: ", "lengths of balusters", p.LetIn.At)
		ready = false
	}
	return ready
}

func or(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}

func place(at string) string {
	if at == "highest" {
		return " point"
	}
	return " end"
}

func joinNotes(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}
