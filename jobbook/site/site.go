// Package site puts a book on disk: whole files only, what did not change left alone, and a manifest of what is ours, so
// that nothing else is ever overwritten or deleted.
//
// Every file is written beside its place and renamed onto it, so that a reader sees the old page or the new one; all of
// them are written before the first is renamed, so that a disk without room leaves the old book (less a file of ours where
// a new folder goes, or the other way round). Nothing is forced to the
// platter (no fsync): a book can be made again. The manifest says before the first change everything that may be ours
// during it, and at the end what is; a run that is cut off anywhere leaves only whole files, old or new, and the next run
// carries on from there.
package site

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path"
	"runtime"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"
)

// File is one file of a book.
type File struct {
	Path   string   // relative, parts separated by slashes, such as runs/gallery.html; no part starts with a dot
	Pieces []string // of its bytes, in order
}

// Result says what Write did.
type Result struct {
	Written   int // files that are new or whose bytes changed
	Unchanged int // files left alone, as they hold the right bytes
	Removed   int // files of an earlier book that this one does not have
	// Kept are paths of an earlier book that this one does not have and that somebody has edited since: left as they
	// are, and from now on not ours. Sorted.
	Kept []string
	Dir  string // the folder, as given
}

// Write makes the folder hold the files: assets first, then pages, index.html last, then deletes what earlier runs wrote
// and this one did not. The folder is made if need be. Only regular files listed in the manifest whose bytes are still
// those recorded are overwritten or deleted; folders that held them go when they are empty.
//
// Nothing is touched, and the error says why, if the folder has something in it but no manifest, or if in the place of
// a file there is one that we did not write, or that was edited since (ForeignError); if another run is at work in the
// same folder (BusyError); or if a path cannot be used (NameError). Any other error is the disk's.
//
// A file that keeps the folder out of version control is written with them, unless there is one of somebody else's.
//
// Symbolic links below the folder are never followed; one in the place of a file or folder is a ForeignError.
func Write(dir string, files []File) (Result, error) {
	return write(dir, files, nil)
}

// WriteAs is Write for one edition of a book, by its name in small letters. A folder that holds another edition, or the whole book, is a ForeignError: what is on a client's site is never replaced by what is
// not for the client.
func WriteAs(dir, edition string, files []File) (Result, error) {
	return writeAs(dir, edition, files, nil)
}

// write is Write with a step to take before each change to the disk, which a test uses to make it fail.
func write(dir string, files []File, before step) (Result, error) {
	return writeAs(dir, "", files, before)
}

func writeAs(dir, edition string, files []File, before step) (Result, error) {
	result := Result{Dir: dir}
	files, err := inOrder(files)
	if err != nil {
		return result, err
	}
	if err := os.MkdirAll(dir, folderMode); err != nil {
		return result, err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return result, err
	}
	defer root.Close()
	unlock, err := lock(root, dir)
	if err != nil {
		return result, err
	}
	defer unlock()

	d := &disk{root: root, before: before}
	c, err := compare(d, dir, edition, files)
	if err != nil {
		return result, err
	}
	if err := c.carryOut(d); err != nil {
		return result, err
	}
	for _, f := range c.write {
		if f.Path != ignoreName { // is no page of the book
			result.Written++
		}
	}
	result.Unchanged = len(files) - result.Written
	result.Removed, result.Kept = c.removed, c.kept
	return result, nil
}

// carryOut makes the changes, in an order that is safe to be cut off anywhere.
func (c *change) carryOut(d *disk) error {
	for _, name := range c.leftovers {
		if err := d.remove(name); err != nil {
			return err
		}
	}
	if len(c.write)+len(c.gone) > 0 && !sameManifest(c.before, c.during) {
		if err := d.put(manifestName, stamped(c.edition, c.during.bytes())); err != nil {
			return err
		}
	}
	if err := c.deleteAll(d, true); err != nil { // what stands where a new file or folder goes
		return err
	}
	if err := c.writeAll(d); err != nil {
		return err
	}
	if err := c.deleteAll(d, false); err != nil {
		return err
	}
	after := stamped(c.edition, c.after.bytes())
	if now, err := d.read(manifestName); err == nil && bytes.Equal(now, after) {
		return nil
	}
	return d.put(manifestName, after)
}

// writeAll writes what is to be written: first all of it beside its place, several files at a time, so that a disk without room for the new book says so while the old one is whole; then each is renamed onto its place, in order.
func (c *change) writeAll(d *disk) (err error) {
	defer d.leave()
	for _, f := range c.write {
		if err := d.enter(path.Dir(f.Path)); err != nil {
			return err
		}
	}
	beside, placed := make([]string, len(c.write)), 0
	defer func() {
		for _, name := range beside[placed:] {
			if err != nil && name != "" {
				_ = d.remove(name) // the next run tries again
			}
		}
	}()
	group, ctx := errgroup.WithContext(context.Background())
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, f := range c.write {
		group.Go(func() (err error) {
			if ctx.Err() == nil { // one that failed stops the others
				beside[i], err = d.putBeside(f)
			}
			return err
		})
	}
	if err := group.Wait(); err != nil {
		return err
	}
	for ; placed < len(c.write); placed++ {
		if err := d.place(beside[placed], c.write[placed].Path); err != nil {
			return err
		}
	}
	return nil
}

func (c *change) deleteAll(d *disk, inTheWay bool) error {
	for _, g := range c.gone {
		if g.inTheWay != inTheWay {
			continue
		}
		if err := c.delete(d, g); err != nil {
			return err
		}
	}
	return nil
}

// delete removes one file of ours, if it is still as it was, and the folders that this leaves empty.
func (c *change) delete(d *disk, g goner) error {
	if g.present {
		data, err := d.read(g.path)
		switch {
		case errors.Is(err, os.ErrNotExist):
		case err != nil:
			return err
		case hash(data) == g.sum:
			if err := d.remove(g.path); err != nil {
				return err
			}
			c.removed++
		default: // edited since this run looked
			c.kept = append(c.kept, g.path)
			slices.Sort(c.kept)
			return nil
		}
	}
	for dir := path.Dir(g.path); dir != "." && !c.needed[dir]; dir = path.Dir(dir) {
		k, err := d.kind(dir)
		if err != nil {
			return err
		}
		if k == absent {
			continue
		}
		if k != folder {
			break
		}
		entries, err := d.list(dir)
		if err != nil {
			return err
		}
		if len(entries) > 0 {
			break
		}
		if err := d.remove(dir); err != nil {
			return err
		}
	}
	return nil
}

// isPage reports an HTML page, as opposed to what pages refer to.
func isPage(name string) bool { return strings.HasSuffix(name, ".html") }
