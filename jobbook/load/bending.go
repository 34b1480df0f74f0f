package load

import (
	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

var (
	bendingRule = working.Citation{Text: "bending of a beam, textbook", Status: working.Derived}
	strengths   = working.Citation{Text: "Wood Handbook, Table 5-3", Status: working.Published}
	d245        = working.Citation{Text: "ASTM D245 and Wood Handbook, Table 5-6", Status: working.Memory}
)

// strength is what a wood is known to bear and how stiff it is; nil where the value is not published.
type strength struct {
	rupture, stiff *working.Input // psi
	from           working.Citation
}

// average is what a stress is set against, in words.
func (st strength) average() string {
	return "the average stress that small clear pieces of it break at (" + st.from.Text + "); a working stress lies far below"
}

// strength is that of a wood, worked out once.
func (s *screen) strength(sp *job.Species) strength {
	st, ok := s.strengths[sp]
	if !ok {
		st = strengthOf(sp)
		s.strengths[sp] = st
	}
	return st
}

func strengthOf(sp *job.Species) (st strength) {
	if sp == nil {
		return st
	}
	st.from = strengths
	if sp.Layer != source.Library { // a wood of the shop's or the job's own is as good as its file says
		if sp.Status != working.Published {
			return st
		}
		st.from = working.Citation{Text: "written as published in " + sp.File, Status: working.Local}
	}
	recalled := func(key string) bool {
		for _, t := range sp.Memory {
			if t.Text == key {
				return true
			}
		}
		return false
	}
	if sp.MOR.Given && sp.MOR.Thousandths > 0 && !recalled("mor") {
		st.rupture = &working.Input{Symbol: "R", Name: "average modulus of rupture of " + sp.Title.Text, Value: exact.New(sp.MOR.Thousandths, 1000), Unit: "psi", At: sp.MOR.At}
	}
	if sp.MOE.Given && sp.MOE.Thousandths > 0 && !recalled("moe") {
		st.stiff = &working.Input{Symbol: "E", Name: "modulus of elasticity of " + sp.Title.Text, Value: exact.New(sp.MOE.Thousandths, 1000).Mul(exact.Of(1_000_000)), Unit: "psi", At: sp.MOE.At}
	}
	return st
}

// What a working stress is reckoned with.
var (
	spread = number("v", "spread of the strength of clear wood", "0.16", "Wood Handbook, Table 5-6, recalled")
	below  = number("z", "standard deviations to one piece in twenty", "1.645", "statistics")
	over   = number("n", "for time and safety", "2.1", "ASTM D245, recalled")
)

// bent makes a case of a stress in bending: its ratio to the handbook's average, and to a working stress that is reckoned from it the way ASTM D245 does (recalled): what all but one
// piece in twenty bear, at a spread of 16 %, over 2.1 for time and safety.
func (s *screen) bent(id, load string, stress *working.Figure, st strength) Case {
	c := Case{Load: load, Comes: stress, By: st.average()}
	if st.rupture == nil || !stress.Value.Known() {
		return c
	}
	c.Ratio = s.work(id+"/ratio", "share of the average breaking stress", "k", "", working.Quotient(stress.In(), st.rupture), st.from)
	working245 := working.Quotient(working.Product(st.rupture, working.Difference(working.Constant(1), working.Product(below, spread))), over)
	c.Recall = s.work(id+"/working-stress", "share of a working stress reckoned from the average", "k_w", "", working.Quotient(stress.In(), working245), d245)
	return c
}

// rail screens the handrail of a stretch between its ends: sideways, for down it stands on its balusters. It is taken to lie free on both ends, and whole.
func (s *screen) rail(r *layout.Run) {
	part := r.Job.Handrail
	if part == nil || r.Handrail == nil || r.Handrail.Exact <= 0 {
		return
	}
	m := Member{Group: r.ID, Name: "handrail", Title: "handrail, pushed sideways between its ends", Get: "a stronger rail, a post between, or a stronger wood"}
	switch {
	case r.Curve != nil:
		m.Verdict, m.Words = finding.AskAuthority, "a curved rail twists as it bends, which is not worked out here: ask an engineer"
		s.Members = append(s.Members, m)
		return
	case len(r.Job.Joints) > 0:
		m.Verdict, m.Words, m.Get = finding.AskAuthority, "no published value for a joint in the rail between its ends", "a joint over a post, or one with a rating of its maker's; else ask an engineer"
		s.Members = append(s.Members, m)
		return
	}
	sec, missing := s.section(part)
	if missing != nil {
		s.waits(m, *missing)
		return
	}
	sp, missing := s.species(part.Species, "handrail", part.File+", species: ")
	if missing != nil {
		s.waits(m, *missing)
		return
	}
	st := s.strength(sp)
	long := working.Length("L", "length of the rail between its ends", r.Handrail.Exact, length.Inches, source.Pos{})
	long.Figure = r.Handrail.Figure
	fibre := working.Quotient(sec.half, working.Product(working.Constant(2), sec.second.In()))
	for _, x := range []struct {
		load        string
		moment, sag func(q working.Expr) working.Expr
	}{
		{"rail-point", func(p working.Expr) working.Expr {
			return working.Quotient(working.Product(p, long), working.Constant(4))
		}, func(p working.Expr) working.Expr {
			return working.Quotient(working.Product(p, cube(long)), working.Product(working.Constant(48), st.stiff, sec.second.In()))
		}},
		{"rail-line", func(w working.Expr) working.Expr {
			return working.Quotient(working.Product(w, long, long), working.Constant(8))
		}, func(w working.Expr) working.Expr {
			return working.Quotient(working.Product(working.Constant(5), w, cube(long), long), working.Product(working.Constant(384), st.stiff, sec.second.In()))
		}},
	} {
		l, ok := s.load(x.load)
		if !ok {
			continue
		}
		id := r.ID + "/load/rail/" + x.load
		stress := s.work(id, "bending stress in the handrail, "+l.Title, "f_b", "psi", working.Product(x.moment(l.Force.In()), fibre), bendingRule)
		c := s.bent(id, x.load, stress, st)
		if st.stiff != nil {
			c.Sag = s.work(id+"/sag", "how far the middle of the handrail goes aside, "+l.Title, "y", "in", x.sag(l.Force.In()), bendingRule)
		}
		m.Cases = append(m.Cases, c)
	}
	s.settle(m, "the strength of "+sp.Title.Text+" in bending is not in the handbook's table, or was recalled; take a wood that is, or ask an engineer")
}

// spacing is how far apart the balusters of a stretch stand, from centre to centre; nil while it is not known. New ones between old ones that stay have no spacing of their own: the widest
// room beside one, with the width of a new one, is as much of the infill as any of them can get.
// The first is what loads all over the infill are gathered from, the second the spacing itself.
func (s *screen) spacing(r *layout.Run) (*working.Input, length.Length) {
	if r.Kept != nil {
		d := r.Chosen.Gap + r.Kept.Wide
		if r.Chosen.Gap <= 0 || r.Kept.Wide <= 0 {
			return nil, 0
		}
		in := working.Length("s", "widest room between two balusters at the foot, and a new one's width", d, length.Inches, source.Pos{})
		return in.Because("the marks and the readings of the old ones"), d
	}
	var d, gap length.Length
	name, from := "spacing from centre to centre", ""
	switch {
	case r.Chosen.Count == 1: // alone between the ends
		if r.Clear == nil || !r.Clear.Value.Known() {
			return nil, 0
		}
		d = r.Clear.Exact(s.job.System)
		name, from = "clear between the ends, in which it stands alone", r.Clear.ID
		gap = d
	case r.Spacing != nil && r.Spacing.Value.Known():
		d = r.Spacing.Exact(s.job.System)
		from = r.Spacing.ID
		gap = r.Chosen.Gap
	case r.Chosen.Spacing > 0: // on treads they are not all alike
		d = r.Chosen.Spacing
		name = "widest spacing from centre to centre, level"
		gap = r.Chosen.Gap
	default:
		return nil, 0
	}
	infill := d
	for _, o := range r.Openings {
		const rounded = 3 * length.Millimetre // less than this is the rounding of marks
		if o.Part != "between" && o.Foot-gap > rounded {
			infill = max(infill, d+(o.Foot-gap)/2)
		}
	}
	in := working.Length("s", name, infill, length.Inches, source.Pos{})
	in.Figure = from
	if infill > d {
		in.Name, in.Figure = name+", and half of what the gap at an end is wider", ""
	}
	if in.Figure == "" {
		in.Because("the marks")
	}
	return in, d
}

// baluster screens the longest baluster of a stretch under the loads on the infill, each set where it harms most: free at both ends, at the place where it is weakest.
func (s *screen) baluster(r *layout.Run) {
	part := r.Job.Baluster
	if part == nil || !part.Sized || len(r.Balusters) == 0 || r.Chosen == nil || r.Chosen.Count == 0 {
		return
	}
	gap, spacing := s.spacing(r)
	if gap == nil {
		return
	}
	m := Member{Group: r.ID, Name: "baluster", Title: "baluster, pushed square to the guard", Get: "a stouter baluster, or a closer spacing"}
	if r.Kept != nil {
		m.Title, m.Get = "new baluster, pushed square to the guard", "a stouter baluster"
	}
	if s.job.FootLoose(r.Job) { // it is pushed as a beam between two ends that are held
		s.rests(m, "what holds its foot")
		return
	}
	sp, missing := s.species(part.Species, "balusters", part.File+", species: ")
	if missing != nil {
		s.waits(m, *missing)
		return
	}
	longest := r.Balusters[0]
	for _, c := range r.Balusters {
		if c.Exact > longest.Exact {
			longest = c
		}
	}
	if longest.Exact <= 0 {
		return
	}
	off := part.Profile.Long() - longest.Exact
	as := part.Profile.Cut(0, off)
	if part.Trim.Text == "bottom" {
		as = part.Profile.Cut(off, 0)
	}
	if len(as.Stations) == 0 {
		return
	}
	st := s.strength(sp)
	whole := as.Long().Float()
	worst, ok := weakest(as, func(z float64) float64 { return float64(z * (whole - z)) })
	if !ok {
		return
	}
	long := working.Length("L", "length of the longest baluster", longest.Exact, length.Inches, source.Pos{})
	long.Figure = longest.Figure
	at := working.Length("z", "height of its weakest place", worst.at, length.Inches, source.Pos{}).Because("found by search up its profile")
	wide := working.Length("b", "width there", worst.width, length.Inches, part.Wide.At)
	aside := working.Quotient(working.Product(at, working.Difference(long, at)), long)
	for _, name := range []string{"infill-square", "infill-pressure", "infill-point"} {
		l, ok := s.load(name)
		if !ok {
			continue
		}
		var moment working.Expr
		switch name {
		case "infill-point":
			moment = working.Product(l.Force.In(), aside)
		case "infill-pressure":
			moment = working.Quotient(working.Product(l.Force.In(), gap, at, working.Difference(long, at)), working.Constant(2))
		default: // as many as stand wholly within the square share it, one at the least
			n, how := int64(1), ", as many as its side holds spacings, rounded down, and no more than there are"
			if r.Kept != nil {
				how = ": one by itself, for the old ones beside it are not counted on"
			} else if spacing > 0 {
				n = max(min(int64(l.Side.Length/spacing), int64(r.Chosen.Count)), 1)
			}
			sharing := working.Count("n", "balusters that share the square", n, l.Side.At)
			sharing.Name += how
			moment = working.Quotient(working.Product(l.Force.In(), aside), sharing)
		}
		id := r.ID + "/load/baluster/" + name
		stress := s.work(id, "bending stress in a baluster where it is weakest, "+l.Title, "f_b", "psi", working.Quotient(moment, modulus(wide, worst.round)), bendingRule)
		m.Cases = append(m.Cases, s.bent(id, name, stress, st))
	}
	s.settle(m, "the strength of "+sp.Title.Text+" in bending is not in the handbook's table, or was recalled; take a wood that is, or ask an engineer")
}
