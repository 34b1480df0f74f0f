package finish

import (
	"slices"
	"strconv"
	"strings"
)

// Stage is one coat on one group as a calendar takes it, in plain minutes: coats alike are a stage each.
type Stage struct {
	Group, Finish, Coat string
	What                string // the group as one calls it here: balusters, or the fillets of the handrail where the rail itself stays as it is
	Base                string // water, oil or shellac; empty where nobody says
	N, Of               int    // which coat of how many
	OnAll               bool   // it is on all pieces already: nothing is left to do but to wait until it is dry
	Day                 string // the day by which it was, year-month-day; empty where nobody says
	Fitted              bool   // goes on once the parts are fitted: the last coat of all but balusters
	Work                int    // working time for the whole group in the shop; 0 where the shop does not say, and of a fitted coat
	Dry                 int    // after it, day and night, before the next coat goes on the same piece; after the last, before hands; 0 while not known
	Cycle               int    // from the first brush-stroke until the last batch is dry, day and night; Dry where there are no batches; 0 while not known
	Within              int    // the next coat holds without sanding within this; 0 where nobody says
	Tape                int    // after the last: until it takes tape and hard cleaning; 0 where nobody says

	Sand    string // how the wood, or the coat under it, is sanded before; empty where nobody says
	On      string // strips or horses; empty where the shop does not say, and of a fitted coat, nor are the next three then
	Pieces  int
	AtATime int // pieces on all strips, or on all horses
	Turns   int // goes that a batch takes: a side each
	Between int // after each go but the last, before the next: what the coat dries
	Goes    []Go
}

// Oil reports a coat whose rags may set themselves on fire: it is oil based, or nobody says what it is.
func (s Stage) Oil() bool { return s.Base == "oil" || s.Base == "" }

// Go is one go of a coat: one side of one batch, all sides of it where they are coated at once.
type Go struct {
	Batch, Batches int // from 1
	Side, Sides    int // from 1
	Pieces         int // of the batch
	Work           int // minutes
}

// mostGoes is how many goes of a coat a calendar shows one by one; a shop with more of them has written something wrong, or knows better.
const mostGoes = 60

// goes are all goes of a coat in order: a batch stands until its last side is dry, then the next takes its place. Work is shared out by pieces.
func (s *Stage) goes(batches int) (list []Go) {
	if batches*s.Turns > mostGoes || s.Pieces <= 0 {
		return nil
	}
	done, all := 0, s.Pieces*s.Turns
	for b := range batches {
		here := min(s.AtATime, s.Pieces-b*s.AtATime)
		for side := range s.Turns {
			list = append(list, Go{b + 1, batches, side + 1, s.Turns, here, s.Work*(done+here)/all - s.Work*done/all})
			done += here
		}
	}
	return list
}

// Stages are all coats of all groups, in the order in which they go on.
func (f *Finishing) Stages() (list []Stage) {
	for i := range f.Groups {
		g := &f.Groups[i]
		s := f.System(g.Finish)
		if s == nil {
			continue
		}
		of := 0
		for _, c := range g.Coats {
			of += max(c.Coat.Times.N, 1)
		}
		list = slices.Grow(list, of)
		n := 0
		for i, c := range g.Coats {
			for range max(c.Coat.Times.N, 1) {
				n++
				base := c.Coat.Base.Or(s.Finish.Base).Text
				x := Stage{Group: g.Name, What: g.What(), Finish: s.Finish.Name, Coat: name(c.Coat), Base: base, N: n, Of: of, Dry: c.Drying.Minutes, Within: c.Drying.Within}
				x.Fitted = n == of && of > 1 && g.Name != "balusters"
				x.Sand = g.sandedBefore(n)
				still := g.StillOf(n)
				if still != nil {
					x.OnAll, x.Day = still.Area == nil, still.Day
				}
				if b := g.Batches; b != nil && !x.Fitted && !x.OnAll && i < len(b.Cycles) {
					cycle, pieces, batches := b.Cycles[i], b.Pieces, b.Batches
					if still != nil && still.Cycle != nil {
						cycle, pieces, batches = *still.Cycle, still.Pieces, b.batchesOf(still.Pieces)
					}
					x.Work, x.Cycle = cycle.Work, cycle.Minutes
					x.On, x.Pieces, x.AtATime, x.Turns, x.Between = b.On, pieces, b.AtATime, b.Turns, c.Drying.Minutes
					x.Goes = x.goes(batches)
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

// sandedBefore is how the wood, or the coat under it, is sanded before the coat so many goes on, counted from 1: grits of bare wood where all of the group is sanded alike.
func (g *Group) sandedBefore(n int) string {
	if n > 1 {
		k := 1
		for _, c := range g.Coats {
			if k += max(c.Coat.Times.N, 1); n <= k {
				return c.Coat.Sand.Text
			}
		}
		return ""
	}
	words := ""
	for i, l := range g.Lines {
		var grits []string
		if s := g.Finish.Sanded(l.Species.Text); s != nil {
			for _, grit := range s.Grits {
				grits = append(grits, strconv.Itoa(grit.N))
			}
		}
		if w := strings.Join(grits, ", then "); i == 0 {
			words = w
		} else if w != words {
			return "the grits of its wood"
		}
	}
	return words
}

// What is the group as one calls it in this job: where rail or shoe is an old one that stays, only the new fillets in it are coated.
func (g *Group) What() string {
	for _, l := range g.Lines {
		if l.Kind != "fillet" {
			return g.Name
		}
	}
	if len(g.Lines) == 0 {
		return g.Name
	}
	return "fillets of the " + g.Name
}
