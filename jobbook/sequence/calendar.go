package sequence

import (
	"cmp"
	"slices"
)

// The calendar goes by minutes from the midnight before day 1, as a clock on the wall shows them: a day always has 1440 of them. Days before day 1 are negative.
const (
	Hour = 60
	Day  = 24 * Hour
)

// Span is a stretch of time, its end not counted.
type Span struct {
	From, To int
}

// Makes is what a task brings on the house, or what the family does not want at a time.
type Makes struct {
	Dust     bool
	Fumes    bool
	Stair    bool // the stair cannot be passed
	Solvents bool // the fumes are of oil or alcohol, not of water base alone
}

func (m Makes) meets(other Makes) bool {
	return m.Dust && other.Dust || m.Fumes && other.Fumes || m.Stair && other.Stair || m.Solvents && other.Solvents
}

// lasting is what goes on while it dries.
func (m Makes) lasting() Makes { return Makes{Fumes: m.Fumes, Solvents: m.Solvents} }

// Task is a piece of work as the calendar places it, in plain values. Tasks go by their place in the list.
type Task struct {
	Name    string
	Minutes int   // working time of everybody together
	People  int   // how many are needed at once; one where 0
	Wait    int   // what passes after it by the clock, day and night, before anything that comes after it begins: drying
	Days    int   // what passes after it in days, whatever the hour: goods that are ordered on a Monday and take three days are there on Thursday
	After   []int // the tasks that it waits for
	From    int   // not begun before this
	By      int   // to be over by this, where HasBy
	HasBy   bool
	Makes   Makes // fumes last as long as it takes to dry
	Whole   bool  // not left half done over night
	SameDay bool  // done by the evening of the day on which what it waits for was done
	Done    bool  // done already, on the day that begins at From; it is not placed any more

	Opens   bool // takes the guard off an edge: one task at a time does, and never leaves it so over night
	Closes  bool // when it is over the new guard stands
	Barrier int  // above 0: puts the temporary barrier up; below: takes it down
}

// Unwanted is a time at which the family does not want something.
type Unwanted struct {
	No      Makes
	Days    [7]bool // weekdays, Monday first
	Hours   []Span  // of the day
	First   int     // the first day that it holds on, counted from 0 for day 1, where Bounded
	Last    int     // and the last
	Bounded bool
}

// Work is what is to be placed, and when there is time for it.
type Work struct {
	Tasks    []Task
	Crew     int       // people; one where it is less
	Weekday  int       // of day 1, Monday is 0
	Hours    [7][]Span // working hours by weekday, Monday first, in order and apart
	Off      []Span    // days off, counted from 0 for day 1, the last one not counted
	Unwanted []Unwanted
	Forward  []int // when clocks are put on by an hour: what dries through it needs an hour more by the clock
	Now      int   // where HasNow: nothing that is not done begins before it, and what was done on its day is over by then, but at midnight, when only the day is known
	HasNow   bool
}

// Placed is where a task came to stand.
type Placed struct {
	Start, End int
	Ready      int    // when what comes after it may begin: End, and what passes after it
	Spans      []Span // when it is worked on, in order
	People     []int  // who does it, counted from 0
	Latest     int    // when it can begin at the latest without moving the end of the job or breaking a date
	Slack      int    // working minutes between Start and Latest
	Critical   bool   // it has no slack
}

// FaultKind is what is wrong with a plan.
type FaultKind int

// What can be wrong with a plan.
const (
	Late      FaultKind = iota + 1 // over after the time it was to be over by
	TooFew                         // needs more people than there are
	OverDays                       // does not fit into a day, and must not be left half done over night
	NoTime                         // there is no time at which the family allows it; it is placed as though they did
	NoHours                        // nobody works on any day: nothing is placed
	NextDay                        // was to be done the same day
	Gap                            // an edge is open without the temporary barrier
	NoBarrier                      // the new guard is built without a temporary barrier
	OpenOver                       // an edge is open over night
)

// Fault is something wrong with a plan.
type Fault struct {
	Kind FaultKind
	Task int  // -1 where it is of the whole plan
	Span Span // of a gap: from when to when
}

// Timetable is the work placed.
type Timetable struct {
	Placed []Placed // of each task
	Order  []int    // tasks in the order in which they begin
	End    int
	Faults []Fault
}

// least is the shortest time for which a task is begun in the evening that goes on the next day, minutes: less is not worth setting up for (common practice, no source).
const least = 15

// mostDays bounds how far ahead a free time is looked for: ten years.
const mostDays = 3660

// Arrange places every task: each as soon as what it waits for is over and the people are there, the first in the list first where several could begin at once. What needs
// nobody's time, such as a hold point, takes nobody.
func Arrange(w Work) Timetable {
	a := arrangerOf(w)
	if !slices.ContainsFunc(w.Hours[:], func(s []Span) bool { return len(s) > 0 }) {
		a.at.Faults = append(a.at.Faults, Fault{Kind: NoHours, Task: -1})
		return a.at
	}
	a.tails()
	for a.step() {
	}
	for _, i := range a.at.Order {
		a.at.End = max(a.at.End, a.at.Placed[i].End)
	}
	a.slack()
	a.barred()
	slices.SortStableFunc(a.at.Faults, func(x, y Fault) int { return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.Task, y.Task)) })
	return a.at
}

func arrangerOf(w Work) *arranger {
	a := &arranger{Work: w, at: Timetable{Placed: make([]Placed, len(w.Tasks)), Order: make([]int, 0, len(w.Tasks))}}
	a.Crew = max(1, a.Crew)
	a.free = make([]int, a.Crew)
	a.last = make([]int, a.Crew)
	for i := range a.last {
		a.last[i] = -1
	}
	a.next = make([][]follower, len(w.Tasks))
	a.placed = make([]bool, len(w.Tasks))
	a.lastEdge = -1
	return a
}

