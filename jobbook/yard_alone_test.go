package jobbook_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/book"
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

// TestEditionOfYard: an edition of a job in a yard is planned like the job's book there. Birch's goods are wanted first, so it takes the shop's offcut of rail, and Ash, whose goods are wanted a week later, buys a stick. By itself Ash has the offcut.
func TestEditionOfYard(t *testing.T) {
	dir := t.TempDir()
	for name, text := range yardFiles() {
		putFile(t, dir, name, text)
	}
	ash := filepath.Join(dir, "a")
	alone, err := jobbook.Check(ash)
	if err != nil || bought(alone.Plan, "shop-rail") != 0 {
		t.Fatalf("%v: by itself it buys %d", err, bought(alone.Plan, "shop-rail"))
	}
	out := t.TempDir()
	result, _, err := new(jobbook.Maker).BuildEditions(t.Context(), ash, []jobbook.Edition{{Of: book.Whole, Out: filepath.Join(out, "whole")}, {Of: book.Crew, Out: filepath.Join(out, "crew")}})
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	if result.Shared != dir || bought(result.Plan, "shop-rail") != 1 {
		t.Errorf("planned with %q, it buys %d", result.Shared, bought(result.Plan, "shop-rail"))
	}
	if !strings.Contains(jobbook.FilesBelow(filepath.Join(out, "crew"))["buying-list.html"], "Birch House") {
		t.Error("the crew is not told who takes from the rack")
	}
	buildYard(t, new(jobbook.YardMaker), dir, filepath.Join(out, "yard"))
	for _, name := range []string{"cutting.html", "buying-list.html", "data/plan.json"} {
		a, b := jobbook.FilesBelow(filepath.Join(out, "whole"))[name], jobbook.FilesBelow(filepath.Join(out, "yard", "a"))[name]
		if a == "" || a != b {
			t.Errorf("%s is another one than the yard's", name)
		}
	}
	for name := range yardFiles() { // alone in its folder it shares with nobody
		if strings.HasPrefix(name, "b/") || strings.HasPrefix(name, "c/") {
			if err := os.RemoveAll(filepath.Join(dir, name[:1])); err != nil {
				t.Fatal(err)
			}
		}
	}
	if result, _, err = new(jobbook.Maker).BuildEditions(t.Context(), ash, []jobbook.Edition{{Of: book.Crew, Out: filepath.Join(out, "crew")}}); err != nil || result.Shared != "" || bought(result.Plan, "shop-rail") != 0 {
		t.Errorf("%v, %q, %d", err, result.Shared, bought(result.Plan, "shop-rail"))
	}
}

// TestEditionOfYardAlternative: Ash as drawn takes nothing off the rack, its alternative would have the offcut that Birch, whose goods are wanted first, takes. Its editions say what it would cost with that gone, as the yard's book does.
func TestEditionOfYardAlternative(t *testing.T) {
	dir := t.TempDir()
	files := yardFiles()
	files["a/job.md"] = strings.Replace(files["a/job.md"], "handrail: shop-rail", "handrail: ash-rail", 1)
	files["a/alternatives/1-shop-rail.md"] = "kind: alternative\njob: {handrail: shop-rail}"
	files["shop/rack.md"] = "kind: rack\noffcuts:\n  - {part: shop-rail, long: 50}"
	for name, text := range files {
		putFile(t, dir, name, text)
	}
	ash, out := filepath.Join(dir, "a"), t.TempDir()
	other := func(r jobbook.Result) int { return bought(r.Plan.Alternatives[0].Plan, "shop-rail") }
	alone, err := jobbook.Check(ash)
	if err != nil || other(alone) != 0 || jobbook.TakesAlone(ash, alone.Plan) != dir {
		t.Fatalf("%v: by itself the alternative buys %d", err, other(alone))
	}
	result, _, err := new(jobbook.Maker).BuildEditions(t.Context(), ash, []jobbook.Edition{{Of: book.Whole, Out: filepath.Join(out, "whole")}})
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	if other(result) != 1 || result.Shared != dir {
		t.Errorf("with the others the alternative buys %d; planned with %q", other(result), result.Shared)
	}
	buildYard(t, new(jobbook.YardMaker), dir, filepath.Join(out, "yard"))
	if a, b := jobbook.FilesBelow(filepath.Join(out, "whole"))["alternatives.html"], jobbook.FilesBelow(filepath.Join(out, "yard", "a"))["alternatives.html"]; a == "" || a != b {
		t.Error("the alternatives are other ones than the yard's")
	}
}
