package finish

import (
	"math/big"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/job/jobtest"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

type files = map[string]string

var paint = files{"finishes/paint.md": `kind: finish
type: paint
coats:
  - {coat: primer, type: primer, coverage: 300 sq ft/gal, dry: 4 h, sand: 180}
  - {coat: enamel, type: enamel, coverage: 350 sq ft/gal, times: 2, dry: 6 h}
loss: 10 %
turned: 25 %`}

const run = "kind: run\ntitle: Gallery\nfrom: wall\nto: wall\nbaluster: stick\n"

// laid is a layout with nothing known but the runs themselves.
func laid(j *job.Job) layout.Layout {
	var l layout.Layout
	for _, r := range j.Runs {
		l.Runs = append(l.Runs, &layout.Run{ID: "run/" + r.Name, Name: r.Name, Title: r.Title.Text, Job: r})
	}
	return l
}

func in64(n int64) length.Length { return length.Length(n) * length.Inch / 64 }

func inches(n int64) length.Length { return length.Length(n) * length.Inch }

func cut(what string, count int, long length.Length) layout.Cut {
	return layout.Cut{What: what, Run: "gallery", Count: count, Exact: long, Length: long, Figure: "run/gallery/" + what}
}

func groupOf(t testing.TB, f Finishing, name string) Group {
	t.Helper()
	for _, g := range f.Groups {
		if g.Name == name {
			return g
		}
	}
	t.Fatalf("no group %s in %+v", name, f.Groups)
	return Group{}
}

// value compares a figure with an exact number, written as a quotient or a decimal.
func value(t testing.TB, f *working.Figure, want, unit string) {
	t.Helper()
	r, by := new(big.Rat), new(big.Rat)
	top, bottom, isQuotient := strings.Cut(want, "/")
	if !isQuotient {
		bottom = "1"
	}
	_, ok := r.SetString(top)
	if _, okBy := by.SetString(bottom); !ok || !okBy {
		t.Fatalf("%q is no number", want)
	}
	r.Quo(r, by)
	if f == nil || !f.Value.Known() {
		t.Fatalf("no figure, want %s", want)
	}
	if f.Value.Cmp(exact.FromRat(r)) != 0 || f.Unit != unit {
		t.Errorf("%s: %s = %s %s, want %s %s", f.ID, f.Numbers(), f.Value.Fixed(12), f.Unit, r.FloatString(12), unit)
	}
	if len(f.Cites) == 0 || f.Cites[0].Text == "" || f.Cites[0].Status == 0 {
		t.Errorf("%s rests on nothing", f.ID)
	}
}

// near compares with a number worked out elsewhere, to half a unit of its last place.
func near(t testing.TB, f *working.Figure, want string) {
	t.Helper()
	if f == nil || !f.Value.Known() {
		t.Fatalf("no figure, want %s", want)
	}
	_, decimals, _ := strings.Cut(want, ".")
	if got := f.Value.Fixed(len(decimals)); got != want {
		t.Errorf("%s: %s = %s, want %s", f.ID, f.Numbers(), got, want)
	}
}

func asks(f Finishing, what string) bool {
	for _, m := range f.Missing {
		if strings.Contains(m.What, what) && !m.At.IsZero() && m.Where != "" && m.Why != "" {
			return true
		}
	}
	return false
}

func TestBalusters(t *testing.T) {
	one := func(t *testing.T, baluster string, head string, cuts ...layout.Cut) Finishing {
		j := jobtest.Job(t, paint, files{"job.md": "kind: job\n" + head, "runs/1-gallery.md": run, "parts/stick.md": "kind: baluster\n" + baluster})
		l := laid(j)
		l.Runs[0].Balusters = cuts
		l.Runs[0].Chosen = &layout.Candidate{Count: 1}
		return Work(j, l)
	}
	t.Run("square: 4·b·len", func(t *testing.T) {
		// The worked case of the trade: 1 1/4 by 36 is 180 sq in, five are 6.25 sq ft.
		g := groupOf(t, one(t, "wide: 1 1/4\nlong: 42", "", cut("baluster", 5, inches(36))), "balusters")
		value(t, g.Area, "6.25", "sq ft")
		value(t, g.Lines[0].Figure, "6.25", "sq ft")
		if got := g.Lines[0].Figure.Numbers(); got != "4 * 1.25 * 5 * 36 / 144" {
			t.Errorf("printed as %s", got)
		}
		if g.Lines[0].Count != 5 || g.Lines[0].Turned {
			t.Errorf("got %+v", g.Lines[0])
		}
	})
	t.Run("square, two lengths", func(t *testing.T) {
		// By hand: 4 · 1.25 · (3 · 34.5 + 33) / 144 = 682.5 / 144.
		g := groupOf(t, one(t, "wide: 1 1/4\nlong: 42", "", cut("baluster", 3, in64(2208)), cut("baluster", 1, inches(33))), "balusters")
		value(t, g.Area, "682.5/144", "sq ft")
		if g.Lines[0].Count != 4 {
			t.Errorf("got %+v", g.Lines[0])
		}
	})
	t.Run("round: π·d·len", func(t *testing.T) {
		// By hand: 3.14159265 · 1.25 · 36 / 144 = 0.981747703125.
		g := groupOf(t, one(t, "wide: 1 1/4\nlong: 42\nsection: round", "", cut("baluster", 1, inches(36))), "balusters")
		value(t, g.Area, "0.981747703125", "sq ft")
		if !g.Lines[0].Turned {
			t.Error("a round baluster is turned")
		}
	})
	t.Run("turned: a frustum", func(t *testing.T) {
		// Derived: radii 1.0 to 0.5 over 6 is 28.372 sq in without its ends; ten of them.
		g := groupOf(t, one(t, "profile: [{at: 0, round: 2}, {at: 6, round: 1}]", "", cut("baluster", 10, inches(6))), "balusters")
		value(t, g.Area, "283.72/144", "sq ft")
	})
	t.Run("turned, cut at the end that is trimmed", func(t *testing.T) {
		// By hand: a block 1 1/4 by 10, then a shaft 1 round by 26. Cut to 30 from the top: 4 · 1.25 · 10 = 50, the shoulder
		// 1.5625 - π/4 = 0.77710, the shaft π · 20 = 62.83185; in all 113.60895. Cut from the bottom: 4 · 1.25 · 4 = 20,
		// the shoulder, π · 26 = 81.68141; in all 102.45851. Each to a thousandth.
		const p = "profile: [{at: 0, square: 1 1/4}, {at: 10, square: 1 1/4}, {at: 10, round: 1}, {at: 36, round: 1}]"
		value(t, groupOf(t, one(t, p, "", cut("baluster", 1, inches(30))), "balusters").Area, "113.609/144", "sq ft")
		value(t, groupOf(t, one(t, p+"\ntrim: bottom", "", cut("baluster", 1, inches(30))), "balusters").Area, "102.459/144", "sq ft")
	})
	t.Run("too short as bought: no more than there is", func(t *testing.T) {
		value(t, groupOf(t, one(t, "profile: [{at: 0, round: 2}, {at: 6, round: 1}]", "", cut("baluster", 1, inches(9))), "balusters").Area, "28.372/144", "sq ft")
	})
	t.Run("metric", func(t *testing.T) {
		// By hand: 4 · 32 · 900 · 20 = 2 304 000 mm².
		g := groupOf(t, one(t, "wide: 32\nlong: 1000", "units: mm", cut("baluster", 20, 900*length.Millimetre)), "balusters")
		value(t, g.Area, "2.304", "m2")
	})
	t.Run("turned, metric", func(t *testing.T) {
		// By hand: frustum, diameters 50 to 25 over 150: π · 18.75 · √(12.5² + 150²) · 2 = 117.80972 · 150.51993 = 17 732.712 mm².
		g := groupOf(t, one(t, "profile: [{at: 0, round: 50}, {at: 150, round: 25}]", "units: mm", cut("baluster", 1, 150*length.Millimetre)), "balusters")
		near(t, g.Area, "0.017733")
	})
	t.Run("a run that waits", func(t *testing.T) {
		f := one(t, "wide: 1 1/4\nlong: 42", "")
		g := groupOf(t, f, "balusters")
		if g.Area != nil || len(g.Lines) != 0 || !asks(f, "Gallery") {
			t.Errorf("got %+v, missing %+v", g, f.Missing)
		}
	})
	t.Run("without sizes", func(t *testing.T) {
		f := one(t, "wide: 1 1/4", "", cut("baluster", 5, inches(36)))
		if g := groupOf(t, f, "balusters"); g.Area != nil || !asks(f, "length of the baluster") {
			t.Errorf("got %+v, missing %+v", g, f.Missing)
		}
	})
	t.Run("one run known, one not", func(t *testing.T) {
		j := jobtest.Job(t, paint, files{"job.md": "kind: job", "runs/1-gallery.md": run, "runs/2-return.md": run, "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42"})
		l := laid(j)
		l.Runs[0].Balusters = []layout.Cut{cut("baluster", 5, inches(36))}
		g := groupOf(t, Work(j, l), "balusters")
		if g.Area != nil || len(g.Lines) != 1 {
			t.Errorf("got %+v", g)
		}
	})
	t.Run("an empty run has none", func(t *testing.T) {
		j := jobtest.Job(t, paint, files{"job.md": "kind: job", "runs/1-gallery.md": run, "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42"})
		l := laid(j)
		l.Runs[0].Chosen = &layout.Candidate{}
		if f := Work(j, l); asks(f, "Gallery") {
			t.Errorf("got %+v", f.Missing)
		}
	})
}

func TestNewels(t *testing.T) {
	work := func(t *testing.T, posts, newel string) (Finishing, Group) {
		j := jobtest.Job(t, files{"job.md": "kind: job\nposts: " + posts, "parts/post.md": "kind: newel\n" + newel})
		f := Work(j, laid(j))
		return f, groupOf(t, f, "newels")
	}
	t.Run("square", func(t *testing.T) {
		// By hand: 2 · 4 · 3.5 · 48 / 144 = 9 1/3.
		_, g := work(t, "{a: {newel: post}, b: {newel: post}}", "wide: 3 1/2\nlong: 48")
		value(t, g.Area, "28/3", "sq ft")
		if g.Lines[0].Count != 2 || g.Lines[0].Turned {
			t.Errorf("got %+v", g.Lines[0])
		}
	})
	t.Run("half", func(t *testing.T) {
		_, g := work(t, "{a: {newel: post}}", "wide: 3 1/2\nlong: 48\nhalf: yes")
		value(t, g.Area, "7/3", "sq ft")
	})
	t.Run("turned", func(t *testing.T) {
		_, g := work(t, "{a: {newel: post}, b: {newel: post}}", "profile: [{at: 0, round: 2}, {at: 6, round: 1}]")
		value(t, g.Area, "56.744/144", "sq ft") // twice the frustum
		if !g.Lines[0].Turned {
			t.Error("not taken as turned")
		}
	})
	t.Run("not chosen, not sized", func(t *testing.T) {
		f, g := work(t, "{a: {}, b: {newel: post}}", "wide: 3 1/2")
		if g.Area != nil || !asks(f, "which newel stands at a") || !asks(f, "newel's sizes") {
			t.Errorf("got %+v", f.Missing)
		}
	})
}

func TestRailsAndFillets(t *testing.T) {
	const (
		rail = "kind: handrail\nplow: {wide: 1 1/4, deep: 5/16}\n"
		shoe = "kind: shoe\nwide: 2 1/2\nhigh: 3/4\nplow: {wide: 1 1/4, deep: 1/4}"
		all  = run + "handrail: rail\nshoe: shoe\nfillet: strip"
	)
	work := func(t *testing.T, r, handrail, fillet string, fillets ...layout.Cut) Finishing {
		j := jobtest.Job(t, files{"job.md": "kind: job", "runs/1-gallery.md": r, "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42",
			"parts/rail.md": handrail, "parts/shoe.md": shoe, "parts/strip.md": "kind: fillet\n" + fillet})
		l := laid(j)
		h, s := cut("handrail", 1, inches(96)), cut("shoe", 1, inches(90))
		l.Runs[0].Handrail, l.Runs[0].Shoe, l.Runs[0].Fillets = &h, &s, fillets
		l.Runs[0].Chosen = &layout.Candidate{Count: 3}
		return Work(j, l)
	}
	rails, shoes := cut("rail fillet", 4, inches(20)), cut("shoe fillet", 4, inches(19))
	const strip = "wide: 1 1/4\nthick: 5/16"
	f := work(t, all, rail+"girth: 8 1/2\nwide: 2 1/4\nhigh: 2 3/8", strip, rails, shoes)
	t.Run("girth given", func(t *testing.T) { // by hand: 8.5 · 96 / 144 = 5 2/3
		value(t, groupOf(t, f, "handrail").Lines[0].Figure, "17/3", "sq ft")
	})
	t.Run("fillets go with the groove", func(t *testing.T) { // (1.25 + 2 · 0.3125) · 80 / 144 and · 76 / 144
		h, s := groupOf(t, f, "handrail"), groupOf(t, f, "shoe")
		value(t, h.Lines[1].Figure, "150/144", "sq ft")
		value(t, s.Lines[1].Figure, "142.5/144", "sq ft")
		value(t, h.Area, "966/144", "sq ft")   // 816 + 150
		value(t, s.Area, "727.5/144", "sq ft") // 585 + 142.5
	})
	t.Run("shoe", func(t *testing.T) { // 2 · (2.5 + 0.75) · 90 / 144 = 585 / 144
		value(t, groupOf(t, f, "shoe").Lines[0].Figure, "585/144", "sq ft")
	})
	t.Run("shoe in two pieces", func(t *testing.T) { // cut at a step in the floor: 2 · (2.5 + 0.75) · (36 + 54) / 144, the same again
		j := jobtest.Job(t, files{"job.md": "kind: job", "runs/1-gallery.md": all, "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42",
			"parts/rail.md": rail + "girth: 8 1/2", "parts/shoe.md": shoe, "parts/strip.md": "kind: fillet\n" + strip})
		l := laid(j)
		first := cut("shoe", 1, inches(36))
		l.Runs[0].Shoe, l.Runs[0].ShoeMore = &first, []layout.Cut{cut("shoe", 1, inches(54))}
		line := groupOf(t, Work(j, l), "shoe").Lines[0]
		value(t, line.Figure, "585/144", "sq ft")
		if line.Count != 2 {
			t.Errorf("%d pieces", line.Count)
		}
	})
	t.Run("girth of an outline", func(t *testing.T) { // top 1, sides that go 3 down and 4 out and so are 5 long, underside 9, and what the rail's plow has for sides, if any: 1 + 2 · 5 + 9 = 20; by hand
		f := work(t, all, strings.Replace(rail, "plow:", "#", 1)+"wide: 9\nhigh: 3\noutline: [{at: 0, wide: 1}, {at: 3, wide: 9}]", strip, rails, shoes)
		value(t, groupOf(t, f, "handrail").Lines[0].Figure, "1920/144", "sq ft")
	})
	t.Run("girth from width and height", func(t *testing.T) { // 2 · (2.25 + 2.375) · 96 / 144 = 888 / 144
		f := work(t, all, rail+"wide: 2 1/4\nhigh: 2 3/8", strip, rails, shoes)
		value(t, groupOf(t, f, "handrail").Lines[0].Figure, "888/144", "sq ft")
	})
	t.Run("no girth", func(t *testing.T) {
		f := work(t, all, rail+"wide: 2 1/4", strip, rails, shoes)
		if groupOf(t, f, "handrail").Area != nil || !asks(f, "girth of the handrail") {
			t.Errorf("got %+v", f.Missing)
		}
		if groupOf(t, f, "shoe").Area == nil {
			t.Error("the shoe waits for the handrail")
		}
	})
	t.Run("fillets without sizes", func(t *testing.T) {
		f := work(t, all, rail+"girth: 8 1/2", "wide: 1 1/4", rails, shoes)
		if groupOf(t, f, "handrail").Area != nil || groupOf(t, f, "shoe").Area != nil || !asks(f, "width and thickness of the fillet") {
			t.Errorf("got %+v", f.Missing)
		}
	})
	t.Run("fillets not laid out", func(t *testing.T) {
		f := work(t, all, rail+"girth: 8 1/2", strip, shoes)
		if groupOf(t, f, "handrail").Area != nil || groupOf(t, f, "shoe").Area == nil || !asks(f, "Gallery") {
			t.Errorf("got %+v", f.Missing)
		}
	})
	t.Run("end fillets cut as the opening stands", func(t *testing.T) { // as long as their neighbours: (1.25 + 0.625) · 6 · 20 / 144
		f := work(t, all, rail+"girth: 8 1/2", strip, rails, cut("rail fillet", 2, 0), shoes)
		value(t, groupOf(t, f, "handrail").Lines[1].Figure, "225/144", "sq ft")
	})
	t.Run("a pin top has no rail fillets", func(t *testing.T) {
		j := jobtest.Job(t, files{"job.md": "kind: job", "runs/1-gallery.md": all, "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42\ntop: pin\npin: {wide: 1/2, long: 1/2}",
			"parts/rail.md": rail + "girth: 8 1/2", "parts/shoe.md": shoe, "parts/strip.md": "kind: fillet\n" + strip})
		l := laid(j)
		h, s := cut("handrail", 1, inches(96)), cut("shoe", 1, inches(90))
		l.Runs[0].Handrail, l.Runs[0].Shoe, l.Runs[0].Fillets = &h, &s, []layout.Cut{shoes}
		value(t, groupOf(t, Work(j, l), "handrail").Area, "17/3", "sq ft")
	})
	t.Run("no shoe, no group", func(t *testing.T) {
		for _, g := range work(t, run+"handrail: rail\nshoe: none\nfillet: none", rail+"girth: 8", strip).Groups {
			if g.Name == "shoe" {
				t.Errorf("got %+v", g)
			}
		}
	})
}

func TestVolumes(t *testing.T) {
	// Twenty-four square balusters 1 1/4 by 36 are 30 sq ft.
	work := func(t *testing.T, head, baluster string, coat length.Length, coats files) Group {
		j := jobtest.Job(t, coats, files{"job.md": "kind: job\nfinishes: {balusters: paint}\n" + head, "runs/1-gallery.md": run, "parts/stick.md": "kind: baluster\n" + baluster})
		l := laid(j)
		l.Runs[0].Balusters = []layout.Cut{cut("baluster", 24, coat)}
		return groupOf(t, Work(j, l), "balusters")
	}
	t.Run("fluid ounces", func(t *testing.T) {
		g := work(t, "", "wide: 1 1/4\nlong: 42", inches(36), paint)
		value(t, g.Area, "30", "sq ft")
		value(t, g.Coats[0].Volume, "14.08", "fl oz")    // 30 / 300 · 128 · 1.1
		value(t, g.Coats[1].Volume, "8448/350", "fl oz") // 30 · 2 / 350 · 128 · 1.1
		if g.Coats[0].N != 1 || g.Coats[1].N != 2 || g.Coats[0].Coat.Dry.Text != "4 h" || g.Coats[0].Coat.Sand.Text != "180" {
			t.Errorf("got %+v", g.Coats)
		}
		if got := g.Coats[1].Volume.Numbers(); got != "30 * 2 / 350 * 128 * (1 + 10 / 100)" {
			t.Errorf("printed as %s", got)
		}
	})
	t.Run("more on turned work", func(t *testing.T) {
		// A plain round is turned: 24 · 3.14159265 · 1.25 · 36 / 144 = 23.561944875 sq ft; / 300 · 128 · 1.25 · 1.1 = 13.823007660.
		g := work(t, "", "wide: 1 1/4\nlong: 42\nsection: round", inches(36), paint)
		value(t, g.Coats[0].Volume, "13.82300766", "fl oz")
	})
	t.Run("a can in m2/L for a job in inches", func(t *testing.T) {
		// 30 sq ft = 2.7870912 m²; / 10 = 278.70912 mL; a US fluid ounce is 29.5735295625 mL: 9.4242766... fl oz.
		coats := files{"finishes/paint.md": "kind: finish\ncoats: [{coat: enamel, coverage: 10 m2/L}]"}
		g := work(t, "", "wide: 1 1/4\nlong: 42", inches(36), coats)
		value(t, g.Coats[0].Volume, "278.70912/29.5735295625", "fl oz")
	})
	t.Run("litres", func(t *testing.T) {
		// 24 · 4 · 25 · 1000 = 2.4 m²; / 12 = 0.2 L.
		coats := files{"finishes/paint.md": "kind: finish\ncoats: [{coat: enamel, coverage: 12 m2/L}]"}
		g := work(t, "units: mm", "wide: 25\nlong: 1200", length.Metre, coats)
		value(t, g.Coats[0].Volume, "0.2", "L")
	})
	t.Run("a can in sq ft/gal for a metric job", func(t *testing.T) {
		// By desk calculator: 2.4 / 0.09290304 = 25.833385 sq ft; / 400 = 0.064583 gal; · 3.785411784 = 0.244475 L.
		coats := files{"finishes/paint.md": "kind: finish\ncoats: [{coat: enamel, coverage: 400 sq ft/gal}]"}
		g := work(t, "units: mm", "wide: 25\nlong: 1200", length.Metre, coats)
		near(t, g.Coats[0].Volume, "0.244475")
	})
	t.Run("no coverage", func(t *testing.T) {
		j := jobtest.Job(t, files{"job.md": "kind: job\nfinishes: {balusters: paint}", "runs/1-gallery.md": run, "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42",
			"finishes/paint.md": "kind: finish\ncoats: [{coat: enamel, coverage: }, {coat: wax, coverage: 0 m2/L}]"})
		l := laid(j)
		l.Runs[0].Balusters = []layout.Cut{cut("baluster", 24, inches(36))}
		f := Work(j, l)
		g := groupOf(t, f, "balusters")
		if len(g.Coats) != 2 || g.Coats[0].Volume != nil || g.Coats[1].Volume != nil || !asks(f, "how far the enamel goes") || !asks(f, "how far the wax goes") {
			t.Errorf("got %+v, missing %+v", g.Coats, f.Missing)
		}
	})
	t.Run("no finish", func(t *testing.T) {
		j := jobtest.Job(t, files{"job.md": "kind: job", "runs/1-gallery.md": run, "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42"})
		f := Work(j, laid(j))
		g := groupOf(t, f, "balusters")
		if g.Finish != nil || len(g.Coats) != 0 || !asks(f, "which finish for the balusters") {
			t.Errorf("got %+v, missing %+v", g, f.Missing)
		}
		if asks(f, "which finish for the shoe") {
			t.Error("a finish is asked for parts that the job does not have")
		}
	})
	t.Run("area not known", func(t *testing.T) {
		j := jobtest.Job(t, paint, files{"job.md": "kind: job\nfinishes: {balusters: paint}", "runs/1-gallery.md": run, "parts/stick.md": "kind: baluster\nwide: 1 1/4\nlong: 42"})
		g := groupOf(t, Work(j, laid(j)), "balusters")
		if len(g.Coats) != 2 || g.Coats[0].Volume != nil {
			t.Errorf("got %+v", g.Coats)
		}
	})
}

func TestOldSurface(t *testing.T) {
	work := func(t *testing.T, head, survey string) (Finishing, OldSurface) {
		j := jobtest.Job(t, files{"job.md": "kind: job\n" + head, "survey/old-railing.md": "kind: survey\n" + survey})
		f := Work(j, layout.Layout{})
		if len(f.Old) != 1 {
			t.Fatalf("got %+v", f.Old)
		}
		return f, f.Old[0]
	}
	member := func(count, wide, long string) string {
		return "coated: varnish\nmembers: [{what: balusters, count: " + count + ", wide: " + wide + ", long: " + long + "}]"
	}
	// The limit is 6 sq ft, 864 sq in: a square 1 in wide reaches it at 216 in. One step is a sixty-fourth, or a nanometre.
	for _, c := range []struct {
		name, head, survey, area string
		over                     bool
	}{
		{"the trade's case: one is 180 sq in", "", member("1", "1 1/4", "36"), "1.25", false},
		{"the trade's case: five", "", member("5", "1 1/4", "36"), "6.25", true},
		{"a sixty-fourth under", "", member("1", "1", "215 63/64"), "5.99956597222222222222222", false},
		{"exactly 6", "", member("1", "1", "216"), "6", false},
		{"a sixty-fourth over", "", member("1", "1", "216 1/64"), "6.00043402777777777777777", true},
		{"metric, exactly 6", "units: mm", member("6", "76.2", "304.8"), "6", false},
		{"metric, a nanometre over", "units: mm", member("6", "76.2", "304.800001"), "6.0000000196850393700787", true},
		{"metric, a nanometre under", "units: mm", member("6", "76.2", "304.799999"), "5.9999999803149606299212", false},
		{"round", "", "members: [{what: rail, count: 2, wide: 2, long: 72, section: round}]", "6.2831853", true}, // 2 · 3.14159265 · 2 · 72 / 144
		{"oblong", "", "members: [{what: shoe, count: 1, wide: 3, deep: 1, long: 90}]", "5", false},              // 2 · 4 · 90 / 144
		{"several sorts, coating unknown", "", "coated: unknown\nmembers: [{count: 2, wide: 1, long: 72}, {count: 1, wide: 3, deep: 1, long: 90}]", "9", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, o := work(t, c.head, c.survey)
			if o.Area == nil || o.Area.ID != "survey/old-railing/old-surface" || o.Over != c.over || o.AtLeast {
				t.Fatalf("got %+v", o)
			}
			want, _ := new(big.Rat).SetString(c.area)
			got := o.Area.Value.Rat()
			if gap := new(big.Rat).Sub(got, want); gap.Abs(gap).Cmp(big.NewRat(1, 1_000_000_000_000)) > 0 { // the table's decimals end there
				t.Errorf("%s = %s, want %s", o.Area.Numbers(), got.FloatString(12), c.area)
			}
			if o.Area.Unit != "sq ft" {
				t.Errorf("unit %s", o.Area.Unit)
			}
		})
	}
	t.Run("bare wood is not counted", func(t *testing.T) {
		f, o := work(t, "", "coated: bare\nmembers: [{count: 50, wide: 1 1/4, long: 36}]")
		if o.Area != nil || o.Over || len(f.Missing) > 0 {
			t.Errorf("got %+v, missing %+v", o, f.Missing)
		}
	})
	t.Run("nothing counted", func(t *testing.T) {
		f, o := work(t, "", "coated: paint")
		if o.Area != nil || !asks(f, "coated parts of the old guard") {
			t.Errorf("got %+v, missing %+v", o, f.Missing)
		}
	})
	t.Run("some counted, not over yet", func(t *testing.T) {
		f, o := work(t, "", "members: [{count: 4, wide: 1 1/4, long: 36}, {what: rail, count: 1, wide: 2}]")
		if o.Area != nil || o.Over || !asks(f, "old guard's rail") {
			t.Errorf("got %+v, missing %+v", o, f.Missing)
		}
	})
	t.Run("some counted, over already", func(t *testing.T) {
		_, o := work(t, "", "members: [{count: 5, wide: 1 1/4, long: 36}, {what: rail, count: 1, wide: 2}]")
		if !o.Over || !o.AtLeast || o.Area == nil || o.Area.Note == "" {
			t.Errorf("got %+v", o)
		}
	})
	t.Run("a guard that stays", func(t *testing.T) {
		j := jobtest.Job(t, files{"job.md": "kind: job", "survey/old.md": "kind: survey\nremoved: no\n" + member("5", "1 1/4", "36")})
		if f := Work(j, layout.Layout{}); len(f.Old) != 0 {
			t.Errorf("got %+v", f.Old)
		}
	})
	t.Run("two guards together", func(t *testing.T) {
		j := jobtest.Job(t, files{"job.md": "kind: job\nbuilt: 1925", "survey/1-a.md": "kind: survey\n" + member("3", "1 1/4", "36"), "survey/2-b.md": "kind: survey\n" + member("2", "1 1/4", "36")})
		f := Work(j, layout.Layout{})
		if f.Old[0].Over || f.Old[1].Over || f.Old[0].Built.N != 1925 {
			t.Errorf("got %+v", f.Old)
		}
		value(t, f.Old[0].Together, "6.25", "sq ft")
		value(t, f.Old[1].Together, "6.25", "sq ft")
	})
}

