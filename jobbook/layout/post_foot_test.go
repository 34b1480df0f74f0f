package layout

import (
	"strings"
	"testing"

	"balustrade/jobbook/finding"
)

// metric are the shared parts in millimetres.
var metric = map[string]string{
	"settings.md":   "kind: settings\ndivision-mm: 1\nfit: 1.5\nscribe: 6\nreveal: 6.35",
	"parts/post.md": "kind: newel\nwide: 90\nlong: 1200",
	"parts/rail.md": "kind: handrail\nwide: 60\nhigh: 54",
	"parts/bolt.md": "kind: bolt\nwide: 8\nin-post: 50\nbore: 10",
}

// TestFootBelowTheFloor: a post held by rows of bolts, 60 and 180 below the floor, with bolts of 12: 4·12 = 48 of wood below the lowest row, so that the newel has to go 228 below the floor (by hand). The
// rail is 905 up and 50 high; the block has to reach 6.35 over it.
func TestFootBelowTheFloor(t *testing.T) {
	at := func(post, long string) Post {
		return built(t, nil, metric, map[string]string{
			"job.md":                      "kind: job\nunits: mm\nrules: \ndrop: 2500\nheight: 905\nhandrail: rail\nshoe: none\nposts: {a: {newel: stick, " + post + "}}",
			"parts/stick.md":              "kind: newel\nwide: 90\nlong: " + long,
			"parts/rail.md":               "kind: handrail\nwide: 60\nhigh: 50",
			"shop/fixings/m12.md":         "kind: fixing\ntitle: M12\ntype: bolt\nwide: 12\nlong: 180",
			"shop/fixings/lag.md":         "kind: fixing\ntitle: Lag screw\ntype: lag screw\nwide: 12\nlong: 160",
			"shop/fastenings/newel-on.md": "kind: fastening\ntitle: Bolted\njoins: newel bolted\nwith: m12\ncount: 2\nthrough: newel\ninto: framing",
			"shop/fastenings/newel-la.md": "kind: fastening\ntitle: Lagged\njoins: newel lagged\nwith: lag\ncount: 2\nthrough: newel\ninto: framing",
			"runs/1-r.md":                 "kind: run\nfrom: a\nto: wall\nclear: {floor: 1500, rail: 1500}",
		}).posts[0]
	}
	millimetres := func(t *testing.T, what string, got, want float64) {
		t.Helper()
		if got-want > 1e-5 || want-got > 1e-5 {
			t.Errorf("%s is %v mm, want %v", what, got, want)
		}
	}
	for _, foot := range []string{"bolted", "lagged"} {
		t.Run(foot+", nobody says how deep", func(t *testing.T) {
			p := at("foot: "+foot+", rows: [60, 180]", "1500")
			if !wants(p.Missing, "how far the foot of a goes below the floor: its lowest row of fixings is 180 mm below it, and with the wood that is to be under that row it is 228 mm at the least") {
				t.Errorf("%+v", p.Missing)
			}
			if p.BlockTo != 0 || p.Top != 0 || p.finding("block") != nil || wants(p.Missing, "at the top of a") {
				t.Errorf("its block and its top are known: %+v", p)
			}
			if len(p.Rows) != 2 || p.Rows[0].Up != 0 || p.Rows[0].Bench != "" {
				t.Errorf("rows up from an end that is not known: %+v", p.Rows)
			}
			millimetres(t, "the upper row", p.Rows[0].Below.Float(), 60)
		})
	}
	t.Run("less wood under the lowest row than is wanted", func(t *testing.T) {
		p := at("foot: bolted, rows: [60, 180], deep: 227", "1400")
		p.verdict(t, "foot-wood", finding.Fail, "let it go down 228 mm at the least (deep:), or set the rows 1 mm higher", "common practice, no source")
	})
	t.Run("just enough", func(t *testing.T) {
		p := at("foot: bolted, rows: [60, 180], deep: 228", "1200")
		p.verdict(t, "foot-wood", finding.Pass)
		millimetres(t, "the lower row from the newel's bottom end", p.Rows[1].Up.Float(), 48)
		millimetres(t, "the upper one", p.Rows[0].Up.Float(), 168)
		millimetres(t, "top of its block", p.BlockTo.Float(), 1200-228)
	})
	t.Run("held by what nobody worked out", func(t *testing.T) { // a plate: its papers say how much wood they want
		p := built(t, nil, metric, map[string]string{
			"job.md":       "kind: job\nunits: mm\nrules: \ndrop: 2500\nheight: 905\nhandrail: rail\nbolt: bolt\nshoe: none\nposts: {a: {newel: own, foot: bolted, rows: [60, 180], deep: 181, with: own-plate}}",
			"parts/own.md": "kind: newel\nwide: 90\nlong: 1200", "parts/own-plate.md": "kind: fixing\ntype: plate", "runs/1-r.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 1500, rail: 1500}",
		}).posts[0]
		p.verdict(t, "foot-wood", finding.AskAuthority, "papers of what holds it")
	})
	t.Run("no wood at the lowest row", func(t *testing.T) {
		for _, deep := range []string{"100", "180", "0"} {
			at("foot: bolted, rows: [60, 180], deep: "+deep, "1400").verdict(t, "foot-wood", finding.Fail, "let it go down 228 mm at the least (deep:)")
		}
	})
	t.Run("too short for both its bolts and its rail", func(t *testing.T) { // 228 down leaves 772 of 1000, and 911.35 are wanted: 139.35 more
		p := at("foot: bolted, rows: [60, 180], deep: 228", "1000")
		p.verdict(t, "block", finding.Fail, "a newel that is longer by 139.35 mm")
	})
	t.Run("what is taken off its foot goes before the rows are measured", func(t *testing.T) {
		p := at("foot: bolted, rows: [60, 180], deep: 228, off: 20", "1220")
		millimetres(t, "the lower row from the end as cut", p.Rows[1].Up.Float(), 48)
	})
	t.Run("feet that need none of it", func(t *testing.T) {
		if p := at("foot: plate, top: 1000", "1000"); wants(p.Missing, "below the floor") || p.finding("foot-wood") != nil || len(p.Rows) > 0 {
			t.Errorf("%+v", p)
		}
	})
}

