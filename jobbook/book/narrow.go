package book

import "balustrade/jobbook/plan"

// narrow tells of delivered widths that change a count, or whether it passes: which, what that asks for, and the other way out.
func (b *book) narrow() markup {
	var w writer
	for _, n := range b.plan.Narrow {
		var came, runs []markup
		for i, m := range n.Came {
			came = append(came, say("%s %s from %s", b.read(m), b.unit(), n.From[i]))
		}
		for _, x := range n.Runs {
			link := say(`<a href="layout.html#%s">%s</a>`, runAnchor(x.Run), b.runTitle(x.Run))
			runs = append(runs, say("%s: ", link)+narrowRun(x))
		}
		what := "the narrowest"
		if n.Usual {
			what = "most of them"
		}
		w.say("<p><b>%s is not as planned:</b> %s %s. That changes the guard: ", n.Title, what, joined(", ", came...))
		w.put(joined("; ", runs...), ".")
		switch {
		case n.More == 1:
			w.put(" It asks for 1 more.")
		case n.More > 1:
			w.say(" Together that asks for %d more.", n.More)
		}
		if n.Least > 0 {
			keeps := "counts stay"
			if !n.Stays {
				keeps = "narrowest changes no count; what the width of most of them does stands beside it"
			}
			w.say(" The other way out: set aside every one that is under <b>%s</b> %s wide (in the delivery, back: with how many they are, narrowest: with the narrowest of the rest), and the %s.", b.exact(n.Least), b.unit(), keeps)
			if left := n.Usable - 1; n.Complete && n.Usable > 0 {
				enough := "enough"
				if left < n.Needed {
					enough = counted(n.Needed-left, "is short then", "are short then")
				}
				w.say(" With one set aside %d are there for %d places: %s.", left, n.Needed, enough)
			}
		}
		w.put("</p>\n")
	}
	return w.markup()
}

func narrowRun(x plan.NarrowRun) markup {
	verdict := func(passes bool) string {
		if passes {
			return "passes"
		}
		return "does not pass"
	}
	switch {
	case x.With < 0:
		return say("no count passes, where %d would without it", x.Without)
	case x.Without < 0:
		return say("<b>%d</b> pass, where no count would without it", x.With)
	case x.With == x.Without:
		return say("%d %s, and %s without it", x.With, verdict(x.Passing), verdict(x.Passed))
	}
	return say("<b>%d</b> balusters, %d without it", x.With, x.Without)
}
