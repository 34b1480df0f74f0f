package draw_test

import (
	"math"
	"strings"
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

// TestEdgeOfATread: across the edge of a flight's treads stands a post that is on one of them, 3 1/2 wide about 2 1/4 from the edge: 5/8 over an overhang
// of 1 1/8, 1 3/8 behind 1 1/2 of solid wood (by hand). One on the floor or the landing is not in it, nor are the landing's joists.
func TestEdgeOfATread(t *testing.T) {
	for stands, on := range map[int]bool{0: false, 2: true, 5: false} {
		r := porch().run()
		r.Job.From.Stands = job.Whole{N: stands, Given: true}
		r.Job.To.Stands = job.Whole{N: 5, Given: true} // the landing
		r.Job.Edge = job.Edge{Back: given(in(2, 4)), Overhang: given(in(1, 2)), Solid: given(in(1, 8)), Joists: text("along"), Blocking: job.Flag{Given: true}}
		svg := draw.EdgeView(r, inches, draw.Phone)
		said := ofSVG(t, svg).said()
		wants(t, "edge", said, "Under the landing, which is not in it, joists run along the edge.")
		const post, blocking = "Post 3 1/2 wide, off solid wood: 5/8 over the overhang and 1 3/8 behind the solid wood.", "There is no blocking under the tread that the post stands on."
		if strings.Contains(said, post) != on || strings.Contains(said, blocking) != on {
			t.Errorf("stands on %d: %s", stands, said)
		}
	}
}

// TestPostOfADepthNotKnown: a newel of which nobody says how far down it goes is not "as cut": its length waits for that.
func TestPostOfADepthNotKnown(t *testing.T) {
	p, j := headPost()
	post := j.Post(p.Name)
	post.Deep, post.Foot, p.Cut = job.Measure{}, job.Text{Text: "bolted", Given: true}, nil
	d := ofSVG(t, draw.PostView(p, j, inches, draw.Phone))
	wants(t, "open", d.desc, "long as bought; how far it goes below the floor is to be settled.")
	if strings.Contains(d.desc, "as cut") {
		t.Errorf("%s", d.desc)
	}
}
