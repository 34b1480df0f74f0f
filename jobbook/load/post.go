package load

import (
	"fmt"
	"math/big"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/wood"
	"balustrade/jobbook/working"
)

var (
	statics  = working.Citation{Text: "statics: a load, and how far it acts from what it turns about", Status: working.Derived}
	practice = working.Citation{Text: "test practice: assemblies are tested to two and a half times the load", Status: working.Published}
)

// top is how high over what a post stands on the load on its rails acts: the highest top of those that meet it; 0 while not known.
func top(p *layout.Post) (h length.Length) {
	for _, a := range p.Arrivals {
		if a.Known {
			h = max(h, a.Top)
		}
	}
	return h
}

// push is a load on the rail as it comes to a post: the one load whole, of one along the rail the half of every rail that ends there.
type push struct {
	load  string
	title string
	force working.Expr
}

// pushes are those on a post. waits says what they still wait for, which the layout asks for: one rail's share is not the post's load while another's is not known.
func (s *screen) pushes(p *layout.Post) (list []push, waits string) {
	if l, ok := s.load("rail-point"); ok {
		list = append(list, push{l.Name, l.Title, l.Force.In()})
	}
	l, ok := s.load("rail-line")
	if !ok {
		return list, ""
	}
	var half working.Expr
	for i, a := range p.Arrivals {
		for _, r := range s.layout.Runs {
			if r.Name != a.Run {
				continue
			}
			long := s.railLong(fmt.Sprintf("L_%d", i+1), r)
			if long == nil {
				return nil, "the length of the handrail of " + r.Title
			}
			part := working.Expr(working.Quotient(long, working.Constant(2)))
			if half != nil {
				part = working.Sum(half, part)
			}
			half = part
		}
	}
	if half != nil {
		list = append(list, push{l.Name, l.Title, working.Product(l.Force.In(), half)})
	}
	return list, ""
}

// railLong is the length of a run's rail in inches; nil while it is not known. An old one that stays is not cut: the clear between its ends counts, along the rake on a flight.
func (s *screen) railLong(symbol string, r *layout.Run) working.Expr {
	if !r.Job.Stays() {
		if r.Handrail == nil || r.Handrail.Exact <= 0 {
			return nil
		}
		long := working.Length(symbol, "length of the rail of "+r.Title, r.Handrail.Exact, length.Inches, source.Pos{})
		long.Figure = r.Handrail.Figure
		return long
	}
	if r.Clear == nil || r.Clear.Value == nil || r.Clear.Value.Sign() <= 0 {
		return nil
	}
	long := working.Length(symbol, "clear between the ends of the old rail of "+r.Title, length.Of(r.Clear.Value, s.job.System, length.Nanometre, length.Nearest), length.Inches, source.Pos{})
	long.Figure = r.Clear.ID
	if r.Rake == nil {
		return long
	}
	if r.Rake.Secant == nil || r.Rake.Secant.Value == nil {
		return nil
	}
	return working.Product(long, r.Rake.Secant.In())
}

// post screens a newel in bending, and what holds it at its foot, each by itself: as though no other post helped.
func (s *screen) post(p *layout.Post, own *job.Post) {
	high := top(p)
	if own.Part == nil || high <= 0 {
		return // the layout asks for what is missing
	}
	if own.Part.Half.Yes {
		m := Member{Group: p.ID, Name: "foot", Title: "half newel on the wall", Get: "blocking behind it, and what an engineer names", Verdict: finding.AskAuthority,
			Words: "no published value was used: its screws are pushed sideways (NDS 12.3), which is not worked out here"}
		s.Members = append(s.Members, m)
		return
	}
	h := working.Length("h", "height of the load, the top of the rail at the post", high, length.Inches, source.Pos{})
	h.Because("the layout, at this post")
	m := Member{Group: p.ID, Name: "foot", Title: "what holds the foot of the post"}
	pushes, waits := s.pushes(p)
	for _, a := range p.Arrivals {
		if !a.Known && !a.Old { // it may be the highest
			waits = "how high the handrail of " + a.Title + " meets it"
		}
	}
	if waits != "" {
		if own.Part.Sized {
			s.rests(newelMember(p), waits)
		}
		if own.Foot.Given {
			s.rests(m, waits)
		}
		return
	}
	s.newel(p, own, high, h, pushes)
	with := s.holder(own)
	switch own.Foot.Text {
	case "plate":
		s.plate(m, p, with, h, pushes)
	case "bolted", "lagged":
		s.rows(m, p, own, with, h, pushes)
	case "let in":
		s.letIn(m, p, own, h, pushes)
	}
}

