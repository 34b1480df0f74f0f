package stock

import (
	"math/big"
	"slices"
)

// worths are whole-number values of pieces and of limited sticks that no way of cutting a stick exceeds: every stick's pieces together are worth no
// more than scale times its cost, and what a limited one of its sort adds.
type worths struct {
	v     []int64 // of each item
	extra []int64 // of each sort of stick, 0 for as many as wanted
	scale int64
}

// tightened makes worths of values v, given what each sort of stick can hold of them at most: where that is too much, all pieces are worth less, rounded down; for a
// limited stick the excess is taken off the whole.
func (s *solver) tightened(v, values []int64, scale int64) worths {
	w := worths{v: slices.Clone(v), extra: make([]int64, len(s.size)), scale: scale}
	over, under := int64(1), int64(1) // the worst of held and allowed
	for i, value := range values {
		if allowed := s.cost[i] * scale; s.limit[i] == unlimited && value > allowed && product(value, under).Cmp(product(over, allowed)) > 0 {
			over, under = value, allowed
		}
	}
	if over > under {
		for i := range w.v {
			part := product(w.v[i], under)
			w.v[i] = part.Quo(part, big.NewInt(over)).Int64()
		}
	}
	for i, value := range values {
		if s.limit[i] == unlimited {
			continue
		}
		part := product(value, under) // rounded up: no filling is worth more than this
		part.Add(part, big.NewInt(over-1))
		w.extra[i] = max(0, part.Quo(part, big.NewInt(over)).Int64()-s.cost[i]*scale)
	}
	return w
}

// atLeast is the least that pieces and limited sticks still there can cost, in scale times the cost.
func (w worths) atLeast(r, limit []int) int64 {
	sum := int64(0)
	for i, n := range r {
		sum += int64(n) * w.v[i]
	}
	for i, extra := range w.extra {
		if extra != 0 {
			sum -= int64(limit[i]) * extra
		}
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

// measure is a bound by whole sticks: pieces have values, and sticks that together hold the values of all pieces cost at least so much.
type measure struct {
	v     []int64
	holds []int64 // the most of each sort of stick
	free  []int64 // the same of those of limited number that cost nothing, else 0
	least []int64 // of each sum of values, what sticks that hold it cost at least
}

// mostSum is the largest sum of values that a table is made for.
const mostSum = 400_000

// measured makes the bound for values, scaled down until their sum fits a table; nil where nothing is left of them.
func (s *solver) measured(v []int64) *measure {
	sum := big.NewInt(0)
	for i := range v {
		sum.Add(sum, product(v[i], int64(s.d[i])))
	}
	m := &measure{v: slices.Clone(v), free: make([]int64, len(s.size))}
	if sum.Cmp(big.NewInt(mostSum)) > 0 {
		for i := range m.v {
			part := product(m.v[i], mostSum)
			m.v[i] = part.Quo(part, sum).Int64()
		}
	}
	total := int64(0)
	for i := range m.v {
		total += m.v[i] * int64(s.d[i])
	}
	if total <= 0 || total > mostSum {
		return nil
	}
	k := &knapsack{instance: s.instance}
	m.holds, _ = k.solve(m.v, s.d)
	m.least = make([]int64, total+1)
	for at := int64(1); at <= total; at++ {
		best := int64(-1)
		for i, h := range m.holds {
			if s.limit[i] != unlimited && s.cost[i] == 0 || h == 0 {
				continue
			}
			if c := s.cost[i] + m.least[max(0, at-h)]; best < 0 || c < best {
				best = c
			}
		}
		if best < 0 { // only free sticks hold anything
			best = 0
		}
		m.least[at] = best
	}
	for i := range s.size {
		if s.limit[i] != unlimited && s.cost[i] == 0 {
			m.free[i] = m.holds[i]
		}
	}
	s.steps += int(total)
	return m
}

func (m *measure) atLeast(r, limit []int) int64 {
	sum := int64(0)
	for i, n := range r {
		sum += int64(n) * m.v[i]
	}
	for i, f := range m.free {
		if f != 0 {
			sum -= int64(limit[i]) * f
		}
	}
	return m.least[max(0, sum)]
}
