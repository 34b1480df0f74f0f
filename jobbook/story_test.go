package jobbook_test

import (
	"fmt"
	"html"
	"maps"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/changes"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/takeoff"
)

// TestStory is a job from the survey to what it says after it was measured again: survey, start, measure, issue, cut half, measure again with two readings changed. Both plans are worked out here a second time, by bench below,
// which shares no code with the program; what the page of changes names is just what differs between these two.
func TestStory(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "elm-landing")
	put := func(name, text string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte("---\n"+text+"\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}

	// Start: the folder asks, and nothing is laid out.
	if _, err := jobbook.Start(dir); err != nil {
		t.Fatal(err)
	}
	if p := planOf(t, dir); p.Layout.Runs[0].Chosen != nil || len(p.Missing) == 0 {
		t.Fatal("a job that nobody measured is laid out")
	}

	// Survey: the old guard is low, and lets a ball of 5 through. Nothing says so before a rule set is chosen.
	rewrite(t, dir, "survey/old-guard.md", "height:  ", "height: 33  ")
	rewrite(t, dir, "survey/old-guard.md", "{where: widest between balusters, read: }", "{where: widest between balusters, read: 5}")
	old := func() (failing []string) {
		for _, f := range planOf(t, dir).Findings {
			if f.Verdict == finding.Fail {
				failing = append(failing, f.ID)
			}
		}
		return failing
	}
	if failing := old(); len(failing) > 0 {
		t.Errorf("%q fail by no rules", failing)
	}

	// Measure.
	if err := os.Remove(filepath.Join(dir, "runs/1-first-run.md")); err != nil {
		t.Fatal(err)
	}
	put("job.md", "kind: job\nrules: irc-2021\ndrop: 100\nheight: 38\nbaluster: square-1-1-4\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\nfillet: fillet-1-1-4\nposts: {a: {newel: square-3-1-2, foot: plate}, b: {newel: square-3-1-2, foot: plate}, c: {newel: square-3-1-2, foot: plate}}")
	put("runs/1-hall.md", "kind: run\nfrom: a\nto: b\nclear: {floor: 100, rail: 100}\nlevel: [{at: 0, down: 3}, {at: 48, down: 3}, {at: 96, down: 3}]")
	put("runs/2-return.md", "kind: run\nfrom: b\nto: c\nclear: {floor: 60, rail: 60}\nlevel: [{at: 0, down: 3}, {at: 30, down: 3}, {at: 60, down: 3}]")
	for _, id := range old() {
		if !strings.HasPrefix(id, "check/survey/old-guard/") {
			t.Errorf("%s fails", id)
		}
	}
	if failing := old(); len(failing) != 2 { // 33 is under 36, 5 over 4
		t.Errorf("of the old guard fail %q", failing)
	}
	was := bench(map[string]*big.Rat{"hall": big.NewRat(100, 1), "return": big.NewRat(60, 1)})
	agree(t, "as measured", planFacts(t, dir), was)

	// Issue.
	if _, _, err := jobbook.Issue(dir, "first", "2026-11-20"); err != nil {
		t.Fatal(err)
	}
	if rows := changesPage(t, dir); len(rows) > 0 {
		t.Fatalf("the page of changes has %v before anything changed", rows)
	}

	// Cut half: rail and shoe of the hall, and its balusters.
	put("made/1-bench.md", "kind: made\ndate: 2026-11-21\npieces:\n  - {mark: H-H, part: rail-plow-1-1-4, long: 100}\n  - {mark: H-S, part: shoe-1-1-4, long: 100}\n  - {mark: H-B1 to H-B19, part: square-1-1-4, long: 35 7/16}")
	become := func(want map[string]int) { // what became of the pieces, and how many it became of
		t.Helper()
		got := map[string]int{}
		for _, m := range planOf(t, dir).Takeoff.Made.Pieces {
			what := m.Of.Part.Text + " " + m.Fate.String()
			if m.Fate == takeoff.Trimmed {
				what += fmt.Sprintf(" to %g in, as %s", m.To.Float()/25.4, m.Mark)
			}
			got[what]++
		}
		if !maps.Equal(got, want) {
			t.Errorf("of the pieces becomes %v, by hand %v", got, want)
		}
	}
	become(map[string]int{"rail-plow-1-1-4 fits as it is": 1, "shoe-1-1-4 fits as it is": 1, "square-1-1-4 fits as it is": 19})
	if rows := changesPage(t, dir); len(rows) > 0 {
		t.Errorf("the page of changes has %v, and nothing was measured", rows)
	}

	// Measure again: a quarter more along the hall, at the floor and at the rail. It takes another baluster: see bench.
	rewrite(t, dir, "runs/1-hall.md", "clear: {floor: 100, rail: 100}", "clear: {floor: 100 1/4, rail: 100 1/4}")
	is := bench(map[string]*big.Rat{"hall": big.NewRat(401, 4), "return": big.NewRat(60, 1)})
	agree(t, "measured again", planFacts(t, dir), is)
	// The hall's rail and shoe are a quarter short of it now, and long enough for the return, which has none yet. Balusters are as long as before.
	become(map[string]int{"rail-plow-1-1-4 fits if trimmed to 60 in, as R-H": 1, "shoe-1-1-4 fits if trimmed to 60 in, as R-S": 1, "square-1-1-4 fits as it is": 19})
	want := []string{"hall, clear: floor: 100 > 100 1/4", "hall, clear: rail: 100 > 100 1/4"}
	for _, key := range slices.Sorted(maps.Keys(merged(was, is))) {
		of, what, _ := strings.Cut(key, "|")
		from, had := was[key]
		to := is[key]
		if !had {
			from = "new"
		}
		if from != to {
			want = append(want, of+", "+what+": "+from+" > "+to)
		}
	}
	got := changesPage(t, dir)
	slices.Sort(want)
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("the page says\n  %s\nwhat follows is\n  %s", strings.Join(got, "\n  "), strings.Join(want, "\n  "))
	}
	if n := len(want); n != 2+1+20+5+6 { // by hand: readings, the count, every mark, rail, shoe, balusters and fillets of two grooves, what is needed of four parts and two sorts of brad
		t.Errorf("%d facts follow from bench", n)
	}
}

