package book

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"balustrade/jobbook/changes"
	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/load"
	"balustrade/jobbook/plan"
	pricing "balustrade/jobbook/price"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/wood"
	"balustrade/jobbook/working"
)

const handSixteenth = length.Inch / 16

func handGiven(l length.Length) job.Measure { return job.Measure{Length: l, Given: true} }
func handSaid(text string) job.Text         { return job.Text{Text: text, Given: true} }

// handHalf is a job in inches with one run of which only the clear was read.
func handHalf() *plan.Plan {
	at := source.Pos{File: "runs/1-gallery.md", Line: 4, Col: 16}
	clear := working.Work("run/gallery/clear", "clear length", "L", "in", working.Length("L_f", "clear length at the floor", 94*length.Inch+7*handSixteenth, length.Inches, at), working.Geometry)
	missing := finding.Reading{What: "which rule set", Where: "job.md, rules: ", Why: "every check", Group: "run/gallery", At: source.Pos{File: "job.md"}}
	run := &layout.Run{ID: "run/gallery", Name: "gallery", Title: "Gallery", Least: -1, Clear: clear, Missing: []finding.Reading{missing}}
	run.From = layout.End{Name: "wall", Wall: true, Taken: "baseboard"}
	run.To = layout.End{Name: "end not named", Taken: "not said"}
	run.Floor = layout.Floor{How: "level", Words: "The floor was not read from a level line; it is taken as level until it is."}
	return &plan.Plan{
		Job:     &job.Job{System: length.Inches, Division: handGiven(handSixteenth), Title: handSaid("Larch Row")},
		Traits:  []string{"level-run", "wall-end"},
		Layout:  layout.Layout{Runs: []*layout.Run{run}},
		Figures: []*working.Figure{clear}, Missing: []finding.Reading{missing},
		Findings: []finding.Finding{{ID: "check/run/gallery/opening", Group: "run/gallery", Title: "widest opening", Verdict: finding.ToBeMeasured}},
	}
}

