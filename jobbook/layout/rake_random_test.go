package layout_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/length"
)

// Random flights are laid out a second time here, from the readings alone, in floating point and mm, and compared. That shares no code
// with the layout or with package profile: the largest ball is found by a plain search over heights (rake_ball_test.go), between the
// outlines that the stations of the parts draw where the parts really stand (rake_stairway_test.go, rake_openings_test.go).

// drawn is a random flight: its readings, and the files they are written in.
type drawn struct {
	stairway
	files           map[string]string
	perTread, count int // as written; 0 and -1 where they are not
}

// drawFlight draws a stair and its guard. Everything is whole sixteenths of an inch, or whole millimetres.
func drawFlight(rt *rapid.T) *drawn {
	d := &drawn{count: -1}
	unit, inch, units := 25.4/16, 16, "in"
	if rapid.IntRange(0, 3).Draw(rt, "units") == 0 {
		unit, inch, units = 1, 25, "mm"
	}
	d.division = unit
	text := func(n int) string {
		sign := ""
		if n < 0 {
			sign, n = "-", -n
		}
		if units == "mm" {
			return sign + fmt.Sprint(n)
		}
		return sign + fmt.Sprintf("%d %d/16", n/16, n%16)
	}
	// size draws between two sizes in inches, to the tape.
	size := func(name string, low, high float64, to *float64) string {
		n := rapid.IntRange(int(math.Ceil(low*float64(inch))), int(high*float64(inch))).Draw(rt, name)
		*to = float64(n) * unit
		return text(n)
	}
	yes := func(name string, of int) bool { return rapid.IntRange(1, of).Draw(rt, name) == 1 }

	// The stair.
	list := func(name string, n int, low, high float64, to *[]float64) string {
		var base float64
		size(name, low, high, &base)
		var words []string
		for range n {
			off := 0
			if yes("uneven "+name, 3) {
				off = rapid.IntRange(-inch/4, inch/4).Draw(rt, name+" off")
			}
			v := int(math.Round(base/unit)) + off
			*to = append(*to, float64(v)*unit)
			words = append(words, text(v))
		}
		return "[" + strings.Join(words, ", ") + "]"
	}
	n := rapid.IntRange(2, 18).Draw(rt, "risers")
	var run strings.Builder
	write := func(key, value string) { fmt.Fprintf(&run, "%s: %s\n", key, value) }
	write("kind", "flight")
	write("risers", list("riser", n, 5, 9, &d.risers))
	write("goings", list("going", n-1, 8, 13, &d.goings))
	write("nosing", size("nosing", 0, 1.5, &d.nosing))
	write("height", size("height", 34, 38, &d.height))

	// The parts.
	var more float64
	parts := map[string]string{}
	rail := "kind: handrail\nwide: " + text(3*inch) + "\nhigh: " + size("rail", 1.5, 3, &d.thick)
	d.pinTop = yes("pin above", 4)
	if !d.pinTop && !yes("no plow", 3) {
		rail += "\nplow: {wide: " + text(2*inch) + ", deep: " + size("plow", 0.2, 0.6, &d.plow) + "}"
	}
	parts["rail"] = rail
	raked := yes("raked shoe", 3)
	bottom := ""
	if raked {
		shoe := "kind: shoe\nwide: " + text(3*inch) + "\nhigh: " + size("shoe", 0.7, 1.5, &d.shoe)
		if yes("plowed shoe", 2) {
			shoe += "\nplow: {wide: " + text(2*inch) + ", deep: " + size("groove", 0.2, 0.5, &d.groove) + "}"
		}
		parts["shoe"] = shoe
		write("shoe-over", size("shoe-over", 0, 3, &d.shoeOver))
		write("under-shoe", rapid.SampledFrom([]string{"open", "closed"}).Draw(rt, "under"))
	}
	d.trimBottom = yes("trim below", 3)
	if !d.trimBottom {
		switch rapid.IntRange(0, 3).Draw(rt, "below") {
		case 0:
			bottom, d.pinned = "\nbottom: pin", true
			size("pin", 0.5, 1, &d.in)
			d.pinLong = d.in
		case 1:
			bottom = "\nbottom: let in\nlet-in: " + size("let in", 0.2, 0.8, &d.in)
		}
	}
	if d.pinTop {
		if d.pinLong == 0 {
			size("pin", 0.5, 1, &d.pinLong)
		}
		bottom += "\ntop: pin"
	}
	if d.pinLong > 0 {
		bottom += "\npin: {wide: " + text(inch/2) + ", long: " + text(int(math.Round(d.pinLong/unit))) + "}"
	}
	wide := size("baluster", 0.9, 1.75, &d.wide)
	w := int(math.Round(d.wide / unit))
	long := 70 * inch
	baluster := "kind: baluster" + bottom
	if d.trimBottom {
		baluster += "\ntrim: bottom"
	}
	if yes("plain", 2) {
		baluster += "\nlong: " + text(long) + "\nwide: " + wide
		d.baluster = section{{0, d.wide / 2}, {float64(long) * unit, d.wide / 2}}
		if yes("round", 3) {
			baluster += "\nsection: round"
		}
	} else {
		baluster += "\nwide: " + wide + "\nprofile:"
		station := func(at int, shape string, w int) {
			baluster += "\n  - {at: " + text(at) + ", " + shape + ": " + text(w) + "}"
			d.baluster = append(d.baluster, [2]float64{float64(at) * unit, float64(w) * unit / 2})
		}
		at := 0
		if strings.Contains(bottom, "bottom: pin") {
			at = int(math.Round(d.in / unit))
			station(0, "round", inch/2)
			station(at, "round", inch/2)
		}
		station(at, "square", w)
		at += rapid.IntRange(2*inch, 6*inch).Draw(rt, "block")
		if d.trimBottom {
			at = 50 * inch
		}
		station(at, "square", w)
		for i := range rapid.IntRange(2, 7).Draw(rt, "turnings") {
			turned := rapid.IntRange(w/2, w).Draw(rt, "turned")
			if i > 0 {
				at += rapid.IntRange(inch/4, 4*inch).Draw(rt, "up")
			}
			station(at, "round", turned)
		}
		station(at, "square", w)
		if d.trimBottom {
			at += rapid.IntRange(2*inch, 6*inch).Draw(rt, "head block")
		} else {
			at = long
		}
		station(at, "square", w)
	}
	parts["own"] = baluster

	// The ends.
	ends := [2]string{}
	for i, side := range []string{"from", "to"} {
		var place float64
		off := size(side+" off", 0, []float64{5, 15}[i], &place)
		key := "past"
		if yes(side+" before", 2) {
			key, place = "before", -place
		}
		*[]*float64{&d.from, &d.to}[i] = place
		at := "{at: wall, rosette: none, "
		switch rapid.IntRange(0, 4).Draw(rt, side+" is") {
		case 0:
			if yes("rosette", 2) {
				parts["plate-"+side] = "kind: rosette\nwide: " + text(4*inch) + "\nthick: " + size("plate", 0.5, 1, &d.rosette[i])
				at = "{at: wall, rosette: plate-" + side + ", "
			}
		case 1:
			half := 1.75 * float64(inch) * unit
			post := "kind: newel\nprofile:"
			for _, q := range [][2]int{{0, 0}, {6 * inch, 0}, {6 * inch, 2}, {8 * inch, rapid.IntRange(0, inch).Draw(rt, "vase")}, {30 * inch, rapid.IntRange(0, inch).Draw(rt, "neck")}, {30 * inch, 0}, {60 * inch, 0}} {
				w := 2*int(math.Round(half/unit)) - 2*q[1]
				shape := "square"
				if q[1] > 0 {
					shape = "round"
				}
				post += "\n  - {at: " + text(q[0]) + ", " + shape + ": " + text(w) + "}"
				d.posts[i] = append(d.posts[i], [2]float64{float64(q[0]) * unit, float64(w) * unit / 2})
			}
			parts[side+"-newel"] = post
			at = "{at: " + side + "-post, "
		default:
			parts[side+"-newel"] = "kind: newel\nwide: " + text(3*inch+inch/2) + "\nlong: " + text(60*inch)
			half := float64(3*inch+inch/2) * unit / 2
			d.posts[i] = section{{0, half}, {float64(60*inch) * unit, half}}
			at = "{at: " + side + "-post, "
		}
		ends[i] = at + key + ": " + off + "}"
	}
	for _, a := range d.goings {
		d.to += a
	}
	for i := range ends { // on the surface under its middle, and said: one that stands across a riser is asked about else
		if len(d.posts[i]) == 0 {
			continue
		}
		middle, riser, on := []float64{d.from, d.to}[i]+[]float64{-1, 1}[i]*d.posts[i][0][1], 0.0, 0
		for k := 0; k <= len(d.goings) && middle >= riser-1e-9; k++ {
			on++
			if k < len(d.goings) {
				riser += d.goings[k]
			}
		}
		ends[i] = strings.TrimSuffix(ends[i], "}") + ", stands: " + strconv.Itoa(on) + "}"
	}
	write("from", ends[0])
	write("to", ends[1])
	if d.to-d.from < 4*25.4 {
		rt.Skip("no room between the ends")
	}

	// The clears: along the rake to the tape, so that a little lean is read that is none.
	level := int(math.Round((d.to - d.from) / unit))
	along := int(math.Round((d.to - d.from) * d.sec() / unit))
	clear := "{rake: " + text(along) + "}"
	if yes("level read", 2) {
		clear = "{level: " + text(level) + ", rake: " + text(along) + "}"
	}
	write("clear", clear)
	d.lean = float64(along)*unit/d.sec() - (d.to - d.from)

	if d.onTreads() && yes("bracket", 4) {
		write("bracket", size("bracket", 0, 0.4, &d.bracket))
	}
	if d.onTreads() && yes("per tread", 4) {
		d.perTread = rapid.IntRange(1, 4).Draw(rt, "per tread")
		write("per-tread", fmt.Sprint(d.perTread))
	}
	if raked && yes("count", 4) {
		most := int((d.to - d.from) / d.wide / 2) // the gaps as wide as the balusters, and five times as wide
		d.count = rapid.IntRange(max(1, most/3), max(1, most)).Draw(rt, "count")
		write("count", fmt.Sprint(d.count))
	}

	head := "kind: job\nunits: " + units + "\nrules: stairs\nbaluster: own\nhandrail: rail\nfillet: strip\ndrop: " + text(100*inch)
	if raked {
		head += "\nshoe: shoe"
	} else {
		head += "\nshoe: none"
	}
	head += "\nposts:"
	for _, side := range []string{"from", "to"} {
		if parts[side+"-newel"] != "" {
			head += "\n  " + side + "-post: {newel: " + side + "-newel, foot: plate}"
		} else {
			head += "\n  " + side + "-post: {foot: plate}"
		}
	}
	parts["strip"] = "kind: fillet\nwide: " + text(inch) + "\nthick: " + text(inch/4)
	d.files = map[string]string{
		"job.md":       head,
		"runs/1-f.md":  strings.TrimSpace(run.String()),
		"rules/s.md":   "",
		"settings.md":  "kind: settings\nunits: " + units + "\ndivision: " + text(1) + "\ndivision-mm: " + text(1) + "\nfit: " + size("fit", 0, 0.13, &d.fit) + "\nalike: " + size("alike", 0, 0.3, &d.alike) + "\ntolerance: {mark: " + size("mark", 0, 0.07, &d.mark) + ", drill: " + size("drill", 0, 0.07, &d.drill) + ", width: " + size("under", 0, 0.07, &d.under) + ", season: 0}",
		"rules/sub.md": "",
	}
	delete(d.files, "rules/s.md")
	delete(d.files, "rules/sub.md")
	d.files["rules/stairs.md"] = "kind: rules\nunits: in\nlimits:\n  guard-opening: {under: 4, clause: x, status: published}\n  guard-opening-stair: {under: 4 3/8, clause: x, status: published}\n  guard-triangle: {under: 6, clause: x, status: published}\n  guard-height-stair: {at-least: 34, clause: x, status: published}\n  guard-drop: {over: 30, clause: x, status: published}"
	for name, p := range parts {
		d.files["parts/"+name+".md"] = strings.Replace(p, "\n", "\nunits: "+units+"\n", 1)
	}
	_ = more
	return d
}

func mm(l length.Length) float64 { return l.Float() }

const slack = 2.54e-5 // a millionth of an inch, mm

// TestRandomFlights compares random flights with the second layout above, number by number.
func TestRandomFlights(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := drawFlight(rt)
		_, l := lay(t, d.files)
		r := l.Runs[0]
		say := func(format string, a ...any) {
			for _, name := range slices.Sorted(maps.Keys(d.files)) {
				rt.Logf("=== %s\n%s", name, d.files[name])
			}
			rt.Fatalf(format, a...)
		}
		same := func(what string, got, want float64) {
			if math.Abs(got-want) > slack {
				say("%s: %.6f mm, worked out anew %.6f", what, got, want)
			}
		}
		if r.Clear == nil || r.Rake.Top == 0 {
			say("not laid out: %+v %+v", r.Missing, r.Findings)
		}
		same("level clear", mm(r.Rake.To-r.Rake.From), d.to-d.from)
		checkStair(d, r, same, say)
		if r.Chosen == nil {
			return
		}
		checkPlaces(d, r, same, say)
		checkBalusters(d, r, same, say)
		checkFillets(d, r, same, say)
		checkOpenings(d, r, say)
	})
}
