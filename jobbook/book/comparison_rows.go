package book

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/plan"
)

// row is a line to come: its label, and what each way comes to.
type row[T any] struct {
	label string
	of    func(w *way, t T) cellOf
}

// runRows are the lines of a run, in order. A new one is a label and a function.
func runRows(r *layout.Run) []row[*layout.Run] {
	return []row[*layout.Run]{
		{"balusters", func(_ *way, r *layout.Run) cellOf {
			words := say("%d", r.Chosen.Count)
			if r.Kept != nil {
				words = say("%d new between %d old ones", r.Chosen.Count, len(r.Kept.Old))
			}
			if n := r.Chosen.PerTread; n > 0 {
				words += say(", %s on a tread", perTread(r, n))
			}
			return cellOf{words: words}
		}},
		{"baluster", func(_ *way, r *layout.Run) cellOf { return cellOf{words: esc(balusterOf(r))} }},
		{gapLabel(r), func(w *way, r *layout.Run) cellOf {
			return cellOf{words: say("%s %s", w.book.near(r.Chosen.Gap), w.book.unit()), fig: figureID(r.Gap)}
		}},
		{"spacing", func(w *way, r *layout.Run) cellOf {
			if r.Chosen.Count < 2 || r.Kept != nil {
				return cellOf{words: "none"}
			}
			return cellOf{words: say("%s %s", w.book.near(r.Chosen.Spacing), w.book.unit()), fig: figureID(r.Spacing)}
		}},
		{"worst opening", func(w *way, r *layout.Run) cellOf {
			verdict, limit := r.Chosen.Verdict(), markup("")
			if r.Limit.Known {
				limit = w.book.comparison(r.Limit.Op, w.book.limit(r.Limit.Value)) + " wanted"
			}
			return cellOf{say("%s %s, %s", w.book.worst(r, r.Chosen.Worst), w.book.unit(), verdictMark(verdict, verdict.String())), r.WorstFigure(), limit}
		}},
		{"top of the rail", func(w *way, r *layout.Run) cellOf {
			switch {
			case r.Rake != nil && r.Rake.Top > 0:
				return cellOf{words: say("%s %s over the nosings", w.book.near(r.Rake.Top), w.book.unit())}
			case r.Rake == nil && r.Levels.RailTop > 0:
				return cellOf{words: say("%s %s", w.book.near(r.Levels.RailTop), w.book.unit())}
			}
			return cellOf{words: toBeMeasured}
		}},
		{"handrail", func(w *way, r *layout.Run) cellOf {
			if r.Kept != nil {
				return cellOf{words: "the old one stays"}
			}
			if r.Handrail == nil {
				return cellOf{words: toBeMeasured}
			}
			return cellOf{words: say("%s %s", w.book.near(r.Handrail.Length), w.book.unit()), fig: r.Handrail.Figure}
		}},
		{"shoe", func(w *way, r *layout.Run) cellOf {
			switch cuts := r.ShoeCuts(); {
			case r.Job != nil && r.Job.NoShoe:
				return cellOf{words: "none"}
			case r.Kept != nil:
				return cellOf{words: "the old one stays"}
			case len(cuts) == 0:
				return cellOf{words: toBeMeasured}
			case len(cuts) == 1:
				return cellOf{words: say("%s %s", w.book.near(cuts[0].Length), w.book.unit()), fig: cuts[0].Figure}
			default:
				var list []markup
				for _, c := range cuts {
					list = append(list, w.book.near(c.Length))
				}
				return cellOf{words: say("%s %s", joined(" and ", list...), w.book.unit())}
			}
		}},
	}
}

