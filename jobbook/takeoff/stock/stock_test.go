package stock_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/takeoff/stock"
)

// sound checks a plan by itself: every piece once, no stick overfull, no more sticks than there are, the cost their sum, the bound no more.
func sound(t interface {
	Helper()
	Errorf(string, ...any)
}, p stock.Problem, got stock.Plan) {
	t.Helper()
	cut := make([]int, len(p.Items))
	used := make([]int, len(p.Sticks))
	cost := int64(0)
	for _, c := range got.Cuts {
		room := p.Sticks[c.Stick].Length
		for k, i := range c.Items {
			cut[i] += c.Times
			room -= p.Items[i].Length
			if k > 0 {
				room -= p.Kerf
				if p.Items[i].Length > p.Items[c.Items[k-1]].Length {
					t.Errorf("a longer piece comes after a shorter one: %+v", c)
				}
			}
		}
		if room < 0 || c.Left != max(0, room-p.Kerf) || c.Times < 1 || len(c.Items) == 0 {
			t.Errorf("%+v leaves %d", c, room)
		}
		used[c.Stick] += c.Times
		cost += int64(c.Times) * p.Sticks[c.Stick].Cost
	}
	for s, st := range p.Sticks {
		if st.Count > 0 && used[s] > st.Count {
			t.Errorf("%d of sort %d used, there are %d", used[s], s, st.Count)
		}
	}
	long := map[int]bool{}
	for _, i := range got.TooLong {
		long[i] = true
	}
	for i, it := range p.Items {
		want := it.Count
		if long[i] {
			want = 0
		} else if got.Short != nil {
			want -= got.Short[i]
		}
		if cut[i] != want {
			t.Errorf("%d of item %d cut, want %d", cut[i], i, want)
		}
	}
	if cost != got.Cost || got.Bound > got.Cost || got.Proven && got.Short == nil && got.Bound != got.Cost {
		t.Errorf("cost %d, bound %d, proven %v; the sticks cost %d", got.Cost, got.Bound, got.Proven, cost)
	}
}

func solved(t *testing.T, p stock.Problem) stock.Plan {
	t.Helper()
	got, err := stock.Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	sound(t, p, got)
	return got
}

// counted reads "12x36 8x34" as twelve of 36 and eight of 34; lengths in decimals count in eighths.
func counted(t *testing.T, text string, per int64) (items []stock.Item) {
	t.Helper()
	for _, word := range strings.Fields(text) {
		count, long, ok := strings.Cut(word, "x")
		if !ok {
			count, long = "1", word
		}
		n, err := strconv.Atoi(count)
		l, err2 := strconv.ParseFloat(long, 64)
		if err != nil || err2 != nil {
			t.Fatal(word)
		}
		items = append(items, stock.Item{Length: int64(l * float64(per)), Count: n})
	}
	return items
}

// TestReference: twenty published instances with their proven optima (see testdata/cutting-stock/README.md).
func TestReference(t *testing.T) {
	const folder = "../../../testdata/cutting-stock"
	data, err := os.ReadFile(filepath.Join(folder, "optima.csv"))
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Fields(string(data))
	if len(lines) != 21 {
		t.Fatalf("%d lines", len(lines))
	}
	for _, line := range lines[1:] {
		name, optimum, _ := strings.Cut(line, ",")
		t.Run(name, func(t *testing.T) {
			data, err := os.ReadFile(filepath.Join(folder, name+".txt"))
			if err != nil {
				t.Fatal(err)
			}
			var numbers []int64
			for _, word := range strings.Fields(string(data)) {
				n, err := strconv.ParseInt(word, 10, 64)
				if err != nil {
					t.Fatal(err)
				}
				numbers = append(numbers, n)
			}
			p := stock.Problem{Sticks: []stock.Stick{{Length: numbers[1], Cost: 1}}}
			for i := 2; i < len(numbers); i += 2 {
				p.Items = append(p.Items, stock.Item{Length: numbers[i], Count: int(numbers[i+1])})
			}
			if int64(len(p.Items)) != numbers[0] {
				t.Fatalf("%d lengths, the file says %d", len(p.Items), numbers[0])
			}
			if got := solved(t, p); strconv.FormatInt(got.Cost, 10) != optimum || !got.Proven {
				t.Errorf("cost %d, bound %d, proven %v, want %s", got.Cost, got.Bound, got.Proven, optimum)
			}
		})
	}
}

