package takeoff

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// parts are files that most cases need; a case adds a job.md and its runs.
var parts = map[string]string{
	"parts/stick.md":   "kind: baluster\ntitle: Square stick\nspecies: maple\nwide: 1 1/4\nlong: 36",
	"parts/spindle.md": "kind: baluster\nwide: 1\nlong: 42\ntop: pin\npin: {wide: 3/4, long: 3/4}",
	"parts/rail.md":    "kind: handrail\ntitle: Rail\nwide: 2 1/4\nhigh: 2 3/8\nplow: {wide: 1 1/4, deep: 5/16}",
	"parts/sole.md":    "kind: shoe\ntitle: Shoe\nwide: 2 1/2\nhigh: 3/4\nplow: {wide: 1 1/4, deep: 1/4}",
	"parts/strip.md":   "kind: fillet\nwide: 1 1/4\nthick: 5/16",
	"parts/plate.md":   "kind: rosette\nwide: 4 1/2\nthick: 3/4",
	"parts/post.md":    "kind: newel\ntitle: Square post\nwide: 3 1/2\nlong: 48",
	"runs/1-long.md":   "kind: run\ntitle: Long run\nfrom: wall\nto: corner\nbaluster: stick\nhandrail: rail\nshoe: sole\nfillet: strip",
	"runs/2-short.md":  "kind: run\ntitle: Short run\nfrom: corner\nto: landing\nbaluster: stick\nhandrail: rail\nshoe: sole\nfillet: none",
}

const plainJob = "kind: job\nrosette: plate\nposts: {corner: {newel: post}, landing: {newel: post}}"

func twoRuns(t testing.TB, settings string) *job.Job {
	files := map[string]string{"job.md": plainJob}
	if settings != "" {
		files["settings.md"] = "kind: settings\n" + settings
	}
	return jobtest.Job(t, parts, files)
}

// laid is a layout with nothing known but the runs themselves.
func laid(j *job.Job) layout.Layout {
	var l layout.Layout
	for _, r := range j.Runs {
		l.Runs = append(l.Runs, &layout.Run{ID: "run/" + r.Name, Name: r.Name, Title: r.Title.Text, Job: r})
	}
	return l
}

// in64 is a length in sixty-fourths of an inch.
func in64(n int64) length.Length { return length.Length(n) * length.Inch / 64 }

func inches(n int64) length.Length { return length.Length(n) * length.Inch }

func cut(what, part, run string, count int, long length.Length, which string) layout.Cut {
	return layout.Cut{What: what, Part: part, Run: run, Count: count, Exact: long, Length: long, Which: which, Figure: "run/" + run + "/" + what}
}

func chosen(n int) *layout.Candidate { return &layout.Candidate{Count: n, Chosen: true} }

func need(t testing.TB, list []Need, kind, part string) Need {
	t.Helper()
	for _, n := range list {
		if n.Kind == kind && n.Part == part {
			return n
		}
	}
	t.Fatalf("no need of %s %s in %+v", kind, part, list)
	return Need{}
}

func figure(t testing.TB, list []*working.Figure, id string) *working.Figure {
	t.Helper()
	for _, f := range list {
		if f.ID == id {
			return f
		}
	}
	t.Fatalf("no figure %s", id)
	return nil
}

