package finish

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/working"
)

const (
	limits = "weather: {least: 50 °F, humidity: 85 %, over-dew-point: 5 °F, status: published}\n"
	rule   = "drying: {at: 70 °F, doubles: 18 °F, at-humidity: 50 %, damp: 1.5, status: memory}\n"
)

// coated is a job with one finish on six square balusters 1 1/4 by 36, in some air, with the shop's settings.
func coated(t testing.TB, head, settings, coating string) Finishing {
	t.Helper()
	j := jobtest.Job(t, files{
		"job.md":            "kind: job\nfinishes: {balusters: x}\n" + head,
		"shop/settings.md":  "kind: settings\n" + settings,
		"finishes/x.md":     "kind: finish\n" + coating,
		"runs/1-gallery.md": run,
		"parts/stick.md":    "kind: baluster\nspecies: red oak\nwide: 1 1/4\nlong: 42\nunits: in",
	})
	l := laid(j)
	l.Runs[0].Balusters = []layout.Cut{cut("baluster", 6, inches(36))}
	return Work(j, l)
}

func findingOf(t testing.TB, f Finishing, id string) finding.Finding {
	t.Helper()
	i := slices.IndexFunc(f.Findings, func(x finding.Finding) bool { return x.ID == id })
	if i < 0 {
		t.Fatalf("no finding %s in %+v", id, f.Findings)
	}
	return f.Findings[i]
}

func air(temperature, humidity, surface string) string {
	if surface != "" {
		surface = ", surface: " + surface
	}
	return "air: {coating: {temperature: " + temperature + ", humidity: " + humidity + surface + "}}\n"
}

const varnish = "base: oil\ntype: clear\ncoats: [{coat: varnish, type: clear, coverage: 400 sq ft/gal, times: 2, dry: 24 h, grit: 220}]"

// Saturation pressures of water vapour in kPa, as steam tables have them (from memory): air of one temperature whose humidity is the quotient of two of them has its dew point at the other.
func TestDewPoint(t *testing.T) {
	saturated := map[int]float64{5: 0.8726, 10: 1.2282, 15: 1.7058, 20: 2.3392, 25: 3.1697, 30: 4.2467}
	for _, of := range []int{10, 15, 20, 25, 30} {
		for dew := 5; dew <= of; dew += 5 {
			h := fmt.Sprintf("%.3f %%", 100*saturated[dew]/saturated[of])
			a := coated(t, "units: mm\n"+air(fmt.Sprintf("%d °C", of), h, ""), limits, varnish).Air
			if a.Dew == nil {
				t.Fatalf("%d °C, %s: no dew point", of, h)
			}
			if got := a.Dew.Value.Float64(); math.Abs(got-float64(dew)) > 0.15 { // a tenth for the rounding, and what the formula is off
				t.Errorf("%d °C, %s: dew point %.3f, steam tables say %d", of, h, got, dew)
			}
		}
	}
	t.Run("in Fahrenheit as in Celsius", func(t *testing.T) { // 68 °F is 20 °C; its dew point at 52.5 % is 10.0 °C, 50.0 °F by the steam table
		f := coated(t, air("68 °F", "52.505 %", ""), limits, varnish)
		c := coated(t, air("20 °C", "52.505 %", ""), limits, varnish)
		if f.Air.Dew.Unit != "°F" || f.Air.Dew.Value.Cmp(c.Air.Dew.Value) != 0 {
			t.Errorf("%s %s and %s", f.Air.Dew.Value.Fixed(3), f.Air.Dew.Unit, c.Air.Dew.Value.Fixed(3))
		}
		if got := f.Air.Dew.Value.Float64(); math.Abs(got-50) > 0.25 {
			t.Errorf("got %.3f", got)
		}
	})
	t.Run("saturated air has its dew point where it is", func(t *testing.T) {
		value(t, coated(t, air("64 °F", "100 %", ""), limits, varnish).Air.Dew, "64", "°F")
	})
	for _, bad := range []string{air("64 °F", "0 %", ""), air("64 °F", "101 %", ""), air("150 °F", "50 %", ""), "air: {coating: {temperature: 64 °F}}"} {
		t.Run(bad, func(t *testing.T) {
			f := coated(t, bad, limits, varnish)
			if x := findingOf(t, f, "check/coating/x/air"); f.Air.Dew != nil || x.Verdict != finding.ToBeMeasured || len(f.Missing) == 0 {
				t.Errorf("%+v, %+v, %+v", f.Air.Dew, x, f.Missing)
			}
		})
	}
}

