package jobbook_test

import (
	"html"
	"maps"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/changes"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
)

// A first job as somebody fills it in who knows the trade and not the program: the simple one, its hall read with a level and a line.
func firstJob(t *testing.T, more map[string]string) string {
	files := maps.Clone(simple)
	files["job.md"] = strings.Replace(files["job.md"], "height: 38", "height: 36", 1)
	files["runs/1-hall.md"] = "kind: run\nfrom: {at: wall, plumb: {at: 36, away: 1/8}}\nto: a\nclear: {floor: 94 1/2, rail: 94 5/8}\nlevel: [{at: 0, down: 44 3/16}, {at: 48, down: 44 1/8}, {at: 94, down: 44 3/16}]"
	maps.Copy(files, more)
	return folder(t, files)
}

// read is a page of a job's book in words.
func read(t *testing.T, dir, page string) string {
	t.Helper()
	result, files, err := jobbook.Make(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if f.Path == page {
			return html.UnescapeString(anyTag.ReplaceAllString(strings.Join(f.Pieces, ""), ""))
		}
	}
	t.Fatalf("the book has no %s: %+v", page, result.Problems)
	return ""
}

func failing(t *testing.T, dir, stem string) *finding.Finding {
	t.Helper()
	for _, f := range planOf(t, dir).Findings {
		if f.Verdict == finding.Fail && strings.Contains(f.ID, stem) {
			return &f
		}
	}
	return nil
}

// TestRailTooLow: 36 at the datum is 35 15/16 over a floor that rises a sixteenth. The check says what to write, and what it says cures it.
func TestRailTooLow(t *testing.T) {
	dir := firstJob(t, nil)
	f := failing(t, dir, "run/hall/guard-height-level")
	if f == nil || f.Measured != 36*length.Inch-length.Inch/16 {
		t.Fatalf("%+v", f)
	}
	if want := "height: {top: , at: highest}"; !strings.Contains(f.Cure, want) {
		t.Errorf("the cure is %q, without %q", f.Cure, want)
	}
	if page, want := read(t, dir, "checks.html"), "Planned 35.9375 in, wanted at least 36.000 in, 0.0625 in outside."; !strings.Contains(page, want) { // nothing is cut off: the two make 36
		t.Errorf("the checks do not say %q", want)
	}
	rewrite(t, dir, "job.md", "height: 36", "height: {top: 36, at: highest}")
	if f := failing(t, dir, "guard-height-level"); f != nil {
		t.Errorf("cured, it still fails: %+v", f)
	}
}

// TestFlightTooLow: the lowest of four uneven nosings is nearer to the rail than the line is.
func TestFlightTooLow(t *testing.T) {
	dir := firstJob(t, map[string]string{
		"job.md":          strings.Replace(simple["job.md"], "{a: {newel: square-3-1-2, foot: plate}}", "{a: {newel: square-3-1-2, foot: plate}, b: {newel: square-3-1-2, foot: plate}, c: {newel: square-3-1-2, foot: plate}}", 1),
		"runs/3-steps.md": "kind: flight\nfrom: {at: b, before: 1 1/4}\nto: {at: c, past: 0}\nrisers: [7 1/2, 7 9/16, 7 1/2, 7 7/16]\ngoings: [10, 10 1/16, 10]\nnosing: 1 1/8\nclear: {level: 31 5/16, rake: 39}\nheight: 34\nshoe: none\ndrop: 48\nbaluster: square-1-1-4-long",
	})
	for _, limit := range []string{"guard-height-stair", "handrail-height-least"} {
		if f := failing(t, dir, limit); f == nil || !strings.Contains(f.Cure, "set the rail higher") {
			t.Errorf("%s: %+v", limit, f)
		}
	}
	if page, want := read(t, dir, "index.html"), "copied from the built-in library into the job’s folder"; !strings.Contains(page, want) { // the recess of the library's rail
		t.Errorf("the first page asks for something of a file of the library, and does not say %q", want)
	}
	rewrite(t, dir, "runs/3-steps.md", "height: 34", "height: 34 1/4")
	for _, limit := range []string{"guard-height-stair", "handrail-height-least"} {
		if f := failing(t, dir, limit); f != nil {
			t.Errorf("cured, %s still fails: %+v", limit, f)
		}
	}
}

// TestSticksInFeet: a bare 8 is inches.
func TestSticksInFeet(t *testing.T) {
	dir := firstJob(t, map[string]string{"yard.md": "kind: supplier\nsells: {rail-plow-1-1-4: {lengths: [8, 12], per-foot: 9}}"})
	if f := failing(t, dir, "too-long"); f == nil || !strings.Contains(f.Cure, "with their unit") {
		t.Fatalf("%+v", f)
	}
	rewrite(t, dir, "yard.md", "[8, 12]", "[8', 12']")
	if f := failing(t, dir, "too-long"); f != nil {
		t.Errorf("in feet, it still fails: %+v", f)
	}
}

