// Package draw makes drawings as inline SVG: the guard from above; runs and flights in elevation, in one piece and in several; parts,
// posts, ends of rails, walls and edges; settings of the saw and sticks to be cut; the weeks of a calendar; and marks at full size to be
// printed.
//
// Everything is to scale except text, the weight of lines, the depth of a wall, and what its words say is not known. A drawing
// is right without a style sheet and in any text colour; its classes begin with d- for a page that wants more. Numbers come from the
// plan and are printed in the style given; nothing is worked out here that a person acts on, but for differences of two of them.
package draw

import (
	"fmt"
	"strconv"
	"strings"

	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// Phone is the width of a drawing on a phone, px: 360 across, less a margin of 16 on either side.
const Phone = 328

const (
	// narrowest and widest are the widths that a drawing is made for, px: less can't carry a dimension with its words, more is no page.
	narrowest, widest = 240, 2000
	// tallest is how high a guard is drawn on a phone, px: so that a drawing with its words is seen whole without scrolling.
	tallest = 360
	// legible is the scale, px per mm, from which a turning is read: 4 px an inch make a 1 1/4 baluster 5 px wide.
	legible = 4 / inch
	// mostPieces bounds a run's pieces: 24 hold some 200 balusters on a phone, twice the longest gallery; the rest is said in words.
	mostPieces = 24
)

// Panels draws a run for a page of a width in px: in one drawing where turnings and marks can be read in it, else an overview without
// marks and then the run in pieces, from the datum on.
func Panels(r *layout.Run, style length.Style, width int) []string {
	var list []string
	for _, v := range views(r, style, width) {
		list = append(list, v.draw().svg())
	}
	return list
}

// Panel is the first of a run's panels by itself; empty where there are none.
func Panel(r *layout.Run, style length.Style, width int) string {
	list := views(r, style, width)
	if len(list) == 0 {
		return ""
	}
	return list[0].draw().svg()
}

// stretch is what of a run stands on a sheet of its own.
type stretch interface{ draw() *sheet }

// views are a run's panels before they are drawn.
func views(r *layout.Run, style length.Style, width int) []stretch {
	if r == nil {
		return nil
	}
	px := float64(min(max(width, narrowest), widest))
	if r.Rake != nil {
		return newFlight(r, style).views(px)
	}
	m := newModel(r, style)
	v := m.whole(px)
	stem := "d-" + name(r.ID) + "-"
	v.id = stem + "0"
	if len(m.marks) < 2 || v.scale >= legible && v.marking().whole() {
		return []stretch{v}
	}
	pieces, more := m.pieces(px)
	v.bare, v.follow = true, len(pieces)
	list := []stretch{v}
	for i, p := range pieces {
		p.id = stem + strconv.Itoa(i+1)
		if i == len(pieces)-1 {
			p.more = more
		}
		list = append(list, p)
	}
	return list
}

// Overview draws a whole run without marks, for somebody who reads how it will look and cuts nothing by it.
func Overview(r *layout.Run, style length.Style, width int) string {
	if r == nil {
		return ""
	}
	px := float64(min(max(width, narrowest), widest))
	if r.Rake != nil {
		return newFlight(r, style).overview(px)
	}
	m := newModel(r, style)
	if m.ball != nil {
		m.ball.text = strings.ToLower(worstWords(true)) + m.decimal(m.worstOpening().Worst)
	}
	v := m.whole(px)
	v.id, v.bare, v.alone = "d-"+name(r.ID)+"-overview", true, true
	return v.draw().svg()
}

// extent is what of a run or flight a stretch shows, and where that stands on its sheet.
type extent struct {
	width        float64 // px
	from, to     float64 // mm
	first, last  int     // of the marks: from first to before last
	begins, ends bool    // the run or flight does, in this stretch
	piece, of    int     // 0 for the whole
	scale        float64 // px per mm
	at           float64 // px of the stretch's left end
}

// px is where a place along the run or flight stands on the sheet.
func (e *extent) px(x float64) float64 { return e.at + float64((x-e.from)*e.scale) }

func (e *extent) count() string { return fmt.Sprintf("%d of %d", e.piece, e.of) }

// view is a stretch of a run on a sheet.
type view struct {
	extent
	m      *model
	id     string
	bare   bool // without marks: an overview
	follow int  // pieces that follow an overview
	alone  bool // an overview for whoever lives there: its marks stand nowhere and are not missed, nor is what only the work asks for
	more   int  // balusters that are not drawn in any piece
	short  bool // the height on the right is written without its word, which stands in the caption
	beside bool // the heights' words stand beside their lines, which are too short to carry them
}

func (m *model) whole(width float64) *view {
	v := &view{m: m, extent: extent{width: width, to: m.clear, last: len(m.marks), begins: true, ends: true}}
	v.fit(v.most())
	return v
}

// most is the scale at which the guard is as high as it may be.
func (v *view) most() float64 {
	high := max(tallest, v.width/2) // half the width on a page: a landscape picture
	return high / max(v.m.high-v.m.low, 1)
}

// fit sets the scale: the largest that the width and a height allow.
func (v *view) fit(most float64) {
	v.short, v.beside = false, false
	v.scale = min(most, v.widest())
	if !v.carries() {
		v.short = true
	}
	if !v.carries() {
		v.beside = true
		v.scale = min(most, v.widest())
	}
	left, right := v.margins()
	slack := v.width - left - right - float64(v.across()*v.scale)
	v.at = left + slack/2
	if v.begins {
		v.at += float64(v.m.ends[0].behind() * v.scale)
	}
}

// carries reports whether the heights' lines are long enough for their words.
func (v *view) carries() bool {
	l := v.m.r.Levels
	for i, height := range []length.Length{l.RailTop, l.Finished} {
		if high := mm(height); high > 0 && float64(high*v.scale) < advance(v.heightWords(i))+2*tall {
			return false
		}
	}
	return true
}

// across is what the scale applies to, mm: the stretch and what stands behind its ends.
func (v *view) across() float64 {
	w := v.to - v.from
	if v.begins {
		w += v.m.ends[0].behind()
	}
	if v.ends {
		w += v.m.ends[1].behind()
	}
	return max(w, 1)
}

// widest is the scale at which the stretch fills the width.
func (v *view) widest() float64 {
	left, right := v.margins()
	return (v.width - left - right) / v.across()
}

// wallDeep is how much of a wall is drawn, px: enough for its hatching to be seen as such.
const wallDeep = 10

// edge is left free at a side where the drawing breaks off, px: half of a mark's words may hang over.
const edge = 26

// margins are px left and right of what is to scale.
func (v *view) margins() (left, right float64) {
	left, right = edge, edge
	if v.begins {
		left = 8 // px, a little air
		if v.m.ends[0].wall || v.m.ends[0].half {
			left += wallDeep
		}
		if v.m.top > 0 {
			left += v.heightRoom(0)
		}
	}
	if v.ends {
		right = 8 // as on the left
		if v.m.ends[1].wall || v.m.ends[1].half {
			right += wallDeep
		}
		if v.finished() {
			right += v.heightRoom(1)
		}
	}
	return left, right
}

// heightRoom is px for a height's dimension and its words.
func (v *view) heightRoom(i int) float64 {
	if v.beside {
		return advance(v.heightWords(i)) + 4*tall
	}
	return size + 4*tall
}

// heightWords are what stands at the height's dimension: on the left above the floor that the guard stands on, on the right above the
// highest point of the finished one.
func (v *view) heightWords(i int) string {
	l := v.m.r.Levels
	switch {
	case i == 0:
		return v.m.style.Print(l.RailTop)
	case v.short:
		return v.m.style.Print(l.Finished)
	}
	return v.m.style.Print(l.Finished) + " finished"
}

// finished reports whether the height above the finished floor is drawn too: where it is another one.
func (v *view) finished() bool {
	l := v.m.r.Levels
	return v.m.top > 0 && l.Finished > 0 && sane(l.Finished) && l.Finished != l.RailTop
}

// pieces divides a run between balusters, into stretches of nearly as many each, all at one scale. more is how many balusters are
// in none of them.
func (m *model) pieces(width float64) (list []*view, more int) {
	n := len(m.marks)
	cutAt := func(i int) float64 { // between mark i-1 and mark i
		switch {
		case i <= 0:
			return 0
		case i >= n:
			return m.clear
		}
		return (m.marks[i-1].x + m.marks[i].x) / 2
	}
	pitch := m.clear / float64(n+1)
	// Where balusters stand closer than upright words, the guard may become up to twice as high, so that every mark is written.
	most := m.whole(width).most()
	most = max(most, min(upPitch*1.05/pitch, 2*most)) // 1.05: rounded marks are not all alike
	stretch := func(first, last int) *view {
		v := &view{m: m, extent: extent{width: width, from: cutAt(first), to: cutAt(last), first: first, last: last, begins: first == 0, ends: last == n}}
		v.fit(most)
		return v
	}
	// The scale wanted is one at which turnings are read and the marks stand in two rows; or upright, where rows would take more than there is.
	text := 0.0
	for _, k := range m.marks {
		text = max(text, advance(k.text))
	}
	wanted := max(legible, (text/2+clearance)/pitch)
	if wanted > most {
		wanted = min(max(legible, upPitch*1.05/pitch), most)
	}
	per := n
	for per > 1 {
		v := stretch(0, per)
		if v.scale >= wanted {
			break
		}
		per--
	}
	count := (n + per - 1) / per
	for ; count < n; count++ { // an uneven run may need more
		ok := true
		for i := 0; i < min(count, mostPieces) && ok; i++ {
			v := stretch(i*n/count, (i+1)*n/count)
			ok = v.scale >= wanted
		}
		if ok || count >= 2*mostPieces {
			break
		}
	}
	scale := most
	for i := range min(count, mostPieces) {
		v := stretch(i*n/count, (i+1)*n/count)
		v.piece, v.of = i+1, count
		scale = min(scale, v.scale)
		list = append(list, v)
		more = n - v.last
	}
	for _, v := range list {
		v.fit(scale)
	}
	return list, more
}

// title names the drawing.
func (v *view) title() string {
	t := "Elevation of " + plain(v.m.label())
	if v.of > 0 {
		t += ", piece " + v.count()
	}
	return t
}

// label is what the run is called.
func (m *model) label() string {
	for _, s := range []string{m.r.Title, m.r.Name} {
		if s != "" {
			return s
		}
	}
	return "run"
}
