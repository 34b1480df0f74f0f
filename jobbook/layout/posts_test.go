package layout

import (
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working/evaluator"
)

// shared are parts of the cases below; sizes invented. The rail is 2 in high so that on a slope of 3 in 4 its plumb height is 2 1/2.
var shared = map[string]string{
	"settings.md":   "kind: settings\ndivision: 1/16\ndivision-mm: 1 mm\nfit: 1/16\nscribe: 1/4\nreveal: 1/4",
	"parts/post.md": "kind: newel\ntitle: Post\nwide: 3 1/2\nlong: 48",
	"parts/rail.md": "kind: handrail\nwide: 2 1/4\nhigh: 2",
	"parts/bolt.md": "kind: bolt\nwide: 5/16\nin-post: 2\nbore: 3/8",
}

// turnedNewel is a newel with a block at its foot and one for the rails, 48 long.
func turnedNewel(foot, from, to string) string {
	return "kind: newel\nprofile: [{at: 0, square: 3 1/2}, {at: " + foot + ", square: 3 1/2}, {at: " + foot + ", round: 3}, {at: " + from + ", round: 3}, {at: " + from + ", square: 3 1/2}, {at: " + to + ", square: 3 1/2}, {at: " + to + ", round: 2}, {at: 48, round: 2}]"
}

type guard struct {
	posts []Post
	plan  Plan
	runs  []*builder
}

// built lays out posts and plan of a job in one folder. A flight is taken as its rake says, which the tests work out by hand.
func built(t *testing.T, rakes map[string]*Rake, files ...map[string]string) guard {
	t.Helper()
	j := jobtest.Job(t, append([]map[string]string{shared}, files...)...)
	var g guard
	for _, r := range j.Runs {
		b := start(j, r)
		if b.Rake = rakes[r.Name]; b.Rake == nil {
			b.clear()
		} else {
			b.faces = [2]job.Measure{{Length: b.Rake.From, Given: true}, {Length: b.Rake.To, Given: true}}
		}
		b.floor()
		b.ends()
		if b.Rake == nil {
			b.levels()
			b.cutHandrail()
		}
		g.runs = append(g.runs, b)
	}
	tellApart(g.runs)
	meet(j, g.runs)
	nodes := nodesOf(j, g.runs)
	g.plan = planView(nodes, g.runs)
	for _, n := range nodes {
		g.posts = append(g.posts, n.stand())
	}
	for _, p := range g.posts { // every printed formula gives its printed result
		for _, f := range p.Figures {
			if got, err := evaluator.Evaluate(f.Numbers(), nil, evaluator.SixPlaces); err != nil || !got.Holds(f.Result(), evaluator.SixPlaces(f.Result())) {
				t.Errorf("%s: %s is not %s (%v)", f.ID, f.Numbers(), f.Result(), err)
			}
			if len(f.Cites) == 0 {
				t.Errorf("%s has no source", f.ID)
			}
		}
	}
	return g
}

// rake is five risers of 7 1/2 and four goings of 10 with nosings of 1, so a slope of 3 in 4, cosine 0.8, and the rail's top 36 over the
// line of the nosings: at x it is 7 1/2 + 3/4·(x + 1) + 36 above the floor below. The landing is at 40, 37 1/2 up.
func rake(t *testing.T, from, to string) *Rake {
	t.Helper()
	return &Rake{
		Treads: []Tread{{N: 1, At: 0, Height: in(t, "7 1/2"), Riser: in(t, "7 1/2"), Going: in(t, "10")}, {N: 2, At: in(t, "10"), Height: in(t, "15"), Riser: in(t, "7 1/2"), Going: in(t, "10")},
			{N: 3, At: in(t, "20"), Height: in(t, "22 1/2"), Riser: in(t, "7 1/2"), Going: in(t, "10")}, {N: 4, At: in(t, "30"), Height: in(t, "30"), Riser: in(t, "7 1/2"), Going: in(t, "10")},
			{N: 5, At: in(t, "40"), Height: in(t, "37 1/2"), Riser: in(t, "7 1/2")}},
		Nosing: in(t, "1"), Measured: true, From: in(t, from), To: in(t, to),
		Rise: in(t, "30"), Going: in(t, "40"), Top: in(t, "36"), Thick: in(t, "2 1/2"),
	}
}

