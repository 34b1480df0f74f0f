package book

import (
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
)

// TestAtOnce: each piece of work is done once, and all are done when it returns.
func TestAtOnce(t *testing.T) {
	for _, n := range []int{0, 1, 2, 3, 100} {
		var mutex sync.Mutex
		var done []int
		atOnce(n, func(i int) {
			mutex.Lock()
			defer mutex.Unlock()
			done = append(done, i)
		})
		slices.Sort(done)
		if len(done) != n || n > 0 && (done[0] != 0 || done[n-1] != n-1 || len(slices.Compact(done)) != n) {
			t.Errorf("of %d were done: %v", n, done)
		}
	}
}

// TestSameOnAnyMachine: a book that was made by one processor has the same files and the same problems as one made by several.
func TestSameOnAnyMachine(t *testing.T) {
	p, _ := samplePlan(t, nil)
	for _, n := range p.Job.Notes { // something to warn of on a page
		n.Body += "\n[nowhere](none.md)\n"
		n.Text += "\n[nowhere](none.md)\n"
	}
	for _, edition := range append(slices.Clone(Editions), Whole) {
		made := func(processors int) ([]File, []string) {
			defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(processors))
			files, problems, err := render(p, templatesFolder(), edition)
			if err != nil {
				t.Fatal(err)
			}
			var words []string
			for _, x := range problems {
				words = append(words, x.At.String()+" "+x.Summary)
			}
			return files, words
		}
		want, told := made(1)
		if len(want) == 0 || edition == Whole && len(told) == 0 {
			t.Fatalf("%q: %d files and %d problems", edition, len(want), len(told))
		}
		for range 3 {
			files, problems := made(4)
			if !slices.Equal(problems, told) {
				t.Errorf("%q: the problems are\n%v\nand not\n%v", edition, problems, told)
			}
			if !slices.EqualFunc(files, want, func(a, b File) bool {
				return a.Path == b.Path && strings.Join(a.Pieces, "") == strings.Join(b.Pieces, "")
			}) {
				t.Errorf("%q: the files are others", edition)
			}
		}
	}
}

// TestPlainCells: a cell that is taken as it is would have been left as it is.
func TestPlainCells(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	signs := []rune("aZ09 =+-@'\",.\t\r\n\x00\x7f\u00a0\ufeff＝é")
	n := 0
	for range 100_000 {
		var text []rune
		for range r.IntN(5) {
			text = append(text, signs[r.IntN(len(signs))])
		}
		s := string(text)
		if r.IntN(20) == 0 {
			s += "\xff"
		}
		if plain(s) {
			n++
			if got := madeHarmless(s); got != s {
				t.Fatalf("%q is taken as it is, and is to be %q", s, got)
			}
		}
	}
	if n < 1000 {
		t.Errorf("only %d are plain", n)
	}
}
