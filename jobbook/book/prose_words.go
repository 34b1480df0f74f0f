package book

import (
	"github.com/yuin/goldmark/ast"

	"balustrade/jobbook/memo"
)

// words are a text that holds nothing but words: whatever the book, they stand on its page in the same way, and nothing is wrong with them.
type words struct {
	markup markup
	ids    map[string]bool // of its headings
}

// wordsOf are those of texts that are shown again: nearly all of the library's, and of a job's those that did not change since it was saved before. It is nil for a text that holds more.
var wordsOf = memo.New[*words](512)

const mostRemembered = 1 << 13 // bytes of a text; its markup takes about as many

// readOrRemember parses a text that was not parsed before, and one that holds more than words.
func (b *book) readOrRemember(p *prose) {
	key := p.key()
	k := memo.KeyOf(5 + len(p.doc.Text)/8 + len(key)/8)
	k.Text(p.doc.Text) // which its body follows from
	k.Text(key)        // of its headings' ids
	k.Int(int64(p.level))
	read := false
	p.words = wordsOf.Get(k, func() *words {
		b.readMarkdown(p)
		read = true
		return b.wordsOnly(p)
	})
	switch {
	case p.words != nil:
		p.root, p.ids = nil, p.words.ids
	case !read:
		b.readMarkdown(p)
	}
}

// wordsOnly sets a text that holds nothing that walk looks up in the book, or may find wrong; nil where it does.
func (b *book) wordsOnly(p *prose) *words {
	if p.root == nil {
		return nil
	}
	more := false
	_ = ast.Walk(p.root, func(n ast.Node, _ bool) (ast.WalkStatus, error) {
		switch n.(type) {
		case *ast.RawHTML, *ast.HTMLBlock, *ast.FencedCodeBlock, *ast.Image, *ast.Link, *ast.AutoLink:
			more = true
			return ast.WalkStop, nil
		}
		return ast.WalkContinue, nil
	})
	if more {
		return nil
	}
	b.walk(p)
	m, err := p.set()
	if err != nil {
		return nil
	}
	return &words{m, p.ids}
}
