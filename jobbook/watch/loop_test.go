package watch

import (
	"context"
	"fmt"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

// shop is a made-up disk and a diary, in the made-up time of synctest.
type shop struct {
	t        *testing.T
	begin    time.Time
	mu       sync.Mutex // over what follows
	hints    chan struct{}
	saves    int           // how often the content has changed
	seen     int           // saves at the last look that could tell
	doubtful time.Time     // until then, look cannot tell
	takes    time.Duration // a build
	diary    []string
	running  int
}

func (s *shop) note(format string, args ...any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.diary = append(s.diary, fmt.Sprintf("%d ", time.Since(s.begin).Milliseconds())+fmt.Sprintf(format, args...))
}

func (s *shop) look(now time.Time) (bool, time.Duration) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if wait := s.doubtful.Sub(now); wait > 0 {
		return false, wait
	}
	changed := s.seen != s.saves
	s.seen = s.saves
	return changed, 0
}

func (s *shop) build(ctx context.Context) {
	s.mu.Lock()
	saves := s.saves
	if s.running++; s.running > 1 {
		s.t.Error("two builds at once")
	}
	s.mu.Unlock()
	defer func() { s.mu.Lock(); s.running--; s.mu.Unlock() }()
	s.note("build %d", saves)
	if s.takes == 0 {
		return
	}
	select {
	case <-time.After(s.takes):
		s.note("done")
	case <-ctx.Done():
		s.note("ended")
	}
}

// save changes the content and says so; touch only says so.
func (s *shop) save()  { s.mu.Lock(); s.saves++; s.mu.Unlock(); s.touch() }
func (s *shop) touch() { s.hints <- struct{}{} }

// unclear has look unable to tell until then.
func (s *shop) unclear(until time.Time) { s.mu.Lock(); s.doubtful = until; s.mu.Unlock() }

// days runs a loop with what happens in a test, and compares the diary: each line is the millisecond and the event.
// The times follow from the options (25 ms quiet, 250 ms at most) by adding up.
func days(t *testing.T, takes time.Duration, happens func(s *shop), want ...string) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		s := &shop{t: t, begin: time.Now(), hints: make(chan struct{}), takes: takes}
		l := &loop{quiet: 25 * time.Millisecond, cap: 250 * time.Millisecond, hints: s.hints, look: s.look, build: s.build, built: func() {}}
		ctx, stop := context.WithCancel(t.Context())
		ended := make(chan struct{})
		go func() { l.run(ctx); close(ended) }()
		synctest.Wait()
		happens(s)
		time.Sleep(time.Hour) // made-up time: until nothing more can happen
		stop()
		<-ended
		check(t, "diary", want, s.diary)
	})
}

func ms(n int) time.Duration { return time.Duration(n) * time.Millisecond }

func TestLoop(t *testing.T) {
	t.Run("builds at the start", func(t *testing.T) {
		days(t, 0, func(*shop) {}, "0 build 0")
	})
	t.Run("a save is built after the quiet time", func(t *testing.T) {
		days(t, 0, func(s *shop) { time.Sleep(ms(100)); s.save() }, "0 build 0", "125 build 1")
	})
	t.Run("each event of a save starts the quiet time again", func(t *testing.T) {
		days(t, 0, func(s *shop) {
			time.Sleep(ms(80))
			for range 3 { // at 100, 120, 140
				time.Sleep(ms(20))
				s.save()
			}
		}, "0 build 0", "165 build 3")
	})
	t.Run("a folder that never rests is built at the cap", func(t *testing.T) {
		days(t, 0, func(s *shop) {
			for range 60 { // every 11 ms from 11 to 660
				time.Sleep(ms(11))
				s.save()
			}
			// First hint 11, look 261: saves up to 253, the 23rd. First hint 264, look 514: up to 506, the 46th.
			// Then the last save, 660, is followed by quiet.
		}, "0 build 0", "261 build 23", "514 build 46", "685 build 60")
	})
	t.Run("an event without a change builds nothing", func(t *testing.T) {
		days(t, 0, func(s *shop) { s.touch(); time.Sleep(ms(100)); s.touch() }, "0 build 0")
	})
	t.Run("what cannot be told yet is looked at again", func(t *testing.T) {
		days(t, 0, func(s *shop) {
			time.Sleep(ms(100))
			s.unclear(time.Now().Add(ms(275)))
			s.save()
		}, "0 build 0", "375 build 1")
	})
	t.Run("doubt ends early when the file comes back", func(t *testing.T) {
		days(t, 0, func(s *shop) {
			time.Sleep(ms(100))
			s.unclear(time.Now().Add(ms(275)))
			s.save()
			time.Sleep(ms(50))
			s.unclear(time.Time{})
			s.save()
		}, "0 build 0", "175 build 2")
	})
	t.Run("the newest wins", func(t *testing.T) {
		days(t, ms(500), func(s *shop) {
			time.Sleep(ms(100))
			s.save()
		}, "0 build 0", "125 ended", "125 build 1", "625 done")
	})
	t.Run("a touch during a build does not end it", func(t *testing.T) {
		days(t, ms(500), func(s *shop) { time.Sleep(ms(100)); s.touch() }, "0 build 0", "500 done")
	})
	t.Run("saves without end do not starve the book", func(t *testing.T) {
		days(t, ms(500), func(s *shop) {
			for range 10 { // every 100 ms from 100 to 1000
				time.Sleep(ms(100))
				s.save()
			}
		},
			"0 build 0", "125 ended", "125 build 1", // ended once
			"625 done", "625 build 6", // let finish; the saves at 200 to 600 are owed, the look at 625 sees the sixth
			"725 ended", "725 build 7", "1225 done", "1225 build 10", "1725 done")
	})
	t.Run("a build that is owed waits for a save under way", func(t *testing.T) {
		days(t, ms(200), func(s *shop) {
			time.Sleep(ms(100))
			s.save() // ends the first at 125; the second lasts until 325
			time.Sleep(ms(100))
			s.save() // at 200: owed
			time.Sleep(ms(120))
			s.save() // at 320: the timer is running at 325
		}, "0 build 0", "125 ended", "125 build 1", "325 done", "345 build 3", "545 done")
	})
	t.Run("the end ends the build and waits for it", func(t *testing.T) {
		synctest.Test(t, func(t *testing.T) {
			s := &shop{t: t, begin: time.Now(), hints: make(chan struct{}), takes: time.Hour}
			l := &loop{quiet: 1, cap: 1, hints: s.hints, look: s.look, build: s.build, built: func() {}}
			ctx, stop := context.WithTimeout(t.Context(), time.Minute)
			defer stop()
			l.run(ctx)
			check(t, "diary", []string{"0 build 0", "60000 ended"}, s.diary)
		})
	})
}

func TestLoopAsksAfterEachBuild(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := &shop{t: t, begin: time.Now(), hints: make(chan struct{}), takes: ms(10)}
		l := &loop{quiet: ms(25), cap: ms(250), hints: s.hints, look: s.look, build: s.build, built: func() { s.note("built") }}
		ctx, stop := context.WithCancel(t.Context())
		ended := make(chan struct{})
		go func() { l.run(ctx); close(ended) }()
		time.Sleep(ms(100))
		s.save()
		time.Sleep(ms(100))
		stop()
		<-ended
		check(t, "diary", []string{"0 build 0", "10 done", "10 built", "125 build 1", "135 done", "135 built"}, s.diary)
	})
}
