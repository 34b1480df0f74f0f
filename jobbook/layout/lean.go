package layout

import (
	"slices"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
)

// variant is a face that an end may show, for what lean may do to it.
type variant = profile.Face

// lean compares clears read at several heights. Two clears give the sum of both ends' lean; a plumb reading at an end settles
// whose it is; without one, the whole of it is charged to each end in turn.
func (b *builder) lean() {
	b.sides = [2][]variant{{b.From.Face}, {b.To.Face}}
	if b.Clear == nil || trimUnknown(b.r.From) || trimUnknown(b.r.To) {
		return // without the trim's thickness, what looks like lean may be the trim
	}
	var readings []LeanReading
	for _, c := range b.r.Clears {
		at, ok := b.heightOf(c)
		if c.Name == "floor" || !ok {
			continue
		}
		if !c.Read.Given {
			if c.Name != "rail" { // the rail's is named with the handrail
				b.need("clear length at "+b.heightName(c), "clear: {"+or(c.Name, "at, read")+": }", "which way an end leans, its cut lengths", c.Read.At)
			}
			continue
		}
		// What the opening should be there if both ends were plumb: trim and turnings stand back from the faces at the foot.
		plumb := b.clearLen + b.From.recess(at) + b.To.recess(at)
		if at > 0 {
			readings = append(readings, LeanReading{At: at, Wider: c.Read.Length - plumb})
		}
	}
	slices.SortStableFunc(readings, func(x, y LeanReading) int { return int(sign(x.At - y.At)) })
	readings = slices.CompactFunc(readings, func(x, y LeanReading) bool { return x.At == y.At })
	plumbs, settled := b.plumbs()
	if b.shapeOpen() {
		for i, p := range plumbs {
			if p.whole() {
				b.sides[i] = []variant{b.sides[i][0].Lean(p.points(max(b.top(), b.railMiddle()))...)}
			}
		}
		return
	}
	if len(readings) == 0 && !settled {
		return
	}
	l := &Lean{Readings: readings, Settled: settled}
	b.Lean = l
	tolerance := b.job.Shop.Plumb.Or(b.div).Length
	readings = straightUp(readings, b.top())
	for _, r := range readings {
		l.Out = l.Out || r.Wider > tolerance || r.Wider < -tolerance
	}
	railAt := b.railMiddle()
	l.Sum = widerAt(readings, railAt)

	whole := leanPoints(readings)
	faces := [2]profile.Face{b.From.Face, b.To.Face}
	if !l.Settled {
		b.sides[0] = append(b.sides[0], faces[0].Lean(whole...))
		b.sides[1] = append(b.sides[1], faces[1].Lean(whole...))
	} else {
		lean := [2]length.Length{}
		for i, p := range plumbs {
			if p.whole() {
				b.sides[i], lean[i] = []variant{faces[i].Lean(p.points(max(b.top(), railAt))...)}, p.at(railAt)
			}
		}
		for i := range plumbs { // what the other end's reading leaves to this one
			other := plumbs[1-i]
			if !other.whole() || len(readings) == 0 {
				continue
			}
			rest := make([]LeanReading, 0, len(readings))
			for _, r := range readings {
				rest = append(rest, LeanReading{r.At, r.Wider - other.at(r.At)})
			}
			face, left := faces[i].Lean(leanPoints(rest)...), widerAt(rest, railAt)
			switch {
			case plumbs[i].whole(): // read at both ends: while they contradict the clears, the worse of the two
				b.sides[i] = append(b.sides[i], face)
			case abs(left) <= tolerance: // within what a tape can tell: plumb, and the difference counted for openings only
				b.sides[i] = []variant{faces[i], face}
			default:
				b.sides[i], lean[i] = []variant{face}, left
				side := []string{"from", "to"}[i]
				b.need("a level on the face at the other end ("+side+"): the clears leave "+b.about(abs(left))+" of lean to it", side+": {plumb: {at: , away: or in: }}", "whether that end really leans so; until then the book goes by the clears", source.Pos{})
			}
		}
		l.FromRail, l.ToRail = lean[0], lean[1]
		l.Out = l.Out || abs(lean[0]) > tolerance || abs(lean[1]) > tolerance
		b.bothPlumbs(l, plumbs[0].whole() && plumbs[1].whole())
	}
	l.Words = b.leanWords()
	b.likely(l)
}

