package book

import (
	"bufio"
	"fmt"
	"strings"
	"sync"

	"github.com/yuin/goldmark"
	meta "github.com/yuin/goldmark-meta"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	tables "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"balustrade/jobbook/source"
)

// prose is what a person wrote in one file below the front matter, and where the book shows it. It is parsed first, so that
// links between files can be checked, and turned into markup when its page is made.
type prose struct {
	doc      *source.Document
	page, id string // where it is shown; id is empty for the page as a whole
	run      string // the run whose tables it may place without naming it
	level    int    // of its highest heading on the page
	source   []byte
	root     ast.Node        // nil where there is nothing to show, or nothing but words
	words    *words          // of a text that holds nothing else
	ids      map[string]bool // of its headings
	alias    string          // in the place of its file in ids; empty where the file may be seen
	shown    bool            // a text stands in the book once
	tables   int             // of the book's own that stand in it so far
	found    spot            // the place that was found last
}

// mostProse bounds the text that is parsed as Markdown, in bytes: a few hostile inputs take time with the square of their length.
const mostProse = 256 << 10

// plainMarkdown reads a text without front matter; metaMarkdown also takes blanked front matter off, so that every offset is the file's.
var (
	plainMarkdown = sync.OnceValue(func() goldmark.Markdown { return newMarkdown() })
	metaMarkdown  = sync.OnceValue(func() goldmark.Markdown { return newMarkdown(meta.New()) })
)

// pens are lent to libraries that write.
var pens = sync.Pool{New: func() any { return bufio.NewWriter(nil) }}

func newMarkdown(more ...goldmark.Extender) goldmark.Markdown {
	return goldmark.New(
		goldmark.WithExtensions(append(more,
			extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignNone)),
			extension.Linkify, extension.Strikethrough, extension.TaskList,
			extension.NewFootnote(
				extension.WithFootnoteIDPrefixFunction(footnotePrefix),
				extension.WithFootnoteBacklinkHTML("back"),
			),
		)...),
		goldmark.WithParserOptions(parser.WithAutoHeadingID()),
		goldmark.WithRendererOptions(renderer.WithNodeRenderers(util.Prioritized(placed{}, 100))), // before those of goldmark, which stand at 500 and 1000
	)
}

func footnotePrefix(n ast.Node) []byte {
	prefix, _ := n.OwnerDocument().Meta()["footnotes"].(string)
	return []byte(prefix)
}

// readProse parses every text that the book shows.
func (b *book) readProse() {
	for _, p := range b.homes() {
		if p.doc == nil || b.proses[p.doc.File] != nil {
			continue
		}
		b.proses[p.doc.File] = p
		b.parse(p)
	}
}

func (b *book) parse(p *prose) {
	defer b.recovered(p.doc)
	switch {
	case strings.TrimSpace(p.doc.Body) == "":
	case len(p.doc.Text) > mostProse:
		b.warn(source.Pos{File: p.doc.File}, 1, "split the file; it is shown as recorded only", "the file has %d bytes, its words are shown up to %d", len(p.doc.Text), mostProse)
	case len(p.doc.Text) > mostRemembered:
		b.readMarkdown(p)
	default:
		b.readOrRemember(p)
	}
}

// readMarkdown parses a text.
func (b *book) readMarkdown(p *prose) {
	if offset, what, most := tooMuch(p.doc.Body); what != "" {
		b.warn(p.doc.At(offset), 1, "divide it; the file is shown as recorded only", "more than %d %s", most, what)
		return
	}
	markdown, whole := plainMarkdown(), p.doc.Body
	if fenced := p.doc.Fenced(); fenced != p.doc.Body {
		markdown, whole = metaMarkdown(), fenced
	}
	p.source = []byte(whole)
	p.ids = map[string]bool{}
	names := &headingIDs{prefix: p.headingPrefix(), used: p.ids, next: map[string]int{}}
	root := markdown.Parser().Parse(text.NewReader(p.source), parser.WithContext(parser.NewContext(parser.WithIDs(names))))
	if root.HasChildren() {
		root.OwnerDocument().AddMeta("footnotes", "f-"+p.key()+"-")
		p.root = root
	}
}

// prose gives the words of a file as markup, with its highest heading at the level that its home says.
func (b *book) prose(doc *source.Document) (m markup) {
	if doc == nil {
		return ""
	}
	p := b.proses[doc.File]
	if p == nil || p.root == nil && p.words == nil || p.shown || !b.tells(doc) {
		return ""
	}
	p.shown = true
	if p.words != nil {
		return p.words.markup
	}
	defer b.recovered(doc)
	b.walk(p)
	m, err := p.set()
	if err != nil {
		b.warn(source.Pos{File: doc.File}, 1, "see the file as recorded", "the words of this file cannot be shown: %v", err)
		return ""
	}
	return m
}

