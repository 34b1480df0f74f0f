package layout_test

import (
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
)

// turnedHigh is the flight's head newel turned: square for 18, then 2 1/2 thick at half height, and square again where the rail meets it. Its rows lie 7 1/2 below the floor at the most.
func turnedHigh(deep string) map[string]string {
	return map[string]string{
		"job.md":          strings.Replace(flightHead, "high: {newel: post}", "high: {newel: turned, foot: bolted, rows: [2 1/2, 7 1/2]"+deep+"}", 1),
		"parts/turned.md": "kind: newel\nprofile: [{at: 0, square: 3 1/2}, {at: 18, square: 3 1/2}, {at: 18, round: 2 1/2}, {at: 36 1/2, round: 2 1/2}, {at: 36 1/2, square: 3 1/2}, {at: 52, square: 3 1/2}]",
	}
}

// TestTurnedOnADepthNotKnown: the flight's clears agree for square faces at both ends (51 5/8 along is 42 level, by hand). While nobody says how far down a turned newel goes, its profile stands nowhere: read as though it stood on the
// floor, its 2 1/2 would lie at the rail (35 up), stand back by 1/2, and look like a lean of 1/2.
func TestTurnedOnADepthNotKnown(t *testing.T) {
	missing := func(r *layout.Run, words string) bool {
		for _, m := range r.Missing {
			if strings.Contains(m.What, words) {
				return true
			}
		}
		return false
	}
	r, _ := flight(t, nil, turnedHigh(""))
	if r.Lean != nil || missing(r, "out of plumb") || missing(r, "a level on the face") {
		t.Errorf("a lean is made of a turning that has no place: %+v, %+v", r.Lean, r.Missing)
	}
	if !missing(r, "how far the foot of high goes below the floor") {
		t.Errorf("the one reading is not asked for: %+v", r.Missing)
	}
	for _, o := range r.Openings {
		if o.Part == "to" && o.Known {
			t.Errorf("the opening beside it is told as known: %+v", o)
		}
	}
	if r.Chosen == nil || r.Chosen.Verdict() != finding.ToBeMeasured || strings.Contains(r.Chosen.Where, "high") {
		t.Errorf("the count that is taken: %+v", r.Chosen)
	}
	for _, c := range r.Candidates {
		if strings.Contains(c.Where, "high") {
			t.Errorf("judged beside the newel: %+v", c)
		}
	}
	if r, _ := flight(t, nil, turnedHigh(", deep: 12")); r.Lean == nil || r.Lean.Out || missing(r, "how far the foot") { // the rail meets its block, 24 1/2 to 40 above the landing
		t.Errorf("with the depth written: %+v, %+v", r.Lean, r.Missing)
	}
}

// TestNoLengthOnADepthNotKnown: a newel whose foot goes down nobody knows how far is not "cut to" its length as bought: what comes off it waits for the depth.
func TestNoLengthOnADepthNotKnown(t *testing.T) {
	for _, deep := range []string{"", ", deep: 12"} {
		files := turnedHigh(deep)
		files["job.md"] = strings.Replace(files["job.md"], "rules: irc-2021", "rules: ", 1)
		files["settings.md"] = "kind: settings\nfit: 0"
		files["runs/1-r.md"] = "kind: run\nfrom: high\nto: wall\nclear: {floor: 60, rail: 60}\nheight: 38"
		files["parts/bare.md"] = "kind: handrail\nwide: 2 1/2\nhigh: 2 3/8"
		_, l := lay(t, files)
		for _, p := range l.Posts {
			if p.Name == "high" && (p.Cut != nil) != (deep != "") {
				t.Errorf("deep%q: %+v", deep, p.Cut)
			}
		}
	}
}
