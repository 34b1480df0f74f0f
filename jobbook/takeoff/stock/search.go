package stock

import (
	"cmp"
	"encoding/binary"
	"slices"
)

// limits are how many sticks there are of each sort, 0 for as many as wanted.
func (s *instance) limits() []int {
	list := slices.Clone(s.limit)
	for i, n := range list {
		list[i] = max(0, n)
	}
	return list
}

// search is a look at every plan of a task that could beat the best, stick by stick.
type search struct {
	*task
	until int              // steps at which it stops
	whole bool             // it looked at everything so far
	seen  map[string]int64 // least cost at which what is left was reached
	now   []bin
	r     []int
	there []int       // sticks left of each sort; for as many as wanted 0
	ratio [][]float64 // of each worths and item on, the greatest worth by length
	key   []byte
}

const (
	mostSeen = 400_000 // states remembered
	mostWays = 20_000  // ways to go on from one state
)

// search goes on from some bins and looks at every plan that could beat the best, until so many steps are done. It reports whether it looked at all of them.
func (t *task) search(bins []bin, until int) bool {
	s := &search{task: t, until: until, whole: true, seen: map[string]int64{}}
	s.r, s.there, s.now = slices.Clone(t.d), t.limits(), slices.Clone(bins)
	for _, b := range bins {
		s.there[b.stick]--
		for i, n := range b.count {
			s.r[i] -= n
		}
	}
	for i, n := range t.limit {
		if n == unlimited {
			s.there[i] = 0
		}
	}
	for _, w := range t.worths {
		ratio := make([]float64, len(t.w)+1)
		for i := len(t.w) - 1; i >= 0; i-- {
			ratio[i] = max(ratio[i+1], float64(w.v[i])/float64(t.w[i]))
		}
		s.ratio = append(s.ratio, ratio)
	}
	s.next(t.costOf(bins))
	return s.whole
}

// next fills the next stick: one with the longest piece that is left, and no room for any other piece that is left, for what fits beside it may as well
// be cut from it as later.
func (s *search) next(cost int64) {
	lead := slices.IndexFunc(s.r, func(n int) bool { return n > 0 })
	if lead < 0 {
		if s.base+cost < s.all.lowest {
			var bins []bin
			for _, b := range s.now {
				bins = append(bins, bin{b.stick, slices.Clone(b.count)})
			}
			s.all.offer(s.plain(bins))
		}
		return
	}
	s.all.steps++
	spare := s.all.lowest - 1 - s.base - cost // what may be paid yet
	if spare < 0 {
		return
	}
	slack := make([]int64, len(s.worths)) // of each, what sticks may cost over their worth
	for j, w := range s.worths {
		slack[j] = spare*w.scale - w.atLeast(s.r, s.there)
		if slack[j] < 0 {
			return
		}
	}
	if !s.fresh(cost) {
		return
	}
	for list := s.ways(lead, slack); len(list) > 0; list = list.rest() {
		b := list[0].bin
		if s.all.steps > s.until {
			s.whole = false
			return
		}
		if s.base+cost+s.cost[b.stick] >= s.all.lowest {
			continue
		}
		for i, n := range b.count {
			s.r[i] -= n
		}
		if s.limit[b.stick] != unlimited {
			s.there[b.stick]--
		}
		s.now = append(s.now, b)
		s.next(cost + s.cost[b.stick])
		s.now = s.now[:len(s.now)-1]
		if s.limit[b.stick] != unlimited {
			s.there[b.stick]++
		}
		for i, n := range b.count {
			s.r[i] += n
		}
		if s.settled() {
			return
		}
	}
}

// fresh reports that what is left was not reached before at this cost or less.
func (s *search) fresh(cost int64) bool {
	s.key = keyOf(s.key[:0], s.r)
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

func keyOf(key []byte, numbers []int) []byte {
	for _, n := range numbers {
		key = binary.AppendUvarint(key, uint64(n))
	}
	return key
}

// way is a bin, and how much more it costs than what is in it is worth, in whole and in the part that is allowed.
type way struct {
	bin
	over  float64
	room  int64
	order int // it was found in
}

// ways are in the order of a heap: the best is the first, and the others are no further in order than it takes to find the next. Of thousands a search mostly goes on
// with the first.
type ways []way

// rest is without the first.
func (list ways) rest() ways {
	last := len(list) - 1
	list[0] = list[last]
	list[:last].sink(0)
	return list[:last]
}

// sink lets the way at a place down until it is before those under it.
func (list ways) sink(at int) {
	for {
		best := at
		for under := 2*at + 1; under <= 2*at+2 && under < len(list); under++ {
			if list[under].before(&list[best]) {
				best = under
			}
		}
		if best == at {
			return
		}
		list[at], list[best] = list[best], list[at]
		at = best
	}
}

// before is the order of ways: what is paid over the worth, then what is wasted.
func (a *way) before(b *way) bool {
	return cmp.Or(cmp.Compare(a.over, b.over), cmp.Compare(a.room, b.room), a.order-b.order) < 0
}

// ways lists the ways to fill a stick with the longest piece that is left, of those that cost no more than so much over their worth; the best first.
func (s *search) ways(lead int, slack []int64) (list ways) {
	w, n := s.w, len(s.w)
	count := make([]int, n)
	var counts []int // of the ways that are listed, many in one piece of memory
	value := make([]int64, len(slack))
	least := make([]int64, len(slack)) // what is in it is worth at least so much
	for k, size := range s.size {
		if size < w[lead] || s.limit[k] != unlimited && s.there[k] == 0 {
			continue
		}
		for j, p := range s.worths {
			least[j] = s.cost[k]*p.scale + p.extra[k] - slack[j]
			value[j] = p.v[lead]
		}
		var rec func(i int, room int64)
		rec = func(i int, room int64) {
			s.all.steps++
			if s.all.steps > s.until || len(list) >= mostWays {
				s.whole = false
				return
			}
			for j, v := range value {
				if float64(v)+float64(float64(float64(room)*s.ratio[j][i])*(1+1e-9))+1 < float64(least[j]) {
					return
				}
			}
			for i < n && (w[i] > room || s.r[i] == count[i]) {
				i++
			}
			if i == n {
				over := 0.0
				for j, v := range value {
					if v < least[j] {
						return
					}
					over += float64(least[j]+slack[j]-v) / float64(slack[j]+1)
				}
				if s.keeps(k, room, size, count) {
					if len(counts)+n > cap(counts) {
						counts = make([]int, 0, 256*n)
					}
					counts = append(counts, count...)
					list = append(list, way{bin{k, counts[len(counts)-n : len(counts) : len(counts)]}, over, room, len(list)})
				}
				return
			}
			had := count[i]
			for c := int(min(int64(s.r[i]-had), room/w[i])); c >= 0; c-- {
				count[i] = had + c
				for j := range value {
					value[j] += int64(c) * s.worths[j].v[i]
				}
				rec(i+1, room-int64(c)*w[i])
				for j := range value {
					value[j] -= int64(c) * s.worths[j].v[i]
				}
			}
			count[i] = had
		}
		count[lead] = 1
		rec(lead, size-w[lead])
		count[lead] = 0
	}
	for at := len(list)/2 - 1; at >= 0; at-- {
		list.sink(at)
	}
	return list
}

// keeps reports that no piece that is left fits beside those counted, and that no stick at hand holds them for less, or for as much and shorter.
func (s *search) keeps(stick int, room, size int64, count []int) bool {
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
