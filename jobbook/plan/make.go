package plan

import (
	"cmp"
	"slices"
	"strings"

	"balustrade/jobbook/changes"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/load"
	"balustrade/jobbook/price"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
)

// Make works the whole plan out. written is the plan of the same job as though nothing had been delivered or made, nil where nothing was: what is bought then is what the price
// goes by. Problems are steps that cannot be put in order.
func Make(j *job.Job, written *Plan) (*Plan, []source.Problem) {
	return From(layout.Begin(j), written)
}

// From goes on from the beginning of a layout to the whole plan, as Make does.
func From(begun *layout.Begun, written *Plan) (*Plan, []source.Problem) {
	return from(begun, written, parts{takeoff.Take, load.Screen, rules.Inspect})
}

// Beside is From for a plan that is set beside another one, as an alternative is. All that one goes by when choosing is as there: layout, checks, readings, buying, time, price. What is only worked by is left out: labels and set-ups of the pieces,
// how posts share a load, the sheet of an inspection that nothing was read for.
func Beside(begun *layout.Begun, written *Plan) (*Plan, []source.Problem) {
	inspect := rules.Inspect
	if len(begun.Job.AsBuilt) == 0 {
		inspect = func(*job.Job, layout.Layout) rules.Inspection { return rules.Inspection{} }
	}
	return from(begun, written, parts{takeoff.Bare, load.Members, inspect})
}

// parts are those of a plan of which there is a shorter form.
type parts struct {
	take    func(*job.Job, layout.Layout) takeoff.Takeoff
	screen  func(*job.Job, layout.Layout) load.Screening
	inspect func(*job.Job, layout.Layout) rules.Inspection
}

func from(begun *layout.Begun, written *Plan, parts parts) (*Plan, []source.Problem) {
	j := begun.Job
	p := &Plan{Job: j, Traits: j.Traits(), Written: written}
	p.Layout, p.Takeoff = laid(begun, parts.take)
	p.Loads = parts.screen(j, p.Layout)
	p.Finishing = finish.Work(j, p.Layout, p.Takeoff.Made.Coated(p.Takeoff.Pieces)...)
	p.Buying = takeoff.Buy(j, p.Takeoff, p.Finishing)
	var problems []source.Problem
	p.Sequence, problems = sequence.Order(j, p.Traits, quantities(j, p.Layout, p.Takeoff.Done(j, p.Layout)))
	stages := p.Finishing.Stages()
	p.Sequence.Tick(j, stages)
	p.Schedule = sequence.Plan(j, p.Sequence, stages, p.lead())
	p.Retighten = sequence.Retighten(j, p.Sequence, p.Schedule)
	ordered := p.Buying
	if written != nil {
		ordered = written.Buying.WithoutWorking() // its workings are another plan's
	}
	estimate, more := price.Reckon(price.Input{Job: j, Layout: p.Layout, Buying: ordered, Sequence: p.Sequence, Open: p.uncounted()})
	p.Price, problems = estimate, append(problems, more...)
	p.Inspection = parts.inspect(j, p.Layout)
	p.judge()
	p.gather()
	return p, problems
}

// laid lays the job out and takes its pieces off. A run that was laid out around the holes of a shoe which then does not go, for its section, its finish or the size of its holes, is laid out without it.
func laid(begun *layout.Begun, take func(*job.Job, layout.Layout) takeoff.Takeoff) (layout.Layout, takeoff.Takeoff) {
	j, l := begun.Job, begun.Lay()
	var not []layout.Refused
	for {
		t := take(j, l)
		before := len(not)
		for _, x := range t.Made.Pieces {
			goes := x.Fate == takeoff.AsItIs || x.Fate == takeoff.Trimmed || x.Fate == takeoff.Unknown || x.Fate == takeoff.Left
			if !goes && slices.ContainsFunc(l.Runs, func(r *layout.Run) bool { return r.DrilledFor(x.Of) }) {
				not = append(not, layout.Refused{Made: x.Of, Why: x.Why})
			}
		}
		if len(not) == before { // each round leaves out one more, so this ends
			return l, t
		}
		l = layout.Lay(j, not...)
	}
}

// lead is the longest lead time of what is ordered, in days; less than 0 where none is known.
func (p *Plan) lead() int {
	days := -1
	for _, o := range p.Buying.Orders {
		if o.Lead.Given {
			days = max(days, o.Lead.N)
		}
	}
	return days
}

