package layout

import (
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
)

// This file is what cures bolts that would meet inside a post: a move is named only where the bolt that is moved passes every other check as well.

// overBore is the wood that is to stay over the bore from below; common practice, no source.
const overBore = length.Inch / 4

// moved is how far a bolt is moved off the middle of its rail, up positive.
func (c coming) moved() length.Length { return c.job.BoltUp.Length - c.job.BoltLow.Length }

// room is how far a bolt may be moved off the middle of its rail, down (negative) and up, with wood left beside its bore and over the one from below; why names what stops it on the way up. Where sizes are not
// known nothing stops it short of the rail's edges.
func (n *node) room(a *Arrival, c coming) (down, up length.Length, why string) {
	half := (a.Top - a.Under) / 2
	part := c.run.r.Bolt
	up, why = half, "it would leave its rail"
	if part.Bore.Given && a.Thick > 0 { // the check wants more than nothing: a mark of the tape
		up = half - part.Bore.Length/2 - 1
		why = "no wood would be left beside its bore"
	}
	down = -up + n.plowed(a, c)
	if h := c.run.r.Handrail; h != nil && h.High.Given && part.Access.Given && !part.AccessUp.Given {
		if most := h.High.Length - overBore - h.High.Length/2 - part.Access.Length/2; most < up {
			up, why = most, "its bore from below would leave less than "+n.tape(overBore)+" of wood over it"
		}
	}
	return down, up, why
}

// plowed is how deep the plow in the underside of a rail is, plumb: below its middle no wood is there.
func (n *node) plowed(a *Arrival, c coming) length.Length {
	h := c.run.r.Handrail
	if h == nil || !h.Plow.Deep.Given {
		return 0
	}
	deep := h.Plow.Deep.Length
	if k := c.run.Rake; a.Raked && k != nil && k.Secant != nil && k.Secant.Value.Known() {
		deep = length.Rounded(exact.Of(int64(deep)).Mul(k.Secant.Value), length.Nanometre, length.Up)
	}
	return deep
}

// goes reports that a bolt may stand moved off the middle of its rail by so much, alone in its post.
func (n *node) goes(p *Post, x bolt, to length.Length) bool {
	down, up, _ := n.room(&p.Arrivals[x.at], n.ends[x.at])
	return down <= to && to <= up
}

// clearOf reports that two bolts, each moved by so much more, pass each other.
func (n *node) clearOf(p *Post, x, y bolt, moveX, moveY, wide length.Length) bool {
	if !n.touch(p, x, y, wide) {
		return true
	}
	return abs(x.high+moveX-y.high-moveY) >= n.least(p, x, y)
}

// shifts is a cure: how far the upper bolt of two goes up, and the lower one down.
type shifts struct{ up, down length.Length }

// cures finds the moves that put the two bolts so far apart and pass every other check: the upper one alone, the lower one alone, and both, as evenly as can be. False where there is none.
func (n *node) cures(p *Post, x, y bolt, move, wide length.Length, all []bolt) (list []shifts) {
	ok := func(s shifts) bool {
		if !n.goes(p, x, n.ends[x.at].moved()+s.up) || !n.goes(p, y, n.ends[y.at].moved()-s.down) {
			return false
		}
		for _, z := range all {
			if z.at != x.at && z.at != y.at && (!n.clearOf(p, x, z, s.up, 0, wide) || !n.clearOf(p, y, z, -s.down, 0, wide)) {
				return false
			}
		}
		return true
	}
	for _, s := range []shifts{{move, 0}, {0, move}} {
		if ok(s) {
			list = append(list, s)
		}
	}
	if len(list) > 0 || n.div.Length <= 0 {
		return list
	}
	const most = 4096 // marks of the tape that are tried
	middle := (move / 2).Round(n.div.Length, length.Up)
	for k := length.Length(0); k < most && k*n.div.Length < move; k++ {
		for _, up := range []length.Length{middle - k*n.div.Length, middle + k*n.div.Length} {
			if s := (shifts{up, move - up}); up > 0 && s.down > 0 && ok(s) {
				return []shifts{s}
			}
		}
	}
	return nil
}

// to is where a bolt is written when it is moved by so much more, up positive: bolt-up: 12 mm.
func (n *node) to(c coming, more length.Length) string {
	where := "end " + c.side() + ": of " + c.run.r.File
	switch l := c.moved() + more; {
	case l > 0:
		return "bolt-up: " + n.tape(l) + " at its " + where
	case l < 0:
		return "bolt-down: " + n.tape(-l) + " at its " + where
	}
	return "neither bolt-up: nor bolt-down: at its " + where
}

