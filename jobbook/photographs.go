package jobbook

import (
	"context"
	"fmt"
	"io/fs"
	"strings"

	"balustrade/jobbook/book"
	"balustrade/jobbook/photo"
	"balustrade/jobbook/source"
)

// photographs reads the pictures that files name, one after the other, and puts their copies into the plan. What is wrong with one is a
// problem wherever it is named; the book is made without it. The error is the context's, or that of a folder that cannot be opened.
func (m *Maker) photographs(ctx context.Context, result *Result) ([]source.Problem, error) {
	named := book.Pictures(result.Plan)
	if len(named) == 0 {
		m.copies.Forget()
		return nil, nil
	}
	layers := make(map[string]fs.FS, 2)
	for prefix, dir := range map[string]string{"": result.Texts.dir, shopPrefix: result.Texts.shop} {
		if dir == "" {
			continue
		}
		fsys, closer, err := source.Open(dir)
		if err != nil {
			return nil, err
		}
		defer closer.Close()
		layers[prefix] = fsys
	}
	type answer struct{ summary, hint string }
	asked := map[string]answer{}
	result.Plan.Photographs = map[string]*photo.Copy{}
	var problems []source.Problem
	for _, n := range named {
		a, known := asked[n.File]
		if !known {
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if len(asked) == source.MostPictures {
				problems = append(problems, n.Problem(fmt.Sprintf("and those after it are not shown; a job has no more than %d", source.MostPictures), "name fewer"))
				break
			}
			var made *photo.Copy
			if made, a.summary, a.hint = m.picture(layers, n.File); made != nil {
				result.Plan.Photographs[n.File] = made
			}
			asked[n.File] = a
			result.Pictures = append(result.Pictures, result.Texts.Path(n.File))
		}
		if a.summary != "" {
			problems = append(problems, n.Problem(a.summary, a.hint))
		}
	}
	m.copies.Forget()
	return problems, nil
}

// picture makes the copy of one picture, or says why there is none.
func (m *Maker) picture(layers map[string]fs.FS, file string) (made *photo.Copy, summary, hint string) {
	fsys, name := layers[""], file
	if rest, ok := strings.CutPrefix(file, shopPrefix); ok && layers[shopPrefix] != nil {
		fsys, name = layers[shopPrefix], rest
	}
	raw, summary, hint := source.ReadPicture(fsys, name)
	if summary != "" {
		return nil, summary, hint
	}
	made, no := m.copies.Make(raw)
	if no != nil {
		return nil, no.Summary, no.Hint
	}
	return made, "", ""
}
