package load

import (
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// walls screens the ends of a rail at walls: the load drawn straight off the wall. The screws from rosette to rail are in end grain, and toggles hold in nothing that a table knows.
func (s *screen) walls(r *layout.Run) {
	for i, e := range []job.End{r.Job.From, r.Job.To} {
		if !e.IsWall() || r.Job.Handrail == nil {
			continue
		}
		name := []string{"wall end from", "wall end to"}[i]
		m := Member{Group: r.ID, Name: name, Title: []string{"the rail's end at the wall, at the datum end", "the rail's end at the wall, at the far end"}[i], Get: "blocking behind it, and a bracket or plate with a tested rating"}
		l, ok := s.load("rail-point")
		if !ok {
			m.Verdict, m.Words = finding.AskAuthority, "the rule set has no single load on the rail to draw it off the wall with: ask an engineer what its end is to hold"
			s.Members = append(s.Members, m)
			continue
		}
		c := Case{Load: l.Name, Comes: l.Force}
		switch {
		case e.Held.Text == "toggles":
			m.Cases = append(m.Cases, c)
			s.settle(m, "toggles in plaster board carry tens of pounds (recalled), and no table has a value for this")
			continue
		case !e.Held.Given:
			continue // the layout asks
		case e.Plate == nil:
			m.Cases = append(m.Cases, c)
			s.settle(m, "there is no plate between rail and wall to say what holds it")
			continue
		}
		s.rosette(&m, r, e, c, []string{"from", "to"}[i])
	}
}

// rosette works out what the screws of a rosette hold in stud or blocking. Only a rating settles the end as a whole: those from the rosette into the rail hold in end grain.
func (s *screen) rosette(m *Member, r *layout.Run, e job.End, c Case, side string) {
	none := "the screws from the rosette into the rail hold in end grain, which has none when drawn out"
	for _, f := range s.job.Ways("rosette to wall") {
		if f.Part == nil || f.Part.Type.Text != "wood screw" && f.Part.Type.Text != "lag screw" || !e.Plate.Thick.Given {
			continue
		}
		sp, missing := s.species(s.job.Under(r.Job).Framing, "wall framing", s.job.File+", floor: {framing: }")
		if missing != nil {
			s.waits(*m, *missing)
			return
		}
		if !e.Lining.Given {
			at := e.Lining.At
			if at.IsZero() {
				at = e.Where.At
			}
			s.waits(*m, finding.Reading{What: "how thick plaster or board is over the stud or blocking there", Where: r.Job.File + ", " + side + ": {lining: }", Why: "how much of the screws' thread is in wood", Group: r.ID, At: at})
			return
		}
		hold, _, missing := s.drawn(r.ID+"/load/"+side+"/hold", f.Part, sp, e.Plate.Thick.Length-f.Sunk.Length+e.Lining.Length, "rosette and lining", job.Measure{}, false)
		if missing != nil {
			s.waits(*m, *missing)
			return
		}
		if hold == nil {
			break
		}
		count := int64(1)
		if f.Count.Given {
			count = int64(f.Count.N)
		}
		share := s.work(r.ID+"/load/"+side, "share of what the screws of the rosette hold in the wall, drawn straight off", "k", "", working.Quotient(c.Comes.In(), working.Product(working.Count("n", "screws of a rosette", count, f.Count.At), hold)), withdrawal)
		m.Words = "of the screws from the rosette into the wall, ratio " + Ratio(share) + " by NDS 12.2, C_D " + factorWords(s.Factor) + " (" + notCounted + "); "
		c.Comes = share
		break
	}
	words := m.Words
	m.Cases = append(m.Cases, c)
	s.settle(*m, none)
	last := &s.Members[len(s.Members)-1]
	last.Words = words + last.Words
	if c.Comes.Unit == "" && c.Comes.Value.Cmp(one) > 0 {
		last.Verdict = finding.Fail // whatever holds in the rail, the wall does not
	}
}

// bolts screens the thread of the rail's bolts in its posts, the rail drawn along its length.
func (s *screen) bolts(r *layout.Run) {
	bolt := r.Job.Bolt
	inPost := func(e job.End) bool { return e.Post != nil && e.Post.Part != nil && !e.Over.Yes }
	if bolt == nil || !inPost(r.Job.From) && !inPost(r.Job.To) {
		return
	}
	l, ok := s.load("rail-point")
	m := Member{Group: r.ID, Name: "bolts", Title: "the rail's bolts in its posts, drawn out", Get: "bolts with a tested rating, or posts of a wood that the tables have"}
	if !ok {
		m.Verdict, m.Words = finding.AskAuthority, "the rule set has no single load on the rail to draw them out with: ask an engineer what they are to hold"
		s.Members = append(s.Members, m)
		return
	}
	none, waiting := "", (*finding.Reading)(nil)
	for i, e := range []job.End{r.Job.From, r.Job.To} {
		if !inPost(e) {
			continue
		}
		side := []string{"from", "to"}[i]
		c := Case{Load: l.Name, How: "at " + e.Post.Name, Comes: l.Force}
		sp, missing := s.species(e.Post.Part.Species, "newel", e.Post.Part.File+", species: ")
		if missing == nil && !bolt.InPost.Given {
			at := bolt.InPost.At
			if at.IsZero() {
				at = source.Pos{File: bolt.File}
			}
			missing = &finding.Reading{What: "how far the bolt goes into the post", Where: bolt.File + ", in-post: ", Why: "what its thread holds", Group: loads, At: at}
		}
		var hold working.Expr
		if missing == nil {
			thread := &job.Fixing{Origin: bolt.Origin, Title: job.Text{Text: titled(bolt.Title, bolt.Name), Given: true}, Type: job.Text{Text: "lag screw"}, Wide: bolt.Wide, Thread: bolt.InPost}
			hold, c.By, missing = s.drawn(r.ID+"/load/bolt-"+side+"/hold", thread, sp, 0, "", job.Measure{}, true)
		}
		if missing != nil {
			waiting = missing
			continue
		}
		if hold == nil {
			none = "the fastening tables have no specific gravity for " + strings.ToLower(sp.Title.Text)
		} else {
			c.Ratio = s.work(r.ID+"/load/bolt-"+side, "share of what the bolt's thread holds in "+e.Post.Name, "k", "", working.Quotient(c.Comes.In(), hold), withdrawal)
		}
		m.Cases = append(m.Cases, c)
	}
	fails := slices.ContainsFunc(m.Cases, func(c Case) bool { return c.Ratio != nil && c.Ratio.Value.Known() && c.Ratio.Value.Cmp(one) > 0 })
	if waiting != nil {
		if !fails { // one end that fails is said, whatever the other one still waits for
			s.waits(m, *waiting)
			return
		}
		s.need(*waiting)
	}
	s.settle(m, none)
}

// wallRail names the rail on the wall beside a flight, of whose brackets nothing published says what they hold.
func (s *screen) wallRail(r *layout.Run) {
	if r.WallRail == nil {
		return
	}
	l, ok := s.load("rail-point")
	m := Member{Group: r.ID, Name: "wall rail", Title: "the rail on the wall, on its brackets", Get: "brackets with a tested rating, each into a stud or blocking"}
	if ok {
		m.Cases = []Case{{Load: l.Name, Comes: l.Force}}
	}
	s.settle(m, "what brackets hold is their maker's to say, and what their screws hold sideways is not worked out here")
}
