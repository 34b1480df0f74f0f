package layout

import (
	"math"
	"strings"
	"testing"
)

// near compares places in plan, given in inches, to a hundredth of a millimetre.
func near(t *testing.T, what string, got Spot, x, y float64) {
	t.Helper()
	if math.Abs(got.X/25.4-x) > 0.0004 || math.Abs(got.Y/25.4-y) > 0.0004 {
		t.Errorf("%s is at %.4f, %.4f, want %.4f, %.4f", what, got.X/25.4, got.Y/25.4, x, y)
	}
}

func (p Plan) stretch(t *testing.T, run string) Stretch {
	t.Helper()
	for _, s := range p.Stretches {
		if s.Run == run {
			return s
		}
	}
	t.Fatalf("%s is not drawn: %+v", run, p)
	return Stretch{}
}

func (p Plan) post(t *testing.T, name string) Spot {
	t.Helper()
	for _, s := range p.Posts {
		if s.Name == name {
			return s
		}
	}
	t.Fatalf("post %s is not drawn: %+v", name, p)
	return Spot{}
}

func level(from, to, clear string) string {
	return "kind: run\nfrom: " + from + "\nto: " + to + "\nclear: {floor: " + clear + ", rail: " + clear + "}"
}

// TestPlan has coordinates worked out by hand, in inches. Newels are 3 1/2 wide: a face stands 1 3/4 from the middle.
func TestPlan(t *testing.T) {
	t.Run("a corner to the right", func(t *testing.T) {
		p := built(t, nil, map[string]string{
			"job.md": postHead + "posts: {a: {newel: post, turn: right 90}, b: {newel: post}}", "runs/1-r.md": level("wall", "a", "100"), "runs/2-s.md": level("a", "b", "40"),
		}).plan
		r, s := p.stretch(t, "r"), p.stretch(t, "s")
		near(t, "r", r.From, 0, 0)
		near(t, "r's end", r.To, 100, 0)
		near(t, "a", p.post(t, "a"), 101.75, 0)
		near(t, "s", s.From, 101.75, -1.75)
		near(t, "s's end", s.To, 101.75, -41.75)
		near(t, "b", p.post(t, "b"), 101.75, -43.5)
		if s.Heading != 270 || s.Group != 0 || r.From.Name != "wall" || s.From.Name != "a" || s.From.Wide != 88.9 || len(p.Assumed) > 0 {
			t.Errorf("%+v", p)
		}
	})
	t.Run("135 degrees between", func(t *testing.T) { // 45 to the left; 1.75 and 41.75 times 0.70711
		p := built(t, nil, map[string]string{
			"job.md": postHead + "posts: {a: {newel: post, turn: left 45}}", "runs/1-r.md": level("wall", "a", "100"), "runs/2-s.md": level("a", "wall", "40"),
		}).plan
		s := p.stretch(t, "s")
		near(t, "s", s.From, 102.9874, 1.2374)
		near(t, "s's end", s.To, 131.2717, 29.5217)
		if s.Heading != 45 {
			t.Errorf("%+v", s)
		}
	})
	t.Run("a run that comes to a post where another starts", func(t *testing.T) {
		// Back along r one heads west; a right turn there is north. So s comes from the north, heading south.
		p := built(t, nil, map[string]string{
			"job.md": postHead + "posts: {a: {newel: post, turn: right 90}}", "runs/1-r.md": level("a", "wall", "100"), "runs/2-s.md": level("wall", "a", "40"),
		}).plan
		s := p.stretch(t, "s")
		near(t, "a", p.post(t, "a"), -1.75, 0)
		near(t, "s", s.From, -1.75, 41.75)
		near(t, "s's end", s.To, -1.75, 1.75)
		if s.Heading != 270 {
			t.Errorf("%+v", s)
		}
	})
	t.Run("two that start at one post", func(t *testing.T) {
		p := built(t, nil, map[string]string{
			"job.md": postHead + "posts: {a: {newel: post, turn: straight}}", "runs/1-r.md": level("a", "wall", "100"), "runs/2-s.md": level("a", "wall", "40"),
		}).plan
		near(t, "s's end", p.stretch(t, "s").To, -43.5, 0)
	})
	t.Run("a flight that meets a level run", func(t *testing.T) { // 36 1/2 long in plan
		p := built(t, map[string]*Rake{"f": rake(t, "0", "36 1/2")}, map[string]string{
			"job.md":      postHead + "posts: {high: {newel: post, turn: left 90}}",
			"runs/1-f.md": "kind: flight\nfrom: wall\nto: high\nheight: 36", "runs/2-l.md": level("high", "wall", "60"),
		}).plan
		f, l := p.stretch(t, "f"), p.stretch(t, "l")
		near(t, "f's end", f.To, 36.5, 0)
		near(t, "high", p.post(t, "high"), 38.25, 0)
		near(t, "l", l.From, 38.25, 1.75)
		near(t, "l's end", l.To, 38.25, 61.75)
		if !f.Raked || l.Raked || l.Heading != 90 {
			t.Errorf("%+v", p)
		}
	})
	t.Run("a baseboard and base trim", func(t *testing.T) { // the post's face lies 1/2 behind the trim that the clear was read to
		p := built(t, nil, map[string]string{
			"job.md": postHead + "posts: {a: {newel: post}}", "runs/1-r.md": level("wall", "{at: a, face: base trim, thick: 1/2, high: 4}", "100"),
		}).plan
		near(t, "r's end", p.stretch(t, "r").To, 100, 0)
		near(t, "a", p.post(t, "a"), 102.25, 0)
	})
	t.Run("two groups, and a run not measured", func(t *testing.T) {
		p := built(t, nil, map[string]string{
			"job.md": postHead + "posts: {a: {newel: post, turn: right 90}, b: {newel: post}, c: {newel: post}}", "runs/1-r.md": level("wall", "a", "100"),
			"runs/2-s.md": level("b", "c", "50"), "runs/3-t.md": level("a", "wall", "20"), "runs/4-u.md": level("a", "c", ""),
		}).plan
		if r, s, u := p.stretch(t, "r"), p.stretch(t, "s"), p.stretch(t, "t"); r.Group != 0 || s.Group != 1 || u.Group != 0 || s.Heading != 0 {
			t.Errorf("%+v", p)
		}
		near(t, "s", p.stretch(t, "s").From, 0, 0)
		near(t, "c", p.post(t, "c"), 51.75, 0)
		if len(p.Stretches) != 3 || len(p.Posts) != 3 {
			t.Errorf("%+v", p)
		}
	})
}

