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

// Fixing is what holds one joint, or all joints of a sort in one run.
type Fixing struct {
	Fastening *job.Fastening
	With      *job.Fixing
	Run       string // name of the run; empty for a post
	Where     string // the end, or the post
	Count     int
	Places    []length.Length // along the run from its datum, where they have places of their own
	Along     bool            // the places are along the rake
	Through   string          // what it passes, with its wood
	Into      string          // what it holds in, with its wood
	Bores     []Bore
	Driver    string
	Wax       bool
	Notes     []string
}

// Bore is one hole for a fixing. Bit is 0 while it is not known.
type Bore struct {
	For  string // clearance, pilot, head, plug
	Hole wood.Hole
	Deep length.Length // 0 where it goes right through, or is not known
	Thru bool          // it goes right through
	Fig  string        // id of the working of its figure; empty where it is a chart's
}

// place is a joint of the job, ready for whatever fastening the shop has for it.
type place struct {
	joint    string
	run      *layout.Run
	post     *job.Post
	where    string
	times    int             // joints alike
	from, to length.Length   // of a joint that goes along the run
	clear    []length.Length // places along it where a fixing is hidden: in the middle of gaps
	along    bool
	pinned   bool // a pin goes in there, which is glued
}

// places lists every joint of the job, run by run and then post by post.
func (t *taking) places(l layout.Layout) (list []place) {
	for _, r := range l.Runs {
		list = append(list, t.along(r)...)
		n := len(r.Marks)
		part := r.Job.Baluster
		for i, e := range []job.End{r.Job.From, r.Job.To} {
			end := []layout.End{r.From, r.To}[i].Name
			if e.Plate != nil {
				list = append(list, place{joint: "rosette to wall", run: r, where: end, times: 1}, place{joint: "rail to rosette", run: r, where: end, times: 1})
			}
			if e.Post != nil && !e.Over.Yes && r.Job.Bolt != nil {
				list = append(list, place{joint: "access bore", run: r, where: end, times: 1})
			}
		}
		if joints := len(r.RailPieces) - 1; joints > 0 && r.Job.Bolt != nil {
			list = append(list, place{joint: "access bore", run: r, where: "joints in the rail", times: joints})
		}
		if part != nil && n > 0 {
			foot := place{joint: "baluster to shoe", run: r, times: n, pinned: part.Bottom.Text == "pin" || part.Bottom.Text == "let in"}
			if r.Job.Shoe == nil {
				foot.joint = "baluster to floor"
			}
			list = append(list, foot, place{joint: "baluster to rail", run: r, times: n, pinned: part.Top.Text == "pin"})
		}
		fillets := 0
		for _, c := range r.Fillets {
			fillets += c.Count
		}
		if fillets > 0 {
			list = append(list, place{joint: "fillet", run: r, times: fillets})
		}
		if r.WallRail != nil {
			list = append(list, place{joint: "wall rail bracket", run: r, where: "wall rail", times: 1, to: r.WallRail.Length, along: true},
				place{joint: "bracket to rail", run: r, where: "wall rail", times: 1, to: r.WallRail.Length, along: true})
		}
	}
	for i := range t.job.Posts {
		p := &t.job.Posts[i]
		joint := map[string]string{"plate": "newel on a plate", "bolted": "newel bolted", "let in": "newel let in"}[p.Foot.Text]
		if p.Part != nil && p.Part.Half.Yes {
			joint = "half newel to wall"
		}
		if joint != "" {
			list = append(list, place{joint: joint, post: p, where: p.Name, times: 1})
		}
	}
	return list
}

// along are the pieces of a run's shoe, each with the middles of the gaps over it.
func (t *taking) along(r *layout.Run) (list []place) {
	if r.Job.Shoe == nil || len(r.Marks) == 0 || r.Shoe == nil {
		return nil
	}
	p := place{joint: "shoe to floor", run: r, where: "shoe", times: 1, from: r.From.Proud}
	at := func(m layout.Mark) length.Length { return m.At }
	whole := r.Shoe.Length
	if r.Rake != nil {
		p.joint, p.along = "shoe to stair", true
		at = func(m layout.Mark) length.Length { return m.Along }
	}
	starts := []length.Length{p.from}
	for _, more := range r.ShoeMore {
		starts = append(starts, starts[len(starts)-1]+whole)
		whole = more.Length
	}
	ends := append(slices.Clone(starts[1:]), starts[len(starts)-1]+whole)
	for i := range starts {
		one := p
		one.from, one.to = starts[i], ends[i]
		if len(starts) > 1 {
			one.where = fmt.Sprintf("piece %d of the shoe", i+1)
		}
		before := one.from
		half := length.Length(0)
		if b := r.Job.Baluster; b != nil {
			half = b.Wide.Length / 2
		}
		for _, m := range r.Marks {
			if at(m) <= one.from || at(m) >= one.to {
				continue
			}
			one.clear = append(one.clear, (before+at(m)-half)/2)
			before = at(m) + half
		}
		one.clear = append(one.clear, (before+one.to)/2)
		list = append(list, one)
	}
	return list
}

