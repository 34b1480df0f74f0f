package layout_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/length"
)

// TestRandomRuns recomputes plain square runs with arithmetic of its own, in sixty-fourths of an inch as floating point: marks rise
// strictly and are the rounded quotients, first and last opening are what the marks say, the worst opening is the widest rounded
// gap with the tolerances, and no smaller count would have passed. The expectation shares no code with the layout.
func TestRandomRuns(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		clear := rapid.IntRange(6*64, 200*64).Draw(rt, "clear in 64ths")
		width := rapid.IntRange(48, 128).Draw(rt, "width in 64ths") // 3/4 to 2 in
		mark := rapid.IntRange(0, 4).Draw(rt, "mark error in 64ths")
		drill := rapid.IntRange(0, 4).Draw(rt, "drill error in 64ths")
		under := rapid.IntRange(0, 4).Draw(rt, "under width in 64ths")
		f := func(n int) string { return fmt.Sprintf("%d %d/64", n/64, n%64) }
		if clear%64 == 0 && width%64 == 0 {
			clear++
		}
		_, l := lay(t, map[string]string{
			"job.md":       jobHead + fmt.Sprintf("\ntolerance: {mark: %d/64, drill: %d/64, width: %d/64, season: 0}", mark, drill, under),
			"runs/1-r.md":  "kind: run\nfrom: wall\nto: wall\nclear: {floor: " + f(clear) + ", rail: " + f(clear) + "}\nbaluster: own",
			"parts/own.md": "kind: baluster\nlong: 42\nwide: " + f(width),
		})
		r := l.Runs[0]

		// All in 64ths. A mark goes to the sixteenth, 4 of them, an exact half away from the datum.
		L, b := float64(clear), float64(width)
		worst := func(n int) (float64, []float64) {
			if n == 0 {
				return L, nil
			}
			marks := make([]float64, n)
			for k := 1; k <= n; k++ {
				marks[k-1] = 4 * math.Floor((float64(k)*(L+b)/float64(n+1)-b/2)/4+0.5+1e-9)
			}
			one := float64(mark + drill)
			w := math.Max(marks[0]-b/2, L-marks[n-1]-b/2) + one + float64(under)/2
			for k := 1; k < n; k++ {
				w = math.Max(w, marks[k]-marks[k-1]-b+2*one+float64(under))
			}
			return w, marks
		}
		least := -1
		for n := 0; float64(n)*b <= L; n++ {
			if w, _ := worst(n); w < 4*64-1e-6 {
				least = n
				break
			}
		}
		if r.Least != least {
			rt.Fatalf("least count %d, by hand %d", r.Least, least)
		}
		if least < 0 {
			return
		}
		w, marks := worst(least)
		unit := float64(length.Inch) / 64
		if math.Abs(float64(r.Chosen.Worst)/unit-w) > 0.001 {
			rt.Fatalf("worst opening %v 64ths, by hand %v", float64(r.Chosen.Worst)/unit, w)
		}
		previous := length.Length(-1)
		for i, m := range r.Marks {
			if m.At <= previous {
				rt.Fatalf("mark %d does not rise", i+1)
			}
			previous = m.At
			if math.Abs(float64(m.At)/unit-marks[i]) > 0.001 {
				rt.Fatalf("mark %d at %v 64ths, by hand %v", i+1, float64(m.At)/unit, marks[i])
			}
		}
		if n := len(r.Marks); n > 0 {
			if got := float64(r.Openings[0].Nominal) / unit; math.Abs(got-(marks[0]-b/2)) > 0.001 {
				rt.Fatalf("first opening %v, by the marks %v", got, marks[0]-b/2)
			}
			if got := float64(r.Openings[len(r.Openings)-1].Nominal) / unit; math.Abs(got-(L-marks[n-1]-b/2)) > 0.001 {
				rt.Fatalf("last opening %v, by the marks %v", got, L-marks[n-1]-b/2)
			}
		}
	})
}