// Facts are what an issue records of the plan.
func (p *Plan) Facts() ([]changes.Line, changes.Input) {
	in := changes.Input{Job: p.Job, Layout: p.Layout, Takeoff: p.Takeoff, Buying: p.Buying, Schedule: p.Schedule, Price: p.Price, Findings: p.Findings, Figures: p.Figures}
	return changes.Of(in), in
}

// judge has every measure judged by the job's rules: the new guard, run by run, as planned and as built, and the old one.
func (p *Plan) judge() {
	old := rules.Survey(p.Job)
	n := len(old)
	for _, r := range p.Layout.Runs {
		n += len(r.Measures)
	}
	measures := make([]finding.Measure, 0, n)
	lists := [][]finding.Finding{p.Findings}
	for _, r := range p.Layout.Runs {
		measures = append(measures, r.Measures...)
		lists = append(lists, r.Findings)
	}
	for _, post := range p.Layout.Posts {
		lists = append(lists, post.Findings)
	}
	lists = append(lists, p.Loads.Findings, p.Sequence.Findings, p.Schedule.Findings, p.Takeoff.Findings, p.Finishing.Findings)
	for _, m := range old {
		if !m.Known {
			p.Missing = append(p.Missing, finding.Reading{What: m.Missing, Where: m.At.File + ", " + m.Key, Why: "what the old guard is judged by", At: m.At, Group: m.Group})
		}
	}
	measures = append(measures, old...)
	var lead []finding.Finding
	for _, old := range p.Finishing.Old {
		if p.Job.IsLaw(job.US) {
			lead = append(lead, rules.Lead(old))
		} else {
			lead = append(lead, rules.OldCoats(old, p.Job.System))
		}
	}
	lists = append(lists, rules.Judge(p.Job.Rules, measures), p.Inspection.Findings, lead)
	groups := map[string]int{}
	for i, r := range p.Layout.Runs {
		groups[r.ID] = i
	}
	for _, post := range p.Layout.Posts {
		groups[post.ID] = len(groups)
	}
	groups["loads"] = len(groups)
	groups["cutting"] = len(groups)
	groups["delivery"] = len(groups)
	groups["coating"] = len(groups)
	groups["calendar"] = len(groups)
	for _, sheet := range p.Inspection.Sheets {
		groups[sheet.ID] = len(groups)
	}
	for _, s := range p.Job.Surveys {
		groups["survey/"+s.Name] = len(groups)
	}
	type placed struct {
		group int
		*finding.Finding
	}
	n = 0
	for _, list := range lists {
		n += len(list)
	}
	order := make([]placed, 0, n)
	for _, list := range lists {
		for i := range list {
			order = append(order, placed{groups[list[i].Group], &list[i]})
		}
	}
	slices.SortStableFunc(order, func(a, b placed) int {
		return cmp.Or(a.group-b.group, int(a.Verdict)-int(b.Verdict), sign(a.Unlimited)-sign(b.Unlimited))
	})
	p.Findings = slices.Grow([]finding.Finding(nil), n)
	for _, f := range order {
		p.Findings = append(p.Findings, *f.Finding)
	}
	p.Findings = rules.Once(p.Findings)
}

// sign is 1 for words, 0 for none.
func sign(words string) int { return min(1, len(words)) }

