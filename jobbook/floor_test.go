package jobbook_test

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io/fs"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"runtime"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/yuin/goldmark"
	meta "github.com/yuin/goldmark-meta"
	"github.com/yuin/goldmark/extension"

	"balustrade/jobbook"
	"balustrade/templates"
)

// floor is the least that any program with the same libraries does for a book: it parses every file of the job, its shop and the library with goldmark and goldmark-meta, and writes the bytes of the book's files, which it was given.
func floor(dir, out string, files []floorFile) error {
	markdown := goldmark.New(goldmark.WithExtensions(meta.New(), extension.Table, extension.Linkify, extension.Strikethrough, extension.TaskList, extension.Footnote))
	parse := func(fsys fs.FS) error {
		return fs.WalkDir(fsys, ".", func(name string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !strings.HasSuffix(name, ".md") {
				return err
			}
			data, err := fs.ReadFile(fsys, name)
			if err != nil {
				return err
			}
			var page bytes.Buffer
			return markdown.Convert(data, &page)
		})
	}
	for _, fsys := range []fs.FS{os.DirFS(dir), templates.Library} {
		if err := parse(fsys); err != nil {
			return err
		}
	}
	for _, f := range files {
		name := filepath.Join(out, filepath.FromSlash(f.path))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(name, f.data, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// floorOfPhotographs is what any program with the same libraries does beside that for photographs: it decodes every one, and encodes the copies, which it was given as they are once they are decoded.
func floorOfPhotographs(dir string, copies map[string]image.Image) error {
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || !isPicture(name) {
			return err
		}
		data, err := fs.ReadFile(os.DirFS(dir), name)
		if err == nil {
			_, _, err = image.Decode(bytes.NewReader(data))
		}
		return err
	})
	for name, m := range copies {
		var out bytes.Buffer
		if path.Ext(name) == ".png" {
			err = errors.Join(err, png.Encode(&out, m))
		} else {
			const quality = 82 // that of the copies
			err = errors.Join(err, jpeg.Encode(&out, m, &jpeg.Options{Quality: quality}))
		}
	}
	return err
}

func isPicture(name string) bool { return path.Ext(name) == ".jpg" || path.Ext(name) == ".png" }

// floorFile is a file for the floor to write.
type floorFile struct {
	path string
	data []byte
}

// BenchmarkFloor is what one book costs over the floor, from a cold start: into a folder that is empty, into one that holds the book of before one remeasurement, and without photographs. A second floor decodes and encodes them too.
func BenchmarkFloor(b *testing.B) {
	book := filepath.Join(b.TempDir(), "book")
	if err := once("book", sample, book); err != nil {
		b.Fatal(err)
	}
	bare, bareBook := withoutPhotographs(b, copyOf(b, sample)), filepath.Join(b.TempDir(), "book")
	if err := once("book", bare, bareBook); err != nil {
		b.Fatal(err)
	}
	compare(b, "floor", sample, book)
	compare(b, "floor-and-photographs", sample, book)
	compare(b, "book", sample, book)
	b.Run("remeasured", func(b *testing.B) {
		compare(b, "again-floor", sample, book)
		compare(b, "again", sample, book)
	})
	b.Run("without-photographs", func(b *testing.B) {
		compare(b, "floor", bare, bareBook)
		compare(b, "book", bare, bareBook)
	})
}

// BenchmarkSave is what a save under a watch costs: one measurement is changed, and the book made again by a maker that is warm. The floor parses all Markdown again and writes the files that change.
func BenchmarkSave(b *testing.B) {
	compare(b, "save-floor", sample, "")
	compare(b, "save", sample, "")
}

// BenchmarkYard is what the books of twenty jobs cost, and the pages of the yard, from a cold start. Jobs that share the racks of one shop, of which the first take what the others could use.
func BenchmarkYard(b *testing.B) {
	const jobs = 20
	dir, out := b.TempDir(), filepath.Join(b.TempDir(), "book")
	for i := range jobs {
		to := filepath.Join(dir, fmt.Sprintf("job-%02d", i))
		if err := os.CopyFS(to, os.DirFS(sample)); err != nil {
			b.Fatal(err)
		}
		if err := os.RemoveAll(filepath.Join(to, "shop")); err != nil {
			b.Fatal(err)
		}
		remeasure(b, to, i) // else what is known of one would do for all
	}
	if err := os.CopyFS(filepath.Join(dir, "shop"), os.DirFS(filepath.Join(sample, "shop"))); err != nil {
		b.Fatal(err)
	}
	compareYard(b, dir, out)
	compare(b, "floor-and-photographs", dir, out)
	if *thousand { // small ones, with -benchtime 1x
		b.Run("thousand", func(b *testing.B) { compareYard(b, cheapYard(b, 1000), filepath.Join(b.TempDir(), "book")) })
	}
}

// compareYard is what the books of a yard cost over the floor.
func compareYard(b *testing.B, dir, out string) {
	if err := once("yard", dir, out); err != nil {
		b.Fatal(err)
	}
	compare(b, "floor", dir, out)
	compare(b, "yard", dir, out)
}

// compare is a line of a benchmark: a program that is run in a process of its own, for as it goes on it remembers what it worked out. book is a book that was made before. Told are the
// time, memory and allocations of the work itself, without the start of the process, and the most memory that the process had of the system and the time that processors worked for it; a floor holds all bytes that it is to write.
// Compare lines with each other, not with those of another day. With -cpuprofile a profile of the last process lies beside that of this one, with the program's name behind.
func compare(b *testing.B, program, dir, book string) {
	b.Run(program, func(b *testing.B) {
		b.ReportAllocs()
		scratch, args := b.TempDir(), []string{"-test.run=^TestOnce$", "-test.v"}
		if to := flag.Lookup("test.cpuprofile").Value.String(); to != "" {
			args = append(args, "-test.cpuprofile="+to+"."+program, "-test.outputdir="+flag.Lookup("test.outputdir").Value.String())
		}
		var sum told
		var processor time.Duration
		n := 0
		for ; b.Loop(); n++ {
			command := exec.CommandContext(b.Context(), os.Args[0], args...)
			command.Env = append(os.Environ(), strings.Join([]string{onceKey + program, dir, filepath.Join(scratch, strconv.Itoa(n)), book}, "|"))
			text, err := command.CombinedOutput()
			_, line, found := strings.Cut(string(text), toldMark)
			var t told
			if err == nil && found {
				_, err = fmt.Sscan(line, &t.took, &t.pieces, &t.asked, &t.peak)
			}
			if err != nil || !found {
				b.Fatalf("%v\n%s", err, text)
			}
			processor += command.ProcessState.UserTime() + command.ProcessState.SystemTime()
			sum.took, sum.pieces, sum.asked, sum.peak = sum.took+t.took, sum.pieces+t.pieces, sum.asked+t.asked, max(sum.peak, t.peak)
		}
		b.ReportMetric(float64(sum.took)/float64(n), "ns/op")
		b.ReportMetric(float64(sum.asked/uint64(n)), "B/op")
		b.ReportMetric(float64(sum.pieces/uint64(n)), "allocs/op")
		if program != "save" && !strings.HasSuffix(program, "-floor") { // which make books before they begin
			b.ReportMetric(processor.Seconds()*1000/float64(n), "cpu-ms/op")
		}
		if !strings.HasSuffix(program, "-floor") {
			b.ReportMetric(float64(sum.peak>>20), "peak-MiB")
		}
	})
}

// told is what a run cost: nanoseconds, allocations, bytes asked for, and the bytes had of the system in the end, which gives nothing back of addresses.
type told struct{ took, pieces, asked, peak uint64 }

const (
	onceKey  = "JOBBOOK_ONCE="
	toldMark = "what it cost: "
)

// TestOnce is the process of a benchmark.
func TestOnce(t *testing.T) {
	what := strings.Split(os.Getenv(strings.TrimSuffix(onceKey, "=")), "|")
	if len(what) != 4 {
		t.Skip("benchmarks start it")
	}
	times := 1
	work, err := prepared(t, what[0], what[1], what[2], what[3], &times)
	if err != nil {
		t.Fatal(err)
	}
	debug.SetGCPercent(400) // as the command does
	runtime.GC()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	began := time.Now()
	for i := range times {
		if err := work(i); err != nil {
			t.Fatal(err)
		}
	}
	took := uint64(time.Since(began))
	runtime.ReadMemStats(&after)
	n := uint64(times)
	fmt.Println(toldMark, took/n, (after.Mallocs-before.Mallocs)/n, (after.TotalAlloc-before.TotalAlloc)/n, after.Sys)
}

// prepared is the work of a program, and how often it is to be done.
func prepared(t *testing.T, program, dir, out, book string, times *int) (work func(i int) error, err error) {
	const saves = 10
	switch program {
	case "floor":
		files := filesOf(t, book)
		return func(int) error { return floor(dir, out, files) }, nil
	case "floor-and-photographs":
		files, copies := filesOf(t, book), map[string]image.Image{}
		for _, f := range files {
			if isPicture(f.path) {
				if copies[f.path], _, err = image.Decode(bytes.NewReader(f.data)); err != nil {
					return nil, err
				}
			}
		}
		return func(int) error { return errors.Join(floor(dir, out, files), floorOfPhotographs(dir, copies)) }, nil
	case "again":
		dir := copyOf(t, dir)
		if err := os.CopyFS(out, os.DirFS(book)); err != nil {
			return nil, err
		}
		remeasure(t, dir, 1)
		return func(int) error { return once("book", dir, out) }, nil
	case "again-floor":
		dir := copyOf(t, dir)
		remeasure(t, dir, 1)
		made, err := toWrite(dir)
		files := changedFiles(filesOf(t, book), made)
		return func(int) error { return floor(dir, out, files) }, err
	case "save":
		*times = saves
		dir := copyOf(t, dir)
		maker := new(jobbook.Maker)
		_, err := maker.Build(t.Context(), dir, out)
		return func(i int) error {
			remeasure(t, dir, i+1)
			r, err := maker.Build(t.Context(), dir, out)
			if err == nil && r.Site.Written == 0 {
				err = fmt.Errorf("nothing was written: %v", r.Problems)
			}
			return err
		}, err
	case "save-floor": // it goes to and fro between two measurements: what it writes is given
		*times = saves
		dir := copyOf(t, dir)
		var made [2][]floorFile
		for i := range made {
			remeasure(t, dir, i)
			if made[i], err = toWrite(dir); err != nil {
				return nil, err
			}
		}
		changed := [2][]floorFile{changedFiles(made[1], made[0]), changedFiles(made[0], made[1])}
		return func(i int) error {
			remeasure(t, dir, i%2)
			return floor(dir, out, changed[i%2])
		}, nil
	}
	return func(int) error { return once(program, dir, out) }, nil
}

// once makes one book, or those of a yard.
func once(program, dir, out string) error {
	if program == "yard" {
		r, err := new(jobbook.YardMaker).Build(context.Background(), dir, out, nil)
		if err == nil && r.Broken > 0 {
			err = fmt.Errorf("%d jobs are broken", r.Broken)
		}
		return err
	}
	r, err := jobbook.Build(context.Background(), dir, out)
	if err == nil && r.Plan == nil {
		err = fmt.Errorf("%v", r.Problems)
	}
	return err
}

// remeasure gives the gallery of the sample another clear, the n-th of 256 that are a 64th apart: a measurement that was there before may be remembered.
func remeasure(t testing.TB, dir string, n int) {
	t.Helper()
	name := filepath.Join(dir, "runs", "1-gallery.md")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for key, n := range map[string]int{"floor": n, "rail": n + 8} {
		line := regexp.MustCompile(`(?m)^  ` + key + `: [^#\n]*`)
		if !line.Match(text) {
			t.Fatalf("%s has no %s", name, key)
		}
		text = line.ReplaceAll(text, fmt.Appendf(nil, "  %s: %d %d/64 ", key, 141+n/64%4, n%64))
	}
	if err := os.WriteFile(name, text, 0o644); err != nil {
		t.Fatal(err)
	}
}

// withoutPhotographs takes the photographs out of a copy of the sample.
func withoutPhotographs(t testing.TB, dir string) string {
	t.Helper()
	name := filepath.Join(dir, "survey", "old-guard.md")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	bare := regexp.MustCompile(`(?m)^(photos:|  - \{file: .*|!\[.*)\n`).ReplaceAll(text, nil)
	if err := os.WriteFile(name, bare, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.RemoveAll(filepath.Join(dir, "survey", "photographs")); err != nil {
		t.Fatal(err)
	}
	if r, _, err := jobbook.Make(dir); err != nil || r.Plan == nil || len(r.Pictures) > 0 {
		t.Fatal(err, r.Problems, r.Pictures)
	}
	return dir
}

// filesOf are the files of a book on disk.
func filesOf(t testing.TB, book string) (files []floorFile) {
	t.Helper()
	fsys := os.DirFS(book)
	err := fs.WalkDir(fsys, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		data, err := fs.ReadFile(fsys, name)
		files = append(files, floorFile{name, data})
		return err
	})
	if err != nil || len(files) == 0 {
		t.Fatal(err, "no files")
	}
	return files
}

// changedFiles are those that are not the same in what was made before.
func changedFiles(before, now []floorFile) (files []floorFile) {
	was := map[string][]byte{}
	for _, f := range before {
		was[f.path] = f.data
	}
	for _, f := range now {
		if data, ok := was[f.path]; !ok || !bytes.Equal(data, f.data) {
			files = append(files, f)
		}
	}
	return files
}

// toWrite are the files that a job's book is made of.
func toWrite(dir string) (files []floorFile, err error) {
	_, made, err := jobbook.Make(dir)
	for _, f := range made {
		files = append(files, floorFile{f.Path, []byte(strings.Join(f.Pieces, ""))})
	}
	return files, err
}
