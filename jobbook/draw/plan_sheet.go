package draw

import (
	"iter"
	"math"
	"strconv"
	"strings"
)

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
	bottom, ok := s.fitted(planMost, part.least, max(planHigh, float64(0.75*g.width)), func(s *sheet, scale float64, at point) {
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
func (p *planPen) say(spots iter.Seq[spot], instead string, lines ...string) {
	if !p.s.settle(spots, lines...) {
		p.missed = append(p.missed, instead)
	}
}
