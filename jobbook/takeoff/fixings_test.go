package takeoff

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
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
	j := decode(t, parts, hardware, files)
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
// first is nearest 3 from the end, then none farther than 16: 17 1/2, 32 1/2, 47 1/2, and the last.
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
	if want := []string{"2 3/16", "17 1/2", "32 1/2", "47 1/2", "52 13/16"}; !slices.Equal(places, want) || x.Count != 5 {
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
