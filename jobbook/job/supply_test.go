package job_test

import (
	"testing"

	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/source"
)

// TestSupplyProblems: what is wrong in a price list, a rack, a price, and what would be right.
func TestSupplyProblems(t *testing.T) {
	for text, want := range map[string]string{
		"kind: supplier\nsells: {n: {price: -3}}":                    `x.md:3:20: "-3" is less than nothing (write 0 for what costs nothing)`,
		"kind: supplier\nsells: {n: {price: \"1,50\"}}":              `x.md:3:20: "1,50" could be a decimal or thousands (write the amount without a comma, as in 1240.50)`,
		"kind: supplier\nsells: {n: {price: 1.999}}":                 `x.md:3:20: "1.999" has more than two decimals (write at most two decimals; a price for less is written for a pack)`,
		"kind: supplier\nsells: {nn: {price: 3}}":                    `x.md:3:9: no part is named "nn" (did you mean n?)`,
		"kind: supplier\nsells: {n: {pack: 10, long: 8', price: 3}}": `x.md:3:12: an offer is by the pack, by the stick or by the can, not two of them (write an offer for each: - {pack: , price: })`,
		"kind: supplier\nsells: {n: {lengths: [8', 10'], price: 3}}": `x.md:3:40: one price for sticks of several lengths (write per-foot: or per-metre: , or an offer for each length)`,
		"kind: supplier\nsells: {n: {per-foot: 3}}":                  `x.md:3:23: a price by length, and no length (add lengths: [8', 10', 12'])`,
		"kind: supplier\nsells: {n: {long: 0, price: 3}}":            `x.md:3:19: a stick of nothing (write the length as it is sold)`,
		"kind: supplier\nsells: {n: {pack: 0, price: 3}}":            `x.md:3:19: want a whole number from 1 to 100000, found "0" (write a whole number from 1 to 100000)`,
		"kind: supplier\nsells: {n: {kind: shoe, price: 3}}":         `x.md:3:19: there is no shoe named "n" (write kind: newel)`,
		"kind: rack\noffcuts: [{part: n, long: -2}]":                 `x.md:3:27: "-2" has a sign, a reading is never negative (write the length without a sign)`,
		"kind: rack\noffcuts: [{long: 2}]":                           `x.md:3:11: a part without a name (add part: , its name)`,
		"kind: fastening\njoins: fillet\nwith: nail":                 `x.md:4:7: no fixing is named "nail" (there is no fixing yet; write one)`,
		"kind: fastening\njoins: fillet\neach: 63/64":                `x.md:4:7: fixings closer than an inch to each other (write the distance from one to the next, an inch at the least)`,
		"kind: fixing\nlong: 2\nthread: 2 1/64":                      `x.md:4:9: more thread than the fixing is long (write how much of its length is threaded)`,
		"kind: fastening\njoins: shoe to flor":                       `x.md:3:8: "shoe to flor" is none of the 19 words that can stand here (did you mean shoe to floor?)`,
	} {
		files := map[string]string{"x.md": text}
		for name, front := range plainFiles {
			files[name] = front
		}
		_, problems := job.Decode(jobtest.Read(t, source.Job, "", files), nil)
		if len(problems) == 0 {
			t.Errorf("%s: no problem", text)
			continue
		}
		p := problems[0]
		got := p.At.String() + ": " + p.Summary + " (" + p.Hint + ")"
		if len(got) < len(want) || got[:len(want)] != want {
			t.Errorf("%s\ngot  %s\nwant %s", text, got, want)
		}
	}
	for shares, want := range map[string]string{
		"[{what: a, share: 60 %}, {what: b, share: 50 %}]": "the lines of the price are 110 % together",
		"[{what: a, share: 60 %}, {what: b, share: 30 %}]": "the lines of the price are 90 % together",
		"[{what: a}, {what: b, share: 30 %}]":              "only the last line of the price can be without a share",
		"[{share: 60 %}, {what: b}]":                       "a line of the price without words",
		"[{what: a, share: 60 %}, {what: b}]":              "",
	} {
		_, problems := job.Decode(jobtest.Read(t, source.Job, "", map[string]string{"job.md": "kind: job\nprice: {show: lines, lines: " + shares + "}"}), nil)
		got := ""
		if len(problems) > 0 {
			got = problems[0].Summary
		}
		if got != want {
			t.Errorf("%s: %q, want %q", shares, got, want)
		}
	}
}
