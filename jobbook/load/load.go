// Package load screens a guard for the loads of its rule set: the rail between its posts, the balusters, the posts and what holds them at their feet, the ends at walls, the bolts in the
// rails; and how posts share a load through the rails.
//
// It works in pounds and inches, the units of the handbooks that its values are from. It says what a load comes to, and what share that is of a published value; where there is none it says so, and what to
// get. Nothing here is a pass: structure is for a licensed engineer, or for hardware with a tested rating.
package load

import (
	"slices"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Screening is the whole guard, screened.
type Screening struct {
	Loads    []Acting // those of the rule set, in its order
	Members  []Member // stretch by stretch, then post by post
	Sharing  []Share
	Factor   exact.Number // load duration factor C_D that fixings were screened with
	Findings []finding.Finding
	Missing  []finding.Reading
	Figures  []*working.Figure
}

// Acting is a load of the rule set as it is reckoned with.
type Acting struct {
	*job.Load
	Title string
	Force *working.Figure // in lb, lb/in or lb/in^2
}

// Member is one part of the guard, or one joint of it.
type Member struct {
	Group   string // run/gallery
	Name    string // handrail, baluster, foot, wall end, ...
	Title   string
	Cases   []Case
	Verdict finding.Verdict
	Words   string // what was found, in a sentence
	Get     string // what to get or to do, where the screening does not carry
}

// Case is a member under one load.
type Case struct {
	Load   string          // name of the load
	How    string          // where or which way it acts, where a member has several cases of one load
	Comes  *working.Figure // what it comes to: a stress in psi, a force in lb, a moment in lb in
	Ratio  *working.Figure // to the published value; nil where there is none
	By     string          // what that value is, and who published it
	Recall *working.Figure // ratio to a value that was recalled only: never a reason to pass, only to ask
	Sag    *working.Figure // how far it gives, in
}

// Share is what a post takes of a load on its top when the rails hand some of it on.
type Share struct {
	Post  string
	Along string          // the run whose open side the load is square to
	Part  *working.Figure // of the load, as a share of one
	Alone *working.Figure // moment at its foot without the others, lb in
	Foot  *working.Figure // moment at its foot with that share, lb in
}

// titles of the loads, in the order of job.LoadNames.
var titles = []string{"one load on the rail", "along the rail", "on a square of the infill", "all over the infill", "one load on the infill"}

const loads = "loads" // the group of what belongs to no run or post

// screen is the work.
type screen struct {
	Screening
	job       *job.Job
	layout    layout.Layout
	sections  map[*job.Handrail]sectionDone
	strengths map[*job.Species]strength
	cd        *working.Input
}

// Screen works the whole screening out. A job without a rule set, or with one that has no loads, gets nothing but a finding that says so.
func Screen(j *job.Job, l layout.Layout) Screening { return screened(j, l, true) }

// Members is Screen without how posts share a load, which judges nothing.
func Members(j *job.Job, l layout.Layout) Screening { return screened(j, l, false) }

func screened(j *job.Job, l layout.Layout, sharing bool) Screening {
	s := &screen{job: j, layout: l, sections: map[*job.Handrail]sectionDone{}, strengths: map[*job.Species]strength{}}
	if len(l.Runs) == 0 || j.Rules == nil {
		return s.Screening
	}
	s.factor()
	if len(j.Rules.Loads) == 0 {
		s.Findings = append(s.Findings, finding.Finding{ID: "check/loads/none", Group: loads, Title: "what the guard is to take", Verdict: finding.AskAuthority, Status: working.Derived, Rules: j.Rules.Name,
			At: source.Pos{File: j.Rules.File}, Note: "the rule set has no loads, so nothing was screened; ask which loads apply, and write them into a rule set of your own"})
		return s.Screening
	}
	for i := range j.Rules.Loads {
		s.Loads = append(s.Loads, s.acting(&j.Rules.Loads[i]))
	}
	for _, r := range l.Runs {
		if r.Job.Stays() { // of an old guard that stays only what is new is screened: the layout says that its strength is not known
			s.baluster(r)
			continue
		}
		s.rail(r)
		s.baluster(r)
		s.walls(r)
		s.bolts(r)
		s.wallRail(r)
	}
	for i := range l.Posts {
		if p := &l.Posts[i]; !p.Stays || p.MeetsNew() {
			s.post(p, &j.Posts[i])
		}
	}
	if sharing {
		s.share()
	}
	s.Findings = slices.Grow(s.Findings, len(s.Members))
	for _, m := range s.Members {
		s.Findings = append(s.Findings, m.finding(s.job.Rules.Name))
	}
	return s.Screening
}

// factor takes the load duration factor.
func (s *screen) factor() {
	s.Factor = exact.Of(1)
	s.cd = &working.Input{Symbol: "C_D", Name: "load duration factor", Value: s.Factor}
	if c := s.job.Duration; c.Given {
		s.Factor = exact.New(c.Thousandths, 1000)
		s.cd.Value, s.cd.At = s.Factor, c.At
	} else {
		s.cd.Because("no code text fixes it for guards: 1.0, the least that is in use")
	}
}

var (
	newtons = number("N_lb", "newtons in a pound", "4.4482216152605", "by definition")
	metres  = number("m_in", "metres in an inch", "0.0254", "by definition")
)

// acting turns a load into pounds and inches. A pound is 4.4482216152605 N, a foot 0.3048 m, both exactly.
func (s *screen) acting(l *job.Load) Acting {
	a := Acting{Load: l, Title: titles[slices.IndexFunc(job.LoadNames, func(k job.Key) bool { return k.Key == l.Name })]}
	given := &working.Input{Symbol: "q", Name: a.Title, Value: exact.New(l.Value.Thousandths, 1000), Unit: l.Value.Unit, At: l.Value.At}
	kilo := working.Constant(1000)
	e, unit := working.Expr(given), "lb"
	switch l.Value.Unit {
	case "kN":
		e = working.Quotient(working.Product(given, kilo), newtons)
	case "lb/ft":
		e, unit = working.Quotient(given, working.Constant(12)), "lb/in"
	case "kN/m":
		e, unit = working.Quotient(working.Product(given, kilo, metres), newtons), "lb/in"
	case "lb/ft2":
		e, unit = working.Quotient(given, working.Constant(144)), "lb/in^2"
	case "kN/m2":
		e, unit = working.Quotient(working.Product(given, kilo, metres, metres), newtons), "lb/in^2"
	}
	symbol := map[string]string{"lb": "P", "lb/in": "w", "lb/in^2": "p"}[unit]
	a.Force = s.work("load/"+l.Name, a.Title, symbol, unit, e, working.Citation{Text: l.Clause.Text, Status: l.Status})
	return a
}

// load finds a load by name.
func (s *screen) load(name string) (Acting, bool) {
	i := slices.IndexFunc(s.Loads, func(a Acting) bool { return a.Name == name })
	if i < 0 {
		return Acting{}, false
	}
	return s.Loads[i], true
}

// geometry is what a figure cites that follows from measure and arithmetic alone; nobody writes to it.
var geometry = []working.Citation{working.Geometry}

// work evaluates a formula and keeps it.
func (s *screen) work(id, title, symbol, unit string, e working.Expr, cites ...working.Citation) *working.Figure {
	if len(cites) == 0 {
		cites = geometry
	}
	f := working.Work(id, title, symbol, unit, e, cites...)
	s.Figures = append(s.Figures, f)
	return f
}

// need names a reading that a member waits for.
func (s *screen) need(r finding.Reading) {
	if !slices.ContainsFunc(s.Missing, func(o finding.Reading) bool { return o.What == r.What && o.Where == r.Where }) {
		s.Missing = append(s.Missing, r)
	}
}

// waits keeps a member that waits for a reading.
func (s *screen) waits(m Member, r finding.Reading) {
	s.need(r)
	m.Verdict, m.Words = finding.ToBeMeasured, "still to be measured: "+r.What
	s.Members = append(s.Members, m)
}

// rests keeps a member that waits for what the layout asks for: it is not asked for twice.
func (s *screen) rests(m Member, what string) {
	m.Verdict, m.Words = finding.ToBeMeasured, "still to be measured: "+what
	s.Members = append(s.Members, m)
}

// species finds the one wood that a part's words mean. The reading is what is still to be said of it.
func (s *screen) species(words job.Text, whose, where string) (*job.Species, *finding.Reading) {
	found := s.job.Wood(words)
	if len(found) == 1 {
		return found[0], nil
	}
	what, why := "the wood of the "+whose, "what the guard carries"
	if len(found) > 1 {
		var names []string
		for _, x := range found {
			names = append(names, x.Title.Text)
		}
		what = "which " + words.Text + " the " + whose + " is: " + strings.Join(names, " or ")
	} else if words.Given {
		says, others := s.job.NoWood(words)
		what = "which wood \"" + words.Text + "\" is: " + says
		if others != "" {
			why += "; " + others
		}
	}
	at := words.At
	if at.IsZero() {
		file, _, _ := strings.Cut(where, ",")
		at = source.Pos{File: file}
	}
	return nil, &finding.Reading{What: what, Where: where, Why: why, Group: loads, At: at}
}

func titled(title job.Text, name string) string {
	if title.Given {
		return title.Text
	}
	return name
}

// one is the greatest ratio that is still within a value.
var one = exact.Of(1)

// settle gives a member its verdict: over a published value it fails; where there is none, or one that was recalled is gone over, somebody else has to say; else it is screened.
func (s *screen) settle(m Member, none string) {
	if len(m.Cases) == 0 {
		m.Verdict, m.Words, m.Get = finding.AskAuthority, "the rule set has no load on it, so it was not screened: ask what it is to take", ""
		s.Members = append(s.Members, m)
		return
	}
	worst, recalled, memory, open, looser := (*Case)(nil), (*working.Figure)(nil), false, false, ""
	for i := range m.Cases {
		c := &m.Cases[i]
		if l, ok := s.load(c.Load); ok {
			memory = memory || l.Status == working.Memory
			if l.Looser() {
				looser = l.Amends
			}
		}
		if c.Ratio == nil || !c.Ratio.Value.Known() {
			c.Ratio, open = nil, true
			continue
		}
		if worst == nil || c.Ratio.Value.Cmp(worst.Ratio.Value) > 0 {
			worst = c
		}
		if c.Recall != nil && c.Recall.Value.Known() && (recalled == nil || c.Recall.Value.Cmp(recalled.Value) > 0) {
			recalled = c.Recall
		}
	}
	switch {
	case worst == nil:
		m.Verdict, m.Words = finding.AskAuthority, "no published value: "+none
	default:
		m.Words = "ratio " + Ratio(worst.Ratio) + " of " + worst.By
		if recalled != nil {
			m.Words += "; " + Ratio(recalled) + " of a working stress reckoned from it (recalled)"
		}
		switch {
		case worst.Ratio.Value.Cmp(one) > 0:
			m.Verdict = finding.Fail
		case open:
			m.Verdict, m.Words = finding.AskAuthority, m.Words+"; for another load there is no published value: "+none
		case memory:
			m.Verdict, m.Words = finding.AskAuthority, m.Words+"; the load was recalled and not confirmed"
		case looser != "":
			m.Verdict, m.Words = finding.AskAuthority, m.Words+"; the load is amended to less than that of "+looser+": show that the authority allows it"
		case recalled != nil && recalled.Value.Cmp(one) > 0:
			m.Verdict = finding.AskAuthority
		default:
			m.Verdict, m.Get = finding.Screened, ""
		}
	}
	s.Members = append(s.Members, m)
}

// Ratio prints a ratio to the hundredth, rounded up, so that one over 1 never reads as 1.00.
func Ratio(f *working.Figure) string {
	const hundred = 100
	up := length.Rounded(f.Value.Mul(exact.Of(hundred)), length.Nanometre, length.Up) // a count of hundredths
	text := working.Decimal(exact.New(int64(up), hundred))
	whole, part, _ := strings.Cut(text, ".")
	return whole + "." + (part + "00")[:2]
}

// confirms is who has to say that it holds.
const confirms = "a licensed engineer, or hardware with a tested rating, confirms it"

// ID is the id of the member's finding.
func (m Member) ID() string {
	return "check/" + m.Group + "/load-" + strings.ReplaceAll(m.Name, " ", "-")
}

// finding is a member as one of the plan's checks. Its figure is the greatest of its ratios, or what it comes to where there is none.
func (m Member) finding(rules string) finding.Finding {
	f := finding.Finding{ID: m.ID(), Group: m.Group, Title: m.Title, Verdict: m.Verdict, Status: working.Derived, Rules: rules, Note: m.Words, Cure: m.Get}
	if m.Verdict == finding.Screened {
		f.Note = "screened, " + m.Words + "; " + confirms
	}
	var worst *working.Figure
	for _, c := range m.Cases {
		switch {
		case c.Ratio != nil && c.Ratio.Value.Known() && (worst == nil || c.Ratio.Value.Cmp(worst.Value) > 0):
			worst = c.Ratio
			f.Figure, f.Status = worst.ID, worst.Cites[0].Status
		case worst == nil && f.Figure == "" && c.Comes != nil:
			f.Figure = c.Comes.ID
		}
	}
	return f
}
