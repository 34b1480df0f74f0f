// Package source turns folders of Markdown into documents: front matter as a tree in which every value knows its
// place in the file, and the body. It reads the disk and understands form only; what a key means is for package job.
package source

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Pos is a place in a file. Lines and columns count from 1, columns in runes; the zero Line means "the file as a whole".
type Pos struct {
	File string // slash path as the book shows it: runs/1-gallery.md, shop/settings.md, library/rules/irc-2021.md
	Line int
	Col  int
}

// IsZero reports whether the place is nowhere.
func (p Pos) IsZero() bool { return p.File == "" }

// String gives file:line:col, as editors and terminals understand it.
func (p Pos) String() string {
	if p.Line == 0 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// Layer is where a document comes from. Nearest wins: Job over Shop over Library.
type Layer int

// The layers, farthest first.
const (
	Library Layer = iota + 1
	Shop
	Job
)

// String gives the layer's name in words.
func (l Layer) String() string { return [...]string{"", "library", "shop", "job"}[l] }

// Limits on what is read. They bound memory and time, not anybody's job.
const (
	MostBytes = 1 << 20 // of one file, 1 MiB
	MostFiles = 10_000  // Markdown files in one folder
	MostTotal = 1 << 26 // of all files of one folder together, 64 MiB
	MostDepth = 16      // of lists and maps in front matter
	MostLines = 5_000   // of front matter
)

// Document is one Markdown file.
type Document struct {
	File  string // as in Pos.File
	Name  string // the file's stem less a leading number: gallery for runs/1-gallery.md
	Layer Layer
	Text  string // the file as recorded, without a byte-order mark
	Front *Node  // a map; nil when the file has no front matter, empty when the block is empty
	// Body is Text with the front matter, its two --- lines included, turned to spaces (newlines kept), so that offsets
	// and lines in it are the file's.
	Body string
}

// Fenced is Body with the two --- lines of the front matter put back round the blanked block: what a Markdown parser that
// takes front matter off wants to see. It is Body itself when there is no front matter; such a text must not be handed to
// a parser that looks for some.
func (d *Document) Fenced() string {
	b, found := split(d.Text)
	if !found || !b.closed {
		return d.Body
	}
	return "---" + d.Body[len("---"):b.end] + "---" + d.Body[b.end+len("---"):]
}

// At gives the place of a byte offset in Text or Body. An offset outside is taken for the nearest end.
func (d *Document) At(offset int) Pos {
	return placeOf(d.File, d.Text, offset)
}

func placeOf(file, text string, offset int) Pos {
	before := text[:min(max(offset, 0), len(text))]
	line := strings.Count(before, "\n") + 1
	return Pos{file, line, utf8.RuneCountInString(before[strings.LastIndexByte(before, '\n')+1:]) + 1}
}

// Kind is the shape of a Node.
type Kind int

// The shapes.
const (
	Scalar Kind = iota + 1
	List
	Map
)

// String names the shape for messages.
func (k Kind) String() string {
	return [...]string{"", "a single value", "a list", "keys and values"}[k]
}

// Node is a value in front matter: text as written, never YAML's own idea of a number or a date.
type Node struct {
	Kind    Kind
	At      Pos
	Text    string  // of a scalar, as written, without quotes
	Quoted  bool    // a scalar in quotes
	Block   bool    // a scalar of whole lines below a | or >; its last line break is dropped
	Items   []*Node // of a list
	Entries []Entry // of a map, in the order written; keys are unique
}

// Entry is one key of a map and its value.
type Entry struct {
	Key   string
	At    Pos // of the key
	Value *Node
}

// Blank reports a key left blank, which is how a reading still to be taken is written.
func (n *Node) Blank() bool {
	return n == nil || n.Kind == Scalar && n.Text == "" && !n.Quoted
}

// Get finds a key of a map; nil when it is absent or n is not a map.
func (n *Node) Get(key string) *Node {
	if n == nil || n.Kind != Map {
		return nil
	}
	for _, e := range n.Entries {
		if e.Key == key {
			return e.Value
		}
	}
	return nil
}