// TestKnown: published cases, and derived ones that were worked out by exhaustive search elsewhere. Sticks cost one each.
func TestKnown(t *testing.T) {
	const eighths = 8
	for _, c := range []struct {
		name   string
		stick  int64
		kerf   int64 // in eighths
		pieces string
		want   int64
	}{
		{"5600, published", 5600, 0, "22x1380 25x1520 12x1560 14x1710 18x1820 18x1880 20x1930 10x2000 12x2050 14x2100 16x2140 18x2150 20x2200", 73},
		{"Chvátal, Linear Programming, ch. 13, from memory", 100, 0, "97x45 610x36 395x31 211x14", 453},
		{"first fit decreasing gives 3", 96, 1, "40 40 38 31 18 16", 2},
		{"12 of 36 and 8 of 34", 96, 1, "12x36 8x34", 10},
		{"four quarters, with kerf", 96, 1, "4x24", 2},
		{"four quarters, without", 96, 0, "4x24", 1},
		{"nine thirds, with kerf", 96, 1, "9x32", 5},
		{"nine thirds, without", 96, 0, "9x32", 3},
		{"four lengths", 96, 1, "3x41 4x36 5x29 6x17", 6},
		{"a stick of 144", 144, 1, "2x95.5 3x48.25 2x47.5 4x31", 4},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := stock.Problem{Kerf: c.kerf, Items: counted(t, c.pieces, eighths), Sticks: []stock.Stick{{Length: c.stick * eighths, Cost: 1}}}
			if got := solved(t, p); got.Cost != c.want || !got.Proven {
				t.Errorf("cost %d, bound %d, proven %v, want %d", got.Cost, got.Bound, got.Proven, c.want)
			}
			for i := range p.Items { // the same in nanometres
				p.Items[i].Length *= 3_175_000
			}
			p.Kerf, p.Sticks[0].Length = p.Kerf*3_175_000, p.Sticks[0].Length*3_175_000
			if got := solved(t, p); got.Cost != c.want || !got.Proven {
				t.Errorf("in nanometres: cost %d, bound %d, proven %v, want %d", got.Cost, got.Bound, got.Proven, c.want)
			}
		})
	}
}

// TestPrices: worked by hand.
func TestPrices(t *testing.T) {
	for _, c := range []struct {
		name   string
		sticks []stock.Stick
		items  string
		cost   int64
	}{
		{"the longer stick is dearer by length", []stock.Stick{{96, 100, 0}, {192, 230, 0}}, "4x48", 200},
		{"and cheaper", []stock.Stick{{96, 100, 0}, {192, 180, 0}}, "4x48", 180},
		{"an offcut saves a stick", []stock.Stick{{96, 100, 0}, {40, 0, 1}}, "60 36 40", 100},
		{"an offcut too short saves none", []stock.Stick{{96, 100, 0}, {30, 0, 1}}, "60 37 40", 200},
		{"what costs nothing", []stock.Stick{{96, 0, 0}, {192, 230, 0}}, "4x48 2x10", 0},
		{"a dear stick only where it must be", []stock.Stick{{96, 100, 0}, {144, 900, 0}}, "120 48 48", 1000},
		{"limited, and the rest bought", []stock.Stick{{96, 10, 1}, {96, 100, 0}}, "4x48", 110},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := solved(t, stock.Problem{Items: counted(t, c.items, 1), Sticks: c.sticks})
			if got.Cost != c.cost || !got.Proven {
				t.Errorf("cost %d, bound %d, proven %v, want %d", got.Cost, got.Bound, got.Proven, c.cost)
			}
		})
	}
}

