package site

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"
	"testing/iotest"
)

// TestSumUnlike holds the sum of a file that is read piece by piece against that of its bytes as a whole, whatever the pieces are and wherever it differs.
func TestSumUnlike(t *testing.T) {
	long := make([]byte, 300)
	for i := range long {
		long[i] = byte(i * 7)
	}
	changed := func(at int) []byte {
		b := slices.Clone(long)
		b[at] ^= 1
		return b
	}
	readers := map[string]func(io.Reader) io.Reader{
		"whole": func(r io.Reader) io.Reader { return r }, "byte by byte": iotest.OneByteReader, "halves": iotest.HalfReader, "end with the last bytes": iotest.DataErrReader,
	}
	for name, found := range map[string][]byte{
		"the same": long, "nothing": nil, "first byte": changed(0), "last byte": changed(299), "middle": changed(128), "before a border": changed(63), "after a border": changed(64),
		"shorter": long[:64], "shorter by one": long[:299], "longer": append(slices.Clone(long), 1), "much longer": bytes.Repeat(long, 3),
	} {
		for how, reader := range readers {
			for _, buffer := range []int{1, 64, 300, 1000} {
				for many, known := range [][]summed{{{long, hash(long)}}, {{nil, hash(nil)}}, {{changed(200), hash(changed(200))}, {long, hash(long)}}, {{long[:64], hash(long[:64])}, {changed(128), hash(changed(128))}}} {
					got, err := sumUnlike(reader(bytes.NewReader(found)), make([]byte, buffer), known...)
					if err != nil || got != hash(found) {
						t.Errorf("%s, read as %s in pieces of %d, over %d: %x, %v", name, how, buffer, many, got, err)
					}
				}
			}
		}
	}
	broken := errors.New("the disk said no")
	for _, found := range [][]byte{long[:100], changed(0)} {
		r := io.MultiReader(bytes.NewReader(found), iotest.ErrReader(broken))
		if _, err := sumUnlike(r, make([]byte, 64), summed{long, hash(long)}); !errors.Is(err, broken) {
			t.Errorf("what cannot be read to its end: %v", err)
		}
	}
}

// TestSameManifest: two are the same where they write the same bytes.
func TestSameManifest(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	random := func() manifest {
		m := manifest{}
		for range r.IntN(4) {
			m.add([]string{"a", "b"}[r.IntN(2)], hash([]byte{byte(r.IntN(3))}))
		}
		return m
	}
	same := 0
	for range 1000 {
		a, b := random(), random()
		want := bytes.Equal(a.bytes(), b.bytes())
		if want {
			same++
		}
		if sameManifest(a, b) != want {
			t.Fatalf("%s and %s: %v, want %v", a.bytes(), b.bytes(), !want, want)
		}
	}
	if same < 50 || same > 950 {
		t.Errorf("%d of 1000 are the same: nothing was compared", same)
	}
}