// in reads inches, negative ones as well.
func in(t *testing.T, text string) length.Length {
	t.Helper()
	digits, negative := strings.CutPrefix(text, "-")
	l, err := length.Parse(digits, length.Inches)
	if err != nil {
		t.Fatal(err)
	}
	if negative {
		return -l
	}
	return l
}

func tape64(l length.Length) string {
	return length.Style{System: length.Inches, Division: length.Inch / 64, Rounding: length.Nearest}.Print(l)
}

// same compares lengths with what was worked out by hand, to a nanometre or two of rounding.
func same(t *testing.T, what string, got length.Length, want string) {
	t.Helper()
	if abs(got-in(t, want)) > 2 {
		t.Errorf("%s is %s, want %s", what, tape64(got), want)
	}
}

func (p Post) finding(id string) *finding.Finding {
	for i := range p.Findings {
		if p.Findings[i].ID == "check/"+p.ID+"/"+id {
			return &p.Findings[i]
		}
	}
	return nil
}

// verdict asserts what a check says, and that its cure has the words.
func (p Post) verdict(t *testing.T, id string, want finding.Verdict, words ...string) {
	t.Helper()
	f := p.finding(id)
	switch {
	case f == nil && want != 0:
		t.Errorf("%s of %s was not checked", id, p.Name)
	case f != nil && f.Verdict != want:
		t.Errorf("%s of %s: %+v", id, p.Name, f)
	}
	for _, w := range words {
		if f != nil && !strings.Contains(f.Cure+" "+f.Note, w) {
			t.Errorf("%s of %s: %q is not in %q, %q", id, p.Name, w, f.Cure, f.Note)
		}
	}
}

func wants(missing []finding.Reading, words string) bool {
	for _, m := range missing {
		if strings.Contains(m.What, words) {
			return true
		}
	}
	return false
}

const postHead = "kind: job\nrules: \ndrop: 100\nheight: 38\nhandrail: rail\nshoe: none\n"

// TestLevelRailAtPost: a floor that falls 1/4 to the far end, and 3/4 of floor to come that the guard stands on: the rail, 38 above the
// finished floor at the datum, is 38 + 1/4 + 3/4 above the bare floor at the far post, and 38 3/4 at the near one (by hand).
func TestLevelRailAtPost(t *testing.T) {
	g := built(t, nil, map[string]string{
		"job.md":      postHead + "floor-to-come: {what: boards, thick: 3/4}\nposts: {a: {newel: post, foot: plate}, b: {newel: post, foot: let in, deep: 3}}",
		"runs/1-r.md": "kind: run\nfrom: a\nto: b\nstands-on: finished\nclear: {floor: 96, rail: 96}\nlevel: [{at: 0, down: 40}, {at: 96, down: 40 1/4}]",
	})
	for i, want := range []struct{ top, under, needTo, blockTo string }{{"38 3/4", "36 3/4", "39", "48"}, {"39", "37", "39 1/4", "45"}} {
		p := g.posts[i]
		if len(p.Arrivals) != 1 || !p.Arrivals[0].Known {
			t.Fatalf("%+v", p.Arrivals)
		}
		same(t, "top", p.Arrivals[0].Top, want.top)
		same(t, "underside", p.Arrivals[0].Under, want.under)
		same(t, "block needed from", p.NeedFrom, want.under)
		same(t, "block needed to", p.NeedTo, want.needTo)
		same(t, "top of the post", p.BlockTo, want.blockTo)
		same(t, "cut", p.Cut.Length, "48")
		p.verdict(t, "block", finding.Pass)
		p.verdict(t, "block-under", finding.Pass)
	}
	if p := g.posts[1]; p.Down != in(t, "3") || p.Wide != in(t, "3 1/2") || p.Reveal != in(t, "1/4") {
		t.Errorf("%+v", p)
	}
}

