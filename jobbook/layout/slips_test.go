package layout_test

import (
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
)

func findingOf(r *layout.Run, id string) *finding.Finding {
	for i := range r.Findings {
		if r.Findings[i].ID == "check/"+r.ID+"/"+id {
			return &r.Findings[i]
		}
	}
	return nil
}

func asks(r *layout.Run, words string) bool {
	for _, m := range r.Missing {
		if strings.Contains(m.What, words) {
			return true
		}
	}
	return false
}

// TestSlips has readings that cannot be right, or that leave something open: each is a failing check or a question, never a number to cut by.
func TestSlips(t *testing.T) {
	t.Run("a clear ten inches off", func(t *testing.T) {
		r := one(t, jobHead, "from: a\nto: {at: b, plumb: {at: 36, away: 1/8}}\nclear: {floor: 96, rail: 86}")
		if f := findingOf(r, "clears"); f == nil || f.Verdict != finding.Fail {
			t.Errorf("%+v", f)
		}
		for _, c := range r.Fillets {
			if c.Length <= 0 && !c.ToFit {
				t.Errorf("a fillet of %v", c.Length)
			}
		}
	})
	t.Run("an inch apart is still a post out of plumb", func(t *testing.T) {
		r := one(t, jobHead, "from: a\nto: b\nclear: {floor: 96, rail: 97}")
		if f := findingOf(r, "clears"); f != nil {
			t.Errorf("%+v", f)
		}
		r = one(t, jobHead, "from: a\nto: b\nclear: {floor: 96, rail: 97 1/16}")
		if f := findingOf(r, "clears"); f == nil {
			t.Error("more than an inch is taken")
		}
	})
	t.Run("one plumb reading leaves lean to the other end", func(t *testing.T) {
		r := one(t, jobHead, "from: a\nto: {at: b, plumb: {at: 36, away: 1/8}}\nclear: {floor: 96, rail: 96 1/2}")
		if !asks(r, "a level on the face at the other end (from)") {
			t.Errorf("%+v", r.Missing)
		}
		r = one(t, jobHead, "from: a\nto: {at: b, plumb: {at: 36, away: 1/8}}\nclear: {floor: 96, rail: 96 1/8}")
		if asks(r, "a level on the face") || r.Lean.FromRail != 0 {
			t.Errorf("%+v %v", r.Missing, r.Lean.FromRail)
		}
	})
	levels := func(t *testing.T, text string) *layout.Run {
		return one(t, jobHead, "from: a\nto: b\nclear: {floor: 96, rail: 96}\nlevel: "+text)
	}
	t.Run("a level reading beyond the run", func(t *testing.T) {
		if f := findingOf(levels(t, "[{at: 0, down: 40}, {at: 960, down: 40}]"), "level-inside"); f == nil || f.Verdict != finding.Fail {
			t.Errorf("%+v", f)
		}
	})
	t.Run("two level readings at one place", func(t *testing.T) {
		if f := findingOf(levels(t, "[{at: 0, down: 40}, {at: 48, down: 40}, {at: 48, down: 40 1/2}, {at: 96, down: 40}]"), "level-twice"); f == nil || f.Verdict != finding.Fail {
			t.Errorf("%+v", f)
		}
	})
	t.Run("level readings that stop halfway", func(t *testing.T) {
		if !asks(levels(t, "[{at: 0, down: 40}, {at: 48, down: 40}]"), "at both ends") {
			t.Error("nobody asks for the other end")
		}
		if asks(levels(t, "[{at: 0, down: 40}, {at: 94, down: 40}]"), "at both ends") {
			t.Error("two inches from the end is the end")
		}
	})
	t.Run("a rail above the newel's block", func(t *testing.T) {
		// A block from 30 to 40; the rail's top at 40 is on it, at 40 1/16 above it; its underside at 30 - 2 3/8 is on the turning.
		for height, want := range map[string]string{"40": "", "40 1/16": "block", "32": "block-under"} {
			_, l := lay(t, map[string]string{
				"job.md":          strings.Replace(strings.Replace(jobHead, "height: 38", "height: "+height, 1), "b: {newel: post}", "b: {newel: turned}", 1),
				"runs/1-r.md":     "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}",
				"parts/turned.md": "kind: newel\nprofile: [{at: 0, square: 3 1/2}, {at: 10, square: 3 1/2}, {at: 10, round: 3}, {at: 30, round: 3}, {at: 30, square: 3 1/2}, {at: 40, square: 3 1/2}, {at: 40, round: 2}, {at: 44, round: 2}]",
			})
			for _, id := range []string{"block", "block-under"} {
				var f *finding.Finding
				for i := range l.Posts[1].Findings {
					if l.Posts[1].Findings[i].ID == "check/post/b/"+id {
						f = &l.Posts[1].Findings[i]
					}
				}
				if failed := f != nil && f.Verdict == finding.Fail; failed != (id == want) {
					t.Errorf("height %s: %s is %+v", height, id, f)
				}
			}
		}
	})
	t.Run("a post let in, nobody says how deep", func(t *testing.T) {
		r := one(t, strings.Replace(jobHead, "b: {newel: post}", "b: {newel: post, foot: let in}", 1), "from: a\nto: b\nclear: {floor: 96, rail: 96}")
		if !asks(r, "how far the foot of b goes below the floor") || !r.To.Known { // a square post is the same at any depth
			t.Errorf("%+v, known %v", r.Missing, r.To.Known)
		}
	})
	t.Run("rails that meet at different heights", func(t *testing.T) {
		second := func(height string) *layout.Run {
			_, l := lay(t, map[string]string{
				"job.md":      jobHead,
				"runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}\nlevel: [{at: 0, down: 40}, {at: 96, down: 40 1/4}]",
				"runs/2-s.md": "kind: run\nfrom: b\nto: wall\nclear: {floor: 60, rail: 60}\nheight: " + height,
			})
			return l.Runs[1]
		}
		// The first rail is 38 over its datum, and 38 1/4 over the floor at b, which lies 1/4 lower.
		if !asks(second("38"), "one height for the rails that meet at b: it is 38 1/4 in") {
			t.Error("nobody asks")
		}
		if asks(second("38 1/4"), "one height") {
			t.Error("they meet")
		}
		// The lower of the two is to come up by the difference, 1/4 and 3/4, whichever run it is of.
		for height, want := range map[string]string{
			"38":                     "; height: 38 1/4 in in runs/2-s.md brings the lower to the other",
			"39":                     "; height: 38 3/4 in in runs/1-r.md brings the lower to the other",
			"{top: 38, at: highest}": "; height: {top: 38 1/4 in, at: highest} in runs/2-s.md brings the lower to the other",
		} {
			if r := second(height); !asks(r, want) {
				t.Errorf("%s: nobody says %q: %+v", height, want, r.Missing)
			}
		}
		for _, height := range []string{"38 1/4 in", "{top: 38 1/4 in, at: highest}"} {
			if asks(second(height), "one height") {
				t.Errorf("%s, as it was said, and they do not meet", height)
			}
		}
	})
	t.Run("two runs of one title", func(t *testing.T) {
		_, l := lay(t, map[string]string{"job.md": jobHead, "runs/1-r.md": "kind: run\ntitle: Hall", "runs/2-s.md": "kind: run\ntitle: Hall"})
		if l.Runs[0].Title != "Hall (r)" || l.Runs[1].Title != "Hall (s)" {
			t.Errorf("%q and %q", l.Runs[0].Title, l.Runs[1].Title)
		}
	})
	t.Run("lean goes on above the highest reading", func(t *testing.T) {
		// 3/4 in 18 is 1.48 at 35 5/8, the rail's underside: a ball up there passes at over 5, not at what 18 shows.
		r := one(t, jobHead, "from: wall\nto: wall\ncount: 12\nclear: [{at: 0, read: 60}, {at: 18, read: 60 3/4}]")
		plumb := one(t, jobHead, "from: wall\nto: wall\ncount: 12\nclear: [{at: 0, read: 60}, {at: 18, read: 60}]")
		if d := r.Openings[0].Worst - plumb.Openings[0].Worst; d < inches(t, "1.3") {
			t.Errorf("only %s wider", tape(d))
		}
	})
	t.Run("plumb readings that contradict", func(t *testing.T) {
		// The wall at the datum was read 1/2 away at the rail; the other end's reading would leave it 1/8. The worse is judged.
		ends := func(from string) *layout.Run {
			return one(t, jobHead, "from: {at: wall"+from+"}\nto: {at: wall, plumb: {at: 36 13/16, in: 1/8}}\ncount: 18\nclear: {floor: 90, rail: 90}")
		}
		alone, both := ends(""), ends(", plumb: {at: 36 13/16, away: 1/2}")
		if findingOf(both, "plumb-readings") == nil || findingOf(both, "plumb-readings").Verdict != finding.Fail {
			t.Error("nobody says that they contradict")
		}
		if d := both.Openings[0].Worst - alone.Openings[0].Worst; d < inches(t, "5/16") {
			t.Errorf("the reading at the datum end counts for %s", tape(d))
		}
		if tape(both.Lean.FromRail) != "1/2" {
			t.Errorf("the datum end leans %s", tape(both.Lean.FromRail))
		}
	})
	t.Run("trim stands on the floor as it is now", func(t *testing.T) {
		// A baseboard of 5 with a finished floor of 1 to come shows 4: the same as one of 4 on a floor that stays.
		head := jobHead + "\ntolerance: {mark: 0, drill: 0, width: 0, season: 0}"
		low := one(t, head, "from: {at: wall, thick: 5/8, high: 4}\nto: wall\nclear: {floor: 30, rail: 30}")
		raised := one(t, head+"\nfloor-to-come: {what: boards, thick: 1}", "from: {at: wall, thick: 5/8, high: 5}\nto: wall\nclear: {floor: 30, rail: 30}\nstands-on: finished")
		if low.From.High != raised.From.High || tape(low.From.High) != "4" {
			t.Errorf("%s and %s", tape(low.From.High), tape(raised.From.High))
		}
	})
	t.Run("no count passes", func(t *testing.T) {
		r := one(t, jobHead+"\ntolerance: {mark: 1/16}", "from: a\nto: b\nclear: {floor: 60, rail: 60}\nmost: 1/16")
		if f := findingOf(r, "any-count"); f == nil || f.Verdict != finding.Fail || f.At.File != "runs/1-r.md" {
			t.Errorf("%+v", f)
		}
		for _, m := range r.Measures {
			if m.Limit == "guard-opening" {
				t.Error("an opening is still to be measured, and nothing is missing")
			}
		}
	})
	t.Run("a level reading four inches off", func(t *testing.T) {
		if f := findingOf(levels(t, "[{at: 0, down: 40}, {at: 48, down: 44 1/4}, {at: 96, down: 40}]"), "level-slip"); f == nil || f.Verdict != finding.Fail {
			t.Errorf("%+v", f)
		}
	})
	t.Run("a fillet wider than the plow", func(t *testing.T) {
		_, l := lay(t, map[string]string{
			"job.md": strings.Replace(jobHead, "fillet: fillet", "fillet: wide", 1), "runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}",
			"parts/wide.md": "kind: fillet\nwide: 1 5/16\nthick: 5/16",
		})
		if f := findingOf(l.Runs[0], "fillet-shoe"); f == nil || f.Verdict != finding.Fail {
			t.Errorf("%+v", f)
		}
	})
	t.Run("floor to come adds to the drop", func(t *testing.T) {
		// 29 1/2 read from the boards is 30 1/4 from the carpet: over 30.
		r := one(t, strings.Replace(jobHead, "drop: 100", "drop: 29 1/2\nfloor-to-come: {what: carpet, thick: 3/4}", 1), "from: a\nto: b\nclear: {floor: 96, rail: 96}")
		for _, m := range r.Measures {
			if m.Limit == "guard-drop" && tape(m.Value) != "30 1/4" {
				t.Errorf("the drop is %s", tape(m.Value))
			}
		}
	})
	t.Run("a blank says so, and nothing is cut by it", func(t *testing.T) {
		run := "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}"
		for _, c := range []struct{ name, file, front, asks string }{
			{"a station", "parts/plain.md", "kind: baluster\nwide: 1 1/4\nprofile: [{at: 0, square: 1 1/4}, {at: 12, round: }, {at: 42, square: 1 1/4}]", "a station of the baluster's profile"},
			{"a pin", "parts/plain.md", "kind: baluster\nwide: 1 1/4\nlong: 42\nbottom: pin\npin: {wide: 3/4, long: }", "length of the baluster's pin"},
			{"the shoe's plow", "parts/shoe.md", "kind: shoe\nwide: 2 1/2\nhigh: 1 1/4\nplow: {wide: 1 1/4, deep: }", "depth of the plow in the shoe"},
			{"the rail's plow", "parts/rail.md", "kind: handrail\nwide: 2 5/8\nhigh: 2 3/8\nplow: {wide: 1 1/4, deep: }", "depth of the plow in the handrail"},
		} {
			t.Run(c.name, func(t *testing.T) {
				_, l := lay(t, map[string]string{"job.md": jobHead, "runs/1-r.md": run, c.file: c.front})
				if r := l.Runs[0]; !asks(r, c.asks) || len(r.Balusters) > 0 {
					t.Errorf("%+v, cut %+v", r.Missing, r.Balusters)
				}
			})
		}
	})
	t.Run("floor to come of no thickness", func(t *testing.T) {
		r := one(t, jobHead+"\nfloor-to-come: {what: , thick: }", "from: a\nto: b\nclear: {floor: 96, rail: 96}")
		if !asks(r, "how thick the floor to come is") {
			t.Errorf("%+v", r.Missing)
		}
	})
	t.Run("most: without rules still asks for the rules", func(t *testing.T) {
		r := one(t, strings.Replace(jobHead, "rules: irc", "rules: ", 1), "from: a\nto: b\nmost: 4\nclear: {floor: 96, rail: 96}")
		if !asks(r, "which rule set") || r.Chosen == nil {
			t.Errorf("%+v", r.Missing)
		}
	})
	t.Run("no pass at an end while heights are unknown", func(t *testing.T) {
		r := one(t, strings.Replace(jobHead, "height: 38", "height: ", 1), "from: a\nto: b\nclear: {floor: 96, rail: 96}")
		if r.Chosen.Verdict() == finding.Pass || r.Openings[0].Known || r.Openings[2].Known {
			t.Errorf("%v %+v", r.Chosen.Verdict(), r.Openings)
		}
	})
	t.Run("one level reading does not make a floor level", func(t *testing.T) {
		r := levels(t, "[{at: 0, down: 40}]")
		if !strings.Contains(r.Floor.Words, "do not reach") {
			t.Error(r.Floor.Words)
		}
		for _, m := range r.Measures {
			if m.Limit == "guard-height-level" && !strings.Contains(m.Note, "do not reach") {
				t.Error(m.Note)
			}
		}
	})
	t.Run("a tighter wish does not confirm a recalled limit", func(t *testing.T) {
		_, l := lay(t, map[string]string{
			"job.md":            strings.Replace(jobHead, "rules: irc", "rules: recalled", 1),
			"runs/1-r.md":       "kind: run\nfrom: a\nto: b\nmost: 3 3/4\nclear: {floor: 96, rail: 96}",
			"rules/recalled.md": "kind: rules\nlimits:\n  guard-opening: {under: 4, clause: X, status: memory}",
		})
		if got := l.Runs[0].Chosen.Verdict(); got != finding.AskAuthority {
			t.Errorf("%v", got)
		}
	})
	t.Run("trim that stays, and a rosette", func(t *testing.T) {
		// Clear 60 to the wall, a 9/16 baseboard stays, a 3/4 rosette: the shoe is 59 7/16, and a mark is 9/16 nearer its end and
		// 3/4 nearer the rail's (by hand).
		r := one(t, jobHead, "from: {at: wall, thick: 9/16, high: 5, rosette: plate}\nto: b\ncount: 10\nclear: {floor: 60, rail: 60}")
		m := r.Marks[3] // 21 5/8, as in TestMarks
		if tape(r.Shoe.Length) != "59 7/16" || tape(m.At) != "21 5/8" || tape(m.Shoe) != "21 1/16" || tape(m.Rail) != "20 7/8" {
			t.Errorf("shoe %s, mark %s, %s on the shoe, %s on the rail", tape(r.Shoe.Length), tape(m.At), tape(m.Shoe), tape(m.Rail))
		}
	})
	t.Run("the season counts", func(t *testing.T) {
		worst := func(season string) string {
			r := one(t, jobHead+"\ntolerance: {mark: 0, drill: 0, width: 0, season: "+season+"}", "from: a\nto: b\ncount: 18\nclear: {floor: 96, rail: 96}")
			return tape(r.Openings[1].Worst)
		}
		if worst("0") != "3 7/8" || worst("1/16") != "3 15/16" { // 5 1/8 apart at the most, less 1 1/4
			t.Errorf("%s and %s", worst("0"), worst("1/16"))
		}
	})
	t.Run("the baluster that stands at the end is judged there", func(t *testing.T) {
		// Waists of newel and baluster at one height, on a floor that falls and rises far along: at the datum end, where it is as on a
		// level floor, the opening cannot be smaller than there.
		files := map[string]string{
			"job.md":         strings.Replace(jobHead, "a: {newel: post}", "a: {newel: waist}", 1),
			"parts/waist.md": "kind: newel\nprofile: [{at: 0, square: 3 1/2}, {at: 12, square: 3 1/2}, {at: 12, round: 2}, {at: 14, round: 2}, {at: 14, square: 3 1/2}, {at: 48, square: 3 1/2}]",
			"parts/plain.md": "kind: baluster\ntrim: top\nprofile: [{at: 0, square: 1 1/4}, {at: 11 1/16, square: 1 1/4}, {at: 11 1/16, round: 1/2}, {at: 13 1/16, round: 1/2}, {at: 13 1/16, square: 1 1/4}, {at: 42, square: 1 1/4}]",
		}
		open := func(level string) *layout.Run {
			files["runs/1-r.md"] = "kind: run\nfrom: a\nto: b\ncount: 7\nfloor-out: lengths\nclear: {floor: 40, rail: 40}\nlevel: " + level
			_, l := lay(t, files)
			return l.Runs[0]
		}
		flat := open("[{at: 0, down: 40}, {at: 40, down: 40}]").Openings[0].Worst
		if got := open("[{at: 0, down: 40}, {at: 10, down: 40}, {at: 20, down: 38 1/2}, {at: 30, down: 41 1/2}, {at: 40, down: 40}]").Openings[0].Worst; got < flat {
			t.Errorf("%s at the datum end, %s on a level floor", tape(got), tape(flat))
		}
	})
}

// TestRosetteLeftBlank: a rosette that is still to be decided on is asked for, and the rail is not cut as if there were none.
func TestRosetteLeftBlank(t *testing.T) {
	for end, open := range map[string]bool{"{at: wall, rosette: }": true, "{at: wall, rosette: none}": false, "wall": false} {
		r := one(t, jobHead, "from: a\nto: "+end+"\nclear: {floor: 96, rail: 96}")
		for _, c := range r.Fillets {
			if c.What == "rail fillet" && c.ToFit != open && strings.Contains(c.Which, "the last") {
				t.Errorf("%s: %+v", end, c)
			}
		}
		if got := asks(r, "which rosette"); got != open || (r.Handrail == nil) != open {
			t.Errorf("%s: asked %v, handrail %+v", end, got, r.Handrail)
		}
	}
	if r := one(t, jobHead+"\nrosette: ", "from: a\nto: wall\nclear: {floor: 96, rail: 96}"); r.Handrail != nil || !asks(r, "which rosette") {
		t.Errorf("blank in the job: %+v, %+v", r.Handrail, r.Missing)
	}
}
