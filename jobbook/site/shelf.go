package site

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// A shelf is a folder with pages of its own, which Write puts there, and below it a folder for each of several books, each of them
// with its own manifest. Write knows nothing of what it did not write; so the books stand beside the pages undisturbed.

// Claim makes an empty or missing folder ours, so that books can be put below it before its own pages are. A folder with a manifest is
// ours already. The errors are those of Write.
func Claim(dir string) error {
	switch info, err := os.Lstat(filepath.Join(dir, manifestName)); {
	case err == nil && info.Mode().IsRegular():
		data, err := os.ReadFile(filepath.Join(dir, manifestName))
		if of, _ := unstamped(data); err == nil && of != "" { // nothing of the shop's goes below what is for others
			return &ForeignError{Dir: dir, Example: "index.html", Why: whyEdition(of)}
		}
		return err
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	}
	_, err := Write(dir, nil)
	return err
}

// Own reads a file of ours; false where it is not there, was changed by hand, or was never ours.
func Own(dir, name string) ([]byte, bool) { return LastOf(dir).File(name) }

// RemoveBook takes away a book below a shelf, as far as we wrote it: what somebody edited or added stays, and its folder with it. A folder
// without a manifest, or a link, is left alone.
func RemoveBook(shelf, name string) (Result, error) {
	dir := filepath.Join(shelf, name)
	if info, err := os.Lstat(dir); err != nil || !info.IsDir() {
		return Result{Dir: dir}, nil
	}
	if info, err := os.Lstat(filepath.Join(dir, manifestName)); err != nil || !info.Mode().IsRegular() {
		return Result{Dir: dir}, nil
	}
	result, err := Write(dir, nil)
	if err != nil || len(result.Kept) > 0 {
		return result, err
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return result, err
	}
	ignore, err := os.ReadFile(filepath.Join(dir, ignoreName))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return result, err
	}
	ours := func(e fs.DirEntry) bool {
		return e.Name() == manifestName || e.Name() == ignoreName && e.Type().IsRegular() && string(ignore) == ignoreAll
	}
	for _, e := range entries {
		if !ours(e) {
			return result, nil
		}
	}
	for _, e := range entries { // in order of name: what keeps git out goes before the list that says that it is ours
		if err := os.Remove(filepath.Join(dir, e.Name())); err != nil {
			return result, err
		}
	}
	return result, os.Remove(dir)
}

// IsBook reports a folder that we wrote to.
func IsBook(dir string) bool {
	info, err := os.Lstat(filepath.Join(dir, manifestName))
	return err == nil && info.Mode().IsRegular()
}
