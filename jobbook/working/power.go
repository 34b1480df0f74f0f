package working

import (
	"math"

	"balustrade/jobbook/exact"
)

// Logarithm is the natural logarithm, snapped to a grid of 1e-9. It has no value for nothing and less.
func Logarithm(x Expr) Expr {
	return call{"ln", []Expr{x}, func(x, _ exact.Number) exact.Number {
		if x.Sign() <= 0 {
			return exact.Number{}
		}
		return snap(math.Log(x.Float64()))
	}}
}

// Doubled is 2 to the power of x, snapped to a grid of 1e-9. It has no value where it goes beyond 1e9.
func Doubled(x Expr) Expr {
	return call{"exp2", []Expr{x}, func(x, _ exact.Number) exact.Number {
		return snap(math.Exp2(x.Float64()))
	}}
}
