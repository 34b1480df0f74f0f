package job_test

import (
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/source"
)

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
	documents := jobtest.Read(t, source.Job, "", files)
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
	t.Run("nothing is laid over where nothing is written", func(t *testing.T) {
		for _, text := range []string{"job:", "runs:", "runs: {r: }", "all-runs:", "settings:", "job: {}", "runs: {r: {}}", "title:"} {
			base, other, problems := laidOver(t, text)
			if len(problems) > 0 || other.Height != base.Height || len(other.Runs) != 2 || other.Runs[0].Clear("floor") != base.Runs[0].Clear("floor") || len(base.Alternatives[0].Changes) > 0 {
				t.Errorf("%s: %+v", text, problems)
			}
		}
	})
	t.Run("lists are replaced whole", func(t *testing.T) {
		_, other, problems := laidOver(t, "runs: {r: {clear: [{at: 0, read: 59}, {at: 30, read: 58}], joints: [10, 20]}}")
		if len(problems) > 0 {
			t.Fatalf("%+v", problems)
		}
		if r := other.Runs[0]; len(r.Clears) != 2 || r.Clears[1].At.Length != 30*25_400_000 || len(r.Joints) != 2 {
			t.Errorf("%+v", r)
		}
	})
	t.Run("a post that a run comes to is new", func(t *testing.T) {
		_, other, problems := laidOver(t, "job: {posts: {b: {newel: m}}}\nruns: {r: {to: b}}")
		if len(problems) > 0 || len(other.Posts) != 2 || other.Runs[0].To.Post == nil || other.Runs[0].To.Post.Name != "b" {
			t.Errorf("%+v %+v", problems, other.Posts)
		}
	})
	t.Run("a key left blank is a reading to take", func(t *testing.T) {
		if _, other, problems := laidOver(t, "job: {height: }"); len(problems) > 0 || other.Height.Top.Given {
			t.Errorf("%+v %+v", problems, other.Height)
		}
	})
	for text, want := range map[string]string{
		"runs: {rr: {most: 3}}":          `alternatives/1-x.md:3:8: no run is named "rr" (did you mean r?)`,
		"runs: {r: {mots: 3}}":           `alternatives/1-x.md:3:12: unknown key "mots" in a run (did you mean most?)`,
		"jobs: {height: 3}":              `alternatives/1-x.md:3:1: unknown key "jobs" in an alternative (did you mean job?)`,
		"units: mm":                      `alternatives/1-x.md:3:8: an alternative is in the units of its job (write the unit with each length, as in 90 mm)`,
		"job: 40":                        `alternatives/1-x.md:3:6: want keys and values for job, found "40" (write a key and its value below it)`,
		"runs: {r: 3}":                   `alternatives/1-x.md:3:11: want keys and values for r, found "3" (write a key and its value below the run's name)`,
		"runs:\n  r: {kind: flight}":     `alternatives/1-x.md:4:7: an alternative does not change the kind of a file (leave the key out)`,
		"job: {units: mm}":               `alternatives/1-x.md:3:7: an alternative is in the units of the file that it is laid over (write the unit with each length, as in 90 mm)`,
		"all-runs: {mots: 3}":            `alternatives/1-x.md:3:12: unknown key "mots" in a run or a flight (did you mean most?)`,
		"all-runs: [most]":               `alternatives/1-x.md:3:11: want keys and values for all-runs, found a list (write a key and its value below it)`,
		"runs: r":                        `alternatives/1-x.md:3:7: want keys and values for runs, found "r" (write a run's name, and its keys below it)`,
		"job: {posts: {aa: {newel: m}}}": `alternatives/1-x.md:3:15: no post is named "aa" (did you mean a?)`,
		"settings: {fit: soft}":          `alternatives/1-x.md:3:17: "soft" has no digits, a length is wanted (write a length such as 94 7/16, 7' 10 7/16" or 2399 mm)`,
		"job: {height: 38 1/3 1}":        `alternatives/1-x.md:3:15: "38 1/3 1" is not a length (write a length such as 94 7/16, 7' 10 7/16" or 2399 mm)`,
		"job: {posts: {a: {newel: q}}}":  `alternatives/1-x.md:3:26: no newel is named "q" (known: m, n)`,
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

// TestAllRuns: a key goes to the runs and flights that can have it, and to those alone.
func TestAllRuns(t *testing.T) {
	documents := jobtest.Read(t, source.Job, "", map[string]string{
		"job.md":             "kind: job",
		"runs/1-hall.md":     "kind: run\nfrom: wall\nto: wall\nclear: 60",
		"runs/2-stair.md":    "kind: flight\nfrom: wall\nto: wall",
		"alternatives/x.md":  "kind: alternative\nall-runs: {per-tread: 3, match: halls, most: 3}",
		"alternatives/10.md": "kind: alternative",
	})
	base, problems := job.Decode(documents, nil)
	over, more := base.Alternatives[1].Over(documents)
	other, last := job.Decode(over, nil)
	if problems = append(append(problems, more...), last...); len(problems) > 0 {
		t.Fatalf("%+v", problems)
	}
	hall, stair := other.Runs[0], other.Runs[1]
	if hall.Match.Text != "halls" || hall.Most.Length != 3*25_400_000 || stair.Stair.PerTread.N != 3 || stair.Most.Length != 3*25_400_000 {
		t.Errorf("%+v %+v", hall, stair)
	}
}

// TestKeep: readings stay where they were taken. The job's rail was read at 36 3/4, the alternative's own reading is at its own 40 3/4; a flight's is to be read again.
func TestKeep(t *testing.T) {
	const in = 25_400_000
	documents := jobtest.Read(t, source.Job, "", map[string]string{
		"job.md":            "kind: job",
		"runs/1-a.md":       "kind: run\nfrom: wall\nto: wall\nclear: {floor: 60, middle: 60 1/16, rail: 60 1/8}",
		"runs/2-b.md":       "kind: run\nfrom: wall\nto: wall\nclear: {floor: 70, rail: 70 1/8}",
		"runs/3-c.md":       "kind: run\nfrom: wall\nto: wall\nclear: {floor: 80, rail: }",
		"runs/4-up.md":      "kind: flight\nfrom: wall\nto: wall\nclear: {level: 90, rake: 110}",
		"alternatives/x.md": "kind: alternative\nruns: {b: {clear: {rail: 70 1/4}}}",
	})
	base, _ := job.Decode(documents, nil)
	a := base.Alternatives[0]
	over, problems := a.Over(documents)
	var moved []job.Moved
	for _, name := range []string{"a", "b", "c", "up"} {
		moved = append(moved, job.Moved{Run: name, Was: job.ReadAt{Middle: 19 * in, Rail: 36*in + in*3/4}, Is: job.ReadAt{Middle: 21 * in, Rail: 40*in + in*3/4}})
	}
	other, more := job.Decode(a.Keep(over, moved), nil)
	if problems = append(problems, more...); len(problems) > 0 {
		t.Fatalf("%+v", problems)
	}
	type reading struct {
		Name     string
		At, Read int64
	}
	for i, want := range [][]reading{
		{{"floor", 0, 60 * in}, {"", 19 * in, 60*in + in/16}, {"", 36*in + in*3/4, 60*in + in/8}},
		{{"floor", 0, 70 * in}, {"", 40*in + in*3/4, 70*in + in/4}},
		{{"floor", 0, 80 * in}},
	} {
		var got []reading
		for _, c := range other.Runs[i].Clears {
			got = append(got, reading{c.Name, int64(c.At.Length), int64(c.Read.Length)})
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", other.Runs[i].Name, got, want)
		}
	}
	if at := other.Runs[0].Clears[2].Read.At; at.File != "runs/1-a.md" || at.Line != 5 {
		t.Errorf("the reading at the rail stands at %v", at)
	}
	if s := other.Runs[3].Stair; s.Along.Given || s.Along.At.File != "runs/4-up.md" || s.Level.Length != 90*in {
		t.Errorf("%+v", s)
	}
}
