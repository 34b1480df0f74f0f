package layout

import (
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// stairMeasures hands the stair itself to the rules: it stands already, and the guard is only as safe as the steps beside it.
func (b *builder) stairMeasures() {
	s, k := b.r.Stair, b.Rake
	come := b.floorToCome()
	measure := func(limit, subject string, value length.Length, known bool, at source.Pos, missing string) {
		if come && known {
			known, missing = false, unfinished
		}
		b.Measures = append(b.Measures, finding.Measure{Limit: limit, Subject: subject, Group: b.ID, Value: value, Known: known, At: at, Missing: missing})
	}
	steps := func(of job.Steps, name string, most, least, spread string) {
		low, high := extremes(of)
		missing := "each " + name + " by itself"
		known := of.Measured()
		if !known && of.Known() && len(of.Each) == 0 { // the greatest is no less than the average, the least no more: outside the limit that is a fail
			low, high = of.Total.Part(1, of.Count.N), of.Total.Part(1, of.Count.N)
			l := b.job.Rules.Limit(most + least)
			known = l != nil && l.Value.Given && (most != "" && high > l.Value.Length || least != "" && low < l.Value.Length)
		}
		if most != "" {
			measure(most, "greatest "+name, high, known, of.At, missing)
		}
		if least != "" {
			measure(least, "least "+name+", nosing to nosing", low, known, of.At, missing)
		}
		measure(spread, "greatest "+name+" less the least", high-low, of.Measured(), of.At, missing)
		if !of.Measured() && of.Known() {
			b.need("each "+name+" by itself; they were divided evenly", name+"s: ", "lengths on uneven treads, and whether the "+name+"s are alike", of.At)
		}
	}
	steps(s.Risers, "riser", "riser-most", "", "riser-spread")
	steps(s.Goings, "going", "", "tread-least", "tread-spread")
	switch {
	case b.openRisers() && !s.OpenRisers.Given:
		b.need("whether there are risers between the treads; leave open-risers out where there are", "open-risers: ", "whether a ball passes between two treads, and beside a baluster under a nosing", s.OpenRisers.At)
		measure("open-riser", "opening between two treads", 0, false, s.OpenRisers.At, "whether there are risers between the treads")
	case !s.OpenRisers.Yes:
		measure("nosing-least", "nosing, against the least", s.Nosing.Length, s.Nosing.Given, s.Nosing.At, "how far the nosings stand out")
		measure("nosing-most", "nosing, against the most", s.Nosing.Length, s.Nosing.Given, s.Nosing.At, "how far the nosings stand out")
	default:
		measure("open-riser", "opening between two treads", s.RiserOpening.Length, s.RiserOpening.Given, s.RiserOpening.At, "the widest opening between two treads")
		if !s.RiserOpening.Given {
			b.need("the widest opening between two treads", "riser-opening: ", "whether a ball passes between them", s.RiserOpening.At)
		}
	}
	b.triangle()
	if f := s.IsHandrail; !f.Given && !f.At.IsZero() {
		b.need("whether the guard's rail is also the handrail of the stair; it is judged as one until then", "is-handrail: ", "height, grip and reach of the handrail", f.At)
	}
	if b.isHandrail() {
		b.grip(b.r.Handrail, "the handrail")
		b.reach()
	}
	b.wallRail()
	if at := s.WallRail.Blank(); !at.IsZero() {
		b.need("the handrail on the wall: between it and the wall, how far it stands out, its height, its length, its ends and what it reaches over; leave wall-rail out where there is none",
			"wall-rail: {clear: , stands-out: , height: , long: , ends: , reaches: , studs: }", "height, grip and reach of a handrail, and its brackets", at)
	} else if !b.isHandrail() && !s.WallRail.Given() && len(k.Treads) > 0 {
		b.need("which rail is the handrail of this flight: the guard's is said not to be, and none is named on the wall", "wall-rail: ", "height, grip and reach of the handrail", s.IsHandrail.At)
	}
}

// unfinished is what is missing while floor is to come and nobody says that the flight was read with it.
const unfinished = "the flight as it will be with the floor to come (finished: yes)"

// floorToCome reports that the job has floor to come, which changes the lowest riser, the highest, and every height where it is laid on treads,
// and that the flight's readings are not said to be those of the finished stair; it asks for that.
func (b *builder) floorToCome() bool {
	c := b.job.ToCome
	if !c.Thick.Given && !c.What.Given || b.r.Stair.Finished.Yes {
		return false
	}
	if b.bareFlight() {
		b.need("risers, goings, nosing, clears and height of the finished stair: they were read without the floor to come (finished: no). Read them again when the floors and treads are in, or write each with the thickness that comes on it taken in, and then finished: yes", "finished: ", "the lowest and the highest riser, every height, and every length that is cut", b.r.Stair.Finished.At)
		return true
	}
	b.need("whether risers, nosing and height are those of the finished floors and treads: floor is still to come", "finished: ", "the lowest and the highest riser, and every height", b.r.Stair.Finished.At)
	return true
}

// bareFlight reports that the job has floor to come, and the flight is said to have been read without it: no length that is worked out from those readings is to be cut.
func (b *builder) bareFlight() bool {
	c, f := b.job.ToCome, b.r.Stair.Finished
	return (c.Thick.Given || c.What.Given) && f.Given && !f.Yes
}

// openRisers reports that there are no risers between the treads, or that nobody says yet.
func (b *builder) openRisers() bool {
	f := b.r.Stair.OpenRisers
	return f.Yes || !f.Given && !f.At.IsZero()
}

func extremes(s job.Steps) (low, high length.Length) {
	for i, m := range s.Each {
		if i == 0 || m.Length < low {
			low = m.Length
		}
		high = max(high, m.Length)
	}
	return low, high
}

// triangle is the largest ball between riser, tread and the underside of a shoe with nothing under it:
// d = (r + a - sqrt(r² + a²)) * (1 + q/a + v/r), on the tread where it is greatest.
func (b *builder) triangle() {
	s, k := b.r.Stair, b.Rake
	if k.OnTreads || b.r.Shoe == nil || s.Under.Text == "closed" {
		return
	}
	m := finding.Measure{Limit: "guard-triangle", Subject: "triangle of riser, tread and shoe, the greatest", Group: b.ID, At: s.ShoeOver.At, Missing: "what is under the shoe, and how high its underside stands above the line of the nosings"}
	defer func() { b.Measures = append(b.Measures, m) }()
	if s.Under.Text != "open" || !s.ShoeOver.Given || !s.Nosing.Given || !b.sloped() {
		return
	}
	var worst *working.Figure
	for i := 0; i+1 < len(k.Treads); i++ {
		t, next := k.Treads[i], k.Treads[i+1]
		// The shoe's underside above the two nosings of this tread; the higher of them makes the larger triangle.
		over := max(k.Line(t.At-k.Nosing)-t.Height, k.Line(next.At-k.Nosing)-next.Height) + s.ShoeOver.Length
		r, a := b.found("r", "riser "+strconv.Itoa(next.N), "risers", next.Riser), b.found("a", "going "+strconv.Itoa(t.N), "goings", t.Going)
		q := b.in("q", "nosing", s.Nosing)
		v := b.found("v", "underside of the shoe above the nosings of tread "+strconv.Itoa(t.N), "shoe-over, and how the tread lies to the line", over)
		f := working.Work(b.ID+"/triangle", "triangle over tread "+strconv.Itoa(t.N), "d", b.sys.String(),
			working.Product(
				working.Difference(working.Sum(r, a), working.Root(working.Sum(working.Product(r, r), working.Product(a, a)))),
				working.Sum(working.Constant(1), working.Quotient(q, a), working.Quotient(v, r))),
			working.Citation{Text: "ball touching riser, tread and the shoe's underside", Status: working.Derived})
		if worst == nil || f.Value.Known() && worst.Value.Known() && f.Value.Cmp(worst.Value) > 0 {
			worst = f
		}
	}
	if worst == nil || !worst.Value.Known() {
		return
	}
	b.Figures = append(b.Figures, worst)
	m.Value, m.Known, m.Figure = worst.Length(b.sys, length.Nanometre, length.Up), true, worst.ID
	switch {
	case !k.Measured:
		m.Known, m.Missing = false, "each riser and going by itself"
	case b.overLanding() > 0:
		m.Known, m.Missing = false, "what closes the shoe's underside over the landing: it goes on past the highest riser, and its underside is "+b.tape(b.overLanding())+" up at the upper end"
	}
}

// overLanding is how high an open shoe's underside stands over the landing where it ends beyond the highest riser, if a ball of the
// level guard's limit could pass there; 0 where it could not. There is no riser there to make a triangle with.
func (b *builder) overLanding() length.Length {
	k := b.Rake
	landing := k.Treads[len(k.Treads)-1]
	if k.To <= landing.At {
		return 0
	}
	up := k.Line(k.To) + b.r.Stair.ShoeOver.Length - landing.Height
	if l := b.job.Rules.Limit("guard-opening"); l != nil && l.Value.Given && up < l.Value.Length {
		return 0
	}
	return max(up, 0)
}

// How far apart the brackets of a wall rail are, and from its ends; common practice, no source: the rail's maker and the load decide.
const (
	bracketsApart = 48 * length.Inch
	bracketsEnd   = 12 * length.Inch
)

// wallRail judges a handrail on the wall beside the flight, and counts its brackets.
func (b *builder) wallRail() {
	w := b.r.Stair.WallRail
	if !w.Given() {
		return
	}
	measure := func(limit, subject, key string, m job.Measure) {
		b.Measures = append(b.Measures, finding.Measure{Limit: limit, Subject: subject, Group: b.ID, Value: m.Length, Known: m.Given, At: m.At, Missing: subject})
		if !m.Given {
			b.need(subject, "wall-rail: {"+key+": }", "whether a hand runs along it freely", m.At)
		}
	}
	measure("handrail-wall-clearance", "between the wall rail and the wall", "clear", w.Clear)
	measure("handrail-projection", "how far the wall rail stands out", "stands-out", w.Out)
	measure("handrail-height-least", "height of the wall rail above the line of the nosings", "height", w.Height)
	measure("handrail-height-most", "height of the wall rail above the line of the nosings", "height", w.Height)
	if w.Part != nil && (w.Part != b.r.Handrail || !b.isHandrail()) {
		b.grip(w.Part, "the wall rail")
	}
	say := func(name, title, cure string, bad bool, t job.Text) {
		f := finding.Finding{ID: "check/" + b.ID + "/" + name, Group: b.ID, Title: title, Verdict: finding.ToBeMeasured, Status: working.CommonPractice, Rules: "a rail that a hand follows all the way", At: t.At}
		switch {
		case !t.Given:
			b.need(title, "wall-rail: {"+map[string]string{"wall-rail-ends": "ends", "wall-rail-reach": "reaches"}[name]+": }", "whether a hand can follow it, and no sleeve catches", t.At)
			return
		case bad:
			f.Verdict, f.Cure = finding.AskAuthority, cure
		default:
			return
		}
		b.Findings = append(b.Findings, f)
	}
	say("wall-rail-ends", "how the wall rail ends", "return its ends to the wall, or end it in a newel; most codes ask for it", w.Ends.Text == "open", w.Ends)
	say("wall-rail-reach", "whether the wall rail reaches from over the lowest riser to over the highest", "carry it on; most codes ask for a handrail over the whole flight", w.Reaches.Text == "part", w.Reaches)
	if k := b.Rake; w.Long.Given && b.sloped() && w.Reaches.Text != "part" {
		last := k.Treads[len(k.Treads)-1].At
		b.check("wall-rail-long", "length of the wall rail, against the rake from over the lowest riser to over the highest", w.Long.Length, finding.AtLeast, b.along(last), w.Long.At, b.r.Stair.Goings.At, "", "a longer rail, or say that it reaches over a part of the flight only (reaches: part)")
	}
	if w.Clear.Given && w.Out.Given && w.Part != nil && w.Part.Wide.Given {
		b.check("wall-rail-out", "how far the wall rail stands out, against its clearance and its width", w.Out.Length+2*b.div.Length, finding.AtLeast, w.Clear.Length+w.Part.Wide.Length, w.Out.At, w.Clear.At, "", "read both again; a rail stands out by what is behind it and its own width")
	}
	b.brackets(w)
}

// reach judges whether the guard's rail, where it is the handrail, goes from over the lowest riser to over the highest.
func (b *builder) reach() {
	k := b.Rake
	if !b.isHandrail() || b.Clear == nil || len(k.Treads) == 0 {
		return
	}
	last := k.Treads[len(k.Treads)-1]
	say := func(name, title string, short length.Length, at source.Pos) {
		if short <= 0 {
			return
		}
		b.Findings = append(b.Findings, finding.Finding{
			ID: "check/" + b.ID + "/reach-" + name, Group: b.ID, Title: title + ", by " + b.tape(short), Verdict: finding.AskAuthority, Status: working.CommonPractice,
			Rules: "a rail that a hand follows all the way", At: at, Note: "most codes ask for a handrail from over the lowest riser to over the highest; some let it start at a newel on the first tread",
		})
	}
	say("from", "the handrail begins past the lowest riser", k.From, b.r.From.Past.At)
	say("to", "the handrail ends before the highest riser", last.At-k.To, b.r.To.Before.At)
}

// brackets counts the brackets of a wall rail: into studs, no farther apart than usual, one near each end.
func (b *builder) brackets(w job.WallRail) {
	if !w.Long.Given {
		b.need("length of the wall rail along the rake", "wall-rail: {long: }", "how many brackets it takes", w.Long.At)
		return
	}
	if !w.Studs.Given || w.Studs.Length <= 0 || !b.sloped() {
		if !w.Studs.Given {
			b.need("stud to stud along the wall, level", "wall-rail: {studs: }", "where its brackets find wood", w.Studs.At)
		}
		return
	}
	stud := b.work("stud-rake", "stud to stud along the rake", "e_c", working.Product(b.in("e", "stud to stud along the wall, level", w.Studs), b.sec()))
	usual := b.found("e_m", "brackets no farther apart than this", "common practice, no source", bracketsApart)
	each := b.work("bracket-step", "bracket to bracket: as many studs as stay within that, one at least", "e_b",
		working.Product(stud.In(), working.Greatest(working.Constant(1), working.RoundTo(working.Quotient(usual, stud.In()), working.Constant(1), length.Down))),
		working.Citation{Text: "bracket spacing, common practice", Status: working.CommonPractice})
	ends := b.found("e_e", "from an end to its bracket at most", "common practice, no source", bracketsEnd)
	f := b.plainWork("brackets", "brackets of the wall rail, at least", "n_b", "",
		working.Sum(working.Constant(1), working.RoundTo(working.Quotient(working.Greatest(working.Constant(0), working.Difference(b.in("l_w", "length of the wall rail", w.Long), working.Product(working.Constant(2), ends))), each.In()), working.Constant(1), length.Up)),
		working.Citation{Text: "bracket spacing, common practice", Status: working.CommonPractice})
	f.Note = "Each bracket is screwed into a stud or blocking; the bracket's maker says what it carries."
}
