package layout_test

import (
	"fmt"
	"math"
	"slices"
)

// span is an opening between the least and the most that it can be called: with the ball's centre where it is under the rail and above
// the walking surface or the shoe for certain, and anywhere that it may be.
type span [2]float64

func (o *span) widen(least, most float64) { o[0], o[1] = max(o[0], least), max(o[1], most) }

// worst are the openings at their worst.
type worst struct {
	from, between, landing, to span
	toLanding                  bool
}

// fails reports a limit that is not kept by more than some slack.
func (w worst) fails(slack float64) (string, bool) {
	to := stairLimit
	if w.toLanding {
		to = levelLimit
	}
	for _, o := range []struct {
		name  string
		o     span
		limit float64
	}{{"from", w.from, stairLimit}, {"between", w.between, stairLimit}, {"landing", w.landing, levelLimit}, {"to", w.to, to}} {
		if o.o[0] >= o.limit+slack {
			return fmt.Sprintf("%s %.3f", o.name, o.o[0]), true
		}
	}
	return "", false
}

// keeps reports that every limit is kept by more than some slack, wherever the ball is.
func (w worst) keeps(slack float64) bool {
	to := stairLimit
	if w.toLanding {
		to = levelLimit
	}
	return w.from[1] < stairLimit-slack && w.between[1] < stairLimit-slack && w.landing[1] < levelLimit-slack && w.to[1] < to-slack
}

type searches map[string]span

// search is the opening between two sides; the heights are least and most for the ball's centre, for certain and at all.
func (c searches) search(left, right side, apart float64, certain, any [2]float64) span {
	zero := any[0]
	shift := func(s side) side {
		t := slices.Clone(s)
		for i := range t {
			if math.Abs(t[i][0]) < far {
				t[i][0] -= zero
			}
		}
		return t
	}
	l, r := shift(left), shift(right)
	key := fmt.Sprintf("%.4f %.4f %.4f %.4f %.4f", apart, l, r, certain[0]-zero, []float64{certain[1] - zero, any[1] - zero})
	o, ok := c[key]
	if !ok {
		o[0] = ball(l, r, apart, certain[0]-zero, certain[1]-zero)
		o[1] = max(o[0], ball(l, r, apart, 0, any[1]-zero))
		c[key] = o
	}
	return o
}

// openings works out all openings of balusters where they stand.
func (f *stairway) openings(list []stand, c searches) (w worst) {
	e := f.mark + f.drill
	last := len(list) - 1
	for i := 1; i <= last; i++ {
		a, b := list[i-1], list[i]
		if f.onTreads() {
			low := f.foot(a.x, a.tread)
			right := f.stairUnder(f.stood(b.x, b.tread), b.x, f.foot(b.x, b.tread), a.x, false)
			o := c.search(f.stood(a.x, a.tread), right, b.x-a.x+2*e+f.under, [2]float64{low, f.railUnder(a.x)}, [2]float64{low, f.railUnder(b.x)})
			w.between.widen(o[0], o[1])
			if a.tread == len(f.risers) {
				w.landing.widen(o[0], o[1])
			}
			continue
		}
		// On a shoe a baluster that stands off its mark also stands higher; one that is under its width does not.
		for _, off := range [][2]float64{{f.under - 2*e, -2 * e}, {f.under, 0}, {2*e + f.under, 2 * e}} {
			x := b.x + off[1]
			o := c.search(f.stood(a.x, 0), f.stood(x, 0), b.x-a.x+off[0], [2]float64{f.shoeTop(x), f.railUnder(a.x)}, [2]float64{f.shoeTop(a.x), f.railUnder(x)})
			w.between.widen(o[0], o[1])
		}
	}
	first, end := list[0], list[last]
	from, _ := f.end(0)
	to, foot := f.end(1)
	if f.onTreads() {
		low := min(f.foot(first.x, first.tread), f.surface(f.from))
		right := f.stairUnder(f.stood(first.x, first.tread), first.x, f.foot(first.x, first.tread), f.from, false)
		w.from = c.search(from, right, first.x-f.from+e+f.under/2, [2]float64{low, f.railUnder(f.from)}, [2]float64{low, f.railUnder(first.x)})
		low = f.foot(end.x, end.tread)
		w.to = c.search(f.stood(end.x, end.tread), f.stairUnder(to, f.to, foot, end.x, f.posts[1] != nil), f.to-end.x+e+f.under/2, [2]float64{low, f.railUnder(end.x)}, [2]float64{low, f.railUnder(f.to)})
		w.toLanding = end.tread == len(f.risers)
		return w
	}
	for _, off := range [][2]float64{{f.under/2 - e, -e}, {f.under / 2, 0}, {e + f.under/2, e}} {
		x := first.x + off[1]
		o := c.search(from, f.stood(x, 0), first.x-f.from+off[0], [2]float64{f.shoeTop(x), f.railUnder(f.from)}, [2]float64{f.shoeTop(f.from), f.railUnder(x)})
		w.from.widen(o[0], o[1])
		x = end.x - off[1]
		o = c.search(f.stood(x, 0), to, f.to-end.x+off[0], [2]float64{f.shoeTop(f.to), f.railUnder(x)}, [2]float64{f.shoeTop(x), f.railUnder(f.to)})
		w.to.widen(o[0], o[1])
	}
	return w
}
