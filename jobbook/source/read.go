package source

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"runtime"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/sync/errgroup"
)

// Folder is what a folder of Markdown holds.
type Folder struct {
	Documents []Document // that could be read, in path order; a leading number in a name counts as a number
	// Broken are the documents whose form could not be made out; a Problem says why. They are kept so that a reader can
	// tell a name that is nowhere from a name in a file that is being reported already. Their Front is nil.
	Broken   []Document
	Problems []Problem // sorted

	texts map[string]string // by Pos.File, also of broken files
}

// Line is the text of a line, without its line break; "" when the place is not in the folder or names a whole file.
func (f *Folder) Line(at Pos) string {
	text, ok := f.texts[at.File]
	if !ok || at.Line < 1 {
		return ""
	}
	for range at.Line - 1 {
		_, after, found := strings.Cut(text, "\n")
		if !found {
			return ""
		}
		text = after
	}
	text, _, _ = strings.Cut(text, "\n")
	return strings.TrimSuffix(text, "\r")
}

// Open opens a folder for Read such that no link in it leads out of it. An error is the disk's.
func Open(dir string) (fs.FS, io.Closer, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, nil, err
	}
	return root.FS(), root, nil
}

// Ignored reports a file or folder name that is never part of a job: hidden ones, and what editors leave beside a file
// while they save it (vim's 4913, Emacs' #x# and x~, swap files, JetBrains' ___jb_, *.tmp).
func Ignored(name string) bool {
	return strings.HasPrefix(name, ".") || strings.HasSuffix(name, "~") || name == "4913" ||
		len(name) > 1 && strings.HasPrefix(name, "#") && strings.HasSuffix(name, "#") ||
		slices.Contains([]string{".swp", ".swx", ".tmp"}, path.Ext(name)) || strings.Contains(name, "___jb_")
}

// Read reads the Markdown files of a folder and the folders below it. prefix is put before each path to make the File
// of its documents: "" for the job, "shop/" for the shop, "library/" for what is built in. skip names paths that are
// passed over, files or folders, relative to the root: a job passes over "shop".
//
// What is wrong in a file, or with one, is a Problem. An error means that the folder itself cannot be read.
func Read(fsys fs.FS, layer Layer, prefix string, skip ...string) (*Folder, error) {
	return ReadKnown(fsys, layer, prefix, func(file, text string) *Node { return nil }, skip...)
}

// ReadKnown is Read of files some of which were taken apart before: known gives the front matter of such a text, whose form is sound; nil of any other.
func ReadKnown(fsys fs.FS, layer Layer, prefix string, known func(file, text string) *Node, skip ...string) (*Folder, error) {
	r := &reading{fsys: fsys, layer: layer, prefix: prefix, skip: skip, known: known, Folder: &Folder{texts: map[string]string{}}}
	if err := fs.WalkDir(fsys, ".", r.visit); err != nil {
		return nil, err
	}
	slices.SortFunc(r.paths, comparePaths)
	r.files()
	r.Problems = Sort(r.Problems)
	return r.Folder, nil
}

// reading is one Read under way.
type reading struct {
	*Folder
	fsys   fs.FS
	layer  Layer
	prefix string
	skip   []string
	known  func(file, text string) *Node
	paths  []string
}

func (r *reading) problem(s Severity, name, hint, format string, args ...any) {
	r.Problems = append(r.Problems, Problem{Severity: s, At: Pos{File: r.prefix + name}, Width: 1, Summary: fmt.Sprintf(format, args...), Hint: hint})
}

func (r *reading) unreadable(name string, err error) {
	var onPath *fs.PathError
	if errors.As(err, &onPath) {
		err = onPath.Err // without the path, which is the machine's
	}
	r.problem(Error, name, "make it readable, or move it out of the folder", "cannot be read: %v", err)
}

// visit is called by the walk for every file and folder.
func (r *reading) visit(name string, entry fs.DirEntry, err error) error {
	switch {
	case name == ".":
		return err
	case entry != nil && (Ignored(entry.Name()) || slices.Contains(r.skip, name)):
		return pass(entry)
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		r.unreadable(name, err)
		return pass(entry)
	case !utf8.ValidString(name) || strings.ContainsFunc(name, unicode.IsControl):
		if entry.IsDir() || isMarkdown(name) {
			r.problem(Error, strings.ToValidUTF8(visible(name), "."), "give it a plain name", "a name that is not plain text")
		}
		return pass(entry)
	case entry.Type()&fs.ModeSymlink != 0:
		if !r.link(name) {
			return nil
		}
	case entry.IsDir() || !isMarkdown(name):
		return nil
	case !entry.Type().IsRegular():
		r.problem(Error, name, "move it out of the folder", "is not an ordinary file")
		return nil
	}
	if len(r.paths) == MostFiles {
		r.problem(Error, name, "make a folder for each job, and keep other files elsewhere", "the folder holds more than %d Markdown files; this file and those after it are not read", MostFiles)
		return fs.SkipAll
	}
	r.paths = append(r.paths, name)
	return nil
}