// One step under each limit, on it, one over it. Dew point of saturated air at 64 °F is 64 °F; the wood 5 °F over it has 69 °F.
func TestAirIsJudged(t *testing.T) {
	const warm = "weather: {least: 50 °F, most: 90 °F, humidity: 85 %, status: published}\n"
	const dew = "weather: {over-dew-point: 5 °F, status: published}\n"
	for _, c := range []struct {
		name, air, limits string
		want              finding.Verdict
	}{
		{"cold", air("49.999 °F", "50 %", "60 °F"), warm, finding.Fail},
		{"as cold as it may be", air("50 °F", "50 %", "60 °F"), warm, finding.Pass},
		{"cold wood", air("60 °F", "50 %", "49.9 °F"), warm, finding.Fail},
		{"in Celsius", air("10 °C", "50 %", "10 °C"), warm, finding.Pass},
		{"in Celsius, cold", air("9.999 °C", "50 %", "11 °C"), warm, finding.Fail},
		{"as warm as it may be", air("90 °F", "20 %", "70 °F"), warm, finding.Pass},
		{"hot", air("90.001 °F", "20 %", "70 °F"), warm, finding.Fail},
		{"as humid as it may be", air("65 °F", "85 %", "65 °F"), warm, finding.Pass},
		{"humid", air("65 °F", "85.001 %", "65 °F"), warm, finding.Fail},
		{"wood too near the dew point", air("64 °F", "100 %", "68.999 °F"), dew, finding.Fail},
		{"wood far enough from it", air("64 °F", "100 %", "69 °F"), dew, finding.Pass},
		{"wood not read", air("64 °F", "50 %", ""), dew, finding.ToBeMeasured},
		{"wood not read, and too cold", air("40 °F", "50 %", ""), limits, finding.Fail},
		{"read when it was measured", "air: {now: {temperature: 65 °F, humidity: 50 %}}\n", limits, finding.ToBeMeasured},
		{"not read", "", limits, finding.ToBeMeasured},
		{"no limits written", air("65 °F", "50 %", "65 °F"), "", finding.ToBeMeasured},
		{"limits from memory", air("65 °F", "50 %", "65 °F"), "weather: {least: 50 °F, status: memory}\n", finding.AskAuthority},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := coated(t, c.air, c.limits, varnish)
			if x := findingOf(t, f, "check/coating/x/air"); x.Verdict != c.want || x.Note == "" {
				t.Errorf("%s: %s, want %s", x.Verdict, x.Note, c.want)
			}
		})
	}
	t.Run("the can wants more than the shop", func(t *testing.T) {
		f := coated(t, air("58 °F", "50 %", "58 °F"), limits, varnish+"\nweather: {least: 60 °F}")
		if x := findingOf(t, f, "check/coating/x/air"); x.Verdict != finding.Fail || !strings.Contains(x.Note, "at least 60 °F") {
			t.Errorf("%s: %s", x.Verdict, x.Note)
		}
	})
	t.Run("the strictest coat counts", func(t *testing.T) {
		f := coated(t, air("58 °F", "50 %", "58 °F"), limits, "coats: [{coat: a, type: primer, dry: 1 h, weather: {least: 60 °F}}, {coat: b, type: enamel, dry: 1 h, weather: {least: 45 °F}}]")
		if x := findingOf(t, f, "check/coating/x/air"); x.Verdict != finding.Fail {
			t.Errorf("%s: %s", x.Verdict, x.Note)
		}
	})
}

