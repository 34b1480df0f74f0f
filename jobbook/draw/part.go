package draw

import (
	"fmt"
	"hash/fnv"
	"math"
	"strconv"
	"strings"

	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

const (
	// partTall is how high a part is drawn, px: a 42 in baluster at 12 px an inch, so that its turning is read.
	partTall = 504.0
	// partWide is how wide it may become, px: what the words on either side leave of a phone.
	partWide = 90.0
	// mostStations bounds the stations that are dimensioned: as many rows as stand beside a part on two screens of a phone.
	mostStations = 60
	// off is px from a part's widest place to the words beside it: room for the leaders to part.
	off = 26.0
)

// station is a height of a part with its words.
type station struct {
	z, half     float64 // mm
	left, right string  // how high, and how wide
	at          float64 // px, where its words stand
}

// ProfileFigure draws a part up its length, px Phone wide, with the height and width of each of its stations. Its id is made
// from the title, the profile and the style, so that it is the same wherever the same figure stands.
func ProfileFigure(p profile.Profile, title string, style length.Style) string {
	title = plain(title)
	s := &sheet{id: "d-part-" + partID(p, title, style), width: Phone, title: "Profile of " + or(title, "a part")}
	stations, left := stationsOf(p, style)
	if len(stations) == 0 {
		s.desc = "The profile is to be measured."
		s.height = caption(s, clearance, or(title, "Part")+": profile to be measured.")
		return s.svg()
	}
	long, widest := p.Long().Float(), p.Widest(0, p.Long()).Float()
	scale := min(partTall/long, partWide/widest)
	high := max(float64(long*scale), float64(row*float64(len(stations))))
	top := row
	spread(stations, scale, top, high)
	foot := top + (high+float64(long*scale))/2
	up := func(z float64) float64 { return foot - float64(z*scale) }

	reach := float64(widest*scale)/2 + off
	room := 0.0
	for _, at := range stations {
		room = max(room, advance(at.left))
	}
	centre := min(room+2*clearance+reach, Phone/2) // the words on the right have more to say
	var body, back []point
	for _, at := range p.Stations {
		half := float64(at.Width.Float()*scale) / 2
		body = append(body, point{centre + half, up(at.At.Float())})
		back = append(back, point{centre - half, up(at.At.Float())})
	}
	for i := len(back) - 1; i >= 0; i-- {
		body = append(body, back[i])
	}
	s.body(body...)
	for i := 1; i < len(p.Stations); i++ {
		if a, b := p.Stations[i-1], p.Stations[i]; a.At == b.At {
			half := float64(min(a.Width, b.Width).Float()*scale) / 2
			s.line(dim, centre-half, up(a.At.Float()), centre+half, up(a.At.Float()))
		}
	}
	s.line(axis, centre, up(0)+tall, centre, up(long)-tall)

	for _, at := range stations {
		y, half := up(at.z), float64(at.half*scale)
		const air = 2 // px between the part and its leaders
		near := reach - off + 2*air
		for _, side := range []float64{-1, 1} {
			x := func(away float64) float64 { return centre + float64(side*away) }
			s.path(dim, false, point{x(half + air), y}, point{x(near), y}, point{x(reach - tall), at.at}, point{x(reach), at.at})
		}
		base := at.at + (over-under)/2*size
		s.text(centre-reach-clearance, base, end, fit(at.left, centre-reach-2*clearance))
		s.text(centre+reach+clearance, base, start, fit(at.right, Phone-centre-reach-2*clearance))
	}

	unit := "Inches"
	if style.System == length.Millimetres {
		unit = "Millimetres"
	}
	words := or(title, "Part") + ". " + unit + "; left: height from the bottom as bought, right: width."
	if left > 0 {
		words += fmt.Sprintf(" %d more stations are not dimensioned.", left)
	}
	s.height = caption(s, top+high+row, words)
	s.desc = partWords(p, stations, left, style)
	return s.svg()
}

// stationsOf puts a profile's stations into words; left is how many there is no room for. None where the profile can't be drawn.
func stationsOf(p profile.Profile, style length.Style) (list []station, left int) {
	if i, _ := p.Check(); i >= 0 || !sane(p.Long()) {
		return nil, 0
	}
	for _, s := range p.Stations {
		if !sane(s.Width) {
			return nil, 0
		}
		kind := "square "
		if s.Round {
			kind = "round "
		}
		list = append(list, station{z: s.At.Float(), half: s.Width.Float() / 2, left: style.Print(s.At), right: kind + style.Print(s.Width)})
	}
	if n := len(list); n > mostStations { // the first ones, and the last
		left = n - mostStations
		list = append(list[:mostStations-1], list[n-1])
	}
	return list, left
}

// spread sets where each station's words stand: at its own height where there is room, else pushed up and down with its neighbours, a
// row apart. Stations that touch are one block, which stands about the middle of its members' own heights.
func spread(list []station, scale, top, high float64) {
	long := float64(list[len(list)-1].z * scale)
	spreadIn(list, scale, top, high, top+(high+long)/2)
}

// spreadIn is spread where height 0 stands at foot on the sheet.
func spreadIn(list []station, scale, top, high, foot float64) {
	type block struct {
		first, n int
		sum      float64 // of where each would have its block's first
	}
	var blocks []block
	for i, s := range list {
		want := foot - float64(s.z*scale)
		blocks = append(blocks, block{i, 1, want})
		for len(blocks) > 1 {
			a, b := blocks[len(blocks)-2], blocks[len(blocks)-1]
			if a.sum/float64(a.n)-float64(row*float64(a.n)) >= b.sum/float64(b.n) {
				break
			}
			a.sum += b.sum + float64(float64(row*float64(a.n))*float64(b.n))
			a.n += b.n
			blocks = append(blocks[:len(blocks)-2], a)
		}
	}
	for _, b := range blocks {
		at := b.sum / float64(b.n)
		at = max(min(at, top+high), top+float64(row*float64(b.n-1)))
		for k := range b.n {
			list[b.first+k].at = at - float64(row*float64(k))
		}
	}
	// Blocks at the edges may have been pushed into the next ones: up from the bottom, then down from the top. There is room, since
	// high holds all rows.
	for i := 1; i < len(list); i++ {
		list[i].at = min(list[i].at, list[i-1].at-row)
	}
	list[len(list)-1].at = max(list[len(list)-1].at, top)
	for i := len(list) - 1; i > 0; i-- {
		list[i-1].at = max(list[i-1].at, list[i].at+row)
	}
}

// caption writes lines from a height on, and gives the sheet's height under them.
func caption(s *sheet, y float64, words string) float64 {
	for _, line := range wrap(words, s.width-4) {
		y += row
		s.text(2, y-under*size, start, line)
	}
	return math.Ceil(y + 2*clearance)
}

// captioned puts sentences under what is drawn down to a height, each on lines of its own, and finishes the sheet; with what the drawing is before
// them they describe it.
func (s *sheet) captioned(bottom float64, what string, sentences []string) string {
	y := bottom + row/2
	for _, say := range sentences {
		for _, line := range wrap(say, s.width-4) {
			y += row
			s.text(2, y-under*size, start, line)
		}
	}
	s.height = math.Ceil(y + 2*clearance)
	s.desc = what + strings.Join(sentences, " ")
	return s.svg()
}

func partWords(p profile.Profile, list []station, left int, style length.Style) string {
	var b strings.Builder
	fmt.Fprintf(&b, "Length as bought %s. From the bottom up, in %s:", style.With(p.Long()), style.System)
	for i, s := range list {
		if i > 0 {
			b.WriteString(";")
		}
		b.WriteString(" at " + s.left + " " + s.right)
	}
	b.WriteString(".")
	if left > 0 {
		fmt.Fprintf(&b, " %d more stations are left out.", left)
	}
	return b.String()
}

// partID tells figures apart: FNV-1a of what they show.
func partID(p profile.Profile, title string, style length.Style) string {
	h := fnv.New64a()
	fmt.Fprintf(h, "%q %d %d %d %t", title, style.System, style.Division, style.Rounding, style.Feet)
	for _, s := range p.Stations {
		fmt.Fprintf(h, " %d %d %t", s.At, s.Width, s.Round)
	}
	return strconv.FormatUint(h.Sum64(), 36) // 36: digits and letters, the shortest id
}

func or(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}
