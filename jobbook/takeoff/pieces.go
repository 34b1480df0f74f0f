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
	var all []layout.Cut
	first := map[part]int{}
	add := func(list ...layout.Cut) {
		all = slices.Grow(all, len(list))
		for _, c := range list {
			p := part{kind(c), c.Part}
			if _, ok := first[p]; !ok {
				first[p] = len(first)
			}
			all = append(all, c)
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
	slices.SortStableFunc(all, func(a, b layout.Cut) int {
		return cmp.Or(
			cmp.Compare(slices.Index(cutOrder, kind(a)), slices.Index(cutOrder, kind(b))),
			cmp.Compare(first[part{kind(a), a.Part}], first[part{kind(b), b.Part}]),
			cmp.Compare(b.Length, a.Length),
		)
	})
	return all
}
