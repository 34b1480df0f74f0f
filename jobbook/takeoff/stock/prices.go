package stock

import (
	"cmp"
	"math"
	"slices"
)

// prices works out what each piece is worth in the best mix of ways to cut: the linear relaxation, by column generation. It reckons in
// floating point; what rests on its result is checked in whole numbers (see bound.go) or is a plan that can be counted.
type prices struct {
	*task
	rows  int   // items, then sorts of stick of limited number
	rowOf []int // of each sort of stick; -1 for as many as wanted

	basis   []column
	inverse [][]float64
	x       []float64 // how often each column of the basis is used
	y       []float64 // worth of each row
	best    int64     // that bound, scaled

	knapsack *knapsack
	order    []int // scratch: items by worth by length
	share    []float64
}

// column is one way to cut a stick, or one that stands for a piece too many, a stick not used, or a piece not cut.
type column struct {
	stick int // -1 for one that stands for something else
	count []int
	items []int   // those that are in it, of one that is known
	row   int     // of one that stands for something else
	sign  float64 // -1: a piece too many; 1: a stick not used, or a piece not cut
	cost  float64
}

const (
	tiny     = 1e-9
	mostPool = 4000   // ways to cut that are kept
	stepWork = 32     // sums and products that are done in the time of one step of the search
	mostTurn = 20_000 // looks for a column; a problem of 60 pieces takes some hundreds
)

// worth solves the relaxation. The ways to cut that it uses, and how often, stay in basis and x; it ends early where its bound says that nothing better than the
// best plan is in the task.
func (p *prices) worth() {
	n := len(p.w)
	p.knapsack = p.task.knapsack()
	defer p.keep()
	p.rowOf = make([]int, len(p.size))
	p.rows = n
	dear := 1.0
	for s, limit := range p.limit {
		p.rowOf[s] = -1
		if limit != unlimited {
			p.rowOf[s] = p.rows
			p.rows++
		}
		dear = max(dear, float64(p.cost[s]))
	}
	dear = max(dear*float64(2*(n+1)), 4*float64(min(p.all.lowest, most)))
	p.basis, p.x, p.y = make([]column, p.rows), make([]float64, p.rows), make([]float64, p.rows)
	p.inverse, p.order, p.share = make([][]float64, p.rows), make([]int, n), make([]float64, n)
	for i := range p.basis {
		p.inverse[i] = make([]float64, p.rows)
		p.inverse[i][i] = 1
		p.basis[i] = column{stick: -1, row: i, sign: 1}
		if i < n {
			p.basis[i].cost, p.x[i] = dear, float64(p.d[i])+p.shade(i)
		}
	}
	for s, row := range p.rowOf {
		if row >= 0 {
			p.x[row] = float64(p.limit[s]) + p.shade(row)
		}
	}
	p.reprice()
	if p.parent != nil && p.parent.centre != nil { // what was best for the task that this is a part of is not bad for it
		p.certify(p.parent.centre)
		if p.ruledOut() {
			return
		}
	}
	for turn := 0; turn < mostTurn && p.all.steps < p.all.budget; turn++ {
		p.all.steps += p.rows + p.rows*p.rows/stepWork
		enter, found := p.standIn()
		if !found {
			enter, found = p.known()
		}
		if !found {
			enter, found = p.quick()
		}
		if found {
			if !p.pivot(enter) {
				return
			}
			p.reprice()
			continue
		}
		if !p.whole() {
			return
		}
	}
}

// whole looks for the ways to cut that lower the cost most, at worths between those of the basis and those of the best bound so far, which keeps them from
// swinging; where that finds nothing, at those of the basis. Each look gives a bound. False when there is nothing to gain any more.
func (p *prices) whole() bool {
	scale := p.scale()
	for _, lean := range []float64{0.7, 0} { // how much the best bound's worths count
		if p.centre == nil && lean > 0 {
			continue
		}
		at := make([]float64, len(p.w))
		for i := range at {
			at[i] = max(0, p.y[i])
			if lean > 0 {
				at[i] = float64(lean*p.centre[i]) + float64((1-lean)*at[i])
			}
		}
		counts := p.certify(at)
		if p.ruledOut() || int64(math.Ceil(p.objective()-float64(tiny*p.objective())-tiny)) <= ceil(p.best, int64(scale)) {
			return false // no bound in whole numbers is better
		}
		entered := false
		for s := range p.size {
			c := column{stick: s, count: counts(s), cost: float64(p.cost[s])}
			if p.reduced(c) < -tiny*10*max(1, c.cost) && p.pivot(c) {
				p.reprice()
				entered = true
			}
		}
		if entered {
			return true
		}
	}
	return false
}

