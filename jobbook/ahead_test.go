package jobbook

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"balustrade/jobbook/book"
	"balustrade/jobbook/source"
)

// TestSeemNamed: what is guessed of the sample is what its book shows, and odd words are no trouble.
func TestSeemNamed(t *testing.T) {
	const sample = "../sample-job"
	documents, _, _, err := read(sample)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Check(sample)
	if err != nil || r.Plan == nil {
		t.Fatal(err, r.Problems)
	}
	var want []string
	for _, n := range book.Pictures(r.Plan) {
		if !slices.Contains(want, n.File) {
			want = append(want, n.File)
		}
	}
	got := seemNamed(documents)
	slices.Sort(got)
	slices.Sort(want)
	if len(want) == 0 || !slices.Equal(got, want) {
		t.Errorf("%q, the book shows %q", got, want)
	}
	odd := []source.Document{
		{File: "notes/1-a.md", Layer: source.Job, Body: "![ ![a](a%20b.jpg \"words\") ![b](</photos/../c.jpg>) ![c](https://example.org/x.jpg) ![d](%zz) ![e]() ![a](/notes/a%20b.jpg) ![f]("},
		{File: "shop/steps/1-a.md", Layer: source.Shop, Body: "![a](a.jpg)"},
		{File: "survey/b.md", Layer: source.Job, Front: &source.Node{Kind: source.Map, Entries: []source.Entry{{Key: "photos", Value: &source.Node{Kind: source.Scalar, Text: "x"}}}}},
	}
	if got, want := seemNamed(odd), []string{"notes/a b.jpg", "c.jpg"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// TestAhead: copies that are begun while a job is planned are those that its book holds, and none is worked out twice; one that is stopped at once leaves nothing under way.
func TestAhead(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	if err := os.CopyFS(dir, os.DirFS("../sample-job")); err != nil {
		t.Fatal(err)
	}
	documents, _, result, err := read(dir)
	if err != nil {
		t.Fatal(err)
	}
	var m Maker
	stop := m.ahead(t.Context(), result.Texts, documents)
	for end := time.Now().Add(time.Minute); m.copies.Made() < 3 && time.Now().Before(end); {
		time.Sleep(time.Millisecond)
	}
	stop()
	if r, _, err := m.Make(t.Context(), dir); err != nil || r.Plan == nil || len(r.Plan.Photographs) != 3 || m.copies.Made() != 3 {
		t.Errorf("%v, %d copies were worked out, want the sample's three", err, m.copies.Made())
	}
	var other Maker
	other.ahead(t.Context(), result.Texts, documents)()
	made := other.copies.Made()
	if r, _, err := other.Make(t.Context(), dir); err != nil || r.Plan == nil || len(r.Plan.Photographs) != 3 || other.copies.Made() != 3 || len(underWay) != 0 {
		t.Errorf("%v, %d and then %d copies were worked out, %d are under way", err, made, other.copies.Made(), len(underWay))
	}
}
