package jobbook_test

import (
	"encoding/csv"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/job"
	"balustrade/jobbook/working"
)

// TestSpecies holds every wood of the library to testdata/species.csv, cell by cell; its head names the sources. Panels for floors are no rows of it, and have no published value.
func TestSpecies(t *testing.T) {
	file, err := os.Open("../testdata/species.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "job.md"), []byte("---\nkind: job\n---\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	result, err := jobbook.Check(dir)
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	left := map[string]*job.Species{}
	for _, s := range result.Job.SpeciesList {
		left[s.Name] = s
	}
	for _, row := range rows[1:] {
		name := strings.ReplaceAll(row[0], " ", "-")
		s := left[name]
		if s == nil {
			t.Errorf("no file for %s", row[0])
			continue
		}
		delete(left, name)
		if found := result.Job.Wood(job.Text{Text: row[0], Given: true}); len(found) != 1 || found[0] != s {
			t.Errorf("%s is not found by its name", row[0])
		}
		percent := func(cell string) string { // a coefficient is for each one per cent, the file has per cent of the width
			if cell == "" { // a group of species has none
				return ""
			}
			c, _ := new(big.Rat).SetString(cell)
			return c.Mul(c, big.NewRat(100, 1)).FloatString(6)
		}
		for _, c := range []struct {
			what, cell string
			got        job.Ratio
		}{
			{"sg", row[1], s.SG}, {"mor", row[2], s.MOR}, {"moe", row[3], s.MOE}, {"shrinkage, radial", row[4], s.Shrinkage.Radial}, {"shrinkage, tangential", row[5], s.Shrinkage.Tangential},
			{"radial", percent(row[6]), s.Radial}, {"tangential", percent(row[7]), s.Tangential}, {"g", row[9], s.G},
		} {
			if c.cell == "" {
				if c.got.Given {
					t.Errorf("%s: %s is made up", row[0], c.what)
				}
				continue
			}
			want, ok := new(big.Rat).SetString(c.cell)
			if !ok || !c.got.Given || want.Cmp(big.NewRat(c.got.Thousandths, 1000)) != 0 {
				t.Errorf("%s: %s is %d thousandths, want %s", row[0], c.what, c.got.Thousandths, c.cell)
			}
		}
		if s.Coefficients.String() != row[8] && (row[8] != "" || s.Coefficients != 0) {
			t.Errorf("%s: coefficients are %s, want %s", row[0], s.Coefficients, row[8])
		}
		if s.G.Given && s.Status != working.Published {
			t.Errorf("%s: status of g is %s", row[0], s.Status)
		}
		var memory, want []string
		for _, m := range s.Memory {
			memory = append(memory, m.Text)
		}
		for _, field := range strings.Fields(row[10]) {
			if field = map[string]string{"sg12": "sg", "mor_psi": "mor", "moe_mpsi": "moe", "shrink_r": "shrinkage", "shrink_t": "shrinkage"}[field]; !slices.Contains(want, field) {
				want = append(want, field)
			}
		}
		slices.Sort(memory)
		slices.Sort(want)
		if !slices.Equal(memory, want) {
			t.Errorf("%s: from memory are %q, want %q", row[0], memory, want)
		}
	}
	for _, panel := range []string{"chipboard", "oriented-strand-board", "plywood"} {
		if s := left[panel]; s == nil || s.G.Given || s.SG.Given || s.Hard.Yes {
			t.Errorf("%s: %+v", panel, s)
		}
		delete(left, panel)
	}
	for name := range left {
		t.Errorf("%s is no row of the table", name)
	}
	// A group that framing is stamped with goes by its stamp. Another one that sounds like it is none of it.
	for words, want := range map[string]int{"spf": 1, "SPF": 1, "S-P-F": 1, "spruce pine fir": 1, "spruce-pine-fir": 1, "spf-s": 0, "spruce-pine-fir (south)": 0, "spruce": 0} {
		if found := result.Job.Wood(job.Text{Text: words, Given: true}); len(found) != want || want == 1 && found[0].Name != "spruce-pine-fir" {
			t.Errorf("%s: %d woods", words, len(found))
		}
	}
	// Names that could be two woods are left to be asked about.
	if found := result.Job.Wood(job.Text{Text: "maple", Given: true}); len(found) != 2 {
		t.Errorf("maple: %d woods", len(found))
	}
}
