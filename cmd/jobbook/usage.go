package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"balustrade/jobbook"
	"balustrade/jobbook/source"
)

// mistake is a command line that cannot be carried out.
type mistake struct {
	summary, hint string
	of            *cobra.Command // whose usage helps; nil where it would not
}

func (m *mistake) Error() string { return m.summary }

// commands makes the commands anew, so that one run leaves nothing behind for the next.
func commands() *cobra.Command {
	root := &cobra.Command{
		Use:   "jobbook",
		Short: "Make a job book out of a folder of measurements",
		Long: `Makes a job book out of a folder of Markdown: where every baluster stands, every
opening judged, cut and buying lists, finishing, the work in order.

A new job: "jobbook start DIR" lays out a folder with the questions to ask on
site. What stays blank in it is listed in the book as still to be measured.`,
		SilenceUsage: true, SilenceErrors: true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
		RunE: func(cmd *cobra.Command, _ []string) error {
			return &mistake{summary: "what is to be done?", hint: "give a command", of: cmd}
		},
	}
	cobra.EnableCommandSorting = false // they stand in the order in which a job needs them
	root.AddCommand(startCommand(), buildCommand(), watchCommand(), checkCommand(), dayCommand(), issueCommand(), keysCommand())
	root.SetHelpCommand(helpCommand())
	root.InitDefaultHelpCmd()
	root.SetFlagErrorFunc(wrongFlag)
	cobra.AddTemplateFunc("bare", bare)
	root.SetUsageTemplate(usage)
	return root
}

// bare is how a command is written without its flags: jobbook build DIR.
func bare(cmd *cobra.Command) string {
	line, _, _ := strings.Cut(cmd.UseLine(), " [")
	return line
}

// usage is what help prints below the words about a command.
const usage = `usage:{{if .HasAvailableSubCommands}}
{{range .Commands}}{{if .IsAvailableCommand}}  {{rpad (bare .) 24}} {{.Short}}
{{end}}{{end}}
  jobbook COMMAND --help   what a command does, and its flags
{{else}}
  {{.UseLine}}
{{if .HasAvailableLocalFlags}}
{{.LocalFlags.FlagUsages}}{{end}}{{end}}`

func helpCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "say more about a command",
		RunE: func(cmd *cobra.Command, args []string) error {
			of := cmd.Root()
			for _, word := range args {
				i := indexOf(of, word)
				if i == nil {
					return unknownCommand(of, word)
				}
				of = i
			}
			of.InitDefaultHelpFlag()
			return of.Help()
		},
	}
}

func indexOf(of *cobra.Command, word string) *cobra.Command {
	for _, c := range of.Commands() {
		if c.Name() == word {
			return c
		}
	}
	return nil
}

// wrongCommand finds a first word that is no command, before flags are looked at, whose own mistakes would hide it.
func wrongCommand(root *cobra.Command, args []string) error {
	for _, word := range args {
		if strings.HasPrefix(word, "-") {
			continue
		}
		if indexOf(root, word) == nil {
			return unknownCommand(root, word)
		}
		return nil
	}
	return nil
}

func unknownCommand(root *cobra.Command, word string) error {
	var known []string
	for _, c := range root.Commands() {
		known = append(known, c.Name())
	}
	m := &mistake{summary: fmt.Sprintf("unknown command %q", word), hint: meant(word, known, ""), of: root}
	if m.hint != "" {
		return m
	}
	if info, err := os.Stat(word); err == nil && info.IsDir() {
		m.hint = "put the command before the folder: jobbook build " + word
	}
	return m
}

// meant is a hint at the known word that was probably meant, or another one where none is near.
func meant(word string, known []string, otherwise string) string {
	if near := source.Suggest(word, known); near != "" {
		return "did you mean " + near + "?"
	}
	return otherwise
}

