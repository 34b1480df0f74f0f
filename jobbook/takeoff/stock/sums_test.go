package stock

import "testing"

// TestPayable: of sticks of 16 and 23 a plan comes to 0, 16, 23, 32, 39, 46, 48, 55, 62, 64 or 69, worked out by hand; beyond the cost of the first plan nothing is known.
func TestPayable(t *testing.T) {
	s := &solver{instance: &instance{cost: []int64{0, 16, 23}}, lowest: 69}
	s.list()
	for bound, want := range map[int64]int64{0: 0, 1: 16, 16: 16, 17: 23, 24: 32, 33: 39, 40: 46, 47: 48, 49: 55, 56: 62, 63: 64, 65: 69, 69: 69, 70: 70} {
		if got := s.payable(bound); got != want {
			t.Errorf("no less than %d is %d, want %d", bound, got, want)
		}
	}
	s = &solver{instance: &instance{cost: []int64{7}}, lowest: mostSums}
	if s.list(); s.sums != nil || s.payable(8) != 8 {
		t.Error("sums that are too many to list are listed, or guessed")
	}
}
