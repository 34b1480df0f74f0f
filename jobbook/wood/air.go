package wood

import (
	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
	"balustrade/jobbook/memo"
	"balustrade/jobbook/working"
)

var emcRule = working.Citation{Text: "Wood Handbook FPL-GTR-190, Eq. 4-5", Status: working.Published}

// number is a number of a published formula, in decimals.
func number(symbol, decimals string) *working.Input {
	r, _ := exact.Parse(decimals)
	return (&working.Input{Symbol: symbol, Name: "coefficient", Value: r}).Because("the formula")
}

// airs are those that were worked out: every alternative has the air of its job.
var airs = memo.NewBy[air, []*working.Figure](64)

type air struct {
	id, when             string
	fahrenheit, humidity working.Input
}

// Equilibrium works out the moisture that wood comes to in air of a temperature in degrees Fahrenheit and a relative humidity in per cent: the steps of the formula as figures, the
// last of them the moisture in per cent, to the hundredth. False outside 30 to 130 °F and 5 to 95 %, where nothing is claimed. Nobody writes to the figures.
func Equilibrium(id, when string, fahrenheit, humidity *working.Input) (figures []*working.Figure, ok bool) {
	t, h := fahrenheit.Value, humidity.Value
	if !t.Known() || !h.Known() || t.Cmp(exact.Of(30)) < 0 || t.Cmp(exact.Of(130)) > 0 || h.Cmp(exact.Of(5)) < 0 || h.Cmp(exact.Of(95)) > 0 {
		return nil, false
	}
	figures = airs.Get(air{id, when, *fahrenheit, *humidity}, func() []*working.Figure { return equilibrium(id, when, fahrenheit, humidity) })
	return figures, true
}

func equilibrium(id, when string, fahrenheit, humidity *working.Input) (figures []*working.Figure) {
	add := func(name, title, symbol, unit string, e working.Expr) *working.Figure {
		f := working.Work(id+"/"+name, title+", "+when, symbol, unit, e, emcRule)
		figures = append(figures, f)
		return f
	}
	squared := working.Product(fahrenheit, fahrenheit)
	curve := func(name, symbol, a, b, c string, less bool) *working.Figure {
		first := working.Sum(number("a", a), working.Product(number("b", b), fahrenheit))
		last := working.Product(number("c", c), squared)
		if less {
			return add(name, symbol+" of the moisture formula", symbol, "", working.Difference(first, last))
		}
		return add(name, symbol+" of the moisture formula", symbol, "", working.Sum(first, last))
	}
	w := curve("w", "W", "330", "0.452", "0.00415", false)
	k := curve("k", "K", "0.791", "0.000463", "0.000000844", true)
	k1 := curve("k1", "K_1", "6.34", "0.000775", "0.0000935", true)
	k2 := curve("k2", "K_2", "1.09", "0.0284", "0.0000904", true)
	kh := add("kh", "K times the humidity", "q", "", working.Product(k.In(), working.Quotient(humidity, working.Constant(100))))
	one, two := working.Constant(1), working.Constant(2)
	linear := working.Product(k1.In(), kh.In())
	square := working.Product(k1.In(), k2.In(), kh.In(), kh.In())
	moisture := working.Product(working.Quotient(number("n", "1800"), w.In()), working.Sum(
		working.Quotient(kh.In(), working.Difference(one, kh.In())),
		working.Quotient(working.Sum(linear, working.Product(two, square)), working.Sum(one, linear, square))))
	add("moisture", "moisture that wood comes to", "M", "%", working.RoundTo(moisture, number("r", "0.01"), length.Nearest))
	return figures
}
