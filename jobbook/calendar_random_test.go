package jobbook_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"balustrade/jobbook"
	"balustrade/jobbook/sequence"
)

// cans are the finishes of the test below: hours that each coat dries by its can, with what it is thinned.
var cans = map[string]struct {
	hours []int
	water bool
}{
	"fast": {[]int{2, 4, 4}, true},
	"slow": {[]int{24, 24, 36}, false},
	"two":  {[]int{8, 16}, false},
}

// randomCalendar is a job with a calendar: its folder, and what was drawn, so that the test can reckon by itself.
type randomCalendar struct {
	files    map[string]string
	hours    [7][][2]int // minutes, Monday first
	off      [2]int      // days from 0 for day 1, the last one counted; none where the second is less
	crew     int
	factor   float64           // how much longer a coat dries in the air that was drawn
	finishes map[string]string // by group
	done     map[string]int    // day, by step, or by step and piece
	last     int               // the last of them
	bars     []randomBar
	weekday  int // of day 1
}

type randomBar struct {
	no       string
	from, to int
	days     [7]bool
}

func drawCalendar(rt *rapid.T) randomCalendar {
	c := randomCalendar{off: [2]int{0, -1}, factor: 1, finishes: map[string]string{}, done: map[string]int{}, last: -1 << 30}
	start := time.Date(2027, time.March, 1+rapid.IntRange(0, 20).Draw(rt, "start"), 0, 0, 0, 0, time.UTC)
	c.weekday = (int(start.Weekday()) + 6) % 7
	date := func(day int) string { return start.AddDate(0, 0, day).Format(time.DateOnly) }
	c.crew = rapid.IntRange(2, 4).Draw(rt, "crew")
	clock := func(m int) string { return fmt.Sprintf("%d:%02d", m/60, m%60) }
	var hours []string
	for i, name := range []string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"} {
		if i > 0 && i != 3 && !rapid.Bool().Draw(rt, name) {
			continue
		}
		from := rapid.IntRange(6, 9).Draw(rt, "from")*60 + rapid.SampledFrom([]int{0, 15, 30}).Draw(rt, "past")
		noon, to := from+240, from+270+rapid.IntRange(2, 5).Draw(rt, "afternoon")*60
		c.hours[i] = [][2]int{{from, noon}, {noon + 30, to}}
		hours = append(hours, fmt.Sprintf("%s: \"%s to %s, %s to %s\"", name, clock(from), clock(noon), clock(noon+30), clock(to)))
	}
	more := ""
	if rapid.Bool().Draw(rt, "days off") {
		from := rapid.IntRange(0, 25).Draw(rt, "off")
		c.off = [2]int{from, from + rapid.IntRange(0, 9).Draw(rt, "off for")}
		more += ", off: " + date(c.off[0]) + " to " + date(c.off[1])
	}
	if n := rapid.IntRange(0, 2).Draw(rt, "family"); n > 0 {
		var list []string
		for range n {
			b := randomBar{no: rapid.SampledFrom([]string{"dust", "fumes", "solvents", "stair"}).Draw(rt, "no")}
			b.from = rapid.IntRange(8, 20).Draw(rt, "barred from") * 60
			b.to = b.from + rapid.IntRange(1, 3).Draw(rt, "barred for")*60
			words := rapid.SampledFrom([]string{"weekend", "weekdays", "every-day"}).Draw(rt, "barred on")
			for i := range b.days {
				b.days[i] = words == "every-day" || (i > 4) == (words == "weekend")
			}
			c.bars = append(c.bars, b)
			list = append(list, fmt.Sprintf("{no: [%s], days: %s, hours: \"%s to %s\"}", b.no, words, clock(b.from), clock(b.to)))
		}
		more += ", family: [" + strings.Join(list, ", ") + "]"
	}
	front := landingWith + fmt.Sprintf("calendar: {start: %s, crew: %d, hours: {%s}%s}\n", date(0), c.crew, strings.Join(hours, ", "), more)
	var finishes []string
	for _, group := range []string{"balusters", "newels", "handrail", "shoe"} {
		if rapid.IntRange(0, 3).Draw(rt, group) > 0 {
			c.finishes[group] = rapid.SampledFrom([]string{"fast", "slow", "two"}).Draw(rt, "finish of "+group)
			finishes = append(finishes, group+": "+c.finishes[group])
		}
	}
	if len(finishes) > 0 {
		front += "finishes: {" + strings.Join(finishes, ", ") + "}\n"
	}
	if rapid.Bool().Draw(rt, "air read") {
		degrees, humidity := rapid.IntRange(52, 80).Draw(rt, "degrees"), rapid.IntRange(30, 84).Draw(rt, "humidity")
		front += fmt.Sprintf("air: {coating: {temperature: %d °F, humidity: %d %%, surface: %d °F}}\n", degrees, humidity, degrees)
		// The library's settings: twice as long for each 18 °F under 70, and up to one and a half times from 50 to 85 % humidity. The cans are the test's own.
		c.factor = math.Exp2(float64(max(0, 70-degrees))/18) * (1 + 0.5*math.Max(0, float64(humidity-50)/35))
	}
	// Ticks: steps from the first on, then coats from under to over.
	var ticks []string
	day := rapid.IntRange(-4, 8).Draw(rt, "first tick")
	tick := func(key, text string) {
		day += rapid.IntRange(0, 2).Draw(rt, "next tick")
		c.done[key] = day
		c.last = max(c.last, day)
		ticks = append(ticks, text+": "+date(day))
	}
	first := []string{"survey", "agree", "look-inside", "hold-before-ordering", "measure", "order", "receive", "plan-again", "acclimatise", "test-the-finish"}
	for _, step := range first[:rapid.IntRange(0, len(first)).Draw(rt, "steps done")] {
		tick(step, step)
	}
	if n := len(cans[c.finishes["balusters"]].hours); n > 0 && rapid.Bool().Draw(rt, "coats done") {
		var pieces []string
		for k := range rapid.IntRange(1, n).Draw(rt, "coats") {
			day += 3 // dry by then, whatever the air: 36 h, three times as long at most
			tick(fmt.Sprintf("balusters %d", k+1), "")
			pieces = append(pieces, fmt.Sprintf("balusters %d: %s", k+1, date(day)))
			ticks = ticks[:len(ticks)-1]
		}
		ticks = append(ticks, "finish-parts: {"+strings.Join(pieces, ", ")+"}")
	}
	if len(ticks) > 0 {
		front += "done: {" + strings.Join(ticks, ", ") + "}\n"
	}
	c.files = map[string]string{"job.md": front, "runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}"}
	for i := range rapid.IntRange(0, 2).Draw(rt, "old guards") {
		c.files[fmt.Sprintf("survey/side-%d.md", i)] = "kind: survey\nheight: 33\nloose: no\ncoated: bare"
	}
	for name, f := range cans {
		var coats []string
		for k, h := range f.hours {
			coats = append(coats, fmt.Sprintf("{coat: coat %d, type: %s, coverage: 400 sq ft/gal, dry: %d h}", k+1, map[bool]string{true: "sealer", false: "clear"}[k == 0], h))
		}
		c.files["finishes/"+name+".md"] = "kind: finish\ntitle: " + name + "\nbase: " + map[bool]string{true: "water", false: "oil"}[f.water] + "\ncoats: [" + strings.Join(coats, ", ") + "]"
	}
	if rapid.Bool().Draw(rt, "strips") {
		c.files["shop/settings.md"] = fmt.Sprintf("kind: settings\nstrips: {long: 8', pitch: 6, count: 1, turns: %d, minutes: 3 min}\nhorses: {pairs: 1, wide: 24, apart: 4, turns: %d, minutes: 6 min}", rapid.IntRange(1, 2).Draw(rt, "turns"), rapid.IntRange(1, 2).Draw(rt, "turns on horses"))
	}
	return c
}

