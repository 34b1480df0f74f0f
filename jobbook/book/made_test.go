package book

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"balustrade/jobbook/job"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
)

// madePlan is the job in jobbook/testdata/made-job: measured again after half of it was made.
func madePlan(t testing.TB) *plan.Plan {
	t.Helper()
	var documents []source.Document
	for _, l := range []struct {
		dir    string
		layer  source.Layer
		prefix string
		skip   []string
	}{{"../../templates/library", source.Library, "library/", nil}, {"../testdata/made-job/shop", source.Shop, "shop/", nil}, {"../testdata/made-job", source.Job, "", []string{"shop"}}} {
		folder, err := source.Read(os.DirFS(l.dir), l.layer, l.prefix, l.skip...)
		if err != nil || len(folder.Problems) > 0 {
			t.Fatalf("%v %v", err, folder.Problems)
		}
		documents = append(documents, folder.Documents...)
	}
	j, problems := job.Decode(documents, nil)
	if len(problems) > 0 {
		t.Fatalf("%+v", problems)
	}
	p, problems := plan.Make(j, nil)
	if len(problems) > 0 {
		t.Fatalf("%+v", problems)
	}
	return p
}

// TestMadePages compares what the book says of pieces that are made with what a person has read: the page, the cutting plan with its lines to copy, the cut list and the table for a spreadsheet.
func TestMadePages(t *testing.T) {
	files, problems, err := Render(madePlan(t), templatesFolder())
	if err != nil || source.AnyError(problems) {
		t.Fatalf("%v %v", err, problems)
	}
	list := byPath(files)
	for _, path := range []string{"made.html", "cutting.html", "cut-list.html", "data/made.csv"} {
		golden(t, filepath.Join("testdata", "made", filepath.Base(path)), list[path])
	}
	if !strings.Contains(list["index.html"], "1 piece that was made already is lost") {
		t.Error("the first page does not say that a piece is lost")
	}
}

// TestRecordLines reads the lines that the book prints back: they say what was made as it is planned, and then everything fits as it is.
func TestRecordLines(t *testing.T) {
	files, _, err := Render(madePlan(t), templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	page := byPath(files)["cutting.html"]
	var text strings.Builder
	for i, m := range regexp.MustCompile(`(?s)<pre class="paste">(.*?)</pre>`).FindAllStringSubmatch(page[strings.Index(page, `id="record"`):], -1) {
		body := strings.NewReplacer("&#34;", `"`, "&quot;", `"`, "&amp;", "&").Replace(m[1])
		if i == 0 {
			body, _, _ = strings.Cut(body, "sticks:")
		}
		text.WriteString(body)
	}
	documents := []source.Document{}
	for _, l := range []struct {
		dir    string
		layer  source.Layer
		prefix string
		skip   []string
	}{{"../../templates/library", source.Library, "library/", nil}, {"../testdata/made-job", source.Job, "", []string{"shop", "made"}}} {
		folder, err := source.Read(os.DirFS(l.dir), l.layer, l.prefix, l.skip...)
		if err != nil {
			t.Fatal(err)
		}
		documents = append(documents, folder.Documents...)
	}
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "1.md"), []byte("---\n"+text.String()+"---\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	folder, err := source.Read(os.DirFS(dir), source.Job, "made/")
	if err != nil || len(folder.Problems) > 0 {
		t.Fatalf("%v %+v\n%s", err, folder.Problems, text.String())
	}
	j, problems := job.Decode(append(documents, folder.Documents...), nil)
	if len(problems) > 0 {
		t.Fatalf("%+v\n%s", problems, text.String())
	}
	again, _ := plan.Make(j, nil)
	if len(again.Takeoff.Made.Pieces) == 0 {
		t.Fatal("no piece is read")
	}
	for _, x := range again.Takeoff.Made.Pieces {
		if x.Mark != x.Of.Mark.Text || x.Fate.String() != "fits as it is" {
			t.Errorf("%s %s as %s: %s", x.Of.Mark.Text, x.Fate, x.Mark, x.Why)
		}
	}
}
