package draw

import (
	"math"
	"slices"
)

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
		for _, way := range t.sides {
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
		words := Degrees(math.Abs(t.left))
		between := p.way(heading(t.arrive + float64(t.left*math.Pi/360)))
		reach := p.halfPost(o) + angleArc + clearance
		p.say(around(p.px(o.at), between, reach, words), o.name+": turns "+t.words()+".", words)
	}
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
