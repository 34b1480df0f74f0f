package book

import (
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