// wrongFlag turns what the flag parser found into a mistake.
func wrongFlag(cmd *cobra.Command, err error) error {
	m := &mistake{summary: err.Error(), of: cmd}
	var unknown *pflag.NotExistError
	if errors.As(err, &unknown) {
		var known []string
		cmd.Flags().VisitAll(func(f *pflag.Flag) { known = append(known, f.Name) })
		if near := source.Suggest(unknown.GetSpecifiedName(), known); near != "" {
			m.hint = fmt.Sprintf("did you mean --%s?", near)
		}
	}
	return m
}

// oneFolder is the rule for the words after a command: the folder of one job, to be made or there already.
func oneFolder(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return &mistake{summary: cmd.Name() + ": the folder is missing", hint: "give the folder of the job, . for the one you are in", of: cmd}
	case len(args) > 1:
		return &mistake{summary: fmt.Sprintf("%s takes one folder, found %d: %s", cmd.Name(), len(args), strings.Join(args, ", ")),
			hint: "put a name with spaces in quotes", of: cmd}
	case args[0] == "":
		return &mistake{summary: cmd.Name() + ": the name of the folder is empty", hint: "give the folder of the job, . for the one you are in", of: cmd}
	}
	return nil
}

// jobFolder is oneFolder for a folder that must be there.
func jobFolder(cmd *cobra.Command, args []string) error {
	if err := oneFolder(cmd, args); err != nil {
		return err
	}
	info, err := os.Stat(args[0])
	switch {
	case errors.Is(err, os.ErrNotExist):
		return &mistake{summary: "there is no folder " + args[0], hint: "make a new job with: jobbook start " + args[0]}
	case err != nil:
		return err
	case !info.IsDir():
		return &mistake{summary: args[0] + " is not a folder", hint: "give the folder that it is in: " + filepath.Dir(args[0])}
	}
	if job, ok := jobAbove(args[0]); ok {
		return &mistake{summary: args[0] + " is a part of a job", hint: "give the folder that job.md is in: " + job}
	}
	return nil
}

// jobAbove is the folder of the job that dir is a part of, where dir is no job and no folder of jobs itself.
func jobAbove(dir string) (string, bool) {
	has := func(dir string) bool {
		_, err := os.Stat(filepath.Join(dir, "job.md"))
		return err == nil
	}
	abs, err := filepath.Abs(dir)
	if err != nil || has(abs) || jobbook.IsYard(dir) || !has(filepath.Dir(abs)) {
		return "", false
	}
	if base := filepath.Base(filepath.Clean(dir)); base == "." || base == ".." {
		return filepath.Dir(abs), true
	}
	return filepath.Dir(filepath.Clean(dir)), true
}

// bookFolder is where the book of a job goes when nothing is said: beside the job, with -book after its name.
func bookFolder(dir string) (string, error) {
	dir = filepath.Clean(dir)
	if base := filepath.Base(dir); base == "." || base == ".." {
		whole, err := filepath.Abs(dir)
		if err != nil {
			return "", err
		}
		dir = whole
	}
	return dir + "-book", nil
}

// outFlag adds --out, and gives what it says when the command runs.
func outFlag(cmd *cobra.Command) func(dir string) (string, error) {
	out := cmd.Flags().String("out", "", "the folder `BOOK` to write to; DIR-book where it is not given")
	return func(dir string) (string, error) {
		if *out != "" {
			return *out, nil
		}
		if cmd.Flags().Changed("out") {
			return "", &mistake{summary: "the name after --out is empty", hint: "give a folder, or leave --out away", of: cmd}
		}
		return bookFolder(dir)
	}
}

// sinceFlag adds --since, and gives what it says when the command runs.
func sinceFlag(cmd *cobra.Command) func() (string, error) {
	since := cmd.Flags().String("since", "", "compare with the issue `NAME`, or with a git revision; the last issue where it is not given")
	return func() (string, error) {
		if *since == "" && cmd.Flags().Changed("since") {
			return "", &mistake{summary: "the name after --since is empty", hint: "give an issue's, a branch, a tag or a hash", of: cmd}
		}
		return *since, nil
	}
}
