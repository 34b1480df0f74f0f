package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
)

// planDrawings are the goldens of plans.
func planDrawings(all map[string]string) {
	for name, g := range map[string]*guard{"house": house(), "landings": landings()} {
		for _, w := range []int{draw.Phone, 680} {
			for i, svg := range draw.PlanView(g.Layout, g.job, inches, w) {
				all[fmt.Sprintf("plan-%s-%d-%d.svg", name, w, i)] = svg
			}
		}
	}
}

// of are the lines of a class.
func (d drawn) of(class string) []segment {
	var list []segment
	for _, l := range d.lines {
		if l.class == class {
			list = append(list, l)
		}
	}
	return list
}

func (l segment) long() float64 { return math.Hypot(l.x2-l.x1, l.y2-l.y1) }

func (l segment) level() bool { return l.y1 == l.y2 }

func (l segment) plumb() bool { return l.x1 == l.x2 }

// word is the box of words that are written once.
func (d drawn) word(t *testing.T, text string) words {
	t.Helper()
	var found []words
	for _, w := range d.texts {
		if w.text == text {
			found = append(found, w)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%q is written %d times", text, len(found))
	}
	return found[0]
}

func (d drawn) said() string {
	var all []string
	for _, w := range d.texts {
		all = append(all, w.text)
	}
	return strings.Join(all, " ")
}

func wants(t *testing.T, what, got string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(got, w) {
			t.Errorf("%s: no %q in: %s", what, w, got)
		}
	}
}

// TestPlanIsToScale: on a desk the first group of the house stands at one scale. By hand: the gallery's 94 7/16 in are 2398.7 mm from wall to
// post, the return's 41 1/2 are 1054.1, posts of 3 1/2 are 88.9 square, and seven goings of 10 are 254 each.
func TestPlanIsToScale(t *testing.T) {
	g := house()
	svg := draw.PlanView(g.Layout, g.job, inches, 680)[0]
	d, scale := ofSVG(t, svg), draw.Scale(svg)
	if scale <= 0 {
		t.Fatal("no scale")
	}
	for _, c := range []struct {
		text  string
		mm    float64
		plumb bool
	}{{"94 7/16", 2398.7125, false}, {"41 1/2", 1054.1, true}, {"70 level", 1778, false}} {
		w := d.word(t, c.text)
		x, y := (w.x1+w.x2)/2, (w.y1+w.y2)/2
		found := false
		for _, l := range d.of("d-dim") { // the line that the words stand beside
			if math.Abs(l.long()-c.mm*scale) > 0.05 || l.plumb() != c.plumb {
				continue
			}
			away := math.Abs(y - l.y1)
			if c.plumb {
				away = math.Abs(x - l.x1)
			}
			found = found || away < 20
		}
		if !found {
			t.Errorf("%s has no line of %.2f px beside it", c.text, c.mm*scale)
		}
	}
	var posts int
	for _, l := range d.of("d-cut") {
		if math.Abs(l.long()-88.9*scale) < 0.05 {
			posts++
		}
	}
	if posts != 3*4 {
		t.Errorf("%d edges of posts, want three posts of four", posts)
	}
	risers := map[float64]int{} // those of the flight: upright, of one length, on both sides of the rail
	for _, l := range d.of("d-dim") {
		if l.plumb() && math.Abs(l.long()-12) < 0.02 {
			risers[l.x1]++
		}
	}
	if len(risers) != 8 {
		t.Errorf("risers at %d places, want 8: %v", len(risers), risers)
	}
	for _, l := range d.of("d-dim") { // the flight's dimension, from the face at its lowest riser to that at its highest
		if l.level() && math.Abs(l.long()-1778*scale) < 0.05 && (risers[l.x1] != 2 || risers[l.x2] != 2) {
			t.Errorf("no riser at an end of the flight, %.2f or %.2f: %v", l.x1, l.x2, risers)
		}
	}
	for x := range risers {
		ok := false
		for other := range risers {
			ok = ok || math.Abs(math.Abs(x-other)-254*scale) < 0.05
		}
		if !ok {
			t.Errorf("the riser at %.2f is not a going from another", x)
		}
	}
}

// TestPlanPointsUphill: the arrow's head lies nearer to the upper end of its flight than its tail. The house's flight climbs from the foot to
// the head of the stair, which is on the right.
func TestPlanPointsUphill(t *testing.T) {
	g := house()
	d := ofSVG(t, draw.PlanView(g.Layout, g.job, inches, 680)[0])
	head := d.of("d-solid")
	if len(head) != 3 {
		t.Fatalf("%d edges of an arrowhead", len(head))
	}
	if foot, top := d.word(t, "foot"), d.word(t, "head"); foot.x1 > top.x1 {
		t.Fatal("the flight is drawn the wrong way round")
	}
	tip := max(head[0].x1, head[1].x1, head[2].x1)
	base := min(head[0].x1, head[1].x1, head[2].x1)
	if head[0].x1 != tip || base >= tip {
		t.Errorf("the arrow's tip is at %.2f, its base at %.2f to %.2f", head[0].x1, base, tip)
	}
}

