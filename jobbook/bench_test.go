package jobbook_test

import (
	"path/filepath"
	"strconv"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/book"
	"balustrade/jobbook/job"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
	"balustrade/templates"
)

const sample = "../sample-job"

// BenchmarkRead reads the sample's folder into documents.
func BenchmarkRead(b *testing.B) {
	for b.Loop() {
		fsys, closer, err := source.Open(sample)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := source.Read(fsys, source.Job, "", "shop"); err != nil {
			b.Fatal(err)
		}
		closer.Close()
	}
}

// BenchmarkCheck reads all layers of the sample, decodes and plans it.
func BenchmarkCheck(b *testing.B) {
	for b.Loop() {
		if r, err := jobbook.Check(sample); err != nil || r.Plan == nil {
			b.Fatal(err, r.Problems)
		}
	}
}

func sampleJob(b *testing.B) *job.Job {
	r, err := jobbook.Check(sample)
	if err != nil || r.Plan == nil {
		b.Fatal(err, r.Problems)
	}
	return r.Job
}

// BenchmarkPlan plans the decoded sample.
func BenchmarkPlan(b *testing.B) {
	j := sampleJob(b)
	for b.Loop() {
		plan.Make(j, nil)
	}
}

// BenchmarkRender makes the pages of the planned sample.
func BenchmarkRender(b *testing.B) {
	p, _ := plan.Make(sampleJob(b), nil)
	for b.Loop() {
		if _, _, err := book.Render(p, templates.Pages); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkBuild is the whole way: a first build into a new folder, and a second one with nothing changed.
func BenchmarkBuild(b *testing.B) {
	b.Run("first", func(b *testing.B) {
		dir := b.TempDir()
		for i := 0; b.Loop(); i++ {
			if _, err := jobbook.Build(b.Context(), sample, filepath.Join(dir, strconv.Itoa(i))); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("again", func(b *testing.B) {
		out := filepath.Join(b.TempDir(), "book")
		for b.Loop() {
			if _, err := jobbook.Build(b.Context(), sample, out); err != nil {
				b.Fatal(err)
			}
		}
	})
}