// handFull has something in every property. Its numbers are not those of a real layout, only such that each can be told apart.
func handFull() *plan.Plan {
	p := handHalf()
	in := length.Inch
	j := p.Job
	j.Client, j.Place, j.Measured, j.RulesName, j.Rules = handSaid("the owner"), handSaid("upstairs"), handSaid("2026-11-20"), handSaid("irc-2021"), &job.RuleSet{Origin: job.Origin{Name: "irc-2021"}}
	at := source.Pos{File: "runs/1-gallery.md", Line: 4, Col: 16}

	third := working.Work("run/gallery/third", "a third of the clear", "t", "in", working.Quotient(p.Figures[0].In(), working.Constant(3)), working.Geometry).Noted("rounded when printed")
	none := working.Work("run/gallery/none", "a quotient without a value", "q", "", working.Quotient(working.Count("n", "balusters", 17, at), working.Count("z", "nothing", 0, source.Pos{}).Because("no reason")))
	marks := working.WorkSeries("run/gallery/marks", "centre of each baluster", "m_k", "in",
		working.Product(working.Variable("k"), working.Length("s", "spacing", 5*in+in/8, length.Inches, at)), []string{"k"}, []string{"baluster"},
		[][]exact.Number{{exact.Of(1)}, {exact.Of(2)}}, working.Citation{Text: "geometry", Status: working.CommonPractice})
	area := working.Work("finish/area", "surface", "A", "sq ft", working.Count("A_b", "surface", 31, source.Pos{}))
	volume := working.Work("finish/volume", "volume", "V", "fl oz", working.Quotient(area.In(), working.Constant(2)))
	p.Figures = append(p.Figures, third, none, marks, area, volume)

	chosen := layout.Candidate{Count: 18, Gap: 3*in + 9*handSixteenth, EndGap: 3 * in, Worst: 3*in + in/10, Where: "at the wall", Passes: true, Judged: true, Chosen: true, Spacing: 5*in + in/8}
	r := p.Layout.Runs[0]
	r.Limit = layout.Limit{Value: 4 * in, Op: finding.Under, From: "irc-2021 R312.1.3", Known: true}
	r.Candidates = []layout.Candidate{{Count: 17, Gap: 4 * in, Worst: 4*in + 1, Judged: true}, chosen, {Count: 19}}
	r.Chosen, r.Least, r.Why = &r.Candidates[1], 18, "the smallest count that passes"
	r.To = layout.End{Name: "corner", Taken: "post", Known: true, Recess: in / 2, Proud: in / 4, High: 3 * in, Rosette: in / 8, Newel: &job.Newel{Origin: job.Origin{Name: "square-newel"}}}
	r.Marks = []layout.Mark{{K: 1, At: 5*in + 2*handSixteenth, Shoe: 5 * in, Rail: 4 * in}, {K: 2, At: 10*in + 4*handSixteenth, Shoe: 10 * in, Plumbed: true}}
	r.Openings = []layout.Opening{
		{Where: "at wall", Part: "from", Foot: 3 * in, Nominal: 3*in + 1, Worst: 3*in + in/10, Found: profile.Found{X: 12.34567, Z: -0.00001}, Known: true, Figure: third.ID},
		{Where: "at corner", Part: "to", Found: profile.Found{X: math.NaN(), Z: math.Inf(1)}},
	}
	r.Rake = &layout.Rake{
		Treads: []layout.Tread{{N: 1, Height: 7 * in, Riser: 7 * in, Going: 10 * in}, {N: 2, At: 10 * in, Height: 14 * in, Riser: 7 * in}}, Measured: true, Nosing: in, From: -in, To: 10 * in,
		Rise: 7 * in, Going: 10 * in, Top: 36 * in, Thick: 3 * in, ShoeUnder: in, ShoeThick: in, PerTread: 2, Angle: third, Square: third, Secant: third,
	}
	r.Marks[0].Tread, r.Marks[0].Riser, r.Marks[0].Along, r.Marks[0].Stands, r.Marks[0].Lift, r.Marks[0].Head = 1, in, 2*in, 7*in, 6*in, 40*in
	r.Marks[0].Gap = 1
	r.Kept = &layout.Kept{Part: &job.Baluster{Origin: job.Origin{Name: "old"}}, Added: 1, Before: 5 * in, Least: in, Most: 3 * in, Words: []string{"push it"},
		Old:  []layout.OldBaluster{{N: 1, Near: 5 * in, At: 6 * in, Lean: in / 4, Leans: true}, {N: 2, Near: 9 * in, At: 10 * in}},
		Gaps: []layout.OldGap{{N: 1, Where: "between the wall and old baluster 1", Foot: 5 * in, Between: 33 * in, Found: 5 * in, Known: true, Least: 1, New: 1, Worst: 2 * in, Room: in}, {N: 2, Where: "between old balusters 1 and 2", Foot: 9 * in, Least: -1}}}
	j.Posts = []job.Post{{Name: "corner", Part: &job.Newel{Origin: job.Origin{Name: "square-newel"}}}}
	p.Layout.Posts = []layout.Post{{
		ID: "post/corner", Name: "corner", Known: true, Wide: 3 * in, Down: in, BlockFrom: 30 * in, BlockTo: 40 * in, NeedFrom: 33 * in, NeedTo: 38 * in, Reveal: in / 4,
		Cut: &layout.Cut{What: "newel", Count: 1, Length: 47 * in, Exact: 47 * in}, Top: 46 * in,
		Rows:     []layout.FootRow{{Below: in / 2, Up: in / 2, Figure: third.ID, Bench: third.ID}},
		Arrivals: []layout.Arrival{{Run: "gallery", End: "to", Raked: true, Up: true, Over: true, Known: true, Top: 38 * in, Under: 36 * in, Heading: 90, Turned: true, Skew: 1.5, Bolt: 37 * in, BoltDeep: in}},
	}}
	p.Layout.Plan = layout.Plan{Stretches: []layout.Stretch{{Run: "gallery", Group: 1, To: layout.Spot{X: 2398.7125}}}, Posts: []layout.Spot{{Name: "corner", X: 2440, Y: -0.0001}}, Assumed: []string{"square"}}
	r.Candidates[1].PerTread = 2
	r.TurningsWords = "they climb"
	r.Holes = []layout.Hole{{Where: "in the treads", Wide: in, Deep: in, Round: true, Count: 18, Note: "glue"}}
	r.Spacer = &layout.Spacer{Block: 3*in + 9*handSixteenth, LastGap: 3 * in, Drift: -9 * handSixteenth, Figure: third.ID}
	r.Lean = &layout.Lean{Readings: []layout.LeanReading{{At: 36 * in, Wider: -handSixteenth}}, Out: true, Settled: true, Words: "the post leans", FromRail: 0, ToRail: -handSixteenth, Sum: -handSixteenth}
	r.Floor = layout.Floor{Points: []layout.FloorPoint{{At: 0, Height: 0}, {At: 40 * in, Height: -in / 8}}, Out: in / 8, How: "scribe", Words: "out of level", Scribe: []layout.FloorPoint{{At: 0, Height: in / 8}}}
	r.Levels = layout.Levels{Known: true, RailTop: 38 * in, RailUnder: 36 * in, ShoeTop: in, Finished: 37 * in, Bare: 38 * in}
	cut := func(what string, l length.Length) layout.Cut {
		return layout.Cut{What: what, Part: what + "-6210", Title: what, Run: "gallery", Count: 1, Exact: l + 1, Length: l, Rounding: length.Down, Which: "1 to 18", Fit: "leave long", Figure: third.ID}
	}
	rail, shoe := cut("handrail", 94*in), cut("shoe", 93*in)
	r.Handrail, r.Shoe = &rail, &shoe
	r.Balusters, r.Fillets, r.Rosettes = []layout.Cut{cut("baluster", 35*in)}, []layout.Cut{cut("shoe fillet", 3*in)}, []layout.Cut{{What: "rosette", Part: "plate", Count: 1, Exact: in, Length: in}} // not rounded
	r.Balusters[0].Long, r.Balusters[0].Short, r.Balusters[0].Blank, r.Balusters[0].Treads = 36*in, 34*in, 36*in, "tread 1"
	p.Takeoff.Pieces = r.Cuts()
	p.Takeoff.Needs = []takeoff.Need{{Kind: "baluster", Part: "square-foot-turned", Title: "Square foot, turned", Species: "poplar", Origin: job.Origin{File: "parts/b.md"}, Count: 18, Spare: 1, Order: 19, Running: 40 * in, Longest: 36 * in, Bought: 36 * in, Figure: third.ID}}

	p.Takeoff.Cuttings = []takeoff.Cutting{
		{Kind: "handrail", Part: "rail", Title: "Rail", Kerf: in / 8, Bevels: []takeoff.StickBevel{{Angle: third, Saw: in / 4, RunOut: in / 4}}, Trim: in / 2, Rough: in / 2, Priced: true, Cost: 12345, Bound: 12345, Bought: 96 * in, Proven: true, Steps: 7, Figure: third.ID, Sticks: []takeoff.Stick{
			{N: 1, Long: 96 * in, Source: takeoff.FromSupplier, From: takeoff.Source{Name: "yard"}, Pieces: []takeoff.StickPiece{{Piece: 0, N: 1, Long: 94 * in}}, Left: in},
			{N: 2, Long: 40 * in, Source: takeoff.FromRack, Pieces: []takeoff.StickPiece{{Piece: 1, N: 1, Long: 10 * in}}, Left: 29 * in, Keep: true}}},
		{Kind: "shoe", Part: "shoe", Assumed: true, LeastLong: 96 * in},
	}
	p.Takeoff.Labels = []takeoff.Label{{Mark: "G-H", Piece: 0, N: 1, Number: 1, Of: 1, Ends: "this end to the wall", Bevel: "both ends beveled", Tread: "tread 2"}}
	p.Takeoff.Blanks = []takeoff.Blank{{Mark: "G-S", What: "shoe", Run: "gallery", Number: 1, Of: 1}, {Mark: "C-N", What: "newel", Post: "corner", Number: 1, Of: 1}}
	p.Takeoff.Setups = takeoff.Setups{
		Saws:   []takeoff.SawSetup{{Angle: third, Stops: []takeoff.SawStop{{Setting: takeoff.Setting{Long: 36 * in, Short: 34 * in, After: 35 * in, Point: "long point", What: "baluster", Part: "square"}, Pieces: p.Takeoff.Labels}}}},
		Loose:  p.Takeoff.Labels,
		Drills: []takeoff.DrillSetup{{Wide: in, Deep: in, Angle: third, Lies: "plumb", For: "balusters", Holes: []takeoff.DrillHoles{{Run: "gallery", Where: "in the handrail", Count: 18, Note: "glue"}}}},
	}
	p.Takeoff.Fixings = []takeoff.Fixing{{Fastening: &job.Fastening{Origin: job.Origin{Name: "shoe"}, Joins: handSaid("shoe to floor")}, With: &job.Fixing{Origin: job.Origin{Name: "screw"}}, Run: "gallery", Where: "shoe", Count: 2, Places: []length.Length{in, 9 * in}, Rows: p.Layout.Posts[0].Rows, Through: "shoe", Into: "floor, oak", Driver: "square 2", Wax: true,
		Bores: []takeoff.Bore{{For: "pilot", Hole: wood.Hole{Bit: in / 8, From: in / 16, To: in / 8, Cite: working.Citation{Text: "NDS", Status: working.Memory}}, Deep: in, Fig: third.ID}, {For: "lead hole"}}}}
	price := job.Amount{Money: 650, Given: true}
	p.Buying = takeoff.Buying{Known: 1300, Figure: third.ID, Orders: []takeoff.Order{
		{Supplier: takeoff.Source{Name: "yard", Title: "Yard"}, By: "2026-11-20", Lead: job.Whole{N: 12, Given: true}, Known: 1300, Figure: third.ID, Lines: []takeoff.Line{
			{Kind: "baluster", Part: "square-foot-turned", Title: "Square foot, turned", Count: 2, Pack: 10, Needed: 18, Spare: 1, Held: 3, Each: price, Amount: 1300, Figure: third.ID},
			{Kind: "handrail", Part: "rail", Title: "Rail", Count: 1, Long: 96 * in, Each: price, Amount: 650},
			{Kind: "finish", Part: "white", Title: "primer", Coat: "primer", Count: 1, Can: job.Ratio{Thousandths: 1000, Unit: "qt", Given: true}}}},
		{Lines: []takeoff.Line{{Kind: "bolt", Part: "bolt", Title: "Bolt", Count: 6, Pack: 1}}},
	}}

	p.Price = pricing.Estimate{Materials: []pricing.Line{{Title: "Yard", About: "as far as known", Amount: 1300, Known: true, Figure: third.ID, At: source.Pos{File: "shop/yard.md"}}, {Title: "nobody"}}, Minutes: 95,
		Sums: []pricing.Line{{Title: "Total", Amount: 1300, Known: true, Sum: true}}, Guard: 1300, Net: 1300, Total: 1300, Known: true, PerLength: third, PerBaluster: third,
		Asks: []finding.Reading{{What: "the tax", Where: "settings.md"}}, Offer: pricing.Offer{Show: true, Lines: []pricing.Line{{Title: "Total", Amount: 1300, Known: true, Sum: true}}, Total: 1300}}

	coat := &job.Coat{Name: handSaid("primer"), Times: job.Whole{N: 2, Given: true}, Coverage: job.Ratio{Thousandths: 350_500, Unit: "sq ft/gal", Given: true}, Dry: handSaid("4 h"), Sand: handSaid("220"), Status: working.Published}
	p.Finishing = finish.Finishing{
		Groups: []finish.Group{
			{Name: "balusters", Finish: &job.Finish{Origin: job.Origin{Name: "white"}, Type: handSaid("paint"), Base: handSaid("oil")}, Area: area, Lines: []finish.AreaLine{{What: "baluster", Count: 18, Figure: area}}, Coats: []finish.Coat{{N: 1, Coat: coat, Volume: volume, Drying: finish.Drying{Minutes: 360, Within: 720}}, {N: 2, OnAll: true}}, Still: []finish.Still{{Count: 0}, {Count: 18, Area: area}},
				Batches:  &finish.Batches{On: "strips", Pieces: 18, AtATime: 12, Batches: 2, Turns: 1, Cycles: []finish.Cycle{{Work: 36, Minutes: 756}, {}}},
				Sandings: []finish.Sanding{{Grit: 180, Area: area}}},
			{Name: "shoe"},
		},
		Air:     finish.Air{ForCoating: true, Temperature: handInput(63), Humidity: handInput(56), Surface: handInput(61), Dew: third, Unit: "°F"},
		Systems: []finish.System{{Finish: &job.Finish{Origin: job.Origin{Name: "white"}}, Hands: finish.Drying{Minutes: 1440}, Tape: finish.Drying{Minutes: 20_160}}, {Finish: &job.Finish{Origin: job.Origin{Name: "clear"}}}},
		Old:     []finish.OldSurface{{Survey: &job.Survey{Name: "old-railing"}, Area: area, Over: true}, {}},
		Missing: []finding.Reading{{What: "members", Where: "survey/old-railing.md, members: "}},
	}
	caution := &job.Caution{Origin: job.Origin{Name: "dust", File: "library/cautions/dust.md"}, Title: handSaid("Dust"), Source: handSaid("29 CFR 1910.1000"), Status: working.Memory, Laws: []job.Law{{Country: handSaid("US"), Says: handSaid("so much of it"), Source: handSaid("29 CFR 1910.1000"), Status: working.Memory}}}
	came := source.Pos{File: "deliveries/1.md", Line: 4, Col: 5}
	gauged := func(l length.Length) job.Measure { return job.Measure{Length: l, At: came, Given: true} }
	j.Deliveries = []*job.Delivery{{Origin: job.Origin{Name: "1"}, Title: handSaid("First load"), Received: handSaid("2026-12-04"), From: handSaid("the yard"), Items: []job.Received{{
		Part: handSaid("stick"), Kind: handSaid("baluster"), Count: job.Whole{N: 24, Given: true}, Broken: job.Whole{N: 2, Given: true}, Back: job.Whole{N: 1, Given: true},
		Sticks: []job.Measure{gauged(96 * in)}, Bent: []job.Ref{handSaid("gallery")}, Can: job.Ratio{Thousandths: 1000, Unit: "qt", Given: true}, Coat: handSaid("clear"),
		Wide: gauged(in), Narrowest: gauged(in - 1), Waist: gauged(in - 1), Widest: gauged(in + 1), High: gauged(2 * in), Long: gauged(36 * in), Thick: gauged(in / 4),
		Plow: job.Plow{Wide: gauged(in + 2), Deep: gauged(in / 8)}, Pin: job.Pin{Wide: gauged(in / 2), Long: gauged(in)}, Bow: gauged(in / 16),
		Moisture: []job.Ratio{{Thousandths: 8000, Unit: "%", Given: true}}, Batch: handSaid("A"), Note: handSaid("redder"), At: came,
	}}}}
	j.Balusters = []*job.Baluster{{Origin: job.Origin{Name: "stick"}, Wide: gauged(in)}}
	p.Written = &plan.Plan{
		Job:    &job.Job{Balusters: []*job.Baluster{{Origin: job.Origin{Name: "stick"}, Wide: handGiven(2 * in)}}},
		Layout: layout.Layout{Runs: []*layout.Run{{Name: "gallery", Chosen: &layout.Candidate{Count: 19, Chosen: true}}}},
	}
	lost := &job.Made{Mark: job.Mark{Text: "C-N", Code: "C", What: "newel"}, Part: handSaid("post"), Long: gauged(48 * in), Finish: handSaid("clear"), Post: &job.Post{Name: "corner"}, At: came}
	trimmed := &job.Made{Mark: job.Mark{Text: "G-H", Code: "G", What: "handrail"}, Part: handSaid("handrail-6210"), Long: gauged(140 * in), Holes: []job.Measure{gauged(3 * in)}, Run: &job.Run{Name: "gallery"}, At: came}
	p.Takeoff.Made = takeoff.MadeTake{Lost: 1, Cost: 1300, Figure: third.ID, Pieces: []takeoff.Made{
		{Of: lost, Fate: takeoff.Lost, Piece: -1, Why: "too short", Cost: price, Figure: third.ID},
		{Of: trimmed, Fate: takeoff.Trimmed, Mark: "G-H", Piece: 0, N: 1, Own: true, To: 94 * in, Off: 46 * in, Cuts: []takeoff.StickPiece{{Piece: 0, N: 1, Long: 40 * in}}, Rest: 5 * in},
	}}
	p.Alternatives = []plan.Alternative{
		{Of: &job.Alternative{Origin: job.Origin{Name: "tight"}, Title: handSaid("Tight"), Changes: []job.Change{{Of: "all runs", Key: "most", Value: "3 1/2", At: source.Pos{File: "alternatives/tight.md", Line: 3, Col: 3}}}}, Plan: handHalf()},
		{Of: &job.Alternative{Origin: job.Origin{Name: "broken"}}},
	}
	p.Alternatives[0].Plan.Price = pricing.Estimate{Known: true, Complete: true, Total: 1200}
	p.Alternatives[0].Plan.Layout.Runs[0].Chosen = &layout.Candidate{Count: 20, Chosen: true}
	read := changes.Line{Sort: changes.Reading, Of: "run/gallery", What: "clear: floor", Value: "94 7/16", At: at}
	p.Changes = &changes.Comparison{Issue: "first", Day: "2026-11-20", Revision: "v2", Hash: strings.Repeat("0f", 20), Notes: []string{"the shop is as it is now"}, Renamed: []changes.Renamed{{Was: "run/hall", Is: "run/gallery"}}, Gone: []string{"run/bridge"}, Added: []string{"baluster/stick"}, Changes: []changes.Change{
		{Line: read, Was: "94 3/8", By: in / 16, Sized: true, Within: true}, {Line: changes.Line{Sort: changes.Choice, Of: "job", What: "height", Value: "37"}, Was: "37", Gone: true},
		{Line: changes.Line{Sort: changes.Mark, Of: "run/gallery", What: "mark 1", Value: "5 1/8", Figure: third.ID}, Was: "5", Causes: []changes.Line{read}}, {Line: changes.Line{Sort: changes.Piece, Of: "run/gallery", What: "handrail", Value: "1 at 94"}, New: true}}}
	p.Changes.Planned, p.Changes.End = []changes.Planned{{Step: "drill", Over: "2026-11-30"}}, "2026-12-04"
	share := load.Share{Post: "corner", Along: "Gallery", Part: third, Alone: third, Foot: third}
	p.Loads = load.Screening{
		Loads: []load.Acting{{Load: &job.Load{Name: "infill-square", Value: job.Ratio{Thousandths: 50_000, Unit: "lb", Given: true}, Side: handGiven(12 * in), Clause: handSaid("R301.5"), Status: working.Published}, Title: "on a square", Force: third}},
		Members: []load.Member{{Group: "run/gallery", Name: "baluster", Title: "baluster, pushed", Verdict: finding.Fail, Words: "ratio 1.31", Get: "a stouter one", Cases: []load.Case{
			{Load: "infill-square", How: "at its waist", Comes: third, Ratio: third, By: "the handbook", Recall: third, Sag: third}, {Load: "infill-point"}}},
			{Group: "post/corner", Name: "foot", Title: "its foot", Verdict: finding.ToBeMeasured, Words: "rows"}},
		Sharing: []load.Share{share}, Factor: exact.Of(1),
	}
	p.Sequence = sequence.Sequence{Minutes: 95, Cautions: []*job.Caution{caution}, Steps: []sequence.Step{
		{N: 1, Step: &job.Step{Origin: job.Origin{Name: "drill"}, Title: handSaid("Drill"), Time: job.StepTime{Wait: job.Span{Most: 60, Given: true}, Source: handSaid("the label"), Status: working.CommonPractice}, Hold: handSaid("marks checked"), Right: handSaid("plumb"), Tools: []job.Text{handSaid("drill"), handSaid("square")}},
			Quantities: []sequence.Quantity{{Name: "balusters", N: 18, Known: true}, {Name: "fillets"}}, Minutes: 95, Made: 3, Saved: 15, Counted: true, Cautions: []*job.Caution{caution}, Done: "2026-12-01", Pieces: []sequence.Piece{{Name: "balusters 1", Done: "2026-12-01"}}},
		{N: 2},
	}}
	p.Job.Calendar.Zone = handSaid("Europe/London")
	j.Punches = []*job.Punch{{Origin: job.Origin{Name: "walk"}, For: []job.Text{handSaid("client")}, Date: handSaid("2027-01-22"), Items: []job.PunchItem{
		{What: handSaid("a run in the coat"), Of: handSaid("gallery"), Where: handSaid("by 6"), Owner: handSaid("the painter"), By: handSaid("2027-01-27"), Done: handSaid("2027-01-26"), Note: handSaid("wet"), At: at}}}}
	j.Used = []job.Used{{Finish: handSaid("white"), On: handSaid("balusters"), Coat: handSaid("last"), Product: handSaid("white paint"), Colour: handSaid("white 3"), Sheen: handSaid("satin"), Batch: handSaid("7-41"), Date: handSaid("2027-01-18"), Left: handSaid("half"), Note: handSaid("thin")}}
	p.Retighten = sequence.Retightening{From: "2027-01-29", Stands: true, Day: "2027-04-15", Figure: third}
	p.Schedule = sequence.Schedule{
		Known: true, Dated: true, Start: time.Date(2026, time.December, 7, 0, 0, 0, 0, time.UTC), Crew: 2, Uncounted: []string{"drying"},
		Tasks: []sequence.Task{{Name: "Drill it"}, {Name: "Look", Done: true}}, Of: []sequence.Origin{{ID: "drill", Step: &p.Sequence.Steps[0]}, {ID: "look", Step: &p.Sequence.Steps[0]}},
		Table: sequence.Timetable{Order: []int{1, 0}, Placed: []sequence.Placed{
			{Start: 8 * 60, End: sequence.Day + 9*60, Ready: sequence.Day + 10*60, Spans: []sequence.Span{{From: 8 * 60, To: 16 * 60}, {From: sequence.Day + 8*60, To: sequence.Day + 9*60}}, People: []int{1}, Latest: 8 * 60, Critical: true},
			{Start: -sequence.Day, End: -1, Ready: -1, Latest: -sequence.Day},
		}},
	}
	stands := source.Pos{File: "as-built/1.md", Line: 5, Col: 3}
	p.Inspection = rules.Inspection{Ticks: []rules.Tick{{ID: "as-built/dry", What: "finish", How: "by hand", Right: "dry", Source: "common practice"}}, Sheets: []rules.Sheet{
		{ID: "as-built/gallery", Run: r, Checks: []rules.Check{{
			ID: "as-built/gallery/riser", What: "riser", Where: "each", With: "tape", Planned: 7 * in, Known: true, Figure: third.ID, Boxes: []string{"1", "2"}, Verdict: finding.Pass,
			Limits: []rules.Bound{{Op: finding.AtMost, Limit: &job.Limit{Name: "riser-most", Value: gauged(7*in + in/4), Clause: handSaid("R311.7.5.1"), Status: working.Published, Set: "irc-2021", Amends: "irc-2018"}}},
			Read: []rules.Built{
				{Value: 7 * in, At: stands, Place: "2", Number: 2, Date: "2027-02-12", By: "M.", Note: "carpet lifted", Counts: true, Verdict: finding.Pass, Figure: third.ID},
				{Value: 8 * in, Verdict: finding.Fail}},
		}}, Ticks: []rules.Tick{{ID: "as-built/gallery/push"}}, Pushes: []rules.Push{{Date: "2027-02-12", By: "M.", Where: "top", Load: "90 kg", Note: "creaks", Moves: job.Flag{Yes: true, Given: true}, Counts: true, At: stands}}},
		{ID: "as-built/post/corner", Post: "corner"},
	}}
	p.Findings = nil
	for i, v := range finding.Verdicts {
		p.Findings = append(p.Findings, finding.Finding{
			ID: fmt.Sprint("check/run/gallery/", i), Group: "run/gallery", Title: v, Verdict: finding.Verdict(i + 1), Measured: 4 * in, HasValue: true,
			Op: finding.Op(i%len(finding.Ops) + 1), Limit: 4*in - 1, HasLimit: true, Margin: -1, Clause: "R312.1.3", Status: working.Status(i%len(working.Statuses) + 1), Rules: "irc-2021",
			Set: source.Pos{File: "library/rules/irc-2021.md", Line: 9, Col: 3}, Amends: "irc-2018", At: at, Figure: third.ID, Note: "a note", Cure: "a cure",
		})
	}
	return p
}

