package book

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// madePage is what is made already, and what becomes of each piece.
func (b *book) madePage(w *writer) {
	m := b.plan.Takeoff.Made
	if len(m.Pieces) == 0 {
		return
	}
	w.put(b.failing(""))
	w.put("<p>", b.madeWords(), "</p>\n")
	var open []string
	for _, x := range m.Pieces {
		if x.Fate == takeoff.Unknown && !slices.Contains(open, x.Of.Mark.Text) {
			open = append(open, x.Of.Mark.Text)
		}
	}
	if len(open) > 0 {
		w.say("<p><b>Not judged yet</b>, and not counted as made: %s. What is to be read stands beside each.</p>\n", marks(open))
	}
	var coats []finding.Reading
	for _, m := range b.plan.Missing {
		if m.Group == "made" && strings.HasSuffix(m.Where, "coats: ") {
			coats = append(coats, m)
		}
	}
	if len(coats) > 0 {
		w.put("<p><b>Nobody says how many coats are on some that go in.</b> Until it is written, they are reckoned as bare: the page Finishing and the calendar coat them like the rest.</p>\n", b.missingList(coats))
	}
	for _, r := range b.plan.Layout.Runs {
		if r.Drilled != nil {
			w.say(`<p><a href="layout.html#%s">%s</a>: %s</p>`+"\n", runAnchor(r.Name), b.runTitle(r.Name), sentence(r.Why))
		}
	}
	w.put(b.madeTable(m.Pieces))
	near := b.job.Tolerance.Mark.Length + b.job.Tolerance.Drill.Length
	w.say("<p>A piece is used as it is when all of it goes: the part and its section, the bevels to half a degree, bores and holes to %s (marking and drilling), the finish, and the length to %s (<code>within</code> in the settings); rails and shoes may be as much too long, for they are fitted to the marks. What else is longer is trimmed: a baluster at the end that its part says, a rail at an end that is not bored.</p>\n", b.plain(near), b.plain(b.job.Shop.Within.Length))
	w.line("No other way to put these pieces in places saves more of the material. Where it costs less to cut some of them into others, the cutting plan does that, and takes them before anything is bought.")
	for _, f := range b.job.MadeFiles {
		w.say(`<section id="%s"><h2>%s</h2>`+"\n", madeAnchor(f), f.Title.Or(job.Text{Text: f.Name}).Text)
		var p pairs
		if f.Date.Given {
			p.add("Made", b.recorded(f.Date.At, esc(dayWords(f.Date.Text))))
		}
		p.add("By", b.words(f.By))
		for _, s := range f.Sticks {
			var list []markup
			for _, c := range s.Cut {
				list = append(list, b.read(c))
			}
			if len(list) > 0 {
				p.add("Cut into", joined(": ", esc(s.Part.Text), joined(", ", list...)))
			}
		}
		p.put(w)
		w.put(b.prose(f.Prose.Document), "</section>\n")
	}
}

func madeAnchor(f *job.MadeFile) string { return "made-" + anchor(f.Name) }

// fates are what can become of a piece, in the order they are told.
var fates = []takeoff.Fate{takeoff.Lost, takeoff.Unknown, takeoff.Trimmed, takeoff.AsItIs, takeoff.Recut, takeoff.ToRack, takeoff.Left}

