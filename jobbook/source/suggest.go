package source

import "strings"

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
