package length

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// rounded is n/d rounded to a whole number with big numbers, written apart from the program: the floor and the ceiling are tried, and the nearer kept, at a tie the one farther from nought.
func rounded(q *big.Rat, how Rounding) *big.Int {
	floor := new(big.Int).Div(q.Num(), q.Denom()) // Euclidean, and the denominator is over 0
	if q.IsInt() || how == Down {
		return floor
	}
	ceiling := new(big.Int).Add(floor, big.NewInt(1))
	if how == Up {
		return ceiling
	}
	below := new(big.Rat).Sub(q, new(big.Rat).SetInt(floor))
	switch below.Cmp(big.NewRat(1, 2)) {
	case -1:
		return floor
	case 1:
		return ceiling
	}
	if floor.CmpAbs(ceiling) > 0 {
		return floor
	}
	return ceiling
}

var awkward = []int64{0, 1, -1, 2, -2, 3, -3, 5, -7, 10, 1_000_000, 396_875, -396_875, 25_400_000, 12_700_000, 1 << 31, 1<<62 - 1, 1 << 62, -(1 << 62), math.MaxInt64, math.MaxInt64 - 1, math.MinInt64, math.MinInt64 + 1}

// TestMulDiv holds it to big numbers, at the ends and at random.
func TestMulDiv(t *testing.T) {
	check := func(x, y, z int64) {
		want := int64(0)
		if z != 0 {
			exact := rounded(new(big.Rat).SetFrac(new(big.Int).Mul(big.NewInt(x), big.NewInt(y)), big.NewInt(z)), Nearest)
			if most := big.NewInt(math.MaxInt64); exact.CmpAbs(most) > 0 {
				exact = most.Mul(most, big.NewInt(int64(exact.Sign())))
			}
			want = exact.Int64()
		}
		if got := MulDiv(x, y, z); got != want {
			t.Errorf("%d · %d / %d gives %d, want %d", x, y, z, got, want)
		}
	}
	for _, x := range awkward {
		for _, y := range awkward {
			for _, z := range awkward {
				check(x, y, z)
			}
		}
	}
	random := rand.New(rand.NewPCG(3, 4))
	some := func() int64 { return (random.Int64() - random.Int64()) >> random.IntN(62) }
	for range 50_000 {
		check(some(), some(), some())
	}
}

// TestQuotient holds rounding in the machine's words to the same in big numbers, as lengths and as fractions of nanometres.
func TestQuotient(t *testing.T) {
	check := func(n, d int64, division Length, how Rounding) {
		want := rounded(new(big.Rat).Quo(big.NewRat(n, d), new(big.Rat).SetInt64(int64(division))), how)
		if last := big.NewInt(math.MaxInt64 / int64(division)); want.CmpAbs(last) > 0 {
			want = last.Mul(last, big.NewInt(int64(want.Sign())))
		}
		if got := FromRat(big.NewRat(n, d), division, how); got != Length(want.Int64())*division {
			t.Errorf("%d/%d to %d, %d, gives %d, want %d of them", n, d, division, how, got, want)
		}
		if got := Quotient(n, d, division, how); got != Length(want.Int64())*division {
			t.Errorf("%d and %d to %d, %d, give %d, want %d of them", n, d, division, how, got, want)
		}
		if d == 1 {
			if got := Length(n).Round(division, how); got != Length(want.Int64())*division {
				t.Errorf("%d rounded to %d, %d, gives %d, want %d of them", n, division, how, got, want)
			}
		}
	}
	for how := Down; how <= Up; how++ {
		for _, n := range awkward {
			for _, d := range awkward {
				for _, division := range []Length{1, 2, 3, Millimetre, Inch / 16, Inch, 1 << 62, math.MaxInt64} {
					if d > 0 {
						check(n, d, division, how)
					}
				}
			}
		}
		random := rand.New(rand.NewPCG(5, 6))
		for range 20_000 {
			check((random.Int64()-random.Int64())>>random.IntN(62), 1+random.Int64()>>random.IntN(62), 1+Length(random.Int64()>>(1+random.IntN(61))), how)
			check(random.Int64N(1<<44)-1<<43, 1, Inch/64, how)
		}
	}
}

// TestDecimalInWords holds decimals worked out in the machine's words to big numbers, on both sides of where these take over.
func TestDecimalInWords(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for places := 0; places <= mostPlaces; places++ {
		scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(places)), nil)
		for range 4000 {
			l := Length((random.Int64() - random.Int64()) >> random.IntN(62))
			for _, system := range []System{Inches, Millimetres} {
				for how := Down - 1; how <= Up+1; how++ { // to the nearest where it is none of the three
					exact := new(big.Rat).Mul(big.NewRat(int64(l), int64(system.Unit())), new(big.Rat).SetInt(scale))
					named := how
					if how < Down || how > Up {
						named = Nearest
					}
					whole := rounded(exact, named)
					if !whole.IsInt64() {
						continue // over 100 m by far
					}
					want := new(big.Rat).SetFrac(whole, scale).FloatString(places)
					if got := (Style{System: system, Rounding: how}).Decimal(l, places); got != want {
						t.Fatalf("%d nm to %d places, %d, in %s is %s, want %s", int64(l), places, how, system, got, want)
					}
				}
			}
		}
	}
}
