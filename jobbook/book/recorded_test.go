package book

import (
	"bytes"
	"strings"
	"testing"

	"balustrade/jobbook/source"
)

// TestOwnLines holds the ids of a listing's lines against what the library's replacer makes of it.
func TestOwnLines(t *testing.T) {
	const own = "l-runs.1-gallery.md-"
	replacer := strings.NewReplacer(`id="`+anyLine, `id="`+own, `href="#`+anyLine, `href="#`+own)
	for _, listing := range []string{
		"", "line-", "line-1", `id="line-1"`, `href="#line-1"`, `href="line-1"`, `id="line-line-1`, `id="line-id="line-2"`, `id="line-href="#line-2"`, `line-id="line-`, `xid="line-3" href="#line-3">line-3</a>`,
		strings.Repeat(`<span class="c-ln" id="line-12"><a class="c-lnlinks" href="#line-12">12</a></span> in line-12 of &#34;line-12`, 20),
	} {
		var got bytes.Buffer
		ownLines(&got, []byte(listing), own)
		if want := replacer.Replace(listing); got.String() != want {
			t.Errorf("%q becomes %q, want %q", listing, &got, want)
		}
	}
	doc := &source.Document{File: "runs/1-gallery.md", Text: "---\nkind: run\n---\n\nMeasured id=\"line-1\" and href=\"#line-2\".\n"}
	m := string(lineByLine(doc.File, doc.Text))
	if strings.Count(m, `id="`+lineAnchor(doc.File)) != 5 || strings.Contains(m, `id="`+anyLine) {
		t.Errorf("a file of five lines is\n%s", m)
	}
}
