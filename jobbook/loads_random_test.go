package jobbook_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/plan"
)

// TestLoadsWorkedAgain: what every member comes to, and its ratio, over random jobs in inches and in millimetres, against arithmetic of its own: sections summed up slice by slice, the weakest place
// of a turning found by walking up it, threads by the stretch that screw and wood have in common. Nothing of package load is used but its results.
func TestLoadsWorkedAgain(t *testing.T) {
	outer := t
	rapid.Check(t, func(t *rapid.T) {
		g := drawGuard(t)
		result, err := jobbook.Check(folder(outer, g.files()))
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range result.Problems {
			t.Fatalf("%s: %s\n%v", p.At, p.Summary, g.files())
		}
		g.compare(t, result.Plan)
	})
}

const newtons = 4.4482216152605 // in a pound

// ruleLoads are the loads of the library's rule sets as trade tables have them, in lb, lb/in and lb/in²; side is that of the square, in.
var ruleLoads = map[string]struct{ point, line, square, side, all, spot float64 }{
	"irc-2021":           {point: 200, square: 50, side: 12},
	"ibc-2021":           {point: 200, line: 50.0 / 12, square: 50, side: 12},
	"canada-nbc":         {point: 1000 / newtons, line: 500 / newtons * 0.0254, square: 500 / newtons, side: 300 / 25.4},
	"england-adk-2013":   {line: 360 / newtons * 0.0254, all: 500 / newtons * 0.0254 * 0.0254, spot: 250 / newtons},
	"australia-ncc-2022": {point: 600 / newtons, line: 350 / newtons * 0.0254},
}

// clearWood is average modulus of rupture, psi, and stiffness, psi, by the Wood Handbook, Table 5-3, at 12 % moisture; G by NDS, 0 where it has no row.
var clearWood = map[string]struct{ rupture, stiff, g float64 }{
	"white oak":         {15200, 1.78e6, 0.73},
	"hard maple":        {15800, 1.83e6, 0},
	"northern red oak":  {14300, 1.82e6, 0.68},
	"yellow poplar":     {10100, 1.58e6, 0.43},
	"black cherry":      {12300, 1.49e6, 0},
	"douglas fir coast": {12400, 1.95e6, 0.50},
}

// up is one station of a turning, in sixteenths of an inch, or in millimetres.
type up struct {
	at, wide int
	round    bool
}

// stick is a part with a profile.
type stick struct {
	list    []up
	species string
	bottom  bool // trimmed there
}

// guard is a random level run between two posts, sizes in the job's unit: sixteenths, or millimetres.
type guard struct {
	metric         bool
	rules          string
	clear, height  int
	section        string
	wide, high     int
	plowWide, plow int
	outline        [][2]int
	rail           string
	baluster       stick
	newel          stick
	foot           string
	rows           []int
	deep, solid    int
	bears          int
	each           int
	rated          int // lb
	tested         bool
	lag            struct{ wide, long, thread int } // sixteenths, always
	sunk           int                              // likewise
}

