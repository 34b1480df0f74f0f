package draw

import (
	"math"
	"strconv"
)

// appendNum writes a coordinate with two decimals; what is no number is 0, and so is a nought with a sign. Most of a drawing's bytes are coordinates of a few hundred px.
func appendNum(b []byte, v float64) []byte {
	const (
		most = 1000_00
		near = 0.499 // as in appendFixed
	)
	x := float64(math.Abs(v) * 100)
	if n := uint(x + 0.5); n < most && math.Abs(x-float64(n)) < near {
		if v < 0 && n > 0 {
			b = append(b, '-')
		}
		switch {
		case n >= 100_00:
			b = append(b, byte('0'+n/100_00), byte('0'+n/10_00%10))
		case n >= 10_00:
			b = append(b, byte('0'+n/10_00))
		}
		return append(b, byte('0'+n/1_00%10), '.', byte('0'+n/10%10), byte('0'+n%10))
	}
	if math.IsNaN(v) || math.IsInf(v, 0) {
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
