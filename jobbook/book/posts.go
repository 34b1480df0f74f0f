package book

import (
	"math"
	"strconv"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// postsPage is the guard from above, every newel with the rails that meet it, the ends of the rails and the edges they stand on.
func (b *book) postsPage(w *writer) {
	b.fromAbove(w)
	for i := range b.plan.Layout.Posts {
		b.post(w, &b.plan.Layout.Posts[i])
	}
	b.railEnds(w)
	for _, r := range b.plan.Layout.Runs {
		b.endsOf(w, r)
	}
}

// railEnds is how the ends of the rails are bored: one drawing for all that are alike.
func (b *book) railEnds(w *writer) {
	type like struct {
		rail *job.Handrail
		bolt *job.Bolt
		rake string        // rise over going, and which end; empty for a level rail, whose two ends are bored alike
		up   length.Length // that the bolt is moved
	}
	type kind struct {
		run  *layout.Run
		end  int
		ends []string
	}
	var kinds []*kind
	known := map[like]*kind{}
	for _, r := range b.plan.Layout.Runs {
		for end, e := range []layout.End{r.From, r.To} {
			if r.Job == nil || e.Wall || !draw.HasRailEnd(r, end) {
				continue
			}
			at := []job.End{r.Job.From, r.Job.To}[end]
			key := like{rail: r.Job.Handrail, bolt: r.Job.Bolt, up: at.BoltUp.Length - at.BoltLow.Length}
			if k := r.Rake; k != nil {
				key.rake = strconv.FormatInt(int64(k.Rise), 10) + "/" + strconv.FormatInt(int64(k.Going), 10) + " " + strconv.Itoa(end)
			}
			if known[key] == nil {
				known[key] = &kind{run: r, end: end}
				kinds = append(kinds, known[key])
			}
			known[key].ends = append(known[key].ends, b.runTitle(r.Name)+" at "+e.Name)
		}
	}
	if len(kinds) == 0 {
		return
	}
	w.put(`<section id="rail-ends"><h2>Ends of the rails</h2>`, "\n")
	for _, k := range kinds {
		w.put(b.both(func(width int) []string { return one(draw.RailEndView(k.run, k.end, b.style(), width)) })...)
		if len(k.ends) > 1 {
			w.line(sentence("bored alike: " + listed(k.ends)))
		}
	}
	w.put("</section>\n")
}

// fromAbove is the plan of the whole guard.
func (b *book) fromAbove(w *writer) {
	if len(b.plan.Layout.Plan.Stretches) == 0 {
		return
	}
	w.put(`<section id="from-above"><h2>From above</h2>`, "\n")
	w.put(b.both(b.above)...)
	w.put("</section>\n")
}

// post is one newel: what meets it at what height, the block that takes it, and how long the newel is cut.
func (b *book) post(w *writer, p *layout.Post) {
	if len(p.Arrivals) == 0 {
		return
	}
	w.say(`<section id="post-%s"><h2>%s</h2>`+"\n", anchor(p.Name), "Post "+p.Name)
	if len(p.Missing) > 0 {
		w.put(b.missingList(p.Missing))
	}
	facts := pairs{class: "carry"}
	if p.Cut != nil {
		facts.add("newel, cut to", say("%s %s", b.figured(p.Cut.Figure, b.mark(p.Cut.Length)), b.unit()))
	}
	if p.Down != 0 {
		facts.add("of it below the floor", say("%s %s", b.near(p.Down), b.unit()))
	}
	if p.NeedTo > p.NeedFrom {
		facts.add("square block needed, above the floor", say("%s to %s %s", b.near(p.NeedFrom), b.near(p.NeedTo), b.unit()))
	}
	if p.BlockTo > p.BlockFrom {
		from := b.near(p.BlockFrom)
		if p.BlockFrom < 0 {
			from = "below the floor"
		}
		facts.add("square block as it stands", say("%s to %s %s", from, b.near(p.BlockTo), b.unit()))
	}
	if p.Reveal > 0 {
		facts.add("of it over the highest rail, by the shop's reveal", say("%s %s", b.near(p.Reveal), b.unit()))
	}
	if p.Top > 0 {
		facts.add("its top, above the floor", say("%s %s", b.figured(p.ID+"/top", b.near(p.Top)), b.unit()))
	}
	if p.Stays {
		if p.MeetsNew() {
			w.line("It stands there already and stays: it is not cut. A new rail is bolted to it where it stands.")
		} else {
			w.line("It stands there already and stays: nothing of it is cut or bored.")
			facts = pairs{}
		}
	}
	facts.put(w)
	w.put(b.arrivals(p), b.footRows(p))
	w.put(b.both(func(width int) []string { return one(draw.PostView(*p, b.job, b.style(), width)) })...)
	if p.Cut != nil && p.Cut.Fit != "" {
		w.line(sentence("cutting the newel: " + p.Cut.Fit))
		if over := p.Top - (p.NeedTo - p.Reveal); p.Top > 0 && p.NeedTo > p.NeedFrom && over > 0 {
			w.say("<p>Its top then stands %s %s over the highest rail.</p>\n", b.near(over), b.unit())
		}
	}
	w.put("</section>\n")
}

// arrivals is each rail at a post, with its heights on the face and its bolt.
func (b *book) arrivals(p *layout.Post) markup {
	t := table{label: "Rails at post " + p.Name + ", above the floor there", class: "treads", heads: []head{column("Rail"), num("Top", b.unit()), num("Underside", b.unit())}}
	bolts, turns := false, false
	for _, a := range p.Arrivals {
		bolts = bolts || a.Bolt > 0
		turns = turns || a.Heading != 0
	}
	if bolts {
		t.heads = append(t.heads, num("Bolt", b.unit()))
	}
	for _, a := range p.Arrivals {
		name := say(`<a href="layout.html#%s">%s</a>`, runAnchor(a.Run), b.runTitle(a.Run))
		name += say(`<span class="fit">%s</span>`, b.arrivalWords(a, turns))
		cells := []markup{name, toBeMeasured, toBeMeasured}
		if a.Known {
			cells = []markup{name, b.mark(a.Top), b.mark(a.Under)}
		}
		if bolts && a.Bolt > 0 {
			cells = append(cells, b.mark(a.Bolt))
		} else if bolts {
			cells = append(cells, "")
		}
		t.row(cells...)
	}
	return t.markup()
}

// arrivalWords says how a rail comes to a post.
func (b *book) arrivalWords(a layout.Arrival, turns bool) string {
	words := "level"
	switch {
	case a.Raked && a.Up:
		words = "climbs away from it"
	case a.Raked:
		words = "comes up to it"
	}
	if a.Over {
		words += ", goes over it"
	}
	if turns && a.Heading != 0 {
		words += ", " + angleWords(a.Heading)
		if !a.Turned {
			words += " (not measured)"
		}
	}
	if a.Skew != 0 {
		words += ", end cut " + draw.Degrees(math.Abs(a.Skew)) + " off square in plan"
	}
	return words
}

// angleWords says how a rail leaves a post, seen from above, beside the first one there.
func angleWords(heading float64) string {
	between := min(heading, 360-heading)
	switch {
	case between == 180:
		return "straight on from the first"
	case between == 90:
		return "square to the first"
	}
	return "at " + draw.Degrees(between) + " to the first"
}

// endsOf is what one run is fixed to: walls in section, the edge underneath.
func (b *book) endsOf(w *writer, r *layout.Run) {
	var drawn []markup
	for end := range 2 {
		drawn = append(drawn, b.both(func(width int) []string { return one(draw.WallEndView(r, end, b.style(), width)) })...)
	}
	drawn = append(drawn, b.both(func(width int) []string { return one(draw.EdgeView(r, b.style(), width)) })...)
	if len(drawn) == 0 {
		return
	}
	w.say(`<section id="ends-%s"><h2>What holds %s</h2>`+"\n", anchor(r.Name), b.runTitle(r.Name))
	w.put(drawn...)
	w.put("</section>\n")
}
