package rules

import (
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// asPlanned is what the plan has for a reading: between least and greatest, by more or less than a tolerance that the plan has itself.
type asPlanned struct {
	least, greatest length.Length
	free            bool // no least: places differ, and a smaller one is as planned
	tolerance       working.Expr
	words           string // what the tolerance is
}

// compare finds what was built otherwise than planned. By itself that is no failure: the rules judge the reading.
func (s *inspector) compare() {
	n := 0
	for _, t := range s.taken {
		if _, beyond := s.beyond(t); !t.counts || beyond { // the plan has nothing there to compare with
			continue
		}
		p, ok := s.plan(t)
		if !ok {
			continue
		}
		read := working.Length("r", t.title()+", as built", t.Read.Length, s.job.System, t.Read.At)
		var apart working.Expr
		var planned length.Length
		switch {
		case t.Read.Length > p.greatest:
			planned = p.greatest
			apart = working.Difference(read, working.Length("p", t.title()+", as planned", planned, s.job.System, source.Pos{}).Because("the plan"))
		case t.Read.Length < p.least && !p.free:
			planned = p.least
			apart = working.Difference(working.Length("p", t.title()+", as planned", planned, s.job.System, source.Pos{}).Because("the plan"), read)
		default:
			continue
		}
		id := s.ID + "/otherwise-" + strconv.Itoa(n+1)
		unit := s.job.System.String()
		tolerance := working.Work(id+"-tolerance", "tolerance of the plan: "+t.title(), "t", unit, p.tolerance, working.Citation{Text: p.words, Status: working.CommonPractice})
		d := working.Work(id, "apart from the plan: "+t.title(), "d", unit, apart, working.Geometry)
		most, off := tolerance.Exact(s.job.System), d.Exact(s.job.System)
		if off <= most {
			continue
		}
		n++
		s.all.Figures = append(s.all.Figures, d, tolerance)
		tape := func(l length.Length) string { return layout.Tape(l, s.job.System, s.unit) }
		s.all.Findings = append(s.all.Findings, finding.Finding{
			ID: "check/" + s.ID + "/otherwise/" + strconv.Itoa(n), Group: s.ID, Verdict: finding.AskAuthority, At: t.Read.At, Figure: d.ID,
			Title:    "built otherwise than planned: " + t.title() + ", " + tape(t.Read.Length) + " read, " + tape(planned) + " planned",
			Measured: off, HasValue: true, Op: finding.AtMost, Limit: most, HasLimit: true, Margin: most - off, Rules: "the plan's own tolerance",
			Note: "tolerance: " + p.words + "; the reading itself is judged by the rules, but what was approved or agreed may have been the plan",
			Cure: "write what stands into the job's files, so that the book is of what was built; or put it right",
		})
	}
}

// plan is what the plan has for a reading. False where it has nothing to compare with.
func (s *inspector) plan(t *taken) (asPlanned, bool) {
	tape := working.Length("v", "division of the tape it was read with", s.unit, s.job.System, s.job.Division.At).Because("the job's division")
	if d := t.file.Division; d.Given {
		tape = working.Length("v", "division of the tape it was read with", d.Length, s.job.System, d.At)
	}
	twice := working.Sum(working.Length("u", "division that the plan is rounded to", s.unit, s.job.System, s.job.Division.At).Because("the job's division"), tape)
	const twiceWords = "the division of the tape, once for the plan and once for the reading"
	same := func(low, high length.Length) (asPlanned, bool) {
		return asPlanned{least: low, greatest: high, tolerance: twice, words: twiceWords}, true
	}
	measured := func(limit, ending string) (asPlanned, bool) {
		m, ok := s.measured(limit, ending)
		if !ok || !m.Known {
			return asPlanned{}, false
		}
		return same(m.Value, m.Value)
	}
	st := s.run.Job.Stair
	switch what := t.What.Text; what {
	case "opening", "landing opening":
		o, _ := s.opening("between", what == "landing opening")
		return s.planOpening(o, true)
	case "end opening":
		o, _ := s.opening([]string{"from", "to"}[max(0, t.End())], false)
		return s.planOpening(o, false)
	case "height":
		return s.planHeight(twice)
	case "landing height":
		return measured("guard-height-level", "")
	case "handrail height":
		if st != nil && st.WallRail.Given() {
			return measured("handrail-height-least", "height of the wall rail above the line of the nosings")
		}
		return s.planHeight(twice)
	case "triangle":
		p, ok := measured("guard-triangle", "")
		p.free = true // the plan has the greatest of all treads
		return p, ok
	case "riser", "tread":
		steps := st.Risers
		if what == "tread" {
			steps = st.Goings
		}
		if !steps.Measured() {
			return asPlanned{}, false
		}
		if k := t.Number(); k > 0 && k <= len(steps.Each) {
			return same(steps.Each[k-1].Length, steps.Each[k-1].Length)
		}
		return measured(map[string]string{"riser": "riser-most", "tread": "tread-least"}[what], "")
	case "nosing":
		return measured("nosing-least", "")
	case "riser opening":
		p, ok := measured("open-riser", "")
		p.free = true // the plan has the widest
		return p, ok
	case "wall clearance":
		return measured("handrail-wall-clearance", "")
	case "projection":
		return measured("handrail-projection", "")
	case "drop": // the ground falls away as it likes: no plan has a tolerance for it
		return asPlanned{}, false
	}
	if limits := grips[t.What.Text]; len(limits) > 0 {
		if m, _ := s.measured(limits[0], railEnding(t.wallRail())); m.Bound {
			return asPlanned{}, false
		}
		return measured(limits[0], railEnding(t.wallRail()))
	}
	return asPlanned{}, false
}

// planOpening is an opening by the rounded marks, with the tolerances it was laid out with. Openings between balusters differ by
// as much as the spacings of the rounded marks do, for a ball's size changes no faster than the distance of the profiles; where
// neighbours stand at different heights, or new balusters stand between old ones, they differ by more, and only a wider one is
// otherwise than planned.
func (s *inspector) planOpening(o layout.Opening, between bool) (asPlanned, bool) {
	if !o.Known || o.Worst >= length.Most || o.Nominal >= length.Most {
		return asPlanned{}, false
	}
	p := asPlanned{least: o.Nominal, greatest: o.Nominal, words: "the tolerances that the opening was laid out with"}
	p.tolerance = working.Difference(
		working.Length("o_w", "worst opening "+o.Where+", tolerances counted", o.Worst, s.job.System, source.Pos{}).Because("the plan"),
		working.Length("o", "opening "+o.Where+", by the rounded marks", o.Nominal, s.job.System, source.Pos{}).Because("the plan"))
	if !between {
		return p, true
	}
	k := s.run.Rake
	p.free = s.run.Kept != nil || k != nil && k.OnTreads || s.run.Floor.How == "lengths" || len(s.run.Floor.Steps) > 0
	var least, most length.Length
	for i := 1; i < len(s.run.Marks); i++ {
		apart := s.run.Marks[i].At - s.run.Marks[i-1].At
		if i == 1 || apart < least {
			least = apart
		}
		most = max(most, apart)
	}
	p.least -= most - least
	return p, true
}

// planHeight is the height of the guard: along a level floor as high as planned over its highest point, and more by what the
// floor falls; on a flight what it is over the nosings.
func (s *inspector) planHeight(twice working.Expr) (asPlanned, bool) {
	limit := "guard-height-level"
	if s.run.Job.Stair != nil {
		limit = "guard-height-stair"
	}
	m, ok := s.measured(limit, "")
	if !ok || !m.Known {
		return asPlanned{}, false
	}
	p := asPlanned{least: m.Value, greatest: m.Value, words: "the division of the tape, once for the plan and once for the reading, and what is taken off a baluster to fit"}
	p.tolerance = working.Sum(twice, working.Length("f", "taken off a baluster so that it goes in", s.job.Shop.Fit.Length, s.job.System, s.job.Shop.Fit.At))
	if s.run.Job.Stair == nil {
		p.greatest += s.run.Floor.Out
		if len(s.run.Floor.Steps) > 0 { // beyond a step it may be any of several heights
			return asPlanned{}, false
		}
		return p, true
	}
	for _, f := range s.run.Figures {
		if f.ID == m.Figure && f.Series != nil {
			for _, row := range f.Series.Rows {
				p.greatest = max(p.greatest, length.Of(row.Value, s.job.System, length.Nanometre, length.Up))
			}
		}
	}
	return p, true
}
