package draw

import (
	"strings"
	"unicode"
	"unicode/utf8"
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
func advance(words string) float64 { return float64(emsOf(0, words) * size) }

// emsOf adds the advances of some words, of the size, to those of what stands before them.
func emsOf(em float64, words string) float64 {
	for _, r := range words {
		em += emOf(r)
	}
	return em
}

// emOf is the advance of a sign, of the size.
func emOf(r rune) float64 {
	if r < unicode.MaxASCII {
		return ems[r]
	}
	return grouped(r)
}

// ems are the advances of the signs that most words are written with.
var ems = func() (list [unicode.MaxASCII]float64) {
	for r := range list {
		list[r] = grouped(rune(r))
	}
	return list
}()

// grouped is the same, looked up in its group.
func grouped(r rune) float64 {
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
	fits := -1                      // so many signs, with the ellipsis behind them
	em, word, wordEm := 0.0, 0, 0.0 // how wide it is so far, of the size; where its last word ends, and how wide it is up to there
	for n := 1; n < len(runes); n++ {
		r := runes[n-1]
		if em += emOf(r); r != ' ' {
			word, wordEm = n, em
		}
		if float64((wordEm+emOf('…'))*size) > width {
			break
		}
		fits = word
	}
	if fits < 0 {
		return ""
	}
	return string(runes[:fits]) + "…"
}

// plain puts a text on one line, and keeps it to what a drawing could ever show.
func plain(words string) string {
	const most = 400 // characters: over two of the longest captions
	if !oneLine(words) {
		words = strings.Join(strings.Fields(words), " ")
	}
	if len(words) <= most { // no more characters than bytes
		return words
	}
	if runes := []rune(words); len(runes) > most {
		words = string(runes[:most]) + "…"
	}
	return words
}

// oneLine reports words of ASCII with single blanks between them and none around them: what most words are.
func oneLine(words string) bool {
	blank := true
	for i := range len(words) {
		switch c := words[i]; {
		case c == ' ' && !blank:
			blank = true
		case c <= ' ' || c >= utf8.RuneSelf:
			return false
		default:
			blank = false
		}
	}
	return !blank || words == ""
}

// wrap breaks a text into lines of a width.
func wrap(words string, width float64) []string {
	var lines []string
	var line []byte
	em := 0.0 // how wide the line is, of the size
	for rest := plain(words); rest != ""; {
		var w string
		w, rest = unbroken(rest)
		if len(line) > 0 {
			if longer := emsOf(em+ems[' '], w); float64(longer*size) <= width {
				line, em = append(append(line, ' '), w...), longer
				continue
			}
			lines = append(lines, string(line))
		}
		line = append(line[:0], fit(w, width)...)
		em = emsOf(0, string(line))
	}
	if len(line) > 0 {
		lines = append(lines, string(line))
	}
	return lines
}

// unbroken takes off a line of text what must not be broken: a word, and with the whole inches of a length their fraction, so that nobody reads the one
// without the other.
func unbroken(words string) (first, rest string) {
	first, rest, _ = strings.Cut(words, " ")
	if digits(first) {
		if w, _, _ := strings.Cut(rest, " "); fraction(w) {
			at := len(first) + 1 + len(w)
			return words[:at], strings.TrimPrefix(words[at:], " ")
		}
	}
	return first, rest
}

// digits reports whether a word is a whole number.
func digits(w string) bool { return w != "" && strings.Trim(w, "0123456789") == "" }

// fraction reports whether a word begins with one, as 7/16 and 7/16: do.
func fraction(w string) bool {
	above, below, ok := strings.Cut(w, "/")
	return ok && digits(above) && below != "" && '0' <= below[0] && below[0] <= '9'
}
