package layout_test

import (
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// parts are plain parts that the cases below share; sizes invented.
var parts = map[string]string{
	"rules/irc.md":    "kind: rules\ntitle: IRC\nlimits:\n  guard-opening: {under: 4, clause: R312.1.3, status: published}\n  guard-height-level: {at-least: 36, clause: R312.1.2, status: published}\n  guard-drop: {over: 30, clause: R312.1.1, status: published}",
	"settings.md":     "kind: settings\ndivision: 1/16\ndivision-mm: 1 mm\nfit: 1/16\nscribe: 1/4\ntolerance: {mark: 0, drill: 0, width: 0, season: 0}",
	"parts/post.md":   "kind: newel\nwide: 3 1/2\nlong: 48",
	"parts/rail.md":   "kind: handrail\nwide: 2 5/8\nhigh: 2 3/8\nplow: {wide: 1 1/4, deep: 5/16}",
	"parts/shoe.md":   "kind: shoe\nwide: 2 1/2\nhigh: 1 1/4\nplow: {wide: 1 1/4, deep: 5/16}",
	"parts/fillet.md": "kind: fillet\nwide: 1 1/4\nthick: 5/16",
	"parts/plain.md":  "kind: baluster\nwide: 1 1/4\nlong: 42",
	"parts/plate.md":  "kind: rosette\nwide: 4\nthick: 3/4",
}

// lay decodes a job of one folder over the parts above, and lays it out. Every problem fails the test.
func lay(t *testing.T, files map[string]string) (*job.Job, layout.Layout) {
	t.Helper()
	j := jobtest.Decode(t, append(jobtest.Read(t, source.Library, "library/", parts), jobtest.Read(t, source.Job, "", files)...))
	l := layout.Lay(j)
	for _, wrong := range layout.LeftOutWrongly(j) {
		t.Error("left out: " + wrong)
	}
	return j, l
}

const jobHead = "kind: job\nrules: irc\ndrop: 100\nheight: 38\nposts: {a: {newel: post}, b: {newel: post}}\nbaluster: plain\nhandrail: rail\nshoe: shoe\nfillet: fillet"

func one(t *testing.T, head, run string) *layout.Run {
	t.Helper()
	_, l := lay(t, map[string]string{"job.md": head, "runs/1-r.md": "kind: run\n" + run})
	return l.Runs[0]
}

func inches(t *testing.T, text string) length.Length {
	t.Helper()
	l, err := length.Parse(text, length.Inches)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func tape(l length.Length) string {
	return length.Style{System: length.Inches, Division: length.Inch / 64, Rounding: length.Nearest}.Print(l)
}

// TestCount is the derived cases of the spacing formula g = (L - n·b)/(n + 1): the smallest n with every gap under the limit,
// with no tolerances. The numbers were worked by hand from the formula; 97.5 with 1 1/2 at 4 is the case where a gap of exactly 4
// must not pass, so that 18 are needed and not 17.
func TestCount(t *testing.T) {
	cases := []struct {
		name, clear, width string
		most               string // in place of the rules' 4, when given
		count              int
		gap                string // exact, in decimals of an inch to three places
	}{
		{"96 in", "96", "1 1/2", "", 17, "3.917"},                      // (96 - 25.5)/18
		{"120 in", "120", "1 1/4", "", 23, "3.802"},                    // (120 - 28.75)/24
		{"72 in", "72", "1 1/2", "", 13, "3.750"},                      // (72 - 19.5)/14
		{"41 1/2 in", "41 1/2", "1 3/4", "", 7, "3.656"},               // (41.5 - 12.25)/8
		{"exactly four fails", "97 1/2", "1 1/2", "", 18, "3.711"},     // 17 would leave (97.5 - 25.5)/18 = 4.000; 18: (97.5 - 27)/19
		{"a tighter limit", "97 1/2", "1 1/4", "3 15/16", 19, "3.688"}, // (97.5 - 23.75)/20 = 3.6875
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			run := "from: a\nto: b\nclear: {floor: " + c.clear + ", rail: " + c.clear + "}\nbaluster: own"
			if c.most != "" {
				run += "\nmost: " + c.most
			}
			_, l := lay(t, map[string]string{
				"job.md": jobHead + "\ndivision: 1/64", "runs/1-r.md": "kind: run\n" + run,
				"parts/own.md": "kind: baluster\nlong: 42\nwide: " + c.width,
			})
			r := l.Runs[0]
			if r.Chosen == nil {
				t.Fatalf("no count was chosen; missing %v", r.Missing)
			}
			if r.Chosen.Count != c.count {
				t.Errorf("count %d, want %d; %+v", r.Chosen.Count, c.count, r.Candidates)
			}
			s := length.Style{System: length.Inches, Division: length.Nanometre, Rounding: length.Nearest}
			if got := s.Decimal(r.Gap.Exact(length.Inches), 3); got != c.gap {
				t.Errorf("gap %s, want %s", got, c.gap)
			}
		})
	}
}