// closes is when work ends on a day; its midnight where nobody works.
func (c *randomCalendar) closes(day int) int {
	if h := c.on(day); len(h) > 0 {
		return day*sequence.Day + h[len(h)-1][1]
	}
	return (day + 1) * sequence.Day
}

func (c *randomCalendar) on(day int) [][2]int {
	if c.off[0] <= day && day <= c.off[1] {
		return nil
	}
	return c.hours[((day+c.weekday)%7+7)%7]
}

// TestCalendarRandom holds the calendars of random jobs to what must never happen, as the book has them and from a moment on, reckoned from what was drawn: no coat before the one under it is dry in the air of the job, no work outside the hours or on a day
// off, nobody at two tasks at once, nothing that the family forbids, no edge open without the barrier, nothing but what is done before the day after the last tick, or before the moment.
func TestCalendarRandom(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := drawCalendar(rt)
		dir := folder(t, c.files)
		result, err := jobbook.Check(dir)
		if err != nil || result.Plan == nil {
			rt.Fatalf("%v %+v\n%s", err, result.Problems, c.files["job.md"])
		}
		book := &result.Plan.Schedule
		c.hold(rt, book, max(0, (c.last+1)*sequence.Day), false)
		now := rapid.IntRange(-3*sequence.Day, 40*sequence.Day).Draw(rt, "now")
		before := fmt.Sprintf("%+v", book.Table)
		later := book.From(now)
		c.hold(rt, &later, now, true)
		if again := book.From(now); fmt.Sprintf("%+v", again.Table) != fmt.Sprintf("%+v", later.Table) || fmt.Sprintf("%+v", book.Table) != before {
			rt.Fatal("not the same twice, or the book's own calendar moved")
		}
	})
}

