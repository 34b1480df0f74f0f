package jobbook_test

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"path"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"balustrade/jobbook"
	"balustrade/jobbook/book"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/templates"
)

// mostWork bounds what the making of one small job may allocate, in bytes: many times what the largest of the seeds takes.
const mostWork = 2 << 30

// bookOfFiles makes a book of files that are not on disk and holds it to what goes for every job: no panic, problems with a place in their files,
// a bound on the work, data that can be read. The second result is nil where a file cannot be understood.
func bookOfFiles(t testing.TB, files map[string]string) (jobbook.Result, map[string]string) {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	result, err := jobbook.CheckFiles(files)
	if err != nil {
		t.Fatal(err)
	}
	problems := result.Problems
	var pages map[string]string
	if result.Plan == nil && !source.AnyError(problems) {
		t.Error("there is no plan, and nothing says why")
	}
	if result.Plan != nil {
		list, more, err := book.Render(result.Plan, templates.Pages)
		if err != nil {
			t.Fatal(err)
		}
		problems = append(problems, more...)
		if !source.AnyError(more) {
			pages = map[string]string{}
		}
		for _, p := range list {
			if pages != nil {
				pages[p.Path] = strings.Join(p.Pieces, "")
			}
			switch path.Ext(p.Path) {
			case ".json":
				if !json.Valid([]byte(strings.Join(p.Pieces, ""))) {
					t.Errorf("%s is no JSON", p.Path)
				}
			case ".csv":
				if _, err := csv.NewReader(strings.NewReader(strings.Join(p.Pieces, ""))).ReadAll(); err != nil {
					t.Errorf("%s: %v", p.Path, err)
				}
			}
		}
	}
	for _, p := range problems {
		checkPlace(t, files, p)
	}
	runtime.ReadMemStats(&after)
	if work := after.TotalAlloc - before.TotalAlloc; work > mostWork {
		t.Errorf("%d MiB were allocated for it", work>>20)
	}
	return result, pages
}

// seedJobs are the jobs that fuzzing starts from, and their files in order. Alternatives are left out of all but the first: each is a plan of its own.
var seedJobs = sync.OnceValue(func() (jobs []seedJob) {
	for i, dir := range []string{"../testdata/bad/base", "../testdata/metric-job", "../testdata/kept-job", "../sample-job"} {
		files := jobbook.FilesBelow(dir)
		maps.DeleteFunc(files, func(name, _ string) bool {
			return !strings.HasSuffix(name, ".md") || i > 0 && strings.HasPrefix(name, "alternatives/")
		})
		files["job.md"] = choices.ReplaceAllString(files["job.md"], "")
		jobs = append(jobs, seedJob{files, slices.Sorted(maps.Keys(files))})
	}
	return jobs
})

// choices are alternatives that the client is offered.
var choices = regexp.MustCompile(`(?m)^  choices: .*\n`)

type seedJob struct {
	files map[string]string
	names []string
}

// written is a key or a value in a file: its offsets and what it is.
type written struct {
	from, to  int
	isKey     bool
	text, key string // the value, and the key that it stands below
}

func (w written) isLength() bool {
	_, err := length.Parse(w.text, length.Inches)
	return err == nil && !w.isKey
}

// writtenIn are all keys and values in the front matter of a file.
func writtenIn(name, text string) (list []written) {
	folder, err := source.Read(fstest.MapFS{name: &fstest.MapFile{Data: []byte(text)}}, source.Job, "")
	if err != nil || len(folder.Documents) != 1 {
		return nil
	}
	lines := strings.SplitAfter(text, "\n")
	add := func(at source.Pos, w written) {
		start := 0
		for _, line := range lines[:min(at.Line-1, len(lines))] {
			start += len(line)
		}
		line := text[start:]
		for range at.Col - 1 {
			_, size := nextRune(line)
			start, line = start+size, line[size:]
		}
		end := start
		if strings.HasPrefix(line, w.text) {
			end += len(w.text)
		} else if i := strings.IndexAny(line, ",]}\n"); i >= 0 { // in quotes
			end += i
		}
		w.from, w.to = start, end
		list = append(list, w)
	}
	var walk func(n *source.Node, key string)
	walk = func(n *source.Node, key string) {
		if n == nil {
			return
		}
		if n.Kind == source.Scalar {
			add(n.At, written{text: n.Text, key: key})
		}
		for _, e := range n.Entries {
			add(e.At, written{text: e.Key, isKey: true})
			walk(e.Value, e.Key)
		}
		for _, item := range n.Items {
			walk(item, key)
		}
	}
	walk(folder.Documents[0].Front, "")
	return list
}