// TestBaseboard is the clear that was read from a baseboard: 17 balusters of 1 1/2 in 96 leave 3.917, and above a 5/8 baseboard the
// opening at the wall is 3.917 + 0.625 = 4.542, which fails (derived, by hand; marks to 1/64 move it by less than a hundredth).
func TestBaseboard(t *testing.T) {
	_, l := lay(t, map[string]string{
		"job.md":       jobHead + "\ndivision: 1/64",
		"runs/1-r.md":  "kind: run\nfrom: {at: wall, face: baseboard, thick: 5/8, high: 5}\nto: a\nclear: {floor: 96}\nbaluster: own\ncount: 17",
		"parts/own.md": "kind: baluster\nlong: 42\nwide: 1 1/2",
	})
	r := l.Runs[0]
	if got := r.Openings[0].Nominal; got < inches(t, "4.53") || got > inches(t, "4.5521") {
		t.Errorf("opening above the baseboard %s, want about 4.542", got)
	}
	if r.Chosen.Passes {
		t.Error("17 pass, though the opening at the wall is over 4")
	}
	if r.Least <= 17 {
		t.Errorf("least count %d, want more than 17", r.Least)
	}
}

// TestMarks has the rounded marks of 10 balusters of 1 1/4 in 60 to the sixteenth, worked by hand: mark k = k·61.25/11 - 0.625.
func TestMarks(t *testing.T) {
	r := one(t, jobHead, "from: a\nto: b\nclear: {floor: 60, rail: 60}\ncount: 10")
	want := []string{"4 15/16", "10 1/2", "16 1/16", "21 5/8", "27 3/16", "32 13/16", "38 3/8", "43 15/16", "49 1/2", "55 1/16"}
	for i, m := range r.Marks {
		if got := tape(m.At); got != want[i] {
			t.Errorf("mark %d at %s, want %s", m.K, got, want[i])
		}
	}
	if len(r.Marks) != 10 {
		t.Errorf("%d marks", len(r.Marks))
	}
}

// TestCuts works the lengths of one run by hand: rail 96 1/8 less a 3/4 rosette; shoe as the clear; a baluster
// 38 - 2 3/8 + 5/16 - 1 1/4 + 5/16 - 1/16 = 34 15/16.
func TestCuts(t *testing.T) {
	r := one(t, jobHead, "from: {at: wall, rosette: plate}\nto: a\nclear: {floor: 96, rail: 96 1/8}")
	if got := tape(r.Handrail.Length); got != "95 3/8" {
		t.Errorf("handrail %s", got)
	}
	if got := tape(r.Shoe.Length); got != "96" {
		t.Errorf("shoe %s", got)
	}
	if len(r.Balusters) != 1 || tape(r.Balusters[0].Length) != "34 15/16" {
		t.Errorf("balusters %+v", r.Balusters)
	}
	if r.Lean == nil || !r.Lean.Out || r.Lean.Settled {
		t.Errorf("lean %+v", r.Lean)
	}
}

