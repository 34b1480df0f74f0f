package takeoff

import (
	"cmp"
	"slices"
	"strings"

	"balustrade/jobbook/layout"
)

// cutOrder is the order in which pieces are cut: the long ones first, while there is still room to choose the stick.
var cutOrder = []string{"newel", "handrail", "shoe", "baluster", "fillet", "rosette"}

// kind is what a cut is a piece of: a shoe fillet and a rail fillet are both fillets, a wall rail is a handrail.
func kind(c layout.Cut) string {
	if strings.HasSuffix(c.What, "fillet") {
		return "fillet"
	}
	if c.What == "wall rail" {
		return "handrail"
	}
	return c.What
}

// pieces puts the cuts of all runs and posts in the order they are cut: by kind, then by part as the runs first use it, then the
// longest first, and otherwise in the order of the runs.
func pieces(l layout.Layout) []layout.Cut {
	type part struct{ kind, name string }
	type placed struct { // cheap to move
		kind, part int
		*layout.Cut
	}
	var order []placed
	first := map[part]int{}
	add := func(list ...layout.Cut) {
		order = slices.Grow(order, len(list))
		for i := range list {
			p := part{kind(list[i]), list[i].Part}
			if _, ok := first[p]; !ok {
				first[p] = len(first)
			}
			order = append(order, placed{slices.Index(cutOrder, p.kind), first[p], &list[i]})
		}
	}
	for _, r := range l.Runs {
		add(r.Cuts()...)
	}
	for _, p := range l.Posts {
		if p.Cut != nil {
			add(*p.Cut)
		}
	}
	slices.SortStableFunc(order, func(a, b placed) int {
		return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(a.part, b.part), cmp.Compare(b.Length, a.Length))
	})
	all := slices.Grow([]layout.Cut(nil), len(order))
	for _, c := range order {
		all = append(all, *c.Cut)
	}
	return all
}
