package book

import (
	"slices"
	"strings"

	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/load"
	"balustrade/jobbook/working"
)

// loadsPage is what the guard is screened for: the loads, what each part comes to under them, and how posts share.
func (b *book) loadsPage(w *writer) {
	s := b.plan.Loads
	if len(s.Loads) == 0 {
		return
	}
	w.put(b.fixed("about-loads", nil))
	t := table{label: "Loads, each by itself", heads: []head{column("Load"), column("Where"), column("Value"), column("Clause")}}
	for _, l := range s.Loads {
		value := esc(ratio(l.Value))
		if l.Side.Given {
			value += say(" on a square of %s %s", b.exact(l.Side.Length), b.unit())
		}
		t.row(esc(capital(l.Title)), esc(loadWords(l.Name)), say("<b>%s</b>", b.figure(l.Force, value)), joined(", ", b.recorded(l.Value.At, esc(l.Clause.Text)), esc(l.Status.String()), esc(l.Set)))
	}
	w.say(`<section id="loads"><h2>What it is to take</h2>`+"\n%s", &t)
	for _, l := range s.Loads {
		if l.Note.Given {
			w.say("<p>%s: %s</p>\n", capital(l.Title), sentence(l.Note.Text))
		}
	}
	factor := say("<p>Fixings are screened with a load duration factor C<sub>D</sub> of %s", esc(decimal(s.Factor, 2, length.Nearest)))
	if b.job.Duration.Given {
		factor += say(", written in %s", b.where(b.job.Duration.At))
	}
	w.put(factor, ". No code text fixes it for guards.</p>\n")
	for _, r := range b.plan.Layout.Runs {
		if r.Job != nil && r.Job.Stays() {
			w.say("<p>%s: the old guard stays, and only its new balusters are screened, each by itself. How much the old rail, its balusters and posts and what holds them carry is not known from their sizes: push them, and ask an engineer where it is in doubt.</p>\n", esc(r.Title))
		}
	}
	w.put("</section>\n")
	for i := 0; i < len(s.Members); {
		group := s.Members[i].Group
		from := i
		for i < len(s.Members) && s.Members[i].Group == group {
			i++
		}
		b.loadGroup(w, group, s.Members[from:i])
	}
	w.put(b.loadSharing(s.Sharing))
}

// loadWords is what a load is, as the reference of rule sets says it.
func loadWords(name string) string {
	for _, k := range job.LoadNames {
		if k.Key == name {
			return k.Doc
		}
	}
	return ""
}

// loadGroup is the members of one stretch or post: a row for each load on each, and below it what the ones that are not simply screened need.
func (b *book) loadGroup(w *writer, group string, members []load.Member) {
	w.say(`<section id="loads-%s"><h2>%s</h2>`+"\n", anchor(group), b.groupTitle(group))
	t := table{label: "What " + b.groupTitle(group) + " comes to", wide: true, heads: []head{column("Part"), column("Verdict"), column("Load"), column("Comes to"), num("Share", ""), num("Recalled", ""), num("Goes aside", b.unit())}}
	for _, m := range members {
		part, verdict := esc(m.Title), verdictMark(m.Verdict, m.Verdict.String())
		if i := slices.IndexFunc(b.plan.Findings, func(f finding.Finding) bool { return f.ID == m.ID() }); i >= 0 {
			part = say(`<a href="checks.html#%s">%s</a>`, findingAnchor(b.plan.Findings[i]), m.Title)
		}
		if len(m.Cases) == 0 {
			t.row(part, verdict, "", "", "", "", "")
		}
		for i, c := range m.Cases {
			if i > 0 {
				part, verdict = "", ""
			}
			share, recalled, aside := markup("none"), markup(""), markup("")
			if c.Ratio != nil {
				share = say("<b>%s</b>", b.figure(c.Ratio, esc(load.Ratio(c.Ratio))))
			}
			if c.Recall != nil {
				recalled = b.figure(c.Recall, esc(load.Ratio(c.Recall)))
			}
			if c.Sag != nil {
				aside = b.force(c.Sag, false)
			}
			load := b.loadTitle(c.Load)
			if c.How != "" {
				load += ", " + c.How
			}
			t.row(part, verdict, esc(load), b.force(c.Comes, true), share, recalled, aside)
		}
	}
	t.put(w)
	for _, m := range members {
		if m.Verdict == finding.Screened {
			w.say("<p>%s: screened, %s. To be confirmed by a licensed engineer.</p>\n", capital(m.Title), m.Words)
			continue
		}
		w.say("<p><b>%s</b>: %s", capital(m.Title), capital(sentence(m.Words)))
		if m.Get != "" && m.Verdict != finding.ToBeMeasured {
			w.say(" What to get: %s", sentence(m.Get))
		}
		w.put("</p>\n")
	}
	w.put("</section>\n")
}

func (b *book) loadTitle(name string) string {
	for _, l := range b.plan.Loads.Loads {
		if l.Name == name {
			return capital(l.Title)
		}
	}
	return name
}

// force is a figure of the screening in the units of the job: it is worked in pounds and inches, the units of the handbooks.
func (b *book) force(f *working.Figure, unit bool) markup {
	if f == nil || !f.Value.Known() {
		return toBeMeasured
	}
	value, name, places := f.Value, f.Unit, 0
	if b.job.System == length.Millimetres {
		// By definition (a pound is 4.4482216152605 N), and whole: a rounded factor would print 1 kN as 1001 N, for what is shown is rounded up.
		for _, x := range []struct{ from, to, factor, over string }{{"psi", "MPa", "4.4482216152605", "645.16"}, {"lb in", "N m", "0.1129848290276167", "1"}, {"lb/in", "N/mm", "4.4482216152605", "25.4"}, {"lb", "N", "4.4482216152605", "1"}, {"in", "mm", "25.4", "1"}} {
			if x.from == name {
				factor, _ := exact.Parse(x.factor)
				over, _ := exact.Parse(x.over)
				value, name = value.Mul(factor).Quo(over), x.to
				break
			}
		}
	}
	switch name {
	case "in":
		places = 2
	case "MPa", "mm":
		places = 1
	case "":
		places = 2
	}
	text := decimal(value, places, length.Up)
	if name == "" { // of a wall end, the part that can be said
		return say("%s of what its screws in the wall hold", b.figure(f, esc(text)))
	}
	if !unit {
		return b.figure(f, esc(text))
	}
	return say("%s %s", b.figure(f, esc(text)), strings.ReplaceAll(name, "lb in", "lb·in"))
}

// loadSharing shows what the rails and corners do.
func (b *book) loadSharing(list []load.Share) markup {
	if len(list) == 0 {
		return ""
	}
	t := table{label: "What stays with each post", heads: []head{column("Post"), column("Load square to"), num("Stays with it", "%"), column("Moment at its foot alone"), column("With its share")}}
	for _, x := range list {
		percent := x.Part.Value.Mul(exact.Of(100))
		t.row(esc(x.Post), esc(x.Along), b.figure(x.Part, esc(decimal(percent, 0, length.Up))), b.force(x.Alone, true), b.force(x.Foot, true))
	}
	t.foot = "The rails hand a load on to the next post and to walls; at a corner one rail is pushed along its length, where it is stiff. The worst direction of each post is shown. Every foot is taken as rigid and every bolt as a hinge, so this judges nothing: each post is screened above as if it stood alone."
	return say(`<section id="sharing"><h2>What corners and rails do</h2>`+"\n%s</section>\n", &t)
}