// TestFloor has a floor that rises 3/16 to the middle: a rail at 36 from the datum end is 35 13/16 there, by hand.
func TestFloor(t *testing.T) {
	r := one(t, strings.Replace(jobHead, "height: 38", "height: 36", 1), "from: a\nto: b\nclear: {floor: 96, rail: 96}\nlevel: [{at: 0, down: 40}, {at: 48, down: 39 13/16}, {at: 96, down: 39 15/16}]")
	if got := tape(r.Levels.Finished); got != "35 13/16" {
		t.Errorf("height above the highest point %s", got)
	}
	if r.Floor.How != "scribe" {
		t.Errorf("floor %+v", r.Floor)
	}
	for _, m := range r.Measures {
		if m.Limit == "guard-height-level" && finding.AtLeast.Holds(m.Value, 36*length.Inch) {
			t.Error("passes at 36")
		}
	}
}

// TestFloorBothHeights prints both heights where carpet is to come: set at 37 above the bare boards with 7/8 of carpet and pad to
// come, the guard will stand 36 1/8 above the finished floor (by hand).
func TestFloorBothHeights(t *testing.T) {
	r := one(t, strings.Replace(jobHead, "height: 38", "height: {top: 37, above: bare}\nfloor-to-come: {what: carpet and pad, thick: 7/8}", 1), "from: a\nto: b\nclear: {floor: 96, rail: 96}")
	if got := tape(r.Levels.Finished); got != "36 1/8" {
		t.Errorf("above the finished floor %s", got)
	}
	if got := tape(r.Levels.Bare); got != "37" {
		t.Errorf("above the bare floor %s", got)
	}
	// The shoe is on the boards: 37 - 2 3/8 + 5/16 - 1 1/4 + 5/16 - 1/16 = 33 15/16.
	if got := tape(r.Balusters[0].Length); got != "33 15/16" {
		t.Errorf("baluster %s", got)
	}
}

// TestFloorLengths has a floor that rises 1/2 along the run, more than the shop scribes: each baluster gets its own length. The
// first stands at 4 1/2 of 96, where the floor is 4.5/96 · 1/2 = 0.0234 up: 34 15/16 less that, down to the sixteenth, is 34 7/8.
func TestFloorLengths(t *testing.T) {
	r := one(t, jobHead, "from: a\nto: b\nclear: {floor: 96, rail: 96}\nlevel: [{at: 0, down: 40}, {at: 96, down: 39 1/2}]")
	if r.Floor.How != "lengths" || len(r.Balusters) < 8 {
		t.Fatalf("floor %+v, balusters %+v", r.Floor, r.Balusters)
	}
	if first := r.Balusters[0]; tape(first.Length) != "34 7/8" || !strings.HasPrefix(first.Which, "1") {
		t.Errorf("first baluster %s (%s)", tape(first.Length), first.Which)
	}
	total := 0
	for _, c := range r.Balusters {
		total += c.Count
	}
	if total != r.Chosen.Count {
		t.Errorf("%d lengths for %d balusters", total, r.Chosen.Count)
	}
}

// TestCentred: spacing 5 in 61, 1 1/4 wide. Eleven stand at 61/2 ± 25: the first at 5 1/2, its gap to the face 4 7/8; twelve from
// 61/2 - 27.5 = 3, gap 2 3/8 (by hand). Openings between are 3 3/4.
func TestCentred(t *testing.T) {
	run := "from: a\nto: b\nclear: {floor: 61, rail: 61}\npattern: centred\nspacing: 5"
	r := one(t, jobHead, run)
	if r.Chosen.Count != 12 || tape(r.Marks[0].At) != "3" || tape(r.Marks[11].At) != "58" {
		t.Errorf("%d balusters from %s", r.Chosen.Count, tape(r.Marks[0].At))
	}
	r = one(t, jobHead, run+"\ncentre: baluster")
	if r.Chosen != nil { // 11 leave 4 7/8 at the ends, 13 have no room
		t.Errorf("a baluster in the middle was laid out with %d", r.Chosen.Count)
	}
	if len(r.Findings) == 0 || r.Findings[0].Verdict != finding.Fail {
		t.Errorf("no finding says that no count passes: %+v", r.Findings)
	}
}

