package job

import "balustrade/jobbook/source"

// groovesFilled are the fillets of a run by the groove that they fill: those of the rail may be of another wood, or of another width.
var groovesFilled = []field[Parts]{
	nameField("rail", "fillet", "what fills the plow of the handrail, or none", func(p *Parts) *Ref { return &p.RailFillet }),
	nameField("shoe", "fillet", "what fills the plow of the shoe, or none", func(p *Parts) *Ref { return &p.ShoeFillet }),
}

func filletField[T any](whose string, at func(*T) *Parts) field[T] {
	const form = "the name of a fillet"
	return orMap("fillet", form+"; or rail and shoe", "fillet, or none; one name serves rail and shoe"+whose, groovesFilled, at, func(d *decoder, n *source.Node, p *Parts) {
		p.RailFillet = d.text(n, form)
		p.ShoeFillet = p.RailFillet
	})
}

// FilletOf is what fills a groove, by what its pieces are called: shoe fillet or rail fillet; nil where there is none, or while not chosen.
func (r *Run) FilletOf(what string) *Fillet {
	if what == "rail fillet" {
		return r.RailFillet
	}
	return r.ShoeFillet
}

// ShoePlowed reports whether the shoe has a plow, and so gets fillets.
func (r *Run) ShoePlowed() bool { return r.Shoe != nil && r.Shoe.Plow.Deep.Given }

// RailPlowed reports whether the handrail has a plow that balusters stand in, and so gets fillets; a pin goes into a hole.
func (r *Run) RailPlowed() bool {
	return r.Handrail != nil && r.Handrail.Plow.Deep.Given && r.Baluster != nil && r.Baluster.Top.Text != "pin"
}

// Fillets are those of both grooves, each part once.
func (r *Run) Fillets() (list []*Fillet) {
	for _, f := range []*Fillet{r.ShoeFillet, r.RailFillet} {
		if f != nil && (len(list) == 0 || list[0] != f) {
			list = append(list, f)
		}
	}
	return list
}

// fillets follows the names of a run's fillets, each groove's for itself; one name that serves both is told once where it is not known.
func (d *decoder) fillets(r *Run, own Parts, jobs Parts, to func(mine, jobs Ref) (Ref, *decoder), among []*Fillet) {
	follow := func(mine, of Ref) (ref Ref, part *Fillet, none bool) {
		ref, say := to(mine, of)
		none = say.orNone(ref, func(ref Ref) { part = find(say, ref, "fillet", among, func(f *Fillet) string { return f.Name }) })
		return ref, part, none
	}
	r.Parts.RailFillet, r.RailFillet, r.NoRailFillet = follow(own.RailFillet, jobs.RailFillet)
	if ref, _ := to(own.ShoeFillet, jobs.ShoeFillet); ref == r.Parts.RailFillet {
		r.Parts.ShoeFillet, r.ShoeFillet, r.NoShoeFillet = ref, r.RailFillet, r.NoRailFillet
		return
	}
	r.Parts.ShoeFillet, r.ShoeFillet, r.NoShoeFillet = follow(own.ShoeFillet, jobs.ShoeFillet)
}

// filletNames lists the names that a job gives for its fillets, the same one once.
func (p Parts) filletNames() []Ref {
	if p.RailFillet == p.ShoeFillet {
		return []Ref{p.RailFillet}
	}
	return []Ref{p.RailFillet, p.ShoeFillet}
}
