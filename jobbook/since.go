package jobbook

import (
	"context"
	"errors"
	"fmt"
	"path"
	"slices"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/revision"
	"balustrade/jobbook/site"
	"balustrade/jobbook/source"
)

// Then is a job as it was in a git revision and cannot be understood now.
type Then struct {
	Name     string
	Problems []source.Problem
	Texts    Texts
}

// compare sets the plan against an issue of the job, or against its folder in a git revision, by one name for both: an issue goes before a revision. Without a name it is the last issue. What the name does not lead to is a
// site.UsageError; where the job as it was then can't be understood, the plan is dropped and the result says why.
func compare(ctx context.Context, result *Result, since string) ([]source.Problem, error) {
	if since == "" {
		return result.Plan.Compare(), nil
	}
	issue, err := issueCalled(result.Job, since)
	if err != nil {
		return nil, err
	}
	tree, err := revision.Open(ctx, result.Texts.dir, since)
	if issue != nil { // git may be missing, or know nothing of the name
		problems := result.Plan.CompareIssue(issue)
		if c := result.Plan.Changes; c != nil && err == nil {
			c.Notes = []string{since + " is a git revision as well; for that, name it by its hash, " + tree.Hash}
		}
		return problems, nil
	}
	if err == nil {
		err = compareRevision(ctx, result, tree, since)
	}
	var no *revision.Error
	if !errors.As(err, &no) {
		return nil, err
	}
	var names []string
	for _, i := range result.Job.Issues {
		names = append(names, i.Name)
	}
	if near := source.Suggest(since, names); near != "" {
		no.Hint = "did you mean the issue " + near + "?"
	} else if len(names) > 0 {
		no.Hint = strings.TrimPrefix(no.Hint+"; the job's issues are "+strings.Join(names, ", "), "; ")
	}
	return nil, &site.UsageError{Summary: fmt.Sprintf("%q is no issue of this job, and %s", since, no.Summary), Hint: no.Hint}
}

// issueCalled finds an issue by its name, or by that of its file where several have the same name; nil where there is none.
func issueCalled(j *job.Job, name string) (*job.Issue, error) {
	var called []*job.Issue
	for _, i := range j.Issues {
		if strings.TrimSuffix(path.Base(i.File), path.Ext(i.File)) == name {
			return i, nil
		}
		if i.Name == name {
			called = append(called, i)
		}
	}
	switch len(called) {
	case 0:
		return nil, nil
	case 1:
		return called[0], nil
	}
	stem := strings.TrimSuffix(path.Base(called[0].File), path.Ext(called[0].File))
	return nil, &site.UsageError{Summary: fmt.Sprintf("%d issues are called %s: %s and %s", len(called), name, called[0].File, called[1].File), Hint: "name one with its number: " + stem}
}

// compareRevision plans the job of a revision, with the program and the library of today, and compares.
func compareRevision(ctx context.Context, result *Result, tree *revision.Tree, name string) error {
	then := &Then{Name: name, Texts: Texts{of: name + ":", dir: tree.Dir}}
	notes := tree.Notes
	var l layers
	if err := l.takeLibrary(); err != nil {
		return err
	}
	shop, note, err := shopThen(ctx, &l, result.Texts.shop, tree)
	if err != nil {
		return err
	}
	if note != "" {
		notes = append(notes, note)
	}
	var skip []string
	if shop != "" && shop == path.Join(tree.Dir, "shop") {
		skip = []string{"shop"}
	}
	files, err := tree.Files(ctx, tree.Dir)
	if err != nil {
		return err
	}
	if err := l.take(files, source.Job, "", skip...); err != nil {
		return err
	}
	then.Texts.shop, then.Texts.folders = shop, l.folders
	j, problems := job.Decode(l.documents, l.broken)
	problems = append(l.problems, problems...)
	var was *plan.Plan
	if !source.AnyError(problems) {
		var more []source.Problem
		was, more = plan.Make(j, asWritten(j, l.documents, nil))
		problems = append(problems, more...)
	}
	if source.AnyError(problems) {
		then.Problems = source.Sort(slices.DeleteFunc(problems, func(p source.Problem) bool { return p.Severity != source.Error }))
		result.Plan, result.Then = nil, then
		return nil
	}
	result.Plan.CompareRevision(was, name, tree.Hash, notes)
	return nil
}

// shopThen takes the shop's files as they were. Where the shop's folder of today is in no revision of the job's repository, it is taken as it is. note is what a reader must know of it.
func shopThen(ctx context.Context, l *layers, today string, tree *revision.Tree) (shop, note string, err error) {
	shop = path.Join(tree.Dir, "shop")
	if !tree.Has(shop) && tree.Dir != "." {
		shop = path.Join(path.Dir(tree.Dir), "shop")
	}
	switch {
	case tree.Has(shop):
		files, err := tree.Files(ctx, shop)
		if err != nil {
			return "", "", err
		}
		return shop, "", l.take(files, source.Shop, shopPrefix)
	case today == "":
		return "", "", nil
	case tree.Holds(ctx, today):
		return "", "the shop's folder was not under version control then; what it says now counts as new", nil
	}
	return "", "the shop's folder is not in the job's repository; it is taken as it is now", l.takeFolder(today, source.Shop, shopPrefix)
}
