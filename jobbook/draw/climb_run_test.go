package draw_test

import (
	"math"
	"math/big"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/profile"
	"balustrade/jobbook/working"
)

// climb is a flight by hand.
type climb struct {
	style                 length.Style
	risers                int
	riser, going, nosing  length.Length
	before, past          length.Length // the lower end's face before the lowest riser, the upper one's past the highest
	per                   int           // balusters on a tread; 0 on a shoe
	count                 int           // on a shoe
	shape                 profile.Profile
	height, rail, shoe, v length.Length // of the rail over the line, square heights of the sections, the shoe's underside over the line
}

// stair is 13 risers of 7 1/2 on 12 goings of 10, 9 in 12, with two turned balusters on a tread between two newels.
func stair() climb {
	return climb{style: inches, risers: 13, riser: in(7, 8), going: in(10, 0), nosing: in(1, 2), before: in(1, 4), per: 2, shape: turned(), height: in(36, 0), rail: in(2, 6)}
}

// onShoe is the same stair with a shoe 1 in thick, 1/2 over the line, and so many balusters.
func onShoe(count int) climb {
	c := stair()
	c.per, c.count, c.shoe, c.v = 0, count, in(1, 0), in(0, 8)
	return c
}

func nm(mm float64) length.Length {
	return length.Length(math.Round(mm * float64(length.Millimetre)))
}

// run lays the flight out as the trade does: on treads the first baluster of each with its face in line with the riser, the others a share
// of the going on; on a shoe at k·(L + b)/(n + 1) − b/2 level, times the secant along the rake.
func (c climb) run() *layout.Run {
	sys, b := c.style.System, c.shape.Stations[0].Width
	slope := c.riser.Float() / c.going.Float()
	secant := math.Hypot(1, slope)
	k := &layout.Rake{Nosing: c.nosing, Measured: true, OnTreads: c.per > 0, PerTread: c.per, Top: c.height, Rise: c.riser * length.Length(c.risers-1), Going: c.going * length.Length(c.risers-1)}
	for i := range c.risers {
		n := length.Length(i)
		t := layout.Tread{N: i + 1, At: n * c.going, Height: (n + 1) * c.riser, Riser: c.riser, Going: c.going}
		if i == c.risers-1 {
			t.Going = 0
		}
		k.Treads = append(k.Treads, t)
	}
	k.From, k.To = -c.before, k.Going+c.past
	k.Thick = nm(c.rail.Float() * secant)
	if c.per == 0 {
		k.ShoeUnder, k.ShoeThick = c.v, nm(c.shoe.Float()*secant)
	}
	degrees := exact.FromRat(new(big.Rat).SetFloat64(math.Round(math.Atan(slope)*180/math.Pi*1e6) / 1e6))
	k.Angle = &working.Figure{Unit: "degrees", Value: degrees}
	square := exact.New(12*int64(c.riser), int64(c.going))
	if sys == length.Millimetres {
		square = exact.New(100*int64(c.riser), int64(c.going))
	}
	k.Square = &working.Figure{Unit: sys.String(), Value: square}
	k.Secant = &working.Figure{Value: exact.FromRat(new(big.Rat).SetFloat64(secant))}

	r := &layout.Run{ID: "run/flight", Name: "flight", Title: "Lower flight", Least: -1, Rake: k, Floor: layout.Floor{How: "level"}}
	r.Clear = figure("clear", k.To-k.From, sys)
	r.Job = &job.Run{
		Name: "flight", NoShoe: c.per > 0, Stair: &job.Stair{Nosing: given(c.nosing)},
		Baluster: &job.Baluster{Profile: c.shape, Sized: true, Wide: given(b), Long: given(c.shape.Long())},
		Handrail: &job.Handrail{High: given(c.rail), Wide: given(in(2, 4))},
	}
	post := func(name string, stands length.Length) layout.End {
		return layout.End{Name: name, Taken: "post", Known: true, Face: newel().Face(-in(1, 12)).Lift(stands.Float()), Newel: &job.Newel{Profile: newel(), Sized: true, Wide: given(in(3, 8))}}
	}
	r.From, r.To = post("foot newel", 0), post("stair head", k.Treads[c.risers-1].Height)
	mark := func(m layout.Mark, x, stands length.Length) {
		if x-b/2 < k.From || x+b/2 > k.To {
			return
		}
		m.K, m.At, m.Stands, m.Head = len(r.Marks)+1, x-k.From, stands, k.RailUnder(x)
		m.Along = nm(m.At.Float()*secant).Round(c.style.Division, length.Nearest)
		m.Shoe = m.Along
		m.Lift = stands - in(0, 12) // pinned or plowed in so deep
		r.Marks = append(r.Marks, m)
	}
	if c.per > 0 {
		for _, t := range k.Treads[:c.risers-1] {
			for j := range c.per {
				at := (b/2 + t.Going.Part(j, c.per)).Round(c.style.Division, length.Nearest)
				mark(layout.Mark{Tread: t.N, Riser: at}, t.At+at, t.Height)
			}
		}
	}
	for j := range c.count {
		at := (k.To-k.From+b)*length.Length(j+1)/length.Length(c.count+1) - b/2
		mark(layout.Mark{}, k.From+at, k.ShoeTop(k.From+at))
	}
	r.Chosen = &layout.Candidate{Count: len(r.Marks), Chosen: true}
	if len(r.Marks) < 2 {
		return r
	}
	// The opening between the first two, each where it stands.
	left, right := r.Marks[0], r.Marks[1]
	f := profile.Opening(c.shape.Face(0).Lift(left.Lift.Float()), c.shape.Face(0).Lift(right.Lift.Float()), right.At-left.At+in(0, 1), max(left.Stands, right.Stands), left.Head)
	if c.per == 0 { // amid the flight, as the plan looks for it
		f.Z += ((k.To-k.From)/2 - left.At).Float() * slope
	}
	r.Openings = []layout.Opening{{Where: "between balusters 1 and 2", Part: "between", Worst: f.Opening, Found: f, Left: 1, Known: true}}
	return r
}

