package draw_test

import (
	"math"
	"strings"
	"testing"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
)

// heights are where words have their line across, px down the sheet, told by the words beside them: of the lines that begin left of x.
func across(d drawn, px1, px2 float64) []float64 {
	var list []float64
	for _, l := range d.of("d-dim") {
		if l.level() && min(l.x1, l.x2) <= px1 && max(l.x1, l.x2) >= px2 {
			list = append(list, l.y1)
		}
	}
	return list
}

// TestPostIsToScale: heights on the newel and on its faces stand at one scale.
func TestPostIsToScale(t *testing.T) {
	p, j := headPost()
	svg := draw.PostView(p, j, inches, draw.Phone)
	d, scale := ofSVG(t, svg), draw.Scale(svg)*25.4 // px an inch
	floor := 0.0
	for _, l := range d.of("d-cut") {
		floor = l.y1
	}
	// By hand: the dimensions at the right go from 27 1/4 to 36 1/2, and from 24 to 35 1/2; the newel from -4 1/2 to 40 1/2.
	for _, c := range []struct{ from, to float64 }{{27.25, 36.5}, {24, 35.5}} {
		found := false
		for _, l := range d.of("d-dim") {
			found = found || l.plumb() && near(max(l.y1, l.y2), floor-c.from*scale) && near(min(l.y1, l.y2), floor-c.to*scale)
		}
		if !found {
			t.Errorf("no dimension from %g to %g", c.from, c.to)
		}
	}
	top, foot := math.Inf(1), 0.0
	for _, l := range d.of("d-seen") {
		if l.level() && near(l.y1, floor+4.5*scale) {
			foot = l.y1
		}
		top = min(top, l.y1)
	}
	if !near(top, floor-40.5*scale) || foot == 0 {
		t.Errorf("the newel reaches from %.2f to %.2f, floor %.2f", top, foot, floor)
	}
	// The lines squared across the first face: 27 1/4, 28 3/4 and 30.2548; apart by 1.5 and 1.5048 in.
	w := d.word(t, "28 3/4 bolt")
	lines := map[string]bool{}
	for _, y := range across(d, w.x2+60, w.x2+80) {
		for _, o := range across(d, w.x2+60, w.x2+80) {
			if near(o-y, 1.5*scale) {
				lines["under"] = true
			}
			if near(o-y, 1.504803*scale) {
				lines["over"] = true
			}
		}
	}
	if len(lines) != 2 {
		t.Errorf("the lines across the face are not as far apart as the heights: %v", lines)
	}
}

// TestPostSays: what is missing of a block, how a rail is cut, and what nobody has measured.
func TestPostSays(t *testing.T) {
	p, j := headPost()
	svg := draw.PostView(p, j, inches, draw.Phone)
	d := ofSVG(t, svg)
	wants(t, "short", d.said(), "The block is too short, hatched: 1 is missing at its top.", "a reveal of 1/2", "2 is cut off", "36 1/2 needed to", "35 1/2 block to", "24 block from",
		"40 1/2 top", "4 1/2 below", "Face to Lower flight", "Raked 37.78°, falling away from the post", "cut plumb, 3 high on the face, 2 3/8 square to the rail",
		"through a guide block", "square to the face", "heights of this rail are to be measured", "Cut 22.5° off square", "Which face it comes to is assumed.")
	wants(t, "short", d.desc, "Newel at head, 45 in long as cut.", "Square block from 24 in to 35 1/2 in above the floor.", "The rails need it from 27 1/4 in to 36 1/2 in.", "Bolt axis at 28 3/4 in.", "Its foot: bolted.")
	if d.classes["d-hatch"] == 0 {
		t.Error("what is missing is not hatched")
	}
	if d.classes["d-hidden"] == 0 {
		t.Error("no bores")
	}
	long := p
	long.BlockFrom, long.BlockTo = in(20, 0), in(40, 0)
	d = ofSVG(t, draw.PostView(long, j, inches, 680))
	if strings.Contains(d.said(), "too short") || d.classes["d-hatch"] > 0 {
		t.Error("a block that is long enough is called too short")
	}
	low := p
	low.BlockFrom, low.BlockTo = in(28, 0), in(40, 0)
	wants(t, "foot", ofSVG(t, draw.PostView(low, j, inches, 680)).said(), "3/4 is missing at its foot")
	up := p
	up.Arrivals = []layout.Arrival{p.Arrivals[0]}
	up.Arrivals[0].Up = true
	wants(t, "up", ofSVG(t, draw.PostView(up, j, inches, 680)).said(), "climbing away from the post")
	over := p
	over.Arrivals = []layout.Arrival{p.Arrivals[1]}
	over.Arrivals[0].Over = true
	wants(t, "over", ofSVG(t, draw.PostView(over, j, inches, 680)).said(), "The rail goes over the post")
	wants(t, "none", ofSVG(t, draw.PostView(layout.Post{Name: "nobody"}, nil, inches, 680)).said(), "the shape of the newel is to be settled", "No rail comes to it", "Where its block stands is to be settled")
}

