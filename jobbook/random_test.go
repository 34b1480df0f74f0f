package jobbook_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
)

// inch draws a length in sixteenths, as it is written.
func inch(rt *rapid.T, name string, low, high int) string {
	n := rapid.IntRange(low*16, high*16).Draw(rt, name)
	return fmt.Sprintf("%d %d/16 in", n/16, n%16)
}

// maybe draws a key with its value, the key left blank, or nothing.
func maybe(rt *rapid.T, key string, value func() string) string {
	switch rapid.IntRange(0, 9).Draw(rt, "how "+key) {
	case 0:
		return key + ":\n"
	case 1:
		return ""
	}
	return key + ": " + value() + "\n"
}

func randomEnd(rt *rapid.T, side string) string {
	plumb := ""
	if rapid.IntRange(0, 3).Draw(rt, side+" plumb read") == 0 {
		plumb = fmt.Sprintf(", plumb: {at: %s, %s: %s}", inch(rt, "plumb at", 10, 40), rapid.SampledFrom([]string{"away", "in"}).Draw(rt, "lean"), inch(rt, "lean by", 0, 1))
	}
	switch rapid.IntRange(0, 5).Draw(rt, side+" end") {
	case 0:
		return "wall"
	case 1:
		return "{at: wall, face: baseboard, thick: " + inch(rt, "thick", 0, 1) + ", high: " + inch(rt, "high", 1, 8) + ", stays: " + rapid.SampledFrom([]string{"yes", "no"}).Draw(rt, "stays") + plumb + "}"
	case 2:
		return "{at: wall, thick: 5/8 in, high: 5 in" + plumb + "}"
	case 3:
		return "baseboard"
	case 4:
		return "{at: " + side + "-post" + plumb + "}"
	}
	over := rapid.SampledFrom([]string{"", "", ", over: yes", ", bolt-up: 1/4 in", ", bolt-down: 1/2 in"}).Draw(rt, side+" over")
	return "{at: " + side + "-turned, face: base trim, thick: 1/2, high: 4" + over + plumb + "}"
}

// randomPost draws how one turns at a post, and what is taken off its foot.
func randomPost(rt *rapid.T, name string) string {
	more := ""
	if rapid.Bool().Draw(rt, name+" cut") {
		more += ", off: " + inch(rt, "off", 0, 60)
	}
	if turn := rapid.SampledFrom([]string{"", "right 90", "left 22.5", "straight", "[left 90, right 45]", "[straight]"}).Draw(rt, name+" turn"); turn != "" {
		more += ", turn: " + turn
	}
	return more
}

