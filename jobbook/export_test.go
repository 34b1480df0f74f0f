package jobbook

import (
	"io/fs"
	"slices"
	"sync"

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