// TestRailSlopesTheRightWay: a rail that falls away from its post ends lower than it begins, one that climbs higher.
func TestRailSlopesTheRightWay(t *testing.T) {
	p, j := headPost()
	p.Arrivals = p.Arrivals[:1]
	for _, up := range []bool{true, false} {
		p.Arrivals[0].Up = up
		d := ofSVG(t, draw.PostView(p, j, inches, draw.Phone))
		found := false
		for _, l := range d.of("d-seen") {
			if rise := l.y1 - l.y2; !l.level() && !l.plumb() && l.x2 > 250 { // the rail, to the right of the newel
				found = true
				if l.x1 > l.x2 {
					rise = -rise
				}
				if rise > 0 != up {
					t.Errorf("climbs %v, but a line rises %.1f px to the right", up, rise)
				}
				if tan := math.Abs((l.y1 - l.y2) / (l.x1 - l.x2)); math.Abs(tan-0.775) > 0.002 { // 7 3/4 on 10
					t.Errorf("slope %.4f, want 0.775", tan)
				}
			}
		}
		if !found {
			t.Error("no slanting rail")
		}
	}
}

// TestRailEnd: the bores stand where the bolt's sizes say, along the rake. By hand: 2 1/2 in the post, 6 less 2 1/2 in the rail, 2 3/4 to the bore
// from below; each is dimensioned along the axis, so that the lines are as long as that at the drawing's scale.
func TestRailEnd(t *testing.T) {
	level, raked := bolted()
	for _, c := range []struct {
		name  string
		run   *layout.Run
		end   int
		slope float64 // of the dimensions on the sheet, down to the right
		want  []string
	}{
		{"level", level, 0, 0, []string{"the rail's end at foot", "Level: the end is cut square", "square to the face"}},
		{"level, the other end", level, 1, 0, []string{"the rail's end at head"}},
		{"lower", raked, 0, -0.775, []string{"37.78°", "Plumb cut at 37.78° off square", "through a guide block"}},
		{"upper", raked, 1, -0.775, []string{"37.78°"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			svg := draw.RailEndView(c.run, c.end, inches, 680)
			d, scale := ofSVG(t, svg), draw.Scale(svg)*25.4
			wants(t, c.name, d.said(), append(c.want, "diameter 3/8, depth 3 1/2", "diameter 1, depth 1 1/2", "along the bore, 2 3/4", "diameter 1/4, depth 2 1/2", "Section 2 1/4 wide, 2 3/8 high, plow 1 1/4 wide and 5/16 deep", "moulding is not drawn")...)
			for text, inches := range map[string]float64{"2 1/2": 2.5, "3 1/2": 3.5, "2 3/4": 2.75} {
				d.word(t, text)
				found := false
				for _, l := range d.of("d-dim") {
					slope := (l.y2 - l.y1) / (l.x2 - l.x1)
					found = found || math.Abs(l.long()-inches*scale) < 0.03 && math.Abs(slope-c.slope) < 0.002
				}
				if !found {
					t.Errorf("no line of %s", text)
				}
			}
			for _, letter := range []string{"a", "b", "c"} {
				d.word(t, letter)
			}
			// The post stands left of its rail at the first end, right of it at the other: c, in the post, and b, in the rail.
			if post, rail := d.word(t, "c"), d.word(t, "b"); post.x1 < rail.x1 != (c.end == 0) {
				t.Error("the post stands on the wrong side")
			}
			if c.run == raked { // the rail climbs to the right at either end
				post, rail := d.word(t, "c"), d.word(t, "b")
				if (post.x1 < rail.x1) != (post.y1 > rail.y1) {
					t.Error("the rail falls to the right")
				}
			}
		})
	}
	wall, over, none := *level, *level, *level
	wall.From.Wall = true
	j := *level.Job
	over.Job, j.From.Over = &j, job.Flag{Yes: true, Given: true}
	k := *level.Job
	none.Job, k.Bolt = &k, nil
	for name, svg := range map[string]string{"no run": draw.RailEndView(nil, 0, inches, 300), "wall": draw.RailEndView(&wall, 0, inches, 300), "over": draw.RailEndView(&over, 0, inches, 300),
		"no bolt": draw.RailEndView(&none, 0, inches, 300), "no such end": draw.RailEndView(level, 2, inches, 300), "no job": draw.RailEndView(&layout.Run{}, 0, inches, 300)} {
		if svg != "" {
			t.Errorf("%s: something is drawn", name)
		}
	}
	moved := *level
	up := *level.Job
	moved.Job, up.From.BoltUp = &up, given(in(0, 4))
	wants(t, "moved", ofSVG(t, draw.RailEndView(&moved, 0, inches, 680)).said(), "moved up by 1/4 from the middle of its cut")
	was, is := ofSVG(t, draw.RailEndView(level, 0, inches, 680)), ofSVG(t, draw.RailEndView(&moved, 0, inches, 680))
	scale := draw.Scale(draw.RailEndView(&moved, 0, inches, 680)) * 25.4
	// From the axis of the bores to the rail's top: half of 2 3/8, and 1/4 less of it.
	if a, b := axisToTop(t, was)/scale, axisToTop(t, is)/scale; math.Abs(a-1.1875) > 0.01 || math.Abs(b-0.9375) > 0.01 {
		t.Errorf("the axis lies %.4f and %.4f in under the top, want 1.1875 and 0.9375", a, b)
	}
	bare := *level
	b := *level.Job
	bare.Job, b.Bolt, b.Handrail = &b, &job.Bolt{}, nil
	wants(t, "bare", ofSVG(t, draw.RailEndView(&bare, 0, inches, 300)).said(), "diameter to be measured", "the handrail is to be chosen", "Long dashes")
	steep := *raked
	steep.Rake = &layout.Rake{}
	wants(t, "no angle", ofSVG(t, draw.RailEndView(&steep, 0, inches, 300)).said(), "the angle of the rake is to be measured")
}