// randomJob draws a job folder with parts of the library, filled in here and there.
func randomJob(rt *rapid.T) map[string]string {
	library := func(key string, names ...string) string {
		return maybe(rt, key, func() string { return rapid.SampledFrom(names).Draw(rt, key) })
	}
	files := map[string]string{
		"job.md": "kind: job\n" + maybe(rt, "rules", func() string { return "irc-2021" }) +
			maybe(rt, "drop", func() string { return inch(rt, "drop", 20, 120) }) +
			maybe(rt, "height", func() string { return inch(rt, "height", 12, 48) }) +
			"posts: {from-post: {newel: square-3-1-2" + randomPost(rt, "from-post") + "}, from-turned: {newel: turned-3-1-2, foot: let in" + randomPost(rt, "from-turned") + "}, to-post: {newel: box-3-1-2" + randomPost(rt, "to-post") + "}, to-turned: {newel: turned-3-1-2, foot: let in, deep: 3" + randomPost(rt, "to-turned") + "}}\n" +
			library("bolt", "rail-bolt-5-16", "rail-bolt-3-8") +
			library("baluster", "square-1-1-4", "turned-tapered", "round-1-1-4", "own") +
			library("handrail", "rail-plow-1-1-4", "rail-unplowed") + library("shoe", "shoe-1-1-4", "none") + library("fillet", "fillet-1-1-4", "none") + library("rosette", "rosette-round", "none") +
			library("units", "in", "mm") + "finishes: {balusters: water-enamel, handrail: oil-polyurethane}\n",
		"parts/own.md": "kind: baluster\nunits: in\nprofile:\n  - {at: 0, square: 1 1/4}\n  - {at: 7, square: 1 1/4}\n  - {at: 7, round: 1}\n  - {at: 20, round: 5/8}\n  - {at: 30, round: 1}\n  - {at: 30, square: 1 1/4}\n  - {at: 41, square: 1 1/4}\n",
	}
	for i := range rapid.IntRange(1, 3).Draw(rt, "runs") {
		clear := inch(rt, "clear", 0, 160)
		run := "kind: run\nunits: in\nfrom: " + randomEnd(rt, "from") + "\nto: " + randomEnd(rt, "to") + "\n" +
			maybe(rt, "clear", func() string {
				return "{floor: " + clear + ", rail: " + rapid.SampledFrom([]string{clear, inch(rt, "rail clear", 0, 161), ""}).Draw(rt, "rail") + "}"
			}) +
			maybe(rt, "most", func() string { return inch(rt, "most", 1, 5) }) +
			maybe(rt, "match", func() string { return "all" }) +
			maybe(rt, "radius", func() string { return inch(rt, "radius", 0, 60) }) +
			maybe(rt, "floor-to-come", func() string { return "{what: boards, thick: 3/4}" }) +
			maybe(rt, "stands-on", func() string { return rapid.SampledFrom([]string{"bare", "finished"}).Draw(rt, "stands") })
		if rapid.Bool().Draw(rt, "level read") {
			run += "level:\n"
			for k := range 3 {
				run += fmt.Sprintf("  - {at: %d, down: %s}\n", k*30, inch(rt, "down", 39, 40))
				if rapid.IntRange(0, 5).Draw(rt, "step there") == 0 {
					run += fmt.Sprintf("  - {at: %d, down: %s, step: yes}\n", k*30, inch(rt, "down the step", 32, 47))
				}
			}
		}
		switch rapid.IntRange(0, 4).Draw(rt, "pattern") {
		case 0:
			run += "pattern: centred\n" + maybe(rt, "spacing", func() string { return inch(rt, "spacing", 1, 6) }) + maybe(rt, "centre", func() string { return "gap" })
		case 1:
			run += fmt.Sprintf("count: %d\n", rapid.IntRange(0, 60).Draw(rt, "count"))
		case 2:
			run = regexp.MustCompile("radius:.*\n").ReplaceAllString(run, "")
			run = strings.Replace(strings.Replace(run, "match:\n", "", 1), "match: all\n", "", 1) + randomStanding(rt)
		}
		files[fmt.Sprintf("runs/%d-r%d.md", i+1, i+1)] = run
	}
	for i := range rapid.IntRange(0, 2).Draw(rt, "flights") {
		run := randomFlight(rt)
		if rapid.IntRange(0, 3).Draw(rt, "flight stays") == 0 && !strings.Contains(run, "per-tread") && !strings.Contains(run, "joints") {
			run += randomStanding(rt)
		}
		files[fmt.Sprintf("runs/%d-f%d.md", i+5, i+1)] = run
	}
	switch rapid.IntRange(0, 2).Draw(rt, "an old guard as well") { // of which all the rest is known
	case 0:
		files["runs/8-old.md"] = "kind: run\nunits: in\nfrom: {at: from-post}\nto: {at: to-post}\nclear: {floor: 70, rail: 70}\nheight: 37\ndrop: 90\nbaluster: square-1-1-4\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\nlevel: [{at: 0, down: 40}, {at: 70, down: " +
			inch(rt, "old floor", 39, 40) + "}]\n" + randomStanding(rt)
	case 1:
		files["runs/8-old.md"] = "kind: flight\nunits: in\nfrom: {at: from-post, past: 1, stands: 0}\nto: {at: to-post, before: 3/4, stands: 5}\nclear: {level: 39 1/4, rake: 49 1/16}\nrisers: [7 1/2, 7 1/2, 7 1/2, 7 1/2, 7 1/2]\ngoings: [10, 10, 10, 10]\nnosing: 1\nheight: 36\n" +
			"drop: 37\nbaluster: square-1-1-4-long\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\nshoe-over: 1\nunder-shoe: closed\n" + randomStanding(rt)
	}
	return files
}

