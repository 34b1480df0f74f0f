package book

import (
	"cmp"
	"html/template"
	"io/fs"
	"runtime"
	"slices"
	"strings"
	"sync"

	"golang.org/x/sync/errgroup"

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

	figures   map[string]int              // the number of each figure in the working, by id
	formulas  *formulas                   // those that were printed so far
	anchors   map[string]string           // where a figure of an alternative stands, where it is not as in the job as drawn
	documents map[string]*source.Document // those shown as recorded, by file
	lines     map[string]int              // how many lines each of them has
	proses    map[string]*prose           // those shown on a page, by file
	made      []page                      // the pages that have something to say, but for the first
	problems  []source.Problem

	photographs []*photo.Copy                   // that pages show, in the order in which they do
	sections    []clientSection                 // of the client's edition; made when first asked for
	stripPages  []stripPage                     // marks at full size
	drawn       map[*layout.Run]func() drawings // the elevations of runs, each made once by whoever asks first
	above       func(width int) []string        // the guard from above, for a page of a width; made once for each by whoever asks first
	cited       map[string]bool                 // the figures that the page of workings has; all of them where nil
	marks       func() map[[2]int]string        // what is written on a piece, by its cut and its number there; made once by whoever asks first
	compare     func() *comparison              // of all ways to build the job, nil where there is only the job as drawn; made once by whoever asks first
}

// render makes the pages, then the frames around them, and the rest beside those.
func render(p *plan.Plan, templates fs.FS, edition Edition) ([]File, []source.Problem, error) {
	frames, err := framesOf(templates)
	if err != nil {
		return nil, nil, err
	}
	b := newBook(p, frames)
	b.edition = edition
	pages := b.pages()
	b.problems = source.Sort(b.problems)
	if source.AnyError(b.problems) {
		return nil, b.problems, nil
	}
	data := begun(func() ([]File, error) { // which knows nothing of pages
		if edition != Whole {
			return nil, nil
		}
		return dataFiles(p, b.formulas)
	})
	files, err := b.bind(pages)
	more, other := data() // waited for in any case: nothing goes on behind the caller's back
	if err := cmp.Or(err, other); err != nil {
		return nil, nil, err
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
		figures: make(map[string]int, len(p.Figures)), formulas: new(formulas), documents: map[string]*source.Document{}, lines: map[string]int{}, proses: map[string]*prose{}, drawn: map[*layout.Run]func() drawings{},
	}
	if b.division <= 0 {
		b.division = length.Inches.Finest()
		if b.job.System == length.Millimetres {
			b.division = length.Millimetre
		}
	}
	plans := map[int]func() []string{}
	for _, width := range []int{sheetWidth, phoneWidth} {
		plans[width] = sync.OnceValue(func() []string { return draw.PlanView(p.Layout, b.job, b.style(), width) })
	}
	b.above = func(width int) []string { return plans[width]() }
	b.marks, b.compare = sync.OnceValue(b.marksOfPieces), sync.OnceValue(b.compareWays)
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
	write func(*book, *writer)
}

// written makes the body of a page; it has no pieces where there is nothing to say.
func (p page) written(b *book) pieces {
	var w writer
	p.write(b, &w)
	return w.pieces()
}

