package sequence

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// tasks writes a network as "A 2; C 2 < A; D 4 < A B", in hours.
func tasks(t *testing.T, network string) []Task {
	t.Helper()
	var list []Task
	at := map[string]int{}
	for _, line := range strings.Split(network, ";") {
		head, after, _ := strings.Cut(line, "<")
		var name string
		var hours int
		if _, err := fmt.Sscan(head, &name, &hours); err != nil {
			t.Fatal(line, err)
		}
		task := Task{Name: name, Minutes: hours * Hour}
		for _, a := range strings.Fields(after) {
			k, ok := at[a]
			if !ok {
				t.Fatalf("%s waits for %s, which is not there", name, a)
			}
			task.After = append(task.After, k)
		}
		at[name] = len(list)
		list = append(list, task)
	}
	return list
}

// roundTheClock are hours without an end.
func roundTheClock() (h [7][]Span) {
	for i := range h {
		h[i] = []Span{{0, Day}}
	}
	return h
}

// eight are the hours from 8 to 12 and from 12:30 to 16:30, Monday to Friday.
func eight() (h [7][]Span) {
	for i := range 5 {
		h[i] = []Span{{8 * Hour, 12 * Hour}, {12*Hour + 30, 16*Hour + 30}}
	}
	return h
}

// everyDay are all seven days of the week.
var everyDay = [7]bool{true, true, true, true, true, true, true}

// TestCriticalPath is a textbook's network: fifteen hours, A-C-E-G-H critical, slack of B 1, D 1 and F 6 (published). Its hours are worked
// round the clock by as many people as are wanted, so that nothing but the network counts.
func TestCriticalPath(t *testing.T) {
	list := tasks(t, "A 2; B 3; C 2 < A; D 4 < A B; E 4 < C; F 3 < C; G 5 < D E; H 2 < F G")
	got := Arrange(Work{Tasks: list, Crew: len(list), Hours: roundTheClock()})
	if len(got.Faults) > 0 || got.End != 15*Hour {
		t.Errorf("over after %d hours, want 15; faults %v", got.End/Hour, got.Faults)
	}
	want := map[string]int{"A": 0, "B": 1, "C": 0, "D": 1, "E": 0, "F": 6, "G": 0, "H": 0}
	critical := ""
	for i, p := range got.Placed {
		if p.Slack != want[list[i].Name]*Hour {
			t.Errorf("%s: slack %d hours, want %d", list[i].Name, p.Slack/Hour, want[list[i].Name])
		}
		if p.Critical {
			critical += list[i].Name
		}
	}
	if critical != "ACEGH" {
		t.Errorf("critical are %s, want ACEGH", critical)
	}
}

// clockWords writes minutes as "2 8:30": the day, counted from 1, and the time.
func clockWords(m int) string {
	return fmt.Sprintf("%d %d:%02d", floorDiv(m, Day)+1, (m%Day+Day)%Day/Hour, (m%Hour+Hour)%Hour)
}

func placedWords(list []Task, tt Timetable) string {
	var lines []string
	for _, i := range tt.Order {
		var people string
		for _, p := range tt.Placed[i].People {
			people += string(rune('a' + p))
		}
		lines = append(lines, strings.TrimSpace(fmt.Sprintf("%s %s to %s %s", list[i].Name, clockWords(tt.Placed[i].Start), clockWords(tt.Placed[i].End), people)))
	}
	return strings.Join(lines, "; ")
}

func faultWords(list []Task, tt Timetable) string {
	words := map[FaultKind]string{Late: "late", TooFew: "too few", OverDays: "over days", NoTime: "no time", NoHours: "no hours", NextDay: "next day", Gap: "gap", NoBarrier: "no barrier", OpenOver: "open over"}
	var out []string
	for _, f := range tt.Faults {
		s := words[f.Kind]
		if f.Task >= 0 {
			s += " " + list[f.Task].Name
		}
		if f.Span != (Span{}) {
			s += " " + clockWords(f.Span.From) + " to " + clockWords(f.Span.To)
		}
		out = append(out, s)
	}
	return strings.Join(out, "; ")
}