// Varnish dries 24 h, and 36 when humid (published). The rest by hand with the shop's rule: 18 °F colder is twice as long, 9 °F colder √2 times, 33.94, up to the next quarter 34.
func TestDrying(t *testing.T) {
	for _, c := range []struct {
		name, air string
		want      string
	}{
		{"as on the can", air("70 °F", "50 %", ""), "24"},
		{"warmer and drier is not reckoned shorter", air("85 °F", "20 %", ""), "24"},
		{"humid: 36, as published", air("70 °F", "85 %", ""), "36"},
		{"half as humid over the can's air", air("70 °F", "67.5 %", ""), "30"},
		{"more humid than it may go on in counts as the limit", air("70 °F", "95 %", ""), "36"},
		{"18 °F colder", air("52 °F", "50 %", ""), "48"},
		{"9 °F colder", air("61 °F", "50 %", ""), "34"},
		{"colder than it may go on in counts as the limit: 24 · 2^(20/18) = 51.84", air("40 °F", "50 %", ""), "52"},
		{"the wood is colder than the air", air("70 °F", "50 %", "52 °F"), "48"},
		{"cold and humid", air("52 °F", "85 %", ""), "72"},
		{"the air not read", "", "24"},
		{"as it was when the guard was measured", "air: {now: {temperature: 52 °F, humidity: 50 %}}", "48"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := coated(t, c.air, limits+rule, varnish)
			d := groupOf(t, f, "balusters").Coats[0].Drying
			value(t, d.Figure, c.want, "h")
			want, _ := new(big.Rat).SetString(c.want)
			want.Mul(want, big.NewRat(60, 1))
			if int64(d.Minutes) != want.Num().Int64() || d.Longer != (c.want != "24") {
				t.Errorf("got %+v", d)
			}
		})
	}
	t.Run("of two times the longer", func(t *testing.T) {
		f := coated(t, air("70 °F", "50 %", ""), limits+rule, "coats: [{coat: a, type: clear, dry: 12 to 24 h by the fire}]\nhands: 3 days\ntape: 1 to 2 weeks")
		s := f.Systems[0]
		if s.Coats[0].Minutes != 24*60 || s.Hands.Minutes != 3*24*60 || s.AsLast || s.Tape.Minutes != 14*24*60 {
			t.Errorf("got %+v", s)
		}
	})
	t.Run("no rule, no more than the can says", func(t *testing.T) {
		f := coated(t, air("52 °F", "80 %", ""), "", varnish)
		value(t, f.Systems[0].Coats[0].Figure, "24", "h")
	})
	t.Run("hands not written: no sooner than the next coat could go on; tape is not made up", func(t *testing.T) {
		s := coated(t, air("52 °F", "50 %", ""), limits+rule, varnish).Systems[0]
		if !s.AsLast || s.Hands.Minutes != 48*60 || s.Tape.Minutes != 0 || s.Tape.Figure != nil {
			t.Errorf("got %+v", s)
		}
	})
	t.Run("words without a time are a reading to take", func(t *testing.T) {
		f := coated(t, air("70 °F", "50 %", ""), limits+rule, "coats: [{coat: a, type: clear, dry: overnight}]")
		if s := f.Systems[0]; s.Coats[0].Minutes != 0 || s.Coats[0].Figure != nil || !asks(f, "how long the a dries") {
			t.Errorf("got %+v, %+v", s, f.Missing)
		}
	})
	t.Run("the next coat without sanding", func(t *testing.T) {
		for within, closed := range map[string]bool{"30 h": false, "24 h": false, "23 h": true} {
			d := coated(t, air("70 °F", "50 %", ""), limits+rule, "coats: [{coat: a, type: clear, times: 2, dry: 24 h, within: "+within+"}]").Systems[0].Coats[0]
			if d.Within == 0 || d.Closed != closed {
				t.Errorf("within %s: got %+v", within, d)
			}
		}
	})
	t.Run("how sure the rule is goes with it", func(t *testing.T) {
		d := coated(t, air("61 °F", "60 %", ""), limits+rule, varnish).Systems[0].Coats[0]
		if len(d.Figure.Cites) != 3 || d.Figure.Cites[1].Status != working.Memory || d.Figure.Cites[2].Status != working.Memory {
			t.Errorf("got %+v", d.Figure.Cites)
		}
	})
}

