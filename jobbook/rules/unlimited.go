package rules

import (
	"strings"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/length"
	"balustrade/jobbook/source"
)

// sorts say in a word or two what the limits whose names begin so are of, to be told together where a rule set has none.
var sorts = []struct{ begins, words string }{
	{"guard-height", "height of the guard"}, {"guard-opening", "openings"}, {"guard-triangle", "triangle over a tread"},
	{"handrail-height", "height of the handrail"}, {"handrail-wall", "room behind the handrail"}, {"handrail-projection", "how far the handrail stands out"},
	{"riser-", "risers"}, {"tread-", "goings"}, {"nosing-", "nosing"}, {"open-riser", "open risers"},
	{"grip-", "grip of the handrail"}, {"recess-", "grip of the handrail"}, {"foothold-", "footholds"}, {drop, "drop"},
}

// sortOf is what a limit is of.
func sortOf(limit string) string {
	for _, x := range sorts {
		if strings.HasPrefix(limit, x.begins) {
			return x.words
		}
	}
	return limit
}

// sides are what the titles of two measures of one reading add, where one limit is the least and another the most.
var sides = []string{", against the least", ", against the most"}

// unlimited says of a finding that the rule set has no limit for it. It names no side of a limit that is not there.
func unlimited(f *finding.Finding, limit string) {
	f.Unlimited = sortOf(limit)
	for _, side := range sides {
		f.Title = strings.TrimSuffix(f.Title, side)
	}
}

// Once leaves out of findings for which there is no limit those that stand there already: one reading that another rule set would hold against two limits.
func Once(list []finding.Finding) []finding.Finding {
	type reading struct {
		group, title string
		value        length.Length
		at           source.Pos
	}
	seen := map[reading]bool{}
	kept := list[:0:0]
	for _, f := range list {
		if f.Unlimited != "" {
			r := reading{f.Group, f.Title, f.Measured, f.At}
			if seen[r] {
				continue
			}
			seen[r] = true
		}
		kept = append(kept, f)
	}
	return kept
}

// Unlimited are the findings of a list for which the rule set has no limit, and what they are of, each once, in order.
func Unlimited(list []finding.Finding) (n int, sorts []string) {
	seen := map[string]bool{}
	for _, f := range list {
		if f.Unlimited == "" {
			continue
		}
		n++
		if !seen[f.Unlimited] {
			seen[f.Unlimited] = true
			sorts = append(sorts, f.Unlimited)
		}
	}
	return n, sorts
}
