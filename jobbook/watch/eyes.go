package watch

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"time"

	"github.com/fsnotify/fsnotify"
)

// eyes say when something below the roots may have changed. They watch folders, not files, as editors replace files.
type eyes struct {
	roots  []string
	ignore func(path, name string) bool
	poll   time.Duration // 0: the system says
	log    func(string)
	hint   func()            // something may have changed
	doubt  func(path string) // this may have, "" if it could be anything

	watcher *fsnotify.Watcher      // nil when polling
	folders map[string]bool        // those watched
	found   map[string]fs.FileInfo // the roots that are there
	news    chan []string          // other roots
	again   time.Duration          // how often to look whether the roots are still the same folders

	start func() (*fsnotify.Watcher, error) // for tests: how the system is asked
	add   func(w *fsnotify.Watcher, path string) error
}

func newEyes(roots []string, ignore func(path, name string) bool, poll time.Duration, log func(string)) *eyes {
	return &eyes{
		roots: roots, ignore: ignore, poll: poll, log: log, again: everySecond,
		found: map[string]fs.FileInfo{}, news: make(chan []string),
		start: fsnotify.NewWatcher,
		add:   func(w *fsnotify.Watcher, path string) error { return w.Add(path) },
	}
}

// follow hands over other roots.
func (e *eyes) follow(ctx context.Context, roots []string) {
	select {
	case e.news <- roots:
	case <-ctx.Done():
	}
}

// run watches until ctx ends. open must have been called.
func (e *eyes) run(ctx context.Context) {
	defer e.close()
	pace := e.pace()
	ticker := time.NewTicker(pace)
	defer ticker.Stop()
	for {
		if now := e.pace(); now != pace {
			pace = now
			ticker.Reset(pace)
		}
		var events <-chan fsnotify.Event
		var faults <-chan error
		if e.watcher != nil {
			events, faults = e.watcher.Events, e.watcher.Errors
		}
		select {
		case <-ctx.Done():
			return
		case roots := <-e.news:
			e.roots = roots
			e.reopen()
		case <-ticker.C:
			if e.moved() {
				e.reopen()
			} else if e.watcher == nil {
				e.hint()
			}
		case event := <-events:
			e.event(event)
		case err := <-faults:
			if !errors.Is(err, fsnotify.ErrEventOverflow) {
				e.fallBack(err)
			}
			e.reopen() // events were lost: look at everything
		}
	}
}

// pace is how often to look at the disk without being told.
func (e *eyes) pace() time.Duration {
	if e.watcher == nil {
		return e.poll
	}
	return e.again
}

// reopen watches everything anew and has everything read again.
func (e *eyes) reopen() {
	e.open()
	e.doubt("")
	e.hint()
}

func (e *eyes) close() {
	if e.watcher != nil {
		_ = e.watcher.Close() // it has nothing to lose
		e.watcher = nil
	}
}

// open watches every folder from the roots down, or none if it has to poll.
func (e *eyes) open() {
	e.close()
	e.folders = map[string]bool{}
	e.findRoots()
	if e.poll > 0 {
		return
	}
	for _, root := range e.roots {
		if kind := remote(root); kind != "" {
			e.fallBack(fmt.Errorf("%s is on %s, which does not report changes", root, kind))
			return
		}
	}
	var err error
	if e.watcher, err = e.start(); err != nil {
		e.watcher = nil
		e.fallBack(err)
		return
	}
	for _, root := range e.roots {
		if e.found[root] == nil {
			continue
		}
		if err := e.watch(root); err != nil {
			e.close()
			e.fallBack(err)
			return
		}
	}
}

// watch adds a folder and those below it. Each is added before it is read, so that a folder made meanwhile is either
// read or reported. An error means that the system cannot watch that many, or at all.
func (e *eyes) watch(dir string) (failed error) {
	walk(dir, e.ignore, func(path string) {
		if failed != nil {
			return
		}
		err := e.add(e.watcher, path)
		switch {
		case err == nil:
			e.folders[path] = true
		case errors.Is(err, fs.ErrNotExist), errors.Is(err, syscall.ENOTDIR): // gone already
		case errors.Is(err, fs.ErrPermission): // the build says so
		default:
			failed = err
		}
	}, nil)
	return failed
}

// fallBack polls from now on, and says why.
func (e *eyes) fallBack(why error) {
	e.poll = everySecond
	text := why.Error()
	if errors.Is(why, syscall.ENOSPC) {
		text = "the system's limit of watched folders is reached"
	}
	e.log("cannot be told of changes (" + text + "); looking once a second instead")
}

// findRoots looks which roots are there, and says when that has changed.
func (e *eyes) findRoots() {
	before := e.found
	e.found = map[string]fs.FileInfo{}
	for _, root := range e.roots {
		info, err := os.Stat(root)
		known, was := before[root]
		if err == nil && info.IsDir() {
			e.found[root] = info
			if was && known == nil {
				e.log(root + " is there again")
			}
			continue
		}
		e.found[root] = nil
		if !was || known != nil {
			e.log(root + " is not there; looking for it")
		}
	}
}

// moved reports whether a root has come, gone or become another folder.
func (e *eyes) moved() bool {
	return slices.ContainsFunc(e.roots, func(root string) bool {
		info, err := os.Stat(root)
		known := e.found[root]
		if err != nil || !info.IsDir() {
			return known != nil
		}
		return known == nil || !os.SameFile(info, known)
	})
}

// event takes one event of the system's.
func (e *eyes) event(event fsnotify.Event) {
	if event.Op&^fsnotify.Chmod == 0 {
		return // only attributes
	}
	path := filepath.Clean(event.Name)
	gone := event.Has(fsnotify.Remove) || event.Has(fsnotify.Rename)
	isRoot := slices.ContainsFunc(e.roots, func(root string) bool { return filepath.Clean(root) == path })
	switch {
	case gone && isRoot, event.Has(fsnotify.Rename) && e.folders[path]:
		e.reopen() // the folders below a renamed one would report under their old names
		return
	case !isRoot && e.ignore(path, filepath.Base(path)):
		return
	case gone:
		delete(e.folders, path)
	case event.Has(fsnotify.Create):
		if info, err := os.Lstat(path); err == nil && info.IsDir() {
			if err := e.watch(path); err != nil {
				e.close()
				e.fallBack(err)
			}
		}
	}
	e.doubt(path)
	e.hint()
}
