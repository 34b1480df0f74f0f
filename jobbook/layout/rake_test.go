package layout_test

import (
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/rules"
)

// flightHead is the job of the cases below: judged by the library's own rule set, posts of 3 1/2, plain balusters of 1 1/4 on the treads.
const flightHead = "kind: job\nrules: irc-2021\nposts: {low: {newel: post}, high: {newel: post}}\nbaluster: plain\nhandrail: bare\nshoe: none\nfillet: none"

// plainFlight is a stair that keeps every limit; a case says what differs. Its four goings are 42 together, its rake 51.614 (by hand).
func plainFlight() map[string]string {
	return map[string]string{
		"from": "{at: low, past: 0}", "to": "{at: high, past: 0}", "risers": alike(5, "7 1/2"), "goings": alike(4, "10 1/2"), "nosing": "1", "height": "36", "clear": "{rake: 51 5/8}",
	}
}

// alike writes so many risers or goings, the last ones as named.
func alike(n int, each string, last ...string) string {
	list := slices.Repeat([]string{each}, n-len(last))
	return "[" + strings.Join(append(list, last...), ", ") + "]"
}

// flight lays out the plain flight with some of its keys written otherwise, or more of them; files are more or other parts.
func flight(t *testing.T, keys, files map[string]string) (*layout.Run, []finding.Finding) {
	t.Helper()
	written := plainFlight()
	maps.Copy(written, keys)
	return flightOf(t, written, files)
}

func flightOf(t *testing.T, keys, files map[string]string) (*layout.Run, []finding.Finding) {
	t.Helper()
	text, err := os.ReadFile("../../templates/library/rules/irc-2021.md")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]string{
		"job.md": flightHead, "rules/irc-2021.md": strings.TrimSpace(strings.Split(string(text), "---\n")[1]), "settings.md": "kind: settings\nfit: 0",
		"parts/bare.md": "kind: handrail\nwide: 2 1/2\nhigh: 2 3/8\ngirth: 6\nacross: 2 3/4",
	}
	maps.Copy(all, files)
	run := "kind: flight"
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		run += "\n" + key + ": " + keys[key]
	}
	all["runs/1-f.md"] = run
	j, l := lay(t, all)
	return l.Runs[0], rules.Judge(j.Rules, l.Runs[0].Measures)
}

// verdict is that of a limit on the flight; words is how its title begins, where one limit judges several.
func verdict(t *testing.T, r *layout.Run, f []finding.Finding, limit, words string) finding.Verdict {
	t.Helper()
	for i, m := range r.Measures {
		if m.Limit == limit && strings.HasPrefix(m.Subject, words) {
			return f[i].Verdict
		}
	}
	t.Fatalf("nothing is judged by %s %s", limit, words)
	return 0
}

