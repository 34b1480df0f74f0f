package job

import (
	"fmt"
	"slices"

	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// What no job can mean, and would come out as nonsense somewhere else: a number in another unit than it is read in, two numbers in each other's
// place. The bounds are wide, so that only a slip lies outside of them; common practice, no source.

// mostLean is how far an end may lean for its height: one in so many. No post or wall that stands comes near it.
const mostLean = 10

// leans refuses a plumb reading by which an end leans further than anything stands.
func (d *decoder) leans(p Plumb) {
	lean, key := p.In, "in"
	if p.Away.Given {
		lean, key = p.Away, "away"
	}
	if !p.At.Given || !lean.Given || lean.Length <= p.At.Length/mostLean {
		return
	}
	hint := fmt.Sprintf("read it again: at: is how high the reading was taken, %s: how far the face leans there", key)
	if p.At.Length > 0 && p.At.Length <= lean.Length/mostLean {
		hint = fmt.Sprintf("are the two swapped? At a height of %s and leaning %s it is {at: %s, %s: %s}", d.print(lean.Length), d.print(p.At.Length), d.print(lean.Length), key, d.print(p.At.Length))
	}
	d.at(lean.At, 1, hint, "the face leans %s at a height of %s, more than 1 in %d", d.print(lean.Length), d.print(p.At.Length), mostLean)
}

// sizeSpan is from the least to the greatest size that a thing of the trade can have.
type sizeSpan struct{ least, most length.Length }

var (
	railHeights  = sizeSpan{300 * length.Millimetre, 2010 * length.Millimetre} // of its top above the floor or the nosings: 79 in
	balusterLong = sizeSpan{0, 3 * length.Metre}                               // one that is too short for its place is told there
	balusterWide = sizeSpan{3 * length.Millimetre, 310 * length.Millimetre}    // cables are 1/8 in and more; 310 mm are a little over 12 in
	newelLong    = sizeSpan{0, 10_010 * length.Millimetre}                     // one can go down through several floors: 394 in
	newelWide    = sizeSpan{20 * length.Millimetre, 610 * length.Millimetre}   // 24 in
	railSizes    = sizeSpan{3 * length.Millimetre, 310 * length.Millimetre}
)

const mostOffLevel = 310 * length.Millimetre // more than a riser: a little over 12 in

// within reports a size that nothing of its kind has: in another unit than it was meant, most likely.
func (d *decoder) within(m Measure, s sizeSpan, what string) {
	if !m.Given || m.Length <= 0 || m.Length >= s.least && m.Length <= s.most {
		return
	}
	than := "less than " + d.about(s.least) + ", the least"
	if m.Length > s.most {
		than = "more than " + d.about(s.most) + ", the most"
	}
	d.at(m.At, 1, "check the number and its unit"+d.metric(m, s), "%s is %s, %s that can be meant", what, d.print(m.Length), than)
}

// about prints a bound: nobody cuts by it.
func (d *decoder) about(l length.Length) string {
	division := length.Millimetre
	switch {
	case d.system == length.Millimetres:
	case l < 2*length.Inch:
		division = length.Inch / 16
	default:
		division = length.Inch
	}
	return length.Style{System: d.system, Division: division, Rounding: length.Nearest}.With(l)
}

// metric says how to write millimetres, where a number in inches may have been meant so.
func (d *decoder) metric(m Measure, s sizeSpan) string {
	n := m.Length / length.Inch
	if mm := n * length.Millimetre; d.system == length.Inches && m.Length%length.Inch == 0 && mm >= s.least && mm <= s.most {
		return fmt.Sprintf("; if millimetres are meant, write %d mm, or units: mm in the file", n)
	}
	return ""
}

// offLevel refuses a level reading that no floor comes to. The one that is wrong is the one that most others are far from.
func (d *decoder) offLevel(r *Run) {
	far := func(a, b Level) bool {
		return a.Down.Given && b.Down.Given && max(a.Down.Length-b.Down.Length, b.Down.Length-a.Down.Length) > mostOffLevel
	}
	if slices.ContainsFunc(r.Level, func(l Level) bool { return l.Step.Yes }) { // where the floor steps, each stretch is judged by itself, in the layout
		return
	}
	worst, most := -1, 0
	for i, l := range r.Level {
		n := 0
		for _, other := range r.Level {
			if far(l, other) {
				n++
			}
		}
		if n > most || n == most && n > 0 { // of two that differ, the later
			worst, most = i, n
		}
	}
	if worst < 0 {
		return
	}
	at, other := r.Level[worst].Down, r.Level[0].Down
	for _, l := range r.Level {
		if far(l, r.Level[worst]) {
			other = l.Down
			break
		}
	}
	d.problems = append(d.problems, source.Problem{
		Severity: source.Error, At: at.At, Width: 1,
		Summary: fmt.Sprintf("%s down to the floor here, and %s at another place: no floor is out of level by more than %s", d.print(at.Length), d.print(other.Length), d.about(mostOffLevel)),
		Hint:    "read it again, or check its unit; readings of one run are taken from one level line",
		Notes:   []source.Note{{At: other.At, Text: "the other one"}},
	})
}

// heights refuses a height that no guard has.
func (d *decoder) heights(j *Job) {
	const what = "the top of the rail above the floor"
	d.within(j.Height.Top, railHeights, what)
	own := *d
	for _, r := range j.Runs {
		if own.system = j.System; r.Prose.Document != nil {
			own.system = j.Units(r.Prose.Document)
		}
		if r.Stair == nil {
			own.within(r.Height.Top, railHeights, what)
			own.offLevel(r)
			continue
		}
		own.within(r.Height.Top, railHeights, "the top of the rail above the nosings")
		own.within(r.Stair.WallRail.Height, railHeights, "the top of the wall rail above the nosings")
	}
	d.problems = own.problems
}

// partSizes refuses sizes that no part has. They are those of the files: what was gauged at a delivery is held to them elsewhere.
func (d *decoder) partSizes(j *Job) {
	own := *d
	of := func(system length.System) *decoder { own.system = system; return &own }
	for _, b := range j.Balusters {
		e := of(j.systemOf(b.Origin))
		e.within(b.Long, balusterLong, "the length of the baluster")
		e.within(b.Wide, balusterWide, "the width of the baluster")
	}
	for _, n := range j.Newels {
		e := of(j.systemOf(n.Origin))
		e.within(n.Long, newelLong, "the length of the newel")
		e.within(n.Wide, newelWide, "the width of the newel")
	}
	for _, h := range j.Handrails {
		e := of(j.systemOf(h.Origin))
		e.within(h.Wide, railSizes, "the width of the handrail")
		e.within(h.High, railSizes, "the height of the handrail")
		e.round(h)
	}
	d.problems = own.problems
}

func (j *Job) systemOf(o Origin) length.System { return j.Units(o.Prose.Document) }

// round holds the girth of a rail, and the greatest distance across it, to its width and height: the girth goes out and back across it.
func (d *decoder) round(h *Handrail) {
	side := h.Wide
	if h.High.Given && (!side.Given || h.High.Length > side.Length) {
		side = h.High
	}
	across, name := h.Across, "across"
	switch {
	case !across.Given:
		across, name = side, "wide or high"
	case side.Given && across.Length < side.Length:
		d.at(across.At, 1, "measure it from corner to corner", "%s across the section, and it is %s wide or high", d.print(across.Length), d.print(side.Length))
		return
	}
	if h.Girth.Given && across.Given && h.Girth.Length < 2*across.Length {
		d.at(h.Girth.At, 1, "lay a string round the section and measure the string", "a girth of %s goes round no section that is %s %s: twice that is %s", d.print(h.Girth.Length), d.print(across.Length), name, d.print(2*across.Length))
	}
}

// swapped says that the risers of a flight may stand under goings: and the goings under risers:, where they then go together and the longer ones are the goings.
func swapped(risers, goings Steps) bool {
	mean := func(s Steps) (sum length.Length, n int) {
		if len(s.Each) == 0 {
			return s.Total.Length, s.Count.N
		}
		for _, m := range s.Each {
			if m.Given {
				sum, n = sum+m.Length, n+1
			}
		}
		return sum, n
	}
	a, n := mean(risers)
	b, m := mean(goings)
	return risers.N() == goings.N()-1 && (n == 0 || m == 0 || float64(a)*float64(m) >= float64(b)*float64(n))
}

func goings(n int) string {
	if n == 1 {
		return "1 going"
	}
	return fmt.Sprintf("%d goings", n)
}