// set turns a text that was walked into markup.
func (p *prose) set() (markup, error) {
	var w writer
	w.put("<div class=\"prose\">\n")
	pen := pens.Get().(*bufio.Writer)
	pen.Reset(w.buffer())
	err := plainMarkdown().Renderer().Render(pen, p.source, p.root)
	pens.Put(pen)
	w.put("</div>\n")
	return w.markup(), err
}

// recovered turns a panic inside the Markdown library into a problem of the file that set it off.
func (b *book) recovered(doc *source.Document) {
	if r := recover(); r != nil {
		if p := b.proses[doc.File]; p != nil {
			p.root, p.words = nil, nil
		}
		b.warn(source.Pos{File: doc.File}, 1, "see the file as recorded; write the words more simply", "the words of this file cannot be shown: %s", fmt.Sprint(r))
	}
}

func (b *book) warn(at source.Pos, width int, hint, format string, args ...any) {
	if b.edition != Whole { // the whole book is made first, and has said it
		return
	}
	b.report(source.Warning, at, width, hint, format, args...)
}

func (b *book) report(severity source.Severity, at source.Pos, width int, hint, format string, args ...any) {
	b.problems = append(b.problems, source.Problem{Severity: severity, At: at, Width: max(width, 1), Summary: fmt.Sprintf(format, args...), Hint: hint})
}

// headingPrefix keeps the ids of a text's headings apart from all others in the book.
func (p *prose) headingPrefix() string { return "h-" + p.key() + ":" }

// key tells the ids of a text apart from all others: by its file, but where no path is to be seen.
func (p *prose) key() string {
	if p.alias != "" {
		return p.alias
	}
	return anchor(p.doc.File)
}

// headingIDs makes ids of headings: a slug behind the text's prefix, numbered where two are alike.
type headingIDs struct {
	prefix string
	used   map[string]bool
	next   map[string]int // the last number given to a base, so that a thousand alike do not count from one each
}

// Generate is called by the parser for each heading.
func (h *headingIDs) Generate(value []byte, _ ast.NodeKind) []byte {
	base := h.prefix + slug(string(value))
	id := base
	for h.used[id] {
		h.next[base]++
		id = fmt.Sprintf("%s-%d", base, h.next[base])
	}
	h.used[id] = true
	return []byte(id)
}

// Put is called by the parser for ids that a person wrote; none can be written here.
func (h *headingIDs) Put(value []byte) { h.used[string(value)] = true }

// slug is the usual id of a heading in Markdown: small letters, blanks to hyphens, other signs dropped.
func slug(title string) string {
	kept := strings.Map(func(r rune) rune {
		switch {
		case r == ' ' || r == '-' || r == '_':
			return '-'
		case r >= 'A' && r <= 'Z', r >= 'a' && r <= 'z', r >= '0' && r <= '9', r > 0x7f: // beyond ASCII: anchor makes it so
			return r
		}
		return -1
	}, strings.ToLower(strings.TrimSpace(title)))
	if kept == "" {
		return "heading"
	}
	return anchor(kept)
}

// placedBlock is markup that the book puts into somebody's prose: a computed table, or a frame for a table of their own.
type placedBlock struct {
	ast.BaseBlock
	before, after markup
}

var kindPlaced = ast.NewNodeKind("Placed")

// Kind names the node for the renderer.
func (*placedBlock) Kind() ast.NodeKind { return kindPlaced }

// Dump is for developers.
func (n *placedBlock) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

// placed writes the nodes that goldmark does not know, or writes in a way that a reader without eyes cannot use.
type placed struct{}

// RegisterFuncs is called by the renderer.
func (placed) RegisterFuncs(to renderer.NodeRendererFuncRegisterer) {
	to.Register(kindPlaced, func(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		block := n.(*placedBlock)
		out := block.after
		if entering {
			out = block.before
		}
		_, err := w.WriteString(string(out))
		return ast.WalkContinue, err
	})
	to.Register(tables.KindTaskCheckBox, func(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		box := `<span class="task">open:</span> `
		if n.(*tables.TaskCheckBox).IsChecked {
			box = `<span class="task">done:</span> `
		}
		_, err := w.WriteString(box)
		return ast.WalkContinue, err
	})
}