// TestStairLimits judges what a flight is read to be by the published limits, a sixteenth under, on and over each: "not more than" and "not less
// than" pass at the limit, "must not pass a sphere" fails there. The limits are those of the model code (IRC 2021, clauses in the rule set); the
// readings are chosen by hand to lie there. A limit that was recalled is never a pass.
func TestStairLimits(t *testing.T) {
	pass, fail, ask, open := finding.Pass, finding.Fail, finding.AskAuthority, finding.ToBeMeasured
	type keys = map[string]string
	rail := func(sizes string) keys { return keys{"parts/bare.md": "kind: handrail\nhigh: 1 1/2\n" + sizes} }
	inline := func(sizes keys, key, value string) string { // the sizes with one written otherwise
		sizes[key] = value
		var list []string
		for _, k := range slices.Sorted(maps.Keys(sizes)) {
			list = append(list, k+": "+sizes[k])
		}
		return "{" + strings.Join(list, ", ") + "}"
	}
	recess := func(key, value string) keys {
		return rail("girth: 8\nrecess: " + inline(keys{"starts": "3/4", "deep": "5/16", "within": "7/8", "kept": "3/8", "to": "1 3/4", "wide": "2"}, key, value))
	}
	wall := func(key, value string) keys {
		return keys{"wall-rail": inline(keys{"handrail": "bare", "clear": "2", "stands-out": "4", "height": "36", "long": "60", "ends": "returned", "reaches": "all", "studs": "16"}, key, value)}
	}
	cases := []struct {
		limit, words string
		keys, files  keys
		want         finding.Verdict
	}{
		{"riser-most", "", keys{"risers": alike(5, "7 11/16")}, nil, pass},
		{"riser-most", "", keys{"risers": alike(5, "7 3/4")}, nil, pass},
		{"riser-most", "", keys{"risers": alike(5, "7 13/16")}, nil, fail},
		{"riser-most", "", keys{"risers": alike(5, "7 5/8", "7 13/16")}, nil, fail}, // the top one alone
		{"riser-spread", "", keys{"risers": alike(5, "7 1/4", "7 9/16")}, nil, pass},
		{"riser-spread", "", keys{"risers": alike(5, "7 1/4", "7 5/8")}, nil, pass},
		{"riser-spread", "", keys{"risers": alike(5, "7 1/4", "7 11/16")}, nil, fail},
		{"riser-spread", "", keys{"risers": "[7 11/16, 7 1/2, 7 1/4, 7 1/2, 7 1/2]"}, nil, fail}, // greatest less least, not neighbours
		{"tread-least", "", keys{"goings": alike(4, "9 15/16")}, nil, fail},
		{"tread-least", "", keys{"goings": alike(4, "10")}, nil, pass},
		{"tread-least", "", keys{"goings": alike(4, "10 1/16")}, nil, pass},
		{"tread-spread", "", keys{"goings": alike(4, "10 1/2", "10 13/16")}, nil, pass},
		{"tread-spread", "", keys{"goings": alike(4, "10 1/2", "10 7/8")}, nil, pass},
		{"tread-spread", "", keys{"goings": alike(4, "10 1/2", "10 15/16")}, nil, fail},
		{"nosing-least", "", nil, nil, ask},
		{"nosing-most", "", nil, nil, ask},
		{"guard-height-stair", "", keys{"height": "33 15/16"}, nil, fail},
		{"guard-height-stair", "", keys{"height": "34"}, nil, pass},
		{"guard-height-stair", "", keys{"height": "34 1/16"}, nil, pass},
		// The second riser is a sixteenth high and the third as much low: 34 above the line of the nosings is 33 15/16 above that one.
		{"guard-height-stair", "", keys{"height": "34", "risers": "[7 1/2, 7 9/16, 7 7/16, 7 1/2, 7 1/2]"}, nil, fail},
		{"guard-height-stair", "", keys{"height": "34 1/16", "risers": "[7 1/2, 7 9/16, 7 7/16, 7 1/2, 7 1/2]"}, nil, pass},
		{"handrail-height-least", "", keys{"height": "33 15/16"}, nil, fail},
		{"handrail-height-least", "", keys{"height": "34"}, nil, pass},
		{"handrail-height-most", "", keys{"height": "37 15/16"}, nil, pass},
		{"handrail-height-most", "", keys{"height": "38"}, nil, pass},
		{"handrail-height-most", "", keys{"height": "38 1/16"}, nil, fail},
		// And low by a sixteenth: 38 above the line is 38 1/16 above that nosing.
		{"handrail-height-most", "", keys{"height": "38", "risers": "[7 1/2, 7 7/16, 7 9/16, 7 1/2, 7 1/2]"}, nil, fail},
		{"grip-girth-least", "", nil, rail("girth: 3 15/16\nacross: 1 1/2"), fail},
		{"grip-girth-least", "", nil, rail("girth: 4\nacross: 1 1/2"), pass},
		{"grip-girth-most", "", nil, rail("girth: 6 1/4\nacross: 2 1/4"), pass},
		{"recess-deep-least", "", nil, rail("girth: 6 5/16\nacross: 2"), open}, // more than a hand goes round: its recess is asked for
		{"grip-across-most", "", nil, rail("girth: 6 1/4\nacross: 2 3/16"), pass},
		{"grip-across-most", "", nil, rail("girth: 6 1/4\nacross: 2 1/4"), pass},
		{"grip-across-most", "", nil, rail("girth: 6 1/4\nacross: 2 5/16"), fail},
		{"grip-round-least", "", nil, rail("section: round\nwide: 1 3/16"), fail},
		{"grip-round-least", "", nil, rail("section: round\nwide: 1 1/4"), pass},
		{"grip-round-most", "", nil, rail("section: round\nwide: 2"), pass},
		{"grip-round-most", "", nil, rail("section: round\nwide: 2 1/16"), fail},
		{"recess-starts-most", "", nil, recess("starts", "3/4"), pass},
		{"recess-starts-most", "", nil, recess("starts", "13/16"), fail},
		{"recess-deep-least", "", nil, recess("deep", "1/4"), fail},
		{"recess-deep-least", "", nil, recess("deep", "5/16"), pass},
		{"recess-within-most", "", nil, recess("within", "7/8"), pass},
		{"recess-within-most", "", nil, recess("within", "15/16"), fail},
		{"recess-kept-least", "", nil, recess("kept", "5/16"), fail},
		{"recess-kept-least", "", nil, recess("kept", "3/8"), pass},
		{"recess-to-least", "", nil, recess("to", "1 11/16"), fail},
		{"recess-to-least", "", nil, recess("to", "1 3/4"), pass},
		{"recess-wide-least", "", nil, recess("wide", "1 3/16"), fail},
		{"recess-wide-least", "", nil, recess("wide", "1 1/4"), pass},
		{"recess-wide-most", "", nil, recess("wide", "2 3/4"), pass},
		{"recess-wide-most", "", nil, recess("wide", "2 13/16"), fail},
		{"handrail-wall-clearance", "", wall("clear", "1 1/2"), nil, ask},
		{"handrail-projection", "", wall("stands-out", "4 7/16"), nil, pass},
		{"handrail-projection", "", wall("stands-out", "4 1/2"), nil, pass},
		{"handrail-projection", "", wall("stands-out", "4 9/16"), nil, fail},
		{"handrail-height-least", "height of the wall rail", wall("height", "33 15/16"), nil, fail},
		{"handrail-height-least", "height of the wall rail", wall("height", "34"), nil, pass},
		{"handrail-height-most", "height of the wall rail", wall("height", "38"), nil, pass},
		{"handrail-height-most", "height of the wall rail", wall("height", "38 1/16"), nil, fail},
		{"open-riser", "", keys{"open-risers": "yes", "riser-opening": "3 15/16"}, nil, pass},
		{"open-riser", "", keys{"open-risers": "yes", "riser-opening": "4"}, nil, fail},
		{"open-riser", "", keys{"open-risers": "yes", "riser-opening": "4 1/16"}, nil, fail},
		{"open-riser", "", keys{"open-risers": "yes"}, nil, open},
		// Two to the tread, 1 1/4 wide: half the going less 1 1/4 is 4 5/16, 4 3/8 and 4 7/16.
		{"guard-opening-stair", "worst opening between", keys{"per-tread": "2", "goings": alike(4, "11 1/8"), "clear": "{rake: 53 11/16}"}, nil, pass},
		{"guard-opening-stair", "worst opening between", keys{"per-tread": "2", "goings": alike(4, "11 1/4"), "clear": "{rake: 54 1/16}"}, nil, fail},
		{"guard-opening-stair", "worst opening between", keys{"per-tread": "2", "goings": alike(4, "11 3/8"), "clear": "{rake: 54 1/2}"}, nil, fail},
		{"guard-drop", "", keys{"drop": "30"}, nil, finding.NotRequired},
		{"guard-drop", "", keys{"drop": "30 1/16"}, nil, pass},
		// Four risers up to the highest tread: 30 is not more than 30, but the floor beside the stair may lie deeper; 30 1/4 is enough.
		{"guard-drop", "", nil, nil, open},
		{"guard-drop", "", keys{"risers": alike(5, "7 9/16")}, nil, pass},
	}
	for _, c := range cases {
		t.Run(fmt.Sprintf("%s %v %v", c.limit, c.keys, c.files["parts/bare.md"]), func(t *testing.T) {
			r, found := flight(t, c.keys, c.files)
			if got := verdict(t, r, found, c.limit, c.words); got != c.want {
				t.Errorf("%v, want %v", got, c.want)
			}
		})
	}
}

