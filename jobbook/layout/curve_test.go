package layout_test

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
	"balustrade/jobbook/working/evaluator"
)

// curved lays out one curved run between two walls, with a baluster of its own.
func curved(t *testing.T, head, baluster, run string) *layout.Run {
	t.Helper()
	_, l := lay(t, map[string]string{"job.md": head, "runs/1-r.md": "kind: run\nfrom: wall\nto: wall\nbaluster: own\n" + run, "parts/own.md": "kind: baluster\n" + baluster})
	return l.Runs[0]
}

// throat is the narrowest way between two members on a circle of radius R, h the half angle between them, worked out without any formula
// of the trade: squares of a width are turned to the radius and every corner of one is measured to every side of the other; round ones
// are two circles.
func throat(R, h, width float64, round bool) float64 {
	type point struct{ x, y float64 }
	square := func(angle float64) (c [4]point) {
		for i, k := range [4]point{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			x, y := k.x*width/2, R+k.y*width/2 // standing at the top of the circle
			c[i] = point{x*math.Cos(angle) + y*math.Sin(angle), -x*math.Sin(angle) + y*math.Cos(angle)}
		}
		return c
	}
	if round {
		left, right := point{-R * math.Sin(h), R * math.Cos(h)}, point{R * math.Sin(h), R * math.Cos(h)}
		return math.Hypot(right.x-left.x, right.y-left.y) - width
	}
	left, right := square(-h), square(h)
	least := math.Inf(1)
	toSides := func(p point, q [4]point) {
		for i := range q {
			a, b := q[i], q[(i+1)%4]
			t := ((p.x-a.x)*(b.x-a.x) + (p.y-a.y)*(b.y-a.y)) / ((b.x-a.x)*(b.x-a.x) + (b.y-a.y)*(b.y-a.y))
			t = math.Max(0, math.Min(1, t))
			least = math.Min(least, math.Hypot(p.x-a.x-t*(b.x-a.x), p.y-a.y-t*(b.y-a.y)))
		}
	}
	for i := range left {
		toSides(left[i], right)
		toSides(right[i], left)
	}
	return least
}

func inch(l length.Length) float64 { return float64(l) / float64(length.Inch) }

// opening is the one between balusters.
func opening(t *testing.T, r *layout.Run) layout.Opening {
	t.Helper()
	for _, o := range r.Openings {
		if o.Part == "between" {
			return o
		}
	}
	t.Fatalf("no opening between balusters; missing %+v, findings %+v", r.Missing, r.Findings)
	return layout.Opening{}
}

// TestCurveOfTheTrade: radius 24, squares of 1 1/4, chord 5 leave 2·(24 - 5/8)·(2.5/24) - 1 1/4·√(1 - (2.5/24)²) = 3.627 at the inner
// corners, not 3.750; round ones leave 5 - 1 1/4 (both worked by hand). The arc of a chord of 5 is 48·asin(5/48) = 5.009075; the marks
// are rounded so finely that they do not matter.
func TestCurveOfTheTrade(t *testing.T) {
	for _, c := range []struct {
		name, baluster string
		want           float64
	}{
		{"square", "wide: 1 1/4\nlong: 42", 3.6266},
		{"round", "profile: [{at: 0, round: 1 1/4}, {at: 42, round: 1 1/4}]", 3.7500},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := curved(t, jobHead+"\ndivision: 0.00001", c.baluster, "radius: 24\nclear: {floor: 40, rail: 40}\npattern: centred\nspacing: 5.009075\ncount: 7")
			if got := inch(opening(t, r).Nominal); math.Abs(got-c.want) > 0.0002 {
				t.Errorf("opening %.4f, want %.4f", got, c.want)
			}
			if got := inch(opening(t, r).Foot); math.Abs(got-c.want) > 0.0002 {
				t.Errorf("gap at the foot %.4f, want %.4f", got, c.want)
			}
			if by := throat(24, math.Asin(5./48), 1.25, c.name == "round"); math.Abs(by-c.want) > 0.0002 {
				t.Errorf("by measuring corners to sides %.4f, want %.4f", by, c.want)
			}
			recompute(t, r)
		})
	}
}

