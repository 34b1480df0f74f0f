package source

import (
	"strings"
	"unicode/utf8"
)

// plain reads front matter that is written as most of it is: keys and dashes on lines of their own, values on the line of their key, words without quotes or between double ones, lists in brackets and keys in braces that
// end on their line, comments with a space behind their sign. It gives nil for all else, and where anything may be wrong: that is for YAML to read, and to make out what a person meant. What it does read is what YAML makes
// of it; a test holds the two to each other.
func (y *tree) plain() *Node {
	p := plain{file: y.file, lines: y.lines}
	p.skip()
	top := p.keys(p.indent, 1)
	if p.odd || p.at < len(p.lines) {
		return nil
	}
	return top
}

// plain is such a reading.
type plain struct {
	file   string
	lines  []string
	at     int    // of the line that is read next, in lines
	text   string // that line
	indent int    // of that line, or of the keys behind its dash; -1 behind the last
	odd    bool   // something is written otherwise
}

// strange gives up.
func (p *plain) strange() *Node {
	p.odd = true
	return &Node{}
}

// pos is the place of a byte of the line.
func (p *plain) pos(at int) Pos {
	return Pos{p.file, p.at + 1, utf8.RuneCountInString(p.text[:at]) + 1}
}

// skip goes to the next line that says something. A line of very many values is left to YAML, for places in it are counted from its beginning.
func (p *plain) skip() {
	const most = 1000 // bytes; nobody writes longer ones by hand
	for ; p.at < len(p.lines); p.at++ {
		p.text = p.lines[p.at]
		rest := strings.TrimLeft(p.text, " ")
		if rest != "" && rest[0] != '#' {
			p.indent, p.odd = len(p.text)-len(rest), p.odd || len(p.text) > most
			return
		}
	}
	p.text, p.indent = "", -1
}

// done goes on behind a value that ends its line. A line that is further in than what the value belongs to would carry it on.
func (p *plain) done(margin int) {
	p.at++
	p.skip()
	p.odd = p.odd || p.indent > margin
}

// keys reads lines that begin with a key at one indent.
func (p *plain) keys(indent, depth int) *Node {
	m := &Node{Kind: Map, At: p.pos(indent)}
	for !p.odd && p.indent == indent {
		key, at := p.key(indent), p.pos(indent)
		if p.odd || depth > MostDepth || !p.another(m, key) {
			return p.strange()
		}
		m.Entries = append(m.Entries, Entry{key, at, p.value(indent+len(key)+1, indent, depth)})
	}
	return m
}

// another reports a key that is not there yet. A map of very many is left to YAML, for each is compared with all.
func (*plain) another(m *Node, key string) bool {
	const most = 200
	return len(m.Entries) < most && m.Get(key) == nil
}

// key is the word before a colon; blanks or the end of the line have to follow.
func (p *plain) key(from int) string {
	n := from
	for n < len(p.text) && (isLetter(p.text[n]) || n > from && (isDigit(p.text[n]) || p.text[n] == '-')) {
		n++
	}
	if n == from || n == len(p.text) || p.text[n] != ':' || n+1 < len(p.text) && p.text[n+1] != ' ' {
		p.odd = true
		return ""
	}
	return p.text[from:n]
}

// value reads what stands behind a key or a dash, which stands at margin.
func (p *plain) value(from, margin, depth int) *Node {
	start := p.blanks(from)
	if start < len(p.text) {
		n, end := p.word(start, depth+1, "")
		if !p.over(end) {
			return p.strange()
		}
		p.done(margin)
		return n
	}
	blank := &Node{Kind: Scalar, At: p.pos(from)}
	p.at++
	p.skip()
	switch dash := p.isDash(); {
	case dash && p.indent >= margin:
		return p.dashes(p.indent, depth+1)
	case p.indent > margin:
		return p.keys(p.indent, depth+1)
	}
	return blank
}

func (p *plain) isDash() bool { return p.indent >= 0 && strings.HasPrefix(p.text[p.indent:], "- ") }

