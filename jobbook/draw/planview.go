package draw

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// Of a plan, px or px per mm.
const (
	planMost  = 0.2   // the largest scale: 5 px an inch, at which a post is read and more tells no more
	planLeast = 0.05  // the least at which all of it stands in one drawing: a going of 10 in is 13 px
	planTiny  = 0.002 // of an overview: 100 m, the longest reading, are 200 px
	planHigh  = 420.0 // how high a drawing becomes on a phone

	railLeast = 3.0  // a rail's two edges
	postLeast = 6.0  // a post
	riserLong = 12.0 // how far a riser is drawn to either side of the rail
	wallHalf  = 20.0 // how far a wall is drawn to either side of a run's middle

	someRail = 2.25 * inch // the width a rail is drawn with while it is not known
)

// PlanView draws the whole guard from above, for a page of a width in px: one drawing for each group of runs that hang together, where
// all of it can be read in one; else an overview in which the runs have numbers, and then each run by itself, laid level. What is not
// known is dashed and said, and so is a turn that nobody measured. The job may be nil.
func PlanView(l layout.Layout, j *job.Job, style length.Style, width int) []string {
	px := float64(min(max(width, narrowest), widest))
	groups := planGroups(l, j, style)
	var list []string
	for i := range groups {
		g := &groups[i]
		g.width = px
		g.id = fmt.Sprintf("d-plan-%d-%.0f", i, px)
		for _, words := range l.Plan.Assumed {
			if g.speaksOf(words) || i == 0 && !slices.ContainsFunc(groups, func(o planGroup) bool { return o.speaksOf(words) }) {
				g.assumed = append(g.assumed, plain(words))
			}
		}
		if i == 0 {
			g.left = notDrawn(l)
		}
		list = append(list, g.sheets()...)
	}
	return list
}

// notDrawn names the runs that have no place in the plan.
func notDrawn(l layout.Layout) []string {
	var list []string
	for _, r := range l.Runs {
		if r != nil && !slices.ContainsFunc(l.Plan.Stretches, func(s layout.Stretch) bool { return s.Run == r.Name }) {
			m := model{r: r}
			list = append(list, plain(m.label()))
		}
	}
	return list
}

// planGroup is the runs that hang together.
type planGroup struct {
	id      string
	style   length.Style
	width   float64
	tracks  []track
	posts   []planPost
	assumed []string
	left    []string // runs that are in no drawing
	middle  point    // of all of it, mm
}

// track is a run in plan: in mm, y away from the reader.
type track struct {
	run     string
	number  int
	title   string
	words   string // its length
	said    string // the same with its unit
	known   bool   // its length is
	line    []point
	ends    [2]planEnd
	wide    float64 // of the rail; 0 while not known
	heading [2]float64
	curved  bool
	raked   bool
	risers  []float64 // their places, as parts of the way along it
	unsaid  bool      // a flight whose risers are not placed
}

// planEnd is what a run ends at.
type planEnd struct {
	post        int // of the group's; -1 for none
	wall, half  bool
	known       bool
	name        string
	wide, depth float64 // of a half newel
}

// planPost is a post in plan.
type planPost struct {
	name    string
	at      point
	wide    float64 // 0 while not known
	square  float64 // which way its faces stand, radians
	turns   []planTurn
	assumed bool
	half    bool // drawn with the end of its run, flat on the wall
}

// planTurn is how one turns at a post, coming along its first run.
type planTurn struct {
	from, to string
	arrive   float64 // the heading on coming, radians
	left     float64 // degrees; to the right negative
	assumed  bool
}

// between180 is the same angle in degrees from over -180 to 180.
func between180(d float64) float64 {
	d = math.Mod(d, 360)
	switch {
	case d > 180:
		d -= 360
	case d <= -180:
		d += 360
	}
	return d
}

// almostSquare is how far off a right angle a turn may be and still be called square, degrees: the hundredth that angles are printed to, halved.
const almostSquare = 0.005

// square reports a turn that needs no words: straight on, or a right angle.
func (t planTurn) square() bool {
	a := math.Abs(t.left)
	return a < almostSquare || math.Abs(a-90) < almostSquare
}

func (t planTurn) words() string {
	side := "left"
	if t.left < 0 {
		side = "right"
	}
	if math.Abs(t.left) < almostSquare {
		return "straight on"
	}
	return degrees(math.Abs(t.left)) + " to the " + side
}

// planGroups takes the runs from the layout, group by group.
func planGroups(l layout.Layout, j *job.Job, style length.Style) []planGroup {
	var order []int
	for _, s := range l.Plan.Stretches {
		if !slices.Contains(order, s.Group) {
			order = append(order, s.Group)
		}
	}
	var groups []planGroup
	for _, n := range order {
		g := planGroup{style: style}
		for _, s := range l.Plan.Stretches {
			if s.Group == n {
				g.add(l, j, s)
			}
		}
		g.meet(l)
		groups = append(groups, g)
	}
	return groups
}

