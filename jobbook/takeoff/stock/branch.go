package stock

import (
	"math"
	"slices"
)

// solver finds the best plan of an instance.
type solver struct {
	*instance
	budget, steps int
	covers        int // numbers of sticks that are tried for the floor

	best   []bin
	lowest int64  // its cost
	floor  int64  // no plan costs less, however the pieces go into the sticks
	sums   []bool // up to the cost of the first plan, those that sticks can come to; nil where they are too many to list

	pool   []column // ways to cut found so far, of the instance's sorts
	pooled map[string]bool

	memory []int64 // of knapsacks
}

// task is a part of the problem: of each sort of stick at least and at most so many are used. Those used at least are paid for, so that they are sticks
// of limited number that cost nothing; what a plan costs is up to how many of the others are used.
type task struct {
	*instance
	all  *solver
	sort []int // of each of its sorts of stick, the whole's
	base int64 // paid already

	parent    *task
	low, high []int // of each of the whole's sorts: how many are used; high may be unlimited. Both 0 of what costs nothing
	bound     int64 // no plan in it costs less
	priced    worths
	centre    []float64 // what they were made of
	uses      []float64 // of each of the whole's sorts, how many the relaxation pays for
	worths    []worths  // that the search goes by
	effort    int       // how often it was searched
}

// task makes the task of these numbers of sticks, with its bound, and offers the plans that come with it.
func (s *solver) task(low, high []int, parent *task) *task {
	in := *s.instance
	in.size, in.cost, in.limit = nil, nil, nil
	t := &task{instance: &in, all: s, low: low, high: high, parent: parent, uses: make([]float64, len(s.size))}
	if parent != nil {
		t.bound = parent.bound
	}
	add := func(k int, cost int64, limit int) {
		in.size, in.cost, in.limit = append(in.size, s.size[k]), append(in.cost, cost), append(in.limit, limit)
		t.sort = append(t.sort, k)
	}
	for k, cost := range s.cost {
		if cost == 0 {
			add(k, 0, s.limit[k])
			continue
		}
		if low[k] > 0 {
			add(k, 0, low[k])
			t.base += cost * int64(low[k])
		}
		switch {
		case high[k] == unlimited:
			add(k, cost, unlimited)
		case high[k] > low[k]:
			add(k, cost, high[k]-low[k])
		}
	}
	t.bound = max(t.bound, t.base)
	if t.settled() {
		return t
	}
	p := &prices{task: t}
	t.priced = worths{v: make([]int64, len(t.w)), extra: make([]int64, len(t.size)), scale: 1}
	p.worth()
	least := t.priced.atLeast(t.d, t.limits())
	switch {
	case least > 0 && t.nothingToPay():
		t.bound = math.MaxInt64 // the sticks do not hold the pieces
	default:
		t.bound = s.payable(max(t.bound, t.base+ceil(least, t.priced.scale)))
	}
	if t.settled() {
		return t
	}
	for k := range t.uses {
		t.uses[k] = float64(t.low[k])
	}
	for i, c := range p.basis {
		if c.stick >= 0 && t.cost[c.stick] > 0 { // the others are paid for, used or not
			t.uses[t.sort[c.stick]] += p.x[i]
		}
	}
	if parent == nil {
		t.greedy()
		if t.settled() {
			return t
		}
	}
	work := 0
	if t.nothingToPay() || parent == nil {
		work = min(s.budget/3000, s.budget-s.steps)
	}
	t.measures(parent)
	t.rounded(p, work)
	return t
}

// settled reports that nothing in the task is better than the best plan.
func (t *task) settled() bool { return max(t.bound, t.all.floor) >= t.all.lowest }

// mostSums is how many sums are listed at the most: a megabyte.
const mostSums = 1 << 20

// list makes the list of sums.
func (s *solver) list() {
	if s.lowest >= mostSums {
		return
	}
	s.sums = make([]bool, s.lowest+1)
	s.sums[0] = true
	for _, cost := range s.cost {
		for c := max(cost, 1); c < int64(len(s.sums)); c++ {
			s.sums[c] = s.sums[c] || s.sums[c-cost]
		}
	}
	s.steps += len(s.sums) * len(s.cost) / 8
}

// payable raises a bound to the next sum that sticks can come to: of sticks of 16 and of 23 a plan that costs more than 64 costs 69.
func (s *solver) payable(bound int64) int64 {
	for bound >= 0 && bound < int64(len(s.sums)) && !s.sums[bound] {
		bound++
	}
	return bound
}

