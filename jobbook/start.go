package jobbook

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"text/template"

	"balustrade/jobbook/site"
	"balustrade/jobbook/source"
	"balustrade/templates"
)

// Started is one file of a new job.
type Started struct {
	Path string // slash path below the job's folder
	What string // what it is for, in a few words
}

// started are the files of a new job, in the order they are filled in.
var started = []Started{
	{"job.md", "the house, the rules, posts, parts and finishes"},
	{"runs/1-first-run.md", "the first run of guard; copy it for the next"},
	{"survey/old-guard.md", "the old guard; delete it where there is none"},
	{"notes/site-visit.md", "questions to ask on site"},
}

// Start makes a new job in a folder: files to fill in, which build as they are into a book that lists what to measure. The folder is
// made if need be. One that has something in it is left alone (site.UsageError). Any other error is the disk's.
func Start(dir string) ([]Started, error) {
	names, err := libraryNames()
	if err != nil {
		return nil, err
	}
	texts := make([][]byte, len(started))
	for i, f := range started {
		if texts[i], err = startText(f.Path, names); err != nil {
			return nil, err
		}
	}
	if err := startFolder(dir); err != nil {
		return nil, err
	}
	for i, f := range started {
		if err := startFile(filepath.Join(dir, filepath.FromSlash(f.Path)), texts[i]); err != nil {
			return nil, err
		}
	}
	return started, nil
}

// startFolder sees to a folder that is there and empty.
func startFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	info, seen := os.Stat(dir)
	switch {
	case seen == nil && !info.IsDir():
		return &site.UsageError{Summary: dir + " is there, and is not a folder", Hint: "choose another name"}
	case errors.Is(err, fs.ErrNotExist):
		return os.MkdirAll(dir, 0o777) // less what the umask takes
	case err != nil:
		return err
	case len(entries) > 0:
		return &site.UsageError{Summary: dir + " has something in it", Hint: "choose a folder that is empty, or not there yet"}
	}
	return nil
}

// startFile writes a file that must not be there yet.
func startFile(name string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil { // less what the umask takes
		return err
	}
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666) // likewise
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Close())
}

// startText is one file of a new job, with what the library has to choose from.
func startText(name string, names map[string][]source.Document) ([]byte, error) {
	raw, err := templates.Start.ReadFile(path.Join("start", name))
	if err != nil {
		return nil, err
	}
	t, err := template.New(name).Funcs(template.FuncMap{
		"choices": func(kind, indent string) (string, error) { return choices(names, kind, indent) },
	}).Parse(string(raw))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = t.Execute(&out, nil)
	return out.Bytes(), err
}

// libraryNames are the files of the built-in library by their kind, in the library's order.
func libraryNames() (map[string][]source.Document, error) {
	folder, err := library()
	if err != nil {
		return nil, err
	}
	names := map[string][]source.Document{}
	for _, d := range folder.Documents {
		if kind := d.Front.Get("kind"); kind != nil {
			names[kind.Text] = append(names[kind.Text], d)
		}
	}
	return names, nil
}

// choices lists the library's files of one kind as comments in front matter, a line each: the name to write, and its title.
func choices(names map[string][]source.Document, kind, indent string) (string, error) {
	width := 0
	for _, d := range names[kind] {
		width = max(width, len(d.Name))
	}
	var lines []string
	for _, d := range names[kind] {
		title := ""
		if t := d.Front.Get("title"); t != nil {
			title = t.Text
		}
		lines = append(lines, strings.TrimRight(fmt.Sprintf("%s# %-*s  %s", indent, width, d.Name, title), " "))
	}
	if len(lines) == 0 {
		return "", fmt.Errorf("the library has nothing of kind %s to choose from", kind)
	}
	return strings.Join(lines, "\n"), nil
}
