package sequence

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/source"
)

func text(words ...string) []job.Text {
	var list []job.Text
	for i, w := range words {
		list = append(list, job.Text{Text: w, Given: true, At: source.Pos{File: "steps/x.md", Line: 3, Col: i + 1}})
	}
	return list
}

// step writes a library step as "name < after after ? trait trait".
func step(line string) *job.Step {
	line, when, _ := strings.Cut(line, "?")
	name, after, _ := strings.Cut(line, "<")
	s := &job.Step{When: text(strings.Fields(when)...), After: text(strings.Fields(after)...)}
	s.Name = strings.TrimSpace(name)
	s.Layer = source.Library
	for i := range s.After {
		s.After[i].At.File = "library/steps/" + s.Name + ".md"
	}
	return s
}

func steps(lines ...string) *job.Job {
	j := &job.Job{}
	for _, l := range lines {
		j.Steps = append(j.Steps, step(l))
	}
	return j
}

func names(s Sequence) string {
	var list []string
	for _, x := range s.Steps {
		list = append(list, x.Step.Name)
	}
	return strings.Join(list, " ")
}

func TestOrder(t *testing.T) {
	for _, c := range []struct {
		name   string
		steps  []string
		traits string
		want   string
	}{
		{"library order where nothing else decides", []string{"a", "b", "c"}, "", "a b c"},
		{"after", []string{"a < c", "b", "c"}, "", "b c a"},
		{"after several", []string{"a < b d", "b", "c", "d"}, "", "b c d a"},
		{"a chain backwards", []string{"a < b", "b < c", "c < d", "d"}, "", "d c b a"},
		{"a trait that the job has", []string{"a", "b ? shoe"}, "shoe", "a b"},
		{"a trait that it has not", []string{"a", "b ? shoe"}, "fillet", "a"},
		{"every trait is needed", []string{"a ? shoe fillet", "b ? shoe"}, "shoe", "b"},
		{"through a step that is not picked", []string{"a < b", "b < c ? never", "c"}, "", "c a"},
		{"through two of them", []string{"a < b", "b < x ? never", "x < c ? never", "c"}, "", "c a"},
		{"through a fork of them", []string{"a < b x", "b < c ? never", "x < d ? never", "c", "d"}, "", "c d a"},
		{"after a step that was dropped", []string{"a < gone", "b"}, "", "a b"},
		{"named twice", []string{"a < b b", "b"}, "", "b a"},
		{"nothing picked", []string{"a ? never"}, "", ""},
		{"no steps", nil, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, problems := Order(steps(c.steps...), strings.Fields(c.traits), nil)
			if len(problems) > 0 {
				t.Fatalf("%+v", problems)
			}
			if names(got) != c.want {
				t.Errorf("got %s, want %s", names(got), c.want)
			}
			for i, s := range got.Steps {
				if s.N != i+1 {
					t.Errorf("%s has number %d", s.Step.Name, s.N)
				}
			}
		})
	}
}

func TestOwnSteps(t *testing.T) {
	order := func(own ...*job.Step) string {
		j := steps("measure", "drill < measure", "set < drill", "hand-over < set")
		for _, s := range own {
			s.Layer = source.Job
			j.Steps = append(j.Steps, s)
		}
		got, problems := Order(j, nil, nil)
		if len(problems) > 0 {
			t.Fatalf("%+v", problems)
		}
		return names(got)
	}
	for _, c := range []struct{ name, got, want string }{
		{"follows what it names", order(step("vacuum < drill")), "measure drill vacuum set hand-over"},
		{"two of them in the order found", order(step("vacuum < drill"), step("look < drill")), "measure drill vacuum look set hand-over"},
		{"one after the other", order(step("look < vacuum"), step("vacuum < drill")), "measure drill vacuum look set hand-over"},
		{"after the later of two", order(step("vacuum < set measure")), "measure drill set vacuum hand-over"},
		{"that names none comes last", order(step("sweep")), "measure drill set hand-over sweep"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if c.got != c.want {
				t.Errorf("got %s, want %s", c.got, c.want)
			}
		})
	}
	t.Run("a replacement keeps the library's place", func(t *testing.T) {
		j := steps("a", "b", "c")
		j.Steps[1].Layer, j.Steps[1].Over = source.Shop, []source.Layer{source.Library}
		if got, _ := Order(j, nil, nil); names(got) != "a b c" {
			t.Errorf("got %s", names(got))
		}
	})
}

