package jobbook

import (
	"context"
	"path/filepath"
	"slices"

	"balustrade/jobbook/book"
	"balustrade/jobbook/job"
	"balustrade/jobbook/site"
	"balustrade/jobbook/source"
	"balustrade/templates"
)

// Edition is one edition of a book, and the folder that it goes to.
type Edition struct {
	Of  book.Edition
	Out string
}

// BuildEditions makes editions of the book of the job in dir, all of one plan. The whole book is made first, also where it is not asked for: an edition has no page that the book does not stand behind. Where a file can't be understood, nothing
// is written. The error is as for Build; editions that were written before it stay.
func (m *Maker) BuildEditions(ctx context.Context, dir string, editions []Edition) (Result, []site.Result, error) {
	var outs []string
	for _, e := range editions {
		if err := site.CheckPlace(dir, e.Out); err != nil {
			return Result{}, nil, err
		}
		outs = append(outs, e.Out)
	}
	m.copiesIn(outs...)
	result, files, err := m.MakeEditions(ctx, dir, editions)
	if err != nil || result.Plan == nil {
		return result, nil, err
	}
	var written []site.Result
	for i, e := range editions {
		if err := ctx.Err(); err != nil {
			return result, written, err
		}
		done, err := site.WriteAs(e.Out, string(e.Of), files[i])
		if err != nil {
			return result, written, err
		}
		written = append(written, done)
	}
	return result, written, nil
}

// MakeEditions does everything but writing: the files of each edition, in the order asked for. An edition leaves the house, so a job of a yard is planned as it is with the others there: with what those before it leave on the rack that they share.
func (m *Maker) MakeEditions(ctx context.Context, dir string, editions []Edition) (Result, [][]site.File, error) {
	result, whole, err := m.Make(ctx, dir)
	if err != nil || result.Plan == nil {
		return result, nil, err
	}
	if parent := TakesAlone(dir, result.Plan); parent != "" {
		if m.taken, err = takenBefore(ctx, parent, dir); err == nil {
			result, whole, err = m.Make(ctx, dir)
			m.taken = nil
		}
		if err != nil || result.Plan == nil {
			return result, nil, err
		}
		result.Shared = parent
	}
	list := make([][]site.File, 0, len(editions))
	for _, e := range editions {
		if e.Of == book.Whole {
			list = append(list, whole)
			continue
		}
		pages, problems, err := book.RenderEdition(result.Plan, templates.Pages, e.Of)
		if err != nil {
			return result, nil, err
		}
		for _, p := range problems { // what the whole book says of a file is said once
			if !slices.ContainsFunc(result.Problems, p.Same) {
				result.Problems = append(result.Problems, p)
			}
		}
		if source.AnyError(problems) {
			result.Plan = nil
			return result, nil, nil
		}
		list = append(list, filesFor(pages))
	}
	result.Problems = source.Sort(result.Problems)
	return result, list, nil
}

// takenBefore is what the jobs of a yard whose turn is before that of the one in dir take off the rack that they share.
func takenBefore(ctx context.Context, parent, dir string) ([]job.Taken, error) {
	abs, err := filepath.Abs(dir)
	if err != nil {
		return nil, err
	}
	m := new(YardMaker)
	if _, err := m.Check(ctx, parent, nil); err != nil {
		return nil, err
	}
	if mine := m.known[filepath.Base(abs)]; mine != nil {
		return mine.with, nil
	}
	return nil, nil
}
