package draw_test

import (
	"fmt"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
)

// railBolt is a bolt of our own.
func railBolt() *job.Bolt {
	return &job.Bolt{Title: text("Rail bolt"), Wide: given(in(0, 5)), Long: given(in(6, 0)), InPost: given(in(2, 8)), Pilot: given(in(0, 4)),
		Bore: given(in(0, 6)), Access: given(in(1, 0)), AccessUp: given(in(1, 8)), Reach: given(in(2, 12))}
}

// headPost is the newel at the head of a stair: a flight falls away from it, a level rail leaves it to the side, another one goes straight on.
// Its block ends 1 short of what they need. By hand: the newel as bought is 47 with its block from 30 1/2 to 42; 2 off the foot and 4 1/2 below
// the floor put the block at 24 to 35 1/2. The raked rail is 2 3/8 over the cosine of 37.776 degrees high where it is cut, 3.0048 in, as in stairs.
func headPost() (layout.Post, *job.Job) {
	j := &job.Job{Posts: []job.Post{{Name: "head", Part: &job.Newel{Profile: newel(), Sized: true, Wide: given(in(3, 8)), Long: given(in(47, 0))}, Foot: text("bolted"), Deep: given(in(4, 8)), Off: given(in(2, 0))}}}
	bolt := railBolt()
	for _, n := range []string{"flight", "gallery", "return"} {
		j.Runs = append(j.Runs, &job.Run{Name: n, Bolt: bolt, Handrail: &job.Handrail{High: given(in(2, 6)), Wide: given(in(2, 4)), Plow: job.Plow{Wide: given(in(1, 4)), Deep: given(in(0, 5))}}})
	}
	p := layout.Post{Name: "head", Known: true, Wide: in(3, 8), Down: in(4, 8),
		BlockFrom: in(24, 0), BlockTo: in(35, 8), NeedFrom: in(27, 4), NeedTo: in(36, 8), Reveal: in(0, 8),
		Cut: &layout.Cut{Length: in(45, 0)},
	}
	p.Arrivals = []layout.Arrival{
		{Run: "flight", Title: "Lower flight", End: "to", Raked: true, Known: true, Top: in(27, 4) + 76_322_000, Under: in(27, 4), Thick: in(2, 6), Wide: in(2, 4), Turned: true,
			Bolt: in(28, 12), BoltDeep: in(2, 8), BoltWide: in(0, 5)},
		{Run: "gallery", Title: "Gallery, along the hall", End: "from", Known: true, Top: in(36, 0), Under: in(33, 10), Thick: in(2, 6), Wide: in(2, 4), Heading: 90, Turned: true,
			Bolt: in(34, 13), BoltDeep: in(2, 8), BoltWide: in(0, 5)},
		{Run: "return", Title: "Return", End: "from", Heading: 180, Skew: 22.5},
	}
	return p, j
}

// postDrawings are the goldens of posts.
func postDrawings(all map[string]string) {
	p, j := headPost()
	plain := layout.Post{Name: "nobody"}
	for _, w := range []int{draw.Phone, 680} {
		all[fmt.Sprintf("post-head-%d.svg", w)] = draw.PostView(p, j, inches, w)
		all[fmt.Sprintf("post-nobody-%d.svg", w)] = draw.PostView(plain, nil, metric, w)
	}
}
