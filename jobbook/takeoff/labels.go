package takeoff

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
)

// Label is what is written on one piece.
type Label struct {
	Mark   string // short, for a pencil; no two pieces of a job share one
	Piece  int    // index in Takeoff.Pieces
	N      int    // which of the pieces of that cut, from 1
	Number int    // which of its sort in its run, counted from the datum end where that is known
	Of     int    // how many of its sort the run has
	Ends   string // which way it lies or stands: this end up, to the wall
	Bevel  string // which of its ends are cut at an angle; empty for a square one
}

// letters are what a mark calls each sort of piece.
var letters = map[string]string{
	"handrail": "H", "wall rail": "W", "shoe": "S", "baluster": "B", "newel": "N", "shoe fillet": "F", "rail fillet": "T", "rosette": "R",
}

// labels gives every single piece its mark: letters of its run or post, a letter for what it is, and a number where there are several.
func labels(j *job.Job, l layout.Layout, pieces []layout.Cut) []Label {
	var names []string
	for _, r := range l.Runs {
		names = append(names, r.Name)
	}
	for _, p := range j.Posts {
		names = append(names, p.Name)
	}
	short := codes(names)
	code := func(c layout.Cut) string {
		if c.Run == "" {
			return short[len(l.Runs)+slices.IndexFunc(j.Posts, func(p job.Post) bool { return p.Name == c.Which })]
		}
		return short[slices.IndexFunc(l.Runs, func(r *layout.Run) bool { return r.Name == c.Run })]
	}
	type sort struct{ of, what string }
	total, next := map[sort]int{}, map[sort]int{}
	for _, c := range pieces {
		total[sort{code(c), c.What}] += c.Count
	}
	// Pieces that do not know their number are counted as they come; a cut of several can be both.
	taken := map[sort]map[int]bool{}
	for _, c := range pieces {
		s := sort{code(c), c.What}
		if taken[s] == nil {
			taken[s] = map[int]bool{}
		}
		for _, n := range c.Numbers {
			taken[s][n] = true
		}
	}
	var list []Label
	for i, c := range pieces {
		s := sort{code(c), c.What}
		for n := range c.Count {
			number := 0
			if n < len(c.Numbers) {
				number = c.Numbers[n]
			} else {
				for next[s]++; taken[s][next[s]]; next[s]++ {
				}
				number = next[s]
			}
			mark := s.of + "-" + letter(c.What)
			if total[s] > 1 {
				mark += strconv.Itoa(number)
			}
			list = append(list, Label{Mark: mark, Piece: i, N: n + 1, Number: number, Of: total[s], Ends: endWords(l, c), Bevel: bevelWords(c)})
		}
	}
	return list
}

func letter(what string) string {
	if l := letters[what]; l != "" {
		return l
	}
	return strings.ToUpper(what[:min(1, len(what))])
}

// codes are short forms of names, no two alike: the first letters of their words, and as many more of the last word as it takes.
func codes(names []string) []string {
	list := make([]string, len(names))
	for i, name := range names {
		for long := 1; ; long++ {
			list[i] = code(name, long)
			alike := false
			for k, other := range names {
				alike = alike || k != i && code(other, long) == list[i]
			}
			if !alike || long > len(name) {
				break
			}
		}
	}
	for i := range list { // names that differ in no letter, and a short form that another one's long form meets
		for n := 2; slices.Contains(list[:i], list[i]); n++ {
			list[i] = strings.TrimRight(list[i], "0123456789") + strconv.Itoa(n)
		}
	}
	return list
}

// code is the first letters of a name's words, and so many of the last one.
func code(name string, long int) string {
	words := strings.FieldsFunc(name, func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) })
	if len(words) == 0 {
		return "X"
	}
	var b strings.Builder
	for i, w := range words {
		r := []rune(w)
		n := 1
		if i == len(words)-1 {
			n = min(long, len(r))
		}
		b.WriteString(string(r[:n]))
	}
	return strings.ToUpper(b.String())
}

// endWords says which way a piece goes.
func endWords(l layout.Layout, c layout.Cut) string {
	switch c.What {
	case "baluster", "newel":
		return "this end up"
	case "handrail", "wall rail", "shoe":
		if from, to, ok := strings.Cut(strings.TrimPrefix(c.Which, "from "), " to "); ok {
			return "this end to " + to + ", the other to " + from
		}
		i := slices.IndexFunc(l.Runs, func(r *layout.Run) bool { return r.Name == c.Run })
		if i >= 0 && l.Runs[i].Rake != nil {
			return "this end uphill"
		}
	case "shoe fillet":
		return "in the shoe"
	case "rail fillet":
		return "in the rail"
	}
	return ""
}

// bevelWords says which ends are cut at the angle of the rake.
func bevelWords(c layout.Cut) string {
	foot, head := "lower end", "upper end"
	if c.What == "baluster" {
		foot, head = "foot", "head"
	}
	switch {
	case c.Beveled[0] && c.Beveled[1]:
		return "both ends beveled, alike"
	case c.Beveled[1]:
		return head + " beveled, " + foot + " square"
	case c.Beveled[0]:
		return foot + " beveled, " + head + " square"
	}
	return ""
}
