package length

import "testing"

// TestFinest: lengths to the nearest of the finest divisions, by hand: 0.01 in are 0.64 of a sixty-fourth, 0.007 in 0.448; 3.175 mm are
// 1/8 in; of 0.25 mm the half goes up.
func TestFinest(t *testing.T) {
	for _, c := range []struct {
		system System
		l      Length
		want   string
	}{
		{Inches, Inch + 17*Inch/64, "1 17/64 in"},
		{Inches, Inch / 100, "1/64 in"},
		{Inches, 7 * Inch / 1000, "0 in"},
		{Inches, 3_175_000, "1/8 in"},
		{Inches, -Inch / 2, "-1/2 in"},
		{Millimetres, 32_100_000, "32.1 mm"},
		{Millimetres, 250_000, "0.3 mm"},
		{Millimetres, 32 * Millimetre, "32 mm"},
		{Millimetres, 0, "0 mm"},
	} {
		if got := c.system.With(c.l); got != c.want {
			t.Errorf("%d nm in %s: %q, want %q", int64(c.l), c.system, got, c.want)
		}
	}
}
