package stock

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// TestKnapsack holds the fillings worth most, from the table, by trying and by search, to those found by trying every one for one stick: as much is worth what they hold, and of
// those worth as much the table's, and that which was tried, has the fewest of the last item, then of the one before it, and so on.
func TestKnapsack(t *testing.T) {
	chance := rand.New(rand.NewPCG(3, 3))
	for range 3000 {
		n := 1 + chance.IntN(5)
		in := &instance{w: make([]int64, n), size: []int64{chance.Int64N(60), 40 + chance.Int64N(20)}}
		v, r := make([]int64, n), make([]int, n)
		for i := range n {
			in.w[i], v[i], r[i] = 1+chance.Int64N(30), chance.Int64N(12), chance.IntN(9)
		}
		k := (&task{instance: in, all: &solver{}}).knapsack()
		largest := max(in.size[0], in.size[1])
		worth, counts := k.table(v, r, largest)
		triedWorth, tried := k.tried(v, r, largest)
		held, most, found := k.searched(v, r, 1_000_000)
		for s, size := range in.size {
			best, fewest := int64(0), []int(nil)
			now := make([]int, n)
			var try func(i int, room, value int64)
			try = func(i int, room, value int64) {
				if i < 0 {
					if fewest == nil || value > best {
						best, fewest = value, slices.Clone(now)
					}
					return
				}
				for now[i] = 0; now[i] <= r[i] && int64(now[i])*in.w[i] <= room; now[i]++ {
					try(i-1, room-int64(now[i])*in.w[i], value+int64(now[i])*v[i])
				}
			}
			try(n-1, size, 0)
			for i := range n { // of what is worth nothing none is taken
				if v[i] == 0 {
					fewest[i] = 0
				}
			}
			if worth[s] != best || triedWorth[s] != best || held[s] != best || most[s] != best {
				t.Fatalf("%v worth %v, %v of each, in %d: table %d, tried %d, search %d and at most %d, want %d", in.w, v, r, size, worth[s], triedWorth[s], held[s], most[s], best)
			}
			if got, too := counts(s), tried(s); !slices.Equal(got, fewest) || !slices.Equal(too, fewest) {
				t.Fatalf("%v worth %v, %v of each, in %d: table takes %v, trying %v, want %v", in.w, v, r, size, got, too, fewest)
			}
			long, value := int64(0), int64(0)
			for i, n := range found(s) {
				long, value = long+int64(n)*in.w[i], value+int64(n)*v[i]
				if n > r[i] {
					t.Errorf("%d of an item, of %d", n, r[i])
				}
			}
			if long > size || value != best {
				t.Errorf("the search takes %v: %d long of %d, worth %d of %d", found(s), long, size, value, best)
			}
		}
	}
}
