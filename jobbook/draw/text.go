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
		switch {
		case r == ' ':
			em += 0.34
		case strings.ContainsRune(".,:;'!|ijl", r):
			em += 0.35
		case strings.ContainsRune("()/-frt\"", r):
			em += 0.46
		case strings.ContainsRune("#&+<=>^~", r):
			em += 0.84
		case strings.ContainsRune("mwMW@%", r):
			em += 1
		case r == '…' || r > unicode.MaxLatin1:
			em += 1 // as wide as high, as in Chinese or Japanese
		case unicode.IsUpper(r):
			em += 0.80
		default:
			em += 0.64
		}
	}
	return float64(em * size)
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
	for _, w := range strings.Fields(plain(words)) {
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
