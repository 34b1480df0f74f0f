package working_test

import (
	"math/big"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	. "balustrade/jobbook/working"
	"balustrade/jobbook/working/evaluator"
)

// of is an input of a number.
func of(symbol, number string) *Input {
	in := &Input{Symbol: symbol, Name: "the number " + symbol}
	if r, ok := new(big.Rat).SetString(number); ok {
		in.Value = exact.FromRat(r)
	}
	return in
}

func work(e Expr) *Figure { return Work("test/figure", "a figure", "y", "in", e) }

// Brackets stand where leaving them out would change the value, and nowhere else. The results are worked by hand.
func TestPrinting(t *testing.T) {
	a, b, c, m := of("a", "12"), of("b", "3"), of("c", "2"), of("m", "-5")
	for _, x := range []struct {
		name                     string
		e                        Expr
		symbols, numbers, result string
	}{
		{"one input", a, "a", "12", "12"},
		{"a sum of three", Sum(a, b, c), "a + b + c", "12 + 3 + 2", "17"},
		{"a sum of a sum", Sum(a, Sum(b, c)), "a + b + c", "12 + 3 + 2", "17"},
		{"a difference of three", Difference(a, b, c), "a - b - c", "12 - 3 - 2", "7"},
		{"less a sum", Difference(a, Sum(b, c)), "a - (b + c)", "12 - (3 + 2)", "7"},
		{"less a difference", Difference(a, Difference(b, c)), "a - (b - c)", "12 - (3 - 2)", "11"},
		{"plus a difference", Sum(a, Difference(b, c)), "a + b - c", "12 + 3 - 2", "13"},
		{"less a product", Difference(a, Product(b, c)), "a - b * c", "12 - 3 * 2", "6"},
		{"a product of a sum", Product(Sum(a, b), c), "(a + b) * c", "(12 + 3) * 2", "30"},
		{"a product with a difference", Product(a, Difference(b, c)), "a * (b - c)", "12 * (3 - 2)", "12"},
		{"a product of a quotient", Product(a, Quotient(b, c)), "a * b / c", "12 * 3 / 2", "18"},
		{"by a product", Quotient(a, Product(b, c)), "a / (b * c)", "12 / (3 * 2)", "2"},
		{"by a quotient", Quotient(a, Quotient(b, c)), "a / (b / c)", "12 / (3 / 2)", "8"},
		{"a quotient by", Quotient(Quotient(a, b), c), "a / b / c", "12 / 3 / 2", "2"},
		{"a quotient of a product", Quotient(Product(a, b), c), "a * b / c", "12 * 3 / 2", "18"},
		{"a gap", Quotient(Difference(a, Product(b, c)), Sum(b, Constant(1))), "(a - b * c) / (b + 1)", "(12 - 3 * 2) / (3 + 1)", "1.5"},
		{"a negative alone", m, "m", "-5", "-5"},
		{"a negative taken off", Difference(a, m), "a - m", "12 - (-5)", "17"},
		{"a negative first", Sum(m, a), "m + a", "(-5) + 12", "7"},
		{"a negative factor", Product(a, m), "a * m", "12 * (-5)", "-60"},
		{"a negative constant", Product(a, Constant(-2)), "a * (-2)", "12 * (-2)", "-24"},
		{"a negative fraction", Quotient(of("f", "-5/4"), c), "f / c", "(-1.25) / 2", "-0.625"},
		{"a negative printed as nought", Sum(a, of("s", "-1/30000001")), "a + s", "12 + 0.000000", "12.000000"}, // 12 less a third of a ten-millionth
		{"a negative in a function", Least(m, a), "min(m, a)", "min(-5, 12)", "-5"},
		{"greatest", Greatest(m, a, b), "max(m, a, b)", "max(-5, 12, 3)", "12"},
		{"a sum in a function needs none", Root(Sum(a, b, Constant(1))), "sqrt(a + b + 1)", "sqrt(12 + 3 + 1)", "4"},
		{"a function in a product", Product(c, Root(Product(b, b))), "c * sqrt(b * b)", "2 * sqrt(3 * 3)", "6"},
		{"to the nearest", RoundTo(Quotient(a, Constant(5)), Constant(1), length.Nearest), "nearest(a / 5, 1)", "nearest(12 / 5, 1)", "2"},
		{"up", RoundTo(Quotient(a, Constant(5)), Constant(1), length.Up), "up(a / 5, 1)", "up(12 / 5, 1)", "3"},
		{"down", RoundTo(Quotient(a, Constant(5)), Constant(1), length.Down), "down(a / 5, 1)", "down(12 / 5, 1)", "2"},
	} {
		t.Run(x.name, func(t *testing.T) {
			f := work(x.e)
			if f.Symbols() != x.symbols || f.Numbers() != x.numbers || f.Result() != x.result {
				t.Errorf("got  %s = %s = %s\nwant %s = %s = %s", f.Symbols(), f.Numbers(), f.Result(), x.symbols, x.numbers, x.result)
			}
		})
	}
}

