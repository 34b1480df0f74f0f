package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// every is a rule set with every limit that a reading as built is judged by, made up for the tests: values that differ from each other.
const every = `kind: rules
limits:
  guard-drop: {over: 30, clause: A, status: published}
  guard-height-level: {at-least: 36, clause: B, status: published}
  guard-height-stair: {at-least: 34, clause: C, status: published}
  guard-opening: {under: 4, clause: D, status: published}
  guard-opening-stair: {under: 4 3/8, clause: E, status: published}
  guard-triangle: {under: 6, clause: F, status: published}
  handrail-height-least: {at-least: 33, clause: G, status: published}
  handrail-height-most: {at-most: 38, clause: H, status: published}
  handrail-wall-clearance: {at-least: 1 1/2, clause: I, status: published}
  handrail-projection: {at-most: 4 1/2, clause: J, status: published}
  riser-most: {at-most: 7 3/4, clause: K, status: published}
  riser-spread: {at-most: 3/8, clause: L, status: published}
  tread-least: {at-least: 10, clause: M, status: published}
  tread-spread: {at-most: 1/4, clause: N, status: published}
  nosing-least: {at-least: 3/4, clause: O, status: published}
  nosing-most: {at-most: 1 1/4, clause: P, status: published}
  open-riser: {under: 3 7/8, clause: Q, status: published}
  grip-round-least: {at-least: 1 1/4, clause: R, status: published}
  grip-round-most: {at-most: 2, clause: S, status: published}
  grip-girth-least: {at-least: 4 1/4, clause: T, status: published}
  grip-girth-most: {at-most: 6 1/4, clause: U, status: published}
  grip-across-most: {at-most: 2 1/4, clause: V, status: published}
  recess-starts-most: {at-most: 5/8, clause: W, status: published}
  recess-deep-least: {at-least: 5/16, clause: X, status: published}
  recess-within-most: {at-most: 7/8, clause: Y, status: published}
  recess-kept-least: {at-least: 7/16, clause: Z, status: published}
  recess-to-least: {at-least: 1 3/4, clause: a, status: published}
  recess-wide-least: {at-least: 1 3/8, clause: b, status: published}
  recess-wide-most: {at-most: 2 3/4, clause: c, status: published}`

// stands is a job with a level run and a flight of three risers, and what was read on them.
func stands(t testing.TB, files map[string]string) *job.Job {
	t.Helper()
	return jobtest.Job(t, map[string]string{
		"job.md": "kind: job\nrules: every\ndrop: 100\nheight: 38\nbaluster: b\nhandrail: h\nshoe: none\nrosette: none\nposts: {a: {newel: n}}", "rules/every.md": every,
		"parts/b.md": "kind: baluster\nwide: 1 1/4\nlong: 40", "parts/h.md": "kind: handrail\nwide: 2\nhigh: 2", "parts/n.md": "kind: newel\nwide: 3\nlong: 60",
		"runs/1-hall.md":  "kind: run\nfrom: wall\nto: a\nclear: {floor: 60, rail: 60}",
		"runs/2-stair.md": "kind: flight\nfrom: {at: wall, before: 1}\nto: {at: a, past: 0}\nrisers: [7 1/2, 7 1/2, 7 1/2]\ngoings: [10 1/4, 10 1/4]\nnosing: 1\nclear: {level: 21 1/2}\nheight: 36\nis-handrail: no\nwall-rail: {handrail: h, clear: 2, stands-out: 4, height: 36}",
	}, files)
}

func inspect(j *job.Job) Inspection { return Inspect(j, layout.Lay(j)) }

// told are the findings of a group as "limit verdict", as they come.
func told(in Inspection, group string) (list []string) {
	for _, f := range in.Findings {
		if f.Group == group {
			list = append(list, strings.TrimPrefix(f.ID, "check/"+group+"/")+" "+f.Verdict.String())
		}
	}
	return list
}

