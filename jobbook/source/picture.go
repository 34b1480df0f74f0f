package source

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Limits on pictures.
const (
	MostPicture  = 1 << 25 // bytes of one, 32 MiB: an ordinary photograph has up to 15
	MostPictures = 500     // of one job
)

// Named is a picture that a file names, and where it does.
type Named struct {
	File  string // as in Pos.File, of the picture
	At    Pos
	Width int // runes to underline
}

// Problem is a warning where the picture is named: one that cannot be shown takes no book away. The summary goes on after its name.
func (n Named) Problem(summary, hint string) Problem {
	return Problem{Severity: Warning, At: n.At, Width: max(n.Width, 1), Summary: "the picture " + clipPath(n.File) + " " + summary, Hint: hint}
}

// ReadPicture reads the bytes of a picture, whatever they are, from an opened folder; name is its slash path there. Of one that is not
// there, or must not or cannot be read, it says so: the summary goes on after the picture's name, and is empty where all is well.
func ReadPicture(fsys fs.FS, name string) (data []byte, summary, hint string) {
	const (
		away   = "put a copy into the folder, and name that"
		anew   = "make it readable, or put another copy there"
		unread = "cannot be read"
	)
	switch {
	case !fs.ValidPath(name) || strings.Contains(name, `\`):
		return nil, "is not in the job's folder", away + ", with slashes: photos/corner.jpg"
	case slices.ContainsFunc(strings.Split(name, "/"), Ignored):
		return nil, "is hidden, or what an editor leaves behind, and is not read", "give it a plain name"
	}
	var onPath *fs.PathError
	info, err := fs.Stat(fsys, name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if near := Suggest(path.Base(name), beside(fsys, name)); near != "" {
			return nil, "is not there", "did you mean " + near + "?"
		}
		return nil, "is not there", "put it there, or take its name out"
	case errors.As(err, &onPath) && onPath.Err.Error() == leadsOut:
		return nil, "is behind a link that leads out of the folder; it is not followed", away
	case err != nil:
		return nil, unread, anew
	case !info.Mode().IsRegular():
		return nil, "is not an ordinary file", "name a JPEG or a PNG"
	}
	f, err := fsys.Open(name)
	if err != nil {
		return nil, unread, anew
	}
	defer f.Close()
	if info.Size() <= MostPicture {
		var b bytes.Buffer
		err = readAtMost(&b, f, info.Size(), MostPicture)
		data = b.Bytes()
	}
	switch {
	case err != nil:
		return nil, unread, anew
	case max(info.Size(), int64(len(data))) > MostPicture: // it may have grown meanwhile
		return nil, fmt.Sprintf("is larger than %d MiB", MostPicture>>mebi), "put a smaller copy in its place"
	}
	return data, "", ""
}

// beside lists the files in the folder of one that is not there.
func beside(fsys fs.FS, name string) []string {
	entries, err := fs.ReadDir(fsys, path.Dir(name))
	if err != nil {
		return nil
	}
	var list []string
	for _, e := range entries {
		if e.Name() != path.Base(name) && !e.IsDir() && !Ignored(e.Name()) && !isMarkdown(e.Name()) {
			list = append(list, e.Name())
		}
	}
	return list
}

func clipPath(name string) string {
	const most = 60 // runes that fit a line of a terminal beside the rest
	if r := []rune(name); len(r) > most {
		return "..." + string(r[len(r)-most:])
	}
	return name
}
