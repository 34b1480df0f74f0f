package jobbook_test

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/changes"
	"balustrade/jobbook/plan"
)

func planOf(t *testing.T, dir string) *plan.Plan {
	t.Helper()
	result, err := jobbook.Check(dir)
	if err != nil {
		t.Fatal(err)
	}
	if result.Plan == nil {
		t.Fatalf("%+v", result.Problems)
	}
	return result.Plan
}

func issued(t *testing.T, dir, name string) {
	t.Helper()
	result, _, err := jobbook.Issue(dir, name, "2026-11-20")
	if err != nil || result.Plan == nil {
		t.Fatalf("%v %+v", err, result.Problems)
	}
}

// hall is the plain job of the alternatives' tests with what its posts and rails still want.
func hall(t *testing.T) string { return folder(t, maps.Clone(simple)) }

// TestNothingChanged: a plan against itself, recorded and read again.
func TestNothingChanged(t *testing.T) {
	dir := hall(t)
	issued(t, dir, "first")
	c := planOf(t, dir).Changes
	if c == nil || !c.Same() || c.Issue != "first" || c.Day != "2026-11-20" {
		t.Errorf("%+v", c)
	}
}

// TestRemeasured: two readings changed. What differs between the two plans is found here by comparing the plans themselves, run by run and piece by piece; the comparison has to name just that, each with the readings
// behind it.
func TestRemeasured(t *testing.T) {
	dir := hall(t)
	before := planOf(t, dir)
	issued(t, dir, "first")
	rewrite(t, dir, "runs/1-hall.md", "clear: {floor: 96, rail: 96}", "clear: {floor: 95 1/2, rail: 95 1/2}")
	after := planOf(t, dir)
	c := after.Changes
	if got := c.Of(changes.Reading); len(got) != 2 || got[0].Was != "96" || got[0].Value != "95 1/2" || got[0].By.String() != "-12.7 mm" || got[0].Within {
		t.Fatalf("readings: %+v", got)
	}
	want := map[string]bool{}
	for i, r := range after.Layout.Runs {
		old := before.Layout.Runs[i]
		for k, m := range r.Marks {
			if k >= len(old.Marks) || old.Marks[k].At != m.At {
				want[fmt.Sprintf("run/%s mark %d", r.Name, m.K)] = true
			}
		}
		for k := len(r.Marks); k < len(old.Marks); k++ {
			want[fmt.Sprintf("run/%s mark %d", r.Name, k+1)] = true
		}
	}
	if len(want) == 0 {
		t.Fatal("no mark moved")
	}
	got := map[string]bool{}
	for _, x := range c.Of(changes.Mark) {
		got[x.Line.Of+" "+x.What] = true
		if len(x.Causes) != 1 || x.Causes[0].What != "clear: floor" || x.Causes[0].Of != "run/hall" || x.Likely && !x.Gone {
			t.Errorf("%s: because of %+v", x.What, x.Causes)
		}
	}
	if !maps.Equal(got, want) {
		t.Errorf("marks %v\nwant  %v", slices.Sorted(maps.Keys(got)), slices.Sorted(maps.Keys(want)))
	}
	rails := 0
	for _, x := range c.Of(changes.Piece) {
		if x.What == "handrail" || strings.HasPrefix(x.What, "handrail,") {
			rails++
			if len(x.Causes) != 1 || x.Causes[0].What != "clear: rail" {
				t.Errorf("the rail is other because of %+v", x.Causes)
			}
		}
		if x.Line.Of == "run/return" {
			t.Errorf("the return changed too: %+v", x)
		}
	}
	if rails != 1 {
		t.Errorf("%d rails changed, want the hall's", rails)
	}
	rewrite(t, dir, "runs/1-hall.md", "clear: {floor: 95 1/2, rail: 95 1/2}", "clear: {floor: 95 15/16, rail: 96.0}")
	c = planOf(t, dir).Changes
	if got := c.Of(changes.Reading); len(got) != 1 || !got[0].Within {
		t.Errorf("a sixteenth is within what a tape tells, and 96.0 is 96: %+v", got)
	}
}