// TestFewestKeepTheLimit: the same treads laid out: at 11 1/8 two balusters to the tread do; at 11 1/4 they leave exactly 4 3/8, which fails, and it
// takes three.
func TestFewestKeepTheLimit(t *testing.T) {
	for going, want := range map[string]int{"11 1/8": 2, "11 1/4": 3} {
		r, _ := flight(t, map[string]string{"goings": alike(4, going)}, nil)
		if r.Chosen == nil || r.Chosen.PerTread != want {
			t.Errorf("%s: %+v, want %d", going, r.Chosen, want)
		}
	}
}

// TestEndsOfAFlight has the places of the two faces by hand: 42 from the lowest riser to the highest, and what the faces stand before or past them. A
// post stands on what lies under its middle, unless the job says.
func TestEndsOfAFlight(t *testing.T) {
	for _, c := range []struct {
		from, to        string
		before          bool   // the lower face stands before the riser
		level, off      string // the clear between them, and how far the lower face stands off its riser
		stands, stands2 string // heights that the two posts stand at
	}{
		{"past: 0", "past: 0", false, "42", "0", "0", "37 1/2"},
		{"before: 1 1/4", "past: 2", true, "45 1/4", "1 1/4", "0", "37 1/2"},
		{"past: 4", "before: 4", false, "34", "4", "7 1/2", "30"},
		{"past: 1", "before: 1", false, "40", "1", "0", "37 1/2"},
		{"past: 4, stands: 0", "before: 4, stands: 5", false, "34", "4", "0", "37 1/2"},
	} {
		t.Run(c.from+"; "+c.to, func(t *testing.T) {
			r, _ := flight(t, map[string]string{"from": "{at: low, " + c.from + "}", "to": "{at: high, " + c.to + "}"}, nil)
			off := inches(t, c.off)
			if c.before {
				off = -off
			}
			if r.Rake.From != off || r.Rake.To-r.Rake.From != inches(t, c.level) {
				t.Errorf("from %v to %v", r.Rake.From, r.Rake.To)
			}
			near(t, "clear", r.Clear.Exact(length.Inches), inches(t, c.level).Float()/25.4, 1e-9)
			for i, want := range []string{c.stands, c.stands2} {
				if got := []layout.End{r.From, r.To}[i].Face.Points[0].Z; got != inches(t, want).Float() {
					t.Errorf("post %d stands at %v mm, want %s in", i+1, got, want)
				}
			}
		})
	}
}

