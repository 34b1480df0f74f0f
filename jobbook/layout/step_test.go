package layout_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// steppedUp is a floor that rises 7 at 36 from the datum end.
const steppedUp = "\nlevel: [{at: 0, down: 44}, {at: 36, down: 44}, {at: 36, down: 37, step: yes}, {at: 96, down: 37}]"

var fromHighest = strings.Replace(jobHead, "height: 38", "height: {top: 38, at: highest}", 1)

func fails(r *layout.Run, id string) bool {
	for _, f := range r.Findings {
		if f.ID == "check/run/r/"+id && f.Verdict == finding.Fail {
			return true
		}
	}
	return false
}

func failsAny(r *layout.Run) []string {
	var list []string
	for _, f := range r.Findings {
		if f.Verdict == finding.Fail {
			list = append(list, f.Title)
		}
	}
	return list
}

// TestStep is worked by hand. A rail 38 above the upper floor stands 45 above the lower one. Balusters below the step are
// 45 - 2 3/8 + 5/16 - 1 1/4 + 5/16 - 1/16 = 41 15/16, those on it 7 shorter: 34 15/16. The shoe is 36 and 60 long. 18 balusters of
// 1 1/4 in 96 stand at k·97.25/19 - 5/8: the 7th at 35 3/16 is the last below the step, 3/16 clear of it by its foot, and the 8th at
// 40 5/16 is 4 5/16 on the second piece.
func TestStep(t *testing.T) {
	r := one(t, fromHighest, "from: a\nto: b\nclear: {floor: 96, rail: 96}\ncount: 18"+steppedUp)
	if got := failsAny(r); len(got) > 0 {
		t.Errorf("%q", got)
	}
	if r.Floor.How != "lengths" || r.Floor.Out != 0 || len(r.Floor.Steps) != 1 || r.Floor.Steps[0].At != 36*length.Inch || r.Floor.Steps[0].Rise != 7*length.Inch {
		t.Errorf("floor %+v", r.Floor)
	}
	if want := "The floor steps up 7 in at 36 in from the datum end: the shoe is cut there"; !strings.HasPrefix(r.Floor.Words, want) {
		t.Errorf("floor: %s", r.Floor.Words)
	}
	if tape(r.Levels.RailTop) != "45" || tape(r.Levels.Finished) != "38" || tape(r.Levels.ShoeTop) != "1 1/4" {
		t.Errorf("levels %+v", r.Levels)
	}
	var shoes []string
	for _, c := range r.ShoeCuts() {
		shoes = append(shoes, tape(c.Length)+" "+c.Which)
	}
	if got := strings.Join(shoes, "; "); got != "36 from a to the step at 36 in; 60 from the step at 36 in to b" {
		t.Errorf("shoe: %s", got)
	}
	var lengths []string
	for _, c := range r.Balusters {
		lengths = append(lengths, fmt.Sprintf("%d of %s: %s", c.Count, tape(c.Length), c.Which))
	}
	if got := strings.Join(lengths, "; "); got != "7 of 41 15/16: 1 to 7; 11 of 34 15/16: 8 to 18" {
		t.Errorf("balusters: %s", got)
	}
	for _, m := range []struct {
		k, piece int
		at, shoe string
	}{{1, 1, "4 1/2", "4 1/2"}, {7, 1, "35 3/16", "35 3/16"}, {8, 2, "40 5/16", "4 5/16"}, {18, 2, "91 1/2", "55 1/2"}} {
		if got := r.Marks[m.k-1]; got.Piece != m.piece || tape(got.At) != m.at || tape(got.Shoe) != m.shoe {
			t.Errorf("mark %+v, want %+v", got, m)
		}
	}
	var where []string
	for _, o := range r.Openings {
		where = append(where, o.Where)
	}
	if got := strings.Join(where, "; "); got != "at a; between balusters; beside the step, between balusters 7 and 8; at b" {
		t.Errorf("openings %s", got)
	}
	// Plain squares leave no more beside the step than their gap, 40 5/16 - 35 3/16 - 1 1/4.
	if o := r.Openings[2]; o.Left != 7 || tape(o.Foot) != "3 7/8" || tape(o.Nominal) != "3 7/8" {
		t.Errorf("beside the step %+v", o)
	}
	// Posts stand on their own side: by the heights of trim, for which the floor counts, the wall test below.
	for _, f := range r.Findings {
		if f.ID == "check/run/r/on-step-1" && (tape(f.Measured) != "3/16" || f.Verdict != finding.Pass) {
			t.Errorf("%+v", f)
		}
	}
	recompute(t, r)
}

