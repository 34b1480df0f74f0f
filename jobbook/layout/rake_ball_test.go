package layout_test

import (
	"math"
)

// section is a part up its length: height above its bottom as bought and half width there, mm; two at one height are a step.
type section [][2]float64

// half is the half width just above a height; the nearest end's beyond the part.
func (p section) half(z float64) float64 {
	for i := 1; i < len(p); i++ {
		if a, b := p[i-1], p[i]; z >= a[0] && z < b[0] {
			return a[1] + (b[1]-a[1])*(z-a[0])/(b[0]-a[0])
		}
	}
	if z < p[0][0] {
		return p[0][1]
	}
	return p[len(p)-1][1]
}

func (p section) long() float64 { return p[len(p)-1][0] }

// side is what stands beside an opening: how far it reaches towards the other side, at heights ascending.
type side [][2]float64 // height, reach

const far = 20_000 // mm, beyond any flight

// outline is what is seen of a part whose bottom as bought stands at a height, from one height to another. Beyond these it is in wood, and
// is carried straight on.
func (p section) outline(bottom, from, to float64) side {
	const off = 1e-6 // mm: of two stations at one height the inner one is seen
	foot, top := p.half(from-bottom+off), p.half(to-bottom-off)
	s := side{{-far, foot}, {from, foot}}
	for _, q := range p {
		if z := q[0] + bottom; z > from+off && z < to-off {
			s = append(s, [2]float64{z, q[1]})
		}
	}
	return append(s, [2]float64{to, top}, [2]float64{far, top})
}

// above is the part of a side over a height.
func (s side) above(z float64) side {
	var out side
	for i, q := range s {
		switch {
		case q[0] >= z:
			out = append(out, q)
		case i+1 < len(s) && s[i+1][0] > z:
			a, b := q, s[i+1]
			out = append(out, [2]float64{z, a[1] + (b[1]-a[1])*(z-a[0])/(b[0]-a[0])})
		}
	}
	return out
}

// distance is from a point to a side, which fills all that lies behind its outline. x is measured from where its reach is.
func (s side) distance(x, z float64) float64 {
	best := math.Inf(1) // squared
	for i := 1; i < len(s); i++ {
		z0, x0, z1, x1 := s[i-1][0], s[i-1][1], s[i][0], s[i][1]
		if off := max(z0-z, z-z1); off > 0 && off*off >= best {
			continue
		}
		dz, dx := z1-z0, x1-x0
		if z >= z0 && z <= z1 && dz > 0 && x <= x0+dx*(z-z0)/dz {
			return 0
		}
		t := 0.0
		if d := dz*dz + dx*dx; d > 0 {
			t = max(0, min(1, ((z-z0)*dz+(x-x0)*dx)/d))
		}
		offZ, offX := z-z0-t*dz, x-x0-t*dx
		best = min(best, offZ*offZ+offX*offX)
	}
	return math.Sqrt(best)
}

// ballAt is the radius of the largest ball whose centre is at a height: as far from the one side as from the other.
func ballAt(left, right side, apart, z float64) float64 {
	lo, hi := -apart, 2*apart // posts and turnings stand back from their faces and axes by less
	for range 24 {
		if x := (lo + hi) / 2; left.distance(x, z) < right.distance(apart-x, z) {
			lo = x
		} else {
			hi = x
		}
	}
	return math.Min(left.distance(lo, z), right.distance(apart-lo, z))
}

// ball is the diameter of the largest ball with its centre between two heights, to a tenth of a millimetre: a ball's radius changes no faster than its
// height, so that between two heights tried none is larger than half of both and what lies between; where that is more, the middle is tried. Where
// both sides run straight for as far as a ball reaches, it grows one way only.
func ball(left, right side, apart, low, high float64) float64 {
	if high <= low {
		return 0
	}
	const near = 0.04
	best := 0.0
	at := func(z float64) float64 {
		r := ballAt(left, right, apart, z)
		best = max(best, r)
		return r
	}
	straight := func(from, to float64) bool {
		for _, s := range []side{left, right} {
			for _, q := range s {
				if q[0] > from && q[0] < to {
					return false
				}
			}
		}
		return true
	}
	var between func(a, ra, b, rb float64)
	between = func(a, ra, b, rb float64) {
		if (ra+rb+b-a)/2 <= best+near || straight(a-ra-(b-a), b+rb+(b-a)) {
			return
		}
		m := (a + b) / 2
		rm := at(m)
		between(a, ra, m, rm)
		between(m, rm, b, rb)
	}
	n := int((high-low)/4) + 1
	z, r := make([]float64, n+1), make([]float64, n+1)
	for i := range z {
		z[i] = low + (high-low)*float64(i)/float64(n)
		r[i] = at(z[i])
	}
	for i := 1; i <= n; i++ {
		between(z[i-1], r[i-1], z[i], r[i])
	}
	return 2 * best
}