// TestFaceInLine: the first baluster of a tread has its face in line with the riser's, so that its centre is half its width behind it (American
// House-Carpenter, art. 258, public domain); where a bracket stands before the riser, in line with that. Three to a tread of 10 1/2: every 3 1/2.
func TestFaceInLine(t *testing.T) {
	for bracket, want := range map[string][]string{"0": {"5/8", "4 1/8", "7 5/8"}, "3/8": {"1/4", "3 3/4", "7 1/4"}} {
		r, _ := flight(t, map[string]string{"per-tread": "3", "bracket": bracket}, nil)
		var got []string
		for _, m := range r.Marks {
			if m.Tread == 2 {
				got = append(got, tape(m.Riser))
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("bracket %s: %v, want %v", bracket, got, want)
		}
	}
}

// TestNotMeasured: risers or goings that were counted and summed are a plan, not a measurement. Lengths come of it, passes do not.
func TestNotMeasured(t *testing.T) {
	for key, c := range map[string]struct {
		value  string
		limits []string
	}{
		"risers": {"{count: 5, total: 37 1/2}", []string{"riser-most", "riser-spread", "guard-height-stair", "handrail-height-least", "handrail-height-most"}},
		"goings": {"{count: 4, total: 42}", []string{"tread-least", "tread-spread", "guard-height-stair"}},
	} {
		t.Run(key, func(t *testing.T) {
			r, found := flight(t, map[string]string{key: c.value, "drop": "40"}, nil)
			if r.Rake.Measured || r.Chosen == nil || r.Chosen.Verdict() != finding.ToBeMeasured {
				t.Errorf("measured %v, chosen %+v", r.Rake.Measured, r.Chosen)
			}
			if got := value(t, r, "angle"); got < 35.5376 || got > 35.5378 { // atan(30/42), by hand
				t.Errorf("angle %v", got)
			}
			for _, limit := range c.limits {
				if got := verdict(t, r, found, limit, ""); got != finding.ToBeMeasured {
					t.Errorf("%s: %v", limit, got)
				}
			}
			for i, m := range r.Measures {
				if m.Limit == "guard-opening-stair" && found[i].Verdict == finding.Pass {
					t.Errorf("%s passes", m.Subject)
				}
			}
			if !asked(r, key+":") {
				t.Errorf("nothing asks for the %s one by one: %+v", key, r.Missing)
			}
		})
	}
}

// asked reports that something still to be measured is to be written under a key.
func asked(r *layout.Run, key string) bool {
	return slices.ContainsFunc(r.Missing, func(m finding.Reading) bool { return strings.Contains(m.Where, key) })
}

// TestJointUnderTheRake: a joint in the rail at 7.83 along a rake of 7 3/4 on 10. The second baluster stands 5 5/8 from the riser, 7.1165 along, marked
// 7 1/8; it is 1 1/4 wide, 1.5814 along the rake. So the joint lies 0.705 from its middle and 0.086 under it; at 7.95 it is 0.034 clear (by hand).
func TestJointUnderTheRake(t *testing.T) {
	for joint, want := range map[string]finding.Verdict{"7.83": finding.Fail, "7.95": finding.Pass} {
		r, _ := flight(t, map[string]string{"risers": alike(5, "7 3/4"), "goings": alike(4, "10"), "clear": "{rake: 50 5/8}", "per-tread": "2", "joints": "[" + joint + "]"}, nil)
		i := slices.IndexFunc(r.Findings, func(f finding.Finding) bool { return strings.HasSuffix(f.ID, "/joint-1") })
		if i < 0 || r.Findings[i].Verdict != want {
			t.Errorf("joint at %s: %+v", joint, r.Findings)
		}
	}
}

// TestLandingKeepsItsLimit: on the landing 4 holds, not 4 3/8. Three to a tread of 11 1/2 are 3.833 apart; on the landing they stand 5/8, 4 7/16 and
// 8 5/16 from the riser, and the post 9.2. Without the last one 4.14 would be left, over 4: it stays, and three to the tread pass (by hand).
func TestLandingKeepsItsLimit(t *testing.T) {
	r, _ := flight(t, map[string]string{"risers": alike(5, "7"), "goings": alike(4, "11 1/2"), "to": "{at: high, past: 9.2}", "clear": "{level: 55.2, rake: 64.62}"}, nil)
	if r.Chosen == nil || r.Chosen.PerTread != 3 || !r.Chosen.Passes {
		t.Fatalf("%+v", r.Chosen)
	}
	if last := r.Marks[len(r.Marks)-1]; tape(last.Riser) != "8 5/16" || last.Tread != 5 {
		t.Errorf("the last one stands %s from riser %d", tape(last.Riser), last.Tread)
	}
}

// TestWorstOnTheLanding: three to a tread of 10 9/16 are 3.5208 apart, on the landing at 5/8, 4 1/8 and 7 11/16 to the tape: 3 1/2 and 3 9/16 apart. The
// wider one is judged: 3 9/16 less 1 1/4.
func TestWorstOnTheLanding(t *testing.T) {
	r, _ := flight(t, map[string]string{"per-tread": "3", "goings": alike(4, "10 9/16"), "to": "{at: high, past: 13}", "clear": "{rake: 67 7/8}"}, nil)
	for _, o := range r.Openings {
		if strings.Contains(o.Where, "landing") {
			near(t, o.Where, o.Foot, 2.3125, 1e-9)
			return
		}
	}
	t.Errorf("no opening on the landing: %+v", r.Openings)
}

// TestPinsAreInWood: on a raked shoe one neighbour's foot stands higher than the other's; the pin below it is in the shoe, and no ball passes beside it.
// Plain 1 1/4 from foot to head, pinned at both ends, it leaves what the marks leave: their spacing less 1 1/4.
func TestPinsAreInWood(t *testing.T) {
	pinned := "kind: baluster\nbottom: pin\ntop: pin\npin: {wide: 1/2, long: 3/4}\nprofile: [{at: 0, round: 1/2}, {at: 3/4, round: 1/2}, {at: 3/4, square: 1 1/4}, {at: 42, square: 1 1/4}]"
	r, _ := flight(t, map[string]string{"shoe": "shoe", "shoe-over": "1", "under-shoe": "closed", "baluster": "pinned"},
		map[string]string{"parts/pinned.md": pinned, "parts/shoe.md": "kind: shoe\nwide: 2\nhigh: 1"})
	widest := length.Length(0)
	for i := 1; i < len(r.Marks); i++ {
		widest = max(widest, r.Marks[i].At-r.Marks[i-1].At)
	}
	i := slices.IndexFunc(r.Openings, func(o layout.Opening) bool { return o.Part == "between" })
	if i < 0 {
		t.Fatal("no opening between balusters")
	}
	near(t, "opening", r.Openings[i].Worst, widest.Float()/25.4-1.25, 1e-6)
}

// TestPartlyRead: a flight of which one reading is left blank or out asks for it by its key, and passes nothing that rests on it.
func TestPartlyRead(t *testing.T) {
	for key, c := range map[string]struct{ asks, limit string }{
		"from": {"from:", "guard-opening-stair"}, "to": {"to:", "guard-opening-stair"}, "risers": {"risers:", "guard-height-stair"}, "goings": {"goings:", "guard-height-stair"},
		"nosing": {"nosing:", "guard-height-stair"}, "height": {"height:", "guard-height-stair"}, "clear": {"clear: {rake: }", ""},
	} {
		for _, blank := range []bool{true, false} {
			t.Run(fmt.Sprintf("%s, blank %v", key, blank), func(t *testing.T) {
				keys := plainFlight()
				delete(keys, key)
				if blank {
					keys[key] = ""
				}
				r, found := flightOf(t, keys, nil)
				if !asked(r, c.asks) {
					t.Errorf("%q is not asked for: %+v", c.asks, r.Missing)
				}
				for i, m := range r.Measures {
					if m.Limit == c.limit && found[i].Verdict == finding.Pass {
						t.Errorf("%s passes", m.Subject)
					}
				}
			})
		}
	}
}

// TestHalfFilledFlights draws flights and leaves keys of theirs blank or out: each one that is always needed is asked for by name, and a flight that can't be
// laid out says what it waits for or what is wrong with it.
func TestHalfFilledFlights(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawFlight(rt)
		needed := []string{"risers", "goings", "nosing", "height", "clear"} // on top of these a face may follow from the level clear
		dropped := map[string]bool{}
		var lines []string
		for _, line := range strings.Split(d.files["runs/1-f.md"], "\n") {
			key, _, _ := strings.Cut(line, ":")
			how := rapid.IntRange(0, 3).Draw(rt, key+" left")
			if key == "kind" {
				how = 3
			}
			switch how {
			case 0:
				dropped[key] = true
			case 1:
				dropped[key] = true
				lines = append(lines, key+":")
			default:
				lines = append(lines, line)
			}
		}
		d.files["runs/1-f.md"] = strings.Join(lines, "\n")
		_, l := lay(t, d.files)
		r := l.Runs[0]
		for _, key := range needed {
			if dropped[key] && !asked(r, key+":") {
				rt.Fatalf("%s is not asked for: %+v\n%s", key, r.Missing, d.files["runs/1-f.md"])
			}
		}
		failed := slices.ContainsFunc(r.Findings, func(f finding.Finding) bool { return f.Verdict == finding.Fail })
		if r.Chosen == nil && len(r.Missing) == 0 && !failed {
			rt.Fatalf("not laid out, and nothing says why:\n%s", d.files["runs/1-f.md"])
		}
	})
}