// TestMatch: alone, 96 takes 18 (gap 3.868) and 41 takes 8 (gap (41 - 10)/9 = 3.444); of the counts up to two more, 96 with 20 has
// (96 - 25)/21 = 3.381 and 19 has 3.6125: 20 and 8 differ least, by 0.063 (by hand).
func TestMatch(t *testing.T) {
	_, l := lay(t, map[string]string{
		"job.md":      jobHead,
		"runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}\nmatch: landing",
		"runs/2-s.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 41, rail: 41}\nmatch: landing",
	})
	if l.Runs[0].Chosen.Count != 20 || l.Runs[1].Chosen.Count != 8 {
		t.Errorf("counts %d and %d", l.Runs[0].Chosen.Count, l.Runs[1].Chosen.Count)
	}
}

// TestLean: floor 96, rail 96 1/4. With a plumb reading that has the post a leaning 1/8 away at 36 3/4, b has the other 1/8 there. The
// rail's middle is at 38 - 1 3/16 = 36 13/16: a has 1/8 · 36.8125/36.75, which to the 64th is 1/8.
func TestLean(t *testing.T) {
	run := "to: b\nclear: {floor: 96, rail: 96 1/4}\n"
	t.Run("settled", func(t *testing.T) {
		r := one(t, jobHead, run+"from: {at: a, plumb: {at: 36 3/4, away: 1/8}}")
		if !r.Lean.Settled || tape(r.Lean.FromRail) != "1/8" || tape(r.Lean.ToRail) != "1/8" {
			t.Errorf("%+v", r.Lean)
		}
		if got := tape(r.Marks[0].Rail - r.Marks[0].At); got != "1/8" {
			t.Errorf("rail mark %s beyond the shoe mark", got)
		}
	})
	t.Run("not settled", func(t *testing.T) {
		plumb := one(t, jobHead, "from: a\nto: b\ncount: 18\nclear: {floor: 96, rail: 96}")
		r := one(t, jobHead, run+"from: a\ncount: 18")
		if r.Lean.Settled || !r.Lean.Out || !strings.Contains(r.Lean.Words, "1/4 in wider") {
			t.Errorf("%+v", r.Lean)
		}
		// The whole quarter is charged to each end at the rail; under it, where a ball can stick, a little less.
		for _, i := range []int{0, 2} {
			if d := r.Openings[i].Worst - plumb.Openings[i].Worst; d < inches(t, "0.2") || d > inches(t, "0.25") {
				t.Errorf("%s: %s wider", r.Openings[i].Where, tape(d))
			}
		}
		if r.Openings[1].Worst != plumb.Openings[1].Worst {
			t.Error("lean moved a baluster")
		}
	})
	t.Run("narrower going up", func(t *testing.T) {
		plumb := one(t, jobHead, "from: a\nto: b\ncount: 18\nclear: {floor: 96, rail: 96}")
		r := one(t, jobHead, "from: a\nto: b\ncount: 18\nclear: {floor: 96, rail: 95 3/4}")
		if r.Openings[0].Worst != plumb.Openings[0].Worst {
			t.Error("ends that lean in were not judged at the floor, where the gap is widest")
		}
	})
}

// TestHalfFilled has jobs with something missing: each names the reading and lays out as far as it can.
func TestHalfFilled(t *testing.T) {
	cases := []struct{ name, head, run, missing string }{
		{"no clear", jobHead, "from: a\nto: b\nclear: ", "clear length at the floor"},
		{"no rail clear", jobHead, "from: a\nto: b\nclear: 96", "clear length at the height of the handrail"},
		{"no baluster", "kind: job\nrules: irc", "from: wall\nto: wall\nclear: 96", "which baluster"},
		{"no rules", strings.Replace(jobHead, "rules: irc", "rules: ", 1), "from: a\nto: b\nclear: 96", "which rule set"},
		{"no end", jobHead, "to: b\nclear: 96", "what the run ends at (from)"},
		{"no height", strings.Replace(jobHead, "height: 38", "height: ", 1), "from: a\nto: b\nclear: 96", "top of the handrail"},
		{"no drop", strings.Replace(jobHead, "drop: 100", "drop: ", 1), "from: a\nto: b\nclear: 96", "drop from the walking surface"},
		{"baseboard of no size", jobHead, "from: baseboard\nto: b\nclear: 96", "thickness and height of the baseboard"},
		{"blank level reading", jobHead, "from: a\nto: b\nclear: 96\nlevel: [{at: 0, down: 40}, {at: 90, down: }]", "a level reading"},
		{"nothing", "kind: job", "title: Nothing yet", "clear length at the floor"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := one(t, c.head, c.run)
			for _, m := range r.Missing {
				if strings.HasPrefix(m.What, c.missing) {
					return
				}
			}
			t.Errorf("%q is not among %+v", c.missing, r.Missing)
		})
	}
}

