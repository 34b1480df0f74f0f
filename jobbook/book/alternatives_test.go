package book

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

const (
	closer = "---\nkind: alternative\ntitle: Closer & closer\nall-runs: {most: 3 9/16}\nruns: {landing: {count: }}\n---\n\nFor the *cat*.\n"
	idle   = "---\nkind: alternative\n---\n"
)

// wayPlan is the small job with two alternatives: one of 8 balusters, with gaps of (41.5 - 8 * 1.75) / 9 = 3.0556 by hand, a failing check and a reading to take besides; and one that changes nothing.
func wayPlan(t testing.TB) *plan.Plan {
	t.Helper()
	files := map[string]string{"alternatives/1-closer.md": closer, "alternatives/2-idle.md": idle}
	p, _ := samplePlan(t, files)
	same, _ := samplePlan(t, files)
	other, _ := samplePlan(t, files)
	const in = length.Inch
	r := other.Layout.Runs[0]
	r.Chosen = &r.Candidates[2]
	n := working.Count("n", "balusters", 8, source.Pos{}).Because("the smallest count that passes")
	b := working.Length("b", "width of a baluster at the foot", in+in*3/4, other.Job.System, r.Job.Baluster.Wide.At)
	r.Gap = working.Work("run/landing/gap", "gap between balusters at the foot", "g", "in",
		working.Quotient(working.Difference(r.Clear.In(), working.Product(n, b)), working.Sum(n, working.Constant(1))), working.Geometry)
	r.Spacing = working.Work("run/landing/spacing", "spacing, centre to centre", "s", "in", working.Sum(r.Gap.In(), b), working.Geometry)
	r.Limit.Value = 3*in + in*9/16
	r.Handrail = nil
	for i, f := range other.Figures {
		for _, own := range []*working.Figure{r.Gap, r.Spacing} {
			if f.ID == own.ID {
				other.Figures[i] = own
			}
		}
	}
	other.Findings = append([]finding.Finding{{ID: "check/post/corner/block", Group: "post/corner", Title: "top of the block", Verdict: finding.Fail, Measured: 38 * in, HasValue: true, Op: finding.AtLeast, Limit: 39 * in, HasLimit: true, Margin: -in, Figure: "run/landing/gap", Cure: "a longer newel"}}, other.Findings...)
	other.Missing = append(other.Missing, finding.Reading{What: "the clear at the rail", Where: "runs/1-landing.md, clear: {rail: }", Why: "the handrail", Group: "run/landing", At: source.Pos{File: "runs/1-landing.md"}})
	other.Buying.Known, _ = money.Parse("12.50")
	other.Buying.Orders = []takeoff.Order{{}}
	p.Alternatives = []plan.Alternative{{Of: p.Job.Alternatives[0], Plan: other}, {Of: p.Job.Alternatives[1], Plan: same}}
	return p
}

func TestAlternativesPage(t *testing.T) {
	files, problems, err := Render(wayPlan(t), templatesFolder())
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	pages := byPath(files)
	checkPages(t, pages)
	golden(t, filepath.Join("testdata", "alternatives.html"), pages["alternatives.html"])
	// Only what is not as drawn is worked again: the gap and the spacing, not the clear that they rest on, which is the same.
	if got := strings.Count(pages["working.html"], `id="fig-alt.`); got != 2 || !strings.Contains(pages["working.html"], `id="fig-alt.closer.run.landing.gap"`) {
		t.Errorf("%d workings of alternatives", got)
	}
	if !strings.Contains(pages["working.html"], "(41.5 - 8 * 1.75) / (8 + 1)") {
		t.Error("the working of the gap with 8 balusters is not shown")
	}
	if link := `href="working.html#fig-alt.closer.run.landing.gap"`; !strings.Contains(pages["print.html"], link) {
		t.Error("the print edition does not lead to the working of the alternative")
	}
}

// TestNoAlternatives: a job without any has no such page, and a table with only its heads.
func TestNoAlternatives(t *testing.T) {
	pages := rendered(t, nil)
	if pages["alternatives.html"] != "" {
		t.Error("there is a page of nothing")
	}
	if got := strings.Count(pages["data/alternatives.csv"], "\r\n"); got != 1 {
		t.Errorf("%d lines", got)
	}
}

// TestAlternativesTable: as drawn first, a row for each run and one for the whole job; by hand from wayPlan, in which 1/4096 in is 6201 nm and 1/18 in 1 411 111 nm; the price as in samplePrice.
func TestAlternativesTable(t *testing.T) {
	files, _, err := Render(wayPlan(t), templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(byPath(files)["data/alternatives.csv"], "\r", "")), "\n")
	want := []string{
		",As drawn,landing,Waisted baluster,7,3.65625,5.40625,3.999755866,under,4,pass,38,41.625,,,,,,,,,",
		",As drawn,return,Waisted baluster,,,,,,,,,,,,,,,,,,",
		",As drawn,,,,,,,,,,,,,0,1,1,30,0.00,no,237.16,$",
		"closer,Closer & closer,landing,Waisted baluster,8,3.055555551,5,3.5,under,3.5625,pass,38,,,,,,,,,,",
		"closer,Closer & closer,return,Waisted baluster,,,,,,,,,,,,,,,,,,",
		"closer,Closer & closer,,,,,,,,,,,,,1,1,2,30,12.50,no,237.16,$",
		"idle,Idle,landing,Waisted baluster,7,3.65625,5.40625,3.999755866,under,4,pass,38,41.625,,,,,,,,,",
		"idle,Idle,return,Waisted baluster,,,,,,,,,,,,,,,,,,",
		"idle,Idle,,,,,,,,,,,,,0,1,1,30,0.00,no,237.16,$",
	}
	if diff := cmp.Diff(want, lines[1:]); diff != "" {
		t.Error(diff)
	}
}

// TestChoiceThatFails: the client is not promised what fails a check, and told no price of it.
func TestChoiceThatFails(t *testing.T) {
	p := wayPlan(t)
	p.Job.Price.Choices = []job.Text{{Text: "closer", Given: true}, {Text: "idle", Given: true}}
	files, _, err := Render(p, templatesFolder())
	if err != nil {
		t.Fatal(err)
	}
	text := byPath(files)["client.html"]
	for _, want := range []string{"<li>Closer &amp; closer: whether it can be had is not settled yet.</li>", "<li>idle: at the same price.</li>"} {
		if !strings.Contains(text, want) {
			t.Errorf("the client does not read %q", want)
		}
	}
}
