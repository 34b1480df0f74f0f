package sequence

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Schedule is the steps of a job on its calendar.
type Schedule struct {
	Known     bool // working hours are known, so that there is one
	Tasks     []Task
	Of        []Origin // of each task
	Table     Timetable
	Days      []DayWork
	Start     time.Time // of day 1, at midnight; only where Dated
	Dated     bool      // the job names its first day; else day 1 is taken for a Monday
	Crew      int
	Goods     []int    // tasks for which the goods have to be there
	Uncounted []string // what nothing is known of, so that it is not in the calendar: drying, lead times
	Missed    []Missed // days that steps were to be over by, and were not
	Findings  []finding.Finding
	Recoated  []finding.Finding // of those, coats that went on before the one under them can have been dry
	Missing   []finding.Reading

	work Work  // what was placed
	from []int // before when each task is not begun by itself, whatever was ticked off
	job  *job.Job
}

// Origin is the step that a task is of, and the coat, where it is one.
type Origin struct {
	ID   string // the step's name, with the coat or the old guard behind it: the same however the plan moves
	Step *Step
	Coat *finish.Stage
	With []*Step // that go hand in hand with it
	Shop bool    // it is done in the shop
}

// Date is the day of a time of the calendar, and whether the calendar has dates.
func (s *Schedule) Date(minutes int) time.Time { return s.Start.AddDate(0, 0, floorDiv(minutes, Day)) }

// Fails reports that the days do not keep to all that was asked for.
func (s *Schedule) Fails() bool {
	return slices.ContainsFunc(s.Findings, func(f finding.Finding) bool { return f.Verdict == finding.Fail })
}

// Plan puts the steps on the calendar: each as soon as what it waits for is over, in working hours. lead is how many days the longest lead time of what is ordered is, less than 0 where none is known. A job that says nothing of a
// calendar has none.
func Plan(j *job.Job, seq Sequence, stages []finish.Stage, lead int) Schedule {
	c := j.Calendar
	s := Schedule{Crew: max(c.Crew.N, 1)}
	if len(seq.Steps) == 0 {
		return s
	}
	if !c.HasHours {
		days := len(c.Family)+len(c.Off)+len(c.NotBefore)+len(c.By) > 0 || c.Inspection.Given // which nothing would be kept of
		if c.Start.Given || !c.HoursAt.IsZero() || c.Crew.Given || days {
			at := c.HoursAt
			if at.IsZero() {
				at = source.Pos{File: j.File}
			}
			s.Missing = append(s.Missing, finding.Reading{What: "the working hours", Where: j.File + ", calendar: {hours: }", Why: "the calendar", Group: "calendar", At: at})
		}
		return s
	}
	s.Known, s.job = true, j
	w := Work{Crew: s.Crew}
	if s.Start, s.Dated = c.Start.Date(); s.Dated {
		w.Weekday = s.Weekday(0)
	}
	for i, hours := range c.Hours {
		for _, h := range hours {
			w.Hours[i] = append(w.Hours[i], Span{h.From, h.To})
		}
	}
	day := func(text string) int { // counted from 0 for day 1
		t, err := time.Parse(time.DateOnly, text)
		if err != nil {
			return 0
		}
		return int(t.Sub(s.Start).Hours()) / 24
	}
	if s.Dated {
		const years = 11 // a task looks for its place ten years ahead (mostDays); clock changes beyond are not known
		for _, on := range c.TheZone().PutOn(s.Start.Year(), s.Start.Year()+years) {
			w.Forward = append(w.Forward, int(on.Sub(s.Start).Minutes()))
		}
		for _, o := range c.Off {
			w.Off = append(w.Off, Span{day(o.From), day(o.To) + 1})
		}
	}
	for _, f := range c.Family {
		b := Unwanted{No: nuisances(f.No), Days: f.Weekdays()}
		for _, h := range f.Hours {
			b.Hours = append(b.Hours, Span{h.From, h.To})
		}
		if len(b.Hours) == 0 {
			b.Hours = []Span{{0, Day}}
		}
		if len(f.On) == 0 {
			w.Unwanted = append(w.Unwanted, b)
		}
		for _, on := range f.On {
			if s.Dated {
				b.Bounded, b.First, b.Last = true, day(on.From), day(on.To)
				w.Unwanted = append(w.Unwanted, b)
			}
		}
	}
	s.undated(j)
	now := s.tasks(j, seq, stages, lead, day)
	s.dates(j, day)
	if inspection, ok := c.Inspection.Date(); ok && s.Dated {
		from := day(inspection.Format(time.DateOnly)) * Day
		over := from // nobody says at what hour the inspector comes: what waits for that has that day's work behind it
		if hours := w.hours(floorDiv(from, Day)); len(hours) > 0 {
			over = hours[len(hours)-1].To
		}
		for i := range s.Tasks {
			if s.Of[i].Step.Step.Time.Inspection.Yes && !s.Tasks[i].Done {
				t := &s.Tasks[i]
				if t.Minutes == 0 {
					t.From = max(t.From, over)
				} else {
					t.From = max(t.From, from)
				}
				if !t.HasBy || from+Day < t.By {
					t.By, t.HasBy = from+Day, true
				}
			}
		}
	}
	s.from = slices.Grow(s.from, len(s.Tasks))
	for i := range s.Tasks {
		t := &s.Tasks[i]
		s.from = append(s.from, t.From)
		if !t.Done {
			t.From = max(t.From, now)
		}
	}
	w.Tasks = s.Tasks
	s.work = w
	s.Table = Arrange(w)
	s.Days = s.Table.Days(s.Tasks)
	s.judge(j)
	s.goods(j)
	s.recoated(seq)
	s.missed(j, seq)
	return s
}