// TestCurveByMeasuring lays out curved runs of squares and of rounds, and measures the way between two neighbours, corners to sides. At
// the worst the arc has both errors on it and each baluster is narrower by what it may be. The smallest count that passes is looked for
// the same way.
func TestCurveByMeasuring(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		radius := rapid.IntRange(12*16, 300*16).Draw(rt, "radius in 16ths")
		clear := rapid.IntRange(12*16, min(2*radius, 150*16)).Draw(rt, "clear in 16ths")
		width := rapid.IntRange(12, 32).Draw(rt, "width in 16ths")
		mark := rapid.IntRange(0, 2).Draw(rt, "mark error in 64ths")
		under := rapid.IntRange(0, 3).Draw(rt, "under width in 64ths")
		round := rapid.Bool().Draw(rt, "round")
		f := func(n int) string { return fmt.Sprintf("%d %d/16", n/16, n%16) }
		baluster := "long: 42\nwide: " + f(width)
		if round {
			baluster = "profile: [{at: 0, round: " + f(width) + "}, {at: 42, round: " + f(width) + "}]"
		}
		r := curved(t, jobHead+fmt.Sprintf("\ntolerance: {mark: %d/64, drill: 0, width: %d/64, season: 0}", mark, under), baluster, "radius: "+f(radius)+"\nclear: {floor: "+f(clear)+", rail: "+f(clear)+"}")

		R, L, b, e, u := float64(radius)/16, float64(clear)/16, float64(width)/16, float64(mark)/64, float64(under)/64
		// The end's face to the nearest axis in a straight line, and the near half of the baluster.
		beside := func(arc float64) float64 { return 2*R*math.Sin((arc+e)/(2*R)) - (b-u)/2 }
		worst := func(n int) float64 {
			previous, w := 0.0, 0.0
			for k := 1; k <= n; k++ {
				m := math.Floor((float64(k)*(L+b)/float64(n+1)-b/2)*16+0.5+1e-9) / 16
				if k == 1 {
					w = beside(m)
				} else {
					w = math.Max(w, throat(R, (m-previous+2*e)/(2*R), b-u, round))
				}
				previous = m
			}
			return math.Max(w, beside(L-previous))
		}
		const near = 1e-5
		least := -1
		for n := 1; float64(n)*b <= L*(R-b/2)/R; n++ {
			w := worst(n)
			if math.Abs(w-4) < near { // too near to call
				return
			}
			if w < 4 {
				least = n
				break
			}
		}
		if r.Least != least {
			rt.Fatalf("least count %d, by measuring %d", r.Least, least)
		}
		if least < 0 {
			return
		}
		if got, want := inch(r.Chosen.Worst), worst(least); math.Abs(got-want) > near {
			rt.Fatalf("worst opening %.6f, by measuring %.6f", got, want)
		}
		recompute(rt, r)
	})
}