func TestPiecesInCuttingOrder(t *testing.T) {
	j := twoRuns(t, "")
	l := laid(j)
	short, long := cut("handrail", "rail", "long", 1, inches(41), ""), cut("handrail", "rail", "short", 1, inches(94), "")
	shoe := cut("shoe", "sole", "long", 1, inches(94), "")
	l.Runs[0].Handrail, l.Runs[1].Handrail = &short, &long
	l.Runs[1].Shoe = &shoe
	l.Runs[0].Balusters = []layout.Cut{cut("baluster", "stick", "long", 3, inches(33), "a"), cut("baluster", "stick", "long", 4, inches(34), "b")}
	l.Runs[1].Balusters = []layout.Cut{cut("baluster", "spindle", "short", 2, inches(40), "c"), cut("baluster", "stick", "short", 1, inches(34), "d")}
	l.Runs[0].Fillets = []layout.Cut{cut("shoe fillet", "strip", "long", 5, inches(3), "e"), cut("rail fillet", "strip", "long", 2, 0, "f"), cut("rail fillet", "strip", "long", 5, inches(4), "g")}
	l.Runs[0].Rosettes = []layout.Cut{cut("rosette", "plate", "long", 1, inches(4), "h")}

	newel := cut("newel", "post", "", 1, inches(46), "corner")
	l.Posts = []layout.Post{{Name: "corner", Cut: &newel}, {Name: "landing"}} // the second is not known yet

	var got []string
	for _, c := range Take(j, l).Pieces {
		got = append(got, strings.TrimSpace(c.What+" "+c.Run+" "+c.Which))
	}
	// By hand from the rule: kinds in turn; the longest first within a part; stick, the first part used, before spindle;
	// b before d, equally long, by the order of the runs; a piece without a length last.
	want := []string{
		"newel  corner", "handrail short", "handrail long", "shoe long",
		"baluster long b", "baluster short d", "baluster long a", "baluster short c",
		"rail fillet long g", "shoe fillet long e", "rail fillet long f", "rosette long h",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestSpareBalusters(t *testing.T) {
	// By hand: n·p/100 rounded up, one at least.
	for _, c := range []struct {
		name           string
		settings       string
		long, short    int
		spare, ordered int
	}{
		{"1.5 is rounded up to 2", "spare: 5 %", 17, 13, 2, 32},
		{"exactly 1 stays 1", "spare: 5 %", 13, 7, 1, 21},
		{"just over 1 makes 2", "spare: 5 %", 13, 8, 2, 23},
		{"one at least", "spare: 5 %", 2, 1, 1, 4},
		{"a part of a per cent", "spare: 5.5 %", 20, 20, 3, 43},
		{"none needed, none spare", "spare: 5 %", 0, 0, 0, 0},
		{"a setting of 0", "spare: 0 %", 17, 13, 0, 30},
		{"no setting", "", 17, 13, 0, 30},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := twoRuns(t, c.settings)
			l := laid(j)
			l.Runs[0].Chosen, l.Runs[1].Chosen = chosen(c.long), chosen(c.short)
			got := Take(j, l)
			n := need(t, got.Needs, "baluster", "stick")
			if n.Count != c.long+c.short || n.Spare != c.spare || n.Order != c.ordered {
				t.Errorf("count %d spare %d order %d, want %d %d %d", n.Count, n.Spare, n.Order, c.long+c.short, c.spare, c.ordered)
			}
			f := figure(t, got.Figures, n.Figure)
			if f.ID != "order/baluster/stick" || !f.Value.Known() || f.Value.Cmp(exact.Of(int64(c.ordered))) != 0 {
				t.Errorf("figure %s gives %s, want %d", f.ID, f.Result(), c.ordered)
			}
			if !n.Complete || n.Bought != inches(36) || n.Title != "Square stick" || n.Species != "maple" {
				t.Errorf("got %+v", n)
			}
		})
	}
	t.Run("printed", func(t *testing.T) {
		j := twoRuns(t, "spare: 5 %")
		l := laid(j)
		l.Runs[0].Chosen, l.Runs[1].Chosen = chosen(17), chosen(13)
		got := Take(j, l)
		f := figure(t, got.Figures, "order/baluster/stick")
		if f.Symbols() != "N + max(1, up(N * p / 100, 1))" || f.Numbers() != "30 + max(1, up(30 * 5 / 100, 1))" {
			t.Errorf("%s, %s", f.Symbols(), f.Numbers())
		}
		if n := figure(t, got.Figures, "order/baluster/stick/count"); n.Numbers() != "17 + 13" {
			t.Errorf("count is %s", n.Numbers())
		}
	})
}

func TestNewels(t *testing.T) {
	j := jobtest.Job(t, parts, map[string]string{
		"job.md":        "kind: job\nposts: {corner: {newel: post}, landing: {newel: half}, end: {newel: post}, top: {}}",
		"parts/half.md": "kind: newel\nhalf: yes\nwide: 3 1/2\nlong: 48",
	})
	got := Take(j, laid(j))
	if n := need(t, got.Needs, "newel", "post"); n.Count != 2 || n.Order != 2 || n.Spare != 0 || n.Bought != inches(48) {
		t.Errorf("got %+v", n)
	}
	if n := need(t, got.Needs, "newel", "half"); n.Order != 1 {
		t.Errorf("got %+v", n)
	}
	found := false
	for _, m := range got.Missing {
		found = found || m.What == "which newel stands at top" && m.At.File == "job.md" && m.At.Line == 3
	}
	if !found {
		t.Errorf("the post without a newel is not named: %+v", got.Missing)
	}
}

