package book

import (
	"strings"
	"testing"
)

// TestOwnedLines holds the one walk over a listing to the replacements that it stands for.
func TestOwnedLines(t *testing.T) {
	const own = "rec-runs.1-line-L"
	for _, listing := range []string{
		"", anyLine, "x", `<span id="line-1"><a href="#line-1">1</a></span>`,
		`id="line-12" line-12 id=&quot;line-1&quot; class="c-line" href="line-1" id="#line-1" href="#line-`, strings.Repeat(`id="line-line-`, 3),
	} {
		want := strings.ReplaceAll(strings.ReplaceAll(listing, `id="`+anyLine, `id="`+own), `href="#`+anyLine, `href="#`+own)
		var w writer
		w.owned([]byte(listing), own)
		if got := w.markup(); string(got) != want {
			t.Errorf("%q: got %q, want %q", listing, got, want)
		}
	}
}