// apartCure says what puts two bolts apart that would meet: the upper one x, the lower one y, move too near to each other.
func (n *node) apartCure(p *Post, x, y bolt, move, wide length.Length, all []bolt) string {
	a, b := p.Arrivals[x.at], p.Arrivals[y.at]
	cx, cy := n.ends[x.at], n.ends[y.at]
	up := func(by length.Length) string {
		return "the bolt of " + a.Title + " up by " + n.tape(by) + " (" + n.to(cx, by) + ")"
	}
	down := func(by length.Length) string {
		return "the bolt of " + b.Title + " down by " + n.tape(by) + " (" + n.to(cy, -by) + ")"
	}
	list := n.cures(p, x, y, move, wide, all)
	if len(list) == 0 {
		_, _, why := n.room(&p.Arrivals[x.at], cx)
		return "no move of the two cures it: the upper one can't go up so far, for " + why + ", and the lower one not so far down; take bolts that reach less far into the post (in-post:) or whose bore from below is narrower (access:), or a higher rail"
	}
	first := BoltMove{"check/" + n.ID + "/bolts/" + a.Run + "/" + b.Run, a.Run, cx.side(), upDown(cx.moved() + list[0].up)}
	if list[0].up == 0 {
		first.Run, first.Side, first.Key = b.Run, cy.side(), upDown(cy.moved()-list[0].down)
	}
	p.Moves = append(p.Moves, first)
	switch s := list[0]; {
	case s.up > 0 && s.down > 0:
		return "move " + up(s.up) + " and " + down(s.down)
	case len(list) > 1:
		return "move " + up(s.up) + " or " + down(list[1].down) + ", or each by half; or take shorter ones"
	case s.up > 0:
		return "move " + up(s.up) + "; the other one has no room to go down"
	default:
		_, _, why := n.room(&p.Arrivals[x.at], cx)
		return "move " + down(s.down) + "; the other one does not go up so far, for " + why
	}
}

// upDown is the key of a bolt so far off the middle.
func upDown(l length.Length) string {
	if l < 0 {
		return "bolt-down"
	}
	return "bolt-up"
}

// accessCures says, where a bore from below leaves too little wood over it, how far up its bolt may be, and what then keeps it clear of the other bolts in the post.
func (n *node) accessCures(p *Post, wide length.Length, all []bolt) {
	for i := range p.Arrivals {
		a, c := &p.Arrivals[i], n.ends[i]
		var f *finding.Finding
		for k := range c.run.Findings {
			if g := &c.run.Findings[k]; g.ID == "check/"+c.run.ID+"/access-"+c.side() && g.Verdict == finding.Fail {
				f = g
			}
		}
		if f == nil || c.run.r.Bolt == nil || !a.Known || a.Over {
			continue
		}
		_, up, _ := n.room(a, c)
		fine := up.Round(n.div.Length, length.Down)
		down, _, _ := n.room(a, c)
		if fine < down || fine >= c.moved() {
			f.Cure = "take a bolt with a narrower bore from below (access:), or a higher rail"
			continue
		}
		f.Cure = "move it no farther up: " + n.to(c, fine-c.moved())
		for _, x := range all {
			if x.at != i {
				continue
			}
			lower := x
			lower.high += fine - c.moved()
			for _, y := range all {
				if y.at == i || !n.touch(p, x, y, wide) {
					continue
				}
				if miss := (n.least(p, x, y) - abs(lower.high-y.high)).Round(n.div.Length, length.Up); miss > 0 {
					way, word := -miss, "down"
					if y.high > lower.high {
						way, word = miss, "up"
					}
					if n.goes(p, y, n.ends[y.at].moved()+way) {
						f.Cure += "; and the bolt of " + p.Arrivals[y.at].Title + " " + word + " by " + n.tape(miss) + ", so that the two pass in the post: " + n.to(n.ends[y.at], way)
					} else {
						f.Cure = "take a bolt with a narrower bore from below (access:), or one that reaches less far into the post (in-post:): moved less far up it would meet the bolt of " + p.Arrivals[y.at].Title
					}
				}
			}
		}
		f.Cure = strings.TrimSpace(f.Cure)
	}
}
