package load

import (
	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/wood"
	"balustrade/jobbook/working"
)

// This file is what is left of a newel at its foot: half of it on a wall, the narrowest that came, the notch over an edge, the holes of its fixings; and where lag screws are drawn from.

// slim is a newel as the narrowest that came of it; as it is planned with where none came narrower.
func slim(n *job.Newel) (p profile.Profile, wide job.Measure) {
	if n.Narrowest.Given {
		return n.Slim, n.Narrowest
	}
	return n.Profile, n.Wide
}

// bends is the section modulus of a newel that is wide at a place. A half newel bends along the wall, across its whole width, and is half as thick: half of a square's or a round's.
func bends(n *job.Newel, wide working.Expr, round bool) working.Expr {
	if n.Half.Yes {
		return working.Quotient(modulus(wide, round), working.Constant(2))
	}
	return modulus(wide, round)
}

// notch is how deep a post's foot is notched from the inside: as written, else by the readings of a level run's edge, which it stands over: what is inside of the framing's face goes. 0 where neither says.
func (s *screen) notch(own *job.Post) (working.Expr, length.Length) {
	if own.Notch.Given || !own.Part.Wide.Given {
		return inches("n", "depth of the notch at its foot", own.Notch), own.Notch.Length
	}
	half := own.Part.Wide.Length / 2
	for _, r := range s.layout.Runs {
		e := r.Job.Edge
		if r.Rake != nil || !e.Back.Given || !e.Overhang.Given || r.Job.From.Post != own && r.Job.To.Post != own {
			continue
		}
		if e.Back.Length-half >= e.Overhang.Length || e.Back.Length+half <= e.Overhang.Length {
			continue // all of it stands on the floor, or before the framing
		}
		return working.Difference(working.Sum(inches("e", "from the edge back to the middle of the guard", e.Back), working.Quotient(inches("b_n", "width of the newel", own.Part.Wide), working.Constant(2))),
			inches("o", "overhang of the edge, before the face of the framing", e.Overhang)), e.Back.Length + half - e.Overhang.Length
	}
	return nil, 0
}

// net adds to a newel that is bolted or lagged what it comes to at the upper row of its fixings, where the moment is greatest: the holes through it taken off its width, and its notch off its
// depth. It says in words what is not taken off.
func (s *screen) net(m *Member, p *layout.Post, own *job.Post, h *working.Input, pushes []push, st strength) (words string) {
	cut, deep := s.notch(own)
	rows, ok := depths(own)
	unsaid := "; a notch at its foot is not taken off, for none is written (notch:)"
	if deep > 0 || own.Notch.Given {
		unsaid = ""
	}
	as, written := slim(own.Part)
	foot := max(p.Down+own.Off.Length, 0)
	if ok {
		foot = max(foot-own.Rows[0].Length, 0)
	}
	_, wide := as.WidthAt(foot)
	if round := len(as.Stations) > 0 && as.Stations[0].Round; !ok || round || wide <= 0 || deep <= 0 && own.Rows[0].Length > p.Down {
		if deep > 0 {
			return "; the holes of its fixings and its notch are not taken off"
		}
		return "; the holes of its fixings are not taken off" + unsaid
	}
	b := working.Length("b", "width of the newel at its foot", wide, length.Inches, written.At)
	net, left, how := working.Expr(b), working.Expr(b), "at the upper row of its fixings"
	across := wide // what is left beside the holes
	with := s.job.Holder(own)
	if each, missing := s.perRow(p, own, with, len(rows)); missing == nil && with != nil && with.Wide.Given {
		hole := wood.Clearance(with.Wide.Length).Bit
		net = working.Difference(b, working.Product(each, working.Length("D_h", "bore for each of its fixings", hole, length.Inches, with.Wide.At)))
		n, _ := each.Value.Int64()
		across -= hole * length.Length(n)
		how += ", their holes taken off"
	} else {
		words = "; the holes of its fixings are not taken off"
	}
	if deep > 0 {
		left = working.Difference(b, cut)
		how += ", its notch taken off"
	}
	for _, x := range pushes {
		if across <= 0 || wide <= deep {
			m.Cases = append(m.Cases, Case{Load: x.load, How: how})
			words = "; its notch and holes leave nothing of it at the upper row: measure them again"
			continue
		}
		id := p.ID + "/load/newel-net/" + x.load
		section := working.Quotient(working.Product(net, left, left), working.Constant(6))
		stress := s.work(id, "bending stress in the newel "+how+", "+x.title, "f_b", "psi", working.Quotient(working.Product(x.force, working.Sum(h, rows[0])), section), bendingRule)
		c := s.bent(id, x.load, stress, st)
		c.How = how
		m.Cases = append(m.Cases, c)
	}
	return words + unsaid
}

// gathers turns what would be screened into a question where a newel is notched: at the inner corner of a notch more comes together than the section by itself says, and no value for that is used here.
func (s *screen) gathers(own *job.Post) {
	if _, deep := s.notch(own); deep <= 0 {
		return
	}
	m := &s.Members[len(s.Members)-1]
	m.Words += "; what gathers at the inner corner of its notch is not counted"
	if m.Verdict == finding.Screened {
		m.Verdict, m.Get = finding.AskAuthority, "a post that is not notched, planted on the face of the framing; or an engineer who says that this notch may stay"
	}
}

// standing says how far a lag screw that is drawn out stands from edges, ends and the next one, by a rule that was recalled.
func standing(system length.System, with *job.Fixing, rows []*working.Input) string {
	d := with.Wide.Length
	if d <= 0 {
		return ""
	}
	style := length.Style{System: system, Division: length.Inch / 16, Rounding: length.Up}
	if system == length.Millimetres {
		style.Division = length.Millimetre
	}
	say := func(num, den int64) string {
		return style.With(length.Rounded(exact.New(int64(d)*num, den), length.Nanometre, length.Up))
	}
	words := "; see that each stands " + say(3, 2) + " from an edge of the wood and " + say(4, 1) + " from its end and from the next one (NDS 12.5.1, from memory)"
	least := exact.New(int64(4*d), int64(length.Inch))
	for i := 1; i < len(rows); i++ {
		if rows[i].Value.Sub(rows[i-1].Value).Cmp(least) < 0 {
			return words + ", which its rows do not"
		}
	}
	return words
}

// notCounted is what a value for a screw that is drawn out leaves out. For one that is drawn out the NDS has no factor for a group.
const notCounted = "not counted: wood that is wet or hot, distances to edges and ends"

// bearing asks how far below the floor the wood begins that a lagged post turns about when it is pushed inward; nil where it is said.
func (s *screen) bearing(p *layout.Post, own *job.Post) *finding.Reading {
	what := "how far below the floor the upper edge of the wood is that " + p.Name + " is lagged to; 0 where the floor's own edge bears on it"
	switch {
	case !own.Bears.Given:
	case own.Bears.Length >= own.Rows[0].Length:
		what += ": higher than its upper row of lag screws"
	default:
		return nil
	}
	at := own.Bears.At
	if at.IsZero() {
		at = own.At
	}
	return &finding.Reading{What: what, Where: s.job.File + ", posts: {" + p.Name + ": {bears: }}", Why: "the pull on its lag screws when it is pushed inward", Group: p.ID, At: at}
}
