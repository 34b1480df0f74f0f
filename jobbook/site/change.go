package site

import (
	"io"
	"io/fs"
	"maps"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"

	"github.com/cespare/xxhash/v2"
	"golang.org/x/sync/errgroup"
)

// change is what has to be done to a folder. Working it out touches nothing.
type change struct {
	edition   string   // of a book that the folder holds; empty for the whole one
	before    manifest // as found; nil if there is none
	during    manifest // everything that may be ours while the change is under way
	after     manifest
	leftovers []string // temporary files of a run that was cut off
	write     []File   // in order
	gone      []goner  // in order of path
	kept      []string
	needed    map[string]bool // folders that hold a file of the new book

	removed int
}

// goner is a path that we wrote once and that is no longer wanted.
type goner struct {
	path     string
	present  bool // it is there, a regular file with the bytes we wrote
	sum      digest
	inTheWay bool // a new file or folder takes its place, or that of a folder it is in
}

// compare finds out what has to be done, and refuses what would touch anything that is not ours.
func compare(d *disk, dir, edition string, files []File) (*change, error) {
	foreign := func(name, why string) error { return &ForeignError{Dir: dir, Example: name, Why: why} }
	c := &change{edition: edition, during: manifest{}, after: manifest{}, needed: map[string]bool{}}
	entries, err := d.list(".")
	if err != nil {
		return nil, err
	}
	if slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() == manifestName }) {
		if kind, err := d.kind(manifestName); err != nil || kind != regular {
			return nil, foreign(manifestName, whyManifest)
		}
		data, err := d.read(manifestName)
		if err != nil {
			return nil, err
		}
		of, data := unstamped(data)
		if c.before, err = d.manifest(data); err != nil {
			return nil, foreign(manifestName, whyManifest)
		}
		if of != edition {
			return nil, foreign("index.html", whyEdition(of))
		}
	} else {
		for _, e := range entries {
			if !isLeftover(e) {
				return nil, foreign(e.Name(), whyNotEmpty)
			}
		}
	}
	if ours, err := c.ignores(d); err != nil {
		return nil, err
	} else if ours {
		files = append([]File{{ignoreName, []string{ignoreAll}}}, files...)
	}
	wanted := map[string]bool{ignoreName: true}
	for _, f := range files {
		wanted[f.Path] = true
		for folder := path.Dir(f.Path); folder != "."; folder = path.Dir(folder) {
			c.needed[folder] = true
		}
	}
	if err := c.findGone(d, wanted); err != nil {
		return nil, err
	}
	seen := look(d, files, c.before != nil)
	for i, f := range files {
		now := seen[i]
		c.after.add(f.Path, now.wanted)
		c.during.add(f.Path, now.wanted)
		if c.before != nil && now.kind != regular { // else nothing is there, or nothing but folders above it
			if name, err := c.blocked(d, f.Path); err != nil {
				return nil, err
			} else if name != "" {
				return nil, foreign(name, whyInTheWay)
			}
		}
		switch {
		case now.err != nil:
			return nil, now.err
		case now.kind != regular || c.makesWay(f.Path):
			c.write = append(c.write, f)
		case c.before[f.Path] == nil:
			return nil, foreign(f.Path, whyInTheWay)
		case now.found == now.wanted:
		case !c.before.has(f.Path, now.found):
			return nil, foreign(f.Path, whyEdited)
		default:
			c.during.add(f.Path, now.found)
			c.write = append(c.write, f)
		}
	}
	return c, c.findLeftovers(d)
}

// sight is what is at the path of a file, and what is to be there.
type sight struct {
	wanted, found digest // found of a regular file
	kind          kind
	err           error
}

// look looks at the paths of files, several at a time: to read and to sum a book takes about as long as to write it. In a folder that is not ours yet nothing is there to be looked at.
func look(d *disk, files []File, ours bool) []sight {
	seen := make([]sight, len(files))
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, f := range files {
		group.Go(func() error {
			seen[i].wanted = hashOf(f.Pieces)
			if ours {
				d.look(f.Path, &seen[i])
			}
			return nil
		})
	}
	_ = group.Wait()
	return seen
}

// parts are buffers for as much of a file as is read at a time to sum it: one that is as it should be is never in memory as a whole.
var parts = sync.Pool{New: func() any { return new([128 << 10]byte) }}