// All pages in the order of the list of pages. One whose body is empty has nothing to say for this job, and is not made.
var allPages = []page{
	{name: "index", title: "Answers", short: "Answers", about: "what stops the job, the numbers to carry, what is next", write: (*book).answersPage},
	{name: "changes", title: "Changes", short: "Changes", about: "what is not as it was handed out", write: (*book).changesPage},
	{name: "measured", title: "As measured", short: "As measured", about: "every reading, and the parts and rules used", write: (*book).measuredPage},
	{name: "layout", title: "Layout", short: "Layout", about: "marks, gaps and openings, run by run", write: (*book).layoutPage},
	{name: "posts", title: "Posts and ends", short: "Posts and ends", about: "the guard from above, what meets at each newel, rail ends, walls and edges", write: (*book).postsPage},
	{name: "cut-list", title: "Cut list", short: "Cut list", about: "every piece and its length", write: (*book).cutPage},
	{name: "cutting", title: "Cutting plan", short: "Cutting plan", about: "which stick each piece comes from", write: (*book).cuttingPage},
	{name: "setups", title: "Set-ups", short: "Set-ups", about: "each setting of saw and drill, and what is done at it", write: (*book).setupsPage},
	{name: "fixings", title: "Fixings", short: "Fixings", about: "what holds every joint, how it is bored and driven", write: (*book).fixingsPage},
	{name: "labels", title: "Labels", short: "Labels", about: "one to print for every piece", write: (*book).labelsPage},
	{name: "buying-list", title: "Buying list", short: "Buying list", about: "what to order", write: (*book).buyingPage},
	{name: "received", title: "Received", short: "Received", about: "what came, its real sizes, and what they change", write: (*book).receivedPage},
	{name: "made", title: "Already made", short: "Already made", about: "what is made, and what becomes of it", write: (*book).madePage},
	{name: "price", title: "Price, internal", short: "Price", about: "from cost to price; the shop's own", write: (*book).pricePage},
	{name: "alternatives", title: "Alternatives", short: "Alternatives", about: "other ways to build it, side by side", write: (*book).alternativesPage},
	{name: "wood", title: "Wood", short: "Wood", about: "what the room's air does to it", write: (*book).woodPage},
	{name: "loads", title: "Loads", short: "Loads", about: "what rail, balusters and posts are screened for", write: (*book).loadsPage},
	{name: "finishing", title: "Finishing", short: "Finishing", about: "coats in order, and how much of each", write: (*book).finishingPage},
	{name: "sequence", title: "Order of work", short: "Order of work", about: "steps and hold points", write: (*book).sequencePage},
	{name: "calendar", title: "Calendar", short: "Calendar", about: "each step on its days", write: (*book).calendarPage},
	{name: "days", title: "Day sheets", short: "Day sheets", about: "what to do and bring on each day, and how to leave it", write: (*book).daysPage},
	{name: "cautions", title: "Cautions", short: "Cautions", about: "dangers, and where they bite", write: (*book).cautionsPage},
	{name: "checks", title: "Checks", short: "Checks", about: "measured, limit, clause and verdict", write: (*book).checksPage},
	{name: "inspection", title: "Inspection sheet", short: "Inspection sheet", about: "what to measure on the guard as it stands, to fill in and sign", write: (*book).inspectionPage},
	{name: "hand-over", title: "Hand-over", short: "Hand-over", about: "punch list, what was read and put on, care, when to tighten it once more", write: (*book).handOverPage},
	{name: "notes", title: "Notes", short: "Notes", about: "pages of notes", write: (*book).notesPage},
	{name: "working", title: "Working", short: "Working", about: "how every number came about", write: (*book).workingPage},
	{name: "recorded", title: "As recorded", short: "As recorded", about: "the files that the job rests on, line by line", write: (*book).recordedPage},
}

// pages makes the bodies. The answers are made last, for they list the other pages, and stand first.
func (b *book) pages() []page {
	if b.edition != Whole {
		b.readProse()
		return b.editionPages()
	}
	drawn := begun(func() ([]stripPage, error) { // what takes long to draw is begun first
		for _, r := range b.plan.Layout.Runs {
			b.drawn[r]()
		}
		return b.strips(), nil
	})
	b.readProse()
	b.write(slices.Clone(allPages[1:]))
	first := allPages[0]
	first.body = first.written(b)
	b.stripPages, _ = drawn()
	return append([]page{first}, b.made...)
}

