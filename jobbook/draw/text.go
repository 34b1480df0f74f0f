package draw

import (
	"strings"
	"unicode"
)

// size of all text in px: its capitals are 2.5 mm high on paper at 96 px an inch, and more than 12 px on a phone.
const size = 13

// Of a text's size: how far its ink reaches above and below the base line in the usual sans serifs, a little generously.
const (
	over  = 0.80
	under = 0.26
)

// row is from base line to base line, px: a fifth more than the size, the usual leading of a sans serif.
const row = 16.0

// advance is how wide a text runs, in px. Which face is used the page says, so it goes by a wide one: the advances of DejaVu Sans,
// of the size, taken together in groups by the widest of each.
func advance(words string) float64 {
	em := 0.0
	for _, r := range words {
		if r < unicode.MaxASCII {
			em += ems[r]
		} else {
			em += emOf(r)
		}
	}
	return float64(em * size)
}

// ems are the advances of the signs that most words are written with.
var ems = func() (list [unicode.MaxASCII]float64) {
	for r := range list {
		list[r] = emOf(rune(r))
	}
	return list
}()

func emOf(r rune) float64 {
	switch {
	case r == ' ':
		return 0.34
	case strings.ContainsRune(".,:;'|ijl", r):
		return 0.35
	case strings.ContainsRune("()/-!frt\"", r):
		return 0.46
	case strings.ContainsRune("#&+<=>^~", r):
		return 0.84
	case strings.ContainsRune("mwMW@%", r):
		return 1
	case r > unicode.MaxLatin1 || r > unicode.MaxASCII && r != '°' && !unicode.IsLetter(r) || r == 'Æ' || r == 'æ':
		return 1 // as wide as high, as in Chinese or Japanese; fractions in one sign are nearly so
	case unicode.IsUpper(r):
		return 0.80
	}
	return 0.64
}

// fit shortens a text to a width, with an ellipsis where something is left out.
func fit(words string, width float64) string {
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

// plain puts a text on one line, and keeps it to what a drawing could ever show.
func plain(words string) string {
	const most = 400 // characters: over two of the longest captions
	words = strings.Join(strings.Fields(words), " ")
	if runes := []rune(words); len(runes) > most {
		words = string(runes[:most]) + "…"
	}
	return words
}

// wrap breaks a text into lines of a width.
func wrap(words string, width float64) []string {
	var lines []string
	line := ""
	for _, w := range unbroken(plain(words)) {
		if line != "" && advance(line+" "+w) <= width {
			line += " " + w
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = fit(w, width)
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// unbroken takes a text apart where a line may end: the whole inches of a length stay with their fraction, so that nobody reads the one
// without the other.
func unbroken(words string) []string {
	var list []string
	for _, w := range strings.Fields(words) {
		if n := len(list); n > 0 && fraction(w) && digits(list[n-1]) {
			list[n-1] += " " + w
			continue
		}
		list = append(list, w)
	}
	return list
}

// digits reports whether a word is a whole number.
func digits(w string) bool { return w != "" && strings.Trim(w, "0123456789") == "" }

// fraction reports whether a word begins with one, as 7/16 and 7/16: do.
func fraction(w string) bool {
	above, below, ok := strings.Cut(w, "/")
	return ok && digits(above) && below != "" && '0' <= below[0] && below[0] <= '9'
}
