package layout

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// boltRoom is the wood that is to stay between two bolts in one post; common practice, no source.
const boltRoom = length.Inch / 8

// node is a post while it is worked out: the ends of runs that come to it, and where it stands in plan.
type node struct {
	*builder // keeps the post's figures, findings and readings
	post     *job.Post
	foot     length.Length // width of the newel at the floor, as the clears were read to it; 0 while not known
	ends     []coming      // in the order of the runs

	placed bool    // in plan
	by     int     // the end that it was placed by
	x, y   float64 // its middle in plan, mm
	ahead  float64 // the way that its first end leaves it in plan, degrees counterclockwise from the x axis
}

// coming is an end of a run at a post, and the way that its rail leaves the post in plan.
type coming struct {
	run  *builder
	job  job.End
	end  *End
	far  bool    // the end that the run is not measured from
	way  float64 // degrees clockwise from the way that the first end leaves it
	said bool    // that was measured; else it is assumed
	told bool    // and the plan says so
}

// side is the key of the end in its run's file.
func (c coming) side() string {
	if c.far {
		return "to"
	}
	return "from"
}

// nodesOf is the posts of a job, each with the ends of runs that come to it.
func nodesOf(j *job.Job, runs []*builder) []*node {
	var nodes []*node
	for i := range j.Posts {
		p := &j.Posts[i]
		own := start(j, &job.Run{Name: p.Name, File: j.File})
		own.ID = "post/" + p.Name
		n := &node{builder: own, post: p}
		n.foot = footWidth(p)
		for _, b := range runs {
			if b.r.From.Post == p {
				n.ends = append(n.ends, coming{run: b, job: b.r.From, end: &b.From})
			}
			if b.r.To.Post == p {
				n.ends = append(n.ends, coming{run: b, job: b.r.To, end: &b.To, far: true})
			}
		}
		n.ways()
		nodes = append(nodes, n)
	}
	return nodes
}

// stand works the newel out as it will stand: the rails at its faces, the square block they need and the one it has, its cut, its bolts.
func (n *node) stand() Post {
	newel := n.post.Part
	p := Post{ID: n.ID, Name: n.Name, Down: n.post.Deep.Length, Known: newel != nil && newel.Sized}
	if p.Known {
		p.Wide = newel.Wide.Length
	}
	if r := n.job.Shop.Reveal; r.Given {
		p.Reveal = r.Length
	}
	n.lands()
	down := n.down()
	block := blockOf(newel, n.rough()+n.post.Deep.Length+n.post.Off.Length)
	if block.wide > 0 {
		p.Wide = block.wide
	}
	for _, c := range n.ends {
		p.Arrivals = append(p.Arrivals, n.arrival(c, block.wide, down))
	}
	if p.Stays = n.job.Stays(n.post); !p.Stays || p.MeetsNew() { // else nothing of it is cut or bored
		n.needed(&p)
		if !p.Stays {
			n.cut(&p, block.wide)
			n.acrossed(&p)
		} else if i := slices.IndexFunc(p.Arrivals, func(a Arrival) bool { return a.Over && !a.Old }); i >= 0 {
			n.needIn(n.ends[i].run.r.File, "how the new rail goes over "+n.Name+", which stays: offer it up there; what comes off the old newel's top is not worked out", n.ends[i].side()+": {over: }", "the old newel's top", n.ends[i].job.Over.At)
		}
		n.onBlock(&p, block)
		n.bolts(&p, block.wide)
		n.skewed(&p)
	}
	n.footed(&p)
	p.Findings, p.Missing, p.Figures = n.Findings, n.Missing, n.Figures
	return p
}

// MeetsNew reports that a rail which is new comes to the post.
func (p *Post) MeetsNew() bool {
	return slices.ContainsFunc(p.Arrivals, func(a Arrival) bool { return !a.Old })
}

// deep reports that it is known how far the newel's foot goes below the floor, and what is taken off it.
func (n *node) deep() bool {
	return !n.job.DeepOpen(n.post) && !offOpen(n.post)
}

// offOpen reports that something is to come off a newel's foot, and nobody says how much yet.
func offOpen(p *job.Post) bool { return !p.Off.Given && !p.Off.At.IsZero() }

// raked reports a rail that follows a flight, with its heights known.
func (c coming) raked() bool {
	k := c.run.Rake
	return k != nil && k.Top > 0 && k.Thick > 0 && k.To > k.From && k.Going > 0 && len(k.Treads) > 0
}

