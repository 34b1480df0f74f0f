package layout_test

import (
	"maps"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// checkOf is a check of the first run by the end of its id.
func checkOf(t *testing.T, files map[string]string, run, id string) finding.Finding {
	t.Helper()
	all := map[string]string{"job.md": jobHead, "runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 60, rail: 60}\n" + run}
	maps.Copy(all, files)
	_, l := lay(t, all)
	return checkIn(t, l.Runs[0], id)
}

func checkIn(t *testing.T, r *layout.Run, id string) finding.Finding {
	t.Helper()
	var found []finding.Finding
	for _, f := range r.Findings {
		if strings.HasSuffix(f.ID, "/"+id) {
			found = append(found, f)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d checks %s: %+v", len(found), id, r.Findings)
	}
	return found[0]
}

const shopWays = "kind: settings\ndivision: 1/16\nscribe: 1/4\ntolerance: {mark: 0, drill: 0, width: 0, season: 0}\n"

// TestLoose: a stick of 1 1/4 and a fillet of 1 1/4 in plows of other widths, where 1/8 of play is the most. By hand: 1 3/8 leaves 1/8, which is on the limit and passes; 1 7/16 leaves 3/16; 1 3/16 is too narrow.
func TestLoose(t *testing.T) {
	files := func(plow string) map[string]string {
		return map[string]string{
			"settings.md": shopWays + "fit: 1/16\nloose: 1/8", "parts/wide-rail.md": "kind: handrail\nwide: 2 5/8\nhigh: 2 3/8\nplow: {wide: " + plow + ", deep: 5/16}",
			"parts/wide-shoe.md": "kind: shoe\nwide: 2 1/2\nhigh: 1 1/4\nplow: {wide: " + plow + ", deep: 5/16}",
			"parts/thick.md":     "kind: baluster\nwide: 1 7/16\nlong: 42", "parts/pinned.md": "kind: baluster\nwide: 1 7/16\nlong: 42\ntop: pin\nbottom: pin\npin: {wide: 3/4, long: 3/4}",
			"parts/broad.md": "kind: fillet\nwide: 1 3/8\nthick: 5/16",
		}
	}
	const run = "handrail: wide-rail\nshoe: wide-shoe"
	for _, id := range []string{"plow-shoe", "plow-rail", "fillet-shoe", "fillet-rail"} {
		if f := checkOf(t, files("1 3/8"), run, id); f.Verdict != finding.Pass || f.Limit != inches(t, "1 3/8") {
			t.Errorf("%s in 1 3/8: %+v", id, f)
		}
		f := checkOf(t, files("1 7/16"), run, id)
		if f.Verdict != finding.Fail || f.Measured != inches(t, "3/16") || f.Limit != inches(t, "1/8") || !strings.Contains(f.Note, "1 1/4") || !strings.Contains(f.Note, "1 7/16") {
			t.Errorf("%s in 1 7/16: %+v", id, f)
		}
		want := map[string]string{
			"plow-shoe": "take a shoe with a plow for it (shoe), or take a baluster that goes into the plow (thick)", "plow-rail": "take a handrail with a plow for it (rail), or take a baluster that goes into the plow (thick)",
			"fillet-shoe": "take a fillet that goes into the plow (broad)", "fillet-rail": "take a fillet that goes into the plow (broad)",
		}[id]
		if f.Cure != want {
			t.Errorf("%s: %q, want %q", id, f.Cure, want)
		}
		if f := checkOf(t, files("1 3/16"), run, id); f.Verdict != finding.Fail || f.Measured != inches(t, "1 1/4") || f.Limit != inches(t, "1 3/16") {
			t.Errorf("%s in 1 3/16: %+v", id, f)
		}
		unjudged := files("1 7/16")
		unjudged["settings.md"] = shopWays + "fit: 1/16"
		if f := checkOf(t, unjudged, run, id); f.Verdict != finding.Pass {
			t.Errorf("%s where the shop has no limit: %+v", id, f)
		}
	}
	// A foot that is let in is held by what it is let into.
	let := files("1 7/16")
	let["parts/let.md"] = "kind: baluster\nwide: 1 1/4\nlong: 42\nbottom: let in\nlet-in: 1/2"
	if f := checkOf(t, let, run+"\nbaluster: let", "plow-shoe"); f.Verdict != finding.Pass {
		t.Errorf("let in: %+v", f)
	}
}

// TestHold: plows of 5/16. By hand, from 38 less 2 3/8 and 1 1/4 with both plows, 35: with a fit of 1/16 a stick is cut 34 15/16 and 1/4 of it is left at the worst. With 9/32 it should be 34 23/32 and is cut 34 11/16: 1/32 more is gone, and
// nothing is left. A marking error of 1/32 goes off as well. 3/4 of a pin with 1/2 off leaves 1/4, and the plow below it is the shallower.
func TestHold(t *testing.T) {
	for _, c := range []struct {
		name, settings, run string
		left                string
		verdict             finding.Verdict
		limit               string
	}{
		{"enough", "fit: 1/16\nhold: 1/16", "", "1/4", finding.Pass, "1/16"},
		{"on the limit", "fit: 1/4\nhold: 1/16", "", "1/16", finding.Pass, "1/16"},
		{"less than the least", "fit: 5/16\nhold: 1/16", "", "0", finding.Fail, "1/16"},
		{"a marking error", "fit: 1/16\nhold: 1/4\ntolerance: {mark: 1/32}", "", "7/32", finding.Fail, "1/4"},
		{"the length is rounded down, and the shop has no least", "fit: 9/32", "", "0", finding.Fail, "0"},
		{"the shop has no least", "fit: 1/4", "", "1/16", finding.Pass, "0"},
		{"a pin over a plow", "fit: 1/4\nhold: 1/16", "baluster: pinned", "1/16", finding.Pass, "1/16"},
	} {
		t.Run(c.name, func(t *testing.T) {
			ways := shopWays
			if strings.Contains(c.settings, "tolerance") {
				ways = strings.Replace(shopWays, "tolerance: {mark: 0, drill: 0, width: 0, season: 0}\n", "", 1)
			}
			f := checkOf(t, map[string]string{"settings.md": ways + c.settings, "parts/pinned.md": "kind: baluster\nwide: 1 1/4\nlong: 42\ntop: pin\npin: {wide: 3/4, long: 3/4}"}, c.run, "hold")
			if f.Measured != inches(t, c.left) || f.Verdict != c.verdict || f.Limit != inches(t, c.limit) || f.Figure == "" {
				t.Errorf("%+v", f)
			}
		})
	}
}

// TestHoldOnARake: on 9 in 12 the secant is 5/4: what is lost plumb is four fifths of that square to the plow, which is 5/16 deep. By hand, with a fit of 1/4 and nothing lost by rounding: 5/16 less 1/5, 0.1125.
func TestHoldOnARake(t *testing.T) {
	r, _ := flight(t, map[string]string{"risers": alike(5, "9"), "goings": alike(4, "12"), "clear": "{rake: 60}", "shoe": "shoe", "handrail": "rail", "shoe-over": "1", "under-shoe": "closed", "baluster": "plain"},
		map[string]string{"parts/shoe.md": parts["parts/shoe.md"], "settings.md": "kind: settings\nfit: 1/4\nhold: 1/16"})
	lost := length.Length(0)
	for _, c := range r.Balusters {
		lost = max(lost, c.Exact-c.Length)
	}
	f := checkIn(t, r, "hold")
	want := inches(t, "5/16") - (inches(t, "1/4")+lost)*4/5
	if d := f.Measured - want; d < -2 || d > 2 {
		t.Errorf("%v left, want %v: %+v", f.Measured, want, f)
	}
}
