package jobbook_test

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"balustrade/jobbook"
	"balustrade/jobbook/sequence"
)

// daySheets are the day sheets of a job, without markup, by their headings.
func daySheets(t *testing.T, dir string) (order []string, of map[string]string) {
	t.Helper()
	_, files, err := jobbook.Make(dir)
	if err != nil {
		t.Fatal(err)
	}
	of = map[string]string{}
	tags := regexp.MustCompile(`<[^>]*>`)
	for _, f := range files {
		if f.Path != "days.html" {
			continue
		}
		for _, section := range strings.Split(strings.Join(f.Pieces, ""), `<section class="step" id="day-`)[1:] {
			section, _, _ = strings.Cut(section, "</section>")
			title, _, _ := strings.Cut(section[strings.Index(section, "<h2>")+4:], "</h2>")
			order = append(order, title)
			of[title] = strings.Join(strings.Fields(tags.ReplaceAllString(section, " ")), " ")
		}
	}
	if len(order) == 0 {
		t.Fatal("no day sheets")
	}
	return order, of
}

// TestCrewReadsTheDaySheets holds the sample's day sheets to what two people who come to the house each day trip over.
func TestCrewReadsTheDaySheets(t *testing.T) {
	result, err := jobbook.Check("../sample-job")
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	s := &result.Plan.Schedule
	at := map[string]int{} // the last task of a step
	for i := range s.Tasks {
		at[s.Of[i].Step.Step.Name] = i
		for _, x := range s.Of[i].With {
			at[x.Step.Name] = i
		}
	}
	placed := func(step string) sequence.Placed {
		i, ok := at[step]
		if !ok {
			t.Fatalf("no %s on the calendar", step)
		}
		return s.Table.Placed[i]
	}
	t.Run("goods are there in the morning", func(t *testing.T) { // ordered on a Monday, due in 18 days: nobody knows the hour at which the truck comes, and the day begins at 8:00
		if p := placed("receive"); sequence.Clock(p.Start) != "8:00" || s.Date(p.Start).Format("2006-01-02") != "2026-12-11" {
			t.Errorf("received on %s at %s", s.Date(p.Start), sequence.Clock(p.Start))
		}
	})
	t.Run("the barrier outlasts the inspector", func(t *testing.T) { // he comes on 21 January, nobody says at what hour
		if day := s.Date(placed("barrier-down").Start).Format("2006-01-02"); day <= "2027-01-21" {
			t.Errorf("the barrier comes down on %s", day)
		}
	})
	t.Run("fillets go in with the balusters", func(t *testing.T) {
		if at["fillets"] != at["balusters"] {
			t.Error("all balusters are set first, and all fillets after")
		}
		if n := len(placed("fillets").People); n != 2 {
			t.Errorf("%d people set balusters and fillets", n)
		}
	})
	t.Run("dust comes down before the last coat", func(t *testing.T) {
		if a, b := placed("plugs-and-touch-up"), placed("last-coat"); sequence.DayOf(b.Start) <= sequence.DayOf(a.End) {
			t.Error("sanded and coated on one day")
		}
	})
	t.Run("each side and each batch has somebody", func(t *testing.T) { // by hand: 86 balusters on three strips of 24 are two batches; three coats. Four newels, four rails and three shoes on horses, turned once; two coats before they are fitted.
		want := map[string]int{"balusters": 6, "newels": 4, "handrail": 4, "shoe": 4}
		got := map[string]int{}
		before := map[string]int{}
		for i := range s.Tasks {
			c := s.Of[i].Coat
			if c == nil || c.Fitted {
				continue
			}
			got[c.Group]++
			if k, ok := before[c.Group]; ok {
				dry := s.Of[k].Coat.Between
				if from := s.Table.Placed[k].End; s.Table.Placed[i].Start < from+dry {
					t.Errorf("%s: %d min after the one before, which dries %d", s.Tasks[i].Name, s.Table.Placed[i].Start-from, dry)
				}
			}
			before[c.Group] = i
		}
		if !maps.Equal(got, want) {
			t.Errorf("goes %v, want %v", got, want)
		}
	})
	order, of := daySheets(t, "../sample-job")
	t.Run("plain words", func(t *testing.T) {
		for _, title := range order {
			for _, bad := range []string{"wall-ends", "post-ends", "level-rails", "old-guard)", "(0 ", " 0 posts", "`", "a person's weight"} {
				if strings.Contains(of[title], bad) {
					t.Errorf("%s: %q", title, bad)
				}
			}
		}
	})
	t.Run("oily rags on days with oil", func(t *testing.T) { // newels, rails and shoes get oil, balusters water
		for _, title := range order {
			todo, _, _ := strings.Cut(of[title], " bring ")
			oil := regexp.MustCompile("Coat the (newels|handrail|shoe)|Run the finish").MatchString(todo)
			if oily := strings.Contains(of[title], "Oily rags lie"); oily != oil {
				t.Errorf("%s: oil %v, rags %v", title, oil, oily)
			}
		}
	})
	t.Run("every evening is left safe", func(t *testing.T) {
		opened, stands := false, false
		for _, title := range order {
			opened = opened || strings.Contains(of[title], "Take out the old guard")
			stands = stands || strings.Contains(of[title], "Gauge every opening")
			_, evening, ok := strings.Cut(of[title], "In the evening:")
			if !ok {
				t.Errorf("%s says nothing of the evening", title)
			}
			if opened && !stands && !strings.Contains(evening, "the temporary barrier is closed all along and was pushed by hand") {
				t.Errorf("%s: the edge is open, and the evening says %q", title, evening)
			}
		}
		for _, title := range order { // holes in the floor
			if strings.Contains(of[title], "Cut the holes for the let-in posts") && !strings.Contains(of[title], "Every hole without its post is covered") {
				t.Errorf("%s leaves a hole", title)
			}
		}
	})
}

