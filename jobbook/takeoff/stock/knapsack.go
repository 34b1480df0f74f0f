package stock

import "slices"

// tableMost is the largest stick, in units of an instance, that a table of sums is made for; beyond, combinations are searched.
const tableMost = 1 << 18

// smallTable is the number of sums of all items up to which the table is not worth avoiding.
const smallTable = 100_000

// knapsack finds, for every sort of stick, the pieces in it that are worth most together.
type knapsack struct {
	*instance
	memory *[]int64  // for one table of sums after the other
	items  []portion // for one search after the other
	work   int       // steps of searches
}

// knapsack is that of the task's pieces and sticks.
func (t *task) knapsack() *knapsack {
	return &knapsack{instance: t.instance, memory: &t.all.memory}
}

// solve gives the values of sticks filled with pieces of the values v (0 or more), at most r of each. counts gives the filling of one sort.
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
	if k.fillings(r, largest) <= fewFillings {
		return k.tried(v, r, largest)
	}
	return k.table(v, r, largest)
}

// table is solve by the most worth of every sum up to the largest stick.
func (k *knapsack) table(v []int64, r []int, largest int64) (worth []int64, counts func(stick int) []int) {
	n := int(largest) + 1
	if len(*k.memory) < n*(len(k.w)+1) {
		*k.memory = make([]int64, n*(len(k.w)+1))
	}
	rows, free := make([][]int64, len(k.w)+1), *k.memory // of the items before each, what is worth most in every sum
	row := func() (row []int64) {
		row, free = free[:n], free[n:]
		return row
	}
	rows[0] = row()
	clear(rows[0])
	for i, w := range k.w {
		if v[i] <= 0 || r[i] <= 0 || w > largest {
			rows[i+1] = rows[i]
			continue
		}
		rows[i+1] = row()
		copy(rows[i+1], rows[i])
		item(rows[i+1], int(w), v[i], r[i])
	}
	worth = make([]int64, len(k.size))
	for s, size := range k.size {
		worth[s] = rows[len(k.w)][size]
	}
	return worth, func(stick int) []int {
		counts := make([]int, len(k.w))
		at := k.size[stick]
		for i := len(k.w) - 1; i >= 0; i-- {
			value := rows[i+1][at] // with the fewest of the item that are worth as much
			for ; rows[i][at]+int64(counts[i])*v[i] < value; at -= k.w[i] {
				counts[i]++
			}
		}
		return counts
	}
}

// item puts up to so many pieces of one sort, each w long and worth v, beside what is worth most in every sum.
func item(sums []int64, w int, v int64, most int) {
	if most >= (len(sums)-1)/w { // as many as fit: upwards, so that one more goes beside those there are
		for at := w; at < len(sums); at++ {
			sums[at] = max(sums[at], sums[at-w]+v)
		}
		return
	}
	for lot := 1; most > 0; lot *= 2 { // in lots of 1, 2, 4 and so on, of which any number is made: downwards, so that each goes in once
		lot = min(lot, most)
		most -= lot
		worth, without := int64(lot)*v, sums[:len(sums)-lot*w]
		with := sums[lot*w:][:len(without)]
		for at := len(with) - 1; at >= 0; at-- {
			with[at] = max(with[at], without[at]+worth)
		}
	}
}

// fewFillings is how many fillings are tried one by one, which takes less than a table: of eight pieces that all differ there are as many.
const fewFillings = 256

// fillings is how many there are of sticks of any size, or more than few.
func (k *knapsack) fillings(r []int, largest int64) int {
	all := 1
	for i, w := range k.w {
		if all *= 1 + int(min(int64(r[i]), largest/w)); all > fewFillings {
			break
		}
	}
	return all
}