// TestRakeAtPosts works the flight of rake by hand. At the lower end, face at 0, post's middle at -1 3/4 on the floor: 7 1/2 + 3/4 + 36 =
// 44 1/4, underside 2 1/2 lower. At the upper, face at 36 1/2: 7 1/2 + 28 1/8 + 36 = 71 5/8, which is 34 1/8 above the landing and
// 41 5/8 above tread 4. The level rail beyond is 38 above the landing, 36 at its underside.
func TestRakeAtPosts(t *testing.T) {
	files := func(post, stands string) map[string]string {
		return map[string]string{
			"job.md":      postHead + "posts: {low: {newel: post, foot: bolted, deep: 0}, high: {newel: turned, foot: bolted, deep: 0, turn: right 90" + post + "}}",
			"runs/1-f.md": "kind: flight\nfrom: low\nto: {at: high" + stands + "}\nheight: 36", "runs/2-l.md": "kind: run\nfrom: high\nto: wall\nclear: {floor: 60, rail: 60}",
			"parts/turned.md": turnedNewel("11", "30 1/2", "42 1/2"),
		}
	}
	t.Run("on the floor, and on the landing", func(t *testing.T) {
		g := built(t, map[string]*Rake{"f": rake(t, "0", "36 1/2")}, files("", ", stands: 5"))
		low, high := g.posts[0], g.posts[1]
		a := low.Arrivals[0]
		same(t, "top at the lower post", a.Top, "44 1/4")
		same(t, "underside at the lower post", a.Under, "41 3/4")
		if !a.Raked || !a.Up || a.End != "from" || low.BlockFrom != 0 {
			t.Errorf("%+v", a)
		}
		f, l := high.Arrivals[0], high.Arrivals[1]
		same(t, "top at the upper post", f.Top, "34 1/8")
		same(t, "underside at the upper post", f.Under, "31 5/8")
		same(t, "level rail", l.Top, "38")
		if f.Up || f.End != "to" || l.Raked {
			t.Errorf("%+v %+v", f, l)
		}
		same(t, "needed from", high.NeedFrom, "31 5/8")
		same(t, "needed to", high.NeedTo, "38 1/4")
		same(t, "block from", high.BlockFrom, "30 1/2")
		same(t, "block to", high.BlockTo, "42 1/2")
		// As much may come off as the block stands higher than it must: 42 1/2 - 38 1/4.
		high.verdict(t, "block", finding.Pass, "no more than 4 1/4 in taken off")
		high.verdict(t, "block-under", finding.Pass)
		for _, b := range g.runs {
			if wants(b.Missing, "one height for the rails that meet") {
				t.Error("a raked and a level rail are asked to meet at one height")
			}
		}
	})
	t.Run("on the tread under the landing", func(t *testing.T) {
		high := built(t, map[string]*Rake{"f": rake(t, "0", "36 1/2")}, files("", "")).posts[1] // its middle is at 38 1/4, over tread 4
		same(t, "raked top", high.Arrivals[0].Top, "41 5/8")
		same(t, "level top", high.Arrivals[1].Top, "45 1/2")
		same(t, "needed from", high.NeedFrom, "39 1/8")
		same(t, "needed to", high.NeedTo, "45 3/4")
		high.verdict(t, "block", finding.Fail, "a newel whose block stands higher by 3 1/4 in")
		if wants(high.Missing, "which surface") {
			t.Errorf("%+v", high.Missing)
		}
	})
	t.Run("across a riser", func(t *testing.T) {
		for stands, asked := range map[string]bool{"": true, ", stands: 4": false} {
			high := built(t, map[string]*Rake{"f": rake(t, "0", "37")}, files("", stands)).posts[1]
			if got := wants(high.Missing, "its foot lies across riser 5"); got != asked {
				t.Errorf("stands %q: %+v", stands, high.Missing)
			}
		}
	})
	// Across the face of riser 5 at 40, from 37 to 40 1/2: 3 of it before the face and 1/2 behind it (by hand).
	t.Run("what a riser within a newel asks", func(t *testing.T) {
		at := func(stands, foot, more string) Post {
			f := files("", stands)
			f["runs/1-f.md"] += more
			f["job.md"] = strings.Replace(f["job.md"], "high: {newel: turned, foot: bolted, deep: 0", "high: {newel: turned, foot: "+foot, 1)
			return built(t, map[string]*Rake{"f": rake(t, "0", "37")}, f).posts[1]
		}
		if a := at("", "bolted, deep: 0", "").Arrivals; a[0].Known || a[1].Known {
			t.Errorf("heights are known while nobody says what it stands on: %+v", a)
		}
		if p := at(", stands: 4", "bolted, deep: 0", ""); !p.Arrivals[0].Known || !p.Arrivals[1].Known || !strings.Contains(p.Cut.Fit, "cut out round it, 1/2 in behind that face") {
			t.Errorf("%+v", p.Cut)
		}
		for _, foot := range []string{"lagged, deep: 0", "let in, deep: 3"} {
			if p := at(", stands: 5", foot, ""); !strings.Contains(p.Cut.Fit, "notched over the riser, 3 in of it stands before that face") {
				t.Errorf("%s: %+v", foot, p.Cut)
			}
		}
		if p := at(", stands: 5", "plate", ""); !wants(p.Missing, "how far the nosings stand out") {
			t.Errorf("%+v", p.Missing)
		}
		p := at(", stands: 5", "plate", "\nnosing: 1 1/4")
		p.verdict(t, "across-f", finding.Fail, "stands: 4")
	})
	t.Run("a block at another width than the foot", func(t *testing.T) {
		// A block 1/2 narrower than the foot: its face lies 1/4 farther back, uphill, where the rail is 3/16 higher.
		f := files("", ", stands: 5")
		f["parts/turned.md"] = strings.ReplaceAll(turnedNewel("11", "30 1/2", "42 1/2"), "{at: 30 1/2, square: 3 1/2}, {at: 42 1/2, square: 3 1/2}", "{at: 30 1/2, square: 3}, {at: 42 1/2, square: 3}")
		high := built(t, map[string]*Rake{"f": rake(t, "0", "36 1/2")}, f).posts[1]
		same(t, "top", high.Arrivals[0].Top, "34 5/16")
		same(t, "width", high.Wide, "3")
	})
	t.Run("a rake that is not known yet", func(t *testing.T) {
		g := built(t, map[string]*Rake{"f": {}}, files("", ""))
		if high := g.posts[1]; high.Arrivals[0].Known || !high.Arrivals[1].Known || high.NeedFrom != in(t, "36") {
			t.Errorf("%+v", high)
		}
	})
}

