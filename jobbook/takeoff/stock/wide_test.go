package stock

import (
	"math/big"
	"math/rand/v2"
	"testing"
)

// TestWide holds products, their order and their quotients to big numbers.
func TestWide(t *testing.T) {
	chance := rand.New(rand.NewPCG(5, 5))
	number := func() int64 { return chance.Int64() >> chance.IntN(63) }
	exact := func(a, b int64) *big.Int { return new(big.Int).Mul(big.NewInt(a), big.NewInt(b)) }
	for range 20_000 {
		a, b, c, d := number(), number(), number(), number()
		if chance.IntN(4) == 0 {
			c, d = b, a
		}
		if got, want := product(a, b).compare(product(c, d)), exact(a, b).Cmp(exact(c, d)); got != want {
			t.Fatalf("%d·%d against %d·%d: got %d, want %d", a, b, c, d, got, want)
		}
		n := max(1, a) // so that the quotient goes into 64 bits
		if chance.IntN(2) == 0 {
			n = max(1, b)
		}
		quotient, rest := new(big.Int).QuoRem(exact(a, b), big.NewInt(n), new(big.Int))
		up := quotient.Int64()
		if rest.Sign() > 0 {
			up++
		}
		if got := product(a, b).over(n); got != quotient.Int64() {
			t.Fatalf("%d·%d/%d: got %d, want %d", a, b, n, got, quotient)
		}
		if got := product(a, b).overUp(n); got != up {
			t.Fatalf("%d·%d/%d rounded up: got %d, want %d", a, b, n, got, up)
		}
	}
}
