package jobbook_test

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
)

// pair is the plain job with an oak rail of a wider plow over a painted poplar shoe, and a fillet for each.
func pair() map[string]string {
	files := maps.Clone(simple)
	files["job.md"] = strings.NewReplacer("fillet: fillet-1-1-4", "fillet: {rail: oak-strip, shoe: poplar-strip}\nfinishes: {handrail: oil-polyurethane, shoe: water-enamel}", "handrail: rail-plow-1-1-4", "handrail: oak-rail").Replace(files["job.md"])
	files["parts/oak-rail.md"] = "kind: handrail\nspecies: white oak\nwide: 2 1/4\nhigh: 2 3/8\nplow: {wide: 1 5/16, deep: 5/16}"
	files["parts/oak-strip.md"] = "kind: fillet\ntitle: Oak strip\nspecies: white oak\nwide: 1 5/16\nthick: 5/16"
	files["parts/poplar-strip.md"] = "kind: fillet\ntitle: Poplar strip\nspecies: yellow poplar\nwide: 1 1/4\nthick: 1/4"
	return files
}

// TestFilletForEachGroove: every piece of a rail's fillets is the rail's part, all the way through: pieces, what is needed, sticks, brads, set-ups, coats and checks. The lengths are those of one fillet for both: two runs that differ in nothing else are laid out beside each other.
func TestFilletForEachGroove(t *testing.T) {
	p := planOf(t, folder(t, pair()))
	one := pair()
	one["job.md"] = strings.Replace(one["job.md"], "{rail: oak-strip, shoe: poplar-strip}", "poplar-strip", 1)
	single := planOf(t, folder(t, one))

	want := map[string]string{"rail fillet": "oak-strip", "shoe fillet": "poplar-strip"}
	pieces, lengths := map[string]int{}, map[string]int64{}
	for _, c := range p.Takeoff.Pieces {
		if part, ok := want[c.What]; ok {
			if c.Part != part {
				t.Errorf("a %s of %s", c.What, c.Part)
			}
			pieces[c.Part] += c.Count
			lengths[c.Part] += int64(c.Count) * int64(c.Length)
		}
	}
	together := map[string]int64{}
	for _, c := range single.Takeoff.Pieces {
		if _, ok := want[c.What]; ok {
			together[want[c.What]] += int64(c.Count) * int64(c.Length)
		}
	}
	if !maps.Equal(lengths, together) || pieces["oak-strip"] == 0 || pieces["oak-strip"] != pieces["poplar-strip"] {
		t.Errorf("%v, with one for both %v; %v", lengths, together, pieces)
	}
	for _, n := range p.Takeoff.Needs {
		if n.Kind == "fillet" && int64(n.Running) != lengths[n.Part] {
			t.Errorf("%v of %s needed, pieces are %d", n.Running, n.Part, lengths[n.Part])
		}
	}
	var cut, coated, set []string
	for _, c := range p.Takeoff.Cuttings {
		if c.Kind == "fillet" {
			cut = append(cut, c.Part)
		}
	}
	for _, g := range p.Finishing.Groups {
		for _, l := range g.Lines {
			if l.Kind == "fillet" {
				coated = append(coated, g.Name+" "+l.What)
			}
		}
	}
	for _, s := range p.Takeoff.Setups.Saws {
		for _, stop := range s.Stops {
			if stop.What == "fillet" && !slices.Contains(set, stop.Part) {
				set = append(set, stop.Part)
			}
		}
	}
	slices.Sort(cut)
	slices.Sort(set)
	if got := strings.Join(slices.Concat(cut, coated, set), ", "); got != "oak-strip, poplar-strip, handrail Oak strip, shoe Poplar strip, oak-strip, poplar-strip" {
		t.Error(got)
	}
	brads := map[string]int{} // two to a piece, as with one for both
	for _, x := range p.Takeoff.Fixings {
		if x.Fastening != nil && x.Fastening.Name == "fillet" {
			brads[x.Where] += x.Count
		}
	}
	if brads["in the handrail"] != 2*pieces["oak-strip"] || brads["in the shoe"] != 2*pieces["poplar-strip"] || len(brads) != 2 {
		t.Errorf("%v, pieces %v", brads, pieces)
	}
	for _, f := range p.Findings {
		if strings.Contains(f.ID, "/fillet-") && f.Verdict.String() != "pass" {
			t.Errorf("%+v", f)
		}
	}
}

// TestFilletNames: one name serves both; a run's own goes key by key over the job's; none in one groove alone; a name that is not known is told once, at its line; a blank one is asked for by the price.
func TestFilletNames(t *testing.T) {
	for _, c := range []struct {
		name, job, run string
		rail, shoe     string
		problems       int
	}{
		{"one for both", "fillet: fillet-1-1-4", "", "fillet-1-1-4", "fillet-1-1-4", 0},
		{"one each", "fillet: {rail: fillet-1-1-2, shoe: fillet-1-1-4}", "", "fillet-1-1-2", "fillet-1-1-4", 0},
		{"a run's own shoe", "fillet: {rail: fillet-1-1-2, shoe: fillet-1-1-4}", "fillet: {shoe: fillet-1-3-4}", "fillet-1-1-2", "fillet-1-3-4", 0},
		{"a run's one for both", "fillet: {rail: fillet-1-1-2, shoe: fillet-1-1-4}", "fillet: fillet-1-3-4", "fillet-1-3-4", "fillet-1-3-4", 0},
		{"none in the shoe", "fillet: {rail: fillet-1-1-2, shoe: none}", "", "fillet-1-1-2", "", 0},
		{"none in a run", "fillet: fillet-1-1-4", "fillet: none", "", "", 0},
		{"blank", "fillet:", "fillet: {rail: }", "", "", 0},
		{"not known", "fillet: fillett", "", "", "", 1},
		{"not known in a run", "fillet: {rail: fillet-1-1-4, shoe: fillet-1-1-4}", "fillet: fillett", "", "", 1},
		{"two not known", "fillet: {rail: fillett, shoe: fillettt}", "", "", "", 2},
		{"another key", "fillet: {handrail: fillet-1-1-4}", "", "", "", 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := maps.Clone(simple)
			files["job.md"] = strings.Replace(files["job.md"], "fillet: fillet-1-1-4", c.job, 1)
			files["runs/1-hall.md"] += "\n" + c.run
			result, err := jobbook.Check(folder(t, files))
			if err != nil || len(result.Problems) != c.problems {
				t.Fatalf("%v %+v", err, result.Problems)
			}
			if c.problems > 0 {
				return
			}
			var got [2]string
			for i, f := range []string{"rail fillet", "shoe fillet"} {
				if part := result.Plan.Layout.Runs[0].Job.FilletOf(f); part != nil {
					got[i] = part.Name
				}
			}
			if got != [2]string{c.rail, c.shoe} {
				t.Errorf("%q", got)
			}
		})
	}
}
