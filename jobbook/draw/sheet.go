package draw

import (
	"strconv"
	"strings"
)

// point is a place on a sheet, in px from its top left corner.
type point struct{ x, y float64 }

// layer is what is drawn with one pen. The order is that of painting.
type layer int

const (
	tint   layer = iota // the body of a part
	was                 // what stands there already and stays
	hatch               // wall behind a cut face
	seen                // edges seen
	cut                 // edges cut
	come                // what is still to come, or not known
	hidden              // edges within the wood
	axis                // centre lines
	nose                // the line of the nosings
	dim                 // dimension lines and leaders
	tick                // where a dimension ends
	solid               // arrowheads and flags
	ball                // the ball that sticks in the worst opening
	layers
)

// pens are the layers' classes, and the attributes that hold without a style sheet. Weights are in px: 1.8 for what is cut, half
// of that for what is seen, a little over a quarter for dimensions, as draughtsmen space them.
var pens = [layers]struct{ class, attributes string }{
	tint:   {"d-tint", `fill="currentColor" fill-opacity="0.12" stroke="none"`},
	was:    {"d-was", `fill="none" stroke="currentColor" stroke-width="0.5"`},
	hatch:  {"d-hatch", `fill="none" stroke="currentColor" stroke-width="0.5"`},
	seen:   {"d-seen", `fill="none" stroke="currentColor" stroke-width="0.9"`},
	cut:    {"d-cut", `fill="none" stroke="currentColor" stroke-width="1.8"`},
	come:   {"d-come", `fill="none" stroke="currentColor" stroke-width="0.9" stroke-dasharray="5 3"`},
	hidden: {"d-hidden", `fill="none" stroke="currentColor" stroke-width="0.9" stroke-dasharray="2.5 2"`},
	axis:   {"d-axis", `fill="none" stroke="currentColor" stroke-width="0.5" stroke-dasharray="9 2 2 2"`},
	nose:   {"d-nosings", `fill="none" stroke="currentColor" stroke-width="0.6" stroke-dasharray="3 3"`},
	dim:    {"d-dim", `fill="none" stroke="currentColor" stroke-width="0.5"`},
	tick:   {"d-tick", `fill="none" stroke="currentColor" stroke-width="1.2"`},
	solid:  {"d-solid", `fill="currentColor" stroke="none"`},
	ball:   {"d-ball", `fill="none" stroke="currentColor" stroke-width="1.4"`},
}

// sheet is one drawing while it is made.
type sheet struct {
	id            string // of the svg element, and the stem of those of its title and description
	title, desc   string
	width, height float64
	scale         float64 // px per mm; 0 where nobody asks
	ink           *ink
	taken         *taken // where words may not stand; nil where a drawing's rows keep its words apart
	trial         *trial // of a drawing that is fitted to its sheet
}

// trying reports a drawing that is made only to see how much room it takes.
func (s *sheet) trying() bool { return s.trial != nil && !s.trial.again }

// path draws straight lines from point to point.
func (s *sheet) path(l layer, closed bool, points ...point) {
	if len(points) < 2 {
		return
	}
	s.taken.path(closed, points)
	if s.trying() {
		return
	}
	pens := &s.inked().pens
	pens[l] = appendPath(pens[l], closed, points)
}

func appendPath(b []byte, closed bool, points []point) []byte {
	b = append(b, `<path d="`...)
	for i, p := range points {
		switch i {
		case 0:
			b = append(b, 'M')
		case 1:
			b = append(b, 'L')
		default:
			b = append(b, ' ')
		}
		b = appendNum(b, p.x)
		b = append(b, ' ')
		b = appendNum(b, p.y)
	}
	if closed {
		b = append(b, 'Z')
	}
	return append(b, "\"/>\n"...)
}

func (s *sheet) line(l layer, x1, y1, x2, y2 float64) {
	s.path(l, false, point{x1, y1}, point{x2, y2})
}

// body draws a part: its tint and its outline.
func (s *sheet) body(points ...point) {
	if len(points) < 2 {
		return
	}
	s.taken.path(true, points)
	if s.trying() {
		return
	}
	pens := &s.inked().pens
	n := len(pens[tint])
	pens[tint] = appendPath(pens[tint], true, points)
	pens[seen] = append(pens[seen], pens[tint][n:]...) // the same line
}

func (s *sheet) circle(l layer, x, y, r float64) {
	s.taken.circle(x, y, r)
	if s.trying() {
		return
	}
	pens := &s.inked().pens
	b := append(pens[l], `<circle cx="`...)
	b = appendNum(b, x)
	b = append(b, `" cy="`...)
	b = appendNum(b, y)
	b = append(b, `" r="`...)
	b = appendNum(b, r)
	pens[l] = append(b, "\"/>\n"...)
}

// anchor is the part of a text that stands at its place.
type anchor string

const (
	start  anchor = "start"
	middle anchor = "middle"
	end    anchor = "end"
)

// text writes along the sheet, with its base line at y.
func (s *sheet) text(x, y float64, at anchor, words string) { s.write(x, y, at, words, false) }

