// Package exact holds numbers that are exact: fractions of whole numbers, in two words of the machine as long as they fit and of any size beyond.
//
// Nothing here rounds, but for what is printed and what is made a floating-point number. What comes to no number, as a division by zero does, is
// the zero value, and so is everything that is worked out from it.
package exact

import (
	"cmp"
	"math"
	"math/big"
	"math/bits"
	"strconv"
	"strings"
)

// Number is an exact fraction, a plain value that no calculation changes. The zero value is no number; nought is Of(0).
type Number struct {
	num, den int64    // in lowest terms: den is over 0, num is not the least of all so that it has an opposite; den is 0 where these do not fit, and for no number
	big      *big.Rat // where these do not fit; never changed
}

// Of is a whole number.
func Of(n int64) Number { return New(n, 1) }

// New is num/den; no number where den is 0.
func New(num, den int64) Number {
	switch {
	case den == 0:
		return Number{}
	case num == math.MinInt64 || den == math.MinInt64:
		return FromRat(big.NewRat(num, den))
	case den < 0:
		num, den = -num, -den
	}
	if den > 1 {
		g := gcd(size(num), uint64(den))
		num, den = num/g, den/g
	}
	return Number{num: num, den: den}
}

// FromRat is a fraction of any size; no number for nil.
func FromRat(r *big.Rat) Number {
	if r == nil {
		return Number{}
	}
	if num, den := r.Num(), r.Denom(); num.IsInt64() && den.IsInt64() && num.Int64() != math.MinInt64 {
		return Number{num: num.Int64(), den: den.Int64()}
	}
	return Number{big: new(big.Rat).Set(r)}
}

// mostDigits of a decimal always fit.
const mostDigits = 18

// Parse reads whatever big.Rat reads: 12, 0.452, 1/3; false for anything else.
func Parse(text string) (Number, bool) {
	n, den, digits, point := int64(0), int64(1), 0, false
	for _, c := range []byte(text) {
		switch {
		case c >= '0' && c <= '9' && digits < mostDigits:
			n, digits = 10*n+int64(c-'0'), digits+1
			if point {
				den *= 10
			}
		case c == '.' && !point:
			point = true
		default:
			r, ok := new(big.Rat).SetString(text)
			if !ok {
				return Number{}, false
			}
			return FromRat(r), true
		}
	}
	if digits == 0 {
		return Number{}, false
	}
	return New(n, den), true
}

// Known says that it is a number.
func (x Number) Known() bool { return x.den != 0 || x.big != nil }

// Fraction is the number in lowest terms, den over 0; false where these do not fit, and for no number.
func (x Number) Fraction() (num, den int64, ok bool) { return x.num, x.den, x.den != 0 }

// Int64 is a whole number; false where it is none, or does not fit.
func (x Number) Int64() (int64, bool) { return x.num, x.den == 1 }

// IsInt says that it is a whole number.
func (x Number) IsInt() bool { return x.den == 1 || x.big != nil && x.big.IsInt() }

// Rat is the number as a big one of its own; nil for no number.
func (x Number) Rat() *big.Rat {
	switch {
	case x.den != 0:
		return big.NewRat(x.num, x.den)
	case x.big != nil:
		return new(big.Rat).Set(x.big)
	}
	return nil
}

// Add is x + y.
func (x Number) Add(y Number) Number {
	if x.den != 0 && y.den != 0 {
		if z, ok := add(x, y); ok {
			return z
		}
	}
	return x.long(y, (*big.Rat).Add)
}

// Sub is x - y.
func (x Number) Sub(y Number) Number {
	if x.den != 0 && y.den != 0 {
		if z, ok := add(x, Number{num: -y.num, den: y.den}); ok {
			return z
		}
	}
	return x.long(y, (*big.Rat).Sub)
}

// Mul is x · y.
func (x Number) Mul(y Number) Number {
	if x.den != 0 && y.den != 0 {
		if z, ok := product(x.num, x.den, y.num, y.den); ok {
			return z
		}
	}
	return x.long(y, (*big.Rat).Mul)
}

// Quo is x / y; no number where y is nought.
func (x Number) Quo(y Number) Number {
	if y.Sign() == 0 {
		return Number{}
	}
	if x.den != 0 && y.den != 0 {
		num, den := y.den, y.num // upside down
		if den < 0 {
			num, den = -num, -den
		}
		if z, ok := product(x.num, x.den, num, den); ok {
			return z
		}
	}
	return x.long(y, (*big.Rat).Quo)
}

// long works with big numbers, for what does not fit.
func (x Number) long(y Number, do func(z, x, y *big.Rat) *big.Rat) Number {
	if !x.Known() || !y.Known() {
		return Number{}
	}
	return FromRat(do(new(big.Rat), x.Rat(), y.Rat()))
}

