package evaluator

import (
	"fmt"
	"math/big"
)

// logarithm takes roots until the number is near 1, where ln x = 2·(z + z³/3 + z⁵/5 + …), z = (x - 1)/(x + 1), is quick.
func logarithm(x *big.Float) *big.Float {
	x = float().Set(x)
	roots := 0
	for ; magnitude(float().Sub(x, whole(1))).Cmp(big.NewFloat(0.01)) > 0; roots++ {
		x.Sqrt(x)
	}
	z := float().Quo(float().Sub(x, whole(1)), float().Add(x, whole(1)))
	sum, power, square := float().Set(z), float().Set(z), float().Mul(z, z)
	for n := int64(3); magnitude(power).Cmp(tiny) > 0; n += 2 {
		power.Mul(power, square)
		sum.Add(sum, float().Quo(power, whole(n)))
	}
	return float().SetMantExp(sum, roots+1)
}

// doubled takes whole powers off first; the rest is 1 + y + y²/2! + …, y = x·ln 2.
func doubled(x *big.Float) *big.Float {
	times := round(x, "down")
	y := float().Mul(float().Sub(x, times), logarithm(whole(2)))
	sum, term := whole(1), whole(1)
	for n := int64(1); magnitude(term).Cmp(tiny) > 0; n++ {
		term.Mul(term, y)
		term.Quo(term, whole(n))
		sum.Add(sum, term)
	}
	n, _ := times.Int64()
	return float().SetMantExp(sum, int(n))
}

// powers are ln and exp2, taken in floating point of 53 bits and put on a grid of 1e-9 as the angles are.
var powers = map[string]func(Span) (Span, error){
	"ln": func(x Span) (Span, error) {
		x = asRead(x)
		if x.Low.Sign() <= 0 {
			return Span{}, fmt.Errorf("logarithm of nothing")
		}
		return printedFunction(x, logarithm), nil
	},
	"exp2": func(x Span) (Span, error) {
		const most = 64
		if magnitude(x.Low).Cmp(whole(most)) > 0 || magnitude(x.High).Cmp(whole(most)) > 0 {
			return Span{}, fmt.Errorf("a power of two beyond what is printed")
		}
		return printedFunction(asRead(x), doubled), nil
	},
}
