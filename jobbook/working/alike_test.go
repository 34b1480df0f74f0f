package working

import (
	"math/rand/v2"
	"testing"

	"balustrade/jobbook/exact"
)

// grown is an expression of a few inputs, the same for the same numbers drawn.
func grown(r *rand.Rand, deep int) Expr {
	if deep == 0 || r.IntN(6) == 0 {
		switch r.IntN(3) {
		case 0:
			return Constant(int64(r.IntN(2) + 1))
		case 1:
			return Variable("k")
		}
		in := &Input{Symbol: string(rune('a' + r.IntN(2))), Name: "it", Figure: string(rune('x' + r.IntN(2)))}
		if r.IntN(4) > 0 {
			in.Value = exact.New(int64(r.IntN(2)), int64(r.IntN(2)+1))
		}
		return in
	}
	x, y := grown(r, deep-1), grown(r, deep-1)
	switch r.IntN(6) {
	case 0:
		return Sum(x, y)
	case 1:
		return Difference(x, y)
	case 2:
		return Product(x, y)
	case 3:
		return Quotient(x, y)
	case 4:
		return Root(x)
	}
	return Greatest(x, y)
}

// TestAlike: what is alike prints alike and leads to the same inputs; what is made twice of the same is alike.
func TestAlike(t *testing.T) {
	same := func(x, y *Input) bool { return x.Name == y.Name && x.Figure == y.Figure }
	alike, others := 0, 0
	for seed := range uint64(20_000) {
		made := func(of uint64) Expr { return grown(rand.New(rand.NewPCG(of, 0)), int(of%3)) }
		a, again, b := &Figure{Expr: made(seed)}, &Figure{Expr: made(seed)}, &Figure{Expr: made(seed + 3)}
		if !Alike(a.Expr, again.Expr, same) {
			t.Fatalf("%s is not like itself", a.Numbers())
		}
		if !Alike(a.Expr, b.Expr, same) {
			others++
			continue
		}
		alike++
		if a.Symbols() != b.Symbols() || a.Numbers() != b.Numbers() {
			t.Fatalf("%s and %s are taken for the same, with numbers %s and %s", a.Symbols(), b.Symbols(), a.Numbers(), b.Numbers())
		}
		mine, its := a.Inputs(), b.Inputs()
		if len(mine) != len(its) {
			t.Fatalf("%s has %d inputs and %d", a.Symbols(), len(mine), len(its))
		}
		for i := range mine {
			if !same(mine[i], its[i]) {
				t.Fatalf("input %d of %s is another one", i, a.Symbols())
			}
		}
	}
	if alike < 100 || others < 100 {
		t.Errorf("%d were alike and %d were not: too few to tell", alike, others)
	}
}
