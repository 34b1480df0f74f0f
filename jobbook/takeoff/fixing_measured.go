package takeoff

import (
	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
	"balustrade/jobbook/wood"
)

// measured bores for a wood screw whose number is not in the table, such as a metric one, by its own diameters: asked for where they are not written. Bits are those of the job's unit.
func (t *taking) measured(x *Fixing, through, into member, g wood.G, passes, deep length.Length, head func()) {
	f, with := x.Fastening, x.With
	ask := func(what, key, why string, at source.Pos) {
		if at.IsZero() {
			at = source.Pos{File: with.File}
		}
		t.miss(finding.Reading{What: what, Where: with.File + ", " + key + ": ", Why: why, Group: "fixings", At: at})
	}
	x.Driver = with.Driver.Text
	if !with.Wide.Given {
		what := "the gauge of " + with.Title.Text + ", or for one without a gauge its diameter"
		if with.Gauge.Given {
			what = "the diameter of " + with.Title.Text + ", whose gauge is not in the table"
		}
		ask(what, "wide", "how it is bored", with.Wide.At)
		x.Notes = append(x.Notes, "its gauge is not in the table: write its own diameters, wide and root, or drill by its maker's papers")
		return
	}
	s := wood.Measured{Wide: with.Wide.Length, Root: with.Root.Length, Step: length.Inch / 64}
	if t.job.System == length.Millimetres {
		s.Step = length.Millimetre / 2
	}
	if x.Driver == "" {
		x.Notes = append(x.Notes, "what drives it is on its box")
	}
	head()
	if f.Through.Given {
		x.Bores = append(x.Bores, t.stopped(Bore{For: "clearance, " + f.Through.Text, Hole: s.Clearance(), Deep: passes}, through, f.Through.Text))
		if passed := through.thick > 0 || through.gone; passed && deep == 0 && with.Long.Given {
			x.Notes = append(x.Notes, "it is too short: "+t.tape(with.Long.Length)+" long, and the "+f.Through.Text+" is "+t.tape(passes)+" thick under its head")
		}
	}
	if !f.Into.Given {
		return
	}
	t.unsaid(into)
	hole, ok := s.Pilot(g)
	switch {
	case ok:
		hole.Note = "the nearest bit under it; workshop charts go by gauges and have none for it"
	case into.species == nil:
		hole.Note = "the lead hole goes by the wood's specific gravity: once the wood is known"
	case wood.Light(g):
		x.Notes = append(x.Notes, "no lead hole is called for in a wood as light as this (NDS 12.1.5, from memory); near an end one keeps it from splitting, tried in an offcut")
		return
	case g == 0:
		hole.Note = "the tables for fastenings have no specific gravity for this wood: by the maker's papers, and tried in an offcut"
	case s.Root == 0:
		ask("the diameter of "+with.Title.Text+" at the root of its thread, by caliper", "root", "the bit for its lead hole", with.Root.At)
		hole.Note = "the lead hole is a share of the root of its thread, which is to be measured"
	default:
		hole.Note = "its root is finer than any bit: try it in an offcut"
	}
	x.Bores = append(x.Bores, t.figured(Bore{For: "pilot, " + f.Into.Text, Hole: hole, Deep: deep}, with, into, s.Root))
}
