// Package yard is what a shop sees over all its jobs: where each one stands and what it waits for, their days on one calendar, and what one order for several of them would be.
//
// A job's plan is large and is let go as soon as its book is made; what stays of it is a Summary, which holds no part of the plan, so that a thousand jobs take little room.
package yard

import (
	"slices"
	"strings"
	"time"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/money"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
)

// State is how far a job has come. The zero value is invalid.
type State int

// The states, in the order in which a job goes through them. See StateOf.
const (
	Unreadable State = iota + 1 // a file can't be understood
	ToSurvey                    // nothing was read yet
	Surveyed                    // the old guard was read, no run yet
	ToMeasure                   // a run is not laid out, or something of one is still to be measured
	ToSettle                    // all is measured, and a check fails
	ToOrder                     // all is measured, counted, and no check fails
	UnderWay                    // ordered, delivered or built
	Done                        // every step is done
)

// States are the words for State, in order.
var States = []string{"cannot be read", "to be surveyed", "surveyed", "to be measured", "to be settled", "ready to order", "under way", "done"}

// String is the state in words.
func (s State) String() string {
	if s < 1 || int(s) > len(States) {
		return "unknown"
	}
	return States[s-1]
}

// Summary is one job in plain values.
type Summary struct {
	Folder               string // its name, and that of its book
	Title, Client, Place string
	State                State
	Problem              string // the first one, of a job that can't be read

	Stops       []Stop // the failing checks of what is to be built
	Asks        int    // checks that are to be asked of the authority or an engineer
	Waits       int    // checks of what is to be built that wait for a reading, those that wait for one of Missing among them
	Missing     int    // readings to take, and decisions
	Next        string // the first step that is not done
	NextHold    string // what must be settled at it, where it is a hold point
	Wanted      string // the day by which the goods are to be there; days are written year-month-day
	First, Last string // days of the work that is not done, where the calendar has dates
	NextDay     string // the earliest day of what is still to be done or ordered; else the day of Wanted
	OrderBy     string // the earliest day to order by, while nothing is ordered
	Zone        string // of its calendar; times are as a clock on the spot shows them where empty
	Days        []Day
	Events      []Event
	Lines       []Line  // what is to be bought
	Offers      []Offer // of the shared shop, for what is to be bought
	Currency    string
	Crew        job.Whole     // that the shop's settings say
	Takes       []Take        // what it takes off the shop's rack
	Left        []string      // of what is on the rack, what other jobs take: their titles
	Delivered   bool          // something came already
	Ordered     bool          // the step in which it is ordered is done
	Built       bool          // something was read as built
	Shop        string        // its name, as the shared settings have it
	Shared      bool          // the shop beside the jobs is this job's, too
	System      length.System // of the job
	HasBook     bool          // of a job that can't be read: the last book of it stands
}

// Name is how a job is called: its title, or its folder where it has none.
func (s Summary) Name() string {
	if s.Title != "" {
		return s.Title
	}
	return s.Folder
}

// Stop is a failing check.
type Stop struct {
	ID, Title, Of string // Of is the run or post that it is of
}

// Day is what is worked on a day.
type Day struct {
	Date string
	Work []Busy
}

// Busy is a stretch of a day's work, in minutes from midnight. A hold point takes no time and nobody.
type Busy struct {
	From, To int
	People   int
	What     string
}

// Event is a stretch of work as a phone's calendar takes it.
type Event struct {
	ID          string // the same however the plan moves
	Stamp       string // times as RFC 5545 writes them
	Start, End  string
	Title       string
	Description string
}

// Line is something to buy for a job, as its buying list has it.
type Line struct {
	Supplier, From          string // file name and title of who sells it; empty where nobody does yet
	Shared                  bool   // whoever sells it stands in the shop's own lists
	Own                     bool   // the part's file is the job's own
	Kind, Part, Title, Coat string
	Bought                  length.Length // as which it is bought, of parts bought by the piece
	Count, Pack             int           // packs, sticks or cans; pieces in one, 0 for sticks and cans
	Long                    length.Length // of a stick
	System                  length.System // of the job
	Can                     job.Ratio
	Want                    int   // pieces still to get: needed and spare, less what is on hand; of all lines of this part together
	Volume                  int64 // of a finish still to get, of all lines of this coat together, in the unit of job.Ratio.Volume
	Each                    money.Money
	Priced                  bool
	Amount                  money.Money
	Complete                bool // every run that uses the part is counted
	By                      string
}

