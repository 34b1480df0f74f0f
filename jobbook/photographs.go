package jobbook

import (
	"context"
	"fmt"
	"io/fs"
	"runtime"
	"strings"
	"sync"

	"balustrade/jobbook/book"
	"balustrade/jobbook/photo"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/site"
	"balustrade/jobbook/source"
)

// photographs reads the pictures that are named, and puts their copies into the plan. It gives the files that are named, and what is wrong with them: a problem wherever one is named, and the book is made
// without it. The error is the context's, or that of a folder that cannot be opened.
func (m *Maker) photographs(ctx context.Context, texts Texts, p *plan.Plan, named []source.Named) (files []string, problems []source.Problem, err error) {
	files = filesOf(named)
	asked := make(map[string]int, len(files))
	for i, file := range files {
		asked[file] = i
	}
	for i, n := range named {
		if _, ok := asked[n.File]; !ok {
			problems = append(problems, n.Problem(fmt.Sprintf("and those after it are not shown; a job has no more than %d", source.MostPictures), "name fewer"))
			named = named[:i]
			break
		}
	}
	answers, err := m.pictures(ctx, texts, files)
	if err != nil {
		return nil, nil, err
	}
	m.copies.Forget()
	if len(files) > 0 {
		p.Photographs = make(map[string]*photo.Copy, len(files))
	}
	for i, file := range files {
		if made := answers[i].made; made != nil {
			p.Photographs[file] = made
		}
	}
	for _, n := range named {
		if a := answers[asked[n.File]]; a.summary != "" {
			problems = append(problems, n.Problem(a.summary, a.hint))
		}
	}
	return files, problems, nil
}

// copiesIn has copies taken out of the books that were made last, where they are as they were written.
func (m *Maker) copiesIn(outs ...string) {
	last := sync.OnceValue(func() []site.Last { // a job without photographs asks for none
		list := make([]site.Last, len(outs))
		for i, out := range outs {
			list[i] = site.LastOf(out)
		}
		return list
	})
	m.copies.Before = func(name string) (data []byte, ok bool) {
		for _, l := range last() {
			if data, ok = l.File(book.PhotographsFolder + name); ok {
				break
			}
		}
		return data, ok
	}
}

// filesOf are the files of pictures, each once, in the order in which they are named, and no more than a job may have.
func filesOf(named []source.Named) (files []string) {
	seen := map[string]bool{}
	for _, n := range named {
		if !seen[n.File] && len(files) < source.MostPictures {
			seen[n.File] = true
			files = append(files, n.File)
		}
	}
	return files
}

// pictured is the copy of one picture, or why there is none.
type pictured struct {
	made          *photo.Copy
	summary, hint string
}

// underWay are the pictures of all jobs that are read and copied at the same time: one for each processor, so that no more files are in
// memory. What they take when they are decoded is bounded by package photo.
var underWay = make(chan struct{}, runtime.GOMAXPROCS(0))

// pictures makes the copies of pictures, several at the same time. The error is the context's when it ended before the last was begun, or
// that of a folder that cannot be opened.
func (m *Maker) pictures(ctx context.Context, texts Texts, files []string) ([]pictured, error) {
	if len(files) == 0 {
		return nil, nil
	}
	layers := make(map[string]fs.FS, 2)
	for prefix, dir := range map[string]string{"": texts.dir, shopPrefix: texts.shop} {
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
	answers := make([]pictured, len(files))
	var group sync.WaitGroup
	defer group.Wait() // before the folders are closed
	for i, file := range files {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		select {
		case underWay <- struct{}{}:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
		group.Go(func() {
			defer func() { <-underWay }()
			answers[i] = m.picture(layers, file)
		})
	}
	group.Wait()
	return answers, nil
}

// picture makes the copy of one picture.
func (m *Maker) picture(layers map[string]fs.FS, file string) pictured {
	fsys, name := layers[""], file
	if rest, ok := strings.CutPrefix(file, shopPrefix); ok && layers[shopPrefix] != nil {
		fsys, name = layers[shopPrefix], rest
	}
	raw, summary, hint := source.ReadPicture(fsys, name)
	if summary != "" {
		return pictured{nil, summary, hint}
	}
	made, no := m.copies.Make(raw)
	if no != nil {
		return pictured{nil, no.Summary, no.Hint}
	}
	return pictured{made: made}
}
