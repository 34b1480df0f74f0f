package site

import (
	"errors"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

// tree gives what is in a folder: path to content, "/" after the path of a folder, "-> target" for a link. The manifest
// and the file that keeps git out are left out.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	found := map[string]string{}
	err := filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil || name == dir || e.Name() == manifestName || e.Name() == ignoreName {
			return err
		}
		rel, err := filepath.Rel(dir, name)
		if err != nil {
			return err
		}
		rel = filepath.ToSlash(rel)
		switch {
		case e.IsDir():
			found[rel+"/"] = ""
		case e.Type()&fs.ModeSymlink != 0:
			target, err := os.Readlink(name)
			found[rel] = "-> " + target
			return err
		default:
			data, err := os.ReadFile(name)
			found[rel] = string(data)
			return err
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// book makes files out of path, content, path, content…
func book(pairs ...string) []File {
	var files []File
	for pair := range slices.Chunk(pairs, 2) {
		files = append(files, File{pair[0], []string{pair[1]}})
	}
	return files
}

func mustWrite(t *testing.T, dir string, files []File) Result {
	t.Helper()
	result, err := Write(dir, files)
	if err != nil {
		t.Fatal(err)
	}
	return result
}

func put(t *testing.T, name, content string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

func check(t *testing.T, what string, want, got any) {
	t.Helper()
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s (-want +got):\n%s", what, diff)
	}
}

func TestWriteFirst(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "a", "out")
	got := mustWrite(t, dir, book("index.html", "I", "runs/gallery.html", "G", "style.css", "S"))
	check(t, "result", Result{Written: 3, Dir: dir}, got)
	check(t, "tree", map[string]string{"index.html": "I", "runs/": "", "runs/gallery.html": "G", "style.css": "S"}, tree(t, dir))
	manifest, err := os.ReadFile(filepath.Join(dir, ".jobbook-manifest"))
	if err != nil {
		t.Fatal(err)
	}
	// The hashes are those of `printf I | xxh64sum` and so on, a program of the algorithm's author.
	check(t, "manifest", `jobbook-manifest 2
c1bace6ba316c85c  .gitignore
afef2b451a68f495  index.html
69c9af6156370960  runs/gallery.html
07f127111dbe9863  style.css
`, string(manifest))
	info, err := os.Stat(filepath.Join(dir, "index.html"))
	if err != nil {
		t.Fatal(err)
	}
	// What a plain os.WriteFile with 0644 gives under this umask is what ours must have.
	plain := filepath.Join(t.TempDir(), "plain")
	put(t, plain, "")
	like, err := os.Stat(plain)
	if err != nil {
		t.Fatal(err)
	}
	check(t, "mode", like.Mode(), info.Mode())
}

// TestOlderBook goes on from a book whose manifest has SHA-256: what is as it was written is ours, what somebody edited is theirs, and the next manifest is one of today. The sums are those of `printf I | sha256sum` and so on.
func TestOlderBook(t *testing.T) {
	dir := t.TempDir()
	older := `jobbook-manifest 1 client
cdbcae15105d6b781e620813c79c7e868740d4e9cc53ce6f5fcbbc12387adf4b  .gitignore
a83dd0ccbffe39d071cc317ddf6e97f5c6b1c87af91919271f9fa140b0508c6c  index.html
333e0a1e27815d0ceee55c473fe3dc93d56c63e3bee2b3b4aee8eed6d70191a3  old.html
8de0b3c47f112c59745f717a626932264c422a7563954872e237b223af4ad643  gone.html
`
	for name, text := range map[string]string{manifestName: older, "index.html": "I", "old.html": "G"} {
		put(t, filepath.Join(dir, name), text)
	}
	if _, err := Write(dir, book("index.html", "2")); !errors.Is(err, ErrForeign) || !strings.Contains(err.Error(), "client") {
		t.Errorf("the whole book over the client's: %v", err)
	}
	put(t, filepath.Join(dir, "index.html"), "by hand")
	if _, err := WriteAs(dir, "client", book("index.html", "2")); !errors.Is(err, ErrForeign) || !strings.Contains(err.Error(), whyEdited) {
		t.Errorf("over an edited page: %v", err)
	}
	put(t, filepath.Join(dir, "index.html"), "I")
	if data, ok := Own(dir, "index.html"); !ok || string(data) != "I" {
		t.Errorf("what is ours is %q, %v", data, ok)
	}
	got, err := WriteAs(dir, "client", book("index.html", "2"))
	if err != nil {
		t.Fatal(err)
	}
	check(t, "result", Result{Written: 1, Removed: 1, Dir: dir}, got)
	check(t, "tree", map[string]string{"index.html": "2"}, tree(t, dir))
	if now, err := os.ReadFile(filepath.Join(dir, manifestName)); err != nil || !strings.HasPrefix(string(now), manifestFirst+" client\n") {
		t.Errorf("%s, %v", now, err)
	}
	put(t, filepath.Join(dir, manifestName), manifestSHA+"\nnot a sum  index.html\n")
	_, err = Write(dir, book("index.html", "3"))
	checkForeign(t, err, manifestName, whyManifest)
}

func TestUnchangedWritesNothing(t *testing.T) {
	dir := t.TempDir()
	files := book("index.html", "I", "runs/gallery.html", "G")
	mustWrite(t, dir, files)
	long := time.Unix(1_000_000_000, 0) // any time that is not now
	names := []string{"index.html", "runs/gallery.html", manifestName}
	for _, name := range names {
		if err := os.Chtimes(filepath.Join(dir, name), long, long); err != nil {
			t.Fatal(err)
		}
	}
	_, err := write(dir, files, func(op, name string) error { t.Errorf("%s %s", op, name); return nil })
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		info, err := os.Stat(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if !info.ModTime().Equal(long) {
			t.Errorf("%s was written", name)
		}
	}
	check(t, "result", Result{Unchanged: 2, Dir: dir}, mustWrite(t, dir, files))
}

func TestOrder(t *testing.T) {
	dir := t.TempDir()
	mustWrite(t, dir, book("gone/old.html", "O", "index.html", "1"))
	var steps []string
	_, err := write(dir, book("index.html", "2", "a.html", "A", "z.css", "Z", "job/index.html", "J", "data/plan.json", "P"),
		func(op, name string) error {
			if op == "mkdir" || op == "rename" || op == "remove" {
				steps = append(steps, op+" "+name)
			}
			return nil
		})
	if err != nil {
		t.Fatal(err)
	}
	check(t, "steps", []string{
		"rename .jobbook-manifest",
		"mkdir data", "mkdir job",
		"rename data/plan.json", "rename z.css", // assets
		"rename a.html", "rename job/index.html", // pages
		"rename index.html",
		"remove gone/old.html", "remove gone",
		"rename .jobbook-manifest",
	}, steps)
}

func TestRemoval(t *testing.T) {
	dir := t.TempDir()
	mustWrite(t, dir, book("a/b/old.html", "O", "a/b/edited.html", "E", "c/d/old.html", "O", "e/old.html", "O", "index.html", "I"))
	put(t, filepath.Join(dir, "a/b/edited.html"), "by hand")
	put(t, filepath.Join(dir, "e/note.txt"), "not ours")
	put(t, filepath.Join(dir, "note.txt"), "not ours")
	got := mustWrite(t, dir, book("index.html", "I"))
	check(t, "result", Result{Unchanged: 1, Removed: 3, Kept: []string{"a/b/edited.html"}, Dir: dir}, got)
	check(t, "tree", map[string]string{
		"a/": "", "a/b/": "", "a/b/edited.html": "by hand", "e/": "", "e/note.txt": "not ours", "index.html": "I", "note.txt": "not ours",
	}, tree(t, dir))
	t.Run("what was kept is not ours any more", func(t *testing.T) {
		_, err := Write(dir, book("a/b/edited.html", "E", "index.html", "I"))
		checkForeign(t, err, "a/b/edited.html", whyInTheWay)
	})
}

func TestEditedDuringTheRunIsKept(t *testing.T) {
	dir := t.TempDir()
	mustWrite(t, dir, book("old.html", "O", "index.html", "1"))
	got, err := write(dir, book("index.html", "2"), func(op, name string) error {
		if op == "rename" && name == "index.html" {
			put(t, dir+"/old.html", "by hand")
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	check(t, "result", Result{Written: 1, Kept: []string{"old.html"}, Dir: dir}, got)
	check(t, "tree", map[string]string{"index.html": "2", "old.html": "by hand"}, tree(t, dir))
}

func TestFileBecomesFolderAndBack(t *testing.T) {
	dir := t.TempDir()
	asFile, asFolder := book("a", "file", "index.html", "I"), book("a/b/c", "below", "index.html", "I")
	for i, files := range [][]File{asFile, asFolder, asFile, asFolder} {
		mustWrite(t, dir, files)
		want := map[string]string{"a": "file", "index.html": "I"}
		if i%2 == 1 {
			want = map[string]string{"a/": "", "a/b/": "", "a/b/c": "below", "index.html": "I"}
		}
		check(t, "tree", want, tree(t, dir))
	}
	put(t, filepath.Join(dir, "a/b/mine"), "not ours")
	before := tree(t, dir)
	_, err := Write(dir, asFile)
	checkForeign(t, err, "a/b/mine", whyInTheWay)
	check(t, "tree", before, tree(t, dir))
}

func checkForeign(t *testing.T, err error, example, why string) {
	t.Helper()
	var foreign *ForeignError
	if !errors.As(err, &foreign) || !errors.Is(err, ErrForeign) {
		t.Fatalf("got %v, want a ForeignError", err)
	}
	check(t, "example", example, foreign.Example)
	check(t, "why", why, foreign.Why)
}

func TestForeign(t *testing.T) {
	made := func(t *testing.T, dir string) { mustWrite(t, dir, book("index.html", "old", "runs/a.html", "old")) }
	link := func(t *testing.T, target, name string) {
		if err := os.Symlink(target, name); err != nil {
			t.Skip("no symbolic links here:", err)
		}
	}
	cases := []struct {
		name         string
		prepare      func(t *testing.T, dir string)
		example, why string
	}{
		{"a folder of somebody's", func(t *testing.T, dir string) { put(t, dir+"/taxes.txt", "2019") }, "taxes.txt", whyNotEmpty},
		{"only a hidden file", func(t *testing.T, dir string) { put(t, dir+"/.profile", "x") }, ".profile", whyNotEmpty},
		{"nearly a leftover", func(t *testing.T, dir string) { put(t, dir+"/.jobbook-new-short", "x") }, ".jobbook-new-short", whyNotEmpty},
		{"only an empty folder", func(t *testing.T, dir string) {
			if err := os.Mkdir(dir+"/photos", 0o755); err != nil {
				t.Fatal(err)
			}
		}, "photos", whyNotEmpty},
		{"not our manifest", func(t *testing.T, dir string) { put(t, dir+"/"+manifestName, "shopping list\n") }, manifestName, whyManifest},
		{"a manifest that reaches out", func(t *testing.T, dir string) {
			put(t, dir+"/"+manifestName, manifestFirst+"\n"+strings.Repeat("00", 32)+"  ../x\n")
		}, manifestName, whyManifest},
		{"the manifest is a link", func(t *testing.T, dir string) {
			made(t, dir)
			if err := os.Rename(dir+"/"+manifestName, dir+"/real"); err != nil {
				t.Fatal(err)
			}
			link(t, "real", dir+"/"+manifestName)
		}, manifestName, whyManifest},
		{"an unlisted file in the way", func(t *testing.T, dir string) { made(t, dir); put(t, dir+"/new.html", "mine") }, "new.html", whyInTheWay},
		{"an unlisted file in the way with the same bytes", func(t *testing.T, dir string) { made(t, dir); put(t, dir+"/new.html", "N") }, "new.html", whyInTheWay},
		{"an edited file", func(t *testing.T, dir string) { made(t, dir); put(t, dir+"/index.html", "by hand") }, "index.html", whyEdited},
		{"a folder in the way", func(t *testing.T, dir string) { made(t, dir); put(t, dir+"/new.html/mine", "x") }, "new.html/mine", whyInTheWay},
		{"an empty folder in the way", func(t *testing.T, dir string) {
			made(t, dir)
			if err := os.Mkdir(dir+"/new.html", 0o755); err != nil {
				t.Fatal(err)
			}
		}, "new.html", whyInTheWay},
		{"a file where a folder goes", func(t *testing.T, dir string) {
			mustWrite(t, dir, book("index.html", "old"))
			put(t, dir+"/runs", "mine")
		}, "runs", whyInTheWay},
		{"a link in the place of a page", func(t *testing.T, dir string) {
			made(t, dir)
			if err := os.Remove(dir + "/index.html"); err != nil {
				t.Fatal(err)
			}
			link(t, "../outside.html", dir+"/index.html")
		}, "index.html", whyInTheWay},
		{"a link out in the place of a folder", func(t *testing.T, dir string) {
			made(t, dir)
			if err := os.RemoveAll(dir + "/runs"); err != nil {
				t.Fatal(err)
			}
			link(t, "../outside", dir+"/runs")
		}, "runs", whyInTheWay},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			above := t.TempDir()
			dir := filepath.Join(above, "out")
			if err := os.Mkdir(dir, 0o755); err != nil {
				t.Fatal(err)
			}
			put(t, above+"/outside.html", "old")
			put(t, above+"/outside/a.html", "old")
			c.prepare(t, dir)
			before := tree(t, above)
			_, err := write(dir, book("index.html", "new", "runs/a.html", "new", "new.html", "N"),
				func(op, name string) error { t.Errorf("touched: %s %s", op, name); return nil })
			checkForeign(t, err, c.example, c.why)
			check(t, "tree", before, tree(t, above))
		})
	}
}

func TestEditedToTheNewBytesIsFine(t *testing.T) {
	dir := t.TempDir()
	mustWrite(t, dir, book("index.html", "old"))
	put(t, dir+"/index.html", "new")
	check(t, "result", Result{Unchanged: 1, Dir: dir}, mustWrite(t, dir, book("index.html", "new")))
	check(t, "result", Result{Written: 1, Dir: dir}, mustWrite(t, dir, book("index.html", "newer"))) // it is ours
}

func TestDeletedByHandIsMadeAgain(t *testing.T) {
	dir := t.TempDir()
	mustWrite(t, dir, book("index.html", "I", "runs/a.html", "A"))
	if err := os.RemoveAll(dir + "/runs"); err != nil {
		t.Fatal(err)
	}
	check(t, "result", Result{Written: 1, Unchanged: 1, Dir: dir}, mustWrite(t, dir, book("index.html", "I", "runs/a.html", "A")))
}

func TestRemovalFollowsNoLink(t *testing.T) {
	above := t.TempDir()
	dir := above + "/out"
	mustWrite(t, dir, book("index.html", "I", "runs/a.html", "A", "more/a.html", "A"))
	put(t, above+"/outside/a.html", "A") // the very bytes that the manifest has for runs/a.html
	put(t, dir+"/inside/a.html", "A")
	for from, to := range map[string]string{"runs": "../outside", "more": "inside"} {
		if err := os.RemoveAll(dir + "/" + from); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(to, dir+"/"+from); err != nil {
			t.Skip("no symbolic links here:", err)
		}
	}
	before := tree(t, above)
	check(t, "result", Result{Unchanged: 1, Dir: dir}, mustWrite(t, dir, book("index.html", "I")))
	check(t, "tree", before, tree(t, above))
}

func TestEverythingGoes(t *testing.T) {
	dir := t.TempDir()
	mustWrite(t, dir, book("index.html", "I", "runs/a.html", "A"))
	check(t, "result", Result{Removed: 2, Dir: dir}, mustWrite(t, dir, nil))
	check(t, "tree", map[string]string{}, tree(t, dir))
}

func TestNames(t *testing.T) {
	for _, c := range []struct {
		name  string
		files []File
		bad   string
	}{
		{"up", book("../x", ""), "../x"},
		{"absolute", book("/x", ""), "/x"},
		{"empty", book("", ""), ""},
		{"the folder itself", book(".", ""), "."},
		{"not clean", book("a//b", ""), "a//b"},
		{"hidden", book(manifestName, ""), manifestName},
		{"hidden folder", book("a/.git/x", ""), "a/.git/x"},
		{"line break", book("a\nb", ""), "a\nb"},
		{"backslash", book(`a\b`, ""), `a\b`},
		{"twice", book("a", "1", "a", "2"), "a"},
		{"twice but for case", book("a.html", "1", "A.html", "2"), "A.html"},
		{"file and folder", book("a", "1", "a/b", "2"), "a"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "out")
			_, err := Write(dir, c.files)
			var name *NameError
			if !errors.As(err, &name) {
				t.Fatalf("got %v, want a NameError", err)
			}
			check(t, "path", c.bad, name.Path)
			if _, err := os.Stat(dir); !errors.Is(err, fs.ErrNotExist) {
				t.Error("the folder was made")
			}
		})
	}
}