// Offer is one size in which a shared supplier sells something.
type Offer struct {
	Supplier, From   string
	Kind, Part, Coat string // every coat where empty
	Pack             int
	Can              job.Ratio
	Each             money.Money
	Priced           bool
}

// Take is something of the shop's rack that a job takes.
type Take struct {
	job.Taken
	Title string
	Long  length.Length
}

// own copies a text, so that the file it was read from can be let go.
func own(text string) string { return strings.Clone(text) }

// Sum sums a plan up. shared says that the job uses the shop that stands beside the jobs, and not one of its own.
func Sum(folder string, p *plan.Plan, shared bool) Summary {
	j := p.Job
	s := Summary{
		Folder: folder, Title: own(j.Title.Text), Client: own(j.Client.Text), Place: own(j.Place.Text), State: StateOf(p), Missing: len(p.Missing), Shared: shared, System: j.System,
		Ordered: ordered(p), Delivered: len(j.Deliveries) > 0, Built: len(j.AsBuilt) > 0, Currency: own(j.Shop.Currency.Text),
	}
	for _, f := range p.Findings {
		switch {
		case p.OfOld(f):
		case f.Verdict == finding.Fail:
			s.Stops = append(s.Stops, Stop{own(f.ID), own(f.Title), own(title(p, f.Group))})
		case f.Verdict == finding.AskAuthority:
			s.Asks++
		case f.Verdict == finding.ToBeMeasured:
			s.Waits++
		}
	}
	if at := p.Sequence.Next(); at < len(p.Sequence.Steps) && p.Sequence.Steps[at].Step != nil {
		step := p.Sequence.Steps[at].Step
		s.Next, s.NextHold = own(step.Title.Or(job.Text{Text: step.Name}).Text), own(step.Hold.Text)
	}
	if _, ok := j.Wanted.Date(); ok {
		s.Wanted = own(j.Wanted.Text)
	}
	if c := j.Shop.Calendar.Crew; shared && c.Given && strings.HasPrefix(c.At.File, "shop/") {
		s.Crew = job.Whole{N: c.N, Given: true}
	}
	if n := j.Shop.Name; shared && strings.HasPrefix(n.At.File, "shop/") {
		s.Shop = own(n.Text)
	}
	s.days(p)
	s.lines(p)
	s.takes(p)
	s.dates()
	return s
}

// title is what a finding's group is called; empty for what is of the whole job.
func title(p *plan.Plan, group string) string {
	for _, r := range p.Layout.Runs {
		if r.ID == group && r.Title != "" {
			return r.Title
		}
	}
	if name, ok := strings.CutPrefix(group, "post/"); ok {
		return "post " + name
	}
	return ""
}

// stopped reports a failing check of the plan: of what is to be built, not of what was found or stands.
func stopped(p *plan.Plan) bool {
	return slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Verdict == finding.Fail && !p.OfOld(f) && !p.OfBuilt(f) })
}

// StateOf is how far a job has come, by the first of these that holds: all its steps are done; it was ordered, or something was delivered, made or read as built; no run has a reading, with or without a
// survey that has; a run is not laid out, or something of a run or post is still to be measured or counted; a check of the plan fails; else it is ready to order.
func StateOf(p *plan.Plan) State {
	j := p.Job
	steps := p.Sequence.Steps
	switch {
	case len(steps) > 0 && p.Sequence.Next() == len(steps):
		return Done
	case ordered(p) || len(j.Deliveries) > 0 || len(j.Made) > 0 || len(j.AsBuilt) > 0:
		return UnderWay
	case !slices.ContainsFunc(j.Runs, measured):
		if slices.ContainsFunc(j.Surveys, surveyed) {
			return Surveyed
		}
		return ToSurvey
	case !counted(p):
		return ToMeasure
	case stopped(p):
		return ToSettle
	}
	return ToOrder
}

