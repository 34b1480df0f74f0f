package working_test

import (
	"math/big"
	"testing"

	"balustrade/jobbook/working"
)

// Logarithms as tables have them, to nine places: ln 2 = 0.693147181, ln 1/2 the same below nothing, ln 10 = 2.302585093. Powers of two by hand; 2^(1/2) is the root of two, 1.414213562.
func TestPowers(t *testing.T) {
	for _, c := range []struct {
		e    working.Expr
		want string
	}{
		{working.Logarithm(of("x", "2")), "0.693147181"},
		{working.Logarithm(of("x", "0.5")), "-0.693147181"},
		{working.Logarithm(of("x", "10")), "2.302585093"},
		{working.Logarithm(of("x", "1")), "0"},
		{working.Logarithm(of("x", "0")), ""},
		{working.Logarithm(of("x", "-1")), ""},
		{working.Doubled(of("x", "0")), "1"},
		{working.Doubled(of("x", "3")), "8"},
		{working.Doubled(of("x", "-2")), "0.25"},
		{working.Doubled(of("x", "0.5")), "1.414213562"},
		{working.Doubled(of("x", "64")), ""},
		{working.Doubled(working.Logarithm(of("x", "0"))), ""},
	} {
		f := work(c.e)
		if c.want == "" {
			if f.Value.Known() {
				t.Errorf("%s = %s, want none", f.Numbers(), f.Value)
			}
			continue
		}
		want, _ := new(big.Rat).SetString(c.want)
		if !f.Value.Known() || f.Value.Rat().Cmp(want) != 0 {
			t.Errorf("%s = %v, want %s", f.Numbers(), f.Value, c.want)
		}
	}
}
