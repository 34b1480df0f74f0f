package jobbook

import (
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"html"
	"image"
	"image/png"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
)

var long = flag.Bool("long", false, "put every text of testdata/injections.txt into every key, not each into some")

// injections are the texts of testdata/injections.txt.
func injections(t testing.TB) (list []string) {
	t.Helper()
	raw, err := os.ReadFile("../testdata/injections.txt")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(raw)) {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		text, err := strconv.Unquote(line)
		if err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		list = append(list, text)
	}
	return list
}

// wordsOf are the paths of all keys that take words, from the tables that the decoder reads by, so that a new key is met as well.
func wordsOf(keys []job.Key, above []string) (paths [][]string) {
	for _, k := range keys {
		path := append(slices.Clone(above), k.Key)
		if strings.HasPrefix(k.Form, "words") || strings.HasPrefix(k.Form, "a list of words") {
			paths = append(paths, path)
		}
		paths = append(paths, wordsOf(k.Sub, path)...)
	}
	return paths
}

// names are keys whose words name something, so that no text at all can stand there.
var names = []string{"delivery: items: part", "survey: leaves: run", "survey: leaves: post", "survey: photos: file", "made: pieces: mark", "made: pieces: part", "made: sticks: part"}

// extra are files of the kinds that the sound job has none of.
var extra = map[string]string{
	"parts/low.md":     "---\nkind: shoe\nwide: 2 1/4\nhigh: 3/4\nplow: {wide: 1 1/4, deep: 5/16}\n---\n",
	"parts/thin.md":    "---\nkind: fillet\nwide: 1 1/4\nthick: 5/16\n---\n",
	"parts/plate.md":   "---\nkind: rosette\nwide: 4\nthick: 1/2\n---\n",
	"parts/bolt.md":    "---\nkind: bolt\nwide: 5/16\nlong: 3 1/2\nin-post: 1 1/2\npilot: 1/4\nbore: 3/8\naccess: 1\naccess-deep: 1 1/2\nreach: 1 1/4\n---\n",
	"parts/red-oak.md": "---\nkind: species\nalso: [red oak]\ng: 0.67\nstatus: published\nsg: 0.63\nmor: 14300 psi\nmoe: 1.82 Mpsi\n---\n",
}

// flow writes a tree as front matter, every value in double quotes.
func flow(b *strings.Builder, n *source.Node) {
	switch {
	case n.Blank():
	case n.Kind == source.Scalar:
		b.WriteString(quoted(n.Text))
	case n.Kind == source.List:
		b.WriteString("[")
		for _, item := range n.Items {
			flow(b, item)
			b.WriteString(", ")
		}
		b.WriteString("]")
	default:
		b.WriteString("{")
		for _, e := range n.Entries {
			b.WriteString(quoted(e.Key) + ": ")
			flow(b, e.Value)
			b.WriteString(", ")
		}
		b.WriteString("}")
	}
}

// fileOf is a file with a tree as its front matter.
func fileOf(front *source.Node) string {
	var b strings.Builder
	b.WriteString("---\n")
	for _, e := range front.Entries {
		b.WriteString(quoted(e.Key) + ": ")
		flow(&b, e.Value)
		b.WriteString("\n")
	}
	b.WriteString("---\n")
	return b.String()
}

// quoted writes a text as YAML reads it between double quotes: as in JSON, with nothing invisible left in it.
func quoted(text string) string {
	return strings.ReplaceAll(strconv.QuoteToASCII(text), `\x7f`, `\u007f`)
}

