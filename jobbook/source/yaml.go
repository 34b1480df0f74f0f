package source

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
	"go.yaml.in/yaml/v4/plugin/loaderlimits"
)

// frontMatter reads the front matter of a file into a tree. text is the file up to the closing ---, so that its lines are
// the file's. The tree is nil when the form cannot be made out; a single value that is refused is left blank in it, which
// keeps later stages from reporting it twice.
func frontMatter(file, text string) (front *Node, problems []Problem) {
	y := &tree{file: file, lines: strings.Split(newlines(text), "\n")}
	defer func() {
		if fault := recover(); fault != nil { // the library's: one file's fault must not take the others down
			y.problem(Pos{file, 1, 1}, 1, "write the front matter more simply", "the front matter cannot be read")
			front, problems = nil, y.problems
		}
	}()
	if len(y.lines) > MostLines {
		y.problem(Pos{file, MostLines + 1, 1}, 1, "divide it into several files; words belong below the closing ---", "the front matter goes on for more than %d lines", MostLines)
		return nil, y.problems
	}
	y.lines[0] = "" // the opening ---
	if !y.markers() {
		return nil, y.problems
	}
	if y.empty() {
		return &Node{Kind: Map, At: Pos{file, 1, 1}}, nil
	}
	var root yaml.Node
	err := yaml.Load([]byte(strings.Join(y.lines, "\n")), &root, yaml.WithPlugin(loaderlimits.New(loaderlimits.DepthValue(MostDepth))))
	var bad *yaml.LoadError
	switch {
	case errors.As(err, &bad):
		y.problems = append(y.problems, y.explain(bad))
		return nil, y.problems
	case err != nil || len(root.Content) != 1:
		y.problem(Pos{file, 1, 1}, 1, "write key: value, one to a line", "the front matter cannot be read")
		return nil, y.problems
	}
	top := y.node(root.Content[0], 1, 0)
	if top.Kind != Map {
		if !AnyError(y.problems) { // a warning alone does not say why nothing is read
			y.notKeys(top)
		}
		return nil, y.problems
	}
	return top, y.problems
}

// newlines makes newlines of carriage returns with a newline, and spaces of those without, which YAML would take for
// line breaks. Columns stay what they are.
func newlines(text string) string {
	return strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", " ")
}

// tree is the reading of one front matter.
type tree struct {
	file     string
	lines    []string // of the file, from its first to the last before the closing ---
	problems []Problem

	// What was found out last, for nodes come in the order of the text: without it a long line takes the square of its
	// length.
	cursor struct{ line, col, offset int }
	width  struct{ line, runes int }
}

func (y *tree) problem(at Pos, width int, hint, format string, args ...any) {
	y.problems = append(y.problems, Problem{Severity: Error, At: at, Width: max(width, 1), Summary: fmt.Sprintf(format, args...), Hint: hint})
}

// markers refuses lines that YAML takes for the marks of a document's start, end or settings.
func (y *tree) markers() bool {
	for i, line := range y.lines {
		mark, _, _ := strings.Cut(strings.ReplaceAll(line, "\t", " "), " ")
		at := Pos{y.file, i + 1, 1}
		switch {
		case mark == "---" || mark == "...":
			y.problem(at, len(mark), "take the line out; only --- alone on its line closes the front matter", "%q stands inside the front matter", mark)
		case strings.HasPrefix(line, "%"):
			y.problem(at, 1, "put the value in quotes, after its key", "a line of front matter cannot start with %%")
		}
	}
	return len(y.problems) == 0
}

// empty reports front matter of nothing but blank lines and comments.
func (y *tree) empty() bool {
	for _, line := range y.lines {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			return false
		}
	}
	return true
}

// place is a line and column of the library's, held within the text.
func (y *tree) place(line, col int) Pos {
	line = min(max(line, 1), len(y.lines))
	if y.width.line != line {
		y.width.line, y.width.runes = line, utf8.RuneCountInString(y.lines[line-1])
	}
	return Pos{y.file, line, min(max(col, 1), y.width.runes+1)}
}

// split gives the text of a line before and after a place.
func (y *tree) split(at Pos) (before, after string) {
	line, c := y.lines[at.Line-1], &y.cursor
	if c.line != at.Line || c.col > at.Col {
		c.line, c.col, c.offset = at.Line, 1, 0
	}
	for ; c.col < at.Col && c.offset < len(line); c.col++ {
		_, size := utf8.DecodeRuneInString(line[c.offset:])
		c.offset += size
	}
	return line[:c.offset], line[c.offset:]
}

