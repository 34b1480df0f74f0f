package book

import (
	"strconv"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// rakeFacts are the numbers of a flight's rake, to set the saw and the bevel by.
func (b *book) rakeFacts(r *layout.Run) markup {
	k := r.Rake
	if k == nil || k.Angle == nil || !k.Angle.Value.Known() {
		return ""
	}
	facts := pairs{class: "carry"}
	facts.add("angle of the rake", b.amount(k.Angle, 1, length.Nearest)+"°")
	facts.add("on the steel square", say("%s in %s", b.figure(k.Square, b.near(k.Square.Exact(b.job.System))), squareRun(b.job.System)))
	facts.add("along the rake for 1 "+b.unit()+" level", b.amount(k.Secant, 5, length.Nearest))
	if k.Top > 0 {
		facts.add("rail top above the nosings, plumb", say("%s %s", b.mark(k.Top), b.unit()))
		facts.add("rail, plumb through its section", say("%s %s", b.figured(r.ID+"/rail-plumb", b.near(k.Thick)), b.unit()))
	}
	return facts.markup()
}

// squareRun is the run that a steel square is set to.
func squareRun(s length.System) string {
	if s == length.Millimetres {
		return "100"
	}
	return "12"
}

// stairTable is the stair as it was measured, tread by tread, with the rail's height over every nosing.
func (b *book) stairTable(r *layout.Run) markup {
	k := r.Rake
	if k == nil || len(k.Treads) == 0 {
		return ""
	}
	t := table{label: "The stair under " + b.runTitle(r.Name), heads: []head{column("Tread"), num("Riser below it", b.unit()), num("Going", b.unit()), num("Above the floor", b.unit())}}
	if k.Top > 0 {
		t.heads = append(t.heads, num("Rail over its nosing", b.unit()))
	}
	for _, s := range k.Treads {
		going := b.exact(s.Going)
		if s.Going == 0 {
			going = ""
		}
		cells := []markup{esc(b.treadName(k, s.N)), b.exact(s.Riser), going, b.exact(s.Height)}
		if k.Top > 0 {
			cells = append(cells, b.near(k.RailTop(s.At-k.Nosing)-s.Height))
		}
		t.row(cells...)
	}
	if !k.Measured {
		t.foot = "Risers or goings were divided evenly, not measured one by one: what follows from them is not yet the last word."
	}
	return t.markup()
}

// treadName names a tread: the floor below, a number, the landing.
func (b *book) treadName(k *layout.Rake, n int) string {
	switch n {
	case 0:
		return "floor"
	case len(k.Treads):
		return "landing"
	}
	return strconv.Itoa(n)
}

// flightMarks are the marks of a flight: on treads, each from the face of its own riser; on a raked shoe along the rake.
func (b *book) flightMarks(r *layout.Run) markup {
	k := r.Rake
	if len(r.Marks) == 0 {
		return ""
	}
	shoe := false
	for _, m := range r.Marks {
		shoe = shoe || m.Shoe != 0 && m.Shoe != m.Along
	}
	var t table
	foot := markup("")
	if k.OnTreads {
		t = table{label: "Marks of " + b.runTitle(r.Name) + ", centres from the face of each tread’s riser", class: "marks treads"}
		t.heads = []head{column("Tread"), num("Mark", ""), num("From riser", b.unit()), num("At axis", b.unit()), num("Long point", b.unit()), num("Short point", b.unit())}
		for _, m := range r.Marks {
			from := b.mark(m.Riser)
			if m.Riser < 0 {
				from = say("%s before it", b.mark(-m.Riser))
			}
			long, high, low := b.pointsOf(r, m.K)
			t.row(esc(b.treadName(k, m.Tread)), say("%d", m.K), from, long, high, low)
		}
		foot = say("<p>Each tread is marked from the face of its own riser, and each mark is %s. Lengths are at the baluster’s axis, and at the points of its head; the long point is uphill.", b.rounded(length.Nearest))
	} else {
		t = table{label: "Marks of " + b.runTitle(r.Name) + ", centres along the rake from " + b.datum(r), class: "marks"}
		t.heads = []head{num("Mark", ""), num("From the datum, along the rake", b.unit())}
		if shoe {
			t.heads = append(t.heads, num("From the end of the shoe", b.unit()))
		}
		t.heads = append(t.heads, num("Level", b.unit()))
		for _, m := range r.Marks {
			cells := []markup{say("%d", m.K), b.mark(m.Along)}
			if m.Gap > 0 {
				cells[0] += say(` <span class="place">gap %d</span>`, m.Gap)
			}
			if shoe {
				cells = append(cells, b.mark(m.Shoe))
			}
			t.row(append(cells, b.near(m.At))...)
		}
		foot = say("<p>Each mark is worked out by itself and %s along the rake; measure every one from the datum, never from the one before.", b.rounded(length.Nearest))
	}
	foot += " The rail is marked from the balusters, plumb."
	if r.MarkFig != nil {
		foot += " " + b.figure(r.MarkFig, "How the marks came about") + "."
	}
	return t.markup() + foot + "</p>\n"
}

// pointsOf is the cut of a baluster: at its axis, and its long and short point.
func (b *book) pointsOf(r *layout.Run, k int) (axis, long, short markup) {
	for _, c := range r.Balusters {
		if !holds(c.Which, k) {
			continue
		}
		axis = b.figured(c.Figure, b.near(c.Length))
		if c.Long > 0 {
			long, short = b.mark(c.Long), b.near(c.Short)
		}
		return axis, long, short
	}
	return toBeMeasured, "", ""
}

// holds reports whether a number is among those written as 1 to 3, 7.
func holds(which string, k int) bool {
	for _, part := range strings.Split(which, ", ") {
		first, last, isRange := strings.Cut(part, " to ")
		a, err := strconv.Atoi(first)
		if err != nil {
			continue
		}
		z := a
		if isRange {
			if z, err = strconv.Atoi(last); err != nil {
				continue
			}
		}
		if a <= k && k <= z {
			return true
		}
	}
	return false
}

// holesTable is what is bored or cut for the balusters' ends.
func (b *book) holesTable(r *layout.Run) markup {
	t := table{label: "Holes for the balusters of " + b.runTitle(r.Name), heads: []head{column("Where"), num("How many", ""), num("Wide", b.unit()), num("Deep", b.unit())}}
	for _, h := range r.Holes {
		where := esc(capital(h.Where))
		if !h.Round {
			where += ", square"
		}
		if h.Note != "" {
			where += say(`<span class="fit">%s</span>`, sentence(h.Note))
		}
		t.row(where, say("%d", h.Count), b.figured(h.Wides, b.bitPlain(h.Wide)), b.figured(h.Deeps, b.exact(h.Deep)))
	}
	return t.markup()
}

// stairReadings are the readings of a flight as they were taken.
func (b *book) stairReadings(r *job.Run) markup {
	s := r.Stair
	if s == nil {
		return ""
	}
	var w writer
	facts := pairs{class: "facts"}
	length := func(name string, m job.Measure) {
		if m.Given || !m.At.IsZero() {
			facts.add(name, say("%s %s", b.read(m), b.unit()))
		}
	}
	length("nosing", s.Nosing)
	length("level clear", s.Level)
	length("clear along the rake at the handrail", s.Along)
	length("rail top above the line of the nosings", r.Height.Top)
	length("bracket before the riser", s.Bracket)
	length("shoe above the line of the nosings", s.ShoeOver)
	facts.add("under the shoe", b.words(s.Under))
	facts.add("no risers between the treads", b.flag(s.OpenRisers))
	length("widest opening between two treads", s.RiserOpening)
	facts.add("the stair lies, going up, on the", b.words(s.Side))
	if s.PerTread.Given {
		facts.add("balusters on a tread, exactly", b.recorded(s.PerTread.At, say("%d", s.PerTread.N)))
	}
	for _, w := range s.OneMore {
		facts.add("one baluster more on tread", b.recorded(w.At, say("%d", w.N)))
	}
	facts.add("is the handrail of the stair", b.flag(s.IsHandrail))
	if w := s.WallRail; w.Given() {
		length("wall rail: from the wall", w.Clear)
		length("wall rail: stands out", w.Out)
		length("wall rail: top above the line of the nosings", w.Height)
		length("wall rail: length along the rake", w.Long)
		facts.add("wall rail: ends", b.words(w.Ends))
		facts.add("wall rail: reaches over", b.words(w.Reaches))
		length("wall rail: stud to stud", w.Studs)
	}
	facts.put(&w)
	for _, steps := range []struct {
		name string
		job.Steps
	}{{"Risers", s.Risers}, {"Goings", s.Goings}} {
		t := table{label: steps.name + ", lowest first", heads: []head{num("Which", ""), num("As read", b.unit())}}
		for i, m := range steps.Each {
			t.row(say("%d", i+1), b.read(m))
		}
		t.put(&w)
		if steps.Count.Given {
			w.put(say("<p>%s: %s, together %s %s; not measured one by one.</p>\n", steps.name, b.recorded(steps.Count.At, say("%d", steps.Count.N)), b.read(steps.Total), b.unit()))
		}
	}
	return w.markup()
}

// perTread is how many balusters stand on a tread: 2, or 2 (3 on treads 1, 4).
func perTread(r *layout.Run, n int) markup {
	if r.Job == nil || r.Job.Stair == nil || len(r.Job.Stair.OneMore) == 0 {
		return say("%d", n)
	}
	var treads []string
	for _, t := range r.Rake.Treads {
		if r.Job.Stair.More(t.N) > 0 {
			treads = append(treads, strconv.Itoa(t.N))
		}
	}
	word := "tread"
	if len(treads) > 1 {
		word = "treads"
	}
	return say("%d (%d on %s %s)", n, n+1, word, strings.Join(treads, ", "))
}

// edgeFacts are what was measured of the edge that a run stands on.
func (b *book) edgeFacts(r *job.Run) markup {
	e := r.Edge
	facts := pairs{class: "facts"}
	for _, q := range []struct {
		name string
		m    job.Measure
	}{{"edge to the middle of the guard", e.Back}, {"overhang with nothing under it", e.Overhang}, {"solid wood behind it", e.Solid}, {"cap", e.Cap}} {
		if q.m.Given || !q.m.At.IsZero() {
			facts.add(q.name, say("%s %s", b.read(q.m), b.unit()))
		}
	}
	facts.add("joists run", b.words(e.Joists))
	facts.add("blocking under the posts", b.flag(e.Blocking))
	for i, j := range r.Joints {
		facts.add("joint "+strconv.Itoa(i+1)+" in the handrail", say("%s %s", b.read(j), b.unit()))
	}
	if r.Radius.Given {
		facts.add("radius at the line of the balusters", say("%s %s", b.read(r.Radius), b.unit()))
	}
	return facts.markup()
}