// TestPlanSays: every run with its length, every turn that is not square, and what is assumed.
func TestPlanSays(t *testing.T) {
	g := house()
	all := draw.PlanView(g.Layout, g.job, inches, 680)
	if len(all) != 2 {
		t.Fatalf("%d drawings, want one of each group", len(all))
	}
	first, second := ofSVG(t, all[0]), ofSVG(t, all[1])
	wants(t, "first", first.desc, "Gallery, along the hall: level run from wall to corner, 94 7/16 in.", "Return: level run from corner to head, 41 1/2 in.",
		"Lower flight: flight, uphill from foot to head, 70 in level.", "At corner from Gallery, along the hall into Return: 90° to the left, assumed.",
		"The turn at corner into Return is not measured")
	wants(t, "first", first.said(), "turn assumed", "Lower flight", "up", "wall")
	wants(t, "second", second.desc, "At bay mid from Bay into Round the bay: 45° to the right.", "70 in along the curve")
	wants(t, "second", second.said(), "45°", "70 on the curve")
	if strings.Contains(second.said(), "assumed") || strings.Contains(first.said(), "90°") {
		t.Error("a square corner has its angle written, or a measured turn is called assumed")
	}
}

// TestPlanInPieces: what a phone can't hold in one is an overview and each run by itself; nothing is lost, nor taken for known.
func TestPlanInPieces(t *testing.T) {
	g := landings()
	all := draw.PlanView(g.Layout, g.job, inches, draw.Phone)
	if len(all) != 8 {
		t.Fatalf("%d drawings, want an overview and 7 runs", len(all))
	}
	over := ofSVG(t, all[0])
	wants(t, "overview", over.said(), "1: Upper hall, 151 3/16.", "3: Stair to the half landing, 80 level.", "4: Short side, to be measured.", "7: Back to the wall, 50.",
		"The turn at bridge end")
	wants(t, "overview", over.desc, "At window from Long side over the front door into Slant: 22.5° to the right.")
	for i, want := range []string{"151 3/16", "36 1/8", "80 level", "to be measured", "180", "31 1/16", "50"} {
		d := ofSVG(t, all[i+1])
		d.word(t, want)
		wants(t, want, d.said(), fmt.Sprintf("run %d of 7", i+1))
		if len(d.of("d-come")) == 0 != (i != 3 && i != 5 && i != 4) { // not measured; no rail; and its post, which is at the end of the run before as well
			t.Errorf("run %d: %d dashed lines", i+1, len(d.of("d-come")))
		}
	}
	wants(t, "not measured", ofSVG(t, all[4]).desc, "Short side: level run from half landing to nook, its length to be measured.", "not to scale")
	wants(t, "no rail", ofSVG(t, all[6]).said(), "the width of the rail is to be settled", "Dashed: window; the newel is to be chosen.")
}

// TestPlanOfAnything: whatever a layout holds, nothing fails, and what is drawn can be read.
func TestPlanOfAnything(t *testing.T) {
	if list := draw.PlanView(layout.Layout{}, nil, inches, draw.Phone); len(list) != 0 {
		t.Errorf("%d drawings of nothing", len(list))
	}
	nan, far := math.NaN(), math.Inf(1)
	wild := layout.Layout{Plan: layout.Plan{
		Stretches: []layout.Stretch{
			{Run: "x", Group: 3, From: layout.Spot{Name: "a", X: nan, Y: far}, To: layout.Spot{Name: "a", X: -far, Y: 1e300}, Heading: nan, Turn: far, Radius: nan},
			{Run: "", Group: -1, Turn: 90, Radius: 1e-9}, {Run: "y", Group: 3, From: layout.Spot{Name: "a"}, Turn: 1e5, Radius: 5},
		},
		Posts: []layout.Spot{{Name: "a", X: nan, Wide: -5}, {Name: ""}}, Assumed: []string{"", "nothing of the kind"}}}
	wild.Runs = []*layout.Run{nil, {Name: "x"}, {Name: "y", Rake: &layout.Rake{}}}
	many := &guard{job: &job.Job{}}
	many.from("wall")
	for i := range 40 {
		many.turn(90*float64(i%2*2-1)).to(named(fmt.Sprintf("r%d", i), fmt.Sprintf("Run %d", i), inches, in(40, 0), 7), fmt.Sprintf("p%d", i), 0, true)
	}
	for name, l := range map[string]layout.Layout{"wild": wild, "many": many.Layout} {
		t.Run(name, func(t *testing.T) {
			for _, width := range []int{-1, 0, 240, draw.Phone, 1_000_000} {
				list := draw.PlanView(l, nil, metric, width)
				if len(list) == 0 || len(list) > 60 {
					t.Errorf("%d drawings", len(list))
				}
				for _, svg := range list {
					d := ofSVG(t, svg)
					if d.width > 2000 || d.height > 4000 || strings.Contains(svg, "NaN") || len(svg) > 100_000 {
						t.Errorf("%g by %g", d.width, d.height)
					}
					for _, o := range overlaps(d) {
						t.Error(o)
					}
				}
			}
		})
	}
}
