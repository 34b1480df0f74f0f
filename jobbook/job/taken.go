package job

import (
	"slices"

	"balustrade/jobbook/source"
)

// Taken is what jobs that come before this one in a yard take off a line of the shop's rack.
type Taken struct {
	At     source.Pos // the line of the rack
	Pieces int        // offcuts or pieces
	Volume int64      // of a can, in the unit of Ratio.Volume
	By     []string   // titles of the jobs, in the order in which they take
}

// Take leaves on the shop's racks what other jobs do not take. A line that is not on one of them is passed over.
func (j *Job) Take(list []Taken) {
	if len(list) == 0 {
		return
	}
	of := func(at source.Pos) *Taken {
		if i := slices.IndexFunc(list, func(t Taken) bool { return t.At == at }); i >= 0 {
			return &list[i]
		}
		return nil
	}
	note := func(kind, part string, t *Taken, long Measure) {
		j.OffRack = append(j.OffRack, OffRack{Kind: kind, Part: part, Long: long, Taken: *t})
	}
	for _, r := range j.Racks {
		if r.Layer != source.Shop {
			continue
		}
		r.Offcuts, r.Pieces, r.Cans = slices.Clone(r.Offcuts), slices.Clone(r.Pieces), slices.Clone(r.Cans)
		for i := range r.Offcuts {
			o := &r.Offcuts[i]
			if t := of(o.At); t != nil && t.Pieces > 0 {
				o.Count = Whole{N: max(0, o.N()-t.Pieces), Given: true, At: o.Count.At}
				note(o.Kind.Text, o.Part.Text, t, o.Long)
			}
		}
		for i := range r.Pieces {
			h := &r.Pieces[i]
			if t := of(h.At); t != nil && t.Pieces > 0 {
				h.Count.N = max(0, h.Count.N-t.Pieces)
				note(h.Kind.Text, h.Part.Text, t, Measure{})
			}
		}
		for i := range r.Cans {
			c := &r.Cans[i]
			if t := of(c.At); t != nil && t.Volume > 0 {
				c.Gone = t.Volume
				note("finish", c.Finish.Text, t, Measure{})
			}
		}
	}
}

// Took keeps of what others take only that of some lines: the rest is of no use to the job.
func (j *Job) Took(lines []source.Pos) {
	j.OffRack = slices.DeleteFunc(j.OffRack, func(o OffRack) bool { return !slices.Contains(lines, o.At) })
}

// OffRack is something of the shop's rack that other jobs of the yard take.
type OffRack struct {
	Kind, Part string
	Long       Measure // of an offcut
	Taken
}
