package draw_test

import (
	"fmt"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
)

// endDrawings are the goldens of ends at walls and of edges.
func endDrawings(all map[string]string) {
	l := landing() // a baseboard that stays at one end, a half newel at the other
	l.Job.From = job.End{Where: text("wall"), Face: text("baseboard"), Thick: given(in(0, 10)), High: given(in(5, 8)), Held: text("blocking"), Plate: l.Job.From.Plate}
	l.To.Newel.Wide = given(in(3, 8))
	l.Job.To = job.End{Where: text("half newel"), Held: text("stud")}
	l.Openings[0].Foot, l.Openings[2].Foot = in(3, 11), in(3, 10) // by hand: the marks' first is 4 9/16, its last 37 in 41 1/2, each less 7/8
	bare := &layout.Run{ID: "run/bare", Title: "Back landing", From: layout.End{Name: "wall", Wall: true}}
	goes := gallery()
	goes.Openings[0].Foot = in(4, 0) + in(0, 1) // by hand: 95 11/16 over 18 is 5.316, less 5/8 is 4.691, marked 4 11/16; less 5/8
	goes.ID, goes.Title = "run/goes", "Upper gallery"
	goes.Job.From = job.End{Where: text("wall"), Face: text("baseboard"), Thick: given(in(0, 12)), Stays: job.Flag{Given: true}, NoPlate: true, Held: text("toggles")}

	sound, off, knee, begun := gallery(), gallery(), gallery(), gallery()
	sound.Job.Edge = job.Edge{Back: given(in(3, 0)), Overhang: given(in(1, 0)), Solid: given(in(5, 0)), Joists: text("across"), Blocking: job.Flag{Yes: true, Given: true}}
	off.ID = "run/off"
	off.Job.Edge = job.Edge{Back: given(in(2, 4)), Overhang: given(in(1, 2)), Solid: given(in(1, 8)), Joists: text("along"), Blocking: job.Flag{Yes: true, Given: true}}
	knee.ID = "run/knee"
	knee.Job.Edge = job.Edge{Back: given(in(3, 4)), Overhang: given(in(0, 14)), Solid: given(in(4, 12)), Cap: given(in(6, 8))}
	begun.ID = "run/edge-begun"
	begun.Job.Edge = job.Edge{Overhang: given(in(1, 2))}
	for _, w := range []int{draw.Phone, 680} {
		all[fmt.Sprintf("wall-end-baseboard-%d.svg", w)] = draw.WallEndView(l, 0, inches, w)
		all[fmt.Sprintf("wall-end-half-newel-%d.svg", w)] = draw.WallEndView(l, 1, inches, w)
		all[fmt.Sprintf("wall-end-bare-%d.svg", w)] = draw.WallEndView(bare, 0, metric, w)
		all[fmt.Sprintf("wall-end-goes-%d.svg", w)] = draw.WallEndView(goes, 0, inches, w)
		all[fmt.Sprintf("edge-sound-%d.svg", w)] = draw.EdgeView(sound, inches, w)
		all[fmt.Sprintf("edge-off-%d.svg", w)] = draw.EdgeView(off, inches, w)
		all[fmt.Sprintf("edge-knee-%d.svg", w)] = draw.EdgeView(knee, metric, w)
		all[fmt.Sprintf("edge-begun-%d.svg", w)] = draw.EdgeView(begun, inches, w)
	}
}
