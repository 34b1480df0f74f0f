package jobbook

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"balustrade/jobbook/source"
	"balustrade/templates"
)

// library is read once for all jobs that are not on disk.
var library = sync.OnceValues(func() (*source.Folder, error) {
	fsys, err := fs.Sub(templates.Library, "library")
	if err != nil {
		return nil, err
	}
	return source.Read(fsys, source.Library, "library/")
})

// CheckFiles is Check of a job that is not on disk; its shop is its own folder of that name, if there is one.
func CheckFiles(fsys fs.FS) (Result, error) {
	lib, err := library()
	if err != nil {
		return Result{}, err
	}
	folders := []*source.Folder{lib}
	if shop, err := fs.Sub(fsys, "shop"); err == nil {
		if _, err := fs.Stat(fsys, "shop"); err == nil {
			folder, err := source.Read(shop, source.Shop, shopPrefix)
			if err != nil {
				return Result{}, err
			}
			folders = append(folders, folder)
		}
	}
	folder, err := source.Read(fsys, source.Job, "", "shop")
	if err != nil {
		return Result{}, err
	}
	folders = append(folders, folder)
	var documents, broken []source.Document
	result := Result{Texts: Texts{folders: folders}}
	for _, f := range folders {
		documents, broken = append(documents, f.Documents...), append(broken, f.Broken...)
		result.Problems = append(result.Problems, f.Problems...)
	}
	return check(slices.Clip(documents), slices.Clip(broken), result), nil
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
		panic(err) // of the repository itself
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
