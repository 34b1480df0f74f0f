package jobbook

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"balustrade/jobbook/book"
	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
	"balustrade/templates"
)

// ends are values at the ends of what can be written for a form: the least, the greatest, and none.
func ends(form string) []string {
	unit, inUnits := strings.CutPrefix(form, "a number in ")
	switch {
	case strings.HasPrefix(form, "a length"), strings.HasPrefix(form, "a list of lengths"):
		return []string{"0", "0.000001 mm", "100 m"}
	case inUnits:
		unit, _, _ = strings.Cut(strings.ReplaceAll(unit, ",", " or "), " or ")
		return []string{"0 " + unit, "0.001 " + unit, "100000 " + unit, "100 " + unit}
	case strings.HasPrefix(form, "a number"):
		return []string{"0", "0.001", "100000"}
	case strings.HasPrefix(form, "a whole number"):
		return []string{"0", "1", "10000", "2999"}
	case strings.HasPrefix(form, "an amount of money"):
		return []string{"0", "0.01", "1000000000"}
	case strings.HasPrefix(form, "a time"), strings.HasPrefix(form, "words that begin with a time"):
		return []string{"1 min", "8760 h", "1 to 365 days"}
	case strings.HasPrefix(form, "a date"):
		return []string{"0001-01-01", "9999-12-31"}
	}
	return nil
}

// numbersOf are the paths of all keys that take a number of some sort, from the tables that the decoder reads by, and values for each.
func numbersOf(keys []job.Key, above []string) (list []atItsEnds) {
	for _, k := range keys {
		path := append(slices.Clone(above), k.Key)
		if values := ends(k.Form); values != nil {
			list = append(list, atItsEnds{path, values})
			continue
		}
		list = append(list, numbersOf(k.Sub, path)...)
	}
	return list
}

type atItsEnds struct {
	path   []string
	values []string
}

// noNumber is what Go prints for a number that is none, or for one that it was not given.
var noNumber = regexp.MustCompile(`(^|[ ">(,:])([+-]?Inf|NaN|%![a-z]\()([^A-Za-z0-9+/]|$)`)

// render makes the book of files that are not on disk; nil where a file cannot be understood.
func render(t testing.TB, files map[string]string) ([]book.File, Result) {
	t.Helper()
	result, err := CheckFiles(files)
	if err != nil {
		t.Fatal(err)
	}
	if result.Plan == nil {
		if !source.AnyError(result.Problems) {
			t.Error("there is no plan, and nothing says why")
		}
		return nil, result
	}
	pages, problems, err := book.Render(result.Plan, templates.Pages)
	if err != nil {
		t.Fatal(err)
	}
	result.Problems = append(result.Problems, problems...)
	return pages, result
}

// TestNumbersAtTheirEnds puts the least and the greatest that can be written, and none, into every key that takes a length, a number, an amount, a
// time or a date: each book is made or refused, and no number on it is none.
func TestNumbersAtTheirEnds(t *testing.T) {
	files := FilesBelow("../testdata/bad/base")
	maps.Copy(files, extra)
	delete(files, "alternatives/1-tighter.md")
	files["job.md"] = strings.NewReplacer("shoe: shoe-1-1-4", "shoe: low", "fillet: fillet-1-1-4", "fillet: thin", "rosette: rosette-round", "rosette: plate", "bolt: rail-bolt-5-16", "bolt: bolt").Replace(files["job.md"])
	step := 97 // every so many of them
	if *long {
		step = 1
	}
	n := 0
	for _, name := range slices.Sorted(maps.Keys(files)) {
		read := func() (*source.Node, []job.Key) {
			folder, err := source.Read(fstest.MapFS{"x.md": {Data: []byte(files[name])}}, source.Job, "")
			if err != nil || len(folder.Documents) != 1 {
				t.Fatal(name, err)
			}
			front := Unread(folder.Documents)[0].Front // what was read is remembered, and nobody writes to it
			if k := front.Get("kind"); k != nil {
				return front, job.Kinds[slices.IndexFunc(job.Kinds, func(x job.Key) bool { return x.Key == k.Text })].Sub
			}
			return front, nil
		}
		_, keys := read()
		for _, key := range numbersOf(keys, nil) {
			for _, value := range key.values {
				if n++; n%step != 0 {
					continue
				}
				t.Run(fmt.Sprintf("%s %s %s", name, strings.Join(key.path, " "), value), func(t *testing.T) {
					defer func() {
						if fault := recover(); fault != nil { // the others are to be seen as well
							t.Errorf("%v\n%s", fault, debug.Stack())
						}
					}()
					front, _ := read()
					if !put(front, keys, key.path, value) {
						t.Skip("there is no room for it")
					}
					spoilt := maps.Clone(files)
					spoilt[name] = fileOf(front)
					pages, _ := render(t, spoilt)
					for _, p := range pages {
						if none := noNumber.FindString(strings.Join(p.Pieces, "")); none != "" {
							t.Errorf("%s on %s", none, p.Path)
						}
					}
				})
			}
		}
	}
	if n < 800 {
		t.Errorf("only %d numbers", n)
	}
}

