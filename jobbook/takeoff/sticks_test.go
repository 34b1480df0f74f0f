package takeoff

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
)

// shopFiles are a shop that trims nothing and cuts to length at once, so that sums can be done in the head.
const plainShop = "kind: settings\nkerf: 1/8\nend-trim: 0\nrough: 0\nkeep: 24\ncurrency: $\nsticks: [8', 12']"

func supplied(t *testing.T, files map[string]string) Takeoff {
	t.Helper()
	all := map[string]string{"job.md": plainJob, "settings.md": plainShop}
	for name, text := range files {
		all[name] = text
	}
	j := jobtest.Job(t, parts, all)
	l := laid(j)
	a, b := cut("handrail", "rail", "long", 1, inches(94), "a"), cut("handrail", "rail", "short", 1, inches(40), "b")
	l.Runs[0].Handrail, l.Runs[1].Handrail = &a, &b
	l.Runs[0].Chosen, l.Runs[1].Chosen = chosen(17), chosen(6)
	l.Runs[0].Fillets = []layout.Cut{cut("shoe fillet", "strip", "long", 16, inches(4), ""), cut("shoe fillet", "strip", "long", 2, inches(3), "")}
	return Take(j, l)
}

func cuttingOf(t *testing.T, got Takeoff, part string) Cutting {
	t.Helper()
	for _, c := range got.Cuttings {
		if c.Part == part {
			return c
		}
	}
	t.Fatalf("no cutting plan of %s: %+v", part, got.Cuttings)
	return Cutting{}
}

// words writes a cutting plan for comparison: length of stick, source, pieces, left.
func words(c Cutting) string {
	var list []string
	for _, s := range c.Sticks {
		line := fmt.Sprint(s.N, ": ", inch(s.Long), [...]string{"", " bought", " delivered", " rack"}[s.Source])
		for _, p := range s.Pieces {
			line += " " + inch(p.Long)
		}
		line += " left " + inch(s.Left)
		if s.Keep {
			line += " keep"
		}
		list = append(list, line)
	}
	return strings.Join(list, "; ")
}

func inch(l length.Length) string {
	return length.Style{System: length.Inches, Division: length.Inch / 64, Rounding: length.Nearest}.Print(l)
}

// By hand: 94 and 40 need 96 and at least 40, or 144 for both (134 1/8).
func TestSticks(t *testing.T) {
	for _, c := range []struct {
		name  string
		files map[string]string
		want  string
		cost  money.Money
	}{
		{"one long stick is cheaper", map[string]string{"yard.md": "kind: supplier\nsells: {rail: {lengths: [8', 12'], per-foot: 10}}"}, "1: 144 bought 94 40 left 9 3/4", 12000},
		{"two short ones are", map[string]string{"yard.md": "kind: supplier\nsells: {rail: [{long: 8', price: 50}, {long: 12', price: 120}]}"}, "1: 96 bought 94 left 1 7/8; 2: 96 bought 40 left 55 7/8 keep", 10000},
		{"an offcut takes the short one", map[string]string{"yard.md": "kind: supplier\nsells: {rail: {lengths: [8', 12'], per-foot: 10}}", "rack.md": "kind: rack\noffcuts: [{part: rail, long: 40}, {part: sole, long: 60}]"}, "1: 96 bought 94 left 1 7/8; 2: 40 rack 40 left 0", 8000},
		{"trimmed ends", map[string]string{"settings.md": strings.Replace(plainShop, "end-trim: 0", "end-trim: 1 1/16", 1), "yard.md": "kind: supplier\nsells: {rail: {lengths: [8', 12'], per-foot: 10}}"}, "1: 144 bought 94 40 left 7 5/8", 12000},
		{"cut rough", map[string]string{"settings.md": strings.Replace(plainShop, "rough: 0", "rough: 1/2", 1), "yard.md": "kind: supplier\nsells: {rail: {lengths: [8', 12'], per-foot: 10}}"}, "1: 144 bought 94 1/2 40 1/2 left 8 3/4", 12000},
		{"two suppliers", map[string]string{"1-yard.md": "kind: supplier\nsells: {rail: {long: 8', price: 90}}", "2-mill.md": "kind: supplier\nsells: {rail: {long: 8', price: 80}}"}, "1: 96 bought 94 left 1 7/8; 2: 96 bought 40 left 55 7/8 keep", 16000},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := cuttingOf(t, supplied(t, c.files), "rail")
			if words(got) != c.want || got.Cost != c.cost || got.Bound != c.cost || !got.Proven || !got.Priced {
				t.Errorf("%s, cost %s, bound %s, proven %v\nwant %s, %s", words(got), got.Cost, got.Bound, got.Proven, c.want, c.cost)
			}
		})
	}
}