func (c *randomCalendar) hold(rt *rapid.T, s *sequence.Schedule, from int, moment bool) {
	told := func(task int, words string) bool {
		return slices.ContainsFunc(s.Table.Faults, func(f sequence.Fault) bool {
			return f.Task == task && map[sequence.FaultKind]string{sequence.NoTime: "family", sequence.OpenOver: "night"}[f.Kind] == words
		})
	}
	type stretch struct{ from, to, who, task int }
	var all []stretch
	open, shut := 1<<40, -1
	up, down := 1<<40, 1<<40
	coats := map[string]map[int][]int{} // tasks by group and number: a side of a batch each
	for i, task := range s.Tasks {
		p, id := s.Table.Placed[i], s.Of[i].ID
		name := s.Of[i].Step.Step.Name
		if x := s.Of[i].Coat; x != nil {
			if coats[x.Group] == nil {
				coats[x.Group] = map[int][]int{}
			}
			coats[x.Group][x.N] = append(coats[x.Group][x.N], i)
			name = fmt.Sprintf("%s %d", x.Group, x.N)
		}
		day, ticked := c.done[name]
		if whole, ok := c.done[s.Of[i].Step.Step.Name]; ok {
			day, ticked = whole, true
		}
		if task.Done != ticked || ticked && p.Start != day*sequence.Day {
			rt.Fatalf("%s is done is %v, ticked off %v on day %d: %+v", id, task.Done, ticked, day, p)
		}
		if !task.Done {
			if p.Start < from {
				rt.Fatalf("%s begins at %d, not before %d", id, p.Start, from)
			}
			for _, x := range p.Spans {
				day := sequence.DayOf(x.From)
				inside := false
				for _, h := range c.on(day) {
					inside = inside || day*sequence.Day+h[0] <= x.From && x.To <= day*sequence.Day+h[1]
				}
				if !inside {
					rt.Fatalf("%s is worked on from %d to %d, outside the hours", id, x.From, x.To)
				}
				for _, who := range p.People {
					all = append(all, stretch{x.From, x.To, who, i})
				}
			}
			if len(p.People) > c.crew {
				rt.Fatalf("%s is done by %d of %d", id, len(p.People), c.crew)
			}
			c.family(rt, s, i, told(i, "family"))
		}
		switch {
		case task.Barrier > 0 && !task.Done:
			up = min(up, p.End)
		case task.Barrier > 0:
			up = min(up, p.Start)
		case task.Barrier < 0:
			down = min(down, p.Start)
		}
		if task.Opens {
			open = min(open, p.Start)
			if !task.Done && sequence.DayOf(p.Start) != sequence.DayOf(p.End-1) && !told(i, "night") && !told(i, "family") {
				rt.Fatalf("%s goes on over night", id)
			}
		}
		if task.Closes {
			shut = max(shut, p.End)
		}
	}
	for i, a := range all {
		for _, b := range all[:i] {
			if a.who == b.who && a.from < b.to && b.from < a.to {
				rt.Fatalf("one of the crew does %s and %s at once", s.Of[a.task].ID, s.Of[b.task].ID)
			}
		}
	}
	if open < 1<<40 && (up > open || down < shut || shut < 0) {
		rt.Fatalf("the edge is open from %d to %d, the barrier stands from %d to %d", open, shut, up, down)
	}
	if up > down || up == 1<<40 {
		rt.Fatalf("the barrier stands from %d to %d", up, down)
	}
	for group, list := range coats {
		hours := cans[c.finishes[group]].hours
		if len(list) != len(hours) && len(list) != 0 {
			rt.Fatalf("%d coats on the %s, want %d", len(list), group, len(hours))
		}
		for n := 1; n <= len(hours); n++ {
			goes, dry := list[n], float64(hours[n-1]*60)*c.factor
			if n < len(hours) {
				goes = append(slices.Clone(goes), list[n+1]...) // those of the next coat come after the last of this one
			}
			for k, over := range goes {
				if k == 0 || k > len(list[n]) || s.Tasks[over].Done {
					continue
				}
				end := s.Table.Placed[goes[k-1]].End
				if day, ok := c.done[fmt.Sprintf("%s %d", group, n)]; ok { // over by the evening of its day, by now at the latest
					if end = c.closes(day); moment && from >= day*sequence.Day && from < (day+1)*sequence.Day {
						end = from
					}
				}
				if float64(s.Table.Placed[over].Start-end) < dry-1e-6 {
					rt.Fatalf("%s begins %d min after coat %d of the %s, which dries %.1f", s.Of[over].ID, s.Table.Placed[over].Start-end, n, group, dry)
				}
			}
		}
	}
}

