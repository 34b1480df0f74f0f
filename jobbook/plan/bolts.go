package plan

import (
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/source"
)

// boltsApart asks which bolt goes over the other in a post in which they would meet, while nobody has moved one of them: that they are in the middle of their rails was nobody's choice. The check fails all the same, so that nothing is bored.
func (p *Plan) boltsApart() (list []finding.Reading) {
	for _, post := range p.Layout.Posts {
		for _, f := range post.Findings {
			if f.Verdict != finding.Fail || !strings.HasPrefix(f.ID, "check/"+post.ID+"/bolts/") {
				continue
			}
			i := slices.IndexFunc(post.Moves, func(m layout.BoltMove) bool { return m.Check == f.ID })
			if i < 0 || movedBolts(p.Job, post.Name) { // where no move cures it the check says what does
				continue
			}
			m := post.Moves[i]
			at := slices.IndexFunc(p.Job.Runs, func(r *job.Run) bool { return r.Name == m.Run })
			move, _, _ := strings.Cut(f.Cure, "; ")
			list = append(list, finding.Reading{
				What:  "which bolt goes over the other in " + post.Name + "; measure on a piece of the rail how far a bore can be off its middle with wood left beside it, then " + move,
				Where: p.Job.Runs[at].File + ", " + m.Side + ": {" + m.Key + ": }", Why: f.Title, At: endPos(p.Job.Runs[at], m.Side), Group: post.ID,
			})
		}
	}
	return list
}

// movedBolts reports whether somebody moved a bolt at a post.
func movedBolts(j *job.Job, post string) bool {
	for _, r := range j.Runs {
		for _, e := range []job.End{r.From, r.To} {
			if e.Post != nil && e.Post.Name == post && (e.BoltUp.Given || e.BoltLow.Given) {
				return true
			}
		}
	}
	return false
}

// endPos is where an end of a run is written.
func endPos(r *job.Run, side string) source.Pos {
	if side == "to" {
		return r.To.Where.At
	}
	return r.From.Where.At
}