// TestCurveIsNotUndercut takes turned balusters on a curve, and a ball that goes straight through: what is seen of each baluster from
// there is half a square's width times (sin h + cos h), and half a turning's width. A dumb grid of heights looks for the largest such
// ball; the opening may be no smaller. Nor may it be larger than the one between the same balusters' own widths, as on a straight run.
func TestCurveIsNotUndercut(t *testing.T) {
	type station struct {
		at, width float64
		round     bool
	}
	rapid.Check(t, func(rt *rapid.T) {
		sixteenths := func(low, high int, what string) float64 {
			return float64(rapid.IntRange(low, high).Draw(rt, what)) / 16
		}
		block, waist, bead := sixteenths(16, 28, "block"), sixteenths(8, 16, "waist"), sixteenths(12, 28, "bead")
		foot, first, second, third := sixteenths(40, 120, "foot block"), sixteenths(16, 64, "waist up"), sixteenths(8, 96, "bead up"), sixteenths(16, 96, "waist up again")
		up := foot
		shape := []station{{0, block, false}, {up, block, false}, {up, waist, true}}
		for _, s := range []station{{first, waist, true}, {second, bead, true}, {third, waist, true}} {
			up += s.at
			shape = append(shape, station{up, s.width, s.round})
		}
		shape = append(shape, station{up, block, false}, station{44, block, false})
		var list []string
		for _, s := range shape {
			kind := map[bool]string{true: "round", false: "square"}[s.round]
			list = append(list, fmt.Sprintf("{at: %.4f, %s: %.4f}", s.at, kind, s.width))
		}
		radius := sixteenths(14*16, 120*16, "radius")
		baluster := "profile: [" + strings.Join(list, ", ") + "]"
		run := fmt.Sprintf("radius: %.4f\nclear: {floor: 36, rail: 36}\npattern: centred\nspacing: 5 1/2\ncount: 5", radius)
		r := curved(t, jobHead, baluster, run)
		got := inch(opening(t, r).Nominal)

		low, high := inch(r.Levels.ShoeTop), inch(r.Levels.RailUnder)
		h := 5.5 / (2 * radius)
		D := 2 * radius * math.Sin(h)
		seen := func(s station, w float64) float64 {
			if s.round {
				return w / 2
			}
			return w / 2 * (math.Sin(h) + math.Cos(h))
		}
		bottom := low - 5./16 // the plow of the shoe; the top is trimmed
		straight := 0.0
		const steps = 300
		for i := 0; i <= steps; i++ {
			z := low + (high-low)*float64(i)/steps
			radius := math.Inf(1)
			for j := 0; j <= 2*steps; j++ { // every height of the baluster that a ball there can touch
				y := z - 4 + 8*float64(j)/(2*steps)
				for k := 1; k < len(shape); k++ {
					a, b := shape[k-1], shape[k]
					if at := y - bottom; a.at <= at && at <= b.at && a.at < b.at {
						w := a.width + (b.width-a.width)*(at-a.at)/(b.at-a.at)
						kind := station{round: a.round && b.round}
						radius = math.Min(radius, math.Hypot(D/2-seen(kind, w), y-z))
					}
				}
			}
			straight = math.Max(straight, 2*radius)
		}
		const grid = 0.02 // of heights, twice over
		if got < straight-grid {
			rt.Fatalf("opening %.4f, but a ball of %.4f goes straight through", got, straight)
		}
		flat := curved(t, jobHead, baluster, strings.Replace(run, fmt.Sprintf("radius: %.4f", radius), "title: flat", 1))
		if wide := inch(opening(t, flat).Nominal); got > wide {
			rt.Fatalf("opening %.4f, on a straight run %.4f", got, wide)
		}
		recompute(rt, r)
	})
}

// TestCurveThatIsNone: a radius of 100 m, the most that a length may be, bows over a run of 8 ft by 7 mm, and nothing that a tape shows is other than on the
// straight run: same counts, same marks, openings within a thousandth of an inch.
func TestCurveThatIsNone(t *testing.T) {
	run := "clear: {floor: 96, rail: 96}"
	tolerant := jobHead + "\ntolerance: {mark: 1/32, drill: 1/32, width: 1/64, season: 1/32}"
	straight := curved(t, tolerant, "wide: 1 1/4\nlong: 42", run)
	bowed := curved(t, tolerant, "wide: 1 1/4\nlong: 42", run+"\nradius: 100000 mm")
	if bowed.Curve == nil || straight.Curve != nil {
		t.Fatal("which one is curved?")
	}
	if len(straight.Candidates) != len(bowed.Candidates) || len(straight.Marks) != len(bowed.Marks) {
		t.Fatalf("%d and %d candidates", len(straight.Candidates), len(bowed.Candidates))
	}
	for i, m := range straight.Marks {
		if m != bowed.Marks[i] {
			t.Errorf("mark %+v and %+v", m, bowed.Marks[i])
		}
	}
	for i, o := range straight.Openings {
		p := bowed.Openings[i]
		if math.Abs(inch(o.Worst-p.Worst)) > 0.001 || math.Abs(inch(o.Nominal-p.Nominal)) > 0.001 || o.Where != p.Where {
			t.Errorf("opening %+v and %+v", o, p)
		}
	}
	for i, c := range straight.Candidates {
		if d := bowed.Candidates[i]; c.Count != d.Count || c.Passes != d.Passes || c.Gap != d.Gap {
			t.Errorf("candidate %+v and %+v", c, d)
		}
	}
}

