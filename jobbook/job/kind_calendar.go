package job

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Calendar is when the work is done.
type Calendar struct {
	Start      Text  // the first day of work, year-month-day
	Crew       Whole // people
	Hours      [7][]Hours
	HasHours   bool
	HoursAt    source.Pos
	Off        []Days
	Family     []FamilyTime
	Inspection Text // the day on which the inspector comes
	Zone       Text // one of Zones; times are as a clock on the spot shows them where absent
	NotBefore  []Ticked
	By         []Ticked
	Waits      []StepWait
	InShop     []Ref // steps that are done in the shop: they bring nothing on the house
}

// StepWait is what passes after a step in this job.
type StepWait struct {
	Step Ref
	Wait Span
}

// Hours is a stretch of a day, in minutes from midnight; its end not counted.
type Hours struct{ From, To int }

// String is the hours as a clock shows them: 8:00 to 16:30.
func (h Hours) String() string {
	return fmt.Sprintf("%d:%02d to %d:%02d", h.From/60, h.From%60, h.To/60, h.To%60)
}

// Days are the days from one to another, both counted, year-month-day.
type Days struct {
	From, To string
	At       source.Pos
}

// FamilyTime is a time at which the family does not want something.
type FamilyTime struct {
	No    []Text // of Nuisances
	Days  []Text // of weekdays, or a word for several; every day where absent
	Hours []Hours
	On    []Days // only on these; always where absent
	Why   Text
}

// Nuisances are what work brings on the house.
var Nuisances = []string{"dust", "fumes", "solvents", "stair"}

// weekdays in order, and words for several of them.
var (
	weekdays = []string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}
	several  = map[string][]int{"weekdays": {0, 1, 2, 3, 4}, "weekend": {5, 6}, "every-day": {0, 1, 2, 3, 4, 5, 6}}
	dayWords = append(slices.Clone(weekdays), "weekdays", "weekend", "every-day")
)

// daysOf are the weekdays that a word means, Monday 0.
func daysOf(word string) []int {
	if i := slices.Index(weekdays, word); i >= 0 {
		return []int{i}
	}
	return several[word]
}

// Weekdays reports the days of the week that a time is on, Monday first.
func (f FamilyTime) Weekdays() (on [7]bool) {
	if len(f.Days) == 0 {
		return [7]bool{true, true, true, true, true, true, true}
	}
	for _, t := range f.Days {
		for _, i := range daysOf(t.Text) {
			on[i] = true
		}
	}
	return on
}

var clock = pattern(`^([0-9]{1,2}):([0-9]{2})\s+to\s+([0-9]{1,2}):([0-9]{2})$`)

// hours reads stretches of a day: 8:00 to 12:00, 12:30 to 16:30.
func (d *decoder) hours(n *source.Node) (list []Hours) {
	for _, item := range d.items(n) {
		t := d.text(item, "hours, as in 8:00 to 16:30")
		if !t.Given {
			continue
		}
		for _, part := range strings.Split(t.Text, ",") {
			m := clock().FindStringSubmatch(strings.TrimSpace(part))
			h := Hours{}
			if m != nil {
				number := func(i int) int { v, _ := strconv.Atoi(m[i]); return v } // two digits at most
				h = Hours{number(1)*60 + number(2), number(3)*60 + number(4)}
				if number(2) > 59 || number(4) > 59 {
					m = nil
				}
			}
			const day = 24 * 60
			if m == nil || h.To > day || h.From >= h.To || len(list) > 0 && h.From < list[len(list)-1].To {
				d.problem(item, "write them in order with to between, as in 8:00 to 12:00, 12:30 to 16:30", "want hours of a day, found %q", clip(t.Text))
				return nil
			}
			list = append(list, h)
		}
	}
	return list
}

// days reads days off: 2026-12-24, or 2026-12-24 to 2027-01-02.
func (d *decoder) days(n *source.Node) (list []Days) {
	for _, item := range d.items(n) {
		t := d.text(item, "a day, or from one to another")
		if !t.Given {
			continue
		}
		from, to, ranged := strings.Cut(t.Text, " to ")
		from, to = strings.TrimSpace(from), strings.TrimSpace(to)
		if !ranged {
			to = from
		}
		a, errA := time.Parse(time.DateOnly, from)
		b, errB := time.Parse(time.DateOnly, to)
		const most = 3660
		if errA == nil && errB == nil && b.Sub(a) > most*24*time.Hour {
			d.problem(item, "write the stretches one by one, each of ten years at the most", "%s is more than ten years", t.Text)
			continue
		}
		if errA != nil || errB != nil || b.Before(a) {
			d.problem(item, "write 2026-12-24, or 2026-12-24 to 2027-01-02", "want a day, or from one to a later one, found %q", clip(t.Text))
			continue
		}
		list = append(list, Days{from, to, item.At})
	}
	return list
}