func drawGuard(t *rapid.T) *guard {
	g := &guard{metric: rapid.Bool().Draw(t, "metric")}
	of := func(name string, least, most int) int { // in sixteenths
		v := rapid.IntRange(least, most).Draw(t, name)
		if g.metric {
			v = int(math.Round(float64(v) * 25.4 / 16))
		}
		return v
	}
	names := []string{"irc-2021", "ibc-2021", "canada-nbc", "england-adk-2013", "australia-ncc-2022"}
	woods := []string{"white oak", "hard maple", "northern red oak", "yellow poplar", "black cherry", "douglas fir coast"}
	g.rules = rapid.SampledFrom(names).Draw(t, "rules")
	g.clear, g.height = of("clear", 6*16, 140*16), of("height", 34*16, 44*16)
	g.rail, g.baluster.species, g.newel.species = rapid.SampledFrom(woods).Draw(t, "rail wood"), rapid.SampledFrom(woods).Draw(t, "stick wood"), rapid.SampledFrom(woods).Draw(t, "newel wood")
	g.section = rapid.SampledFrom([]string{"round", "rectangular", "other"}).Draw(t, "section")
	g.wide, g.high = of("wide", 26, 60), of("high", 24, 60)
	if rapid.Bool().Draw(t, "plowed") {
		g.plowWide, g.plow = of("plow wide", 8, 20), of("plow deep", 2, 6)
	}
	if g.section == "other" {
		at := 0
		for at < g.high {
			if rapid.IntRange(0, 4).Draw(t, "step") == 0 && len(g.outline) > 0 {
				g.outline = append(g.outline, [2]int{at, rapid.IntRange(g.wide/2, g.wide).Draw(t, "step to")})
			} else {
				g.outline = append(g.outline, [2]int{at, rapid.IntRange(g.wide/2, g.wide).Draw(t, "breadth")})
			}
			at += rapid.IntRange(2, g.high).Draw(t, "down")
		}
		g.outline = append(g.outline, [2]int{g.high, rapid.IntRange(g.wide/2, g.wide).Draw(t, "at the bottom")})
	}
	turned := func(name string, least, most, long int) (list []up) {
		block := of(name+" block", least, most)
		switch rapid.IntRange(0, 2).Draw(t, name+" shape") {
		case 0:
			return []up{{0, block, false}, {long, block, false}}
		case 1:
			return []up{{0, block, true}, {long, block, true}}
		}
		foot := rapid.IntRange(long/10, long/3).Draw(t, name+" foot")
		list = []up{{0, block, false}, {foot, block, false}}
		at := foot
		for head := long * 2 / 3; at < head; {
			list = append(list, up{at, rapid.IntRange(block/2, block).Draw(t, name+" turned"), true})
			at += rapid.IntRange(3, long/4).Draw(t, name+" on")
		}
		return append(list, up{at, block, true}, up{at, block, false}, up{max(long, at+8), block, false})
	}
	g.baluster.list, g.newel.list = turned("baluster", 16, 32, g.height+g.height/10), turned("newel", 40, 72, g.height+g.height/2)
	g.baluster.bottom = rapid.Bool().Draw(t, "trim")
	g.foot = rapid.SampledFrom([]string{"plate", "bolted", "lagged", "let in"}).Draw(t, "foot")
	g.deep = of("deep", 8, 10*16)
	if g.foot == "bolted" || g.foot == "lagged" {
		at := 0
		for range rapid.IntRange(2, 4).Draw(t, "rows") {
			at += of("row", 8, 40)
			g.rows = append(g.rows, at)
		}
		g.deep = at + of("bears", 8, 40)
		if g.foot == "bolted" && rapid.Bool().Draw(t, "shallow") { // ties that reach down from a newel that stands on the floor
			g.deep = g.rows[0] / 2
		}
	}
	if g.foot == "lagged" {
		g.bears = rapid.IntRange(0, g.rows[0]-1).Draw(t, "edge")
	}
	g.solid, g.each = of("solid", 16, 5*16), rapid.IntRange(1, 3).Draw(t, "each")
	if rapid.Bool().Draw(t, "rating") {
		g.rated, g.tested = rapid.IntRange(100, 5000).Draw(t, "rated"), rapid.Bool().Draw(t, "tested")
	}
	g.lag.wide = rapid.SampledFrom([]int{5, 6, 8}).Draw(t, "lag")
	g.lag.long = rapid.IntRange(5*16, 12*16).Draw(t, "lag long")
	g.lag.thread = rapid.IntRange(2*16, g.lag.long-16).Draw(t, "thread")
	g.sunk = rapid.IntRange(0, 16).Draw(t, "sunk")
	return g
}

// in is a size of the job in inches.
func (g *guard) in(v int) float64 {
	if g.metric {
		return float64(v) / 25.4
	}
	return float64(v) / 16
}

func sixteenths(v int) string { return fmt.Sprintf("%d %d/16", v/16, v%16) }

