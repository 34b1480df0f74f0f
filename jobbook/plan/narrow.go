package plan

import (
	"fmt"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/takeoff"
)

// Narrow is a delivered width of a baluster that changes a count, or whether its openings pass: what it asks for, and what would keep the counts as they were. All of it was laid out.
type Narrow struct {
	Part     string
	Title    string
	Wide     length.Length // of most of them: what is planned with
	Came     []job.Measure // the readings that do it: the narrowest of each load, or the width of most of them
	From     []string      // the titles of their deliveries
	Usual    bool          // it is not the narrowest but the width of most of them
	Runs     []NarrowRun
	More     int           // balusters that it asks for beyond those without it; less than 0 for fewer
	Least    length.Length // with none narrower than this the narrowest changes no count and none stands loose in a plow; 0 where no narrowest does it
	Stays    bool          // and then they are as planned; false where the width of most of them changes a count all the same
	Needed   int           // then
	Usable   int           // of those that came
	Complete bool          // all runs are counted in Needed
}

// NarrowRun is one run: its count, and whether its openings pass, without that width and with it.
type NarrowRun struct {
	Run             string
	Without, With   int // -1 where no count passes
	Passed, Passing bool
}

// Outcome is what a run comes to: its count, -1 where there is none, and whether its worst opening is inside the limit.
func Outcome(r *layout.Run) (count int, passes bool) {
	if r.Chosen == nil {
		return -1, false
	}
	return r.Chosen.Count, r.Chosen.Passes
}

// LaidOut is a job laid out, as its plan would be.
func LaidOut(j *job.Job) layout.Layout {
	l, _ := laid(layout.Begin(j), takeoff.Bare)
	return l
}

// WhyCount says why a run has its count, with the delivered width that makes it so. named says that the reader may know whose delivery it was.
func (p *Plan) WhyCount(r *layout.Run, named bool) string {
	words := r.Why
	if words == "" {
		return ""
	}
	for _, n := range p.Narrow {
		for _, x := range n.Runs {
			if x.Run == r.Name {
				words += "; " + p.narrowWords(n, x, named)
			}
		}
	}
	return words
}

func (p *Plan) narrowWords(n Narrow, x NarrowRun, named bool) string {
	tape := func(l length.Length) string { return layout.Tape(l, p.Job.System, p.Job.Division.Length) }
	var came []string
	for i, m := range n.Came {
		words := tape(m.Length)
		if named {
			words += " from " + n.From[i]
		}
		came = append(came, words)
	}
	what := "the narrowest " + n.Title + " that came (" + strings.Join(came, ", ") + ")"
	if n.Usual {
		what = "the width that " + n.Title + " came in (" + strings.Join(came, ", ") + ")"
	}
	words := what + " makes it so: without it "
	switch {
	case x.Without < 0:
		words += "no count would pass"
	case x.Without == x.With && x.Passed:
		words += "the same count would pass"
	case x.Without == x.With:
		words += "the same count would fail"
	default:
		words += fmt.Sprintf("%d would do", x.Without)
	}
	if n.Least > 0 {
		words += ", and with every one under " + tape(n.Least) + " set aside"
	}
	return words
}
