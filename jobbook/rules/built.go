package rules

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// asBuilt is the stem of the groups that readings on a guard as it stands belong to, postGroup that of its posts.
const (
	asBuilt   = "as-built/"
	postGroup = asBuilt + "post/"
)

// Inspection is the guard as it stands: what to check on it and where, with what was read so far.
type Inspection struct {
	Sheets   []Sheet // runs in the order of the job, then posts
	Ticks    []Tick  // of the job as a whole
	Findings []finding.Finding
	Figures  []*working.Figure
	Missing  []finding.Reading
}

// Sheet is the checks of one run, flight or post.
type Sheet struct {
	ID     string      // as-built/gallery, as-built/post/corner: the group of its findings
	Run    *layout.Run // nil for a post
	Post   string
	Checks []Check
	Ticks  []Tick
	Pushes []Push // newest first
}

// Check is one thing to measure.
type Check struct {
	ID      string // as-built/gallery/opening
	What    string
	Where   string // where exactly
	With    string // what to measure it with
	Limits  []Bound
	Planned length.Length
	Known   bool     // the planned value is
	Figure  string   // behind the planned value
	Boxes   []string // what each box for a reading is for, where there are several
	Verdict finding.Verdict
	Read    []Built // newest first

	takes  func(*taken) bool
	limits []string
}

// Bound is one limit of a check. Limit is nil where the rule set has none for it, or no set is chosen.
type Bound struct {
	Op    finding.Op
	Limit *job.Limit
}

// Built is one reading, or the difference of the readings of all risers or treads.
type Built struct {
	Value   length.Length
	At      source.Pos
	Place   string // as written
	Number  int    // of the riser or tread; 0 for others
	Date    string
	By      string
	Note    string
	Counts  bool // no newer reading takes its place
	Worst   bool // of a check with several boxes: the greatest riser, the least tread
	Verdict finding.Verdict
	Figure  string
}

// Push is what a push by hand showed.
type Push struct {
	Date, By, Where, Load, Note string
	Moves                       job.Flag
	Counts                      bool
	At                          source.Pos
}

// Tick is a check that no length decides.
type Tick struct {
	ID     string
	What   string
	How    string
	Right  string // how it is right
	Source string
}

// taken is a reading with the file that it stands in.
type taken struct {
	job.BuiltReading
	file   *job.AsBuilt
	counts bool
	found  []judged
}

// judged is what one limit says of a reading.
type judged struct {
	limit string
	finding.Finding
}

// inspector works out one sheet.
type inspector struct {
	*Sheet
	all    *Inspection
	job    *job.Job
	run    *layout.Run
	unit   length.Length // the tape's division
	taken  []*taken      // newest first
	spread map[string]Built
}

// Inspect makes the inspection sheet of a job, and judges what was read on the guard as it stands by the job's rules.
func Inspect(j *job.Job, l layout.Layout) Inspection {
	in := &Inspection{}
	for _, r := range l.Runs {
		if r.Job == nil {
			continue
		}
		s := &inspector{Sheet: &Sheet{ID: asBuilt + r.Name, Run: r}, all: in, job: j, run: r, unit: divisionOf(j), spread: map[string]Built{}}
		s.gather()
		s.rows()
		s.judge()
		s.compare()
		s.fill()
		s.runTicks()
		s.pushes(func(p job.Push) bool { return p.Run == r.Job })
		in.Sheets = append(in.Sheets, *s.Sheet)
	}
	for i := range j.Posts {
		post := &j.Posts[i]
		s := &inspector{Sheet: &Sheet{ID: postGroup + post.Name, Post: post.Name}, all: in, job: j}
		s.postTicks(post)
		s.pushes(func(p job.Push) bool { return p.Post == post })
		in.Sheets = append(in.Sheets, *s.Sheet)
	}
	in.wholeTicks(j)
	for _, x := range j.AsBuilt {
		if !x.Date.Given && len(x.Readings)+len(x.Pushes) > 0 {
			at := x.Date.At
			if at.IsZero() {
				at = source.Pos{File: x.File}
			}
			in.Missing = append(in.Missing, finding.Reading{What: "the day of the readings as built", Where: x.File + ", date: ", Why: "which of several readings is the newest; until then they count beside all others", At: at, Group: "job"})
		}
	}
	return *in
}

func divisionOf(j *job.Job) length.Length {
	switch {
	case j.Division.Given && j.Division.Length > 0:
		return j.Division.Length
	case j.System == length.Millimetres:
		return length.Millimetre
	}
	return length.Inch / 16 // a tape's sixteenths, common practice
}

