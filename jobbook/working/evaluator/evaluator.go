// Package evaluator works printed formulas out for the tests: Go's own parser, and floating point of 200 bits. It shares no code with
// the package that prints them, and nothing but tests imports it.
package evaluator

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math/big"
	"strings"
)

// Span is what a number may be: a number printed to six places may stand for any within half of the last place.
type Span struct{ Low, High *big.Float }

const evaluatorBits = 200

// near is what floating point of 200 bits may be off by, with room to spare: numbers here have a dozen digits, 60 are kept.
var near = parseFloat("1e-40")

// Evaluate works a printed formula out: + - * / and brackets, sqrt, sin, cos, tan, atan, ln, exp2, min, max, and nearest, up, down with a
// division. vars gives the variables of a series, or the inputs of a formula in symbols. rounded says which printed numbers are
// rounded to six places; nil for none. An error is a formula that can't be read, or that has no value.
func Evaluate(formula string, vars map[string]string, rounded func(number string) bool) (Span, error) {
	tree, err := parser.ParseExpr(formula)
	if err != nil {
		return Span{}, err
	}
	e := evaluator{vars, rounded}
	return e.value(tree)
}

// Holds reports whether a printed result is one that the formula may have. A result rounded to six places may be half a millionth off.
func (s Span) Holds(result string, isRounded bool) bool {
	r := printed(result, isRounded)
	slack := float().Add(near, float().Mul(near, magnitude(r.High)))
	return float().Add(s.High, slack).Cmp(r.Low) >= 0 && float().Sub(s.Low, slack).Cmp(r.High) <= 0
}

// Width is how much the Span leaves open.
func (s Span) Width() float64 {
	w, _ := float().Sub(s.High, s.Low).Float64()
	return w
}

type evaluator struct {
	vars    map[string]string
	rounded func(string) bool
}

func float() *big.Float { return new(big.Float).SetPrec(evaluatorBits) }

func parseFloat(text string) *big.Float {
	f, _, err := big.ParseFloat(text, 10, evaluatorBits, big.ToNearestEven)
	if err != nil {
		return float()
	}
	return f
}

func magnitude(f *big.Float) *big.Float { return float().Abs(f) }

// printed is a number as printed: exactly that, or within half a millionth of it.
func printed(number string, isRounded bool) Span {
	f := parseFloat(number)
	if !isRounded {
		return Span{f, f}
	}
	half := parseFloat("0.5e-6")
	return Span{float().Sub(f, half), float().Add(f, half)}
}

func (e evaluator) number(text string) Span {
	return printed(text, e.rounded != nil && e.rounded(text))
}

func (e evaluator) value(x ast.Expr) (Span, error) {
	switch x := x.(type) {
	case *ast.ParenExpr:
		return e.value(x.X)
	case *ast.BasicLit:
		if x.Kind != token.INT && x.Kind != token.FLOAT {
			return Span{}, fmt.Errorf("%s is no number", x.Value)
		}
		return e.number(x.Value), nil
	case *ast.Ident:
		text, ok := e.vars[x.Name]
		if !ok {
			return Span{}, fmt.Errorf("nothing is named %s", x.Name)
		}
		return e.number(text), nil
	case *ast.UnaryExpr:
		s, err := e.value(x.X)
		if err != nil || x.Op != token.SUB {
			return Span{}, fmt.Errorf("%s %v: %w", x.Op, s, err)
		}
		return Span{float().Neg(s.High), float().Neg(s.Low)}, nil
	case *ast.BinaryExpr:
		a, err := e.value(x.X)
		if err != nil {
			return Span{}, err
		}
		b, err := e.value(x.Y)
		if err != nil {
			return Span{}, err
		}
		return combine(x.Op, a, b)
	case *ast.CallExpr:
		name, ok := x.Fun.(*ast.Ident)
		if !ok {
			return Span{}, fmt.Errorf("%T is no function", x.Fun)
		}
		var args []Span
		for _, a := range x.Args {
			s, err := e.value(a)
			if err != nil {
				return Span{}, err
			}
			args = append(args, s)
		}
		return apply(name.Name, args)
	}
	return Span{}, fmt.Errorf("%T has no place in a formula", x)
}