// TestEachBuiltMeasure: each reading a sixty-fourth under its limit, exactly on it, and one over. What is right is written out by the words of the limits above: under 4 means that exactly 4
// fails, at least 36 that exactly 36 passes.
func TestEachBuiltMeasure(t *testing.T) {
	const pass, fail, free = finding.Pass, finding.Fail, finding.NotRequired
	under, atMost, atLeast := [3]finding.Verdict{pass, fail, fail}, [3]finding.Verdict{pass, pass, fail}, [3]finding.Verdict{fail, pass, pass}
	covered := map[string]bool{}
	for _, c := range []struct {
		of, what, where, limit string
		sixteenths             int64 // the limit
		want                   [3]finding.Verdict
	}{
		{"hall", "opening", "", "guard-opening", 64, under},
		{"hall", "end opening", "from", "guard-opening", 64, under},
		{"hall", "end opening", "a", "guard-opening", 64, under},
		{"hall", "height", "", "guard-height-level", 36 * 16, atLeast},
		{"hall", "drop", "", "guard-drop", 30 * 16, [3]finding.Verdict{free, free, pass}},
		{"stair", "opening", "", "guard-opening-stair", 70, under},
		{"stair", "landing opening", "", "guard-opening", 64, under},
		{"stair", "height", "", "guard-height-stair", 34 * 16, atLeast},
		{"stair", "landing height", "", "guard-height-level", 36 * 16, atLeast},
		{"stair", "handrail height", "", "handrail-height-least", 33 * 16, atLeast},
		{"stair", "handrail height", "", "handrail-height-most", 38 * 16, atMost},
		{"stair", "triangle", "", "guard-triangle", 96, under},
		{"stair", "wall clearance", "", "handrail-wall-clearance", 24, atLeast},
		{"stair", "projection", "", "handrail-projection", 72, atMost},
		{"stair", "riser", "2", "riser-most", 124, atMost},
		{"stair", "tread", "2", "tread-least", 160, atLeast},
		{"stair", "nosing", "", "nosing-least", 12, atLeast},
		{"stair", "nosing", "", "nosing-most", 20, atMost},
		{"stair", "riser opening", "", "open-riser", 62, under},
		{"stair", "diameter", "", "grip-round-least", 20, atLeast},
		{"stair", "diameter", "", "grip-round-most", 32, atMost},
		{"stair", "girth", "", "grip-girth-least", 68, atLeast},
		{"stair", "girth", "", "grip-girth-most", 100, atMost},
		{"stair", "across", "", "grip-across-most", 36, atMost},
		{"stair", "recess start", "", "recess-starts-most", 10, atMost},
		{"stair", "recess depth", "", "recess-deep-least", 5, atLeast},
		{"stair", "recess within", "", "recess-within-most", 14, atMost},
		{"stair", "recess kept", "", "recess-kept-least", 7, atLeast},
		{"stair", "recess end", "", "recess-to-least", 28, atLeast},
		{"stair", "recess width", "", "recess-wide-least", 22, atLeast},
		{"stair", "recess width", "", "recess-wide-most", 44, atMost},
	} {
		covered[c.what] = true
		for i, off := range []int64{-1, 0, 1} {
			read := length.Length(4*c.sixteenths+off) * sixtyFourth
			for _, units := range []string{"in", "mm"} { // the same length, written in either: no rounding comes between
				t.Run(fmt.Sprintf("%s, %s, %s, %s", c.of, c.what, c.limit, units)+[]string{", under", ", on", ", over"}[i], func(t *testing.T) {
					text := read.In(length.Inches).Fixed(9) + " in"
					if units == "mm" {
						text = read.In(length.Millimetres).Fixed(6) + " mm"
					}
					j := stands(t, map[string]string{"as-built/1-first.md": fmt.Sprintf("kind: as-built\nunits: %s\ndate: 2027-02-12\nreadings:\n  - {of: %s, what: %s, where: %q, read: %s}", units, c.of, c.what, c.where, text)})
					group := "as-built/" + c.of
					for _, f := range inspect(j).Findings {
						if f.ID == "check/"+group+"/"+c.limit || strings.HasPrefix(f.ID, "check/"+group+"/"+c.limit+"/") {
							if f.Verdict != c.want[i] || f.Measured != read || f.At.File != "as-built/1-first.md" || f.At.Line != 6 || f.Rules != "every" || f.Group != group {
								t.Errorf("%s, want %s: %+v", f.Verdict, c.want[i], f)
							}
							return
						}
					}
					t.Errorf("it was not judged by %s", c.limit)
				})
			}
		}
	}
	for _, k := range job.BuiltMeasures {
		if !covered[k.Key] {
			t.Errorf("%s is not tested", k.Key)
		}
	}
}

