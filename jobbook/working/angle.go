package working

import (
	"math"

	"balustrade/jobbook/exact"
)

// mostAngle bounds what an angle may be, in radians: up to here a float holds it to a fifth of the grid that results are put on.
const mostAngle = 1_000_000

// Sine is the sine of an angle in radians, snapped to a grid of 1e-9. It has no value for an angle beyond a million either way.
func Sine(x Expr) Expr { return turn("sin", x, math.Sin) }

// Cosine is the cosine of an angle in radians, snapped and bounded as Sine is.
func Cosine(x Expr) Expr { return turn("cos", x, math.Cos) }

// Tangent is the tangent of an angle in radians, snapped and bounded as Sine is. It has no value either where it goes beyond 1e9, so
// near to a right angle that no drawing shows the difference.
func Tangent(x Expr) Expr { return turn("tan", x, math.Tan) }

// Arctangent is the angle in radians, between minus and plus a right angle, whose tangent is x; snapped to a grid of 1e-9.
func Arctangent(x Expr) Expr {
	return call{"atan", []Expr{x}, func(x, _ exact.Number) exact.Number {
		return snap(math.Atan(x.Float64()))
	}}
}

func turn(name string, x Expr, of func(float64) float64) Expr {
	return call{name, []Expr{x}, func(x, _ exact.Number) exact.Number {
		f := x.Float64()
		if math.Abs(f) > mostAngle {
			return exact.Number{}
		}
		return snap(of(f))
	}}
}

// Pi is π to nine figures, which is closer than any tape.
func Pi() *Input {
	return (&Input{Symbol: "pi", Name: "circumference over diameter", Value: exact.New(314_159_265, 100_000_000)}).Because("constant, to nine figures")
}
