package load

import (
	"fmt"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/wood"
	"balustrade/jobbook/working"
)

// depths are the rows of a post's bolts, each as an input; false while one is still to be measured.
func depths(own *job.Post) (list []*working.Input, ok bool) {
	for i, r := range own.Rows {
		if !r.Given {
			return nil, false
		}
		list = append(list, inches(fmt.Sprintf("d_%d", i+1), fmt.Sprintf("row %d of its fixings below the floor", i+1), r))
	}
	return list, len(list) > 0
}

// rows screens a post that is bolted through the framing or held by lag screws: a couple between what draws and what bears. Fixings share by F = M·y/Σy², y their distance from where
// it bears. Bolts: about the lowest row, and of more than two rows pushed inward about the upper as well, for then the lowest may draw more. Lag screws: pushed outward about the lower end of the post, pushed inward about the upper edge of the wood.
func (s *screen) rows(m Member, p *layout.Post, own *job.Post, with *job.Fixing, h *working.Input, pushes []push) {
	bolts := own.Foot.Text == "bolted"
	m.Get = "rows farther apart, or hardware with a tested rating for that pull, blocking and a bolt right through; else an engineer"
	at := own.Foot.At
	if len(own.Rows) > 0 {
		at = own.Rows[0].At
	}
	rows, ok := depths(own)
	if !ok || bolts && len(rows) < 2 {
		s.waits(m, finding.Reading{What: "how far below the floor each row of the bolts or lag screws of " + p.Name + " is, the upper first", Where: s.job.File + ", posts: {" + p.Name + ": {rows: [ , ]}}",
			Why: "the pull on what holds the post", Group: p.ID, At: at})
		return
	}
	if !bolts && (!own.Deep.Given || own.Deep.Length <= own.Rows[len(rows)-1].Length) { // asked for by the layout, or failed there
		s.rests(m, "how far the foot of "+p.Name+" goes below the floor, down to where it bears: lower than its lowest row of lag screws")
		return
	}
	if !bolts {
		if missing := s.bearing(p, own); missing != nil {
			s.waits(m, *missing)
			return
		}
	}
	each, missing := s.perRow(p, own, with, len(rows))
	if missing != nil {
		s.waits(m, *missing)
		return
	}
	hold, by, cites, none, missing := s.holds(p, own, with)
	if missing != nil {
		s.waits(m, *missing)
		return
	}
	for _, x := range pushes {
		id := p.ID + "/load/foot/" + x.load
		var pulls []*working.Figure
		if bolts {
			last := rows[len(rows)-1]
			pulls = append(pulls, s.pull(id, "pull on each bolt of the upper row, "+x.title, working.Product(x.force, working.Sum(h, last)), arms(rows[:len(rows)-1], func(d *working.Input) working.Expr { return working.Difference(last, d) }), 0, each))
			if len(rows) > 2 {
				first := rows[0]
				pulls = append(pulls, s.pull(id+"/inward", "pull on each bolt of the lower row, pushed inward, "+x.title, working.Product(x.force, working.Sum(h, first)), arms(rows[1:], func(d *working.Input) working.Expr { return working.Difference(d, first) }), len(rows)-2, each))
			}
		} else {
			edge := inches("t", "upper edge of the wood that it bears against, below the floor", own.Bears)
			low := inches("d", "how far its foot goes below the floor, where it bears", own.Deep)
			pulls = append(pulls,
				s.pull(id, "pull on each lag screw of the upper row, pushed outward, "+x.title, working.Product(x.force, working.Sum(h, low)), arms(rows, func(d *working.Input) working.Expr { return working.Difference(low, d) }), 0, each),
				s.pull(id+"/inward", "pull on each lag screw of the lower row, pushed inward about the upper edge of the wood, "+x.title, working.Product(x.force, working.Sum(h, edge)), arms(rows, func(d *working.Input) working.Expr { return working.Difference(d, edge) }), len(rows)-1, each))
		}
		for i, pull := range pulls {
			c := Case{Load: x.load, Comes: pull, By: by}
			if len(pulls) > 1 {
				c.How = []string{"pushed outward: the upper row", "pushed inward: the lower row"}[i]
			}
			if hold != nil && pull.Value.Known() && pull.Value.Sign() > 0 {
				c.Ratio = s.work(pull.ID+"/ratio", "share of what holds it", "k", "", working.Quotient(pull.In(), hold), cites...)
			}
			m.Cases = append(m.Cases, c)
		}
	}
	s.settle(m, none)
	if !bolts {
		words := "; it is taken to stand on the outer face of the framing, which its lag screws are drawn from either way: on an inner face outward and inward change places"
		if with != nil && with.Type.Text == "lag screw" {
			words += standing(s.job.System, with, rows)
		}
		s.Members[len(s.Members)-1].Words += words
	}
}

