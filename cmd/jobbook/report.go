package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/report"
	"balustrade/jobbook/source"
)

// formats are what a check can be printed in.
var formats = []string{"text", "sarif", "junit"}

// The rules that are no checks.
var (
	broken = report.Rule{ID: "file", About: "a file that can be understood", Help: "Put the line right; the message says what would be accepted. Until then there is no plan and no new book."}
	doubt  = report.Rule{ID: "file-doubt", About: "something in a file that should be looked at", Help: "Look at the line; the book is made all the same."}
	toTake = report.Rule{ID: "to-be-measured", About: "a reading to take, or something to decide", Help: "Read or decide it, and write it under the key that the message names."}
)

// reported are the outcome of a check as items of a report: what is wrong in files, every check, and what is to be measured. Paths go from the folder that the program was started in.
func (t teller) reported() (items []report.Item, err error) {
	here, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	for _, p := range t.result.Problems {
		items = append(items, t.problem(here, p, t.at(here, p.At, p.Width)))
	}
	if then := t.result.Then; then != nil { // of another revision: no place in the files at hand
		for _, p := range then.Problems {
			p.At.File = then.Texts.Path(p.At.File)
			p.Summary, p.Notes = "in the revision to compare with, "+p.At.String()+": "+p.Summary, nil
			items = append(items, t.problem(here, p, report.Place{}))
		}
	}
	if t.result.Plan == nil {
		return items, nil
	}
	for _, f := range t.result.Plan.Findings {
		items = append(items, t.finding(here, f))
	}
	for _, r := range t.result.Plan.Missing {
		at, suite := r.At, "to be measured or decided"
		if at.IsZero() {
			file, _, _ := strings.Cut(r.Where, ", ")
			at = source.Pos{File: file}
		}
		message := "to be measured or decided: " + plain(r.What)
		if _, key, ok := strings.Cut(r.Where, ", "); ok {
			message += "; write it under " + plain(key)
		}
		if r.Why != "" {
			message += " (" + plain(r.Why) + ")"
		}
		items = append(items, report.Item{Level: report.Note, Rule: toTake, Suite: suite, Name: plain(r.What), Message: message, Key: "reading/" + r.Where + "/" + r.What, At: t.at(here, at, 0)})
	}
	return items, nil
}

func (t teller) problem(here string, p source.Problem, at report.Place) report.Item {
	i := report.Item{Level: report.Broken, Rule: broken, Suite: "files", Name: plain(p.Summary), Message: plain(p.Summary), At: at}
	if p.Severity == source.Warning {
		i.Level, i.Rule = report.Warning, doubt
	}
	if p.Hint != "" {
		i.Message += "; " + plain(p.Hint)
	}
	for _, n := range p.Notes {
		if n.At.IsZero() || strings.HasPrefix(n.At.File, "library/") {
			continue
		}
		place := t.at(here, n.At, 0)
		place.Note = plain(n.Text)
		i.Related = append(i.Related, place)
	}
	return i
}

// finding is a check. What an old guard fails that goes is a note: it is why there is a job.
func (t teller) finding(here string, f finding.Finding) report.Item {
	title := plain(t.title(f.Group))
	i := report.Item{Level: report.Note, Rule: ruleOf(f), Suite: title, Name: plain(f.Title), Key: f.ID, At: t.at(here, f.At, 0)}
	at := f.At
	f.At = source.Pos{} // its place stands beside the message
	i.Message = f.Verdict.String() + ": " + title + ": " + strings.ReplaceAll(plain(t.line(f)), "  ", ", ")
	for _, more := range []string{f.Note, f.Cure} {
		if more != "" && !strings.Contains(i.Message, plain(more)) {
			i.Message += "; " + plain(more)
		}
	}
	switch f.Verdict {
	case finding.Fail:
		if f.At = at; !t.result.Plan.OfOld(f) {
			i.Level = report.Failed
		}
	case finding.Pass, finding.NotRequired:
		i.Level = report.Passed
	}
	if i.At.Path == "" {
		i.At = t.at(here, source.Pos{File: t.result.Job.File}, 0)
	}
	if file := f.Set.File; file != "" && f.Verdict == finding.Fail && !strings.HasPrefix(file, "library/") {
		place := t.at(here, f.Set, 0)
		place.Note = "the limit was set here"
		i.Related = append(i.Related, place)
	}
	return i
}

// ruleOf is what a check is found by: the limit that judges it, or else the first word of its id, which says what was looked at.
func ruleOf(f finding.Finding) report.Rule {
	stem := strings.TrimPrefix(strings.TrimPrefix(f.ID, "check/"), f.Group+"/")
	id, _, _ := strings.Cut(stem, "/")
	if parts := strings.Split(id, "-"); len(parts) > 1 && strings.Trim(parts[len(parts)-1], "0123456789") == "" { // old-gap-3
		id = strings.Join(parts[:len(parts)-1], "-")
	}
	r := report.Rule{ID: plain(id), About: plain(f.Rules), Help: "The book's page of checks has how it came about, and what would put it right."}
	limit := slices.IndexFunc(job.LimitNames, func(k job.Key) bool { return k.Key == id })
	switch {
	case limit >= 0:
		r.About = job.LimitNames[limit].Doc
	case strings.HasPrefix(id, "load-"):
		r.About = "what the guard is screened for under its loads"
	case !strings.Contains(r.About, " "): // the name of a rule set, or nothing
		r.About = "what the plan must hold to"
	}
	return r
}

// at is a place as a report names it. What is in no file of the job's or the shop's has none.
func (t teller) at(here string, at source.Pos, width int) report.Place {
	if at.IsZero() || strings.HasPrefix(at.File, "library/") {
		return report.Place{}
	}
	name := t.result.Texts.Path(at.File)
	if filepath.IsAbs(name) {
		if rel, err := filepath.Rel(here, name); err == nil {
			name = rel
		}
	}
	return report.Place{Path: filepath.ToSlash(filepath.Clean(name)), Line: at.Line, Col: at.Col, Width: width, Text: t.result.Texts.Line(at)}
}
