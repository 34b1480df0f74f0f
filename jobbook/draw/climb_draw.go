package draw

import (
	"iter"
	"math"
	"slices"

	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// climber draws a flight's view on its sheet.
type climber struct {
	*climb
	s   *sheet
	up  func(z float64) float64
	pen pen
}

// draw makes the sheet: the stair in section, the guard on it, marks, the dimensions right and below, labels where there is room, and the
// words under it.
func (v *climb) draw() *sheet {
	s := &sheet{id: v.id, width: v.width, title: v.title(), desc: v.describe(), scale: v.scale}
	s.remember()
	low, high := v.tall()
	top := 2 * clearance
	if v.begins || v.ends {
		top += row
	}
	if v.ends && v.hasBall() { // the ball's words may stand over the name of the upper end
		top += row
	}
	zone := float64((high - low) * v.scale)
	if !v.bare && !v.f.k.OnTreads {
		_, over := v.overRail()
		for _, t := range v.tags() {
			zone = max(zone, float64((v.f.railTop(t.at)-low)*v.scale)+over+advance(t.text))
		}
	}
	foot := top + zone
	up := func(z float64) float64 { return foot - float64((z-low)*v.scale) }
	p := climber{v, s, up, pen{s, v.scale, v.px, up}}

	p.stair()
	for i, here := range []bool{v.begins, v.ends} {
		if here {
			p.pen.side(i, v.f.m.ends[i], v.f.faces[i])
		}
	}
	p.guard()
	p.nosings()
	p.breaks()
	p.posts()
	p.column()
	y, written := foot, v.last-v.first
	if !v.bare {
		if v.f.k.OnTreads {
			var reach float64
			reach, written = p.hang()
			y = max(y, reach)
		} else {
			written = p.tape()
		}
	}
	y = p.rows(y + clearance)
	s.taken.foot = y
	unsaid := p.labels()

	y += clearance
	for _, line := range v.caption(written, unsaid) {
		y += row
		s.text(2, y-under*size, start, line)
	}
	s.height = math.Ceil(y + 2*clearance)
	return s
}

// stair draws the floor below, risers and treads, and the landing.
func (p climber) stair() {
	f := p.f
	l := cut
	if !f.stair {
		l = come
	}
	open := f.m.r.Job != nil && f.m.r.Job.Stair != nil && f.m.r.Job.Stair.OpenRisers.Yes
	var line []point
	add := func(x, z float64) { line = append(line, point{p.px(min(max(x, p.from), p.to)), p.up(z)}) }
	begins := f.on(p.from) // the tread or floor that the view begins on
	add(p.from, f.height(begins))
	for i := max(begins+1, 0); i < len(f.steps) && f.steps[i].at < p.to; i++ {
		s := f.steps[i]
		if s.at <= p.from {
			continue
		}
		add(s.at, f.height(i-1))
		if open {
			p.s.path(l, false, line...)
			line = nil
			add(s.at-f.nosing, s.height)
			continue
		}
		add(s.at, s.height)
		if f.nosing > 0 {
			add(s.at-f.nosing, s.height)
		}
	}
	add(p.to, f.height(f.on(p.to)))
	p.s.path(l, false, line...)
}

// guard draws rail, shoe and balusters.
func (p climber) guard() {
	f := p.f
	reach := func(i int, z float64) float64 { // where something at a height meets an end, or where the drawing breaks off
		switch {
		case i == 0 && p.begins:
			return f.faces[0] + f.m.ends[0].outAt(z)
		case i == 0:
			return p.from
		case p.ends:
			return f.faces[1] - f.m.ends[1].outAt(z)
		}
		return p.to
	}
	bar := func(top, under func(x float64) float64, plates bool) {
		ends := [2]float64{}
		for i, here := range []bool{p.begins, p.ends} {
			z := (top(f.faces[i]) + under(f.faces[i])) / 2
			ends[i] = reach(i, z)
			if plates && here {
				p.pen.plate(i, f.m.ends[i], f.faces[i], under(ends[i]), top(ends[i]))
				ends[i] += float64(float64(1-2*i) * f.m.ends[i].plate)
			}
		}
		line := func(z func(x float64) float64) []point {
			return []point{{p.px(ends[0]), p.up(z(ends[0]))}, {p.px(ends[1]), p.up(z(ends[1]))}}
		}
		p.pen.bar(line(top), line(under), p.begins, p.ends)
	}
	if f.sized {
		bar(f.railTop, f.under, true)
	} else {
		x1, x2 := reach(0, f.railTop(f.faces[0])), reach(1, f.railTop(f.faces[1]))
		p.s.line(come, p.px(x1), p.up(f.railTop(x1)), p.px(x2), p.up(f.railTop(x2)))
	}
	if f.shoe[1] > 0 || f.shoe[0] != 0 {
		bar(func(x float64) float64 { return f.line(x) + f.shoe[1] }, func(x float64) float64 { return f.line(x) + f.shoe[0] }, false)
	}
	if p.crowded() {
		return
	}
	for _, o := range f.m.olds() {
		if x := f.faces[0] + mm(o.At); f.placed && f.sized && x >= p.from && x <= p.to {
			p.pen.old(f.m, o, p.px(x), f.line(x)+f.shoe[1], f.under(x)-f.line(x)-f.shoe[1])
		}
	}
	for _, s := range f.marks[p.first:p.last] {
		shape, z, ok := f.stick(s)
		if !ok {
			from := f.height(s.on)
			p.s.line(axis, p.px(s.x), p.up(from), p.px(s.x), p.up(f.under(s.x)))
			continue
		}
		foot, head := f.slope, f.slope
		if f.k.OnTreads {
			foot = 0
		}
		if f.m.r.Job.Baluster.Top.Text == "pin" {
			head = 0
		}
		p.pen.stick(p.px(s.x), z, shape, foot, head)
	}
	if b := f.ball; b != nil && p.hasBall() {
		p.s.circle(ball, p.px(b.x), p.up(b.z), p.ballRadius())
	}
}

// ballRadius is px, so that it is seen.
func (v *climb) ballRadius() float64 { return max(float64(v.f.ball.r*v.scale), 1.5) }

// hasBall reports whether the worst opening lies in this view, the whole ball.
func (v *climb) hasBall() bool {
	b := v.f.ball
	low, _ := v.tall()
	return b != nil && (b.x-b.r >= v.from || v.begins) && (b.x+b.r <= v.to || v.ends) && b.z-b.r >= low
}

// crowded reports whether the balusters are too close together to be drawn.
func (v *climb) crowded() bool {
	for i := v.first + 1; i < v.last; i++ {
		if float64((v.f.marks[i].x-v.f.marks[i-1].x)*v.scale) < tooClose {
			return true
		}
	}
	return false
}

// stick is the part of a baluster that is seen between where it stands and the rail: its profile from the bottom, and the height of
// that. False while its shape or a height is not known.
func (f *flight) stick(s stood) (p profile.Profile, z float64, ok bool) {
	j, m := f.m.r.Job, s.mark
	if j == nil || j.Baluster == nil || !j.Baluster.Sized || !f.sized || !f.k.OnTreads && f.shoe == [2]float64{} {
		return p, 0, false
	}
	if !sane(m.Lift) || !sane(m.Stands) || !sane(m.Head) || m.Head <= m.Stands {
		return p, 0, false
	}
	p = j.Baluster.Profile
	if i, _ := p.Check(); i >= 0 || !sane(p.Long()) {
		return p, 0, false
	}
	bottom, top := m.Stands-m.Lift, m.Lift+p.Long()-m.Head
	shape, alike := f.m.last.alike(bottom, top)
	if !alike {
		shape = p.Cut(bottom, top)
		f.m.last = cutStick{bottom, top, shape}
	}
	p = shape
	return p, max(m.Stands, m.Lift).Float(), len(p.Stations) > 1
}

// nosings draws the line of the nosings, thin and dashed.
func (p climber) nosings() {
	f := p.f
	x1, x2 := max(p.from, f.steps[0].at-f.nosing), min(p.to, f.last().at-f.nosing)
	if x1 < x2 {
		p.s.line(nose, p.px(x1), p.up(f.line(x1)), p.px(x2), p.up(f.line(x2)))
	}
}

// breaks draws where the drawing breaks off: from over the rail to under the stair.
func (p climber) breaks() {
	const past = 4 // px
	for i, x := range []float64{p.from, p.to} {
		if i == 0 && p.begins || i == 1 && p.ends {
			continue
		}
		p.s.breakOff(p.px(x), p.up(p.f.railTop(x))-past, p.up(p.f.height(p.f.on(x)))+past)
	}
}

// posts draws how high the rail is at its lower end, above what the post stands on; at the upper end that is in the column.
func (p climber) posts() {
	f := p.f
	if !p.begins || !f.posts() {
		return
	}
	x := p.px(p.from) - 2*tall
	if p.walled(0) {
		x -= wallDeep
	}
	words := f.m.style.Print(f.post(0))
	y1, y2 := p.up(f.stands[0].Float()), p.up(f.railTop(f.faces[0]))
	if f.post(0) <= 0 || y1-y2 < advance(words)+2*tall {
		return
	}
	p.s.riser(x, y1, y2)
	p.s.upright(x-tall-under*size, (y1+y2)/2, middle, words)
}

// column draws the heights on the right: of each riser, or in an overview of all together; over them that of the rail above the landing.
func (p climber) column() {
	f := p.f
	if !f.stair || p.high < p.low {
		return
	}
	x := p.px(p.to) + 2*tall
	if p.ends && p.walled(1) {
		x += wallDeep
	}
	levels := []float64{p.up(f.height(p.low - 1))}
	var says []string
	if p.bare {
		says = append(says, p.counted(p.high-p.low+1)+", "+f.m.style.Print(p.rise()))
		levels = append(levels, p.up(f.height(p.high)))
	} else {
		for i := p.low; i <= p.high; i++ {
			says = append(says, f.steps[i].riser)
			levels = append(levels, p.up(f.steps[i].height))
		}
	}
	if p.ends && f.posts() && f.post(1) > 0 && f.stands[1].Float() == f.height(p.high) {
		says = append(says, f.m.style.Print(f.post(1)))
		levels = append(levels, p.up(f.railTop(f.faces[1])))
	}
	p.s.line(dim, x, levels[0], x, levels[len(levels)-1])
	for i, y := range levels {
		p.s.line(dim, x-tall, y, x+tall, y)
		p.s.line(tick, x-slant, y+slant, x+slant, y-slant)
		if i == 0 {
			continue
		}
		middleOf, high := (levels[i-1]+y)/2, levels[i-1]-y
		switch words := says[i-1]; {
		case !p.bare && high > row:
			p.s.text(x+tall+clearance/2, middleOf+(over-under)/2*size, start, words)
		case p.bare:
			if short := f.m.style.Print(p.rise()); i == 1 && advance(words)+2*tall > high {
				words = short
			}
			if advance(words)+2*tall <= high {
				p.s.upright(x+tall+over*size, middleOf, middle, words)
			}
		}
	}
}

// rise is the height of a view's risers, going the level length of its treads.
func (v *climb) rise() length.Length {
	treads := v.f.k.Treads
	rise := treads[v.high].Height
	if v.low > 0 {
		rise -= treads[v.low-1].Height
	}
	return rise
}

func (v *climb) going() length.Length { return v.f.k.Treads[v.high].At - v.f.k.Treads[v.low].At }

// rows draws what stands under the stair: each going with the number of its tread, or all goings; and the level clear.
func (p climber) rows(y float64) float64 {
	f := p.f
	if f.stair && p.bare && p.low < p.high {
		y += 2 * tall
		x1, x2 := p.px(f.steps[p.low].at), p.px(f.steps[p.high].at)
		p.s.dimension(x1, x2, y)
		p.s.under(x1, x2, y+tall+over*size, counted(p.high-p.low, p.words("going", "tread"), p.words("goings", "treads"))+", "+f.m.style.Print(p.going()))
		y += tall + row
	}
	if f.stair && !p.bare && p.low < p.high {
		y = p.goings(y + 2*tall)
	}
	if p.of == 0 {
		words := p.words("level clear to be measured", "length to be measured")
		if f.placed {
			words = p.words("level clear ", "between the ends ") + f.m.style.Print(f.k.To-f.k.From)
		}
		y += 2*tall + clearance
		x1, x2 := p.px(f.faces[0]), p.px(f.faces[1])
		p.s.dimension(x1, x2, y)
		p.s.under(x1, x2, y+tall+over*size, words)
		y += tall + row
	}
	return y
}

// underGoings reports what has room under each going: its words in the way of the line, the tread's number, the number with its word.
func (v *climb) underGoings() (level, numbered, named bool) {
	level, numbered, named = true, true, true
	for _, s := range v.treads() {
		room := float64(s.behind*v.scale) - 2*clearance
		level = level && advance(s.going) <= room
		numbered = numbered && advance(number(s)) <= room
		named = named && advance("tread "+number(s)) <= room
	}
	return level, numbered, named
}

// goings draws each going, with a line down from every riser, and under it the number of the tread.
func (p climber) goings(y float64) float64 {
	f := p.f
	level, numbered, named := p.underGoings()
	wide := 0.0
	for _, s := range p.treads() {
		wide = max(wide, advance(s.going))
	}
	p.s.line(dim, p.px(f.steps[p.low].at), y, p.px(f.steps[p.high].at), y)
	for i := p.low; i <= p.high; i++ {
		x := p.px(f.steps[i].at)
		p.s.line(dim, x, p.up(f.height(i-1))+clearance, x, y+tall)
		p.s.line(tick, x-slant, y+slant, x+slant, y-slant)
	}
	base := y + tall + over*size
	for _, s := range p.treads() {
		mid := p.px(s.at + s.behind/2)
		if level {
			p.s.text(mid, base, middle, s.going)
		} else if float64(s.behind*p.scale) >= upPitch {
			p.s.upright(mid+(over-under)/2*size, y+2*tall, end, s.going)
		}
	}
	if level {
		y = base + under*size
	} else {
		y += 2*tall + wide
	}
	if !numbered {
		return y
	}
	y += row
	for _, s := range p.treads() {
		words := number(s)
		if named {
			words = "tread " + words
		}
		p.s.text(p.px(s.at+s.behind/2), y-under*size, middle, words)
	}
	return y
}

// unsaid are the words that found no place in the drawing.
type unsaid struct{ ball bool }

// labels puts words where there is room: the worst opening, the ends' names over them, the height of the rail over a nosing, and how
// the steel square is set.
func (p climber) labels() (un unsaid) {
	if p.hasBall() {
		un.ball = !p.ball()
	}
	p.names()
	if p.f.rail && p.f.stair {
		p.overNosing()
	}
	if p.of == 0 && !p.alone {
		p.square()
	}
	return un
}

// names writes what the ends are called, over them.
func (p climber) names() {
	f := p.f
	for i, here := range []bool{p.begins, p.ends} {
		if !here {
			continue
		}
		words := f.m.endLabel(i)
		face := f.m.ends[i].face
		top := p.up(face[len(face)-1].Z)
		const first = over*size + 2 // px: over everything
		p.s.place(func(yield func(label) bool) {
			for _, room := range []float64{p.width - 2*clearance, (p.width - 4*clearance) / 2} {
				words = fit(words, room)
				wide := advance(words)
				// Over its end, reaching towards the opening or away from it, or else at the side of the sheet.
				above, off, side := min(p.px(p.from), p.width-2-wide), max(2, p.px(f.faces[0])-wide), 2.0
				to := start
				if i == 1 {
					above, off, side, to = max(p.px(p.to), wide+2), min(p.px(f.faces[1])+wide, p.width-2), p.width-2, end
				}
				const near = 3 * row // of its end, so that it is seen whose name it is
				for k, x := range []float64{above, off, side} {
					for y := max(top-clearance-under*size, first); ; y = max(y-row/4, first) {
						if !yield(label{x, y, to, words, nil}) {
							return
						}
						if y == first || k < 2 && y < top-near {
							break
						}
					}
				}
				if !yield(label{above, first, to, words, nil}) {
					return
				}
			}
		})
	}
}

// ball writes the size of the worst opening, over the rail or under the stair. It reports whether that is said in words.
func (p climber) ball() bool {
	f := p.f
	x, y, r := p.px(f.ball.x), p.up(f.ball.z), p.ballRadius()
	words, ok := p.s.place(func(yield func(label) bool) {
		for _, words := range []string{f.ball.text, f.m.decimal(f.worstOpening().Worst)} {
			for l := range p.over(x, y-r, p.up(f.railTop(f.ball.x)), words) {
				if !yield(l) {
					return
				}
			}
			wide := advance(words)
			for k := range 12 {
				base := p.up(f.height(f.on(f.ball.x))) + 3*tall + over*size + float64(row*float64(k))/2
				lead := []stroke{{point{x, y + r}, point{x, base - over*size - 2}}}
				for _, to := range []float64{x + wide/2, x + clearance} {
					if !yield(label{min(max(to, wide+2), p.width-2), base, end, words, lead}) {
						return
					}
				}
			}
		}
	})
	return ok && words == f.ball.text
}

// over are places for words over the rail, at the head of a line up from y.
func (p climber) over(x, y, rail float64, words string) iter.Seq[label] {
	const gap = 6 // px from the rail to the words over it
	wide := advance(words)
	return func(yield func(label) bool) {
		for k := range 30 {
			bottom := rail - gap - float64(row*float64(k))/4
			lead := []stroke{{point{x, y}, point{x, bottom + 1}}}
			for _, to := range []float64{x + clearance, x + wide/2, x + wide - clearance} { // where the words end
				if to = max(to, wide+2); to < p.width-2 && to-wide < x+clearance && !yield(label{to, bottom - under*size, end, words, lead}) {
					return
				}
			}
		}
	}
}

// overNosing writes the height of the rail above the line of the nosings, at the nosing next to the middle where there is room.
func (p climber) overNosing() {
	f := p.f
	words := f.m.style.Print(f.k.Top)
	var list []float64
	for _, s := range f.steps {
		if x := s.at - f.nosing; x > max(p.from, f.faces[0]) && x < min(p.to, f.faces[1]) {
			list = append(list, x)
		}
	}
	amid := len(list) / 2
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return away(a-amid) - away(b-amid) })
	for _, i := range order {
		at := list[i]
		x, low, high := p.px(at), p.up(f.line(at)), p.up(f.railTop(at))
		ok := true
		for _, y := range []float64{low, high} {
			ok = ok && p.s.taken.clear(stroke{point{x - tall, y}, point{x + tall, y}})
		}
		if ok {
			_, ok = p.s.place(p.over(x, low, high, words))
		}
		if ok {
			for _, y := range []float64{low, high} {
				p.s.line(dim, x-tall, y, x+tall, y)
				p.s.line(tick, x-slant, y+slant, x+slant, y-slant)
			}
			return
		}
	}
}

