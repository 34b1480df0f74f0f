package wood

import "balustrade/jobbook/working"

// The moisture contents between which wood moves in proportion, per cent (Wood Handbook, section 13; published).
const (
	LeastMoisture = 6
	MostMoisture  = 14
)

// MovementRule is what stands behind Movement; the coefficient has a status of its own.
const MovementRule = "Wood Handbook, Eq. 13-2 and Table 13-5"

// Movement is how much a width changes from one moisture content to another, at a coefficient for each per cent of moisture: D·C·(M₂ − M₁)/100, in the width's unit, positive where it grows
// (Wood Handbook, Eq. 13-2; published for 6 to 14 %). The coefficient is in per cent of the width, the contents in per cent.
func Movement(width, coefficient, from, to working.Expr) working.Expr {
	return working.Quotient(working.Product(width, coefficient, working.Difference(to, from)), working.Constant(100))
}
