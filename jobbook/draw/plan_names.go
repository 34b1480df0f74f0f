package draw

import (
	"iter"
	"math"
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/profile"
)

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
	wide, high := block(lines...)
	spots := func(yield func(spot) bool) {
		for s := range around(at, out, reach, lines...) {
			if !yield(s) {
				return
			}
		}
		// Past the risers of a flight, and past its dimension, the words begin or end at the post.
		off := riserLong + p.halfPost(o) + clearance
		for _, more := range []float64{0, row + clearance} {
			for _, corner := range []point{{1, 1}, {-1, 1}, {1, -1}, {-1, -1}} {
				over := point{float64(corner.x * wide / 2), float64(corner.y * (off + more + high/2))}
				beside := point{float64(corner.x * (off + more + wide/2)), float64(corner.y * high / 2)}
				if !yield(spot{at: at.plus(over, 1)}) || !yield(spot{at: at.plus(beside, 1)}) {
					return
				}
			}
		}
	}
	p.say(p.nearest(part, o, spots, wide, high), instead, lines...)
}

// nearest keeps the places for a post's name that are nearer to it than to any other post.
func (p *planPen) nearest(part planPart, o *planPost, spots iter.Seq[spot], wide, high float64) iter.Seq[spot] {
	away := func(s spot, at point) float64 {
		return profile.Hypot(max(math.Abs(s.at.x-at.x)-wide/2, 0), max(math.Abs(s.at.y-at.y)-high/2, 0))
	}
	return func(yield func(spot) bool) {
		posts := p.posts(part)
		for s := range spots {
			own := away(s, p.px(o.at))
			ok := true
			for _, k := range posts {
				if q := &p.g.posts[k]; q != o {
					const more = 4 // px, so that it is seen
					ok = ok && snap(away(s, p.px(q.at))) > snap(own)+more
				}
			}
			if ok && !yield(s) {
				return
			}
		}
	}
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
	p.say(func(yield func(spot) bool) {
		wide, high := block(words)
		for _, part := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
			at, _ := p.along(t, part)
			for _, way := range []float64{1, -1} {
				side := point{float64(out.x * way), float64(out.y * way)}
				off := p.reach(t) + clearance + float64(wide*math.Abs(side.x))/2 + float64(high*math.Abs(side.y))/2
				if !yield(spot{at: at.plus(side, off)}) {
					return
				}
			}
		}
	}, "Number "+words+" found no place.", words)
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
	one := len(lines) == 1
	p.say(func(yield func(spot) bool) {
		for _, more := range []float64{0, row, 2 * row} {
			for _, way := range []float64{-1, 1} {
				for _, part := range []float64{0.5, 0.4, 0.6, 0.3, 0.7} {
					at, _ := p.along(t, part)
					side := point{float64(out.x * way), float64(out.y * way)}
					off := gap + more + float64(wide*math.Abs(side.x))/2 + float64(high*math.Abs(side.y))/2
					if !yield(spot{at: at.plus(side, off)}) {
						return
					}
					if one && !level && math.Abs(d.x) < 0.02 && !yield(spot{at: at.plus(side, gap+more+high/2), up: true}) {
						return
					}
				}
			}
		}
	}, "", lines...)
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
	list = slices.AppendSeq(list, alongside(tail, head, point{-out.x, -out.y}, "up"))
	p.say(slices.Values(list), t.title+": the arrow points up.", "up")
}
