package draw_test

import (
	"math"

	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// guard is a layout by hand, put together the way one walks along it.
type guard struct {
	layout.Layout
	job   *job.Job
	group int
	x, y  float64 // of the post, or the wall's face, that one stands at
	head  float64 // degrees, to the left positive
	at    string
	wide  float64 // of the post
}

const postWide = 3.5 * 25.4 // mm, of every post here

// from begins a group at a wall or a post.
func (g *guard) from(name string) *guard {
	if len(g.Plan.Stretches) > 0 {
		g.group++
	}
	g.x, g.y, g.head = float64(g.group)*10_000, 0, 0
	g.post(name)
	return g
}

func (g *guard) post(name string) {
	g.at, g.wide = name, 0
	if name == "wall" {
		return
	}
	g.wide = postWide
	for i := range g.Plan.Posts {
		if g.Plan.Posts[i].Name == name {
			return
		}
	}
	g.Plan.Posts = append(g.Plan.Posts, layout.Spot{Name: name, X: g.x, Y: g.y, Wide: postWide})
	g.Posts = append(g.Posts, layout.Post{Name: name, Known: true, Wide: in(3, 8)})
	g.job.Posts = append(g.job.Posts, job.Post{Name: name, Part: &job.Newel{Profile: newel(), Sized: true, Wide: given(in(3, 8)), Long: given(in(47, 0))}})
}

func (g *guard) arrive(a layout.Arrival) {
	for i := range g.Posts {
		if g.Posts[i].Name == g.at {
			g.Posts[i].Arrivals = append(g.Posts[i].Arrivals, a)
		}
	}
}

func (g *guard) step(mm float64) {
	g.x += mm * math.Cos(g.head*math.Pi/180)
	g.y += mm * math.Sin(g.head*math.Pi/180)
}

// turn turns to the left, as measured or as assumed.
func (g *guard) turn(degrees float64) *guard { g.head += degrees; return g }

// to walks along a run to a wall or a post; curve is how far it turns along it, 0 for straight.
func (g *guard) to(r *layout.Run, name string, curve float64, measured bool) *guard {
	sys := length.Inches
	if r.Clear != nil && r.Clear.Unit == "mm" {
		sys = length.Millimetres
	}
	long := r.Clear.Exact(sys).Float()
	s := layout.Stretch{Run: r.Name, Group: g.group, Raked: r.Rake != nil}
	g.arrive(layout.Arrival{Run: r.Name, Title: r.Title, End: "from", Heading: -g.head, Turned: measured})
	g.step(g.wide / 2)
	s.From, s.Heading = layout.Spot{Name: g.at, X: g.x, Y: g.y, Wide: g.wide}, g.head
	if curve == 0 {
		g.step(long)
	} else {
		s.Turn, s.Radius = curve, long/math.Abs(curve*math.Pi/180)
		chord := 2 * s.Radius * math.Sin(math.Abs(curve)*math.Pi/360)
		g.head += curve / 2
		g.step(chord)
		g.head += curve / 2
	}
	s.To = layout.Spot{Name: name, X: g.x, Y: g.y}
	if name != "wall" {
		g.step(postWide / 2)
		s.To.Wide = postWide
	}
	g.post(name)
	g.arrive(layout.Arrival{Run: r.Name, Title: r.Title, End: "to", Heading: 180 - g.head, Turned: true})
	r.From.Name, r.From.Wall = s.From.Name, s.From.Name == "wall"
	r.To.Name, r.To.Wall = name, name == "wall"
	g.Runs = append(g.Runs, r)
	g.Plan.Stretches = append(g.Plan.Stretches, s)
	return g
}

// named is a run by hand, of a name and a length.
func named(name, title string, style length.Style, clear length.Length, n int) *layout.Run {
	r := run(style, clear, n, turned())
	r.ID, r.Name, r.Title, r.Job.Name = "run/"+name, name, title, name
	return r
}

// stairs is a flight of n risers of 7 3/4 on goings of 10, its ends at the lowest and the highest riser.
func stairs(name, title string, n int) *layout.Run {
	long := in(10, 0) * length.Length(n-1)
	r := named(name, title, inches, long, 2*(n-1))
	k := &layout.Rake{Nosing: in(1, 0), Measured: true, To: long, Rise: in(7, 12) * length.Length(n-1), Going: long, Top: in(36, 0), OnTreads: true, PerTread: 2}
	for i := range n {
		t := layout.Tread{N: i + 1, At: in(10, 0) * length.Length(i), Height: in(7, 12) * length.Length(i+1), Riser: in(7, 12), Going: in(10, 0)}
		if i == n-1 {
			t.Going = 0
		}
		k.Treads = append(k.Treads, t)
	}
	// By hand: 7 3/4 on 10 is 37.776 degrees, and 2 3/8 over its cosine is 3.0048 in.
	k.Thick = 76_322_000
	r.Rake = k
	return r
}

// house is a gallery, a return and the flight that it comes to, and apart from them a bay with a turn of 45 degrees and a curve.
func house() *guard {
	g := &guard{job: &job.Job{}}
	g.from("wall").to(named("gallery", "Gallery, along the hall", inches, in(94, 7), 17), "corner", 0, true)
	g.turn(90).to(named("return", "Return", inches, in(41, 8), 7), "head", 0, false)
	// down the stair: the flight is written from its foot, so that it is walked the other way round
	g.turn(90)
	g.Plan.Assumed = append(g.Plan.Assumed, "The turn at corner into Return is not measured: taken for a square corner to the left.")
	f := stairs("flight", "Lower flight", 8)
	long := f.Clear.Exact(length.Inches).Float()
	g.arrive(layout.Arrival{Run: "flight", Title: "Lower flight", End: "to", Turned: true})
	g.step(postWide / 2)
	top := layout.Spot{Name: "head", X: g.x, Y: g.y, Wide: postWide}
	g.step(long)
	s := layout.Stretch{Run: "flight", Raked: true, To: top, From: layout.Spot{Name: "foot", X: g.x, Y: g.y, Wide: postWide}, Heading: g.head + 180 - 360}
	g.step(postWide / 2)
	g.post("foot")
	g.arrive(layout.Arrival{Run: "flight", Title: "Lower flight", End: "from", Raked: true, Up: true, Turned: true})
	f.From.Wall, f.From.Name, f.To.Wall, f.To.Name = false, "foot", false, "head"
	g.Runs = append(g.Runs, f)
	g.Plan.Stretches = append(g.Plan.Stretches, s)

	g.from("bay left").to(named("bay", "Bay", inches, in(60, 0), 11), "bay mid", 0, true)
	g.turn(-45).to(named("curve", "Round the bay", inches, in(70, 0), 12), "bay end", -70, true)
	return g
}

// landings is more than a phone can hold: seven runs round two landings, one of them not measured, one without a newel, and flights between.
func landings() *guard {
	g := &guard{job: &job.Job{}}
	g.from("wall")
	g.to(named("upper", "Upper hall", inches, in(151, 3), 28), "hall corner", 0, true)
	g.turn(-90).to(named("bridge", "Bridge", inches, in(36, 2), 6), "bridge end", 0, true)
	g.turn(-90).to(stairs("down", "Stair to the half landing", 9), "half landing", 0, false)
	g.Plan.Assumed = append(g.Plan.Assumed, "The turn at bridge end into Stair to the half landing is not measured: taken for a square corner to the right.")
	g.turn(90).to(named("short", "Short side", inches, in(12, 0), 1), "nook", 0, true)
	g.turn(90).to(named("long", "Long side over the front door", inches, in(180, 0), 33), "window", 0, true)
	g.turn(-22.5).to(named("slant", "Slant", inches, in(31, 1), 5), "chimney", 0, true)
	g.turn(-67.5).to(named("last", "Back to the wall", inches, in(50, 0), 9), "wall", 0, true)
	g.Runs[3].Clear = nil
	g.Runs[5].Job.Handrail = nil
	g.Plan.Posts[4].Wide, g.job.Posts[4].Part = 0, nil
	return g
}
