package draw_test

import (
	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

var (
	inches = length.Style{System: length.Inches, Division: length.Inch / 16, Rounding: length.Nearest}
	metric = length.Style{System: length.Millimetres, Division: length.Millimetre, Rounding: length.Nearest}
)

// in is whole inches and sixteenths.
func in(whole, sixteenths length.Length) length.Length {
	return whole*length.Inch + sixteenths*length.Inch/16
}

func given(l length.Length) job.Measure { return job.Measure{Length: l, Given: true} }

func text(s string) job.Text { return job.Text{Text: s, Given: true} }

func station(at, width length.Length, round bool) profile.Station {
	return profile.Station{At: at, Width: width, Round: round}
}

// elevation is the drawing of a whole run on a phone: in one piece, or as the overview of its pieces.
func elevation(r *layout.Run, style length.Style) string {
	return draw.Panels(r, style, draw.Phone)[0]
}

// turned is a baluster with a block at either end and a vase between: stations of our own.
func turned() profile.Profile {
	b := in(1, 4)
	return profile.Profile{Stations: []profile.Station{
		station(0, b, false), station(in(7, 0), b, false), station(in(7, 0), in(1, 2), true), station(in(7, 8), in(0, 14), true),
		station(in(12, 0), in(1, 3), true), station(in(18, 0), in(0, 12), true), station(in(28, 0), in(0, 12), true),
		station(in(28, 0), in(1, 0), true), station(in(28, 8), in(1, 0), true), station(in(28, 8), b, false), station(in(42, 0), b, false),
	}}
}

// newel is a turned post with a block for the rail.
func newel() profile.Profile {
	b := in(3, 8)
	return profile.Profile{Stations: []profile.Station{
		station(0, b, false), station(in(11, 0), b, false), station(in(11, 0), in(2, 8), true), station(in(20, 0), in(3, 0), true),
		station(in(30, 8), in(2, 8), true), station(in(30, 8), b, false), station(in(42, 0), b, false), station(in(42, 0), in(2, 0), true),
		station(in(45, 0), in(3, 0), true), station(in(47, 0), in(1, 0), true),
	}}
}

func wall() profile.Face {
	return profile.Wall(profile.Point{Out: 0, Z: -1000}, profile.Point{Out: 0, Z: 10000})
}

func figure(id string, l length.Length, sys length.System) *working.Figure {
	return working.Work("run/gallery/"+id, id, "L", sys.String(), working.Length("L", id, l, sys, source.Pos{}))
}

// run is an even run by hand, from a wall to a turned post: n centres at k·(L + b)/(n + 1) − b/2, each to the style's division, and openings found
// between the faces as they stand, with 1/8 in of tolerance.
func run(style length.Style, clear length.Length, n int, shape profile.Profile) *layout.Run {
	sys, width := style.System, shape.Stations[0].Width
	r := &layout.Run{ID: "run/gallery", Name: "gallery", Title: "Gallery", Least: -1}
	r.Job = &job.Run{
		Name: "gallery", Clears: []job.Clear{{Name: "floor", Read: given(clear)}, {Name: "rail", Read: given(clear + in(0, 1))}},
		Baluster: &job.Baluster{Profile: shape, Sized: true, Wide: given(width), Long: given(shape.Long())},
		Handrail: &job.Handrail{High: given(in(2, 6)), Wide: given(in(2, 4)), Plow: job.Plow{Deep: given(in(0, 8))}},
		Shoe:     &job.Shoe{High: given(in(1, 0)), Wide: given(in(2, 8)), Plow: job.Plow{Deep: given(in(0, 6))}},
	}
	r.From = layout.End{Name: "wall", Wall: true, Taken: "wall", Known: true, Face: wall()}
	r.To = layout.End{Name: "corner", Taken: "post", Known: true, Face: newel().Face(-in(1, 12)),
		Newel: &job.Newel{Profile: newel(), Sized: true, Wide: given(in(3, 8))}}
	r.Clear = figure("clear", clear, sys)
	r.Floor = layout.Floor{How: "level"}
	top := in(38, 0)
	r.Levels = layout.Levels{Known: true, RailTop: top, RailUnder: top - in(2, 6), ShoeTop: in(1, 0), Finished: top, Bare: top}
	r.Chosen = &layout.Candidate{Count: n, Chosen: true}
	r.Handrail = &layout.Cut{What: "handrail", Count: 1, Length: clear + in(0, 1)}
	r.Shoe = &layout.Cut{What: "shoe", Count: 1, Length: clear}
	for k := 1; k <= n; k++ {
		at := (length.Length(k)*(clear+width)/length.Length(n+1) - width/2).Round(style.Division, length.Nearest)
		r.Marks = append(r.Marks, layout.Mark{K: k, At: at, Shoe: at})
	}
	if n == 0 {
		return r
	}
	stick := shape.Cut(0, shape.Long()-in(35, 8)).Face(0).Lift(in(0, 10).Float())
	worse := func(part string, left profile.Face, apart length.Length) {
		f := profile.Opening(left, stick, apart+in(0, 2), r.Levels.ShoeTop, r.Levels.RailUnder)
		r.Openings = append(r.Openings, layout.Opening{Where: part, Part: part, Worst: f.Opening, Found: f, Known: true})
	}
	worse("from", r.From.Face, r.Marks[0].At)
	if n > 1 {
		widest := length.Length(0)
		for i := 1; i < n; i++ {
			widest = max(widest, r.Marks[i].At-r.Marks[i-1].At)
		}
		r.Gap = figure("gap", widest-width, sys)
		worse("between", stick, widest)
	}
	worse("to", r.To.Face, clear-r.Marks[n-1].At)
	return r
}

// gallery is 94 7/16 with 17 turned balusters.
func gallery() *layout.Run { return run(inches, in(94, 7), 17, turned()) }

// landing is 41 1/2 between a baseboard and a half newel, seven plain squares, rosette at the wall, a floor to come, floor falling to the right.
func landing() *layout.Run {
	r := run(inches, in(41, 8), 7, profile.Square(in(1, 12), in(36, 0)))
	r.ID, r.Title = "run/landing", "Landing"
	board := in(0, 10)
	r.From.Recess, r.From.High, r.From.Taken = board, in(5, 8), "baseboard"
	r.From.Face = profile.Wall(profile.Point{Z: -1000}, profile.Point{Z: in(5, 8).Float()}, profile.Point{Out: -board.Float(), Z: in(5, 8).Float()}, profile.Point{Out: -board.Float(), Z: 10000})
	r.From.Rosette = in(0, 12)
	r.Job.From.Plate = &job.Rosette{Wide: given(in(4, 8)), Thick: given(in(0, 12))}
	half := profile.Square(in(3, 8), in(44, 0))
	r.To = layout.End{Name: "half newel", Known: true, Face: half.Face(-in(1, 12)), Newel: &job.Newel{Profile: half, Sized: true, Half: job.Flag{Yes: true, Given: true}}}
	r.Floor = layout.Floor{How: "lengths", Out: in(0, 14), Points: []layout.FloorPoint{{At: 0}, {At: in(20, 0), Height: -in(0, 6)}, {At: in(41, 8), Height: -in(0, 14)}}}
	r.Job.ToCome = job.ToCome{What: text("carpet and pad"), Thick: given(in(0, 12))}
	r.Levels.Finished = in(37, 4)
	return r
}

// bay is metric, 2399 mm between two posts, with a lean that is settled and the shoe scribed.
func bay() *layout.Run {
	mm := length.Millimetre
	p := profile.Square(32*mm, 1000*mm)
	r := run(metric, 2399*mm, 18, p)
	r.ID, r.Title = "run/bay", "Bay"
	r.From = r.To
	r.From.Name = "stair"
	r.Lean = &layout.Lean{Settled: true, Out: true, FromRail: 12 * mm, ToRail: -4 * mm, Sum: 8 * mm}
	r.Floor = layout.Floor{How: "scribe", Out: 6 * mm, Points: []layout.FloorPoint{{At: 0}, {At: 1200 * mm, Height: -6 * mm}, {At: 2399 * mm, Height: -2 * mm}}}
	r.Levels.ShoeTop -= 6 * mm
	return r
}

// begun is a run of which only the clear and one end are known.
func begun() *layout.Run {
	return &layout.Run{ID: "run/begun", Title: "Back landing", Clear: figure("clear", in(88, 4), length.Inches), Least: -1,
		Job:  &job.Run{Name: "begun", Clears: []job.Clear{{Name: "floor", Read: given(in(88, 4))}, {Name: "rail"}}},
		From: layout.End{Name: "wall", Wall: true, Known: true, Face: wall()}, To: layout.End{Name: "corner", Face: wall()}}
}

// opening is a short run without a baluster and without a shoe.
func opening() *layout.Run {
	r := run(inches, in(3, 8), 0, turned())
	r.ID, r.Title = "run/opening", "Short side"
	r.Job.Shoe, r.Job.NoShoe, r.Shoe, r.Levels.ShoeTop = nil, true, nil, 0
	f := profile.Opening(r.From.Face, r.To.Face, in(3, 8), 0, r.Levels.RailUnder)
	r.Openings = []layout.Opening{{Where: "from end to end", Part: "between", Worst: f.Opening, Found: f, Known: true}}
	return r
}

// pale is a run laid out before its heights and its baluster's length are known.
func pale() *layout.Run {
	r := run(inches, in(60, 0), 11, turned())
	r.ID, r.Title = "run/pale", "Upper hall"
	r.Levels = layout.Levels{}
	r.Job.Baluster.Sized = false
	r.Job.Baluster.Profile = profile.Profile{}
	r.Job.Clears = r.Job.Clears[:1]
	return r
}
