package jobbook_test

import (
	"context"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"maps"
	"math/rand/v2"
	"net/url"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"balustrade/jobbook"
	"balustrade/jobbook/site"
	"balustrade/jobbook/working/evaluator"
	"balustrade/jobbook/yard"
)

var thousand = flag.Bool("thousand", false, "build a yard of a thousand jobs")

const yardSettings = "kind: settings\nname: Test & Co.\ncalendar: {crew: 1}"

// yardFiles are three jobs that share a shop with a rack: b's goods are wanted first, a's a week later, c's nobody knows when.
func yardFiles() map[string]string {
	job := func(title, more string) string {
		return "kind: job\ntitle: " + title + "\nplace: Somewhere\nrules: irc-2021\nmeasured: 2026-11-17\nbuilt: 1990\ndrop: 100\nheight: 38\nbaluster: square-1-1-4\nhandrail: shop-rail\nshoe: shoe-1-1-4\nfillet: fillet-1-1-4\nposts: {a: {newel: square-3-1-2, foot: plate, top: 48}, b: {newel: square-3-1-2, foot: plate, top: 48}}\n" + more
	}
	run := func(long string) string {
		return "kind: run\nfrom: a\nto: b\nclear: {floor: " + long + ", rail: " + long + "}\nlevel: [{at: 0, down: 40}, {at: " + long + ", down: 40}]"
	}
	return map[string]string{
		"a/job.md":           job("Ash Lane", "wanted: 2027-01-18\ncalendar: {start: 2026-12-14, crew: 2, hours: \"8:00 to 16:00\"}"),
		"a/runs/1-hall.md":   run("40"),
		"b/job.md":           job("Birch House", "wanted: 2027-01-11\ncalendar: {start: 2026-12-14, crew: 2, hours: \"8:00 to 16:00\"}"),
		"b/runs/1-hall.md":   run("42"),
		"c/job.md":           job("Cedar Row", ""),
		"c/runs/1-hall.md":   run("60"),
		"shop/settings.md":   yardSettings,
		"shop/ash-rail.md":   "kind: handrail\ntitle: Rail of the shop\nspecies: oak\nwide: 2 3/4\nhigh: 2 1/2\nplow: {wide: 1 1/4, deep: 1/4}\nsection: rectangular",
		"shop/shop-rail.md":  "kind: handrail\ntitle: The shop's rail\nspecies: red oak\nwide: 2 3/4\nhigh: 2 1/2\nplow: {wide: 1 1/4, deep: 1/4}\nsection: rectangular",
		"shop/yard.md":       "kind: supplier\ntitle: The yard\nlead: 5\nsells: {square-1-1-4: [{price: 4}, {pack: 20, price: 70}], shop-rail: {lengths: [8', 12'], per-foot: 9}, shoe-1-1-4: {lengths: [8'], per-foot: 3}, fillet-1-1-4: {lengths: [8'], per-foot: 1}, square-3-1-2: {price: 60}}",
		"shop/rack.md":       "kind: rack\noffcuts:\n  - {part: shop-rail, long: 50}\n  - {part: shoe-1-1-4, long: 50, count: 2}\npieces:\n  - {part: square-1-1-4, count: 14}",
		"plans/thoughts.md":  "title: Not a job",
		"empty/not-a-job.md": "title: Nor this",
	}
}

