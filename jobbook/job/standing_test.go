package job_test

import (
	"strings"
	"testing"
)

// TestStanding: readings of an old guard that contradict each other, with the place that the terminal shows. Old balusters are 1 1/4 wide.
func TestStanding(t *testing.T) {
	library := files{"old.md": "kind: baluster\nwide: 1 1/4\nlong: 34", "n.md": "kind: newel\nwide: 3\nlong: 48"}
	cases := []struct{ name, standing, more, want string }{
		{name: "as it should be", standing: "{baluster: old, foot: [5, 11, 17], head: [5, 11, 17 1/4], between: 34}"},
		{name: "not increasing", standing: "{baluster: old, foot: [5, 11, 10]}", want: "r.md:6:41: error: old baluster 3 is no farther along than baluster 2, at the shoe"},
		{name: "overlapping", standing: "{baluster: old, foot: [5, 6 1/8]}", want: "r.md:6:37: error: old balusters 1 and 2 overlap, at the shoe"},
		{name: "side by side", standing: "{baluster: old, foot: [5, 6 1/4]}"},
		{name: "up to the end", standing: "{baluster: old, foot: [5, 28 3/4]}"},
		{name: "beyond the clear", standing: "{baluster: old, foot: [5, 28 7/8]}", want: "r.md:6:37: error: old baluster 2 stands beyond the clear of the run, at the shoe"},
		{name: "beyond the clear at the rail", standing: "{baluster: old, foot: [5, 28], head: [5, 31]}", want: "r.md:6:52: error: old baluster 2 stands beyond the clear of the run, under the rail"},
		{name: "not increasing under the rail", standing: "{baluster: old, foot: [5, 28], head: [5, 4]}", want: "old baluster 2 is no farther along than baluster 1, under the rail"},
		{name: "not as many", standing: "{baluster: old, foot: [5, 28], head: [5]}", want: "r.md:6:48: error: 2 readings at the shoe and 1 under the rail"},
		{name: "not one for each gap", standing: "{baluster: old, foot: [5, 28], between: [34, 34]}", want: "r.md:6:51: error: 2 lengths between shoe and rail"},
		{name: "nothing between", standing: "{baluster: old, foot: [5, 28], between: 0}", want: "a length of nothing between shoe and rail"},
		{name: "no such baluster", standing: "{baluster: odl, foot: [5]}", want: `no baluster is named "odl"`},
		{name: "a count of its own", standing: "{baluster: old, foot: [5]}", more: "\ncount: 9", want: "r.md:7:8: error: count is for a run that is laid out anew, and the guard of this run stays"},
		{name: "a count where it goes after all", standing: "{stays: no, baluster: old, foot: [5]}", more: "\ncount: 9"},
		{name: "an unknown key", standing: "{balusters: old}", want: `unknown key "balusters" in standing`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, problems := decode(t, library, nil, files{"job.md": "kind: job\nposts: {a: {newel: n}}", "r.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 30, rail: 30}\nstanding: " + c.standing + c.more})
			if c.want == "" && problems != "" || c.want != "" && !strings.Contains(problems, c.want) {
				t.Errorf("got\n%swant %s", problems, c.want)
			}
		})
	}
}

// TestWhatStays: a post stays where every guard that comes to it does, unless the job says otherwise.
func TestWhatStays(t *testing.T) {
	j, problems := decode(t, files{"n.md": "kind: newel\nwide: 3\nlong: 48"}, nil, files{
		"job.md":      "kind: job\nposts: {a: {newel: n}, b: {newel: n}, c: {newel: n, stays: yes}, d: {newel: n}, e: {newel: n, stays: no}}",
		"runs/1-r.md": "kind: run\nfrom: a\nto: b\nstanding:", "runs/2-s.md": "kind: run\nfrom: b\nto: c", "runs/3-t.md": "kind: run\nfrom: a\nto: e\nstanding: {foot: [9]}", "runs/4-u.md": "kind: run\nfrom: wall\nto: c\nstanding: {stays: no}"})
	if problems != "" {
		t.Fatal(problems)
	}
	for i, want := range []bool{true, false, true, false, false} { // b has a new guard as well, c says so, d has none, e says so
		if p := &j.Posts[i]; j.Stays(p) != want {
			t.Errorf("post %s stays: %v", p.Name, !want)
		}
	}
	for i, want := range []bool{true, false, true, false} {
		if r := j.Runs[i]; r.Stays() != want {
			t.Errorf("run %s stays: %v", r.Name, !want)
		}
	}
	if got := strings.Join(j.Traits(), " "); !strings.Contains(got, "new-guard retrofit") {
		t.Errorf("traits %s", got)
	}
}