func TestArithmeticIsExact(t *testing.T) {
	third := Quotient(Constant(1), Constant(3))
	t.Run("three thirds are one", func(t *testing.T) {
		if f := work(Sum(third, third, third)); f.Value.Cmp(exact.Of(1)) != 0 {
			t.Errorf("got %s", f.Value)
		}
	})
	t.Run("a tenth and two tenths are three tenths", func(t *testing.T) {
		if f := work(Sum(of("a", "0.1"), of("b", "0.2"))); f.Value.Cmp(exact.New(3, 10)) != 0 {
			t.Errorf("got %s", f.Value)
		}
	})
	t.Run("a length there and back", func(t *testing.T) {
		// 94 7/16 in over 19 gaps and back is the same nanometre.
		l := 94*length.Inch + 7*length.Inch/16
		f := work(Product(Quotient(Length("L", "clear", l, length.Millimetres, source.Pos{}), Constant(19)), Constant(19)))
		if got := f.Exact(length.Millimetres); got != l {
			t.Errorf("got %v, want %v", got, l)
		}
	})
	t.Run("working a figure out changes no input", func(t *testing.T) {
		a, b := of("a", "12"), of("b", "5")
		work(RoundTo(Root(Sum(Product(a, b), Difference(a, b), Quotient(a, b))), Greatest(a, b), length.Up))
		if a.Value.Cmp(exact.Of(12)) != 0 || b.Value.Cmp(exact.Of(5)) != 0 {
			t.Errorf("inputs are %s and %s now", a.Value, b.Value)
		}
	})
}

// Where there is no value there is none further on, and nothing panics.
func TestNoValue(t *testing.T) {
	zero, one := Constant(0), Constant(1)
	blank := &Input{Symbol: "u", Name: "not read yet"}
	var huge Expr = Constant(1_000_000_000)
	for range 4 {
		huge = Product(huge, huge)
	}
	for name, e := range map[string]Expr{
		"by zero":                  Quotient(one, zero),
		"by a difference of zero":  Quotient(one, Difference(one, one)),
		"root of a negative":       Root(Constant(-1)),
		"root of a small negative": Root(Quotient(Constant(-1), Product(huge, huge, huge))),
		"root too large":           Root(huge),
		"an input not read":        Sum(one, blank),
		"in a function":            Least(one, Quotient(one, zero)),
		"a division of zero":       RoundTo(one, zero, length.Nearest),
		"a negative division":      RoundTo(one, Constant(-1), length.Up),
		"no direction":             RoundTo(one, one, 0),
		"too many divisions":       RoundTo(huge, one, length.Down),
		"a variable without a row": Variable("k"),
	} {
		t.Run(name, func(t *testing.T) {
			f := work(Sum(e, one))
			if f.Value.Known() || f.Result() != "" {
				t.Errorf("%s = %s", f.Numbers(), f.Result())
			}
			if l := f.Exact(length.Inches); l != 0 {
				t.Errorf("as a length it is %v", l)
			}
		})
	}
	t.Run("an input not read is printed as its symbol", func(t *testing.T) {
		if got := work(Sum(one, blank)).Numbers(); got != "1 + u" {
			t.Errorf("got %q", got)
		}
	})
	t.Run("no figure at all", func(t *testing.T) {
		var f *Figure
		if f.Exact(length.Inches) != 0 {
			t.Error("no figure has a length")
		}
	})
}

