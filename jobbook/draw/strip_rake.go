package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// Of the strips of treads, mm.
const (
	treadPitch = 46.0  // from one to the next below it
	treadLower = 43.0  // where it is cut below: under the marks there are two rows of words and a bar
	treadOver  = 6.0   // beyond the edge of the nosing, so that its line is seen
	treadOn    = 30.0  // beyond the last mark where nothing ends the strip
	treadLeast = 100.0 // of a strip's last part: what its words take
)

// treadKind is treads that are marked alike.
type treadKind struct {
	marks      []layout.Mark // of one of them
	going      length.Length // to the face of the next riser; 0 on the landing
	floor      bool          // before the lowest riser
	treads     []int
	landing    bool
	begin, end float64 // mm from the face of the riser
}

// treadKinds sorts a flight's treads into kinds, in the order of the first of each.
func treadKinds(r *layout.Run) (kinds []*treadKind) {
	k := r.Rake
	for i := 0; i < len(r.Marks); {
		n := r.Marks[i].Tread
		first := i
		for i < len(r.Marks) && r.Marks[i].Tread == n {
			i++
		}
		kind := &treadKind{marks: r.Marks[first:i], floor: n == 0, treads: []int{n}}
		for j, t := range k.Treads {
			if t.N == n {
				kind.going, kind.landing = t.Going, j == len(k.Treads)-1
			}
		}
		known := false
		for _, other := range kinds {
			if other.same(kind) {
				other.treads, known = append(other.treads, n), true
				break
			}
		}
		if !known {
			kinds = append(kinds, kind)
		}
	}
	return kinds
}

func (k *treadKind) same(o *treadKind) bool {
	if k.going != o.going || k.floor != o.floor || k.landing != o.landing || len(k.marks) != len(o.marks) {
		return false
	}
	for i := range k.marks {
		if k.marks[i].Riser != o.marks[i].Riser {
			return false
		}
	}
	return true
}

// words name the treads of a kind: treads 1, 2, 4 to 7.
func (k *treadKind) words() string {
	switch {
	case k.floor:
		return "floor before the lowest riser"
	case k.landing:
		return "landing"
	case len(k.treads) == 1:
		return "tread " + strconv.Itoa(k.treads[0])
	}
	var list []string
	for i := 0; i < len(k.treads); {
		j := i
		for j+1 < len(k.treads) && k.treads[j+1] == k.treads[j]+1 {
			j++
		}
		switch j - i {
		case 0:
			list = append(list, strconv.Itoa(k.treads[i]))
		case 1:
			list = append(list, strconv.Itoa(k.treads[i]), strconv.Itoa(k.treads[j]))
		default:
			list = append(list, strconv.Itoa(k.treads[i])+" to "+strconv.Itoa(k.treads[j]))
		}
		i = j + 1
	}
	return "treads " + strings.Join(list, ", ")
}

// treadPart is what of a kind's strip goes on one length of paper.
type treadPart struct {
	kind     *treadKind
	from, to float64
	reach    float64 // from the beginning of one part to that of the next
	n, of    int
}

// treadParts are the parts of the strips for the treads of a flight, one strip for each kind, the face of the riser below being the datum. A tread longer than the paper
// goes on in a second part, laid over the first at the crosses. There are none for a run without strips, and for balusters on a shoe.
func treadParts(r *layout.Run, paper Paper) (parts []treadPart) {
	if !stripped(r) || r.Rake == nil || !r.Rake.OnTreads {
		return nil
	}
	for _, k := range treadKinds(r) {
		first, last := mm(k.marks[0].Riser), mm(k.marks[len(k.marks)-1].Riser)
		k.begin = min(-max(0, mm(r.Rake.Nosing))-treadOver, first-treadOn/2)
		switch k.end = mm(k.going); {
		case k.floor: // it ends at the lowest riser
			k.begin, k.end = first-treadOn, 0
		case k.end <= 0:
			k.end = last + treadOn
		}
		long := k.end - k.begin
		if long <= 0 || long > longest {
			continue
		}
		if long <= paper.Wide-2*StripMargin {
			parts = append(parts, treadPart{kind: k, from: k.begin, to: k.end, n: 1, of: 1})
			continue
		}
		count := int((long-stripLap-inkless)/stripReach) + 1
		reach := min(stripReach, (long-treadLeast)/float64(count-1))
		for i := range count {
			from := k.begin + float64(float64(i)*reach)
			to := from + reach + stripLap
			if i == count-1 {
				to = k.end
			}
			parts = append(parts, treadPart{k, from, to, reach, i + 1, count})
		}
	}
	return parts
}

