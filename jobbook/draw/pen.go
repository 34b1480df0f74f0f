package draw

import (
	"fmt"

	"balustrade/jobbook/profile"
)

// pen draws parts to scale on a sheet.
type pen struct {
	s     *sheet
	scale float64                 // px per mm
	px    func(x float64) float64 // where a place along the run stands on the sheet
	up    func(z float64) float64 // where a height does
}

// out is where a distance out from an end's face stands: the first end looks to the right, the second to the left.
func (p pen) out(i int, face, out float64) float64 {
	if i == 1 {
		return p.px(face - out)
	}
	return p.px(face + out)
}

// side draws a wall or a post, whose face stands at a place.
func (p pen) side(i int, e side, face float64) {
	x := func(out float64) float64 { return p.out(i, face, out) }
	points := make([]point, len(e.face))
	for k, f := range e.face {
		points[k] = point{x(f.Out), p.up(f.Z)}
	}
	top, foot := points[len(points)-1].y, points[0].y
	away := float64(2*i - 1) // px away from the opening: to the left at the first end
	switch {
	case e.wall:
		if e.known {
			p.s.path(cut, false, points...)
		} else {
			p.s.path(come, false, points...)
		}
		p.wall(x(e.plane), away, top, foot)
		p.trim(e, x(e.plane), foot)
	case !e.known:
		p.s.path(come, true, point{points[0].x, foot}, point{points[0].x, top}, point{x(2 * e.axis), top}, point{x(2 * e.axis), foot})
	case e.half:
		at := x(e.axis)
		p.s.body(append(points, point{at, top}, point{at, foot})...)
		p.wall(at, away, top, foot)
		p.s.line(cut, at, top, at, foot)
		p.trim(e, at, foot)
	default:
		body := append([]point(nil), points...)
		for k := len(e.face) - 1; k >= 0; k-- {
			body = append(body, point{x(2*e.axis - e.face[k].Out), p.up(e.face[k].Z)})
		}
		p.s.body(body...)
		if p.scale >= legible {
			for k := 1; k < len(e.face); k++ {
				if a, b := e.face[k-1], e.face[k]; a.Z == b.Z && a.Out != b.Out {
					out := min(a.Out, b.Out)
					p.s.line(dim, x(out), p.up(a.Z), x(2*e.axis-out), p.up(a.Z))
				}
			}
		}
	}
}

// plate draws the rosette of a rail that meets an end, between two heights of the rail there.
func (p pen) plate(i int, e side, face, below, top float64) {
	if e.plate <= 0 {
		return
	}
	z := (top + below) / 2
	out, half := e.outAt(z), max(e.wide, top-below)/2
	near, far := p.out(i, face, out), p.out(i, face, out+e.plate)
	p.s.body(point{near, p.up(z + half)}, point{far, p.up(z + half)}, point{far, p.up(z - half)}, point{near, p.up(z - half)})
}

// wall hatches behind a wall's face at x.
func (p pen) wall(x, away, top, foot float64) {
	const apart = 7 // px between two lines of the hatching: open enough to stay lighter than a cut edge
	for y := top; y+wallDeep <= foot; y += apart {
		p.s.line(hatch, x, y, x+float64(away*wallDeep), y+wallDeep)
	}
}

// trim draws the line of the wall behind a baseboard.
func (p pen) trim(e side, x, foot float64) {
	if e.trim > 0 {
		p.s.line(seen, x, foot, x, p.up(e.trim))
	}
}

// bar draws a part that runs along, with its ends where they are in the drawing.
func (p pen) bar(top, under []point, begins, ends bool) {
	n := len(under)
	body := append(p.s.inked().body(0), top...)
	for i := n - 1; i >= 0; i-- {
		body = append(body, under[i])
	}
	p.s.path(tint, true, body...)
	p.s.path(seen, false, top...)
	p.s.path(seen, false, under...)
	if begins {
		p.s.path(seen, false, top[0], under[0])
	}
	if ends {
		p.s.path(seen, false, top[len(top)-1], under[n-1])
	}
}

// tooClose is px from baluster to baluster under which their edges run into one another: a 1 1/4 in one is a quarter of its spacing
// wide, and two edges with something between them take 1.5 px.
const tooClose = 6.0

// stick draws a baluster about its axis at x, standing at height z. Its foot and its head are cut to a slope each, rising to the right;
// 0 is square.
func (p pen) stick(x, z float64, shape profile.Profile, foot, head float64) {
	stations := shape.Stations
	n := len(stations)
	low, high := stations[0], stations[n-1]
	body := p.s.inked().body(2 * n)
	for _, right := range []float64{1, -1} {
		least := float64(right * float64(low.Width.Float()/2*foot))
		most := high.At.Float() + float64(right*float64(high.Width.Float()/2*head))
		for i, s := range stations {
			at := min(max(s.At.Float(), least), most)
			switch i {
			case 0:
				at = least
			case n - 1:
				at = most
			}
			k := i
			if right < 0 {
				k = 2*n - 1 - i
			}
			body[k] = point{x + float64(right*float64(s.Width.Float()*p.scale))/2, p.up(z + at)}
		}
	}
	p.s.body(body...)
	if p.scale < legible {
		return
	}
	for i := 1; i < n; i++ {
		if a, b := stations[i-1], stations[i]; a.At == b.At {
			half, y := float64(min(a.Width, b.Width).Float()*p.scale)/2, p.up(z+a.At.Float())
			p.s.line(dim, x-half, y, x+half, y)
		}
	}
}

// flag marks the face that everything is measured from.
func (s *sheet) flag(x, y float64) {
	s.line(tick, x, y-2*tall, x, y+tall)
	s.path(solid, true, point{x, y - 2*tall}, point{x - 2*tall, y - 2*tall + slant + 1}, point{x, y - tall + 2})
}

// under writes a dimension's words beside the middle of its line, within the sheet.
func (s *sheet) under(x1, x2, y float64, words string) {
	words = fit(words, s.width-2*clearance)
	half := advance(words) / 2
	s.text(min(max((x1+x2)/2, half+2), s.width-half-2), y, middle, words)
}

// counted writes a number and its noun: 1 mark, 2 marks.
func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
