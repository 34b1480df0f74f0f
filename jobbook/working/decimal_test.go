package working

import (
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"balustrade/jobbook/exact"
)

// longDecimal is what Decimal does by its words, with big numbers alone: math/big's own rounding, and noughts taken off an end that is one.
func longDecimal(r *big.Rat) string {
	if nine := r.FloatString(9); func() bool { back, _ := new(big.Rat).SetString(nine); return back.Cmp(r) == 0 }() {
		if strings.Contains(nine, ".") {
			nine = strings.TrimSuffix(strings.TrimRight(nine, "0"), ".")
		}
		return nine
	}
	six := r.FloatString(6)
	if strings.Trim(six, "-0.") == "" {
		return strings.TrimPrefix(six, "-")
	}
	return six
}

// TestShortDecimal holds the quick way against the long one, for numbers of the tape and for awkward ones.
func TestShortDecimal(t *testing.T) {
	check := func(n, d int64) {
		r := big.NewRat(n, d)
		if got, want := Decimal(exact.FromRat(r)), longDecimal(r); got != want {
			t.Errorf("%d/%d gives %s, want %s", n, d, got, want)
		}
	}
	ends := []int64{0, 1, -1, 2, 3, 7, 9, 10, 64, 127, 999_999, 1_000_000, 1_999_999, 2_000_000, 999_999_999, 1_000_000_000, 1_000_000_001, 25_400_000, 1<<62 - 1, 1<<63 - 1, -1 << 63, -(1<<63 - 1), 1_999_999_999_999}
	for _, n := range ends {
		for _, d := range ends {
			if d > 0 {
				check(n, d)
				check(-n, d)
			}
		}
	}
	for d := int64(1); d <= 40; d++ { // halves of a millionth and all around them
		for n := -3*d - 1; n <= 3*d+1; n++ {
			check(n, d)
			check(n, d*2_000_000)
			check(n, d*100_000)
		}
	}
	random := rand.New(rand.NewPCG(1, 2))
	some := func() int64 { return random.Int64() >> random.IntN(63) }
	for range 20_000 {
		n := some()
		check(n-some(), random.Int64()>>random.IntN(62)|1)
		check(random.Int64N(1<<40)-1<<39, int64(1)<<random.IntN(12))
	}
}
