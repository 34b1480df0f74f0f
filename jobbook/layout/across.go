package layout

import (
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
)

// This file is a newel that stands across the face of a riser: its body reaches from over one tread to over the next, so that its place does not say which of them it stands on.

// crossed is the risers whose faces lie within the body of the post at an end of a flight. None while its width or its place is not known.
func (b *builder) crossed(far bool) (list []Tread) {
	e := b.r.From
	if far {
		e = b.r.To
	}
	k, half := b.Rake, footWidth(e.Post)/2
	if k == nil || half <= 0 || !b.climbs() {
		return nil
	}
	f, _ := b.footing(far)
	for _, t := range k.Treads {
		if f.middle-half < t.At && t.At < f.middle+half {
			list = append(list, t)
		}
	}
	return list
}

// climbs reports that the stair is measured and both ends of the flight are placed along it.
func (b *builder) climbs() bool {
	k := b.Rake
	return len(k.Treads) > 0 && k.To > k.From && k.Going > 0
}

// unsaid reports that a post stands across a riser at an end of the flight, and nobody says on what: at the upper end there may be the riser alone under its foot.
func (b *builder) unsaid(far bool) bool {
	e := b.r.From
	if far {
		e = b.r.To
	}
	return !e.Stands.Given && len(b.crossed(far)) > 0
}

// unsaidAt reports that of a post which flights share.
func unsaidAt(flights []*builder, post *job.Post) (unsaid bool) {
	for _, b := range flights {
		for i, e := range []job.End{b.r.From, b.r.To} {
			if e.Post != post || b.Rake == nil {
				continue
			}
			if e.Stands.Given { // one that says it says it for all
				return false
			}
			unsaid = unsaid || b.unsaid(i == 1)
		}
	}
	return unsaid
}

// alike reports a newel that is as wide all the way up: wherever its foot is, its face is the same.
func alike(n *job.Newel) bool {
	return n != nil && n.Sized && n.Profile.Narrowest(0, n.Profile.Long()) == n.Profile.Widest(0, n.Profile.Long())
}

// open reports that the node's post stands across a riser, and nobody says on what: no height at it is known.
func (n *node) open() bool {
	var flights []*builder
	for _, c := range n.ends {
		if c.run.Rake != nil {
			flights = append(flights, c.run)
		}
	}
	return unsaidAt(flights, n.post)
}

// acrossed says what a post that stands across a riser asks of the stair or of its own foot: on the tread below, what is above is cut out round it; on the one above, its foot is notched over
// the riser, and one on a plate may stand out no farther than the nosing.
func (n *node) acrossed(p *Post) {
	for _, c := range n.ends {
		if !c.raked() || !c.job.Stands.Given {
			continue
		}
		f, _ := c.run.footing(c.far)
		for _, t := range c.run.crossed(c.far) {
			riser := "the face of riser " + strconv.Itoa(t.N)
			switch out := t.At - (f.middle - n.foot/2); {
			case f.tread < t.N:
				behind := f.middle + n.foot/2 - t.At
				p.fit("it stands across " + riser + ", on " + f.on(c.run.Rake) + ": what is above that, nosing and riser too, is cut out round it, " + n.tape(behind.Round(n.div.Length, length.Nearest)) + " behind that face")
			case n.post.Foot.Given && n.post.Foot.Text != "plate":
				p.fit("it stands across " + riser + ", on " + f.on(c.run.Rake) + ": its foot is notched over the riser, " + n.tape(out.Round(n.div.Length, length.Nearest)) + " of it stands before that face")
			case !c.run.r.Stair.Nosing.Given:
				n.needIn(c.run.r.File, "how far the nosings stand out: "+n.Name+" stands across "+riser, "nosing: ", "whether its foot has wood under it", c.run.r.Stair.Nosing.At)
			default:
				n.check("across-"+c.run.Name, "newel across "+riser+", on "+f.on(c.run.Rake)+": how far its foot stands out before that face, against the nosing", out, finding.AtMost, c.run.Rake.Nosing, c.job.Stands.At, c.run.r.Stair.Nosing.At, "",
					"set it back; or on the tread below (stands: "+strconv.Itoa(t.N-1)+"), with what is above cut out round it; or bolt it to the string")
			}
		}
	}
}

// fit adds to the words on how a newel is cut.
func (p *Post) fit(words string) {
	if p.Cut != nil {
		p.Cut.Fit += "; " + words
	}
}