// holder is the fixing at a post's foot: its own, or the nearest way's; nil where there is none.
func (s *screen) holder(own *job.Post) *job.Fixing {
	if own.Fixing != nil {
		return own.Fixing
	}
	joint := map[string]string{"plate": "newel on a plate", "bolted": "newel bolted", "lagged": "newel lagged", "let in": "newel let in"}[own.Foot.Text]
	want := map[string]string{"plate": "plate", "bolted": "bolt", "lagged": "lag screw"}[own.Foot.Text]
	for _, f := range s.job.Ways(joint) {
		if f.Part != nil && (want == "" || f.Part.Type.Text == want) {
			return f.Part
		}
	}
	return nil
}

func newelMember(p *layout.Post) Member {
	return Member{Group: p.ID, Name: "newel", Title: "the newel itself, pushed at the rail", Get: "a stouter newel, or one that is turned less deep"}
}

// newel screens the post itself, held fast at what it stands on; where its foot goes down past the upper row of its bolts or lag screws, at that row, down to which the moment grows.
func (s *screen) newel(p *layout.Post, own *job.Post, high length.Length, h *working.Input, pushes []push) {
	if !own.Part.Sized {
		return
	}
	m := newelMember(p)
	sp, missing := s.species(own.Part.Species, "newel", own.Part.File+", species: ")
	if missing != nil {
		s.waits(m, *missing)
		return
	}
	if own.Off.At != (source.Pos{}) && !own.Off.Given {
		return
	}
	foot, from := p.Down+own.Off.Length, ""
	arm := working.Expr(h)
	if rows, ok := depths(own); ok && own.Rows[0].Length <= p.Down {
		foot -= own.Rows[0].Length
		high += own.Rows[0].Length
		arm, from = working.Sum(h, rows[0]), " above the upper row of its fixings"
	}
	as := own.Part.Profile.Cut(foot, own.Part.Profile.Long()-foot-high)
	worst, ok := weakest(as, func(z float64) float64 { return max(high.Float()-z, 0) })
	if !ok {
		return
	}
	st := strengthOf(sp)
	at := working.Length("z", "height of its weakest place"+from, worst.at, length.Inches, source.Pos{}).Because("found by search up its profile")
	wide := working.Length("b", "width there", worst.width, length.Inches, own.Part.Wide.At)
	for _, x := range pushes {
		id := p.ID + "/load/newel/" + x.load
		stress := s.work(id, "bending stress in the newel where it is weakest, "+x.title, "f_b", "psi",
			working.Quotient(working.Product(x.force, working.Difference(arm, at)), modulus(wide, worst.round)), bendingRule)
		m.Cases = append(m.Cases, s.bent(id, x.load, stress, st))
	}
	s.settle(m, "the strength of "+sp.Title.Text+" in bending is not in the handbook's table, or was recalled; take a wood that is, or ask an engineer")
	if own.Foot.Text == "bolted" || own.Foot.Text == "lagged" {
		s.Members[len(s.Members)-1].Words += "; the holes of its fixings, and a notch at its foot, are not taken off"
	}
}

// rated is a maker's rating as it may be used, in pounds: as it stands, or a tested load over two and a half. nil where there is none, or nobody says whose it is.
func rated(f *job.Fixing) (working.Expr, *working.Input) {
	if f == nil || !f.Rated.Load.Given || !f.Rated.By.Given || f.Rated.Load.Thousandths <= 0 {
		return nil, nil
	}
	r := f.Rated
	in := &working.Input{Symbol: "F_r", Name: "rating of " + f.Title.Text + ", by " + r.By.Text, Value: big.NewRat(r.Load.Thousandths, 1000), Unit: r.Load.Unit, At: r.Load.At}
	e := working.Expr(in)
	if r.Load.Unit == "kN" {
		e = working.Quotient(working.Product(in, working.Constant(1000)), number("N_lb", "newtons in a pound", "4.4482216152605", "by definition"))
	}
	switch r.Is.Text {
	case "allowable":
		return e, in
	case "tested":
		return working.Quotient(e, number("n_t", "times the load that assemblies are tested to", "2.5", "test practice, published")), in
	}
	return nil, nil // nobody says which of the two it is
}

func ratedBy(f *job.Fixing) string {
	by := "what its maker says that it takes (" + f.Rated.By.Text + ")"
	if f.Rated.Is.Text == "tested" {
		by = "what it was tested to, over 2.5 (" + f.Rated.By.Text + ")"
	}
	return by
}

func ratingRule(f *job.Fixing) []working.Citation {
	cites := []working.Citation{{Text: f.Rated.By.Text, Status: working.Local}}
	if f.Rated.Is.Text == "tested" {
		cites = append(cites, practice)
	}
	return cites
}