// likely stops a slip of the tape: no post or wall is left leaning so far.
func (b *builder) likely(l *Lean) {
	const most = length.Inch // over the height of a guard; common practice, no source
	for _, lean := range []length.Length{l.Sum, l.FromRail, l.ToRail} {
		if abs(lean) > most {
			b.check("clears", "clears at the floor and at the rail apart, trim and turnings taken off", abs(lean), finding.AtMost, most, b.r.Clear("rail").At, source.Pos{}, "", "read the clears again, and say what each was taken to; or set the post plumb first")
			return
		}
	}
}

func abs(l length.Length) length.Length { return max(l, -l) }

// top is a height above which nothing of the guard stands.
func (b *builder) top() length.Length {
	top := b.Levels.RailTop
	if b.r.Baluster != nil {
		top = max(top, b.r.Baluster.Long.Length)
	}
	return top
}

// straightUp carries the slope of the highest readings on to the top: a face that leans does not stop where the tape was held.
func straightUp(readings []LeanReading, top length.Length) []LeanReading {
	if len(readings) == 0 || readings[len(readings)-1].At >= top {
		return readings
	}
	last, below := readings[len(readings)-1], LeanReading{}
	if len(readings) > 1 {
		below = readings[len(readings)-2]
	}
	more := length.Length(length.MulDiv(int64(last.Wider-below.Wider), int64(top-last.At), int64(last.At-below.At)))
	return append(slices.Clone(readings), LeanReading{At: top, Wider: last.Wider + more})
}

// trimUnknown reports a clear taken to trim that stays, and whose thickness is still to be measured.
func trimUnknown(e job.End) bool {
	return e.Trimmed() && e.TrimStays() && (!e.Thick.Given || !e.High.Given)
}

// plumbs are the readings with a level at both ends, and whether one of them is whole; one that is not is asked for.
func (b *builder) plumbs() (readings [2]plumb, any bool) {
	readings = [2]plumb{{b.r.From.Plumb}, {b.r.To.Plumb}}
	for i, p := range readings {
		if p.whole() {
			any = true
		} else if p.Plumb.At.Given || p.Away.Given || p.In.Given {
			b.need("the whole plumb reading: the height, and how far the face leans away or in there", []string{"from", "to"}[i]+": {plumb: {at: , away: }}", "which end leans", p.Plumb.At.At)
		}
	}
	return readings, any
}

// plumb is a reading with a level on the face of an end.
type plumb struct{ job.Plumb }

func (p plumb) whole() bool {
	return p.Plumb.At.Given && p.Plumb.At.Length > 0 && (p.Away.Given || p.In.Given)
}

// at is how far the face leans away from the opening at a height: in a straight line from the floor.
func (p plumb) at(z length.Length) length.Length {
	return length.Length(length.MulDiv(int64(p.Away.Length-p.In.Length), int64(z), int64(p.Plumb.At.Length)))
}

// points is the lean as a face takes it, up to a height: positive towards the opening.
func (p plumb) points(top length.Length) []profile.Point {
	return []profile.Point{{}, {Out: -p.at(top).Float(), Z: top.Float()}}
}

// bothPlumbs compares two plumb readings with the clears, where both ends were read.
func (b *builder) bothPlumbs(l *Lean, both bool) {
	if !both || len(l.Readings) == 0 {
		return
	}
	most := 2 * b.div.Length // one division of each tape reading
	b.check("plumb-readings", "plumb readings at both ends against the two clears", abs(l.FromRail+l.ToRail-l.Sum), finding.AtMost, most, b.r.From.Plumb.At.At, source.Pos{}, "", "read the clears and both plumb readings again; one of them is off")
}

// heightOf is the height of a clear above the floor the guard stands on; false where it can't be said yet.
func (b *builder) heightOf(c job.Clear) (length.Length, bool) {
	switch c.Name {
	case "floor":
		return 0, true
	case "middle":
		return b.Levels.RailTop / 2, b.Levels.RailTop > 0
	case "rail":
		return b.railMiddle(), b.Levels.RailTop > 0
	}
	return c.At.Length, c.At.Given
}

