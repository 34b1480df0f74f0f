package stock

import (
	"cmp"
	"math/bits"
)

// wide is a product of two numbers, 0 or more, that may not go into 64 bits.
type wide struct{ high, low uint64 }

func product(a, b int64) wide {
	high, low := bits.Mul64(uint64(a), uint64(b))
	return wide{high, low}
}

func (x wide) compare(y wide) int {
	return cmp.Or(cmp.Compare(x.high, y.high), cmp.Compare(x.low, y.low))
}

// over is the quotient by n, rounded down. It has to go into 64 bits, which it does where one of the factors is no more than n.
func (x wide) over(n int64) int64 {
	quotient, _ := bits.Div64(x.high, x.low, uint64(n))
	return int64(quotient)
}

// overUp is the same rounded up.
func (x wide) overUp(n int64) int64 {
	quotient, rest := bits.Div64(x.high, x.low, uint64(n))
	if rest > 0 {
		quotient++
	}
	return int64(quotient)
}
