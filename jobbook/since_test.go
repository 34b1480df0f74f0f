package jobbook_test

import (
	"context"
	"errors"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/changes"
	"balustrade/jobbook/site"
)

// repository makes files under version control, and gives git as the test uses it.
func repository(t *testing.T, files map[string]string) (dir string, git func(args ...string) string) {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("there is no git")
	}
	dir = folder(t, files)
	git = func(args ...string) string {
		t.Helper()
		cmd := exec.Command("git", args...)
		cmd.Dir = dir
		cmd.Env = append(slices.DeleteFunc(cmd.Environ(), func(v string) bool { return strings.HasPrefix(v, "GIT_") }),
			"GIT_CONFIG_NOSYSTEM=1", "GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_AUTHOR_NAME=A", "GIT_AUTHOR_EMAIL=a@b.example", "GIT_COMMITTER_NAME=A", "GIT_COMMITTER_EMAIL=a@b.example")
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("git %s: %v\n%s", strings.Join(args, " "), err, out)
		}
		return strings.TrimSpace(string(out))
	}
	git("init", "-q", "-b", "main")
	git("add", ".")
	git("commit", "-q", "-m", "first")
	git("tag", "v1")
	return dir, git
}

// below is the plain job in a folder of its own, with a shop beside it where one is given.
func below(dir string, shop map[string]string) map[string]string {
	files := map[string]string{}
	for name, text := range simple {
		files[dir+"/"+name] = text
	}
	for name, text := range shop {
		files["shop/"+name] = text
	}
	return files
}