// handInput is a number that somebody read.
func handInput(n int64) *working.Input {
	return working.Count("x", "a reading", n, source.Pos{File: "job.md"})
}

// handMetric is a job in millimetres.
func handMetric() *plan.Plan {
	p := handHalf()
	p.Job = &job.Job{System: length.Millimetres}
	return p
}

func handMadePlans() []struct {
	name string
	plan *plan.Plan
} {
	return []struct {
		name string
		plan *plan.Plan
	}{
		{"no job", &plan.Plan{}}, {"empty", &plan.Plan{Job: &job.Job{System: length.Inches}}},
		{"half filled", handHalf()}, {"full", handFull()}, {"millimetres", handMetric()},
	}
}

func dataFilesOf(t *testing.T, p *plan.Plan) map[string]string {
	t.Helper()
	byPath := map[string]string{}
	files, err := dataFiles(p, new(formulas))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if _, twice := byPath[f.Path]; twice {
			t.Errorf("%s is there twice", f.Path)
		}
		byPath[f.Path] = strings.Join(f.Pieces, "")
	}
	return byPath
}

func compiledSchema(t *testing.T, text string) *jsonschema.Schema {
	t.Helper()
	document, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("plan.schema.json", document); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("plan.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

func TestPlanFitsItsSchema(t *testing.T) {
	for _, c := range handMadePlans() {
		t.Run(c.name, func(t *testing.T) {
			files := dataFilesOf(t, c.plan)
			document, err := jsonschema.UnmarshalJSON(strings.NewReader(files["data/plan.json"]))
			if err != nil {
				t.Fatal(err)
			}
			if err := compiledSchema(t, files["data/plan.schema.json"]).Validate(document); err != nil {
				t.Errorf("%v", err)
			}
			if strings.Contains(files["data/plan.json"], "null") {
				t.Error("something is null; what is not there is absent")
			}
		})
	}
}

// A schema that lets everything through would pass the test above.
func TestSchemaRefuses(t *testing.T) {
	files := dataFilesOf(t, handFull())
	schema := compiledSchema(t, files["data/plan.schema.json"])
	for _, c := range []struct{ name, from, to string }{
		{"another format", `"balustrade-plan/1"`, `"balustrade-plan/2"`},
		{"an unknown property", `"traits":`, `"treats":[], "traits":`},
		{"an unknown property further in", `"clear":{`, `"clear":{"inches":94.4375,`},
		{"a missing property", `"symbol":"L_f",`, ``},
		{"a length that is not whole", `"nm":2398712500`, `"nm":2398712500.5`},
		{"a length as text", `"nm":2398712500`, `"nm":"2398712500"`},
		{"null", `"client":"the owner"`, `"client":null`},
		{"a verdict without a name", `"verdict":"fail"`, `"verdict":"unknown"`},
		{"line 0", `"line":9`, `"line":0`},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(files["data/plan.json"], c.from, c.to, 1)
			if text == files["data/plan.json"] {
				t.Fatalf("%s is not in the plan", c.from)
			}
			document, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			if schema.Validate(document) == nil {
				t.Errorf("it is let through")
			}
		})
	}
}

