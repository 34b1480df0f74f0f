package finish

// Stage is one coat on one group as a calendar takes it, in plain minutes: coats alike are a stage each.
type Stage struct {
	Group, Finish, Coat string
	Base                string // water, oil or shellac; empty where nobody says
	N, Of               int    // which coat of how many
	Fitted              bool   // goes on once the parts are fitted: the last coat of all but balusters
	Work                int    // working time for the whole group in the shop; 0 where the shop does not say, and of a fitted coat
	Dry                 int    // after it, day and night, before the next coat goes on the same piece; after the last, before hands; 0 while not known
	Cycle               int    // from the first brush-stroke until the last batch is dry, day and night; Dry where there are no batches; 0 while not known
	Within              int    // the next coat holds without sanding within this; 0 where nobody says
	Tape                int    // after the last: until it takes tape and hard cleaning; 0 where nobody says
}

// Stages are all coats of all groups, in the order in which they go on.
func (f *Finishing) Stages() (list []Stage) {
	for _, g := range f.Groups {
		s := f.System(g.Finish)
		if s == nil {
			continue
		}
		of := 0
		for _, c := range g.Coats {
			of += max(c.Coat.Times.N, 1)
		}
		n := 0
		for i, c := range g.Coats {
			for range max(c.Coat.Times.N, 1) {
				n++
				x := Stage{Group: g.Name, Finish: s.Finish.Name, Coat: name(c.Coat), Base: c.Coat.Base.Or(s.Finish.Base).Text, N: n, Of: of, Dry: c.Drying.Minutes, Within: c.Drying.Within}
				x.Fitted = n == of && of > 1 && g.Name != "balusters"
				if b := g.Batches; b != nil && !x.Fitted && i < len(b.Cycles) {
					x.Work, x.Cycle = b.Cycles[i].Work, b.Cycles[i].Minutes
				}
				if n == of {
					x.Dry, x.Within, x.Tape = s.Hands.Minutes, 0, s.Tape.Minutes
				}
				if x.Cycle == 0 {
					x.Cycle = x.Dry
				}
				list = append(list, x)
			}
		}
	}
	return list
}
