package book

import (
	"bufio"
	"cmp"
	"io/fs"
	"strings"
	"sync"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/job"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/length"
	"balustrade/jobbook/photo"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// book is one book in the making.
type book struct {
	edition  Edition
	plan     *plan.Plan
	job      *job.Job
	frames   *frames
	division length.Length // what the tape's readings are rounded to

	figures   map[string]int               // the number of each figure in the working, by id
	formulas  map[*working.Figure]*printed // those that were printed so far
	anchors   map[string]string            // where a figure of an alternative stands, where it is not as in the job as drawn
	documents map[string]*source.Document  // those shown as recorded, by file
	lines     map[string]int               // how many lines each of them has
	proses    map[string]*prose            // those shown on a page, by file
	compared  *comparison                  // made when first asked for
	made      []page                       // the pages that have something to say, but for the first
	problems  []source.Problem

	pen         *bufio.Writer                   // the Markdown library's; made when first asked for
	photographs []*photo.Copy                   // that pages show, in the order in which they do
	sections    []clientSection                 // of the client's edition; made when first asked for
	stripPages  []stripPage                     // marks at full size
	drawn       map[*layout.Run]func() drawings // the elevations of runs, each made once by whoever asks first
	above       func(width int) []string        // the guard from above, for a page of a width; made once for each by whoever asks first
	cited       map[string]bool                 // the figures that the page of workings has; all of them where nil
	marks       map[[2]int]string               // what is written on a piece, by its cut and its number there; made when first asked for
}

// render makes the pages, then the frames around them, then the rest.
func render(p *plan.Plan, templates fs.FS, edition Edition) ([]File, []source.Problem, error) {
	frames, err := framesOf(templates)
	if err != nil {
		return nil, nil, err
	}
	b := newBook(p, frames)
	b.edition = edition
	beside := func() ([]File, error) { return nil, nil }
	if edition == Whole { // the client's document and the plan as data are begun beside the pages, of which they know nothing
		client := begun(func() ([]File, error) {
			of := newBook(p, frames)
			of.edition, of.above = Client, b.above
			of.readProse()
			return of.client(clientFile)
		})
		data := begun(func() ([]File, error) { return dataFiles(p) })
		beside = func() ([]File, error) {
			document, err := client()
			more, other := data()
			return append(document, more...), cmp.Or(err, other)
		}
	}
	b.readProse()
	pages := b.pages()
	b.problems = source.Sort(b.problems)
	files, err := b.bind(pages)
	more, other := beside() // waited for in any case: nothing goes on behind the caller's back
	if err := cmp.Or(err, other); err != nil {
		return nil, nil, err
	}
	if source.AnyError(b.problems) {
		return nil, b.problems, nil
	}
	if f, ok := b.iCalendar(); ok && b.has("calendar") {
		files = append(files, f)
	}
	for _, x := range b.photographs {
		files = append(files, File{PhotographsFolder + x.Name, x.Data})
	}
	return append(files, more...), b.problems, nil
}

// begun starts some work and gives what waits for its outcome.
func begun[T any](work func() (T, error)) func() (T, error) {
	var made T
	var err error
	done := make(chan struct{})
	go func() {
		defer close(done)
		made, err = work()
	}()
	return func() (T, error) { <-done; return made, err }
}

func newBook(p *plan.Plan, frames *frames) *book {
	j := p.Job
	if j == nil {
		j = &job.Job{} // a plan without a job is an empty one
	}
	b := &book{
		plan: p, job: j, frames: frames, division: j.Division.Length,
		figures: make(map[string]int, len(p.Figures)), formulas: map[*working.Figure]*printed{}, documents: map[string]*source.Document{}, lines: map[string]int{}, proses: map[string]*prose{}, drawn: map[*layout.Run]func() drawings{},
	}
	if b.division <= 0 {
		b.division = finestInch
		if b.job.System == length.Millimetres {
			b.division = length.Millimetre
		}
	}
	plans := map[int]func() []string{}
	for _, width := range []int{sheetWidth, phoneWidth} {
		plans[width] = sync.OnceValue(func() []string { return draw.PlanView(p.Layout, b.job, b.style(), width) })
	}
	b.above = func(width int) []string { return plans[width]() }
	for _, r := range p.Layout.Runs {
		b.drawn[r] = sync.OnceValue(func() drawings { return b.drawings(r) })
	}
	for i, f := range p.Figures {
		b.figures[f.ID] = i + 1
	}
	for i := range b.job.Documents {
		doc := &b.job.Documents[i]
		b.documents[doc.File] = doc
		b.lines[doc.File] = strings.Count(doc.Text, "\n") + 1
		if strings.HasSuffix(doc.Text, "\n") || doc.Text == "" {
			b.lines[doc.File]--
		}
	}
	return b
}

// run finds the layout of a run by the run's name; nil when there is none.
func (b *book) run(name string) *layout.Run {
	for _, r := range b.plan.Layout.Runs {
		if r.Name == name {
			return r
		}
	}
	return nil
}

// figureOf finds a figure of the plan by its id; nil where there is none.
func (b *book) figureOf(id string) *working.Figure {
	if n := b.figures[id]; n > 0 {
		return b.plan.Figures[n-1]
	}
	return nil
}

// page is one page of the book.
type page struct {
	name  string // of the file, less .html
	title string // heading
	short string // in the list of pages
	about string // what it is for, in a few words
	body  pieces
	make  func(*book) markup   // one of these two makes it:
	write func(*book, *writer) // that of a long one writes it, piece by piece
}

// written makes the body of a page; it has no pieces where there is nothing to say.
func (p page) written(b *book) pieces {
	var w writer
	if p.write != nil {
		p.write(b, &w)
	} else {
		w.put(p.make(b))
	}
	return w.pieces()
}

// recordedPage is begun beside the others.
var recordedPage = page{name: "recorded", title: "As recorded", short: "As recorded", about: "the files that the job rests on, line by line", write: (*book).recordedPage}

// All pages in the order of the list of pages. One whose body is empty has nothing to say for this job, and is not made.
var allPages = []page{
	{name: "index", title: "Answers", short: "Answers", about: "what stops the job, the numbers to carry, what is next", make: (*book).answersPage},
	{name: "changes", title: "Changes", short: "Changes", about: "what is not as it was handed out", make: (*book).changesPage},
	{name: "measured", title: "As measured", short: "As measured", about: "every reading, and the parts and rules used", make: (*book).measuredPage},
	{name: "layout", title: "Layout", short: "Layout", about: "marks, gaps and openings, run by run", write: (*book).layoutPage},
	{name: "posts", title: "Posts and ends", short: "Posts and ends", about: "the guard from above, what meets at each newel, rail ends, walls and edges", write: (*book).postsPage},
	{name: "cut-list", title: "Cut list", short: "Cut list", about: "every piece and its length", make: (*book).cutPage},
	{name: "cutting", title: "Cutting plan", short: "Cutting plan", about: "which stick each piece comes from", make: (*book).cuttingPage},
	{name: "setups", title: "Set-ups", short: "Set-ups", about: "each setting of saw and drill, and what is done at it", make: (*book).setupsPage},
	{name: "fixings", title: "Fixings", short: "Fixings", about: "what holds every joint, how it is bored and driven", make: (*book).fixingsPage},
	{name: "labels", title: "Labels", short: "Labels", about: "one to print for every piece", make: (*book).labelsPage},
	{name: "buying-list", title: "Buying list", short: "Buying list", about: "what to order", make: (*book).buyingPage},
	{name: "received", title: "Received", short: "Received", about: "what came, its real sizes, and what they change", make: (*book).receivedPage},
	{name: "made", title: "Already made", short: "Already made", about: "what is made, and what becomes of it", make: (*book).madePage},
	{name: "price", title: "Price, internal", short: "Price", about: "from cost to price; the shop's own", make: (*book).pricePage},
	{name: "alternatives", title: "Alternatives", short: "Alternatives", about: "other ways to build it, side by side", write: (*book).alternativesPage},
	{name: "wood", title: "Wood", short: "Wood", about: "what the room's air does to it", make: (*book).woodPage},
	{name: "loads", title: "Loads", short: "Loads", about: "what rail, balusters and posts are screened for", make: (*book).loadsPage},
	{name: "finishing", title: "Finishing", short: "Finishing", about: "coats in order, and how much of each", make: (*book).finishingPage},
	{name: "sequence", title: "Order of work", short: "Order of work", about: "steps and hold points", make: (*book).sequencePage},
	{name: "calendar", title: "Calendar", short: "Calendar", about: "each step on its days", write: (*book).calendarPage},
	{name: "days", title: "Day sheets", short: "Day sheets", about: "what to do and bring on each day, and how to leave it", make: (*book).daysPage},
	{name: "cautions", title: "Cautions", short: "Cautions", about: "dangers, and where they bite", make: (*book).cautionsPage},
	{name: "checks", title: "Checks", short: "Checks", about: "measured, limit, clause and verdict", write: (*book).checksPage},
	{name: "inspection", title: "Inspection sheet", short: "Inspection sheet", about: "what to measure on the guard as it stands, to fill in and sign", make: (*book).inspectionPage},
	{name: "hand-over", title: "Hand-over", short: "Hand-over", about: "punch list, what was read and put on, care, when to tighten it once more", make: (*book).handOverPage},
	{name: "notes", title: "Notes", short: "Notes", about: "pages of notes", make: (*book).notesPage},
	{name: "working", title: "Working", short: "Working", about: "how every number came about", write: (*book).workingPage},
	recordedPage,
}

// pages makes the bodies. The answers are made last, for they list the other pages, and stand first.
func (b *book) pages() []page {
	if b.edition != Whole {
		return b.editionPages()
	}
	drawn := begun(func() ([]stripPage, error) { // what takes long to draw is begun beside the pages
		for _, r := range b.plan.Layout.Runs {
			b.drawn[r]()
		}
		return b.strips(), nil
	})
	recorded := begun(func() (pieces, error) { return recordedPage.written(b), nil }) // which needs nothing that other pages make
	first, others := allPages[0], allPages[1:]
	for _, p := range others {
		if p.name == recordedPage.name {
			p.body, _ = recorded()
		} else {
			p.body = p.written(b)
		}
		if len(p.body) > 0 {
			b.made = append(b.made, p)
		}
	}
	first.body = first.written(b)
	b.stripPages, _ = drawn()
	return append([]page{first}, b.made...)
}

// bind puts the frames around the bodies, and adds the style sheet, the print edition and the licence of the typeface.
func (b *book) bind(pages []page) ([]File, error) {
	front := cover{
		Job: b.title(), Client: b.job.Client.Text, Place: b.job.Place.Text, Measured: b.job.Measured.Text,
		Build: buildID(pages, b.frames.style), Style: b.frames.style, Answer: b.answer().words,
		Edition: editionWords[b.edition], ForClient: b.edition == Client, Unsigned: b.plan.Stopped(),
	}
	for _, p := range b.stripPages {
		front.strips = append(front.strips, pageLine{p.file, "Full size, " + p.Paper})
	}
	front.workings = b.hasWorkings(pages)
	print := begun(func() ([]File, error) { // it is as long as all pages together
		if b.edition == Client { // whose print edition is the client's document
			return b.client("print.html")
		}
		var files []File
		for _, d := range b.documentsToPrint(pages) {
			whole, bodies := front.edition(pages, d)
			f, err := b.frames.file(d.file, "print", whole, bodies...)
			if err != nil {
				return nil, err
			}
			files = append(files, f)
		}
		return files, nil
	})
	files := []File{{b.frames.style, b.frames.css}, {licenceFile, b.frames.licence}}
	var failed error
	add := func(name, frame string, data any, bodies ...pieces) {
		f, err := b.frames.file(name, frame, data, unturned(bodies...)...)
		files, failed = append(files, f), cmp.Or(failed, err)
	}
	list := append(append(lines(pages), front.strips...), pageLine{"print.html", front.printName()})
	if front.workings {
		list = append(list, pageLine{workingsFile, "Workings, to print"})
	}
	for _, p := range pages {
		add(p.name+".html", "page", front.page(p), p.body, pieces{linked(list, p.name+".html")})
	}
	for _, p := range b.stripPages {
		p.cover = front
		add(p.file, "strips", p, p.sheets...)
	}
	more, err := print()
	return append(files, more...), cmp.Or(failed, err)
}

// title is the job's name; its folder's file where it has none.
func (b *book) title() string {
	if b.job.Title.Text != "" {
		return b.job.Title.Text
	}
	return "Job without a title"
}
