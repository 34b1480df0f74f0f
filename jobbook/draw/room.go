package draw

import (
	"math"
	"strconv"
	"strings"
)

// room remembers what is drawn on a sheet, so that words can be put where nothing is. A nil room remembers nothing.
type room struct {
	widest  float64 // px that all of it may be wide; words are not put where it would be wider
	strokes [][2]point
	rings   []ringAt
	boxes   []box
	bounds  box // round all of it
	any     bool

	strict bool  // the drawing is given up once words find no place
	failed bool  // some did not
	picks  []int // which spot each of the words took; -1 for none
	again  bool  // the picks are those of an earlier drawing of the same, and are taken as they are
}

type ringAt struct {
	at point
	r  float64
}

// box is a rectangle on a sheet, px.
type box struct{ x1, y1, x2, y2 float64 }

func (r *room) lines(points []point, closed bool) {
	if r == nil || len(points) == 0 {
		return
	}
	for i := 1; i < len(points); i++ {
		r.strokes = append(r.strokes, [2]point{points[i-1], points[i]})
	}
	if closed {
		r.strokes = append(r.strokes, [2]point{points[len(points)-1], points[0]})
	}
	for _, p := range points {
		r.grow(box{p.x, p.y, p.x, p.y})
	}
}

func (r *room) ring(at point, radius float64) {
	if r == nil {
		return
	}
	r.rings = append(r.rings, ringAt{at, radius})
	r.grow(box{at.x - radius, at.y - radius, at.x + radius, at.y + radius})
}

func (r *room) words(x, y float64, at anchor, words string, up bool) {
	if r == nil {
		return
	}
	wide := advance(words)
	before := map[anchor]float64{start: 0, middle: wide / 2, end: wide}[at]
	b := box{x - before, y - over*size, x + wide - before, y + under*size}
	if up {
		b = box{x - over*size, y - (wide - before), x + under*size, y + before}
	}
	r.boxes = append(r.boxes, b)
	r.grow(b)
}

func (r *room) grow(b box) {
	if !r.any {
		r.bounds, r.any = b, true
		return
	}
	e := r.bounds
	r.bounds = box{min(e.x1, b.x1), min(e.y1, b.y1), max(e.x2, b.x2), max(e.y2, b.y2)}
}

// tooWide reports whether what is drawn so far is wider than it may be.
func (r *room) tooWide() bool {
	return r.widest > 0 && snap(r.bounds.x2-r.bounds.x1) > r.widest
}

// air is px that words keep off everything else.
const air = 2.0

// free reports whether nothing is drawn in a box, nor close to it.
func (r *room) free(b box) bool {
	if r.widest > 0 && r.any && max(b.x2, r.bounds.x2)-min(b.x1, r.bounds.x1) > r.widest {
		return false
	}
	b = box{b.x1 - air, b.y1 - air, b.x2 + air, b.y2 + air}
	for _, o := range r.boxes {
		if b.x1 < o.x2 && o.x1 < b.x2 && b.y1 < o.y2 && o.y1 < b.y2 {
			return false
		}
	}
	for _, s := range r.strokes {
		if b.meets(s[0], s[1]) {
			return false
		}
	}
	for _, o := range r.rings {
		if apart(o.at.x-min(max(o.at.x, b.x1), b.x2), o.at.y-min(max(o.at.y, b.y1), b.y2)) < o.r {
			return false
		}
	}
	return true
}

// meets reports whether a line touches the box: each side leaves a part of it, and something is left in the end.
func (b box) meets(p, q point) bool {
	if max(p.x, q.x) < b.x1 || min(p.x, q.x) > b.x2 || max(p.y, q.y) < b.y1 || min(p.y, q.y) > b.y2 {
		return false
	}
	t0, t1 := 0.0, 1.0
	keep := func(step, gap float64) {
		switch {
		case step < 0:
			t0 = max(t0, gap/step)
		case step > 0:
			t1 = min(t1, gap/step)
		case gap < 0:
			t0, t1 = 1, 0
		}
	}
	dx, dy := q.x-p.x, q.y-p.y
	keep(-dx, p.x-b.x1)
	keep(dx, b.x2-p.x)
	keep(-dy, p.y-b.y1)
	keep(dy, b.y2-p.y)
	return t0 <= t1
}

