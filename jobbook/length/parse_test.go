package length

import (
	"errors"
	"strings"
	"testing"
)

// Expected values are worked by hand in nanometres: 1 in = 25 400 000, 1/16 in = 1 587 500, 1/64 in = 396 875, 1 ft = 304 800 000,
// 1 mm = 1 000 000. 94 7/16 in = 2 387 600 000 + 11 112 500 = 2 398 712 500.
func TestParse(t *testing.T) {
	const (
		in         = Inches
		mm         = Millimetres
		tape       = Length(2_398_712_500) // 94 7/16 in
		feet       = Length(2_398_712_500) // 7 ft 10 7/16 in: 7 × 12 + 10 = 94
		nineHalf   = Length(241_300_000)   // 9 1/2 in
		eightFeet9 = Length(2_679_700_000) // 8 ft 9 1/2 in = 105 1/2 in
	)
	for _, c := range []struct {
		text   string
		system System
		want   Length
	}{
		// a bare number is in the job's units
		{"94", in, 2_387_600_000},
		{"94", mm, 94_000_000},
		{"94.4375", in, tape},
		{"2399.5", mm, 2_399_500_000},
		{"35.50", in, 901_700_000},
		{".5", in, 12_700_000},
		{"0.5", in, 12_700_000},
		{"5.", in, 127_000_000},
		{"0", in, 0},
		{"0", mm, 0},
		{"1.05", mm, 1_050_000}, // a zero after the point is no leading zero
		{"0.000001", mm, 1},     // one nanometre

		// fractions
		{"94 7/16", in, tape},
		{"94-7/16", in, tape},
		{"  94 7/16  ", in, tape},
		{"94  7/16", in, tape},
		{"94\t7/16", in, tape},
		{"7/16", in, 11_112_500},
		{"1/64", in, 396_875},
		{"0 1/2", in, 12_700_000},
		{"1 0/16", in, 25_400_000},
		{"0/5", in, 0},
		{"10/16", in, 15_875_000}, // not in lowest terms: 5/8
		{"1/5", in, 5_080_000},    // a whole number of nanometres, though no tape shows it

		// with marks and words
		{`94 7/16"`, in, tape},
		{`94 7/16 "`, in, tape},
		{"94 7/16''", in, tape},
		{"94 7/16 in", mm, tape},
		{"94 7/16in", mm, tape},
		{"94 7/16 in.", mm, tape},
		{"94 7/16 INCHES", mm, tape},
		{"1 inch", mm, 25_400_000},
		{`9-1/2"`, in, nineHalf},
		{"7/16 in", mm, 11_112_500},

		// feet
		{`7' 10 7/16"`, in, feet},
		{`7'10 7/16"`, in, feet},
		{`7'-10 7/16"`, in, feet},
		{`7' - 10 7/16"`, in, feet},
		{`7' 10-7/16"`, mm, feet},
		{"7 ft 10 7/16 in", mm, feet},
		{"7ft10 7/16in", in, feet},
		{"7 ft. 10 7/16 in.", in, feet},
		{"7 feet 10 7/16 inches", in, feet},
		{"7' 10 7/16", in, feet},
		{"8' 9-1/2", in, eightFeet9},
		{"8'-9 1/2\"", in, eightFeet9},
		{"7'", in, 2_133_600_000},
		{"1 foot", in, 304_800_000},
		{"1 FOOT 3", in, 381_000_000},
		{"7.25'", in, 2_209_800_000}, // 87 in
		{"1/2 ft", in, 152_400_000},
		{`7' 1/2"`, in, 2_146_300_000}, // 84 1/2 in
		{`0' 11.5"`, in, 292_100_000},

		// metric
		{"2399 mm", in, 2_399_000_000},
		{"2399mm", in, 2_399_000_000},
		{"2399 MM", in, 2_399_000_000},
		{"2399.5 mm", in, 2_399_500_000},
		{"239.9 cm", in, 2_399_000_000},
		{"2.399 m", in, 2_399_000_000},
		{"1 millimetre", in, 1_000_000},
		{"2 millimeters", in, 2_000_000},
		{"1 centimeter", in, 10_000_000},
		{"2 centimetres", in, 20_000_000},
		{"1 metre", in, 1_000_000_000},
		{"2 meters", in, 2_000_000_000},
		{"0.000001 mm", in, 1},

		// as a phone types it
		{"94½", in, 2_400_300_000},
		{"½", in, 12_700_000},
		{"94 ¾ in", mm, 2_406_650_000},
		{"1⅛", in, 28_575_000},
		{"1⅜", in, 34_925_000},
		{"1⅝", in, 41_275_000},
		{"1⅞", in, 47_625_000},
		{"1¼", in, 31_750_000},
		{"94 7⁄16", in, tape},
		{"94 7∕16", in, tape},
		{"7′ 10 7/16″", in, feet},
		{"7’ 10 7/16”", in, feet},
		{"7‘ 10 7/16“", in, feet},
		{"94 7/16′′", in, tape},
		{"94\u00a07/16", in, tape},
		{"94\u202f7/16", in, tape},
		{"94\u20097/16", in, tape},
		{"94‐7/16", in, tape}, // U+2010
		{"94‑7/16", in, tape}, // U+2011
		{"94‒7/16", in, tape}, // U+2012
		{"94–7/16", in, tape}, // U+2013

		// the longest
		{"100 m", in, Most},
		{"100000", mm, Most},
		{"100.0000 m", in, Most},
		{"328'", in, 99_974_400_000},
	} {
		t.Run(c.text+" "+c.system.String(), func(t *testing.T) {
			got, err := Parse(c.text, c.system)
			if err != nil {
				t.Fatalf("refused: %v", err)
			}
			if got != c.want {
				t.Errorf("got %d nm, want %d nm", got, c.want)
			}
		})
	}
}

