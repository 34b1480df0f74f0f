package takeoff

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// way is how a piece goes in a slot.
type way struct {
	fits   bool
	trim   bool
	turned bool          // a rail that goes in the other way round
	to     length.Length // to this
	off    length.Length // comes off
	spare  length.Length // of that, what is clean and square
	deepen bool          // its holes are drilled deeper
	ask    string        // a reading that it waits for
	why    string        // why it does not go, in words
}

// skewFits: an end that is cut off square in plan goes only where it was cut for, while the guard turns there as it did.
func (t *taking) skewFits(m *job.Made, s *slot) way {
	for i, turn := range []job.Turn{m.Skew.From, m.Skew.To} {
		side := []string{"datum end", "other end"}[i]
		switch {
		case !turn.Given && !s.skewed[i]:
			continue
		case !s.skewed[i]:
			return way{why: "its " + side + " is cut off square in plan, and a square one is wanted"}
		case !turn.Given && own(m, s):
			return way{ask: "the turn that its " + side + " was cut for, off square in plan"}
		case !turn.Given || !own(m, s):
			return way{why: "the end there is cut off square in plan"}
		}
		post := []job.End{s.run.Job.From, s.run.Job.To}[i].Post
		if post == nil || len(post.Then) > 0 || !post.Turn.Given || post.Turn.Milli != turn.Milli {
			return way{why: "its " + side + " is cut for another turn"}
		}
	}
	return way{fits: true}
}

// sameBevel allows for how a saw is set, to the half degree (common practice, as on the set-up cards).
func sameBevel(a, b int64) bool {
	const half = 500
	return max(a-b, b-a) <= half && (a == 0) == (b == 0)
}

func differs(a, b, by length.Length) bool { return max(a-b, b-a) > by }

// anotherWidth reports a width that the part does not have.
func (s *slot) anotherWidth(wide, within length.Length) bool {
	if kind(s.cut) == "baluster" {
		return wide < s.least-within || wide > s.most+within
	}
	return differs(wide, s.wide.Length, within)
}

// fit says how a piece goes in a slot, or why it does not: section, bend, finish, bores, holes, bevels and length have to go, all of them.
func (t *taking) fit(m *job.Made, s *slot) way {
	within := t.job.Shop.Within.Length
	no := func(why string) way { return way{why: why} }
	ask := func(what string) way { return way{ask: what} }
	switch {
	case s.oneStick && (m.Run == nil || s.run == nil || m.Run != s.run.Job):
		return no("all of its kind there come from one stick")
	case m.Wide.Given && s.wide.Given && s.anotherWidth(m.Wide.Length, within):
		return no("it is " + t.tape(m.Wide.Length) + " wide, and " + t.tape(s.wide.Length) + " is wanted")
	case m.High.Given && s.high.Given && differs(m.High.Length, s.high.Length, within):
		return no("it is " + t.tape(m.High.Length) + " high, and " + t.tape(s.high.Length) + " is wanted")
	case m.Finish.Given && m.Finish.Text != s.finish:
		want := s.finish
		if want == "" {
			want = "nothing"
		}
		return no("it is coated with " + m.Finish.Text + ", and " + want + " is wanted")
	case s.bent && !m.Radius.Given:
		return ask("the radius that it is bent to")
	case !s.bent && m.Radius.Given:
		return no("it is bent, and a straight one is wanted")
	case s.bent && (!s.radius.Given || differs(m.Radius.Length, s.radius.Length, within)):
		return no("it is bent to another radius")
	case kind(s.cut) == "rosette": // bought as it is, and cut to no length
		return way{fits: true}
	case !m.Long.Given:
		return ask("its length as it is now")
	case s.sloped:
		return no("the angle there is still to be measured")
	case s.cut.ToFit || s.cut.Length <= 0:
		return no("the length there is still to be measured")
	}
	made := [2]int64{m.Lower.Thousandths, m.Upper.Thousandths}
	if w := t.skewFits(m, s); !w.fits {
		return w
	}
	flip := s.cut.What == "handrail" && s.skewed == [2]bool{} && made == [2]int64{} && s.bevels == [2]int64{} && !s.bent && len(m.Holes) == 0
	w := t.bores(m, s, false)
	turned := false
	if flip && !w.fits && w.ask == "" { // a square rail goes in either way round
		if x := t.bores(m, s, true); x.fits {
			w, turned = x, true
		}
	}
	if !w.fits {
		return w
	}
	w = t.holesFit(m, s)
	if !w.fits {
		return w
	}
	switch kind(s.cut) {
	case "baluster":
		return t.balusterFits(m, s, made)
	case "newel":
		return t.newelFits(m, s, made)
	}
	deepen := w.deepen
	w = t.stickFits(m, s, made, turned)
	w.turned, w.deepen = turned, deepen
	return w
}

