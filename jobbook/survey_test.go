package jobbook_test

import (
	"strings"
	"testing"

	"balustrade/jobbook/finding"
)

// TestFootholds: the code of Canada (NBC 9.8.8, published) wants nothing between 140 and 900 mm that helps a climb: of the new guard the tops of shoe and handrail, of the old one whatever the survey lists. One millimetre
// under, on and over either bound. Australia's bounds are recalled, and never pass.
func TestFootholds(t *testing.T) {
	verdicts := func(set, shoe, height, climb string) map[string]finding.Verdict {
		p := guarded(t, map[string]string{
			"job.md":         "kind: job\nunits: mm\nrules: " + set + "\ndrop: 2000\nheight: " + height + "\nbaluster: stick\nhandrail: rail\nshoe: shoe\nfillet: none\nposts: {a: {newel: post, foot: plate}, b: {newel: post, foot: plate}}",
			"runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 2400, rail: 2400}",
			"parts/shoe.md":  "kind: shoe\nunits: mm\nwide: 60\nhigh: " + shoe,
			"survey/old.md":  "kind: survey\nunits: mm\nheight: 1000\ndrop: 2000\nclimb: [{what: a rail across, at: " + climb + "}]",
		})
		of := map[string]finding.Verdict{}
		for _, f := range p.Findings {
			if strings.Contains(f.ID, "foothold") {
				of[f.Group+" "+f.ID[strings.LastIndex(f.ID, "/")+1:]] = f.Verdict
			}
		}
		return of
	}
	for _, c := range []struct {
		shoe, height, climb string
		low, high, old      finding.Verdict
	}{
		{"139", "1100", "139", finding.Pass, finding.Pass, finding.Pass},
		{"140", "900", "140", finding.Pass, finding.Pass, finding.Pass},
		{"141", "899", "141", finding.Fail, finding.Fail, finding.Fail},
		{"40", "901", "899", finding.Pass, finding.Pass, finding.Fail},
		{"40", "901", "900", finding.Pass, finding.Pass, finding.Pass},
	} {
		got := verdicts("canada-nbc", c.shoe, c.height, c.climb)
		old := max(got["survey/old foothold-low"], got["survey/old foothold-high"])
		if got["run/hall foothold-low"] != c.low || got["run/hall foothold-high"] != c.high || old != c.old {
			t.Errorf("shoe %s, rail %s, rail across %s: %v", c.shoe, c.height, c.climb, got)
		}
	}
	for name, v := range verdicts("australia-ncc-2022", "40", "1100", "40") {
		if v != finding.AskAuthority {
			t.Errorf("%s is %v by a recalled limit", name, v)
		}
	}
	if got := verdicts("england-adk-2013", "40", "1100", "40"); len(got) > 0 {
		t.Errorf("a code without heights judges %v", got)
	}
}

// TestLeaves: a shoe of 2 1/2 covers a strip of 1 3/4 that lies 3/8 off its middle exactly: 7/8 + 3/8 = 1 1/4 (by hand); a sixteenth more shows. A newel of 3 1/2 over a footprint of 3, half an inch off: 1 1/2 + 1/2 - 1 3/4 = 1/4 shows.
func TestLeaves(t *testing.T) {
	p := guarded(t, map[string]string{
		"job.md":        "kind: job\nrules: irc-2021\ndrop: 100\nheight: 36\nbaluster: stick\nhandrail: rail\nshoe: shoe\nfillet: none\nposts: {a: {newel: post, foot: plate}, b: {newel: post, foot: plate}}",
		"parts/shoe.md": "kind: shoe\nwide: 2 1/2\nhigh: 1 1/4",
		"survey/old.md": "kind: survey\nleaves:\n  - {what: strip, run: hall, wide: 1 3/4, shift: 3/8}\n  - {what: strip, run: hall, wide: 1 3/4, shift: 7/16}\n  - {what: footprint, post: a, wide: 3, shift: 1/2}\n  - {what: scar on the wall, wide: 2}\n  - {what: strip, run: hall, wide: 1 3/4}",
	})
	list := p.Layout.Leaves
	if len(list) != 5 {
		t.Fatalf("%+v", list)
	}
	for i, want := range []bool{true, false, false, false, false} {
		if list[i].Covered() != want {
			t.Errorf("mark %d is covered: %v", i+1, !want)
		}
	}
	about(t, "the strip", list[0].Shows, 0, 0)
	about(t, "a sixteenth on", list[1].Shows, 1.0/16, 0)
	about(t, "footprint", list[2].Shows, 1.0/4, 0)
	if list[3].Shows != nil || list[3].By != "" || list[4].Shows != nil || list[4].Open == "" {
		t.Errorf("%+v %+v", list[3], list[4])
	}
	asked := false
	for _, m := range p.Missing {
		asked = asked || strings.Contains(m.What, "how far its middle lies")
	}
	if !asked {
		t.Error("nobody asks for the shift")
	}
}
