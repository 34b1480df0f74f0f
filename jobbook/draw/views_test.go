package draw_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// odd draws things as a half-filled job, a slip of the pen or a bad day would have them.
type odd struct{ *rapid.T }

func (o odd) yes(what string) bool { return rapid.Bool().Draw(o.T, what) }

func (o odd) seldom(what string) bool { return rapid.IntRange(0, 5).Draw(o.T, what) == 0 }

func (o odd) name(what string) string {
	if o.seldom(what + " is odd") {
		return rapid.StringMatching(`[A-Z½é&<>"'#WM -]{0,60}`).Draw(o.T, what)
	}
	return rapid.StringMatching(`[a-z]{1,9}( [a-z]{1,9}){0,3}`).Draw(o.T, what)
}

// long is a length up to some inches in sixteenths; seldom none, and seldom one that can't be.
func (o odd) long(what string, inchesMost int64) length.Length {
	switch rapid.IntRange(0, 19).Draw(o.T, what+" kind") {
	case 0:
		return 0
	case 1:
		return rapid.SampledFrom([]length.Length{-in(1, 0), 1, length.Most, math.MaxInt64, math.MinInt64}).Draw(o.T, what+" slip")
	}
	return in(0, length.Length(rapid.Int64Range(1, inchesMost*16).Draw(o.T, what)))
}

func (o odd) measure(what string, inchesMost int64) job.Measure {
	if o.seldom(what + " blank") {
		return job.Measure{}
	}
	return given(o.long(what, inchesMost))
}

func (o odd) flag(what string) job.Flag {
	return job.Flag{Given: o.yes(what + " given"), Yes: o.yes(what)}
}

func (o odd) word(what string, words ...string) job.Text {
	w := rapid.SampledFrom(append(words, "")).Draw(o.T, what)
	return job.Text{Text: w, Given: w != ""}
}

func (o odd) style() length.Style {
	return rapid.SampledFrom([]length.Style{inches, metric, {System: length.Inches, Division: length.Inch / 32, Rounding: length.Nearest, Feet: true}, {}}).Draw(o.T, "style")
}

func (o odd) width() int { return rapid.IntRange(240, 1400).Draw(o.T, "width") }

func (o odd) newel(what string) *job.Newel {
	if o.seldom(what + " not chosen") {
		return nil
	}
	p := rapid.SampledFrom([]profile.Profile{newel(), profile.Square(in(3, 8), in(48, 0)), profile.Square(in(0, 8), in(400, 0)), {}}).Draw(o.T, what)
	return &job.Newel{Profile: p, Sized: !o.seldom(what + " not sized"), Wide: o.measure(what+" wide", 6), Long: given(p.Long()), Half: o.flag(what + " half")}
}

func (o odd) bolt() *job.Bolt {
	if o.seldom("no bolt") {
		return nil
	}
	return &job.Bolt{Wide: o.measure("bolt", 1), Long: o.measure("bolt long", 8), InPost: o.measure("in post", 4), Pilot: o.measure("pilot", 1), Bore: o.measure("bore", 1),
		Access: o.measure("access", 2), AccessUp: o.measure("access deep", 3), Reach: o.measure("reach", 5)}
}

