package layout

import (
	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Lay lays out every run of a job: first each for itself, then the runs that match, then marks, openings and cuts. not are drilled shoes that do not go for another reason than their holes: no run is laid out around them.
func Lay(j *job.Job, not ...Refused) Layout { return Begin(j).Lay(not...) }

// Begun is a job whose runs know their ends and how high their rails are, and nothing more yet.
type Begun struct {
	Job  *job.Job
	runs []*builder
	air  Air
}

// Begin works out the beginning of every run.
func Begin(j *job.Job) *Begun {
	g := &Begun{Job: j, air: airOf(j)}
	var flights []*builder
	for _, r := range j.Runs {
		b := start(j, r)
		b.air = g.air
		b.seasonal()
		if r.Stair != nil { // before the level runs: a flight says how high a newel stands that they share
			b.beginFlight()
			flights = append(flights, b)
		}
		g.runs = append(g.runs, b)
	}
	for _, b := range g.runs {
		if b.r.Stair == nil {
			b.flights = flights
			b.begin()
		}
	}
	return g
}

// Rail is how high the rail of a run is.
type Rail struct {
	Run   string
	Level job.ReadAt    // of a level run; zero while it is not known
	Raked length.Length // of a flight: its top above the line of the nosings, plumb; 0 while it is not known
}

// Rails are those of all runs, in the order of the job.
func (g *Begun) Rails() (list []Rail) {
	for _, b := range g.runs {
		rail := Rail{Run: b.Name, Level: b.ReadAt()}
		if b.Rake != nil {
			rail.Raked = b.Rake.Top
		}
		list = append(list, rail)
	}
	return list
}

// Lay goes on to the whole layout, as the function of the same name does; once.
func (g *Begun) Lay(not ...Refused) Layout {
	j, runs := g.Job, g.runs
	for _, b := range runs {
		if b.r.Stair != nil {
			b.flight()
		} else {
			b.level()
		}
	}
	for _, b := range runs {
		b.around(not)
	}
	match(runs)
	tellApart(runs)
	meet(j, runs)
	var l Layout
	for _, b := range runs {
		switch {
		case b.r.Stays():
			b.keptMarks()
			b.keptOpenings()
			b.keptCuts()
		case b.Rake == nil:
			b.marks()
			b.openings()
			b.spacer()
			b.cuts()
		case b.Rake.OnTreads:
			b.treadMarks()
			b.treadOpenings()
			b.rakeCuts()
		default:
			b.shoeMarks()
			b.openings()
			b.rakeCuts()
		}
		b.checks()
		l.Runs = append(l.Runs, b.Run)
	}
	nodes := nodesOf(j, runs)
	l.Plan, l.Air = planView(nodes, runs), g.air
	for _, n := range nodes {
		l.Posts = append(l.Posts, n.stand())
	}
	l.Leaves, l.LeavesFigures, l.LeavesMissing = leaves(j)
	return l
}

// begin works out the clear of a level run, the floor under it, its ends and its heights.
func (b *builder) begin() {
	b.clear()
	b.floor()
	b.keptFloor()
	b.ends()
	b.levels()
}

// level works out everything else about a level run that its neighbours do not decide.
func (b *builder) level() {
	b.footholds()
	b.lean()
	if b.r.Stays() {
		b.limit()
		b.keep()
		return
	}
	b.shape()
	b.limit()
	if b.curve() {
		b.count()
	}
}

// builder is a run while it is laid out.
type builder struct {
	*Run
	job *job.Job
	r   *job.Run
	sys length.System
	div job.Measure

	foot      length.Length // width of a baluster where it meets the shoe or the floor
	footAt    source.Pos
	head      length.Length             // width of a baluster in the rail's groove
	shapes    []shape                   // the balusters as they stand, shortest and longest; empty while not known
	sides     [2][]variant              // the ends' faces, with what lean may do to them
	balls     map[ballKey]profile.Found // openings searched so far
	stick     profile.Profile           // the baluster as bought
	drill     *Drilled                  // holes that are there, while they are tried and once they are taken
	stickLong length.Length             // its cut length at the datum end
	passing   []int                     // counts that pass and may be chosen when runs match
	under     length.Length             // how far the shortest baluster is cut under the length that it should have
	fallback  bool                      // heights are not known: openings are those of the whole baluster as bought
	clearLen  length.Length

	flights []*builder // of a level run: the job's
	air     Air
	season  *working.Figure // shrinkage of a baluster over the year; nil where the job says it, or it is not known

	// Of a flight.
	faces             [2]job.Measure            // places of the two ends' faces, as far as they are known
	tip               length.Length             // width of a baluster's head, that its bevel runs across
	thin              length.Length             // width of a baluster between foot and rail where it is least, however it is cut; 0 while not known
	sockLow, sockHigh length.Length             // how far a baluster goes in, below and above
	stands            []stand                   // the chosen balusters, on their treads
	kept              keeping                   // of a guard that stays
	treadBalls        []profile.Found           // between each of them and the next, at the worst; none where one before it is known to be as large
	postBalls         map[postKey]profile.Found // openings beside the ends searched so far
	treadFaces        map[stand]profile.Face    // balusters cut so far
	oneMore           []int                     // treads that get one baluster more while a cure is tried
}

func start(j *job.Job, r *job.Run) *builder {
	run := &Run{ID: "run/" + r.Name, Name: r.Name, Title: r.Title.Text, Job: r, Least: -1}
	if run.Title == "" {
		run.Title = r.Name
	}
	b := &builder{Run: run, job: j, r: r, sys: j.System, div: j.Division, balls: map[ballKey]profile.Found{}}
	if !b.div.Given || b.div.Length <= 0 {
		b.div = job.Measure{Length: length.Inch / 16, Given: true} // a tape's sixteenths, common practice
		if b.sys == length.Millimetres {
			b.div.Length = length.Millimetre
		}
	}
	return b
}

// geometry is what most figures cite; nobody writes to it.
var geometry = []working.Citation{working.Geometry}

// work evaluates a formula and keeps it with the run's figures.
func (b *builder) work(id, title, symbol string, e working.Expr, cites ...working.Citation) *working.Figure {
	if len(cites) == 0 {
		cites = geometry
	}
	f := working.Work(b.ID+"/"+id, title, symbol, b.sys.String(), e, cites...)
	b.Figures = append(b.Figures, f)
	return f
}

func (b *builder) series(id, title, symbol string, e working.Expr, vars, names []string, rows [][]exact.Number, cites ...working.Citation) *working.Figure {
	if len(cites) == 0 {
		cites = geometry
	}
	f := working.WorkSeries(b.ID+"/"+id, title, symbol, b.sys.String(), e, vars, names, rows, cites...)
	b.Figures = append(b.Figures, f)
	return f
}

// in makes an input of a measure.
func (b *builder) in(symbol, name string, m job.Measure) *working.Input {
	in := working.Length(symbol, name, m.Length, b.sys, m.At)
	if !m.Given {
		in.From = "not given, not counted"
		in.At = source.Pos{}
	}
	return in
}

// found makes an input of a length that no file says.
func (b *builder) found(symbol, name, from string, l length.Length) *working.Input {
	return working.Length(symbol, name, l, b.sys, source.Pos{}).Because(from)
}

// need names a reading still to be taken. key is as it is written in the run's file.
func (b *builder) need(what, key, why string, at source.Pos) {
	b.needIn(b.r.File, what, key, why, at)
}

func (b *builder) needIn(file, what, key, why string, at source.Pos) {
	if at.IsZero() {
		at = source.Pos{File: file}
	}
	file = at.File // the file that holds the blank key, such as the job's for its runs
	for _, m := range b.Missing {
		if m.What == what && m.Where == file+", "+key {
			return
		}
	}
	b.Missing = append(b.Missing, finding.Reading{What: what, Where: file + ", " + key, Why: why, Group: b.ID, At: at})
}

// check keeps a check that layout makes itself: sizes that must go together, whatever rules apply.
func (b *builder) check(name, title string, value length.Length, op finding.Op, limit length.Length, at, set source.Pos, figure, cure string) {
	f := finding.Finding{
		ID: "check/" + b.ID + "/" + name, Group: b.ID, Title: title, Verdict: finding.Pass,
		Measured: value, HasValue: true, Op: op, Limit: limit, HasLimit: true, Margin: op.Margin(value, limit),
		Status: working.Derived, Rules: "sizes that must go together", Set: set, At: at, Figure: figure,
	}
	if !op.Holds(value, limit) {
		f.Verdict = finding.Fail
		f.Cure = cure
	}
	b.Findings = append(b.Findings, f)
}

// tape prints a length for a sentence, at the job's division, to the nearest; finer lengths in decimals.
func (b *builder) tape(l length.Length) string { return Tape(l, b.sys, b.div.Length) }

// about writes a length that nobody sets out, as a tape shows it: "about 1/8 in" where it lies on no mark of the division.
func (b *builder) about(l length.Length) string {
	s := length.Style{System: b.sys, Division: b.div.Length, Rounding: length.Nearest}
	switch round := l.Round(s.Division, length.Nearest); {
	case round == l:
		return s.With(l)
	case round == 0:
		return "less than " + s.With(s.Division)
	default:
		return "about " + s.With(round)
	}
}

// Tape prints a length with its unit: at the division where it lies on it, else in four decimals of an inch or two of a millimetre.
func Tape(l length.Length, sys length.System, division length.Length) string {
	s := length.Style{System: sys, Division: division, Rounding: length.Nearest}
	if sys == length.Inches {
		s.Division = length.Inch / 64
	}
	const residue = 2 * length.Nanometre // of a turning's slope, taken off and put on again
	if abs(l.Round(s.Division, length.Nearest)-l) <= residue {
		return s.With(l)
	}
	places := 2
	if sys == length.Inches {
		places = 4
	}
	return s.Decimal(l, places) + " " + sys.String()
}