// axisToTop is how far the longest centre line of a level rail's end lies below the longest edge seen over it, px.
func axisToTop(t *testing.T, d drawn) float64 {
	t.Helper()
	var axis segment
	for _, l := range d.of("d-axis") {
		if l.level() && l.long() > axis.long() {
			axis = l
		}
	}
	for _, l := range d.of("d-seen") {
		if l.level() && l.y1 < axis.y1 && l.long() > 50 {
			return axis.y1 - l.y1
		}
	}
	t.Fatal("no rail over the axis")
	return 0
}

// TestWallEnd: the gap at the foot is drawn as it is written, from the face that the marks are measured from, or from trim that stands before it.
func TestWallEnd(t *testing.T) {
	l := landing()
	l.Job.From = job.End{Where: text("wall"), Face: text("baseboard"), Thick: given(in(0, 10)), Held: text("blocking"), Plate: l.Job.From.Plate}
	l.Openings[0].Foot = in(3, 11) // by hand: the first mark is 4 9/16, less half of 1 3/4
	svg := draw.WallEndView(l, 0, inches, draw.Phone)
	d, scale := ofSVG(t, svg), draw.Scale(svg)*25.4
	wants(t, "baseboard", d.said(), "gap 3 11/16", "at the rail", "at the foot", "Held by blocking in the wall.", "baseboard, 5/8 thick, is taken to stay", "Rosette 4 1/2 across stands off 3/4")
	gap := false
	for _, s := range d.of("d-dim") {
		gap = gap || s.level() && math.Abs(s.long()-3.6875*scale) < 0.03
	}
	if !gap {
		t.Error("the gap's line is not as long as the gap")
	}
	if n := len(d.of("d-hatch")); n == 0 {
		t.Error("the wall is not hatched")
	}
	l.To.Newel.Wide = given(in(3, 8))
	wants(t, "half newel", ofSVG(t, draw.WallEndView(l, 1, inches, draw.Phone)).said(), "A half newel, 3 1/2 across", "What holds it is not known", "the clear length goes to")
	goes := gallery()
	goes.Job.From = job.End{Where: text("wall"), Face: text("baseboard"), Thick: given(in(0, 12)), Stays: job.Flag{Given: true}, Held: text("toggles"), NoPlate: true}
	wants(t, "goes", ofSVG(t, draw.WallEndView(goes, 0, inches, draw.Phone)).said(), "Dashed: the baseboard, 3/4 thick, comes off.", "toggles", "No rosette.")
	if draw.WallEndView(goes, 1, inches, 300) != "" || draw.WallEndView(nil, 0, inches, 300) != "" || draw.WallEndView(goes, 2, inches, 300) != "" {
		t.Error("a post is drawn as a wall")
	}
	bare := ofSVG(t, draw.WallEndView(&layout.Run{From: layout.End{Wall: true}}, 0, inches, 300))
	wants(t, "bare", bare.said(), "is not laid out yet", "the width of the rail is to be settled", "Whether there is a rosette is to be settled")
}

