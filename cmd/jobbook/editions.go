package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"balustrade/jobbook"
	"balustrade/jobbook/book"
)

const allEditions = "all"

// editionFlag adds --edition, and gives what it asks for and where each goes when the command runs; nothing where it is not given.
func editionFlag(cmd *cobra.Command, to func(dir string) (string, error)) func(dir string) ([]jobbook.Edition, error) {
	word := cmd.Flags().String("edition", "", "make the book `FOR` the crew, the client or the inspector; all makes the whole book and these three")
	return func(dir string) ([]jobbook.Edition, error) {
		if !cmd.Flags().Changed("edition") {
			return nil, nil
		}
		out, err := to(dir)
		if err != nil {
			return nil, err
		}
		if *word == allEditions {
			list := []jobbook.Edition{{Of: book.Whole, Out: out}}
			for _, e := range book.Editions {
				list = append(list, jobbook.Edition{Of: e, Out: beside(out, e)})
			}
			return list, nil
		}
		known := []string{allEditions}
		for _, e := range book.Editions {
			if *word == string(e) {
				if !cmd.Flags().Changed("out") {
					out = beside(out, e)
				}
				return []jobbook.Edition{{Of: e, Out: out}}, nil
			}
			known = append(known, string(e))
		}
		return nil, &mistake{summary: fmt.Sprintf("there is no edition %q", *word), hint: meant(*word, known, "give one of "+strings.Join(known, ", ")), of: cmd}
	}
}

// beside is where an edition goes: mill-house-book-client beside mill-house-book.
func beside(out string, e book.Edition) string { return filepath.Clean(out) + "-" + string(e) }

// buildEditions makes editions, and tells what came of each.
func buildEditions(cmd *cobra.Command, m *jobbook.Maker, dir string, editions []jobbook.Edition) error {
	began := time.Now()
	if jobbook.IsYard(dir) {
		return &mistake{summary: "an edition is made of one job, and " + dir + " is a folder of jobs", hint: "give the folder of one of them", of: cmd}
	}
	result, written, err := m.BuildEditions(cmd.Context(), dir, editions)
	if err != nil {
		out := editions[min(len(written), len(editions)-1)].Out
		return failed(out, err)
	}
	t := teller{result: result, stdout: cmd.OutOrStdout(), stderr: cmd.ErrOrStderr()}
	if result.Plan == nil {
		t.problems("no book was made")
		return exit(exitFault)
	}
	t.problems("it was made all the same")
	for i, e := range editions {
		t.result.Site = written[i]
		name := "the whole book"
		if e.Of != book.Whole {
			name = "for the " + string(e.Of)
		}
		fmt.Fprintf(t.stdout, "%s: %s, %s\n", e.Out, name, t.wrote())
		for _, kept := range written[i].Kept {
			fmt.Fprintf(t.stdout, "  %s is no longer part of it; it was changed by hand, so it stays\n", filepath.Join(e.Out, filepath.FromSlash(kept)))
		}
	}
	t.alone(dir)
	t.changed("")
	t.failing()
	t.missing()
	for _, e := range editions {
		fmt.Fprintf(t.stdout, "open %s\n", filepath.Join(e.Out, "index.html"))
	}
	fmt.Fprintf(t.stdout, "made in %s\n", took(time.Since(began)))
	return nil
}
