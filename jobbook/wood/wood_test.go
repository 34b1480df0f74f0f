package wood

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"balustrade/jobbook/length"
)

// table reads a file of values; its first row has the heads.
func table(t *testing.T, file string) [][]string {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(data)))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func float(t *testing.T, text string) float64 {
	t.Helper()
	if whole, den, ok := strings.Cut(text, "/"); ok {
		return float(t, whole) / float(t, den)
	}
	f, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// TestLagLead: for every size and every wood of the library (testdata/species.csv names its source) the bit is a sixty-fourth inside the published band, reckoned here in inches; a
// wood without a published value gets none.
func TestLagLead(t *testing.T) {
	for _, row := range table(t, "../../testdata/species.csv")[1:] {
		for _, size := range []string{"1/4", "5/16", "3/8", "7/16", "1/2", "5/8"} {
			d := float(t, size)
			if row[9] == "" {
				if h, ok := LagLead(length.Length(d*float64(length.Inch)), 0); ok {
					t.Errorf("%s, %s: %+v", row[0], size, h)
				}
				continue
			}
			g := float(t, row[9])
			low, high := 0.40, 0.70
			if g > 0.5 {
				low, high = 0.60, 0.75
			}
			if g > 0.6 {
				low, high = 0.65, 0.85
			}
			h, ok := LagLead(length.Length(d*float64(length.Inch)), G(g*1000+0.5))
			in := h.Bit.Float() / 25.4
			if !ok || in < low*d-1e-9 || in > high*d+1e-9 || h.Bit*64%length.Inch != 0 {
				t.Errorf("%s, lag %s: %v in, band %v to %v", row[0], size, in, low*d, high*d)
			}
		}
	}
}

// TestBands: one step under, on and over each specific gravity at which the rule changes. By hand for 1/2: 40 to 70 % is 0.2 to 0.35, middle 0.275, bit 18/64 = 0.28125; 60 to 75 % is
// 0.3 to 0.375, middle 0.3375, bit 22/64 = 0.34375; 65 to 85 % is 0.325 to 0.425, middle 0.375, bit 24/64.
func TestBands(t *testing.T) {
	for g, want := range map[G]length.Length{499: 18, 500: 18, 501: 22, 599: 22, 600: 22, 601: 24} {
		if h, ok := LagLead(length.Inch/2, g); !ok || h.Bit != want*bit {
			t.Errorf("G %d: %v, want %d/64", g, h.Bit, want)
		}
	}
	// Pilots of a number 8, root 0.131: 70 % is 0.0917, bit 5/64 = 0.0781; 90 % is 0.1179, bit 7/64 = 0.1094. Up to 0.5 the chart's 3/32.
	eight, _ := Screw(8)
	for g, want := range map[G]length.Length{500: 6, 501: 5, 600: 5, 601: 7} {
		if h := eight.Pilot(g, false); h.Bit != want*bit {
			t.Errorf("G %d: %v, want %d/64", g, h.Bit, want)
		}
	}
}

// TestScrews: every screw of testdata/screws.csv: the shank by its formula, and in every wood the nearest bit under the published figure, reckoned here.
func TestScrews(t *testing.T) {
	rows := table(t, "../../testdata/screws.csv")[1:]
	if len(rows) != len(gauges) {
		t.Fatalf("%d screws, the table has %d", len(gauges), len(rows))
	}
	for i, row := range rows {
		s, ok := Screw(int(float(t, row[0])))
		if !ok || s != gauges[i] {
			t.Fatalf("no screw %s", row[0])
		}
		near := func(what string, got length.Length, want float64) {
			if d := got.Float()/25.4 - want; d > 1e-6 || d < -1e-6 {
				t.Errorf("screw %s: %s %v, want %v", row[0], what, got.Float()/25.4, want)
			}
		}
		near("shank", s.Shank, 0.060+0.013*float64(s.N))
		near("shank of the table", s.Shank, float(t, row[1]))
		if row[2] != "" {
			near("root", s.Root, float(t, row[2]))
			if s.RootStatus.String() != row[3] {
				t.Errorf("root of %s is %s, want %s", row[0], s.RootStatus, row[3])
			}
		} else if s.Root != 0 {
			t.Errorf("screw %s has a root", row[0])
		}
		if strconv.Itoa(s.Cross) != row[4] || strconv.Itoa(s.Square) != row[5] {
			t.Errorf("screw %s: drivers %d and %d", row[0], s.Cross, s.Square)
		}
		near("soft pilot", s.Soft, float(t, row[6]))
		near("hard pilot", s.Hard, float(t, row[7]))
		for _, g := range []float64{0.36, 0.5, 0.55, 0.6, 0.68, 0.73} {
			h := s.Pilot(G(g*1000+0.5), true)
			if g <= 0.5 || s.Root == 0 {
				if h.Bit != s.Hard || h.Note == "" {
					t.Errorf("screw %s in %v: %+v", row[0], g, h)
				}
				continue
			}
			figure := 0.70 * s.Root.Float() / 25.4
			if g > 0.6 {
				figure = 0.90 * s.Root.Float() / 25.4
			}
			if in := h.Bit.Float() / 25.4; in >= figure || in+1.0/64 < figure {
				t.Errorf("screw %s in %v: %v, the figure is %v", row[0], g, in, figure)
			}
		}
		if h := s.Pilot(0, true); h.Cite != chart {
			t.Errorf("a wood without a value: %+v", h)
		}
		if c := Clearance(s.Shank); c.Bit < s.Shank || c.Bit-s.Shank >= bit {
			t.Errorf("clearance of %s: %v", row[0], c.Bit)
		}
	}
}

// A shank's hole is as wide as the shank where a bit of that size is sold, else the next one up: 3/8, and for 10 mm, 0.3937, 26/64 = 0.40625. Both charts are named while the wood is not.
func TestShankAndCharts(t *testing.T) {
	for shank, want := range map[length.Length]length.Length{length.Inch * 3 / 8: 24 * bit, 10 * length.Millimetre: 26 * bit} {
		if h := Shank(shank); h.Bit != want || h.Cite.Text == "" {
			t.Errorf("%v: %+v", shank, h)
		}
	}
	eight, _ := Screw(8)
	if got := eight.Charts(); got != "workshop charts say 3/32 in for softwood, 7/64 in for hardwood: try it in an offcut" {
		t.Error(got)
	}
}