func TestBusy(t *testing.T) {
	dir := t.TempDir()
	var inner error
	_, err := write(dir, book("index.html", "I"), func(op, name string) error {
		if op == "rename" && name == "index.html" {
			_, inner = Write(dir, book("index.html", "J"))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	var busy *BusyError
	if !errors.As(inner, &busy) {
		t.Fatalf("got %v, want a BusyError", inner)
	}
	check(t, "tree", map[string]string{"index.html": "I"}, tree(t, dir))
	mustWrite(t, dir, book("index.html", "J")) // the lock is let go of
}

var errTest = errors.New("the disk said no")

// TestCutOff ends a run at every one of its steps, in three ways: the step fails and the run tidies up; nothing can be
// done from that step on, as after a power cut; the same, with half of a temporary file written. After each, the folder
// must hold whole files only, old or new, and what is not ours; and the next run, to the new book or back to the old one,
// must leave exactly that book.
func TestCutOff(t *testing.T) {
	shared := []string{"runs/mine.txt", "not ours", "top.txt", "not ours"}
	oldFiles := book("index.html", "index, old", "style.css", "same", "runs/a.html", "a, old", "runs/deep/b.html", "b, old",
		"swap", "a file, old", "back/x/y", "below, old", "only/here/c.html", "c, old")
	newFiles := book("index.html", "index, new", "style.css", "same", "runs/a.html", "a, new", "data/plan.json", "plan, new",
		"swap/z", "below, new", "back", "a file, new", "fresh/d.html", "d, new")
	setUp := func(t *testing.T) string {
		dir := t.TempDir()
		mustWrite(t, dir, oldFiles)
		for pair := range slices.Chunk(shared, 2) {
			put(t, path.Join(dir, pair[0]), pair[1])
		}
		return dir
	}
	allowed := map[string]map[string]bool{}
	for _, files := range [][]File{oldFiles, newFiles} {
		for _, f := range files {
			if allowed[f.Path] == nil {
				allowed[f.Path] = map[string]bool{}
			}
			allowed[f.Path][strings.Join(f.Pieces, "")] = true
		}
	}
	wanted := func(t *testing.T, files []File) map[string]string {
		dir := t.TempDir()
		mustWrite(t, dir, files)
		for pair := range slices.Chunk(shared, 2) {
			put(t, path.Join(dir, pair[0]), pair[1])
		}
		return tree(t, dir)
	}
	wantOld, wantNew := wanted(t, oldFiles), wanted(t, newFiles)

	ways := map[string]func(dir string, n int) step{
		"a step fails": func(_ string, n int) step {
			return func(string, string) error {
				if n--; n == -1 {
					return errTest
				}
				return nil
			}
		},
		"all ends": func(_ string, n int) step {
			return func(string, string) error {
				if n--; n < 0 {
					return errTest
				}
				return nil
			}
		},
		"all ends with half a file": func(dir string, n int) step {
			return func(op, name string) error {
				if n--; n >= 0 {
					return nil
				}
				if n == -1 && op == "write" {
					if err := os.WriteFile(path.Join(dir, name), []byte("hal"), 0o644); err != nil {
						t.Error(err)
					}
				}
				return errTest
			}
		},
	}
	for _, way := range slices.Sorted(maps.Keys(ways)) {
		for _, first := range []bool{true, false} { // a run in an empty folder, or over the old book
			reached := 0
			for n := 0; ; n++ {
				dir := t.TempDir()
				if !first {
					dir = setUp(t)
				}
				_, err := write(dir, newFiles, ways[way](dir, n))
				if err == nil {
					break // n is more than the steps there are
				}
				if !errors.Is(err, errTest) {
					t.Fatalf("%s, step %d: %v", way, n, err)
				}
				reached++
				for name, content := range tree(t, dir) {
					switch {
					case strings.HasSuffix(name, "/"), content == "not ours", allowed[name][content]:
					case way != "a step fails" && strings.HasPrefix(path.Base(name), leftoverPrefix):
					default:
						t.Errorf("%s, step %d: %s holds %q", way, n, name, content)
					}
				}
				if first {
					mustWrite(t, dir, newFiles)
					for pair := range slices.Chunk(shared, 2) {
						put(t, path.Join(dir, pair[0]), pair[1])
					}
				}
				next, want := newFiles, wantNew
				if n%2 == 1 { // back to the old book
					next, want = oldFiles, wantOld
				}
				// A second cut in the middle of the repair, then the repair.
				if _, err := write(dir, next, ways[way](dir, n/2)); err != nil && !errors.Is(err, errTest) {
					t.Fatalf("%s, step %d, again: %v", way, n, err)
				}
				result := mustWrite(t, dir, next)
				if len(result.Kept) > 0 {
					t.Errorf("%s, step %d: kept %v", way, n, result.Kept)
				}
				check(t, way+": tree after the next run", want, tree(t, dir))
			}
			// At least a create, a write and a rename for each file that changes and for two manifests.
			if least := 3 * (len(newFiles) - 1 + 2); reached < least {
				t.Errorf("%s: only %d steps, at least %d expected", way, reached, least)
			}
		}
	}
}

func FuzzManifest(f *testing.F) {
	f.Add([]byte(manifestFirst + "\n"))
	f.Add([]byte(manifestFirst + "\n" + strings.Repeat("0a", 8) + "  a/b.html\n"))
	f.Add(manifest{"a": {hash(nil), hash([]byte("x"))}, "b c/d": {hash(nil)}}.bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := parseManifest(data)
		if err != nil {
			return
		}
		if string(m.bytes()) != string(data) {
			t.Errorf("%q comes back as %q", data, m.bytes())
		}
		for name := range m {
			if !fs.ValidPath(name) || strings.HasPrefix(path.Base(name), ".") {
				t.Errorf("path %q", name)
			}
		}
	})
}