func (g *guard) text(v int) string {
	if g.metric {
		return fmt.Sprint(v)
	}
	return sixteenths(v)
}

func (g *guard) profile(list []up) string {
	var b strings.Builder
	b.WriteString("profile:")
	for _, s := range list {
		fmt.Fprintf(&b, "\n  - {at: %s, %s: %s}", g.text(s.at), map[bool]string{true: "round", false: "square"}[s.round], g.text(s.wide))
	}
	return b.String()
}

func (g *guard) files() map[string]string {
	unit := map[bool]string{true: "units: mm\n", false: "units: in\n"}[g.metric]
	rail := "kind: handrail\n" + unit + "species: " + g.rail + "\nwide: " + g.text(g.wide) + "\nhigh: " + g.text(g.high) + "\nsection: " + g.section
	if g.plow > 0 {
		rail += "\nplow: {wide: " + g.text(g.plowWide) + ", deep: " + g.text(g.plow) + "}"
	}
	if len(g.outline) > 0 {
		rail += "\noutline:"
		for _, o := range g.outline {
			rail += "\n  - {at: " + g.text(o[0]) + ", wide: " + g.text(o[1]) + "}"
		}
	}
	rated := ""
	if g.rated > 0 {
		rated = fmt.Sprintf("\nrated: {load: %d lb, at: 36, is: %s, by: a test report}", g.rated, map[bool]string{true: "tested", false: "allowable"}[g.tested])
	}
	post := "newel: post, foot: " + g.foot
	joint, with := map[string]string{"plate": "newel on a plate", "bolted": "newel bolted", "lagged": "newel lagged", "let in": "newel let in"}[g.foot], map[string]string{"plate": "paper", "bolted": "tie", "lagged": "lag", "let in": ""}[g.foot]
	if with != "" {
		post += ", with: " + with
	}
	if len(g.rows) > 0 {
		var rows []string
		for _, r := range g.rows {
			rows = append(rows, g.text(r))
		}
		post += ", rows: [" + strings.Join(rows, ", ") + "]"
	}
	if g.foot != "plate" {
		post += ", deep: " + g.text(g.deep)
	}
	if g.foot == "lagged" {
		post += ", solid: " + g.text(g.solid) + ", bears: " + g.text(g.bears)
	}
	trim := ""
	if g.baluster.bottom {
		trim = "\ntrim: bottom"
	}
	files := map[string]string{
		"job.md": "kind: job\n" + unit + "rules: " + g.rules + "\ndrop: " + g.text(g.height*3) + "\nheight: " + g.text(g.height) + "\nbaluster: stick\nhandrail: rail\nshoe: none\nfillet: none\n" +
			"floor: {species: plywood, framing: douglas fir}\nposts:\n  a: {" + post + "}\n  b: {newel: post, foot: plate}",
		"runs/1-hall.md":     "kind: run\n" + unit + "from: a\nto: b\nclear: {floor: " + g.text(g.clear) + ", rail: " + g.text(g.clear) + "}",
		"fastenings/held.md": "kind: fastening\ntitle: A screw from below\njoins: baluster to floor\nwith: wood-screw-8-2\nthrough: floor\ninto: baluster", // a square foot has to be held by something
		"parts/stick.md":     "kind: baluster\n" + unit + "species: " + g.baluster.species + trim + "\n" + g.profile(g.baluster.list),
		"parts/rail.md":      rail,
		"parts/post.md":      "kind: newel\n" + unit + "species: " + g.newel.species + "\n" + g.profile(g.newel.list),
		"shop/paper.md":      "kind: fixing\nunits: in\ntype: plate" + rated,
		"shop/tie.md":        "kind: fixing\nunits: in\ntype: bolt\nwide: 1/2\nlong: 8" + rated,
		"shop/lag.md":        "kind: fixing\nunits: in\ntype: lag screw\nwide: " + sixteenths(g.lag.wide) + "\nlong: " + sixteenths(g.lag.long) + "\nthread: " + sixteenths(g.lag.thread) + rated,
	}
	if with == "tie" || with == "lag" {
		files["shop/way.md"] = fmt.Sprintf("kind: fastening\nunits: in\njoins: %s\nwith: %s\ncount: %d\nthrough: newel\ninto: framing\nsunk: %s", joint, with, g.each*len(g.rows), sixteenths(g.sunk))
	}
	return files
}

