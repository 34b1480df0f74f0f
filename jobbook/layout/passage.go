package layout

import (
	"slices"
	"strconv"

	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// What lies on the two sides of a passage: an end and a baluster, two balusters, or both ends where there are none.
const (
	atDatum = iota
	atFar
	amidst
	endToEnd
)

// passage is a place of a run that a ball may pass, by the rounded marks.
type passage struct {
	place    int
	from, to length.Length // where the two sides stand along the run: axes of balusters, faces of ends; at the far end the face comes first
	part     int           // of a stepped floor: which stretch of it the balusters stand on, counted from 0
	step     int           // of the floor, counted from 1, that lies between the two; 0 mostly. Of several, the nearest to the higher floor
	after    int           // the baluster before that step; 0 elsewhere
}

// apart is how far apart the two sides are, along the line of the balusters.
func (p passage) apart() length.Length { return abs(p.to - p.from) }

// passages are the places of n balusters that differ: the two ends, and between neighbours the widest on each stretch of the floor, and
// every one with a step in it; on a rake whose holes are drilled, so that they are not all as far apart, every one. With no balusters there is one, from end to end.
func (b *builder) passages(n int) (ends, between []passage) {
	if n == 0 {
		return []passage{{place: endToEnd, to: b.clearLen, step: b.stepBetween(0, b.clearLen)}}, nil
	}
	widest := map[int]int{} // stretch of the floor: where its passage is in the list
	previous, first := length.Length(0), length.Length(0)
	for k := 1; k <= n; k++ {
		m := b.round(k, n)
		step := b.stepBetween(previous, m)
		switch {
		case k == 1:
			first = m
		case step > 0:
			between = append(between, passage{place: amidst, from: previous, to: m, step: step, after: k - 1})
		default:
			if _, drilled := b.inHole(k, n); drilled && b.Rake != nil { // how far two stand apart decides which of their turnings are side by side: the widest need not be the worst
				p := passage{place: amidst, to: m - previous}
				if !slices.Contains(between, p) {
					between = append(between, p)
				}
				break
			}
			part := b.part(m)
			i, ok := widest[part]
			if !ok {
				i = len(between)
				widest[part] = i
				between = append(between, passage{place: amidst, part: part})
			}
			between[i].to = max(between[i].to, m-previous) // where they stand does not matter: both on one stretch
		}
		previous = m
	}
	return b.endPassages(first, previous), between
}

// endPassages are the places beside the two ends, from the first mark and the last.
func (b *builder) endPassages(first, last length.Length) []passage {
	return []passage{
		{place: atDatum, to: first, part: b.part(first), step: b.stepBetween(0, first)},
		{place: atFar, from: b.clearLen, to: last, part: b.part(last), step: b.stepBetween(last, b.clearLen)},
	}
}

// where a passage is, in words.
func (b *builder) where(p passage) string {
	switch {
	case p.place == endToEnd:
		return "from end to end"
	case p.place == atDatum:
		return "at " + b.endName(b.From, "from")
	case p.place == atFar:
		return "at " + b.endName(b.To, "to")
	case p.step > 0:
		return "beside the step, between balusters " + strconv.Itoa(p.after) + " and " + strconv.Itoa(p.after+1)
	}
	return "between balusters"
}

// slack is what may go wrong at one baluster: how far off its centre may be, and how far under its width it may be.
func (b *builder) slack() (centre, width length.Length) {
	t := b.tolerance()
	return t.Mark.Length + t.Drill.Length, t.Width.Length + t.Season.Length
}

// tolerances are what is added between two balusters, and between one and an end: every error the bad way.
func (b *builder) tolerances() (between, end length.Length) {
	one, width := b.slack()
	return 2*one + width, one + (width+1)/2
}

type ballKey struct {
	passage
	worst bool
}

// ball is the largest sphere that passes at a place, by the rounded marks or at the worst, over every shape the balusters have and
// everything lean may do to an end. Each is searched once: the counts side by side ask for the same ones again.
func (b *builder) ball(p passage, worst bool) (found profile.Found) {
	p.after = 0
	key := ballKey{p, worst}
	if f, ok := b.balls[key]; ok {
		return f
	}
	wider := func(f profile.Found) {
		if f.Opening >= found.Opening {
			found = f
		}
	}
	switch {
	case b.Rake != nil:
		found = b.rakeBall(p, worst)
	case p.place == endToEnd:
		for _, from := range b.sides[atDatum] {
			for _, to := range b.sides[atFar] {
				wider(b.through(b.endShape(from, p, 0, b.shapes[0]), b.endShape(to, p, b.clearLen, b.shapes[0]), p, worst))
			}
		}
	case p.place == amidst && p.step > 0:
		wider(b.through(b.standing(b.Floor.at(p.from)), b.standing(b.Floor.at(p.to)), p, worst))
	case p.place == amidst:
		for _, s := range b.shapes {
			if s.part == p.part {
				wider(b.through(s, s, p, worst))
			}
		}
	default:
		shapes := b.shapes
		if b.Floor.How == "lengths" && !b.fallback { // and the one that stands there, whose turning may line up with the post's
			shapes = []shape{}
			for _, s := range b.shapes {
				if s.part == p.part {
					shapes = append(shapes, s)
				}
			}
			shapes = append(shapes, b.standing(b.Floor.at(p.to)))
		}
		for _, s := range shapes {
			for _, face := range b.sides[p.place] {
				wider(b.through(b.endShape(face, p, p.from, s), s, p, worst))
			}
		}
	}
	b.balls[key] = found
	return found
}

// allowed is what a passage is widened by at the worst.
func (b *builder) allowed(p passage, worst bool) length.Length {
	between, end := b.tolerances()
	switch {
	case !worst || p.place == endToEnd:
		return 0
	case p.place == amidst:
		return between
	}
	return end
}

// endShape is an end's face beside a baluster: what lies under the baluster's foot is under the ball too, unless the floor steps between.
func (b *builder) endShape(face profile.Face, p passage, at length.Length, beside shape) shape {
	s := shape{face: face, low: beside.low, high: beside.high}
	if p.step > 0 {
		s.low = b.Levels.ShoeTop + b.Floor.under(at, at == b.clearLen)
	}
	return s
}

// through is the largest sphere that passes between two sides that stand as they are, over the heights where it can be: from the lower of
// the two floors up. On a curve they are as far apart as the chord.
func (b *builder) through(left, right shape, p passage, worst bool) profile.Found {
	low, high := min(left.low, right.low), min(left.high, right.high)
	if b.Curve != nil && p.place != endToEnd { // along the curve is further than across, so that from end to end it is on the safe side
		return b.throughCurve(left, right, low, high, p, worst)
	}
	apart := p.apart() + b.allowed(p, worst)
	l, r := left.face, right.face
	if p.step > 0 {
		l, r = b.stepped(left, right, p, worst, apart, 1, 0)
	}
	return opening(l, r, apart, low, high)
}
