package draw_test

import (
	"flag"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/profile"
)

var update = flag.Bool("update", false, "write the golden drawings again; look at them before they are kept")

// drawings are all that goldens are kept of, by file name.
func drawings() map[string]string {
	all := map[string]string{
		"landing.svg":         elevation(landing(), inches),
		"begun.svg":           elevation(begun(), inches),
		"opening.svg":         elevation(opening(), inches),
		"pale.svg":            elevation(pale(), inches),
		"part-baluster.svg":   draw.ProfileFigure(turned(), "Turned baluster", inches),
		"part-newel.svg":      draw.ProfileFigure(newel(), "Turned newel", metric),
		"part-unmeasured.svg": draw.ProfileFigure(profile.Profile{}, "Turned baluster", inches),
	}
	for i, svg := range draw.Panels(gallery(), inches, draw.Phone) {
		all["gallery-phone-"+strconv.Itoa(i)+".svg"] = svg
	}
	for i, svg := range draw.Panels(bay(), metric, draw.Phone) {
		all["bay-phone-"+strconv.Itoa(i)+".svg"] = svg
	}
	for i, svg := range draw.Panels(gallery(), inches, 960) {
		all["gallery-desk-"+strconv.Itoa(i)+".svg"] = svg
	}
	shoe, three := onShoe(32).run(), stair()
	shoe.ID, shoe.Title = "run/shoe", "Upper flight"
	three.risers, three.per = 5, 3
	short := three.run()
	short.ID, short.Title = "run/short", "Porch steps"
	for name, r := range map[string]*layout.Run{"flight": stair().run(), "shoe": shoe, "loft": loft(), "bare": bare(), "unread": unread(), "ghost": ghost(), "short": short} {
		style := inches
		if r.Title == "Loft stair" {
			style = metric
		}
		for i, svg := range draw.Panels(r, style, draw.Phone) {
			all[name+"-phone-"+strconv.Itoa(i)+".svg"] = svg
		}
		for i, svg := range draw.Panels(r, style, 680) {
			all[name+"-desk-"+strconv.Itoa(i)+".svg"] = svg
		}
	}
	all["gallery-overview.svg"] = draw.Overview(gallery(), inches, 680)
	all["flight-overview.svg"] = draw.Overview(stair().run(), inches, draw.Phone)
	planDrawings(all)
	postDrawings(all)
	railEndDrawings(all)
	endDrawings(all)
	barDrawings(all)
	return all
}

func TestGolden(t *testing.T) {
	const folder = "testdata"
	all := drawings()
	for file, got := range all {
		t.Run(file, func(t *testing.T) {
			path := filepath.Join(folder, file)
			if *update {
				if err := os.WriteFile(path, []byte(got), 0o666); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); d != "" {
				t.Errorf("-want +got:\n%s", d)
			}
		})
	}
	t.Run("no orphans", func(t *testing.T) {
		entries, err := os.ReadDir(folder)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			if _, ok := all[e.Name()]; ok || !strings.HasSuffix(e.Name(), ".svg") {
				continue
			}
			if *update {
				if err := os.Remove(filepath.Join(folder, e.Name())); err != nil {
					t.Error(err)
				}
				continue
			}
			t.Errorf("%s is drawn by no case", e.Name())
		}
	})
	t.Run("same bytes twice", func(t *testing.T) {
		again := drawings()
		for file, svg := range all {
			if again[file] != svg {
				t.Errorf("%s differs", file)
			}
		}
	})
	t.Run("ids differ within a page", func(t *testing.T) {
		ids := map[string]string{}
		var files []string
		for file := range all {
			files = append(files, file)
		}
		slices.Sort(files)
		for _, file := range files {
			if strings.Contains(file, "-desk-") || strings.Contains(file, "-680") || file == "part-unmeasured.svg" || strings.HasPrefix(file, "plan-landings") {
				continue // other sizes of the same drawings; the same part; another job's plan
			}
			for _, id := range ofSVG(t, all[file]).ids {
				if other, twice := ids[id]; twice {
					t.Errorf("%s stands in %s and %s", id, other, file)
				}
				ids[id] = file
			}
		}
	})
}
