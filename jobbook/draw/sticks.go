package draw

import (
	"fmt"
	"strings"

	"balustrade/jobbook/length"
	"balustrade/jobbook/takeoff"
)

// Of a drawing of sticks, px.
const (
	barHigh = 24.0 // of a stick: a line of text and air
	barGap  = 14.0 // from a stick to the words over the next one
	barWord = 16.0 // from the words' base line to the stick
)

// Sticks draws how pieces are cut from sticks, all to one scale along their length: kerf and trim black, what is left over hatched
// where it is waste. Sticks cut alike are drawn once. label names a piece in few words; one that has no room for them shows none.
func Sticks(c *takeoff.Cutting, label func(takeoff.StickPiece) string, style length.Style, width int) string {
	if c == nil || len(c.Sticks) == 0 {
		return ""
	}
	longest := length.Length(0)
	for _, s := range c.Sticks {
		longest = max(longest, s.Long)
	}
	px := float64(min(max(width, narrowest), widest))
	s := &sheet{id: "d-" + name(c.ID), title: "How " + c.Title + " is cut from sticks", width: px}
	s.scale = (px - 2) / longest.Float()
	y, words := 0.0, []string(nil)
	for i := 0; i < len(c.Sticks); {
		n := 1
		for i+n < len(c.Sticks) && alikeSticks(c.Sticks[i], c.Sticks[i+n]) {
			n++
		}
		stick := c.Sticks[i]
		head := stickWords(stick, n, style)
		y += barWord
		s.text(1, y-4, start, fit(head, px-2))
		words = append(words, head+": "+pieceWords(stick, style))
		s.stick(c, stick, y, label, n == 1, style)
		y += barHigh + barGap
		i += n
	}
	s.height = y - barGap + 2
	s.scale = 0 // it holds along the sticks only
	s.desc = strings.Join(words, ". ") + "."
	return s.svg()
}

// alikeSticks reports two sticks of one sort that are cut to the same lengths.
func alikeSticks(a, b takeoff.Stick) bool {
	if a.Long != b.Long || a.Source != b.Source || a.From.At != b.From.At || len(a.Pieces) != len(b.Pieces) {
		return false
	}
	for i := range a.Pieces {
		if a.Pieces[i].Long != b.Pieces[i].Long {
			return false
		}
	}
	return true
}

func stickWords(s takeoff.Stick, n int, style length.Style) string {
	numbers := fmt.Sprintf("Stick %d", s.N)
	if n > 1 {
		numbers = fmt.Sprintf("Sticks %d to %d, all alike", s.N, s.N+n-1)
	}
	from := map[takeoff.StickSource]string{takeoff.FromSupplier: "", takeoff.FromDelivery: ", delivered", takeoff.FromRack: ", offcut from the rack", takeoff.FromMade: ", made already"}[s.Source]
	if s.Source == takeoff.FromMade {
		from += " as " + s.From.Name
	}
	return numbers + from + ", " + bought(s.Long, style)
}

// bought is the length of a stick as it is called at the yard: 12 ft, 3600 mm.
func bought(l length.Length, style length.Style) string {
	const foot = 12 * length.Inch
	if style.System == length.Inches && l%foot == 0 {
		return fmt.Sprintf("%d ft", l/foot)
	}
	return style.With(l)
}

// pieceWords lists what is cut from a stick: 2 of 40 1/2, 1 of 31, left 12.
func pieceWords(s takeoff.Stick, style length.Style) string {
	var list []string
	for i := 0; i < len(s.Pieces); {
		n := 1
		for i+n < len(s.Pieces) && s.Pieces[i+n].Long == s.Pieces[i].Long {
			n++
		}
		list = append(list, fmt.Sprintf("%d of %s", n, style.Print(s.Pieces[i].Long)))
		i += n
	}
	left := "left " + style.Print(s.Left)
	if s.Keep {
		left += " to keep"
	}
	return strings.Join(append(list, left), ", ")
}

// stick draws one stick from the left, its pieces in cutting order.
func (s *sheet) stick(c *takeoff.Cutting, stick takeoff.Stick, y float64, label func(takeoff.StickPiece) string, named bool, style length.Style) {
	at := func(l length.Length) float64 { return 1 + float64(l.Float()*s.scale) }
	box := func(l layer, x1, x2 float64) {
		s.path(l, true, point{x1, y}, point{x2, y}, point{x2, y + barHigh}, point{x1, y + barHigh})
	}
	words := func(x1, x2 float64, words string) {
		if advance(words)+4 < x2-x1 {
			s.text((x1+x2)/2, y+barHigh/2+4, middle, words)
		}
	}
	x := length.Length(0)
	if stick.Source != takeoff.FromRack && stick.Source != takeoff.FromMade && c.Trim > 0 {
		box(solid, at(0), at(c.Trim))
		x = c.Trim
	}
	if out := c.Lost(stick); out > 0 { // of the first bevel
		box(solid, at(x), at(x+out))
		x += out
	}
	for i := 0; i < len(stick.Pieces); { // pieces of one length together
		long := stick.Pieces[i].Long
		n, from := 0, x
		text := style.Print(long)
		roomy := advance(text)+4 < at(long)-at(0)
		for ; i < len(stick.Pieces) && stick.Pieces[i].Long == long; i, n = i+1, n+1 {
			if i > 0 {
				saw := max(stick.Pieces[i-1].Saw, c.Kerf) // the cut that takes the piece before it off
				top := y
				if n > 0 && !roomy { // a short line leaves room for the words over it
					top += barHigh * 2 / 3
				}
				s.path(solid, true, point{at(x), top}, point{at(x + saw), top}, point{at(x + saw), y + barHigh}, point{at(x), y + barHigh})
				x += saw
				if n == 0 {
					from = x
				}
			}
			box(tint, at(x), at(x+long))
			if mark := label(stick.Pieces[i]) + "  " + text; named && advance(mark)+4 < at(long)-at(0) {
				words(at(x), at(x+long), mark)
			} else if roomy {
				words(at(x), at(x+long), text)
			}
			x += long
		}
		if !roomy && advance(fmt.Sprintf("%d of %s", n, text))+4 < at(x)-at(from) {
			s.text((at(from)+at(x))/2, y+barHigh*2/3-3, middle, fmt.Sprintf("%d of %s", n, text))
		}
	}
	end := stick.Long
	if stick.Source != takeoff.FromRack && stick.Source != takeoff.FromMade {
		end -= c.Trim
		box(solid, at(end), at(stick.Long))
	}
	if end > x {
		saw := c.Kerf
		if n := len(stick.Pieces); n > 0 {
			saw = max(saw, stick.Pieces[n-1].Saw)
		}
		box(solid, at(x), at(min(x+saw, end)))
		x = min(x+saw, end)
		if stick.Keep {
			words(at(x), at(end), "left "+style.Print(stick.Left)+", keep")
		} else {
			const apart = 7 // px between two lines of the hatching, as of a wall's
			for h := at(x); h+barHigh/2 < at(end); h += apart {
				s.line(hatch, h, y+barHigh, h+barHigh/2, y)
			}
		}
	}
	s.path(seen, true, point{at(0), y}, point{at(stick.Long), y}, point{at(stick.Long), y + barHigh}, point{at(0), y + barHigh})
}