// madeWords counts the pieces by what becomes of them.
func (b *book) madeWords() markup {
	m := b.plan.Takeoff.Made
	one := map[takeoff.Fate]string{takeoff.Lost: "is lost", takeoff.Unknown: "waits for a reading", takeoff.Trimmed: "fits if trimmed", takeoff.AsItIs: "fits as it is", takeoff.Recut: "is cut into others", takeoff.ToRack: "goes to the rack", takeoff.Left: "is left over"}
	more := map[takeoff.Fate]string{takeoff.Lost: "are lost", takeoff.Unknown: "wait for a reading", takeoff.Trimmed: "fit if trimmed", takeoff.AsItIs: "fit as they are", takeoff.Recut: "are cut into others", takeoff.ToRack: "go to the rack", takeoff.Left: "are left over"}
	var list []markup
	for _, f := range fates {
		n := 0
		for _, x := range m.Pieces {
			if x.Fate == f {
				n++
			}
		}
		if n == 0 {
			continue
		}
		words := say("%s", counted(n, one[f], more[f]))
		if f == takeoff.Lost {
			words = say("<b>%s</b>", words)
			if cost := b.lostCost(); cost != "" {
				words += say(" (%s)", cost)
			}
		}
		list = append(list, words)
	}
	return say("Of %s that %s made already, %s.", counted(len(m.Pieces), "piece", "pieces"), isAre(len(m.Pieces)), joined(", ", list...))
}

func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// lostCost is the material in what is lost.
func (b *book) lostCost() markup {
	m := b.plan.Takeoff.Made
	switch {
	case b.edition != Whole:
		return ""
	case m.Figure == "":
		return "no price is known"
	case m.Unpriced > 0:
		return say("%s of material, without %s whose price is not known", b.figured(m.Figure, b.cash(m.Cost)), counted(m.Unpriced, "piece", "pieces"))
	}
	return say("%s of material", b.figured(m.Figure, b.cash(m.Cost)))
}

// madeTable is every piece, those alike on one line.
func (b *book) madeTable(pieces []takeoff.Made) markup {
	type line struct {
		key    string
		of     []takeoff.Made
		places []string
	}
	var lines []*line
	for _, x := range pieces {
		key := fmt.Sprint(x.Fate, x.Of.Part.Text, x.Of.Mark.What, b.madeOf(x.Of), x.Own, x.Mark == x.Of.Mark.Text, x.To, x.Why, x.Rest, len(x.Cuts), x.Cost.Given)
		if len(x.Cuts) > 0 {
			key += x.Of.Mark.Text
		}
		if n := len(lines); n > 0 && lines[n-1].key == key {
			lines[n-1].of, lines[n-1].places = append(lines[n-1].of, x), append(lines[n-1].places, x.Mark)
			continue
		}
		lines = append(lines, &line{key, []takeoff.Made{x}, []string{x.Mark}})
	}
	t := table{label: "Pieces that are made", wide: true, long: len(lines) > 20, heads: []head{column("Piece"), column("What becomes of it")}}
	slices.SortStableFunc(lines, func(x, y *line) int { return slices.Index(fates, x.of[0].Fate) - slices.Index(fates, y.of[0].Fate) })
	for _, l := range lines {
		x := l.of[0]
		var names []string
		cost := markup("")
		for _, y := range l.of {
			names = append(names, y.Of.Mark.Text)
		}
		if x.Fate == takeoff.Lost && b.edition == Whole {
			cost = ", no price known"
			if x.Cost.Given {
				var each []markup
				for _, y := range l.of {
					if c := b.figured(y.Figure, b.cash(y.Cost.Money)); !slices.Contains(each, c) {
						each = append(each, c)
					}
				}
				cost = ", " + joined(", ", each...)
				if len(l.of) > 1 {
					cost += " each"
				}
				cost += " of material"
			}
		}
		what := joined(", ", esc(x.Title), b.madeOf(x.Of))
		t.row(b.recorded(x.Of.At, say("<b>%s</b>", marks(names)))+say(`<span class="fit">%s</span>`, what), b.becomes(x, l.places)+cost)
	}
	return t.markup()
}

