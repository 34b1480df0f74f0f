package draw

import (
	"math"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
)

// marks are the heights of a rail on its face.
func (v *postView) marks(a layout.Arrival) []station {
	if !v.set(a) {
		return nil
	}
	list := []station{{z: mm(a.Under), left: v.style.Print(a.Under) + " underside"}}
	if bolted(a) {
		list = append(list, station{z: mm(a.Bolt), left: v.style.Print(a.Bolt) + " bolt"})
	}
	return append(list, station{z: mm(a.Top), left: v.style.Print(a.Top) + " top"})
}

// set reports whether a rail's heights can be drawn.
func (v *postView) set(a layout.Arrival) bool {
	return a.Known && a.Top > a.Under && sane(a.Top) && sane(a.Under) && a.Top > 0
}

// bolted reports whether it is known where a rail's bolt goes into the post.
func bolted(a layout.Arrival) bool { return a.Bolt > a.Under && a.Bolt < a.Top }

// slope is how steeply a rail leaves its post: up positive, down negative; false while that is not known.
func slope(a layout.Arrival) (tan, cos float64, ok bool) {
	if !a.Raked {
		return 0, 1, true
	}
	plumb, square := mm(a.Top)-mm(a.Under), mm(a.Thick)
	if square <= 0 || square >= plumb || square < plumb/20 { // steeper than 87 degrees is no rail
		return 0, 1, false
	}
	cos = square / plumb
	tan = math.Sqrt(1-float64(cos*cos)) / cos
	if !a.Up {
		tan = -tan
	}
	return tan, cos, true
}

// of finds the run that a rail belongs to, in the job.
func (v *postView) of(a layout.Arrival) *job.Run {
	if v.job == nil {
		return nil
	}
	for _, r := range v.job.Runs {
		if r != nil && r.Name == a.Run {
			return r
		}
	}
	return nil
}

// face draws where a rail meets the newel: the face square on, and the same from its side with the rail leaving it.
func (v *postView) face(a layout.Arrival, i int, x0, y float64) float64 {
	title := or(plain(a.Title), or(plain(a.Run), "rail to be named"))
	y += row
	v.s.text(x0+2, y-under*size, start, fit("Face to "+title, v.column-4))
	y += 2 * clearance
	below, top := mm(a.Under), mm(a.Top)
	known := v.set(a)
	if !known {
		top = someTop
		below = top - someHigh
	}
	tan, cos, sloped := slope(a)
	if !known {
		tan, cos, sloped = 0, 1, !a.Raked
	}
	rise := float64(v.stub*tan) / v.scale // of the rail where it breaks off
	from, to := min(below, below+rise)-postAbove, max(top, top+rise)+postAbove/2
	to = max(to, top+postAbove)
	if known && sloped && bolted(a) && a.BoltDeep > 0 { // the bolt goes on along the rail, into the post
		drop := float64(float64(min(mm(a.BoltDeep), v.widest())*tan) * cos)
		from, to = min(from, mm(a.Bolt)-drop-postAbove/4), max(to, mm(a.Bolt)-drop+postAbove/4)
	}
	list := v.marks(a)
	for k := range list {
		list[k].z -= from
	}
	high := float64((to - from) * v.scale)
	if least := float64(row * float64(len(list)+1)); high < least {
		high = least
	}
	foot := y + high
	up := func(z float64) float64 { return foot - float64((z-from)*v.scale) }
	room := v.words(list)
	if len(list) > 0 {
		spreadIn(list, v.scale, y+row/2, high-row, foot)
		for k := range list {
			list[k].z += from
		}
	}
	half := float64(v.widest()*v.scale) / 2
	x := x0 + 2 + room + clearance
	front := x + leader + half
	aside := front + half + faceApart + half
	body := float64(v.halfAt((below+top)/2) * v.scale) // half the newel where the rail meets it
	if a.Over {
		body = float64(v.wide*v.scale) / 2
	}
	v.slice(front, from, to, up)
	v.slice(aside, from, to, up)
	v.s.line(axis, front, up(from)+tall, front, up(to)-tall)

	// The rail from its side, broken off, and its end on the face.
	near := aside + body
	if a.Over {
		near = aside - body
	}
	far := aside + body + v.stub
	line := func(z float64) []point { return []point{{near, up(z)}, {far, up(z) - float64((far-near)*tan)}} }
	upper, lower := line(top), line(below)
	if a.Over { // level over the post, whatever it does beyond
		upper[1].y, lower[1].y = up(top)-float64(v.stub*tan), up(below)-float64(v.stub*tan)
	}
	wide := mm(a.Wide)
	pen := seen
	if !known || wide <= 0 || !sloped {
		pen = come
	}
	outlineOf := []point{upper[0], upper[1], lower[1], lower[0]}
	if known && sloped {
		v.s.path(tint, true, outlineOf...)
		v.s.path(seen, false, lower[1], lower[0], upper[0], upper[1])
	} else {
		v.s.path(come, false, lower[1], lower[0], upper[0], upper[1])
	}
	v.s.breakOff(far, upper[1].y-2, lower[1].y+2)
	if wide <= 0 {
		wide = min(someRail, v.wide)
	}
	if skew := math.Abs(finite(a.Skew)); skew < 80 { // degrees; beyond, the cut is no end
		wide /= heading(float64(skew * math.Pi / 180)).x
	}
	w := min(float64(wide*v.scale)/2, half+faceApart/2) // a rail wider than its post is drawn no farther than there is room
	v.s.path(pen, true, v.section(a, point{front, up((below + top) / 2)}, w, up(below)-up(top))...)
	v.bores(a, tan, cos, point{near, up(mm(a.Bolt))}, front, known && sloped)

	for _, at := range list { // squared across, from the face to its side
		if at.z <= v.high {
			v.s.line(dim, front-float64(v.halfAt(at.z)*v.scale), up(at.z), near, up(at.z))
		}
	}
	low := v.lead(list, x, v.near(front), room, up)
	y = max(foot+tall, low) + clearance
	for _, words := range wrap(v.faceWords(a, i), v.column-4) {
		y += row
		v.s.text(x0+2, y-under*size, start, words)
	}
	return y
}