// look finds out what is at a path.
func (d *disk) look(name string, s *sight) {
	if s.kind, s.err = d.kind(name); s.err != nil || s.kind != regular {
		return
	}
	file, err := d.root.Open(name)
	if err != nil {
		s.err = err
		return
	}
	defer file.Close()
	part := parts.Get().(*[128 << 10]byte)
	defer parts.Put(part)
	sum := xxhash.New()
	_, s.err = io.CopyBuffer(sum, onlyReader{file}, part[:])
	s.found = digest(sum.Sum64())
}

// onlyReader is what is read into a buffer that is given: a file would make one of its own.
type onlyReader struct{ io.Reader }

// findGone lists what we wrote once and the new book does not have.
func (c *change) findGone(d *disk, wanted map[string]bool) error {
	for _, name := range slices.Sorted(maps.Keys(c.before)) {
		if wanted[name] {
			continue
		}
		g := goner{path: name, inTheWay: c.needed[name]}
		for folder := path.Dir(name); folder != "."; folder = path.Dir(folder) {
			g.inTheWay = g.inTheWay || wanted[folder]
		}
		kind, err := d.kind(name)
		if err != nil {
			return err
		}
		if kind == regular {
			data, err := d.read(name)
			if err != nil {
				return err
			}
			g.sum = hash(data)
			g.present = c.before.has(name, g.sum)
		}
		switch {
		case g.present:
			c.during.add(name, g.sum)
		case kind == regular, kind == other:
			c.kept = append(c.kept, name)
			continue
		default: // gone, or a folder now; listed until the end, so that a folder left empty by a run that was cut off is found
			c.during[name] = c.before[name]
		}
		c.gone = append(c.gone, g)
	}
	return nil
}

// blocked gives the path that keeps a file from being written, "" if none does: a link, a file or a folder that is not
// ours to remove.
func (c *change) blocked(d *disk, name string) (string, error) {
	for at := range prefixes(name) {
		kind, err := d.kind(at)
		switch {
		case err != nil:
			return "", err
		case kind == absent:
			return "", nil
		case kind == folder && at == name:
			return c.blockedByFolder(d, at)
		case kind == folder, kind == regular && (at == name || c.makesWay(at)):
		default:
			return at, nil
		}
	}
	return "", nil
}

// blockedByFolder looks for something that is not ours in a folder where a file is to go.
func (c *change) blockedByFolder(d *disk, dir string) (string, error) {
	entries, err := d.list(dir)
	if err != nil {
		return "", err
	}
	if len(entries) == 0 && !slices.ContainsFunc(c.gone, func(g goner) bool { return strings.HasPrefix(g.path, dir+"/") }) {
		return dir, nil // an empty folder that never held anything of ours
	}
	for _, e := range entries {
		name := path.Join(dir, e.Name())
		switch {
		case e.IsDir():
			if found, err := c.blockedByFolder(d, name); found != "" || err != nil {
				return found, err
			}
		case !c.makesWay(name) && !isLeftover(e):
			return name, nil
		}
	}
	return "", nil
}

// makesWay reports a file of ours that is removed before anything is written.
func (c *change) makesWay(name string) bool {
	i, found := slices.BinarySearchFunc(c.gone, name, func(g goner, name string) int { return strings.Compare(g.path, name) })
	return found && c.gone[i].present && c.gone[i].inTheWay
}

// prefixes gives a, a/b, a/b/c for a/b/c.
func prefixes(name string) func(yield func(string) bool) {
	return func(yield func(string) bool) {
		for i, r := range name {
			if r == '/' && !yield(name[:i]) {
				return
			}
		}
		yield(name)
	}
}

// findLeftovers looks for temporary files of ours in every folder that we may have written to.
func (c *change) findLeftovers(d *disk) error {
	folders := map[string]bool{".": true}
	for _, m := range []manifest{c.before, c.after} {
		for name := range m {
			for at := path.Dir(name); at != "."; at = path.Dir(at) {
				folders[at] = true
			}
		}
	}
	for _, dir := range slices.Sorted(maps.Keys(folders)) {
		k, err := d.kind(dir)
		if err != nil {
			return err
		}
		if k != folder {
			continue
		}
		entries, err := d.list(dir)
		if err != nil {
			return err
		}
		for _, e := range entries {
			if isLeftover(e) {
				c.leftovers = append(c.leftovers, path.Join(dir, e.Name()))
			}
		}
	}
	return nil
}
