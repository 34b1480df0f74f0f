package draw

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// Of a section across an edge, px per mm or mm.
const (
	edgeMost = 1.0   // 25 px an inch
	edgeIn   = 110.0 // of the floor past the last thing that is drawn on it, or under it
	edgeDeep = 150.0 // of the framing, before it breaks off
	edgeUp   = 150.0 // of the post, likewise

	// What is drawn while it is not known, mm: the words say so.
	someFloor    = 0.75 * inch
	someBack     = 3 * inch
	someOverhang = 1 * inch
	someSolid    = 1.5 * inch
)

// EdgeView draws a section across the edge that a run stands on: what the floor's wood rests on there, and what of the guard stands over it.
// Nothing is drawn where nothing of the edge is written. What is not measured is dashed and said.
func EdgeView(r *layout.Run, style length.Style, width int) string {
	if r == nil || r.Job == nil {
		return ""
	}
	e := r.Job.Edge
	if !e.Back.Given && !e.Overhang.Given && !e.Solid.Given && !e.Cap.Given && !e.Joists.Given && !e.Blocking.Given {
		return ""
	}
	px := float64(min(max(width, narrowest), widest))
	v := newEdge(r, style)
	s := &sheet{id: fmt.Sprintf("d-edge-%s-%.0f", name(r.ID), px), width: px, title: "Section across the edge under " + v.run}
	bottom, _ := s.fitted(edgeMost, endLeast, endHigh, v.draw)
	return s.captioned(bottom, s.title+". ", v.caption())
}

// edgeSection is the edge under a run while it is drawn, in mm: in from the outermost wood, up from the floor.
type edgeSection struct {
	style length.Style
	run   string
	job.Edge
	stands []standing // the narrowest first
	treads bool       // balusters stand on treads
	flight bool       // the edge is that of treads, and joists are those of the landing
}

// standing is a part of the guard that stands on the edge.
type standing struct {
	what  string
	wide  length.Length
	high  float64 // mm; 0 where it goes on
	outer length.Length
	inner length.Length // what of it is off the solid wood, towards the edge and away from it
	over  length.Length // what of it stands out past the edge
	known bool          // these are
}

func newEdge(r *layout.Run, style length.Style) *edgeSection {
	m := model{r: r, style: style}
	v := &edgeSection{style: style, run: plain(m.label()), Edge: r.Job.Edge, treads: r.Rake != nil && r.Rake.OnTreads, flight: r.Rake != nil}
	add := func(what string, x length.Length, high float64) {
		if x <= 0 || !sane(x) {
			return
		}
		s := standing{what: what, wide: x, high: high}
		if v.Back.Given && sane(v.Back.Length) {
			from, to := v.Back.Length-x/2, v.Back.Length+x/2
			s.over = max(0, -from)
			if v.Overhang.Given && v.Solid.Given && sane(v.Overhang.Length) && sane(v.Solid.Length) {
				s.known = true
				s.outer = min(x, max(0, v.Overhang.Length-from))
				s.inner = min(x, max(0, to-v.Overhang.Length-v.Solid.Length))
			}
		}
		v.stands = append(v.stands, s)
	}
	if b := r.Job.Baluster; b != nil {
		add("baluster", b.Wide.Length, 0)
	}
	if s := r.Job.Shoe; s != nil && !v.treads {
		high, _ := orSome(mm(s.High.Length), inch, seen)
		add("shoe", s.Wide.Length, high)
	}
	post := length.Length(0)
	for i, e := range []layout.End{r.From, r.To} {
		if on := r.Stands(i == 1); r.Rake != nil && (on <= 0 || on >= r.Rake.Treads[len(r.Rake.Treads)-1].Height) {
			continue // its edge is that of the treads; on floor and landing posts stand at another
		}
		if e.Newel != nil && !e.Newel.Half.Yes && sane(e.Newel.Wide.Length) {
			post = max(post, e.Newel.Wide.Length)
		}
	}
	add("post", post, 0)
	return v
}

