// Package watch makes a book again at every save, and shows it on this machine while it changes.
//
// Three parts know nothing of each other's work: eyes say that something may have changed (fsnotify, or a look once a
// second), a ledger says whether it has (the bytes of the Markdown files, and of others that the build read), and a loop
// says when to build (a quiet time, one build at a time, the newest wins). The preview is a fourth.
package watch

import (
	"context"
	"slices"
	"time"

	"balustrade/jobbook/source"
)

// Build makes the book and says what there is to say. Its context ends when a newer save makes it pointless, or when
// watching ends.
type Build func(ctx context.Context)

// Options say what to watch, and how.
type Options struct {
	// Dirs are the folders to watch with all that is below them: the job and its shop. It is asked again after each build.
	Dirs func() []string
	// Files are other files that the build reads, below one of Dirs, there or not. It is asked again after each build. May be nil.
	Files func() []string
	// Changed is told what was saved, came or went, before the build that follows; also while another one is under way. The paths start with one of Dirs, or are of Files. May be nil.
	Changed func(paths []string)
	// Ignore passes over a file, or a folder with all that is below it. The path starts with one of Dirs. Hidden names and
	// what editors leave behind (source.Ignored) are passed over anyway. May be nil.
	Ignore func(path string) bool
	Quiet  time.Duration // from the last change to the build; 25 ms if 0
	Cap    time.Duration // from the first change to the build, however many follow; 250 ms if 0
	Poll   time.Duration // look this often instead of asking the system to say; 0: ask the system
	Log    func(string)  // takes one line at a time, from any goroutine; may be nil
}

const (
	// An editor that moves the old file away and writes a new one leaves no file for up to 7 ms and is done after 10
	// (measured), so 25 ms of quiet see the end of any usual save.
	defaultQuiet = 25 * time.Millisecond
	// A folder that never comes to rest is still built four times a second.
	defaultCap = 250 * time.Millisecond
	// A file that is gone or empty may be half a save; a person notices no delay below a quarter of a second or so.
	patience = 250 * time.Millisecond
	// Looking at a thousand folders takes about 30 ms (measured), so once a second costs little.
	everySecond = time.Second
)

// Run builds once, and then at every change of the Markdown files and of Files, until ctx ends. It returns nil then, after
// the build under way has ended. Nothing that happens to the folders ends it: if one goes away it says so and looks for it, and if
// the system cannot watch them it says so and looks once a second.
func Run(ctx context.Context, o Options, build Build) error {
	if o.Quiet <= 0 {
		o.Quiet = defaultQuiet
	}
	if o.Cap <= 0 {
		o.Cap = defaultCap
	}
	if o.Files == nil {
		o.Files = func() []string { return nil }
	}
	if o.Log == nil {
		o.Log = func(string) {}
	}
	ignore := func(path, name string) bool {
		return source.Ignored(name) || o.Ignore != nil && o.Ignore(path)
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()

	dirs := slices.Clone(o.Dirs())
	ledger := newLedger(dirs, ignore)
	hints := make(chan struct{}, 1)
	eyes := newEyes(dirs, ignore, o.Poll, o.Log)
	eyes.hint = func() {
		select {
		case hints <- struct{}{}:
		default: // one is waiting already
		}
	}
	eyes.doubt = ledger.distrust
	eyes.open() // before the first look, so that nothing falls between
	ended := make(chan struct{})
	go func() { defer close(ended); eyes.run(ctx) }()

	var began time.Time // of the build that ended last; the loop has one at a time
	look := func(now time.Time) (changed bool, wait time.Duration) {
		if changed, wait = ledger.look(now); changed && o.Changed != nil {
			o.Changed(ledger.news)
		}
		return changed, wait
	}
	l := &loop{quiet: o.Quiet, cap: o.Cap, hints: hints, look: look, build: func(ctx context.Context) { began = time.Now(); build(ctx) }}
	l.built = func() {
		if now := slices.Clone(o.Dirs()); !slices.Equal(now, dirs) {
			dirs = now
			ledger.follow(dirs)
			eyes.follow(ctx, dirs)
		}
		if ledger.others(o.Files(), began) {
			eyes.hint()
		}
	}
	l.run(ctx)
	stop()
	<-ended
	return nil
}
