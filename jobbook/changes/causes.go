package changes

import (
	"slices"
	"strings"

	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// tracer follows workings back to what somebody wrote.
type tracer struct {
	figures map[string]*working.Figure
	more    map[string][]string // figures that another one rests on without naming them: marks read off a series, counts found by search
	written map[source.Pos]Line // where what changed was written
	files   map[string][]Line   // what a file's numbers follow from, where the file was chosen, or is new
	memo    map[string][]Line
}

// causes finds, through the workings, what each change follows from. Where no working leads there, it is likely what changed in the same place.
func (c *Comparison) causes(was, now []Line, in Input) {
	t := tracer{map[string]*working.Figure{}, map[string][]string{}, map[source.Pos]Line{}, map[string][]Line{}, map[string][]Line{}}
	for _, f := range in.Figures {
		t.figures[f.ID] = f
	}
	gaps := map[string]string{}
	for _, r := range in.Layout.Runs {
		if r.Gap != nil {
			gaps[r.ID] = r.Gap.ID
		}
		for _, f := range r.Fillets {
			if r.MarkFig != nil {
				t.more[f.Figure] = append(t.more[f.Figure], r.MarkFig.ID)
			}
		}
		for _, b := range r.Balusters {
			if r.Gap != nil {
				id := "order/baluster/" + b.Part + "/count"
				t.more[id] = append(t.more[id], r.Gap.ID)
			}
		}
	}
	chosen, left := map[string][]Line{}, map[string][]Line{} // choices by what they name, and by what they named
	for _, x := range c.Changes {
		if !x.Line.written() {
			continue
		}
		if !x.Gone {
			t.written[x.At] = x.Line
		}
		if x.Sort == Choice && !x.Gone {
			chosen[x.Value] = append(chosen[x.Value], x.Line)
		}
		if x.Was != "" {
			left[x.Was] = append(left[x.Was], x.Line)
		}
	}
	for _, doc := range in.Job.Documents {
		kind := doc.Front.Get("kind")
		if kind == nil {
			continue
		}
		if list := chosen[doc.Name]; len(list) > 0 && !slices.Contains(places, kind.Text) {
			t.files[doc.File] = list
		} else if of := fileOf(doc); told(doc) && slices.Contains(c.Added, of) {
			t.files[doc.File] = []Line{{Of: of}}
		}
	}
	roots := c.Roots()
	ends := c.ends(was, now)
	for i := range c.Changes {
		x := &c.Changes[i]
		if x.Line.written() {
			continue
		}
		if !x.Gone {
			x.Causes = slices.Clone(t.reach(x.Figure))
			x.Causes = t.at(x.Causes, x.At)
			x.Causes = t.at(x.Causes, x.Set)
			switch {
			case x.Sort == Piece && x.What == "baluster": // as many as there are gaps, less one
				x.Causes = putAll(x.Causes, t.reach(gaps[x.Line.Of]))
			case x.Sort == Order:
				x.Causes = putAll(x.Causes, t.reach("order/"+x.Line.Of))
			}
		}
		if kind, part, ok := strings.Cut(x.Line.Of, "/"); ok && x.Sort == Order {
			x.Causes = putAll(putAll(x.Causes, chosen[part]), left[part])
			for _, e := range ends {
				if e.parts[kind] == part {
					x.Causes = put(x.Causes, Line{Of: e.of})
				}
			}
		}
	}
	for i := range c.Changes {
		if x := &c.Changes[i]; len(x.Causes) == 0 && !x.Line.written() && x.Sort != Date { // days follow from what was done meanwhile, too
			if x.Line.Of == "calendar" && !slices.ContainsFunc(roots, func(l Line) bool { return l.Of == "job" && strings.HasPrefix(l.What, "calendar") }) {
				continue // and so does what the calendar fails
			}
			x.Causes, x.Likely = c.likely(*x, roots, ends, in), true
		}
	}
}

// places are the kinds of file that are no part, finish or rule set, so that a choice of their name chooses no sizes.
var places = []string{"job", "run", "flight", "survey", "delivery", "as-built"}

// likely is what a change may follow from that no working leads back from: what its neighbours follow from, what else was written of the same run or part, or what was written for the job as a whole.
func (c *Comparison) likely(x Change, roots []Line, ends []ending, in Input) (list []Line) {
	if len(roots) == 1 && roots[0].of(x.Sort) {
		return roots
	}
	for _, y := range c.Changes {
		if y.Line.Of == x.Line.Of && !y.Likely && (y.Sort == x.Sort || y.Sort == Count) {
			list = putAll(list, y.Causes)
		}
	}
	if len(list) > 0 {
		return list
	}
	for _, l := range roots {
		if l.Of == x.Line.Of && l.of(x.Sort) {
			list = put(list, l)
		}
	}
	if len(list) == 0 {
		for _, l := range roots {
			if matched(in, x.Line.Of, l.Of) {
				list = put(list, l)
			}
		}
	}
	if post, ok := strings.CutPrefix(x.Line.Of, "post/"); ok {
		for _, y := range c.Changes {
			if y.Sort == Choice && (y.Value == post || y.Was == post) {
				list = put(list, y.Line)
			}
		}
		for _, e := range ends {
			if e.parts["from"] == post || e.parts["from: at"] == post || e.parts["to"] == post || e.parts["to: at"] == post {
				list = put(list, Line{Of: e.of})
			}
		}
	}
	if len(list) > 0 && x.Line.Of != "job" {
		return list
	}
	for _, l := range roots {
		kind, _, file := strings.Cut(l.Of, "/")
		if !l.of(x.Sort) {
			continue
		}
		if x.Sort == Order || x.Sort == Price || x.Sort == Date || !file || kind == "rules" || kind == "settings" {
			list = put(list, l)
		}
	}
	return list
}

// matched reports two runs that get the counts whose gaps are most alike.
func matched(in Input, a, b string) bool {
	var of []string
	for _, r := range in.Job.Runs {
		if id := "run/" + r.Name; (id == a || id == b) && r.Match.Text != "" {
			of = append(of, r.Match.Text)
		}
	}
	return len(of) == 2 && of[0] == of[1]
}

// of reports that a choice can be behind a fact of a sort: what is asked for the job moves no baluster, what was read on the guard that stands is judged and no more, and nothing follows from whose job it is.
func (l Line) of(s Sort) bool {
	key, _, _ := strings.Cut(l.What, ":")
	kind, _, _ := strings.Cut(l.Of, "/")
	switch {
	case kind == "as-built":
		return s == Check
	case l.Of != "job":
		return true
	}
	switch key {
	case "client", "place", "measured", "measured-by":
		return false
	case "price":
		return s == Price
	case "calendar", "wanted":
		return s == Date || s == Check || s == Price
	}
	return true
}

// ending is a run that is new or gone, with the parts that it was made of.
type ending struct {
	of    string
	parts map[string]string
}

func (c *Comparison) ends(was, now []Line) (list []ending) {
	for i, gone := range [][]string{c.Gone, c.Added} {
		lines := was
		if i == 1 {
			lines = now
		}
		for _, of := range gone {
			if !strings.HasPrefix(of, "run/") {
				continue
			}
			e := ending{of, map[string]string{}}
			for _, from := range []string{"job", of} { // the run's own last
				for _, l := range lines {
					if l.Of == from && l.Sort == Choice {
						e.parts[l.What] = l.Value
					}
				}
			}
			list = append(list, e)
		}
	}
	return list
}

func put(list []Line, l Line) []Line {
	if slices.Contains(list, l) {
		return list
	}
	return append(list, l)
}

func putAll(list, more []Line) []Line {
	for _, l := range more {
		list = put(list, l)
	}
	return list
}

// at adds what changed at a place in a file.
func (t *tracer) at(list []Line, at source.Pos) []Line {
	if at.IsZero() {
		return list
	}
	if l, ok := t.written[at]; ok {
		return put(list, l)
	}
	return putAll(list, t.files[at.File])
}

// reach is what changed of all that a figure rests on.
func (t *tracer) reach(id string) []Line {
	if list, ok := t.memo[id]; ok {
		return list
	}
	t.memo[id] = nil // a figure never rests on itself
	f := t.figures[id]
	if f == nil {
		return nil
	}
	var list []Line
	for _, i := range f.Inputs() {
		list = putAll(t.at(list, i.At), t.reach(i.Figure))
	}
	for _, other := range t.more[id] {
		list = putAll(list, t.reach(other))
	}
	t.memo[id] = list
	return list
}