// run is a run of 1 to 200 balusters, level or raked, with any ends.
func (o odd) run(i int) *layout.Run {
	style := inches
	n := rapid.IntRange(1, 200).Draw(o.T, "balusters")
	if o.seldom("few") {
		n = rapid.IntRange(0, 3).Draw(o.T, "few balusters")
	}
	clear := in(length.Length(rapid.Int64Range(int64(2*n)+2, int64(6*n)+40).Draw(o.T, "clear")), length.Length(rapid.Int64Range(0, 15).Draw(o.T, "sixteenths")))
	r := named(fmt.Sprintf("r%d", i), o.name("title"), style, clear, n)
	if o.seldom("stair") || o.seldom("stair again") {
		r = stairs(r.Name, r.Title, rapid.IntRange(2, 24).Draw(o.T, "risers"))
		r.Rake.From, r.Rake.To = -o.long("before", 12), r.Rake.To+o.long("past", 12)
		if o.seldom("no rise") {
			r.Rake.Rise, r.Rake.Going = o.long("rise", 200), o.long("going", 200)
		}
		if o.seldom("no treads") {
			r.Rake.Treads = nil
		}
	}
	if o.seldom("no clear") {
		r.Clear = nil
	}
	if o.seldom("no marks") {
		r.Marks, r.Chosen = nil, nil
	}
	if o.seldom("no openings") {
		r.Openings = nil
	}
	if o.seldom("no job") {
		r.Job = nil
	}
	for k, e := range []*layout.End{&r.From, &r.To} {
		what := fmt.Sprintf("end %d ", k)
		e.Name, e.Wall, e.Newel = o.name(what), o.yes(what+"wall"), o.newel(what+"newel")
		e.Rosette, e.Recess, e.Proud, e.High = o.long(what+"rosette", 1), o.long(what+"recess", 1), o.long(what+"proud", 1), o.long(what+"high", 6)
	}
	if r.Job == nil {
		return r
	}
	for k, e := range []*job.End{&r.Job.From, &r.Job.To} {
		what := fmt.Sprintf("job end %d ", k)
		e.Face, e.Thick, e.Stays, e.Held = o.word(what+"face", "baseboard", "base trim", "wall"), o.measure(what+"thick", 1), o.flag(what+"stays"), o.word(what+"held", "stud", "blocking", "toggles")
		e.NoPlate, e.Over = o.yes(what+"no plate"), job.Flag{Given: true, Yes: o.seldom(what + "over")}
		if o.yes(what + "plate") {
			e.Plate = &job.Rosette{Wide: o.measure(what+"plate wide", 6), Thick: o.measure(what+"plate thick", 2)}
		}
	}
	r.Job.Bolt = o.bolt()
	if r.Job.Handrail = nil; !o.seldom("no rail") {
		r.Job.Handrail = &job.Handrail{Wide: o.measure("rail wide", 5), High: o.measure("rail high", 5), Section: o.word("section", "round", "other"),
			Plow: job.Plow{Wide: o.measure("plow", 3), Deep: o.measure("plow deep", 1)}}
	}
	if o.seldom("no shoe") {
		r.Job.Shoe, r.Job.NoShoe = nil, o.yes("none")
	} else {
		r.Job.Shoe = &job.Shoe{Wide: o.measure("shoe", 5), High: o.measure("shoe high", 3)}
	}
	if o.seldom("no baluster") {
		r.Job.Baluster = nil
	}
	if !o.seldom("no edge") {
		r.Job.Edge = job.Edge{Back: o.measure("back", 8), Overhang: o.measure("overhang", 3), Solid: o.measure("solid", 8), Joists: o.word("joists", "along", "across"), Blocking: o.flag("blocking")}
		if o.seldom("cap") {
			r.Job.Edge.Cap = o.measure("cap wide", 12)
		}
	}
	return r
}

// guard is a guard of up to eight runs in up to two groups, walked any way.
func (o odd) guard() *guard {
	g := &guard{job: &job.Job{}}
	n := rapid.IntRange(1, 8).Draw(o.T, "runs")
	for i := range n {
		r := o.run(i)
		if i == 0 || o.seldom("new group") {
			g.from(rapid.SampledFrom([]string{"wall", o.name("first post")}).Draw(o.T, "begins"))
		}
		if r.Clear == nil {
			r.Clear = figure("clear", in(40, 0), length.Inches)
			defer func() { r.Clear = nil }()
		}
		to := o.name("post")
		if o.seldom("wall") {
			to = "wall"
		}
		curve := 0.0
		if o.seldom("curve") {
			curve = rapid.Float64Range(-180, 180).Draw(o.T, "curve")
		}
		g.turn(rapid.SampledFrom([]float64{0, 90, -90, 45, -30, 22.5, 137, 180}).Draw(o.T, "turn"))
		g.to(r, to, curve, o.yes("measured"))
		if o.seldom("assumed") {
			g.Plan.Assumed = append(g.Plan.Assumed, o.name("assumption")+" "+to)
		}
	}
	for i := range g.Plan.Posts {
		if o.seldom("post not chosen") {
			g.Plan.Posts[i].Wide = 0
		}
	}
	if o.seldom("no posts") {
		g.Posts, g.Plan.Posts = nil, nil
	}
	return g
}

