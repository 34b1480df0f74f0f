// Package stock cuts pieces from sticks at least cost, and proves that it is the least, or says how much less there could be.
//
// It knows whole numbers only: lengths in any unit, costs in any unit. The method is the usual one for cutting stock: a bound by column generation
// (P. C. Gilmore and R. E. Gomory, 1961), whose prices are checked again in whole numbers so that no rounding can make the bound too good; plans by
// first fit, by filling sticks at those prices and by rounding. What a plan costs is up to how many sticks of each sort it uses; so branch and bound goes over these numbers,
// and only where they are settled does a search look for a way to get the pieces into them. Many plans by first fit need none of that: no cheaper sticks are as long together as the pieces.
// Work is counted in steps, not in time, so that the same problem gives the same plan on every machine.
package stock

import (
	"cmp"
	"errors"
	"slices"
)

// Item is pieces alike.
type Item struct {
	Length int64 // over 0
	Count  int   // 0 or more
}

// Stick is one sort of stick that pieces can be cut from.
type Stick struct {
	Length int64 // that can be used: what is trimmed off its ends is taken off already
	Cost   int64 // of one, 0 or more
	Count  int   // how many there are; 0 for as many as wanted
}

// Problem is pieces to cut, and sticks to cut them from.
type Problem struct {
	Kerf   int64 // lost between two pieces, 0 or more
	Items  []Item
	Sticks []Stick
	Steps  int // most work to be done, in steps of the search; 0 for DefaultSteps
}

// DefaultSteps is two seconds or so of work; most problems take a hundredth of it.
const DefaultSteps = 60_000_000

// Cut is one way to cut a stick.
type Cut struct {
	Stick int   // which sort
	Items []int // indices of items, as often as there are pieces, the longest first
	Left  int64 // what is left after the last saw cut, 0 or more
	Times int   // how many sticks are cut like that
}

// Plan is how everything is cut.
type Plan struct {
	Cuts    []Cut // those with the longest pieces first
	Cost    int64 // of all sticks used
	Bound   int64 // no plan costs less
	Proven  bool  // Cost is least
	Steps   int   // work done
	TooLong []int // items longer than every stick; they are in no cut
	Short   []int // where sticks of limited number do not suffice: how many of each item are in no cut; nil when all are
}

// most bounds every number that is put in, so that no sum overflows: 10 km in nanometres, ten thousand million in cents.
const most = 10_000_000_000_000

// mostPieces bounds the number of pieces and of sticks of one sort.
const mostPieces = 1_000_000

// Solve finds a plan of least cost. Among plans that cost the same it prefers, by a search that does not look at all of them, those that leave few long
// pieces over many short ones; an offcut that is not touched counts as left. An error says what is wrong with the problem.
func Solve(p Problem) (Plan, error) { return solve(p, mostCovers) }

// solve tries so many numbers of sticks for what they cost at least.
func solve(p Problem, covers int) (Plan, error) {
	if err := check(p); err != nil {
		return Plan{}, err
	}
	var out Plan
	longest := int64(-1)
	for _, s := range p.Sticks {
		longest = max(longest, s.Length)
	}
	for i, it := range p.Items {
		if it.Count > 0 && it.Length > longest {
			out.TooLong = append(out.TooLong, i)
		}
	}
	in, ids, err := newInstance(p, longest)
	if err != nil {
		return Plan{}, err
	}
	if len(in.w) == 0 {
		out.Proven = true
		return out, nil
	}
	s := &solver{instance: in, budget: p.Steps, covers: covers}
	if s.budget <= 0 {
		s.budget = DefaultSteps
	}
	bins, bound, proven := s.solve()
	bins = s.tidy(bins)
	out.Steps = s.steps
	out.Bound, out.Proven = bound*in.money, proven
	out.fill(p, in, ids, bins)
	return out, nil
}

func check(p Problem) error {
	if p.Kerf < 0 {
		return errors.New("a length is less than nothing")
	}
	if p.Kerf > most {
		return errors.New("the saw cut is too wide to reckon with")
	}
	pieces := 0
	for _, it := range p.Items {
		switch {
		case it.Length <= 0:
			return errors.New("a piece has no length")
		case it.Count < 0:
			return errors.New("the number of pieces is less than nothing")
		case it.Length > most:
			return errors.New("a piece is too long to reckon with")
		case it.Count > mostPieces-pieces:
			return errors.New("there are more pieces than can be reckoned with")
		}
		pieces += it.Count
	}
	for _, s := range p.Sticks {
		switch {
		case s.Length < 0:
			return errors.New("a stick's length is less than nothing")
		case s.Cost < 0:
			return errors.New("a stick costs less than nothing")
		case s.Count < 0:
			return errors.New("the number of sticks is less than nothing")
		case s.Length > most || s.Cost > most || s.Count > mostPieces:
			return errors.New("a stick is too long, too dear or there are too many to reckon with")
		}
	}
	return nil
}

