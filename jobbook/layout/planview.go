package layout

import (
	"math"
	"slices"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// point is a place in plan, mm.
type point struct{ x, y float64 }

// Bearing is the cosine and the sine of an angle in degrees, on a grid of 1e-9 where the last bits of different machines agree; right
// angles are exact.
func Bearing(degrees float64) (cos, sin float64) {
	const grid = 1e9
	a := degrees * math.Pi / 180
	return math.Round(math.Cos(a)*grid) / grid, math.Round(math.Sin(a)*grid) / grid
}

// milli is an angle from 0 up to a full turn, in thousandths of a degree.
func milli(degrees float64) int64 {
	const full = 360_000
	m := int64(math.Round(degrees*1000)) % full
	if m < 0 {
		m += full
	}
	return m
}

// round is an angle from 0 up to 360 degrees.
func round(degrees float64) float64 { return float64(milli(degrees)) / 1000 }

// skew is how far a rail lies off the square of the post, over -45 up to 45 degrees.
func skew(way float64) float64 {
	m := milli(way) % 90_000
	if m > 45_000 {
		m -= 90_000
	}
	return float64(m) / 1000
}

// ways works out which way each end leaves the post in plan, from the first of them clockwise: who comes along the first goes straight on
// at half a turn, and to the right beyond it. What was not measured is drawn as a corner to the right, and is asked for.
func (n *node) ways() {
	taken := map[int64]bool{0: true}
	for i := range n.ends {
		c := &n.ends[i]
		turn := n.post.Turn
		switch {
		case i == 0:
			c.said = true
			continue
		case i > 1:
			if turn.Given = i-2 < len(n.post.Then); turn.Given {
				turn = n.post.Then[i-2]
			}
		}
		if turn.Given {
			c.way, c.said = round(180+float64(turn.Milli)/1000), true
			taken[milli(c.way)] = true
		}
	}
	for i := range n.ends {
		c := &n.ends[i]
		if c.said {
			continue
		}
		likely := []float64{180, 270, 90}
		key, at := "posts: {"+n.Name+": {turn: }}", n.post.Turn.At
		if i == 1 {
			likely = []float64{270, 180, 90}
		} else {
			key += ", in a list after the turn into " + n.ends[1].run.Title
		}
		for _, way := range likely {
			if c.way = way; !taken[milli(way)] {
				break
			}
		}
		taken[milli(c.way)] = true
		n.needIn(n.r.File, "how one turns at "+n.Name+", seen from above: from "+n.ends[0].run.Title+" into "+c.run.Title, key, "the plan, and how the rail's end is cut", at)
	}
}

// drawing is the plan while it is drawn.
type drawing struct {
	Plan
	runs     []*builder
	nodes    []*node
	headings []float64 // of each run at its datum end
	done     []bool    // whether it is drawn
	group    int
	assumed  bool // something in the group was not measured
}

// planView draws the guard from above: each run by its level length, joined to others at their posts, every group of runs that hang
// together at an origin of its own. A run whose length is not known is left out.
func planView(nodes []*node, runs []*builder) Plan {
	d := &drawing{runs: runs, nodes: nodes, headings: make([]float64, len(runs)), done: make([]bool, len(runs))}
	for _, b := range runs {
		if b.curved() && !b.r.Bends.Given {
			b.need("which way the curve bends, left or right, seen from above, coming from "+b.endName(b.From, "from"), "bends: ", "the plan, and which side of the rail is the inner one", b.r.Bends.At)
		}
	}
	for _, b := range runs {
		if s := b.r.Stair; s != nil && !s.Side.Given && !s.Side.At.IsZero() {
			b.need("on which side of the guard the stair lies, going up, seen from above: left or right", "stair: ", "the plan", s.Side.At)
		}
	}
	for i, b := range runs {
		if d.done[i] || b.levelLength() == 0 {
			continue
		}
		d.assumed = false
		d.draw(i, point{}, 0, nil)
		for d.next() {
		}
		d.group++
	}
	for _, n := range nodes {
		if !n.placed {
			continue
		}
		d.Posts = append(d.Posts, n.spot())
		for k := range n.ends { // a ring that closes shows a way that was not measured
			if c := &n.ends[k]; !c.said && d.done[d.index(c.run)] && d.done[d.index(n.ends[0].run)] {
				c.way = round(d.leaves(n.ends[0]) - d.leaves(*c))
			}
		}
	}
	return d.Plan
}

// next draws the first run that hangs on a post already placed, one whose way there was measured before one that is assumed; false where
// there is none.
func (d *drawing) next() bool {
	for _, assumed := range []bool{false, true} {
		for i, b := range d.runs {
			if d.done[i] || b.levelLength() == 0 {
				continue
			}
			for _, far := range []bool{false, true} {
				n, k := d.at(b, far)
				if n == nil || !n.placed || !assumed && !(n.ends[k].said && n.ends[n.by].said) {
					continue
				}
				d.assume(n, k)
				d.assume(n, n.by)
				heading := n.ahead - n.ends[k].way
				from := n.face(n.ends[k], heading)
				if far { // it comes to the post: what leaves it there is the way back
					heading += 180 - b.bend()
					whole := b.inPlan(heading)
					from = point{from.x - whole.x, from.y - whole.y}
				}
				d.draw(i, from, heading, n)
				return true
			}
		}
	}
	return false
}

// at is the post at an end of a run, and which of the ends there it is; nil where there is none.
func (d *drawing) at(b *builder, far bool) (*node, int) {
	for _, n := range d.nodes {
		for k, c := range n.ends {
			if c.run == b && c.far == far {
				return n, k
			}
		}
	}
	return nil, 0
}

// assume notes that a way which was not measured is drawn.
func (d *drawing) assume(n *node, k int) {
	c := &n.ends[k]
	if c.said {
		return
	}
	d.assumed = true
	if c.told {
		return
	}
	c.told = true
	turn := "straight on"
	switch milli(c.way) {
	case 270_000:
		turn = "as a corner of 90° to the right"
	case 90_000:
		turn = "as a corner of 90° to the left"
	}
	d.Assumed = append(d.Assumed, "At "+n.Name+" the rail of "+c.run.Title+" is drawn "+turn+", coming along "+n.ends[0].run.Title+": the turn there was not measured.")
}

// draw puts a run on the plan, from its datum face, and places its posts. via is the post that it hangs on; nil for the first of a group.
func (d *drawing) draw(i int, from point, heading float64, via *node) {
	b := d.runs[i]
	d.done[i], d.headings[i] = true, heading
	whole := b.inPlan(heading)
	s := Stretch{Run: b.Name, Group: d.group, Heading: round(heading), Turn: b.bend(), Raked: b.r.Stair != nil,
		From: Spot{Name: b.From.Name, X: tidy(from.x), Y: tidy(from.y)}, To: Spot{Name: b.To.Name, X: tidy(from.x + whole.x), Y: tidy(from.y + whole.y)}}
	if b.curved() {
		s.Radius = b.r.Radius.Float()
		if !b.r.Bends.Given {
			d.assumed = true
			d.Assumed = append(d.Assumed, b.Title+" is drawn bending to the right: which way it bends was not said.")
		}
	}
	for _, far := range []bool{false, true} {
		n, k := d.at(b, far)
		if n == nil {
			continue
		}
		spot := &s.From
		if far {
			spot = &s.To
		}
		spot.Wide = n.foot.Float()
		out := d.leaves(n.ends[k])
		cos, sin := Bearing(out)
		back := n.back(n.ends[k])
		x, y := tidy(spot.X-float64(back*cos)), tidy(spot.Y-float64(back*sin))
		switch {
		case !n.placed:
			n.placed, n.by, n.x, n.y, n.ahead = true, k, x, y, out+n.ends[k].way
		case n != via:
			d.closes(n, n.ends[k], tidy(math.Hypot(x-n.x, y-n.y)), out)
		}
	}
	d.Stretches = append(d.Stretches, s)
}

// closes asks for the readings of a ring of runs again where its last one misses the post that the ring set out from.
func (d *drawing) closes(n *node, c coming, miss, out float64) {
	const (
		most     = 25.4 // 1 in, and
		mostTurn = 2    // degrees over the whole ring; both common practice, no source
	)
	turn := 0.0
	if c.said {
		turn = math.Abs(180 - round(n.ahead-c.way-out+180))
	}
	if d.assumed || miss <= most && turn <= mostTurn {
		return
	}
	words := "it is missed by " + n.tape(length.Length(miss*float64(length.Millimetre)).Round(n.div.Length, length.Nearest))
	if turn > mostTurn {
		words += ", and the turns by " + trim(turn) + "°"
	}
	n.needIn(n.r.File, "turns and clears again that do not close: along "+c.run.Title+" one should come back to "+n.Name+", and "+words, "posts: {turn: }, and clear: of the runs", "the plan; one of the readings is off", n.post.Turn.At)
}

// trim prints an angle to a tenth of a degree.
func trim(degrees float64) string {
	return working.Decimal(exact.New(int64(math.Round(degrees*10)), 10))
}

// leaves is the way that an end of a drawn run leaves its post, degrees counterclockwise from the x axis.
func (d *drawing) leaves(c coming) float64 {
	h := d.headings[d.index(c.run)]
	if c.far {
		return h + c.run.bend() + 180
	}
	return h
}

func (d *drawing) index(b *builder) int { return slices.Index(d.runs, b) }

// back is how far the middle of a post lies behind the face that a run's clear is laid out from, mm.
func (n *node) back(c coming) float64 {
	wide := n.foot
	if c.end.Wide > 0 { // at a landing over the tread that it stands on, the post may be another width
		wide = c.end.Wide
	}
	return wide.Float()/2 + c.end.Recess.Float()
}

// face is where a run's end stands that leaves the post one way.
func (n *node) face(c coming, out float64) point {
	cos, sin := Bearing(out)
	return point{n.x + float64(n.back(c)*cos), n.y + float64(n.back(c)*sin)}
}

func (n *node) spot() Spot { return Spot{Name: n.Name, X: n.x, Y: n.y, Wide: n.foot.Float()} }

// tidy is a place to the micrometre, without a sign for nothing.
func tidy(v float64) float64 { return math.Round(v*1000)/1000 + 0 }

// levelLength is how long a run is in plan, face to face at the foot; 0 while it is not known.
func (b *builder) levelLength() length.Length {
	if b.r.Stair == nil {
		return b.clearLen
	}
	if b.Rake == nil {
		return 0
	}
	return max(b.Rake.To-b.Rake.From, 0)
}

// curved reports a level run along an arc.
func (b *builder) curved() bool {
	return b.r.Stair == nil && b.r.Radius.Given && b.r.Radius.Length > 0
}

// bend is how far a run's heading turns along it, degrees to the left; 0 for a straight one. A curve that nobody says the way of is drawn
// to the right.
func (b *builder) bend() float64 {
	if !b.curved() {
		return 0
	}
	turn := math.Round(b.clearLen.Float()/b.r.Radius.Float()*180/math.Pi*1e6) / 1e6
	if b.r.Bends.Text != "left" {
		turn = -turn
	}
	return turn
}

// inPlan is the way from a run's datum face to its other one.
func (b *builder) inPlan(heading float64) point {
	cos, sin := Bearing(heading)
	ahead, left := b.levelLength().Float(), 0.0
	if turn := b.bend(); turn != 0 {
		c, s := Bearing(math.Abs(turn))
		r := b.r.Radius.Float()
		ahead, left = float64(r*s), r-float64(r*c)
		if turn < 0 {
			left = -left
		}
	}
	return point{float64(ahead*cos) - float64(left*sin), float64(ahead*sin) + float64(left*cos)}
}

// apart is the distance between two straight lines in plan, end to end; 0 where they cross.
func apart(a, b [2]point) float64 {
	side := func(p, q, r point) float64 {
		return float64((q.x-p.x)*(r.y-p.y)) - float64((q.y-p.y)*(r.x-p.x))
	}
	if side(a[0], a[1], b[0])*side(a[0], a[1], b[1]) < 0 && side(b[0], b[1], a[0])*side(b[0], b[1], a[1]) < 0 {
		return 0
	}
	return min(offLine(a, b[0]), offLine(a, b[1]), offLine(b, a[0]), offLine(b, a[1]))
}

// offLine is how far a point is from a straight line between two others.
func offLine(l [2]point, p point) float64 {
	dx, dy := l[1].x-l[0].x, l[1].y-l[0].y
	px, py := p.x-l[0].x, p.y-l[0].y
	t := 0.0
	if long := float64(dx*dx) + float64(dy*dy); long > 0 {
		t = min(max((float64(px*dx)+float64(py*dy))/long, 0), 1)
	}
	return math.Hypot(px-float64(t*dx), py-float64(t*dy))
}
