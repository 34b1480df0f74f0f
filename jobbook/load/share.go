package load

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

var frameRule = working.Citation{Text: "a frame in plan, by stiffness: posts held fast at their feet, bolted rails that turn freely at them", Status: working.Derived}

// share works out, for each post that is joined to others or to a wall, how much of a load on its top stays with it. It takes every foot as rigid: a foot that gives hands on more, and those
// around it get more, so it shows what a corner does and judges nothing.
func (s *screen) share() {
	l, ok := s.load("rail-point")
	if !ok {
		return
	}
	for group := 0; ; group++ {
		var stretches []layout.Stretch
		for _, st := range s.layout.Plan.Stretches {
			if st.Group == group {
				stretches = append(stretches, st)
			}
		}
		if len(stretches) == 0 {
			return
		}
		s.shareGroup(l, stretches)
	}
}

func (s *screen) run(name string) *layout.Run {
	i := slices.IndexFunc(s.layout.Runs, func(r *layout.Run) bool { return r.Name == name })
	return s.layout.Runs[i]
}

// shareGroup is one group of stretches that hang together. It is left out while a size, a wood or a turn of it is not known, and where it bends.
func (s *screen) shareGroup(l Acting, stretches []layout.Stretch) {
	f := frame{}
	index := map[string]int{}
	var posts []*layout.Post
	var at []layout.Spot
	add := func(spot layout.Spot, held spring) int {
		f.held, at = append(f.held, held), append(at, spot)
		return len(f.held) - 1
	}
	for _, st := range stretches {
		if st.Turn != 0 {
			return
		}
		for _, spot := range []layout.Spot{st.From, st.To} {
			i := slices.IndexFunc(s.layout.Posts, func(p layout.Post) bool { return p.Name == spot.Name })
			if i < 0 {
				continue
			}
			if _, done := index[spot.Name]; done {
				continue
			}
			p := &s.layout.Posts[i]
			k := s.postStiffness(p, s.job.Post(p.Name))
			if k == nil || slices.ContainsFunc(p.Arrivals, func(a layout.Arrival) bool { return !a.Turned }) {
				return
			}
			v, ok := finite(k)
			if !ok {
				return
			}
			middle := s.layout.Plan.Posts[slices.IndexFunc(s.layout.Plan.Posts, func(m layout.Spot) bool { return m.Name == p.Name })]
			index[p.Name] = add(middle, spring{stiff: v})
			posts = append(posts, p)
		}
	}
	if len(posts) == 0 {
		return
	}
	for _, st := range stretches {
		r := s.run(st.Run)
		part := r.Job.Handrail
		if part == nil || r.Handrail == nil {
			return
		}
		sec, missing := s.section(part)
		sp, unsaid := s.species(part.Species, "handrail", part.File+", species: ")
		if missing != nil || unsaid != nil || s.strength(sp).stiff == nil {
			return
		}
		ends := [2]int{}
		over := [2]bool{}
		loose := false
		for i, e := range []job.End{r.Job.From, r.Job.To} {
			spot := []layout.Spot{st.From, st.To}[i]
			switch node, isPost := index[spot.Name]; {
			case isPost && e.Post != nil:
				ends[i], over[i] = node, e.Over.Yes
			case e.IsWall() && (e.Held.Text == "stud" || e.Held.Text == "blocking"):
				spot.Name = "the wall of " + r.Title
				ends[i] = add(spot, spring{fixed: true})
			default:
				loose = true // nothing that could hold there is known
			}
		}
		if loose {
			continue
		}
		a, b := at[ends[0]], at[ends[1]]
		const mm = 25.4
		dx, dy := (b.X-a.X)/mm, (b.Y-a.Y)/mm
		plan := math.Sqrt(float64(dx*dx) + float64(dy*dy))
		if plan == 0 {
			return
		}
		cos := 1.0 // of the rake
		if r.Rake != nil && r.Rake.Secant != nil && r.Rake.Secant.Value.Known() {
			sec := r.Rake.Secant.Value.Float64()
			cos = 1 / sec
		}
		e := s.strength(sp).stiff.Value.Float64() // read, not worked out
		area, has := finite(sec.area)
		second, bends := finite(sec.second)
		if !has || !bends {
			return
		}
		long := plan / cos
		f.bars = append(f.bars, bar{from: ends[0], to: ends[1], cos: dx / plan, sin: dy / plan, axial: float64(float64(e*area)/long*cos) * cos, bending: e * second, long: long, hinged: [2]bool{!over[0], !over[1]}})
	}
	if len(f.bars) == 0 {
		return
	}
	for _, p := range posts {
		s.sharePost(l, f, at, index[p.Name], p, stretches)
	}
}

// finite is a figure's value for the frame; false where its formula has none, as for a length that comes to nothing.
func finite(f *working.Figure) (float64, bool) {
	if f == nil || !f.Value.Known() {
		return 0, false
	}
	v := f.Value.Float64()
	return v, !math.IsInf(v, 0)
}

