package layout

import (
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/working"
)

// The heights between which a wall's face is taken to stand, mm: well beyond any guard.
const (
	wallFoot = -1_000
	wallTop  = 10_000
)

// notNamed stands for the name of an end while it is blank.
const notNamed = "end not named"

// ends works out what stands at each end, as it will be when the guard is built.
func (b *builder) ends() {
	b.From = b.end(b.r.From, "from", b.Floor.at(0))
	b.To = b.end(b.r.To, "to", b.Floor.under(b.clearLen, true))
}

// end is one end. stands is the height of the floor there, above the floor at the datum end: posts and trim stand on the floor as it is now.
func (b *builder) end(e job.End, key string, stands length.Length) End {
	if b.r.StandsOn.Text == "finished" { // heights here are reckoned from the floor that the balusters stand on
		stands -= b.r.ToCome.Thick.Length
	}
	under := length.Length(0) // how far the post stands under this floor, on a tread
	if b.Rake == nil && e.Post != nil {
		under = sunk(b.flights, e.Post)
		stands -= under
	}
	end := End{Name: e.Where.Text, Wall: e.IsWall(), Known: true}
	if !e.Where.Given {
		end.Name, end.Known, end.Taken = notNamed, false, "not said"
		b.need("what the run ends at ("+key+")", key+": ", "openings at that end, lengths of rail and shoe", e.Where.At)
		end.Face = flat()
		return end
	}
	end.Taken = e.Face.Text
	if !e.Face.Given {
		end.Taken = "post"
		if end.Wall {
			end.Taken = "wall"
		}
	}
	if plateOpen(e) && b.r.Stays() {
		if b.oldRailFilled() && b.r.RailFillet != nil {
			b.need("which rosette stands between the old rail and the wall ("+key+"), or none", key+": {rosette: }", "the end fillet of the old handrail", e.Rosette.At)
		}
	} else if plateOpen(e) {
		b.need("which rosette stands between rail and wall ("+key+"), or none", key+": {rosette: }", "length of the handrail", e.Rosette.At)
	}
	if e.Plate != nil {
		end.Rosette = e.Plate.Thick.Length
		if !e.Plate.Thick.Given {
			b.needIn(e.Plate.File, "how far the rosette stands off the wall", "thick: ", "length of the handrail", e.Plate.Thick.At)
		}
	}

	body := flat()
	if e.Post != nil {
		end.Newel = e.Post.Part
		switch {
		case end.Newel == nil:
			end.Known = false
			b.needIn(b.job.File, "which newel stands at "+e.Post.Name, "posts: {"+e.Post.Name+": {newel: }}", "the opening beside it", e.Post.Newel.At)
		case !end.Newel.Sized:
			end.Known = false
			b.needIn(end.Newel.File, "the newel's sizes: width and length, or its profile", "wide: and long: ", "the opening beside it", end.Newel.Wide.At)
		default:
			below := e.Post.Deep.Length + e.Post.Off.Length              // the floor, up the newel as bought
			_, above := end.Newel.Profile.WidthAt(below + max(under, 0)) // where this floor is, and the clear was read
			end.Wide = above
			body = end.Newel.Profile.Face(-above / 2)
			body = body.Lift((stands - below).Float())
			end.Known = below < end.Newel.Profile.Long()
			alike := alike(end.Newel)
			if end.Open = turnedOpen(b.job, e.Post); end.Open {
				body = flat()
			}
			if offOpen(e.Post) || b.Rake == nil && unsaidAt(b.flights, e.Post) { // asked for with the newel's length
				end.Known = end.Known && alike
			}
			if b.job.DeepOpen(e.Post) {
				end.Known = end.Known && alike
				b.askDeep(e.Post)
			}
		}
	}

	trimmed, stays := e.Trimmed(), e.TrimStays()
	if trimmed && (!e.Thick.Given || !e.High.Given) {
		end.Known = false
		b.need("thickness and height of the "+e.Face.Text+" ("+key+")", key+": {thick: , high: }", "the opening above it", e.Thick.Or(e.High).At)
	}
	switch {
	case trimmed && stays:
		end.Recess, end.High = behind(e), e.High.Length+stands
		end.Face = over(body.Lean(profile.Point{Out: -end.Recess.Float()}), 0, end.High.Float())
	case !trimmed && stays && e.Thick.Given:
		end.Proud, end.High = e.Thick.Length, e.High.Length+stands
		end.Face = over(body, end.Proud.Float(), end.High.Float())
	default:
		end.Face = body
	}
	return end
}

