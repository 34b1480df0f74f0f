package jobbook_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"balustrade/jobbook/book"
)

// TestBanner: what one cuts and bores by is headed by what bears on that, and by nothing else: a slip of days or a coat out of order makes no length wrong, and a banner that is always there is not read.
func TestBanner(t *testing.T) {
	saw := []string{"layout.html", "cut-list.html", "cutting.html", "setups.html", "fixings.html", "labels.html", "strips-a4.html"}
	for _, c := range []struct {
		name       string
		change     func(dir string)
		cut, order bool
		told       map[string]string // where the fault itself stands
	}{
		{"days", func(dir string) { rewrite(t, dir, "job.md", "wanted: 2026-12-11", "wanted: 2026-11-24") }, false, false,
			map[string]string{"index.html": "the goods are not there by the day", "calendar.html": "The days do not work out", "days.html": "the goods are not there by the day"}},
		{"coats", func(dir string) {
			rewrite(t, dir, "job.md", "\n  handrail: oil-polyurethane", "\n  handrail: too-late")
			late := "---\nkind: finish\ntype: stain\nbase: oil\ncoats: [{coat: varnish, type: clear, dry: 24 h}, {coat: stain, type: stain, dry: 24 h}]\n---\n"
			if err := os.WriteFile(filepath.Join(dir, "parts", "too-late.md"), []byte(late), 0o644); err != nil {
				t.Fatal(err)
			}
		}, false, true, nil},
		{"a guard that is too low", func(dir string) { rewrite(t, dir, "job.md", "\nheight: 38", "\nheight: 34") }, true, true,
			map[string]string{"index.html": "height of the guard", "setups.html": "height of the guard"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := copyOf(t, "../sample-job")
			c.change(dir)
			result, editions := editionsOf(t, dir)
			if result.Plan == nil {
				t.Fatal(result.Problems)
			}
			made := editions[book.Whole]
			for _, page := range saw {
				if made[page] == "" {
					t.Fatalf("there is no %s; the test sees nothing", page)
				}
				if strings.Contains(made[page], "Not to be cut or bored by yet") != c.cut {
					t.Errorf("%s is headed so: %v", page, !c.cut)
				}
			}
			if strings.Contains(made["buying-list.html"], "Not to be ordered by yet") != c.order {
				t.Errorf("the buying list is headed so: %v", !c.order)
			}
			for page, words := range c.told {
				if !strings.Contains(made[page], words) {
					t.Errorf("%s does not tell %q", page, words)
				}
			}
		})
	}
}
