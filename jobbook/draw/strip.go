package draw

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// Paper is a sheet that lies on its long side, in millimetres.
type Paper struct {
	Name       string
	Wide, High float64
}

// The papers: ANSI Letter is 11 by 8 1/2 in, A4 is 297 by 210 mm (ISO 216).
var (
	Letter = Paper{"letter", 279.4, 215.9}
	A4     = Paper{"a4", 297, 210}
)

// StripMargin is what stays white round a sheet, mm: more than office printers leave (6.4 on most, common practice), so that nothing
// is shrunk to fit.
const StripMargin = 12.0

// Of a sheet of strips, mm.
const (
	stripReach = 230.0    // how much of the run one strip carries
	stripLap   = 12.0     // carried again by the next one, to lay one over the other
	stripPitch = 32.0     // from one strip to the next below it
	stripUpper = 3.0      // of a strip, where it is cut above
	stripEdge  = 16.5     // where the marks meet the wood's edge
	stripLower = 28.0     // where the marks end, and a level strip is cut below
	stripHead  = 26.0     // title and the bars to measure
	stripText  = 3.4      // size of all text: capitals of 2.5 mm, and over 12 px on a screen
	longest    = 20_000.0 // of a run that is printed so; beyond, nobody tapes paper down
	inkless    = 0.001    // nearer than this, two places are one
)

// Strips are the marks of a run at full size: one drawing a sheet, in millimetres, to be printed without scaling. Those of a level run
// and of a raked shoe are cut out, laid end to end over their register marks and taped to the shoe, or to the floor where there is none;
// where the floor steps, each piece of the shoe has strips of its own. For balusters on treads there is one for each kind of tread. Every
// sheet carries bars of 100 mm and 4 in to measure first. There are none for a run without marks, one over 20 m, or a curved one: flat
// paper follows no curve.
func Strips(r *layout.Run, style length.Style, paper Paper) []string {
	if r != nil && r.Rake != nil && r.Rake.OnTreads {
		return treadStrips(r, style, paper)
	}
	var drawings []string
	for _, s := range shoeStrips(r, style, paper) {
		drawings = append(drawings, s.sheets()...)
	}
	return drawings
}

// shoeStrips are what of a run's shoe has strips of its own: all of it, or each piece between steps of the floor. There are none for a run without strips, and for balusters on treads.
func shoeStrips(r *layout.Run, style length.Style, paper Paper) []strips {
	if !stripped(r) || r.Clear == nil || r.Rake != nil && r.Rake.OnTreads {
		return nil
	}
	s := strips{run: r, style: style, paper: paper, secant: 1}
	if r.Rake != nil {
		if s.secant = secant(r.Rake); s.secant == 0 {
			return nil
		}
	}
	begins, ends := r.From.Proud, r.Clear.Exact(style.System)-r.To.Proud
	whole := float64((ends - begins).Float() * s.secant)
	if r.Chosen != nil && r.Chosen.Count > 1 {
		s.foot = float64((r.Chosen.Spacing - r.Chosen.Gap).Float() * s.secant)
	}
	if k := r.Kept; k != nil {
		for _, o := range k.Old {
			near := float64((o.Near - begins).Float() * s.secant)
			s.old = append(s.old, [2]float64{near, near + float64(o.Wide.Float()*s.secant)})
		}
	}
	if whole <= 0 || whole > longest {
		return nil
	}
	s.from = "the end of the shoe at " + r.From.Name
	if r.Shoe == nil && (r.Kept == nil || r.Job == nil || r.Job.Shoe == nil) {
		s.from = "the face at " + r.From.Name
	}
	if r.Rake != nil || r.Marks[0].Piece == 0 {
		s.whole = whole
		s.take(r.Marks)
		return []strips{s}
	}
	places := []length.Length{begins}
	for _, step := range r.Floor.Steps {
		if step.At > begins && step.At < ends {
			places = append(places, step.At)
		}
	}
	places = append(places, ends)
	var list []strips
	for i := 1; i < len(places); i++ {
		s.piece, s.whole = i, (places[i] - places[i-1]).Float()
		if i > 1 {
			s.from = "the step at " + style.Print(places[i-1])
		}
		var marks []layout.Mark
		for _, m := range r.Marks {
			if m.Piece == i {
				marks = append(marks, m)
			}
		}
		if s.take(marks); len(marks) > 0 {
			list = append(list, s)
		}
	}
	return list
}