// Every property says what it is and what it is counted in, every object is closed, and every property is used by the full plan,
// so that the tests above see it.
func TestSchemaDescribesEverything(t *testing.T) {
	files := dataFilesOf(t, handFull())
	var schema map[string]any
	if err := json.Unmarshal([]byte(files["data/plan.schema.json"]), &schema); err != nil {
		t.Fatal(err)
	}
	seen := 0
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case map[string]any:
			if v["type"] == "object" && v["additionalProperties"] != false {
				t.Errorf("%s is open to other properties", path)
			}
			if properties, ok := v["properties"].(map[string]any); ok {
				for name, p := range properties {
					seen++
					property := p.(map[string]any)
					for _, key := range []string{"description", "x-unit"} {
						if text, _ := property[key].(string); strings.TrimSpace(text) == "" {
							t.Errorf("%s.%s has no %s", path, name, key)
						}
					}
					if list, ok := property["enum"]; ok && list == nil {
						t.Errorf("%s.%s has words without a list", path, name)
					}
					if !strings.Contains(files["data/plan.json"], `"`+name+`":`) {
						t.Errorf("%s.%s is not in the full plan", path, name)
					}
				}
			}
			for key, inner := range v {
				walk(path+"/"+key, inner)
			}
		case []any:
			for _, inner := range v {
				walk(path, inner)
			}
		}
	}
	walk("", schema)
	if seen < 100 { // the types have more than that: the walk has lost its way
		t.Errorf("only %d properties found", seen)
	}
}

