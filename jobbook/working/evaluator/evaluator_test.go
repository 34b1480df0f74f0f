package evaluator

import (
	"math/big"
	"testing"
)

// The evaluator on cases worked by hand: a test that can't fail proves nothing.
func TestEvaluate(t *testing.T) {
	for _, c := range []struct {
		formula, result string
		want            bool
	}{
		{"(94.4375 - 17 * 1.25) / (17 + 1)", "4.065972222", false}, // 73.1875/18 = 4.065972222…, not in full
		{"2 + 3 * 4", "14", true},
		{"(2 + 3) * 4", "20", true},
		{"(2 + 3) * 4", "14", false},
		{"8 / 4 / 2", "1", true},
		{"8 / 4 / 2", "4", false},
		{"8 - 4 - 2", "2", true},
		{"8 - 4 - 2", "6", false},
		{"2 - (-3)", "5", true},
		{"-2 * 3 + 7", "1", true},
		{"0.1 + 0.2", "0.3", true}, // no power of two holds a tenth
		{"0.1 + 0.2", "0.30000000000000004", false},
		{"1 / 3 * 3", "1", true},
		{"sqrt(2)", "1.414213562", true},
		{"sqrt(2)", "1.41421", false},
		{"sqrt(0)", "0", true},
		{"min(3, -1, 2) + max(3, -1, 2)", "2", true},
		{"nearest(2.5, 1) + nearest(-2.5, 1)", "0", true},
		{"nearest(2.5, 1)", "3", true},
		{"nearest(2.5, 1)", "2", false},
		{"nearest(0.25, 0.1)", "0.3", true},
		{"up(2.1, 1) + down(-2.1, 1)", "0", true},
		{"up(-2.1, 1) + down(2.1, 1)", "0", true},
		{"up(2.1, 1)", "3", true},
		{"up(0.3, 0.1)", "0.3", true},
		{"down(0.3, 0.1)", "0.3", true},
		{"ln(2)", "0.693147181", true}, // as tables have them
		{"ln(2)", "0.69314717", false},
		{"ln(0.5)", "-0.693147181", true},
		{"exp2(0.5)", "1.414213562", true},
		{"exp2(-2)", "0.25", true},
		{"exp2(3)", "8", true},
		{"exp2(3)", "8.1", false},
		{"k * 5", "15", true},
	} {
		t.Run(c.formula+" = "+c.result, func(t *testing.T) { holds(t, c.formula, c.result, c.want) })
	}
	t.Run("a rounded result", func(t *testing.T) {
		s, err := Evaluate("(94.4375 - 17 * 1.25) / (17 + 1)", nil, nil)
		if err != nil || !s.Holds("4.065972", true) || s.Holds("4.065973", true) {
			t.Errorf("%v %v", s, err)
		}
	})
	t.Run("a rounded number", func(t *testing.T) {
		// 0.333333 for a third, times 3: between 0.9999975 and 1.0000005, so 1 may be meant.
		s, err := Evaluate("0.333333 * 3", nil, func(number string) bool { return number == "0.333333" })
		if err != nil || !s.Holds("1", false) || s.Holds("1.000001", false) {
			t.Errorf("%v %v", s, err)
		}
	})
	for _, formula := range []string{
		"", "1 +", "1 / 0", "1 / (2 - 2)", "sqrt(-1)", "nearest(1, 0)", "log(2)", "ln(0)", "ln(-1)", "exp2(1000)", "x", `"1"`, "1 % 2", "!1", "min()", "a.b(1)",
		"sin()", "cos(1, 2)", "atan(x)", "tan(1.5707963267948966)", // a float's nearest to a right angle
	} {
		t.Run("no value: "+formula, func(t *testing.T) {
			if s, err := Evaluate(formula, nil, nil); err == nil {
				t.Errorf("between %s and %s", s.Low.Text('g', 20), s.High.Text('g', 20))
			}
		})
	}
}