// node turns a YAML node into ours. depth counts the lists and maps down to it, itself included; margin is the column of
// the key or dash that it hangs on, 0 for none.
func (y *tree) node(n *yaml.Node, depth, margin int) *Node {
	at := y.place(n.Line, n.Column)
	if depth > MostDepth && n.Kind != yaml.ScalarNode {
		y.deep(at)
		return &Node{Kind: Scalar, At: at}
	}
	_, after := y.split(at)
	switch {
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		y.reference(at)
	case n.Style&yaml.TaggedStyle != 0 || strings.HasPrefix(after, "!"):
		y.tag(at)
	case n.Kind == yaml.MappingNode:
		return y.mapping(n, at, depth, margin)
	case n.Kind == yaml.SequenceNode:
		return y.list(n, at, depth, margin)
	case n.Kind == yaml.ScalarNode:
		return y.scalar(n, at, margin)
	}
	return &Node{Kind: Scalar, At: at}
}

func (y *tree) list(n *yaml.Node, at Pos, depth, margin int) *Node {
	list := &Node{Kind: List, At: at}
	if n.Style&yaml.FlowStyle == 0 {
		margin = at.Col
	}
	list.Items = slices.Grow(list.Items, len(n.Content))
	for _, item := range n.Content {
		list.Items = append(list.Items, y.node(item, depth+1, margin))
	}
	return list
}

// pattern is compiled when it is first asked for: most are asked for where something is wrong.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}

// A word, a colon and something that touches it: a key whose space was forgotten. A web address is not.
var missingSpace = pattern(`^[A-Za-z][\w -]*:[^\s:/]`)

const few = 16 // keys, which are sooner looked through than put in a table

func (y *tree) mapping(n *yaml.Node, at Pos, depth, margin int) *Node {
	m := &Node{Kind: Map, At: at}
	if n.Style&yaml.FlowStyle == 0 {
		margin = at.Col
	}
	m.Entries = slices.Grow(m.Entries, len(n.Content)/2)
	var first map[string]Pos // of a long map; a short one is looked through
	if len(n.Content)/2 > few {
		first = make(map[string]Pos, len(n.Content)/2)
	}
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		key := y.key(k, margin)
		bare := key != nil && !key.Quoted && y.bare(key)
		count := len(y.problems)
		value := y.node(v, depth+1, margin)
		if key == nil {
			continue
		}
		width := utf8.RuneCountInString(key.Text)
		if key.Quoted {
			width += len(`""`)
		}
		if bare && value.Blank() && len(y.problems) == count {
			y.noColon(key, width)
			continue
		}
		if v.Line > k.Line && n.Style&yaml.FlowStyle == 0 && value.Kind == Scalar && !value.Quoted && !value.Block && missingSpace().MatchString(value.Text) {
			y.notKeys(value)
			value = &Node{Kind: Scalar, At: value.At}
		}
		before, ok := first[key.Text]
		if first == nil {
			if i := slices.IndexFunc(m.Entries, func(e Entry) bool { return e.Key == key.Text }); i >= 0 {
				before, ok = m.Entries[i].At, true
			}
		}
		if ok {
			y.problem(key.At, width, "keep one of the two", "the key %q is written twice", clip(key.Text))
			y.problems[len(y.problems)-1].Notes = []Note{{before, "first written here"}}
			continue
		}
		if first != nil {
			first[key.Text] = key.At
		}
		m.Entries = append(m.Entries, Entry{key.Text, key.At, value})
	}
	return m
}

// bare reports a key that no colon follows.
func (y *tree) bare(key *Node) bool {
	_, after := y.split(key.At)
	return !strings.HasPrefix(strings.TrimLeft(strings.TrimPrefix(after, key.Text), " \t"), ":")
}

