package job

import "balustrade/jobbook/source"

// Sinks reports a post whose foot needs wood below the floor: one that is let in, and one that bolts or lag screws hold to the framing's face. A half newel is held to its wall.
func (p *Post) Sinks() bool {
	return p.Foot.Text == "let in" || p.Rowed()
}

// Rowed reports a post that rows of bolts or lag screws hold below the floor.
func (p *Post) Rowed() bool {
	return (p.Foot.Text == "bolted" || p.Foot.Text == "lagged") && (p.Part == nil || !p.Part.Half.Yes)
}

// DeepOpen reports that a post's foot goes below the floor, and nobody says how far. One with rows that stands there already is taken as it stands.
func (j *Job) DeepOpen(p *Post) bool {
	return p.Sinks() && !p.Deep.Given && (p.Foot.Text == "let in" || !j.Stays(p))
}

// Holder is the fixing at a post's foot: its own, or the nearest way's; nil where there is none.
func (j *Job) Holder(p *Post) *Fixing {
	if p.Fixing != nil {
		return p.Fixing
	}
	joint := map[string]string{"plate": "newel on a plate", "bolted": "newel bolted", "lagged": "newel lagged", "let in": "newel let in"}[p.Foot.Text]
	want := map[string]string{"plate": "plate", "bolted": "bolt", "lagged": "lag screw"}[p.Foot.Text]
	for _, f := range j.Ways(joint) {
		if f.Part != nil && (want == "" || f.Part.Type.Text == want) {
			return f.Part
		}
	}
	return nil
}

// topAt is where it is written how high the post's top is to be.
func (e *End) topAt() source.Pos {
	if e.Post == nil {
		return source.Pos{}
	}
	return e.Post.Top.At
}