// breaks is the greatest of moment over section modulus from one height to another of a stick, in inches, its profile starting at the height from.
func (g *guard) breaks(list []up, from, to float64, moment func(z float64) float64) (worst float64) {
	const step = 1.0 / 128
	at := func(z float64) { // both sides of a step
		for i := 1; i < len(list); i++ {
			a, b := list[i-1], list[i]
			z0, z1 := g.in(a.at), g.in(b.at)
			if z < z0-1e-9 || z > z1+1e-9 || z0 == z1 {
				continue
			}
			w := g.in(a.wide) + (g.in(b.wide)-g.in(a.wide))*(z-z0)/(z1-z0)
			modulus := w * w * w / 6
			if a.round || b.round {
				modulus = math.Pi * math.Pow(w/2, 3) / 4
			}
			worst = max(worst, moment(z-from)/modulus)
		}
	}
	for z := from; z < to; z += step {
		at(z)
	}
	at(to)
	for _, s := range list {
		if z := g.in(s.at); z >= from && z <= to {
			at(z)
		}
	}
	return worst
}

// second is the second moment of area of the rail about its upright axis, summed up in slices.
func (g *guard) second() float64 {
	const slices = 40_000
	h, w := g.in(g.high), g.in(g.wide)
	d := min(h, w)
	sum := 0.0
	for i := range slices {
		y := (float64(i) + 0.5) * h / slices
		breadth := w
		switch g.section {
		case "round":
			y := (float64(i) + 0.5) * d / slices
			breadth = w * math.Sqrt(1-math.Pow(2*y/d-1, 2))
			sum += math.Pow(breadth, 3) / 12 * d / slices
			continue
		case "other":
			for k := 1; k < len(g.outline); k++ {
				y0, y1 := g.in(g.outline[k-1][0]), g.in(g.outline[k][0])
				if y0 <= y && y <= y1 && y0 < y1 {
					breadth = g.in(g.outline[k-1][1]) + (g.in(g.outline[k][1])-g.in(g.outline[k-1][1]))*(y-y0)/(y1-y0)
				}
			}
		}
		sum += math.Pow(breadth, 3) / 12 * h / slices
	}
	return sum - g.in(g.plow)*math.Pow(g.in(g.plowWide), 3)/12
}

