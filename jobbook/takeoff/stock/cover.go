package stock

import (
	"cmp"
	"math"
	"slices"
)

// Pack is one size in which something is sold.
type Pack struct {
	Size  int64 // over 0
	Cost  int64 // 0 or more
	Count int   // how many there are; 0 for as many as wanted
}

// Cover chooses packs that hold at least need: of least cost, then with least over, then the fewest packs, then the first in the list. It is exact. times is how many of
// each pack; ok is false where the packs there are do not hold enough, or a number is out of range.
func Cover(need int64, packs []Pack) (times []int, cost int64, ok bool) {
	times = make([]int, len(packs))
	if need <= 0 {
		return times, 0, true
	}
	c := cover{packs: packs, best: math.MaxInt64, left: math.MaxInt}
	for _, p := range packs {
		if p.Size <= 0 || p.Cost < 0 || p.Cost > most || p.Size > math.MaxInt64/4 || need > math.MaxInt64/4 {
			return times, 0, false
		}
	}
	if !payable(need, packs) {
		return times, 0, false
	}
	c.search(need)
	if c.best == math.MaxInt64 {
		return times, 0, false
	}
	copy(times, c.times)
	return times, c.best, true
}

// payable reports that no choice of packs, each taken as often as it could be, costs more than can be counted: a sum that went round would look like a bargain.
func payable(need int64, packs []Pack) bool {
	sum := int64(0)
	for _, p := range packs {
		cost := product(p.full(need), p.Cost)
		if cost.high > 0 || cost.low > uint64(math.MaxInt64-1-sum) { // the greatest number itself stands for nothing found
			return false
		}
		sum += int64(cost.low)
	}
	return true
}

// full is how many of a pack hold all of a need, or how many of it there are.
func (p Pack) full(need int64) int64 {
	n := (need + p.Size - 1) / p.Size
	if p.Count > 0 {
		n = min(n, int64(p.Count))
	}
	return n
}

// cover is a search for packs by branch and bound: sizes in order of cost by size, so that the rest costs at least its share of the next one.
type cover struct {
	packs []Pack
	order []int
	now   []int

	best, over int64
	count      int
	times      []int

	left int // how many numbers may yet be tried; below 0 it gave up
}

// search looks for packs that are better than what it has.
func (c *cover) search(need int64) {
	c.order, c.now = make([]int, len(c.packs)), make([]int, len(c.packs))
	for i := range c.order {
		c.order[i] = i
	}
	slices.SortStableFunc(c.order, func(a, b int) int { // the cheapest by size first, the larger of two alike
		x, y := c.packs[a], c.packs[b]
		return cmp.Or(product(x.Cost, y.Size).compare(product(y.Cost, x.Size)), cmp.Compare(y.Size, x.Size))
	})
	c.rec(0, need, 0, 0)
}

// rec chooses how many of the pack at a place in the order, and of those after it. False where the rest would cost too much whatever is chosen: fewer of the
// packs before would only cost more.
func (c *cover) rec(at int, need, cost int64, count int) bool {
	if need <= 0 {
		over := -need
		if cost < c.best || cost == c.best && (over < c.over || over == c.over && count < c.count) {
			c.best, c.over, c.count, c.times = cost, over, count, slices.Clone(c.now)
		}
		return true
	}
	if at == len(c.order) {
		return true
	}
	if c.left--; c.left < 0 {
		return false
	}
	i := c.order[at]
	p := c.packs[i]
	if c.best < math.MaxInt64 && (cost > c.best || product(need, p.Cost).compare(product(c.best-cost, p.Size)) > 0) { // the rest costs at least its share of this pack
		return false
	}
	for n := p.full(need); n >= c.least(at, need); n-- {
		c.now[i] = int(n)
		if !c.rec(at+1, need-n*p.Size, cost+n*p.Cost, count+int(n)) {
			break
		}
	}
	c.now[i] = 0
	return true
}

// least is how many of a pack are taken at least. Of each pack after it, which costs no less by size, fewer are taken than add up to a whole number of this one:
// those would be exchanged. So all of them together hold no more than a certain size.
func (c *cover) least(at int, need int64) int64 {
	p := c.packs[c.order[at]]
	if p.Count > 0 {
		return 0
	}
	rest := int64(0)
	for _, j := range c.order[at+1:] {
		q := c.packs[j]
		n := p.Size/gcd(p.Size, q.Size) - 1
		if q.Count > 0 {
			n = min(n, int64(q.Count))
		}
		if n > 0 && q.Size > (need-rest)/n {
			return 0
		}
		rest += n * q.Size
	}
	return max(0, (need-rest)/p.Size)
}