// TestCurveLengths: 60 in along a radius of 24 turns 60/24·180/π = 143.239 degrees. A rail of 2 5/8 is 60·(24 - 1 5/16)/24 = 56.719 along
// its inner edge and 63.281 along its outer; a shoe of 2 1/2 is 56.875 and 63.125. Worked by hand.
func TestCurveLengths(t *testing.T) {
	r := curved(t, jobHead, "wide: 1 1/4\nlong: 42", "radius: 24\nclear: {floor: 60, rail: 60}")
	if got := r.Curve.Angle.Value.Float64(); math.Abs(got-143.2394) > 0.0001 || r.Curve.Angle.Unit != "degrees" {
		t.Errorf("angle %.4f %s", got, r.Curve.Angle.Unit)
	}
	want := []struct {
		what string
		long float64
	}{{"handrail, inner edge", 56.71875}, {"handrail, middle", 60}, {"handrail, outer edge", 63.28125}, {"shoe, inner edge", 56.875}, {"shoe, middle", 60}, {"shoe, outer edge", 63.125}}
	if len(r.Curve.Sides) != len(want) {
		t.Fatalf("sides %+v", r.Curve.Sides)
	}
	for i, s := range r.Curve.Sides {
		if got := inch(s.Figure.Exact(length.Inches)); s.What != want[i].what || math.Abs(got-want[i].long) > 1e-6 {
			t.Errorf("%s %.5f, want %s %.5f", s.What, got, want[i].what, want[i].long)
		}
	}
	if tape(r.Handrail.Length) != "60" || !strings.Contains(r.Handrail.Fit, "56 3/4 in along the inner edge and 63 5/16 in along the outer") || !strings.Contains(r.Handrail.Fit, "bent, laminated or sawn") {
		t.Errorf("handrail %+v", r.Handrail)
	}
	if tape(r.Shoe.Length) != "60" || !strings.Contains(r.Shoe.Fit, "56 7/8 in along the inner edge and 63 1/8 in along the outer") {
		t.Errorf("shoe %+v", r.Shoe)
	}
	if r.Spacer != nil {
		t.Error("a straight spacer block has no place on a curve")
	}
}

// TestCurveFillets: squares of 1 1/4 at 5 in along a radius of 24, plow 1 1/4 wide, h = 5/48. Corner to corner, by hand:
// along the middle 2·√(24² - 5/8²)·sin h - 1 1/4·cos h = 3.7461, along the inner edge (radius 23 3/8) 3.6160, along the outer (24 5/8)
// 3.8761; the first one, from the wall to the first axis at 5, by the chord less half a baluster: 4.9910 - 5/8 = 4.3660. All are rounded
// down to the sixteenth.
func TestCurveFillets(t *testing.T) {
	r := curved(t, jobHead, "wide: 1 1/4\nlong: 42", "radius: 24\nclear: {floor: 40, rail: 40}\npattern: centred\nspacing: 5\ncount: 7")
	found := 0
	for _, c := range r.Fillets {
		if c.What != "shoe fillet" {
			continue
		}
		found++
		switch c.Which {
		case "1, 8":
			if c.Count != 2 || tape(c.Length) != "4 5/16" || math.Abs(inch(c.Exact)-4.3660) > 0.0001 {
				t.Errorf("ends %+v", c)
			}
		case "2 to 7":
			if c.Count != 6 || tape(c.Length) != "3 11/16" || math.Abs(inch(c.Exact)-3.7461) > 0.0001 || !strings.Contains(c.Fit, "3 9/16 in along its inner edge, 3 7/8 in along its outer") {
				t.Errorf("between %+v", c)
			}
		default:
			t.Errorf("%+v", c)
		}
	}
	if found != 2 {
		t.Errorf("fillets %+v", r.Fillets)
	}
	recompute(t, r)
}

