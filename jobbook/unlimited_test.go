package jobbook_test

import (
	"regexp"
	"strings"
	"testing"

	"balustrade/jobbook/book"
)

// TestUnlimitedInOneLine: of a stair under a rule set without limits on risers, goings, nosing, handrail and grip the first page has one line, the last of its list; the checks have each measure. The sample's flight has
// them all, counted by hand on its page of checks: two heights of the handrail, the greatest riser and how far risers differ, the least going and how far goings differ, the nosing, and the grip of the rail.
func TestUnlimitedInOneLine(t *testing.T) {
	dir := copyOf(t, "../sample-job")
	rewrite(t, dir, "job.md", "\nrules: our-irc", "\nrules: england-adk-2013")
	_, made := editionsOf(t, dir, book.Inspector)
	for name, page := range map[string]string{"the whole book": made[book.Whole]["index.html"], "the inspector's": made[book.Inspector]["index.html"]} {
		if n := strings.Count(page, "has no limit for this"); n > 0 {
			t.Errorf("%s has %d lines of what has no limit", name, n)
		}
		list := regexp.MustCompile(`(?s)<h3>(?:To settle with|Asked of) the authority.*?</ul>`).FindString(page)
		items := regexp.MustCompile(`<li>.*?</li>`).FindAllString(list, -1)
		for i, x := range items {
			if strings.Contains(x, "no limit in the rule set") != (i == len(items)-1) {
				t.Errorf("%s, line %d of %d: %s", name, i+1, len(items), x)
			}
		}
		if len(items) < 2 || !strings.Contains(items[len(items)-1], "8 measures have no limit") || !strings.Contains(items[len(items)-1], "grip of the handrail, height of the handrail, risers, goings and nosing") {
			t.Errorf("%s: %q", name, items)
		}
	}
	if n := strings.Count(made[book.Whole]["checks.html"], "has no limit for this"); n != 8 {
		t.Errorf("the checks have %d of them, not 8", n)
	}
}
