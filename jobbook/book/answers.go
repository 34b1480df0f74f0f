package book

import (
	"slices"
	"strings"

	"balustrade/jobbook/changes"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
)

// answersPage is the first page: what stops the job, the numbers to carry, what is missing, what is next.
func (b *book) answersPage(w *writer) {
	w.put(`<section id="answer"><h2>Can this be built as drawn?</h2>`, "\n")
	a := b.answer()
	w.put("<p class=\"answer\">", verdictMark(a.verdict, a.words), "</p>\n")
	w.put(b.findings(finding.Fail, "What stops it"))
	w.put(b.findings(finding.AskAuthority, "To settle with the authority or an engineer"))
	w.put(b.oldGuard())
	if c := b.plan.Changes; c != nil && !c.Same() {
		w.say(`<p><a href="changes.html">Not as in %s</a>: %s. Look before the next cut.</p>`+"\n", c.With(), counted(len(c.Of(changes.Reading))+len(c.Of(changes.Choice)), "reading or choice differs", "readings and choices differ"))
	}
	if _, open := b.punched(); open > 0 && b.edition != Inspector {
		w.say(`<p><a href="hand-over.html#punch">%s open on the punch list</a>.</p>`+"\n", counted(open, "item is", "items are"))
	}
	w.put(b.lostLine())
	w.put(b.late())
	w.put("</section>\n")
	w.put(b.carry(), b.missing(), b.next(), b.bitingNow())
	if p := b.prose(b.job.Prose.Document); p != "" {
		w.put(`<section id="about"><h2>About this job</h2>`, "\n", p, "</section>\n")
	}
	w.put(b.rest())
}

// findings lists the findings of one verdict about what is to be built, in words.
func (b *book) findings(v finding.Verdict, title string) markup {
	var w writer
	loads, said := 0, ""
	var unlimited []finding.Finding // told in one line, behind what can be settled
	for _, f := range b.checked() {
		if f.Verdict != v || b.plan.OfOld(f) {
			continue
		}
		if f.Unlimited != "" {
			unlimited = append(unlimited, f)
			continue
		}
		if v == finding.AskAuthority && strings.Contains(f.ID, "/load-") { // told on their own page, so that they do not hide the rest
			loads++
			continue
		}
		w.put("<li>")
		w.say(`<a href="checks.html#%s">%s</a>, %s`, findingAnchor(f), f.Title, b.groupTitle(f.Group))
		if numbers := b.comparedWith(f); numbers != "" {
			w.put(". ", numbers)
		}
		w.put(".")
		switch {
		case f.Cure != "":
			w.say(" What would cure it: %s", sentence(f.Cure))
		case f.Note != "" && f.Note == said:
			w.put(" The same holds as for the one before.")
		case f.Note != "":
			w.say(" %s", sentence(f.Note))
		}
		said = f.Note
		w.put("</li>\n")
	}
	if loads > 0 {
		w.say(`<li>Loads: <a href="loads.html">%s</a> without a published value, or over a recalled one: an engineer, or hardware with a tested rating, settles them.</li>`+"\n", counted(loads, "point", "points"))
	}
	w.put(b.unlimited(unlimited))
	if w.Len() == 0 {
		return ""
	}
	return say("<h3>%s</h3>\n<ul>\n%s</ul>\n", title, &w)
}

// oldGuard says what the survey found, where it found a fault.
func (b *book) oldGuard() markup {
	fails := 0
	for _, f := range b.checked() {
		if b.plan.OfOld(f) && f.Verdict == finding.Fail {
			fails++
		}
	}
	if fails == 0 {
		return ""
	}
	return say("<p>%s</p>\n", verdictMark(finding.Fail, "The old guard, as found, fails "+counted(fails, "check", "checks")+": close it off until the new one stands")) +
		"<p><a href=\"checks.html\">See the checks</a></p>\n"
}