// TestBuiltSpread: the greatest riser less the least may be 3/8. It is a pass only when all of them were read, and a fail as soon as two are too far apart.
func TestBuiltSpread(t *testing.T) {
	for _, c := range []struct {
		name, readings string
		want           []string
	}{
		{"one", "{of: stair, what: riser, where: 1, read: 7 1/2}", nil},
		{"two of three, alike", "{of: stair, what: riser, where: 1, read: 7 1/2}, {of: stair, what: riser, where: riser 2, read: 7 1/2}", nil},
		{"two of three, too far apart", "{of: stair, what: riser, where: 1, read: 7 1/4}, {of: stair, what: riser, where: 3, read: 7 41/64}", []string{"riser-spread fail"}},
		{"all, a sixty-fourth under", "{of: stair, what: riser, where: 1, read: 7 1/4}, {of: stair, what: riser, where: 2, read: 7 1/2}, {of: stair, what: riser, where: 3, read: 7 39/64}", []string{"riser-spread pass"}},
		{"all, on the limit", "{of: stair, what: riser, where: 1, read: 7 1/4}, {of: stair, what: riser, where: 2, read: 7 1/2}, {of: stair, what: riser, where: 3, read: 7 5/8}", []string{"riser-spread pass"}},
		{"all, a sixty-fourth over", "{of: stair, what: riser, where: 1, read: 7 1/4}, {of: stair, what: riser, where: 2, read: 7 1/2}, {of: stair, what: riser, where: 3, read: 7 41/64}", []string{"riser-spread fail"}},
		{"the greatest without a number is none of them", "{of: stair, what: riser, where: 1, read: 7 1/2}, {of: stair, what: riser, where: 2, read: 7 1/2}, {of: stair, what: riser, read: 7 1/2}", nil},
		{"both treads", "{of: stair, what: tread, where: 1, read: 10 1/4}, {of: stair, what: tread, where: 2, read: 10 1/2}", []string{"tread-spread pass"}},
		{"treads over", "{of: stair, what: tread, where: 1, read: 10 1/4}, {of: stair, what: tread, where: 2, read: 10 33/64}", []string{"tread-spread fail"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := inspect(stands(t, map[string]string{"b.md": "kind: as-built\ndate: 2027-02-12\nreadings: [" + c.readings + "]"}))
			var got []string
			for _, line := range told(in, "as-built/stair") {
				if strings.Contains(line, "spread") {
					got = append(got, line)
				}
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
			for _, f := range in.Findings {
				if strings.HasSuffix(f.ID, "spread") && !slices.ContainsFunc(in.Figures, func(w *working.Figure) bool { return w.ID == f.Figure && w.Exact(length.Inches) == f.Measured }) {
					t.Errorf("%s has no working", f.ID)
				}
			}
		})
	}
}

// TestNewestCounts: of the readings of one measure at one place the newest counts; at another place, without a day, or of the same day they stand beside it.
func TestNewestCounts(t *testing.T) {
	file := func(date, readings string) string {
		return "kind: as-built\ndate: " + date + "\nreadings: [" + readings + "]"
	}
	for _, c := range []struct {
		name  string
		files map[string]string
		want  []string // what counts, newest first
		kept  int      // older ones that are shown
	}{
		{"put right", map[string]string{"1.md": file("2027-02-12", "{of: hall, what: opening, where: between 7 and 8, read: 4 1/16}"), "2.md": file("2027-02-19", "{of: hall, what: opening, where: Balusters 7-8, read: 3 7/8}")}, []string{"guard-opening pass"}, 1},
		{"the file's order says nothing", map[string]string{"1.md": file("2027-02-19", "{of: hall, what: opening, where: 7 and 8, read: 3 7/8}"), "2.md": file("2027-02-12", "{of: hall, what: opening, where: between 7 and 8, read: 4 1/16}")}, []string{"guard-opening pass"}, 1},
		{"gone bad", map[string]string{"1.md": file("2027-02-12", "{of: hall, what: height, read: 36}"), "2.md": file("2027-03-01", "{of: hall, what: height, read: 35 15/16}")}, []string{"guard-height-level fail"}, 1},
		{"another place", map[string]string{"1.md": file("2027-02-12", "{of: hall, what: opening, where: between 7 and 8, read: 4 1/16}"), "2.md": file("2027-02-19", "{of: hall, what: opening, where: between 8 and 9, read: 3 7/8}")}, []string{"guard-opening/1 pass", "guard-opening/2 fail"}, 0},
		{"a number alone is another place", map[string]string{"1.md": file("2027-02-12", "{of: hall, what: opening, where: between 7 and 8, read: 4 1/16}"), "2.md": file("2027-02-19", "{of: hall, what: opening, where: 7, read: 3 7/8}")}, []string{"guard-opening/1 pass", "guard-opening/2 fail"}, 0},
		{"another end", map[string]string{"1.md": file("2027-02-12", "{of: hall, what: end opening, where: wall, read: 4 1/16}"), "2.md": file("2027-02-19", "{of: hall, what: end opening, where: to, read: 3 7/8}")}, []string{"guard-opening/1 pass", "guard-opening/2 fail"}, 0},
		{"the same end, from and wall", map[string]string{"1.md": file("2027-02-12", "{of: hall, what: end opening, where: wall, read: 4 1/16}"), "2.md": file("2027-02-19", "{of: hall, what: end opening, where: from, read: 3 7/8}")}, []string{"guard-opening pass"}, 1},
		{"the same day", map[string]string{"1.md": file("2027-02-12", "{of: hall, what: height, read: 36}, {of: hall, what: height, read: 35}")}, []string{"guard-height-level/1 pass", "guard-height-level/2 fail"}, 0},
		{"no day", map[string]string{"1.md": file("", "{of: hall, what: height, read: 35}"), "2.md": file("2027-02-19", "{of: hall, what: height, read: 36}")}, []string{"guard-height-level/1 pass", "guard-height-level/2 fail"}, 0},
		{"not read yet", map[string]string{"1.md": file("2027-02-12", "{of: hall, what: height, read: 35}"), "2.md": file("2027-02-19", "{of: hall, what: height, read: }")}, []string{"guard-height-level fail"}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := inspect(stands(t, c.files))
			var got []string
			for _, line := range told(in, "as-built/hall") {
				if !strings.HasPrefix(line, "otherwise") {
					got = append(got, line)
				}
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Error(diff)
			}
			kept := 0
			for _, check := range in.Sheets[0].Checks {
				for _, r := range check.Read {
					if !r.Counts {
						kept++
						if r.Verdict != finding.Pass && r.Verdict != finding.Fail {
							t.Errorf("an older reading is shown without its verdict: %+v", r)
						}
					}
				}
			}
			if kept != c.kept {
				t.Errorf("%d older readings are shown, want %d", kept, c.kept)
			}
			if asks := len(in.Missing) > 0; asks != (c.name == "no day") {
				t.Errorf("asks for %+v", in.Missing)
			}
		})
	}
}