// A shoe that is cut at a step in the floor is two pieces to cut and to buy: 36 and 60 are 96.
func TestShoeInPieces(t *testing.T) {
	j := twoRuns(t, "")
	l := laid(j)
	first, second := cut("shoe", "sole", "long", 1, inches(36), ""), cut("shoe", "sole", "long", 1, inches(60), "")
	l.Runs[0].Shoe, l.Runs[0].ShoeMore = &first, []layout.Cut{second}
	got := Take(j, l)
	if n := need(t, got.Needs, "shoe", "sole"); n.Running != inches(96) || n.Longest != inches(60) || n.Count != 2 || n.Order != 2 {
		t.Errorf("got %+v", n)
	}
	if len(got.Pieces) != 2 || got.Pieces[0].Length != inches(60) || got.Pieces[1].Length != inches(36) {
		t.Errorf("pieces %+v", got.Pieces)
	}
}

func TestRunningLengths(t *testing.T) {
	j := twoRuns(t, "")
	l := laid(j)
	a, b := cut("handrail", "rail", "long", 1, in64(6044), ""), cut("handrail", "rail", "short", 1, in64(2656), "") // 94 7/16 and 41 1/2
	s := cut("shoe", "sole", "long", 1, inches(94), "")
	l.Runs[0].Handrail, l.Runs[1].Handrail, l.Runs[0].Shoe = &a, &b, &s
	l.Runs[0].Chosen, l.Runs[1].Chosen = chosen(17), chosen(7)
	l.Runs[0].Fillets = []layout.Cut{
		cut("shoe fillet", "strip", "long", 16, inches(4), ""), cut("shoe fillet", "strip", "long", 2, inches(3), ""),
		cut("rail fillet", "strip", "long", 16, inches(4), ""), cut("rail fillet", "strip", "long", 2, 0, "the first and the last"),
	}
	got := Take(j, l)

	t.Run("handrail", func(t *testing.T) {
		n := need(t, got.Needs, "handrail", "rail")
		if n.Running != in64(8700) || n.Longest != in64(6044) || n.Count != 2 || n.Order != 2 || !n.Complete { // 135 15/16
			t.Errorf("got %+v", n)
		}
		f := figure(t, got.Figures, "order/handrail/rail")
		if f.ID != n.Figure || f.Numbers() != "94.4375 + 41.5" || f.Result() != "135.9375" || f.Unit != "in" {
			t.Errorf("%s = %s %s", f.Numbers(), f.Result(), f.Unit)
		}
		if in := f.Inputs()[0]; in.Figure != "run/long/handrail" {
			t.Errorf("the length is not linked to the cut: %+v", in)
		}
	})
	t.Run("shoe with a run still to be measured", func(t *testing.T) {
		n := need(t, got.Needs, "shoe", "sole")
		if n.Running != inches(94) || n.Count != 1 || n.Complete {
			t.Errorf("got %+v", n)
		}
		if figure(t, got.Figures, n.Figure).Note == "" {
			t.Error("the figure does not say that it is not the whole")
		}
	})
	t.Run("fillets", func(t *testing.T) {
		n := need(t, got.Needs, "fillet", "strip") // 16·4 + 2·3 + 16·4 = 134, and two pieces more without a length
		if n.Running != inches(134) || n.Count != 36 || n.Longest != inches(4) || n.Complete {
			t.Errorf("got %+v", n)
		}
		if f := figure(t, got.Figures, n.Figure); f.Numbers() != "16 * 4 + 2 * 3 + 16 * 4" {
			t.Errorf("got %s", f.Numbers())
		}
	})
	t.Run("what is waited for, once a run", func(t *testing.T) {
		var why []string
		for _, m := range got.Missing {
			why = append(why, m.Group+": "+m.Why)
		}
		want := []string{"run/long: how much to order: the first and the last rail fillet", "run/short: how much to order: shoe"}
		if diff := cmp.Diff(want, why); diff != "" {
			t.Error(diff)
		}
	})
	t.Run("rosettes", func(t *testing.T) {
		if n := need(t, got.Needs, "rosette", "plate"); n.Order != 1 || figure(t, got.Figures, n.Figure).Result() != "1" {
			t.Errorf("got %+v", n)
		}
	})
	t.Run("kinds in order", func(t *testing.T) {
		var kinds []string
		for _, n := range got.Needs {
			kinds = append(kinds, n.Kind)
		}
		if diff := cmp.Diff([]string{"baluster", "newel", "handrail", "shoe", "fillet", "rosette"}, kinds); diff != "" {
			t.Error(diff)
		}
	})
}

