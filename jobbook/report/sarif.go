package report

import (
	"bytes"
	"encoding/json"
	"net/url"
	"slices"
	"strings"
)

// SARIF is the Static Analysis Results Interchange Format, version 2.1.0, an OASIS standard. Clauses named below are its (from memory).
//
// The address of the schema is from memory too.
const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

type (
	sarifLog struct {
		Schema  string     `json:"$schema"`
		Version string     `json:"version"`
		Runs    []sarifRun `json:"runs"`
	}
	sarifRun struct {
		Tool       sarifTool     `json:"tool"`
		ColumnKind string        `json:"columnKind"` // columns are counted in runes, which are not the default (3.14.17)
		Results    []sarifResult `json:"results"`    // empty, not absent, where there is nothing to say (3.14.23)
	}
	sarifTool struct {
		Driver sarifDriver `json:"driver"`
	}
	sarifDriver struct {
		Name  string      `json:"name"`
		Rules []sarifRule `json:"rules"`
	}
	sarifText struct {
		Text string `json:"text"`
	}
	sarifRule struct {
		ID    string     `json:"id"`
		Short sarifText  `json:"shortDescription"`
		Help  *sarifText `json:"help,omitempty"`
	}
	sarifResult struct {
		Rule         string            `json:"ruleId"`
		Index        int               `json:"ruleIndex"`
		Level        string            `json:"level"`
		Message      sarifText         `json:"message"`
		Locations    []sarifLocation   `json:"locations,omitempty"`
		Related      []sarifLocation   `json:"relatedLocations,omitempty"`
		Fingerprints map[string]string `json:"partialFingerprints,omitempty"`
	}
	sarifLocation struct {
		ID       int           `json:"id,omitempty"`
		Physical sarifPhysical `json:"physicalLocation"`
		Message  *sarifText    `json:"message,omitempty"`
	}
	sarifPhysical struct {
		Artifact sarifArtifact `json:"artifactLocation"`
		Region   *sarifRegion  `json:"region,omitempty"`
		Context  *sarifRegion  `json:"contextRegion,omitempty"`
	}
	sarifArtifact struct {
		URI  string `json:"uri"`
		Base string `json:"uriBaseId"`
	}
	sarifRegion struct {
		Line    int        `json:"startLine"`
		Col     int        `json:"startColumn,omitempty"`
		EndCol  int        `json:"endColumn,omitempty"` // the column after the last one (3.30.8)
		Snippet *sarifText `json:"snippet,omitempty"`
	}
)

// sarifBase is what paths start from: by custom the folder that the sources were checked out into.
const sarifBase = "%SRCROOT%"

// SARIF writes items as a log of one run. What passes is left out.
func SARIF(items []Item) ([]byte, error) {
	run := sarifRun{Tool: sarifTool{sarifDriver{"jobbook", []sarifRule{}}}, ColumnKind: "unicodeCodePoints", Results: []sarifResult{}}
	rules := &run.Tool.Driver.Rules
	for _, i := range items {
		if i.Level == Passed || slices.ContainsFunc(*rules, func(r sarifRule) bool { return r.ID == i.Rule.ID }) {
			continue
		}
		r := sarifRule{ID: i.Rule.ID, Short: sarifText{i.Rule.About}}
		if i.Rule.Help != "" {
			r.Help = &sarifText{i.Rule.Help}
		}
		*rules = append(*rules, r)
	}
	slices.SortFunc(*rules, func(a, b sarifRule) int { return strings.Compare(a.ID, b.ID) })
	for _, i := range items {
		if i.Level == Passed {
			continue
		}
		r := sarifResult{
			Rule: i.Rule.ID, Level: [...]string{"", "error", "error", "warning", "note"}[i.Level], Message: sarifText{i.Message},
			Index:     slices.IndexFunc(*rules, func(r sarifRule) bool { return r.ID == i.Rule.ID }),
			Locations: []sarifLocation{locationOf(i.At)},
		}
		if i.At.Path == "" {
			r.Locations = nil
		}
		for n, p := range i.Related {
			l := locationOf(p)
			l.ID, l.Message = n+1, &sarifText{p.Note}
			r.Related = append(r.Related, l)
		}
		if i.Key != "" {
			r.Fingerprints = map[string]string{"finding/v1": i.Key}
		}
		run.Results = append(run.Results, r)
	}
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(sarifLog{sarifSchema, "2.1.0", []sarifRun{run}})
	return out.Bytes(), err
}

func locationOf(p Place) sarifLocation {
	l := sarifLocation{Physical: sarifPhysical{Artifact: sarifArtifact{(&url.URL{Path: p.Path}).String(), sarifBase}}}
	if p.Line < 1 {
		return l
	}
	l.Physical.Region = &sarifRegion{Line: p.Line, Col: max(p.Col, 1)}
	text := []rune(p.Text)
	from, to := min(l.Physical.Region.Col-1, len(text)), len(text)
	if p.Width > 0 && from+p.Width <= len(text) {
		to = from + p.Width
		l.Physical.Region.EndCol = to + 1
	}
	if from < to {
		l.Physical.Region.Snippet = &sarifText{string(text[from:to])}
		l.Physical.Context = &sarifRegion{Line: p.Line, Snippet: &sarifText{p.Text}}
	}
	return l
}
