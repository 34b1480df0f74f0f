package draw_test

import (
	"testing"

	"balustrade/jobbook/draw"
)

func BenchmarkElevation(b *testing.B) {
	r := gallery()
	for b.Loop() {
		draw.Elevation(r, inches)
	}
}

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

func BenchmarkFlight(b *testing.B) {
	r := stair().run()
	for b.Loop() {
		draw.Panels(r, inches, draw.Phone)
	}
}