// TestWriterRemembers holds a Writer, which knows what it wrote last, against Write, which knows nothing: the same books, and the same done to the folder in between, give the same answers and the same files.
func TestWriterRemembers(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	names := []string{"index.html", "a.html", "b/c.css", "b/d.html", "e.txt"}
	for round := range 40 {
		dirs := [2]string{filepath.Join(t.TempDir(), "known"), filepath.Join(t.TempDir(), "unknown")}
		var w Writer
		refused, unlike := 0, 0
		for range 12 {
			var files []File
			for _, name := range names {
				if r.IntN(5) > 0 {
					files = append(files, File{name, bytes.Repeat([]byte{byte('a' + r.IntN(2))}, 1+r.IntN(2)*(pieceBytes+7))})
				}
			}
			stop, steps := errors.New("cut off"), r.IntN(60)
			cut := func() step {
				n := 0
				return func(op, name string) error {
					if n++; n > steps && steps < 12 {
						return stop
					}
					return nil
				}
			}
			got, err := w.write(dirs[0], "", files, cut())
			want, other := write(dirs[1], files, cut())
			got.Dir, want.Dir = "", ""
			if !reflect.DeepEqual(got, want) || (err == nil) != (other == nil) || errors.Is(err, ErrForeign) != errors.Is(other, ErrForeign) || errors.Is(err, stop) != errors.Is(other, stop) {
				t.Fatalf("round %d: %+v, %v, want %+v, %v", round, got, err, want, other)
			}
			if err != nil {
				refused++
			}
			if a, b := filesIn(t, dirs[0]), filesIn(t, dirs[1]); !maps.Equal(a, b) {
				t.Fatalf("round %d: the folders differ: %d files and %d", round, len(a), len(b))
			}
			name := names[r.IntN(len(names))]
			switch r.IntN(6) {
			case 0: // somebody edits a file, or puts an old one back
				for _, dir := range dirs {
					if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
						put(t, filepath.Join(dir, name), string(bytes.Repeat([]byte{'a'}, 1)))
						unlike++
					}
				}
			case 1:
				for _, dir := range dirs {
					_ = os.Remove(filepath.Join(dir, name))
				}
			}
		}
		if round == 0 && refused+unlike == 0 {
			t.Error("nothing was refused or edited")
		}
	}
}

// filesIn are the files of a folder, but for temporary ones, whose names are drawn.
func filesIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := filepath.WalkDir(dir, func(at string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || isLeftover(e) {
			return err
		}
		data, err := os.ReadFile(at)
		rel, _ := filepath.Rel(dir, at)
		files[rel] = string(data)
		return err
	})
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	return files
}

// TestWriterSeesEdits: what somebody made of a file that is remembered is not overwritten.
func TestWriterSeesEdits(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "book")
	var w Writer
	for _, text := range []string{"one", "two"} {
		if _, err := w.Write(dir, book("index.html", text, "a.html", "same")); err != nil {
			t.Fatal(err)
		}
	}
	put(t, filepath.Join(dir, "index.html"), "twi")
	if _, err := w.Write(dir, book("index.html", "three", "a.html", "same")); !errors.Is(err, ErrForeign) {
		t.Errorf("an edited page: %v", err)
	}
	put(t, filepath.Join(dir, "index.html"), "two")
	if r, err := w.Write(dir, book("index.html", "three", "a.html", "same")); err != nil || r.Written != 1 || r.Unchanged != 1 {
		t.Errorf("put back: %+v, %v", r, err)
	}
	put(t, filepath.Join(dir, "a.html"), "somebody's")
	if _, err := w.Write(dir, book("index.html", "three", "a.html", "same")); !errors.Is(err, ErrForeign) {
		t.Errorf("an edited page that stays as it was: %v", err)
	}
}

// TestAlike: of two books no more is remembered than what they share, whatever is written next.
func TestAlike(t *testing.T) {
	var a, b Writer
	for w, files := range map[*Writer][]File{&a: book("index.html", "A", "s.css", "same", "t.css", "1"), &b: book("index.html", "B", "s.css", "same", "t.css", "2", "u.css", "only")} {
		if _, err := w.Write(filepath.Join(t.TempDir(), "book"), files); err != nil {
			t.Fatal(err)
		}
	}
	alike := a.Alike(&b)
	delete(alike.last, ignoreName) // which every book has
	if len(alike.last) != 1 || string(alike.last["s.css"].data) != "same" || alike.last["s.css"].sum != hash([]byte("same")) {
		t.Errorf("%v", alike.last)
	}
	files := book("index.html", "C", "s.css", "same", "t.css", "1")
	known, unknown := filepath.Join(t.TempDir(), "book"), filepath.Join(t.TempDir(), "book")
	if _, err := alike.Write(known, files); err != nil {
		t.Fatal(err)
	}
	mustWrite(t, unknown, files)
	if a, b := filesIn(t, known), filesIn(t, unknown); !maps.Equal(a, b) {
		t.Errorf("%v, want %v", a, b)
	}
}
