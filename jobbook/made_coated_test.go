package jobbook_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"balustrade/jobbook/finding"
	"balustrade/jobbook/finish"
	"balustrade/jobbook/length"
	"balustrade/jobbook/plan"
	"balustrade/jobbook/sequence"
)

func groupOf(p *plan.Plan, name string) finish.Group {
	for _, g := range p.Finishing.Groups {
		if g.Name == name {
			return g
		}
	}
	return finish.Group{}
}

// A baluster is 1 1/4 square and 35 7/16 long: 4 · 1 1/4 · 35 7/16 = 177.1875 sq in; 31 are 5492.8125 and 19 are 3366.5625 sq in. Oil polyurethane is a sealer and two coats alike at 400 sq ft to the gallon of 128 fl oz with 10 % lost, so a
// sq in takes 128 · 1.1 / 400 / 144 = 0.352 / 144 fl oz: 31 balusters 13.4268... fl oz a coat, 19 of them 8.2293... All by hand.
func TestMadeCoats(t *testing.T) {
	for _, c := range []struct {
		name, line    string
		sealer, clear string // fl oz, to a thousandth
		still         []int  // pieces that each coat still goes on
		bare          string // sq ft sanded with 150
		asked         bool
		fits          string
	}{
		{"nobody says", "{mark: H-B1 to H-B12, part: stick, long: 35 7/16}", "13.427", "26.854", nil, "38.145", true, "H-B1"},
		{"nobody says how many", "{mark: H-B1 to H-B12, part: stick, long: 35 7/16, finish: oil-polyurethane}", "13.427", "26.854", nil, "38.145", true, "H-B1"},
		{"bare", "{mark: H-B1 to H-B12, part: stick, long: 35 7/16, coats: 0}", "13.427", "26.854", nil, "38.145", false, "H-B1"},
		{"sealed", "{mark: H-B1 to H-B12, part: stick, long: 35 7/16, finish: oil-polyurethane, coats: 1}", "8.229", "26.854", []int{19, 31, 31}, "23.379", false, "H-B1"},
		{"one of two alike", "{mark: H-B1 to H-B12, part: stick, long: 35 7/16, finish: oil-polyurethane, coats: 2}", "8.229", "21.656", []int{19, 19, 31}, "23.379", false, "H-B1"}, // 8.2293 + 13.4268
		{"all", "{mark: H-B1 to H-B12, part: stick, long: 35 7/16, finish: oil-polyurethane, coats: 3}", "8.229", "16.459", []int{19, 19, 19}, "23.379", false, "H-B1"},              // twice 8.2293
		{"stripped again", "{mark: H-B1 to H-B12, part: stick, long: 35 7/16, finish: oil-polyurethane, coats: 2}\n  - {mark: H-B1 to H-B12, coats: 0}", "13.427", "26.854", nil, "38.145", false, "H-B1"},
		{"coated with another first, and nobody says how many since", "{mark: H-B1 to H-B12, part: stick, long: 35 7/16, finish: water-enamel, coats: 2}\n  - {mark: H-B1 to H-B12, finish: oil-polyurethane}", "13.427", "26.854", nil, "38.145", true, "H-B1"},
		{"one more coat", "{mark: H-B1 to H-B12, part: stick, long: 35 7/16, finish: oil-polyurethane, coats: 1}\n  - {mark: H-B1 to H-B12, coats: 2}", "8.229", "21.656", []int{19, 19, 31}, "23.379", false, "H-B1"},
		{"to be trimmed", "{mark: H-B1 to H-B12, part: stick, long: 35 1/2, finish: oil-polyurethane, coats: 3}", "8.229", "16.459", []int{19, 19, 19}, "23.379", false, "H-B1"},
		{"lost ones count as made no more", "{mark: H-B1 to H-B12, part: stick, long: 35, finish: oil-polyurethane, coats: 3}", "13.427", "26.854", nil, "38.145", false, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := delivered(t, "", "made/1.md", made+"  - "+c.line, "job.md", strings.Replace(simple["job.md"], "baluster: square-1-1-4", "baluster: stick\nfinishes: {balusters: oil-polyurethane}", 1))
			g := groupOf(p, "balusters")
			for i, want := range []string{c.sealer, c.clear} {
				if got := g.Coats[i].Volume.Value.Fixed(3); got != want {
					t.Errorf("coat %d: %s fl oz, want %s", i+1, got, want)
				}
			}
			var still []int
			for _, s := range g.Still {
				still = append(still, s.Count)
			}
			if !slices.Equal(still, c.still) {
				t.Errorf("still %v, want %v", still, c.still)
			}
			if got := g.Sandings[0].Area.Value.Fixed(3); g.Sandings[0].Grit != 150 || got != c.bare {
				t.Errorf("%d: %s sq ft, want %s", g.Sandings[0].Grit, got, c.bare)
			}
			asked := slices.ContainsFunc(p.Missing, func(m finding.Reading) bool { return strings.Contains(m.What, "how many coats are on it") })
			if asked != c.asked {
				t.Errorf("asked %v", asked)
			}
			if fits := strings.HasPrefix(fateOf(p, "H-B1"), "fits"); fits != (c.fits != "") {
				t.Error(fateOf(p, "H-B1"))
			}
		})
	}
}

