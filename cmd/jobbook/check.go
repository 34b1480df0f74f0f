package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"balustrade/jobbook"
)

func checkCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "check DIR",
		Short: "findings only, for a commit hook",
		Long: `Prints every check of the job in DIR, and writes nothing.

Exit code 1 if a check fails or a file can't be understood. What is still to be
measured, or to be asked of the authority, does not fail, nor does what an old
guard fails that is taken out. Where DIR is a folder of jobs, all of them.`,
		DisableFlagsInUseLine: true,
		Args:                  jobFolder,
		RunE: func(cmd *cobra.Command, args []string) error {
			if jobbook.IsYard(args[0]) {
				return checkYard(cmd, args[0])
			}
			began := time.Now()
			result, _, err := jobbook.Make(args[0])
			if err != nil {
				return fmt.Errorf("cannot check %s: %w", args[0], err)
			}
			t := teller{result: result, stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
			if result.Plan == nil {
				t.problems("nothing was checked")
				return exit(exitFault)
			}
			t.problems("")
			t.findings()
			t.missing()
			fmt.Fprintf(t.stdout, "%s, in %s\n", t.count(), took(time.Since(began)))
			if t.fails() > 0 {
				return exit(exitFault)
			}
			return nil
		},
	}
}
