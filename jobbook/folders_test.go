package jobbook_test

// What tests do with folders of jobs and of books.

import (
	"maps"
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

// folder writes a job of the test's own: each file its front matter alone.
func folder(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		putFile(t, dir, name, text)
	}
	return dir
}

// merged are the files of one job with those of another in place of them, or beside them.
func merged(a, b map[string]string) map[string]string {
	all := maps.Clone(a)
	maps.Copy(all, b)
	return all
}

// putFile writes a file that is front matter alone.
func putFile(t testing.TB, dir, name, text string) {
	t.Helper()
	put(t, filepath.Join(dir, name), []byte("---\n"+text+"\n---\n"))
}

// put writes a file and the folders above it.
func put(t testing.TB, name string, data []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// textOf reads a file.
func textOf(t testing.TB, dir, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// rewrite puts other words into a file, once, in place of those that it has.
func rewrite(t testing.TB, dir, name, from, to string) {
	t.Helper()
	text := textOf(t, dir, name)
	if !strings.Contains(text, from) {
		t.Fatalf("%s has no %q", name, from)
	}
	put(t, filepath.Join(dir, name), []byte(strings.Replace(text, from, to, 1)))
}

// change makes something else of a file.
func change(t testing.TB, dir, name string, how func(string) string) {
	t.Helper()
	text := textOf(t, dir, name)
	changed := how(text)
	if changed == text {
		t.Fatalf("%s was not changed", name)
	}
	put(t, filepath.Join(dir, name), []byte(changed))
}

// exampleOf is the front matter of the example that the questionnaire of a new job gives behind a heading, indented as it stands there.
func exampleOf(t testing.TB, heading string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "job")
	if _, err := jobbook.Start(dir); err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(textOf(t, dir, "notes/site-visit.md"), heading)
	_, rest, _ = strings.Cut(rest, "    ---\n")
	block, _, found := strings.Cut(rest, "    ---\n")
	if !found {
		t.Fatalf("the note has no example behind %q", heading)
	}
	return block
}
