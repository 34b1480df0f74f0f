// Package working records how a number came about: the formula, the numbers put in and where each was written, the
// result, and the source behind it. The tree that is evaluated is the tree that is printed.
//
// Arithmetic is exact (big.Rat) in the job's own unit; a root, a sine and their like are taken in floating point, snapped to a
// grid of 1e-9 so that every machine agrees, and exact again from there.
package working

import (
	"math"
	"math/big"
	"math/bits"
	"strconv"
	"strings"

	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// Expr is an expression: built from inputs by the functions of this package, then evaluated and printed.
type Expr interface {
	// eval gives the exact value, with the variables of a series set to vars; false where it is not defined.
	eval(vars map[string]*big.Rat) (*big.Rat, bool)
	// write prints with symbols or with numbers, bracketed if the operator around it binds tighter than it does.
	write(b *strings.Builder, numbers bool, around int)
	// inputs calls f with every input below, in the order of the formula.
	inputs(f func(*Input))
}

// How tightly operators bind, loosest first.
const (
	bindSum = iota + 1
	bindProduct
	bindFactor
)

// Input is a named number that goes into a formula, and where it comes from.
type Input struct {
	Symbol string     // as in the formula: L
	Name   string     // in words: clear length at the floor
	Value  *big.Rat   // in Unit
	Unit   string     // in, mm, or empty for a plain number
	At     source.Pos // the file where it was written; zero when it is another figure or a search result
	From   string     // in words, where no file says it: "found by search"
	Figure string     // the id of the figure that it is the result of
}

// Length makes an input of a length, in the system's unit.
func Length(symbol, name string, l length.Length, system length.System, at source.Pos) *Input {
	return &Input{Symbol: symbol, Name: name, Value: l.Rat(system), Unit: system.String(), At: at}
}

// Count makes an input of a plain number.
func Count(symbol, name string, n int64, at source.Pos) *Input {
	return &Input{Symbol: symbol, Name: name, Value: new(big.Rat).SetInt64(n), At: at}
}

// Because says in words where an input comes from when no file says it.
func (in *Input) Because(words string) *Input { in.From = words; return in }

func (in *Input) eval(map[string]*big.Rat) (*big.Rat, bool) { return in.Value, in.Value != nil }
func (in *Input) inputs(f func(*Input))                     { f(in) }
func (in *Input) write(b *strings.Builder, numbers bool, around int) {
	if numbers && in.Value != nil { // one without a value stays a symbol
		writeNumber(b, in.Value, around)
		return
	}
	b.WriteString(in.Symbol)
}

// Constant is a number that belongs to the formula itself, such as the 2 of a half.
func Constant(n int64) Expr { return constant{new(big.Rat).SetInt64(n)} }

type constant struct{ value *big.Rat }

func (c constant) eval(map[string]*big.Rat) (*big.Rat, bool)    { return c.value, true }
func (c constant) inputs(func(*Input))                          {}
func (c constant) write(b *strings.Builder, _ bool, around int) { writeNumber(b, c.value, around) }

// Variable stands for what changes from row to row of a series.
func Variable(symbol string) Expr { return variable(symbol) }

type variable string

func (v variable) eval(vars map[string]*big.Rat) (*big.Rat, bool) {
	x, ok := vars[string(v)]
	return x, ok
}
func (v variable) inputs(func(*Input))                     {}
func (v variable) write(b *strings.Builder, _ bool, _ int) { b.WriteString(string(v)) }

// binary is a sum, difference, product or quotient.
type binary struct {
	op    string
	binds int
	x, y  Expr
}

// Sum adds two or more terms.
func Sum(x, y Expr, more ...Expr) Expr { return chain("+", bindSum, x, y, more) }

// Difference takes y, and any more, from x.
func Difference(x, y Expr, more ...Expr) Expr { return chain("-", bindSum, x, y, more) }

// Product multiplies two or more factors.
func Product(x, y Expr, more ...Expr) Expr { return chain("*", bindProduct, x, y, more) }

// Quotient divides x by y. It has no value where y is zero.
func Quotient(x, y Expr) Expr { return binary{"/", bindProduct, x, y} }

func chain(op string, binds int, x, y Expr, more []Expr) Expr {
	e := Expr(binary{op, binds, x, y})
	for _, m := range more {
		e = binary{op, binds, e, m}
	}
	return e
}

func (e binary) eval(vars map[string]*big.Rat) (*big.Rat, bool) {
	x, okX := e.x.eval(vars)
	y, okY := e.y.eval(vars)
	if !okX || !okY {
		return nil, false
	}
	z := new(big.Rat)
	switch e.op {
	case "+":
		return z.Add(x, y), true
	case "-":
		return z.Sub(x, y), true
	case "*":
		return z.Mul(x, y), true
	}
	if y.Sign() == 0 {
		return nil, false
	}
	return z.Quo(x, y), true
}

func (e binary) inputs(f func(*Input)) { e.x.inputs(f); e.y.inputs(f) }

func (e binary) write(b *strings.Builder, numbers bool, around int) {
	if around > e.binds {
		b.WriteByte('(')
		defer b.WriteByte(')')
	}
	e.x.write(b, numbers, e.binds)
	b.WriteString(" " + e.op + " ")
	right := e.binds
	if e.op == "-" || e.op == "/" {
		right++ // a - (b + c), a / (b * c)
	}
	e.y.write(b, numbers, right)
}

// call is a named function of one or more arguments.
type call struct {
	name string
	args []Expr
	do   func(args []*big.Rat) (*big.Rat, bool)
}

func (e call) eval(vars map[string]*big.Rat) (*big.Rat, bool) {
	args := make([]*big.Rat, len(e.args))
	for i, a := range e.args {
		x, ok := a.eval(vars)
		if !ok {
			return nil, false
		}
		args[i] = x
	}
	return e.do(args)
}

func (e call) inputs(f func(*Input)) {
	for _, a := range e.args {
		a.inputs(f)
	}
}

func (e call) write(b *strings.Builder, numbers bool, _ int) {
	b.WriteString(e.name)
	b.WriteByte('(')
	for i, a := range e.args {
		if i > 0 {
			b.WriteString(", ")
		}
		a.write(b, numbers, 0)
	}
	b.WriteByte(')')
}

// Root is the square root, snapped to a grid of 1e-9. It has no value for a negative number.
func Root(x Expr) Expr {
	return call{"sqrt", []Expr{x}, func(a []*big.Rat) (*big.Rat, bool) {
		if a[0].Sign() < 0 {
			return nil, false
		}
		f, _ := a[0].Float64()
		return snap(math.Sqrt(f))
	}}
}

// Least is the smallest of its arguments.
func Least(x Expr, more ...Expr) Expr { return pick("min", -1, x, more) }

// Greatest is the largest of its arguments.
func Greatest(x Expr, more ...Expr) Expr { return pick("max", 1, x, more) }

func pick(name string, sign int, x Expr, more []Expr) Expr {
	return call{name, append([]Expr{x}, more...), func(a []*big.Rat) (*big.Rat, bool) {
		best := a[0]
		for _, v := range a[1:] {
			if v.Cmp(best) == sign {
				best = v
			}
		}
		return best, true
	}}
}

// RoundTo rounds x to a multiple of division, in the direction named: nearest(x, d), up(x, d), down(x, d).
// Nearest takes an exact half away from zero. It has no value where the division is not positive, or the direction not named.
func RoundTo(x, division Expr, how length.Rounding) Expr {
	name := map[length.Rounding]string{length.Down: "down", length.Nearest: "nearest", length.Up: "up"}[how]
	return call{name, []Expr{x, division}, func(a []*big.Rat) (*big.Rat, bool) {
		if a[1].Sign() <= 0 || name == "" {
			return nil, false
		}
		q := new(big.Rat).Quo(a[0], a[1])
		if new(big.Rat).Abs(q).Cmp(new(big.Rat).SetInt64(mostDivisions)) > 0 {
			return nil, false
		}
		n := length.FromRat(q, length.Nanometre, how) // a count of divisions, not a length
		return new(big.Rat).Mul(new(big.Rat).SetInt64(int64(n)), a[1]), true
	}}
}

// mostDivisions is how many divisions a rounded number may have: as many as an int64 counts, less room for the rounding.
const mostDivisions = math.MaxInt64 - 1

// snap makes a floating-point result exact on a grid of 1e-9, where the last bits of different machines agree.
func snap(f float64) (*big.Rat, bool) {
	const grid = 1_000_000_000
	if math.IsNaN(f) || math.Abs(f) > 1e9 {
		return nil, false
	}
	return big.NewRat(int64(math.Round(f*grid)), grid), true
}

func writeNumber(b *strings.Builder, r *big.Rat, around int) {
	text := Decimal(r)
	if strings.HasPrefix(text, "-") && around > 0 {
		text = "(" + text + ")"
	}
	b.WriteString(text)
}

// Decimal prints an exact number: in full where it ends within nine places, as tape readings do, else to six, all of them shown.
func Decimal(r *big.Rat) string {
	if r == nil {
		return ""
	}
	if text, ok := shortDecimal(r); ok {
		return text
	}
	places := 6
	if InFull(r) {
		places = 9
	}
	text := r.FloatString(places)
	if places == 9 && strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" || text == "-0.000000" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// InFull reports that Decimal prints all of a number: it ends within nine places.
func InFull(r *big.Rat) bool {
	const nine = 1_000_000_000
	if den := r.Denom(); den.IsInt64() { // of a fraction in its lowest terms
		return nine%den.Int64() == 0
	}
	return false
}

// shortDecimal is Decimal for numbers that fit the machine's words, as those that come from a tape do.
func shortDecimal(r *big.Rat) (string, bool) {
	const nine, six = 1_000_000_000, 1_000_000
	num, den := r.Num(), r.Denom()
	if !num.IsInt64() || !den.IsInt64() || num.Int64() == math.MinInt64 {
		return "", false
	}
	n, d := num.Int64(), uint64(den.Int64())
	negative := n < 0
	if negative {
		n = -n
	}
	whole, rest := uint64(n)/d, uint64(n)%d
	text := make([]byte, 0, 24) // a sign, eleven digits, a point and nine more; longer ones grow
	if negative {
		text = append(text, '-')
	}
	if rest == 0 {
		return string(strconv.AppendUint(text, whole, 10)), true
	}
	ends := InFull(r)
	places, unit := 6, uint64(six)
	if ends {
		places, unit = 9, nine
	}
	high, low := bits.Mul64(rest, unit)
	part, left := bits.Div64(high, low, d) // rest is less than d, so that the quotient is less than the unit
	if left >= d-left {                    // half away from nought, as big.Rat rounds
		part++
	}
	if part == unit {
		whole, part = whole+1, 0
	}
	if negative && whole == 0 && part == 0 {
		text = text[:0]
	}
	text = append(strconv.AppendUint(text, whole, 10), '.')
	at := len(text)
	for range places {
		text = append(text, '0')
	}
	for i := len(text) - 1; part > 0; i-- {
		text[i] += byte(part % 10)
		part /= 10
	}
	if ends {
		for len(text) > at && text[len(text)-1] == '0' {
			text = text[:len(text)-1]
		}
	}
	return string(text), true
}
