package finish

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// each gives the parts that the runs use, each once, in the order of the runs.
func each[T any](w *worker, of ...func(*job.Run) *T) []*T {
	var list []*T
	for _, r := range w.layout.Runs {
		for _, x := range of {
			if p := x(r.Job); p != nil && !slices.Contains(list, p) {
				list = append(list, p)
			}
		}
	}
	return list
}

// balusters are coated all over, as cut: what goes into a groove is coated before it goes in.
func (w *worker) balusters(g *group) {
	for _, part := range each(w, func(r *job.Run) *job.Baluster { return r.Baluster }) {
		g.has = true
		if !part.Sized {
			g.need(part.File, "length of the baluster as bought", "long: ", part.Long.At)
			continue
		}
		width, round, isPlain := plain(part.Profile)
		var p pieces
		for _, r := range w.layout.Runs {
			if r.Job.Baluster != part || r.Chosen != nil && r.Chosen.Count == 0 {
				continue
			}
			if len(r.Balusters) == 0 {
				g.open(r, "balusters")
			}
			for _, c := range r.Balusters {
				if c = g.left(c); c.Count == 0 {
					continue
				}
				if isPlain {
					p.add(c, c.Length, w.job.System, "cut list")
					continue
				}
				one := w.fromProfile("a_"+p.next(), "surface of one "+c.What+" of "+c.Run+", as cut", asCut(part, c.Length), source.Pos{File: part.File})
				p.terms = append(p.terms, p.times(c, one))
				p.count += c.Count
			}
		}
		if len(p.terms) == 0 {
			continue
		}
		if isPlain {
			g.line("baluster", part.Origin, part.Title, part.Species, part.Wide, p.count, part.Turned(), working.Product(w.girth(width, round, part.Wide), working.Total(p.terms)), flats)
			continue
		}
		g.line("baluster", part.Origin, part.Title, part.Species, part.Wide, p.count, part.Turned(), working.Total(p.terms), turned)
	}
}

// girth is round a plain section: four sides of a square, or a circle.
func (w *worker) girth(width length.Length, round bool, m job.Measure) working.Expr {
	const sides = 4
	b := working.Length("b", "width", width, w.job.System, m.At)
	if round {
		return working.Product(working.Pi(), b)
	}
	return working.Product(working.Constant(sides), b)
}

// asCut is the profile of a baluster cut to a length at the end that is trimmed; one that is too short stays as bought.
func asCut(part *job.Baluster, long length.Length) profile.Profile {
	off := part.Profile.Long() - long
	if part.Trim.Text == "bottom" {
		return part.Profile.Cut(off, 0)
	}
	return part.Profile.Cut(0, off)
}

// newels are coated as bought. A half newel has a back that nobody sees, and half the sides.
func (w *worker) newels(g *group) {
	var parts []*job.Newel
	for _, p := range w.job.Posts {
		if w.job.Stays(&p) {
			continue
		}
		g.has = true
		switch {
		case p.Part == nil:
			g.need(w.job.File, "which newel stands at "+p.Name, "posts: {"+p.Name+": {newel: }}", p.At)
		case !slices.Contains(parts, p.Part):
			parts = append(parts, p.Part)
		}
	}
	for _, part := range parts {
		if !part.Sized {
			g.need(part.File, "the newel's sizes: width and length, or its profile", "wide: and long: ", part.Wide.At)
			continue
		}
		var names []string
		var first source.Pos
		for _, p := range w.job.Posts {
			if p.Part == part && !w.job.Stays(&p) && !g.isOn("newel", p.Name) {
				if len(names) == 0 {
					first = p.At
				}
				names = append(names, p.Name)
			}
		}
		if len(names) == 0 {
			continue
		}
		count := working.Count("c", "newels: "+strings.Join(names, ", "), int64(len(names)), first)
		cite := flats
		var one working.Expr
		if width, round, ok := plain(part.Profile); ok {
			one = working.Product(w.girth(width, round, part.Wide), working.Length("l", "length as bought", part.Profile.Long(), w.job.System, part.Long.At))
		} else {
			one = w.fromProfile("a", "surface of one newel", part.Profile, source.Pos{File: part.File})
			cite = turned
		}
		area := working.Product(count, one)
		if part.Half.Yes {
			area = working.Quotient(area, working.Constant(2))
		}
		g.line("newel", part.Origin, part.Title, part.Species, part.Wide, len(names), turnedSomewhere(part.Profile), area, cite)
	}
}

