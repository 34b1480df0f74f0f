package site

import (
	"bufio"
	"cmp"
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path"
	"strings"
	"sync"
)

// Modes before the umask takes its part: what any program makes.
const (
	fileMode   = 0o644
	folderMode = 0o755
)

// A step is asked before each change to the disk; an error of its stops the change.
type step func(op, name string) error

// disk is the output folder. Nothing it does leaves the folder (os.Root), and every change goes through its few methods.
type disk struct {
	root   *os.Root
	before step

	steps  sync.Mutex          // before is asked by one at a time
	within map[string]*os.Root // folders that files are put into, open
}

func (d *disk) step(op, name string) error {
	if d.before == nil {
		return nil
	}
	d.steps.Lock()
	defer d.steps.Unlock()
	return d.before(op, name)
}

// kind is what is at a path.
type kind int

const (
	absent kind = iota
	regular
	folder
	other // a link, a pipe, a device
)

// kind says what is at a path without following a link: what is below a link, or below a file, is absent.
func (d *disk) kind(name string) (kind, error) {
	for at := range prefixes(name) {
		info, err := d.root.Lstat(at)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return absent, nil
		case err != nil:
			return absent, err
		case at == name && info.Mode().IsRegular():
			return regular, nil
		case at == name && !info.IsDir():
			return other, nil
		case !info.IsDir():
			return absent, nil
		}
	}
	return folder, nil
}

func (d *disk) read(name string) ([]byte, error) { return d.root.ReadFile(name) }

func (d *disk) list(name string) ([]fs.DirEntry, error) { return fs.ReadDir(d.root.FS(), name) }

// remove deletes a file or an empty folder; one that is gone already is fine.
func (d *disk) remove(name string) error {
	if err := d.step("remove", name); err != nil {
		return err
	}
	if err := d.root.Remove(name); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// folders makes a folder and those above it.
func (d *disk) folders(name string) error {
	for at := range prefixes(name) {
		if at == "." {
			continue
		}
		if k, err := d.kind(at); err != nil || k == folder {
			if err != nil {
				return err
			}
			continue
		}
		if err := d.step("mkdir", at); err != nil {
			return err
		}
		if err := d.root.Mkdir(at, folderMode); err != nil {
			return err
		}
	}
	return nil
}

// leftoverPrefix starts the name of a temporary file; 26 random letters and digits follow.
const leftoverPrefix = ".jobbook-new-"

const randomLength = 26 // of rand.Text: 128 bits in base 32

// isLeftover reports a temporary file of ours.
func isLeftover(e fs.DirEntry) bool {
	rest, ok := strings.CutPrefix(e.Name(), leftoverPrefix)
	return ok && len(rest) == randomLength && e.Type().IsRegular()
}

// put writes a whole file or nothing: beside its place first, then renamed onto it. Its folder is there.
func (d *disk) put(name string, data []byte) error {
	beside, err := d.putBeside(File{name, []string{string(data)}})
	if err == nil {
		err = d.place(beside, name)
	}
	if err != nil && beside != "" {
		_ = d.remove(beside) // the next run tries again
	}
	return err
}

// pens put short pieces of files together before they are written.
var pens = sync.Pool{New: func() any { return bufio.NewWriterSize(nil, 32<<10) }}

// putBeside writes a file beside its place, under the name that it gives: also where that fails half-way. Several may be under way at once.
func (d *disk) putBeside(f File) (beside string, err error) {
	folder, name := path.Dir(f.Path), leftoverPrefix+rand.Text()
	beside = path.Join(folder, name)
	if err := d.step("create", beside); err != nil {
		return "", err
	}
	file, err := d.folder(folder).OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, fileMode)
	if err != nil {
		return "", err
	}
	if err = d.step("write", beside); err == nil {
		pen := pens.Get().(*bufio.Writer)
		defer pens.Put(pen)
		pen.Reset(file)
		for _, p := range f.Pieces {
			_, _ = pen.WriteString(p) // Flush has the error of any of them
		}
		err = pen.Flush()
	}
	return beside, cmp.Or(err, file.Close())
}

// place renames a file of the same folder onto its place.
func (d *disk) place(beside, name string) error {
	if err := d.step("rename", name); err != nil {
		return err
	}
	return d.folder(path.Dir(name)).Rename(path.Base(beside), path.Base(name))
}

// folder is one that was entered, or the whole one.
func (d *disk) folder(name string) *os.Root {
	if name == "." {
		return d.root
	}
	return d.within[name]
}

// enter makes a folder and those above it, and opens it.
func (d *disk) enter(name string) error {
	if name == "." || d.within[name] != nil {
		return nil
	}
	if err := d.folders(name); err != nil {
		return err
	}
	in, err := d.root.OpenRoot(name)
	if err != nil {
		return err
	}
	if d.within == nil {
		d.within = map[string]*os.Root{}
	}
	d.within[name] = in
	return nil
}

// leave closes the folders that are open.
func (d *disk) leave() {
	for _, in := range d.within {
		in.Close()
	}
	d.within = nil
}
