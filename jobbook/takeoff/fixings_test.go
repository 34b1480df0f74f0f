package takeoff

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

var hardware = map[string]string{
	"fixings/screw.md":      "kind: fixing\ntitle: Screw\ntype: wood screw\ngauge: 8\nlong: 2",
	"fixings/long.md":       "kind: fixing\ntitle: Long screw\ntype: wood screw\ngauge: 10\nlong: 3",
	"fixings/lag.md":        "kind: fixing\ntitle: Lag\ntype: lag screw\nwide: 3/8\nlong: 5",
	"fixings/brad.md":       "kind: fixing\ntitle: Brad\ntype: brad\nlong: 1",
	"fixings/plug.md":       "kind: fixing\ntitle: Plug\ntype: plug\nwide: 1",
	"fixings/glue.md":       "kind: fixing\ntitle: Glue\ntype: glue",
	"fixings/bracket.md":    "kind: fixing\ntitle: Bracket\ntype: bracket",
	"fast/shoe.md":          "kind: fastening\ntitle: Shoe\njoins: shoe to floor\nwith: screw\neach: 16\nend: 3\nthrough: shoe\ninto: floor",
	"fast/rosette.md":       "kind: fastening\ntitle: Rosette\njoins: rosette to wall\nwith: long\ncount: 3\nthrough: rosette\ninto: wall framing",
	"fast/let-in.md":        "kind: fastening\ntitle: Let in\njoins: newel let in\nwith: lag\ncount: 2\nthrough: newel\ninto: framing\nsunk: 1/2\nplug: plug",
	"fast/foot.md":          "kind: fastening\ntitle: Foot\njoins: baluster to shoe\nwith: brad",
	"fast/head.md":          "kind: fastening\ntitle: Head\njoins: baluster to rail\nwith: brad",
	"fast/fillet.md":        "kind: fastening\ntitle: Fillet\njoins: fillet\nwith: brad\ncount: 2",
	"fast/bracket.md":       "kind: fastening\ntitle: Bracket\njoins: wall rail bracket\nwith: bracket\neach: 48\nend: 8",
	"fast/strap.md":         "kind: fastening\ntitle: Strap\njoins: bracket to rail\nwith: screw\ncount: 2\ninto: handrail",
	"fast/access.md":        "kind: fastening\ntitle: Access\njoins: access bore\nwith: plug",
	"species/pine.md":       "kind: species\ntitle: Longleaf pine\ng: 0.55\nstatus: published",
	"species/oak.md":        "kind: species\ntitle: Red oak\ng: 0.68\nstatus: published\nhard: yes",
	"species/hard-maple.md": "kind: species\ntitle: Hard maple\nalso: [maple]\nhard: yes",
	"species/red-maple.md":  "kind: species\ntitle: Red maple\nalso: [maple]\ng: 0.58\nstatus: published\nhard: yes",
	"parts/oak-post.md":     "kind: newel\ntitle: Oak post\nspecies: red oak\nwide: 3 1/2\nlong: 48",
	"parts/bolt.md":         "kind: bolt\ntitle: Bolt\nwide: 5/16\nlong: 3 1/2\nin-post: 1 1/2\npilot: 1/4\nbore: 3/8\naccess: 1\nreach: 2",
	"parts/sole.md":         "kind: shoe\ntitle: Shoe\nspecies: red oak\nwide: 2 1/2\nhigh: 3/4\nplow: {wide: 1 1/4, deep: 1/4}",
}

func held(t *testing.T, jobText string, more map[string]string, set func(*layout.Layout)) (*job.Job, Takeoff) {
	t.Helper()
	files := map[string]string{"job.md": jobText}
	for name, text := range more {
		files[name] = text
	}
	j := jobtest.Job(t, parts, hardware, files)
	l := laid(j)
	set(&l)
	return j, Take(j, l)
}

func fixing(t *testing.T, got Takeoff, name string) Fixing {
	t.Helper()
	for _, x := range got.Fixings {
		if x.Fastening.Name == name {
			return x
		}
	}
	t.Fatalf("no %s among %+v", name, got.Fixings)
	return Fixing{}
}

