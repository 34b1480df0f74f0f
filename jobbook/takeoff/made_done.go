package takeoff

import (
	"balustrade/jobbook/finish"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
)

// Coated are the coats on pieces that go in a place, as far as it was recorded how many there are. all is every piece of the job, Takeoff.Pieces.
func (m MadeTake) Coated(all []layout.Cut) (list []finish.Coated) {
	for _, x := range m.Pieces {
		if x.Piece >= 0 && x.Of.Coats.N > 0 {
			list = append(list, finish.Coated{Cut: all[x.Piece], Coats: x.Of.Coats.N, Day: x.Of.Day.Text})
		}
	}
	return list
}

// Uncoated are pieces that go in a place and of which nobody says how many coats are on them, by the group of parts they belong to.
func (m MadeTake) Uncoated(all []layout.Cut, group string) (list []*job.Made) {
	for _, x := range m.Pieces {
		if x.Piece >= 0 && !x.Of.Coats.Given && finish.GroupOf(all[x.Piece].What) == group {
			list = append(list, x.Of)
		}
	}
	return list
}

// Done counts what of a quantity that steps count, by job.Quantities, is made already, by how far: job.MadeStates. Cut are pieces that fit as they are, coated those with all coats that go on before they are fitted.
func (t Takeoff) Done(j *job.Job, l layout.Layout) map[string]map[string]int {
	done := map[string]map[string]int{}
	add := func(state string, n int, quantities ...string) {
		for _, q := range quantities {
			if done[q] == nil {
				done[q] = map[string]int{}
			}
			done[q][state] += n
		}
	}
	if len(t.Made.Pieces) == 0 {
		return done
	}
	rails, drilled := map[string]int{}, t.Made.drilled()
	for _, x := range t.Made.Pieces {
		if x.Piece < 0 {
			continue
		}
		c := t.Pieces[x.Piece]
		r := run(l, c.Run)
		var of []string
		switch c.What {
		case "baluster":
			of = []string{"balusters"}
			if r != nil && r.Job.Stair != nil {
				of = append(of, "flight-balusters")
			}
		case "newel":
			of = []string{"posts"}
		case "shoe":
			of = []string{"shoes"}
		case "shoe fillet", "rail fillet":
			of = []string{"fillets"}
		case "rosette":
			of = []string{"rosettes"}
		case "handrail": // several pieces may make a rail, which is counted once
			if x.Fate == AsItIs {
				rails[c.Run]++
			}
		}
		if x.Fate == AsItIs {
			add("cut", 1, of...)
		}
		if n := shopCoats(j, c.What); n > 0 && x.Of.Coats.N >= n {
			add("coated", 1, of...)
		}
	}
	for _, r := range l.Runs {
		if r.Job.Stays() {
			continue
		}
		kind := "level-rails"
		if r.Job.Stair != nil {
			kind = "flights"
		}
		if n := len(r.RailCuts()); n > 0 && rails[r.Name] >= n {
			add("cut", 1, "handrails", kind)
		}
		if r.Chosen != nil {
			for state, where := range map[string]string{"shoe-drilled": "in the shoe", "rail-drilled": "in the handrail"} {
				if !drilled[[2]string{r.Name, where}] {
					continue
				}
				add(state, r.Chosen.Count, "balusters")
				if r.Job.Stair != nil {
					add(state, r.Chosen.Count, "flight-balusters")
				}
			}
		}
		for _, e := range []job.End{r.Job.From, r.Job.To} {
			if e.Post != nil && drilled[[2]string{r.Name, "rail's end at " + e.Post.Name}] && drilled[[2]string{r.Name, "post " + e.Post.Name}] {
				add("bored", 1, "post-ends")
			}
		}
	}
	return done
}

// shopCoats is how many coats go on a piece before it is fitted: all but the last, of balusters all. 0 where no finish is chosen.
func shopCoats(j *job.Job, what string) int {
	group := finish.GroupOf(what)
	for _, u := range j.Finishes {
		if u.Group != group || u.Part == nil {
			continue
		}
		n := u.Part.AllCoats()
		if group != "balusters" && n > 1 {
			n--
		}
		return n
	}
	return 0
}
