package takeoff

import (
	"math"
	"slices"

	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// slot is one piece that the job needs, and what it has to be like.
type slot struct {
	piece, n   int // in Takeoff.Pieces, and which of them, from 1
	cut        layout.Cut
	label      Label
	run        *layout.Run // nil of a newel
	post       *layout.Post
	wide, high job.Measure   // of its section
	least      length.Length // how narrow and how wide balusters of the part are, as they came: the layout reckons with the narrow ones, the plows with the wide ones
	most       length.Length
	bevels     [2]int64    // thousandths of a degree off square, at the lower end and the other
	sloped     bool        // its angle is not worked out yet
	finish     string      // of its group; empty for none
	radius     job.Measure // of one that is bent
	bent       bool
	holes      []length.Length // from its end at the datum
	hole       layout.Hole     // what is drilled there; Count is 0 where nothing is
	bolts      [2]bool         // its ends that are bored for one
	axis       [2]length.Length
	axisKnown  bool
	bolt       *job.Bolt
	trim       string // end that a baluster is cut at: top or bottom
	block      length.Length
	bought     length.Length
	turned     bool
	off        length.Length // taken off a newel's foot
	skewed     [2]bool       // ends that are cut off square in plan
	open       bool          // cut over the post, fitted from above
	oneStick   bool
}

func (t *taking) slots(l layout.Layout, all []layout.Cut, marks []Label) (list []*slot) {
	for _, m := range marks {
		c := all[m.Piece]
		s := &slot{piece: m.Piece, n: m.N, cut: c, label: m, run: run(l, c.Run), finish: t.finishOf(c)}
		if c.What == "newel" {
			if i := slices.IndexFunc(l.Posts, func(p layout.Post) bool { return p.Name == c.Which }); i >= 0 {
				s.post = &l.Posts[i]
			}
		}
		t.section(s)
		angle := int64(0)
		if f := bevel(l, c); f != nil && f.Value.Known() {
			v := f.Value.Float64()
			angle = int64(math.Round(v * 1000))
		} else {
			s.sloped = c.Beveled[0] || c.Beveled[1]
		}
		for i := range c.Beveled {
			if c.Beveled[i] {
				s.bevels[i] = angle
			}
		}
		if c.What == "newel" && c.Long > 0 {
			s.bevels[1] = angle
		}
		if bent(l, c) {
			s.bent, s.radius = true, s.run.Job.Radius
		}
		t.skewed(l, s)
		t.drilled(s)
		t.bored(s)
		list = append(list, s)
	}
	return list
}

// finishOf is the finish of the group that a piece belongs to; fillets go with the groove they fill.
func (t *taking) finishOf(c layout.Cut) string {
	group := finish.GroupOf(c.What)
	for _, u := range t.job.Finishes {
		if u.Group == group && u.Part != nil {
			return u.Part.Name
		}
	}
	return ""
}

// section finds the sizes of the part, and how a baluster is trimmed.
func (t *taking) section(s *slot) {
	if s.post != nil {
		if p := t.job.Post(s.post.Name); p != nil {
			s.off, s.open = p.Off.Length, s.cut.Rounding == length.Up
			if p.Part != nil {
				s.wide, s.turned = p.Part.Wide, p.Part.Plain != "square"
			}
		}
		return
	}
	if s.run == nil {
		return
	}
	r := s.run.Job
	s.oneStick = slices.ContainsFunc(r.OneStick, func(w job.Text) bool { return w.Text == kind(s.cut) })
	switch {
	case s.cut.What == "wall rail" && r.Stair != nil && r.Stair.WallRail.Part != nil:
		s.wide, s.high = r.Stair.WallRail.Part.Wide, r.Stair.WallRail.Part.High
	case s.cut.What == "handrail" && r.Handrail != nil:
		s.wide, s.high = r.Handrail.Wide, r.Handrail.High
	case s.cut.What == "shoe" && r.Shoe != nil:
		s.wide, s.high = r.Shoe.Wide, r.Shoe.High
	case kind(s.cut) == "fillet" && r.FilletOf(s.cut.What) != nil:
		f := r.FilletOf(s.cut.What)
		s.wide, s.high = f.Wide, f.Thick
	case s.cut.What == "baluster" && r.Baluster != nil:
		p := r.Baluster
		s.wide, s.trim, s.bought, s.turned = p.Wide, p.Trim.Or(job.Text{Text: "top"}).Text, p.Long.Length, p.Turned()
		s.least, s.most = p.Wide.Length-p.Under.Length, max(p.Wide.Length, p.Widest.Length)
		if p.Sized {
			bottom, top := p.Profile.EndBlocks()
			s.block = top
			if s.trim == "bottom" {
				s.block = bottom
			}
		}
	}
}

// skewed finds the ends of a rail that are cut off square in plan, where the guard turns by other than a square corner.
func (t *taking) skewed(l layout.Layout, s *slot) {
	if s.run == nil || s.cut.What != "handrail" {
		return
	}
	cuts := s.run.RailCuts()
	at := slices.IndexFunc(cuts, func(c layout.Cut) bool { return c.Which == s.cut.Which })
	for _, p := range l.Posts {
		for _, a := range p.Arrivals {
			if a.Run != s.run.Name || a.Over || math.Abs(a.Skew) < 0.25 { // a quarter of a degree: what a saw that is set to the half can be off
				continue
			}
			s.skewed[0] = s.skewed[0] || a.End == "from" && at <= 0
			s.skewed[1] = s.skewed[1] || a.End == "to" && at == len(cuts)-1
		}
	}
}

// drilled are the holes for balusters that a shoe or a rail gets.
func (t *taking) drilled(s *slot) {
	if s.run == nil || s.cut.What != "shoe" && s.cut.What != "handrail" {
		return
	}
	where := "in the shoe"
	if s.cut.What == "handrail" {
		where = "in the handrail"
	}
	i := slices.IndexFunc(s.run.Holes, func(h layout.Hole) bool { return h.Where == where })
	if i < 0 {
		return
	}
	s.hole = s.run.Holes[i]
	for _, m := range s.run.Marks {
		if s.cut.What == "shoe" {
			s.holes = append(s.holes, m.Shoe)
		} else if at, ok := m.RailHole(); ok {
			s.holes = append(s.holes, at)
		}
	}
}

// bored are the ends of a rail's piece that are bored for a bolt, and how high the bore is: on the axis, moved as the run says.
func (t *taking) bored(s *slot) {
	if s.run == nil || s.cut.What != "handrail" || s.run.Job.Bolt == nil {
		return
	}
	r := s.run.Job
	s.bolt = r.Bolt
	cuts := s.run.RailCuts()
	at := slices.IndexFunc(cuts, func(c layout.Cut) bool { return c.Which == s.cut.Which })
	s.axisKnown = s.high.Given
	for i, e := range []job.End{r.From, r.To} {
		joint := i == 0 && at > 0 || i == 1 && at < len(cuts)-1
		s.bolts[i] = joint || e.Post != nil && !e.Over.Yes
		s.axis[i] = s.high.Length / 2
		if !joint {
			s.axis[i] += e.BoltUp.Length - e.BoltLow.Length
		}
	}
}

// clean is how much of a rail's end its bores take up; false where the bolt's part does not say.
func clean(b *job.Bolt) (length.Length, bool) {
	if b == nil || !b.Long.Given || !b.InPost.Given || !b.Reach.Given || !b.Access.Given {
		return 0, false
	}
	return max(b.Long.Length-b.InPost.Length, b.Reach.Length+b.Access.Length/2), true
}

// runOut is how much farther one point of a cut at an angle lies than the other, over a section so high; rounded up to the next sixty-fourth, as it is only taken off.
func runOut(high length.Length, angle int64) length.Length {
	if angle == 0 {
		return 0
	}
	f := math.Round(math.Tan(float64(angle)/1000*math.Pi/180)*1e9) / 1e9 // the same on any machine
	return length.Length(math.Ceil(float64(high)*f)).Round(length.Inch/64, length.Up)
}

// is reports that a slot is the very place that a piece was made for.
func (s *slot) is(m *job.Made) bool {
	return s.label.Mark == m.Mark.Text && !m.Of.Given || m.Of.Given && own(m, s) && (s.label.Number == m.Mark.Number || s.label.Of == 1)
}
