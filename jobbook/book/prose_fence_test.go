package book

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/source"
)

// TestLostWords: words that a fenced block takes in by a slip are told, with the line to mend. The expected texts are written by hand.
func TestLostWords(t *testing.T) {
	const never = "  hint: write ``` on a line of its own where it ends\n"
	for _, c := range []struct{ name, text, want string }{
		{"a table left open", "Before.\n\n```table marks landing\n\nMind the pipe under the third board.\n",
			"notes/9-test.md:3:4: warning: the block opened here is never closed, and the words that follow are left out: Mind the pipe under the third board.\n  ```table marks landing\n     ^\n" + never},
		{"a block left open", "Before.\n\n```\nMind the pipe.\n",
			"notes/9-test.md:3:1: warning: the block opened here is never closed, and all that follows stands in it as it is written\n  ```\n  ^\n" + never},
		{"left open in a quote", "> ```table marks landing\n> Mind the pipe.\n\nAfter.\n",
			"notes/9-test.md:1:6: warning: the block opened here is never closed, and the words that follow are left out: Mind the pipe.\n  > ```table marks landing\n       ^\n" + never},
		{"left open, no new line at the end", "```table marks landing\nMind the pipe.",
			"notes/9-test.md:1:4: warning: the block opened here is never closed, and the words that follow are left out: Mind the pipe.\n  ```table marks landing\n     ^\n" + never},
		{"words in a table", "```table marks landing\n\n  Mind the pipe.\n```\n",
			"notes/9-test.md:3:3: warning: words inside a computed table are left out: Mind the pipe.\n    Mind the pipe.\n    ^^^^^^^^^^^^^^\n  hint: write them above or below the two lines of the table\n"},
		{"closed by the fence of a table", "```\nMind the pipe.\n\n```table marks landing\n```\n",
			"notes/9-test.md:4:1: warning: this starts no table: it stands inside the block opened on line 1\n  ```table marks landing\n  ^^^^^^^^^^^^^^^^^^^^^^\n  hint: close that block with ``` on a line of its own before the table\n"},
		{"in a note with front matter", "---\ntitle: T\n---\n\n```table marks landing\nMind the pipe.\n",
			"notes/9-test.md:5:4: warning: the block opened here is never closed, and the words that follow are left out: Mind the pipe.\n  ```table marks landing\n     ^\n" + never},
		{"nothing lost", "```table marks landing\n\n```\n\n~~~\ncode\n~~~\n\n> ```\n> code\n> ```\n\n- ````\n  ```\n  code\n  ````\n\nAs code:\n\n    ```table marks landing\n    indented\n\nAfter.\n\n```table counts landing\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, folder := samplePlan(t, map[string]string{"notes/9-test.md": c.text})
			_, problems, err := Render(p, templatesFolder())
			if err != nil {
				t.Fatal(err)
			}
			var out strings.Builder
			source.Print(&out, problems, folder.Line, func(file string) string { return file })
			if diff := cmp.Diff(c.want, out.String()); diff != "" {
				t.Errorf("want -, got +:\n%s", diff)
			}
		})
	}
}
