package draw

import (
	"fmt"
	"math"

	"balustrade/jobbook/length"
)

// draw makes the sheet from the top down: the ends' names, the clear at the rail, the worst opening, the guard itself, the
// marks, the clear at the foot, and the words under it.
func (v *view) draw() *sheet {
	m := v.m
	s := &sheet{id: v.id, width: v.width, title: v.title(), desc: v.describe(), scale: v.scale}
	y := clearance
	if v.begins || v.ends {
		y += row
		v.names(s, y-under*size)
	}
	railLine := 0.0
	if v.whole() && !v.alone {
		y += row + clearance
		railLine = y + clearance
		y = railLine + tall + clearance
	}
	labelLine := 0.0
	if v.hasBall() {
		y += row
		labelLine = y - under*size
		y += clearance
	}
	high := y + clearance
	zone := max(float64((v.high()-m.low)*v.scale), row+2*clearance) // room for the height's words, at the least
	foot := high + zone
	base := foot + float64(m.low*v.scale)
	up := func(z float64) float64 { return base - float64(z*v.scale) }
	p := level{v, s, up, pen{s, v.scale, v.px, up}}

	p.ground()
	for i := range m.ends {
		if i == 0 && v.begins || i == 1 && v.ends {
			p.end(i)
		}
	}
	p.rail()
	p.shoe()
	p.balusters()
	p.breaks(high, foot)
	p.heights()
	if labelLine > 0 {
		p.ball(labelLine)
	}
	if railLine > 0 {
		p.clearAtRail(railLine)
	}

	y = foot + clearance
	if !v.bare && len(m.marks) > 0 {
		if g := v.marking(); g.whole() || !v.whole() {
			y = p.marks(g, y)
		} else {
			v.bare = true
		}
	}
	if v.whole() {
		y += 2*tall + clearance
		p.clearAtFoot(y)
		y += tall + row
	}
	y += clearance
	for _, line := range v.caption() {
		y += row
		s.text(2, y-under*size, start, line)
	}
	s.height = math.Ceil(y + 2*clearance)
	return s
}

func (v *view) whole() bool { return v.of == 0 }

// high is the highest thing in this view, mm.
func (v *view) high() float64 {
	high := v.m.reach() + wallOver
	for i, e := range v.m.ends {
		if i == 0 && v.begins || i == 1 && v.ends {
			high = max(high, e.face[len(e.face)-1].Z)
		}
	}
	return high
}

// hasBall reports whether the worst opening lies in this view.
func (v *view) hasBall() bool {
	b := v.m.ball
	return b != nil && (b.x >= v.from || v.begins) && (b.x < v.to || v.ends)
}

// names writes what the ends are called: whole where both have room, else each over its own half.
func (v *view) names(s *sheet, y float64) {
	say := func(i int, here bool) string {
		if !here {
			return ""
		}
		return v.m.endLabel(i)
	}
	from, to := say(0, v.begins), say(1, v.ends)
	if room := v.width - 4*clearance; advance(from)+advance(to) > room {
		from, to = fit(from, room/2), fit(to, room/2)
	}
	if from != "" {
		s.text(2, y, start, from)
	}
	if to != "" {
		s.text(v.width-2, y, end, to)
	}
}

// level draws a view's guard on its sheet.
type level struct {
	*view
	s   *sheet
	up  func(z float64) float64
	pen pen
}

// end draws a wall or a post, with the rosette on it.
func (p level) end(i int) {
	e := p.m.ends[i]
	face := []float64{0, p.m.clear}[i]
	p.pen.side(i, e, face)
	if p.m.levels {
		p.pen.plate(i, e, face, p.m.below, p.m.top)
	}
}

// along is the heights of a line that follows the floor, from x1 to x2.
func (p level) along(x1, x2 float64, z func(x float64) float64) []point {
	points := []point{{p.px(x1), p.up(z(x1))}}
	for i, f := range p.m.floor {
		if x1 < f.x && f.x < x2 {
			at := f.x
			if i > 0 && p.m.floor[i-1].x == f.x { // a step: the floor just beyond it
				at = math.Nextafter(f.x, x2)
			}
			points = append(points, point{p.px(f.x), p.up(z(at))})
		}
	}
	return append(points, point{p.px(x2), p.up(z(x2))})
}