// TestRenamedGoneAndSwapped: what a carpenter would say of a run with another name, one that is gone, a part of another width, and posts that were swapped.
func TestRenamedGoneAndSwapped(t *testing.T) {
	t.Run("renamed", func(t *testing.T) {
		dir := hall(t)
		issued(t, dir, "first")
		if err := os.Rename(filepath.Join(dir, "runs/1-hall.md"), filepath.Join(dir, "runs/1-landing.md")); err != nil {
			t.Fatal(err)
		}
		c := planOf(t, dir).Changes
		if len(c.Renamed) != 1 || c.Renamed[0] != (changes.Renamed{Was: "run/hall", Is: "run/landing"}) || len(c.Gone)+len(c.Added) > 0 || len(c.Of(changes.Mark)) > 0 || len(c.Of(changes.Reading)) > 0 {
			t.Errorf("%+v", c)
		}
	})
	t.Run("gone", func(t *testing.T) {
		dir := hall(t)
		issued(t, dir, "first")
		if err := os.Remove(filepath.Join(dir, "runs/2-return.md")); err != nil {
			t.Fatal(err)
		}
		c := planOf(t, dir).Changes
		if !slices.Equal(c.Gone, []string{"run/return"}) || len(c.Renamed) > 0 || len(c.Of(changes.Mark)) > 0 {
			t.Errorf("%+v", c)
		}
		if len(c.Of(changes.Order)) == 0 {
			t.Error("as much is needed as before")
		}
	})
	t.Run("another part", func(t *testing.T) {
		dir := hall(t)
		issued(t, dir, "first")
		rewrite(t, dir, "job.md", "baluster: square-1-1-4", "baluster: square-1-1-2")
		c := planOf(t, dir).Changes
		if got := c.Of(changes.Choice); len(got) != 1 || got[0].What != "baluster" || got[0].Was != "square-1-1-4" || got[0].Value != "square-1-1-2" {
			t.Errorf("choices: %+v", got)
		}
		if len(c.Of(changes.Mark)) == 0 || len(c.Of(changes.Reading)) > 0 {
			t.Errorf("%+v", c)
		}
	})
	t.Run("swapped posts", func(t *testing.T) {
		dir := hall(t)
		rewrite(t, dir, "job.md", "posts: {a: {newel: square-3-1-2, foot: plate}}", "posts: {a: {newel: square-3-1-2, foot: plate}, b: {newel: box-3-1-2, foot: plate}}")
		issued(t, dir, "first")
		rewrite(t, dir, "job.md", "a: {newel: square-3-1-2, foot: plate}, b: {newel: box-3-1-2", "a: {newel: box-3-1-2, foot: plate}, b: {newel: square-3-1-2")
		c := planOf(t, dir).Changes
		var said []string
		for _, x := range c.Of(changes.Choice) {
			said = append(said, x.Line.Of+": "+x.What+" "+x.Was+" > "+x.Value)
		}
		if want := []string{"post/a: newel square-3-1-2 > box-3-1-2", "post/b: newel box-3-1-2 > square-3-1-2"}; !slices.Equal(said, want) {
			t.Errorf("%q, want %q", said, want)
		}
	})
}

// TestIssue: what can't be an issue, and a record that somebody broke.
func TestIssue(t *testing.T) {
	dir := hall(t)
	for _, name := range []string{"", "A", "../up", "a b", "-a", "a--b", "con/x", strings.Repeat("é", 3)} {
		if _, _, err := jobbook.Issue(dir, name, ""); err == nil {
			t.Errorf("%q was taken", name)
		}
	}
	issued(t, dir, "first")
	if _, _, err := jobbook.Issue(dir, "first", ""); err == nil {
		t.Error("a second issue of one name")
	}
	issued(t, dir, "second")
	if c := planOf(t, dir).Changes; c.Issue != "second" {
		t.Errorf("compared with %s", c.Issue)
	}
	rewrite(t, dir, "issues/2-second.md", "mark | run/hall | mark 3 |", "mark run/hall mark 3")
	result, err := jobbook.Check(dir)
	if err != nil || result.Plan == nil || result.Plan.Changes != nil || len(result.Problems) != 1 || !strings.HasPrefix(result.Problems[0].At.String(), "issues/2-second.md:") {
		t.Errorf("%v %+v", err, result.Problems)
	}
}

// causes are the changes of some sorts with what they are put down to, in the order of the page.
func causes(c *changes.Comparison, sorts ...changes.Sort) (list []string) {
	for _, x := range c.Changes {
		if !slices.Contains(sorts, x.Sort) {
			continue
		}
		line := x.Line.Of + " " + x.What + ":"
		for _, l := range x.Causes {
			line += " " + strings.TrimSpace(l.Of+" "+l.What)
		}
		if x.Likely {
			line += " (likely)"
		}
		list = append(list, line)
	}
	return list
}