// madeOf is a piece as it was recorded.
func (b *book) madeOf(m *job.Made) markup {
	var list []markup
	long := b.read(m.Long)
	if m.Mark.What == "rosette" {
		long = ""
	}
	list = append(list, long)
	if m.Lower.Given || m.Upper.Given {
		bevel := func(r job.Ratio) markup {
			if r.Thousandths == 0 {
				return "square"
			}
			return say("%s°", working.Decimal(exact.New(r.Thousandths, 1000)))
		}
		list = append(list, say("lower end %s, upper %s", bevel(m.Lower), bevel(m.Upper)))
	}
	if m.Radius.Given {
		list = append(list, say("bent to %s", b.read(m.Radius)))
	}
	if len(m.Holes) > 0 {
		list = append(list, say("%s drilled", counted(len(m.Holes), "hole", "holes")))
	}
	for i, e := range []job.Measure{m.Bored.From, m.Bored.To} {
		if !e.At.IsZero() {
			list = append(list, say("bored at its %s", []string{"datum end", "other end"}[i]))
		}
	}
	for i, turn := range []job.Turn{m.Skew.From, m.Skew.To} {
		if turn.Given {
			list = append(list, say("its %s cut for a turn of %s", []string{"datum end", "other end"}[i], turnWords(turn)))
		}
	}
	for _, x := range m.Bolts {
		list = append(list, say("bored for the rail of %s at %s", b.runTitle(x.Of.Text), b.read(x.Up)))
	}
	switch {
	case m.Finish.Given && m.Coats.Given:
		list = append(list, say("%s of %s on it", counted(m.Coats.N, "coat", "coats"), m.Finish.Text))
	case m.Finish.Given:
		list = append(list, say("coated with %s", m.Finish.Text))
	case m.Coats.Given:
		list = append(list, "bare")
	}
	if m.Note.Given {
		list = append(list, esc(m.Note.Text))
	}
	return joined(", ", list...)
}

// becomes says what becomes of a piece, or of several alike.
func (b *book) becomes(x takeoff.Made, places []string) markup {
	as := markup("")
	if x.Piece >= 0 && x.Mark != x.Of.Mark.Text {
		as = say(" as %s: write that on", marks(places))
	}
	rest := markup("")
	if x.Rest > 0 {
		rest = say("; %s of it goes to the rack", b.plain(x.Rest))
	}
	cuts := markup("")
	if len(x.Cuts) > 0 {
		var names []string
		for _, p := range x.Cuts {
			names = append(names, b.pieceMark(p))
		}
		cuts = say("%s", marks(names))
	}
	switch x.Fate {
	case takeoff.AsItIs:
		if x.Turned() {
			as += ", turned end for end"
		}
		if x.Why != "" {
			as += say(", %s", x.Why)
		}
		return say("<b>fits as it is</b>%s", as)
	case takeoff.Trimmed:
		if x.Why != "" {
			rest = say(", %s", x.Why) + rest
		}
		words := say("<b>fits if trimmed</b> to %s %s%s: %s comes off", b.mark(x.To), b.unit(), as, b.plain(x.Off))
		if r := b.drilledRun(x); r != nil {
			if r.Drilled.Off == 0 {
				return say("<b>fits if trimmed</b> to %s %s%s: %s off its other end, nothing at the datum, so that the holes stay where they are", b.mark(x.To), b.unit(), as, b.plain(x.Off)) + rest
			}
			words = say("<b>fits if trimmed</b> to %s %s%s: %s off its end at the datum, %s off the other", b.mark(x.To), b.unit(), as, b.plain(r.Drilled.Off), b.plain(x.Off-r.Drilled.Off))
		}
		if cuts != "" {
			words += say(", from which the cutting plan takes %s", cuts)
		}
		return words + rest
	case takeoff.Recut:
		why := markup("")
		if x.Why != "" {
			why = say(" (%s)", x.Why)
		}
		return say("<b>is cut into other pieces</b>%s, by the cutting plan: %s%s", why, cuts, rest)
	case takeoff.ToRack:
		return say("<b>to the rack</b>, %s: %s of it is clean", x.Why, b.plain(x.Rest))
	case takeoff.Lost:
		return say("<b>is lost</b>: %s", x.Why)
	case takeoff.Unknown:
		return say("<b>to be measured</b>: %s", x.Why)
	}
	return say("<b>is left over</b>: %s", x.Why)
}

func (b *book) drilledRun(x takeoff.Made) *layout.Run {
	for _, r := range b.plan.Layout.Runs {
		if r.DrilledFor(x.Of) {
			return r
		}
	}
	return nil
}