// ground draws the floor, and the one to come.
func (p level) ground() {
	m := p.m
	x1, x2 := p.from, p.to
	if p.begins && !m.ends[0].wall {
		x1 -= m.ends[0].behind()
	}
	if p.ends && !m.ends[1].wall {
		x2 += m.ends[1].behind()
	}
	p.s.path(cut, false, p.along(x1, x2, func(x float64) float64 { return m.floorAt(x) + m.on })...)
	if m.come > 0 {
		p.s.path(come, false, p.along(p.reachOf(0, m.come), p.reachOf(1, m.come), func(x float64) float64 { return m.floorAt(x) + m.on + m.come })...)
	}
}

// reachOf is where something at a height meets an end's face, or where the drawing breaks off.
func (p level) reachOf(i int, z float64) float64 {
	switch {
	case i == 0 && p.begins:
		return p.m.ends[0].outAt(z)
	case i == 0:
		return p.from
	case p.ends:
		return p.m.clear - p.m.ends[1].outAt(z)
	}
	return p.to
}

// rail draws the handrail, or where its top is to be while its section is not known.
func (p level) rail() {
	m := p.m
	if !m.levels {
		z := m.reach()
		p.s.line(come, p.px(p.reachOf(0, z)), p.up(z), p.px(p.reachOf(1, z)), p.up(z))
		return
	}
	z := (m.top + m.below) / 2
	x1, x2 := p.reachOf(0, z), p.reachOf(1, z)
	if p.begins {
		x1 += m.ends[0].plate
	}
	if p.ends {
		x2 -= m.ends[1].plate
	}
	along := func(z float64) []point { return []point{{p.px(x1), p.up(z)}, {p.px(x2), p.up(z)}} }
	p.pen.bar(along(m.top), along(m.below), p.begins, p.ends)
}

func (p level) shoe() {
	m := p.m
	if !m.hasShoe() {
		return
	}
	x1, x2 := p.reachOf(0, m.shoe/2), p.reachOf(1, m.shoe/2)
	p.pen.bar(p.along(x1, x2, m.shoeAt), p.along(x1, x2, m.floorAt), p.begins, p.ends)
}

// crowded reports whether the balusters are too close together to be drawn.
func (v *view) crowded() bool {
	n := v.last - v.first + len(v.m.olds())
	return n > 0 && float64((v.to-v.from)*v.scale)/float64(n) < tooClose
}

func (p level) balusters() {
	if p.crowded() {
		return
	}
	m := p.m
	for _, o := range m.olds() {
		if x := mm(o.At); m.levels && x >= p.from && x <= p.to {
			z := m.shoe + m.floorAt(x)
			p.pen.old(m, o, p.px(x), z, m.below-z)
		}
	}
	for _, k := range m.marks[p.first:p.last] {
		shape, z, ok := m.stick(k.x)
		x := p.px(k.x)
		if !ok {
			p.s.line(axis, x, p.up(m.floorAt(k.x)), x, p.up(m.reach()))
			continue
		}
		p.pen.stick(x, z, shape, 0, 0)
	}
}

// breaks draws where the drawing breaks off: at the sides of a piece, and in the middle of a run whose length is not known.
func (p level) breaks(high, foot float64) {
	const past = 2 // px
	if !p.begins {
		p.s.breakOff(p.px(p.from), high, foot+past)
	}
	if !p.ends {
		p.s.breakOff(p.px(p.to), high, foot+past)
	}
	if !p.m.known {
		x := p.px(p.m.clear / 2)
		p.s.breakOff(x-3*past, high, foot+past)
		p.s.breakOff(x+3*past, high, foot+past)
	}
}

