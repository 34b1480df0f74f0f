package jobbook_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/source"
)

// badCase is one bad job of testdata/bad: what is done to the sound job in testdata/bad/base, and every problem that must be printed for it.
type badCase struct {
	name  string
	does  []string // the lines that say what is done
	want  string
	lines []string // comments and blank lines before it
}

// readBad reads a file of bad jobs. Its form:
//
//	== a comma in a length
//	edit runs/1-landing.md floor: 96 => floor: 94,5
//	--
//	runs/1-landing.md:5:16: error: …
//
// Above the line of two dashes stands what is done, a line each; below it what must be printed, to the character. Where what is written
// can be understood, that is what the book says and the sound job's does not: checks that do not pass, readings that are asked for.
//
//	edit FILE OLD => NEW   OLD stands in the file once; ⏎ is a line break, → a tab
//	file FILE              a whole file, its lines below, each behind a |
//	bytes FILE "…" * 3     a whole file of Go strings, each repeated so many times
//	gone FILE              the file is taken out
func readBad(t *testing.T, text string) (cases []badCase) {
	t.Helper()
	var kept []string
	below := false
	for _, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		name, isCase := strings.CutPrefix(line, "== ")
		switch {
		case isCase:
			cases = append(cases, badCase{name: name, lines: kept})
			kept, below = nil, false
		case len(cases) == 0 || strings.HasPrefix(line, "# "):
			kept = append(kept, line)
		case line == "--":
			below = true
		case below && line != "":
			cases[len(cases)-1].want += line + "\n"
		case line != "":
			cases[len(cases)-1].does = append(cases[len(cases)-1].does, line)
		}
	}
	return cases
}

func writeBad(cases []badCase) []byte {
	var b bytes.Buffer
	for i, c := range cases {
		if i > 0 {
			b.WriteString("\n")
		}
		for _, line := range c.lines {
			b.WriteString(line + "\n")
		}
		fmt.Fprintf(&b, "== %s\n%s\n--\n%s", c.name, strings.Join(c.does, "\n"), c.want)
	}
	return b.Bytes()
}

// apply does what a case says to the files of a job.
func (c badCase) apply(t *testing.T, files map[string]string) {
	t.Helper()
	signs := strings.NewReplacer("⏎", "\n", "→", "\t")
	for i := 0; i < len(c.does); i++ {
		verb, rest, _ := strings.Cut(c.does[i], " ")
		name, rest, _ := strings.Cut(rest, " ")
		switch verb {
		case "edit":
			old, new, found := strings.Cut(rest, " => ")
			old, new = signs.Replace(old), signs.Replace(new)
			if !found || strings.Count(files[name], old) != 1 {
				t.Fatalf("%q stands %d times in %s", old, strings.Count(files[name], old), name)
			}
			files[name] = strings.Replace(files[name], old, new, 1)
		case "file":
			text := ""
			for i+1 < len(c.does) && strings.HasPrefix(c.does[i+1], "|") {
				i++
				text += c.does[i][1:] + "\n"
			}
			files[name] = text
		case "bytes":
			files[name] = repeated(t, rest)
		case "gone":
			if _, ok := files[name]; !ok {
				t.Fatalf("there is no %s", name)
			}
			delete(files, name)
		default:
			t.Fatalf("%q says nothing that can be done", c.does[i])
		}
	}
}

// repeated reads Go strings, each with * and a number behind it or not.
func repeated(t *testing.T, text string) string {
	t.Helper()
	var b strings.Builder
	for text = strings.TrimSpace(text); text != ""; text = strings.TrimSpace(text) {
		quoted, err := strconv.QuotedPrefix(text)
		if err != nil {
			t.Fatalf("%q: %v", text, err)
		}
		piece, _ := strconv.Unquote(quoted)
		text = strings.TrimSpace(text[len(quoted):])
		times := 1
		if after, ok := strings.CutPrefix(text, "* "); ok {
			number, rest, _ := strings.Cut(after, " ")
			if times, err = strconv.Atoi(number); err != nil {
				t.Fatal(err)
			}
			text = rest
		}
		b.WriteString(strings.Repeat(piece, times))
	}
	return b.String()
}

// placeless is what was said without its place, which moves with every line that is put in.
func placeless(said string) string {
	_, words, _ := strings.Cut(said, ": ")
	return words
}

