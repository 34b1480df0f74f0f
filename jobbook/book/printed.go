package book

import (
	"html/template"
	"slices"
)

// workingsFile is the book of workings: what the print edition leaves out, so that it is what one works from.
const workingsFile = "print-working.html"

// toPrint is a document to print.
type toPrint struct {
	file, title string
	groups      []printGroup
}

// printGroup is pages that are wanted at one place, in order.
type printGroup struct {
	title, about string
	pages        []string // by name
	apart        []string // those that are sheets of their own, and stand in no document
	strips       bool     // and so do the marks at full size
}

// printGroups are the print edition: first what is needed at the saw, last the price, to be kept back where others get the rest.
var printGroups = []printGroup{
	{title: "For the wall, at the saw and the drill", about: "taped where it is cut and bored", pages: []string{"changes", "cut-list", "cutting", "setups", "made"}, apart: []string{"labels"}, strips: true},
	{title: "For the van, and the landing", about: "what is set, fixed, coated and read there, and when", pages: []string{"layout", "posts", "fixings", "finishing", "sequence", "days", "cautions", "inspection", "hand-over"}},
	{title: "For the desk", about: "what is still to be settled, ordered and answered for", pages: []string{"index", "measured", "buying-list", "received", "calendar", "checks", "loads", "wood", "alternatives", "notes"}},
	{title: "To be kept back", about: "the shop’s own; the last sheets, where others get the rest", pages: []string{"price"}},
}

// workingGroups are the book of workings.
var workingGroups = []printGroup{
	{title: "What the numbers rest on", about: "to look up, by the number beside a figure", pages: []string{"working", "recorded"}},
}

// documentsToPrint are the print edition, and the book of workings where there are any. The inspector, who saws nothing and looks numbers up, has all in one, in the order of the list of pages.
func (b *book) documentsToPrint(pages []page) []toPrint {
	if b.edition == Inspector {
		return []toPrint{{"print.html", "Print edition", []printGroup{{title: "In this book", pages: editionPages[Inspector]}}}}
	}
	list := []toPrint{{"print.html", "Print edition", printGroups}}
	if b.hasWorkings(pages) {
		list = append(list, toPrint{workingsFile, "Book of workings", workingGroups})
	}
	return list
}

// hasWorkings reports whether there is a book of workings.
func (b *book) hasWorkings(pages []page) bool {
	return (b.edition == Whole || b.edition == Crew) && slices.ContainsFunc(pages, func(p page) bool { return slices.Contains(workingGroups[0].pages, p.name) })
}

// edition is a document to print, and what stands in the places of its marks: the list of what is in it, and its pages as sections. Links to pages that are in it are turned into links within it, headings go one down; links to
// other pages stay.
func (f framed) edition(pages []page, d toPrint) (whole framed, inIt, sections []body) {
	f.Title, f.Heading, f.Workings = d.title+", "+f.Job, f.Job, f.workings && d.file != workingsFile
	f.InIt, f.Body = bodyMark, bodyMark
	if d.file == workingsFile {
		f.Heading = f.Title
	}
	here := map[string]bool{}
	for _, g := range d.groups {
		for _, name := range g.pages {
			here[name] = true
		}
	}
	var list, sheets writer
	for _, g := range d.groups {
		var lines writer
		for _, name := range g.pages {
			i := slices.IndexFunc(pages, func(p page) bool { return p.name == name })
			if i < 0 {
				continue
			}
			p := pages[i]
			sections = append(sections, body{pieces{say("<section class=\"sheet\" id=\"page-%s\">\n<h2>%s</h2>\n", name, p.title)}, nil}, body{p.body, within(here)}, body{pieces{"</section>\n"}, nil})
			sheets.say("@page page-%s { @bottom-left { content: \"%s, build %s\" } }\n#page-%s { page: page-%s }\n", name, p.title, f.Build, name, name) // words of our own, with nothing in them to be escaped
			lines.say("<li><a href=\"#page-%s\"><b>%s</b></a>%s (<code>%s.html</code>)</li>\n", name, p.title, colon(p.about), name)
		}
		apart := func(title, about, file string) {
			lines.say("<li><b>%s</b>, not in here%s (<a href=\"%s\"><code>%s</code></a>)</li>\n", title, colon(about), file, file)
		}
		for _, p := range pages { // sheets of their own
			if slices.Contains(g.apart, p.name) {
				apart(p.title, p.about, p.name+".html")
			}
		}
		if g.strips {
			for _, s := range f.strips {
				apart(s.Name, "marks at full size, to tape to the shoe", s.Href)
			}
		}
		if lines.Len() > 0 {
			list.say("<h3>%s%s</h3>\n<ul class=\"in-it\">\n", g.title, colon(g.about))
			list.put(lines.markup(), "</ul>\n")
		}
	}
	f.Sheets = template.CSS(sheets.markup())
	return f, []body{{pieces{list.markup()}, nil}}, sections
}

// colon is what is said of something, behind its name; nothing where there is nothing to say.
func colon(about string) string {
	if about == "" {
		return ""
	}
	return ": " + about
}