// TestStepFillets: the groove of the shoe is parted at the step at 36: 35 3/16 + 5/8 leave 3/16 before it, and 4 5/16 - 5/8 = 3 11/16 behind
// it; the rail has one fillet there, 40 5/16 - 35 3/16 - 1 1/4 = 3 7/8. By hand.
func TestStepFillets(t *testing.T) {
	r := one(t, fromHighest, "from: a\nto: b\nclear: {floor: 96, rail: 96}\ncount: 18"+steppedUp)
	shoe, rail := map[int]string{}, map[int]string{}
	for _, c := range r.Fillets {
		for _, k := range numbers(c.Which) {
			if c.What == "shoe fillet" {
				shoe[k] = tape(c.Length)
			} else {
				rail[k] = tape(c.Length)
			}
		}
	}
	if len(shoe) != 20 || len(rail) != 19 || shoe[8] != "3/16" || shoe[9] != "3 11/16" || rail[8] != "3 7/8" || shoe[20] != "3 7/8" {
		t.Errorf("shoe %v\nrail %v", shoe, rail)
	}
}

// numbers reads 1 to 3, 7 as it is printed.
func numbers(which string) (list []int) {
	for _, part := range strings.Split(which, ", ") {
		var a, b int
		if n, _ := fmt.Sscanf(part, "%d to %d", &a, &b); n < 2 {
			b = a
		}
		for k := a; k <= b; k++ {
			list = append(list, k)
		}
	}
	return list
}

// TestStepDown is the same floor from the other end: heights are from the floor at the datum end, which is the upper one.
func TestStepDown(t *testing.T) {
	r := one(t, jobHead, "from: a\nto: b\nclear: {floor: 96, rail: 96}\ncount: 18\nlevel: [{at: 0, down: 37}, {at: 60, down: 37}, {at: 60, down: 44, step: yes}, {at: 96, down: 44}]")
	if got := failsAny(r); len(got) > 0 {
		t.Errorf("%q", got)
	}
	if tape(r.Levels.RailTop) != "38" || tape(r.Levels.Finished) != "38" || !strings.HasPrefix(r.Floor.Words, "The floor steps down 7 in at 60 in") {
		t.Errorf("%+v %s", r.Levels, r.Floor.Words)
	}
	if len(r.Balusters) != 2 || tape(r.Balusters[0].Length) != "34 15/16" || tape(r.Balusters[1].Length) != "41 15/16" {
		t.Errorf("%+v", r.Balusters)
	}
	// A rail that is set 38 above the datum's floor is 31 over the other one, where that is the upper.
	up := one(t, jobHead, "from: a\nto: b\nclear: {floor: 96, rail: 96}\ncount: 18"+steppedUp)
	if tape(up.Levels.Finished) != "31" {
		t.Errorf("%+v", up.Levels)
	}
	recompute(t, r)
}

// TestStepEnds has trim of 5 at both walls, on floors 7 apart: it reaches to 5 and to 12 above the floor at the datum end. A step just at
// the far face lies under what stands beyond it.
func TestStepEnds(t *testing.T) {
	ends := "from: {at: wall, thick: 5/8, high: 5}\nto: {at: wall, thick: 5/8, high: 5}\nclear: {floor: 96, rail: 96}\ncount: 18"
	r := one(t, fromHighest, ends+steppedUp)
	if tape(r.From.High) != "5" || tape(r.To.High) != "12" {
		t.Errorf("trim up to %s and %s", tape(r.From.High), tape(r.To.High))
	}
	// The shoe stops at the trim: 36 - 5/8 and 96 - 5/8 - 36.
	if c := r.ShoeCuts(); len(c) != 2 || tape(c[0].Length) != "35 3/8" || tape(c[1].Length) != "59 3/8" {
		t.Errorf("shoe %+v", c)
	}
	if m := r.Marks[0]; tape(m.Shoe) != "3 7/8" {
		t.Errorf("mark %+v", m)
	}
	just := one(t, fromHighest, ends+"\nlevel: [{at: 0, down: 44}, {at: 96, down: 44}, {at: 96, down: 37, step: yes}]")
	if tape(just.To.High) != "12" || len(just.ShoeCuts()) != 1 || len(just.Balusters) != 1 {
		t.Errorf("trim up to %s, shoe %+v, balusters %+v", tape(just.To.High), just.ShoeCuts(), just.Balusters)
	}
}