// certify works out the bound at these worths, in whole numbers, and the fillings worth most.
func (p *prices) certify(at []float64) (counts func(stick int) []int) {
	scale := p.scale()
	v := make([]int64, len(p.w))
	for i := range v {
		if !p.free(i) {
			v[i] = int64(min(at[i]*scale, float64(mostWorth/int64(p.pieces))))
		}
	}
	values, counts := p.knapsack.solve(v, p.d)
	p.all.steps += len(p.w) + p.knapsack.work
	p.knapsack.work = 0
	w := p.tightened(v, values, int64(scale))
	if least := w.atLeast(p.d, p.limits()); p.centre == nil || least > p.best {
		p.best, p.centre, p.priced = least, at, w
	}
	return counts
}

// free reports a piece that goes into sticks that cost nothing and of which there are as many as wanted.
func (s *instance) free(i int) bool {
	for k, size := range s.size {
		if s.limit[k] == unlimited && s.cost[k] == 0 && size >= s.w[i] {
			return true
		}
	}
	return false
}

// shade is a little more that is asked for of a row, another for each, so that the way to the best mix does not go round in circles where many are as good.
func (p *prices) shade(row int) float64 {
	return 1e-7 * (1 + float64(uint32(row+1)*2654435769>>8)/(1<<24)) // Knuth's multiplicative hash
}

// near is how far a whole number may be off for it.
const near = 1e-4

// ruledOut reports that the bound so far says that nothing better than the best plan is in the task.
func (p *prices) ruledOut() bool {
	if p.best > 0 && p.nothingToPay() {
		return true
	}
	return p.base+ceil(p.best, p.priced.scale) >= p.all.lowest
}

// objective is what the mix in the basis costs.
func (p *prices) objective() float64 {
	sum := 0.0
	for i, c := range p.basis {
		sum += float64(c.cost * p.x[i])
	}
	return sum
}

// reduced is what a way to cut costs beyond what is in it is worth.
func (p *prices) reduced(c column) float64 {
	sum := c.cost
	for i, n := range c.count {
		if n != 0 {
			sum -= float64(float64(n) * p.y[i])
		}
	}
	if row := p.rowOf[c.stick]; row >= 0 {
		sum -= p.y[row]
	}
	return sum
}

// scale makes whole numbers of worths: so large that they stay exact enough, so small that no sum of them overflows.
func (s *instance) scale() float64 {
	dear := int64(1)
	for _, c := range s.cost {
		dear = max(dear, c)
	}
	const room = 1 << 44
	scale := 1.0
	for scale < 1<<30 && float64(dear)*scale < room/float64(s.pieces) {
		scale *= 2
	}
	return scale
}

// reprice works out the worth of every row from the basis.
func (p *prices) reprice() {
	for j := range p.y {
		sum := 0.0
		for i, c := range p.basis {
			sum += float64(c.cost * p.inverse[i][j])
		}
		p.y[j] = sum
	}
}

// standIn looks for a column that stands for a piece too many or a stick not used, and would lower the cost.
func (p *prices) standIn() (column, bool) {
	most, at := tiny, -1
	for i, y := range p.y {
		if i < len(p.w) {
			y = -y
		}
		if y > most {
			most, at = y, i
		}
	}
	if at < 0 {
		return column{}, false
	}
	if at < len(p.w) {
		return column{stick: -1, row: at, sign: -1}, true
	}
	return column{stick: -1, row: at, sign: 1}, true
}