// tried is the same as the table by trying every filling, those with few of the last item first.
func (k *knapsack) tried(v []int64, r []int, largest int64) (worth []int64, counts func(stick int) []int) {
	n := len(k.w)
	worth = make([]int64, len(k.size))
	best, now := make([]int, n*len(k.size)), make([]int, n)
	var try func(i int, long, value int64)
	try = func(i int, long, value int64) {
		if i < 0 {
			for s, size := range k.size {
				if long <= size && value > worth[s] {
					worth[s] = value
					copy(best[n*s:], now)
				}
			}
			return
		}
		most := int64(0)
		if v[i] > 0 {
			most = min(int64(r[i]), (largest-long)/k.w[i])
		}
		for c := int64(0); c <= most; c++ {
			now[i] = int(c)
			try(i-1, long+c*k.w[i], value+c*v[i])
		}
	}
	try(n-1, 0, 0)
	return worth, func(stick int) []int { return best[n*stick : n*stick+n : n*stick+n] }
}

// mostNodes bounds the search for the best fillings, by the number of sorts of stick.
const mostNodes = 20_000

// searched is the same by branch and bound over the items in order of value by length, with so many nodes at most. Where that is too few, the filling is the best that
// was found: it holds less than most, which no filling exceeds.
func (k *knapsack) searched(v []int64, r []int, nodes int) (held, most []int64, counts func(stick int) []int) {
	f := filling{items: k.items[:0]}
	for i, w := range k.w {
		if v[i] > 0 && r[i] > 0 {
			f.items = append(f.items, portion{item: i, w: w, v: v[i], most: int64(r[i]), ratio: float64(v[i]) / float64(w)})
		}
	}
	slices.SortStableFunc(f.items, func(a, b portion) int { return product(b.v, a.w).compare(product(a.v, b.w)) })
	inOrder := f.items
	f.items = append(f.items, portion{shortest: 1 << 62})
	for at := len(inOrder) - 1; at >= 0; at-- {
		f.items[at].shortest = min(f.items[at+1].shortest, f.items[at].w)
	}
	k.items = f.items
	n := len(k.w)
	found := make([]int, n*len(k.size)) // of every sort of stick, how many of each item
	held, most = make([]int64, len(k.size)), make([]int64, len(k.size))
	for s, size := range k.size {
		f.stop = f.done + (nodes-f.done)/(len(k.size)-s)
		f.held, f.best = 0, found[n*s:n*s+n]
		f.search(0, size, 0)
		held[s], most[s] = f.held, f.held
		if f.done > f.stop { // no more than if the pieces could be cut up to fill the stick
			most[s] = 0
			room := size
			for _, p := range inOrder {
				n := min(p.most, room/p.w)
				most[s], room = most[s]+n*p.v, room-n*p.w
				if n < p.most {
					most[s] += product(room, p.v).over(p.w) + 1
					break
				}
			}
		}
	}
	k.work += f.done
	return held, most, func(stick int) []int { return found[n*stick : n*stick+n : n*stick+n] }
}

// filling is the search for the pieces in one stick that are worth most.
type filling struct {
	items      []portion // in order of value by length, and one that nothing holds
	held       int64     // the most found
	best       []int     // how many of each item are in it
	done, stop int       // nodes
}

// portion is an item of a filling.
type portion struct {
	item       int
	w, v, most int64
	now        int64   // how many are in
	ratio      float64 // value by length
	shortest   int64   // of the items from it on
}

// search goes on with the items from a place on.
func (f *filling) search(at int, room, value int64) {
	f.done++
	if value > f.held {
		f.held = value
		for i := range f.items[:len(f.items)-1] {
			p := &f.items[i]
			f.best[p.item] = int(p.now)
		}
	}
	item := &f.items[at]
	if room < item.shortest || f.done > f.stop {
		return
	}
	if float64(value)+float64(float64(float64(room)*item.ratio)*(1+1e-12)) < float64(f.held)+0.5 { // nothing better fits
		return
	}
	for item.now = min(item.most, room/item.w); ; item.now-- {
		f.search(at+1, room-item.now*item.w, value+item.now*item.v)
		if item.now == 0 {
			return
		}
	}
}