// TestRing goes round four posts to the right, 100 and 50 clear. At a, where it set out, one comes back along the first run heading west,
// and leaves along the last heading south: a turn to the left.
func TestRing(t *testing.T) {
	ring := func(third, turnA string) guard {
		return built(t, nil, map[string]string{
			"job.md":      postHead + "posts: {a: {newel: post, turn: " + turnA + "}, b: {newel: post, turn: right 90}, c: {newel: post, turn: right 90}, d: {newel: post, turn: right 90}}",
			"runs/1-r.md": level("a", "b", "100"), "runs/2-s.md": level("b", "c", "50"), "runs/3-t.md": level("c", "d", third), "runs/4-u.md": level("d", "a", "50"),
		})
	}
	asked := func(g guard, words string) bool {
		for _, p := range g.posts {
			if wants(p.Missing, words) {
				return true
			}
		}
		return false
	}
	g := ring("100", "left 90")
	near(t, "c", g.plan.post(t, "c"), 101.75, -53.5)
	near(t, "a again", g.plan.stretch(t, "u").To, -1.75, -1.75)
	if asked(g, "do not close") || len(g.plan.Assumed) > 0 {
		t.Errorf("%+v", g.plan)
	}
	if asked(ring("99", "left 90"), "do not close") {
		t.Error("an inch is closed")
	}
	if !asked(ring("98", "left 90"), "missed by 2 in") {
		t.Error("nobody asks about two inches")
	}
	if !asked(ring("100", "right 90"), "the turns by 180") {
		t.Error("nobody asks about the last turn")
	}
	// What was not measured follows from the others: nothing is assumed in the plan, though it is asked for.
	g = ring("100", "")
	if a := g.posts[0].Arrivals[1]; a.Heading != 90 || a.Turned || len(g.plan.Assumed) > 0 || !asked(g, "how one turns at a") || asked(g, "do not close") {
		t.Errorf("%+v %+v", a, g.plan.Assumed)
	}
}

