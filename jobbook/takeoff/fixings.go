package takeoff

import (
	"fmt"
	"math/big"
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
	Glue      bool // goes in as well
	Notes     []string
}

// Bore is one hole for a fixing. Bit is 0 while it is not known.
type Bore struct {
	For     string // clearance, pilot, head, plug
	Hole    wood.Hole
	Deep    length.Length // 0 where it goes right through, or is not known
	Through bool          // it goes right through everything
	Fig     string        // id of the working of its figure; empty where it is a chart's
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
	plate    *job.Rosette
	rail     *job.Handrail
}

// places lists every joint of the job, run by run and then post by post.
func (t *taking) places(l layout.Layout) (list []place) {
	for _, r := range l.Runs {
		list = append(list, t.along(r)...)
		n := len(r.Marks)
		part := r.Job.Baluster
		for i, e := range []job.End{r.Job.From, r.Job.To} {
			if r.Job.Stays() { // what holds the old rail holds it
				break
			}
			end := []layout.End{r.From, r.To}[i].Name
			if e.Plate != nil {
				list = append(list, place{joint: "rosette to wall", run: r, where: end, times: 1, plate: e.Plate}, place{joint: "rail to rosette", run: r, where: end, times: 1, plate: e.Plate, rail: r.Job.Handrail})
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
			head := place{joint: "baluster to rail", run: r, times: n, pinned: part.Top.Text == "pin", rail: r.Job.Handrail}
			if r.Job.Stays() { // there is no getting at their ends from below or above
				foot.joint, head.joint = "new "+foot.joint, "new "+head.joint
			}
			list = append(list, foot, head)
		}
		fillets := 0
		for _, c := range r.Fillets {
			fillets += c.Count
		}
		if fillets > 0 {
			list = append(list, place{joint: "fillet", run: r, times: fillets})
		}
		if r.WallRail != nil {
			list = append(list, place{joint: "wall rail bracket", run: r, where: "wall rail", to: r.WallRail.Length, along: true},
				place{joint: "bracket to rail", run: r, where: "wall rail", rail: r.Job.Stair.WallRail.Part})
		}
	}
	for i := range t.job.Posts {
		p := &t.job.Posts[i]
		joint := map[string]string{"plate": "newel on a plate", "bolted": "newel bolted", "lagged": "newel lagged", "let in": "newel let in"}[p.Foot.Text]
		if p.Part != nil && p.Part.Half.Yes {
			joint = "half newel to wall"
		}
		if joint != "" && !t.job.Stays(p) {
			list = append(list, place{joint: joint, post: p, where: p.Name, times: 1})
		}
	}
	return list
}

// along are the pieces of a run's shoe, each with the middles of the gaps over it.
func (t *taking) along(r *layout.Run) (list []place) {
	if empty := r.Chosen != nil && r.Chosen.Count == 0; r.Job.Shoe == nil || r.Shoe == nil || len(r.Marks) == 0 && !empty {
		return nil
	}
	p := place{joint: "shoe to floor", run: r, where: "shoe", times: 1, from: r.From.Proud}
	at := func(m layout.Mark) length.Length { return m.At }
	whole := r.Shoe.Length
	half := length.Length(0)
	if b := r.Job.Baluster; b != nil {
		half = b.Wide.Length / 2
	}
	if r.Rake != nil {
		p.joint, p.along = "shoe to stair", true
		at = func(m layout.Mark) length.Length { return m.Along }
		if sec := r.Rake.Secant; sec != nil && sec.Value != nil {
			along := func(l length.Length) length.Length {
				return length.FromRat(new(big.Rat).Mul(big.NewRat(int64(l), 1), sec.Value), length.Nanometre, length.Nearest)
			}
			p.from, half = along(p.from), along(half)
		}
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
		before, last := one.from, one.to
		for _, m := range r.Marks {
			switch {
			case at(m) <= one.from: // it may still stand over the joint
				before = max(before, at(m)+half)
			case at(m) < one.to:
				one.clear = append(one.clear, (before+at(m)-half)/2)
				before = at(m) + half
			default:
				last = min(last, at(m)-half)
			}
		}
		if len(one.clear) > 0 { // where no baluster stands they are spread evenly
			one.clear = append(one.clear, (before+last)/2)
		}
		list = append(list, one)
	}
	return list
}

// fixings works out what holds every joint.
func (t *taking) fixings(l layout.Layout) (list []Fixing) {
	glued := false
	for _, p := range t.places(l) {
		ways := t.job.Ways(p.joint)
		if p.pinned && len(ways) > 0 { // glued in its hole, whatever else is used elsewhere
			ways = ways[:1]
		}
		for _, f := range ways {
			with := f.Part
			if p.pinned {
				with = t.glue()
			}
			if with == nil {
				if !p.pinned && !f.With.Given {
					t.wanting(f, "what it is made with: "+f.Title.Text, "with", f.With.At)
				}
				continue
			}
			x := Fixing{Fastening: f, With: with, Where: p.where, Along: p.along, Count: p.times * one(f.Count), Glue: f.Glue.Yes && with.Type.Text != "glue"}
			if p.run != nil {
				x.Run = p.run.Name
			}
			switch {
			case p.to > p.from && f.Each.Given:
				x.Places = p.spread(f.End.Length, f.Each.Length)
				x.Count = len(x.Places) * one(f.Count)
			case p.to > p.from:
				t.wanting(f, "how far apart they stand: "+f.Title.Text, "each", f.Each.At)
			case p.joint == "bracket to rail":
				if i := slices.IndexFunc(list, func(o Fixing) bool { return o.Run == x.Run && o.Fastening.Joins.Text == "wall rail bracket" }); i >= 0 {
					x.Count = len(list[i].Places) * one(f.Count)
				}
			}
			if x.Count == 0 {
				continue
			}
			t.hold(&x, p)
			t.covered(&x, p)
			t.plated(&x, ways)
			list = append(list, x)
			glued = glued || x.Glue || with.Type.Text == "glue"
			what := strings.TrimSpace(f.Title.Text + " " + x.Where)
			if with.Type.Text != "glue" {
				t.fixing(with, x.Count, what, "fixings")
			}
			if f.Cover != nil && !p.pinned {
				t.fixing(f.Cover, x.Count, "over "+with.Title.Text+" "+x.Where, "fixings")
			}
		}
	}
	if g := t.glue(); glued && g != nil {
		t.fixing(g, 1, "one container: how far it goes is on its label", "common practice")
	}
	return list
}

// fixing adds pieces of a fixing to what is ordered.
func (t *taking) fixing(part *job.Fixing, n int, what, because string) {
	t.account("fixing", part.Origin, part.Title, job.Text{}).count(n, working.Count("", strings.TrimSpace(what), int64(n), source.Pos{}).Because(because))
}

// wanting asks for what a fastening leaves blank.
func (t *taking) wanting(f *job.Fastening, what, key string, at source.Pos) {
	if at.IsZero() {
		at = source.Pos{File: f.File}
	}
	t.miss(finding.Reading{What: what, Where: f.File + ", " + key + ": ", Why: "what goes in, and how many to order", Group: "fixings", At: at})
}

// miss names a reading once.
func (t *taking) miss(r finding.Reading) {
	if !slices.ContainsFunc(t.missing, func(o finding.Reading) bool { return o.What == r.What && o.Where == r.Where }) {
		t.missing = append(t.missing, r)
	}
}

// covered says where a plug does not fill the bore that it is for.
func (t *taking) covered(x *Fixing, p place) {
	if p.joint != "access bore" || x.With.Type.Text != "plug" || !x.With.Wide.Given || p.run == nil || p.run.Job.Bolt == nil {
		return
	}
	if bore := p.run.Job.Bolt.Access; bore.Given && bore.Length != x.With.Wide.Length {
		x.Notes = append(x.Notes, fmt.Sprintf("it does not fit: the plug is %s across and the bore %s; take another plug, or another bit for the bore", t.tape(x.With.Wide.Length), t.tape(bore.Length)))
	}
}

// plated asks for the screws of a plate, which are its maker's, unless the shop has written them down as a way of their own.
func (t *taking) plated(x *Fixing, ways []*job.Fastening) {
	screws := func(f *job.Fastening) bool {
		return f.Part != nil && slices.Contains([]string{"wood screw", "lag screw", "bolt"}, f.Part.Type.Text)
	}
	if x.With.Type.Text != "plate" || slices.ContainsFunc(ways, screws) {
		return
	}
	x.Notes = append(x.Notes, "its screws, how many and with which pilots and driver: to be chosen, by its maker's papers")
	what := "the screws of " + x.With.Title.Text + ": which, how many, with which pilots"
	if !slices.ContainsFunc(t.asks, func(r finding.Reading) bool { return r.What == what }) {
		t.ask(what, x.With.File, "its rating holds only with what its maker's papers name", source.Pos{File: x.With.File})
	}
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

// most bounds how many fixings stand along one piece: more are a slip of the pen.
const most = 1000

// spread places fixings along a piece: the first so far from its end, the last likewise, none farther from the next than said; where balusters stand, in the
// middle of gaps, of as few as do the ones that are spread most evenly.
func (p place) spread(end, each length.Length) (list []length.Length) {
	if p.to <= p.from || each <= 0 {
		return nil
	}
	if len(p.clear) == 0 { // evenly
		first, last := p.from+end, p.to-end
		if last <= first {
			return []length.Length{(p.from + p.to) / 2}
		}
		n := int(min((last-first+each-1)/each, most))
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
	first := near(p.from + end)
	last := max(near(p.to-end), first)
	gaps := []int{first}
	for i := first; i < last; {
		next := i + 1
		for next < last && p.clear[next+1]-p.clear[i] <= each {
			next++
		}
		gaps = append(gaps, next)
		i = next
	}
	if n := len(gaps) - 1; n > 1 && n <= most {
		even := []int{first}
		for k := 1; k <= n; k++ {
			even = append(even, near(p.clear[first]+(p.clear[last]-p.clear[first])*length.Length(k)/length.Length(n)))
			if a, b := even[k-1], even[k]; b <= a || b > a+1 && p.clear[b]-p.clear[a] > each {
				even = nil
				break
			}
		}
		if even != nil {
			gaps = even
		}
	}
	for _, i := range gaps {
		list = append(list, p.clear[i])
	}
	return list
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
	case name == "fillet" && p.run.Job.Fillet != nil:
		part := p.run.Job.Fillet
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
		m.open = fmt.Sprintf("which wood %q is: no species goes by that name", m.words.Text)
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

// hold works out the bores of a fixing, what drives it, and what it needs besides.
func (t *taking) hold(x *Fixing, p place) {
	f, with := x.Fastening, x.With
	through, into := t.member(f.Through.Text, p), t.member(f.Into.Text, p)
	x.Through, x.Into = withWood(f.Through.Text, through), withWood(f.Into.Text, into)
	if f.Note.Given {
		x.Notes = append(x.Notes, f.Note.Text)
	}
	passes := max(through.thick-f.Sunk.Length, 0)
	passed := !f.Through.Given || through.thick > 0 // how far it goes before it holds is known
	deep := length.Length(0)                        // of what holds the thread
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
			x.Bores = append(x.Bores, Bore{For: "clearance, " + f.Through.Text, Hole: wood.Clearance(shank), Deep: passes})
		} else if f.Through.Given {
			x.Bores = append(x.Bores, Bore{For: "clearance, " + f.Through.Text, Hole: wood.Clearance(shank)})
		}
	}
	switch with.Type.Text {
	case "":
		t.miss(finding.Reading{What: "what " + with.Title.Text + " is", Where: with.File + ", type: ", Why: "how it is bored and driven", Group: "fixings", At: source.Pos{File: with.File}})
	case "wood screw":
		s, ok := wood.Screw(with.Gauge.N)
		if !ok || !with.Gauge.Given {
			x.Notes = append(x.Notes, "its gauge is not in the table: drill by its maker's papers")
			return
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
