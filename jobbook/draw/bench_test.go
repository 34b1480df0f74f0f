package draw_test

import (
	"testing"

	"balustrade/jobbook/draw"
)

func BenchmarkPanels(b *testing.B) {
	r := run(inches, in(5, 5)*201, 200, turned()) // the longest that the overlap test goes through
	for b.Loop() {
		draw.Panels(r, inches, draw.Phone)
	}
}

func BenchmarkProfileFigure(b *testing.B) {
	p := turned()
	for b.Loop() {
		draw.ProfileFigure(p, "Turned baluster", inches)
	}
}

func BenchmarkPlanView(b *testing.B) {
	g := landings()
	for b.Loop() {
		draw.PlanView(g.Layout, g.job, inches, draw.Phone)
	}
}

func BenchmarkDetails(b *testing.B) {
	p, j := headPost()
	_, raked := bolted()
	l := landing()
	for b.Loop() {
		draw.PostView(p, j, inches, draw.Phone)
		draw.RailEndView(raked, 0, inches, draw.Phone)
		draw.WallEndView(l, 0, inches, draw.Phone)
	}
}

func BenchmarkFlight(b *testing.B) {
	r := stair().run()
	for b.Loop() {
		draw.Panels(r, inches, draw.Phone)
	}
}