func TestLimits(t *testing.T) {
	t.Run("too long", func(t *testing.T) {
		got := solved(t, stock.Problem{Items: counted(t, "100 50 2x97", 1), Sticks: []stock.Stick{{96, 7, 0}}})
		if !reflect.DeepEqual(got.TooLong, []int{0, 2}) || got.Cost != 7 {
			t.Errorf("%+v", got)
		}
	})
	t.Run("no sticks", func(t *testing.T) {
		got := solved(t, stock.Problem{Items: counted(t, "10", 1)})
		if !reflect.DeepEqual(got.TooLong, []int{0}) || len(got.Cuts) != 0 {
			t.Errorf("%+v", got)
		}
	})
	t.Run("nothing to cut", func(t *testing.T) {
		if got := solved(t, stock.Problem{Sticks: []stock.Stick{{96, 7, 0}}, Items: []stock.Item{{5, 0}}}); len(got.Cuts) != 0 || got.Cost != 0 || !got.Proven {
			t.Errorf("%+v", got)
		}
	})
	t.Run("not enough sticks", func(t *testing.T) { // two hold 2 each, one piece is left
		got := solved(t, stock.Problem{Items: counted(t, "5x48", 1), Sticks: []stock.Stick{{96, 7, 2}}})
		if !reflect.DeepEqual(got.Short, []int{1}) || got.Cost != 14 {
			t.Errorf("%+v", got)
		}
	})
	t.Run("ten thousand pieces", func(t *testing.T) {
		r := rand.New(rand.NewPCG(1, 1))
		p := stock.Problem{Kerf: 2, Sticks: []stock.Stick{{1536, 9600, 0}, {1920, 12500, 0}, {2304, 14000, 0}}}
		for range 400 {
			p.Items = append(p.Items, stock.Item{Length: 40 + r.Int64N(1200), Count: 25})
		}
		got := solved(t, p)
		if gap := float64(got.Cost-got.Bound) / float64(got.Cost); gap > 0.01 {
			t.Errorf("cost %d, bound %d: %.2f %% between them", got.Cost, got.Bound, 100*gap)
		}
	})
	t.Run("lengths without a common measure", func(t *testing.T) {
		p := stock.Problem{Kerf: 3_175_001, Sticks: []stock.Stick{{2_438_400_007, 980, 0}, {3_657_600_011, 1500, 0}}}
		for i := range int64(12) {
			p.Items = append(p.Items, stock.Item{Length: 300_000_007 + i*71_234_567, Count: 2})
		}
		if got := solved(t, p); !got.Proven {
			t.Errorf("cost %d, bound %d", got.Cost, got.Bound)
		}
	})
	t.Run("stopped early", func(t *testing.T) {
		p := randomJob(20)
		p.Steps = 1
		got := solved(t, p)
		if full := solved(t, randomJob(20)); got.Bound > full.Cost || got.Cost < full.Cost {
			t.Errorf("cost %d, bound %d; in full %d", got.Cost, got.Bound, full.Cost)
		}
	})
}

