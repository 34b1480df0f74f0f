package rules_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/job"
	"balustrade/jobbook/length"
	"balustrade/jobbook/rules"
	"balustrade/jobbook/source"
)

// TestUnlimited: what a rule set has no limit for is a question, told once for each reading, and in one line by what it is of. The rule set and the readings are made up.
func TestUnlimited(t *testing.T) {
	for _, x := range job.LimitNames { // each has words, so that none is told by its key
		set := &job.RuleSet{Origin: job.Origin{Name: "bare"}}
		f := rules.Judge(set, []finding.Measure{{Limit: x.Key, Subject: "s", Value: length.Inch, Known: true}})[0]
		if f.Verdict != finding.AskAuthority || f.Unlimited == "" || f.Unlimited == x.Key {
			t.Errorf("%s: %+v", x.Key, f)
		}
	}
	at := func(line int) source.Pos { return source.Pos{File: "runs/1.md", Line: line} }
	set := &job.RuleSet{Origin: job.Origin{Name: "bare"}}
	list := rules.Once(rules.Judge(set, []finding.Measure{
		{Limit: "riser-most", Subject: "greatest riser", Group: "run/a", Value: 8 * length.Inch, Known: true, At: at(3)},
		{Limit: "nosing-least", Subject: "nosing, against the least", Group: "run/a", Value: length.Inch, Known: true, At: at(4)},
		{Limit: "nosing-most", Subject: "nosing, against the most", Group: "run/a", Value: length.Inch, Known: true, At: at(4)},
		{Limit: "grip-girth-least", Subject: "girth of the handrail", Group: "run/a", Value: 6 * length.Inch, Known: true, At: at(5)},
		{Limit: "grip-girth-most", Subject: "girth of the handrail", Group: "run/a", Value: 6 * length.Inch, Known: true, At: at(5)},
		{Limit: "grip-girth-most", Subject: "girth of the handrail", Group: "run/b", Value: 6 * length.Inch, Known: true, At: at(5)},
		{Limit: "handrail-height-least", Subject: "height, the least", Group: "run/a", Value: 35 * length.Inch, Known: true, At: at(6)},
		{Limit: "handrail-height-most", Subject: "height, the greatest", Group: "run/a", Value: 36 * length.Inch, Known: true, At: at(6)},
		{Limit: "tread-least", Subject: "least going", Group: "run/a", At: at(7)},
		{Limit: "tread-least", Subject: "least going", Group: "run/a", At: at(7)},
	}))
	var titles []string
	for _, f := range list {
		titles = append(titles, f.Title)
	}
	want := []string{"greatest riser", "nosing", "girth of the handrail", "girth of the handrail", "height, the least", "height, the greatest", "least going", "least going"} // what is not measured is no question of a limit yet
	if diff := cmp.Diff(want, titles); diff != "" {
		t.Error(diff)
	}
	n, sorts := rules.Unlimited(list)
	if n != 6 {
		t.Errorf("%d measures without a limit, not 6", n)
	}
	if diff := cmp.Diff([]string{"risers", "nosing", "grip of the handrail", "height of the handrail"}, sorts); diff != "" {
		t.Error(diff)
	}
}