// heights draws the height of the rail above the floor at the datum, and above the finished floor's highest point at the other end.
func (p level) heights() {
	m := p.m
	if m.top <= 0 {
		return
	}
	if p.begins {
		x := p.px(-m.ends[0].behind()) - 2*tall
		if m.ends[0].wall || m.ends[0].half {
			x -= wallDeep
		}
		p.height(x, 0, m.top, -1, p.heightWords(0))
	}
	if p.ends && p.finished() {
		x := p.px(m.clear+m.ends[1].behind()) + 2*tall
		if m.ends[1].wall || m.ends[1].half {
			x += wallDeep
		}
		p.height(x, m.top-m.r.Levels.Finished.Float(), m.top, 1, p.heightWords(1))
	}
}

// height draws a dimension up from z1 to z2, its words on the outer side.
func (p level) height(x, z1, z2, away float64, words string) {
	p.s.riser(x, p.up(z1), p.up(z2))
	mid := (p.up(z1) + p.up(z2)) / 2
	switch {
	case p.beside && away < 0:
		p.s.text(x-tall-clearance/2, mid+(over-under)/2*size, end, words)
	case p.beside:
		p.s.text(x+tall+clearance/2, mid+(over-under)/2*size, start, words)
	case away < 0:
		p.s.upright(x-tall-under*size, mid, middle, words)
	default:
		p.s.upright(x+tall+over*size, mid, middle, words)
	}
}

// ball draws the ball where it sticks, and its size above.
func (p level) ball(y float64) {
	b := p.m.ball
	const least = 1.5 // px, so that it is seen
	x, z, r := p.px(b.x), p.up(b.z), max(float64(b.r*p.scale), least)
	p.s.circle(ball, x, z, r)
	p.s.line(dim, x, z-r, x, y+under*size+1)
	half := advance(b.text) / 2
	p.s.text(min(max(x, half+2), p.width-half-2), y, middle, b.text)
}

func (p level) clearAtRail(y float64) {
	m := p.m
	z := m.reach()
	if m.levels {
		z = (m.top + m.below) / 2
	}
	words := "clear at the rail: to be measured"
	if m.r.Job != nil {
		if read := m.r.Job.Clear("rail"); read.Given {
			words = "clear at the rail " + m.style.Print(read.Length)
		}
	}
	x1, x2 := p.px(p.reachOf(0, z)), p.px(p.reachOf(1, z))
	p.s.dimension(x1, x2, y)
	p.s.under(x1, x2, y-tall-under*size, words)
}

func (p level) clearAtFoot(y float64) {
	words := "clear at the foot"
	if p.alone {
		words = "length"
	}
	if p.m.known {
		words += " " + p.m.style.Print(p.m.clearLength())
	} else {
		words += ": to be measured"
	}
	x1, x2 := p.px(0), p.px(p.m.clear)
	p.s.dimension(x1, x2, y)
	p.s.under(x1, x2, y+tall+over*size, words)
}

// marks draws the running marks under the floor: a flag at the datum, a line in the way of the tape, a tick and its words for each.
func (p level) marks(g marking, y float64) float64 {
	line := y + 2*tall
	first, last := p.px(p.from), p.px(p.to)
	if p.begins {
		first = p.px(0)
		p.s.flag(first, line)
	}
	if p.ends {
		last = g.list[len(g.list)-1].x
	}
	p.s.line(dim, first, line, last, line)
	if !p.ends { // on along the tape
		p.s.path(solid, true, point{last + 2*slant, line}, point{last - slant, line - slant}, point{last - slant, line + slant})
	}
	for i, t := range g.list {
		datum := i == 0 && p.begins
		to := line + tall
		if t.row == 1 {
			to += row
		}
		if !datum {
			p.s.line(dim, t.x, y, t.x, to)
			p.s.path(solid, true, point{t.x, line}, point{t.x - 2*slant, line - slant}, point{t.x - 2*slant, line + slant})
		}
		if t.silent {
			continue
		}
		if g.how == upright {
			p.s.upright(t.x+(over-under)/2*size, line+2*tall, end, t.text)
			continue
		}
		p.s.text(t.x, line+2*tall+over*size+float64(row*float64(t.row)), middle, t.text)
	}
	return line + g.height()
}

