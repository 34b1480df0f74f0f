// Package length holds exact lengths and how they are read from and written for a tape.
//
// A Length is a whole number of nanometres, so that inches and millimetres meet without a rounding: an inch is
// 25 400 000 nm by definition (international yard and pound agreement, 1959), a sixty-fourth of one exactly 396 875 nm.
// Nothing here rounds unless the caller names the division and the direction.
package length

import (
	"math"
	"math/big"
	"math/bits"

	"balustrade/jobbook/exact"
)

// Length is an exact length in nanometres. Readings lie between 0 and Most; differences may be negative.
type Length int64

// Units of length, exact.
const (
	Nanometre  Length = 1
	Millimetre Length = 1_000_000
	Centimetre Length = 10 * Millimetre
	Metre      Length = 1000 * Millimetre
	Inch       Length = 25_400_000
	Foot       Length = 12 * Inch
)

// Most is the longest reading accepted, 100 m: a longer one is a slip of the pen in this trade.
const Most = 100 * Metre

// System is what a bare number means, and how lengths are printed for a job. The zero value is not a system.
type System int

// The two systems a tape is divided in.
const (
	Inches System = iota + 1
	Millimetres
)

// String gives the unit's symbol as it stands beside a number: in or mm.
func (s System) String() string {
	if s == Millimetres {
		return "mm"
	}
	return "in"
}

// Unit is the length of one unit of the system.
func (s System) Unit() Length {
	if s == Millimetres {
		return Millimetre
	}
	return Inch
}

// Finest is the finest division that anyone reads or writes in the system: 1/64 in, of a tape, or 1/10 mm, of a calliper; common practice.
func (s System) Finest() Length {
	if s == Millimetres {
		return Millimetre / 10
	}
	return Inch / 64
}

// Rounding names a direction. The zero value is invalid, so that no rounding happens unnamed.
type Rounding int

// The directions. Nearest takes an exact half away from zero, which on a tape is away from the datum.
const (
	Down Rounding = iota + 1
	Nearest
	Up
)

// String gives the direction in words for a page.
func (r Rounding) String() string {
	switch r {
	case Down:
		return "down"
	case Nearest:
		return "to the nearest"
	case Up:
		return "up"
	}
	return "unrounded"
}

// In is the length as an exact number of the system's unit.
func (l Length) In(s System) exact.Number { return exact.New(int64(l), int64(s.Unit())) }

// Float is the length in millimetres, for drawing and trigonometry only.
func (l Length) Float() float64 { return float64(l) / float64(Millimetre) }

// Round gives the multiple of division next to l in the named direction; Down and Up mean towards and away from
// minus infinity. A division that is not positive, or a direction that is not named, leaves l as it is.
func (l Length) Round(division Length, how Rounding) Length {
	if division <= 0 || how < Down || how > Up {
		return l
	}
	if near, ok := quotient(int64(l), int64(division), division, how); ok {
		return near
	}
	return Rounded(exact.Of(int64(l)), division, how)
}

// Rounded rounds an exact number of nanometres to a multiple of division in the named direction.
// It is how a quotient becomes a mark: once, from the exact value. A division that is not positive is a nanometre, a
// direction that is not named is to the nearest. A number beyond what a Length holds gives the last multiple that it does, no number gives 0.
func Rounded(nm exact.Number, division Length, how Rounding) Length {
	if division <= 0 {
		division = Nanometre
	}
	if how < Down || how > Up {
		how = Nearest
	}
	if num, den, ok := nm.Fraction(); ok {
		if high, den := bits.Mul64(uint64(den), uint64(division)); high == 0 && den <= math.MaxInt64 {
			if near, ok := quotient(num, int64(den), division, how); ok {
				return near
			}
		}
	}
	r := nm.Rat()
	if r == nil {
		return 0
	}
	num := new(big.Int).Set(r.Num())
	den := new(big.Int).Mul(r.Denom(), big.NewInt(int64(division)))
	floor, rest := new(big.Int).DivMod(num, den, new(big.Int))
	switch how {
	case Up:
		if rest.Sign() > 0 {
			floor.Add(floor, big.NewInt(1))
		}
	case Nearest:
		twice := new(big.Int).Lsh(rest, 1)
		c := twice.Cmp(den)
		if c > 0 || c == 0 && nm.Sign() >= 0 {
			floor.Add(floor, big.NewInt(1))
		}
	}
	if last := big.NewInt(math.MaxInt64 / int64(division)); floor.CmpAbs(last) > 0 {
		floor = last.Mul(last, big.NewInt(int64(floor.Sign())))
	}
	return Length(floor.Int64()) * division
}

// quotient is num/den rounded to a whole number in the named direction, times division: what Rounded does, for numbers that fit the machine's words. den and division are over 0.
func quotient(num, den int64, division Length, how Rounding) (Length, bool) {
	floor, rest := num/den, num%den
	if rest < 0 {
		floor, rest = floor-1, rest+den
	}
	if how == Up && rest > 0 || how == Nearest && (rest > den-rest || rest == den-rest && num >= 0) {
		floor++
	}
	most := math.MaxInt64 / int64(division)
	return Length(floor) * division, -most <= floor && floor <= most
}

// MulDiv is x·y/z to the nearest, halves away from nought, whatever x·y comes to; 0 where z is 0, and the last whole number that there is where it is more.
func MulDiv(x, y, z int64) int64 {
	if z == 0 {
		return 0
	}
	size := func(n int64) uint64 { return uint64(max(n, -n)) } // the least of all is its own size, as an unsigned number
	high, low := bits.Mul64(size(x), size(y))
	negative := (x < 0) != (y < 0) != (z < 0)
	most := uint64(math.MaxInt64)
	if high < size(z) {
		q, rest := bits.Div64(high, low, size(z))
		if rest >= size(z)-rest {
			q++
		}
		if q <= most {
			most = q
		}
	}
	if negative {
		return -int64(most)
	}
	return int64(most)
}

// Part is k parts of n of a length, to the nearest nanometre; 0 where n is not positive.
func (l Length) Part(k, n int) Length {
	if n <= 0 {
		return 0
	}
	return Rounded(exact.New(int64(k), int64(n)).Mul(exact.Of(int64(l))), Nanometre, Nearest)
}

// Of turns an exact number of the system's unit into a Length, rounded in the named direction.
func Of(units exact.Number, s System, division Length, how Rounding) Length {
	return Rounded(units.Mul(exact.Of(int64(s.Unit()))), division, how)
}