type arranger struct {
	Work
	at       Timetable
	placed   []bool
	free     []int // from when on each of the crew is free
	sorted   []int // the same, the first first, while one is looked for
	last     []int // what each of them did last
	edge     int   // from when on another edge may be opened
	lastEdge int
	tail     []int // minutes that have to follow each task on the same day
	next     [][]follower
}

// follower is a task that begins after another one, and what passes between them.
type follower struct {
	task int
	wait bool
}

// tails sums up what has to be done on the day of each task: those that come after it the same day.
func (a *arranger) tails() {
	a.tail = make([]int, len(a.Tasks))
	for i := range a.Tasks {
		if t := &a.Tasks[i]; t.SameDay && !t.Done {
			for _, k := range t.After {
				a.tail[k] += a.clock(t)
			}
		}
	}
}

// people is how many of the crew a task takes.
func (a *arranger) people(t *Task) int {
	if t.Minutes <= 0 {
		return 0
	}
	return min(max(1, t.People), a.Crew)
}

// clock is how long a task takes with its people, as though nothing came between.
func (a *arranger) clock(t *Task) int {
	n := a.people(t)
	if n == 0 {
		return 0
	}
	return (t.Minutes + n - 1) / n
}

// first finds the task that can begin first, and where it is placed; one that was done is taken over before that. -1 where there is none.
func (a *arranger) first() (best int, bestAt Placed, faults []Fault) {
	best = -1
	for i := range a.Tasks {
		t := &a.Tasks[i]
		if a.placed[i] {
			continue
		}
		if t.Done { // also where what it waits for was not ticked off
			return i, Placed{}, nil
		}
		from, ok := a.soonest(i)
		if !ok {
			continue
		}
		sooner := func(start int) bool {
			return best < 0 || start < bestAt.Start || start == bestAt.Start && t.SameDay && !a.Tasks[best].SameDay
		}
		if !sooner(from) { // nor where it is placed
			continue
		}
		if at, wrong := a.place(i, from); sooner(at.Start) {
			best, bestAt, faults = i, at, wrong
		}
	}
	return best, bestAt, faults
}

// soonest is when a task can begin at the soonest, for what it waits for and for the people; false while not all that it waits for is placed.
func (a *arranger) soonest(i int) (from int, ok bool) {
	t := &a.Tasks[i]
	if slices.ContainsFunc(t.After, func(k int) bool { return !a.placed[k] && k != i }) {
		return 0, false
	}
	from = max(0, t.From)
	if a.HasNow {
		from = max(from, a.Now)
	}
	for _, k := range t.After {
		if k != i {
			from = max(from, a.at.Placed[k].Ready)
		}
	}
	if t.Opens {
		from = max(from, a.edge)
	}
	if n := a.people(t); n > 0 {
		a.sorted = append(a.sorted[:0], a.free...)
		slices.Sort(a.sorted)
		from = max(from, a.sorted[n-1])
	}
	return from, true
}

// step places one task: the one that can begin first. It reports whether there was one.
func (a *arranger) step() bool {
	best, bestAt, bestFaults := a.first()
	if best < 0 {
		return false
	}
	if a.Tasks[best].Done {
		a.done(best)
		return true
	}
	t := &a.Tasks[best]
	for _, k := range t.After {
		if k != best {
			a.next[k] = append(a.next[k], follower{best, true})
		}
	}
	for p := range a.free {
		if a.free[p] <= bestAt.Start && len(bestAt.People) < a.people(t) {
			bestAt.People = append(bestAt.People, p)
		}
	}
	for _, p := range bestAt.People {
		if a.last[p] >= 0 {
			a.next[a.last[p]] = append(a.next[a.last[p]], follower{best, false})
		}
		a.free[p], a.last[p] = bestAt.End, best
	}
	if t.Opens {
		if a.lastEdge >= 0 {
			a.next[a.lastEdge] = append(a.next[a.lastEdge], follower{best, false})
		}
		a.edge, a.lastEdge = bestAt.End, best
	}
	a.keep(best, bestAt)
	a.at.Faults = append(a.at.Faults, bestFaults...)
	a.judge(best)
	return true
}

func (a *arranger) keep(i int, p Placed) {
	a.at.Placed[i] = p
	a.placed[i] = true
	a.at.Order = append(a.at.Order, i)
}

// done takes over a task that was done: on a day, nobody wrote down when. It counts as over at the end of that day's work.
func (a *arranger) done(i int) {
	t := &a.Tasks[i]
	day := floorDiv(t.From, Day)
	p := Placed{Start: day * Day, End: (day + 1) * Day}
	if hours := a.hours(day); len(hours) > 0 {
		p.End = hours[len(hours)-1].To
	}
	if a.HasNow && day == floorDiv(a.Now, Day) && a.Now > day*Day { // also where somebody works on after hours; at midnight only the day is known
		p.End = max(p.Start, a.Now)
	}
	p.Ready = a.ready(p.End, t)
	a.keep(i, p)
}

// judge says what is wrong with where a task stands.
func (a *arranger) judge(i int) {
	t, p := &a.Tasks[i], a.at.Placed[i]
	if t.HasBy && p.End > t.By {
		a.fault(Late, i)
	}
	if t.Minutes > 0 && t.People > a.Crew {
		a.fault(TooFew, i)
	}
	if t.SameDay {
		for _, k := range t.After {
			if k != i && p.End > (floorDiv(a.at.Placed[k].End-1, Day)+1)*Day {
				a.fault(NextDay, i)
				break
			}
		}
	}
}

func (a *arranger) fault(kind FaultKind, task int) {
	a.at.Faults = append(a.at.Faults, Fault{Kind: kind, Task: task})
}
