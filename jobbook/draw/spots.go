package draw

import (
	"iter"
	"math"
	"strconv"
	"strings"

	"balustrade/jobbook/profile"
)

// trial is what is tried while a drawing is fitted to its sheet.
type trial struct {
	widest float64 // px that all of it may be wide; words are not put where it would be wider
	strict bool    // the drawing is given up once words find no place
	failed bool    // some did not
	picks  []int   // which spot each of the words took; -1 for none
	again  bool    // the picks are those of an earlier drawing of the same, and are taken as they are
}

// tooWide reports whether what is drawn so far is wider than it may be.
func (s *sheet) tooWide() bool {
	e := s.taken.bounds()
	return !s.trial.again && snap(e.x2-e.x1) > s.trial.widest
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
func (s *sheet) settle(spots iter.Seq[spot], lines ...string) bool {
	if s.trial.strict && s.trial.failed {
		return false // it is given up already
	}
	if !s.offer(spots, lines...) {
		s.trial.failed = true
		return false
	}
	return true
}

// offer is settle for words that may as well be left out.
func (s *sheet) offer(spots iter.Seq[spot], lines ...string) bool {
	wide, high := block(lines...)
	p, ok := s.pick(spots, wide, high)
	switch {
	case !ok:
		return false
	case p.up:
		s.upright(p.at.x+(over-under)/2*size, p.at.y, middle, lines[0])
		return true
	}
	for i, l := range lines {
		s.text(p.at.x, p.at.y-high/2+over*size+float64(row*float64(i)), middle, l)
	}
	return true
}

// pick is the first of the spots that is free for words so wide and so high, or the one that was picked before.
func (s *sheet) pick(spots iter.Seq[spot], wide, high float64) (spot, bool) {
	if s.trial.again {
		if len(s.trial.picks) == 0 {
			return spot{}, false
		}
		left := s.trial.picks[0]
		s.trial.picks = s.trial.picks[1:]
		if left < 0 {
			return spot{}, false
		}
		for p := range spots {
			if left == 0 {
				return p, true
			}
			left--
		}
		return spot{}, false
	}
	e, n := s.taken.bounds(), 0
	for p := range spots {
		x, y := wide/2, high/2
		if p.up {
			x, y = y, x
		}
		b := box{p.at.x - x, p.at.y - y, p.at.x + x, p.at.y + y}
		if max(b.x2, e.x2)-min(b.x1, e.x1) <= s.trial.widest && s.taken.vacant(b, clearance) {
			s.trial.picks = append(s.trial.picks, n)
			return p, true
		}
		n++
	}
	s.trial.picks = append(s.trial.picks, -1)
	return spot{}, false
}

func (p point) plus(q point, times float64) point {
	return point{p.x + float64(q.x*times), p.y + float64(q.y*times)}
}

// toward is the direction from p to q, and how far it is. Along the sheet where they are one place.
func (p point) toward(q point) (d point, far float64) {
	far = profile.Hypot(q.x-p.x, q.y-p.y)
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

// alongside are places for words along a line from p to q: first to one side of its middle, then along it, then on the other side, then farther
// off, but never so that something else could stand between them and their line. One of the first is free as a rule, so that each is worked out when it is asked for.
func alongside(p, q, side point, words string) iter.Seq[spot] {
	return func(yield func(spot) bool) {
		d, far := p.toward(q)
		up := math.Abs(d.x) < 0.02 // as good as upright
		wide, high := block(words)
		if up {
			wide, high = high, wide
		}
		off := float64(wide*math.Abs(side.x))/2 + float64(high*math.Abs(side.y))/2 + clearance
		for _, more := range []float64{0, tall, row, 2 * row} { // tall: past the ends of the dimension's own lines
			for _, way := range []float64{1, -1} {
				if way < 0 && more > tall {
					continue
				}
				for _, along := range []float64{0, -0.15, 0.15, -0.3, 0.3, -0.45, 0.45} {
					mid := p.plus(d, float64(far*(along+0.5)))
					if !yield(spot{mid.plus(side, float64(way*(off+more))), up}) {
						return
					}
				}
			}
		}
		if far > advance(words) {
			return
		}
		// A line shorter than its words has them beyond its end.
		past := float64(wide*math.Abs(d.x))/2 + float64(high*math.Abs(d.y))/2 + tall + clearance
		_ = yield(spot{q.plus(d, past), up}) && yield(spot{p.plus(d, -past), up})
	}
}

// around are places for words round a middle, reach px clear of it, the ones nearest to a direction first. Each is worked out when it is asked for.
func around(at, toward point, reach float64, lines ...string) iter.Seq[spot] {
	return func(yield func(spot) bool) {
		wide, high := block(lines...)
		from := angleOf(toward)
		for _, more := range []float64{0, 8, 18} { // px farther off
			for i := range 16 {
				turn := float64((i+1)/2) * math.Pi / 8 // from the direction to either side in turn
				if i%2 == 1 {
					turn = -turn
				}
				u := heading(from + turn)
				// The corner or side of the words that looks at the middle stands reach px from it.
				if !yield(spot{at: point{at.x + float64(u.x*(reach+more+wide/2)), at.y + float64(u.y*(reach+more+high/2))}}) {
					return
				}
			}
		}
	}
}

// scaleKey is the attribute that holds a drawing's scale.
const scaleKey = ` data-px-per-mm="`

// Scale is how many px on a drawing stand for a millimetre of the thing; 0 where a drawing does not say. On paper 96 px are an inch,
// so that the drawing is there at about 1 to 96/25.4 over the scale.
func Scale(svg string) float64 { return said(svg, scaleKey) }

// High is how high a drawing is, in CSS px.
func High(svg string) float64 { return said(svg, ` height="`) }

// said is a number in the first tag of a drawing, behind a key; 0 where it has none.
func said(svg, key string) float64 {
	head, _, _ := strings.Cut(svg, ">")
	_, after, _ := strings.Cut(head, key)
	number, _, _ := strings.Cut(after, `"`)
	v, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return 0
	}
	return v
}

// fitted draws a thing as large as most allows where it fits a sheet's width and a height, px: draw is given a scale and where its nought
// stands, on a sheet that remembers. It is drawn to see how much room it takes, and again
// in its place, with its top clear of the edge. Where words find no place at any scale from most down to least, it is drawn without them, as large as it
// fits; ok is false then.
func (s *sheet) fitted(most, least, high float64, draw func(s *sheet, scale float64, at point)) (bottom float64, ok bool) {
	var shift point
	var picks []int
	for _, loose := range []bool{false, true} {
		s.scale = most
		for {
			s.remember()
			try := &sheet{width: s.width, ink: s.ink, taken: s.taken, trial: &trial{widest: s.width - 2, strict: !loose, picks: picks[:0]}}
			draw(try, s.scale, point{})
			picks = try.trial.picks
			e := try.taken.bounds()
			shift = point{(s.width-(e.x2-e.x1))/2 - e.x1, clearance - e.y1}
			bottom = clearance + e.y2 - e.y1
			if ok = (loose || !try.trial.failed) && !try.tooWide() && snap(e.y2-e.y1) <= high; ok || s.scale <= least {
				break
			}
			s.scale = max(float64(s.scale*0.93), least)
		}
		if ok {
			ok = !loose
			break
		}
	}
	s.remember()
	s.trial = &trial{picks: picks, again: true}
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

// snap rounds to nine places, so that a drawing is the same on any machine.
func snap(v float64) float64 { return math.Round(v*1e9) / 1e9 }

// heading is the direction of an angle, in radians from the x axis to the y axis.
func heading(a float64) point { return point{snap(math.Cos(a)), snap(math.Sin(a))} }

// angleOf is the angle of a direction, in radians from the x axis to the y axis.
func angleOf(d point) float64 { return snap(math.Atan2(d.y, d.x)) }

// Degrees prints an angle in degrees, to a hundredth where it is not whole.
func Degrees(v float64) string {
	return strconv.FormatFloat(math.Round(float64(v*100))/100, 'f', -1, 64) + "°"
}

// rake prints the angle of a rake, in radians, to a hundredth of a degree, as it stands elsewhere in the book.
func rake(v float64) string {
	return strconv.FormatFloat(float64(v*180/math.Pi), 'f', 2, 64) + "°"
}
