package layout

import (
	"balustrade/jobbook/length"
	"balustrade/jobbook/memo"
	"balustrade/jobbook/profile"
)

// openings are those searched so far, in whatever job: the same two shapes as far apart give the same opening. Some thousand are asked for in a job of a few runs, of 200 bytes each.
var openings = memo.New[profile.Found](4096)

// opening is the function of package profile, worked out once.
func opening(left, right profile.Face, apart, low, high length.Length) profile.Found {
	k := memo.KeyOf(2 + 2*len(left.Points) + 2*len(right.Points) + 3)
	for _, face := range []profile.Face{left, right} {
		k.Int(int64(len(face.Points)))
		for _, p := range face.Points {
			k.Float(p.Out)
			k.Float(p.Z)
		}
	}
	k.Int(int64(apart))
	k.Int(int64(low))
	k.Int(int64(high))
	return openings.Get(k, func() profile.Found { return profile.Opening(left, right, apart, low, high) })
}
