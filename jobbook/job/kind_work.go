package job

import (
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Step is one step of the work, from the library, the shop or the job.
type Step struct {
	Origin
	Title      Text
	When       []Text
	After      []Text
	Hold       Text // what must be settled before the work goes on; empty where the step is no hold point
	Tools      []Text
	Quantities []Text
	Cautions   []Text
	Right      Text // how to know it is right
	Evening    Text // how the place is left on a day on which it is worked on
	Minutes    Minutes
	Time       StepTime
	Omit       Flag
}

// Minutes is the working time of a step: once, and for each of something that is counted.
type Minutes struct {
	Once Whole
	Each Whole
	Of   Text
	Made Text // one of MadeStates: pieces that were made so far take no time; empty where the step makes none
}

// Caution is a danger and what to do about it.
type Caution struct {
	Origin
	Title  Text
	When   []Text
	Source Text
	Status working.Status
	Laws   []Law
	Omit   Flag
}

// Quantities are what a step can count, each worked out from the plan.
var Quantities = []Key{
	{"balusters", "", "balusters of the whole job", nil},
	{"added-balusters", "", "of those, new ones between old ones that stay", nil},
	{"flight-balusters", "", "balusters along flights", nil},
	{"runs", "", "level runs and flights", nil},
	{"flights", "", "flights of stairs", nil},
	{"treads", "", "treads beside a guard, landings not counted", nil},
	{"posts", "", "posts", nil},
	{"plate-posts", "", "posts on a plate, and those of which nobody says how they are fixed; half newels not counted, nor below", nil},
	{"bolted-posts", "", "posts bolted to the framing", nil},
	{"let-in-posts", "", "posts let into the floor", nil},
	{"wall-ends", "", "ends of runs at a wall", nil},
	{"unbacked-ends", "", "ends of rails at a wall that has neither a stud nor blocking behind them, or nobody says", nil},
	{"post-ends", "", "ends of rails at a post", nil},
	{"handrails", "", "lengths of handrail", nil},
	{"level-rails", "", "those of level runs", nil},
	{"shoes", "", "lengths of shoe", nil},
	{"fillets", "", "fillets", nil},
	{"rosettes", "", "rosettes", nil},
	{"marks", "", "marks on shoes and floor; those on treads not counted, nor those between old balusters", nil},
	{"old-guards", "", "old guards to take out", nil},
}

// MadeStates are what a step does to pieces that can be recorded as made that far: cut to length; the holes of shoe or rail for balusters drilled; rail's end and post bored for a bolt; all coats on that go on before they are fitted.
var MadeStates = []string{"cut", "shoe-drilled", "rail-drilled", "bored", "coated"}

var minutesFields = []field[Minutes]{
	wholeField("once", "minutes for the step itself", 0, 10_000, func(m *Minutes) *Whole { return &m.Once }),
	wholeField("each", "minutes for each of what is counted", 0, 10_000, func(m *Minutes) *Whole { return &m.Each }),
	wordField("of", "what is counted", keyNames(Quantities), func(m *Minutes) *Text { return &m.Of }),
	wordField("made", "what the step does to pieces: those of which it is recorded that they are made so far (kind: made) take no time any more", MadeStates, func(m *Minutes) *Text { return &m.Made }),
}

func whenField[T any](at func(*T) *[]Text) field[T] {
	return wordsField("when", "a list of traits", "the traits that a job must have, all of them; always where absent", at)
}

var stepFields = []field[Step]{
	textField("title", "the step in a few words", func(s *Step) *Text { return &s.Title }),
	whenField(func(s *Step) *[]Text { return &s.When }),
	wordsField("after", "a list of steps", "steps that come before it, where the job has them", func(s *Step) *[]Text { return &s.After }),
	textField("hold", "for a hold point: what must be settled before the work goes on", func(s *Step) *Text { return &s.Hold }),
	wordsField("tools", "a list of words", "what to have at hand", func(s *Step) *[]Text { return &s.Tools }),
	wordsField("quantities", "a list of quantities", "what of this job's numbers the step shows", func(s *Step) *[]Text { return &s.Quantities }),
	wordsField("cautions", "a list of cautions", "where the danger bites", func(s *Step) *[]Text { return &s.Cautions }),
	textField("right", "how to know that it is right", func(s *Step) *Text { return &s.Right }),
	textField("evening", "how the place is left in the evening of each day on which it is worked on", func(s *Step) *Text { return &s.Evening }),
	mapField("minutes", "working time", minutesFields, func(s *Step) *Minutes { return &s.Minutes }),
	mapField("calendar", "what the calendar needs to know of it", stepTimeFields, func(s *Step) *StepTime { return &s.Time }),
	flagField("omit", "yes drops the step of this name from farther layers", func(s *Step) *Flag { return &s.Omit }),
}

var cautionFields = []field[Caution]{
	textField("title", "the danger in a few words", func(c *Caution) *Text { return &c.Title }),
	whenField(func(c *Caution) *[]Text { return &c.When }),
	textField("source", "the rule or guidance behind it", func(c *Caution) *Text { return &c.Source }),
	statusField("status", "how sure that is", func(c *Caution) *working.Status { return &c.Status }),
	placedList("law", "what the law of a country says about it; under another country’s rule set it is told as that", lawFields, func(c *Caution) *[]Law { return &c.Laws }, func(l *Law) *source.Pos { return &l.At }),
	flagField("omit", "yes drops the caution of this name from farther layers", func(c *Caution) *Flag { return &c.Omit }),
}
