package stock_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"balustrade/jobbook/takeoff/stock"
)

// patterns writes a problem with every way to cut every stick, each an unknown number of times, for an independent solver of mixed integer programs
// (P. C. Gilmore and R. E. Gomory, 1961). In the format of CPLEX LP files.
func patterns(p stock.Problem) string {
	var cost, list bytes.Buffer
	holds := make([]bytes.Buffer, len(p.Items))
	used := make([]bytes.Buffer, len(p.Sticks))
	n := 0
	for s, st := range p.Sticks {
		count := make([]int, len(p.Items))
		var rec func(i int, room int64)
		rec = func(i int, room int64) {
			if i == len(count) {
				for k, it := range p.Items { // room for another piece: a fuller way does as well
					if count[k] < it.Count && it.Length+p.Kerf <= room {
						return
					}
				}
				n++
				fmt.Fprintf(&list, " x%d\n", n)
				fmt.Fprintf(&used[s], " + x%d", n)
				for k, c := range count {
					if c > 0 {
						fmt.Fprintf(&holds[k], " + %d x%d", c, n)
					}
				}
				return
			}
			for c := 0; c <= p.Items[i].Count && int64(c)*(p.Items[i].Length+p.Kerf) <= room; c++ {
				count[i] = c
				rec(i+1, room-int64(c)*(p.Items[i].Length+p.Kerf))
			}
			count[i] = 0
		}
		rec(0, st.Length+p.Kerf)
		fmt.Fprintf(&cost, " + %d z%d", st.Cost, s)
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "Minimize\n cost:%s\nSubject To\n", cost.String())
	for i, it := range p.Items {
		fmt.Fprintf(&b, " d%d:%s >= %d\n", i, holds[i].String(), it.Count)
	}
	for s, st := range p.Sticks {
		fmt.Fprintf(&b, " s%d:%s - z%d = 0\n", s, used[s].String(), s)
		if st.Count > 0 {
			fmt.Fprintf(&b, " u%d: z%d <= %d\n", s, s, st.Count)
		}
	}
	// All pieces lie in the sticks: nothing new, but in whole sticks it helps the solver.
	fmt.Fprint(&b, " m:")
	sum := int64(0)
	for s, st := range p.Sticks {
		fmt.Fprintf(&b, " + %d z%d", st.Length+p.Kerf, s)
	}
	for _, it := range p.Items {
		sum += int64(it.Count) * (it.Length + p.Kerf)
	}
	fmt.Fprintf(&b, " >= %d\n", sum)
	fmt.Fprint(&b, "General\n")
	for s := range p.Sticks {
		fmt.Fprintf(&b, " z%d\n", s)
	}
	fmt.Fprintf(&b, "%sEnd\n", list.String())
	return b.String()
}

var objective = regexp.MustCompile(`Objective value:\s+(-?[\d.]+)`)

// milp has the problem solved by CBC (Debian's package coinor-cbc). Its preprocessing is off: with it, version 2.10.8 says that job 555 of the long test costs no less than 81710, for
// which glpsol and CBC itself without it find 70760.
func milp(t testing.TB, p stock.Problem) int64 {
	t.Helper()
	file := filepath.Join(t.TempDir(), "p.lp")
	if err := os.WriteFile(file, []byte(patterns(p)), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("cbc", file, "-preprocess", "off", "-ratioGap", "0", "-allowableGap", "0", "-solve", "-quit").CombinedOutput()
	if err != nil {
		t.Fatalf("cbc, of Debian's package coinor-cbc: %v\n%s", err, out)
	}
	m := objective.FindSubmatch(out)
	if m == nil || !bytes.Contains(out, []byte("Optimal solution found")) {
		t.Fatalf("%s", out)
	}
	v, err := strconv.ParseFloat(string(m[1]), 64)
	if err != nil {
		t.Fatal(err)
	}
	return int64(math.Round(v))
}

// randomJob is pieces of a few runs: rails and shoes, or many short ones, from sticks of several lengths at prices by the foot or of their own, with offcuts.
func randomJob(seed uint64) stock.Problem {
	r := rand.New(rand.NewPCG(seed, 4))
	p := stock.Problem{Kerf: r.Int64N(2)}
	foot := 300 + r.Int64N(1500)
	for _, l := range []int64{96, 120, 144, 168, 192} {
		if r.IntN(3) > 0 {
			cost := foot * l / 12
			if seed%2 == 1 {
				cost = cost * (90 + r.Int64N(21)) / 100
			}
			p.Sticks = append(p.Sticks, stock.Stick{Length: l - 1, Cost: cost})
		}
	}
	if len(p.Sticks) == 0 {
		p.Sticks = []stock.Stick{{Length: 191, Cost: 1000}}
	}
	for range r.IntN(4) {
		p.Sticks = append(p.Sticks, stock.Stick{Length: 20 + r.Int64N(80), Count: 1 + r.IntN(2)})
	}
	sorts := 2 + r.IntN(8)
	left := 5 + r.IntN(56)
	for i := range sorts {
		n := 1 + r.IntN(max(1, left/(sorts-i)))
		left -= n
		p.Items = append(p.Items, stock.Item{Length: 12 + r.Int64N(80), Count: n})
	}
	return p
}

// long has more jobs compared, which takes minutes: go test ./jobbook/takeoff/stock -run MILP -long
var long = flag.Bool("long", false, "compare two thousand jobs with the independent solver")

// TestAgainstMILP: two hundred jobs of up to 60 pieces cost what an independent solver finds, and are proven to.
func TestAgainstMILP(t *testing.T) {
	if _, err := exec.LookPath("cbc"); err != nil {
		if testing.Short() {
			t.Skip("Debian's package coinor-cbc is not there")
		}
		t.Fatal("cbc is needed: install Debian's package coinor-cbc")
	}
	jobs := uint64(200)
	if *long {
		jobs = 2000
	}
	for seed := range jobs {
		p := randomJob(seed)
		got, err := stock.Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		sound(t, p, got)
		if want := milp(t, p); got.Cost != want || !got.Proven {
			t.Errorf("seed %d: cost %d (bound %d, proven %v), CBC says %d: %+v", seed, got.Cost, got.Bound, got.Proven, want, p)
		}
	}
}

// BenchmarkSolve has the same jobs solved here and by CBC, which is started anew for each.
func BenchmarkSolve(b *testing.B) {
	for _, seed := range []uint64{3, 20, 101} {
		p := randomJob(seed)
		b.Run(fmt.Sprintf("ours/%d", seed), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := stock.Solve(p); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("cbc/%d", seed), func(b *testing.B) {
			if _, err := exec.LookPath("cbc"); err != nil {
				b.Skip("Debian's package coinor-cbc is not there")
			}
			for b.Loop() {
				milp(b, p)
			}
		})
	}
}