// put writes a text at a path of keys, and reports whether there is room for it.
func put(n *source.Node, keys []job.Key, path []string, text string) bool {
	i := slices.IndexFunc(keys, func(k job.Key) bool { return k.Key == path[0] })
	k := keys[i]
	at := slices.IndexFunc(n.Entries, func(e source.Entry) bool { return e.Key == k.Key })
	if at < 0 {
		n.Entries = append(n.Entries, source.Entry{Key: k.Key, Value: &source.Node{Kind: source.Scalar}})
		at = len(n.Entries) - 1
	}
	if len(path) == 1 {
		n.Entries[at].Value = &source.Node{Kind: source.Scalar, Text: text, Quoted: true}
		return true
	}
	v := n.Entries[at].Value
	if v.Blank() {
		v = &source.Node{Kind: source.Map}
		n.Entries[at].Value = v
		if strings.HasPrefix(k.Form, "a list") {
			n.Entries[at].Value = &source.Node{Kind: source.List, Items: []*source.Node{v}}
		}
	}
	if v.Kind == source.List {
		v = v.Items[0]
	}
	own := func(e source.Entry) bool {
		return slices.ContainsFunc(k.Sub, func(s job.Key) bool { return s.Key == e.Key })
	}
	if v.Kind == source.Map && len(v.Entries) > 0 && !slices.ContainsFunc(v.Entries, own) { // names of one's own
		v = v.Entries[0].Value
		if v.Kind == source.List {
			v = v.Items[0]
		}
	}
	return v.Kind == source.Map && put(v, k.Sub, path[1:], text)
}

// hostileJob is a job with a text in every key that takes words, in the words of every file, in names of files, of posts and of photographs. text gives the
// nth of them.
func hostileJob(t testing.TB, text func(n int) string) map[string]string {
	t.Helper()
	files := FilesBelow("../testdata/bad/base")
	for name, text := range extra {
		files[name] = text
	}
	files["job.md"] = strings.NewReplacer("shoe: shoe-1-1-4", "shoe: low", "fillet: fillet-1-1-4", "fillet: thin", "rosette: rosette-round", "rosette: plate", "bolt: rail-bolt-5-16", "bolt: bolt").Replace(files["job.md"])
	for _, k := range job.Kinds { // a new kind of file, of which the sound job has none
		if !slices.ContainsFunc(slices.Collect(maps.Values(files)), func(text string) bool { return strings.Contains(text, "\nkind: "+k.Key+"\n") }) {
			files["new/"+k.Key+".md"] = "---\nkind: " + k.Key + "\n---\n"
		}
	}
	n := 0
	next := func() string { n++; return text(n) }
	post, photograph := "post "+next(), plain(next())+".png"
	files["job.md"] = strings.Replace(files["job.md"], "  head:", "  "+quoted(post)+": {newel: post, foot: let in, deep: 3, turn: left 90, note: x}\n  head:", 1)
	files["job.md"] = strings.Replace(files["job.md"], "runs: [stair]", "runs: [stair, "+quoted(plain(next()))+"]", 1)
	n-- // the run's file has that name
	files["runs/4-"+plain(next())+".md"] = "---\nkind: run\nfrom: " + quoted(post) + "\nto: wall\nclear: {floor: 40, rail: 40}\n---\n"
	files["notes/2-"+plain(next())+".md"] = "---\ntitle: x\n---\n"
	files["survey/old.md"] = strings.Replace(files["survey/old.md"], "loose:", "photos: [{file: "+quoted(photograph)+"}]\nloose:", 1)
	files["survey/"+photograph], files["notes/gap.png"] = dot(t), dot(t)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if !strings.HasSuffix(name, ".md") {
			continue
		}
		folder, err := source.Read(fstest.MapFS{"x.md": {Data: []byte(files[name])}}, source.Job, "")
		if err != nil || len(folder.Documents) != 1 {
			t.Fatal(name, err)
		}
		front := Unread(folder.Documents)[0].Front // what was read is remembered, and nobody writes to it
		keys := []job.Key{{Key: "title", Form: "words"}}
		kind := "note"
		if k := front.Get("kind"); k != nil {
			kind = k.Text
			keys = job.Kinds[slices.IndexFunc(job.Kinds, func(x job.Key) bool { return x.Key == kind })].Sub
		}
		for _, path := range wordsOf(keys, nil) {
			if id := kind + ": " + strings.Join(path, ": "); !slices.Contains(names, id) && !put(front, keys, path, next()) {
				t.Errorf("there is no room for %s", id)
			}
		}
		files[name] = fileOf(front) + fmt.Sprintf("\n%s\n\n# %s\n\n- %s\n\n| %s |\n| --- |\n| %s |\n\n[see](%s \"%s\") ![see](gap.png \"%s\")\n", next(), next(), next(), next(), next(), next(), next(), next())
	}
	return files
}

