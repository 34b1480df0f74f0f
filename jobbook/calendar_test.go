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
			return strings.Join(f.Pieces, "")
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
	for _, c := range []struct{ calendar, want, cure string }{
		{`{start: 2027-03-01, crew: 1, hours: "8:00 to 16:00"}`, "needs more people than there are", "crew: 2"}, // the barrier takes two
		{`{start: 2027-03-01, crew: 2, hours: "8:00 to 16:00", inspection: 2027-03-02}`, "over after the day", ""},
		{`{start: 2027-03-01, crew: 2, hours: "8:00 to 16:00", family: [{no: [stair], days: [every-day]}]}`, "no time at which the family allows it", ""},
	} {
		p := planOf(t, oneRun(t, head+c.calendar))
		if !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
			return f.Group == "calendar" && f.Verdict == finding.Fail && strings.Contains(f.Title, c.want) && f.Cure != "" && strings.HasSuffix(f.Cure, c.cure)
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
	// Days of the year that a calendar without dates can't keep to are told, each sort once; with a first day they are kept.
	for key, want := range map[string]string{
		"family: [{no: [dust], on: [2027-03-03]}, {no: [fumes], on: [2027-03-04]}]": "what the family asked for on certain days", "off: [2027-03-04]": "days off",
		"inspection: 2027-06-02": "the inspection", "not-before: {hand-over: 2027-03-09}": "not to begin before a day", "by: {hand-over: 2027-06-09}": "over by a day",
	} {
		for start, told := range map[string]int{"": 1, "start: 2027-03-01, ": 0} {
			p := planOf(t, oneRun(t, head+"{"+start+`hours: "8:00 to 16:00", crew: 2, `+key+"}"))
			n := 0
			for _, r := range p.Missing {
				if strings.Contains(r.Where, "calendar: {start: }") && strings.Count(r.What, want) == 1 && r.At.Line > 0 {
					n++
				}
			}
			if n != told {
				t.Errorf("%s%s: told %d times: %+v", start, key, n, p.Schedule.Missing)
			}
		}
	}
	if p := planOf(t, oneRun(t, head+`{family: [{no: [dust], days: [weekend]}]}`)); p.Schedule.Known || !slices.ContainsFunc(p.Missing, func(r finding.Reading) bool { return r.What == "the working hours" }) {
		t.Error("what the family asked for, and no hours: nobody asks for them")
	}
	if p := planOf(t, oneRun(t, head+`{hours: "8:00 to 16:00", crew: 2, family: [{no: [dust], days: [weekend]}]}`)); len(p.Schedule.Missing) > 0 {
		t.Errorf("days of the week need no date: %+v", p.Schedule.Missing)
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

// landingWith is a job that lacks nothing but what is put behind its head.
const landingWith = "kind: job\nrules: irc-2021\nmeasured: 2026-11-17\nbuilt: 1990\ndrop: 100\nheight: 38\nbaluster: square-1-1-4\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\nfillet: fillet-1-1-4\nposts: {a: {newel: square-3-1-2, foot: plate}, b: {newel: square-3-1-2, foot: plate}}\n"

// placed finds the task of a step by its id.
func placed(t *testing.T, s sequence.Schedule, id string) sequence.Placed {
	t.Helper()
	for i := range s.Tasks {
		if s.Of[i].ID == id {
			return s.Table.Placed[i]
		}
	}
	t.Fatalf("no task %s", id)
	return sequence.Placed{}
}

// TestCalendarZone: a job that names a zone has its clock changes in the file, and python3-icalendar, which works them out by itself from the file's own rules, finds the hours of UTC that a zone table gives:
// in New York 8:00 is 13:00 UTC until 13 March 2027 and 12:00 UTC from the 14th on.
func TestCalendarZone(t *testing.T) {
	text := calendarOf(t, oneRun(t, landingWith+`calendar: {start: 2027-03-08, crew: 2, hours: {every-day: "8:00 to 9:00"}, zone: America/New_York}`))
	for _, want := range []string{"BEGIN:VTIMEZONE\r\nTZID:America/New_York\r\n", "TZOFFSETFROM:-0500\r\nTZOFFSETTO:-0400\r\nTZNAME:EDT\r\nRRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=2SU\r\n", "TZOFFSETFROM:-0400\r\nTZOFFSETTO:-0500\r\nTZNAME:EST\r\nRRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=1SU\r\n", "\r\nDTSTART;TZID=America/New_York:20270313T080000\r\n", "\r\nDTSTART;TZID=America/New_York:20270314T080000\r\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("not in the file: %q", want)
		}
	}
	const python = "/usr/bin/python3"
	if exec.Command(python, "-c", "import icalendar").Run() != nil {
		t.Skip("python3-icalendar is not installed: the file was not read by an independent parser")
	}
	file := filepath.Join(t.TempDir(), "schedule.ics")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	const program = `
import sys, icalendar, datetime
c = icalendar.Calendar.from_ical(open(sys.argv[1], "rb").read())
zone = c.walk("VTIMEZONE")[0].to_tz()
utc = lambda d: zone.normalize(zone.localize(d)).astimezone(datetime.timezone.utc) if hasattr(zone, "localize") else d.replace(tzinfo=zone).astimezone(datetime.timezone.utc)
for d in sorted({e.decoded("dtstart").replace(tzinfo=None) for e in c.walk("VEVENT")}):
    if d.hour == 8 and d.minute == 0: print(d.strftime("%Y-%m-%d"), utc(d).strftime("%H:%M"))
`
	out, err := exec.Command(python, "-c", program, file).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	before, after := 0, 0
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		day, clock, _ := strings.Cut(line, " ")
		want := "13:00"
		if day >= "2027-03-14" {
			want = "12:00"
			after++
		} else {
			before++
		}
		if clock != want {
			t.Errorf("%s 8:00 is %s UTC, want %s", day, clock, want)
		}
	}
	if before == 0 || after == 0 {
		t.Errorf("%d days before the change, %d after: %s", before, after, out)
	}
}

