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

// bolt is a rail bolt in a post.
type bolt struct {
	at      int           // which of the arrivals it holds
	across  length.Length // how far it reaches into the post, level
	in      length.Length // how far from the face its height is taken where it is compared with another one
	high    length.Length // that height
	up      int           // 1 where it rises into the post, -1 where it falls
	segment [2]point      // in plan, from the post's middle, mm: from the face to its tip
}

// bolts works out where each rail's bolt enters the post, and checks that it ends inside it and that no two meet there.
func (n *node) bolts(p *Post, wide length.Length) {
	var list []bolt
	for i := range p.Arrivals {
		a, c := &p.Arrivals[i], n.ends[i]
		if a.Over || a.Old && p.Stays { // what holds an old rail to an old post holds it
			continue
		}
		part := c.run.r.Bolt
		if part == nil {
			if ref := c.run.r.Parts.Bolt; !ref.At.IsZero() && !ref.Given {
				n.needIn(c.run.r.File, "which bolt holds the handrail of "+c.run.Title, "bolt: ", "the bores in post and rail", ref.At)
			}
			continue
		}
		for _, m := range []struct {
			m         job.Measure
			what, key string
		}{{part.Wide, "diameter of the rail bolt", "wide: "}, {part.InPost, "how much of the rail bolt is screwed into the post", "in-post: "}} {
			if !m.m.Given {
				n.needIn(part.File, m.what, m.key, "whether bolts meet inside a post", m.m.At)
			}
		}
		a.BoltWide, a.BoltDeep = part.Wide.Length, part.InPost.Length
		if !a.Known {
			continue
		}
		a.Bolt = n.axis(a, c).Exact(n.sys)
		if !part.Wide.Given || !part.InPost.Given || !p.Known || wide == 0 {
			continue
		}
		list = append(list, n.into(p, i, wide))
	}
	for i, x := range list {
		for _, y := range list[i+1:] {
			n.pair(p, x, y, wide, list)
		}
	}
	n.accessCures(p, wide, list)
}

// axis is the height at which a bolt enters the post: the middle of the rail's cut, and as far off it as the run says.
func (n *node) axis(a *Arrival, c coming) *working.Figure {
	e := working.Expr(working.Quotient(working.Sum(
		of(n.ID+"/top/"+a.Run, n.found("h_t", "top of the handrail", "", a.Top)),
		of(n.ID+"/under/"+a.Run, n.found("h_u", "underside of the handrail", "", a.Under))), working.Constant(2)))
	switch {
	case c.job.BoltUp.Given:
		e = working.Sum(e, n.in("u", "how far it is moved up", c.job.BoltUp))
	case c.job.BoltLow.Given:
		e = working.Difference(e, n.in("u", "how far it is moved down", c.job.BoltLow))
	}
	f := n.work("bolt/"+a.Run, "axis of the bolt of "+a.Title+" at the face of "+n.Name+", above the floor", "h_b", e)
	if moved := c.job.BoltUp.Or(c.job.BoltLow); moved.Given && a.Thick > 0 && c.run.r.Bolt.Bore.Given {
		half := c.run.r.Bolt.Bore.Length / 2
		if c.job.BoltLow.Given { // towards the plow
			half += n.plowed(a, c)
		}
		n.check("bolt-moved/"+a.Run, "wood left in the rail of "+a.Title+" beside the bore of its bolt, moved off the middle", (a.Top-a.Under)/2-moved.Length-half, finding.Over, 0, moved.At, c.run.r.Bolt.Bore.At, f.ID, "move it less, or take a shorter bolt")
	}
	return f
}

