package watch

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"balustrade/jobbook/source"
)

// ledger remembers what the Markdown files below some folders held, and some other files, so that a save that changes nothing, and an event
// about some other file, makes no build.
type ledger struct {
	ignore func(path, name string) bool
	roots  []string
	other  map[string]bool      // paths of files that are looked at besides
	files  map[string]entry     // as last believed; nil before the first look
	doubts map[string]time.Time // files that are gone or empty, since when
	news   []string             // paths that the last look that saw a change found changed

	mu         sync.Mutex
	distrusted map[string]bool // their hashes have to be taken again whatever their times say
	distrusts  bool            // all of them
}

// entry is one file. Two are the same if their sums are.
type entry struct {
	info   fs.FileInfo
	sum    [sha256.Size]byte // of size and bytes; 0 if it cannot be read
	looked time.Time         // when the sum was taken
}

func newLedger(roots []string, ignore func(path, name string) bool) *ledger {
	return &ledger{ignore: ignore, roots: roots, other: map[string]bool{}, doubts: map[string]time.Time{}, distrusted: map[string]bool{}}
}

// distrust has a file read at the next look, all if the path is empty. It may be called from any goroutine.
func (l *ledger) distrust(path string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if path == "" {
		l.distrusts = true
		return
	}
	l.distrusted[path] = true
}

// follow has other folders looked at from now on. What was below one that is no longer looked at is forgotten without
// counting as a change.
func (l *ledger) follow(roots []string) {
	l.roots = roots
	maps.DeleteFunc(l.files, func(path string, _ entry) bool {
		return !slices.ContainsFunc(roots, func(root string) bool { return isBelow(path, root) })
	})
}

// others has other files than Markdown looked at from now on, those that a build read which began at a time. One that is new here and was
// not saved since is believed as it is. Any other counts as changed at the next look, for the build may have read what was there before:
// doubt says that there is one.
func (l *ledger) others(paths []string, began time.Time) (doubt bool) {
	now := make(map[string]bool, len(paths))
	for _, path := range paths {
		path = filepath.Clean(path)
		now[path] = true
		if _, known := l.files[path]; known || l.other[path] {
			continue
		}
		switch e, ok := read(path, entry{}, false, time.Now()); {
		case ok && began.Sub(e.info.ModTime()) > steady:
			l.files[path] = e
		case ok:
			doubt = true
		}
	}
	for path := range l.other {
		if !now[path] {
			delete(l.files, path)
			delete(l.doubts, path)
		}
	}
	l.other = now
	return doubt
}

func isBelow(path, root string) bool {
	rel, err := filepath.Rel(root, path)
	return err == nil && filepath.IsLocal(rel)
}

// look reports whether the files differ from what they were when a look last did not ask to wait. A file that held
// something and is gone or empty now, or a new one that is empty, is not believed for patience from when it was first
// seen so: wait says how long that is still.
func (l *ledger) look(now time.Time) (changed bool, wait time.Duration) {
	l.mu.Lock()
	distrusted, all := l.distrusted, l.distrusts
	l.distrusted, l.distrusts = map[string]bool{}, false
	l.mu.Unlock()

	seen := map[string]entry{}
	see := func(path string) {
		if _, twice := seen[path]; twice { // a root within a root
			return
		}
		old, known := l.files[path]
		if e, ok := read(path, old, known && !all && !distrusted[path], now); ok {
			seen[path] = e
		}
	}
	for _, root := range l.roots {
		walk(root, l.ignore, nil, see)
	}
	for path := range l.other {
		see(path)
	}
	doubts := map[string]time.Time{}
	doubt := func(path string) {
		since, known := l.doubts[path]
		if !known {
			since = now
		}
		doubts[path] = since
		wait = max(wait, patience-now.Sub(since))
	}
	if l.files != nil {
		for path, e := range seen {
			if old, known := l.files[path]; e.info.Size() == 0 && (!known || old.info.Size() > 0) {
				doubt(path)
			}
		}
		for path := range l.files {
			if _, still := seen[path]; !still {
				doubt(path)
			}
		}
	}
	if wait > 0 {
		l.doubts = doubts
		for path := range distrusted { // not settled: read them again next time
			l.distrust(path)
		}
		if all {
			l.distrust("")
		}
		return false, wait
	}
	l.news = nil
	if l.files != nil {
		for path, e := range seen {
			if old, known := l.files[path]; !known || old.sum != e.sum {
				l.news = append(l.news, path)
			}
		}
		for path := range l.files {
			if _, still := seen[path]; !still {
				l.news = append(l.news, path)
			}
		}
		slices.Sort(l.news)
	}
	changed = len(l.news) > 0
	l.files, l.doubts = seen, map[string]time.Time{}
	return changed, 0
}

// steady is how much older than the look a file's time must be for an equal time to mean equal bytes: disks keep times
// in steps of up to two seconds (FAT), and two saves may fall in one step.
const steady = 2 * time.Second

// read gives the entry of a file, from an old one if that can be trusted; false if there is no such file.
func read(path string, old entry, trust bool, now time.Time) (entry, bool) {
	info, err := os.Stat(path)
	if err != nil {
		return entry{}, false
	}
	if trust && os.SameFile(info, old.info) && info.Size() == old.info.Size() && info.ModTime().Equal(old.info.ModTime()) &&
		old.looked.Sub(info.ModTime()) > steady {
		return old, true
	}
	e := entry{info: info, looked: now}
	if !info.Mode().IsRegular() { // reading a pipe would never end
		return e, true
	}
	f, err := os.Open(path)
	if err != nil {
		return e, !errors.Is(err, fs.ErrNotExist)
	}
	defer f.Close()
	h := sha256.New()
	h.Write(binary.BigEndian.AppendUint64(nil, uint64(info.Size())))
	if _, err := io.Copy(h, io.LimitReader(f, source.MostPicture+1)); err != nil { // no more than a build reads
		return e, true
	}
	h.Sum(e.sum[:0])
	// Its time is taken after its bytes: one that is saved in between is then newer than what was read of it, and is not believed. The other way round new bytes would pass for those of the old time.
	if after, err := f.Stat(); err == nil {
		e.info = after
	}
	return e, true
}

// walk visits the folders and Markdown files from a root down, in order of name, and does not go into links. A folder is
// visited before it is read. What is not there is passed over.
func walk(dir string, ignore func(path, name string) bool, folder func(path string), file func(path string)) {
	if folder != nil {
		folder(dir)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		path := filepath.Join(dir, e.Name())
		if ignore(path, e.Name()) {
			continue
		}
		if e.IsDir() {
			walk(path, ignore, folder, file)
		} else if file != nil && strings.EqualFold(filepath.Ext(e.Name()), ".md") {
			file(path)
		}
	}
}