// spot is a place for the middle of some words.
type spot struct {
	at point
	up bool // read from the right-hand side
}

// block is the size of some lines of words, px.
func block(lines ...string) (wide, high float64) {
	for _, l := range lines {
		wide = max(wide, advance(l))
	}
	return wide, (over+under)*size + float64(row*float64(len(lines)-1))
}

// settle writes lines at the first of the spots that is free; false where none is. Only one line can stand upright.
func (s *sheet) settle(spots []spot, lines ...string) bool {
	if s.room.strict && s.room.failed {
		return false // it is given up already
	}
	if !s.offer(spots, lines...) {
		s.room.failed = true
		return false
	}
	return true
}

// offer is settle for words that may as well be left out.
func (s *sheet) offer(spots []spot, lines ...string) bool {
	wide, high := block(lines...)
	pick := -1
	switch {
	case !s.room.again:
		for i, p := range spots {
			x, y := wide/2, high/2
			if p.up {
				x, y = y, x
			}
			if s.room.free(box{p.at.x - x, p.at.y - y, p.at.x + x, p.at.y + y}) {
				pick = i
				break
			}
		}
		s.room.picks = append(s.room.picks, pick)
	case len(s.room.picks) > 0:
		pick, s.room.picks = s.room.picks[0], s.room.picks[1:]
	}
	if pick < 0 || pick >= len(spots) {
		return false
	}
	p := spots[pick]
	if p.up {
		s.upright(p.at.x+(over-under)/2*size, p.at.y, middle, lines[0])
		return true
	}
	for i, l := range lines {
		s.text(p.at.x, p.at.y-high/2+over*size+float64(row*float64(i)), middle, l)
	}
	return true
}

func (p point) plus(q point, times float64) point {
	return point{p.x + float64(q.x*times), p.y + float64(q.y*times)}
}

// toward is the direction from p to q, and how far it is. Along the sheet where they are one place.
func (p point) toward(q point) (d point, far float64) {
	far = apart(q.x-p.x, q.y-p.y)
	if far < 1e-9 { // px or mm: nothing that is drawn
		return point{1, 0}, 0
	}
	return point{(q.x - p.x) / far, (q.y - p.y) / far}, far
}

// turned is a direction a quarter turn on, clockwise on the sheet.
func (p point) turned() point { return point{-p.y, p.x} }

// aligned draws a dimension between two places off px away from them to a side, with lines out to it, and gives its ends.
func (s *sheet) aligned(a, b, side point, off float64) (p, q point) {
	s.lineOut(a, side, off)
	s.lineOut(b, side, off)
	p, q = a.plus(side, off), b.plus(side, off)
	s.ticked(p, q)
	return p, q
}

// lineOut draws the line from a place to a dimension off px to a side of it.
func (s *sheet) lineOut(at, side point, off float64) {
	const clear = 3 // px between the thing and the line
	s.path(dim, false, at.plus(side, clear), at.plus(side, off+tall))
}

// ticked draws a dimension's own line.
func (s *sheet) ticked(p, q point) {
	s.path(dim, false, p, q)
	d, _ := p.toward(q)
	s.slash(p, d)
	s.slash(q, d)
}

// slash is the tick where a dimension ends, half a right angle to its line.
func (s *sheet) slash(at, along point) {
	t := point{along.x + along.y, along.y - along.x}
	s.path(tick, false, at.plus(t, -slant), at.plus(t, slant))
}

// beside are places for words along a line from p to q: first to one side of its middle, then along it, then on the other side, then farther
// off, but never so that something else could stand between them and their line.
func beside(p, q, side point, words string) []spot {
	d, far := p.toward(q)
	up := math.Abs(d.x) < 0.02 // as good as upright
	wide, high := block(words)
	if up {
		wide, high = high, wide
	}
	off := float64(wide*math.Abs(side.x))/2 + float64(high*math.Abs(side.y))/2 + clearance
	var list []spot
	for _, more := range []float64{0, tall, row, 2 * row} { // tall: past the ends of the dimension's own lines
		for _, way := range []float64{1, -1} {
			if way < 0 && more > tall {
				continue
			}
			for _, along := range []float64{0, -0.15, 0.15, -0.3, 0.3, -0.45, 0.45} {
				mid := p.plus(d, float64(far*(along+0.5)))
				list = append(list, spot{mid.plus(side, float64(way*(off+more))), up})
			}
		}
	}
	// A line shorter than its words has them beyond its end.
	past := float64(wide*math.Abs(d.x))/2 + float64(high*math.Abs(d.y))/2 + tall + clearance
	return append(list, spot{q.plus(d, past), up}, spot{p.plus(d, -past), up})
}

