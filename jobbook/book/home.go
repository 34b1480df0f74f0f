package book

import (
	"strings"

	"balustrade/jobbook/job"
	"balustrade/jobbook/source"
	"balustrade/jobbook/takeoff"
)

// Levels of the highest heading of a text on its page: below the page's heading, and below that of a section.
const (
	underSection = 3
	underPart    = 4
)

// homes lists the texts that people wrote, each with the place where the book shows it.
func (b *book) homes() []*prose {
	j := b.job
	var list []*prose
	add := func(doc *source.Document, page, id string, level int) {
		list = append(list, &prose{doc: doc, page: page, id: id, level: level})
	}
	if b.edition == Client { // no other words are the client's
		b.notesHomes(add, &list)
		return list
	}
	add(j.Prose.Document, "index", "", underSection)
	for _, r := range j.Runs {
		list = append(list, &prose{doc: r.Prose.Document, page: "layout", id: runAnchor(r.Name), run: r.Name, level: underSection})
	}
	for _, p := range b.parts() {
		add(p.origin.Prose.Document, "cut-list", p.anchor(), underPart)
	}
	for _, u := range j.Finishes {
		if u.Part != nil {
			add(u.Part.Prose.Document, "finishing", "finish-"+anchor(u.Part.Name), underSection)
		}
	}
	for _, s := range j.Surveys {
		add(s.Prose.Document, "measured", "survey-"+anchor(s.Name), underSection)
	}
	for _, s := range b.plan.Sequence.Steps {
		if s.Step == nil {
			continue
		}
		add(s.Step.Prose.Document, "sequence", stepAnchor(s.Step), underSection)
	}
	for _, c := range b.plan.Sequence.Cautions {
		add(c.Prose.Document, "cautions", cautionAnchor(c), underSection)
	}
	if j.Rules != nil {
		add(j.Rules.Prose.Document, "checks", "rules", underSection)
	}
	seen := map[*job.Fastening]bool{}
	for _, x := range b.plan.Takeoff.Fixings {
		if f := x.Fastening; !seen[f] {
			seen[f] = true
			add(f.Prose.Document, "fixings", "fastening-"+anchor(f.Name), underSection)
		}
	}
	for _, o := range b.plan.Buying.Orders {
		for _, s := range j.Suppliers {
			if s.Name == o.Supplier.Name {
				add(s.Prose.Document, "buying-list", orderAnchor(o), underSection)
			}
		}
	}
	for _, x := range j.Deliveries {
		add(x.Prose.Document, "received", deliveryAnchor(x), underSection)
	}
	for _, x := range j.MadeFiles {
		add(x.Prose.Document, "made", madeAnchor(x), underSection)
	}
	for _, x := range j.AsBuilt {
		add(x.Prose.Document, "inspection", builtAnchor(x), underSection)
	}
	for _, a := range j.Alternatives {
		add(a.Prose.Document, "alternatives", "alternative-"+anchor(a.Name), underSection)
	}
	b.notesHomes(add, &list)
	return list
}

// notesHomes are those of notes and punch lists. The client's have no names of files in their ids.
func (b *book) notesHomes(add func(doc *source.Document, page, id string, level int), list *[]*prose) {
	alias := func(name string) {
		if b.edition == Client {
			(*list)[len(*list)-1].alias = name
		}
	}
	for _, n := range b.job.Notes {
		add(n, "notes", b.noteAnchor(n), underSection)
		alias(b.noteAnchor(n))
	}
	for _, x := range b.job.Punches {
		add(x.Prose.Document, "hand-over", b.punchAnchor(x), underPart)
		alias(b.punchAnchor(x))
	}
}

func orderAnchor(o takeoff.Order) string     { return "order-" + anchor("from-"+o.Supplier.Name) }
func runAnchor(name string) string           { return "run-" + anchor(name) }
func stepAnchor(s *job.Step) string          { return "step-" + anchor(s.Name) }
func cautionAnchor(c *job.Caution) string    { return "caution-" + anchor(c.Name) }
func documentAnchor(file string) string      { return "rec-" + anchor(strings.TrimSuffix(file, ".md")) }
func lineAnchor(file string) (prefix string) { return documentAnchor(file) + "-L" }

// home is the link to the place where a file is shown: its own section, or the file as recorded.
func (b *book) home(file string) (href string, ok bool) {
	if p := b.proses[file]; p != nil {
		if p.id == "" {
			return p.page + ".html", true
		}
		return p.page + ".html#" + p.id, true
	}
	if b.documents[file] != nil {
		return "recorded.html#" + documentAnchor(file), true
	}
	return "", false
}

// files lists what a link can lead to, in the order of the job.
func (b *book) files() []string {
	var list []string
	for i := range b.job.Documents {
		list = append(list, b.job.Documents[i].File)
	}
	return list
}

// recorded makes markup a quiet link to the line where something was written; it stays plain where the book does not show
// that file.
func (b *book) recorded(at source.Pos, m markup) markup {
	if m == "" || b.documents[at.File] == nil {
		return m
	}
	var w writer
	b.openRecorded(&w, at)
	w.put(m, "</a>")
	return w.markup()
}

// openRecorded opens a link to where something was written, in a file that the book shows.
func (b *book) openRecorded(w *writer, at source.Pos) {
	w.put(`<a class="r" href="recorded.html#rec-`)
	w.anchor(strings.TrimSuffix(at.File, ".md"))
	if at.Line >= 1 && at.Line <= b.lines[at.File] {
		w.put("-L")
		w.number(int64(at.Line))
	}
	w.put(`">`)
}

// where is a place in words, as a link: runs/1-gallery.md, line 9. The inspector has no files, and the name of one may be a supplier's.
func (b *book) where(at source.Pos) markup {
	if at.IsZero() || b.edition == Inspector {
		return ""
	}
	var w writer
	b.putWhere(&w, at)
	return w.markup()
}

// putWhere writes where something was written.
func (b *book) putWhere(w *writer, at source.Pos) {
	link := b.documents[at.File] != nil
	if link {
		b.openRecorded(w, at)
	}
	w.put("<code>")
	w.text(at.File)
	w.put("</code>")
	if at.Line > 0 {
		w.put(", line ")
		w.number(int64(at.Line))
	}
	if link {
		w.put("</a>")
	}
}

// layers are the words for where a file was found.
func layerWords(l source.Layer) string {
	switch l {
	case source.Job:
		return "the job's own"
	case source.Shop:
		return "the shop's"
	case source.Library:
		return "the library's"
	}
	return ""
}

// replaced says which farther files of the same name a file replaces.
func replaced(o job.Origin) string {
	var words []string
	for _, l := range o.Over {
		words = append(words, layerWords(l))
	}
	return listed(words)
}

// recordedFile makes markup a quiet link to a file as recorded.
func (b *book) recordedFile(file string, m markup) markup {
	return b.recorded(source.Pos{File: file}, m)
}