func TestPlanValues(t *testing.T) {
	var got struct {
		Job  struct{ Units string }
		Runs []struct {
			Clear, Limit  *struct{ NM, Value any }
			LeastPassing  *int
			Candidates    []struct{ Passes *bool }
			Marks         []map[string]any
			Openings      []map[string]any
			Lean          *struct{ FromRail, ToRail *dataLength }
			Cuts, Missing []any
		}
		Figures []dataFigure
	}
	t.Run("full", func(t *testing.T) {
		if err := json.Unmarshal([]byte(dataFilesOf(t, handFull())["data/plan.json"]), &got); err != nil {
			t.Fatal(err)
		}
		r := got.Runs[0]
		// 94 7/16 in × 25 400 000 nm = 2 398 712 500 nm, by hand.
		if nm := r.Clear.NM; nm != 2398712500.0 {
			t.Errorf("clear is %v", nm)
		}
		if r.LeastPassing == nil || *r.LeastPassing != 18 {
			t.Errorf("least passing is %v, want 18", r.LeastPassing)
		}
		if r.Candidates[0].Passes == nil || *r.Candidates[0].Passes || !*r.Candidates[1].Passes || r.Candidates[2].Passes != nil {
			t.Errorf("passes: want false, true and nothing where it was not judged")
		}
		if _, ok := r.Marks[0]["rail"]; !ok {
			t.Error("the first mark has lost its place on the rail")
		}
		if _, ok := r.Marks[1]["rail"]; ok {
			t.Error("the second mark has a place on the rail, which layout could not tell")
		}
		// 12.34567 and -0.00001 to a thousandth.
		if at := r.Openings[0]["at"].(map[string]any); at["x"] != 12.346 || at["z"] != 0.0 {
			t.Errorf("centre of the ball is %v", at)
		}
		if _, ok := r.Openings[1]["at"]; ok {
			t.Error("a ball that is nowhere has a centre")
		}
		if r.Lean.FromRail == nil || r.Lean.ToRail == nil || r.Lean.ToRail.Text != "-1/16 in" {
			t.Errorf("lean is %+v", r.Lean)
		}
		if len(r.Cuts) != 5 { // handrail, shoe, balusters, fillet, rosette
			t.Errorf("%d cuts, want 5", len(r.Cuts))
		}
	})
	t.Run("figures", func(t *testing.T) {
		third, none, marks := got.Figures[1], got.Figures[2], got.Figures[3]
		// 94.4375 / 3 = 31.479166666…, six places: 31.479167.
		if third.Numbers != "94.4375 / 3" || third.Result != "31.479167" || !third.Rounded || third.Inputs[0].Figure != "run/gallery/clear" {
			t.Errorf("a third is %+v", third)
		}
		if none.Result != "" || none.Series != nil || none.Inputs[1].From != "no reason" || none.Inputs[0].Line != 4 {
			t.Errorf("a quotient by zero is %+v", none)
		}
		// k × 5 1/8 in.
		rows := []dataRow{{Vars: []json.Number{"1"}, Value: "5.125"}, {Vars: []json.Number{"2"}, Value: "10.25"}}
		if marks.Formula != "k * s" || marks.Numbers != "k * 5.125" || fmt.Sprint(marks.Series.Rows) != fmt.Sprint(rows) || marks.Citations[0].Status != "common practice" {
			t.Errorf("marks are %+v", marks)
		}
	})
	t.Run("half filled", func(t *testing.T) {
		text := dataFilesOf(t, handHalf())["data/plan.json"]
		for _, absent := range []string{"leastPassing", "chosen", `"limit"`, "spacer", "lean", "levels", `"measured":`, `"client"`, "margin"} {
			if strings.Contains(text, absent) {
				t.Errorf("%s is there without a value", absent)
			}
		}
	})
}