// lostLine says on the first page that pieces are lost.
func (b *book) lostLine() markup {
	if b.plan.Takeoff.Made.Lost == 0 {
		return ""
	}
	n := b.plan.Takeoff.Made.Lost
	return say(`<p><a href="made.html">%s made already %s lost</a>%s.</p>`+"\n", counted(n, "piece that was", "pieces that were"), isAre(n), after(": ", b.lostCost()))
}

// after puts something before words, where there are any.
func after(sign string, words markup) markup {
	if words == "" {
		return ""
	}
	return esc(sign) + words
}

// madeCount says how many pieces of a cut are made already; empty where none is.
func (b *book) madeCount(c layout.Cut) markup {
	at := slices.IndexFunc(b.plan.Takeoff.Pieces, func(p layout.Cut) bool {
		return p.What == c.What && p.Run == c.Run && p.Which == c.Which && p.Part == c.Part && p.Length == c.Length && p.Fit == c.Fit
	})
	if at < 0 {
		return ""
	}
	asIs, trim := 0, 0
	for _, x := range b.plan.Takeoff.Made.Pieces {
		if x.Piece != at {
			continue
		}
		if x.Fate == takeoff.Trimmed {
			trim++
		} else {
			asIs++
		}
	}
	var list []markup
	if asIs > 0 {
		list = append(list, say("%d made", asIs))
	}
	if trim > 0 {
		list = append(list, say("%d made, to be trimmed", trim))
	}
	return joined(", ", list...)
}

// recordLines are the lines to copy into a file of kind: made once the pieces are cut, and once they are drilled, so that nobody types a mark by heart.
func (b *book) recordLines() markup {
	t := b.plan.Takeoff
	var cut, drilled strings.Builder
	of := make([][]string, len(t.Pieces))
	for _, l := range t.Labels {
		if x := t.Made.At(l.Piece, l.N); x == nil || x.Fate != takeoff.AsItIs {
			of[l.Piece] = append(of[l.Piece], l.Mark)
		}
	}
	for i, c := range t.Pieces {
		if len(of[i]) == 0 || c.ToFit || c.Length <= 0 || c.What == "rosette" {
			continue
		}
		mark := marks(of[i])
		if strings.Contains(mark, ",") {
			mark = `"` + mark + `"`
		}
		line := fmt.Sprintf("  - {mark: %s, part: %s, long: %s", mark, c.Part, b.record(c.Length))
		for _, s := range b.bevelsOf(c) {
			line += ", " + s
		}
		for _, m := range b.sectionOf(c) {
			line += ", " + m
		}
		cut.WriteString(line + "}\n")
		for _, more := range b.drillLine(c) {
			fmt.Fprintf(&drilled, "  - {mark: %s, part: %s, %s}\n", mark, c.Part, more)
		}
	}
	if cut.Len() == 0 {
		return ""
	}
	var w writer
	w.say(`<section id="record"><h2>Once they are cut</h2>`+"\n<p>%s</p>\n<pre class=\"paste\">kind: made\ndate:\npieces:\n%s</pre>\n", "Lines for a file of kind: made in the job's folder (made/1.md, between two lines of ---). Take those of the pieces that are cut, and write what the tape says of each. Every later book then says which of them still fit.", cut.String())
	if drilled.Len() > 0 {
		w.say("<p>%s</p>\n<pre class=\"paste\">%s</pre>\n", "And once they are bored or drilled; holes are read from the end at the datum, bores up from the underside:", drilled.String())
	}
	if coated := b.coatLines(); coated != "" {
		w.say("<p>%s</p>\n<pre class=\"paste\">%s</pre>\n", "And once they are coated, with how many coats are on them by then, coats alike counted each; 0 is bare wood. Where nobody says, they are reckoned as bare:", coated)
	}
	if sticks := b.sticksCut(); sticks != "" {
		w.say("<p>%s</p>\n<pre class=\"paste\">%s</pre>\n", "Last, below the pieces, the delivered sticks that were cut into:", sticks)
	}
	w.put("</section>\n")
	return w.markup()
}

