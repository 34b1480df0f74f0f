package book

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/plan"
)

// clientFile is the document for the client, whole in itself, beside the pages of the whole book.
const clientFile = "client.html"

// clientCautions are what somebody who lives there must know while the work goes on and after, in the order of the library. Each has a passage of its own in the templates:
// the library's words are for those who do the work, and a shop's may be for the shop alone.
var clientCautions = []string{"temporary-barrier", "open-edge", "lead", "asbestos", "fumes", "head-entrapment", "gates", "evening-tidy"}

// client makes the document for the client under a name: its own beside the whole book, that of what is printed and signed in the client's edition. It holds what will be done, how it will look, how to live with it, the price as the job says, a line to sign. Nothing of it comes from the
// shop's own notes, prices or working, and no link leads out of it.
func (b *book) client(name string) (File, error) {
	var w writer
	for _, x := range b.clientSections() {
		x.put(&w)
	}
	whole := []page{{name: "print", body: w.pieces()}}
	for i, m := range whole[0].body { // all notes stand in it
		whole[0].body[i] = markup(strings.ReplaceAll(string(m), `href="notes.html#`, `href="#`))
	}
	return b.frames.file(name, "client", struct {
		clientFacts
		Body           template.HTML
		Title, Heading string
		CSS            template.CSS
	}{b.clientFacts(), bodyMark, b.title() + ", for the client", b.title(), template.CSS(b.frames.css)}, []body{{whole[0].body, b.unlinking(whole)(whole[0])}})
}

// clientFacts are who has what done where, by whom.
type clientFacts struct{ Client, Place, Measured, Shop, Contact, Date string }

func (b *book) clientFacts() clientFacts {
	day := func(t job.Text) string {
		if !t.Given {
			return ""
		}
		return dayWords(t.Text)
	}
	return clientFacts{b.job.Client.Text, b.job.Place.Text, day(b.job.Measured), b.job.Shop.Name.Text, b.job.Shop.Contact.Text, day(b.job.Price.Date)}
}

// clientSection is a part of what the client gets, and the page of the edition that it stands on.
type clientSection struct {
	page, class, title string
	body               []markup
}

func (x clientSection) put(w *writer) {
	w.say("<section class=\"%s\"><h2>%s</h2>\n", x.class, x.title)
	w.put(x.body...)
	w.put("</section>\n")
}

// clientSections are all of them in order, but those with nothing to say. They are made once: a note's words stand in a book once.
func (b *book) clientSections() []clientSection {
	if b.sections != nil {
		return b.sections
	}
	list := []clientSection{}
	within := func(page, class, title string, body ...markup) {
		if slices.ContainsFunc(body, func(m markup) bool { return m != "" }) {
			list = append(list, clientSection{page, class, title, body})
		}
	}
	add := func(page, title string, body ...markup) { within(page, "part", title, body...) }
	add("index", "What will be done", b.scope())
	add("index", "Still to be settled", b.unsettled())
	add("drawings", "How it will look", b.clientDrawings()...)
	add("drawings", "To choose from", b.choices())
	add("work", "When", b.when())
	add("work", "While the work goes on, and after", b.clientCautions())
	for _, n := range b.job.Notes {
		if b.isFor(n) {
			add("notes", noteTitle(n), b.note(n))
		}
	}
	add("after", "Handing over", b.clientHandOver())
	add("after", "Keeping it", b.clientCare())
	show := b.job.Price.Show.Text
	switch priced := show == "total" || show == "lines"; {
	case b.plan.Price.Offer.Show:
		within("price", "priced", "Price", b.offer(false))
	case priced:
		add("price", "Price", "<p>The price follows once everything is measured and every part is priced.</p>\n")
	}
	switch {
	case b.plan.Stopped():
		within("price", "agreed", "To agree", b.fixed("client-not-yet", nil))
	case b.plan.Unfinished():
		within("price", "agreed", "To agree", b.fixed("client-not-finished", nil))
	default:
		within("price", "agreed", "Agreed", b.fixed("client-sign", b.plan.Price.Offer.Show))
	}
	b.sections = list
	return list
}

