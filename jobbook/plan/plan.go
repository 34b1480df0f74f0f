// Package plan makes the plan of one job: layout, loads, takeoff, finishing, buying, order of work and its days, price, inspection and
// findings, in that order (see Make). A plan is a pure function of its job.
package plan

import (
	"slices"
	"strings"

	"balustrade/jobbook/changes"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/load"
	"balustrade/jobbook/photo"
	"balustrade/jobbook/price"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/takeoff"
	"balustrade/jobbook/working"
)

// Plan is everything that the book shows.
type Plan struct {
	Job          *job.Job
	Traits       []string
	Layout       layout.Layout
	Loads        load.Screening
	Takeoff      takeoff.Takeoff
	Finishing    finish.Finishing
	Buying       takeoff.Buying
	Sequence     sequence.Sequence
	Schedule     sequence.Schedule
	Retighten    sequence.Retightening
	Price        price.Estimate
	Inspection   rules.Inspection
	Findings     []finding.Finding   // worst first within each group; groups in the order of the job
	Missing      []finding.Reading   // in the order of the job
	Alternatives []Alternative       // other ways to build it, each with a plan of its own
	Changes      *changes.Comparison // with the last issue; nil where there is none
	Written      *Plan               // on the sizes as the part files have them; nil while nothing was delivered or made
	Narrow       []Narrow            // delivered widths that change a count
	Figures      []*working.Figure   // every one, in the order of the book; ids are unique

	Photographs map[string]*photo.Copy // of the pictures that files name, by their path; no number rests on them
}

// retrofit reports that new balusters close the gaps of an old guard that stays.
func retrofit(j *job.Job) bool { return slices.ContainsFunc(j.Runs, (*job.Run).Stays) }

// OfOld reports a finding about an old guard that is taken out, or about its openings as found where new balusters close them: the layout judges
// them as they will be. It says why there is a job; it does not stop the new guard.
func (p *Plan) OfOld(f finding.Finding) bool {
	for _, s := range p.Job.Surveys {
		if f.Group == "survey/"+s.Name {
			return s.Goes() || retrofit(p.Job) && strings.Contains(f.ID, "guard-opening")
		}
	}
	return false
}

// OfBuilt reports a finding about the guard as it stands. It says nothing of how the plan is built, or of another way to build it.
func (p *Plan) OfBuilt(f finding.Finding) bool { return strings.HasPrefix(f.Group, "as-built/") }

// Stopped reports that a check of what is to be built fails. Days, deliveries and the air for coating are put right without another drawing.
func (p *Plan) Stopped() bool {
	return slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
		return f.Verdict == finding.Fail && !p.OfOld(f) && !p.OfBuilt(f) && f.Group != "calendar" && f.Group != "delivery" && !(f.Group == "coating" && strings.HasSuffix(f.ID, "/air"))
	})
}

// Unfinished reports that a check of the guard as it stands fails: a reading, or something that gives when pushed.
func (p *Plan) Unfinished() bool {
	return slices.ContainsFunc(p.Findings, func(f finding.Finding) bool { return f.Verdict == finding.Fail && p.OfBuilt(f) })
}

// Alternative is the plan of another way to build the job, made by Beside. Plan is nil where something is wrong with it.
type Alternative struct {
	Of   *job.Alternative
	Plan *Plan
}
