package takeoff

import (
	"testing"

	"pgregory.net/rapid"
)

// TestAssignAgainstAll compares with every way there is of putting pieces in places, one by one.
func TestAssignAgainstAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		have := rapid.SliceOfN(rapid.IntRange(0, 2), 0, 3).Draw(t, "have")
		want := rapid.SliceOfN(rapid.IntRange(0, 2), 0, 3).Draw(t, "want")
		of := map[[2]int]worth{}
		goes := map[[2]int]bool{}
		for i := range have {
			for j := range want {
				goes[[2]int{i, j}] = rapid.Bool().Draw(t, "goes")
				of[[2]int{i, j}] = worth{int64(rapid.IntRange(0, 5).Draw(t, "first")), int64(rapid.IntRange(0, 2).Draw(t, "second")), 0, -int64(rapid.IntRange(0, 3).Draw(t, "fourth"))}
			}
		}
		x := assign(have, want, func(i, j int) (worth, bool) { return of[[2]int{i, j}], goes[[2]int{i, j}] })
		var got worth
		left, open := append([]int(nil), have...), append([]int(nil), want...)
		for i := range have {
			for j := range want {
				n := x[i][j]
				if n < 0 || n > 0 && !goes[[2]int{i, j}] {
					t.Fatalf("%d of sort %d in place %d", n, i, j)
				}
				left[i] -= n
				open[j] -= n
				for range n {
					got = got.plus(of[[2]int{i, j}], 1)
				}
			}
		}
		for _, n := range append(left, open...) {
			if n < 0 {
				t.Fatalf("more are put than there are: %v %v", left, open)
			}
		}
		var pieces []int
		for i, n := range have {
			for range n {
				pieces = append(pieces, i)
			}
		}
		var best worth
		room := append([]int(nil), want...)
		var try func(k int, sum worth)
		try = func(k int, sum worth) {
			if k == len(pieces) {
				if sum.over(best) {
					best = sum
				}
				return
			}
			try(k+1, sum)
			for j := range room {
				if key := ([2]int{pieces[k], j}); room[j] > 0 && goes[key] {
					room[j]--
					try(k+1, sum.plus(of[key], 1))
					room[j]++
				}
			}
		}
		try(0, worth{})
		if got != best {
			t.Fatalf("worth %v, the best there is is %v", got, best)
		}
	})
}