// bores compares the bores of a rail's ends, and of a newel, with what comes there.
func (t *taking) bores(m *job.Made, s *slot, turned bool) way {
	near := t.job.Tolerance.Mark.Length + t.job.Tolerance.Drill.Length
	for _, b := range m.Bolts {
		if s.post == nil {
			return way{why: "it is bored for bolts"}
		}
		i := slices.IndexFunc(s.post.Arrivals, func(a layout.Arrival) bool { return a.Run == b.Of.Text })
		switch {
		case i < 0 || s.post.Arrivals[i].Over:
			return way{why: "it is bored for the rail of " + b.Of.Text + ", which does not come there"}
		case !b.Up.Given:
			return way{ask: "how high it is bored for the rail of " + b.Of.Text}
		case !s.post.Arrivals[i].Known || s.post.Arrivals[i].Bolt == 0:
			return way{why: "the height of that bolt is still to be measured"}
		case differs(b.Up.Length, s.post.Arrivals[i].Bolt, near):
			return way{why: "it is bored " + t.tape(b.Up.Length) + " up for the rail of " + b.Of.Text + ", and its bolt comes at " + t.tape(s.post.Arrivals[i].Bolt.Round(t.job.Division.Length, length.Nearest))}
		}
	}
	ends := [2]job.Measure{m.Bored.From, m.Bored.To}
	if turned {
		ends[0], ends[1] = ends[1], ends[0]
	}
	for i, e := range ends {
		if e.At.IsZero() {
			continue
		}
		side := []string{"datum end", "other end"}[i]
		switch {
		case !s.bolts[i]:
			return way{why: "it is bored for a bolt at its " + side + ", and none comes there"}
		case !m.Bolt.Given:
			return way{ask: "which bolt it is bored for"}
		case m.Bolt.Text != s.bolt.Name:
			return way{why: "it is bored for " + m.Bolt.Text + ", and " + s.bolt.Name + " is wanted"}
		case !e.Given:
			return way{ask: "how high the bore at its " + side + " is, over its underside"}
		case !s.axisKnown:
			return way{why: "the height of the rail's section is still to be measured"}
		case differs(e.Length, s.axis[i], near):
			return way{why: "the bore at its " + side + " is " + t.tape(e.Length) + " over its underside, and has to be at " + t.tape(s.axis[i])}
		}
	}
	return way{fits: true}
}

// letIn reports a shoe whose balusters stand on the bottom of its holes.
func (s *slot) letIn() bool {
	return s.cut.What == "shoe" && s.run.Job.Baluster != nil && s.run.Job.Baluster.Bottom.Text == "let in"
}