// allocated is what the making of a book allocates, in bytes: a measure of the work that does not hang on how busy a machine is. It is the least of three: buffers that are lent may have to be made anew.
func allocated(t *testing.T, files map[string]string) (bytes uint64, written int) {
	t.Helper()
	render(t, files) // what is made once
	bytes = math.MaxUint64
	for i := range 3 {
		fresh := maps.Clone(files)
		for name, text := range files { // else files would be remembered, as many as are kept and no more
			fresh[name] = strings.Replace(text, "---\n", fmt.Sprintf("---\n# read anew, %d\n", i), 1)
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		pages, result := render(t, fresh)
		runtime.ReadMemStats(&after)
		if pages == nil {
			t.Fatalf("no book: %v", result.Problems)
		}
		bytes, written = min(bytes, after.TotalAlloc-before.TotalAlloc), 0
		for _, p := range pages {
			written += len(strings.Join(p.Pieces, ""))
		}
	}
	return bytes, written
}

// TestWorkGrowsWithTheJob: twice as much of something takes about twice the work, and no more of a book than that.
func TestWorkGrowsWithTheJob(t *testing.T) {
	const many = 400
	for name, of := range map[string]func(n int) map[string]string{
		"balusters": func(n int) map[string]string {
			return map[string]string{
				"job.md":         "---\nkind: job\nrules: irc-2021\ndrop: 100\nheight: 38\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\n---\n",
				"parts/stick.md": "---\nkind: baluster\nwide: 6 mm\nlong: 42\n---\n",
				"runs/1-long.md": fmt.Sprintf("---\nkind: run\nfrom: wall\nto: wall\nbaluster: stick\ncount: %d\nclear: {floor: %d mm, rail: %d mm}\n---\n", n, 9*n, 9*n),
			}
		},
		"notes": func(n int) map[string]string {
			files := map[string]string{"job.md": "---\nkind: job\n---\n"}
			for i := range n {
				files[fmt.Sprintf("notes/%d-n%d.md", i, i)] = fmt.Sprintf("---\ntitle: Note %d\n---\n\nThe words of [another](%d-n%d.md).\n", i, (i+1)%n, (i+1)%n)
			}
			return files
		},
		"parts": func(n int) map[string]string {
			files := map[string]string{"job.md": "---\nkind: job\n---\n"}
			for i := range n {
				files[fmt.Sprintf("parts/p%d.md", i)] = "---\nkind: baluster\nwide: 1\nlong: 42\n---\n"
			}
			return files
		},
		"steps": func(n int) map[string]string {
			files := map[string]string{"job.md": "---\nkind: job\n---\n"}
			for i := range n {
				after := fmt.Sprintf("s%d", i-1)
				if i == 0 {
					after = "survey"
				}
				files[fmt.Sprintf("steps/s%d.md", i)] = fmt.Sprintf("---\nkind: step\ntitle: Step %d\nafter: [%s]\nminutes: {once: 5}\n---\n", i, after)
			}
			return files
		},
		"words in a note": func(n int) map[string]string {
			return map[string]string{"job.md": "---\nkind: job\n---\n", "notes/1.md": strings.Repeat("A *word* and [a link](../job.md).\n\n", 4*n)}
		},
		"a long line": func(n int) map[string]string {
			return map[string]string{"job.md": "---\nkind: job\n---\n", "notes/1.md": strings.Repeat("words and words, ", 10*n)}
		},
		"keys that are wrong": func(n int) map[string]string {
			text := "---\n"
			for i := range n {
				text += fmt.Sprintf("k%d: 1\n", i)
			}
			return map[string]string{"job.md": "---\nkind: job\n---\n", "notes/1.md": "---\ntitle: x\n---\n" + text}
		},
	} {
		t.Run(name, func(t *testing.T) {
			bare, thin := allocated(t, map[string]string{"job.md": "---\nkind: job\n---\n"})
			once, book1 := allocated(t, of(many))
			twice, book2 := allocated(t, of(2*many))
			const most = 2.6 // twice, and what grows by doubling
			if ratio := float64(twice-bare) / float64(once-bare); ratio > most {
				t.Errorf("%d take %d kB, %d take %d kB: %.2f times as much", many, (once-bare)>>10, 2*many, (twice-bare)>>10, ratio)
			}
			if ratio := float64(book2-thin) / float64(book1-thin); book1 > thin && ratio > most {
				t.Errorf("the book of %d has %d kB more, of %d %d kB: %.2f times as much", many, (book1-thin)>>10, 2*many, (book2-thin)>>10, ratio)
			}
		})
	}
}