// Ten balusters, 1 1/4 wide, every 5 from 5 to 50, on a shoe of 55. By hand: the gaps' middles are at (0 + 4 3/8)/2 = 2 3/16, then 7 1/2, 12 1/2 ... 47 1/2, and (50 5/8 + 55)/2 = 52 13/16. The
// first is nearest 3 from the end, the last likewise; between them, 50 5/8 apart, no farther than 16 each, it takes five: evenly that would be every 12 21/32, at 14 27/32, 27 1/2 and 40 5/32, and the gaps nearest
// those have their middles at 12 1/2, 27 1/2 and 42 1/2.
func TestShoeScrews(t *testing.T) {
	_, got := held(t, "kind: job\nbolt: bolt\nfloor: {species: longleaf pine, thick: 1 1/2}\nposts: {corner: {newel: oak-post, foot: let in, deep: 3}, landing: {newel: oak-post, foot: plate}}", nil, func(l *layout.Layout) {
		r := l.Runs[0]
		shoe := cut("shoe", "sole", "long", 1, inches(55), "")
		r.Shoe = &shoe
		for k := range 10 {
			r.Marks = append(r.Marks, layout.Mark{K: k + 1, At: inches(int64(5 * (k + 1)))})
		}
		r.Fillets = []layout.Cut{cut("shoe fillet", "strip", "long", 11, inches(3), "")}
	})
	x := fixing(t, got, "shoe")
	var places []string
	for _, p := range x.Places {
		places = append(places, inch(p))
	}
	if want := []string{"2 3/16", "12 1/2", "27 1/2", "42 1/2", "52 13/16"}; !slices.Equal(places, want) || x.Count != 5 {
		t.Errorf("%d at %q, want %q", x.Count, places, want)
	}
	// A number 8 through 1/2 of oak under the plow: shank 0.164, bit 11/64; pilot in pine of 0.55, 70 % of 0.131 is 0.0917, bit 5/64, 1 1/2 deep.
	var bores []string
	for _, b := range x.Bores {
		bores = append(bores, fmt.Sprintf("%s: %s, %s", b.For, inch(b.Hole.Bit), inch(b.Deep)))
	}
	if want := []string{"clearance, shoe: 11/64, 1/2", "pilot, floor: 5/64, 1 1/2"}; !slices.Equal(bores, want) {
		t.Errorf("%q, want %q", bores, want)
	}
	if x.Driver != "cross recess 2 or square 2" || x.Wax {
		t.Errorf("%+v", x)
	}
	f := figure(t, got.Figures, "fixing/screw/pine")
	if f.Numbers() != "0.131 * 70 / 100" || f.Result() != "0.0917" {
		t.Errorf("%s = %s", f.Numbers(), f.Result())
	}
	for part, want := range map[string]int{"screw": 5, "lag": 2, "plug": 2 + 1, "brad": 10 + 10 + 22} { // two over the lags, one under the one bolt at corner of the long run
		if n := need(t, got.Needs, "fixing", part); n.Order != want && part != "plug" || part == "plug" && n.Order < want {
			t.Errorf("%d of %s, want %d", n.Order, part, want)
		}
	}
}

