package site

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// TestShelf: pages stand over books that have a manifest each; a book that goes takes nothing along that is not ours.
func TestShelf(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "shelf")
	if err := Claim(dir); err != nil {
		t.Fatal(err)
	}
	if err := Claim(dir); err != nil {
		t.Errorf("a second time: %v", err)
	}
	mustWrite(t, filepath.Join(dir, "one"), book("index.html", "one", "a/b.html", "b"))
	mustWrite(t, filepath.Join(dir, "two"), book("index.html", "two"))
	mustWrite(t, dir, book("index.html", "all", "list.json", "[]"))
	if data, ok := Own(dir, "list.json"); !ok || string(data) != "[]" {
		t.Errorf("%q, %v", data, ok)
	}
	if r := mustWrite(t, dir, book("index.html", "all", "list.json", "[]")); r.Written != 0 || r.Removed != 0 {
		t.Errorf("%+v", r)
	}
	if r, err := RemoveBook(dir, "one"); err != nil || r.Removed != 2 {
		t.Errorf("%+v, %v", r, err)
	}
	if _, err := os.Lstat(filepath.Join(dir, "one")); !errors.Is(err, os.ErrNotExist) {
		t.Error("the folder of a book that is gone stays")
	}
	put(t, filepath.Join(dir, "two", "mine.txt"), "mine")
	if r, err := RemoveBook(dir, "two"); err != nil || r.Removed != 1 {
		t.Errorf("%+v, %v", r, err)
	}
	if data, err := os.ReadFile(filepath.Join(dir, "two", "mine.txt")); err != nil || string(data) != "mine" {
		t.Error("somebody's file is gone")
	}
}

// TestShelfIsCareful: what we did not write is neither claimed, nor read as ours, nor removed.
func TestShelfIsCareful(t *testing.T) {
	t.Run("a folder of somebody's", func(t *testing.T) {
		dir := t.TempDir()
		put(t, filepath.Join(dir, "mine.txt"), "mine")
		if err := Claim(dir); !errors.Is(err, ErrForeign) {
			t.Errorf("%v", err)
		}
		put(t, filepath.Join(dir, "book", "index.html"), "mine")
		if r, err := RemoveBook(dir, "book"); err != nil || r.Removed != 0 {
			t.Errorf("%+v, %v", r, err)
		}
		if IsBook(filepath.Join(dir, "book")) {
			t.Error("a folder without a manifest is taken for ours")
		}
	})
	t.Run("a book that was edited", func(t *testing.T) {
		dir := t.TempDir()
		mustWrite(t, filepath.Join(dir, "book"), book("index.html", "ours", "a.html", "a"))
		put(t, filepath.Join(dir, "book", "a.html"), "edited")
		if _, ok := Own(filepath.Join(dir, "book"), "a.html"); ok {
			t.Error("an edited file is taken for ours")
		}
		r, err := RemoveBook(dir, "book")
		if err != nil || r.Removed != 1 || len(r.Kept) != 1 {
			t.Errorf("%+v, %v", r, err)
		}
		if data, err := os.ReadFile(filepath.Join(dir, "book", "a.html")); err != nil || string(data) != "edited" {
			t.Error("an edited page is gone")
		}
	})
	t.Run("a link", func(t *testing.T) {
		dir, elsewhere := t.TempDir(), filepath.Join(t.TempDir(), "book")
		mustWrite(t, elsewhere, book("index.html", "ours"))
		if err := os.Symlink(elsewhere, filepath.Join(dir, "book")); err != nil {
			t.Skip(err)
		}
		if r, err := RemoveBook(dir, "book"); err != nil || r.Removed != 0 {
			t.Errorf("%+v, %v", r, err)
		}
		if _, err := os.Stat(filepath.Join(elsewhere, "index.html")); err != nil {
			t.Error("a link was followed")
		}
	})
}
