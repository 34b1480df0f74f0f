package jobbook_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"balustrade/jobbook"
	"balustrade/jobbook/finding"
	"balustrade/jobbook/sequence"
)

// TestSampleCalendar goes through the sample's schedule by itself: every stretch of work lies in the working hours that its job.md names and on no day off, nobody does two things at once, nothing begins before what it waits for is
// over and dry, no dust while the youngest sleeps, and the temporary barrier stands from before the old guard comes off until the new one stands.
func TestSampleCalendar(t *testing.T) {
	result, err := jobbook.Check("../sample-job")
	if err != nil || result.Plan == nil {
		t.Fatalf("%v %+v", err, result.Problems)
	}
	s := result.Plan.Schedule
	if !s.Known || !s.Dated {
		t.Fatal("the sample has no calendar")
	}
	off := map[string]bool{}
	for _, x := range [][2]string{{"2026-11-26", "2026-11-27"}, {"2026-12-24", "2027-01-03"}} {
		a, _ := time.Parse(time.DateOnly, x[0])
		b, _ := time.Parse(time.DateOnly, x[1])
		for ; !a.After(b); a = a.AddDate(0, 0, 1) {
			off[a.Format(time.DateOnly)] = true
		}
	}
	type busy struct {
		span sequence.Span
		name string
	}
	of := map[int][]busy{}
	up, down, opens, closes := -1, -1, -1, -1
	coats := 0
	for i, task := range s.Tasks {
		p := s.Table.Placed[i]
		if task.Done {
			continue
		}
		for _, x := range p.Spans {
			day := s.Date(x.From)
			from, to := x.From%sequence.Day, (x.To-1)%sequence.Day+1
			if off[day.Format(time.DateOnly)] || day.Weekday() == time.Saturday || day.Weekday() == time.Sunday || !(from >= 8*60 && to <= 12*60 || from >= 12*60+30 && to <= 16*60+30) {
				t.Errorf("%s is worked on %s, %s to %s", task.Name, day.Format("Mon 2006-01-02"), sequence.Clock(x.From), sequence.Clock(x.To))
			}
			if task.Makes.Dust && from < 13*60 && to > 12*60 {
				t.Errorf("%s makes dust at noon", task.Name)
			}
			for _, who := range p.People {
				for _, b := range of[who] {
					if x.From < b.span.To && b.span.From < x.To {
						t.Errorf("one does %s and %s at once", task.Name, b.name)
					}
				}
				of[who] = append(of[who], busy{x, task.Name})
			}
		}
		for _, k := range task.After {
			if q := s.Table.Placed[k]; !s.Tasks[k].Done && p.Start < q.Ready {
				t.Errorf("%s begins before %s is over and dry", task.Name, s.Tasks[k].Name)
			}
		}
		if c := s.Of[i].Coat; c != nil {
			coats++
			if p.Ready-p.End < c.Dry {
				t.Errorf("%s has %d min to dry, the can wants %d", task.Name, p.Ready-p.End, c.Dry)
			}
		}
		switch {
		case task.Barrier > 0:
			up = p.End
		case task.Barrier < 0:
			down = p.Start
		case task.Opens:
			opens = p.Start
		case task.Closes:
			closes = p.End
		}
	}
	if up < 0 || opens < up || closes < opens || down < closes {
		t.Errorf("barrier up %d, old guard off %d, new one stands %d, barrier down %d", up, opens, closes, down)
	}
	if coats < 12 { // four groups, three coats each
		t.Errorf("%d coats on the calendar", coats)
	}
	for _, f := range s.Findings {
		t.Errorf("%s: %s", f.Title, f.Note)
	}
}

// calendarOf is the calendar file of a job.
func calendarOf(t *testing.T, dir string) string {
	t.Helper()
	_, files, err := jobbook.Make(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if f.Path == "schedule.ics" {
			return string(f.Data)
		}
	}
	return ""
}

