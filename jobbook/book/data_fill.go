package book

import (
	"encoding/json"
	"math"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// This file fills the types of data_plan.go from a plan.

func (d dataWriter) wholePlan() dataPlan {
	p := d.plan
	return dataPlan{
		Format: planFormat, Job: d.jobData(), Traits: eachOf(p.Traits, asIs), Runs: eachOf(p.Layout.Runs, d.run),
		Posts: eachOf(p.Layout.Posts, d.post), Above: d.above(p.Layout.Plan),
		Takeoff:      dataTakeoff{eachOf(p.Takeoff.Pieces, d.cut), eachOf(p.Takeoff.Needs, d.need), eachOf(p.Takeoff.Cuttings, d.cutting), eachOf(p.Takeoff.Labels, d.label), eachOf(p.Takeoff.Blanks, d.blank), d.setups(p.Takeoff.Setups), eachOf(p.Takeoff.Fixings, d.fixing)},
		Buying:       d.buying(p.Buying),
		Price:        d.price(p.Price),
		Alternatives: eachOf(p.Alternatives, d.alternative),
		Deliveries:   eachOf(d.job.Deliveries, d.delivery), RealSizes: d.realSizes(), AsWritten: d.asWritten(),
		Loads:    d.loads(p.Loads),
		Calendar: d.calendar(),
		Finishing: dataFinishing{d.coatingAir(p.Finishing.Air), eachOf(p.Finishing.Systems, d.system), eachOf(p.Finishing.Groups, d.group), eachOf(p.Finishing.Old, d.old), eachOf(p.Finishing.Missing, d.reading),
			eachOf(p.Finishing.Supplies, func(s finish.Supply) dataSupply { return dataSupply{s.Name, s.Title, s.Count, s.Figure.ID} })},
		Sequence:   dataSequence{p.Sequence.Minutes, eachOf(p.Sequence.Steps, d.step), eachOf(p.Sequence.Cautions, d.caution)},
		Made:       eachOf(p.Takeoff.Made.Pieces, d.made),
		Inspection: d.inspection(), HandOver: d.handOver(),
		Changes:  d.changes(p.Changes),
		Findings: eachOf(p.Findings, d.finding), Missing: eachOf(p.Missing, d.reading), Figures: eachOf(p.Figures, d.figure),
	}
}

// eachOf turns a list into another, which is empty rather than nil: a list without entries is [] and not null.
func eachOf[A, B any](list []A, turn func(A) B) []B {
	out := make([]B, 0, len(list))
	for _, a := range list {
		out = append(out, turn(a))
	}
	return out
}

func asIs(s string) string { return s }

func (d dataWriter) length(l length.Length) dataLength { return dataLength{int64(l), d.tape(l)} }

// lengthIf is a length, or nothing where it is not known.
func (d dataWriter) lengthIf(known bool, l length.Length) *dataLength {
	if !known {
		return nil
	}
	return new(d.length(l))
}

func placeIf(at source.Pos) *dataPlace {
	if at.IsZero() {
		return nil
	}
	p := dataPlace{File: at.File}
	if at.Line > 0 {
		p.Line, p.Col = at.Line, at.Col
	}
	return &p
}

// statusIf is the word for a status, or nothing where there is none.
func statusIf(s working.Status) string {
	if s == 0 {
		return ""
	}
	return s.String()
}

func (d dataWriter) jobData() dataJob {
	j := d.job
	out := dataJob{
		Title: j.Title.Text, Client: j.Client.Text, Place: j.Place.Text, Measured: j.Measured.Text,
		Units: j.System.String(), Division: d.length(d.division), Rules: j.RulesName.Text,
	}
	if j.Rules != nil && j.Rules.Name != "" {
		out.Rules = j.Rules.Name
	}
	return out
}

func (d dataWriter) run(r *layout.Run) dataRun {
	out := dataRun{
		Name: r.Name, Title: r.Title, ID: r.ID, From: d.end(r.From), To: d.end(r.To),
		Why: d.plan.WhyCount(r, true), Candidates: eachOf(r.Candidates, d.candidate), Marks: eachOf(r.Marks, d.mark),
		Openings: eachOf(r.Openings, d.opening), Floor: d.floor(r.Floor),
		Cuts: eachOf(r.Cuts(), d.cut), Missing: eachOf(r.Missing, d.reading),
	}
	out.Turnings, out.Holes, out.Rake = r.TurningsWords, eachOf(r.Holes, d.hole), d.rake(r.Rake)
	if r.Rake != nil {
		for i, m := range r.Marks {
			out.Marks[i].Rake = d.rakeMark(m, r.Rake.OnTreads)
		}
	}
	if r.Clear != nil && r.Clear.Value.Known() {
		out.Clear = new(d.length(r.Clear.Exact(d.job.System)))
	}
	if r.Limit.Known {
		out.Limit = &dataLimit{d.length(r.Limit.Value), r.Limit.Op.String(), r.Limit.From}
	}
	if r.Chosen != nil {
		out.Chosen = new(d.candidate(*r.Chosen))
	}
	if r.Least >= 0 && r.Limit.Known {
		out.LeastPassing = new(r.Least)
	}
	if s := r.Spacer; s != nil {
		out.Spacer = &dataSpacer{d.length(s.Block), d.length(s.LastGap), d.length(s.Drift), s.Figure}
	}
	if k := r.Kept; k != nil {
		out.Kept = &dataKept{Added: k.Added, Before: d.length(k.Before), Least: d.length(k.Least), Most: d.length(k.Most), Words: k.Words,
			Old: eachOf(k.Old, func(o layout.OldBaluster) dataOld {
				return dataOld{o.N, d.length(o.Near), d.length(o.At), d.lengthIf(o.Leans, o.Lean)}
			}),
			Gaps: eachOf(k.Gaps, func(g layout.OldGap) dataOldGap {
				x := dataOldGap{N: g.N, Where: g.Where, Foot: d.length(g.Foot), Between: d.length(g.Between), Found: d.lengthIf(g.Known, g.Found), New: g.New, Worst: d.lengthIf(g.Known, g.Worst), Room: d.lengthIf(g.New > 0, g.Room)}
				if g.Least >= 0 {
					x.Least = new(g.Least)
				}
				return x
			}),
		}
		if k.Part != nil {
			out.Kept.Part = k.Part.Name
		}
	}
	if l := r.Lean; l != nil {
		out.Lean = &dataLean{
			Out: l.Out, Settled: l.Settled, Words: l.Words, Sum: d.length(l.Sum),
			FromRail: d.lengthIf(l.Settled, l.FromRail), ToRail: d.lengthIf(l.Settled, l.ToRail),
			Readings: eachOf(l.Readings, func(r layout.LeanReading) dataLeanReading {
				return dataLeanReading{d.length(r.At), d.length(r.Wider)}
			}),
		}
	}
	if l := r.Levels; l.Known {
		out.Levels = &dataLevels{d.length(l.RailTop), d.length(l.RailUnder), d.length(l.ShoeTop), d.length(l.Finished), d.length(l.Bare)}
	}
	return out
}

func (d dataWriter) post(p layout.Post) dataPost {
	block, need := p.BlockTo > p.BlockFrom, p.NeedTo > p.NeedFrom
	out := dataPost{
		Name: p.Name, ID: p.ID, Known: p.Known, Wide: d.length(p.Wide), Down: d.length(p.Down), Arrivals: eachOf(p.Arrivals, d.arrival),
		BlockFrom: d.lengthIf(block, p.BlockFrom), BlockTo: d.lengthIf(block, p.BlockTo), NeedFrom: d.lengthIf(need, p.NeedFrom), NeedTo: d.lengthIf(need, p.NeedTo),
		Reveal: d.length(p.Reveal), Top: d.lengthIf(p.Top > 0, p.Top), Rows: eachOf(p.Rows, d.footRow),
	}
	if j := d.job.Post(p.Name); j != nil && j.Part != nil {
		out.Newel = j.Part.Name
	}
	if p.Cut != nil {
		out.Cut = new(d.cut(*p.Cut))
	}
	return out
}

func (d dataWriter) footRow(r layout.FootRow) dataFootRow {
	return dataFootRow{d.lengthIf(r.Below > 0, r.Below), d.lengthIf(r.Bench != "" && r.Up > 0, r.Up), r.Figure, r.Bench}
}

func (d dataWriter) arrival(a layout.Arrival) dataArrival {
	return dataArrival{
		Run: a.Run, End: a.End, Raked: a.Raked, Up: a.Up, Over: a.Over, Top: d.lengthIf(a.Known, a.Top), Under: d.lengthIf(a.Known, a.Under),
		Heading: numberOf(a.Heading), Turned: a.Turned, Skew: numberOf(a.Skew), Bolt: d.lengthIf(a.Bolt > 0, a.Bolt), BoltDeep: d.lengthIf(a.Bolt > 0, a.BoltDeep),
	}
}

func (d dataWriter) above(p layout.Plan) dataAbove {
	spot := func(s layout.Spot) dataSpot { return dataSpot{s.Name, numberOf(s.X), numberOf(s.Y)} }
	return dataAbove{
		Stretches: eachOf(p.Stretches, func(s layout.Stretch) dataStretch { return dataStretch{s.Run, s.Group, spot(s.From), spot(s.To)} }),
		Posts:     eachOf(p.Posts, spot), Assumed: eachOf(p.Assumed, asIs),
	}
}

// numberOf writes a float to three decimals; 0 for what is no number.
func numberOf(f float64) json.Number {
	if n, ok := thousandths(f); ok {
		return n
	}
	return "0"
}

func (d dataWriter) rake(k *layout.Rake) *dataRake {
	if k == nil {
		return nil
	}
	shoe := !k.OnTreads && k.Top > 0
	return &dataRake{
		Treads: eachOf(k.Treads, func(t layout.Tread) dataTread {
			return dataTread{t.N, d.length(t.At), d.length(t.Height), d.length(t.Riser), d.length(t.Going)}
		}),
		Measured: k.Measured, Nosing: d.length(k.Nosing), From: d.length(k.From), To: d.length(k.To), Rise: d.length(k.Rise), Going: d.length(k.Going),
		RailTop: d.lengthIf(k.Top > 0, k.Top), RailThick: d.lengthIf(k.Top > 0, k.Thick), ShoeUnder: d.lengthIf(shoe, k.ShoeUnder), ShoeThick: d.lengthIf(shoe, k.ShoeThick),
		OnTreads: k.OnTreads, PerTread: k.PerTread, Angle: amountIf(k.Angle), Square: amountIf(k.Square), Secant: amountIf(k.Secant),
	}
}

func (d dataWriter) rakeMark(m layout.Mark, onTreads bool) *dataRakeMark {
	return &dataRakeMark{m.Tread, d.lengthIf(onTreads, m.Riser), d.length(m.Along), d.length(m.Stands), d.length(m.Lift), d.length(m.Head)}
}

func (d dataWriter) hole(h layout.Hole) dataHole {
	return dataHole{h.Where, d.length(h.Wide), d.length(h.Deep), h.Round, h.Count, h.Note}
}

func (d dataWriter) end(e layout.End) dataEnd {
	out := dataEnd{
		Name: e.Name, Wall: e.Wall, Taken: e.Taken, Known: e.Known, Recess: d.length(e.Recess), Proud: d.length(e.Proud),
		TrimHigh: d.length(e.High), Rosette: d.length(e.Rosette),
	}
	if e.Newel != nil {
		out.Newel = e.Newel.Name
	}
	return out
}

func (d dataWriter) candidate(c layout.Candidate) dataCandidate {
	out := dataCandidate{
		Count: c.Count, Gap: d.length(c.Gap), EndGap: d.length(c.EndGap), Spacing: d.length(c.Spacing),
		Worst: d.length(c.Worst), Where: c.Where, PerTread: c.PerTread, Verdict: c.Verdict().String(), Chosen: c.Chosen,
	}
	if v := c.Verdict(); v == finding.Pass || v == finding.Fail {
		out.Passes = new(c.Passes)
	}
	return out
}

func (d dataWriter) mark(m layout.Mark) dataMark {
	return dataMark{K: m.K, Gap: m.Gap, At: d.length(m.At), Shoe: d.length(m.Shoe), Rail: d.lengthIf(!m.Plumbed, m.Rail)}
}

func (d dataWriter) opening(o layout.Opening) dataOpening {
	out := dataOpening{
		Where: o.Where, Part: o.Part, Foot: d.length(o.Foot), Known: o.Known,
		Nominal: d.length(o.Nominal), Worst: d.length(o.Worst), Figure: o.Figure,
	}
	x, okX := thousandths(o.Found.X)
	z, okZ := thousandths(o.Found.Z)
	if okX && okZ {
		out.At = &dataCentre{x, z}
	}
	return out
}

// thousandths writes a float to three decimals, less the last bits that machines might differ by; false where it is no number.
func thousandths(f float64) (json.Number, bool) {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return "", false
	}
	const places = 3
	text := strconv.FormatFloat(f, 'f', places, 64)
	if text == "-0.000" {
		text = "0.000"
	}
	return json.Number(text), true
}