// agree holds what the program says to what bench worked out, name for name.
func agree(t *testing.T, when string, got, want map[string]string) {
	t.Helper()
	for _, key := range slices.Sorted(maps.Keys(merged(got, want))) {
		if got[key] != want[key] {
			t.Errorf("%s: %s is %q, by hand %q", when, key, got[key], want[key])
		}
	}
}

// planFacts are the facts of a plan that bench works out too: counts, marks and pieces of the runs, and what is needed of parts and brads. Newels, their plates and glue go by nothing that changes in the story; nor do the
// screws of the shoe, which stand 3 from its ends and no more than 16 apart: 94 and 94 1/4 both take six spaces.
func planFacts(t *testing.T, dir string) map[string]string {
	t.Helper()
	facts, _ := planOf(t, dir).Facts()
	m := map[string]string{}
	for _, l := range facts {
		kind, name, _ := strings.Cut(l.Of, "/")
		if kind != "run" {
			name = kind + " " + name
		}
		switch {
		case kind == "run" && (l.Sort == "count" || l.Sort == "mark" || l.Sort == "piece"),
			l.Sort == "order" && l.What == "needed" && kind != "newel" && !slices.Contains([]string{"fixing newel-plate", "fixing wood-glue", "fixing wood-screw-8-2"}, name):
			m[name+"|"+l.What] = l.Value
		}
	}
	return m
}

var (
	wholeTable = regexp.MustCompile(`(?s)<caption>(.*?)</caption>(.*?)</table>`)

	tableRow = regexp.MustCompile(`(?s)<tr[^>]*>(.*?)</tr>`)
	cellText = regexp.MustCompile(`(?s)<td[^>]*>(.*?)</td>`)
	anyTag   = regexp.MustCompile(`<[^>]*>`)
)