// coatLines are the lines of pieces by part, with their finish and room for how many coats are on them.
func (b *book) coatLines() string {
	var w strings.Builder
	type alike struct{ part, finish, what string }
	of := map[alike][]string{} // their marks
	var order []alike
	t := b.plan.Takeoff
	for _, l := range t.Labels {
		c := t.Pieces[l.Piece]
		if c.What != "rosette" && (c.ToFit || c.Length <= 0) { // recorded once it has a length
			continue
		}
		for _, u := range b.job.Finishes {
			if u.Part == nil || len(u.Part.Coats) == 0 || u.Group != finish.GroupOf(c.What) {
				continue
			}
			if x := t.Made.At(l.Piece, l.N); x != nil && x.Of.Coats.N >= u.Part.AllCoats() {
				continue
			}
			key := alike{c.Part, u.Part.Name, c.What}
			if of[key] == nil {
				order = append(order, key)
			}
			of[key] = append(of[key], l.Mark)
		}
	}
	for _, key := range order {
		mark := marks(of[key])
		if strings.Contains(mark, ",") {
			mark = `"` + mark + `"`
		}
		fmt.Fprintf(&w, "  - {mark: %s, part: %s, finish: %s, coats: }\n", mark, key.part, key.finish)
	}
	return w.String()
}

// record is a length as it is written in a file of the job.
func (b *book) record(l length.Length) string {
	return length.Style{System: b.job.System, Division: b.job.System.Finest(), Rounding: length.Nearest}.Print(l)
}

func (b *book) bevelsOf(c layout.Cut) (list []string) {
	r := b.run(c.Run)
	if r == nil || r.Rake == nil || r.Rake.Angle == nil || !r.Rake.Angle.Value.Known() {
		return nil
	}
	for i, key := range []string{"lower-bevel", "upper-bevel"} {
		if c.Beveled[i] {
			list = append(list, key+": "+r.Rake.Angle.Value.Fixed(1)+"°")
		}
	}
	return list
}

// sectionOf is the section of a piece, so that it is known to be another one once its part is changed.
func (b *book) sectionOf(c layout.Cut) (list []string) {
	if post := b.job.Post(c.Which); c.What == "newel" && post != nil && post.Part != nil && post.Part.Wide.Given {
		return []string{"wide: " + b.record(post.Part.Wide.Length)}
	}
	r := b.run(c.Run)
	if r == nil || r.Job == nil {
		return nil
	}
	var wide, high job.Measure
	switch {
	case c.What == "baluster" && r.Job.Baluster != nil:
		wide = r.Job.Baluster.Wide
	case isFillet(c) && r.Job.FilletOf(c.What) != nil:
		f := r.Job.FilletOf(c.What)
		wide, high = f.Wide, f.Thick
	case c.What == "wall rail" && r.Job.Stair != nil && r.Job.Stair.WallRail.Part != nil:
		wide, high = r.Job.Stair.WallRail.Part.Wide, r.Job.Stair.WallRail.Part.High
	case c.What == "handrail" && r.Job.Handrail != nil:
		wide, high = r.Job.Handrail.Wide, r.Job.Handrail.High
	case c.What == "shoe" && r.Job.Shoe != nil:
		wide, high = r.Job.Shoe.Wide, r.Job.Shoe.High
	}
	if wide.Given {
		list = append(list, "wide: "+b.record(wide.Length))
	}
	if high.Given {
		list = append(list, "high: "+b.record(high.Length))
	}
	list = append(list, b.skewOf(c, r)...)
	if r.Curve != nil && isRail(c.What) && r.Job.Radius.Given {
		list = append(list, "radius: "+b.record(r.Job.Radius.Length))
	}
	return list
}