func (d dataWriter) floor(f layout.Floor) dataFloor {
	point := func(p layout.FloorPoint) dataFloorPoint { return dataFloorPoint{d.length(p.At), d.length(p.Height)} }
	how := f.How
	if how == "" {
		how = "level"
	}
	return dataFloor{how, d.length(f.Out), f.Words, eachOf(f.Points, point), eachOf(f.Scribe, point)}
}

func (d dataWriter) cut(c layout.Cut) dataCut {
	return dataCut{
		What: c.What, Part: c.Part, Title: c.Title, Run: c.Run, Count: c.Count, Length: d.lengthIf(!c.ToFit, c.Length), Exact: d.lengthIf(!c.ToFit, c.Exact),
		Long: d.lengthIf(c.Long > 0, c.Long), Short: d.lengthIf(c.Long > 0, c.Short), Blank: d.lengthIf(c.Blank > 0, c.Blank), Treads: c.Treads,
		Rounding: c.Rounding.String(), Which: c.Which, Fit: c.Fit, Figure: c.Figure,
	}
}

func (d dataWriter) need(n takeoff.Need) dataNeed {
	return dataNeed{
		Kind: n.Kind, Part: n.Part, Title: n.Title, Species: n.Species, File: n.Origin.File, Count: n.Count, Spare: n.Spare, Order: n.Order,
		Running: d.lengthIf(n.Running != 0, n.Running), Longest: d.lengthIf(n.Longest != 0, n.Longest), Bought: d.lengthIf(n.Bought != 0, n.Bought),
		Figure: n.Figure,
	}
}