// fixings works out what holds every joint.
func (t *taking) fixings(l layout.Layout) (list []Fixing) {
	for _, p := range t.places(l) {
		i := slices.IndexFunc(t.job.Fastenings, func(f *job.Fastening) bool { return f.Joins.Text == p.joint })
		if i < 0 || t.job.Fastenings[i].Part == nil {
			continue
		}
		f := t.job.Fastenings[i]
		with := f.Part
		if p.pinned { // glued in its hole, whatever else is used elsewhere
			if with = t.glue(); with == nil {
				continue
			}
		}
		x := Fixing{Fastening: f, With: with, Where: p.where, Along: p.along, Count: p.times * one(f.Count)}
		if p.run != nil {
			x.Run = p.run.Name
		}
		if f.Each.Given {
			x.Places = p.spread(f.End.Length, f.Each.Length)
			if p.to > p.from {
				x.Count = len(x.Places) * one(f.Count)
			}
		} else if p.joint == "bracket to rail" {
			for _, other := range list {
				if other.Run == x.Run && other.Fastening.Joins.Text == "wall rail bracket" {
					x.Count = len(other.Places) * one(f.Count)
				}
			}
		}
		if x.Count == 0 {
			continue
		}
		t.hold(&x, p)
		list = append(list, x)
		if with.Type.Text != "glue" {
			t.account("fixing", with.Origin, with.Title, job.Text{}).count(x.Count, working.Count("", strings.TrimSpace(f.Title.Text+" "+x.Where), int64(x.Count), source.Pos{}).Because("fixings"))
		}
		if f.Cover != nil && !p.pinned {
			t.account("fixing", f.Cover.Origin, f.Cover.Title, job.Text{}).count(x.Count, working.Count("", strings.TrimSpace("over "+with.Title.Text+" "+x.Where), int64(x.Count), source.Pos{}).Because("fixings"))
		}
	}
	return list
}

func (t *taking) glue() *job.Fixing {
	for _, f := range t.job.Fixings {
		if f.Type.Text == "glue" {
			return f
		}
	}
	return nil
}

func one(w job.Whole) int {
	if w.Given {
		return w.N
	}
	return 1
}

// spread places fixings along a piece: the first so far from its end, the last likewise, none farther from the next than said; where balusters stand, in the
// middle of gaps.
func (p place) spread(end, each length.Length) (list []length.Length) {
	if p.to <= p.from || each <= 0 {
		return nil
	}
	if len(p.clear) == 0 { // evenly
		first, last := p.from+end, p.to-end
		if last <= first {
			return []length.Length{(p.from + p.to) / 2}
		}
		n := int((last - first + each - 1) / each)
		for i := 0; i <= n; i++ {
			list = append(list, first+(last-first)*length.Length(i)/length.Length(n))
		}
		return list
	}
	near := func(at length.Length) int { // the gap whose middle is nearest
		best := 0
		for i, c := range p.clear {
			if max(c-at, at-c) < max(p.clear[best]-at, at-p.clear[best]) {
				best = i
			}
		}
		return best
	}
	last := near(p.to - end)
	for i := near(p.from + end); ; {
		list = append(list, p.clear[i])
		if i >= last {
			return list
		}
		next := i + 1
		for next < last && p.clear[next+1]-p.clear[i] <= each {
			next++
		}
		i = next
	}
}

// member is what a fixing passes or holds in.
type member struct {
	words   job.Text // its wood, as written
	thick   length.Length
	species *job.Species
	hard    bool
	open    string // what is still to be said of it
	at      source.Pos
	where   string
}

// member finds out about one, for a joint.
func (t *taking) member(name string, p place) (m member) {
	switch {
	case name == "floor":
		m = member{words: t.job.Floor.Species, thick: t.job.Floor.Thick.Length, where: t.job.File + ", floor: {species: }", at: t.job.Floor.Species.At}
	case name == "framing" || name == "wall framing":
		m = member{words: t.job.Floor.Framing, where: t.job.File + ", floor: {framing: }", at: t.job.Floor.Framing.At}
	case name == "newel" && p.post != nil && p.post.Part != nil:
		m = member{words: p.post.Part.Species, thick: p.post.Part.Wide.Length, where: p.post.Part.File + ", species: "}
	case p.run == nil:
	case name == "shoe" && p.run.Job.Shoe != nil:
		s := p.run.Job.Shoe
		m = member{words: s.Species, thick: s.High.Length - s.Plow.Deep.Length, where: s.File + ", species: "}
	case name == "handrail" && p.run.Job.Handrail != nil:
		m = member{words: p.run.Job.Handrail.Species, where: p.run.Job.Handrail.File + ", species: "}
	case name == "rosette":
		for _, e := range []job.End{p.run.Job.From, p.run.Job.To} {
			if e.Plate != nil {
				m = member{words: e.Plate.Species, thick: e.Plate.Thick.Length, where: e.Plate.File + ", species: "}
			}
		}
	}
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
	case m.where != "":
		m.open = "the wood of the " + strings.TrimPrefix(name, "wall ")
	}
	if m.at.IsZero() {
		m.at = m.words.At
	}
	return m
}