// gather collects the readings of the run, newest first. Of those of one measure at one place the newest count; those without a day
// count beside them, for nobody can say which is newer.
func (s *inspector) gather() {
	for _, x := range s.job.AsBuilt {
		for _, r := range x.Readings {
			if r.Run == s.run.Job && r.What.Given && r.Read.Given {
				s.taken = append(s.taken, &taken{BuiltReading: r, file: x})
			}
		}
	}
	slices.SortStableFunc(s.taken, func(a, b *taken) int { return strings.Compare(b.date(), a.date()) })
	newest := map[string]string{}
	for _, t := range s.taken {
		newest[t.key()] = max(newest[t.key()], t.date())
	}
	for _, t := range s.taken {
		t.counts = t.date() == "" || t.date() == newest[t.key()]
	}
}

func (t *taken) date() string {
	if !t.file.Date.Given {
		return ""
	}
	return t.file.Date.Text
}

// key tells measures and places apart.
func (t *taken) key() string {
	place := job.Place(t.Where.Text)
	switch {
	case t.What.Text == "end opening":
		place = strconv.Itoa(t.End())
	case t.Number() > 0:
		place = strconv.Itoa(t.Number())
	case t.Gap() > 0:
		place = strconv.Itoa(t.Gap()) + "-" + strconv.Itoa(t.Gap()+1) // a number alone may be a baluster or a gap
	}
	return t.What.Text + "\x00" + place
}

// title is a reading in words.
func (t *taken) title() string {
	switch {
	case t.What.Text == "end opening":
		return "opening at " + t.endName()
	case t.Number() > 0:
		return t.What.Text + " " + strconv.Itoa(t.Number())
	case t.Gap() > 0 && strings.HasSuffix(t.What.Text, "opening"):
		return t.What.Text + " between " + strconv.Itoa(t.Gap()) + " and " + strconv.Itoa(t.Gap()+1)
	case t.Where.Given:
		return t.What.Text + ", " + t.Where.Text
	}
	return t.What.Text
}

func (t *taken) endName() string {
	e := []job.End{t.Run.From, t.Run.To}[max(0, t.End())]
	if e.Where.Text == "" {
		return []string{"the datum end", "the other end"}[max(0, t.End())]
	}
	if e.IsWall() {
		return "the wall, " + []string{"from", "to"}[max(0, t.End())]
	}
	return e.Where.Text
}

// wallRail reports that a reading of a handrail's section is of the one on the wall.
func (t *taken) wallRail() bool {
	return t.Run.Stair != nil && t.Run.Stair.WallRail.Given() && (strings.Contains(job.Place(t.Where.Text), "wall") || !isHandrail(t.Run))
}

func isHandrail(r *job.Run) bool {
	return r.Stair != nil && (!r.Stair.IsHandrail.Given || r.Stair.IsHandrail.Yes)
}

// measured is the measure of the plan that a limit judges; where several rails have it, the one whose subject ends so.
func (s *inspector) measured(limit, ending string) (finding.Measure, bool) {
	for _, m := range s.run.Measures {
		if m.Limit == limit && strings.HasSuffix(m.Subject, ending) {
			return m, true
		}
	}
	return finding.Measure{}, false
}

// opening is the run's planned opening of a part, the worst where there are several, and the limit that judges it.
func (s *inspector) opening(part string, landing bool) (found layout.Opening, limit string) {
	limit = s.openLimit()
	of := limit
	if len(s.run.Openings) == 0 && part == "to" && s.run.Job.Stair != nil || landing { // not laid out: it may stand on the landing, whose limit is the stricter one
		of = "guard-opening"
	}
	for _, o := range s.run.Openings {
		by := limit
		for _, m := range s.run.Measures {
			if m.Figure == o.Figure && m.Figure != "" {
				by = m.Limit
			}
		}
		if o.Part == part && (part != "between" || landing == (by != limit)) && (found.Part == "" || o.Worst > found.Worst) {
			found, of = o, by
		}
	}
	return found, of
}

// openLimit names the limit on the run's openings, as the layout does.
func (s *inspector) openLimit() string {
	if s.run.Job.Stair != nil && (s.job.Rules == nil || s.job.Rules.Limit("guard-opening-stair") != nil) {
		return "guard-opening-stair"
	}
	return "guard-opening"
}

// grips are the limits on a handrail's section, by what is read.
var grips = map[string][]string{
	"diameter": {"grip-round-least", "grip-round-most"}, "girth": {"grip-girth-least", "grip-girth-most"}, "across": {"grip-across-most"},
	"recess start": {"recess-starts-most"}, "recess depth": {"recess-deep-least"}, "recess within": {"recess-within-most"},
	"recess kept": {"recess-kept-least"}, "recess end": {"recess-to-least"}, "recess width": {"recess-wide-least", "recess-wide-most"},
}