func daysField[T any](key, doc string, at func(*T) *[]Days) field[T] {
	return field[T]{key, "a day, year-month-day, or one to another; or a list", doc, nil, func(d *decoder, n *source.Node, to *T) { *at(to) = d.days(n) }}
}

func (d *decoder) oneOfEach(n *source.Node, words []string) (list []Text) {
	for _, item := range d.items(n) {
		if t := d.oneOf(item, words); t.Given {
			list = append(list, t)
		}
	}
	return list
}

var familyFields = []field[FamilyTime]{
	{"no", "a list of dust, fumes, solvents and stair", "what is not to be: dust; fumes of any coat; solvents, those of oil and shellac alone; or the stair closed", nil, func(d *decoder, n *source.Node, f *FamilyTime) { f.No = d.oneOfEach(n, Nuisances) }},
	{"days", "a list of days of the week, weekdays, weekend or every-day", "on which days; every day where absent", nil, func(d *decoder, n *source.Node, f *FamilyTime) { f.Days = d.oneOfEach(n, dayWords) }},
	{"hours", "hours of a day, as in 12:00 to 14:00", "at which hours; all day where absent", nil, func(d *decoder, n *source.Node, f *FamilyTime) { f.Hours = d.hours(n) }},
	daysField("on", "only on these days; always where absent", func(f *FamilyTime) *[]Days { return &f.On }),
	textField("why", "for your own memory", func(f *FamilyTime) *Text { return &f.Why }),
}

var hoursField = field[Calendar]{"hours", "hours of a day; or keys and values, by day of the week, weekdays or weekend", "when work is done; Monday to Friday where no days are named", nil, func(d *decoder, n *source.Node, c *Calendar) {
	c.HoursAt = n.At
	if n.Blank() {
		return
	}
	before := len(d.problems)
	if n.Kind != source.Map {
		h := d.hours(n)
		for _, i := range several["weekdays"] {
			c.Hours[i] = h
		}
	} else {
		for _, e := range n.Entries {
			if !slices.Contains(dayWords, e.Key) {
				d.unknown(e.At, e.Key, "day", "hours", dayWords)
				continue
			}
			h := d.hours(e.Value)
			for _, i := range daysOf(e.Key) {
				c.Hours[i] = h
			}
		}
	}
	for _, h := range c.Hours {
		c.HasHours = c.HasHours || len(h) > 0 && len(d.problems) == before
	}
}}

var calendarFields = []field[Calendar]{
	dateField("start", "the first day of work; days are counted from day 1, a Monday, where absent", func(c *Calendar) *Text { return &c.Start }),
	wholeField("crew", "how many people; one where absent", 1, 50, func(c *Calendar) *Whole { return &c.Crew }),
	hoursField,
	daysField("off", "days on which nobody works", func(c *Calendar) *[]Days { return &c.Off }),
	placedList("family", "when the family does not want dust, fumes, or the stair closed", familyFields, func(c *Calendar) *[]FamilyTime { return &c.Family }, func(*FamilyTime) *source.Pos { return new(source.Pos) }),
	dateField("inspection", "the day on which the inspector comes", func(c *Calendar) *Text { return &c.Inspection }),
	stepDatesField("not-before", "steps that begin on that day at the earliest", func(c *Calendar) *[]Ticked { return &c.NotBefore }),
	stepDatesField("by", "steps that are to be over on that day", func(c *Calendar) *[]Ticked { return &c.By }),
	{"wait", "keys and values: the name of a step, and a time, as in 4 h or 7 days", "what passes after a step, day and night, where it is not as its file says", nil, func(d *decoder, n *source.Node, c *Calendar) {
		d.byStep(n, "wait", "acclimatise: 7 days", func(step Ref, value *source.Node) {
			w := StepWait{Step: step}
			spanField("", "", func(w *StepWait) *Span { return &w.Wait }).set(d, value, &w)
			if w.Wait.Given {
				c.Waits = append(c.Waits, w)
			}
		})
	}},
	wordsField("in-shop", "a list of steps", "steps that are done in the shop: they bring no dust and no fumes on the house", func(c *Calendar) *[]Text { return &c.InShop }),
	wordField("zone", "the time zone, for a phone that is carried to another; times are as a clock on the spot shows them where absent", zoneNames(), func(c *Calendar) *Text { return &c.Zone }),
}

// byStep reads the entries below the names of steps.
func (d *decoder) byStep(n *source.Node, key, sample string, each func(step Ref, value *source.Node)) {
	if n.Blank() {
		return
	}
	if n.Kind != source.Map {
		d.problem(n, "write "+sample+", a line for each step", "want keys and values for %s, found %s", key, shape(n))
		return
	}
	for _, e := range n.Entries {
		each(Ref{Text: e.Key, At: e.At, Given: true}, e.Value)
	}
}