func TestRefused(t *testing.T) {
	ok := stock.Stick{Length: 96, Cost: 1}
	for want, p := range map[string]stock.Problem{
		"a stick costs less than nothing":                                    {Sticks: []stock.Stick{{96, -1, 0}}},
		"a piece has no length":                                              {Items: []stock.Item{{0, 1}}, Sticks: []stock.Stick{ok}},
		"the number of pieces is less than nothing":                          {Items: []stock.Item{{1, -1}}},
		"there are more pieces than can be reckoned with":                    {Items: []stock.Item{{1, 1_000_001}}},
		"a length is less than nothing":                                      {Kerf: -1},
		"a piece is too long to reckon with":                                 {Items: []stock.Item{{1 << 62, 1}}},
		"a stick's length is less than nothing":                              {Sticks: []stock.Stick{{-1, 1, 0}}},
		"the number of sticks is less than nothing":                          {Sticks: []stock.Stick{{1, 1, -1}}},
		"a stick is too long, too dear or there are too many to reckon with": {Sticks: []stock.Stick{{1, 1 << 62, 0}}},
		"the saw cut is too wide to reckon with":                             {Kerf: 1 << 62},
	} {
		if _, err := stock.Solve(p); err == nil || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

// exhaustive is the least cost by trying every stick for every piece in turn; for a handful of pieces.
func exhaustive(p stock.Problem) int64 {
	var pieces []int64
	for _, it := range p.Items {
		for range it.Count {
			pieces = append(pieces, it.Length+p.Kerf)
		}
	}
	best := int64(-1)
	var room []int64
	left := make([]int, len(p.Sticks))
	for i, s := range p.Sticks {
		left[i] = s.Count
		if s.Count == 0 {
			left[i] = len(pieces)
		}
	}
	var rec func(i int, cost int64)
	rec = func(i int, cost int64) {
		if best >= 0 && cost >= best {
			return
		}
		if i == len(pieces) {
			best = cost
			return
		}
		for b := range room {
			if room[b] >= pieces[i] {
				room[b] -= pieces[i]
				rec(i+1, cost)
				room[b] += pieces[i]
			}
		}
		for s, st := range p.Sticks {
			if left[s] > 0 && st.Length+p.Kerf >= pieces[i] {
				left[s]--
				room = append(room, st.Length+p.Kerf-pieces[i])
				rec(i+1, cost+st.Cost)
				room = room[:len(room)-1]
				left[s]++
			}
		}
	}
	rec(0, 0)
	return best
}

// TestSmall: random small problems cost what trying everything finds; a plan is sound, comes out twice alike, and costs the same whatever the order of pieces.
func TestSmall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := stock.Problem{Kerf: rapid.Int64Range(0, 3).Draw(t, "kerf"), Sticks: []stock.Stick{{Length: 30, Cost: rapid.Int64Range(0, 40).Draw(t, "price"), Count: rapid.SampledFrom([]int{0, 0, 0, 1, 2, 3}).Draw(t, "of them")}}}
		for range rapid.IntRange(0, 3).Draw(t, "sorts") {
			p.Sticks = append(p.Sticks, stock.Stick{Length: rapid.Int64Range(0, 40).Draw(t, "long"), Cost: rapid.Int64Range(0, 50).Draw(t, "cost"), Count: rapid.IntRange(0, 2).Draw(t, "there")})
		}
		for range rapid.IntRange(1, 4).Draw(t, "items") {
			p.Items = append(p.Items, stock.Item{Length: rapid.Int64Range(1, 30).Draw(t, "piece"), Count: rapid.IntRange(0, 2).Draw(t, "count")})
		}
		got, err := stock.Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, p, got)
		switch want := exhaustive(p); {
		case want < 0: // there are too few sticks
			if got.Short == nil && got.TooLong == nil {
				t.Errorf("nothing is short: %+v", got)
			}
			return
		case got.Cost != want || !got.Proven:
			t.Errorf("cost %d, bound %d, proven %v, want %d", got.Cost, got.Bound, got.Proven, want)
		}
		if again, _ := stock.Solve(p); !reflect.DeepEqual(again, got) {
			t.Errorf("another plan the second time: %+v, %+v", got, again)
		}
		q := p
		q.Items = nil
		for i := range p.Items {
			q.Items = append(q.Items, p.Items[len(p.Items)-1-i])
		}
		if other, _ := stock.Solve(q); other.Cost != got.Cost || other.Bound != got.Bound {
			t.Errorf("%d in another order, %d", other.Cost, got.Cost)
		}
	})
}

// TestLeavings: what is left is left in one piece where that costs nothing. Worked by hand: 40 30 20 10 go into two sticks of 96 in any way; 100 in one is too much,
// 90 and 10 leave 6 and 86.
func TestLeavings(t *testing.T) {
	got := solved(t, stock.Problem{Items: counted(t, "40 30 20 10", 1), Sticks: []stock.Stick{{96, 5, 0}}})
	if len(got.Cuts) != 2 || max(got.Cuts[0].Left, got.Cuts[1].Left) != 86 {
		t.Errorf("%+v", got.Cuts)
	}
}