// Texts worked by hand: an inch is 25.4 mm; 1 nm is 0.00000004 in.
func TestLengthText(t *testing.T) {
	for _, c := range []struct {
		name     string
		system   length.System
		division length.Length
		l        length.Length
		want     string
	}{
		{"on the division", length.Inches, length.Inch / 16, 94*length.Inch + 7*length.Inch/16, "94 7/16 in"},
		{"on a sixty-fourth", length.Inches, length.Inch / 16, length.Inch + length.Inch/64, "1 1/64 in"},
		{"on a division that is no part of a sixty-fourth", length.Inches, length.Inch / 10, 3 * length.Inch / 10, "3/10 in"},
		{"on neither", length.Inches, length.Inch / 16, 4*length.Inch - 1, "4.0000 in"},
		{"half a ten-thousandth, away from nothing", length.Inches, length.Inch / 16, length.Inch + length.Inch/20000, "1.0001 in"},
		{"negative", length.Inches, length.Inch / 16, -length.Inch / 16, "-1/16 in"},
		{"nothing", length.Inches, length.Inch / 16, 0, "0 in"},
		{"no division", length.Inches, 0, length.Inch / 16, "1/16 in"},
		{"millimetres", length.Millimetres, length.Millimetre, 2399 * length.Millimetre, "2399 mm"},
		{"a tenth", length.Millimetres, length.Millimetre, 2399*length.Millimetre + length.Millimetre/2, "2399.5 mm"},
		{"finer than a tenth", length.Millimetres, length.Millimetre, 94*length.Inch + 7*length.Inch/16, "2398.7125 mm"},
		{"to four places", length.Millimetres, length.Millimetre, 101*length.Millimetre + 23450, "101.0235 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := dataWriter{job: &job.Job{System: c.system}, division: c.division}
			if got := d.tape(c.l); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestDataIsTheSameEveryTime(t *testing.T) {
	first, err := dataFiles(handFull(), new(formulas))
	if err != nil {
		t.Fatal(err)
	}
	for range 20 { // map order would show itself in a few
		again, err := dataFiles(handFull(), new(formulas))
		if err != nil {
			t.Fatal(err)
		}
		if !slices.EqualFunc(first, again, func(a, b File) bool {
			return a.Path == b.Path && strings.Join(a.Pieces, "") == strings.Join(b.Pieces, "")
		}) {
			t.Fatal("two plans alike give different files")
		}
	}
}

func csvRows(t *testing.T, text string) [][]string {
	t.Helper()
	if strings.Count(text, "\n") != strings.Count(text, "\r\n") || strings.Count(text, "\r") != strings.Count(text, "\r\n") {
		t.Error("a line ends in something else than CR LF")
	}
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll() // fails where rows differ in length
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func TestTables(t *testing.T) {
	files := dataFilesOf(t, handFull())
	for _, c := range []struct {
		path string
		row  int
		want string // joined by |
	}{
		{"data/marks.csv", 0, "run|baluster|from the datum face (in)|from the datum face|from the end of the shoe (in)|from the end of the shoe|from the end of the rail (in)|from the end of the rail|tread|from the riser (in)|from the riser|along the rake (in)|along the rake"},
		{"data/marks.csv", 1, "gallery|1|5.125|5 1/8 in|5|5 in|4|4 in||||2|2 in"},
		{"data/marks.csv", 2, "gallery|2|10.25|10 1/4 in|10|10 in||||||0|0 in"},
		// 94 in and 1 nm: 1 / 25 400 000 in = 0.0000000393…, to nine places 0.000000039.
		{"data/cuts.csv", 1, "gallery|handrail|handrail-6210|handrail|1|94|94 in|94.000000039|down|1 to 18|leave long|run/gallery/third|||||||"},
		{"data/buying.csv", 1, "baluster|square-foot-turned|Square foot, turned|poplar|18|1|19|40|40 in|36|36 in|36|36 in|parts/b.md|run/gallery/third"},
		{"data/openings.csv", 1, "gallery|at wall|from|yes|3|3 in|3.000000039|3.1|12.346|0.000|run/gallery/third"},
		{"data/openings.csv", 2, "gallery|at corner|to|no|0|0 in|0|0|||"},
		{"data/counts.csv", 2, "gallery|18|3.5625|3|5.125|3.1|at the wall|4|under|yes|yes"},
		{"data/counts.csv", 3, "gallery|19|0|0|0|0||4|under||no"},
		// The margin is a negative number, and stays a number.
		{"data/checks.csv", 1, "check/run/gallery/0|run/gallery|fail|fail|4|under|3.999999961|-0.000000039|R312.1.3|published|irc-2021|irc-2018|library/rules/irc-2021.md:9:3|runs/1-gallery.md:4:16|run/gallery/third|a note|a cure"},
		{"data/readings-to-take.csv", 1, "which rule set|job.md, rules: |every check|run/gallery|job.md|"},
		{"data/coats.csv", 1, "balusters|white|1|primer|2|31|sq ft|350.5|sq ft/gal|15.5|fl oz|4 h|360|220|published|finish/volume"},
		{"data/coats.csv", 2, "balusters|white|2||1|31|sq ft|||||||||"},
		{"data/loads.csv", 1, "run/gallery|baluster, pushed|fail|infill-square|at its waist|31.479167|in|31.479167|31.479167|31.479167|the handbook|a stouter one|run/gallery/third"},
		{"data/loads.csv", 2, "run/gallery|baluster, pushed|fail|infill-point|||||||ratio 1.31|a stouter one|"},
		{"data/loads.csv", 3, "post/corner|its foot|to be measured||||||||rows||"},
		{"data/calendar.csv", 1, "look|Look|0|2026-12-06|0:00|0|2026-12-06|23:59|0|2026-12-06|23:59|0|no||yes"},
		{"data/calendar.csv", 2, "drill|Drill it|1|2026-12-07|8:00|2|2026-12-08|9:00|2|2026-12-08|10:00|0|yes|2|no"},
		{"data/punch.csv", 1, "walk|client|2027-01-22|a run in the coat|gallery|by 6|the painter|2027-01-27|2027-01-26|wet"},
		{"data/changes.csv", 1, "renamed|run/gallery||run/hall|run/gallery||||||"},
		{"data/changes.csv", 2, "gone|run/bridge|||||||||"},
		{"data/changes.csv", 3, "new|baluster/stick|||||||||"},
		{"data/changes.csv", 4, "reading|run/gallery|clear: floor|94 3/8|94 7/16|0.0625|yes||||runs/1-gallery.md:4:16"}, // a sixteenth
		{"data/changes.csv", 5, "choice|job|height|37|||||||"},
		{"data/changes.csv", 6, "mark|run/gallery|mark 1|5|5 1/8|||run/gallery, clear: floor|no|run/gallery/third|"},
		{"data/changes.csv", 7, "piece|run/gallery|handrail||1 at 94||||||"},
		{"data/made.csv", 1, "C-N|post|newel|corner|48|48 in|lost|||||||too short|6.50||deliveries/1.md:4:5"},
		{"data/made.csv", 2, "G-H|handrail-6210|handrail|gallery|140|140 in|trimmed|G-H|94|94 in|G-H|5|5 in||||deliveries/1.md:4:5"},
		{"data/steps.csv", 1, "1|drill|Drill|marks checked|95|yes|balusters: 18; fillets: to be measured|drill; square|dust|plumb"},
		{"data/steps.csv", 2, "2||||0|no||||"},
	} {
		t.Run(fmt.Sprint(c.path, " ", c.row), func(t *testing.T) {
			if got := strings.Join(csvRows(t, files[c.path])[c.row], "|"); got != c.want {
				t.Errorf("got  %s\nwant %s", got, c.want)
			}
		})
	}
	t.Run("empty", func(t *testing.T) {
		for path, text := range dataFilesOf(t, &plan.Plan{}) {
			if strings.HasSuffix(path, ".csv") && len(csvRows(t, text)) != 1 {
				t.Errorf("%s has more than its head line", path)
			}
		}
	})
	t.Run("a negative number", func(t *testing.T) {
		p := handFull()
		p.Findings[0].Margin = -length.Inch / 2
		if got := csvRows(t, dataFilesOf(t, p)["data/checks.csv"])[1][7]; got != "-0.5" {
			t.Errorf("margin is %q, want -0.5", got)
		}
	})
}

// What a spreadsheet takes for a formula: the public advice on CSV injection names = + - @, tab and line breaks.
func TestTextIsNoFormula(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"equals", "=1+1", "'=1+1"},
		{"plus", "+1", "'+1"},
		{"minus", "-1/16 in", "'-1/16 in"},
		{"at", "@SUM(A1)", "'@SUM(A1)"},
		{"wide equals", "＝1+1", "'＝1+1"},
		{"after blanks", "  =1+1", "'  =1+1"},
		{"after a blank that does not break", "\u00a0=1", "'\u00a0=1"},
		{"tab", "\t=1", "' =1"},
		{"carriage return", "\r=1", "' =1"},
		{"line break", "\n1", "' 1"},
		{"within", "a=1", "a=1"},
		{"a second line", "a\n=1", "a =1"},
		{"a comma and quotes", `7' 10", or so`, `7' 10", or so`},
		{"nothing", "", ""},
		{"blanks", "  ", "  "},
		{"not UTF-8", "a\xff", "a\ufffd"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := handHalf()
			p.Missing[0].What = c.text
			if got := csvRows(t, dataFilesOf(t, p)["data/readings-to-take.csv"])[1][0]; got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}