// plain makes of a text what can be the name of a file here.
func plain(text string) string {
	text = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsControl(r) || r == '\u2028' || r == '\u2029':
			return -1
		case r == '/':
			return '∕'
		}
		return r
	}, text)
	for len(text) > 180 { // a name holds 255 bytes
		_, size := utf8.DecodeLastRuneInString(text)
		text = text[:len(text)-size]
	}
	return "x" + strings.TrimRight(text, " .")
}

// dot is a photograph of next to nothing.
func dot(t testing.TB) string {
	var b strings.Builder
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 2, 2))); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// bookMade is the book of a job, by the paths of its files.
func bookMade(t testing.TB, files map[string]string) map[string]string {
	t.Helper()
	result, list, err := Make(WriteFiles(t, files))
	if err != nil || result.Plan == nil {
		source.Print(os.Stderr, result.Problems, result.Texts.Line, func(f string) string { return f })
		t.Fatalf("no book: %v", err)
	}
	book := map[string]string{}
	for _, f := range list {
		book[f.Path] = strings.Join(f.Pieces, "")
	}
	return book
}

// element is a start tag on a page: its name and its attributes, whose values are as they were written.
type element struct {
	name       string
	attributes [][2]string
}

// elements are the start tags of a page, as a browser finds them, but for comments and the contents of style, of which our pages have none of a user's making.
func elements(page string) (list []element) {
	const blank = " \t\n\r\f"
	for i := strings.IndexByte(page, '<'); i >= 0; i = strings.IndexByte(page, '<') {
		page = page[i+1:]
		if page == "" || !('a' <= page[0]|0x20 && page[0]|0x20 <= 'z') {
			continue
		}
		end := upTo(page, blank+"/>")
		e := element{name: strings.ToLower(page[:end])}
		page = page[end:]
		for {
			page = strings.TrimLeft(page, blank+"/")
			if page == "" || page[0] == '>' {
				break
			}
			end := upTo(page[1:], blank+"/>=") + 1
			a := [2]string{strings.ToLower(page[:end])}
			page = strings.TrimLeft(page[end:], blank)
			if strings.HasPrefix(page, "=") {
				page = strings.TrimLeft(page[1:], blank)
				switch {
				case page == "":
				case page[0] == '"' || page[0] == '\'':
					a[1], page, _ = strings.Cut(page[1:], page[:1])
				default:
					end := upTo(page, blank+">")
					a[1], page = page[:end], page[end:]
				}
			}
			e.attributes = append(e.attributes, a)
		}
		list = append(list, e)
	}
	return list
}

// upTo is where the first of the signs stands, or the end.
func upTo(text, signs string) int {
	if i := strings.IndexAny(text, signs); i >= 0 {
		return i
	}
	return len(text)
}

// fromMarkdown are what words in Markdown become, beyond what is in every book.
var fromMarkdown = strings.Fields("a a.href a.title a.rel blockquote br code code.class del em h3 h3.id h4 h4.id h5 h5.id h6 h6.id hr input input.type input.checked input.disabled li ol ol.start p pre strong ul")

// safe are the addresses that a book may lead to.
var safe = regexp.MustCompile(`^(#[^ ]*|[a-z0-9.-]+\.(html|ics|css)(#[^ ]*)?|(data|photographs)/[^:]*|https?://[^ ]*|mailto:[^ ]*|tel:[^ ]*)$`)

