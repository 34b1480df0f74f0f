package wood

import (
	"math"
	"math/big"

	"balustrade/jobbook/length"
)

// EMC is the moisture that wood comes to in air of a temperature in degrees Fahrenheit and a relative humidity in per cent, in per cent of its dry weight (Wood Handbook FPL-GTR-190, Eq. 4-5;
// published). False outside 30 to 130 °F and 5 to 95 %, where nothing is claimed here. The result is on a grid of a thousandth, alike on every machine.
func EMC(fahrenheit, humidity float64) (percent float64, ok bool) {
	if !(fahrenheit >= 30 && fahrenheit <= 130 && humidity >= 5 && humidity <= 95) {
		return 0, false
	}
	t, h := fahrenheit, humidity/100
	t2 := float64(t * t)
	w := float64(330+float64(0.452*t)) + float64(0.00415*t2)
	k := float64(0.791+float64(0.000463*t)) - float64(0.000000844*t2)
	k1 := float64(6.34+float64(0.000775*t)) - float64(0.0000935*t2)
	k2 := float64(1.09+float64(0.0284*t)) - float64(0.0000904*t2)
	kh := float64(k * h)
	k1kh := float64(k1 * kh)
	squares := float64(float64(k1*k2) * float64(kh*kh))
	m := float64(1800/w) * (float64(kh/(1-kh)) + float64((k1kh+float64(2*squares))/(1+k1kh+squares)))
	return math.Round(m*1000) / 1000, true
}

// Fahrenheit is a temperature in degrees Celsius in those of the formulas.
func Fahrenheit(celsius float64) float64 { return float64(celsius*9)/5 + 32 }

// The moisture contents between which wood moves in proportion, per cent (Wood Handbook, section 13; published).
const (
	LeastMoisture = 6
	MostMoisture  = 14
)

// Movement is how much a width changes from one moisture content to another, at a coefficient for each per cent: ΔD = D·C·(M₂ − M₁) (Wood Handbook, Eq. 13-2; published for 6 to 14 %). Positive where it
// grows. Contents are in thousandths of a per cent, the coefficient in thousandths of a per cent of the width.
func Movement(width length.Length, coefficient, from, to int64) length.Length {
	const perCent, thousandth = 100, 1000
	change := big.NewRat(coefficient*(to-from), perCent*thousandth*thousandth)
	return length.FromRat(change.Mul(change, new(big.Rat).SetInt64(int64(width))), length.Nanometre, length.Nearest)
}