// TestSameWrittenOtherwise: what is only written in another way, or stands in another place, is no change. The lengths are the same by hand: 96.0 = 96, 38 2/16 = 38 1/8.
func TestSameWrittenOtherwise(t *testing.T) {
	files := maps.Clone(simple)
	files["runs/2-return.md"] += "\nheight: 38 1/8\nlevel: [{at: 0, down: 3}, {at: 30, down: 3 1/16}, {at: 60, down: 3}]"
	for _, c := range []struct {
		name string
		do   func(t *testing.T, dir string)
	}{
		{"a key written out", func(t *testing.T, dir string) {
			rewrite(t, dir, "runs/1-hall.md", "from: wall", "from: {at: wall}")
			rewrite(t, dir, "runs/2-return.md", "height: 38 1/8", "height: {top: 38 2/16}")
		}},
		{"a list in another order", func(t *testing.T, dir string) {
			rewrite(t, dir, "runs/2-return.md", "{at: 0, down: 3}, {at: 30, down: 3 1/16}", "{at: 30, down: 3 1/16}, {at: 0, down: 3}")
		}},
		{"a unit beside the number", func(t *testing.T, dir string) {
			rewrite(t, dir, "runs/1-hall.md", "floor: 96,", "floor: 96.0 in,")
		}},
		{"files of other numbers", func(t *testing.T, dir string) {
			if err := os.Rename(filepath.Join(dir, "runs/1-hall.md"), filepath.Join(dir, "runs/9-hall.md")); err != nil {
				t.Fatal(err)
			}
		}},
		{"line ends of another system", func(t *testing.T, dir string) {
			path := filepath.Join(dir, "issues/1-first.md")
			text, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(strings.ReplaceAll(string(text), "\n", "\r\n")), 0o644); err != nil {
				t.Fatal(err)
			}
		}},
		{"a title", func(t *testing.T, dir string) {
			rewrite(t, dir, "runs/1-hall.md", "kind: run", "kind: run\ntitle: The long one | to the stair")
		}},
		{"the unit beside every number", func(t *testing.T, dir string) {
			rewrite(t, dir, "runs/1-hall.md", "{floor: 96, rail: 96}", "{floor: 96 in, rail: 96 in}")
			rewrite(t, dir, "runs/2-return.md", "{floor: 60, rail: 60}", "{floor: 60 in, rail: 60 in}")
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := folder(t, files)
			issued(t, dir, "first")
			c.do(t, dir)
			if got := planOf(t, dir).Changes; got == nil || !got.Same() {
				t.Errorf("%+v", got)
			}
		})
	}
}

// TestOtherUnit: an issue written in inches, the job in millimetres since. 96 in are 2438.4 mm, by the definition of the inch; 2440 are 1.6 more. Nothing is read in the wrong unit.
func TestOtherUnit(t *testing.T) {
	dir := hall(t)
	issued(t, dir, "first")
	rewrite(t, dir, "job.md", "drop: 100\nheight: 38", "units: mm\ndrop: 2540\nheight: 965.2")
	rewrite(t, dir, "runs/1-hall.md", "{floor: 96, rail: 96}", "{floor: 2440, rail: 2438.4}")
	rewrite(t, dir, "runs/2-return.md", "{floor: 60, rail: 60}", "{floor: 1524, rail: 1524}")
	c := planOf(t, dir).Changes
	got := c.Of(changes.Reading)
	if len(got) != 1 || got[0].What != "clear: floor" || got[0].Was != "96 in" || got[0].Value != "2440 mm" || got[0].By.String() != "1.6 mm" {
		t.Errorf("readings %+v", got)
	}
	for _, x := range c.Of(changes.Mark) {
		if x.Line.Of != "run/hall" && strings.HasPrefix(x.What, "mark") {
			t.Errorf("the return's marks stand where they stood: %+v", x)
		}
	}
}

// TestOtherUnitOfTheShop: the shop's settings say another unit since the issue, and its lengths are the same: 1/16 in are 1.5875 mm, 1 1/4 are 31.75, by the
// definition of the inch. A fillet that is 1/16 mm thicker (5/16 are 7.9375) is told in both units.
func TestOtherUnitOfTheShop(t *testing.T) {
	files := maps.Clone(simple)
	files["shop/settings.md"] = "kind: settings\nunits: in\nfit: 1/16"
	files["shop/fillet-1-1-4.md"] = "kind: fillet\nwide: 1 1/4\nthick: 5/16"
	dir := folder(t, files)
	issued(t, dir, "first")
	rewrite(t, dir, "shop/settings.md", "units: in\nfit: 1/16", "units: mm\nfit: 1.5875")
	rewrite(t, dir, "shop/fillet-1-1-4.md", "wide: 1 1/4\nthick: 5/16", "wide: 31.75\nthick: 8")
	c := planOf(t, dir).Changes
	var got []string
	for _, x := range append(c.Of(changes.Reading), c.Of(changes.Choice)...) {
		got = append(got, x.Of+" "+x.What+": "+x.Was+" to "+x.Value)
	}
	if want := []string{"fillet/fillet-1-1-4 thick: 5/16 in to 8 mm", "settings/settings units: in to mm"}; !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
}

