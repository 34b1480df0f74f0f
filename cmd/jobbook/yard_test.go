package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWatchYard: a save makes the jobs again that it may touch, and says nothing of the others.
func TestWatchYard(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "yard")
	const run = "---\nkind: run\nfrom: wall\nto: wall\nclear: {floor: 40, rail: 40}\n---\n"
	for name, text := range map[string]string{
		"one/job.md": "---\nkind: job\ntitle: One\nhandrail: long-rail\n---\n", "one/runs/1-hall.md": run,
		"two/job.md": "---\nkind: job\ntitle: Two\n---\n", "two/runs/1-hall.md": run,
		"shop/long-rail.md": "---\nkind: handrail\ntitle: Long\nwide: 2 1/2\n---\n",
	} {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	w := startWatch(t, dir)
	w.next(`^watching the jobs in .*; Ctrl-C ends$`)
	w.next(`^one: [1-9][0-9]* files written; `)
	w.next(`^two: [1-9][0-9]* files written; `)
	w.next(`^2 jobs, 2 to be measured; [1-9][0-9]* files written; [0-9.]+ m?s$`)
	w.next(`^open .*yard-book.index\.html$`)

	change(t, filepath.Join(dir, "two", "runs", "1-hall.md"), "floor: 40", "floor: 41")
	w.next(`^two: .* written, .*; `)
	w.next(`^2 jobs, .*, nothing changed; `)

	change(t, filepath.Join(dir, "shop", "long-rail.md"), "wide: 2 1/2", "wide: 2 3/4")
	w.next(`^one: .* written, .*; `)
	w.next(`^2 jobs, .*; `)

	change(t, filepath.Join(dir, "two", "job.md"), "title: Two", "rules: nonsuch")
	w.next(`two.job\.md:3:8: error: no rule set is named "nonsuch"$`)
	w.next(`^  rules: nonsuch$`)
	w.next(`\^`)
	w.next(`^  hint: `)
	w.next(`^1 error; .*two: its book stays as it was$`)
	w.next(`^2 jobs, 1 cannot be read, 1 to be measured; [1-9][0-9]* files written.*; `)
	page, err := os.ReadFile(filepath.Join(dir+"-book", "index.html"))
	if err != nil || !strings.Contains(string(page), "nonsuch") {
		t.Errorf("the index does not say what is wrong (%v)", err)
	}

	change(t, filepath.Join(dir, "two", "job.md"), "rules: nonsuch", "title: Two again")
	w.next(`^two: .* written, .*; `)
	w.next(`^2 jobs, 2 to be measured; `)

	if err := os.RemoveAll(filepath.Join(dir, "one")); err != nil {
		t.Fatal(err)
	}
	w.next(`yard-book.one: its job is gone, [1-9][0-9]* files removed$`)
	w.next(`^1 job, 1 to be measured; `)
	if code := w.end(); code != exitDone {
		t.Errorf("interrupted, it ended with %d, want %d", code, exitDone)
	}
}
