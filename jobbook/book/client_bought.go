package book

import (
	"balustrade/jobbook/plan"
	"balustrade/jobbook/takeoff"
)

// boughtAlready reports that something came of which another way to build needs less: it is paid for, whatever is built, and what that way would have saved is no longer there.
func (b *book) boughtAlready(other *plan.Plan) bool {
	needed := func(p *plan.Plan, of takeoff.Need) (n takeoff.Need) {
		for _, x := range p.Takeoff.Needs {
			if x.Kind == of.Kind && x.Part == of.Part {
				return x
			}
		}
		return n
	}
	for _, n := range b.plan.Takeoff.Needs {
		came := false
		for _, r := range b.job.Came(n.Kind, n.Part) {
			came = came || !r.Gone()
		}
		if x := needed(other, n); came && (x.Count < n.Count || x.Running < n.Running) {
			return true
		}
	}
	return false
}