// plate screens a post on a plate: only its maker's rating counts, for screws in the end of a post have no code value when drawn out.
func (s *screen) plate(m Member, p *layout.Post, with *job.Fixing, h *working.Input, pushes []push) {
	m.Get = "a plate with a tested rating at this height, fixed as its paper says; or a foot that is bolted to the framing"
	for _, x := range pushes {
		moment := s.work(p.ID+"/load/foot/"+x.load, "moment at the foot of the post, "+x.title, "M", "lb in", working.Product(x.force, h), statics)
		c := Case{Load: x.load, Comes: moment}
		if e, _ := rated(with); e != nil && with.Rated.At.Given && with.Rated.At.Length > 0 {
			c.By = ratedBy(with)
			c.Ratio = s.work(p.ID+"/load/foot/"+x.load+"/ratio", "share of the plate's rating", "k", "", working.Quotient(moment.In(), working.Product(e, inches("h_r", "height that it was rated at", with.Rated.At))), ratingRule(with)...)
		}
		m.Cases = append(m.Cases, c)
	}
	none := "screws in the end of a post have none when drawn out, so only the maker's tested rating counts"
	if with != nil && with.Rated.Load.Given {
		none = "the rating written down for the plate lacks its height, whose paper it is, or whether it is allowable or tested"
	}
	s.settle(m, none)
}

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
	if !bolts && (!own.Deep.Given || own.Deep.Length <= own.Rows[len(rows)-1].Length) {
		at := own.Deep.At
		if at.IsZero() {
			at = own.At
		}
		what := "how far the foot of " + p.Name + " goes below the floor, down to where it bears"
		if own.Deep.Given {
			what += ": lower than its lowest row of lag screws"
		}
		s.waits(m, finding.Reading{What: what, Where: s.job.File + ", posts: {" + p.Name + ": {deep: }}", Why: "the pull on its lag screws", Group: p.ID, At: at})
		return
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
			low := inches("d", "how far its foot goes below the floor, where it bears", own.Deep)
			pulls = append(pulls,
				s.pull(id, "pull on each lag screw of the upper row, pushed outward, "+x.title, working.Product(x.force, working.Sum(h, low)), arms(rows, func(d *working.Input) working.Expr { return working.Difference(low, d) }), 0, each),
				s.pull(id+"/inward", "pull on each lag screw of the lower row, pushed inward, "+x.title, working.Product(x.force, h), arms(rows, func(d *working.Input) working.Expr { return d }), len(rows)-1, each))
		}
		for i, pull := range pulls {
			c := Case{Load: x.load, Comes: pull, By: by}
			if len(pulls) > 1 {
				c.How = []string{"pushed outward: the upper row", "pushed inward: the lower row"}[i]
			}
			if hold != nil && pull.Value != nil && pull.Value.Sign() > 0 {
				c.Ratio = s.work(pull.ID+"/ratio", "share of what holds it", "k", "", working.Quotient(pull.In(), hold), cites...)
			}
			m.Cases = append(m.Cases, c)
		}
	}
	s.settle(m, none)
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
	if e, _ := rated(with); e != nil {
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
			return nil, "", ask("the gauge of "+with.Title.Text, "gauge", with.Gauge.At)
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
	g := &working.Input{Symbol: "G", Name: "specific gravity of " + sp.Title.Text + " in the fastening tables", Value: big.NewRat(sp.G.Thousandths, 1000), At: sp.G.At}
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
	if hold.Value == nil || hold.Value.Sign() <= 0 {
		return nil, "", ask("a longer one than "+with.Title.Text+": nothing of its thread is in what it is to hold in", "long", with.Long.At)
	}
	return hold.In(), "what its thread holds in side grain, by NDS 12.2, C_D " + factorWords(s.Factor), nil
}

func factorWords(f *big.Rat) string {
	text := working.Decimal(f)
	if f.IsInt() {
		text += ".0"
	}
	return text
}

// letIn says what a post that is let in presses with: where it leaves the floor, with its lower end held the other way. Nothing published says what holds that.
func (s *screen) letIn(m Member, p *layout.Post, own *job.Post, h *working.Input, pushes []push) {
	if !own.Deep.Given || own.Deep.Length <= 0 {
		return // the layout asks
	}
	m.Get = "blocking between the joists on both sides, top and bottom, that takes the push named; an engineer says with what it is fixed"
	deep := inches("d", "how far it is let in", own.Deep)
	for _, x := range pushes {
		e := working.Quotient(working.Product(x.force, working.Sum(h, deep)), deep)
		m.Cases = append(m.Cases, Case{Load: x.load, Comes: s.work(p.ID+"/load/foot/"+x.load, "push of the post on the wood around it at the floor, "+x.title, "F", "lb", e, statics)})
	}
	s.settle(m, "what a post that is let in holds by depends on the blocking around it")
}