// clientPageList are the pages of the client's edition, but for the first.
var clientPageList = []page{
	{name: "drawings", title: "Drawings and choices", short: "Drawings", about: "how it will look, and what can be had otherwise"},
	{name: "work", title: "The days of the work", short: "The work", about: "which days are noisy, dusty or smell, when the stair is closed, and how to live with an open edge"},
	{name: "after", title: "After the work", short: "After the work", about: "what was read and used, and how to keep it"},
	{name: "notes", title: "Notes for you", short: "Notes", about: "what we wrote down for you"},
	{name: "price", title: "Price and agreement", short: "Price", about: "what is agreed, to sign"},
}

// clientPages are the pages of the client's edition.
func (b *book) clientPages() []page {
	bodies := map[string]*writer{}
	for _, x := range b.clientSections() {
		if bodies[x.page] == nil {
			bodies[x.page] = &writer{}
		}
		x.put(bodies[x.page])
	}
	first := page{name: "index", title: "What will be done", short: "What will be done"}
	var list writer
	for _, p := range clientPageList {
		if w := bodies[p.name]; w != nil {
			p.body = w.pieces()
			if p.name == "price" {
				priced, stopped := b.plan.Price.Offer.Show, b.unsigned()
				switch {
				case priced && stopped:
					p.title, p.about = "Price", "what it costs"
				case stopped:
					p.title, p.about = "Agreement", "what is to be agreed"
				case !priced:
					p.title = "Agreement"
				}
				p.short, _, _ = strings.Cut(p.title, " ")
			}
			b.made = append(b.made, p)
			list.say(`<li><a href="%s.html">%s</a>: %s</li>`+"\n", p.name, p.title, p.about)
		}
	}
	print := "To print and sign"
	if b.unsigned() {
		print = "To print"
	}
	list.say(`<li><a href="print.html">%s</a>: all of it in one</li>`+"\n", print)
	var w writer
	w.put(b.fixed("client-facts", b.clientFacts()), b.inShort())
	if x := bodies["index"]; x != nil {
		w.take(x)
	}
	w.say("<section class=\"part\"><h2>On the other pages</h2>\n<ul class=\"plain\">\n%s</ul>\n</section>\n", &list)
	first.body = w.pieces()
	pages := append([]page{first}, b.made...)
	b.unlink(pages)
	return pages
}

// unsigned reports that the client has nothing to sign yet.
func (b *book) unsigned() bool { return b.plan.Stopped() || b.plan.Unfinished() }

// inShort is what a client looks for first: the days, the price, where to sign. It stands in the edition alone: the document to print has all of it in order.
func (b *book) inShort() markup {
	facts := pairs{class: "facts"}
	if s := &b.plan.Schedule; s.Dated && len(s.Days) > 0 {
		facts.add("the work", say(`<a href="work.html">%s to %s</a>`, s.Label(s.Days[0].Day), s.Label(s.Days[len(s.Days)-1].Day)))
	}
	facts.add("noise, dust or smell", b.disturbed())
	if o := b.plan.Price.Offer; o.Show {
		facts.add("the price", say(`<a href="price.html">%s</a>`, b.cash(o.Total)))
	}
	if n := len(b.job.Price.Choices); n > 0 && b.choices() != "" {
		facts.add("to choose from", say(`<a href="drawings.html">%s</a>`, counted(n, "other way to build it", "other ways to build it")))
	}
	switch {
	case b.plan.Stopped():
		facts.add("to agree", "once what stops it is settled")
	case b.plan.Unfinished():
		facts.add("to agree", "once what fails on it is put right")
	default:
		facts.add("to agree", `<a href="print.html">print and sign</a>`)
	}
	return say("<section class=\"part\"><h2>In short</h2>\n%s</section>\n", &facts)
}

