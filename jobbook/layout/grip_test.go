package layout_test

import (
	"fmt"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
)

// TestGripOfARectangle: what follows from width and height alone, worked out by hand. A rectangle with sharp edges has twice the sum of both round it, and
// the root of the sum of their squares across; however its edges are eased it keeps twice that root round it, and the greater of the two across it. The
// rule set wants a girth from 4 to 6 1/4, or a recess, and at most 2 1/4 across.
func TestGripOfARectangle(t *testing.T) {
	const pass, fail, open = finding.Pass, finding.Fail, finding.ToBeMeasured
	for _, c := range []struct {
		wide, high, more    string
		least, most, across finding.Verdict
		asks                string
	}{
		{"1 3/8", "1 5/8", "", pass, pass, pass, ""},                          // 4.257 to 6.000 round, at most 2.129 across
		{"1 1/2", "1 5/8", "", pass, pass, pass, ""},                          // 4.423 to 6.250, 2.212: on the limit
		{"1 9/16", "1 5/8", "", open, open, open, "girth, greatest distance"}, // 4.509 to 6.375, 1.625 to 2.254: the edges decide
		{"1", "1", "", open, open, pass, "girth"},                             // 2.828 to 4.000, 1.414
		{"3/4", "1", "", fail, pass, pass, ""},                                // at most 3.500
		{"2 1/2", "1/2", "", pass, pass, fail, ""},                            // 5.099 to 6.000, at least 2.500 across
		{"1 9/16", "1 5/8", "girth: 6", pass, pass, open, "greatest distance"},
		{"1 9/16", "1 5/8", "girth: 6\nacross: 2 1/8", pass, pass, pass, ""},
	} {
		t.Run(fmt.Sprint(c.wide, " by ", c.high, " ", c.more), func(t *testing.T) {
			r, found := flight(t, nil, map[string]string{"parts/bare.md": "kind: handrail\nsection: rectangular\nwide: " + c.wide + "\nhigh: " + c.high + "\n" + c.more})
			for limit, want := range map[string]finding.Verdict{"grip-girth-least": c.least, "grip-girth-most": c.most, "grip-across-most": c.across} {
				if got := verdict(t, r, found, limit, ""); got != want {
					t.Errorf("%s: %v, want %v", limit, got, want)
				}
			}
			var asked []string
			for _, m := range r.Missing {
				for _, what := range []string{"girth", "greatest distance"} {
					if strings.HasPrefix(m.What, what) {
						asked = append(asked, what)
					}
				}
			}
			if got := strings.Join(asked, ", "); got != c.asks {
				t.Errorf("asks for %q, want %q", got, c.asks)
			}
		})
	}
	t.Run("more than a hand goes round, however it is eased", func(t *testing.T) { // twice the root of 12 1/2 is 7.071
		r, found := flight(t, nil, map[string]string{"parts/bare.md": "kind: handrail\nsection: rectangular\nwide: 2 1/2\nhigh: 2 1/2"})
		if got := verdict(t, r, found, "recess-deep-least", ""); got != open {
			t.Errorf("the recess: %v", got)
		}
		for _, m := range r.Missing {
			if strings.HasPrefix(m.What, "girth") {
				t.Errorf("asks for %s", m.What)
			}
		}
	})
}

// TestGripWithoutALimit: where the rule set has no limit on a handrail's section nothing of it is asked for, and one finding says so.
func TestGripWithoutALimit(t *testing.T) {
	const set = "kind: rules\nlimits:\n  guard-opening-stair: {under: 4 3/8, clause: A, status: published}"
	for _, part := range []string{"wide: 2 1/2\nhigh: 2 1/2\nsection: rectangular", "wide: 2 1/2\nhigh: 2 1/2", "wide: 2 1/2\nhigh: 2 1/2\nsection: round", "wide: 2\nhigh: 2\ngirth: 7\nacross: 2 1/2"} {
		r, _ := flight(t, nil, map[string]string{"rules/irc-2021.md": set, "parts/bare.md": "kind: handrail\n" + part})
		for _, m := range r.Measures {
			if strings.HasPrefix(m.Limit, "grip-") || strings.HasPrefix(m.Limit, "recess-") {
				t.Errorf("%s: judged by %s", part, m.Limit)
			}
		}
		for _, m := range r.Missing {
			if strings.Contains(m.Why, "closes round") {
				t.Errorf("%s: asks for %s", part, m.What)
			}
		}
		n := 0
		for _, f := range r.Findings {
			if strings.Contains(f.ID, "/grip/") {
				n++
				if f.Verdict != finding.AskAuthority {
					t.Errorf("%s: %v", part, f.Verdict)
				}
			}
		}
		if n != 1 {
			t.Errorf("%s: %d findings", part, n)
		}
	}
}

// TestNoCountBySlip: a reading that fails by itself is what the missing count is laid to, and not the baluster.
func TestNoCountBySlip(t *testing.T) {
	r := one(t, jobHead, "from: a\nto: b\nclear: {floor: 60, rail: 70}")
	clears, count := findingOf(r, "clears"), findingOf(r, "any-count")
	if clears == nil || count == nil {
		t.Fatalf("clears %+v, count %+v", clears, count)
	}
	if count.At != clears.At || strings.Contains(count.Cure, "another baluster") {
		t.Errorf("at %v, cure %q", count.At, count.Cure)
	}
}
