package job

import (
	"fmt"
	"slices"

	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// Standing is an old guard of a run that stays: its rail, shoe and balusters as they stand. New balusters go between the old ones.
type Standing struct {
	At       source.Pos
	Stays    Flag // yes where absent
	Baluster Ref
	Part     *Baluster // what stands there, its profile as seen, from the shoe's top up; nil while not said
	// Foot and Head are running readings from the datum face to the near face of each old baluster: at the shoe, and right under the rail.
	Foot, Head []Measure
	FootAt     source.Pos
	HeadAt     source.Pos
	// Between is the length from the top of the old shoe to the underside of the old rail, plumb: read once, or in each gap from the datum end on.
	Between   []Measure
	BetweenAt source.Pos
}

// Stays reports that the guard which stands along the run stays, and new balusters go between its old ones.
func (r *Run) Stays() bool {
	return r.Standing != nil && (!r.Standing.Stays.Given || r.Standing.Stays.Yes)
}

// asItStands parts the sections of a guard that stays from the new ones of the same name: what is measured on delivery is measured on new wood. Fillets of the gaps that are opened come new.
func (r *Run) asItStands() {
	if !r.Stays() {
		return
	}
	r.Handrail, r.Shoe = ownCopy(r.Handrail), ownCopy(r.Shoe)
	r.From.Plate, r.To.Plate = ownCopy(r.From.Plate), ownCopy(r.To.Plate)
}

func ownCopy[T any](part *T) *T {
	if part == nil {
		return nil
	}
	own := *part
	return &own
}

// Stays reports that a post stands there already and is not replaced: where the job does not say, the guard of every run that comes to it stays.
func (j *Job) Stays(p *Post) bool {
	if p.Stays.Given {
		return p.Stays.Yes
	}
	meet := false
	for _, r := range j.Runs {
		if r.From.Where.Text == p.Name || r.To.Where.Text == p.Name {
			if !r.Stays() {
				return false
			}
			meet = true
		}
	}
	return meet
}

// replaced notes of every survey that the guard goes, where every run whose old guard could stay says stays: no. So an alternative that replaces them all need not say it in the survey as well.
// Where some stay the surveys count: they do not say which run they are of.
func (j *Job) replaced() {
	could := slices.ContainsFunc(j.Runs, func(r *Run) bool { return r.Standing != nil })
	if !could || slices.ContainsFunc(j.Runs, (*Run).Stays) {
		return
	}
	for _, s := range j.Surveys {
		s.Replaced = true
	}
}

// runningReadings are a list in which a blank one keeps its place.
func runningReadings(d *decoder, n *source.Node, to *[]Measure, at *source.Pos) {
	*to, *at = nil, n.At
	for _, item := range d.items(n) {
		*to = append(*to, d.measure(item))
	}
}

var standingFields = []field[Standing]{
	flagField("stays", "whether it stays; yes where absent. no, in an alternative, sets replacing it beside keeping it", func(s *Standing) *Flag { return &s.Stays }),
	nameField("baluster", "baluster", "the baluster that stands there: its profile as seen, from the top of the shoe up", func(s *Standing) *Ref { return &s.Baluster }),
	{"foot", "a list of lengths", "at the shoe, from the datum face to the near face of each old baluster, along the run; along the shoe on a flight", nil, func(d *decoder, n *source.Node, s *Standing) {
		runningReadings(d, n, &s.Foot, &s.FootAt)
	}},
	{"head", "a list of lengths", "the same right under the rail, from the face of the end there: it shows which old ones lean", nil, func(d *decoder, n *source.Node, s *Standing) {
		runningReadings(d, n, &s.Head, &s.HeadAt)
	}},
	{"between", "a length, or a list of one for each gap", "from the top of the old shoe (or the floor) to the underside of the old rail, plumb", nil, func(d *decoder, n *source.Node, s *Standing) {
		runningReadings(d, n, &s.Between, &s.BetweenAt)
	}},
}

// standingField is a guard that stays. A blank one stays as well: all of it is to be measured.
func standingField() field[Run] {
	return field[Run]{"standing", "keys and values", "the old guard that stays: its handrail, shoe, fillet and rosettes are those that this file names, not the job's; new balusters of baluster: go between the old ones", keysOf(standingFields), func(d *decoder, n *source.Node, r *Run) {
		r.Standing = &Standing{At: n.At}
		if !n.Blank() {
			decode(d, n, "standing", standingFields, r.Standing)
		}
	}}
}

// standing follows the old baluster's name, and checks what its readings must have in common.
func (d *decoder) standing(j *Job, r *Run) {
	s := r.Standing
	if s == nil {
		return
	}
	s.Part = find(d, s.Baluster, "baluster", j.Balusters, func(b *Baluster) string { return b.Name })
	width := length.Length(0)
	if s.Part != nil && s.Part.Wide.Given {
		width = s.Part.Wide.Length
	}
	d.running(s.Foot, width, d.reach(r, "floor"), "at the shoe")
	d.running(s.Head, 0, d.reach(r, "rail"), "under the rail")
	if n, m := len(s.Foot), len(s.Head); n > 0 && m > 0 && n != m {
		d.at(s.HeadAt, 1, "read every old baluster at both heights; where one was not read, write the list one to a line and leave its line blank", "%d readings at the shoe and %d under the rail", n, m)
	}
	if n, m := len(s.Foot), len(s.Between); n > 0 && m > 1 && m != n+1 {
		d.at(s.BetweenAt, 1, fmt.Sprintf("%d old balusters leave %d gaps with both ends: write one length, or one for each gap", n, n+1), "%d lengths between shoe and rail", m)
	}
	for _, m := range s.Between {
		if m.Given && m.Length <= 0 {
			d.at(m.At, 1, "write it as read", "a length of nothing between shoe and rail")
		}
	}
	if !r.Stays() {
		return
	}
	const stays = "the guard of this run stays"
	no := func(given bool, at source.Pos, key, hint string) {
		d.idle(true, given, at, key+" is for a run that is laid out anew, and "+stays, hint)
	}
	const leave = "leave the key out, or write standing: {stays: no}"
	no(r.Count.Given, r.Count.At, "count", leave)
	no(r.Pattern.Given, r.Pattern.At, "pattern", leave)
	no(r.Match.Given, r.Match.At, "match", leave)
	no(len(r.OneStick) > 0, source.Pos{File: r.File}, "one-stick", leave)
	for _, m := range r.Joints {
		no(m.Given, m.At, "joints", leave)
	}
	if r.Stair != nil {
		no(r.Stair.PerTread.Given, r.Stair.PerTread.At, "per-tread", leave)
		no(len(r.Stair.OneMore) > 0, r.Stair.OneMoreAt, "one-more", leave)
	}
}

// reach is the clear that running readings must stay within, with trim that comes off; 0 while it is not known, or lies along another line.
func (d *decoder) reach(r *Run, where string) length.Length {
	read := r.Clear(where)
	if r.Stair != nil { // the readings lie along the rake
		if where == "floor" {
			return 0
		}
		read = r.Stair.Along
	}
	if !read.Given {
		return 0
	}
	far := read.Length
	for _, e := range []End{r.From, r.To} {
		if e.Trimmed() && !e.TrimStays() {
			far += e.Thick.Length
		}
	}
	return far
}

// running checks marks that were read from one end on: each farther along than the one before it, by a baluster's width at the least, and all
// of them before the other end.
func (d *decoder) running(list []Measure, width, far length.Length, where string) {
	last := -1
	for i, m := range list {
		if !m.Given {
			continue
		}
		switch {
		case last >= 0 && m.Length <= list[last].Length:
			d.at(m.At, 1, "running readings, all from the datum face: read this one and the one before it again", "old baluster %d is no farther along than baluster %d, %s", i+1, last+1, where)
		case last >= 0 && m.Length < list[last].Length+width*length.Length(i-last):
			d.at(m.At, 1, "readings are to the near face of each; read the two again", "old balusters %d and %d overlap, %s", last+1, i+1, where)
		}
		if far > 0 && m.Length+width > far {
			d.at(m.At, 1, "read it again, or the clear", "old baluster %d stands beyond the clear of the run, %s", i+1, where)
		}
		last = i
	}
}
