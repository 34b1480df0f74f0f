package source

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

func mustRead(t *testing.T, fsys fs.FS, skip ...string) *Folder {
	t.Helper()
	f, err := Read(fsys, Job, "", skip...)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func folder(files ...string) fstest.MapFS {
	m := fstest.MapFS{}
	for _, name := range files {
		m[name] = &fstest.MapFile{Data: []byte("text\n")}
	}
	return m
}

func filesOf(documents []Document) []string {
	var files []string
	for _, d := range documents {
		files = append(files, d.File)
	}
	return files
}

func messages(problems []Problem) []string {
	var list []string
	for _, p := range problems {
		list = append(list, fmt.Sprintf("%s: %s: %s", p.At, p.Severity, p.Summary))
	}
	return list
}

func TestOrderAndNames(t *testing.T) {
	f := mustRead(t, folder("runs/10-y.md", "runs/2-x.md", "runs/02-w.md", "runs/1-gallery.md", "runs/b.md", "job.md", "10-z/a.md", "9-z/a.md", "runs.md",
		"runs/3.MD", "01 landing.md", "notes/2026-11-24-visit.md", "parts/2x4.md", "picture.png", "plan.md.txt", "md"))
	var got [][2]string
	for _, d := range f.Documents {
		got = append(got, [2]string{d.File, d.Name})
	}
	want := [][2]string{
		{"01 landing.md", "landing"}, {"9-z/a.md", "a"}, {"10-z/a.md", "a"}, {"job.md", "job"}, {"notes/2026-11-24-visit.md", "2026-11-24-visit"},
		{"parts/2x4.md", "2x4"}, {"runs/1-gallery.md", "gallery"}, {"runs/02-w.md", "w"}, {"runs/2-x.md", "x"}, {"runs/3.MD", "3"}, {"runs/10-y.md", "y"}, {"runs/b.md", "b"},
		{"runs.md", "runs"},
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// TestNameOf holds names to patterns, over every stem of up to six characters of an alphabet, and longer ones that may be dates.
func TestNameOf(t *testing.T) {
	number, date := regexp.MustCompile(`^\d+[-_. ]+`), regexp.MustCompile(`^\d{4}-\d{2}-\d{2}`)
	check := func(stem string) {
		want := stem
		if lead := number.FindString(stem); lead != stem && !date.MatchString(stem) {
			want = stem[len(lead):]
		}
		if got := nameOf("runs/" + stem + ".md"); got != want {
			t.Errorf("%q is named %q, want %q", stem, got, want)
		}
	}
	stems := []string{""}
	for range 6 {
		var longer []string
		for _, s := range stems {
			for _, c := range []string{"1", "-", " ", ".", "é"} {
				longer = append(longer, s+c)
			}
		}
		for _, s := range longer {
			check(s)
		}
		stems = longer
	}
	for _, s := range []string{"2026-11-24", "2026-11-24-visit", "2026-11-visit", "2026-11 24", "12026-11-24", "202-11-24", "2026_11_24"} {
		check(s)
	}
}

func TestSkips(t *testing.T) {
	f := mustRead(t, folder("job.md", ".hidden.md", ".git/a.md", "#a.md#", "old~/a.md", "4913/a.md", "a.tmp/a.md", "b.swp/a.md", "c.swx/a.md", "x___jb_tmp___/a.md",
		"shop/a.md", "runs/shop/a.md", "out/index.md", "#plan.md"), "shop", "out")
	if diff := cmp.Diff([]string{"#plan.md", "job.md", "runs/shop/a.md"}, filesOf(f.Documents)); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestIgnored(t *testing.T) {
	for name, want := range map[string]bool{
		".git": true, ".job.md.swp": true, "job.md~": true, "4913": true, "#job.md#": true, "job.swp": true, "job.swx": true, "job.md.tmp": true, "job.md___jb_old___": true,
		"job.md": false, "#": false, "#1 gallery.md": false, "4913.md": false, "tmp": false, "swp.md": false,
	} {
		t.Run(name, func(t *testing.T) {
			if got := Ignored(name); got != want {
				t.Errorf("got %v", got)
			}
		})
	}
}

func TestPrefixAndLayer(t *testing.T) {
	f, err := Read(fstest.MapFS{"rules/a.md": {Data: []byte("---\na: #5\n---\n")}}, Shop, "shop/")
	if err != nil {
		t.Fatal(err)
	}
	d := f.Documents[0]
	if want := (Pos{"shop/rules/a.md", 2, 1}); d.File != want.File || d.Layer != Shop || d.Front.Entries[0].At != want {
		t.Errorf("got %s, %s, %s", d.File, d.Layer, d.Front.Entries[0].At)
	}
	if got := f.Line(f.Problems[0].At); got != "a: #5" {
		t.Errorf("line %q", got)
	}
}

// Lines and columns counted by hand. The mark at the start and the carriage returns are not part of any column.
func TestPositions(t *testing.T) {
	text := "---\r\n" + // 1
		"kind: run\r\n" + // 2
		"# ü\r\n" + // 3
		"clear: {floor: 94½, rail: \"94\"}\r\n" + // 4
		"parts:\r\n" + // 5
		"  - 8' 9\"\r\n" + // 6
		"  -\r\n" + // 7
		"note: |\r\n" + // 8
		"  one\r\n" + // 9
		"  two\r\n" + // 10
		"---\r\n" + // 11
		"text\r\n" // 12
	pos := func(line, col int) Pos { return Pos{"a.md", line, col} }
	scalar := func(line, col int, text string) *Node { return &Node{Kind: Scalar, At: pos(line, col), Text: text} }
	quoted := scalar(4, 27, "94")
	quoted.Quoted = true
	note := scalar(8, 7, "one\ntwo")
	note.Block = true
	want := &Node{Kind: Map, At: pos(2, 1), Entries: []Entry{
		{"kind", pos(2, 1), scalar(2, 7, "run")},
		{"clear", pos(4, 1), &Node{Kind: Map, At: pos(4, 8), Entries: []Entry{
			{"floor", pos(4, 9), scalar(4, 16, "94½")},
			{"rail", pos(4, 21), quoted},
		}}},
		{"parts", pos(5, 1), &Node{Kind: List, At: pos(6, 3), Items: []*Node{scalar(6, 5, `8' 9"`), scalar(7, 4, "")}}},
		{"note", pos(8, 1), note},
	}}
	for name, text := range map[string]string{
		"byte-order mark and CRLF": "\ufeff" + text,
		"CRLF":                     text,
		"newlines":                 strings.ReplaceAll(text, "\r", ""),
		"blanks behind the dashes": strings.ReplaceAll(text, "---\r", "--- \t\r"),
	} {
		t.Run(name, func(t *testing.T) {
			f := mustRead(t, fstest.MapFS{"a.md": {Data: []byte(text)}})
			if len(f.Problems) > 0 || len(f.Documents) != 1 {
				t.Fatalf("problems %v", messages(f.Problems))
			}
			d := f.Documents[0]
			if diff := cmp.Diff(want, d.Front); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
			if d.Text != strings.TrimPrefix(text, "\ufeff") {
				t.Errorf("text %q", d.Text)
			}
			if strings.TrimSpace(d.Body) != "text" || d.At(strings.Index(d.Body, "ext")) != pos(12, 2) {
				t.Errorf("body %q, its second letter at %s", d.Body, d.At(strings.Index(d.Body, "ext")))
			}
			if got := f.Line(pos(4, 1)); got != `clear: {floor: 94½, rail: "94"}` {
				t.Errorf("line 4 is %q", got)
			}
		})
	}
}

func TestLineOutside(t *testing.T) {
	f := mustRead(t, folder("a.md"))
	for _, at := range []Pos{{}, {"a.md", 0, 0}, {"a.md", 3, 1}, {"b.md", 1, 1}} {
		if got := f.Line(at); got != "" {
			t.Errorf("%s: %q", at, got)
		}
	}
}

func TestFrontAndBody(t *testing.T) {
	for _, test := range []struct {
		name, text, body, fenced string
		front                    bool
	}{
		{"none", "text\n---\n", "text\n---\n", "text\n---\n", false},
		{"empty file", "", "", "", false},
		{"empty block", "---\n---\nb", "   \n   \nb", "---\n---\nb", true},
		{"comments only", "---\n# a\n\n---\nb\n", "   \n   \n\n   \nb\n", "---\n   \n\n---\nb\n", true},
		{"no newline at the end", "---\nü: 1\n--- ", "   \n     \n    ", "---\n     \n--- ", true}, // ü is two bytes
		{"dashes later on", "---\na: 1\n---\nb\n---\nc\n", "   \n    \n   \nb\n---\nc\n", "---\n    \n---\nb\n---\nc\n", true},
		{"four dashes", "----\na: 1\n", "----\na: 1\n", "----\na: 1\n", false},
	} {
		t.Run(test.name, func(t *testing.T) {
			f := mustRead(t, fstest.MapFS{"a.md": {Data: []byte(test.text)}})
			if len(f.Documents) != 1 {
				t.Fatalf("problems %v", messages(f.Problems))
			}
			d := f.Documents[0]
			if d.Body != test.body || d.Fenced() != test.fenced || (d.Front != nil) != test.front {
				t.Errorf("body %q, fenced %q, front %v", d.Body, d.Fenced(), d.Front)
			}
		})
	}
}

// A value that is refused is blank in the tree, and a file that cannot be made out is set apart; the others are read.
func TestWhatIsLeft(t *testing.T) {
	f := mustRead(t, fstest.MapFS{
		"a.md": {Data: []byte("---\na: 35\n  1/2\nb: 2\nb: 3\n---\n")},
		"b.md": {Data: []byte("---\na: [1\n---\n")},
		"c.md": {Data: []byte("c\n")},
		"d.md": {Data: []byte("---\na: \xff\n---\n")},
	})
	if diff := cmp.Diff([]string{"a.md", "c.md"}, filesOf(f.Documents)); diff != "" {
		t.Errorf("documents -want +got:\n%s", diff)
	}
	if diff := cmp.Diff([]string{"b.md", "d.md"}, filesOf(f.Broken)); diff != "" {
		t.Errorf("broken -want +got:\n%s", diff)
	}
	front := f.Documents[0].Front
	if !front.Get("a").Blank() || front.Get("b").Text != "2" || len(front.Entries) != 2 {
		t.Errorf("front %+v", front)
	}
}

func TestBounds(t *testing.T) {
	t.Run("a file of exactly the most bytes, and one more", func(t *testing.T) {
		f := mustRead(t, fstest.MapFS{"a.md": {Data: make([]byte, MostBytes+1)}, "b.md": {Data: []byte(strings.Repeat("x", MostBytes))}})
		if diff := cmp.Diff([]string{"a.md: error: is larger than 1 MiB"}, messages(f.Problems)); diff != "" {
			t.Errorf("-want +got:\n%s", diff)
		}
		if diff := cmp.Diff([]string{"b.md"}, filesOf(f.Documents)); diff != "" {
			t.Errorf("-want +got:\n%s", diff)
		}
	})
	t.Run("files", func(t *testing.T) {
		m := fstest.MapFS{}
		for i := range MostFiles + 2 {
			m[fmt.Sprintf("%05d.md", i)] = &fstest.MapFile{}
		}
		f := mustRead(t, m)
		if diff := cmp.Diff([]string{"10000.md: error: the folder holds more than 10000 Markdown files; this file and those after it are not read"}, messages(f.Problems)); diff != "" || len(f.Documents) != MostFiles {
			t.Errorf("%d documents, -want +got:\n%s", len(f.Documents), diff)
		}
	})
	t.Run("all together", func(t *testing.T) {
		if testing.Short() {
			t.Skip("reads 64 MiB")
		}
		m, text := fstest.MapFS{}, []byte(strings.Repeat("x", MostBytes))
		for i := range MostTotal/MostBytes + 2 {
			m[fmt.Sprintf("%d.md", i)] = &fstest.MapFile{Data: text}
		}
		f := mustRead(t, m)
		if diff := cmp.Diff([]string{"64.md: error: the folder holds more than 64 MiB of Markdown; this file and those after it are not read"}, messages(f.Problems)); diff != "" {
			t.Errorf("-want +got:\n%s", diff)
		}
	})
}

func write(t *testing.T, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestLinks(t *testing.T) {
	base := t.TempDir()
	job, secret := filepath.Join(base, "job"), filepath.Join(base, "secret")
	write(t, filepath.Join(secret, "key.md"), "secret\n")
	write(t, filepath.Join(job, "job.md"), "job\n")
	write(t, filepath.Join(job, "parts", "rail.md"), "rail\n")
	write(t, filepath.Join(job, "picture.png"), "")
	for link, to := range map[string]string{
		"out.md":       "../secret/key.md",
		"absolute.md":  filepath.Join(secret, "key.md"),
		"outside":      "../secret",
		"again.md":     "parts/rail.md",
		"same":         "parts",
		"loop":         ".",
		"round.md":     "round.md",
		"gone.md":      "nowhere.md",
		"gone":         "nowhere",
		"picture":      "picture.png",
		"folder.md":    "parts",
		"outside-2.md": "outside/key.md",
		".#job.md":     "somebody@host.1234",
	} {
		if err := os.Symlink(to, filepath.Join(job, link)); err != nil {
			t.Skip("no symbolic links here:", err)
		}
	}
	fsys, closer, err := Open(job)
	if err != nil {
		t.Fatal(err)
	}
	defer closer.Close()
	f := mustRead(t, fsys)
	if diff := cmp.Diff([]string{"again.md", "job.md", "parts/rail.md"}, filesOf(f.Documents)); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	want := []string{
		"absolute.md: error: is a link that leads out of the folder; it is not followed",
		"folder.md: warning: is a link to a folder; it is not followed",
		"gone.md: error: is a link to a file that is not there",
		"loop: warning: is a link to a folder; it is not followed",
		"out.md: error: is a link that leads out of the folder; it is not followed",
		"outside: warning: is a link that leads out of the folder; it is not followed",
		"outside-2.md: error: is a link that leads out of the folder; it is not followed",
		"round.md: error: is a link that cannot be followed",
		"same: warning: is a link to a folder; it is not followed",
	}
	if diff := cmp.Diff(want, messages(f.Problems)); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestDisk(t *testing.T) {
	dir := t.TempDir()
	if _, _, err := Open(filepath.Join(dir, "nowhere")); err == nil {
		t.Error("a folder that is not there was opened")
	}
	if _, err := Read(os.DirFS(filepath.Join(dir, "nowhere")), Job, ""); err == nil {
		t.Error("a folder that is not there was read")
	}
}

// failing refuses to open some names, as a disk does.
type failing struct {
	fstest.MapFS
	errs map[string]error
}

func (f failing) Open(name string) (fs.File, error) {
	if err := f.errs[name]; err != nil {
		return nil, &fs.PathError{Op: "open", Path: "/host/" + name, Err: err}
	}
	return f.MapFS.Open(name)
}

func (f failing) ReadDir(name string) ([]fs.DirEntry, error) {
	if err := f.errs[name]; err != nil {
		return nil, &fs.PathError{Op: "open", Path: "/host/" + name, Err: err}
	}
	return f.MapFS.ReadDir(name)
}

func TestUnreadable(t *testing.T) {
	f := mustRead(t, failing{folder("a.md", "b.md", "c/d.md", "e/f.md", "g.md"), map[string]error{
		"a.md": fs.ErrPermission, "b.md": fs.ErrNotExist, "c": fs.ErrPermission, "e": fs.ErrNotExist,
	}})
	if diff := cmp.Diff([]string{"g.md"}, filesOf(f.Documents)); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	want := []string{"a.md: error: cannot be read: permission denied", "c: error: cannot be read: permission denied"}
	if diff := cmp.Diff(want, messages(f.Problems)); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestStrangeFiles(t *testing.T) {
	m := folder("ok.md", "bell\a.md", "line\nbreak/a.md", "bell\a.png")
	m["pipe.md"] = &fstest.MapFile{Mode: fs.ModeNamedPipe}
	f := mustRead(t, m)
	want := []string{"bell..md: error: a name that is not plain text", "line.break: error: a name that is not plain text", "pipe.md: error: is not an ordinary file"}
	if diff := cmp.Diff(want, messages(f.Problems)); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	if diff := cmp.Diff([]string{"ok.md"}, filesOf(f.Documents)); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

// TestReadAgain: a file is the same the second time, whatever was done with it, under whatever name; and one that was changed is another.
func TestReadAgain(t *testing.T) {
	const text = "---\nkind: run\nclear: {floor: 94 7/16, floor: 9}\nbad: [\n---\n\nWords.\n"
	read := func(name, text string) *Folder {
		f, err := Read(fstest.MapFS{name: {Data: []byte(text)}}, Job, "")
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	first := read("a.md", text)
	if len(first.Problems) == 0 || len(first.Broken) != 1 {
		t.Fatalf("%+v", first)
	}
	want := first.Problems[0].At
	first.Problems[0].At.Line = 99
	if again := read("a.md", text); again.Problems[0].At != want {
		t.Errorf("the problem is at %v, want %v", again.Problems[0].At, want)
	}
	want.File = "b.md"
	if other := read("b.md", text); other.Problems[0].At != want {
		t.Errorf("under another name the problem is at %v, want %v", other.Problems[0].At, want)
	}
	good := strings.Replace(strings.Replace(text, ", floor: 9", "", 1), "bad: [\n", "", 1)
	if mended := read("a.md", good); len(mended.Problems) > 0 || len(mended.Documents) != 1 {
		t.Errorf("mended, it has the problems %v", mended.Problems)
	}
}