// caption is what stands under the drawing.
func (v *view) caption() []string {
	m := v.m
	n := len(m.marks)
	var say []string
	if v.whole() {
		count := m.counted(n)
		switch {
		case n == 0 && (m.r.Chosen == nil || !m.known):
			count = "not laid out yet"
		case n == 0:
			count = "no balusters"
		}
		say = append(say, fit(m.label(), 2*v.width)+": "+count+".")
	} else {
		which := fmt.Sprintf("balusters %d to %d of %d", m.marks[v.first].k, m.marks[v.last-1].k, n)
		if v.last-v.first == 1 {
			which = fmt.Sprintf("baluster %d of %d", m.marks[v.first].k, n)
		}
		say = append(say, fit(m.label(), v.width)+", "+v.count()+": "+which+".")
	}
	if v.bare || n == 0 {
		say[0] += " " + m.unit() + "."
	} else {
		say = append(say, m.unit()+" from the left face to each centre.")
	}
	if v.bare && n > 0 {
		if v.follow > 0 {
			say = append(say, "The marks are in "+counted(v.follow, "piece", "pieces")+" that follow.")
		} else if !v.alone {
			say = append(say, "Too long for its marks to be read at this size.")
		}
	}
	if v.short && v.ends && v.finished() {
		say = append(say, "Height on the right: above the finished floor where it is highest.")
	}
	if v.crowded() {
		say = append(say, "The balusters are too close together to be drawn at this size.")
	}
	if !v.bare && n > 0 {
		if g := v.marking(); !g.whole() {
			say = append(say, fmt.Sprintf("Only %d of its %d marks have room for their words.", g.written(), v.last-v.first))
		}
	}
	if v.more > 0 {
		say = append(say, fmt.Sprintf("The last %d of %d balusters are not drawn.", v.more, n))
	}
	if v.whole() {
		say = append(say, v.notes()...)
	}
	var lines []string
	for _, words := range say {
		lines = append(lines, wrap(words, v.width-4)...)
	}
	return lines
}

// notes are what is not known, or not as it looks.
func (v *view) notes() []string {
	m := v.m
	var say []string
	if m.come > 0 {
		say = append(say, "Dashed: floor to come, "+m.style.Print(m.r.Job.ToCome.Thick.Length)+".")
	}
	if words := m.oldWords(); words != "" {
		say = append(say, words)
	}
	if m.r.Curve != nil {
		say = append(say, "A curve, rolled out along the line of the balusters.")
	}
	for _, s := range m.r.Floor.Steps {
		if sane(s.At) && sane(s.Rise) {
			way, rise := "up", s.Rise
			if rise < 0 {
				way, rise = "down", -rise
			}
			say = append(say, "Floor steps "+way+" "+m.style.Print(rise)+" at "+m.style.Print(s.At)+".")
		}
	}
	if out := m.r.Floor.Out; out > 0 && sane(out) && !v.alone {
		say = append(say, "Floor out of level by "+m.style.Print(out)+", drawn true.")
	}
	if !m.known {
		say = append(say, "Length to be measured, not to scale.")
	}
	switch {
	case m.top <= 0:
		say = append(say, "Height to be measured; the dashed rail is not to scale.")
	case !m.levels:
		say = append(say, "Sizes of rail and shoe to be settled; dashed: top of the rail.")
	}
	if len(m.marks) > 0 {
		if _, _, ok := m.stick(m.marks[0].x); !ok {
			say = append(say, "Balusters by their centre lines: their shape is to be settled.")
		}
	}
	if m.huge {
		if o := m.worstOpening(); o != nil && o.Worst < length.Most {
			say = append(say, worstWords(v.alone)+m.decimal(o.Worst)+", too large to be drawn as a ball.")
		}
	}
	if l := m.r.Lean; l != nil && l.Out && !l.Settled && !v.alone {
		say = append(say, "An end is out of plumb, which one is to be measured; drawn plumb.")
	}
	if m.left > 0 {
		say = append(say, counted(m.left, "mark lies", "marks lie")+" outside the run and not drawn.")
	}
	return say
}