// checkHarmless holds a book with texts in it to one with plain words in the same places.
func checkHarmless(t testing.TB, book, with map[string]string) {
	t.Helper()
	known := map[string]bool{}
	for _, k := range fromMarkdown {
		known[k] = true
	}
	for name, page := range with {
		if filepath.Ext(name) == ".html" {
			for _, e := range elements(page) {
				known[e.name] = true
				for _, a := range e.attributes {
					known[e.name+"."+a[0]] = true
				}
			}
		}
	}
	for _, k := range []string{"script", "iframe", "object", "embed", "base", "form"} {
		if known[k] {
			t.Errorf("a book has an element %s of its own", k)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(book)) {
		page := book[name]
		if !portable.MatchString(name) {
			t.Errorf("%q is no name that a file can have on every machine", name)
		}
		switch filepath.Ext(name) {
		case ".html":
			for _, e := range elements(page) {
				if !known[e.name] {
					t.Errorf("%s: an element %s", name, e.name)
				}
				for _, a := range e.attributes {
					value := html.UnescapeString(a[1])
					switch {
					case !known[e.name+"."+a[0]] || strings.HasPrefix(a[0], "on"):
						t.Errorf("%s: an attribute %s of %s: %s", name, a[0], e.name, a[1])
					case slices.Contains([]string{"href", "src", "action", "xlink:href"}, a[0]) && !safe.MatchString(value) && !strings.HasPrefix(value, "data:image/svg+xml,") && !strings.HasPrefix(value, "data:font/"):
						t.Errorf("%s: %s of %s leads to %s", name, a[0], e.name, value)
					case a[0] == "src" && strings.Contains(value, "//"):
						t.Errorf("%s: %s asks for %s", name, e.name, value)
					}
				}
			}
		case ".json":
			if !json.Valid([]byte(page)) {
				t.Errorf("%s is no JSON", name)
			}
		case ".csv":
			checkCells(t, name, page)
		case ".ics":
			checkCalendar(t, page, with[name])
		}
	}
}

// portable is a path that a file can have on any machine and that no other file of a book can fight with: small letters, digits and the signs between them.
var portable = regexp.MustCompile(`^([a-z0-9]+([-.][a-z0-9]+)*/)?[a-z0-9]+([-.][a-z0-9]+)*$`)

// number is a number of ours, as a spreadsheet reads it.
var number = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)

// checkCells holds the cells of a table to what a spreadsheet does not take for a formula.
func checkCells(t testing.TB, name, text string) {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Errorf("%s: %v", name, err)
	}
	for _, row := range rows {
		for _, cell := range row {
			bare := strings.TrimLeft(cell, " \u00a0\ufeff\u200b")
			if bare != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", []rune(bare)[0]) && !number.MatchString(cell) || strings.ContainsAny(cell, "\t\r\n") {
				t.Errorf("%s: the cell %q", name, cell)
			}
		}
	}
}

// checkCalendar holds a calendar to the properties of one with plain words, line by line, and to as many of each block.
func checkCalendar(t testing.TB, text, with string) {
	t.Helper()
	count := func(text string) (lines map[string]int) {
		lines = map[string]int{}
		for line := range strings.SplitSeq(strings.ReplaceAll(text, "\r\n ", ""), "\r\n") { // RFC 5545, 3.1: a line that begins with a blank goes on the one before
			name, _, _ := strings.Cut(line, ":")
			if name == "BEGIN" || name == "END" {
				name = line
			}
			lines[name]++
		}
		return lines
	}
	if strings.ContainsAny(strings.ReplaceAll(text, "\r\n", ""), "\r\n") {
		t.Error("a line of the calendar ends otherwise than by CR LF")
	}
	if diff := cmp.Diff(count(with), count(text)); diff != "" {
		t.Errorf("the calendar has other lines than one with plain words (-plain +got):\n%s", diff)
	}
}

