package wood

import (
	"testing"

	"balustrade/jobbook/length"
)

// TestMeasuredScrew: a screw of 5 mm with a root of 3.2: 90 % is 2.88, bit 2.5; 70 % is 2.24, bit 2.0 (by hand). One whose share is a bit just so takes the one under it: 70 % of 5 is 3.5, bit 3.0.
func TestMeasuredScrew(t *testing.T) {
	const tenth = length.Millimetre / 10
	for _, c := range []struct {
		name  string
		root  length.Length
		g     G
		wants length.Length // in tenths; 0 where there is none
	}{
		{"dense", 32 * tenth, 680, 25},
		{"just over 0.6", 32 * tenth, 601, 25},
		{"0.6", 32 * tenth, 600, 20},
		{"just over 0.5", 32 * tenth, 501, 20},
		{"0.5 calls for none", 32 * tenth, 500, 0},
		{"a wood without a value", 32 * tenth, 0, 0},
		{"a root that nobody read", 0, 680, 0},
		{"under the bit, not on it", 50 * tenth, 550, 30},
		{"finer than any bit", 5 * tenth, 680, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, ok := Measured{Wide: 50 * tenth, Root: c.root, Step: length.Millimetre / 2}.Pilot(c.g)
			if ok != (c.wants > 0) || ok && h.Bit != c.wants*tenth {
				t.Errorf("%v %v, want %d tenths of a millimetre", h.Bit, ok, c.wants)
			}
		})
	}
	if h := (Measured{Wide: 52 * tenth, Step: length.Millimetre / 2}).Clearance(); h.Bit != 55*tenth {
		t.Errorf("%v", h.Bit)
	}
	for g, want := range map[G]bool{0: false, 1: true, 500: true, 501: false} {
		if Light(g) != want {
			t.Errorf("%d is light: %v", g, !want)
		}
	}
}