// limits names the limits that judge a reading.
func (s *inspector) limits(t *taken) []string {
	flight := s.run.Job.Stair != nil
	switch what := t.What.Text; what {
	case "opening":
		return []string{s.openLimit()}
	case "landing opening":
		return []string{"guard-opening"}
	case "end opening":
		_, limit := s.opening([]string{"from", "to"}[max(0, t.End())], false)
		return []string{limit}
	case "height":
		switch {
		case !flight:
			return []string{"guard-height-level"}
		case isHandrail(s.run.Job):
			return []string{"guard-height-stair", "handrail-height-least", "handrail-height-most"}
		}
		return []string{"guard-height-stair"}
	case "handrail height":
		return []string{"handrail-height-least", "handrail-height-most"}
	case "drop":
		return []string{drop}
	case "triangle":
		return []string{"guard-triangle"}
	case "wall clearance":
		return []string{"handrail-wall-clearance"}
	case "projection":
		return []string{"handrail-projection"}
	case "riser":
		return []string{"riser-most"}
	case "tread":
		return []string{"tread-least"}
	case "nosing":
		return []string{"nosing-least", "nosing-most"}
	case "riser opening":
		return []string{"open-riser"}
	case "girth": // a larger section is judged by its finger recess
		if _, byGirth := s.measured("grip-girth-most", railEnding(t.wallRail())); !byGirth && s.byRecess(t.wallRail()) {
			return nil
		}
	}
	return grips[t.What.Text]
}

func railEnding(wall bool) string {
	if wall {
		return " of the wall rail"
	}
	return " of the handrail"
}

func (s *inspector) byRecess(wall bool) bool {
	for _, m := range s.run.Measures {
		if strings.HasPrefix(m.Limit, "recess-") && strings.HasSuffix(m.Subject, railEnding(wall)) {
			return true
		}
	}
	return false
}

// judge has every reading judged: those that count for the findings, older ones by themselves, to be shown beside them.
func (s *inspector) judge() {
	var current []finding.Measure
	var owners []*taken
	var older []*taken
	own := false // the drop was read here
	for _, t := range s.taken {
		if !t.counts {
			older = append(older, t)
			continue
		}
		for _, m := range s.measures(t) {
			current, owners = append(current, m), append(owners, t)
		}
		own = own || t.What.Text == "drop"
	}
	spreads := s.spreads()
	fall := s.fall()
	if own {
		fall = nil
	}
	list := Judge(s.job.Rules, slices.Concat(fall, current, spreads))[len(fall):]
	for i, f := range list {
		if f.Verdict == finding.Fail {
			f.Cure = "put it right, read it again, and write the new reading under its own date with the same where:"
		}
		if i < len(owners) {
			owners[i].found = append(owners[i].found, judged{current[i].Limit, f})
		} else {
			m := spreads[i-len(owners)]
			b := s.spread[m.Limit]
			b.Verdict = f.Verdict
			s.spread[m.Limit] = b
		}
		s.all.Findings = append(s.all.Findings, f)
	}
	if !own {
		fall = s.fall()
	} else {
		fall = slices.DeleteFunc(slices.Clone(current), func(m finding.Measure) bool { return m.Limit != drop })
	}
	for _, t := range older {
		ms := s.measures(t)
		for i, f := range Judge(s.job.Rules, slices.Concat(fall, ms))[len(fall):] {
			t.found = append(t.found, judged{ms[i].Limit, f})
		}
	}
}

// fall is the planned drop of the run, which decides whether the limits on guards apply.
func (s *inspector) fall() []finding.Measure {
	m, ok := s.measured(drop, "")
	if !ok {
		return nil
	}
	m.Group = s.ID
	return []finding.Measure{m}
}

func (s *inspector) measures(t *taken) []finding.Measure {
	var list []finding.Measure
	limits := s.limits(t)
	for _, limit := range limits {
		m := finding.Measure{Limit: limit, Subject: t.title(), Group: s.ID, Value: t.Read.Length, Known: true, At: t.Read.At, Note: t.Note.Text}
		switch {
		case strings.HasPrefix(limit, "handrail-height") && t.What.Text == "height":
			m.Subject += ", as a handrail"
		case len(limits) > 1 && strings.HasSuffix(limit, "-least"):
			m.Subject += ", against the least"
		}
		if len(limits) > 1 && strings.HasSuffix(limit, "-most") {
			m.Subject += ", against the most"
		}
		if n, ok := s.balusters(); t.What.Text == "opening" && ok && t.Gap() > 0 && t.Gap() >= n {
			m.Note = note(m.Note, "by the plan there are "+strconv.Itoa(n)+" balusters")
		}
		list = append(list, m)
	}
	return list
}

// balusters are how many stand in the run by the plan, those of an old guard that stays among them; false where none are laid out.
func (s *inspector) balusters() (int, bool) {
	c := s.run.Chosen
	if c == nil {
		return 0, false
	}
	n := c.Count
	if k := s.run.Kept; k != nil {
		n += len(k.Old)
	}
	return n, true
}