// Without a price for every length, the least length is bought: 144 and not twice 96; and it is said who is to be asked.
func TestSticksWithoutPrices(t *testing.T) {
	got := supplied(t, map[string]string{"yard.md": "kind: supplier\nsells: {rail: [{long: 8', price: 50}, {long: 12'}]}"})
	rail := cuttingOf(t, got, "rail")
	if words(rail) != "1: 144 bought 94 40 left 9 3/4" || rail.Priced || rail.Assumed || rail.LeastLong != inches(144) {
		t.Errorf("%s %+v", words(rail), rail)
	}
	strip := cuttingOf(t, got, "strip")
	if strip.Priced || !strip.Assumed || len(strip.Sticks) != 1 { // 16 x 4 and 2 x 3 are 70, and 17 cuts of 1/8: 72 1/8
		t.Errorf("%s %+v", words(strip), strip)
	}
	var asked []string
	for _, a := range got.Asks {
		asked = append(asked, a.What)
	}
	want := []string{"the price of a 144 in stick of Rail from yard", "who sells strip, in which lengths and at which price"}
	if !slices.Equal(asked, want) {
		t.Errorf("asked %q, want %q", asked, want)
	}
}

// Sixteen of 4 and two of 3, 14 1/8 each for three and so on: stops at 4 and at 3, whatever the sticks.
func TestStops(t *testing.T) {
	c := cuttingOf(t, supplied(t, map[string]string{"yard.md": "kind: supplier\nsells: {strip: {long: 40, price: 1}}"}), "strip")
	if len(c.Stops) != 2 || c.Stops[0].Long != inches(4) || c.Stops[1].Long != inches(3) {
		t.Fatalf("%+v", c.Stops)
	}
	n := 0
	for _, s := range c.Stops {
		for _, from := range s.Cuts {
			n += len(from.Pieces)
		}
	}
	// A stick of 40 holds nine of 4 with the cuts between (36 + 1 = 37), so two sticks hold sixteen of 4 and two of 3.
	if n != 18 || len(c.Sticks) != 2 {
		t.Errorf("%d pieces from %d sticks: %s", n, len(c.Sticks), words(c))
	}
}

func TestOneStick(t *testing.T) {
	run := parts["runs/1-long.md"] + "\none-stick: [fillet]"
	// Sticks of 72 1/8 hold all eighteen; of 72 they do not, and that is a failing check.
	for long, fails := range map[string]bool{"72 1/8": false, "72": true} {
		got := supplied(t, map[string]string{"runs/1-long.md": run, "yard.md": "kind: supplier\nsells: {strip: [{long: 40, price: 1}, {long: " + long + ", price: 100}]}"})
		c := cuttingOf(t, got, "strip")
		failed := slices.ContainsFunc(got.Findings, func(f finding.Finding) bool {
			return f.ID == "check/cutting/fillet/strip/one-stick/long" && f.Verdict == finding.Fail && f.Measured == in64(72*64+8) && f.Limit == inches(72)
		})
		if failed != fails || !fails && len(c.Sticks) != 1 || fails && len(c.Sticks) != 2 {
			t.Errorf("sticks of %s: %s, %+v", long, words(c), got.Findings)
		}
	}
}

func TestTooLong(t *testing.T) {
	got := supplied(t, map[string]string{"yard.md": "kind: supplier\nsells: {rail: {long: 6', price: 50}}"})
	c := cuttingOf(t, got, "rail")
	if words(c) != "1: 72 bought 40 left 31 7/8 keep" {
		t.Error(words(c))
	}
	if len(got.Findings) != 1 {
		t.Fatalf("%+v", got.Findings)
	}
	if f := got.Findings[0]; f.Verdict != finding.Fail || f.Group != "run/long" || f.Measured != inches(94) || f.Limit != inches(72) || !strings.Contains(f.Cure, "joints:") {
		t.Errorf("%+v", f)
	}
	got = supplied(t, map[string]string{"settings.md": strings.Replace(plainShop, "[8', 12']", "[6']", 1)})
	if f := got.Findings[0]; f.Verdict != finding.ToBeMeasured {
		t.Errorf("the shop's usual lengths are no fact: %+v", f)
	}
}

func lines(b Buying) (list []string) {
	for _, o := range b.Orders {
		for _, l := range o.Lines {
			each := "?"
			if l.Each.Given {
				each = l.Each.Money.String() + " = " + l.Amount.String()
			}
			list = append(list, fmt.Sprintf("%s: %d %s of %d at %s", o.Supplier.Name, l.Count, l.Part, l.Pack, each))
		}
	}
	return list
}

