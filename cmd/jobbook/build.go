package main

import (
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"balustrade/jobbook"
)

func buildCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "build DIR [--edition FOR] [--out BOOK] [--since NAME]",
		Short: "make the book",
		Long: `Makes the book of the job in DIR and writes it to DIR-book, or where --out says.

Only files that changed are written. A book with failing checks is made too, and
says so. Where a file can't be understood, nothing is written: the last good
book stays.

With --edition the book of whom it is for: crew (no prices), client (no costs, no
notes of the shop's) or inspector, to DIR-book-crew and so on; all makes the whole
book and the three of them. No link leads out of an edition: it goes on any static
host or memory stick.

The page of changes is about the last issue, or what --since names: another
issue, or a revision of the folder in git (a branch, a tag, a hash).

Where DIR is a folder of jobs, each in a folder of its own with a job.md, it makes
the book of every one, in a folder of its name, and an index of them all. A job
that can't be understood stops no other; the exit code is 1 then.`,
		DisableFlagsInUseLine: true,
		Args:                  jobFolder,
	}
	to, since := outFlag(cmd), sinceFlag(cmd)
	asked := editionFlag(cmd, to)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		began := time.Now()
		out, err := to(args[0])
		if err != nil {
			return err
		}
		m := jobbook.Maker{}
		if m.Since, err = since(); err != nil {
			return err
		}
		editions, err := asked(args[0])
		if err != nil {
			return err
		}
		if len(editions) > 0 {
			return buildEditions(cmd, &m, args[0], editions)
		}
		if jobbook.IsYard(args[0]) {
			if err := oneJob(cmd, m.Since); err != nil {
				return err
			}
			return buildYard(cmd, args[0], out)
		}
		result, err := m.Build(cmd.Context(), args[0], out)
		if err != nil {
			return failed(out, err)
		}
		t := teller{result: result, stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
		if result.Plan == nil {
			t.problems("no book was made")
			return exit(exitFault)
		}
		t.problems("the book was made all the same")
		fmt.Fprintf(t.stdout, "%s: %s\n", out, t.wrote())
		for _, name := range result.Site.Kept {
			fmt.Fprintf(t.stdout, "  %s is no longer part of the book; it was changed by hand, so it stays\n", filepath.Join(out, filepath.FromSlash(name)))
		}
		t.alone(args[0])
		t.changed("; see changes.html")
		t.failing()
		t.missing()
		fmt.Fprintf(t.stdout, "open %s\n", filepath.Join(out, "index.html"))
		fmt.Fprintf(t.stdout, "made in %s\n", took(time.Since(began)))
		return nil
	}
	return cmd
}
