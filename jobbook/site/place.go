package site

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// CheckPlace refuses an output folder that is the input folder, is inside it or contains it, whatever links and ".." the
// paths go through (UsageError). The output need not exist yet. Any other error is the disk's.
func CheckPlace(in, out string) error {
	for _, pair := range []struct{ inner, outer, summary string }{
		{out, in, "the output folder is inside the job folder: " + out},
		{in, out, "the output folder contains the job folder: " + out},
	} {
		within, same, err := isWithin(pair.inner, pair.outer)
		switch {
		case err != nil:
			return err
		case same:
			return &UsageError{"the output folder is the job folder: " + out, "choose a folder beside it with --out"}
		case within:
			return &UsageError{pair.summary, "choose a folder beside it with --out"}
		}
	}
	return nil
}

// isWithin reports whether a folder is another, or below it. It compares folders, not their names, so that links and a
// disk that ignores case make no difference.
func isWithin(inner, outer string) (within, same bool, err error) {
	target, err := os.Stat(outer)
	if errors.Is(err, fs.ErrNotExist) {
		return false, false, nil // nothing is inside what is not there
	}
	if err != nil {
		return false, false, err
	}
	at, missing, err := resolve(inner)
	if err != nil {
		return false, false, err
	}
	for first := !missing; ; first = false {
		info, err := os.Stat(at)
		if err != nil {
			return false, false, err
		}
		if os.SameFile(info, target) {
			return true, first, nil
		}
		up := filepath.Dir(at)
		if up == at {
			return false, false, nil
		}
		at = up
	}
}

// resolve gives the real absolute path of a folder or, if it is missing, of the nearest one above it that is there.
func resolve(dir string) (real string, missing bool, err error) {
	if !filepath.IsAbs(dir) {
		here, err := os.Getwd()
		if err != nil {
			return "", false, err
		}
		dir = here + string(filepath.Separator) + dir // not Join: link/.. is not where the link is
	}
	for {
		real, err := filepath.EvalSymlinks(dir)
		if err == nil || !errors.Is(err, fs.ErrNotExist) {
			return real, missing, err
		}
		i := strings.LastIndexByte(strings.TrimRight(dir, string(filepath.Separator)), filepath.Separator)
		if i < 0 {
			return "", missing, err
		}
		dir, missing = dir[:i+1], true // not Dir: it would take link/.. away as a whole
	}
}