// TestBlockCures has the rails of TestRakeAtPosts, which need from 31 5/8 to 38 1/4, 6 5/8 in all, on blocks that miss them.
func TestBlockCures(t *testing.T) {
	at := func(newel, more string) Post {
		post := "newel: turned, foot: plate" + more
		if strings.HasPrefix(more, "newel") {
			post = more
		}
		return built(t, map[string]*Rake{"f": rake(t, "0", "36 1/2")}, map[string]string{
			"job.md":      postHead + "posts: {low: {newel: post, foot: plate}, high: {" + post + "}}",
			"runs/1-f.md": "kind: flight\nfrom: low\nto: {at: high, stands: 5}\nheight: 36", "runs/2-l.md": "kind: run\nfrom: high\nto: wall\nclear: {floor: 60, rail: 60}",
			"parts/turned.md": newel,
		}).posts[1]
	}
	t.Run("too high: off the foot", func(t *testing.T) { // 34 - 31 5/8 at the least, 44 - 38 1/4 at the most
		p := at(turnedNewel("11", "34", "44"), "")
		p.verdict(t, "block-under", finding.Fail, "take 2 3/8 in to 5 3/4 in off the newel's foot")
		p.verdict(t, "block", finding.Pass, "2 3/8 in to 5 3/4 in taken off")
		same(t, "margin", p.finding("block-under").Margin, "-2 3/8")
	})
	t.Run("and with it off", func(t *testing.T) {
		p := at(turnedNewel("11", "34", "44"), ", off: 3")
		p.verdict(t, "block-under", finding.Pass)
		p.verdict(t, "block", finding.Pass)
		p.verdict(t, "off", finding.Pass)
		same(t, "block from", p.BlockFrom, "31")
		same(t, "cut", p.Cut.Length, "45")
		if p.Cut.What != "newel" || p.Cut.Count != 1 || !strings.Contains(p.Cut.Fit, "3 in comes off") {
			t.Errorf("%+v", p.Cut)
		}
	})
	t.Run("let in as well", func(t *testing.T) { // 3 in below the floor: 3 less to take off
		at(turnedNewel("11", "34", "44"), ", deep: 3").verdict(t, "block", finding.Pass, "no more than 2 3/4 in taken off")
	})
	t.Run("too short", func(t *testing.T) { // 5 of 6 5/8
		at(turnedNewel("11", "33", "38"), "").verdict(t, "block", finding.Fail, "longer by 1 5/8 in")
	})
	t.Run("too low", func(t *testing.T) { // ends at 36, must reach 38 1/4
		p := at(turnedNewel("11", "28", "36"), "")
		p.verdict(t, "block", finding.Fail, "stands higher by 2 1/4 in")
		p.verdict(t, "block-under", finding.Pass)
	})
	t.Run("no room at the foot", func(t *testing.T) { // a foot block of 2, and 2 3/8 to come off
		at(turnedNewel("2", "34", "44"), "").verdict(t, "block-under", finding.Fail, "stands lower by 3/8 in")
	})
	t.Run("into the turning", func(t *testing.T) {
		at(turnedNewel("2", "34", "44"), ", off: 2 1/16").verdict(t, "off", finding.Fail, "no more than 2 in off")
	})
	t.Run("all of it off", func(t *testing.T) {
		at(turnedNewel("11", "34", "44"), ", off: 48").verdict(t, "off", finding.Fail)
	})
	t.Run("let in deeper than it is long", func(t *testing.T) {
		p := at(turnedNewel("11", "34", "44"), "newel: turned, foot: let in, deep: 50")
		p.verdict(t, "off", finding.Fail, "how deep it goes")
		if f := p.finding("off"); f != nil && f.At.Line == 0 {
			t.Errorf("it points nowhere: %+v", f)
		}
	})
	t.Run("off left blank", func(t *testing.T) {
		p := at(turnedNewel("11", "34", "44"), ", off: ")
		if p.Cut != nil || p.finding("block") != nil || p.BlockTo != 0 || !wants(p.Missing, "how much is taken off the foot") {
			t.Errorf("%+v", p)
		}
	})
	t.Run("exactly on", func(t *testing.T) { // a block of just what is needed
		at(turnedNewel("11", "31 5/8", "38 1/4"), "").verdict(t, "block", finding.Pass, "exactly 0 in")
	})
	t.Run("let in, nobody says how deep", func(t *testing.T) {
		p := at(turnedNewel("11", "34", "44"), "newel: turned, foot: let in")
		if p.finding("block") != nil || p.BlockTo != 0 || p.NeedTo == 0 {
			t.Errorf("%+v", p)
		}
	})
	t.Run("round all the way up", func(t *testing.T) {
		at("kind: newel\nwide: 4\nlong: 48\nsection: round", "").verdict(t, "block-under", finding.Fail)
	})
	t.Run("no newel", func(t *testing.T) {
		if p := at(turnedNewel("11", "34", "44"), "newel: , foot: plate"); p.Known || p.Cut != nil || len(p.Findings) > 0 {
			t.Errorf("%+v", p)
		}
	})
}

