package draw

import (
	"fmt"
	"math"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// Of a wall end, px per mm, px or mm.
const (
	wallMost  = 1.2   // 30 px an inch
	wallFar   = 320.0 // mm: a first baluster farther off is said, not drawn
	wallStub  = 130.0 // mm of rail and shoe where there is no baluster to draw
	wallPast  = 26.0  // mm of them past the baluster
	wallBeyon = 14.0  // mm of the wall to either side of what meets it
	someBoard = 0.625 * inch
)

// WallEndView draws how a run ends at a wall, or at a half newel planted on one, from above: at the rail and at the foot, one under the
// other; end is 0 for the end that the run is measured from, 1 for the other one. What holds it is said in words. Nothing is drawn where
// the run ends at a post.
func WallEndView(r *layout.Run, end int, style length.Style, width int) string {
	if r == nil || end < 0 || end > 1 {
		return ""
	}
	where := r.From
	if end == 1 {
		where = r.To
	}
	half := where.Newel != nil && where.Newel.Half.Yes
	if !where.Wall && !half {
		return ""
	}
	px := float64(min(max(width, narrowest), widest))
	v := newWallEnd(r, end, where, style)
	s := &sheet{id: fmt.Sprintf("d-wall-end-%s-%d-%.0f", name(r.ID), end, px), width: px}
	s.title = "Wall end of " + v.run
	if v.half {
		s.title += " with a half newel"
	}
	bottom, _ := s.fitted(wallMost, endLeast, 2*endHigh, v.draw)
	return s.captioned(bottom, s.title+", from above. ", v.caption())
}

// wallEnd is the end of a run at a wall while it is drawn, in mm: u out from the face that the marks are measured from, or that the clear
// goes to.
type wallEnd struct {
	style    length.Style
	run      string
	r        *layout.Run
	at       job.End
	end      layout.End
	mirrored bool

	half    bool
	newel   float64 // across a half newel; 0 while not known
	plane   float64 // of the wall, or of the half newel's face
	wall    float64 // of the wall
	board   float64 // thickness of the baseboard or base trim; 0 for none
	boardOf string  // what it is
	boardIs layer
	goes    bool
	shoeAt  float64 // where the shoe ends

	plate, plateWide float64
	rail, shoe       float64 // widths; 0 while not known, or none
	treads           bool    // balusters stand on the treads

	baluster       float64 // its middle; 0 while not laid out
	foot, head     float64 // its width
	footIs, headIs bool    // round
	gap            *layout.Opening
	beyond         bool // it stands too far off to be drawn
}

func newWallEnd(r *layout.Run, end int, where layout.End, style length.Style) *wallEnd {
	m := model{r: r, style: style}
	v := &wallEnd{style: style, run: plain(m.label()), r: r, end: where, mirrored: end == 1, half: where.Newel != nil && where.Newel.Half.Yes}
	v.plane = -max(0, mm(where.Recess))
	v.wall = v.plane
	if v.half {
		v.newel = max(0, mm(where.Newel.Wide.Length))
		deep := v.newel / 2
		if deep == 0 {
			deep = somePost / 2
		}
		v.wall = v.plane - deep
	}
	v.shoeAt = max(0, mm(where.Proud))
	v.plate = max(0, mm(where.Rosette))
	j := r.Job
	if j != nil {
		v.at = j.From
		if end == 1 {
			v.at = j.To
		}
		if v.at.Plate != nil {
			v.plateWide = max(0, mm(v.at.Plate.Wide.Length))
			v.plate = max(v.plate, mm(v.at.Plate.Thick.Length))
		}
		if j.Handrail != nil {
			v.rail = max(0, mm(j.Handrail.Wide.Length))
		}
		if j.Shoe != nil {
			v.shoe = max(0, mm(j.Shoe.Wide.Length))
		}
		v.goes = !v.at.TrimStays()
		trimmed := v.at.Trimmed()
		if trimmed || v.at.Thick.Given {
			v.boardOf = v.at.Face.Text
			if !trimmed {
				v.boardOf = "baseboard"
				if v.half {
					v.boardOf = "base trim"
				}
			}
			v.board, v.boardIs = max(0, mm(v.at.Thick.Length)), seen
			if v.goes || v.board == 0 {
				v.boardIs = come
			}
		}
	}
	v.treads = r.Rake != nil && r.Rake.OnTreads
	v.first(m, end)
	return v
}

// first takes the baluster next to the end.
func (v *wallEnd) first(m model, end int) {
	n := len(v.r.Marks)
	if n == 0 {
		return
	}
	at := mm(v.r.Marks[0].At)
	part := "from"
	if end == 1 {
		at = mm(m.clearLength()) - mm(v.r.Marks[n-1].At)
		part = "to"
	}
	if at <= 0 {
		return
	}
	for i := range v.r.Openings {
		if v.r.Openings[i].Part == part {
			v.gap = &v.r.Openings[i]
		}
	}
	if at > wallFar {
		v.beyond = true
		return
	}
	v.baluster = at
	if j := v.r.Job; j != nil && j.Baluster != nil {
		v.foot = max(0, mm(j.Baluster.Wide.Length))
		v.head = v.foot
		if s := j.Baluster.Profile.Stations; len(s) > 1 && j.Baluster.Sized {
			v.foot, v.footIs = max(0, mm(s[0].Width)), s[0].Round
			v.head, v.headIs = max(0, mm(s[len(s)-1].Width)), s[len(s)-1].Round
		}
	}
}

// draw draws the end at the rail, and under it at the foot.
func (v *wallEnd) draw(s *sheet, scale float64, at point) {
	side := 1.0
	if v.mirrored {
		side = -1
	}
	x := func(u float64) float64 { return at.x + float64(side*u*scale) }
	long := wallStub
	if v.baluster > 0 {
		long = max(v.baluster+v.foot/2+wallPast, wallStub)
	}
	rail, railPen := orSome(v.rail, someRail, seen)
	shoe, shoePen := orSome(v.shoe, someRail, seen)
	plateWide := v.plateWide
	if plateWide == 0 {
		plateWide = 2 * rail
	}
	newel, newelPen := orSome(v.newel, somePost, seen)
	type later struct {
		a, b, out point
		words     string
	}
	var dims []later
	measure := func(a, b, out point, off float64, words string) {
		p, q := s.aligned(a, b, out, off)
		dims = append(dims, later{p, q, out, words})
	}
	down := point{0, 1}
	up := point{0, -1}
	outward := point{side, 0}
	rect := func(l layer, y, from, to, half float64) {
		h := float64(half * scale)
		p := []point{{x(from), y - h}, {x(to), y - h}, {x(to), y + h}, {x(from), y + h}}
		if l == seen {
			s.body(p...)
			return
		}
		s.path(l, true, p...)
	}
	bar := func(l layer, y, from, to, half float64) { // broken off at its far end
		h := float64(half * scale)
		p := []point{{x(to), y - h}, {x(from), y - h}, {x(from), y + h}, {x(to), y + h}}
		if l == seen {
			s.path(tint, true, p...)
		}
		s.path(l, false, p...)
		s.breakOff(x(to), y-h-2, y+h+2)
	}
	stick := func(y, wide float64, round bool, l layer) {
		if wide <= 0 {
			half := float64(wallBeyon * scale) // as much as the wall has to spare
			s.line(axis, x(v.baluster), y-half, x(v.baluster), y+half)
			return
		}
		h := float64(wide*scale) / 2
		c := point{x(v.baluster), y}
		p := []point{{c.x - h, y - h}, {c.x + h, y - h}, {c.x + h, y + h}, {c.x - h, y + h}}
		if round {
			p = oval(c, h, h)
		}
		if l == seen {
			s.path(tint, true, p...)
			l = cut
		}
		s.path(l, true, p...)
	}
	ground := func(y, half float64) {
		h := float64(half * scale)
		s.line(cut, x(v.wall), y-h, x(v.wall), y+h)
		const apart = 7 // px, as in an elevation
		for q := y - h; q+wallDeep <= y+h; q += apart {
			s.line(hatch, x(v.wall), q, x(v.wall)-float64(side*wallDeep), q+wallDeep)
		}
	}

	// At the rail.
	reach := rail / 2
	if v.plate > 0 {
		reach = max(reach, plateWide/2)
	}
	if v.half {
		reach = max(reach, newel/2)
	}
	reach += wallBeyon
	h := float64(reach * scale)
	y := at.y + row + 2*clearance + h
	s.text(at.x-20, y-h-2*clearance, start, "at the rail") // 20 px: over the wall
	ground(y, reach)
	if v.half {
		rect(newelPen, y, v.wall, v.plane, newel/2)
	}
	begins := v.plane
	if v.plate > 0 {
		pen := seen
		if v.plateWide == 0 {
			pen = come
		}
		rect(pen, y, v.plane, v.plane+v.plate, plateWide/2)
		begins += v.plate
	}
	bar(railPen, y, begins, max(long, begins+wallStub/2), rail/2)
	if v.baluster > 0 {
		stick(y, v.head, v.headIs, hidden)
	}
	const off = 14 // px
	if v.plate > 0 {
		measure(point{x(v.plane), y + h}, point{x(begins), y + h}, down, off, v.print(v.plate))
	}
	if v.rail > 0 {
		e := x(max(long, begins+wallStub/2))
		measure(point{e, y - float64(rail*scale)/2}, point{e, y + float64(rail*scale)/2}, outward, off, v.style.Print(v.r.Job.Handrail.Wide.Length))
	}
	s.line(axis, x(0), y-h, x(0), y+h) // the face that everything is measured from

	// At the foot.
	y += h
	if v.plate > 0 {
		y += off + tall + row // under its dimension
	}
	reach = shoe / 2
	if v.half {
		reach = max(reach, newel/2)
	}
	reach += wallBeyon
	h = float64(reach * scale)
	y += row + 4*clearance
	s.text(at.x-20, y, start, "at the foot")
	y += 2*clearance + h
	if v.board > 0 {
		y += off + 2*row // over it stands how thick the board is
	}
	ground(y, reach)
	board, _ := orSome(v.board, someBoard, seen)
	if v.boardOf != "" {
		back, half := v.wall, reach
		if v.half {
			back, half = v.plane, newel/2
		}
		if v.half {
			rect(newelPen, y, v.wall, v.plane, newel/2)
		}
		rect(v.boardIs, y, back, back+board, half)
		if v.board > 0 {
			measure(point{x(back), y - h}, point{x(back + board), y - h}, up, off, v.style.Print(v.at.Thick.Length))
		}
	} else if v.half {
		rect(newelPen, y, v.wall, v.plane, newel/2)
	}
	end := max(long, v.shoeAt+wallStub/2)
	hasShoe := !v.treads && !(v.r.Job != nil && v.r.Job.NoShoe)
	if hasShoe {
		bar(shoePen, y, v.shoeAt, end, shoe/2)
		if v.shoe > 0 {
			measure(point{x(end), y - float64(shoe*scale)/2}, point{x(end), y + float64(shoe*scale)/2}, outward, off, v.style.Print(v.r.Job.Shoe.Wide.Length))
		}
	}
	if v.baluster > 0 {
		stick(y, v.foot, v.footIs, seen)
		if face := v.baluster - v.foot/2; v.gap != nil && v.foot > 0 && face > v.shoeAt {
			measure(point{x(v.shoeAt), y + h}, point{x(face), y + h}, down, off, "gap "+v.style.Print(v.gap.Foot))
		}
	}
	s.line(axis, x(0), y-h, x(0), y+h)

	for _, d := range dims {
		s.settle(alongside(d.a, d.b, d.out, d.words), d.words)
	}
}

// print prints a size of the model.
func (v *wallEnd) print(size float64) string {
	return v.style.Print(length.Length(math.Round(size * float64(length.Millimetre))))
}

// caption says what the drawing shows, and what it can't.
func (v *wallEnd) caption() []string {
	var say []string
	add := func(format string, a ...any) { say = append(say, fmt.Sprintf(format, a...)) }
	unit := (&model{style: v.style}).unit()
	face := "the face that the marks are measured from"
	if v.mirrored {
		face = "the face that the clear length goes to"
	}
	add("%s, its end at %s, from above. %s. Chain line: %s.", v.run, or(plain(v.end.Name), "the wall"), unit, face)
	if v.half {
		if v.newel > 0 {
			add("A half newel, %s across, stands on the wall.", v.print(v.newel))
		} else {
			add("Dashed: the size of the half newel is to be measured.")
		}
	}
	switch {
	case v.plate > 0 && v.plateWide > 0:
		add("Rosette %s across stands off %s; the rail begins there.", v.print(v.plateWide), v.print(v.plate))
	case v.plate > 0:
		add("Rosette stands off %s, dashed: its width is to be measured.", v.print(v.plate))
	case v.at.Plate != nil:
		add("How far the rosette stands off is to be measured.")
	case v.at.NoPlate:
		add("No rosette.")
	case !v.half:
		add("Whether there is a rosette is to be settled.")
	}
	switch {
	case v.boardOf == "" && !v.half:
		add("No baseboard is written.")
	case v.boardOf == "":
	case v.board == 0 && v.goes:
		add("Dashed: the %s comes off; its thickness is to be measured.", v.boardOf)
	case v.board == 0:
		add("Dashed: the %s, its thickness to be measured; it stays.", v.boardOf)
	case v.goes:
		add("Dashed: the %s, %s thick, comes off.", v.boardOf, v.style.Print(v.at.Thick.Length))
	case v.at.Stays.Given:
		add("The %s, %s thick, stays.", v.boardOf, v.style.Print(v.at.Thick.Length))
	default:
		add("The %s, %s thick, is taken to stay.", v.boardOf, v.style.Print(v.at.Thick.Length))
	}
	if v.rail == 0 {
		add("Dashed: the width of the rail is to be settled.")
	} else {
		add("Rail %s wide.", v.style.Print(v.r.Job.Handrail.Wide.Length))
	}
	switch {
	case v.treads:
		add("The balusters stand on the treads, without a shoe.")
	case v.r.Job != nil && v.r.Job.NoShoe:
		add("No shoe: the balusters stand on the floor.")
	case v.shoe == 0:
		add("Dashed: the shoe is to be settled.")
	default:
		add("Shoe %s wide.", v.style.Print(v.r.Job.Shoe.Wide.Length))
	}
	switch {
	case v.beyond && v.gap != nil:
		add("The first baluster is farther off, its gap at the foot %s: not drawn.", v.style.Print(v.gap.Foot))
	case v.beyond:
		add("The first baluster is farther off and not drawn.")
	case v.baluster == 0 && v.r.Chosen != nil && v.r.Chosen.Count == 0:
		add("No balusters.")
	case v.baluster == 0:
		add("The first baluster is not laid out yet.")
	case v.foot == 0:
		add("The first baluster by its middle: its width is to be settled.")
	case v.gap != nil && v.shoeAt > 0:
		add("Gap from the %s to the first baluster, at the foot: %s.", or(v.boardOf, "trim"), v.style.Print(v.gap.Foot))
	case v.gap != nil:
		add("Gap from there to the first baluster, at the foot: %s.", v.style.Print(v.gap.Foot))
	}
	if v.baluster > 0 && v.head > 0 {
		add("Short dashes: the baluster, under the rail.")
	}
	if v.r.Curve != nil {
		add("The run is curved; its end is drawn straight.")
	}
	switch v.at.Held.Text {
	case "stud":
		add("Held by a stud.")
	case "blocking":
		add("Held by blocking in the wall.")
	case "toggles":
		add("Held by toggles in the wall's board only.")
	case "":
		add("What holds it is not known: look inside the wall.")
	default:
		add("Held by %s.", plain(v.at.Held.Text))
	}
	return say
}
