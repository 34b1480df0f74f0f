package source

import "testing"

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