// hold works out the bores of a fixing, what drives it, and what it needs besides.
func (t *taking) hold(x *Fixing, p place) {
	f, with := x.Fastening, x.With
	through, into := t.member(f.Through.Text, p), t.member(f.Into.Text, p)
	x.Through, x.Into = withWood(f.Through.Text, through), withWood(f.Into.Text, into)
	if f.Note.Given {
		x.Notes = append(x.Notes, f.Note.Text)
	}
	deep := func() length.Length { // of what holds the thread
		if !with.Long.Given {
			return 0
		}
		return max(with.Long.Length-max(through.thick-f.Sunk.Length, 0), 0)
	}
	g := wood.G(0)
	if into.species != nil && into.species.G.Given {
		g = wood.G(into.species.G.Thousandths)
	}
	head := func(wide length.Length) {
		if f.Sunk.Given && f.Sunk.Length > 0 {
			b := Bore{For: "head, and its plug", Deep: f.Sunk.Length}
			if f.Cover != nil && f.Cover.Wide.Given {
				wide = f.Cover.Wide.Length
			}
			b.Hole = wood.Hole{Bit: wide, To: wide, Cite: working.Citation{Text: "the plug's own width", Status: working.CommonPractice}}
			x.Bores = append(x.Bores, b)
		}
	}
	switch with.Type.Text {
	case "wood screw":
		s, ok := wood.Screw(with.Gauge.N)
		if !ok || !with.Gauge.Given {
			x.Notes = append(x.Notes, "its gauge is not in the table: drill by its maker's papers")
			return
		}
		if x.Driver = with.Driver.Text; x.Driver == "" {
			x.Driver = fmt.Sprintf("cross recess %d or square %d", s.Cross, s.Square)
		}
		head(0)
		if f.Through.Given {
			x.Bores = append(x.Bores, Bore{For: "clearance, " + f.Through.Text, Hole: wood.Clearance(s.Shank), Deep: max(through.thick-f.Sunk.Length, 0)})
		}
		if f.Into.Given {
			t.unsaid(into)
			x.Bores = append(x.Bores, t.figured(Bore{For: "pilot, " + f.Into.Text, Hole: s.Pilot(g, into.hard), Deep: deep()}, with, into, s.Root))
		}
	case "lag screw":
		x.Driver = with.Driver.Text
		head(0)
		if f.Through.Given {
			x.Bores = append(x.Bores, Bore{For: "clearance, " + f.Through.Text, Hole: wood.Clearance(with.Wide.Length), Deep: max(through.thick-f.Sunk.Length, 0)})
		}
		if f.Into.Given {
			t.unsaid(into)
			h, ok := wood.LagLead(with.Wide.Length, g)
			if !ok {
				h = wood.Hole{Note: "the lead hole goes by the wood's specific gravity, which is not known"}
			}
			x.Bores = append(x.Bores, t.figured(Bore{For: "lead hole, " + f.Into.Text, Hole: h, Deep: deep()}, with, into, with.Wide.Length))
			x.Notes = append(x.Notes, "turned in, never hammered; a lubricant is allowed (NDS 12.1.4)")
		}
	case "bolt":
		x.Driver = with.Driver.Text
		head(0)
		x.Bores = append(x.Bores, Bore{For: "right through", Hole: wood.Clearance(with.Wide.Length), Thru: true})
	}
	if d := deep(); into.thick > 0 && f.Into.Text == "floor" && d > into.thick {
		x.Notes = append(x.Notes, fmt.Sprintf("it goes %s past the floor, which is %s thick: look for pipes and wires there, or take a shorter one", t.tape(d-into.thick), t.tape(into.thick)))
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
	r := finding.Reading{What: m.open, Where: m.where, Why: "the bits for the screws that hold in it", Group: "fixings", At: at}
	if !slices.ContainsFunc(t.missing, func(o finding.Reading) bool { return o.What == r.What && o.Where == r.Where }) {
		t.missing = append(t.missing, r)
	}
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
	base := working.Length("d", "root of the screw", of, t.job.System, source.Pos{}).Because("NDS 2018, Appendix L3")
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
