package draw_test

import (
	"fmt"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
)

// bolted is a level run and a flight with bolts at their ends.
func bolted() (level, raked *layout.Run) {
	level, raked = named("level", "Gallery", inches, in(94, 7), 17), stairs("rake", "Lower flight", 8)
	for _, r := range []*layout.Run{level, raked} {
		r.Job.Bolt = railBolt()
		r.Job.Handrail.Plow = job.Plow{Wide: given(in(1, 4)), Deep: given(in(0, 5))}
		r.From.Wall, r.From.Name, r.To.Wall, r.To.Name = false, "foot", false, "head"
		for i := range r.RailBores { // 6 less 2 1/2 in the post; 1 1/2 by the bolt's part
			r.RailBores[i] = layout.RailBore{Deep: figure("bore", in(3, 8), length.Inches), Access: figure("access", in(1, 8), length.Inches)}
		}
	}
	return level, raked
}

// railEndDrawings are the goldens of rails' ends.
func railEndDrawings(all map[string]string) {
	level, raked := bolted()
	bare, _ := bolted()
	bare.Job.Bolt, bare.Job.Handrail = &job.Bolt{}, nil
	bare.ID, bare.RailBores = "run/bare", [2]layout.RailBore{}
	round, _ := bolted()
	round.ID = "run/round"
	round.Job.Handrail.Section = text("round")
	round.Job.Handrail.High = round.Job.Handrail.Wide
	for _, w := range []int{draw.Phone, 680} {
		all[fmt.Sprintf("rail-end-level-%d.svg", w)] = draw.RailEndView(level, 0, inches, w)
		all[fmt.Sprintf("rail-end-lower-%d.svg", w)] = draw.RailEndView(raked, 0, inches, w)
		all[fmt.Sprintf("rail-end-upper-%d.svg", w)] = draw.RailEndView(raked, 1, inches, w)
		all[fmt.Sprintf("rail-end-bare-%d.svg", w)] = draw.RailEndView(bare, 1, metric, w)
		all[fmt.Sprintf("rail-end-round-%d.svg", w)] = draw.RailEndView(round, 1, metric, w)
	}
}