// scope is each run in plain words.
func (b *book) scope() markup {
	var w writer
	w.line(b.job.Price.Words.Text)
	if len(b.plan.Layout.Runs) == 0 {
		w.put("<p>Nothing is measured yet.</p>\n")
		return w.markup()
	}
	w.put("<ul>\n")
	for _, r := range b.plan.Layout.Runs {
		if r.Job == nil {
			continue
		}
		var parts []string
		if r.Clear != nil {
			long := "about " + b.roomWords(r.Clear.Exact(b.job.System)) + " long"
			if r.Job.Stair != nil {
				long += " measured level" // the handrail beside it is longer
			}
			parts = append(parts, long)
		}
		if c := r.Chosen; c != nil && c.Count > 0 && r.Job.Baluster != nil {
			words := counted(c.Count, "baluster", "balusters")
			if r.Kept != nil {
				words = counted(c.Count, "new baluster", "new balusters")
			}
			parts = append(parts, words+of(r.Job.Baluster.Species))
		}
		if k := r.Kept; k != nil {
			if n := len(k.Old); n > 0 {
				parts = append(parts, "set between the "+counted(n, "old one", "old ones"))
			}
			parts = append(parts, "the old handrail and what it stands on stay")
		}
		if h := r.Job.Handrail; h != nil && r.Kept == nil {
			parts = append(parts, "handrail"+of(h.Species))
		}
		if s := r.Job.Shoe; s != nil && r.Kept == nil {
			parts = append(parts, "shoe under the balusters"+of(s.Species))
		}
		switch {
		case r.Rake != nil && r.Chosen != nil:
			parts = append(parts, "top of the rail "+b.plain(r.Rake.Top)+" above the edges of the treads")
		case r.Rake == nil && r.Levels.Known && r.Levels.Finished > 0:
			parts = append(parts, "top of the rail "+b.plain(r.Levels.Finished.Round(b.division, length.Nearest))+" above the floor")
		}
		if r.Chosen == nil {
			parts = append(parts, "the rest still to be measured or decided")
		}
		w.say("<li>%s: %s.</li>\n", b.runTitle(r.Name), strings.Join(parts, ", "))
	}
	if slices.ContainsFunc(b.job.Surveys, func(s *job.Survey) bool { return s.Goes() }) {
		w.put("<li>The old guard is taken out.</li>\n")
	}
	var woods []string
	posts := 0
	for _, p := range b.job.Posts {
		if b.job.Stays(&p) {
			continue
		}
		posts++
		if p.Part != nil && p.Part.Species.Given && !slices.Contains(woods, strings.ToLower(p.Part.Species.Text)) {
			woods = append(woods, strings.ToLower(p.Part.Species.Text))
		}
	}
	if n := posts; n > 0 {
		words := counted(n, "new post", "new posts")
		if len(woods) > 0 {
			words += " of " + listed(woods)
		}
		w.say("<li>%s.</li>\n", words)
	}
	var finishes []string
	of := map[string][]string{} // the groups of parts that get each
	for _, f := range b.job.Finishes {
		if f.Part == nil {
			continue
		}
		name := strings.ToLower(partTitle(f.Part.Title, f.Part.Origin))
		if of[name] == nil {
			finishes = append(finishes, name)
		}
		of[name] = append(of[name], f.Group)
	}
	for _, name := range finishes {
		w.say("<li>Finish of the %s: %s.</li>\n", listed(of[name]), name)
	}
	w.put("</ul>\n")
	return w.markup()
}

func of(species job.Text) string {
	if !species.Given {
		return ""
	}
	return " of " + strings.ToLower(species.Text)
}

// roomWords is a length as one says it of a room: to the nearest foot or tenth of a metre.
func (b *book) roomWords(l length.Length) string {
	if b.job.System == length.Millimetres {
		tenths := int((l + 50*length.Millimetre) / (100 * length.Millimetre))
		return strings.TrimSuffix(fmt.Sprintf("%d.%d", tenths/10, tenths%10), ".0") + " m"
	}
	const foot = 12 * length.Inch
	return counted(int((l+foot/2)/foot), "foot", "feet")
}

// unsettled says that sizes can change, where they can.
func (b *book) unsettled() markup {
	asks, loads := 0, 0
	for _, f := range b.plan.Findings {
		switch {
		case b.plan.OfOld(f), b.plan.OfBuilt(f):
		case f.Verdict == finding.AskAuthority && strings.Contains(f.ID, "/load-"):
			loads++
		case f.Verdict == finding.AskAuthority:
			asks++
		}
	}
	var w writer
	if b.plan.Unfinished() {
		w.put("<p>The guard as it stands is not finished: a check of it fails. It is put right, and looked at again, before you take it over.</p>\n")
	}
	if b.plan.Stopped() {
		w.put("<p>It cannot be built as drawn here yet: the rules or the parts ask for a change, which is agreed with you first.</p>\n")
	}
	if n := len(b.open()); n > 0 {
		w.say("<p>%s still to be measured or decided. Sizes and counts can still change.</p>\n", capital(counted(n, "thing is", "things are")))
	}
	if asks > 0 {
		w.say("<p>%s with the building department.</p>\n", capital(counted(asks, "point is still to be settled", "points are still to be settled")))
	}
	if loads > 0 {
		w.put("<p>What holds the guard is confirmed by an engineer, or by hardware with a tested rating, before it is built.</p>\n")
	}
	return w.markup()
}