// treadStrips are strips for the treads of a flight.
func treadStrips(r *layout.Run, style length.Style, paper Paper) []string {
	s := strips{run: r, style: style, paper: paper, secant: 1}
	if j := r.Job; j != nil && j.Baluster != nil {
		s.foot = mm(j.Baluster.Wide.Length)
	}
	parts := treadParts(r, paper)
	perSheet := int((paper.High - 2*StripMargin - stripHead) / treadPitch)
	sheets := (len(parts) + perSheet - 1) / perSheet
	var drawings []string
	for sheet := range sheets {
		unit := "inches"
		if style.System == length.Millimetres {
			unit = "millimetres"
		}
		words := fmt.Sprintf("%s, sheet %d of %d. Marks on the treads at full size in %s, each from the face of its riser.", r.Title, sheet+1, sheets, unit)
		s.head(fmt.Sprintf("d-strips-%s-%s-%d", paper.Name, name(r.Name), sheet+1), words)
		s.text(0, 4, "start", fit(words, headWide))
		s.text(0, 9, "start", "Print at 100 %, not fitted to the page. Measure both bars. Cut out; the right-hand end against the next riser, the dashed line over the edge of the nosing.")
		s.bars()
		for i, p := range parts[sheet*perSheet : min(len(parts), (sheet+1)*perSheet)] {
			s.tread(p, stripHead+float64(float64(i)*treadPitch))
		}
		drawings = append(drawings, s.svg())
	}
	return drawings
}

// tread draws a part of a tread's strip with its upper edge below y.
func (s *strips) tread(p treadPart, y float64) {
	k, long := p.kind, p.to-p.from
	within := func(x float64) bool { return x > p.from-inkless && x < p.to+inkless }
	s.marks = nil
	for _, m := range k.marks {
		text := s.style.Print(m.Riser)
		if m.Riser < 0 {
			text = s.style.Print(-m.Riser) + " before"
		}
		s.marks = append(s.marks, printed{mm(m.Riser), text})
	}
	const faces = 33.0 // how far down the lines of risers and nosing go: to their words
	s.pen()
	s.frame(long, y, y+treadLower)
	if within(0) && !k.floor {
		s.line(-p.from, y+stripUpper, -p.from, y+faces, 0.6)
	}
	nosing := -mm(s.run.Rake.Nosing)
	if nosing < -inkless && !k.floor && within(nosing) { // dash by dash, so that every printer draws it alike
		const dash, gap = 2.0, 1.5
		for from := stripUpper; from < faces; from += dash + gap {
			s.line(nosing-p.from, y+from, nosing-p.from, y+min(from+dash, faces), 0.3)
		}
	}
	if p.n < p.of { // the next part begins there
		s.cross(p.reach, y)
	}
	s.ticks(p.from, p.to, y, y+stripLower)
	s.liftPen()
	s.readings(p.from, p.to, y+stripUpper+5)

	const words, lower = 32.0, 37.0 // base lines
	if within(0) && !k.floor {
		s.text(1-p.from, y+words, "start", "riser")
	}
	if room := float64(advance("nosing") * stripText / size); within(nosing) && !k.floor && -nosing > room+2 {
		s.text(nosing-p.from+1, y+words, "start", "nosing")
	}
	if p.n == p.of && (k.floor || k.going > 0) {
		end := "next riser"
		if k.floor {
			end = "lowest riser"
		}
		s.text(long-1, y+words, "end", end)
	}
	if p.n > 1 {
		s.text(1, y+words, "start", fmt.Sprintf("left end on the cross of part %d", p.n-1))
	}
	label := k.words()
	if p.of > 1 {
		label += fmt.Sprintf(", part %d of %d", p.n, p.of)
	}
	room := (long - 7) * size / stripText
	if whole := s.run.Title + ", " + label; advance(whole) <= room {
		label = whole
	}
	s.text(3.5, y+lower, "start", fit(label, room))
	s.text(1, y+treadLower-1.5, "start", s.signed(p.from))
	s.text(long-1, y+treadLower-1.5, "end", s.signed(p.to))
	s.bar(y+treadLower-2.5, long)
}