// TestTop: a rail 38 up, 2 high, needs wood up to 38 1/4.
func TestTop(t *testing.T) {
	at := func(post, newel string) Post {
		return built(t, nil, map[string]string{
			"job.md": postHead + "posts: {a: {newel: own, " + post + "}}", "parts/own.md": newel,
			"runs/1-r.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 60, rail: 60}",
		}).posts[0]
	}
	const stick, turned = "kind: newel\nwide: 3 1/2\nlong: ", "kind: newel\nprofile: [{at: 0, square: 3 1/2}, {at: 43, square: 3 1/2}, {at: 43, round: 2}, {at: 48, round: 2}]"
	t.Run("a hand over what is needed, and a nanometre more", func(t *testing.T) { // 38 1/4 + 4 = 42 1/4
		p := at("foot: plate", stick+"42 1/4")
		same(t, "top", p.Top, "42 1/4")
		if wants(p.Missing, "at the top of a") || p.Cut.Fit != "as bought" {
			t.Errorf("%+v %+v", p.Missing, p.Cut)
		}
		p = at("foot: plate", stick+"42 17/64")
		if !wants(p.Missing, "as bought it comes to 42 17/64 in above the floor, 4 1/64 in over what its rails need") || p.Cut.Fit != "as bought until it is said what is wanted at its top" {
			t.Errorf("%+v %+v", p.Missing, p.Cut)
		}
	})
	t.Run("deep in the floor", func(t *testing.T) { // 48 - 6 = 42, under a hand over
		if p := at("foot: let in, deep: 6", stick+"48"); wants(p.Missing, "at the top of a") || p.Top != in(t, "42") {
			t.Errorf("%+v", p)
		}
	})
	t.Run("a height is named", func(t *testing.T) { // 40 over the floor and 6 in it
		p := at("foot: let in, deep: 6, top: 40", stick+"48")
		same(t, "cut", p.Cut.Length, "46")
		same(t, "top", p.Top, "40")
		same(t, "block", p.BlockTo, "40")
		if p.Cut.Fit != "cut its top: 2 in comes off" || len(p.Missing) > 0 {
			t.Errorf("%+v %+v", p.Cut, p.Missing)
		}
		p.verdict(t, "top", finding.Pass)
	})
	t.Run("off its foot as well", func(t *testing.T) {
		p := at("foot: plate, off: 1, top: 40", stick+"48")
		same(t, "cut", p.Cut.Length, "40")
		if p.Cut.Fit != "cut its foot: 1 in comes off; then its top: 7 in comes off" {
			t.Errorf("%+v", p.Cut)
		}
	})
	t.Run("as bought", func(t *testing.T) {
		if p := at("foot: plate, top: 48", stick+"48"); p.Cut.Fit != "as bought" || len(p.Missing) > 0 || p.Cut.Length != in(t, "48") {
			t.Errorf("%+v %+v", p.Cut, p.Missing)
		}
	})
	t.Run("higher than it is", func(t *testing.T) {
		at("foot: plate, top: 50", stick+"48").verdict(t, "top", finding.Fail, "longer by 2 in")
	})
	t.Run("lower than its rail", func(t *testing.T) {
		at("foot: plate, top: 38", stick+"48").verdict(t, "block", finding.Fail, "a higher top: 38 1/4 in at the least (top:)")
	})
	t.Run("left blank", func(t *testing.T) {
		if p := at("foot: plate, top: ", stick+"42"); !wants(p.Missing, "what is wanted at the top of a") {
			t.Errorf("%+v", p.Missing)
		}
	})
	t.Run("nobody says how it is fixed", func(t *testing.T) {
		if p := at("", stick+"48"); wants(p.Missing, "at the top of a") {
			t.Errorf("%+v", p.Missing)
		}
	})
	t.Run("turned above its block", func(t *testing.T) { // its cap is as it was turned
		p := at("foot: plate", turned)
		if wants(p.Missing, "at the top of a") || p.Top != in(t, "48") {
			t.Errorf("%+v", p)
		}
		p = at("foot: plate, top: 44", turned)
		p.verdict(t, "top-turned", 0)          // its cap is as round all the way: 4 of it come off
		p = at("foot: plate, top: 42", turned) // in the block: the cap goes
		p.verdict(t, "top-turned", 0)
		if !strings.Contains(p.Cut.Fit, "the turning over its block goes with it") {
			t.Errorf("%+v", p.Cut)
		}
		const vase = "kind: newel\nprofile: [{at: 0, square: 3 1/2}, {at: 40, square: 3 1/2}, {at: 40, round: 3}, {at: 44, round: 2}, {at: 48, round: 2}]"
		at("foot: plate, top: 42", vase).verdict(t, "top-turned", finding.Fail, "run into the turning")
		at("foot: plate, top: 40", vase).verdict(t, "top-turned", finding.Fail, "run into the turning") // just where it begins
		if p := at("foot: plate, top: ", turned); !wants(p.Missing, "what is wanted at the top of a") { // left blank it is a reading to take
			t.Errorf("%+v", p.Missing)
		}
	})
}

