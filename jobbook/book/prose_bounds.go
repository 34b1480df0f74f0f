package book

import (
	"regexp"
	"strings"
)

// Bounds on the words of one file. The Markdown library takes time with the square of some texts' length, and one that nobody would write
// can ask for a table of millions of cells; within these bounds it takes a fraction of a second. They bound no text that is to be read.
const (
	mostNested = 20     // quotes and lists that start inside each other on one line
	mostMarks  = 4000   // brackets, stars, underscores and tildes between two blank lines
	mostCells  = 20_000 // cells of one table, those left out counted
	mostTables = 50     // of the book's own tables in one text
)

var (
	container = regexp.MustCompile(`^[ \t]*(>|[-+*][ \t]|[0-9]{1,9}[.)][ \t])`)
	ruleOfRow = regexp.MustCompile(`^[ \t>]*\|?[ \t]*:?-+:?[ \t]*(\|[ \t]*:?-+:?[ \t]*)*\|?[ \t]*$`) // the line under a table's head
)

// tooMuch looks for a text that is not to be handed to the Markdown library: the offset of what there is too much of, and what that is.
func tooMuch(text string) (offset int, what string, most int) {
	start, marks, columns, rows := 0, 0, 0, 0 // start is of the stretch since the last blank line
	at := 0
	for line := range strings.Lines(text) {
		switch {
		case strings.TrimSpace(line) == "":
			marks, columns, rows, start = 0, 0, 0, at+len(line)
		default:
			rest, nested := line, 0
			for mayContain(rest) {
				m := container.FindString(rest)
				if m == "" {
					break
				}
				rest, nested = rest[len(m):], nested+1
			}
			if nested > mostNested {
				return at, "quotes and lists inside each other", mostNested
			}
			for _, c := range []byte(line) {
				switch c {
				case '[', ']', '*', '_', '~':
					marks++
				}
			}
			if marks > mostMarks {
				return start, "signs like [, * and _ in one paragraph", mostMarks
			}
			if columns == 0 && strings.Trim(line, " \t\r\n>|:-") == "" && ruleOfRow.MatchString(strings.TrimRight(line, "\r\n")) {
				columns = 1 + strings.Count(strings.Trim(line, " \t\r\n>|"), "|")
			}
			if rows++; columns > 0 && columns*rows > mostCells {
				return start, "cells in one table", mostCells
			}
		}
		at += len(line)
	}
	return 0, "", 0
}

// mayContain reports a line that begins as a quote or a list does: most do not, and need no closer look.
func mayContain(line string) bool {
	line = strings.TrimLeft(line, " \t")
	return line != "" && strings.IndexByte(">-+*0123456789", line[0]) >= 0
}