// changesPage are the rows of the page of changes, in words; none where there is no such page.
func changesPage(t *testing.T, dir string) (rows []string) {
	t.Helper()
	_, files, err := jobbook.Make(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if f.Path != "changes.html" {
			continue
		}
		for _, table := range wholeTable.FindAllStringSubmatch(strings.Join(f.Pieces, ""), -1) {
			marksOf, marks := strings.CutPrefix(table[1], "Marks of ")
			for _, row := range tableRow.FindAllStringSubmatch(table[2], -1) {
				var cells []string
				for _, c := range cellText.FindAllStringSubmatch(row[1], -1) {
					cells = append(cells, strings.ReplaceAll(html.UnescapeString(anyTag.ReplaceAllString(c[1], "")), "\u00a0", " "))
				}
				switch {
				case len(cells) < 4:
				case marks: // the run is in the caption, the unit in the head
					rows = append(rows, marksOf+", mark "+cells[0]+": "+inInches(cells[1])+" > "+inInches(cells[2]))
				default:
					rows = append(rows, cells[0]+", "+cells[1]+": "+cells[2]+" > "+cells[3])
				}
			}
		}
	}
	return rows
}

// inInches puts the unit of a column behind a number of it.
func inInches(cell string) string {
	if cell == "new" || cell == "gone" {
		return cell
	}
	return cell + " in"
}

// bench works a plan of level runs between posts out as one does at the bench, in inches, by the formulas of the trade and the sizes of the library's parts (square-1-1-4, rail-plow-1-1-4, shoe-1-1-4, fillet-1-1-4) and settings, which are
// written out here again. Keys are name|what.
//
// A count is right when no opening, at its worst, is 4 in or more: marks k·(L + b)/(n + 1) − b/2 rounded to a sixteenth, both neighbours marked and drilled 1/32 off the bad way, a baluster 1/64 narrow. By hand for the hall: 100 with 19
// leaves gaps of 76.25/20 = 3 13/16, which is 3.953 at the worst; 100 1/4 with 19 leaves 3.825, so that some marks lie 5 1/8 apart: 3 7/8 + 9/64 = 4.016, and it takes 20.
func bench(clears map[string]*big.Rat) map[string]string {
	r := big.NewRat
	add := func(list ...*big.Rat) *big.Rat {
		sum := new(big.Rat)
		for _, x := range list {
			sum.Add(sum, x)
		}
		return sum
	}
	less := func(x *big.Rat) *big.Rat { return new(big.Rat).Neg(x) }
	times := func(n int, x *big.Rat) *big.Rat { return new(big.Rat).Mul(r(int64(n), 1), x) }
	sixteenth := func(x *big.Rat) *big.Rat { // the nearest
		n := add(new(big.Rat).Mul(x, r(16, 1)), r(1, 2))
		whole := new(big.Int).Div(n.Num(), n.Denom())
		return new(big.Rat).SetFrac(whole, big.NewInt(16))
	}
	width, half := r(5, 4), r(5, 8)
	off := r(1, 16) // marking and drilling, of one baluster
	lay := func(clear *big.Rat, n int) (marks, gaps []*big.Rat, right bool) {
		for k := 1; k <= n; k++ {
			at := new(big.Rat).Quo(times(k, add(clear, width)), r(int64(n)+1, 1))
			marks = append(marks, sixteenth(add(at, less(half))))
		}
		right = true
		for k := 0; k <= n; k++ {
			from, to, off, narrow := r(0, 1), clear, times(2, off), r(1, 64)
			if k > 0 {
				from = add(marks[k-1], half)
			}
			if k < n {
				to = add(marks[k], less(half))
			}
			if k == 0 || k == n { // a post on one side
				off, narrow = r(1, 16), r(1, 128)
			}
			gap := add(to, less(from))
			gaps = append(gaps, gap)
			right = right && add(gap, off, narrow).Cmp(r(4, 1)) < 0
		}
		return marks, gaps, right
	}
	facts := map[string]string{}
	total, fillets, balusters := new(big.Rat), new(big.Rat), 0
	for name, clear := range clears {
		n := 0
		for right := false; !right; {
			n++
			_, _, right = lay(clear, n)
		}
		marks, gaps, _ := lay(clear, n)
		facts[name+"|balusters"] = fmt.Sprint(n)
		for k, m := range marks {
			facts[fmt.Sprintf("%s|mark %d", name, k+1)] = inches(m)
		}
		facts[name+"|handrail"] = "1 at " + inches(clear)
		facts[name+"|shoe"] = "1 at " + inches(clear)
		// Top of the rail less the rail, deeper by its plow, less the shoe, deeper by its plow, less what it takes to go in.
		long := add(r(38, 1), r(-19, 8), r(5, 16), r(-3, 4), r(5, 16), r(-1, 16))
		facts[name+"|baluster"] = fmt.Sprintf("%d at %s", n, inches(long))
		facts[name+"|shoe fillet"], facts[name+"|rail fillet"] = lengths(gaps), lengths(gaps)
		total.Add(total, clear)
		balusters += n
		fillets.Add(fillets, times(2, add(clear, less(times(n, width)))))
	}
	spare := max(1, (balusters*5+99)/100) // 5 in a hundred
	facts["baluster square-1-1-4|needed"] = fmt.Sprint(balusters + spare)
	facts["handrail rail-plow-1-1-4|needed"] = inches(total) + " run together"
	facts["shoe shoe-1-1-4|needed"] = inches(total) + " run together"
	facts["fillet fillet-1-1-4|needed"] = inches(fillets) + " run together"
	facts["fixing brad-18-1-1-4|needed"] = fmt.Sprint(2 * balusters)                   // one at either end
	facts["fixing brad-18-3-4|needed"] = fmt.Sprint(2 * 2 * (balusters + len(clears))) // two to a fillet, in two grooves
	return facts
}