// TestCurveThatCantBe: what no tape can have read is a failing check with a cure, and there is no layout and no pass.
func TestCurveThatCantBe(t *testing.T) {
	for _, c := range []struct{ name, run, check string }{
		{"radius of nothing", "radius: 0\nclear: {floor: 60, rail: 60}", "check/run/r/radius"},
		{"radius within the rail", "radius: 1 5/16\nclear: {floor: 6, rail: 6}", "check/run/r/radius"},
		{"more than the whole circle", "radius: 24\nclear: {floor: 151, rail: 151}", "check/run/r/circle"}, // 2π·24 = 150.80
	} {
		t.Run(c.name, func(t *testing.T) {
			r := curved(t, jobHead, "wide: 1 1/4\nlong: 42", c.run)
			failed := false
			for _, f := range r.Findings {
				failed = failed || f.ID == c.check && f.Verdict == finding.Fail && f.Cure != ""
			}
			if !failed {
				t.Errorf("no check %s: %+v", c.check, r.Findings)
			}
			if r.Chosen != nil || len(r.Openings) > 0 || r.Curve != nil && len(r.Marks) > 0 {
				t.Errorf("laid out: %+v", r.Chosen)
			}
			for _, m := range r.Measures {
				if m.Limit == "guard-opening" && m.Known {
					t.Errorf("an opening that was not worked out: %+v", m)
				}
			}
		})
	}
	t.Run("just over half the rail's width", func(t *testing.T) {
		curved(t, jobHead, "wide: 1 1/4\nlong: 42", "radius: 1 3/8\nclear: {floor: 8, rail: 8}")
	})
	t.Run("the whole circle", func(t *testing.T) {
		r := curved(t, jobHead, "wide: 1 1/4\nlong: 42", "radius: 24\nclear: {floor: 150 3/4, rail: 150 3/4}")
		if r.Chosen == nil || !r.Chosen.Passes {
			t.Errorf("%+v", r.Chosen)
		}
		recompute(t, r)
	})
	t.Run("blank", func(t *testing.T) {
		r := curved(t, jobHead, "wide: 1 1/4\nlong: 42", "radius:\nclear: {floor: 60, rail: 60}")
		asked := false
		for _, m := range r.Missing {
			asked = asked || strings.HasPrefix(m.What, "radius of the curve")
		}
		if !asked || r.Chosen != nil || r.Curve != nil {
			t.Errorf("%+v %+v", r.Missing, r.Chosen)
		}
	})
}

// TestCurveNeverPanics: whatever the sizes are.
func TestCurveNeverPanics(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		number := func(low, high int, what string) string {
			return fmt.Sprintf("%d mm", rapid.IntRange(low, high).Draw(rt, what))
		}
		run := "radius: " + number(0, 3000, "radius") + "\nclear: {floor: " + number(0, 6000, "clear") + ", rail: " + number(0, 6000, "clear at the rail") + "}"
		if rapid.Bool().Draw(rt, "counted") {
			run += fmt.Sprintf("\ncount: %d", rapid.IntRange(0, 40).Draw(rt, "count"))
		}
		step := rapid.IntRange(0, 3000).Draw(rt, "step at")
		if rapid.Bool().Draw(rt, "stepped") {
			run += fmt.Sprintf("\nlevel: [{at: 0, down: 1000 mm}, {at: %d mm, down: 1000 mm}, {at: %d mm, down: %s, step: yes}]", step, step, number(700, 1300, "beyond the step"))
		}
		r := curved(t, jobHead+"\ntolerance: {mark: 1/32, drill: 1/32, width: 1/64, season: 1/32}", "profile: [{at: 0, square: 1 1/4}, {at: 9, square: 1 1/4}, {at: 9, round: "+number(3, 40, "turning")+"}, {at: 30, round: 1}, {at: 44, square: 1}]", run)
		recompute(rt, r)
	})
}

