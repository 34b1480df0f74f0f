package book

import (
	"cmp"
	"fmt"
	"io/fs"
	"net/url"
	"slices"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"balustrade/jobbook/draw"
	"balustrade/jobbook/exact"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/sequence"
	"balustrade/jobbook/yard"
)

// yardBook is the pages over all jobs of a yard. Their numbers have a page of workings of their own, which is that of a book without a job.
type yardBook struct {
	*book
	yard *yard.Yard
}

// RenderYard makes the pages over all jobs: the index, the calendar, what one order would be, who takes what off the rack, the workings, the calendar for a phone and the data. The books of the jobs stand beside them, each in the folder of its job's name.
func RenderYard(y *yard.Yard, templates fs.FS) ([]File, error) {
	frames, err := framesOf(templates)
	if err != nil {
		return nil, err
	}
	b := &yardBook{newBook(&plan.Plan{Figures: y.Figures}, frames), y}
	b.job.Shop.Currency.Text = y.Buying.Sign
	all := []page{
		{name: "index", title: b.name(), short: "Jobs", write: func(_ *book, w *writer) { w.put(b.jobs()) }},
		{name: "calendar", title: "Calendar", short: "Calendar", write: func(_ *book, w *writer) { w.put(b.calendar()) }},
		{name: "buying", title: "One order", short: "One order", write: func(_ *book, w *writer) { w.put(b.buying()) }},
		{name: "rack", title: "The rack", short: "The rack", write: func(_ *book, w *writer) { w.put(b.rack()) }},
		{name: "working", title: "Working", short: "Working", write: (*book).workingPage},
	}
	for i := range all {
		all[i].body = all[i].written(b.book)
	}
	all = slices.DeleteFunc(all, func(p page) bool { return len(p.body) == 0 })
	front := framed{Job: b.name(), Build: buildID(all, frames.style), Style: frames.style, Answer: b.counts()}
	var files []File
	for _, p := range all {
		f := front.page(p)
		f.Heading = p.title
		file, err := frames.file(p.name+".html", "yard", f, []body{{p.body, nil}}, linked(lines(all), p.name+".html"))
		if err != nil {
			return nil, err
		}
		files = append(files, file)
	}
	if f, ok := b.phone(); ok {
		files = append(files, f)
	}
	data, err := b.data()
	if err != nil {
		return nil, err
	}
	return append(append(files, data...), File{frames.style, []string{frames.css}}, File{licenceFile, []string{frames.licence}}), nil
}

func (b *yardBook) name() string {
	if b.yard.Name != "" {
		return "Jobs of " + b.yard.Name
	}
	return "All jobs"
}

// counts says how many jobs there are, and in which state.
func (b *yardBook) counts() string {
	n := map[yard.State]int{}
	for _, s := range b.yard.Jobs {
		n[s.State]++
	}
	var words []string
	for s := yard.Unreadable; s <= yard.Done; s++ {
		if n[s] > 0 {
			words = append(words, fmt.Sprintf("%d %s", n[s], s))
		}
	}
	return counted(len(b.yard.Jobs), "job", "jobs") + ": " + strings.Join(words, ", ") + "."
}

// link leads into the book of a job.
func (b *yardBook) link(folder, to string, words markup) markup {
	return say(`<a href="%s">%s</a>`, url.PathEscape(folder)+"/"+to, words)
}

// jobLink is a job's name, leading to its book.
func (b *yardBook) jobLink(folder string) markup {
	s := b.yard.Job(folder)
	if s.State == yard.Unreadable {
		return say(`<a href="index.html#%s">%s</a>`, jobAnchor(folder), s.Name())
	}
	return b.link(folder, "index.html", esc(s.Name()))
}

func jobAnchor(folder string) string { return "job-" + anchor(folder) }

// jobs is the first page: what is wrong between the jobs, then each of them.
func (b *yardBook) jobs() markup {
	var w writer
	if c := b.clashes(); c != "" {
		w.put(`<section id="people"><h2>The same people at once</h2>`, "\n", c, "</section>\n")
	}
	for _, s := range b.yard.Jobs {
		w.put(b.section(s))
	}
	if list := b.yard.Others; len(list) > 0 {
		w.say("<p>Passed over, for there is no job.md in them: %s.</p>\n", listed(list))
	}
	return w.markup()
}