func arms(rows []*working.Input, of func(*working.Input) working.Expr) (list []working.Expr) {
	for _, d := range rows {
		list = append(list, of(d))
	}
	return list
}

// pull is what each fixing of one row draws: the moment, shared by the distance from where the post bears.
func (s *screen) pull(id, title string, moment working.Expr, y []working.Expr, row int, each *working.Input) *working.Figure {
	squares := working.Product(y[0], y[0])
	for _, a := range y[1:] {
		squares = working.Sum(squares, working.Product(a, a))
	}
	e := working.Quotient(working.Product(moment, y[row]), working.Product(each, squares))
	if len(y) == 1 {
		e = working.Quotient(moment, working.Product(each, y[0]))
	}
	return s.work(id, title, "F", "lb", e, statics)
}

// perRow is how many fixings stand in each row of a post's foot, from how many the way it is fixed has in all.
func (s *screen) perRow(p *layout.Post, own *job.Post, with *job.Fixing, rows int) (*working.Input, *finding.Reading) {
	joint := map[string]string{"bolted": "newel bolted", "lagged": "newel lagged"}[own.Foot.Text]
	for _, f := range s.job.Ways(joint) {
		if f.Part == nil || own.Fixing == nil && f.Part != with {
			continue
		}
		count := 1
		if f.Count.Given {
			count = f.Count.N
		}
		if count%rows != 0 {
			return nil, &finding.Reading{What: fmt.Sprintf("how many fixings each row of %s has: the way it is fixed has %d, in %d rows", p.Name, count, rows), Where: f.File + ", count: ", Why: "the pull on each of them", Group: p.ID, At: f.Count.At}
		}
		return working.Count("n", "fixings in a row", int64(count/rows), f.Count.At), nil
	}
	return nil, &finding.Reading{What: "what " + p.Name + " is fixed with", Where: s.job.File + ", posts: {" + p.Name + ": {with: }}", Why: "the pull on each of them", Group: p.ID, At: own.At}
}

// holds is what one fixing of a post's foot holds when drawn out: a maker's rating, or for a lag screw the published value in side grain, at the load duration factor. The expression
// is nil where there is neither, and none says why.
func (s *screen) holds(p *layout.Post, own *job.Post, with *job.Fixing) (hold working.Expr, by string, cites []working.Citation, none string, missing *finding.Reading) {
	if e := rated(with); e != nil {
		return e, ratedBy(with), ratingRule(with), "", nil
	}
	none = "a bolt with its washer has none here (it presses into the wood across the grain): get hardware with a tested rating for this pull"
	if with == nil || with.Type.Text != "lag screw" {
		if own.Foot.Text == "lagged" {
			none = "a post that is lagged is screened by a lag screw's thread, or by a maker's rating, and what is named here is neither"
		}
		return nil, "", nil, none, nil
	}
	if !own.Part.Wide.Given {
		at := own.Part.Wide.At
		if at.IsZero() {
			at = source.Pos{File: own.Part.File}
		}
		return nil, "", nil, "", &finding.Reading{What: "width of the newel of " + p.Name + " at its foot", Where: own.Part.File + ", wide: ", Why: "how much of the lag screws' thread is in the framing", Group: p.ID, At: at}
	}
	framing := s.framing(p)
	sp, missing := s.species(framing, "framing", s.job.File+", floor: {framing: }")
	if missing != nil {
		return nil, "", nil, "", missing
	}
	passes := own.Part.Wide.Length
	for _, f := range s.job.Ways("newel lagged") {
		if f.Part == with || own.Fixing != nil {
			passes -= f.Sunk.Length
			break
		}
	}
	if !own.Solid.Given || own.Solid.Length <= 0 {
		at := own.Solid.At
		if at.IsZero() {
			at = own.At
		}
		return nil, "", nil, "", &finding.Reading{What: "how thick the joist, stringer or blocking is that the lag screws of " + p.Name + " go into", Where: s.job.File + ", posts: {" + p.Name + ": {solid: }}", Why: "how much of their thread is in wood", Group: p.ID, At: at}
	}
	e, by, missing := s.drawn(p.ID+"/load/foot/hold", with, sp, passes, "the newel under its head", own.Solid, false)
	if missing != nil {
		return nil, "", nil, "", missing
	}
	if e == nil {
		none = "the fastening tables have no specific gravity for " + sp.Title.Text + ": get hardware with a tested rating, or ask an engineer"
	}
	return e, by, []working.Citation{withdrawal}, none, nil
}

