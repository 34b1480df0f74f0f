package layout

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// onBlock says where the newel's block stands, and checks that the rails land on it whole.
func (n *node) onBlock(p *Post, block squareBlock) {
	known := false
	for _, a := range p.Arrivals {
		known = known || a.Known && !a.Over
	}
	if !p.Known || !known || !n.deep() || n.foot == 0 {
		return
	}
	newel := n.post.Part
	deep, off := n.in("g", "how far its foot goes below the floor", n.post.Deep), n.in("o", "taken off its foot", n.post.Off)
	stands := func(id, title, symbol, name string, z length.Length) *working.Figure {
		return n.work(id, title, symbol, working.Difference(working.Length("z", name+", up the newel as bought", z, n.sys, source.Pos{File: newel.File}), deep, off))
	}
	from := stands("block-from", "foot of the newel's block at "+n.Name+", above the floor", "b_f", "foot of the block", block.from)
	to := stands("block-to", "top of the newel's block at "+n.Name+", above the floor", "b_t", "top of the block", block.to)
	p.BlockFrom, p.BlockTo = from.Exact(n.sys), to.Exact(n.sys)
	if p.Cut != nil && p.Cut.Exact > 0 { // the newel ends under the rail that goes over it, or where its top is sawn off
		p.BlockTo = min(p.BlockTo, p.Cut.Exact-n.post.Deep.Length)
	}
	note, cure := n.shift(p, block)
	lowest, highest := n.deciding(p)
	n.check("block-under", "lowest underside of the rails at "+n.Name+" above the floor, against the foot of the newel's block", p.NeedFrom, finding.AtLeast, p.BlockFrom, lowest, newel.Long.At, n.ID+"/need-from", "the rail would meet the turning: "+cure)
	n.noted(note)
	at := newel.Long.At
	if n.post.Top.Given && n.post.Top.Length < p.NeedTo && block.to-n.post.Deep.Length-n.post.Off.Length > p.BlockTo { // it is the cut that takes it off
		at, note, cure = n.post.Top.At, "", "a higher top: "+n.tape(p.NeedTo.Round(n.div.Length, length.Up))+" at the least (top:)"
	}
	words := "the top of the highest rail that meets it"
	if p.Reveal > 0 {
		words += " and the reveal of " + n.tape(p.Reveal)
	}
	n.check("block", "top of the newel's block at "+n.Name+" above the floor, against "+words, p.BlockTo, finding.AtLeast, p.NeedTo, at, highest, n.ID+"/need-to", cure)
	n.noted(note)
}

// noted adds a sentence to the last finding.
func (n *node) noted(note string) {
	f := &n.Findings[len(n.Findings)-1]
	f.Note = joinNotes(f.Note, note)
}

// deciding is where the heights were written that the lowest underside and the highest top come from.
func (n *node) deciding(p *Post) (lowest, highest source.Pos) {
	var low, high *Arrival
	for i := range p.Arrivals {
		a := &p.Arrivals[i]
		if !a.Known || a.Over {
			continue
		}
		at := n.ends[i].run.r.Height.Top.At
		if low == nil || a.Under < low.Under {
			low, lowest = a, at
		}
		if high == nil || a.Top > high.Top {
			high, highest = a, at
		}
	}
	return lowest, highest
}

// shift says how much may be taken off the newel's foot for the rails to land on its block, and what cures a block that they miss.
// Taking off the foot only lowers the block; it makes it no longer.
func (n *node) shift(p *Post, block squareBlock) (note, cure string) {
	newel := n.post.Part
	if !n.post.Foot.Given && !n.post.Deep.Given {
		note = "as if the newel stood on the floor: how it is fixed is not said"
	}
	missing := (p.NeedTo - p.NeedFrom) - (block.to - block.from)
	if missing > 0 {
		return joinNotes(note, "the rails need "+n.tape(p.NeedTo-p.NeedFrom)+" of block, and it has "+n.tape(block.to-block.from)), "a newel whose block is longer by " + n.tape(missing) + "; taking off its foot moves the block, it makes it no longer"
	}
	deep := n.post.Deep.Length
	least, most := block.from-deep-p.NeedFrom, block.to-deep-p.NeedTo // that may come off in all
	plain := block.from == 0 && block.to == newel.Profile.Long()
	if most < 0 && plain {
		return note, "a newel that is longer by " + n.tape(-most) + " at the least, or lower rails"
	}
	if most < 0 {
		return note, "a newel whose block stands higher by " + n.tape(-most) + " at the least: longer below it; or lower rails"
	}
	least = max(least, 0)
	if foot, _ := newel.Profile.EndBlocks(); foot > 0 && foot < block.from {
		if limit := foot - deep; least > limit {
			return note, "a newel whose block stands lower by " + n.tape(least-max(limit, 0)) + ": so much off its foot would run into the turning"
		} else {
			most = min(most, limit)
		}
	}
	up, low := least.Round(n.div.Length, length.Up), most.Round(n.div.Length, length.Down)
	if up > low { // between two marks of the tape
		up, low = least, most
	}
	words := n.tape(up) + " to " + n.tape(low)
	switch {
	case up == low:
		words = "exactly " + n.tape(up)
	case up == 0:
		words = "no more than " + n.tape(low)
	}
	if !plain {
		note = joinNotes(note, "the rails land on the block with "+words+" taken off the newel's foot in all (off:)")
	}
	return note, "take " + words + " off the newel's foot in all (off:)"
}

// squareBlock is the square part of a newel that rails land on: its foot and its top up the newel as bought, and its width.
type squareBlock struct{ from, to, wide length.Length }

// blockOf is the square part of one width that a height lies on. Where that height is turned, it is the next one up, and over the last one that
// one; where there is none at all, it has no length and stands at the newel's top.
func blockOf(newel *job.Newel, z length.Length) squareBlock {
	if newel == nil || !newel.Sized {
		return squareBlock{}
	}
	s := newel.Profile.Stations
	last := squareBlock{newel.Profile.Long(), newel.Profile.Long(), 0}
	for i := 0; i < len(s); i++ {
		if s[i].Round {
			continue
		}
		k := i
		for k+1 < len(s) && !s[k+1].Round && s[k+1].Width == s[i].Width {
			k++
		}
		if k > i {
			last = squareBlock{s[i].At, s[k].At, s[i].Width}
		}
		if k > i && s[k].At > z {
			return last
		}
		i = max(i, k)
	}
	return last
}
