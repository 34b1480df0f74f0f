package layout_test

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// stairHead is a job with a plain rail without a plow, nothing taken off for the fit, and balusters that stand square on the treads, so that the
// lengths are those of the rules alone.
const stairHead = "kind: job\nrules: irc\nposts: {low: {newel: post}, high: {newel: post}}\nbaluster: plain\nhandrail: bare\nshoe: none\nfillet: none"

var bareRail = map[string]string{"parts/bare.md": "kind: handrail\nwide: 2 5/8\nhigh: 2 3/8", "settings.md": "kind: settings\nfit: 0"}

// stair lays out one flight of so many risers and goings alike.
func stair(t *testing.T, head string, risers int, riser, going, more string) *layout.Run {
	t.Helper()
	return stairTo(t, head, "past: 0", risers, riser, going, more)
}

// stairTo is a flight whose upper end's face stands somewhere beside the highest riser.
func stairTo(t *testing.T, head, to string, risers int, riser, going, more string) *layout.Run {
	t.Helper()
	list := func(n int, s string) string { return "[" + strings.Repeat(s+", ", n-1) + s + "]" }
	files := map[string]string{"job.md": head}
	for name, text := range bareRail {
		files[name] = text
	}
	files["runs/1-f.md"] = "kind: flight\nfrom: {at: low, past: 0}\nto: {at: high, " + to + "}\nrisers: " + list(risers, riser) + "\ngoings: " + list(risers-1, going) + "\n" + more
	_, l := lay(t, files)
	return l.Runs[0]
}

// near compares a length with inches in decimals.
func near(t *testing.T, what string, got length.Length, want, slack float64) {
	t.Helper()
	if d := math.Abs(got.Float()/25.4 - want); d > slack {
		t.Errorf("%s: %.5f, want %.5f", what, got.Float()/25.4, want)
	}
}

func value(t *testing.T, r *layout.Run, id string) float64 {
	t.Helper()
	for _, f := range r.Figures {
		if f.ID == r.ID+"/"+id {
			v := f.Value.Float64()
			return v
		}
	}
	t.Fatalf("no figure %s", id)
	return 0
}

// TestRake: 7 3/4 on 10 is 37.776 degrees and 1.26516 of rake to each of run; a section of 2 3/8 runs its plumb cut out by 1.841 (all
// derived: atan 0.775, sqrt(1 + 0.775²), 2.375 · 0.775, worked by hand).
func TestRake(t *testing.T) {
	r := stair(t, stairHead, 5, "7 3/4", "10", "nosing: 0\nclear: {level: 40, rake: 50 5/8}\nheight: 36")
	if got := value(t, r, "angle"); math.Abs(got-37.776) > 0.0005 {
		t.Errorf("angle %.4f", got)
	}
	if got := value(t, r, "secant"); math.Abs(got-1.26516) > 0.000005 {
		t.Errorf("secant %.6f", got)
	}
	if r.Handrail == nil {
		t.Fatal("no handrail")
	}
	near(t, "handrail", r.Handrail.Exact, 50.625, 1e-9)
	near(t, "blank", r.Handrail.Blank, 50.625+1.841, 1.0/16) // rounded up to the tape
	if got := value(t, r, "handrail-blank") - 50.625; math.Abs(got-1.841) > 0.0005 {
		t.Errorf("the plumb cut runs out by %.4f, want 1.841", got)
	}
}

