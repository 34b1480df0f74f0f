package draw_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/working"
)

// steppedGallery is the gallery on a floor that rises 7 at 36 from the datum end.
func steppedGallery() *layout.Run {
	r := gallery()
	r.Floor = layout.Floor{How: "lengths", Steps: []layout.FloorStep{{At: in(36, 0), Rise: in(7, 0)}},
		Points: []layout.FloorPoint{{At: 0}, {At: in(36, 0)}, {At: in(36, 0), Height: in(7, 0)}, {At: in(94, 0), Height: in(7, 0)}}}
	for i, m := range r.Marks {
		r.Marks[i].Piece = 1
		if m.At > in(36, 0) {
			r.Marks[i].Piece, r.Marks[i].Shoe = 2, m.At-in(36, 0)
		}
	}
	return r
}

// TestStepIsDrawnUpright: the line of the floor runs level for 36, straight up for 7 and on level, and so do both edges of the shoe. The
// words say it.
func TestStepIsDrawnUpright(t *testing.T) {
	svg := elevation(steppedGallery(), inches)
	if want := "Floor steps up 7 at 36."; !strings.Contains(svg, want) {
		t.Errorf("%q is not said", want)
	}
	steps := 0
	for _, d := range regexp.MustCompile(` d="([^"]*)"`).FindAllStringSubmatch(svg, -1) {
		var n []float64
		for _, word := range regexp.MustCompile(`-?[0-9.]+`).FindAllString(d[1], -1) {
			v, err := strconv.ParseFloat(word, 64)
			if err != nil {
				t.Fatal(err)
			}
			n = append(n, v)
		}
		if len(n) < 8 {
			continue
		}
		const px = 0.03 // coordinates have two decimals
		level := math.Abs(n[1]-n[3]) < px && math.Abs(n[5]-n[7]) < px
		upright := math.Abs(n[2]-n[4]) < px && n[3]-n[5] > 1
		if level && upright && math.Abs((n[3]-n[5])/(n[2]-n[0])-7./36) < 0.001 {
			steps++
		}
	}
	if steps < 3 { // the floor, and the shoe's top and underside
		t.Errorf("%d lines go up at the step", steps)
	}
}

// TestStepStrips: each piece of a stepped shoe has strips of its own, measured from where it begins. The 7th of the gallery's marks, at
// 95 11/16·7/18 - 5/8 = 36 9/16, is the first on the second piece, 9/16 from the step; the last one is there too, and the ends of both.
func TestStepStrips(t *testing.T) {
	r := steppedGallery()
	sheets := draw.Strips(r, inches, draw.A4)
	if len(sheets) != 3 { // 36 in are 914 mm, four strips; 58 7/16 are 1484, seven, and five go on a sheet
		t.Fatalf("%d sheets", len(sheets))
	}
	for i, want := range []string{"Gallery, piece 1, sheet 1 of 1", "Gallery, piece 2, sheet 1 of 2", "Gallery, piece 2, sheet 2 of 2"} {
		if !strings.Contains(sheets[i], want) {
			t.Errorf("sheet %d is not %s", i+1, want)
		}
	}
	second := r.Marks[6]
	if got := inches.Print(second.Shoe); got != "9/16" || !strings.Contains(sheets[1], ">9/16</text>") || strings.Contains(sheets[0], ">36 9/16</text>") {
		t.Errorf("mark 7 at %s", got)
	}
	if !strings.Contains(sheets[1], "from the step at 36.") || !strings.Contains(sheets[0], ">36</text>") || !strings.Contains(sheets[2], ">58 7/16</text>") {
		t.Error("the pieces do not begin and end where they should")
	}
	ids := map[string]bool{}
	for _, svg := range sheets {
		id := regexp.MustCompile(`id="[^"]*"`).FindString(svg)
		if ids[id] {
			t.Errorf("%s twice", id)
		}
		ids[id] = true
	}
}

// TestCurveIsRolledOut: an elevation of a curved run says so, and there are no strips of flat paper for it.
func TestCurveIsRolledOut(t *testing.T) {
	r := gallery()
	r.Curve = &layout.Curve{Radius: in(60, 0), Angle: working.Work("run/gallery/turns", "", "w", "degrees", working.Constant(90))}
	if want := "A curve, rolled out along the line of the balusters."; !strings.Contains(elevation(r, inches), want) {
		t.Errorf("%q is not said", want)
	}
	if got := draw.Strips(r, inches, draw.A4); got != nil {
		t.Errorf("%d sheets", len(got))
	}
}
