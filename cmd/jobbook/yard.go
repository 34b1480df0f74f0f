package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"balustrade/jobbook"
	"balustrade/jobbook/report"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/yard"
)

// yardTeller puts into words what came of a folder of jobs.
type yardTeller struct {
	cmd            *cobra.Command
	stdout, stderr io.Writer
	code           int // to end with
}

// failed tells an error that is of one job, and keeps its exit code.
func (t *yardTeller) failed(of string, err error) {
	if code := reportError(t.stderr, t.cmd.Root(), fmt.Errorf("%s: %w", of, err)); t.code < code {
		t.code = code
	}
}

func (t *yardTeller) fault() {
	t.code = max(t.code, exitFault)
}

// job tells one job whose book was made, or was not.
func (t *yardTeller) job(dir string, j jobbook.JobResult, stays string) {
	name := filepath.Join(dir, j.Folder)
	if j.Err != nil {
		t.failed(name, j.Err)
		return
	}
	one := teller{result: j.Result, stdout: t.stdout, stderr: t.stderr}
	if j.Result.Plan == nil {
		one.problems(name + ": " + stays)
		t.fault()
		return
	}
	one.problems(name + ": the book was made all the same")
	fmt.Fprintf(t.stdout, "%s: %s; %s\n", plain(j.Folder), one.wrote(), one.settled())
	for _, kept := range j.Result.Site.Kept {
		fmt.Fprintf(t.stdout, "  %s is no longer part of the book; it was changed by hand, so it stays\n", filepath.Join(j.Out, filepath.FromSlash(kept)))
	}
}

// all tells what is of all jobs together.
func (t *yardTeller) all(r jobbook.YardResult) {
	for _, gone := range r.Removed {
		fmt.Fprintf(t.stdout, "%s: its job is gone, %s removed\n", gone.Dir, plural(gone.Removed, "file"))
		for _, kept := range gone.Kept {
			fmt.Fprintf(t.stdout, "  %s was changed by hand, so it stays\n", filepath.Join(gone.Dir, filepath.FromSlash(kept)))
		}
	}
	for _, name := range r.Yard.Others {
		fmt.Fprintf(t.stdout, "%s: no job.md in it, passed over\n", plain(name))
	}
	t.clashes(r.Yard)
}

func (t *yardTeller) clashes(y *yard.Yard) {
	for _, c := range y.Clashes {
		line := fmt.Sprintf("%s %s to %s: %s want %s at once", c.Date, sequence.Clock(sequence.Printed(c.From)), sequence.Clock(sequence.Printed(c.To)), plain(strings.Join(c.Jobs, ", ")), people(c.People))
		if c.Known {
			line = fmt.Sprintf("fail  %s, the shop has %d", line, y.Crew.N)
		} else {
			line = "to be measured  " + line + "; how many the shop has is not said (shop/settings.md: calendar: {crew: })"
		}
		fmt.Fprintln(t.stdout, line)
	}
}

func people(n int) string {
	if n == 1 {
		return "1 person"
	}
	return fmt.Sprintf("%d people", n)
}

// states counts the jobs by their state.
func states(y *yard.Yard) string {
	words := []string{plural(len(y.Jobs), "job")}
	for s := yard.Unreadable; s <= yard.Done; s++ {
		n := 0
		for _, j := range y.Jobs {
			if j.State == s {
				n++
			}
		}
		if n > 0 {
			words = append(words, fmt.Sprintf("%d %s", n, s))
		}
	}
	return strings.Join(words, ", ")
}