// into is a bolt as it lies in the post, checked against the post's width. On a rake it goes along the rail.
func (n *node) into(p *Post, i int, wide length.Length) bolt {
	a, c := &p.Arrivals[i], n.ends[i]
	part := c.run.r.Bolt
	x := bolt{at: i, across: part.InPost.Length, high: a.Bolt}
	figure := ""
	if a.Raked {
		k := c.run.Rake
		rise, going := n.slope(c, "")
		f := n.work("reach/"+a.Run, "how far the bolt of "+a.Title+" reaches into "+n.Name+", level", "w_b",
			working.Quotient(working.Product(n.in("l_b", "length of the bolt in the post, along its axis", part.InPost), going), working.Root(working.Sum(working.Product(rise, rise), working.Product(going, going)))))
		x.across, figure = f.Exact(n.sys), f.ID
		face, middle := c.places(n.foot, wide)
		x.in = min(x.across, abs(middle-face))
		x.up = -1
		at := face - x.in
		if c.far {
			x.up, at = 1, face+x.in
		}
		x.high += k.RailTop(at) - k.RailTop(face)
	}
	thick, what := wide, "width of the newel"
	if n.post.Part.Half.Yes {
		thick, what = wide/2, "thickness of the half newel"
	}
	n.check("bolt-deep/"+a.Run, "how far the bolt of "+a.Title+" reaches into "+n.Name+", against the "+what, x.across, finding.Under, thick, part.InPost.At, n.post.Part.Wide.At, figure, "a bolt that is shorter in the post, or a through-bolt with a washer")
	cos, sin := Bearing(-a.Heading)
	turn, _ := Bearing(a.Skew)
	out := wide.Float() / 2 / turn // from the middle to the face, the way the rail comes
	tip := out - x.across.Float()
	x.segment = [2]point{{float64(out * cos), float64(out * sin)}, {float64(tip * cos), float64(tip * sin)}}
	return x
}

// pair checks two bolts that would touch in plan: they must pass each other at different heights. From opposite faces they may share a
// height where both together are no longer than the post is wide.
func (n *node) pair(p *Post, x, y bolt, wide length.Length, all []bolt) {
	a, b := &p.Arrivals[x.at], &p.Arrivals[y.at]
	if x.high < y.high {
		x, y, a, b = y, x, b, a
	}
	opposite := facing(a, b)
	if !n.touch(p, x, y, wide) {
		return
	}
	height := func(x bolt, a *Arrival, k string) working.Expr {
		h := working.Expr(of(n.ID+"/bolt/"+a.Run, n.found("h_"+k, "axis of the bolt of "+a.Title+" at the post's face", "", a.Bolt)))
		if x.up == 0 {
			return h
		}
		rise, going := n.slope(n.ends[x.at], k)
		more := working.Quotient(working.Product(n.found("i_"+k, "level from the face to where they pass", "post and bolt", x.in), rise), going)
		if x.up > 0 {
			return working.Sum(h, more)
		}
		return working.Difference(h, more)
	}
	gap := n.work("bolts/"+a.Run+"/"+b.Run, "bolts of "+a.Title+" and "+b.Title+" apart in height, where they pass inside "+n.Name, "e", working.Difference(height(x, a, "1"), height(y, b, "2")))

	need := n.between(x, y, a, b)
	limit := n.work("bolts/"+a.Run+"/"+b.Run+"/least", "what the bolts of "+a.Title+" and "+b.Title+" must be apart in height", "e_m", need,
		working.Citation{Text: "1/8 in of wood between two bolts, common practice", Status: working.CommonPractice})
	least := limit.Length(n.sys, length.Nanometre, length.Up)
	has := gap.Exact(n.sys)
	move := (least - has).Round(n.div.Length, length.Up)
	cure := ""
	if move > 0 {
		cure = n.apartCure(p, x, y, move, wide, all)
	}
	if opposite {
		cure += ": together they are " + n.tape(x.across+y.across-wide) + " longer than the post is wide"
	}
	at := func(c coming) source.Pos {
		if m := c.job.BoltUp.Or(c.job.BoltLow); m.Given {
			return m.At
		}
		return c.job.Where.At
	}
	n.check("bolts/"+a.Run+"/"+b.Run, "bolts of "+a.Title+" and "+b.Title+" apart in height, where they pass inside "+n.Name, has, finding.AtLeast, least, at(n.ends[x.at]), n.ends[y.at].run.r.Bolt.InPost.At, gap.ID, cure)
	n.Findings[len(n.Findings)-1].Status = working.CommonPractice
	n.noted("both diameters by half, and 1/8 in of wood between them: common practice, no source")
}