// TestBuiltWithoutGuard: where the drop asks for no guard, the limits on guards are not required as built either; a drop that was read stands over the planned one.
func TestBuiltWithoutGuard(t *testing.T) {
	low := "kind: as-built\ndate: 2027-02-12\nreadings: [{of: hall, what: height, read: 20}"
	for _, c := range []struct {
		name, job, file string
		want            []string
	}{
		{"required by the plan", "drop: 100", low + "]", []string{"guard-height-level fail"}},
		{"not by the plan", "drop: 30", low + "]", []string{"guard-height-level not required"}},
		{"not by the reading", "drop: 100", low + ", {of: hall, what: drop, read: 29}]", []string{"guard-height-level not required", "guard-drop not required"}},
		{"by the reading", "drop: 29", low + ", {of: hall, what: drop, read: 31}]", []string{"guard-height-level fail", "guard-drop pass"}},
		{"nobody knows", "drop:", low + "]", []string{"guard-height-level fail"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := inspect(stands(t, map[string]string{"b.md": c.file, "job.md": "kind: job\nrules: every\nheight: 20\n" + c.job + "\nbaluster: b\nhandrail: h\nshoe: none\nrosette: none\nposts: {a: {newel: n}}"}))
			if diff := cmp.Diff(c.want, told(in, "as-built/hall")); diff != "" {
				t.Error(diff)
			}
			for _, f := range in.Findings {
				if strings.Contains(f.Note, "layout holds") {
					t.Errorf("said of a guard that stands: %s", f.Note)
				}
			}
		})
	}
}

