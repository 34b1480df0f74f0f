//go:build browser

package jobbook

import (
	"context"
	"encoding/xml"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"balustrade/jobbook/draw"
)

// TestBrowserLabels prints the labels of the sample on both papers and reads the print back: every mark stands on one sheet, once, and every word
// lies inside the sheet's margins.
func TestBrowserLabels(t *testing.T) {
	result, err := Check(sample)
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	b := newTab(t)
	b.visit(fileURL(filepath.Join(bookOf(t, sample), "labels.html")))
	for _, paper := range []draw.Paper{draw.Letter, draw.A4} {
		t.Run(paper.Name, func(t *testing.T) {
			// The papers of the strips lie on their long side; labels stand.
			wide, high := min(paper.Wide, paper.High), max(paper.Wide, paper.High)
			ctx, cancel := context.WithTimeout(b.ctx, patient)
			defer cancel()
			data, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperSize{Width: wide / 25.4, Height: high / 25.4})))
			if err != nil {
				t.Fatal(err)
			}
			pdf := filepath.Join(t.TempDir(), "labels.pdf")
			if err := os.WriteFile(pdf, data, 0o644); err != nil {
				t.Fatal(err)
			}
			out, err := exec.Command("pdftotext", "-bbox", pdf, "-").Output()
			if err != nil {
				t.Fatal(err)
			}
			var doc struct {
				Sheets []struct {
					Words []struct {
						X1   float64 `xml:"xMin,attr"` // points
						Y1   float64 `xml:"yMin,attr"`
						X2   float64 `xml:"xMax,attr"`
						Y2   float64 `xml:"yMax,attr"`
						Text string  `xml:",chardata"`
					} `xml:"word"`
				} `xml:"body>doc>page"`
			}
			decoder := xml.NewDecoder(strings.NewReader(string(out)))
			decoder.Strict = false
			decoder.Entity = xml.HTMLEntity
			if err := decoder.Decode(&doc); err != nil {
				t.Fatal(err)
			}
			const mm = 72 / 25.4
			count := map[string]int{}
			for i, sheet := range doc.Sheets {
				for _, w := range sheet.Words {
					count[w.Text]++
					if w.X1 < 13*mm || w.X2 > (wide-13)*mm || w.Y1 < 5*mm || w.Y2 > (high-5)*mm {
						t.Errorf("sheet %d: %q lies at %.1f to %.1f, %.1f to %.1f mm", i+1, w.Text, w.X1/mm, w.X2/mm, w.Y1/mm, w.Y2/mm)
					}
				}
			}
			for _, l := range result.Plan.Takeoff.Labels {
				if count[l.Mark] != 1 {
					t.Errorf("%s is printed %d times", l.Mark, count[l.Mark])
				}
			}
		})
	}
}