// clientDrawings are the guard from above and every run as it will stand.
func (b *book) clientDrawings() []markup {
	var list []markup
	if len(b.plan.Layout.Plan.Stretches) > 0 {
		list = append(list, "<h3>From above</h3>\n")
		list = append(list, sized(panels(b.above(sheetWidth)), panels(b.above(phoneWidth)))...)
	}
	for _, r := range b.plan.Layout.Runs {
		if r.Chosen == nil {
			continue
		}
		wide := *r
		wide.ID += "-sheet" // ids in the drawing are the run's
		list = append(list, say("<h3>%s</h3>\n", b.runTitle(r.Name)))
		list = append(list, sized(panels([]string{draw.Overview(&wide, b.style(), sheetWidth)}), panels([]string{draw.Overview(r, b.style(), phoneWidth)}))...)
	}
	if len(list) == 0 {
		return nil
	}
	return append(list, "<p>Drawn to scale from the measurements taken in the house.</p>\n")
}

// choices are the alternatives that the job offers, with what would change, and what it would cost more or less.
func (b *book) choices() markup {
	var w writer
	for _, name := range b.job.Price.Choices {
		i := slices.IndexFunc(b.plan.Alternatives, func(a plan.Alternative) bool { return a.Of.Name == name.Text })
		if i < 0 || b.plan.Alternatives[i].Plan == nil {
			continue
		}
		a := b.plan.Alternatives[i]
		words := []string{fmt.Sprintf("%s in place of %d", counted(balustersOf(a.Plan), "baluster", "balusters"), balustersOf(b.plan))}
		if balustersOf(a.Plan) == balustersOf(b.plan) {
			words = nil
		}
		shown, other := b.plan.Price.Offer, a.Plan.Price.Offer
		switch {
		case verdicts(a.Plan, finding.Fail) > 0: // no promise, and no price, of what cannot be built as it stands
			words = []string{"whether it can be had is not settled yet"}
		case !shown.Show:
		case !other.Show:
			words = append(words, "its price follows")
		case b.boughtAlready(a.Plan):
			words = append(words, "what came for the guard as drawn is bought already, and is not saved by it; its price now is to be asked for")
		case other.Total > shown.Total:
			words = append(words, string(b.cash(other.Total-shown.Total))+" more")
		case other.Total < shown.Total:
			words = append(words, string(b.cash(shown.Total-other.Total))+" less")
		default:
			words = append(words, "at the same price")
		}
		title := esc(a.Of.Title.Or(job.Text{Text: a.Of.Name}).Text)
		if len(words) > 0 {
			title += ": " + markup(strings.Join(words, "; "))
		}
		w.put("<li>", title, ".</li>\n")
	}
	if w.Len() == 0 {
		return ""
	}
	return "<p>The guard as described is what is drawn and priced. It can also be had otherwise:</p>\n<ul>\n" + w.markup() + "</ul>\n"
}

// balustersOf counts the balusters of a whole job.
func balustersOf(p *plan.Plan) int {
	n := 0
	for _, r := range p.Layout.Runs {
		if r.Chosen != nil {
			n += r.Chosen.Count
		}
	}
	return n
}

// clientCare is how the finishes and the guard are kept.
func (b *book) clientCare() markup {
	var w writer
	type care struct{ text, groups string }
	var said []care
	add := func(group, text string) {
		if i := slices.IndexFunc(said, func(c care) bool { return c.text == text }); i >= 0 {
			said[i].groups += ", " + group
			return
		}
		said = append(said, care{text, group})
	}
	for _, f := range b.job.Finishes {
		if f.Part != nil && f.Part.Care.Given {
			add(f.Group, f.Part.Care.Text)
		}
	}
	for _, c := range said {
		w.line(capital(c.groups) + ": " + sentence(c.text))
	}
	w.put(b.fixed("client-care", slices.Contains(b.plan.Traits, "children")), b.clientRetighten())
	return w.markup()
}

// clientCautions are the dangers that the household meets, in words for the household.
func (b *book) clientCautions() markup {
	var w writer
	for _, name := range clientCautions {
		if slices.ContainsFunc(b.plan.Sequence.Cautions, func(c *job.Caution) bool { return c.Name == name }) {
			w.put(b.fixed("client-"+name, b.job.IsLaw(job.US)))
		}
	}
	return w.markup()
}