// TestBuiltVerdicts: no rule set judges nothing, a limit that is not there or was recalled is never a pass, and neither is a looser amendment.
func TestBuiltVerdicts(t *testing.T) {
	files := func(rules, set string) map[string]string {
		return map[string]string{"b.md": "kind: as-built\ndate: 2027-02-12\nreadings: [{of: hall, what: opening, read: 4 1/16}]", "rules/local.md": set,
			"job.md": "kind: job\n" + rules + "\nheight: 38\ndrop: 100\nbaluster: b\nhandrail: h\nshoe: none\nrosette: none\nposts: {a: {newel: n}}"}
	}
	for _, c := range []struct {
		name, rules, set, want string
	}{
		{"no rule set", "rules:", "kind: rules", "guard-opening to be measured"},
		{"no such limit", "rules: local", "kind: rules\nlimits: {guard-drop: {over: 30, clause: A, status: published}}", "guard-opening check with the authority"},
		{"recalled", "rules: local", "kind: rules\nlimits: {guard-opening: {under: 5, clause: A, status: memory}}", "guard-opening check with the authority"},
		{"looser than what it amends", "rules: local", "kind: rules\namends: every\nlimits: {guard-opening: {under: 5, clause: A}}", "guard-opening check with the authority"},
		{"tighter", "rules: local", "kind: rules\namends: every\nlimits: {guard-opening: {under: 3 1/2, clause: A}}", "guard-opening fail"},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := inspect(stands(t, files(c.rules, c.set)))
			if got := told(in, "as-built/hall"); len(got) == 0 || got[0] != c.want {
				t.Errorf("got %q, want %s", got, c.want)
			}
		})
	}
}

// TestBuiltOtherwise: the hall is planned 38 high; the tape's sixteenth twice is 1/8, and nothing is taken off to fit, for there are no settings here. The ends are laid out with tolerances of
// their own; its openings are read from the layout.
func TestBuiltOtherwise(t *testing.T) {
	read := func(text string) Inspection {
		return inspect(stands(t, map[string]string{"b.md": "kind: as-built\ndate: 2027-02-12\n" + text}))
	}
	otherwise := func(in Inspection) (list []finding.Finding) {
		for _, f := range in.Findings {
			if strings.Contains(f.ID, "/otherwise/") {
				list = append(list, f)
			}
		}
		return list
	}
	for _, c := range []struct {
		readings string
		apart    length.Length // in sixty-fourths; 0 where it is as planned
	}{
		{"readings: [{of: hall, what: height, read: 37 7/8}]", 0},
		{"readings: [{of: hall, what: height, read: 37 55/64}]", 9},
		{"readings: [{of: hall, what: height, read: 38 1/8}]", 0},
		{"readings: [{of: hall, what: height, read: 38 9/64}]", 9},
		{"division: 1/32\nreadings: [{of: hall, what: height, read: 37 29/32}]", 0}, // 1/16 and 1/32
		{"division: 1/32\nreadings: [{of: hall, what: height, read: 37 57/64}]", 7},
		{"readings: [{of: stair, what: riser, where: 2, read: 7 5/8}]", 0},
		{"readings: [{of: stair, what: riser, where: 2, read: 7 41/64}]", 9},
		{"readings: [{of: stair, what: wall clearance, read: 1 7/8}]", 0},
		{"readings: [{of: stair, what: wall clearance, read: 1 55/64}]", 9},
		{"readings: [{of: stair, what: handrail height, read: 36 1/4}]", 16},
		{"readings: [{of: hall, what: drop, read: 90}]", 0}, // the ground is no plan
	} {
		t.Run(c.readings, func(t *testing.T) {
			list := otherwise(read(c.readings))
			if c.apart == 0 {
				if len(list) > 0 {
					t.Errorf("got %+v", list)
				}
				return
			}
			if len(list) != 1 {
				t.Fatalf("got %+v", list)
			}
			f := list[0]
			if f.Verdict != finding.AskAuthority || f.Measured != c.apart*sixtyFourth || f.Margin >= 0 || !strings.HasPrefix(f.Title, "built otherwise than planned: ") || f.At.File != "b.md" {
				t.Errorf("got %+v", f)
			}
		})
	}
	t.Run("openings", func(t *testing.T) {
		j := stands(t, nil)
		var o layout.Opening
		for _, x := range layout.Lay(j).Runs[0].Openings {
			if x.Part == "between" {
				o = x
			}
		}
		if !o.Known || o.Worst < o.Nominal {
			t.Fatalf("the test's own run is not laid out: %+v", o)
		}
		write := func(l length.Length) string { return l.In(length.Inches).Fixed(9) + " in" }
		for _, row := range []struct {
			read length.Length
			want int
		}{{o.Worst, 0}, {o.Worst + sixtyFourth, 1}, {o.Nominal - length.Inch/2, 1}} {
			if got := otherwise(read("readings: [{of: hall, what: opening, read: " + write(row.read) + "}]")); len(got) != row.want {
				t.Errorf("%s read, planned %s to %s: %+v", row.read, o.Nominal, o.Worst, got)
			}
		}
	})
}

