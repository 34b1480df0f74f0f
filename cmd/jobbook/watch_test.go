package main

import (
	"bufio"
	"bytes"
	"context"
	"image"
	"image/color"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// watched is a watch under way, and what it says line by line.
type watched struct {
	t     *testing.T
	lines *bufio.Scanner
	end   func() int
}

// startWatch runs the command as main does, and ends it as Ctrl-C does.
func startWatch(t *testing.T, args ...string) *watched {
	t.Helper()
	ctx, interrupt := context.WithCancel(t.Context())
	read, write := io.Pipe()
	done := make(chan int, 1)
	go func() {
		code := run(ctx, append([]string{"watch"}, args...), strings.NewReader(""), write, write)
		write.Close()
		done <- code
	}()
	w := &watched{t: t, lines: bufio.NewScanner(read)}
	w.end = func() int {
		interrupt()
		_, _ = io.Copy(io.Discard, read)
		return <-done
	}
	t.Cleanup(func() { interrupt(); read.Close() })
	return w
}

// next waits for the next line, which must match.
func (w *watched) next(pattern string) string {
	w.t.Helper()
	if !w.lines.Scan() {
		w.t.Fatalf("the watch ended; want a line like %q", pattern)
	}
	line := w.lines.Text()
	if !regexp.MustCompile(pattern).MatchString(line) {
		w.t.Fatalf("the watch says %q, want a line like %q", line, pattern)
	}
	return line
}

// jobCopy is a copy of the job in millimetres, and where its book goes.
func jobCopy(t *testing.T) (dir, out string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "job")
	if err := os.CopyFS(dir, os.DirFS("../../testdata/metric-job")); err != nil {
		t.Fatal(err)
	}
	return dir, dir + "-book"
}

