package draw

import (
	"math"
	"strconv"
)

// appendNum writes a coordinate with two decimals; what is no number is 0, and so is a nought with a sign.
func appendNum(b []byte, v float64) []byte {
	if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) < 0.004 { // half of the last place is 0.005
		return append(b, "0.00"...)
	}
	n := len(b)
	b = appendFixed(b, v, 2)
	if string(b[n:]) == "-0.00" {
		return append(b[:n], "0.00"...)
	}
	return b
}

// appendFixed writes a number with so many decimals, up to three, as strconv does. That one looks for the digits of the exact value; here a whole number of the last places is
// enough, but where the value lies so near the middle of two of them that a product of floats cannot tell which is nearer.
func appendFixed(b []byte, v float64, places int) []byte {
	const (
		most = 1e9   // up to here a product has an error of less than a ten-thousandth of the last place
		near = 0.499 // of the last place, from the one before or after it
	)
	x := float64(math.Abs(v) * [...]float64{1, 10, 100, 1000}[places])
	n := math.Round(x)
	if !(math.Abs(v) < most && math.Abs(x-n) < near) {
		return strconv.AppendFloat(b, v, 'f', places, 64)
	}
	if math.Signbit(v) {
		b = append(b, '-')
	}
	var text [16]byte // ten digits before the point, the point, and three behind it
	at := len(text)
	for digits, i := uint64(n), 0; digits > 0 || i <= places; digits, i = digits/10, i+1 { // from the last one
		if i == places && places > 0 {
			at--
			text[at] = '.'
		}
		at--
		text[at] = byte('0' + digits%10)
	}
	return append(b, text[at:]...)
}
