package layout_test

import (
	"strings"
	"testing"

	"balustrade/jobbook/finding"
)

// TestEdgeOfAFlight: a newel on the landing wants joists across the edge or blocking, one on a tread blocking under that tread unless it is bolted to
// the string, one on the floor below stands at no edge. On the tread, 3 1/2 wide, it lands on 1 of overhang and 4 of solid wood where its middle is 2 3/4
// back, from 1 to 4 1/2; at 2 5/8 it stands an eighth out (by hand).
func TestEdgeOfAFlight(t *testing.T) {
	const past, before = "{at: high, past: 0}", "{at: high, before: 4}" // on the landing; on tread 4
	edge := func(more string) string { return "{back: 2 3/4, overhang: 1, solid: 4" + more + "}" }
	for _, c := range []struct {
		name, to, foot, edge string
		asks                 string // of edge:, else nothing of it
		fails                string // part of an id, else nothing of edge and blocking
	}{
		{"landing, joists not said", past, "plate", edge(""), "edge: {joists", ""},
		{"landing, joists across", past, "plate", edge(", joists: across"), "", ""},
		{"landing, blocking not said", past, "plate", edge(", joists: along"), "edge: {blocking", ""},
		{"landing, no blocking", past, "plate", edge(", joists: along, blocking: no"), "", "/blocking-to"},
		{"landing, no blocking, bolted", past, "bolted", edge(", joists: along, blocking: no"), "", "/blocking-to"},
		{"landing, blocking", past, "plate", edge(", joists: along, blocking: yes"), "", ""},
		{"tread, not said", before, "plate", edge(""), "edge: {blocking", ""},
		{"tread, no blocking", before, "plate", edge(", blocking: no"), "", "/blocking-to"},
		{"tread, blocking", before, "plate", edge(", blocking: yes"), "", ""},
		{"tread, bolted to the string", before, "bolted", edge(""), "", ""},
		{"tread, over the overhang", before, "plate", strings.Replace(edge(", blocking: yes"), "2 3/4", "2 5/8", 1), "", "/edge-out-to"},
		{"tread, notched over it", before, "bolted", strings.Replace(edge(""), "2 3/4", "2 5/8", 1), "", ""},
		{"tread, behind the string", before, "bolted", "{back: 2 3/4, overhang: 1, solid: 3 7/16}", "", "/edge-in-to"},
		{"landing, whose edge is another", past, "plate", strings.Replace(edge(", joists: across"), "2 3/4", "1", 1), "", ""},
		{"the framing, before the edge is measured", past, "plate", "{joists: along, blocking: no}", "edge: {back", "/blocking-to"},
	} {
		t.Run(c.name, func(t *testing.T) {
			head := strings.Replace(flightHead, "high: {newel: post}", "high: {newel: post, foot: "+c.foot+"}", 1)
			r, _ := flight(t, map[string]string{"to": c.to, "edge": c.edge}, map[string]string{"job.md": head})
			if c.asks == "" && asked(r, "edge:") || c.asks != "" && !asked(r, c.asks) {
				t.Errorf("asks %+v", r.Missing)
			}
			failed := ""
			for _, f := range r.Findings {
				if f.Verdict == finding.Fail && (strings.Contains(f.ID, "/edge-") || strings.Contains(f.ID, "/blocking-")) {
					failed += f.ID
				}
			}
			if !strings.HasSuffix(failed, c.fails) || (c.fails == "") != (failed == "") {
				t.Errorf("fails %q, want %q", failed, c.fails)
			}
		})
	}
}