// inches is a length in sixteenths as a tape shows it.
func inches(x *big.Rat) string {
	whole := new(big.Int).Div(x.Num(), x.Denom())
	rest := new(big.Rat).Sub(x, new(big.Rat).SetInt(whole))
	switch {
	case rest.Sign() == 0:
		return whole.String() + " in"
	case whole.Sign() == 0:
		return rest.String() + " in"
	}
	return whole.String() + " " + rest.String() + " in"
}

// lengths lists pieces of a row by their length, the longest first, with the places in the row that each has: 16 at 3 5/8 in: 1, 2, 4 to 7.
func lengths(row []*big.Rat) string {
	places := map[string][]int{}
	var kinds []*big.Rat
	for i, x := range row {
		if places[x.String()] == nil {
			kinds = append(kinds, x)
		}
		places[x.String()] = append(places[x.String()], i+1)
	}
	slices.SortFunc(kinds, func(a, b *big.Rat) int { return b.Cmp(a) })
	var said []string
	for _, x := range kinds {
		at := places[x.String()]
		var words []string
		for i := 0; i < len(at); {
			j := i
			for j+1 < len(at) && at[j+1] == at[j]+1 {
				j++
			}
			switch j - i {
			case 0:
				words = append(words, fmt.Sprint(at[i]))
			case 1:
				words = append(words, fmt.Sprint(at[i]), fmt.Sprint(at[j]))
			default:
				words = append(words, fmt.Sprintf("%d to %d", at[i], at[j]))
			}
			i = j + 1
		}
		said = append(said, fmt.Sprintf("%d at %s: %s", len(at), inches(x), strings.Join(words, ", ")))
	}
	return strings.Join(said, "; ")
}