// handrails are coated all round; the fillets under them go with them.
func (w *worker) handrails(g *group) {
	sys := w.job.System
	wall := func(r *job.Run) *job.Handrail {
		if r.Stair == nil {
			return nil
		}
		return r.Stair.WallRail.Part
	}
	parts := each(w, func(r *job.Run) *job.Handrail {
		if r.Stays() {
			return nil
		}
		return r.Handrail
	})
	for _, part := range each(w, wall) {
		if !slices.Contains(parts, part) {
			parts = append(parts, part)
		}
	}
	for _, part := range parts {
		var girth working.Expr
		switch {
		case part.Girth.Given:
			girth = working.Length("G", "girth of the section", part.Girth.Length, sys, part.Girth.At)
		case len(part.Outline) > 1 && traced(part.Outline):
			girth = outline(part, sys)
		case part.Wide.Given && part.High.Given:
			girth = round(part.Wide, part.High, sys)
		default:
			g.need(part.File, "girth of the handrail's section, or its width and height", "girth: ", part.Girth.At)
		}
		g.rails("handrail", part.Origin, part.Title, part.Species, part.Wide, girth, func(r *layout.Run) (list []*layout.Cut) {
			if r.Job.Handrail == part && !r.Job.Stays() {
				list = append(list, r.Handrail)
			}
			if wall(r.Job) == part {
				list = append(list, r.WallRail)
			}
			return list
		})
	}
	g.fillets("rail fillet", (*job.Run).RailPlowed)
	g.rosettes()
}

// traced reports an outline without a blank.
func traced(list []job.Breadth) bool {
	return !slices.ContainsFunc(list, func(b job.Breadth) bool { return !b.At.Given || !b.Wide.Given })
}

// outline is the girth of a section as it was traced: its top, its underside, both sides straight from depth to depth, and the sides of the plow.
func outline(h *job.Handrail, sys length.System) working.Expr {
	in := func(symbol, name string, i int, m job.Measure) *working.Input {
		return working.Length(symbol+"_"+strconv.Itoa(i+1), name+strconv.Itoa(i+1), m.Length, sys, m.At)
	}
	last := len(h.Outline) - 1
	girth := working.Sum(in("w", "width at depth ", 0, h.Outline[0].Wide), in("w", "width at depth ", last, h.Outline[last].Wide))
	two := working.Constant(2)
	for i, at := range h.Outline {
		if i == 0 {
			continue
		}
		down := working.Difference(in("y", "depth ", i, at.At), in("y", "depth ", i-1, h.Outline[i-1].At))
		across := working.Quotient(working.Difference(in("w", "width at depth ", i, at.Wide), in("w", "width at depth ", i-1, h.Outline[i-1].Wide)), two)
		girth = working.Sum(girth, working.Product(two, working.Root(working.Sum(working.Product(down, down), working.Product(across, across)))))
	}
	if h.Plow.Deep.Given && h.Plow.Wide.Given {
		girth = working.Sum(girth, working.Product(two, working.Length("d_p", "depth of the plow", h.Plow.Deep.Length, sys, h.Plow.Deep.At)))
	}
	return girth
}

// rosettes are coated all round, the back too: it hangs on a wall that may be damp. One is taken as square; a round one has less.
func (g *group) rosettes() {
	for _, part := range each(g.worker, func(r *job.Run) *job.Rosette { return r.From.Plate }, func(r *job.Run) *job.Rosette { return r.To.Plate }) {
		n := 0
		for _, r := range g.layout.Runs {
			for _, e := range []job.End{r.Job.From, r.Job.To} {
				if e.Plate == part {
					n++
				}
			}
		}
		if n -= g.rosettesOn(part.Name); n <= 0 {
			continue
		}
		if !part.Wide.Given || !part.Thick.Given {
			g.need(part.File, "width and thickness of the rosette", "wide: and thick: ", part.Wide.Or(part.Thick).At)
			continue
		}
		w, t := working.Length("w", "width", part.Wide.Length, g.job.System, part.Wide.At), working.Length("t", "thickness", part.Thick.Length, g.job.System, part.Thick.At)
		area := working.Product(working.Count("c", "rosettes", int64(n), source.Pos{}).Because("ends of rails at a wall"), working.Sum(working.Product(working.Constant(2), w, w), working.Product(working.Constant(4), w, t)))
		g.line("rosette", part.Origin, part.Title, part.Species, part.Wide, n, false, area, working.Citation{Text: "both faces and the edge, as though it were square", Status: working.Derived})
	}
}