// clashes are the days on which jobs want more people than there are.
func (b *yardBook) clashes() markup {
	var w writer
	for _, c := range b.yard.Clashes {
		var names []markup
		for _, n := range c.Jobs {
			names = append(names, b.jobLink(n))
		}
		words := say("%s, %s to %s: %s want %s at once", dayWords(c.Date), clock(c.From), clock(c.To), joined(", ", names...), counted(c.People, "person", "people"))
		if c.Known {
			w.put("<li>", verdictMark(finding.Fail, "fail"), ": ", words, say("; the shop has %d", b.yard.Crew.N), ".</li>\n")
		} else {
			w.put("<li>", words, ".</li>\n")
		}
	}
	if w.Len() == 0 {
		return ""
	}
	foot := markup("Nothing was moved: which job gives way is for you to say, by its first day (start:), by not-before: or with more hands.")
	if !b.yard.Crew.Given {
		foot = verdictMark(finding.ToBeMeasured, "to be said") + " How many people the shop has is not known: write calendar: {crew: } in shop/settings.md, and these days are judged by it."
	}
	return "<ul>\n" + w.markup() + "</ul>\n<p>" + foot + "</p>\n"
}

// section is one job.
func (b *yardBook) section(s yard.Summary) markup {
	var w writer
	w.say(`<section class="step" id="%s">`, jobAnchor(s.Folder))
	if s.State == yard.Unreadable {
		w.say("<h2>%s</h2>\n", s.Folder)
		w.put("<p>", verdictMark(finding.Fail, "cannot be read"), ". ", esc(s.Problem), ".</p>\n")
		w.put("<p>")
		if s.HasBook {
			w.put(b.link(s.Folder, "index.html", "Its last book"), " stays as it was. ")
		}
		w.put("Nothing of this job is in the calendar or in the order here, and it takes nothing off the rack.</p>\n</section>\n")
		return w.markup()
	}
	w.put("<h2>", b.link(s.Folder, "index.html", esc(s.Name())), "</h2>\n")
	f := pairs{class: "facts"}
	f.add("where", joined(", ", esc(s.Client), esc(s.Place)))
	f.add("state", say("<b>%s</b>", s.State.String()))
	var stops []markup
	const shown = 3
	for i, x := range s.Stops {
		if i == shown {
			stops = append(stops, b.link(s.Folder, "checks.html", say("%d more", len(s.Stops)-shown)))
			break
		}
		stops = append(stops, b.link(s.Folder, "checks.html#check-"+anchor(strings.TrimPrefix(x.ID, "check/")), joined(", ", esc(x.Title), esc(x.Of))))
	}
	if len(stops) > 0 {
		f.add("stops it", verdictMark(finding.Fail, counted(len(s.Stops), "check fails", "checks fail"))+": "+joined("; ", stops...))
	}
	if s.Missing > 0 {
		f.add("still to be measured or decided", b.link(s.Folder, "index.html#missing", say("%d", s.Missing)))
	}
	if s.Missing == 0 && s.Waits > 0 { // else the readings are told
		f.add("still to be measured", b.link(s.Folder, "checks.html", esc(counted(s.Waits, "check waits for a reading", "checks wait for a reading"))))
	}
	if s.Asks > 0 {
		f.add("to ask", b.link(s.Folder, "checks.html", esc(counted(s.Asks, "point for the authority or an engineer", "points for the authority or an engineer"))))
	}
	if s.Next != "" {
		next := b.link(s.Folder, "index.html#next", esc(s.Next))
		if s.NextHold != "" {
			next += say(". Hold point: %s", s.NextHold)
		}
		f.add("next", next)
	}
	if s.OrderBy != "" {
		f.add("order by", esc(dayWords(s.OrderBy)))
	}
	if s.Wanted != "" && s.State < yard.UnderWay {
		f.add("goods wanted", esc(dayWords(s.Wanted)))
	}
	if s.First != "" {
		f.add("work", b.link(s.Folder, "calendar.html", say("%s to %s", dayWords(s.First), dayWords(s.Last))))
	}
	if len(s.Left) > 0 {
		f.add("rack", say("planned with what %s leave on it; built by itself, this job has the whole rack", listed(s.Left)))
	}
	f.put(&w)
	w.put("</section>\n")
	return w.markup()
}