// Sign is -1, 0 or 1; 0 for no number.
func (x Number) Sign() int {
	switch {
	case x.big != nil:
		return x.big.Sign()
	case x.num < 0:
		return -1
	case x.num > 0:
		return 1
	}
	return 0
}

// Cmp is -1 where x is less than y, 1 where it is more, 0 where they are one number or either is none.
func (x Number) Cmp(y Number) int {
	switch {
	case !x.Known() || !y.Known():
		return 0
	case x.den == 0 || y.den == 0:
		return x.Rat().Cmp(y.Rat())
	case (x.num < 0) != (y.num < 0):
		return cmp.Compare(x.num, y.num)
	}
	high, low := bits.Mul64(size(x.num), uint64(y.den))
	over, under := bits.Mul64(size(y.num), uint64(x.den))
	way := cmp.Or(cmp.Compare(high, over), cmp.Compare(low, under))
	if x.num < 0 {
		return -way
	}
	return way
}

// Float64 is the nearest floating-point number, and not a number for none.
func (x Number) Float64() float64 {
	const exactly = 1 << 53 // up to here a float holds every whole number, so that one division rounds once
	if x.den != 0 && -exactly <= x.num && x.num <= exactly && x.den <= exactly {
		return float64(x.num) / float64(x.den)
	}
	if !x.Known() {
		return math.NaN()
	}
	f, _ := x.Rat().Float64()
	return f
}

// Fixed prints with so many decimals, a half away from nought, as big.Rat does; nothing for no number.
func (x Number) Fixed(places int) string {
	var room [24]byte // a sign, as many digits as a length has, a point and nine more; longer ones grow
	return string(x.AppendFixed(room[:0], places))
}

// AppendFixed writes what Fixed prints behind some text.
func (x Number) AppendFixed(text []byte, places int) []byte {
	if !x.Known() {
		return text
	}
	if x.den == 0 || places < 0 || places > mostDigits {
		return append(text, x.Rat().FloatString(places)...)
	}
	unit := uint64(1)
	for range places {
		unit *= 10
	}
	whole, rest := size(x.num)/uint64(x.den), size(x.num)%uint64(x.den)
	high, low := bits.Mul64(rest, unit)
	part, left := bits.Div64(high, low, uint64(x.den)) // rest is less than den, so that the quotient is less than the unit
	if left >= uint64(x.den)-left {
		part++
	}
	if part == unit {
		whole, part = whole+1, 0
	}
	if x.num < 0 {
		text = append(text, '-')
	}
	text = strconv.AppendUint(text, whole, 10)
	if places == 0 {
		return text
	}
	text = append(text, '.')
	for range places {
		text = append(text, '0')
	}
	for i := len(text) - 1; part > 0; i-- {
		text[i] += byte(part % 10)
		part /= 10
	}
	return text
}

// String prints a whole number, or the fraction: 1511/16; it is for messages to developers.
func (x Number) String() string {
	if !x.Known() {
		return "no number"
	}
	return strings.TrimSuffix(x.Rat().String(), "/1")
}

// add is over the least common denominator; a common factor that the sum has with it is one of the greatest that both denominators share (Knuth, TAOCP 2, 4.5.1).
func add(x, y Number) (Number, bool) {
	shared := int64(1)
	if x.den != 1 && y.den != 1 {
		shared = gcd(uint64(x.den), uint64(y.den))
	}
	a, okA := times(x.num, y.den/shared)
	b, okB := times(y.num, x.den/shared)
	sum := a + b
	if !okA || !okB || (sum > a) != (b > 0) || sum == math.MinInt64 {
		return Number{}, false
	}
	left := int64(1)
	if shared != 1 {
		left = gcd(size(sum), uint64(shared))
	}
	den, ok := times(x.den/shared, y.den/left)
	return Number{num: sum / left, den: den}, ok
}

// product takes out what either numerator shares with the other's denominator first, so that it is in lowest terms and as small as it can be.
func product(a, b, c, d int64) (Number, bool) {
	if d != 1 {
		g := gcd(size(a), uint64(d))
		a, d = a/g, d/g
	}
	if b != 1 {
		g := gcd(size(c), uint64(b))
		c, b = c/g, b/g
	}
	num, okNum := times(a, c)
	den, okDen := times(b, d)
	return Number{num: num, den: den}, okNum && okDen
}

// times is a · b, neither of them the least of all; false where it does not fit.
func times(a, b int64) (int64, bool) {
	high, low := bits.Mul64(size(a), size(b))
	if high != 0 || low > math.MaxInt64 {
		return 0, false
	}
	if (a < 0) != (b < 0) {
		return -int64(low), true
	}
	return int64(low), true
}

func size(n int64) uint64 { return uint64(max(n, -n)) }

// gcd is the greatest common divisor; b is over 0, and the result fits as b does.
func gcd(a, b uint64) int64 {
	for a != 0 {
		a, b = b%a, a
	}
	return int64(b)
}
