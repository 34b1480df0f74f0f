package draw

import (
	"fmt"
	"strconv"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// Of a post's drawing.
const (
	postMost  = 0.8  // px per mm, the largest scale: 20 px an inch
	postAbove = 44.0 // mm of the post over and under a rail
	faceApart = 16.0 // px between a face and the same from its side
	columnGap = 24.0 // px between drawings side by side
	mostFaces = 8    // a post has four faces; beyond twice that somebody has written something else
	someHigh  = 2.375 * inch
)

// PostView draws a newel as it will stand, for a page of a width in px: its profile less what is cut off its foot, the block that its rails
// meet and what they need of it; and for each rail the face that it comes to, square on and from its side, with the heights to square across
// above the floor. Newel and bolts are the job's, which may be nil. What is not known is dashed and said.
func PostView(p layout.Post, j *job.Job, style length.Style, width int) string {
	px := float64(min(max(width, narrowest), widest))
	v := newPostView(p, j, style)
	v.s = &sheet{id: fmt.Sprintf("d-post-%s-%.0f", name(p.Name), px), width: px, title: "Newel at " + or(plain(p.Name), "a post to be named")}
	columns := max(1, int((px+columnGap)/(Phone+columnGap)))
	columns = min(columns, 1+min(len(p.Arrivals), mostFaces))
	v.column = min((px-float64(columnGap*float64(columns-1)))/float64(columns), Phone+columnGap)
	v.stub = float64(0.16 * v.column) // enough of a rail to see which way it slopes
	v.scales()
	v.s.scale = v.scale
	bottoms := make([]float64, columns)
	for i := range bottoms {
		bottoms[i] = clearance
	}
	v.right = v.column
	bottoms[0] = v.whole(0, bottoms[0])
	for i := range min(len(p.Arrivals), mostFaces) {
		at := 0
		for c := 1; c < columns; c++ { // beside the newel, the shortest first
			if at == 0 || bottoms[c] < bottoms[at] {
				at = c
			}
		}
		if bottoms[at] > clearance {
			bottoms[at] += row
		}
		bottoms[at] = v.face(p.Arrivals[i], i, float64(float64(at)*(v.column+columnGap)), bottoms[at])
	}
	y := 0.0
	for _, b := range bottoms {
		y = max(y, b)
	}
	v.s.height = caption(v.s, y+row/2, v.caption()) // the words that hold for all of it
	v.s.desc = v.describe()
	return v.s.svg()
}

// postView is a post while it is drawn: heights in mm above the floor at the post.
type postView struct {
	p      layout.Post
	job    *job.Job
	style  length.Style
	s      *sheet
	column float64 // px
	right  float64 // px, of the newel's column
	stub   float64 // px of a rail that leaves the post
	scale  float64

	shape     profile.Profile // as cut
	known     bool            // the shape is
	off       length.Length   // cut off the foot
	capped    length.Length   // cut off the top
	open      bool            // how far its foot goes below the floor is to be settled
	wide      float64         // where the rails meet it, or what it is drawn with
	low, high float64         // its foot and its top
	half      []profile.Point // half its width, up its height
	foot      string          // how it is fixed
}

func newPostView(p layout.Post, j *job.Job, style length.Style) *postView {
	v := &postView{p: p, job: j, style: style, wide: max(0, mm(p.Wide)), low: -max(0, mm(p.Down))}
	var off length.Length
	if j != nil {
		if at := j.Post(p.Name); at != nil && p.Name != "" {
			v.foot = at.Foot.Text
			if at.Part != nil && at.Part.Sized {
				if i, _ := at.Part.Profile.Check(); i < 0 && sane(at.Part.Profile.Long()) && sane(at.Part.Profile.Widest(0, at.Part.Profile.Long())) {
					v.shape, v.known = at.Part.Profile, true
				}
				off = at.Off.Length
				if p.Cut != nil && p.Cut.Length > 0 && p.Cut.Length <= v.shape.Long() && off <= v.shape.Long()-p.Cut.Length {
					v.capped = v.shape.Long() - p.Cut.Length - off // at its top, as the layout cuts it
				}
			}
			v.open = j.DeepOpen(at)
		}
	}
	if !v.known || off < 0 || off+v.capped >= v.shape.Long() {
		off, v.capped = 0, 0
	}
	if off+v.capped > 0 {
		v.shape = v.shape.Cut(off, v.capped)
		v.off = off
	}
	if v.known {
		v.high = v.low + v.shape.Long().Float()
		v.half = outline(v.shape.Face(0).Lift(v.low), v.low, v.high, false)
		if v.wide == 0 {
			v.wide = v.shape.Widest(0, v.shape.Long()).Float()
		}
		return v
	}
	if v.wide == 0 {
		v.wide = somePost
	}
	v.high = max(someTop, mm(p.BlockTo), mm(p.NeedTo)) + postOver/2
	v.half = []profile.Point{{Out: v.wide / 2, Z: v.low}, {Out: v.wide / 2, Z: v.high}}
	return v
}

// stations are the heights that are written beside the newel, lowest first.
func (v *postView) stations() []station {
	var list []station
	add := func(l length.Length, words string) {
		if sane(l) {
			list = append(list, station{z: l.Float(), left: words})
		}
	}
	if v.p.Down > 0 {
		add(-v.p.Down, v.style.Print(v.p.Down)+" below")
	}
	add(0, "floor")
	for i, r := range v.rows() {
		add(-r.Below, v.style.Print(r.Below)+" below, row "+strconv.Itoa(i+1))
	}
	p := v.p
	if p.NeedTo > p.NeedFrom {
		add(p.NeedFrom, v.style.Print(p.NeedFrom)+" needed from")
		add(p.NeedTo, v.style.Print(p.NeedTo)+" needed to")
	}
	if p.BlockTo > p.BlockFrom {
		if p.Down <= 0 || p.BlockFrom > -p.Down { // else its foot says it
			add(p.BlockFrom, v.style.Print(p.BlockFrom)+" block from")
		}
		add(p.BlockTo, v.style.Print(p.BlockTo)+" block to")
	}
	if v.known {
		top := v.shape.Long() - p.Down
		if p.Down < 0 || !sane(p.Down) {
			top = v.shape.Long()
		}
		add(top, v.style.Print(top)+" top")
	}
	// Few, and nearly in order: each is let down to its place.
	for i := 1; i < len(list); i++ {
		for k := i; k > 0 && list[k].z < list[k-1].z; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
	return list
}

// words is px for the words at the left of a part: as the widest of them, and half of the column at the most.
func (v *postView) words(list []station) float64 {
	wide := 0.0
	for _, at := range list {
		wide = max(wide, advance(at.left))
	}
	return min(wide, v.column/2)
}

// leader is px from a part's widest place to the words at its left.
const leader = off - tall

// scales chooses the one scale of the drawing: the newel on a screen, and its face twice beside the widest words.
func (v *postView) scales() {
	words := 0.0
	for _, a := range v.p.Arrivals {
		words = max(words, v.words(v.marks(a)))
	}
	room := v.column - (words + 2*clearance + leader + faceApart + v.stub + 4)
	tall := max(v.high+mm(v.capped), mm(v.p.NeedTo), mm(v.p.BlockTo)) - min(v.low-mm(v.off), v.lowest())
	room = min(room, 2*(v.column-(v.words(v.stations())+2*clearance+leader+20))) // 20 px: the floor beside it
	for _, a := range v.p.Arrivals {
		if v.set(a) {
			tall = max(tall, mm(a.Top)-mm(a.Under)+2*postAbove)
		}
	}
	v.scale = max(min(postMost, partTall/max(tall, 1), room/max(2*v.widest(), 1)), 0.0001) // 0.0001: so that nothing is divided by 0
}

// widest is the newel's widest place, mm.
func (v *postView) widest() float64 {
	wide := v.wide
	for _, f := range v.half {
		wide = max(wide, 2*f.Out)
	}
	return wide
}

// halfAt is half the newel's width at a height, mm.
func (v *postView) halfAt(z float64) float64 {
	half := side{face: v.half}.outAt(z)
	if z > v.high {
		return v.half[len(v.half)-1].Out
	}
	return half
}

// slice draws the newel from one height to another about an axis, broken off where it goes on.
func (v *postView) slice(x, from, to float64, up func(float64) float64) {
	from, to = max(from, v.low), min(to, v.high)
	if from >= to {
		return
	}
	points := outline(profile.Face{Points: v.half}, from, to, false)
	var right, left []point
	for _, f := range points {
		half := float64(f.Out * v.scale)
		right = append(right, point{x + half, up(f.Z)})
		left = append(left, point{x - half, up(f.Z)})
	}
	n := len(points)
	body := append([]point(nil), right...)
	for i := n - 1; i >= 0; i-- {
		body = append(body, left[i])
	}
	if v.known {
		v.s.path(tint, true, body...)
		v.s.path(seen, false, right...)
		v.s.path(seen, false, left...)
	} else {
		v.s.path(come, false, right...)
		v.s.path(come, false, left...)
	}
	for i, end := range []struct {
		k    int
		goes bool
	}{{0, from > v.low}, {n - 1, to < v.high || !v.known}} {
		if end.goes {
			v.s.breakAcross(left[end.k].x, right[end.k].x, up([]float64{from, to}[i]))
		} else {
			v.s.path(seen, false, left[end.k], right[end.k])
		}
	}
	for k := 1; k < n; k++ {
		if a, b := points[k-1], points[k]; a.Z == b.Z && a.Out != b.Out {
			half := float64(min(a.Out, b.Out) * v.scale)
			v.s.line(dim, x-half, up(a.Z), x+half, up(a.Z))
		}
	}
}

// breakAcross draws a line where a part that stands breaks off.
func (s *sheet) breakAcross(x1, x2, y float64) {
	const past, most, kink = 3, 4, 3 // px, as for a drawing that breaks off, at the size of a post
	m := (x1 + x2) / 2
	half := max(0, min(most, (x2-x1)/2))
	s.path(dim, false, point{x1 - past, y}, point{m - half, y}, point{m - half/3, y - kink}, point{m + half/3, y + kink}, point{m + half, y}, point{x2 + past, y})
}

// hatched fills a box with slanting lines.
func (s *sheet) hatched(x1, y1, x2, y2 float64) {
	const apart = 6 // px, a little closer than a wall's
	if x2-x1 < 1 || y2-y1 < 1 {
		return
	}
	for c := x1 + y1 + apart; c < x2+y2; c += apart { // the lines x + y = c
		a, b := point{c - y1, y1}, point{x1, c - x1}
		if a.x > x2 {
			a = point{x2, c - x2}
		}
		if b.y > y2 {
			b = point{c - y2, y2}
		}
		s.path(hatch, false, a, b)
	}
}

// lead writes words at the left of a part, each with a line to its height, and gives the lowest of them.
func (v *postView) lead(list []station, x float64, near func(z float64) float64, room float64, up func(float64) float64) float64 {
	low := 0.0
	for _, at := range list {
		v.s.path(dim, false, point{near(at.z), up(at.z)}, point{x + leader - 2*tall, up(at.z)}, point{x, at.at})
		v.s.text(x-clearance, at.at+(over-under)/2*size, end, fit(at.left, room))
		low = max(low, at.at+row/2)
	}
	return low
}

// near is where the line to a height begins beside the newel about an axis.
func (v *postView) near(x float64) func(z float64) float64 {
	const off = 2 // px
	return func(z float64) float64 { return x - float64(v.halfAt(z)*v.scale) - off }
}

// whole draws the newel from its foot to its top, and gives where it ends on the sheet.
func (v *postView) whole(x0, y0 float64) float64 {
	list := v.stations()
	bottom, top := min(v.low-mm(v.off), v.lowest()), max(v.high+mm(v.capped), mm(v.p.NeedTo), mm(v.p.BlockTo))
	for i := range list {
		list[i].z -= bottom
	}
	tallness := float64((top - bottom) * v.scale)
	high := max(tallness, float64(row*float64(len(list))))
	y0 += row / 2
	spreadIn(list, v.scale, y0, high, y0+(high+tallness)/2)
	for i := range list {
		list[i].z += bottom
	}
	foot := y0 + (high+tallness)/2
	up := func(z float64) float64 { return foot - float64((z-bottom)*v.scale) }
	room := v.words(list)
	half := float64(v.widest()*v.scale) / 2
	centre := x0 + 2 + room + clearance + leader + half
	v.slice(centre, v.low, v.high, up)
	v.s.line(axis, centre, up(v.low)+tall, centre, up(v.high)-tall)
	at := float64(v.wide*v.scale) / 2
	// The floor, cut, beside the newel.
	const floor = 14 // px
	here := float64(v.halfAt(0) * v.scale)
	v.s.line(cut, centre-half-leader+2*tall, up(0), centre-here, up(0))
	v.s.line(cut, centre+here, up(0), centre+half+floor, up(0))
	if v.off > 0 {
		w := float64(v.halfAt(v.low) * v.scale)
		v.s.path(come, true, point{centre - w, up(v.low)}, point{centre + w, up(v.low)}, point{centre + w, up(v.low - mm(v.off))}, point{centre - w, up(v.low - mm(v.off))})
	}
	if v.capped > 0 {
		w := float64(v.halfAt(v.high) * v.scale)
		v.s.path(come, true, point{centre - w, up(v.high)}, point{centre + w, up(v.high)}, point{centre + w, up(v.high + mm(v.capped))}, point{centre - w, up(v.high + mm(v.capped))})
	}
	for _, r := range v.rows() { // a cross on the axis at each row
		y := up(-mm(r.Below))
		v.s.line(dim, centre-tall, y, centre+tall, y)
		v.s.line(dim, centre, y-tall, centre, y+tall)
		v.s.circle(seen, centre, y, 2) // px, so that it is seen
	}
	p := v.p
	right := centre + half + floor + 2*tall
	spans := 0.0
	if p.NeedTo > p.NeedFrom && sane(p.NeedTo) && sane(p.NeedFrom) {
		from, to := p.NeedFrom.Float(), p.NeedTo.Float()
		v.s.path(tint, true, point{centre - at, up(from)}, point{centre + at, up(from)}, point{centre + at, up(to)}, point{centre - at, up(to)})
		for _, z := range []float64{from, to} {
			v.s.line(dim, centre-at-tall, up(z), centre+at+tall, up(z))
		}
		for _, m := range v.missing() {
			v.s.hatched(centre-at, up(m[1]), centre+at, up(m[0]))
		}
		spans = max(spans, v.span(right, up(from), up(to), "needed "+v.style.Print(p.NeedTo-p.NeedFrom)))
		right += size + 3*tall
	}
	if p.BlockTo > p.BlockFrom && sane(p.BlockTo) && sane(p.BlockFrom) {
		spans = max(spans, v.span(right, up(p.BlockFrom.Float()), up(p.BlockTo.Float()), "block "+v.style.Print(p.BlockTo-p.BlockFrom)))
	}
	low := v.lead(list, x0+2+room+clearance, v.near(centre), room, up)
	return max(low, foot+tall, spans) + clearance
}

// span draws a dimension up with its words on the right, and gives where it ends.
func (v *postView) span(x, y1, y2 float64, words string) float64 {
	if x+tall+(over+under)*size+1 > v.right {
		return 0 // no room: the heights on the left say the same
	}
	v.s.riser(x, y1, y2)
	// Words longer than the line may stand out over its ends: nothing else is in their column. They keep off the top of the sheet.
	mid := max((y1+y2)/2, advance(words)/2+1)
	v.s.upright(x+tall+over*size, mid, middle, words)
	return mid + advance(words)/2
}

// missing is where the block does not reach what the rails need, mm from and to.
func (v *postView) missing() [][2]float64 {
	p := v.p
	if p.NeedTo <= p.NeedFrom || p.BlockTo <= p.BlockFrom {
		return nil
	}
	var list [][2]float64
	if p.NeedFrom < p.BlockFrom {
		list = append(list, [2]float64{mm(p.NeedFrom), min(mm(p.BlockFrom), mm(p.NeedTo))})
	}
	if p.NeedTo > p.BlockTo {
		list = append(list, [2]float64{max(mm(p.BlockTo), mm(p.NeedFrom)), mm(p.NeedTo)})
	}
	return list
}

// rows are those of the foot's fixings that can be drawn.
func (v *postView) rows() (list []layout.FootRow) {
	for _, r := range v.p.Rows {
		if r.Figure != "" && r.Below > 0 && sane(r.Below) {
			list = append(list, r)
		}
	}
	return list
}

// lowest is the lowest row of the foot's fixings, mm; 0 where there is none.
func (v *postView) lowest() (z float64) {
	for _, r := range v.rows() {
		z = min(z, -mm(r.Below))
	}
	return z
}