// draw draws the section.
func (v *edgeSection) draw(s *sheet, scale float64, at point) {
	x := func(in float64) float64 { return at.x + float64(in*scale) }
	y := func(up float64) float64 { return at.y - float64(up*scale) }
	size := func(m job.Measure, some float64) (float64, layer) {
		if m.Given && m.Length >= 0 && sane(m.Length) {
			return m.Length.Float(), seen
		}
		return some, come
	}
	back, backIs := size(v.Back, someBack)
	overhang, overIs := size(v.Overhang, someOverhang)
	solidWide, solidIs := size(v.Solid, someSolid)
	boxOf := func(l layer, x1, x2, y1, y2 float64) {
		s.path(l, true, point{x(x1), y(y1)}, point{x(x2), y(y1)}, point{x(x2), y(y2)}, point{x(x1), y(y2)})
	}

	// The floor's wood, from its edge in; its thickness is not asked for.
	far := max(overhang+solidWide, back) + edgeIn
	for _, st := range v.stands {
		far = max(far, back+st.wide.Float()/2+edgeIn)
	}
	capped := v.Cap.Given && v.Cap.Length > 0 && sane(v.Cap.Length)
	if capped {
		far = v.Cap.Length.Float()
	}
	s.path(tint, true, point{x(0), y(0)}, point{x(far), y(0)}, point{x(far), y(-someFloor)}, point{x(0), y(-someFloor)})
	s.path(cut, false, point{x(far), y(0)}, point{x(0), y(0)}, point{x(0), y(-someFloor)})
	s.path(come, false, point{x(0), y(-someFloor)}, point{x(far), y(-someFloor)})
	if capped {
		s.path(cut, false, point{x(far), y(0)}, point{x(far), y(-someFloor)})
	} else {
		s.breakOff(x(far), y(0)-6, y(-someFloor)+6) // 6 px: past it at either side
	}

	// What it rests on.
	deep := -someFloor - edgeDeep
	from, to := overhang, overhang+solidWide
	if solidIs == seen && overIs == seen {
		boxOf(tint, from, to, -someFloor, deep)
		s.hatched(min(x(from), x(to)), y(-someFloor), max(x(from), x(to)), y(deep))
		s.path(cut, false, point{x(from), y(deep)}, point{x(from), y(-someFloor)}, point{x(to), y(-someFloor)}, point{x(to), y(deep)})
	} else {
		s.path(come, false, point{x(from), y(deep)}, point{x(from), y(-someFloor)}, point{x(to), y(-someFloor)}, point{x(to), y(deep)})
	}
	s.breakAcross(x(from), x(to), y(deep))
	if v.Joists.Given && !capped && !v.flight {
		joist := -someFloor - edgeDeep*0.7
		switch v.Joists.Text {
		case "across": // one is seen from its side
			s.path(dim, false, point{x(to), y(joist)}, point{x(far), y(joist)})
			s.breakOff(x(far), y(-someFloor)+10, y(joist)+4) // px: clear of the floor's
		case "along": // the next one is cut; where it lies is not asked for
			in := far - edgeIn*0.45
			boxOf(come, in, in+someSolid, -someFloor, joist)
			if v.Blocking.Yes && v.Blocking.Given {
				boxOf(hidden, to, in, -someFloor, joist+8)
			}
		}
	}

	// What stands on it: the post behind, then shoe and baluster.
	ends := edgeUp
	for i := len(v.stands) - 1; i >= 0; i-- {
		st := v.stands[i]
		half := st.wide.Float() / 2
		high, base := st.high, 0.0
		if high == 0 {
			high = edgeUp
			if st.what == "baluster" {
				high = edgeUp * 0.8
				for _, o := range v.stands {
					if o.what == "shoe" {
						base = o.high
					}
				}
			}
		}
		l := seen
		if backIs == come {
			l = come
		}
		body := []point{{x(back - half), y(high)}, {x(back - half), y(base)}, {x(back + half), y(base)}, {x(back + half), y(high)}}
		s.path(tint, true, body...)
		if st.high > 0 {
			s.path(l, true, body...)
		} else {
			s.path(l, false, body...)
			s.breakAcross(body[0].x, body[3].x, body[0].y)
		}
	}
	s.path(axis, false, point{x(back), y(ends) - 6}, point{x(back), y(-someFloor) + 14})

	// What of the widest of it is off the solid wood.
	if n := len(v.stands); n > 0 && v.stands[n-1].known {
		st := v.stands[n-1]
		half := st.wide.Float() / 2
		mark := func(x1, x2 float64) {
			const below = 4 // px under the floor's face, heavy
			s.line(cut, x(x1), y(0)+below, x(x2), y(0)+below)
		}
		if st.outer > 0 {
			mark(back-half, back-half+st.outer.Float())
		}
		if st.inner > 0 {
			mark(back+half-st.inner.Float(), back+half)
		}
	}

	// Dimensions: what lies under the floor below it, what stands on it above.
	type later struct {
		a, b, out point
		words     string
	}
	var dims []later
	measure := func(x1, x2, yAt float64, out point, words string) {
		p, q := s.aligned(point{x(x1), yAt}, point{x(x2), yAt}, out, 14)
		dims = append(dims, later{p, q, out, words})
	}
	down, up := point{0, 1}, point{0, -1}
	low := y(deep) + 4
	if overIs == seen && overhang > 0 {
		measure(0, overhang, low, down, v.style.Print(v.Overhang.Length))
	}
	if solidIs == seen {
		measure(from, to, low, down, v.style.Print(v.Solid.Length))
	}
	if capped {
		measure(0, far, low+row+2*clearance, down, "cap "+v.style.Print(v.Cap.Length))
	}
	top := y(edgeUp) - 8
	if n := len(v.stands); n > 0 {
		st := v.stands[n-1]
		measure(back-st.wide.Float()/2, back+st.wide.Float()/2, top, up, st.what+" "+v.style.Print(st.wide))
		top -= row + 4*clearance
	}
	if backIs == seen {
		s.path(dim, false, point{x(0), y(0) - 3}, point{x(0), top - 14 - tall})
		p, q := point{x(0), top - 14}, point{x(back), top - 14}
		s.path(dim, false, point{x(back), top}, point{x(back), top - 14 - tall})
		s.ticked(p, q)
		dims = append(dims, later{p, q, up, v.style.Print(v.Back.Length)})
	}

	for _, d := range dims {
		s.settle(alongside(d.a, d.b, d.out, d.words), d.words)
	}
	if n := len(v.stands); n > 0 && v.stands[n-1].known && (v.stands[n-1].outer > 0 || v.stands[n-1].inner > 0) {
		st := v.stands[n-1]
		c := point{x(back - st.wide.Float()/2), y(0)}
		if st.outer <= 0 {
			c = point{x(back + st.wide.Float()/2), y(0)}
		}
		const words = "off solid wood"
		s.offer(slices.Values(slices.AppendSeq(slices.Collect(around(c, point{-1, -0.6}, 10, words)), around(c, point{1, -0.6}, 10, words))), words)
	}
	floor := point{x(far) - 10, y(0)}
	s.offer(slices.Values([]spot{{at: point{floor.x - advance("floor")/2, floor.y - row}}, {at: point{floor.x + 14 + advance("floor")/2, floor.y + 6}}}), "floor")
}

