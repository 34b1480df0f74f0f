package layout_test

import (
	"math"
	"strings"
	"testing"

	"balustrade/jobbook/length"
)

// TestWidthAtTheLanding: a newel that stands on the tread under the landing, 7 3/4 lower, meets the landing where its turning is 2 1/2 through, not on its foot
// block of 3 1/2. The level run's clear was read there, so that its square block for the rail stands 1/2 out before that face, and its foot below the floor as far.
func TestWidthAtTheLanding(t *testing.T) {
	files := map[string]string{
		"job.md":          strings.Replace(strings.Replace(stairHead, "kind: job", "kind: job\nheight: 38\ndrop: 100", 1), "high: {newel: post}", "high: {newel: turned}", 1),
		"runs/1-f.md":     "kind: flight\nfrom: {at: low, past: 0}\nto: {at: high, before: 4}\nrisers: [7 3/4, 7 3/4, 7 3/4, 7 3/4, 7 3/4]\ngoings: [10, 10, 10, 10]\nnosing: 1\nheight: 36\nclear: {rake: 45}",
		"runs/2-l.md":     "kind: run\nfrom: high\nto: wall\nclear: {floor: 60, rail: 60}",
		"parts/turned.md": "kind: newel\nprofile: [{at: 0, square: 3 1/2}, {at: 6, square: 3 1/2}, {at: 6, round: 2 1/2}, {at: 36, round: 2 1/2}, {at: 36, square: 3 1/2}, {at: 56, square: 3 1/2}]",
	}
	for name, text := range bareRail {
		files[name] = text
	}
	_, l := lay(t, files)
	for i, want := range []string{"3 1/2", "2 1/2"} { // by the flight, on its tread; by the level run, at the landing
		if got := tape([]length.Length{l.Runs[0].To.Wide, l.Runs[1].From.Wide}[i]); got != want {
			t.Errorf("run %d: %s wide where its clear was read, want %s", i+1, got, want)
		}
	}
	for _, p := range l.Runs[1].From.Face.Points {
		out, z := p.Out/25.4, p.Z/25.4+7.75 // up the newel
		want := 0.5
		if z > 6 && z < 36 {
			want = 0
		}
		if math.Abs(z-6) > 1e-9 && math.Abs(z-36) > 1e-9 && math.Abs(out-want) > 1e-9 {
			t.Errorf("%.2f up the newel its face stands %.3f out, want %.3f", z, out, want)
		}
	}
}