func nextRune(s string) (rune, int) {
	for i, r := range s {
		if i > 0 {
			return r, i
		}
	}
	return 0, len(s)
}

// spoil changes one key or value of one file of a job, or its words. Where any text at all would hardly get beyond the reading of it, it is
// another length, a value that stands below the same key elsewhere in the job, or nothing.
func (j seedJob) spoil(files map[string]string, how uint8, file, value uint16, text string) {
	name := j.names[int(file)%len(j.names)]
	old := files[name]
	places := writtenIn(name, old)
	keep := func(f func(written) bool) { places = slices.DeleteFunc(places, func(w written) bool { return !f(w) }) }
	number := 0
	for _, c := range []byte(text) {
		number = (number*31 + int(c)) % 8000
	}
	switch how % 6 {
	case 1:
		keep(written.isLength)
		text = fmt.Sprintf("%d/64 in", number%64)
		if number%64 == 0 || number > 300 {
			text = fmt.Sprintf("%d mm", number)
		}
	case 2:
		keep(written.isLength)
		text = []string{"0", "1/64 in", "0.000001 mm", "100 m", "1 in", "38 in", "3 1/2 in"}[number%7]
	case 3:
		keep(func(w written) bool { return !w.isKey && !w.isLength() })
		if len(places) > 0 {
			w := places[int(value)%len(places)]
			text = j.likely(w.key, number)
		}
	case 4:
		keep(func(w written) bool { return !w.isKey && w.key != "kind" })
		text = ""
	case 5:
		files[name] = old + "\n" + text // the words
		return
	}
	if len(places) == 0 {
		return
	}
	w := places[int(value)%len(places)]
	files[name] = old[:w.from] + text + old[w.to:]
}

// likely is the nth of the values that stand below a key anywhere in the job.
func (j seedJob) likely(key string, n int) string {
	var list []string
	for _, name := range j.names {
		for _, w := range writtenIn(name, j.files[name]) {
			if !w.isKey && w.key == key {
				list = append(list, w.text)
			}
		}
	}
	if len(list) == 0 {
		return ""
	}
	return list[n%len(list)]
}

// FuzzBuild makes whole books of jobs in which some keys or values are something else.
func FuzzBuild(f *testing.F) {
	texts := []string{"", "0", "96", "-1", "yes", "none", "wall", "[]", "{}", "[1, 2]", "{at: 0, read: 9}", "corner", "1000 %", "2026-12-31", "99999", "a: b", "\"", "# x", "```table marks\n```", "![x](y.png)"}
	for job := range seedJobs() {
		for i, text := range texts {
			f.Add(uint8(job), uint8(i), uint16(3*i+job), uint16(7*i+1), text, uint8(i/6+1), uint16(5*i), uint16(11*i+3), texts[(i+5)%len(texts)])
		}
	}
	f.Fuzz(func(t *testing.T, job, how1 uint8, file1, value1 uint16, text1 string, how2 uint8, file2, value2 uint16, text2 string) {
		seeds := seedJobs()
		j := seeds[int(job)%len(seeds)]
		files := maps.Clone(j.files)
		j.spoil(files, how1, file1, value1, text1)
		j.spoil(files, how2, file2, value2, text2)
		bookOfFiles(t, files)
	})
}
