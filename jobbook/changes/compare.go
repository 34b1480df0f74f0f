package changes

import (
	"slices"
	"strings"

	"balustrade/jobbook/length"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/source"
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
	Causes []Line        // what it follows from: readings and choices that changed, and files, which have no What
	Likely bool          // no working leads to the causes: they are what changed in the same place, or all that changed
}

// Renamed is a file or a post that has another name now, with what it says.
type Renamed struct{ Was, Is string }

// Comparison is a plan against a recorded one.
type Comparison struct {
	Issue    string // the record's name; empty where it is a revision
	Day      string
	Revision string   // of the job's folder, as somebody named it; empty where it is an issue
	Hash     string   // of the revision, in full
	Notes    []string // what the reader must know of the revision

	Renamed []Renamed
	Gone    []string // runs, posts and other files that are no more
	Added   []string
	Planned []Planned // the days of the steps, as recorded
	End     string    // the last day, as recorded
	Changes []Change  // sort by sort, in the order of the plan; what is gone last
}

// With is what the plan is compared with, in words.
func (c *Comparison) With() string {
	if c.Revision != "" {
		return "the revision " + c.Revision
	}
	return "the issue " + c.Issue
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

// Roots are what everything else follows from: readings and choices that changed, and files that are new or gone.
func (c *Comparison) Roots() (list []Line) {
	for _, x := range c.Changes {
		if x.Line.written() {
			list = append(list, x.Line)
		}
	}
	for _, of := range slices.Concat(c.Gone, c.Added) {
		list = append(list, Line{Of: of})
	}
	return list
}

func (l Line) written() bool { return l.Sort == Reading || l.Sort == Choice }

// Compare says what is not as it was recorded. A file that only has another name is told once; so is one that is gone, or new, with all that belongs to it.
func Compare(was, now []Line, in Input) *Comparison {
	c := &Comparison{Planned: planned(was), End: end(was)}
	was, now = withoutEnds(was), withoutEnds(now)
	was = c.rename(was, now)
	before, after := files(was), files(now)
	for _, l := range was {
		if before[l.Of] && !after[l.Of] && !slices.Contains(c.Gone, l.Of) {
			c.Gone = append(c.Gone, l.Of)
		}
	}
	for _, l := range now {
		if after[l.Of] && !before[l.Of] && !slices.Contains(c.Added, l.Of) {
			c.Added = append(c.Added, l.Of)
		}
	}
	systems := unitsOf(was, in)
	old := map[string]Line{}
	for _, l := range was {
		old[l.key()] = l
	}
	here := map[string]bool{}
	beside := besideSticks(was, now)
	for _, l := range now {
		here[l.key()] = true
		if beside(l) {
			continue
		}
		o, had := old[l.key()]
		if !had && l.written() { // a word where a length was, or the other way round
			for _, other := range []Sort{Reading, Choice} {
				if x, ok := old[Line{Sort: other, Of: l.Of, What: l.What}.key()]; ok {
					o, had = x, true
					here[x.key()] = true
				}
			}
		}
		if had && o.Value == l.Value && (l.Sort != Reading || systems(l) == l.System) || !had && slices.Contains(c.Added, l.Of) {
			continue
		}
		x := Change{Line: l, Was: o.Value, New: !had}
		if had && l.Sort == Reading && o.Sort == Reading && !x.size(systems(l), in) || had && l.Sort == Mark && in.sameMark(o.Value, l.Value) {
			continue
		}
		c.Changes = append(c.Changes, x)
	}
	for _, l := range was {
		if !here[l.key()] && !slices.Contains(c.Gone, l.Of) && !in.done(l) && !beside(l) {
			c.Changes = append(c.Changes, Change{Line: l, Was: l.Value, Gone: true})
		}
	}
	slices.SortStableFunc(c.Changes, func(a, b Change) int { return slices.Index(Sorts, a.Sort) - slices.Index(Sorts, b.Sort) })
	c.causes(was, now, in)
	return c
}

// besideSticks tells lines that say nothing of what is bought: the length, all pieces together, of a part of which the record has the sticks. Where nobody sells it yet, that length is all that
// is known of it.
func besideSticks(was, now []Line) func(Line) bool {
	ran, bought, buys := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, l := range was {
		ran[l.Of] = ran[l.Of] || l.running()
		bought[l.Of] = bought[l.Of] || l.Sort == Order && l.What != "needed"
	}
	for _, l := range now {
		buys[l.Of] = buys[l.Of] || l.Sort == Order && l.What != "needed"
	}
	return func(l Line) bool { return l.running() && (bought[l.Of] || !ran[l.Of] && buys[l.Of]) }
}

// running is the length of a part that is cut from sticks, all pieces together.
func (l Line) running() bool {
	return l.Sort == Order && l.What == "needed" && strings.HasSuffix(l.Value, runTogether)
}

// done reports the day of a step that was done meanwhile.
func (in Input) done(l Line) bool {
	return l.Sort == Date && slices.ContainsFunc(in.Schedule.Of, func(o sequence.Origin) bool {
		return o.Step != nil && l.Of == "step/"+o.Step.Step.Name && o.Step.Done != ""
	})
}

// files are what has a file, or a place among the posts, of its own.
func files(list []Line) map[string]bool {
	m := map[string]bool{}
	for _, l := range list {
		if l.written() && strings.Contains(l.Of, "/") {
			m[l.Of] = true
		}
	}
	return m
}

// unitsOf gives the unit that a reading was recorded in: what its file said then, else the job or the shop's settings; what neither says is in inches.
func unitsOf(was []Line, in Input) func(Line) length.System {
	shop := map[string]bool{}
	for _, doc := range in.Job.Documents {
		if told(doc) && doc.Layer == source.Shop {
			shop[fileOf(doc)] = true
		}
	}
	said, shops := map[string]length.System{}, length.Inches
	for _, l := range was {
		if l.Sort == Choice && l.What == "units" {
			said[l.Of] = length.Inches
			if l.Value == "mm" {
				said[l.Of] = length.Millimetres
			}
			if shop[l.Of] && strings.HasPrefix(l.Of, "settings/") {
				shops = said[l.Of]
			}
		}
	}
	return func(l Line) length.System {
		if s, ok := said[l.Of]; ok {
			return s
		}
		if shop[l.Of] {
			return shops
		}
		if s, ok := said["job"]; ok {
			return s
		}
		return length.Inches
	}
}

// size works out how much a reading differs; false where it is the same, written otherwise.
func (x *Change) size(recorded length.System, in Input) bool {
	a, errA := length.Parse(x.Was, recorded)
	b, errB := length.Parse(x.Value, x.System)
	if errA != nil || errB != nil {
		return true
	}
	x.By, x.Sized = b-a, true
	x.Within = max(x.By, -x.By) <= in.Job.Division.Length
	if recorded != x.System { // a bare number says too little beside one in another unit
		x.Was, x.Value = with(x.Was, recorded), with(x.Value, x.System)
	}
	return x.By != 0
}

// with puts the unit behind a bare number.
func with(text string, system length.System) string {
	other := length.Inches
	if system == length.Inches {
		other = length.Millimetres
	}
	a, errA := length.Parse(text, system)
	b, errB := length.Parse(text, other)
	if errA == nil && (errB != nil || a != b) {
		return text + " " + system.String()
	}
	return text
}

// sameMark reports that a mark recorded in the other unit is at the same place, as far as the two tapes tell.
func (in Input) sameMark(was, is string) bool {
	unit := " " + in.Job.System.String()
	if strings.HasSuffix(was, unit) || !strings.HasSuffix(is, unit) {
		return false
	}
	a, errA := length.Parse(was, in.Job.System)
	b, errB := length.Parse(is, in.Job.System)
	other := length.Millimetre // the finest division of the other tape, common practice
	if in.Job.System == length.Millimetres {
		other = length.Inch / 16
	}
	return errA == nil && errB == nil && max(a-b, b-a) <= (in.Job.Division.Length+other)/2
}

// rename finds files and posts that are gone of which a new one of the same kind says nearly the same, and gives what was recorded their new names.
func (c *Comparison) rename(was, now []Line) []Line {
	said := func(list []Line) (order []string, of map[string]map[string]string) {
		of = map[string]map[string]string{}
		for _, l := range list {
			if !l.written() || !strings.Contains(l.Of, "/") {
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
	there := map[string]string{}
	for _, l := range now {
		there[l.key()] = l.Value
	}
	list := slices.Clone(was)
	for i := range list {
		l := &list[i]
		if n := to[l.Of]; n != "" {
			l.Of = n
		} else if _, ok := there[l.key()]; !ok && l.Sort == Check { // as-built/gallery
			l.Of = c.renamed(l.Of)
		}
		if _, ok := there[l.key()]; !ok && !l.written() {
			said := *l
			said.What = c.renamed(l.What)
			if _, ok := there[said.key()]; ok {
				*l = said
			}
		}
		if v, ok := there[l.key()]; ok && l.Sort == Choice && v != l.Value && v == c.renamed(l.Value) { // where it is named
			l.Value = v
		}
	}
	return list
}

// isName reports a character of a name.
func isName(r rune) bool {
	return r == '-' || r == '_' || r == '.' || r >= '0' && r <= '9' || r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= 0x80
}

// renamed is a text with the new names of what was renamed, where they stand by themselves.
func (c *Comparison) renamed(text string) string {
	var b strings.Builder
	word := ""
	end := func() {
		for _, r := range c.Renamed {
			_, was, _ := strings.Cut(r.Was, "/")
			_, is, _ := strings.Cut(r.Is, "/")
			if word == was {
				word = is
				break
			}
		}
		b.WriteString(word)
		word = ""
	}
	for _, r := range text {
		if isName(r) {
			word += string(r)
			continue
		}
		end()
		b.WriteRune(r)
	}
	end()
	return b.String()
}
