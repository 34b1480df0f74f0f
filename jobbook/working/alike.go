package working

import (
	"math/big"
	"slices"
)

// Alike reports that two expressions print alike, in symbols and in numbers, for they are built alike of the same numbers, and that two inputs at the same place of both are the same to of. It is quicker than
// printing them. Two that are built otherwise can still print alike.
func Alike(a, b Expr, of func(x, y *Input) bool) bool {
	switch a := a.(type) {
	case *Input:
		b, ok := b.(*Input)
		return ok && a.Symbol == b.Symbol && sameNumber(a.Value, b.Value) && of(a, b)
	case constant:
		b, ok := b.(constant)
		return ok && sameNumber(a.value, b.value)
	case variable:
		return a == b
	case binary:
		b, ok := b.(binary)
		return ok && a.op == b.op && a.binds == b.binds && Alike(a.x, b.x, of) && Alike(a.y, b.y, of)
	case call:
		b, ok := b.(call)
		return ok && a.name == b.name && slices.EqualFunc(a.args, b.args, func(x, y Expr) bool { return Alike(x, y, of) })
	}
	return false
}

// sameNumber compares two numbers in their lowest terms; one that is not known is the same as another that is not.
func sameNumber(a, b *big.Rat) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a.Num().Cmp(b.Num()) == 0 && a.Denom().Cmp(b.Denom()) == 0
}