// TestEdge: what lands off solid wood. By hand: a post of 3 1/2 about 2 1/4 from the edge reaches from 1/2 to 4; an overhang of 1 1/8 and 1 1/2 of
// solid wood end at 2 5/8: 5/8 over the overhang, 1 3/8 behind. A shoe of 2 1/2 reaches from 1 to 3 1/2: 1/8 and 7/8. A baluster of 1 1/4 from
// 1 5/8 to 2 7/8: 1/4 behind.
func TestEdge(t *testing.T) {
	r := gallery()
	r.Job.Edge = job.Edge{Back: given(in(2, 4)), Overhang: given(in(1, 2)), Solid: given(in(1, 8)), Joists: text("along")}
	svg := draw.EdgeView(r, inches, draw.Phone)
	d, scale := ofSVG(t, svg), draw.Scale(svg)*25.4
	wants(t, "off", d.said(), "Post 3 1/2 wide, off solid wood: 5/8 over the overhang and 1 3/8 behind the solid wood.", "Shoe 2 1/2 wide, off solid wood: 1/8 over the overhang and 7/8 behind the solid wood.",
		"Baluster 1 1/4 wide, off solid wood: 1/4 behind the solid wood.", "Joists run along the edge.", "blocking where posts stand is not known", "off solid wood")
	for text, inches := range map[string]float64{"2 1/4": 2.25, "1 1/8": 1.125, "1 1/2": 1.5, "post 3 1/2": 3.5} {
		d.word(t, text)
		found := false
		for _, l := range d.of("d-dim") {
			found = found || l.level() && math.Abs(l.long()-inches*scale) < 0.03
		}
		if !found {
			t.Errorf("no line of %s", text)
		}
	}
	r.Job.Edge.Back, r.Job.Edge.Overhang, r.Job.Edge.Solid = given(in(3, 0)), given(in(1, 0)), given(in(4, 0))
	wants(t, "sound", ofSVG(t, draw.EdgeView(r, inches, draw.Phone)).said(), "Post 3 1/2 wide, all of it on solid wood.")
	r.Job.Edge.Back = given(in(1, 8))
	wants(t, "past", ofSVG(t, draw.EdgeView(r, inches, draw.Phone)).said(), "Post 3 1/2 wide, off solid wood: 1/4 of it stands out past the edge and 1 over the overhang.")
	r.Job.Edge = job.Edge{Overhang: given(in(1, 0))}
	begun := ofSVG(t, draw.EdgeView(r, inches, draw.Phone))
	wants(t, "begun", begun.said(), "stands back from the edge is to be measured", "whether it stands on solid wood is to be measured", "Dashed: the solid wood behind it")
	if len(begun.of("d-come")) == 0 {
		t.Error("nothing is dashed")
	}
	r.Job.Edge = job.Edge{}
	if draw.EdgeView(r, inches, 300) != "" || draw.EdgeView(nil, inches, 300) != "" || draw.EdgeView(&layout.Run{}, inches, 300) != "" {
		t.Error("an edge is drawn of which nothing is written")
	}
}