// TestPushes: a push where something moves fails, one where nothing does says nothing, and the newest at a place counts.
func TestPushes(t *testing.T) {
	for _, c := range []struct {
		name, first, second string
		want                []string
	}{
		{"moves", "{of: a, where: top, moves: yes}", "", []string{"moves/1 fail"}},
		{"does not", "{of: a, where: top, moves: no}", "", nil},
		{"not said", "{of: a, where: top, moves: }", "", nil},
		{"put right", "{of: a, where: top, moves: yes}", "{of: a, where: Top, moves: no}", nil},
		{"elsewhere", "{of: a, where: top, moves: yes}", "{of: a, where: foot, moves: no}", []string{"moves/1 fail"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := inspect(stands(t, map[string]string{"1.md": "kind: as-built\ndate: 2027-02-12\npush: [" + c.first + "]", "2.md": "kind: as-built\ndate: 2027-02-13\npush: [" + c.second + "]"}))
			if diff := cmp.Diff(c.want, told(in, "as-built/post/a")); diff != "" {
				t.Error(diff)
			}
		})
	}
	in := inspect(stands(t, map[string]string{"1.md": "kind: as-built\ndate: 2027-02-12\npush: [{of: hall, moves: yes}]"}))
	if got := told(in, "as-built/hall"); len(got) != 1 {
		t.Errorf("a push of a run: %q", got)
	}
	for _, f := range in.Findings {
		if f.Verdict != finding.Fail || !strings.Contains(f.Cure, "engineer") {
			t.Errorf("got %+v", f)
		}
	}
}

// TestSheet: the sheet of a job of which nothing was read has a row for each of its checks, none with a verdict, and asks for nothing before the work.
func TestSheet(t *testing.T) {
	in := inspect(stands(t, nil))
	if len(in.Findings)+len(in.Missing)+len(in.Figures) > 0 {
		t.Errorf("nothing was read, and there is %+v %+v", in.Findings, in.Missing)
	}
	rows := map[string][]string{}
	for _, s := range in.Sheets {
		for _, c := range s.Checks {
			rows[s.ID] = append(rows[s.ID], strings.TrimPrefix(c.ID, s.ID+"/"))
			if c.Verdict != finding.ToBeMeasured || c.What == "" || c.Where == "" || c.With == "" || len(c.Limits) == 0 || len(c.Read) > 0 {
				t.Errorf("%s: %+v", c.ID, c)
			}
		}
		for _, x := range s.Ticks {
			if x.How == "" || x.Right == "" || x.Source == "" {
				t.Errorf("%+v", x)
			}
		}
	}
	want := map[string][]string{
		"as-built/hall": {"opening", "opening-from", "opening-to", "height", "drop"},
		"as-built/stair": {"opening", "opening-from", "opening-to", "height", "handrail-height", "drop", "wall-clearance", "projection", "riser", "riser-spread", "tread", "tread-spread", "nosing",
			"wall-grip-girth", "wall-grip-across"},
	}
	if diff := cmp.Diff(want, rows); diff != "" {
		t.Error(diff)
	}
	seen := map[string]bool{}
	for _, s := range in.Sheets {
		for _, c := range s.Checks {
			if seen[c.ID] {
				t.Errorf("two rows are named %s", c.ID)
			}
			seen[c.ID] = true
		}
	}
	t.Run("the rail on the wall", func(t *testing.T) { // its brackets are pulled at where it is, and nowhere else
		for _, s := range in.Sheets {
			has := slices.ContainsFunc(s.Ticks, func(x Tick) bool { return x.ID == s.ID+"/wall-rail" })
			if has != (s.ID == "as-built/stair") {
				t.Errorf("%s: %+v", s.ID, s.Ticks)
			}
		}
	})
	t.Run("the limit in the unit of its set", func(t *testing.T) {
		j := stands(t, map[string]string{"rules/every.md": "kind: rules\nunits: mm\nlimits: {guard-opening: {under: 100, clause: K, status: published}}"})
		c := inspect(j).Sheets[0].Checks[0]
		if l := c.Limits[0].Limit; Words(l.Value.Length, l.System) != "100 mm" || !strings.Contains(c.With, "100 mm") {
			t.Errorf("got %s, %s", Words(l.Value.Length, l.System), c.With)
		}
	})
	t.Run("every riser has a box, and one alone is no verdict for all", func(t *testing.T) {
		in := inspect(stands(t, map[string]string{"b.md": "kind: as-built\ndate: 2027-02-12\nreadings: [{of: stair, what: riser, where: 1, read: 7 1/2}]"}))
		for _, c := range in.Sheets[1].Checks {
			if strings.HasSuffix(c.ID, "/riser") && (len(c.Boxes) != 3 || c.Verdict != finding.ToBeMeasured || len(c.Read) != 1) {
				t.Errorf("got %+v", c)
			}
		}
	})
}

