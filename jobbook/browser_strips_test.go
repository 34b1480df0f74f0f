//go:build browser

package jobbook

import (
	"context"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// ruled is a straight line on a printed sheet, mm from its top left corner.
type ruled struct{ x1, y1, x2, y2 float64 }

// A straight line as pdftocairo writes it, in points; with the matrix that places it.
var stroke = regexp.MustCompile(`<path style="[^"]*stroke-width[^"]*" d="M ([-\d.]+) ([-\d.]+) L ([-\d.]+) ([-\d.]+) "(?: transform="matrix\(([-\d.]+),([-\d.]+),([-\d.]+),([-\d.]+),([-\d.]+),([-\d.]+)\)")?`)

// rules are the straight lines of every sheet of a PDF, read back by poppler.
func rulesOnPaper(t *testing.T, pdf string, sheets int) [][]ruled {
	t.Helper()
	var all [][]ruled
	for sheet := 1; sheet <= sheets; sheet++ {
		svg := filepath.Join(t.TempDir(), "sheet.svg")
		n := strconv.Itoa(sheet)
		if out, err := exec.Command("pdftocairo", "-svg", "-f", n, "-l", n, pdf, svg).CombinedOutput(); err != nil {
			t.Fatalf("pdftocairo: %v %s", err, out)
		}
		text, err := os.ReadFile(svg)
		if err != nil {
			t.Fatal(err)
		}
		var lines []ruled
		for _, m := range stroke.FindAllStringSubmatch(string(text), -1) {
			v := make([]float64, len(m))
			for i := 1; i < len(m); i++ {
				v[i], _ = strconv.ParseFloat(m[i], 64)
			}
			if m[5] == "" {
				v[5], v[8] = 1, 1
			}
			const mm = 25.4 / 72 // a point is 1/72 in
			place := func(x, y float64) (float64, float64) {
				return (v[5]*x + v[7]*y + v[9]) * mm, (v[6]*x + v[8]*y + v[10]) * mm
			}
			var l ruled
			l.x1, l.y1 = place(v[1], v[2])
			l.x2, l.y2 = place(v[3], v[4])
			lines = append(lines, l)
		}
		all = append(all, lines)
	}
	return all
}

func (l ruled) upright(long float64) bool {
	return math.Abs(l.x1-l.x2) < 0.01 && math.Abs(math.Abs(l.y2-l.y1)-long) < 0.1
}

func (l ruled) level(long float64) bool {
	return math.Abs(l.y1-l.y2) < 0.01 && math.Abs(math.Abs(l.x2-l.x1)-long) < 0.1
}

// printed is a page of the book as a PDF, its lines read back.
func printed(t *testing.T, b *tab, address string) (pdf string, drawn int, sheets [][]ruled) {
	t.Helper()
	b.t = t
	b.visit(address)
	ctx, cancel := context.WithTimeout(b.ctx, patient)
	defer cancel()
	data, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	pdf = filepath.Join(t.TempDir(), "strips.pdf")
	if err := os.WriteFile(pdf, data, 0o644); err != nil {
		t.Fatal(err)
	}
	drawn = value[int](b, `document.querySelectorAll(".strip-sheet").length`)
	if drawn == 0 {
		t.Fatal("no strips")
	}
	if info, err := exec.Command("pdfinfo", pdf).Output(); err != nil || !regexp.MustCompile(fmt.Sprintf(`Pages: +%d\n`, drawn)).Match(info) {
		t.Errorf("%d drawings, and poppler says %s", drawn, info)
	}
	return pdf, drawn, rulesOnPaper(t, pdf, drawn)
}

// checkBars: every sheet carries a bar of 100 mm and one of 4 in.
func checkBars(t *testing.T, sheets [][]ruled) {
	t.Helper()
	for i, lines := range sheets {
		for _, long := range []float64{100, 101.6} {
			if !slices.ContainsFunc(lines, func(l ruled) bool { return l.level(long) && math.Abs(math.Abs(l.x2-l.x1)-long) < 0.05 }) {
				t.Errorf("sheet %d has no bar of %v mm", i+1, long)
			}
		}
	}
}

// strip is one strip on paper: its lines, measured from its left edge and down from its upper one.
type strip struct {
	long  float64
	lines []ruled
}

// stripsOn are the strips of a height on some sheets, in their order. The lengths that tell lines apart are the drawing's own.
func stripsOn(sheets [][]ruled, high float64) (list []strip) {
	for _, lines := range sheets {
		var edges []ruled
		for _, l := range lines {
			if l.upright(high) && l.x1 < 40 && !slices.ContainsFunc(edges, func(e ruled) bool { return math.Abs(e.y1-l.y1) < 1 }) {
				edges = append(edges, l)
			}
		}
		slices.SortFunc(edges, func(a, b ruled) int { return int(a.y1 - b.y1) })
		for _, e := range edges {
			s := strip{}
			top, foot := min(e.y1, e.y2), max(e.y1, e.y2)
			for _, l := range lines {
				if min(l.y1, l.y2) < top-0.1 || max(l.y1, l.y2) > foot+0.1 {
					continue
				}
				s.lines = append(s.lines, ruled{l.x1 - e.x1, min(l.y1, l.y2) - top, l.x2 - e.x1, max(l.y1, l.y2) - top})
				if l.upright(high) {
					s.long = max(s.long, l.x1-e.x1)
				}
			}
			list = append(list, s)
		}
	}
	return list
}

// Of lines on a strip, mm: a mark is so high, the line of a riser, the arm of a cross, a dash of the nosing's line; a strip along a run is 25 high, one of a tread 40.
const (
	markHigh  = 19.5
	riserHigh = 30.0
	crossHigh = 5.0
	dashHigh  = 2.0
	runHigh   = 25.0
	treadHigh = 40.0
	near      = 0.2
)

// at are the places of the upright lines of a height; those that begin so far down where from is not negative.
func (s strip) at(high, from float64) (places []float64) {
	for _, l := range s.lines {
		if l.upright(high) && (from < 0 || math.Abs(l.y1-from) < 0.1) {
			places = append(places, l.x1)
		}
	}
	slices.Sort(places)
	return slices.CompactFunc(places, func(a, b float64) bool { return math.Abs(a-b) < 0.01 })
}

// checkAlong: every mark of a run lies in its place on one of its strips, which are laid over each other at 230 mm. It gives how many
// strips the run takes.
func checkAlong(t *testing.T, strips []strip, long float64, marks []float64) int {
	t.Helper()
	const reach, lap = 230.0, 12.0
	count := int((long-lap-0.001)/reach) + 1
	if count > len(strips) {
		t.Fatalf("%d strips wanted, %d are left", count, len(strips))
	}
	for k, want := range marks {
		found := false
		for i, s := range strips[:count] {
			for _, x := range s.at(markHigh, -1) {
				found = found || math.Abs(float64(i)*reach+x-want) < near
			}
		}
		if !found {
			t.Errorf("mark %d at %.3f mm is not printed in its place", k+1, want)
		}
	}
	if end := float64(count-1)*reach + strips[count-1].long; math.Abs(end-long) > near {
		t.Errorf("the strips end at %.3f mm, want %.3f", end, long)
	}
	return count
}

// TestBrowserStrips prints the strips of the sample and measures the print: the bars are 100 mm and 4 in long, and every mark lies where the
// plan has it, within 0.2 mm on its strip, and so along the whole run; on a tread from the line of its riser.
func TestBrowserStrips(t *testing.T) {
	result, err := Check(sample)
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	book := bookOf(t, sample)
	b := newTab(t)
	for _, paper := range []string{"letter", "a4"} {
		t.Run(paper, func(t *testing.T) {
			_, _, sheets := printed(t, b, fileURL(filepath.Join(book, "strips-"+paper+".html")))
			checkBars(t, sheets)
			along, treads := stripsOn(sheets, runHigh), stripsOn(sheets, treadHigh)
			for _, r := range result.Plan.Layout.Runs {
				if r.Rake != nil && r.Rake.OnTreads {
					checkTreads(t, treads, r)
					continue
				}
				var marks []float64
				for _, m := range r.Marks {
					marks = append(marks, m.Shoe.Float())
				}
				if len(marks) > 0 && r.Curve == nil {
					along = along[checkAlong(t, along, r.Shoe.Exact.Float(), marks):]
				}
			}
			if len(along) > 0 {
				t.Errorf("%d strips are printed that no run needs", len(along))
			}
		})
	}
}

// checkTreads: for every tread there is a strip with its marks where the plan has them from the line of the riser, no more of them, and the
// next riser at the end of it, over the cross where the tread goes on on a second strip.
func checkTreads(t *testing.T, strips []strip, r *layout.Run) {
	t.Helper()
	for _, tread := range r.Rake.Treads {
		var want []float64
		for _, m := range r.Marks {
			if m.Tread == tread.N {
				want = append(want, m.Riser.Float())
			}
		}
		if len(want) == 0 {
			continue
		}
		found := false
		for i, s := range strips {
			risers, nosings := s.at(riserHigh, 0), s.at(dashHigh, 0)
			if len(risers) != 1 || len(nosings) != 1 {
				continue
			}
			riser, nosing := risers[0], nosings[0]
			var got []float64
			for _, x := range s.at(markHigh, -1) {
				got = append(got, x-riser)
			}
			end := s.long - riser
			if cross := s.at(crossHigh, 16.5-3-2.5); len(cross) == 1 && i+1 < len(strips) { // the middle of its arm on the wood's edge
				end = cross[0] - riser + strips[i+1].long
				for _, x := range strips[i+1].at(markHigh, -1) {
					got = append(got, cross[0]-riser+x)
				}
			}
			same := tread.Going == 0 || math.Abs(end-tread.Going.Float()) < near
			same = same && math.Abs(riser-nosing-r.Rake.Nosing.Float()) < near
			got = slices.CompactFunc(got, func(a, b float64) bool { return math.Abs(a-b) < near })
			same = same && slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) < near })
			found = found || same
		}
		if !found {
			t.Errorf("%s: tread %d, marks at %.3f mm on a going of %.3f, has no strip", r.Name, tread.N, want, tread.Going.Float())
		}
	}
}

