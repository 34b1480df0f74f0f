package watch

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/fsnotify/fsnotify"

	"balustrade/jobbook/source"
)

// watched is a Run under way over real files. Nothing here waits for a time to pass: each wait is for an event, and a
// test that waits in vain is ended by the test program's own limit.
type watched struct {
	t      *testing.T
	built  chan struct{}
	said   chan string
	builds int
}

func run(t *testing.T, o Options) *watched {
	t.Helper()
	w := &watched{t: t, built: make(chan struct{}), said: make(chan string, 100)} // 100: more than any test says
	o.Log = func(text string) { w.said <- text }
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error)
	go func() {
		ended <- Run(ctx, o, func(ctx context.Context) {
			select {
			case w.built <- struct{}{}:
			case <-ctx.Done():
			}
		})
	}()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Errorf("Run: %v", err)
		}
	})
	w.wait()
	return w
}

func (w *watched) wait() { w.t.Helper(); <-w.built; w.builds++ }

func dirs(paths ...string) func() []string { return func() []string { return paths } }

func rename(t *testing.T, from, to string) {
	t.Helper()
	if err := os.Rename(from, to); err != nil {
		t.Fatal(err)
	}
}

func TestRunSaves(t *testing.T) {
	for name, save := range map[string]func(t *testing.T, dir string){
		"written in place": func(t *testing.T, dir string) { put(t, dir+"/job.md", "kind: other") },
		"moved away and written again": func(t *testing.T, dir string) { // as vim does
			put(t, dir+"/4913", "")
			if err := os.Remove(dir + "/4913"); err != nil {
				t.Fatal(err)
			}
			rename(t, dir+"/job.md", dir+"/job.md~")
			put(t, dir+"/job.md", "kind: other")
			if err := os.Remove(dir + "/job.md~"); err != nil {
				t.Fatal(err)
			}
		},
		"renamed onto it": func(t *testing.T, dir string) {
			put(t, dir+"/.job.tmp", "kind: other")
			rename(t, dir+"/.job.tmp", dir+"/job.md")
		},
		"a new file":            func(t *testing.T, dir string) { put(t, dir+"/runs/2.md", "kind: run") },
		"a new folder":          func(t *testing.T, dir string) { put(t, dir+"/finishes/oil.md", "kind: finish") },
		"new folders at once":   func(t *testing.T, dir string) { put(t, dir+"/a/b/c/d/e/oil.md", "kind: finish") },
		"removed":               func(t *testing.T, dir string) { os.Remove(dir + "/runs/1.md") },
		"a folder removed":      func(t *testing.T, dir string) { os.RemoveAll(dir + "/runs") },
		"a folder renamed":      func(t *testing.T, dir string) { rename(t, dir+"/runs", dir+"/flights") },
		"a folder moved in":     func(t *testing.T, dir string) { rename(t, filepath.Dir(dir)+"/spare", dir+"/spare") },
		"a folder moved out":    func(t *testing.T, dir string) { rename(t, dir+"/runs", filepath.Dir(dir)+"/runs") },
		"a file moved deeper":   func(t *testing.T, dir string) { rename(t, dir+"/job.md", dir+"/runs/job.md") },
		"a folder moved deeper": func(t *testing.T, dir string) { rename(t, dir+"/parts", dir+"/runs/parts") },
	} {
		for _, poll := range []time.Duration{0, ms(30)} { // 30: longer than the quiet time, or each save would wait for the cap
			t.Run(name+", "+map[bool]string{true: "told", false: "polling"}[poll == 0], func(t *testing.T) {
				t.Parallel()
				dir := filepath.Join(t.TempDir(), "larkspur")
				put(t, dir+"/job.md", "kind: job")
				put(t, dir+"/runs/1.md", "kind: run")
				put(t, dir+"/parts/newels/1.md", "kind: newel")
				put(t, filepath.Dir(dir)+"/spare/deep/x.md", "kind: newel")
				w := run(t, Options{Dirs: dirs(dir), Poll: poll})
				save(t, dir)
				w.wait()
				// And it goes on seeing what is saved, at the top and in every folder that there is now.
				walk(dir, func(_, name string) bool { return source.Ignored(name) }, func(folder string) {
					for i := range 2 {
						put(t, folder+"/again.md", "again, "+strconv.Itoa(i)+folder)
						w.wait()
					}
				}, nil)
			})
		}
	}
}

