package book

import (
	"strings"
	"testing"

	"github.com/alecthomas/chroma/v2"
	"github.com/alecthomas/chroma/v2/formatters/html"
)

// plainPre is the frame of a listing without the tab stop that chroma gives it.
type plainPre struct{}

func (plainPre) Start(bool, string) string { return `<pre class="c-chroma"><code>` }
func (plainPre) End(bool) string           { return "</code></pre>\n" }

// FuzzRecorded holds a listing against the one that chroma's own formatter makes of the same tokens.
func FuzzRecorded(f *testing.F) {
	for _, text := range []string{"", "a", "a\n", "\n\n", "---\nclear: 8' 9-1/2\" # as read\nlist:\n  - {at: 0, round: 1}\n---\n\n# Head & <b>\n\nwords\nno end", strings.Repeat("line\n", 120), "---\n#\n: a\n---", "\xff\n\r\na\rb"} {
		f.Add(text)
	}
	style := chroma.MustNewStyle("record", chroma.StyleEntries{})
	formatter := html.New(html.WithClasses(true), html.ClassPrefix("c-"), html.WithLineNumbers(true), html.WithLinkableLineNumbers(true, "rec-x-L"), html.WithPreWrapper(plainPre{}))
	f.Fuzz(func(t *testing.T, text string) {
		var want strings.Builder
		if err := formatter.Format(&want, style, chroma.Literator(recordTokens(text)...)); err != nil {
			t.Fatal(err)
		}
		var w writer
		w.recorded("rec-x-L", recordTokens(text))
		if got := string(w.markup()); got != want.String() {
			t.Errorf("got %s\nwant %s", got, want.String())
		}
	})
}