// facing reports two rails that come to opposite faces.
func facing(a, b *Arrival) bool {
	return milli(a.Heading-b.Heading) == 180_000 || milli(a.Heading-b.Heading) == -180_000
}

// touch reports two bolts that would touch in plan.
func (n *node) touch(p *Post, x, y bolt, wide length.Length) bool {
	a, b := &p.Arrivals[x.at], &p.Arrivals[y.at]
	if facing(a, b) {
		return x.across+y.across > wide
	}
	return apart(x.segment, y.segment) < ((a.BoltWide+b.BoltWide)/2 + boltRoom).Float()
}

// between is what two bolts that touch in plan must be apart in height.
func (n *node) between(x, y bolt, a, b *Arrival) working.Expr {
	need := working.Expr(working.Sum(working.Quotient(working.Sum(n.in("d_1", "diameter of the bolt of "+a.Title, n.ends[x.at].run.r.Bolt.Wide), n.in("d_2", "diameter of the bolt of "+b.Title, n.ends[y.at].run.r.Bolt.Wide)), working.Constant(2)),
		n.found("w", "wood that is to stay between them", "common practice, no source", boltRoom)))
	if slopes := n.slopes(x, y); slopes != nil { // bolts at a slope come nearer to each other than their heights say
		need = working.Product(need, working.Root(slopes))
	}
	return need
}

// least is the same as a length.
func (n *node) least(p *Post, x, y bolt) length.Length {
	f := working.Work("", "", "", n.sys.String(), n.between(x, y, &p.Arrivals[x.at], &p.Arrivals[y.at]), working.Geometry)
	return f.Length(n.sys, length.Nanometre, length.Up)
}

// slopes is 1 and the squares of the slopes of the bolts that lie at one; nil where both are level. Its root is how much farther apart in
// height two axes must be that pass at a right angle in plan: the common normal of the two lines is that much shorter than the height.
func (n *node) slopes(x, y bolt) working.Expr {
	var e working.Expr
	for i, s := range []bolt{x, y} {
		if s.up == 0 {
			continue
		}
		rise, going := n.slope(n.ends[s.at], strconv.Itoa(i+1))
		q := working.Quotient(rise, going)
		if e == nil {
			e = working.Constant(1)
		}
		e = working.Sum(e, working.Product(q, q))
	}
	return e
}

// skewed says of rails that come at an angle how their ends are cut. The newel stands square to the first of them.
func (n *node) skewed(p *Post) {
	for i, a := range p.Arrivals {
		if a.Skew == 0 {
			continue
		}
		b := n.ends[i].run
		if rail := b.r.Handrail; rail == nil || !rail.Wide.Given {
			if rail != nil {
				n.needIn(rail.File, "width of the handrail's section", "wide: ", "how much longer one edge of its end is at "+n.Name, rail.Wide.At)
			}
			continue
		}
		off := max(a.Skew, -a.Skew)
		cos, sin := Bearing(off)
		degrees := exact.New(milli(off), 1000)
		angle := &working.Input{Symbol: "s", Name: "how far off square its end is cut", Value: degrees, Unit: "degrees", From: "turn at " + n.Name}
		tangent := working.Tangent(working.Quotient(working.Product(angle, working.Pi()), working.Constant(180)))
		f := n.work("skew/"+b.Name, "how much longer than at its middle one edge of the handrail of "+b.Title+" is at "+n.Name+", and the other one shorter", "e",
			working.Quotient(working.Product(n.in("w", "width of the handrail", b.r.Handrail.Wide), tangent), working.Constant(2)))
		words := "its end at " + n.Name + " is cut " + working.Decimal(degrees) + "° off square: one edge " + n.tape(f.Length(n.sys, n.div.Length, length.Nearest)) + " longer than its middle, the other as much shorter"
		if half := p.Wide.Float() / 2; half > 0 && float64(half*sin)+a.Wide.Float()/2 > float64(half*cos) {
			words += "; it does not land whole on one face of the newel: turn the newel, or shape the end to it"
		}
		f.Note = "The newel stands square to the rail of " + p.Arrivals[0].Title + "."
		for _, c := range b.railEnd(n.ends[i].far) {
			c.Fit = joinNotes(c.Fit, words)
		}
	}
}