// carry is the numbers to keep in the head, run by run.
func (b *book) carry() markup {
	var w writer
	for _, r := range b.plan.Layout.Runs {
		numbers := pairs{class: "carry"}
		if c := r.Chosen; c != nil {
			numbers.add(countLabel(r), say("%d", c.Count))
			if c.PerTread > 0 {
				numbers.add("on a tread", perTread(r, c.PerTread))
			}
			if r.Kept != nil {
				numbers.add("old balusters that stay", say("%d", len(r.Kept.Old)))
			}
			numbers.add(gapLabel(r), say("%s %s", b.figure(r.Gap, b.near(c.Gap)), b.unit()))
			numbers.add(worstLabel(c), say("%s %s", b.worst(r, c.Worst), b.unit()))
		}
		if r.Handrail != nil {
			numbers.add("handrail", say("%s %s", b.figured(r.Handrail.Figure, b.mark(r.Handrail.Length)), b.unit()))
			if k := r.Rake; k != nil && k.Angle != nil {
				numbers.add("angle", b.amount(k.Angle, 1, length.Nearest)+"°")
			}
		} else if r.Chosen != nil && r.Kept == nil {
			numbers.add("handrail", toBeMeasured)
		}
		if r.Shoe != nil {
			for _, c := range r.ShoeCuts() {
				numbers.add("shoe", say("%s %s", b.figured(c.Figure, b.mark(c.Length)), b.unit()))
			}
		} else if r.Chosen != nil && r.Kept == nil && r.Job != nil && !r.Job.NoShoe {
			numbers.add("shoe", toBeMeasured)
		}
		w.say(`<h3><a href="layout.html#%s">%s</a></h3>`+"\n", runAnchor(r.Name), b.runTitle(r.Name))
		numbers.put(&w)
		if near := b.byHair(r); near != "" {
			w.line(sentence("the worst opening " + near))
		}
		if r.Chosen == nil {
			w.put("<p>", verdictMark(finding.ToBeMeasured, "cannot be laid out yet"), "</p>\n")
		}
	}
	if w.Len() == 0 {
		return ""
	}
	return say(`<section id="numbers"><h2>Numbers to carry</h2>`+"\n%s</section>\n", &w)
}

// missing lists what is still to be measured or decided.
func (b *book) missing() markup {
	if len(b.plan.Missing) == 0 {
		return ""
	}
	return say(`<section id="missing"><h2>Still to be measured or decided</h2>`+"\n%s</section>\n", b.missingList(b.plan.Missing))
}

func (b *book) missingList(list []finding.Reading) markup {
	var w writer
	w.put("<ul>\n")
	for _, m := range list {
		w.say("<li>%s", capital(m.What))
		if m.Where != "" && b.edition != Inspector {
			w.put(": write it in ", b.recorded(m.At, say("<code>%s</code>", m.Where)))
			if strings.HasPrefix(m.Where, "library/") { // which nobody has at hand who only has the program
				w.put(", copied from the built-in library into the job’s folder")
			}
		}
		if m.Why != "" {
			w.say(". Waiting for it: %s", m.Why)
		}
		w.put(".</li>\n")
	}
	w.put("</ul>\n")
	return w.markup()
}

// next is the first step, and the first hold point.
func (b *book) next() markup {
	steps := b.plan.Sequence.Steps
	at := b.plan.Sequence.Next()
	if len(steps) == 0 || at < len(steps) && steps[at].Step == nil {
		return ""
	}
	if at == len(steps) {
		return say(`<section id="next"><h2>What happens next</h2>`+"\n<p>All %s done.</p>\n</section>\n", counted(len(steps), "step is", "steps are"))
	}
	var w writer
	w.put(`<section id="next"><h2>What happens next</h2>`, "\n")
	w.say(`<p>%s: <a href="sequence.html#%s">%s</a>.</p>`+"\n", []string{"First", "Next"}[min(at, 1)], stepAnchor(steps[at].Step), stepTitle(steps[at].Step))
	if i := b.firstHold(); i >= 0 {
		w.say(`<p>Nothing goes past step %d until this is settled: <a href="sequence.html#%s">%s</a></p>`+"\n", steps[i].N, stepAnchor(steps[i].Step), steps[i].Step.Hold.Text)
	}
	for _, hasty := range b.pastHolds() {
		w.say("<p>Done past a hold point that is not settled: %s. Settle that before anything else.</p>\n", hasty)
	}
	var by []markup
	for _, o := range b.plan.Buying.Orders {
		if o.By != "" {
			by = append(by, say(`<a href="buying-list.html#%s">%s</a> by %s`, orderAnchor(o), o.Supplier.Title, dayWords(o.By)))
		}
	}
	if on := b.orderedOn(); on != "" {
		w.say("<p>Ordered on %s.</p>\n", dayWords(on))
	} else if len(by) > 0 {
		w.put("<p>Order from ", joined("; from ", by...), ".</p>\n")
	}
	w.put("</section>\n")
	return w.markup()
}

