package source

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestReadPicture compares what is said of pictures that are not there or must not be read; the folder is a real one, opened as a build does.
func TestReadPicture(t *testing.T) {
	top := t.TempDir()
	put := func(name string, data []byte) {
		name = filepath.Join(top, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("job/photos/Corner.JPG", []byte("the corner"))
	put("job/photos/corner.md", []byte("words"))
	put("job/.git/corner.jpg", []byte("x"))
	put("outside.jpg", []byte("not ours"))
	for name, size := range map[string]int64{"job/most.jpg": MostPicture, "job/more.jpg": MostPicture + 1} {
		put(name, nil)
		if err := os.Truncate(filepath.Join(top, name), size); err != nil {
			t.Fatal(err)
		}
	}
	for from, to := range map[string]string{"job/out.jpg": "../outside.jpg", "job/away": "..", "job/within.jpg": "photos/Corner.JPG", "job/nowhere.jpg": "x.jpg", "job/round.jpg": "round.jpg"} {
		if err := os.Symlink(to, filepath.Join(top, from)); err != nil {
			t.Skip(err)
		}
	}
	fsys, closer, err := Open(filepath.Join(top, "job"))
	if err != nil {
		t.Fatal(err)
	}
	defer closer.Close()
	const there, away = "put it there, or take its name out", "put a copy into the folder, and name that"
	for _, c := range []struct{ name, summary, hint string }{
		{"photos/Corner.JPG", "", ""},
		{"within.jpg", "", ""},
		{"most.jpg", "", ""}, // exactly as much as is read
		{"more.jpg", "is larger than 32 MiB", "put a smaller copy in its place"},
		{"photos/corner.jpg", "is not there", "did you mean Corner.JPG?"},
		{"photos/stair.jpg", "is not there", there},
		{"photo/corner.jpg", "is not there", there},
		{"nowhere.jpg", "is not there", there},
		{"photos", "is not an ordinary file", "name a JPEG or a PNG"},
		{"../outside.jpg", "is not in the job's folder", away + ", with slashes: photos/corner.jpg"},
		{"/etc/passwd", "is not in the job's folder", away + ", with slashes: photos/corner.jpg"},
		{`photos\Corner.JPG`, "is not in the job's folder", away + ", with slashes: photos/corner.jpg"},
		{"", "is not in the job's folder", away + ", with slashes: photos/corner.jpg"},
		{"out.jpg", "is behind a link that leads out of the folder; it is not followed", away},
		{"away/outside.jpg", "is behind a link that leads out of the folder; it is not followed", away},
		{"round.jpg", "cannot be read", "make it readable, or put another copy there"},
		{".git/corner.jpg", "is hidden, or what an editor leaves behind, and is not read", "give it a plain name"},
		{"photos/corner.jpg~", "is hidden, or what an editor leaves behind, and is not read", "give it a plain name"},
	} {
		data, summary, hint := ReadPicture(fsys, c.name)
		if summary != c.summary || hint != c.hint {
			t.Errorf("%q: %q, %q; want %q, %q", c.name, summary, hint, c.summary, c.hint)
		}
		if (data != nil) != (c.summary == "") || bytes.Contains(data, []byte("not ours")) {
			t.Errorf("%q: %d bytes", c.name, len(data))
		}
	}
	if data, _, _ := ReadPicture(fsys, "within.jpg"); string(data) != "the corner" {
		t.Errorf("%q", data)
	}
	long := Named{File: strings.Repeat("a", 100) + ".jpg", At: Pos{"job.md", 3, 1}}.Problem("is not there", "x")
	if want := "the picture ..." + strings.Repeat("a", 56) + ".jpg is not there"; long.Summary != want || long.Width != 1 || long.Severity != Warning {
		t.Errorf("%+v", long)
	}
}
