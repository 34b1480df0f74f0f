package book

import (
	"slices"
	"strconv"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/source"
)

// punchLines is how many empty lines the punch list has: as many as a landing's worth of small faults takes on one sheet.
const punchLines = 8

// handOverPage is what is put right, read, signed off and kept at the end. It is made once something has been laid out.
func (b *book) handOverPage(w *writer) {
	if !slices.ContainsFunc(b.plan.Layout.Runs, func(r *layout.Run) bool { return r.Chosen != nil }) && len(b.job.Punches) == 0 && len(b.job.Used) == 0 {
		return
	}
	w.put(`<section id="as-built"><h2>Readings as built</h2>`, "\n", b.builtTally(), b.pushTable(), b.builtTable(), "</section>\n")
	w.put(`<section id="punch"><h2>Punch list</h2>`, "\n", b.punchLine(), b.punchTable(), b.punchWalks(), b.punchByHand(), "</section>\n")
	if t := b.usedTable(); t != "" {
		w.put(`<section id="put-on"><h2>What was used</h2>`, "\n", t, "</section>\n")
	}
	w.put(`<section id="care"><h2>Care</h2>`, "\n")
	seen := map[string]bool{}
	for _, u := range b.job.Finishes {
		if u.Part == nil || seen[u.Part.Name] {
			continue
		}
		seen[u.Part.Name] = true
		title := partTitle(u.Part.Title, u.Part.Origin)
		if m := b.afterLast(u.Part); m != "" {
			w.say("<p>%s:</p>\n", title)
			w.put(m)
		}
		if u.Part.Care.Given {
			w.line(title + ": " + sentence(u.Part.Care.Text))
		}
	}
	w.put(b.fixed("care", nil), "</section>\n", `<section id="retighten"><h2>Tightening it once more</h2>`, "\n", b.retighten(), "</section>\n")
	if slices.Contains(b.plan.Traits, "children") {
		w.put(`<section id="gate"><h2>A gate at the head of the stair</h2>`, "\n", b.fixed("gate", b.job.IsLaw(job.US)), "</section>\n")
	}
}

// punchAnchor is the id of a punch list. The client's has no file's name in it.
func (b *book) punchAnchor(x *job.Punch) string {
	if b.edition == Client {
		return "punch-" + strconv.Itoa(slices.Index(b.job.Punches, x)+1)
	}
	return "punch-" + anchor(x.Name)
}

// punches are the lists that the edition has.
func (b *book) punches() (list []*job.Punch) {
	for _, x := range b.job.Punches {
		if b.isFor(x.Prose.Document) {
			list = append(list, x)
		}
	}
	return list
}

// punched counts what is on the lists, and what of it is open.
func (b *book) punched() (all, open int) {
	for _, x := range b.punches() {
		for _, p := range x.Items {
			if p.What.Given {
				all++
			}
			if p.Open() {
				open++
			}
		}
	}
	return all, open
}

func (b *book) punchLine() markup {
	all, open := b.punched()
	switch {
	case all == 0:
		return "<p>Nothing is written down yet. Items go into a file of <code>kind: punch</code>, one for each walk round the guard.</p>\n"
	case open == 0:
		return say("<p>All %s done.</p>\n", counted(all, "item is", "items are"))
	}
	return say("<p><b>%s open</b>, of %d.</p>\n", counted(open, "item is", "items are"), all)
}

// punchTable lists what is to be put right: what is open first, then what is done, each in the order of the files.
func (b *book) punchTable() markup {
	t := table{label: "To put right", heads: []head{column("What"), column("On"), column("Who"), column("When")}}
	if b.edition == Client { // who of the shop sees to it is the shop's business
		t.heads = slices.Delete(t.heads, 2, 3)
	}
	for _, open := range []bool{true, false} {
		for _, x := range b.punches() {
			for _, p := range x.Items {
				if !p.What.Given || p.Open() != open {
					continue
				}
				what := esc(sentence(p.What.Text))
				if b.edition != Client {
					what = b.recorded(p.What.At, what)
					if p.Note.Given {
						what += say(`<span class="fit">%s</span>`, sentence(p.Note.Text))
					}
				}
				who, when := esc(p.Owner.Text), markup("")
				if !p.Owner.Given && open {
					who = `<span class="open">nobody yet</span>`
				}
				switch {
				case !open:
					when = "done " + b.shortDay(p.Done)
				case p.By.Given:
					when = "open, by " + b.shortDay(p.By)
				default:
					when = `open, <span class="open">no day yet</span>`
				}
				cells := []markup{what, b.punchPlace(p), who, when}
				if b.edition == Client {
					cells = slices.Delete(cells, 2, 3)
				}
				t.row(cells...)
			}
		}
	}
	t.long = len(t.rows) > sheetRows
	return t.markup()
}

