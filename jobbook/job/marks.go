package job

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// MarkLetter is what a mark calls one sort of piece.
type MarkLetter struct{ Letter, What string }

// MarkLetters are all of them, in the order in which the sorts are cut.
var MarkLetters = []MarkLetter{
	{"N", "newel"}, {"H", "handrail"}, {"W", "wall rail"}, {"S", "shoe"}, {"B", "baluster"}, {"F", "shoe fillet"}, {"T", "rail fillet"}, {"R", "rosette"},
}

// Mark is what is written on one piece: G-B7.
type Mark struct {
	Text   string
	Code   string // of its run or post: G
	What   string // baluster
	Number int    // 7; 0 where it has none
}

// mostMarks bounds what one line can stand for.
const mostMarks = 1000

// parseMark reads one mark.
func parseMark(text string) (Mark, bool) {
	text = strings.ToUpper(text)
	at := strings.LastIndex(text, "-")
	if at < 1 || at+1 >= len(text) {
		return Mark{}, false
	}
	m := Mark{Text: text, Code: text[:at]}
	i := slices.IndexFunc(MarkLetters, func(l MarkLetter) bool { return l.Letter == text[at+1:at+2] })
	if i < 0 || strings.ContainsFunc(m.Code, func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) }) {
		return Mark{}, false
	}
	m.What = MarkLetters[i].What
	if digits := text[at+2:]; digits != "" {
		n, err := strconv.Atoi(digits)
		if err != nil || n < 1 || strconv.Itoa(n) != digits {
			return Mark{}, false
		}
		m.Number = n
	}
	return m, true
}

// Marks reads marks as they are written in a list: G-B1 to G-B12, G-B15.
func Marks(text string) (list []Mark, err error) {
	for _, part := range strings.Split(text, ",") {
		words := strings.Fields(part)
		first, ok := Mark{}, false
		if len(words) == 1 || len(words) == 3 && words[1] == "to" {
			first, ok = parseMark(words[0])
		}
		if !ok {
			return nil, errors.New("not a mark as the book prints it")
		}
		list = append(list, first)
		if len(words) == 3 {
			last, ok := parseMark(words[2])
			if !ok || last.Code != first.Code || last.What != first.What || first.Number < 1 || last.Number <= first.Number {
				return nil, errors.New("marks that do not count up")
			}
			if last.Number-first.Number >= mostMarks {
				return nil, errors.New("more marks than a job has")
			}
			stem := strings.TrimRight(first.Text, "0123456789")
			for n := first.Number + 1; n <= last.Number; n++ {
				list = append(list, Mark{stem + strconv.Itoa(n), first.Code, first.What, n})
			}
		}
		if len(list) > mostMarks {
			return nil, errors.New("more marks than a job has")
		}
	}
	return list, nil
}

// Codes are short forms of names, no two alike: the first letters of their words, and as many more of the last word as it takes. The
// first of two names keeps the short form, so that a run which comes later changes no mark that is on the wood already.
func Codes(names []string) []string {
	var list []string
	for _, name := range names {
		short := code(name, 1)
		for long := 2; slices.Contains(list, short) && long <= len(name); long++ {
			short = code(name, long)
		}
		stem := strings.TrimRight(short, "0123456789")
		for n := 2; slices.Contains(list, short); n++ { // names that differ in no letter, or a form that another name has
			short = stem + strconv.Itoa(n)
		}
		list = append(list, short)
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