// Water-based coats leave no rags that burn: the evening of such a job says nothing of them.
func TestNoOilyRagsWithoutOil(t *testing.T) {
	_, of := daySheets(t, withCalendar(t, "../testdata/kept-job", "crew: 2, hours: \"8:00 to 16:00\""))
	for title, text := range of {
		if strings.Contains(text, "Oily rags") {
			t.Errorf("%s: %s", title, text)
		}
	}
}

// A guard that stays is pushed once more when the new balusters and their fillets are in: what was pushed before tells nothing of them.
func TestRetrofitIsPushedAtTheEnd(t *testing.T) {
	result, err := jobbook.Check("../testdata/kept-job")
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	var names []string
	for _, x := range result.Plan.Sequence.Steps {
		names = append(names, x.Step.Name)
	}
	last := -1
	for _, name := range []string{"retrofit-set", "fillets", "retrofit-push", "hold-before-barrier-down"} {
		i := slices.Index(names, name)
		if i < last {
			t.Errorf("%s stands at %d, behind it what comes before it, at %d", name, i, last)
		}
		last = i
	}
	s := calendarPlan(t, withCalendar(t, "../testdata/kept-job", "crew: 2, hours: \"8:00 to 16:00\""))
	for i := range s.Tasks {
		if s.Of[i].Step.Step.Name == "retrofit-set" && (len(s.Of[i].With) != 1 || s.Of[i].With[0].Step.Name != "fillets") {
			t.Error("new balusters are set first, and their fillets after")
		}
		if s.Of[i].Coat != nil && !strings.Contains(s.Tasks[i].Name, "balusters") && !strings.Contains(s.Tasks[i].Name, "fillets") { // rail and shoe are the old ones: only their fillets are new
			t.Errorf("%s: nobody coats the old ones", s.Tasks[i].Name)
		}
	}
}

// Level rails take their height from the flight: nobody finds it at a wall, or plants a half newel, before the flight has settled it.
func TestFlightSettlesHeights(t *testing.T) {
	for _, dir := range []string{"../sample-job", "../testdata/metric-job"} {
		result, err := jobbook.Check(dir)
		if err != nil || result.Plan == nil {
			t.Fatal(err, result.Problems)
		}
		flight := -1
		for i, x := range result.Plan.Sequence.Steps {
			switch x.Step.Name {
			case "flight-first":
				flight = i
			case "wall-ends", "half-newels":
				if flight < 0 {
					t.Errorf("%s: %s before the flight", dir, x.Step.Name)
				}
			}
		}
	}
}

