package layout_test

import (
	"strings"
	"testing"
)

// TestOldSections: of a guard that stays, rail, shoe, fillets and rosettes are those that the run names, and where it names none they are asked for; those of the job are new ones. 34 3/8 between shoe and rail, plows of 1/2 in the old rail
// and 3/8 in the old shoe, less a fit of 1/16, make a new baluster 35 3/16 long; by rail and shoe of the job, 5/16 each, it would be 34 15/16 (by hand).
func TestOldSections(t *testing.T) {
	const feet = "[5, 11 1/4, 17 1/2, 23 3/4]"
	with := func(run string, files map[string]string) map[string]string {
		all := keptFiles("30", feet)
		all["runs/1-r.md"] = strings.Replace(all["runs/1-r.md"], "handrail: rail\nshoe: shoe\nfillet: fillet\n", run, 1)
		all["parts/old-rail.md"] = "kind: handrail\nwide: 2 1/2\nhigh: 2 3/8\nplow: {wide: 1 1/4, deep: 1/2}"
		all["parts/old-shoe.md"] = "kind: shoe\nwide: 2 1/2\nhigh: 1 1/4\nplow: {wide: 1 1/4, deep: 3/8}"
		for name, text := range files {
			all[name] = text
		}
		return all
	}
	long := func(t *testing.T, files map[string]string) string {
		t.Helper()
		r := kept(t, files)
		if len(r.Balusters) != 1 {
			t.Fatalf("%+v %+v", r.Balusters, r.Missing)
		}
		return tape(r.Balusters[0].Exact)
	}
	t.Run("none named", func(t *testing.T) {
		r := kept(t, with("", nil))
		if !asks(r, "which handrail stands there") || !asks(r, "which shoe stands there") || r.Chosen != nil || len(r.Balusters) > 0 {
			t.Errorf("cut for sections that nobody measured: %+v %+v", r.Missing, r.Balusters)
		}
	})
	t.Run("its own", func(t *testing.T) {
		if got := long(t, with("handrail: old-rail\nshoe: old-shoe\nfillet: none\n", nil)); got != "35 3/16" {
			t.Errorf("long %s", got)
		}
	})
	delivery := map[string]string{"deliveries/1.md": "kind: delivery\nreceived: 2026-12-01\nitems:\n  - {part: rail, plow: {wide: 1 1/4, deep: 7/16}}\n  - {part: shoe, plow: {wide: 1 1/4, deep: 7/16}}"}
	t.Run("new rail and shoe of the same names came", func(t *testing.T) { // 34 3/8 and twice 5/16, less 1/16
		if got := long(t, with("handrail: rail\nshoe: shoe\nfillet: fillet\n", delivery)); got != "34 15/16" {
			t.Errorf("long %s by what was measured on new wood", got)
		}
	})
	t.Run("fillets", func(t *testing.T) {
		for run, want := range map[string]string{
			"":                       "which fillet fills the plows of the old handrail and shoe, or none",
			"fillet: none\n":         "",
			"fillet: fillet\n":       "",
			"fillet: {rail: none}\n": "which fillet fills the plow of the old shoe, or none",
			"fillet: {shoe: none}\n": "which fillet fills the plow of the old handrail, or none",
		} {
			r := kept(t, with("handrail: old-rail\nshoe: old-shoe\n"+run, nil))
			if want != "" && !asks(r, want) || want == "" && asks(r, "which fillet") {
				t.Errorf("%q: %+v", run, r.Missing)
			}
		}
	})
	t.Run("rosettes", func(t *testing.T) {
		at := func(wall, fillet string) map[string]string {
			files := with("handrail: old-rail\nshoe: old-shoe\nfillet: "+fillet+"\n", map[string]string{"parts/round.md": "kind: rosette\nwide: 4\nthick: 3/4"})
			files["job.md"] += "\nrosette: round"
			files["runs/1-r.md"] = strings.Replace(files["runs/1-r.md"], "from: a", "from: "+wall, 1)
			return files
		}
		fillets := func(files map[string]string) (n int) {
			for _, c := range kept(t, files).Fillets {
				if c.What == "rail fillet" {
					n += c.Count
				}
			}
			return n
		}
		if r := kept(t, at("wall", "fillet")); !asks(r, "which rosette stands between the old rail and the wall (from), or none") {
			t.Errorf("%+v", r.Missing)
		}
		if r := kept(t, at("wall", "none")); asks(r, "which rosette") {
			t.Errorf("asked for, and nothing waits for it: %+v", r.Missing)
		}
		if got, want := fillets(at("wall", "fillet")), fillets(at("{at: wall, rosette: none}", "fillet"))-1; got != want {
			t.Errorf("%d fillets in the rail, want %d: the one at the wall waits", got, want)
		}
	})
}
