package stock

import (
	"math/big"
	"slices"
)

// tableMost is the largest stick, in units of an instance, that a table of sums is made for; beyond, combinations are searched.
const tableMost = 1 << 18

// smallTable is the number of sums of all items up to which the table is not worth avoiding.
const smallTable = 100_000

// knapsack finds, for every sort of stick, the pieces in it that are worth most together.
type knapsack struct {
	*instance
	best  []int64
	taken [][]int32 // of each item, how many at each sum
	queue []int64
	old   []int64
	work  int // steps of searches
}

// values of sticks filled with pieces of the values v (0 or more), at most r of each. counts gives the filling of one sort.
func (k *knapsack) solve(v []int64, r []int) (worth []int64, counts func(stick int) []int) {
	largest := int64(0)
	for _, s := range k.size {
		largest = max(largest, s)
	}
	cells := largest * int64(len(k.w))
	if cells > smallTable || largest > tableMost {
		nodes := mostNodes * len(k.size)
		if largest <= tableMost {
			nodes = min(nodes, int(cells/stepWork))
		}
		held, most, counts := k.searched(v, r, nodes)
		if largest > tableMost || slices.Equal(held, most) {
			return most, counts
		}
	}
	k.work += int(cells / stepWork)
	n := int(largest) + 1
	if len(k.best) < n {
		k.best, k.old, k.queue = make([]int64, n), make([]int64, n), make([]int64, n)
		k.taken = make([][]int32, len(k.w))
	}
	best := k.best[:n]
	clear(best)
	for i, w := range k.w {
		if v[i] <= 0 || r[i] <= 0 || w > largest {
			k.taken[i] = k.taken[i][:0]
			continue
		}
		if cap(k.taken[i]) < n {
			k.taken[i] = make([]int32, n)
		}
		k.taken[i] = k.taken[i][:n]
		k.item(best, k.taken[i], int(w), v[i], r[i])
	}
	worth = make([]int64, len(k.size))
	for s, size := range k.size {
		worth[s] = best[size]
	}
	return worth, func(stick int) []int {
		counts := make([]int, len(k.w))
		at := k.size[stick]
		for i := len(k.w) - 1; i >= 0; i-- {
			if len(k.taken[i]) == 0 {
				continue
			}
			counts[i] = int(k.taken[i][at])
			at -= int64(counts[i]) * k.w[i]
		}
		return counts
	}
}

// item puts up to so many pieces of one sort into the table of best values: for every sum, the best over the number of pieces taken, kept in a
// sliding window over the sums that differ by whole pieces.
func (k *knapsack) item(best []int64, taken []int32, w int, v int64, most int) {
	if most >= (len(best)-1)/w { // as many as fit
		clear(taken)
		for at := w; at < len(best); at++ {
			if more := best[at-w] + v; more > best[at] {
				best[at], taken[at] = more, taken[at-w]+1
			}
		}
		return
	}
	if most == 1 {
		clear(taken)
		for at := len(best) - 1; at >= w; at-- {
			if more := best[at-w] + v; more > best[at] {
				best[at], taken[at] = more, 1
			}
		}
		return
	}
	old := k.old[:len(best)]
	copy(old, best)
	for rest := 0; rest < w && rest < len(best); rest++ {
		head, tail := 0, 0 // of the queue of places, best first
		for j, at := 0, rest; at < len(best); j, at = j+1, at+w {
			mine := old[at] - int64(j)*v
			for tail > head {
				q := int(k.queue[tail-1])
				if old[rest+q*w]-int64(q)*v > mine {
					break
				}
				tail--
			}
			k.queue[tail] = int64(j)
			tail++
			for int(k.queue[head]) < j-most {
				head++
			}
			q := int(k.queue[head])
			best[at] = old[rest+q*w] + int64(j-q)*v
			taken[at] = int32(j - q)
		}
	}
}

// mostNodes bounds the search for the best fillings, by the number of sorts of stick.
const mostNodes = 20_000

// searched is the same by branch and bound over the items in order of value by length, with so many nodes at most. Where that is too few, the filling is the best that
// was found: it holds less than most, which no filling exceeds.
func (k *knapsack) searched(v []int64, r []int, nodes int) (held, most []int64, counts func(stick int) []int) {
	order := make([]int, 0, len(k.w))
	for i := range k.w {
		if v[i] > 0 && r[i] > 0 {
			order = append(order, i)
		}
	}
	sortByRatio(order, v, k.w)
	shortest := make([]int64, len(order)+1) // of those from a place on
	shortest[len(order)] = 1 << 62
	for at := len(order) - 1; at >= 0; at-- {
		shortest[at] = min(shortest[at+1], k.w[order[at]])
	}
	found := make([][]int, len(k.size))
	held, most = make([]int64, len(k.size)), make([]int64, len(k.size))
	done := 0
	for s, size := range k.size {
		now, best := make([]int, len(k.w)), make([]int, len(k.w))
		stop := done + (nodes-done)/(len(k.size)-s)
		var rec func(at int, room, value int64)
		rec = func(at int, room, value int64) {
			done++
			if value > held[s] {
				held[s] = value
				copy(best, now)
			}
			if room < shortest[at] || done > stop {
				return
			}
			i := order[at]
			if float64(value)+float64(float64(float64(room)*(float64(v[i])/float64(k.w[i])))*(1+1e-12)) < float64(held[s])+0.5 { // nothing better fits
				return
			}
			for n := min(int64(r[i]), room/k.w[i]); n >= 0; n-- {
				now[i] = int(n)
				rec(at+1, room-n*k.w[i], value+n*v[i])
			}
			now[i] = 0
		}
		rec(0, size, 0)
		most[s] = held[s]
		if done > stop { // no more than if the pieces could be cut up to fill the stick
			most[s] = 0
			room := size
			for _, i := range order {
				n := min(int64(r[i]), room/k.w[i])
				most[s], room = most[s]+n*v[i], room-n*k.w[i]
				if n < int64(r[i]) {
					part := product(room, v[i])
					most[s] += part.Quo(part, big.NewInt(k.w[i])).Int64() + 1
					break
				}
			}
		}
		found[s] = best
	}
	k.work += done
	return held, most, func(stick int) []int { return found[stick] }
}