// write makes pages, several at a time. What a page leaves behind in the book, beside what is made once for all of them, it leaves in a copy, and the book takes it over page by page.
func (b *book) write(pages []page) {
	copies := make([]book, len(pages))
	atOnce(len(pages), func(i int) {
		of := &copies[i]
		*of = *b
		of.problems, of.photographs = nil, nil
		pages[i].body = pages[i].written(of)
	})
	for i, p := range pages {
		if len(p.body) > 0 {
			b.made = append(b.made, p)
		}
		b.problems = append(b.problems, copies[i].problems...)
		for _, x := range copies[i].photographs {
			b.shown(x)
		}
	}
}

// atOnce does n pieces of work, as many at a time as there are processors. It begins with the last, for of pages and of files the long ones stand there.
func atOnce(n int, work func(i int)) {
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i := n - 1; i >= 0; i-- {
		group.Go(func() error { work(i); return nil })
	}
	_ = group.Wait()
}

// bind puts the frames around the bodies, and adds the style sheet, the print edition, the licence of the typeface, the calendar to subscribe to, photographs and the client's document.
func (b *book) bind(pages []page) ([]File, error) {
	front := framed{
		Job: b.title(), Client: b.job.Client.Text, Place: b.job.Place.Text, Measured: b.job.Measured.Text,
		Build: buildID(pages, b.frames.style), Style: b.frames.style, Answer: b.answer().words,
		Edition: editionWords[b.edition], ForClient: b.edition == Client, Unsigned: b.unsigned(),
	}
	var facts strings.Builder
	if err := b.frames.templates.ExecuteTemplate(&facts, "facts", front); err != nil {
		return nil, err
	}
	front.Facts = template.HTML(facts.String())
	for _, p := range b.stripPages {
		front.strips = append(front.strips, pageLine{p.file, "Full size, " + p.Paper})
	}
	front.workings = b.hasWorkings(pages)
	var bound []func() (File, error)
	add := func(name, frame string, data any, places ...[]body) {
		bound = append(bound, func() (File, error) { return b.frames.file(name, frame, data, places...) })
	}
	list := append(append(lines(pages), front.strips...), pageLine{"print.html", front.printName()})
	if front.workings {
		list = append(list, pageLine{workingsFile, "Workings, to print"})
	}
	for _, p := range pages {
		add(p.name+".html", "page", front.page(p), []body{{p.body, nil}}, linked(list, p.name+".html"))
	}
	for _, p := range b.stripPages {
		p.framed = front
		p.Title, p.Heading = "Marks at full size, "+p.Paper+", "+front.Job, "Marks at full size"
		add(p.file, "strips", p, p.sheets...)
	}
	if b.edition == Client { // whose print edition is the client's document
		bound = append(bound, func() (File, error) { return b.client("print.html") })
	} else {
		for _, d := range b.documentsToPrint(pages) { // as long as all pages together
			whole, inIt, sections := front.edition(pages, d)
			add(d.file, "print", whole, inIt, sections)
		}
	}
	if b.onDays() {
		bound = append(bound, b.iCalendar)
	}
	for _, x := range b.photographs {
		bound = append(bound, func() (File, error) { return File{PhotographsFolder + x.Name, []string{string(x.Data)}}, nil })
	}
	if b.edition == Whole && len(b.plan.Layout.Runs) > 0 {
		of := newBook(b.plan, b.frames)
		of.edition, of.above = Client, b.above
		bound = append(bound, func() (File, error) {
			of.readProse()
			return of.client(clientFile)
		})
	}
	made, failed := make([]File, len(bound)), make([]error, len(bound))
	atOnce(len(bound), func(i int) { made[i], failed[i] = bound[i]() })
	return append([]File{{b.frames.style, []string{b.frames.css}}, {licenceFile, []string{b.frames.licence}}}, made...), cmp.Or(failed...)
}

// title is the job's name; its folder's file where it has none.
func (b *book) title() string {
	if b.job.Title.Text != "" {
		return b.job.Title.Text
	}
	return "Job without a title"
}
