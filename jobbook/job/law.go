package job

import (
	"strings"

	"balustrade/jobbook/source"
	"balustrade/jobbook/working"
)

// US is the country that the library's rules on work at an edge, on lead, asbestos, dust, rags and gates are of.
const US = "US"

// otherUS are other names of it.
var otherUS = map[string]bool{"usa": true, "u.s.": true, "u.s.a.": true, "united states": true, "united states of america": true, "america": true}

// Law is what the law of one country says about a danger. It is law where a job's rule set is that country's, and anywhere else no more than what another country thought fit.
type Law struct {
	Country Text
	Says    Text // lengths in braces are shown in the job's unit too: {6 ft}
	Source  Text
	Status  working.Status
	At      source.Pos
}

var lawFields = []field[Law]{
	textField("country", "whose law it is, as in the country: of a rule set", func(l *Law) *Text { return &l.Country }),
	textField("says", "what it says, as a part of a sentence; a length in braces, as {6 ft} or {42 in}, is told in millimetres too where the job has them", func(l *Law) *Text { return &l.Says }),
	textField("source", "where it stands", func(l *Law) *Text { return &l.Source }),
	statusField("status", "how sure that is", func(l *Law) *working.Status { return &l.Status }),
}

// IsLaw reports that a country's law is that of the job: its rule set says so. Where none is chosen, or it names no country, nobody knows whose law it is.
func (j *Job) IsLaw(country string) bool {
	return j.Rules != nil && j.Rules.Country.Given && strings.EqualFold(strings.TrimSpace(j.Rules.Country.Text), strings.TrimSpace(country))
}