// TestWhatACarpenterWouldSay: changes as they happen on a job, each with all that is to be said of it, written by hand.
func TestWhatACarpenterWouldSay(t *testing.T) {
	three := maps.Clone(simple)
	three["job.md"] = strings.Replace(simple["job.md"], "posts: {a: {newel: square-3-1-2, foot: plate}}", "posts: {a: {newel: square-3-1-2, foot: plate}, b: {newel: square-3-1-2, foot: plate}, c: {newel: square-3-1-2, foot: plate}}", 1)
	three["runs/1-hall.md"] = "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}"
	three["runs/2-return.md"] = "kind: run\nfrom: b\nto: c\nclear: {floor: 60, rail: 60}"
	own := maps.Clone(simple)
	own["job.md"] = strings.Replace(simple["job.md"], "baluster: square-1-1-4", "baluster: stick", 1)
	own["parts/stick.md"] = "kind: baluster\nwide: 1 1/4\nlong: 40"
	move := func(t *testing.T, dir, was, is string) {
		t.Helper()
		if err := os.Rename(filepath.Join(dir, was), filepath.Join(dir, is)); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		name  string
		files map[string]string
		do    func(t *testing.T, dir string)
		roots []string // readings and choices, files renamed, gone and new
		sorts map[changes.Sort]int
	}{
		{"a run has another name, and was read again", simple, func(t *testing.T, dir string) {
			move(t, dir, "runs/1-hall.md", "runs/1-landing.md")
			rewrite(t, dir, "runs/1-landing.md", "floor: 96,", "floor: 95 7/8,")
		}, []string{"run/hall is run/landing", "run/landing clear: floor 96 > 95 7/8"}, map[changes.Sort]int{changes.Count: 0}},
		{"one of two alike is gone, the other has another name", map[string]string{"job.md": simple["job.md"], "runs/1-hall.md": simple["runs/1-hall.md"], "runs/2-return.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 96, rail: 96}"},
			func(t *testing.T, dir string) {
				move(t, dir, "runs/1-hall.md", "runs/1-landing.md")
				if err := os.Remove(filepath.Join(dir, "runs/2-return.md")); err != nil {
					t.Fatal(err)
				}
			}, []string{"run/hall is run/landing", "run/return is gone"}, map[changes.Sort]int{changes.Mark: 0, changes.Count: 0}},
		{"two posts alike have changed places: no mark and no piece is another", three, func(t *testing.T, dir string) {
			rewrite(t, dir, "runs/1-hall.md", "from: a", "from: c")
			rewrite(t, dir, "runs/2-return.md", "to: c", "to: a")
		}, []string{"run/hall from a > c", "run/return to c > a"}, map[changes.Sort]int{changes.Mark: 0, changes.Count: 0, changes.Piece: 0, changes.Order: 0, changes.Check: 0}},
		// 96 and 60 with sticks of 1 1/4: 19 and 12 (see bench). With 1 3/8: 19 leave 69.875/20 = 3.494, 18 leave 71.25/19 = 3 3/4, at the worst 3.953 or less: 18; 12 leave 43.5/13 = 3.346, 11 leave 44.875/12 = 3.740, 3.953 at the worst: 11.
		// The plows are 1 1/4: in both runs the stick goes into neither.
		{"a part came thicker", own, func(t *testing.T, dir string) { rewrite(t, dir, "parts/stick.md", "wide: 1 1/4", "wide: 1 3/8") },
			[]string{"baluster/stick wide 1 1/4 > 1 3/8"}, map[changes.Sort]int{changes.Count: 2, changes.Mark: 19 + 12}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := folder(t, c.files)
			issued(t, dir, "first")
			c.do(t, dir)
			got := planOf(t, dir).Changes
			var roots []string
			for _, r := range got.Renamed {
				roots = append(roots, r.Was+" is "+r.Is)
			}
			for _, of := range got.Gone {
				roots = append(roots, of+" is gone")
			}
			for _, of := range got.Added {
				roots = append(roots, of+" is new")
			}
			for _, x := range append(got.Of(changes.Reading), got.Of(changes.Choice)...) {
				roots = append(roots, x.Line.Of+" "+x.What+" "+x.Was+" > "+x.Value)
			}
			if !slices.Equal(roots, c.roots) {
				t.Errorf("said is %q, want %q", roots, c.roots)
			}
			for sort, n := range c.sorts {
				if list := got.Of(sort); len(list) != n {
					t.Errorf("%d changes of %s, want %d: %+v", len(list), sort, n, list)
				}
			}
			if c.name == "a part came thicker" {
				fails := 0
				for _, x := range got.Of(changes.Check) {
					if strings.HasPrefix(x.What, "plow-") && x.Was == "pass" && x.Value == "fail" {
						fails++
					}
				}
				if fails != 4 {
					t.Errorf("%d plows that the stick no longer goes into, want 4", fails)
				}
			}
		})
	}
}
