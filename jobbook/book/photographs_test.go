package book

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/photo"
	"balustrade/jobbook/source"
)

// withPhotographs is the small job with a note and a survey, and copies of some pictures.
func withPhotographs(t *testing.T, note, photos string) (files map[string]string, named []source.Named) {
	t.Helper()
	changed := map[string]string{"notes/9-test.md": note}
	if photos != "" {
		changed["survey/old.md"] = "---\nkind: survey\ntitle: The old guard\nopenings:\n  - {where: at the wall, read: 5 1/8}\nphotos:\n" + photos + "---\n"
	}
	p, _ := samplePlan(t, changed)
	p.Photographs = map[string]*photo.Copy{
		"notes/corner.jpg":  {Name: "corner-copy.jpg", Data: []byte("corner"), Wide: 1600, High: 1200},
		"photos/a wall.png": {Name: "wall-copy.png", Data: []byte("wall"), Wide: 900, High: 1200},
		"survey/corner.jpg": {Name: "corner-copy.jpg", Data: []byte("corner"), Wide: 1600, High: 1200}, // the same bytes
	}
	named = Pictures(p)
	made, problems, err := Render(p, templatesFolder())
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	files = byPath(made)
	checkPages(t, files)
	return files, named
}

const (
	corner = `<img src="photographs/corner-copy.jpg" alt="the corner" width="1600" height="1200" loading="lazy">`
	wall   = `<img src="photographs/wall-copy.png" alt="&lt;the&gt; &#34;wall&#34;" width="900" height="1200" loading="lazy">`
)

// TestPhotographsInWords compares the markup of pictures that words name.
func TestPhotographsInWords(t *testing.T) {
	for name, c := range map[string]struct{ note, want string }{
		"by itself": {"![the corner](corner.jpg)\n",
			"<figure class=\"photo\">" + corner + "<figcaption aria-hidden=\"true\">the corner</figcaption></figure>\n"},
		"with a caption of its own": {"![the corner](corner.jpg \"Before *we* began & after\")\n",
			"<figure class=\"photo\">" + corner + "<figcaption>Before *we* began &amp; after</figcaption></figure>\n"},
		"two, upright and across": {"![the corner](corner.jpg)\n![\\<the> \"wall\"](<../photos/a wall.png>)\n",
			"<figure class=\"photo\">" + corner + "<figcaption aria-hidden=\"true\">the corner</figcaption></figure>\n" +
				"<figure class=\"photo tall\">" + wall + "<figcaption aria-hidden=\"true\">&lt;the&gt; &#34;wall&#34;</figcaption></figure>\n"},
		"from the job's folder": {"![the corner](/notes/./corner.jpg)\n",
			"<figure class=\"photo\">" + corner + "<figcaption aria-hidden=\"true\">the corner</figcaption></figure>\n"},
		"by reference": {"![the corner][c]\n\n[c]: corner.jpg\n",
			"<figure class=\"photo\">" + corner + "<figcaption aria-hidden=\"true\">the corner</figcaption></figure>\n"},
		"in a line": {"Here ![the corner](corner.jpg) it turns.\n",
			"<p>Here <span class=\"photo\">" + corner + "</span> it turns.</p>\n"},
		"in a list": {"- ![the corner](corner.jpg)\n- and words\n",
			"<ul>\n<li>\n<figure class=\"photo\">" + corner + "<figcaption aria-hidden=\"true\">the corner</figcaption></figure>\n</li>\n<li>and words</li>\n</ul>\n"},
		"in a link": {"[![the corner](corner.jpg)](https://example.org)\n",
			"<p><a href=\"https://example.org\" rel=\"noreferrer\"><span class=\"photo\">" + corner + "</span></a></p>\n"},
		"without words": {"![](corner.jpg)\n",
			"<figure class=\"photo\"><img src=\"photographs/corner-copy.jpg\" alt=\"photograph, what it shows is still to be written\" width=\"1600\" height=\"1200\" loading=\"lazy\">" +
				"<figcaption><span class=\"open\">words still to be written</span></figcaption></figure>\n"},
		"one there, one not": {"![the corner](corner.jpg)\n![the stair](stair.jpg)\n",
			"<figure class=\"photo\">" + corner + "<figcaption aria-hidden=\"true\">the corner</figcaption></figure>\n<p>[picture: the stair, in the job's folder: notes/stair.jpg]</p>\n"},
		"not there, without words": {"![](stair.jpg)\n",
			"<p>[picture: what it shows is still to be written, in the job's folder: notes/stair.jpg]</p>\n"},
	} {
		t.Run(name, func(t *testing.T) {
			files, _ := withPhotographs(t, "---\ntitle: Test\n---\n\n"+c.note, "")
			_, got, ok := strings.Cut(files["notes.html"], "<h2>Test</h2>\n")
			_, got, ok2 := strings.Cut(got, "<div class=\"prose\">\n")
			got, _, ok3 := strings.Cut(got, "</div>\n</section>")
			if !ok || !ok2 || !ok3 {
				t.Fatalf("the note is not there:\n%s", files["notes.html"])
			}
			if diff := cmp.Diff(strings.Split(c.want, "\n"), strings.Split(got, "\n")); diff != "" {
				t.Errorf("want -, got +:\n%s", diff)
			}
			if shown := strings.Contains(c.want, "corner-copy"); shown != (files["photographs/corner-copy.jpg"] == "corner") {
				t.Error("the copy is not in the book, or nothing shows it")
			}
		})
	}
}

