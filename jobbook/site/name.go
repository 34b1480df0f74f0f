package site

import (
	"cmp"
	"io/fs"
	"path"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// checkName says what is wrong with the path of a file, "" if nothing.
func checkName(name string) string {
	switch {
	case !fs.ValidPath(name) || name == ".":
		return "is not a relative path with slashes"
	case !utf8.ValidString(name) || strings.ContainsFunc(name, unicode.IsControl) || strings.Contains(name, `\`):
		return "has a character that a file name cannot have"
	case strings.HasPrefix(name, ".") || strings.Contains(name, "/."):
		return "a part starts with a dot"
	}
	return ""
}

// inOrder checks the paths and gives the files in the order they are written in: what pages refer to, pages, the index
// pages of folders, the index of the whole.
func inOrder(files []File) ([]File, error) {
	seen := make(map[string]string, len(files)) // by the path without case: disks that ignore case are common
	for _, f := range files {
		if why := checkName(f.Path); why != "" {
			return nil, &NameError{f.Path, why}
		}
		if other, twice := seen[fold(f.Path)]; twice {
			return nil, &NameError{f.Path, "two files of one path (the other is " + other + ")"}
		}
		seen[fold(f.Path)] = f.Path
	}
	for _, f := range files {
		for folder := path.Dir(f.Path); folder != "."; folder = path.Dir(folder) {
			if other, both := seen[fold(folder)]; both {
				return nil, &NameError{other, "is a file and a folder (it holds " + f.Path + ")"}
			}
		}
	}
	files = slices.Clone(files)
	slices.SortFunc(files, func(a, b File) int {
		return cmp.Or(cmp.Compare(turn(a.Path), turn(b.Path)), cmp.Compare(a.Path, b.Path))
	})
	return files, nil
}

func fold(name string) string { return strings.ToLower(name) }

// turn says when a file has its turn to be written.
func turn(name string) int {
	const assets, pages, indexes, last = 0, 1, 2, 3 // an order, nothing else
	switch {
	case name == "index.html":
		return last
	case path.Base(name) == "index.html":
		return indexes
	case isPage(name):
		return pages
	}
	return assets
}