// places is where along the flight the end meets its post: the face that the rail meets, and the middle of the post. foot and block are
// the newel's widths at the floor, where the clear was read to, and at the rail.
func (c coming) places(foot, block length.Length) (face, middle length.Length) {
	if block == 0 {
		block = foot
	}
	back := c.end.Recess
	if c.far {
		return c.run.Rake.To + back + (foot-block)/2, c.run.Rake.To + back + foot/2
	}
	return c.run.Rake.From - back - (foot-block)/2, c.run.Rake.From - back - foot/2
}

// on is the surface that a post at a flight stands on, in words.
func (f footing) on(k *Rake) string {
	switch f.tread {
	case 0:
		return "the floor"
	case len(k.Treads):
		return "the landing"
	}
	return "tread " + strconv.Itoa(f.tread)
}

// lands asks what a post at a flight stands on, where its foot lies across a riser and nobody says.
func (n *node) lands() {
	for _, c := range n.ends {
		if !c.raked() || c.job.Stands.Given {
			continue
		}
		for _, t := range c.run.crossed(c.far) {
			n.needIn(c.run.r.File, "which surface "+n.Name+" stands on: its foot lies across riser "+strconv.Itoa(t.N)+" of "+c.run.Title+"; until then no height at it is known", c.side()+": {stands: }", "where its block must be, its length", c.job.Stands.At)
		}
	}
}

// down is how far the surface that the post stands on lies below the level floor there: a newel beside a landing may stand on the tread
// under it. What is written goes before what follows from its place.
func (n *node) down() length.Length {
	var best *coming
	down := length.Length(0)
	for i := range n.ends {
		c := &n.ends[i]
		if !c.raked() {
			continue
		}
		f, _ := c.run.footing(c.far)
		switch d := f.level - f.stands; {
		case best == nil || c.job.Stands.Given && !best.job.Stands.Given:
			best, down = c, d
		case d != down && c.job.Stands.Given == best.job.Stands.Given:
			n.needIn(c.run.r.File, "which surface "+n.Name+" stands on: by "+best.run.Title+" and by "+c.run.Title+" it is not the same", c.side()+": {stands: }", "where its block must be, its length", c.job.Stands.At)
		}
	}
	return down
}

// rough is the height of the lowest underside of a rail that comes into the post's faces, taken at the newel's width at the floor: near
// enough to find the block that it meets.
func (n *node) rough() length.Length {
	least, found := length.Length(0), false
	down := n.down()
	for _, c := range n.ends {
		if c.job.Over.Yes {
			continue
		}
		var under length.Length
		switch {
		case c.raked():
			face, _ := c.places(n.foot, 0)
			f, _ := c.run.footing(c.far)
			under = c.run.Rake.RailUnder(face) - f.level + down
		case c.level():
			under = c.run.Levels.RailTop - c.run.r.Handrail.High.Length + c.floor() + down
		default:
			continue
		}
		if !found || under < least {
			least, found = under, true
		}
	}
	return least
}

// level reports a level rail with its heights known at this end.
func (c coming) level() bool {
	b := c.run
	if b.r.Stair != nil || b.Levels.RailTop == 0 || b.r.Handrail == nil || !b.r.Handrail.High.Given {
		return false
	}
	return !c.far || b.clearLen > 0 || b.Floor.Out == 0 && len(b.Floor.Steps) == 0
}

// floor is what is added to heights of a level run to have them above the floor as it is now, at this end.
func (c coming) floor() length.Length {
	l := -c.run.Floor.under(c.place(), c.far)
	if c.run.r.StandsOn.Text == "finished" {
		l += c.run.r.ToCome.Thick.Length
	}
	return l
}

// place is where along a level run this end is.
func (c coming) place() length.Length {
	if c.far {
		return c.run.clearLen
	}
	return 0
}