// TestCalendarFile: the rules of RFC 5545 that a phone is strict about: lines end in CR LF (3.1), none is longer than 75 octets (3.1), no control character in a text, every event has UID, DTSTAMP, DTSTART and a later DTEND (3.6.1),
// no UID twice; and a job with odd words in it.
func TestCalendarFile(t *testing.T) {
	odd := oneRun(t, "kind: job\ntitle: \"Höhe; a, b \\\\ c\"\nplace: \"line\\nbreak, and very long words that go on and on until a line of the file has to be folded, ümläüte included, and again ümläüte\"\nrules: irc-2021\nmeasured: 2026-11-17\ncalendar: {start: 2027-03-12, hours: \"8:00 to 12:00\"}\ndrop: 100\nheight: 38\nbaluster: square-1-1-4\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\nfillet: fillet-1-1-4\nposts: {a: {newel: square-3-1-2, foot: plate}, b: {newel: square-3-1-2, foot: plate}}")
	for name, dir := range map[string]string{"sample": "../sample-job", "odd": odd} {
		text := calendarOf(t, dir)
		if text == "" {
			t.Fatalf("%s has no calendar", name)
		}
		if strings.Count(text, "\n") != strings.Count(text, "\r\n") || !strings.HasSuffix(text, "END:VCALENDAR\r\n") {
			t.Errorf("%s: lines do not end in CR LF", name)
		}
		uids := map[string]bool{}
		for _, line := range strings.Split(text, "\r\n") {
			if len(line) > 75 {
				t.Errorf("%s: %d octets: %s", name, len(line), line)
			}
			if strings.ContainsFunc(line, func(r rune) bool { return r < ' ' && r != '\t' }) {
				t.Errorf("%s: control character in %q", name, line)
			}
			if uid, ok := strings.CutPrefix(line, "UID:"); ok {
				if uids[uid] {
					t.Errorf("%s: %s twice", name, uid)
				}
				uids[uid] = true
			}
		}
		events := strings.Count(text, "BEGIN:VEVENT\r\n")
		if events == 0 || len(uids) != events {
			t.Errorf("%s: %d events, %d ids", name, events, len(uids))
		}
		times := regexp.MustCompile(`DTSTART:(\d{8}T\d{6})\r\nDTEND:(\d{8}T\d{6})\r\n`).FindAllStringSubmatch(text, -1)
		if len(times) != events || strings.Count(text, "\r\nDTSTAMP:20261117T000000Z\r\n") != events {
			t.Errorf("%s: %d times of %d events", name, len(times), events)
		}
		for _, m := range times {
			if m[2] <= m[1] {
				t.Errorf("%s: %s is over before it begins", name, m[1])
			}
		}
		icalendar(t, text, events)
	}
}

// icalendar has an independent parser read the file: python3-icalendar, where it is installed.
func icalendar(t *testing.T, text string, events int) {
	t.Helper()
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import icalendar").Run() != nil {
		t.Log("python3-icalendar is not installed: the file was not read by an independent parser")
		return
	}
	file := filepath.Join(t.TempDir(), "schedule.ics")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	const program = `
import sys, icalendar
c = icalendar.Calendar.from_ical(open(sys.argv[1], "rb").read())
e = [x for x in c.walk("VEVENT")]
assert all(x.decoded("dtend") > x.decoded("dtstart") for x in e)
assert not any(x.errors for x in e), [x.errors for x in e if x.errors]
print(len(e), e[0]["location"] if "location" in e[0] else "")
`
	out, err := exec.Command(python, "-c", program, file).CombinedOutput()
	if err != nil || !strings.HasPrefix(string(out), strings.TrimSpace(strings.Split(string(out), " ")[0])) || !strings.HasPrefix(string(out), strconv.Itoa(events)+" ") {
		t.Errorf("%v: %s", err, out)
	}
}

// oneRun is a folder with one run and a job.md.
func oneRun(t *testing.T, front string) string {
	return folder(t, map[string]string{"job.md": front, "runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}"})
}

