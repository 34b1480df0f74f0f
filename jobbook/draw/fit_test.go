package draw

import (
	"math/rand/v2"
	"strings"
	"testing"
)

// longFit shortens a text by trying every length of it from the longest on.
func longFit(words string, width float64) string {
	words = plain(words)
	if advance(words) <= width {
		return words
	}
	runes := []rune(words)
	for n := len(runes) - 1; n > 0; n-- {
		if s := strings.TrimRight(string(runes[:n]), " ") + "…"; advance(s) <= width {
			return s
		}
	}
	return ""
}

// TestFit holds the one walk over a text against the long way.
func TestFit(t *testing.T) {
	texts := []string{"", "a", "oak", "Gallery, along the hall", "a  b   c", " leads", "手すり and 94 7/16", "bad \xff\xfe bytes", strings.Repeat("i ", 300), strings.Repeat("W", 500), "a b c d e f"}
	r := rand.New(rand.NewPCG(5, 6))
	signs := []rune("aimW.,/ é…手 ")
	for range 300 {
		var b strings.Builder
		for range r.IntN(40) {
			b.WriteRune(signs[r.IntN(len(signs))])
		}
		texts = append(texts, b.String())
	}
	for _, words := range texts {
		for _, width := range []float64{-1, 0, 5, 12.9, 13, 13.1, 20, 50, 117, 118, 200, 1000, advance(words), advance(words) - 1, advance(words) - 13, r.Float64() * 300} {
			if got, want := fit(words, width), longFit(words, width); got != want {
				t.Errorf("%q in %v: got %q, want %q", words, width, got, want)
			}
		}
	}
}
