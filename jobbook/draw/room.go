package draw

import "iter"

// taken is what a sheet already holds, so that words are only put where nothing else is. A nil one keeps nothing.
type taken struct {
	lines []stroke
	words []box
	balls []box
	foot  float64 // where the words under the drawing begin; 0 while that is not known
	edge  box     // the least box round everything
}

// empty forgets everything, but keeps the room for it.
func (t *taken) empty() {
	*t = taken{lines: t.lines[:0], words: t.words[:0], balls: t.balls[:0]}
}

type stroke struct{ a, b point }

// box is a part of a sheet, px.
type box struct{ x1, y1, x2, y2 float64 }

func (t *taken) path(closed bool, points []point) {
	if t == nil {
		return
	}
	for i := 1; i < len(points); i++ {
		t.line(stroke{points[i-1], points[i]})
	}
	if closed {
		t.line(stroke{points[len(points)-1], points[0]})
	}
}

func (t *taken) line(l stroke) {
	t.grow(box{min(l.a.x, l.b.x), min(l.a.y, l.b.y), max(l.a.x, l.b.x), max(l.a.y, l.b.y)})
	t.lines = append(t.lines, l)
}

// circle takes the square round a circle: lines may cross it, words may not stand on it.
func (t *taken) circle(x, y, r float64) {
	if t != nil {
		b := box{x - r, y - r, x + r, y + r}
		t.grow(b)
		t.balls = append(t.balls, b)
	}
}

func (t *taken) text(b box) {
	if t != nil {
		t.grow(b)
		t.words = append(t.words, b)
	}
}

// grow takes a box into the one round everything.
func (t *taken) grow(b box) {
	if len(t.lines)+len(t.words)+len(t.balls) == 0 {
		t.edge = b
		return
	}
	t.edge = box{min(t.edge.x1, b.x1), min(t.edge.y1, b.y1), max(t.edge.x2, b.x2), max(t.edge.y2, b.y2)}
}

// free reports whether words may stand in a box of a sheet so wide, so far from words beside them.
func (t *taken) free(b box, width, apart float64) bool {
	if b.x1 < 1 || b.y1 < 1 || b.x2 > width-1 || t.foot > 0 && b.y2 > t.foot {
		return false
	}
	return t.vacant(b, apart)
}

// vacant is the same for a sheet without edges.
func (t *taken) vacant(b box, apart float64) bool {
	for _, w := range t.words {
		if b.x1 < w.x2+apart && w.x1 < b.x2+apart && b.y1 < w.y2+1 && w.y1 < b.y2+1 { // rows of text may stand closer than words in a row
			return false
		}
	}
	const air = 2 // px between words and a line
	near := box{b.x1 - air, b.y1 - air, b.x2 + air, b.y2 + air}
	for _, c := range t.balls {
		if near.x1 < c.x2 && c.x1 < near.x2 && near.y1 < c.y2 && c.y1 < near.y2 {
			return false
		}
	}
	for _, l := range t.lines {
		if near.meets(l) {
			return false
		}
	}
	return true
}

// bounds is the least box round everything.
func (t *taken) bounds() box { return t.edge }

// clear reports whether a line may be drawn: it passes no words.
func (t *taken) clear(l stroke) bool {
	const air = 1 // px: the box is a little large already
	for _, w := range t.words {
		if (box{w.x1 - air, w.y1 - air, w.x2 + air, w.y2 + air}).meets(l) {
			return false
		}
	}
	return true
}

// meets reports whether a line enters a box. If it does not, they can be parted: by an upright line, by a level one, or along the
// line itself, with all four corners on one side of it.
func (b box) meets(l stroke) bool {
	if l.a.x < b.x1 && l.b.x < b.x1 || l.a.x > b.x2 && l.b.x > b.x2 || l.a.y < b.y1 && l.b.y < b.y1 || l.a.y > b.y2 && l.b.y > b.y2 {
		return false
	}
	dx, dy := l.b.x-l.a.x, l.b.y-l.a.y
	left, right := false, false
	for _, c := range []point{{b.x1, b.y1}, {b.x2, b.y1}, {b.x1, b.y2}, {b.x2, b.y2}} {
		side := float64(dx*(c.y-l.a.y)) - float64(dy*(c.x-l.a.x))
		left, right = left || side <= 0, right || side >= 0
	}
	return left && right
}

// inkOf is the box that a text takes.
func inkOf(x, y float64, at anchor, words string, up bool) box {
	wide := advance(words)
	before := 0.0
	switch at {
	case middle:
		before = wide / 2
	case end:
		before = wide
	}
	if up {
		return box{x - over*size, y - (wide - before), x + under*size, y + before}
	}
	return box{x - before, y - over*size, x + wide - before, y + under*size}
}

// label is a place that words may have.
type label struct {
	x, y  float64
	at    anchor
	words string
	lead  []stroke // lines that go with it
}

// place puts words at the first of some places where nothing else is, and says which of them they are; false where there is none. Places are made as they are asked for: the first is free as a rule.
func (s *sheet) place(places iter.Seq[label]) (words string, ok bool) {
	for l := range places {
		b := inkOf(l.x, l.y, l.at, l.words, false)
		ok := l.words != "" && s.taken.free(b, s.width, clearance)
		for _, lead := range l.lead {
			ok = ok && s.taken.clear(lead) && !b.meets(lead)
		}
		if !ok {
			continue
		}
		for _, lead := range l.lead {
			s.line(dim, lead.a.x, lead.a.y, lead.b.x, lead.b.y)
		}
		s.text(l.x, l.y, l.at, l.words)
		return l.words, true
	}
	return "", false
}