func TestCircles(t *testing.T) {
	for _, c := range []struct {
		name    string
		steps   []string
		file    string
		summary string
		order   string // what is still given
	}{
		{"itself", []string{"a < a"}, "library/steps/a.md", "the step a comes after itself", "a"},
		{"two", []string{"a < b", "b < a"}, "library/steps/b.md", "the steps a and b wait for each other in a circle", "b a"},
		{"three, with steps outside", []string{"x < a", "a < b", "b < c", "c < a", "y"}, "library/steps/c.md", "the steps a, b and c wait for each other in a circle", "c b a x y"},
		{"also among steps that are not picked", []string{"a < b ? never", "b < a ? never", "c"}, "library/steps/b.md", "the steps a and b wait for each other in a circle", "c"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, problems := Order(steps(c.steps...), nil, nil)
			if len(problems) != 1 {
				t.Fatalf("got %d problems: %+v", len(problems), problems)
			}
			p := problems[0]
			if p.Summary != c.summary || p.At.File != c.file || p.At.Line != 3 || p.Severity != source.Error || p.Hint == "" || p.Width < 1 {
				t.Errorf("got %+v", p)
			}
			if names(got) != c.order {
				t.Errorf("order %s, want %s", names(got), c.order)
			}
		})
	}
	t.Run("a long one is cut short", func(t *testing.T) {
		j := &job.Job{}
		const n = 50
		for i := range n {
			j.Steps = append(j.Steps, step(fmt.Sprintf("s%d < s%d", i, (i+1)%n)))
		}
		_, problems := Order(j, nil, nil)
		if len(problems) != 1 || !strings.HasSuffix(problems[0].Summary, "s7 and 42 more wait for each other in a circle") || len(problems[0].Notes) != 8 {
			t.Errorf("got %+v", problems)
		}
	})
}

func TestQuantitiesAndTime(t *testing.T) {
	whole := func(n int) job.Whole { return job.Whole{N: n, Given: true} }
	quantities := map[string]Quantity{"balusters": {N: 24, Known: true}, "runs": {N: 2, Known: true}, "fillets": {}}
	of := func(name string) job.Text { return job.Text{Text: name, Given: true} }
	for _, c := range []struct {
		name    string
		minutes job.Minutes
		want    int
		counted bool
		waits   string
	}{
		{"none", job.Minutes{}, 0, false, ""},
		{"once", job.Minutes{Once: whole(30)}, 30, false, ""},
		{"each", job.Minutes{Each: whole(6), Of: of("balusters")}, 144, true, ""}, // 6 · 24
		{"both", job.Minutes{Once: whole(30), Each: whole(20), Of: of("runs")}, 70, true, ""},
		{"each of what is not known", job.Minutes{Once: whole(30), Each: whole(2), Of: of("fillets")}, 30, false, "fillets"},
		{"each of what nobody counted", job.Minutes{Each: whole(2), Of: of("marks")}, 0, false, "marks"},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := steps("a", "b")
			j.Steps[0].Minutes = c.minutes
			j.Steps[1].Minutes = job.Minutes{Once: whole(1)}
			got, problems := Order(j, nil, quantities)
			s := got.Steps[0]
			if s.Minutes != c.want || s.Counted != c.counted || s.Waits != c.waits || got.Minutes != c.want+1 || len(problems) > 0 {
				t.Errorf("got %d minutes, counted %v, waits for %q, in all %d, %+v", s.Minutes, s.Counted, s.Waits, got.Minutes, problems)
			}
		})
	}
	t.Run("each of nothing", func(t *testing.T) {
		j := steps("a")
		j.Steps[0].Minutes.Each = job.Whole{N: 6, Given: true, At: source.Pos{File: "steps/a.md", Line: 4, Col: 9}}
		_, problems := Order(j, nil, quantities)
		if len(problems) != 1 || problems[0].Severity != source.Warning || problems[0].At.Line != 4 {
			t.Errorf("got %+v", problems)
		}
	})
	t.Run("shown", func(t *testing.T) {
		j := steps("a")
		j.Steps[0].Quantities = text("balusters", "fillets", "marks")
		got, _ := Order(j, nil, quantities)
		want := []Quantity{{Name: "balusters", N: 24, Known: true}, {Name: "fillets"}, {Name: "marks"}}
		if diff := cmp.Diff(want, got.Steps[0].Quantities); diff != "" {
			t.Error(diff)
		}
	})
}