// TestMadeHours: what is cut, drilled or coated already takes no time once more, and is still a part of what the work comes to: the price rests on that. Minutes are the library's: rails 20 and 20 each, drilling 15 and 2 each, coating 60 and 8 each, balusters
// of a hall that has 19 or, drilled, 10 of them, and 12 of the return.
func TestMadeHours(t *testing.T) {
	rails := "{mark: H-H, part: rail-plow-1-1-4, long: 95 1/4}"
	for _, c := range []struct {
		name          string
		p             *plan.Plan
		step          string
		minutes, made int
		saved         int
	}{
		{"nothing made", delivered(t, ""), "cut-rails", 60, 0, 0},
		{"one rail of two", delivered(t, "", "made/1.md", made+"  - "+rails), "cut-rails", 60, 1, 20},
		{"one that is still to be trimmed", delivered(t, "", "made/1.md", made+"  - {mark: H-H, part: rail-plow-1-1-4, long: 95 1/2}"), "cut-rails", 60, 0, 0},
		{"both, so that nothing is set up", delivered(t, "", "made/1.md", made+"  - "+rails+"\n  - {mark: R-H, part: rail-plow-1-1-4, long: 59 1/4}"), "cut-rails", 60, 2, 60},
		{"one that is lost", delivered(t, "", "made/1.md", made+"  - {mark: H-H, part: rail-plow-1-1-4, long: 20}"), "cut-rails", 60, 0, 0},
		{"a drilled shoe", drilledJob(t, "48", "{mark: H-S, part: board, long: 48, hole: {wide: 49/64, deep: 7/8}, "+tenHoles+"}"), "drill", 59, 10, 20},
		{"one whose holes are too shallow", drilledJob(t, "48", "{mark: H-S, part: board, long: 48, hole: {wide: 49/64, deep: 1/4}, "+tenHoles+"}"), "drill", 59, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := stepOf(t, c.p, c.step)
			if s.Minutes != c.minutes || s.Made != c.made || s.Saved != c.saved {
				t.Errorf("%d min, %d made, %d min saved; want %d, %d, %d", s.Minutes, s.Made, s.Saved, c.minutes, c.made, c.saved)
			}
			if left := c.p.Sequence.Minutes - c.p.Sequence.Left; left != c.saved {
				t.Errorf("%d min are not left, want %d", left, c.saved)
			}
			for i, task := range c.p.Schedule.Tasks {
				if o := c.p.Schedule.Of[i]; o.Step.Step.Name == c.step && len(o.With) == 0 && task.Minutes != c.minutes-c.saved {
					t.Errorf("%d min on the calendar", task.Minutes)
				}
			}
		})
	}
}

// TestMadeCoatsOnTheCalendar: a coat that is on all pieces is done on the day of the record. Without a day its work is done, and its drying is counted from when it would go on: nobody says that it is dry.
func TestMadeCoatsOnTheCalendar(t *testing.T) {
	const record = "pieces:\n  - {mark: H-B1 to H-B40, part: square-1-1-4, long: 35 7/16, finish: water-enamel, coats: "
	files := map[string]string{"job.md": coatedWith, "runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}"}
	plain := planOf(t, folder(t, files))
	count := plain.Layout.Runs[0].Chosen.Count
	long := plain.Layout.Runs[0].Balusters[0].Length.In(length.Inches).Float64()
	line := strings.NewReplacer("H-B40", "H-B"+strconv.Itoa(count), "35 7/16", strconv.FormatFloat(long, 'f', -1, 64)).Replace(record)

	files["made/1.md"] = "kind: made\ndate: 2027-03-03\n" + line + "2}"
	p := planOf(t, folder(t, files))
	s := stepOf(t, p, "finish-parts")
	if s.Done != "" || s.Pieces[0].Done != "2027-03-03" || s.Pieces[1].Done != "2027-03-03" || s.Pieces[2].Done != "" {
		t.Errorf("%+v", s.Pieces)
	}
	if at := placed(t, p.Schedule, "finish-parts/balusters/water enamel/2"); at.Start/sequence.Day != 2 {
		t.Errorf("the second coat is on day %d", at.Start/sequence.Day+1)
	}
	if c := groupOf(p, "balusters").Coats[0]; !c.OnAll || c.Volume != nil {
		t.Errorf("the primer: %+v", c)
	}

	files["made/1.md"] = "kind: made\n" + line + "2}"
	p = planOf(t, folder(t, files))
	if s := stepOf(t, p, "finish-parts"); s.Pieces[1].Done != "" {
		t.Errorf("%+v", s.Pieces)
	}
	second, third := placed(t, p.Schedule, "finish-parts/balusters/water enamel/2"), placed(t, p.Schedule, "finish-parts/balusters/water enamel/3")
	if second.End != second.Start || third.Start < second.End+4*60 { // four hours by its can
		t.Errorf("%+v, then %+v", second, third)
	}

	files["made/1.md"] = "kind: made\ndate: 2027-03-03\n" + line + "3}"
	if s := stepOf(t, planOf(t, folder(t, files)), "finish-parts"); s.Done != "2027-03-03" {
		t.Errorf("all coats are on, and the step is done %q", s.Done)
	}
}