// sharePost loads one post square to each stretch that comes to it, and keeps the direction in which most stays with it.
func (s *screen) sharePost(l Acting, f frame, at []layout.Spot, node int, p *layout.Post, stretches []layout.Stretch) {
	load, ok := finite(l.Force)
	if !ok {
		return
	}
	var best [][2]float64
	along, most := "", -1.0
	for _, st := range stretches {
		if st.From.Name != p.Name && st.To.Name != p.Name {
			continue
		}
		cos, sin := layout.Bearing(st.Heading)
		u, ok := f.move(node, -sin*load, cos*load)
		if !ok {
			return
		}
		if d := gone(u[node]); d > most {
			most, best, along = d, u, s.run(st.Run).Title
		}
	}
	if best == nil {
		return
	}
	own := s.Figures[slices.IndexFunc(s.Figures, func(x *working.Figure) bool { return x.ID == p.ID+"/load/stiffness" })]
	moved := &working.Input{Symbol: "u", Name: "how far its top goes in the frame", Value: ninth(most), Unit: "in"}
	moved.Because("the equations of the frame, solved")
	part := s.work(p.ID+"/load/share", "share of a load on "+p.Name+", square to "+along+", that stays with it", "c", "", working.Quotient(working.Product(own.In(), moved), l.Force.In()), frameRule)
	var rest []string
	for i, spot := range at {
		if i == node {
			continue
		}
		if held := f.held[i]; !held.fixed {
			if v := held.stiff * gone(best[i]) / load; v >= 0.005 {
				rest = append(rest, fmt.Sprintf("%s %.0f %%", spot.Name, v*100))
			}
			continue
		}
		if v := f.reaction(i, best) / load; v >= 0.005 {
			rest = append(rest, fmt.Sprintf("%s %.0f %%", spot.Name, v*100))
		}
	}
	part.Note = "Every foot is taken as rigid, so this shows what the rails and corners do and judges nothing: a foot that gives hands on more."
	if len(rest) > 0 {
		part.Note += " What the others take, each in its own direction: " + strings.Join(rest, ", ") + "."
	}
	h := working.Length("h", "height of the load, the top of the rail at the post", top(p), length.Inches, source.Pos{})
	h.Because("the layout, at this post")
	alone := s.work(p.ID+"/load/share/alone", "moment at the foot of "+p.Name+" without the others", "M_1", "lb in", working.Product(l.Force.In(), h), statics)
	foot := s.work(p.ID+"/load/share/moment", "moment at the foot of "+p.Name+" with that share", "M", "lb in", working.Product(part.In(), l.Force.In(), h), statics)
	s.Sharing = append(s.Sharing, Share{Post: p.Name, Along: along, Part: part, Alone: alone, Foot: foot})
}

// reaction is the force on a fixed node, from the bars that end there.
func (f frame) reaction(node int, u [][2]float64) float64 {
	sum := 0.0
	for _, b := range f.bars {
		other := b.from
		if other == node {
			other = b.to
		} else if b.to != node {
			continue
		}
		stretch := float64(u[other][0]*b.cos) + float64(u[other][1]*b.sin)
		sum += math.Abs(b.axial * stretch)
	}
	return sum
}

func gone(u [2]float64) float64 { return math.Sqrt(float64(u[0]*u[0]) + float64(u[1]*u[1])) }

// ninth is a number to a grid of 1e-9, where the last bits of different machines agree.
func ninth(v float64) exact.Number { return exact.New(int64(math.Round(v*1e9)), 1e9) }

// postStiffness is the force that moves the top of a post by an inch, its foot held fast: one over the integral of (h − z)²/(E·I) up its profile. nil while its sizes, its height or its wood are not known.
func (s *screen) postStiffness(p *layout.Post, own *job.Post) *working.Figure {
	high := top(p)
	if own == nil || own.Part == nil || !own.Part.Sized || own.Part.Half.Yes || high <= 0 || own.Off.At != (source.Pos{}) && !own.Off.Given || s.job.DeepOpen(own) && own.Part.Plain == "" {
		return nil
	}
	found := s.job.Wood(own.Part.Species)
	if len(found) != 1 {
		return nil
	}
	stiff := s.strength(found[0]).stiff
	if stiff == nil {
		return nil
	}
	foot := p.Down + own.Off.Length
	as := own.Part.Profile.Cut(foot, own.Part.Profile.Long()-foot-high)
	yield := yields(as, high)
	if yield <= 0 {
		return nil
	}
	y := &working.Input{Symbol: "Y", Name: "the integral of (h - z)^2/I up the post", Value: ninth(yield), Unit: "1/in"}
	y.Because("summed up its profile from the foot to the rail")
	return s.work(p.ID+"/load/stiffness", "force that moves the top of "+p.Name+" by an inch, its foot held fast", "k", "lb/in", working.Quotient(stiff, y), bendingRule)
}

// yields is the integral of (h − z)²/I over a part that stands from 0 up to h, in 1/in, by Simpson's rule over every straight piece of its profile. What is missing of the profile under the
// load is taken as its last width.
func yields(p profile.Profile, high length.Length) float64 {
	const mm, steps = 25.4, 64
	h := high.Float() / mm
	sum := 0.0
	piece := func(from, to, w0, w1 float64, round bool) {
		if to > h && from < h { // above the load nothing bends
			w1, to = w0+float64((w1-w0)*(h-from)/(to-from)), h
		}
		if to <= from || from >= h || w0 <= 0 || w1 <= 0 {
			return
		}
		d := (to - from) / steps
		for i := 0; i <= steps; i++ {
			z := from + float64(d*float64(i))
			w := w0 + float64((w1-w0)*float64(i)/steps)
			second := float64(w*w) * w * w / 12
			if round {
				second *= 0.589048622548086 // 3π/16: π/64 over 1/12
			}
			weight := 2.0
			switch {
			case i == 0 || i == steps:
				weight = 1
			case i%2 == 1:
				weight = 4
			}
			sum += float64(weight*d/3) * float64((h-z)*(h-z)) / second
		}
	}
	for i := 1; i < len(p.Stations); i++ {
		a, b := p.Stations[i-1], p.Stations[i]
		piece(a.At.Float()/mm, b.At.Float()/mm, a.Width.Float()/mm, b.Width.Float()/mm, a.Round || b.Round)
	}
	if n := len(p.Stations); n > 0 && p.Stations[n-1].At < high {
		last := p.Stations[n-1]
		piece(last.At.Float()/mm, h, last.Width.Float()/mm, last.Width.Float()/mm, last.Round)
	}
	return sum
}