// Rounding worked by hand; an exact half goes away from zero, up is towards plus infinity, down towards minus infinity.
func TestRoundTo(t *testing.T) {
	for _, c := range []struct{ x, division, down, nearest, up string }{
		{"2.5", "1", "2", "3", "3"},
		{"-2.5", "1", "-3", "-3", "-2"},
		{"2.499999999", "1", "2", "2", "3"},
		{"-2.499999999", "1", "-3", "-2", "-2"},
		{"2", "1", "2", "2", "2"},
		{"-2", "1", "-2", "-2", "-2"},
		{"0", "1", "0", "0", "0"},
		{"3.5625", "0.0625", "3.5625", "3.5625", "3.5625"}, // 57/16
		{"3.59375", "0.0625", "3.5625", "3.625", "3.625"},  // 57 1/2 sixteenths: a tie
		{"-3.59375", "0.0625", "-3.625", "-3.625", "-3.5625"},
		{"0.25", "0.1", "0.2", "0.3", "0.3"}, // a tie that no binary number can hold
		{"1/3", "1/6", "1/3", "1/3", "1/3"},
		{"7", "5", "5", "5", "10"},
	} {
		for how, want := range map[length.Rounding]string{length.Down: c.down, length.Nearest: c.nearest, length.Up: c.up} {
			t.Run(c.x+" "+how.String()+" "+c.division, func(t *testing.T) {
				f := work(RoundTo(of("x", c.x), of("d", c.division), how))
				if w := of("", want); !f.Value.Known() || f.Value.Cmp(w.Value) != 0 {
					t.Errorf("got %s, want %s", f.Result(), want)
				}
			})
		}
	}
}

// A root is on a grid of 1e-9. The digits are those of any table: √2 = 1.414213562 373…, √3 = 1.732050807 568…, √(1/2) = 0.707106781 186….
func TestRootIsSnapped(t *testing.T) {
	for _, c := range []struct{ x, want string }{
		{"2", "1.414213562"}, {"3", "1.732050808"}, {"1/2", "0.707106781"}, {"2.25", "1.5"}, {"0", "0"}, {"1/4", "0.5"},
		{"1000000000000000000", "1000000000"}, // the largest root there is, 1e9
	} {
		t.Run(c.x, func(t *testing.T) {
			f := work(Root(of("x", c.x)))
			if w := of("", c.want); !f.Value.Known() || f.Value.Cmp(w.Value) != 0 {
				t.Errorf("got %v, want %s", f.Value, c.want)
			}
		})
	}
}

