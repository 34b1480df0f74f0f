package plan

import (
	"slices"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
)

// uncoated asks how many coats are on pieces that are made already, a line of the record at a time. Until somebody says, they are reckoned as bare: they are coated and timed like the rest. Nothing is asked of a group whose coats
// are all ticked off.
func (p *Plan) uncoated() (list []finding.Reading) {
	for _, g := range p.Finishing.Groups {
		if g.Finish == nil || len(g.Finish.Coats) == 0 || p.coatsDone(g.Name) {
			continue
		}
		asked := p.Takeoff.Made.Uncoated(p.Takeoff.Pieces, g.Name)
		for i, m := range asked {
			if slices.ContainsFunc(asked[:i], func(x *job.Made) bool { return x.At == m.At }) {
				continue
			}
			marks := m.Mark.Text
			if n := len(slices.DeleteFunc(slices.Clone(asked), func(x *job.Made) bool { return x.At != m.At })); n > 1 {
				marks += " and what stands on its line"
			}
			list = append(list, finding.Reading{What: marks + ": how many coats are on it, 0 for bare wood", Where: m.At.File + ", pieces: " + m.Mark.Text + ", coats: ", Why: "what is still to be coated", At: m.At, Group: "made"})
		}
	}
	return list
}

// coatsDone reports whether all coats of a group are ticked off.
func (p *Plan) coatsDone(group string) bool {
	some := false
	for _, s := range p.Sequence.Steps {
		for _, x := range s.Pieces {
			if x.Group == group {
				some = true
				if x.Done == "" {
					return false
				}
			}
		}
	}
	return some
}
