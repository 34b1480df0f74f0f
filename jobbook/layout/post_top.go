package layout

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// This file is a newel's top: where it comes to, how far it stands over what its rails need, and whether it is sawn off.

// What is said of a newel that nothing is cut off, and of one whose top waits for an answer.
const (
	AsBought    = "as bought"
	AsBoughtYet = AsBought + " until it is said what is wanted at its top"
)

// hand is how far a square top may stand over what the rails need before it is asked what is wanted there; common practice, no source.
func hand(sys length.System) length.Length {
	if sys == length.Millimetres {
		return 100 * length.Millimetre
	}
	return 4 * length.Inch
}

// topped works out the length of a newel that no rail goes over: as bought less what comes off its foot (left), and off its top where the job names a height for it.
func (n *node) topped(p *Post, cut Cut, left working.Expr) {
	newel := n.post.Part
	deep := n.in("g", "how far its foot goes below the floor", n.post.Deep)
	if !n.deep() {
		return // how deep it goes is asked for, and its length with it
	}
	long := n.post.Part.Profile.Long() - n.post.Off.Length
	comes := long - n.post.Deep.Length
	gone := comes - n.post.Top.Length
	if !n.post.Top.Given || gone < n.div.Length {
		f := n.work("cut", "length of the newel "+n.Name, "l", left)
		cut.Exact, cut.Length, cut.Figure = f.Exact(n.sys), f.Length(n.sys, n.div.Length, length.Nearest), f.ID
	} else {
		f := n.work("cut", "length of the newel "+n.Name+", its top sawn off", "l", working.Sum(n.in("h_n", "how high its top is to be", n.post.Top), deep))
		cut.Exact, cut.Length, cut.Figure = f.Exact(n.sys), f.Length(n.sys, n.div.Length, length.Nearest), f.ID
		if n.post.Off.Given {
			cut.Fit += "; then its top: " + n.tape(gone) + " comes off"
		} else {
			cut.Fit = "cut its top: " + n.tape(gone) + " comes off"
		}
	}
	p.Cut = &cut
	f := n.work("top", "top of the newel at "+n.Name+", above the floor there", "h_n", working.Difference(of(cut.Figure, n.found("l", "length of the newel", "", cut.Exact)), deep))
	p.Top = f.Exact(n.sys)
	n.leaves(cut.Figure)
	if n.post.Top.Given {
		n.check("top", "top of the newel at "+n.Name+" above the floor, as bought, against the height that is wanted", comes, finding.AtLeast, n.post.Top.Length, newel.Long.At, n.post.Top.At, cut.Figure, "a newel that is longer by "+n.tape(n.post.Top.Length-comes)+", or a lower top (top:)")
		switch _, top := newel.Profile.EndBlocks(); {
		case gone < n.div.Length || gone <= top:
		case newel.Profile.Plain(newel.Profile.Long() - gone):
			p.Cut.Fit += "; the turning over its block goes with it"
		default:
			n.check("top-turned", "taken off the newel's top, against the plain piece there", gone, finding.AtMost, top, n.post.Top.At, newel.Long.At, cut.Figure, "the cut would run into the turning: leave top: out, or take another newel")
		}
		return
	}
	n.stands(p)
}

// stands asks what is wanted at the top of a newel whose square top stands far over what its rails need, once it is known how far down it goes.
func (n *node) stands(p *Post) {
	s := n.post.Part.Profile.Stations
	if n.post.Top.At.IsZero() { // else it is left blank: a reading to take, whatever the newel
		if !n.post.Foot.Given && !n.post.Deep.Given || p.NeedTo <= p.NeedFrom || len(s) == 0 || s[len(s)-1].Round || n.post.Part.Half.Yes {
			return
		}
		over := p.Top - p.NeedTo
		if _, top := n.post.Part.Profile.EndBlocks(); top < over || over <= hand(n.sys) {
			return
		}
	}
	what := "what is wanted at the top of " + n.Name + ": as bought it comes to " + n.tape(p.Top) + " above the floor"
	if p.NeedTo > p.NeedFrom && p.Top > p.NeedTo {
		what += ", " + n.tape(p.Top-p.NeedTo) + " over what its rails need"
	}
	n.needIn(n.job.File, what+"; "+n.tape(p.Top)+" leaves it so",
		"posts: {"+n.Name+": {top: }}", "how long the newel is cut", n.post.Top.At)
	if p.Cut.Fit == AsBought {
		p.Cut.Fit = AsBoughtYet
	}
}