// TestBoltCures: rails of 54 with bores of 10 for their bolts and of 19 from below. A bore from below leaves 6.35 over it while its bolt is no more than 27 - 6.35 - 9.5 = 11.15 over the middle; bolts of 8
// want 8 + 3.175 = 11.175 between them (by hand).
func TestBoltCures(t *testing.T) {
	at := func(first, second, access string) (Post, *finding.Finding) {
		g := built(t, nil, metric, map[string]string{
			"job.md":         "kind: job\nunits: mm\nrules: \ndrop: 2500\nheight: 905\nhandrail: rail\nbolt: bolt\nshoe: none\nposts: {a: {newel: stick, foot: plate, turn: right 90}}",
			"parts/stick.md": "kind: newel\nwide: 90\nlong: 950", "parts/bolt.md": "kind: bolt\nwide: 8\nin-post: 50\nbore: 10\naccess: " + access,
			"runs/1-r.md": "kind: run\nfrom: {at: a" + first + "}\nto: wall\nclear: {floor: 1500, rail: 1500}",
			"runs/2-s.md": "kind: run\nfrom: {at: a" + second + "}\nto: wall\nclear: {floor: 1500, rail: 1500}",
		})
		var access2 *finding.Finding
		for _, b := range g.runs {
			b.bores()
		}
		p := nodesOf(g.runs[0].job, g.runs)[0].stand()
		for i := range g.runs[1].Findings {
			if f := &g.runs[1].Findings[i]; strings.HasSuffix(f.ID, "run/s/access-from") {
				access2 = f
			}
		}
		return p, access2
	}
	t.Run("the upper one can't go up: the lower goes down", func(t *testing.T) {
		p, access := at("", ", bolt-up: 11", "19")
		f := p.finding("bolts/s/r")
		if f == nil || f.Verdict != finding.Fail || !strings.HasPrefix(f.Cure, "move the bolt of r down by 1 mm (bolt-down: 1 mm at its end from: of runs/1-r.md); the other one does not go up so far, for its bore from below would leave less than 6.35 mm") {
			t.Errorf("%+v", f)
		}
		if access == nil || access.Verdict != finding.Pass {
			t.Errorf("%+v", access)
		}
		p, access = at(", bolt-down: 1", ", bolt-up: 11", "19") // what it says passes
		p.verdict(t, "bolts/s/r", finding.Pass)
		if access == nil || access.Verdict != finding.Pass {
			t.Errorf("%+v", access)
		}
	})
	t.Run("moved up too far: back, and the other one down", func(t *testing.T) {
		_, access := at("", ", bolt-up: 12", "19")
		if access == nil || access.Verdict != finding.Fail || access.Cure != "move it no farther up: bolt-up: 11 mm at its end from: of runs/2-s.md; and the bolt of r down by 1 mm, so that the two pass in the post: bolt-down: 1 mm at its end from: of runs/1-r.md" {
			t.Errorf("%+v", access)
		}
	})
	t.Run("either", func(t *testing.T) { // a narrow bore: 27 - 6.35 - 5 = 15.65 up
		p, _ := at("", ", bolt-up: 11", "10")
		p.verdict(t, "bolts/s/r", finding.Fail, "up by 1 mm (bolt-up: 12 mm at its end from: of runs/2-s.md) or the bolt of r down by 1 mm")
	})
	small := func(high string) Post { // up: 15 - 6.35 - 0.5 = 8.15 of a rail of 30, 3.15 of one of 20; down: 15 - 5 = 10, and 5
		t.Helper()
		metric["parts/rail.md"] = "kind: handrail\nwide: 60\nhigh: " + high
		defer func() { metric["parts/rail.md"] = "kind: handrail\nwide: 60\nhigh: 54" }()
		p, _ := at("", "", "1")
		return p
	}
	t.Run("both, and neither alone", func(t *testing.T) {
		small("30").verdict(t, "bolts/r/s", finding.Fail, "move the bolt of r up by 6 mm (bolt-up: 6 mm at its end from: of runs/1-r.md) and the bolt of s down by 6 mm (bolt-down: 6 mm")
	})
	t.Run("no wood below it but its plow", func(t *testing.T) { // 27 - 5 - 5 leaves 17 under the bore of a bolt moved down by 5, and a plow of 18 is there
		metric["parts/rail.md"] = "kind: handrail\nwide: 60\nhigh: 54\nplow: {wide: 20, deep: 18}"
		defer func() { metric["parts/rail.md"] = "kind: handrail\nwide: 60\nhigh: 54" }()
		p, _ := at(", bolt-down: 5", "", "19")
		p.verdict(t, "bolt-moved/r", finding.Fail)
		p, _ = at(", bolt-down: 3", "", "19") // 27 - 3 - 5 - 18 = 1
		p.verdict(t, "bolt-moved/r", finding.Pass)
		p, _ = at("", ", bolt-up: 11", "19") // and the cure goes no farther than that: 1 of the 4 that are left
		p.verdict(t, "bolts/s/r", finding.Fail, "down by 1 mm")
		metric["parts/rail.md"] = "kind: handrail\nwide: 60\nhigh: 54\nplow: {wide: 20, deep: 22}"
		p, _ = at("", ", bolt-up: 11", "19") // 27 - 5 - 22 = 0: none
		p.verdict(t, "bolts/s/r", finding.Fail, "no move of the two cures it")
	})
	t.Run("neither", func(t *testing.T) {
		small("20").verdict(t, "bolts/r/s", finding.Fail, "no move of the two cures it", "in-post:")
	})
}