// 23 balusters are needed and 2 spare (5 % of 23, rounded up). By hand: 25 in tens at 60 and ones at 7 are three tens, 180, or two tens and five ones, 155.
func TestPacks(t *testing.T) {
	spare := plainShop + "\nspare: 5 %"
	for _, c := range []struct {
		name, sells, rack string
		want              []string
		known             money.Money
	}{
		{"packs and ones", "stick: [{pack: 10, price: 60}, {price: 7}]", "", []string{"yard: 2 stick of 10 at 60.00 = 120.00", "yard: 5 stick of 1 at 7.00 = 35.00"}, 15500},
		{"three packs are cheaper", "stick: [{pack: 10, price: 60}, {price: 13}]", "", []string{"yard: 3 stick of 10 at 60.00 = 180.00"}, 18000},
		{"some on hand", "stick: [{pack: 10, price: 60}, {price: 7}]", "pieces: [{part: stick, count: 5}]", []string{"yard: 2 stick of 10 at 60.00 = 120.00"}, 12000},
		{"all on hand", "stick: {price: 7}", "pieces: [{part: stick, count: 50}]", nil, 0},
		{"nothing costs nothing", "stick: {price: 0}", "", []string{"yard: 25 stick of 1 at 0.00 = 0.00"}, 0},
		{"no price", "stick: [{pack: 10}, {pack: 12}]", "", []string{"yard: 3 stick of 10 at ?"}, 0}, // with least over: 30, not 32, 34 or 36
	} {
		t.Run(c.name, func(t *testing.T) {
			files := map[string]string{"job.md": "kind: job\nposts: {}", "settings.md": spare, "yard.md": "kind: supplier\nlead: 5\nsells: {" + c.sells + "}"}
			if c.rack != "" {
				files["rack.md"] = "kind: rack\n" + c.rack
			}
			j := jobtest.Job(t, map[string]string{"parts/stick.md": parts["parts/stick.md"], "runs/a.md": "kind: run\nbaluster: stick"}, files)
			l := laid(j)
			l.Runs[0].Chosen = chosen(23)
			got := Buy(j, Take(j, l), finish.Finishing{})
			if !slices.Equal(lines(got), c.want) || got.Known != c.known {
				t.Errorf("%q, %s\nwant %q, %s", lines(got), got.Known, c.want, c.known)
			}
		})
	}
}

func TestOrderBy(t *testing.T) {
	for wanted, want := range map[string]string{"2026-12-11": "2026-11-29", "2026-03-05": "2026-02-21", "": ""} { // 12 days before; by a calendar
		j := jobtest.Job(t, map[string]string{"parts/stick.md": parts["parts/stick.md"], "runs/a.md": "kind: run\nbaluster: stick"}, map[string]string{
			"job.md": "kind: job\nwanted: " + wanted, "settings.md": plainShop, "yard.md": "kind: supplier\nlead: 5\nsells: {stick: {price: 7, lead: 12}}"})
		l := laid(j)
		l.Runs[0].Chosen = chosen(3)
		if got := Buy(j, Take(j, l), finish.Finishing{}); len(got.Orders) != 1 || got.Orders[0].By != want || got.Orders[0].Lead.N != 12 {
			t.Errorf("wanted %s: %+v", wanted, got.Orders)
		}
	}
}

// A rail that follows a curve is made to its radius: it is in no stick, and it is asked who makes it.
func TestBentRail(t *testing.T) {
	j := jobtest.Job(t, parts, map[string]string{"job.md": plainJob, "settings.md": plainShop, "runs/1-long.md": parts["runs/1-long.md"] + "\nradius: 60\nbends: left", "yard.md": "kind: supplier\nlead: 3\nsells: {rail: {long: 8', price: 50}}"})
	l := laid(j)
	a, b := cut("handrail", "rail", "long", 1, inches(50), "a"), cut("handrail", "rail", "short", 1, inches(40), "b")
	l.Runs[0].Handrail, l.Runs[1].Handrail = &a, &b
	l.Runs[0].Curve = &layout.Curve{}
	got := Take(j, l)
	if c := cuttingOf(t, got, "rail"); words(c) != "1: 96 bought 40 left 55 7/8 keep" {
		t.Error(words(c))
	}
	if len(got.Bent) != 1 || !strings.Contains(got.Bent[0].Title, "to a radius of 60 in at the balusters, 50 in along its middle") {
		t.Errorf("%+v", got.Bent)
	}
	buying := Buy(j, got, finish.Finishing{})
	last := buying.Orders[len(buying.Orders)-1]
	if last.Supplier.Name != "" || !slices.ContainsFunc(last.Lines, func(l Line) bool { return l.Title == got.Bent[0].Title }) || buying.Complete {
		t.Errorf("%+v", last)
	}
}
