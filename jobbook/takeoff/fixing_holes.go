package takeoff

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/wood"
	"balustrade/jobbook/working"
)

// member is what a fixing passes or holds in.
type member struct {
	words   job.Text // its wood, as written
	thick   length.Length
	species *job.Species
	hard    bool
	open    string // what is still to be said of it
	at      source.Pos
	where   string

	most   length.Length // how thick it is where nothing is scribed off it; 0 where it is as thick everywhere
	gone   bool          // nothing of it is left under the plow at its thinnest place
	figure string        // id of the working of how thick it is there
}

// member finds out about one, for a joint.
func (t *taking) member(name string, p place) (m member) {
	var own *job.Run
	if p.run != nil {
		own = p.run.Job
	}
	under := t.job.Under(own)
	switch {
	case name == "floor":
		m = member{words: under.Species, thick: under.Thick.Length, where: t.job.File + ", floor: {species: }"}
	case name == "framing" || name == "wall framing":
		m = member{words: under.Framing, where: t.job.File + ", floor: {framing: }"}
	case name == "newel" && p.post != nil && p.post.Part != nil:
		m = member{words: p.post.Part.Species, thick: p.post.Part.Wide.Length, where: p.post.Part.File + ", species: "}
		if p.post.Part.Half.Yes {
			m.thick /= 2
		}
	case p.run == nil:
	case name == "shoe" && p.run.Job.Shoe != nil:
		s := p.run.Job.Shoe
		m = member{words: s.Species, thick: underPlow(s.High, s.Plow), where: s.File + ", species: "}
		t.scribed(&m, p.run)
	case name == "handrail" && p.rail != nil:
		m = member{words: p.rail.Species, where: p.rail.File + ", species: "}
		if p.joint != "rail to rosette" { // there it goes in from the end
			m.thick = underPlow(p.rail.High, p.rail.Plow)
		}
	case name == "rosette" && p.plate != nil:
		m = member{words: p.plate.Species, thick: p.plate.Thick.Length, where: p.plate.File + ", species: "}
	case name == "baluster" && p.run.Job.Baluster != nil:
		part := p.run.Job.Baluster
		m = member{words: part.Species, thick: part.Wide.Length, where: part.File + ", species: "}
	case name == "fillet" && p.fillet != nil:
		part := p.fillet
		m = member{words: part.Species, thick: part.Thick.Length, where: part.File + ", species: "}
	}
	m.thick = max(m.thick, 0)
	switch found := t.job.Wood(m.words); {
	case len(found) == 1:
		m.species, m.hard = found[0], found[0].Hard.Yes
	case len(found) > 1:
		var names []string
		m.hard = true
		for _, s := range found {
			names = append(names, s.Title.Text)
			m.hard = m.hard && s.Hard.Yes
		}
		m.open = "which " + m.words.Text + " the " + name + " is: " + strings.Join(names, " or ")
	case m.words.Given:
		says, _ := t.job.NoWood(m.words)
		m.open = fmt.Sprintf("which wood %q is: %s", m.words.Text, says)
	case m.where != "":
		m.open = "the wood of the " + strings.TrimPrefix(name, "wall ")
	}
	if m.at.IsZero() {
		m.at = m.words.At
	}
	return m
}

// underPlow is how thick a shoe or a rail is at its plow; 0 while that is not known.
func underPlow(high job.Measure, plow job.Plow) length.Length {
	if !high.Given || !plow.Deep.Given && !plow.Deep.At.IsZero() {
		return 0
	}
	return high.Length - plow.Deep.Length
}

// scribed is a shoe at its thinnest: where it is scribed the most its screws reach deepest, and a drill set for its full thickness would go on into the floor, where pipes and wires lie.
func (t *taking) scribed(m *member, r *layout.Run) {
	off := length.Length(0)
	for _, p := range r.Floor.Scribe {
		off = max(off, p.Height)
	}
	if off == 0 || m.thick <= 0 {
		return
	}
	m.most, m.figure = m.thick, "fixing/shoe/"+r.Name
	s, sys := r.Job.Shoe, t.job.System
	left := working.Difference(working.Length("s", "height of the shoe", s.High.Length, sys, s.High.At), working.Length("p", "depth of its plow", s.Plow.Deep.Length, sys, s.Plow.Deep.At))
	m.thick -= off
	m.gone = m.thick <= 0
	if slices.ContainsFunc(t.figures, func(f *working.Figure) bool { return f.ID == m.figure }) {
		return
	}
	f := working.Work(m.figure, "shoe of "+r.Title+" under its plow, where it is scribed the most", "t", sys.String(),
		working.Difference(left, working.Length("f", "taken off there", off, sys, source.Pos{}).Because("level readings")), working.Citation{Text: "the screws go through the plow", Status: working.Derived})
	t.figures = append(t.figures, f)
}

