package site

import "os"

// Last is a folder as the last run left it, to take out of it what need not be made again.
type Last struct {
	dir  string
	ours manifest
}

// LastOf looks at a folder. One that is not ours, or not there, holds nothing.
func LastOf(dir string) Last {
	last := Last{dir: dir}
	listed, ok := last.read(manifestName)
	if !ok {
		return last
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return last
	}
	defer root.Close()
	_, rest := unstamped(listed)
	last.ours, _ = (&disk{root: root}).manifest(rest)
	return last
}

// File reads a file of ours; false where it is not there, was changed by hand, or was never ours.
func (l Last) File(name string) ([]byte, bool) {
	if len(l.ours[name]) == 0 {
		return nil, false
	}
	data, ok := l.read(name)
	if !ok || !l.ours.has(name, hash(data)) {
		return nil, false
	}
	return data, true
}

// read reads a regular file; a link is none.
func (l Last) read(name string) ([]byte, bool) {
	root, err := os.OpenRoot(l.dir)
	if err != nil {
		return nil, false
	}
	defer root.Close()
	d := &disk{root: root}
	if k, err := d.kind(name); err != nil || k != regular {
		return nil, false
	}
	data, err := d.read(name)
	return data, err == nil
}
