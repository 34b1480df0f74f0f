package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"balustrade/jobbook"
)

func startCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "start DIR",
		Short: "a new job folder, with the questions to ask on site",
		Long: `Makes the folder DIR with a new job in it: files to fill in, every key with what
to ask or measure. It builds as it is, into a book that lists what to measure.

A folder that has something in it is left alone.`,
		DisableFlagsInUseLine: true,
		Args:                  oneFolder,
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := args[0]
			made, err := jobbook.Start(dir)
			if err != nil {
				return fmt.Errorf("cannot start a job in %s: %w", dir, err)
			}
			out := cmd.OutOrStdout()
			fmt.Fprintf(out, "%s: a new job, to be filled in\n", dir)
			for _, f := range made {
				fmt.Fprintf(out, "  %s  %s\n", filepath.Join(dir, filepath.FromSlash(f.Path)), f.What)
			}
			fmt.Fprint(out, "next\n",
				"  write behind the keys what you ask and measure; what is not known yet stays blank\n",
				"  make the book at any time, it lists what is still to be measured:\n",
				"    jobbook build ", quoted(dir), "\n",
				"  or see it in a browser while you write:\n",
				"    jobbook watch ", quoted(dir), " --serve localhost:8080\n",
				"  every key that a file can have, what it means and what it takes:\n",
				"    jobbook keys\n")
			return nil
		},
	}
}