func TestWaiting(t *testing.T) {
	t.Run("a run whose count is not known", func(t *testing.T) {
		j := twoRuns(t, "spare: 5 %")
		l := laid(j)
		l.Runs[0].Chosen = chosen(17)
		got := Take(j, l)
		n := need(t, got.Needs, "baluster", "stick")
		if n.Count != 17 || n.Order != 18 || n.Complete {
			t.Errorf("got %+v", n)
		}
		last := got.Missing[len(got.Missing)-1]
		if last.Group != "run/short" || last.At.File != "runs/2-short.md" || !strings.Contains(last.Why, "balusters") || !strings.Contains(last.What, "Short run") {
			t.Errorf("got %+v", last)
		}
	})
	t.Run("nothing known", func(t *testing.T) {
		j := twoRuns(t, "")
		got := Take(j, laid(j))
		n := need(t, got.Needs, "baluster", "stick")
		if n.Order != 0 || n.Figure != "" || n.Complete {
			t.Errorf("got %+v", n)
		}
		if len(got.Pieces) != 0 {
			t.Errorf("pieces out of nothing: %+v", got.Pieces)
		}
	})
	t.Run("an empty run needs no fillets", func(t *testing.T) {
		j := twoRuns(t, "")
		l := laid(j)
		l.Runs[0].Chosen = chosen(0)
		for _, n := range Take(j, l).Needs {
			if n.Kind == "fillet" {
				t.Errorf("got %+v", n)
			}
		}
	})
	t.Run("an empty job", func(t *testing.T) {
		if got := Take(&job.Job{}, layout.Layout{}); len(got.Needs)+len(got.Pieces)+len(got.Missing) != 0 {
			t.Errorf("got %+v", got)
		}
	})
}

// Every piece of a real layout is taken off, and nothing else.
func TestTakeOfALayout(t *testing.T) {
	j := jobtest.Job(t, parts, map[string]string{
		"job.md":         "kind: job\nrosette: plate\nrules: code\nheight: 38\nposts: {corner: {newel: post}, landing: {newel: post}}",
		"rules/code.md":  "kind: rules\nlimits:\n  guard-opening: {under: 4, clause: A, status: published}",
		"runs/1-long.md": "kind: run\nfrom: wall\nto: corner\nclear: {floor: 94 7/16, rail: 94 7/16}\nbaluster: stick\nhandrail: rail\nshoe: sole\nfillet: strip",
		"settings.md":    "kind: settings\nspare: 5 %",
	})
	j.Runs = j.Runs[:1]
	l := layout.Lay(j)
	got := Take(j, l)
	if l.Runs[0].Chosen == nil {
		t.Fatalf("the run is not laid out: %+v", l.Runs[0].Missing)
	}
	n := need(t, got.Needs, "baluster", "stick")
	if n.Count != l.Runs[0].Chosen.Count || n.Order != n.Count+1 { // 5 % of fewer than twenty is one
		t.Errorf("got %+v", n)
	}
	if n := need(t, got.Needs, "handrail", "rail"); n.Running != in64(6044)-in64(48) { // 94 7/16 less the rosette, 3/4
		t.Errorf("got %s", n.Running)
	}
	if n := need(t, got.Needs, "fillet", "strip"); n.Count != 2*(l.Runs[0].Chosen.Count+1) { // n + 1 a groove
		t.Errorf("got %+v", n)
	}
}

// TestBolts: one to each end of a rail at a post's face, none at a wall or where the rail goes over, and one to each joint.
func TestBolts(t *testing.T) {
	j := jobtest.Job(t, parts, map[string]string{
		"job.md":         plainJob + "\nbolt: hanger",
		"parts/bolt.md":  "kind: bolt\nlong: 3 1/2",
		"runs/3-over.md": "kind: run\nfrom: {at: landing, over: yes}\nto: wall\njoints: [30, 60]", // two joints, no end
	}, map[string]string{"parts/hanger.md": "kind: bolt\nlong: 3 1/2"})
	got := need(t, Take(j, laid(j)).Needs, "bolt", "hanger")
	if want := 1 + 2 + 2; got.Count != want { // the long run at its corner, the short one at both ends, two joints
		t.Errorf("%d bolts, want %d", got.Count, want)
	}
}