// calendar is the days of all jobs.
func (b *yardBook) calendar() markup {
	dates := b.yard.Dates()
	if len(dates) == 0 {
		return ""
	}
	var w writer
	w.say(`<p>%s to %s. <a href="schedule.ics">For a phone’s calendar</a>.</p>`+"\n", dayWords(dates[0].Date), dayWords(dates[len(dates)-1].Date))
	var undated []markup
	for _, s := range b.yard.Jobs {
		if s.First == "" && s.State != yard.Done && s.State != yard.Unreadable {
			undated = append(undated, b.jobLink(s.Folder))
		}
	}
	if len(undated) > 0 {
		w.put("<p>Not in it, for their days are not known: ", joined(", ", undated...), ".</p>\n")
	}
	w.put(b.clashes())
	w.put("<p>In the drawings: black is where jobs want more people at once than the shop has. Nights and days without work are narrow.</p>\n")
	w.put(sized(panels(draw.Weeks(b.yard, sheetWidth)), panels(draw.Weeks(b.yard, phoneWidth)))...)
	t := table{label: "Day by day", long: true, wide: true, heads: []head{column("Day"), column("Hours"), column("Job"), column("What")}}
	for _, d := range dates {
		day := esc(d.Date)
		if at, err := time.Parse(time.DateOnly, d.Date); err == nil {
			day = esc(at.Format("Mon 2 Jan 2006"))
		}
		for _, j := range d.Jobs {
			first, last := sequence.Day, 0
			var what []string
			for _, x := range j.Work {
				first, last = min(first, x.From), max(last, x.To)
				if !slices.Contains(what, x.What) {
					what = append(what, x.What)
				}
			}
			t.row(day, say("about %s to %s", clock(first), clock(last)), b.link(j.Folder, "days.html", esc(b.yard.Job(j.Folder).Name())), esc(strings.Join(what, "; ")))
			day = ""
		}
	}
	t.put(&w)
	return w.markup()
}

// buying is one order for several jobs.
func (b *yardBook) buying() markup {
	x := &b.yard.Buying
	if len(x.Orders)+len(x.Sole)+len(x.Left) == 0 {
		return ""
	}
	var w writer
	if len(x.Orders) > 0 {
		w.put("<p>What one order would be for the jobs that are to be ordered. Each job’s own buying list stays as it is: order by the one or by the others. Pieces and finishes are added up and rounded to packs and cans once. Sticks are those of each job’s own cutting plan, added up: one stick cut for two jobs would have to wait for both.</p>\n")
	}
	if x.Figure != "" {
		words := markup("All of it together")
		if !x.Whole {
			words = "All of it together, as far as prices and counts are known"
		}
		w.say("<p>%s: %s.", words, b.figured(x.Figure, b.cash(x.Known)))
		if x.Cheaper {
			w.say(" Each job by itself: %s.", b.cash(x.Alone))
		}
		w.put("</p>\n")
	}
	for _, o := range x.Orders {
		title := o.From
		if o.Supplier == "" {
			title = "Nobody sells these yet"
		}
		w.say(`<section id="order-%s"><h2>%s</h2>`+"\n", anchor(o.Supplier), title)
		if o.By != "" {
			var names []markup
			for _, n := range o.ByJob {
				names = append(names, b.jobLink(n))
			}
			w.say("<p>Order by <b>%s</b>, for %s.</p>\n", dayWords(o.By), joined(" and ", names...))
		}
		t := table{label: "To order, " + title, heads: []head{num("Order", ""), column("What"), num("Each", x.Sign), num("Together", x.Sign)}}
		for _, l := range o.Lines {
			each, sum, count := toBeAsked, markup(""), say("%d", l.Count)
			if l.Priced {
				each, sum = esc(l.Each.Grouped()), b.figured(l.Figure, esc(l.Amount.Grouped()))
			}
			if l.Count == 0 {
				count = ""
			}
			t.row(count, b.together(l), each, sum)
		}
		if o.Figure != "" {
			words := markup("together")
			if !o.Whole {
				words = "together, as far as it is known"
			}
			t.row("", words, "", b.figured(o.Figure, say("<b>%s</b>", o.Known.Grouped())))
		}
		t.put(&w)
		w.put("</section>\n")
	}
	if len(x.Sole) > 0 {
		t := table{label: "Bought for one job alone", heads: []head{num("Order", ""), column("What"), column("Job, and why")}}
		for _, s := range x.Sole {
			t.row(say("%d", s.Line.Count), joined(", ", esc(s.Line.Title), b.size(s.Line), esc(s.Line.From)), joined("", b.link(s.Folder, "buying-list.html", esc(b.yard.Job(s.Folder).Name())), say(`<span class="fit">%s</span>`, s.Why)))
		}
		w.say(`<section id="sole"><h2>For one job alone</h2>`+"\n%s</section>\n", &t)
	}
	if len(x.Left) > 0 {
		w.put(`<section id="left"><h2>Not in the order</h2>`, "\n<ul>\n")
		for _, l := range x.Left {
			w.put("<li>", b.jobLink(l.Folder), say(": %s.</li>\n", l.Why))
		}
		w.put("</ul></section>\n")
	}
	return w.markup()
}

