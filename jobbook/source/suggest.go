package source

import (
	"slices"
	"strings"
)

// Suggest gives the known word that was probably meant: the nearest by letters put in, left out, changed, or swapped with
// their neighbour, each counting 1. It gives "" when the nearest differs in more than a third of its letters (one letter
// is always allowed), and the earlier of two that are equally near. Capitals count as small letters.
func Suggest(word string, known []string) string {
	typed := []rune(strings.ToLower(word))
	best, nearest := "", len(typed)+1
	for _, k := range known {
		letters := []rune(strings.ToLower(k))
		length := max(len(typed), len(letters))
		limit := min(max(1, length/3), length-1, nearest-1)
		if abs(len(typed)-len(letters)) > limit {
			continue
		}
		if d := distance(typed, letters); d <= limit {
			best, nearest = k, d
		}
	}
	return best
}

func abs(n int) int { return max(n, -n) }

// distance is the optimal string alignment distance: the fewest single-letter insertions, deletions, changes and swaps of
// neighbours, no letter touched twice.
func distance(a, b []rune) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		before, last, row = last, row, before
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := 1
			if a[i-1] == b[j-1] {
				change = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+change)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
	}
	return row[len(b)]
}

// mostKnown is how many names a hint lists before it becomes a wall that nobody reads.
const mostKnown = 24

// Hint says which of the known words may have been meant (see Alike); else all of them, or the first of them where they are many. It gives
// "" where nothing is known. lead stands before a list of all: "known: ".
func Hint(word, lead string, known []string) string {
	alike := Alike(word, known)
	switch {
	case len(alike) > 0:
		return "did you mean " + oneOf(alike) + "?"
	case len(known) == 0:
		return ""
	case len(known) > mostKnown:
		return lead + strings.Join(known[:mostKnown], ", ") + ", and more"
	}
	return lead + strings.Join(known, ", ")
}

// Alike gives the known words that may have been meant by one: those that begin or go on otherwise and have every part of it (barrier:
// barrier-at-once, barrier-up), where there are several; else the one that differs in a few letters; else those that have most parts in
// common with it. None where none are, or too many.
func Alike(word string, known []string) []string {
	alike, all := sharing(word, known)
	near := Suggest(word, known)
	switch {
	case near != "" && (!all || len(alike) < 2):
		return []string{near}
	case len(alike) > 0 && len(alike) <= mostKnown && len(alike) < max(len(known), 2): // what all of them have tells none apart
		return alike
	case near != "":
		return []string{near}
	}
	return nil
}

// sharing gives the known words that have the most parts in common with one, and whether they have all of its parts. Numbers alone are
// no likeness, nor are words of one or two letters.
func sharing(word string, known []string) (alike []string, all bool) {
	parts := func(s string) []string {
		return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return r == '-' || r == ' ' || r == '_' })
	}
	typed, most := parts(word), 0
	for _, k := range known {
		same, words, has := 0, false, parts(k)
		for _, p := range typed {
			if slices.Contains(has, p) {
				same++
				words = words || len(p) > 2 && strings.Trim(p, "0123456789/") != ""
			}
		}
		switch {
		case !words || same < most:
		case same > most:
			alike, most = []string{k}, same
		default:
			alike = append(alike, k)
		}
	}
	return alike, most == len(typed)
}

func oneOf(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