func change(t *testing.T, name, old, new string) {
	t.Helper()
	raw, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Count(string(raw), old) != 1 {
		t.Fatalf("%q is not once in %s", old, name)
	}
	if err := os.WriteFile(name, []byte(strings.Replace(string(raw), old, new, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestWatch(t *testing.T) {
	for _, tt := range []struct {
		name string
		args []string
	}{
		{"told by the system", nil},
		{"looking by itself", []string{"--poll", "20ms"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir, out := jobCopy(t)
			file := filepath.Join(dir, "runs", "1-landing.md")
			w := startWatch(t, append([]string{dir}, tt.args...)...)
			w.next(`^watching .*; Ctrl-C ends$`)
			w.next(`^[1-9][0-9]* files written; .* to be measured; [0-9.]+ m?s$`)
			w.next(`^open .*index\.html$`)
			layout := filepath.Join(out, "layout.html")
			before, err := os.ReadFile(layout)
			if err != nil {
				t.Fatal(err)
			}

			change(t, file, "  floor: 2399", "  floor: 2459")
			w.next(`files? written.*; [0-9.]+ m?s$`)
			after, err := os.ReadFile(layout)
			if err != nil {
				t.Fatal(err)
			}
			if string(before) == string(after) {
				t.Error("a clear was changed and the layout was not")
			}

			change(t, file, "  floor: 2459", "  floor: 2459,5")
			w.next(`1-landing\.md:7:10: error: `)
			w.next(`^    floor: 2459,5$`)
			w.next(`\^`)
			w.next(`^  hint: `)
			w.next(`^1 error; the book stays as it was$`)
			if stays, err := os.ReadFile(layout); err != nil || string(stays) != string(after) {
				t.Errorf("the last good book did not stay (%v)", err)
			}

			change(t, file, "  floor: 2459,5", "  floor: 2459")
			w.next(`^[1-9][0-9]* files, nothing changed; `)
			if code := w.end(); code != exitDone {
				t.Errorf("interrupted, it ended with %d, want %d", code, exitDone)
			}
		})
	}
}

// TestWatchPhotographs: a photograph that a note names makes the book again when it comes and when it is replaced, one that nobody names does not.
func TestWatchPhotographs(t *testing.T) {
	dir, out := jobCopy(t)
	shot := func(name string, grey uint8) {
		t.Helper()
		m := image.NewUniform(color.Gray{grey})
		var b bytes.Buffer
		if err := png.Encode(&b, uniform{m, image.Rect(0, 0, 4, 3)}); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	copies := func() int {
		found, err := filepath.Glob(filepath.Join(out, "photographs", "*"))
		if err != nil {
			t.Fatal(err)
		}
		return len(found)
	}
	if err := os.WriteFile(filepath.Join(dir, "stair.md"), []byte("![the stair](stair.png)\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	w := startWatch(t, dir)
	w.next(`^watching `)
	w.next(`stair\.md:1:1: warning: the picture stair\.png is not there$`)
	w.next(`^  !\[the stair\]`)
	w.next(`\^\^`)
	w.next(`^  hint: `)
	w.next(`^1 warning; the book was made all the same$`)
	w.next(`files written`)
	w.next(`^open `)
	shot("other.png", 10)
	shot("stair.png", 20)
	w.next(`files? written.*; [0-9.]+ m?s$`)
	if n := copies(); n != 1 {
		t.Errorf("%d copies", n)
	}
	shot("stair.png", 200)
	w.next(`files? written.*, 1 removed.*; [0-9.]+ m?s$`)
	if n := copies(); n != 1 {
		t.Errorf("%d copies", n)
	}
	if code := w.end(); code != exitDone {
		t.Errorf("interrupted, it ended with %d, want %d", code, exitDone)
	}
}

// uniform is a picture of one colour that ends somewhere.
type uniform struct {
	image.Image
	box image.Rectangle
}

func (u uniform) Bounds() image.Rectangle { return u.box }

func TestWatchRefusesAtOnce(t *testing.T) {
	t.Run("a folder that is not ours", func(t *testing.T) {
		dir, out := jobCopy(t)
		if err := os.Mkdir(out, 0o755); err != nil {
			t.Fatal(err)
		}
		change := filepath.Join(out, "mine.txt")
		if err := os.WriteFile(change, []byte("mine"), 0o644); err != nil {
			t.Fatal(err)
		}
		w := startWatch(t, dir)
		w.next(`^watching `)
		w.next(`^jobbook: the output folder holds something that is not ours: `)
		w.next(`^  hint: `)
		if code := w.end(); code != exitUsage {
			t.Errorf("ended with %d, want %d", code, exitUsage)
		}
	})
}

func TestWatchStartsWithAProblem(t *testing.T) {
	dir, out := jobCopy(t)
	file := filepath.Join(dir, "job.md")
	change(t, file, "rules: irc-2021", "rules: irc-2012")
	w := startWatch(t, dir)
	w.next(`^watching `)
	w.next(`job\.md:13:8: error: `)
	w.next(`rules: irc-2012`)
	w.next(`\^`)
	w.next(`did you mean irc-2021`)
	w.next(`^1 error; `)
	if _, err := os.Stat(out); err == nil {
		t.Error("a book was made of a job that can't be understood")
	}
	change(t, file, "rules: irc-2012", "rules: irc-2021")
	w.next(`files written; `)
	w.next(`^open .*index\.html$`)
	if code := w.end(); code != exitDone {
		t.Errorf("ended with %d, want %d", code, exitDone)
	}
}

// TestWatchSince: what the issue that --since names had otherwise is told at every save, though it is not the last one; a name that leads nowhere ends the watch before a book is made.
func TestWatchSince(t *testing.T) {
	dir, out := jobCopy(t)
	file := filepath.Join(dir, "runs", "1-landing.md")
	issue := func(name string) {
		t.Helper()
		if code := run(t.Context(), []string{"issue", dir, name, "--day", "2026-11-20"}, strings.NewReader(""), io.Discard, io.Discard); code != exitDone {
			t.Fatalf("issue %s ended with %d", name, code)
		}
	}
	issue("first")
	change(t, file, "  floor: 2399", "  floor: 2401")
	issue("second")
	w := startWatch(t, dir, "--since", "first")
	w.next(`^watching `)
	w.next(`files written; `)
	w.next(`^not as in the issue first: 1 reading.*; see changes\.html$`)
	w.next(`^  Landing, clear: floor: 2401, was 2399$`)
	w.next(`^open `)
	change(t, file, "  floor: 2401", "  floor: 2399")
	w.next(`files? written`)
	w.next(`^as in the issue first$`)
	if page, err := os.ReadFile(filepath.Join(out, "changes.html")); err == nil && strings.Contains(string(page), "second") {
		t.Error("the book is compared with the last issue")
	}
	if code := w.end(); code != exitDone {
		t.Errorf("ended with %d, want %d", code, exitDone)
	}
	w = startWatch(t, dir, "--since", "frist")
	w.next(`^watching `)
	w.next(`^jobbook: "frist" is no issue of this job, `)
	w.next(`did you mean the issue first\?$`)
	if code := w.end(); code != exitUsage {
		t.Errorf("ended with %d, want %d", code, exitUsage)
	}
}