// add takes a stretch.
func (g *planGroup) add(l layout.Layout, j *job.Job, s layout.Stretch) {
	t := track{run: s.Run, number: len(g.tracks) + 1, title: plain(s.Run), raked: s.Raked}
	var run *layout.Run
	for _, r := range l.Runs {
		if r != nil && r.Name == s.Run {
			run = r
		}
	}
	var clear length.Length
	if run != nil {
		m := model{r: run, style: g.style}
		t.title = plain(m.label())
		clear = m.clearLength()
		if run.Job != nil && run.Job.Handrail != nil {
			t.wide = max(0, mm(run.Job.Handrail.Wide.Length))
		}
	}
	t.title = or(t.title, "run to be named")
	t.known = clear > 0 && sane(clear)
	from, to := point{finite(s.From.X), finite(s.From.Y)}, point{finite(s.To.X), finite(s.To.Y)}
	turn, radius := finite(s.Turn), finite(s.Radius)
	h := float64(finite(s.Heading) * math.Pi / 180)
	t.heading = [2]float64{finite(s.Heading), finite(s.Heading) + turn}
	_, far := from.toward(to)
	switch {
	case turn != 0 && radius > 0 && math.Abs(turn) <= 360:
		t.curved = true
		t.line = arc(from, h, float64(turn*math.Pi/180), radius)
	case far < 1:
		t.line = []point{from, from.plus(heading(h), someClear)}
		t.known = false
	default:
		t.line = []point{from, to}
	}
	switch {
	case !t.known:
		t.words, t.said = "to be measured", "its length to be measured"
	case t.curved:
		t.words, t.said = g.style.Print(clear)+" on the curve", g.style.With(clear)+" along the curve"
	case t.raked:
		t.words, t.said = g.style.Print(clear)+" level", g.style.With(clear)+" level"
	default:
		t.words, t.said = g.style.Print(clear), g.style.With(clear)
	}
	if run != nil && run.Rake != nil {
		t.raked = true
		long := run.Rake.To - run.Rake.From
		if long > 0 && sane(long) {
			for _, tread := range run.Rake.Treads {
				const past = 0.25 // of its length: a riser that lies farther beyond an end is not at this guard
				if part := (tread.At - run.Rake.From).Float() / long.Float(); sane(tread.At) && -past <= part && part <= 1+past {
					t.risers = append(t.risers, part)
				}
			}
		}
	}
	t.unsaid = t.raked && len(t.risers) == 0
	for i, spot := range []layout.Spot{s.From, s.To} {
		t.ends[i] = g.end(l, j, run, i, spot)
	}
	g.tracks = append(g.tracks, t)
}

// end takes the end of a run, and its post the first time that one comes to it.
func (g *planGroup) end(l layout.Layout, j *job.Job, run *layout.Run, i int, spot layout.Spot) planEnd {
	e := planEnd{post: -1, name: plain(spot.Name), wall: spot.Name == "wall", known: spot.Name != ""}
	if run != nil {
		end := []layout.End{run.From, run.To}[i]
		if end.Wall {
			e.wall, e.known = true, true
		}
		if n := end.Newel; n != nil && n.Half.Yes {
			e.half, e.wide = true, max(0, mm(n.Wide.Length))
			e.depth = e.wide / 2
		}
	}
	if e.wall {
		return e
	}
	for k := range g.posts {
		if g.posts[k].name == spot.Name {
			e.post = k
			return e
		}
	}
	for _, p := range l.Plan.Posts {
		if p.Name != spot.Name || p.Name == "" {
			continue
		}
		at := planPost{name: p.Name, at: point{finite(p.X), finite(p.Y)}, wide: max(0, finite(p.Wide)), half: e.half}
		if at.wide == 0 && j != nil {
			if post := j.Post(p.Name); post != nil && post.Part != nil {
				at.wide = max(0, mm(post.Part.Wide.Length))
			}
		}
		g.posts = append(g.posts, at)
		e.post = len(g.posts) - 1
		return e
	}
	return e
}

