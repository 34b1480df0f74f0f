package plan

import (
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
)

// boltsApart asks which bolt goes over the other in a post in which they would meet, while nobody has moved one of them: that they are in the middle of their rails was nobody's choice. The check fails all the same, so that nothing is bored.
func (p *Plan) boltsApart() (list []finding.Reading) {
	for _, post := range p.Layout.Posts {
		for _, f := range post.Findings {
			if f.Verdict != finding.Fail || !strings.HasPrefix(f.ID, "check/"+post.ID+"/bolts/") {
				continue
			}
			r, key := endAt(p.Job, post.Name, f.At.File)
			if r == nil || movedBolts(p.Job, post.Name) {
				continue
			}
			move, _, _ := strings.Cut(f.Cure, "; ")
			if !strings.HasPrefix(move, "move ") { // no move of theirs cures it: the check says what does
				continue
			}
			list = append(list, finding.Reading{
				What:  "which bolt goes over the other in " + post.Name + "; measure on a piece of the rail how far a bore can be off its middle with wood left beside it, then " + move,
				Where: r.File + ", " + key + ": {bolt-up: }", Why: f.Title, At: f.At, Group: post.ID,
			})
		}
	}
	return list
}

// endAt is the run in a file, and the key of its end at a post.
func endAt(j *job.Job, post, file string) (*job.Run, string) {
	for _, r := range j.Runs {
		if r.File != file {
			continue
		}
		switch {
		case r.From.Post != nil && r.From.Post.Name == post:
			return r, "from"
		case r.To.Post != nil && r.To.Post.Name == post:
			return r, "to"
		}
	}
	return nil, ""
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