// TestBrowserFlightStrips measures the print of flights worked out by hand: 7 1/2 on 10 is 3 in 4, so that 120 in level are 150 along the rake
// and every length along it is 1 1/4 times the level one.
func TestBrowserFlightStrips(t *testing.T) {
	style := length.Style{System: length.Inches, Division: length.Inch / 16, Rounding: length.Nearest}
	inch := length.Inch
	rake := func() *layout.Rake {
		k := &layout.Rake{Rise: 12 * 15 * inch / 2, Going: 120 * inch, To: 120 * inch, Nosing: 9 * inch / 8,
			Angle:  &working.Figure{Value: exact.New(36869898, 1000000)}, // the angle of a 3-4-5 triangle, a published figure
			Square: &working.Figure{Unit: "in", Value: exact.New(9, 1)}}
		for n := range length.Length(13) {
			going := 10 * inch
			if n == 6 {
				going = 10*inch + inch/4
			}
			if n == 12 {
				going = 0
			}
			k.Treads = append(k.Treads, layout.Tread{N: int(n) + 1, At: n * 10 * inch, Height: (n + 1) * 15 * inch / 2, Going: going})
		}
		return k
	}
	shoe := &layout.Run{ID: "run/shoe", Name: "shoe", Title: "Upper flight", Rake: rake(), From: layout.End{Name: "foot"}, Shoe: &layout.Cut{},
		Clear: working.Work("run/shoe/clear", "clear", "L", "in", working.Constant(120)), Chosen: &layout.Candidate{Count: 23, Spacing: 5 * inch, Gap: 15 * inch / 4}}
	var along []float64
	for k := range 23 { // every 5 in level, 6 1/4 along
		at := 25 * inch / 4 * length.Length(k+1)
		shoe.Marks = append(shoe.Marks, layout.Mark{K: k + 1, At: 5 * inch * length.Length(k+1), Along: at})
		along = append(along, 6.25*25.4*float64(k+1))
	}
	treads := &layout.Run{ID: "run/treads", Name: "treads", Title: "Lower flight", Rake: rake(), Job: &job.Run{Baluster: &job.Baluster{Wide: job.Measure{Length: 5 * inch / 4, Given: true}}}}
	treads.Rake.OnTreads = true
	for n := 1; n <= 12; n++ {
		treads.Marks = append(treads.Marks, layout.Mark{Tread: n, Riser: 5 * inch / 8}, layout.Mark{Tread: n, Riser: 45 * inch / 8})
	}
	treads.Marks = append(treads.Marks, layout.Mark{Tread: 13, Riser: 5 * inch / 8})

	b := newTab(t)
	for _, paper := range []draw.Paper{draw.Letter, draw.A4} {
		t.Run(paper.Name, func(t *testing.T) {
			page := fmt.Sprintf("<!DOCTYPE html><html><head><title>strips</title><style>@page{size:%gmm %gmm;margin:%gmm}body{margin:0}svg{display:block}.strip-sheet{break-after:page}.strip-sheet:last-child{break-after:auto}</style></head><body>", paper.Wide, paper.High, draw.StripMargin)
			add := func(svg string) {
				if svg == "" {
					t.Error("nothing is drawn")
				}
				page += `<div class="strip-sheet">` + svg + "</div>"
			}
			for _, r := range []*layout.Run{shoe, treads} {
				for _, svg := range draw.Strips(r, style, paper) {
					add(svg)
				}
			}
			add(draw.BevelCard(shoe, style, paper))
			file := filepath.Join(t.TempDir(), "strips.html")
			if err := os.WriteFile(file, []byte(page+"</body></html>"), 0o644); err != nil {
				t.Fatal(err)
			}
			_, _, sheets := printed(t, b, fileURL(file))
			checkBars(t, sheets)
			strips := stripsOn(sheets, runHigh)
			if n := checkAlong(t, strips, 150*25.4, along); n != len(strips) {
				t.Errorf("%d strips along the rake, want %d", len(strips), n)
			}
			checkTreads(t, stripsOn(sheets, treadHigh), treads)

			// The bevel: the three sides of a 3-4-5 triangle, 4 parts to the level side.
			card := sheets[len(sheets)-1]
			var level, plumb, slope ruled
			for _, l := range card {
				dx, dy := math.Abs(l.x2-l.x1), math.Abs(l.y2-l.y1)
				switch {
				case dx > 110 && dy < 0.01:
					level = l
				case dy > 80 && dx < 0.01:
					plumb = l
				case dx > 80 && dy > 80:
					slope = l
				}
			}
			wide, high := math.Abs(level.x2-level.x1), math.Abs(plumb.y2-plumb.y1)
			if math.Abs(wide*3/4-high) > 0.05 || math.Abs(math.Hypot(slope.x2-slope.x1, slope.y2-slope.y1)-wide*5/4) > 0.05 || wide*5/4 < 6*25.4 {
				t.Errorf("bevel of %.3f level, %.3f plumb, %v along the slope", wide, high, slope)
			}
		})
	}
}