// stopped says of a hole through a member that is not as thick everywhere what its drill is stopped at.
func (t *taking) stopped(b Bore, m member, name string) Bore {
	if m.most == 0 {
		return b
	}
	words := "the " + name + " is scribed: under its plow it is " + t.tape(m.thick) + " thick at the thinnest, " + t.tape(m.most) + " where nothing is taken off; set the stop for the thinnest, and drill the rest of the thicker with the " + name + " off the floor"
	if m.gone {
		words = "nothing of the " + name + " is left under the plow where it is scribed the most"
	}
	if b.Hole.Note != "" {
		words = b.Hole.Note + "; " + words
	}
	b.Hole.Note, b.Fig = words, m.figure
	return b
}

// hold works out the bores of a fixing, what drives it, and what it needs besides.
func (t *taking) hold(x *Fixing, p place) {
	f, with := x.Fastening, x.With
	through, into := t.member(f.Through.Text, p), t.member(f.Into.Text, p)
	x.Through, x.Into = withWood(f.Through.Text, through), withWood(f.Into.Text, into)
	if f.Note.Given {
		x.Notes = append(x.Notes, f.Note.Text)
	}
	passes := max(through.thick-f.Sunk.Length, 0)
	passed := !f.Through.Given || through.thick > 0 || through.gone // how far it goes before it holds is known
	deep := length.Length(0)                                        // of what holds the thread
	if with.Long.Given && passed {
		deep = max(with.Long.Length-passes, 0)
	}
	g := wood.G(0)
	if into.species != nil && into.species.G.Given {
		g = wood.G(into.species.G.Thousandths)
	}
	head := func() {
		if f.Sunk.Length <= 0 {
			return
		}
		if through.thick > 0 && f.Sunk.Length >= through.thick {
			x.Notes = append(x.Notes, fmt.Sprintf("its head would be sunk right through the %s, which is %s thick there", f.Through.Text, t.tape(through.thick)))
		}
		b := Bore{For: "head", Deep: f.Sunk.Length, Hole: wood.Hole{Note: "as wide as its head"}}
		if f.Cover != nil {
			b.For = "head, and its plug"
			if wide := f.Cover.Wide.Length; wide > 0 {
				b.Hole = wood.Hole{Bit: wide, To: wide, Cite: working.Citation{Text: "the plug's own width", Status: working.CommonPractice}}
			}
		}
		if washer := with.Washer.Length; washer > b.Hole.Bit {
			if b.Hole.Bit > 0 {
				x.Notes = append(x.Notes, fmt.Sprintf("the plug is %s across and the washer %s: take a wider plug", t.tape(b.Hole.Bit), t.tape(washer)))
			}
			b.Hole = wood.Clearance(washer)
			b.Hole.Cite = working.Citation{Text: "its washer goes in", Status: working.CommonPractice}
		}
		x.Bores = append(x.Bores, b)
	}
	clearance := func(shank length.Length) {
		if f.Through.Given && passes+f.Sunk.Length > 0 {
			if deep == 0 && passed && with.Long.Given {
				x.Notes = append(x.Notes, fmt.Sprintf("it is too short: %s long, and the %s is %s thick under its head", t.tape(with.Long.Length), f.Through.Text, t.tape(passes)))
			}
			x.Bores = append(x.Bores, t.stopped(Bore{For: "clearance, " + f.Through.Text, Hole: wood.Clearance(shank), Deep: passes}, through, f.Through.Text))
		} else if f.Through.Given {
			x.Bores = append(x.Bores, t.stopped(Bore{For: "clearance, " + f.Through.Text, Hole: wood.Clearance(shank)}, through, f.Through.Text))
		}
	}
	switch with.Type.Text {
	case "":
		t.miss(finding.Reading{What: "what " + with.Title.Text + " is", Where: with.File + ", type: ", Why: "how it is bored and driven", Group: "fixings", At: source.Pos{File: with.File}})
	case "wood screw":
		s, ok := wood.Screw(with.Gauge.N)
		if !ok || !with.Gauge.Given {
			t.measured(x, through, into, g, passes, deep, head)
			break
		}
		if x.Driver = with.Driver.Text; x.Driver == "" {
			x.Driver = fmt.Sprintf("cross recess %d or square %d", s.Cross, s.Square)
		}
		head()
		clearance(s.Shank)
		if f.Into.Given {
			t.unsaid(into)
			hole := wood.Hole{Note: s.Charts() + ", once the wood is known"}
			if into.species != nil {
				hole = s.Pilot(g, into.hard)
			}
			x.Bores = append(x.Bores, t.figured(Bore{For: "pilot, " + f.Into.Text, Hole: hole, Deep: deep}, with, into, s.Root))
		}
	case "lag screw":
		x.Driver = with.Driver.Text
		if with.Wide.Length <= 0 {
			x.Notes = append(x.Notes, "its diameter is to be measured")
			return
		}
		head()
		clearance(with.Wide.Length)
		if shank := with.Long.Length - with.Thread.Length - passes; with.Long.Given && with.Thread.Given && passed && f.Into.Given && shank > 0 {
			x.Bores = append(x.Bores, Bore{For: "shank, " + f.Into.Text, Hole: wood.Shank(with.Wide.Length), Deep: shank})
		}
		if f.Into.Given {
			t.unsaid(into)
			h, ok := wood.LagLead(with.Wide.Length, g)
			switch {
			case into.species == nil:
				h = wood.Hole{Note: "the lead hole goes by the wood's specific gravity: once the wood is known"}
			case !ok:
				h = wood.Hole{Note: "the lead hole goes by the wood's specific gravity, and the tables for fastenings have none for this wood: by the maker's papers, and tried in an offcut"}
			}
			x.Bores = append(x.Bores, t.figured(Bore{For: "lead hole, " + f.Into.Text, Hole: h, Deep: deep}, with, into, with.Wide.Length))
			x.Notes = append(x.Notes, "turned in, never hammered; a lubricant is allowed (NDS 12.1.4)")
		}
	case "bolt":
		x.Driver = with.Driver.Text
		if with.Wide.Length <= 0 {
			x.Notes = append(x.Notes, "its diameter is to be measured")
			return
		}
		head()
		x.Bores = append(x.Bores, Bore{For: "right through", Hole: wood.Clearance(with.Wide.Length), Through: true})
	}
	switch {
	case into.thick == 0 || deep < into.thick:
	case f.Into.Text != "floor":
		x.Notes = append(x.Notes, fmt.Sprintf("it goes %s deep into the %s, which is %s thick there: take a shorter one", t.tape(deep), f.Into.Text, t.tape(into.thick)))
	case deep > into.thick:
		x.Notes = append(x.Notes, fmt.Sprintf("it goes %s past the floor, which is %s thick: look for pipes and wires there, or take a shorter one", t.tape(deep-into.thick), t.tape(into.thick)))
	}
	screw := with.Type.Text == "wood screw" || with.Type.Text == "lag screw"
	x.Wax = screw && (into.hard || f.Into.Text == "" && through.hard)
	const longScrew = 2*length.Inch + length.Inch/2
	if with.Type.Text == "wood screw" && into.hard && with.Long.Length >= longScrew {
		x.Notes = append(x.Notes, "at dry fit a shorter screw in the same pilot; the long one once, at the end (common practice)")
	}
}

