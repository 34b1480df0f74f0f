package layout

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/working"
)

// landingHeight hands the height over a landing that a flight goes on over to the rules: from the face of the highest riser on it stands
// beside a level floor and no longer on the open side of a stair. The rail climbs, so there it is lowest.
func (b *builder) landingHeight() {
	k := b.Rake
	if len(k.Treads) < 2 || k.To <= k.Treads[len(k.Treads)-1].At {
		return
	}
	first, landing := k.Treads[0], k.Treads[len(k.Treads)-1]
	m := finding.Measure{
		Limit: "guard-height-level", Subject: "height of the guard above the landing that it goes on over, at the face of the highest riser", Group: b.ID, At: b.r.Height.Top.At,
		Missing: "top of the handrail above the line of the nosings",
		Note:    "a rail that follows the stair is lowest there over the landing",
		Cure:    "end the flight at a newel whose face stands at the highest riser, and go on level over the landing; or set the rail higher",
	}
	defer func() { b.Measures = append(b.Measures, m) }()
	if !b.r.Height.Top.Given {
		return
	}
	if !b.sloped() || !b.r.Stair.Nosing.Given {
		m.Missing = "risers, goings and nosing, and where the ends stand"
		return
	}
	from := "readings of the flight"
	along := working.Sum(
		working.Difference(b.found("x", "place of the face of the highest riser", from, landing.At), b.found("x_1", "place of the face of the lowest riser", from, first.At)),
		b.in("q", "nosing, which the line starts at", b.r.Stair.Nosing))
	line := working.Sum(b.found("h_1", "height of the lowest nosing", from, first.Height), working.Product(along, b.tan()))
	f := b.work("height-landing", "top of the handrail above the landing, at the face of the highest riser", "H_l",
		working.Difference(working.Sum(line, b.in("H", "top of the handrail above the line of the nosings", b.r.Height.Top)), b.found("h", "height of the landing", from, landing.Height)))
	m.Value, m.Known, m.Figure = f.Exact(b.sys), true, f.ID
	switch {
	case !k.Measured:
		m.Known, m.Missing = false, "each riser and going by itself"
	case b.floorToCome():
		m.Known, m.Missing = false, unfinished
	}
}
