package watch

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Times given to look are made up: years after the files', so that their times are trusted, unless a test says otherwise.
var noon = time.Now().Add(24 * time.Hour)

func plainLedger(roots ...string) *ledger {
	return newLedger(roots, func(path, name string) bool { return strings.HasPrefix(name, ".") })
}

// looks has a ledger look at a time after noon and compares what it says.
func looks(t *testing.T, l *ledger, after time.Duration, changed bool, wait time.Duration) {
	t.Helper()
	gotChanged, gotWait := l.look(noon.Add(after))
	if gotChanged != changed || gotWait != wait {
		t.Errorf("look after %v: %v, %v; want %v, %v", after, gotChanged, gotWait, changed, wait)
	}
}

func TestLedgerSeesChanges(t *testing.T) {
	for _, c := range []struct {
		name   string
		happen func(t *testing.T, dir string)
		want   bool
	}{
		{"nothing", func(*testing.T, string) {}, false},
		{"other bytes", func(t *testing.T, dir string) { put(t, dir+"/job.md", "kind: other") }, true},
		{"other bytes of the same length", func(t *testing.T, dir string) { put(t, dir+"/job.md", "kind: jab") }, true},
		{"the same bytes again", func(t *testing.T, dir string) { put(t, dir+"/job.md", "kind: job") }, false},
		{"the same bytes in a new file", func(t *testing.T, dir string) {
			put(t, dir+"/.new", "kind: job")
			if err := os.Rename(dir+"/.new", dir+"/job.md"); err != nil {
				t.Fatal(err)
			}
		}, false},
		{"only the time", func(t *testing.T, dir string) {
			if err := os.Chtimes(dir+"/job.md", noon, noon); err != nil {
				t.Fatal(err)
			}
		}, false},
		{"only the mode", func(t *testing.T, dir string) {
			if err := os.Chmod(dir+"/job.md", 0o600); err != nil {
				t.Fatal(err)
			}
		}, false},
		{"a new file", func(t *testing.T, dir string) { put(t, dir+"/runs/1.md", "kind: run") }, true},
		{"a new file in capitals", func(t *testing.T, dir string) { put(t, dir+"/runs/1.MD", "kind: run") }, true},
		{"a picture", func(t *testing.T, dir string) { put(t, dir+"/runs/1.jpg", "x") }, false},
		{"what is passed over", func(t *testing.T, dir string) { put(t, dir+"/.job.md", "x"); put(t, dir+"/.git/x.md", "x") }, false},
		{"an empty folder", func(t *testing.T, dir string) {
			if err := os.Mkdir(dir+"/steps", 0o755); err != nil {
				t.Fatal(err)
			}
		}, false},
		{"another name", func(t *testing.T, dir string) {
			put(t, dir+"/parts/b.md", "kind: newel")
		}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			put(t, dir+"/job.md", "kind: job")
			put(t, dir+"/parts/a.md", "kind: newel")
			l := plainLedger(dir)
			looks(t, l, 0, false, 0)
			c.happen(t, dir)
			l.distrust(filepath.Join(dir, "job.md"))
			looks(t, l, time.Second, c.want, 0)
			looks(t, l, 2*time.Second, false, 0) // it is believed now
		})
	}
}

// TestLedgerTrustsTimes sees to it that a file whose time, size and identity are the same is read again only if it must be.
func TestLedgerTrustsTimes(t *testing.T) {
	long := noon.Add(-time.Hour)
	for _, c := range []struct {
		name   string
		saved  time.Time // the file's time
		before func(l *ledger, path string)
		want   bool
	}{
		{"an old file is taken as it was", long, func(*ledger, string) {}, false},
		{"one that the system named is read", long, func(l *ledger, path string) { l.distrust(path) }, true},
		{"all are read after lost events", long, func(l *ledger, _ string) { l.distrust("") }, true},
		{"one just saved is read", noon.Add(-2 * time.Second), func(*ledger, string) {}, true},
		{"one saved a little longer ago is not", noon.Add(-2*time.Second - 1), func(*ledger, string) {}, false},
		{"one from the future is read", noon.Add(time.Hour), func(*ledger, string) {}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, "job.md")
			stamp := func(content string) {
				put(t, path, content)
				if err := os.Chtimes(path, c.saved, c.saved); err != nil {
					t.Fatal(err)
				}
			}
			stamp("clear: 94")
			l := plainLedger(dir)
			looks(t, l, 0, false, 0)
			stamp("clear: 95") // same length, same time
			c.before(l, path)
			looks(t, l, time.Second, c.want, 0)
		})
	}
}

