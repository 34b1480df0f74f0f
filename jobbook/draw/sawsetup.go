package draw

import (
	"fmt"
	"math"

	"balustrade/jobbook/working"
)

// SawSetup draws a piece that is cut at an angle off square, in degrees, as it lies at the saw against its fence: one end at the angle, or
// both and parallel; the stop, and what is measured from it, in a word. It is to no scale but the angle.
func SawSetup(angle *working.Figure, number int, both bool, measured string) string {
	if angle == nil || !angle.Value.Known() {
		return ""
	}
	degrees := angle.Value.Float64()
	if degrees <= 0 || degrees >= 80 {
		return ""
	}
	const wide, high, left, top = Phone, 150.0, 34.0, 48.0 // px
	const most = 90.0                                      // that an end runs out
	tangent := math.Tan(degrees * math.Pi / 180)
	thick := min(50, most/tangent) // of the piece
	out := float64(thick * tangent)
	s := &sheet{id: fmt.Sprintf("d-saw-%d", number), width: wide, height: high, title: fmt.Sprintf("Saw at %.2f degrees off square", degrees)}
	s.desc = "A piece at the fence, its far end cut at the angle off square, the end at the stop square; measured to the long point."
	if both {
		s.desc = "A piece at the fence, both its ends cut at the angle off square, parallel; measured along an edge, from point to point."
	}
	long, fence := float64(wide-76), top+thick
	near := left // where the edge along the fence begins
	if both {
		near += out
	}
	piece := []point{{left, top}, {long - out, top}, {long, fence}, {near, fence}}
	s.path(tint, true, piece...)
	s.path(seen, false, piece[1], piece[0])
	s.path(seen, false, piece[2], piece[3])
	s.line(cut, long-out, top, long, fence)
	if both {
		s.line(cut, left, top, near, fence)
	} else {
		s.line(seen, left, top, left, fence)
	}
	s.line(hidden, long, fence, long, top-8) // square to the fence
	s.line(seen, 2, fence+3, wide-2, fence+3)
	if measured == "stop" { // against the point, or the square end
		s.path(seen, true, point{near - 14, fence - 14}, point{near, fence - 14}, point{near, fence + 3}, point{near - 14, fence + 3}, point{near - 14, fence - 14})
	}
	s.text(wide-4, fence+18, end, "fence")
	s.text(long+6, top+14, start, fmt.Sprintf("%.2f°", degrees))
	word := "long point"
	if both {
		word = "point"
	}
	s.text(long, top-12, middle, word)
	s.dimension(near, long, fence+26)
	s.text((near+long)/2, fence+42, middle, measured)
	return s.svg()
}
