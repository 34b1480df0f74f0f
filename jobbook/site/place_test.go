package site

import (
	"errors"
	"os"
	"path/filepath"
	"testing"
)

func TestCheckPlace(t *testing.T) {
	top := t.TempDir()
	for _, dir := range []string{"yard/larkspur/runs", "yard/larkspur-book", "elsewhere/deep"} {
		if err := os.MkdirAll(filepath.Join(top, dir), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	for from, to := range map[string]string{"link-to-job": "yard/larkspur", "elsewhere/to-runs": "../yard/larkspur/runs", "to-deep": "elsewhere/deep"} {
		if err := os.Symlink(to, filepath.Join(top, from)); err != nil {
			t.Skip("no symbolic links here:", err)
		}
	}
	t.Chdir(top)
	for _, c := range []struct {
		name, in, out, want string // want is the summary, "" for fine
	}{
		{"beside it", "yard/larkspur", "yard/larkspur-book", ""},
		{"not there yet", "yard/larkspur", "yard/new/deeper", ""},
		{"absolute", "yard/larkspur", filepath.Join(top, "yard/larkspur-book"), ""},
		{"a longer name is not inside", "yard/larkspur", "yard/larkspur-2", ""},
		{"the same", "yard/larkspur", "yard/larkspur/", "the output folder is the job folder: yard/larkspur/"},
		{"the same by a link", "yard/larkspur", "link-to-job", "the output folder is the job folder: link-to-job"},
		{"inside", "yard/larkspur", "yard/larkspur/runs", "the output folder is inside the job folder: yard/larkspur/runs"},
		{"inside, not there yet", "yard/larkspur", "yard/larkspur/book/site", "the output folder is inside the job folder: yard/larkspur/book/site"},
		{"inside by a link", "yard/larkspur", "elsewhere/to-runs/new", "the output folder is inside the job folder: elsewhere/to-runs/new"},
		{"inside, the job by a link", "link-to-job", "yard/larkspur/book", "the output folder is inside the job folder: yard/larkspur/book"},
		{"dots after a link", "yard/larkspur", "elsewhere/to-runs/../book", "the output folder is inside the job folder: elsewhere/to-runs/../book"},
		{"dots after a link that leads away", "elsewhere", "to-deep/../book", "the output folder is inside the job folder: to-deep/../book"},
		{"contains it", "yard/larkspur", "yard", "the output folder contains the job folder: yard"},
		{"contains it from far", "yard/larkspur", ".", "the output folder contains the job folder: ."},
		{"the top of the disk", "yard/larkspur", "/", "the output folder contains the job folder: /"},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := CheckPlace(c.in, c.out)
			var usage *UsageError
			switch {
			case c.want == "" && err != nil:
				t.Errorf("refused: %v", err)
			case c.want != "" && !errors.As(err, &usage):
				t.Errorf("got %v, want %q", err, c.want)
			case c.want != "":
				check(t, "summary", c.want, usage.Summary)
			}
		})
	}
}
