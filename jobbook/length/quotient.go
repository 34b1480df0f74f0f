package length

import (
	"math"
	"math/big"
	"math/bits"
)

// Quotient is FromRat for num/den nanometres; 0 where den is not positive.
func Quotient(num, den int64, division Length, how Rounding) Length {
	if den <= 0 {
		return 0
	}
	if division > 0 && Down <= how && how <= Up {
		if high, low := bits.Mul64(uint64(den), uint64(division)); high == 0 && low <= math.MaxInt64 {
			if near, ok := quotient(num, int64(low), division, how); ok {
				return near
			}
		}
	}
	return FromRat(big.NewRat(num, den), division, how)
}