// pastHolds names the steps that are done past a hold point that is not settled, each with the first such hold point: Order, before Hold before ordering.
func (b *book) pastHolds() (list []string) {
	titles := map[string]string{}
	for _, s := range b.plan.Sequence.Steps {
		if s.Step != nil {
			titles[s.Step.Name] = stepTitle(s.Step)
		}
	}
	for _, s := range b.plan.Sequence.Steps {
		if s.Step != nil && s.Past != "" {
			list = append(list, stepTitle(s.Step)+", before "+titles[s.Past])
		}
	}
	return list
}

// orderedOn is the day on which the goods were ordered, the last of several; empty while any is still to be ordered.
func (b *book) orderedOn() (on string) {
	for _, s := range b.plan.Sequence.Steps {
		if s.Step == nil || !s.Step.Time.Lead.Yes {
			continue
		}
		if s.Done == "" {
			return ""
		}
		on = max(on, s.Done)
	}
	return on
}

// firstHold is the index of the first hold point; -1 when there is none.
func (b *book) firstHold() int {
	for i, s := range b.plan.Sequence.Steps {
		if s.Step != nil && s.Step.Hold.Text != "" && s.Done == "" {
			return i
		}
	}
	return -1
}

// bitingNow lists the cautions of the steps up to the first hold point: those that bite before anything is settled.
func (b *book) bitingNow() markup {
	last := b.firstHold()
	if last < 0 {
		last = 0 // without a hold point, those of the first step
	}
	var w writer
	seen := map[*job.Caution]bool{}
	for i, s := range b.plan.Sequence.Steps {
		for _, c := range s.Cautions {
			if i <= last && s.Done == "" && !seen[c] {
				seen[c] = true
				w.say(`<li><a href="cautions.html#%s">%s</a></li>`+"\n", cautionAnchor(c), cautionTitle(c))
			}
		}
	}
	if w.Len() == 0 {
		return ""
	}
	return say(`<section id="biting"><h2>Cautions that bite now</h2>`+"\n<ul>\n%s</ul></section>\n", &w)
}

// rest leads to the other pages.
func (b *book) rest() markup {
	var w writer
	for _, p := range b.made {
		if p.name == "labels" { // sheets of their own, in the list of pages only
			continue
		}
		w.say(`<li><a href="%s.html">%s</a>: %s</li>`+"\n", p.name, p.short, p.about)
	}
	if len(b.plan.Layout.Runs) > 0 && b.edition == Whole {
		w.put("<li>", clientLink, ": what will be done, drawings, and the price as far as the job shows it; a document by itself</li>\n")
	}
	if b.edition == Inspector {
		w.put(`<li><a href="print.html">Print edition</a>: all of these pages in one</li>`, "\n")
	} else {
		w.put(`<li><a href="print.html">Print edition</a>: what one works from, in one: for the wall, for the van, for the desk</li>`, "\n")
		if slices.ContainsFunc(b.made, func(p page) bool { return slices.Contains(workingGroups[0].pages, p.name) }) {
			w.say(`<li><a href="%s">Book of workings</a>: how every number came about, to print by itself</li>`+"\n", workingsFile)
		}
	}
	return say(`<section id="rest"><h2>The rest of the book</h2>`+"\n<ul class=\"plain\">\n%s</ul></section>\n", &w)
}
