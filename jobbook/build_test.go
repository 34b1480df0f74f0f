package jobbook_test

import (
	"os"
	"path/filepath"
	"testing"

	"balustrade/jobbook"
)

// TestLastGoodBook: a file that can't be understood leaves the book as it was, byte for byte.
func TestLastGoodBook(t *testing.T) {
	dir := copyOf(t, jobs[0])
	out := dir + "-book"
	if r, err := jobbook.Build(t.Context(), dir, out); err != nil || r.Plan == nil {
		t.Fatal(err, r.Problems)
	}
	before := jobbook.FilesBelow(out)
	rewrite(t, dir, "job.md", "height: 38", "height: 38,5")
	r, err := jobbook.Build(t.Context(), dir, out)
	if err != nil || r.Plan != nil || len(r.Problems) == 0 {
		t.Fatalf("err %v, problems %v", err, r.Problems)
	}
	after := jobbook.FilesBelow(out)
	for path, data := range before {
		if after[path] != data {
			t.Errorf("%s changed", path)
		}
	}
	rewrite(t, dir, "job.md", "height: 38,5", "height: 38 1/2")
	if r, err := jobbook.Build(t.Context(), dir, out); err != nil || r.Plan == nil || r.Site.Written == 0 {
		t.Fatalf("err %v, %+v", err, r.Site)
	}
}

// TestUnchanged: a second build with nothing changed writes nothing.
func TestUnchanged(t *testing.T) {
	out := filepath.Join(t.TempDir(), "book")
	if _, err := jobbook.Build(t.Context(), jobs[0], out); err != nil {
		t.Fatal(err)
	}
	r, err := jobbook.Build(t.Context(), jobs[0], out)
	if err != nil || r.Site.Written != 0 || r.Site.Removed != 0 {
		t.Errorf("err %v, %+v", err, r.Site)
	}
}

// TestShopIsNoWayOut: a shop folder that is a link out of the job is not read, and the book is made without it.
func TestShopIsNoWayOut(t *testing.T) {
	dir, outside := copyOf(t, jobs[1]), t.TempDir()
	if err := os.WriteFile(filepath.Join(outside, "broken.md"), []byte("---\nkind: nonsense\n---\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(outside, filepath.Join(dir, "shop")); err != nil {
		t.Skip(err)
	}
	r, err := jobbook.Check(dir)
	if err != nil || r.Plan == nil {
		t.Fatal(err, r.Problems)
	}
	if len(r.Problems) == 0 {
		t.Error("nobody says that the link is not followed")
	}
}
