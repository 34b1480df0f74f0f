package book

import (
	"maps"
	"testing"

	"balustrade/jobbook/source"
)

// TestWordsOnly: a text that was remembered stands on its page as one that was not, byte for byte, with the same ids and the same problems, and a text that holds more than words is never remembered. What is wanted is worked
// out by the way without a memory.
func TestWordsOnly(t *testing.T) {
	frames, err := readFrames(templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	p, _ := samplePlan(t, nil)
	type shown struct {
		markup   markup
		ids      map[string]bool
		problems int
	}
	show := func(text string, level int, file string, parse func(*book, *prose)) (shown, bool) {
		doc := &source.Document{File: file, Layer: source.Job, Text: text, Body: text}
		b := newBook(p, frames)
		note := &prose{doc: doc, page: "notes", level: level}
		b.proses[file] = note
		parse(b, note)
		only := note.words != nil
		return shown{b.prose(doc), note.ids, len(b.problems)}, only
	}
	plain := func(b *book, p *prose) { b.readMarkdown(p) }
	for _, c := range []struct {
		name, text string
		only       bool
	}{
		{"a paragraph", "Dry-fit *the* newel first.\n", true},
		{"headings, one empty", "# One\n\n#\n\n### Two\n\nwords\n\n## One\n", true},
		{"a list, a box and a quote", "- [ ] a\n- [x] b\n\n> 1. c & d\n", true},
		{"a table", "| a | b |\n| - | -: |\n| 1 | 2 |\n", true},
		{"a foot note", "Words[^1].\n\n[^1]: More words.\n", true},
		{"code in a line, and set in", "Use `jobbook`.\n\n    as it is\n", true},
		{"a link to a file", "See [it](1-note.md).\n", false},
		{"a link to the world", "See <https://example.org>.\n", false},
		{"an address that is found", "See https://example.org.\n", false},
		{"a link by its name", "See [it].\n\n[it]: 1-note.md\n", false},
		{"a picture", "![a post](a.jpg)\n", false},
		{"a fence", "```\nas it is\n```\n", false},
		{"a computed table", "```table bits\n```\n", false},
		{"raw HTML in a line", "a <b>c</b>\n", false},
		{"raw HTML", "<div>\nc\n</div>\n", false},
		{"a name for a link that nobody uses", "[a]: b\n", true},
		{"nothing", " \n", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, at := range []struct {
				level int
				file  string
			}{{2, "notes/a.md"}, {3, "notes/a.md"}, {3, "notes/b.md"}} {
				want, _ := show(c.text, at.level, at.file, plain)
				for range 2 {
					got, only := show(c.text, at.level, at.file, (*book).parse)
					if only != c.only {
						t.Errorf("held for nothing but words: %v, want %v", only, c.only)
					}
					if got.markup != want.markup || !maps.Equal(got.ids, want.ids) || got.problems != want.problems {
						t.Errorf("at level %d in %s:\n%v, want\n%v", at.level, at.file, got, want)
					}
				}
			}
		})
	}
}