// arrival is a rail at the post's face; at the post's middle where it goes over it.
func (n *node) arrival(c coming, block, down length.Length) Arrival {
	b := c.run
	a := Arrival{Run: b.Name, Title: b.Title, End: c.side(), Raked: b.r.Stair != nil, Over: c.job.Over.Yes, Old: b.r.Stays(), Heading: c.way, Turned: c.said}
	a.Up = a.Raked && !c.far
	if rail := b.r.Handrail; rail != nil {
		a.Thick, a.Wide = rail.High.Length, rail.Wide.Length
	}
	if !a.Over {
		a.Skew = skew(c.way)
	}
	at := " at the face of " + n.Name
	if a.Over {
		at = " over the middle of " + n.Name
	}
	var top working.Expr
	thick := length.Length(0)
	switch {
	case n.open():
		return a
	case c.raked() && (n.foot > 0 || c.job.Stands.Given):
		face, middle := c.places(n.foot, block)
		if a.Over {
			face = middle
		}
		top, thick = n.lineAt(c, face, down), b.Rake.Thick
	case c.level():
		top = of(b.ID+"/rail-top", n.found("T", "top of the handrail of "+b.Title+" above the floor its guard stands on, at the datum end", "", b.Levels.RailTop))
		thick = b.r.Handrail.High.Length
		if len(b.Floor.Points) > 0 {
			top = working.Difference(top, n.found("f", "floor at "+n.Name+" above the floor at the datum end", "level readings", b.Floor.under(c.place(), c.far)))
		}
		if b.r.StandsOn.Text == "finished" {
			top = working.Sum(top, n.in("c", "floor to come, which the guard stands on and the post does not", b.r.ToCome.Thick))
		}
		if down != 0 {
			top = working.Sum(top, n.found("d", "what the post stands on, below the level floor there", "readings of the flight", down))
		}
	default:
		return a
	}
	a.Known = true
	f := n.work("top/"+b.Name, "top of the handrail of "+b.Title+at+", above the floor there", "h_t", top)
	under := n.work("under/"+b.Name, "underside of the handrail of "+b.Title+at+", above the floor there", "h_u",
		working.Difference(f.In(), n.found("t", "height of the rail's section, plumb", "handrail", thick)))
	a.Top, a.Under = f.Exact(n.sys), under.Exact(n.sys)
	return a
}

// lineAt is the height of the top of a raked rail at a place along its flight, above what the post stands on.
func (n *node) lineAt(c coming, place, down length.Length) working.Expr {
	k := c.run.Rake
	f, _ := c.run.footing(c.far)
	words, stands := f.on(k), f.stands
	if stands != f.level-down { // another flight says what the post stands on
		words, stands = "what the post stands on", f.level-down
	}
	from := "readings of " + c.run.Title
	first := k.Treads[0]
	along := working.Sum(
		working.Difference(n.found("x", "place of the rail's end, level from the face of the lowest riser", from, place),
			n.found("x_1", "place of the face of the lowest riser", from, first.At)),
		n.found("q", "nosing, which the line starts at", from, k.Nosing))
	rise, going := n.slope(c, "")
	line := working.Sum(n.found("h_1", "height of the lowest nosing", from, first.Height), working.Quotient(working.Product(rise, along), going))
	return working.Difference(
		working.Sum(line, n.found("H", "top of the handrail above that line, plumb", from, k.Top)),
		n.found("h_s", "height of "+words+", which the post stands on", from, stands))
}

// slope is the rise and the going of the line that a raked rail follows.
func (n *node) slope(c coming, k string) (rise, going *working.Input) {
	k = strings.TrimSuffix("_"+k, "_")
	from := "readings of " + c.run.Title
	rise, going = n.found("R"+k, "rise of the line of the nosings", from, c.run.Rake.Rise), n.found("A"+k, "going of that line", from, c.run.Rake.Going)
	if c.run.figure("rise") != nil {
		rise, going = of(c.run.ID+"/rise", rise), of(c.run.ID+"/going", going)
	}
	return rise, going
}

// needed works out the square block that the rails which come into the post's faces need.
func (n *node) needed(p *Post) {
	var unders, tops []working.Expr
	for _, a := range p.Arrivals {
		if !a.Known || a.Over {
			continue
		}
		k := strconv.Itoa(len(tops) + 1)
		unders = append(unders, of(n.ID+"/under/"+a.Run, n.found("h_u"+k, "underside of the handrail of "+a.Title, "", a.Under)))
		tops = append(tops, of(n.ID+"/top/"+a.Run, n.found("h_t"+k, "top of the handrail of "+a.Title, "", a.Top)))
	}
	if len(tops) == 0 {
		return
	}
	from := n.work("need-from", "lowest underside of the rails that meet at "+n.Name+", above the floor there", "n_f", several(working.Least, unders))
	reveal := n.in("r", "how much of the block is to stand over the highest rail", n.job.Shop.Reveal)
	to := n.work("need-to", "highest top of the rails that meet at "+n.Name+", with the reveal over it", "n_t", working.Sum(several(working.Greatest, tops), reveal),
		working.Citation{Text: "reveal by the shop's settings", Status: working.CommonPractice})
	p.NeedFrom, p.NeedTo = from.Exact(n.sys), to.Exact(n.sys)
}

// several is the least or the greatest of a list; of one, itself.
func several(pick func(working.Expr, ...working.Expr) working.Expr, list []working.Expr) working.Expr {
	if len(list) == 1 {
		return list[0]
	}
	return pick(list[0], list[1:]...)
}

// of makes an input the result of a figure.
func of(figure string, in *working.Input) *working.Input {
	in.Figure = figure
	return in
}

