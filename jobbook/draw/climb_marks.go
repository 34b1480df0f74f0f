package draw

import "math"

// hung is a mark's words, upright: under its tread, or over the rail where the balusters stand on a shoe.
type hung struct {
	x, to  float64 // px, of the mark and of the middle of its words
	on     int     // the tread, as an index into the steps
	at     float64 // mm, the place of the mark
	text   string
	silent bool // no room for its words
}

// beside is px from a riser or a post to the middle of upright words: half their width, and a little air.
const beside = size*(over+under)/2 + 3

// figuresOnly is how far upright figures may stand into each other's boxes, px: they hardly reach below the base line.
const figuresOnly = -(under - figuresUnder) * size

// upBox is the box of a mark's words about their middle.
func upBox(x, y float64, at anchor, text string) box {
	return inkOf(x+(over-under)/2*size, y, at, text, true)
}

// tags are the marks of a view with where their words stand: at the mark, or moved aside from a riser or from each other.
func (v *climb) tags() []hung {
	f := v.f
	var list []hung
	for _, s := range f.marks[v.first:v.last] {
		list = append(list, hung{x: v.px(s.x), on: s.on, at: s.x, text: s.text})
	}
	if !f.k.OnTreads {
		left, right := v.from, v.to
		if v.begins {
			left = f.faces[0]
		}
		if v.ends {
			right = f.faces[1]
		}
		part(list, v.px(left)+beside, v.px(right)-beside)
		return list
	}
	for i := 0; i < len(list); {
		k := i
		for k < len(list) && list[k].on == list[i].on {
			k++
		}
		left, right := v.px(v.from)+2, v.px(v.to)
		if on := list[i].on; on >= 0 {
			left = v.px(f.steps[on].at) + beside
		}
		if next := list[i].on + 1; next < len(f.steps) {
			right = v.px(f.steps[next].at) - beside
		}
		part(list[i:k], left, right)
		i = k
	}
	return list
}

// part moves the words of neighbours apart, between two bounds; those that have no room are silent.
func part(list []hung, left, right float64) {
	n := len(list)
	if room := int(math.Floor((right-left)/upPitch)) + 1; right < left {
		n = 0
	} else if n > room {
		n = room
	}
	next := left
	for i := range list {
		t := &list[i]
		t.silent = i >= n
		t.to = max(t.x, next)
		next = t.to + upPitch
	}
	limit := right
	for i := n - 1; i >= 0; i-- {
		list[i].to = min(list[i].to, limit)
		limit = list[i].to - upPitch
	}
}

// Of marks on treads, px: from the tread's surface to where the leader may turn, and to the words.
const (
	hangs     = tall
	hangsText = 2*tall + 2
)

// overRail is px, up from the top of the rail at a mark: to the line of the tape, and to the words.
func (v *climb) overRail() (line, words float64) {
	slope := v.f.slope
	line = 2 * tall * math.Sqrt(1+float64(slope*slope))
	return line, line + float64(beside*slope) + tall
}

// hang writes the marks under their treads. It gives how far down the sheet they reach, and how many are written.
func (p climber) hang() (low float64, written int) {
	for _, t := range p.tags() {
		y := p.up(p.f.height(t.on))
		if t.silent || !p.s.taken.free(upBox(t.to, y+hangsText, end, t.text), p.width, figuresOnly) {
			p.s.line(dim, t.x, y, t.x, y+hangs)
			continue
		}
		written++
		p.s.path(dim, false, point{t.x, y}, point{t.x, y + hangs/2}, point{t.to, y + hangsText - 2})
		p.s.upright(t.to+(over-under)/2*size, y+hangsText, end, t.text)
		low = max(low, y+hangsText+advance(t.text))
	}
	return low, written
}

// tape writes the marks along the rake over the rail: a flag at the datum, a line in the way of the tape, a tick and its words for each.
func (p climber) tape() (written int) {
	f, list := p.f, p.tags()
	if len(list) == 0 {
		return 0
	}
	off, high := p.overRail()
	y := func(x float64) float64 { return p.up(f.railTop(x)) - off } // at a place, mm
	along := math.Sqrt(1 + float64(f.slope*f.slope))
	to := func(x, far, side float64) point { // so many px along the line from a place, and to the side of it
		return point{p.px(x) + (far+float64(side*f.slope))/along, y(x) + (side-float64(far*f.slope))/along}
	}
	first, last := max(p.from, f.faces[0]), list[len(list)-1].at
	if !p.ends {
		last = p.to
	}
	if p.begins {
		p.s.line(tick, p.px(first), y(first)+tall, p.px(first), y(first)-2*tall)
		p.s.path(solid, true, point{p.px(first), y(first) - 2*tall}, point{p.px(first) - 2*tall, y(first) - 2*tall + slant + 1}, point{p.px(first), y(first) - tall + 2})
	}
	p.s.line(dim, p.px(first), y(first), p.px(last), y(last))
	for _, t := range list {
		p.s.path(solid, true, to(t.at, 0, 0), to(t.at, -2*slant, slant), to(t.at, -2*slant, -slant))
	}
	for _, t := range list {
		bottom := p.up(f.railTop(t.at)) - high
		lead := []point{{t.x, y(t.at) + off}, {t.x, y(t.at)}, {t.to, bottom + 2}}
		free := !t.silent && p.s.taken.free(upBox(t.to, bottom, start, t.text), p.width, figuresOnly)
		if !free || !p.s.taken.clear(stroke{lead[0], lead[1]}) || !p.s.taken.clear(stroke{lead[1], lead[2]}) {
			continue
		}
		written++
		p.s.path(dim, false, lead...)
		p.s.upright(t.to+(over-under)/2*size, bottom, start, t.text)
	}
	return written
}
