package working

import (
	"fmt"
	"slices"
	"testing"

	"balustrade/jobbook/exact"
)

// TestManyInputs: each symbol once, in the order of the formula, for sums of few terms and of many. What is wanted is told by a map alone.
func TestManyInputs(t *testing.T) {
	for _, n := range []int{1, 2, 15, 16, 17, 18, 33, 100} {
		for _, others := range []int{1, 3, 16, 17, 40, 100} { // different symbols at most
			var e Expr
			var want []string
			seen := map[string]bool{}
			for i := range n {
				symbol := fmt.Sprint("x", i*i%others)
				in := &Input{Symbol: symbol, Value: exact.Of(int64(i))}
				if e == nil {
					e = in
				} else {
					e = Sum(e, in)
				}
				if !seen[symbol] {
					want = append(want, symbol)
				}
				seen[symbol] = true
			}
			var got []string
			for _, in := range (&Figure{Expr: e}).Inputs() {
				got = append(got, in.Symbol)
			}
			if !slices.Equal(got, want) {
				t.Errorf("%d terms of %d symbols: got %v, want %v", n, others, got, want)
			}
		}
	}
}