// caption says what the drawing shows, and what it can't.
func (v *edgeSection) caption() []string {
	var say []string
	add := func(format string, a ...any) { say = append(say, fmt.Sprintf(format, a...)) }
	unit := (&model{style: v.style}).unit()
	on := "the floor"
	if v.Cap.Given {
		on = "the cap of the knee wall"
	}
	add("%s: across its edge, which is at the left. %s.", v.run, unit)
	add("How thick %s is, is not asked for: dashed.", on)
	with := func(m job.Measure) string { return v.style.Print(m.Length) }
	if v.Back.Given {
		add("From the edge back to the middle of the guard, %s.", with(v.Back))
	} else {
		add("Dashed: how far the middle of the guard stands back from the edge is to be measured.")
	}
	switch {
	case v.Overhang.Given && v.Solid.Given:
		add("Overhang %s with nothing under it; behind it %s of solid wood, hatched.", with(v.Overhang), with(v.Solid))
	case v.Overhang.Given:
		add("Overhang %s with nothing under it. Dashed: the solid wood behind it is to be measured.", with(v.Overhang))
	case v.Solid.Given:
		add("Dashed: solid wood %s wide; how much hangs over before it is to be measured.", with(v.Solid))
	default:
		add("Dashed: overhang and solid wood are to be measured.")
	}
	for i := len(v.stands) - 1; i >= 0; i-- {
		add("%s", v.standsOn(v.stands[i]))
	}
	if len(v.stands) == 0 {
		add("What stands on it is to be settled: post, shoe and baluster.")
	}
	where := "between the joists where posts stand"
	switch {
	case v.flight && v.Joists.Given:
		add("Under the landing, which is not in it, joists run %s the edge.", plain(v.Joists.Text))
	case v.flight:
	case v.Joists.Given:
		add("Joists run %s the edge.", plain(v.Joists.Text))
	default:
		add("Which way the joists run is not known.")
	}
	if v.flight {
		where = "under the tread that the post stands on"
	}
	switch {
	case !slices.ContainsFunc(v.stands, func(s standing) bool { return s.what == "post" }):
	case !v.Blocking.Given:
		add("Whether there is blocking %s is not known.", map[bool]string{true: where, false: "where posts stand"}[v.flight])
	case v.Blocking.Yes:
		add("There is blocking %s.", where)
	default:
		add("There is no blocking %s.", where)
	}
	return say
}

// standsOn says what of a part is off the solid wood.
func (v *edgeSection) standsOn(s standing) string {
	up := v.style
	up.Rounding = length.Up
	what := strings.ToUpper(s.what[:1]) + s.what[1:] + " " + v.style.Print(s.wide) + " wide"
	var off []string
	if s.over > 0 {
		off = append(off, up.Print(s.over)+" of it stands out past the edge")
	}
	if s.known && s.outer > s.over {
		off = append(off, up.Print(s.outer-s.over)+" over the overhang")
	}
	if s.known && s.inner > 0 {
		off = append(off, up.Print(s.inner)+" behind the solid wood")
	}
	switch {
	case !s.known && len(off) == 0:
		return what + "; whether it stands on solid wood is to be measured."
	case len(off) == 0:
		return what + ", all of it on solid wood."
	}
	return what + ", off solid wood: " + and(off) + "."
}
