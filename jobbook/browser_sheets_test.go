//go:build browser

package jobbook

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"balustrade/jobbook/draw"
)

var (
	wordOnSheet = regexp.MustCompile(`<word xMin="[^"]*" yMin="([^"]*)" xMax="[^"]*" yMax="([^"]*)">([^<]*)</word>`)
	sheetFoot   = regexp.MustCompile(`^(.*), build `)
)

// TestBrowserSheets: the print edition on Letter and A4, read back from the PDF. Each sheet has the name of its part at its foot, and that of the list of parts stands on the first alone: nothing falls onto a sheet of its own behind the last part. A
// sheet behind which its part goes on is a quarter full at the least: what was kept whole and went over to the next left no more room than that. The layout is left out, for each of its runs begins on a sheet of its own.
func TestBrowserSheets(t *testing.T) {
	for _, job := range []string{sample, "../testdata/metric-job"} {
		b := newTab(t)
		b.visit(fileURL(filepath.Join(bookOf(t, job), "print.html")))
		for _, paper := range []draw.Paper{draw.Letter, draw.A4} {
			t.Run(filepath.Base(job)+", "+paper.Name, func(t *testing.T) {
				wide, high := min(paper.Wide, paper.High), max(paper.Wide, paper.High) // the papers of the strips lie on their long side
				ctx, cancel := context.WithTimeout(b.ctx, patient)
				defer cancel()
				data, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperSize{Width: wide / 25.4, Height: high / 25.4})))
				if err != nil {
					t.Fatal(err)
				}
				pdf := filepath.Join(t.TempDir(), "print.pdf")
				if err := os.WriteFile(pdf, data, 0o644); err != nil {
					t.Fatal(err)
				}
				out, err := exec.Command("pdftotext", "-bbox", pdf, "-").Output()
				if err != nil {
					t.Fatal(err)
				}
				const point = 25.4 / 72 // mm
				top, bottom := 17.0, high-16
				var parts []string
				var full []float64
				for _, sheet := range strings.Split(string(out), "<page ")[1:] {
					var foot []string
					last := top
					for _, m := range wordOnSheet.FindAllStringSubmatch(sheet, -1) {
						from, _ := strconv.ParseFloat(m[1], 64)
						to, _ := strconv.ParseFloat(m[2], 64)
						switch {
						case from*point > bottom:
							foot = append(foot, m[3])
						case to*point > top:
							last = max(last, to*point)
						}
					}
					name := sheetFoot.FindStringSubmatch(strings.Join(foot, " "))
					if name == nil {
						t.Fatalf("sheet %d has the foot %q", len(parts)+1, foot)
					}
					parts, full = append(parts, name[1]), append(full, (last-top)/(bottom-top))
				}
				if len(parts) < 20 {
					t.Fatalf("%d sheets; the test sees nothing", len(parts))
				}
				for i, part := range parts {
					if (part == "What is in it") != (i == 0) {
						t.Errorf("sheet %d of %d is called %q", i+1, len(parts), part)
					}
					if i+1 < len(parts) && parts[i+1] == part && part != "Layout" && full[i] < 0.25 {
						t.Errorf("sheet %d, %s, is filled to %.2f, and its part goes on", i+1, part, full[i])
					}
				}
			})
		}
	}
}