// TestRunBuildsNothing does what must not be built, then a save that must, and counts.
func TestRunBuildsNothing(t *testing.T) {
	dir := t.TempDir()
	put(t, dir+"/job.md", "kind: job")
	put(t, dir+"/book/x.md", "not watched")
	w := run(t, Options{Dirs: dirs(dir), Ignore: func(path string) bool { return path == filepath.Join(dir, "book") }})
	put(t, dir+"/book/x.md", "ours")
	put(t, dir+"/book/new/y.md", "ours")
	put(t, dir+"/job.md", "kind: job")
	put(t, dir+"/.job.md.swp", "x")
	put(t, dir+"/.hidden.md", "x")
	put(t, dir+"/#job.md#", "x")
	put(t, dir+"/photo.jpg", "x")
	if err := os.Chtimes(dir+"/job.md", noon, noon); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(dir+"/job.md", 0o600); err != nil {
		t.Fatal(err)
	}
	// All of these are before the save, so a build for them would come before its build or be the same one; a second
	// build could come only of them.
	put(t, dir+"/job.md", "kind: other")
	w.wait()
	put(t, dir+"/job.md", "kind: third")
	w.wait()
	check(t, "builds", 3, w.builds)
}

// TestRunBuildsForPictures: a file that the build says it read makes another build when it changes, or comes.
func TestRunBuildsForPictures(t *testing.T) {
	for _, poll := range []time.Duration{0, 20 * time.Millisecond} {
		t.Run(poll.String(), func(t *testing.T) {
			dir := t.TempDir()
			put(t, dir+"/job.md", "kind: job")
			put(t, dir+"/photos/stair.jpg", "a")
			if long := time.Now().Add(-time.Hour); os.Chtimes(dir+"/photos/stair.jpg", long, long) != nil {
				t.Fatal("no time of its own")
			}
			w := run(t, Options{Dirs: dirs(dir), Poll: poll, Files: func() []string { return []string{dir + "/photos/stair.jpg", dir + "/photos/later.jpg"} }})
			put(t, dir+"/photos/stair.jpg", "b")
			w.wait()
			put(t, dir+"/photos/later.jpg", "a")
			w.wait()
		})
	}
}

func TestRunRootGoesAndComes(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "larkspur")
	put(t, dir+"/runs/1.md", "kind: run")
	w := run(t, Options{Dirs: dirs(dir)})
	rename(t, dir, top+"/away")
	check(t, "it says", dir+" is not there; looking for it", <-w.said)
	w.wait() // the build has its own words for it
	put(t, dir+"/job.md", "kind: job")
	check(t, "it says", dir+" is there again", <-w.said)
	w.wait()
	put(t, dir+"/runs/2.md", "kind: run")
	w.wait()
}

func TestRunRootReplaced(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "larkspur")
	put(t, dir+"/job.md", "kind: job")
	put(t, top+"/other/job.md", "kind: other")
	w := run(t, Options{Dirs: dirs(dir)})
	rename(t, dir, top+"/away")
	rename(t, top+"/other", dir)
	w.wait()
	put(t, dir+"/job.md", "kind: third")
	w.wait()
}

func TestRunRootMissingAtFirst(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "later", "larkspur")
	w := run(t, Options{Dirs: dirs(dir)})
	check(t, "it says", dir+" is not there; looking for it", <-w.said)
	put(t, dir+"/job.md", "kind: job")
	check(t, "it says", dir+" is there again", <-w.said)
	w.wait()
}

func TestRunAsksForDirsAgain(t *testing.T) {
	top := t.TempDir()
	put(t, top+"/job/job.md", "kind: job")
	put(t, top+"/shop/a.md", "kind: newel")
	asked := 0
	w := run(t, Options{Dirs: func() []string {
		if asked++; asked == 1 {
			return []string{top + "/job"}
		}
		return []string{top + "/job", top + "/shop"}
	}})
	w.wait() // the shop was not watched while the first was built
	put(t, top+"/shop/a.md", "kind: baluster")
	w.wait()
	put(t, top+"/job/job.md", "kind: other")
	w.wait()
}

// looking gives eyes over a folder, opened, and what they have said and hinted.
type looking struct {
	*eyes
	said  []string
	hints int
	doubt []string
}

func look(t *testing.T, change func(e *eyes), roots ...string) *looking {
	t.Helper()
	l := &looking{}
	l.eyes = newEyes(roots, func(_, name string) bool { return strings.HasPrefix(name, ".") }, 0, func(s string) { l.said = append(l.said, s) })
	l.eyes.hint = func() { l.hints++ }
	l.eyes.doubt = func(path string) { l.doubt = append(l.doubt, path) }
	change(l.eyes)
	l.open()
	t.Cleanup(l.close)
	return l
}

