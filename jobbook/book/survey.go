package book

import (
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
)

// found is what else a survey tells: what helps a climb, the hazards of the house, what a look inside showed, what the old guard leaves, and what of it stays.
func (b *book) found(s *job.Survey) markup {
	var w writer
	climb := table{label: "What a child can stand on to climb", heads: []head{column("What"), num("Top above the floor", b.unit())}}
	for _, c := range s.Climb {
		climb.row(b.words(c.What), b.read(c.At))
	}
	climb.put(&w)
	if len(s.Hazards) > 0 {
		w.put("<h3>Hazards of the house</h3>\n", b.list(s.Hazards))
	}
	w.put(b.inside(s))
	w.put(b.leaves(s))
	if len(s.Keeps) > 0 {
		w.put("<h3>What stays, or is used again</h3>\n", b.list(s.Keeps))
	}
	return w.markup()
}

// inside is what a look into floor, wall or ceiling showed.
func (b *book) inside(s *job.Survey) markup {
	i := s.Inside
	if i == (job.Inside{}) {
		return ""
	}
	facts := pairs{class: "facts"}
	facts.add("opened", b.words(i.Where))
	facts.add("framing", b.words(i.Framing))
	if i.Joists.Given {
		facts.add("joists", say("%s the edge", b.words(i.Joists)))
	}
	facts.add("blocking where posts stand", b.flag(i.Blocking))
	facts.add("seen besides", b.words(i.Note))
	return "<h3>A look inside</h3>\n" + facts.markup()
}

func (b *book) list(texts []job.Text) markup {
	var w writer
	for _, t := range texts {
		w.put("<li>", b.words(t), "</li>\n")
	}
	return "<ul>\n" + w.markup() + "</ul>\n"
}

// leaves is what an old guard leaves to be seen, and whether the new one covers it.
func (b *book) leaves(s *job.Survey) markup {
	t := table{label: "What the old guard leaves", heads: []head{column("What"), num("Wide", b.unit()), num("Off the middle", b.unit()), column("Covered")}}
	for _, l := range b.plan.Layout.Leaves {
		if l.Survey != s.Name {
			continue
		}
		covered := markup("no, nothing comes over it: patch it")
		switch {
		case l.Open != "" || l.By != "" && l.Shows == nil:
			covered = toBeMeasured
		case l.Covered():
			covered = say("yes, by %s, with %s %s to spare", l.By, b.figure(l.Shows, b.exact(-l.Shows.Exact(b.job.System))), b.unit())
		case l.Shows != nil:
			covered = say("no: %s %s shows beside %s; patch it, or take a wider one", b.figure(l.Shows, b.exact(l.Shows.Length(b.job.System, length.Nanometre, length.Nearest))), b.unit(), l.By)
		}
		t.row(b.words(l.What), b.read(l.Wide), b.read(l.Shift), covered)
	}
	return t.markup()
}

// family says in plain words what the faults of an old guard mean where children live.
func (b *book) family(s *job.Survey) markup {
	said := map[string]bool{}
	var w writer
	say := func(name string) {
		if !said[name] {
			said[name] = true
			w.put("<li>", b.fixed(name, nil), "</li>\n")
		}
	}
	if s.Loose.Yes {
		say("family-loose")
	}
	for _, f := range b.plan.Findings {
		if f.Group != "survey/"+s.Name || f.Verdict != finding.Fail {
			continue
		}
		for _, x := range []struct{ limit, passage string }{{"guard-height", "family-height"}, {"guard-opening", "family-opening"}, {"foothold", "family-foothold"}} {
			if strings.Contains(f.ID, "/"+x.limit) {
				say(x.passage)
			}
		}
	}
	if s.Coated.Text != "bare" && !(b.job.Built.Given && b.job.Built.N >= 1978) {
		say("family-coat")
	}
	if w.Len() == 0 {
		return ""
	}
	return "<h3>What it means for the family</h3>\n<ul>\n" + w.markup() + "</ul>\n"
}
