package stock

import "slices"

// worths are whole-number values of pieces and of limited sticks that no way of cutting a stick exceeds: every stick's pieces together are worth no
// more than scale times its cost, and what a limited one of its sort adds.
type worths struct {
	v     []int64 // of each item
	extra []int64 // of each sort of stick, 0 for as many as wanted
	scale int64
}

// tightened makes worths of values v, given what each sort of stick can hold of them at most: where that is too much, all pieces are worth less, rounded down; for a
// limited stick the excess is taken off the whole.
func (s *instance) tightened(v, values []int64, scale int64) worths {
	w := worths{v: slices.Clone(v), extra: make([]int64, len(s.size)), scale: scale}
	over, under := int64(1), int64(1) // the worst of held and allowed
	for i, value := range values {
		if allowed := s.cost[i] * scale; s.limit[i] == unlimited && value > allowed && product(value, under).compare(product(over, allowed)) > 0 {
			over, under = value, allowed
		}
	}
	if over > under {
		for i := range w.v {
			w.v[i] = product(w.v[i], under).over(over)
		}
	}
	for i, value := range values {
		if s.limit[i] == unlimited {
			continue
		}
		held := product(value, under).overUp(over) // no filling is worth more than this
		w.extra[i] = max(0, held-s.cost[i]*scale)
	}
	return w
}

// mostWorth bounds what all pieces are worth together, so that no sum overflows.
const mostWorth = 1 << 60

// atLeast is the least that pieces and limited sticks still there can cost, in scale times the cost.
func (w worths) atLeast(r, limit []int) int64 {
	const lowest = -2 * mostWorth // a bound lower than that says as little
	sum := int64(0)
	for i, n := range r {
		sum += int64(n) * w.v[i]
	}
	for i, extra := range w.extra {
		if extra == 0 || limit[i] == 0 {
			continue
		}
		if extra > -lowest/int64(limit[i]) {
			return lowest
		}
		sum = max(sum-extra*int64(limit[i]), lowest)
	}
	return sum
}

// mostCovers is how many numbers of sticks are tried for the least cost; with a handful of sorts it takes some tens.
const mostCovers = 1000

// leastCost is what sticks cost at least that are as long together as all pieces: no plan costs less. Where no sticks are cheaper than the best plan's it is the cost of that, and where it takes
// too long to find it is 0. The relaxation may use half a stick and this only whole ones, so that it often tells that the first plan is the best before anything else is looked at.
func (s *solver) leastCost() int64 {
	need := int64(0)
	for i, w := range s.w {
		if w > (mostWorth-need)/int64(s.d[i]) { // the sum overflows
			return 0
		}
		need += w * int64(s.d[i])
	}
	c := cover{best: s.lowest, over: -1, left: s.covers} // nothing is less over than that, so only what is cheaper is better
	for k, size := range s.size {
		count := s.pieces // a plan has no more sticks
		if s.limit[k] != unlimited {
			count = min(count, s.limit[k])
		}
		switch {
		case size < s.w[len(s.w)-1]: // it holds no piece
		case s.cost[k] == 0:
			need = max(0, need-size*min(int64(count), (need+size-1)/size))
		default:
			c.packs = append(c.packs, Pack{size, s.cost[k], count})
		}
	}
	c.search(need)
	if c.left < 0 {
		return 0
	}
	return c.best
}

// ceil is the least whole cost that a scaled one can mean.
func ceil(scaled, scale int64) int64 {
	if scaled <= 0 {
		return 0
	}
	return (scaled + scale - 1) / scale
}