// randomStanding draws an old guard that stays, some of its readings blank.
func randomStanding(rt *rapid.T) string {
	n, at := rapid.SampledFrom([]int{0, 1, 2, 3, 4, 5, 6}).Draw(rt, "old ones"), 0
	feet, heads, between := "", "", ""
	blank := func(text string) string {
		if rapid.IntRange(0, 40).Draw(rt, "blank") == 0 {
			text = ""
		}
		return "    - " + text + "\n"
	}
	sixteenths := func(n int) string { return fmt.Sprintf("%d %d/16 in", n/16, n%16) }
	for range n {
		at += rapid.IntRange(0, 150).Draw(rt, "old gap")
		feet += blank(sixteenths(at))
		heads += blank(sixteenths(at + rapid.IntRange(0, 8).Draw(rt, "old lean")))
		at += 20
	}
	for range n + 1 {
		between += blank(inch(rt, "old between", 20, 40))
	}
	if rapid.Bool().Draw(rt, "between read once") {
		between = blank(inch(rt, "old between", 20, 40))
	}
	text := "standing:\n" + rapid.SampledFrom([]string{"  baluster: own\n", "  baluster: square-1-1-4\n", "  baluster: turned-tapered\n", "  baluster: own\n  stays: yes\n", "  baluster:\n", "  stays: no\n"}).Draw(rt, "old baluster")
	if n > 0 {
		text += "  foot:\n" + feet
		if rapid.Bool().Draw(rt, "heads read") {
			text += "  head:\n" + heads
		}
	}
	return text + "  between:\n" + between
}

// randomFlight draws a stair with the readings of its guard, some of them blank or missing, some that do not go together.
func randomFlight(rt *rapid.T) string {
	risers := rapid.IntRange(2, 18).Draw(rt, "risers")
	steps := func(name string, n, low, high int) func() string {
		return func() string {
			if rapid.IntRange(0, 5).Draw(rt, name+" how") == 0 {
				return fmt.Sprintf("{count: %d, total: %s}", max(n, 1), inch(rt, name+" total", n*low+1, n*high+2))
			}
			var list []string
			for range n {
				list = append(list, inch(rt, name, low, high))
			}
			return "[" + strings.Join(list, ", ") + "]"
		}
	}
	end := func(side string) string {
		where := rapid.SampledFrom([]string{side + "-post", side + "-turned", "wall"}).Draw(rt, side+" of flight")
		return "{at: " + where + rapid.SampledFrom([]string{", before: 2", ", past: 0", ", past: 3 1/2", "", ", past: 1, plumb: {at: 30, away: 1/4}", ", past: 0, stands: 1"}).Draw(rt, side+" stands") + "}"
	}
	stands := func() string { // on the treads, on a shoe, or nobody says
		switch rapid.IntRange(0, 4).Draw(rt, "stand on") {
		case 0:
			return "shoe:\n"
		case 1, 2:
			return "shoe: none\n" + maybe(rt, "bracket", func() string { return inch(rt, "bracket", 0, 1) }) +
				maybe(rt, "per-tread", func() string { return fmt.Sprint(rapid.IntRange(1, 4).Draw(rt, "per tread")) })
		}
		return "shoe: shoe-1-1-4\n" + maybe(rt, "shoe-over", func() string { return inch(rt, "over", 0, 3) }) +
			maybe(rt, "under-shoe", func() string { return rapid.SampledFrom([]string{"open", "closed"}).Draw(rt, "under") })
	}
	run := "kind: flight\nunits: in\nfrom: " + end("from") + "\nto: " + end("to") + "\n" +
		maybe(rt, "risers", steps("riser", risers, 5, 9)) + maybe(rt, "nosing", func() string { return inch(rt, "nosing", 0, 2) }) +
		maybe(rt, "height", func() string { return inch(rt, "rail height", 12, 44) }) +
		maybe(rt, "clear", func() string {
			return "{" + rapid.SampledFrom([]string{"level: 100, ", "", "level: " + inch(rt, "level", 1, 180) + ", "}).Draw(rt, "level how") + "rake: " + inch(rt, "rake", 1, 200) + "}"
		}) +
		maybe(rt, "baluster", func() string {
			return rapid.SampledFrom([]string{"own", "square-1-1-4-long", "turned-tapered"}).Draw(rt, "flight baluster")
		}) +
		stands() +
		maybe(rt, "joints", func() string { return "[40, 90]" }) +
		maybe(rt, "edge", func() string { return "{back: 2, overhang: 1, solid: 3, joists: along}" }) +
		maybe(rt, "wall-rail", func() string { return "{clear: 1 1/2, long: 150, studs: 16, ends: open}" })
	if risers > 1 {
		run += maybe(rt, "goings", steps("going", risers-1, 8, 13))
	}
	return run
}

