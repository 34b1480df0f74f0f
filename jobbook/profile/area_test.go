package profile_test

import (
	"math"
	"testing"

	"balustrade/jobbook/length"
	. "balustrade/jobbook/profile"
)

const squareInch = 25.4 * 25.4 // mm²

func TestArea(t *testing.T) {
	// A zone of a sphere of radius 2, from 1/2 below its middle to 1 1/2 above, cut into 200 frustums.
	zone := Profile{}
	const parts = 200
	for i := range parts + 1 {
		z := 2 * length.Inch * length.Length(i) / parts
		h := float64(z)/float64(length.Inch) - 0.5
		zone.Stations = append(zone.Stations, round(z, length.Length(math.Round(2*math.Sqrt(4-h*h)*float64(length.Inch)))))
	}
	for _, c := range []struct {
		name     string
		p        Profile
		from, to length.Length
		want     float64 // sq in
		within   float64 // sq in
	}{
		// 4 × 1.25 × 36, the worked case of the lead rule
		{"square 1 1/4 by 36", Square(in(1, 4), in(36, 0)), 0, in(36, 0), 180, 1e-9},
		{"half of it", Square(in(1, 4), in(36, 0)), in(9, 0), in(27, 0), 90, 1e-9},
		{"either way round", Square(in(1, 4), in(36, 0)), in(27, 0), in(9, 0), 90, 1e-9},
		{"more than there is", Square(in(1, 4), in(36, 0)), in(-9, 0), in(45, 0), 180, 1e-9},
		{"none of it", Square(in(1, 4), in(36, 0)), in(9, 0), in(9, 0), 0, 0},
		{"no profile", Profile{}, 0, in(9, 0), 0, 0},
		// π(1 + 0.5)·√(6² + 0.5²) = 28.372 to three decimals
		{"frustum, radii 1 to 1/2 over 6", Profile{[]Station{round(0, in(2, 0)), round(in(6, 0), in(1, 0))}}, 0, in(6, 0), 28.372, 0.0005},
		// 2πRh = 8π = 25.1327. A chord spans at most 0.02 rad here; its frustum falls short by about 0.02²/8 = 5e-5 of it.
		{"zone of a sphere, radius 2, 2 high", zone, 0, in(2, 0), 25.1327, 0.0015},
		// widths 7 to 1 over 4: mean 4, slant √(((7 − 1)/2)² + 4²) = 5, four sides: 4·4·5
		{"tapering square", Profile{[]Station{square(0, in(7, 0)), square(in(4, 0), in(1, 0))}}, 0, in(4, 0), 80, 1e-9},
		// sides 4·2·3 and π·1·5, ring 2² − π/4
		{"square to round shoulder", Profile{[]Station{square(0, in(2, 0)), square(in(3, 0), in(2, 0)), round(in(3, 0), in(1, 0)), round(in(8, 0), in(1, 0))}}, 0, in(8, 0), 24 + 5*math.Pi + 4 - math.Pi/4, 1e-9},
		// the same upside down
		{"round to square shoulder", Profile{[]Station{round(0, in(1, 0)), round(in(5, 0), in(1, 0)), square(in(5, 0), in(2, 0)), square(in(8, 0), in(2, 0))}}, 0, in(8, 0), 24 + 5*math.Pi + 4 - math.Pi/4, 1e-9},
		// a shoulder exactly on a bound is an end face: π·1·5 alone
		{"up to a shoulder", Profile{[]Station{round(0, in(1, 0)), round(in(5, 0), in(1, 0)), square(in(5, 0), in(2, 0)), square(in(8, 0), in(2, 0))}}, 0, in(5, 0), 5 * math.Pi, 1e-9},
		// ring between diameters 3 and 1: π(9 − 1)/4 = 2π; sides 3π·1 and π·1
		{"round to round shoulder", Profile{[]Station{round(0, in(3, 0)), round(in(1, 0), in(3, 0)), round(in(1, 0), in(1, 0)), round(in(2, 0), in(1, 0))}}, 0, in(2, 0), 6 * math.Pi, 1e-9},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.p.Area(c.from, c.to) / squareInch; math.Abs(got-c.want) > c.within {
				t.Errorf("got %.6f sq in, want %.6f within %g", got, c.want, c.within)
			}
		})
	}
}
