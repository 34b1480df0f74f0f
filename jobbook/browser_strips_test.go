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

	"balustrade/jobbook/layout"
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

// TestBrowserStrips prints the strips and measures the print: the bars are 100 mm and 4 in long, and every mark lies where the plan
// has it, within 0.2 mm on its strip, and so along the whole run, for the strips are laid over each other at 230 mm. The lengths
// that tell lines apart are the drawing's own: a mark is 19.5 mm high, the edges of a strip are 25.
func TestBrowserStrips(t *testing.T) {
	const markHigh, stripHigh, reach, near = 19.5, 25.0, 230.0, 0.2
	result, err := Check(sample)
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	book := bookOf(t, sample)
	b := newTab(t)
	for _, paper := range []string{"letter", "a4"} {
		t.Run(paper, func(t *testing.T) {
			b.t = t
			b.visit(fileURL(filepath.Join(book, "strips-"+paper+".html")))
			ctx, cancel := context.WithTimeout(b.ctx, patient)
			defer cancel()
			pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(t.TempDir(), "strips.pdf")
			if err := os.WriteFile(file, pdf, 0o644); err != nil {
				t.Fatal(err)
			}
			drawn := value[int](b, `document.querySelectorAll(".strip-sheet").length`)
			if drawn == 0 {
				t.Fatal("no strips")
			}
			if info, err := exec.Command("pdfinfo", file).Output(); err != nil || !regexp.MustCompile(fmt.Sprintf(`Pages: +%d\n`, drawn)).Match(info) {
				t.Errorf("%d drawings, and poppler says %s", drawn, info)
			}
			sheets := rulesOnPaper(t, file, drawn)
			for i, lines := range sheets {
				for _, long := range []float64{100, 101.6} {
					if !slices.ContainsFunc(lines, func(l ruled) bool { return l.level(long) && math.Abs(math.Abs(l.x2-l.x1)-long) < 0.05 }) {
						t.Errorf("sheet %d has no bar of %v mm", i+1, long)
					}
				}
			}
			var strips [][]ruled // the marks of each strip, from its left edge, in the order of the sheets
			for _, lines := range sheets {
				var edges []ruled
				for _, l := range lines {
					if l.upright(stripHigh) && l.x1 < 40 && !slices.ContainsFunc(edges, func(e ruled) bool { return math.Abs(e.y1-l.y1) < 1 }) {
						edges = append(edges, l)
					}
				}
				slices.SortFunc(edges, func(a, b ruled) int { return int(a.y1 - b.y1) })
				for _, e := range edges {
					var marks []ruled
					for _, l := range lines {
						if l.upright(markHigh) && min(l.y1, l.y2) > min(e.y1, e.y2) && max(l.y1, l.y2) < max(e.y1, e.y2)+0.1 {
							marks = append(marks, ruled{x1: l.x1 - e.x1})
						}
					}
					strips = append(strips, marks)
				}
			}
			next := 0
			for _, r := range result.Plan.Layout.Runs {
				count := int((stripsLong(r)-12-0.001)/reach) + 1 // 12 mm lie over the next strip
				if next+count > len(strips) {
					t.Fatalf("%s needs %d strips, %d are left", r.Name, count, len(strips)-next)
				}
				for _, m := range r.Marks {
					found := false
					for i, marks := range strips[next : next+count] {
						for _, l := range marks {
							if math.Abs(float64(i)*reach+l.x1-m.Shoe.Float()) < near {
								found = true
							}
						}
					}
					if !found {
						t.Errorf("%s: mark %d at %v is not printed in its place", r.Name, m.K, m.Shoe)
					}
				}
				next += count
			}
			if next != len(strips) {
				t.Errorf("%d strips are printed, the runs need %d", len(strips), next)
			}
		})
	}
}

func stripsLong(r *layout.Run) float64 { return r.Shoe.Exact.Float() }