// A shoe 3/4 high, plowed 5/16, scribed to the floor. By hand: 7/16 less what is scribed is left under the plow, and of a screw 2 long the rest goes into the floor. With 1/4 scribed that is 3/16 and 1 13/16, 1/4 past
// 1 9/16 of floor; with 1/8 it is 5/16 and 1 11/16, 3/16 past 1 1/2; with 7/16 nothing is left, and all of it goes in.
func TestShoeScrewsScribed(t *testing.T) {
	for _, c := range []struct {
		scribe      length.Length
		floor, past string
		bores       []string
	}{
		{0, "1 9/16", "", []string{"clearance, shoe 7/16", "pilot, floor 1 9/16"}},
		{length.Inch / 4, "1 9/16", "1/4 in past", []string{"clearance, shoe 3/16", "pilot, floor 1 13/16"}},
		{length.Inch / 8, "1 1/2", "3/16 in past", []string{"clearance, shoe 5/16", "pilot, floor 1 11/16"}},
		{7 * length.Inch / 16, "1 1/2", "1/2 in past", []string{"clearance, shoe 0", "pilot, floor 2"}},
	} {
		for _, screw := range []string{"gauge: 8", "wide: 4.2 mm\nroot: 3 mm"} {
			_, got := held(t, "kind: job\nbolt: bolt\nfloor: {species: longleaf pine, thick: "+c.floor+"}\nposts: {corner: {newel: oak-post, foot: let in, deep: 3}, landing: {newel: oak-post, foot: plate}}", map[string]string{
				"parts/sole.md":    "kind: shoe\ntitle: Shoe\nspecies: red oak\nwide: 2 1/2\nhigh: 3/4\nplow: {wide: 1 1/4, deep: 5/16}",
				"fixings/screw.md": "kind: fixing\ntitle: Screw\ntype: wood screw\n" + screw + "\nlong: 2",
			}, func(l *layout.Layout) {
				r := l.Runs[0]
				shoe := cut("shoe", "sole", "long", 1, inches(55), "")
				r.Shoe = &shoe
				for k := range 10 {
					r.Marks = append(r.Marks, layout.Mark{K: k + 1, At: inches(int64(5 * (k + 1)))})
				}
				if c.scribe > 0 {
					r.Floor.How, r.Floor.Scribe = "scribe", []layout.FloorPoint{{At: 0}, {At: inches(30), Height: c.scribe}, {At: inches(55), Height: c.scribe / 2}}
				}
			})
			x := fixing(t, got, "shoe")
			var bores []string
			for _, b := range x.Bores {
				bores = append(bores, b.For+" "+inch(b.Deep))
				if b.For == "clearance, shoe" && strings.Contains(b.Hole.Note, "scribed") != (c.scribe > 0) {
					t.Errorf("%q", b.Hole.Note)
				}
			}
			if !slices.Equal(bores, c.bores) {
				t.Errorf("%s, %q: %q, want %q", inch(c.scribe), screw, bores, c.bores)
			}
			if notes := strings.Join(x.Notes, "; "); !strings.Contains(notes, c.past) || strings.Contains(notes, "past the floor") != (c.past != "") {
				t.Errorf("%s, %q: %s", inch(c.scribe), screw, notes)
			}
			if c.scribe > 0 {
				if f := figure(t, got.Figures, "fixing/shoe/long"); f.Exact(length.Inches) != length.Inch*7/16-c.scribe {
					t.Errorf("%s = %s", f.Numbers(), f.Result())
				}
			}
		}
	}
}

// A lag in framing that nobody names: no bit, and a question; named, the bit lies in the band.
func TestLagInFraming(t *testing.T) {
	text := "kind: job\nfloor: {species: red oak, framing: %s}\nposts: {corner: {newel: oak-post, foot: let in, deep: 3}, landing: {}}"
	for framing, want := range map[string]struct {
		bit   string
		asked string
	}{
		"":              {"0", "the wood of the framing"},
		"longleaf pine": {"1/4", ""}, // 60 to 75 % of 0.375: 0.225 to 0.28125; middle 0.2531, bit 16/64
		"maple":         {"0", "which maple the framing is: Hard maple or Red maple"},
		"hard maple":    {"0", ""}, // no published value
	} {
		_, got := held(t, fmt.Sprintf(text, framing), nil, func(*layout.Layout) {})
		x := fixing(t, got, "let-in")
		b := x.Bores[len(x.Bores)-1]
		asked := ""
		for _, m := range got.Missing {
			if m.Group == "fixings" {
				asked = m.What
			}
		}
		if inch(b.Hole.Bit) != want.bit || asked != want.asked {
			t.Errorf("framing %q: bit %s, asked %q, want %+v", framing, inch(b.Hole.Bit), asked, want)
		}
		if x.Bores[0].For != "head, and its plug" || x.Bores[0].Hole.Bit != length.Inch || x.Bores[0].Deep != length.Inch/2 {
			t.Errorf("%+v", x.Bores[0])
		}
	}
}

// A wall rail of 150: brackets 8 from its ends and no more than 48 apart: 134 between them is three spaces, four brackets, eight screws. By hand.
func TestBrackets(t *testing.T) {
	_, got := held(t, plainJob, map[string]string{"runs/3-flight.md": "kind: flight\nfrom: corner\nto: landing\nshoe: none\nwall-rail: {handrail: rail, long: 150}"}, func(l *layout.Layout) {
		r := cut("wall rail", "rail", "flight", 1, inches(150), "on the wall")
		l.Runs[2].WallRail = &r
	})
	x := fixing(t, got, "bracket")
	if x.Count != 4 || x.Places[0] != inches(8) || x.Places[3] != inches(142) {
		t.Errorf("%+v", x)
	}
	if s := fixing(t, got, "strap"); s.Count != 8 {
		t.Errorf("%d screws", s.Count)
	}
	if n := need(t, got.Needs, "fixing", "bracket"); n.Order != 4 {
		t.Errorf("%+v", n)
	}
}

