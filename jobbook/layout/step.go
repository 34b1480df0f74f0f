package layout

import (
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// isStep reports that reading i is the second one at a step: at the place of the one before it, another height, and said to be a step.
func isStep(read []job.Level, i int) bool {
	return i > 0 && read[i].Step.Yes && read[i].At.Length == read[i-1].At.Length && read[i].Down.Length != read[i-1].Down.Length
}

// stepsOf are the steps in the floor, from readings in the order of their places.
func stepsOf(read []job.Level) []FloorStep {
	var steps []FloorStep
	for i := range read {
		if isStep(read, i) {
			steps = append(steps, FloorStep{At: read[i].At.Length, Rise: read[i-1].Down.Length - read[i].Down.Length, read: read[i].At})
		}
	}
	return steps
}

// sureOfSteps holds a step to two readings at one place that differ; two that differ and are not said to be a step are a slip.
func (b *builder) sureOfSteps(read []job.Level) {
	for i, l := range read {
		twice := i > 0 && l.At.Length == read[i-1].At.Length
		switch {
		case l.Step.Yes && !isStep(read, i):
			b.Findings = append(b.Findings, finding.Finding{
				ID: "check/" + b.ID + "/level-step", Group: b.ID, Verdict: finding.Fail, At: l.Step.At, Status: working.Derived, Rules: "sizes that must go together",
				Title: "a step in the floor at " + b.tape(l.At.Length) + " without a reading before it at the same place and another height",
				Cure:  "write both readings at that place, first the one on the datum's side of the step, then the one beyond it with step: yes",
			})
		case twice && l.Down.Length != read[i-1].Down.Length && (!l.Step.Yes || isStep(read, i-1)):
			b.check("level-twice", "two level readings at one place apart", abs(l.Down.Length-read[i-1].Down.Length), finding.AtMost, 0, l.Down.At, read[i-1].Down.At, "", "read that place again and keep one; or, where the floor steps there, say step: yes with the second")
		}
	}
	const going = 10 * length.Inch // the least tread of a stair, IRC R311.7.5.2
	steps := stepsOf(read)
	for i := 1; i < len(steps); i++ {
		if off := steps[i].At - steps[i-1].At; off > 0 && off < going {
			b.check("level-stair", "two steps in the floor apart", off, finding.AtLeast, going, steps[i].read.At, steps[i-1].read.At, "", "steps so near to each other are a stair: write it as a flight")
			return
		}
	}
}

// stepWords says what the floor does, and what takes it up.
func (b *builder) stepWords() string {
	words := ""
	for _, s := range b.Floor.Steps {
		way, rise := "up", s.Rise
		if rise < 0 {
			way, rise = "down", -rise
		}
		words = joinWords(words, way+" "+b.tape(rise)+" at "+b.tape(s.At)+" from the datum end")
	}
	words = "The floor steps " + words
	if b.Floor.Out > 0 {
		words += ", and is out of level by " + b.tape(b.Floor.Out) + " besides"
	}
	if b.r.NoShoe {
		return words + ": each baluster gets its own length, on the floor where it stands."
	}
	words += ": the shoe is cut there, each piece follows its own floor, and each baluster gets its own length."
	if b.r.FloorOut.Text == "scribe" {
		words += " A shoe is not scribed over a step."
	}
	return words
}

// stance is a height of the floor that a baluster may stand on.
type stance struct {
	part  int // stretch of the floor between steps, counted from 0 at the datum end
	floor length.Length
}

// stances are the lowest and the highest height on each stretch of the floor, where the longest and the shortest baluster there stand.
func (f Floor) stances() []stance {
	var list []stance
	low, high, part := length.Length(0), length.Length(0), 0
	keep := func() {
		list = append(list, stance{part, low})
		if high != low {
			list = append(list, stance{part, high})
		}
	}
	for i, p := range f.Points {
		beyond := part < len(f.Steps) && i > 0 && p.At == f.Steps[part].At && f.Points[i-1].At == p.At
		switch {
		case beyond:
			keep()
			part++
			low, high = p.Height, p.Height
		case i == 0:
			low, high = p.Height, p.Height
		default:
			low, high = min(low, p.Height), max(high, p.Height)
		}
	}
	keep()
	return list
}

// under is the floor under an end: at the far one what lies beyond its face, where the floor may step just there.
func (f Floor) under(x length.Length, far bool) length.Length {
	if far {
		return f.at(x + length.Nanometre)
	}
	return f.at(x)
}

// part is the stretch of the floor that a place is on, counted from 0; one while heights are not known. At a step it is the one before it.
func (b *builder) part(x length.Length) int {
	n := 0
	for _, s := range b.Floor.Steps {
		if s.At < x && !b.fallback {
			n++
		}
	}
	return n
}

// stepBetween is the step between two places, counted from 1, and 0 where there is none; of several the nearest to the higher floor.
func (b *builder) stepBetween(from, to length.Length) int {
	if b.fallback {
		return 0
	}
	first, last := 0, 0
	for i, s := range b.Floor.Steps {
		if s.At > from && s.At < to {
			last = i + 1
			if first == 0 {
				first = last
			}
		}
	}
	if b.Floor.at(to) > b.Floor.at(from) {
		return last
	}
	return first
}

// stepsInside are the steps that lie between the two faces.
func (b *builder) stepsInside() []FloorStep {
	var list []FloorStep
	for _, s := range b.Floor.Steps {
		if s.At > 0 && s.At < b.clearLen {
			list = append(list, s)
		}
	}
	return list
}

// onStep finds, of n balusters, one whose foot would stand half over a step; 0 where none does.
func (b *builder) onStep(n int) (int, FloorStep) {
	for _, s := range b.stepsInside() {
		for k := 1; k <= n; k++ {
			if abs(b.round(k, n)-s.At) < (b.foot+1)/2 {
				return k, s
			}
		}
	}
	return 0, FloorStep{}
}

// checkSteps says how far the nearest foot is from each step.
func (b *builder) checkSteps() {
	for i, s := range b.stepsInside() {
		near, clear := 0, length.Length(0)
		for _, m := range b.Marks {
			if off := abs(m.At-s.At) - b.foot/2; near == 0 || off < clear {
				near, clear = m.K, off
			}
		}
		if near > 0 {
			b.check("on-step-"+strconv.Itoa(i+1), "foot of baluster "+strconv.Itoa(near)+" clear of the step in the floor at "+b.tape(s.At), clear, finding.AtLeast, 0, s.read.At, source.Pos{}, b.ID+"/marks", "take another count, so that no baluster stands on the step")
		}
	}
}

// stepped puts the face of a step before the side that stands on the higher floor: solid up to what that side's foot is seen at, as far
// from the lower side as it may be. slant and more are what a curve adds to that distance: a factor, and millimetres.
func (b *builder) stepped(left, right shape, p passage, worst bool, apart length.Length, slant, more float64) (l, r profile.Face) {
	low, high := min(left.low, right.low), max(left.high, right.high)
	l, r = reach(left.face, low, high), reach(right.face, low, high)
	if left.low == right.low {
		return l, r
	}
	lower, isBaluster := p.from, p.place == amidst
	if left.low > right.low {
		lower, isBaluster = p.to, p.place != endToEnd
	}
	off := abs(b.Floor.Steps[p.step-1].At - lower)
	if isBaluster && worst {
		_, end := b.tolerances()
		off += end
	}
	out := apart.Float() - float64(off.Float()*slant) - more
	if left.low > right.low {
		return over(l, out, left.low.Float()), r
	}
	return l, over(r, out, right.low.Float())
}

// shoePieces are the lengths of the shoe between the two ends and the steps.
func (b *builder) shoePieces(first, last working.Expr) {
	steps := b.stepsInside()
	place := func(i int) *working.Input {
		return b.in("x_"+strconv.Itoa(i+1), "place of the step in the floor, from the datum face", steps[i].read)
	}
	words := func(i int) string { return "the step at " + b.tape(steps[i].At) }
	from := "from " + b.endName(b.From, "from")
	for i := 0; i <= len(steps); i++ {
		id, title, to := "shoe", "length of the shoe", b.endName(b.To, "to")
		if i > 0 {
			id, from = "shoe-"+strconv.Itoa(i+1), "from "+words(i-1)
		}
		if len(steps) > 0 {
			title += ", piece " + strconv.Itoa(i+1)
		}
		var e working.Expr
		switch {
		case i < len(steps):
			e, to = place(i), words(i)
		default:
			e = b.Clear.In()
		}
		if i == 0 && first != nil {
			e = working.Difference(e, first)
		}
		if i > 0 {
			e = working.Difference(e, place(i-1))
		}
		if i == len(steps) && last != nil {
			e = working.Difference(e, last)
		}
		fig := b.work(id, title, "l_s", e)
		c := b.cut("shoe", fig, length.Up)
		c.Count, c.Which, c.Fit, c.Part, c.Title = 1, from+" to "+to, leaveLong, b.r.Shoe.Name, b.r.Shoe.Title.Text
		if wide := b.r.Shoe.Wide; b.Curve != nil && wide.Given {
			what := "shoe"
			if len(steps) > 0 {
				what += ", piece " + strconv.Itoa(i+1)
			}
			b.curveSides(what, b.in("w_s", "width of the shoe", wide), &c, fig)
		} else if b.Curve != nil {
			b.needIn(b.r.Shoe.File, "width of the shoe", "wide: ", "its length along the edges of a curve", wide.At)
		}
		if i == 0 {
			b.Shoe = &c
		} else {
			b.ShoeMore = append(b.ShoeMore, c)
		}
	}
}

// pieceMark is a mark on its own piece of the shoe: which one, and how far from where that piece begins.
func (b *builder) pieceMark(at length.Length) (piece int, from length.Length) {
	from = b.From.Proud
	steps := b.stepsInside()
	if len(steps) == 0 {
		return 0, from
	}
	piece = 1
	for _, s := range steps {
		if s.At < at {
			piece, from = piece+1, s.At
		}
	}
	return piece, from
}
