package working

import (
	"math"
	"math/big"
)

// Logarithm is the natural logarithm, snapped to a grid of 1e-9. It has no value for nothing and less.
func Logarithm(x Expr) Expr {
	return call{"ln", []Expr{x}, func(a []*big.Rat) (*big.Rat, bool) {
		if a[0].Sign() <= 0 {
			return nil, false
		}
		f, _ := a[0].Float64()
		return snap(math.Log(f))
	}}
}

// Doubled is 2 to the power of x, snapped to a grid of 1e-9. It has no value where it goes beyond 1e9.
func Doubled(x Expr) Expr {
	return call{"exp2", []Expr{x}, func(a []*big.Rat) (*big.Rat, bool) {
		f, _ := a[0].Float64()
		return snap(math.Exp2(f))
	}}
}