// TestRakePerFoot: the table stamped on a framing square (published): the rake of a foot of run for each rise, to a hundredth of an inch.
func TestRakePerFoot(t *testing.T) {
	f, err := os.Open("../../testdata/rake-per-foot.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows := 0
	for lines := bufio.NewScanner(f); lines.Scan(); {
		rise, long, ok := strings.Cut(lines.Text(), ",")
		want, err := strconv.ParseFloat(long, 64)
		if !ok || err != nil {
			continue
		}
		rows++
		r := stair(t, stairHead, 3, rise, "12", "nosing: 0\nclear: {level: 24, rake: 30}\nheight: 36")
		if got := 12 * value(t, r, "secant"); math.Abs(got-want) > 0.0051 {
			t.Errorf("%s in 12: %.4f, the table has %s", rise, got, long)
		}
		if got := value(t, r, "square"); strconv.FormatFloat(got, 'f', -1, 64) != rise {
			t.Errorf("%s in 12 is set as %v", rise, got)
		}
	}
	if rows < 10 {
		t.Errorf("only %d rows were read", rows)
	}
}

// TestRakedShoe: NAVEDTRA 14044 (published) has 7 in 12 over 8 ft as 9 ft 3 1/8. A shoe between two faces 96 apart on a rake of 7 in 12.
func TestRakedShoe(t *testing.T) {
	head := strings.Replace(stairHead, "shoe: none", "shoe: shoe", 1)
	r := stair(t, head, 9, "7", "12", "nosing: 0\nclear: {level: 96, rake: 111 1/8}\nheight: 36\nshoe-over: 1\nunder-shoe: closed")
	if r.Shoe == nil {
		t.Fatal("no shoe")
	}
	if got := tape(r.Shoe.Exact.Round(length.Inch/8, length.Nearest)); got != "111 1/8" {
		t.Errorf("shoe %s, want 111 1/8, which is 9 ft 3 1/8", got)
	}
	// Marks along the rake are the level ones times the secant, and every baluster is alike.
	c := math.Sqrt(1 + 49.0/144)
	n := r.Chosen.Count
	for i, m := range r.Marks {
		level := float64(i+1)*(96+1.25)/float64(n+1) - 0.625
		near(t, fmt.Sprintf("mark %d", m.K), m.Along, level*c, 1.0/32+1e-6)
		near(t, fmt.Sprintf("mark %d level", m.K), m.At, m.Along.Float()/25.4/c, 1e-6)
	}
	if len(r.Balusters) != 1 || r.Balusters[0].Count != n {
		t.Errorf("cuts %+v", r.Balusters)
	}
	// 36 less the shoe's underside 1, its 1 1/4 and the rail's 2 3/8 along the plumb, with 5/16 of plow square to the shoe.
	near(t, "length", r.Balusters[0].Exact, 36-1-(1.25+2.375-0.3125)*c, 1e-6)
}

// TestFilletOnARake: a gap of 3.75 at 37.776 degrees takes a fillet of 4.744 (derived). Spaced 5 with 1 1/4 balusters: six of them in
// 36 1/4, for 5 = (L + b)/(n + 1) with n = 6 and b = 1 1/4 asks for L = 33 3/4.
func TestFilletOnARake(t *testing.T) {
	head := strings.NewReplacer("shoe: none", "shoe: shoe", "fillet: none", "fillet: fillet").Replace(stairHead)
	r := stairTo(t, head, "before: 6 1/4", 5, "7 3/4", "10", "nosing: 0\nclear: {level: 33 3/4, rake: 42 3/4}\nheight: 36\nshoe-over: 1\nunder-shoe: closed\ncount: 6")
	seen := false
	for _, f := range r.Figures {
		if f.ID != "run/f/fillets-shoe" {
			continue
		}
		for _, row := range f.Series.Rows {
			v := row.Value.Float64()
			seen = true
			if math.Abs(v-4.744) > 2.0/16 { // marks are rounded to sixteenths along the rake, on both sides of it
				t.Errorf("fillet %.4f", v)
			}
		}
	}
	if !seen {
		t.Error("no fillets")
	}
	if got := value(t, r, "gap") * value(t, r, "secant"); math.Abs(got-4.744) > 0.0005 {
		t.Errorf("a gap on the rake is %.4f, want 4.744", got)
	}
}

// TestHalfRiser: two balusters to the tread, the first with its face in line with the riser's. On an 8 in riser the two lengths differ by half a
// riser: a public-domain manual (American House-Carpenter, art. 258) gives 2 ft 5 and 2 ft 9. Lengths by the formula there and in the trade:
// H - t·c + (x + q)·T, worked here by hand for a rail set so that the short one is 2 ft 5.
func TestHalfRiser(t *testing.T) {
	// T = 8/10; the short one's axis stands 5/8 + 1 behind the nosing: 29 = H - 2.375·sqrt(1.64) + 1.625·0.8, H = 30.7415, set as 30 3/4.
	r := stair(t, stairHead, 5, "8", "10", "nosing: 1\nclear: {level: 40, rake: 51}\nheight: 30 3/4\nper-tread: 2")
	if len(r.Marks) != 8 {
		t.Fatalf("%d balusters on 4 treads", len(r.Marks))
	}
	short, long := 30.75-2.375*math.Sqrt(1.64)+1.625*0.8, 30.75-2.375*math.Sqrt(1.64)+6.625*0.8
	if math.Abs(short-29) > 0.01 || math.Abs(long-short-4) > 1e-9 { // half of 8
		t.Fatalf("the hand-worked case itself is off: %v %v", short, long)
	}
	if len(r.Balusters) != 2 {
		t.Fatalf("%d lengths: %+v", len(r.Balusters), r.Balusters)
	}
	near(t, "short", r.Balusters[0].Exact, short, 1e-6)
	near(t, "long", r.Balusters[1].Exact, long, 1e-6)
	for i, m := range r.Marks {
		near(t, "mark", m.Riser, []float64{0.625, 5.625}[i%2], 1e-9)
		if m.Tread != i/2+1 {
			t.Errorf("baluster %d stands on tread %d", m.K, m.Tread)
		}
	}
	// The head is beveled: half a width of 1 1/4 at a slope of 0.8 is a half inch up and down.
	c := r.Balusters[0]
	near(t, "long point", c.Long, c.Length.Float()/25.4+0.5, 1.0/32)
	near(t, "short point", c.Short, c.Length.Float()/25.4-0.5, 1.0/32)
}

// TestUnevenRiser: one riser a half inch high and the next one low; the balusters on the tread between get a half inch less, no others.
func TestUnevenRiser(t *testing.T) {
	run := func(risers string) *layout.Run {
		files := map[string]string{"job.md": stairHead, "runs/1-f.md": "kind: flight\nfrom: {at: low, past: 0}\nto: {at: high, past: 0}\nrisers: " + risers + "\ngoings: [10, 10, 10, 10]\nnosing: 1\nclear: {rake: 51}\nheight: 36\nper-tread: 2"}
		for name, text := range bareRail {
			files[name] = text
		}
		_, l := lay(t, files)
		return l.Runs[0]
	}
	even, uneven := run("[7 1/2, 7 1/2, 7 1/2, 7 1/2, 7 1/2]"), run("[7 1/2, 8, 7, 7 1/2, 7 1/2]")
	lengthOf := func(r *layout.Run, k int) float64 {
		for _, f := range r.Figures {
			if f.ID == "run/f/balusters" {
				v := f.Series.Rows[k-1].Value.Float64()
				return v
			}
		}
		return 0
	}
	for k := 1; k <= 8; k++ {
		want := lengthOf(even, k)
		if k == 3 || k == 4 { // on tread 2
			want -= 0.5
		}
		if got := lengthOf(uneven, k); math.Abs(got-want) > 1e-9 {
			t.Errorf("baluster %d: %.4f, want %.4f", k, got, want)
		}
	}
	for _, m := range uneven.Measures {
		if m.Limit == "riser-spread" {
			near(t, "spread", m.Value, 1, 1e-9)
		}
		if m.Limit == "handrail-height-least" { // over the nosing of the high tread
			near(t, "height", m.Value, 35.5, 1e-9)
		}
	}
	if evenly := run("{count: 5, total: 37 1/2}"); evenly.Rake.Measured {
		t.Error("divided risers count as measured")
	} else {
		for _, m := range evenly.Measures {
			if (m.Limit == "riser-spread" || m.Limit == "riser-most" || strings.Contains(m.Limit, "height") || strings.Contains(m.Limit, "opening")) && m.Known {
				t.Errorf("%s is known, though the risers were divided evenly", m.Limit)
			}
		}
	}
}

// TestTriangle: the ball between riser, tread and the shoe's underside, d = (r + a - sqrt(r² + a²))·(1 + q/a + v/r). The table is derived, checked
// there by search; and 6 in is reached at the heights named, judged one step under, on and over.
func TestTriangle(t *testing.T) {
	head := strings.Replace(stairHead, "shoe: none", "shoe: shoe", 1)
	rules := map[string]string{"rules/own.md": "kind: rules\nlimits:\n  guard-triangle: {under: 6, clause: R312.1.3 exc. 1, status: published}"}
	of := func(riser, going, nosing, over string) length.Length {
		t.Helper()
		list := func(n int, s string) string { return "[" + strings.Repeat(s+", ", n-1) + s + "]" }
		files := map[string]string{"job.md": strings.Replace(head, "rules: irc", "rules: own", 1), "runs/1-f.md": "kind: flight\nfrom: {at: low, past: 0}\nto: {at: high, past: 0}\nrisers: " + list(5, riser) + "\ngoings: " + list(4, going) + "\nnosing: " + nosing + "\nheight: 36\nshoe-over: " + over + "\nunder-shoe: open\nclear: {rake: 50}"}
		for _, more := range []map[string]string{rules, bareRail} {
			for name, text := range more {
				files[name] = text
			}
		}
		_, l := lay(t, files)
		for _, m := range l.Runs[0].Measures {
			if m.Limit == "guard-triangle" {
				if !m.Known {
					t.Fatalf("not known: %s", m.Missing)
				}
				return m.Value
			}
		}
		t.Fatal("no triangle")
		return 0
	}
	for _, c := range []struct {
		riser, going, nosing string
		d, six               float64 // with the shoe on the line of the nosings; and the height at which 6 is reached
	}{
		{"7 3/4", "10", "0", 5.098, 1.370}, {"7 1/2", "10", "0", 5.000, 1.500}, {"7", "11", "0", 4.962, 1.465},
		{"7 3/4", "10", "1 1/4", 5.736, 0.402}, {"7 1/2", "10", "1 1/4", 5.625, 0.562}, {"7", "11", "1 1/4", 5.525, 0.670},
	} {
		name := c.riser + " on " + c.going + " with a nosing of " + c.nosing
		near(t, name, of(c.riser, c.going, c.nosing, "0"), c.d, 0.0006)
		under, over := of(c.riser, c.going, c.nosing, fmt.Sprintf("%.4f", c.six-0.001)), of(c.riser, c.going, c.nosing, fmt.Sprintf("%.4f", c.six+0.001))
		if !finding.Under.Holds(under, 6*length.Inch) || finding.Under.Holds(over, 6*length.Inch) {
			t.Errorf("%s: %v just under %.3f and %v just over, 6 lies between them", name, under, c.six, over)
		}
	}
	// Exactly on: 7 1/2 on 10 is a 3-4-5 triangle, d = 5·(1 + v/7.5); v = 1 1/2 makes 6, which fails.
	if d := of("7 1/2", "10", "0", "1 1/2"); d != 6*length.Inch || finding.Under.Holds(d, 6*length.Inch) {
		t.Errorf("on the limit: %v", d)
	}
}

// TestShoeOverTrim: trim of 5 1/4 at the lower post, its foot on the floor. At the post's face the shoe's underside is 7 3/4 + 2 up, so that it
// passes over the trim and goes on to the post: 40 level, times sqrt(1 + 0.775²). Trim of 12 is in its way, and takes 3/4 level.
func TestShoeOverTrim(t *testing.T) {
	head := strings.Replace(stairHead, "shoe: none", "shoe: shoe", 1)
	c := math.Sqrt(1 + 0.775*0.775)
	for _, x := range []struct {
		trim string
		want float64
	}{
		{"thick: 3/4, high: 5 1/4", 40 * c}, {"thick: 3/4, high: 12", 39.25 * c},
		{"face: base trim, thick: 3/4, high: 5 1/4", 40.75 * c}, // read to the trim, which the shoe passes over
		{"face: base trim, thick: 3/4, high: 12", 40 * c},
	} {
		files := map[string]string{"job.md": head, "runs/1-f.md": "kind: flight\nfrom: {at: low, past: 0, stands: 0, " + x.trim + "}\nto: {at: high, past: 0}\nrisers: [7 3/4, 7 3/4, 7 3/4, 7 3/4, 7 3/4]\ngoings: [10, 10, 10, 10]\nnosing: 0\nheight: 36\nshoe-over: 2\nunder-shoe: closed\nclear: {rake: 50 5/8}"}
		for name, text := range bareRail {
			files[name] = text
		}
		_, l := lay(t, files)
		if l.Runs[0].Shoe == nil {
			t.Fatal("no shoe")
		}
		near(t, x.trim, l.Runs[0].Shoe.Exact, x.want, 1e-6)
	}
}

// TestDropOverARise: 29 down from the datum end, and a step of 7 up along the run: 36 down beyond it, which calls for a guard.
func TestDropOverARise(t *testing.T) {
	r := one(t, jobHead, "from: a\nto: b\ndrop: 29\nclear: {floor: 60, rail: 60}\nlevel: [{at: 0, down: 40}, {at: 30, down: 40}, {at: 30, down: 33, step: yes}, {at: 60, down: 33}]")
	for _, m := range r.Measures {
		if m.Limit == "guard-drop" {
			near(t, "drop", m.Value, 36, 1e-9)
		}
	}
}

// TestNewelOnATread: the upper newel's face stands 4 before the highest riser, so that it stands on the tread below the landing, a riser of
// 7 3/4 lower. The level run that comes to it from the landing has the same newel, as low.
func TestNewelOnATread(t *testing.T) {
	for _, at := range []struct{ to, clear string }{{"{at: high, before: 4}", "{rake: 45}"}, {"high", "{level: 36, rake: 45}"}} { // said, or by the level clear
		newelOnATread(t, at.to, at.clear)
	}
}

func newelOnATread(t *testing.T, to, clear string) {
	t.Helper()
	files := map[string]string{
		"job.md":      strings.Replace(stairHead, "kind: job", "kind: job\nheight: 38\ndrop: 100", 1),
		"runs/1-f.md": "kind: flight\nfrom: {at: low, past: 0}\nto: " + to + "\nrisers: [7 3/4, 7 3/4, 7 3/4, 7 3/4, 7 3/4]\ngoings: [10, 10, 10, 10]\nnosing: 1\nheight: 36\nclear: " + clear,
		"runs/2-l.md": "kind: run\nfrom: high\nto: wall\nclear: {floor: 60, rail: 60}",
	}
	for name, text := range bareRail {
		files[name] = text
	}
	_, l := lay(t, files)
	if foot := l.Runs[1].From.Face.Points[0].Z / 25.4; math.Abs(foot+7.75) > 1e-9 {
		t.Errorf("the newel's foot is %.3f from the landing, want 7.75 under it", foot)
	}
	if foot := l.Runs[0].To.Face.Points[0].Z / 25.4; math.Abs(foot-31) > 1e-9 { // four risers up
		t.Errorf("the newel's foot is %.3f from the floor, want 31", foot)
	}
}

// TestFloorToComeOnAStair: with floor to come, no riser and no height is judged until the flight is said to be read with it.
func TestFloorToComeOnAStair(t *testing.T) {
	head := strings.Replace(stairHead, "kind: job", "kind: job\nfloor-to-come: {what: oak, thick: 3/4}", 1)
	for more, known := range map[string]bool{"": false, "\nfinished: yes": true} {
		r := stair(t, head, 5, "7 3/4", "10", "nosing: 1\nheight: 36\nclear: {rake: 50 5/8}"+more)
		seen := 0
		for _, m := range r.Measures {
			if m.Limit == "riser-spread" || m.Limit == "guard-height-stair" {
				seen++
				if m.Known != known {
					t.Errorf("finished %q: %s is known: %v", more, m.Limit, m.Known)
				}
			}
		}
		if seen != 2 {
			t.Errorf("%d measures", seen)
		}
	}
}

// TestReadWithoutTheFloor: an answer of no says what to do next, not the question again, and nothing of the flight is to be cut by those readings. Without floor to come the answer changes nothing.
func TestReadWithoutTheFloor(t *testing.T) {
	for come, cut := range map[string]bool{"\nfloor-to-come: {what: oak, thick: 3/4}": false, "": true} {
		head := strings.Replace(stairHead, "kind: job", "kind: job"+come, 1)
		r := stair(t, head, 5, "7 3/4", "10", "nosing: 1\nheight: 36\nclear: {rake: 50 5/8}\nfinished: no")
		again := 0
		for _, m := range r.Missing {
			if strings.Contains(m.What, "whether risers, nosing and height") {
				t.Errorf("asked again: %+v", m)
			}
			if strings.Contains(m.What, "Read them again when the floors and treads are in") && m.At.Line > 0 {
				again++
			}
		}
		if got := r.Handrail != nil || r.Shoe != nil || len(r.Balusters) > 0 || len(r.Fillets) > 0; got != cut || (again == 1) == cut {
			t.Errorf("%q: cut %v, said what to do %d times", come, got, again)
		}
	}
}

// TestRailOverTheBlock: the rail comes in at 38 over a newel whose highest square block ends at 30: it would meet the turned top. The block is said
// to end there, and fails by what is missing.
func TestRailOverTheBlock(t *testing.T) {
	head := strings.Replace(jobHead, "a: {newel: post}", "a: {newel: low, foot: let in, deep: 4}", 1)
	_, l := lay(t, map[string]string{
		"job.md": head, "runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 60, rail: 60}",
		"parts/low.md": "kind: newel\nprofile:\n  - {at: 0, square: 3 1/2}\n  - {at: 9, square: 3 1/2}\n  - {at: 9, round: 3}\n  - {at: 26, round: 3}\n  - {at: 26, square: 3 1/2}\n  - {at: 34, square: 3 1/2}\n  - {at: 34, round: 3}\n  - {at: 48, round: 2}",
	})
	post := l.Posts[0]
	near(t, "block foot", post.BlockFrom, 22, 1e-9)
	near(t, "block top", post.BlockTo, 30, 1e-9)
	for _, f := range post.Findings {
		if f.ID == "check/post/a/block" && (f.Verdict != finding.Fail || f.Measured != 30*length.Inch) {
			t.Errorf("%+v", f)
		}
	}
}

// TestSlipsOnAStair: readings that cannot go together are failing checks, each with the two that disagree.
func TestSlipsOnAStair(t *testing.T) {
	for _, c := range []struct{ name, more, check string }{
		{"floor to floor", "nosing: 1\nheight: 36\nrise: 39 1/8\nclear: {rake: 50 5/8}", "check/run/f/floor-to-floor"},                               // the risers add up to 38 3/4
		{"rake and level swapped", "nosing: 1\nheight: 36\nclear: {level: 50 5/8, rake: 40}", "check/run/f/clear-rake"},                              // a rake is longer than its level
		{"level clear against the goings", "nosing: 1\nheight: 36\nclear: {level: 42, rake: 51}", "check/run/f/span"},                                // the goings say 40
		{"a wall rail too short", "nosing: 1\nheight: 36\nclear: {rake: 50 5/8}\nwall-rail: {long: 40, reaches: all}", "check/run/f/wall-rail-long"}, // 40 level is 50 5/8
	} {
		r := stair(t, stairHead, 5, "7 3/4", "10", c.more)
		found := false
		for _, f := range r.Findings {
			found = found || f.ID == c.check && f.Verdict == finding.Fail && f.Cure != ""
		}
		if !found {
			t.Errorf("%s: no %s fails among %+v", c.name, c.check, r.Findings)
		}
	}
}

// TestAverageOutsideItsLimit: 12 goings of 60 together are 5 each on the average, so that the least is no more: it fails, measured one by one or not.
func TestAverageOutsideItsLimit(t *testing.T) {
	for total, known := range map[string]bool{"60": true, "132": false} { // 11 on the average may hide one under 10
		files := map[string]string{
			"job.md":       strings.Replace(stairHead, "rules: irc", "rules: own", 1),
			"rules/own.md": "kind: rules\nlimits:\n  tread-least: {at-least: 10, clause: R311.7.5.2, status: published}",
			"runs/1-f.md":  "kind: flight\nfrom: {at: low, past: 0}\nto: {at: high, past: 0}\nrisers: {count: 13, total: 97 1/2}\ngoings: {count: 12, total: " + total + "}",
		}
		for name, text := range bareRail {
			files[name] = text
		}
		_, l := lay(t, files)
		for _, m := range l.Runs[0].Measures {
			if m.Limit == "tread-least" && m.Known != known {
				t.Errorf("%s together: known %v, %v", total, m.Known, m.Value)
			}
		}
	}
}

// TestBlankBracket: where the first baluster of a tread stands waits for a bracket that is left blank.
func TestBlankBracket(t *testing.T) {
	r := stair(t, stairHead, 5, "7 3/4", "10", "nosing: 1\nclear: {level: 40, rake: 50 5/8}\nheight: 36\nbracket: ")
	if r.Chosen != nil || !asks(r, "thickness of the bracket") {
		t.Errorf("%+v, %+v", r.Chosen, r.Missing)
	}
}

// TestShoeBesideTrim: a raked shoe has no length beside trim that stays until it is known how high it goes; without trim it has.
func TestShoeBesideTrim(t *testing.T) {
	for trim, want := range map[string]bool{", thick: 3/4, high: 5 1/4": false, "": true} {
		r := stairTo(t, stairHead, "past: 0"+trim, 5, "7 3/4", "10", "nosing: 1\nclear: {level: 40, rake: 50 5/8}\nheight: 36\nshoe: shoe\nunder-shoe: closed")
		if (r.Shoe != nil) != want || !asks(r, "underside of the shoe") {
			t.Errorf("with %q: %+v", trim, r.Shoe)
		}
	}
}

// TestDropOfAFlight: four risers of 7 3/4 make 31. A drop written as 10 cannot be: the risers say more, and they are judged; so is the landing where
// the guard goes on over it.
func TestDropOfAFlight(t *testing.T) {
	for _, c := range []struct {
		to, more string
		risers   int
		want     float64
	}{
		{"past: 0", "drop: 10", 5, 31}, // the highest tread is the fourth
		{"past: 8", "drop: 22 1/2", 4, 31},
		{"past: 0", "drop: 100", 5, 100},
	} {
		r := stairTo(t, stairHead, c.to, c.risers, "7 3/4", "10", "nosing: 1\nheight: 36\nclear: {rake: 50}\n"+c.more)
		for _, m := range r.Measures {
			if m.Limit == "guard-drop" {
				near(t, c.more, m.Value, c.want, 1e-9)
			}
		}
	}
}

// TestHalfNewelIsHeld: a half newel is planted on a wall, and asked for what holds it there; toggles alone fail.
func TestHalfNewelIsHeld(t *testing.T) {
	head := strings.Replace(jobHead, "b: {newel: post}", "b: {newel: half}", 1)
	for held, fails := range map[string]bool{"": false, "stud": false, "toggles": true} {
		to := "b"
		if held != "" {
			to = "{at: b, held: " + held + "}"
		}
		_, l := lay(t, map[string]string{"job.md": head, "parts/half.md": "kind: newel\nhalf: yes\nwide: 3 1/2\nlong: 48", "runs/1-r.md": "kind: run\nfrom: a\nto: " + to + "\nclear: {floor: 60, rail: 60}"})
		failed, asked := false, false
		for _, f := range l.Runs[0].Findings {
			failed = failed || f.ID == "check/run/r/held-to" && f.Verdict == finding.Fail
		}
		for _, m := range l.Runs[0].Missing {
			asked = asked || strings.Contains(m.Where, "to: {held: }")
		}
		if failed != fails || asked != (held == "") {
			t.Errorf("held %q: fails %v, asked %v", held, failed, asked)
		}
	}
}