// dashes reads lines that begin with a dash at one indent.
func (p *plain) dashes(indent, depth int) *Node {
	list := &Node{Kind: List, At: p.pos(indent)}
	for !p.odd && p.indent == indent && p.isDash() {
		start := p.blanks(indent + 1)
		if depth > MostDepth || start == len(p.text) {
			return p.strange()
		}
		colon := start
		for colon < len(p.text) && (isLetter(p.text[colon]) || isDigit(p.text[colon]) || p.text[colon] == '-') {
			colon++
		}
		if strings.HasPrefix(p.text[colon:], ":") { // keys of its own, the first behind the dash
			p.indent = start
			list.Items = append(list.Items, p.keys(start, depth+1))
			continue
		}
		list.Items = append(list.Items, p.value(indent+1, indent, depth))
	}
	return list
}

// word reads a word, a text in quotes, a list in brackets or keys in braces, and gives its end. closing are the signs that end it where it stands in brackets or braces; empty outside of them.
func (p *plain) word(from, depth int, closing string) (*Node, int) {
	if from == len(p.text) || depth > MostDepth {
		return p.strange(), len(p.text)
	}
	switch c := p.text[from]; {
	case c == '[':
		return p.bracketed(&Node{Kind: List, At: p.pos(from)}, from+1, depth, ']')
	case c == '{':
		return p.bracketed(&Node{Kind: Map, At: p.pos(from)}, from+1, depth, '}')
	case c == '"':
		text, _, closed := strings.Cut(p.text[from+1:], `"`)
		if !closed || strings.ContainsAny(text, "\t\\") {
			break
		}
		return &Node{Kind: Scalar, At: p.pos(from), Text: text, Quoted: true}, from + len(text) + 2
	case isLetter(c) || isDigit(c) || c == '(' || c == '$' || c >= utf8.RuneSelf:
		text := p.text[from:]
		if closing == "" {
			text, _, _ = strings.Cut(text, " #")
		} else {
			end := strings.IndexAny(text, ",[]{}")
			if end < 0 || strings.IndexByte(closing, text[end]) < 0 || strings.Contains(text[:end], ":") {
				break
			}
			text = text[:end]
		}
		text = strings.TrimRight(text, " ")
		if strings.ContainsAny(text, "\t#") || strings.Contains(text, ": ") || strings.HasSuffix(text, ":") {
			break
		}
		return &Node{Kind: Scalar, At: p.pos(from), Text: text}, from + len(text)
	}
	return p.strange(), len(p.text)
}

// bracketed reads what stands in brackets or braces, from behind the one that opens, and gives the place behind the one that closes.
func (p *plain) bracketed(n *Node, from, depth int, closing byte) (*Node, int) {
	at := p.blanks(from)
	if at < len(p.text) && p.text[at] == closing {
		return n, at + 1
	}
	for at < len(p.text) {
		key, keyAt := "", p.pos(at)
		if n.Kind == Map {
			if key = p.key(at); p.odd || !p.another(n, key) {
				break
			}
			at = p.blanks(at + len(key) + 1)
		}
		var value *Node
		end := at
		if n.Kind == Map && at < len(p.text) && (p.text[at] == ',' || p.text[at] == closing) {
			value = &Node{Kind: Scalar, At: p.pos(at)} // left blank
		} else if value, end = p.word(at, depth+1, ","+string(closing)); p.odd {
			break
		}
		if n.Kind == Map {
			n.Entries = append(n.Entries, Entry{key, keyAt, value})
		} else {
			n.Items = append(n.Items, value)
		}
		at = p.blanks(end)
		switch {
		case at < len(p.text) && p.text[at] == closing:
			return n, at + 1
		case at < len(p.text) && p.text[at] == ',':
			at = p.blanks(at + 1)
		default:
			return p.strange(), len(p.text)
		}
	}
	return p.strange(), len(p.text)
}

// blanks is the first place from one on that is no blank, or the end of the line.
func (p *plain) blanks(from int) int {
	for from < len(p.text) && p.text[from] == ' ' {
		from++
	}
	return from
}

// over reports that nothing follows on the line but a comment.
func (p *plain) over(at int) bool {
	start := p.blanks(at)
	return start == len(p.text) || start > at && strings.HasPrefix(p.text[start:], "# ")
}

func isLetter(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' }
func isDigit(c byte) bool  { return '0' <= c && c <= '9' }
