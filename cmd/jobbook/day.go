package main

import (
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"balustrade/jobbook"
)

func dayCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "day DIR [--on DATE] [--at HH:MM]",
		Short: "what today holds, from now",
		Long: `Prints the day sheet of the job in DIR from now on: what to do and who does it,
what to bring, what bites, what dries and until when, how the place is left in
the evening; and what was to be done earlier and is not ticked off.

What is not ticked off in job.md (done: ) is placed from now on. Without --on and
--at the clock of this machine counts; with --on alone the whole of that day, and
what is ticked off on it counts as over when its work ends.
The book knows no clock and stays as it is.

In a folder of jobs it prints the sheet of each, one after the other.`,
		DisableFlagsInUseLine: true,
		Args:                  jobFolder,
	}
	on := cmd.Flags().String("on", "", "the day `DATE`, as 2026-11-20; today where it is not given")
	at := cmd.Flags().String("at", "", "the time `HH:MM` of that day, as 13:30")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		now := time.Now()
		day, err := time.Parse(time.DateOnly, now.Format(time.DateOnly))
		if err != nil {
			return err
		}
		minutes := now.Hour()*60 + now.Minute()
		if cmd.Flags().Changed("on") {
			if day, err = time.Parse(time.DateOnly, *on); err != nil {
				return &mistake{summary: fmt.Sprintf("--on %q is no date", *on), hint: "write it as 2026-11-20", of: cmd}
			}
			minutes = 0
		}
		if cmd.Flags().Changed("at") {
			clock, err := time.Parse("15:04", *at)
			if err != nil {
				return &mistake{summary: fmt.Sprintf("--at %q is no time of day", *at), hint: "write it as 13:30", of: cmd}
			}
			minutes = clock.Hour()*60 + clock.Minute()
		}
		if jobbook.IsYard(args[0]) {
			return dayOfYard(cmd, args[0], day, minutes)
		}
		result, lines, err := jobbook.Day(args[0], day, minutes)
		if err != nil {
			return fmt.Errorf("cannot read %s: %w", args[0], err)
		}
		t := teller{result: result, stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
		if result.Plan == nil {
			t.problems("there is no sheet")
			return exit(exitFault)
		}
		t.problems("the sheet was made all the same")
		for _, line := range lines {
			fmt.Fprintln(t.stdout, plain(line))
		}
		return nil
	}
	return cmd
}

// dayOfYard prints the sheet of every job in a folder. One that can't be understood is told, and the others have theirs all the same.
func dayOfYard(cmd *cobra.Command, dir string, day time.Time, minutes int) error {
	t := &yardTeller{cmd: cmd, stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
	_, err := new(jobbook.YardMaker).Check(cmd.Context(), dir, func(j jobbook.JobResult) {
		name := filepath.Join(dir, j.Folder)
		one := teller{result: j.Result, stdout: t.stdout, stderr: t.stderr}
		switch {
		case j.Err != nil:
			t.failed(name, j.Err)
		case j.Result.Plan == nil:
			one.problems(name + ": there is no sheet")
			t.fault()
		default:
			one.problems(name + ": the sheet was made all the same")
			fmt.Fprintf(t.stdout, "== %s\n", plain(name))
			for _, line := range jobbook.DayOf(j.Result.Plan, day, minutes) {
				fmt.Fprintln(t.stdout, plain(line))
			}
			fmt.Fprintln(t.stdout)
		}
	})
	if err != nil {
		return fmt.Errorf("cannot read %s: %w", dir, err)
	}
	return t.end()
}
