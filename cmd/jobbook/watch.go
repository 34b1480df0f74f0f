package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"github.com/spf13/cobra"

	"balustrade/jobbook"
	"balustrade/jobbook/source"
	"balustrade/jobbook/watch"
)

func watchCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "watch DIR [--out BOOK] [--since NAME] [--serve ADDR] [--poll TIME]",
		Short: "make it again at every save",
		Long: `Makes the book of the job in DIR now and again at every save in DIR or its shop,
until Ctrl-C. Where a file can't be understood, the last good book stays.

Where DIR is a folder of jobs, those are made again that a save may touch.

The page of changes is about the last issue, or what --since names, as for build; a
branch is looked up anew at every save. What differs is told at every save.

With --serve, pages open in a browser of this machine load themselves again.`,
		DisableFlagsInUseLine: true,
		Args:                  jobFolder,
	}
	to, since := outFlag(cmd), sinceFlag(cmd)
	serve := cmd.Flags().String("serve", "", "show the book at `ADDR` of this machine, such as :8080; port 0 takes a free one")
	poll := cmd.Flags().Duration("poll", 0, "look every `TIME`, such as 2s, instead of asking the system to say")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		out, err := to(args[0])
		if err != nil {
			return err
		}
		named, err := since()
		if err != nil {
			return err
		}
		if *poll < 0 {
			return &mistake{summary: fmt.Sprintf("--poll %s is less than nothing", *poll), hint: "write a time such as 2s", of: cmd}
		}
		if jobbook.IsYard(args[0]) {
			if err := oneJob(cmd, named); err != nil {
				return err
			}
			w := &yardWatching{watching: watching{dir: args[0], out: out, cmd: cmd}}
			dirs := func() []string { return []string{w.dir} }
			return w.run(cmd.Context(), "the jobs in "+w.dir, *serve, watch.Options{Dirs: dirs, Files: w.maker.Pictures, Changed: w.maker.Changed, Poll: *poll}, w.buildYard)
		}
		w := &watching{dir: args[0], out: out, cmd: cmd, maker: jobbook.Maker{Since: named}}
		pictures := func() []string { return w.pictures }
		return w.run(cmd.Context(), strings.Join(w.folders(), " and "), *serve, watch.Options{Dirs: w.folders, Files: pictures, Poll: *poll}, w.build)
	}
	return cmd
}

// watching is one watch under way.
type watching struct {
	dir, out string
	cmd      *cobra.Command
	lock     sync.Mutex // held while something is told: the watcher says things of its own, from other goroutines
	preview  *watch.Preview
	maker    jobbook.Maker
	pictures []string // that the last book read
	built    bool     // once, well or not
	made     bool     // a book, once
	failed   error    // of the first build, which ends the watch
}

func (w *watching) say(format string, args ...any) {
	w.lock.Lock()
	defer w.lock.Unlock()
	fmt.Fprintf(w.cmd.OutOrStdout(), format, args...)
}

// run builds and watches until ctx ends. what is watched in words, and o says how; its ways of ignoring and telling are the same for a job and a yard.
func (w *watching) run(ctx context.Context, what, serve string, o watch.Options, build func(context.Context)) error {
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	ended := func() error { return nil }
	if w.cmd.Flags().Changed("serve") {
		w.preview = watch.NewPreview(w.out)
		var err error
		if ended, err = w.serve(ctx, stop, serve); err != nil {
			return err
		}
	}
	w.say("watching %s; Ctrl-C ends\n", what)
	o.Ignore = w.isBook
	o.Log = func(line string) { w.say("%s\n", line) }
	err := watch.Run(ctx, o, func(ctx context.Context) {
		if build(ctx); w.failed != nil {
			stop()
		}
	})
	stop()
	served := ended()
	switch {
	case w.failed != nil:
		return w.failed
	case err != nil:
		return err
	}
	return served
}

// serve starts the preview and waits until it can be opened. ended waits for its end, which ends the watch as well.
func (w *watching) serve(ctx context.Context, stop func(), addr string) (ended func() error, err error) {
	ready, done := make(chan string, 1), make(chan error, 1)
	go func() {
		defer stop()
		done <- w.preview.Serve(ctx, addr, func(url string) { ready <- url })
	}()
	select {
	case url := <-ready:
		w.say("preview at %s\n", url)
		return func() error { return previewError(<-done) }, nil
	case err := <-done:
		return nil, previewError(err)
	}
}

func previewError(err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("the preview: %w", err)
}

// folders are those to watch: the job's, and the shop's where it is not within it.
func (w *watching) folders() []string {
	dirs := []string{w.dir}
	if shop := jobbook.ShopDir(w.dir); shop != "" && shop != filepath.Join(w.dir, "shop") {
		dirs = append(dirs, shop)
	}
	return dirs
}

// isBook passes over the book, should it lie in the shop's folder.
func (w *watching) isBook(path string) bool {
	book, err := filepath.Abs(w.out)
	if err != nil {
		return false
	}
	path, err = filepath.Abs(path)
	if err != nil {
		return false
	}
	rel, err := filepath.Rel(book, path)
	return err == nil && filepath.IsLocal(rel)
}

// build makes the book once, and tells the terminal and open pages what came of it.
func (w *watching) build(ctx context.Context) {
	began := time.Now()
	result, err := w.maker.Build(ctx, w.dir, w.out)
	if errors.Is(err, context.Canceled) { // a newer save ended this build before it wrote: the next one tells
		return
	}
	if err == nil && result.Plan != nil {
		w.pictures = result.Pictures
	}
	first := !w.built
	w.built = true
	w.lock.Lock()
	defer w.lock.Unlock()
	t := teller{result: result, stdout: w.cmd.OutOrStdout(), stderr: w.cmd.ErrOrStderr()}
	switch {
	case err != nil && first:
		w.failed = failed(w.out, err)
	case err != nil:
		err = failed(w.out, err)
		fmt.Fprintf(t.stderr, "jobbook: %v\n", err)
		w.show(err.Error())
	case result.Plan == nil:
		t.problems("the book stays as it was")
		var text bytes.Buffer
		plain := func(file string) string { return file }
		source.Print(&text, result.Problems, result.Texts.Line, plain)
		if then := result.Then; then != nil {
			source.Print(&text, then.Problems, then.Texts.Line, plain)
		}
		w.show(strings.TrimRight(text.String(), "\n"))
	default:
		t.problems("the book was made all the same")
		fmt.Fprintf(t.stdout, "%s; %s; %s\n", t.wrote(), t.settled(), took(time.Since(began)))
		if w.maker.Since != "" {
			t.changed("; see changes.html")
		}
		if !w.made {
			fmt.Fprintf(t.stdout, "open %s\n", filepath.Join(w.out, "index.html"))
		}
		if w.preview != nil {
			w.preview.Problems("")
			if !w.made || result.Site.Written+result.Site.Removed > 0 {
				w.preview.Reload()
			}
		}
		w.made = true
	}
}

// show puts a problem's text on the open pages.
func (w *watching) show(text string) {
	if w.preview != nil {
		w.preview.Problems(text)
	}
}
