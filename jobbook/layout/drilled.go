package layout

import (
	"slices"
	"strconv"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/working"
)

// Drilled is a shoe whose holes are there already, and whose balusters therefore stand in them.
type Drilled struct {
	Made  *job.Made
	Off   length.Length // what comes off its end at the datum, along it; the rest off the other end
	Marks []length.Length

	along []length.Length // of the marks from the datum face, along a rake; of a level run the same as Marks
}

// Refused is a drilled shoe whose holes do not go with the run as it is now.
type Refused struct {
	Made *job.Made
	Why  string
}

// around lays the run out around the holes that a shoe of it has already, where every opening passes at them, as they are judged for marks: with all the tolerances. A shoe that is longer than it has to be is shifted,
// for it can be trimmed at either end; of the ways that pass, the one with the least worst opening is taken, and of those alike the one that takes least off the end at the datum.
func (b *builder) around(not []Refused) {
	for _, m := range b.job.Made {
		if m.Run != b.r || m.Mark.What != "shoe" || len(m.Holes) == 0 || m.Lost.Yes {
			continue
		}
		if i := slices.IndexFunc(not, func(x Refused) bool { return x.Made == m }); i >= 0 {
			b.Refused = append(b.Refused, not[i])
			continue
		}
		if b.Drilled != nil {
			b.refuse(m, "the holes of "+b.Drilled.Made.Mark.Text+" are kept already")
			continue
		}
		b.aroundShoe(m)
	}
}

func (b *builder) refuse(m *job.Made, why string) {
	b.Refused = append(b.Refused, Refused{Made: m, Why: why})
}

func (b *builder) aroundShoe(m *job.Made) {
	switch {
	case b.r.Stays(), b.r.Shoe == nil || b.r.Shoe.Name != m.Part.Text:
		b.refuse(m, "the run has another shoe now, or none")
		return
	case b.r.Baluster != nil && b.r.Baluster.Bottom.Text != "pin" && b.r.Baluster.Bottom.Text != "let in":
		b.refuse(m, "its balusters stand in no holes")
		return
	case b.Curve != nil || len(b.stepsInside()) > 0:
		b.refuse(m, "around holes only a straight shoe in one piece is laid out")
		return
	case b.r.Pattern.Text == "centred":
		b.refuse(m, "a centred pattern is asked for")
		return
	case !m.Long.Given, b.Clear == nil || len(b.shapes) == 0 || b.foot <= 0 || b.clearLen <= 0 || !b.Limit.Known:
		return // waits for a reading, which is asked for
	case b.Rake != nil && (b.Rake.Secant == nil || !b.Rake.Secant.Value.Known() || b.Rake.Secant.Value.Sign() <= 0):
		return
	}
	n := len(m.Holes)
	if b.r.Count.Given && b.r.Count.N != n {
		b.refuse(m, "it has "+strconv.Itoa(n)+" holes, and "+strconv.Itoa(b.r.Count.N)+" balusters are written in the job")
		return
	}
	if !b.Limit.Op.Holds(0, b.Limit.Value) || n > mostCounts {
		return
	}
	need := b.clearLen - b.From.Proud - b.To.Proud
	begins := b.From.Proud
	if b.Rake != nil {
		need, begins = b.along(need), b.along(begins)
	}
	within := b.job.Shop.Within.Length
	spare := m.Long.Length - need
	if spare < -within {
		b.refuse(m, "it is "+b.tape(-spare)+" too short")
		return
	}
	var best *Drilled
	var found Candidate
	least := Candidate{}
	const most = 4096 // ways to shift it that are tried: a shoe of 20 ft in sixteenths of an inch
	off := length.Length(0)
	for range most {
		d := b.drilledAt(m, begins, off)
		if d != nil {
			b.drill = d
			c := b.judge(n)
			b.drill = nil
			if least.Count == 0 || c.Worst < least.Worst {
				least = c
			}
			if c.Passes && (best == nil || c.Worst < found.Worst) {
				best, found = d, c
			}
		}
		if off += b.div.Length; spare <= within || off > spare {
			break
		}
	}
	if best == nil {
		why := Refused{Made: m, Why: "no baluster of this width stands in all of its holes"}
		if least.Count > 0 {
			why.Why = "at its holes the worst opening is " + b.decimal(least.Worst) + ", " + least.Where + ", and has to be " + b.Limit.Op.String() + " " + b.tape(b.Limit.Value)
		}
		b.Refused = append(b.Refused, why)
		return
	}
	b.Drilled, b.drill = best, best
	b.choose(n)
	b.Why = "the holes that are drilled in " + m.Mark.Text + " already are kept: at them the worst opening is " + b.Limit.Op.String() + " " + b.tape(b.Limit.Value) + " (" + b.Limit.From + ")"
	if v := found.Verdict(); v != finding.Pass { // an end still to be measured, or a limit from memory
		b.Why += "; that is no pass yet: " + v.String()
	}
	if best.Off > 0 {
		b.Why += ", with " + b.tape(best.Off) + " taken off its end at the datum"
	}
	if b.r.Match.Given {
		b.passing = []int{n}
	}
}