// TestOffAtOpening: two inches off the foot of a turned newel leave the opening beside it as if it were turned two inches lower.
func TestOffAtOpening(t *testing.T) {
	open := func(off, newel string) []Opening {
		g := map[string]string{
			"job.md":      strings.Replace(postHead, "rules: ", "rules: irc", 1) + "posts: {a: {newel: turned, foot: plate, off: " + off + "}}\nbaluster: stick",
			"runs/1-r.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 60, rail: 60}\ncount: 12", "parts/turned.md": newel,
			"parts/stick.md": "kind: baluster\nprofile: [{at: 0, square: 1 1/4}, {at: 8, square: 1 1/4}, {at: 8, round: 1}, {at: 14, round: 1/2}, {at: 40, round: 1}, {at: 40, square: 1 1/4}, {at: 48, square: 1 1/4}]",
			"rules/irc.md":   "kind: rules\nlimits:\n  guard-opening: {under: 4, clause: R312.1.3, status: published}",
		}
		return Lay(jobtest.Job(t, shared, g)).Runs[0].Openings
	}
	newel := func(foot, waist, block string) string {
		return "kind: newel\nprofile: [{at: 0, square: 3 1/2}, {at: " + foot + ", square: 3 1/2}, {at: " + foot + ", round: 3}, {at: " + waist + ", round: 1 1/2}, {at: " + block + ", round: 3}, {at: " + block + ", square: 3 1/2}, {at: 48, square: 3 1/2}]"
	}
	asBought, lower := open("0", newel("11", "16", "30")), open("0", newel("9", "14", "28"))
	cut := open("2", newel("11", "16", "30"))
	if cut[0].Worst != lower[0].Worst || cut[0].Worst == asBought[0].Worst {
		t.Errorf("cut %v, turned lower %v, as bought %v", cut[0].Worst, lower[0].Worst, asBought[0].Worst)
	}
}