// together is what a line of the order is, and what each job needs of it.
func (b *yardBook) together(l yard.Together) markup {
	text := joined(", ", esc(l.Title), b.size(l.Line))
	var parts []markup
	for _, p := range l.For {
		amount := say("%d", p.Count)
		if l.Kind == "finish" {
			amount = poured(p.Volume, l.System)
		}
		parts = append(parts, say("%s for %s", amount, b.link(p.Folder, "buying-list.html", esc(b.yard.Job(p.Folder).Name()))))
	}
	words := joined(", ", parts...)
	if l.NeedBy != "" {
		total := say("%d", l.Want)
		if l.Kind == "finish" {
			total = poured(l.Volume, l.System)
		}
		words = b.figured(l.NeedBy, total) + " needed: " + words
		if len(l.For) == 1 {
			words = b.figured(l.NeedBy, total) + " needed, for " + b.link(l.For[0].Folder, "buying-list.html", esc(b.yard.Job(l.For[0].Folder).Name()))
		}
	}
	if l.Of > 1 {
		words += say("; in %d sizes together", l.Of)
	}
	if l.Own && len(l.For) > 1 {
		words += "; the part’s file is the job’s own: see that it is the same in each"
	}
	if !l.Complete {
		words += "; more of it still to be measured"
	}
	return text + say(`<span class="fit">%s</span>`, words)
}

// size is what one of a line is.
func (b *yardBook) size(l yard.Line) markup {
	const foot = 12 * length.Inch
	switch {
	case l.Long > 0 && l.System != length.Millimetres && l.Long%foot == 0:
		return say("stick of %d ft", int(l.Long/foot))
	case l.Long > 0:
		return "stick of " + taped(l.Long, l.System)
	case l.Can.Given:
		return say("can of %s", ratio(l.Can))
	case l.Kind == "finish":
		return "in cans"
	case l.Pack > 1:
		return say("pack of %d", l.Pack)
	}
	return ""
}

// taped is a length as a tape shows it, with its unit.
func taped(l length.Length, system length.System) markup {
	style := length.Style{System: length.Inches, Division: length.Inch / 64, Rounding: length.Nearest}
	if system == length.Millimetres {
		style = length.Style{System: length.Millimetres, Division: length.Millimetre, Rounding: length.Nearest}
	}
	return esc(style.With(l))
}

// poured is a volume, rounded up to the hundredth.
func poured(v int64, system length.System) markup {
	unit, one := job.VolumeUnit(system)
	return say("%s %s", decimal(exact.New(v, one), 2, length.Up), unit)
}