// holesFit compares the holes for balusters: a shoe's are those that the run was laid out around, a rail's have to be where the marks are.
func (t *taking) holesFit(m *job.Made, s *slot) way {
	if len(m.Holes) == 0 {
		if s.cut.What == "shoe" && s.run != nil && s.run.Drilled != nil {
			return way{why: "the run stands in the holes of " + s.run.Drilled.Made.Mark.Text}
		}
		return way{fits: true}
	}
	if s.hole.Count == 0 {
		return way{why: "it has holes for balusters, and there are none to be there"}
	}
	if s.cut.What == "shoe" {
		if x, ok := s.run.RefusedWhy(m); ok {
			return way{why: x.Why}
		}
		if s.run.Drilled == nil && m.Run == s.run.Job {
			return way{why: "whether the openings pass at its holes is still to be measured"}
		}
		if s.run.Drilled == nil {
			return way{why: "its holes are another run's"}
		}
		if s.run.Drilled.Made != m {
			return way{why: "the run stands in the holes of " + s.run.Drilled.Made.Mark.Text}
		}
	} else {
		near := t.job.Tolerance.Mark.Length + t.job.Tolerance.Drill.Length
		if len(s.holes) == 0 || len(s.holes) < len(s.run.Marks) {
			return way{why: "where the holes in the rail have to be is still to be measured" + s.railAsks()}
		}
		if len(s.holes) != len(m.Holes) {
			return way{why: "it has " + strconv.Itoa(len(m.Holes)) + " holes, and " + strconv.Itoa(len(s.holes)) + " balusters stand there"}
		}
		for i, h := range m.Holes {
			if differs(h.Length, s.holes[i], near) {
				return way{why: "hole " + strconv.Itoa(i+1) + " is at " + t.tape(h.Length) + ", and its baluster comes at " + t.tape(s.holes[i])}
			}
		}
	}
	bit := length.Inch / 64
	if t.job.System == length.Millimetres {
		bit = length.Millimetre / 2
	}
	switch {
	case !m.Hole.Wide.Given:
		return way{ask: "how wide its holes are"}
	case !m.Hole.Deep.Given:
		return way{ask: "how deep its holes are"}
	case differs(m.Hole.Wide.Length, s.hole.Wide, bit):
		return way{why: "its holes are " + t.tape(m.Hole.Wide.Length) + " wide, and " + t.tape(s.hole.Wide) + " is wanted"}
	case s.letIn() && m.Hole.Deep.Length > s.hole.Deep+bit: // the baluster would stand lower; a pin's shoulder does not
		return way{why: "its holes are " + t.tape(m.Hole.Deep.Length) + " deep, and " + t.tape(s.hole.Deep) + " is wanted"}
	}
	return way{fits: true, deepen: m.Hole.Deep.Length < s.hole.Deep-bit}
}

// railAsks names the reading that where a rail's holes have to be waits for, where it is that of an end out of plumb.
func (s *slot) railAsks() string {
	switch l := s.run.Lean; {
	case l == nil && s.run.Job.Stair != nil && !s.run.Job.Stair.Along.Given:
		return ": the clear along the rake (clear: {rake: }), or a level on the face of an end (plumb: )"
	case l != nil && l.Out && !l.Settled:
		return ": a level on the face of an end (plumb: ), to know which one leans"
	}
	return ""
}

// window is what a piece may be long and be used as it is: no more off than the shop allows, and what is fitted to the marks anyway as much longer.
func (t *taking) window(s *slot) (least, most length.Length) {
	within := t.job.Shop.Within.Length
	least, most = min(s.cut.Exact, s.cut.Length)-within, max(s.cut.Exact, s.cut.Length)
	if s.cut.Exact <= 0 {
		least = s.cut.Length - within
	}
	if k := kind(s.cut); k == "handrail" || k == "shoe" || k == "newel" {
		most += within
	}
	return least, most
}

func (t *taking) short(m *job.Made, s *slot) way {
	return way{why: t.tape(s.cut.Length-m.Long.Length) + " too short"}
}

func (t *taking) bevelWords(a, b [2]int64) string {
	words := func(x [2]int64) string {
		one := func(v int64) string {
			if v == 0 {
				return "square"
			}
			return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(float64(v)/1000, 'f', 1, 64), "0"), ".") + "°"
		}
		if x[0] == x[1] {
			return one(x[0])
		}
		return one(x[0]) + " below and " + one(x[1]) + " above"
	}
	return "its ends are cut " + words(a) + ", and " + words(b) + " is wanted"
}

