package book

import (
	"maps"
	"strings"
	"testing"
)

// TestWithin: a page as a section of the print edition, link by link. Expected markup written by hand.
func TestWithin(t *testing.T) {
	here := map[string]bool{"layout": true, "working": true}
	for _, c := range []struct{ name, page, want string }{
		{"words", "a &lt; b", "a &lt; b"},
		{"headings go one down, the deepest stays", `<h2>A</h2><h3 id="b">B</h3><h5>C</h5><h6>D</h6>`, `<h3>A</h3><h4 id="b">B</h4><h6>C</h6><h6>D</h6>`},
		{"what begins like a heading", `<hr><header>x</header>`, `<hr><header>x</header>`},
		{"to a place on a page", `<a class="w" href="working.html#w-gap">w</a>`, `<a class="w" href="#w-gap">w</a>`},
		{"to a page", `<a href="layout.html">Layout</a>`, `<a href="#page-layout">Layout</a>`},
		{"to a page that is not there", `<a href="price.html#a">Price</a>`, `<a href="price.html#a">Price</a>`},
		{"to itself", `<a href="print.html">Print edition</a>`, `<a href="#top">Print edition</a>`},
		{"within the page", `<a href="#a">A</a>`, `<a href="#a">A</a>`},
		{"outside", `<a href="https://example.org/layout.html">x</a>`, `<a href="https://example.org/layout.html">x</a>`},
		{"the client's document", string(clientLink) + ` <a href="#a">A</a>`, `For the client <a href="#a">A</a>`},
		{"a phone's calendar", string(phoneLink) + ".", "For a phone’s calendar there is schedule.ics."},
		{"a picture", `<img src="a.jpg" alt="x" loading="lazy">`, `<img src="a.jpg" alt="x">`},
		{"words that look like an attribute", `<p>href=&#34;layout.html&#34; loading="lazy"</p>`, `<p>href=&#34;layout.html&#34; loading="lazy"</p>`},
		{"a tag that does not end", `x <a href="layout.html"`, `x <a href="layout.html"`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := string(retag(nil, markup(c.page), within(here))); got != c.want {
				t.Errorf("gives %s\nwant  %s", got, c.want)
			}
		})
	}
}

// TestUnlink: what an edition does not have is named and not linked. Expected markup written by hand.
func TestUnlink(t *testing.T) {
	b := &book{}
	pages := []page{
		{name: "index", body: pieces{`<a href="layout.html#marks">marks</a>, <a href="layout.html#none">none</a>, <a href="price.html">price <b>3</b></a>, <a href="#main">top</a>, <a href="#gone">gone</a>`}},
		{name: "layout", body: pieces{`<section id="marks"><a class="w" href="layout.html#w-1"><small>w1</small></a> <a href="mailto:x">mail</a> <a href="print.html">all</a></section>`}},
	}
	b.unlink(pages)
	for i, want := range []string{
		`<a href="layout.html#marks">marks</a>, <a href="layout.html">none</a>, price <b>3</b>, <a href="#main">top</a>, gone`,
		`<section id="marks"><small>w1</small> <a href="mailto:x">mail</a> <a href="print.html">all</a></section>`,
	} {
		if got := string(pages[i].body.markup()); got != want {
			t.Errorf("%s is\n%s\nwant\n%s", pages[i].name, got, want)
		}
	}
}

// TestIdentify: ids of tags, and none in words. Expected ids written by hand.
func TestIdentify(t *testing.T) {
	ids := map[string]bool{}
	identify(ids, `<p id="a">b id=&#34;c&#34; <svg class="x" id="d-1" role="img"><title id="d-1-title"></title></svg><h2 data-id="e" id="">f</h2><p id="g`)
	if want := map[string]bool{"a": true, "d-1": true, "d-1-title": true, "": true, "g": true}; !maps.Equal(ids, want) {
		t.Errorf("got %v, want %v", ids, want)
	}
}

