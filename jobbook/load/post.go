package load

import (
	"fmt"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

var (
	statics  = working.Citation{Text: "statics: a load, and how far it acts from what it turns about", Status: working.Derived}
	tested   = number("n_t", "times the load that assemblies are tested to", "2.5", "test practice, published")
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
	if r.Clear == nil || !r.Clear.Value.Known() || r.Clear.Value.Sign() <= 0 {
		return nil
	}
	long := working.Length(symbol, "clear between the ends of the old rail of "+r.Title, length.Of(r.Clear.Value, s.job.System, length.Nanometre, length.Nearest), length.Inches, source.Pos{})
	long.Figure = r.Clear.ID
	if r.Rake == nil {
		return long
	}
	if r.Rake.Secant == nil || !r.Rake.Secant.Value.Known() {
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
	h := working.Length("h", "height of the load, the top of the rail at the post", high, length.Inches, source.Pos{})
	h.Because("the layout, at this post")
	m := Member{Group: p.ID, Name: "foot", Title: "what holds the foot of the post"}
	if own.Part.Half.Yes {
		m.Title, m.Get = "half newel on the wall", "blocking behind it, and what an engineer names"
	}
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
		if own.Foot.Given || own.Part.Half.Yes {
			s.rests(m, waits)
		}
		return
	}
	s.newel(p, own, high, h, pushes)
	if own.Part.Half.Yes {
		s.half(m, pushes)
		return
	}
	with := s.job.Holder(own)
	switch own.Foot.Text {
	case "plate":
		s.plate(m, p, with, h, pushes)
	case "bolted", "lagged":
		s.rows(m, p, own, with, h, pushes)
	case "let in":
		s.letIn(m, p, own, h, pushes)
	}
}

// half says what a half newel's screws have to hold sideways.
func (s *screen) half(m Member, pushes []push) {
	for _, x := range pushes {
		m.Cases = append(m.Cases, Case{Load: x.load, Comes: s.work(m.Group+"/load/foot/"+x.load, "force sideways on the screws of the half newel, those at the rail the most, "+x.title, "F", "lb", x.force, statics)})
	}
	s.settle(m, "its screws are pushed sideways (NDS 12.3), which is not worked out here")
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
	if s.job.DeepOpen(own) && (own.Rowed() || own.Part.Plain == "") {
		s.rests(m, "how far its foot goes below the floor")
		return
	}
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
	narrow, written := slim(own.Part)
	as := narrow.Cut(foot, narrow.Long()-foot-high)
	worst, ok := weakest(as, func(z float64) float64 { return max(high.Float()-z, 0) })
	if !ok {
		return
	}
	st := s.strength(sp)
	at := working.Length("z", "height of its weakest place"+from, worst.at, length.Inches, source.Pos{}).Because("found by search up its profile")
	wide := working.Length("b", "width there", worst.width, length.Inches, written.At)
	for _, x := range pushes {
		id := p.ID + "/load/newel/" + x.load
		stress := s.work(id, "bending stress in the newel where it is weakest, "+x.title, "f_b", "psi",
			working.Quotient(working.Product(x.force, working.Difference(arm, at)), bends(own.Part, wide, worst.round)), bendingRule)
		m.Cases = append(m.Cases, s.bent(id, x.load, stress, st))
	}
	off := ""
	switch {
	case own.Part.Half.Yes:
		off = "; half of its width thick, and reckoned as though it were held at its foot alone: screws into the wall higher up leave it less; what the saw took is not taken off"
	case own.Foot.Text == "bolted" || own.Foot.Text == "lagged":
		off = s.net(&m, p, own, h, pushes, st)
	}
	s.settle(m, "the strength of "+sp.Title.Text+" in bending is not in the handbook's table, or was recalled; take a wood that is, or ask an engineer")
	s.Members[len(s.Members)-1].Words += off
	s.gathers(own)
}

// rated is a maker's rating as it may be used, in pounds: as it stands, or a tested load over two and a half. nil where there is none, or nobody says whose it is.
func rated(f *job.Fixing) working.Expr {
	if f == nil || !f.Rated.Load.Given || !f.Rated.By.Given || f.Rated.Load.Thousandths <= 0 {
		return nil
	}
	r := f.Rated
	in := &working.Input{Symbol: "F_r", Name: "rating of " + f.Title.Text + ", by " + r.By.Text, Value: exact.New(r.Load.Thousandths, 1000), Unit: r.Load.Unit, At: r.Load.At}
	e := working.Expr(in)
	if r.Load.Unit == "kN" {
		e = working.Quotient(working.Product(in, working.Constant(1000)), newtons)
	}
	switch r.Is.Text {
	case "allowable":
		return e
	case "tested":
		return working.Quotient(e, tested)
	}
	return nil // nobody says which of the two it is
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
		if e := rated(with); e != nil && with.Rated.At.Given && with.Rated.At.Length > 0 {
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