// A coat never dries sooner than its can says, and colder or damper air never makes it quicker.
func TestDryingNeverShorter(t *testing.T) {
	minutes := func(t testing.TB, temperature, humidity int) int {
		return coated(t, air(fmt.Sprintf("%d °F", temperature), fmt.Sprintf("%d %%", humidity), ""), limits+rule, varnish).Systems[0].Coats[0].Minutes
	}
	rapid.Check(t, func(r *rapid.T) {
		temperature, humidity := rapid.IntRange(0, 120).Draw(r, "temperature"), rapid.IntRange(1, 99).Draw(r, "humidity")
		here := minutes(t, temperature, humidity)
		if here < 24*60 || here > 24*60*4 {
			r.Fatalf("%d °F, %d %%: %d minutes", temperature, humidity, here)
		}
		if colder := minutes(t, max(temperature-7, 0), humidity); colder < here {
			r.Errorf("colder than %d °F, %d %%: %d minutes, not %d", temperature, humidity, colder, here)
		}
		if damper := minutes(t, temperature, humidity+1); damper < here {
			r.Errorf("%d °F, damper than %d %%: %d minutes, not %d", temperature, humidity, damper, here)
		}
	})
}

func TestOrderOfCoats(t *testing.T) {
	for _, c := range []struct {
		name, coats string
		want        finding.Verdict
		words       string
	}{
		{"stain, sealer, clear", "{coat: s, type: stain}, {coat: e, type: sealer}, {coat: c, type: clear}", finding.Pass, ""},
		{"conditioner, stain, clear", "{coat: w, type: conditioner}, {coat: s, type: stain}, {coat: c, type: clear}", finding.Pass, ""},
		{"filler, stain, clear", "{coat: f, type: filler}, {coat: s, type: stain}, {coat: c, type: clear}", finding.Pass, ""},
		{"primer, enamel", "{coat: p, type: primer}, {coat: e, type: enamel}", finding.Pass, ""},
		{"oil enamel over water primer", "{coat: p, type: primer, base: water}, {coat: e, type: enamel, base: oil}", finding.Pass, ""},
		{"water enamel over oil primer", "{coat: p, type: primer, base: oil}, {coat: e, type: enamel, base: water}", finding.Pass, ""},
		{"water enamel over pigmented shellac", "{coat: p, type: primer, base: shellac}, {coat: e, type: enamel, base: water}", finding.Pass, ""},
		{"clear alone", "{coat: c, type: clear}", finding.Pass, ""},
		{"stain over sealer", "{coat: e, type: sealer}, {coat: s, type: stain}, {coat: c, type: clear}", finding.Fail, "soaks into bare wood"},
		{"stain over sealer, with something between", "{coat: c, type: sealer}, {coat: f, type: filler}, {coat: s, type: stain}, {coat: d, type: clear}", finding.Fail, "soaks into bare wood"},
		{"conditioner over stain", "{coat: s, type: stain}, {coat: w, type: conditioner}, {coat: c, type: clear}", finding.Fail, "over the s it does nothing"},
		{"filler over clear", "{coat: c, type: clear}, {coat: f, type: filler}, {coat: d, type: clear}", finding.Fail, "pores"},
		{"primer over enamel", "{coat: p, type: primer}, {coat: e, type: enamel}, {coat: q, type: primer}, {coat: f, type: enamel}", finding.Fail, "wrong place"},
		{"clear over primer", "{coat: p, type: primer}, {coat: c, type: clear}", finding.Fail, "shows the primer"},
		{"enamel on bare wood", "{coat: e, type: enamel}", finding.Fail, "bare wood"},
		{"enamel on stain", "{coat: s, type: stain}, {coat: e, type: enamel}", finding.Fail, "enamel on the s"},
		{"nothing over the stain", "{coat: s, type: stain}", finding.Fail, "wear off"},
		{"nothing over the primer", "{coat: p, type: primer}", finding.Fail, "wear off"},
		{"polyurethane over shellac without wax", "{coat: h, type: sealer, base: shellac, dewaxed: yes}, {coat: c, type: clear, base: water}", finding.Pass, ""},
		{"polyurethane over shellac with wax", "{coat: h, type: sealer, base: shellac, dewaxed: no}, {coat: c, type: clear, base: water}", finding.Fail, "wax"},
		{"polyurethane over some shellac", "{coat: h, type: sealer, base: shellac}, {coat: c, type: clear, base: oil}", finding.ToBeMeasured, "wax"},
		{"shellac over shellac", "{coat: h, type: sealer, base: shellac}, {coat: c, type: clear, base: shellac}", finding.Pass, ""},
		{"water over oil stain", "{coat: s, type: stain, base: oil}, {coat: c, type: clear, base: water}", finding.AskAuthority, "dried through"},
		{"oil over water stain", "{coat: s, type: stain, base: water}, {coat: c, type: clear, base: oil}", finding.Pass, ""},
		{"shellac between them", "{coat: s, type: stain, base: oil}, {coat: h, type: sealer, base: shellac, dewaxed: yes}, {coat: c, type: clear, base: water}", finding.Pass, ""},
		{"nobody says what it is", "{coat: s}, {coat: c, type: clear}", finding.ToBeMeasured, "is not written"},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := coated(t, "", "", "coats: ["+c.coats+"]")
			var list []finding.Finding
			for _, x := range f.Findings {
				if strings.HasPrefix(x.ID, "check/coating/x/order") {
					list = append(list, x)
				}
			}
			if len(list) != 1 || list[0].Verdict != c.want || !strings.Contains(list[0].Note, c.words) || list[0].At.IsZero() {
				t.Errorf("got %+v", list)
			}
			if len(list) == 1 && list[0].Verdict == finding.Fail && list[0].Cure == "" {
				t.Error("no cure")
			}
		})
	}
	t.Run("the finish's base is the coats'", func(t *testing.T) {
		f := coated(t, "", "", "base: water\ncoats: [{coat: s, type: stain, base: oil}, {coat: c, type: clear}]")
		if x := f.Findings[0]; x.Verdict != finding.AskAuthority || x.Status != working.Memory {
			t.Errorf("got %+v", x)
		}
	})
	t.Run("two faults", func(t *testing.T) {
		f := coated(t, "", "", "coats: [{coat: e, type: enamel}, {coat: s, type: stain}]")
		if n := len(f.Findings); n != 5 || f.Findings[0].ID != "check/coating/x/order/1/enamel-on-bare" || f.Findings[2].ID != "check/coating/x/order/2/last-is-soft" { // enamel on bare wood, stain over it, a stain last; the air, and a panel
			t.Errorf("got %+v", f.Findings)
		}
	})
}