// drilledAt is where the holes are with so much taken off the shoe's end at the datum; nil where no balusters can stand like that.
func (b *builder) drilledAt(m *job.Made, begins, off length.Length) *Drilled {
	d := &Drilled{Made: m, Off: off}
	last := -b.foot / 2
	for _, h := range m.Holes {
		along := h.Length - off + begins
		at := along
		if b.Rake != nil {
			at = length.Rounded(exact.Of(int64(along)).Quo(b.Rake.Secant.Value), length.Nanometre, length.Nearest)
		}
		if at-last < b.foot {
			return nil
		}
		d.Marks, d.along, last = append(d.Marks, at), append(d.along, along), at
	}
	if last+b.foot/2 > b.clearLen {
		return nil
	}
	return d
}

// inHole is the mark of baluster k of n where the holes are there already.
func (b *builder) inHole(k, n int) (length.Length, bool) {
	if b.drill == nil || n != len(b.drill.Marks) {
		return 0, false
	}
	return b.drill.Marks[k-1], true
}

// widest is the greatest spacing of the holes; the whole of the first and its end gap where there is one hole.
func (d *Drilled) widest(foot length.Length) (spacing length.Length) {
	if len(d.Marks) < 2 {
		return d.Marks[0] + foot/2
	}
	for i := 1; i < len(d.Marks); i++ {
		spacing = max(spacing, d.Marks[i]-d.Marks[i-1])
	}
	return spacing
}

// drilledMarks are the marks of a run whose holes are there: read, not worked out.
func (b *builder) drilledMarks() {
	d := b.Drilled
	n := len(d.Marks)
	foot := working.Length("b", "width of a baluster at the foot", b.foot, b.sys, b.footAt)
	widest := b.found("s_w", "widest spacing of the holes, centre to centre", "holes as drilled", d.widest(b.foot))
	widest.At, widest.From = d.Made.Holes[0].At, ""
	b.Spacing = b.work("spacing", "widest spacing of the holes as drilled, centre to centre", "s", widest)
	b.Gap = b.work("gap", "widest gap between two balusters at the foot, at the holes as drilled", "g", working.Difference(b.Spacing.In(), foot))
	rows := make([][]exact.Number, n)
	for i := range rows {
		rows[i] = []exact.Number{exact.Of(int64(i + 1)), d.Made.Holes[i].Length.In(b.sys)}
	}
	begins := b.From.Proud
	if b.Rake != nil {
		begins = b.along(begins)
	}
	from := b.found("e", "from the datum face to the end of the shoe", "trim that stays at the datum", begins)
	off := b.found("o", "taken off the end of the shoe at the datum", "the way that leaves the least worst opening", d.Off)
	b.MarkFig = b.series("marks", "centre of each baluster from the datum face, at the holes as drilled", "m_k",
		working.Difference(working.Sum(working.Variable("h_k"), from), off), []string{"k", "h_k"}, []string{"baluster", "hole as read, from the end of the shoe"}, rows,
		working.Citation{Text: "holes read off " + d.Made.Mark.Text, Status: working.Local})
	b.MarkFig.Note = "The holes were drilled before: the balusters stand in them, and the openings are judged there with all the tolerances that marks have."
}

// DrilledFor reports whether the run stands in the holes of this piece.
func (r *Run) DrilledFor(m *job.Made) bool { return r.Drilled != nil && r.Drilled.Made == m }

// RefusedWhy is why the holes of a piece do not go with the run; false where nothing is said of it.
func (r *Run) RefusedWhy(m *job.Made) (Refused, bool) {
	if i := slices.IndexFunc(r.Refused, func(x Refused) bool { return x.Made == m }); i >= 0 {
		return r.Refused[i], true
	}
	return Refused{}, false
}
