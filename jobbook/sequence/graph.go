package sequence

import (
	"cmp"
	"container/heap"
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
)

// graph is which step waits for which, by their places in the library's order, without circles.
type graph struct {
	steps  []*job.Step
	before [][]int // the steps that each one names
	rank   []rank
}

// rank is a step's place where nothing else decides: the library's own steps in their order; another step behind the last
// one that it comes after, or at the end where it names none.
type rank struct {
	place, found int
}

func (a rank) compare(b rank) int {
	return cmp.Or(cmp.Compare(a.place, b.place), cmp.Compare(a.found, b.found))
}

// graphOf follows the names. An `after` that closes a circle is a problem and left out. Names that refer to no step are
// package job's to report; here they are steps that were dropped.
func graphOf(steps []*job.Step) (*graph, []source.Problem) {
	at := make(map[string]int, len(steps))
	for i, s := range steps {
		at[s.Name] = i
	}
	g := &graph{steps: steps, before: make([][]int, len(steps)), rank: make([]rank, len(steps))}
	const (
		unseen = iota
		open
		done
	)
	state := make([]int, len(steps))
	var path []int
	var problems []source.Problem
	var visit func(i int)
	visit = func(i int) {
		state[i] = open
		path = append(path, i)
		r := rank{place: -1, found: i}
		for _, name := range steps[i].After {
			k, ok := at[name.Text]
			if !ok {
				continue
			}
			if state[k] == open {
				p := circle(steps, path, k, name)
				if !slices.ContainsFunc(problems, func(q source.Problem) bool { return q.At == p.At }) { // one name can close several
					problems = append(problems, p)
				}
				continue
			}
			if state[k] == unseen {
				visit(k)
			}
			g.before[i] = append(g.before[i], k)
			r.place = max(r.place, g.rank[k].place)
		}
		switch {
		case !ownStep(steps[i]):
			r.place = i
		case r.place < 0:
			r.place = len(steps)
		}
		g.rank[i] = r
		path = path[:len(path)-1]
		state[i] = done
	}
	for i := range steps {
		if state[i] == unseen {
			visit(i)
		}
	}
	return g, problems
}

// ownStep reports a step that the shop or the job adds, rather than one that replaces the library's.
func ownStep(s *job.Step) bool {
	if s.Layer <= source.Library {
		return false
	}
	for _, l := range s.Over {
		if l == source.Library {
			return false
		}
	}
	return true
}

// circle is the problem of an `after` that leads back to a step on the way to it.
func circle(steps []*job.Step, path []int, back int, after job.Text) source.Problem {
	from := 0
	for path[from] != back {
		from++
	}
	// path[from] waits for path[from+1], and so on to the last, which waits for path[from] again.
	var names []string
	var notes []source.Note
	const most = 8 // steps named in one message: what fits on a line
	for i, k := range path[from:] {
		if i == most {
			names = append(names, fmt.Sprintf("%d more", len(path)-from-most))
			break
		}
		names = append(names, steps[k].Name)
		for _, t := range steps[k].After {
			if from+i+1 < len(path) && t.Text == steps[path[from+i+1]].Name {
				notes = append(notes, source.Note{At: t.At, Text: steps[k].Name + " comes after " + t.Text})
				break
			}
		}
	}
	summary, hint := "the step "+names[0]+" comes after itself", "take it out of its own after:"
	if len(names) > 1 {
		hint = "take one of them out of after:"
		last := len(names) - 1
		summary = "the steps " + strings.Join(names[:last], ", ") + " and " + names[last] + " wait for each other in a circle"
	}
	for i, k := range path[from:] { // a step that the shop or the job wrote is what can be changed
		next := back
		if from+i+1 < len(path) {
			next = path[from+i+1]
		}
		for _, t := range steps[k].After {
			if t.Text == steps[next].Name && steps[k].Layer > layerOf(steps, after) {
				after = t
			}
		}
	}
	return source.Problem{
		Severity: source.Error, At: after.At, Width: max(1, len([]rune(after.Text))),
		Summary: summary, Hint: hint, Notes: notes,
	}
}

// layerOf is the layer of the step in whose file a name stands.
func layerOf(steps []*job.Step, t job.Text) source.Layer {
	for _, s := range steps {
		if s.File == t.At.File {
			return s.Layer
		}
	}
	return source.Library
}

// order gives the picked steps in order.
func (g *graph) order(picked []bool) []int {
	next := make([][]int, len(g.steps)) // the picked steps that wait for each
	waits := make([]int, len(g.steps))
	seen := make([]int, len(g.steps)) // by which step, plus one
	ready := &queue{rank: g.rank}
	count := 0
	for i := range g.steps {
		if !picked[i] {
			continue
		}
		count++
		// Walk back through steps that were not picked, up to the next that was.
		stack := append([]int(nil), g.before[i]...)
		for len(stack) > 0 {
			k := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if seen[k] == i+1 {
				continue
			}
			seen[k] = i + 1
			if picked[k] {
				next[k] = append(next[k], i)
				waits[i]++
				continue
			}
			stack = append(stack, g.before[k]...)
		}
		if waits[i] == 0 {
			ready.items = append(ready.items, i)
		}
	}
	heap.Init(ready)
	order := make([]int, 0, count)
	for ready.Len() > 0 {
		i := heap.Pop(ready).(int)
		order = append(order, i)
		for _, k := range next[i] {
			if waits[k]--; waits[k] == 0 {
				heap.Push(ready, k)
			}
		}
	}
	return order
}

// waitsFor are the picked steps that a step comes after, also where only steps that were not picked stand between, in the library's order.
func (g *graph) waitsFor(i int, picked []bool) (list []int) {
	var room [32]int
	seen, at := append(room[:0], g.before[i]...), 0
	for ; at < len(seen); at++ {
		k := seen[at]
		if picked[k] {
			list = append(list, k)
			continue
		}
		for _, b := range g.before[k] {
			if !slices.Contains(seen, b) {
				seen = append(seen, b)
			}
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// queue holds the steps that can come next, the lowest rank on top.
type queue struct {
	items []int
	rank  []rank
}

func (q *queue) Len() int           { return len(q.items) }
func (q *queue) Less(a, b int) bool { return q.rank[q.items[a]].compare(q.rank[q.items[b]]) < 0 }
func (q *queue) Swap(a, b int)      { q.items[a], q.items[b] = q.items[b], q.items[a] }
func (q *queue) Push(x any)         { q.items = append(q.items, x.(int)) }
func (q *queue) Pop() any {
	last := q.items[len(q.items)-1]
	q.items = q.items[:len(q.items)-1]
	return last
}