func TestTestPanel(t *testing.T) {
	const stain = "type: stain\ncoats: [{coat: s, type: stain}, {coat: c, type: clear}]"
	const id = "check/coating/x/panel/red-oak"
	for _, c := range []struct {
		name, head string
		want       finding.Verdict
	}{
		{"none", "", finding.ToBeMeasured},
		{"signed", "panels: [{finish: x, species: Red oak, signed: 2026-11-02}]", finding.Pass},
		{"not signed yet", "panels: [{finish: x, species: red oak, signed: }]", finding.ToBeMeasured},
		{"on another wood", "panels: [{finish: x, species: white oak, signed: 2026-11-02}]", finding.ToBeMeasured},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := coated(t, c.head, "", stain)
			if x := findingOf(t, f, id); x.Verdict != c.want || asks(f, "a test panel of x on red oak") != (c.want != finding.Pass) {
				t.Errorf("got %+v, %+v", x, f.Missing)
			}
		})
	}
	t.Run("without a stain none is asked for", func(t *testing.T) {
		for _, x := range coated(t, "", "", varnish).Findings {
			if strings.Contains(x.ID, "panel") {
				t.Errorf("got %+v", x)
			}
		}
	})
}

// Worked by hand. Strips of 96 at 4 hold 24 balusters each.
func TestBatches(t *testing.T) {
	work := func(t *testing.T, settings string, balusters int) *Batches {
		j := jobtest.Job(t, files{"job.md": "kind: job\nfinishes: {balusters: x}\n" + air("70 °F", "50 %", ""), "shop/settings.md": "kind: settings\n" + limits + rule + settings,
			"finishes/x.md": "kind: finish\ncoats: [{coat: p, type: primer, dry: 1 to 4 h}, {coat: e, type: enamel, dry: 6 h, times: 2}]", "runs/1-gallery.md": run, "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42"})
		l := laid(j)
		l.Runs[0].Balusters = []layout.Cut{cut("baluster", balusters, inches(36))}
		return groupOf(t, Work(j, l), "balusters").Batches
	}
	for _, c := range []struct {
		name, strips     string
		balusters        int
		atATime, batches int
		cycles           []int // minutes, of the primer and of one coat of enamel
	}{
		{"one strip", "{long: 8', pitch: 4, count: 1}", 50, 24, 3, []int{3 * 240, 3 * 360}},
		{"as many as go on them", "{long: 8', pitch: 4, count: 2}", 48, 48, 1, []int{240, 360}},
		{"one more", "{long: 8', pitch: 4, count: 2}", 49, 48, 2, []int{480, 720}},
		{"a strip that is a hair short", "{long: 95 15/16, pitch: 4, count: 2}", 48, 46, 2, []int{480, 720}},
		{"two goes, and the work", "{long: 8', pitch: 4, count: 1, turns: 2, minutes: 3}", 30, 24, 2, []int{2*2*240 + 90, 2*2*360 + 90}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := work(t, "strips: "+c.strips, c.balusters)
			if b == nil || b.AtATime != c.atATime || b.Batches != c.batches || b.Cycles[0].Minutes != c.cycles[0] || b.Cycles[1].Minutes != c.cycles[1] {
				t.Errorf("got %+v", b)
			}
		})
	}
	t.Run("nobody says on what", func(t *testing.T) {
		if b := work(t, "", 30); b != nil {
			t.Errorf("got %+v", b)
		}
	})
	t.Run("balusters that would touch", func(t *testing.T) {
		if b := work(t, "strips: {long: 8', pitch: 1 1/4, count: 1}", 30); b != nil {
			t.Errorf("got %+v", b)
		}
	})
	t.Run("newels on horses", func(t *testing.T) { // 3 1/2 wide with 2 between in 30: (30 + 2)/(3.5 + 2) = 5.8, so 5 on a pair; 11 posts in 2 goes of 10
		posts := "{"
		for i := range 11 {
			posts += fmt.Sprintf("p%d: {newel: post}, ", i)
		}
		j := jobtest.Job(t, files{"job.md": "kind: job\nfinishes: {newels: x}\nposts: " + posts + "}", "shop/settings.md": "kind: settings\nhorses: {pairs: 2, wide: 30, apart: 2}",
			"finishes/x.md": "kind: finish\ncoats: [{coat: c, type: clear, dry: 24 h}]", "parts/post.md": "kind: newel\nwide: 3 1/2\nlong: 48"})
		b := groupOf(t, Work(j, laid(j)), "newels").Batches
		if b == nil || b.AtATime != 10 || b.Batches != 2 || b.Cycles[0].Minutes != 48*60 {
			t.Errorf("got %+v", b)
		}
	})
}

