package source

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// notKeys reports a value where keys are wanted.
func (y *tree) notKeys(n *Node) {
	text, _, _ := strings.Cut(n.Text, "\n")
	width := utf8.RuneCountInString(text)
	switch {
	case n.Kind == Scalar && !n.Quoted && !n.Block && missingSpace().MatchString(text):
		y.problem(n.At, width, spaceHint(text), "%q is read as one value, not as a key and its value", clip(text))
	case n.Kind == Scalar:
		y.problem(n.At, width, "write key: value, one to a line", "want keys and values in the front matter, found %q", clip(text))
	default:
		y.problem(n.At, width, "write key: value, one to a line", "want keys and values in the front matter, found %s", n.Kind)
	}
}

// noColon reports a key in braces that has no colon, or none that YAML sees.
func (y *tree) noColon(key *Node, width int) {
	if key.Text != "" && key.Text[0] >= '0' && key.Text[0] <= '9' && strings.Contains(key.Text, ":") { // hours: {monday: 8:00 to 12:00, 13:00 to 16:00}
		y.problem(key.At, width, "a comma in braces starts a new key; put a value with a comma in it in quotes", "the key %q has no value", clip(key.Text))
		return
	}
	if strings.Contains(key.Text, ":") {
		y.problem(key.At, width, spaceHint(key.Text), "%q is read as a key without a value", clip(key.Text))
		return
	}
	hint := "write key: value"
	if key.Text != "" && key.Text[0] >= '0' && key.Text[0] <= '9' { // {floor: 94,5}
		hint = "a comma in braces starts a new key; write a decimal with a point"
		if before, _ := y.split(key.At); !strings.HasSuffix(before, ",") { // {rows: 2 1/2, 7 1/2}
			hint = "a comma in braces starts a new key; put a list in brackets: [2 1/2, 7 1/2]"
		}
	}
	y.problem(key.At, width, hint, "the key %q has no colon", clip(key.Text))
}

func spaceHint(text string) string {
	key, value, _ := strings.Cut(text, ":")
	return fmt.Sprintf("a space is needed after the colon: %s: %s", clip(key), clip(value))
}

func (y *tree) deep(at Pos) {
	y.problem(at, 1, "write it with fewer levels", "lists and keys stand more than %d deep in each other", MostDepth)
}

func (y *tree) reference(at Pos) {
	y.problem(at, 1, "put a value that starts with & or * in quotes, and write repeated values out", "& and * are references, which are not part of front matter here")
}

func (y *tree) tag(at Pos) {
	y.problem(at, 1, "put a value that starts with ! in quotes", "a ! starts a type name, which is not part of front matter here")
}

const (
	inchHint   = "a value with foot or inch marks needs no quotes round it"
	indentHint = "start keys that belong together in the same column, and indent what belongs to a key"
)

// A line whose whole value stands in quotes that hold a foot or inch mark.
var outerQuotes = pattern(`^(\s*(?:- +)*(?:[^"'#:]+: +)?)(["'])(.*\d.*['"].*)(["'])\s*(?:#.*)?$`)

