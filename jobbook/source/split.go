package source

import (
	"balustrade/jobbook/memo"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// block is where front matter stands in a text, in byte offsets.
type block struct {
	start, end int // of the lines between the two --- lines; end is where the closing line starts
	body       int // the first byte after the closing line
	closed     bool
}

// split finds the front matter: from a first line that is exactly --- to the next such line. Blanks may follow the dashes.
func split(text string) (b block, found bool) {
	for at := 0; at < len(text); {
		line, _, _ := strings.Cut(text[at:], "\n")
		next := min(at+len(line)+1, len(text))
		isFence := strings.TrimRight(line, " \t\r") == "---"
		switch {
		case at == 0 && !isFence:
			return b, false
		case at == 0:
			b.start = next
		case isFence:
			b.end, b.body, b.closed = at, next, true
			return b, true
		}
		at = next
	}
	b.end, b.body = len(text), len(text)
	return b, text != ""
}

// blanked is a text with every byte up to a place but newlines turned into a space.
func blanked(text string, to int) string {
	var b strings.Builder
	b.Grow(len(text))
	for i := range to {
		if text[i] == '\n' {
			b.WriteByte('\n')
		} else {
			b.WriteByte(' ')
		}
	}
	b.WriteString(text[to:])
	return b.String()
}

// parts is what a text is taken apart into.
type parts struct {
	front    *Node
	body     string
	whole    bool // its form can be made out
	problems []Problem
}

// remembered are the files that were read lately: from one save to the next all but one are as they were, and the jobs of a yard share those of their shop. Long ones would keep too much memory.
var remembered = memo.New[parts](256)

const mostRemembered = 1 << 15 // bytes of one of them

// parsed is parse, remembered. Nobody writes to what it gives.
func parsed(file, text string) parts {
	if len(text) > mostRemembered {
		return parse(file, text)
	}
	k := memo.KeyOf(len(file)/8 + len(text)/8 + 4)
	k.Text(file)
	k.Text(text)
	return remembered.Get(k, func() parts { return parse(file, text) })
}

// parse takes a text apart. Places are in file.
func parse(file, text string) parts {
	p := parts{body: text}
	b, found := split(text)
	if found && b.closed {
		p.body = blanked(text, b.body)
	}
	readable, problems := characters(file, text, b.end)
	p.problems = problems
	switch {
	case !readable:
	case !found:
		p.whole, p.problems = true, append(problems, nearMiss(file, text)...)
	case !b.closed:
		p.problems = append(problems, unclosed(file, text))
	default:
		var more []Problem
		p.front, more = frontMatter(file, text[:b.end])
		p.whole, p.problems = p.front != nil, append(problems, more...)
	}
	return p
}

// characters checks that a text is plain UTF-8 and reports false when its front matter, which ends at `end`, cannot be
// read for it. It reports the first of each kind of trouble.
func characters(file, text string, end int) (readable bool, problems []Problem) {
	readable = true
	report := func(s Severity, offset int, hint, format string, args ...any) {
		problems = append(problems, Problem{Severity: s, At: placeOf(file, text, offset), Width: 1, Summary: fmt.Sprintf(format, args...), Hint: hint})
	}
	control, lone := false, false
	for i, r := range text {
		switch {
		case r >= ' ' && r <= '~': // most of it
		case r == utf8.RuneError && !strings.HasPrefix(text[i:], "\ufffd"):
			hint := "save the file as UTF-8"
			if strings.HasPrefix(text, "\xff\xfe") || strings.HasPrefix(text, "\xfe\xff") {
				hint += "; it looks like UTF-16"
			}
			report(Error, i, hint, "the byte %02X is not UTF-8 text", text[i])
			return false, problems
		case r == '\r':
			if strings.HasPrefix(text[i+1:], "\n") || lone {
				continue
			}
			lone = true
			if strings.TrimRight(text[:i], " \t") == "---" && !strings.HasPrefix(strings.TrimLeft(text[i:], "\r"), "\n") {
				report(Error, i, "save the file with ordinary line ends", "the lines end in lone carriage returns, so the front matter cannot be told from the rest")
				readable = false
				continue
			}
			report(Warning, i, "save the file with ordinary line ends", "a lone carriage return is not taken for a line end")
		case r == '\t' || r == '\n' || control:
		case unicode.IsControl(r) || i < end && strings.ContainsRune("\u2028\u2029\ufeff\ufffe\uffff", r):
			control = true
			readable = readable && i >= end
			report(Error, i, "take it out, or save the file as plain text", "the invisible character U+%04X does not belong in text", r)
		}
	}
	return readable, problems
}

// unclosed is the problem of front matter without an end. A line that may have been meant as the end is noted.
func unclosed(file, text string) Problem {
	p := Problem{Severity: Error, At: Pos{file, 1, 1}, Width: len("---"),
		Summary: "the front matter opened here is never closed",
		Hint:    "write --- on a line of its own, at the left edge, after the last key",
	}
	for i, line := range strings.Split(text, "\n")[1:] {
		trimmed := strings.TrimSpace(line)
		if trimmed == "..." || isDashes(trimmed) {
			p.Notes = []Note{{Pos{file, i + 2, strings.Index(line, trimmed[:1]) + 1}, fmt.Sprintf("this line, %q, does not close it", clip(strings.TrimRight(line, "\r")))}}
			break
		}
	}
	return p
}

var keyLine = pattern(`^\s*[A-Za-z][\w-]*:(\s|$)`)

// nearMiss warns of a file without front matter that starts as if it had some.
func nearMiss(file, text string) []Problem {
	warn := func(line int, found, hint string) []Problem {
		return []Problem{{Severity: Warning, At: Pos{file, line, 1}, Width: utf8.RuneCountInString(found), Summary: fmt.Sprintf("%q is not read as the start of front matter", clip(found)), Hint: hint}}
	}
	lines := strings.Split(text, "\n")
	first := 0
	for first < len(lines)-1 && strings.TrimSpace(lines[first]) == "" {
		first++
	}
	found := strings.TrimRight(lines[first], " \t\r")
	switch {
	case isDashes(strings.TrimSpace(found)) && first+1 < len(lines) && keyLine().MatchString(lines[first+1]):
		return warn(first+1, found, "write --- alone on the first line of the file, at the left edge")
	case keyLine().MatchString(found):
		for _, line := range lines[first+1:] {
			line = strings.TrimRight(line, " \t\r")
			if line == "---" {
				return warn(first+1, found, "write --- alone on a line above it, as the first line of the file")
			}
			if !keyLine().MatchString(line) {
				break
			}
		}
	}
	return nil
}

// isDashes reports a line of two or more dashes, or of the long dash that some keyboards make of them.
func isDashes(line string) bool {
	return strings.Trim(line, "-–—") == "" && len(line) > 1
}

// clip cuts a text that is quoted in a message to a readable length.
func clip(s string) string {
	const most = 40 // runes: half a line of a terminal
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "..."
	}
	return s
}
