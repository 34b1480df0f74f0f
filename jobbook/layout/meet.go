package layout

import (
	"balustrade/jobbook/finding"
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

// meet compares the rails that come to one post: each run's rail is set from its own floor, and two that are to meet at one height
// must have been set so. Where they were not, one line is still to be decided on.
func meet(j *job.Job, runs []*builder) {
	type arrival struct {
		run  *builder
		rail length.Length // top of the rail above the bare floor at the post
	}
	for i := range j.Posts {
		var first *arrival
		for _, b := range runs {
			if b.Levels.RailTop == 0 {
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
					b.need("one height for the rails that meet at "+end.post.Name+": it is "+b.tape(first.rail)+" above the floor there in "+first.run.Title+", and "+b.tape(a.rail)+" in "+b.Title, "height: ", "lengths of balusters, and how the rails meet at the post", b.r.Height.Top.At)
				}
			}
		}
	}
}

// onBlock checks that the rail lands on the square block of the post at each end: the whole of its height, on a part of one width.
func (b *builder) onBlock() {
	if !b.Levels.Known {
		return
	}
	for _, end := range []struct {
		e    End
		job  job.End
		side string
		x    length.Length
	}{{b.From, b.r.From, "from", 0}, {b.To, b.r.To, "to", b.clearLen}} {
		newel := end.e.Newel
		if newel == nil || !newel.Sized || !end.e.Known {
			continue
		}
		down := end.job.Post.Deep.Length - b.Floor.under(end.x, end.x > 0)
		if b.r.StandsOn.Text == "finished" {
			down += b.r.ToCome.Thick.Length
		}
		low, high := b.Levels.RailUnder+down, b.Levels.RailTop+down // up the newel, as bought
		from, to := block(newel, low)
		at, set := newel.Long.At, b.r.Height.Top.At
		if from > low {
			b.check("block-under-"+end.side, "underside of the handrail up the newel "+end.e.Name+", against the foot of its block", low, finding.AtLeast, from, set, at, "", "the rail would meet the turning: a newel with its block lower, or a higher rail")
			continue
		}
		b.check("block-"+end.side, "square block of the newel "+end.e.Name+", its top against the top of the handrail", to, finding.AtLeast, high, at, set, "", "a newel whose block is longer by what is missing, or a lower rail")
	}
}

// block is the square part of one width that a height lies on: its foot and its top. Where that height is turned, it is the next one up.
func block(newel *job.Newel, z length.Length) (from, to length.Length) {
	s := newel.Profile.Stations
	for i := 0; i < len(s); i++ {
		if s[i].Round {
			continue
		}
		k := i
		for k+1 < len(s) && !s[k+1].Round && s[k+1].Width == s[i].Width {
			k++
		}
		if k > i && s[k].At > z {
			return s[i].At, s[k].At
		}
		i = max(i, k)
	}
	return newel.Profile.Long(), newel.Profile.Long()
}
