package exact

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"
)

// awkward are whole numbers about which words of the machine overflow.
var awkward = []int64{0, 1, -1, 2, 3, -7, 10, 64, 396_875, 25_400_000, 1_000_000_000, 1<<31 - 1, 1 << 31, 1 << 32, 1<<53 - 1, 1<<53 + 1, 1 << 62, -(1 << 62), math.MaxInt64, math.MaxInt64 - 1, math.MinInt64, math.MinInt64 + 1}

// same holds a number to the big one that it should be: its value, its form, and all that can be asked of it.
func same(t *testing.T, what string, got Number, want *big.Rat) {
	t.Helper()
	if want == nil {
		if got.Known() || got.Rat() != nil || got.Sign() != 0 || got.Fixed(2) != "" || !math.IsNaN(got.Float64()) {
			t.Fatalf("%s is %s, want no number", what, got)
		}
		return
	}
	if got.Rat() == nil || got.Rat().Cmp(want) != 0 {
		t.Fatalf("%s is %s, want %s", what, got, want)
	}
	fits := want.Num().IsInt64() && want.Denom().IsInt64() && want.Num().Int64() != math.MinInt64
	num, den, ok := got.Fraction()
	if ok != fits || ok && (num != want.Num().Int64() || den != want.Denom().Int64() || got.big != nil) {
		t.Fatalf("%s is kept as %d/%d, %v", what, num, den, got.big)
	}
	if n, whole := got.Int64(); whole != (fits && want.IsInt()) || whole && n != want.Num().Int64() || got.IsInt() != want.IsInt() {
		t.Fatalf("%s is the whole number %d, %v", what, n, whole)
	}
	if f, _ := want.Float64(); got.Float64() != f || got.Sign() != want.Sign() || got.String() != want.RatString() {
		t.Fatalf("%s is %v, %d, %s", what, got.Float64(), got.Sign(), got)
	}
	for _, places := range []int{0, 1, 6, 9, 18, 19} {
		if got.Fixed(places) != want.FloatString(places) {
			t.Fatalf("%s to %d places is %s, want %s", what, places, got.Fixed(places), want.FloatString(places))
		}
	}
}

// all holds every operation on two numbers to the same in big ones.
func all(t *testing.T, a, b, c, d int64) {
	t.Helper()
	rat := func(n, d int64) *big.Rat {
		if d == 0 {
			return nil
		}
		return big.NewRat(n, d)
	}
	x, y, p, q := New(a, b), New(c, d), rat(a, b), rat(c, d)
	same(t, "the first", x, p)
	op := func(do func(z, x, y *big.Rat) *big.Rat, ok bool) *big.Rat {
		if p == nil || q == nil || !ok {
			return nil
		}
		return do(new(big.Rat), p, q)
	}
	name := x.String() + ", " + y.String()
	same(t, "the sum of "+name, x.Add(y), op((*big.Rat).Add, true))
	same(t, "the difference of "+name, x.Sub(y), op((*big.Rat).Sub, true))
	same(t, "the product of "+name, x.Mul(y), op((*big.Rat).Mul, true))
	same(t, "the quotient of "+name, x.Quo(y), op((*big.Rat).Quo, q != nil && q.Sign() != 0))
	want := 0
	if p != nil && q != nil {
		want = p.Cmp(q)
	}
	if got := x.Cmp(y); got != want {
		t.Fatalf("%s compare as %d, want %d", name, got, want)
	}
}

// TestNumber holds every operation to math/big: at the ends of what fits, and at random.
func TestNumber(t *testing.T) {
	for _, a := range awkward {
		for _, b := range awkward {
			for _, c := range awkward {
				all(t, a, b, c, 1)
				all(t, a, 7, b, c)
				all(t, a, b, c, a)
			}
		}
	}
	random := rand.New(rand.NewPCG(1, 2))
	some := func() int64 { return (random.Int64() - random.Int64()) >> random.IntN(63) }
	for range 3000 {
		all(t, some(), some(), some(), some())
		all(t, some()>>20, 25_400_000, some()>>20, 1_000_000*(1+random.Int64N(64)))
	}
}

// FuzzNumber does the same for whatever comes.
func FuzzNumber(f *testing.F) {
	f.Add(int64(1), int64(3), int64(-1), int64(6))
	f.Fuzz(func(t *testing.T, a, b, c, d int64) { all(t, a, b, c, d) })
}

// TestBeyond: numbers that do not fit go on, come back as soon as they do, and change nobody's operand.
func TestBeyond(t *testing.T) {
	x, want := Of(math.MaxInt64), big.NewRat(math.MaxInt64, 1)
	for range 5 {
		was := x
		x, want = x.Mul(x), want.Mul(want, want)
		same(t, "a square", x, want)
		same(t, "its root", x.Quo(was), was.Rat())
		same(t, "less itself", x.Sub(x), new(big.Rat))
		if x.Cmp(was) != 1 || was.Cmp(x) != -1 || x.Cmp(x) != 0 {
			t.Fatalf("%s compares with %s as %d", x, was, x.Cmp(was))
		}
	}
	r := x.Rat()
	r.SetInt64(3) // a number of its own
	same(t, "the last square", x, want)
	from := new(big.Rat).Set(want)
	y := FromRat(from)
	from.SetInt64(3)
	same(t, "one from a big number that changed since", y, want)
	same(t, "from nothing", FromRat(nil), nil)
}

// TestParse: what is read is what big.Rat reads.
func TestParse(t *testing.T) {
	check := func(text string) {
		t.Helper()
		want, ok := new(big.Rat).SetString(text)
		got, read := Parse(text)
		if read != ok {
			t.Fatalf("%q is read: %v, want %v", text, read, ok)
		}
		if ok {
			same(t, text, got, want)
		} else {
			same(t, text, got, nil)
		}
	}
	for _, text := range []string{"", ".", "0", "00", "010", "0.452", "0.000000844", "5.", ".5", "-3", "+3", "1/3", "1/0", "1e3", "0x10", "1_0", "1..2", "1.2.3", " 1", "½", "999999999999999999", "9999999999999999999", "0.0000000000000000001", "123456789012345678.9"} {
		check(text)
	}
	random := rand.New(rand.NewPCG(3, 4))
	for range 20_000 {
		text := make([]byte, random.IntN(22))
		for i := range text {
			text[i] = "0123456789."[random.IntN(11)]
		}
		check(string(text))
	}
}

// TestAllocations: what fits asks for no memory.
func TestAllocations(t *testing.T) {
	x, y := New(1511, 16), New(2_398_712_500, 19)
	if n := testing.AllocsPerRun(100, func() {
		if x.Add(y).Mul(x).Sub(y).Quo(x).Cmp(y) == 0 {
			t.Error("they are one")
		}
	}); n != 0 {
		t.Errorf("four operations ask %v times", n)
	}
}
