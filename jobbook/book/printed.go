package book

import "slices"

// workingsFile is the book of workings: what the print edition leaves out, so that it is what one works from.
const workingsFile = "print-working.html"

// toPrint is a document to print.
type toPrint struct {
	file, title string
	groups      []printGroup
}

// printGroup is pages that are wanted at one place, in order.
type printGroup struct {
	Title, About string
	Lines        []printLine // those that the book has

	pages  []string // by name
	apart  []string // those that are sheets of their own, and stand in no document
	strips bool     // and so do the marks at full size
}

// printLine is a page in the list of what a document has.
type printLine struct {
	ID    string // its section; empty where it is a document of its own
	Title string
	About string
	File  string // that it is by itself
}

// printGroups are the print edition: first what is needed at the saw, last the price, to be kept back where others get the rest.
var printGroups = []printGroup{
	{Title: "For the wall, at the saw and the drill", About: "taped where it is cut and bored", pages: []string{"changes", "cut-list", "cutting", "setups", "made"}, apart: []string{"labels"}, strips: true},
	{Title: "For the van, and the landing", About: "what is set, fixed, coated and read there, and when", pages: []string{"layout", "posts", "fixings", "finishing", "sequence", "days", "cautions", "inspection", "hand-over"}},
	{Title: "For the desk", About: "what is still to be settled, ordered and answered for", pages: []string{"index", "measured", "buying-list", "received", "calendar", "checks", "loads", "wood", "alternatives", "notes"}},
	{Title: "To be kept back", About: "the shop’s own; the last sheets, where others get the rest", pages: []string{"price"}},
}

// workingGroups are the book of workings.
var workingGroups = []printGroup{
	{Title: "What the numbers rest on", About: "to look up, by the number beside a figure", pages: []string{"working", "recorded"}},
}

// documentsToPrint are the print edition, and the book of workings where there are any. The inspector, who saws nothing and looks numbers up, has all in one, in the order of the list of pages.
func (b *book) documentsToPrint(pages []page) []toPrint {
	if b.edition == Inspector {
		return []toPrint{{"print.html", "Print edition", []printGroup{{Title: "In this book", pages: editionPages[Inspector]}}}}
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
