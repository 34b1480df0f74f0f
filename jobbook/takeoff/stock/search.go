package stock

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
)

// solver finds the best plan of an instance.
type solver struct {
	*instance
	budget, steps int

	best     []bin
	lowest   int64 // its cost
	bound    int64
	priced   worths
	measures []*measure
	ratio    []float64 // of each item on, the greatest worth by length

	until int              // steps at which the search at hand stops
	whole bool             // it looked at everything so far
	seen  map[string]int64 // least cost at which what is left was reached
	now   []bin
	r     []int
	there []int // sticks left of each sort; for as many as wanted 0
	key   []byte
}

// Of the search.
const (
	mostSeen = 400_000 // states remembered
	mostWays = 20_000  // ways to go on from one state
	share    = 8       // the part of the budget that finishing a rounded plan may take
)

// solve gives the best plan found, a bound, and whether they are known to meet.
func (s *solver) solve() ([]bin, int64, bool) {
	s.lowest = math.MaxInt64
	for v := range 2 {
		s.offer(s.firstFit(v == 1))
	}
	p := &prices{solver: s}
	s.priced = worths{v: make([]int64, len(s.w)), extra: make([]int64, len(s.size)), scale: 1}
	p.worth()
	s.bound = ceil(s.priced.atLeast(s.d, s.limits()), s.priced.scale)
	for _, v := range [][]int64{s.w, s.priced.v} {
		if m := s.measured(v); m != nil {
			s.measures = append(s.measures, m)
			s.bound = max(s.bound, m.atLeast(s.d, s.limits()))
		}
	}
	s.ratio = make([]float64, len(s.w)+1)
	for i := len(s.w) - 1; i >= 0; i-- {
		s.ratio[i] = max(s.ratio[i+1], float64(s.priced.v[i])/float64(s.w[i]))
	}
	s.greedy()
	s.rounded(p)
	if s.lowest > s.bound && s.search(nil, s.budget) {
		s.bound = s.lowest
	}
	return s.best, min(s.bound, s.lowest), s.bound >= s.lowest
}

// limits are how many sticks there are of each sort, 0 for as many as wanted.
func (s *solver) limits() []int {
	list := slices.Clone(s.limit)
	for i, n := range list {
		list[i] = max(0, n)
	}
	return list
}

