package book

import (
	"bytes"
	"slices"
	"strings"
	"testing"
)

// TestPassages: a passage that is text and nothing else is what executing its template writes.
func TestPassages(t *testing.T) {
	frames, err := readFrames(templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, of := range frames.templates.Templates() {
		got, ok := frames.passage(of.Name())
		if !ok {
			continue
		}
		seen++
		var want strings.Builder
		if err := frames.templates.ExecuteTemplate(&want, of.Name(), nil); err != nil {
			t.Errorf("%s: %v", of.Name(), err)
		}
		if string(got) != want.String() {
			t.Errorf("%s is %q, want %q", of.Name(), got, want.String())
		}
	}
	if seen < 10 {
		t.Errorf("only %d are text and nothing else", seen)
	}
}

// TestAround: the frame that a book's pages share is what executing the template for each of them writes.
func TestAround(t *testing.T) {
	frames, err := readFrames(templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	headings := []string{"Answers", "Odd & <b>\"bold\"</b> (1/2); \\ {x} + 'y'", "", "Größe", " ", "-", "Heading", "a, b - c 9"}
	for _, p := range allPages {
		headings = append(headings, p.title)
	}
	for _, c := range []cover{
		{Job: "Larkspur Lane", Build: "0123456789ab", Style: "style.css"},
		{Job: "Heading & <i>'odd'</i>\n\"+;{}\\", Client: "Heading", Place: "</style>", Measured: "2026-01-02", Build: "ba9876543210", Edition: "The crew’s", ForClient: true},
		{Job: "", Measured: "0 0", Build: "abc"},
	} {
		c.around = new(around)
		shared := 0
		for _, heading := range headings {
			p := c.page(page{name: "x", title: heading})
			var got bytes.Buffer
			if !frames.around(&got, pageFrame, p) {
				if got.Len() > 0 {
					t.Errorf("%q: nothing was to be written", heading)
				}
				continue
			}
			shared++
			var want bytes.Buffer
			if err := frames.templates.ExecuteTemplate(&want, pageFrame, p); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(got.Bytes(), want.Bytes()) {
				t.Errorf("%q in %q:\n%s\nwant\n%s", heading, c.Job, &got, &want)
			}
		}
		if shared < len(allPages) || shared > len(headings)-3 {
			t.Errorf("%d of %d headings share the frame", shared, len(headings))
		}
		if p := c.page(page{name: "index", title: "Answers"}); frames.around(new(bytes.Buffer), pageFrame, p) {
			t.Error("the first page has a title of its own")
		}
	}
	if !slices.ContainsFunc(headings, plainHeading) || plainHeading("a<b") || plainHeading("a\x00b") || plainHeading("a:b") {
		t.Error("which headings are plain is not told")
	}
}