// TestCover: packs against trying every number of each; worked out apart for small numbers.
func TestCover(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var packs []stock.Pack
		for range rapid.IntRange(1, 4).Draw(t, "packs") {
			packs = append(packs, stock.Pack{Size: rapid.Int64Range(1, 12).Draw(t, "size"), Cost: rapid.Int64Range(0, 30).Draw(t, "cost"), Count: rapid.IntRange(0, 4).Draw(t, "there")})
		}
		need := rapid.Int64Range(0, 40).Draw(t, "need")
		type choice struct{ cost, over, count int64 }
		var best *choice
		var rec func(i int, have, cost, count int64)
		rec = func(i int, have, cost, count int64) {
			if i == len(packs) {
				if c := (choice{cost, have - need, count}); have >= need && (best == nil || c.cost < best.cost || c.cost == best.cost && (c.over < best.over || c.over == best.over && c.count < best.count)) {
					best = &c
				}
				return
			}
			most := int64(packs[i].Count)
			if most == 0 {
				most = need
			}
			for n := int64(0); n <= most; n++ {
				rec(i+1, have+n*packs[i].Size, cost+n*packs[i].Cost, count+n)
			}
		}
		rec(0, 0, 0, 0)
		times, cost, ok := stock.Cover(need, packs)
		if ok != (best != nil) {
			t.Fatalf("found %v, want %v", ok, best)
		}
		if !ok {
			return
		}
		have, sum, count := int64(0), int64(0), int64(0)
		for i, n := range times {
			have, sum, count = have+int64(n)*packs[i].Size, sum+int64(n)*packs[i].Cost, count+int64(n)
		}
		if got := (choice{sum, have - need, count}); got != *best || cost != sum {
			t.Errorf("%v %+v, want %+v", times, got, *best)
		}
	})
	t.Run("cans in sixteenths of a nanolitre", func(t *testing.T) { // 5 qt: a gallon at 58 and a quart at 21, not five quarts; by hand
		const gal = 60_566_588_544
		times, cost, ok := stock.Cover(gal+gal/4, []stock.Pack{{Size: gal / 4, Cost: 2100}, {Size: gal, Cost: 5800}})
		if !ok || cost != 7900 || times[0] != 1 || times[1] != 1 {
			t.Errorf("%v %d %v", times, cost, ok)
		}
	})
	// 1e12 pieces at 1e13 each are 1e25, and the machine counts to 9.2e18. By hand: 900 000 of them are 9e18, 1 000 000 are 1e19.
	t.Run("a sum that is too large to count", func(t *testing.T) {
		const dear = 10_000_000_000_000 // the most that a pack costs
		for _, c := range []struct {
			name  string
			need  int64
			packs []stock.Pack
			cost  int64
			ok    bool
		}{
			{"a tiny dear pack", 1_000_000_000_000, []stock.Pack{{Size: 1, Cost: dear}}, 0, false},
			{"that comes round to a small sum", 1 << 62 / dear * 8, []stock.Pack{{Size: 1, Cost: dear}}, 0, false},
			{"the most that can be counted", 900_000, []stock.Pack{{Size: 1, Cost: dear}}, 9_000_000_000_000_000_000, true},
			{"one sum too many", 1_000_000, []stock.Pack{{Size: 1, Cost: dear}}, 0, false},
			{"few of the dear ones", 1_000_000_000_000, []stock.Pack{{Size: 1, Cost: dear, Count: 3}, {Size: 1_000_000_000_000, Cost: 7}}, 7, true},
			{"two packs together", 600_000, []stock.Pack{{Size: 1, Cost: dear}, {Size: 1, Cost: dear}}, 0, false},
		} {
			t.Run(c.name, func(t *testing.T) {
				if _, cost, ok := stock.Cover(c.need, c.packs); ok != c.ok || cost != c.cost {
					t.Errorf("%d %v, want %d %v", cost, ok, c.cost, c.ok)
				}
			})
		}
	})
	t.Run("refused", func(t *testing.T) {
		for _, packs := range [][]stock.Pack{nil, {{Size: 0, Cost: 1}}, {{Size: 1, Cost: -1}}, {{Size: 3, Cost: 1, Count: 2}}} {
			if _, _, ok := stock.Cover(10, packs); ok {
				t.Errorf("%v hold 10", packs)
			}
		}
	})
}

func FuzzSolve(f *testing.F) {
	f.Add(int64(1), uint64(7), 5)
	f.Fuzz(func(t *testing.T, kerf int64, seed uint64, n int) {
		r := rand.New(rand.NewPCG(seed, 9))
		p := stock.Problem{Kerf: kerf, Steps: 20_000}
		for range min(max(n, 0), 30) {
			p.Items = append(p.Items, stock.Item{Length: r.Int64N(1 << (1 + r.IntN(34))), Count: r.IntN(5)})
			if r.IntN(3) == 0 {
				p.Sticks = append(p.Sticks, stock.Stick{Length: r.Int64N(1 << (1 + r.IntN(36))), Cost: r.Int64N(1 << (1 + r.IntN(30))), Count: r.IntN(4)})
			}
		}
		if got, err := stock.Solve(p); err == nil {
			sound(t, p, got)
		}
	})
}

func ExampleSolve() {
	plan, _ := stock.Solve(stock.Problem{
		Kerf:   1,
		Items:  []stock.Item{{Length: 40, Count: 2}, {Length: 31, Count: 1}},
		Sticks: []stock.Stick{{Length: 96, Cost: 2000}, {Length: 35, Count: 1}},
	})
	fmt.Println(plan.Cost, plan.Proven, len(plan.Cuts))
	// Output: 2000 true 2
}
