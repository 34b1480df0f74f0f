package layout_test

import (
	"strings"
	"testing"

	"balustrade/jobbook/layout"
)

// A species of the library stands in the job's own files here. At 70 °F: 50 % is 9.2 % by the handbook's table, 25 % is 5.4; the formula's own values at these are within 0.07 of them.
func season(t *testing.T, jobKeys string) *layout.Run {
	t.Helper()
	before := parts["settings.md"]
	defer func() { parts["settings.md"] = before }()
	parts["settings.md"] = strings.Replace(before, ", season: 0", "", 1)
	_, l := lay(t, map[string]string{
		"job.md":          "kind: job\nrules: irc\ndrop: 100\nheight: 38\nposts: {a: {newel: post}, b: {newel: post}}\nbaluster: stick\nhandrail: rail\nshoe: shoe\nfillet: fillet\n" + jobKeys,
		"runs/1-r.md":     "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}",
		"parts/stick.md":  "kind: baluster\nspecies: maple\nwide: 1 1/4\nlong: 42",
		"species/hard.md": "kind: species\ntitle: Hard maple\nalso: [maple]\ntangential: 0.353 %\ncoefficients: published",
	})
	return l.Runs[0]
}

func TestSeason(t *testing.T) {
	without := season(t, "")
	with := season(t, "air: {now: {temperature: 70 F, humidity: 50 %}, dry: {temperature: 70 F, humidity: 25 %}}")
	// By hand: 1.25 in x 0.00353 x (9.2 - 5.4) = 0.0168 in; within 0.07 at both ends of the table that is 0.0161 to 0.0175. A gap between two balusters opens by all of it, each having half on its side.
	grows := (with.Chosen.Worst - without.Chosen.Worst).Float() / 25.4
	if with.Chosen.Count != without.Chosen.Count || grows < 0.0160 || grows > 0.0185 {
		t.Errorf("with %d and %d balusters the worst opening grows by %v in", with.Chosen.Count, without.Chosen.Count, grows)
	}
	if said := season(t, "air: {now: {temperature: 70 F, humidity: 50 %}, dry: {temperature: 70 F, humidity: 25 %}}\ntolerance: {season: 1/64}"); (said.Chosen.Worst-without.Chosen.Worst).Float()/25.4 != 1.0/64 {
		t.Errorf("what the job says does not hold: %v", said.Chosen.Worst-without.Chosen.Worst)
	}
	for _, keys := range []string{
		"air: {dry: {temperature: 70 F, humidity: 25 %}}",                                           // not known how damp it was
		"air: {now: {temperature: 70 F, humidity: 25 %}, dry: {temperature: 70 F, humidity: 50 %}}", // it only swells
		"air: {now: {temperature: 70 F, humidity: 99 %}, dry: {temperature: 70 F, humidity: 25 %}}", // no formula holds
	} {
		if r := season(t, keys); r.Chosen.Worst != without.Chosen.Worst {
			t.Errorf("%s: %v", keys, r.Chosen.Worst-without.Chosen.Worst)
		}
	}
	// 21.111 °C are 70 °F.
	if c := season(t, "air: {now: {temperature: 21.111 °C, humidity: 50 %}, dry: {temperature: 21.111 °C, humidity: 25 %}}"); c.Chosen.Worst != with.Chosen.Worst {
		t.Errorf("in Celsius %v, in Fahrenheit %v", c.Chosen.Worst, with.Chosen.Worst)
	}
}