// TestBuiltBetweenOldOnes: an old guard that stays, squares of 1 1/4. Its gaps are 5, 3 and 5 in a clear of 15 1/2, so that by hand one new baluster goes into the first and the last, and the
// middle one is left: four balusters, the widest opening 3, the others 1 7/8, which is as planned as well.
func TestBuiltBetweenOldOnes(t *testing.T) {
	with := func(feet, clear, readings string) Inspection {
		return inspect(stands(t, map[string]string{
			"job.md":          "kind: job\nrules: every\nbuilt: 1990\ndrop: 100\nheight: 38\nbaluster: b\nhandrail: h\nshoe: none\nrosette: none\nposts: {a: {newel: n, foot: bolted}, c: {newel: n}}",
			"runs/1-hall.md":  "kind: run\nfrom: a\nto: c\nclear: {floor: " + clear + ", rail: " + clear + "}\nhandrail: h\nshoe: none\nstanding: {baluster: old, foot: " + feet + ", between: 36}",
			"runs/2-stair.md": "kind: flight\nfrom: {at: wall, before: 1}\nto: {at: wall, past: 0}\nrisers: [7 1/2, 7 1/2]\ngoings: [10 1/4]\nclear: {level: 11 1/4}\nheight: 36",
			"parts/old.md":    "kind: baluster\nwide: 1 1/4\nlong: 36",
			"b.md":            "kind: as-built\ndate: 2027-02-12\nreadings: [" + readings + "]",
		}))
	}
	ids := func(s Sheet) (list []string) {
		for _, c := range s.Checks {
			list = append(list, strings.TrimPrefix(c.ID, s.ID+"/"))
		}
		for _, x := range s.Ticks {
			list = append(list, strings.TrimPrefix(x.ID, s.ID+"/"))
		}
		return list
	}
	for _, c := range []struct {
		where, read string
		want        string // verdicts
		note        string
	}{
		{"between 1 and 2", "1 7/8", "pass", ""},
		{"between 2 and 3", "3", "pass", ""},
		{"between 3 and 4", "1 1/2", "pass", ""},
		{"between 4 and 3", "1 1/2", "pass", ""},
		{"between 4 and 5", "3", "check with the authority", ""}, // the title says it
		{"5", "3", "check with the authority", ""},
		{"4", "3", "pass", ""},
		{"between 4 and 5", "4", "fail", "the plan has 4 balusters"}, // and no planned opening to be apart from
		{"between 2 and 3", "3 1/2", "check with the authority, pass", ""},
		{"between 2 and 3", "4", "check with the authority, fail", ""},
	} {
		t.Run(c.where+", "+c.read, func(t *testing.T) {
			in := with("[5, 9 1/4]", "15 1/2", "{of: hall, what: opening, where: "+c.where+", read: "+c.read+"}")
			r := in.Sheets[0].Run
			if r.Kept == nil || r.Chosen == nil || r.Chosen.Count != 2 || len(r.Kept.Old) != 2 {
				t.Fatalf("the test's own run is not as worked out by hand: %+v, %+v", r.Kept, r.Chosen)
			}
			var verdicts []string
			for _, f := range in.Findings {
				verdicts = append(verdicts, f.Verdict.String())
				if strings.HasSuffix(f.ID, "guard-opening") && f.Note != c.note {
					t.Errorf("note %q, want %q", f.Note, c.note)
				}
			}
			slices.Sort(verdicts)
			if got := strings.Join(verdicts, ", "); got != c.want {
				t.Errorf("got %s, want %s", got, c.want)
			}
		})
	}
	t.Run("nothing new goes in", func(t *testing.T) { // gaps of 3 in a clear of 7 1/4: the old baluster has its two ends to measure all the same
		in := with("[3]", "7 1/4", "")
		if r := in.Sheets[0].Run; r.Chosen == nil || r.Chosen.Count != 0 {
			t.Fatalf("the test's own run is not as worked out by hand: %+v", r.Chosen)
		}
		if diff := cmp.Diff([]string{"opening", "opening-from", "opening-to", "height", "drop", "push"}, ids(in.Sheets[0])); diff != "" {
			t.Error(diff)
		}
	})
	t.Run("a post that stays", func(t *testing.T) { // nobody planned its foot, and it may lean
		for _, s := range with("[3]", "7 1/4", "").Sheets {
			if s.Post != "" {
				if diff := cmp.Diff([]string{"push", "foot"}, ids(s)); diff != "" {
					t.Error(diff)
				}
				for _, x := range s.Ticks {
					if strings.Contains(x.How+x.Right+x.Source, "plan") {
						t.Errorf("a plan is said to be behind %+v", x)
					}
				}
			}
		}
	})
}