// gather collects what is still to be measured and every figure, in the order of the job.
func (p *Plan) gather() {
	surveys := p.Missing // named while the old guard was judged; they stand last
	p.Missing = nil
	defer func() {
		surveys = slices.DeleteFunc(surveys, func(s finding.Reading) bool { // the drop of the job is asked for with its runs already
			return s.At.Line > 0 && slices.ContainsFunc(p.Missing, func(m finding.Reading) bool { return m.At == s.At })
		})
		p.Missing = once(append(p.Missing, surveys...))
	}()
	p.ask()
	if len(p.Job.Runs) == 0 {
		p.Missing = append(p.Missing, finding.Reading{What: "the runs of the guard: a file of kind run for each, or of kind flight along a stair", Where: "runs/1-NAME.md", Why: "there is nothing to lay out yet", Group: "job"})
	}
	p.Missing = append(p.Missing, p.Layout.Air.Missing...)
	p.Figures = append(p.Figures, p.Layout.Air.Figures...)
	for _, r := range p.Layout.Runs {
		p.Missing = append(p.Missing, r.Missing...)
		p.Figures = append(p.Figures, r.Figures...)
	}
	for _, post := range p.Layout.Posts {
		p.Missing = append(p.Missing, post.Missing...)
		p.Figures = append(p.Figures, post.Figures...)
	}
	p.Missing = append(p.Missing, p.boltsApart()...)
	p.Missing = append(p.Missing, p.Layout.LeavesMissing...)
	p.Figures = append(p.Figures, p.Layout.LeavesFigures...)
	p.Missing = append(p.Missing, p.Loads.Missing...)
	p.Missing = append(p.Missing, p.Schedule.Missing...)
	p.Figures = append(p.Figures, p.Loads.Figures...)
	for _, m := range append(slices.Clone(p.Takeoff.Missing), p.Finishing.Missing...) {
		if !p.waits(m) {
			p.Missing = append(p.Missing, m)
		}
	}
	p.Missing = append(p.Missing, p.uncoated()...)
	p.Figures = append(p.Figures, p.Takeoff.Figures...)
	p.Figures = append(p.Figures, p.Finishing.Figures...)
	p.Figures = append(p.Figures, p.Buying.Figures...)
	p.Figures = append(p.Figures, p.Price.Figures...)
	p.Missing = append(p.Missing, p.Inspection.Missing...)
	p.Figures = append(p.Figures, p.Inspection.Figures...)
	if f := p.Retighten.Figure; f != nil {
		p.Figures = append(p.Figures, f)
	}
}

// ask names what the job as a whole does not say yet.
func (p *Plan) ask() {
	j := p.Job
	for _, q := range []struct {
		given          bool
		at             source.Pos
		key, what, why string
	}{
		{j.Measured.Given, j.Measured.At, "measured", "the day of measuring", "it stands on every sheet"},
		{j.Built.Given, j.Built.At, "built", "the year the house was built", "whether old coats count as lead; until it is known they do"},
		{j.Built.Given || j.Surfacing.Given, j.Surfacing.At, "surfacing", "the year of the flooring and wall surfacing that will be disturbed", "whether they count as asbestos; until it is known they do"},
		{j.Children.Given, j.Children.At, "children", "whether small children live or visit there", "the cautions; until it is known they are taken to"},
		{j.ForPay.Given, j.ForPay.At, "for-pay", "whether the work is done for pay", "whether what the law says of work with lead for pay holds; until it is known it is taken to"},
	} {
		if !q.given {
			at := q.at
			if at.IsZero() {
				at = source.Pos{File: j.File}
			}
			p.Missing = append(p.Missing, finding.Reading{What: q.what, Where: j.File + ", " + q.key + ": ", Why: q.why, At: at, Group: "job"})
		}
	}
	if r := j.Rules; r != nil && !r.Country.Given {
		at := r.Country.At
		if at.IsZero() {
			at = source.Pos{File: r.File}
		}
		p.Missing = append(p.Missing, finding.Reading{What: "whose law the rule set " + r.Name + " is of", Where: r.File + ", country: ", Why: "what the law says of lead, asbestos and open edges; until it is known it is told as another country's", At: at, Group: "job"})
	}
	for _, post := range j.Posts {
		if !post.Foot.Given {
			at := post.Foot.At
			if at.IsZero() {
				at = post.At
			}
			why := "what holds it, and the steps and cautions for it; until then those for a plate are shown"
			if j.Stays(&post) {
				why = "what holds the guard that stays"
			}
			p.Missing = append(p.Missing, finding.Reading{What: "how " + post.Name + " is fixed at its foot; look inside first", Where: j.File + ", posts: {" + post.Name + ": {foot: }}", Why: why, At: at, Group: "job"})
		}
	}
	for _, s := range j.Surveys {
		for _, q := range []struct {
			given     bool
			at        source.Pos
			key, what string
		}{
			{s.Loose.Given, s.Loose.At, "loose", "whether the old guard gives when pushed"},
			{s.Coated.Given, s.Coated.At, "coated", "what the old guard is covered with"},
		} {
			if !q.given {
				at := q.at
				if at.IsZero() {
					at = source.Pos{File: s.File}
				}
				p.Missing = append(p.Missing, finding.Reading{What: q.what, Where: s.File + ", " + q.key + ": ", Why: "the cautions; until it is known the worse is taken", At: at, Group: "survey/" + s.Name})
			}
		}
	}
}