// TestArrange has small plans worked out by hand. Day 1 is a Monday where nothing else is said; eight hours a day, half an hour's break at noon.
func TestArrange(t *testing.T) {
	at := func(day, hour int) int { return (day-1)*Day + hour*Hour }
	for _, c := range []struct {
		name   string
		work   Work
		want   string
		faults string
	}{
		{"over the break", Work{Tasks: []Task{{Name: "A", Minutes: 300}}}, "A 1 8:00 to 1 13:30 a", ""},
		{"over the night", Work{Tasks: []Task{{Name: "A", Minutes: 600}}}, "A 1 8:00 to 2 10:00 a", ""},
		{"over the weekend", Work{Tasks: []Task{{Name: "A", Minutes: 600}}, Weekday: 4}, "A 1 8:00 to 4 10:00 a", ""},
		{"over a day off", Work{Tasks: []Task{{Name: "A", Minutes: 600}}, Off: []Span{{1, 2}}}, "A 1 8:00 to 3 10:00 a", ""},
		{"one after the other, by one", Work{Tasks: []Task{{Name: "A", Minutes: 60}, {Name: "B", Minutes: 60}}}, "A 1 8:00 to 1 9:00 a; B 1 9:00 to 1 10:00 a", ""},
		{"side by side, by two", Work{Tasks: []Task{{Name: "A", Minutes: 60}, {Name: "B", Minutes: 60}}, Crew: 2}, "A 1 8:00 to 1 9:00 a; B 1 8:00 to 1 9:00 b", ""},
		{"two at one task take half the time", Work{Tasks: []Task{{Name: "A", Minutes: 61, People: 2}}, Crew: 2}, "A 1 8:00 to 1 8:31 ab", ""},
		{"two where there is one", Work{Tasks: []Task{{Name: "A", Minutes: 60, People: 2}}}, "A 1 8:00 to 1 9:00 a", "too few A"},
		{"two wait for both", Work{Tasks: []Task{{Name: "A", Minutes: 60}, {Name: "B", Minutes: 90}, {Name: "C", Minutes: 60, People: 2, After: []int{0}}}, Crew: 2}, "A 1 8:00 to 1 9:00 a; B 1 8:00 to 1 9:30 b; C 1 9:30 to 1 10:00 ab", ""},
		{"drying goes on overnight", Work{Tasks: []Task{{Name: "A", Minutes: 480, Wait: 12 * Hour}, {Name: "B", Minutes: 60, After: []int{0}}}}, "A 1 8:00 to 1 16:30 a; B 2 8:00 to 2 9:00 a", ""},
		{"and into the next day", Work{Tasks: []Task{{Name: "A", Minutes: 480, Wait: 16 * Hour}, {Name: "B", Minutes: 60, After: []int{0}}}}, "A 1 8:00 to 1 16:30 a; B 2 8:30 to 2 9:30 a", ""},
		{"and over the weekend", Work{Tasks: []Task{{Name: "A", Minutes: 480, Wait: 24 * Hour}, {Name: "B", Minutes: 60, After: []int{0}}}, Weekday: 4}, "A 1 8:00 to 1 16:30 a; B 4 8:00 to 4 9:00 a", ""},
		{"something else while it dries", Work{Tasks: []Task{{Name: "A", Minutes: 60, Wait: 3 * Hour}, {Name: "B", Minutes: 60, After: []int{0}}, {Name: "C", Minutes: 60}}}, "A 1 8:00 to 1 9:00 a; C 1 9:00 to 1 10:00 a; B 1 12:30 to 1 13:30 a", ""},
		{"a clock put on in the night leaves an hour less to dry", Work{Tasks: []Task{{Name: "A", Minutes: 480, Wait: 16 * Hour}, {Name: "B", Minutes: 60, After: []int{0}}}, Forward: []int{at(2, 2)}}, "A 1 8:00 to 1 16:30 a; B 2 9:30 to 2 10:30 a", ""},
		{"not begun for the last ten minutes", Work{Tasks: []Task{{Name: "A", Minutes: 470}, {Name: "B", Minutes: 60}}}, "A 1 8:00 to 1 16:20 a; B 2 8:00 to 2 9:00 a", ""},
		{"but done in the last ten", Work{Tasks: []Task{{Name: "A", Minutes: 470}, {Name: "B", Minutes: 10}}}, "A 1 8:00 to 1 16:20 a; B 1 16:20 to 1 16:30 a", ""},
		{"goods that come later", Work{Tasks: []Task{{Name: "A", Minutes: 60, From: at(3, 0)}}}, "A 3 8:00 to 3 9:00 a", ""},
		{"ordered in the afternoon, there three mornings later", Work{Tasks: []Task{{Name: "X", Minutes: 400}, {Name: "A", Minutes: 60, Days: 3, After: []int{0}}, {Name: "B", Minutes: 60, After: []int{1}}}}, "X 1 8:00 to 1 15:10 a; A 1 15:10 to 1 16:10 a; B 4 8:00 to 4 9:00 a", ""},
		{"and what dries longer than that counts", Work{Tasks: []Task{{Name: "A", Minutes: 60, Days: 1, Wait: 30 * Hour}, {Name: "B", Minutes: 60, After: []int{0}}}}, "A 1 8:00 to 1 9:00 a; B 2 15:00 to 2 16:00 a", ""},
		{"later than asked for", Work{Tasks: []Task{{Name: "A", Minutes: 480, From: at(3, 0), HasBy: true, By: at(3, 16)}}}, "A 3 8:00 to 3 16:30 a", "late A"},
		{"just in time", Work{Tasks: []Task{{Name: "A", Minutes: 450, HasBy: true, By: at(1, 16)}}}, "A 1 8:00 to 1 16:00 a", ""},
		{"a hold point takes nobody and no time", Work{Tasks: []Task{{Name: "A", Minutes: 480}, {Name: "H", After: []int{0}}, {Name: "B", Minutes: 60, After: []int{1}}}}, "A 1 8:00 to 1 16:30 a; H 1 16:30 to 1 16:30; B 2 8:00 to 2 9:00 a", ""},
		{"a hold point falls on a working hour", Work{Tasks: []Task{{Name: "H", From: at(6, 0)}}}, "H 8 8:00 to 8 8:00", ""},
		{"no dust in the afternoon", Work{Tasks: []Task{{Name: "A", Minutes: 300, Makes: Makes{Dust: true}}}, Unwanted: []Unwanted{{No: Makes{Dust: true}, Days: everyDay, Hours: []Span{{13 * Hour, 15 * Hour}}}}}, "A 1 8:00 to 1 15:30 a", ""},
		{"fumes at that time are no dust", Work{Tasks: []Task{{Name: "A", Minutes: 300, Makes: Makes{Fumes: true}}}, Unwanted: []Unwanted{{No: Makes{Dust: true}, Days: everyDay, Hours: []Span{{13 * Hour, 15 * Hour}}}}}, "A 1 8:00 to 1 13:30 a", ""},
		{"the stair is wanted on a day", Work{Tasks: []Task{{Name: "A", Minutes: 60, Makes: Makes{Stair: true}}}, Unwanted: []Unwanted{{No: Makes{Stair: true}, Days: everyDay, Hours: []Span{{0, Day}}, Bounded: true}}}, "A 2 8:00 to 2 9:00 a", ""},
		// Begun on Thursday it would still smell on Saturday morning.
		{"fumes last while it dries", Work{Tasks: []Task{{Name: "A", Minutes: 480, Wait: 36 * Hour, Makes: Makes{Fumes: true}}}, Weekday: 3, Unwanted: []Unwanted{{No: Makes{Fumes: true}, Days: [7]bool{5: true, 6: true}, Hours: []Span{{0, Day}}}}}, "A 5 8:00 to 5 16:30 a", ""},
		{"never allowed", Work{Tasks: []Task{{Name: "A", Minutes: 60, Wait: 24 * Hour, Makes: Makes{Fumes: true}}}, Unwanted: []Unwanted{{No: Makes{Fumes: true}, Days: everyDay, Hours: []Span{{22 * Hour, Day}}}}}, "A 1 8:00 to 1 9:00 a", "no time A"},
		{"whole, on the next day", Work{Tasks: []Task{{Name: "A", Minutes: 300}, {Name: "B", Minutes: 240, Whole: true}}}, "A 1 8:00 to 1 13:30 a; B 2 8:00 to 2 12:00 a", ""},
		{"whole, and longer than a day", Work{Tasks: []Task{{Name: "B", Minutes: 500, Whole: true}}}, "B 1 8:00 to 2 8:20 a", "over days B"},
		{"done the same day", Work{Tasks: []Task{{Name: "X", Minutes: 400}, {Name: "A", Minutes: 60}, {Name: "B", Minutes: 60, After: []int{1}, SameDay: true}}}, "X 1 8:00 to 1 15:10 a; A 2 8:00 to 2 9:00 a; B 2 9:00 to 2 10:00 a", ""},
		{"the same day goes before the list", Work{Tasks: []Task{{Name: "A", Minutes: 60}, {Name: "X", Minutes: 480}, {Name: "B", Minutes: 60, After: []int{0}, SameDay: true}}}, "A 1 8:00 to 1 9:00 a; B 1 9:00 to 1 10:00 a; X 1 10:00 to 2 10:00 a", ""},
		{"too much for a day", Work{Tasks: []Task{{Name: "A", Minutes: 400}, {Name: "B", Minutes: 100, After: []int{0}, SameDay: true}}}, "A 1 8:00 to 1 15:10 a; B 1 15:10 to 2 8:20 a", "next day B"},
		{"one edge at a time, by two", Work{Tasks: []Task{{Name: "U", Minutes: 60, Barrier: 1}, {Name: "A", Minutes: 60, Opens: true, After: []int{0}}, {Name: "B", Minutes: 60, Opens: true, After: []int{0}}, {Name: "C", Minutes: 60, Closes: true, After: []int{1, 2}}, {Name: "D", Minutes: 60, Barrier: -1, After: []int{3}}}, Crew: 2}, "U 1 8:00 to 1 9:00 a; A 1 9:00 to 1 10:00 a; B 1 10:00 to 1 11:00 a; C 1 11:00 to 1 12:00 a; D 1 12:30 to 1 13:30 a", ""},
		{"an edge is not left open over night", Work{Tasks: []Task{{Name: "U", Minutes: 300, Barrier: 1}, {Name: "A", Minutes: 240, Opens: true, After: []int{0}}, {Name: "C", Minutes: 60, Closes: true, After: []int{1}}}}, "U 1 8:00 to 1 13:30 a; A 2 8:00 to 2 12:00 a; C 2 12:30 to 2 13:30 a", ""},
		{"more than can be closed by evening", Work{Tasks: []Task{{Name: "U", Minutes: 60, Barrier: 1}, {Name: "A", Minutes: 500, Opens: true, After: []int{0}}, {Name: "C", Minutes: 60, Closes: true, After: []int{1}}}}, "U 1 8:00 to 1 9:00 a; A 1 9:00 to 2 9:20 a; C 2 9:20 to 2 10:20 a", "open over A"},
		{"taken out before the barrier is up", Work{Tasks: []Task{{Name: "A", Minutes: 60, Opens: true}, {Name: "U", Minutes: 60, Barrier: 1}, {Name: "C", Minutes: 60, Closes: true, After: []int{0}}}}, "A 1 8:00 to 1 9:00 a; U 1 9:00 to 1 10:00 a; C 1 10:00 to 1 11:00 a", "gap A 1 8:00 to 1 10:00"},
		{"taken down before the guard stands", Work{Tasks: []Task{{Name: "U", Minutes: 60, Barrier: 1}, {Name: "A", Minutes: 60, Opens: true, After: []int{0}}, {Name: "D", Minutes: 60, Barrier: -1, After: []int{1}}, {Name: "C", Minutes: 60, Closes: true, After: []int{1}}}}, "U 1 8:00 to 1 9:00 a; A 1 9:00 to 1 10:00 a; D 1 10:00 to 1 11:00 a; C 1 11:00 to 1 12:00 a", "gap 1 10:00 to 1 12:00"},
		{"no barrier at all", Work{Tasks: []Task{{Name: "A", Minutes: 60, Opens: true}, {Name: "C", Minutes: 60, Closes: true, After: []int{0}}}}, "A 1 8:00 to 1 9:00 a; C 1 9:00 to 1 10:00 a", "no barrier A 1 8:00 to 1 10:00"},
		{"a new guard without a barrier", Work{Tasks: []Task{{Name: "C", Minutes: 60, Closes: true}}}, "C 1 8:00 to 1 9:00 a", "no barrier"},
		{"done before, and dried since", Work{Tasks: []Task{{Name: "A", Minutes: 60, Wait: 24 * Hour, Done: true, From: -7 * Day}, {Name: "B", Minutes: 60, After: []int{0}}}}, "A -6 0:00 to -6 16:30; B 1 8:00 to 1 9:00 a", ""},
		{"done, and not dry yet", Work{Tasks: []Task{{Name: "A", Minutes: 60, Wait: 24 * Hour, Done: true, From: 0}, {Name: "B", Minutes: 60, After: []int{0}}}}, "A 1 0:00 to 1 16:30; B 3 8:00 to 3 9:00 a", ""},
		{"barred and taken out on one day", Work{Tasks: []Task{{Name: "A", Opens: true, Done: true}, {Name: "U", Barrier: 1, Done: true}, {Name: "C", Minutes: 60, Closes: true, From: Day}}}, "A 1 0:00 to 1 16:30; U 1 0:00 to 1 16:30; C 2 8:00 to 2 9:00 a", ""},
		{"in a circle", Work{Tasks: []Task{{Name: "A", Minutes: 60, After: []int{1}}, {Name: "B", Minutes: 60, After: []int{0}}}}, "", ""},
		{"nothing to do", Work{}, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.work.Hours = eight()
			got := Arrange(c.work)
			if w := placedWords(c.work.Tasks, got); w != c.want {
				t.Errorf("got  %s\nwant %s", w, c.want)
			}
			if w := faultWords(c.work.Tasks, got); w != c.faults {
				t.Errorf("faults %q, want %q", w, c.faults)
			}
		})
	}
	t.Run("nobody works", func(t *testing.T) {
		got := Arrange(Work{Tasks: []Task{{Name: "A", Minutes: 60}}})
		if len(got.Order) > 0 || len(got.Faults) != 1 || got.Faults[0].Kind != NoHours {
			t.Errorf("%+v", got)
		}
	})
}

