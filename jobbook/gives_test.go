package jobbook_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"balustrade/jobbook/book"
	"balustrade/jobbook/finding"
)

// TestGives: a guard that gives when pushed is not finished. It fails, stands on the first page and on the hand-over, and the client is asked to sign nothing; a later push at the same place that holds takes its place.
func TestGives(t *testing.T) {
	for _, c := range []struct {
		name, later string
		gives       bool
	}{
		{"moves", "", true},
		{"holds afterwards", "{of: corner, moves: no}", false},
		{"holds elsewhere", "{of: corner, where: at the foot, moves: no}", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := copyOf(t, "../sample-job")
			if err := os.Mkdir(filepath.Join(dir, "as-built"), 0o755); err != nil {
				t.Fatal(err)
			}
			for name, text := range map[string]string{"1.md": "date: 2027-01-22\npush: [{of: corner, load: a person, moves: yes}]", "2.md": "date: 2027-01-25\npush: [" + c.later + "]"} {
				if err := os.WriteFile(filepath.Join(dir, "as-built", name), []byte("---\nkind: as-built\n"+text+"\n---\n"), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			result, made := editionsOf(t, dir, book.Client, book.Inspector)
			if result.Plan == nil {
				t.Fatal(result.Problems)
			}
			fails := 0
			for _, f := range result.Plan.Findings {
				if f.Group == "as-built/post/corner" && f.Verdict == finding.Fail {
					fails++
					if strings.Contains(f.ID, "/load-") || !strings.Contains(f.Note, "what it carries no push tells") {
						t.Errorf("it speaks of loads: %+v", f)
					}
				}
			}
			if (fails == 1) != c.gives {
				t.Errorf("%d fail", fails)
			}
			for words, want := range map[string]bool{"No: 1 check fails": c.gives, ">it moves when pushed</a>, Post corner, as built": c.gives} {
				if strings.Contains(made[book.Whole]["index.html"], words) != want {
					t.Errorf("the first page reads %q: %v", words, !want)
				}
			}
			if strings.Contains(made[book.Whole]["hand-over.html"], "1 place gives when pushed") != c.gives {
				t.Errorf("the hand-over tells of it: %v", !c.gives)
			}
			client := made[book.Client]
			for words, want := range map[string]bool{"Signature": !c.gives, "nothing to sign yet: the guard as it stands fails a check": c.gives, "cannot be built as drawn": false} {
				if strings.Contains(client["print.html"], words) != want {
					t.Errorf("the client reads %q: %v", words, !want)
				}
			}
			if strings.Contains(client["index.html"], "rint and sign") == c.gives {
				t.Errorf("the client is asked to sign: %v", c.gives)
			}
			if strings.Contains(made[book.Inspector]["index.html"], "it moves when pushed") != c.gives {
				t.Errorf("the inspector reads of it: %v", !c.gives)
			}
		})
	}
}

// TestOneVerdict: a reading at one of several places has one verdict on the inspection sheet, the hand-over and the checks, and the sheet says how many are still to be read. Under a rule set without a limit on risers
// that is a question; 7 5/16 of an inch is within the limit of the other one, 7 3/4.
func TestOneVerdict(t *testing.T) {
	for rules, want := range map[string]string{"england-adk-2013": "check with the authority", "our-irc": "pass"} {
		t.Run(rules, func(t *testing.T) {
			dir := copyOf(t, "../sample-job")
			rewrite(t, dir, "job.md", "\nrules: our-irc", "\nrules: "+rules)
			if err := os.Mkdir(filepath.Join(dir, "as-built"), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, "as-built", "1.md"), []byte("---\nkind: as-built\ndate: 2027-01-22\nreadings: [{of: lower-flight, what: riser, where: 3, read: 7 5/16}]\n---\n"), 0o644); err != nil {
				t.Fatal(err)
			}
			_, made := editionsOf(t, dir)
			row := regexp.MustCompile(`(?s)<tr><td[^>]*>Greatest riser<span.*?</tr>`)
			for page, words := range map[string]string{"inspection.html": "number 3: " + want, "hand-over.html": want} {
				if r := row.FindString(made[book.Whole][page]); !strings.Contains(r, "> "+words+"</span>") || !strings.Contains(r, " still to be measured") || strings.Contains(r, "> to be measured<") {
					t.Errorf("%s does not read %q: %s", page, words, r)
				}
			}
			if !regexp.MustCompile(`> ` + want + `</span>: riser 3</h3>`).MatchString(made[book.Whole]["checks.html"]) {
				t.Errorf("the checks do not read %q", want)
			}
		})
	}
}
