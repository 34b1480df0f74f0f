package rules

import (
	"cmp"
	"slices"
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// row adds a thing to measure. Readings of the words in what go into it.
func (s *inspector) row(c Check, what string, limits ...string) *Check {
	c.limits = limits
	for _, name := range limits {
		c.Limits = append(c.Limits, s.bound(name))
	}
	if c.takes == nil {
		c.takes = func(t *taken) bool { return t.What.Text == what }
	}
	c.ID = s.ID + "/" + c.ID
	s.Checks = append(s.Checks, c)
	return &s.Checks[len(s.Checks)-1]
}

func (s *inspector) bound(name string) Bound {
	l := s.job.Rules.Limit(name)
	op := opOf(l)
	if op == 0 {
		return Bound{}
	}
	return Bound{op, l}
}

// rows lists what is measured on the run.
func (s *inspector) rows() {
	s.openingRows()
	s.heightRows()
	if s.run.Job.Stair != nil {
		s.stairRows()
		for _, wall := range []bool{false, true} {
			s.gripRows(wall)
		}
	}
	for _, t := range s.taken { // what the plan has no row for, and was read all the same
		if limits := s.limits(t); !slices.ContainsFunc(s.Checks, func(c Check) bool { return c.takes(t) }) {
			s.row(Check{ID: anchorOf(t.What.Text), What: t.What.Text, Where: "where it was read", With: "tape"}, t.What.Text, limits...)
		}
	}
	for i := range s.Checks {
		s.Checks[i].Limits = slices.DeleteFunc(s.Checks[i].Limits, func(b Bound) bool { return b.Limit == nil })
	}
}

func anchorOf(what string) string {
	b := []byte(what)
	for i, c := range b {
		if c == ' ' {
			b[i] = '-'
		}
	}
	return string(b)
}

// gauge is the ball that must not pass, in the unit of the rule set.
func (s *inspector) gauge(limit string) string {
	l := s.job.Rules.Limit(limit)
	if opOf(l) == 0 {
		return "ball or gauge block, and a caliper for the reading"
	}
	return "ball or gauge block of " + Words(l.Value.Length, l.System) + ", which must not pass; caliper for the reading"
}

// Words writes a length of a rule set in its own unit, as a fraction where a tape has one.
func Words(l length.Length, system length.System) string {
	if l%system.Finest() == 0 {
		return system.With(l)
	}
	const places = 4
	return length.Style{System: system, Division: length.Nanometre, Rounding: length.Nearest}.Decimal(l, places) + " " + system.String()
}

const plumbTape = "tape, and a level to hold it plumb"

func (s *inspector) openingRows() {
	r := s.run
	planned := func(c *Check, o layout.Opening) {
		if o.Known && o.Worst < length.Most {
			c.Planned, c.Known, c.Figure = o.Worst, true, o.Figure
		}
	}
	slim := ""
	if b := r.Job.Baluster; b != nil && b.Turned() {
		slim = ", at the slim places of the turnings, not at the foot"
	}
	between, limit := s.opening("between", false)
	every := "between every two balusters"
	if r.Job.Stays() {
		every += ", old and new"
	}
	where := every + ", from foot to rail" + slim + "; write the widest, and which"
	what := "widest opening between balusters"
	n, laid := s.balusters()
	if laid && n == 0 {
		what, where = "widest opening", "from end to end"
	}
	if between.Left > 0 {
		where += "; by the plan " + between.Where
	}
	planned(s.row(Check{ID: "opening", What: what, Where: where, With: s.gauge(limit)}, "opening", limit), between)
	landing, of := s.opening("between", true)
	if landing.Part != "" {
		planned(s.row(Check{ID: "landing-opening", What: "widest opening on the landing", Where: "between every two balusters that stand on the landing" + slim, With: s.gauge(of)}, "landing opening", of), landing)
	}
	if laid && n == 0 {
		return
	}
	for i, part := range []string{"from", "to"} {
		o, limit := s.opening(part, false)
		e := []job.End{r.Job.From, r.Job.To}[i]
		name := e.Where.Text
		beside := "the post"
		switch {
		case name == "":
			name, beside = []string{"the datum end", "the other end"}[i], "what stands there"
		case e.IsWall():
			name, beside = "the wall", "the wall"
		}
		where := "between " + beside + " and the baluster beside it, from foot to rail"
		if e.Trimmed() {
			where += ", above the " + e.Face.Text + " too"
		}
		c := s.row(Check{ID: "opening-" + part, What: "opening at " + name + " (" + part + ")", Where: where, With: s.gauge(limit),
			takes: func(t *taken) bool { return t.What.Text == "end opening" && t.End() == i }}, "end opening", limit)
		planned(c, o)
	}
}

// planned puts the plan's own measure of a limit into a row.
func (s *inspector) planned(c *Check, limit, ending string) {
	if m, ok := s.measured(limit, ending); ok && m.Known && !m.Bound {
		c.Planned, c.Known, c.Figure = m.Value, true, m.Figure
	}
}

func (s *inspector) heightRows() {
	r := s.run
	if r.Job.Stair == nil {
		where := "plumb, from the finished floor up to the top of the handrail, where the floor is highest"
		if p := r.Floor.Points; len(p) > 0 && r.Floor.Out > 0 {
			high := slices.MaxFunc(p, func(a, b layout.FloorPoint) int { return cmp.Compare(a.Height, b.Height) })
			where += ": by the level readings " + s.along(high.At)
		}
		s.planned(s.row(Check{ID: "height", What: "height of the guard", Where: where, With: plumbTape}, "height", "guard-height-level"), "guard-height-level", "")
	} else {
		s.planned(s.row(Check{ID: "height", What: "height of the guard above the nosings", Where: "plumb, from the edge of every nosing up to the top of the rail; write the least, and over which", With: plumbTape}, "height", "guard-height-stair"), "guard-height-stair", "")
		if _, over := s.measured("guard-height-level", ""); over {
			s.planned(s.row(Check{ID: "landing-height", What: "height of the guard above the landing", Where: "plumb, from the landing at the face of the highest riser up to the top of the rail", With: plumbTape}, "landing height", "guard-height-level"), "guard-height-level", "")
		}
		if isHandrail(r.Job) || r.Job.Stair.WallRail.Given() {
			c := Check{ID: "handrail-height", What: "height of the handrail above the nosings", Where: "plumb, from the edge of every nosing up to the top of the handrail; write the least and the greatest", With: plumbTape}
			ending := ""
			if wall := r.Job.Stair.WallRail.Given(); wall {
				c.What, ending = "height of the rail on the wall above the nosings", "height of the wall rail above the line of the nosings"
				if isHandrail(r.Job) {
					guard := c
					guard.ID, guard.What = "guard-as-handrail", "height of the guard's rail as a handrail"
					guard.takes = func(t *taken) bool { return t.What.Text == "height" }
					s.planned(s.row(guard, "height", "handrail-height-least", "handrail-height-most"), "handrail-height-least", ", the least")
				}
			} else {
				c.takes = func(t *taken) bool { return t.What.Text == "handrail height" || t.What.Text == "height" }
			}
			s.planned(s.row(c, "handrail height", "handrail-height-least", "handrail-height-most"), "handrail-height-least", ending)
		}
	}
	s.planned(s.row(Check{ID: "drop", What: "drop beside the guard", Where: "plumb, from the walking surface down to the floor or grade below, where it is deepest within the reach that the clause names", With: "tape or plumb line"}, "drop", drop), drop, "")
}

// along says in words how far from the datum end a place of the run is.
func (s *inspector) along(at length.Length) string {
	e, end := s.run.Job.From, "the datum end"
	switch {
	case e.IsWall():
		end = "the wall (from)"
	case e.Where.Text != "":
		end = e.Where.Text
	}
	if at == 0 {
		return "at " + end
	}
	return layout.Tape(at, s.job.System, s.unit) + " from " + end
}

func (s *inspector) stairRows() {
	st := s.run.Job.Stair
	if _, ok := s.measured("guard-triangle", ""); ok {
		s.planned(s.row(Check{ID: "triangle", What: "triangle of riser, tread and shoe", Where: "over every tread, under the shoe; write the widest, and over which", With: s.gauge("guard-triangle")}, "triangle", "guard-triangle"), "guard-triangle", "")
	}
	if st.WallRail.Given() {
		s.planned(s.row(Check{ID: "wall-clearance", What: "between the rail and the wall", Where: "where it is narrowest, all along the rail", With: "tape or a block of the limit"}, "wall clearance", "handrail-wall-clearance"), "handrail-wall-clearance", "")
		s.planned(s.row(Check{ID: "projection", What: "how far the rail on the wall stands out", Where: "from the wall to the far side of the rail, where it is most", With: "tape and square"}, "projection", "handrail-projection"), "handrail-projection", "")
	}
	numbers := func(n int) (list []string) {
		for i := range max(0, n) {
			list = append(list, strconv.Itoa(i+1))
		}
		return list
	}
	s.planned(s.row(Check{ID: "riser", What: "greatest riser", Where: "each riser beside the guard, plumb, tread to tread, lowest first", With: plumbTape, Boxes: numbers(st.Risers.N())}, "riser", "riser-most"), "riser-most", "")
	s.planned(s.row(Check{ID: "riser-spread", What: "greatest riser less the least", Where: "from the readings above", With: "no reading of its own", takes: never}, "", "riser-spread"), "riser-spread", "")
	s.planned(s.row(Check{ID: "tread", What: "least tread", Where: "each tread beside the guard, level, nosing to nosing, lowest first", With: "tape and level", Boxes: numbers(st.Risers.N() - 1)}, "tread", "tread-least"), "tread-least", "")
	s.planned(s.row(Check{ID: "tread-spread", What: "greatest tread less the least", Where: "from the readings above", With: "no reading of its own", takes: never}, "", "tread-spread"), "tread-spread", "")
	if st.OpenRisers.Yes {
		s.planned(s.row(Check{ID: "riser-opening", What: "opening between two treads", Where: "between every two treads, where it is widest", With: s.gauge("open-riser")}, "riser opening", "open-riser"), "open-riser", "")
		return
	}
	s.planned(s.row(Check{ID: "nosing", What: "nosing", Where: "from the face of the riser out to the edge of the nosing, level; the least and the greatest", With: "tape and square"}, "nosing", "nosing-least", "nosing-most"), "nosing-least", "")
}

func never(*taken) bool { return false }

// gripSizes are the sizes of a handrail's section in the order of the sheet.
var gripSizes = []struct{ what, title, with string }{
	{"diameter", "diameter", "caliper"},
	{"girth", "girth", "string and tape"},
	{"across", "greatest distance across", "caliper"},
	{"recess start", "where the finger recess begins, below the tallest part", "square and tape"},
	{"recess depth", "depth of the finger recess", "square and tape"},
	{"recess within", "how far below the widest part it is that deep", "square and tape"},
	{"recess kept", "depth that the finger recess keeps", "square and tape"},
	{"recess end", "how far down the finger recess goes, below the tallest part", "square and tape"},
	{"recess width", "width above the finger recess", "caliper"},
}

// gripRows are the sizes that the plan judges a handrail's section by.
func (s *inspector) gripRows(wall bool) {
	ending, whose, id := railEnding(wall), "the handrail", "grip-"
	if wall {
		whose, id = "the rail on the wall", "wall-grip-"
	}
	for _, g := range gripSizes {
		var limits []string
		for _, l := range grips[g.what] {
			if _, ok := s.measured(l, ending); ok {
				limits = append(limits, l)
			}
		}
		if len(limits) == 0 {
			continue
		}
		s.planned(s.row(Check{ID: id + anchorOf(g.what), What: g.title + " of " + whose, Where: "square to the rail, anywhere along it", With: g.with,
			takes: func(t *taken) bool { return t.What.Text == g.what && t.wallRail() == wall }}, g.what, limits...), limits[0], ending)
	}
}

// runTicks are what no length decides of a run.
func (s *inspector) runTicks() {
	s.Ticks = append(s.Ticks, Tick{
		ID: s.ID + "/push", What: "push test, middle of the run", How: "from the safe side, hard, at rail height, outward and inward; a helper watches joints and feet",
		Right: "nothing moves, no joint opens, nothing creaks", Source: "common practice, no source; it proves no load",
	})
	for i, e := range []job.End{s.run.Job.From, s.run.Job.To} {
		if !e.IsWall() {
			continue
		}
		how := "pull and push at the rail's end"
		if e.Held.Given {
			how += "; by the plan it is held by: " + e.Held.Text
		}
		part := []string{"from", "to"}[i]
		s.Ticks = append(s.Ticks, Tick{ID: s.ID + "/held-" + part, What: "end at the wall (" + part + ")", How: how, Right: "fast, and no gap opens at the wall", Source: "common practice, no source"})
	}
	if st := s.run.Job.Stair; st != nil && st.WallRail.Given() {
		s.Ticks = append(s.Ticks, Tick{ID: s.ID + "/wall-rail", What: "rail on the wall", How: "pull and push at every bracket, down and out", Right: "no bracket and no screw gives", Source: "common practice, no source; it proves no load"})
	}
}

// postTicks are what no length decides of a post.
func (s *inspector) postTicks(p *job.Post) {
	push := Tick{ID: s.ID + "/push", What: "push test", How: "from the safe side, hard, at rail height, outward, inward and along; a helper watches the foot", Right: "nothing moves at the foot, nothing creaks", Source: "common practice, no source; it proves no load"}
	if s.job.Stays(p) { // nobody set it, and it may lean as it always did
		s.Ticks = append(s.Ticks, push, Tick{ID: s.ID + "/foot", What: "foot of the old post", How: "look where it can be seen", Right: "no split, no rot, nothing loose", Source: "common practice, no source"})
		return
	}
	how := "look, before it is closed"
	if p.Foot.Given {
		how += "; by the plan: " + p.Foot.Text
	}
	s.Ticks = append(s.Ticks, push,
		Tick{ID: s.ID + "/plumb", What: "plumb", How: "level on two faces that meet", Right: "plumb both ways", Source: "common practice, no source"},
		Tick{ID: s.ID + "/foot", What: "fixed at its foot as planned", How: how, Right: "as the fixings page has it", Source: "the plan"})
}

// wholeTicks are what no length decides of the whole job.
func (in *Inspection) wholeTicks(j *job.Job) {
	if len(j.Runs) == 0 {
		return
	}
	if len(j.Finishes) > 0 {
		in.Ticks = append(in.Ticks, Tick{ID: asBuilt + "dry", What: "finish", How: "with the hand, along every rail and down a baluster of each run", Right: "dry to the hand, nothing sticks", Source: "common practice, no source"})
	}
	in.Ticks = append(in.Ticks, Tick{ID: asBuilt + "smooth", What: "nothing to be hurt by", How: "with the hand, along rails, edges and plugs", Right: "no splinter, no brad, no sharp edge", Source: "common practice, no source"})
	if traits := j.Traits(); slices.Contains(traits, "children") {
		behind := "16 CFR 1239, which makes ASTM F1004 binding on gates (published)"
		if !j.IsLaw(job.US) {
			behind = "published guidance; ask what is asked of gates at the place; in the US 16 CFR 1239 makes ASTM F1004 binding on them"
		}
		in.Ticks = append(in.Ticks, Tick{ID: asBuilt + "gate", What: "gate at the head of a stair", How: "look how it is held; none there: write none", Right: "screwed on, never held by pressure", Source: behind})
	}
}

// pushes collects what pushes showed, newest first. Where something moved the work is not finished, whatever it was reckoned to carry; a push where nothing did proves nothing.
func (s *inspector) pushes(mine func(job.Push) bool) {
	newest := map[string]string{}
	for _, x := range s.job.AsBuilt {
		for _, p := range x.Pushes {
			if !mine(p) || !p.Moves.Given {
				continue
			}
			b := Push{Date: x.Date.Text, By: x.By.Text, Where: p.Where.Text, Load: p.Load.Text, Note: p.Note.Text, Moves: p.Moves, At: p.Moves.At}
			if !x.Date.Given {
				b.Date = ""
			}
			newest[job.Place(b.Where)] = max(newest[job.Place(b.Where)], b.Date)
			s.Pushes = append(s.Pushes, b)
		}
	}
	slices.SortStableFunc(s.Pushes, func(a, b Push) int {
		switch {
		case a.Date > b.Date:
			return -1
		case a.Date < b.Date:
			return 1
		}
		return 0
	})
	n := 0
	for i := range s.Pushes {
		p := &s.Pushes[i]
		p.Counts = p.Date == "" || p.Date == newest[job.Place(p.Where)]
		if !p.Counts || !p.Moves.Yes {
			continue
		}
		n++
		title, place := "it moves when pushed", "and without where:, as this one"
		if p.Where != "" {
			title, place = title+", "+p.Where, "with the same where:"
		}
		s.all.Findings = append(s.all.Findings, finding.Finding{
			ID: "check/" + s.ID + "/moves/" + strconv.Itoa(n), Group: s.ID, Title: title, Verdict: finding.Fail, Rules: "a push by hand, an observation", At: p.At,
			Note: note(p.Note, "a guard that gives is not finished; what it carries no push tells"),
			Cure: "find what gives and make it fast, push again, and write it under its own date " + place + "; structure is for a licensed engineer",
		})
	}
}
