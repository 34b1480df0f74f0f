//go:build browser

package jobbook

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"

	"balustrade/jobbook/book"
)

// leaving are pages that the sample's whole book does not have: every page of the editions but those of the crew's that are the same as the whole book's, the pages of pieces already made and of a guard
// that was handed over, and those of a yard. They are given as folders with the pages in each.
func leaving(t *testing.T) map[string][]string {
	t.Helper()
	root := t.TempDir()
	folders := map[string][]string{}
	take := func(name string, pages ...string) {
		out := filepath.Join(root, name)
		for _, path := range pagesOf(t, out) {
			if len(pages) == 0 || slices.Contains(pages, filepath.Base(path)) {
				folders[out] = append(folders[out], path)
			}
		}
	}
	for name, dir := range map[string]string{"sample": sample, "metric": "../testdata/metric-job"} {
		list := []Edition{{Of: book.Whole, Out: filepath.Join(root, name)}}
		for _, e := range book.Editions {
			list = append(list, Edition{Of: e, Out: filepath.Join(root, name+"-"+string(e))})
		}
		result, _, err := new(Maker).BuildEditions(t.Context(), dir, list)
		if err != nil || result.Plan == nil {
			t.Fatal(err, result.Problems)
		}
		take(name + "-client")
		take(name + "-inspector")
	}
	take("metric", "hand-over.html", "inspection.html", "received.html")
	take("sample-crew", "index.html", "hand-over.html", "notes.html")
	if r, err := Build(t.Context(), "testdata/made-job", filepath.Join(root, "made")); err != nil || r.Plan == nil {
		t.Fatal(err, r.Problems)
	}
	take("made", "made.html", "index.html")
	yard := filepath.Join(root, "jobs")
	for name, dir := range map[string]string{"mill": sample, "loft": "../testdata/metric-job", "cottage": "../testdata/kept-job"} {
		if err := os.CopyFS(filepath.Join(yard, name), os.DirFS(dir)); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Rename(filepath.Join(yard, "mill", "shop"), filepath.Join(yard, "shop")); err != nil {
		t.Fatal(err)
	}
	if _, err := new(YardMaker).Build(t.Context(), yard, filepath.Join(root, "yard"), func(JobResult) {}); err != nil {
		t.Fatal(err)
	}
	take("yard")
	return folders
}

// TestBrowserEditions looks at what leaves the shop, and at a yard, as TestBrowserPages, TestBrowserHTML and TestBrowserPaper look at the whole book.
func TestBrowserEditions(t *testing.T) {
	axe := axe(t)
	folders := leaving(t)
	b := newTab(t)
	var all []string
	for out, pages := range folders {
		all = append(all, pages...)
		for _, name := range pages {
			t.Run(filepath.Base(out)+", "+filepath.Base(name), func(t *testing.T) {
				b.t = t
				for _, fault := range b.faultsOnScreen(fileURL(name), fileURL(out)+"/", axe) {
					t.Error(fault)
				}
			})
			if base := filepath.Base(name); base != "print.html" && filepath.Base(out) != "yard" {
				continue
			}
			t.Run(filepath.Base(out)+", "+filepath.Base(name)+", on paper", func(t *testing.T) {
				b.t = t
				b.visit(fileURL(name))
				for _, fault := range b.splitOnPaper(chromedp.PaperLetter) {
					t.Error(fault)
				}
			})
		}
	}
	slices.Sort(all)
	for _, fault := range validate(t, all...) {
		t.Error(fault)
	}
}