// nuisances are what a list names: of fumes, all, or those of solvents alone.
func nuisances(list []job.Text) (m Makes) {
	for _, t := range list {
		m.Dust = m.Dust || t.Text == "dust"
		m.Fumes = m.Fumes || t.Text == "fumes"
		m.Stair = m.Stair || t.Text == "stair"
		m.Solvents = m.Solvents || t.Text == "solvents"
	}
	return m
}

// makes is what a step brings on the house. Fumes of which nobody says what they are of count as those of solvents.
func makes(list []job.Text) Makes {
	m := nuisances(list)
	m.Fumes = m.Fumes || m.Solvents
	m.Solvents = m.Fumes
	return m
}

// solventFree reports coats all of which are of water base. Where there are none nobody knows.
func solventFree(stages []finish.Stage) bool {
	return len(stages) > 0 && !slices.ContainsFunc(stages, func(c finish.Stage) bool { return c.Base != "water" })
}

// tasks makes the tasks of the steps. The step in which parts are coated is one task for each coat of each group, one group's after the other's where the same people do them, each after the coat before has dried; its own working time is
// shared out between those for which the shop does not say how long they take. now is the day after the last thing that was done: nothing open is begun before it.
func (s *Schedule) tasks(j *job.Job, seq Sequence, stages []finish.Stage, lead int, day func(string) int) (now int) {
	ends := make([][]int, len(seq.Steps)) // the tasks that are over when a step is
	for _, t := range j.Done {            // of steps that the job does not have, too: that day is past
		if t.Day.Given && s.Dated {
			now = max(now, (day(t.Day.Text)+1)*Day)
		}
	}
	ticked := func(t *Task, done string) {
		t.Done, t.From = true, 0
		if s.Dated {
			t.From = day(done) * Day
		}
	}
	under := lying{}
	n := len(seq.Steps) // and a task for each go of each coat
	for i := range stages {
		n += max(len(stages[i].Goes), 1)
	}
	s.Tasks, s.Of = slices.Grow(s.Tasks, n), slices.Grow(s.Of, n)
	for i := range seq.Steps {
		x := &seq.Steps[i]
		if x.Step == nil {
			continue
		}
		t, shop := x.Step.Time, false
		base := Task{Name: x.Step.Title.Text, Minutes: x.Minutes - x.Saved, People: max(t.People.N, 1), Wait: t.Wait.Most, Makes: makes(t.Makes), Whole: t.Whole.Yes, SameDay: t.SameDay.Yes}
		if base.Name == "" {
			base.Name = x.Step.Name
		}
		asked := !t.Wait.Given && !t.Wait.At.IsZero() && x.Done == "" // a blank key: how long, nobody can say beforehand
		for _, w := range j.Calendar.Waits {
			if w.Step.Text == x.Step.Name {
				base.Wait, asked = w.Wait.Most, false
			}
		}
		if asked {
			s.Uncounted = append(s.Uncounted, "what passes after: "+lower(base.Name)+" (write it in "+j.File+", calendar: {wait: {"+x.Step.Name+": }})")
		}
		if slices.ContainsFunc(j.Calendar.InShop, func(r job.Ref) bool { return r.Text == x.Step.Name }) {
			base.Makes = Makes{}
			shop = true
		}
		if base.Makes.Solvents && solventFree(stages) && !nuisances(t.Makes).Solvents { // a step that says so itself is believed: a stripper is no coat
			base.Makes.Solvents = false
		}
		switch t.Guard.Text {
		case "opens":
			base.Opens = true
		case "closes":
			base.Closes = true
		}
		switch t.Barrier.Text {
		case "up":
			base.Barrier = 1
		case "down":
			base.Barrier = -1
		}
		if t.Lead.Yes {
			if lead >= 0 {
				base.Days = lead
			} else {
				s.Uncounted = append(s.Uncounted, "lead times of what is ordered")
			}
		}
		if x.Done != "" {
			ticked(&base, x.Done)
		}
		for _, k := range x.Before {
			base.After = append(base.After, ends[k]...)
		}
		slices.Sort(base.After)
		base.After = slices.Compact(base.After)
		of := Origin{ID: x.Step.Name, Step: x, Shop: shop}
		coats := coats(x.Step, stages)
		whole := x.Done != "" && !slices.ContainsFunc(x.Pieces, func(p Piece) bool { return p.Own })
		if whole {
			base.Wait = max(base.Wait, dries(coats))
		}
		switch k := s.with(seq, i, ends); {
		case len(coats) > 0 && !whole:
			ends[i] = s.coats(coats, base, of, under, ticked)
		case k >= 0:
			s.join(k, base, x)
			ends[i] = []int{k}
		default:
			ends[i] = s.edges(j, base, of, ticked)
			for _, c := range coats {
				under.lay(c, ends[i][0])
			}
		}
	}
	slices.Sort(s.Uncounted)
	s.Uncounted = slices.Compact(s.Uncounted)
	return now
}