// TestMadeCoatsFigures: the workings of coats that go on some of the pieces hold, and the plan's data keep to their description. The job is half made, with rails, balusters and a newel coated so far.
func TestMadeCoatsFigures(t *testing.T) {
	dir := copyOf(t, "testdata/made-job")
	for _, e := range [][3]string{
		{"made/1-first-week.md", "L-B14, part: round-pin, long: 35 7/8", "L-B14, part: round-pin, long: 35 7/8, finish: water-enamel, coats: 2"},
		{"made/1-first-week.md", "long: 71 1/4,", "long: 71 1/4, finish: oil-polyurethane, coats: 2,"},
		{"made/1-first-week.md", "long: 48, bolts", "long: 48, finish: water-enamel, coats: 3, bolts"},
		{"job.md", "finishes: {", "finishes: {balusters: water-enamel, newels: water-enamel, shoe: oil-polyurethane, "},
	} {
		rewrite(t, dir, e[0], e[1], e[2])
	}
	putFile(t, dir, "shop/settings.md", "kind: settings\nstrips: {long: 8', pitch: 4, count: 1, apart: 14, minutes: 3}\nhorses: {pairs: 1, wide: 12, apart: 2, turns: 2, minutes: 12}")
	book := bookOf(t, dir)
	figures := figuresOf(t, book)
	checkFigures(t, figures)
	for _, id := range []string{"finish/balusters/still-1", "finish/balusters/cycle/1/still-1", "finish/newels/still-1", "finish/handrail/still-1"} {
		if !slices.ContainsFunc(figures, func(f printedFigure) bool { return f.ID == id }) {
			t.Errorf("no figure %s", id)
		}
	}
	validate(t, book)
	// 33 round sticks: 14 are coated twice. Twenty-four a strip at four inches on eight feet: 19 are one batch, 33 are two.
	if page := plainText(book["finishing.html"]); !strings.Contains(page, "Coat 1, on the 19 that still want it") {
		t.Error("the page does not say how many still want the first coat")
	}
}

// TestMadeCoatsOfOneGroup: all balusters are coated, newels and handrail are not: what the step takes for the nineteen goes, 8 each, and its hour stays, fifteen minutes for each of the four coats that newels and handrail
// still get before they are fitted. By hand.
func TestMadeCoatsOfOneGroup(t *testing.T) {
	files := map[string]string{
		"job.md":         strings.Replace(coatedWith, "finishes: {", "finishes: {newels: water-enamel, handrail: oil-polyurethane, ", 1),
		"runs/1-hall.md": "kind: run\nfrom: a\nto: b\nclear: {floor: 96, rail: 96}",
	}
	r := planOf(t, folder(t, files)).Layout.Runs[0]
	long := r.Balusters[0].Length.In(length.Inches).Float64()
	files["made/1.md"] = "kind: made\ndate: 2027-03-03\npieces:\n  - {mark: H-B1 to H-B" + strconv.Itoa(r.Chosen.Count) + ", part: square-1-1-4, long: " + strconv.FormatFloat(long, 'f', -1, 64) + ", finish: water-enamel, coats: 3}"
	p := planOf(t, folder(t, files))
	s := stepOf(t, p, "finish-parts")
	if r.Chosen.Count != 19 || s.Minutes != 60+19*8 || s.Made != 19 || s.Saved != 19*8 || s.Done != "" {
		t.Errorf("%d balusters: %d min, %d made, %d min saved, done %q", r.Chosen.Count, s.Minutes, s.Made, s.Saved, s.Done)
	}
	if left := p.Sequence.Minutes - p.Sequence.Left; left != 19*8 {
		t.Errorf("%d min are not left", left)
	}
	open := 0
	for i, task := range p.Schedule.Tasks {
		switch c := p.Schedule.Of[i].Coat; {
		case c == nil || c.Fitted:
		case c.Group == "balusters" && task.Minutes != 0, c.Group != "balusters" && task.Minutes != 15:
			t.Errorf("%s: %d min", task.Name, task.Minutes)
		case c.Group != "balusters":
			open++
		}
	}
	if open != 4 {
		t.Errorf("%d coats are still to be put on", open)
	}
}
