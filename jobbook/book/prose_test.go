package book

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/photo"
	"balustrade/jobbook/source"
)

// TestProseProblems compares whole problem texts for notes that ask for what the book cannot show.
func TestProseProblems(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"raw HTML", "One.\n\nTwo <b>three</b> <!-- kept quiet -->\n\n<div onclick=\"x()\">\nfour\n</div>\n",
			`notes/9-test.md:3:5: warning: raw HTML is left out: <b>
  Two <b>three</b> <!-- kept quiet -->
      ^^^
  hint: write it in Markdown; for a < that is no tag write \<
notes/9-test.md:5:1: warning: raw HTML is left out: <div onclick="x()">
  <div onclick="x()">
  ^^^^^^^^^^^^^^^^^^^
  hint: write it in Markdown; for a < that is no tag write \<
`},
		{"links that do nothing", "[a](javascript:alert(1)) [b](data:text/html,x)\n<java:script> [c](JAVA&#115;CRIPT:alert(1))\n[d](//example.org/x)\n",
			`notes/9-test.md:1:1: warning: a link that leads nowhere safe is left out: javascript:alert(1)
  [a](javascript:alert(1)) [b](data:text/html,x)
  ^
  hint: use a link to http, https, mailto or tel, or to a file of the job
notes/9-test.md:1:26: warning: a link that leads nowhere safe is left out: data:text/html,x
  [a](javascript:alert(1)) [b](data:text/html,x)
                           ^
  hint: use a link to http, https, mailto or tel, or to a file of the job
notes/9-test.md:2:1: warning: a link that leads nowhere safe is left out: java:script
  <java:script> [c](JAVA&#115;CRIPT:alert(1))
  ^
  hint: use a link to http, https, mailto or tel, or to a file of the job
notes/9-test.md:2:15: warning: a link that leads nowhere safe is left out: JAVAsCRIPT:alert(1)
  <java:script> [c](JAVA&#115;CRIPT:alert(1))
                ^
  hint: use a link to http, https, mailto or tel, or to a file of the job
notes/9-test.md:3:1: warning: a link without its scheme is left out: //example.org/x
  [d](//example.org/x)
  ^
  hint: write the link in full: https://...
`},
		{"files that are not there", "See [it](../runs/1-landin.md), [that](1-access.md#no-such) and [the plan](plan.pdf).\n\n![far](https://example.org/x.png)\n",
			`notes/9-test.md:1:5: warning: the link leads to runs/1-landin.md, which the book does not show
  See [it](../runs/1-landin.md), [that](1-access.md#no-such) and [the plan](plan.pdf).
      ^
  hint: did you mean runs/1-landing.md?
notes/9-test.md:1:32: warning: notes/1-access.md has no heading "no-such"
  See [it](../runs/1-landin.md), [that](1-access.md#no-such) and [the plan](plan.pdf).
                                 ^
  hint: link to a heading as it is written there
notes/9-test.md:1:64: warning: the link leads to notes/plan.pdf, which the book does not carry
  See [it](../runs/1-landin.md), [that](1-access.md#no-such) and [the plan](plan.pdf).
                                                                 ^
  hint: write in words where it is
notes/9-test.md:3:1: warning: a picture from elsewhere is not fetched: https://example.org/x.png
  ![far](https://example.org/x.png)
  ^
  hint: put the picture beside the job and link to it there
`},
		{"tables", "---\ntitle: T\n---\n\n```table\n```\n\n```table mark\n```\n\n> ```table marks\n> ```\n\n- ```table marks landin\n  ```\n\n~~~ table buying landing\n~~~\n",
			"notes/9-test.md:5:4: error: a table without a name\n  ```table\n     ^^^^^\n  hint: known tables: marks, counts, openings, cuts, fillets, heights, stair, holes, checks, missing, bits, fixings, buying, coats\n" +
				"notes/9-test.md:8:4: error: unknown table \"mark\"\n  ```table mark\n     ^^^^^^^^^^\n  hint: did you mean marks? known tables: marks, counts, openings, cuts, fillets, heights, stair, holes, checks, missing, bits, fixings, buying, coats\n" +
				"notes/9-test.md:11:6: error: the table marks needs the name of a run\n  > ```table marks\n       ^^^^^^^^^^^\n  hint: write table marks and one of: landing, return\n" +
				"notes/9-test.md:14:6: error: unknown run \"landin\"\n  - ```table marks landin\n       ^^^^^^^^^^^^^^^^^^\n  hint: did you mean landing? known runs: landing, return\n" +
				"notes/9-test.md:17:5: error: the table buying is of the whole job, found a run \"landing\" behind it\n  ~~~ table buying landing\n      ^^^^^^^^^^^^^^^^^^^^\n  hint: write table buying\n"},
		{"too long", strings.Repeat("A line of words.\n", 20_000),
			"notes/9-test.md: warning: the file has 340000 bytes, its words are shown up to 262144\n  hint: split the file; it is shown as recorded only\n"},
		{"nothing wrong", "# Fine\n\n![the turn](../photos/a.jpg) 3 \\< 4, `<b>`, <https://example.org>, someone@example.org\n", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, folder := samplePlan(t, map[string]string{"notes/9-test.md": c.text})
			files, problems, err := Render(p, templatesFolder())
			if err != nil {
				t.Fatal(err)
			}
			var out strings.Builder
			source.Print(&out, problems, folder.Line, func(file string) string { return file })
			if diff := cmp.Diff(c.want, out.String()); diff != "" {
				t.Errorf("want -, got +:\n%s", diff)
			}
			if source.AnyError(problems) {
				if files != nil {
					t.Error("a book was made all the same")
				}
				return
			}
			checkPages(t, byPath(files))
			notes := byPath(files)["notes.html"]
			for _, bad := range []string{"javascript:", "JAVASCRIPT:", "java:script\"", "data:text", "<div onclick", "<b>", "<img", "example.org/x\""} {
				if strings.Contains(strings.SplitN(notes, `id="note-notes.9-test~2Emd"`, 2)[1], `href="`+bad) || strings.HasPrefix(bad, "<") && strings.Contains(notes, bad) {
					t.Errorf("%q is on the page", bad)
				}
			}
		})
	}
}

