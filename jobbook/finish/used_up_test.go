package finish

import (
	"fmt"
	"slices"
	"testing"

	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/working"
)

// Six balusters of 180 sq in are 7.5 sq ft: by hand, with a sheet for 5 sq ft, two of 120 and three of 220 after two of three coats. Two brushes for the one finish; four rags for each of its four coats.
func TestUsedUp(t *testing.T) {
	const coats = "bare: [{grit: [120]}]\ncoats: [{coat: p, type: primer}, {coat: e, type: enamel, times: 3, grit: 220}]"
	used := func(f Finishing) (list []string) {
		for _, s := range f.Supplies {
			list = append(list, fmt.Sprint(s.Count, " ", s.Name))
			if s.Figure == nil || s.At.IsZero() {
				t.Errorf("%s has no working or no place", s.Name)
			}
		}
		return list
	}
	f := coated(t, "", "supplies: {sheet: 5 sq ft, brushes: 2, rags: 4, status: common practice}", coats)
	if got := used(f); !slices.Equal(got, []string{"2 sandpaper-120", "3 sandpaper-220", "2 brush", "16 rag"}) {
		t.Errorf("got %v", got)
	}
	if got := f.Supplies[3].Figure.Cites[0].Status; got != working.CommonPractice {
		t.Errorf("rags are %s", got)
	}
	t.Run("a shop's own number is local", func(t *testing.T) {
		f := coated(t, "", "supplies: {rags: 7}", coats)
		if got := used(f); !slices.Equal(got, []string{"28 rag"}) || f.Supplies[0].Figure.Cites[0].Status != working.Local {
			t.Errorf("got %v", got)
		}
	})
	t.Run("nothing is made up", func(t *testing.T) {
		if got := used(coated(t, "", "", coats)); len(got) != 0 {
			t.Errorf("got %v", got)
		}
	})
	t.Run("none is a number", func(t *testing.T) {
		if got := used(coated(t, "", "supplies: {brushes: 0, rags: 1}", coats)); !slices.Equal(got, []string{"4 rag"}) {
			t.Errorf("got %v", got)
		}
	})
	t.Run("no finish, no brush", func(t *testing.T) {
		j := jobtest.Job(t, files{"job.md": "kind: job", "runs/1-gallery.md": run, "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42", "shop/settings.md": "kind: settings\nsupplies: {brushes: 2, rags: 4}"})
		if f := Work(j, laid(j)); len(f.Supplies) != 0 {
			t.Errorf("got %v", used(f))
		}
	})
	t.Run("rags of an oil coat burn", func(t *testing.T) {
		for base, want := range map[string]bool{"oil": true, "water": false} {
			f := coated(t, "", "", "base: "+base+"\ncoats: [{coat: c, type: clear, dry: 4 h}]")
			if got := f.Stages(); len(got) != 1 || got[0].Oil() != want {
				t.Errorf("%s: %+v", base, got)
			}
		}
		f := coated(t, "", "", "base: water\ncoats: [{coat: s, type: stain, base: oil, dry: 4 h}, {coat: c, type: clear, dry: 4 h}]")
		if got := f.Stages(); len(got) != 2 || !got[0].Oil() || got[1].Oil() {
			t.Errorf("%+v", got)
		}
	})
}
