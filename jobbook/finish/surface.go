package finish

import (
	"math"
	"strconv"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// worker is a finishing under way.
type worker struct {
	job    *job.Job
	layout layout.Layout
	coated []Coated // what is on pieces that are made already
	waits  []wait
	out    Finishing
}

// wait is a run that waits for a reading, and for what.
type wait struct {
	run  *layout.Run
	what string
}

// group is a group of parts while its surface is added up.
type group struct {
	*worker
	Group
	coat  int  // only what has not this coat yet is added up, counted from 1; everything where it is 0
	has   bool // the job has parts of this group
	whole bool // the sizes of all of them are known
}

var (
	flats  = working.Citation{Text: "girth times length, the ends not counted", Status: working.Derived}
	turned = working.Citation{Text: "sides and shoulders of the profile, the ends not counted", Status: working.Derived}
)

// unit is the surface's, and per is how many square units of length make one: 144 sq in to the sq ft, 10⁶ mm² to the m².
func (w *worker) unit() (unit, square string, per int64) {
	if w.job.System == length.Millimetres {
		return "m2", "mm2", 1_000_000
	}
	return "sq ft", "sq in", 144
}

// need names a reading still to be taken; the group's surface is not known without it.
func (g *group) need(file, what, key string, at source.Pos) {
	g.whole = false
	g.ask(file, what, key, "the surface to be coated", at)
}

func (w *worker) ask(file, what, key, why string, at source.Pos) {
	if at.IsZero() {
		at = source.Pos{File: file}
	}
	r := finding.Reading{What: what, Where: file + ", " + key, Why: why, Group: "job", At: at}
	for _, m := range w.out.Missing {
		if m.What == r.What && m.Where == r.Where {
			return
		}
	}
	w.out.Missing = append(w.out.Missing, r)
}

// open notes that a run's pieces can't be measured yet.
func (g *group) open(r *layout.Run, what string) {
	g.whole = false
	g.waits = append(g.waits, wait{r, what})
}

// waiting names each run that waits, once, with everything there whose surface is not known.
func (w *worker) waiting() {
	for _, r := range w.layout.Runs {
		var what []string
		for _, x := range w.waits {
			if x.run == r {
				what = append(what, x.what)
			}
		}
		if len(what) > 0 {
			w.out.Missing = append(w.out.Missing, finding.Reading{
				What: "the readings that " + r.Title + " waits for", Where: r.Job.File,
				Why: "the surface to be coated: " + strings.Join(what, ", "), Group: r.ID, At: source.Pos{File: r.Job.File},
			})
		}
	}
}

// line adds the surface of the parts of one kind: area is in square units of length.
func (g *group) line(kind string, o job.Origin, title, species job.Text, wide job.Measure, count int, isTurned bool, area working.Expr, cite working.Citation) {
	unit, _, per := g.unit()
	what := title.Text
	if what == "" {
		what = o.Name
	}
	f := working.Work("finish/"+g.Name+"/"+kind+"/"+o.Name+g.pass(), "surface of "+what+g.passWords(), "A_"+strconv.Itoa(len(g.Lines)+1), unit,
		working.Quotient(area, working.Constant(per)), cite)
	g.out.Figures = append(g.out.Figures, f)
	g.Lines = append(g.Lines, AreaLine{What: what, Kind: kind, File: o.File, Species: species, Wide: wide, Count: count, Turned: isTurned, Figure: f})
}

// area adds up the lines of a group, once all of them are known.
func (g *group) area() {
	if !g.whole || len(g.Lines) == 0 {
		return
	}
	unit, _, _ := g.unit()
	var terms []working.Expr
	for _, l := range g.Lines {
		terms = append(terms, l.Figure.In())
	}
	g.Area = working.Work("finish/"+g.Name+g.pass(), "surface of the "+g.Name+" to be coated"+g.passWords(), "A", unit, working.Total(terms), working.Geometry)
	g.out.Figures = append(g.out.Figures, g.Area)
}

// pieces is a sum of cut lengths while it is written: c_1 * l_1 + l_2.
type pieces struct {
	terms []working.Expr
	count int
}

func (p *pieces) add(c layout.Cut, long length.Length, sys length.System, from string) {
	l := working.Length("l_"+p.next(), c.What+" of "+c.Run+", as cut", long, sys, source.Pos{}).Because(from)
	l.Figure = c.Figure
	p.terms = append(p.terms, p.times(c, l))
	p.count += c.Count
}

func (p *pieces) next() string { return strconv.Itoa(len(p.terms) + 1) }

// times puts the number of pieces alike before a factor.
func (p *pieces) times(c layout.Cut, e working.Expr) working.Expr {
	if c.Count == 1 {
		return e
	}
	return working.Product(working.Count("c_"+p.next(), "pieces of "+c.Run+" of that length", int64(c.Count), source.Pos{}).Because("cut list"), e)
}

// plain gives the width of a section that is the same all the way up, and whether it is round.
func plain(p profile.Profile) (width length.Length, round, ok bool) {
	for i, s := range p.Stations {
		if i > 0 && (s.Width != width || s.Round != round) {
			return 0, false, false
		}
		width, round = s.Width, s.Round
	}
	return width, round, len(p.Stations) > 0
}

// turnedSomewhere reports whether any of a profile is turned.
func turnedSomewhere(p profile.Profile) bool {
	for _, s := range p.Stations {
		if s.Round {
			return true
		}
	}
	return false
}

// fromProfile is the surface of one piece as an input, to a thousandth of a square unit of length: coarser than the last
// bits in which machines might differ, finer than anyone coats.
func (w *worker) fromProfile(symbol, name string, p profile.Profile, at source.Pos) *working.Input {
	_, square, _ := w.unit()
	area := p.Area(0, p.Long()) // mm²
	if w.job.System != length.Millimetres {
		const squareInch = 645.16 // mm², exact: 25.4²
		area /= squareInch
	}
	const grid = 1000
	return (&working.Input{Symbol: symbol, Name: name, Value: exact.New(int64(math.Round(area*grid)), grid), Unit: square, At: at}).
		Because("from its profile: sides and shoulders, without the ends")
}
