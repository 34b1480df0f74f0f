package book

import (
	"strings"
	"testing"

	"balustrade/jobbook/source"
)

// TestTooMuch: what would take the Markdown library too long is said, at its place, and not handed to it; what anybody writes is not held up.
func TestTooMuch(t *testing.T) {
	frames, err := readFrames(templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	p, _ := samplePlan(t, nil)
	say := func(text string) (said []string, shown markup) {
		doc := &source.Document{File: "notes/9-test.md", Name: "test", Layer: source.Job, Text: text, Body: text}
		b := newBook(p, frames)
		note := &prose{doc: doc, page: "notes", level: underSection}
		b.proses[doc.File] = note
		b.parse(note)
		shown = b.prose(doc)
		for _, q := range b.problems {
			said = append(said, q.At.String()+": "+q.Severity.String()+": "+q.Summary)
		}
		return said, shown
	}
	const start = "Words.\n\n"
	row := strings.Repeat("| a ", 150) + "|\n"
	for name, c := range map[string]struct{ text, want string }{
		"quotes":             {strings.Repeat("> ", mostNested+1) + "a", "notes/9-test.md:3:1: warning: more than 20 quotes and lists inside each other"},
		"quotes, just":       {strings.Repeat("> ", mostNested) + "a", ""},
		"lists":              {strings.Repeat("1. ", 5000) + "a", "notes/9-test.md:3:1: warning: more than 20 quotes and lists inside each other"},
		"links":              {strings.Repeat("[a](", mostMarks+1), "notes/9-test.md:3:1: warning: more than 4000 signs like [, * and _ in one paragraph"},
		"links, just":        {strings.Repeat("[a", mostMarks), ""},
		"stars over lines":   {strings.Repeat("*a *b\n", mostMarks/2+1), "notes/9-test.md:3:1: warning: more than 4000 signs like [, * and _ in one paragraph"},
		"many paragraphs":    {strings.Repeat("*a* [b](c)\n\n", 2000), "notes/9-test.md:3:5: warning: the link leads to notes/c, which the book does not carry"},
		"a wide table":       {row + strings.ReplaceAll(row, "a", "-") + strings.Repeat("|\n", 200), "notes/9-test.md:3:1: warning: more than 20000 cells in one table"},
		"a long table":       {"| a | b |\n| - | - |\n" + strings.Repeat("| 1 | 2 |\n", 5000), ""},
		"a long list":        {strings.Repeat("- one of *many*\n", 1500), ""},
		"the book's tables":  {strings.Repeat("```table openings landing\n```\n", mostTables+1), "notes/9-test.md:103:4: error: more than 50 of the book's tables in one file"},
		"its tables, just":   {strings.Repeat("```table openings landing\n```\n", mostTables), ""},
		"words after a rule": {"a\n-\n" + strings.Repeat("b\n", 3000), ""},
	} {
		t.Run(name, func(t *testing.T) {
			said, shown := say(start + c.text)
			got := ""
			if len(said) > 0 {
				got = said[0]
			}
			if got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
			if refused := strings.Contains(c.want, "more than") && strings.Contains(c.want, "warning"); (shown == "") != refused {
				t.Errorf("%d bytes are shown", len(shown))
			}
		})
	}
}

// TestPlacesInWords: a place is found from the last one, whichever way one goes.
func TestPlacesInWords(t *testing.T) {
	text := "é\nab\n\nçd e\n"
	p := &prose{doc: &source.Document{File: "x.md", Text: text}, source: []byte(text)}
	for _, offset := range []int{0, 2, 3, 5, 7, 9, 4, 12, 100, 1, 0, 6} {
		if got, want := p.at(offset), p.doc.At(min(offset, len(text))); got != want {
			t.Errorf("%d: got %v, want %v", offset, got, want)
		}
	}
}

// TestLongFileIsListed: all of a file is there as recorded, its first lines with a number each.
func TestLongFileIsListed(t *testing.T) {
	first, rest := firstLines("a\nb\nc\nd", 2)
	if first != "a\nb\n" || rest != "c\nd" {
		t.Errorf("%q, %q", first, rest)
	}
	if first, rest := firstLines("a\nb", 2); first != "a\nb" || rest != "" {
		t.Errorf("%q, %q", first, rest)
	}
	files := rendered(t, map[string]string{"notes/9-long.md": "---\ntitle: Long\n---\n" + strings.Repeat("\n", source.MostLines) + "<The last.>\n"})
	page := files["recorded.html"]
	if strings.Count(page, "The last.") != 1 || !strings.Contains(page, "&lt;The last.&gt;") || strings.Contains(page, ":5001\"") || len(page) > 3<<20 {
		t.Errorf("the page has %d bytes", len(page))
	}
}