// plateOpen reports a rail's end at a wall whose rosette is left blank: how far the rail stops before the wall is still to be decided.
func plateOpen(e job.End) bool {
	return e.IsWall() && !e.Rosette.Given && !e.Rosette.At.IsZero()
}

// flat is a plain wall whose face is the reference line.
func flat() profile.Face {
	return profile.Wall(profile.Point{Z: wallFoot}, profile.Point{Z: wallTop})
}

// over puts trim before a face: up to a height, the face stands out at least so far.
func over(body profile.Face, out, high float64) profile.Face {
	points := []profile.Point{{Out: out, Z: wallFoot}, {Out: out, Z: high}}
	at := outAt(body, high)
	points = append(points, profile.Point{Out: at, Z: high})
	for _, p := range body.Points {
		if p.Z > high {
			points = append(points, p)
		}
	}
	if at > out { // trim behind the face is no trim
		return body
	}
	return profile.Wall(points...)
}

// outAt is how far a face stands out just above a height; as at the nearest point beyond its ends.
func outAt(f profile.Face, z float64) float64 {
	if len(f.Points) == 0 {
		return 0
	}
	for i := 1; i < len(f.Points); i++ {
		lo, hi := f.Points[i-1], f.Points[i]
		if z < lo.Z {
			return lo.Out
		}
		if z < hi.Z {
			return lo.Out + float64((hi.Out-lo.Out)*((z-lo.Z)/(hi.Z-lo.Z)))
		}
	}
	return f.Points[len(f.Points)-1].Out
}

// recess is how far behind its reference line an end stands at a height, before any lean.
func (e End) recess(z length.Length) length.Length {
	return -length.Length(outAt(e.Face, z.Float()) * float64(length.Millimetre))
}

// clear works out the clear length that the marks are laid out in: the floor reading, and trim that it was taken to but that goes.
func (b *builder) clear() {
	m := b.floorReading()
	if !m.Given {
		b.need("clear length at the floor, and the face at each end it was taken to", "clear: {floor: }", "everything about this run", m.At)
		return
	}
	var e working.Expr = b.in("L_floor", "clear length at the floor, as read", m)
	plain := true
	for _, side := range []struct {
		symbol string
		e      job.End
	}{{"t_from", b.r.From}, {"t_to", b.r.To}} {
		if side.e.Trimmed() && !side.e.TrimStays() && side.e.Thick.Given {
			e = working.Sum(e, b.in(side.symbol, "thickness of the "+side.e.Face.Text+" that comes off", side.e.Thick))
			plain = false
		}
	}
	title := "clear length that the marks are laid out in"
	b.Clear = b.work("clear", title, "L", e)
	if plain {
		b.Clear.Note = "as read"
	}
	b.clearLen = b.Clear.Exact(b.sys)
	if b.clearLen == 0 {
		b.Clear, b.clearLen = nil, 0
		b.need("clear length at the floor: it is written as 0", "clear: {floor: }", "everything about this run", m.At)
	}
}

// floorReading is the clear that was read at the floor: named so, or taken no higher than a hand's breadth.
func (b *builder) floorReading() job.Measure {
	const hand = 2 * length.Inch // common practice, no source: a tape laid on the floor or on the shoe
	if m := b.r.Clear("floor"); m.Given || len(b.r.Clears) == 0 {
		return m
	}
	for _, c := range b.r.Clears {
		if c.Name == "" && c.At.Given && c.At.Length <= hand {
			return c.Read
		}
	}
	return b.r.Clear("floor")
}