// TestNoPassFromMemory: a count inside a limit that was only recalled, or beside an end whose shape is not known, is no pass.
func TestNoPassFromMemory(t *testing.T) {
	run := "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}"
	t.Run("limit from memory", func(t *testing.T) {
		_, l := lay(t, map[string]string{
			"job.md": strings.Replace(jobHead, "rules: irc", "rules: recalled", 1), "runs/1-r.md": run,
			"rules/recalled.md": "kind: rules\nlimits:\n  guard-opening: {under: 4, clause: X, status: memory}",
		})
		if got := l.Runs[0].Chosen.Verdict(); got != finding.AskAuthority {
			t.Errorf("%v", got)
		}
	})
	t.Run("newel not chosen", func(t *testing.T) {
		_, l := lay(t, map[string]string{"job.md": strings.Replace(jobHead, "b: {newel: post}", "b: {newel: }", 1), "runs/1-r.md": run})
		if got := l.Runs[0].Chosen.Verdict(); got != finding.ToBeMeasured {
			t.Errorf("%v", got)
		}
	})
	t.Run("all known", func(t *testing.T) {
		_, l := lay(t, map[string]string{"job.md": jobHead, "runs/1-r.md": run})
		if got := l.Runs[0].Chosen.Verdict(); got != finding.Pass {
			t.Errorf("%v", got)
		}
	})
}

// TestOverAtTheDatum: a rail that goes on over a post of 3 1/2 begins 1 3/4 before its face, or with a fitting of 3/4 an inch before it, so
// that every mark lies so much farther from the rail's end. By hand: 17 balusters of 1 1/4 in 90 stand at 91.25/18 - 5/8, 4 7/16 by the
// tape. A fitting that is left blank is asked for, and nothing is cut until it is known.
func TestOverAtTheDatum(t *testing.T) {
	at := func(end string) *layout.Run {
		return one(t, jobHead, "from: {at: a, "+end+"}\nto: b\ncount: 17\nclear: {floor: 90, rail: 90}")
	}
	for end, want := range map[string]string{"face: post": "4 7/16", "over: yes": "6 3/16", "over: yes, fitting: 3/4": "5 7/16"} {
		r := at(end)
		if len(r.Marks) == 0 || r.Marks[0].Plumbed || r.Handrail == nil {
			t.Fatalf("%s: %+v", end, r.Marks)
		}
		if m := r.Marks[0]; tape(m.Rail) != want || tape(m.At) != "4 7/16" {
			t.Errorf("%s: the first mark is %s from the rail's end and %s from the datum, want %s and 4 7/16", end, tape(m.Rail), tape(m.At), want)
		}
	}
	r := at("over: yes, fitting: ")
	if r.Handrail != nil || !r.Marks[0].Plumbed || !asks(r, "joint with the fitting") {
		t.Errorf("a blank fitting: %+v, %+v", r.Handrail, r.Missing)
	}
}

// TestWidthAtTheFloor: a newel let in 3 is as wide where the clear is read to it as it is 3 up, not as its tip is.
func TestWidthAtTheFloor(t *testing.T) {
	head := strings.Replace(jobHead, "a: {newel: post}", "a: {newel: tip, foot: let in, deep: 3}", 1)
	_, l := lay(t, map[string]string{"job.md": head, "runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 60, rail: 60}",
		"parts/tip.md": "kind: newel\nprofile: [{at: 0, round: 2}, {at: 3, round: 2}, {at: 3, square: 3 1/2}, {at: 48, square: 3 1/2}]"})
	if got := tape(l.Runs[0].From.Wide); got != "3 1/2" {
		t.Errorf("%s, want 3 1/2", got)
	}
}