// TestStepIsSaid: two readings at one place are a step where that is said, and a slip of the tape where it is not; a step is no slip, and
// beyond it there are slips again.
func TestStepIsSaid(t *testing.T) {
	for _, c := range []struct{ name, level, check string }{
		{"not said", "[{at: 0, down: 44}, {at: 36, down: 44}, {at: 36, down: 37}, {at: 96, down: 37}]", "level-twice"},
		{"said with no", "[{at: 0, down: 44}, {at: 36, down: 44}, {at: 36, down: 43, step: no}, {at: 96, down: 43}]", "level-twice"},
		{"one reading only", "[{at: 0, down: 44}, {at: 36, down: 37, step: yes}, {at: 96, down: 37}]", "level-step"},
		{"two alike", "[{at: 0, down: 44}, {at: 36, down: 44}, {at: 36, down: 44, step: yes}, {at: 96, down: 44}]", "level-step"},
		{"said with the first", "[{at: 0, down: 44}, {at: 36, down: 44, step: yes}, {at: 36, down: 37}, {at: 96, down: 37}]", "level-step"},
		{"three at one place", "[{at: 0, down: 44}, {at: 36, down: 44}, {at: 36, down: 37, step: yes}, {at: 36, down: 36, step: yes}, {at: 96, down: 37}]", "level-twice"},
		{"a slip beyond", "[{at: 0, down: 44}, {at: 36, down: 44}, {at: 36, down: 37, step: yes}, {at: 96, down: 34}]", "level-slip"},
		{"a stair", "[{at: 0, down: 44}, {at: 36, down: 44}, {at: 36, down: 37, step: yes}, {at: 45, down: 37}, {at: 45, down: 30, step: yes}, {at: 96, down: 30}]", "level-stair"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := one(t, fromHighest, "from: a\nto: b\nclear: {floor: 96, rail: 96}\nlevel: "+c.level)
			if !fails(r, c.check) {
				t.Errorf("no failing %s: %+v", c.check, r.Findings)
			}
		})
	}
	r := one(t, fromHighest, "from: a\nto: b\nclear: {floor: 96, rail: 96}\nlevel: [{at: 0, down: 44}, {at: 36, down: 43 3/4}, {at: 36, down: 37 1/2, step: yes}, {at: 96, down: 37}]")
	if got := failsAny(r); len(got) > 0 {
		t.Errorf("%q", got)
	}
	if tape(r.Floor.Out) != "1/2" || !strings.Contains(r.Floor.Words, "up 6 1/4 in at 36 in from the datum end, and is out of level by 1/2 in besides") {
		t.Errorf("%+v", r.Floor)
	}
}

// TestStepUnderABaluster: 17 balusters of 1 1/4 in 96 stand 5.403 apart, the 9th at 48 exactly. With the step there its foot would be half
// over it: the count is no pass, whatever its openings are, and where it is asked for there is a failing check. By hand: 18 stand at
// 45.43 and 50.55, 17 at 42.60, 48, 53.40.
func TestStepUnderABaluster(t *testing.T) {
	level := "\nlevel: [{at: 0, down: 44}, {at: 48, down: 44}, {at: 48, down: 37, step: yes}, {at: 96, down: 37}]"
	run := "from: a\nto: b\nclear: {floor: 96, rail: 96}"
	r := one(t, fromHighest, run+level)
	if r.Least != 18 {
		t.Errorf("least %d", r.Least)
	}
	asked := one(t, fromHighest, run+"\ncount: 17"+level)
	if !fails(asked, "on-step-1") || asked.Chosen.Passes || !strings.Contains(asked.Chosen.Where, "baluster 9 would stand on the step at 48 in") {
		t.Errorf("%+v\n%+v", asked.Chosen, asked.Findings)
	}
	// 19 in 96 would be 4.858 apart, the 10th on the step, though every gap is under 4.
	nineteen := one(t, fromHighest, run+"\ncount: 19"+level)
	if !fails(nineteen, "on-step-1") || nineteen.Chosen.Passes || nineteen.Chosen.Worst >= 4*length.Inch {
		t.Errorf("%+v", nineteen.Chosen)
	}
	for _, c := range r.Candidates {
		if c.Count == 19 && c.Passes {
			t.Error("19 pass, though one stands on the step")
		}
	}
}