// family looks at every minute that somebody works on a task, and of a coat at every one that it dries.
func (c *randomCalendar) family(rt *rapid.T, s *sequence.Schedule, i int, told bool) {
	p, of := s.Table.Placed[i], s.Of[i]
	if told || len(p.Spans) == 0 {
		return
	}
	makes := map[string]bool{}
	for _, w := range of.Step.Step.Time.Makes {
		makes[w.Text] = true
	}
	if makes["fumes"] {
		water := true
		for _, f := range c.finishes {
			water = water && cans[f].water
		}
		if of.Coat != nil {
			water = cans[c.finishes[of.Coat.Group]].water
		}
		makes["solvents"] = !water || len(c.finishes) == 0
	}
	barred := func(m int, what string) bool {
		return slices.ContainsFunc(c.bars, func(b randomBar) bool {
			day := sequence.DayOf(m)
			return b.no == what && b.days[((day+c.weekday)%7+7)%7] && b.from <= m-day*sequence.Day && m-day*sequence.Day < b.to
		})
	}
	for _, x := range p.Spans {
		for m := x.From; m < x.To; m++ {
			for _, what := range []string{"dust", "stair"} {
				if makes[what] && barred(m, what) {
					rt.Fatalf("%s makes %s at %d, where the family forbids it", of.ID, what, m)
				}
			}
		}
	}
	dry := p.End
	if of.Coat != nil {
		dry += int(float64(cans[c.finishes[of.Coat.Group]].hours[of.Coat.N-1]*60) * c.factor)
	}
	for m := p.Start; m < dry; m++ {
		for _, what := range []string{"fumes", "solvents"} {
			if makes[what] && barred(m, what) {
				rt.Fatalf("%s smells of %s at %d, where the family forbids it", of.ID, what, m)
			}
		}
	}
}
