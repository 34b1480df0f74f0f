package draw_test

import (
	"math"
	"strings"
	"testing"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
)

// TestRisersOnTheirSide: going up the house's flight, to the right on the sheet, the right hand is below. Where nobody says on which side the stair lies,
// risers stand on both and the sheet says so.
func TestRisersOnTheirSide(t *testing.T) {
	risers := func(side string) (d drawn, mid float64, n int) {
		g := house()
		for _, r := range g.Runs {
			if r.Rake != nil {
				r.Job.Stair = &job.Stair{Side: job.Text{Text: side, Given: side != ""}}
			}
		}
		d = ofSVG(t, draw.PlanView(g.Layout, g.job, inches, 680)[0])
		for _, l := range d.of("d-dim") {
			if l.plumb() && math.Abs(l.long()-12) < 0.02 {
				mid += (l.y1 + l.y2) / 2
				n++
			}
		}
		return d, mid / float64(n), n
	}
	const unsaid = "On which side of Lower flight the stair lies was not said"
	both, rail, n := risers("")
	if n != 16 || !strings.Contains(both.said(), unsaid) {
		t.Errorf("%d risers on both sides, want 16; %s", n, both.said())
	}
	for side, below := range map[string]bool{"right": true, "left": false} {
		d, mid, n := risers(side)
		if n != 8 || mid > rail != below || strings.Contains(d.said(), unsaid) {
			t.Errorf("%s: %d risers about %.2f, the rail at %.2f", side, n, mid, rail)
		}
		wants(t, side, d.desc, "Lower flight: flight, uphill, its stair on the "+side+", from foot to head")
	}
}