// spreads are the greatest less the least of the risers and of the treads, where each was read, or where those that were read differ too much already.
func (s *inspector) spreads() (list []finding.Measure) {
	st := s.run.Job.Stair
	if st == nil {
		return nil
	}
	for _, x := range []struct {
		what, limit, symbol string
		n                   int
	}{{"riser", "riser-spread", "r", st.Risers.N()}, {"tread", "tread-spread", "a", st.Risers.N() - 1}} {
		var least, most *taken
		seen := map[int]bool{}
		for _, t := range s.taken {
			if !t.counts || t.What.Text != x.what || t.Number() == 0 {
				continue
			}
			seen[t.Number()] = true
			if least == nil || t.Read.Length < least.Read.Length {
				least = t
			}
			if most == nil || t.Read.Length > most.Read.Length {
				most = t
			}
		}
		if len(seen) < 2 {
			continue
		}
		l := s.job.Rules.Limit(x.limit)
		over := l != nil && l.Value.Given && most.Read.Length-least.Read.Length > l.Value.Length
		if len(seen) < x.n && !over || x.n < 2 && !over {
			continue
		}
		f := working.Work(s.ID+"/"+x.limit, "greatest "+x.what+" less the least, as built", "d_"+x.symbol, s.job.System.String(),
			working.Difference(
				working.Length(x.symbol+"_g", most.title()+", the greatest, as built", most.Read.Length, s.job.System, most.Read.At),
				working.Length(x.symbol+"_l", least.title()+", the least, as built", least.Read.Length, s.job.System, least.Read.At)),
			working.Geometry)
		s.all.Figures = append(s.all.Figures, f)
		m := finding.Measure{Limit: x.limit, Subject: "greatest " + x.what + " less the least", Group: s.ID, Value: most.Read.Length - least.Read.Length, Known: true, At: most.Read.At, Figure: f.ID}
		if len(seen) < x.n {
			m.Note = "of those that were read: " + strconv.Itoa(len(seen)) + " of " + strconv.Itoa(x.n)
		}
		s.spread[x.limit] = Built{Value: m.Value, At: m.At, Date: most.date(), Counts: true, Figure: f.ID, Note: m.Note}
		list = append(list, m)
	}
	return list
}

// fill puts the readings into their rows.
func (s *inspector) fill() {
	for i := range s.Checks {
		c := &s.Checks[i]
		for _, t := range s.taken {
			if !c.takes(t) {
				continue
			}
			b := Built{Value: t.Read.Length, At: t.Read.At, Place: t.Where.Text, Number: t.Number(), Date: t.date(), By: t.file.By.Text, Note: t.Note.Text, Counts: t.counts}
			for _, j := range t.found {
				if slices.Contains(c.limits, j.limit) && (b.Verdict == 0 || j.Verdict < b.Verdict) {
					b.Verdict = j.Verdict
				}
			}
			if b.Verdict == 0 { // no limit judges it
				b.Verdict = finding.NotRequired
			}
			c.Read = append(c.Read, b)
		}
		for _, limit := range c.limits {
			if b, ok := s.spread[limit]; ok {
				c.Read = append(c.Read, b)
			}
		}
		c.Verdict = finding.ToBeMeasured
		for _, b := range c.Read {
			if b.Counts && (c.Verdict == finding.ToBeMeasured || b.Verdict < c.Verdict) {
				c.Verdict = b.Verdict
			}
		}
		c.Verdict = s.settled(c)
		c.worst()
	}
}

// settled is a row's verdict: while boxes are empty, a pass of the others is none of the row.
func (s *inspector) settled(c *Check) finding.Verdict {
	if len(c.Boxes) < 2 || c.Verdict == finding.Fail {
		return c.Verdict
	}
	seen, whole := map[int]bool{}, false
	for _, b := range c.Read {
		if b.Counts && b.Number > 0 {
			seen[b.Number] = true
		}
		whole = whole || b.Counts && b.Number == 0 // the greatest or the least of all
	}
	if whole || len(seen) >= len(c.Boxes) {
		return c.Verdict
	}
	return finding.ToBeMeasured
}

// worst marks the reading of all boxes that the limit is held against: the greatest riser, the least tread.
func (c *Check) worst() {
	if len(c.Boxes) < 2 {
		return
	}
	at := -1
	for i, b := range c.Read {
		larger := at < 0 || b.Value > c.Read[at].Value
		if slices.Contains(c.limits, "tread-least") {
			larger = at < 0 || b.Value < c.Read[at].Value
		}
		if b.Counts && larger {
			at = i
		}
	}
	if at >= 0 {
		c.Read[at].Worst = true
	}
}
