package layout

import (
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
)

// tellApart adds the file's name to the titles of runs that have the same one.
func tellApart(runs []*builder) {
	count := map[string]int{}
	for _, b := range runs {
		count[b.Title]++
	}
	for _, b := range runs {
		if count[b.Title] > 1 && b.Title != b.Name {
			b.Title += " (" + b.Name + ")"
		}
	}
}

// meet compares the level rails that come to one post: each run's rail is set from its own floor, and two that are to meet at one height
// must have been set so. Where they were not, one line is still to be decided on.
func meet(j *job.Job, runs []*builder) {
	type arrival struct {
		run  *builder
		rail length.Length // top of the rail above the bare floor at the post
	}
	for i := range j.Posts {
		var first *arrival
		for _, b := range runs {
			if b.Levels.RailTop == 0 || b.r.Stair != nil { // a raked rail and a level one differ by nature: see stand
				continue
			}
			for _, end := range []struct {
				post *job.Post
				x    length.Length
			}{{b.r.From.Post, 0}, {b.r.To.Post, b.clearLen}} {
				if end.post != &j.Posts[i] {
					continue
				}
				a := arrival{b, b.Levels.RailTop - b.Floor.under(end.x, end.x > 0)}
				if b.r.StandsOn.Text == "finished" {
					a.rail += b.r.ToCome.Thick.Length
				}
				if first == nil {
					first = &a
					continue
				}
				if abs(a.rail-first.rail) > b.div.Length {
					lower, up := b, first.rail-a.rail
					if up < 0 {
						lower, up = first.run, -up
					}
					b.need("one height for the rails that meet at "+end.post.Name+": it is "+b.tape(first.rail)+" above the floor there in "+first.run.Title+", and "+b.tape(a.rail)+" in "+b.Title+lower.raised(up), "height: ", "lengths of balusters, and how the rails meet at the post", b.r.Height.Top.At)
				}
			}
		}
	}
}

// raised is what to write in a run for its rail to come so much higher. One that stands there and stays is not raised.
func (b *builder) raised(by length.Length) string {
	if b.r.Stays() {
		return ""
	}
	top := "height: " + b.tape(b.r.Height.Top.Length+by)
	if b.r.Height.At.Text != "" || b.r.Height.Above.Text != "" {
		top = "height: {top: " + b.tape(b.r.Height.Top.Length+by)
		if b.r.Height.At.Text != "" {
			top += ", at: " + b.r.Height.At.Text
		}
		if b.r.Height.Above.Text != "" {
			top += ", above: " + b.r.Height.Above.Text
		}
		top += "}"
	}
	return "; " + top + " in " + b.r.File + " brings the lower to the other"
}