func TestSanding(t *testing.T) {
	areas := func(f Finishing) (list []string) {
		for _, s := range groupOf(t, f, "balusters").Sandings {
			list = append(list, fmt.Sprint(s.Grit, " ", s.Area.Value.Fixed(2)))
		}
		return list
	}
	// Six balusters of 180 sq in are 7.5 sq ft.
	t.Run("bare wood and between coats, nothing after the last", func(t *testing.T) {
		f := coated(t, "", "supplies: {sheet: 5 sq ft}", "bare: [{grit: [120, 150]}]\ncoats: [{coat: p, type: primer, grit: 180}, {coat: e, type: enamel, times: 3, grit: 220}]")
		if got := areas(f); !slices.Equal(got, []string{"120 7.50", "150 7.50", "180 7.50", "220 15.00"}) {
			t.Errorf("got %v", got)
		}
		value(t, f.Sandings[3].Sheets, "3", "")
		value(t, f.Sandings[0].Sheets, "2", "")
	})
	t.Run("the last coat by itself is not sanded, nor is a stain", func(t *testing.T) {
		f := coated(t, "", "", "coats: [{coat: s, type: stain}, {coat: c, type: clear, grit: 220}]")
		if got := areas(f); len(got) != 0 {
			t.Errorf("got %v", got)
		}
	})
	t.Run("the wood decides", func(t *testing.T) {
		f := coated(t, "", "", "bare: [{woods: [maple], grit: [180]}, {woods: [oak], grit: [120]}, {grit: [150]}]\ncoats: [{coat: c, type: clear}]")
		if got := areas(f); !slices.Equal(got, []string{"120 7.50"}) {
			t.Errorf("got %v", got)
		}
	})
	t.Run("a wood that no line names", func(t *testing.T) {
		f := coated(t, "", "", "bare: [{woods: [maple], grit: [180]}]\ncoats: [{coat: c, type: clear}]")
		if got := areas(f); len(got) != 0 || !asks(f, "how bare red oak is sanded under x: no line of its bare: is for that wood") {
			t.Errorf("got %v, %+v", got, f.Missing)
		}
	})
}

