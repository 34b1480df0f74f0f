package book

import (
	"fmt"
	"slices"
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/layout"
	"balustrade/jobbook/source"
)

// computed is a table of the plan that a person can place in their own words: a fenced block with the info string
// "table NAME" or "table NAME RUN". Where run is nil, whole is the only form; where whole is nil, a run is needed.
type computed struct {
	name  string
	run   func(*book, *layout.Run) markup
	whole func(*book) markup
}

// The computed tables, in the order in which a message lists them.
var computedTables = []computed{
	{"marks", (*book).marksTable, nil},
	{"counts", (*book).countsTable, nil},
	{"openings", (*book).openingsTable, nil},
	{"cuts", (*book).runCuts, func(b *book) markup { return b.cutTable(b.plan.Takeoff.Pieces, "Pieces to cut") }},
	{"fillets", (*book).runFillets, (*book).allFillets},
	{"heights", (*book).heightsTable, nil},
	{"stair", (*book).stairTable, nil},
	{"holes", (*book).holesTable, nil},
	{"checks", (*book).runChecks, func(b *book) markup { return b.checksTable(b.checked(), "Checks") }},
	{"missing", func(b *book, r *layout.Run) markup { return b.someMissing(r.Missing) }, func(b *book) markup { return b.someMissing(b.plan.Missing) }},
	{"bits", nil, (*book).bits},
	{"fixings", (*book).runFixings, (*book).allFixings},
	{"buying", nil, (*book).buyingTable},
	{"coats", nil, (*book).coatsTables},
}

// named makes the table that a person asked for, or says what is wrong and what to do.
func (b *book) named(name, run, here string) (m markup, hint, problem string) {
	var names []string
	for _, c := range computedTables {
		names = append(names, c.name)
	}
	i := slices.Index(names, name)
	if i < 0 {
		hint = "known tables: " + strings.Join(names, ", ")
		if near := source.Suggest(name, names); near != "" {
			hint = fmt.Sprintf("did you mean %s? ", near) + hint
		}
		if name == "" {
			return "", hint, "a table without a name"
		}
		return "", hint, fmt.Sprintf("unknown table %q", clip(name))
	}
	c := computedTables[i]
	if run != "" && c.run == nil {
		return "", "write table " + name, fmt.Sprintf("the table %s is of the whole job, found a run %q behind it", name, clip(run))
	}
	if run == "" && c.run != nil {
		run = here
	}
	if run == "" && c.whole == nil {
		return "", "write table " + name + " and one of: " + strings.Join(b.runNames(), ", "), fmt.Sprintf("the table %s needs the name of a run", name)
	}
	if run == "" {
		return orNothing(c.whole(b), name), "", ""
	}
	laid := b.run(run)
	if laid == nil {
		hint = "known runs: " + strings.Join(b.runNames(), ", ")
		if near := source.Suggest(run, b.runNames()); near != "" {
			hint = fmt.Sprintf("did you mean %s? ", near) + hint
		}
		return "", hint, fmt.Sprintf("unknown run %q", clip(run))
	}
	return orNothing(c.run(b, laid), name), "", ""
}

// orNothing says so where a table has no rows.
func orNothing(m markup, name string) markup {
	if m != "" {
		return m
	}
	if name == "missing" {
		return "<p>Nothing is missing.</p>\n"
	}
	return say("<p>The table %s: %s.</p>\n", name, toBeMeasured)
}

func (b *book) runNames() []string {
	var names []string
	for _, r := range b.plan.Layout.Runs {
		names = append(names, r.Name)
	}
	return names
}

func (b *book) someMissing(list []finding.Reading) markup {
	if len(list) == 0 {
		return ""
	}
	return b.missingList(list)
}
