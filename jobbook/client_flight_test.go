package jobbook_test

import (
	"strings"
	"testing"
)

// TestClientFlightIsLevel: what the client reads as the length of a flight is level, and says so, for the handrail beside it is longer. By hand: 144 3/4 in are 12.06 feet.
func TestClientFlightIsLevel(t *testing.T) {
	page := bookOf(t, "../sample-job")["client.html"]
	if !strings.Contains(page, "Lower flight, hall to gallery: about 12 feet long measured level, ") {
		t.Error("the flight is not told as measured level")
	}
	if !strings.Contains(page, "Gallery, along the hall: about 12 feet long, ") {
		t.Error("the level run is not told as before")
	}
}