// TestLeanOnAFlight: the faces stand 2 3/8 before the lowest riser and at the highest, 44 3/8 apart at the foot; 55 1/8 along a rake of 7 1/2 on 10 1/2 is 44.857 level (by
// 1.228904): 0.482 wider at the rail's middle. There the lower face is 41.059 above the floor: 7 1/2 - 1 3/8 · 0.714286 + 36, less half of 2 3/8 · 1.228904. Under the
// rail at the first baluster, 41.742 up, all of it on the lower end would be 0.490, and 2 3/8 becomes 2.865 (by hand). A level on the lower face that finds it plumb leaves
// 2 3/8 there, and gives the lean to the upper end.
func TestLeanOnAFlight(t *testing.T) {
	keys := map[string]string{"from": "{at: low, before: 2 3/8}", "clear": "{rake: 55 1/8}", "per-tread": "2"}
	upright, _ := flight(t, map[string]string{"from": "{at: low, before: 2 3/8}", "clear": "{rake: 54 1/2}", "per-tread": "2"}, nil) // 44.348: plumb, to the tape
	open, _ := flight(t, keys, nil)
	near(t, "lower end, not settled", open.Openings[0].Worst, 2.865, 0.002)
	if open.Lean == nil || open.Lean.Settled || !open.Lean.Out || !asked(open, "plumb:") {
		t.Errorf("%+v, %+v", open.Lean, open.Missing)
	}
	last := len(open.Openings) - 1
	if d := (open.Openings[last].Worst - upright.Openings[last].Worst).Float() / 25.4; d < 0.45 || d > 0.5 {
		t.Errorf("the upper end is %v wider, with all of the lean charged to it", d)
	}
	if open.Openings[1].Worst != upright.Openings[1].Worst {
		t.Error("lean moved a baluster")
	}
	keys["from"] = "{at: low, before: 2 3/8, plumb: {at: 36, away: 0}}"
	settled, _ := flight(t, keys, nil)
	near(t, "lower end, plumb", settled.Openings[0].Worst, 2.375, 1e-6)
	if d := (settled.Openings[last].Worst - upright.Openings[last].Worst).Float() / 25.4; d < 0.45 || d > 0.5 {
		t.Errorf("the upper end is %v wider, and the lower one is plumb", d)
	}
}