// upright writes upwards, to be read from the right-hand side, with its base line at x.
func (s *sheet) upright(x, y float64, at anchor, words string) { s.write(x, y, at, words, true) }

func (s *sheet) write(x, y float64, at anchor, words string, up bool) {
	s.taken.text(inkOf(x, y, at, words, up))
	if s.trying() {
		return
	}
	b := append(s.inked().texts, `<text x="`...)
	b = appendNum(b, x)
	b = append(b, `" y="`...)
	b = appendNum(b, y)
	b = append(b, '"')
	if at != start {
		b = append(b, ` text-anchor="`...)
		b = append(b, at...)
		b = append(b, '"')
	}
	if up {
		b = append(b, ` transform="rotate(-90 `...)
		b = appendNum(b, x)
		b = append(b, ' ')
		b = appendNum(b, y)
		b = append(b, `)"`...)
	}
	b = append(b, '>')
	b = appendEscaped(b, words)
	s.ink.texts = append(b, "</text>\n"...)
}

// dimension draws a dimension line level from x1 to x2, with a slanting tick where it ends.
func (s *sheet) dimension(x1, x2, y float64) {
	s.line(dim, x1, y, x2, y)
	for _, x := range []float64{x1, x2} {
		s.line(dim, x, y-tall, x, y+tall)
		s.line(tick, x-slant, y+slant, x+slant, y-slant)
	}
}

// riser draws a dimension line up from y1 to y2.
func (s *sheet) riser(x, y1, y2 float64) {
	s.line(dim, x, y1, x, y2)
	for _, y := range []float64{y1, y2} {
		s.line(dim, x-tall, y, x+tall, y)
		s.line(tick, x-slant, y+slant, x+slant, y-slant)
	}
}

// Half the length of a dimension's end line and of its tick, px: seen at arm's length, and no higher than half a figure.
const (
	tall  = 5.0
	slant = 2.5
)

// break draws a line where the drawing breaks off.
func (s *sheet) breakOff(x, y1, y2 float64) {
	const most, kink = 6, 4 // px, the usual lightning bolt at a size that is seen
	m := (y1 + y2) / 2
	half := max(0, min(most, (y2-y1)/2))
	s.path(dim, false, point{x, y1}, point{x, m - half}, point{x - kink, m - half/3}, point{x + kink, m + half/3}, point{x, m + half}, point{x, y2})
}

// svg writes the sheet: right without a style sheet, in the colour of the text around it. The sheet is empty afterwards.
func (s *sheet) svg() string {
	ink := s.inked()
	defer s.done()
	var b strings.Builder
	long := len(s.title) + len(s.desc) + len(ink.texts)
	for l, p := range pens {
		long += len(ink.pens[l]) + len(p.class) + len(p.attributes)
	}
	b.Grow(long + 1<<10) // a kilobyte for the element itself
	put := func(words ...string) {
		for _, w := range words {
			b.WriteString(w)
		}
	}
	measure := func(words string, v float64) {
		var room [32]byte
		b.WriteString(words)
		b.Write(appendNum(room[:0], v))
	}
	put(`<svg xmlns="http://www.w3.org/2000/svg" class="d-drawing" id="`, s.id, `" role="img" aria-labelledby="`, s.id, `-title `, s.id, `-desc"`)
	if s.scale > 0 {
		put(scaleKey, strconv.FormatFloat(s.scale, 'f', 6, 64), `"`)
	}
	measure(` width="`, s.width)
	measure(`" height="`, s.height)
	measure(`" viewBox="0 0 `, s.width)
	measure(" ", s.height)
	put(`" style="max-width:100%;height:auto" stroke-linejoin="round" color="currentColor">`+"\n", `<title id="`, s.id, `-title">`)
	writeEscaped(&b, s.title)
	put("</title>\n"+`<desc id="`, s.id, `-desc">`)
	writeEscaped(&b, s.desc)
	put("</desc>\n")
	for l, lines := range ink.pens {
		if len(lines) == 0 {
			continue
		}
		put(`<g class="`, pens[l].class, `" `, pens[l].attributes, ">\n")
		b.Write(lines)
		b.WriteString("</g>\n")
	}
	if len(ink.texts) > 0 {
		put(`<g class="d-text" fill="currentColor" stroke="none" font-family="inherit" font-size="`, strconv.Itoa(size), `">`, "\n")
		b.Write(ink.texts)
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	return b.String()
}

// name makes an id of a run's id: letters, digits and hyphens stay, a slash becomes a hyphen, everything else its bytes in hex
// after an underscore, so that two different names stay different.
func name(id string) string {
	const hex = "0123456789abcdef"
	var b strings.Builder
	for i := range len(id) {
		switch c := id[i]; {
		case 'a' <= c && c <= 'z', 'A' <= c && c <= 'Z', '0' <= c && c <= '9', c == '-':
			b.WriteByte(c)
		case c == '/':
			b.WriteByte('-')
		default:
			b.WriteString("_" + string(hex[c>>4]) + string(hex[c&15])) // 4 and 15: a byte is two hex digits of four bits
		}
	}
	return b.String()
}