// offer takes a plan that is better than the best so far. Each of its sticks is first exchanged for the cheapest that holds the same.
func (s *solver) offer(bins []bin) {
	if bins == nil {
		return
	}
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
func (s *solver) cheaper(a, b int) bool {
	return s.cost[a] < s.cost[b] || s.cost[a] == s.cost[b] && s.size[a] < s.size[b]
}

// firstFit puts the longest pieces first into the first stick with room: limited sticks that cost nothing, then new ones of the sort that is cheapest
// by length; or of the longest sort.
func (s *solver) firstFit(longest bool) []bin {
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
		return cmp.Or(product(s.cost[a], s.size[b]).Cmp(product(s.cost[b], s.size[a])), cmp.Compare(s.size[b], s.size[a]))
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
func (s *solver) greedy() {
	tries := 24
	if s.pieces > 1000 {
		tries = 2
	}
	random := uint64(1)
	for try := range tries {
		v := slices.Clone(s.priced.v)
		for i := range v {
			if try == 0 {
				v[i] += s.w[i] / (1 << 20) // of equal worth the longer
				continue
			}
			random = random*6364136223846793005 + 1442695040888963407 // Knuth's MMIX generator
			v[i] += v[i] / 1000 * int64(random>>33%200)               // up to a fifth more
		}
		s.offer(s.filled(v, slices.Clone(s.d), s.limits(), nil))
		if s.lowest <= s.bound || s.steps > s.budget/share {
			return
		}
	}
}

// filled goes on from some bins with what is left, filling sticks with what is worth most by their cost.
func (s *solver) filled(v []int64, r, there []int, bins []bin) []bin {
	k := &knapsack{instance: s.instance}
	left := 0
	for _, n := range r {
		left += n
	}
	for left > 0 {
		values, counts := k.solve(v, r)
		s.steps += 1 + len(s.w) + k.work
		k.work = 0
		pick := -1
		for i, value := range values {
			if value <= 0 || s.limit[i] != unlimited && there[i] <= 0 {
				continue
			}
			if pick < 0 || product(s.cost[i], values[pick]).Cmp(product(s.cost[pick], value)) < 0 || s.cost[i] == 0 && s.cost[pick] == 0 && value > values[pick] {
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
func (s *solver) anyhow(r, there []int) (bins []bin) {
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

// rounded takes the relaxation's ways to cut as often as they are used in whole, and searches for the best with what is left.
func (s *solver) rounded(p *prices) {
	const near = 1e-6
	for _, up := range []float64{near, 0.25, 0.5} { // so much is added before rounding down
		if s.lowest <= s.bound {
			return
		}
		r, there := slices.Clone(s.d), s.limits()
		var bins []bin
		for i, c := range p.basis {
			if c.stick < 0 {
				continue
			}
			for range int(p.x[i] + up) {
				if s.limit[c.stick] != unlimited && there[c.stick] == 0 {
					break
				}
				b := bin{c.stick, make([]int, len(s.w))}
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
		s.offer(s.filled(slices.Clone(s.priced.v), slices.Clone(r), slices.Clone(there), slices.Clone(bins)))
		if s.lowest > s.bound {
			s.search(bins, s.steps+(s.budget-s.steps)/share)
		}
	}
}

// search goes on from some bins and looks at every plan that could beat the best, stick by stick, until so many steps are done. It reports
// whether it looked at all of them.
func (s *solver) search(bins []bin, until int) bool {
	s.until, s.whole, s.seen = until, true, map[string]int64{}
	s.r, s.there, s.now = slices.Clone(s.d), s.limits(), slices.Clone(bins)
	for _, b := range bins {
		s.there[b.stick]--
		for i, n := range b.count {
			s.r[i] -= n
		}
	}
	for i, n := range s.limit {
		if n == unlimited {
			s.there[i] = 0
		}
	}
	s.next(s.costOf(bins))
	return s.whole
}

// next fills the next stick: one with the longest piece that is left, and no room for any other piece that is left, for what fits beside it may as well
// be cut from it as later.
func (s *solver) next(cost int64) {
	lead := slices.IndexFunc(s.r, func(n int) bool { return n > 0 })
	if lead < 0 {
		if cost < s.lowest {
			s.best, s.lowest = nil, cost
			for _, b := range s.now {
				s.best = append(s.best, bin{b.stick, slices.Clone(b.count)})
			}
		}
		return
	}
	s.steps++
	least := s.priced.atLeast(s.r, s.there)
	rest := ceil(least, s.priced.scale)
	for _, m := range s.measures {
		rest = max(rest, m.atLeast(s.r, s.there))
	}
	if cost+rest >= s.lowest || !s.fresh(cost) {
		return
	}
	ways := s.ways(lead, (s.lowest-1-cost)*s.priced.scale-least)
	for _, b := range ways {
		if s.steps > s.until {
			s.whole = false
			return
		}
		for i, n := range b.count {
			s.r[i] -= n
		}
		if s.limit[b.stick] != unlimited {
			s.there[b.stick]--
		}
		s.now = append(s.now, b.bin)
		s.next(cost + s.cost[b.stick])
		s.now = s.now[:len(s.now)-1]
		if s.limit[b.stick] != unlimited {
			s.there[b.stick]++
		}
		for i, n := range b.count {
			s.r[i] += n
		}
		if s.lowest <= s.bound {
			return
		}
	}
}

// fresh reports that what is left was not reached before at this cost or less.
func (s *solver) fresh(cost int64) bool {
	s.key = s.key[:0]
	for _, n := range s.r {
		s.key = binary.AppendUvarint(s.key, uint64(n))
	}
	for i, n := range s.there {
		if s.limit[i] != unlimited {
			s.key = binary.AppendUvarint(s.key, uint64(n))
		}
	}
	if before, ok := s.seen[string(s.key)]; ok && before <= cost {
		return false
	}
	if len(s.seen) < mostSeen {
		s.seen[string(s.key)] = cost
	}
	return true
}

// way is a bin, and how much more it costs than what is in it is worth.
type way struct {
	bin
	over int64
	room int64
}

// ways lists the ways to fill a stick with the longest piece that is left, of those that cost no more than so much over their worth; the best first.
func (s *solver) ways(lead int, slack int64) (list []way) {
	w, n := s.w, len(s.w)
	count := make([]int, n)
	for k, size := range s.size {
		if size < w[lead] || s.limit[k] != unlimited && s.there[k] == 0 {
			continue
		}
		dear := s.cost[k]*s.priced.scale + s.priced.extra[k]
		least := dear - slack // what is in it is worth at least so much
		var rec func(i int, room, value int64)
		rec = func(i int, room, value int64) {
			s.steps++
			if s.steps > s.until || len(list) >= mostWays {
				s.whole = false
				return
			}
			if float64(value)+float64(float64(room)*s.ratio[i])*(1+1e-9)+1 < float64(least) {
				return
			}
			for i < n && (w[i] > room || s.r[i] == count[i]) {
				i++
			}
			if i == n {
				if value >= least && s.keeps(k, room, size, count) {
					list = append(list, way{bin{k, slices.Clone(count)}, dear - value, room})
				}
				return
			}
			had := count[i]
			most := int(min(int64(s.r[i]-had), room/w[i]))
			for n := most; n >= 0; n-- {
				count[i] = had + n
				rec(i+1, room-int64(n)*w[i], value+int64(n)*s.priced.v[i])
			}
			count[i] = had
		}
		count[lead] = 1
		rec(lead, size-w[lead], s.priced.v[lead])
		count[lead] = 0
	}
	slices.SortStableFunc(list, func(a, b way) int { return cmp.Or(cmp.Compare(a.over, b.over), cmp.Compare(a.room, b.room)) })
	return list
}

// keeps reports that no piece that is left fits beside those counted, and that no stick at hand holds them for less, or for as much and shorter.
func (s *solver) keeps(stick int, room, size int64, count []int) bool {
	for i := len(count) - 1; i >= 0; i-- {
		if count[i] < s.r[i] {
			if s.w[i] <= room {
				return false
			}
			break // the shortest that is left
		}
	}
	for k, other := range s.size {
		if k == stick || other < size-room || s.limit[k] != unlimited && s.there[k] == 0 {
			continue
		}
		if s.cheaper(k, stick) || s.cost[k] == s.cost[stick] && other == size && k < stick {
			return false
		}
	}
	return true
}

func sortByRatio(order []int, v, w []int64) {
	slices.SortStableFunc(order, func(a, b int) int { return product(v[b], w[a]).Cmp(product(v[a], w[b])) })
}
