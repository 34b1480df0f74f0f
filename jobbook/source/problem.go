package source

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Severity says whether a problem stops the build. The zero value is invalid.
type Severity int

// The severities. An Error stops the build; a Warning is printed and the book is made.
const (
	Error Severity = iota + 1
	Warning
)

// String is the word printed before the summary.
func (s Severity) String() string { return [...]string{"", "error", "warning"}[s] }

// Problem is something in a file that cannot be understood, or should be looked at. It is a value: stages return problems,
// and `error` is kept for the disk.
//
// Wording: Summary is one line, lower case, no full stop, names the value found and the value allowed.
// Hint says what to do, starting with a verb.
type Problem struct {
	Severity Severity
	At       Pos
	Width    int // runes to underline, at least 1
	Summary  string
	Hint     string
	Notes    []Note
}

// Note is a second place that explains a problem, such as the first of two keys of one name.
type Note struct {
	At   Pos
	Text string
}

// Same reports whether two problems say the same of the same place.
func (p Problem) Same(q Problem) bool { return p.At == q.At && p.Summary == q.Summary }

// Sort puts problems in the order of file (as Read orders them), line, column and text, and drops exact repetitions.
func Sort(problems []Problem) []Problem {
	slices.SortStableFunc(problems, func(a, b Problem) int {
		return cmp.Or(comparePaths(a.At.File, b.At.File), cmp.Compare(a.At.Line, b.At.Line), cmp.Compare(a.At.Col, b.At.Col), cmp.Compare(a.Summary, b.Summary))
	})
	return slices.CompactFunc(problems, Problem.Same)
}

// AnyError reports whether one of the problems stops a build.
func AnyError(problems []Problem) bool {
	return slices.ContainsFunc(problems, func(p Problem) bool { return p.Severity == Error })
}

// Print writes problems in the one form used everywhere:
//
//	runs/1-gallery.md:4:9: error: "94,5" could be a decimal or thousands
//	  clear: 94,5
//	         ^^^^
//	  hint: write 94.5 for the decimal, or 945 without the comma
//
// line gives the text of a line of a file ("" when unknown); path turns a File into what the reader's terminal can open.
// After mostPrinted problems it says how many more there are.
func Print(w io.Writer, problems []Problem, line func(Pos) string, path func(file string) string) {
	show := func(at Pos) string { at.File = visible(path(at.File)); return at.String() }
	for i, p := range problems {
		if i == mostPrinted {
			rest := problems[i:]
			errors := 0
			for _, p := range rest {
				if p.Severity == Error {
					errors++
				}
			}
			fmt.Fprintf(w, "and %d more, of which errors: %d\n", len(rest), errors)
			return
		}
		fmt.Fprintf(w, "%s: %s: %s\n", show(p.At), p.Severity, visible(p.Summary))
		if text := line(p.At); text != "" && p.At.Line > 0 {
			excerpt, caret := underline(text, p.At.Col, p.Width)
			fmt.Fprintf(w, "  %s\n  %s\n", excerpt, caret)
		}
		for _, n := range p.Notes {
			fmt.Fprintf(w, "  note: %s: %s\n", show(n.At), visible(n.Text))
		}
		if p.Hint != "" {
			fmt.Fprintf(w, "  hint: %s\n", visible(p.Hint))
		}
	}
}

const (
	mostPrinted  = 200 // problems: more than anyone reads, and a bound on the work for a hostile file
	excerptWidth = 100 // runes of a long line shown round the caret
)

// underline cuts a long line down around the column and builds the caret line under it.
func underline(text string, col, width int) (excerpt, caret string) {
	runes := []rune(visible(strings.TrimRight(text, "\r\n")))
	col = min(max(col, 1), len(runes)+1)
	from := 0
	if len(runes) > excerptWidth {
		from = max(0, min(col-1-excerptWidth/3, len(runes)-excerptWidth)) // a third of it before the caret
		runes = runes[from : from+excerptWidth]
	}
	col -= from
	width = max(1, min(width, len(runes)-col+1))
	return string(runes), strings.Repeat(" ", col-1) + strings.Repeat("^", width)
}

// visible makes a text safe to print: tabs become single spaces; control characters, marks without width or that turn
// the direction of writing, and bytes that are not UTF-8 become dots. It goes rune for rune, so that a caret stays under
// its value, and a hostile line cannot steer a terminal.
func visible(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t':
			return ' '
		case !unicode.IsGraphic(r), r == utf8.RuneError:
			return '.'
		}
		return r
	}, text)
}
