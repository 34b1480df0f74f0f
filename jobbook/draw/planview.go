package draw

import (
	"fmt"
	"math"
	"slices"
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
	sides   []float64 // that they are drawn on: 1 right of it, -1 left; both while it is not said
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
	return Degrees(math.Abs(t.left)) + " to the " + side
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
		t.raked, t.sides = true, []float64{1, -1}
		if run.Job != nil && run.Job.Stair != nil && run.Job.Stair.Side.Given {
			t.sides = map[string][]float64{"right": {1}, "left": {-1}}[run.Job.Stair.Side.Text]
		}
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
