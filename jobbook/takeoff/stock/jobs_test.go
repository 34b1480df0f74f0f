package stock_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"balustrade/jobbook/takeoff/stock"
)

const (
	inch = 25_400_000 // nm
	mm   = 1_000_000
)

// shop is a job as it comes from a book, in nanometres: pieces of many lengths, five stick lengths at prices that follow no rule, offcuts.
type shop struct {
	grid    int64 // lengths of pieces and offcuts are whole numbers of it
	kerf    int64
	sticks  []int64
	trim    int64
	limited bool // few of each stick
	offcuts int  // at most
	sorts   int  // of pieces, at least
	more    int  // and so many less one more
	each    int  // of one sort at most
	least   int64
	span    int64 // pieces are that much longer than the least at most
}

func (s shop) job(seed uint64) (p stock.Problem) {
	r := rand.New(rand.NewPCG(seed, 77))
	p.Kerf = s.kerf
	for _, l := range s.sticks {
		st := stock.Stick{Length: l - s.trim, Cost: l / 40_000 * (90 + r.Int64N(21)) / 100}
		if s.limited {
			st.Count = 1 + r.IntN(4)
		}
		p.Sticks = append(p.Sticks, st)
	}
	if s.limited { // and one there is enough of
		p.Sticks = append(p.Sticks, stock.Stick{Length: s.sticks[2] - s.trim, Cost: s.sticks[2] / 25_000})
	}
	for range r.IntN(s.offcuts + 1) {
		p.Sticks = append(p.Sticks, stock.Stick{Length: (500*mm + r.Int64N(1500*mm)) / s.grid * s.grid, Count: 1})
	}
	for range s.sorts + r.IntN(s.more) {
		p.Items = append(p.Items, stock.Item{Length: (s.least + r.Int64N(s.span)) / s.grid * s.grid, Count: 1 + r.IntN(s.each)})
	}
	return p
}

var (
	feet   = []int64{96 * inch, 120 * inch, 144 * inch, 168 * inch, 192 * inch}
	metric = []int64{2400 * mm, 3000 * mm, 3600 * mm, 4200 * mm, 4800 * mm}
)

// shops are the kinds of job that TestShops proves.
var shops = []struct {
	name string
	shop
}{
	{"sixteenths", shop{grid: inch / 16, kerf: inch / 8, sticks: feet, trim: inch, offcuts: 3, sorts: 8, more: 15, each: 4, least: 10 * inch, span: 80 * inch}},
	{"sixty-fourths", shop{grid: inch / 64, kerf: inch / 8, sticks: feet, trim: inch, offcuts: 3, sorts: 8, more: 15, each: 4, least: 10 * inch, span: 80 * inch}},
	{"many offcuts", shop{grid: inch / 16, kerf: inch / 8, sticks: feet, trim: inch, offcuts: 12, sorts: 8, more: 15, each: 4, least: 10 * inch, span: 80 * inch}},
	{"few of each stick", shop{grid: inch / 16, kerf: inch / 8, sticks: feet, trim: inch, limited: true, sorts: 12, more: 1, each: 8, least: 10 * inch, span: 80 * inch}},
	{"balusters", shop{grid: inch / 16, kerf: inch / 8, sticks: feet, trim: inch, sorts: 6, more: 1, each: 50, least: 28 * inch, span: 12 * inch}},
	{"fillets", shop{grid: inch / 16, kerf: inch / 8, sticks: feet, trim: inch, offcuts: 3, sorts: 15, more: 1, each: 8, least: 3 * inch, span: 2 * inch}},
	{"millimetres", shop{grid: mm, kerf: 3_200_000, sticks: metric, trim: 20 * mm, offcuts: 3, sorts: 8, more: 25, each: 3, least: 300 * mm, span: 2000 * mm}},
	{"millimetres, a kerf of an eighth inch", shop{grid: mm, kerf: inch / 8, sticks: metric, trim: 20 * mm, offcuts: 3, sorts: 8, more: 25, each: 3, least: 300 * mm, span: 2000 * mm}},
	{"no common measure", shop{grid: 1, kerf: inch / 8, sticks: feet, trim: inch, offcuts: 3, sorts: 8, more: 20, each: 3, least: 300 * mm, span: 2000 * mm}},
}