// TestSay: a pattern with every argument that it takes, and writers that are put into each other.
func TestSay(t *testing.T) {
	if got, want := say("<b>%s</b> %d %% %s %s|", "a<b", 12, markup("<i>"), 1.5), markup("<b>a&lt;b</b> 12 % <i> 1.5|"); got != want {
		t.Errorf("say gives %s, want %s", got, want)
	}
	var outer writer
	outer.put("[")
	for range 3 {
		var inner writer
		inner.say("%s", strings.Repeat("x", 3))
		outer.put(inner.markup(), inner.markup())
	}
	outer.put("]")
	if got := outer.markup(); got != "[xxxxxxxxx]" {
		t.Errorf("writers within each other give %s", got)
	}
	if outer.Len() != 0 || outer.markup() != "" {
		t.Error("a writer whose markup was taken is not empty")
	}
}

// TestPieces: what is long is not copied, a full buffer is emptied behind a tag and a line's end only, and the pieces together are what was put.
func TestPieces(t *testing.T) {
	long := markup("<p>" + strings.Repeat("x", longMarkup) + "</p>\n")
	var w writer
	w.put("<div>", long, "</div>\n")
	w.say("<p>%s</p>", "end")
	got := w.pieces()
	if len(got) != 3 || got[0] != "<div>" || got[1] != long || got[2] != "</div>\n<p>end</p>" {
		t.Errorf("there are %d pieces: %.100q", len(got), got)
	}
	if w.Len() != 0 || w.pieces() != nil {
		t.Error("a writer whose pieces were taken is not empty")
	}
	var want strings.Builder
	for i := range 4 * fullBuffer / 40 {
		line := say("<a href=\"%s\">%d</a>", "a\n", i) + "\n"
		w.put(`<li class="`, "a\n", `">`, line)
		want.WriteString(`<li class="` + "a\n" + `">` + string(line))
	}
	if w.Len() != want.Len() {
		t.Errorf("%d bytes were put, %d are counted", want.Len(), w.Len())
	}
	got = w.pieces()
	if len(got) < 3 || string(got.markup()) != want.String() {
		t.Errorf("%d pieces are not what was put", len(got))
	}
	checkPieces(t, "lines", got)
	w.put(long, "x")
	if got := w.markup(); got != long+"x" {
		t.Errorf("taken as one they are %.100q", got)
	}
}

// checkPieces fails for a piece that ends within a tag.
func checkPieces(t *testing.T, name string, p pieces) {
	t.Helper()
	for i, m := range p {
		if strings.LastIndexByte(string(m), '<') > strings.LastIndexByte(string(m), '>') {
			t.Errorf("%s: piece %d ends within a tag: %q", name, i, m[strings.LastIndexByte(string(m), '<'):])
		}
	}
}

// TestPagePieces: no page of the sample has a tag in two pieces, and some are in several.
func TestPagePieces(t *testing.T) {
	p, _ := samplePlan(t, nil)
	frames, err := readFrames(templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	b := newBook(p, frames)
	b.readProse()
	most := 0
	for _, p := range b.pages() {
		checkPieces(t, p.name, p.body)
		most = max(most, len(p.body))
	}
	if most < 3 {
		t.Errorf("no page is in more than %d pieces", most)
	}
}

// TestDrawing: a drawing alone is told from anything else, and none of the sample's has a tag that would be turned.
func TestDrawing(t *testing.T) {
	for _, c := range []struct {
		m    markup
		want bool
	}{
		{"<svg x=\"1\"><path d=\"M0 0\"/></svg>\n", true}, {"<svg x=\"1\"></svg>", true}, {"<svg x=\"1\"></svg> <a href=\"x\">y</a>", false}, {"<svg x=\"1\"></svg><a></a><svg x=\"1\"></svg>\n", false},
		{"<p><svg x=\"1\"></svg>\n", false}, {"<svg x=\"1\">", false}, {"", false}, {"</svg>", false},
	} {
		if got := drawing(c.m); got != c.want {
			t.Errorf("%q: a drawing %v, want %v", c.m, got, c.want)
		}
	}
	p, _ := samplePlan(t, nil)
	frames, err := readFrames(templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, p := range newBook(p, frames).pages() {
		for _, m := range p.body {
			if !drawing(m) {
				continue
			}
			n++
			for at := range m {
				if m[at] == '<' && turned(string(m[at+1:])) {
					t.Errorf("on %s a drawing has a %s", p.name, m[at:min(at+40, len(m))])
				}
			}
		}
	}
	if n == 0 {
		t.Error("no drawing stands alone")
	}
}
