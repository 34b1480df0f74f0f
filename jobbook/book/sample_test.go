package book

import (
	"io/fs"
	"os"
	"testing"
	"testing/fstest"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/price"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// templatesFolder is the real templates, from the disk: only package jobbook imports their package.
func templatesFolder() fs.FS { return os.DirFS("../../templates") }

// sampleFiles are the files of the small job below testdata/job, with some of them replaced or added.
func sampleFiles(t testing.TB, changed map[string]string) fs.FS {
	t.Helper()
	files := fstest.MapFS{}
	root := os.DirFS("testdata/job")
	err := fs.WalkDir(root, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, path)
		files[path] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for path, text := range changed {
		files[path] = &fstest.MapFile{Data: []byte(text)}
	}
	return files
}

// samplePlan is the job of sampleFiles with numbers worked by hand: 41 1/2 clear, 1 3/4 wide, 7 balusters,
// gap (41.5 - 7 * 1.75) / 8 = 3.65625, spacing 5.40625; the centre k at 5.40625 k - 0.875, to the nearest sixteenth.
func samplePlan(t testing.TB, changed map[string]string) (*plan.Plan, *source.Folder) {
	t.Helper()
	folder, err := source.Read(sampleFiles(t, changed), source.Job, "")
	if err != nil {
		t.Fatal(err)
	}
	j, problems := job.Decode(folder.Documents, nil)
	for _, p := range append(folder.Problems, problems...) {
		t.Logf("%s: %s", p.At, p.Summary)
	}
	const in, six = length.Inch, length.Inch / 16
	p := &plan.Plan{Job: j, Traits: j.Traits()}
	run := func(name string) *job.Run {
		for _, r := range j.Runs {
			if r.Name == name {
				return r
			}
		}
		t.Fatalf("no run %s", name)
		return nil
	}
	landing := run("landing")
	r := &layout.Run{ID: "run/landing", Name: "landing", Title: "Landing", Job: landing, Least: 7, Why: "the smallest count that passes"}
	r.From = layout.End{Name: "wall", Wall: true, Taken: "the wall"}
	r.To = layout.End{Name: "corner", Taken: "the post"}
	r.Limit = layout.Limit{Value: 4 * in, Op: finding.Under, From: "our-rules T1.2", Known: true}
	r.Clear = working.Work("run/landing/clear", "clear length at the foot", "L", "in", working.Length("L_f", "clear length at the floor, as read", landing.Clear("floor").Length, j.System, landing.Clear("floor").At), working.Geometry)
	n := working.Count("n", "balusters", 7, source.Pos{}).Because("the smallest count that passes")
	b := working.Length("b", "width of a baluster at the foot", in+12*six, j.System, landing.Baluster.Wide.At)
	r.Gap = working.Work("run/landing/gap", "gap between balusters at the foot", "g", "in",
		working.Quotient(working.Difference(r.Clear.In(), working.Product(n, b)), working.Sum(n, working.Constant(1))), working.Geometry)
	r.Spacing = working.Work("run/landing/spacing", "spacing, centre to centre", "s", "in", working.Sum(r.Gap.In(), b), working.Geometry)
	r.MarkFig = working.WorkSeries("run/landing/marks", "centre of each baluster", "m_k", "in",
		working.RoundTo(working.Difference(working.Product(working.Variable("k"), r.Spacing.In()), working.Quotient(b, working.Constant(2))), working.Length("d", "division", six, j.System, j.Division.At), length.Nearest),
		[]string{"k"}, []string{"baluster"}, [][]exact.Number{{exact.Of(1)}, {exact.Of(2)}, {exact.Of(3)}, {exact.Of(4)}, {exact.Of(5)}, {exact.Of(6)}, {exact.Of(7)}}, working.Geometry)
	gap := 3*in + in*21/32 // 3.65625
	for k, at := range []length.Length{4*in + 9*six, 9*in + 15*six, 15*in + 6*six, 20*in + 12*six, 26*in + 3*six, 31*in + 9*six, 37 * in} {
		r.Marks = append(r.Marks, layout.Mark{K: k + 1, At: at, Rail: at, Plumbed: k == 6})
	}
	r.Candidates = []layout.Candidate{
		{Count: 6, Gap: 4*in + in*3/7, EndGap: 4*in + in*3/7, Worst: 4*in + in/2, Where: "between balusters", Judged: true, Spacing: 6 * in},
		{Count: 7, Gap: gap, EndGap: gap, Worst: 4*in - in/4096, Where: "between balusters", Judged: true, Passes: true, Chosen: true, Spacing: gap + in + 12*six},
		{Count: 8, Gap: 3*in + in/18, EndGap: 3 * in, Worst: 3*in + in/2, Where: "between balusters", Judged: true, Passes: true, Spacing: 5 * in},
	}
	r.Chosen = &r.Candidates[1]
	r.Openings = []layout.Opening{
		{Where: "at the wall", Part: "from", Foot: 3*in + 11*six, Nominal: 3*in + 15*six, Worst: 3*in + 31*in/32, Known: true, Figure: "run/landing/gap"},
		{Where: "at corner", Part: "to", Foot: 3*in + 10*six},
	}
	r.Spacer = &layout.Spacer{Block: 3*in + 11*six, LastGap: 3*in + 7*six, Drift: -3 * six, Figure: "run/landing/gap"}
	r.Lean = &layout.Lean{Words: "at the rail the opening is 1/8 in wider than at the floor"}
	r.Floor = layout.Floor{How: "level", Words: "the floor was not read"}
	r.Levels = layout.Levels{Known: true, RailTop: 38 * in, RailUnder: 35*in + 12*six, Finished: 38 * in, Bare: 38 * in}
	cut := func(what, part, title string, count int, exact, rounded length.Length, how length.Rounding, which, fit string) layout.Cut {
		return layout.Cut{What: what, Part: part, Title: title, Run: "landing", Count: count, Exact: exact, Length: rounded, Rounding: how, Which: which, Fit: fit, Figure: "run/landing/clear"}
	}
	rail := cut("handrail", "plain-rail", "Plain rail", 1, 41*in+10*six, 41*in+10*six, length.Up, "", "leave it long and fit it")
	r.Handrail = &rail
	r.Balusters = []layout.Cut{cut("baluster", "waisted", "Waisted baluster", 7, 35*in+12*six, 35*in+11*six, length.Down, "all", "")}
	waiting := &layout.Run{ID: "run/return", Name: "return", Job: run("return"), Least: -1}
	read := finding.Reading{What: "the clear length at the floor", Where: "runs/2-return.md, clear: ", Why: "everything", Group: "run/return", At: source.Pos{File: "runs/2-return.md", Line: 5, Col: 1}}
	waiting.Missing = []finding.Reading{read}
	p.Layout.Runs = []*layout.Run{r, waiting}
	p.Missing = []finding.Reading{read}
	p.Takeoff = takeoff.Takeoff{Pieces: append([]layout.Cut{rail}, r.Balusters...), Missing: []finding.Reading{read}, Needs: []takeoff.Need{
		{Kind: "baluster", Part: "waisted", Title: "Waisted baluster", Species: "poplar", Origin: landing.Baluster.Origin, Count: 7, Spare: 1, Order: 8, Bought: 36 * in, Figure: "run/landing/spacing"},
		{Kind: "handrail", Part: "plain-rail", Title: "Plain rail", Origin: landing.Handrail.Origin, Count: 1, Running: 41*in + 10*six, Longest: 41*in + 10*six},
	}}
	white := j.Finishes[0].Part
	area := working.Work("finish/balusters/area", "surface of the balusters", "A", "sq ft", working.Count("A_b", "surface", 11, source.Pos{}).Because("for the test"))
	volume := working.Work("finish/balusters/coat-1", "primer for the balusters", "V", "fl oz", working.Quotient(working.Product(area.In(), working.Constant(128)), working.Count("c", "coverage", 350, white.Coats[0].Coverage.At)))
	p.Finishing = finish.Finishing{Groups: []finish.Group{{Name: "balusters", Finish: white, Area: area, Lines: []finish.AreaLine{{What: "waisted baluster", Count: 7, Figure: area}},
		Coats: []finish.Coat{{N: 1, Coat: &white.Coats[0], Volume: volume}, {N: 2, Coat: &white.Coats[1]}}}}, Old: []finish.OldSurface{{Survey: j.Surveys[0]}}}
	p.Figures = []*working.Figure{r.Clear, r.Gap, r.Spacing, r.MarkFig, area, volume}
	opening, height := j.Rules.Limit("guard-opening"), j.Rules.Limit("guard-height-level")
	p.Findings = []finding.Finding{
		{ID: "check/run/landing/guard-height-level", Group: "run/landing", Title: "height of the guard", Verdict: finding.AskAuthority, Measured: 38 * in, HasValue: true, Op: finding.AtLeast, Limit: 36 * in, HasLimit: true, Margin: 2 * in, Clause: "T1.1", Status: height.Status, Rules: "our-rules", Set: height.At, At: j.Height.Top.At, Note: "the limit is recalled, not confirmed"},
		{ID: "check/run/landing/opening", Group: "run/landing", Title: "worst opening between balusters", Verdict: finding.Pass, Measured: 4*in - in/4096, HasValue: true, Op: finding.Under, Limit: 4 * in, HasLimit: true, Margin: in / 4096, Clause: "T1.2", Status: opening.Status, Rules: "our-rules", Set: opening.At, Amends: "", At: landing.Clear("floor").At, Figure: "run/landing/gap"},
		{ID: "check/survey/old/opening", Group: "survey/old", Title: "opening at the wall", Verdict: finding.Fail, Measured: 5*in + in/8, HasValue: true, Op: finding.Under, Limit: 4 * in, HasLimit: true, Margin: -(in + in/8), Clause: "T1.2", Status: opening.Status, Rules: "our-rules", Set: opening.At, At: j.Surveys[0].Openings[0].Read.At, Cure: "a closed barrier the same day"},
	}
	p.Sequence = sequence.Sequence{Minutes: 30, Cautions: j.Cautions, Steps: []sequence.Step{
		{N: 1, Step: j.Steps[0], Quantities: []sequence.Quantity{{Name: "balusters", N: 7, Known: true}, {Name: "runs", N: 2, Known: true}}, Minutes: 30, Cautions: j.Cautions},
		{N: 2, Step: j.Steps[1], Waits: "posts"},
	}}
	p.Retighten = sequence.Retighten(j, p.Sequence, p.Schedule)
	r.Measures = []finding.Measure{{Limit: "guard-height-level", Subject: "height of the guard", Group: "run/landing", Value: 38 * in, Known: true, At: j.Height.Top.At}}
	p.Inspection = rules.Inspect(j, p.Layout)
	p.Price = samplePrice(t, p)
	p.Figures = append(p.Figures, p.Price.Figures...)
	p.Findings, p.Figures = append(p.Findings, p.Inspection.Findings...), append(p.Figures, p.Inspection.Figures...)
	return p, folder
}

// samplePrice is the price of the sample's plan with 123.45 of materials, worked by hand: 30 minutes at 60.00 are 30.00; with 10.00 of contingency the cost is 163.45, its 10 % 16.345,
// together 179.80, whose 20 % are 35.96; 8 % of the materials are 9.876; the guard is 225.64, rounded up to fives 230.00. Its 33.333 % are 76.6659, the rest 153.3341: the first line's remainder
// is the larger. With 12.00 agreed 242.00, less 2 %, 4.84: 237.16.
func samplePrice(t testing.TB, p *plan.Plan) price.Estimate {
	amount := func(m money.Money) job.Amount { return job.Amount{Money: m, Given: true} }
	percent := func(thousandths int64) job.Ratio { return job.Ratio{Thousandths: thousandths, Unit: "%", Given: true} }
	words := func(s string) job.Text { return job.Text{Text: s, Given: true} }
	j := p.Job
	j.Shop.Currency, j.Shop.Name = words("$"), words("The test's shop")
	j.Shop.Rates = job.Rates{Hour: amount(6000), Overhead: percent(10_000), MarkUp: percent(20_000), Tax: percent(8_000), TaxOn: words("materials"), Round: amount(500)}
	j.Price = job.Pricing{
		Show: words("lines"), Contingency: amount(1000), Lines: []job.PriceLine{{What: words("A third"), Share: percent(33_333)}, {What: words("The rest")}},
		Extras: []job.Extra{{What: words("A threshold"), Price: amount(1200)}}, Discount: job.Discount{Percent: percent(2_000)},
		Date: words("2026-11-20"), Valid: job.Valid{Days: job.Whole{N: 14, Given: true}},
	}
	order := takeoff.Order{Supplier: takeoff.Source{Name: "mill", Title: "The mill"}, Known: 12345, Complete: true, Figure: "run/landing/clear"}
	e, problems := price.Reckon(price.Input{Job: j, Layout: p.Layout, Buying: takeoff.Buying{Orders: []takeoff.Order{order}, Complete: true}, Sequence: p.Sequence, Open: p.Missing})
	if len(problems) > 0 || e.Guard != 23000 || e.Total != 23716 || !e.Offer.Show {
		t.Fatalf("guard %s, total %s, shown %v, problems %v", e.Guard, e.Total, e.Offer.Show, problems)
	}
	return e
}