// TestBuiltRandom: whatever was read on whichever days, in whichever files, what counts is worked out here a second way: of each measure at each place the readings of the newest day, and those
// without a day. Each of them is judged by its limits as written at the head of this file; the order of the files says nothing.
func TestBuiltRandom(t *testing.T) {
	sixteenth := length.Inch / 16
	measures := []struct {
		of, what string
		limits   map[string]func(length.Length) bool // holds
	}{
		{"hall", "opening", map[string]func(length.Length) bool{"guard-opening": func(l length.Length) bool { return l < 4*length.Inch }}},
		{"hall", "height", map[string]func(length.Length) bool{"guard-height-level": func(l length.Length) bool { return l >= 36*length.Inch }}},
		{"stair", "opening", map[string]func(length.Length) bool{"guard-opening-stair": func(l length.Length) bool { return l < 4*length.Inch+6*sixteenth }}},
		{"stair", "nosing", map[string]func(length.Length) bool{
			"nosing-least": func(l length.Length) bool { return l >= 12*sixteenth },
			"nosing-most":  func(l length.Length) bool { return l <= 20*sixteenth },
		}},
	}
	places := []struct{ words, same string }{{"", ""}, {"between 1 and 2", "1-2"}, {"Balusters 1-2", "1-2"}, {"2 and 1", "1-2"}, {"over the first", "first"}, {"between 2 and 3", "2-3"}, {"at the wall", "wall"}, {"At  the Wall", "wall"}}
	days := []string{"", "2027-02-12", "2027-02-13", "2027-11-02"}
	rapid.Check(t, func(rt *rapid.T) {
		type one struct {
			m    int
			at   string
			day  string
			read length.Length
		}
		var all []one
		files := map[string]string{}
		turned := map[string]string{}
		n := rapid.IntRange(0, 4).Draw(rt, "files")
		for i := range n {
			day := rapid.SampledFrom(days).Draw(rt, "day")
			text := "kind: as-built\ndate: " + day + "\nreadings:\n"
			for range rapid.IntRange(1, 5).Draw(rt, "readings") {
				m := rapid.IntRange(0, len(measures)-1).Draw(rt, "measure")
				place := rapid.SampledFrom(places).Draw(rt, "place")
				k := rapid.SampledFrom([]int64{1, 11, 12, 20, 21, 63, 64, 69, 70, 575, 576, 640}).Draw(rt, "sixteenths")
				text += fmt.Sprintf("  - {of: %s, what: %s, where: %q, read: %d %d/16}\n", measures[m].of, measures[m].what, place.words, k/16, k%16)
				all = append(all, one{m, place.same, day, length.Length(k) * sixteenth})
			}
			files[fmt.Sprintf("as-built/%d.md", i)] = text
			turned[fmt.Sprintf("as-built/%d.md", n-i)] = text
		}
		var want []string
		for _, r := range all {
			counts := true
			for _, other := range all {
				counts = counts && !(r.day != "" && other.m == r.m && other.at == r.at && other.day > r.day)
			}
			if !counts {
				continue
			}
			for name, holds := range measures[r.m].limits {
				verdict := finding.Fail
				if holds(r.read) {
					verdict = finding.Pass
				}
				want = append(want, fmt.Sprintf("%s %s %s %s", measures[r.m].of, name, r.read, verdict))
			}
		}
		slices.Sort(want)
		judged := func(files map[string]string) (list []string) {
			for _, f := range inspect(stands(t, files)).Findings {
				if strings.Contains(f.ID, "/otherwise/") {
					continue
				}
				name, _, _ := strings.Cut(strings.TrimPrefix(f.ID, "check/"+f.Group+"/"), "/")
				list = append(list, fmt.Sprintf("%s %s %s %s", strings.TrimPrefix(f.Group, "as-built/"), name, f.Measured, f.Verdict))
			}
			slices.Sort(list)
			return list
		}
		if diff := cmp.Diff(want, judged(files)); diff != "" {
			rt.Fatal(diff)
		}
		if diff := cmp.Diff(want, judged(turned)); diff != "" {
			rt.Fatal("files the other way about:", diff)
		}
	})
}