// amountIf is what a figure amounts to, or nothing where it has no value.
func amountIf(f *working.Figure) *dataAmount {
	if f == nil || !f.Value.Known() {
		return nil
	}
	return &dataAmount{json.Number(f.Result()), f.Unit, f.ID}
}

func (d dataWriter) group(g finish.Group) dataGroup {
	out := dataGroup{
		Name: g.Name, Area: amountIf(g.Area), Coats: eachOf(g.Coats, d.coat),
		Lines: eachOf(g.Lines, func(l finish.AreaLine) dataArea { return dataArea{l.What, l.Count, amountIf(l.Figure)} }),
	}
	out.Sanded = eachOf(g.Sandings, func(s finish.Sanding) dataSanding { return dataSanding{s.Grit, amountIf(s.Area)} })
	for k, s := range g.Still {
		out.Still = append(out.Still, dataStill{k + 1, s.Count, amountIf(s.Area)})
	}
	if x := g.Batches; x != nil {
		out.Batches = &dataBatches{x.On, x.Pieces, x.AtATime, x.Batches, x.Turns, eachOf(x.Cycles, func(c finish.Cycle) dataCycle {
			return dataCycle{minutesIf(c.Work), minutesIf(c.Minutes)}
		})}
	}
	if g.Finish != nil {
		out.Finish, out.Type, out.Base = g.Finish.Name, g.Finish.Type.Text, g.Finish.Base.Text
	}
	return out
}

