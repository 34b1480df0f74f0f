package book

import (
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/source"
)

// checksPage is every measure judged, group by group.
func (b *book) checksPage(w *writer) {
	if len(b.checked()) == 0 {
		return
	}
	w.put(b.tally(), `<p><a href="#about-checks">How to read the checks</a></p>`, "\n")
	names, of := groups(b.checked())
	for _, name := range names {
		w.say(`<section id="checks-%s"><h2>%s</h2>`+"\n", anchor(name), b.groupTitle(name))
		if strings.HasPrefix(name, "survey/") {
			w.put("<p>This is the old guard as it was found.</p>\n")
		}
		if strings.HasPrefix(name, "as-built/") {
			w.say(`<p>Read on the guard as it stands: <a href="inspection.html#%s">inspection sheet</a>.</p>`+"\n", sheetAnchor(name))
		}
		for _, f := range of[name] {
			b.finding(w, f)
		}
		w.put("</section>\n")
	}
	w.put(b.rules(), b.fixed("about-checks", nil))
}

// tally counts the verdicts.
func (b *book) tally() markup {
	var n [finding.Pass + 1]int
	for _, f := range b.checked() {
		if f.Verdict >= finding.Fail && f.Verdict <= finding.Pass {
			n[f.Verdict]++
		}
	}
	var w writer
	for v := finding.Fail; v <= finding.Pass; v++ {
		if n[v] > 0 {
			w.put("<li>", verdictMark(v, v.String()+": "+counted(n[v], "check", "checks")), b.these(v), "</li>\n")
		}
	}
	return say("<ul class=\"plain\">\n%s</ul>\n", &w)
}

// these leads to the findings of a verdict that somebody has to do something about.
func (b *book) these(v finding.Verdict) markup {
	if v != finding.Fail && v != finding.AskAuthority && v != finding.ToBeMeasured {
		return ""
	}
	var w writer
	for _, none := range []bool{false, true} { // those without a limit behind those that have one
		for _, f := range b.checked() {
			if f.Verdict == v && (f.Unlimited != "") == none {
				w.say(`<li><a href="#%s">%s</a>, %s</li>`+"\n", findingAnchor(f), f.Title, b.groupTitle(f.Group))
			}
		}
	}
	return "\n<ul>\n" + w.markup() + "</ul>\n"
}

// unlimited is one line for all measures for which the rule set has no limit; each stands on the page of checks.
func (b *book) unlimited(list []finding.Finding) markup {
	n, of := rules.Unlimited(list)
	if n == 0 {
		return ""
	}
	return say(`<li><a href="checks.html">%s no limit in the rule set</a> (%s): %s. The authority says what is asked for there.</li>`+"\n",
		counted(n, "measure has", "measures have"), partTitle(b.job.Rules.Title, b.job.Rules.Origin), listed(of))
}

// rules names the rule set that the guard is judged by.
func (b *book) rules() markup {
	r := b.job.Rules
	if r == nil {
		return ""
	}
	var w writer
	w.say(`<section id="rules"><h2>Judged by %s</h2>`+"\n", partTitle(r.Title, r.Origin))
	m := esc(layerWords(r.Layer))
	if b.edition != Inspector { // who has no files
		m = joined(", ", b.recordedFile(r.File, say("<code>%s</code>", r.File)), m)
	}
	if r.Amends.Given {
		m += say(", amends %s", b.words(r.Amends))
	}
	w.say("<p>%s</p>\n", m)
	if r.Why.Given {
		w.line("Why: " + sentence(r.Why.Text))
	}
	w.put(b.prose(r.Prose.Document), "</section>\n")
	return w.markup()
}

// finding is one measure judged.
func (b *book) finding(w *writer, f finding.Finding) {
	w.say(`<section class="check" id="%s"><h3>`, findingAnchor(f))
	putVerdict(w, f.Verdict, f.Verdict.String())
	w.say(": %s</h3>\n", f.Title)
	if numbers := b.comparedWith(f); numbers != "" {
		w.put("<p>", numbers, ".</p>\n")
	} else if f.Verdict == finding.ToBeMeasured {
		w.put("<p>", toBeMeasured, "</p>\n")
	}
	w.line(sentence(f.Note))
	if f.Cure != "" {
		w.line("What would cure it: " + sentence(f.Cure))
	}
	w.put(`<p class="behind">`)
	from := w.Len()
	between := func(separator markup) {
		if w.Len() > from {
			w.put(separator)
		}
	}
	for _, m := range []markup{esc(f.Clause), b.statusOf(f), b.ruleWords(f)} {
		if m != "" {
			between(", ")
			w.put(m)
		}
	}
	if !f.At.IsZero() && b.edition != Inspector { // who has no files
		between("; ")
		w.put("written in ")
		b.putWhere(w, f.At)
	}
	if _, ok := b.figures[f.Figure]; ok {
		between("; ")
		w.put(b.figured(f.Figure, "working"))
	}
	w.put("</p>\n</section>\n")
}

func (b *book) statusOf(f finding.Finding) markup {
	if f.Status == 0 {
		return ""
	}
	return esc(f.Status.String())
}

func (b *book) ruleWords(f finding.Finding) markup {
	if f.Rules == "" {
		return ""
	}
	m := esc(f.Rules)
	if f.Set != (source.Pos{}) {
		m = b.recorded(f.Set, m)
	}
	if f.Amends != "" {
		m += say(", which amends %s here", f.Amends)
	}
	return m
}

// runChecks is the checks of one run.
func (b *book) runChecks(r *layout.Run) markup {
	var list []finding.Finding
	for _, f := range b.checked() {
		if f.Group == r.ID {
			list = append(list, f)
		}
	}
	return b.checksTable(list, "Checks of "+b.runTitle(r.Name))
}

// checksTable is findings in short.
func (b *book) checksTable(list []finding.Finding, label string) markup {
	t := table{label: label, wide: true, heads: []head{column("Verdict"), column("Check"), num("Measured", b.unit()), column("Limit"), column("Clause")}}
	for _, f := range list {
		var measured, limit markup
		v, l := b.decimals(f.Measured, 0, b.places()), b.decimals(f.Limit, 0, b.places())
		if f.HasValue && f.HasLimit {
			v, l = b.judged(f.Measured, f.Limit, f.Op)
		}
		if f.HasValue {
			measured = b.figured(f.Figure, v)
		}
		if f.HasLimit {
			limit = b.comparison(f.Op, l)
		}
		t.row(verdictMark(f.Verdict, f.Verdict.String()), say(`<a href="checks.html#%s">%s</a>`, findingAnchor(f), f.Title), measured, limit, standing(f))
	}
	return t.markup()
}