// section is the end of a rail as it lies on the face: an oblong, or round where its part says so.
func (v *postView) section(a layout.Arrival, at point, half, high float64) []point {
	if r := v.of(a); r != nil && r.Handrail != nil && r.Handrail.Section.Text == "round" {
		return oval(at, half, high/2)
	}
	return []point{{at.x - half, at.y - high/2}, {at.x + half, at.y - high/2}, {at.x + half, at.y + high/2}, {at.x - half, at.y + high/2}}
}

// oval is an ellipse in straight pieces, its half axes across and up.
func oval(at point, across, up float64) []point {
	const pieces = 36 // of ten degrees
	list := make([]point, pieces)
	for i := range list {
		u := heading(float64(2*math.Pi*float64(i)) / pieces)
		list[i] = point{at.x + float64(u.x*across), at.y + float64(u.y*up)}
	}
	return list
}

// bores draws the bolt where it enters the face, and from the side how far it goes into the post and which way, with the bores in the rail.
func (v *postView) bores(a layout.Arrival, tan, cos float64, at point, front float64, known bool) {
	if !known || a.Over || !bolted(a) {
		return
	}
	thick := float64(min(mm(a.Bolt)-mm(a.Under), mm(a.Top)-mm(a.Bolt), v.wide/2) * v.scale) // what a bore has room in, px
	r := max(min(float64(mm(a.BoltWide)*v.scale)/2, thick), 1.5)                            // px, so that it is seen
	v.s.circle(seen, front, at.y, r)
	v.s.line(dim, front-r-3, at.y, front+r+3, at.y) // px: a small cross
	v.s.line(dim, front, at.y-r-3, front, at.y+r+3)
	d := point{cos, -float64(tan * cos)} // away from the post, along the rail
	n := d.turned()
	bore := func(from, to, half float64) {
		a, b := at.plus(d, float64(from*v.scale)), at.plus(d, min(max(float64(to*v.scale), -float64(v.widest()*v.scale)), v.stub)) // no farther than post and rail are drawn
		half = max(min(float64(half*v.scale), thick), 1)                                                                           // px, so that its two edges are seen
		v.s.path(hidden, false, a.plus(n, half), b.plus(n, half), b.plus(n, -half), a.plus(n, -half))
	}
	if deep := mm(a.BoltDeep); deep > 0 {
		bore(0, -deep, mm(a.BoltWide)/2)
	}
	run := v.of(a)
	if run == nil || run.Bolt == nil {
		return
	}
	b := run.Bolt
	if reach := mm(b.Reach.Length); reach > 0 {
		bore(0, reach, mm(b.Bore.Length)/2)
		if deep, wide := mm(b.AccessUp.Length), mm(b.Access.Length); deep > 0 && wide > 0 && float64((reach+wide/2)*v.scale) < v.stub && deep < mm(a.Top)-mm(a.Under) {
			below := float64((mm(a.Bolt)-mm(a.Under))*v.scale) * cos // from the axis square down to the underside
			mouth := at.plus(d, float64(reach*v.scale)).plus(n, below)
			half := float64(wide*v.scale) / 2
			deep := float64(deep * v.scale)
			v.s.path(hidden, false, mouth.plus(d, -half), mouth.plus(d, -half).plus(n, -deep), mouth.plus(d, half).plus(n, -deep), mouth.plus(d, half))
		}
	}
}