// TestByAHair: a count that passes by less than the finest mark of a tape is said to, and no other.
func TestByAHair(t *testing.T) {
	const words = "It passes by less than 1/64 in."
	dir := firstJob(t, nil)
	near := func() (n int) {
		for _, r := range planOf(t, dir).Layout.Runs {
			if r.Limit.Value-r.Chosen.Worst < length.Inch/64 {
				n++
			}
		}
		return n
	}
	const first = "The worst opening passes by less than 1/64 in."
	page := read(t, dir, "layout.html")
	if n := near(); n != 1 || strings.Count(page, words) != n || strings.Count(read(t, dir, "index.html"), first) != n {
		t.Errorf("%d runs pass by a hair, and %d are said to, on the first page %d", n, strings.Count(page, words), strings.Count(read(t, dir, "index.html"), first))
	}
	if want := "The wall leans about 1/8 in away from the opening at the rail"; !strings.Contains(page, want) { // an eighth at 36, the rail's axis a little lower
		t.Errorf("the layout does not say %q", want)
	}
	rewrite(t, dir, "runs/1-hall.md", "to: a\n", "to: a\nmost: 3 7/8\n")
	if page := read(t, dir, "layout.html"); near() != 0 || strings.Contains(page, words) || strings.Contains(read(t, dir, "index.html"), first) {
		t.Error("with a tighter limit a run still passes by a hair")
	}
}

// TestOrderedTooSoon: what is ordered before the hold point is settled is told on the first page, which does not say any more when to order.
func TestOrderedTooSoon(t *testing.T) {
	job := simple["job.md"] + "\nwanted: 2026-12-14"
	before := read(t, firstJob(t, map[string]string{"job.md": job}), "index.html")
	after := read(t, firstJob(t, map[string]string{"job.md": job + "\ndone: {survey: 2026-11-26, order: 2026-11-27}"}), "index.html")
	for _, words := range []string{"Done past a hold point that is not settled: Order, before Hold before ordering.", "Ordered on Friday 27 November 2026."} {
		if strings.Contains(before, words) || !strings.Contains(after, words) {
			t.Errorf("%q: before the order %v, after it %v", words, strings.Contains(before, words), strings.Contains(after, words))
		}
	}
	if words := "Order from "; !strings.Contains(before, words) || strings.Contains(after, words) {
		t.Errorf("%q: before the order %v, after it %v", words, strings.Contains(before, words), strings.Contains(after, words))
	}
}

// TestTickedIsNoReading: a check of the calendar that is gone because something was ticked off is not laid to the reading that changed on the same day.
func TestTickedIsNoReading(t *testing.T) {
	dir := firstJob(t, map[string]string{
		"job.md":    simple["job.md"] + "\ncalendar: {start: 2026-11-30, crew: 2, hours: \"7:30 to 12:00, 12:30 to 16:00\"}\ndone: {survey: 2026-11-26}",
		"survey.md": "kind: survey\nheight: 32 1/2\nloose: yes\ncoated: bare\nremoved: yes\nopenings: [{where: widest, read: 5}]",
	})
	if failing(t, dir, "calendar") == nil {
		t.Fatal("a loose guard is not barred on the day of the survey, and the calendar does not fail")
	}
	issued(t, dir, "first")
	rewrite(t, dir, "job.md", "done: {survey: 2026-11-26}", "done: {survey: 2026-11-26, barrier-at-once: 2026-11-26}")
	rewrite(t, dir, "runs/1-hall.md", "floor: 94 1/2", "floor: 94 1/4")
	gone := 0
	for _, x := range planOf(t, dir).Changes.Of(changes.Check) {
		if x.Line.Of == "calendar" {
			gone++
			if len(x.Causes) > 0 {
				t.Errorf("%s is laid to %v", x.What, x.Causes)
			}
		}
	}
	if gone == 0 {
		t.Error("no check of the calendar changed")
	}
	if page, want := read(t, dir, "changes.html"), "the days, or what was done meanwhile"; !strings.Contains(page, want) {
		t.Errorf("the page of changes does not say %q", want)
	}
}

// TestDropAskedOnce: the blank drop of a new job is one reading, though its runs and its old guard are judged by it.
func TestDropAskedOnce(t *testing.T) {
	dir := t.TempDir() + "/new"
	if _, err := jobbook.Start(dir); err != nil {
		t.Fatal(err)
	}
	asked := 0
	for _, m := range planOf(t, dir).Missing {
		if strings.Contains(m.What, "down") || strings.HasPrefix(m.What, "drop") {
			asked++
		}
	}
	if asked != 1 {
		t.Errorf("the drop is asked for %d times", asked)
	}
}

// TestSaidOnce: two limits of one reading whose rule says the same of both are told with that said once. The sample's nosing has a recalled least and most.
func TestSaidOnce(t *testing.T) {
	page := read(t, sample, "index.html")
	for _, want := range []string{"wanted at least 0.750 in", "wanted at most 1.250 in", "What was recalled is that a tread of 11 or more needs no nosing", "The same holds as for the one before."} {
		if n := strings.Count(page, want); n != 1 {
			t.Errorf("%q stands there %d times", want, n)
		}
	}
}

// TestCountCured: a count that was written and is too small fails with the one that passes, and it does.
func TestCountCured(t *testing.T) {
	dir := firstJob(t, nil)
	rewrite(t, dir, "runs/1-hall.md", "to: a\n", "to: a\ncount: 12\n")
	f := failing(t, dir, "run/hall/guard-opening")
	if f == nil {
		t.Fatal("12 balusters in 94 1/2 do not fail")
	}
	_, n, _ := strings.Cut(f.Cure, "write count: ")
	if n, _, _ = strings.Cut(n, ","); n == "" {
		t.Fatalf("the cure is %q", f.Cure)
	}
	rewrite(t, dir, "runs/1-hall.md", "count: 12\n", "count: "+n+"\n")
	if f := failing(t, dir, "run/hall/guard-opening"); f != nil {
		t.Errorf("cured, it still fails: %+v", f)
	}
}
