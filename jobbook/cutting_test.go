package jobbook_test

import (
	"html"
	"regexp"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/takeoff"
)

var (
	pasted   = regexp.MustCompile(`(?s)id="offcuts">.*?<pre class="paste">(.*?)</pre>`)
	drawings = regexp.MustCompile(`(?s)<svg[^>]* id="d-cutting-[^>]*>.*?</svg>`)
)

// TestCuttingPage: what the cutting plan prints of what is left is a rack's file that reads back as just that; every mark is on the page once a stop, and every stick is in a drawing.
func TestCuttingPage(t *testing.T) {
	for _, dir := range jobs {
		result, files, err := jobbook.Make(dir)
		if err != nil || result.Plan == nil {
			t.Fatal(err, result.Problems)
		}
		page := ""
		for _, f := range files {
			if f.Path == "cutting.html" {
				page = strings.Join(f.Pieces, "")
			}
		}
		keep, sticks := 0, 0
		for _, c := range result.Plan.Takeoff.Cuttings {
			for _, s := range c.Sticks {
				sticks++
				if s.Keep {
					keep++
				}
			}
			if !c.Proven {
				t.Errorf("%s: %s is not proven", dir, c.Part)
			}
		}
		found := pasted.FindStringSubmatch(page)
		if (found != nil) != (keep > 0) {
			t.Fatalf("%s: %d to keep, and on the page %v", dir, keep, found)
		}
		if keep > 0 {
			// As the rack of a shop, which passes over names of parts that a job does not know.
			again, err := jobbook.Check(folder(t, map[string]string{"job.md": "kind: job", "shop/rack.md": "kind: rack\n" + strings.TrimSpace(html.UnescapeString(found[1]))}))
			if err != nil || len(again.Problems) > 0 || len(again.Job.Racks) != 1 || len(again.Job.Racks[0].Offcuts) != keep {
				t.Fatalf("%s: %v %+v\n%s", dir, err, again.Problems, found[1])
			}
			i := 0
			for _, c := range result.Plan.Takeoff.Cuttings {
				for _, s := range c.Sticks {
					if !s.Keep {
						continue
					}
					o := again.Job.Racks[0].Offcuts[i]
					if d := s.Left - o.Long.Length; o.Part.Text != c.Part || d < 0 || d >= result.Plan.Job.Division.Length {
						t.Errorf("%s: %s of %s is printed as %+v", dir, s.Left, c.Part, o)
					}
					i++
				}
			}
		}
		svg := strings.Join(drawings.FindAllString(page, -1), "")
		for _, c := range result.Plan.Takeoff.Cuttings {
			for _, s := range c.Sticks {
				if s.Source == takeoff.FromRack && !strings.Contains(svg, "offcut from the rack") {
					t.Errorf("%s: stick %d of %s is not said to be from the rack", dir, s.N, c.Part)
				}
			}
		}
		if n := strings.Count(svg, "<svg"); n != 2*len(result.Plan.Takeoff.Cuttings) { // for a phone, and for a desk or paper
			t.Errorf("%s: %d drawings of %d plans, %d sticks", dir, n, len(result.Plan.Takeoff.Cuttings), sticks)
		}
	}
}