// TestStepOpenings looks for the largest ball at the step with a dumb grid: the two outlines as they stand, the lower one from its floor,
// the upper one from its own, and the face of the step with the end of the shoe on it. The openings beside an end with a step in them are
// looked for the same way.
func TestStepOpenings(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sixteenths := func(low, high int, what string) float64 {
			return float64(rapid.IntRange(low, high).Draw(rt, what)) / 16
		}
		block, waist, bead := sixteenths(16, 28, "block"), sixteenths(8, 16, "waist"), sixteenths(12, 28, "bead")
		up := []float64{0, sixteenths(24, 120, "foot block")}
		for _, what := range []string{"to the bead", "bead", "to the head"} {
			up = append(up, up[len(up)-1]+sixteenths(32, 128, what))
		}
		wide := []float64{block, block, waist, bead, block}
		long := 60.0
		list := fmt.Sprintf("{at: 0, square: %.4f}, {at: %.4f, square: %.4f}", block, up[1], block)
		outline := [][2]float64{{0, block / 2}, {up[1], block / 2}}
		for i := 2; i < len(up); i++ {
			list += fmt.Sprintf(", {at: %.4f, round: %.4f}", up[i], wide[i])
			outline = append(outline, [2]float64{up[i], wide[i] / 2})
		}
		list += fmt.Sprintf(", {at: %.4f, square: %.4f}, {at: %.4f, square: %.4f}", up[4], block, long, block)
		outline = append(outline, [2]float64{long, block / 2})
		rise := sixteenths(4*16, 12*16, "rise")
		if rapid.Bool().Draw(rt, "down") {
			rise = -rise
		}
		step := sixteenths(16, 39*16, "step at")
		count := rapid.IntRange(5, 7).Draw(rt, "count")
		level := fmt.Sprintf("[{at: 0, down: 44}, {at: %.4f, down: 44}, {at: %.4f, down: %.4f, step: yes}, {at: 40, down: %.4f}]", step, step, 44-rise, 44-rise)
		_, l := lay(t, map[string]string{
			"job.md":       jobHead,
			"runs/1-r.md":  fmt.Sprintf("kind: run\nfrom: wall\nto: wall\nbaluster: own\nheight: {top: 36, at: highest}\nclear: {floor: 40, rail: 40}\ncount: %d\nlevel: %s", count, level),
			"parts/own.md": "kind: baluster\nprofile: [" + list + "]",
		})
		r := l.Runs[0]
		recompute(rt, r)
		if fails(r, "on-step-1") {
			return
		}

		datum, far := 0.0, rise
		rail := inch(r.Levels.RailUnder)
		shoe := func(x float64) float64 { // its top where something stands
			if x > step {
				return far + 1.25
			}
			return datum + 1.25
		}
		// solid gives the outline of what stands at x towards the other side, as distances over heights.
		type point struct{ out, z float64 }
		side := func(x float64, baluster bool, low float64) (points []point) {
			for z := low - 4; z <= rail+4; z += 1. / 16 {
				out := 0.0
				if baluster {
					for _, half := range []float64{-1. / 32, 1. / 32} { // of the way to the next height, so that no shoulder is missed
						at := max(z+half, shoe(x)) - (shoe(x) - 5./16) // what is below is shoe or floor, under its foot
						for k := 1; k < len(outline); k++ {
							if a, b := outline[k-1], outline[k]; a[0] <= at && at <= b[0] && a[0] < b[0] {
								out = max(out, a[1]+(b[1]-a[1])*(at-a[0])/(b[0]-a[0]))
							}
						}
					}
				}
				points = append(points, point{out, z})
			}
			return points
		}
		largest := func(x1, x2 float64, left, right bool) float64 {
			low := min(shoe(x1), shoe(x2))
			high := max(shoe(x1), shoe(x2))
			l, r := side(x1, left, low), side(x2, right, low)
			for i := range l { // the face of the step, on the side of the higher floor
				if l[i].z <= high+1./32 && shoe(x1) > shoe(x2) {
					l[i].out = step - x1
				}
				if r[i].z <= high+1./32 && shoe(x2) > shoe(x1) {
					r[i].out = x2 - step
				}
			}
			most := 0.0
			for z := low; z <= rail; z += 1. / 8 {
				first := int((z - low) * 16) // points within 4 of that height, more than any ball here reaches
				for x := x1 + 0.25; x < x2; x += 1. / 10 {
					least := math.Inf(1)
					for i := first; i < min(len(l), first+128); i++ {
						least = min(least, dist(x-x1, l[i].out, z, l[i].z), dist(x2-x, r[i].out, z, r[i].z))
					}
					most = max(most, 2*least)
				}
			}
			return most
		}
		near := func(what string, got length.Length, want float64) {
			const grid = 0.25 // twice the steps of places and heights
			if inch(got) < want-0.02 || inch(got) > want+grid {
				rt.Fatalf("%s: opening %.4f, by the grid %.4f; %s", what, inch(got), want, level)
			}
		}
		mark := func(k int) float64 { return inch(r.Marks[k-1].At) }
		for _, o := range r.Openings {
			switch {
			case o.Left > 0:
				near(o.Where, o.Nominal, largest(mark(o.Left), mark(o.Left+1), true, true))
			case o.Part == "from" && step < mark(1):
				near(o.Where, o.Nominal, largest(0, mark(1), false, true))
			case o.Part == "to" && step > mark(count):
				near(o.Where, o.Nominal, largest(mark(count), 40, true, false))
			}
		}
	})
}