// TestCalendarDates: goods on the day that they are wanted, steps held to a day, what passes after one, and those done in the shop. 1 March 2027 is a Monday.
func TestCalendarDates(t *testing.T) {
	plan := func(front string) sequence.Schedule { return planOf(t, oneRun(t, landingWith+front)).Schedule }
	const calendar = `calendar: {start: 2027-03-01, crew: 2, hours: "8:00 to 16:00"`
	at := func(s sequence.Schedule, id string) string { return s.Label(placed(t, s, id).Start / sequence.Day) }
	late := func(s sequence.Schedule, words string) bool {
		return slices.ContainsFunc(s.Findings, func(f finding.Finding) bool {
			return f.Verdict == finding.Fail && strings.Contains(f.Title, words) && f.Cure != ""
		})
	}
	if s := plan("wanted: 2027-03-19\n" + calendar + "}"); at(s, "receive") != "Friday 19 March 2027" || len(s.Findings) > 0 {
		t.Errorf("goods on %s, %+v", at(s, "receive"), s.Findings)
	}
	if s := plan("wanted: 2027-03-01\n" + calendar + ", not-before: {order: 2027-03-04}}"); at(s, "order") != "Thursday 4 March 2027" || !late(s, "the goods are not there") {
		t.Errorf("ordered on %s, %+v", at(s, "order"), s.Findings)
	}
	if s := plan(calendar + ", by: {hand-over: 2027-03-02}}"); !late(s, "over after the day") {
		t.Errorf("%+v", s.Findings)
	}
	before := plan(calendar + "}")
	if !slices.ContainsFunc(before.Uncounted, func(u string) bool { return strings.Contains(u, "acclimatise: ") }) {
		t.Errorf("nobody says that the time to acclimatise is not known: %q", before.Uncounted)
	}
	s := plan(calendar + ", wait: {acclimatise: 7 days}}")
	if p := placed(t, s, "acclimatise"); p.Ready-p.End != 7*sequence.Day || slices.ContainsFunc(s.Uncounted, func(u string) bool { return strings.Contains(u, "acclimatise: ") }) {
		t.Errorf("%+v, %q", p, s.Uncounted)
	}
	const never = `, family: [{no: [dust]}]`
	if s := plan(calendar + never + "}"); !late(s, "drill at the marks: there is no time") {
		t.Errorf("%+v", s.Findings)
	}
	if s := plan(calendar + never + ", in-shop: [drill]}"); late(s, "drill at the marks: there is no time") || !late(s, "there is no time") {
		t.Errorf("%+v", s.Findings)
	}
	for bad, hint := range map[string]string{`by: {hand-ovr: 2027-03-02}`: "hand-over", `not-before: {order: soon}`: "2026-11-20", `wait: {acclimatise: a while}`: "7 days", `wait: 7 days`: "acclimatise", `in-shop: [dril]`: "drill", `zone: Europe/Lodon`: "Europe/London"} {
		result, err := jobbook.Check(oneRun(t, landingWith+calendar+", "+bad+"}"))
		if err != nil || result.Plan != nil || len(result.Problems) != 1 || result.Problems[0].At.Line != 13 || result.Problems[0].At.Col < 60 || !strings.Contains(result.Problems[0].Hint, hint) {
			t.Errorf("%s: %v %+v", bad, err, result.Problems)
		}
	}
}