// A figure's id is used once, and each input of a formula is told apart by its symbol.
func TestFiguresAreDistinct(t *testing.T) {
	j, l := whole(t, 3)
	f := Work(j, l)
	seen := map[string]bool{}
	for _, fig := range f.Figures {
		if seen[fig.ID] {
			t.Errorf("two figures %s", fig.ID)
		}
		seen[fig.ID] = true
		by := map[string]*working.Input{}
		for _, in := range fig.Inputs() {
			by[in.Symbol] = in
			if in.At.IsZero() && in.From == "" && in.Figure == "" {
				t.Errorf("%s: nobody says where %s comes from", fig.ID, in.Symbol)
			}
		}
	}
	f.Missing = slices.DeleteFunc(f.Missing, func(r finding.Reading) bool { return r.Group == coatingGroup }) // without a shop nobody says what the air has to be
	if len(f.Figures) < 10 || len(f.Missing) > 0 {
		t.Errorf("%d figures, missing %+v", len(f.Figures), f.Missing)
	}
	again := Work(j, l)
	for i := range f.Figures {
		if diff := cmp.Diff(f.Figures[i].Numbers(), again.Figures[i].Numbers()); diff != "" {
			t.Error(diff)
		}
	}
}

// whole is a job of so many runs with everything known, each baluster of a length of its own.
func whole(t testing.TB, runs int) (*job.Job, layout.Layout) {
	list := files{
		"job.md":         "kind: job\nposts: {a: {newel: post}}\nhandrail: rail\nshoe: shoe\nfillet: strip\nfinishes: {balusters: paint, newels: paint, handrail: paint, shoe: paint}",
		"parts/stick.md": "kind: baluster\nprofile: [{at: 0, square: 1 1/4}, {at: 7, square: 1 1/4}, {at: 7, round: 1 1/4}, {at: 12, round: 3/4}, {at: 30, round: 1}, {at: 30, square: 1 1/4}, {at: 42, square: 1 1/4}]",
		"parts/rail.md":  "kind: handrail\ngirth: 8 1/2\nplow: {wide: 1 1/4, deep: 5/16}",
		"parts/shoe.md":  "kind: shoe\nwide: 2 1/2\nhigh: 3/4\nplow: {wide: 1 1/4, deep: 1/4}",
		"parts/strip.md": "kind: fillet\nwide: 1 1/4\nthick: 5/16",
		"parts/post.md":  "kind: newel\nwide: 3 1/2\nlong: 48",
	}
	for i := range runs {
		list["runs/"+strconv.Itoa(i+1)+"-r"+strconv.Itoa(i+1)+".md"] = run
	}
	j := jobtest.Job(t, paint, list)
	l := laid(j)
	for _, r := range l.Runs {
		h, s := cut("handrail", 1, inches(96)), cut("shoe", 1, inches(96))
		r.Handrail, r.Shoe, r.Chosen = &h, &s, &layout.Candidate{Count: 18}
		for i := range int64(18) {
			r.Balusters = append(r.Balusters, cut("baluster", 1, in64(2200+i)))
			r.Fillets = append(r.Fillets, cut("shoe fillet", 1, in64(250+i)), cut("rail fillet", 1, in64(250+i)))
		}
	}
	return j, l
}

func BenchmarkWork(b *testing.B) {
	j, l := whole(b, 4)
	for b.Loop() {
		Work(j, l)
	}
}