// Pins are glued: no brads for them.
func TestPinsAreGlued(t *testing.T) {
	_, got := held(t, plainJob, map[string]string{"runs/1-long.md": strings.Replace(parts["runs/1-long.md"], "baluster: stick", "baluster: spindle", 1)}, func(l *layout.Layout) {
		l.Runs[0].Marks = []layout.Mark{{K: 1, At: inches(5)}, {K: 2, At: inches(10)}}
	})
	if x := fixing(t, got, "head"); x.With.Name != "glue" || x.Count != 2 {
		t.Errorf("%+v", x)
	}
	if x := fixing(t, got, "foot"); x.With.Name != "brad" {
		t.Errorf("%+v", x)
	}
	if n := need(t, got.Needs, "fixing", "brad"); n.Order != 2 {
		t.Errorf("%+v", n)
	}
}

// A job's own way of a joint stands instead of the library's, whatever its file is called; two of one layer add up. One without a fixing asks for it.
func TestNearestWays(t *testing.T) {
	j := jobtest.Job(t, parts, hardware, map[string]string{"job.md": "kind: job\nposts: {corner: {newel: oak-post, foot: let in, deep: 3}, landing: {}}",
		"fast/wedge.md": "kind: fastening\ntitle: Wedges\njoins: newel let in\nwith: long\ncount: 4\ninto: framing",
		"fast/blank.md": "kind: fastening\ntitle: Something\njoins: newel let in\nwith:"})
	for _, f := range j.Fastenings {
		if f.Name == "let-in" {
			f.Layer = source.Library
		}
	}
	got := Take(j, laid(j))
	if x := fixing(t, got, "wedge"); x.Count != 4 {
		t.Errorf("%+v", x)
	}
	if slices.ContainsFunc(got.Fixings, func(x Fixing) bool { return x.Fastening.Name == "let-in" }) {
		t.Error("the library's way is there as well")
	}
	if !slices.ContainsFunc(got.Missing, func(m finding.Reading) bool { return m.Where == "fast/blank.md, with: " }) {
		t.Errorf("nobody asks what the blank one is made with: %+v", got.Missing)
	}
	for _, f := range j.Fastenings {
		f.Layer = source.Job
	}
	got = Take(j, laid(j))
	if a, b := fixing(t, got, "wedge"), fixing(t, got, "let-in"); a.Count != 4 || b.Count != 2 {
		t.Errorf("%d and %d", a.Count, b.Count)
	}
}

// Half of a newel 3 1/2 wide is 1 3/4 thick. A lag of 5 with 2 1/2 of thread, its head sunk 1/2: 1 1/4 of newel to pass, so 3 3/4 goes into the framing, the first 1 1/4 of it without thread
// (5 - 2 1/2 - 1 1/4). Its washer of 1 1/8 does not go through a plug's bore of 1.
func TestHalfNewelAndWasher(t *testing.T) {
	_, got := held(t, "kind: job\nfloor: {framing: longleaf pine}\nposts: {corner: {newel: half-post}, landing: {}}", map[string]string{
		"parts/half-post.md": "kind: newel\nspecies: red oak\nwide: 3 1/2\nlong: 48\nhalf: yes",
		"fixings/lag.md":     "kind: fixing\ntitle: Lag\ntype: lag screw\nwide: 3/8\nlong: 5\nthread: 2 1/2\nwasher: 1 1/8",
		"fast/half.md":       "kind: fastening\ntitle: Half\njoins: half newel to wall\nwith: lag\ncount: 3\nthrough: newel\ninto: wall framing\nsunk: 1/2\nplug: plug",
	}, func(*layout.Layout) {})
	x := fixing(t, got, "half")
	var bores []string
	for _, b := range x.Bores {
		bores = append(bores, fmt.Sprintf("%s: %s, %s", b.For, inch(b.Hole.Bit), inch(b.Deep)))
	}
	want := []string{"head, and its plug: 1 1/8, 1/2", "clearance, newel: 3/8, 1 1/4", "shank, wall framing: 3/8, 1 1/4", "lead hole, wall framing: 1/4, 3 3/4"}
	if !slices.Equal(bores, want) {
		t.Errorf("%q, want %q", bores, want)
	}
	if !slices.Contains(x.Notes, "the plug is 1 in across and the washer 1 1/8 in: take a wider plug") {
		t.Errorf("%q", x.Notes)
	}
}