func measured(r *job.Run) bool {
	given := func(m job.Measure) bool { return m.Given }
	read := func(s job.Steps) bool { return s.Count.Given || slices.ContainsFunc(s.Each, given) }
	return slices.ContainsFunc(r.Clears, func(c job.Clear) bool { return c.Read.Given }) || r.Stair != nil && (read(r.Stair.Risers) || read(r.Stair.Goings))
}

func surveyed(s *job.Survey) bool {
	return s.Height.Given || s.Drop.Given || s.Loose.Given || slices.ContainsFunc(s.Openings, func(o job.SurveyOpening) bool { return o.Read.Given })
}

// ordered reports that the step after which the goods are on their way is done.
func ordered(p *plan.Plan) bool {
	return slices.ContainsFunc(p.Sequence.Steps, func(s sequence.Step) bool { return s.Step != nil && s.Step.Time.Lead.Yes && s.Done != "" })
}

func counted(p *plan.Plan) bool {
	of := func(group string) bool { return strings.HasPrefix(group, "run/") || strings.HasPrefix(group, "post/") }
	for _, r := range p.Layout.Runs {
		if r.Chosen == nil {
			return false
		}
	}
	for _, n := range p.Takeoff.Needs {
		if !n.Complete {
			return false
		}
	}
	for _, m := range p.Missing {
		if of(m.Group) {
			return false
		}
	}
	return !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Verdict == finding.ToBeMeasured && of(f.Group) })
}

// days takes the dated work that is not done.
func (s *Summary) days(p *plan.Plan) {
	t := &p.Schedule
	if !t.Known || !t.Dated {
		return
	}
	if z := p.Job.Calendar.TheZone(); z != nil {
		s.Zone = own(z.Name)
	}
	for _, d := range t.Days {
		day := Day{Date: t.Start.AddDate(0, 0, d.Day).Format(time.DateOnly)}
		for _, part := range d.Parts {
			for _, x := range part.Spans {
				day.Work = append(day.Work, Busy{x.From - d.Day*sequence.Day, x.To - d.Day*sequence.Day, len(t.Table.Placed[part.Task].People), own(t.Tasks[part.Task].Name)})
			}
		}
		s.Days = append(s.Days, day)
	}
	if n := len(s.Days); n > 0 {
		s.First, s.Last = s.Days[0].Date, s.Days[n-1].Date
	}
}

// lines takes the buying list, and the ways in which the shop's suppliers sell what is on it.
func (s *Summary) lines(p *plan.Plan) {
	j := p.Job
	for _, o := range p.Buying.Orders {
		var from *job.Supplier
		for _, x := range j.Suppliers {
			if x.Name == o.Supplier.Name {
				from = x
			}
		}
		for _, l := range o.Lines {
			line := Line{
				Supplier: own(o.Supplier.Name), From: own(o.Supplier.Title), Shared: from == nil || s.Shared && from.Layer == source.Shop, Own: l.Origin.Layer == source.Job,
				Kind: own(l.Kind), Part: own(l.Part), Title: own(l.Title), Coat: own(l.Coat), Count: l.Count, Pack: l.Pack, Long: l.Long, System: j.System, Can: ratio(l.Can),
				Each: l.Each.Money, Priced: l.Each.Given, Amount: l.Amount, Complete: l.Complete, By: own(o.By),
				Want: l.Needed + l.Spare - l.Held, Volume: volume(l, j.System),
			}
			for _, n := range p.Takeoff.Needs {
				if n.Kind == l.Kind && n.Part == l.Part {
					line.Bought = n.Bought
				}
			}
			s.Lines = append(s.Lines, line)
			s.offers(j, line)
		}
	}
}