func (o odd) arrival(i int) layout.Arrival {
	a := layout.Arrival{Run: fmt.Sprintf("r%d", i), Title: o.name("arrival"), End: rapid.SampledFrom([]string{"from", "to", ""}).Draw(o.T, "end"),
		Raked: o.yes("raked"), Up: o.yes("up"), Over: o.seldom("over"), Known: !o.seldom("heights"), Thick: o.long("thick", 4), Wide: o.long("rail", 4),
		Heading: 90 * float64(i), Turned: o.yes("turned"), Skew: rapid.SampledFrom([]float64{0, 0, 22.5, 90, math.NaN()}).Draw(o.T, "skew"),
		BoltDeep: o.long("deep", 4), BoltWide: o.long("bolt", 1)}
	a.Under = o.long("under", 40)
	a.Top = a.Under + o.long("plumb", 5)
	a.Bolt = a.Under + o.long("axis", 3)
	return a
}

func (o odd) post() (layout.Post, *job.Job) {
	p := layout.Post{Name: o.name("post"), Known: o.yes("known"), Wide: o.long("wide", 6), Down: o.long("down", 12), Reveal: o.long("reveal", 1)}
	p.BlockFrom, p.NeedFrom = o.long("block", 40), o.long("need", 40)
	p.BlockTo, p.NeedTo = p.BlockFrom+o.long("block high", 20), p.NeedFrom+o.long("need high", 20)
	if o.yes("cut") {
		p.Cut = &layout.Cut{Length: o.long("as cut", 60)}
	}
	j := &job.Job{}
	for i := range rapid.IntRange(0, 5).Draw(o.T, "arrivals") {
		p.Arrivals = append(p.Arrivals, o.arrival(i))
		j.Runs = append(j.Runs, &job.Run{Name: fmt.Sprintf("r%d", i), Bolt: o.bolt(), Handrail: &job.Handrail{Section: o.word("section", "round")}})
	}
	j.Posts = []job.Post{{Name: p.Name, Part: o.newel("part"), Foot: o.word("foot", "plate", "bolted"), Off: o.measure("off", 4)}}
	if o.seldom("no job") {
		return p, nil
	}
	return p, j
}

// sound fails where words lie on anything, where a drawing can't be read, or where it is of no size.
func sound(tb testing.TB, t *rapid.T, what string, svg string) {
	t.Helper()
	d := ofSVG(tb, svg)
	for i, o := range overlaps(d) {
		if i < 3 {
			t.Errorf("%s: %s", what, o)
		}
	}
	if d.title == "" || d.desc == "" {
		t.Errorf("%s: no words", what)
	}
	if d.width < 240 || d.width > 2000 || d.height < 20 || d.height > 6000 || len(svg) > 150_000 {
		t.Errorf("%s: %g by %g, %d bytes", what, d.width, d.height, len(svg))
	}
	if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") {
		t.Errorf("%s: a number that is none", what)
	}
}

func TestAnyPlanDoesNotOverlap(tb *testing.T) {
	rapid.Check(tb, func(t *rapid.T) {
		o := odd{t}
		g, style, width := o.guard(), o.style(), o.width()
		list := draw.PlanView(g.Layout, g.job, style, width)
		if len(list) == 0 {
			t.Error("nothing is drawn")
		}
		for i, svg := range list {
			sound(tb, t, fmt.Sprintf("plan %d of %d", i+1, len(list)), svg)
		}
	})
}

func TestAnyPostDoesNotOverlap(tb *testing.T) {
	rapid.Check(tb, func(t *rapid.T) {
		o := odd{t}
		p, j := o.post()
		sound(tb, t, "post", draw.PostView(p, j, o.style(), o.width()))
	})
}

func TestAnyEndDoesNotOverlap(tb *testing.T) {
	rapid.Check(tb, func(t *rapid.T) {
		o := odd{t}
		r, style, width := o.run(0), o.style(), o.width()
		for end := range 2 {
			if svg := draw.RailEndView(r, end, style, width); svg != "" {
				sound(tb, t, fmt.Sprintf("rail end %d", end), svg)
			}
			if svg := draw.WallEndView(r, end, style, width); svg != "" {
				sound(tb, t, fmt.Sprintf("wall end %d", end), svg)
			}
		}
		if svg := draw.EdgeView(r, style, width); svg != "" {
			sound(tb, t, "edge", svg)
		}
	})
}
