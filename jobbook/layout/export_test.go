package layout

import (
	"fmt"

	"balustrade/jobbook/job"
)

// LeftOutWrongly tells of counts of a job that are left out and pass, and of balls between two balusters on treads that are larger than what goes for the most of them: what is skipped is worked out here all the same.
func LeftOutWrongly(j *job.Job) (list []string) {
	g := Begin(j)
	g.Lay()
	for _, b := range g.runs {
		if len(b.shapes) == 0 || b.Clear == nil || b.foot <= 0 || !b.Limit.Known {
			continue
		}
		if b.Rake == nil {
			for n := 0; n <= 200 && b.fits(n); n++ {
				if (b.hopeless(n) || b.endsOpen(n)) && b.judge(n).Passes {
					list = append(list, fmt.Sprintf("%s: %d balusters", b.ID, n))
				}
			}
		}
		if b.postBalls == nil { // not on treads
			continue
		}
		between, _ := b.tolerances()
		for m := 1; m <= 4; m++ {
			stands := b.pattern(m)
			for i := 1; i < len(stands); i++ {
				left, right := stands[i-1], stands[i]
				if ball, most := b.treadBall(left, right, between).Opening, b.most(left, right, between); ball > most {
					list = append(list, fmt.Sprintf("%s: %d to the tread, after baluster %d: %d nm, %d at the most", b.ID, m, i, ball, most))
				}
			}
		}
	}
	return list
}