func buildYard(cmd *cobra.Command, dir, out string) error {
	began := time.Now()
	t := &yardTeller{cmd: cmd, stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
	r, err := new(jobbook.YardMaker).Build(cmd.Context(), dir, out, func(j jobbook.JobResult) { t.job(dir, j, "no book was made") })
	if err != nil {
		return failed(out, err)
	}
	t.all(r)
	fmt.Fprintf(t.stdout, "%s: %s; %s\n", out, states(r.Yard), teller{result: jobbook.Result{Site: r.Site}}.wrote())
	for _, kept := range r.Site.Kept {
		fmt.Fprintf(t.stdout, "  %s is no longer part of it; it was changed by hand, so it stays\n", filepath.Join(out, filepath.FromSlash(kept)))
	}
	fmt.Fprintf(t.stdout, "open %s\n", filepath.Join(out, "index.html"))
	fmt.Fprintf(t.stdout, "made in %s\n", took(time.Since(began)))
	return t.end()
}

func (t *yardTeller) end() error {
	if t.code != exitDone {
		return exit(t.code)
	}
	return nil
}

func checkYard(cmd *cobra.Command, dir, format, out string, every bool) error {
	began := time.Now()
	t := &yardTeller{cmd: cmd, stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
	text := t.stdout
	if format != "text" && out == "" {
		t.stdout = io.Discard // the report takes its place
	}
	var items []report.Item
	r, err := new(jobbook.YardMaker).Check(cmd.Context(), dir, func(j jobbook.JobResult) {
		name := filepath.Join(dir, j.Folder)
		if j.Err != nil {
			t.failed(name, j.Err)
			return
		}
		one := teller{result: j.Result, stdout: t.stdout, stderr: t.stderr}
		if format != "text" {
			more, err := one.reported()
			if err != nil {
				t.failed(name, err)
			}
			items = append(items, more...)
		}
		if j.Result.Plan == nil {
			one.problems(name + ": nothing was checked")
			t.fault()
			return
		}
		fmt.Fprintf(t.stdout, "== %s\n", plain(j.Folder))
		one.problems("")
		one.findings(every)
		one.missing()
		fmt.Fprintf(t.stdout, "%s: %s\n", plain(j.Folder), one.count())
		if one.fails() > 0 {
			t.fault()
		}
	})
	if err != nil {
		return fmt.Errorf("cannot check %s: %w", dir, err)
	}
	t.all(r)
	for _, c := range r.Yard.Clashes {
		if c.Known {
			t.fault()
		}
	}
	fmt.Fprintf(t.stdout, "%s, in %s\n", states(r.Yard), took(time.Since(began)))
	if format != "text" {
		if err := writeReport(text, items, format, out); err != nil {
			return err
		}
	}
	return t.end()
}

// yardWatching is the watch of a folder of jobs.
type yardWatching struct {
	watching
	maker jobbook.YardMaker
}

// buildYard makes the jobs that what was saved may touch, and their index, and tells what came of it.
func (w *yardWatching) buildYard(ctx context.Context) {
	began := time.Now()
	t := &yardTeller{cmd: w.cmd, stdout: w.cmd.OutOrStdout(), stderr: w.cmd.ErrOrStderr()}
	wrote := 0
	r, err := w.maker.Build(ctx, w.dir, w.out, func(j jobbook.JobResult) {
		w.lock.Lock()
		defer w.lock.Unlock()
		t.job(w.dir, j, "its book stays as it was")
		wrote += j.Result.Site.Written + j.Result.Site.Removed
	})
	if errors.Is(err, context.Canceled) { // a newer save ended this build: the next one makes the rest
		return
	}
	w.lock.Lock()
	defer w.lock.Unlock()
	first := !w.built
	w.built = true
	switch {
	case err != nil && first:
		w.failed = failed(w.out, err)
		return
	case err != nil:
		err = failed(w.out, err)
		fmt.Fprintf(t.stderr, "jobbook: %v\n", err)
		w.show(err.Error())
		return
	}
	t.all(r)
	fmt.Fprintf(t.stdout, "%s; %s; %s\n", states(r.Yard), teller{result: jobbook.Result{Site: r.Site}}.wrote(), took(time.Since(began)))
	if first {
		fmt.Fprintf(t.stdout, "open %s\n", filepath.Join(w.out, "index.html"))
	}
	if w.preview == nil {
		return
	}
	var broken []string
	for _, j := range r.Yard.Jobs {
		if j.State == yard.Unreadable {
			broken = append(broken, j.Folder)
		}
	}
	words := ""
	if len(broken) > 0 {
		words = "cannot be read, see the terminal: " + strings.Join(broken, ", ")
	}
	w.preview.Problems(words)
	if first || wrote+r.Site.Written+r.Site.Removed > 0 {
		w.preview.Reload()
	}
}
