package book

import (
	"bytes"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/text"
)

// lostWords warns of a fenced block that takes in more than was meant: one that is never closed, one that holds the start of a table, and words
// inside a computed table, whose place the table takes. They would be missing from the page that somebody works from.
func (b *book) lostWords(p *prose, n *ast.FencedCodeBlock) {
	lines := n.Lines().Sliced(0, n.Lines().Len())
	words := slices.IndexFunc(lines, func(l text.Segment) bool { return strings.TrimSpace(string(l.Value(p.source))) != "" })
	if words < 0 {
		return // nothing is lost
	}
	open := p.lineStart(max(p.lineStart(lines[0].Start)-1, 0)) // of the line above the first one inside
	if n.Info != nil {
		open = n.Info.Segment.Start
	}
	table := n.Info != nil && strings.HasPrefix(strings.TrimSpace(string(n.Info.Segment.Value(p.source)))+" ", "table ")
	first := lines[words]
	switch after := p.source[min(lines[len(lines)-1].Stop, len(p.source)):]; {
	case !closesFence(after):
		what := "all that follows stands in it as it is written"
		if table {
			what = "the words that follow are left out: " + clip(strings.TrimSpace(string(first.Value(p.source))))
		}
		b.warn(p.at(open), 1, "write ``` on a line of its own where it ends", "the block opened here is never closed, and %s", what)
	case table:
		said := strings.TrimSpace(string(first.Value(p.source)))
		b.warn(p.at(indented(p.source, first)), len([]rune(said)), "write them above or below the two lines of the table", "words inside a computed table are left out: %s", clip(said))
	default:
		for _, l := range lines {
			if said := strings.TrimSpace(string(l.Value(p.source))); strings.HasPrefix(said, "```table ") {
				b.warn(p.at(indented(p.source, l)), len([]rune(said)), "close that block with ``` on a line of its own before the table", "this starts no table: it stands inside the block opened on line %d", p.at(open).Line)
				return
			}
		}
	}
}

// lineStart is the offset at which the line of an offset starts.
func (p *prose) lineStart(offset int) int { return bytes.LastIndexByte(p.source[:offset], '\n') + 1 }

// indented is the offset of the first sign of a line that is not blank.
func indented(source []byte, line text.Segment) int {
	raw := source[line.Start:line.Stop]
	return line.Stop - len(bytes.TrimLeft(raw, " \t"))
}

// closesFence reports whether a text begins with the line that closes a fenced block, in a quote or a list as well.
func closesFence(text []byte) bool {
	line, _, _ := bytes.Cut(text, []byte("\n"))
	line = bytes.TrimSpace(bytes.TrimLeft(line, "> \t"))
	return len(line) >= 3 && (len(bytes.Trim(line, "`")) == 0 || len(bytes.Trim(line, "~")) == 0)
}
