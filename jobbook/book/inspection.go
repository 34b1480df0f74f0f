package book

import (
	"slices"
	"strconv"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/working"
)

// inspectionPage is the sheet that is filled in on the guard as it stands, and signed. It is made once something has been laid out, or was read.
func (b *book) inspectionPage(w *writer) {
	if !b.toInspect() {
		return
	}
	w.say("<p>%s</p>\n", b.builtLine())
	w.put(b.fixed("inspection", nil))
	w.say("<p>Read to the tape's division, %s. A reading exactly on a limit is judged as it was read.</p>\n", b.divisionWords())
	if r := b.job.Rules; r != nil {
		w.say("<p>Judged by %s. Limits stand in the rule set's own unit.</p>\n", b.recordedFile(r.File, esc(partTitle(r.Title, r.Origin))))
	} else {
		w.put("<p>No rule set is chosen yet: ask the building department which code it goes by.</p>\n")
	}
	for _, s := range b.plan.Inspection.Sheets {
		b.sheetOf(w, s)
	}
	if len(b.plan.Inspection.Ticks) > 0 {
		w.put(`<section id="built-whole"><h2>The whole job</h2>`, "\n", b.ticks("The whole job", b.plan.Inspection.Ticks), "</section>\n")
	}
	b.structureOnSheet(w)
	w.put(b.builtFiles(), b.signatures())
}

func sheetAnchor(group string) string {
	return "sheet-" + anchor(strings.TrimPrefix(group, "as-built/"))
}

func builtAnchor(x *job.AsBuilt) string { return "as-built-" + anchor(x.Name) }

// builtLine says how far the readings are.
func (b *book) builtLine() markup {
	var n [finding.Pass + 1]int
	all := 0
	for _, s := range b.plan.Inspection.Sheets {
		for _, c := range s.Checks {
			n[c.Verdict]++
			all++
		}
	}
	open := n[finding.ToBeMeasured]
	var fails []markup
	if n := b.giving(); n > 0 {
		fails = append(fails, verdictMark(finding.Fail, counted(n, "place gives when pushed", "places give when pushed")))
	}
	if n := n[finding.Fail]; n > 0 {
		fails = append(fails, verdictMark(finding.Fail, counted(n, "check of the guard as it stands fails", "checks of the guard as it stands fail")))
	}
	switch {
	case len(fails) > 0:
		return joined("; ", append(fails, esc(counted(open, "check is", "checks are")+" still to be measured, of "+counted(all, "check", "checks")+"."))...)
	case open == all:
		return esc(counted(all, "check", "checks") + " to measure; nothing was read yet on the guard as it stands.")
	}
	return esc(counted(open, "check is", "checks are") + " still to be measured on the guard as it stands, of " + counted(all, "check", "checks") + ".")
}

// builtTally is the same for the hand-over, with the way to the sheet.
func (b *book) builtTally() markup {
	if !b.toInspect() {
		return ""
	}
	return say("<p>%s</p>\n"+`<p><a href="inspection.html">Inspection sheet</a>: what to measure, where and with what, to fill in and sign. Readings go into a file of <code>kind: as-built</code>, and are judged and kept there.</p>`+"\n", b.builtLine())
}

// toInspect reports whether there is an inspection sheet.
func (b *book) toInspect() bool {
	laid := slices.ContainsFunc(b.plan.Layout.Runs, func(r *layout.Run) bool { return r.Chosen != nil })
	return (laid || len(b.job.AsBuilt) > 0) && len(b.plan.Inspection.Sheets) > 0
}

// sheetOf is one run, flight or post.
func (b *book) sheetOf(w *writer, s rules.Sheet) {
	title := b.sheetTitle(s)
	w.say(`<section id="%s"><h2>%s</h2>`+"\n", sheetAnchor(s.ID), title)
	t := table{label: title + ", to measure", wide: true, stack: true, long: true, class: "inspect", heads: []head{column("Check"), column("Limit"), num("Planned", b.unit()), column("As built (" + b.unit() + ")"), column("Verdict")}}
	for _, c := range s.Checks {
		var limits []markup
		for _, l := range c.Limits {
			limits = append(limits, say(`<span class="fit">%s</span>`, b.bound(l)))
		}
		if len(limits) == 0 {
			limits = append(limits, b.noLimit(c))
		}
		t.row(say(`%s<span class="fit">%s</span><span class="fit">With: %s.</span>%s`, capital(c.What), sentence(c.Where), c.With, b.boxes(c)),
			joined("", limits...), b.plannedOf(c), b.builtOf(c), b.verdictOf(c))
	}
	t.put(w)
	w.put(b.ticks(title, s.Ticks), b.pushes(s.Pushes), "</section>\n")
}