// TestOutline: the highest heading of a text goes to the level of its place, none skips a level.
func TestOutline(t *testing.T) {
	files := rendered(t, map[string]string{"notes/9-test.md": "## A\n\n##### B\n\n### C\n\n# D\n"})
	_, notes, _ := strings.Cut(files["notes.html"], `id="note-notes.9-test~2Emd"`)
	var got []string
	for _, m := range heading.FindAllStringSubmatch(notes, -1) {
		got = append(got, m[1])
	}
	// The section's own heading is 2, so texts start at 3. Written 2 5 3 1; the highest is 1: A 4 is cut to 3 (first), B to 4, C 5 to 5 (one below B), D 3.
	if diff := cmp.Diff([]string{"2", "3", "4", "5", "3"}, got); diff != "" {
		t.Error(diff)
	}
}

func TestTablesInProse(t *testing.T) {
	files := rendered(t, nil)
	for _, c := range []struct{ page, after, want string }{
		{"layout.html", "The marks again", "37"},                            // the last mark, worked above by hand
		{"notes.html", "The stair turn", "Openings of Landing"},             // by name, outside the run's own file
		{"notes.html", "The stair turn", "Parts bought by the piece"},       // of the whole job
		{"index.html", "What is wanted", "worst opening between balusters"}, // the checks
	} {
		_, rest, ok := strings.Cut(files[c.page], c.after)
		if !ok || !strings.Contains(rest, c.want) {
			t.Errorf("%s: %q does not follow %q", c.page, c.want, c.after)
		}
	}
}

// FuzzProse feeds any text to the Markdown pipeline: no panic gets out, and what comes out holds for every book.
func FuzzProse(f *testing.F) {
	for _, seed := range []string{"# a\n", "---\ntitle: x\n---\n- [ ] b\n", ">\t*", "[a](b.md#c)", "| a |\n| -: |\n| b |", "```table marks landing\n```", "[^1]\n\n[^1]: x", "<b>", "![a](a.jpg)\n![b](b.jpg \"c\")", "- ![a ![b](a.jpg)](a.jpg)"} {
		f.Add(seed)
	}
	frames, err := readFrames(templatesFolder())
	if err != nil {
		f.Fatal(err)
	}
	p, _ := samplePlan(f, nil)
	p.Photographs = map[string]*photo.Copy{"notes/a.jpg": {Name: "a.jpg", Wide: 4, High: 3}}
	f.Fuzz(func(t *testing.T, text string) {
		doc := &source.Document{File: "notes/9-test.md", Name: "test", Layer: source.Job, Text: text, Body: text}
		b := newBook(p, frames)
		note := &prose{doc: doc, page: "notes", level: underSection}
		b.proses[doc.File] = note
		b.parse(note)
		m := strings.ReplaceAll(string(b.prose(doc)), `<img src="photographs/a.jpg"`, "")
		for _, bad := range []string{"<script", "href=\"javascript:", "href=\"data:", "<img", "<iframe", " style="} {
			if strings.Contains(strings.ToLower(m), bad) {
				t.Errorf("%q in %q", bad, m)
			}
		}
		for _, problem := range b.problems {
			if strings.Contains(problem.Summary, "cannot be shown") && len(text) < mostProse {
				t.Errorf("a panic inside: %s", problem.Summary)
			}
		}
	})
}