// wholeRows are the lines of the whole job, in order.
var wholeRows = []row[*plan.Plan]{
	{"can it be built", func(w *way, _ *plan.Plan) cellOf {
		a := w.book.answer()
		return cellOf{words: verdictMark(a.verdict, a.words)}
	}},
	{"balusters in all", func(_ *way, p *plan.Plan) cellOf {
		n, note := 0, markup("")
		for _, r := range p.Layout.Runs {
			if r.Chosen == nil {
				note = "as far as runs are laid out"
				continue
			}
			n += r.Chosen.Count
		}
		return cellOf{words: say("%d", n), note: note}
	}},
	{"newels", func(w *way, _ *plan.Plan) cellOf { return cellOf{words: esc(newelsOf(w.book.job))} }},
	{"rules", func(w *way, _ *plan.Plan) cellOf {
		if r := w.book.job.Rules; r != nil {
			return cellOf{words: esc(r.Title.Or(job.Text{Text: r.Name}).Text)}
		}
		return cellOf{words: toBeMeasured}
	}},
	{"finish", func(w *way, _ *plan.Plan) cellOf {
		var list []string
		for _, f := range w.book.job.Finishes {
			if f.Part != nil {
				list = append(list, f.Group+": "+f.Part.Title.Or(job.Text{Text: f.Part.Name}).Text)
			}
		}
		return cellOf{words: esc(strings.Join(list, "; "))}
	}},
	{"checks that fail", counting(finding.Fail)},
	{"checks that wait for a reading", counting(finding.ToBeMeasured)},
	{"to ask the authority", counting(finding.AskAuthority)},
	{"to be measured or decided", func(_ *way, p *plan.Plan) cellOf { return cellOf{words: say("%d", len(p.Missing))} }},
	{"working time", func(_ *way, p *plan.Plan) cellOf {
		c := cellOf{words: esc(duration(p.Sequence.Minutes))}
		for _, s := range p.Sequence.Steps {
			if s.Waits != "" {
				c.note = "as far as counts are known"
			}
		}
		return c
	}},
	{"to buy", func(w *way, p *plan.Plan) cellOf {
		if len(p.Buying.Orders) == 0 {
			return cellOf{words: "nothing yet"}
		}
		note := ""
		if !p.Buying.Complete {
			note = "as far as prices and counts are known"
			if open := notPriced(p); len(open) > 0 {
				note += "; not yet whole: " + listed(open)
			}
		}
		return cellOf{w.book.cash(p.Buying.Known), p.Buying.Figure, esc(note)}
	}},
	{"price", func(w *way, p *plan.Plan) cellOf {
		c := cellOf{words: w.book.cash(p.Price.Total), fig: p.Price.Figure}
		switch {
		case !p.Price.Known:
			c = cellOf{words: "not known yet"}
		case !p.Price.Complete:
			c.note = "at the least"
		}
		return c
	}},
}

// moneyRows are the lines of sums of money, which no edition has.
var moneyRows = []string{"to buy", "price"}

// notPriced names what a sum of orders does not hold yet, or not all of.
func notPriced(p *plan.Plan) (titles []string) {
	add := func(title, name string) {
		if title == "" {
			title = name
		}
		if !slices.Contains(titles, title) {
			titles = append(titles, title)
		}
	}
	for _, n := range p.Takeoff.Needs {
		if !n.Complete {
			add(n.Title, n.Part)
		}
	}
	for _, o := range p.Buying.Orders {
		for _, l := range o.Lines {
			if !l.Complete || !l.Each.Given {
				add(l.Title, l.Part)
			}
		}
	}
	return titles
}

// counting counts the checks of what is to be built that come to a verdict.
func counting(v finding.Verdict) func(*way, *plan.Plan) cellOf {
	return func(_ *way, p *plan.Plan) cellOf {
		return cellOf{words: say("%d", verdicts(p, v))}
	}
}

// balusterOf names a run's baluster; empty while none is chosen.
func balusterOf(r *layout.Run) string {
	if r.Job == nil || r.Job.Baluster == nil {
		return ""
	}
	return r.Job.Baluster.Title.Or(job.Text{Text: r.Job.Baluster.Name}).Text
}

// newelsOf counts the newels of a job, each sort once, in the order of its posts.
func newelsOf(j *job.Job) string {
	var names []string
	count := map[string]int{}
	for _, p := range j.Posts {
		name := "not chosen yet"
		if p.Part != nil {
			name = p.Part.Title.Or(job.Text{Text: p.Part.Name}).Text
		}
		if j.Stays(&p) {
			name += " that stays"
		}
		if count[name]++; count[name] == 1 {
			names = append(names, name)
		}
	}
	for i, name := range names {
		names[i] = fmt.Sprintf("%d × %s", count[name], name)
	}
	return strings.Join(names, "; ")
}