func away(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// square draws how the steel square is set, where there is room: its two legs with their figures.
func (p climber) square() {
	f := p.f
	rise, run, ok := f.square()
	if !ok {
		return
	}
	const leg, most = 48.0, 72.0 // px: legs of a size that is seen as a small thing beside the drawing
	wide := min(leg, most/f.slope)
	high := float64(wide * f.slope)
	foot := p.up(0)
	const step = 12                  // px
	try := func(x, y float64) bool { // the corner at the acute angle
		all := box{x - clearance, y - high - clearance, x + wide + 2*clearance + advance(rise), y + 2 + row}
		if y-high < 1 || !p.s.taken.free(all, p.width, clearance) {
			return false
		}
		p.s.path(dim, true, point{x, y}, point{x + wide, y}, point{x + wide, y - high})
		p.s.text(x+wide/2, y+2+over*size, middle, run)
		p.s.text(x+wide+clearance, y-high/2+(over-under)/2*size, start, rise)
		return true
	}
	for x := p.px(p.to) - wide - 3*clearance - advance(rise); x > p.width/2; x -= step { // under the stair
		for y := foot - 2 - row; y > foot-6*row; y -= step {
			if try(x, y) {
				return
			}
		}
	}
	for x := 3 * clearance; x < p.width/2; x += step { // over the rail
		for y := 2*row + high; y < foot; y += step {
			if try(x, y) {
				return
			}
		}
	}
}