// cut works out the newel's length: as bought less what is taken off its foot; or, where a rail goes over it, up to that rail.
func (n *node) cut(p *Post, block length.Length) {
	if !p.Known {
		return
	}
	if offOpen(n.post) {
		n.needIn(n.job.File, "how much is taken off the foot of "+n.Name+"; leave off out where nothing is", "posts: {"+n.Name+": {off: }}", "its length, and where its block and its turning stand", n.post.Off.At)
		return
	}
	newel := n.post.Part
	cut := Cut{What: "newel", Part: newel.Name, Title: newel.Title.Text, Count: 1, Which: n.Name, Rounding: length.Nearest, Fit: AsBought}
	long := n.in("l_n", "length of the newel as bought", newel.Long)
	left := working.Expr(long)
	if n.post.Off.Given {
		left = working.Difference(long, n.in("o", "taken off its foot", n.post.Off))
		cut.Fit = "cut its foot: " + n.tape(n.post.Off.Length) + " comes off"
	}
	var over []int
	for i, a := range p.Arrivals {
		if !a.Over {
			continue
		}
		if !a.Known || !n.deep() {
			return
		}
		over = append(over, i)
	}
	if len(over) == 0 {
		n.topped(p, cut, left)
		return
	}
	first := p.Arrivals[over[0]]
	for _, i := range over[1:] {
		if a := p.Arrivals[i]; abs(a.Under-first.Under) > n.div.Length {
			cut.ToFit, cut.Rounding = true, 0
			cut.Fit = "cut its top to the fitting as it stands: the rail of " + first.Title + " has its underside " + n.tape(first.Under) + " above the floor over the middle of the post, that of " + a.Title + " " + n.tape(a.Under)
			p.Cut = &cut
			return
		}
	}
	under := of(n.ID+"/under/"+first.Run, n.found("h_u", "underside of the handrail of "+first.Title+" over the middle of the post", "", first.Under))
	f := n.work("cut", "length of the newel "+n.Name+" under the handrail", "l", working.Sum(under, n.in("g", "how far its foot goes below the floor", n.post.Deep)))
	cut.Exact, cut.Length, cut.Rounding, cut.Figure = f.Exact(n.sys), f.Length(n.sys, n.div.Length, length.Up), length.Up, f.ID
	cut.Fit = "leave it long, then fit it under the handrail"
	if n.post.Off.Given {
		cut.Fit = n.tape(n.post.Off.Length) + " comes off its foot, the rest off its top; " + cut.Fit
	}
	if c := n.ends[over[0]]; c.raked() { // the top is cut at the rake
		_, middle := c.places(n.foot, block)
		at := c.run.Rake.RailUnder(middle)
		cut.Short = (cut.Exact + c.run.Rake.RailUnder(middle-p.Wide/2) - at).Round(n.div.Length, length.Up)
		cut.Long = (cut.Exact + c.run.Rake.RailUnder(middle+p.Wide/2) - at).Round(n.div.Length, length.Up)
	}
	p.Cut = &cut
	has := n.work("left", "length of the newel "+n.Name+" as bought, less what is taken off its foot", "l_l", left)
	cure := ""
	if need := max(cut.Length, cut.Long); has.Exact(n.sys) < need {
		cure = "a newel longer by " + n.tape(need-has.Exact(n.sys)) + ", or less taken off its foot"
	}
	n.check("long", "newel as bought, less what is taken off its foot, against what stands under the handrail that goes over it", has.Exact(n.sys), finding.AtLeast, max(cut.Length, cut.Long), newel.Long.At, n.ends[over[0]].run.r.Height.Top.At, has.ID, cure)
}

// leaves checks what is taken off the foot: something must be left, and the cut must not run into the turning.
func (n *node) leaves(figure string) {
	if !n.post.Off.Given && !n.post.Deep.Given {
		return
	}
	newel, gone := n.post.Part, n.post.Off.Length+n.post.Deep.Length
	if gone >= newel.Profile.Long() {
		n.check("off", "left of the newel above the floor, once its foot is cut", newel.Profile.Long()-gone, finding.Over, 0, n.post.Off.Or(n.post.Deep).At, newel.Long.At, figure, "read again what is to come off (off:), and how deep it goes (deep:)")
		return
	}
	if foot, _ := newel.Profile.EndBlocks(); foot > 0 && foot < newel.Profile.Long() {
		n.check("off", "taken off the newel's foot, and let in, against the block there", gone, finding.AtMost, foot, n.post.Off.Or(n.post.Deep).At, newel.Long.At, figure, "take no more than "+n.tape(max(foot-n.post.Deep.Length, 0))+" off: the cut would run into the turning")
	}
}
