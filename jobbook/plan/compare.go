package plan

import (
	"fmt"
	"strings"

	"balustrade/jobbook/changes"
	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
)

// Compare sets the plan against the last issue of its job, where there is one. Problems are lines of the issue that can't be read, and issues of which none is the last.
func (p *Plan) Compare() []source.Problem {
	last, beside := p.Job.LastIssue()
	if last == nil {
		return nil
	}
	problems := p.CompareIssue(last)
	if len(beside) > 0 {
		names := []string{last.File}
		for _, i := range beside {
			names = append(names, i.File)
		}
		problems = append(problems, source.Problem{Severity: source.Warning, At: source.Pos{File: last.File}, Width: 1,
			Summary: fmt.Sprintf("%d issues have the same number, as where branches were merged: %s; compared with %s", len(names), strings.Join(names, ", "), last.Name),
			Hint:    "look through the changes since each of them (--since), then record another issue of the plan as merged"})
	}
	return problems
}

// CompareIssue sets the plan against an issue of its job. Problems are lines of it that can't be read.
func (p *Plan) CompareIssue(issue *job.Issue) []source.Problem {
	was, bad := changes.Parse(issue.Text)
	if bad > 0 {
		return []source.Problem{{Severity: source.Warning, At: issue.Place(bad), Width: 1, Summary: "this line of the issue can't be read, so nothing is compared with it", Hint: "take the file as it was recorded out of version control, or record another issue"}}
	}
	p.compare(was)
	p.Changes.Issue, p.Changes.Day = issue.Name, issue.Day.Text
	return nil
}

// CompareRevision sets the plan against that of the job's folder in a revision, by what an issue of it would have recorded. name is what somebody called the revision, notes what a reader must know of it.
func (p *Plan) CompareRevision(then *Plan, name, hash string, notes []string) {
	was, _ := then.Facts()
	for i, l := range was { // its places and workings are not of this book
		was[i] = changes.Line{Sort: l.Sort, Of: l.Of, What: l.What, Value: l.Value, Title: l.Title}
	}
	p.compare(was)
	p.Changes.Revision, p.Changes.Hash, p.Changes.Notes = name, hash, notes
}

func (p *Plan) compare(was []changes.Line) {
	now, in := p.Facts()
	p.Changes = changes.Compare(was, now, in)
}