// Pieces that do not all go on the horses at once are coated one group after the other.
func TestHorsesAreShared(t *testing.T) {
	for _, c := range []struct {
		name, horses string
		crowded      bool
	}{ // by hand, with the sample's newels and rails of 3 1/2 and about 2 1/4, 2 apart: on 30 in go five newels or seven rails, four of each are 4/5 and 4/7 of the room, over 1; on two pairs 4/10 and 4/14, and 3/14 for the shoes, under 1
		{"one pair", "{pairs: 1, wide: 30, apart: 2, turns: 2, minutes: 12}", true},
		{"two pairs", "{pairs: 2, wide: 30, apart: 2, turns: 2, minutes: 12}", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := copyOf(t, "../sample-job")
			rewrite(t, dir, "shop/settings.md", "{pairs: 2, wide: 30, apart: 2, turns: 2, minutes: 12}", c.horses)
			result, err := jobbook.Check(dir)
			if err != nil || result.Plan == nil {
				t.Fatal(err, result.Problems)
			}
			s := &result.Plan.Schedule
			first, ready := map[string]int{}, map[string]int{}
			for i := range s.Tasks {
				if g := s.Of[i].Coat; g != nil && !g.Fitted && g.On == "horses" {
					if _, ok := first[g.Group]; !ok {
						first[g.Group] = s.Table.Placed[i].Start
					}
					ready[g.Group] = s.Table.Placed[i].Ready
				}
			}
			if apart := first["handrail"] >= ready["newels"] && first["shoe"] >= ready["handrail"]; apart != c.crowded {
				t.Errorf("first %v, ready %v", first, ready)
			}
		})
	}
}

// withCalendar is a job with a calendar.
func withCalendar(t *testing.T, dir, calendar string) string {
	t.Helper()
	to := copyOf(t, dir)
	rewrite(t, to, "job.md", "\nkind: job\n", "\nkind: job\ncalendar: {"+calendar+"}\n")
	return to
}

func calendarPlan(t *testing.T, dir string) sequence.Schedule {
	t.Helper()
	result, err := jobbook.Check(dir)
	if err != nil || result.Plan == nil {
		t.Fatal(err, result.Problems)
	}
	return result.Plan.Schedule
}

// Where there is no old guard on record, every evening until the barrier is up speaks of the open edge; and a half newel, which its wall holds, asks for no plate.
func TestNewWorkIsBarred(t *testing.T) {
	dir := folder(t, map[string]string{"job.md": "kind: job\nrules: irc-2021\ndrop: 100\nheight: 38\nbaluster: square-1-1-4\nhandrail: rail-plow-1-1-4\nshoe: shoe-1-1-4\nfillet: fillet-1-1-4\nposts: {a: {newel: half-3-1-2}, b: {newel: square-3-1-2, foot: bolted}}\ncalendar: {start: 2027-03-01, crew: 2, hours: \"8:00 to 16:00\", wait: {acclimatise: 3 days}}",
		"runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}"})
	order, of := daySheets(t, dir)
	up, days := false, 0
	for _, title := range order {
		up = up || strings.Contains(of[title], ": Barrier up")
		if told := strings.Contains(of[title], "where the edge is open, a barrier stands"); told == up {
			t.Errorf("%s: barrier up %v, told %v", title, up, told)
		}
		if !up {
			days++
		}
		if strings.Contains(of[title], "plates to the posts' feet") {
			t.Errorf("%s: a plate for a half newel", title)
		}
	}
	if !up || days == 0 {
		t.Errorf("barrier up %v after %d days", up, days)
	}
	if _, of := daySheets(t, "../sample-job"); strings.Contains(of["Monday 23 November 2026"], "no old guard is on record") {
		t.Error("the sample's old guard is on record")
	}
}

// A date or a wait that the job writes for a step holds also where it goes hand in hand with another one.
func TestHandInHandKeepsDates(t *testing.T) {
	at := func(extra string) sequence.Placed {
		s := calendarPlan(t, withCalendar(t, "../testdata/kept-job", "start: 2027-03-01, crew: 2, hours: \"8:00 to 16:00\""+extra))
		for i := range s.Tasks {
			if s.Of[i].Step.Step.Name == "retrofit-set" {
				return s.Table.Placed[i]
			}
		}
		t.Fatal("nothing is set")
		return sequence.Placed{}
	}
	if got := at(", not-before: {fillets: 2027-04-01}"); got.Start < 31*sequence.Day {
		t.Errorf("begins on day %d, not before 1 April", got.Start/sequence.Day+1)
	}
	if got := at(", wait: {fillets: 3 days}"); got.Ready-got.End != 3*sequence.Day {
		t.Errorf("%d min pass after it, three days were written", got.Ready-got.End)
	}
	s := calendarPlan(t, withCalendar(t, "../testdata/kept-job", "start: 2027-03-01, crew: 2, hours: \"8:00 to 16:00\", by: {fillets: 2027-03-01}"))
	if len(s.Findings) == 0 {
		t.Error("the fillets are late, and nobody says so")
	}
}
