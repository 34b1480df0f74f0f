package report

import (
	"encoding/xml"
	"strconv"
	"strings"
)

// JUnit XML is a convention that grew, without a standard: the names below are those that readers of it share (from memory).
type (
	junitSuites struct {
		XMLName  xml.Name     `xml:"testsuites"`
		Name     string       `xml:"name,attr"`
		Tests    int          `xml:"tests,attr"`
		Failures int          `xml:"failures,attr"`
		Errors   int          `xml:"errors,attr"`
		Skipped  int          `xml:"skipped,attr"`
		Suites   []junitSuite `xml:"testsuite"`
	}
	junitSuite struct {
		Name     string      `xml:"name,attr"`
		Tests    int         `xml:"tests,attr"`
		Failures int         `xml:"failures,attr"`
		Errors   int         `xml:"errors,attr"`
		Skipped  int         `xml:"skipped,attr"`
		Cases    []junitCase `xml:"testcase"`
	}
	junitCase struct {
		Class   string    `xml:"classname,attr"`
		Name    string    `xml:"name,attr"`
		File    string    `xml:"file,attr,omitempty"`
		Line    int       `xml:"line,attr,omitempty"`
		Failure *junitWhy `xml:"failure"`
		Error   *junitWhy `xml:"error"`
		Skipped *junitWhy `xml:"skipped"`
	}
	junitWhy struct {
		Message string `xml:"message,attr"`
		Type    string `xml:"type,attr,omitempty"`
		Text    string `xml:",chardata"`
	}
)

// JUnit writes items as test cases, a suite for all that belong together: what fails is a failure, a file that can't be understood an error, a note skipped. A warning passes, for nothing stands in its way.
func JUnit(items []Item) ([]byte, error) {
	all := junitSuites{Name: "jobbook"}
	at := map[string]int{}
	for _, i := range items {
		n, known := at[i.Suite]
		if !known {
			n = len(all.Suites)
			at[i.Suite] = n
			all.Suites = append(all.Suites, junitSuite{Name: i.Suite})
		}
		s := &all.Suites[n]
		c := junitCase{Class: i.Suite, Name: i.Name, File: i.At.Path, Line: i.At.Line}
		why := &junitWhy{Message: i.Message, Type: i.Rule.ID, Text: placeText(i.At)}
		switch {
		case i.Level == Broken:
			c.Error = why
			s.Errors++
		case i.Level == Failed:
			c.Failure = why
			s.Failures++
		case i.Level == Note:
			c.Skipped = &junitWhy{Message: i.Message}
			s.Skipped++
		}
		s.Tests++
		s.Cases = append(s.Cases, c)
	}
	for _, s := range all.Suites {
		all.Tests += s.Tests
		all.Failures += s.Failures
		all.Errors += s.Errors
		all.Skipped += s.Skipped
	}
	out, err := xml.MarshalIndent(all, "", "  ")
	return append([]byte(xml.Header), append(out, '\n')...), err
}

// placeText is a place as terminals understand it, with its line.
func placeText(p Place) string {
	if p.Path == "" {
		return ""
	}
	text := p.Path
	if p.Line > 0 {
		text += ":" + strconv.Itoa(p.Line) + ":" + strconv.Itoa(p.Col)
	}
	if line := strings.TrimSpace(p.Text); line != "" {
		text += "\n" + line
	}
	return text
}