func TestLedgerDoubts(t *testing.T) {
	start := func(t *testing.T) (*ledger, string) {
		dir := t.TempDir()
		put(t, dir+"/job.md", "kind: job")
		put(t, dir+"/runs/1.md", "kind: run")
		l := plainLedger(dir)
		looks(t, l, 0, false, 0)
		return l, dir
	}
	remove := func(t *testing.T, name string) {
		if err := os.RemoveAll(name); err != nil {
			t.Fatal(err)
		}
	}
	t.Run("gone and back", func(t *testing.T) {
		l, dir := start(t)
		remove(t, dir+"/job.md")
		looks(t, l, ms(1000), false, ms(250))
		looks(t, l, ms(1100), false, ms(150))
		put(t, dir+"/job.md", "kind: job")
		looks(t, l, ms(1200), false, 0)
	})
	t.Run("gone and back with other bytes", func(t *testing.T) {
		l, dir := start(t)
		remove(t, dir+"/job.md")
		looks(t, l, ms(1000), false, ms(250))
		put(t, dir+"/job.md", "kind: other")
		looks(t, l, ms(1010), true, 0)
	})
	t.Run("gone for good", func(t *testing.T) {
		l, dir := start(t)
		remove(t, dir+"/runs")
		looks(t, l, ms(1000), false, ms(250))
		looks(t, l, ms(1249), false, ms(1))
		looks(t, l, ms(1250), true, 0)
		looks(t, l, ms(1300), false, 0)
	})
	t.Run("empty for a moment", func(t *testing.T) {
		l, dir := start(t)
		put(t, dir+"/job.md", "")
		looks(t, l, ms(1000), false, ms(250))
		put(t, dir+"/job.md", "kind: job")
		looks(t, l, ms(1010), false, 0)
	})
	t.Run("empty for good", func(t *testing.T) {
		l, dir := start(t)
		put(t, dir+"/job.md", "")
		looks(t, l, ms(1000), false, ms(250))
		looks(t, l, ms(1250), true, 0)
		looks(t, l, ms(1300), false, 0)
	})
	t.Run("new and empty", func(t *testing.T) {
		l, dir := start(t)
		put(t, dir+"/notes/a.md", "")
		looks(t, l, ms(1000), false, ms(250))
		put(t, dir+"/notes/a.md", "Ring the client.")
		looks(t, l, ms(1050), true, 0)
	})
	t.Run("another change waits with it, and is not lost", func(t *testing.T) {
		l, dir := start(t)
		remove(t, dir+"/job.md")
		put(t, dir+"/runs/1.md", "kind: flight")
		looks(t, l, ms(1000), false, ms(250))
		put(t, dir+"/job.md", "kind: job")
		looks(t, l, ms(1010), true, 0)
	})
	t.Run("each has its own time", func(t *testing.T) {
		l, dir := start(t)
		remove(t, dir+"/job.md")
		looks(t, l, ms(1000), false, ms(250))
		remove(t, dir+"/runs/1.md")
		looks(t, l, ms(1200), false, ms(250))
		looks(t, l, ms(1400), false, ms(50))
		looks(t, l, ms(1450), true, 0)
	})
	t.Run("a second absence has a time of its own", func(t *testing.T) {
		l, dir := start(t)
		remove(t, dir+"/job.md")
		looks(t, l, ms(1000), false, ms(250))
		put(t, dir+"/job.md", "kind: job")
		looks(t, l, ms(1200), false, 0)
		remove(t, dir+"/job.md")
		looks(t, l, ms(1300), false, ms(250))
	})
}

