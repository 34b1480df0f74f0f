package draw

// clearance is px between two texts, or between a text and a line.
const clearance = 4.0

// figuresUnder is how far the ink of figures reaches below the base line, of the size: only a fraction's stroke does.
const figuresUnder = 0.12

// rows is how the marks' words stand.
type rows int

const (
	oneRow rows = iota
	twoRows
	upright // along the mark, read from the right
)

// marking is the running marks of a view, as they are written under it.
type marking struct {
	how   rows
	list  []tag
	tags  int // of them, those written; the datum needs no words
	width float64
	datum bool // the first of the list is the face that the others are measured from
}

// tag is a mark on the sheet.
type tag struct {
	x      float64
	text   string
	row    int
	silent bool // no room for its words
}

// written is how many balusters' marks are written.
func (g marking) written() int {
	if g.datum {
		return g.tags - 1
	}
	return g.tags
}

// whole reports whether every mark is written.
func (g marking) whole() bool { return g.tags == len(g.list) }

// height is px from the line that the marks stand on down to the lowest word.
func (g marking) height() float64 {
	if g.how == upright {
		return 2*tall + g.width
	}
	return 2*tall + size*over + under*size + float64(row*float64(g.how))
}

// marking chooses how a view's marks are written: in one row, in two in turn, or upright, leaving out what has no room even so.
func (v *view) marking() marking {
	var g marking
	if g.datum = v.begins; g.datum {
		g.list = append(g.list, tag{x: v.px(0), text: v.m.style.Print(0)})
	}
	for _, k := range v.m.marks[v.first:v.last] {
		g.list = append(g.list, tag{x: v.px(k.x), text: k.text})
	}
	for _, t := range g.list {
		g.width = max(g.width, advance(t.text))
	}
	g.tags = len(g.list)
	for _, how := range []rows{oneRow, twoRows} {
		if g.fits(how, v.width) {
			g.how = how
			for i := range g.list {
				g.list[i].row = i % int(how+1)
			}
			return g
		}
	}
	g.how = upright
	g.tags = 0
	next := 0.0
	for i := range g.list {
		t := &g.list[i]
		if i == 1 && v.begins && t.x < next { // the datum's nought gives way: its flag says as much
			g.list[0].silent = true
			next = 0
		}
		if t.silent = i > 0 && t.x < next; !t.silent {
			g.tags++
			next = t.x + upPitch
		}
	}
	return g
}

// upPitch is px from one upright mark to the next, so that their words stand clear: figures are 0.73 of the size high, which leaves
// 4 px between them.
const upPitch = size*(over+figuresUnder) + 1.5

// fits reports whether the words of every mark keep clear of each other, of the other marks' lines and of the sheet's edges.
func (g marking) fits(how rows, width float64) bool {
	half := func(i int) float64 { return advance(g.list[i].text) / 2 }
	for i, t := range g.list {
		if t.x-half(i) < 1 || t.x+half(i) > width-1 {
			return false
		}
		if j := i + 1 + int(how); j < len(g.list) && g.list[j].x-t.x < half(i)+half(j)+clearance {
			return false // the next one in the same row
		}
		if how == twoRows && i+1 < len(g.list) && g.list[i+1].x-t.x < max(half(i), half(i+1))+clearance {
			return false // a line down to the second row passes beside words in the first
		}
	}
	return true
}
