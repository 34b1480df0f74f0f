package book

import (
	"net/url"
	"path"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	tables "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/util"

	"balustrade/jobbook/source"
)

// walk makes a parsed text fit for its page: computed tables put in, links led to pages, pictures shown, raw HTML
// left out, headings fitted into the page's outline. What cannot be shown as meant is a problem.
func (b *book) walk(p *prose) {
	var nodes []ast.Node // collected first: the tree must not change under the walk
	_ = ast.Walk(p.root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			nodes = append(nodes, n)
		}
		return ast.WalkContinue, nil
	})
	var headings []*ast.Heading
	for _, n := range nodes {
		switch n := n.(type) {
		case *ast.RawHTML:
			first := n.Segments.At(0)
			b.rawHTML(p, first.Start, string(first.Value(p.source)))
			n.Parent().RemoveChild(n.Parent(), n)
		case *ast.HTMLBlock:
			if n.Lines().Len() > 0 {
				first := n.Lines().At(0)
				b.rawHTML(p, first.Start, strings.TrimSpace(string(first.Value(p.source))))
			}
			n.Parent().RemoveChild(n.Parent(), n)
		case *ast.FencedCodeBlock:
			b.lostWords(p, n)
			b.computedTable(p, n)
		case *ast.Image:
			b.picture(p, n)
		case *ast.Link:
			b.link(p, n)
		case *ast.AutoLink:
			b.autoLink(p, n)
		case *tables.Table:
			wrap(n)
		case *ast.Heading:
			headings = append(headings, n)
		}
	}
	outline(headings, p.level)
}

// at is the place of an offset, which goldmark may give beyond the end of the text.
func (p *prose) at(offset int) source.Pos {
	offset = min(max(offset, 0), len(p.source), len(p.doc.Text))
	if p.found.line == 0 || offset < p.found.offset {
		p.found = spot{line: 1, col: 1}
	}
	between := p.doc.Text[p.found.offset:offset]
	if i := strings.LastIndexByte(between, '\n'); i >= 0 {
		p.found.line += strings.Count(between, "\n")
		p.found.col, between = 1, between[i+1:]
	}
	p.found.col += utf8.RuneCountInString(between)
	p.found.offset = offset
	return source.Pos{File: p.doc.File, Line: p.found.line, Col: p.found.col}
}

// spot is a place in a text. What is said of a text goes from its top to its bottom, so that the next place is found from the last one.
type spot struct{ offset, line, col int }

func (b *book) rawHTML(p *prose, offset int, tag string) {
	if strings.HasPrefix(tag, "<!--") || strings.HasPrefix(tag, "</") {
		return // a comment is nobody's loss, and the opening tag was reported
	}
	b.warn(p.at(offset), len([]rune(tag)), "write it in Markdown; for a < that is no tag write \\<", "raw HTML is left out: %s", clip(tag))
}

// clip shortens what a message quotes.
func clip(text string) string {
	const most = 60 // runes that still fit a line of a terminal beside the rest
	if r := []rune(text); len(r) > most {
		return string(r[:most]) + "..."
	}
	return text
}

// outline fits headings into the page: the highest at the level given, none more than one below the one before it, and
// no empty ones.
func outline(headings []*ast.Heading, level int) {
	headings = slices.DeleteFunc(headings, func(h *ast.Heading) bool {
		empty := !h.HasChildren()
		if empty {
			h.Parent().RemoveChild(h.Parent(), h)
		}
		return empty
	})
	if len(headings) == 0 {
		return
	}
	const deepest = 6 // HTML has no deeper heading
	highest := slices.MinFunc(headings, func(a, b *ast.Heading) int { return a.Level - b.Level }).Level
	before := level - 1
	for _, h := range headings {
		h.Level = min(h.Level-highest+level, before+1, deepest)
		before = h.Level
	}
}

// wrap lets a table scroll in a frame of its own, and gives its cells classes for their alignment.
func wrap(t *tables.Table) {
	for row := t.FirstChild(); row != nil; row = row.NextSibling() {
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			if c, ok := cell.(*tables.TableCell); ok && c.Alignment == tables.AlignRight {
				c.SetAttributeString("class", []byte("num"))
			}
		}
	}
	frame := &placedBlock{before: `<div class="scroll" role="group" tabindex="0" aria-label="table, scrolls sideways">` + "\n", after: "</div>\n"}
	t.Parent().ReplaceChild(t.Parent(), t, frame)
	frame.AppendChild(frame, t)
}

// replace puts words in the place of an inline node; without keep its children are dropped as well.
func replace(n ast.Node, keep bool, words string) {
	parent := n.Parent()
	if keep {
		for c := n.FirstChild(); c != nil; {
			next := c.NextSibling()
			parent.InsertBefore(parent, n, c)
			c = next
		}
	}
	if words != "" {
		parent.InsertBefore(parent, n, ast.NewString([]byte(words)))
	}
	parent.RemoveChild(parent, n)
}