// meet works out how the runs turn at each post, and where the middle of the group is.
func (g *planGroup) meet(l layout.Layout) {
	e := box{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, t := range g.tracks {
		for _, p := range t.line {
			e = box{min(e.x1, p.x), min(e.y1, p.y), max(e.x2, p.x), max(e.y2, p.y)}
		}
	}
	g.middle = point{(e.x1 + e.x2) / 2, (e.y1 + e.y2) / 2}
	for k := range g.posts {
		p := &g.posts[k]
		first := ""
		arrive := 0.0
		n := 0
		for _, t := range g.tracks {
			for i, end := range t.ends {
				if end.post != k {
					continue
				}
				away := t.heading[0] // the way it leaves the post
				if i == 1 {
					away = t.heading[1] + 180
				}
				if n++; n == 1 {
					first, arrive = t.title, away+180
					p.square = float64(away * math.Pi / 180)
				} else {
					p.turns = append(p.turns, planTurn{from: first, to: t.title, arrive: float64(arrive * math.Pi / 180),
						left: between180(away - arrive), assumed: guessed(l, p.name, t.run, []string{"from", "to"}[i])})
				}
			}
		}
		for _, t := range p.turns {
			p.assumed = p.assumed || t.assumed
		}
	}
}

// guessed reports whether nobody measured which way an end of a run leaves its post.
func guessed(l layout.Layout, post, run, end string) bool {
	for _, p := range l.Posts {
		if p.Name != post {
			continue
		}
		for _, a := range p.Arrivals {
			if a.Run == run && a.End == end {
				return !a.Turned
			}
		}
	}
	return false
}

// speaksOf reports whether a sentence names a post of this group.
func (g *planGroup) speaksOf(words string) bool {
	for _, p := range g.posts {
		if p.name != "" && strings.Contains(words, p.name) {
			return true
		}
	}
	return false
}

// arc is a line of points along a circle, from a place on, turning to the left where the turn, in radians, is positive.
func arc(from point, h, turn, radius float64) []point {
	side := 1.0
	if turn < 0 {
		side = -1
	}
	toCentre := heading(h + float64(side*math.Pi/2))
	centre := from.plus(toCentre, radius)
	n := 8 + int(math.Abs(turn)*16) // straight pieces of under 4 degrees: off the arc by less than a thousandth of its radius
	var list []point
	for i := 0; i <= n; i++ {
		a := h - float64(side*math.Pi/2) + float64(turn*float64(i))/float64(n)
		list = append(list, centre.plus(heading(a), radius))
	}
	return list
}

// sheets are the drawings of a group.
func (g *planGroup) sheets() []string {
	var all []int
	for i := range g.tracks {
		all = append(all, i)
	}
	if whole, ok := g.sheet(planPart{tracks: all, detail: true, least: planLeast}); ok {
		return []string{whole.svg()}
	}
	var list []string
	if len(all) > 1 {
		list = append(list, svgOf(g.sheet(planPart{tracks: all, least: planTiny, over: true})))
	}
	for n, i := range all {
		if n == mostPieces {
			break
		}
		list = append(list, svgOf(g.sheet(planPart{tracks: []int{i}, detail: true, least: planTiny, piece: n + 1, of: len(all)})))
	}
	return list
}

// svgOf writes a sheet whether or not all of its words found a place.
func svgOf(s *sheet, _ bool) string { return s.svg() }

// planPart is what of a group stands in a drawing.
type planPart struct {
	tracks    []int
	detail    bool // with titles and lengths; else runs have numbers
	over      bool // an overview
	least     float64
	piece, of int // 0 for the whole, or for an overview
}

// planPen draws runs from above.
type planPen struct {
	g      *planGroup
	s      *sheet
	scale  float64
	at     point
	rotate point    // what the x axis becomes
	missed []string // words that found no place
}

func (p *planPen) px(q point) point {
	x, y := float64(q.x*p.rotate.x)-float64(q.y*p.rotate.y), float64(q.x*p.rotate.y)+float64(q.y*p.rotate.x)
	return point{p.at.x + float64(x*p.scale), p.at.y - float64(y*p.scale)}
}

// way turns a direction in plan into one on the sheet.
func (p *planPen) way(d point) point {
	return point{float64(d.x*p.rotate.x) - float64(d.y*p.rotate.y), -float64(d.x*p.rotate.y) - float64(d.y*p.rotate.x)}
}

// sheet draws a part of a group; false where not all of its words found a place, or it is too large for its least scale.
func (g *planGroup) sheet(part planPart) (*sheet, bool) {
	s := &sheet{id: g.id, width: g.width}
	if part.piece > 0 {
		s.id += "-" + strconv.Itoa(part.piece)
	}
	rotate := point{1, 0}
	if part.piece > 0 || len(part.tracks) == 1 { // laid level
		line := g.tracks[part.tracks[0]].line
		d, _ := line[0].toward(line[len(line)-1])
		rotate = point{d.x, -d.y}
	}
	var missed []string
	small := false
	bottom, ok := s.fitted(planMost, part.least, max(planHigh, float64(0.75*g.width)), clearance, func(s *sheet, scale float64, at point) {
		p := &planPen{g: g, s: s, scale: scale, at: at, rotate: rotate}
		p.draw(part)
		missed, small = p.missed, p.small(part)
	})
	names := g.titles(part)
	s.title = "Plan of " + names
	if part.over {
		s.title = "Overview in plan of " + names
	}
	say := g.caption(part, missed, small)
	s.desc = g.describe(part) + " " + strings.Join(say, " ")
	y := bottom + row/2
	for _, words := range say {
		for _, line := range wrap(words, s.width-4) {
			y += row
			s.text(2, y-under*size, start, line)
		}
	}
	s.height = math.Ceil(y + 2*clearance)
	return s, ok
}

// titles names the runs of a part.
func (g *planGroup) titles(part planPart) string {
	var list []string
	for _, i := range part.tracks {
		list = append(list, g.tracks[i].title)
	}
	return plain(and(list))
}

// and joins words the way they are said.
func and(list []string) string {
	switch n := len(list); n {
	case 0:
		return ""
	case 1:
		return list[0]
	default:
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
}

// small reports whether posts and rails are drawn larger than they are, to be seen.
func (p *planPen) small(part planPart) bool {
	for _, i := range part.tracks {
		t := p.g.tracks[i]
		if w := t.railWide(); float64(w*p.scale) < railLeast {
			return true
		}
		for _, e := range t.ends {
			if e.post >= 0 && float64(p.g.posts[e.post].across()*p.scale) < postLeast {
				return true
			}
		}
	}
	return false
}

func (t track) railWide() float64 {
	if t.wide > 0 {
		return t.wide
	}
	return someRail
}

// across is the width that a post is drawn with.
func (p planPost) across() float64 {
	if p.wide > 0 {
		return p.wide
	}
	return somePost
}

// draw draws all lines first, then looks for places for the words: what is needed most first.
func (p *planPen) draw(part planPart) {
	var lengths [][3]point
	var sides []point
	type shaft struct {
		tail, head point
		drawn      bool
	}
	var arrows []shaft
	posts := p.posts(part)
	for _, i := range part.tracks {
		p.track(&p.g.tracks[i])
	}
	for _, k := range posts {
		p.post(&p.g.posts[k])
	}
	for _, k := range posts {
		p.angle(part, &p.g.posts[k])
	}
	for _, i := range part.tracks {
		t := &p.g.tracks[i]
		out := p.outside(t, part)
		sides = append(sides, out)
		if part.detail {
			a, b := p.dimension(t, out)
			lengths = append(lengths, [3]point{a, b, out})
			var up shaft
			if t.raked {
				up.tail, up.head, up.drawn = p.arrow(t, out)
			}
			arrows = append(arrows, up)
		}
	}
	if p.s.tooWide() {
		return // a smaller scale is tried next
	}
	for n, i := range part.tracks {
		t := &p.g.tracks[i]
		if !part.detail {
			p.number(t, sides[n])
			continue
		}
		l := lengths[n]
		p.say(alongside(l[0], l[1], l[2], t.words), t.title+": "+t.words+".", t.words)
	}
	for _, k := range posts {
		p.turns(part, &p.g.posts[k])
	}
	for n, i := range part.tracks {
		if t := &p.g.tracks[i]; part.detail {
			if a := arrows[n]; a.drawn {
				p.up(t, a.tail, a.head, sides[n])
			}
			p.title(t, sides[n])
		}
	}
	for _, k := range posts {
		p.name(part, &p.g.posts[k])
	}
	for _, i := range part.tracks {
		p.walls(&p.g.tracks[i])
	}
}

// say puts words at the first free place, or keeps what is to stand below instead.
func (p *planPen) say(spots []spot, instead string, lines ...string) {
	if !p.s.settle(spots, lines...) {
		p.missed = append(p.missed, instead)
	}
}

// posts are the posts of a part.
func (p *planPen) posts(part planPart) []int {
	var list []int
	for _, i := range part.tracks {
		for _, e := range p.g.tracks[i].ends {
			if e.post >= 0 && !slices.Contains(list, e.post) {
				list = append(list, e.post)
			}
		}
	}
	return list
}

// along is the place at a part of the way along a run on the sheet, and its direction there. Beyond the ends it goes straight on.
func (p *planPen) along(t *track, part float64) (at, d point) {
	total := 0.0
	for i := 1; i < len(t.line); i++ {
		_, far := t.line[i-1].toward(t.line[i])
		total += far
	}
	left := float64(part * total)
	for i := 1; i < len(t.line); i++ {
		d, far := t.line[i-1].toward(t.line[i])
		if left <= far || i == len(t.line)-1 {
			return p.px(t.line[i-1].plus(d, left)), p.way(d)
		}
		left -= far
	}
	return p.px(t.line[0]), point{1, 0}
}

// offset is a run's line on the sheet, off px to a side of it: the right-hand side where off is positive.
func (p *planPen) offset(t *track, off float64) []point {
	n := len(t.line)
	list := make([]point, n)
	for i := range t.line {
		a, b := t.line[max(i-1, 0)], t.line[min(i+1, n-1)]
		d, _ := a.toward(b)
		if t.curved && i == 0 {
			d = heading(float64(t.heading[0] * math.Pi / 180))
		}
		if t.curved && i == n-1 {
			d = heading(float64(t.heading[1] * math.Pi / 180))
		}
		list[i] = p.px(t.line[i]).plus(p.way(d).turned(), off)
	}
	return list
}

// half is half a rail's width on the sheet, px.
func (p *planPen) half(t *track) float64 { return max(float64(t.railWide()*p.scale), railLeast) / 2 }

// track draws a run: its rail, the risers under it, and what it ends at where that is no post.
func (p *planPen) track(t *track) {
	half := p.half(t)
	right, left := p.offset(t, half), p.offset(t, -half)
	body := append([]point(nil), right...)
	for i := len(left) - 1; i >= 0; i-- {
		body = append(body, left[i])
	}
	if t.known && t.wide > 0 {
		p.s.body(body...)
	} else {
		p.s.path(come, true, body...)
	}
	for _, part := range t.risers {
		at, d := p.along(t, part)
		side := d.turned()
		for _, way := range []float64{1, -1} {
			p.s.path(dim, false, at.plus(side, float64(way*half)), at.plus(side, float64(way*(half+riserLong))))
		}
	}
	for i, e := range t.ends {
		n := len(t.line)
		d := p.way(heading(float64(t.heading[0] * math.Pi / 180)))
		at := p.px(t.line[0])
		if !t.curved {
			far, _ := t.line[0].toward(t.line[n-1])
			d = p.way(far)
		}
		d = point{-d.x, -d.y}
		if i == 1 {
			at = p.px(t.line[n-1])
			d = p.way(heading(float64(t.heading[1] * math.Pi / 180)))
			if !t.curved {
				far, _ := t.line[0].toward(t.line[n-1])
				d = p.way(far)
			}
		}
		switch {
		case e.half:
			p.halfNewel(e, at, d)
		case e.wall:
			p.wall(at, d, cut)
		case e.post < 0:
			p.wall(at, d, come)
		}
	}
}

// wall draws the face of a wall at the end of a run that comes along d, and hatches behind it; dashed where it is not said what is there.
func (p *planPen) wall(at, d point, l layer) {
	side := d.turned()
	a, b := at.plus(side, -wallHalf), at.plus(side, wallHalf)
	p.s.path(l, false, a, b)
	if l != cut {
		return
	}
	const apart = 7 // px, as in an elevation
	for off := 0.0; off+wallDeep <= 2*wallHalf; off += apart {
		q := a.plus(side, off)
		p.s.path(hatch, false, q, q.plus(side, wallDeep).plus(d, wallDeep))
	}
}

// halfNewel draws a half newel flat on its wall.
func (p *planPen) halfNewel(e planEnd, at, d point) {
	wide, deep := e.wide, e.depth
	if wide <= 0 {
		wide, deep = somePost, somePost/2
	}
	half := max(float64(wide*p.scale), postLeast) / 2
	deep = max(float64(deep*p.scale), postLeast/2)
	side := d.turned()
	back := at.plus(d, deep)
	corners := []point{at.plus(side, -half), at.plus(side, half), back.plus(side, half), back.plus(side, -half)}
	if e.wide > 0 {
		p.s.body(corners...)
	} else {
		p.s.path(come, true, corners...)
	}
	p.wall(back, d, cut)
}

// post draws a post, its faces square to the first run that comes to it.
func (p *planPen) post(o *planPost) {
	if o.half {
		return
	}
	half := p.halfPost(o)
	d := p.way(heading(o.square))
	side := d.turned()
	at := p.px(o.at)
	corner := func(x, y float64) point { return at.plus(d, float64(x*half)).plus(side, float64(y*half)) }
	corners := []point{corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)}
	if o.wide <= 0 {
		p.s.path(come, true, corners...)
		return
	}
	p.s.path(tint, true, corners...)
	p.s.path(cut, true, corners...)
}

func (p *planPen) halfPost(o *planPost) float64 {
	return max(float64(o.across()*p.scale), postLeast) / 2
}

// Of an angle at a post, px beyond it.
const (
	angleArc  = 26.0
	angleLine = 36.0
)

// angle draws how far a run turns at a post, where it is no square corner: the way that one comes, on beyond the post, and an arc from
// there to the way that one goes.
func (p *planPen) angle(part planPart, o *planPost) {
	if part.over || part.piece > 0 {
		return
	}
	for _, t := range o.turns {
		if t.square() {
			continue
		}
		half := p.halfPost(o)
		at := p.px(o.at)
		d := p.way(heading(t.arrive))
		p.s.path(axis, false, at.plus(d, half), at.plus(d, half+angleLine))
		from := t.arrive
		turn := float64(t.left * math.Pi / 180)
		const pieces = 12
		var list []point
		for i := 0; i <= pieces; i++ {
			a := from + float64(turn*float64(i))/pieces
			list = append(list, at.plus(p.way(heading(a)), half+angleArc))
		}
		p.s.path(dim, false, list...)
	}
}

// turns writes the angles at a post.
func (p *planPen) turns(part planPart, o *planPost) {
	if part.over || part.piece > 0 {
		return
	}
	for _, t := range o.turns {
		if t.square() {
			continue
		}
		words := degrees(math.Abs(t.left))
		between := p.way(heading(t.arrive + float64(t.left*math.Pi/360)))
		reach := p.halfPost(o) + angleArc + clearance
		p.say(around(p.px(o.at), between, reach, words), o.name+": turns "+t.words()+".", words)
	}
}

// name writes what a post is called, and that its turn is assumed.
func (p *planPen) name(part planPart, o *planPost) {
	const room = 120 // px: a name of three or four words
	lines := []string{fit(o.name, room)}
	if o.name == "" {
		return
	}
	if o.assumed && !part.over && part.piece == 0 {
		lines = append(lines, "turn assumed")
	}
	at := p.px(o.at)
	out, far := p.px(p.g.middle).toward(at)
	if far < 1 || part.piece > 0 || len(part.tracks) == 1 {
		out = point{0, -1}
	}
	reach := max(float64(p.halfPost(o)*1.42), p.halfPost(o)+clearance) // to its corner
	instead := "No room for a name: " + plain(o.name) + "."
	if numbers := p.g.numbers(o); part.over && len(numbers) > 0 {
		instead = "At an end of " + and(numbers) + ": " + plain(o.name) + "."
		if len(numbers) > 1 {
			instead = "Where " + and(numbers) + " meet: " + plain(o.name) + "."
		}
	}
	spots := around(at, out, reach, lines...)
	// Past the risers of a flight, and past its dimension, the words begin or end at the post.
	wide, high := block(lines...)
	off := riserLong + p.halfPost(o) + clearance
	for _, more := range []float64{0, row + clearance} {
		for _, corner := range []point{{1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
			over := point{float64(corner.x * wide / 2), float64(corner.y * (off + more + high/2))}
			beside := point{float64(corner.x * (off + more + wide/2)), float64(corner.y * high / 2)}
			spots = append(spots, spot{at: at.plus(over, 1)}, spot{at: at.plus(beside, 1)})
		}
	}
	p.say(p.nearest(part, o, spots, wide, high), instead, lines...)
}

// nearest keeps the places for a post's name that are nearer to it than to any other post.
func (p *planPen) nearest(part planPart, o *planPost, spots []spot, wide, high float64) []spot {
	away := func(s spot, at point) float64 {
		return apart(max(math.Abs(s.at.x-at.x)-wide/2, 0), max(math.Abs(s.at.y-at.y)-high/2, 0))
	}
	var list []spot
	for _, s := range spots {
		own := away(s, p.px(o.at))
		ok := true
		for _, k := range p.posts(part) {
			if q := &p.g.posts[k]; q != o {
				const more = 4 // px, so that it is seen
				ok = ok && snap(away(s, p.px(q.at))) > snap(own)+more
			}
		}
		if ok {
			list = append(list, s)
		}
	}
	return list
}

// numbers are those of the runs that come to a post.
func (g *planGroup) numbers(o *planPost) []string {
	var list []string
	for _, t := range g.tracks {
		for _, e := range t.ends {
			if e.post >= 0 && &g.posts[e.post] == o {
				list = append(list, strconv.Itoa(t.number))
			}
		}
	}
	return list
}

// outside is the side of a run on the sheet that looks away from the rest of its group: towards the reader where there is none.
func (p *planPen) outside(t *track, part planPart) point {
	at, d := p.along(t, 0.5)
	side := d.turned()
	middle := p.px(p.g.middle)
	lean := snap(float64((at.x-middle.x)*side.x) + float64((at.y-middle.y)*side.y))
	if len(part.tracks) == 1 {
		lean = 0
	}
	const none = 2 // px
	switch {
	case lean > none:
		return side
	case lean < -none:
		return point{-side.x, -side.y}
	case t.curved: // round the outside of the curve
		_, first := p.along(t, 0)
		if cross := float64(first.x*d.y) - float64(first.y*d.x); cross > 0 {
			return point{-side.x, -side.y}
		}
		return side
	case side.y < -0.01: // a hundredth: not upright
		return point{-side.x, -side.y}
	}
	return side
}

// reach is how far a run's drawing goes to the side of its middle, px.
func (p *planPen) reach(t *track) float64 {
	if len(t.risers) > 0 {
		return p.half(t) + riserLong
	}
	return p.half(t)
}

// dimension draws the dimension of a run's length off to a side, and gives its ends: for a curve of the part in the middle.
func (p *planPen) dimension(t *track, out point) (a, b point) {
	_, d := p.along(t, 0.5)
	side := d.turned()
	way := 1.0
	if float64(side.x*out.x)+float64(side.y*out.y) < 0 {
		way = -1
	}
	off := p.reach(t) + 12
	for _, e := range t.ends { // beyond the corner of a post
		if e.post >= 0 {
			off = max(off, p.halfPost(&p.g.posts[e.post])+8)
		}
	}
	if !t.curved {
		return p.s.aligned(p.px(t.line[0]), p.px(t.line[len(t.line)-1]), out, off)
	}
	near, far := p.offset(t, float64(way*(p.half(t)+3))), p.offset(t, float64(way*(off+tall)))
	line := p.offset(t, float64(way*off))
	n := len(line)
	p.s.path(dim, false, near[0], far[0])
	p.s.path(dim, false, near[n-1], far[n-1])
	p.s.path(dim, false, line...)
	first, _ := line[0].toward(line[1])
	last, _ := line[n-2].toward(line[n-1])
	p.s.slash(line[0], first)
	p.s.slash(line[n-1], last)
	return line[n/2-1], line[n/2+1]
}

// number writes a run's number beside its middle.
func (p *planPen) number(t *track, out point) {
	words := strconv.Itoa(t.number)
	var list []spot
	for _, part := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		at, _ := p.along(t, part)
		for _, way := range []float64{1, -1} {
			side := point{float64(out.x * way), float64(out.y * way)}
			wide, high := block(words)
			off := p.reach(t) + clearance + float64(wide*math.Abs(side.x))/2 + float64(high*math.Abs(side.y))/2
			list = append(list, spot{at: at.plus(side, off)})
		}
	}
	p.say(list, "Number "+words+" found no place.", words)
}

// title writes what a run is called, on the inner side of it where there is room.
func (p *planPen) title(t *track, out point) {
	_, d := p.along(t, 0.5)
	level := math.Abs(d.y) < 0.02
	long := 0.0
	for i := 1; i < len(t.line); i++ {
		_, far := t.line[i-1].toward(t.line[i])
		long += float64(far * p.scale)
	}
	const least = 110 // px: two or three words
	room := max(long, least)
	if t.raked { // its posts' names stand beside it, past the risers
		room = least
	}
	var lines []string
	if lines = wrap(t.title, room); len(lines) > 2 {
		lines = []string{lines[0], fit(strings.Join(lines[1:], " "), room)}
	}
	if len(lines) == 0 {
		return
	}
	wide, high := block(lines...)
	gap := p.reach(t) + clearance + 1
	if t.raked {
		gap += 10 // beyond the arrow
	}
	var list []spot
	one := len(lines) == 1
	for _, more := range []float64{0, row, 2 * row} {
		for _, way := range []float64{-1, 1} {
			for _, part := range []float64{0.5, 0.4, 0.6, 0.3, 0.7} {
				at, _ := p.along(t, part)
				side := point{float64(out.x * way), float64(out.y * way)}
				off := gap + more + float64(wide*math.Abs(side.x))/2 + float64(high*math.Abs(side.y))/2
				list = append(list, spot{at: at.plus(side, off)})
				if one && !level && math.Abs(d.x) < 0.02 {
					list = append(list, spot{at: at.plus(side, gap+more+high/2), up: true})
				}
			}
		}
	}
	p.say(list, "", lines...)
}

// arrow draws the arrow along a flight, and gives its ends; false where there is no room for one.
func (p *planPen) arrow(t *track, out point) (tail, head point, ok bool) {
	off := -(p.reach(t) + 7)
	tail, _ = p.along(t, 0.32) // a third at either end is left to the names of posts
	head, _ = p.along(t, 0.68)
	tail, head = tail.plus(out, off), head.plus(out, off)
	if t.curved {
		at, d := p.along(t, 0.5)
		tail, head = at.plus(out, off).plus(d, -10), at.plus(out, off).plus(d, 10)
	}
	d, far := tail.toward(head)
	if snap(far) < 8 { // px: no more than its head
		return tail, head, false
	}
	side := d.turned()
	back := head.plus(d, -7)
	p.s.path(dim, false, tail, back)
	p.s.path(solid, true, head, back.plus(side, slant), back.plus(side, -slant))
	return tail, head, true
}

// up writes which way the arrow points.
func (p *planPen) up(t *track, tail, head, out point) {
	d, _ := tail.toward(head)
	wide, high := block("up")
	reach := float64(wide*math.Abs(d.x))/2 + float64(high*math.Abs(d.y))/2 + clearance
	list := []spot{{at: tail.plus(d, -reach)}, {at: head.plus(d, reach)}}
	list = append(list, alongside(tail, head, point{-out.x, -out.y}, "up")...)
	p.say(list, t.title+": the arrow points up.", "up")
}

// walls writes beside a wall what it is, where there is room: its hatching says it already.
func (p *planPen) walls(t *track) {
	for i, e := range t.ends {
		if e.post >= 0 || e.half {
			continue
		}
		words := "wall"
		if !e.wall {
			words = or(fit(e.name, 100), "to be named") // px, as for a post
		}
		at, d := p.along(t, float64(i))
		if i == 0 {
			d = point{-d.x, -d.y}
		}
		if e.wall {
			at = at.plus(d, wallDeep)
		}
		p.s.offer(around(at, d, clearance, words), words)
	}
}

// caption is what stands under a plan.
func (g *planGroup) caption(part planPart, missed []string, small bool) []string {
	unit := (&model{style: g.style}).unit()
	var say []string
	add := func(format string, a ...any) { say = append(say, fmt.Sprintf(format, a...)) }
	switch {
	case part.over:
		add("Overview from above; each run follows by itself. %s.", unit)
		for _, i := range part.tracks {
			t := g.tracks[i]
			if i >= mostPieces {
				add("%s more not listed.", plural(len(part.tracks)-mostPieces, "run", "runs"))
				break
			}
			add("%d: %s, %s.", t.number, fit(t.title, g.width), t.words)
		}
	case part.piece > 0:
		add("%s, run %d of %d, from above, laid level. %s from face to face at the floor.", fit(g.tracks[part.tracks[0]].title, g.width), part.piece, part.of, unit)
	default:
		add("From above. %s from face to face at the floor.", unit)
	}
	var unknown, narrow, unplaced []string
	raked := false
	for _, i := range part.tracks {
		t := g.tracks[i]
		raked = raked || len(t.risers) > 0
		if !t.known {
			unknown = append(unknown, fit(t.title, g.width))
		}
		if t.wide <= 0 && t.known {
			narrow = append(narrow, fit(t.title, g.width))
		}
		if t.unsaid {
			unplaced = append(unplaced, fit(t.title, g.width))
		}
	}
	if len(unknown) > 0 {
		add("Dashed: %s; length to be measured, not to scale.", and(unknown))
	}
	if len(narrow) > 0 {
		add("Dashed: %s; the width of the rail is to be settled.", and(narrow))
	}
	if raked && !part.over {
		add("Risers are drawn short: how wide the stair is, and on which side of the guard, is not written in the job.")
	}
	if len(unplaced) > 0 {
		add("Risers of %s are to be measured.", and(unplaced))
	}
	pen := planPen{g: g}
	var missing []string
	for _, k := range pen.posts(part) {
		p := g.posts[k]
		if p.wide <= 0 && !p.half {
			missing = append(missing, plain(p.name))
		}
		if part.piece > 0 || part.over {
			for _, t := range p.turns {
				if !part.over && t.from != g.tracks[part.tracks[0]].title && t.to != g.tracks[part.tracks[0]].title {
					continue
				}
				if assumed := ""; !t.square() || t.assumed {
					if t.assumed && part.over && len(g.assumed) > 0 {
						continue // said below
					}
					if t.assumed {
						assumed = ", assumed"
					}
					add("At %s from %s into %s: %s%s.", plain(p.name), t.from, t.to, t.words(), assumed)
				}
			}
		}
	}
	if len(missing) > 0 {
		add("Dashed: %s; the newel is to be chosen.", and(missing))
	}
	if part.piece == 0 {
		for _, words := range g.assumed {
			add("%s", strings.TrimSuffix(words, ".")+".")
		}
		if len(g.left) > 0 {
			add("Not drawn, its length to be measured: %s.", and(g.left))
		}
	}
	if small {
		add("Posts and rails are drawn wider than they are, to be seen.")
	}
	for _, words := range missed {
		if words != "" {
			add("%s", words)
		}
	}
	return say
}

// describe says in plain words how the runs go.
func (g *planGroup) describe(part planPart) string {
	var say []string
	for _, i := range part.tracks {
		t := g.tracks[i]
		kind := "level run"
		switch {
		case t.raked:
			kind = "flight, uphill"
		case t.curved:
			kind = "curved run"
		}
		say = append(say, fmt.Sprintf("%s: %s from %s to %s, %s.", t.title, kind, g.endWords(t.ends[0]), g.endWords(t.ends[1]), t.said))
	}
	pen := planPen{g: g}
	if part.piece == 0 {
		for _, k := range pen.posts(part) {
			for _, t := range g.posts[k].turns {
				assumed := ""
				if t.assumed {
					assumed = ", assumed"
				}
				say = append(say, fmt.Sprintf("At %s from %s into %s: %s%s.", plain(g.posts[k].name), t.from, t.to, t.words(), assumed))
			}
		}
	}
	return strings.Join(say, " ")
}

func (g *planGroup) endWords(e planEnd) string {
	switch {
	case e.post >= 0:
		return plain(g.posts[e.post].name)
	case e.wall:
		return "wall"
	}
	return or(e.name, "an end to be named")
}