func holds(t *testing.T, formula, result string, want bool) {
	t.Helper()
	s, err := Evaluate(formula, map[string]string{"k": "3"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Holds(result, false); got != want {
		t.Errorf("%v, want %v; it is between %s and %s", got, want, s.Low.Text('g', 20), s.High.Text('g', 20))
	}
}

// Angles on the grid that they are printed on. The exact values are those of the school triangles, 30-60-90 and 45-45-90; 7 3/4 on 10
// is 37.776 degrees by a carpenter's table, and its tangent 0.775.
func TestAngles(t *testing.T) {
	for _, c := range []struct {
		formula, result string
		want            bool
	}{
		{"sin(0.523598775598)", "0.5", true}, // 30 degrees: π/6
		{"sin(0.523598775598)", "0.500000002", false},
		{"cos(1.047197551197)", "0.5", true}, // 60: π/3
		{"cos(0)", "1", true},
		{"cos(0)", "0.999999998", false},
		{"sin(3.14159265358979)", "0", true},
		{"sin(-1.570796326795)", "-1", true},
		{"cos(3.14159265358979)", "-1", true},
		{"sin(1.570796326795 + 6.283185307180)", "1", true}, // a full turn further
		{"tan(0.785398163397)", "1", true},                  // 45: π/4
		{"tan(-0.785398163397)", "-1", true},
		{"tan(3.926990816987)", "1", true}, // half a turn further
		{"atan(1)", "0.785398163", true},   // π/4
		{"atan(1)", "0.785398165", false},
		{"atan(-1)", "-0.785398163", true},
		{"atan(0)", "0", true},
		{"atan(1.732050807569)", "1.047197551", true}, // √3: 60 degrees
		{"atan(1000000000)", "1.570796326", true},     // a right angle less 1e-9: 1.5707963258
		{"sin(0.5) * sin(0.5) + cos(0.5) * cos(0.5)", "1", true},
	} {
		t.Run(c.formula+" = "+c.result, func(t *testing.T) { holds(t, c.formula, c.result, c.want) })
	}
	t.Run("7 3/4 on 10", func(t *testing.T) {
		s, err := Evaluate("tan(37.776 * 3.14159265359 / 180)", nil, nil)
		if err != nil || s.Low.Cmp(parseFloat("0.77499")) < 0 || s.High.Cmp(parseFloat("0.77502")) > 0 {
			t.Errorf("%v %v", s, err)
		}
	})
	t.Run("a crest within a rounded number", func(t *testing.T) {
		// 1.570796 to six places may be the right angle itself, whose sine is 1; at either end it is 1 less half the square of 0.8e-6.
		rounded := func(string) bool { return true }
		s, err := Evaluate("sin(1.570796)", nil, rounded)
		if err != nil || s.High.Cmp(whole(1)) < 0 {
			t.Errorf("%v %v", s, err)
		}
		if _, err := Evaluate("tan(1.570796)", nil, rounded); err == nil {
			t.Error("a tangent, where the angle may be a right one")
		}
	})
}

// The series against published digits, well beyond those that anything is printed with: π, and the sine, cosine and tangent of 1 and
// the arctangent of 1/2 as tables of constants have them, from memory.
func TestSeries(t *testing.T) {
	one := whole(1)
	for _, c := range []struct {
		name, want string
		got        *big.Float
	}{
		{"pi", "3.14159265358979323846264338327950288419716939937510", pi},
		{"sin 1", "0.84147098480789650665250232163029899962256306079837", sine(one)},
		{"sin of 1 less four turns", "0.84147098480789650665250232163029899962256306079837", sine(float().Sub(one, float().Mul(whole(4), fullTurn)))},
		{"cos 1", "0.54030230586813971740093660744297660373231042061792", sine(float().Add(one, quarterTurn))},
		{"tan 1", "1.55740772465490223050697480745836017308725077238152", float().Quo(sine(one), sine(float().Add(one, quarterTurn)))},
		{"atan 1/2", "0.46364760900080611621425623146121440202853705428612", arctangent(float().Quo(one, whole(2)))},
		{"atan 1 is a quarter of pi", "0.78539816339744830961566084581987572104929234984378", arctangent(one)},
	} {
		t.Run(c.name, func(t *testing.T) {
			if off := magnitude(float().Sub(c.got, parseFloat(c.want))); off.Cmp(parseFloat("1e-48")) > 0 {
				t.Errorf("%s, want %s", c.got.Text('f', 50), c.want)
			}
		})
	}
}