// stripped reports a run that has marks, on a line that flat paper follows.
func stripped(r *layout.Run) bool { return r != nil && len(r.Marks) > 0 && r.Curve == nil }

// hasStrips reports whether there are strips of a run, without drawing them.
func hasStrips(r *layout.Run, style length.Style, paper Paper) bool {
	return len(treadParts(r, paper)) > 0 || slices.ContainsFunc(shoeStrips(r, style, paper), func(s strips) bool { return s.count() > 0 })
}

// NoStrip says why a run that has marks has no strips; empty where it has them, or has no marks.
func NoStrip(r *layout.Run, style length.Style) string {
	switch {
	case r == nil || len(r.Marks) == 0 || hasStrips(r, style, A4):
		return ""
	case r.Curve != nil:
		return "it is curved, and flat paper follows no curve: set its marks out with a tape along the line of the balusters"
	case r.Clear == nil || r.Rake != nil && secant(r.Rake) == 0:
		return "its length is to be measured"
	}
	return "it is over 20 m long: set its marks out with a tape"
}

// take puts marks into their places and words.
func (s *strips) take(marks []layout.Mark) {
	s.marks = nil
	for _, m := range marks {
		s.marks = append(s.marks, printed{s.along(m).Float(), s.style.Print(s.along(m))})
	}
}

// sheets are those of a run, or of one piece of a run with a step in it.
func (s *strips) sheets() []string {
	count := s.count()
	perSheet := int((s.paper.High - 2*StripMargin - stripHead) / stripPitch)
	sheets := (count + perSheet - 1) / perSheet
	var drawings []string
	for sheet := range sheets {
		s.open(sheet, sheets)
		for i := sheet * perSheet; i < min(count, (sheet+1)*perSheet); i++ {
			s.strip(i, count, stripHead+float64(float64(i-sheet*perSheet)*stripPitch))
		}
		drawings = append(drawings, s.svg())
	}
	return drawings
}

// count is how many strips carry the whole of it.
func (s *strips) count() int { return int((s.whole-stripLap-inkless)/stripReach) + 1 }

// along is where a mark stands from the end of the shoe; on a flight along the rake.
func (s *strips) along(m layout.Mark) length.Length {
	if s.run.Rake != nil && s.run.From.Proud == 0 {
		return m.Along
	}
	return m.Shoe
}

// secant is the length along the rake for each unit of level distance; 0 where that is not known.
func secant(k *layout.Rake) float64 {
	if k.Going <= 0 || k.Rise <= 0 || !sane(k.Rise) || !sane(k.Going) {
		return 0
	}
	rise, going := k.Rise.Float(), k.Going.Float()
	return math.Sqrt(float64(rise*rise)+float64(going*going)) / going
}

// BallCard is a disc of the size that must not pass, to cut out and try in every opening of the runs named; empty where it has no room on
// the paper.
func BallCard(limit length.Length, runs []string, style length.Style, paper Paper) string {
	d := limit.Float()
	if d <= 0 || d > paper.High-2*StripMargin-stripHead {
		return ""
	}
	s := strips{style: style, paper: paper}
	words := s.running(d) + " " + style.System.String()
	which := ""
	if len(runs) > 0 {
		which = ", for " + strings.Join(runs, "; ")
	}
	middle, centre := paper.Wide/2-StripMargin, stripHead+d/2
	s.head(fmt.Sprintf("d-ball-%s-%d", paper.Name, limit), "A disc of "+words+" to cut out")
	s.text(0, 4, "start", fit("A disc of "+words+", the size that must not pass"+which+".", headWide))
	s.text(0, 9, "start", "Print at 100 %, not fitted to the page. Measure both bars. Glue it to thin board, cut on the line, try it across every opening.")
	s.bars()
	s.put(`<circle cx="`, middle, `" cy="`, centre, `" r="`, d/2, `" stroke="currentColor" fill="none" stroke-width="0.25"/>`+"\n")
	s.text(middle, centre, "middle", words)
	return s.svg()
}