// rack is who takes what off the shop's rack.
func (b *yardBook) rack() markup {
	type taken struct {
		yard.Take
		of *yard.Summary
	}
	var list []taken
	for i := range b.yard.Jobs {
		for _, t := range b.yard.Jobs[i].Takes {
			list = append(list, taken{t, &b.yard.Jobs[i]})
		}
	}
	if len(list) == 0 {
		return ""
	}
	slices.SortStableFunc(list, func(x, y taken) int {
		return cmp.Or(strings.Compare(x.At.File, y.At.File), cmp.Compare(x.At.Line, y.At.Line), cmp.Compare(x.At.Col, y.At.Col), cmp.Compare(x.of.Folder, y.of.Folder))
	})
	t := table{label: "What is on the rack, and for which job", heads: []head{column("Part"), column("Taken"), column("For"), column("On the rack")}}
	for _, x := range list {
		amount := say("%d", x.Pieces)
		if x.Volume > 0 {
			amount = poured(x.Volume, x.of.System)
		}
		what := esc(x.Title)
		if x.Long > 0 {
			what = joined(", ", what, taped(x.Long, x.of.System))
		}
		t.row(what, amount, b.link(x.of.Folder, "buying-list.html", esc(x.of.Name())), say("%s, line %d", x.At.File, x.At.Line))
	}
	return "<p>No two jobs take the same piece: the job whose goods are wanted first takes first, those without a day last, then by the folder’s name; what it takes is not there for the next. A job that is done takes nothing, and neither does one that cannot be read. A job built by itself plans with the whole rack.</p>\n" +
		"<p>When it is cut, take it off the rack’s file.</p>\n" + t.markup()
}

// offRack says what other jobs of the yard take off the shop's rack of what this job could use.
func (b *book) offRack() markup {
	t := table{label: "On the rack, and taken by other jobs", heads: []head{column("Part"), column("Taken"), column("By")}}
	for _, o := range b.job.OffRack {
		amount := say("%d", o.Taken.Pieces)
		switch {
		case o.Taken.Volume > 0:
			amount = poured(o.Taken.Volume, b.job.System)
		case o.Long.Given:
			amount = say("%d of %s", o.Taken.Pieces, b.plain(o.Long.Length))
		}
		title := o.Part
		for _, n := range b.plan.Takeoff.Needs {
			if n.Part == o.Part && (o.Kind == "" || o.Kind == n.Kind) {
				title = n.Title
			}
		}
		t.row(esc(title), b.recorded(o.At, amount), esc(listed(o.By)))
	}
	if len(t.rows) == 0 {
		return ""
	}
	t.foot = "This book was made with all jobs of the shop: what another job takes is not there for this one. Made by itself, it would plan with the whole rack."
	return `<section id="off-rack"><h2>Taken by other jobs</h2>` + "\n" + t.markup() + "</section>\n"
}

// phone is the calendar of all jobs for a phone (RFC 5545). Each job's times are those of its zone.
func (b *yardBook) phone() (File, bool) {
	cal := ics.NewCalendar()
	cal.SetMethod(ics.MethodPublish)
	cal.SetProductId("-//jobbook//calendar of the work//EN")
	cal.SetName(oneLine(b.name()))
	zones, ids := map[string]bool{}, map[string]bool{}
	jobs := slices.Clone(b.yard.Jobs)
	slices.SortFunc(jobs, func(x, y yard.Summary) int { return strings.Compare(x.Folder, y.Folder) })
	earliest := ""
	for _, s := range jobs {
		if s.First != "" && (earliest == "" || s.First < earliest) {
			earliest = s.First
		}
	}
	first, err := time.Parse(time.DateOnly, earliest)
	if err != nil {
		return File{}, false
	}
	n := 0
	for _, s := range jobs {
		var in []ics.PropertyParameter
		for i := range job.Zones {
			if z := &job.Zones[i]; z.Name == s.Zone && s.Zone != "" {
				if !zones[z.Name] {
					zones[z.Name] = true
					addZone(cal, z, first.Year()-1)
				}
				in = append(in, ics.WithTZID(z.Name))
			}
		}
		for _, x := range s.Events {
			if ids[x.ID] { // two jobs of one title, client and place
				x.ID = anchor(s.Folder) + "." + x.ID
			}
			ids[x.ID] = true
			addEvent(cal, x, s.Name()+": "+x.Title, s.Place, in)
			n++
		}
	}
	return File{"schedule.ics", []string{cal.Serialize(ics.WithNewLineWindows)}}, n > 0
}