// compare works every member of the plan again.
func (g *guard) compare(t *rapid.T, p *plan.Plan) {
	run := p.Layout.Runs[0]
	l := ruleLoads[g.rules]
	show := func() string { return fmt.Sprint(g.files()) }
	cases := map[string]float64{}
	ratios := map[string]float64{}
	members := map[string]finding.Verdict{}
	for _, m := range p.Loads.Members {
		members[m.Group+" "+m.Name] = m.Verdict
		for i, c := range m.Cases {
			key := fmt.Sprintf("%s %s %s %d", m.Group, m.Name, c.Load, i)
			if c.Comes != nil && c.Comes.Value.Known() {
				cases[key] = c.Comes.Value.Float64()
			}
			if c.Ratio != nil {
				ratios[key] = c.Ratio.Value.Float64()
			}
			if m.Verdict == finding.Screened && (c.Ratio == nil || ratios[key] > 1) {
				t.Fatalf("%s is screened at %v\n%s", key, c.Ratio, show())
			}
		}
		if m.Verdict == finding.Pass {
			t.Fatalf("%s %s passes", m.Group, m.Name)
		}
	}
	seen := 0
	// within: a search stops up to a thirty-second of an inch beside the worst place, never over it.
	check := func(key string, want, strength, within float64) {
		t.Helper()
		seen++
		got, ok := cases[key]
		if !ok || got > want*(1+1e-6) || got < want*(1-within) {
			t.Fatalf("%s comes to %v (%v), want %v\n%s", key, got, ok, want, show())
		}
		r, has := ratios[key]
		if has != (strength > 0) {
			t.Fatalf("%s has a ratio: %v; a published value: %v\n%s", key, has, strength, show())
		}
		if has && math.Abs(r-got/strength) > 1e-6*r {
			t.Fatalf("%s: ratio %v, want %v\n%s", key, r, got/strength, show())
		}
	}
	const exact, searched = 1e-6, 0.02
	long := g.in(g.clear)
	if run.Handrail == nil {
		t.Fatalf("no rail\n%s", show())
	}

	// The rail, pushed sideways on two supports.
	second := g.second()
	fibre := g.in(g.wide) / 2 / second
	i := 0
	push := func(prefix string, each func(force float64, line bool) (want, strength, within float64)) {
		i = 0
		if l.point > 0 {
			want, strength, within := each(l.point, false)
			check(fmt.Sprintf("%s rail-point %d", prefix, i), want, strength, within)
			i++
		}
		if l.line > 0 {
			want, strength, within := each(l.line, true)
			check(fmt.Sprintf("%s rail-line %d", prefix, i), want, strength, within)
		}
	}
	if second > 0.02 {
		slack := 1e-6
		if g.section != "rectangular" { // slices against a closed form
			slack = 1e-3
			fibre *= 1 + slack/2
		}
		push("run/hall handrail", func(force float64, line bool) (float64, float64, float64) {
			if line {
				return force * long * long / 8 * fibre, clearWood[g.rail].rupture, slack
			}
			return force * long / 4 * fibre, clearWood[g.rail].rupture, slack
		})
	}

	// The longest baluster.
	count := 0
	if run.Chosen != nil {
		count = run.Chosen.Count
	}
	if count > 0 && len(run.Balusters) > 0 {
		g.baluster.compare(t, g, run, count, check)
	}

	// The newel, and its foot.
	high := g.in(g.height)
	deep := 0.0
	if g.foot != "plate" {
		deep = g.in(g.deep)
	}
	below := 0.0
	if len(g.rows) > 0 && g.in(g.rows[0]) <= deep {
		below = g.in(g.rows[0])
	}
	post := func(force float64, line bool) float64 {
		if line {
			return force * long / 2
		}
		return force
	}
	push("post/a newel", func(force float64, line bool) (float64, float64, float64) {
		f := post(force, line)
		top := min(deep+high, g.in(g.newel.list[len(g.newel.list)-1].at))
		return g.breaks(g.newel.list, deep-below, top, func(z float64) float64 { return f * (high + below - z) }), clearWood[g.newel.species].rupture, searched
	})
	allowed := float64(g.rated)
	if g.tested {
		allowed /= 2.5
	}
	switch g.foot {
	case "plate":
		push("post/a foot", func(force float64, line bool) (float64, float64, float64) {
			return post(force, line) * high, allowed * 36, exact
		})
	case "let in":
		push("post/a foot", func(force float64, line bool) (float64, float64, float64) {
			return post(force, line) * (high + deep) / deep, 0, exact
		})
	default:
		g.fixings(high, deep, allowed, func(pulls func(force float64) []float64, holds float64) {
			k := 0
			for _, x := range []struct {
				name  string
				force float64
			}{{"rail-point", l.point}, {"rail-line", l.line * long / 2}} {
				if x.force == 0 {
					continue
				}
				for _, want := range pulls(x.force) {
					key := fmt.Sprintf("post/a foot %s %d", x.name, k)
					if holds < 0 { // nothing of the thread is in wood: asked for
						if _, ok := cases[key]; ok || members["post/a foot"] != finding.ToBeMeasured {
							t.Fatalf("a lag screw that holds in nothing: %v\n%s", members["post/a foot"], show())
						}
						seen++
						continue
					}
					check(key, want, holds, exact)
					k++
				}
			}
		})
	}
	if seen == 0 {
		t.Fatalf("nothing was compared\n%s", show())
	}
	for name, v := range members { // what the rule set has no load for is said to be open
		if strings.HasSuffix(name, "baluster") && l.square+l.all+l.spot == 0 && v != finding.AskAuthority {
			t.Fatalf("%s: %v without a load\n%s", name, v, show())
		}
	}
}

