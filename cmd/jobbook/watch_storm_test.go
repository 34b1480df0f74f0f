package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// pages are the files of a book by name, without what the program keeps for itself.
func pages(t *testing.T, out string) map[string]string {
	t.Helper()
	list := map[string]string{}
	err := filepath.WalkDir(out, func(name string, e os.DirEntry, err error) error {
		if err != nil || e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			return err
		}
		data, err := os.ReadFile(name)
		rel, _ := filepath.Rel(out, name)
		list[rel] = string(data)
		return err
	})
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	return list
}

// builtOnce is the book of a folder as build makes it.
func builtOnce(t *testing.T, dir string) map[string]string {
	t.Helper()
	out := filepath.Join(t.TempDir(), "book")
	var said strings.Builder
	if code := run(t.Context(), []string{"build", dir, "--out", out}, strings.NewReader(""), &said, &said); code != exitDone {
		t.Fatalf("build ended with %d: %s", code, said.String())
	}
	return pages(t, out)
}

// settles reads what the watch says until its book is the wanted one, and counts the builds on the way. A watch that never gets there is ended by the test program's own limit.
func (w *watched) settles(out string, want map[string]string) (builds int) {
	w.t.Helper()
	for w.lines.Scan() {
		if !strings.Contains(w.lines.Text(), "; ") {
			continue
		}
		builds++
		got := pages(w.t, out)
		same := len(got) == len(want)
		for name, text := range want {
			same = same && got[name] == text
		}
		if same {
			return builds
		}
	}
	w.t.Fatal("the watch ended")
	return 0
}

// TestWatchStorm saves one file two thousand times without a pause: few books are made of it, and the last one is that of the last save.
func TestWatchStorm(t *testing.T) {
	const saves = 2000
	dir, out := jobCopy(t)
	file := filepath.Join(dir, "runs", "1-landing.md")
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	save := func(floor int) {
		text := strings.Replace(string(raw), "  floor: 2399", fmt.Sprintf("  floor: %d", floor), 1)
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Error(err)
		}
	}
	save(2441)
	want := builtOnce(t, dir)
	save(2399)
	w := startWatch(t, dir)
	w.next(`^watching `)
	w.next(`files written`)
	go func() {
		for i := range saves {
			save(2395 + i%9)
		}
		save(2441)
	}()
	if builds := w.settles(out, want); builds > saves/20 {
		t.Errorf("%d books of %d saves", builds, saves)
	}
	if code := w.end(); code != exitDone {
		t.Errorf("interrupted, it ended with %d", code)
	}
}

// TestWatchBranches switches between two branches again and again, one of which has a reading and the name of a folder otherwise, and then to a third: the last book is that of the branch that was switched to last, whole.
func TestWatchBranches(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("git is not there")
	}
	dir, out := jobCopy(t)
	git := func(args ...string) {
		cmd := exec.Command("git", append([]string{"-C", dir, "-c", "user.name=A. Carpenter", "-c", "user.email=a@example.invalid"}, args...)...)
		if said, err := cmd.CombinedOutput(); err != nil {
			t.Errorf("git %s: %v\n%s", args[0], err, said)
		}
	}
	git("init", "-q", "-b", "one")
	git("add", ".")
	git("commit", "-q", "-m", "as measured")
	git("switch", "-q", "-c", "two")
	change(t, filepath.Join(dir, "runs", "1-landing.md"), "  floor: 2399", "  floor: 2411")
	git("mv", "deliveries", "came")
	git("commit", "-q", "-a", "-m", "measured again")
	git("switch", "-q", "-c", "three")
	change(t, filepath.Join(dir, "runs", "1-landing.md"), "  floor: 2411", "  floor: 2423")
	git("commit", "-q", "-a", "-m", "and again")
	want := builtOnce(t, dir)
	git("switch", "-q", "one")

	w := startWatch(t, dir)
	w.next(`^watching `)
	w.next(`files written`)
	done := make(chan struct{})
	go func() {
		defer close(done)
		for i := range 21 {
			git("switch", "-q", []string{"two", "one"}[i%2])
		}
		git("switch", "-q", "three") // the one branch whose book is wanted: the watch cannot be there before
	}()
	w.settles(out, want)
	<-done // git puts its own things away after the files
	if code := w.end(); code != exitDone {
		t.Errorf("interrupted, it ended with %d", code)
	}
}