// edges adds a step: one task, but one for each old guard where it takes several of them out, so that one edge is open at a time.
func (s *Schedule) edges(j *job.Job, t Task, of Origin, ticked func(*Task, string)) (list []int) {
	old := goes(j)
	if !t.Opens || t.Done || len(old) < 2 {
		return []int{s.add(t, of)}
	}
	name, left := t.Name, t.Minutes
	for i, x := range old {
		of.ID = of.Step.Step.Name + "/" + x.Name
		t.Name = name + ": " + x.Name
		if x.Title.Given {
			t.Name = name + ": " + lower(x.Title.Text)
		}
		t.Minutes = left / (len(old) - i)
		left -= t.Minutes
		one := t
		if p := of.Step.piece(x.Name); p.Done != "" {
			ticked(&one, p.Done)
		}
		list = append(list, s.add(one, of))
	}
	return list
}

// dates holds tasks to the days that the job names: goods that are asked for by a day, and steps that begin or are to be over on one.
func (s *Schedule) dates(j *job.Job, day func(string) int) {
	if !s.Dated {
		return
	}
	for i := range s.Tasks {
		t, step := &s.Tasks[i], s.Of[i].Step.Step
		if t.Done {
			continue
		}
		from := func(text string) { t.From = max(t.From, day(text)*Day) }
		by := func(text string) {
			if end := (day(text) + 1) * Day; !t.HasBy || end < t.By {
				t.By, t.HasBy = end, true
			}
		}
		if step.Time.Goods.Yes && j.Wanted.Given {
			from(j.Wanted.Text)
			s.Goods = append(s.Goods, i)
		}
		for _, x := range j.Calendar.NotBefore {
			if s.Of[i].named(x.Step.Text) {
				from(x.Day.Text)
			}
		}
		for _, x := range j.Calendar.By {
			if s.Of[i].named(x.Step.Text) {
				by(x.Day.Text)
			}
		}
	}
}

func (s *Schedule) add(t Task, of Origin) int {
	s.Tasks, s.Of = append(s.Tasks, t), append(s.Of, of)
	return len(s.Tasks) - 1
}

