package book

import (
	"strings"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// layoutPage is where the balusters stand, run by run.
func (b *book) layoutPage(w *writer) {
	for _, r := range b.plan.Layout.Runs {
		b.runLayout(w, r)
	}
}

func (b *book) runLayout(w *writer, r *layout.Run) {
	w.say(`<section id="%s"><h2>%s</h2>`+"\n", runAnchor(r.Name), b.runTitle(r.Name))
	w.put(b.failing(r.ID))
	if len(r.Missing) > 0 {
		w.put("<p>", verdictMark(finding.ToBeMeasured, "Still to be measured or decided:"), "</p>\n", b.missingList(r.Missing))
	}
	drawn := b.drawn[r]()
	if c := r.Chosen; c != nil {
		w.put(b.chosen(r, c))
	}
	if r.Kept != nil {
		w.put(drawn.whole...)
		w.put(b.keptFacts(r), b.oldGaps(r), b.marksTable(r))
		w.put(drawn.pieces...)
		w.put(b.openingsTable(r), b.oldOnes(r), b.stairTable(r))
	} else if r.Rake != nil {
		w.put(drawn.whole...)
		w.put(b.rakeFacts(r), b.marksTable(r))
		w.put(drawn.pieces...)
		w.put(b.openingsTable(r), b.countsTable(r), b.stairTable(r))
	} else {
		w.put(drawn.whole...)
		w.put(b.marksTable(r), b.spacer(r))
		w.put(drawn.pieces...)
		w.put(b.openingsTable(r), b.countsTable(r))
	}
	w.put(b.holesTable(r))
	if r.TurningsWords != "" {
		w.line(r.TurningsWords)
	}
	if r.Kept != nil {
		for _, words := range r.Kept.Words {
			w.line(words)
		}
	}
	if why := b.plan.WhyCount(r, b.edition == Whole || b.edition == Crew); why != "" {
		w.line(sentence("why this count: " + why))
	}
	w.put(b.hair(r))
	w.put(b.floorWords(r), b.heightsTable(r))
	if r.Lean != nil && r.Lean.Words != "" {
		w.line(sentence(r.Lean.Words))
	}
	if r.Job != nil {
		w.put(b.prose(r.Job.Prose.Document))
	}
	w.put("</section>\n")
}

// failing lists the failing checks of a group where its numbers are worked from; of all that is to be built, as far as they bear on a cut or a bore, where the group is empty.
func (b *book) failing(group string) markup {
	return b.banner("Not to be cut or bored by yet; these checks fail:", func(f finding.Finding) bool { return b.bearsOnCuts(f) && (group == "" || f.Group == group) })
}

// failingOrder lists the failing checks that bear on what is bought: those of cuts and bores, and of coats but for the air on the day.
func (b *book) failingOrder() markup {
	return b.banner("Not to be ordered by yet; these checks fail:", func(f finding.Finding) bool {
		return b.bearsOnCuts(f) || f.Group == "coating" && !strings.HasSuffix(f.ID, "/air")
	})
}

// failingDays lists what fails of the days.
func (b *book) failingDays() markup {
	return b.banner("The days do not work out; these checks fail:", func(f finding.Finding) bool { return f.Group == "calendar" })
}

// bearsOnCuts reports a finding that bears on a cut or a bore of what is to be built: not days and coats, which stand on pages of their own and make no length wrong, nor an old guard that goes or what was read on one that stands.
func (b *book) bearsOnCuts(f finding.Finding) bool {
	return f.Group != "calendar" && f.Group != "coating" && !b.plan.OfOld(f) && !b.plan.OfBuilt(f)
}

// banner heads a page that is worked from with the failing checks that bear on it.
func (b *book) banner(words string, bears func(finding.Finding) bool) markup {
	var w writer
	for _, f := range b.checked() {
		if f.Verdict == finding.Fail && bears(f) {
			w.say(`<li><a href="checks.html#%s">%s</a>, %s</li>`+"\n", findingAnchor(f), f.Title, b.groupTitle(f.Group))
		}
	}
	if w.Len() == 0 {
		return ""
	}
	return "<p>" + verdictMark(finding.Fail, words) + "</p>\n<ul>\n" + w.markup() + "</ul>\n"
}

// chosen is the numbers of the count that was taken.
func (b *book) chosen(r *layout.Run, c *layout.Candidate) markup {
	facts := pairs{class: "carry"}
	facts.add(countLabel(r), say("%d", c.Count))
	if r.Kept != nil {
		facts.add("old balusters that stay", say("%d", len(r.Kept.Old)))
	}
	if c.PerTread > 0 {
		facts.add("on a tread", perTread(r, c.PerTread))
	}
	if r.Clear != nil {
		facts.add(clearLabel(r), say("%s %s", b.figure(r.Clear, b.exact(r.Clear.Exact(b.job.System))), b.unit()))
	}
	facts.add(gapLabel(r)+", to the nearest "+b.divisionWords(), say("%s %s", b.figure(r.Gap, b.near(c.Gap)), b.unit()))
	if r.Kept == nil {
		facts.add("spacing, centre to centre", say("%s %s", b.figure(r.Spacing, b.near(c.Spacing)), b.unit()))
	}
	facts.add(worstLabel(c), say("%s %s", b.worst(r, c.Worst), b.unit()))
	return facts.markup()
}

// countLabel says what is counted: where an old guard stays, the new ones.
func countLabel(r *layout.Run) string {
	if r.Kept != nil {
		return "new balusters"
	}
	return "balusters"
}

// clearLabel names the clear that the marks are laid out in.
func clearLabel(r *layout.Run) string {
	switch {
	case r.Rake != nil:
		return "clear, level"
	case r.Curve != nil:
		return "clear along the curve"
	}
	return "clear at the foot"
}

// gapLabel names the gap: on treads they differ, and it is the widest of them.
func gapLabel(r *layout.Run) string {
	switch {
	case r.Kept != nil && r.Rake != nil:
		return "widest gap left, level"
	case r.Kept != nil:
		return "widest gap left"
	case r.Rake != nil && r.Rake.OnTreads:
		return "widest gap, level"
	case r.Rake != nil:
		return "gap, level"
	case r.Curve != nil:
		return "gap along the curve"
	}
	return "gap"
}

// worstLabel names the worst opening, which is not yet the last word while the shape of an end is to be measured.
func worstLabel(c *layout.Candidate) string {
	if c.Unmeasured {
		return "worst opening, as far as known"
	}
	return "worst opening"
}

// worst is an opening in decimals, beside the limit of the run.
func (b *book) worst(r *layout.Run, l length.Length) markup {
	if l >= length.Most {
		return "no limit"
	}
	v, _ := b.judged(l, r.Limit.Value, finding.Under)
	return v
}

// marksTable is the marks in the order in which the tape meets them.
func (b *book) marksTable(r *layout.Run) markup {
	if len(r.Marks) == 0 {
		return ""
	}
	if r.Rake != nil {
		return b.flightMarks(r) + b.withoutStrip(r)
	}
	shoe, rail := false, false
	for _, m := range r.Marks {
		shoe = shoe || m.Shoe != 0 && m.Shoe != m.At
		rail = rail || !m.Plumbed
	}
	t := table{label: "Marks of " + b.runTitle(r.Name) + ", centres from " + b.datum(r), class: "marks"}
	t.heads = []head{num("Mark", ""), num("From the datum", b.unit())}
	if shoe {
		words := "From the end of the shoe"
		if r.Marks[0].Piece > 0 {
			words = "From the end of its piece of the shoe"
			if r.Shoe == nil {
				words = "From the end, or the step before it"
			}
		}
		t.heads = append(t.heads, num(words, b.unit()))
	}
	if rail {
		t.heads = append(t.heads, num("From the end of the rail", b.unit()))
	}
	for _, m := range r.Marks {
		cells := []markup{say("%d", m.K), b.mark(m.At)}
		if m.Gap > 0 {
			cells[0] += say(` <span class="place">gap %d</span>`, m.Gap)
		}
		if shoe {
			cell := b.mark(m.Shoe)
			if m.Piece > 1 {
				cell += say(` <span class="place">piece %d</span>`, m.Piece)
			}
			cells = append(cells, cell)
		}
		if rail && m.Plumbed {
			cells = append(cells, "plumb up")
		} else if rail {
			cells = append(cells, b.mark(m.Rail))
		}
		t.row(cells...)
	}
	foot := say("<p>Each mark is worked out by itself and %s; measure every one from the datum, never from the one before.", b.rounded(length.Nearest))
	if r.MarkFig != nil {
		foot += " " + b.figure(r.MarkFig, "How the marks came about") + "."
	}
	return t.markup() + foot + "</p>\n" + b.withoutStrip(r)
}

// withoutStrip says of a run that it has no strips at full size, and why.
func (b *book) withoutStrip(r *layout.Run) markup {
	if why := draw.NoStrip(r, b.style()); why != "" && b.edition != Inspector { // who has none
		return say("<p>No strip at full size of it: %s.</p>\n", why)
	}
	return ""
}

// datum is the face that marks are measured from, in words.
func (b *book) datum(r *layout.Run) string {
	switch {
	case r.From.Wall:
		return "the wall"
	case r.From.Name != "":
		return "post " + r.From.Name
	}
	return "the datum end"
}

func (b *book) spacer(r *layout.Run) markup {
	s := r.Spacer
	if s == nil {
		return ""
	}
	m := say("<p>Spacer block for a check: %s %s.", b.figured(s.Figure, b.mark(s.Block)), b.unit())
	drift := s.Drift
	how := "wider"
	if drift < 0 {
		drift, how = -drift, "narrower"
	}
	if drift == 0 {
		return m + say(" Stepped with it, the last gap comes out at %s %s, as meant.</p>\n", b.near(s.LastGap), b.unit())
	}
	return m + say(" Don’t lay out with it: stepped without the datum, the last gap comes out at %s %s, %s %s %s than meant.</p>\n", b.exact(s.LastGap), b.unit(), b.near(drift), b.unit(), how)
}

// openingsTable is the largest ball that passes, at each sort of place.
func (b *book) openingsTable(r *layout.Run) markup {
	t := table{label: "Openings of " + b.runTitle(r.Name), heads: []head{column("Where"), num("Gap at the foot", b.unit()), num("Opening", b.unit()), num("Worst", b.unit())}}
	for _, o := range r.Openings {
		if !o.Known {
			t.row(esc(capital(o.Where)), b.near(o.Foot), toBeMeasured, toBeMeasured)
			continue
		}
		t.row(esc(capital(o.Where)), b.near(o.Foot), b.worst(r, o.Nominal), b.figured(o.Figure, b.worst(r, o.Worst)))
	}
	if len(t.rows) > 0 {
		t.foot = "An opening is the largest ball that passes anywhere up the height. Worst is with marking, drilling and width all on the bad side."
	}
	return t.markup()
}

// countsTable is the counts side by side.
func (b *book) countsTable(r *layout.Run) markup {
	t := table{label: "Counts of " + b.runTitle(r.Name) + " side by side", heads: []head{num("Balusters", ""), num(capital(gapLabel(r)), b.unit()), num("Worst opening", b.unit()), column("Verdict")}}
	for _, c := range r.Candidates {
		verdict := verdictMark(c.Verdict(), c.Verdict().String())
		if !c.Judged {
			verdict = verdictMark(finding.ToBeMeasured, "no limit yet")
		}
		if c.Chosen {
			verdict += ", taken"
		}
		worst := b.worst(r, c.Worst)
		if c.Where != "" {
			worst += say(` <span class="place">%s</span>`, c.Where)
		}
		count := say("%d", c.Count)
		if c.PerTread > 0 {
			count += say(`<span class="fit">%s on a tread</span>`, perTread(r, c.PerTread))
		}
		t.row(count, b.near(c.Gap), worst, verdict)
	}
	if len(t.rows) > 0 && r.Limit.Known {
		limit := b.limit(r.Limit.Value)
		return t.markup() + say("<p>Judged by %s: the worst opening must be %s.</p>\n", r.Limit.From, b.comparison(r.Limit.Op, limit))
	}
	return t.markup()
}

// floorWords are what the floor does, and what takes it up.
func (b *book) floorWords(r *layout.Run) markup {
	var w writer
	if r.Floor.Words != "" {
		w.line(sentence(r.Floor.Words))
	}
	t := table{label: "Taken off the underside of the shoe", heads: []head{num("From the datum", b.unit()), num("Off", b.unit())}}
	for _, p := range r.Floor.Scribe {
		t.row(b.near(p.At), b.mark(p.Height))
	}
	t.put(&w)
	return w.markup()
}

// heightsTable is the heights that the guard is set to, above the floor that it stands on and above both floors.
func (b *book) heightsTable(r *layout.Run) markup {
	l := r.Levels
	if r.Rake != nil {
		return "" // the stair's table has them, nosing by nosing
	}
	if !l.Known {
		return ""
	}
	t := table{label: "Heights of " + b.runTitle(r.Name), heads: []head{column("What"), num("Height", b.unit())}}
	if b.edition == Client { // who sets nothing by it
		t.row("Top of the rail above the finished floor, where that is highest", b.exact(l.Finished))
		if l.Bare != l.Finished {
			t.row("The same, above the floor as it is now", b.exact(l.Bare))
		}
		return t.markup()
	}
	t.row("Rail top, above the floor it stands on at the datum end", b.mark(l.RailTop))
	t.row("Rail underside, there", b.mark(l.RailUnder))
	if l.ShoeTop != 0 {
		t.row("Shoe top, there", b.mark(l.ShoeTop))
	}
	t.row("Rail top above the highest point of the bare floor", b.exact(l.Bare))
	t.row("Rail top above the highest point of the finished floor", b.exact(l.Finished))
	return t.markup()
}