// sheetRows is how many rows of a table are kept together on paper: about half a sheet.
const sheetRows = 16

// shortDay is a day for a table, as it was written; in few words for the client.
func (b *book) shortDay(t job.Text) markup {
	if at, ok := t.Date(); ok && b.edition == Client {
		return say(`<span class="tight">%s</span>`, at.Format("2 Jan 2006"))
	}
	return say(`<span class="tight">%s</span>`, t.Text)
}

// punchPlace is what an item is on, and where on it.
func (b *book) punchPlace(p job.PunchItem) markup {
	of := markup("")
	switch {
	case !p.Of.Given:
	case b.job.Post(p.Of.Text) != nil:
		of = say("Post %s", p.Of.Text)
	default:
		of = esc(b.runTitle(p.Of.Text))
	}
	if of == "" && !p.Where.Given {
		return "The whole job"
	}
	if of == "" {
		return esc(capital(p.Where.Text))
	}
	return joined(", ", of, esc(p.Where.Text))
}

// punchWalks says who walked when, with the words of each list.
func (b *book) punchWalks() markup {
	var w writer
	for _, x := range b.punches() {
		title := partTitle(x.Title, x.Origin)
		w.say(`<section id="%s"><h3>%s</h3>`+"\n", b.punchAnchor(x), title)
		if words := joined(", by ", b.dayWritten(x.Date), esc(x.By.Text)); words != "" {
			w.say("<p>Walked %s.</p>\n", words)
		}
		w.put(b.prose(x.Prose.Document), "</section>\n")
	}
	return w.markup()
}

// dayWritten is a day as people say it, as a quiet link to where it was written.
func (b *book) dayWritten(t job.Text) markup {
	if !t.Given {
		return ""
	}
	return b.recorded(t.At, esc("on "+dayWords(t.Text)))
}

// punchByHand has empty lines to fill in on the walk.
func (b *book) punchByHand() markup {
	t := table{label: "Punch list, to fill in by hand", heads: []head{column("What is to be put right"), column("Who, by when"), column("Done")}, class: "fill"}
	for range punchLines {
		t.row("", "", "")
	}
	return t.markup()
}

// usedTable is what was put on, as labels and cans have it; what came with a batch number, from the deliveries.
func (b *book) usedTable() markup {
	t := table{label: "Finishes that were put on", heads: []head{column("On"), column("What"), column("Colour"), column("Batch")}}
	for _, u := range b.job.Used {
		what := []markup{b.words(u.Product)}
		if u.Part != nil {
			what = append(what, esc(partTitle(u.Part.Title, u.Part.Origin)))
		}
		text := joined(", ", append(what, b.words(u.Coat))...)
		if u.Date.Given {
			text += say(`<span class="fit">Last coat: %s.</span>`, b.recorded(u.Date.At, b.shortDay(u.Date)))
		}
		if u.Left.Given {
			text += say(`<span class="fit">Left: %s</span>`, b.recorded(u.Left.At, esc(sentence(u.Left.Text))))
		}
		if u.Note.Given && b.edition != Client {
			text += say(`<span class="fit">%s</span>`, sentence(u.Note.Text))
		}
		t.row(b.words(u.On), text, joined(", ", b.words(u.Colour), b.words(u.Sheen)), b.words(u.Batch))
	}
	if b.edition == Client {
		return t.markup()
	}
	came := table{label: "Batches that came", heads: []head{column("What"), column("Batch"), column("Came")}}
	for _, x := range b.job.Deliveries {
		for _, r := range x.Items {
			if r.Batch.Given {
				came.row(joined(", ", b.words(r.Part), b.words(r.Coat)), b.words(r.Batch), b.words(x.Received))
			}
		}
	}
	return t.markup() + came.markup()
}

