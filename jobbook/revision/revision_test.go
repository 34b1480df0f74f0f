package revision

import (
	"errors"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/source"
)

// made puts files under version control and gives the folder. A text that begins with -> is a link.
func made(t *testing.T, files map[string]string) (dir string, git func(args ...string)) {
	t.Helper()
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("there is no git")
	}
	dir = t.TempDir()
	git = func(args ...string) {
		t.Helper()
		cmd, _ := command(t.Context(), dir, append([]string{"-c", "user.name=A", "-c", "user.email=a@b.example"}, args...)...)
		if out, err := cmd.Output(); err != nil {
			t.Fatalf("git %v: %v %s", args, err, out)
		}
	}
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		var err error
		if to, ok := strings.CutPrefix(text, "->"); ok {
			err = os.Symlink(to, path)
		} else {
			err = os.WriteFile(path, []byte(text), 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	git("init", "-q")
	git("add", "-A", "-f")
	git("commit", "-q", "-m", "first")
	return dir, git
}

// TestFiles: what of a revision is read, and what is not.
func TestFiles(t *testing.T) {
	large := strings.Repeat("x", source.MostBytes+5)
	dir, _ := made(t, map[string]string{
		"hall/job.md":           "J\r\n",
		"hall/runs/1 a.MD":      "A",
		"hall/runs/größe.md":    "G",
		"hall/empty.md":         "",
		"hall/photos/a.jpg":     "P",
		"hall/.hidden.md":       "H",
		"hall/.git-x/b.md":      "H",
		"hall/draft.md~":        "D",
		"hall/large.md":         large,
		"hall/link.md":          "->runs/1 a.MD",
		"hall/chain.md":         "->link.md",
		"hall/circle.md":        "->circle.md",
		"hall/out.md":           "->../other/job.md",
		"hall/gone.md":          "->nowhere.md",
		"hall-other/job.md":     "O",
		"other/job.md":          "O",
		"other/deep/er/than.md": "O",
	})
	tree, err := Open(t.Context(), filepath.Join(dir, "hall"), "HEAD")
	if err != nil {
		t.Fatal(err)
	}
	files, err := tree.Files(t.Context(), tree.Dir)
	if err != nil {
		t.Fatal(err)
	}
	got := map[string]string{}
	err = fs.WalkDir(files, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		text, err := fs.ReadFile(files, name)
		got[name] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	// One byte more than a file may have is kept of a larger one, so that it is told as too large.
	want := map[string]string{"job.md": "J\r\n", "runs/1 a.MD": "A", "runs/größe.md": "G", "empty.md": "", "large.md": large[:source.MostBytes+1], "link.md": "A", "chain.md": "A"}
	for name, text := range want {
		if got[name] != text {
			t.Errorf("%s: %d bytes, want %d", name, len(got[name]), len(text))
		}
	}
	if len(got) != len(want) {
		var names []string
		for name := range got {
			names = append(names, name)
		}
		slices.Sort(names)
		t.Errorf("read %q", names)
	}
	for dir, want := range map[string]bool{"hall": true, "hall-other": true, "other/deep": true, "hal": false, "other/job.md": false, "nowhere": false, ".": true, "hall/photos": false} {
		if tree.Has(dir) != want {
			t.Errorf("Has(%q) is %v", dir, !want)
		}
	}
	empty, err := tree.Files(t.Context(), "nowhere")
	if err != nil {
		t.Fatal(err)
	}
	if entries, err := fs.ReadDir(empty, "."); err != nil || len(entries) > 0 {
		t.Errorf("a folder that was not there holds %v (%v)", entries, err)
	}
}

// TestObjectGone: of a repository that has lost, or never fetched, a file it is said that it is not there.
func TestObjectGone(t *testing.T) {
	dir, _ := made(t, map[string]string{"job.md": "J"})
	tree, err := Open(t.Context(), dir, "HEAD")
	if err != nil {
		t.Fatal(err)
	}
	object := tree.files[0].object
	if err := os.Remove(filepath.Join(dir, ".git/objects", object[:2], object[2:])); err != nil {
		t.Fatal(err)
	}
	_, err = tree.Files(t.Context(), ".")
	var no *Error
	if !errors.As(err, &no) || !strings.Contains(no.Summary, "git has not all of job.md") {
		t.Errorf("%v", err)
	}
}

// TestAmbiguous: a branch and a tag of one name, and how several hashes begin.
func TestAmbiguous(t *testing.T) {
	dir, git := made(t, map[string]string{"job.md": "J"})
	git("tag", "handed-out")
	git("commit", "-q", "--allow-empty", "-m", "second")
	git("branch", "handed-out")
	tree, err := Open(t.Context(), dir, "handed-out")
	if err != nil {
		t.Fatal(err)
	}
	if len(tree.Notes) != 1 || !strings.Contains(tree.Notes[0], "several branches or tags are called handed-out") {
		t.Errorf("%q", tree.Notes)
	}
	if got, err := Open(t.Context(), dir, "refs/heads/handed-out"); err != nil || len(got.Notes) > 0 || got.Hash == tree.Hash {
		t.Errorf("%+v %v", got, err)
	}
}

// TestEmptyRepository: no commit yet.
func TestEmptyRepository(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		t.Skip("there is no git")
	}
	dir := t.TempDir()
	if _, _, err := git(t.Context(), dir, "init", "-q"); err != nil {
		t.Fatal(err)
	}
	_, err := Open(t.Context(), dir, "HEAD")
	var no *Error
	if !errors.As(err, &no) || no.Summary != "is no revision of git" {
		t.Errorf("%v", err)
	}
	_, err = Open(t.Context(), filepath.Join(dir, ".git"), "HEAD")
	if !errors.As(err, &no) {
		t.Errorf("%v", err)
	}
}