// TestOneMarkOneCut: the second riser is a sixty-fourth high and the third as much low, and the shop tells every length apart. On the tape there are two lengths
// all the same: 34 3/16 and 37 15/16 (H - t·c + (x + q)·T by hand, 34.2420 and 37.9920, the second tread's a sixty-fourth less; down to the sixteenth).
func TestOneMarkOneCut(t *testing.T) {
	r, _ := flight(t, map[string]string{"risers": "[7 1/2, 7 33/64, 7 31/64, 7 1/2, 7 1/2]", "per-tread": "2"}, map[string]string{"settings.md": "kind: settings\nfit: 0\nalike: 0"})
	var got []string
	for _, c := range r.Balusters {
		got = append(got, fmt.Sprintf("%d of %s", c.Count, tape(c.Length)))
	}
	if !slices.Equal(got, []string{"4 of 34 3/16", "4 of 37 15/16"}) {
		t.Errorf("%v", got)
	}
}

// TestMarkHalfway: 8 on 15 is the triangle of 8, 15 and 17, whose secant is no decimal. A mark that falls halfway between two divisions along the rake may go to either; it
// is no farther off than half of one, and the second layout of the random flights takes the same side.
func TestMarkHalfway(t *testing.T) {
	halfway := 0
	for clear := 12 * 16; clear < 40*16; clear++ {
		level := fmt.Sprintf("%d %d/16", clear/16, clear%16)
		r, _ := flight(t, map[string]string{"risers": alike(4, "8"), "goings": alike(3, "15"), "to": "{at: high}", "clear": "{level: " + level + "}", "shoe": "shoe", "shoe-over": "1", "under-shoe": "closed", "count": "7"}, nil)
		c := 17.0 / 15
		again := stairway{division: 25.4 / 16, risers: []float64{8, 8, 8, 8}, goings: []float64{15, 15, 15}, to: float64(clear) / 16 * 25.4, wide: 1.25 * 25.4}
		for i, m := range r.Marks {
			near(t, level, m.At, again.onShoe(7)[i].x/25.4, 1e-6)
			along := (float64(m.K)*(float64(clear)/16+1.25)/8 - 0.625) * c
			near(t, level, m.Along, along, 1.0/32+1e-6)
			if off := along*16 - float64(int(along*16)) - 0.5; off > -1e-6 && off < 1e-6 {
				halfway++
			}
			if m.Along%(length.Inch/16) != 0 {
				t.Errorf("%s: mark %d is not on the tape", level, m.K)
			}
		}
	}
	if halfway == 0 {
		t.Error("no mark fell halfway")
	}
}

