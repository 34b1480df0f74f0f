package source

import (
	"io/fs"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// bothWays reads front matter plainly, and as YAML does; false where the first gives up.
func bothWays(t testing.TB, text string) bool {
	t.Helper()
	made := func() *tree {
		y := &tree{file: "a.md", lines: strings.Split(newlines(text), "\n")}
		y.lines[0] = ""
		return y
	}
	y := made()
	if len(y.lines) > MostLines || !y.markers() || y.empty() {
		return false
	}
	fast := y.plain()
	if fast == nil {
		return false
	}
	slow, problems := made().yaml()
	if len(problems) > 0 {
		t.Fatalf("read without a word, though %s: %s\n%s", problems[0].At, problems[0].Summary, text)
	}
	if diff := cmp.Diff(slow, fast); diff != "" {
		t.Fatalf("want -, got +:\n%s\n%s", diff, text)
	}
	return true
}

// frontMatters are those of all the files below a folder.
func frontMatters(t testing.TB, folder string) (texts []string) {
	t.Helper()
	files := os.DirFS(folder)
	err := fs.WalkDir(files, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || !isMarkdown(name) {
			return err
		}
		data, err := fs.ReadFile(files, name)
		if b, found := split(string(data)); found && b.closed {
			if ok, _ := characters(name, string(data), b.end); ok {
				texts = append(texts, string(data[:b.end]))
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return texts
}

// TestPlainIsYAML holds the plain reading to YAML's: for every file of the library, the sample and the jobs made for tests, as they are and with a sign, a word or a line put in, taken out or doubled by chance.
func TestPlainIsYAML(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	signs := []string{"", " ", "  ", "\n", ":", ": ", ",", "-", "- ", "\n- ", "\n  - ", "[", "]", "{", "}", "\"", "'", "#", " # ", "\t", "|", ">", "&a", "*a", "!", "~", "null", "yes", "1_0", "0x1", "<<", "?", "%", "@", "°", "é: ½", "\u00a0", "\u3000", "\ufffd", "𝄞", " #", "#b", "# ", "=", "a: b", "a:b", "a:\n", "\\", "…", "\r", "[]", "{}", "[a, b]", "{a: b}", "\"\"", "2026-11-26", "12:30", ".5", "(a)", "x\n y"}
	for _, folder := range []string{"../../templates/library", "../../sample-job", "../../testdata", "../testdata"} {
		t.Run(folder, func(t *testing.T) {
			texts := frontMatters(t, folder)
			read := 0
			for _, text := range texts {
				if bothWays(t, text) {
					read++
				}
				for range 60 {
					at := r.IntN(len(text) + 1)
					to := min(at+r.IntN(3)*r.IntN(8), len(text))
					changed := text[:at] + signs[r.IntN(len(signs))] + text[to:]
					if r.IntN(4) == 0 { // a whole line moves in or out
						lines := strings.SplitAfter(text, "\n")
						i := r.IntN(len(lines))
						lines[i] = []string{" ", "  ", "- ", ""}[r.IntN(4)] + strings.TrimLeft(lines[i], " -")
						changed = strings.Join(lines, "")
					}
					if ok, _ := characters("a.md", changed, len(changed)); ok && strings.HasPrefix(changed, "---\n") {
						bothWays(t, changed)
					}
				}
			}
			if read*10 < len(texts)*8 {
				t.Errorf("only %d of %d are read plainly, which is what that is for", read, len(texts))
			}
		})
	}
}

// Worked by hand: what is read plainly, and what is left to YAML.
func TestPlain(t *testing.T) {
	for _, c := range []struct {
		name, text string
		plain      bool
	}{
		{"keys", "kind: run\nclear: 94 7/16\n", true},
		{"a blank key", "a:\nb: \nc:   \n", true},
		{"keys of its own", "a:\n  b: 1\n\n  # words\n  c: 2\nd: 3\n", true},
		{"dashes", "a:\n  - b\n  - \"c: d\"\n  - {e: 1, f: [2, 3]}\n", true},
		{"dashes under their key", "a:\n- b\n- c\nd: e\n", true},
		{"keys behind dashes", "a:\n  - b: 1\n    c:\n      d: 2\n  - b:\n    - 3\n", true},
		{"brackets", "a: [b c, 10', 5/8\", \"x, y\", [], {}, (d)]\n", true},
		{"quotes within", "a: it's 5/8\" thick\n", true},
		{"a time", "a: 12:30\n", true},
		{"further in at the top", "  a: b\n  c: d\n", true},
		{"words that YAML takes for others", "a: null\nb: yes\nc: 0x1F\nd: 1_000\nnull: 2026-11-26\n", true},
		{"a long line", "a: [" + strings.Repeat("b, ", 200) + "c]\n", true},
		{"a line that is too long", "a: [" + strings.Repeat("b, ", 400) + "c]\n", false},
		{"too deep", "a: " + strings.Repeat("[", MostDepth) + strings.Repeat("]", MostDepth) + "\n", false},
		{"as deep as may be", "a: " + strings.Repeat("[", MostDepth-1) + strings.Repeat("]", MostDepth-1) + "\n", true},
		{"a key twice", "a: b\na: c\n", false},
		{"a value that goes on", "a: b\n  c\n", false},
		{"a comment behind a value", "a: b # c\nb: [c] # d: e\nc: \"d\"   # \" #\n", true},
		{"a comment that touches", "a: b #c\n", false},
		{"a sign for a comment that touches what is before", "a: b# c\n", false},
		{"a sign for a comment behind a bracket", "a: [b]# c\n", false},
		{"a comment in brackets", "a: [b, # c\n]\n", false},
		{"a comment and no value", "a: # c\n", false},
		{"no space", "a:b\n", false},
		{"single quotes", "a: 'b'\n", false},
		{"an escape", `a: "\x41"` + "\n", false},
		{"behind quotes", "a: \"b\" c\n", false},
		{"two colons", "a: b: c\n", false},
		{"a colon at the end", "a: b:\n", false},
		{"an anchor", "a: &b c\n", false},
		{"a tag", "a: !b c\n", false},
		{"a block", "a: |\n  b\n", false},
		{"merging", "<<: b\n", false},
		{"not ASCII", "a: {b: 50 °F, c: 8½″}\nd: ½ # é\ne: \"’\u00a0’\"\n", true},
		{"a key that is not ASCII", "é: b\n", false},
		{"a tab", "a:\tb\n", false},
		{"a tab in a value", "a: b\tc\n", false},
		{"a tab in quotes", "a: \"b\tc\"\n", false},
		{"a dash alone", "a:\n  -\n", false},
		{"dashes in one line", "a:\n  - - b\n", false},
		{"a comma at the end", "a: [b,]\n", false},
		{"a key in brackets", "a: [b: c]\n", false},
		{"blanks in braces", "a: {b: , c: }\nd: {e:   }\n", true},
		{"a blank in brackets", "a: [b, , c]\n", false},
		{"a key in braces without a colon", "a: {b, c: d}\n", false},
		{"a key in braces whose colon touches", "a: {b:, c: d}\n", false},
		{"a bracket that is not closed", "a: [b\n", false},
		{"over lines", "a: [b,\n  c]\n", false},
		{"behind a bracket", "a: [b] c\n", false},
		{"the wrong bracket", "a: [b}\n", false},
		{"no key", "a\n", false},
		{"a list alone", "- a\n", false},
		{"between two indents", "a:\n    b: c\n  d: e\n", false},
		{"a map, then a dash", "a:\n  b: c\n  - d\n", false},
		{"a dash, then a key", "a:\n  - b\n  c: d\n", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := bothWays(t, "---\n"+c.text); got != c.plain {
				t.Errorf("read plainly: %v, want %v", got, c.plain)
			}
		})
	}
}

func FuzzPlain(f *testing.F) {
	for _, folder := range []string{"../../templates/library", "../../sample-job"} {
		for _, text := range frontMatters(f, folder) {
			f.Add(text)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		if ok, _ := characters("a.md", text, len(text)); !ok || !strings.HasPrefix(text, "---\n") || strings.Contains(text, "\n---\n") {
			return
		}
		bothWays(t, text)
	})
}