func TestEyesFallBack(t *testing.T) {
	dir := t.TempDir()
	put(t, dir+"/a/b/c.md", "")
	t.Run("no watcher to be had", func(t *testing.T) {
		l := look(t, func(e *eyes) {
			e.start = func() (*fsnotify.Watcher, error) { return nil, fmt.Errorf("cannot start: %w", syscall.EMFILE) }
		}, dir)
		check(t, "said", []string{"cannot be told of changes (cannot start: too many open files); looking once a second instead"}, l.said)
		check(t, "pace", time.Second, l.pace())
	})
	limit := func(most int) func(e *eyes) {
		return func(e *eyes) {
			add := e.add
			e.add = func(w *fsnotify.Watcher, path string) error {
				if most--; most < 0 {
					return syscall.ENOSPC
				}
				return add(w, path)
			}
		}
	}
	const said = "cannot be told of changes (the system's limit of watched folders is reached); looking once a second instead"
	t.Run("too many folders", func(t *testing.T) {
		l := look(t, limit(2), dir)
		check(t, "said", []string{said}, l.said)
		check(t, "pace", time.Second, l.pace())
	})
	t.Run("too many folders later", func(t *testing.T) {
		l := look(t, limit(3), dir)
		check(t, "said", []string(nil), l.said)
		put(t, dir+"/new/d.md", "")
		l.event(fsnotify.Event{Name: dir + "/new", Op: fsnotify.Create})
		check(t, "said", []string{said}, l.said)
		check(t, "pace", time.Second, l.pace())
		check(t, "hints", 1, l.hints)
	})
	t.Run("a folder that went meanwhile is no reason", func(t *testing.T) {
		l := look(t, func(e *eyes) { e.add = func(*fsnotify.Watcher, string) error { return syscall.ENOENT } }, dir)
		check(t, "said", []string(nil), l.said)
	})
}

func TestEyesOverflow(t *testing.T) {
	dir := t.TempDir()
	ctx, stop := context.WithCancel(t.Context())
	faults := make(chan error)
	opened, hinted := make(chan struct{}, 10), make(chan struct{}, 10) // 10: more than there are
	l := look(t, func(e *eyes) {
		e.start = func() (*fsnotify.Watcher, error) {
			opened <- struct{}{}
			w, err := fsnotify.NewWatcher()
			if err == nil && len(opened) == 1 {
				w.Errors = faults
			}
			return w, err
		}
	}, dir)
	l.eyes.hint = func() { hinted <- struct{}{} }
	ended := make(chan struct{})
	go func() { l.run(ctx); close(ended) }()
	faults <- fsnotify.ErrEventOverflow
	<-hinted
	stop()
	<-ended
	check(t, "opened", 2, len(opened))
	check(t, "everything is in doubt", []string{""}, l.doubt)
	check(t, "said", []string(nil), l.said)
}

func TestEyesEvents(t *testing.T) {
	dir := t.TempDir()
	put(t, dir+"/a/b/c.md", "")
	for _, c := range []struct {
		name  string
		event fsnotify.Event
		doubt []string
	}{
		{"a write", fsnotify.Event{Name: dir + "/a/x.md", Op: fsnotify.Write}, []string{dir + "/a/x.md"}},
		{"attributes only", fsnotify.Event{Name: dir + "/a/x.md", Op: fsnotify.Chmod}, nil},
		{"a write with attributes", fsnotify.Event{Name: dir + "/a/x.md", Op: fsnotify.Write | fsnotify.Chmod}, []string{dir + "/a/x.md"}},
		{"passed over", fsnotify.Event{Name: dir + "/a/.x.md", Op: fsnotify.Write}, nil},
		{"a file gone", fsnotify.Event{Name: dir + "/a/x.md", Op: fsnotify.Remove}, []string{dir + "/a/x.md"}},
		{"a watched folder renamed", fsnotify.Event{Name: dir + "/a", Op: fsnotify.Rename}, []string{""}},
		{"the root gone", fsnotify.Event{Name: dir, Op: fsnotify.Remove}, []string{""}},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := look(t, func(*eyes) {}, dir)
			l.event(c.event)
			check(t, "doubt", c.doubt, l.doubt)
			check(t, "hints", len(c.doubt), l.hints)
		})
	}
}

// TestRunWithVim saves with the real editor, where there is one.
func TestRunWithVim(t *testing.T) {
	vim, err := exec.LookPath("vim")
	if err != nil {
		t.Skip("no vim here")
	}
	dir := t.TempDir()
	put(t, dir+"/job.md", "kind: job\n")
	w := run(t, Options{Dirs: dirs(dir)})
	// backupskip is emptied, as vim makes no backups in a temporary folder by itself.
	command := exec.Command(vim, "-u", "NONE", "-N", "-es", "-c", "set backupskip= writebackup backupcopy=no", "-c", "s/job/other/", "-c", "wq", dir+"/job.md")
	if out, err := command.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	w.wait()
}