// pass goes on after an entry without looking into it.
func pass(entry fs.DirEntry) error {
	if entry != nil && entry.IsDir() {
		return fs.SkipDir
	}
	return nil
}

// link looks at a symbolic link and reports whether it is to be read: only one to a Markdown file within the folder.
func (r *reading) link(name string) bool {
	info, err := fs.Stat(r.fsys, name)
	severity := Warning // it may be anything, such as a folder of pictures
	if isMarkdown(name) {
		severity = Error
	}
	var onPath *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if isMarkdown(name) {
			r.problem(Error, name, "put the file there, or remove the link", "is a link to a file that is not there")
		}
	case errors.As(err, &onPath) && onPath.Err.Error() == leadsOut:
		r.problem(severity, name, "put a copy into the folder instead of the link", "is a link that leads out of the folder; it is not followed")
	case err != nil:
		r.problem(severity, name, "put a copy into the folder instead of the link", "is a link that cannot be followed")
	case info.IsDir():
		r.problem(Warning, name, "move the folder here instead of the link", "is a link to a folder; it is not followed")
	case isMarkdown(name) && !info.Mode().IsRegular():
		r.problem(Error, name, "move it out of the folder", "is not an ordinary file")
	default:
		return isMarkdown(name)
	}
	return false
}

const mebi = 20 // bits of a MiB

const leadsOut = "path escapes from parent" // os.Root's words for a link out of the folder; it exports no value

func isMarkdown(name string) bool { return strings.EqualFold(path.Ext(name), ".md") }

// files reads the files that the walk found, and takes them apart several at a time.
func (r *reading) files() {
	total := 0
	docs := make([]Document, 0, len(r.paths))
	var buffer bytes.Buffer
	for _, name := range r.paths {
		buffer.Reset()
		err := readBounded(&buffer, r.fsys, name)
		raw := buffer.Bytes() // until the next is read
		total += len(raw)
		switch {
		case errors.Is(err, fs.ErrNotExist): // gone since it was listed: somebody is saving it
			continue
		case err != nil:
			r.unreadable(name, err)
			continue
		}
		if total > MostTotal {
			r.problem(Error, name, "move files that are not part of it elsewhere", "the folder holds more than %d MiB of Markdown; this file and those after it are not read", MostTotal>>mebi)
			break
		}
		d := Document{File: r.prefix + name, Name: nameOf(name), Layer: r.layer}
		if len(raw) > MostBytes {
			r.problem(Error, name, "split it into several files, and keep pictures as files of their own", "is larger than %d MiB", MostBytes>>mebi)
			r.Broken = append(r.Broken, d)
			continue
		}
		d.Text = strings.TrimLeft(string(raw), "\ufeff")
		r.texts[d.File] = d.Text
		docs = append(docs, d)
	}
	of := make([]parts, len(docs))
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i, d := range docs {
		group.Go(func() error { of[i] = r.parsed(d.File, d.Text); return nil })
	}
	_ = group.Wait()
	r.Documents = docs[:0] // less those that are broken
	for i, d := range docs {
		d.Front, d.Body = of[i].front, of[i].body
		r.Problems = append(r.Problems, of[i].problems...)
		if of[i].whole {
			r.Documents = append(r.Documents, d)
		} else {
			r.Broken = append(r.Broken, d)
		}
	}
}

// parsed takes a text apart, but for what is known of it.
func (r *reading) parsed(file, text string) parts {
	if front := r.known(file, text); front != nil {
		b, _ := split(text)
		return parts{front: front, body: blanked(text, b.body), whole: true}
	}
	return parsed(file, text)
}

// readBounded reads a file, at most one byte more than MostBytes.
func readBounded(b *bytes.Buffer, fsys fs.FS, name string) error {
	f, err := fsys.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	size := int64(0)
	if info, err := f.Stat(); err == nil {
		size = info.Size()
	}
	return readAtMost(b, f, size, MostBytes)
}

// readAtMost reads at most one byte more than most. size is what it is expected to be; it may be another by the time that it is read.
func readAtMost(b *bytes.Buffer, r io.Reader, size, most int64) error {
	b.Grow(int(min(max(size, 0), most)) + bytes.MinRead)
	_, err := b.ReadFrom(io.LimitReader(r, most+1))
	return err
}
