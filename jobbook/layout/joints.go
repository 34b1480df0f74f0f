package layout

import (
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// railPieces are the lengths that a handrail with joints is cut in, from the datum end on. Joints are square to the rail; on a rake the two
// outer pieces have one plumb cut each, and a blank that both its points come out of.
func (b *builder) railPieces() {
	rail := b.Handrail
	if rail == nil || len(b.r.Joints) == 0 {
		return
	}
	whole := b.figure("handrail")
	at := b.r.Joints
	for i, m := range at {
		if !m.Given || i > 0 && m.Length <= at[i-1].Length {
			return // asked for, or refused, where joints are checked
		}
	}
	// Where the rail begins, along it from the datum face: a rosette's thickness in, or over the post.
	start := working.Expr(nil)
	if e := b.r.From; e.Plate != nil && e.Plate.Thick.Given {
		start = b.in("r_1", "thickness of the rosette (from)", e.Plate.Thick)
	} else if over, _ := b.overPost(e, "1", "from"); over != nil {
		start = working.Difference(working.Constant(0), over)
	}
	if start != nil && b.Rake != nil {
		start = working.Product(start, b.sec())
	}
	joint := func(i int) working.Expr {
		return b.in("j_"+strconv.Itoa(i+1), "joint "+strconv.Itoa(i+1)+" in the handrail, from the datum end", at[i])
	}
	end := func(i int) string { // in words
		switch i {
		case 0:
			return b.endName(b.From, "from")
		case len(at) + 1:
			return b.endName(b.To, "to")
		}
		return "joint " + strconv.Itoa(i)
	}
	var before []working.Expr // of the last piece: the ones before it
	for i := 0; i <= len(at); i++ {
		var e working.Expr
		switch {
		case i == len(at) && len(before) == 1:
			e = working.Difference(whole.In(), before[0])
		case i == len(at):
			e = working.Difference(whole.In(), before[0], before[1:]...)
		case i > 0:
			e = working.Difference(joint(i), joint(i-1))
		case start != nil:
			e = working.Difference(joint(i), start)
		default:
			e = joint(i)
		}
		n := strconv.Itoa(i + 1)
		fig := b.work("handrail/"+n, "length of piece "+n+" of the handrail", "l_"+n, e)
		if !fig.Value.Known() || fig.Value.Sign() <= 0 {
			b.RailPieces = nil // a joint beyond the rail: refused where joints are checked
			return
		}
		before = append(before, fig.In())
		c := b.cut("handrail", fig, length.Up)
		c.Count, c.Part, c.Title, c.Fit = 1, rail.Part, rail.Title, "its joint square"
		c.Which = "from " + end(i) + " to " + end(i+1)
		if outer := i == 0 || i == len(at); outer {
			c.Fit = joinNotes(rail.Fit, "the joint square")
			if b.Rake != nil {
				c.Beveled = [2]bool{i == 0, i == len(at)}
				blank := b.work("handrail/"+n+"/blank", "blank of piece "+n+": longer by what its plumb cut runs out", "l_b", working.Sum(fig.In(), working.Product(b.in("t", "height of its section", b.r.Handrail.High), b.tan())))
				c.Blank = blank.Length(b.sys, b.div.Length, length.Up)
				c.Fit = "cut the blank to " + b.tape(c.Blank) + " and what the saw trims at each end; one end a plumb cut at " + b.degrees() + ", the joint square; leave it long, then fit it to the marks"
			}
		}
		b.RailPieces = append(b.RailPieces, c)
	}
}

// railEnd is what is cut at one end of the handrail: the whole rail, and its piece there where it has joints.
func (b *builder) railEnd(far bool) (cuts []*Cut) {
	if b.Handrail != nil {
		cuts = append(cuts, b.Handrail)
	}
	if n := len(b.RailPieces); n > 0 && far {
		cuts = append(cuts, &b.RailPieces[n-1])
	} else if n > 0 {
		cuts = append(cuts, &b.RailPieces[0])
	}
	return cuts
}

// joints checks that every joint in the handrail is clear of the balusters, and so is the bore that its bolt is tightened through.
func (b *builder) joints() {
	if at := b.r.JointsAt; !at.IsZero() {
		b.need("where the handrail is joined; leave joints out where it is of one piece", "joints: ", "the lengths that it is cut in, and whether a joint is clear of the balusters", at)
	}
	h := b.r.Handrail
	long := b.clearLen
	if b.Rake != nil && b.sloped() {
		long = b.along(b.clearLen)
	}
	if h == nil || b.Clear == nil {
		return
	}
	var at []length.Length
	var places []job.Measure
	var which []string
	for i, m := range b.r.Joints {
		if !m.Given {
			b.need("where joint "+strconv.Itoa(i+1)+" in the handrail is", "joints: ", "whether it is clear of the balusters", m.At)
			continue
		}
		if m.Length >= long {
			b.check("joint-"+strconv.Itoa(i+1), "joint "+strconv.Itoa(i+1)+" in the handrail, from the datum end", m.Length, finding.Under, long, m.At, source.Pos{}, "", "it lies beyond the run; measure from the datum end")
			continue
		}
		at, places, which = append(at, m.Length), append(places, m), append(which, strconv.Itoa(i+1))
	}
	for i, j := range at {
		from, to := j, j
		if bolt := b.r.Bolt; bolt != nil && bolt.Reach.Given && bolt.Access.Given { // bored on one side of the joint; either will do, so both are kept clear
			from, to = j-bolt.Reach.Length-bolt.Access.Length/2, j+bolt.Reach.Length+bolt.Access.Length/2
		}
		half := b.foot / 2
		if b.Rake != nil {
			half = b.along(b.foot) / 2 // a baluster covers more of the rake than of the level
		}
		clear, near := length.Length(0), 0
		for k, m := range b.Marks {
			x := m.At
			if b.Rake != nil {
				x = m.Along
			}
			gap := max(from-x, x-to, 0) - half
			if k == 0 || gap < clear {
				clear, near = gap, m.K
			}
		}
		if near > 0 {
			b.check("joint-"+which[i], "joint "+which[i]+" in the handrail, with the bore for its bolt, clear of baluster "+strconv.Itoa(near), clear, finding.AtLeast, 0, places[i].At, source.Pos{}, "", "move the joint to the middle between two balusters")
		}
	}
}
