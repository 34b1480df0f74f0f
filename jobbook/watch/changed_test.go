package watch

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// TestLedgerNames: a look that sees a change names the files that were saved, came and went, and no other.
func TestLedgerNames(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a/job.md", "a/same.md", "b/job.md", "b/gone.md"} {
		put(t, filepath.Join(dir, name), "kind: job")
	}
	l := plainLedger(dir)
	looks(t, l, 0, false, 0)
	if len(l.news) != 0 {
		t.Errorf("the first look names %v", l.news)
	}
	put(t, filepath.Join(dir, "a/job.md"), "kind: other")
	put(t, filepath.Join(dir, "c/new.md"), "kind: job")
	if err := os.Remove(filepath.Join(dir, "b/gone.md")); err != nil {
		t.Fatal(err)
	}
	l.distrust(filepath.Join(dir, "a/job.md"))
	looks(t, l, time.Second, false, patience) // a file that is gone may come again
	looks(t, l, time.Second+patience, true, 0)
	want := []string{filepath.Join(dir, "a/job.md"), filepath.Join(dir, "b/gone.md"), filepath.Join(dir, "c/new.md")}
	if !slices.Equal(l.news, want) {
		t.Errorf("%v, want %v", l.news, want)
	}
	looks(t, l, 2*time.Second, false, 0)
	if len(l.news) != 0 {
		t.Errorf("nothing changed, and it names %v", l.news)
	}
}

// TestRunSaysWhatChanged: every build but the first is told before what was saved.
func TestRunSaysWhatChanged(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "a.md")
	put(t, file, "one")
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	told, builds := []string(nil), 0
	err := Run(ctx, Options{
		Dirs:    func() []string { return []string{dir} },
		Poll:    5 * time.Millisecond,
		Changed: func(paths []string) { told = append(told, paths...) },
	}, func(context.Context) {
		if builds++; builds == 1 {
			put(t, file, "another")
			return
		}
		stop()
	})
	if err != nil || builds != 2 || !slices.Equal(told, []string{file}) {
		t.Errorf("%v, %d builds, told %v", err, builds, told)
	}
}
