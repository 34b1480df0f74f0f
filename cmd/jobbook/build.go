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
		Use:   "build DIR [--edition FOR] [--out BOOK]",
		Short: "make the book",
		Long: `Makes the book of the job in DIR and writes it to DIR-book, or where --out says.

Only files that changed are written. A book with failing checks is made too, and
says so. Where a file can't be understood, nothing is written: the last good
book stays.

With --edition the book of whom it is for: crew (no prices), client (no costs, no
notes of the shop's) or inspector, to DIR-book-crew and so on; all makes the whole
book and the three of them. No link leads out of an edition: it goes on any static
host or memory stick.`,
		DisableFlagsInUseLine: true,
		Args:                  jobFolder,
	}
	to := outFlag(cmd)
	asked := editionFlag(cmd, to)
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if editions, err := asked(args[0]); err != nil || len(editions) > 0 {
			if err != nil {
				return err
			}
			return buildEditions(cmd, args[0], editions)
		}
		began := time.Now()
		out, err := to(args[0])
		if err != nil {
			return err
		}
		result, err := jobbook.Build(cmd.Context(), args[0], out)
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
		t.changed()
		t.failing()
		t.missing()
		fmt.Fprintf(t.stdout, "open %s\n", filepath.Join(out, "index.html"))
		fmt.Fprintf(t.stdout, "made in %s\n", took(time.Since(began)))
		return nil
	}
	return cmd
}
