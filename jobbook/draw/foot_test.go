package draw_test

import (
	"math"
	"testing"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/profile"
)

// TestLetInFoot: a newel whose tip of 2, 3 long, is let in 3 deep is 3 1/2 wide at the floor, where the clear was read to it: in the elevation of a
// flight it stands from 1 1/4 before the lowest riser to 4 3/4 before it.
func TestLetInFoot(t *testing.T) {
	tip := profile.Profile{Stations: []profile.Station{station(0, in(2, 0), true), station(in(3, 0), in(2, 0), true), station(in(3, 0), in(3, 8), false), station(in(48, 0), in(3, 8), false)}}
	r := porch().run()
	r.From.Newel = &job.Newel{Profile: tip, Sized: true, Wide: given(in(2, 0))}
	r.From.Wide, r.From.Face = in(3, 8), tip.Face(-in(1, 12)).Lift(-in(3, 0).Float())
	d := ofSVG(t, draw.Panels(r, inches, 1000)[0])
	x, z := measured(t, d, -1.25, 40)
	for _, at := range []float64{-1.25, -4.75} {
		found := false
		for _, l := range d.lines {
			if math.Abs(l.x1-x(at)) < 0.03 && math.Abs(l.x2-x(at)) < 0.03 && max(l.y1, l.y2) > z(0.05) && math.Abs(l.y1-l.y2) > z(0)-z(30) {
				found = true
			}
		}
		if !found {
			t.Errorf("no side of the newel at %.2f", at)
		}
	}
}

// TestWhereAPostStands: the drawing stands a post on what the plan says that it stands on. Its face is 1 past the lowest riser; the newel that the
// posts name is 3 1/2 wide, so that its middle is 3/4 before the riser, on the floor, and not on the first tread, 7 1/2 up.
func TestWhereAPostStands(t *testing.T) {
	for _, c := range []struct {
		stands job.Whole
		want   float64
	}{{job.Whole{}, 0}, {job.Whole{N: 1, Given: true}, 7.5}} {
		p := porch()
		p.before = -in(1, 0)
		r := p.run()
		post := &job.Post{Part: r.From.Newel}
		r.Job.From.Post, r.Job.From.Stands = post, c.stands
		r.From.Face = newel().Face(-in(1, 12)).Lift(c.want * 25.4)
		if got := r.Stands(false).Float() / 25.4; math.Abs(got-c.want) > 1e-9 {
			t.Errorf("stands %v: %.3f up, want %.3f", c.stands, got, c.want)
		}
		d := ofSVG(t, draw.Panels(r, inches, 1000)[0])
		x, z := measured(t, d, 1, 40)
		// The top of the rail at the face: 7 1/2 + 3/4·(1 + 1) + 36 is 45; above what the post stands on it is written.
		if want := map[float64]string{0: "45", 7.5: "37 1/2"}[c.want]; !writes(d, want) {
			t.Errorf("stands %v: %s is not written", c.stands, want)
		}
		found := false
		for _, l := range d.lines {
			found = found || math.Abs(l.x1-x(-2.5)) < 0.03 && math.Abs(l.x2-x(-2.5)) < 0.03 && math.Abs(max(l.y1, l.y2)-z(c.want)) < 0.03
		}
		if !found {
			t.Errorf("stands %v: the newel does not stand at %.2f", c.stands, c.want)
		}
	}
}
