package working

import (
	"slices"

	"balustrade/jobbook/exact"
)

// Alike reports that two expressions print alike, in symbols and in numbers, for they are built alike of the same numbers, and that two inputs at the same place of both are the same to of. It is quicker than
// printing them. Two that are built otherwise can still print alike.
func Alike(a, b Expr, of func(x, y *Input) bool) bool {
	switch a := a.(type) {
	case *Input:
		b, ok := b.(*Input)
		return ok && a.Symbol == b.Symbol && sameNumber(a.Value, b.Value) && of(a, b)
	case constant, variable:
		return a == b
	case binary:
		b, ok := b.(binary)
		return ok && a.op == b.op && Alike(a.x, b.x, of) && Alike(a.y, b.y, of)
	case call:
		b, ok := b.(call)
		return ok && a.name == b.name && slices.EqualFunc(a.args, b.args, func(x, y Expr) bool { return Alike(x, y, of) })
	}
	return false
}

// sameNumber compares two numbers; one that is not known is the same as another that is not.
func sameNumber(a, b exact.Number) bool {
	return a.Known() == b.Known() && (!a.Known() || a.Cmp(b) == 0)
}