// TestOverPost: a level rail 38 up and 2 high goes over a post let in 3: the newel is 36 + 3 long.
func TestOverPost(t *testing.T) {
	at := func(newel, more string) Post {
		return built(t, nil, map[string]string{
			"job.md":      postHead + "posts: {a: {newel: own, foot: let in, " + more + "}}",
			"runs/1-r.md": "kind: run\nfrom: {at: a, over: yes}\nto: wall\nclear: {floor: 60, rail: 60}", "parts/own.md": newel,
		}).posts[0]
	}
	p := at("kind: newel\nwide: 3\nlong: 48", "deep: 3")
	same(t, "cut", p.Cut.Length, "39")
	p.verdict(t, "long", finding.Pass)
	if p.NeedTo != 0 || p.finding("block") != nil || !p.Arrivals[0].Over {
		t.Errorf("%+v", p)
	}
	p = at("kind: newel\nwide: 3\nlong: 40", "deep: 3, off: 2")
	same(t, "cut", p.Cut.Length, "39")
	p.verdict(t, "long", finding.Fail, "longer by 1 in")
	if p = at("kind: newel\nwide: 3\nlong: 48", "deep: "); p.Cut != nil {
		t.Errorf("a length without its foot: %+v", p.Cut)
	}
	t.Run("on a rake", func(t *testing.T) {
		// At the post's middle, -1 3/4, the underside is 7 1/2 - 9/16 + 36 - 2 1/2 = 40 7/16; at its faces 1 5/16 more and less.
		p := built(t, map[string]*Rake{"f": rake(t, "0", "36")}, map[string]string{
			"job.md": postHead + "posts: {low: {newel: post, foot: plate}}", "runs/1-f.md": "kind: flight\nfrom: {at: low, over: yes}\nto: wall\nheight: 36",
		}).posts[0]
		same(t, "cut", p.Cut.Length, "40 7/16")
		same(t, "short point", p.Cut.Short, "39 1/8")
		same(t, "long point", p.Cut.Long, "41 3/4")
	})
	t.Run("rails at two heights", func(t *testing.T) {
		p := built(t, nil, map[string]string{
			"job.md":      postHead + "posts: {a: {newel: post, foot: plate, turn: right 90}}",
			"runs/1-r.md": "kind: run\nfrom: {at: a, over: yes}\nto: wall\nclear: {floor: 60, rail: 60}",
			"runs/2-s.md": "kind: run\nfrom: {at: a, over: yes}\nto: wall\nclear: {floor: 60, rail: 60}\nheight: 39",
		}).posts[0]
		if p.Cut == nil || !p.Cut.ToFit || p.Cut.Length != 0 {
			t.Errorf("%+v", p.Cut)
		}
	})
}