func TestParseRefuses(t *testing.T) {
	const (
		exampleIn = `write a length such as 94 7/16, 7' 10 7/16" or 2399 mm`
		exampleMM = "write a length such as 2399, 2399.5 or 94 7/16 in"
		noSign    = "write the length without a sign"
		noComma   = "write a decimal point, or leave the comma out"
		noZero    = "leave the zero out; a comma in a list, as in 1,000, also leaves one behind"
		noPart    = "write metric lengths with a decimal point, or inches with in"
		tapeFine  = "write a fraction that a tape shows, such as 7/16, or fewer decimals"
		unit      = "check the number and its unit"
		apart     = "write the whole inches apart, as in 1 1/16"
		zeroth    = "write a fraction such as 7/16"
	)
	for _, c := range []struct {
		text          string
		system        System
		summary, hint string
	}{
		{"", Inches, "no length is written here", exampleIn},
		{" \t ", Inches, "no length is written here", exampleIn},
		{"", Millimetres, "no length is written here", exampleMM},

		{"0x1F", Inches, `"0x1F" is a programmer's number, not a reading`, exampleIn},
		{"0b1", Inches, `"0b1" is a programmer's number, not a reading`, exampleIn},
		{"0o17", Inches, `"0o17" is a programmer's number, not a reading`, exampleIn},
		{"1_000", Millimetres, `"1_000" is a programmer's number, not a reading`, exampleMM},
		{"1e3", Inches, `"1e3" is a programmer's number, not a reading`, exampleIn},
		{"1E+3 mm", Inches, `"1E+3 mm" is a programmer's number, not a reading`, exampleIn},
		{"1e400", Inches, `"1e400" is a programmer's number, not a reading`, exampleIn},

		{"wall", Inches, `"wall" has no digits, a length is wanted`, exampleIn},
		{".inf", Inches, `".inf" has no digits, a length is wanted`, exampleIn},
		{".nan", Inches, `".nan" has no digits, a length is wanted`, exampleIn},
		{"-", Inches, `"-" has no digits, a length is wanted`, exampleIn},
		{"⅓", Inches, `"⅓" has no digits, a length is wanted`, exampleIn}, // no tape shows a third
		{"٣", Inches, `"٣" has digits of another script`, "write it with the digits 0 to 9"},

		{"-5", Inches, `"-5" has a sign, a reading is never negative`, noSign},
		{"+5", Inches, `"+5" has a sign, a reading is never negative`, noSign},
		{"- 5 mm", Inches, `"- 5 mm" has a sign, a reading is never negative`, noSign},
		{"−5", Inches, `"−5" has a sign, a reading is never negative`, noSign},
		{"–5", Inches, `"–5" has a sign, a reading is never negative`, noSign},
		{"-.5", Inches, `"-.5" has a sign, a reading is never negative`, noSign},

		{"94,5", Inches, `"94,5" could be a decimal or thousands`, "write 94.5 for the decimal, or 945 without the comma"},
		{"1,000", Millimetres, `"1,000" could be a decimal or thousands`, "write 1.000 for the decimal, or 1000 without the comma"},
		{"94,5 mm", Inches, `"94,5 mm" has a comma, which could be a decimal or thousands`, noComma},
		{"1,234,5", Inches, `"1,234,5" has a comma, which could be a decimal or thousands`, noComma},

		{"12345678901234567890", Inches, `"12345678901234567890" has more digits than a tape can show`, exampleIn},
		{"0.0000000000000000001", Millimetres, `"0.0000000000000000001" has more digits than a tape can show`, exampleMM},
		{strings.Repeat("9", 100), Inches, `"` + strings.Repeat("9", 40) + `..." has more digits than a tape can show`, exampleIn},

		{"0123", Inches, `"0123" starts a number with a zero`, noZero},
		{"000", Inches, `"000" starts a number with a zero`, noZero},
		{"9 01/2", Inches, `"9 01/2" starts a number with a zero`, noZero},
		{"9 1/02", Inches, `"9 1/02" starts a number with a zero`, noZero},
		{`7' 06"`, Inches, `"7' 06"" starts a number with a zero`, noZero},

		{"94 7/16 mm", Inches, `"94 7/16 mm" has a fraction of a metric unit`, noPart},
		{"1/2 m", Inches, `"1/2 m" has a fraction of a metric unit`, noPart},
		{"94½ cm", Millimetres, `"94½ cm" has a fraction of a metric unit`, noPart},
		{"94 7/16", Millimetres, `"94 7/16" is a fraction, and a bare number is in millimetres here`, "write in after it for inches, or units: in above for the whole file; millimetres have a decimal point"},
		{"7/16", Millimetres, `"7/16" is a fraction, and a bare number is in millimetres here`, "write in after it for inches, or units: in above for the whole file; millimetres have a decimal point"},

		{"1/0", Inches, `"1/0" divides by zero`, zeroth},
		{"5 0/0", Inches, `"5 0/0" divides by zero`, zeroth},
		{"9 16/16", Inches, `"9 16/16" has a fraction of one or more`, apart},
		{"17/16", Inches, `"17/16" has a fraction of one or more`, apart},
		{`7' 10 17/16"`, Inches, `"7' 10 17/16"" has a fraction of one or more`, apart},
		{"9 16/16 ft", Inches, `"9 16/16 ft" has a fraction of one or more`, apart},

		{"1/3", Inches, `"1/3" is finer than a nanometre`, tapeFine},
		{"94.43751234", Inches, `"94.43751234" is finer than a nanometre`, tapeFine}, // 94.43751234 × 25 400 000 = …3.436
		{"0.0000001 mm", Inches, `"0.0000001 mm" is finer than a nanometre`, tapeFine},

		{"100001", Millimetres, `"100001" is over 100 m`, "a bare number is in millimetres here: check it, or write its unit with it"},
		{"100.000000001 m", Inches, `"100.000000001 m" is over 100 m`, unit}, // by one nanometre
		{"2399 in 5", Inches, `"2399 in 5" is not a length`, exampleIn},
		{"94438", Inches, `"94438" is over 100 m`, "a bare number is in inches here: write 94438 mm if millimetres are meant"},
		{`328' 2"`, Inches, `"328' 2"" is over 100 m`, unit},
		{"999999999999 ft", Inches, `"999999999999 ft" is over 100 m`, unit},

		{"7.5' 3\"", Inches, `"7.5' 3"" has a part of a foot and inches as well`, "write whole feet before inches"},
		{"1/2 ft 3 in", Inches, `"1/2 ft 3 in" has a part of a foot and inches as well`, "write whole feet before inches"},
		{`7' 12"`, Inches, `"7' 12"" has twelve inches or more after the feet`, `write 8' 0" if that is what was read`},
		{`7' 14 1/2"`, Inches, `"7' 14 1/2"" has twelve inches or more after the feet`, `write 8' 2 1/2" if that is what was read`},
		{`7' 14.3"`, Inches, `"7' 14.3"" has twelve inches or more after the feet`, `write 8' 2 3/10" if that is what was read`}, // nothing is rounded behind the reader's back

		{"94 - 7/16", Inches, `"94 - 7/16" could be a subtraction`, "write 94 7/16"},
		{"94 -7/16", Inches, `"94 -7/16" could be a subtraction`, "write 94 7/16"},
		{"94- 7/16 in", Inches, `"94- 7/16 in" could be a subtraction`, "write 94 7/16"},
		{"94-½", Inches, `"94-½" could be a subtraction`, "write 94 1/2"},

		{"6-8", Inches, `"6-8" is not a length`, exampleIn}, // feet and inches, or a subtraction
		{"2x6", Inches, `"2x6" is not a length`, exampleIn},
		{"1:30", Inches, `"1:30" is not a length`, exampleIn},
		{"94 7", Inches, `"94 7" is not a length`, exampleIn},
		{"1.5 1/2", Inches, `"1.5 1/2" is not a length`, exampleIn},
		{"1/2/3", Inches, `"1/2/3" is not a length`, exampleIn},
		{"1 1/2 1/2", Inches, `"1 1/2 1/2" is not a length`, exampleIn},
		{"1.2.3", Inches, `"1.2.3" is not a length`, exampleIn},
		{`5" 3'`, Inches, `"5" 3'" is not a length`, exampleIn},
		{"5' 3'", Inches, `"5' 3'" is not a length`, exampleIn},
		{"5#note", Inches, `"5#note" is not a length`, exampleIn},
		{"about 5", Inches, `"about 5" is not a length`, exampleIn},
		{"5 km", Millimetres, `"5 km" is not a length`, exampleMM},
		{"5\x00", Inches, `"5\x00" is not a length`, exampleIn},
		{"5\u200b", Inches, `"5\u200b" is not a length`, exampleIn}, // a mark without width, made visible
		{"2026-11-24", Inches, `"2026-11-24" is a date, a length is wanted`, exampleIn},
		{"5" + strings.Repeat("x", 50), Inches, `"5` + strings.Repeat("x", 39) + `..." is not a length`, exampleIn},
	} {
		t.Run(c.text+" "+c.system.String(), func(t *testing.T) {
			l, err := Parse(c.text, c.system)
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("taken for %d nm (%v)", l, err)
			}
			if l != 0 {
				t.Errorf("refused, and %d nm all the same", l)
			}
			if e.Summary != c.summary || e.Error() != c.summary {
				t.Errorf("summary\n got %s\nwant %s", e.Summary, c.summary)
			}
			if e.Hint != c.hint {
				t.Errorf("hint\n got %s\nwant %s", e.Hint, c.hint)
			}
		})
	}
}