func since(t *testing.T, dir, name string) jobbook.Result {
	t.Helper()
	m := jobbook.Maker{Since: name}
	result, _, err := m.Make(t.Context(), dir)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

func sinceRefused(t *testing.T, dir, name string) *site.UsageError {
	t.Helper()
	m := jobbook.Maker{Since: name}
	_, _, err := m.Make(t.Context(), dir)
	var wrong *site.UsageError
	if !errors.As(err, &wrong) {
		t.Fatalf("%v, want a usage error", err)
	}
	return wrong
}

// TestSinceRevision: the folder as it was at a tag says the same as an issue that was recorded then.
func TestSinceRevision(t *testing.T) {
	dir, git := repository(t, below("hall", nil))
	job := filepath.Join(dir, "hall")
	issued(t, job, "first")
	rewrite(t, job, "runs/1-hall.md", "floor: 96,", "floor: 95 1/2,")
	byIssue := since(t, job, "first").Plan.Changes
	byTag := since(t, job, "v1").Plan.Changes
	if len(byTag.Changes) == 0 || byTag.Revision != "v1" || byTag.Hash != git("rev-parse", "v1") || len(byTag.Notes) > 0 {
		t.Fatalf("%+v", byTag)
	}
	if !slices.EqualFunc(byIssue.Changes, byTag.Changes, func(a, b changes.Change) bool {
		return a.Line == b.Line && a.Was == b.Was && a.Gone == b.Gone && a.New == b.New && slices.Equal(a.Causes, b.Causes)
	}) {
		t.Errorf("by the issue %+v\nby the tag %+v", byIssue.Changes, byTag.Changes)
	}
	if c := since(t, job, git("rev-parse", "--short", "HEAD")).Plan.Changes; len(c.Changes) != len(byTag.Changes) {
		t.Errorf("by a short hash %+v", c)
	}
	git("tag", "-a", "-m", "handed out", "signed")
	if c := since(t, job, "signed").Plan.Changes; c.Hash != byTag.Hash {
		t.Errorf("a tag with words of its own leads to %s", c.Hash)
	}
}

// TestSinceShop: the shop is taken from the same revision; one that was not there then, or is in no repository, is told of.
func TestSinceShop(t *testing.T) {
	shop := map[string]string{"settings.md": "kind: settings\ntolerance: {drill: 1/32}"}
	t.Run("in the repository", func(t *testing.T) {
		dir, _ := repository(t, below("hall", shop))
		job := filepath.Join(dir, "hall")
		if c := since(t, job, "v1").Plan.Changes; !c.Same() || len(c.Notes) > 0 {
			t.Fatalf("%+v", c)
		}
		rewrite(t, dir, "shop/settings.md", "drill: 1/32", "drill: 1/16")
		c := since(t, job, "v1").Plan.Changes
		if got := c.Of(changes.Reading); len(got) != 1 || got[0].Line.Of != "settings/settings" || got[0].Was != "1/32" || got[0].Value != "1/16" {
			t.Errorf("%+v", c.Changes)
		}
	})
	t.Run("not there then", func(t *testing.T) {
		dir, git := repository(t, below("hall", nil))
		if err := os.MkdirAll(filepath.Join(dir, "shop"), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "shop/settings.md"), []byte("---\n"+shop["settings.md"]+"\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		git("add", ".")
		git("commit", "-q", "-m", "shop")
		c := since(t, filepath.Join(dir, "hall"), "v1").Plan.Changes
		if !slices.Equal(c.Added, []string{"settings/settings"}) || len(c.Notes) != 1 || !strings.Contains(c.Notes[0], "not under version control then") {
			t.Errorf("%+v", c)
		}
	})
	t.Run("outside of the repository", func(t *testing.T) {
		yard := folder(t, map[string]string{"shop/settings.md": shop["settings.md"]})
		dir, _ := repository(t, simple)
		if err := os.Rename(dir, filepath.Join(yard, "hall")); err != nil {
			t.Fatal(err)
		}
		c := since(t, filepath.Join(yard, "hall"), "v1").Plan.Changes
		if !c.Same() || len(c.Notes) != 1 || !strings.Contains(c.Notes[0], "taken as it is now") {
			t.Errorf("%+v", c)
		}
	})
	t.Run("in the job's own folder", func(t *testing.T) {
		files := maps.Clone(simple)
		files["shop/settings.md"] = shop["settings.md"]
		dir, _ := repository(t, files)
		if c := since(t, dir, "v1").Plan.Changes; !c.Same() || len(c.Notes) > 0 {
			t.Errorf("%+v", c)
		}
	})
}

// TestSinceMoved: a job whose folder had another name, or that was not there yet.
func TestSinceMoved(t *testing.T) {
	dir, git := repository(t, below("hall", nil))
	git("mv", "hall", "elm-street")
	git("commit", "-q", "-m", "moved")
	job := filepath.Join(dir, "elm-street")
	if c := since(t, job, "v1").Plan.Changes; !c.Same() || !slices.Equal(c.Notes, []string{"the folder was called hall in v1"}) {
		t.Errorf("%+v", c)
	}
	other := filepath.Join(dir, "oak-street")
	if err := os.CopyFS(other, os.DirFS(job)); err != nil {
		t.Fatal(err)
	}
	if no := sinceRefused(t, other, "v1"); !strings.Contains(no.Summary, "has no folder oak-street") || no.Hint != "there were the jobs: hall" {
		t.Errorf("%+v", no)
	}
}

// TestSinceBroken: what was wrong with the job then is told in its place then, and no book is made.
func TestSinceBroken(t *testing.T) {
	files := below("hall", nil)
	files["hall/runs/1-hall.md"] = strings.Replace(files["hall/runs/1-hall.md"], "floor: 96,", "floor: 96#5,", 1)
	dir, _ := repository(t, files)
	job := filepath.Join(dir, "hall")
	rewrite(t, job, "runs/1-hall.md", "96#5", "96")
	result := since(t, job, "v1")
	if result.Plan != nil || result.Then == nil || len(result.Then.Problems) == 0 || len(result.Problems) > 0 {
		t.Fatalf("%+v", result)
	}
	p := result.Then.Problems[0]
	if path, line := result.Then.Texts.Path(p.At.File), result.Then.Texts.Line(p.At); path != "v1:hall/runs/1-hall.md" || !strings.Contains(line, "96#5") {
		t.Errorf("%s: %q", path, line)
	}
	out := filepath.Join(dir, "book")
	m := jobbook.Maker{Since: "v1"}
	if _, err := m.Build(t.Context(), job, out); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(out); !os.IsNotExist(err) {
		t.Errorf("a book was made (%v)", err)
	}
}

// TestSinceNothingElse: what is not committed, hidden, or no Markdown has no part in a revision, nor has git's attribute that leaves files out of archives; git hears no option out of a name, and its commit is left as it was.
func TestSinceNothingElse(t *testing.T) {
	files := below("hall", nil)
	dir, git := repository(t, files)
	job := filepath.Join(dir, "hall")
	for name, text := range map[string]string{"hall/photos/a.jpg": strings.Repeat("x", 1<<20), "hall/.draft.md": "---\nkind: nothing\n---\n", ".gitattributes": "*.md export-ignore text eol=crlf\n"} {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	git("add", ".")
	git("commit", "-q", "-m", "second")
	before := git("status", "--porcelain") + git("for-each-ref")
	if c := since(t, job, "HEAD").Plan.Changes; !c.Same() {
		t.Errorf("%+v", c)
	}
	for _, name := range []string{"-h", "--help", "--output=x", "", "a\x00b", "a\nb"} {
		if name == "" {
			continue // the last issue
		}
		if no := sinceRefused(t, job, name); !strings.Contains(no.Summary, "cannot be the name of a revision") {
			t.Errorf("%q: %+v", name, no)
		}
	}
	if after := git("status", "--porcelain") + git("for-each-ref"); after != before {
		t.Errorf("the repository was %q and is %q", before, after)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	m := jobbook.Maker{Since: "v1"}
	if _, _, err := m.Make(ctx, job); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// TestSinceShallow: of a clone with a part of the history it is said that more has to be fetched.
func TestSinceShallow(t *testing.T) {
	dir, git := repository(t, below("hall", nil))
	git("commit", "-q", "--allow-empty", "-m", "second")
	clone := filepath.Join(t.TempDir(), "clone")
	git("clone", "-q", "--depth", "1", "--no-tags", "file://"+dir, clone)
	if no := sinceRefused(t, filepath.Join(clone, "hall"), "v1"); !strings.Contains(no.Hint, "fetch the whole history first") {
		t.Errorf("%+v", no)
	}
}

// TestTwoIssuesOfOneNumber: two people record an issue each, in branches of their own. Their files merge without a conflict; which of them is compared with is said, by the later day where the days tell.
func TestTwoIssuesOfOneNumber(t *testing.T) {
	dir, git := repository(t, simple)
	issued(t, dir, "first")
	git("add", ".")
	git("commit", "-q", "-m", "issue")
	record := func(branch, name, day string) {
		git("checkout", "-q", "-b", branch, "main")
		if _, _, err := jobbook.Issue(dir, name, day); err != nil {
			t.Fatal(err)
		}
		git("add", ".")
		git("commit", "-q", "-m", name)
	}
	record("one", "alpha", "2026-12-02")
	record("two", "beta", "2026-12-01")
	git("merge", "-q", "-m", "both", "one")
	for _, c := range []struct{ name, day, want string }{
		{"by the later day", "day: 2026-12-01", "alpha"},
		{"the days do not tell", "day: 2026-12-02", "beta"},
		{"no day", "day:", "beta"},
	} {
		t.Run(c.name, func(t *testing.T) {
			git("checkout", "-q", ".")
			rewrite(t, dir, "issues/2-beta.md", "day: 2026-12-01", c.day)
			result, err := jobbook.Check(dir)
			if err != nil || result.Plan == nil {
				t.Fatalf("%v %+v", err, result.Problems)
			}
			if result.Plan.Changes.Issue != c.want || len(result.Problems) != 1 || !strings.Contains(result.Problems[0].Summary, "2 issues have the same number") {
				t.Errorf("%s %+v, want %s", result.Plan.Changes.Issue, result.Problems, c.want)
			}
		})
	}
	git("checkout", "-q", ".")
	issued(t, dir, "merged") // the next number is one more than both
	result, err := jobbook.Check(dir)
	if err != nil || len(result.Problems) > 0 || result.Plan.Changes.Issue != "merged" || result.Plan.Job.Issues[3].File != "issues/3-merged.md" {
		t.Errorf("%v %+v", err, result.Problems)
	}
	if c := since(t, dir, "alpha").Plan.Changes; c.Issue != "alpha" {
		t.Errorf("%+v", c)
	}
	if err := os.Rename(filepath.Join(dir, "issues/2-beta.md"), filepath.Join(dir, "issues/4-alpha.md")); err != nil {
		t.Fatal(err)
	}
	if no := sinceRefused(t, dir, "alpha"); no.Hint != "name one with its number: 2-alpha" {
		t.Errorf("%+v", no)
	}
	if c := since(t, dir, "4-alpha").Plan.Changes; c.Issue != "alpha" || c.Day != "2026-12-01" {
		t.Errorf("%+v", c)
	}
}