// TestBolts: rails 38 up and 2 high have their bolts at 37. Bolts of 5/16 need 5/16 + 1/8 = 7/16 between their axes where they pass.
func TestBolts(t *testing.T) {
	corner := func(turn, bolt, first, second string) Post {
		return built(t, nil, map[string]string{
			"job.md":      postHead + "bolt: bolt\nposts: {a: {newel: post, foot: plate, turn: " + turn + "}}",
			"runs/1-r.md": "kind: run\nfrom: {at: a" + first + "}\nto: wall\nclear: {floor: 60, rail: 60}",
			"runs/2-s.md": "kind: run\nfrom: {at: a" + second + "}\nto: wall\nclear: {floor: 60, rail: 60}", "parts/bolt.md": bolt,
		}).posts[0]
	}
	bolt := func(inPost string) string { return "kind: bolt\nwide: 5/16\nbore: 3/8\nin-post: " + inPost }
	t.Run("past the middle", func(t *testing.T) {
		p := corner("right 90", bolt("2"), "", "")
		same(t, "bolt", p.Arrivals[0].Bolt, "37")
		same(t, "how deep", p.Arrivals[1].BoltDeep, "2")
		p.verdict(t, "bolts/r/s", finding.Fail, "up by 7/16 in")
		p.verdict(t, "bolt-deep/r", finding.Pass)
	})
	t.Run("one moved up, one down", func(t *testing.T) {
		p := corner("left 90", bolt("2"), ", bolt-up: 1/4", ", bolt-down: 3/16")
		same(t, "up", p.Arrivals[0].Bolt, "37 1/4")
		same(t, "down", p.Arrivals[1].Bolt, "36 13/16")
		p.verdict(t, "bolts/r/s", finding.Pass)
		p.verdict(t, "bolt-moved/r", finding.Pass)
		corner("left 90", bolt("2"), ", bolt-up: 1/4", ", bolt-down: 1/8").verdict(t, "bolts/r/s", finding.Fail, "by 1/16 in")
		corner("left 90", bolt("2"), ", bolt-up: 13/16", "").verdict(t, "bolt-moved/r", finding.Fail)
	})
	t.Run("short of each other", func(t *testing.T) {
		// Tips 1/2 short of the middle are 0.707 apart, over 7/16; 1/4 short, 0.354, under it.
		corner("right 90", bolt("1 1/4"), "", "").verdict(t, "bolts/r/s", 0)
		corner("right 90", bolt("1 1/2"), "", "").verdict(t, "bolts/r/s", finding.Fail)
	})
	t.Run("from opposite faces", func(t *testing.T) {
		corner("straight", bolt("1 3/4"), "", "").verdict(t, "bolts/r/s", 0) // 3 1/2 together, as wide as the post
		corner("straight", bolt("2"), "", "").verdict(t, "bolts/r/s", finding.Fail, "1/2 in longer than the post is wide")
	})
	t.Run("through the post", func(t *testing.T) {
		corner("right 90", bolt("3 1/2"), "", "").verdict(t, "bolt-deep/r", finding.Fail)
	})
	t.Run("no bolt, or not all of it", func(t *testing.T) {
		p := corner("right 90", "kind: bolt\nwide: 5/16", "", "")
		if p.Arrivals[0].Bolt == 0 || !wants(p.Missing, "screwed into the post") || p.finding("bolts/r/s") != nil {
			t.Errorf("%+v", p)
		}
		g := built(t, nil, map[string]string{"job.md": postHead + "posts: {a: {newel: post, foot: plate, top: 48}}", "runs/1-r.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 60, rail: 60}"})
		if a := g.posts[0].Arrivals[0]; a.Bolt != 0 || a.BoltWide != 0 || len(g.posts[0].Missing) > 0 {
			t.Errorf("%+v", g.posts[0])
		}
		g = built(t, nil, map[string]string{"job.md": postHead + "posts: {a: {newel: post, foot: plate}}", "runs/1-r.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 60, rail: 60}\nbolt: "})
		if !wants(g.posts[0].Missing, "which bolt") {
			t.Errorf("%+v", g.posts[0].Missing)
		}
	})
	t.Run("half newel", func(t *testing.T) { // 1 3/4 thick
		p := built(t, nil, map[string]string{
			"job.md": postHead + "bolt: bolt\nposts: {a: {newel: split, foot: plate}}", "parts/split.md": "kind: newel\nhalf: yes\nwide: 3 1/2\nlong: 48",
			"runs/1-r.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 60, rail: 60}",
		}).posts[0]
		p.verdict(t, "bolt-deep/r", finding.Fail)
		same(t, "limit", p.finding("bolt-deep/r").Limit, "1 3/4")
	})
	t.Run("raked and level", func(t *testing.T) {
		// The raked one enters at 32 7/8, halfway between 34 1/8 and 31 5/8, and has risen 3/4 of 1 3/4 at the post's middle: 34 3/16.
		// 2 1/2 along it reach 2 level, by the cosine 0.8. The level one is at 37. They must be 7/16 · √(1 + 9/16) = 35/64 apart.
		g := func(height string) Post {
			return built(t, map[string]*Rake{"f": rake(t, "0", "36 1/2")}, map[string]string{
				"job.md":      postHead + "bolt: bolt\nposts: {high: {newel: post, foot: plate, turn: right 90}}",
				"runs/1-f.md": "kind: flight\nfrom: wall\nto: {at: high, stands: 5}\nheight: 36", "parts/bolt.md": bolt("2 1/2"),
				"runs/2-l.md": "kind: run\nfrom: high\nto: wall\nclear: {floor: 60, rail: 60}\nheight: " + height,
			}).posts[0]
		}
		p := g("38")
		same(t, "raked bolt", p.Arrivals[0].Bolt, "32 7/8")
		same(t, "its reach", p.finding("bolt-deep/f").Measured, "2")
		p.verdict(t, "bolts/l/f", finding.Pass)
		same(t, "apart", p.finding("bolts/l/f").Measured, "2 13/16")
		same(t, "least", p.finding("bolts/l/f").Limit, "35/64")
		g("35 11/16").verdict(t, "bolts/l/f", finding.Fail, "up by 1/16 in") // at 34 11/16, 1/2 apart
		g("35 3/4").verdict(t, "bolts/l/f", finding.Pass)                    // 9/16
	})
}