// TestShopHours: the shop's usual hours and crew hold for a job that has a calendar and says none; a job that says nothing of a calendar has none.
func TestShopHours(t *testing.T) {
	files := map[string]string{"runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}", "shop/settings.md": "kind: settings\ncalendar: {crew: 3, hours: {monday: \"7:00 to 17:00\"}}"}
	for front, want := range map[string][2]int{`calendar: {start: 2027-03-01}`: {3, 1}, `calendar: {start: 2027-03-01, crew: 2}`: {2, 1}, `calendar: {start: 2027-03-01, hours: "8:00 to 12:00"}`: {3, 5}, "": {1, 0}} {
		files["job.md"] = landingWith + front
		p := planOf(t, folder(t, files))
		days := 0
		for _, h := range p.Job.Calendar.Hours {
			if len(h) > 0 {
				days++
			}
		}
		if p.Schedule.Crew != want[0] || days != want[1] || p.Schedule.Known != (front != "") {
			t.Errorf("%q: %d people on %d days a week, known %v", front, p.Schedule.Crew, days, p.Schedule.Known)
		}
	}
}

// TestOneEdgeAtATime: two old guards are taken out one after the other, although there are people for both at once; each with its share of the time.
func TestOneEdgeAtATime(t *testing.T) {
	files := map[string]string{
		"job.md":           landingWith + `calendar: {start: 2027-03-01, crew: 6, hours: "8:00 to 16:00"}`,
		"runs/1-hall.md":   "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}",
		"survey/1-hall.md": "kind: survey\ntitle: Hall side\nheight: 33\nloose: no\ncoated: bare", "survey/2-stair.md": "kind: survey\nheight: 33\nloose: no\ncoated: bare",
		"survey/3-stays.md": "kind: survey\nheight: 33\nloose: no\ncoated: bare\nremoved: no",
	}
	p := planOf(t, folder(t, files))
	first, second := placed(t, p.Schedule, "take-out-old-guard/hall"), placed(t, p.Schedule, "take-out-old-guard/stair")
	if first.Start == first.End || second.Start < first.End {
		t.Errorf("%+v, %+v", first, second)
	}
	minutes := 0
	for i, task := range p.Schedule.Tasks {
		if id := p.Schedule.Of[i].ID; strings.HasPrefix(id, "take-out-old-guard") {
			minutes += task.Minutes
			if id == "take-out-old-guard/hall" && !strings.HasSuffix(task.Name, ": hall side") {
				t.Error(task.Name)
			}
		}
	}
	if i := slices.IndexFunc(p.Sequence.Steps, func(s sequence.Step) bool { return s.Step.Name == "take-out-old-guard" }); minutes != p.Sequence.Steps[i].Minutes {
		t.Errorf("%d minutes of %d", minutes, p.Sequence.Steps[i].Minutes)
	}
	for _, f := range p.Schedule.Findings {
		t.Errorf("%s: %s", f.Title, f.Note)
	}
	// A shop that leaves the barrier out: a gap.
	files["shop/140-barrier-up.md"] = "kind: step\nomit: yes"
	p = planOf(t, folder(t, files))
	if !slices.ContainsFunc(p.Findings, func(f finding.Finding) bool {
		return f.Verdict == finding.Fail && strings.Contains(f.Title, "without a temporary barrier")
	}) {
		t.Errorf("nobody misses the barrier: %+v", p.Schedule.Findings)
	}
}