// TestSlackOfAnOrder: what comes three days later, at whatever hour it was ordered, can be ordered as late as the end of that day. By hand: B begins on day 4 at 8:00 as it must be over at 9:00 there, so A can be over on day 1 until work
// ends at 16:30, and begin at 15:30: seven working hours after 8:00.
func TestSlackOfAnOrder(t *testing.T) {
	got := Arrange(Work{Tasks: []Task{{Name: "A", Minutes: 60, Days: 3}, {Name: "B", Minutes: 60, After: []int{0}}}, Crew: 2, Hours: eight()})
	if a := got.Placed[0]; a.Slack != 7*Hour || clockWords(a.Latest) != "1 15:30" {
		t.Errorf("%s, %d min", clockWords(a.Latest), a.Slack)
	}
}

// TestSlackOverNight: what dries over night can be put on later the same day. By hand: A may be over by 16:00 to have dried 16 h by 8 o'clock, so begin at 15:00, that is six and a half
// working hours after 8:00. C has until B is over, at 9:00 on day 2: it may begin at 8:00 there, a whole day's work of eight hours later.
func TestSlackOverNight(t *testing.T) {
	list := []Task{{Name: "A", Minutes: 60, Wait: 16 * Hour}, {Name: "B", Minutes: 60, After: []int{0}}, {Name: "C", Minutes: 60}}
	got := Arrange(Work{Tasks: list, Crew: 2, Hours: eight()})
	if w := placedWords(list, got); w != "A 1 8:00 to 1 9:00 a; C 1 8:00 to 1 9:00 b; B 2 8:00 to 2 9:00 a" {
		t.Fatal(w)
	}
	for i, want := range []struct {
		latest string
		slack  int
	}{{"1 15:00", 6*Hour + 30}, {"2 8:00", 0}, {"2 8:00", 8 * Hour}} {
		if p := got.Placed[i]; clockWords(p.Latest) != want.latest || p.Slack != want.slack || p.Critical != (want.slack == 0) {
			t.Errorf("%s: latest %s, slack %d, want %+v", list[i].Name, clockWords(p.Latest), p.Slack, want)
		}
	}
}

