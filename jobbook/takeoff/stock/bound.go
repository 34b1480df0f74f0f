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

// ceil is the least whole cost that a scaled one can mean.
func ceil(scaled, scale int64) int64 {
	if scaled <= 0 {
		return 0
	}
	return (scaled + scale - 1) / scale
}