func TestLedgerFollows(t *testing.T) {
	top := t.TempDir()
	put(t, top+"/job/job.md", "kind: job")
	put(t, top+"/job/shop/a.md", "kind: newel")
	put(t, top+"/shop/b.md", "kind: newel")
	l := plainLedger(filepath.Join(top, "job"), filepath.Join(top, "job", "shop"), filepath.Join(top, "absent"))
	looks(t, l, 0, false, 0)
	l.follow([]string{filepath.Join(top, "job"), filepath.Join(top, "shop")})
	looks(t, l, time.Second, true, 0) // the new folder was not looked at when the book was built
	l.follow([]string{filepath.Join(top, "job")})
	looks(t, l, 2*time.Second, false, 0)
}

// TestLedgerOthers looks at pictures that a build has read, from the build on.
func TestLedgerOthers(t *testing.T) {
	long := noon.Add(-time.Hour)
	for _, c := range []struct {
		name   string
		saved  time.Time // the picture's time; the build begins at noon
		happen func(t *testing.T, l *ledger, picture string)
		want   bool
	}{
		{"nothing", long, func(*testing.T, *ledger, string) {}, false},
		{"other bytes", long, func(t *testing.T, l *ledger, picture string) { put(t, picture, "b"); l.distrust(picture) }, true},
		{"the same bytes again", long, func(t *testing.T, l *ledger, picture string) { put(t, picture, "a"); l.distrust(picture) }, false},
		{"saved while the build read it", noon, func(*testing.T, *ledger, string) {}, true},
		{"no longer named", long, func(t *testing.T, l *ledger, picture string) {
			l.others(nil, noon)
			put(t, picture, "b")
			l.distrust(picture)
		}, false},
		{"named again", long, func(t *testing.T, l *ledger, picture string) {
			l.others([]string{picture}, noon)
			put(t, picture, "b")
			l.distrust(picture)
		}, true},
		{"one that was not there comes", long, func(t *testing.T, l *ledger, picture string) {
			put(t, filepath.Dir(picture)+"/later.jpg", "a")
		}, true},
		{"a picture that nobody names", long, func(t *testing.T, l *ledger, picture string) {
			put(t, filepath.Dir(picture)+"/other.jpg", "a")
		}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			picture := filepath.Join(dir, "stair.jpg")
			put(t, dir+"/job.md", "kind: job")
			put(t, picture, "a")
			if err := os.Chtimes(picture, c.saved, c.saved); err != nil {
				t.Fatal(err)
			}
			l := plainLedger(dir)
			looks(t, l, 0, false, 0)
			doubt := l.others([]string{picture, dir + "/./later.jpg"}, noon)
			check(t, "doubt", !c.saved.Equal(long), doubt)
			c.happen(t, l, picture)
			looks(t, l, time.Second, c.want, 0)
			looks(t, l, 2*time.Second, false, 0) // it is believed now
		})
	}
}

// TestLedgerOthersWhileSaved: a picture that is saved while the ledger takes it up is in doubt, or seen to be changed at the next look, whichever comes first.
func TestLedgerOthersWhileSaved(t *testing.T) {
	dir := t.TempDir()
	path := dir + "/stair.jpg"
	long := time.Now().Add(-time.Hour)
	for range 2000 {
		put(t, path, "a")
		if err := os.Chtimes(path, long, long); err != nil {
			t.Fatal(err)
		}
		put(t, dir+"/new", "b")
		l := newLedger([]string{dir}, func(string, string) bool { return false })
		l.look(time.Now())
		saved := make(chan error)
		go func() { saved <- os.Rename(dir+"/new", path) }()
		doubt := l.others([]string{path}, time.Now())
		if err := <-saved; err != nil {
			t.Fatal(err)
		}
		l.distrust(path) // as the system's word has it done
		if changed, _ := l.look(time.Now()); !changed && !doubt {
			t.Fatal("a save was missed")
		}
	}
}