// TestFootOfAPinnedBaluster: of one whose stations begin with its pin of 1/2 nobody has to write the width of the foot: it is laid out by the 1 1/4 over
// the pin, and asks for the pin where that is blank.
func TestFootOfAPinnedBaluster(t *testing.T) {
	pinned := "kind: baluster\nbottom: pin\npin: {wide: 1/2, long: 3/4}\nprofile: [{at: 0, round: 1/2}, {at: 3/4, round: 1/2}, {at: 3/4, square: 1 1/4}, {at: 42, square: 1 1/4}]"
	for _, head := range []string{"", "height:"} { // and while the heights are still to be measured
		_, l := lay(t, map[string]string{"job.md": strings.Replace(strings.Replace(jobHead, "baluster: plain", "baluster: pinned", 1), "\nheight: 38", map[string]string{"": "\nheight: 38"}[head], 1),
			"parts/pinned.md": pinned, "runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}\ncount: 18\n" + head})
		// (96 − 18·1 1/4)/19 is 3.868; of pins alone it would be 4.579.
		if r := l.Runs[0]; r.Chosen == nil {
			t.Errorf("%q: not laid out: %+v", head, r.Missing)
		} else {
			near(t, "gap", r.Chosen.Gap, 73.5/19, 1e-6)
		}
	}
	_, l := lay(t, map[string]string{"job.md": strings.Replace(jobHead, "baluster: plain", "baluster: pinned", 1),
		"parts/pinned.md": strings.Replace(pinned, "long: 3/4", "long:", 1), "runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}"})
	if r := l.Runs[0]; r.Chosen != nil || !asked(r, "pin: {long: }") {
		t.Errorf("a blank pin: %+v", r.Missing)
	}
}