// framing is the wood that a post's foot is fixed to: that of the first stretch that comes to it, else the job's.
func (s *screen) framing(p *layout.Post) job.Text {
	for _, r := range s.layout.Runs {
		if len(p.Arrivals) > 0 && r.Name == p.Arrivals[0].Run {
			return s.job.Under(r.Job).Framing
		}
	}
	return s.job.Floor.Framing
}

var withdrawal = working.Citation{Text: "NDS 12.2, withdrawal from side grain", Status: working.Published}

// drawn is what a lag screw or wood screw holds when it is drawn out of side grain, in lb: the value for an inch, by the thread that is in the wood, by C_D. nil where the tables have no row for the wood.
// passes is what it goes through first, solid how thick the wood behind that is, where it may come out again; whole lets a rail bolt's whole given thread count.
func (s *screen) drawn(id string, with *job.Fixing, sp *job.Species, passes length.Length, through string, solid job.Measure, whole bool) (working.Expr, string, *finding.Reading) {
	ask := func(what, key string, at source.Pos) *finding.Reading {
		if at.IsZero() {
			at = source.Pos{File: with.File}
		}
		return &finding.Reading{What: what, Where: with.File + ", " + key + ": ", Why: "what it holds when drawn out", Group: loads, At: at}
	}
	if !sp.G.Given || sp.Status != working.Published {
		return nil, "", nil
	}
	kind := with.Type.Text
	var wide *working.Input
	switch {
	case kind == "wood screw":
		g, ok := wood.Screw(with.Gauge.N)
		if !with.Gauge.Given || !ok {
			if with.Wide.Given { // a metric one
				wide = inches("D", "diameter of the screw", with.Wide)
				break
			}
			return nil, "", ask("the gauge of "+with.Title.Text+", or its diameter (wide)", "gauge", with.Gauge.At)
		}
		wide = working.Length("D", "diameter of a screw of that gauge", g.Shank, length.Inches, with.Gauge.At)
	case !with.Wide.Given:
		return nil, "", ask("the diameter of "+with.Title.Text, "wide", with.Wide.At)
	default:
		wide = inches("D", "diameter of the lag screw", with.Wide)
	}
	if !with.Thread.Given {
		return nil, "", ask("how much of "+with.Title.Text+" is threaded", "thread", with.Thread.At)
	}
	if !with.Long.Given && !whole {
		return nil, "", ask("the length of "+with.Title.Text, "long", with.Long.At)
	}
	g := &working.Input{Symbol: "G", Name: "specific gravity of " + sp.Title.Text + " in the fastening tables", Value: exact.New(sp.G.Thousandths, 1000), At: sp.G.At}
	perInch, ok := wood.Withdrawal(id+"/inch", "what an inch of thread of "+with.Title.Text+" holds in "+sp.Title.Text, kind, g, wide)
	if !ok {
		return nil, "", nil
	}
	s.Figures = append(s.Figures, perInch)
	thread := working.Expr(inches("t", "threaded part", with.Thread))
	tip := inches("e", "its tapered tip, which holds nothing", with.Tip)
	if !with.Tip.Given {
		tip = working.Length("e", "its tapered tip, which holds nothing, taken as long as the screw is wide", with.Wide.Length, length.Inches, with.Wide.At)
	}
	long, before := inches("l", "length of the screw", with.Long), working.Length("t_s", through, passes, length.Inches, source.Pos{}).Because("what it passes")
	switch {
	case solid.Given: // from where its thread begins, or the wood does, to where its tip begins, or the wood ends
		ends := working.Difference(long, tip)
		if kind != "lag screw" {
			ends = long
		}
		thread = working.Difference(working.Least(ends, working.Sum(before, inches("t_f", "how thick the wood is that it holds in", solid))), working.Greatest(working.Difference(long, thread), before))
	case !whole:
		thread = working.Least(thread, working.Difference(long, before))
		fallthrough
	default:
		if kind == "lag screw" {
			thread = working.Difference(thread, tip)
		}
	}
	hold := s.work(id, "what one "+with.Title.Text+" holds when drawn out", "W", "lb", working.Product(perInch.In(), working.Greatest(thread, working.Constant(0)), s.cd), withdrawal)
	if !hold.Value.Known() || hold.Value.Sign() <= 0 {
		return nil, "", ask("a longer one than "+with.Title.Text+": nothing of its thread is in what it is to hold in", "long", with.Long.At)
	}
	return hold.In(), "what its thread holds in side grain, by NDS 12.2, C_D " + factorWords(s.Factor) + " (" + notCounted + ")", nil
}

func factorWords(f exact.Number) string {
	text := working.Decimal(f)
	if f.IsInt() {
		text += ".0"
	}
	return text
}