// faultTold is what is said of each fault, and what cures it.
var faultTold = map[FaultKind]struct{ what, cure string }{
	Late:      {"over after the day that it was to be over by", "begin earlier, more hands, or another day for the inspection"},
	TooFew:    {"needs more people than there are", "get help for that day, and write crew: "},
	OverDays:  {"does not fit into one day, and must not be left half done over night", "take it edge by edge, with more hands, or on a longer day"},
	NoTime:    {"there is no time at which the family allows it", "agree on a day with the family"},
	NoHours:   {"nobody works on any day", "write the working hours"},
	NextDay:   {"was to be done the same day as what it waits for", "do both on one day; what is done already, tick off behind done: in job.md"},
	Gap:       {"an edge is open without the temporary barrier", "the barrier goes up before the old guard comes off, and stays until the new one stands"},
	NoBarrier: {"the new guard is built without a temporary barrier", "put one up before the old guard comes off, and keep it until the new one stands"},
	OpenOver:  {"an edge is open over night", "never open more than can be closed and barred by evening"},
}

// judge makes findings of what is wrong with the plan.
func (s *Schedule) judge(j *job.Job) {
	for n, f := range s.Table.Faults {
		words := faultTold[f.Kind]
		title, at := words.what, source.Pos{File: j.File}
		if f.Task >= 0 {
			title = s.Tasks[f.Task].Name + ": " + words.what
			at = source.Pos{File: s.Of[f.Task].Step.Step.File}
		}
		cure := words.cure
		if f.Kind == TooFew {
			cure += strconv.Itoa(s.Tasks[f.Task].People)
		}
		s.Findings = append(s.Findings, finding.Finding{ID: fmt.Sprintf("check/calendar/%d", n+1), Group: "calendar", Title: lower(title), Verdict: finding.Fail, Status: working.Derived, Rules: "the calendar of the work", At: at, Note: s.when(f), Cure: cure})
	}
}

// goods says where the goods come later than the day that they are asked for by.
func (s *Schedule) goods(j *job.Job) {
	asked, ok := j.Wanted.Date()
	if !ok || !s.Dated {
		return
	}
	for n, i := range s.Goods {
		if at := s.Table.Placed[i].Start; s.Date(at).After(asked) {
			s.Findings = append(s.Findings, finding.Finding{
				ID: fmt.Sprintf("check/calendar/goods/%d", n+1), Group: "calendar", Title: "the goods are not there by the day that they are wanted by", Verdict: finding.Fail, Status: working.Derived, Rules: "the calendar of the work",
				At: j.Wanted.At, Note: lower(s.Tasks[i].Name) + ": " + s.Label(floorDiv(at, Day)), Cure: "order earlier, ask who delivers sooner, or put a later day behind wanted: for it; what is ordered already, tick off behind done: in job.md",
			})
		}
	}
}

// when says on which days a fault is.
func (s *Schedule) when(f Fault) string {
	if f.Task < 0 && f.Span == (Span{}) {
		return ""
	}
	from, to := f.Span.From, f.Span.To
	if f.Span == (Span{}) {
		from, to = s.Table.Placed[f.Task].Start, s.Table.Placed[f.Task].End
	}
	if a, b := s.Label(floorDiv(from, Day)), s.Label(floorDiv(max(to-1, from), Day)); a != b {
		return a + " to " + b
	}
	return s.Label(floorDiv(from, Day))
}

// Label is a day in words: Monday 7 December 2026, or day 3.
func (s *Schedule) Label(day int) string {
	if !s.Dated {
		return fmt.Sprintf("day %d", day+1)
	}
	return s.Start.AddDate(0, 0, day).Format("Monday 2 January 2006")
}

// Weekday is a day's, Monday 0; without dates day 1 is a Monday.
func (s *Schedule) Weekday(day int) int {
	first := 0
	if s.Dated {
		first = (int(s.Start.Weekday()) + 6) % 7
	}
	return ((day+first)%7 + 7) % 7
}

// printedTo is how finely hours are printed, in minutes: working times are estimates, and a minute would say more than anybody knows. The calendar's file and the data have them as they are reckoned.
const printedTo = 5

// Printed is the time that is printed for one of the calendar: the next of five minutes. All of them go that way, so that they stay in their order: nothing is said to be dry before it is reckoned to be, and no coat goes on before
// the one under it is said to be dry.
func Printed(minutes int) int { return -floorDiv(-minutes, printedTo) * printedTo }

// Clock is the time of day of a time of the calendar.
func Clock(minutes int) string {
	m := minutes - floorDiv(minutes, Day)*Day
	return fmt.Sprintf("%d:%02d", m/Hour, m%Hour)
}

func lower(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToLower(text[:1]) + text[1:]
}