func stepDatesField(key, doc string, at func(*Calendar) *[]Ticked) field[Calendar] {
	return field[Calendar]{key, "keys and values: the name of a step, and a day, year-month-day", doc, nil, func(d *decoder, n *source.Node, c *Calendar) {
		d.byStep(n, key, "hand-over: 2027-01-20", func(step Ref, value *source.Node) {
			if day := d.date(value); day.Given {
				*at(c) = append(*at(c), Ticked{Step: step, Day: day})
			}
		})
	}}
}

// workFields are the shop's usual hours and crew.
var workFields = []field[Calendar]{
	wholeField("crew", "how many people, for jobs that don't say", 1, 50, func(c *Calendar) *Whole { return &c.Crew }),
	hoursField,
}

// usual is the calendar with the shop's crew and hours, where the job says none.
func (c Calendar) usual(shop Calendar) Calendar {
	if !c.Crew.Given {
		c.Crew = shop.Crew
	}
	if !c.HasHours && c.HoursAt.IsZero() {
		c.Hours, c.HasHours, c.HoursAt = shop.Hours, shop.HasHours, shop.HoursAt
	}
	return c
}

// stepNamesOf are the steps that a calendar names, to be checked.
func (c Calendar) stepNamesOf() (list []Text) {
	for _, t := range c.NotBefore {
		list = append(list, t.Step)
	}
	for _, t := range c.By {
		list = append(list, t.Step)
	}
	for _, w := range c.Waits {
		list = append(list, w.Step)
	}
	return append(list, c.InShop...)
}

// StepTime is what the calendar needs to know of a step beside its working time.
type StepTime struct {
	People     Whole
	Makes      []Text // of Nuisances
	Wait       Span   // what passes after it, day and night
	Source     Text   // what the wait rests on
	Status     working.Status
	Lead       Flag   // what passes after it is the longest lead time of what is ordered
	Whole      Flag   // not left half done over night
	SameDay    Flag   // on the day of what it waits for
	Guard      Text   // opens: takes the guard off an edge; closes: the new one stands
	Barrier    Text   // up or down
	Coats      Text   // parts: the coats before fitting; fitted: the last ones
	Inspection Flag   // the inspector's day
	Goods      Flag   // the goods have to be there
	With       []Text // it goes hand in hand with the last of these steps that the job has
}

var stepTimeFields = []field[StepTime]{
	wholeField("people", "how many are needed at once; one where absent", 1, 50, func(s *StepTime) *Whole { return &s.People }),
	{"makes", "a list of dust, fumes, solvents and stair", "what it brings on the house: dust, fumes, those of solvents, or the stair closed; of fumes the calendar finds out by the coats whether they are of solvents", nil, func(d *decoder, n *source.Node, s *StepTime) { s.Makes = d.oneOfEach(n, Nuisances) }},
	spanField("wait", "what passes after it, day and night, before what comes next: glue, settling", func(s *StepTime) *Span { return &s.Wait }),
	textField("source", "what that wait rests on, as in the glue's label", func(s *StepTime) *Text { return &s.Source }),
	statusField("status", "how sure that is", func(s *StepTime) *working.Status { return &s.Status }),
	flagField("lead", "yes where what passes after it is the longest lead time of what is ordered", func(s *StepTime) *Flag { return &s.Lead }),
	flagField("whole", "yes where it is not left half done over night", func(s *StepTime) *Flag { return &s.Whole }),
	flagField("same-day", "yes where it is done by the evening of the day on which what it waits for was done", func(s *StepTime) *Flag { return &s.SameDay }),
	wordField("guard", "opens where it takes the guard off an edge, closes where the new one stands when it is over", []string{"opens", "closes"}, func(s *StepTime) *Text { return &s.Guard }),
	wordField("barrier", "up or down: the temporary barrier", []string{"up", "down"}, func(s *StepTime) *Text { return &s.Barrier }),
	wordField("coats", "parts where the coats before fitting go on in it, fitted where the last ones do", []string{"parts", "fitted"}, func(s *StepTime) *Text { return &s.Coats }),
	flagField("inspection", "yes where the inspector is there", func(s *StepTime) *Flag { return &s.Inspection }),
	wordsField("with", "a list of steps", "steps that it goes hand in hand with: on the calendar it is one piece of work with the last of them that the job has, unless it says guard, barrier, whole, same-day, inspection or goods; they stand in after: too", func(s *StepTime) *[]Text { return &s.With }),
	flagField("goods", "yes where the goods have to be there: it begins on the job's day for them at the earliest", func(s *StepTime) *Flag { return &s.Goods }),
}

// Date is a day of the calendar as a time at midnight; false where it is not given.
func (t Text) Date() (time.Time, bool) {
	day, err := time.Parse(time.DateOnly, t.Text)
	return day, t.Given && err == nil
}