// TestCauses: each change goes back to what was changed, and only to that; where no working leads there it says so.
func TestCauses(t *testing.T) {
	t.Run("a part chosen otherwise", func(t *testing.T) {
		dir := hall(t)
		issued(t, dir, "first")
		rewrite(t, dir, "job.md", "baluster: square-1-1-4", "baluster: square-1-1-2")
		c := planOf(t, dir).Changes
		for _, line := range causes(c, changes.Count, changes.Mark, changes.Piece, changes.Order) {
			if _, after, _ := strings.Cut(line, ":"); strings.TrimSuffix(after, " (likely)") != " job baluster" {
				t.Error(line)
			}
		}
		if len(c.Of(changes.Mark)) == 0 || strings.Contains(strings.Join(causes(c, changes.Count), ";"), "likely") {
			t.Errorf("the count goes by the width: %q", causes(c, changes.Count))
		}
	})
	t.Run("a run that is gone, and a reading beside it", func(t *testing.T) {
		dir := hall(t)
		issued(t, dir, "first")
		if err := os.Remove(filepath.Join(dir, "runs/2-return.md")); err != nil {
			t.Fatal(err)
		}
		rewrite(t, dir, "runs/1-hall.md", "floor: 96,", "floor: 95,")
		c := planOf(t, dir).Changes
		got := causes(c, changes.Order)
		for _, want := range []string{
			"baluster/square-1-1-4 needed: run/hall clear: floor run/return", "handrail/rail-plow-1-1-4 from yard, sticks of 96 in: run/return", "shoe/shoe-1-1-4 needed: run/hall clear: floor run/return",
			"fillet/fillet-1-1-4 needed: run/hall clear: floor run/return",
		} {
			if !slices.Contains(got, want) {
				t.Errorf("no %q in\n%s", want, strings.Join(got, "\n"))
			}
		}
	})
	t.Run("what came", func(t *testing.T) {
		dir := hall(t)
		issued(t, dir, "first")
		if err := os.MkdirAll(filepath.Join(dir, "deliveries"), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "deliveries/1-load.md"), []byte("---\nkind: delivery\nreceived: 2026-12-01\nitems: [{part: square-1-1-4, count: 60, wide: 1 3/16}]\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		c := planOf(t, dir).Changes
		if !slices.Equal(c.Added, []string{"delivery/load"}) || len(c.Of(changes.Mark)) == 0 {
			t.Fatalf("%+v", c)
		}
		for _, line := range causes(c, changes.Count, changes.Mark) {
			if !strings.HasSuffix(line, ": delivery/load") && !strings.HasSuffix(line, ": delivery/load (likely)") {
				t.Error(line)
			}
		}
	})
	t.Run("a crew and an hour's price are no lengths", func(t *testing.T) {
		dir := hall(t)
		rewrite(t, dir, "job.md", "height: 38", "height: 38\nprice: {contingency: 40.00}\ncalendar: {start: 2026-11-23, crew: 2, hours: {weekdays: \"8:00 to 16:00\"}}")
		issued(t, dir, "first")
		rewrite(t, dir, "job.md", "contingency: 40.00", "contingency: 41.00")
		rewrite(t, dir, "job.md", "crew: 2", "crew: 3")
		c := planOf(t, dir).Changes
		if len(c.Of(changes.Reading)) > 0 || len(c.Of(changes.Choice)) != 2 || len(c.Of(changes.Mark)) > 0 {
			t.Errorf("%+v", c.Changes)
		}
	})
}

// TestToldOnce: a post of another name, and a rail between other posts, are no new pieces.
func TestToldOnce(t *testing.T) {
	dir := hall(t)
	issued(t, dir, "first")
	rewrite(t, dir, "job.md", "posts: {a:", "posts: {landing-post:")
	rewrite(t, dir, "runs/1-hall.md", "to: a", "to: landing-post")
	rewrite(t, dir, "runs/2-return.md", "from: a", "from: landing-post")
	c := planOf(t, dir).Changes
	if len(c.Renamed) != 1 || c.Renamed[0] != (changes.Renamed{Was: "post/a", Is: "post/landing-post"}) || len(c.Changes)+len(c.Gone)+len(c.Added) > 0 {
		t.Errorf("%+v", c)
	}
	t.Run("a part of its own over the library's", func(t *testing.T) {
		dir := hall(t)
		issued(t, dir, "first")
		if err := os.MkdirAll(filepath.Join(dir, "parts"), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "parts/square-1-1-4.md"), []byte("---\nkind: baluster\nwide: 1\nlong: 42\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		c := planOf(t, dir).Changes
		got := causes(c, changes.Order)
		if want := "baluster/square-1-1-4 needed: baluster/square-1-1-4"; !slices.Equal(c.Added, []string{"baluster/square-1-1-4"}) || !slices.Contains(got, want) && !slices.Contains(got, want+" (likely)") {
			t.Errorf("the part is new, and how many are needed goes by it: %v %q", c.Added, got)
		}
	})
}

// TestMergedIssue: two records merged line by line: a line that both changed stands twice, or between marks of a conflict. Either is reported where it stands.
func TestMergedIssue(t *testing.T) {
	for name, line := range map[string]string{"twice": "reading | run/hall | clear: floor | 97", "conflict": "<<<<<<< ours"} {
		t.Run(name, func(t *testing.T) {
			dir := hall(t)
			issued(t, dir, "first")
			rewrite(t, dir, "issues/1-first.md", "reading | run/hall | clear: floor | 96\n", "reading | run/hall | clear: floor | 96\n"+line+"\n")
			text, err := os.ReadFile(filepath.Join(dir, "issues/1-first.md"))
			if err != nil {
				t.Fatal(err)
			}
			at := fmt.Sprintf("issues/1-first.md:%d:1", strings.Count(string(text)[:strings.Index(string(text), line)], "\n")+1)
			result, err := jobbook.Check(dir)
			if err != nil || result.Plan == nil || result.Plan.Changes != nil || len(result.Problems) != 1 || result.Problems[0].At.String() != at {
				t.Errorf("%v %+v, want a problem at %s", err, result.Problems, at)
			}
		})
	}
}

// FuzzRecord: whatever stands in a record, reading it does not fall over, and what was read and written once is read the same again.
func FuzzRecord(f *testing.F) {
	f.Add("reading | run/hall | clear: floor | 96\ncheck | run/hall | guard-drop | pass: guard: required\r\n")
	f.Add("choice | a |  | |\n\nmark | b |")
	f.Fuzz(func(t *testing.T, text string) {
		list, bad := changes.Parse(text)
		if bad > 0 {
			return
		}
		again, bad := changes.Parse(changes.Text(list))
		if bad > 0 || !slices.Equal(list, again) {
			t.Errorf("%q was read as\n%+v and again as\n%+v, line %d", text, list, again, bad)
		}
	})
}

// TestSameSticks: an eighth more of rail is no other order where the yard's stick is the same, and is one where nobody sells it: nothing else is known of what is to be bought then. By hand: 96 and 60 go into a stick of 14' (168) with
// rough lengths, saw cuts and end trim (1/2 each, 1/8, 1/2 at either end); so do 96 1/8 and 60. 120 and 60 take 180 and more, a stick longer. Two rosettes of 3/4 come off the rails.
func TestSameSticks(t *testing.T) {
	orders := func(t *testing.T, files map[string]string, long string) (list []string) {
		t.Helper()
		dir := folder(t, files)
		issued(t, dir, "first")
		rewrite(t, dir, "runs/1-hall.md", "floor: 96, rail: 96", "floor: 96, rail: "+long)
		for _, x := range planOf(t, dir).Changes.Of(changes.Order) {
			if x.Line.Of == "handrail/rail-plow-1-1-4" {
				is := x.Value
				if x.Gone {
					is = "gone"
				}
				list = append(list, x.What+": "+x.Was+" > "+is)
			}
		}
		return list
	}
	sold := maps.Clone(simple)
	sold["yard.md"] = "kind: supplier\nlead: 3\nsells: {rail-plow-1-1-4: {lengths: [14', 16'], per-foot: 9}}"
	unsold := maps.Clone(simple)
	delete(unsold, "yard.md")
	for _, c := range []struct {
		name  string
		files map[string]string
		long  string
		want  []string
	}{
		{"the same stick", sold, "96 1/8", nil},
		{"another stick", sold, "120", []string{"from yard, sticks of 192 in:  > 1", "from yard, sticks of 168 in: 1 > gone"}},
		{"nobody sells it", unsold, "96 1/8", []string{"needed: 154 1/2 in run together > 154 5/8 in run together"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := orders(t, c.files, c.long); !slices.Equal(got, c.want) {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}