// TestPhotographsOfASurvey: each stands on the page of readings and in the print edition, one copy for one picture, and what is still to be
// taken or written is said.
func TestPhotographsOfASurvey(t *testing.T) {
	files, named := withPhotographs(t, "![the corner](corner.jpg)\n", `  - {file: corner.jpg, shows: "the corner"}
  - {file: ../photos/a wall.png, shows: }
  - {file: , shows: the stair from below}
  - {file: stair.jpg, shows: the stair}
`)
	want := "<div class=\"photos\">\n" +
		"<figure class=\"photo\">" + corner + "<figcaption aria-hidden=\"true\">the corner</figcaption></figure>\n" +
		"<figure class=\"photo tall\"><img src=\"photographs/wall-copy.png\" alt=\"photograph, what it shows is still to be written\" width=\"900\" height=\"1200\" loading=\"lazy\">" +
		"<figcaption><span class=\"open\">words still to be written</span></figcaption></figure>\n</div>\n"
	page := files["measured.html"]
	if !strings.Contains(page, want) {
		t.Errorf("the survey does not show\n%s", want)
	}
	for _, words := range []string{`>still to be taken</span></a>: the stair from below</p>`, `<p>[picture: the stair, in the job&#39;s folder: survey/stair.jpg]</p>`} {
		if !strings.Contains(page, words) {
			t.Errorf("the survey does not say %s", words)
		}
	}
	if print := files["print.html"]; !strings.Contains(print, strings.ReplaceAll(want, ` loading="lazy"`, "")) || strings.Contains(print, "lazy") {
		t.Error("the print edition has no photographs, or waits for a reader to scroll to them")
	}
	if strings.Contains(files["client.html"], "<img") || files["client.html"] == "" {
		t.Error("the client's document has photographs")
	}
	var copies, places []string
	for path := range files {
		if strings.HasPrefix(path, "photographs/") {
			copies = append(copies, path)
		}
	}
	if len(copies) != 2 {
		t.Errorf("the copies are %v, want two: one is named in two places", copies)
	}
	for _, n := range named {
		if n.At.File == "notes/9-test.md" || n.At.File == "survey/old.md" {
			places = append(places, n.At.String()+" "+n.File)
		}
	}
	if diff := cmp.Diff([]string{"survey/old.md:7:12 survey/corner.jpg", "survey/old.md:8:12 photos/a wall.png", "survey/old.md:10:12 survey/stair.jpg", "notes/9-test.md:1:1 notes/corner.jpg"}, places); diff != "" {
		t.Errorf("named, want -, got +:\n%s", diff)
	}
}
