package draw

import (
	"fmt"
	"math"

	"balustrade/jobbook/working"
)

// SawSetup draws the end of a piece that is cut at an angle off square, in degrees, as it lies at the saw: the blade's line, square to the fence and at
// the angle, and the point that a stop is measured to. It is to no scale but the angle.
func SawSetup(angle *working.Figure, number int) string {
	if angle == nil || angle.Value == nil {
		return ""
	}
	degrees, _ := angle.Value.Float64()
	if degrees <= 0 || degrees >= 80 {
		return ""
	}
	const wide, high, left, top = Phone, 130.0, 20.0, 40.0 // px
	const thick = 50.0                                     // of the piece
	s := &sheet{id: fmt.Sprintf("d-saw-%d", number), width: wide, height: high, title: "Saw at " + working.Decimal(angle.Value) + " degrees off square"}
	s.desc = "A piece at the fence: the end is cut at the angle off square; the stop is measured to its long point."
	tangent := math.Tan(degrees * math.Pi / 180)
	long := float64(wide - 70)
	short := max(long-float64(thick*tangent), left+20)
	fence := top + thick
	s.path(tint, true, point{left, top}, point{short, top}, point{long, fence}, point{left, fence})
	s.path(seen, false, point{long, fence}, point{left, fence}, point{left, top}, point{short, top})
	s.line(cut, short, top, long, fence)
	s.line(hidden, long, fence, long, top-12) // square to the fence
	s.line(seen, 2, fence+3, wide-2, fence+3) // the fence
	s.text(left, fence+17, start, "fence")
	s.text(long, fence+17, middle, "long point")
	s.text(long+6, top-2, start, fmt.Sprintf("%.1f°", degrees))
	s.dimension(left, long, top-22)
	s.text((left+long)/2, top-27, middle, "stop")
	return s.svg()
}