// uncounted are the readings that what is bought still waits for. What an old guard and the bits for screws still wait for costs nothing.
func (p *Plan) uncounted() []finding.Reading {
	list := slices.Concat(p.Takeoff.Missing, p.Finishing.Missing)
	return once(slices.DeleteFunc(list, func(r finding.Reading) bool {
		return strings.HasPrefix(r.Group, "survey/") || r.Group == "fixings" || r.Group == "coating" || r.Group == "made"
	}))
}

// waits reports a reading that only says that a run waits for readings which the run has named itself.
func (p *Plan) waits(m finding.Reading) bool {
	return slices.ContainsFunc(p.Layout.Runs, func(r *layout.Run) bool {
		return r.ID == m.Group && r.Job.File == m.Where && len(r.Missing) > 0
	})
}

// once keeps the first of readings that several runs wait for.
func once(readings []finding.Reading) []finding.Reading {
	type key struct{ what, where string }
	seen := map[key]bool{}
	return slices.DeleteFunc(readings, func(r finding.Reading) bool {
		k := key{r.What, r.Where}
		defer func() { seen[k] = true }()
		return seen[k]
	})
}

// quantities counts what steps can name.
func quantities(j *job.Job, l layout.Layout, made map[string]map[string]int) map[string]sequence.Quantity {
	q := map[string]sequence.Quantity{}
	set := func(name string, n int, known bool) {
		q[name] = sequence.Quantity{Name: name, N: n, Known: known, Made: made[name]}
	}
	balusters, added, climbing, fillets, marks := 0, 0, 0, 0, 0
	laid, filled := len(l.Runs) > 0, len(l.Runs) > 0
	rails, shoes, rosettes, walls, posts := 0, 0, 0, 0, 0
	flights, treads, climbed, unbacked := 0, 0, true, 0
	for _, r := range l.Runs {
		if r.Chosen == nil {
			laid, filled = false, false
		} else {
			balusters += r.Chosen.Count
			if r.Job.Stair != nil {
				climbing += r.Chosen.Count
			}
			if !r.Job.Stays() && (r.Job.Stair == nil || r.Job.Shoe != nil) {
				marks += r.Chosen.Count
			}
		}
		for _, f := range r.Fillets {
			fillets += f.Count
		}
		if len(r.Job.Fillets()) > 0 && len(r.Fillets) == 0 {
			filled = false
		}
		if r.Kept != nil {
			added += r.Kept.Added
		}
		if !r.Job.Stays() {
			rails++
		}
		if s := r.Job.Stair; s != nil {
			flights++
			treads += max(s.Risers.N()-1, 0)
			climbed = climbed && s.Risers.N() > 0
		}
		if r.Job.Stays() { // what stands there is neither laid nor bored
			continue
		}
		if r.Job.Shoe != nil {
			shoes += 1 + len(r.ShoeMore)
		}
		rosettes += len(r.Rosettes)
		for _, e := range []job.End{r.Job.From, r.Job.To} {
			if e.Unbacked() {
				unbacked++
			}
			switch {
			case e.IsWall():
				walls++
			case e.Post != nil:
				posts++
			}
		}
	}
	old := 0
	for _, s := range j.Surveys {
		if s.Goes() {
			old++
		}
	}
	set("balusters", balusters, laid)
	set("added-balusters", added, laid)
	set("flight-balusters", climbing, laid)
	set("runs", len(l.Runs), true)
	set("flights", flights, true)
	set("treads", treads, climbed)
	newels, feet := 0, map[string]int{}
	for i := range j.Posts {
		p := &j.Posts[i]
		if j.Stays(p) {
			continue
		}
		newels++
		if p.Part == nil || !p.Part.Half.Yes {
			feet[p.Foot.Text]++
		}
	}
	set("posts", newels, true)
	set("plate-posts", feet["plate"]+feet[""], true)
	set("bolted-posts", feet["bolted"], true)
	set("let-in-posts", feet["let in"], true)
	set("wall-ends", walls, true)
	set("unbacked-ends", unbacked, true)
	set("post-ends", posts, true)
	set("handrails", rails, true)
	set("level-rails", rails-flights, true)
	set("shoes", shoes, true)
	set("fillets", fillets, filled)
	set("rosettes", rosettes, true)
	set("marks", marks, laid)
	set("old-guards", old, true)
	return q
}