// TestRandomJobs builds jobs of every sort of ends, floors, parts and gaps in what is known: none panics, the data fits its schema's
// plain rules, every printed formula gives its printed result, marks rise strictly and lie in the run, the openings agree with the
// marks, and a run that is judged to pass has no opening over its limit.
func TestRandomJobs(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		dir, err := os.MkdirTemp(t.TempDir(), "job")
		if err != nil {
			rt.Fatal(err)
		}
		for name, text := range randomJob(rt) {
			path := filepath.Join(dir, filepath.FromSlash(name))
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				rt.Fatal(err)
			}
			if err := os.WriteFile(path, []byte("---\n"+text+"---\n"), 0o644); err != nil {
				rt.Fatal(err)
			}
		}
		result, files, err := jobbook.Make(dir)
		if err != nil || result.Plan == nil {
			var b strings.Builder
			stands := false
			for _, p := range result.Problems {
				fmt.Fprintf(&b, "%s: %s\n", p.At, p.Summary)
				stands = stands || strings.Contains(p.Summary, "stands beyond the clear") || strings.Contains(p.Summary, "is no farther along than")
			}
			if err == nil && stands {
				rt.Skip("an old guard that can't stand there")
			}
			rt.Fatalf("%v\n%s", err, b.String())
		}
		book := map[string]string{}
		for _, f := range files {
			book[f.Path] = strings.Join(f.Pieces, "")
		}
		if len(result.Plan.Figures) > 0 {
			for _, f := range figuresOf(t, book) {
				checkFigure(t, f)
			}
		}
		checkLabels(rt, result.Plan)
		checkBeside(rt, result.Plan)
		for _, r := range result.Plan.Layout.Runs {
			if r.Chosen == nil {
				if len(r.Missing) == 0 && !hasFail(r.Findings) {
					rt.Errorf("%s was not laid out, and nothing says why", r.ID)
				}
				continue
			}
			clear := r.Clear.Exact(result.Job.System)
			previous := length.Length(-1)
			for _, m := range r.Marks {
				if m.At <= previous || m.At > clear {
					rt.Errorf("%s: mark %d at %v after %v in %v", r.ID, m.K, m.At, previous, clear)
				}
				previous = m.At
			}
			for _, o := range r.Openings {
				if r.Rake != nil && (o.Part == "from" && r.From.Open || o.Part == "to" && r.To.Open) { // beside a turned newel whose foot is still to be measured: nothing is judged by it
					if o.Known || r.Chosen.Passes && r.Chosen.Verdict() == finding.Pass {
						rt.Errorf("%s: opening %s is known, or passes, while the newel's foot is not measured", r.ID, o.Where)
					}
					continue
				}
				if o.Worst < o.Nominal && r.Rake == nil || o.Worst > r.Chosen.Worst {
					rt.Errorf("%s: opening %s is %v, at the worst %v, of the run %v", r.ID, o.Where, o.Nominal, o.Worst, r.Chosen.Worst)
				}
				if r.Chosen.Passes && !r.Limit.Op.Holds(o.Worst, r.Limit.Value) {
					rt.Errorf("%s passes with an opening of %v", r.ID, o.Worst)
				}
			}
			if r.Least >= 0 && r.Chosen.Count < r.Least && r.Chosen.Passes {
				rt.Errorf("%s: %d pass, and %d was called the least", r.ID, r.Chosen.Count, r.Least)
			}
		}
	})
}

func hasFail(findings []finding.Finding) bool {
	for _, f := range findings {
		if f.Verdict == finding.Fail {
			return true
		}
	}
	return false
}
