package jobbook

import (
	"context"
	"net/url"
	"path"
	"regexp"
	"strings"
	"sync"

	"balustrade/jobbook/source"
)

// ahead begins to copy the pictures that documents seem to name, while the job is planned: copies are remembered by their bytes, so that
// photographs finds them made. A wrong guess costs time and nothing else, and what is wrong with a picture is told when the book asks
// for it. stop begins no more, and waits for those under way.
func (m *Maker) ahead(ctx context.Context, texts Texts, documents []source.Document) (stop func()) {
	ctx, cancel := context.WithCancel(ctx)
	var group sync.WaitGroup
	if files := seemNamed(documents); len(files) > 0 {
		group.Go(func() { _, _ = m.pictures(ctx, texts, files) })
	}
	return func() {
		cancel()
		group.Wait()
	}
}

// inWords is a picture in words, in the form that nearly all are written in, and its file.
var inWords = regexp.MustCompile(`!\[[^\]]*\]\(\s*<?([^)\s>]+)`)

// seemNamed are the pictures that files of the job seem to name, each once. Those of the shop are left out, for a job shows few of them.
func seemNamed(documents []source.Document) (files []string) {
	seen := map[string]bool{}
	add := func(d *source.Document, where string) {
		file := path.Join(path.Dir(d.File), where)
		if strings.HasPrefix(where, "/") {
			file = strings.TrimPrefix(path.Clean(where), "/")
		}
		if where != "" && !strings.Contains(where, "://") && !seen[file] && len(files) < source.MostPictures {
			seen[file] = true
			files = append(files, file)
		}
	}
	for i := range documents {
		d := &documents[i]
		if d.Layer != source.Job {
			continue
		}
		if photos := d.Front.Get("photos"); photos != nil {
			for _, x := range photos.Items {
				if file := x.Get("file"); file != nil {
					add(d, file.Text)
				}
			}
		}
		if !strings.Contains(d.Body, "![") {
			continue
		}
		for _, found := range inWords.FindAllStringSubmatch(d.Body, -1) {
			if where, err := url.PathUnescape(found[1]); err == nil {
				add(d, where)
			}
		}
	}
	return files
}
