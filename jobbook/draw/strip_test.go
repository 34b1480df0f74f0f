package draw

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// stripRun is a run of 60 in with 10 marks 5 1/2 apart from 5, its name full of what a drawing must not take as its own.
func stripRun() *layout.Run {
	in := length.Inch
	clear := working.Work("run/x/clear", "clear", "L", "in", working.Constant(60))
	r := &layout.Run{ID: "run/x", Name: `x"<&`, Title: `<script>"&`, Clear: clear, Chosen: &layout.Candidate{Count: 10, Spacing: 5*in + in/2, Gap: 4*in + in/4}}
	for k := range 10 {
		at := 5*in + length.Length(k)*(5*in+in/2)
		r.Marks = append(r.Marks, layout.Mark{K: k + 1, At: at, Shoe: at})
	}
	return r
}

var sixteenths = length.Style{System: length.Inches, Division: length.Inch / 16, Rounding: length.Nearest}

// TestStrips: 60 in are 1524 mm: strips of 230 mm with 12 over the next, the last from 1380, make seven, and five go on a sheet.
func TestStrips(t *testing.T) {
	for _, paper := range []Paper{Letter, A4} {
		t.Run(paper.Name, func(t *testing.T) {
			sheets := Strips(stripRun(), sixteenths, paper)
			if len(sheets) != 2 {
				t.Fatalf("%d sheets", len(sheets))
			}
			all := strings.Join(sheets, "")
			for _, svg := range sheets {
				decoder := xml.NewDecoder(strings.NewReader(svg))
				for {
					if _, err := decoder.Token(); err == io.EOF {
						break
					} else if err != nil {
						t.Fatal(err)
					}
				}
			}
			for _, want := range []string{">5</text>", ">10 1/2</text>", ">54 1/2</text>", ">60</text>", ">100 mm</text>", ">4 in</text>", "&lt;script&gt;"} {
				if !strings.Contains(all, want) {
					t.Errorf("%s is not on the strips", want)
				}
			}
			if strings.Contains(all, "<script") {
				t.Error("a title became an element")
			}
		})
	}
}

func TestStripsOfNothing(t *testing.T) {
	none := stripRun()
	none.Marks = nil
	long := stripRun()
	long.Clear = working.Work("run/x/clear", "clear", "L", "in", working.Constant(1000)) // 25.4 m
	for name, r := range map[string]*layout.Run{"no run": nil, "no marks": none, "over 20 m": long} {
		t.Run(name, func(t *testing.T) {
			if got := Strips(r, sixteenths, A4); got != nil {
				t.Errorf("%d sheets", len(got))
			}
		})
	}
}

// TestBallCard: a limit of 4 in is a circle of 50.8 mm radius; one of 8 in has no room between the margins.
func TestBallCard(t *testing.T) {
	if got := BallCard(4*length.Inch, sixteenths, Letter); !strings.Contains(got, `r="50.800"`) || !strings.Contains(got, "4 in") {
		t.Error(got)
	}
	if got := BallCard(8*length.Inch, sixteenths, Letter); got != "" {
		t.Error("a disc larger than the paper")
	}
}
