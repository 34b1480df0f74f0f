package profile

import (
	"math/big"
	"math/rand/v2"
	"testing"

	"balustrade/jobbook/length"
)

// TestBetween holds the width between two stations to the exact quotient, for parts of some millimetres, of a metre and of a kilometre: no whole number of nanometres is nearer to it, and of two as near it is the larger.
func TestBetween(t *testing.T) {
	chance := rand.New(rand.NewPCG(7, 7))
	for range 20_000 {
		most := []int64{6, 40_000_000, small - 1, small, small + 2, 1_000_000_000_000}[chance.IntN(6)]
		a := Station{At: length.Length(chance.Int64N(most)), Width: length.Length(chance.Int64N(most))}
		b := Station{At: a.At + 2 + length.Length(chance.Int64N(most)), Width: length.Length(chance.Int64N(most))}
		z := a.At + 1 + length.Length(chance.Int64N(int64(b.At-a.At-1)))
		got := int64(Between(a, b, z).Width)

		// (got - width)·long, twice: over -long, and at most long.
		long := big.NewInt(int64(b.At - a.At))
		off := new(big.Int).Mul(big.NewInt(got-int64(a.Width)), long)
		off.Sub(off, new(big.Int).Mul(big.NewInt(int64(b.Width-a.Width)), big.NewInt(int64(z-a.At))))
		off.Lsh(off, 1)
		if off.Cmp(long) > 0 || off.Cmp(new(big.Int).Neg(long)) <= 0 {
			t.Fatalf("from %d wide at %d to %d at %d: %d at %d", a.Width, a.At, b.Width, b.At, got, z)
		}
	}
}