// TestDays: what is done on each day, and how it is left in the evening.
func TestDays(t *testing.T) {
	list := []Task{
		{Name: "U", Minutes: 120, Barrier: 1}, {Name: "A", Minutes: 240, Opens: true, After: []int{0}}, {Name: "H", After: []int{1}},
		{Name: "B", Minutes: 600, Wait: 20 * Hour, After: []int{2}}, {Name: "C", Minutes: 60, Closes: true, After: []int{3}}, {Name: "D", Minutes: 30, Barrier: -1, After: []int{4}},
	}
	got := Arrange(Work{Tasks: list, Hours: eight()})
	var lines []string
	for _, d := range got.Days(list) {
		line := fmt.Sprintf("%d:", d.Day+1)
		for _, p := range d.Parts {
			line += " " + list[p.Task].Name
			for _, s := range p.Spans {
				line += fmt.Sprintf(" %s-%s", clockWords(s.From)[2:], clockWords(s.To)[2:])
			}
			if !p.First {
				line += " goes on"
			}
			if !p.Last {
				line += " not over"
			}
		}
		for _, n := range d.Night {
			line += " night " + list[n].Name
		}
		lines = append(lines, fmt.Sprintf("%s open %v bar %v", line, d.Open, d.Bar))
	}
	want := []string{ // by hand: 2 h and 4 h on day 1, 2 h of the ten left there, 8 h on day 2; over at 16:30, dry at 12:30 of day 3
		"1: U 8:00-10:00 A 10:00-12:00 12:30-14:30 H 14:30-14:30 B 14:30-16:30 not over open true bar true",
		"2: B 8:00-12:00 12:30-16:30 goes on night B open true bar true",
		"3: C 12:30-13:30 D 13:30-14:00 open false bar false",
	}
	if d := cmp.Diff(want, lines); d != "" {
		t.Error(d)
	}
}