// explain turns a syntax error of the library's into a problem: its place, and what to do in words of our own.
func (y *tree) explain(e *yaml.LoadError) Problem {
	at := y.place(e.Mark.Line, e.Mark.Column)
	opened := y.place(e.ContextMark.Line, e.ContextMark.Column)
	_, after := y.split(at)
	say := func(at Pos, width int, summary, hint string) Problem {
		return Problem{Severity: Error, At: at, Width: max(width, 1), Summary: summary, Hint: hint}
	}
	said := func(report func(Pos), at Pos) Problem {
		count := len(y.problems)
		report(at)
		p := y.problems[count]
		y.problems = y.problems[:count]
		return p
	}
	is := func(message string) bool { return strings.Contains(e.Message, message) }
	in := func(context string) bool { return strings.HasSuffix(e.ContextMsg, context) }

	switch {
	case is("exceeded max depth"):
		return said(y.deep, at)
	case is("found a tab"), is("cannot start any token") && strings.HasPrefix(after, "\t"):
		return say(at, 1, "a tab cannot indent front matter", "indent with spaces")
	case in("a tag"), is("tag handle"):
		return said(y.tag, opened)
	case is("unknown anchor"):
		return said(y.reference, at)
	case in("an alias"), in("an anchor"):
		return said(y.reference, opened)
	case in("a quoted scalar") && is("escape"), is("hexadecimal"):
		return say(at, 1, `in "double quotes" a backslash starts a code, and this is none`, "use 'single quotes', or write the backslash twice")
	}
	if p, ok := y.quotes(e, at, opened); ok {
		return p
	}
	if p, ok := y.runaway(at.Line); ok {
		return p
	}
	switch {
	case in("a quoted scalar"):
		return say(opened, 1, "the quote opened here is never closed", "close it, or take it out: "+inchHint)
	case is("could not find expected ':'"):
		if p, ok := y.noSpace(opened.Line); ok {
			return p
		}
		_, text := y.split(opened)
		return say(opened, utf8.RuneCountInString(strings.TrimRight(text, " ")), "a key without a colon", "write key: value")
	case is("mapping values are not allowed"):
		for line := at.Line; line >= max(1, at.Line-1); line-- {
			if p, ok := y.noSpace(line); ok {
				return p
			}
		}
		if before, _ := y.split(at); strings.Contains(before, ": ") {
			return say(at, 1, "a second colon on one line", "put a text with a colon in quotes, or start a new line for the second key")
		}
		if p, ok := y.wordAbove(at.Line); ok {
			return p
		}
		return say(at, 1, "a key cannot stand here, below a value", indentHint)
	case is("cannot start any token"):
		sign := clip(after[:min(1, len(after))])
		return say(at, 1, fmt.Sprintf("a value cannot start with %s", sign), "leave the "+sign+" out, or put the value in quotes")
	case is("comment without preceding whitespace"):
		return say(at, 1, "a # touches what stands before it", "put a space before it for a comment, or quotes round the value")
	case in("a block scalar"):
		return say(opened, 1, "> and | start a block of lines, not a value", "put a value that starts with > or | in quotes, or leave the sign out")
	case is("block sequence entries are not allowed"):
		return say(at, 1, "a list with dashes cannot start here", "start it on the line below, or write [first, second]")
	case is("mapping keys are not allowed"):
		return say(at, 1, "a value cannot start with ?", "put it in quotes")
	case in("a flow sequence"), in("a flow mapping"), in("a flow node"):
		return y.brackets(e, at, opened, say)
	case is("did not find expected node content") && strings.ContainsAny(after[:min(1, len(after))], ",]}"):
		return say(at, 1, fmt.Sprintf("a value cannot start with %s", after[:1]), "put it in quotes")
	case is("did not find expected key"), is("did not find expected '-'"), is("document start"):
		if col := at.Col; col > 1 && strings.TrimSpace(y.lines[at.Line-1][:len(y.lines[at.Line-1])-len(after)]) != "" {
			return say(at, utf8.RuneCountInString(strings.TrimRight(after, " ")), "this cannot stand behind the value", "put the whole value in quotes, or start a new line")
		}
		return say(at, utf8.RuneCountInString(strings.TrimRight(after, " ")), "this line does not fit those above it", indentHint)
	}
	return say(at, 1, "the front matter cannot be understood from here on", "write key: value, one to a line, and put texts with signs in quotes")
}

// quotes recognises quotes round a value with foot or inch marks, which end the value early.
func (y *tree) quotes(e *yaml.LoadError, at, opened Pos) (Problem, bool) {
	if e.Message != "did not find expected key" && !strings.HasSuffix(e.ContextMsg, "a quoted scalar") {
		return Problem{}, false
	}
	for _, line := range []int{opened.Line, at.Line} {
		m := outerQuotes().FindStringSubmatch(y.lines[line-1])
		if m == nil || m[2] != m[4] || strings.Count(m[3], m[2])%2 == 0 {
			continue
		}
		return Problem{Severity: Error, At: y.place(line, utf8.RuneCountInString(m[1])+1), Width: utf8.RuneCountInString(m[2] + m[3] + m[4]),
			Summary: "the quotes round this value end at the foot or inch mark inside it",
			Hint:    "write it without the outer quotes: " + clip(m[3]),
		}, true
	}
	return Problem{}, false
}

// A value that starts with a quote.
var opensQuote = pattern(`^(\s*(?:- +)*[A-Za-z][\w-]*: +)(["'])(.*)$`)

// runaway recognises a quote before a line that was never closed, and takes in a key below it up to the next quote.
func (y *tree) runaway(last int) (Problem, bool) {
	indent := func(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }
	for i, line := range y.lines[:last-1] {
		m := opensQuote().FindStringSubmatch(line)
		if m == nil || strings.Contains(m[3], m[2]) || !keyLine().MatchString(y.lines[i+1]) || indent(y.lines[i+1]) > indent(line) {
			continue
		}
		return Problem{Severity: Error, At: y.place(i+1, utf8.RuneCountInString(m[1])+1), Width: 1,
			Summary: fmt.Sprintf("the quote opened here takes in line %d, which is not indented", i+2),
			Hint:    "close the quote on its own line, or indent the lines that go on"}, true
	}
	return Problem{}, false
}

