package book

import "testing"

// By hand.
func TestWaitWords(t *testing.T) {
	for minutes, want := range map[int]string{1: "1 minute", 45: "45 minutes", 60: "1 h", 61: "1.25 h", 375: "6.25 h", 1440: "24 h", 2220: "37 h", 2879: "48 h", 2880: "2 days", 2881: "2 days 0.25 h", 4320: "3 days", 4321: "4 days", 30960: "22 days"} {
		if got := waitWords(minutes); got != want {
			t.Errorf("%d minutes: %q, want %q", minutes, got, want)
		}
	}
}