// retighten is the day on which bolts are tightened for the first time.
func (b *book) retighten() markup {
	r := b.plan.Retighten
	day := markup("")
	switch {
	case r.Day == "":
		day = say("<p>No day is worked out: %s.</p>\n", r.Missing)
	case r.Stands:
		day = say("<p>Come back about <b>%s</b>.</p>\n", b.figure(r.Figure, esc(dayWords(r.Day))))
	default:
		day = say("<p>As the calendar stands, come back about <b>%s</b>.</p>\n", b.figure(r.Figure, esc(dayWords(r.Day))))
	}
	return day + b.fixed("retighten", nil)
}

// builtTable is what was read on the guard as it stands, in short, a table for each run.
func (b *book) builtTable() markup {
	var w writer
	for _, x := range b.plan.Inspection.Sheets {
		if x.Run == nil {
			continue
		}
		t := table{label: "Read on: " + b.runTitle(x.Run.Name), heads: []head{column("What"), num("Read", b.unit()), column("Asked for"), column("Verdict")}}
		for _, c := range x.Checks {
			t.rows = append(t.rows, b.builtRows(c)...)
		}
		t.long = len(t.rows) > sheetRows
		t.put(&w)
	}
	return w.markup()
}

// builtRows are the readings of a check that count: the worst of it where it is read at several places.
func (b *book) builtRows(c rules.Check) (rows [][]markup) {
	var limits []markup
	for _, l := range c.Limits {
		if l.Limit == nil {
			continue
		}
		words := say("%s %s", l.Op.String(), b.inUnit(l.Limit.Value.Length, l.Limit.System))
		if l.Limit.System != b.job.System {
			words += say(` <span class="tight">(%s %s)</span>`, b.decimals(l.Limit.Value.Length, length.Nearest, b.places()), b.unit())
		}
		limits = append(limits, words)
	}
	for _, r := range c.Read {
		if !r.Counts || len(c.Boxes) > 1 && !r.Worst && r.Number != 0 {
			continue
		}
		place := r.Place
		if r.Number > 0 {
			place = "number " + place
		}
		what := esc(capital(c.What))
		if place != "" {
			what += say(`<span class="fit">%s</span>`, place)
		}
		value := b.exact(r.Value)
		if b.edition != Client {
			value = b.recorded(r.At, value)
		}
		verdict := r.Verdict.String()
		if b.edition == Client && r.Verdict == finding.AskAuthority {
			verdict = "asked of the building department"
		}
		rows = append(rows, []markup{what, value, joined(", ", limits...), verdictsOf(c, r, verdict)})
	}
	return rows
}

// noteAnchor is the id of a note. The client's has no file's name in it.
func (b *book) noteAnchor(n *source.Document) string {
	if b.edition == Client {
		return "note-" + strconv.Itoa(slices.Index(b.job.Notes, n)+1)
	}
	return "note-" + anchor(n.File)
}

// notesPage is the pages of notes.
func (b *book) notesPage(w *writer) {
	for _, n := range b.job.Notes {
		if b.isFor(n) {
			w.say(`<section id="%s"><h2>%s</h2>`+"\n%s</section>\n", b.noteAnchor(n), noteTitle(n), b.note(n))
		}
	}
}

// note is a note's day and words.
func (b *book) note(n *source.Document) markup {
	var w writer
	if d := n.Front.Get("date"); d != nil && d.Text != "" {
		day := d.Text
		if b.edition == Client {
			day = dayWords(day)
		}
		w.line(day)
	}
	w.put(b.prose(n))
	return w.markup()
}

// noteTitle is a note's title, or its file's name.
func noteTitle(n *source.Document) string {
	if t := n.Front.Get("title"); t != nil && t.Text != "" {
		return t.Text
	}
	return capital(n.Name)
}
