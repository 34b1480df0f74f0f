package draw

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// FuzzFixed holds the numbers of a drawing against those of strconv, which finds them from the exact value.
func FuzzFixed(f *testing.F) {
	for _, v := range []float64{0, math.Copysign(0, -1), 0.005, -0.005, 0.004, 0.0049999999999, 0.125, 0.375, 2.675, 1.005, -1.005, 12.5, 0.0005, 99.996, 999.994, 999.995, 999.996, -999.999, 1000, 1e19, -1e20, 1e8 + 0.005, 999999999.995, 1e9, 1e15, 1e300, math.NaN(), math.Inf(1), math.Inf(-1), 5e-324} {
		f.Add(v)
	}
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 { // near the middle of two last places, and a step to either side of it
		v := float64(r.IntN(2_000_000)-1_000_000)/100 + 0.005
		f.Add(v)
		f.Add(math.Nextafter(v, 1e9))
		f.Add(math.Nextafter(v, -1e9))
	}
	f.Fuzz(func(t *testing.T, v float64) {
		for places := range 4 {
			if got, want := string(appendFixed(nil, v, places)), strconv.FormatFloat(v, 'f', places, 64); got != want {
				t.Errorf("%v with %d places is %s, got %s", v, places, want, got)
			}
		}
		want := strconv.FormatFloat(v, 'f', 2, 64)
		if math.IsNaN(v) || math.IsInf(v, 0) || want == "-0.00" {
			want = "0.00"
		}
		if got := string(appendNum(nil, v)); got != want {
			t.Errorf("%v is %s, got %s", v, want, got)
		}
	})
}

// TestFixed goes through many numbers as drawings have them.
func TestFixed(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200_000 {
		v := (r.Float64() - 0.5) * math.Pow(10, float64(r.IntN(14)-4))
		for places := range 4 {
			if got, want := string(appendFixed(nil, v, places)), strconv.FormatFloat(v, 'f', places, 64); got != want {
				t.Fatalf("%v with %d places is %s, got %s", v, places, want, got)
			}
		}
		want := strconv.FormatFloat(v, 'f', 2, 64)
		if want == "-0.00" {
			want = "0.00"
		}
		if got := string(appendNum(nil, v)); got != want {
			t.Fatalf("%v is %s, got %s", v, want, got)
		}
	}
}
