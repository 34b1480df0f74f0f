package changes

import (
	"slices"
	"strings"

	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Change is one fact that is not as it was recorded.
type Change struct {
	Line          // as it is now; of one that is gone, as it was
	Was    string // empty for a new one
	Gone   bool
	New    bool
	By     length.Length // of a reading, how much more it is
	Sized  bool          // By is known
	Within bool          // a reading that differs by no more than the tape tells
	Causes []Line        // the readings and choices that it follows from, of those that changed
}

// Renamed is a file that has another name now, with what it says.
type Renamed struct{ Was, Is string }

// Comparison is a plan against a recorded one.
type Comparison struct {
	Issue   string // the record's name
	Day     string
	Renamed []Renamed
	Gone    []string // runs, posts and parts that are no more
	Added   []string
	Changes []Change // sort by sort, in the order of the plan; what is gone last
}

// Of a sort.
func (c *Comparison) Of(s Sort) (list []Change) {
	for _, x := range c.Changes {
		if x.Sort == s {
			list = append(list, x)
		}
	}
	return list
}

// Same reports that nothing differs.
func (c *Comparison) Same() bool {
	return len(c.Changes) == 0 && len(c.Renamed) == 0 && len(c.Gone) == 0 && len(c.Added) == 0
}

// Compare says what is not as it was recorded. A file that only has another name is told once; so is one that is gone, or new, with all that belongs to it.
func Compare(was, now []Line, in Input) *Comparison {
	c := &Comparison{}
	was = c.rename(was, now)
	there := func(list []Line) map[string]bool {
		m := map[string]bool{}
		for _, l := range list {
			if l.Sort == Reading || l.Sort == Choice {
				m[l.Of] = true
			}
		}
		return m
	}
	before, after := there(was), there(now)
	whole := func(of string) bool { return strings.Contains(of, "/") }
	for _, l := range was {
		if whole(l.Of) && before[l.Of] && !after[l.Of] && !slices.Contains(c.Gone, l.Of) {
			c.Gone = append(c.Gone, l.Of)
		}
	}
	for _, l := range now {
		if whole(l.Of) && after[l.Of] && !before[l.Of] && !slices.Contains(c.Added, l.Of) {
			c.Added = append(c.Added, l.Of)
		}
	}
	old := map[string]Line{}
	for _, l := range was {
		old[l.key()] = l
	}
	here := map[string]bool{}
	for _, l := range now {
		here[l.key()] = true
		o, had := old[l.key()]
		if had && o.Value == l.Value || slices.Contains(c.Added, l.Of) {
			continue
		}
		x := Change{Line: l, Was: o.Value, New: !had}
		if l.Sort == Reading && had {
			a, errA := length.Parse(o.Value, in.Job.System)
			b, errB := length.Parse(l.Value, in.Job.System)
			if errA == nil && errB == nil {
				x.By, x.Sized = b-a, true
				x.Within = max(x.By, -x.By) <= in.Job.Division.Length
				if x.By == 0 { // the same, written otherwise
					continue
				}
			}
		}
		c.Changes = append(c.Changes, x)
	}
	for _, l := range was {
		if !here[l.key()] && !slices.Contains(c.Gone, l.Of) {
			c.Changes = append(c.Changes, Change{Line: l, Was: l.Value, Gone: true})
		}
	}
	slices.SortStableFunc(c.Changes, func(a, b Change) int { return slices.Index(Sorts, a.Sort) - slices.Index(Sorts, b.Sort) })
	c.causes(in)
	return c
}

// rename finds files that are gone of which a new one of the same kind says nearly the same, and gives what was recorded their new names.
func (c *Comparison) rename(was, now []Line) []Line {
	said := func(list []Line) (order []string, of map[string]map[string]string) {
		of = map[string]map[string]string{}
		for _, l := range list {
			if l.Sort != Reading && l.Sort != Choice || !strings.Contains(l.Of, "/") {
				continue
			}
			if of[l.Of] == nil {
				of[l.Of] = map[string]string{}
				order = append(order, l.Of)
			}
			of[l.Of][l.What] = l.Value
		}
		return order, of
	}
	order, before := said(was)
	newOrder, after := said(now)
	to := map[string]string{}
	taken := map[string]bool{}
	for _, o := range order {
		if after[o] != nil {
			continue
		}
		best, most := "", 0
		for _, n := range newOrder {
			kind, _, _ := strings.Cut(o, "/")
			if before[n] != nil || taken[n] || !strings.HasPrefix(n, kind+"/") {
				continue
			}
			alike := 0
			for what, v := range before[o] {
				if after[n][what] == v {
					alike++
				}
			}
			const most3, of4 = 3, 4 // three in four say the same
			if all := max(len(before[o]), len(after[n])); alike*of4 >= all*most3 && alike > most {
				best, most = n, alike
			}
		}
		if best != "" {
			to[o], taken[best] = best, true
			c.Renamed = append(c.Renamed, Renamed{o, best})
		}
	}
	if len(to) == 0 {
		return was
	}
	list := slices.Clone(was)
	for i := range list {
		if n := to[list[i].Of]; n != "" {
			list[i].Of = n
		}
	}
	return list
}

// causes finds, through the workings, which of the changed readings and choices each other change follows from.
func (c *Comparison) causes(in Input) {
	figures := map[string]*working.Figure{}
	for _, f := range in.Figures {
		figures[f.ID] = f
	}
	written := map[source.Pos]Line{}
	for _, x := range c.Changes {
		if (x.Sort == Reading || x.Sort == Choice) && !x.Gone {
			written[x.At] = x.Line
		}
	}
	memo := map[string][]Line{}
	var reach func(id string) []Line
	reach = func(id string) []Line {
		if list, ok := memo[id]; ok {
			return list
		}
		memo[id] = nil // a figure never rests on itself
		f := figures[id]
		if f == nil {
			return nil
		}
		var list []Line
		add := func(l Line) {
			if !slices.Contains(list, l) {
				list = append(list, l)
			}
		}
		for _, i := range f.Inputs() {
			if l, ok := written[i.At]; ok && !i.At.IsZero() {
				add(l)
			}
			for _, l := range reach(i.Figure) {
				add(l)
			}
		}
		memo[id] = list
		return list
	}
	for i := range c.Changes {
		x := &c.Changes[i]
		if x.Sort == Reading || x.Sort == Choice || x.Gone {
			continue
		}
		x.Causes = slices.Clone(reach(x.Figure))
		if l, ok := written[x.At]; ok && !x.At.IsZero() && !slices.Contains(x.Causes, l) {
			x.Causes = append(x.Causes, l)
		}
		if len(x.Causes) == 0 { // the same run or part was changed
			for _, l := range c.Changes {
				if (l.Sort == Reading || l.Sort == Choice) && l.Of == x.Of {
					x.Causes = append(x.Causes, l.Line)
				}
			}
		}
	}
}