// loft is metric: nine risers of 190 on goings of 250, plain squares on a shoe, from a wall to a post that stands on tread 7.
func loft() *layout.Run {
	mm := length.Millimetre
	c := climb{style: metric, risers: 9, riser: 190 * mm, going: 250 * mm, nosing: 25 * mm, before: -60 * mm, past: -300 * mm, count: 13,
		shape: profile.Square(32*mm, 1000*mm), height: 900 * mm, rail: 60 * mm, shoe: 20 * mm, v: 10 * mm}
	r := c.run()
	r.ID, r.Title = "run/loft", "Loft stair"
	r.From = layout.End{Name: "wall", Wall: true, Taken: "wall", Known: true, Face: wall(), Rosette: 20 * mm}
	r.Job.From.Plate = &job.Rosette{Wide: given(110 * mm), Thick: given(20 * mm)}
	r.To.Face = newel().Face(-in(1, 12)).Lift((7 * 190 * mm).Float())
	r.Job.To.Stands = job.Whole{N: 7, Given: true}
	return r
}

// bare is a flight whose stair is known, and nothing else.
func bare() *layout.Run {
	r := stair().run()
	r.ID, r.Title = "run/bare", "Back stair"
	r.Rake.From, r.Rake.To, r.Rake.Top, r.Rake.Thick = 0, 0, 0, 0
	r.Clear, r.Chosen, r.Marks, r.Openings = nil, nil, nil, nil
	r.To.Newel, r.To.Known, r.To.Face = nil, false, wall()
	r.From.Name = ""
	return r
}

// unread is a flight of which nothing is read.
func unread() *layout.Run {
	return &layout.Run{ID: "run/unread", Title: "Cellar stair", Rake: &layout.Rake{}, Least: -1, Job: &job.Run{Name: "unread", Stair: &job.Stair{}},
		From: layout.End{Name: "wall", Wall: true, Known: true, Face: wall()}, To: layout.End{Name: "landing post", Face: wall()}}
}

// ghost is a flight laid out before heights and the baluster's length are known.
func ghost() *layout.Run {
	r := stair().run()
	r.ID, r.Title = "run/ghost", "Attic stair"
	r.Rake.Top, r.Rake.Thick = 0, 0
	r.Job.Baluster.Sized = false
	r.Openings = nil
	return r
}
