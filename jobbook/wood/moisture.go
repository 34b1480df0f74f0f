package wood

import (
	"math/big"

	"balustrade/jobbook/length"
)

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
