package wood

import "balustrade/jobbook/working"

var withdrawalRule = working.Citation{Text: "NDS 12.2, reference withdrawal in side grain", Status: working.Published}

// Withdrawal is what an inch of thread, or of a nail, holds in side grain when it is drawn out, in pounds, before any adjustment: a lag screw 1800·G^1.5·D^0.75, a wood screw 2850·G²·D, a nail 1380·G^2.5·D
// (NDS 12.2; published). G is the specific gravity that the tables assign to the wood, D the diameter in inches. False for another fixing, and where G or D is not known or not over 0: a wood that the tables have no row
// for holds no published value.
func Withdrawal(id, title, fixing string, g, d *working.Input) (*working.Figure, bool) {
	if !g.Value.Known() || !d.Value.Known() || g.Value.Sign() <= 0 || d.Value.Sign() <= 0 {
		return nil, false
	}
	var e working.Expr
	switch fixing {
	case "lag screw":
		e = working.Product(number("k", "1800"), g, working.Root(g), working.Root(d), working.Root(working.Root(d)))
	case "wood screw":
		e = working.Product(number("k", "2850"), g, g, d)
	case "nail":
		e = working.Product(number("k", "1380"), g, g, working.Root(g), d)
	default:
		return nil, false
	}
	return working.Work(id, title, "w", "lb/in", e, withdrawalRule), true
}