// TestShops: jobs such as books bring are proven within the usual budget; in the long test, of a hundred of each kind all but two, and those to a five hundredth.
// That what is proven is true is up to the other tests.
func TestShops(t *testing.T) {
	seeds, spare := uint64(4), 0
	if *long {
		seeds, spare = 100, 2
	}
	for _, s := range shops {
		t.Run(s.name, func(t *testing.T) {
			open := 0
			for seed := range seeds {
				got := solved(t, s.job(seed))
				if got.Proven {
					continue
				}
				open++
				t.Logf("seed %d: cost %d, bound %d after %d steps", seed, got.Cost, got.Bound, got.Steps)
				if (got.Cost-got.Bound)*500 > got.Cost {
					t.Errorf("seed %d: far from proven", seed)
				}
			}
			if open > spare {
				t.Errorf("%d of %d are not proven", open, seeds)
			}
		})
	}
}

// TestSixtyLengths: sixty pieces of sixty lengths. Not all are proven within the budget; what is not is within a hundredth.
func TestSixtyLengths(t *testing.T) {
	s := shop{grid: inch / 64, kerf: inch / 8, sticks: feet, trim: inch, sorts: 60, more: 1, each: 1, least: 10 * inch, span: 80 * inch}
	for seed := range uint64(3) {
		p := s.job(seed)
		p.Steps = 10_000_000
		if got := solved(t, p); (got.Cost-got.Bound)*100 > got.Cost {
			t.Errorf("seed %d: cost %d, bound %d", seed, got.Cost, got.Bound)
		}
	}
}

// BenchmarkShops has one job of each kind solved.
func BenchmarkShops(b *testing.B) {
	for _, s := range shops {
		b.Run(s.name, func(b *testing.B) {
			p := s.job(1)
			for b.Loop() {
				if _, err := stock.Solve(p); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestAnyOrder: pieces and sticks in another order cost the same.
func TestAnyOrder(t *testing.T) {
	for seed := range uint64(20) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			p := randomJob(seed)
			want := solved(t, p)
			r := rand.New(rand.NewPCG(seed, 5))
			r.Shuffle(len(p.Items), func(i, j int) { p.Items[i], p.Items[j] = p.Items[j], p.Items[i] })
			r.Shuffle(len(p.Sticks), func(i, j int) { p.Sticks[i], p.Sticks[j] = p.Sticks[j], p.Sticks[i] })
			if got := solved(t, p); got.Cost != want.Cost || got.Bound != want.Bound || got.Proven != want.Proven {
				t.Errorf("cost %d, bound %d; in the other order %d, %d", want.Cost, want.Bound, got.Cost, got.Bound)
			}
		})
	}
}

// TestHuge: numbers as large as they may be add up; costs worked by hand.
func TestHuge(t *testing.T) {
	const most = 10_000_000_000_000
	for _, c := range []struct {
		name string
		p    stock.Problem
		cost int64
	}{
		// Each of three needs the longer sort; the thirds go three to a stick, the sevenths seven: 7/3 and 11/7 are over 3, so 4 of the cheaper.
		{"the longest", stock.Problem{Items: []stock.Item{{most, 3}, {most / 3, 7}, {most/7 - 1, 11}}, Sticks: []stock.Stick{{most, 2, 0}, {most - 1, 1, 1_000_000}}}, 3*2 + 4},
		// 30 alone, one dearer by one no use; 40 by two: 50 of the cheaper sort.
		{"the dearest", stock.Problem{Items: []stock.Item{{most - 7, 30}, {most/2 - 9, 40}}, Sticks: []stock.Stick{{most, most, 1_000_000}, {most - 3, most - 1, 0}}}, 50 * (most - 1)},
		{"the widest saw cut", stock.Problem{Kerf: most, Items: []stock.Item{{1, 5}}, Sticks: []stock.Stick{{most, 5, 0}}}, 25},
		{"the most pieces", stock.Problem{Items: []stock.Item{{1, 1_000_000}}, Sticks: []stock.Stick{{500, 500, 0}, {1000, 1, 1_000_000}}}, 1000},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := solved(t, c.p); got.Cost != c.cost || !got.Proven {
				t.Errorf("cost %d, bound %d, proven %v, want %d", got.Cost, got.Bound, got.Proven, c.cost)
			}
		})
	}
	p := stock.Problem{Items: []stock.Item{{1, 1_000_000}}, Sticks: []stock.Stick{{most, most, 1_000_000}}}
	if _, err := stock.Solve(p); err == nil {
		t.Error("a million pieces of the dearest sticks are reckoned with")
	}
}
