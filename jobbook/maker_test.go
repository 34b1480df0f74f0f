package jobbook

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"testing"
)

// TestMakerRemembers: a book that is made again works out no copy of a photograph whose bytes are the same, under whatever name.
func TestMakerRemembers(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	put := func(name, text string) {
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	shot := func(wide int) string {
		var b bytes.Buffer
		if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, wide, 30)), nil); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	put("job.md", "---\nkind: job\n---\n")
	put("a.md", "![a](a.jpg) ![b](b.jpg)\n")
	put("a.jpg", shot(40))
	put("b.jpg", shot(50))
	var m Maker
	made := func(what string, want int) {
		t.Helper()
		r, err := m.Build(t.Context(), dir, dir+"-book")
		if err != nil || r.Plan == nil || len(r.Problems) > 0 {
			t.Fatal(err, r.Problems)
		}
		if m.copies.Made() != want {
			t.Errorf("%s: %d copies were worked out, want %d", what, m.copies.Made(), want)
		}
	}
	made("first", 2)
	made("nothing changed", 2)
	put("a.md", "![a](a.jpg) ![b](c.jpg) and more words\n")
	put("c.jpg", shot(50))
	made("other words, another name", 2)
	put("a.jpg", shot(60))
	made("another photograph", 3)
	put("a.md", "No picture.\n")
	made("none", 3)
	put("a.md", "![a](a.jpg)\n")
	made("one that was forgotten", 4)
	put("b.jpg", shot(65))
	put("a.md", "![a](a.jpg) ![b](b.jpg)\n")
	m = Maker{}
	made("a maker that knows nothing, and a book that has one of two", 1)

	put("a.jpg", shot(70))
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := m.Build(ended, dir, dir+"-book"); !errors.Is(err, context.Canceled) || m.copies.Made() != 1 {
		t.Errorf("a build that is ended reads on: %v, %d copies", err, m.copies.Made())
	}
}