// known looks among the ways to cut that were found before, for other tasks, for one that would lower the cost much.
func (p *prices) known() (enter column, found bool) {
	best := -0.02 // of the cost
	pick := -1
	for _, c := range p.all.pool {
		value := 0.0
		for _, i := range c.items {
			value += float64(float64(min(c.count[i], p.d[i])) * p.y[i])
		}
		for k, sort := range p.sort {
			if sort != c.stick {
				continue
			}
			reduced := float64(p.cost[k]) - value
			if row := p.rowOf[k]; row >= 0 {
				reduced -= p.y[row]
			}
			if gain := reduced / max(1, float64(p.cost[k])); gain < best {
				best, pick, found = gain, k, true
				enter = c
			}
		}
	}
	p.all.steps += len(p.all.pool) / 8
	enter.stick, enter.cost = pick, 0
	if found {
		enter.cost = float64(p.cost[pick])
	}
	return enter, found
}

// keep adds the ways to cut of the basis to those known.
func (p *prices) keep() {
	for _, c := range p.basis {
		if c.stick < 0 || len(p.all.pool) >= mostPool {
			continue
		}
		c.stick = p.sort[c.stick]
		key := string(keyOf(nil, append([]int{c.stick}, c.count...)))
		if p.all.pooled[key] {
			continue
		}
		p.all.pooled[key] = true
		c.items = nil
		for i, n := range c.count {
			if n > 0 {
				c.items = append(c.items, i)
			}
		}
		p.all.pool = append(p.all.pool, c)
	}
}

// quick fills each sort of stick with what is worth most by length, and takes the filling that lowers the cost most, if one does. It finds most of the
// columns at a fraction of the work.
func (p *prices) quick() (enter column, found bool) {
	for i := range p.order {
		p.order[i] = i
	}
	for i := range p.w {
		p.share[i] = p.y[i] / float64(p.w[i])
	}
	slices.SortFunc(p.order, func(a, b int) int { return cmp.Or(cmp.Compare(p.share[b], p.share[a]), cmp.Compare(a, b)) })
	best := -0.5 // of the cost: smaller gains are left to the whole search
	for s, size := range p.size {
		value, room := 0.0, size
		for _, i := range p.order {
			if p.y[i] <= 0 {
				break
			}
			n := min(int64(p.d[i]), room/p.w[i])
			room -= n * p.w[i]
			value += float64(float64(n) * p.y[i])
		}
		reduced := float64(p.cost[s]) - value
		if row := p.rowOf[s]; row >= 0 {
			reduced -= p.y[row]
		}
		if gain := reduced / max(1, float64(p.cost[s])); gain < best {
			best, found = gain, true
			enter = column{stick: s, count: make([]int, len(p.w)), cost: float64(p.cost[s])}
		}
	}
	if !found {
		return column{}, false
	}
	room := p.size[enter.stick]
	for _, i := range p.order {
		if p.y[i] > 0 {
			enter.count[i] = int(min(int64(p.d[i]), room/p.w[i]))
			room -= int64(enter.count[i]) * p.w[i]
		}
	}
	return enter, true
}

// pivot brings a column into the basis; false where that cannot be done.
func (p *prices) pivot(enter column) bool {
	a := make([]float64, p.rows) // the column in terms of the basis
	for i := range a {
		sum := 0.0
		if enter.stick < 0 {
			sum = float64(p.inverse[i][enter.row] * enter.sign)
		} else {
			for k, n := range enter.count {
				if n != 0 {
					sum += float64(p.inverse[i][k] * float64(n))
				}
			}
			if row := p.rowOf[enter.stick]; row >= 0 {
				sum += p.inverse[i][row]
			}
		}
		a[i] = sum
	}
	leave, least := -1, math.Inf(1)
	for i := range a {
		if a[i] <= tiny {
			continue
		}
		ratio := p.x[i] / a[i]
		if ratio < least-tiny || ratio < least+tiny && leave >= 0 && p.basis[i].cost > p.basis[leave].cost { // of equals the dearest leaves
			leave, least = i, min(ratio, least)
		}
	}
	if leave < 0 {
		return false
	}
	least = max(0, p.x[leave]/a[leave])
	for i := range p.x {
		p.x[i] -= float64(least * a[i])
		if p.x[i] < 0 {
			p.x[i] = 0
		}
	}
	p.x[leave] = least
	pivot := p.inverse[leave]
	for j := range pivot {
		pivot[j] /= a[leave]
	}
	for i := range p.inverse {
		if i == leave || a[i] == 0 {
			continue
		}
		row := p.inverse[i]
		for j := range row {
			row[j] -= float64(a[i] * pivot[j])
		}
	}
	p.basis[leave] = enter
	return true
}