// What is not known gets no bit and no depth, and no number of an unknown wood's chart.
func TestNothingIsGuessed(t *testing.T) {
	shoe := func(l *layout.Layout) {
		c := cut("shoe", "sole", "long", 1, inches(55), "")
		l.Runs[0].Shoe = &c
		l.Runs[0].Marks = []layout.Mark{{K: 1, At: inches(20)}, {K: 2, At: inches(40)}}
	}
	for _, c := range []struct {
		name, floor, shoe string
		bit, deep, asked  string
	}{
		{"no wood", "", "high: 3/4", "0", "1 1/2", "the wood of the floor"},
		{"a wood nobody knows", ", species: bogwood", "high: 3/4", "0", "1 1/2", `which wood "bogwood" is: no species goes by that name`},
		{"two woods of one name", ", species: maple", "high: 3/4", "0", "1 1/2", "which maple the floor is: Hard maple or Red maple"},
		{"no published value", ", species: hard maple", "high: 3/4", "7/64", "1 1/2", ""}, // the chart's, hard
		{"how thick the shoe is", ", species: red oak", "high:", "7/64", "0", ""},         // 90 % of 0.131 is 0.1179
		{"a shoe thicker than the screw is long", ", species: red oak", "high: 3", "7/64", "0", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, got := held(t, plainJob+"\nfloor: {framing: red oak"+c.floor+"}", map[string]string{"parts/sole.md": "kind: shoe\nspecies: red oak\nwide: 2 1/2\nplow: {wide: 1 1/4, deep: 1/4}\n" + c.shoe}, shoe)
			x := fixing(t, got, "shoe")
			b := x.Bores[len(x.Bores)-1]
			asked := ""
			for _, m := range got.Missing {
				if m.Group == "fixings" {
					asked = m.What
				}
			}
			if inch(b.Hole.Bit) != c.bit || inch(b.Deep) != c.deep || asked != c.asked {
				t.Errorf("bit %s, deep %s, asked %q, want %+v", inch(b.Hole.Bit), inch(b.Deep), asked, c)
			}
			if short := slices.ContainsFunc(x.Notes, func(n string) bool { return strings.HasPrefix(n, "it is too short") }); short != (c.shoe == "high: 3") {
				t.Errorf("%q", x.Notes)
			}
			if c.bit == "0" && slices.ContainsFunc(got.Setups.Drills, func(d DrillSetup) bool { return strings.Contains(d.For, "pilot, floor") }) {
				t.Error("a drill is set up for it")
			}
		})
	}
}

// The floor of a run stands before the job's; a thickness of the job's is not taken for another floor.
func TestFloorOfARun(t *testing.T) {
	for own, want := range map[string]string{
		"": "longleaf pine, 1 1/8", "\nfloor: {species: red oak}": "red oak, 0", "\nfloor: {species: red oak, thick: 3/4}": "red oak, 3/4", "\nfloor: {thick: 2}": "longleaf pine, 2",
	} {
		j := jobtest.Job(t, parts, map[string]string{"job.md": plainJob + "\nfloor: {species: longleaf pine, thick: 1 1/8, framing: red oak}", "runs/1-long.md": parts["runs/1-long.md"] + own})
		f := j.Under(j.Runs[0])
		if got := f.Species.Text + ", " + inch(f.Thick.Length); got != want || f.Framing.Text != "red oak" {
			t.Errorf("%q: %s on %s, want %s", own, got, f.Framing.Text, want)
		}
	}
}

// A plate's screws are its maker's: asked for, unless they are written down. Glue is ordered once.
func TestPlateAndGlue(t *testing.T) {
	plate := map[string]string{
		"fixings/foot.md": "kind: fixing\ntitle: Foot plate\ntype: plate",
		"fast/plate.md":   "kind: fastening\ntitle: Plate\njoins: newel on a plate\nwith: foot\nglue: yes",
	}
	text := "kind: job\nfloor: {species: red oak}\nposts: {corner: {newel: oak-post, foot: plate}, landing: {newel: oak-post, foot: plate}}"
	asks := func(got Takeoff) (n int) {
		for _, a := range got.Asks {
			if strings.Contains(a.What, "the screws of Foot plate") {
				n++
			}
		}
		return n
	}
	_, got := held(t, text, plate, func(*layout.Layout) {})
	if asks(got) != 1 || need(t, got.Needs, "fixing", "foot").Order != 2 || need(t, got.Needs, "fixing", "glue").Order != 1 {
		t.Errorf("%d asks, needs %+v", asks(got), got.Needs)
	}
	plate["fast/plate-screws.md"] = "kind: fastening\ntitle: Screws of the plate\njoins: newel on a plate\nwith: long\ncount: 6\ninto: floor"
	if _, got = held(t, text, plate, func(*layout.Layout) {}); asks(got) != 0 || need(t, got.Needs, "fixing", "long").Order != 12 {
		t.Errorf("%d asks, needs %+v", asks(got), got.Needs)
	}
}

