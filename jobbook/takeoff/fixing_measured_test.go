package takeoff

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/layout"
)

// TestScrewWithoutAGauge: a screw of 5 mm with a root of 3.2 mm through a shoe of 12 mm under its plow, in a job in millimetres. In red oak (G 0.68) 90 % of 3.2 is 2.88, bit 2 1/2; in longleaf pine (0.55) 70 % is 2.24, bit
// 2 (by hand; NDS 12.1.5); 50 - 12 = 38 deep. What is not known is asked for, and no bit is made up.
func TestScrewWithoutAGauge(t *testing.T) {
	for _, c := range []struct {
		name, screw, floor string
		bores, asked, note string
	}{
		{"oak", "wide: 5\nroot: 3.2", "red oak", "clearance, shoe 5000000, pilot, floor 2500000", "", "box"},
		{"pine", "wide: 5\nroot: 3.2", "longleaf pine", "clearance, shoe 5000000, pilot, floor 2000000", "", "box"},
		{"between two bits", "wide: 5.2\nroot: 3.2\ndriver: star 25", "red oak", "clearance, shoe 5500000, pilot, floor 2500000", "", ""},
		{"a light wood", "wide: 5", "spruce", "clearance, shoe 5000000", "", "no lead hole is called for"},
		{"no root", "wide: 5", "red oak", "clearance, shoe 5000000, pilot, floor 0", "the diameter of Metric at the root of its thread, by caliper", "box"},
		{"no published value", "wide: 5\nroot: 3.2", "hard maple", "clearance, shoe 5000000, pilot, floor 0", "", "box"},
		{"no diameter", "long: 50", "red oak", "", "the gauge of Metric, or for one without a gauge its diameter", "by its maker's papers"},
		{"a gauge of no table", "gauge: 5", "red oak", "", "the diameter of Metric, whose gauge is not in the table", "by its maker's papers"},
		{"a gauge of no table, with its diameters", "gauge: 5\nwide: 5\nroot: 3.2", "red oak", "clearance, shoe 5000000, pilot, floor 2500000", "", "box"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(c.screw, "long") {
				c.screw += "\nlong: 50"
			}
			files := map[string]string{}
			for _, set := range []map[string]string{parts, hardware} {
				for name, text := range set {
					files[name] = text + "\nunits: in"
				}
			}
			maps.Copy(files, map[string]string{
				"parts/sole.md":     "kind: shoe\nunits: mm\nspecies: red oak\nwide: 60\nhigh: 18\nplow: {wide: 32, deep: 6}",
				"fixings/metric.md": "kind: fixing\nunits: mm\ntitle: Metric\ntype: wood screw\n" + c.screw,
				"fast/shoe.md":      "kind: fastening\nunits: mm\ntitle: Shoe\njoins: shoe to floor\nwith: metric\neach: 400\nend: 80\nthrough: shoe\ninto: floor",
				"species/spruce.md": "kind: species\ntitle: Spruce\ng: 0.42\nstatus: published",
			})
			_, got := held(t, "kind: job\nunits: mm\nbaluster: stick\nhandrail: rail\nshoe: sole\nfillet: strip\nposts: {corner: {}, landing: {}}\nfloor: {framing: red oak, species: "+c.floor+"}", files, func(l *layout.Layout) {
				shoe := cut("shoe", "sole", "long", 1, inches(55), "")
				l.Runs[0].Shoe = &shoe
				l.Runs[0].Marks = []layout.Mark{{K: 1, At: inches(20)}, {K: 2, At: inches(40)}}
			})
			x := fixing(t, got, "shoe")
			var bores []string
			for _, b := range x.Bores {
				bores = append(bores, fmt.Sprintf("%s %d", b.For, b.Hole.Bit))
				if strings.HasPrefix(b.For, "pilot") && b.Deep != 38_000_000 {
					t.Errorf("the pilot is %d deep", b.Deep)
				}
			}
			asked := ""
			for _, m := range got.Missing {
				if m.Group == "fixings" {
					asked = m.What
				}
			}
			if list := strings.Join(bores, ", "); list != c.bores || asked != c.asked {
				t.Errorf("bores %q, asked %q", list, asked)
			}
			if c.note != "" && !slices.ContainsFunc(x.Notes, func(n string) bool { return strings.Contains(n, c.note) }) {
				t.Errorf("%q", x.Notes)
			}
		})
	}
}
