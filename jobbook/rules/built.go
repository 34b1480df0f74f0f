package rules

import (
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
