package length

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// slowPrint puts the text of a length together from strings.
func slowPrint(s Style, l Length) string {
	p := s.Parts(l)
	var words []string
	inches := strconv.FormatInt(p.Whole, 10)
	fraction := strconv.FormatInt(p.Num, 10) + "/" + strconv.FormatInt(p.Den, 10)
	switch {
	case p.Num != 0 && (p.Whole != 0 || p.HasFeet):
		inches += " " + fraction
	case p.Num != 0:
		inches = fraction
	case p.Decimals != "":
		inches += "." + p.Decimals
	}
	if p.HasFeet {
		words = append(words, strconv.FormatInt(p.Feet, 10)+"'")
		inches += `"`
	}
	text := strings.Join(append(words, inches), " ")
	if p.Negative {
		return "-" + text
	}
	return text
}

// slowDecimal is the exact number as math/big prints it. Half is away from nought in both.
func slowDecimal(s Style, l Length, places int) string {
	text := big.NewRat(int64(l), int64(s.System.Unit())).FloatString(places)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// TestPrintAtRandom holds what is put together in place to what is put together from strings, up to the ends of a Length.
func TestPrintAtRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	ends := []Length{0, 1, -1, Most, -Most, math.MaxInt64, -math.MaxInt64, Inch, -Inch, Foot, Millimetre}
	for i := range 20_000 {
		l := Length(int64(r.Uint64()) >> r.IntN(64))
		if i < len(ends) {
			l = ends[i]
		}
		s := Style{System: Inches, Division: []Length{1, Inch / 16, Inch / 10, Foot, Millimetre}[r.IntN(5)], Rounding: Nearest, Feet: r.IntN(2) > 0}
		if r.IntN(3) == 0 {
			s.System = Millimetres
		}
		if got, want := s.Print(l), slowPrint(s, l); got != want {
			t.Fatalf("%d nm, %+v: got %q, want %q", int64(l), s, got, want)
		}
		if got, want := s.With(l), slowPrint(s, l); got != want && got != want+" "+s.System.String() || strings.HasSuffix(want, `"`) != (got == want) {
			t.Fatalf("%d nm, %+v: with its unit %q, without %q", int64(l), s, got, want)
		}
		places := r.IntN(mostPlaces + 1)
		if l.Float() > -Most.Float() && l.Float() < Most.Float() {
			if got, want := s.Decimal(l, places), slowDecimal(s, l, places); got != want {
				t.Fatalf("%d nm to %d places, %+v: got %q, want %q", int64(l), places, s, got, want)
			}
		}
	}
}
