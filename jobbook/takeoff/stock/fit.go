package stock

import (
	"cmp"
	"math"
	"slices"
)

// share is the part of the budget that plans by filling sticks may take at first.
const share = 8

// fillNodes bounds the search for a stick's filling, by the number of sorts of stick.
const fillNodes = 400

// offer takes a plan that is better than the best so far. Each of its sticks is first exchanged for the cheapest that holds the same.
func (s *solver) offer(bins []bin) {
	if bins == nil {
		return
	}
	s.steps += len(bins) * len(s.size) / 8
	there := s.limits()
	for _, b := range bins {
		there[b.stick]--
	}
	for i := range bins {
		b := &bins[i]
		used := s.fill(*b)
		for k, size := range s.size {
			if size >= used && (s.limit[k] == unlimited || there[k] > 0) && s.cheaper(k, b.stick) {
				there[b.stick]++
				there[k]--
				b.stick = k
			}
		}
	}
	if c := s.costOf(bins); c < s.lowest {
		s.best, s.lowest = bins, c
	}
}

// cheaper reports that one sort of stick is cheaper than another, or as cheap and shorter.
func (s *instance) cheaper(a, b int) bool {
	return s.cost[a] < s.cost[b] || s.cost[a] == s.cost[b] && s.size[a] < s.size[b]
}

// firstFit puts the longest pieces first into the first stick with room: limited sticks that cost nothing, then new ones of the sort that is cheapest
// by length; or of the longest sort.
func (s *instance) firstFit(longest bool) []bin {
	order := make([]int, 0, len(s.size))
	for k, size := range s.size {
		if size > 0 {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case (a == s.short) != (b == s.short):
			if a == s.short {
				return 1
			}
			return -1
		case longest && s.limit[a] == unlimited && s.limit[b] == unlimited:
			return cmp.Compare(s.size[b], s.size[a])
		}
		return cmp.Or(product(s.cost[a], s.size[b]).compare(product(s.cost[b], s.size[a])), cmp.Compare(s.size[b], s.size[a]))
	})
	there := s.limits()
	var bins []bin
	var room []int64
	first := make([]int, len(s.w)+1) // of each item, the first stick that may have room for it
	for i, w := range s.w {
		at := first[i]
		for range s.d[i] {
			for at < len(bins) && room[at] < w {
				at++
			}
			if at == len(bins) {
				k := slices.IndexFunc(order, func(k int) bool { return s.size[k] >= w && (s.limit[k] == unlimited || there[k] > 0) })
				if k < 0 {
					return nil
				}
				there[order[k]]--
				bins, room = append(bins, bin{order[k], make([]int, len(s.w))}), append(room, s.size[order[k]])
			}
			bins[at].count[i]++
			room[at] -= w
		}
	}
	return bins
}

// greedy fills sticks with what is worth most, stick by stick, at the worths of the relaxation and at some near them.
func (t *task) greedy() {
	s := t.all
	tries := 24
	if s.pieces > 1000 {
		tries = 2
	}
	random := uint64(1)
	for try := range tries {
		v := slices.Clone(t.priced.v)
		for i := range v {
			if try == 0 {
				v[i] += s.w[i] / (1 << 20) // of equal worth the longer
				continue
			}
			random = random*6364136223846793005 + 1442695040888963407 // Knuth's MMIX generator
			v[i] += v[i] / 1000 * int64(random>>33%200)               // up to a fifth more
		}
		s.offer(t.plain(t.filled(v, slices.Clone(s.d), t.limits(), nil)))
		if t.settled() || s.steps > s.budget/share {
			return
		}
	}
}

// filled goes on from some bins with what is left, filling sticks with what is worth most by their cost.
func (t *task) filled(v []int64, r, there []int, bins []bin) []bin {
	s := t.instance
	k := t.knapsack()
	left := 0
	for _, n := range r {
		left += n
	}
	for left > 0 {
		values, _, counts := k.searched(v, r, fillNodes*len(s.size))
		t.all.steps += 1 + len(s.w) + k.work
		k.work = 0
		pick := -1
		for i, value := range values {
			if value <= 0 || s.limit[i] != unlimited && there[i] <= 0 {
				continue
			}
			if pick < 0 || product(s.cost[i], values[pick]).compare(product(s.cost[pick], value)) < 0 || s.cost[i] == 0 && s.cost[pick] == 0 && value > values[pick] {
				pick = i
			}
		}
		if pick < 0 { // what is left is worth nothing: one by one into what holds it
			rest := s.anyhow(r, there)
			if rest == nil {
				return nil
			}
			return append(bins, rest...)
		}
		count := counts(pick)
		times := math.MaxInt
		for i, n := range count {
			if n > 0 {
				times = min(times, r[i]/n)
			}
		}
		if s.limit[pick] != unlimited {
			times = min(times, there[pick])
			there[pick] -= times
		}
		for range times {
			bins = append(bins, bin{pick, slices.Clone(count)})
			for i, n := range count {
				r[i] -= n
				left -= n
			}
		}
	}
	return bins
}

// anyhow puts what is left into sticks as it comes, the longest first.
func (s *instance) anyhow(r, there []int) (bins []bin) {
	room := int64(0)
	for i, w := range s.w {
		for ; r[i] > 0; r[i]-- {
			if room < w {
				pick := -1
				for k, size := range s.size {
					if size >= w && (s.limit[k] == unlimited || there[k] > 0) && (pick < 0 || s.cheaper(k, pick)) {
						pick = k
					}
				}
				if pick < 0 {
					return nil
				}
				there[pick]--
				bins, room = append(bins, bin{pick, make([]int, len(s.w))}), s.size[pick]
			}
			bins[len(bins)-1].count[i]++
			room -= w
		}
	}
	return bins
}

// rounded takes the relaxation's ways to cut as often as they are used in whole, and fills sticks with what is left; so much work is done to find the best
// way to do that.
func (t *task) rounded(p *prices, work int) {
	s := t.all
	for _, up := range []float64{near, 0.25, 0.5} { // so much is added before rounding down
		if t.settled() {
			return
		}
		r, there := slices.Clone(t.d), t.limits()
		var bins []bin
		for i, c := range p.basis {
			if c.stick < 0 {
				continue
			}
			for range int(p.x[i] + up) {
				if t.limit[c.stick] != unlimited && there[c.stick] == 0 {
					break
				}
				b := bin{c.stick, make([]int, len(t.w))}
				some := false
				for k, n := range c.count {
					b.count[k] = min(n, r[k])
					some = some || b.count[k] > 0
				}
				if !some {
					break
				}
				for k, n := range b.count {
					r[k] -= n
				}
				there[c.stick]--
				bins = append(bins, b)
			}
		}
		v := t.priced.v
		if t.nothingToPay() {
			v = t.w
		}
		s.offer(t.plain(t.filled(slices.Clone(v), r, there, slices.Clone(bins))))
		if work > 0 && !t.settled() {
			t.search(bins, s.steps+work)
		}
	}
}