// What is accepted is a length, and what is printed exactly is read back as the same.
func FuzzParse(f *testing.F) {
	for _, text := range []string{
		"", "94 7/16", "94-7/16", "94½", "94.4375", `7' 10 7/16"`, "7 ft 10 7/16 in", "2399 mm", "239.9 cm", "2.399 m", "94,5", "1,000",
		// what a file of measurements may hold, by accident
		"105", "35.5", "35.50", "35-1/2", "35 1/2", "1/2", "6-8", `8' 9-1/2"`, `9-1/2"`, `8'-9 1/2"`, "2700mm", "35½", "2x6", "1:30", "8:12",
		"0123", "1_000", "0x1F", "1e3", ".inf", ".nan", "1e400", `8' 9-1/2""`, `'8' 9-1/2"'`, "#5", " # 5", "5 # note", "5#note", "@48", "`x`", "%5",
		"*5", "&5", ">5", "|5", "35\n  1/2", "000", "v:35", "5\u00a01/2", "5\u20111/2", "5\u20131/2", "7\u2032 3\u2033", "35\r1/2", "2026-11-24", "~", "null",
		"+5", "-5", "−5", "0", "00", "0/0", "1/0", "99999999999999999999", "1/99999999999999999", "100 m", "100.0000001 m", "\x00", "\xff5", "⅓", "٣", "5K", "5 ſt",
	} {
		f.Add(text, true)
		f.Add(text, false)
	}
	f.Fuzz(func(t *testing.T, text string, inches bool) {
		system := Millimetres
		if inches {
			system = Inches
		}
		l, err := Parse(text, system)
		if long, refused := parse(text, system); long != l || (refused == nil) != (err == nil) {
			t.Errorf("%q is %d nm, %v, the long way %d nm, %v", text, l, err, long, refused)
		}
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || e.Summary == "" || e.Hint == "" || strings.Contains(e.Summary, "\n") || strings.HasSuffix(e.Summary, ".") {
				t.Errorf("%q is refused with %#v", text, err)
			}
			if l != 0 {
				t.Errorf("%q is refused, and %d nm all the same", text, l)
			}
			return
		}
		if l < 0 || l > Most {
			t.Errorf("%q is %d nm", text, l)
		}
		for _, style := range []Style{{System: Inches}, {System: Inches, Feet: true}, {System: Millimetres}} {
			style.Division, style.Rounding = Nanometre, Nearest
			for _, printed := range []string{style.With(l), style.Print(l)} {
				if back, err := Parse(printed, style.System); err != nil || back != l {
					t.Errorf("%q is %d nm, printed %q, read back %d nm (%v)", text, l, printed, back, err)
				}
			}
		}
	})
}