func (d dataWriter) coat(c finish.Coat) dataCoat {
	out := dataCoat{N: c.N, OnAll: c.OnAll, Times: coatsAlike(c), Volume: amountIf(c.Volume)}
	if c.Coat == nil {
		return out
	}
	out.Name, out.Dry, out.Sand, out.Status = c.Coat.Name.Text, c.Coat.Dry.Text, c.Coat.Sand.Text, statusIf(c.Coat.Status)
	out.Dries, out.Within = minutesIf(c.Drying.Minutes), minutesIf(c.Drying.Within)
	if r := c.Coat.Coverage; r.Given {
		out.Coverage = &dataCoverage{json.Number(ratioDecimals(r)), r.Unit}
	}
	return out
}

// minutesIf is a time that is known.
func minutesIf(n int) *int {
	if n <= 0 {
		return nil
	}
	return &n
}

func (d dataWriter) system(s finish.System) dataSystem {
	return dataSystem{s.Finish.Name, minutesIf(s.Hands.Minutes), minutesIf(s.Tape.Minutes)}
}

func (d dataWriter) coatingAir(a finish.Air) *dataCoatingAir {
	if a.Temperature == nil || a.Humidity == nil {
		return nil
	}
	number := func(in *working.Input) json.Number { return json.Number(working.Decimal(in.Value)) }
	out := &dataCoatingAir{ForCoating: a.ForCoating, Temperature: number(a.Temperature), Humidity: number(a.Humidity), DewPoint: amountIf(a.Dew), Unit: a.Unit}
	if a.Surface != nil {
		n := number(a.Surface)
		out.Surface = &n
	}
	return out
}

// coatsAlike is how many coats one line of a finish stands for.
func coatsAlike(c finish.Coat) int {
	if c.Coat != nil && c.Coat.Times.Given {
		return max(c.Coat.Times.N, 1)
	}
	return 1
}

// ratioDecimals is a ratio in decimals.
func ratioDecimals(r job.Ratio) string { return working.Decimal(exact.New(r.Thousandths, 1000)) }