// The screws of a wall rail's brackets go into the wall rail, not into the guard's: 1 3/4 high, 2 of screw come out at the top. A plug that does not fill its bore is said.
func TestWallRailAndPlugs(t *testing.T) {
	_, got := held(t, plainJob+"\nbolt: bolt", map[string]string{
		"parts/thin.md":    "kind: handrail\ntitle: Thin\nspecies: red oak\nwide: 1 3/4\nhigh: 1 3/4",
		"parts/bolt.md":    strings.Replace(hardware["parts/bolt.md"], "access: 1", "access: 7/8", 1),
		"runs/3-flight.md": "kind: flight\nfrom: corner\nto: landing\nshoe: none\nwall-rail: {handrail: thin, long: 150}",
	}, func(l *layout.Layout) {
		r := cut("wall rail", "thin", "flight", 1, inches(150), "on the wall")
		l.Runs[2].WallRail = &r
	})
	x := fixing(t, got, "strap")
	if x.Into != "handrail, red oak" || !slices.Contains(x.Notes, "it goes 2 in deep into the handrail, which is 1 3/4 in thick there: take a shorter one") {
		t.Errorf("%s: %q", x.Into, x.Notes)
	}
	if x := fixing(t, got, "access"); !slices.Contains(x.Notes, "it does not fit: the plug is 1 in across and the bore 7/8 in; take another plug, or another bit for the bore") {
		t.Errorf("%q", x.Notes)
	}
}

// Along any shoe: no screw under a baluster, none farther from the next than said unless a single gap is, in order, and on the shoe. Two hundred random ones.
func TestSpreadRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 9))
	for range 200 {
		half, each := length.Inch*5/8, length.Inch*length.Length(4+r.IntN(30))
		p := place{from: 0}
		before, at := length.Length(0), length.Length(0)
		var widest length.Length
		for range 1 + r.IntN(40) {
			at = before + length.Inch*length.Length(8+r.IntN(40))/8 + half
			p.clear = append(p.clear, (before+at-half)/2)
			before = at + half
		}
		p.to = before + length.Inch*2
		p.clear = append(p.clear, (before+p.to)/2)
		for i := 1; i < len(p.clear); i++ {
			widest = max(widest, p.clear[i]-p.clear[i-1])
		}
		got := p.spread(3*length.Inch, each)
		for i, at := range got {
			if !slices.Contains(p.clear, at) {
				t.Fatalf("%v is in no gap of %v", at, p.clear)
			}
			if i > 0 && (at <= got[i-1] || at-got[i-1] > max(each, widest)) {
				t.Fatalf("%v after %v, each %v", at, got[i-1], each)
			}
		}
	}
	for _, p := range []place{{}, {to: 1}, {to: 5 * length.Inch}, {to: 1 << 50}, {to: length.Inch, clear: []length.Length{1}}} {
		if n := len(p.spread(3*length.Inch, length.Inch)); n > most+1 {
			t.Errorf("%d along %v", n, p.to)
		}
	}
}

// What has no title goes by its file's name; what has no type is asked about, and gets no bit.
func TestFixingWithoutWords(t *testing.T) {
	_, got := held(t, "kind: job\nfloor: {framing: red oak}\nposts: {corner: {newel: oak-post, foot: let in, deep: 3}, landing: {}}", map[string]string{
		"fixings/thing.md": "kind: fixing\ntype:",
		"fast/let-in.md":   "kind: fastening\njoins: newel let in\nwith: thing\ninto: framing",
	}, func(*layout.Layout) {})
	x := fixing(t, got, "let-in")
	if x.With.Title.Text != "thing" || x.Fastening.Title.Text != "let-in" || len(x.Bores) != 0 || need(t, got.Needs, "fixing", "thing").Title != "thing" {
		t.Errorf("%+v", x)
	}
	if !slices.ContainsFunc(got.Missing, func(m finding.Reading) bool { return m.What == "what thing is" }) {
		t.Errorf("%+v", got.Missing)
	}
}