func combine(op token.Token, a, b Span) (Span, error) {
	switch op {
	case token.ADD:
		return Span{float().Add(a.Low, b.Low), float().Add(a.High, b.High)}, nil
	case token.SUB:
		return Span{float().Sub(a.Low, b.High), float().Sub(a.High, b.Low)}, nil
	case token.MUL:
		return corners(a, b, func(x, y *big.Float) *big.Float { return float().Mul(x, y) }), nil
	case token.QUO:
		if b.Low.Cmp(near) <= 0 && b.High.Cmp(float().Neg(near)) >= 0 {
			return Span{}, fmt.Errorf("division by zero")
		}
		return corners(a, b, func(x, y *big.Float) *big.Float { return float().Quo(x, y) }), nil
	}
	return Span{}, fmt.Errorf("%s has no place in a formula", op)
}

// corners is the Span of a product or a quotient, which is greatest and least at ends of its parts.
func corners(a, b Span, do func(x, y *big.Float) *big.Float) Span {
	first := do(a.Low, b.Low)
	s := Span{first, first}
	for _, v := range []*big.Float{do(a.Low, b.High), do(a.High, b.Low), do(a.High, b.High)} {
		if v.Cmp(s.Low) < 0 {
			s.Low = v
		}
		if v.Cmp(s.High) > 0 {
			s.High = v
		}
	}
	return s
}

func apply(name string, args []Span) (Span, error) {
	switch {
	case name == "sqrt" && len(args) == 1:
		return root(args[0])
	case len(args) == 1 && angles[name] != nil:
		return angles[name](args[0])
	case len(args) == 1 && powers[name] != nil:
		return powers[name](args[0])
	case (name == "min" || name == "max") && len(args) > 0:
		s := args[0]
		sign := 1
		if name == "min" {
			sign = -1
		}
		for _, a := range args[1:] {
			if a.Low.Cmp(s.Low) == sign {
				s.Low = a.Low
			}
			if a.High.Cmp(s.High) == sign {
				s.High = a.High
			}
		}
		return s, nil
	case (name == "nearest" || name == "up" || name == "down") && len(args) == 2:
		x, d := args[0], args[1]
		if d.Low.Cmp(d.High) != 0 {
			return Span{}, fmt.Errorf("%s to a division that is not exact", name)
		}
		if d.Low.Cmp(near) <= 0 {
			return Span{}, fmt.Errorf("%s to a division of %s", name, d.Low.String())
		}
		return Span{multiple(name, x.Low, d.Low), multiple(name, x.High, d.Low)}, nil
	}
	return Span{}, fmt.Errorf("%s of %d is not a function", name, len(args))
}

// root is the square root. The one that was printed was taken in floating point of 53 bits and put on a grid of 1e-9.
func root(a Span) (Span, error) {
	if a.High.Cmp(float().Neg(near)) < 0 {
		return Span{}, fmt.Errorf("root of a negative number")
	}
	ends := [2]*big.Float{}
	for i, x := range []*big.Float{a.Low, a.High} {
		r := float()
		if x.Sign() > 0 {
			r.Sqrt(x)
		}
		off := float().Mul(r, float().SetMantExp(big.NewFloat(1), -51)) // two roundings of half a unit in the 53rd bit, doubled
		off.Add(off, parseFloat("0.5e-9"))
		if i == 0 {
			off.Neg(off)
		}
		ends[i] = r.Add(r, off)
	}
	return Span{ends[0], ends[1]}, nil
}

// multiple rounds x to a multiple of d. A quotient within a hair of a whole or a half is taken for one: decimals such as 0.1 are
// not exact in two's powers, whatever the precision.
func multiple(name string, x, d *big.Float) *big.Float {
	twice := float().Quo(x, d)
	twice.Add(twice, twice)
	if whole := round(twice, "nearest"); magnitude(float().Sub(twice, whole)).Cmp(near) < 0 {
		twice = whole
	}
	return float().Mul(round(twice.Quo(twice, big.NewFloat(2)), name), d)
}

// round gives a whole number. Nearest takes a half away from zero.
func round(x *big.Float, how string) *big.Float {
	if how == "nearest" {
		half := big.NewFloat(0.5)
		if x.Sign() < 0 {
			return round(float().Sub(x, half), "up")
		}
		return round(float().Add(x, half), "down")
	}
	text := x.Text('f', 0) // to the nearest, which may be one off on either side
	n := parseFloat(text)
	switch {
	case how == "down" && n.Cmp(x) > 0:
		n.Sub(n, big.NewFloat(1))
	case how == "up" && n.Cmp(x) < 0:
		n.Add(n, big.NewFloat(1))
	}
	return n
}

// SixPlaces says that a printed number may be rounded: it has six decimals or fewer. One with more is in full, for that is how such
// numbers are printed.
func SixPlaces(number string) bool {
	_, decimals, _ := strings.Cut(number, ".")
	return len(decimals) <= 6
}