// offers adds the ways in which the shop's suppliers sell what a line is of, once.
func (s *Summary) offers(j *job.Job, l Line) {
	if l.Long > 0 || !s.Shared || slices.ContainsFunc(s.Offers, func(o Offer) bool { return o.Kind == l.Kind && o.Part == l.Part && (o.Coat == "" || o.Coat == l.Coat) }) {
		return
	}
	for _, x := range j.Suppliers {
		if x.Layer != source.Shop {
			continue
		}
		for _, o := range x.Offers {
			if o.Part.Text != l.Part || o.Kind.Given && o.Kind.Text != l.Kind || o.Coat.Given && o.Coat.Text != l.Coat || l.Kind == "finish" && !o.Can.Given || o.Long.Given && l.Bought > 0 && o.Long.Length != l.Bought {
				continue
			}
			s.Offers = append(s.Offers, Offer{
				Supplier: own(x.Name), From: own(x.Title.Or(job.Text{Text: x.Name}).Text), Kind: own(l.Kind), Part: own(l.Part), Coat: own(l.Coat),
				Pack: o.Count(), Can: ratio(o.Can), Each: o.Price.Money, Priced: o.Price.Given,
			})
		}
	}
}

func ratio(r job.Ratio) job.Ratio {
	return job.Ratio{Thousandths: r.Thousandths, Unit: own(r.Unit), Given: r.Given}
}

// volume is what is still to get of a finish; the line has it in the job's own unit.
func volume(l takeoff.Line, system length.System) int64 {
	if !l.Volume.Known() {
		return 0
	}
	_, one := job.VolumeUnit(system)
	return int64(length.Rounded(l.Volume.Mul(exact.Of(one)), length.Nanometre, length.Up)) // a plain whole number, not a length
}

// takes is what the plan uses of the racks in the shop. A job that is done takes nothing any more.
func (s *Summary) takes(p *plan.Plan) {
	for _, o := range p.Job.OffRack {
		for _, name := range o.By {
			if !slices.Contains(s.Left, name) {
				s.Left = append(s.Left, own(name))
			}
		}
	}
	if s.State == Done || !s.Shared {
		return
	}
	lines := RackLines(p.Job)
	for _, h := range p.Buying.OnHand {
		if !slices.ContainsFunc(lines, func(l RackLine) bool { return l.At == h.From.At }) {
			continue
		}
		i := slices.IndexFunc(s.Takes, func(t Take) bool { return t.At == h.From.At })
		if i < 0 {
			i = len(s.Takes)
			s.Takes = append(s.Takes, Take{Taken: job.Taken{At: h.From.At, By: []string{s.Name()}}, Title: own(h.Title), Long: h.Long})
			s.Takes[i].At.File = own(h.From.At.File)
		}
		if s.Takes[i].Volume += h.Poured; h.Poured == 0 {
			s.Takes[i].Pieces += h.Pieces
		}
	}
}

// RackLine is a line of one of the shop's racks.
type RackLine struct {
	At   source.Pos
	Part string
}

// RackLines are the lines of the racks in the shop.
func RackLines(j *job.Job) (list []RackLine) {
	for _, r := range j.Racks {
		if r.Layer != source.Shop {
			continue
		}
		for _, o := range r.Offcuts {
			list = append(list, RackLine{o.At, o.Part.Text})
		}
		for _, h := range r.Pieces {
			list = append(list, RackLine{h.At, h.Part.Text})
		}
		for _, c := range r.Cans {
			list = append(list, RackLine{c.At, c.Finish.Text})
		}
	}
	return list
}

// bought says that the goods of a job under way are bought or on their way; empty where only pieces of it were made, of what lay in the shop.
func (s *Summary) bought() string {
	switch {
	case s.State == UnderWay && s.Delivered:
		return "something was delivered"
	case s.State == UnderWay && (s.Ordered || s.Built):
		return "it was ordered, or is built"
	case s.State == Done:
		return "it is done"
	}
	return ""
}

// dates works out the day to order by and the next day.
func (s *Summary) dates() {
	if s.State < UnderWay || s.bought() == "" {
		for _, l := range s.Lines {
			s.OrderBy = earlier(s.OrderBy, l.By)
		}
	}
	if s.State == Done {
		return
	}
	if s.NextDay = earlier(s.First, s.OrderBy); s.NextDay == "" {
		s.NextDay = s.Wanted
	}
}

// earlier is the earlier of two days; one that is not known is passed over.
func earlier(a, b string) string {
	if a == "" || b != "" && b < a {
		return b
	}
	return a
}