// printedProblems makes a job as the command does and prints what is wrong with it, the book's names for its files.
func printedProblems(t *testing.T, files map[string]string) (text string, result jobbook.Result) {
	t.Helper()
	result, err := jobbook.CheckFiles(files)
	if err == nil && result.Plan != nil { // what is wrong with the words and the pictures is found where they are shown
		result, _, err = jobbook.Make(jobbook.WriteFiles(t, files))
	}
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	source.Print(&b, result.Problems, result.Texts.Line, func(file string) string { return file })
	return b.String(), result
}

// said is what a book says beyond its problems: checks that do not pass, and readings that are asked for.
func said(result jobbook.Result) (lines []string) {
	if result.Plan == nil {
		return nil
	}
	for _, f := range result.Plan.Findings {
		if f.Verdict == finding.Pass || f.Verdict == finding.Screened {
			continue
		}
		line := fmt.Sprintf("%s: %s: %s, %s", f.At, f.Verdict, f.Group, f.Title)
		if f.HasValue && f.HasLimit {
			line += fmt.Sprintf(", %v %v %v", f.Measured, f.Op, f.Limit)
		}
		if f.Note != "" {
			line += "; " + f.Note
		}
		if f.Cure != "" {
			line += "; cure: " + f.Cure
		}
		lines = append(lines, line)
	}
	for _, m := range result.Plan.Missing {
		lines = append(lines, fmt.Sprintf("%s: to be measured: %s, %s", m.At, m.Where, m.What))
	}
	return lines
}

// TestBadJobs holds every bad job to the problems that are printed for it, and each problem to a place within its file. -update writes
// what is printed into the files; it is to be read before it is kept.
func TestBadJobs(t *testing.T) {
	base := jobbook.FilesBelow("../testdata/bad/base")
	text, sound := printedProblems(t, base)
	if text != "" {
		t.Fatalf("the job that all others are made of is not sound:\n%s", text)
	}
	open := said(sound)
	topics, err := filepath.Glob("../testdata/bad/*.txt")
	if err != nil || len(topics) == 0 {
		t.Fatal("no bad jobs", err)
	}
	for _, topic := range topics {
		t.Run(strings.TrimSuffix(filepath.Base(topic), ".txt"), func(t *testing.T) {
			text, err := os.ReadFile(topic)
			if err != nil {
				t.Fatal(err)
			}
			cases := readBad(t, string(text))
			names := map[string]bool{}
			for i := range cases {
				c := &cases[i]
				if names[c.name] {
					t.Errorf("two cases are named %q", c.name)
				}
				names[c.name] = true
				t.Run(c.name, func(t *testing.T) {
					files := map[string]string{}
					for name, text := range base {
						files[name] = text
					}
					c.apply(t, files)
					got, result := printedProblems(t, files)
					if got == "" { // what is written is understood: a check has to say it
						for _, line := range said(result) {
							if !slices.ContainsFunc(open, func(o string) bool { return placeless(o) == placeless(line) }) {
								got += line + "\n"
							}
						}
					}
					if got == "" {
						t.Error("nothing is said")
					}
					for _, p := range result.Problems {
						checkPlace(t, files, p)
					}
					if *update {
						c.want = got
						return
					}
					if diff := cmp.Diff(c.want, got); diff != "" {
						t.Error(diff)
					}
				})
			}
			if *update {
				if err := os.WriteFile(topic, writeBad(cases), 0o644); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}

// checkPlace holds the places of a problem to lie within their files.
func checkPlace(t testing.TB, files map[string]string, p source.Problem) {
	t.Helper()
	places := []source.Pos{p.At}
	for _, n := range p.Notes {
		places = append(places, n.At)
	}
	for _, at := range places {
		text, ok := files[at.File]
		switch lines := strings.Split(strings.TrimPrefix(text, "\ufeff"), "\n"); {
		case !ok || at.Line == 0: // of the library, of a name that is not there, or of the file as a whole
		case at.Line > len(lines):
			t.Errorf("%v lies beyond the end of its file: %s", at, p.Summary)
		case at.Col < 1 || at.Col > len([]rune(lines[at.Line-1]))+1:
			t.Errorf("%v lies beyond the end of its line: %s", at, p.Summary)
		}
	}
	if p.Width < 1 || p.Severity != source.Error && p.Severity != source.Warning || p.Summary == "" || strings.Contains(p.Summary, "\n") {
		t.Errorf("%v: a problem without its form: %+v", p.At, p)
	}
	if p.Hint == "" {
		t.Errorf("%v: a problem without a hint: %s", p.At, p.Summary)
	}
}
