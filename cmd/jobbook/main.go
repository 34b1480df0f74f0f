// Command jobbook makes a job book out of a folder of Markdown: the measurements and notes of one stair or landing guard.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"

	"github.com/spf13/cobra"

	"balustrade/jobbook/site"
	"balustrade/jobbook/watch"
)

// Exit codes. They are part of what the command promises, so that a commit hook or a script can go by them.
const (
	exitDone  = 0
	exitFault = 1 // a file can't be understood, or, for check alone, a check fails
	exitUsage = 2 // the command was used wrongly
	exitDisk  = 3 // the disk said no
)

func main() {
	debug.SetGCPercent(400) // one build makes much garbage once: a sixth of its time saved for some 10 MiB more
	os.Exit(program())
}

// program is run with what the system hands to a program. The first interrupt ends what is under way in order; a second one ends
// the program at once.
func program() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	context.AfterFunc(ctx, stop)
	return run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
}

// run carries out one command line and gives its exit code.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	root := commands()
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := wrongCommand(root, args)
	if err == nil {
		err = root.ExecuteContext(ctx)
	}
	if err == nil {
		return exitDone
	}
	return reportError(stderr, root, err)
}

// exit is an error that has been told already.
type exit int

func (e exit) Error() string { return fmt.Sprintf("exit code %d", int(e)) }

// reportError tells an error and gives its exit code.
//
// Wording: one line of what is wrong, lower case, no full stop, naming what was found; a hint that starts with a verb.
func reportError(stderr io.Writer, root *cobra.Command, err error) int {
	var (
		told    exit
		wrong   *mistake
		place   *site.UsageError
		foreign *site.ForeignError
		address *watch.AddressError
	)
	say := func(summary, hint string) {
		fmt.Fprintf(stderr, "jobbook: %s\n", summary)
		if hint != "" {
			fmt.Fprintf(stderr, "  hint: %s\n", hint)
		}
	}
	switch {
	case errors.As(err, &told):
		return int(told)
	case errors.As(err, &wrong):
		say(wrong.summary, wrong.hint)
		if wrong.of != nil {
			fmt.Fprintf(stderr, "\n%s", wrong.of.UsageString())
		}
		return exitUsage
	case errors.As(err, &place):
		say(place.Summary, place.Hint)
		return exitUsage
	case errors.As(err, &foreign):
		say("the output folder holds something that is not ours: "+foreign.Error(), "choose another folder with --out")
		return exitUsage
	case errors.As(err, &address):
		say("--serve "+address.Error(), "")
		return exitUsage
	}
	say(err.Error(), "")
	return exitDisk
}