// key reads a key; nil when it is refused.
func (y *tree) key(n *yaml.Node, margin int) *Node {
	count := len(y.problems)
	at := y.place(n.Line, n.Column)
	if n.Kind == yaml.MappingNode || n.Kind == yaml.SequenceNode {
		y.problem(at, 1, "write a word before the colon", "a key must be a word, found a list or keys and values")
		return nil
	}
	key := y.node(n, 1, margin)
	switch {
	case len(y.problems) > count:
		return nil
	case key.Block:
		y.problem(at, 1, "write a word before the colon", "a key must be a word, found a block of lines")
		return nil
	case key.Text == "":
		y.problem(at, 1, "write a word before the colon", "the key before the colon is missing")
		return nil
	case key.Text == "<<" && !key.Quoted:
		y.problem(at, len(key.Text), "write the keys out", "merging keys with << is not part of front matter here")
		return nil
	}
	return key
}

// A comment sign that touches what follows, other than one of its own kind.
var touchingComment = pattern(`^[ \t]*(#+[^\s#]\S*)`)

// touching finds such a sign at the start of a text, which most have none of.
func touching(text string) []int {
	if !strings.Contains(text, "#") {
		return nil
	}
	return touchingComment().FindStringSubmatchIndex(text)
}

func (y *tree) scalar(n *yaml.Node, at Pos, margin int) *Node {
	s := &Node{Kind: Scalar, At: at, Text: n.Value}
	_, after := y.split(at)
	switch {
	case n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0:
		s.Quoted = true
		y.quoted(at, margin)
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		s.Block = true
		s.Text = strings.TrimRight(n.Value, "\n")
		if header := blockHeader().FindString(after); s.Text == "" || strings.ContainsAny(header, "0123456789") {
			y.problem(at, len(header), "put a value that starts with "+after[:min(1, len(after))]+" in quotes, or leave the sign out", "%q starts a block of lines, not a value", header)
			return &Node{Kind: Scalar, At: at}
		}
	case n.Value == "":
		if touch := touching(after); touch != nil {
			comment := after[touch[2]:]
			at.Col += utf8.RuneCountInString(after[:touch[2]])
			y.problem(at, utf8.RuneCountInString(after[touch[2]:touch[3]]), "put a space after the # if it is a comment, or quotes round the value if it is not", "a # starts a comment, so there is no value before %q", clip(strings.TrimSpace(comment)))
		}
	case !strings.HasPrefix(after, n.Value):
		y.folded(s, after)
		return &Node{Kind: Scalar, At: at}
	default: // title: Unit #5
		rest := after[len(n.Value):]
		if touch := touching(rest); touch != nil {
			at.Col += utf8.RuneCountInString(n.Value + rest[:touch[2]])
			y.problems = append(y.problems, Problem{
				Severity: Warning, At: at, Width: utf8.RuneCountInString(rest[touch[2]:touch[3]]),
				Summary: fmt.Sprintf("a # starts a comment, so %q is not read", clip(strings.TrimSpace(rest[touch[2]:]))),
				Hint:    "put a space after the # if it is a comment, or quotes round the whole value if it is not",
			})
		}
	}
	return s
}

var blockHeader = pattern(`^[|>][-+0-9]*`)

// folded refuses a value that YAML put together from several lines.
func (y *tree) folded(s *Node, line string) {
	line = strings.TrimRight(line, " \t")
	if missingSpace().MatchString(line) {
		y.notKeys(&Node{Kind: Scalar, At: s.At, Text: line})
		return
	}
	y.problem(s.At, utf8.RuneCountInString(line), "write it on one line; a longer text needs quotes round it, and the values of a list commas between them", "%q runs over several lines", clip(s.Text))
}

// quoted refuses a quoted value that takes in lines which are not indented under its key: a quote was forgotten there.
func (y *tree) quoted(at Pos, margin int) {
	_, rest := y.split(at)
	quote := rest[:min(1, len(rest))]
	rest = strings.TrimPrefix(rest, quote)
	for line := at.Line; ; {
		for rest != "" {
			switch {
			case quote == `"` && rest[0] == '\\', strings.HasPrefix(rest, "''") && quote == "'":
				rest = rest[min(2, len(rest)):]
			case rest[:1] == quote:
				return
			default:
				rest = rest[1:]
			}
		}
		if line++; line > len(y.lines) {
			return
		}
		rest = y.lines[line-1]
		if text := strings.TrimLeft(rest, " \t"); text != "" && len(rest)-len(text) < margin {
			y.problem(at, 1, "close the quote on its own line, or indent the lines that go on", "the quote opened here takes in line %d, which is not indented", line)
			return
		}
	}
}