// measures gathers what the search goes by: the task's own worths; and, where nothing is to be paid, what sticks hold of the pieces' length and of the worths
// of the tasks it is a part of.
func (t *task) measures(parent *task) {
	if !t.nothingToPay() {
		t.worths = []worths{t.priced}
		return
	}
	values := [][]int64{t.w, t.priced.v}
	for ; parent != nil && len(values) < mostMeasures; parent = parent.parent {
		values = append(values, parent.priced.v)
	}
	k := t.knapsack()
	for _, v := range values {
		sum := 0.0
		for i, n := range t.d {
			sum += float64(float64(v[i]) * float64(n))
		}
		if sum == 0 || sum > mostWorth || slices.ContainsFunc(t.worths, func(w worths) bool { return slices.Equal(w.v, v) }) {
			continue
		}
		held, _ := k.solve(v, t.d)
		t.worths = append(t.worths, worths{v: v, extra: held})
	}
	t.all.steps += k.work
}

// nothingToPay reports that all sticks are paid for: the pieces go into them or not.
func (in *instance) nothingToPay() bool {
	return !slices.ContainsFunc(in.cost, func(c int64) bool { return c > 0 })
}

// plain writes bins of the task as such of the whole.
func (t *task) plain(bins []bin) []bin {
	for i := range bins {
		bins[i].stick = t.sort[bins[i].stick]
	}
	return bins
}

// solve gives the best plan found, a bound, and whether they are known to meet. It is branch and bound over how many sticks of each sort are used.
func (s *solver) solve() ([]bin, int64, bool) {
	s.lowest, s.pooled = math.MaxInt64, map[string]bool{}
	for v := range 2 {
		s.offer(s.firstFit(v == 1))
	}
	if s.floor = s.leastCost(); s.floor >= s.lowest {
		return s.best, s.lowest, true
	}
	s.list()
	low, high := make([]int, len(s.size)), slices.Clone(s.limit)
	for k, cost := range s.cost {
		if cost == 0 {
			high[k] = 0
		}
	}
	open := []*task{s.task(low, high, nil)}
	for {
		open = slices.DeleteFunc(open, (*task).settled)
		if len(open) == 0 {
			return s.best, s.lowest, true
		}
		if s.steps >= s.budget {
			break
		}
		next := 0
		for i, t := range open { // of those searched little the least bound, of equals the last
			a, b := max(0, t.effort-mostEffort), max(0, open[next].effort-mostEffort)
			if a < b || a == b && t.bound <= open[next].bound {
				next = i
			}
		}
		t := open[next]
		s.steps += len(open)
		if t.nothingToPay() {
			t.effort++
			if t.search(nil, min(s.steps+firstWork<<min(2*t.effort, 40), s.budget)) {
				t.bound = math.MaxInt64 // what is in it is found
			}
			continue
		}
		open = slices.Delete(open, next, next+1)
		for _, part := range t.parts() {
			if !part.settled() {
				open = append(open, part)
			}
		}
	}
	bound := s.lowest
	for _, t := range open {
		bound = min(bound, t.bound)
	}
	return s.best, bound, false
}

// Of the search of a task in which nothing is to be paid.
const (
	mostEffort = 2 // searches before others come first
	firstWork  = 5000

	mostMeasures = 4
)

// parts divides a task: at a number of sticks that the relaxation does not use in whole; or, where it uses all in whole, into that and what differs from it.
func (t *task) parts() (list []*task) {
	part := func(low, high []int) {
		list = append(list, t.all.task(slices.Clone(low), slices.Clone(high), t))
	}
	low, high := slices.Clone(t.low), slices.Clone(t.high)
	at, most := -1, 0.0
	for k, use := range t.uses {
		rest := use - math.Floor(use)
		if high[k] == low[k] || rest < near || rest > 1-near {
			continue
		}
		if weight := min(rest, 1-rest) * float64(t.all.cost[k]); at < 0 || weight > most {
			at, most = k, weight
		}
	}
	if at >= 0 {
		whole := int(t.uses[at])
		was := low[at]
		low[at] = whole + 1
		part(low, high)
		low[at], high[at] = was, whole
		part(low, high)
		return list
	}
	for k, use := range t.uses {
		if high[k] == low[k] {
			continue
		}
		whole := max(low[k], int(use+near))
		if high[k] != unlimited {
			whole = min(whole, high[k])
		}
		wasLow, wasHigh := low[k], high[k]
		if wasHigh == unlimited || whole < wasHigh {
			low[k] = whole + 1
			part(low, high)
		}
		if whole > wasLow {
			low[k], high[k] = wasLow, whole-1
			part(low, high)
		}
		low[k], high[k] = whole, whole
	}
	part(low, high)
	return list
}
