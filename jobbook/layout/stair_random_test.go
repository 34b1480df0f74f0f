package layout_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
)

// drawn is a baluster where it really stands, in mm: its axis, its half width over its height, and the heights it is seen between.
type drawn struct {
	x, foot, head float64
	half          func(z float64) float64
	corners       [][2]float64 // half width and height of every station
}

// asDrawn puts a profile where a mark says that its bottom as bought stands. It shares no code with what searches for openings.
func asDrawn(p profile.Profile, x, stands, lift, head float64) drawn {
	var corners [][2]float64
	for _, s := range p.Stations {
		corners = append(corners, [2]float64{s.Width.Float() / 2, lift + s.At.Float()})
	}
	return drawn{x, stands, head, func(z float64) float64 {
		s := p.Stations
		z = math.Min(math.Max(z-lift, s[0].At.Float()), s[len(s)-1].At.Float())
		for i := 1; i < len(s); i++ {
			a, b := s[i-1], s[i]
			if a.At < b.At && z <= b.At.Float() {
				share := (z - a.At.Float()) / (b.At.Float() - a.At.Float())
				return (a.Width.Float() + (b.Width.Float()-a.Width.Float())*share) / 2
			}
		}
		return s[len(s)-1].Width.Float() / 2
	}, corners}
}

// on is a baluster carried on up into the rail, and down into a shoe: what is solid there is not looked at.
func (d drawn) on(down bool) drawn {
	const far = 300 // mm, more than a ball reaches
	if down {
		d.foot -= far
	}
	d.head += far
	return d
}

// outline samples the side of a baluster that looks at an opening, every two millimetres of its height and at every corner.
func (d drawn) outline(side float64) (points [][2]float64) {
	for z := d.foot; z <= d.head; z += 2 {
		points = append(points, [2]float64{d.x + side*d.half(z), z})
	}
	for _, c := range d.corners {
		if d.foot <= c[1] && c[1] <= d.head {
			points = append(points, [2]float64{d.x + side*c[0], c[1]})
		}
	}
	return points
}

const (
	step   = 4 // mm, of the grid that the search starts from: a ball found is no larger than the largest there is
	missed = 3 // mm, that it may be smaller
)

// widestBall tries a ball on a grid of centres between two balusters: its radius is the distance to the nearest of their points and of what
// else is solid there.
func widestBall(left, right drawn, solid [][2]float64, open func(x, z float64) bool) float64 {
	points := append(left.outline(1), right.outline(-1)...)
	points = append(points, solid...)
	best, at := 0.0, [2]float64{}
	try := func(x, z float64) {
		if x-left.x < left.half(z) && z <= left.head || right.x-x < right.half(z) && z >= right.foot && z <= right.head || !open(x, z) || x < left.x || x > right.x || z < left.foot || z > right.head {
			return
		}
		near := math.Inf(1)
		for _, p := range points {
			dx, dz := p[0]-x, p[1]-z
			if d := float64(dx*dx) + dz*dz; d < near {
				if near = d; near <= best {
					return
				}
			}
		}
		best, at = near, [2]float64{x, z}
	}
	for x := left.x; x <= right.x; x++ { // finer across, where a ball sits between two sides
		for z := left.foot; z <= right.head; z += step {
			try(x, z)
		}
	}
	for fine := step / 2.0; fine > 0.1; { // and on from the best of them, finer as it finds no better
		from := best
		for dx := -1.0; dx <= 1; dx++ {
			for dz := -1.0; dz <= 1; dz++ {
				try(at[0]+dx*fine, at[1]+dz*fine)
			}
		}
		if best == from {
			fine /= 2
		}
	}
	return 2 * math.Sqrt(best)
}