// TestCurvesMatch: a curved run and a straight one of one group are matched as two straight ones are, by the gaps along their lines.
func TestCurvesMatch(t *testing.T) {
	_, l := lay(t, map[string]string{
		"job.md":      jobHead,
		"runs/1-a.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 60, rail: 60}\nmatch: both",
		"runs/2-b.md": "kind: run\nfrom: wall\nto: wall\nradius: 40\nclear: {floor: 74, rail: 74}\nmatch: both",
	})
	// 12 in 60 leave (60 - 15)/13 = 3.462 and 11 leave 3.854; on the curve 14 in 74 leave 3.767 and 15 leave 3.453.
	a, b := l.Runs[0], l.Runs[1]
	if a.Chosen == nil || b.Chosen == nil || !a.Chosen.Passes || !b.Chosen.Passes {
		t.Fatalf("%+v %+v", a.Chosen, b.Chosen)
	}
	least := math.Inf(1)
	for m := a.Least; m <= a.Least+2; m++ {
		for n := b.Least; n <= b.Least+2; n++ {
			least = math.Min(least, math.Abs((60-1.25*float64(m))/float64(m+1)-(74-1.25*float64(n))/float64(n+1)))
		}
	}
	if got := math.Abs(inch(a.Chosen.Gap - b.Chosen.Gap)); math.Abs(got-least) > 1e-6 {
		t.Errorf("gaps differ by %.4f, the least is %.4f", got, least)
	}
}

// TestCurveEndWhereNone: without balusters the opening is the run itself, along the curve.
func TestCurveEndWhereNone(t *testing.T) {
	r := curved(t, jobHead, "wide: 1 1/4\nlong: 42", "radius: 24\nclear: {floor: 3 1/2, rail: 3 1/2}")
	if r.Least != 0 || tape(r.Chosen.Worst) != "3 1/2" {
		t.Errorf("%+v", r.Chosen)
	}
}

// recompute puts every printed number of a run back into its printed formula, with the evaluator that shares no code with what printed it.
func recompute(t interface {
	Helper()
	Errorf(string, ...any)
}, r *layout.Run) {
	t.Helper()
	seen := map[string]bool{}
	for _, f := range r.Figures {
		if seen[f.ID] {
			t.Errorf("two figures have the id %s", f.ID)
		}
		seen[f.ID] = true
		if len(f.Cites) == 0 {
			t.Errorf("%s has no source", f.ID)
		}
	}
	isRounded := func(v exact.Number) bool {
		back, ok := new(big.Rat).SetString(working.Decimal(v))
		return ok && back.Cmp(v.Rat()) != 0
	}
	for _, f := range r.Figures {
		vars, rounded := map[string]string{}, map[string]bool{}
		for _, in := range f.Inputs() {
			if in.Figure != "" && !seen[in.Figure] {
				t.Errorf("%s rests on %s, which is not there", f.ID, in.Figure)
			}
			vars[in.Symbol] = working.Decimal(in.Value)
			if isRounded(in.Value) {
				rounded[strings.TrimPrefix(vars[in.Symbol], "-")] = true
			}
		}
		check := func(formula string, value exact.Number) {
			got, err := evaluator.Evaluate(formula, vars, func(n string) bool { return rounded[strings.TrimPrefix(n, "-")] })
			switch {
			case err != nil && value.Known():
				t.Errorf("%s: %s: %v, printed %s", f.ID, formula, err, working.Decimal(value))
			case err == nil && value.Known() && !got.Holds(working.Decimal(value), isRounded(value)):
				t.Errorf("%s: %s is not %s", f.ID, formula, working.Decimal(value))
			case err == nil && !value.Known():
				t.Errorf("%s: %s has a value, none is printed", f.ID, formula)
			}
		}
		if f.Series == nil {
			check(f.Numbers(), f.Value)
			check(f.Symbols(), f.Value)
			continue
		}
		for _, row := range f.Series.Rows {
			for i, symbol := range f.Series.Vars {
				vars[symbol] = working.Decimal(row.Vars[i])
				if isRounded(row.Vars[i]) {
					rounded[strings.TrimPrefix(vars[symbol], "-")] = true
				}
			}
			check(f.Numbers(), row.Value)
			check(f.Symbols(), row.Value)
		}
	}
}
