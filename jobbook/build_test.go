package jobbook_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"balustrade/jobbook"
)

// copyOf copies a job folder to a place of the test's own.
func copyOf(t testing.TB, dir string) string {
	t.Helper()
	to := filepath.Join(t.TempDir(), filepath.Base(dir))
	if err := os.CopyFS(to, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	return to
}

func edit(t testing.TB, file, old, new string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), old) {
		t.Fatalf("%s does not hold %q", file, old)
	}
	if err := os.WriteFile(file, []byte(strings.Replace(string(text), old, new, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestLastGoodBook: a file that can't be understood leaves the book as it was, byte for byte.
func TestLastGoodBook(t *testing.T) {
	dir := copyOf(t, jobs[0])
	out := dir + "-book"
	if r, err := jobbook.Build(t.Context(), dir, out); err != nil || r.Plan == nil {
		t.Fatal(err, r.Problems)
	}
	before := tree(t, out)
	edit(t, filepath.Join(dir, "job.md"), "height: 38", "height: 38,5")
	r, err := jobbook.Build(t.Context(), dir, out)
	if err != nil || r.Plan != nil || len(r.Problems) == 0 {
		t.Fatalf("err %v, problems %v", err, r.Problems)
	}
	after := tree(t, out)
	for path, data := range before {
		if after[path] != data {
			t.Errorf("%s changed", path)
		}
	}
	edit(t, filepath.Join(dir, "job.md"), "height: 38,5", "height: 38 1/2")
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

func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, e os.DirEntry, err error) error {
		if err == nil && !e.IsDir() {
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			files[path] = string(data)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
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
