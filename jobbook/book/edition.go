package book

import (
	"io/fs"
	"regexp"
	"slices"
	"strings"

	"balustrade/jobbook/changes"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// Edition says for whom a book is: which of its pages there are, and what is left out of them.
type Edition string

// The editions. The whole book is the shop's own; the others are folders that leave it.
const (
	Whole     Edition = ""
	Crew      Edition = "crew"      // everything for the saw and the landing, without prices
	Client    Edition = "client"    // what will be done and when, drawings, choices, care, the price as agreed
	Inspector Edition = "inspector" // checks, loads, readings and drawings, with the working of their numbers
)

// Editions are those that leave the shop.
var Editions = []Edition{Crew, Client, Inspector}

// editionWords stand in the head of every page.
var editionWords = map[Edition]string{Crew: "The crew’s edition, without prices", Inspector: "The inspector’s edition, without prices"}

// editionPages are the pages of the whole book that an edition has, by name: first the answers, last the workings. The client's are its own.
var editionPages = map[Edition][]string{
	Crew: {"index", "changes", "measured", "layout", "posts", "cut-list", "cutting", "setups", "fixings", "labels", "buying-list", "received", "made", "wood", "loads", "finishing", "sequence", "calendar", "days",
		"cautions", "checks", "inspection", "hand-over", "notes", "working"},
	Inspector: {"index", "checks", "inspection", "loads", "layout", "posts", "measured", "notes", "working"},
}

// RenderEdition makes one edition of the book, whole in itself: no link leads out of it. Problems are what keeps it from being made; whoever makes an edition has the whole book made first, for all warnings.
func RenderEdition(p *plan.Plan, templates fs.FS, edition Edition) ([]File, []source.Problem, error) {
	return render(p, templates, edition)
}

// editionPages makes the bodies of an edition. The page of workings has what the other pages lead to, and what that rests on.
func (b *book) editionPages() []page {
	if b.edition == Client {
		return b.clientPages()
	}
	if b.edition == Crew {
		b.stripPages = b.strips()
	}
	var list []page
	for _, name := range editionPages[b.edition] {
		list = append(list, allPages[slices.IndexFunc(allPages, func(p page) bool { return p.name == name })])
	}
	first, last := list[0], list[len(list)-1] // the answers, and the workings: listed on the first page, and made when that one is
	if b.edition == Inspector {
		first.write = (*book).inspectorPage
	}
	b.write(list[1 : len(list)-1])
	worked := slices.ContainsFunc(b.made, func(p page) bool {
		return slices.ContainsFunc(p.body, func(m markup) bool { return workingLink.MatchString(string(m)) })
	})
	if worked {
		b.made = append(b.made, last)
	}
	first.body = first.written(b)
	pages := append([]page{first}, b.made...)
	if worked {
		b.cite(pages)
		pages[len(pages)-1].body = last.written(b)
	}
	b.unlink(pages)
	return pages
}

// has reports whether the book has a page.
func (b *book) has(name string) bool {
	return slices.ContainsFunc(b.made, func(p page) bool { return p.name == name })
}

var workingLink = regexp.MustCompile(`href="working\.html#([^"]*)"`)

// cite notes the figures that pages lead to, and those that these rest on. A figure of money is none of an edition's.
func (b *book) cite(pages []page) {
	of := map[string]*working.Figure{}
	for _, f := range b.plan.Figures {
		if !b.ofMoney(f) {
			of[b.workingAnchor(f.ID)] = f
		}
	}
	b.cited = map[string]bool{}
	var add func(f *working.Figure)
	add = func(f *working.Figure) {
		if f == nil || b.cited[f.ID] {
			return
		}
		b.cited[f.ID] = true
		for _, in := range b.print(f).inputs {
			if in.Figure != "" {
				add(of[b.workingAnchor(in.Figure)])
			}
		}
	}
	for _, p := range pages {
		for _, piece := range p.body {
			for _, m := range workingLink.FindAllStringSubmatch(string(piece), -1) {
				add(of[m[1]])
			}
		}
	}
}

// ofMoney reports a figure that is a sum of money, or is worked out of one.
func (b *book) ofMoney(f *working.Figure) bool {
	sign := b.job.Shop.Currency.Text
	money := func(unit string) bool { return sign != "" && strings.Contains(unit, sign) }
	return strings.HasPrefix(f.ID, "price/") || money(f.Unit) || f.Expr != nil && slices.ContainsFunc(f.Inputs(), func(in *working.Input) bool { return money(in.Unit) })
}

// ofMoney reports a fact that is about money.
func ofMoney(l changes.Line) bool {
	return l.Sort == changes.Price || strings.HasPrefix(l.Of, "supplier/") || strings.HasPrefix(l.Of, "alternative/") || l.Of == "job" && strings.HasPrefix(l.What, "price") || strings.HasPrefix(l.What, "rates") || l.What == "currency"
}

// unlink leaves the words alone of links that lead to what the edition does not have.
func (b *book) unlink(pages []page) {
	turned := b.unlinking(pages)
	for i, p := range pages {
		var w writer
		turn := turned(p)
		for _, m := range p.body {
			w.retag(m, turn)
			w.flush()
		}
		pages[i].body = w.pieces()
	}
}

// unlinking turns the tags of links of a page, of those that the edition has.
func (b *book) unlinking(pages []page) func(page) turn {
	places := map[string]map[string]bool{"print.html": {}, workingsFile: {}, "schedule.ics": {}}
	if !b.has("calendar") {
		delete(places, "schedule.ics")
	}
	for _, p := range b.stripPages {
		places[p.file] = map[string]bool{}
	}
	for _, p := range pages {
		ids := map[string]bool{"main": true}
		for _, m := range p.body {
			identify(ids, m)
		}
		places[p.name+".html"] = ids
	}
	return func(p page) turn {
		var dropped unlinked
		return func(b []byte, tag string) []byte {
			if instead, ok := dropped.end(tag); ok {
				return append(b, instead...)
			}
			href, place, ok := leads(tag)
			if !ok || strings.Contains(href, ":") { // to the world outside, as somebody wrote it
				return append(b, tag...)
			}
			file := href
			if file == "" {
				file = p.name + ".html"
			}
			ids, ok := places[file]
			id := strings.TrimPrefix(place, "#")
			switch {
			case !ok, href == "" && !ids[id]:
				dropped.drop("")
				return b
			case place != "" && !ids[id] && strings.Contains(tag, `class="w"`):
				dropped.drop("")
				return b
			case place != "" && !ids[id]:
				return swapped(b, tag, href)
			}
			return append(b, tag...)
		}
	}
}

// tells reports whether an edition has the words of a file. What a supplier's file says may be prices; the inspector reads what the rules rest on, what stands there and what was read; the client and the inspector
// read notes and punch lists that are for them.
func (b *book) tells(doc *source.Document) bool {
	if b.edition == Whole {
		return true
	}
	kind := ""
	if k := doc.Front.Get("kind"); k != nil {
		kind = k.Text
	}
	switch {
	case kind == "" || kind == "punch":
		return b.isFor(doc)
	case b.edition == Crew:
		return kind != "supplier"
	case b.edition == Inspector:
		return kind == "rules" || kind == "as-built" || kind == "survey"
	}
	return false
}

// isFor reports whether a note or a punch list stands in the edition: where its file names nobody, it is the shop's and the crew's.
func (b *book) isFor(doc *source.Document) bool {
	list := job.For(doc)
	return b.edition == Whole || slices.Contains(list, string(b.edition)) || len(list) == 0 && b.edition == Crew
}

// clientTables are the computed tables that a note for the client can have: none with parts, prices or files in it.
var clientTables = []string{"counts", "openings", "heights", "stair"}

// untoldTable reports a table that the client's edition leaves out of a text that is for the client.
func (b *book) untoldTable(doc *source.Document, name string) bool {
	return slices.Contains(job.For(doc), string(Client)) && !slices.Contains(clientTables, name) && (b.edition == Whole || b.edition == Client) && slices.ContainsFunc(computedTables, func(c computed) bool { return c.name == name })
}

// inspectorPage is the first page of the inspector's edition: whether it can be built, what is asked of the authority, and what it comes to.
func (b *book) inspectorPage(w *writer) {
	w.put(`<section id="answer"><h2>Is it within the rules as drawn?</h2>`, "\n")
	a := b.answer()
	w.put("<p class=\"answer\">", verdictMark(a.verdict, a.words), "</p>\n")
	if r := b.job.Rules; r != nil {
		w.say("<p>Judged by %s.</p>\n", partTitle(r.Title, r.Origin))
	} else {
		w.put("<p>No rule set is chosen yet.</p>\n")
	}
	w.put(b.findings(finding.Fail, "What stops it"), b.findings(finding.AskAuthority, "Asked of the authority, or of an engineer"))
	if n := len(b.open()); n > 0 {
		w.say("<p>%s still to be measured or decided. What waits for them is marked on its page.</p>\n", capital(counted(n, "thing is", "things are")))
	}
	w.put("</section>\n", b.inspected(), b.rest())
}

// inspectedFirst are the limits that an inspector looks at first, in the order of the inspection: each stands for the check of it that is nearest to its limit.
var inspectedFirst = []string{"guard-drop", "guard-height-level", "guard-height-stair", "guard-opening", "guard-opening-stair", "guard-triangle", "handrail-height-least", "handrail-height-most", "riser-most", "tread-least"}

// inspected is what each run comes to beside its limits, with the clauses.
func (b *book) inspected() markup {
	var w writer
	for _, r := range b.plan.Layout.Runs {
		t := table{label: b.runTitle(r.Name), heads: []head{column("Nearest to the limit"), num("Planned", b.unit()), column("Limit")}}
		for _, limit := range inspectedFirst {
			var nearest *finding.Finding
			for _, f := range b.plan.Findings {
				of, _, _ := strings.Cut(strings.TrimPrefix(f.ID, "check/"+r.ID+"/"), "/")
				if of == limit && f.Clause != "" && (nearest == nil || f.Verdict < nearest.Verdict || f.Verdict == nearest.Verdict && f.Margin < nearest.Margin) {
					nearest = &f
				}
			}
			if nearest == nil {
				continue
			}
			measured, wanted := markup(""), markup("")
			if f := *nearest; f.HasValue && f.HasLimit {
				v, l := b.judged(f.Measured, f.Limit, f.Op)
				measured, wanted = b.figured(f.Figure, v), b.comparison(f.Op, l)
			} else if f.HasLimit {
				wanted = b.comparison(f.Op, b.decimals(f.Limit, 0, b.places()))
			}
			t.row(say(`<a href="checks.html#%s">%s</a><span class="fit">%s</span>`, findingAnchor(*nearest), capital(nearest.Title), verdictMark(nearest.Verdict, nearest.Verdict.String())), measured, joined(", ", wanted, esc(nearest.Clause)))
		}
		if len(t.rows) > 0 {
			t.put(&w)
		}
	}
	if w.Len() == 0 {
		return ""
	}
	return say(`<section id="numbers"><h2>What it comes to</h2>`+"\n%s</section>\n", &w)
}

// printName is what the list of pages calls the print edition.
func (f framed) printName() string {
	switch {
	case f.ForClient && f.Unsigned:
		return "To print"
	case f.ForClient:
		return "To print and sign"
	}
	return "Print edition"
}