// around are places for words round a middle, reach px clear of it, the ones nearest to a direction first.
func around(at, toward point, reach float64, lines ...string) []spot {
	wide, high := block(lines...)
	from := angleOf(toward)
	var list []spot
	for _, more := range []float64{0, 8, 18} { // px farther off
		for i := range 16 {
			turn := float64((i+1)/2) * math.Pi / 8 // from the direction to either side in turn
			if i%2 == 1 {
				turn = -turn
			}
			u := heading(from + turn)
			// The corner or side of the words that looks at the middle stands reach px from it.
			list = append(list, spot{at: point{at.x + float64(u.x*(reach+more+wide/2)), at.y + float64(u.y*(reach+more+high/2))}})
		}
	}
	return list
}

// scaleKey is the attribute that holds a drawing's scale.
const scaleKey = ` data-px-per-mm="`

// Scale is how many px on a drawing stand for a millimetre of the thing; 0 where a drawing does not say. On paper 96 px are an inch,
// so that the drawing is there at about 1 to 96/25.4 over the scale.
func Scale(svg string) float64 {
	head, _, _ := strings.Cut(svg, ">")
	_, after, _ := strings.Cut(head, scaleKey)
	number, _, _ := strings.Cut(after, `"`)
	scale, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return 0
	}
	return scale
}

// fitted draws a thing as large as most allows where it fits a sheet's width and a height, px: draw is given a scale and where its nought
// stands, on a sheet that remembers. It is drawn to see how much room it takes, and again
// in its place, with its top at y. Where words find no place at any scale from most down to least, it is drawn without them, as large as it
// fits; ok is false then.
func (s *sheet) fitted(most, least, high, y float64, draw func(s *sheet, scale float64, at point)) (bottom float64, ok bool) {
	var shift point
	var picks []int
	for _, loose := range []bool{false, true} {
		s.scale = most
		for {
			trial := &sheet{width: s.width, room: &room{widest: s.width - 2, strict: !loose}}
			draw(trial, s.scale, point{})
			picks = trial.room.picks
			e := trial.room.bounds
			shift = point{(s.width-(e.x2-e.x1))/2 - e.x1, y - e.y1}
			bottom = y + e.y2 - e.y1
			if ok = (loose || !trial.room.failed) && !trial.room.tooWide() && snap(e.y2-e.y1) <= high; ok || s.scale <= least {
				break
			}
			s.scale = max(float64(s.scale*0.93), least)
		}
		if ok {
			ok = !loose
			break
		}
	}
	s.room = &room{picks: picks, again: true}
	draw(s, s.scale, shift)
	return bottom, ok
}

// finite is a number that a drawing can hold; 0 where it is none.
func finite(v float64) float64 {
	const far = 1e6 // mm, ten times the longest length that is read
	if math.Abs(v) <= far {
		return v
	}
	return 0
}

// apart is how far two places are apart that lie so far apart along and across: without the processor's own way of it, so that a drawing is
// the same on any machine.
func apart(x, y float64) float64 { return math.Sqrt(float64(x*x) + float64(y*y)) }

// snap rounds to nine places, for the same reason.
func snap(v float64) float64 { return math.Round(v*1e9) / 1e9 }

// heading is the direction of an angle, in radians from the x axis to the y axis.
func heading(a float64) point { return point{snap(math.Cos(a)), snap(math.Sin(a))} }

// angleOf is the angle of a direction, in radians from the x axis to the y axis.
func angleOf(d point) float64 { return snap(math.Atan2(d.y, d.x)) }

// degrees prints an angle, to a tenth where it is not whole.
func degrees(v float64) string {
	return strconv.FormatFloat(math.Round(float64(v*10))/10, 'f', -1, 64) + "°"
}