// TestCalendarFaults: what is wrong with a plan is a failing check, and says what cures it.
func TestCalendarFaults(t *testing.T) {
	const head = "kind: job\nrules: irc-2021\ndrop: 100\nheight: 38\nbaluster: square-1-1-4\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\nfillet: fillet-1-1-4\nposts: {a: {newel: square-3-1-2, foot: plate}, b: {newel: square-3-1-2, foot: plate}}\ncalendar: "
	for _, c := range []struct{ calendar, want string }{
		{`{start: 2027-03-01, crew: 1, hours: "8:00 to 16:00"}`, "needs more people than there are"},
		{`{start: 2027-03-01, crew: 2, hours: "8:00 to 16:00", inspection: 2027-03-02}`, "over after the day"},
		{`{start: 2027-03-01, crew: 2, hours: "8:00 to 16:00", family: [{no: [stair], days: [every-day]}]}`, "no time at which the family allows it"},
	} {
		p := planOf(t, oneRun(t, head+c.calendar))
		if !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
			return f.Group == "calendar" && f.Verdict == finding.Fail && strings.Contains(f.Title, c.want) && f.Cure != ""
		}) {
			t.Errorf("%s: nobody says %q: %+v", c.calendar, c.want, p.Schedule.Findings)
		}
	}
	if p := planOf(t, oneRun(t, head+`{start: 2027-03-01, crew: 2, hours: "8:00 to 16:00"}`)); len(p.Schedule.Findings) > 0 {
		t.Errorf("%+v", p.Schedule.Findings)
	}
	if p := planOf(t, oneRun(t, head+`{start: 2027-03-01}`)); p.Schedule.Known || !slices.ContainsFunc(p.Missing, func(r finding.Reading) bool { return r.What == "the working hours" }) {
		t.Error("nobody asks for the working hours")
	}
	p := planOf(t, oneRun(t, head+`{hours: "8:00 to 16:00", crew: 2}`))
	if !p.Schedule.Known || p.Schedule.Dated || p.Schedule.Label(0) != "day 1" {
		t.Errorf("without a first day: %+v", p.Schedule.Label(0))
	}
	for _, bad := range []string{`{start: tomorrow}`, `{hours: 8 to 4}`, `{hours: "16:00 to 8:00"}`, `{hours: "8:00 to 25:00"}`, `{hours: {mondy: "8:00 to 9:00"}}`, `{off: [2027-03-05 to 2027-03-01]}`, `{family: [{no: [noise]}]}`, `{family: [{no: [dust], hours: noon}]}`, `{crew: 0}`} {
		result, err := jobbook.Check(oneRun(t, head+bad))
		if err != nil || result.Plan != nil || len(result.Problems) == 0 || result.Problems[0].At.Line != 11 && result.Problems[0].At.Line < 2 || result.Problems[0].Hint == "" {
			t.Errorf("%s: %v %+v", bad, err, result.Problems)
		}
	}
}

// TestDoneMovesTheRest: a step that is done on a day is not placed any more, and nothing open begins before the day after.
func TestDoneMovesTheRest(t *testing.T) {
	const head = "kind: job\nrules: irc-2021\ndrop: 100\nheight: 38\nbaluster: square-1-1-4\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\nfillet: fillet-1-1-4\nposts: {a: {newel: square-3-1-2, foot: plate}, b: {newel: square-3-1-2, foot: plate}}\ncalendar: {start: 2027-03-01, crew: 2, hours: \"8:00 to 16:00\"}"
	before := planOf(t, oneRun(t, head)).Schedule
	after := planOf(t, oneRun(t, head+"\ndone: {survey: 2027-03-08}")).Schedule // a week late
	for i, task := range after.Tasks {
		if p := after.Table.Placed[i]; !task.Done && p.Start < 8*sequence.Day {
			t.Errorf("%s begins on %s", task.Name, after.Label(p.Start/sequence.Day))
		}
	}
	if after.Table.End < before.Table.End+4*sequence.Day {
		t.Errorf("a week late moves the end from %s to %s", before.Label(before.Table.End/sequence.Day), after.Label(after.Table.End/sequence.Day))
	}
}