// strips are the sheets of one run while they are drawn.
type strips struct {
	run         *layout.Run
	style       length.Style
	paper       Paper
	whole, foot float64      // mm
	old         [][2]float64 // feet of old balusters that stay, from the end of the shoe
	secant      float64      // 1 on a level run
	marks       []printed
	from        string // in words: where they are measured from
	piece       int    // of a run with a step in its floor, counted from 1; 0 elsewhere
	ink         *ink   // of the sheet that is drawn
	b           []byte // which is the ink's
}

// printed is a mark on a strip: its place from the datum, mm, and its words.
type printed struct {
	x    float64
	text string
}

// headWide is how long the words over a sheet may be, px at the size that fit reckons with: the width of the narrower paper.
const headWide = 900

// put writes markup and, to a thousandth of a millimetre, coordinates.
func (s *strips) put(parts ...any) {
	for _, p := range parts {
		switch p := p.(type) {
		case string:
			s.b = append(s.b, p...)
		case float64:
			s.b = appendFixed(s.b, p, 3)
		}
	}
}

func (s *strips) line(x1, y1, x2, y2, width float64) {
	b := appendFixed(append(s.b, `<line x1="`...), x1, 3)
	b = appendFixed(append(b, `" y1="`...), y1, 3)
	b = appendFixed(append(b, `" x2="`...), x2, 3)
	b = appendFixed(append(b, `" y2="`...), y2, 3)
	b = appendFixed(append(b, `" stroke-width="`...), width, 3)
	s.b = append(b, "\"/>\n"...)
}

func (s *strips) text(x, y float64, anchor, words string) {
	s.put(`<text x="`, x, `" y="`, y, `" text-anchor="`, anchor, `">`)
	s.b = appendEscaped(s.b, plain(words))
	s.put("</text>\n")
}

func (s *strips) pen()     { s.put(`<g stroke="currentColor" fill="none">` + "\n") }
func (s *strips) liftPen() { s.put("</g>\n") }

// head opens a drawing of the paper's size less its margins.
func (s *strips) head(id, title string) {
	s.ink = inks.Get().(*ink)
	s.b = s.ink.texts
	const spare = 1 // mm: a drawing as high as the sheet would push an empty one out behind it
	wide, high := s.paper.Wide-2*StripMargin, s.paper.High-2*StripMargin-spare
	s.put(`<svg xmlns="http://www.w3.org/2000/svg" id="`, id, `" class="d-strips" role="img" aria-labelledby="`, id, `-t" width="`, wide, `mm" height="`, high, `mm" viewBox="0 0 `, wide, " ", high,
		`" font-family="inherit" font-size="`, stripText, `" fill="currentColor" stroke="none">`+"\n", `<title id="`, id, `-t">`)
	s.b = appendEscaped(s.b, plain(title))
	s.put("</title>\n")
}

// svg closes the drawing and gives it.
func (s *strips) svg() string {
	s.put("</svg>")
	svg := string(s.b)
	s.ink.texts, s.b = s.b[:0], nil
	inks.Put(s.ink)
	return svg
}

// bars are what is measured before a print is trusted.
func (s *strips) bars() {
	const second, fourInches, y, half = 125.0, 101.6, 19.0, 2.0
	s.pen()
	for _, bar := range []struct{ x, long float64 }{{0, 100}, {second, fourInches}} {
		s.line(bar.x, y, bar.x+bar.long, y, 0.2)
		s.line(bar.x, y-half, bar.x, y+half, 0.2)
		s.line(bar.x+bar.long, y-half, bar.x+bar.long, y+half, 0.2)
	}
	s.liftPen()
	s.text(50, 17, "middle", "100 mm")
	s.text(second+fourInches/2, 17, "middle", "4 in")
}

