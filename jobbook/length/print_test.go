package length

import "testing"

// Worked by hand.
func TestPrint(t *testing.T) {
	const s = Inch / 16
	tape := Style{System: Inches, Division: s, Rounding: Nearest}
	feet := Style{System: Inches, Division: s, Rounding: Nearest, Feet: true}
	fine := Style{System: Inches, Division: Inch / 64, Rounding: Nearest}
	mm := Style{System: Millimetres, Division: Millimetre, Rounding: Nearest}
	exact := Style{System: Millimetres, Division: Nanometre, Rounding: Nearest}
	for _, c := range []struct {
		name        string
		style       Style
		l           Length
		print, with string
	}{
		{"whole and fraction", tape, 94*Inch + 7*s, "94 7/16", "94 7/16 in"},
		{"lowest terms", tape, 94*Inch + 8*s, "94 1/2", "94 1/2 in"},
		{"whole", tape, 94 * Inch, "94", "94 in"},
		{"fraction alone", tape, 7 * s, "7/16", "7/16 in"},
		{"nothing", tape, 0, "0", "0 in"},
		{"rounded away", tape, s/2 - 1, "0", "0 in"},
		{"rounded up to a whole", tape, Inch - 1, "1", "1 in"},
		{"down", Style{System: Inches, Division: s, Rounding: Down}, Inch - 1, "15/16", "15/16 in"},
		{"up", Style{System: Inches, Division: s, Rounding: Up}, Inch + 1, "1 1/16", "1 1/16 in"},
		{"no direction is to the nearest", Style{System: Inches, Division: s}, Inch - 1, "1", "1 in"},
		{"negative", tape, -94*Inch - 7*s, "-94 7/16", "-94 7/16 in"},
		{"negative fraction", tape, -s, "-1/16", "-1/16 in"},
		{"negative, rounded to nothing", tape, -1, "0", "0 in"},
		{"sixty-fourths", fine, Inch + Inch/64, "1 1/64", "1 1/64 in"},
		{"a nanometre", Style{System: Inches, Division: Nanometre, Rounding: Nearest}, 1, "1/25400000", "1/25400000 in"},
		{"feet", feet, 94*Inch + 7*s, `7' 10 7/16"`, `7' 10 7/16"`},
		{"feet and no inches", feet, 7 * Foot, `7' 0"`, `7' 0"`},
		{"feet and a fraction", feet, 7*Foot + s, `7' 0 1/16"`, `7' 0 1/16"`},
		{"less than a foot", feet, 11*Inch + s, "11 1/16", "11 1/16 in"},
		{"rounded up to a foot", feet, Foot - 1, `1' 0"`, `1' 0"`},
		{"negative feet", feet, -Foot, `-1' 0"`, `-1' 0"`},
		{"millimetres", mm, 2399 * Millimetre, "2399", "2399 mm"},
		{"millimetres, half", mm, 2399*Millimetre + Millimetre/2, "2400", "2400 mm"},
		{"half a millimetre to halves", Style{System: Millimetres, Division: Millimetre / 2, Rounding: Nearest}, 2399*Millimetre + Millimetre/2, "2399.5", "2399.5 mm"},
		{"exact millimetres", exact, 94*Inch + 7*s, "2398.7125", "2398.7125 mm"},
		{"a zero after the point", exact, Millimetre + 50_000, "1.05", "1.05 mm"},
		{"a nanometre in millimetres", exact, 1, "0.000001", "0.000001 mm"},
		{"negative millimetres", exact, -Millimetre / 2, "-0.5", "-0.5 mm"},
		{"feet are not for millimetres", Style{System: Millimetres, Division: Millimetre, Rounding: Nearest, Feet: true}, 2 * Metre, "2000", "2000 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.style.Print(c.l); got != c.print {
				t.Errorf("got %q, want %q", got, c.print)
			}
			if got := c.style.With(c.l); got != c.with {
				t.Errorf("with its unit: got %q, want %q", got, c.with)
			}
		})
	}
}

func TestParts(t *testing.T) {
	feet := Style{System: Inches, Division: Inch / 16, Rounding: Nearest, Feet: true}
	mm := Style{System: Millimetres, Division: Millimetre / 4, Rounding: Nearest}
	for _, c := range []struct {
		name  string
		style Style
		l     Length
		want  Parts
	}{
		{"feet and inches", feet, -94*Inch - 8*Inch/16, Parts{Negative: true, Feet: 7, HasFeet: true, Whole: 10, Num: 1, Den: 2}},
		{"whole inches", feet, 3 * Inch, Parts{Whole: 3}},
		{"millimetres", mm, 5*Millimetre + 250_000, Parts{Whole: 5, Decimals: "25"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.style.Parts(c.l); got != c.want {
				t.Errorf("got %+v, want %+v", got, c.want)
			}
		})
	}
}

// 3.917: the gap of 96 in of clear with 17 balusters of 1 1/2, (96 - 25.5)/18 = 3.91666….
func TestDecimal(t *testing.T) {
	gap := Length(99_483_333) // 3.9166666 × 25 400 000
	for _, c := range []struct {
		name   string
		system System
		how    Rounding
		l      Length
		places int
		want   string
	}{
		{"to the nearest", Inches, Nearest, gap, 3, "3.917"},
		{"down", Inches, Down, gap, 3, "3.916"},
		{"up", Inches, Up, gap, 2, "3.92"},
		{"no direction is to the nearest", Inches, 0, gap, 3, "3.917"},
		{"zeros are kept", Inches, Nearest, 4 * Inch, 3, "4.000"},
		{"no places", Inches, Nearest, gap, 0, "4"},
		{"fewer than none", Inches, Nearest, gap, -1, "4"},
		{"a half goes away from zero", Millimetres, Nearest, Millimetre / 2, 0, "1"},
		{"a half below zero", Millimetres, Nearest, -Millimetre / 2, 0, "-1"},
		{"small", Inches, Nearest, Inch / 1000, 3, "0.001"},
		{"nothing", Inches, Nearest, 0, 2, "0.00"},
		{"negative", Inches, Nearest, -gap, 3, "-3.917"},
		{"negative, down is further from zero", Inches, Down, -gap, 2, "-3.92"},
		{"negative, rounded to nothing", Inches, Nearest, -1, 3, "0.000"},
		{"millimetres", Millimetres, Nearest, gap, 1, "99.5"},
		{"a nanometre", Millimetres, Nearest, 1, 6, "0.000001"},
		{"more places than are kept", Millimetres, Nearest, Millimetre, 40, "1.000000000"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := (Style{System: c.system, Rounding: c.how}).Decimal(c.l, c.places); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}
