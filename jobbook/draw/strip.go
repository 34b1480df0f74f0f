package draw

import (
	"fmt"
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
	stripHead  = 26.0     // title and the bars to measure
	stripText  = 3.4      // size of all text: capitals of 2.5 mm, and over 12 px on a screen
	longest    = 20_000.0 // of a run that is printed so; beyond, nobody tapes paper down
	inkless    = 0.001    // nearer than this, two places are one
)

// Strips are the marks of a run at full size, to be cut out, laid end to end over their register marks and taped to the shoe, or to
// the floor where there is none: one drawing a sheet, in millimetres, to be printed without scaling. Where the floor steps, each piece of
// the shoe has strips of its own. Every sheet carries bars of 100 mm and 4 in to measure first. There are none for a run without marks,
// one over 20 m, or a curved one: flat paper follows no curve.
func Strips(r *layout.Run, style length.Style, paper Paper) []string {
	if r == nil || len(r.Marks) == 0 || r.Clear == nil || r.Curve != nil {
		return nil
	}
	s := strips{run: r, style: style, paper: paper}
	begins, ends := r.From.Proud, r.Clear.Exact(style.System)-r.To.Proud
	whole := (ends - begins).Float()
	if r.Chosen != nil && r.Chosen.Count > 1 {
		s.foot = (r.Chosen.Spacing - r.Chosen.Gap).Float()
	}
	if whole <= 0 || whole > longest {
		return nil
	}
	s.from = "the end of the shoe at " + r.From.Name
	if r.Shoe == nil {
		s.from = "the face at " + r.From.Name
	}
	if r.Marks[0].Piece == 0 {
		s.whole, s.marks = whole, r.Marks
		return s.sheets()
	}
	places := []length.Length{begins}
	for _, step := range r.Floor.Steps {
		if step.At > begins && step.At < ends {
			places = append(places, step.At)
		}
	}
	places = append(places, ends)
	var drawings []string
	for i := 1; i < len(places); i++ {
		s.piece, s.whole, s.marks = i, (places[i] - places[i-1]).Float(), nil
		if i > 1 {
			s.from = "the step at " + style.Print(places[i-1])
		}
		for _, m := range r.Marks {
			if m.Piece == i {
				s.marks = append(s.marks, m)
			}
		}
		if len(s.marks) > 0 {
			drawings = append(drawings, s.sheets()...)
		}
	}
	return drawings
}

// sheets are those of a run, or of one piece of a run with a step in it.
func (s *strips) sheets() []string {
	count := int((s.whole-stripLap-inkless)/stripReach) + 1
	perSheet := int((s.paper.High - 2*StripMargin - stripHead) / stripPitch)
	sheets := (count + perSheet - 1) / perSheet
	var drawings []string
	for sheet := range sheets {
		s.open(sheet, sheets)
		for i := sheet * perSheet; i < min(count, (sheet+1)*perSheet); i++ {
			s.strip(i, count, stripHead+float64(float64(i-sheet*perSheet)*stripPitch))
		}
		s.b.WriteString("</svg>")
		drawings = append(drawings, s.b.String())
	}
	return drawings
}

// BallCard is a disc of the size that must not pass, to cut out and try in every opening; empty where it has no room on the paper.
func BallCard(limit length.Length, style length.Style, paper Paper) string {
	d := limit.Float()
	if d <= 0 || d > paper.High-2*StripMargin-stripHead {
		return ""
	}
	s := strips{style: style, paper: paper}
	words := s.running(d) + " " + style.System.String()
	middle, centre := paper.Wide/2-StripMargin, stripHead+d/2
	s.head(fmt.Sprintf("d-ball-%s-%d", paper.Name, limit), "A disc of "+words+" to cut out")
	s.text(0, 4, "start", "A disc of "+words+", the size that must not pass. Glue it to thin board, cut on the line, try it across every opening.")
	s.text(0, 9, "start", "Print at 100 %, not fitted to the page. Measure both bars before trusting it.")
	s.bars()
	fmt.Fprintf(&s.b, `<circle cx="%s" cy="%s" r="%s" stroke="currentColor" fill="none" stroke-width="0.25"/>`+"\n", at(middle), at(centre), at(d/2))
	s.text(middle, centre, "middle", words)
	s.b.WriteString("</svg>")
	return s.b.String()
}

// strips are the sheets of one run while they are drawn.
type strips struct {
	run         *layout.Run
	style       length.Style
	paper       Paper
	marks       []layout.Mark
	from        string  // in words: where they are measured from
	piece       int     // of a run with a step in its floor, counted from 1; 0 elsewhere
	whole, foot float64 // mm
	b           strings.Builder
}

