package source

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"
)

func FuzzRead(f *testing.F) {
	for _, seed := range []string{
		"---\nkind: run\nclear: {floor: 94 7/16, rail: \"94\"}\nlist:\n  - 8' 9\"\n  - [1, 2]\n---\n# Text\n",
		"\ufeff---\r\na: #5\r\nb: |5\r\nc: 'x\r\n  y'\r\n---\r\n", "---\r\r\na: \rb\n---", "---\na: &x [*x]\n<<: !!map {}\n---\n", "--- \n? [a]\n: b\n: c\n---\n",
		"---\na: \"8' 9\"\"\n---\n", "---\n{at:48, 'w', x: , y\n: }\n---\n", "---\n...\n%\n--- a\n---\n", "\n ---\nkind: x\n", "---\na: \u2028\ufeff\x00\xff\n---\n",
		"---\na:\n\tb: [\n{\n---\n", "---\na: \"b\nc\\\n", "---\n\"c:1\n\nb:2\"\n---\n", "---\na: >\n  b\n\n  c\nd: \"\\u12\"\n---\n",
		"---\nwords \r #b 1\"c:->1\":\"\n---\n",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, raw []byte) {
		folder, err := Read(fstest.MapFS{"a.md": {Data: raw}}, Job, "")
		if err != nil {
			t.Fatal(err)
		}
		all := append(folder.Documents, folder.Broken...)
		if len(all) != 1 {
			t.Fatalf("%d documents from one file", len(all))
		}
		d := all[0]
		lines := strings.Split(d.Text, "\n")
		within := func(what string, at Pos) {
			if at.File != "a.md" || at.Line < 1 || at.Line > len(lines) || at.Col < 1 || at.Col > utf8.RuneCountInString(lines[at.Line-1])+1 {
				t.Errorf("%s at %s is not in the file", what, at)
			}
		}
		for _, p := range folder.Problems {
			if p.At.Line != 0 || len(raw) <= MostBytes {
				within(p.Summary, p.At)
			}
			for _, n := range p.Notes {
				within(n.Text, n.At)
			}
			if p.Width < 1 || p.Hint == "" || strings.HasSuffix(p.Summary, ".") || strings.Contains(p.Summary+p.Hint, "\n") {
				t.Errorf("a problem that breaks the rules of wording: %+v", p)
			}
		}
		for _, p := range folder.Problems {
			if p.Summary == "the front matter cannot be read" {
				t.Error("the YAML library panicked, or gave an error without a place")
			}
		}
		if len(folder.Broken) > 0 && !AnyError(folder.Problems) {
			t.Error("a broken file without an error")
		}
		if len(d.Body) != len(d.Text) {
			t.Fatalf("body of %d bytes, text of %d", len(d.Body), len(d.Text))
		}
		for i := range d.Body {
			if (d.Body[i] == '\n') != (d.Text[i] == '\n') {
				t.Fatalf("newlines differ at byte %d", i)
			}
		}
		if got := d.Fenced(); len(got) != len(d.Text) {
			t.Errorf("fenced is %d bytes, text %d", len(got), len(d.Text))
		}
		walk(d.Front, 0, func(n *Node, depth int) {
			within(n.Kind.String(), n.At)
			if depth > MostDepth {
				t.Errorf("%d deep", depth)
			}
			// A plain value is the very text at its place.
			if n.Kind == Scalar && !n.Quoted && !n.Block && n.At.Line <= len(lines) {
				line := strings.ReplaceAll(lines[n.At.Line-1], "\r", " ")
				if rest := []rune(line)[min(n.At.Col-1, utf8.RuneCountInString(line)):]; !strings.HasPrefix(string(rest), n.Text) {
					t.Errorf("%q is not what stands at %s", n.Text, n.At)
				}
			}
			keys := map[string]bool{}
			for _, e := range n.Entries {
				within(e.Key, e.At)
				if keys[e.Key] || e.Value == nil || e.Key == "" {
					t.Errorf("key %q twice, or empty, or without a value", e.Key)
				}
				keys[e.Key] = true
			}
		})
	})
}

// walk visits a tree; lists and maps count towards the depth.
func walk(n *Node, depth int, visit func(*Node, int)) {
	if n == nil {
		return
	}
	if n.Kind != Scalar {
		depth++
	}
	visit(n, depth)
	for _, item := range n.Items {
		walk(item, depth, visit)
	}
	for _, e := range n.Entries {
		walk(e.Value, depth, visit)
	}
}

func BenchmarkRead(b *testing.B) {
	m := fstest.MapFS{}
	for i := range 12 {
		m[fmt.Sprintf("runs/%d-run.md", i)] = &fstest.MapFile{Data: []byte("---\nkind: run\nfrom: wall\nto: corner\nclear: {floor: 94 7/16, middle: 94 7/16, rail: 94 1/2}\nheight: 38\nstations:\n" +
			strings.Repeat("  - {at: 7, square: 1 1/4}   # from the bottom\n", 20) + "---\n" + strings.Repeat("Notes of the day, in a line of text.\n", 20))}
	}
	b.ReportAllocs()
	for b.Loop() {
		if f, err := Read(m, Job, ""); err != nil || len(f.Problems) > 0 {
			b.Fatal(err, f.Problems)
		}
	}
}