func (b *book) noLimit(c rules.Check) markup {
	switch {
	case b.job.Rules == nil:
		return "no rule set is chosen"
	case slices.ContainsFunc(c.Read, func(r rules.Built) bool { return r.Verdict == finding.NotRequired }):
		return "not judged by this"
	}
	return "none in the rule set: check with the authority"
}

// bound is one limit in the unit of its rule set, with its clause; in the job's unit too where that is another.
func (b *book) bound(l rules.Bound) markup {
	m := say("%s %s", l.Op.String(), b.recorded(l.Limit.Value.At, b.inUnit(l.Limit.Value.Length, l.Limit.System)))
	if l.Limit.System != b.job.System {
		m += say(` <span class="tight">(%s %s)</span>`, b.decimals(l.Limit.Value.Length, length.Nearest, b.places()), b.unit())
	}
	var status markup
	if l.Limit.Status == working.Memory || l.Limit.Status == 0 {
		status = "recalled, check with the authority"
	}
	var amends markup
	if l.Limit.Amends != "" {
		amends = say("amends %s", l.Limit.Amends)
	}
	set := l.Limit.Set
	if set == "" && b.job.Rules != nil {
		set = b.job.Rules.Name
	}
	return joined(", ", m, esc(l.Limit.Clause.Text), esc(set), amends, status)
}

// inUnit writes a length in another system than the job's may be: as a fraction where a tape has one.
func (b *book) inUnit(l length.Length, system length.System) markup {
	finest := system.Finest()
	if l%finest != 0 {
		return esc(rules.Words(l, system))
	}
	return say(`<span class="tight">%s %s</span>`, typeset(length.Style{System: system, Division: finest, Rounding: length.Nearest}.Parts(l)), system.String())
}

// plannedOf is the planned value of a check, rounded to the bad side where no tape has it.
func (b *book) plannedOf(c rules.Check) markup {
	if !c.Known {
		return toBeMeasured
	}
	if c.Planned%b.job.System.Finest() == 0 {
		return b.figured(c.Figure, b.exact(c.Planned))
	}
	if len(c.Limits) > 0 {
		v, _ := b.judged(c.Planned, c.Limits[0].Limit.Value.Length, c.Limits[0].Op)
		return b.figured(c.Figure, v)
	}
	return b.figured(c.Figure, b.decimals(c.Planned, length.Nearest, b.places()))
}

const emptyBox markup = `<span class="box"></span>`

// boxes are the boxes of a check that is read at several places, by their numbers, filled in as far as they were read.
func (b *book) boxes(c rules.Check) markup {
	if len(c.Boxes) < 2 {
		return ""
	}
	var w writer
	w.put(`<span class="boxes">`)
	for i, name := range c.Boxes {
		in := markup("")
		for _, r := range c.Read {
			if r.Counts && r.Number == i+1 {
				in = b.recorded(r.At, b.exact(r.Value))
				break
			}
		}
		w.say(`<span class="boxed">%s <span class="box">%s</span></span>`, name, in)
	}
	w.put("</span>")
	return w.markup()
}

// builtOf is what was read, the newest first; an empty box while nothing was.
func (b *book) builtOf(c rules.Check) markup {
	var now, before []markup
	for _, r := range c.Read {
		switch {
		case !r.Counts:
			before = append(before, say(`<span class="fit">before: %s</span>`, joined(", ", b.recorded(r.At, b.exact(r.Value)), esc(r.Place), b.dayOf(r.Date), esc(r.Verdict.String()))))
		case len(c.Boxes) < 2 || r.Worst || r.Number == 0:
			value := b.recorded(r.At, b.exact(r.Value))
			if r.Figure != "" {
				value = b.figured(r.Figure, b.exact(r.Value))
			}
			place := r.Place
			if r.Number > 0 {
				place = "number " + r.Place
			}
			now = append(now, say(`<span class="filled">%s<span class="fit">%s</span></span>`, value, joined(", ", esc(place), b.dayOf(r.Date), esc(r.Note))))
		}
	}
	if len(now) == 0 {
		now = append(now, emptyBox)
	}
	return joined("", append(now, before...)...)
}

func (b *book) dayOf(date string) markup {
	if date == "" {
		return "day not said"
	}
	return say(`<span class="tight">%s</span>`, date)
}

// verdictOf is the verdict of a check: an empty box until it was read.
func (b *book) verdictOf(c rules.Check) markup {
	if c.Verdict != finding.ToBeMeasured {
		return verdictMark(c.Verdict, c.Verdict.String())
	}
	for _, r := range c.Read {
		if r.Worst || r.Counts && len(c.Boxes) < 2 {
			words := r.Verdict.String()
			if r.Number > 0 {
				words = "number " + strconv.Itoa(r.Number) + ": " + words
			}
			return verdictsOf(c, r, words)
		}
	}
	return emptyBox
}

