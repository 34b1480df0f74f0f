package source

import (
	"strings"
	"testing"
)

// Distances are counted by hand from the definition: one for each letter put in, left out or changed, and for each swap.
func TestSuggest(t *testing.T) {
	keys := []string{"length", "height", "width", "clear", "to", "from", "baluster", "at"}
	for _, test := range []struct{ name, word, want string }{
		{"a swap counts one, so length wins over height", "lenght", "length"},
		{"a letter changed", "hejght", "height"},
		{"a letter left out", "baluter", "baluster"},
		{"a letter put in", "widthh", "width"},
		{"capitals", "Height", "height"},
		{"two of eight letters", "balistre", "baluster"},
		{"two of five letters is too far", "xlxar", ""},
		{"two of six letters, a swap and one more", "cleras", "clear"},
		{"nothing like it", "paint", ""},
		{"one of two letters", "tp", "to"},
		{"both of two letters", "xy", ""},
		{"one letter", "z", ""},
		{"empty", "", ""},
		{"the earlier of two as near", "ao", "to"},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := Suggest(test.word, keys); got != test.want {
				t.Errorf("Suggest(%q) = %q, want %q", test.word, got, test.want)
			}
		})
	}
}

func TestDistance(t *testing.T) {
	for _, test := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"abc", "", 3}, {"", "ab", 2}, {"ab", "ba", 1},
		{"kitten", "sitting", 3}, // the textbook case of Levenshtein's distance
		{"ca", "abc", 3},         // the textbook case that tells this distance from the unrestricted one, which is 2
		{"½", "¼", 1},
	} {
		t.Run(test.a+" "+test.b, func(t *testing.T) {
			if got := distance([]rune(test.a), []rune(test.b)); got != test.want {
				t.Errorf("got %d, want %d", got, test.want)
			}
			if got := distance([]rune(test.b), []rune(test.a)); got != test.want {
				t.Errorf("the other way round: got %d, want %d", got, test.want)
			}
		})
	}
}

// What each hint must be follows from the words of Hint's comment, worked out by hand.
func TestHint(t *testing.T) {
	many := strings.Fields("aa bb cc dd ee ff gg hh ii jj kk ll mm nn oo pp qq rr ss tt uu vv ww xx yy")
	for _, test := range []struct {
		name, word string
		known      []string
		want       string
	}{
		{"a slip of the fingers", "square-23", []string{"round-32", "square-1-1-4", "square-1-3-4", "square-32"}, "did you mean square-32?"},
		{"a part of one name", "irc", []string{"ibc-2021", "irc-2021", "new-zealand-f4"}, "did you mean irc-2021?"},
		{"a part of several", "barrier", []string{"barrier-at-once", "barrier-up", "order"}, "did you mean barrier-at-once or barrier-up?"},
		{"of three", "Wood-Screw", []string{"wood-glue", "wood-screw-8-2", "wood-screw-10-2", "wood-screw-10-3"}, "did you mean wood-screw-8-2, wood-screw-10-2 or wood-screw-10-3?"},
		{"most of its parts", "box-newel", []string{"box-3-1-2", "half-3-1-2", "wood-glue"}, "did you mean box-3-1-2?"},
		{"a number alone is no likeness", "rail-2021", []string{"ibc-2021", "irc-2021"}, "known: ibc-2021, irc-2021"},
		{"what all of them have", "oak-rail", []string{"rail-plow", "rail-unplowed"}, "known: rail-plow, rail-unplowed"},
		{"two letters are no likeness", "sweep-up", []string{"barrier-up", "sweep"}, "did you mean sweep?"},
		{"nothing like it, and few", "paint", []string{"order", "survey"}, "known: order, survey"},
		{"nothing like it, and many", "paint", many, "known: aa, bb, cc, dd, ee, ff, gg, hh, ii, jj, kk, ll, mm, nn, oo, pp, qq, rr, ss, tt, uu, vv, ww, xx, and more"},
		{"nothing known", "paint", nil, ""},
		{"empty", "", []string{"order"}, "known: order"},
	} {
		t.Run(test.name, func(t *testing.T) {
			if got := Hint(test.word, "known: ", test.known); got != test.want {
				t.Errorf("got %q, want %q", got, test.want)
			}
		})
	}
}