// By hand: a shoe of 90 has two sides, 180; 18 balusters 1 1/4 wide, head and foot, 18 · 2 · 5 = 180; a post 3 1/2 wide, 14; a rosette 4 wide, 16. Together 390 in, 32.5 ft.
func TestMaskingTape(t *testing.T) {
	work := func(t *testing.T, finishes string) Finishing {
		j := jobtest.Job(t, files{"job.md": "kind: job\nposts: {a: {newel: post}}\nhandrail: rail\nshoe: shoe\nfillet: none\nrosette: plate\nfinishes: {" + finishes + "}", "shop/settings.md": "kind: settings\nsupplies: {roll: 20'}",
			"finishes/x.md": "kind: finish\ncoats: [{coat: c, type: clear}]", "finishes/y.md": "kind: finish\ncoats: [{coat: c, type: clear}]",
			"runs/1-gallery.md": "kind: run\nfrom: wall\nto: a\nbaluster: stick", "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42", "parts/rail.md": "kind: handrail\ngirth: 8 1/2\nplow: {wide: 1 1/4, deep: 5/16}",
			"parts/shoe.md": "kind: shoe\nwide: 2 1/2\nhigh: 3/4", "parts/post.md": "kind: newel\nwide: 3 1/2\nlong: 48", "parts/plate.md": "kind: rosette\nwide: 4\nthick: 3/4"})
		l := laid(j)
		h, s := cut("handrail", 1, inches(96)), cut("shoe", 1, inches(90))
		l.Runs[0].Handrail, l.Runs[0].Shoe = &h, &s
		l.Runs[0].Balusters = []layout.Cut{cut("baluster", 18, inches(36))}
		return Work(j, l)
	}
	f := work(t, "balusters: x, newels: y, handrail: y, shoe: y")
	value(t, f.Tape, "32.5", "ft")
	value(t, f.Rolls, "2", "")
	t.Run("the rosette is coated all round: 2 · 16 + 4 · 4 · 3/4 = 44 sq in", func(t *testing.T) {
		g := groupOf(t, f, "handrail")
		value(t, g.Lines[len(g.Lines)-1].Figure, "44/144", "sq ft")
	})
	t.Run("one finish on everything needs no tape round the balusters", func(t *testing.T) {
		value(t, work(t, "balusters: x, newels: x, handrail: x, shoe: x").Tape, "17.5", "ft")
	})
	t.Run("not while a finish is open", func(t *testing.T) {
		if x := work(t, "balusters: x, newels: y, handrail: y"); x.Tape != nil {
			t.Errorf("got %+v", x.Tape)
		}
	})
}

// Hostile numbers never panic, and give no time that wraps.
func TestHostileTimes(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		number := func(name string, most int) int { return rapid.IntRange(0, most).Draw(r, name) }
		settings := fmt.Sprintf("weather: {least: %d °F, humidity: %d %%, over-dew-point: %d °C}\ndrying: {at: %d °C, doubles: %d °F, at-humidity: %d %%, damp: %d}\nstrips: {long: %d, pitch: %d, count: %d, minutes: %d}\nsupplies: {sheet: %d m2, roll: %d}\n",
			number("least", 100000), number("humid", 100000), number("over", 100000), number("at", 100000), number("doubles", 100000), number("at-humidity", 100), number("damp", 100000),
			number("long", 3900), number("pitch", 1000), number("count", 999)+1, number("minutes", 100000), number("sheet", 3), number("roll", 10))
		f := coated(t, air(fmt.Sprintf("%d °F", number("t", 200)), fmt.Sprintf("%d %%", number("h", 120)), fmt.Sprintf("%d °C", number("s", 100))), settings, "bare: [{grit: [120]}]\ncoats: [{coat: a, type: clear, times: 2, grit: 220, dry: 365 d}]\nhands: 50 weeks")
		for _, s := range f.Systems {
			if s.Coats[0].Minutes < 0 || s.Hands.Minutes < 0 {
				r.Errorf("got %+v", s)
			}
		}
		if b := groupOf(t, f, "balusters").Batches; b != nil {
			for _, c := range b.Cycles {
				if c.Minutes < 0 || c.Work < 0 {
					r.Errorf("got %+v", b)
				}
			}
		}
	})
}

