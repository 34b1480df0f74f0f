package jobbook_test

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	meta "github.com/yuin/goldmark-meta"
	"github.com/yuin/goldmark/extension"

	"balustrade/jobbook"
	"balustrade/jobbook/site"
	"balustrade/templates"
)

// floor is the least that any program with the same libraries does for a book: it parses every file of the job, its shop and the library with goldmark and goldmark-meta, and writes the bytes of the book's files, which it was given.
func floor(dir, out string, files []site.File) error {
	markdown := goldmark.New(goldmark.WithExtensions(meta.New(), extension.Table, extension.Linkify, extension.Strikethrough, extension.TaskList, extension.Footnote))
	parse := func(fsys fs.FS) error {
		return fs.WalkDir(fsys, ".", func(name string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !strings.HasSuffix(name, ".md") {
				return err
			}
			data, err := fs.ReadFile(fsys, name)
			if err != nil {
				return err
			}
			var page bytes.Buffer
			return markdown.Convert(data, &page)
		})
	}
	for _, fsys := range []fs.FS{os.DirFS(dir), templates.Library} {
		if err := parse(fsys); err != nil {
			return err
		}
	}
	for _, f := range files {
		name := filepath.Join(out, filepath.FromSlash(f.Path))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(name, f.Data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// BenchmarkFloor is what one book costs over the floor, in one run. Compare the lines with each other, not with those of another day.
func BenchmarkFloor(b *testing.B) {
	_, files, err := jobbook.Make(sample)
	if err != nil {
		b.Fatal(err)
	}
	for _, w := range []struct {
		name string
		book func(out string) error
	}{
		{"floor", func(out string) error { return floor(sample, out, files) }},
		{"book", func(out string) error { _, err := jobbook.Build(b.Context(), sample, out); return err }},
	} {
		b.Run(w.name, func(b *testing.B) {
			b.ReportAllocs()
			dir := b.TempDir()
			for i := 0; b.Loop(); i++ {
				if err := w.book(filepath.Join(dir, strconv.Itoa(i))); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
