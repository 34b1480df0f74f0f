package jobbook_test

import (
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
)

// TestWaist: a turning of 1 1/4 with a waist of 7/8. By hand: 12 in the 53 5/8 clear stand (53 5/8 + 1 1/4)/13 = 4.2212 apart, gaps at the waist 3.3462 and, with 1/8 of tolerances, 3.471 and the rounding of two marks; 11 stand 54.875/12 = 4.5729 apart, 3.6979 at the waist,
// 3.823 with the tolerances and up to 3 7/8 with the marks. What came 1 3/16 wide brings 11 to 54.8125/12 = 4.5677, so that a waist of 7/8 that nobody gauged would save one. With nobody's gauge no count goes down and nothing passes; with a waist of 7/8 gauged the count is what it
// comes to, and it passes; a waist gauged 1/8 thinner may not lessen the count.
func TestWaist(t *testing.T) {
	count := func(items string) (n int, v finding.Verdict, asked bool) {
		files := narrowJob("", items)
		files["job.md"] = strings.Replace(files["job.md"], "baluster: square-1-1-4", "baluster: turned-slim-vase", 1)
		files["runs/1-hall.md"] = "kind: run\nfrom: a\nto: b\nclear: {floor: 53 5/8, rail: 53 5/8}"
		if items == "" {
			delete(files, "deliveries/1-yard.md")
		}
		p := planOf(t, folder(t, files))
		for _, m := range p.Missing {
			asked = asked || strings.Contains(m.Where, "waist: ") && m.At.File != "" && m.At.Line > 0
		}
		c := p.Layout.Runs[0].Chosen
		if c == nil {
			t.Fatal(items, p.Missing)
		}
		return c.Count, c.Verdict(), asked
	}
	planned, v, asked := count("")
	if v != finding.Pass || asked {
		t.Fatalf("as planned: %d %v %v", planned, v, asked)
	}
	came, v, asked := count("[{part: turned-slim-vase, count: 40, wide: 1 3/16, narrowest: 1 5/32}]")
	if came < planned || v != finding.ToBeMeasured || !asked {
		t.Errorf("nobody gauged: %d of %d, %v, asked %v", came, planned, v, asked)
	}
	if n, v, asked := count("[{part: turned-slim-vase, count: 40, wide: 1 3/16, narrowest: 1 5/32, waist: 7/8}]"); n > planned || v != finding.Pass || asked {
		t.Errorf("gauged: %d %v %v", n, v, asked)
	}
	if n, v, asked := count("[{part: turned-slim-vase, count: 40, wide: 1 3/16, narrowest: 1 5/32, waist: 3/4}]"); n < planned || v != finding.Pass || asked {
		t.Errorf("gauged thinner: %d %v %v", n, v, asked)
	}
	if n, v, asked := count("[{part: turned-slim-vase, count: 20, wide: 1 3/16, waist: 7/8}, {part: turned-slim-vase, count: 20, wide: 1 7/32}]"); n < planned || v != finding.ToBeMeasured || !asked { // one bundle gauged, the other not
		t.Errorf("one bundle: %d %v %v", n, v, asked)
	}
	if n, v, asked := count("[{part: turned-slim-vase, count: 40, wide: 1 1/4, narrowest: 1 7/32}]"); n != planned || v != finding.Pass || asked { // as wide as the file has it: nothing to ask
		t.Errorf("as wide as planned: %d %v %v", n, v, asked)
	}
}

// TestLeastFillsPlow: what the page says may be used stands in its plow with no more than the play that passes: 1 1/4 less 1/8 is 1 1/8.
func TestLeastFillsPlow(t *testing.T) {
	p := planOf(t, folder(t, narrowJob("", "[{part: square-1-1-4, count: 40, wide: 1 1/4, narrowest: 1}]")))
	if len(p.Narrow) != 1 || p.Narrow[0].Least != 9*length.Inch/8 || !p.Narrow[0].Stays {
		t.Errorf("%+v", p.Narrow)
	}
	again := planOf(t, folder(t, narrowJob("", "[{part: square-1-1-4, count: 40, back: 1, wide: 1 1/4, narrowest: 1 1/8}]")))
	for _, f := range again.Findings {
		if strings.HasPrefix(f.ID, "check/delivery/") && f.Verdict == finding.Fail {
			t.Errorf("set aside, and a new fail: %+v", f)
		}
	}
}
