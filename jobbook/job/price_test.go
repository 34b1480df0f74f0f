package job_test

import (
	"testing"

	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/source"
)

// TestPriceProblems: what is wrong in a job's price and a shop's rates, and what would be right.
func TestPriceProblems(t *testing.T) {
	for price, want := range map[string]string{
		"{show: all}":                `job.md:3:15: want one of none, total, lines, found "all" (write one of: none, total, lines)`,
		"{hours: 40}":                `job.md:3:16: want a number in h, found "40" (write the unit with it: 40 h)`,
		"{discount: 101 %}":          `job.md:3:19: a discount of more than the price, 101 % (write no more than 100 %)`,
		"{discount: -5}":             `job.md:3:19: "-5" is less than nothing (write 0 for what costs nothing)`,
		"{valid: soon}":              `job.md:3:16: want a date or a number of days up to 3650, found "soon" (write a date as 2026-11-20, or 30 days)`,
		"{valid: 0 days}":            `job.md:3:16: want a date or a number of days up to 3650, found "0 days" (write a date as 2026-11-20, or 30 days)`,
		"{date: 2026-13-01}":         `job.md:3:15: there is no day 2026-13-01 (look the day up again; the month stands in the middle)`,
		"{allowances: [{price: 5}]}": `job.md:3:22: a sum without words (add what: , in the client's words)`,
		"{choices: [tigther]}":       `job.md:3:19: no alternative is named "tigther" (did you mean tighter?)`,
		"{lines: [{what: a, share: 60 %, runs: [hall]}]}":                               `job.md:3:17: the lines of the price say their parts in different ways (write share: in every line, or runs: in every line, or of: in every line)`,
		"{lines: [{what: a, runs: [hall]}, {what: b, of: labour}]}":                     `job.md:3:17: the lines of the price say their parts in different ways (write share: in every line, or runs: in every line, or of: in every line)`,
		"{lines: [{what: a, runs: [hall, stair]}, {what: b}]}":                          `job.md:3:49: a line of the price without its part (write what it is for, as the other lines do)`,
		"{lines: [{what: a, runs: [hall]}]}":                                            `job.md:3:17: no line of the price is for stair (add it to a line)`,
		"{lines: [{what: a, runs: [hall, stair]}, {what: b, runs: [hall]}]}":            `job.md:3:66: "hall" is in two places of the price (name it in one line only)`,
		"{lines: [{what: a, runs: [hal, hall, stair]}]}":                                `job.md:3:34: no run is named "hal" (did you mean hall?)`,
		"{lines: [{what: a, of: labour}]}":                                              `job.md:3:17: no line of the price is for materials (add it to a line)`,
		"{lines: [{what: a, of: profit}]}":                                              `job.md:3:31: want one of materials, labour, found "profit" (write one of: materials, labour)`,
		"{show: lines, valid: 1 day, lines: [{what: a, of: [materials, labour]}]}":      "",
		"{valid: 2026-11-20, discount: 2.5 %, hours: 40.5 h, choices: [tighter]}":       "",
		"{lines: [{what: a, runs: [hall]}, {what: b, runs: [stair]}], discount: 12.50}": "",
	} {
		files := map[string]string{
			"job.md": "kind: job\nprice: " + price, "runs/1-hall.md": "kind: run", "runs/2-stair.md": "kind: flight", "alternatives/1-tighter.md": "kind: alternative\nall-runs: {most: 3 1/2}",
		}
		_, problems := job.Decode(jobtest.Read(t, source.Job, "", files), nil)
		got := ""
		if len(problems) > 0 {
			p := problems[0]
			got = p.At.String() + ": " + p.Summary + " (" + p.Hint + ")"
		}
		if got != want {
			t.Errorf("%s\ngot  %s\nwant %s", price, got, want)
		}
	}
}

// TestRates: a file that is read later, as a nearer one is, replaces rates key by key, and none has a default.
func TestRates(t *testing.T) {
	j, problems := job.Decode(jobtest.Read(t, source.Job, "", map[string]string{
		"job.md": "kind: job", "a/settings.md": "kind: settings\nname: A\nrates: {hour: 50, overhead: 10 %, tax: 8 %}", "b/settings.md": "kind: settings\nrates: {overhead: 0 %, mark-up: 5 %}",
	}), nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	r := j.Shop.Rates
	if r.Hour.Money != 5000 || !r.Overhead.Given || r.Overhead.Thousandths != 0 || r.MarkUp.Thousandths != 5000 || r.Tax.Thousandths != 8000 || r.TaxOn.Given || r.Round.Given || j.Shop.Name.Text != "A" {
		t.Errorf("%+v", r)
	}
}
