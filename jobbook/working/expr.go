// Package working records how a number came about: the formula, the numbers put in and where each was written, the
// result, and the source behind it. The tree that is evaluated is the tree that is printed.
//
// Arithmetic is exact in the job's own unit; a root, a sine and their like are taken in floating point, snapped to a
// grid of 1e-9 so that every machine agrees, and exact again from there.
package working

import (
	"bytes"
	"math"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// Expr is an expression: built from inputs by the functions of this package, then evaluated and printed.
type Expr interface {
	// eval gives the exact value, with the variables of a series set to vars; no number where it is not defined.
	eval(vars map[string]exact.Number) exact.Number
	// write prints behind some text, with symbols or with numbers, bracketed if the operator around it binds tighter than it does.
	write(b []byte, numbers bool, around int) []byte
	// inputs calls f with every input below, in the order of the formula.
	inputs(f func(*Input))
}

// How tightly operators bind, loosest first.
const (
	bindSum = iota + 1
	bindProduct
)

// Input is a named number that goes into a formula, and where it comes from.
type Input struct {
	Symbol string       // as in the formula: L
	Name   string       // in words: clear length at the floor
	Value  exact.Number // in Unit; no number where it is to be measured
	Unit   string       // in, mm, or empty for a plain number
	At     source.Pos   // the file where it was written; zero when it is another figure or a search result
	From   string       // in words, where no file says it: "found by search"
	Figure string       // the id of the figure that it is the result of
}

// Length makes an input of a length, in the system's unit.
func Length(symbol, name string, l length.Length, system length.System, at source.Pos) *Input {
	return &Input{Symbol: symbol, Name: name, Value: l.In(system), Unit: system.String(), At: at}
}

// Count makes an input of a plain number.
func Count(symbol, name string, n int64, at source.Pos) *Input {
	return &Input{Symbol: symbol, Name: name, Value: exact.Of(n), At: at}
}

// Because says in words where an input comes from when no file says it.
func (in *Input) Because(words string) *Input { in.From = words; return in }

func (in *Input) eval(map[string]exact.Number) exact.Number { return in.Value }
func (in *Input) inputs(f func(*Input))                     { f(in) }
func (in *Input) write(b []byte, numbers bool, around int) []byte {
	if numbers && in.Value.Known() { // one without a value stays a symbol
		return writeNumber(b, in.Value, around)
	}
	return append(b, in.Symbol...)
}

// Constant is a number that belongs to the formula itself, such as the 2 of a half.
func Constant(n int64) Expr { return constant(n) }

type constant int64

func (c constant) eval(map[string]exact.Number) exact.Number { return exact.Of(int64(c)) }
func (c constant) inputs(func(*Input))                       {}
func (c constant) write(b []byte, _ bool, around int) []byte {
	return writeNumber(b, exact.Of(int64(c)), around)
}

// Variable stands for what changes from row to row of a series.
func Variable(symbol string) Expr { return variable(symbol) }

type variable string

func (v variable) eval(vars map[string]exact.Number) exact.Number { return vars[string(v)] }
func (v variable) inputs(func(*Input))                            {}
func (v variable) write(b []byte, _ bool, _ int) []byte           { return append(b, v...) }

// binary is a sum, difference, product or quotient.
type binary struct {
	op   byte
	x, y Expr
}

func (e binary) binds() int {
	if e.op == '+' || e.op == '-' {
		return bindSum
	}
	return bindProduct
}

// Sum adds two or more terms.
func Sum(x, y Expr, more ...Expr) Expr { return chain('+', x, y, more) }

// Total adds one term or more.
func Total(terms []Expr) Expr {
	if len(terms) == 1 {
		return terms[0]
	}
	return Sum(terms[0], terms[1], terms[2:]...)
}

// Difference takes y, and any more, from x.
func Difference(x, y Expr, more ...Expr) Expr { return chain('-', x, y, more) }

// Product multiplies two or more factors.
func Product(x, y Expr, more ...Expr) Expr { return chain('*', x, y, more) }

// Quotient divides x by y. It has no value where y is zero.
func Quotient(x, y Expr) Expr { return binary{'/', x, y} }

func chain(op byte, x, y Expr, more []Expr) Expr {
	e := Expr(binary{op, x, y})
	for _, m := range more {
		e = binary{op, e, m}
	}
	return e
}

func (e binary) eval(vars map[string]exact.Number) exact.Number {
	x, y := e.x.eval(vars), e.y.eval(vars)
	switch e.op {
	case '+':
		return x.Add(y)
	case '-':
		return x.Sub(y)
	case '*':
		return x.Mul(y)
	}
	return x.Quo(y)
}

func (e binary) inputs(f func(*Input)) { e.x.inputs(f); e.y.inputs(f) }

func (e binary) write(b []byte, numbers bool, around int) []byte {
	right := e.binds()
	bracketed := around > right
	if bracketed {
		b = append(b, '(')
	}
	b = e.x.write(b, numbers, right)
	b = append(b, ' ', e.op, ' ')
	if e.op == '-' || e.op == '/' {
		right++ // a - (b + c), a / (b * c)
	}
	b = e.y.write(b, numbers, right)
	if bracketed {
		b = append(b, ')')
	}
	return b
}

// call is a named function of one or more arguments.
type call struct {
	name string
	args []Expr
	do   func(x, y exact.Number) exact.Number // of the first argument and each that follows; y is no number where it is alone
}

func (e call) eval(vars map[string]exact.Number) exact.Number {
	x := e.args[0].eval(vars)
	if len(e.args) == 1 && x.Known() {
		return e.do(x, exact.Number{})
	}
	for _, a := range e.args[1:] {
		y := a.eval(vars)
		if !x.Known() || !y.Known() {
			return exact.Number{}
		}
		x = e.do(x, y)
	}
	return x
}

func (e call) inputs(f func(*Input)) {
	for _, a := range e.args {
		a.inputs(f)
	}
}

func (e call) write(b []byte, numbers bool, _ int) []byte {
	b = append(append(b, e.name...), '(')
	for i, a := range e.args {
		if i > 0 {
			b = append(b, ", "...)
		}
		b = a.write(b, numbers, 0)
	}
	return append(b, ')')
}

// Root is the square root, snapped to a grid of 1e-9. It has no value for a negative number.
func Root(x Expr) Expr {
	return call{"sqrt", []Expr{x}, func(x, _ exact.Number) exact.Number {
		if x.Sign() < 0 {
			return exact.Number{}
		}
		return snap(math.Sqrt(x.Float64()))
	}}
}

// Least is the smallest of its arguments.
func Least(x Expr, more ...Expr) Expr {
	return call{"min", append([]Expr{x}, more...), func(best, y exact.Number) exact.Number {
		if y.Cmp(best) < 0 {
			return y
		}
		return best
	}}
}

// Greatest is the largest of its arguments.
func Greatest(x Expr, more ...Expr) Expr {
	return call{"max", append([]Expr{x}, more...), func(best, y exact.Number) exact.Number {
		if y.Cmp(best) > 0 {
			return y
		}
		return best
	}}
}

// RoundTo rounds x to a multiple of division, in the direction named: nearest(x, d), up(x, d), down(x, d).
// Nearest takes an exact half away from zero. It has no value where the division is not positive, or the direction not named.
func RoundTo(x, division Expr, how length.Rounding) Expr {
	args := []Expr{x, division}
	switch how {
	case length.Down:
		return call{"down", args, func(x, division exact.Number) exact.Number { return rounded(x, division, length.Down) }}
	case length.Nearest:
		return call{"nearest", args, func(x, division exact.Number) exact.Number { return rounded(x, division, length.Nearest) }}
	case length.Up:
		return call{"up", args, func(x, division exact.Number) exact.Number { return rounded(x, division, length.Up) }}
	}
	return call{"", args, func(_, _ exact.Number) exact.Number { return exact.Number{} }}
}

func rounded(x, division exact.Number, how length.Rounding) exact.Number {
	if division.Sign() <= 0 {
		return exact.Number{}
	}
	q := x.Quo(division)
	if q.Cmp(exact.Of(mostDivisions)) > 0 || q.Cmp(exact.Of(-mostDivisions)) < 0 {
		return exact.Number{}
	}
	n := length.Rounded(q, length.Nanometre, how) // a count of divisions, not a length
	return exact.Of(int64(n)).Mul(division)
}

// mostDivisions is how many divisions a rounded number may have: as many as an int64 counts, less room for the rounding.
const mostDivisions = math.MaxInt64 - 1

// snap makes a floating-point result exact on a grid of 1e-9, where the last bits of different machines agree.
func snap(f float64) exact.Number {
	const grid = 1_000_000_000
	if math.IsNaN(f) || math.Abs(f) > 1e9 {
		return exact.Number{}
	}
	return exact.New(int64(math.Round(f*grid)), grid)
}

func writeNumber(b []byte, r exact.Number, around int) []byte {
	if around > 0 && r.Sign() < 0 {
		at := len(b)
		if b = appendDecimal(append(b, '('), r); b[at+1] == '-' {
			return append(b, ')')
		}
		return append(b[:at], b[at+1:]...) // printed without its sign, it needs no brackets
	}
	return appendDecimal(b, r)
}

// Decimal prints an exact number: in full where it ends within nine places, as tape readings do, else to six, all of them shown. Nothing for no number.
func Decimal(x exact.Number) string {
	var room [24]byte // more than most take
	return string(appendDecimal(room[:0], x))
}

func appendDecimal(b []byte, x exact.Number) []byte {
	const most, rounded = 9, 6
	if x.IsInt() {
		return x.AppendFixed(b, 0)
	}
	if InFull(x) {
		return bytes.TrimRight(x.AppendFixed(b, most), "0")
	}
	at := len(b)
	b = x.AppendFixed(b, rounded)
	if string(b[at:]) == "-0.000000" {
		return append(b[:at], b[at+1:]...)
	}
	return b
}

// InFull reports that Decimal prints all of a number: it ends within nine places.
func InFull(x exact.Number) bool {
	const nine = 1_000_000_000
	if _, den, ok := x.Fraction(); ok {
		return nine%den == 0
	}
	r := x.Rat()
	return r != nil && r.Denom().IsInt64() && nine%r.Denom().Int64() == 0
}
