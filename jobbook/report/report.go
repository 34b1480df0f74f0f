// Package report puts findings into forms that programs read: SARIF and JUnit XML. Same items, same bytes.
package report

import (
	"bytes"
	"encoding/xml"
)

// Level says how much an item weighs. The zero value is invalid.
type Level int

// The levels.
const (
	Broken  Level = iota + 1 // a file that can't be understood
	Failed                   // a check that fails
	Warning                  // something in a file that should be looked at
	Note                     // to be measured, to be asked of the authority: it fails nothing
	Passed
)

// Item is one finding, problem or reading to take.
type Item struct {
	Level   Level
	Rule    Rule
	Suite   string // what it belongs to: a run's title
	Name    string // in a few words
	Message string // all of it, in one or two sentences
	Key     string // the same for the same finding in every report: check/run/gallery/guard-opening
	At      Place
	Related []Place
}

// Rule is what a finding is found by.
type Rule struct {
	ID    string // guard-opening
	About string // what it looks at
	Help  string // what to do
}

// Place is where something is written.
type Place struct {
	Path      string // with slashes, from the folder that the report is read in
	Line, Col int    // from 1, columns in runes; Line is 0 for the file as a whole
	Width     int    // runes; 0 to the end of the line
	Text      string // of the line
	Note      string // what the place has to do with it, where it is a related one
}

// Is reports whether a text begins as reports do, so that nothing else is written over.
func Is(text []byte) bool {
	return bytes.HasPrefix(text, []byte("{\n  \"$schema\": \""+sarifSchema)) || bytes.HasPrefix(text, []byte(xml.Header+"<testsuites name=\"jobbook\""))
}