const tickBox markup = `<span class="tick"></span>`

// ticks are the checks that no length decides.
func (b *book) ticks(title string, list []rules.Tick) markup {
	t := table{label: title + ", to tick", wide: true, stack: true, long: true, class: "inspect ticks", heads: []head{column("Check"), column("Right when"), column("Yes"), column("No")}}
	for _, x := range list {
		t.row(say(`%s<span class="fit">%s</span>`, capital(x.What), sentence(x.How)), say(`%s<span class="fit">%s</span>`, capital(x.Right), x.Source), tickBox, tickBox)
	}
	return t.markup()
}

// pushes are what pushes showed.
func (b *book) pushes(list []rules.Push) markup {
	var w writer
	for _, p := range list {
		seen := esc("nothing moves")
		switch {
		case gives(p):
			seen = verdictMark(finding.Fail, "it moves")
		case p.Moves.Yes:
			seen = "it moved"
		}
		head := "Pushed"
		if !p.Counts {
			head = "Pushed before"
		}
		w.say("<li>%s: %s.</li>\n", head, joined(", ", b.dayOf(p.Date), esc(p.By), esc(p.Where), esc(p.Load), b.recorded(p.At, seen), esc(p.Note)))
	}
	if w.Len() == 0 {
		return ""
	}
	return "<ul class=\"plain\">\n" + w.markup() + "</ul>\n<p>A push by hand is an observation; it proves no load.</p>\n"
}

// structureOnSheet is what was screened of the structure, part by part, each to be confirmed by somebody else.
func (b *book) structureOnSheet(w *writer) {
	t := table{label: "What was calculated, and who confirms it", wide: true, stack: true, long: true, class: "inspect structure", heads: []head{column("Part"), column("Calculation"), column("Confirmed")}}
	for _, m := range b.plan.Loads.Members {
		words := ""
		if m.Words != "" {
			words = capital(sentence(m.Words))
		}
		t.row(say(`<a href="loads.html#loads-%s">%s</a><span class="fit">%s</span>`, anchor(m.Group), capital(m.Title), b.groupTitle(m.Group)),
			say(`%s<span class="fit">%s</span>`, verdictMark(m.Verdict, m.Verdict.String()), words), emptyBox)
	}
	w.put(`<section id="built-structure"><h2>Structure</h2>`, "\n", b.fixed("inspection-structure", nil))
	t.put(w)
	if len(b.plan.Loads.Members) == 0 {
		w.put("<p>Nothing was calculated for this guard.</p>\n")
	}
	w.put(b.fixed("inspection-confirmed", nil), "</section>\n")
}

// builtFiles are the readings so far, file by file: when, who, with what.
func (b *book) builtFiles() markup {
	if len(b.job.AsBuilt) == 0 {
		return ""
	}
	var w writer
	w.put(`<section id="readings-so-far"><h2>Readings so far</h2>`, "\n")
	for _, x := range b.job.AsBuilt {
		title := x.Title.Text
		if title == "" {
			title = capital(strings.ReplaceAll(x.Name, "-", " "))
		}
		w.say(`<section id="%s"><h3>%s</h3>`+"\n", builtAnchor(x), title)
		division := esc(b.divisionWords())
		if x.Division.Given {
			division = say("%s %s", b.recorded(x.Division.At, b.exact(x.Division.Length)), b.unit())
		}
		facts := pairs{class: "facts"}
		day := b.words(x.Date)
		if !x.Date.Given {
			day = b.recorded(x.Date.At, toBeMeasured)
		}
		facts.add("day", day)
		facts.add("read by", b.words(x.By))
		facts.add("with", b.words(x.With))
		facts.add("division of the tape", division)
		if b.edition != Inspector { // who has no files
			facts.add("file", b.recordedFile(x.File, say("<code>%s</code>", x.File)))
		}
		facts.put(&w)
		w.put(b.prose(x.Prose.Document), "</section>\n")
	}
	w.put("</section>\n")
	return w.markup()
}

// signatures are the lines to sign on.
func (b *book) signatures() markup {
	t := table{label: "Read, seen and taken over", class: "fill sign", heads: []head{column("Who"), column("Name"), column("Date"), column("Signature")}}
	for _, who := range []string{"Carpenter", "Inspector", "Client"} {
		t.row(esc(who), "", "", "")
	}
	return say(`<section id="sign"><h2>Signatures</h2>`+"\n%s</section>\n", &t)
}
