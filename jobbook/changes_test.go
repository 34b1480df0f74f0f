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

func rewrite(t *testing.T, dir, name, from, to string) {
	t.Helper()
	path := filepath.Join(dir, name)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), from) {
		t.Fatalf("%s has no %q", name, from)
	}
	if err := os.WriteFile(path, []byte(strings.Replace(string(text), from, to, 1)), 0o644); err != nil {
		t.Fatal(err)
	}
}

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
		if !x.Gone && (len(x.Causes) != 1 || x.Causes[0].What != "clear: floor" || x.Causes[0].Of != "run/hall") {
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
			said = append(said, x.What+" "+x.Was+" > "+x.Value)
		}
		if want := []string{"posts: a: newel square-3-1-2 > box-3-1-2", "posts: b: newel box-3-1-2 > square-3-1-2"}; !slices.Equal(said, want) {
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