// shoes are coated all round; the fillets in them go with them.
func (w *worker) shoes(g *group) {
	for _, part := range each(w, func(r *job.Run) *job.Shoe {
		if r.Stays() {
			return nil
		}
		return r.Shoe
	}) {
		var girth working.Expr
		if part.Wide.Given && part.High.Given {
			girth = round(part.Wide, part.High, w.job.System)
		} else {
			g.need(part.File, "width and height of the shoe", "wide: and high: ", part.Wide.At)
		}
		g.rails("shoe", part.Origin, part.Title, part.Species, part.Wide, girth, func(r *layout.Run) (list []*layout.Cut) {
			if r.Job.Shoe == part && !r.Job.Stays() {
				list = append(list, r.Shoe)
				for i := range r.ShoeMore {
					list = append(list, &r.ShoeMore[i])
				}
			}
			return list
		})
	}
	g.fillets("shoe fillet", (*job.Run).ShoePlowed)
}

// round is the girth of an oblong section.
func round(wide, high job.Measure, sys length.System) working.Expr {
	return working.Product(working.Constant(2), working.Sum(working.Length("w", "width", wide.Length, sys, wide.At), working.Length("h", "height", high.Length, sys, high.At)))
}

// rails adds girth times length of the pieces of one part, in every run that has any; one whose length is not known is nil. A girth that is not known is nil.
func (g *group) rails(kind string, o job.Origin, title, species job.Text, wide job.Measure, girth working.Expr, of func(*layout.Run) []*layout.Cut) {
	g.has = true
	var p pieces
	for _, r := range g.layout.Runs {
		for _, c := range of(r) {
			if c == nil {
				g.open(r, kind)
				continue
			}
			if one := g.left(*c); one.Count > 0 {
				p.add(one, c.Length, g.job.System, "cut list")
			}
		}
	}
	if girth != nil && len(p.terms) > 0 {
		g.line(kind, o, title, species, wide, p.count, false, working.Product(girth, working.Total(p.terms)), flats)
	}
}

// fillets adds one face and two edges of the fillets in one sort of groove. A piece that is cut to the opening as it stands
// is taken as long as the longest beside it: it is no longer than a gap or so, and a can is not so exact.
func (g *group) fillets(what string, plowed func(*job.Run) bool) {
	sys := g.job.System
	for _, part := range each(g.worker, func(r *job.Run) *job.Fillet { return r.FilletOf(what) }) {
		var p pieces
		used := false
		for _, r := range g.layout.Runs {
			if r.Job.FilletOf(what) != part || !plowed(r.Job) || r.Chosen != nil && r.Chosen.Count == 0 {
				continue
			}
			used = true
			var longest length.Length
			for _, c := range r.Fillets {
				if c.What == what {
					longest = max(longest, c.Length)
				}
			}
			if longest <= 0 {
				g.open(r, what+"s")
				continue
			}
			for _, c := range r.Fillets {
				if c.What != what {
					continue
				}
				switch c = g.left(c); {
				case c.Count == 0:
				case c.Length > 0:
					p.add(c, c.Length, sys, "cut list")
				default:
					p.add(c, longest, sys, "as long as the longest beside it, until its opening is known")
				}
			}
		}
		if !used {
			continue
		}
		g.has = true
		if !part.Wide.Given || !part.Thick.Given {
			g.need(part.File, "width and thickness of the fillet", "wide: and thick: ", part.Wide.Or(part.Thick).At)
			continue
		}
		if len(p.terms) > 0 {
			girth := working.Sum(working.Length("w", "width", part.Wide.Length, sys, part.Wide.At),
				working.Product(working.Constant(2), working.Length("t", "thickness", part.Thick.Length, sys, part.Thick.At)))
			g.line("fillet", part.Origin, part.Title, part.Species, part.Wide, p.count, false, working.Product(girth, working.Total(p.terms)),
				working.Citation{Text: "one face and two edges; the back is glued", Status: working.Derived})
		}
	}
}