func (b stick) compare(t *rapid.T, g *guard, run *layout.Run, count int, check func(key string, want, strength, within float64)) {
	l := ruleLoads[g.rules]
	long := slices.MaxFunc(run.Balusters, func(x, y layout.Cut) int { return int(x.Exact - y.Exact) }).Exact.Float() / 25.4
	whole := g.in(b.list[len(b.list)-1].at)
	from := 0.0
	if b.bottom {
		from = whole - long
	}
	foot := run.Chosen.Spacing.Float()/25.4 - run.Chosen.Gap.Float()/25.4
	spacing := (g.in(g.clear) + foot) / float64(count+1)
	gather := spacing
	if count == 1 {
		gather = g.in(g.clear)
	}
	sharing := min(math.Floor(l.side/spacing+1e-9), float64(count))
	if f := l.side / spacing; math.Abs(f-math.Round(f)) < 1e-6 || long > whole {
		return
	}
	strength := clearWood[b.species].rupture
	worst := func(moment func(z float64) float64) float64 { return g.breaks(b.list, from, from+long, moment) }
	i := 0
	for _, x := range []struct {
		name string
		on   bool
		at   func(z float64) float64
	}{
		{"infill-square", l.square > 0, func(z float64) float64 { return l.square / max(sharing, 1) * z * (long - z) / long }},
		{"infill-pressure", l.all > 0, func(z float64) float64 { return l.all * gather * z * (long - z) / 2 }},
		{"infill-point", l.spot > 0, func(z float64) float64 { return l.spot * z * (long - z) / long }},
	} {
		if x.on {
			check(fmt.Sprintf("run/hall baluster %s %d", x.name, i), worst(x.at), strength, 0.02)
			i++
		}
	}
}

// fixings gives the pulls on bolts or lag screws under a force at the rail, and what one holds; -1 where nothing of a thread is in wood. A row stretches with its distance from where the post turns,
// and the moments of all rows together hold the load's.
func (g *guard) fixings(high, deep, allowed float64, use func(pulls func(force float64) []float64, holds float64)) {
	turning := func(force, pivot float64, outward bool) float64 {
		most, held := 0.0, 0.0
		for _, r := range g.rows {
			y := g.in(r) - pivot
			if outward {
				y = pivot - g.in(r)
			}
			if y > 0 {
				most, held = max(most, y), held+y*y*float64(g.each)
			}
		}
		return force * (high + pivot) * most / held
	}
	last := g.in(g.rows[len(g.rows)-1])
	if g.foot == "bolted" {
		use(func(force float64) []float64 {
			pulls := []float64{turning(force, last, true)}
			if len(g.rows) > 2 {
				pulls = append(pulls, turning(force, g.in(g.rows[0]), false))
			}
			return pulls
		}, allowed)
		return
	}
	holds := allowed
	if holds == 0 {
		d, long, thread := float64(g.lag.wide)/16, float64(g.lag.long)/16, float64(g.lag.thread)/16
		passes := g.in(g.newel.list[0].wide) - float64(g.sunk)/16
		in := min(long-d, passes+g.in(g.solid)) - max(long-thread, passes) // a tip as long as it is wide holds nothing
		holds = -1
		if in > 1e-9 {
			holds = 1800 * math.Pow(0.50, 1.5) * math.Pow(d, 0.75) * in
		}
	}
	use(func(force float64) []float64 {
		return []float64{turning(force, deep, true), turning(force, g.in(g.bears), false)}
	}, holds)
}
