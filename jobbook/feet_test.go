package jobbook_test

import (
	"regexp"
	"strings"
	"testing"

	"balustrade/jobbook/book"
	"balustrade/jobbook/finding"
)

// TestRowsOnEveryPage: the sample's corner is bolted 2 1/2 and 7 1/2 below the floor and goes down 10, so that its bolts are 7 1/2 and 2 1/2 up from its bottom end (by hand). Whoever bores it reads that where he looks.
func TestRowsOnEveryPage(t *testing.T) {
	_, made := editionsOf(t, "../sample-job", book.Client)
	tags := regexp.MustCompile(`<[^>]*>`)
	const words = "rows 2 1/2 and 7 1/2 below the floor, 7 1/2 and 2 1/2 up from the newel's bottom end"
	for page, want := range map[string]string{"fixings.html": words, "setups.html": words, "posts.html": "Row 2 of the fixings at its foot: 7 1/2 in below the floor, 2 1/2 in up from its bottom end."} {
		text := tags.ReplaceAllString(made[book.Whole][page], "")
		if !strings.Contains(text, want) {
			at := strings.Index(text, "below the floor")
			t.Errorf("%s does not say %q; it says %q", page, want, text[max(at-80, 0):min(max(at, 0)+120, len(text))])
		}
	}
	for _, id := range []string{"post/corner/row/1", "post/corner/row/2/bench"} {
		if !strings.Contains(made[book.Whole]["working.html"], `id="fig-`+strings.ReplaceAll(id, "/", ".")+`"`) {
			t.Errorf("%s has no working", id)
		}
	}
}

// TestNewelThatIsTooShort: 1000 long, bolted 60 and 180 below the floor, under a rail of 905: nothing of it passes before it is known how deep it goes, and once it is it is too short.
func TestNewelThatIsTooShort(t *testing.T) {
	files := func(deep string) map[string]string {
		f := postA("foot: bolted, rows: [60 mm, 180 mm]" + deep)
		f["job.md"] = strings.Replace(f["job.md"], "height: 36", "height: 905 mm", 1)
		f["parts/post.md"] = "kind: newel\nunits: in\nspecies: white oak\nwide: 90 mm\nlong: 1000 mm"
		return f
	}
	verdict := func(deep string) (said []finding.Verdict, asked bool) {
		p := guarded(t, files(deep))
		for _, f := range p.Findings {
			if f.ID == "check/post/a/block" {
				said = append(said, f.Verdict)
			}
		}
		for _, m := range p.Missing {
			asked = asked || strings.HasSuffix(m.Where, "posts: {a: {deep: }}")
		}
		return said, asked
	}
	if said, asked := verdict(""); len(said) != 0 || !asked {
		t.Errorf("without deep: %v, asked %v", said, asked)
	}
	if said, asked := verdict(", deep: 235 mm"); len(said) != 1 || said[0] != finding.Fail || asked {
		t.Errorf("235 deep: %v, asked %v", said, asked)
	}
}

// TestWhichBoltGoesOver: two rails of one height whose bolts meet: the question names the key that the cure is written under. In a rail of 2 1/2 with a bore from below of 1 1/4 a bolt goes up by no more than 3/8 (by hand:
// 1 1/4 - 1/4 - 5/8), and 7/16 are wanted: it is one that goes down.
func TestWhichBoltGoesOver(t *testing.T) {
	f := postA("foot: plate, turn: right 90")
	f["job.md"] += "\nbolt: wide"
	f["parts/wide.md"] = "kind: bolt\nunits: in\nwide: 5/16\nlong: 3 1/2\nin-post: 2\nbore: 3/8\naccess: 1 1/4\nreach: 1 7/8"
	f["runs/2-return.md"] = "kind: run\nfrom: a\nto: {at: wall, held: blocking}\nclear: {floor: 60, rail: 60}"
	p := guarded(t, f)
	found := ""
	for _, m := range p.Missing {
		if strings.HasPrefix(m.What, "which bolt goes over the other") {
			found = m.Where + " / " + m.What
		}
	}
	if !strings.Contains(found, "{bolt-down: } / ") || !strings.Contains(found, "down by 7/16 in (bolt-down: 7/16 in at its end from: of ") {
		t.Errorf("%q", found)
	}
}