func (d dataWriter) old(o finish.OldSurface) dataOldSurface {
	out := dataOldSurface{Area: amountIf(o.Area)}
	if o.Survey != nil {
		out.Survey = o.Survey.Name
	}
	if out.Area != nil {
		out.Over = new(o.Over)
	}
	return out
}

func (d dataWriter) step(s sequence.Step) dataStep {
	out := dataStep{
		N: s.N, Done: s.Done, Minutes: s.Minutes, Made: s.Made, Saved: s.Saved, Counted: s.Counted, Tools: []string{},
		Quantities: eachOf(s.Quantities, func(q sequence.Quantity) dataQuantity {
			if !q.Known {
				return dataQuantity{Name: q.Name}
			}
			return dataQuantity{q.Name, new(q.N)}
		}),
		Cautions: eachOf(s.Cautions, func(c *job.Caution) string { return c.Name }),
		Pieces:   eachOf(s.Pieces, func(p sequence.Piece) dataPiece { return dataPiece{p.Name, p.Done} }),
	}
	if t := s.Step; t != nil {
		out.Name, out.Title, out.Hold, out.Right = t.Name, t.Title.Text, t.Hold.Text, t.Right.Text
		out.Tools = eachOf(t.Tools, func(t job.Text) string { return t.Text })
		out.Wait = d.wait(t)
	}
	return out
}

func (d dataWriter) caution(c *job.Caution) dataCaution {
	return dataCaution{c.Name, c.Title.Text, c.Source.Text, statusIf(c.Status), c.File, eachOf(c.Laws, func(l job.Law) dataLaw {
		return dataLaw{l.Country.Text, d.job.IsLaw(l.Country.Text), l.Says.Text, l.Source.Text, statusIf(l.Status)}
	})}
}

func (d dataWriter) finding(f finding.Finding) dataFinding {
	out := dataFinding{
		ID: f.ID, Group: f.Group, Title: f.Title, Verdict: f.Verdict.String(),
		Measured: d.lengthIf(f.HasValue, f.Measured), Limit: d.lengthIf(f.HasLimit, f.Limit), Margin: d.lengthIf(f.HasValue && f.HasLimit, f.Margin),
		Clause: f.Clause, Status: statusIf(f.Status), Rules: f.Rules, Amends: f.Amends, Set: placeIf(f.Set), At: placeIf(f.At),
		Figure: f.Figure, Note: f.Note, Cure: f.Cure,
	}
	if f.HasLimit {
		out.Operator = f.Op.String()
	}
	return out
}

func (d dataWriter) reading(r finding.Reading) dataReading {
	return dataReading{r.What, r.Where, r.Why, r.Group, placeIf(r.At)}
}

func (d dataWriter) figure(f *working.Figure) dataFigure {
	p := d.formulas.print(f)
	out := dataFigure{
		ID: f.ID, Title: f.Title, Symbol: f.Symbol, Unit: f.Unit, Formula: p.symbols, Numbers: p.numbers, Note: f.Note,
		Inputs:    make([]dataInput, 0, len(p.inputs)),
		Citations: eachOf(f.Cites, func(c working.Citation) dataCitation { return dataCitation{c.Text, c.Status.String()} }),
	}
	for i, in := range p.inputs {
		out.Inputs = append(out.Inputs, input(in, p.values[i]))
	}
	if f.Series == nil {
		out.Result, out.Rounded = numeral(f.Value)
		return out
	}
	out.Series = &dataSeries{eachOf(f.Series.Vars, asIs), eachOf(f.Series.Names, asIs), eachOf(f.Series.Rows, func(r working.Row) dataRow {
		row := dataRow{Vars: eachOf(r.Vars, func(v exact.Number) json.Number { n, _ := numeral(v); return n })}
		row.Value, row.Rounded = numeral(r.Value)
		return row
	})}
	return out
}

// input is what goes into a formula, with its value as the working prints it.
func input(in *working.Input, value string) dataInput {
	out := dataInput{Symbol: in.Symbol, Name: in.Name, Unit: in.Unit, From: in.From, Figure: in.Figure, Value: json.Number(value), Rounded: value != "" && !working.InFull(in.Value)}
	if at := placeIf(in.At); at != nil {
		out.File, out.Line, out.Col = at.File, at.Line, at.Col
	}
	return out
}

// numeral is an exact number as the working prints it, and whether that is rounded; empty where there is none.
func numeral(r exact.Number) (n json.Number, rounded bool) {
	if !r.Known() {
		return "", false
	}
	return json.Number(working.Decimal(r)), !working.InFull(r)
}