// signed is a running length that may lie before the riser.
func (s *strips) signed(x float64) string {
	if x < -inkless {
		return s.running(-x) + " before"
	}
	return s.running(math.Abs(x))
}

// bar draws a small bar to measure on a strip itself, where it has room: 4 in, with a tick at 100 mm.
func (s *strips) bar(y, long float64) {
	const from, half, fourInches, hundred = 30.0, 1.2, 101.6, 100.0
	words := "4 in and 100 mm"
	if from+fourInches+float64(advance(words)*stripText/size)+30 > long { // 30: the running length at the right
		return
	}
	s.pen()
	s.line(from, y, from+fourInches, y, 0.2)
	for _, x := range []float64{0, hundred, fourInches} {
		s.line(from+x, y-half, from+x, y+half, 0.2)
	}
	s.liftPen()
	s.text(from+fourInches+2, y+half, "start", words)
}

// BevelCard is the rake's angle as a triangle, to set a bevel gauge by or to check a steel square: rise and going of the flight to scale,
// no shorter than 6 in along the rake. Empty for a level run, and while the rake is not known.
func BevelCard(r *layout.Run, style length.Style, paper Paper) string {
	if r == nil || r.Rake == nil {
		return ""
	}
	c := secant(r.Rake)
	f := newFlight(r, style)
	rise, run, ok := f.square()
	angle, known := f.angle()
	if c == 0 || !ok || !known {
		return ""
	}
	slope := r.Rake.Rise.Float() / r.Rake.Going.Float()
	const (
		right  = 45.0     // mm kept for the words at the rise
		below  = 8.0      // and under the run
		usual  = 8 * 25.4 // of the run, where there is room
		gap    = 2.0
		corner = 26.0 // of the arc at the angle
	)
	high := paper.High - 2*StripMargin - stripHead - below
	wide := min(usual, high/slope, paper.Wide-2*StripMargin-right)
	up := float64(wide * slope)
	if wide*c < 6*25.4 {
		return ""
	}
	s := strips{run: r, style: style, paper: paper, secant: c}
	words := fmt.Sprintf("%s: bevel of the rake, %s off level, %s in %s.", r.Title, angle, rise, run)
	s.head(fmt.Sprintf("d-bevel-%s-%s", paper.Name, name(r.Name)), words)
	s.text(0, 4, "start", fit(words, headWide))
	s.text(0, 9, "start", "Print at 100 %, not fitted to the page. Measure both bars. For a plumb cut set the bevel gauge with its stock along the slope and its blade along the plumb side.")
	s.bars()
	x, y := 1.0, stripHead+high // the corner at the rake's angle
	s.pen()
	s.line(x, y, x+wide, y, 0.25)
	s.line(x+wide, y, x+wide, y-up, 0.25)
	s.line(x, y, x+wide, y-up, 0.25)
	s.put(`<path d="M`, x+corner, " ", y, "A", corner, " ", corner, " 0 0 0 ", x+corner/c, " ", y-corner*slope/c, `" stroke-width="0.15"/>`+"\n")
	s.liftPen()
	s.text(x+corner+gap, y-gap-float64(corner*slope)/4, "start", angle)
	s.text(x+wide/2, y+stripText+gap, "middle", "level: "+run+" on the steel square")
	s.text(x+wide+gap, y-up/2, "start", "plumb: "+rise)
	s.text(x+wide+gap, y-up/2+stripText+1, "start", "on the steel square")
	return s.svg()
}