// alt is the text of a picture, as written.
func alt(n ast.Node, source []byte) string {
	var words strings.Builder
	_ = ast.Walk(n, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := c.(*ast.Text); ok && entering {
			words.Write(t.Segment.Value(source))
			if t.SoftLineBreak() || t.HardLineBreak() {
				words.WriteByte(' ')
			}
		}
		if s, ok := c.(*ast.String); ok && entering {
			words.Write(s.Value)
		}
		return ast.WalkContinue, nil
	})
	return words.String()
}

// unescaped is where a link leads or what a picture shows, with escapes and entities resolved as the renderer would resolve them.
func unescaped(raw []byte) string {
	return string(util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(raw))))
}

// schemes are where a link may lead out of the book.
var schemes = []string{"http", "https", "mailto", "tel"}

func (b *book) autoLink(p *prose, n *ast.AutoLink) {
	if n.AutoLinkType == ast.AutoLinkEmail {
		return
	}
	where := string(n.URL(p.source))
	if u, err := url.Parse(where); err != nil || !slices.Contains(schemes, u.Scheme) {
		b.warn(p.at(n.Pos()), 1, "use a link to http, https, mailto or tel, or to a file of the job", "a link that leads nowhere safe is left out: %s", clip(where))
		replace(n, false, where)
		return
	}
	n.SetAttributeString("rel", []byte("noreferrer"))
}

// link leads a link to the page of the book where its file is shown.
func (b *book) link(p *prose, n *ast.Link) {
	where := unescaped(n.Destination)
	u, err := url.Parse(where)
	switch {
	case err != nil || u.Scheme != "" && !slices.Contains(schemes, strings.ToLower(u.Scheme)):
		b.warn(p.at(n.Pos()), 1, "use a link to http, https, mailto or tel, or to a file of the job", "a link that leads nowhere safe is left out: %s", clip(where))
		replace(n, true, "")
		return
	case u.Scheme != "":
		n.SetAttributeString("rel", []byte("noreferrer"))
		return
	case u.Host != "":
		b.warn(p.at(n.Pos()), 1, "write the link in full: https://...", "a link without its scheme is left out: %s", clip(where))
		replace(n, true, "")
		return
	case u.Path == "" && u.Fragment == "":
		replace(n, true, "")
		return
	}
	file := p.doc.File
	if u.Path != "" {
		file = path.Join(path.Dir(p.doc.File), u.Path)
		if strings.HasPrefix(u.Path, "/") {
			file = strings.TrimPrefix(path.Clean(u.Path), "/")
		}
	}
	to, ok := b.home(file)
	if !ok {
		if strings.EqualFold(path.Ext(file), ".md") {
			hint := "link to a file of the job"
			if near := source.Suggest(file, b.files()); near != "" {
				hint = "did you mean " + near + "?"
			}
			b.warn(p.at(n.Pos()), 1, hint, "the link leads to %s, which the book does not show", clip(file))
			replace(n, true, "")
			return
		}
		b.warn(p.at(n.Pos()), 1, "write in words where it is", "the link leads to %s, which the book does not carry", clip(file))
		if b.edition == Client {
			replace(n, true, "")
			return
		}
		replace(n, true, " ("+file+", in the job's folder)")
		return
	}
	if u.Fragment != "" {
		other := b.proses[file]
		if other != nil && other.ids[other.headingPrefix()+slug(u.Fragment)] {
			n.Destination = []byte(other.page + ".html#" + other.headingPrefix() + slug(u.Fragment))
			return
		}
		b.warn(p.at(n.Pos()), 1, "link to a heading as it is written there", "%s has no heading %q", clip(file), clip(u.Fragment))
	}
	n.Destination = []byte(to)
}

// computedTable puts a table of the plan in the place of a fenced block that asks for one: ```table marks gallery
func (b *book) computedTable(p *prose, n *ast.FencedCodeBlock) {
	if n.Info == nil {
		return
	}
	info := string(n.Info.Segment.Value(p.source))
	fields := strings.Fields(info)
	if len(fields) == 0 || fields[0] != "table" {
		return
	}
	var name string
	if len(fields) > 1 {
		name = fields[1]
	}
	if p.tables++; p.tables > mostTables {
		if p.tables == mostTables+1 {
			b.report(source.Error, p.at(n.Info.Segment.Start), len([]rune(info)), "take some out; each is in the book anyway", "more than %d of the book's tables in one file", mostTables)
		}
		return
	}
	if b.untoldTable(p.doc, name) {
		b.warn(p.at(n.Info.Segment.Start), len([]rune(info)), "for the client are: "+strings.Join(clientTables, ", "), "the client's edition leaves the table %s out", clip(name))
		if b.edition == Client {
			n.Parent().RemoveChild(n.Parent(), n)
			return
		}
	}
	m, hint, problem := b.named(name, strings.Join(fields[min(2, len(fields)):], " "), p.run)
	if problem != "" {
		b.report(source.Error, p.at(n.Info.Segment.Start), len([]rune(info)), hint, "%s", problem)
		return
	}
	n.Parent().ReplaceChild(n.Parent(), n, &placedBlock{before: m})
}