// What a calendar takes: coats alike are a stage each, the last one waits for hands, and that of all but balusters goes on once they stand. By hand: 6 balusters of 3 min are 18 min.
func TestStages(t *testing.T) {
	f := coated(t, air("70 °F", "50 %", ""), limits+rule+"strips: {long: 8', pitch: 4, count: 1, minutes: 3}", "coats: [{coat: p, type: primer, dry: 4 h, within: 8 h}, {coat: e, type: enamel, times: 2, dry: 6 h}]\nhands: 2 days\ntape: 14 days")
	want := []Stage{
		{Group: "balusters", What: "balusters", Finish: "x", Coat: "p", N: 1, Of: 3, Work: 18, Dry: 240, Cycle: 258, Within: 480, Between: 240},
		{Group: "balusters", What: "balusters", Finish: "x", Coat: "e", N: 2, Of: 3, Work: 18, Dry: 360, Cycle: 378, Between: 360},
		{Group: "balusters", What: "balusters", Finish: "x", Coat: "e", N: 3, Of: 3, Work: 18, Dry: 2880, Cycle: 378, Tape: 14 * 24 * 60, Between: 360},
	}
	for i := range want { // 24 go on the strip at 4 in, all sides at once
		want[i].On, want[i].Pieces, want[i].AtATime, want[i].Turns, want[i].Goes = "strips", 6, 24, 1, []Go{{1, 1, 1, 1, 6, 18}}
	}
	if d := cmp.Diff(want, f.Stages()); d != "" {
		t.Error(d)
	}
	t.Run("batches and sides", func(t *testing.T) { // by hand: 30 pieces, 24 and 6, two sides each: 60 goes of a piece in 90 min, so 36, 36, 9 and 9
		s := Stage{Pieces: 30, AtATime: 24, Turns: 2, Work: 90}
		want := []Go{{1, 2, 1, 2, 24, 36}, {1, 2, 2, 2, 24, 36}, {2, 2, 1, 2, 6, 9}, {2, 2, 2, 2, 6, 9}}
		if d := cmp.Diff(want, s.goes(2)); d != "" {
			t.Error(d)
		}
	})
	t.Run("minutes that do not share out", func(t *testing.T) { // none is lost: the goes add up to the whole
		s := Stage{Pieces: 7, AtATime: 3, Turns: 2, Work: 100}
		sum := 0
		for _, g := range s.goes(3) {
			sum += g.Work
		}
		if sum != 100 {
			t.Errorf("%d min", sum)
		}
	})
	t.Run("more goes than anyone keeps count of", func(t *testing.T) {
		s := Stage{Pieces: 1000, AtATime: 1, Turns: 1, Work: 100}
		if got := s.goes(1000); got != nil {
			t.Errorf("%d goes", len(got))
		}
	})
	t.Run("posts get their last coat where they stand", func(t *testing.T) {
		j := jobtest.Job(t, paint, files{"job.md": "kind: job\nfinishes: {newels: paint}\nposts: {a: {newel: post}}", "parts/post.md": "kind: newel\nwide: 3 1/2\nlong: 48"})
		f := Work(j, laid(j))
		got := f.Stages()
		if len(got) != 3 || got[1].Fitted || !got[2].Fitted || got[2].Dry != 360 || got[2].Cycle != 360 || got[2].Work != 0 {
			t.Errorf("got %+v", got)
		}
	})
	t.Run("no finish, no coat", func(t *testing.T) {
		f := Finishing{Groups: []Group{{Name: "shoe"}}}
		if got := f.Stages(); len(got) != 0 {
			t.Errorf("got %+v", got)
		}
	})
}