func TestCautions(t *testing.T) {
	caution := func(name string, when ...string) *job.Caution {
		c := &job.Caution{When: text(when...)}
		c.Name = name
		return c
	}
	j := steps("a", "b")
	j.Cautions = []*job.Caution{caution("dust"), caution("lead", "old"), caution("rags", "oil"), caution("gates")}
	j.Steps[0].Cautions = text("rags", "dust", "dust", "lead", "unheard-of")
	j.Steps[1].Cautions = text("dust")
	got, _ := Order(j, []string{"oil"}, nil)
	name := func(list []*job.Caution) string {
		var s []string
		for _, c := range list {
			s = append(s, c.Name)
		}
		return strings.Join(s, " ")
	}
	if got := name(got.Cautions); got != "dust rags gates" {
		t.Errorf("in all: %s", got)
	}
	if got := name(got.Steps[0].Cautions); got != "rags dust" {
		t.Errorf("at the first step: %s", got)
	}
	if got := name(got.Steps[1].Cautions); got != "dust" {
		t.Errorf("at the second step: %s", got)
	}
}

// Omitting and replacing a step is package job's; its order here is what comes of it.
func TestOfAFolder(t *testing.T) {
	documents := jobtest.Read(t, source.Library, "library/", map[string]string{
		"steps/10-measure.md": "kind: step", "steps/20-drill.md": "kind: step\nafter: measure", "steps/30-plug.md": "kind: step\nafter: drill", "steps/40-set.md": "kind: step\nafter: drill",
	})
	documents = append(documents, jobtest.Read(t, source.Shop, "shop/", map[string]string{"plug.md": "kind: step\nomit: yes", "drill.md": "kind: step\ntitle: Drill with the jig\nafter: measure"})...)
	documents = append(documents, jobtest.Read(t, source.Job, "", map[string]string{"job.md": "kind: job", "steps/cat.md": "kind: step\nafter: [measure]", "steps/set.md": "kind: step\nafter: [drill, cat]"})...)
	j := jobtest.Decode(t, documents)
	got, problems := Order(j, j.Traits(), nil)
	if len(problems) > 0 || names(got) != "measure cat drill set" || got.Steps[2].Step.Title.Text != "Drill with the jig" {
		t.Errorf("got %s, %+v", names(got), problems)
	}
}

// On steps that name each other at random, without circles: the order has every picked step once, each after all it names, at
// once or through steps that were not picked; and it is the same when asked again.
func TestOrderHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 30).Draw(t, "steps")
		level := rapid.Permutation(seq(n)).Draw(t, "levels") // a step names only those of a lower level
		j := &job.Job{}
		for i := range n {
			s := &job.Step{}
			s.Name = strconv.Itoa(i)
			s.Layer = rapid.SampledFrom([]source.Layer{source.Library, source.Library, source.Job}).Draw(t, "layer")
			if rapid.IntRange(0, 2).Draw(t, "when") == 0 {
				s.When = text("never")
			}
			for k := range n {
				if level[k] < level[i] && rapid.IntRange(0, 4).Draw(t, "after") == 0 {
					s.After = append(s.After, text(strconv.Itoa(k))...)
				}
			}
			j.Steps = append(j.Steps, s)
		}
		got, problems := Order(j, nil, nil)
		if len(problems) > 0 {
			t.Fatalf("a circle that is none: %+v", problems)
		}
		at := map[string]int{}
		for i, s := range got.Steps {
			if _, twice := at[s.Step.Name]; twice || len(s.Step.When) > 0 {
				t.Fatalf("step %s stands twice, or was not picked", s.Step.Name)
			}
			at[s.Step.Name] = i
		}
		// reach[i][k]: i comes after k, however many steps stand between. Worked out by squaring, unlike the order itself.
		reach := make([][]bool, n)
		for i, s := range j.Steps {
			reach[i] = make([]bool, n)
			for _, a := range s.After {
				k, _ := strconv.Atoi(a.Text)
				reach[i][k] = true
			}
		}
		for m := range n {
			for i := range n {
				for k := range n {
					reach[i][k] = reach[i][k] || reach[i][m] && reach[m][k]
				}
			}
		}
		for i, s := range j.Steps {
			pi, ok := at[s.Name]
			if ok != (len(s.When) == 0) {
				t.Fatalf("step %s was left out", s.Name)
			}
			for k := range n {
				if pk, okK := at[strconv.Itoa(k)]; ok && okK && reach[i][k] && pk > pi {
					t.Fatalf("%d stands before %d in %s", i, k, names(got))
				}
			}
		}
		if again, _ := Order(j, nil, nil); names(again) != names(got) {
			t.Fatalf("%s, then %s", names(got), names(again))
		}
	})
}

