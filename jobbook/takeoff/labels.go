package takeoff

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
)

// Label is what is written on one piece.
type Label struct {
	Mark   string // short, for a pencil; no two pieces of a job share one
	Piece  int    // index in Takeoff.Pieces
	N      int    // which of the pieces of that cut, from 1
	Number int    // which of its sort in its run, counted from the datum end where that is known
	Of     int    // how many of its sort the run has
	Ends   string // which way it lies or stands: this end up, to the wall
	Bevel  string // which of its ends are cut at an angle; empty for a square one
	Tread  string // that a baluster of a flight stands on: tread 4, the floor, the landing
}

// letters are what a mark calls each sort of piece.
var letters = func() map[string]string {
	m := map[string]string{}
	for _, l := range job.MarkLetters {
		m[l.What] = l.Letter
	}
	return m
}()

// Blank is a label for a piece that the job will have, whose length is not worked out yet: it is written in by hand.
type Blank struct {
	Mark       string // the one that it will have
	What       string
	Run, Post  string // name of one of them
	Title      string // of the part
	Number, Of int
	Ends       string
}

// short is what the marks call runs and posts. Each have their own: a post's mark ends in N, and no run's does.
type short struct{ runs, posts map[string]string }

func shortNames(j *job.Job, l layout.Layout) short {
	s := short{map[string]string{}, map[string]string{}}
	var runs, posts []string
	for _, r := range l.Runs {
		runs = append(runs, r.Name)
	}
	for _, p := range j.Posts {
		posts = append(posts, p.Name)
	}
	for i, c := range codes(runs) {
		s.runs[runs[i]] = c
	}
	for i, c := range codes(posts) {
		s.posts[posts[i]] = c
	}
	return s
}

// mark is what is written on a piece: G-B7.
func mark(short, what string, number, of int) string {
	m := short + "-" + letter(what)
	if of > 1 {
		m += strconv.Itoa(number)
	}
	return m
}

// labels gives every single piece its mark: letters of its run or post, a letter for what it is, and a number where there are several.
func labels(l layout.Layout, names short, pieces []layout.Cut) []Label {
	code := func(c layout.Cut) string {
		if c.Run == "" {
			return names.posts[c.Which]
		}
		return names.runs[c.Run]
	}
	type sort struct{ of, what string }
	total, next := map[sort]int{}, map[sort]int{}
	for _, c := range pieces {
		total[sort{code(c), c.What}] += c.Count
	}
	// Pieces that do not know their number are counted as they come; a cut of several can be both.
	taken := map[sort]map[int]bool{}
	for _, c := range pieces {
		s := sort{code(c), c.What}
		if taken[s] == nil {
			taken[s] = map[int]bool{}
		}
		for _, n := range c.Numbers {
			taken[s][n] = true
			total[s] = max(total[s], n) // one that has no room is left out, and keeps its number
		}
	}
	count := 0
	for _, c := range pieces {
		count += max(c.Count, 0)
	}
	list := make([]Label, 0, count)
	for i, c := range pieces {
		s, ends, bevel := sort{code(c), c.What}, endWords(l, c), bevelWords(c)
		for n := range c.Count {
			number := 0
			if n < len(c.Numbers) {
				number = c.Numbers[n]
			} else {
				for next[s]++; taken[s][next[s]]; next[s]++ {
				}
				number = next[s]
			}
			list = append(list, Label{Mark: mark(s.of, c.What, number, total[s]), Piece: i, N: n + 1, Number: number, Of: total[s], Ends: ends, Bevel: bevel, Tread: treadOf(l, c, number)})
		}
	}
	return list
}

// blanks are the labels of rails, shoes, balusters and newels that are chosen, and wait for a reading.
func blanks(j *job.Job, l layout.Layout, names short) (list []Blank) {
	for _, r := range l.Runs {
		add := func(what, title string, of int) {
			for n := range of {
				list = append(list, Blank{Mark: mark(names.runs[r.Name], what, n+1, of), What: what, Run: r.Name, Title: title, Number: n + 1, Of: of, Ends: endWords(l, layout.Cut{What: what, Run: r.Name})})
			}
		}
		if h := r.Job.Handrail; h != nil && !r.Job.Stays() && len(r.RailCuts()) == 0 {
			add("handrail", h.Title.Text, len(r.Job.Joints)+1)
		}
		if s := r.Job.Shoe; s != nil && !r.Job.Stays() && r.Shoe == nil {
			add("shoe", s.Title.Text, 1)
		}
		if p := r.Job.Baluster; p != nil && r.Chosen != nil && len(r.Balusters) == 0 {
			add("baluster", p.Title.Text, r.Chosen.Count)
		}
	}
	for _, p := range l.Posts {
		if p.Cut == nil && !p.Stays {
			if at := j.Post(p.Name); at != nil && at.Part != nil {
				list = append(list, Blank{Mark: mark(names.posts[p.Name], "newel", 1, 1), What: "newel", Post: p.Name, Title: at.Part.Title.Text, Number: 1, Of: 1, Ends: "this end up"})
			}
		}
	}
	return list
}

func letter(what string) string {
	if l := letters[what]; l != "" {
		return l
	}
	return strings.ToUpper(what[:min(1, len(what))])
}

func codes(names []string) []string { return job.Codes(names) }

// endWords says which way a piece goes.
func endWords(l layout.Layout, c layout.Cut) string {
	switch c.What {
	case "baluster", "newel":
		return "this end up"
	case "handrail", "wall rail", "shoe":
		r := run(l, c.Run)
		rake := r != nil && r.Rake != nil
		if from, to, ok := strings.Cut(strings.TrimPrefix(c.Which, "from "), " to "); ok {
			if rake {
				to += ", uphill"
			}
			return "this end to " + to + "; the other to " + from
		}
		if rake {
			return "this end uphill"
		}
	case "shoe fillet":
		return "in the shoe"
	case "rail fillet":
		return "in the rail"
	}
	return ""
}

// treadOf is the tread that one baluster stands on; empty where it stands on none.
func treadOf(l layout.Layout, c layout.Cut, number int) string {
	r := run(l, c.Run)
	if c.What != "baluster" || r == nil || r.Rake == nil || !r.Rake.OnTreads {
		return ""
	}
	i := slices.IndexFunc(r.Marks, func(m layout.Mark) bool { return m.K == number })
	switch {
	case i < 0:
		return ""
	case r.Marks[i].Tread == 0:
		return "the floor"
	case r.Marks[i].Tread == len(r.Rake.Treads):
		return "the landing"
	}
	return "tread " + strconv.Itoa(r.Marks[i].Tread)
}

// bevelWords says which ends are cut at the angle of the rake.
func bevelWords(c layout.Cut) string {
	foot, head, up, down := "lower end", "upper end", "", ""
	if c.What == "baluster" {
		foot, head, up, down = "foot", "head", ", long point uphill", ", long point downhill"
	}
	switch {
	case c.What == "newel" && c.Long > 0:
		return "top beveled, long point uphill, foot square"
	case c.Beveled[0] && c.Beveled[1]:
		return "both ends beveled, alike" + up
	case c.Beveled[1]:
		return head + " beveled" + up + ", " + foot + " square"
	case c.Beveled[0]:
		return foot + " beveled" + down + ", " + head + " square"
	}
	return ""
}
