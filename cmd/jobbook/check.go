package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"balustrade/jobbook"
	"balustrade/jobbook/report"
)

func checkCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "check DIR [--all] [--since NAME] [--format FORMAT] [--out FILE]",
		Short: "findings only, for a commit hook",
		Long: `Checks the job in DIR and makes no book: prints what fails, what is to be measured
and what is to be asked of the authority, and for each run, post and so on how
many checks pass; with --all every check.

Exit code 1 if a check fails or a file can't be understood. What is still to be
measured, or to be asked of the authority, does not fail, nor does what an old
guard fails that is taken out. Where DIR is a folder of jobs, all of them.

With --format sarif or junit a CI system can show them beside the lines that
they are about. Paths in it go from the folder that the command is run in: run
it where the repository begins.`,
		DisableFlagsInUseLine: true,
		Args:                  jobFolder,
	}
	since := sinceFlag(cmd)
	all := cmd.Flags().Bool("all", false, "print every check, those that pass as well")
	format := cmd.Flags().String("format", "text", "`FORMAT` of what is printed: text, sarif or junit")
	out := cmd.Flags().StringP("out", "o", "", "the `FILE` that sarif or junit goes to; the text is printed then")
	cmd.RunE = func(cmd *cobra.Command, args []string) (err error) {
		began := time.Now()
		m := jobbook.Maker{}
		if m.Since, err = since(); err != nil {
			return err
		}
		if err := checkFormat(cmd, *format, *out); err != nil {
			return err
		}
		if jobbook.IsYard(args[0]) {
			if err := oneJob(cmd, m.Since); err != nil {
				return err
			}
			return checkYard(cmd, args[0], *format, *out, *all)
		}
		result, _, err := m.Make(cmd.Context(), args[0])
		if err != nil {
			return fmt.Errorf("cannot check %s: %w", args[0], err)
		}
		t := teller{result: result, stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
		if *format != "text" {
			items, err := t.reported()
			if err == nil {
				err = writeReport(t.stdout, items, *format, *out)
			}
			if err != nil {
				return err
			}
			if *out == "" {
				t.stdout = io.Discard
			}
		}
		if result.Plan == nil {
			t.problems("nothing was checked")
			return exit(exitFault)
		}
		t.problems("")
		t.findings(*all)
		t.missing()
		if m.Since != "" {
			t.changed("")
		}
		fmt.Fprintf(t.stdout, "%s, in %s\n", t.count(), took(time.Since(began)))
		if t.fails() > 0 {
			return exit(exitFault)
		}
		return nil
	}
	return cmd
}

// checkFormat finds a format that is none, and a file that a report must not be written over.
func checkFormat(cmd *cobra.Command, format, out string) error {
	if !slices.Contains(formats, format) {
		return &mistake{summary: fmt.Sprintf("there is no format %q", format), hint: meant(format, formats, "give one of "+strings.Join(formats, ", ")), of: cmd}
	}
	switch {
	case !cmd.Flags().Changed("out"):
		return nil
	case out == "":
		return &mistake{summary: "the name after --out is empty", hint: "give a file, or leave --out away", of: cmd}
	case format == "text":
		return &mistake{summary: "--out is for sarif and junit", hint: "add --format sarif, or leave --out away", of: cmd}
	}
	was, err := os.ReadFile(out)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case len(was) > 0 && !report.Is(was):
		return &mistake{summary: out + " is there and is no report", hint: "choose another name after --out"}
	}
	return nil
}

// oneJob finds a --since where there are several jobs.
func oneJob(cmd *cobra.Command, since string) error {
	if since == "" {
		return nil
	}
	return &mistake{summary: "--since is for one job, and " + cmd.Flags().Arg(0) + " is a folder of jobs", hint: "give the folder of one of them", of: cmd}
}

// writeReport writes the outcome for programs to read, to standard output where no file is named.
func writeReport(stdout io.Writer, items []report.Item, format, out string) error {
	write := report.SARIF
	if format == "junit" {
		write = report.JUnit
	}
	text, err := write(items)
	if err != nil {
		return err
	}
	if out == "" {
		_, err = stdout.Write(text)
		return err
	}
	return os.WriteFile(out, text, 0o666) // less what the umask takes
}