func (b *builder) heightName(c job.Clear) string {
	if c.Name != "" {
		return map[string]string{"floor": "the floor", "middle": "half height", "rail": "rail height"}[c.Name]
	}
	return b.tape(c.At.Length) + " up"
}

// railMiddle is the height of the middle of the handrail, where its clear is read.
func (b *builder) railMiddle() length.Length { return railMiddle(b.r, b.Levels) }

func railMiddle(r *job.Run, at Levels) length.Length {
	if r.Handrail == nil || !r.Handrail.High.Given {
		return at.RailTop
	}
	return at.RailTop - r.Handrail.High.Length/2
}

// ReadAt are the heights at which clears named middle and rail are read, on a level run; zero while they are not known.
func (r *Run) ReadAt() job.ReadAt {
	if r.Rake != nil || r.Levels.RailTop <= 0 {
		return job.ReadAt{}
	}
	return job.ReadAt{Middle: r.Levels.RailTop / 2, Rail: railMiddle(r.Job, r.Levels)}
}

// leanPoints is the lean as a face takes it: positive towards the opening, from plumb at the floor.
func leanPoints(readings []LeanReading) []profile.Point {
	points := []profile.Point{{}}
	for _, r := range readings {
		points = append(points, profile.Point{Out: -r.Wider.Float(), Z: r.At.Float()})
	}
	return points
}

// widerAt is the reading at a height: straight between readings, from none at the floor, as at the last one beyond it.
func widerAt(readings []LeanReading, at length.Length) length.Length {
	last := LeanReading{}
	for _, r := range readings {
		if at <= r.At {
			return last.Wider + length.Length(length.MulDiv(int64(r.Wider-last.Wider), int64(at-last.At), int64(r.At-last.At)))
		}
		last = r
	}
	return last.Wider
}

func (b *builder) leanWords() string {
	l := b.Lean
	lean := func(name string, away length.Length) string {
		switch {
		case away > 0:
			return name + " leans " + b.about(away) + " away from the opening at the rail"
		case away < 0:
			return name + " leans " + b.about(-away) + " into the opening at the rail"
		}
		return name + " is plumb"
	}
	from, to := b.endName(b.From, "from"), b.endName(b.To, "to")
	switch {
	case l.Settled:
		return lean(from, l.FromRail) + "; " + lean(to, l.ToRail) + "."
	case l.Sum == 0 && !l.Out:
		return "The clears agree" + b.trimOff() + ": both ends are plumb, or lean alike."
	case !l.Out:
		return "The clears differ by no more than the tape's division; the ends are taken as plumb, and the difference is counted at each end."
	}
	for _, m := range []string{"from", "to"} {
		b.need("which end is out of plumb: a level on its face, at a height", m+": {plumb: {at: , away: or in: }}", "which end gap takes the lean; it is charged to each in turn", source.Pos{})
		break
	}
	words := "wider"
	sum := l.Sum
	if sum < 0 {
		words, sum = "narrower", -sum
	}
	which := "away from each other"
	if words == "narrower" {
		which = "towards each other"
	}
	return "At the rail the opening is " + b.tape(sum) + " " + words + " than at the floor" + b.trimOff() + ": " + from + " or " + to + ", or both, lean " + which + " going up. Which one is not settled: the whole of it is charged to each end."
}

func (b *builder) endName(e End, side string) string {
	switch {
	case e.Wall && b.r.From.IsWall() && b.r.To.IsWall():
		return "the wall at the " + which(side) + " end"
	case e.Wall:
		return "the wall"
	case e.Name == notNamed:
		return "the " + which(side) + " end"
	}
	return e.Name
}

// which end a side is, for a reader: marks run from the datum to the far end.
func which(side string) string {
	if side == "from" {
		return "datum"
	}
	return "far"
}

// trimOff says that trim or turnings were taken off before clears were compared.
func (b *builder) trimOff() string {
	at := b.railMiddle()
	if b.From.recess(at) == 0 && b.To.recess(at) == 0 {
		return ""
	}
	return ", trim and turnings taken off"
}
