package working_test

import (
	"testing"

	. "balustrade/jobbook/working"
)

// Angles: exact values of the school triangles; sin 1, cos 1 and tan 1 as tables of constants have them (from memory), to nine places;
// 7 3/4 on 10 is 37.7756843 degrees (derived, by another program). π is put in to nine figures, so an angle of 30 degrees comes out
// 6e-10 small and its sine one step of the grid under a half.
func TestAngles(t *testing.T) {
	radians := func(degrees string) Expr { return Quotient(Product(of("w", degrees), Pi()), Constant(180)) }
	degrees := func(x Expr) Expr { return Quotient(Product(x, Constant(180)), Pi()) }
	for _, c := range []struct {
		name             string
		e                Expr
		symbols, results string
	}{
		{"sin 30 degrees", Sine(radians("30")), "sin(w * pi / 180)", "0.499999999"},
		{"sin 30 degrees, closer", Sine(of("x", "0.523598775598")), "sin(x)", "0.5"},
		{"cos 60 degrees", Cosine(of("x", "1.047197551197")), "cos(x)", "0.5"},
		{"cos 0", Cosine(Constant(0)), "cos(0)", "1"},
		{"sin 1", Sine(Constant(1)), "sin(1)", "0.841470985"},
		{"cos 1", Cosine(Constant(1)), "cos(1)", "0.540302306"},
		{"tan 1", Tangent(Constant(1)), "tan(1)", "1.557407725"},
		{"sin of a negative", Sine(Constant(-1)), "sin(-1)", "-0.841470985"},
		{"atan 1 in radians", Arctangent(Constant(1)), "atan(1)", "0.785398163"},
		{"atan of a quotient", degrees(Arctangent(Quotient(of("r", "7.75"), of("a", "10")))), "atan(r / a) * 180 / pi", "37.775684"},
		{"a right angle has no tangent", Tangent(of("x", "1.5707963267948966")), "tan(x)", ""},
		{"too large an angle", Sine(of("x", "1000001")), "sin(x)", ""},
		{"of nothing", Cosine(&Input{Symbol: "u"}), "cos(u)", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := work(c.e)
			if f.Symbols() != c.symbols || f.Result() != c.results {
				t.Errorf("%s = %s, want %s = %s", f.Symbols(), f.Result(), c.symbols, c.results)
			}
		})
	}
}