// TestPlain holds the short way of the common forms against the long one, and sees that these take it.
func TestPlain(t *testing.T) {
	numbers := []string{"", "0", "1", "7", "10", "94", "007", "9999999", "12345678", "3937", "100000", "100001"}
	parts := []string{"", ".", ".5", ".4375", ".0625", ".000001", ".00001", ".0000001", ".50", ".x", " 7/16", " 0/4", " 16/16", " 17/16", " 1/3", " 1/127", " 07/16", " 7/016", " /2", " 1/", " 1/0", "-7/16", "  1/2", "/2", "/64", "/0"}
	units := []string{"", " in", " mm", " ft", "ft", " ft in", "'", " '", "''", "in", " in.", " cm", "  mm", " in in", " mm in", "\"", " \"", "\"\"", " in\""}
	feet := []string{"", "7' ", "0' ", "07' ", "7'", "1/2' ", "328' ", "12345678' ", "' ", "7' 7' "}
	for _, n := range numbers {
		for _, p := range parts {
			for i := range len(units) * len(feet) {
				for _, system := range []System{Inches, Millimetres} {
					text := feet[i%len(feet)] + n + p + units[i/len(feet)]
					l, err := Parse(text, system)
					if long, refused := parse(text, system); l != long || (err == nil) != (refused == nil) {
						t.Errorf("%q in %s is %d nm, %v, the long way %d nm, %v", text, system, l, err, long, refused)
					}
				}
			}
		}
	}
	for _, text := range []string{"94 7/16", "1/2", "36", "94.4375", "0.5", "94 7/16 in", "2399 mm", "2399.5 mm", "8 ft", "8'", "9' 2\"", "7' 10 7/16\"", "0' 11.5\""} {
		if _, ok := plain(text, Inches); !ok {
			t.Errorf("%q takes the long way", text)
		}
	}
}

// TestBare: a number without a unit is a length that hangs on the system, also where only one of the two takes it; nothing is the same in both.
func TestBare(t *testing.T) {
	for text, want := range map[string]bool{
		"2400": true, "41.5": true, "3 1/2": true, "94½": true, "1/4": true,
		"0": false, "2400 mm": false, "94 7/16 in": false, `8'`: false, `7' 10"`: false, "94,5": false, "": false, "yes": false,
	} {
		if got := Bare(text); got != want {
			t.Errorf("%q: got %v", text, got)
		}
	}
}
