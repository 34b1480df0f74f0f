package site

import (
	"os"
	"path/filepath"
	"testing"
)

// TestIgnored: a book keeps itself out of version control, and whoever wants it there empties the file or has one of their own.
func TestIgnored(t *testing.T) {
	read := func(dir string) string {
		data, err := os.ReadFile(filepath.Join(dir, ".gitignore"))
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	files := book("index.html", "I")
	t.Run("written, and again where somebody deleted it", func(t *testing.T) {
		dir := t.TempDir()
		check(t, "result", Result{Written: 1, Dir: dir}, mustWrite(t, dir, files))
		check(t, "file", "*\n", read(dir))
		if err := os.Remove(filepath.Join(dir, ".gitignore")); err != nil {
			t.Fatal(err)
		}
		check(t, "result", Result{Unchanged: 1, Dir: dir}, mustWrite(t, dir, files))
		check(t, "file", "*\n", read(dir))
	})
	t.Run("emptied, it stays empty", func(t *testing.T) {
		dir := t.TempDir()
		mustWrite(t, dir, files)
		put(t, filepath.Join(dir, ".gitignore"), "")
		for range 2 {
			check(t, "result", Result{Unchanged: 1, Dir: dir}, mustWrite(t, dir, files))
			check(t, "file", "", read(dir))
		}
	})
	t.Run("a folder in its place stays", func(t *testing.T) {
		dir := t.TempDir()
		mustWrite(t, dir, files)
		if err := os.Remove(filepath.Join(dir, ".gitignore")); err != nil {
			t.Fatal(err)
		}
		put(t, filepath.Join(dir, ".gitignore", "theirs"), "x")
		check(t, "result", Result{Unchanged: 1, Dir: dir}, mustWrite(t, dir, files))
	})
	t.Run("a book of before gets it", func(t *testing.T) {
		dir := t.TempDir()
		put(t, filepath.Join(dir, "index.html"), "I")
		put(t, filepath.Join(dir, manifestName), string(manifest{"index.html": {hash([]byte("I"))}}.bytes()))
		check(t, "result", Result{Unchanged: 1, Dir: dir}, mustWrite(t, dir, files))
		check(t, "file", "*\n", read(dir))
	})
}