// instance is a problem with the saw cut added to every piece and stick, pieces alike put together and the longest first, and lengths in units of the
// pieces' greatest common divisor: a sum of pieces is a whole number of them, so that what a stick holds beyond is of no use.
type instance struct {
	w      []int64 // of each item
	d      []int   // how many
	size   []int64 // of each sort of stick
	cost   []int64 // in units of money
	limit  []int   // how many there are; unlimited for as many as wanted
	money  int64   // the greatest common divisor of all costs: every plan costs a whole number of it
	short  int     // index of the sort that stands for sticks that are missing; -1 when there is none
	pieces int
}

const unlimited = -1

var errDear = errors.New("there are too many pieces of sticks too dear to reckon with")

// newInstance leaves out pieces longer than every stick, and sticks that hold no piece. ids are the problem's items behind each of the instance's.
func newInstance(p Problem, longest int64) (in *instance, ids [][]int, err error) {
	in = &instance{short: -1}
	order := make([]int, 0, len(p.Items))
	for i, it := range p.Items {
		if it.Count > 0 && it.Length <= longest {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p.Items[b].Length, p.Items[a].Length) })
	unit := int64(0)
	for _, i := range order {
		it := p.Items[i]
		in.pieces += it.Count
		if n := len(in.w); n > 0 && in.w[n-1] == it.Length+p.Kerf {
			in.d[n-1] += it.Count
			ids[n-1] = append(ids[n-1], i)
			continue
		}
		in.w, in.d, ids = append(in.w, it.Length+p.Kerf), append(in.d, it.Count), append(ids, []int{i})
		unit = gcd(unit, it.Length+p.Kerf)
	}
	for i := range in.w {
		in.w[i] /= unit
	}
	free := int64(0) // the longest stick there are enough of
	for _, s := range p.Sticks {
		size, limit := int64(0), s.Count
		if len(in.w) > 0 {
			size = (s.Length + p.Kerf) / unit
		}
		if limit == 0 {
			limit = unlimited
			free = max(free, size)
		}
		in.size, in.cost, in.limit = append(in.size, size), append(in.cost, s.Cost), append(in.limit, limit)
		in.money = gcd(in.money, s.Cost)
	}
	in.money = max(in.money, 1)
	dearest := int64(0)
	for i := range in.cost {
		in.cost[i] /= in.money
		dearest = max(dearest, in.cost[i])
	}
	if len(in.w) > 0 && free < in.w[0] { // limited sticks may not suffice: others are called for at a price that nobody pays without need
		in.short = len(in.size)
		if float64(dearest+1)*float64(in.pieces+1) > most {
			return nil, nil, errDear
		}
		dearest = int64(in.pieces+1) * (dearest + 1)
		in.size, in.cost, in.limit = append(in.size, slices.Max(in.size)), append(in.cost, dearest), append(in.limit, unlimited)
	}
	const room = 1 << 60
	if float64(dearest)*float64(in.money)*float64(in.pieces+1) > room {
		return nil, nil, errDear
	}
	return in, ids, nil
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// bin is one stick and what is cut from it.
type bin struct {
	stick int
	count []int // of each item
}

func (in *instance) fill(b bin) (used int64) {
	for i, n := range b.count {
		used += int64(n) * in.w[i]
	}
	return used
}

func (in *instance) costOf(bins []bin) (sum int64) {
	for _, b := range bins {
		sum += in.cost[b.stick]
	}
	return sum
}

// fill writes the bins as cuts of the problem's own items.
func (out *Plan) fill(p Problem, in *instance, ids [][]int, bins []bin) {
	left := make([]int, len(p.Items)) // of each item, those not cut yet
	for i, it := range p.Items {
		left[i] = it.Count
	}
	take := func(k int) int {
		for _, i := range ids[k] {
			if left[i] > 0 {
				left[i]--
				return i
			}
		}
		return -1
	}
	slices.SortStableFunc(bins, func(a, b bin) int { // more of the longest first
		return cmp.Or(slices.Compare(b.count, a.count), cmp.Compare(a.stick, b.stick))
	})
	for _, b := range bins {
		if b.stick == in.short {
			if out.Short == nil {
				out.Short = make([]int, len(p.Items))
			}
			for k, n := range b.count {
				for range n {
					out.Short[take(k)]++
				}
			}
			out.Bound -= in.cost[b.stick] * in.money
			continue
		}
		c := Cut{Stick: b.stick, Left: p.Sticks[b.stick].Length + p.Kerf, Times: 1}
		for k, n := range b.count {
			for range n {
				i := take(k)
				c.Items = append(c.Items, i)
				c.Left -= p.Items[i].Length + p.Kerf
			}
		}
		c.Left = max(c.Left-p.Kerf, 0) // the cut that takes the last piece off
		out.Cost += p.Sticks[b.stick].Cost
		if n := len(out.Cuts); n > 0 && out.Cuts[n-1].Stick == c.Stick && slices.Equal(out.Cuts[n-1].Items, c.Items) {
			out.Cuts[n-1].Times++
			continue
		}
		out.Cuts = append(out.Cuts, c)
	}
	out.Bound = max(out.Bound, 0)
}
