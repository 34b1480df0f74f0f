package main

import (
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"balustrade/jobbook"
)

func issueCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "issue DIR NAME [--day DATE]",
		Short: "record the plan as it is handed out",
		Long: `Records the plan of the job in DIR, line by line, in DIR/issues. Every book made
after it is compared with the last one: what was read otherwise, and what
follows from it.

Record one when marks are made, pieces are cut or goods are ordered by a book.`,
		DisableFlagsInUseLine: true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 2 {
				return &mistake{summary: "want a job's folder and a name for the issue", hint: "as in jobbook issue mill-house first", of: cmd}
			}
			return jobFolder(cmd, args[:1])
		},
	}
	day := cmd.Flags().String("day", "", "the day `DATE` that it is handed out, as 2026-11-20")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if *day != "" {
			if _, err := time.Parse(time.DateOnly, *day); err != nil {
				return &mistake{summary: fmt.Sprintf("--day %q is no date", *day), hint: "write it as 2026-11-20", of: cmd}
			}
		}
		if jobbook.IsYard(args[0]) {
			return &mistake{summary: "an issue is of one job, and " + args[0] + " is a folder of jobs", hint: "give the folder of one of them", of: cmd}
		}
		result, file, err := jobbook.Issue(args[0], args[1], *day)
		if err != nil {
			return failed(args[0], err)
		}
		t := teller{result: result, stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
		if result.Plan == nil {
			t.problems("nothing was recorded")
			return exit(exitFault)
		}
		t.problems("the plan was recorded all the same")
		fmt.Fprintf(t.stdout, "%s: recorded; put it under version control with the job\n", filepath.Join(args[0], filepath.FromSlash(file)))
		if t.fails()+len(result.Plan.Missing) > 0 {
			fmt.Fprintf(t.stdout, "recorded as it stands: %s\n", t.settled())
		}
		return nil
	}
	return cmd
}
