package draw

import (
	"fmt"
	"math"
	"slices"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// Of the end of a rail, px per mm, px or mm.
const (
	endMost  = 1.5   // 38 px an inch: a bore of 1/4 is seen as one
	endLeast = 0.001 // what the longest reading takes
	endHigh  = 420.0
	endPost  = 12.0 // mm of the post past the rail, and past the bolt in it
	endPast  = 24.0 // mm of the rail past the last bore

	// What is drawn while it is not known, mm: the words say so.
	someInPost = 2.5 * inch
	someReach  = 3 * inch
)

// RailEndView draws one end of a handrail with the bores for its bolt: from the side, raked or level as it stands, and the rail's section;
// end is 0 for the end that the run is measured from, 1 for the other one. Nothing is drawn where no bolt is chosen, where the run ends at a
// wall, or where the rail goes over its post. Only what the parts say is drawn: no moulding is made up.
func RailEndView(r *layout.Run, end int, style length.Style, width int) string {
	if !HasRailEnd(r, end) {
		return ""
	}
	where := r.From
	if end == 1 {
		where = r.To
	}
	px := float64(min(max(width, narrowest), widest))
	v := newRailEnd(r, end, style)
	v.post = or(plain(where.Name), "a post to be named")
	s := &sheet{id: fmt.Sprintf("d-rail-end-%s-%d-%.0f", name(r.ID), end, px), width: px}
	s.title = "End of the handrail of " + v.run + " at " + v.post
	bottom, _ := s.fitted(endMost, endLeast, endHigh, func(s *sheet, scale float64, at point) { v.draw(s, scale, at, px) })
	return s.captioned(bottom, s.title+". ", v.caption())
}

// HasRailEnd reports whether RailEndView draws an end.
func HasRailEnd(r *layout.Run, end int) bool {
	if r == nil || r.Job == nil || r.Job.Bolt == nil || end < 0 || end > 1 {
		return false
	}
	if end == 1 {
		return !r.To.Wall && !r.Job.To.Over.Yes
	}
	return !r.From.Wall && !r.Job.From.Over.Yes
}

// railEnd is the end of a rail while it is drawn, in mm: u away from the post's face, up from the axis of the rail there.
type railEnd struct {
	style     length.Style
	run, post string
	bolt      *job.Bolt
	rail      *job.Handrail
	mirrored  bool // the post stands on the right
	raked     bool
	known     bool    // the angle is, or it is level
	angle     float64 // radians, from level
	words     string  // the same in degrees
	climbs    bool    // away from the post

	high, wide             float64
	inPost, pilot          float64
	bore, boreDeep         float64
	reach, access, accessU float64
	moved                  job.Measure   // of the bolt's axis from the middle of the rail's cut, up or down
	up                     float64       // the same: mm up, plumb
	deep                   length.Length // of the bore in the rail; 0 while not known
	accessDeep             length.Length // of the bore from below; 0 while not known
}

func newRailEnd(r *layout.Run, end int, style length.Style) *railEnd {
	m := model{r: r, style: style}
	v := &railEnd{style: style, run: plain(m.label()), bolt: r.Job.Bolt, rail: r.Job.Handrail, mirrored: end == 1, raked: r.Rake != nil || r.Job.Stair != nil, known: true}
	if v.raked {
		v.climbs = end == 0
		v.known = false
		if k := r.Rake; k != nil && k.Rise > 0 && k.Going > 0 && sane(k.Rise) && sane(k.Going) {
			v.known = true
			v.angle = angleOf(point{k.Going.Float(), k.Rise.Float()})
			v.words = rake(v.angle)
			if words, ok := newFlight(r, style).angle(); ok {
				v.words = words
			}
			if v.angle > math.Pi*0.45 { // over 80 degrees is no stair
				v.known, v.angle = false, 0
			}
		}
	}
	size := func(x job.Measure) float64 {
		if x.Given {
			return max(0, mm(x.Length))
		}
		return 0
	}
	if v.rail != nil {
		v.high, v.wide = size(v.rail.High), size(v.rail.Wide)
	}
	b := v.bolt
	v.inPost, v.pilot, v.bore = size(b.InPost), size(b.Pilot), size(b.Bore)
	v.reach, v.access = size(b.Reach), size(b.Access)
	v.deep, v.accessDeep = exactOf(r.RailBores[end].Deep, style.System), exactOf(r.RailBores[end].Access, style.System)
	v.accessU = max(0, mm(v.accessDeep))
	v.boreDeep = mm(v.deep)
	at := r.Job.From
	if end == 1 {
		at = r.Job.To
	}
	switch {
	case at.BoltUp.Given:
		v.moved, v.up = at.BoltUp, max(0, mm(at.BoltUp.Length))
	case at.BoltLow.Given:
		v.moved, v.up = at.BoltLow, -max(0, mm(at.BoltLow.Length))
	}
	return v
}

// orSome is a size, or one to draw it with while it is not known; and the pen for it.
func orSome(known, some float64, l layer) (float64, layer) {
	if known > 0 {
		return known, l
	}
	return some, come
}

// draw draws the end from the side and, below or beside it, the section.
func (v *railEnd) draw(s *sheet, scale float64, at point, px float64) {
	side := 1.0
	if v.mirrored {
		side = -1
	}
	place := func(u, z float64) point { return point{at.x + float64(side*u*scale), at.y - float64(z*scale)} }
	h := heading(v.angle)
	d := h // away from the post along the rail, up the sheet positive
	if !v.climbs {
		d.y = -d.y
	}
	n := point{-d.y, d.x} // square to it, upwards
	on := func(along, off float64) point {
		return place(float64(along*d.x)+float64(off*n.x), float64(along*d.y)+float64(off*n.y))
	}
	cos := max(h.x, 0.1)
	tan := d.y / cos
	high, railPen := orSome(v.high, someHigh, seen)
	if !v.known {
		railPen = come
	}
	inPost, pilotPen := orSome(v.inPost, someInPost, hidden)
	reach, _ := orSome(v.reach, someReach, hidden)
	access, _ := orSome(v.access, inch, hidden)
	accessU, _ := orSome(v.accessU, float64(high*0.6), hidden)
	accessPen := hidden
	if v.reach <= 0 || v.access <= 0 || v.accessU <= 0 {
		accessPen = come
	}
	boreDeep, borePen := orSome(v.boreDeep, reach, hidden)
	bore, _ := orSome(v.bore, 0.375*inch, borePen)
	pilot, _ := orSome(v.pilot, 0.25*inch, pilotPen)
	if v.bore <= 0 {
		borePen = come
	}
	if v.pilot <= 0 {
		pilotPen = come
	}

	// The rail: a plumb cut at the face, broken off plumb as well.
	long := max(boreDeep, reach+access/2) + endPast
	far := float64(long * cos)
	half := high / (2 * cos)
	top, below := half-v.up, -half-v.up // of the cut, from the axis of the bolt
	rail := []point{place(far, float64(far*tan)+top), place(0, top), place(0, below), place(far, float64(far*tan)+below)}
	if railPen == seen {
		s.path(tint, true, rail...)
	}
	s.path(railPen, false, rail...)
	breakBetween(s, rail[0], rail[3])

	// The post: cut out along the rail, so that it takes no more room than its bore.
	deep := float64(inPost*cos) + endPost
	slab := half + math.Abs(v.up) + endPost
	under := -high/2 - float64(v.up*cos) // the rail's underside, square from the axis
	post := []point{place(0, slab), place(-deep, slab-float64(deep*tan)), place(-deep, -slab-float64(deep*tan)), place(0, -slab)}
	s.path(tint, true, post...)
	s.path(cut, false, post[0], post[3])
	breakBetween(s, post[1], post[2])
	s.path(dim, false, post[0], post[1])
	s.path(dim, false, post[3], post[2])

	// The bores, and their axis.
	box := func(l layer, from, to, half float64) {
		s.path(l, false, on(from, half), on(to, half), on(to, -half), on(from, -half))
	}
	box(borePen, 0, boreDeep, bore/2)
	box(pilotPen, 0, -inPost, pilot/2)
	s.path(accessPen, false, on(reach-access/2, under), on(reach-access/2, accessU+under), on(reach+access/2, accessU+under), on(reach+access/2, under))
	s.path(axis, false, on(-inPost-endPost/2, 0), on(long-endPast/2, 0))
	s.path(axis, false, on(reach, accessU+under), on(reach, under-endPost/2))

	// Dimensions along the axis, on the side of it where no angle stands.
	way := 1.0
	if v.raked && !v.climbs {
		way = -1
	}
	out := on(0, way).plus(on(0, 0), -1)
	out, _ = point{}.toward(out)
	edge := float64(max(high/2, float64(slab*cos)) * scale)
	type words struct {
		a, b point
		text string
	}
	var later []words
	row1, row2 := edge+14, edge+14+row+2*clearance
	if v.raked {
		row2 += row // words along a slope take more
	}
	_, reachKnown := orSome(v.reach, 1, hidden)
	_, deepKnown := orSome(v.boreDeep, 1, hidden)
	_, postKnown := orSome(v.inPost, 1, hidden)
	measure := func(from, to, row float64, l length.Length) {
		for _, u := range []float64{from, to} {
			if u != 0 {
				s.lineOut(on(u, 0), out, row)
			}
		}
		a, b := on(from, 0).plus(out, row), on(to, 0).plus(out, row)
		s.ticked(a, b)
		later = append(later, words{a, b, v.style.Print(l)})
	}
	if deepKnown == hidden {
		measure(0, boreDeep, row1, v.deep)
	}
	if postKnown == hidden {
		measure(-inPost, 0, row1, v.bolt.InPost.Length)
	}
	if reachKnown == hidden {
		measure(0, reach, row2, v.bolt.Reach.Length)
	}
	switch { // the line out from the face, once for all
	case reachKnown == hidden:
		s.lineOut(on(0, 0), out, row2)
	case deepKnown == hidden || postKnown == hidden:
		s.lineOut(on(0, 0), out, row1)
	}

	// The angle: from the corner of the plumb cut, between level and the rail's edge.
	var corner, mid point
	if v.raked && v.known {
		const arcAt, line = 58.0, 78.0 // px from the corner, past the bore from below on most rails
		z := below
		if !v.climbs {
			z = top
		}
		corner = place(0, z)
		level := point{side, 0}
		s.path(axis, false, corner.plus(level, 4), corner.plus(level, line))
		var list []point
		const pieces = 8
		for i := 0; i <= pieces; i++ {
			a := heading(float64(v.angle*float64(i)) / pieces)
			y := -a.y
			if !v.climbs {
				y = a.y
			}
			list = append(list, corner.plus(point{float64(side * a.x), y}, arcAt))
		}
		s.path(dim, false, list...)
		a := heading(v.angle / 2)
		if !v.climbs {
			a.y = -a.y
		}
		mid = corner.plus(point{float64(side * a.x), -a.y}, arcAt)
	}

	// Letters with a line to each bore.
	leads := []struct {
		letter   string
		from, to point
	}{
		{"a", on(boreDeep*0.5, float64(-way*bore/2)), point{}},
		{"b", on(reach+access/4, under), point{}},
		{"c", on(-inPost*0.6, float64(-way*pilot/2)), point{}},
	}
	away := point{-out.x, -out.y}
	for i := range leads {
		l := &leads[i]
		span := edge + 16
		base := l.from
		if l.letter == "b" { // its mouth is at the underside
			down, _ := point{}.toward(on(0, -1).plus(on(0, 0), -1))
			l.to = base.plus(down, 24)
			if way < 0 {
				l.to = base.plus(down, 18).plus(point{float64(side * 14), 0}, 1)
			}
		} else {
			axisAt := on(0, 0)
			off := float64((base.x-axisAt.x)*away.x) + float64((base.y-axisAt.y)*away.y)
			l.to = base.plus(away, span-off)
		}
		s.path(dim, false, l.from, l.to)
	}

	v.section(s, scale, px)

	for _, w := range later {
		s.settle(alongside(w.a, w.b, out, w.text), w.text)
	}
	for _, l := range leads {
		d, _ := l.from.toward(l.to)
		s.settle(around(l.to, d, 2, l.letter), l.letter)
	}
	if v.raked && v.known {
		d, _ := corner.toward(mid)
		s.settle(around(mid, d, clearance, v.words), v.words)
	}
}

// breakBetween draws a line where a part breaks off, between two places one above the other.
func breakBetween(s *sheet, a, b point) {
	const past = 2 // px
	s.breakOff(a.x, min(a.y, b.y)-past, max(a.y, b.y)+past)
}

// section draws the rail's section: beside its end where there is room on the sheet, else below.
func (v *railEnd) section(s *sheet, scale, px float64) {
	high, highPen := orSome(v.high, someHigh, seen)
	wide, widePen := orSome(v.wide, someRail, seen)
	pen := seen
	if highPen == come || widePen == come {
		pen = come
	}
	e := s.taken.bounds()
	margin := 2*tall + size + 2*clearance + row // px for a dimension and its words
	need := float64(wide*scale) + 2*margin + 30 // px: the plow's depth stands at its left
	var c point
	if snap(e.x2-e.x1)+need <= px-4 {
		c = point{e.x2 + margin + 24 + float64(wide*scale)/2, (e.y1 + e.y2) / 2}
	} else {
		c = point{(e.x1 + e.x2) / 2, e.y2 + row + margin + float64(high*scale)/2}
	}
	w, h := float64(wide*scale)/2, float64(high*scale)/2
	plowWide, plowDeep := 0.0, 0.0
	if v.rail != nil && v.rail.Plow.Wide.Given && v.rail.Plow.Deep.Given {
		plowWide, plowDeep = max(0, mm(v.rail.Plow.Wide.Length)), max(0, mm(v.rail.Plow.Deep.Length))
	}
	if plowWide >= wide || plowDeep >= high || plowDeep <= 0 {
		plowWide, plowDeep = 0, 0
	}
	pw, pd := float64(plowWide*scale)/2, float64(plowDeep*scale)
	var outline []point
	foot := c.y + h // where the plow opens
	if v.rail != nil && v.rail.Section.Text == "round" {
		for _, p := range oval(c, w, h) {
			if pw > 0 && p.y > c.y && math.Abs(p.x-c.x) < pw {
				continue // the groove takes it
			}
			outline = append(outline, p)
		}
		if pw > 0 {
			in := pw / w
			foot = c.y + float64(h*math.Sqrt(max(0, 1-float64(in*in))))
		}
		if pw > 0 { // an oval goes clockwise on the sheet from the right: the groove comes where it passes the foot
			k := 0
			for k < len(outline) && outline[k].x > c.x && outline[k].y >= c.y {
				k++
			}
			groove := []point{{c.x + pw, foot}, {c.x + pw, c.y + h - pd}, {c.x - pw, c.y + h - pd}, {c.x - pw, foot}}
			outline = append(append(append([]point(nil), outline[:k]...), groove...), outline[k:]...)
		}
	} else {
		outline = []point{{c.x - w, c.y - h}, {c.x + w, c.y - h}, {c.x + w, c.y + h}}
		if pw > 0 {
			outline = append(outline, point{c.x + pw, c.y + h}, point{c.x + pw, c.y + h - pd}, point{c.x - pw, c.y + h - pd}, point{c.x - pw, c.y + h})
		}
		outline = append(outline, point{c.x - w, c.y + h})
	}
	if pen == seen {
		s.path(tint, true, outline...)
		s.path(cut, true, outline...)
	} else {
		s.path(come, true, outline...)
	}
	bore, borePen := orSome(v.bore, 0.375*inch, hidden)
	r := min(float64(bore*scale)/2, w, h)                                         // a bore wider than the rail is a slip
	through := point{c.x, c.y - float64(v.up*max(heading(v.angle).x, 0.1)*scale)} // where a bolt that is moved goes through
	s.path(borePen, true, oval(through, r, r)...)
	s.line(axis, c.x-w-tall, through.y, c.x+w+tall, through.y)
	s.line(axis, c.x, c.y-h-tall, c.x, c.y+h+tall)

	// All lines first, then their words.
	const off = 16 // px
	var dims []func()
	level := func(x1, x2, y float64, side point, l length.Length) {
		s.dimension(x1, x2, y)
		dims = append(dims, func() { s.settle(alongside(point{x1, y}, point{x2, y}, side, v.style.Print(l)), v.style.Print(l)) })
	}
	plumb := func(x, y1, y2, away float64, l length.Length) {
		s.riser(x, y1, y2)
		words := v.style.Print(l)
		at := point{x + float64(away*(tall+clearance+advance(words)/2)), (y1 + y2) / 2}
		dims = append(dims, func() { s.settle(slices.Values([]spot{{at: at}, {at: at.plus(point{away, 0}, row)}}), words) })
	}
	if v.wide > 0 {
		level(c.x-w, c.x+w, c.y-h-off, point{0, -1}, v.rail.Wide.Length)
	}
	if v.high > 0 {
		plumb(c.x+w+off, c.y-h, c.y+h, 1, v.rail.High.Length)
	}
	if pw > 0 {
		level(c.x-pw, c.x+pw, c.y+h+off, point{0, 1}, v.rail.Plow.Wide.Length)
		plumb(c.x-w-off, c.y+h-pd, c.y+h, -1, v.rail.Plow.Deep.Length)
	}
	for _, say := range dims {
		say()
	}
}

// caption says what each letter is, and what is not known.
func (v *railEnd) caption() []string {
	var say []string
	add := func(format string, a ...any) { say = append(say, fmt.Sprintf(format, a...)) }
	print := func(x job.Measure) string {
		if !x.Given || !sane(x.Length) {
			return "to be measured"
		}
		return v.style.Print(x.Length)
	}
	bit := func(x job.Measure) string { // in a job in millimetres to the tenth, with the fraction that is written on the bit
		if v.style.System != length.Millimetres || !x.Given || !sane(x.Length) {
			return print(x)
		}
		text := length.Style{System: v.style.System, Division: length.Millimetre / 10, Rounding: length.Nearest}.Print(x.Length)
		if inches := length.Inch / 64; x.Length%inches == 0 && x.Length%(length.Millimetre/2) != 0 {
			text += " (" + length.Style{System: length.Inches, Division: inches, Rounding: length.Nearest}.With(x.Length) + ")"
		}
		return text
	}
	unit := (&model{style: v.style}).unit()
	add("%s, the rail's end at %s. %s.", v.run, v.post, unit)
	switch {
	case !v.raked:
		add("Level: the end is cut square.")
	case !v.known:
		add("Dashed: the angle of the rake is to be measured, drawn level.")
	default:
		add("Plumb cut at %s off square to the rail.", v.words)
	}
	b := v.bolt
	deep := "depth to be measured"
	if v.deep > 0 {
		deep = "depth " + v.style.Print(v.deep)
	}
	where := "on its axis"
	if v.moved.Given && sane(v.moved.Length) && v.moved.Length > 0 {
		way := "up"
		if v.up < 0 {
			way = "down"
		}
		where = "moved " + way + " by " + v.style.Print(v.moved.Length) + " from the middle of its cut"
	}
	add("a: bore in the end of the rail, %s and parallel to it: diameter %s, %s; it opens into b.", where, bit(b.Bore), deep)
	below := "to be measured"
	if v.accessDeep > 0 {
		below = v.style.Print(v.accessDeep)
	}
	add("b: bore from below, square to the rail: diameter %s, depth %s; from the end to its middle, along the bore, %s.", bit(b.Access), below, print(b.Reach))
	how := "square to the face"
	if v.raked {
		how = "at the angle of the rake, through a guide block"
	}
	add("c: pilot in the post, %s: diameter %s, depth %s.", how, bit(b.Pilot), print(b.InPost))
	if v.bolt.Long.Given && sane(v.bolt.Long.Length) {
		add("Bolt: diameter %s, length %s.", print(b.Wide), print(b.Long))
	}
	dashed := false
	for _, m := range []job.Measure{b.Bore, b.Access, {Given: v.accessDeep > 0}, b.Reach, b.Pilot, b.InPost} {
		dashed = dashed || !m.Given
	}
	if dashed {
		add("Long dashes: sizes to be measured on the bolt, not to scale.")
	}
	switch h := v.rail; {
	case h == nil:
		add("Dashed: the handrail is to be chosen.")
	case v.high <= 0 || v.wide <= 0:
		add("Dashed: width and height of the handrail are to be measured.")
	default:
		words := fmt.Sprintf("Section %s wide, %s high", print(h.Wide), print(h.High))
		if h.Plow.Wide.Given && h.Plow.Deep.Given && h.Plow.Wide.Length > 0 {
			words += fmt.Sprintf(", plow %s wide and %s deep", print(h.Plow.Wide), print(h.Plow.Deep))
		}
		if h.Section.Text != "round" {
			words += "; its moulding is not drawn"
		}
		add("%s.", words)
	}
	return say
}