// dist is how far a place is from a point of an outline that is solid behind it.
func dist(away, out, z1, z2 float64) float64 {
	if away <= out {
		return math.Abs(z1 - z2)
	}
	return math.Hypot(away-out, z1-z2)
}

// TestStepNoShoe: on the floor itself marks are from the step too, and there is no shoe to cut.
func TestStepNoShoe(t *testing.T) {
	r := one(t, strings.Replace(fromHighest, "shoe: shoe", "shoe: none", 1), "from: a\nto: b\nclear: {floor: 96, rail: 96}\ncount: 18"+steppedUp)
	if len(r.ShoeCuts()) != 0 || r.Marks[7].Piece != 2 || tape(r.Marks[7].Shoe) != "4 5/16" || strings.Contains(r.Floor.Words, "shoe") {
		t.Errorf("%+v %+v %s", r.ShoeCuts(), r.Marks[7], r.Floor.Words)
	}
	// 45 - 2 3/8 + 5/16 - 1/16 = 42 7/8, and 7 less.
	if len(r.Balusters) != 2 || tape(r.Balusters[0].Length) != "42 7/8" || tape(r.Balusters[1].Length) != "35 7/8" {
		t.Errorf("%+v", r.Balusters)
	}
}

// TestStepOnACurve: both together, the shoe in two bent pieces.
func TestStepOnACurve(t *testing.T) {
	r := one(t, fromHighest, "from: a\nto: b\nradius: 60\nclear: {floor: 96, rail: 96}\ncount: 18"+steppedUp)
	straight := one(t, fromHighest, "from: a\nto: b\nclear: {floor: 96, rail: 96}\ncount: 18"+steppedUp)
	if got := failsAny(r); len(got) > 0 {
		t.Errorf("%q", got)
	}
	// 60·(60 - 1 1/4)/60 = 58 3/4 along the inner edge of the second piece, and 61 1/4 along the outer.
	if c := r.ShoeCuts(); len(c) != 2 || tape(c[1].Length) != "60" || !strings.Contains(c[1].Fit, "58 3/4 in along the inner edge and 61 1/4 in along the outer") {
		t.Errorf("%+v", c)
	}
	for i, o := range r.Openings {
		if p := straight.Openings[i]; o.Where != p.Where || o.Part == "between" && o.Nominal >= p.Nominal {
			t.Errorf("%s %s, on a straight run %s", o.Where, tape(o.Nominal), tape(p.Nominal))
		}
	}
	recompute(t, r)
}

// TestStepPosts: the rail 45 above the floor at the datum end is 38 above the upper floor, where the far post stands; so it is where the
// step lies just at that post's face.
func TestStepPosts(t *testing.T) {
	for name, level := range map[string]string{"between": steppedUp, "at the face": "\nlevel: [{at: 0, down: 44}, {at: 96, down: 44}, {at: 96, down: 37, step: yes}]"} {
		_, l := lay(t, map[string]string{"job.md": fromHighest, "runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}\ncount: 18" + level})
		for i, want := range []string{"45", "38"} {
			if got := l.Posts[i].Arrivals; len(got) != 1 || !got[0].Known || tape(got[0].Top) != want {
				t.Errorf("%s: post %s %+v, want %s", name, l.Posts[i].Name, got, want)
			}
		}
	}
}