// at writes a coordinate to a thousandth of a millimetre.
func at(v float64) string { return fmt.Sprintf("%.3f", v) }

func (s *strips) line(x1, y1, x2, y2, width float64) {
	fmt.Fprintf(&s.b, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke-width="%s"/>`+"\n", at(x1), at(y1), at(x2), at(y2), at(width))
}

func (s *strips) text(x, y float64, anchor, words string) {
	fmt.Fprintf(&s.b, `<text x="%s" y="%s" text-anchor="%s">`, at(x), at(y), anchor)
	escape(&s.b, plain(words))
	s.b.WriteString("</text>\n")
}

func (s *strips) pen()     { s.b.WriteString(`<g stroke="currentColor" fill="none">` + "\n") }
func (s *strips) liftPen() { s.b.WriteString("</g>\n") }

// head opens a drawing of the paper's size less its margins.
func (s *strips) head(id, title string) {
	s.b.Reset()
	const spare = 1 // mm: a drawing as high as the sheet would push an empty one out behind it
	wide, high := at(s.paper.Wide-2*StripMargin), at(s.paper.High-2*StripMargin-spare)
	fmt.Fprintf(&s.b, `<svg xmlns="http://www.w3.org/2000/svg" id="%s" class="d-strips" role="img" aria-labelledby="%s-t" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="inherit" font-size="%s" fill="currentColor" stroke="none">`+"\n",
		id, id, wide, high, wide, high, at(stripText))
	fmt.Fprintf(&s.b, `<title id="%s-t">`, id)
	escape(&s.b, plain(title))
	s.b.WriteString("</title>\n")
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
	const clear = 900 // px at the size that fit reckons with: the width of the narrower paper
	title, id := s.run.Title, name(s.run.Name)
	if s.piece > 0 {
		title, id = fmt.Sprintf("%s, piece %d", title, s.piece), fmt.Sprintf("%s-piece-%d", id, s.piece)
	}
	words := fmt.Sprintf("%s, sheet %d of %d. Marks at full size in %s, from %s.", title, sheet+1, sheets, unit, s.from)
	s.head(fmt.Sprintf("d-strips-%s-%s-%d", s.paper.Name, id, sheet+1), words)
	s.text(0, 4, "start", fit(words, clear))
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
	const upper, edge, lower = 3.0, 16.5, 28.0 // where it is cut, where the marks meet the wood's edge, where it is cut
	s.pen()
	s.line(0, y+upper, to-from, y+upper, 0.1)
	s.line(0, y+lower, to-from, y+lower, 0.1)
	s.line(0, y+upper, 0, y+lower, 0.25)
	s.line(to-from, y+upper, to-from, y+lower, 0.25)
	s.line(0, y+edge, to-from, y+edge, 0.15)
	for _, register := range []float64{from, from + stripReach} {
		if register > inkless && register < s.whole-inkless && register < to+inkless && (i < count-1 || register == from) {
			const arm = 2.5
			s.line(register-from-arm, y+edge, register-from+arm, y+edge, 0.3)
			s.line(register-from, y+edge-arm, register-from, y+edge+arm, 0.3)
		}
	}
	within := func(x float64) bool { return x > from-inkless && x < to+inkless }
	for _, m := range s.marks {
		x := m.Shoe.Float()
		if within(x) {
			s.line(x-from, y+edge-8, x-from, y+lower, 0.35)
		}
		for _, side := range []float64{x - s.foot/2, x + s.foot/2} { // the foot of the baluster, lightly
			if s.foot > 0 && within(side) {
				s.line(side-from, y+edge, side-from, y+edge+5, 0.15)
			}
		}
	}
	s.liftPen()
	const room = 9.0 // half of a reading's width: nearer to an edge it is set beside it
	for _, m := range s.marks {
		x := m.Shoe.Float()
		if !within(x) {
			continue
		}
		place, anchor := x-from, "middle"
		switch {
		case x-from < room:
			place, anchor = 0.5, "start"
		case to-x < room:
			place, anchor = to-from-0.5, "end"
		}
		s.text(place, y+upper+5, anchor, s.style.Print(m.Shoe))
	}
	s.text(3.5, y+lower-1.5, "start", s.running(from))
	s.text(to-from-1, y+lower-1.5, "end", s.running(to))
}

// running is the length from the datum at an edge of a strip: as the tape reads it, or in decimals where it lies on no division.
func (s *strips) running(run float64) string {
	l := length.Length(run * float64(length.Millimetre))
	if l.Round(s.style.Division, length.Nearest) == l {
		return s.style.Print(l)
	}
	return s.style.Decimal(l, 3)
}