// TestNothingRuns puts texts that try to become something else into every key that takes words, into words, and into names: in the
// book they are words. In a real browser, TestBrowserNothingRuns looks at the same.
func TestNothingRuns(t *testing.T) {
	texts := injections(t)
	if len(texts) < 60 {
		t.Errorf("only %d texts", len(texts))
	}
	with := bookMade(t, hostileJob(t, func(n int) string { return fmt.Sprintf("plain %d", n) }))
	each := func(first int) func(n int) string {
		return func(n int) string { return texts[(first+n)%len(texts)] }
	}
	t.Run("all in each", func(t *testing.T) {
		checkHarmless(t, bookMade(t, hostileJob(t, func(n int) string { return fmt.Sprint(n, " ", strings.Join(texts, " ")) })), with)
	})
	step := 44 // two of them in each place
	if *long {
		step = 1
	}
	for first := 0; first < len(texts); first += step {
		t.Run(fmt.Sprintf("from %d", first), func(t *testing.T) { checkHarmless(t, bookMade(t, hostileJob(t, each(first))), with) })
	}
}

// TestNamesThatFight: files whose names some machine takes for one, or for a device, or that look alike, give a book with all of them in it, or are refused;
// the names of its own files do not come from theirs.
func TestNamesThatFight(t *testing.T) {
	files := map[string]string{"job.md": "---\nkind: job\n---\n"}
	names := []string{"con", "AUX", "nul", "COM1", "lpt9.", "trailing dot.", "trailing space ", " leading", "caf\u00e9", "-x", "--help", "a b", "a'b", `a"b`, "a&b", "a<b>", "a|b", "a?b", "a*b", `a\b`, "a:b", "%00", "%2e%2e", "\u05d0\u05d1", "\u202eb", "e\u0301\u0302\u0303", "漢字", "🪚", "1", "01", "0", "2026-10-05", "index", "print", "style", strings.Repeat("n", 240)}
	for i, name := range names {
		files["notes/"+name+".md"] = fmt.Sprintf("---\ntitle: The title %d.\n---\n\nThe words %d.\n", i, i)
	}
	book := bookMade(t, files)
	for i := range names {
		if words := fmt.Sprintf("The words %d.", i); !strings.Contains(book["notes.html"], words) || !strings.Contains(book["notes.html"], fmt.Sprintf("The title %d.", i)) {
			t.Errorf("the note %q is not in the book", names[i])
		}
	}
	if ids := regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(book["notes.html"], -1); true {
		seen := map[string]bool{}
		for _, id := range ids {
			if seen[id[1]] {
				t.Errorf("two places have the id %s", id[1])
			}
			seen[id[1]] = true
		}
	}
	checkHarmless(t, book, book)
	for twin, of := range map[string]string{"CON": "con", "cafe\u0301": "caf\u00e9", "CAFE\u0301": "caf\u00e9"} { // one to many a disk
		files["notes/"+twin+".md"] = files["notes/"+of+".md"]
		result, err := Check(WriteFiles(t, files))
		if err != nil || len(result.Problems) != 1 || !strings.HasPrefix(result.Problems[0].Summary, `two files are named`) {
			t.Errorf("%q: %v, %+v", twin, err, result.Problems)
		}
		delete(files, "notes/"+twin+".md")
	}
}

// TestElements: the scanner of pages sees what a browser would.
func TestElements(t *testing.T) {
	for page, want := range map[string]string{
		`a < b <p>`:                     "p",
		`<a href="x>y" id=z>`:           "a href=x>y id=z",
		`<IMG/SRC='x'/onerror = "y()">`: "img src=x onerror=y()",
		`<img src=x/onerror=y>`:         "img src=x/onerror=y", // to a browser, too: only a blank ends what has no quotes
		`<svg onload=x><a b c='d'e=f>`:  "svg onload=x; a b= c=d e=f",
		`<p title="a<script>b">&lt;b>`:  "p title=a<script>b",
		"<script\n>x</script ><i\t/j>":  "script; i j=",
	} {
		var got []string
		for _, e := range elements(page) {
			text := e.name
			for _, a := range e.attributes {
				text += " " + a[0] + "=" + a[1]
			}
			got = append(got, text)
		}
		if joined := strings.Join(got, "; "); joined != want {
			t.Errorf("%s: got %s, want %s", page, joined, want)
		}
	}
}