// With any names at all, circles too, every picked step is still there once.
func TestOrderLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "steps")
		j := &job.Job{}
		for i := range n {
			s := &job.Step{After: text(rapid.SliceOfN(rapid.StringMatching("[0-9]"), 0, 3).Draw(t, "after")...)}
			s.Name = strconv.Itoa(i)
			j.Steps = append(j.Steps, s)
		}
		got, _ := Order(j, nil, nil)
		seen := map[string]bool{}
		for _, s := range got.Steps {
			seen[s.Step.Name] = true
		}
		if len(seen) != n || len(got.Steps) != n {
			t.Fatalf("%d steps became %s", n, names(got))
		}
	})
}

func seq(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

func BenchmarkOrder(b *testing.B) {
	j := &job.Job{}
	for i := range 60 { // as many as the library has, and some
		s := step(fmt.Sprintf("s%d", i))
		for k := max(0, i-3); k < i; k++ {
			s.After = append(s.After, text(fmt.Sprintf("s%d", k))...)
		}
		if i%4 == 0 {
			s.When = text("never")
		}
		j.Steps = append(j.Steps, s)
	}
	for b.Loop() {
		Order(j, nil, nil)
	}
}

// TestDone: what comes next is the first step that is not done, what is left is the time of those that are not, and a step done past an open hold point says so.
func TestDone(t *testing.T) {
	j := &job.Job{
		Steps: []*job.Step{
			{Origin: job.Origin{Name: "look"}, Minutes: job.Minutes{Once: job.Whole{N: 10, Given: true}}},
			{Origin: job.Origin{Name: "settle"}, Hold: job.Text{Text: "it is settled", Given: true}, Minutes: job.Minutes{Once: job.Whole{N: 5, Given: true}}},
			{Origin: job.Origin{Name: "cut"}, Minutes: job.Minutes{Once: job.Whole{N: 60, Given: true}}},
		},
		Done: []job.Ticked{{Step: job.Text{Text: "look", Given: true}, Day: job.Text{Text: "2026-11-09", Given: true}}, {Step: job.Text{Text: "cut", Given: true}, Day: job.Text{Text: "2026-11-10", Given: true}}},
	}
	s, problems := Order(j, nil, nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	if s.Next() != 1 || s.Left != 5 || s.Minutes != 75 {
		t.Errorf("next %d, %d of %d min left; want 1, 5 of 75", s.Next(), s.Left, s.Minutes)
	}
	if s.Steps[0].Done != "2026-11-09" || s.Steps[0].Past != "" || s.Steps[2].Past != "settle" {
		t.Errorf("%+v", s.Steps)
	}
	j.Done = append(j.Done, job.Ticked{Step: job.Text{Text: "settle", Given: true}, Day: job.Text{Text: "2026-11-10", Given: true}})
	if s, _ = Order(j, nil, nil); s.Next() != 3 || s.Left != 0 || s.Steps[2].Past != "" {
		t.Errorf("all done: next %d, %d min left, %+v", s.Next(), s.Left, s.Steps[2])
	}
}

// TestPrinted: hours are printed to the next five minutes, by hand, and what begins when something is dry is never printed before that.
func TestPrinted(t *testing.T) {
	for minutes, want := range map[int]string{480: "8:00", 481: "8:05", 484: "8:05", 485: "8:05", 606: "10:10", 1439: "0:00", 0: "0:00", -1: "0:00", -4: "0:00", -5: "23:55", -9: "23:55"} {
		if got := Clock(Printed(minutes)); got != want {
			t.Errorf("%d: %s, want %s", minutes, got, want)
		}
	}
	for m := -20; m < 20; m++ {
		if a, b := Printed(m), Printed(m+1); a > b || a < m || a > m+4 {
			t.Errorf("%d is printed as %d, %d as %d", m, a, m+1, b)
		}
	}
}
