package takeoff

// worth is what it is worth to put a piece in a place, the first number before the second, and so on.
type worth [4]int64

func (w worth) plus(x worth, sign int64) worth {
	for i := range w {
		w[i] += sign * x[i]
	}
	return w
}

// over reports that w is worth more.
func (w worth) over(x worth) bool {
	for i := range w {
		if w[i] != x[i] {
			return w[i] > x[i]
		}
	}
	return false
}

// assign puts pieces in places so that the sum of what that is worth is greatest, and no assignment has a greater one: the usual method of augmenting along the path that is worth most until none is worth anything
// (maximum weight matching of two sides). Pieces and places alike are counted together: have and want say how many there are of each sort. of is false where a sort of piece does not go in a sort of place.
func assign(have, want []int, of func(i, j int) (worth, bool)) [][]int {
	x := make([][]int, len(have))
	w := make([][]worth, len(have))
	goes := make([][]bool, len(have))
	for i := range have {
		x[i], w[i], goes[i] = make([]int, len(want)), make([]worth, len(want)), make([]bool, len(want))
		for j := range want {
			w[i][j], goes[i][j] = of(i, j)
		}
	}
	left, open := append([]int(nil), have...), append([]int(nil), want...)
	const none = -1
	for {
		type reached struct {
			yes  bool
			sum  worth
			from int
		}
		pieces, places := make([]reached, len(have)), make([]reached, len(want))
		for i := range have {
			if left[i] > 0 {
				pieces[i] = reached{true, worth{}, none}
			}
		}
		for again := true; again; { // no round leads back to its start with a gain, so this ends
			again = false
			for i := range have {
				if !pieces[i].yes {
					continue
				}
				for j := range want {
					if s := pieces[i].sum.plus(w[i][j], 1); goes[i][j] && (!places[j].yes || s.over(places[j].sum)) {
						places[j], again = reached{true, s, i}, true
					}
				}
			}
			for j := range want {
				if !places[j].yes {
					continue
				}
				for i := range have {
					if x[i][j] == 0 {
						continue
					}
					if s := places[j].sum.plus(w[i][j], -1); !pieces[i].yes || s.over(pieces[i].sum) {
						pieces[i], again = reached{true, s, j}, true
					}
				}
			}
		}
		best := none
		for j := range want {
			if open[j] > 0 && places[j].yes && places[j].sum.over(worth{}) && (best == none || places[j].sum.over(places[best].sum)) {
				best = j
			}
		}
		if best == none {
			return x
		}
		// How many can go along the path, then put them there.
		n := open[best]
		for j := best; ; {
			i := places[j].from
			back := pieces[i].from
			if back == none {
				n = min(n, left[i])
				break
			}
			n = min(n, x[i][back])
			j = back
		}
		for j := best; ; {
			i := places[j].from
			x[i][j] += n
			back := pieces[i].from
			if back == none {
				left[i] -= n
				break
			}
			x[i][back] -= n
			j = back
		}
		open[best] -= n
	}
}
