package book

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/source"
)

// rendered is the book of a plan, by path; it must come without errors.
func rendered(t testing.TB, changed map[string]string) map[string]string {
	t.Helper()
	p, _ := samplePlan(t, changed)
	files, problems, err := Render(p, templatesFolder())
	if err != nil || source.AnyError(problems) {
		t.Fatalf("err %v, problems %v", err, problems)
	}
	return byPath(files)
}

func byPath(files []File) map[string]string {
	list := map[string]string{}
	for _, f := range files {
		list[f.Path] = strings.Join(f.Pieces, "")
	}
	return list
}

// TestPages compares the pages of the small job with those that a person has read.
func TestPages(t *testing.T) {
	seen := map[string]bool{}
	frames, err := readFrames(templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	for path, text := range rendered(t, nil) {
		if !strings.HasSuffix(path, ".html") || path == "print.html" || path == workingsFile { // the print edition is the same bodies again
			continue
		}
		file := filepath.Join("testdata", "pages", path)
		seen[file] = true
		t.Run(path, func(t *testing.T) {
			golden(t, file, strings.Replace(text, string(frames.css), "...", 1)) // the client's document carries the style sheet in it
		})
	}
	noOrphans(t, "testdata/pages", seen)
}

var (
	ids     = regexp.MustCompile(`\sid="([^"]*)"`)
	hrefs   = regexp.MustCompile(`\s(?:href|src|aria-labelledby)="([^"]*)"`)
	heading = regexp.MustCompile(`<h([1-6])[ >]`)
	titles  = regexp.MustCompile(`(?s)<head>.*<title>(.*?)</title>`)
)

// checkPages checks what must hold for every book: ids unique on a page, links that lead somewhere, headings without a gap,
// titles that differ.
func checkPages(t *testing.T, files map[string]string) {
	t.Helper()
	places := map[string]map[string]bool{}
	for path, text := range files {
		if !strings.HasSuffix(path, ".html") {
			continue
		}
		places[path] = map[string]bool{}
		for _, m := range ids.FindAllStringSubmatch(text, -1) {
			if places[path][m[1]] {
				t.Errorf("%s: the id %q stands twice", path, m[1])
			}
			places[path][m[1]] = true
		}
	}
	named := map[string]string{}
	for path, text := range files {
		if places[path] == nil {
			continue
		}
		for _, m := range hrefs.FindAllStringSubmatch(text, -1) {
			to := m[1]
			if strings.Contains(m[0], "aria-labelledby") {
				for _, id := range strings.Fields(to) {
					if !places[path][id] {
						t.Errorf("%s: nothing has the id %q that names a drawing", path, id)
					}
				}
				continue
			}
			if strings.HasPrefix(to, "https://") || strings.HasPrefix(to, "tel:") || strings.HasPrefix(to, "mailto:") {
				continue
			}
			file, id, _ := strings.Cut(to, "#")
			if file == "" {
				file = path
			}
			if _, ok := files[file]; !ok {
				t.Errorf("%s: a link leads to %q, which is not in the book", path, to)
			} else if id != "" && !places[file][id] {
				t.Errorf("%s: a link leads to %q, which has no such place", path, to)
			}
			if name, page := strings.CutSuffix(file, ".html"); page && (path == "print.html" || path == workingsFile) && file != path && places[path]["page-"+name] && !strings.Contains(m[0], `href="index.html">Back`) && to != "index.html" {
				t.Errorf("%s leads out of itself, to %q, which it has", path, to)
			}
		}
		before := 0
		for _, m := range heading.FindAllStringSubmatch(text, -1) {
			level := int(m[1][0] - '0')
			if level > before+1 {
				t.Errorf("%s: a heading of level %d follows one of level %d", path, level, before)
			}
			before = level
		}
		if strings.Count(text, "<h1") != 1 {
			t.Errorf("%s: want one h1", path)
		}
		title := titles.FindStringSubmatch(text)
		if title == nil || title[1] == "" {
			t.Errorf("%s: no title", path)
		} else if other := named[title[1]]; other != "" {
			t.Errorf("%s and %s have the same title %q", path, other, title[1])
		} else {
			named[title[1]] = path
		}
	}
}

func TestLinks(t *testing.T) {
	t.Run("small job", func(t *testing.T) { checkPages(t, rendered(t, nil)) })
	t.Run("names that need escaping", func(t *testing.T) {
		checkPages(t, rendered(t, map[string]string{
			"notes/3 ünder the \"stair\" & more.md": "# A heading: über\n\nSee [it](#a-heading-über) and [it](3%20%C3%BCnder%20the%20%22stair%22%20&%20more.md#a-heading-über).\n",
			"notes/4-two.md":                        "# Same\n\n# Same\n\n###### deep\n\n# \n\nA[^1] and B[^1] and C[^2].\n\n[^1]: one\n[^2]: two\n",
		}))
	})
	for _, hand := range handMadePlans() {
		t.Run("data "+hand.name, func(t *testing.T) {
			files, problems, err := Render(hand.plan, templatesFolder())
			if err != nil || len(problems) > 0 {
				t.Fatal(err, problems)
			}
			checkPages(t, byPath(files))
		})
	}
}

func TestPagesThatSayNothing(t *testing.T) {
	files, _, err := Render(handMadePlans()[1].plan, templatesFolder()) // an empty job
	if err != nil {
		t.Fatal(err)
	}
	var pages []string
	for path := range byPath(files) {
		if strings.HasSuffix(path, ".html") {
			pages = append(pages, path)
		}
	}
	slices.Sort(pages)
	if diff := cmp.Diff([]string{"index.html", "print.html"}, pages); diff != "" {
		t.Error(diff)
	}
}

func TestEscaping(t *testing.T) {
	const evil = `</title><script>alert(1)</script> " onload="x" \3c /style>`
	quoted := "'" + strings.ReplaceAll(evil, "'", "''") + "'"
	files := rendered(t, map[string]string{
		"parts/plain-rail.md": "---\nkind: handrail\ntitle: " + quoted + "\nwide: 2 1/2\nhigh: 2 1/4\n---\n",
		"notes/9-evil.md":     "---\ntitle: " + quoted + "\n---\n\n`" + evil + "`\n",
		"steps/30-evil.md":    "---\nkind: step\ntitle: " + quoted + "\n---\n",
	})
	p, _ := samplePlan(t, nil)
	p.Job.Title.Text, p.Job.Client.Text, p.Job.Measured.Text = evil, evil, evil
	more, _, err := Render(p, templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	for name, set := range map[string]map[string]string{"files": files, "job": byPath(more)} {
		for path, text := range set {
			if !strings.HasSuffix(path, ".html") {
				continue
			}
			if strings.Contains(text, "<script") || strings.Contains(text, `onload="x"`) || strings.Count(text, "</style>") != 1 {
				t.Errorf("%s: %s lets a tag or an attribute through", name, path)
			}
		}
		if !strings.Contains(set["index.html"]+set["notes.html"], "&lt;script&gt;") {
			t.Errorf("%s: the text itself is not shown", name)
		}
	}
}

func TestSameBytes(t *testing.T) {
	var before []File
	for range 2 {
		p, _ := samplePlan(t, nil)
		files, _, err := Render(p, templatesFolder())
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range before {
			if files[i].Path != f.Path || strings.Join(files[i].Pieces, "") != strings.Join(f.Pieces, "") {
				t.Errorf("%s differs from %s of the time before", files[i].Path, f.Path)
			}
		}
		before = files
	}
	if strings.Contains(strings.Join(before[0].Pieces, ""), filepath.ToSlash(os.TempDir())) {
		t.Error("a path of this machine is on the page")
	}
}

func TestPrintOrder(t *testing.T) {
	print := rendered(t, nil)["print.html"]
	at := -1
	for _, name := range []string{"page-cut-list", "page-layout", "page-index", "page-price"} {
		i := strings.Index(print, `id="`+name+`"`)
		if i <= at {
			t.Errorf("%s does not come after the one before it", name)
		}
		at = i
	}
	if strings.Contains(print, `id="page-working"`) || strings.Contains(print, `id="page-recorded"`) {
		t.Error("the print edition has the workings, or the files as recorded")
	}
	workings := rendered(t, nil)[workingsFile]
	if a, b := strings.Index(workings, `id="page-working"`), strings.Index(workings, `id="page-recorded"`); a < 0 || b < a {
		t.Error("the book of workings has not the workings, then the files as recorded")
	}
	if !strings.Contains(print, `href="working.html#`) || !strings.Contains(print, `href="`+workingsFile+`"`) || strings.Contains(workings, `href="working.html#`) {
		t.Error("a figure does not lead to its working: from the print edition to the page, within the book of workings")
	}
	for _, p := range allPages {
		in := 0
		for _, g := range slices.Concat(printGroups, workingGroups) {
			for _, name := range slices.Concat(g.pages, g.apart) {
				if name == p.name {
					in++
				}
			}
		}
		if in != 1 {
			t.Errorf("%s is in %d places of what is printed", p.name, in)
		}
	}
}

func BenchmarkRender(b *testing.B) {
	p, _ := samplePlan(b, nil)
	frames, err := readFrames(templatesFolder())
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		book := newBook(p, frames)
		book.readProse()
		if _, err := book.bind(book.pages()); err != nil {
			b.Fatal(err)
		}
	}
}