// TestBlankMaps: a key that takes keys of its own and is left blank asks for them, as though each of them were written blank.
func TestBlankMaps(t *testing.T) {
	for key, asks := range map[string][]string{
		"edge":      {"edge: {back: }", "edge: {overhang: }", "edge: {solid: }", "edge: {joists: }"},
		"wall-rail": {"wall-rail: {clear: , stands-out: , height: , long: , ends: , reaches: , studs: }"},
		"joints":    {"joints: "},
	} {
		plain, _ := flight(t, nil, nil)
		r, _ := flight(t, map[string]string{key: ""}, nil)
		for _, a := range asks {
			if asked(plain, a) || !asked(r, a) {
				t.Errorf("%s: left blank does not ask for %s: %+v", key, a, r.Missing)
			}
		}
		if r.Handrail == nil || len(r.RailPieces) > 0 || r.Job.Stair.WallRail.Given() {
			t.Errorf("%s: blank is taken for something", key)
		}
	}
	// One of a wall rail's keys makes it one, and then each of the others is asked for.
	for _, one := range []string{"reaches: all", "studs: 16"} {
		if r, _ := flight(t, map[string]string{"wall-rail": "{" + one + "}"}, nil); !asked(r, "wall-rail: {clear: }") {
			t.Errorf("%s: %+v", one, r.Missing)
		}
	}
	// A guard whose rail is no handrail, and the wall's left blank, asks once.
	r, _ := flight(t, map[string]string{"wall-rail": "", "is-handrail": "no"}, nil)
	n := 0
	for _, m := range r.Missing {
		if strings.Contains(m.Where, "wall-rail:") {
			n++
		}
	}
	if n != 1 {
		t.Errorf("asked for a wall rail %d times", n)
	}
	// A groove that is left blank is not a rail without one: no baluster is cut until it is read.
	for _, part := range []string{"parts/rail.md", "parts/shoe.md"} {
		_, l := lay(t, map[string]string{"job.md": jobHead, "runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 60, rail: 60}",
			part: strings.Split(parts[part], "\nplow")[0] + "\nplow:"})
		if r := l.Runs[0]; !asked(r, "plow: {deep: }") || len(r.Balusters) > 0 {
			t.Errorf("%s: plow left blank: %+v", part, r.Missing)
		}
	}
	// Nor is a baluster whose turning is left blank a plain stick.
	_, l := lay(t, map[string]string{"job.md": jobHead, "runs/1-r.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 60, rail: 60}", "parts/plain.md": parts["parts/plain.md"] + "\nprofile:"})
	if r := l.Runs[0]; !asked(r, "profile:") || r.Chosen != nil {
		t.Errorf("profile left blank: %+v", r.Missing)
	}
}

// TestBlankChoices: what a code or the client may well ask for, and what decides whether a ball passes, is asked for where its key is left blank.
func TestBlankChoices(t *testing.T) {
	for _, key := range []string{"open-risers", "is-handrail", "rise", "most"} {
		plain, _ := flight(t, nil, nil)
		if r, _ := flight(t, map[string]string{key: ""}, nil); asked(plain, key+":") || !asked(r, key+":") {
			t.Errorf("%s left blank: %+v", key, r.Missing)
		}
	}
	r, f := flight(t, map[string]string{"open-risers": ""}, nil)
	if r.Chosen == nil || r.Chosen.Verdict() == finding.Pass {
		t.Errorf("nobody says that there are risers, and the count passes: %+v", r.Chosen)
	}
	for i, m := range r.Measures {
		if (m.Limit == "guard-opening-stair" || m.Limit == "open-riser" || strings.HasPrefix(m.Limit, "nosing")) && f[i].Verdict != finding.ToBeMeasured {
			t.Errorf("%s: %v", m.Subject, f[i].Verdict)
		}
	}
	for _, key := range []string{"most", "floor-to-come"} {
		if r := one(t, jobHead, "from: a\nto: b\nclear: {floor: 60, rail: 60}\n"+key+":"); !asked(r, key+":") {
			t.Errorf("%s left blank: %+v", key, r.Missing)
		}
	}
}

// TestSideOfTheStair: it is asked for where its key is left blank; where it is absent the plan says that it was not said.
func TestSideOfTheStair(t *testing.T) {
	for side, want := range map[string]bool{"": true, "left": false} {
		if r, _ := flight(t, map[string]string{"stair": side}, nil); asked(r, "stair:") != want {
			t.Errorf("%q: %+v", side, r.Missing)
		}
	}
	if r, _ := flight(t, nil, nil); asked(r, "stair:") {
		t.Errorf("%+v", r.Missing)
	}
}