// TestArrangeProperty holds random plans to what must never happen, minute by minute, with nothing taken over from how they are made: no coat before the last is dry, no work outside
// the hours or where the family forbids it, nobody at two tasks at once, no edge open without the barrier, two edges open at once or one over night, no step before those it waits for. Some tasks are done already, and some plans are made from a moment on:
// nothing else begins before it, and what was done on its day is over by then.
func TestArrangeProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "tasks")
		w := Work{Crew: rapid.IntRange(1, 3).Draw(t, "crew"), Weekday: rapid.IntRange(0, 6).Draw(t, "weekday")}
		for i := range w.Hours {
			if i == 0 || rapid.Bool().Draw(t, "works") {
				from := rapid.IntRange(6, 9).Draw(t, "from") * Hour
				noon := from + rapid.IntRange(2, 5).Draw(t, "morning")*Hour
				w.Hours[i] = []Span{{from, noon}, {noon + 30, noon + 30 + rapid.IntRange(1, 4).Draw(t, "afternoon")*Hour}}
			}
		}
		if rapid.Bool().Draw(t, "off") {
			from := rapid.IntRange(0, 10).Draw(t, "first off")
			w.Off = []Span{{from, from + rapid.IntRange(1, 5).Draw(t, "days off")}}
		}
		makes := rapid.Custom(func(t *rapid.T) Makes {
			return Makes{rapid.Bool().Draw(t, "dust"), rapid.Bool().Draw(t, "fumes"), rapid.Bool().Draw(t, "stair"), rapid.Bool().Draw(t, "solvents")}
		})
		for range rapid.IntRange(0, 2).Draw(t, "bars") {
			from := rapid.IntRange(0, 20).Draw(t, "bar") * Hour
			b := Unwanted{No: makes.Draw(t, "no"), Hours: []Span{{from, from + rapid.IntRange(1, 4).Draw(t, "barred")*Hour}}}
			for d := range b.Days {
				b.Days[d] = rapid.Bool().Draw(t, "barred day")
			}
			w.Unwanted = append(w.Unwanted, b)
		}
		for i := range n {
			task := Task{Name: fmt.Sprint(i), Minutes: rapid.IntRange(0, 700).Draw(t, "minutes"), People: rapid.IntRange(0, 3).Draw(t, "people"), Makes: makes.Draw(t, "makes")}
			if rapid.Bool().Draw(t, "dries") {
				task.Wait = rapid.IntRange(1, 60).Draw(t, "wait") * Hour
			}
			if rapid.IntRange(0, 3).Draw(t, "is ordered") == 0 {
				task.Days = rapid.IntRange(1, 9).Draw(t, "days")
			}
			for k := range i {
				if rapid.IntRange(0, 3).Draw(t, "after") == 0 {
					task.After = append(task.After, k)
				}
			}
			task.From = rapid.SampledFrom([]int{0, 0, 0, 3 * Day}).Draw(t, "not before")
			task.SameDay = rapid.IntRange(0, 5).Draw(t, "same day") == 0
			switch rapid.IntRange(0, 7).Draw(t, "sort") {
			case 0:
				task.Opens, task.Minutes = true, rapid.IntRange(1, 200).Draw(t, "opens")
			case 1:
				task.Barrier = 1
			case 2:
				task.Barrier = -1
			case 3:
				task.Closes = true
			}
			if rapid.IntRange(0, 4).Draw(t, "done") == 0 {
				task.Done, task.From = true, rapid.IntRange(-3, 6).Draw(t, "done on")*Day
			}
			w.Tasks = append(w.Tasks, task)
		}
		if w.HasNow = rapid.Bool().Draw(t, "from now"); w.HasNow {
			w.Now = rapid.IntRange(-Day, 9*Day).Draw(t, "now")
		}
		tt := Arrange(w)
		if again := Arrange(w); !cmp.Equal(tt, again) {
			t.Fatal("not the same twice")
		}
		a := arrangerOf(w)
		for a.tails(); ; { // where every task that can begin is placed before one is chosen
			want, start := -1, 0
			for i, task := range w.Tasks {
				if a.placed[i] {
					continue
				}
				if task.Done {
					want = i
					break
				}
				if from, ok := a.soonest(i); ok {
					if at, _ := a.place(i, from); want < 0 || at.Start < start || at.Start == start && task.SameDay && !w.Tasks[want].SameDay {
						want, start = i, at.Start
					}
				}
			}
			if got, at, _ := a.first(); got != want || want >= 0 && !w.Tasks[want].Done && at.Start != start {
				t.Fatalf("%d is placed at %s, and %d could begin at %s", got, clockWords(at.Start), want, clockWords(start))
			}
			if !a.step() {
				break
			}
		}
		faults := map[FaultKind]map[int]bool{}
		var gaps []Span
		noBarrier := false
		for _, f := range tt.Faults {
			if faults[f.Kind] == nil {
				faults[f.Kind] = map[int]bool{}
			}
			faults[f.Kind][f.Task] = true
			if f.Kind == Gap {
				gaps = append(gaps, f.Span)
			}
			noBarrier = noBarrier || f.Kind == NoBarrier
		}
		if len(tt.Order) != n {
			t.Fatalf("%d of %d placed", len(tt.Order), n)
		}
		busy := map[[2]int]int{}   // by person and minute
		opened := map[int]bool{}   // by minute
		nights := map[[2]int]int{} // edges by day
		for i, task := range w.Tasks {
			p := tt.Placed[i]
			if task.Done {
				over := task.From + Day // of its day, where nobody works
				day := (task.From + 70*Day) / Day % 7
				if h := w.Hours[(day+w.Weekday)%7]; len(h) > 0 && (len(w.Off) == 0 || task.From < w.Off[0].From*Day || task.From >= w.Off[0].To*Day) {
					over = task.From + h[1].To
				}
				if w.HasNow && w.Now > task.From && w.Now < task.From+Day { // a day without an hour begins at 0:00, and what is ticked off on it is over when work ends
					over = w.Now
				}
				if p.Start != task.From || p.End != over || len(p.Spans) > 0 {
					t.Fatalf("%d was done on day %d, over %s: %+v", i, day, clockWords(over), p)
				}
				continue
			}
			if w.HasNow && p.Start < w.Now {
				t.Fatalf("%d begins at %s, before now, %s", i, clockWords(p.Start), clockWords(w.Now))
			}
			for _, k := range task.After {
				before := tt.Placed[k]
				if p.Start < before.End+w.Tasks[k].Wait {
					t.Fatalf("%d begins at %s, %d is over at %s and takes %d min more", i, clockWords(p.Start), k, clockWords(before.End), w.Tasks[k].Wait)
				}
				if n := w.Tasks[k].Days; n > 0 && p.Start/Day < (before.End+70*Day)/Day-70+n { // 70: no day is counted below
					t.Fatalf("%d begins at %s, %d is over at %s and takes %d days more", i, clockWords(p.Start), k, clockWords(before.End), n)
				}
			}
			if p.Start < task.From {
				t.Fatalf("%d begins before it may", i)
			}
			people := min(max(1, task.People), w.Crew)
			worked := 0
			for _, s := range p.Spans {
				worked += (s.To - s.From) * people
				for m := s.From; m < s.To; m++ {
					day, minute := m/Day, m%Day
					inside := false
					for _, h := range w.Hours[(day+w.Weekday)%7] {
						inside = inside || h.From <= minute && minute < h.To
					}
					for _, off := range w.Off {
						inside = inside && (day < off.From || day >= off.To)
					}
					if !inside {
						t.Fatalf("%d is worked on at %s, outside the hours", i, clockWords(m))
					}
					for _, who := range p.People {
						if other, twice := busy[[2]int{who, m}]; twice {
							t.Fatalf("%d is at %d and at %d at %s", who, i, other, clockWords(m))
						}
						busy[[2]int{who, m}] = i
					}
					if task.Opens {
						if opened[m] {
							t.Fatalf("two edges are open at %s", clockWords(m))
						}
						opened[m] = true
						nights[[2]int{i, day}]++
					}
				}
			}
			if task.Minutes > 0 && (len(p.People) != people || worked < task.Minutes || worked >= task.Minutes+people) {
				t.Fatalf("%d takes %d minutes, %d were worked by %v", i, task.Minutes, worked, p.People)
			}
			if !faults[NoTime][i] && task.Minutes > 0 {
				smells := p.Spans
				if task.Makes.Fumes || task.Makes.Solvents {
					smells = []Span{{p.Start, p.End + task.Wait}}
				}
				barredAt := func(m int, no func(Makes) bool) bool {
					for _, b := range w.Unwanted {
						if no(b.No) && b.Days[(m/Day+w.Weekday)%7] && b.Hours[0].From <= m%Day && m%Day < b.Hours[0].To {
							return true
						}
					}
					return false
				}
				for _, s := range p.Spans {
					for m := s.From; m < s.To; m++ {
						if barredAt(m, func(no Makes) bool { return no.Dust && task.Makes.Dust || no.Stair && task.Makes.Stair }) {
							t.Fatalf("%d at %s, where the family forbids it", i, clockWords(m))
						}
					}
				}
				for _, s := range smells {
					for m := s.From; m < s.To; m++ {
						if barredAt(m, func(no Makes) bool {
							return no.Fumes && task.Makes.Fumes || no.Solvents && task.Makes.Solvents
						}) {
							t.Fatalf("%d smells at %s, where the family forbids it", i, clockWords(m))
						}
					}
				}
			}
			if p.Latest < p.Start || p.Slack < 0 || p.Critical != (p.Slack == 0) {
				t.Fatalf("%d: %+v", i, p)
			}
		}
		for i, task := range w.Tasks {
			days := 0
			for key := range nights {
				if key[0] == i {
					days++
				}
			}
			if task.Opens && days > 1 && !faults[OpenOver][i] && !faults[NoTime][i] {
				t.Fatalf("the edge of %d is open over night", i)
			}
		}
		// The barrier, hour by hour: from the first time that it is up until the first time that it is taken down.
		up, down, from, to := 0, 1<<40, 0, -1<<40
		hasUp, hasFrom, hasTo := false, false, false
		for i, task := range w.Tasks {
			p := tt.Placed[i]
			begins, over, ends := p.Start, p.End, p.Start
			if task.Done { // nobody wrote down at what hour: of one day, the barrier goes up before all else and down after it
				over, ends = p.Start, p.End
			}
			if task.Barrier > 0 && (!hasUp || over < up) {
				up, hasUp = over, true
			}
			if task.Barrier < 0 {
				down = min(down, ends)
			}
			if task.Opens && (!hasFrom || begins < from) {
				from, hasFrom = begins, true
			}
			if task.Closes {
				to, hasTo = max(to, over), true
			}
		}
		if !hasTo {
			to = tt.End
		}
		for m := from; hasFrom && m < to; m += 10 {
			covered := hasUp && up <= m && m < down
			named := noBarrier
			for _, g := range gaps {
				named = named || g.From <= m && m < g.To
			}
			if !covered && !named {
				t.Fatalf("an edge is open at %s without a barrier, and nobody says so: up %d down %d", clockWords(m), up, down)
			}
			if covered && named {
				t.Fatalf("a gap is named at %s, and the barrier stands", clockWords(m))
			}
		}
	})
}
