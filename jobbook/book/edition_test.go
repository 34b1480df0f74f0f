package book

import (
	"path/filepath"
	"strings"
	"testing"

	"balustrade/jobbook/sequence"
	"balustrade/jobbook/source"
)

// editionGoldens are pages of editions that a person has read: all of the client's, and of the others those that are not as in the whole book.
var editionGoldens = map[Edition][]string{
	Crew:      {"index.html", "hand-over.html", "notes.html"},
	Client:    {"index.html", "drawings.html", "after.html", "notes.html", "price.html"},
	Inspector: {"index.html", "measured.html", "notes.html"},
}

// TestEditionPages compares pages of the small job's editions with those that a person has read, and checks that each edition is whole.
func TestEditionPages(t *testing.T) {
	seen := map[string]bool{}
	for e, names := range editionGoldens {
		p, _ := samplePlan(t, nil)
		files, problems, err := RenderEdition(p, templatesFolder(), e)
		if err != nil || source.AnyError(problems) {
			t.Fatal(err, problems)
		}
		made := byPath(files)
		t.Run(string(e)+", whole", func(t *testing.T) { checkPages(t, made) })
		for _, name := range names {
			file := filepath.Join("testdata", "editions", string(e)+"-"+name)
			seen[file] = true
			t.Run(string(e)+", "+name, func(t *testing.T) { golden(t, file, made[name]) })
		}
	}
	noOrphans(t, "testdata/editions", seen)
}

// TestEmptyEditions: a job with nothing in it has editions too, whole in themselves.
func TestEmptyEditions(t *testing.T) {
	for _, hand := range handMadePlans() {
		for _, e := range Editions {
			t.Run(hand.name+", "+string(e), func(t *testing.T) {
				files, _, err := RenderEdition(hand.plan, templatesFolder(), e)
				if err != nil {
					t.Fatal(err)
				}
				checkPages(t, byPath(files))
			})
		}
	}
}

// TestUntoldTables: a table with parts and prices in a note for the client is named where it stands, and not in what the client reads.
func TestUntoldTables(t *testing.T) {
	changed := map[string]string{"notes/4-client.md": "---\nfor: client\n---\n\nBefore.\n\n```table buying\n```\n\nBehind.\n"}
	p, folder := samplePlan(t, changed)
	_, problems, err := Render(p, templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	source.Print(&b, problems, folder.Line, func(file string) string { return file })
	if !strings.Contains(b.String(), "notes/4-client.md:7:4: warning: the client's edition leaves the table buying out\n") || !strings.Contains(b.String(), "hint: for the client are: counts, openings, heights, stair") {
		t.Error(b.String())
	}
	p, _ = samplePlan(t, changed)
	files, _, err := RenderEdition(p, templatesFolder(), Client)
	if err != nil {
		t.Fatal(err)
	}
	notes := byPath(files)["notes.html"]
	if !strings.Contains(notes, "Before.") || !strings.Contains(notes, "Behind.") || strings.Contains(notes, "To order") || strings.Contains(notes, "waisted") {
		t.Error(notes)
	}
}

// TestHourWords: what a household is told of hours, worked by hand.
func TestHourWords(t *testing.T) {
	at := func(day, h, m int) int { return day*24*60 + h*60 + m }
	for want, spans := range map[string][][2]int{
		"":                                 {},
		"14:00 to 16:30":                   {{at(3, 14, 6), at(3, 16, 30)}},
		"8:00 to 12:00 and 13:00 to 16:30": {{at(3, 13, 0), at(3, 16, 30)}, {at(3, 8, 28), at(3, 11, 36)}, {at(3, 11, 44), at(3, 12, 0)}},
		"0:00 to 2:30":                     {{at(2, 0, 0), at(2, 2, 4)}},
		"10:30 to midnight":                {{at(2, 10, 30), at(3, 0, 0)}},
	} {
		var list []sequence.Span
		for _, s := range spans {
			list = append(list, sequence.Span{From: s[0], To: s[1]})
		}
		if got := hourWords(list); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
