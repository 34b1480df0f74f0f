package job

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/source"
)

// nothing reports a size of 0. A size that is not known yet is left blank.
func (d *decoder) nothing(m Measure) {
	d.at(m.At, 1, "write it as measured; leave it blank while it is not", "a size of nothing")
}

// positive reports those of the sizes that are 0.
func (d *decoder) positive(sizes ...Measure) {
	for _, m := range sizes {
		if m.Given && m.Length <= 0 {
			d.nothing(m)
		}
	}
}

// sizes checks that parts have a size, that a groove leaves something of its part, and that marks are rounded to something.
func (d *decoder) sizes(j *Job) {
	plow := func(p Plow, wide, high Measure, part string) {
		d.positive(wide, high, p.Wide, p.Deep)
		if p.Wide.Given && wide.Given && wide.Length > 0 && p.Wide.Length >= wide.Length {
			d.at(p.Wide.At, 1, "measure the groove and the "+part+" again", "the groove leaves nothing of the width of the %s", part)
		}
		if p.Deep.Given && high.Given && high.Length > 0 && p.Deep.Length >= high.Length {
			d.at(p.Deep.At, 1, "measure the groove and the "+part+" again", "the groove goes right through the %s", part)
		}
	}
	for _, b := range j.Balusters {
		d.positive(b.Pin.Wide, b.Pin.Long)
	}
	for _, h := range j.Handrails {
		plow(h.Plow, h.Wide, h.High, "handrail")
		d.positive(h.Girth, h.Across)
	}
	for _, s := range j.Shoes {
		plow(s.Plow, s.Wide, s.High, "shoe")
	}
	for _, f := range j.Fillets {
		d.positive(f.Wide, f.Thick)
	}
	for _, r := range j.Rosettes {
		d.positive(r.Wide, r.Thick)
	}
	for _, b := range j.Bolts {
		d.positive(b.Wide, b.Long, b.InPost, b.Pilot, b.Bore, b.Access, b.AccessUp, b.Reach)
		if b.InPost.Given && b.Long.Given && b.Long.Length > 0 && b.InPost.Length >= b.Long.Length {
			d.at(b.InPost.At, 1, "write how much of it is screwed into the post", "as much of the bolt in the post as the bolt is long, or more")
		}
	}
	for _, f := range j.Fixings {
		d.positive(f.Wide, f.Root, f.Long, f.Thread, f.Washer)
	}
	d.positive(j.Division, j.Shop.Division, j.Shop.DivisionM)
	for _, f := range j.Coatings {
		d.coatNames(f)
	}
}

// coatNames checks the names of the coats of a finish: cans are bought by them.
func (d *decoder) coatNames(f *Finish) {
	for _, c := range f.Coats {
		d.positive(c.Film)
		for _, at := range []source.Pos{c.Type.At, c.Coverage.At, c.Dry.At} {
			if !c.Name.Given && !at.IsZero() {
				d.at(at, 1, "add coat: , what the can says", "a coat without its name")
				break
			}
		}
	}
}

// coatKnown warns of cans for a coat that the finish does not have; it may be the same finish of another layer that has it.
func (d *decoder) coatKnown(j *Job, finish, coat Text) {
	for _, f := range j.Coatings {
		if f.Name != finish.Text || !coat.Given || slices.ContainsFunc(f.Coats, func(c Coat) bool { return c.Name.Text == coat.Text }) {
			continue
		}
		var known []string
		for _, c := range f.Coats {
			known = append(known, c.Name.Text)
		}
		before := len(d.problems)
		d.missing(coat, "coat of "+f.Name, known)
		for i := range d.problems[before:] {
			d.problems[before+i].Severity = source.Warning
		}
	}
}

// clears checks that a height was read once.
func (d *decoder) clears(r *Run) {
	for i, c := range r.Clears {
		for _, b := range r.Clears[:i] {
			if c.At.Given && b.At.Given && c.At.Length == b.At.Length {
				d.problems = append(d.problems, source.Problem{
					Severity: source.Error, At: c.At.At, Width: 1, Summary: "two clears at one height", Hint: "read it again there, and keep one",
					Notes: []source.Note{{At: b.At.At, Text: "the other one"}},
				})
				break
			}
		}
	}
}

// cutSticks warns of sticks that were cut into and never came: the one that was meant would go on counting as whole.
func (d *decoder) cutSticks(j *Job) {
	for _, f := range j.MadeFiles {
		for _, s := range f.Sticks {
			var came []string
			for _, r := range j.received() {
				if r.Part.Text == s.Part.Text {
					for _, l := range r.Sticks {
						came = append(came, d.print(l.Length))
					}
				}
			}
			if len(came) == 0 { // nothing is counted of what did not come, or it is told already
				continue
			}
			slices.Sort(came)
			for _, cut := range s.Cut {
				if text := d.print(cut.Length); cut.Given && !slices.Contains(came, text) {
					hint := "write a length as the delivery has it: " + strings.Join(slices.Compact(came), ", ")
					d.problems = append(d.problems, source.Problem{Severity: source.Warning, At: cut.At, Width: 1, Hint: hint, Summary: fmt.Sprintf("no stick of %s of %s came", text, clip(s.Part.Text))})
				}
			}
		}
	}
}
