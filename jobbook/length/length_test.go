package length

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/exact"
)

// Units by definition: a yard is 0.9144 m, an inch the thirty-sixth part of it.
func TestUnits(t *testing.T) {
	for _, c := range []struct {
		name      string
		got, want Length
	}{
		{"36 inches are 914.4 mm", 36 * Inch, 914_400_000},
		{"a foot is 304.8 mm", Foot, 304_800_000},
		{"64 sixty-fourths are an inch", 64 * 396_875, Inch},
		{"10 mm are a centimetre", 10 * Millimetre, Centimetre},
		{"100 cm are a metre", 100 * Centimetre, Metre},
		{"unit of inches", Inches.Unit(), 25_400_000},
		{"unit of millimetres", Millimetres.Unit(), 1_000_000},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.got != c.want {
				t.Errorf("got %d nm, want %d nm", c.got, c.want)
			}
		})
	}
	t.Run("millimetres as a float", func(t *testing.T) {
		if got := (Inch / 2).Float(); got != 12.7 {
			t.Errorf("half an inch is %v mm", got)
		}
	})
	t.Run("names", func(t *testing.T) {
		for got, want := range map[string]string{
			Inches.String(): "in", Millimetres.String(): "mm", Down.String(): "down", Nearest.String(): "to the nearest", Up.String(): "up",
			Rounding(0).String(): "unrounded", (94*Inch + 7*Inch/16).String(): "2398.7125 mm",
		} {
			if got != want {
				t.Errorf("got %q, want %q", got, want)
			}
		}
	})
}

// Worked by hand. Down and up are towards minus and plus infinity; an exact half goes away from zero.
func TestRound(t *testing.T) {
	const s = Inch / 16 // 1 587 500 nm, whose half is 793 750
	for _, c := range []struct {
		name              string
		l, division       Length
		down, nearest, up Length
	}{
		{"on a mark", 3 * s, s, 3 * s, 3 * s, 3 * s},
		{"on a mark below zero", -3 * s, s, -3 * s, -3 * s, -3 * s},
		{"nothing", 0, s, 0, 0, 0},
		{"a nanometre over", 3*s + 1, s, 3 * s, 3 * s, 4 * s},
		{"a nanometre under", 3*s - 1, s, 2 * s, 3 * s, 3 * s},
		{"half", 3*s + 793_750, s, 3 * s, 4 * s, 4 * s},
		{"a nanometre less than half", 3*s + 793_749, s, 3 * s, 3 * s, 4 * s},
		{"a nanometre more than half", 3*s + 793_751, s, 3 * s, 4 * s, 4 * s},
		{"half below zero", -3*s - 793_750, s, -4 * s, -4 * s, -3 * s},
		{"a nanometre less than half below zero", -3*s - 793_749, s, -4 * s, -3 * s, -3 * s},
		{"a nanometre below zero", -1, s, -s, 0, 0},
		{"half of one, from zero", 793_750, s, 0, s, s},
		{"half of one, below zero", -793_750, s, -s, -s, 0},
		{"a division with an odd count", 5, 3, 3, 6, 6},
		{"millimetres", 2399*Millimetre + 499_999, Millimetre, 2399 * Millimetre, 2399 * Millimetre, 2400 * Millimetre},
		{"no division", 12345, 0, 12345, 12345, 12345},
		{"a negative division", 12345, -5, 12345, 12345, 12345},
	} {
		t.Run(c.name, func(t *testing.T) {
			for how, want := range map[Rounding]Length{Down: c.down, Nearest: c.nearest, Up: c.up, 0: c.l, Up + 1: c.l} {
				if got := c.l.Round(c.division, how); got != want {
					t.Errorf("%s: got %d, want %d", how, got, want)
				}
			}
		})
	}
}

// A quotient is rounded once, from its exact value: 94 7/16 in over 19, 2 398 712 500 / 19 = 126 248 026.3157….
func TestRounded(t *testing.T) {
	nineteenth := exact.New(2_398_712_500, 19)
	for _, c := range []struct {
		name     string
		nm       exact.Number
		division Length
		how      Rounding
		want     Length
	}{
		{"to the nanometre", nineteenth, Nanometre, Nearest, 126_248_026},
		{"up to the nanometre", nineteenth, Nanometre, Up, 126_248_027},
		{"to a sixteenth", nineteenth, Inch / 16, Nearest, 127_000_000},      // 79.53 sixteenths: 80
		{"down to a sixteenth", nineteenth, Inch / 16, Down, 79 * Inch / 16}, // 79
		{"a half of a nanometre", exact.New(5, 2), Nanometre, Nearest, 3},
		{"a half below zero", exact.New(-5, 2), Nanometre, Nearest, -3},
		{"just under a half, where a double rounding would go up", exact.New(2_499_999_999, 1_000_000_000), Nanometre, Nearest, 2},
		{"a third below zero, down", exact.New(-1, 3), Nanometre, Down, -1},
		{"a third below zero, up", exact.New(-1, 3), Nanometre, Up, 0},
		{"no direction", exact.New(5, 2), Nanometre, 0, 3},
		{"no division", exact.New(5, 2), 0, Down, 2},
		{"more than there is", exact.FromRat(new(big.Rat).SetInt(new(big.Int).Lsh(big.NewInt(1), 100))), Nanometre, Nearest, math.MaxInt64},
		{"less than there is", exact.FromRat(new(big.Rat).SetInt(new(big.Int).Lsh(big.NewInt(-1), 100))), Nanometre, Nearest, -math.MaxInt64},
		{"more, in inches", exact.Of(math.MaxInt64), Inch, Up, Length(math.MaxInt64 / int64(Inch) * int64(Inch))},
		{"no number", exact.Number{}, Inch, Up, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := Rounded(c.nm, c.division, c.how); got != c.want {
				t.Errorf("got %d, want %d", got, c.want)
			}
		})
	}
	t.Run("of inches", func(t *testing.T) {
		// 7/2 in = 88 900 000 nm.
		if got := Of(exact.New(7, 2), Inches, Nanometre, Nearest); got != 88_900_000 {
			t.Errorf("got %d", got)
		}
	})
	t.Run("as inches", func(t *testing.T) {
		if got := (94*Inch + 7*Inch/16).In(Inches); got.Cmp(exact.New(1511, 16)) != 0 {
			t.Errorf("got %s", got)
		}
	})
}

func TestRoundingProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64Range(-int64(Most), int64(Most)).Draw(t, "length"))
		d := Length(rapid.Int64Range(1, int64(Metre)).Draw(t, "division"))
		down, nearest, up := l.Round(d, Down), l.Round(d, Nearest), l.Round(d, Up)
		switch {
		case down%d != 0 || nearest%d != 0 || up%d != 0:
			t.Fatalf("%d to %d: %d %d %d are no multiples", l, d, down, nearest, up)
		case down > l || l-down >= d:
			t.Fatalf("%d down to %d is %d", l, d, down)
		case up < l || up-l >= d:
			t.Fatalf("%d up to %d is %d", l, d, up)
		case 2*max(nearest-l, l-nearest) > d:
			t.Fatalf("%d to the nearest %d is %d", l, d, nearest)
		case (-l).Round(d, Nearest) != -nearest || (-l).Round(d, Down) != -up:
			t.Fatalf("%d to %d is not the mirror of its opposite", l, d)
		}
	})
}
