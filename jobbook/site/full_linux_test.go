package site

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
)

// mount puts a disk of a few pages at a new folder, for as long as the test runs; it takes a system that lets the test do so.
func mount(t *testing.T, size string) string {
	t.Helper()
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size="+size); err != nil {
		t.Skipf("no disk can be mounted here: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	return dir
}

// TestDiskFull writes a book of a little more each time to a real disk of 256 KB, until it has no room for it: the error is the disk's, every page is that of the book before, and a book that there is room for is made again.
func TestDiskFull(t *testing.T) {
	dir := filepath.Join(mount(t, "256k"), "book")
	pages := func(n int) (files []File) {
		for i := range 8 {
			files = append(files, File{fmt.Sprintf("p%d.html", i), []string{strings.Repeat(string(rune('a'+n)), 1000+1500*n)}})
		}
		return append(files, File{"index.html", []string{fmt.Sprintf("index %d", n)}})
	}
	full := 0
	for n := 0; n < 26; n++ {
		_, err := Write(dir, pages(n))
		if err == nil {
			if full > 0 {
				t.Fatalf("book %d: there was no room for the one before it, and this one is larger", n)
			}
			continue
		}
		if !errors.Is(err, syscall.ENOSPC) {
			t.Fatalf("book %d: %v", n, err)
		}
		full++
		before := pages(n - full)
		for name, content := range tree(t, dir) {
			whole := func(f File) bool { return f.Path == name && strings.Join(f.Pieces, "") == content }
			if !slices.ContainsFunc(before, whole) && !strings.HasPrefix(name, leftoverPrefix) {
				t.Fatalf("book %d: %s holds %d bytes that are not of the book before", n, name, len(content))
			}
		}
		mustWrite(t, dir, before)
		if full == 3 {
			return
		}
	}
	t.Errorf("the disk was full %d times: the test tests nothing", full)
}

// TestDiskReadOnly writes to a disk that can only be read: the error says so, and nothing has changed.
func TestDiskReadOnly(t *testing.T) {
	disk := mount(t, "256k")
	dir := filepath.Join(disk, "book")
	mustWrite(t, dir, book("index.html", "index", "a.html", "a"))
	if err := syscall.Mount("tmpfs", disk, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Skip(err)
	}
	before := tree(t, dir)
	for _, where := range []string{dir, filepath.Join(disk, "another")} {
		if _, err := Write(where, book("index.html", "index, new")); !errors.Is(err, syscall.EROFS) {
			t.Errorf("%s: %v", filepath.Base(where), err)
		}
	}
	check(t, "the folder", before, tree(t, dir))
	if _, err := os.Stat(filepath.Join(disk, "another")); !errors.Is(err, os.ErrNotExist) {
		t.Error(err)
	}
}
