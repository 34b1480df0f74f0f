package draw

import (
	"strconv"
	"strings"
)

// climb is a stretch of a flight on a sheet.
type climb struct {
	extent
	f         *flight
	id        string
	low, high int  // its treads, as indices: from low to before high; the riser at high is drawn too
	bare      bool // without marks and without each riser and going: an overview
	follow    int  // pieces that follow an overview
	alone     bool // an overview for whoever lives there: its marks stand nowhere and are not missed, nor is what only the work asks for
	more      int  // treads that are in no piece
}

const (
	// pieceTall is how high a piece of a flight is drawn on a phone, px: as high as one screen shows with a line or two of its words.
	pieceTall = 480
	// worked is the scale that pieces are to have at least, px per mm: 5 px an inch, at which 10 in of a tread hold three upright marks.
	worked = 5 / inch
	// lip is drawn beyond a piece's risers, mm, so that they are seen to be risers.
	lip = 1.25 * inch
)

// views are a flight's panels for a page of a width: one where all can be read in it, else an overview and then pieces of a few
// treads each.
func (f *flight) views(width float64) []stretch {
	stem := "d-" + name(f.m.r.ID) + "-"
	v := f.whole(width)
	v.id = stem + "0"
	treads := f.upmost - f.lowest
	if v.carries() && (v.scale >= legible || treads < 2) || !f.stair {
		return []stretch{v}
	}
	if treads < 2 { // there is nothing to divide
		v.bare = treads < 1
		v.fit(v.most())
		return []stretch{v}
	}
	v.bare = true
	v.fit(v.most())
	pieces, more := f.pieces(width)
	v.follow = len(pieces)
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

// overview is the flight without marks, and without each riser and going.
func (f *flight) overview(width float64) string {
	if f.ball != nil {
		f.ball.text = strings.ToLower(worstWords(true)) + f.m.decimal(f.worstOpening().Worst)
	}
	v := f.whole(width)
	v.id, v.bare, v.alone = "d-"+name(f.m.r.ID)+"-overview", true, true
	v.fit(v.most())
	return v.draw().svg()
}

// risers are those that are drawn, treads those between them.
func (v *climb) risers() []step {
	if v.high < v.low {
		return nil
	}
	return v.f.steps[v.low : v.high+1]
}

func (v *climb) treads() []step {
	if v.high <= v.low {
		return nil
	}
	return v.f.steps[v.low:v.high]
}

// whole is the flight from end to end, with everything written as long as nothing says otherwise.
func (f *flight) whole(width float64) *climb {
	v := &climb{f: f, low: f.lowest, high: f.upmost, extent: extent{width: width, from: f.left, to: f.right, last: len(f.marks), begins: true, ends: true}}
	v.bare = !f.stair
	v.fit(v.most())
	return v
}

// carries reports whether every riser, going and mark is written at the view's scale.
func (v *climb) carries() bool {
	if !v.f.stair || v.high < v.low {
		return false
	}
	for _, s := range v.risers() {
		if float64(s.below*v.scale) < row+1 {
			return false
		}
	}
	for _, s := range v.treads() {
		if float64(s.behind*v.scale) < upPitch {
			return false
		}
	}
	for _, t := range v.tags() {
		if t.silent {
			return false
		}
	}
	return true
}

// tall is what the scale applies to up the sheet, mm.
func (v *climb) tall() (low, high float64) {
	f := v.f
	low = f.height(f.on(v.from))
	x := max(v.from, f.faces[0])
	low = min(low, f.under(x), f.line(x)+f.shoe[0]) // a rail or shoe that begins far before the stair runs down below the floor
	high = max(f.railTop(min(v.to, f.faces[1])), f.railTop(min(v.from, f.faces[1])))
	for i, here := range []bool{v.begins, v.ends} {
		if face := f.m.ends[i].face; here && len(face) > 0 {
			high = max(high, face[len(face)-1].Z)
			low = min(low, face[0].Z)
		}
	}
	return low, max(high, low+1)
}

// most is the scale at which the drawing is as high as it may be.
func (v *climb) most() float64 {
	low, high := v.tall()
	if v.of > 0 {
		return max(pieceTall, v.width*0.8) / (high - low) // a little lower than wide on a page
	}
	return max(tallest, v.width) / (high - low) // a flight is nearly as high as it is long
}

// fit sets the scale: the largest that the width and a height allow.
func (v *climb) fit(most float64) {
	left, right := v.margins()
	across := max(v.to-v.from, 1)
	v.scale = min(most, (v.width-left-right)/across)
	v.at = left + (v.width-left-right-float64(across*v.scale))/2
}

// margins are px left and right of what is to scale.
func (v *climb) margins() (left, right float64) {
	const air, off = 8, 12 // px: a little air; where the drawing breaks off
	left, right = off, off
	if v.begins {
		left = air
		if v.walled(0) {
			left += wallDeep
		}
		if v.f.posts() {
			left += size + 4*tall
		}
	}
	if v.ends && v.walled(1) {
		right += wallDeep
	}
	return left, right + v.columnRoom()
}

func (v *climb) walled(i int) bool { return v.f.m.ends[i].wall || v.f.m.ends[i].half }

// columnRoom is px for the heights on the right: upright in an overview, beside each riser else.
func (v *climb) columnRoom() float64 {
	switch {
	case !v.f.stair || v.high < v.low:
		return 0
	case v.bare:
		return size + 4*tall
	}
	wide := 0.0
	for _, s := range v.risers() {
		wide = max(wide, advance(s.riser))
	}
	if v.ends && v.f.posts() {
		wide = max(wide, advance(v.f.m.style.Print(v.f.post(1))))
	}
	return wide + 3*tall
}

// stretch is a piece of a flight: treads low to before high.
func (f *flight) stretch(width float64, low, high int) *climb {
	v := &climb{f: f, low: low, high: high, extent: extent{width: width, begins: low == f.lowest, ends: high == f.upmost, piece: 1, of: 1}}
	v.from, v.to = f.left, f.right
	if !v.begins {
		v.from = f.steps[low].at - f.nosing - lip
	}
	if !v.ends {
		v.to = f.steps[high].at + lip
	}
	v.first, v.last = 0, len(f.marks)
	for i := len(f.marks) - 1; i >= 0; i-- {
		switch on := f.marks[i].on; {
		case !v.begins && on < low:
			v.first = max(v.first, i+1)
		case !v.ends && on >= high:
			v.last = i
		}
	}
	return v
}

// pieces divides a flight between risers, into stretches of nearly as many treads each, all at one scale: the fewest in which everything is
// written, or else can be seen. more is how many treads are in none of them.
func (f *flight) pieces(width float64) (list []*climb, more int) {
	n := f.upmost - f.lowest
	seen := 0
	count := 1
	for ; count < n; count++ {
		list = f.divide(width, count)
		if list[0].scale < worked {
			continue
		}
		if seen == 0 {
			seen = count
		}
		ok := true
		for _, v := range list {
			ok = ok && v.carries()
		}
		if ok {
			break
		}
	}
	if count == n && seen > 0 {
		count = seen
	}
	list = f.divide(width, count)
	if len(list) > mostPieces {
		list = list[:mostPieces]
	}
	return list, f.upmost - list[len(list)-1].high
}

// divide makes so many pieces, at one scale.
func (f *flight) divide(width float64, count int) []*climb {
	n := f.upmost - f.lowest
	var list []*climb
	scale := 0.0
	for i := range count {
		v := f.stretch(width, f.lowest+i*n/count, f.lowest+(i+1)*n/count)
		v.piece, v.of = i+1, count
		v.fit(v.most())
		if i == 0 || v.scale < scale {
			scale = v.scale
		}
		list = append(list, v)
	}
	for _, v := range list {
		v.fit(scale)
	}
	return list
}
