package site

import (
	"bufio"
	"crypto/rand"
	"errors"
	"io"
	"io/fs"
	"os"
	"path"
	"strings"
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

	pen    *bufio.Writer
	at     string   // the folder that a file was put into last, and is open still
	within *os.Root // it
}

func (d *disk) step(op, name string) error {
	if d.before == nil {
		return nil
	}
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

// put writes a whole file or nothing: beside its place first, then renamed onto it.
func (d *disk) put(name string, pieces ...string) (err error) {
	beside := path.Join(path.Dir(name), leftoverPrefix+rand.Text())
	if err := d.step("create", beside); err != nil {
		return err
	}
	in, err := d.enter(path.Dir(name))
	if err != nil {
		return err
	}
	f, err := in.OpenFile(path.Base(beside), os.O_WRONLY|os.O_CREATE|os.O_EXCL, fileMode)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil && d.step("remove", beside) == nil {
			_ = in.Remove(path.Base(beside)) // the next run tries again
		}
	}()
	if err = d.step("write", beside); err == nil {
		err = d.write(f, pieces)
	}
	if closing := f.Close(); err == nil {
		err = closing
	}
	if err != nil {
		return err
	}
	if err = d.step("rename", name); err != nil {
		return err
	}
	return in.Rename(path.Base(beside), path.Base(name))
}

// write writes pieces one after the other, short ones together.
func (d *disk) write(to io.Writer, pieces []string) error {
	if d.pen == nil {
		d.pen = bufio.NewWriterSize(to, penBytes)
	}
	d.pen.Reset(to)
	for _, p := range pieces {
		_, _ = d.pen.WriteString(p) // Flush has the error of any of them
	}
	return d.pen.Flush()
}

// penBytes is how much of a file is put together before it is written.
const penBytes = 32 << 10

// enter opens a folder to put a file into, and leaves the one before: files of one folder follow each other.
func (d *disk) enter(name string) (*os.Root, error) {
	if name == "." {
		return d.root, nil
	}
	if d.within == nil || d.at != name {
		d.leave()
		in, err := d.root.OpenRoot(name)
		if err != nil {
			return nil, err
		}
		d.at, d.within = name, in
	}
	return d.within, nil
}

// leave closes the folder that is open.
func (d *disk) leave() {
	if d.within != nil {
		d.within.Close()
		d.within = nil
	}
}