func (s *strips) open(sheet, sheets int) {
	unit := "inches"
	if s.style.System == length.Millimetres {
		unit = "millimetres"
	}
	way := ""
	if s.run.Rake != nil {
		way = " along the rake, on the shoe,"
	}
	title, id := s.run.Title, name(s.run.Name)
	if s.piece > 0 {
		title, id = fmt.Sprintf("%s, piece %d", title, s.piece), fmt.Sprintf("%s-piece-%d", id, s.piece)
	}
	if len(s.old) > 0 {
		way += " old balusters lightly,"
	}
	words := fmt.Sprintf("%s, sheet %d of %d. Marks at full size in %s,%s from %s.", title, sheet+1, sheets, unit, way, s.from)
	s.head(fmt.Sprintf("d-strips-%s-%s-%d", s.paper.Name, id, sheet+1), words)
	s.text(0, 4, "start", fit(words, headWide))
	s.text(0, 9, "start", "Print at 100 %, not fitted to the page. Measure both bars. Lay each strip over the next at the crosses, then check the last mark and the end with a tape.")
	s.bars()
}

// strip draws one strip with its upper edge below y: edges to cut along, crosses to lay it by, running lengths, marks.
func (s *strips) strip(i, count int, y float64) {
	from := float64(float64(i) * stripReach)
	to := min(s.whole, from+stripReach+stripLap)
	if i == count-1 {
		to = s.whole
	}
	s.pen()
	s.frame(to-from, y, y+stripLower)
	for _, register := range []float64{from, from + stripReach} {
		if register > inkless && register < s.whole-inkless && register < to+inkless && (i < count-1 || register == from) {
			s.cross(register-from, y)
		}
	}
	s.ticks(from, to, y, y+stripLower)
	s.liftPen()
	s.readings(from, to, y+stripUpper+5)
	s.text(3.5, y+stripLower-1.5, "start", s.running(from))
	s.text(to-from-1, y+stripLower-1.5, "end", s.running(to))
}

// frame draws a strip's outline, and the wood's edge.
func (s *strips) frame(long, y, lower float64) {
	s.line(0, y+stripUpper, long, y+stripUpper, 0.1)
	s.line(0, lower, long, lower, 0.1)
	s.line(0, y+stripUpper, 0, lower, 0.25)
	s.line(long, y+stripUpper, long, lower, 0.25)
	s.line(0, y+stripEdge, long, y+stripEdge, 0.15)
}

// cross draws a register mark, to lay one strip over the next.
func (s *strips) cross(x, y float64) {
	const arm = 2.5
	s.line(x-arm, y+stripEdge, x+arm, y+stripEdge, 0.3)
	s.line(x, y+stripEdge-arm, x, y+stripEdge+arm, 0.3)
}

// ticks draws the marks between two places of a strip: a line down to its lower edge, and lightly the foot of the baluster.
func (s *strips) ticks(from, to, y, lower float64) {
	within := func(x float64) bool { return x > from-inkless && x < to+inkless }
	for _, o := range s.old { // lightly, closed above: what stands there already
		for _, side := range o {
			if within(side) {
				s.line(side-from, y+stripEdge+1, side-from, lower, 0.1)
			}
		}
		if within(o[0]) && within(o[1]) {
			s.line(o[0]-from, y+stripEdge+1, o[1]-from, y+stripEdge+1, 0.1)
		}
	}
	for _, m := range s.marks {
		if within(m.x) {
			s.line(m.x-from, y+stripEdge-8, m.x-from, lower, 0.35)
		}
		for _, side := range []float64{m.x - s.foot/2, m.x + s.foot/2} {
			if s.foot > 0 && within(side) {
				s.line(side-from, y+stripEdge, side-from, y+stripEdge+5, 0.15)
			}
		}
	}
}

// readings writes what the tape reads at each mark, on a base line.
func (s *strips) readings(from, to, y float64) {
	for _, m := range s.marks {
		if m.x < from-inkless || m.x > to+inkless {
			continue
		}
		room := max(9, float64(advance(m.text)*stripText/size)/2) // mm, half of a reading's width: nearer to an edge it is set beside it
		place, anchor := m.x-from, "middle"
		switch {
		case m.x-from < room:
			place, anchor = 0.5, "start"
		case to-m.x < room:
			place, anchor = to-from-0.5, "end"
		}
		s.text(place, y, anchor, m.text)
	}
}

// running is the length from the datum at an edge of a strip: as the tape reads it, or in decimals where it lies on no division.
func (s *strips) running(run float64) string {
	l := length.Length(run * float64(length.Millimetre))
	if l.Round(s.style.Division, length.Nearest) == l {
		return s.style.Print(l)
	}
	return s.style.Decimal(l, 3)
}
