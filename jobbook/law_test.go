package jobbook_test

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook/book"
	"balustrade/jobbook/finding"
)

var tagsOfPage = regexp.MustCompile(`<[^>]*>`)

// TestLaw: what the library knows of the law of the US is law under a rule set of the US, one that amends one of them too; under any other, and under one of which nobody says whose it is, the danger is told just the same, the law of the place is to be
// asked for, and every citation stands in a sentence that says that it is of the US.
func TestLaw(t *testing.T) {
	for _, c := range []struct {
		name, rules, own string // own is a rule set of the job's
		law              bool
	}{
		{"amends one of the US", "our-irc", "", true},
		{"of England", "england-adk-2013", "", false},
		{"amends one of England", "here", "amends: england-adk-2013\nwhy: the council", false},
		{"of nobody knows where", "here", "limits: {guard-opening: {under: 4, clause: x, status: published}}", false},
		{"says that it is of the US", "here", "country: us\nlimits: {guard-opening: {under: 4, clause: x, status: published}}", true},
		{"amends one of the US for another country", "here", "amends: irc-2021\nwhy: taken over there\ncountry: Elsewhere", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := copyOf(t, "../sample-job")
			rewrite(t, dir, "job.md", "\nrules: our-irc", "\nrules: "+c.rules)
			if c.own != "" {
				if err := os.WriteFile(filepath.Join(dir, "parts", "here.md"), []byte("---\nkind: rules\n"+c.own+"\n---\n"), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			result, made := editionsOf(t, dir, book.Client, book.Crew, book.Inspector)
			if result.Plan == nil {
				t.Fatal(result.Problems)
			}
			whole := made[book.Whole]
			for page, words := range map[string]string{
				"cautions.html":   "The law (US): at 6 ft above a lower level",
				"inspection.html": `<span class="fit">16 CFR 1239, which makes`,
			} {
				if strings.Contains(whole[page], words) != c.law {
					t.Errorf("%s reads %q: %v", page, words, !c.law)
				}
			}
			for _, words := range []string{"Nobody leans over the edge", "An old coated part is taken to hold lead", "covered, fire-resistant container at once", "never held by pressure"} { // the danger
				if !strings.Contains(whole["cautions.html"], words) {
					t.Errorf("the cautions do not tell %q", words)
				}
			}
			if n := strings.Count(whole["cautions.html"], "Ask what the law of the place says. In the US, as an example: "); (n == 0) != c.law {
				t.Errorf("%d cautions ask what the law of the place says", n)
			}
			for _, f := range result.Plan.Findings {
				if strings.HasSuffix(f.ID, "/old-surface") && (f.Verdict == finding.Pass || (f.Clause == "40 CFR 745.83") != c.law || f.Clause != "" && !c.law) {
					t.Errorf("old coats: %+v", f)
				}
			}
			if strings.Contains(made[book.Client]["print.html"], "pamphlet") != c.law {
				t.Errorf("the client is told of the pamphlet: %v", !c.law)
			}
			if c.law {
				return
			}
			for e, pages := range made {
				for page, text := range pages {
					if !strings.HasSuffix(page, ".html") || strings.HasPrefix(page, "recorded") || page == "print-working.html" { // files as recorded have the library's own words
						continue
					}
					text = tagsOfPage.ReplaceAllString(strings.ReplaceAll(text, "</", "\n</"), "")
					for _, at := range regexp.MustCompile(`\d+ CFR`).FindAllStringIndex(text, -1) {
						if before := text[max(0, at[0]-700):at[0]]; !strings.Contains(before, "n the US") && !strings.Contains(before, "of the US") {
							t.Errorf("%s %s cites a law of the US as the job's own: %s", e, page, before[max(0, len(before)-120):])
						}
					}
				}
			}
		})
	}
}

// TestLawInMillimetres: what a law of another country quotes in feet and inches is told in millimetres too: 6 ft are 1828.8 mm, 42 in 1066.8, and 6 sq ft 0.557 m², by hand.
func TestLawInMillimetres(t *testing.T) {
	dir := copyOf(t, "../sample-job")
	rewrite(t, dir, "job.md", "\nrules: our-irc", "\nrules: england-adk-2013")
	_, made := editionsOf(t, dir)
	for _, words := range []string{"at 6 ft above a lower level", "a guardrail of 42 in, 3 in more or less", "more than 6 sq ft of coated surface"} {
		if !strings.Contains(made[book.Whole]["cautions.html"], words) {
			t.Errorf("a job in inches does not read %q", words)
		}
	}
	metric := copyOf(t, "../testdata/metric-job")
	_, made = editionsOf(t, metric)
	for _, words := range []string{"at 6 ft (1829 mm) above a lower level", "a guardrail of 42 in (1067 mm), 3 in (76 mm) more or less"} {
		if !strings.Contains(made[book.Whole]["cautions.html"], words) {
			t.Errorf("a job in millimetres does not read %q", words)
		}
	}
}

// TestYearsAreOfTheUS: a house of 1985 with flooring of 1992 is told nothing of lead and asbestos under a rule set of the US, whose years 1978 and 1980 are, and is told of both under another, and under one of which nobody says whose it is, which is asked.
func TestYearsAreOfTheUS(t *testing.T) {
	for _, c := range []struct {
		rules       string
		told, asked bool
	}{{"our-irc", false, false}, {"england-adk-2013", true, false}, {"here", true, true}} {
		dir := copyOf(t, "../sample-job")
		rewrite(t, dir, "job.md", "\nrules: our-irc", "\nrules: "+c.rules)
		rewrite(t, dir, "job.md", "\nbuilt: 1887\nsurfacing: 1962", "\nbuilt: 1985\nsurfacing: 1992")
		if err := os.WriteFile(filepath.Join(dir, "parts", "here.md"), []byte("---\nkind: rules\nlimits: {guard-opening: {under: 4, clause: x, status: published}}\n---\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		p := planOf(t, dir)
		for _, trait := range []string{"built-before-1978", "surfacing-before-1981"} {
			if slices.Contains(p.Traits, trait) != c.told {
				t.Errorf("%s: %s is %v", c.rules, trait, !c.told)
			}
		}
		if slices.ContainsFunc(p.Missing, func(r finding.Reading) bool { return strings.Contains(r.Where, "country: ") }) != c.asked {
			t.Errorf("%s: its country is asked for: %v", c.rules, !c.asked)
		}
	}
}