// A word that stands where a key does, with nothing behind it.
var bareKey = pattern(`^ *(?:- +)*([a-z][a-z-]*) *(?: #.*)?$`)

// wordAbove recognises a key without its colon above lines that belong to it: its word is read as a value that goes on with them.
func (y *tree) wordAbove(line int) (Problem, bool) {
	indent := func(text string) int { return len(text) - len(strings.TrimLeft(text, " ")) }
	for above := line - 1; above > 0; above-- {
		text := y.lines[above-1]
		if strings.TrimSpace(text) == "" || indent(text) >= indent(y.lines[line-1]) {
			continue
		}
		m := bareKey().FindStringSubmatchIndex(text)
		if m == nil {
			return Problem{}, false
		}
		return Problem{Severity: Error, At: y.place(above, m[2]+1), Width: m[3] - m[2], Summary: "a key without a colon", Hint: "write " + text[m[2]:m[3]] + ":"}, true
	}
	return Problem{}, false
}

// noSpace recognises a line such as floor:94, a key whose space after the colon was forgotten.
func (y *tree) noSpace(line int) (Problem, bool) {
	text := strings.TrimRight(y.lines[line-1], " \t")
	word := strings.TrimLeft(text, " -")
	if !missingSpace().MatchString(word) {
		return Problem{}, false
	}
	col := len(text) - len(word) + 1 // blanks and dashes are one byte each
	return Problem{Severity: Error, At: y.place(line, col), Width: utf8.RuneCountInString(word),
		Summary: fmt.Sprintf("%q is read as one value, not as a key and its value", clip(word)), Hint: spaceHint(word)}, true
}

// brackets explains what is wrong between brackets or braces: they are not closed, or a comma is missing or too many.
func (y *tree) brackets(e *yaml.LoadError, at, opened Pos, say func(Pos, int, string, string) Problem) Problem {
	_, after := y.split(at)
	if strings.HasPrefix(after, ",") {
		hint := "take the comma out, or put the value before it"
		if before, _ := y.split(at); strings.LastIndexByte(before, '[') > strings.LastIndexByte(before, '{') {
			hint += "; where it is not known yet, write the list with a line and a dash for each, and nothing behind the dash of that one"
		}
		return say(at, 1, "a comma with nothing before it", hint)
	}
	if open, missing := y.unclosedBracket(at, opened); missing {
		_, sign := y.split(open)
		want := map[byte]string{'[': "]", '{': "}"}[sign[0]]
		hint := "write " + want + " after its last value"
		if comment := strings.Index(sign, " #"); comment >= 0 && strings.Contains(sign[comment:], want) {
			hint = "the # on this line starts a comment, which takes the " + want + " with it: put a value with a # in quotes"
		}
		return say(open, 1, fmt.Sprintf("the %s opened here is never closed", sign[:1]), hint)
	}
	if strings.HasSuffix(e.ContextMsg, "a flow node") {
		return say(at, 1, "a value is missing here", "write the value, or put one with signs in quotes")
	}
	return say(at, 1, "want a comma or the closing bracket here", "put a comma between values, and quotes round one with signs; "+inchHint)
}

// unclosedBracket reports whether the bracket or brace that encloses a place has no end, and where it stands: the text
// is over, goes on with a line that is not indented under it, or has the other kind of end.
func (y *tree) unclosedBracket(at, opened Pos) (Pos, bool) {
	for line := at.Line; opened == at && line >= 1; line-- { // the library does not say where: take the nearest before
		before := y.lines[line-1]
		if line == at.Line {
			before, _ = y.split(at)
		}
		if i := strings.LastIndexAny(before, "[{"); i >= 0 {
			opened = y.place(line, utf8.RuneCountInString(before[:i])+1)
			break
		}
	}
	_, sign := y.split(opened)
	if !strings.HasPrefix(sign, "[") && !strings.HasPrefix(sign, "{") {
		return opened, false
	}
	line := y.lines[at.Line-1]
	_, after := y.split(at)
	other := map[byte]string{'[': "}", '{': "]"}[sign[0]]
	indent := func(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }
	isOver := at.Line == len(y.lines) && after == ""
	return opened, isOver || strings.HasPrefix(after, other) ||
		at.Line > opened.Line && keyLine().MatchString(line) && indent(line) <= indent(y.lines[opened.Line-1])
}