// buildYard builds a yard anew, and gives what came of it and the folders that were made, in the order in which they were told.
func buildYard(t testing.TB, m *jobbook.YardMaker, dir, out string) (jobbook.YardResult, []string) {
	t.Helper()
	var made []string
	r, err := m.Build(t.Context(), dir, out, func(j jobbook.JobResult) {
		made = append(made, j.Folder)
		if j.Err != nil {
			t.Errorf("%s: %v", j.Folder, j.Err)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return r, made
}

func sameShelf(t testing.TB, what string, got, want map[string]string) {
	t.Helper()
	for _, name := range slices.Sorted(maps.Keys(want)) {
		if text, ok := got[name]; !ok {
			t.Errorf("%s: %s is missing", what, name)
		} else if text != want[name] {
			t.Errorf("%s: %s differs", what, name)
		}
	}
	for name := range got {
		if _, ok := want[name]; !ok {
			t.Errorf("%s: %s is too much", what, name)
		}
	}
}

// TestYard: the books, the index, what is passed over, and a second build that writes nothing.
func TestYard(t *testing.T) {
	dir := folder(t, yardFiles())
	out := filepath.Join(t.TempDir(), "book")
	r, made := buildYard(t, new(jobbook.YardMaker), dir, out)
	if want := []string{"b", "a", "c"}; !slices.Equal(made, want) {
		t.Errorf("made %v, want %v", made, want)
	}
	if !slices.Equal(r.Yard.Others, []string{"empty", "plans"}) || r.Made != 3 || r.Broken != 0 {
		t.Errorf("%+v", r)
	}
	first := jobbook.FilesBelow(out)
	for _, name := range []string{"index.html", "calendar.html", "buying.html", "rack.html", "working.html", "schedule.ics", "yard.json", "jobs.csv", "a/index.html", "b/print.html", "c/data/plan.json"} {
		if first[name] == "" {
			t.Errorf("there is no %s", name)
		}
	}
	checkLinks(t, out, first)
	icalendar(t, first["schedule.ics"], strings.Count(first["schedule.ics"], "BEGIN:VEVENT\r\n"))
	if n := strings.Count(first["schedule.ics"], "BEGIN:VEVENT"); n == 0 || n != strings.Count(first["a/schedule.ics"], "BEGIN:VEVENT")+strings.Count(first["b/schedule.ics"], "BEGIN:VEVENT") {
		t.Errorf("%d events of all jobs", n)
	}

	// One order, against the books: balusters singly at 4 or twenty at 70, tried one by one; rails added up.
	wanted, rails := 0, 0
	for _, name := range []string{"a", "b", "c"} {
		if state := r.Yard.Job(name).State; state != yard.ToOrder {
			t.Errorf("%s is %s", name, state)
		}
		seen := false
		for _, l := range r.Yard.Job(name).Lines {
			switch {
			case l.Part == "shop-rail":
				rails += l.Count
			case l.Part == "square-1-1-4" && !seen:
				wanted, seen = wanted+l.Want, true
			}
		}
	}
	least := wanted * 400
	for packs := range 1 + (wanted+19)/20 {
		least = min(least, packs*7000+max(0, wanted-20*packs)*400)
	}
	spent, sticks := 0, 0
	for _, o := range r.Yard.Buying.Orders {
		for _, l := range o.Lines {
			switch l.Part {
			case "square-1-1-4":
				spent += int(l.Amount)
			case "shop-rail":
				sticks += l.Count
			}
		}
	}
	if wanted == 0 || spent != least || sticks != rails || rails == 0 {
		t.Errorf("%d balusters for %d, the least is %d; %d rails of %d", wanted, spent, least, sticks, rails)
	}
	known := map[string]bool{}
	for _, f := range r.Yard.Figures {
		if known[f.ID] {
			t.Errorf("two figures have the id %s", f.ID)
		}
		known[f.ID] = true
		span, err := evaluator.Evaluate(f.Numbers(), nil, evaluator.SixPlaces)
		if err != nil || !span.Holds(f.Result(), evaluator.SixPlaces(f.Result())) {
			t.Errorf("%s: %s is not %s (%v)", f.ID, f.Numbers(), f.Result(), err)
		}
	}

	times := map[string]time.Time{}
	for name := range first {
		past := time.Date(2001, 2, 3, 4, 5, 6, 0, time.UTC)
		times[name] = past
		if err := os.Chtimes(filepath.Join(out, name), past, past); err != nil {
			t.Fatal(err)
		}
	}
	again, _ := buildYard(t, new(jobbook.YardMaker), dir, out)
	if again.Site.Written+again.Site.Removed != 0 {
		t.Errorf("a second build wrote the index: %+v", again.Site)
	}
	for name, at := range times {
		if info, err := os.Stat(filepath.Join(out, name)); err != nil || !info.ModTime().Equal(at) {
			t.Errorf("a second build wrote %s (%v)", name, err)
		}
	}
}

var (
	hrefs = regexp.MustCompile(`href="([^"]*)"`)
	ids   = regexp.MustCompile(` id="([^"]*)"`)
)

// checkLinks follows every link of the yard's own pages, into the books too.
func checkLinks(t *testing.T, out string, files map[string]string) {
	t.Helper()
	n := 0
	for name, text := range files {
		if !strings.HasSuffix(name, ".html") || strings.Contains(name, "/") {
			continue
		}
		for _, m := range hrefs.FindAllStringSubmatch(text, -1) {
			to, err := url.Parse(strings.ReplaceAll(m[1], "&amp;", "&"))
			if err != nil || to.IsAbs() {
				t.Errorf("%s leads to %s", name, m[1])
				continue
			}
			n++
			target := name
			if to.Path != "" {
				target = to.Path
			}
			page, ok := files[target]
			if !ok {
				t.Errorf("%s leads to %s, which is not there", name, m[1])
				continue
			}
			if to.Fragment != "" && !slices.ContainsFunc(ids.FindAllStringSubmatch(page, -1), func(x []string) bool { return x[1] == to.Fragment }) {
				t.Errorf("%s leads to %s, and there is no such place", name, m[1])
			}
		}
	}
	if n < 20 {
		t.Errorf("%d links", n)
	}
}

// TestYardRack: the job whose goods are wanted first takes what is on the rack; the next is planned as with a rack from which that was taken by hand. Worked by hand: b, 42 in between its posts, needs one rail, 42 and the half inch that it is
// left longer, which the offcut of 50 gives, and one shoe. It takes the rail and one shoe. a, 40 in, gets no rail from the rack and the second shoe. c, 60 in, is too long for either. Of the 14 balusters b takes all that it wants.
func TestYardRack(t *testing.T) {
	dir := folder(t, yardFiles())
	out := filepath.Join(t.TempDir(), "book")
	r, _ := buildYard(t, new(jobbook.YardMaker), dir, out)
	takes := map[string]string{}
	for _, s := range r.Yard.Jobs {
		for _, x := range s.Takes {
			takes[s.Folder] += fmt.Sprintf("%s:%d %d; ", x.At.File, x.At.Line, x.Pieces)
		}
	}
	b, a := r.Yard.Job("b"), r.Yard.Job("a")
	if !strings.Contains(takes["b"], "shop/rack.md:4 1; shop/rack.md:5 1; ") || strings.Contains(takes["a"], "rack.md:4") || !strings.Contains(takes["a"], "rack.md:5 1") || strings.Contains(takes["c"], "rack.md:4") || strings.Contains(takes["c"], "rack.md:5") {
		t.Errorf("%v", takes)
	}
	if len(b.Left) != 0 || !slices.Equal(a.Left, []string{"Birch House"}) {
		t.Errorf("b is left %v, a %v", b.Left, a.Left)
	}
	pieces := 0
	for _, s := range r.Yard.Jobs {
		for _, x := range s.Takes {
			if x.At.Line == 7 {
				pieces += x.Pieces
			}
		}
	}
	if pieces != 14 {
		t.Errorf("%d of 14 balusters are taken", pieces)
	}
	if page := jobbook.FilesBelow(out)["a/buying-list.html"]; !strings.Contains(page, "Taken by other jobs") || !strings.Contains(page, "Birch House") {
		t.Error("a's book does not say that b takes from the rack")
	}

	// By hand: what b takes is struck off the rack's file, and a is built alone.
	byHand := yardFiles()
	left := 14
	for _, x := range b.Takes {
		if x.At.Line == 7 {
			left -= x.Pieces
		}
	}
	byHand["shop/rack.md"] = fmt.Sprintf("kind: rack\noffcuts:\n  - {part: shop-rail, long: 50, count: 0}\n  - {part: shoe-1-1-4, long: 50, count: 1}\npieces:\n  - {part: square-1-1-4, count: %d}", left)
	alone := planOf(t, filepath.Join(folder(t, byHand), "a"))
	var inYard, hand any
	if err := json.Unmarshal([]byte(jobbook.FilesBelow(out)["a/data/plan.json"]), &inYard); err != nil {
		t.Fatal(err)
	}
	handOut := filepath.Join(t.TempDir(), "a")
	if _, err := jobbook.Build(t.Context(), filepath.Join(folder(t, byHand), "a"), handOut); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal([]byte(jobbook.FilesBelow(handOut)["data/plan.json"]), &hand); err != nil {
		t.Fatal(err)
	}
	for _, key := range []string{"buying", "takeoff", "findings"} {
		x, _ := json.Marshal(inYard.(map[string]any)[key])
		y, _ := json.Marshal(hand.(map[string]any)[key])
		if len(x) < 10 || string(x) != string(y) {
			t.Errorf("%s of a differs from that with a rack edited by hand:\n%.600s\n%.600s", key, x, y)
		}
	}
	if alone.Buying.Known == 0 {
		t.Error("nothing was bought")
	}
}

// TestYardRackNeverTwice: with racks and jobs made up, no line of the rack gives more than there is on it.
func TestYardRackNeverTwice(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 4))
	for n := range 3 {
		files := yardFiles()
		counts := []int{r.IntN(3), r.IntN(4), r.IntN(40)}
		left := 1 + r.IntN(60)
		files["shop/rack.md"] = fmt.Sprintf("kind: rack\noffcuts:\n  - {part: shop-rail, long: %d, count: %d}\n  - {part: shoe-1-1-4, long: 70, count: %d}\npieces:\n  - {part: square-1-1-4, count: %d}\ncans:\n  - {finish: oil-polyurethane, left: %d fl oz}", 40+r.IntN(40), counts[0], counts[1], counts[2], left)
		for _, name := range []string{"a", "b", "c"} {
			files[name+"/job.md"] += "\nfinishes: {balusters: oil-polyurethane}"
		}
		dir := folder(t, files)
		result, _ := buildYard(t, new(jobbook.YardMaker), dir, filepath.Join(t.TempDir(), "book"))
		taken, poured := map[int]int{}, int64(0)
		for _, s := range result.Yard.Jobs {
			for _, x := range s.Takes {
				taken[x.At.Line] += x.Pieces
				poured += x.Volume
			}
		}
		if taken[4] > counts[0] || taken[5] > counts[1] || taken[7] > counts[2] {
			t.Errorf("yard %d: %v taken of %v", n, taken, counts)
		}
		if most := int64(left) * 16 * 3_785_411_784 / 128; poured > most || poured == 0 { // a gallon is 128 fl oz
			t.Errorf("yard %d: %d poured of %d", n, poured, most)
		}
	}
}

// TestYardSameBytes: with one processor, with many, after a watch's worth of builds: always the same.
func TestYardSameBytes(t *testing.T) {
	dir := folder(t, yardFiles())
	var want map[string]string
	for _, n := range []int{1, 2, 8} {
		before := runtime.GOMAXPROCS(n)
		out := filepath.Join(t.TempDir(), "book")
		buildYard(t, new(jobbook.YardMaker), dir, out)
		runtime.GOMAXPROCS(before)
		got := jobbook.FilesBelow(out)
		if want == nil {
			want = got
		}
		sameShelf(t, fmt.Sprint(n, " processors"), got, want)
	}
}

// TestYardBroken: one job that can't be understood stops no other; its last book stays, and the index says so. A job that is gone takes its book along, but for what somebody changed in it.
func TestYardBroken(t *testing.T) {
	dir := folder(t, yardFiles())
	out := filepath.Join(t.TempDir(), "book")
	buildYard(t, new(jobbook.YardMaker), dir, out)
	before := jobbook.FilesBelow(out)
	putFile(t, dir, "b/job.md", "kind: job\ntitle: Birch House\nwanted: 2027-01-11\nrules: nonsuch")
	r, made := buildYard(t, new(jobbook.YardMaker), dir, out)
	after := jobbook.FilesBelow(out)
	if r.Broken != 1 || r.Made != 2 || len(made) != 3 || r.Yard.Jobs[0].Folder != "b" || r.Yard.Jobs[0].State != yard.Unreadable {
		t.Errorf("%+v, made %v", r, made)
	}
	for name, text := range before {
		if strings.HasPrefix(name, "b/") && after[name] != text {
			t.Errorf("the last good book of b lost %s", name)
		}
	}
	if page := after["index.html"]; !strings.Contains(page, "no rule set is named &#34;nonsuch&#34;") || !strings.Contains(page, "stays as it was") {
		t.Error("the index does not say what is wrong with b")
	}
	if a := r.Yard.Job("a"); len(a.Left) != 0 {
		t.Errorf("a job that can't be read takes from the rack: %v", a.Left)
	}
	checkLinks(t, out, after)

	if err := os.RemoveAll(filepath.Join(dir, "c")); err != nil {
		t.Fatal(err)
	}
	if err := os.RemoveAll(filepath.Join(dir, "a")); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(out, "a", "layout.html"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(out, "a", "mine.txt"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(out, "other", "things"), 0o755); err != nil {
		t.Fatal(err)
	}
	buildYard(t, new(jobbook.YardMaker), dir, out)
	left := jobbook.FilesBelow(out)
	for name := range left {
		if strings.HasPrefix(name, "c/") {
			t.Errorf("c is gone, and %s is there", name)
		}
		if strings.HasPrefix(name, "a/") && name != "a/layout.html" && name != "a/mine.txt" && !strings.HasPrefix(name, "a/.") {
			t.Errorf("a is gone, and %s is there", name)
		}
	}
	if left["a/layout.html"] != "mine" || left["a/mine.txt"] != "mine" || left["b/index.html"] == "" {
		t.Error("something was deleted that is not ours")
	}
	if _, err := os.Stat(filepath.Join(out, "c")); err == nil {
		t.Error("c's empty folder stays")
	}
	if _, err := os.Stat(filepath.Join(out, "other", "things")); err != nil {
		t.Error("a folder that is not ours is gone")
	}
}

// TestYardWords: a job whose words can't be shown as they were meant keeps its last book, and what it takes off the rack; the books of the others stay as they were.
func TestYardWords(t *testing.T) {
	dir := folder(t, yardFiles())
	out := filepath.Join(t.TempDir(), "book")
	m := new(jobbook.YardMaker)
	was, _ := buildYard(t, m, dir, out)
	before := jobbook.FilesBelow(out)
	note := filepath.Join(dir, "b", "notes", "1-wrong.md")
	putFile(t, dir, "b/notes/1-wrong.md", "title: Wrong")
	if err := os.WriteFile(note, []byte("# Wrong\n\n```table nonsuch\n```\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	m.Changed([]string{note})
	r, _ := buildYard(t, m, dir, out)
	fresh, _ := buildYard(t, new(jobbook.YardMaker), dir, filepath.Join(t.TempDir(), "other"))
	for _, r := range []jobbook.YardResult{r, fresh} {
		b := r.Yard.Job("b")
		if r.Broken != 1 || b.State != yard.Unreadable || !strings.Contains(b.Problem, "nonsuch") {
			t.Errorf("%d are broken, b is %s: %s", r.Broken, b.State, b.Problem)
		}
		if want := was.Yard.Job("b").Takes; len(want) == 0 || !reflect.DeepEqual(b.Takes, want) || !reflect.DeepEqual(r.Yard.Job("a").Left, was.Yard.Job("a").Left) {
			t.Errorf("b takes %v, before %v; a is left %v", b.Takes, want, r.Yard.Job("a").Left)
		}
	}
	if r.Kept != 2 {
		t.Errorf("%d jobs were left alone, want the two others", r.Kept)
	}
	for name, text := range jobbook.FilesBelow(out) {
		if strings.Contains(name, "/") && before[name] != text {
			t.Errorf("%s changed", name)
		}
	}
}

// TestYardForeign: an output that is not ours to write stops everything, one job's own stops that job alone.
func TestYardForeign(t *testing.T) {
	dir := folder(t, yardFiles())
	out := t.TempDir()
	if err := os.WriteFile(filepath.Join(out, "mine.txt"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := new(jobbook.YardMaker).Build(t.Context(), dir, out, nil); !errors.Is(err, site.ErrForeign) {
		t.Errorf("%v", err)
	}
	out = filepath.Join(t.TempDir(), "book")
	buildYard(t, new(jobbook.YardMaker), dir, out)
	if err := os.RemoveAll(filepath.Join(out, "b")); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(out, "b"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(out, "b", "mine.txt"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	told := map[string]error{}
	r, err := new(jobbook.YardMaker).Build(t.Context(), dir, out, func(j jobbook.JobResult) { told[j.Folder] = j.Err })
	if err != nil || !errors.Is(r.Err, site.ErrForeign) || !errors.Is(told["b"], site.ErrForeign) || told["a"] != nil || told["c"] != nil {
		t.Errorf("%v, %v, %v", err, r.Err, told)
	}
	var wrong *site.UsageError
	if _, err := new(jobbook.YardMaker).Build(t.Context(), dir, filepath.Join(dir, "a"), nil); !errors.As(err, &wrong) {
		t.Errorf("%v", err)
	}
}

// TestYardChanges: what a save touches is made again and no more, and what stands after it is what a build from nothing gives.
func TestYardChanges(t *testing.T) {
	files := yardFiles()
	files["c/job.md"] = strings.Replace(files["c/job.md"], "handrail: shop-rail", "handrail: rail-plow-1-1-4", 1)
	dir := folder(t, files)
	out := filepath.Join(t.TempDir(), "book")
	m := new(jobbook.YardMaker)
	buildYard(t, m, dir, out)
	rail := files["shop/shop-rail.md"]
	for _, c := range []struct {
		what, file, text string // no text: the file goes
		want             []string
	}{
		{"a job's run", "c/runs/1-hall.md", strings.ReplaceAll(files["c/runs/1-hall.md"], "60", "61"), []string{"c"}},
		{"a job that takes another share of the rack: those after it that could take of it, too", "b/runs/1-hall.md", strings.ReplaceAll(files["b/runs/1-hall.md"], "42", "72"), []string{"b", "a", "c"}},
		{"a job that takes the same: no other", "b/runs/1-hall.md", strings.ReplaceAll(files["b/runs/1-hall.md"], "42", "73"), []string{"b"}},
		{"a part of the shop that two jobs name", "shop/shop-rail.md", strings.Replace(rail, "The shop's rail", "A better rail", 1), []string{"b", "a"}},
		{"a part that nobody names", "shop/ash-rail.md", strings.Replace(files["shop/ash-rail.md"], "2 1/2", "2 1/4", 1), nil},
		{"a new part that nobody names", "shop/old-rail.md", rail, nil},
		{"the same gone", "shop/old-rail.md", "", nil},
		{"a part that takes the place of the library's, named by one, sold by nobody", "shop/rail-plow-1-1-4.md", rail, []string{"c"}},
		{"a part with a slip, which stops every job", "shop/ash-rail.md", "kind: handrail\nwidth: 3", []string{"b", "a", "c"}},
		{"the slip mended", "shop/ash-rail.md", files["shop/ash-rail.md"], []string{"b", "a", "c"}},
		{"the settings", "shop/settings.md", yardSettings + "\nspare: 9 %", []string{"b", "a", "c"}},
		{"the rack", "shop/rack.md", strings.Replace(files["shop/rack.md"], "14", "16", 1), []string{"b", "a", "c"}},
		{"a price", "shop/yard.md", strings.Replace(files["shop/yard.md"], "price: 4}", "price: 5}", 1), []string{"b", "a", "c"}},
		{"a file beside the jobs", "readme.md", "title: Nothing", nil},
		{"a job comes", "d/job.md", files["a/job.md"], []string{"d"}},
		{"and goes", "d/job.md", "", nil},
	} {
		t.Run(c.what, func(t *testing.T) {
			if c.text == "" {
				if err := os.Remove(filepath.Join(dir, c.file)); err != nil {
					t.Fatal(err)
				}
			} else {
				putFile(t, dir, c.file, c.text)
			}
			m.Changed([]string{filepath.Join(dir, filepath.FromSlash(c.file))})
			_, made := buildYard(t, m, dir, out)
			if !slices.Equal(made, c.want) {
				t.Errorf("made %v, want %v", made, c.want)
			}
			if strings.Contains(c.text, "width") { // the books of before stay, and a build from nothing would have none
				return
			}
			whole := filepath.Join(t.TempDir(), "book")
			buildYard(t, new(jobbook.YardMaker), dir, whole)
			sameShelf(t, "after the save", jobbook.FilesBelow(out), jobbook.FilesBelow(whole))
		})
	}
}

// TestYardCancelled: a build that is ended makes the rest the next time.
func TestYardCancelled(t *testing.T) {
	dir := folder(t, yardFiles())
	out := filepath.Join(t.TempDir(), "book")
	m := new(jobbook.YardMaker)
	ctx, cancel := context.WithCancel(t.Context())
	n := 0
	_, err := m.Build(ctx, dir, out, func(jobbook.JobResult) {
		n++
		cancel()
	})
	if !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(out, "index.html")); err == nil {
		t.Error("an index was written of a build that was ended")
	}
	_, made := buildYard(t, m, dir, out)
	if n == 3 || !slices.Contains(made, "c") {
		t.Errorf("%d told, then made %v", n, made)
	}
	whole := filepath.Join(t.TempDir(), "book")
	buildYard(t, new(jobbook.YardMaker), dir, whole)
	sameShelf(t, "after it was ended", jobbook.FilesBelow(out), jobbook.FilesBelow(whole))
}

// cheapYard makes a yard of so many small jobs.
func cheapYard(t testing.TB, n int) string {
	t.Helper()
	dir := t.TempDir()
	files := yardFiles()
	for _, name := range []string{"shop/settings.md", "shop/shop-rail.md", "shop/yard.md", "shop/rack.md"} {
		putFile(t, dir, name, files[name])
	}
	for i := range n {
		name := fmt.Sprintf("job-%04d", i)
		long := fmt.Sprint(40 + i%60)
		putFile(t, dir, name+"/job.md", strings.Replace(files["c/job.md"], "Cedar Row", fmt.Sprint("Job ", i), 1))
		putFile(t, dir, name+"/runs/1-hall.md", strings.ReplaceAll(files["c/runs/1-hall.md"], "60", long))
	}
	return dir
}

// heapAfter is the most that is alive whenever an eighth of a yard has been told, in bytes over what was alive before, and how long the build took.
func heapAfter(t testing.TB, n int, out string) (alive uint64, took time.Duration) {
	dir := cheapYard(t, n)
	var before, now runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	began, told := time.Now(), 0
	var paused time.Duration
	_, err := new(jobbook.YardMaker).Build(t.Context(), dir, out, func(jobbook.JobResult) {
		if told++; told%max(n/8, 1) == 0 {
			at := time.Now()
			runtime.GC()
			runtime.ReadMemStats(&now)
			alive = max(alive, now.HeapAlloc-min(before.HeapAlloc, now.HeapAlloc))
			paused += time.Since(at)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return alive, time.Since(began) - paused
}

// TestYardMemory: the most that is alive while 64 jobs are made is little more than while 8 are: a few plans at once, and a summary of each. A plan of each would be eight times as much.
func TestYardMemory(t *testing.T) {
	if testing.Short() {
		t.Skip("takes a while")
	}
	heapAfter(t, 2, filepath.Join(t.TempDir(), "book")) // what is read once is there
	few, _ := heapAfter(t, 8, filepath.Join(t.TempDir(), "book"))
	many, _ := heapAfter(t, 64, filepath.Join(t.TempDir(), "book"))
	const each = 24 << 10 // bytes of a summary and its place, generously
	t.Logf("8 jobs: %d KiB, 64 jobs: %d KiB", few>>10, many>>10)
	if many > 2*few+56*each {
		t.Errorf("8 jobs: %d KiB alive, 64 jobs: %d KiB", few>>10, many>>10)
	}
}

// TestYardOfAThousand builds a thousand jobs, and once more with nothing changed: go test ./jobbook -run TestYardOfAThousand -thousand -v -timeout 60m.
func TestYardOfAThousand(t *testing.T) {
	if !*thousand {
		t.Skip("asked for by -thousand")
	}
	for _, n := range []int{50, 100, 500, 1000} {
		out := filepath.Join(t.TempDir(), "book")
		alive, took := heapAfter(t, n, out)
		t.Logf("%d jobs: %.1f s, %.1f ms a job, %d KiB alive at the most", n, took.Seconds(), took.Seconds()*1000/float64(n), alive>>10)
	}
	dir, out := cheapYard(t, 1000), filepath.Join(t.TempDir(), "book")
	buildYard(t, new(jobbook.YardMaker), dir, out)
	written := 0
	r, err := new(jobbook.YardMaker).Build(t.Context(), dir, out, func(j jobbook.JobResult) {
		written += j.Result.Site.Written + j.Result.Site.Removed
	})
	if err != nil || written+r.Site.Written+r.Site.Removed != 0 {
		t.Errorf("%v, a second build wrote %d files and %+v", err, written, r.Site)
	}
}

// TestYardOfAnything: whatever stands in the files of one job, nothing panics, and the others are made as ever.
func TestYardOfAnything(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 42))
	dir := folder(t, yardFiles())
	out := filepath.Join(t.TempDir(), "book")
	m := new(jobbook.YardMaker)
	buildYard(t, m, dir, out)
	good := yardFiles()
	for n := range 24 {
		name := []string{"b/job.md", "b/runs/1-hall.md", "shop/rack.md", "shop/settings.md", "shop/yard.md"}[r.IntN(5)]
		lines := strings.Split(good[name], "\n")
		for range 1 + r.IntN(3) {
			i := r.IntN(len(lines))
			switch r.IntN(4) {
			case 0:
				lines[i] = ""
			case 1:
				lines[i] = strings.Repeat(lines[i]+" ", 2)
			case 2:
				lines[i] = strings.ReplaceAll(lines[i], ":", ": -99999999999")
			default:
				if text := []rune(lines[i]); len(text) > 0 {
					text[r.IntN(len(text))] = rune(r.IntN(0x2fff))
					lines[i] = string(text)
				}
			}
		}
		putFile(t, dir, name, strings.Join(lines, "\n"))
		m.Changed([]string{filepath.Join(dir, filepath.FromSlash(name))})
		result, _ := buildYard(t, m, dir, out)
		if len(result.Yard.Jobs) != 3 {
			t.Fatalf("%d: %d jobs", n, len(result.Yard.Jobs))
		}
		if strings.HasPrefix(name, "b/") && (result.Yard.Job("a").State == yard.Unreadable || result.Yard.Job("c").State == yard.Unreadable) {
			t.Errorf("%d: a slip in %s stops another job", n, name)
		}
		putFile(t, dir, name, good[name])
		m.Changed([]string{filepath.Join(dir, filepath.FromSlash(name))})
	}
	buildYard(t, m, dir, out)
	whole := filepath.Join(t.TempDir(), "book")
	buildYard(t, new(jobbook.YardMaker), dir, whole)
	sameShelf(t, "with everything mended", jobbook.FilesBelow(out), jobbook.FilesBelow(whole))
}

// TestYardOrdersWhatIsMadeOf: a job of which pieces were made already, of what lay in the shop, is under way, and its goods are to be ordered still, by the day that they are for the same job before.
func TestYardOrdersWhatIsMadeOf(t *testing.T) {
	files := yardFiles()
	by := func(files map[string]string) (yard.State, string) {
		r, err := new(jobbook.YardMaker).Check(t.Context(), folder(t, files), nil)
		if err != nil {
			t.Fatal(err)
		}
		s := r.Yard.Job("b")
		return s.State, s.OrderBy
	}
	_, want := by(files)
	files["b/made/1.md"] = "kind: made\npieces: [{mark: H-B1, part: square-1-1-4, long: 12}]"
	if state, got := by(files); state != yard.UnderWay || got == "" || got != want {
		t.Errorf("it is %s, to be ordered by %q, want %q", state, got, want)
	}
}

// TestYardStates: each state by a job that is just so far, and by one reading or file less or more.
func TestYardStates(t *testing.T) {
	files := yardFiles()
	job, run := files["c/job.md"], files["c/runs/1-hall.md"]
	const blank = "kind: run\nfrom: a\nto: b\nclear: {floor: , rail: }"
	done := func(names ...string) string {
		text := job + "\ndone:"
		for _, n := range names {
			text += "\n  " + n + ": 2026-12-01"
		}
		return text
	}
	var all []string
	dir := folder(t, files)
	for _, s := range planOf(t, filepath.Join(dir, "c")).Sequence.Steps {
		all = append(all, s.Step.Name)
	}
	for _, c := range []struct {
		what string
		more map[string]string
		want yard.State
	}{
		{"a run without a reading", map[string]string{"runs/1-hall.md": blank}, yard.ToSurvey},
		{"a survey without a reading", map[string]string{"runs/1-hall.md": blank, "survey/old.md": "kind: survey\nheight: "}, yard.ToSurvey},
		{"a survey with one", map[string]string{"runs/1-hall.md": blank, "survey/old.md": "kind: survey\nheight: 34"}, yard.Surveyed},
		{"one clear of two", map[string]string{"runs/1-hall.md": strings.Replace(run, "rail: 60", "rail: ", 1)}, yard.ToMeasure},
		{"a part that is not chosen", map[string]string{"job.md": strings.Replace(job, "baluster: square-1-1-4", "baluster: ", 1)}, yard.ToMeasure},
		{"a rail too low", map[string]string{"job.md": strings.Replace(job, "height: 38", "height: 30", 1)}, yard.ToSettle},
		{"all there", nil, yard.ToOrder},
		{"an early step ticked off", map[string]string{"job.md": done("survey")}, yard.ToOrder},
		{"ordered", map[string]string{"job.md": done("survey", "order")}, yard.UnderWay},
		{"delivered", map[string]string{"deliveries/1-all.md": "kind: delivery\nitems: [{part: square-1-1-4, count: 3}]"}, yard.UnderWay},
		{"all steps but one", map[string]string{"job.md": done(all[:len(all)-1]...)}, yard.UnderWay},
		{"all steps", map[string]string{"job.md": done(all...)}, yard.Done},
		{"a slip", map[string]string{"runs/1-hall.md": "kind: run\nfrom: nowhere"}, yard.Unreadable},
	} {
		t.Run(c.what, func(t *testing.T) {
			files := map[string]string{"c/job.md": job, "c/runs/1-hall.md": run, "shop/shop-rail.md": yardFiles()["shop/shop-rail.md"], "shop/rack.md": "kind: rack\npieces: [{part: square-1-1-4, count: 4}]"}
			for name, text := range c.more {
				files["c/"+name] = text
			}
			r, err := new(jobbook.YardMaker).Check(t.Context(), folder(t, files), nil)
			if err != nil {
				t.Fatal(err)
			}
			if got := r.Yard.Job("c").State; got != c.want {
				t.Errorf("it is %s, want %s: %s %+v", got, c.want, r.Yard.Job("c").Problem, r.Yard.Job("c").Stops)
			}
			if takes := len(r.Yard.Job("c").Takes); c.want == yard.Done && takes > 0 || c.want == yard.ToOrder && takes != 1 {
				t.Errorf("it takes %d things from the rack", takes)
			}
		})
	}
}
