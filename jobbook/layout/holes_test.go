package layout_test

import (
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
)

// found is the finding of a run whose id ends so; nil where there is none.
func found(r *layout.Run, name string) *finding.Finding {
	i := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return strings.HasSuffix(f.ID, "/"+name) })
	if i < 0 {
		return nil
	}
	return &r.Findings[i]
}

// judgedHole holds the check of the holes in a shoe to a verdict, and what is left under them.
func judgedHole(t *testing.T, r *layout.Run, want finding.Verdict, left float64) {
	t.Helper()
	f := found(r, "hole-shoe")
	if f == nil {
		t.Fatal("the holes in the shoe are not checked")
	}
	if f.Verdict != want {
		t.Errorf("%s: %v, want %v", f.Title, f.Verdict, want)
	}
	near(t, f.Title, f.Measured, left, 1e-6)
}

// TestHolesInAShoe: the shoe is 1 1/4 high and its plow 5/16 deep, which leaves 15/16 for a pin (by hand). A hole that just comes through fails.
func TestHolesInAShoe(t *testing.T) {
	level := func(t *testing.T, pin, more string) *layout.Run {
		_, l := lay(t, map[string]string{
			"job.md":          strings.Replace(jobHead, "baluster: plain", "baluster: pinned", 1),
			"parts/pinned.md": "kind: baluster\nwide: 1 1/4\nlong: 42\nbottom: pin\npin: {wide: 1/2, long: " + pin + "}",
			"runs/1-r.md":     "kind: run\nfrom: a\nto: b\nclear: {floor: 60, rail: 60}" + more,
		})
		return l.Runs[0]
	}
	for _, c := range []struct {
		pin  string
		left float64
		want finding.Verdict
	}{{"7/8", 1.0 / 16, finding.Pass}, {"15/16", 0, finding.Fail}, {"1", -1.0 / 16, finding.Fail}} {
		judgedHole(t, level(t, c.pin, ""), c.want, c.left)
	}
	// Scribed to a floor an eighth out of level, the shoe is 1 1/8 high where the floor is highest: 1/16 is left under a pin of 3/4, and nothing
	// where the floor is 3/16 out.
	judgedHole(t, level(t, "3/4", "\nfloor-out: scribe\nlevel: [{at: 0, down: 44}, {at: 60, down: 43 7/8}]"), finding.Pass, 1.0/16)
	judgedHole(t, level(t, "3/4", "\nfloor-out: scribe\nlevel: [{at: 0, down: 44}, {at: 60, down: 43 13/16}]"), finding.Fail, 0)

	t.Run("a foot let in", func(t *testing.T) {
		for deep, want := range map[string]finding.Verdict{"7/8": finding.Pass, "15/16": finding.Fail} {
			_, l := lay(t, map[string]string{
				"job.md":       strings.Replace(jobHead, "baluster: plain", "baluster: let", 1),
				"parts/let.md": "kind: baluster\nwide: 1 1/4\nlong: 42\nbottom: let in\nlet-in: " + deep,
				"runs/1-r.md":  "kind: run\nfrom: a\nto: b\nclear: {floor: 60, rail: 60}",
			})
			if f := found(l.Runs[0], "hole-shoe"); f == nil || f.Verdict != want {
				t.Errorf("let in by %s: %+v", deep, f)
			}
		}
	})
	t.Run("no hole in the shoe", func(t *testing.T) {
		if f := found(one(t, jobHead, "from: a\nto: b\nclear: {floor: 60, rail: 60}"), "hole-shoe"); f != nil {
			t.Errorf("%+v", f)
		}
	})
}

// TestHolesInARakedShoe: on 9 in 12 the secant is 5/4. A shoe of 1 in is 1 1/4 high plumb; the bottom of a hole of 1/2 comes nearest to its
// underside 1/4 uphill of the axis, where that stands 3/16 higher. 1 1/16 is left for the pin, by hand. With a plow of 1/4, 5/16 plumb, 3/4 is.
func TestHolesInARakedShoe(t *testing.T) {
	for _, c := range []struct {
		shoe, pin string
		left      float64
		want      finding.Verdict
	}{
		{"", "1", 1.0 / 16, finding.Pass},
		{"", "1 1/16", 0, finding.Fail},
		{"\nplow: {wide: 1, deep: 1/4}", "11/16", 1.0 / 16, finding.Pass},
		{"\nplow: {wide: 1, deep: 1/4}", "3/4", 0, finding.Fail},
	} {
		pinned := "kind: baluster\nwide: 1 1/4\nlong: 42\nbottom: pin\npin: {wide: 1/2, long: " + c.pin + "}"
		r, _ := flight(t, map[string]string{"risers": alike(5, "9"), "goings": alike(4, "12"), "clear": "{rake: 60}", "shoe": "shoe", "shoe-over": "1", "under-shoe": "closed", "baluster": "pinned"},
			map[string]string{"parts/pinned.md": pinned, "parts/shoe.md": "kind: shoe\nwide: 2\nhigh: 1" + c.shoe})
		judgedHole(t, r, c.want, c.left)
	}
}
