package evaluator

import (
	"fmt"
	"math/big"
)

// angles are the functions of an angle in radians, and atan, which gives one. The ones that were printed were taken in floating point
// of 53 bits and put on a grid of 1e-9: as much is left open here.
var angles = map[string]func(Span) (Span, error){
	"sin":  func(x Span) (Span, error) { return wave(x, float()) },
	"cos":  func(x Span) (Span, error) { return wave(x, quarterTurn) },
	"tan":  tangent,
	"atan": func(x Span) (Span, error) { return printedFunction(asRead(x), arctangent), nil },
}

// pi is from John Machin's sum of 1706, pi/4 = 4·atan(1/5) - atan(1/239).
var (
	pi          = machin()
	quarterTurn = float().Quo(pi, whole(2))
	fullTurn    = float().Mul(pi, whole(2))
)

func whole(n int64) *big.Float { return float().SetInt64(n) }

func machin() *big.Float {
	fifth, small := float().Quo(whole(1), whole(5)), float().Quo(whole(1), whole(239))
	quarter := float().Sub(float().Mul(whole(4), atanSeries(fifth)), atanSeries(small))
	return quarter.Mul(quarter, whole(4))
}

// tiny is where a series is left: what follows is less than the last of 200 bits of a number that is printed.
var tiny = float().SetMantExp(big.NewFloat(1), -2*evaluatorBits)

// sineSeries is x - x³/3! + x⁵/5! - …, for x within half a turn.
func sineSeries(x *big.Float) *big.Float {
	sum, term, square := float().Set(x), float().Set(x), float().Mul(x, x)
	for n := int64(2); magnitude(term).Cmp(tiny) > 0; n += 2 {
		term.Mul(term, square)
		term.Quo(term, whole(-n*(n+1)))
		sum.Add(sum, term)
	}
	return sum
}

// atanSeries is x - x³/3 + x⁵/5 - …, for x well within 1.
func atanSeries(x *big.Float) *big.Float {
	sum, power, square := float().Set(x), float().Set(x), float().Mul(x, x)
	for n := int64(3); magnitude(power).Cmp(tiny) > 0; n += 2 {
		power.Neg(power.Mul(power, square))
		sum.Add(sum, float().Quo(power, whole(n)))
	}
	return sum
}

// sine takes whole turns off first.
func sine(x *big.Float) *big.Float {
	turns := round(float().Quo(x, fullTurn), "nearest")
	return sineSeries(float().Sub(x, turns.Mul(turns, fullTurn)))
}

// arctangent halves the angle until its series is quick: atan x = 2·atan(x / (1 + √(1 + x²))).
func arctangent(x *big.Float) *big.Float {
	const halvings = 6
	x = float().Set(x)
	for range halvings {
		root := float().Add(float().Mul(x, x), whole(1))
		root.Sqrt(root)
		x.Quo(x, root.Add(root, whole(1)))
	}
	return float().SetMantExp(atanSeries(x), halvings)
}

// asRead widens a number by what reading it into 53 bits may cost, doubled.
func asRead(x Span) Span {
	off := func(v *big.Float) *big.Float { return float().SetMantExp(magnitude(v), -52) }
	return Span{float().Sub(x.Low, off(x.Low)), float().Add(x.High, off(x.High))}
}

// asTaken widens a result by what floating point of 53 bits may be off, by eight of its last bits, and by half the grid.
func asTaken(x Span) Span {
	off := func(v *big.Float) *big.Float {
		o := float().SetMantExp(magnitude(v), -50)
		return o.Add(o, parseFloat("0.5e-9"))
	}
	return Span{float().Sub(x.Low, off(x.Low)), float().Add(x.High, off(x.High))}
}

// printedFunction is the Span of a function that never falls.
func printedFunction(x Span, of func(*big.Float) *big.Float) Span {
	return asTaken(Span{of(x.Low), of(x.High)})
}

// wave is the Span of the sine of x + ahead: between the values at its ends, unless a crest or a trough lies between them.
func wave(x Span, ahead *big.Float) (Span, error) {
	x = asRead(x)
	x = Span{float().Add(x.Low, ahead), float().Add(x.High, ahead)}
	a, b := sine(x.Low), sine(x.High)
	if a.Cmp(b) > 0 {
		a, b = b, a
	}
	if between(x, quarterTurn) {
		b = whole(1)
	}
	if between(x, float().Neg(quarterTurn)) {
		a = whole(-1)
	}
	return asTaken(Span{a, b}), nil
}

// between reports that a place which comes again with every full turn lies in a Span.
func between(x Span, place *big.Float) bool {
	turns := func(v *big.Float) *big.Float {
		return float().Quo(float().Sub(v, place), fullTurn)
	}
	return round(turns(x.Low), "up").Cmp(round(turns(x.High), "down")) <= 0
}

// tangent has no value where a right angle lies in the Span.
func tangent(x Span) (Span, error) {
	x = asRead(x)
	if between(x, quarterTurn) || between(x, float().Neg(quarterTurn)) {
		return Span{}, fmt.Errorf("tangent of a right angle")
	}
	return printedFunction(x, func(v *big.Float) *big.Float {
		return float().Quo(sine(v), sine(float().Add(v, quarterTurn)))
	}), nil
}
