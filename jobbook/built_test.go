package jobbook_test

import (
	"encoding/csv"
	"html"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"balustrade/jobbook"
	"balustrade/jobbook/finding"
)

// withBuilt is the simple job with a flight, and readings as built.
func withBuilt(more map[string]string) map[string]string {
	return merged(merged(simple, map[string]string{
		"runs/3-stair.md": "kind: flight\nfrom: {at: wall, before: 1}\nto: {at: wall, past: 0}\nrisers: [7 1/2, 7 1/2]\ngoings: [10 1/4]\nnosing: 1\nclear: {level: 11 1/4}\nheight: 36\nshoe: none",
	}), more)
}

func TestBuiltProblems(t *testing.T) {
	for reading, want := range map[string]string{
		"{of: hell, what: height, read: 36}":                             `as-built/1.md:3:17: no run or flight is named "hell" (did you mean hall?)`,
		"{of: a, what: height, read: 36}":                                `as-built/1.md:3:17: of a post nothing is judged by a length, and "a" is one (write what a push showed: push: [{of: a, moves: no}])`,
		"{what: height, read: 36}":                                       `as-built/1.md:3:12: a reading does not say what it was read on (add of: and the name of a run or a flight)`,
		"{of: hall, read: 36}":                                           `as-built/1.md:3:12: a reading does not say what was read (add what: , one of opening, end opening, height, drop)`,
		"{of: hall, what: hieght, read: 36}":                             `as-built/1.md:3:29: unknown measure "hieght" in what is read as built (did you mean height?)`,
		"{of: hall, what: riser, read: 7}":                               `as-built/1.md:3:29: riser is read on a flight, and "hall" is a level run (of a level run are read: opening, end opening, height, drop)`,
		"{of: hall, what: height, read: 0}":                              `as-built/1.md:3:43: a reading of nothing (write it as measured)`,
		"{of: hall, what: height, read: -3}":                             `as-built/1.md:3:43: `,
		"{of: hall, what: height, read: 94,5}":                           `as-built/1.md:3:`,
		"{of: hall, what: end opening, read: 3}":                         `as-built/1.md:3:12: an end opening does not say at which end of "hall" it was read (write where: from (wall), or where: to (a))`,
		"{of: hall, what: end opening, where: b, read: 3}":               `as-built/1.md:3:49: an end opening does not say at which end of "hall" it was read (write where: from (wall), or where: to (a))`,
		"{of: stair, what: end opening, where: wall, read: 3}":           `as-built/1.md:3:50: an end opening does not say at which end of "stair" it was read (write where: from (wall), or where: to (wall))`,
		"{of: stair, what: riser, where: 3, read: 7}":                    `as-built/1.md:3:44: no riser of "stair" is named "3" (write a number from 1 to 2, counted from below; or leave where: out for the worst of all)`,
		"{of: stair, what: tread, where: 2, read: 10}":                   `as-built/1.md:3:44: no tread of "stair" is named "2" (write a number from 1 to 1, counted from below; or leave where: out for the worst of all)`,
		"{of: stair, what: riser, where: the high one, read: 7}":         `as-built/1.md:3:44: no riser of "stair" is named "the high one" (write a number from 1 to 2, counted from below; or leave where: out for the worst of all)`,
		"{of: hall, what: opening, where: between 7 and 9, read: 3}":     `as-built/1.md:3:45: balusters 7 and 9 of "hall" are no neighbours, and an opening is between two that are (write two that stand next to each other, as in between 7 and 8)`,
		"{of: hall, what: opening, where: 9-7, read: 3}":                 `as-built/1.md:3:45: balusters 7 and 9 of "hall" are no neighbours`,
		"{of: hall, what: opening, where: between 0 and 1, read: 3}":     `as-built/1.md:3:45: no two balusters of "hall" are named "between 0 and 1" (balusters are counted from 1, from the datum end: write between 7 and 8)`,
		"{of: hall, what: opening, where: 7 and 7, read: 3}":             `as-built/1.md:3:45: no two balusters of "hall" are named "7 and 7"`,
		"{of: hall, what: height, where: 40, read: 38}":                  `as-built/1.md:3:44: height has no numbered places, and its place is "40" (write the place in words, as in where: 40 in from the datum end; or leave where: out)`,
		"{of: hall, what: drop, where: 40 1/2, read: 100}":               `as-built/1.md:3:42: drop has no numbered places, and its place is "40 1/2"`,
		"{of: stair, what: height, where: 3, read: 36}":                  `as-built/1.md:3:45: no nosing of "stair" is named "3" (write the number of the nosing, from 1 to 2, counted from below, the landing's last; or the place in words; or leave where: out for the worst of all)`,
		"{of: stair, what: height, where: over nosing 3, read: 36}":      `as-built/1.md:3:45: no nosing of "stair" is named "over nosing 3"`,
		"{of: stair, what: nosing, where: 0, read: 1}":                   `as-built/1.md:3:45: no nosing of "stair" is named "0"`,
		"{of: stair, what: wall clearance, read: 2}":                     `as-built/1.md:3:30: wall clearance is read on a rail on the wall, and "stair" has none (add wall-rail: to the flight)`,
		"{of: hall, what: height, red: 36}":                              `as-built/1.md:3:37: unknown key "red" in readings (did you mean read?)`,
		"]\npush: [{of: b, moves: no}":                                   `as-built/1.md:4:13: no run, flight or post is named "b" (`,
		"]\npush: [{moves: no}":                                          `as-built/1.md:4:8: a push does not say what was pushed (add of: and the name of a run, a flight or a post)`,
		"]\npush: [{of: a, moves: a little}":                             `as-built/1.md:4:23: want yes or no, found "a little" (write yes or no)`,
		"]\ndate: 12/2/2027\npush: [":                                    `as-built/1.md:4:7: want a date as year-month-day, found "12/2/2027" (write the date as 2027-12-02 or 2027-02-12, whichever is meant)`,
		"]\ndivision: 0\npush: [":                                        `as-built/1.md:4:11: a tape without a division (write the finest division of the tape, as in 1/16)`,
		"{of: hall, what: [height], read: 36}":                           `as-built/1.md:3:29: want a measure as built, found a list`,
		"3":                                                              `as-built/1.md:3:12: want keys and values for readings, found "3"`,
		"]\nreading: [":                                                  `as-built/1.md:4:1: unknown key "reading" in readings as built (did you mean readings?)`,
		"{of: stair, what: riser, where: 99999999999999999999, read: 7}": `as-built/1.md:3:44: no riser of "stair" is named`,
	} {
		result, err := jobbook.Check(folder(t, withBuilt(map[string]string{"as-built/1.md": "kind: as-built\nreadings: [" + reading + "]"})))
		if err != nil || len(result.Problems) == 0 {
			t.Errorf("%s: no problem, %v", reading, err)
			continue
		}
		p := result.Problems[0]
		if got := p.At.String() + ": " + p.Summary + " (" + p.Hint + ")"; !strings.HasPrefix(got, want) {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
	t.Run("in the shop", func(t *testing.T) {
		result, err := jobbook.Check(folder(t, withBuilt(map[string]string{"shop/as-built.md": "kind: as-built"})))
		if err != nil || len(result.Problems) != 1 || !strings.Contains(result.Problems[0].Summary, "stand in the shop") {
			t.Errorf("%v %+v", err, result.Problems)
		}
	})
	t.Run("a run and a post of one name", func(t *testing.T) {
		result, err := jobbook.Check(folder(t, withBuilt(map[string]string{"runs/4-a.md": "kind: run", "b.md": "kind: as-built\npush: [{of: a, moves: no}]"})))
		if err != nil || len(result.Problems) != 1 || !strings.Contains(result.Problems[0].Summary, "both named") {
			t.Errorf("%v %+v", err, result.Problems)
		}
	})
}

// TestBuiltChangesNoPlan: readings as built change no count, mark, cut, price or reading to take, of the job and of its alternatives, and stand in no alternative.
func TestBuiltChangesNoPlan(t *testing.T) {
	files := withBuilt(map[string]string{"alternatives/1-tight.md": "kind: alternative\nall-runs: {most: 3}"})
	before, err := jobbook.Check(folder(t, files))
	if err != nil || before.Plan == nil {
		t.Fatal(err, before.Problems)
	}
	files["as-built/1.md"] = "kind: as-built\ndate: 2027-02-12\nreadings: [{of: hall, what: opening, read: 4}, {of: hall, what: height, read: }, {of: stair, what: riser, where: 1, read: 8}]"
	after, err := jobbook.Check(folder(t, files))
	if err != nil || after.Plan == nil {
		t.Fatal(err, after.Problems)
	}
	built := 0
	kept := after.Plan.Findings[:0:0]
	for _, f := range after.Plan.Findings {
		if after.Plan.OfBuilt(f) {
			built++
		} else {
			kept = append(kept, f)
		}
	}
	if f := findingOf(after.Plan, "check/as-built/hall/guard-opening"); f.Verdict != finding.Fail || built == 0 {
		t.Errorf("an opening of 4 is %+v", f)
	}
	after.Plan.Findings = kept
	if diff := cmp.Diff(outcome(before.Plan), outcome(after.Plan)); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff(outcome(before.Plan.Alternatives[0].Plan), outcome(after.Plan.Alternatives[0].Plan)); diff != "" {
		t.Error("of the alternative:", diff)
	}
}

// TestInspectionTable: data/inspection.csv has every check of the sheet, with empty cells where nothing was read.
func TestInspectionTable(t *testing.T) {
	for _, dir := range jobs {
		book := bookOf(t, dir)
		rows, err := csv.NewReader(strings.NewReader(book["data/inspection.csv"])).ReadAll()
		if err != nil || len(rows) < 20 {
			t.Fatalf("%v, %d rows", err, len(rows))
		}
		column := map[string]int{}
		for i, name := range rows[0] {
			column[name] = i
		}
		read := 0
		for _, r := range rows[1:] {
			if r[column["as built"]] != "" {
				read++
			}
		}
		if reads := dir == "../testdata/metric-job"; reads != (read > 0) {
			t.Errorf("%s: %d readings", dir, read)
		}
		if page := book["inspection.html"]; !strings.Contains(page, "Signature") || !strings.Contains(book["hand-over.html"], `href="inspection.html"`) || !strings.Contains(book["print.html"], `id="page-inspection"`) {
			t.Errorf("%s: the sheet, its link or its place in print is missing", dir)
		}
	}
	// The metric job is judged by a rule set in inches: its limits stand in inches, and in millimetres beside them.
	if page := bookOf(t, "../testdata/metric-job")["inspection.html"]; !strings.Contains(page, "(101.6 mm)") || !strings.Contains(page, ">4 in<") {
		t.Error("a limit is not in the rule set's own unit, or not in the job's beside it")
	}
}

// TestScreenedOnTheSheet: every part that was screened stands on the inspection sheet with its verdict and an empty box for whoever confirms it, and none of them as a pass.
func TestScreenedOnTheSheet(t *testing.T) {
	for _, dir := range jobs {
		result, err := jobbook.Check(dir)
		if err != nil || result.Plan == nil || len(result.Plan.Loads.Members) == 0 {
			t.Fatalf("%s: %v, nothing was screened", dir, err)
		}
		_, section, _ := strings.Cut(bookOf(t, dir)["inspection.html"], `<section id="built-structure">`)
		section, _, _ = strings.Cut(section, "</section>")
		_, body, _ := strings.Cut(section, "<tbody>")
		rows := strings.Split(body, "<tr>")[1:]
		if len(rows) != len(result.Plan.Loads.Members) {
			t.Fatalf("%s: %d rows, want %d", dir, len(rows), len(result.Plan.Loads.Members))
		}
		for i, m := range result.Plan.Loads.Members {
			if !strings.Contains(strings.ToLower(rows[i]), strings.ToLower(html.EscapeString(m.Title))) || !strings.Contains(rows[i], m.Verdict.String()) || strings.Count(rows[i], `class="box"`) != 1 || strings.Contains(rows[i], `verdict pass"`) {
				t.Errorf("%s: %s, %s: %s", dir, m.Title, m.Verdict, rows[i])
			}
		}
	}
}