// TestRandomStairs draws stairs of every sort. Marks rise strictly; the first and the last opening are what the marks say; no ball found by a
// plain search between the balusters as they are drawn, with riser, tread and rail, is larger than the one reported; and where one
// fewer would do between two balusters, a plain search finds that it would not.
func TestRandomStairs(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		sixteenths := func(name string, low, high int) string {
			return sixteenth(rapid.IntRange(low, high).Draw(rt, name))
		}
		risers := rapid.IntRange(3, 9).Draw(rt, "risers")
		list := func(name string, n, low, high int) string {
			var words []string
			for range n {
				words = append(words, sixteenths(name, low, high))
			}
			return "[" + strings.Join(words, ", ") + "]"
		}
		going, riser := rapid.IntRange(9*16, 12*16).Draw(rt, "about"), rapid.IntRange(6*16, 8*16).Draw(rt, "high")
		onTreads := rapid.Bool().Draw(rt, "treads")
		trim := rapid.SampledFrom([]string{"top", "bottom"}).Draw(rt, "trim")
		foot := rapid.IntRange(1*16, 9*16).Draw(rt, "foot")
		neck := foot + rapid.IntRange(2*16, 15*16).Draw(rt, "thin")
		if trim == "bottom" { // the long block is the one that is cut
			foot, neck = foot+17*16, neck+17*16
		}
		waist, wide := rapid.IntRange(9, 18).Draw(rt, "waist"), rapid.IntRange(18, 28).Draw(rt, "wide")
		files := map[string]string{
			"job.md":        "kind: job\nrules: own\nposts: {low: {newel: post}, high: {newel: post}}\nhandrail: rail\nfillet: none",
			"parts/rail.md": "kind: handrail\nwide: 2 5/8\nhigh: 2 3/8\nplow: {wide: 2, deep: 5/16}",
			"parts/shoe.md": "kind: shoe\nwide: 2 5/8\nhigh: 1\nplow: {wide: 2, deep: 5/16}",
			"rules/own.md":  "kind: rules\nlimits:\n  guard-opening-stair: {under: 4 3/8, clause: R312.1.3 exc. 2, status: published}",
			"parts/b.md": fmt.Sprintf("kind: baluster\ntrim: %s\nprofile:\n  - {at: 0, square: %[2]s}\n  - {at: %[3]s, square: %[2]s}\n  - {at: %[3]s, round: %[4]s}\n  - {at: %[5]s, round: %[4]s}\n  - {at: %[5]s, square: %[2]s}\n  - {at: 46, square: %[2]s}",
				trim, sixteenth(wide), sixteenth(foot), sixteenth(waist), sixteenth(neck)),
			"runs/1-f.md": "kind: flight\nbaluster: b\nfrom: {at: low, past: " + sixteenths("from", 0, 40) + "}\nto: {at: high, before: " + sixteenths("to", 0, 40) + "}\nrisers: " +
				list("riser", risers, riser-3, riser+3) + "\ngoings: " + list("going", risers-1, going-3, going+3) + "\nnosing: " + sixteenths("nosing", 0, 24) + "\nheight: " + sixteenths("height", 33*16, 38*16) +
				map[bool]string{true: "\nshoe: none", false: "\nshoe: shoe\nshoe-over: " + sixteenths("over", 0, 32) + "\nunder-shoe: closed"}[onTreads],
		}
		_, l := lay(t, files)
		r := l.Runs[0]
		if r.Chosen == nil {
			if len(r.Missing) == 0 && len(r.Findings) == 0 {
				rt.Fatal("not laid out, and nothing says why")
			}
			return
		}
		for _, f := range r.Findings {
			if f.Verdict == finding.Fail { // sizes that do not go together: what is drawn of them means nothing
				return
			}
		}
		k := r.Rake
		p := r.Job.Baluster.Profile
		var stick []drawn
		previous := -1.0
		for _, m := range r.Marks {
			if m.At.Float() <= previous {
				rt.Fatalf("mark %d at %v after %v", m.K, m.At.Float(), previous)
			}
			previous = m.At.Float()
			x := k.From + m.At
			runs := float64(wide) / 16 * 25.4 / 2 * k.Rise.Float() / k.Going.Float() // shoe and rail climb so much over half its width
			foot := m.Stands.Float()
			if !onTreads {
				foot -= runs
			}
			stick = append(stick, asDrawn(p, x.Float(), foot, m.Lift.Float(), m.Head.Float()+runs))
		}
		if len(stick) < 2 {
			return
		}
		first, last := r.Openings[0], r.Openings[len(r.Openings)-1]
		half := stick[0].half(r.Marks[0].Stands.Float() + 1e-6) // where it is seen
		if d := first.Foot.Float() - (r.Marks[0].At.Float() - half); math.Abs(d) > 1e-3 {
			rt.Errorf("the first gap is off by %v", d)
		}
		if d := last.Foot.Float() - ((k.To - k.From).Float() - r.Marks[len(r.Marks)-1].At.Float() - half); math.Abs(d) > 1e-3 {
			rt.Errorf("the last gap is off by %v", d)
		}
		// The solids beside the balusters: treads and risers, or the shoe; and the rail's underside.
		around := func(from, to float64) (points [][2]float64) {
			for x := from; x <= to; x += 2 {
				at := length.Length(x * float64(length.Millimetre))
				points = append(points, [2]float64{x, k.RailUnder(at).Float()})
				if onTreads {
					points = append(points, [2]float64{x, k.Surface(at).Float()})
				} else {
					points = append(points, [2]float64{x, k.ShoeTop(at).Float()})
				}
			}
			for _, tr := range k.Treads {
				if x := tr.At.Float(); onTreads && from < x && x <= to {
					for z := tr.Height.Float() - tr.Riser.Float(); z <= tr.Height.Float(); z += 2 {
						points = append(points, [2]float64{x, z})
					}
				}
			}
			return points
		}
		open := func(x, z float64) bool {
			at := length.Length(x * float64(length.Millimetre))
			below := k.ShoeTop(at)
			if onTreads {
				below = k.Surface(at)
			}
			return z > below.Float() && z < k.RailUnder(at).Float()
		}
		worst := 0.0
		for _, o := range r.Openings {
			if o.Part == "between" {
				worst = math.Max(worst, o.Worst.Float())
			}
		}
		for _, i := range slices.Compact(slices.Sorted(slices.Values([]int{1, len(stick) - 1, r.Openings[1].Left}))) {
			if i < 1 || i >= len(stick) {
				continue
			}
			if ball := widestBall(stick[i-1], stick[i], around(stick[i-1].x, stick[i].x), open); ball > worst+0.1 {
				rt.Errorf("a ball of %.2f passes between balusters %d and %d, the worst reported is %.2f", ball, i, i+1, worst)
			}
			// And none is reported that would not pass: with only the risers in the way, as the trade reckons openings.
			if o := r.Openings[1]; o.Part == "between" && (o.Left == i || !onTreads) {
				var risers [][2]float64
				for _, p := range around(stick[i-1].x, stick[i].x) {
					if onTreads && p[1] < stick[i].foot && p[0] > stick[i-1].x+1 {
						risers = append(risers, p)
					}
				}
				// Its centre lies between the foot of the lower one and the head of the upper one.
				low, high := r.Marks[i-1].Stands.Float(), r.Marks[i].Head.Float()
				between := func(x, z float64) bool { return low <= z && z <= high }
				if ball := widestBall(stick[i-1].on(!onTreads), stick[i].on(!onTreads), risers, between); ball < o.Nominal.Float()-missed {
					rt.Errorf("between balusters %d and %d %.2f is reported, and no ball over %.2f passes", i, i+1, o.Nominal.Float(), ball)
				}
			}
		}
		b := fewer(r)
		if b == nil || !strings.HasPrefix(b.Where, "between") || b.Passes {
			return
		}
		// One fewer: two balusters at that spacing, standing as these do, and nothing else in the way, as the trade reckons openings.
		mid := stick[len(stick)/2]
		apart := b.Spacing.Float()
		other := mid
		other.x += apart
		if !onTreads { // the next one stands as much higher as the rake climbs
			up := apart * k.Rise.Float() / k.Going.Float()
			other = asDrawn(p, mid.x+apart, mid.foot+up, r.Marks[len(stick)/2].Lift.Float()+up, mid.head+up)
		} else if r.Job.Baluster.Trim.Text == "bottom" { // on the same tread, its head meets the rail higher up
			up := apart * k.Rise.Float() / k.Going.Float()
			other = asDrawn(p, mid.x+apart, mid.foot, r.Marks[len(stick)/2].Lift.Float()+up, mid.head+up)
		}
		if ball := widestBall(mid, other, nil, func(x, z float64) bool { return true }); ball < r.Limit.Value.Float()-missed {
			rt.Errorf("with one fewer only a ball of %.2f passes, and it was called too many", ball)
		}
	})
}

// fewer is the count one below the chosen one; nil where it was not looked at.
func fewer(r *layout.Run) *layout.Candidate {
	for i := range r.Candidates {
		if i+1 < len(r.Candidates) && r.Candidates[i+1].Chosen {
			return &r.Candidates[i]
		}
	}
	return nil
}

func sixteenth(n int) string { return fmt.Sprintf("%d %d/16", n/16, n%16) }
