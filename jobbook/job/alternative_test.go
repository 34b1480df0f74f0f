package job_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
)

func read(t *testing.T, files map[string]string) []source.Document {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, front := range files {
		fsys[name] = &fstest.MapFile{Data: []byte("---\n" + front + "\n---\n")}
	}
	folder, err := source.Read(fsys, source.Job, "")
	if err != nil || len(folder.Problems) > 0 {
		t.Fatalf("%v %v", err, folder.Problems)
	}
	return folder.Documents
}

var plainFiles = map[string]string{
	"job.md":      "kind: job\nheight: 36\nposts: {a: {newel: n, foot: plate}}",
	"runs/1-r.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 60, rail: 61}",
	"runs/2-s.md": "kind: run\nfrom: a\nto: wall\nclear: 70",
	"parts/n.md":  "kind: newel\nwide: 3\nlong: 48",
	"parts/m.md":  "kind: newel\nwide: 4\nlong: 48",
}

// laidOver decodes the job, lays its one alternative over it, and decodes that.
func laidOver(t *testing.T, alternative string) (base, other *job.Job, problems []source.Problem) {
	t.Helper()
	files := map[string]string{"alternatives/1-x.md": "kind: alternative\n" + alternative}
	for name, front := range plainFiles {
		files[name] = front
	}
	documents := read(t, files)
	base, problems = job.Decode(documents, nil)
	if len(base.Alternatives) != 1 {
		t.Fatalf("%d alternatives, %v", len(base.Alternatives), problems)
	}
	over, more := base.Alternatives[0].Over(documents)
	problems = append(problems, more...)
	other, more = job.Decode(over, nil)
	return base, other, append(problems, more...)
}

func TestAlternative(t *testing.T) {
	t.Run("keys of the job, of one run, of all, and settings", func(t *testing.T) {
		base, other, problems := laidOver(t, "title: X\njob: {height: 40, posts: {a: {newel: m}}}\nruns: {r: {clear: {floor: 62}}}\nall-runs: {most: 3}\nsettings: {fit: 1/8}")
		if len(problems) > 0 {
			t.Fatalf("%+v", problems)
		}
		if other.Height.Top.Length != 40*25_400_000 || other.Posts[0].Newel.Text != "m" || other.Posts[0].Foot.Text != "plate" {
			t.Errorf("job: %+v %+v", other.Height, other.Posts[0])
		}
		r, s := other.Runs[0], other.Runs[1]
		if r.Clear("floor").Length != 62*25_400_000 || r.Clear("rail").Length != 61*25_400_000 || !r.Most.Given || !s.Most.Given || s.Clear("floor").Length != 70*25_400_000 {
			t.Errorf("runs: %+v %+v", r.Clears, s.Clears)
		}
		if at := r.Clear("floor").At; at.File != "alternatives/1-x.md" || at.Line != 5 {
			t.Errorf("the reading stands at %v", at)
		}
		if other.Shop.Fit.Length != 25_400_000/8 {
			t.Errorf("settings: %+v", other.Shop.Fit)
		}
		if base.Height.Top.Length != 36*25_400_000 || base.Posts[0].Newel.Text != "n" || base.Runs[0].Most.Given || base.Shop.Fit.Given {
			t.Error("the job itself has changed")
		}
		var changes []string
		for _, c := range base.Alternatives[0].Changes {
			changes = append(changes, c.Of+", "+c.Key+": "+c.Value)
		}
		if got, want := strings.Join(changes, "; "), "job.md, height: 40; job.md, posts: a: newel: m; r, clear: floor: 62; all runs, most: 3; settings, fit: 1/8"; got != want {
			t.Errorf("changes %s\nwant %s", got, want)
		}
	})
	t.Run("a key left blank is a reading to take", func(t *testing.T) {
		if _, other, problems := laidOver(t, "job: {height: }"); len(problems) > 0 || other.Height.Top.Given {
			t.Errorf("%+v %+v", problems, other.Height)
		}
	})
	for text, want := range map[string]string{
		"runs: {rr: {most: 3}}":         `alternatives/1-x.md:3:8: no run is named "rr" (did you mean r?)`,
		"runs: {r: {mots: 3}}":          `alternatives/1-x.md:3:12: unknown key "mots" in a run (did you mean most?)`,
		"jobs: {height: 3}":             `alternatives/1-x.md:3:1: unknown key "jobs" in an alternative (did you mean job?)`,
		"units: mm":                     `alternatives/1-x.md:3:8: an alternative is in the units of its job (write the unit with each length, as in 90 mm)`,
		"job: 40":                       `alternatives/1-x.md:3:6: want keys and values for job, found "40" (write a key and its value below it)`,
		"runs: {r: 3}":                  `alternatives/1-x.md:3:11: want keys and values for r, found "3" (write a key and its value below the run's name)`,
		"job: {posts: {a: {newel: q}}}": `alternatives/1-x.md:3:26: no newel is named "q" (known: m, n)`,
	} {
		t.Run(text, func(t *testing.T) {
			_, _, problems := laidOver(t, text)
			if len(problems) == 0 {
				t.Fatal("no problem")
			}
			if got := problems[0].At.String() + ": " + problems[0].Summary + " (" + problems[0].Hint + ")"; got != want {
				t.Errorf("got  %s\nwant %s", got, want)
			}
		})
	}
}