// TestScale: a drawing says its scale, and what has none gives none.
func TestScale(t *testing.T) {
	if draw.Scale("") != 0 || draw.Scale("<svg>") != 0 || draw.Scale(draw.ProfileFigure(turned(), "", inches)) != 0 {
		t.Error("a scale from nowhere")
	}
	p := layout.Post{Name: `data-px-per-mm="7"`}
	if got := draw.Scale(draw.PostView(p, nil, inches, 300)); got <= 0 || got > 1 {
		t.Errorf("%g, as if the name were the scale", got)
	}
}

// TestViewsEscape: what somebody wrote never becomes markup.
func TestViewsEscape(t *testing.T) {
	const evil = "</title><script>alert('x')</script> \"quoted\" & \x00\x08\xff ]]> <!--"
	g := house()
	g.Runs[0].Title, g.Plan.Posts[0].Name, g.Plan.Stretches[0].To.Name, g.Plan.Assumed[0] = evil, evil, evil, evil
	p, j := headPost()
	p.Name, p.Arrivals[0].Title, p.Arrivals[0].End = evil, evil, evil
	j.Posts[0].Name, j.Posts[0].Foot.Text = evil, evil
	level, _ := bolted()
	level.ID, level.Title, level.From.Name, level.Job.From.Held.Text, level.To.Wall, level.To.Name = `run/"><script>`, evil, evil, evil, true, evil
	level.Job.To.Face = text(evil)
	level.Job.To.Thick = given(in(1, 0))
	level.Job.Edge = job.Edge{Joists: text(evil)}
	all := append(draw.PlanView(g.Layout, g.job, inches, draw.Phone), draw.PostView(p, j, inches, 300), draw.RailEndView(level, 0, inches, 300), draw.WallEndView(level, 1, inches, 300), draw.EdgeView(level, inches, 300))
	for _, svg := range all {
		d := ofSVG(t, svg)
		if strings.Contains(svg, "<script") || strings.Contains(svg, "<!--") || svg == "" {
			t.Error("markup got through")
		}
		for _, id := range d.ids {
			if strings.ContainsAny(id, "\"<> ") {
				t.Errorf("id %q", id)
			}
		}
	}
}

// TestFractionsStayTogether: a line never ends between the inches of a length and their fraction.
func TestFractionsStayTogether(t *testing.T) {
	level, raked := bolted()
	p, j := headPost()
	level.Job.Edge = job.Edge{Back: given(in(2, 5)), Overhang: given(in(1, 3)), Solid: given(in(1, 9))}
	for width := 240; width <= 700; width += 7 {
		for _, svg := range []string{draw.RailEndView(raked, 0, inches, width), draw.PostView(p, j, inches, width), draw.EdgeView(level, inches, width)} {
			d := ofSVG(t, svg)
			for _, w := range d.texts {
				if i := strings.IndexByte(w.text, '/'); i > 0 && strings.Trim(w.text[:i], "0123456789") == "" && len(w.text) > 8 { // begins with a fraction
					for _, o := range d.texts {
						if last := o.text[strings.LastIndexByte(o.text, ' ')+1:]; o.x1 == w.x1 && o.y1 < w.y1 && w.y1-o.y1 < 17 && len(o.text) > 8 && last != "" && strings.Trim(last, "0123456789") == "" {
							t.Errorf("%d px: %q, then %q", width, o.text, w.text)
						}
					}
				}
			}
		}
	}
}