func withWood(name string, m member) string {
	if m.species != nil {
		return name + ", " + strings.ToLower(m.species.Title.Text)
	}
	if m.words.Given {
		return name + ", " + m.words.Text
	}
	return name
}

// unsaid asks for the wood that a lead hole goes by.
func (t *taking) unsaid(m member) {
	if m.open == "" {
		return
	}
	at := m.at
	if at.IsZero() {
		file, _, _ := strings.Cut(m.where, ",")
		at = source.Pos{File: file}
	}
	t.miss(finding.Reading{What: m.open, Where: m.where, Why: "the bits for the screws that hold in it", Group: "fixings", At: at})
}

// figured gives a published band or figure its working: a share of the root, or of the diameter.
func (t *taking) figured(b Bore, with *job.Fixing, into member, of length.Length) Bore {
	if b.Hole.From == 0 && b.Hole.Cite.Status == working.CommonPractice || b.Hole.Bit == 0 || of == 0 || into.species == nil {
		return b
	}
	id := "fixing/" + with.Name + "/" + into.species.Name
	b.Fig = id
	if slices.ContainsFunc(t.figures, func(f *working.Figure) bool { return f.ID == id }) {
		return b
	}
	percent := func(l length.Length) int64 { return (int64(l)*100 + int64(of)/2) / int64(of) }
	base := working.Length("d", "root of the screw", of, t.job.System, with.Root.At)
	if _, ok := wood.Screw(with.Gauge.N); ok && with.Gauge.Given {
		base = working.Length("d", "root of the screw", of, t.job.System, source.Pos{}).Because("NDS 2018, Appendix L3")
	}
	if with.Type.Text == "lag screw" {
		base = working.Length("D", "diameter of the lag screw", of, t.job.System, with.Wide.At)
	}
	share := func(p int64) working.Expr {
		return working.Quotient(working.Product(base, working.Count("p", fmt.Sprintf("share of it, in wood of specific gravity %s", working.Decimal(thousandths(into.species.G))), p, into.species.G.At)), working.Constant(100))
	}
	title := "most that the pilot for " + with.Title.Text + " is bored, in " + strings.ToLower(into.species.Title.Text)
	f := working.Work(id, title, "w", t.job.System.String(), share(percent(b.Hole.To)), b.Hole.Cite)
	if b.Hole.From > 0 {
		f.Note = fmt.Sprintf("The band is %d to %d %% of the diameter; the bit is the one nearest its middle.", percent(b.Hole.From), percent(b.Hole.To))
	} else {
		f.Note = "The bit is the nearest one under it."
	}
	t.figures = append(t.figures, f)
	return b
}