// TestSkew: who turns 45 to the right comes 45 off square, and one edge of a rail of 2 1/4 is 2 1/4 / 2 · tan 45 = 1 1/8 longer. At 22 1/2 to
// the left it is 1 1/8 · 0.4142 = 0.466, 7/16 on the tape.
func TestSkew(t *testing.T) {
	at := func(turn string) guard {
		return built(t, nil, map[string]string{
			"job.md":      postHead + "posts: {a: {newel: post, foot: plate, turn: " + turn + "}}",
			"runs/1-r.md": "kind: run\nfrom: wall\nto: a\nclear: {floor: 60, rail: 60}", "runs/2-s.md": "kind: run\nfrom: a\nto: wall\nclear: {floor: 60, rail: 60}",
		})
	}
	for _, c := range []struct {
		turn          string
		heading, skew float64
		fit           string
	}{
		{"right 45", 225, 45, "45° off square: one edge 1 1/8 in longer"},
		{"left 22.5", 157.5, -22.5, "22.5° off square: one edge 7/16 in longer"},
		{"left 45", 135, 45, "45° off square"},
		{"right 90", 270, 0, ""}, {"left 90", 90, 0, ""}, {"straight", 180, 0, ""},
	} {
		g := at(c.turn)
		a := g.posts[0].Arrivals[1]
		if a.Heading != c.heading || a.Skew != c.skew || !a.Turned {
			t.Errorf("%s: heading %v, skew %v", c.turn, a.Heading, a.Skew)
		}
		fit := g.runs[1].Handrail.Fit
		if c.fit != "" && !strings.Contains(fit, c.fit) || c.fit == "" && strings.Contains(fit, "square") {
			t.Errorf("%s: %q", c.turn, fit)
		}
		if strings.Contains(g.runs[0].Handrail.Fit, "square") {
			t.Error("the newel does not stand square to its first rail")
		}
	}
}