// drillLine is what is bored and drilled in a piece, by the plan.
func (b *book) drillLine(c layout.Cut) (list []string) {
	if c.What == "newel" {
		for _, p := range b.plan.Layout.Posts {
			if p.Name != c.Which {
				continue
			}
			var bores []string
			for _, a := range p.Arrivals {
				if a.Known && a.Bolt > 0 {
					bores = append(bores, fmt.Sprintf("{of: %s, up: %s}", a.Run, b.record(a.Bolt.Round(b.division, length.Nearest))))
				}
			}
			if len(bores) > 0 {
				list = append(list, "bolts: ["+strings.Join(bores, ", ")+"]")
			}
		}
		return list
	}
	r := b.run(c.Run)
	if r == nil || r.Job == nil {
		return nil
	}
	where := map[string]string{"shoe": "in the shoe", "handrail": "in the handrail"}[c.What]
	for _, h := range r.Holes {
		if h.Where != where || where == "" || len(r.ShoeMore) > 0 && c.What == "shoe" || len(r.RailPieces) > 1 && c.What == "handrail" {
			continue
		}
		var at []string
		for _, m := range r.Marks {
			if c.What == "shoe" {
				at = append(at, b.record(m.Shoe))
			} else if hole, ok := m.RailHole(); ok {
				at = append(at, b.record(hole))
			}
		}
		if len(at) == len(r.Marks) {
			list = append(list, fmt.Sprintf("hole: {wide: %s, deep: %s}, holes: [%s]", b.record(h.Wide), b.record(h.Deep), strings.Join(at, ", ")))
		}
	}
	if bolt := r.Job.Bolt; c.What == "handrail" && bolt != nil && r.Job.Handrail != nil && r.Job.Handrail.High.Given && len(r.RailPieces) == 0 {
		var ends []string
		for i, e := range []job.End{r.Job.From, r.Job.To} {
			if e.Post != nil && !e.Over.Yes {
				ends = append(ends, []string{"from", "to"}[i]+": "+b.record(r.Job.Handrail.High.Length/2+e.BoltUp.Length-e.BoltLow.Length))
			}
		}
		if len(ends) > 0 {
			list = append(list, "bolt: "+bolt.Name+", bored: {"+strings.Join(ends, ", ")+"}")
		}
	}
	return list
}

// turnWords is a turn as it is written.
func turnWords(t job.Turn) string {
	way, size := "right ", t.Milli
	switch {
	case size == 0:
		return "straight"
	case size < 0:
		way, size = "left ", -size
	}
	return way + working.Decimal(exact.New(size, 1000))
}

// skewOf is the turn that a rail's ends are cut for, where one is off square in plan.
func (b *book) skewOf(c layout.Cut, r *layout.Run) (list []string) {
	if c.What != "handrail" || len(r.RailPieces) > 0 {
		return nil
	}
	var ends []string
	for i, e := range []job.End{r.Job.From, r.Job.To} {
		for _, p := range b.plan.Layout.Posts {
			for _, a := range p.Arrivals {
				if e.Post != nil && p.Name == e.Post.Name && a.Run == r.Name && a.Skew != 0 && e.Post.Turn.Given {
					ends = append(ends, []string{"from: ", "to: "}[i]+turnWords(e.Post.Turn))
				}
			}
		}
	}
	if len(ends) > 0 {
		list = append(list, "skew: {"+strings.Join(ends, ", ")+"}")
	}
	return list
}

// sticksCut are lines for the delivered sticks that the plan cuts into.
func (b *book) sticksCut() string {
	var w strings.Builder
	for _, c := range b.plan.Takeoff.Cuttings {
		var cut []string
		for _, s := range c.Sticks {
			if s.Source == takeoff.FromDelivery {
				cut = append(cut, b.record(s.Long))
			}
		}
		if len(cut) > 0 {
			fmt.Fprintf(&w, "  - {part: %s, cut: [%s]}\n", c.Part, strings.Join(cut, ", "))
		}
	}
	if w.Len() == 0 {
		return ""
	}
	return "sticks:\n" + w.String()
}