func TestDecimal(t *testing.T) {
	for _, c := range []struct{ name, number, want string }{
		{"whole", "94", "94"},
		{"ends in zeros", "100", "100"},
		{"a sixteenth", "1511/16", "94.4375"},
		{"a sixty-fourth", "1/64", "0.015625"},
		{"nine places", "0.123456789", "0.123456789"},
		{"ten places, rounded to six", "0.1234567891", "0.123457"},
		{"a third", "1/3", "0.333333"},
		{"two thirds", "2/3", "0.666667"},
		{"a third below zero", "-1/3", "-0.333333"},
		{"rounded to nothing", "1/30000000", "0.000000"},
		{"rounded to nothing from below", "-1/30000000", "0.000000"},
		{"rounded to a whole", "29999999/30000000", "1.000000"},
		{"small but in full", "-0.0000001", "-0.0000001"},
		{"nothing", "0", "0"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Decimal(of("", c.number).Value); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
	t.Run("no number", func(t *testing.T) {
		if got := Decimal(exact.Number{}); got != "" {
			t.Errorf("got %q", got)
		}
	})
}

// Marks of 12 in with 2 balusters of 3 in: (12 + 3)/3 = 5 apart, centres at 5k - 1.5, by hand 3.5 and 8.5; a row with k = 0 stands at -1.5.
func TestSeries(t *testing.T) {
	L, b, n := of("L", "12"), of("b", "3"), of("n", "2")
	e := Difference(Quotient(Product(Variable("k"), Sum(L, b)), Sum(n, Constant(1))), Quotient(b, Constant(2)))
	row := func(k int64) []exact.Number { return []exact.Number{exact.Of(k)} }
	f := WorkSeries("run/a/marks", "centres", "m_k", "in", e, []string{"k"}, []string{"baluster"}, [][]exact.Number{row(1), row(2), row(0)}, Geometry)
	t.Run("values", func(t *testing.T) {
		for i, want := range []string{"3.5", "8.5", "-1.5"} {
			if got := Decimal(f.Series.Rows[i].Value); got != want {
				t.Errorf("row %d is %s, want %s", i, got, want)
			}
		}
		if f.Value.Known() {
			t.Errorf("a series has no value of its own, got %s", f.Value)
		}
	})
	t.Run("printed", func(t *testing.T) {
		if got, want := f.Symbols(), "k * (L + b) / (n + 1) - b / 2"; got != want {
			t.Errorf("got %s, want %s", got, want)
		}
		if got, want := f.Numbers(), "k * (12 + 3) / (2 + 1) - 3 / 2"; got != want {
			t.Errorf("got %s, want %s", got, want)
		}
	})
	t.Run("inputs once, in order", func(t *testing.T) {
		var symbols []string
		for _, in := range f.Inputs() {
			symbols = append(symbols, in.Symbol)
		}
		if want := []string{"L", "b", "n"}; !reflect.DeepEqual(symbols, want) {
			t.Errorf("got %v, want %v", symbols, want)
		}
	})
	t.Run("a row without a value", func(t *testing.T) {
		g := WorkSeries("x", "x", "x", "", Quotient(Constant(6), Variable("k")), []string{"k"}, []string{"k"}, [][]exact.Number{row(0), row(4)})
		if g.Series.Rows[0].Value.Known() || Decimal(g.Series.Rows[1].Value) != "1.5" {
			t.Errorf("got %v", g.Series.Rows)
		}
	})
}

func TestFigureAsInput(t *testing.T) {
	at := source.Pos{File: "runs/1-gallery.md", Line: 4, Col: 9}
	gap := Work("run/a/gap", "gap", "g", "in", Quotient(Length("L", "clear", 7*length.Inch, length.Inches, at), Count("n", "gaps", 2, source.Pos{}).Because("written")), Geometry).Noted("at the foot")
	next := Work("run/a/half", "half", "h", "in", Quotient(gap.In(), Constant(2)))
	in := next.Inputs()[0]
	if in.Symbol != "g" || in.Name != "gap" || in.Unit != "in" || in.Figure != "run/a/gap" || in.Value.Cmp(exact.New(7, 2)) != 0 {
		t.Errorf("the input is %+v", in)
	}
	if got := next.Result(); got != "1.75" {
		t.Errorf("half of half of 7 is %s", got)
	}
	if in := gap.Inputs()[0]; in.At != at {
		t.Errorf("the clear was written at %v", in.At)
	}
	if gap.Note != "at the foot" || gap.Inputs()[1].From != "written" {
		t.Errorf("the words are lost: %+v", gap)
	}
	// 3.5 in to quarters, and to wholes in three directions.
	for how, want := range map[length.Rounding]length.Length{length.Down: 3 * length.Inch, length.Nearest: 4 * length.Inch, length.Up: 4 * length.Inch} {
		if got := gap.Length(length.Inches, length.Inch, how); got != want {
			t.Errorf("%s: %v, want %v", how, got, want)
		}
	}
}

// expressions draws a tree of numbers with up to so many places, that a variable k may stand in.
func expressions(t *rapid.T, leaf func(*rapid.T) Expr, depth int) Expr {
	if depth == 0 || rapid.IntRange(0, 3).Draw(t, "leaf") == 0 {
		return leaf(t)
	}
	sub := func() Expr { return expressions(t, leaf, depth-1) }
	switch rapid.IntRange(0, 9).Draw(t, "operator") {
	case 0:
		return Sum(sub(), sub())
	case 1:
		return Difference(sub(), sub())
	case 2:
		return Product(sub(), sub())
	case 3:
		return Quotient(sub(), sub())
	case 4:
		return Root(sub())
	case 5:
		return Least(sub(), sub(), sub())
	case 6:
		return Greatest(sub(), sub())
	case 7:
		return Difference(sub(), sub(), sub())
	case 8:
		return rapid.SampledFrom([]func(Expr) Expr{Sine, Cosine, Tangent, Arctangent}).Draw(t, "of an angle")(sub())
	}
	division := rapid.SampledFrom([]string{"1", "0.0625", "0.5", "0.1"}).Draw(t, "division")
	return RoundTo(sub(), of("d", division), rapid.SampledFrom([]length.Rounding{length.Down, length.Nearest, length.Up}).Draw(t, "direction"))
}

// What is printed is what was evaluated: the numbers put back into the printed formula, by an evaluator that shares no code with
// the package, give the printed result.
func TestPrintedFormulaGivesTheResult(t *testing.T) {
	check := func(t *rapid.T, f *Figure, value exact.Number, vars map[string]string, rounded func(string) bool) {
		got, err := evaluator.Evaluate(f.Numbers(), vars, rounded)
		switch {
		case err != nil && value.Known() && rounded == nil:
			t.Fatalf("%s: %v, but the value is %s", f.Numbers(), err, value)
		case err != nil: // without a value, or with a divisor that the printed places can't tell from zero
			return
		case !value.Known() && got.Width() == 0:
			t.Fatalf("%s = %s, but the value is missing", f.Numbers(), got.Low.Text('g', 20))
		case !value.Known():
			return
		}
		result := Decimal(value)
		back, _ := new(big.Rat).SetString(result)
		if !got.Holds(result, back.Cmp(value.Rat()) != 0) {
			t.Fatalf("%s is between %s and %s, printed %s", f.Numbers(), got.Low.Text('g', 20), got.High.Text('g', 20), result)
		}
	}
	t.Run("numbers in full", func(t *testing.T) {
		leaf := func(t *rapid.T) Expr {
			if rapid.IntRange(0, 9).Draw(t, "constant") == 0 {
				return Constant(int64(rapid.IntRange(-3, 12).Draw(t, "number")))
			}
			n := rapid.IntRange(-2_000_00, 2_000_00).Draw(t, "hundredths")
			return &Input{Symbol: "a", Value: exact.New(int64(n), 100)}
		}
		rapid.Check(t, func(t *rapid.T) {
			f := work(expressions(t, leaf, 4))
			check(t, f, f.Value, nil, nil)
		})
	})
	t.Run("numbers rounded in print", func(t *testing.T) {
		leaf := func(t *rapid.T) Expr {
			return &Input{Symbol: "a", Value: exact.New(int64(rapid.IntRange(-5000, 5000).Draw(t, "over")), int64(rapid.IntRange(1, 999).Draw(t, "under")))}
		}
		rapid.Check(t, func(t *rapid.T) {
			f := work(expressions(t, leaf, 3))
			check(t, f, f.Value, nil, func(number string) bool {
				return number != "0.0625" && number != "0.5" && number != "0.1" && number != "1" && evaluator.SixPlaces(number)
			})
		})
	})
	t.Run("a series", func(t *testing.T) {
		leaf := func(t *rapid.T) Expr {
			if rapid.Bool().Draw(t, "variable") {
				return Variable("k")
			}
			return &Input{Symbol: "a", Value: exact.New(int64(rapid.IntRange(-900, 900).Draw(t, "quarters")), 4)}
		}
		rapid.Check(t, func(t *rapid.T) {
			rows := [][]exact.Number{{exact.Of(1)}, {exact.Of(2)}, {exact.New(-7, 2)}}
			f := WorkSeries("x", "x", "x", "", expressions(t, leaf, 3), []string{"k"}, []string{"k"}, rows)
			for _, row := range f.Series.Rows {
				check(t, f, row.Value, map[string]string{"k": Decimal(row.Vars[0])}, nil)
			}
		})
	})
}