// stickFits is for what is cut from sticks: trimmed at an end whose bore goes with what comes off, or has none, and at the angle that it has.
func (t *taking) stickFits(m *job.Made, s *slot, made [2]int64, turned bool) way {
	least, most := t.window(s)
	long := m.Long.Length
	bevels := sameBevel(made[0], s.bevels[0]) && sameBevel(made[1], s.bevels[1])
	switch {
	case long < least:
		return t.short(m, s)
	case !bevels:
		return way{why: t.bevelWords(made, s.bevels)}
	case long <= most:
		return way{fits: true}
	case s.bent:
		return way{fits: true, trim: true, to: s.cut.Length, off: long - s.cut.Length}
	}
	off := long - s.cut.Length
	// An end that is bored keeps its bore only if nothing comes off it.
	ends := [2]job.Measure{m.Bored.From, m.Bored.To}
	if turned {
		ends[0], ends[1] = ends[1], ends[0]
	}
	free := ends[0].At.IsZero() || ends[1].At.IsZero()
	if len(m.Holes) > 0 {
		free = ends[1].At.IsZero() // counted from the datum, so that the other end is cut
	}
	if !free {
		if bore, ok := clean(m.Bolted); !ok || off < bore {
			return way{why: "both its ends are bored, and it is " + t.tape(off) + " too long"}
		}
	}
	spare := off - t.job.Shop.Kerf.Length - runOut(s.high.Length, max(s.bevels[0], s.bevels[1]))
	if len(m.Holes) > 0 || !free || m.Finish.Given || m.Skew.From.Given || m.Skew.To.Given || s.high.Length == 0 && s.bevels != [2]int64{} {
		spare = 0
	}
	return way{fits: true, trim: true, to: s.cut.Length, off: off, spare: max(spare, 0)}
}

// balusterFits: cut at the end that its part says, and there at any angle; its other end stays as it is.
func (t *taking) balusterFits(m *job.Made, s *slot, made [2]int64) way {
	least, most := t.window(s)
	long := m.Long.Length
	same := [2]bool{sameBevel(made[0], s.bevels[0]), sameBevel(made[1], s.bevels[1])}
	cutEnd := 1
	if s.trim == "bottom" {
		cutEnd = 0
	}
	switch {
	case long < least:
		return t.short(m, s)
	case !same[1-cutEnd]:
		return way{why: t.bevelWords(made, s.bevels)}
	case same[cutEnd] && long <= most:
		return way{fits: true}
	}
	if s.turned && s.bought-s.cut.Length > s.block {
		return way{why: "the cut would run into its turning"}
	}
	if !same[cutEnd] { // the new cut lies beyond the old one all over
		out := runOut(s.wide.Length, max(made[cutEnd], s.bevels[cutEnd])) - runOut(s.wide.Length, min(made[cutEnd], s.bevels[cutEnd]))
		if long < s.cut.Length+(out+1)/2 {
			return way{why: t.bevelWords(made, s.bevels) + ", and it is too short to be cut again"}
		}
	}
	return way{fits: true, trim: true, to: s.cut.Length, off: max(long-s.cut.Length, 0)}
}

// newelFits: what is taken off the foot of a turned one says where its blocks stand; one under a rail that goes over it is fitted from above.
func (t *taking) newelFits(m *job.Made, s *slot, made [2]int64) way {
	least, most := t.window(s)
	long := m.Long.Length
	switch {
	case long < least:
		return t.short(m, s)
	case s.turned && s.off > 0 && !m.Off.Given:
		return way{ask: "how much was taken off its foot"}
	case s.turned && differs(m.Off.Length, s.off, t.job.Shop.Within.Length):
		return way{why: t.tape(m.Off.Length) + " was taken off its foot, and " + t.tape(s.off) + " is wanted"}
	case !sameBevel(made[0], s.bevels[0]):
		return way{why: t.bevelWords(made, s.bevels)}
	case long <= most && sameBevel(made[1], s.bevels[1]):
		return way{fits: true}
	case s.open:
		if need := s.cut.Length + runOut(s.wide.Length, max(made[1], s.bevels[1])); !sameBevel(made[1], s.bevels[1]) && long < need {
			return way{why: t.bevelWords(made, s.bevels) + ", and it is too short to be cut again"}
		}
		return way{fits: true, trim: true, to: s.cut.Length, off: long - s.cut.Length}
	case len(m.Bolts) == 0 && !s.turned:
		return way{fits: true, trim: true, to: s.cut.Length, off: long - s.cut.Length}
	}
	return way{why: t.tape(long-s.cut.Length) + " too long, and what comes off its foot would move its blocks or its bores"}
}