// TestTurnsNotMeasured: a corner to the right is drawn, said and asked for; a third rail goes straight on.
func TestTurnsNotMeasured(t *testing.T) {
	three := func(turn string) guard {
		return built(t, nil, map[string]string{
			"job.md": postHead + "posts: {a: {newel: post" + turn + "}}", "runs/1-r.md": level("wall", "a", "100"), "runs/2-s.md": level("a", "wall", "40"), "runs/3-t.md": level("a", "wall", "30"),
		})
	}
	g := three("")
	if s, u := g.plan.stretch(t, "s"), g.plan.stretch(t, "t"); s.Heading != 270 || u.Heading != 0 {
		t.Errorf("%+v", g.plan)
	}
	if len(g.plan.Assumed) != 2 || !strings.Contains(g.plan.Assumed[0], "At a the rail of s is drawn as a corner of 90° to the right") || !strings.Contains(g.plan.Assumed[1], "t is drawn straight on") {
		t.Errorf("%q", g.plan.Assumed)
	}
	if m := g.posts[0].Missing; len(m) != 2 || m[0].Where != "job.md, posts: {a: {turn: }}" || m[0].Group != "post/a" || m[1].Where != "job.md, posts: {a: {turn: }}, in a list after the turn into s" {
		t.Errorf("%+v", m)
	}
	g = three(", turn: straight") // the third cannot go the same way
	if u := g.plan.stretch(t, "t"); u.Heading != 270 || len(g.plan.Assumed) != 1 {
		t.Errorf("%+v", g.plan)
	}
	g = three(", turn: [left 90, right 30]")
	if u := g.plan.stretch(t, "t"); u.Heading != 330 || len(g.plan.Assumed) > 0 || len(g.posts[0].Missing) > 0 {
		t.Errorf("%+v", g.plan)
	}
}

// TestCurveInPlan follows the arc by many short steps, each turned a little more: 62 13/16 along a radius of 40.
func TestCurveInPlan(t *testing.T) {
	curve := func(bends string) guard {
		return built(t, nil, map[string]string{
			"job.md": postHead + "posts: {a: {newel: post, turn: straight}}", "runs/1-c.md": level("wall", "a", "62 13/16") + "\nradius: 40" + bends, "runs/2-s.md": level("a", "wall", "10"),
		})
	}
	const long, radius, steps = 62.8125, 40.0, 200_000
	x, y, turn := 0.0, 0.0, 0.0
	for range steps {
		turn += long / radius / steps
		x += long / steps * math.Cos(turn)
		y += long / steps * math.Sin(turn)
	}
	p := curve("\nbends: left").plan
	c, s := p.stretch(t, "c"), p.stretch(t, "s")
	if math.Hypot(c.To.X/25.4-x, c.To.Y/25.4-y) > 0.001 || math.Abs(c.Turn-turn*180/math.Pi) > 0.001 || c.Radius != 40*25.4 || math.Abs(s.Heading-c.Turn) > 0.001 {
		t.Errorf("%+v, want its end at %.3f, %.3f", c, x, y)
	}
	g := curve("")
	if c := g.plan.stretch(t, "c"); math.Hypot(c.To.X/25.4-x, c.To.Y/25.4+y) > 0.001 || c.Turn > 0 || len(g.plan.Assumed) != 1 || !wants(g.runs[0].Missing, "which way the curve bends") {
		t.Errorf("%+v %q", c, g.plan.Assumed)
	}
}

// TestApart has distances of straight lines in plan that are plain to see.
func TestApart(t *testing.T) {
	for _, c := range []struct {
		name string
		a, b [2]point
		want float64
	}{
		{"they cross", [2]point{{-1, 0}, {1, 0}}, [2]point{{0, -1}, {0, 1}}, 0},
		{"one ends at the other", [2]point{{-1, 0}, {1, 0}}, [2]point{{0, 0}, {0, 1}}, 0},
		{"tips in a corner", [2]point{{3, 0}, {9, 0}}, [2]point{{0, 4}, {0, 9}}, 5},
		{"side by side", [2]point{{0, 0}, {9, 0}}, [2]point{{2, 2}, {5, 2}}, 2},
		{"end to end", [2]point{{0, 0}, {1, 0}}, [2]point{{3, 0}, {5, 0}}, 2},
		{"one over the other", [2]point{{0, 0}, {3, 0}}, [2]point{{2, 0}, {5, 0}}, 0},
	} {
		if got := apart(c.a, c.b); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
