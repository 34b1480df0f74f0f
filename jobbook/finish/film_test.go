package finish

import (
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job/jobtest"
)

// TestFilms: a stick of 1.25 with a primer at 300 and two enamels at 350 sq ft to the gallon. By hand: a gallon is 231 cubic inches, so they are 231/144/300 + 2·231/144/350 = 0.0145 in wet on a side, 0.0291 on both: a plow of 1.280 takes them
// whatever is left when dry, one of 1.279 may not. Films of 0.002 and 0.003 twice are 0.008 on a side: 1.266 in all.
func TestFilms(t *testing.T) {
	const known = "kind: finish\ncoats:\n  - {coat: primer, film: 0.002}\n  - {coat: enamel, times: 2, film: 0.003}"
	for _, c := range []struct {
		name, finish, plow string
		want               string // verdict of the shoe's plow; empty where nothing is said
	}{
		{"no film, full", "", "1 1/4", "to be measured"},
		{"no film, a hair under", "", "1.279", "to be measured"},
		{"no film, room for it wet", "", "1.280", ""},
		{"no coverage either", "kind: finish\ncoats: [{coat: enamel}]", "1 3/8", "to be measured"},
		{"one film missing", "kind: finish\ncoats: [{coat: primer, film: 0.002, coverage: 300 sq ft/gal}, {coat: enamel, coverage: 300 sq ft/gal}]", "1 1/4", "to be measured"},
		{"in litres", "kind: finish\ncoats: [{coat: enamel, coverage: 10 m2/L}]", "1.26", ""},                       // 0.1 mm wet: 0.2 mm on both, 0.00787
		{"in litres, tight", "kind: finish\ncoats: [{coat: enamel, coverage: 10 m2/L}]", "1.257", "to be measured"}, // 0.0070
		{"films, on the limit", known, "1.266", "pass"},
		{"films, under it", known, "1.265", "fail"},
		{"bare too wide, which the run says", known, "1.2", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			all := files{
				"job.md": "kind: job\nfinishes: {balusters: paint}", "runs/1-gallery.md": run + "shoe: sole", "runs/2-more.md": run + "shoe: sole",
				"parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 36", "parts/sole.md": "kind: shoe\nwide: 2 1/2\nhigh: 3/4\nplow: {wide: " + c.plow + ", deep: 1/4}", "finishes/paint.md": paint["finishes/paint.md"],
			}
			if c.finish != "" {
				all["finishes/paint.md"] = c.finish
			}
			j := jobtest.Job(t, all)
			var got []string
			for _, f := range Work(j, laid(j)).Findings {
				if strings.Contains(f.ID, "/film/") {
					got = append(got, f.Verdict.String())
					if f.Verdict == finding.ToBeMeasured && !strings.Contains(f.Note, "dry fit") {
						t.Errorf("%+v", f)
					}
				}
			}
			if strings.Join(got, " ") != c.want { // once for two runs alike
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}
