package watch

import (
	"context"
	"time"
)

// loop decides when to build. It knows time and nothing of disks.
type loop struct {
	quiet, cap time.Duration
	hints      <-chan struct{} // something may have changed
	// look reports whether what is on disk differs from what it was when look last said so. If wait is not 0 it cannot
	// tell yet: look again then, or after the next hint.
	look  func(now time.Time) (changed bool, wait time.Duration)
	build Build
	built func() // called after each build, in the loop's own goroutine
}

// run builds once and then whenever look says so after a quiet time. There is one build at a time. A change during a
// build ends it early by its context and another follows; but the build after one that was ended is let finish, so that
// saves without end do not leave a book that is never made. It returns when ctx and the build under way have ended.
func (l *loop) run(ctx context.Context) {
	var (
		timer  = time.NewTimer(l.quiet)
		armed  = false   // the timer is to be waited for
		first  time.Time // when the first hint since the last look came
		end    func()    // ends the build under way; nil if there is none
		ended  bool      // the build under way has been ended early
		spared bool      // the build under way must not be
		owed   bool      // there is something to build
		done   = make(chan struct{})
	)
	timer.Stop()
	arm := func(wait time.Duration) { timer.Reset(wait); armed = true }
	start := func() {
		inner, cancel := context.WithCancel(ctx)
		end, ended, spared, owed = cancel, false, ended, false
		go func() {
			defer func() { cancel(); done <- struct{}{} }()
			l.build(inner)
		}()
	}
	l.look(time.Now())
	start()
	for {
		select {
		case <-ctx.Done():
			if end != nil {
				<-done
			}
			return
		case <-l.hints:
			now := time.Now()
			if first.IsZero() {
				first = now
			}
			arm(max(0, min(l.quiet, l.cap-now.Sub(first))))
		case <-timer.C:
			armed, first = false, time.Time{}
			changed, wait := l.look(time.Now())
			owed = owed || changed
			switch {
			case wait > 0:
				arm(wait)
			case owed && end == nil:
				start()
			case owed && !spared:
				end()
				ended = true
			}
		case <-done:
			end = nil
			l.built()
			if owed && !armed && ctx.Err() == nil {
				start()
			}
		}
	}
}
