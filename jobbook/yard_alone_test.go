package jobbook_test

import (
	"os"
	"path/filepath"
	"testing"

	"balustrade/jobbook"
)

// TestTakesAlone: a job that is built by itself says that others share the rack that it takes from; not where it lies alone, has a shop of its own, or takes nothing.
func TestTakesAlone(t *testing.T) {
	for _, c := range []struct {
		name        string
		others      int
		own, racked bool
		want        bool
	}{
		{"among others", 1, false, true, true},
		{"alone", 0, false, true, false},
		{"with its own shop", 1, true, true, false},
		{"no rack", 1, false, false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			yard := t.TempDir()
			copies := []string{"mill", "other"}[:1+c.others]
			for _, name := range copies {
				if err := os.CopyFS(filepath.Join(yard, name), os.DirFS("../sample-job")); err != nil {
					t.Fatal(err)
				}
			}
			dir := filepath.Join(yard, "mill")
			shop := filepath.Join(dir, "shop")
			if !c.own {
				shop = filepath.Join(yard, "shop")
				if err := os.Rename(filepath.Join(dir, "shop"), shop); err != nil {
					t.Fatal(err)
				}
			}
			if !c.racked {
				if err := os.Remove(filepath.Join(shop, "rack.md")); err != nil {
					t.Fatal(err)
				}
			}
			result, err := jobbook.Check(dir)
			if err != nil || result.Plan == nil {
				t.Fatal(err, result.Problems)
			}
			if got := jobbook.TakesAlone(dir, result.Plan); (got != "") != c.want || c.want && got != yard {
				t.Errorf("got %q, want one: %v", got, c.want)
			}
		})
	}
}
