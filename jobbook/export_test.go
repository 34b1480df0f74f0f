package jobbook

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"testing/fstest"

	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
)

// Library is what a build reads of the built-in library.
func Library() (*source.Folder, error) { return library() }

// CheckFiles is Check of a job that is not on disk; its shop is its own folder of that name, if there is one.
func CheckFiles(files map[string]string) (Result, error) {
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	var l layers
	if err := l.takeLibrary(); err != nil {
		return Result{}, err
	}
	if _, err := fs.Stat(fsys, "shop"); err == nil {
		shop, err := fs.Sub(fsys, "shop")
		if err == nil {
			err = l.take(shop, source.Shop, shopPrefix)
		}
		if err != nil {
			return Result{}, err
		}
	}
	if err := l.take(fsys, source.Job, "", "shop"); err != nil {
		return Result{}, err
	}
	d := decoded(l.documents, l.broken, Result{Problems: l.problems, Texts: Texts{folders: l.folders}})
	if !d.good {
		return d.result, nil
	}
	err := d.plan(context.Background(), "", nil, func(*plan.Plan) {})
	return d.result, err
}

// FilesBelow reads all files of a folder, by their slash paths.
func FilesBelow(dir string) map[string]string {
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, entry os.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		name, _ := filepath.Rel(dir, path)
		files[filepath.ToSlash(name)] = string(data)
		return err
	})
	if err != nil {
		panic(err) // of the repository itself, or of what a test has just written
	}
	return files
}

// WriteFiles writes files into a new folder.
func WriteFiles(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// Unread are the same documents with other nodes.
func Unread(documents []source.Document) []source.Document {
	var copied func(n *source.Node) *source.Node
	copied = func(n *source.Node) *source.Node {
		if n == nil {
			return nil
		}
		to := *n
		to.Items, to.Entries = slices.Clone(n.Items), slices.Clone(n.Entries)
		for i, item := range to.Items {
			to.Items[i] = copied(item)
		}
		for i, e := range to.Entries {
			to.Entries[i].Value = copied(e.Value)
		}
		return &to
	}
	list := slices.Clone(documents)
	for i := range list {
		list[i].Front = copied(list[i].Front)
	}
	return list
}
